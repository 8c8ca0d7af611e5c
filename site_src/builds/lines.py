"""Lines of a build's sheets: what, how much, in which units, whose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from site_src.builds.job import Amount, Stored
from site_src.face.cells import Notes
from site_src.face.numbers import NO_NUMBER, grouped, with_unit
from site_src.face.words import Reading, si_text, unit_of
from site_src.model.answers import Answer
from site_src.model.fields import Choice, Field, Number
from site_src.model.lookup import Outcome
from site_src.model.quantities import quantity


@dataclass(frozen=True)
class Line:
    """A line of a sheet: what, how much, and whose it is or how it stands."""

    label: str
    text: str
    status: str = ""
    word: str = ""
    words: str = ""
    leans: str = ""
    """Letter of the note with the examples of ours that it hangs on; empty if it hangs on none."""


@dataclass(frozen=True)
class Group:
    """Lines under a heading."""

    title: str
    lines: tuple[Line, ...]


def entry_text(field: Field, value: Stored | float | None) -> str:
    """Write an entry as it was written in the file, or a worked-out one in its unit."""
    if isinstance(field, Choice):
        return field.option(str(value)).label
    assert isinstance(field, Number)
    if isinstance(value, Amount):
        label = field.quantity.unit(value.unit).label
        return with_unit(value.text, label) if value.text else "left open"
    return "left open" if value is None else with_unit(f"{value:.6g}", field.declared.label)


def in_both(of: str, unit: str, si: float, decimals: int) -> str:
    """Write a value in its unit, and in the one of an inch shop beside it."""
    known = quantity(of)
    first = known.unit(unit)
    text = with_unit(grouped(f"{first.from_si(si):.{decimals}f}"), first.label)
    other = known.inch.get(unit)
    if not other:
        return text
    second = known.unit(other)
    return f"{text} · {with_unit(grouped(f'{second.from_si(si):.{decimals + 1}f}'), second.label)}"


def answer_line(reading: Reading, outcome: Outcome) -> Line:
    """Write an answer in its usual unit, and in the one of an inch shop beside it."""
    answer = reading.answer
    if reading.fault:
        return Line(answer.label, NO_NUMBER, words=reading.words)
    return Line(
        answer.label,
        f"{reading.number}{_in_inches(answer, outcome.symbols[answer.key])}",
        reading.status,
        reading.status_words,
        reading.words if reading.status in ("near", "beyond", "unchecked") else "",
    )


def _in_inches(answer: Answer, si: float) -> str:
    """Write an answer in the unit of an inch shop, if it has one there."""
    other = quantity(answer.of).inch.get(unit_of(answer).key)
    if other is None or other not in answer.decimals:
        return ""
    text = si_text(answer, si, other)
    return f" · {with_unit(text, unit_of(answer, other).label)}"


def in_mm(metres: float) -> str:
    """Write a length in whole millimetres."""
    return with_unit(grouped(f"{1e3 * metres:.0f}"), "mm")


def sentence(words: str) -> str:
    """Write words as a sentence."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def marked(notes: Notes, labels: Sequence[str]) -> str:
    """Return the letter of a note that lists labels, none if there are none."""
    return notes.mark("; ".join(labels)) if labels else ""


def origin(source: str, page: str) -> str:
    """Say which sheet a figure is from."""
    return ", ".join(each for each in (source, page and f"page {page}") if each) or "no source"
