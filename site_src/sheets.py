"""A lookup's default set-up, worked out in Python, for pages read without scripts and on paper.

The phone shows the same numbers, rounded and worded by the same rules, in `static/js/numbers.js`,
`words.js`, `grid.js`, `curve.js` and `rule.js`; a browser test holds the two side by side.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from site_src.advising import AdviceTable, advice_tables
from site_src.answers import BEYOND, NEAR, WITHIN, Answer, Band, CurveView, GridView, Working, shown
from site_src.drawing import Curve, Dot, Rule, draw_curve, draw_rule
from site_src.fields import Choice, Field, Number
from site_src.figures import fine, grouped, plain, with_unit
from site_src.forms import Form, form
from site_src.lookup import Inputs, Lookup, Outcome
from site_src.quantities import quantity
from site_src.tables.recipe import Fault

STATUS_WORDS = {WITHIN: "within", NEAR: "near the limit", BEYOND: "beyond the limit"}
_WORST_FIRST = (BEYOND, NEAR, WITHIN)

_KIND_WORDS = {
    "blank": "An entry that this needs was left empty.",
    "choice": "An entry that this needs has not been picked.",
    "below": "This works out below what this page covers.",
    "above": "This works out above what this page covers.",
    "undefined": "This set-up has no such answer.",
}
"""Said where a fault brings no words of its own."""

Piece: TypeAlias = tuple[str, bool]
"""A piece of text, and whether it is set apart: a mark of origin, or a subscript."""

_SUBSCRIPT = re.compile(r"(?<=[^\W\d_])_(\w+)")

_MARKS = re.compile(r"(common practice|from memory)", re.IGNORECASE)


@dataclass(frozen=True)
class Reading:
    """One answer as it is shown: a number with its unit, or the reason why there is none."""

    answer: Answer
    text: str
    unit: str
    status: str
    words: str
    rule: Rule | None
    filled: str

    @property
    def status_words(self) -> str:
        """The status as a word."""
        return STATUS_WORDS.get(self.status, "")

    @property
    def formula(self) -> tuple[Piece, ...]:
        """The formula, cut where a subscript begins or ends."""
        return subscripted(self.answer.formula)

    @property
    def figure(self) -> str:
        """The number with its unit."""
        return with_unit(self.text, self.unit)

    @property
    def units(self) -> tuple[tuple[str, str], ...]:
        """The units that may be picked, as key and label."""
        known = quantity(self.answer.of)
        return tuple((key, known.unit(key).label) for key in self.answer.decimals)

    def in_usual_unit(self, error: float) -> str:
        """Write a small difference, given in the declared unit, in the usual one."""
        usual = quantity(self.answer.of).unit(next(iter(self.answer.decimals)))
        return with_unit(fine(error * self.answer.declared.factor / usual.factor), usual.label)


@dataclass(frozen=True)
class Cell:
    """One cell of a table: an answer, or a mark that leads to the reason under the table."""

    text: str
    status: str = ""
    note: str = ""
    current: bool = False


@dataclass(frozen=True)
class Row:
    """One row of a table; the current one is marked by a bar."""

    head: str
    cells: tuple[Cell, ...]
    current: bool = False


@dataclass(frozen=True)
class GridTable:
    """A table over one or two fields."""

    view: GridView
    down: str
    axes: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class CurveTable:
    """A curve and the same numbers as rows."""

    view: CurveView
    curve: Curve | None
    down: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Sheet:
    """All that the page of a lookup shows before scripts take over."""

    readings: tuple[Reading, ...]
    verdict: Reading | None
    grids: tuple[GridTable, ...]
    curves: tuple[CurveTable, ...]
    advice: tuple[AdviceTable, ...]
    workings: tuple[tuple[Working, tuple[Piece, ...], str], ...]
    form: Form
    cautions: tuple[tuple[Piece, ...], ...]
    sources: tuple[tuple[Piece, ...], ...]
    leaves_out: tuple[tuple[Piece, ...], ...]

    @property
    def main(self) -> Reading:
        """The one large number."""
        return next((r for r in self.readings if r.answer.rank == "main"), self.readings[0])

    @property
    def lesser(self) -> tuple[Reading, ...]:
        """The answers under it on the plate, three at most."""
        return tuple(r for r in self.readings if r.answer.rank == "second")[:3]

    @property
    def ruled(self) -> tuple[Reading, ...]:
        """The answers that are judged against a limit."""
        return tuple(r for r in self.readings if r.answer.band)


def sheet(lookup: Lookup) -> Sheet:
    """Work out the default set-up of a lookup."""
    outcome = lookup.explain({})
    readings = tuple(_reading(lookup, answer, outcome) for answer in lookup.answers)
    return Sheet(
        readings=readings,
        verdict=_worst(readings),
        grids=tuple(_grid(lookup, view) for view in lookup.views.grids),
        curves=tuple(_curve(lookup, view) for view in lookup.views.curves),
        advice=advice_tables(lookup),
        workings=tuple(
            (each, subscripted(each.label), _working(each, outcome)) for each in lookup.workings
        ),
        form=form(lookup.fields),
        cautions=tuple(pieces(text) for text in lookup.cautions),
        sources=tuple(pieces(text) for text in lookup.sources),
        leaves_out=tuple(pieces(text) for text in lookup.leaves_out),
    )


def pieces(text: str) -> tuple[Piece, ...]:
    """Cut a text where it marks a figure's origin, so that the page can show the mark as one.

    >>> pieces("12 × bore, common practice.")
    (('12 × bore, ', False), ('common practice', True), ('.', False))
    """
    return tuple((part, bool(_MARKS.fullmatch(part))) for part in _MARKS.split(text) if part)


def number_text(field: Number, value: float) -> str:
    """Write a field's value in its declared unit, one digit finer than its step."""
    return plain(value, field.step)


