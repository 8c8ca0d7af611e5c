"""What a calculation may do besides arithmetic, on numbers and on symbols alike.

On numbers (floats or arrays over many set-ups) each function here calculates; NaN is a value that
is not there. On symbols it makes a symbol, which becomes a step of the recipe. A calculation made
of arithmetic and of these functions therefore has two readings of one text: run on arrays it is
the direct calculation, run once on symbols it is the recipe.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real
from calc.solve import root_between
from site_src.tables import recipe
from site_src.tables.compiler import AxisSpec, TableSpec
from site_src.tables.symbols import Operand, Source, Symbol, Trace, as_operand, as_real, trace_of

Floats = NDArray[np.float64]

HAIR = 1e-9
"""Share of a range by which a calculation may pass its end where the recipe keeps to it.

The recipe may never give a number where the calculation has none. Both work the same value out
in another order or from a table, so that one could lie just inside the range and the other just
outside. This is the one place that sees to it: recipes keep to a range strictly, calculations take
a hair more. What is a hair over is calculated at the end itself.
"""

NO_WORDS: Mapping[str, str] = {}


class Refusal(float):
    """A number that is not there, and the words that say why: an outcome of a choice."""

    words: str

    def __new__(cls, words: str) -> Refusal:
        """Return a NaN that brings its words along."""
        refusal = super().__new__(cls, np.nan)
        refusal.words = words
        return refusal


def record(trace: Trace, operation: _Operation, *of: Real, part: str = "") -> Real:
    """Write an operation down; a number that is not there becomes a step that refuses."""
    return as_real(trace.make(operation, *(_operand(trace, each) for each in of), part=part))


def _operand(trace: Trace, value: Real) -> Operand:
    """Return a value as an operand."""
    operand = as_operand(value)
    if isinstance(operand, Symbol) or not np.isnan(operand):
        return operand
    return trace.make(Refuse(value.words if isinstance(value, Refusal) else ""), 1.0)


# --- operations ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Refuse:
    """A number that is not there."""

    words: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return NaN."""
        return np.nan

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return a range that its value is never in."""
        return recipe.Within(name, of[0], None, 0.0, of[0], above=self.words)


@dataclass(frozen=True)
class Range:
    """A value passed on if another one lies within a range."""

    low: float | None
    high: float | None
    below: str
    above: str

    def holds(self, value: Real, hair: float = 0.0) -> NDArray[np.bool_]:
        """Say where a value is within the range, or a hair outside it; NaN is not."""
        low = -np.inf if self.low is None else self.low - hair * self._width
        high = np.inf if self.high is None else self.high + hair * self._width
        return np.asarray((np.asarray(value) >= low) & (np.asarray(value) <= high))

    @property
    def _width(self) -> float:
        """What a hair is a share of."""
        ends = [end for end in (self.low, self.high) if end is not None]
        return ends[1] - ends[0] if len(ends) == 2 else abs(ends[0])

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the value passed on, NaN if it isn't."""
        return values[1] if bool(self.holds(values[0], HAIR)) else np.nan

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        return recipe.Within(name, of[0], self.low, self.high, of[1], self.below, self.above)


@dataclass(frozen=True)
class Choose:
    """One of two values, by which of two numbers is less."""

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the chosen value."""
        a, b, less, other = values
        return np.nan if np.isnan(a) or np.isnan(b) else less if a < b else other

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        return recipe.Choose(name, (of[0], of[1]), of[2], of[3])


@dataclass(frozen=True)
class Extreme:
    """The least or the greatest of several values."""

    op: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the least or greatest; NaN if one of them is."""
        return float((np.min if self.op == "least" else np.max)(values))

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        return recipe.Extreme(name, self.op, tuple(of))


@dataclass(frozen=True)
class Pick:
    """The value that belongs to the option of a choice field; `chosen` in the default set-up."""

    by: str
    options: tuple[str, ...]
    chosen: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the value of the default set-up's option."""
        return dict(zip(self.options, values, strict=True)).get(self.chosen, np.nan)

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        return recipe.Pick(name, self.by, tuple(zip(self.options, of, strict=True)))


@dataclass(frozen=True)
class IfEntered:
    """One value where an optional entry was filled in, another where it was left blank."""

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the value of the default set-up."""
        entry, then, otherwise = values
        return otherwise if np.isnan(entry) else then

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        assert isinstance(of[0], str)
        return recipe.IfEntered(name, of[0], of[1], of[2])


@dataclass(frozen=True)
class Total:
    """A sum over a list of parts of what is worked out for each, or the greatest of it.

    `total` is what it comes to over the default list.
    """

    parts: str
    total: float
    take: str = "sum"

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the sum over the default list."""
        return self.total

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step; the writer fills in the steps inside."""
        return recipe.Over(name, self.parts, (), of[0], self.take)


@dataclass(frozen=True)
class Settled:
    """What rounds came to; `words` say it in a formula, which no round does."""

    words: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return what the last round gave."""
        return values[0]

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return a second name for what the last round gave."""
        return recipe.Product(name, ((of[0], 1.0),))


@dataclass(frozen=True)
class LookUp:
    """A look-up in a table, forward; the operands are the places along its axes."""

    table: TableSpec
    below: tuple[tuple[str, str], ...]
    above: tuple[tuple[str, str], ...]

    def magnitude(self, values: Sequence[float]) -> float:
        """Calculate at the operands' magnitudes."""
        return float(_calculate(self.table, values)[0])

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        return recipe.Look(name, self.table.name, tuple(of), self.below, self.above)


