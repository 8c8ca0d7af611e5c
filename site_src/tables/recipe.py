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

Wherever a step names a symbol that it reads, a number may take the symbol's place.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from site_src.tables.grid import Axis, Grid

Floats: TypeAlias = NDArray[np.float64]
Codes: TypeAlias = NDArray[np.int32]
Source: TypeAlias = str | float
"""What a step reads: a symbol by its name, or a number."""

Running: TypeAlias = Floats | float
"""A product or a sum on its way: one number for all set-ups, until it has met a column."""


@dataclass(frozen=True)
class Fault:
    """Why a value can't be had.

    `kind` is "blank" (an optional entry was left empty), "missing" (one that is needed was),
    "range" (an entry outside its field's range), "choice" (not one of a list), "below"/"above" (a
    worked-out value left its range), "undefined" (a division by zero or a root of a negative) or
    "example" (an answer that isn't judged, since nobody entered a limit of his own). `symbol` is
    the field or step.
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
    of: tuple[tuple[Source, float], ...]
    times: float = 1.0

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": "product", "as": self.name, "of": _pairs(self.of), "times": self.times}

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        columns = [run.column(symbol) for symbol, _ in self.of]
        value: Running = self.times
        for column, (_, power) in zip(columns, self.of, strict=True):
            value = _raise(value, column.values, power)
        return run.checked(value, columns, self.name)


def _raise(value: Running, base: Floats, power: float) -> Running:
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
    of: tuple[tuple[Source, float], ...]
    plus: float = 0.0

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {"op": "sum", "as": self.name, "of": _pairs(self.of), "plus": self.plus}

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        columns = [run.column(symbol) for symbol, _ in self.of]
        value: Running = self.plus
        for column, (_, coefficient) in zip(columns, self.of, strict=True):
            value = value + coefficient * column.values
        return run.checked(value, columns, self.name)


@dataclass(frozen=True)
class Look:
    """A forward look-up: the table's value at the named symbols, one for each axis in order.

    An entry of `at` may also be a number. `below` and `above` say, per axis, what it means when
    the value leaves the table on that side.
    """

    name: str
    table: str
    at: tuple[Source, ...]
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
        return run.checked(grid.value(places), [fault], self.name)


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
    value: Source
    at: tuple[Source, ...] = ()
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
        found = run.checked(place, [left, target], self.name)
        fault = found.fault.copy()
        for code, kind, say in ((-1, "below", self.below), (1, "above", self.above)):
            out = (fault == 0) & (side == code)
            if out.any():
                fault[out] = run.faults.code(Fault(kind, f"{self.name}:{self.along}", say))
        return run.faulty(found.values, fault)


@dataclass(frozen=True)
class Extreme:
    """The least or the greatest of several symbols or numbers; `op` is "least" or "greatest"."""

    name: str
    op: str
    of: tuple[Source, ...]

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
        return run.checked(value, columns, self.name)


@dataclass(frozen=True)
class Pick:
    """A choice from a list: the symbol or number that belongs to a choice field's option."""

    name: str
    by: str
    options: tuple[tuple[str, Source], ...]

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
        return run.faulty(value, fault)


@dataclass(frozen=True)
class Within:
    """A value passed on if another one lies within a range; either end may be open.

    `of` is what is judged, `gives` what is passed on, and `below` and `above` say what it means
    when `of` is less than `low` or more than `high`.
    """

    name: str
    of: Source
    low: float | None
    high: float | None
    gives: Source
    below: str = ""
    above: str = ""

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        spec: dict[str, object] = {"op": "within", "as": self.name, "of": self.of}
        spec |= {"low": self.low, "high": self.high, "gives": self.gives}
        return spec | {"below": self.below, "above": self.above}

    def run(self, run: Run) -> Column:
        """Evaluate the step."""
        judged, passed = run.column(self.of), run.column(self.gives)
        result = run.checked(passed.values, [passed, judged], self.name)
        fault = result.fault.copy()
        for kind, end, say in (("below", self.low, self.below), ("above", self.high, self.above)):
            if end is not None:
                past = judged.values < end if kind == "below" else judged.values > end
                out = (fault == 0) & past
                if out.any():
                    fault[out] = run.faults.code(Fault(kind, self.name, say))
        return run.faulty(result.values, fault)


@dataclass(frozen=True)
class Choose:
    """`less` where the first of `of` is less than the second, `otherwise` where it is not."""

    name: str
    of: tuple[Source, Source]
    less: Source
    otherwise: Source

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        spec: dict[str, object] = {"op": "choose", "as": self.name, "of": list(self.of)}
        return spec | {"less": self.less, "otherwise": self.otherwise}

    def run(self, run: Run) -> Column:
        """Evaluate the step; only the chosen value's fault counts."""
        a, b = (run.column(each) for each in self.of)
        less, otherwise = run.column(self.less), run.column(self.otherwise)
        first = a.values < b.values
        chosen = Column(
            np.where(first, less.values, otherwise.values),
            np.where(first, less.fault, otherwise.fault),
        )
        return run.checked(chosen.values, [a, b, chosen], self.name)


