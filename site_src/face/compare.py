"""The same set-up with other values of one entry, side by side.

The phone makes the same table in `static/js/face/compare.js`.
"""

from __future__ import annotations

from dataclasses import dataclass

from site_src.face.cells import Cell, Notes, Row, answer_name, axis_name, cell, value_head
from site_src.model.answers import CompareView
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class Comparison:
    """A table of answers, a column for each value; the set-up's own is the first."""

    view: CompareView
    down: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]


def comparison(lookup: Lookup, view: CompareView) -> Comparison:
    """Work out the columns that the default set-up fills in."""
    field, notes = lookup.numbers[view.field], Notes()
    entered = [lookup.numbers[key].default for key in (view.field, *view.others)]
    values = [value for value in entered if value is not None]
    outcomes = [lookup.explain({view.field: value}) for value in values]
    rows = []
    for key in view.answers:
        answer = lookup.answer(key)
        cells = tuple(cell(lookup, answer, outcome, notes) for outcome in outcomes)
        rows.append(Row(answer_name(answer), cells))
    heads = tuple(Cell(value_head(field, v), current=n == 0) for n, v in enumerate(values))
    return Comparison(view, axis_name(field), heads, tuple(rows), notes.listed())
