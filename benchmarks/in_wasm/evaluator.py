"""One set-up of a recipe in plain Python with its own library, as `static/js/recipe.js` does it.

Good for lookups without lists of parts. It is here to be compared with, so it says no reasons: a
value that can't be had is None.
"""

from __future__ import annotations

import json
import math
import struct
from typing import Any, TypeAlias

Value: TypeAlias = float | None
Plain: TypeAlias = Any
"""Data as JSON holds them."""


class Lookup:
    """A lookup of `lookups.json` with its tables."""

    def __init__(self, catalogue: str, tables: bytes, key: str) -> None:
        """Read one lookup, and its tables out of their file."""
        told = json.loads(catalogue)
        (self.lookup,) = [each for each in told["lookups"] if each["key"] == key]
        self.tables = {name: _table(told["tables"][name], tables) for name in self.lookup["tables"]}

    def answers(self, inputs: dict[str, Any]) -> dict[str, float]:
        """Return the answers of one set-up, in declared units; missing entries are the usual."""
        symbols: dict[str, Value] = {}
        choices: dict[str, str] = {}
        for field in self.lookup["fields"]:
            entry = inputs.get(field["key"], field["default"])
            if field["kind"] == "choice":
                choices[field["key"]] = entry
            elif entry is None or not field["low"] <= entry <= field["high"]:
                symbols[field["key"]] = None
            else:
                symbols[field["key"]] = entry * field["si"][0] + field["si"][1]
        for step in self.lookup["steps"]:
            symbols[step["as"]] = self._step(step, symbols, choices)
        found = {}
        for answer in self.lookup["answers"]:
            value = symbols[answer["symbol"]]
            if value is not None:
                found[answer["key"]] = (value - answer["si"][1]) / answer["si"][0]
        return found

    def _step(  # noqa: PLR0911 - a kind of step each
        self, step: Plain, symbols: dict[str, Value], choices: dict[str, str]
    ) -> Value:
        def value(source: str | float) -> Value:
            return symbols[source] if isinstance(source, str) else source

        op = step["op"]
        if op == "pick":
            return value(dict(step["from"])[choices[step["by"]]])
        if op == "if_entered":
            return value(step["otherwise" if value(step["by"]) is None else "then"])
        if op in ("product", "sum"):
            terms = [(value(source), share) for source, share in step["of"]]
            if any(each is None for each, _ in terms):
                return None
            return _sum(step, terms) if op == "sum" else _product(step, terms)
        names = step["at"] if "at" in step else step["of"]
        read = [value(each) for each in (names if isinstance(names, list) else [names])]
        if any(each is None for each in read):
            return None
        known: list[float] = read  # type: ignore[assignment]
        if op in ("least", "greatest"):
            return min(known) if op == "least" else max(known)
        if op == "choose":
            return value(step["less" if known[0] < known[1] else "otherwise"])
        if op == "within":
            low, high = step["low"], step["high"]
            out = (low is not None and known[0] < low) or (high is not None and known[0] > high)
            return None if out else value(step["gives"])
        axes, numbers = self.tables[step["table"]]
        if op == "look":
            return _inside(_look(axes, numbers, known))
        target = value(step["value"])
        return None if target is None else _inverse(axes, numbers, step["along"], known, target)


def _sum(step: Plain, terms: Plain) -> Value:
    total: float = step["plus"]
    for value, share in terms:
        total = total + share * value
    return _inside(total)


def _product(step: Plain, factors: Plain) -> Value:
    result: float = step["times"]
    try:
        for value, power in factors:
            whole = math.floor(abs(power))
            parts = [value] * whole + ([math.sqrt(value)] if abs(power) != whole else [])
            for part in parts:
                result = result * part if power > 0 else result / part
    except (ZeroDivisionError, ValueError):
        return None
    return _inside(result)


def _inside(value: Value) -> Value:
    return value if value is not None and math.isfinite(value) else None


def _table(meta: Plain, content: bytes) -> tuple[Any, tuple[float, ...]]:
    kind = meta["numbers"][1]
    count = meta["bytes"] // int(kind)
    letter = "f" if kind == "4" else "d"
    return meta["axes"], struct.unpack_from(f"<{count}{letter}", content, meta["offset"])


def _width(axis: Plain) -> int:
    return len(axis["knots"]) * (2 if axis["kind"] == "cubic" else 1)


def _look(axes: Plain, numbers: Plain, places: list[float]) -> Value:
    for axis, place in zip(axes, places, strict=True):
        if not axis["knots"][0] <= place <= axis["knots"][-1]:
            return None
    return _contract(axes, numbers, places, 0, 0, -1)


def _contract(
    axes: Plain, numbers: Plain, places: list[float], n: int, at: int, skip: int
) -> float:
    """Contract axes from the last to the first; `skip` is one whose place is an entry's number."""
    if n == len(axes):
        return float(numbers[at])
    stride = math.prod(_width(axis) for axis in axes[n + 1 :])

    def entry(number: int) -> float:
        return _contract(axes, numbers, places, n + 1, at + number * stride, skip)

    axis, place = axes[n], places[n]
    if axis["kind"] == "list" or n == skip:
        return entry(int(place))
    knots = axis["knots"]
    low, high = 0, len(knots) - 1
    while high - low > 1:
        middle = (low + high) >> 1
        low, high = (middle, high) if knots[middle] <= place else (low, middle)
    step = knots[low + 1] - knots[low]
    t = (place - knots[low]) / step
    if axis["kind"] == "linear":
        a = entry(low)
        return a + (entry(low + 1) - a) * t
    return _cubic(t, step, [entry(2 * low + k) for k in range(4)])


def _cubic(t: float, step: float, ends: list[float]) -> float:
    p0, s0, p1, s1 = ends
    m0, m1, d = s0 * step, s1 * step, p1 - p0
    bend, twist = 3 * d - 2 * m0 - m1, m0 + m1 - 2 * d
    return p0 + t * (m0 + t * (bend + t * twist))


def _inverse(axes: Plain, numbers: Plain, along: str, places: list[float], target: float) -> Value:
    (number,) = [n for n, axis in enumerate(axes) if axis["key"] == along]
    axis = axes[number]
    for other, place in zip([a for a in axes if a is not axis], places, strict=True):
        if not other["knots"][0] <= place <= other["knots"][-1]:
            return None
    parts = 2 if axis["kind"] == "cubic" else 1

    def at(entry: int) -> float:
        spots = [*places[:number], float(entry), *places[number:]]
        return _contract(axes, numbers, spots, 0, 0, number)

    low, high = 0, len(axis["knots"]) - 1
    first, last = at(0), at(high * parts)
    rising = last > first
    if not min(first, last) <= target <= max(first, last):
        return None
    while high - low > 1:
        middle = (low + high) >> 1
        value = at(middle * parts)
        before = value <= target if rising else value >= target
        low, high = (middle, high) if before else (low, middle)
    left = axis["knots"][low]
    size = axis["knots"][low + 1] - left
    ends = [at(low * parts + part) for part in range(2 * parts)]
    if parts == 1:
        return _inside(left + size * ((target - ends[0]) / (ends[1] - ends[0])))
    a, b = 0.0, 1.0
    for _ in range(52):
        middle_of = (a + b) * 0.5
        value = _cubic(middle_of, size, ends)
        before = value <= target if rising else value >= target
        a, b = (middle_of, b) if before else (a, middle_of)
    return left + size * ((a + b) * 0.5)
