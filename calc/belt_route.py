"""Geometry of a belt route: spans, wraps, length, faults, and the loads that follow from it.

Every pulley is a circle that the belt's cord runs on, so radii are pitch radii. A pulley that the
belt turns counter-clockwise counts its radius positive, one that it turns clockwise negative. Then
inside and back-side pulleys, open and crossed belts, are one case: the belt leaves pulley i for
pulley j at the heading

    heading of the line of centres - arcsin((signed radius j - signed radius i) / distance)

x points right, y up. The belt is taken as a line in one plane: its thickness enters through the
radii and through the clearance that `find_faults` checks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np

from calc.domain import Real, require

Point = tuple[float, float]
"""A point or a vector in the plane of the belt."""

Turn = Literal[1, -1]
"""Way a pulley turns: 1 counter-clockwise, -1 clockwise."""

# A wrap this close to a whole turn is a belt that just touches, off by a rounding.
_ROUNDING = 1e-9
_TENSION = (0.0, 100e3)


class RouteError(ValueError):
    """A route or a tensioner that can't exist as given; the message names the pulleys."""


@dataclass(frozen=True)
class Pulley:
    """A pulley: centre and pitch radius in metres, and which way the belt turns it."""

    name: str
    x: float
    y: float
    radius: float
    turn: Turn

    def __post_init__(self) -> None:
        """Refuse what is no pulley."""
        require(f"x of {self.name}", self.x, -10.0, 10.0)
        require(f"y of {self.name}", self.y, -10.0, 10.0)
        require(f"radius of {self.name}", self.radius, 0.001, 5.0)
        if self.turn not in (1, -1):
            raise RouteError(f"turn of {self.name} is {self.turn}, allowed is 1 or -1")

    @property
    def signed_radius(self) -> float:
        """Radius, positive for a pulley that turns counter-clockwise."""
        return self.turn * self.radius

    @property
    def circle(self) -> Circle:
        """What the geometry is worked out from."""
        return Circle(self.x, self.y, self.signed_radius)


@dataclass(frozen=True)
class Circle:
    """A pulley as the geometry sees it: centre, and radius with the sign of the way it turns."""

    x: Real
    y: Real
    signed_radius: Real


@dataclass(frozen=True)
class Run:
    """A straight run: where it leaves its pulley, its unit direction, its length."""

    x: Real
    y: Real
    right: Real
    up: Real
    length: Real


@dataclass(frozen=True)
class Span:
    """A straight run of belt: where it starts and ends, its unit direction, its length."""

    start: Point
    end: Point
    direction: Point
    length: float


@dataclass(frozen=True)
class Wrap:
    """Contact of the belt with a pulley: where it starts and ends, its angle, its length."""

    start: Point
    end: Point
    angle: float
    length: float


@dataclass(frozen=True)
class Route:
    """A closed belt: span i leaves pulley i, wrap i is the contact with pulley i."""

    pulleys: tuple[Pulley, ...]
    spans: tuple[Span, ...]
    wraps: tuple[Wrap, ...]

    @property
    def length(self) -> float:
        """Length of the belt along its cord: the pitch length, in metres."""
        straight = math.fsum(span.length for span in self.spans)
        return straight + math.fsum(wrap.length for wrap in self.wraps)

    def index(self, name: str) -> int:
        """Place of a pulley in the order of travel."""
        names = [pulley.name for pulley in self.pulleys]
        if name not in names:
            raise RouteError(f"no pulley {name}, the route has {', '.join(names)}")
        return names.index(name)


@dataclass(frozen=True)
class Fault:
    """Why a route would not work: what kind of fault, which pulleys, and the reason in words."""

    kind: Literal["crossing", "cut", "wrap"]
    pulleys: tuple[str, ...]
    message: str


def trace_route(pulleys: Sequence[Pulley]) -> Route:
    """Lay a belt round pulleys in the order in which it meets them.

    Args:
        pulleys [m]: two or more, in the order of travel.

    Returns:
        [m]: the route; it may still have faults that `find_faults` tells.

    Raises:
        RouteError: fewer than two pulleys, two of one name, or two that overlap.

    Source: geometry of common tangents.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> trace_route(pair).length
    1.42832
    """
    _require_apart(pulleys)
    followers = (*pulleys[1:], pulleys[0])
    spans = tuple(_tangent(a, b) for a, b in zip(pulleys, followers, strict=True))
    wraps = tuple(
        _wrap(pulley, spans[place - 1], spans[place]) for place, pulley in enumerate(pulleys)
    )
    return Route(tuple(pulleys), spans, wraps)


