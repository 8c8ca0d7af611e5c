"""Advice tables as the page shows them: words that depend on two choices, and why.

The phone shows the chosen cell by the same rules, in `static/js/face/advice.js`.
"""

from __future__ import annotations

from dataclasses import dataclass

from site_src.model.answers import BEYOND, NEAR, Advice, AdviceView
from site_src.model.fields import Option
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class AdviceCell:
    """One cell: where it is, its words, and its reason's number in the list below."""

    at: str
    advice: Advice
    reason: int
    current: bool


@dataclass(frozen=True)
class AdviceRow:
    """One option of the first choice with its advice for every option of the second."""

    head: Option
    cells: tuple[AdviceCell, ...]


@dataclass(frozen=True)
class AdviceTable:
    """An advice table with the default set-up's cell picked out."""

    view: AdviceView
    down: str
    heads: tuple[Option, ...]
    rows: tuple[AdviceRow, ...]
    chosen: Advice
    chosen_head: str

    @property
    def judged(self) -> bool:
        """Whether the table warns, so that the plate must be able to."""
        return any(cell.status for cell in self.view.cells.values())

    @property
    def warns(self) -> bool:
        """Whether the default set-up's cell is a warning."""
        return self.chosen.status in (NEAR, BEYOND)


def advice_tables(lookup: Lookup) -> tuple[AdviceTable, ...]:
    """Lay out a lookup's advice tables for its default set-up."""
    return tuple(_table(lookup, view) for view in lookup.views.advice)


def _table(lookup: Lookup, view: AdviceView) -> AdviceTable:
    """Lay out one table."""
    down, across = (lookup.choices[key] for key in view.by)
    reasons = view.reasons

    def cell(row: Option, column: Option) -> AdviceCell:
        advice = view.cells[row.key, column.key]
        mine = (row.key, column.key) == (down.default, across.default)
        return AdviceCell(f"{row.key} {column.key}", advice, reasons.index(advice.why) + 1, mine)

    rows = tuple(
        AdviceRow(row, tuple(cell(row, column) for column in across.options))
        for row in down.options
    )
    chosen = view.cells[down.default, across.default]
    head = f"{down.option(down.default).label}, {across.option(across.default).label}"
    return AdviceTable(view, down.label, across.options, rows, chosen, head)
