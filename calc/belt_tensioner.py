"""Where a tensioner must be to take a belt of a given length, and what travel is left.

A tensioner is one pulley of a route whose centre moves along a slot or swings on an arm. Its
position runs from 0, slack, where the shortest belt lies, to 1, tight, where the longest does. The
belt's length must grow all the way from 0 to 1; a travel that carries the pulley past its tightest
point, or that starts where it misses the belt, is refused. Stretch, wear and the length tolerance
of the belt are what the travel left over is for; they are not computed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.belt_route import Point, Pulley, RouteError, pitch_length, trace_route
from calc.domain import Real, require
from calc.solve import root_between

_SAMPLES = 64


@dataclass(frozen=True)
class Slot:
    """A tensioner whose centre slides on a straight line, from slack to tight."""

    slack: Point
    tight: Point

    @property
    def travel(self) -> float:
        """Whole path of the centre, in metres."""
        return math.dist(self.slack, self.tight)

    def center(self, position: float) -> Point:
        """Centre at a position from 0, slack, to 1, tight."""
        (x0, y0), (x1, y1) = self.slack, self.tight
        return x0 + position * (x1 - x0), y0 + position * (y1 - y0)


@dataclass(frozen=True)
class Arm:
    """A tensioner on a swinging arm; angles in radians, counter-clockwise from pointing right."""

    pivot: Point
    radius: float
    slack_angle: float
    tight_angle: float

    @property
    def travel(self) -> float:
        """Whole path of the centre, in metres."""
        return self.radius * abs(self.tight_angle - self.slack_angle)

    def center(self, position: float) -> Point:
        """Centre at a position from 0, slack, to 1, tight."""
        angle = self.slack_angle + position * (self.tight_angle - self.slack_angle)
        return (
            self.pivot[0] + self.radius * math.cos(angle),
            self.pivot[1] + self.radius * math.sin(angle),
        )


@dataclass(frozen=True)
class TensionerFit:
    """A tensioner that takes a belt: its position and centre, and what is left both ways.

    `travel_*` is the path of the pulley's centre, `length_*` the belt length that it takes up, in
    metres.
    """

    position: float
    center: Point
    travel_to_slack: float
    travel_to_tight: float
    length_to_slack: float
    length_to_tight: float


@dataclass(frozen=True)
class StockFit:
    """A belt from stock on a route: how it fits, or how far it misses.

    `miss` is in metres, negative for a belt that is too short, positive for one too long.
    """

    effective_length: float
    fit: TensionerFit | None
    miss: float


def move_tensioner(
    pulleys: Sequence[Pulley], index: int, tensioner: Slot | Arm, position: float
) -> tuple[Pulley, ...]:
    """The same pulleys with the tensioner at a position of its travel.

    Args:
        pulleys [m]: in the order of travel.
        index [1]: place of the tensioner among them, from 0; not checked: a place that there is
            not raises IndexError.
        tensioner [m]: its slot or arm.
        position [1]: 0 to 1, from slack to tight.

    Returns:
        [m]: the pulleys.

    Raises:
        DomainError: position outside its range.

    Source: definition.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> move_tensioner(pair, 1, Slot((0.3, 0), (0.5, 0)), 0.25)[1].x
    0.35
    """
    require("position", position, 0.0, 1.0)
    x, y = tensioner.center(position)
    moved = replace(pulleys[index], x=x, y=y)
    return (*pulleys[:index], moved, *pulleys[index + 1 :])


def fit_length(
    pulleys: Sequence[Pulley], index: int, tensioner: Slot | Arm, length: float
) -> TensionerFit:
    """Position of the tensioner that takes up a belt of a given pitch length.

    Args:
        pulleys [m]: in the order of travel.
        index [1]: place of the tensioner among them, from 0; not checked: a place that there is
            not raises IndexError.
        tensioner [m]: its slot or arm.
        length [m]: pitch length of the belt; not checked: one beyond the travel raises RouteError.

    Returns:
        [1]: the position, and the travel left both ways.

    Raises:
        RouteError: the length is beyond the travel, or does not grow along it.

    Source: `root_between` on the traced length.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> fit_length(pair, 1, Slot((0.3, 0), (0.5, 0)), 1.42832).position
    0.50000
    """
    shortest, longest = length_range(pulleys, index, tensioner)
    if not shortest <= length <= longest:
        raise RouteError(
            f"a belt of {length * 1e3:.1f} mm pitch length does not fit: "
            f"the tensioner takes {shortest * 1e3:.1f} to {longest * 1e3:.1f} mm"
        )

    def length_at(position: Real) -> Real:
        return _length_at(pulleys, index, tensioner, float(position))

    position = float(root_between(length_at, 0.0, 1.0, target=length))
    return TensionerFit(
        position,
        tensioner.center(position),
        travel_to_slack=tensioner.travel * position,
        travel_to_tight=tensioner.travel * (1.0 - position),
        length_to_slack=length - shortest,
        length_to_tight=longest - length,
    )


def length_range(
    pulleys: Sequence[Pulley], index: int, tensioner: Slot | Arm
) -> tuple[float, float]:
    """Pitch lengths that a tensioner can take, from slack to tight.

    Args:
        pulleys [m]: in the order of travel.
        index [1]: place of the tensioner among them, from 0; not checked: a place that there is
            not raises IndexError.
        tensioner [m]: its slot or arm.

    Returns:
        [m]: shortest and longest pitch length.

    Raises:
        RouteError: the length does not grow all the way from slack to tight.

    Source: the traced length, sampled along the travel.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> length_range(pair, 1, Slot((0.3, 0), (0.5, 0)))
    (1.228319, 1.628319)
    """
    steps = [i / _SAMPLES for i in range(_SAMPLES + 1)]
    lengths = [_length_at(pulleys, index, tensioner, step) for step in steps]
    for i in range(_SAMPLES):
        if lengths[i + 1] <= lengths[i]:
            raise RouteError(
                f"{pulleys[index].name} takes up no belt at {100 * steps[i]:.0f} % of its travel "
                "from slack to tight: its ends are swapped, it passes its tightest point, "
                "or it misses the belt there"
            )
    return lengths[0], lengths[-1]


def _length_at(
    pulleys: Sequence[Pulley], index: int, tensioner: Slot | Arm, position: float
) -> float:
    """Pitch length of the route with the tensioner at a position."""
    return trace_route(move_tensioner(pulleys, index, tensioner, position)).length


def stock_fits(
    pulleys: Sequence[Pulley],
    index: int,
    tensioner: Slot | Arm,
    effective_lengths: Sequence[float],
    line_differential: float,
) -> tuple[StockFit, ...]:
    """How each belt in stock fits a route.

    Args:
        pulleys [m]: in the order of travel.
        index [1]: place of the tensioner among them, from 0; not checked: a place that there is
            not raises IndexError.
        tensioner [m]: its slot or arm.
        effective_lengths [m]: lengths in stock, as in the belts' names, 0.1 to 20.
        line_differential [m]: b_e of the section, 0 to 0.01.

    Returns:
        [m]: one fit for each length, shortest belt first.

    Raises:
        DomainError: a length or line_differential outside its range.
        RouteError: the length does not grow all the way from slack to tight.

    Source: `fit_length` for each.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> slot = Slot((0.3, 0), (0.5, 0))
    >>> [belt.fit is not None for belt in stock_fits(pair, 1, slot, [1.2, 1.4], 0.002)]
    [False, True]
    """
    shortest, longest = length_range(pulleys, index, tensioner)
    fits = []
    for effective in sorted(effective_lengths):
        length = float(pitch_length(effective, line_differential))
        miss = min(length - shortest, 0.0) + max(length - longest, 0.0)
        fit = None if miss else fit_length(pulleys, index, tensioner, length)
        fits.append(StockFit(effective, fit, miss))
    return tuple(fits)


def best_stock(fits: Sequence[StockFit], wanted_position: float = 0.5) -> StockFit:
    """The belt in stock that puts the tensioner nearest to a wanted position.

    Args:
        fits [m]: as `stock_fits` gives them.
        wanted_position [1]: 0 to 1, from slack to tight.

    Returns:
        [m]: the best of those that fit; if none fits, the one that misses by least.

    Raises:
        DomainError: wanted_position outside its range.
        RouteError: there are no belts to choose from.

    Source: definition.

    >>> pair = Pulley("crank", 0, 0, 0.1, 1), Pulley("blower", 0.4, 0, 0.1, 1)
    >>> fits = stock_fits(pair, 1, Slot((0.3, 0), (0.5, 0)), [1.2, 1.4], 0.002)
    >>> best_stock(fits).effective_length
    1.4
    """
    require("wanted_position", wanted_position, 0.0, 1.0)
    if not fits:
        raise RouteError("no belts in stock to choose from")
    fitting = [(abs(f.fit.position - wanted_position), f) for f in fits if f.fit is not None]
    if fitting:
        return min(fitting, key=lambda pair: pair[0])[1]
    return min(fits, key=lambda f: abs(f.miss))


# A step along the travel ---------------------------------------------------------------------


@dataclass(frozen=True)
class Place:
    """Where a tensioner's centre is on its travel, and its unit direction from slack to tight."""

    x: Real
    y: Real
    right: Real
    up: Real