def _require_apart(pulleys: Sequence[Pulley]) -> None:
    """Refuse pulleys that share a name or the same space."""
    if len(pulleys) < 2:
        raise RouteError(f"a route of {len(pulleys)} pulleys, allowed is 2 or more")
    for a, b in combinations(pulleys, 2):
        if a.name == b.name:
            raise RouteError(f"two pulleys are named {a.name}")
        gap = math.hypot(b.x - a.x, b.y - a.y) - a.radius - b.radius
        if gap <= 0.0:
            raise RouteError(f"{a.name} and {b.name} overlap by {-gap * 1e3:.1f} mm")


def _tangent(a: Pulley, b: Pulley) -> Span:
    """Straight run from one pulley to the next."""
    length = math.sqrt(float(run_square(a.circle, b.circle)))
    run = run_between(a.circle, b.circle, length)
    start, end = leaves_at(a.circle, run), leaves_at(b.circle, run)
    direction = float(run.right), float(run.up)
    return Span(_floats(start), _floats(end), direction, length)


def _floats(point: tuple[Real, Real]) -> Point:
    """A point as plain numbers."""
    return float(point[0]), float(point[1])


def _wrap(pulley: Pulley, before: Span, after: Span) -> Wrap:
    """Contact with a pulley between two runs, as an angle from 0 to a whole turn."""
    cosine, sine = turning(before.direction, after.direction, pulley.turn)
    angle = float(wrap_angle(cosine, sine))
    return Wrap(before.end, after.start, angle, angle * pulley.radius)


# One run and one contact, on numbers, arrays and what the phone's recipe is traced from -----------


def run_square(a: Circle, b: Circle) -> Real:
    """Square of the length of the straight run from one circle to another.

    Args:
        a [m]: circle that the run leaves.
        b [m]: circle that it comes to.

    Returns:
        [m²]: square of the length; 0 or less where there is no such run, since they overlap.

    Source: Pythagoras: the run is square to both radii.

    >>> run_square(Circle(0.0, 0.0, 0.2), Circle(0.5, 0.0, -0.1))
    0.16
    """
    dx, dy, dr = b.x - a.x, b.y - a.y, b.signed_radius - a.signed_radius
    return dx * dx + dy * dy - dr * dr


def run_between(a: Circle, b: Circle, length: Real) -> Run:
    """The straight run from one circle to another.

    The line of centres, turned by the angle whose sine is the difference of the signed radii over
    the distance; sine and cosine of that are known, so that it needs no angle.

    Args:
        a [m]: circle that the run leaves.
        b [m]: circle that it comes to.
        length [m]: root of `run_square`; not checked: it is taken as given.

    Returns:
        [m]: the run.

    Source: geometry of common tangents.

    >>> run_between(Circle(0.0, 0.0, 0.2), Circle(0.5, 0.0, -0.1), 0.4)
    Run(x=0.12, y=-0.16, right=0.8, up=0.6, length=0.4)
    """
    dx, dy, dr = b.x - a.x, b.y - a.y, b.signed_radius - a.signed_radius
    square = length * length + dr * dr
    right = (dx * length + dy * dr) / square
    up = (dy * length - dx * dr) / square
    return Run(a.x + a.signed_radius * up, a.y - a.signed_radius * right, right, up, length)


def leaves_at(circle: Circle, run: Run) -> tuple[Real, Real]:
    """Point at which a run touches a circle at either of its ends.

    Args:
        circle [m]: the one that it leaves or comes to.
        run [m]: the run.

    Returns:
        [m]: the point, to the right and up.

    Source: the radius there is square to the run.

    >>> leaves_at(Circle(0.5, 0.0, -0.1), Run(0.12, -0.16, 0.8, 0.6, 0.4))
    (0.44, 0.08)
    """
    return (
        circle.x + circle.signed_radius * run.up,
        circle.y - circle.signed_radius * run.right,
    )