def subscripted(text: str) -> tuple[Piece, ...]:
    """Cut a formula so that what is written behind an underscore can be set lower.

    >>> subscripted("T_m = T₂ − ε")
    (('T', False), ('m', True), (' = T₂ − ε', False))
    """
    parts = _SUBSCRIPT.split(text)
    return tuple((part, n % 2 == 1) for n, part in enumerate(parts) if part)


# --- answers -----------------------------------------------------------------------------------


def _reading(lookup: Lookup, answer: Answer, outcome: Outcome) -> Reading:
    """Show one answer of an outcome."""
    unit = quantity(answer.of).unit(next(iter(answer.decimals)))
    fault = outcome.faults.get(answer.key)
    if fault is not None:
        words = _fault_words(lookup, fault)
        return Reading(answer, "", unit.label, "", words, None, "")
    status = outcome.status.get(answer.key, "")
    words, rule = "", None
    if answer.band and status:
        ends = _Ends.of(answer.band, outcome, outcome.symbols[answer.source])
        words = _band_words(answer, ends, status)
        rule = draw_rule(answer.band.side, *ends.in_unit(answer), _decimals(answer), unit.label)
    filled = _filled(lookup, answer.filled, outcome)
    return Reading(answer, _answer_text(answer, outcome), unit.label, status, words, rule, filled)


def _decimals(answer: Answer) -> int:
    """Return the digits shown in the usual unit."""
    return next(iter(answer.decimals.values()))


def _answer_text(answer: Answer, outcome: Outcome) -> str:
    """Write an answer in its usual unit, without the unit."""
    return _si_text(answer, outcome.symbols[answer.source])


def _si_text(answer: Answer, si: float) -> str:
    """Write an SI value as an answer does, in its usual unit."""
    unit = quantity(answer.of).unit(next(iter(answer.decimals)))
    return grouped(shown(unit.from_si(si), _decimals(answer)))


