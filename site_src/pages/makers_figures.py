"""Maker's figures: what the instructions say, entered once, first everywhere.

The torque page's own recipe judges each figure; it is questioned, never changed.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace

from site_src.face.form import form_context
from site_src.lookups import torque
from site_src.model.fields import Choice, Field, Option
from site_src.model.page import Page

_OF_TORQUE = torque.LOOKUP
_NOT_STATED = Option("not_stated", "Not stated")

FIELDS: tuple[Field, ...] = (
    replace(_OF_TORQUE.choices["thread"], measure=""),
    replace(
        _OF_TORQUE.choices["grade"],
        options=(_NOT_STATED, *_OF_TORQUE.choices["grade"].options),
        default=_NOT_STATED.key,
        measure="If the instructions name it, or it is marked on the head.",
    ),
    replace(
        _OF_TORQUE.numbers["maker_torque"],
        key="torque",
        label="Torque",
        kept=False,
        stands_before="",
        measure="As the instructions print it, in their own unit.",
    ),
    replace(
        _OF_TORQUE.numbers["maker_angle"],
        key="angle",
        label="Then an angle",
        first=True,
        kept=False,
        measure="If the instructions give one.",
    ),
    Choice(
        "friction",
        "Thread and head",
        (
            _NOT_STATED,
            *(o for o in _OF_TORQUE.choices["friction"].options if o.group != "My own"),
        ),
        _NOT_STATED.key,
        measure="Oiled, dry, with what paste: what the figure was given for.",
        first=True,
    ),
)

ASSUMED = {
    "grade": {"metric": "8.8", "inch": "sae5"},
    "friction": _OF_TORQUE.choices["friction"].default,
}
"""What a figure is judged by where the instructions don't say. Common practice."""


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return form_context(FIELDS) | {
        "assumed": json.dumps(ASSUMED),
    }


PAGE = Page(
    key="figures",
    title="Maker's figures",
    short="Figures",
    question="What do the instructions say?",
    stage="bolt",
    template="makers_figures.html",
    context=_context,
)
