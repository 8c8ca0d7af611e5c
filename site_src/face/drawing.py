"""Where the marks of a drawn rule and of a curve lie; `static/js/face/scale.js` places them alike.

Positions are in the drawing's own units, those of its SVG view box.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from site_src.face.numbers import grouped, power_of_ten
from site_src.model.answers import shown

RULE_WIDTH, RULE_MARGIN = 340.0, 27.0
HATCH = 7.0
DIGIT_WIDTH = 8.5
SHARE_LEFT, SHARE_RIGHT, SHARE_MOST, SHARE_HATCH = 14.0, 326.0, 1.25, 5.0
CURVE_LEFT, CURVE_RIGHT, CURVE_TOP, CURVE_BOTTOM = 54.0, 334.0, 34.0, 224.0

_MINOR = {1: 10, 2: 4, 5: 5}
"""Fine divisions of a step, by its first digit, as on a steel rule."""


@dataclass(frozen=True)
class Scale:
    """Even steps of 1, 2 or 5 that cover a range."""

    first: int
    last: int
    step: float
    digit: int
    decimals: int

    @property
    def low(self) -> float:
        """Where the scale begins."""
        return self.first * self.step

    @property
    def high(self) -> float:
        """Where it ends."""
        return self.last * self.step

    def labels(self) -> list[tuple[float, str]]:
        """Return each step's value and how it is written."""
        return [
            (n * self.step, grouped(shown(n * self.step, self.decimals)))
            for n in range(self.first, self.last + 1)
        ]

    def place(self, value: float, start: float, end: float) -> float:
        """Return where a value lies between two ends of the drawing."""
        return start + (value - self.low) / (self.high - self.low) * (end - start)


def scale(low: float, high: float, steps: int) -> Scale:
    """Return a scale over a range, with about as many steps as are wanted.

    >>> scale(0.0, 17000.0, 6)
    Scale(first=0, last=4, step=5000.0, digit=5, decimals=0)
    """
    span = high - low if high > low else max(abs(high), 1.0)
    exponent, power = power_of_ten(span / steps)
    digit = next(d for d in (1, 2, 5, 10) if d * power >= span / steps * (1.0 - 1e-9))
    if digit == 10:
        digit, exponent, power = 1, exponent + 1, power * 10.0
    step = digit * power
    first = math.floor(low / step + 1e-9)
    last = max(math.ceil((low + span) / step - 1e-9), first + 1)
    return Scale(first, last, step, digit, max(0, -exponent))


@dataclass(frozen=True)
class Tick:
    """One mark: where it lies, how long it is (0 fine, 1 middle, 2 full), its number if it has."""

    at: str
    size: int
    label: str = ""


@dataclass(frozen=True)
class Rule:
    """A margin, drawn as a steel rule."""

    ticks: tuple[Tick, ...]
    pointer: str
    limit: str
    near: tuple[str, str]
    beyond: tuple[str, str]
    hatch: str
    value_text: str
    limit_text: str

    @property
    def value_anchor(self) -> str:
        """How the value's text hangs on the pointer, so that it stays inside the drawing."""
        return _anchor(self.pointer)

    @property
    def limit_anchor(self) -> str:
        """How the limit's text hangs on the notch."""
        return _anchor(self.limit)


def draw_rule(side: str, value: float, limit: float, near: float, decimals: int, unit: str) -> Rule:
    """Place the marks of a rule; value, limit and near mark in the unit shown."""
    low, high = _reach(value, limit, near)
    marks = scale(low, high, 5)
    start, end = RULE_MARGIN, RULE_WIDTH - RULE_MARGIN

    def x(at: float) -> str:
        return shown(marks.place(at, start, end), 1)

    far = RULE_WIDTH - 1.0 if side == "max" else 1.0
    return Rule(
        ticks=tuple(_ticks(marks, start, end)),
        pointer=x(value),
        limit=x(limit),
        near=_ordered(x(near), x(limit)),
        beyond=_ordered(x(limit), shown(far, 1)),
        hatch=_hatch(*_ordered(x(near), x(limit))),
        value_text=_figure(value, decimals, unit),
        limit_text=_figure(limit, decimals, unit),
    )


def _reach(value: float, limit: float, near: float) -> tuple[float, float]:
    """Return the range that a rule covers: from nought where that is near enough."""
    least, most = min(value, limit, near), max(value, limit, near)
    room = 0.12 * (most - least) if most > least else 0.5 * abs(most)
    if least >= 0.0 and least < 0.75 * most:
        return 0.0, most + 0.08 * most
    return least - 2.0 * room, most + 2.0 * room


