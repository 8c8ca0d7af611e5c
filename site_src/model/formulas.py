"""Formulas for the section on how a value is worked out, drawn from the steps themselves.

A formula is drawn twice: in signs and words, and as a template in which this set-up's numbers are
put. Values that the page names (entries, answers, workings) are written by their sign or their
label; what lies between is written out. A range check passes a value on and is not drawn.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from calc.domain import Real
from site_src.model.answers import Worked, Working, shown
from site_src.model.fields import Choice, Field, Parts
from site_src.tables.compiler import AxisSpec, TableSpec
from site_src.tables.symbols import Arithmetic, Entry, Operand, Power, Symbol, trace_of
from site_src.tables.trace import (
    Choose,
    Extreme,
    IfEntered,
    LookBack,
    LookUp,
    Pick,
    Range,
    Settled,
    Total,
)
from site_src.tables.writing import Written

_SIGNS = {"+": " + ", "-": " − ", "*": " × ", "/": " ÷ "}
_RAISED = str.maketrans("0123456789-.", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻·")

_FEW = 4
"""Options from which on a choice is named without listing them."""

_LETTERS = {math.pi: "π", 2.0 * math.pi: "2π"}
"""Constants that are written by a letter."""

_SUM, _PRODUCT, _POWER, _ATOM = range(4)
"""How tightly a piece of a formula holds together."""


@dataclass(frozen=True)
class Source:
    """A function of `calc`, and where it is from by its own docstring."""

    name: str
    text: str


@dataclass(frozen=True)
class Origin:
    """A value that another page works out, by that page's title and its own description."""

    title: str
    value: Worked


@dataclass(frozen=True)
class Told:
    """A value on the way that a formula names, so as not to write out all that is behind it."""

    value: Worked


def told(value: Real, label: str) -> Real:
    """Return a value, which formulas call by a label from here on.

    >>> told(2.0, "run into the tensioner")
    2.0
    """
    if trace := trace_of(value):
        trace.came_from(value, Told(Worked("", label)))
    return value


@dataclass(frozen=True)
class Formula:
    """How one value is worked out.

    `text` is in signs and words, and `legend` says what the signs stand for. `filled` has symbols
    of the recipe in braces, for this set-up's numbers. `sources` are the functions of `calc`
    behind it.
    """

    text: str
    filled: str
    legend: tuple[tuple[str, str], ...]
    sources: tuple[Source, ...]


def formulas(
    fields: Sequence[Field], values: Sequence[Worked], written: Written
) -> Mapping[str, Formula]:
    """Return how each value is worked out, by its key."""
    drawing = _Drawing(fields, values, written)
    drawn = [value for value in values if not isinstance(value, Working) or value.listed]
    return {value.key: drawing.formula(value) for value in drawn if value.key in written.values}


@dataclass(frozen=True)
class _Piece:
    """A piece of a formula, in words and as a template, and how tightly it holds together."""

    text: str
    filled: str
    strength: int = _ATOM

    def inside(self, strength: int) -> _Piece:
        """Return it in brackets, if it holds together less than that."""
        if self.strength >= strength:
            return self
        alone = self.filled.startswith("{") and self.filled.find("}") == len(self.filled) - 1
        return _Piece(f"({self.text})", self.filled if alone else f"({self.filled})")

    def joined(self, sign: str, other: _Piece, strength: int) -> _Piece:
        """Return two pieces with a sign between them."""
        return _Piece(
            f"{self.text}{sign}{other.text}", f"{self.filled}{sign}{other.filled}", strength
        )

    def around(self, before: str, behind: str, strength: int) -> _Piece:
        """Return it with something before and behind."""
        return _Piece(f"{before}{self.text}{behind}", f"{before}{self.filled}{behind}", strength)