def turning(before: tuple[Real, Real], after: tuple[Real, Real], turn: Real) -> tuple[Real, Real]:
    """Cosine and sine of the angle by which a pulley turns the belt.

    Args:
        before [1]: unit direction of the run that comes to it, to the right and up.
        after [1]: unit direction of the run that leaves it.
        turn [1]: 1 for a pulley that turns counter-clockwise, -1 for the other way; not checked: a
            pulley has been before.

    Returns:
        [1]: cosine and sine, of the angle in the way that the pulley turns.

    Source: scalar and cross product.

    >>> turning((0.0, 1.0), (1.0, 0.0), -1)
    (0.0, 1.0)
    """
    (ux, uy), (vx, vy) = before, after
    return ux * vx + uy * vy, (ux * vy - uy * vx) * turn


def wrap_angle(cosine: Real, sine: Real) -> Real:
    """Angle of contact from its cosine and sine, 0 to a whole turn.

    Args:
        cosine [1]: of the angle of turning; not checked: only its share of the sine counts.
        sine [1]: of the angle of turning; not checked: likewise. A hair under 0 is a belt that
            just touches.

    Returns:
        [rad]: angle of contact.

    Source: the inverse tangent, by quadrant.

    >>> float(wrap_angle(0.0, 1.0)), float(wrap_angle(0.0, -1.0))
    (1.570796, 4.712389)
    """
    touches = np.greater(cosine, 0.0) & np.less(sine, 0.0) & np.greater_equal(sine, -_ROUNDING)
    return np.where(touches, 0.0, np.arctan2(sine, cosine) % (2.0 * np.pi))


def slope_angle(slope: Real) -> Real:
    """Angle of a slope, which the phone looks up.

    Args:
        slope [1]: rise over run, 0 to 1.

    Returns:
        [rad]: angle.

    Raises:
        DomainError: slope outside its range.

    Source: the inverse tangent.

    >>> float(slope_angle(1.0))
    0.785398
    """
    require("slope", slope, 0.0, 1.0)
    return np.arctan(slope)


def rim_gap(a: Circle, b: Circle, radii: Real) -> Real:
    """Gap between the rims of two pulleys; less than nothing where they overlap.

    Args:
        a [m]: one pulley.
        b [m]: the other.
        radii [m]: sum of both radii, without their signs; not checked: pulleys have been before.

    Returns:
        [m]: gap.

    Source: Pythagoras.

    >>> rim_gap(Circle(0.0, 0.0, 0.1), Circle(0.3, 0.4, -0.15), 0.25)
    0.25
    """
    dx, dy = b.x - a.x, b.y - a.y
    return (dx * dx + dy * dy) ** 0.5 - radii


def along_run(run: Run, x: Real, y: Real) -> Real:
    """How far along a run a point lies.

    Args:
        run [m]: the run.
        x [m]: to the right; not checked: any point lies somewhere along it.
        y [m]: up; not checked: likewise.

    Returns:
        [m]: distance from the run's start to the foot of the square through the point.

    Source: scalar product.

    >>> along_run(Run(0.0, 0.1, 1.0, 0.0, 0.5), 0.2, 0.4)
    0.2
    """
    return x * run.right + y * run.up - (run.x * run.right + run.y * run.up)


def beside_run(run: Run, x: Real, y: Real) -> Real:
    """How far beside a run a point lies, positive on its left.

    Args:
        run [m]: the run.
        x [m]: to the right; not checked: any point lies somewhere along it.
        y [m]: up; not checked: likewise.

    Returns:
        [m]: distance square to the run.

    Source: cross product.

    >>> beside_run(Run(0.0, 0.1, 1.0, 0.0, 0.5), 0.2, 0.4)
    0.3
    """
    return y * run.right - x * run.up - (run.y * run.right - run.x * run.up)


# Faults -------------------------------------------------------------------------------------


def find_faults(
    route: Route, minimum_wraps: Sequence[float], clearance: float = 0.0
) -> tuple[Fault, ...]:
    """Everything that keeps a belt from running on a route.

    Args:
        route [m]: as traced.
        minimum_wraps [rad]: least contact angle of each pulley, 0 for none.
        clearance [m]: space to keep between a span and what it passes, 0 to 0.1.

    Returns:
        [m]: the faults: spans that cross, spans that cut a pulley, wraps that are too small.

    Raises:
        DomainError: clearance outside its range.

    Source: geometry.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, -1)
    >>> [fault.kind for fault in find_faults(trace_route(pair), (0.0, 0.0))]
    ['crossing']
    """
    require("clearance", clearance, 0.0, 0.1)
    return (
        *_crossings(route, clearance),
        *_cuts(route, clearance),
        *_small_wraps(route, minimum_wraps),
    )


