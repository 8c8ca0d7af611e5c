"""A belt route as the marks of an SVG drawing, in millimetres, y down as the screen has it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calc.belt_route import Point, Pulley, Route, Span
from calc.belt_tensioner import Arm, Slot
from site_src.model.answers import shown

MARGIN = 34.0
"""Room round the outermost pulley, for the numbers outside the belt."""

STAND_OFF = 19.0
"""From a span to the middle of its number."""

HEAD = 16.0
"""Length of an arrowhead."""

_HEAD_SHARE = 0.5
_TRAVEL_PARTS = 24


@dataclass(frozen=True)
class Disc:
    """A pulley: its middle, its radius, its name in one or two lines."""

    x: str
    y: str
    radius: str
    lines: tuple[tuple[str, str], ...]
    role: str


@dataclass(frozen=True)
class Mark:
    """A span's number and the arrowhead that shows which way the belt runs."""

    number: int
    x: str
    y: str
    head: str


@dataclass(frozen=True)
class Drawing:
    """All marks of one route."""

    view_box: str
    belt: str
    discs: tuple[Disc, ...]
    marks: tuple[Mark, ...]
    travel: str
    ends: tuple[tuple[str, str], ...]


def draw_route(route: Route, roles: Sequence[str], tensioner: Slot | Arm | None) -> Drawing:
    """Place the marks of a route; `roles` are the pulleys', in the order of travel.

    `tensioner` is how the tensioner moves, if there is one and that was measured.
    """
    parts = range(_TRAVEL_PARTS + 1) if tensioner else ()
    travel = [tensioner.center(part / _TRAVEL_PARTS) for part in parts if tensioner]
    return Drawing(
        view_box=_view_box(route.pulleys),
        belt=_belt(route),
        discs=tuple(_disc(*pair) for pair in zip(route.pulleys, roles, strict=True)),
        marks=tuple(_mark(number, route) for number in range(len(route.spans))),
        travel="M" + "L".join(_at(point) for point in travel) if travel else "",
        ends=(_pair(travel[0]), _pair(travel[-1])) if travel else (),
    )


def _number(value: float) -> str:
    """Write a length in tenths of a millimetre."""
    return shown(value, 1)


def _pair(point: Point) -> tuple[str, str]:
    """Turn a point in metres, y up, into the drawing's own numbers."""
    return _number(1e3 * point[0]), _number(-1e3 * point[1])


def _at(point: Point) -> str:
    """Write a point as a path has it."""
    return " ".join(_pair(point))


def _view_box(pulleys: Iterable[Pulley]) -> str:
    """Return what the drawing covers."""
    discs = [(1e3 * p.x, -1e3 * p.y, 1e3 * p.radius + MARGIN) for p in pulleys]
    left, top = (math.floor(min(disc[n] - disc[2] for disc in discs)) for n in (0, 1))
    right, bottom = (math.ceil(max(disc[n] + disc[2] for disc in discs)) for n in (0, 1))
    return f"{left} {top} {right - left} {bottom - top}"


def _belt(route: Route) -> str:
    """Return the belt's path: a straight run, then the arc round the pulley that it comes to."""
    count = len(route.spans)
    pieces = [f"M{_at(route.spans[0].start)}"]
    for place, span in enumerate(route.spans):
        follower = (place + 1) % count
        pulley, wrap = route.pulleys[follower], route.wraps[follower]
        radius = _number(1e3 * pulley.radius)
        pieces.append(f"L{_at(span.end)}")
        if wrap.angle > 0.0:
            large = int(wrap.angle > math.pi)
            # What turns counter-clockwise with y up does so on the screen too: sweep 0.
            sweep = int(pulley.turn < 0)
            pieces.append(f"A{radius} {radius} 0 {large} {sweep} {_at(wrap.end)}")
    return "".join(pieces) + "Z"


def _disc(pulley: Pulley, role: str) -> Disc:
    """Place a pulley and its name, a word to a line."""
    x, y = _pair((pulley.x, pulley.y))
    words = pulley.name.split(" ", 1)
    first = -1e3 * pulley.y + 5.0 - 8.0 * (len(words) - 1)
    lines = tuple((word, _number(first + 16.0 * row)) for row, word in enumerate(words))
    return Disc(x, y, _number(1e3 * pulley.radius), lines, role)


def _mark(place: int, route: Route) -> Mark:
    """Place a span's number outside the loop, and its arrowhead in its middle."""
    span = route.spans[place]
    middle = _along(span, 0.5 * span.length)
    outside = _outside(span, route.pulleys)
    label = (
        middle[0] + outside[0] * STAND_OFF / 1e3,
        middle[1] + outside[1] * STAND_OFF / 1e3,
    )
    x, y = _pair(label)
    return Mark(place + 1, x, y, _head(span))


def _outside(span: Span, pulleys: Sequence[Pulley]) -> Point:
    """Return the direction square to a span that points away from the pulleys' middle."""
    normal = (-span.direction[1], span.direction[0])
    middle = (
        math.fsum(p.x for p in pulleys) / len(pulleys),
        math.fsum(p.y for p in pulleys) / len(pulleys),
    )
    away = (span.start[0] - middle[0]) * normal[0] + (span.start[1] - middle[1]) * normal[1]
    return normal if away >= 0.0 else (-normal[0], -normal[1])


def _along(span: Span, distance: float) -> Point:
    """Return the point of a span so far from its start."""
    return (
        span.start[0] + distance * span.direction[0],
        span.start[1] + distance * span.direction[1],
    )


def _head(span: Span) -> str:
    """Return the arrowhead's path, pointing the way of travel."""
    tip = _along(span, 0.5 * span.length + _HEAD_SHARE * HEAD / 1e3)
    heel = _along(span, 0.5 * span.length - _HEAD_SHARE * HEAD / 1e3)
    half = 0.5 * HEAD / 1e3
    across = (-span.direction[1] * half, span.direction[0] * half)
    corners = (
        tip,
        (heel[0] + across[0], heel[1] + across[1]),
        (heel[0] - across[0], heel[1] - across[1]),
    )
    return "M" + "L".join(_at(corner) for corner in corners) + "Z"
