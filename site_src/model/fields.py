"""Fields: the things a person enters on a lookup page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass
from functools import cached_property
from math import floor, log10
from typing import TypeAlias

from site_src.model.quantities import (
    Quantity,
    Unit,
    inch_step,
    nearest_multiple,
    quantity,
)
from site_src.model.said import both

When: TypeAlias = tuple[str, tuple[str, ...]] | None
"""Shown only while a choice field has one of these options; always, if None.

A field's `group` is the heading under which it is folded, where a page has many."""


@dataclass(frozen=True)
class Inch:
    """How a shop that measures in inches reads a number, where that doesn't follow by itself.

    By itself, the unit is the quantity's of an inch shop, the step the natural one for it, and the
    usual value the nearest multiple of that step. All are in the inch shop's `unit`; the metric
    one named here stays.
    """

    default: float | None = None
    step: float | None = None
    stock: tuple[float, ...] = ()
    unit: str = ""


@dataclass(frozen=True)
class InInches:
    """The same, with all that follows by itself put in; plain data for the phone."""

    unit: str
    default: float | None
    step: float
    stock: tuple[float, ...]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "unit": self.unit,
            "default": self.default,
            "step": self.step,
            "stock": list(self.stock),
        }


NATURAL = Inch()
"""All of it follows by itself."""

SIXTEENTHS = Inch(step=0.0625)
"""As bores of hoses and fittings are told."""


@dataclass(frozen=True)
class Scale:
    """What a number is read on: its quantity, declared unit, range, usual value and step.

    `span`, `default`, `step` and `stock` are in the declared unit, and so are the values in links
    and in plain dicts. A `default` of None makes the entry optional. `stock` are the values that
    exist (hose bores, sizes of injectors); the stepper walks them. `inch` is what an inch shop has
    in place of these.
    """

    of: str
    unit: str
    span: tuple[float, float]
    default: float | None
    step: float
    stock: tuple[float, ...] = ()
    inch: Inch = NATURAL


@dataclass(frozen=True)
class Shelf:
    """Where a number is a pulley of the shop's, which keeps a list of its own on the phone.

    Until it does, the number's `stock`, metric or in inches, are examples of ours. `kind` is the
    choice that says which diameter is entered, and `lacks` what each of its options lacks of the
    pitch diameter, in the declared unit: a pulley kept as the one serves where another is asked.
    """

    kind: str
    lacks: Mapping[str, float]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {"kind": self.kind, "lacks": dict(self.lacks)}


@dataclass(frozen=True)
class Number:
    """A number with a unit.

    `measure` says what to measure it with, `way_out` what to do about a value out of range, and
    `sign` is the trade's letter for it in a formula.
    """

    key: str
    label: str
    scale: Scale
    _: KW_ONLY
    measure: str = ""
    way_out: str = ""
    sign: str = ""
    first: bool = False
    when: When = None
    group: str = ""
    kept: bool = False
    """Kept on the phone for the job, beside the choice fields that it belongs to."""
    stands_before: str = ""
    """The answer that it is shown before on the plate, being the maker's figure for just that."""
    example: str = ""
    """For a limit or a capacity that is only our example: what to enter. Nothing is judged by it
    before a person has."""
    shelf: Shelf | None = None

    @property
    def of(self) -> str:
        """Key of the quantity."""
        return self.scale.of

    @property
    def unit(self) -> str:
        """Key of the declared unit."""
        return self.scale.unit

    @property
    def low(self) -> float:
        """Least value taken."""
        return float(self.scale.span[0])

    @property
    def high(self) -> float:
        """Greatest value taken."""
        return float(self.scale.span[1])

    @property
    def default(self) -> float | None:
        """Usual value; None where the entry is optional."""
        return None if self.scale.default is None else float(self.scale.default)

    @property
    def step(self) -> float:
        """What one press of the stepper adds."""
        return float(self.scale.step)

    @property
    def stock(self) -> tuple[float, ...]:
        """Values that exist."""
        return self.scale.stock

    @property
    def quantity(self) -> Quantity:
        """The quantity, with every unit that may be picked."""
        return quantity(self.of)

    @property
    def declared(self) -> Unit:
        """The declared unit."""
        return self.quantity.unit(self.unit)

    @cached_property
    def in_inches(self) -> InInches | None:
        """How an inch shop reads it; None where that is no different."""
        said = self.scale.inch
        unit = said.unit or self.quantity.inch.get(self.unit, self.unit)
        if unit == self.unit:
            return None
        step = said.step or inch_step(self.of, self.unit, self.step, unit)
        return InInches(unit, self._usual_in(unit, step), step, said.stock)

    def _usual_in(self, unit: str, step: float) -> float | None:
        """Return the usual value in an inch shop's unit."""
        if self.default is None:
            return None
        said = self.scale.inch.default
        return self.in_unit(self.default, unit, step) if said is None else said

    def in_unit(self, value: float, unit: str, step: float) -> float:
        """Return a value in the declared unit as an even one of another unit."""
        there = self.quantity.unit(unit)
        return nearest_multiple(there.from_si(self.declared.to_si(value)), step)

    def in_both(self, value: float) -> str:
        """Write a value in the declared unit, to three digits in an inch shop's, for words."""
        inch = self.in_inches
        here = f"{value:g} {self.declared.label}".rstrip()
        if inch is None:
            return here
        unit = self.quantity.unit(inch.unit)
        there = unit.from_si(self.declared.to_si(value))
        digits = 2 - floor(log10(abs(there))) if there else 0
        return both(here, f"{round(there, digits):,.{max(0, digits)}f} {unit.label}")

    @property
    def twin(self) -> Unit:
        """The unit that its value is said in besides: an inch shop's, if that has one."""
        units = self.quantity.units
        if self.in_inches:
            return self.quantity.unit(self.in_inches.unit)
        return units[1] if self.unit == units[0].key else units[0]

    def step_in(self, unit: Unit) -> float:
        """Return the step in a unit."""
        inch = self.in_inches
        if inch and unit.key == inch.unit:
            return inch.step
        return self.step * self.declared.factor / unit.factor

    @property
    def example_words(self) -> str:
        """Why nothing is judged by the usual value; empty if it may be."""
        return f"Example limit. {self.example}" if self.example else ""

    def spec(self) -> dict[str, object]:
        """Return the field as plain data."""
        return {
            "kind": "number",
            "key": self.key,
            "label": self.label,
            "quantity": self.of,
            "unit": self.unit,
            "si": [self.declared.factor, self.declared.offset],
            "low": self.low,
            "high": self.high,
            "default": self.default,
            "step": self.step,
            "stock": list(self.stock),
            "inch": self.in_inches.spec() if self.in_inches else None,
            "shelf": self.shelf.spec() if self.shelf else None,
            "measure": self.measure,
            "way_out": self.way_out,
            "first": self.first,
            "when": _when(self.when),
            "group": self.group,
            "kept": self.kept,
            "stands_before": self.stands_before,
            "example": self.example_words,
        }


