"""A lookup's fields as its form shows them, for the templates."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from types import MappingProxyType
from typing import TypeAlias

from site_src.face.numbers import grouped, plain, with_unit
from site_src.face.words import Piece, pieces
from site_src.model.fields import Choice, Field, Number, Option, Parts, in_sight

Values: TypeAlias = Mapping[str, object]

UNGROUPED = "More of this set-up"
"""The heading over folded entries that have none of their own."""

_NONE: Mapping[str, float] = MappingProxyType({})

SHORT = 18
"""Letters of an option's label that fit side by side with another on a phone."""


@dataclass(frozen=True)
class Entry:
    """A number or a choice: its value, and whether it is shown."""

    field: Number | Choice
    id: str
    value: str
    shown: bool
    kind: str

    @property
    def units(self) -> tuple[tuple[str, str], ...]:
        """The units that a number may be entered in, as key and label."""
        assert isinstance(self.field, Number)
        return tuple((unit.key, unit.label) for unit in self.field.quantity.units)

    @property
    def echo(self) -> str:
        """What is understood, in its own unit and the next one: "92 mm · 3.622 in".

        In the only unit there is, nothing, if it would only be said again.
        """
        assert isinstance(self.field, Number)
        if not self.value:
            return ""
        field, units = self.field, self.field.quantity.units
        if len(units) == 1 and grouped(self.value) == self.value:
            return ""
        said = [with_unit(grouped(self.value), field.declared.label)]
        if len(units) > 1:
            other = field.twin
            there = other.from_si(field.declared.to_si(float(self.value)))
            said.append(with_unit(grouped(plain(there, field.step_in(other))), other.label))
        return " · ".join(said)

    @property
    def measure(self) -> tuple[Piece, ...]:
        """What to measure it with, cut where it marks a value's origin."""
        return pieces(self.field.measure)

    @property
    def long(self) -> bool:
        """Whether a choice's options need a line each."""
        assert isinstance(self.field, Choice)
        return any(len(option.label) > SHORT for option in self.field.options)

    @property
    def groups(self) -> tuple[tuple[str, tuple[Option, ...]], ...]:
        """A choice's options under their headings, in the order they are listed."""
        assert isinstance(self.field, Choice)
        runs = groupby(self.field.options, key=lambda option: option.group)
        return tuple((heading, tuple(options)) for heading, options in runs)


@dataclass(frozen=True)
class Rows:
    """A list of parts: its rows, and an empty one to copy."""

    field: Parts
    id: str
    rows: tuple[tuple[Entry, ...], ...]
    blank: tuple[Entry, ...]
    shown: bool
    kind: str = "parts"


@dataclass(frozen=True)
class Fold:
    """Entries that are folded away together, under a heading that shows their values."""

    title: str
    entries: tuple[Entry | Rows, ...]


@dataclass(frozen=True)
class Form:
    """The form of a lookup: what is asked first, and what is folded away with its defaults."""

    first: tuple[Entry | Rows, ...]
    folds: tuple[Fold, ...]

    @property
    def folded(self) -> tuple[Entry | Rows, ...]:
        """All that is folded away."""
        return tuple(entry for fold in self.folds for entry in fold.entries)


def form_context(fields: Sequence[Field]) -> dict[str, object]:
    """Return what a template that lays out each field by itself is given.

    That is the entries by key, and for the scripts all fields as JSON.
    """
    laid_out = form(fields)
    return {
        "entries": {entry.field.key: entry for entry in (*laid_out.first, *laid_out.folded)},
        "fields": json.dumps([field.spec() for field in fields], ensure_ascii=False),
    }


def form(fields: Sequence[Field], carried: Mapping[str, float] = _NONE) -> Form:
    """Lay out a lookup's form with its defaults; those in `carried` are shown rounded."""
    defaults: dict[str, object] = {field.key: field.default for field in fields}
    defaults |= {
        field.key: plain(carried[field.key], field.step).replace(",", "").replace("−", "-")
        for field in fields
        if isinstance(field, Number) and field.key in carried
    }
    first = tuple(_laid_out(field, defaults) for field in fields if field.first)
    folded: dict[str, list[Field]] = {}
    for field in fields:
        if not field.first:
            folded.setdefault(field.group or UNGROUPED, []).append(field)
    folds = (
        Fold(title, tuple(_laid_out(field, defaults) for field in group))
        for title, group in folded.items()
    )
    return Form(first, tuple(folds))


def _laid_out(field: Field, defaults: Values) -> Entry | Rows:
    """Lay out one field."""
    if not isinstance(field, Parts):
        return _entry(field, field.key, defaults)
    rows = (_row(field, str(number), values) for number, values in enumerate(field.default))
    return Rows(field, field.key, tuple(rows), _row(field, "new", {}), in_sight(field, defaults))


def _row(field: Parts, number: str, values: Values) -> tuple[Entry, ...]:
    """Lay out one row of a list of parts."""
    known = {entry.key: values.get(entry.key, entry.default) for entry in field.fields}
    return tuple(
        _entry(entry, f"{field.key}-{number}-{entry.key}", known) for entry in field.fields
    )


def _entry(field: Number | Choice, name: str, values: Values) -> Entry:
    """Lay out a number or a choice."""
    value = values[field.key]
    text = (
        "" if value is None else f"{value:.15g}" if isinstance(value, float | int) else str(value)
    )
    kind = "number" if isinstance(field, Number) else "choice"
    return Entry(field, name, text, in_sight(field, values), kind)
