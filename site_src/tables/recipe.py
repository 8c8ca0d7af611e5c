"""Recipes: short ordered lists of generic steps, evaluated here and on the phone alike.

Every step is made of + − × ÷ √ and comparisons in one stated order, so that IEEE 754 gives the
same bits in Python and in every browser. The evaluator works on columns: one numpy array per
symbol, many set-ups at once. A value that can't be had carries a fault instead, which travels
through the steps that need it and leaves the others alone.

Order of operations, which `static/js/recipe.js` repeats:

- `Product`: start with the constant; factor by factor, multiply (or divide, for a negative power)
  once for each whole power, then by the square root for a half.
- `Sum`: start with the constant; term by term, add coefficient × term.
- look-ups: see `site_src.tables.grid`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from site_src.tables.grid import Axis, Grid

Floats: TypeAlias = NDArray[np.float64]
Codes: TypeAlias = NDArray[np.int32]


@dataclass(frozen=True)
class Fault:
    """Why a value can't be had.

    `kind` is "blank" (an optional entry was left empty), "range" (an entry outside its field's
    range), "choice" (not one of a list), "below"/"above" (a worked-out value left its table) or
    "undefined" (a division by zero or a root of a negative). `symbol` is the field or step.
    """

    kind: str
    symbol: str
    say: str = ""


@dataclass(frozen=True)
class Column:
    """One symbol's values for many set-ups; `fault` is 0 where the value is good."""

    values: Floats
    fault: Codes


@dataclass
class Faults:
    """The faults met in one evaluation, numbered from 1."""

    known: list[Fault] = field(default_factory=list)

    def code(self, fault: Fault) -> int:
        """Return the number of a fault, new or met before."""
        if fault not in self.known:
            self.known.append(fault)
        return self.known.index(fault) + 1


@dataclass(frozen=True)
class Product:
    """`times × Π symbol^power`, powers whole or half.

    >>> Product("area", (("bore", 2.0),), times=0.785).spec()
    {'op': 'product', 'as': 'area', 'of': [['bore', 2.0]], 'times': 0.785}
    """

    name: str
    of: tuple[tuple[str, float], ...]
    times: float = 1.0
    say: str = ""

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        spec: dict[str, object] = {"op": "product", "as": self.name, "of": _pairs(self.of)}
        return spec | {"times": self.times} | ({"say": self.say} if self.say else {})

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        columns = [run.column(symbol) for symbol, _ in self.of]
        value = np.full(run.size, self.times)
        for column, (_, power) in zip(columns, self.of, strict=True):
            value = _raise(value, column.values, power)
        return run.checked(value, columns, Fault("undefined", self.name, self.say))


def _raise(value: Floats, base: Floats, power: float) -> Floats:
    """Multiply a running product by base^power, whole powers first, then a half."""
    whole, half = divmod(abs(power), 1.0)
    factors = [base] * int(whole) + ([np.sqrt(base)] if half else [])
    for factor in factors:
        value = value * factor if power > 0 else value / factor
    return value


@dataclass(frozen=True)
class Sum:
    """`plus + Σ coefficient × symbol`."""

    name: str
    of: tuple[tuple[str, float], ...]
    plus: float = 0.0

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": "sum", "as": self.name, "of": _pairs(self.of), "plus": self.plus}

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        columns = [run.column(symbol) for symbol, _ in self.of]
        value = np.full(run.size, self.plus)
        for column, (_, coefficient) in zip(columns, self.of, strict=True):
            value = value + coefficient * column.values
        return run.checked(value, columns, Fault("undefined", self.name))


@dataclass(frozen=True)
class Look:
    """A forward look-up: the table's value at the named symbols, one for each axis in order.

    An entry of `at` may also be a number. `below` and `above` say, per axis, what it means when
    the value leaves the table on that side.
    """

    name: str
    table: str
    at: tuple[str | float, ...]
    below: tuple[tuple[str, str], ...] = ()
    above: tuple[tuple[str, str], ...] = ()

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        spec: dict[str, object] = {
            "op": "look",
            "as": self.name,
            "table": self.table,
            "at": list(self.at),
        }
        return spec | _sides(self.below, self.above)

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        grid = run.grids[self.table]
        places, fault = run.places(self.at, grid.axes, self.name, self.below, self.above)
        return run.checked(grid.value(places), [fault], Fault("undefined", self.name))


@dataclass(frozen=True)
class Inverse:
    """An inverse look-up: where along one monotone axis the table takes a value.

    `at` names the symbols of the other axes in order (skipping `along`); `below` and `above` say
    what it means when the wanted place lies before the axis begins or after it ends, `below_at`
    and `above_at` what it means when one of the other axes is left.
    """

    name: str
    table: str
    along: str
    value: str | float
    at: tuple[str | float, ...] = ()
    below: str = ""
    above: str = ""
    below_at: tuple[tuple[str, str], ...] = ()
    above_at: tuple[tuple[str, str], ...] = ()

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {
            "op": "inverse",
            "as": self.name,
            "table": self.table,
            "along": self.along,
            "value": self.value,
            "at": list(self.at),
            "below": self.below,
            "above": self.above,
            "at_sides": _sides(self.below_at, self.above_at),
        }

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        grid = run.grids[self.table]
        others = [axis for axis in grid.axes if axis.key != self.along]
        places, left = run.places(self.at, others, self.name, self.below_at, self.above_at)
        target = run.column(self.value)
        place, side = grid.inverse(self.along, places, target.values)
        found = run.checked(place, [left, target], Fault("undefined", self.name))
        fault = found.fault.copy()
        for code, kind, say in ((-1, "below", self.below), (1, "above", self.above)):
            out = (fault == 0) & (side == code)
            if out.any():
                fault[out] = run.faults.code(Fault(kind, f"{self.name}:{self.along}", say))
        return Column(found.values, fault)