@dataclass(frozen=True)
class LookBack:
    """A look-up of the place along one axis at which a table takes its first operand's value."""

    table: TableSpec
    along: str
    below: tuple[tuple[str, str], ...]
    above: tuple[tuple[str, str], ...]

    def magnitude(self, values: Sequence[float]) -> float:
        """Solve at the operands' magnitudes."""
        return float(_solve(self.table, self.along, values[0], values[1:])[0])

    def step(self, name: str, of: Sequence[Source]) -> recipe.Step:
        """Return the step."""
        below, above = dict(self.below), dict(self.above)
        return recipe.Inverse(
            name,
            self.table.name,
            self.along,
            of[0],
            tuple(of[1:]),
            below=below.pop(self.along, ""),
            above=above.pop(self.along, ""),
            below_at=tuple(below.items()),
            above_at=tuple(above.items()),
        )


_Operation = (
    Refuse | Range | Choose | Extreme | Pick | IfEntered | Total | Settled | LookUp | LookBack
)


# --- what a calculation calls ----------------------------------------------------------------


def within(
    value: Real,
    low: float | None,
    high: float | None,
    *,
    below: str = "",
    above: str = "",
    gives: Real | None = None,
    hair: float = HAIR,
) -> Real:
    """Return a worked-out value if it lies within a range; with words for either side.

    Args:
        value [1]: what is judged.
        low [1]: least value allowed; None for any.
        high [1]: greatest value allowed; None for any.
        below [1]: what it means if the value is less.
        above [1]: what it means if the value is more.
        gives [1]: what is passed on in place of the value itself.
        hair [1]: share of the range that the calculation may pass the ends by. Larger than usual
            where the value comes from a table, and as large as that table's error.

    >>> within(np.array([1.0, 3.0]), 0.0, 2.0).tolist()
    [1.0, nan]
    """
    allowed = Range(low, high, below, above)
    passed = value if gives is None else gives
    if trace := trace_of(value, gives):
        return record(trace, allowed, value, passed)
    if gives is None:
        passed = np.clip(value, low, high)
    return np.where(allowed.holds(value, hair), passed, np.nan)


def choose(a: Real, b: Real, less: Real, otherwise: Real) -> Real:
    """Return one value where a is less than b, another where it is not.

    >>> choose(np.array([1.0, 2.0, np.nan]), 2.0, 10.0, 20.0).tolist()
    [10.0, 20.0, nan]
    """
    if trace := trace_of(a, b, less, otherwise):
        return record(trace, Choose(), a, b, less, otherwise)
    chosen = np.where(np.less(a, b), less, otherwise)
    return np.where(np.isnan(a) | np.isnan(b), np.nan, chosen)


def first_reaching(least_wanted: Real, listed: Sequence[tuple[Real, Real]], beyond: Real) -> Real:
    """Return what belongs to the first size of a list that is not under what is wanted.

    Args:
        least_wanted [1]: what a size must reach.
        listed [1]: sizes in the order in which they are tried, each with what belongs to it.
        beyond [1]: what is returned if none reaches.

    >>> first_reaching(np.array([4.0, 5.1]), [(5.0, 5.0), (7.5, 7.5)], np.nan).tolist()
    [5.0, 7.5]
    """
    found = beyond
    for size, gives in reversed(listed):
        found = choose(size, least_wanted, found, gives)
    return found


def first_within(most_allowed: Real, listed: Sequence[tuple[Real, Real]], beyond: Real) -> Real:
    """Return what belongs to the first size of a list that is not over what is allowed.

    Args:
        most_allowed [1]: what a size must not pass.
        listed [1]: sizes in the order in which they are tried, each with what belongs to it.
        beyond [1]: what is returned if all pass it.

    >>> first_within(np.array([9.9, 5.0]), [(7.5, 7.5), (5.0, 5.0)], np.nan).tolist()
    [7.5, 5.0]
    """
    found = beyond
    for size, gives in reversed(listed):
        found = choose(most_allowed, size, found, gives)
    return found


def least(*values: Real) -> Real:
    """Return the least of several values.

    >>> float(least(2.0, 1.0))
    1.0
    """
    if trace := trace_of(*values):
        return record(trace, Extreme("least"), *values)
    return reduce(np.minimum, values)


def greatest(*values: Real) -> Real:
    """Return the greatest of several values.

    >>> float(greatest(2.0, 1.0))
    2.0
    """
    if trace := trace_of(*values):
        return record(trace, Extreme("greatest"), *values)
    return reduce(np.maximum, values)


