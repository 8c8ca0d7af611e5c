"""One answer as a page shows it: a number with its unit, or the reason why there is none.

The phone words, rounds and judges by the same rules, in `static/js/face/words.js`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from site_src.face.numbers import fine, grouped, plain, shown_margin, with_unit
from site_src.face.rule import Rule, draw_rule
from site_src.model.answers import BEYOND, NEAR, UNCHECKED, WITHIN, Answer, Band, Working, shown
from site_src.model.fields import Number, Parts
from site_src.model.formulas import Formula
from site_src.model.lookup import Lookup, Outcome
from site_src.model.quantities import Unit, quantity
from site_src.model.said import both
from site_src.tables.recipe import Fault

STATUS_WORDS = {
    WITHIN: "within",
    NEAR: "near the limit",
    BEYOND: "beyond the limit",
    UNCHECKED: "not checked",
}
_WORST_FIRST = (BEYOND, NEAR, UNCHECKED, WITHIN)

_KIND_WORDS = {
    "blank": "“{name}” was left empty, and this needs it.",
    "missing": "“{name}” was left empty, and this needs it.",
    "choice": "“{name}” has not been picked, and this needs it.",
    "below": "This works out below what this page covers.",
    "above": "This works out above what this page covers.",
    "undefined": "This set-up has no such answer.",
}
"""Said where a fault brings no words of its own."""

Piece: TypeAlias = tuple[str, bool]
"""A piece of text, and whether it is set apart: a mark of origin, or a subscript."""

LEAST_TOLD = 1e-6
"""Differences smaller than this are told as that, not to their last figure."""

_SUBSCRIPT = re.compile(r"(?<=[^\W\d_])_(\w+)")

_FROM_MEMORY = re.compile("from memory", re.IGNORECASE)

_MARKS = re.compile(r"(common practice|unverified)", re.IGNORECASE)


@dataclass(frozen=True)
class Reading:
    """One answer as it is shown: a number with its unit, or the reason why there is none."""

    answer: Answer
    text: str
    unit: str
    status: str
    words: str
    rule: Rule | None
    shown: Formula
    filled: str
    fault: Fault | None = None
    """Why it has no number."""

    @property
    def in_margins(self) -> bool:
        """Say whether it is shown among the margins: it is judged, or its absence has a reason."""
        if self.fault is None:
            return bool(self.status)
        return self.fault.kind != "blank" and not self.left_out

    @property
    def left_out(self) -> bool:
        """Say whether it is not shown at all: an optional answer that nothing was asked for."""
        if not self.answer.optional or self.fault is None:
            return False
        return self.fault.kind == "blank" or (
            self.fault.kind in ("above", "below") and not self.fault.say
        )

    @property
    def status_words(self) -> str:
        """The status as a word."""
        return STATUS_WORDS.get(self.status, "")

    @property
    def formula(self) -> tuple[Piece, ...]:
        """The formula, cut where a subscript begins or ends."""
        return subscripted(self.shown.text)

    @property
    def legend(self) -> tuple[tuple[tuple[Piece, ...], str], ...]:
        """What the formula's signs stand for."""
        return tuple((subscripted(sign), label) for sign, label in self.shown.legend)

    @property
    def origins(self) -> tuple[tuple[str, tuple[Piece, ...]], ...]:
        """The functions that work it out, and where they are from."""
        return tuple((source.name, pieces(source.text)) for source in self.shown.sources)

    @property
    def number(self) -> str:
        """The number with its unit."""
        return with_unit(self.text, self.unit)

    @property
    def units(self) -> tuple[tuple[str, str], ...]:
        """The units that may be picked, as key and label."""
        known = quantity(self.answer.of)
        return tuple((key, known.unit(key).label) for key in self.answer.decimals)

    def in_usual_unit(self, error: float) -> str:
        """Write a small difference, given in the declared unit, in the usual one of each shop."""
        usual = unit_of(self.answer)
        known = quantity(self.answer.of)
        key = known.inch.get(usual.key, usual.key)
        inch = known.unit(key) if key in self.answer.decimals else usual
        return both(*(self._difference(error, unit) for unit in (usual, inch)))

    def _difference(self, error: float, unit: Unit) -> str:
        """Write a small difference, given in the declared unit, in another."""
        value = error * self.answer.declared.factor / unit.factor
        if 0.0 < value < LEAST_TOLD:
            return f"less than {with_unit(fine(LEAST_TOLD), unit.label)}"
        return with_unit(fine(value), unit.label)