def _ticks(marks: Scale, start: float, end: float) -> Iterable[Tick]:
    """Yield the marks from left to right."""
    fine = _MINOR[marks.digit]
    labels = _spaced(marks, (end - start) / (marks.last - marks.first))
    for n in range((marks.last - marks.first) * fine + 1):
        value = (marks.first * fine + n) * marks.step / fine
        size = 2 if n % fine == 0 else 1 if fine % 2 == 0 and n % fine == fine // 2 else 0
        yield Tick(
            shown(marks.place(value, start, end), 1), size, labels[n // fine] if size == 2 else ""
        )


def _spaced(marks: Scale, room: float) -> list[str]:
    """Return a number for each full mark; for every second one only, where all would touch."""
    labels = [label for _, label in marks.labels()]
    touching = max(map(len, labels)) * DIGIT_WIDTH + DIGIT_WIDTH > room
    return [
        "" if touching and n % 2 else label for n, label in enumerate(labels, start=marks.first)
    ]


def _ordered(one: str, other: str) -> tuple[str, str]:
    """Return two places, the left one first."""
    return (one, other) if float(one) <= float(other) else (other, one)


def _hatch(left: str, right: str) -> str:
    """Return slanted strokes across the near zone, as an SVG path."""
    count = int((float(right) - float(left)) / HATCH + 1e-9)
    return "".join(f"M{shown(float(left) + n * HATCH, 1)} 86l7 -14" for n in range(count))


def _anchor(x: str) -> str:
    """Return an SVG text anchor for a text at a place across the rule."""
    share = float(x) / RULE_WIDTH
    return "start" if share < 0.25 else "end" if share > 0.75 else "middle"


def _figure(value: float, decimals: int, unit: str) -> str:
    """Write a value with its unit."""
    text = grouped(shown(value, decimals))
    return f"{text} {unit}" if unit else text


@dataclass(frozen=True)
class Share:
    """How much of a limit is used, on a rule that is alike for every limit: from nought past it."""

    used: str
    limit: str
    near: tuple[str, str]
    beyond: tuple[str, str]
    hatch: str
    ticks: tuple[Tick, ...]


def draw_share(used: float, near: float) -> Share:
    """Place the marks of a share; 1 is the limit. What doesn't fit runs to the rule's end.

    >>> draw_share(0.5, 0.92).used, draw_share(1.0, 0.92).used, draw_share(9.0, 0.92).used
    ('138.8', '263.6', '339.0')
    """

    def x(share: float) -> str:
        return shown(SHARE_LEFT + share / SHARE_MOST * (SHARE_RIGHT - SHARE_LEFT), 1)

    far = shown(RULE_WIDTH - 1.0, 1)
    zone = (x(near), x(1.0))
    strokes = int((float(zone[1]) - float(zone[0])) / SHARE_HATCH + 1e-9)
    return Share(
        used=far if used > SHARE_MOST else x(max(used, 0.0)),
        limit=x(1.0),
        near=zone,
        beyond=(x(1.0), far),
        hatch="".join(
            f"M{shown(float(zone[0]) + n * SHARE_HATCH, 1)} 49l5 -16" for n in range(strokes)
        ),
        ticks=tuple(
            Tick(x(n / 20), 2, f"{5 * n}") if n % 5 == 0 and n <= 20 else Tick(x(n / 20), 0)
            for n in range(26)
        ),
    )


@dataclass(frozen=True)
class Dot:
    """One point of a curve; no y where there is no answer, no limit where there is none."""

    x: float
    y: float | None
    limit: float | None = None
    current: bool = False


@dataclass(frozen=True)
class Curve:
    """A curve with its axes; the strings are ready for an SVG polyline."""

    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    runs: tuple[str, ...]
    limits: tuple[str, ...]
    current: tuple[str, str] | None


def draw_curve(dots: Sequence[Dot]) -> Curve | None:
    """Place a curve's points and the ticks of its axes; None if there is nothing to draw."""
    heights = [y for dot in dots for y in (dot.y, dot.limit) if y is not None]
    if not heights:
        return None
    across = scale(min(dot.x for dot in dots), max(dot.x for dot in dots), 5)
    low = min(heights)
    up = scale(0.0 if 0.0 <= low < 0.6 * max(heights) else low, max(heights), 5)

    def at(x: float, y: float) -> str:
        return f"{place_x(x)},{place_y(y)}"

    def place_x(x: float) -> str:
        return shown(across.place(x, CURVE_LEFT, CURVE_RIGHT), 1)

    def place_y(y: float) -> str:
        return shown(up.place(y, CURVE_BOTTOM, CURVE_TOP), 1)

    here = next((dot for dot in dots if dot.current and dot.y is not None), None)
    return Curve(
        x_ticks=tuple(Tick(place_x(value), 2, label) for value, label in across.labels()),
        y_ticks=tuple(Tick(place_y(value), 2, label) for value, label in up.labels()),
        runs=_runs([(dot.x, dot.y) for dot in dots], at),
        limits=_runs([(dot.x, dot.limit) for dot in dots], at),
        current=(place_x(here.x), place_y(here.y)) if here and here.y is not None else None,
    )


def _runs(
    points: Sequence[tuple[float, float | None]], at: Callable[[float, float], str]
) -> tuple[str, ...]:
    """Return the unbroken stretches of a curve, two points or more each."""
    runs: list[list[str]] = [[]]
    for x, y in points:
        if y is None:
            runs.append([])
        else:
            runs[-1].append(at(x, y))
    return tuple(" ".join(run) for run in runs if len(run) > 1)
