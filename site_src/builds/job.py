"""A job as its file holds it: what was entered for the truck, makers' figures, maps, holds, runs.

The phone keeps the same (static/js/record/): entries under their keys, those that stand apart under
page and key, numbers as they were written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeAlias

from site_src.lookups import all_lookups, truck
from site_src.model.fields import Field, Number


@dataclass(frozen=True)
class Amount:
    """A number as it was written, its unit, and what it comes to in the declared unit.

    `value` is None where the number was left out on purpose.
    """

    text: str
    unit: str
    value: float | None

    def spec(self) -> dict[str, str]:
        """Return it as the phone keeps it."""
        return {"text": self.text, "unit": self.unit}


Row: TypeAlias = Mapping[str, Amount | str]
Stored: TypeAlias = Amount | str | tuple[Row, ...]
"""A number, the key of an option, or a list of parts."""


@dataclass(frozen=True)
class Figure:
    """What a maker's sheet says: `kind` is one of `sheets.KINDS`.

    `used` is when it was last picked out of several that fit, `changed` when it was last entered.
    """

    kind: str
    name: str
    choices: Mapping[str, str]
    values: Mapping[str, Amount]
    texts: Mapping[str, str]
    source: str
    page: str
    used: str
    changed: str


@dataclass(frozen=True)
class Job:
    """One job. `maps`, `holds` and `runs` are plain data, as the phone keeps them."""

    key: str
    name: str
    note: str
    entries: Mapping[str, Stored]
    figures: tuple[Figure, ...]
    maps: tuple[Mapping[str, Any], ...]
    holds: tuple[Mapping[str, Any], ...]
    runs: tuple[Mapping[str, Any], ...]

    @property
    def address(self) -> str:
        """The last part of its pages' address."""
        return self.key.replace("_", "-")


def name_of(page: str, key: str) -> str:
    """Return the name under which a job keeps a page's entry.

    >>> name_of("boost", "altitude"), name_of("slip", "engine_speed")
    ('altitude', 'slip engine_speed')
    """
    return f"{page} {key}" if key in truck.APART.get(page, ()) else key


@cache
def known_entries() -> Mapping[str, Field]:
    """Return every entry that a job may hold, by its name there.

    What belongs to one bolt or hose alone is a maker's figure and none of these.
    """
    found: dict[str, Field] = {}
    for page, field in _fields():
        if not is_kept(field):
            found.setdefault(name_of(page, field.key), field)
    return found


@cache
def makers_own() -> frozenset[str]:
    """Return the keys of the entries that are makers' figures of one bolt or hose."""
    return frozenset(field.key for _, field in _fields() if is_kept(field))


def is_kept(field: Field) -> bool:
    """Whether an entry is a maker's figure of one bolt or hose."""
    return isinstance(field, Number) and field.kept


def _fields() -> Iterator[tuple[str, Field]]:
    """Go through every page's entries."""
    for each in all_lookups():
        for field in each.fields:
            yield each.key, field
