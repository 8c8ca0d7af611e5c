"""A margin drawn as a steel rule: pointer at the value, notch at the limit, hatched zone near it.

The phone places the marks by the same rules, in `static/js/face/rule.js`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from site_src.face.numbers import grouped, with_unit
from site_src.face.scale import Scale, Tick, scale
from site_src.model.answers import shown

RULE_WIDTH, RULE_MARGIN = 340.0, 27.0
HATCH = 7.0
DIGIT_WIDTH = 8.5

_MINOR = {1: 10, 2: 4, 5: 5}
"""Fine divisions of a spacing, by its first digit, as on a steel rule."""


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
        """Where the value's text is anchored, so that it stays inside the drawing."""
        return _anchor(self.pointer)

    @property
    def limit_anchor(self) -> str:
        """Where the limit's text is anchored."""
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
        hatch=hatch(_ordered(x(near), x(limit)), HATCH, "86l7 -14"),
        value_text=with_unit(grouped(shown(value, decimals)), unit),
        limit_text=with_unit(grouped(shown(limit, decimals)), unit),
    )


def _reach(value: float, limit: float, near: float) -> tuple[float, float]:
    """Return the range that a rule covers: from zero, if zero is near enough."""
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
        value = (marks.first * fine + n) * marks.spacing / fine
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


def hatch(zone: tuple[str, str], apart: float, stroke: str) -> str:
    """Return slanted strokes across a zone, as an SVG path.

    Args:
        zone: Where it begins and ends.
        apart: How far the strokes are from each other.
        stroke: What follows the place where one begins.
    """
    left, right = (float(end) for end in zone)
    count = int((right - left) / apart + 1e-9)
    return "".join(f"M{shown(left + n * apart, 1)} {stroke}" for n in range(count))


def _anchor(x: str) -> str:
    """Return an SVG text anchor for a text at a place across the rule."""
    share = float(x) / RULE_WIDTH
    return "start" if share < 0.25 else "end" if share > 0.75 else "middle"
