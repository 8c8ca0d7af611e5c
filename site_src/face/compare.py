"""The same set-up with other values of one entry, side by side.

The phone makes the same table in `static/js/face/compare.js`.
"""

from __future__ import annotations

from dataclasses import dataclass

from site_src.face.cells import Cell, Notes, Row, answer_name, axis_name, cell, value_head
from site_src.model.answers import CompareView
from site_src.model.fields import Choice, Field
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class Comparison:
    """A table of answers, a column for each value; the set-up's own is marked."""

    view: CompareView
    down: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]


def comparison(lookup: Lookup, view: CompareView) -> Comparison:
    """Work out the columns that the default set-up fills in; one for each option of a choice."""
    field = next(each for each in lookup.fields if each.key == view.field)
    notes, values = Notes(), _columns(lookup, view, field)
    outcomes = lookup.explain_many([{view.field: value} for value in values])
    rows = []
    for key in view.answers:
        answer = lookup.answer(key)
        cells = tuple(cell(lookup, answer, outcome, notes) for outcome in outcomes)
        rows.append(Row(answer_name(answer), cells))
    heads = tuple(Cell(value_head(field, v), current=v == field.default) for v in values)
    return Comparison(view, axis_name(field), heads, tuple(rows), notes.listed())


def _columns(lookup: Lookup, view: CompareView, field: Field) -> list[float | str]:
    """Return the values that have a column."""
    if isinstance(field, Choice):
        return [option.key for option in field.options]
    entered = [lookup.numbers[key].default for key in (view.field, *view.others)]
    return [value for value in entered if value is not None]
