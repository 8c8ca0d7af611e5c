"""The page's own question for each row of a list of parts, as a list to print and write on.

The phone makes the same table in `static/js/face/each.js`.
"""

from __future__ import annotations

from dataclasses import dataclass

from site_src.face.cells import Cell, Notes, Row, answer_name, cell
from site_src.face.numbers import with_unit
from site_src.face.words import read_answer
from site_src.model.answers import Answer, EachView
from site_src.model.fields import Choice, Number, Parts
from site_src.model.lookup import Inputs, Lookup, Outcome


@dataclass(frozen=True)
class EachTable:
    """A table with a row for each part; `example` says why nothing in it is judged, if so."""

    view: EachView
    down: str
    heads: tuple[Cell, ...]
    write_in: tuple[str, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]
    example: str


def each_table(lookup: Lookup, view: EachView) -> EachTable:
    """Work out the rows of the default list."""
    parts = next(f for f in lookup.fields if isinstance(f, Parts) and f.key == view.parts)
    fields = [_field(parts, key) for key in view.feeds.values()]
    asked = [_row_inputs(view, row) for row in parts.default]
    outcomes = [lookup.explain(inputs) for inputs in asked]
    answers = [
        answer
        for answer in map(lookup.answer, view.answers)
        if not all(_is_left_out(lookup, answer, outcome) for outcome in outcomes)
    ]
    notes, rows = Notes(), []
    for number, (row, outcome) in enumerate(zip(parts.default, outcomes, strict=True), 1):
        own = tuple(Cell(_entry_text(field, row[field.key])) for field in fields)
        worked = tuple(
            _cell(lookup, answer, outcome, notes, judged=not parts.example) for answer in answers
        )
        rows.append(Row(f"{number} {own[0].text}", (*own[1:], *worked)))
    heads = (*(field.label for field in fields[1:]), *map(answer_name, answers))
    return EachTable(
        view,
        fields[0].label,
        tuple(map(Cell, heads)),
        view.write_in,
        tuple(rows),
        notes.listed(),
        parts.example_words,
    )


def _field(parts: Parts, key: str) -> Number | Choice:
    """Return an entry of each row."""
    return next(field for field in parts.fields if field.key == key)


def _entry_text(field: Number | Choice, value: float | str) -> str:
    """Write an entry with its unit, which may be another one in the next row."""
    if isinstance(field, Choice):
        return field.option(str(value)).label
    return with_unit(f"{value:.15g}", field.declared.label)


def _row_inputs(view: EachView, row: dict[str, float | str]) -> Inputs:
    """Return the page's inputs for a row."""
    return {**view.fixed, **{field: row[key] for field, key in view.feeds.items()}}


def _is_left_out(lookup: Lookup, answer: Answer, outcome: Outcome) -> bool:
    """Say whether a row has no such answer and no reason to have it."""
    return read_answer(lookup, answer, outcome).left_out


def _cell(lookup: Lookup, answer: Answer, outcome: Outcome, notes: Notes, *, judged: bool) -> Cell:
    """Write one answer of a row; without its status where the list is only an example."""
    if _is_left_out(lookup, answer, outcome):
        return Cell("")
    if judged or answer.key in outcome.faults:
        return cell(lookup, answer, outcome, notes)
    return Cell(cell(lookup, answer, outcome, Notes()).text)