@dataclass(frozen=True)
class _Ends:
    """An answer's value with the limit and the near mark it is judged against, SI."""

    value: float
    limit: float
    near: float

    @staticmethod
    def of(band: Band, outcome: Outcome, value: float) -> _Ends:
        """Look up the ends of a band in an outcome."""

        def si(source: str | float) -> float:
            return outcome.symbols[source] if isinstance(source, str) else source

        return _Ends(value, si(band.limit), si(band.near))

    def in_unit(self, answer: Answer) -> tuple[float, float, float]:
        """Return value, limit and near mark in the usual unit."""
        unit = quantity(answer.of).unit(next(iter(answer.decimals)))
        return unit.from_si(self.value), unit.from_si(self.limit), unit.from_si(self.near)


def _band_words(answer: Answer, ends: _Ends, status: str) -> str:
    """Fill a band's words with value, limit and margin, each with its unit."""
    assert answer.band is not None
    unit = quantity(answer.of).unit(next(iter(answer.decimals)))
    said = {WITHIN: answer.band.within, NEAR: answer.band.near_words, BEYOND: answer.band.beyond}
    value, limit, _ = ends.in_unit(answer)
    filling = {"value": value, "limit": limit, "margin": abs(limit - value)}
    text = said[status]
    for name, number in filling.items():
        figure = with_unit(grouped(shown(number, _decimals(answer))), unit.label)
        text = text.replace("{" + name + "}", figure)
    return text


def _worst(readings: Iterable[Reading]) -> Reading | None:
    """Return the reading that the plate gives as its verdict: the first of the worst."""
    judged = [reading for reading in readings if reading.status]
    return min(judged, key=lambda r: _WORST_FIRST.index(r.status), default=None)


def _fault_words(lookup: Lookup, fault: Fault) -> str:
    """Say why an answer can't be had."""
    number = lookup.numbers.get(fault.symbol)
    if fault.kind == "range" and number:
        unit = number.declared.label
        low, high = number_text(number, number.low), number_text(number, number.high)
        return f"{number.label}: this page covers {low} to {with_unit(high, unit)}."
    return fault.say or _KIND_WORDS.get(fault.kind, _KIND_WORDS["undefined"])


def _filled(lookup: Lookup, template: str, outcome: Outcome) -> str:
    """Put this set-up's numbers into a formula, each with its unit."""
    return re.sub(
        r"\{([\w.]+)\}", lambda found: _symbol_text(lookup, found.group(1), outcome), template
    )


def _symbol_text(lookup: Lookup, symbol: str, outcome: Outcome) -> str:
    """Write one symbol of the recipe as the page shows it."""
    field = lookup.numbers.get(symbol)
    if field is not None and field.default is not None:
        return with_unit(number_text(field, field.default), field.declared.label)
    if symbol not in outcome.symbols:
        return "—"
    si = outcome.symbols[symbol]
    for answer in lookup.answers:
        if symbol in (answer.source, answer.key):
            unit = quantity(answer.of).unit(next(iter(answer.decimals)))
            return with_unit(_si_text(answer, si), unit.label)
    for working in lookup.workings:
        if working.symbol == symbol:
            return _working(working, outcome)
    return fine(si, digits=4)


def _working(working: Working, outcome: Outcome) -> str:
    """Write an intermediate value."""
    if working.symbol not in outcome.symbols:
        return "—"
    unit = quantity(working.of).unit(working.unit)
    value = unit.from_si(outcome.symbols[working.symbol])
    return with_unit(grouped(shown(value, working.decimals)), unit.label)


# --- tables ------------------------------------------------------------------------------------


class _Notes:
    """The reasons why cells have no answer, each with a letter."""

    def __init__(self) -> None:
        """Start without any."""
        self._marks: dict[str, str] = {}

    def mark(self, words: str) -> str:
        """Return the letter of a reason, new or met before."""
        return self._marks.setdefault(words, "abcdefghijklmnopqrstuvwxyz"[len(self._marks) % 26])

    def listed(self) -> tuple[tuple[str, str], ...]:
        """Return letter and reason, in the order they were met."""
        return tuple((mark, words) for words, mark in self._marks.items())


