"""Fields: the things a person enters on a lookup page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass
from typing import TypeAlias

from site_src.model.quantities import Quantity, Unit, quantity

When: TypeAlias = tuple[str, tuple[str, ...]] | None
"""Shown only while a choice field has one of these options; always, if None.

A field's `group` is the heading under which it is folded, where a page has many."""


@dataclass(frozen=True)
class Scale:
    """What a number is read on: its quantity, declared unit, range, usual value and step.

    `span`, `default`, `step` and `stock` are in the declared unit, and so are the values in links
    and in plain dicts. A `default` of None makes the entry optional. `stock` are the values that
    exist (hose bores, sizes of injectors); the stepper walks them.
    """

    of: str
    unit: str
    span: tuple[float, float]
    default: float | None
    step: float
    stock: tuple[float, ...] = ()


@dataclass(frozen=True)
class Shelf:
    """Where a number is a pulley of the shop's, which keeps a list of its own on the phone.

    Until it does, the number's `stock` and `inch` are examples of ours; the second, in inches, is
    for an entry in inches. `kind` is the choice that says which diameter is entered, and `lacks`
    what each of its options lacks of the pitch diameter, in the declared unit: a pulley kept as the
    one serves where another is asked.
    """

    kind: str
    lacks: Mapping[str, float]
    inch: tuple[float, ...]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {"kind": self.kind, "lacks": dict(self.lacks), "inch": list(self.inch)}


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