class _Drawing:
    """Draws formulas of one lookup."""

    def __init__(self, fields: Sequence[Field], values: Sequence[Worked], written: Written) -> None:
        """Gather what things are called."""
        self.written = written
        inner = [each for field in fields if isinstance(field, Parts) for each in field.fields]
        self.fields = {field.key: field for field in (*fields, *inner)}
        self.values = {value.key: value for value in values}
        self.signs: dict[str, str] = {}
        """The signs that the formula being drawn has used, with their labels."""

    def formula(self, value: Worked) -> Formula:
        """Return how a value is worked out."""
        of = self.written.values[value.key]
        self.signs = {}
        called, piece = self._called(value), self._opened(of, alone=True)
        functions = dict.fromkeys([*value.by, *self._looked_up(of)])
        return Formula(
            f"{called} = {piece.text}",
            f"{piece.filled} = {{{value.key}}}".removeprefix(" "),
            tuple(self.signs.items()),
            tuple(_source(function) for function in functions),
        )

    def _called(self, of: Worked | Field) -> str:
        """Return what a value or an entry is called in a formula: its sign, or its label."""
        sign = "" if isinstance(of, Choice | Parts) else of.sign
        if sign:
            self.signs[sign] = _lowered(of.label)
        return sign or _lowered(of.label)

    # --- pieces --------------------------------------------------------------------------------

    def _piece(self, of: Operand) -> _Piece:
        """Return how an operand is written: by what it is called, or opened up."""
        if not isinstance(of, Symbol):
            return _Piece(_number(of), _number(of))
        name = self.written.names.get(of, "")
        if name in self.values:
            return _Piece(self._called(self.values[name]), f"{{{name}}}")
        if name and (origin := _named(of)):
            return _Piece(self._called(origin.value), f"{{{name}}}")
        return self._opened(of)

    def _opened(self, of: Operand, *, alone: bool = False) -> _Piece:
        """Return how an operand is worked out; `alone` if that is the whole formula."""
        if not isinstance(of, Symbol):
            return _Piece(_number(of), _number(of))
        if alone and (origin := _origin(of)):
            return _Piece(f"from the page “{origin.title}”", "")
        match of.operation:
            case Entry(key):
                piece = _Piece(self._called(self.fields[key]), f"{{{key}}}")
            case Arithmetic(sign):
                piece = self._arithmetic(sign, of.of)
            case Power(exponent):
                piece = self._power(exponent, of.of[0])
            case Settled(words):
                piece = _Piece(words, f"{{{self.written.names[of]}}}", _ATOM)
            case Range():
                passed = of.of[1]
                known = isinstance(passed, Symbol) and isinstance(_named(passed), Told)
                piece = (
                    self._opened(passed, alone=True)
                    if alone and not known
                    else (self._piece(passed))
                )
            case _:
                piece = self._words(of)
                if not (alone or of.part or isinstance(of.operation, Extreme)):
                    # In a formula a look-up or a choice is put in as the number that it gives.
                    piece = replace(piece, filled=f"{{{self.written.names[of]}}}")
        return piece

    def _arithmetic(self, sign: str, of: Sequence[Operand]) -> _Piece:
        """Return a sum, a difference, a product or a quotient."""
        strength = _SUM if sign in "+-" else _PRODUCT
        left, right = (self._piece(each) for each in of)
        if sign == "*" and not isinstance(of[0], Symbol) and of[0] == -1.0:
            return right.inside(_PRODUCT).around("−", "", _SUM)
        tighter = strength + (sign in "-/")
        return left.inside(strength).joined(_SIGNS[sign], right.inside(tighter), strength)

    def _power(self, exponent: float, base: Operand) -> _Piece:
        """Return a power."""
        piece = self._piece(base)
        if " " in piece.text:
            piece = _Piece(piece.text, piece.filled, _SUM)
        if exponent == 0.5:
            return _Piece(f"√({piece.text})", f"√({piece.filled})")
        raised = f"{exponent:g}".translate(_RAISED)
        return piece.inside(_ATOM).around("", raised, _POWER)

    def _words(self, of: Symbol) -> _Piece:
        """Return the words of an operation that is neither arithmetic nor a range."""
        operation, pieces = of.operation, [self._piece(each) for each in of.of]
        if isinstance(operation, LookUp):
            axes = operation.table.axes
            pieces = [self._place(axis, each) for axis, each in zip(axes, of.of, strict=True)]
        texts, numbers = [piece.text for piece in pieces], [piece.filled for piece in pieces]
        match operation:
            case LookUp(table):
                name = _spaced(table.name)
                piece = _Piece(f"{name}({', '.join(texts)})", f"{name}({', '.join(numbers)})")
            case LookBack(table, along):
                words, filled = (_looked_back(table, along, each) for each in (texts, numbers))
                piece = _Piece(words, filled, _SUM)
            case Pick(by):
                options = list(dict.fromkeys(texts))
                plain = any(isinstance(each, Symbol) for each in of.of) and len(options) < _FEW
                listed = f": {' or '.join(options)}" if plain else ""
                piece = _Piece(f"by “{self.fields[by].label}”{listed}", "", _SUM)
            case IfEntered():
                entry, then, otherwise = texts
                given = f"{then} if" if then == entry else f"{then}, if {entry} is"
                piece = _Piece(f"{given} entered, else {otherwise}", "", _SUM)
            case Choose() if found := self._listed(of):
                side, place = found
                piece = _Piece(f"by the first size listed of {side} {texts[place]}", "", _SUM)
            case Choose():
                a, b, less, otherwise = texts
                piece = _Piece(f"{less}, if {a} is under {b}, else {otherwise}", "", _SUM)
            case Total(take="greatest"):
                piece = _Piece(f"greatest of ({texts[0]})", "", _ATOM)
            case Total():
                piece = _Piece(f"Σ {pieces[0].inside(_PRODUCT).text}", "", _PRODUCT)
            case Extreme() if _is_size(of):
                piece = pieces[0].around("|", "|", _ATOM)
            case Extreme(op):
                piece = _Piece(f"{op} of ({', '.join(texts)})", f"{op} of ({', '.join(numbers)})")
            case _:
                piece = _Piece("none", "none")
        return piece

    def _listed(self, of: Symbol) -> tuple[str, int] | None:
        """Return how a list is searched, and the place of what each size is compared with."""
        following = of.of[2]
        if not isinstance(following, Symbol) or following.operation != Choose():
            return None
        if self.written.names.get(following, "") in self.values or _named(following):
            return None
        for side, place in (("at least", 1), ("at most", 0)):
            if isinstance(of.of[place], Symbol) and following.of[place] is of.of[place]:
                return side, place
        return None

    def _place(self, axis: AxisSpec, of: Operand) -> _Piece:
        """Return how a place along an axis is written; one in a list by the choice it is from."""
        if axis.kind == "list" and isinstance(of, Symbol) and isinstance(of.operation, Pick):
            label = _lowered(self.fields[of.operation.by].label)
            return _Piece(label, label)
        if axis.names and not isinstance(of, Symbol):
            return _Piece(axis.names[int(of)], axis.names[int(of)])
        return self._piece(of)

    # --- functions -----------------------------------------------------------------------------

    def _looked_up(self, of: Operand, *, first: bool = True) -> list[Callable[..., object]]:
        """Return the functions that a formula looks up, down to the values that it names."""
        if not isinstance(of, Symbol) or (_named(of) and not first) or _origin(of):
            return []
        if isinstance(of.operation, Settled):
            return []
        found: list[Callable[..., object]] = []
        if isinstance(of.operation, LookUp | LookBack):
            found += of.operation.table.functions
        for operand in of.of:
            name = self.written.names.get(operand, "") if isinstance(operand, Symbol) else ""
            if name not in self.values:
                found += self._looked_up(operand, first=False)
        return found


