"""Charts: tables over one or two fields, for the default set-up.

The phone makes the same tables in `static/js/face/chart.js`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from site_src.face.cells import (
    Cell,
    Notes,
    Row,
    answer_name,
    axis_name,
    cell,
    value_head,
    whose,
    with_current,
)
from site_src.face.flat import are_in_sight, flat_words, is_flat
from site_src.model.answers import ChartView
from site_src.model.fields import Field
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class Chart:
    """A table over one or two fields; `flat` says which of them change nothing, if any.

    It is `empty` if none of them changes anything, and out of sight if one of them is.
    """

    view: ChartView
    down: str
    axes: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]
    shown: bool = True
    flat: str = ""
    empty: bool = False


def chart(lookup: Lookup, view: ChartView) -> Chart:
    """Work out a table for the default set-up."""
    fields = {field.key: field for field in lookup.fields}
    down, across = fields[view.rows], fields.get(view.columns)
    return _over_two(lookup, view, down, across) if across else _over_one(lookup, view, down)


def _over_two(lookup: Lookup, view: ChartView, down: Field, across: Field) -> Chart:
    """Work out a table of one answer over two fields."""
    answer, notes = lookup.answer(view.answer), Notes()
    columns = with_current(across, view.column_values)
    lines = with_current(down, view.row_values)
    # All cells at once: a recipe takes hardly longer for a table than for one set-up.
    found = iter(
        lookup.explain_many([{down.key: line, across.key: c} for line in lines for c in columns])
    )
    rows, values = [], []
    for value in lines:
        outcomes = list(islice(found, len(columns)))
        mine = value == down.default
        cells = tuple(
            cell(lookup, answer, outcome, notes, mine and each == across.default, view.unit)
            for each, outcome in zip(columns, outcomes, strict=True)
        )
        rows.append(Row(value_head(down, value), cells, mine))
        values.append([outcome.symbols.get(answer.key) for outcome in outcomes])
    still = [down] if is_flat(values) else []
    still += [across] if is_flat([*zip(*values, strict=True)]) else []
    return Chart(
        view,
        axis_name(down),
        f"{answer_name(answer, view.unit)}. Down: {axis_name(down)}. Across: {axis_name(across)}."
        f"{whose(down)}",
        tuple(Cell(value_head(across, c), current=c == across.default) for c in columns),
        tuple(rows),
        notes.listed(),
        are_in_sight(lookup, down, across),
        flat_words(still),
        still == [down, across],
    )


def _over_one(lookup: Lookup, view: ChartView, down: Field) -> Chart:
    """Work out a table of several answers over one field."""
    answers, notes = [lookup.answer(key) for key in (view.answer, *view.also)], Notes()
    units = [view.unit if answer.key == view.answer else "" for answer in answers]
    lines = with_current(down, view.row_values)
    rows, values = [], []
    for value, outcome in zip(
        lines, lookup.explain_many([{down.key: line} for line in lines]), strict=True
    ):
        mine = value == down.default
        cells = tuple(
            cell(lookup, answer, outcome, notes, mine, unit)
            for answer, unit in zip(answers, units, strict=True)
        )
        rows.append(Row(value_head(down, value), cells, mine))
        values.append([outcome.symbols.get(answer.key) for answer in answers])
    heads = tuple(Cell(answer_name(a, unit)) for a, unit in zip(answers, units, strict=True))
    flat = is_flat(values)
    words, shown = flat_words([down] if flat else []), are_in_sight(lookup, down)
    return Chart(view, axis_name(down), "", heads, tuple(rows), notes.listed(), shown, words, flat)
