"""Writing a traced calculation down: symbols become the named steps of a recipe.

A chain of `+ −` becomes one sum and a chain of `× ÷` one product, as far as it was written from
left to right and what lies between is used for nothing else; so the recipe does the operations of
the written expression in their written order, and its bits are those of the expression.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from site_src.tables import recipe
from site_src.tables.compiler import TableSpec
from site_src.tables.recipe import Product, Step, Sum
from site_src.tables.symbols import (
    Arithmetic,
    Entry,
    Operand,
    Power,
    Source,
    Symbol,
    TraceError,
)
from site_src.tables.trace import LookBack, LookUp, Total

Factor = tuple[Operand, float]
"""A factor of a product and its power, or a term of a sum and its coefficient."""


@dataclass(frozen=True)
class Written:
    """A calculation written down: its steps, the tables it looks things up in, every name."""

    steps: tuple[Step, ...]
    tables: tuple[TableSpec, ...]
    values: Mapping[str, Operand]
    """What was asked for, by its name."""
    names: Mapping[Symbol, str]
    """What the symbols that are entries or steps are called."""

    @property
    def asked(self) -> frozenset[str]:
        """Everything that the steps read: entries, choices and lists of parts among it."""
        return frozenset[str]().union(*(recipe.reads(step) for step in self.steps))


def write_down(named: Mapping[str, Operand]) -> Written:
    """Return the recipe that works out some named values, in the order they were made.

    Raises:
        TraceError: a part's value is used outside the sum over its list.
    """
    return _Writer(named).written()


class _Writer:
    """Gathers what is needed, names it, and writes it in order."""

    def __init__(self, named: Mapping[str, Operand]) -> None:
        """Find all that the named values need, and how often each symbol is used."""
        self.named = named
        symbols = [each for each in named.values() if isinstance(each, Symbol)]
        self.uses = Counter(symbols)
        self.needed: dict[int, Symbol] = {}
        while symbols:
            symbol = symbols.pop()
            if symbol.number not in self.needed:
                self.needed[symbol.number] = symbol
                operands = [each for each in symbol.of if isinstance(each, Symbol)]
                self.uses.update(operands)
                symbols.extend(operands)
        self.names: dict[Symbol, str] = {}
        self.aliases: dict[str, Operand] = {}
        self._name()

    def written(self) -> Written:
        """Return everything."""
        for name, value in self.named.items():
            if isinstance(value, Symbol) and value.part:
                raise TraceError(f"{name} is worked out for a part of {value.part}: sum it up")
        in_order = [self.needed[number] for number in sorted(self.needed)]
        steps = [self._step(s) for s in in_order if not s.part and self._is_step(s)]
        steps = [*self._rows(), *steps]
        aliases = [_alias(name, self._source(of)) for name, of in self.aliases.items()]
        operations = [symbol.operation for symbol in in_order]
        looked_up = [o.table for o in operations if isinstance(o, LookUp | LookBack)]
        return Written(
            (*steps, *aliases),
            tuple({table.name: table for table in looked_up}.values()),
            self.named,
            self.names,
        )

    # --- names ---------------------------------------------------------------------------------

    def _name(self) -> None:
        """Name entries by their keys, values as asked, all else after its table or by number."""
        for symbol in self.needed.values():
            if isinstance(symbol.operation, Entry):
                self.names[symbol] = symbol.operation.key
        for name, value in self.named.items():
            if isinstance(value, Symbol) and value not in self.names:
                self.names[value] = name
            elif not (isinstance(value, Symbol) and self.names[value] == name):
                self.aliases[name] = value
        taken = {*self.names.values(), *self.aliases}
        for number in sorted(self.needed):
            symbol = self.needed[number]
            if symbol not in self.names and self._is_step(symbol):
                stem = "row" if symbol in self._shared else _stem(symbol)
                self.names[symbol] = _free(stem, taken)
                taken.add(self.names[symbol])

    def _is_step(self, symbol: Symbol) -> bool:
        """Say whether a symbol becomes a step, rather than a link in a chain of arithmetic."""
        if isinstance(symbol.operation, Entry):
            return False
        return symbol not in self._fused

    @cached_property
    def _fused(self) -> frozenset[Symbol]:
        """The symbols that are written down inside another one's sum or product."""
        keep = {value for value in self.named.values() if isinstance(value, Symbol)}
        keep |= {symbol for symbol in self.needed.values() if symbol in symbol.trace.origins}
        fused: set[Symbol] = set()
        terms: set[Symbol] = set()
        for number in sorted(self.needed, reverse=True):
            symbol = self.needed[number]
            # A term with its coefficient has no room for what its own operand is made of.
            joined = () if symbol in terms else _joined(symbol)
            inside = {each for each in joined if self.uses[each] == 1 and each not in keep}
            fused |= inside
            terms |= {each for each in inside if _is_sum(symbol) and not _is_sum(each)}
        return frozenset(fused)

    @cached_property
    def _shared(self) -> frozenset[Symbol]:
        """What several sums over a list need, and what depends on its rows alone."""
        times = Counter(
            each
            for symbol in self.needed.values()
            if isinstance(symbol.operation, Total)
            for each in _inside(symbol.of[0], symbol.operation.parts)
            if self._is_step(each)
        )
        alone: set[Symbol] = set()
        for number in sorted(self.needed):
            symbol = self.needed[number]
            operands = (each for each in symbol.of if isinstance(each, Symbol))
            if symbol.part and all(each in alone for each in operands):
                alone.add(symbol)
        return frozenset(each for each, count in times.items() if count > 1 and each in alone)

    # --- steps ---------------------------------------------------------------------------------

    def _rows(self) -> Iterator[Step]:
        """Yield for each list of parts the steps that its sums share."""
        shared = sorted(self._shared, key=lambda each: each.number)
        taken = {*self.names.values(), *self.aliases}
        for parts in dict.fromkeys(each.part for each in shared):
            steps = [self._step(each) for each in shared if each.part == parts]
            yield recipe.Rows(_free(f"{parts}_count", taken), str(parts), tuple(steps))

    def _step(self, symbol: Symbol) -> Step:
        """Return the step of a symbol."""
        name = self.names[symbol]
        if isinstance(symbol.operation, Arithmetic | Power):
            if _is_sum(symbol):
                return _sum(name, [(self._source(of), c) for of, c in self._terms(symbol)])
            return _product(name, [(self._source(of), p) for of, p in self._factors(symbol)])
        if isinstance(symbol.operation, Total):
            return self._over(symbol, symbol.operation)
        return symbol.operation.step(name, [self._source(of) for of in symbol.of])

    def _over(self, symbol: Symbol, total: Total) -> Step:
        """Return the sum over a list of parts, with the steps that are done for each part."""
        (body,) = symbol.of
        inside = _inside(body, total.parts)
        own = [each for each in inside if self._is_step(each) and each not in self._shared]
        steps = [self._step(each) for each in own]
        over = total.step(self.names[symbol], [self._source(body)])
        assert isinstance(over, recipe.Over)
        return replace(over, steps=tuple(steps))

    def _source(self, of: Operand) -> Source:
        """Return what a step calls an operand."""
        return self.names[of] if isinstance(of, Symbol) else of

    def _terms(self, symbol: Symbol) -> list[Factor]:
        """Return the terms of a chain of sums, in the order they were written."""
        left, right = symbol.of
        assert isinstance(symbol.operation, Arithmetic)
        terms = [self._term(left, 1.0)]
        if isinstance(left, Symbol) and left in self._fused and _is_sum(left):
            terms = self._terms(left)
        return [*terms, self._term(right, 1.0 if symbol.operation.sign == "+" else -1.0)]

    def _term(self, of: Operand, sign: float) -> Factor:
        """Return one term; a number times a symbol is a symbol with a coefficient."""
        if isinstance(of, Symbol) and of in self._fused and _is_scaled(of):
            left, right = of.of
            if isinstance(right, Symbol):
                left, right = right, left
            assert not isinstance(right, Symbol)
            return left, sign * right
        return of, sign

    def _factors(self, symbol: Symbol) -> list[Factor]:
        """Return the factors of a chain of products, in the order they were written."""
        if isinstance(symbol.operation, Power):
            return [(symbol.of[0], symbol.operation.exponent)]
        left, right = symbol.of
        factors: list[Factor] = [(left, 1.0)]
        if isinstance(left, Symbol) and left in self._fused and not _is_sum(left):
            factors = self._factors(left)
        assert isinstance(symbol.operation, Arithmetic)
        power = 1.0 if symbol.operation.sign == "*" else -1.0
        if isinstance(right, Symbol) and right in self._fused:
            assert isinstance(right.operation, Power)
            return [*factors, (right.of[0], power * right.operation.exponent)]
        return [*factors, (right, power)]


