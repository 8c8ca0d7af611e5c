"""A lookup's tables and curves for its default set-up.

The phone makes the same in `static/js/face/chart.js`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from site_src.face.cells import (
    Cell,
    Notes,
    Row,
    answer_name,
    axis_name,
    cell,
    value_head,
    with_current,
)
from site_src.face.drawing import Curve, Dot, draw_curve
from site_src.face.form import in_sight
from site_src.face.words import Ends, unit_of
from site_src.model.answers import CurveView, GridView
from site_src.model.fields import Field
from site_src.model.lookup import Lookup, Outcome


@dataclass(frozen=True)
class GridTable:
    """A table over one or two fields; `flat` says which of them change nothing, if any.

    It is `empty` if none of them changes anything, and out of sight if one of them is.
    """

    view: GridView
    down: str
    axes: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]
    shown: bool = True
    flat: str = ""
    empty: bool = False


@dataclass(frozen=True)
class CurveTable:
    """A curve and the same numbers as rows; or why it would be flat."""

    view: CurveView
    curve: Curve | None
    down: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]
    shown: bool = True
    flat: str = ""


def grid_table(lookup: Lookup, view: GridView) -> GridTable:
    """Work out a table for the default set-up."""
    fields = {field.key: field for field in lookup.fields}
    down, across = fields[view.rows], fields.get(view.columns)
    return _over_two(lookup, view, down, across) if across else _over_one(lookup, view, down)


def _over_two(lookup: Lookup, view: GridView, down: Field, across: Field) -> GridTable:
    """Work out a table of one answer over two fields."""
    answer, notes = lookup.answer(view.answer), Notes()
    columns = with_current(across, view.column_values)
    rows, values = [], []
    for value in with_current(down, view.row_values):
        outcomes = [lookup.explain({down.key: value, across.key: each}) for each in columns]
        mine = value == down.default
        cells = tuple(
            cell(lookup, answer, outcome, notes, mine and each == across.default, view.unit)
            for each, outcome in zip(columns, outcomes, strict=True)
        )
        rows.append(Row(value_head(down, value), cells, mine))
        values.append([outcome.symbols.get(answer.key) for outcome in outcomes])
    still = [down] if _flat(values) else []
    still += [across] if _flat([*zip(*values, strict=True)]) else []
    return GridTable(
        view,
        axis_name(down),
        f"{answer_name(answer, view.unit)}. Down: {axis_name(down)}. Across: {axis_name(across)}.",
        tuple(Cell(value_head(across, c), current=c == across.default) for c in columns),
        tuple(rows),
        notes.listed(),
        _in_sight(lookup, down, across),
        _flat_words(still),
        still == [down, across],
    )


def _over_one(lookup: Lookup, view: GridView, down: Field) -> GridTable:
    """Work out a table of several answers over one field."""
    answers, notes = [lookup.answer(key) for key in (view.answer, *view.also)], Notes()
    units = [view.unit if answer.key == view.answer else "" for answer in answers]
    rows, values = [], []
    for value in with_current(down, view.row_values):
        outcome, mine = lookup.explain({down.key: value}), value == down.default
        cells = tuple(
            cell(lookup, answer, outcome, notes, mine, unit)
            for answer, unit in zip(answers, units, strict=True)
        )
        rows.append(Row(value_head(down, value), cells, mine))
        values.append([outcome.symbols.get(answer.key) for answer in answers])
    heads = tuple(Cell(answer_name(a, unit)) for a, unit in zip(answers, units, strict=True))
    flat = _flat(values)
    words, shown = _flat_words([down] if flat else []), _in_sight(lookup, down)
    return GridTable(
        view, axis_name(down), "", heads, tuple(rows), notes.listed(), shown, words, flat
    )


def curve_table(lookup: Lookup, view: CurveView) -> CurveTable:
    """Work out a curve for the default set-up."""
    field, answer, notes = lookup.numbers[view.over], lookup.answer(view.answer), Notes()
    dots, rows = [], []
    for value in with_current(field, view.values):
        outcome, mine = lookup.explain({view.over: value}), value == field.default
        rows.append(
            Row(value_head(field, value), (cell(lookup, answer, outcome, notes, mine),), mine)
        )
        y, limit = _heights(lookup, view, outcome)
        dots.append(Dot(float(value), y, limit, mine))
    flat = _flat([[dot.y, dot.limit] for dot in dots])
    return CurveTable(
        view,
        draw_curve(dots),
        axis_name(field),
        (Cell(answer_name(answer)),),
        tuple(rows),
        notes.listed(),
        _in_sight(lookup, field),
        _flat_words([field] if flat else []),
    )


def _heights(
    lookup: Lookup, view: CurveView, outcome: Outcome
) -> tuple[float | None, float | None]:
    """Return how high a curve and its limit stand at one place, in the answer's usual unit."""
    answer = lookup.answer(view.answer)
    si, unit = outcome.symbols.get(answer.key), unit_of(answer)
    if si is None:
        return None, None
    limit = None
    if answer.band and answer.key in outcome.status:
        limit = Ends.of(answer.band, outcome, si).limit
    return unit.from_si(si), None if limit is None else unit.from_si(limit)


# --- fields that change nothing ------------------------------------------------------------------


def _in_sight(lookup: Lookup, *fields: Field) -> bool:
    """Say whether a view's fields are asked for in the default set-up."""
    defaults = {field.key: field.default for field in lookup.fields}
    return all(in_sight(field, defaults) for field in fields)


def _flat(rows: Sequence[Sequence[float | None]]) -> bool:
    """Say whether all rows hold the same, which is not nothing.

    >>> _flat([[1.0, None], [1.0, None]]), _flat([[1.0], [2.0]]), _flat([[None], [None]])
    (True, False, False)
    """
    same = all(list(row) == list(rows[0]) for row in rows)
    return same and any(value is not None for value in rows[0])


def _flat_words(fields: Sequence[Field]) -> str:
    """Say that fields change nothing. Optional entries, which could overrule them, are empty."""
    return " ".join(f"{field.label} changes nothing in this set-up." for field in fields)