@dataclass(frozen=True)
class Extreme:
    """The least or the greatest of several symbols or numbers; `op` is "least" or "greatest"."""

    name: str
    op: str
    of: tuple[str | float, ...]

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": self.op, "as": self.name, "of": list(self.of)}

    def run(self, run: Run) -> Column:
        """Evaluate the step: keep the first, replace it when a later one is strictly better."""
        columns = [run.column(symbol) for symbol in self.of]
        value = columns[0].values
        for column in columns[1:]:
            other = column.values
            better = other < value if self.op == "least" else other > value
            value = np.where(better, other, value)
        return run.checked(value, columns, Fault("undefined", self.name))


def least(name: str, *of: str | float) -> Extreme:
    """Build a step that takes the least of symbols or numbers."""
    return Extreme(name, "least", of)


def greatest(name: str, *of: str | float) -> Extreme:
    """Build a step that takes the greatest of symbols or numbers."""
    return Extreme(name, "greatest", of)


@dataclass(frozen=True)
class Pick:
    """A choice from a list: the symbol or number that belongs to a choice field's option."""

    name: str
    by: str
    options: tuple[tuple[str, str | float], ...]

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": "pick", "as": self.name, "by": self.by, "from": _pairs(self.options)}

    def run(self, run: Run) -> Column:
        """Evaluate the step; an option that isn't listed gives a fault."""
        chosen, blank = run.choice(self.by)
        value = np.ones(run.size)
        fault = np.where(blank != 0, blank, run.faults.code(Fault("choice", self.by)))
        for option, source in self.options:
            mine = (chosen == option) & (blank == 0)
            if mine.any():
                column = run.column(source)
                value = np.where(mine, column.values, value)
                fault = np.where(mine, column.fault, fault)
        return Column(value, fault.astype(np.int32))


@dataclass(frozen=True)
class First:
    """The first of several symbols that was not left blank (or not chosen)."""

    name: str
    of: tuple[str | float, ...]

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": "first", "as": self.name, "of": list(self.of)}

    def run(self, run: Run) -> Column:
        """Evaluate the step; a fault other than a blank is kept, never stepped over."""
        result = run.column(self.of[0])
        for symbol in self.of[1:]:
            blank = np.isin(result.fault, run.blank_codes())
            if blank.any():
                other = run.column(symbol)
                result = Column(
                    np.where(blank, other.values, result.values),
                    np.where(blank, other.fault, result.fault).astype(np.int32),
                )
        return result


@dataclass(frozen=True)
class Over:
    """A sum over a list of parts: run `steps` for each part, add up the symbol `of`.

    Inside, a part's own entries are symbols; symbols of the whole recipe can be used too.
    """

    name: str
    parts: str
    steps: tuple[Step, ...]
    of: str

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {
            "op": "over",
            "as": self.name,
            "parts": self.parts,
            "steps": [step.spec() for step in self.steps],
            "of": self.of,
        }

    def run(self, run: Run) -> Column:
        """Evaluate the step for a list of parts, which all set-ups share in length."""
        total = np.zeros(run.size)
        columns: list[Column] = []
        for part in run.parts[self.parts]:
            inner = Run(run.size, run.grids, run.faults, run.symbols | part.symbols, run.parts)
            inner.choices = run.choices | part.choices
            for step in self.steps:
                inner.symbols[step.name] = step.run(inner)
            columns.append(inner.column(self.of))
            total = total + columns[-1].values
        return run.checked(total, columns, Fault("undefined", self.name))


Step: TypeAlias = Product | Sum | Look | Inverse | Extreme | Pick | First | Over


def renamed(step: Step, name: Callable[[str], str]) -> Step:
    """Return a step with every symbol of the recipe renamed; choices and tables keep theirs.

    >>> renamed(Product("b", (("a", 2.0),)), lambda symbol: f"x.{symbol}")
    Product(name='x.b', of=(('x.a', 2.0),), times=1.0, say='')
    """

    def source(of: str | float) -> str | float:
        return name(of) if isinstance(of, str) else of

    changes: dict[str, object] = {"name": name(step.name)}
    if isinstance(step, Product | Sum):
        changes["of"] = tuple((name(symbol), number) for symbol, number in step.of)
    elif isinstance(step, Extreme | First):
        changes["of"] = tuple(source(each) for each in step.of)
    elif isinstance(step, Look | Inverse):
        changes["at"] = tuple(source(each) for each in step.at)
        if isinstance(step, Inverse):
            changes["value"] = source(step.value)
    elif isinstance(step, Pick):
        changes["options"] = tuple((option, source(each)) for option, each in step.options)
    else:
        raise TypeError(f"{step.name}: a sum over parts can't be chained")
    return replace(step, **changes)  # type: ignore[arg-type]