def _cell(lookup: Lookup, answer: Answer, inputs: Inputs, notes: _Notes, current: bool) -> Cell:
    """Work out one cell."""
    outcome = lookup.explain(inputs)
    fault = outcome.faults.get(answer.key)
    if fault is not None:
        return Cell("none", "", notes.mark(_fault_words(lookup, fault)), current)
    return Cell(_answer_text(answer, outcome), outcome.status.get(answer.key, ""), "", current)


def _with_current(field: Field, values: Iterable[float | str]) -> list[float | str]:
    """Return the listed values with the set-up's own among them."""
    default = field.default
    listed = list(values)
    if isinstance(field, Number) and default is not None and default not in listed:
        numbers = [float(value) for value in listed]
        falling = len(numbers) > 1 and numbers[0] > numbers[-1]
        return [*sorted([*numbers, float(str(default))], reverse=falling)]
    return listed


def _head(field: Field, value: float | str) -> str:
    """Write a row's or a column's head, without its unit."""
    if isinstance(field, Choice):
        return field.option(str(value)).label
    assert isinstance(field, Number)
    return grouped(number_text(field, float(value)))


def _axis(field: Field) -> str:
    """Name the field that a row or a column walks along."""
    unit = field.declared.label if isinstance(field, Number) else ""
    return f"{field.label}, {unit}" if unit else field.label


def _grid(lookup: Lookup, view: GridView) -> GridTable:
    """Work out a table for the default set-up."""
    fields = {field.key: field for field in lookup.fields}
    down, notes = fields[view.rows], _Notes()
    across = fields.get(view.columns)
    columns = _with_current(across, view.column_values) if across else []
    answers = [lookup.answer(key) for key in (view.answer, *view.also)]
    rows = []
    for value in _with_current(down, view.row_values):
        mine = value == down.default
        given: dict[str, float | str] = {down.key: value}
        if across:
            cells = [
                _cell(
                    lookup,
                    answers[0],
                    given | {across.key: column},
                    notes,
                    mine and column == across.default,
                )
                for column in columns
            ]
        else:
            cells = [_cell(lookup, answer, given, notes, mine) for answer in answers]
        rows.append(Row(_head(down, value), tuple(cells), mine))
    heads = (
        tuple(Cell(_head(across, c), current=c == across.default) for c in columns)
        if across
        else tuple(Cell(_answer_head(answer)) for answer in answers)
    )
    axes = (
        f"{_answer_head(answers[0])}. Down: {_axis(down)}. Across: {_axis(across)}."
        if across
        else ""
    )
    return GridTable(view, _axis(down), axes, heads, tuple(rows), notes.listed())


def _answer_head(answer: Answer) -> str:
    """Name an answer and its unit at the head of a column."""
    unit = quantity(answer.of).unit(next(iter(answer.decimals)))
    return f"{answer.label}, {unit.label}" if unit.label else answer.label


def _curve(lookup: Lookup, view: CurveView) -> CurveTable:
    """Work out a curve for the default set-up."""
    field, answer, notes = lookup.numbers[view.over], lookup.answer(view.answer), _Notes()
    unit = quantity(answer.of).unit(next(iter(answer.decimals)))
    dots, rows = [], []
    for value in _with_current(field, view.values):
        mine = value == field.default
        outcome = lookup.explain({view.over: value})
        cell = _cell(lookup, answer, {view.over: value}, notes, mine)
        rows.append(Row(_head(field, value), (cell,), mine))
        si = outcome.symbols.get(answer.source)
        limit = None
        if si is not None and answer.band:
            limit = unit.from_si(_Ends.of(answer.band, outcome, si).limit)
        dots.append(Dot(float(value), None if si is None else unit.from_si(si), limit, mine))
    heads = (Cell(_answer_head(answer)),)
    return CurveTable(view, draw_curve(dots), _axis(field), heads, tuple(rows), notes.listed())