def _crossings(route: Route, clearance: float) -> list[Fault]:
    """Spans that cross each other, or that are not adjacent and pass too close."""
    count = len(route.spans)
    faults = []
    for i, j in combinations(range(count), 2):
        a, b = route.spans[i], route.spans[j]
        names = (*_ends(route, i), *_ends(route, j))
        between = f"{names[0]}-{names[1]} and {names[2]}-{names[3]}"
        adjacent = j - i == 1 or (i == 0 and j == count - 1)
        if _cross(a, b):
            text = f"the runs {between} cross: a pulley is on the wrong side, or misses the belt"
            faults.append(Fault("crossing", names, text))
        elif not adjacent and (gap := _gap(a, b)) <= clearance:
            text = f"the runs {between} pass within {gap * 1e3:.1f} mm of each other"
            faults.append(Fault("crossing", names, text))
    return faults


def _cuts(route: Route, clearance: float) -> list[Fault]:
    """Spans that run into a pulley on their way to another."""
    count = len(route.pulleys)
    faults = []
    for i, span in enumerate(route.spans):
        start, end = _ends(route, i)
        for j in set(range(count)) - {i, (i + 1) % count}:
            pulley = route.pulleys[j]
            gap = _distance((pulley.x, pulley.y), span) - pulley.radius
            if gap <= clearance:
                how = f"passes {gap * 1e3:.1f} mm from" if gap > 0 else "cuts into"
                text = f"the run {start}-{end} {how} {pulley.name}"
                faults.append(Fault("cut", (start, end, pulley.name), text))
    return faults


def _small_wraps(route: Route, minimum_wraps: Sequence[float]) -> list[Fault]:
    """Pulleys with less contact than they need."""
    faults = []
    for pulley, wrap, least in zip(route.pulleys, route.wraps, minimum_wraps, strict=True):
        if wrap.angle < least:
            there, needed = math.degrees(wrap.angle), math.degrees(least)
            text = f"{pulley.name} has {there:.1f}° of wrap, it needs {needed:.1f}°"
            faults.append(Fault("wrap", (pulley.name,), text))
    return faults


def _ends(route: Route, span: int) -> tuple[str, str]:
    """Names of the pulleys that a span joins."""
    return route.pulleys[span].name, route.pulleys[(span + 1) % len(route.pulleys)].name


def _side(origin: Point, towards: Point, point: Point) -> float:
    """Positive if a point lies left of a line, negative if right."""
    return (towards[0] - origin[0]) * (point[1] - origin[1]) - (towards[1] - origin[1]) * (
        point[0] - origin[0]
    )


def _cross(a: Span, b: Span) -> bool:
    """Whether two spans cross at a point inside both."""
    return (
        _side(a.start, a.end, b.start) * _side(a.start, a.end, b.end) < 0.0
        and _side(b.start, b.end, a.start) * _side(b.start, b.end, a.end) < 0.0
    )


def _distance(point: Point, span: Span) -> float:
    """Shortest distance of a point from a span."""
    dx, dy = point[0] - span.start[0], point[1] - span.start[1]
    along = min(max(dx * span.direction[0] + dy * span.direction[1], 0.0), span.length)
    return math.hypot(dx - along * span.direction[0], dy - along * span.direction[1])


def _gap(a: Span, b: Span) -> float:
    """Shortest distance between two spans that do not cross."""
    return min(
        *(_distance(end, b) for end in (a.start, a.end)),
        *(_distance(end, a) for end in (b.start, b.end)),
    )


# Loads and sensitivity ----------------------------------------------------------------------