def reads(step: Step) -> frozenset[str]:
    """Return every symbol, choice and list of parts that a step reads.

    >>> sorted(reads(Pick("p", "way", (("one", "a"), ("two", 1.0)))))
    ['a', 'way']
    """
    if isinstance(step, Product | Sum):
        return frozenset(symbol for symbol, _ in step.of)
    if isinstance(step, Over):
        inner = frozenset[str]().union(*(reads(each) for each in step.steps))
        return (inner | {step.of, step.parts}) - {each.name for each in step.steps}
    sources: tuple[str | float, ...]
    if isinstance(step, Extreme | First):
        sources = step.of
    elif isinstance(step, Look):
        sources = step.at
    elif isinstance(step, Inverse):
        sources = (*step.at, step.value)
    else:
        sources = (step.by, *(source for _, source in step.options))
    return frozenset(source for source in sources if isinstance(source, str))


def needed(steps: Sequence[Step], wanted: Iterable[str]) -> tuple[tuple[Step, ...], frozenset[str]]:
    """Return the steps that some symbols hang on, in order, and all the symbols they read."""
    symbols = set(wanted)
    kept: list[Step] = []
    for step in reversed(steps):
        if step.name in symbols:
            kept.append(step)
            symbols |= reads(step)
    return tuple(reversed(kept)), frozenset(symbols)


@dataclass(frozen=True)
class Part:
    """The symbols and choices of one entry of a list of parts."""

    symbols: dict[str, Column]
    choices: dict[str, tuple[NDArray[np.str_], Codes]]


@dataclass
class Run:
    """One evaluation: how many set-ups, the tables, and every symbol known so far."""

    size: int
    grids: Mapping[str, Grid]
    faults: Faults
    symbols: dict[str, Column]
    parts: dict[str, list[Part]] = field(default_factory=dict)
    choices: dict[str, tuple[NDArray[np.str_], Codes]] = field(default_factory=dict)

    def column(self, symbol: str | float) -> Column:
        """Return a symbol's column, or a column of one number."""
        if isinstance(symbol, str):
            return self.symbols[symbol]
        return Column(np.full(self.size, float(symbol)), np.zeros(self.size, dtype=np.int32))

    def choice(self, key: str) -> tuple[NDArray[np.str_], Codes]:
        """Return the options chosen in a choice field, and their faults."""
        return self.choices[key]

    def blank_codes(self) -> list[int]:
        """Return the numbers of the faults that only mean "left empty"."""
        return [n for n, fault in enumerate(self.faults.known, 1) if fault.kind == "blank"]

    def checked(self, value: Floats, columns: Sequence[Column], fault: Fault) -> Column:
        """Join the columns' faults, the first one first, and catch values that aren't finite."""
        code = np.zeros(self.size, dtype=np.int32)
        for column in columns:
            code = np.where(code == 0, column.fault, code)
        wild = (code == 0) & ~np.isfinite(value)
        if wild.any():
            code = np.where(wild, self.faults.code(fault), code)
        return Column(np.where(code == 0, value, 1.0), code.astype(np.int32))

    def places(
        self,
        at: Sequence[str | float],
        axes: Sequence[Axis],
        step: str,
        below: Sequence[tuple[str, str]],
        above: Sequence[tuple[str, str]],
    ) -> tuple[list[Floats], Column]:
        """Return where to look up, and a column that carries the faults met on the way.

        Faults that the symbols bring along come first, then values outside an axis, axis by axis.
        A place with a fault is put at its axis's start, so that it can be looked up.
        """
        columns = [self.column(symbol) for symbol in at]
        fault = self.checked(np.ones(self.size), columns, Fault("undefined", step)).fault
        for column, axis in zip(columns, axes, strict=True):
            for kind, out, say in (
                ("below", column.values < axis.low, dict(below)),
                ("above", column.values > axis.high, dict(above)),
            ):
                fresh = (fault == 0) & out
                if fresh.any():
                    words = say.get(axis.key, "")
                    fault[fresh] = self.faults.code(Fault(kind, f"{step}:{axis.key}", words))
        places = [
            np.where(fault == 0, column.values, axis.low)
            for column, axis in zip(columns, axes, strict=True)
        ]
        return places, Column(np.ones(self.size), fault)


def _pairs(pairs: Sequence[tuple[str, str | float]]) -> list[list[str | float]]:
    """Return pairs as lists, as JSON has them."""
    return [list(pair) for pair in pairs]


def _sides(
    below: tuple[tuple[str, str], ...], above: tuple[tuple[str, str], ...]
) -> dict[str, object]:
    """Return the words for leaving a table, where there are any."""
    sides: dict[str, object] = {}
    if below:
        sides["below"] = dict(below)
    if above:
        sides["above"] = dict(above)
    return sides
