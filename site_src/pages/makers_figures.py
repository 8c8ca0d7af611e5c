"""Makers' figures: what their sheets say, entered once, first everywhere.

What can be kept is declared in site_src/lookups/sheets.py. The torque page's own recipe judges each
torque; it is questioned, never changed.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

from site_src.face.form import form_context
from site_src.lookups import sheets, torque
from site_src.model.fields import Field
from site_src.model.page import Page

FIELDS: tuple[Field, ...] = sheets.fields()

ASSUMED = {
    "grade": {"metric": "8.8", "inch": "sae5"},
    "friction": torque.LOOKUP.choices["friction"].default,
}
"""What a figure is judged by where the instructions don't say. Common practice."""


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return form_context(FIELDS) | {
        "assumed": json.dumps(ASSUMED),
        "kinds": sheets.KINDS,
    }


PAGE = Page(
    key="figures",
    title="Makers' figures",
    short="Figures",
    question="What do the makers' sheets say?",
    stage="bolt",
    template="makers_figures.html",
    context=_context,
)
