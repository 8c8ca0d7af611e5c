"""Grids: a calculation sampled over a few axes, and how a value is read back from one.

An axis is one of three kinds. `linear`: one number a knot; exact where the function is linear in
that argument. `cubic`: a value and a slope a knot (cubic Hermite); for smooth functions. `list`:
one number an entry, for things picked from a list. Where the function has a kink the knot is
given twice, and each side keeps its own slope.

Reading back uses + − × ÷ and comparisons alone. Order, repeated by `static/js/recipe.js`: the
axes are contracted from the last to the first; linear is `a + (b − a)·t`; cubic is
`p₀ + t·(m₀ + t·((3d − 2m₀ − m₁) + t·(m₀ + m₁ − 2d)))` with `d = p₁ − p₀` and slopes times the
interval; the inverse finds its interval by halving the knots and its place by 52 halvings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Ints: TypeAlias = NDArray[np.int64]

HALVINGS = 52
"""Halvings inside an interval: the place is known to 2⁻⁵³ of it, the limit of a double."""


SIDE_BY_SIDE = 1 << 14
"""Numbers that are read at once, at most: so few stay near the processor."""

_NOWHERE: Floats = np.zeros(0)
"""An entry is read as it is: there is nothing between knots."""


@dataclass(frozen=True)
class Axis:
    """One axis: its kind and its knots, ascending; a knot given twice marks a kink."""

    key: str
    kind: str
    knots: tuple[float, ...]

    @property
    def low(self) -> float:
        """First knot."""
        return self.knots[0]

    @property
    def high(self) -> float:
        """Last knot."""
        return self.knots[-1]

    @cached_property
    def places(self) -> Floats:
        """The knots as an array."""
        return np.array(self.knots)

    @property
    def width(self) -> int:
        """How many numbers the axis takes."""
        return 2 * len(self.knots) if self.kind == "cubic" else len(self.knots)


@dataclass(frozen=True)
class Grid:
    """A compiled table: the axes, and the numbers with the last axis running fastest."""

    name: str
    axes: tuple[Axis, ...]
    numbers: Floats

    @cached_property
    def strides(self) -> tuple[int, ...]:
        """Distance in `numbers` between neighbours on each axis."""
        strides = [1]
        for axis in reversed(self.axes[1:]):
            strides.insert(0, strides[0] * axis.width)
        return tuple(strides)

    def value(self, places: Sequence[Floats]) -> Floats:
        """Return the table's values.

        `places` holds one array for each axis, every element within it.
        """
        spots = [_spot(axis, place) for axis, place in zip(self.axes, places, strict=True)]
        return self._contract(0, np.zeros(places[0].shape, dtype=np.int64), spots)

    def _contract(self, number: int, offset: Ints, spots: Sequence[Spot]) -> Floats:
        """Contract the axes from this one on, beginning at an offset into the numbers."""
        if number == len(self.axes):
            numbers: Floats = self.numbers.take(offset)
            return numbers
        stride, spot = self.strides[number], spots[number]
        start = offset + spot.entry * stride
        if spot.ends == 1:
            return self._contract(number + 1, start, spots)
        ends: Floats | list[Floats]
        if spot.ends * start.size <= SIDE_BY_SIDE:
            # At a few places a call costs more than its sums: all ends in one, on a first axis.
            beside = stride * np.arange(spot.ends).reshape(-1, *[1] * start.ndim)
            ends = self._contract(number + 1, start + beside, spots)
        else:
            ends = [self._contract(number + 1, start + n * stride, spots) for n in range(spot.ends)]
        if spot.ends == 2:
            straight: Floats = ends[0] + (ends[1] - ends[0]) * spot.share
            return straight
        return hermite(spot.share, spot.step, *ends)

    def inverse(
        self, along: str, places: Sequence[Floats], target: Floats
    ) -> tuple[Floats, NDArray[np.int8]]:
        """Return where along an axis the table takes a value, and on which side it leaves it.

        The table must be monotone along the axis. `places` are those of the other axes. The side
        is −1 where the place would lie before the axis, 1 where after it, 0 where it is good.
        """
        number = [axis.key for axis in self.axes].index(along)
        axis = self.axes[number]
        others = [each for each in self.axes if each is not axis]
        spots = [_spot(each, place) for each, place in zip(others, places, strict=True)]

        def at_entry(entry: Ints) -> Floats:
            """Return the numbers at one entry of the axis, all other axes contracted."""
            here = [*spots[:number], Spot(entry, 1, _NOWHERE, _NOWHERE), *spots[number:]]
            return self._contract(0, np.zeros(target.shape, dtype=np.int64), here)

        knots = axis.places
        parts = 2 if axis.kind == "cubic" else 1
        low = np.zeros(target.shape, dtype=np.int64)
        high = np.full(target.shape, len(knots) - 1, dtype=np.int64)
        first, last = at_entry(low * parts), at_entry(high * parts)
        rising = last > first
        side = _side(first, last, rising, target)
        for _ in range((len(knots) - 1).bit_length()):
            middle = (low + high) >> 1
            at = at_entry(middle * parts)
            take = np.where(rising, at <= target, at >= target)
            wide = high - low > 1
            low = np.where(wide & take, middle, low)
            high = np.where(wide & ~take, middle, high)
        step = knots[low + 1] - knots[low]
        ends = [at_entry(low * parts + part) for part in range(2 * parts)]
        if parts == 1:
            t = (target - ends[0]) / (ends[1] - ends[0])
        else:
            t = _halve(step, ends, rising, target)
        return knots[low] + step * t, side


@dataclass(frozen=True)
class Spot:
    """Where on an axis: the first entry that is read, how many, and how far between knots."""

    entry: Ints
    ends: int
    share: Floats
    step: Floats


def _spot(axis: Axis, place: Floats) -> Spot:
    """Return where places are on an axis."""
    if axis.kind == "list":
        return Spot(place.astype(np.int64), 1, _NOWHERE, _NOWHERE)
    knots = axis.places
    left = interval(knots, place)
    step = knots[left + 1] - knots[left]
    share = (place - knots[left]) / step
    if axis.kind == "linear":
        return Spot(left, 2, share, step)
    return Spot(2 * left, 4, share, step)


def _side(
    first: Floats, last: Floats, rising: NDArray[np.bool_], target: Floats
) -> NDArray[np.int8]:
    """Return −1, 0 or 1: where a target lies against the two ends of an axis."""
    before = np.where(rising, target < first, target > first)
    after = np.where(rising, target > last, target < last)
    return (after.astype(np.int8) - before.astype(np.int8)).astype(np.int8)


def _halve(
    step: Floats, ends: Sequence[Floats], rising: NDArray[np.bool_], target: Floats
) -> Floats:
    """Find by halving where in its interval a cubic takes a value."""
    low, high = np.zeros(target.shape), np.ones(target.shape)
    for _ in range(HALVINGS):
        middle = (low + high) * 0.5
        at = hermite(middle, step, *ends)
        take = np.where(rising, at <= target, at >= target)
        low, high = np.where(take, middle, low), np.where(take, high, middle)
    return (low + high) * 0.5


def interval(knots: Floats, place: Floats) -> Ints:
    """Return the number of the last knot at or before each place, the last interval included."""
    left: Ints = knots.searchsorted(place, side="right") - 1
    return np.minimum(np.maximum(left, 0), len(knots) - 2)


def hermite(t: Floats, step: Floats, p0: Floats, s0: Floats, p1: Floats, s1: Floats) -> Floats:
    """Return the cubic through two values and two slopes, at a share t of the interval."""
    m0, m1 = s0 * step, s1 * step
    d = p1 - p0
    bend = (3.0 * d - 2.0 * m0) - m1
    twist = (m0 + m1) - 2.0 * d
    return p0 + t * (m0 + t * (bend + t * twist))