@dataclass(frozen=True)
class IfEntered:
    """`then` where an optional entry was filled in, `otherwise` where it was left blank."""

    name: str
    by: str
    then: Source
    otherwise: Source

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        spec: dict[str, object] = {"op": "if_entered", "as": self.name, "by": self.by}
        return spec | {"then": self.then, "otherwise": self.otherwise}

    def run(self, run: Run) -> Column:
        """Evaluate the step; an entry that can't be used is a fault whichever value it chooses."""
        entry = run.column(self.by)
        then, otherwise = run.column(self.then), run.column(self.otherwise)
        blank = np.isin(entry.fault, run.blank_codes())
        unusable = np.where(blank, 0, entry.fault)
        chosen = np.where(blank, otherwise.fault, then.fault)
        return run.faulty(
            np.where(blank, otherwise.values, then.values),
            np.where(unusable == 0, chosen, unusable),
        )


@dataclass(frozen=True)
class Rows:
    """A list of parts: run `steps` for each, and keep their symbols beside the part's own entries.

    What several sums over one list need, and what depends on its rows alone, is worked out once.
    The step's own symbol is the number of rows.
    """

    name: str
    parts: str
    steps: tuple[Step, ...]

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        steps = [step.spec() for step in self.steps]
        return {"op": "rows", "as": self.name, "parts": self.parts, "steps": steps}

    def run(self, run: Run) -> Column:
        """Evaluate the steps for all parts at once, and give each part its own."""
        parts = run.parts[self.parts]
        if parts:
            inner = run.side_by_side(parts, reads(self))
            for step in self.steps:
                inner.symbols[step.name] = step.run(inner)
                column = inner.symbols[step.name]
                for part, own in zip(parts, run.apart(inner, column), strict=True):
                    part.symbols[step.name] = own
        return run.column(float(len(parts)))


@dataclass(frozen=True)
class Over:
    """A list of parts: run `steps` for each, then add up the symbol `of`, or take its greatest.

    `take` is "sum" or "greatest", which begins from 0 likewise. Inside, a part's own entries are
    symbols; symbols of the whole recipe can be used too.
    """

    name: str
    parts: str
    steps: tuple[Step, ...]
    of: Source
    take: str = "sum"

    def spec(self) -> dict[str, object]:
        """Return the step as plain data."""
        return {
            "op": "over",
            "as": self.name,
            "parts": self.parts,
            "steps": [step.spec() for step in self.steps],
            "of": self.of,
            "take": self.take,
        }

    @cached_property
    def taken(self) -> frozenset[str]:
        """The symbols and choices that its steps take from outside or from a part."""
        return reads(self)

    def run(self, run: Run) -> Column:
        """Evaluate the step for a list of parts, which all set-ups share in length.

        All parts at once, side by side: a step for a few hundred set-ups takes hardly longer than
        for one. The sum is still taken part by part, in their order.
        """
        total = np.zeros(run.size)
        columns: list[Column] = []
        if parts := run.parts[self.parts]:
            inner = run.side_by_side(parts, self.taken)
            for step in self.steps:
                inner.symbols[step.name] = step.run(inner)
            columns = run.apart(inner, inner.column(self.of))
        for column in columns:
            term = column.values
            total = total + term if self.take == "sum" else np.where(total < term, term, total)
        return run.checked(total, columns, self.name)


Step: TypeAlias = (
    Product | Sum | Look | Inverse | Extreme | Pick | Within | Choose | IfEntered | Rows | Over
)


def reads(step: Step) -> frozenset[str]:
    """Return every symbol, choice and list of parts that a step reads.

    >>> sorted(reads(Pick("p", "way", (("one", "a"), ("two", 1.0)))))
    ['a', 'way']
    """
    if isinstance(step, Rows | Over):
        inner = frozenset[str]().union(*(reads(each) for each in step.steps))
        of = frozenset([step.of] if isinstance(step, Over) and isinstance(step.of, str) else ())
        return (inner | of | {step.parts}) - {each.name for each in step.steps}
    sources: tuple[Source, ...]
    if isinstance(step, Product | Sum):
        sources = tuple(source for source, _ in step.of)
    elif isinstance(step, Extreme):
        sources = step.of
    elif isinstance(step, Look):
        sources = step.at
    elif isinstance(step, Inverse):
        sources = (*step.at, step.value)
    elif isinstance(step, Within):
        sources = (step.of, step.gives)
    elif isinstance(step, Choose):
        sources = (*step.of, step.less, step.otherwise)
    elif isinstance(step, IfEntered):
        sources = (step.by, step.then, step.otherwise)
    else:
        sources = (step.by, *(source for _, source in step.options))
    return frozenset(source for source in sources if isinstance(source, str))