def moved_along(place: Place, step: Real, curvature: Real) -> Place:
    """A tensioner's place after a step along its slot or round its pivot.

    It stays on its circle however large the step is, but goes a little less far than the step says:
    by an angle whose half has the tangent, not the size, of half of step times curvature.

    Args:
        place [m]: where it is.
        step [m]: how far to go towards tight; not checked: less than nothing is towards slack.
        curvature [1/m]: of the travel, 0 for a slot; not checked: any circle will do. Positive
            round a pivot on the left of the way to tight.

    Returns:
        [m]: its new place.

    Source: the half-angle forms of sine and cosine.

    >>> moved_along(Place(0.1, 0.0, 0.0, 1.0), 0.2, 10.0)
    Place(x=0.0, y=0.1, right=-1.0, up=0.0)
    """
    half = curvature * step / 2.0
    whole = 1.0 + half * half
    right, up = place.right, place.up
    return Place(
        place.x + step * (right - half * up) / whole,
        place.y + step * (up + half * right) / whole,
        (right * (1.0 - half * half) - 2.0 * half * up) / whole,
        (up * (1.0 - half * half) + 2.0 * half * right) / whole,
    )


def share_of_travel(missing: Real, ends: Real, middle: Real) -> Real:
    """Share of a tensioner's travel that takes up a length, by the parabola through three places.

    Args:
        missing [m]: length to be taken up from the slack stop on; not checked: as measured.
        ends [m]: what the whole travel takes up; not checked: likewise.
        middle [m]: what half of the travel takes up; not checked: likewise.

    Returns:
        [1]: share, as a first guess.

    Source: root of the parabola, in the form that holds for a straight line too.

    >>> share_of_travel(0.03, 0.1, 0.05)
    0.3
    """
    bend = 2.0 * ends - 4.0 * middle
    slope = ends - bend
    return 2.0 * missing / (slope + (slope * slope + 4.0 * bend * missing) ** 0.5)
