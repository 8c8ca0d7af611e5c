"""The page's own question for each row of a list of parts, as a list to print and write on.

The phone makes the same table in `static/js/face/each.js`.
"""

from __future__ import annotations

from collections.abc import Mapping
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


def each_table(lookup: Lookup, view: EachView, entered: Inputs | None = None) -> EachTable:
    """Work out the rows of a set-up's list; of the default one, if none is given."""
    entered = entered or {}
    parts = next(f for f in lookup.fields if isinstance(f, Parts) and f.key == view.parts)
    fields = [_field(parts, key) for key in view.feeds.values()]
    given = entered.get(parts.key, parts.default)
    assert isinstance(given, (list, tuple))
    usual = {field.key: field.default for field in parts.fields}
    listed = [{**usual, **row} for row in given]
    others = {key: value for key, value in entered.items() if key != parts.key}
    asked = [{**others, **_row_inputs(view, row)} for row in listed]
    example = "" if parts.key in entered else parts.example_words
    outcomes = lookup.explain_many(asked)
    answers = [
        answer
        for answer in map(lookup.answer, view.answers)
        if not all(_is_left_out(lookup, answer, outcome) for outcome in outcomes)
    ]
    notes, rows = Notes(), []
    for number, (row, outcome) in enumerate(zip(listed, outcomes, strict=True), 1):
        own = tuple(Cell(_entry_text(field, row[field.key])) for field in fields)
        worked = tuple(
            _cell(lookup, answer, outcome, notes, judged=not example) for answer in answers
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
        example,
    )


def _field(parts: Parts, key: str) -> Number | Choice:
    """Return an entry of each row."""
    return next(field for field in parts.fields if field.key == key)


def _entry_text(field: Number | Choice, value: float | str | None) -> str:
    """Write an entry with its unit, which may be another one in the next row."""
    if isinstance(field, Choice):
        return field.option(str(value)).label
    # A length that was taken in feet is not known to the tenth of a millimetre.
    return with_unit(f"{value:.4g}", field.declared.label)


def _row_inputs(view: EachView, row: Mapping[str, float | str | None]) -> Inputs:
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
