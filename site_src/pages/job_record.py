"""The record: what was built, signed, skipped and read, on paper and as a file; the owner's page.

All of it is read from the phone; nothing is entered here.
"""

from __future__ import annotations

from collections.abc import Mapping

from site_src.holds import stages_spec
from site_src.model.page import Page


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return {"spec": stages_spec()}


PAGE = Page(
    key="record",
    title="Record",
    short="Record",
    question="What was done on this job, by whom, and what is to be checked again?",
    stage="sign",
    template="job_record.html",
    context=_context,
)
