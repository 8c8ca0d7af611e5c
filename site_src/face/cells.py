"""Tables over a lookup's fields: cells, heads, and the reasons why a cell has no answer.

The phone makes the same tables in `static/js/face/cells.js`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from site_src.face.numbers import NO_CELL, grouped
from site_src.face.words import (
    STATUS_WORDS,
    fault_words,
    number_text,
    si_text,
    unchecked_words,
    unit_of,
)
from site_src.model.answers import UNCHECKED, Answer
from site_src.model.fields import Choice, Field, Number
from site_src.model.lookup import Lookup, Outcome

EXAMPLES = " Pulleys: examples of ours."


@dataclass(frozen=True)
class Cell:
    """One cell of a table: an answer, or none; a mark leads to the reason under the table."""

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


class Notes:
    """The reasons why cells have no answer or are not checked, each with a letter."""

    def __init__(self) -> None:
        """Start without any."""
        self._marks: dict[str, str] = {}

    def mark(self, words: str) -> str:
        """Return the letter of a reason, new or met before."""
        return self._marks.setdefault(words, "abcdefghijklmnopqrstuvwxyz"[len(self._marks) % 26])

    def listed(self) -> tuple[tuple[str, str], ...]:
        """Return letter and reason, in the order they were met."""
        return tuple((mark, words) for words, mark in self._marks.items())


def cell(
    lookup: Lookup,
    answer: Answer,
    outcome: Outcome,
    notes: Notes,
    current: bool = False,
    unit: str = "",
) -> Cell:
    """Write one answer of an outcome as a cell, in the unit named or in its usual one."""
    fault = outcome.faults.get(answer.key)
    if fault is not None:
        return Cell(NO_CELL, "", notes.mark(fault_words(lookup, fault)), current)
    text = si_text(answer, outcome.symbols[answer.key], unit)
    status = outcome.status.get(answer.key, "")
    note = ""
    if status == UNCHECKED:
        note = notes.mark(_not_checked(lookup, answer, outcome))
    return Cell(text, status, note, current)


def _not_checked(lookup: Lookup, answer: Answer, outcome: Outcome) -> str:
    """Say in full why a cell is not checked, since it has no room for its status."""
    reason = outcome.unjudged.get(answer.key)
    # Which one is said beside the answer itself; here they would fill the page.
    if reason and reason.kind == "example":
        words = "Example limit. Enter your own parts and limits."
    else:
        words = unchecked_words(lookup, answer, outcome)
    return f"{STATUS_WORDS[UNCHECKED].capitalize()}. {words}"


def with_current(field: Field, values: Iterable[float | str]) -> list[float | str]:
    """Return the listed values with the set-up's own among them."""
    default = field.default
    listed = list(values)
    if isinstance(field, Number) and default is not None and default not in listed:
        numbers = [float(value) for value in listed]
        falling = len(numbers) > 1 and numbers[0] > numbers[-1]
        return [*sorted([*numbers, float(str(default))], reverse=falling)]
    return listed


def value_head(field: Field, value: float | str) -> str:
    """Write a row's or a column's head, without its unit."""
    if isinstance(field, Choice):
        return field.option(str(value)).label
    assert isinstance(field, Number)
    return grouped(number_text(field, float(value)))


def axis_name(field: Field) -> str:
    """Name the field whose values are the rows or the columns."""
    unit = field.declared.label if isinstance(field, Number) else ""
    return f"{field.label}, {unit}" if unit else field.label


def whose(field: Field) -> str:
    """Say whose pulleys the rows are; the phone knows the shop's own."""
    return EXAMPLES if isinstance(field, Number) and field.shelf else ""


def answer_name(answer: Answer, unit: str = "") -> str:
    """Name an answer and its unit at the head of a row or a column."""
    label = unit_of(answer, unit).label
    return f"{answer.label}, {label}" if label else answer.label
