"""Pre-start: READY, or what is still open, to be read at arm's length before the key is turned."""

from __future__ import annotations

from collections.abc import Mapping

from site_src.holds import stages_spec
from site_src.model.page import Page


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return {"spec": stages_spec()}


PAGE = Page(
    key="pre-start",
    title="Pre-start",
    short="Pre-start",
    question="May the engine be cranked?",
    stage="start",
    template="pre_start.html",
    context=_context,
)