def span_tensions(
    route: Route, driver: int, driven: int, tight: float, slack: float
) -> tuple[float, ...]:
    """Tension of every span where one pulley drives and one takes the power.

    The driver pulls the belt in, so the runs that come to it from the driven pulley are tight
    and those that leave it are slack. Idlers pass the tension on.

    Args:
        route [m]: as traced.
        driver [1]: place of the driving pulley in the route, from 0; not checked: a place that
            the route does not have raises IndexError.
        driven [1]: place of the pulley that takes the power; not checked: likewise.
        tight [N]: tension of the tight runs, 0 to 100e3.
        slack [N]: tension of the slack runs, 0 to 100e3.

    Returns:
        [N]: one tension for each span.

    Raises:
        DomainError: a tension outside its range.
        RouteError: driver and driven are the same pulley.

    Source: statics.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> span_tensions(trace_route(pair), 0, 1, 900.0, 300.0)
    (300.0, 900.0)
    """
    require("tight", tight, *_TENSION)
    require("slack", slack, *_TENSION)
    if driver == driven:
        raise RouteError(f"{route.pulleys[driver].name} can't both drive and take the power")
    count = len(route.spans)
    to_driven = (driven - driver) % count
    return tuple(slack if (i - driver) % count < to_driven else tight for i in range(count))


def hub_load_vector(
    route: Route, pulley: int, tension_in: float, tension_out: float, centrifugal: float
) -> Point:
    """Force of the belt on the bearing of one pulley.

    Args:
        route [m]: as traced.
        pulley [1]: place of the pulley in the route, from 0; not checked: a place that the route
            does not have raises IndexError.
        tension_in [N]: tension of the span that comes to it, 0 to 100e3.
        tension_out [N]: tension of the span that leaves it, 0 to 100e3.
        centrifugal [N]: centrifugal tension, 0 at rest, 0 to 100e3.

    Returns:
        [N]: components to the right and up.

    Raises:
        DomainError: a tension outside its range.

    Source: statics; the centrifugal part turns the belt itself and does not reach the bearing.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> hub_load_vector(trace_route(pair), 1, 300.0, 900.0, 0.0)
    (-1200.0, 0.0)
    """
    require("tension_in", tension_in, *_TENSION)
    require("tension_out", tension_out, *_TENSION)
    require("centrifugal", centrifugal, *_TENSION)
    back, ahead = centrifugal - tension_in, tension_out - centrifugal
    u, v = route.spans[pulley - 1].direction, route.spans[pulley].direction
    return back * u[0] + ahead * v[0], back * u[1] + ahead * v[1]


def length_gradient(route: Route, pulley: int) -> Point:
    """Belt length that moving one pulley takes up, per length moved.

    Args:
        route [m]: as traced.
        pulley [1]: place of the pulley in the route, from 0; not checked: a place that the route
            does not have raises IndexError.

    Returns:
        [1]: belt taken up per distance moved to the right and up.

    Source: to first order the wraps keep the length, so only the two spans count.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> length_gradient(trace_route(pair), 1)
    (2.0, 0.0)
    """
    u, v = route.spans[pulley - 1].direction, route.spans[pulley].direction
    return u[0] - v[0], u[1] - v[1]


# Lengths ------------------------------------------------------------------------------------


def effective_length(pitch_length: Real, line_differential: Real) -> Real:
    """Length in the belt's name from the length along its cord.

    A belt that closes without crossing turns once round, with any number of idlers, so the line
    that is b_e inside the cord is shorter by one circle of that radius.

    Args:
        pitch_length [m]: length along the cord, 0.1 to 20.
        line_differential [m]: b_e, 0 to 0.01.

    Returns:
        [m]: effective length.

    Raises:
        DomainError: an input outside its range.

    Source: geometry of parallel curves.

    >>> float(effective_length(1.512566, 0.002))
    1.5
    """
    require("pitch_length", pitch_length, 0.1, 20.0)
    require("line_differential", line_differential, 0.0, 0.010)
    return pitch_length - 2.0 * np.pi * line_differential


def pitch_length(effective_length: Real, line_differential: Real) -> Real:
    """Length along the cord from the effective length in the belt's name.

    Args:
        effective_length [m]: 0.1 to 20.
        line_differential [m]: b_e, 0 to 0.01.

    Returns:
        [m]: pitch length.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `effective_length`.

    >>> float(pitch_length(1.5, 0.002))
    1.512566
    """
    require("effective_length", effective_length, 0.1, 20.0)
    require("line_differential", line_differential, 0.0, 0.010)
    return effective_length + 2.0 * np.pi * line_differential