@dataclass(frozen=True)
class Option:
    """One entry of a choice; `tag` says what it goes with, `group` heads it in a long list."""

    key: str
    label: str
    tag: str = ""
    group: str = ""


@dataclass(frozen=True)
class Choice:
    """One of a list. Options whose `tag` differs from `match`'s chosen tag are not offered."""

    key: str
    label: str
    options: tuple[Option, ...]
    default: str
    measure: str = ""
    first: bool = False
    when: When = None
    group: str = ""
    match: str = ""

    def option(self, key: str) -> Option:
        """Return an option by its key, or raise KeyError."""
        for option in self.options:
            if option.key == key:
                return option
        raise KeyError(key)

    def spec(self) -> dict[str, object]:
        """Return the field as plain data."""
        return {
            "kind": "choice",
            "key": self.key,
            "label": self.label,
            "options": [
                {"key": o.key, "label": o.label, "tag": o.tag, "group": o.group}
                for o in self.options
            ],
            "default": self.default,
            "measure": self.measure,
            "first": self.first,
            "when": _when(self.when),
            "group": self.group,
            "match": self.match,
        }


@dataclass(frozen=True)
class Parts:
    """A list of alike parts, each with the same few entries; `default` rows in declared units."""

    key: str
    label: str
    fields: tuple[Number | Choice, ...]
    most: int
    default: tuple[dict[str, float | str], ...]
    measure: str = ""
    first: bool = True
    when: When = None
    group: str = ""
    example: str = ""
    """For a list that is only our example: what to enter. Nothing is judged by it before that."""

    @property
    def in_inches(self) -> tuple[dict[str, float | str], ...]:
        """The default rows of an inch shop, each number in that shop's unit."""
        numbers = {field.key: field for field in self.fields if isinstance(field, Number)}

        def value(key: str, given: float | str) -> float | str:
            inch = numbers[key].in_inches if key in numbers else None
            if inch is None:
                return given
            return numbers[key].in_unit(float(given), inch.unit, inch.step)

        return tuple({key: value(key, row[key]) for key in row} for row in self.default)

    @property
    def example_words(self) -> str:
        """Why nothing is judged by the usual list; empty if it may be."""
        return f"Example list. {self.example}" if self.example else ""

    def spec(self) -> dict[str, object]:
        """Return the field as plain data."""
        return {
            "kind": "parts",
            "key": self.key,
            "label": self.label,
            "fields": [field.spec() for field in self.fields],
            "most": self.most,
            "default": [dict(row) for row in self.default],
            "inch": [dict(row) for row in self.in_inches],
            "measure": self.measure,
            "first": self.first,
            "when": _when(self.when),
            "group": self.group,
            "example": self.example_words,
        }


Field: TypeAlias = Number | Choice | Parts


def in_sight(field: Field, values: Mapping[str, object]) -> bool:
    """Say whether a field is asked for, given the values of all fields beside it."""
    return field.when is None or str(values.get(field.when[0])) in field.when[1]


def _when(when: When) -> dict[str, object] | None:
    """Return a condition as plain data."""
    return None if when is None else {"field": when[0], "is": list(when[1])}
