"""The pages that are not lookups, one file each, in the order of the job."""

from __future__ import annotations

from site_src.model.page import Page
from site_src.pages import makers_figures, route, tightening, truck


def all_pages() -> tuple[Page, ...]:
    """Return every page that is not a lookup."""
    return (truck.PAGE, tightening.PAGE, makers_figures.PAGE, route.PAGE)
