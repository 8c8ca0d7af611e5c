"""Hold points: what must be seen and signed, stage by stage, before the job goes on.

The points are declared in site_src/holds; the phone keeps what was done to each.
"""

from __future__ import annotations

from collections.abc import Mapping

from site_src.holds import hold_stages, stages_spec
from site_src.lookups import all_lookups
from site_src.model.page import Page
from site_src.pages import job_record, makers_figures, tightening


def titles() -> dict[str, str]:
    """Return the short names of the pages that a point may lead to, by their keys."""
    return {
        **{
            page.key: page.short for page in (tightening.PAGE, makers_figures.PAGE, job_record.PAGE)
        },
        **{each.key: each.short for each in all_lookups()},
    }


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return {"stages": hold_stages(), "spec": stages_spec(), "titles": titles()}


PAGE = Page(
    key="holds",
    title="Hold points",
    short="Hold points",
    question="What must be seen and signed before the job goes on?",
    stage="start",
    template="holds.html",
    context=_context,
)
