"""Symbols: numbers that remember how they were made.

A calculation that is run on symbols writes itself down. `+ − × ÷` and whole or half powers of a
symbol make a new symbol, and so do the few functions of `site_src.tables.trace`. Everything else
that Python could do with a number, a symbol refuses with a `TraceError`: a comparison, a branch or
a function of numpy would follow the one set-up at hand and not all set-ups.

A symbol carries the magnitude that it has in the default set-up, as an array of one, so that the
range checks in `calc` can judge it. Where the default set-up leaves it open, that is NaN.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NoReturn, Protocol, TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real
from site_src.tables.recipe import Step

Operand: TypeAlias = "Symbol | float"
Source: TypeAlias = str | float


class TraceError(TypeError):
    """A calculation does something with a symbol that a recipe has no step for."""


class Operation(Protocol):
    """What was done to the operands of a symbol: a frozen dataclass, one for each kind of step."""

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the outcome for the operands' magnitudes."""

    def step(self, name: str, of: Sequence[Source]) -> Step:
        """Return the recipe's step, its operands named."""


@dataclass(frozen=True)
class Entry:
    """A number that a person enters."""

    key: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the magnitude that it was made with."""
        return values[0]

    def step(self, name: str, of: Sequence[Source]) -> NoReturn:
        """Refuse: entries are the recipe's first symbols and need no step."""
        raise TraceError(f"the entry {self.key} is no step")


_SIGNS: dict[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
}


@dataclass(frozen=True)
class Arithmetic:
    """`+ − × ÷` of two operands; written down as a sum or a product, with its neighbours."""

    sign: str

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the outcome; a division by nothing has none."""
        left, right = values
        if self.sign == "/" and right == 0.0:
            return np.nan
        return _SIGNS[self.sign](left, right)

    def step(self, name: str, of: Sequence[Source]) -> NoReturn:
        """Refuse: the writer joins arithmetic to sums and products itself."""
        raise TraceError(f"{name} is written down as part of a sum or a product")


@dataclass(frozen=True)
class Power:
    """A whole or half power of one operand; written down as a product."""

    exponent: float

    def magnitude(self, values: Sequence[float]) -> float:
        """Return the outcome; NaN where there is none."""
        if values[0] < 0.0 and self.exponent % 1.0:
            return np.nan
        if values[0] == 0.0 and self.exponent < 0.0:
            return np.nan
        return float(values[0] ** self.exponent)

    def step(self, name: str, of: Sequence[Source]) -> NoReturn:
        """Refuse, as `Arithmetic` does."""
        raise TraceError(f"{name} is written down as part of a product")


@dataclass(eq=False, repr=False)
class Symbol:
    """One number of a calculation that is being written down.

    `part` names the list of parts inside whose sum the symbol was made; empty outside of any.
    """

    trace: Trace
    number: int
    operation: Operation
    of: tuple[Operand, ...]
    value: float
    part: str

    def __repr__(self) -> str:
        return f"<symbol {self.number}: {self.operation}>"

    @property
    def magnitude(self) -> NDArray[np.float64]:
        """What it is in the default set-up, as an array of one; NaN where that leaves it open."""
        return np.array([self.value])

    def __add__(self, other: Operand) -> Symbol:
        return self.trace.make(Arithmetic("+"), self, other)

    def __radd__(self, other: float) -> Symbol:
        return self.trace.make(Arithmetic("+"), other, self)

    def __sub__(self, other: Operand) -> Symbol:
        return self.trace.make(Arithmetic("-"), self, other)

    def __rsub__(self, other: float) -> Symbol:
        return self.trace.make(Arithmetic("-"), other, self)

    def __mul__(self, other: Operand) -> Symbol:
        return self.trace.make(Arithmetic("*"), self, other)

    def __rmul__(self, other: float) -> Symbol:
        return self.trace.make(Arithmetic("*"), other, self)

    def __truediv__(self, other: Operand) -> Symbol:
        return self.trace.make(Arithmetic("/"), self, other)

    def __rtruediv__(self, other: float) -> Symbol:
        return self.trace.make(Arithmetic("/"), other, self)

    def __neg__(self) -> Symbol:
        return self.trace.make(Arithmetic("*"), -1.0, self)

    def __pow__(self, exponent: float) -> Symbol:
        if isinstance(exponent, Symbol) or (2.0 * exponent) % 1.0 or not exponent:
            _refuse(f"the power {exponent}", "only whole and half powers need no table")
        return self.trace.make(Power(float(exponent)), self)

    # --- what numpy and Python would do with a number ------------------------------------------

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *of: Operand, **_: object) -> Symbol:
        if method != "__call__" or ufunc not in _ARITHMETIC:
            _refuse(f"numpy.{ufunc.__name__}", _WAY_OUT)
        return _ARITHMETIC[ufunc](*(_plain(each) for each in of))

    def __array_function__(self, function: Callable[..., object], *_: object) -> NoReturn:
        _refuse(f"numpy.{function.__name__}", _WAY_OUT)

    def __array__(self, *_: object, **__: object) -> NoReturn:
        _refuse("turning it into an array", _WAY_OUT)

    def __bool__(self) -> NoReturn:  # noqa: PLE0304 - it must not be one
        _refuse("a branch", _WAY_OUT)

    def __float__(self) -> NoReturn:
        _refuse("turning it into a float", _WAY_OUT)

    def __lt__(self, other: object) -> NoReturn:
        _refuse("a comparison", _WAY_OUT)

    __le__ = __gt__ = __ge__ = __eq__ = __ne__ = __lt__

    def __hash__(self) -> int:
        return id(self)


_WAY_OUT = (
    "tabulate the function, or use least, greatest, within, choose or an entry's pick instead"
)

_ARITHMETIC: dict[np.ufunc, Callable[..., Symbol]] = {
    np.add: operator.add,
    np.subtract: operator.sub,
    np.multiply: operator.mul,
    np.divide: operator.truediv,
    np.negative: operator.neg,
    np.sqrt: lambda of: of**0.5,
}
"""numpy's arithmetic, which a number of numpy on the left calls in place of the symbol's own."""


def _plain(operand: Operand) -> Operand:
    """Return a number of numpy's as a plain one."""
    return operand if isinstance(operand, Symbol) else float(np.asarray(operand).item())