def pieces(text: str) -> tuple[Piece, ...]:
    """Cut a text where it marks a value's origin, so that the page can show the mark as one.

    What our data and sources mark as from memory is unverified to whoever reads the page.

    >>> pieces("12 × bore, common practice.")
    (('12 × bore, ', False), ('common practice', True), ('.', False))
    """
    shown = _FROM_MEMORY.sub(lambda met: _unverified(met[0]), text)
    return tuple((part, bool(_MARKS.fullmatch(part))) for part in _MARKS.split(shown) if part)


def _unverified(mark: str) -> str:
    """Say in a reader's words that a value is from memory, in capitals as it is."""
    return "Unverified" if mark[0].isupper() else "unverified"


def number_text(field: Number, value: float) -> str:
    """Write a field's value in its declared unit, one digit finer than its step."""
    return plain(value, field.step)


def subscripted(text: str) -> tuple[Piece, ...]:
    """Cut a formula so that what is written after an underscore can be set lower.

    >>> subscripted("T_m = T₂ − ε")
    (('T', False), ('m', True), (' = T₂ − ε', False))
    """
    parts = _SUBSCRIPT.split(text)
    return tuple((part, n % 2 == 1) for n, part in enumerate(parts) if part)


def read_answer(lookup: Lookup, answer: Answer, outcome: Outcome) -> Reading:
    """Show one answer of an outcome."""
    unit, how = unit_of(answer), lookup.shown[answer.key]
    fault = outcome.faults.get(answer.key)
    if fault is not None:
        words = fault_words(lookup, fault)
        return Reading(answer, "", unit.label, "", words, None, how, "", fault)
    status = outcome.status.get(answer.key, "")
    words, rule = "", None
    if status == UNCHECKED:
        words = unchecked_words(lookup, answer, outcome)
    elif answer.band and status:
        ends = Ends.of(answer.band, outcome, outcome.symbols[answer.key])
        words = band_words(answer, ends, status)
        rule = draw_rule(
            answer.band.side, *ends.in_unit(answer), answer.decimals[unit.key], unit.label
        )
    return Reading(
        answer,
        si_text(answer, outcome.symbols[answer.key]),
        unit.label,
        status,
        words,
        rule,
        how,
        filled_in(lookup, how.filled, outcome),
    )


def unchecked_words(lookup: Lookup, answer: Answer, outcome: Outcome) -> str:
    """Say why an answer is not checked."""
    reason = outcome.unjudged.get(answer.key)
    if reason is None:
        assert answer.band is not None
        value = with_unit(si_text(answer, outcome.symbols[answer.key]), unit_of(answer).label)
        return answer.band.unchecked.replace("{value}", value)
    if reason.kind == "example":
        return reason.say
    return f"An entry can't be used. {fault_words(lookup, reason)}"


def unit_of(answer: Answer, unit: str = "") -> Unit:
    """Return the unit that an answer is shown in: the one named, or its usual one."""
    return quantity(answer.of).unit(unit or next(iter(answer.decimals)))


def si_text(answer: Answer, si: float, unit: str = "") -> str:
    """Write an SI value as an answer does, without the unit."""
    shown_in = unit_of(answer, unit)
    return grouped(shown(shown_in.from_si(si), answer.decimals[shown_in.key]))


@dataclass(frozen=True)
class Ends:
    """An answer's value with the limit and the near mark it is judged against, SI."""

    value: float
    limit: float
    near: float

    @staticmethod
    def of(band: Band, outcome: Outcome, value: float) -> Ends:
        """Look up the ends of a band in an outcome."""

        def si(source: str | float) -> float:
            return outcome.symbols[source] if isinstance(source, str) else source

        return Ends(value, si(band.limit), si(band.near))

    def in_unit(self, answer: Answer) -> tuple[float, float, float]:
        """Return value, limit and near mark in the usual unit."""
        unit = unit_of(answer)
        return unit.from_si(self.value), unit.from_si(self.limit), unit.from_si(self.near)


