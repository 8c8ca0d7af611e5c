"""The pages that are not lookups, one file each, in the order of the job."""

from __future__ import annotations

from site_src.model.page import Page
from site_src.pages import (
    builds,
    first_runs,
    holds,
    job_record,
    makers_figures,
    pre_start,
    tightening,
    truck,
)


def all_pages() -> tuple[Page, ...]:
    """Return every page that is not a lookup."""
    return (
        truck.PAGE,
        tightening.PAGE,
        makers_figures.PAGE,
        holds.PAGE,
        pre_start.PAGE,
        first_runs.PAGE,
        job_record.PAGE,
        builds.PAGE,
    )