ROUNDS_MOST, SETTLED = 100, 1e-11
"""After how many rounds a calculation gives up, and the share of a value that no longer changes."""


def settled(once: Callable[[Real], Real], start: Real, rounds: int, words: str) -> Real:
    """Return the value that a calculation gives back when it is given it.

    A recipe does a fixed number of rounds. The calculation goes on until nothing changes, so that
    the proof of a lookup measures what the recipe leaves, as it does the error of a table.

    Args:
        once [1]: takes a value and gives the next one, much nearer to the end.
        start [1]: where to begin.
        rounds [1]: how many a recipe does.
        words [1]: what it is, in a formula.

    >>> round(float(settled(lambda x: (x + 2.0 / x) / 2.0, 1.0, 4, "root of 2")), 12)
    1.414213562373
    """
    value = start
    for _ in range(rounds):
        value = once(value)
    if trace := trace_of(value):
        return record(trace, Settled(words), value)
    for _ in range(ROUNDS_MOST):
        last, value = value, once(value)
        moving = np.abs(value - last) > SETTLED * np.abs(value)
        if not np.any(moving):
            return value
    return np.where(moving, np.nan, value)


@dataclass(frozen=True)
class Tabulated:
    """A calculation that a recipe looks up in a table: called like a function, on either reading.

    Where a place lies outside its axis there is no value; `below` and `above` say by axis what
    that means.
    """

    table: TableSpec

    def __call__(
        self,
        *places: Real,
        below: Mapping[str, str] = NO_WORDS,
        above: Mapping[str, str] = NO_WORDS,
    ) -> Real:
        """Return the calculation's value at places along the axes, in their order."""
        if trace := trace_of(*places):
            sides = tuple(below.items()), tuple(above.items())
            return record(trace, LookUp(self.table, *sides), *places)
        return _calculate(self.table, places)

    def where(
        self,
        along: str,
        value: Real,
        *places: Real,
        below: Mapping[str, str] = NO_WORDS,
        above: Mapping[str, str] = NO_WORDS,
    ) -> Real:
        """Return where along one axis the calculation takes a value.

        The calculation must rise or fall throughout along that axis. `places` are those along the
        other axes, in their order. Along the axis itself, `below` is for a place before its start
        and `above` for one after its end.
        """
        if trace := trace_of(value, *places):
            sides = tuple(below.items()), tuple(above.items())
            return record(trace, LookBack(self.table, along, *sides), value, *places)
        return _solve(self.table, along, value, places)


def tabulated(
    name: str,
    of: Callable[..., Real],
    *axes: AxisSpec,
    tolerance: float,
    relative: bool = False,
    monotone: bool = False,
    numbers: str = "f8",
    by: tuple[Callable[..., object], ...] = (),
) -> Tabulated:
    """Declare a calculation to be tabulated; see `TableSpec` for what the arguments mean."""
    return Tabulated(TableSpec(name, of, axes, tolerance, relative, monotone, numbers, by))


def _calculate(table: TableSpec, places: Sequence[Real]) -> Floats:
    """Calculate where every place lies on its axis; NaN elsewhere."""
    spread = np.broadcast_arrays(*(np.atleast_1d(np.asarray(p, dtype=float)) for p in places))
    good, inside = _on_axes(table.axes, spread)
    result = np.full(good.shape, np.nan)
    if good.any():
        result[good] = table.of(*inside)
    return result


def _solve(table: TableSpec, along: str, value: Real, places: Sequence[Real]) -> Floats:
    """Find the place along an axis by the calculation itself; NaN where there is none."""
    number = [axis.key for axis in table.axes].index(along)
    axis = table.axes[number]
    others = (*table.axes[:number], *table.axes[number + 1 :])
    spread = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(each, dtype=float)) for each in (value, *places))
    )
    good, inside = _on_axes(others, spread[1:], ~np.isnan(spread[0]))
    result = np.full(good.shape, np.nan)
    if good.any():

        def at(place: Real) -> Real:
            found: Real = table.of(*inside[:number], place, *inside[number:])
            return found

        result[good] = root_between(at, axis.knots[0], axis.knots[-1], spread[0][good])
    return result


def _on_axes(
    axes: Sequence[AxisSpec], spread: Sequence[Floats], good: NDArray[np.bool_] | None = None
) -> tuple[NDArray[np.bool_], list[Floats]]:
    """Say where all places lie on their axes, and return those, put back by a hair if need be."""
    ranges = [Range(axis.knots[0], axis.knots[-1], "", "") for axis in axes]
    held = [r.holds(p, HAIR) for r, p in zip(ranges, spread, strict=True)]
    if good is not None:
        held.append(good)
    on_all = np.logical_and.reduce(held)
    inside = [np.clip(p[on_all], r.low, r.high) for r, p in zip(ranges, spread, strict=True)]
    return on_all, inside