def band_words(answer: Answer, ends: Ends, status: str) -> str:
    """Fill a band's words with value, limit and margin, each with its unit."""
    assert answer.band is not None
    unit = unit_of(answer)
    decimals = answer.decimals[unit.key]
    value, limit, _ = ends.in_unit(answer)
    filling = {
        "value": grouped(shown(value, decimals)),
        "limit": grouped(shown(limit, decimals)),
        "margin": shown_margin(abs(limit - value), decimals),
    }
    text = answer.band.words[status]
    for name, number in filling.items():
        text = text.replace("{" + name + "}", with_unit(number, unit.label))
    return text


def worst(readings: Iterable[Reading]) -> Reading | None:
    """Return the reading that the plate gives as its verdict: the first of the worst."""
    judged = [reading for reading in readings if reading.status]
    return min(judged, key=lambda r: _WORST_FIRST.index(r.status), default=None)


def fault_words(lookup: Lookup, fault: Fault) -> str:
    """Say why an answer can't be had."""
    number = lookup.numbers.get(fault.symbol)
    if fault.kind == "range" and number:
        unit = number.declared.label
        low, high = number_text(number, number.low), number_text(number, number.high)
        return f"{number.label}: this page covers {low} to {with_unit(high, unit)}."
    words = _KIND_WORDS.get(fault.kind, _KIND_WORDS["undefined"])
    return fault.say or words.replace("{name}", _entry_label(lookup, fault.symbol))


def _entry_label(lookup: Lookup, key: str) -> str:
    """Name an entry, one inside a list of parts too."""
    for field in lookup.fields:
        for each in (field, *(field.fields if isinstance(field, Parts) else ())):
            if each.key == key:
                return each.label
    return "An entry"


def filled_in(lookup: Lookup, template: str, outcome: Outcome) -> str:
    """Put this set-up's numbers into a formula, each with its unit."""
    return re.sub(
        r"\{([\w.]+)\}", lambda found: _symbol_text(lookup, found.group(1), outcome), template
    )


def _symbol_text(lookup: Lookup, symbol: str, outcome: Outcome) -> str:
    """Write one symbol of the recipe as the page shows it."""
    if symbol not in outcome.symbols:
        return "—"
    si = outcome.symbols[symbol]
    known: list[Number | Answer | Working] = [*lookup.numbers.values()]
    named = {each.key: each for each in (*known, *lookup.answers, *lookup.workings)}
    if symbol not in named:
        return fine(si, digits=4)
    value = named[symbol]
    if value.declared.offset:
        # Degrees from a zero of their own can't be multiplied: a formula has absolute ones.
        return with_unit(fine(si, digits=5), quantity(value.of).si)
    if isinstance(value, Number):
        return with_unit(
            grouped(number_text(value, value.declared.from_si(si))), value.declared.label
        )
    if isinstance(value, Working):
        return working_text(value, outcome)
    return with_unit(si_text(value, si), unit_of(value).label)


@dataclass(frozen=True)
class OnTheWay:
    """An intermediate value as it is shown."""

    key: str
    label: str
    formula: tuple[Piece, ...]
    text: str


def on_the_way(lookup: Lookup, working: Working, outcome: Outcome) -> OnTheWay:
    """Show an intermediate value of an outcome."""
    formula = subscripted(lookup.shown[working.key].text)
    return OnTheWay(working.key, working.label, formula, working_text(working, outcome))


def working_text(working: Working, outcome: Outcome) -> str:
    """Write an intermediate value."""
    if working.key not in outcome.symbols:
        return "—"
    unit = quantity(working.of).unit(working.unit)
    value = unit.from_si(outcome.symbols[working.key])
    return with_unit(grouped(shown(value, working.decimals)), unit.label)