# --- arithmetic ------------------------------------------------------------------------------


def _is_sum(symbol: Symbol) -> bool:
    """Say whether a symbol is a sum or a difference."""
    return isinstance(symbol.operation, Arithmetic) and symbol.operation.sign in "+-"


def _is_scaled(symbol: Symbol) -> bool:
    """Say whether a symbol is a number times a symbol, in either order."""
    symbols = [each for each in symbol.of if isinstance(each, Symbol)]
    return symbol.operation == Arithmetic("*") and len(symbols) == 1


def _is_product(symbol: Symbol) -> bool:
    """Say whether a symbol is a product, a quotient or a power."""
    return isinstance(symbol.operation, Arithmetic | Power) and not _is_sum(symbol)


def _joined(symbol: Symbol) -> Iterator[Symbol]:
    """Yield the operands that can be written down inside a symbol's own step.

    Those are the ones that keep the written order of operations: what was worked out on the left
    is begun with. On the right only a number times a symbol fits into a sum, and only a square
    root into a product, since each of these is done in one go there.
    """
    if not isinstance(symbol.operation, Arithmetic):
        return
    left, right = symbol.of
    if _is_sum(symbol):
        yield from (s for s in (left,) if isinstance(s, Symbol) and (_is_sum(s) or _is_scaled(s)))
        yield from (s for s in (right,) if isinstance(s, Symbol) and _is_scaled(s))
        return
    yield from (s for s in (left,) if isinstance(s, Symbol) and _is_product(s))
    if isinstance(right, Symbol) and right.operation == Power(0.5):
        yield right