def _origin(of: Symbol) -> Origin | None:
    """Return the page that works a value out, if it is another one."""
    origin = of.trace.origins.get(of)
    return origin if isinstance(origin, Origin) else None


def _named(of: Symbol) -> Origin | Told | None:
    """Return what a value is called that neither is entered nor shown on the page."""
    origin = of.trace.origins.get(of)
    return origin if isinstance(origin, Origin | Told) else None


def _is_size(of: Symbol) -> bool:
    """Say whether a symbol is the greater of a value and its opposite."""
    if of.operation != Extreme("greatest") or len(of.of) != 2:
        return False
    value, opposite = of.of
    if not isinstance(opposite, Symbol) or opposite.operation != Arithmetic("*"):
        return False
    times, turned = opposite.of
    return not isinstance(times, Symbol) and times == -1.0 and turned is value


def _looked_back(table: TableSpec, along: str, texts: Sequence[str]) -> str:
    """Say in words where a table takes a value."""
    value, *others = texts
    axis = next(each.label for each in table.axes if each.key == along)
    given = f", given {', '.join(others)}" if others else ""
    return f"the {axis} at which {_spaced(table.name)} is {value}{given}"


def _source(function: Callable[..., object]) -> Source:
    """Return a function's name, and its source as its docstring has it."""
    text = inspect.getdoc(function) or ""
    _, _, after = text.partition("Source:")
    source = " ".join(after.split("\n\n")[0].split())
    return Source(f"{function.__module__}.{function.__name__}", source)


def _lowered(label: str) -> str:
    """Write a label in the middle of a line.

    >>> _lowered("Engine speed"), _lowered("AFR here")
    ('engine speed', 'AFR here')
    """
    return label if label[:2].isupper() else label[:1].lower() + label[1:]


def _spaced(name: str) -> str:
    """Write a table's name in words."""
    return name.replace("_", " ")


def _number(value: float) -> str:
    """Write a constant with four significant digits at most.

    >>> _number(2.0), _number(-0.5), _number(287.05287), _number(1.0e-7)
    ('2', '−0.5', '287.1', '0.0000001')
    """
    if value in _LETTERS:
        return _LETTERS[value]
    decimals = max(0, 3 - Decimal(value).adjusted()) if value else 0
    text = shown(value, decimals)
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")