def needed(steps: Sequence[Step], wanted: Iterable[str]) -> tuple[tuple[Step, ...], frozenset[str]]:
    """Return the steps that some symbols depend on, in order, and all the symbols they read."""
    symbols = set(wanted)
    kept: list[Step] = []
    for step in reversed(steps):
        if isinstance(step, Rows):
            # Named by what it gives each row.
            inside, _ = needed(step.steps, symbols)
            found: list[Step] = [replace(step, steps=inside)] if inside else []
        else:
            found = [step] if step.name in symbols else []
        for each in found:
            kept.append(each)
            symbols |= reads(each)
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
    good: Codes = field(init=False)
    """The faults of every column that has none: told by identity, they need not be looked at."""
    sound: Column = field(init=False)
    """A column of ones without a fault."""

    def __post_init__(self) -> None:
        """Make what good columns share."""
        self.good = np.zeros(self.size, dtype=np.int32)
        self.good.setflags(write=False)
        self.sound = Column(np.ones(self.size), self.good)

    def side_by_side(self, parts: Sequence[Part], taken: frozenset[str]) -> Run:
        """Return a run inside a list for all of its parts: its set-ups, once for each of them."""
        count = len(parts)
        inner = Run(count * self.size, self.grids, self.faults, {}, self.parts)

        def repeated(column: Column) -> Column:
            good = column.fault is self.good
            fault = inner.good if good else np.concatenate([column.fault] * count)
            return Column(np.concatenate([column.values] * count), fault)

        outside = [key for key in taken & self.symbols.keys() if key not in parts[0].symbols]
        inner.symbols = {key: repeated(self.symbols[key]) for key in outside}
        for key in taken & parts[0].symbols.keys():
            inner.symbols[key] = inner.faulty(
                np.concatenate([part.symbols[key].values for part in parts]),
                np.concatenate([part.symbols[key].fault for part in parts]),
            )
        inner.choices = {
            key: (np.concatenate([options] * count), np.concatenate([fault] * count))
            for key, (options, fault) in self.choices.items()
            if key in taken
        }
        for key in taken & parts[0].choices.keys():
            options, faults = zip(*(part.choices[key] for part in parts), strict=True)
            inner.choices[key] = (np.concatenate(options), np.concatenate(faults))
        return inner

    def apart(self, inner: Run, column: Column) -> list[Column]:
        """Return a column of a run for all parts as one for each of them."""
        values = column.values.reshape(-1, self.size)
        if column.fault is inner.good:
            return [Column(each, self.good) for each in values]
        faults = column.fault.reshape(-1, self.size)
        return [Column(*pair) for pair in zip(values, faults, strict=True)]

    def with_one(self, parts: str, row: int) -> Run:
        """Return the run as it would be if a list had one of its parts alone."""
        alone = Run(self.size, self.grids, self.faults, dict(self.symbols))
        alone.parts = {parts: [self.parts[parts][row]]}
        alone.choices, alone.good = self.choices, self.good
        return alone

    def column(self, symbol: Source) -> Column:
        """Return a symbol's column, or a column of one number."""
        if isinstance(symbol, str):
            return self.symbols[symbol]
        return Column(np.full(self.size, float(symbol)), self.good)

    def choice(self, key: str) -> tuple[NDArray[np.str_], Codes]:
        """Return the options chosen in a choice field, and their faults."""
        return self.choices[key]

    def blank_codes(self) -> list[int]:
        """Return the numbers of the faults that only mean "left empty"."""
        return [n for n, fault in enumerate(self.faults.known, 1) if fault.kind == "blank"]

    def checked(self, value: Running, columns: Sequence[Column], step: str) -> Column:
        """Join the columns' faults, the first one first, and catch values that aren't finite."""
        values = value if isinstance(value, np.ndarray) else np.full(self.size, value)
        code = self.joined(columns)
        finite = np.isfinite(values)
        if not finite.all():
            wild = ~finite & (code == 0)
            if wild.any():
                code = np.where(wild, self.faults.code(Fault("undefined", step)), code)
        return self.faulty(values, code)

    def joined(self, columns: Sequence[Column]) -> Codes:
        """Return for each set-up the first fault that one of the columns has."""
        code = self.good
        for column in columns:
            if column.fault is not self.good:
                code = np.where(code == 0, column.fault, code)
        return code

    def faulty(self, value: Floats, fault: Codes) -> Column:
        """Return a column with faults, if there are any; where there is one, its value is 1."""
        if fault is self.good or not fault.any():
            return Column(value, self.good)
        return Column(np.where(fault == 0, value, 1.0), fault.astype(np.int32))

    def places(
        self,
        at: Sequence[Source],
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
        fault = self.joined(columns)
        for column, axis in zip(columns, axes, strict=True):
            inside = (column.values >= axis.low) & (column.values <= axis.high)
            if inside.all():
                continue
            say = {"below": dict(below), "above": dict(above)}
            for kind, out in (
                ("below", column.values < axis.low),
                ("above", column.values > axis.high),
            ):
                fresh = (fault == 0) & out
                if fresh.any():
                    words = say[kind].get(axis.key, "")
                    code = self.faults.code(Fault(kind, f"{step}:{axis.key}", words))
                    fault = np.where(fresh, code, fault)
        if fault is self.good:
            return [column.values for column in columns], self.sound
        places = [
            np.where(fault == 0, column.values, axis.low)
            for column, axis in zip(columns, axes, strict=True)
        ]
        return places, self.faulty(np.ones(self.size), fault)


def _pairs(pairs: Sequence[tuple[Source, Source]]) -> list[list[Source]]:
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
