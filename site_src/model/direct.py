"""What the direct calculations of several lookups share, and the limits they share with recipes.

A calculation raises outside its range, a page must not: `where_good` runs it where it may be run
and leaves NaN elsewhere. `Limit` is such a range as both sides need it: a mask for the direct
calculation, and for the recipe a table that falls silent a hair inside it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real
from site_src.model.lookup import Given
from site_src.tables.compiler import TableSpec, linear
from site_src.tables.recipe import Look

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

EDGE = 1e-9
"""How far inside a limit the recipe falls silent, as a share of the limit's width, so that it
never speaks where the calculation doesn't."""


class Entries:
    """What was entered, told apart into numbers and choices."""

    def __init__(self, given: Given) -> None:
        """Keep the entries."""
        self._given = given

    def __getitem__(self, key: str) -> Floats:
        """Return a number field's values, SI; NaN where it was left empty."""
        return np.asarray(self._given[key], dtype=np.float64)

    def chosen(self, key: str) -> NDArray[np.str_]:
        """Return a choice field's options."""
        return np.asarray(self._given[key], dtype=np.str_)

    def picked(self, key: str, options: tuple[tuple[str, float], ...]) -> Floats:
        """Return the number that belongs to each chosen option."""
        chosen = self.chosen(key)
        return np.select([chosen == option for option, _ in options], [n for _, n in options])


def where_good(good: Flags, calculation: Callable[..., Real], *arguments: Real) -> Floats:
    """Run a calculation on the set-ups where it may be run; NaN elsewhere.

    >>> where_good(np.array([True, False]), lambda x: 1.0 / x, np.array([2.0, 0.0])).tolist()
    [0.5, nan]
    """
    result = np.full(good.shape, np.nan)
    if good.any():
        spread = [np.broadcast_to(np.asarray(each), good.shape)[good] for each in arguments]
        result[good] = calculation(*spread)
    return result


def first_entered(*values: Floats) -> Floats:
    """Return the first of several values that is not NaN.

    >>> first_entered(np.array([np.nan, 1.0]), np.array([5.0, 6.0])).tolist()
    [5.0, 1.0]
    """
    found = values[0]
    for value in values[1:]:
        found = np.where(np.isnan(found), value, found)
    return found


def _same(value: Real) -> Real:
    """Return what it is given: a table of it is a range check."""
    return value


@dataclass(frozen=True)
class Limit:
    """A range that a worked-out value must keep to, SI, and what to say where it does not."""

    name: str
    label: str
    low: float
    high: float
    below: str = ""
    above: str = ""

    def holds(self, value: Floats) -> Flags:
        """Say where a value keeps to the range; NaN does not."""
        return np.asarray((value >= self.low) & (value <= self.high))

    def keep(self, value: Floats) -> Floats:
        """Return the values that keep to the range, NaN for the others."""
        return np.where(self.holds(value), value, np.nan)

    @property
    def table(self) -> TableSpec:
        """The range check as a table."""
        hair = EDGE * (self.high - self.low)
        axis = linear("value", self.label, self.low + hair, self.high - hair)
        rounding = 1e-12 * max(abs(self.low), abs(self.high))
        return TableSpec(self.name, _same, (axis,), rounding, numbers="f8")

    def look(self, name: str, value: str) -> Look:
        """Return the step that passes a value on if it keeps to the range."""
        sides = (
            ((("value", self.below),) if self.below else ()),
            ((("value", self.above),) if self.above else ()),
        )
        return Look(name, self.name, (value,), below=sides[0], above=sides[1])