def _refuse(what: str, way_out: str) -> NoReturn:
    """Stop the trace, saying what can't be written down and what to do."""
    raise TraceError(f"{what} of a symbol can't be written down as a step: {way_out}")


@dataclass
class Trace:
    """One calculation while it is being written down; the same operation is kept once.

    `origins` are symbols that another page's calculation gave, with whatever describes them.
    """

    symbols: list[Symbol] = field(default_factory=list)
    origins: dict[Symbol, object] = field(default_factory=dict)
    _known: dict[object, Symbol] = field(default_factory=dict)

    def entry(self, key: str, magnitude: float, part: str = "") -> Symbol:
        """Return the symbol of a number that is entered; of a list's part, if one is named."""
        return self._once((key, part), Entry(key), (), [magnitude], part)

    def make(self, operation: Operation, *of: Operand, part: str = "") -> Symbol:
        """Return the symbol of an operation; in a part of a list, if that is named."""
        operands = tuple(_plain(each) for each in of)
        symbols = [each for each in operands if isinstance(each, Symbol)]
        inside = {each for each in (part, *(symbol.part for symbol in symbols)) if each}
        if len(inside) > 1:
            raise TraceError(f"parts of two lists are mixed: {', '.join(sorted(inside))}")
        values = [each.value if isinstance(each, Symbol) else each for each in operands]
        key = (operation, part, tuple(map(_identity, operands)))
        return self._once(key, operation, operands, values, "".join(inside))

    def close(self, operation: Operation, body: Operand) -> Symbol:
        """Return the symbol of a sum over a list, whose body was made for each of its parts."""
        values = [body.value if isinstance(body, Symbol) else body]
        key = (operation, _identity(body))
        return self._once(key, operation, (body,), values, "")

    def came_from(self, value: Real, origin: object) -> None:
        """Keep where a value is from, unless it is entered or has an origin already."""
        symbol = cast(object, value)
        if isinstance(symbol, Symbol) and not isinstance(symbol.operation, Entry):
            self.origins.setdefault(symbol, origin)

    def _once(
        self,
        key: object,
        operation: Operation,
        of: tuple[Operand, ...],
        values: Sequence[float],
        part: str,
    ) -> Symbol:
        """Return the symbol known under a key, or make it."""
        if key not in self._known:
            magnitude = operation.magnitude(values)
            symbol = Symbol(self, len(self.symbols), operation, of, magnitude, part)
            self.symbols.append(symbol)
            self._known[key] = symbol
        return self._known[key]


def _identity(operand: Operand) -> object:
    """Return what tells an operand from others; a number is told apart from a symbol's identity."""
    return id(operand) if isinstance(operand, Symbol) else ("=", operand)


def trace_of(*values: object) -> Trace | None:
    """Return the trace that any of these values is a symbol of; None if all are numbers."""
    return next((value.trace for value in values if isinstance(value, Symbol)), None)


def as_real(symbol: Symbol) -> Real:
    """Pass a symbol off as a number.

    Calculations are typed for numbers, and a symbol behaves as one or raises: this one cast, and
    `as_operand`, is where the type checker is told so.
    """
    return cast(Real, symbol)


def as_operand(value: Real) -> Operand:
    """Return what a calculation was given as a symbol or a plain number."""
    return _plain(cast(Operand, value))