def _sum(name: str, terms: Sequence[tuple[Source, float]]) -> Sum:
    """Return a sum; a number among the first two terms is what it starts from."""
    start, rest = 0.0, list(terms)
    for place in (0, 1):
        of, coefficient = rest[place]
        if not isinstance(of, str):
            start = coefficient * of
            del rest[place]
            break
    return Sum(name, tuple(rest), start)


def _product(name: str, factors: Sequence[tuple[Source, float]]) -> Product:
    """Return a product; a number that comes first is what it starts from."""
    start, rest = 1.0, list(factors)
    if not isinstance(rest[0][0], str):
        start = float(rest.pop(0)[0])
    elif len(rest) > 1 and not isinstance(rest[1][0], str) and rest[0][1] == rest[1][1] == 1.0:
        # a × number is number × a, to the bit.
        start = float(rest.pop(1)[0])
    return Product(name, tuple(rest), start)


def _alias(name: str, of: Source) -> Step:
    """Return the step that gives a value a second name."""
    return Product(name, ((of, 1.0),)) if isinstance(of, str) else Product(name, (), of)


# --- names and parts -------------------------------------------------------------------------


def _stem(symbol: Symbol) -> str:
    """Return what an unnamed step's name begins with."""
    operation = symbol.operation
    if isinstance(operation, LookUp | LookBack):
        return operation.table.name
    if isinstance(operation, Arithmetic | Power):
        return "sum" if _is_sum(symbol) else "product"
    return type(operation).__name__.lower()


def _free(stem: str, taken: set[str]) -> str:
    """Return a name that isn't taken yet.

    >>> _free("range", {"range", "range_2"})
    'range_3'
    """
    number, name = 1, stem
    while name in taken:
        number += 1
        name = f"{stem}_{number}"
    return name


def _inside(body: Operand, parts: str) -> list[Symbol]:
    """Return the symbols that are worked out for each part, in the order they were made."""
    found: dict[int, Symbol] = {}
    waiting = [body]
    while waiting:
        each = waiting.pop()
        if isinstance(each, Symbol) and each.part and each.number not in found:
            if each.part != parts:
                raise TraceError(f"a part of {each.part} is used inside the sum over {parts}")
            found[each.number] = each
            waiting.extend(each.of)
    return [found[number] for number in sorted(found)]
