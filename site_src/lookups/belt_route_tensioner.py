"""A tensioner on a route: what belts it takes between its stops, and where one belt puts it.

Of the belt only the runs at the tensioner and the contact with it and with its two neighbours
change as it moves. A belt's length is taken up by going along the travel: a first guess from the
parabola through both stops and the middle, then Newton's steps, since the length that a small move
takes up is known from the directions of the two runs alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc import belt_route as calc
from calc.belt_route import Circle, Run
from calc.belt_tensioner import Place, moved_along, share_of_travel
from calc.domain import Real
from site_src.lookups.belt_route_geometry import (
    Direction,
    Pulley,
    Route,
    between,
    called,
    chosen,
    first_quarter,
    if_used,
    size,
    whole_angle,
    wrap,
)
from site_src.model.entries import Entries
from site_src.model.formulas import told
from site_src.tables.trace import choose, within

REFINED = 2
"""Newton's steps after the first guess."""

SETTLED = 1e-6
"""What the length may be off in the end, m."""

LEAST_TAKEN_UP = 0.05
"""Belt taken up over the way of the tensioner, under which it is said to take up none."""

UNEVEN = 0.003
"""What the two stops' distances from the pivot may differ by, m."""

_OVERLAPS = "At one of its stops the tensioner overlaps a pulley beside it in the list."
_UNEVEN = (
    "The two stops are not equally far from the pivot, as they are on an arm. Measure pivot and "
    "both stops again, from the same datum."
)
_NO_TRAVEL = "Both stops are in the same spot. Enter where the pulley's centre is at each of them."
_LOOSENS = (
    "Moving from slack to tight this tensioner takes up no belt, or hardly any: the stops are "
    "swapped, or it goes past its tightest spot."
)
_UNSETTLED = "No place on the travel was found for this belt. Check both stops."


@dataclass(frozen=True)
class Local:
    """What belongs to the tensioner: the pulleys and the runs beside it."""

    arriving: Direction
    before: Circle
    own: Circle
    after: Circle
    leaving: Direction


@dataclass(frozen=True)
class Bend:
    """The belt from the pulley before the tensioner to the one after it."""

    length: Real
    into: Run
    out: Run


@dataclass(frozen=True)
class Travel:
    """From slack to tight: three places, the curvature, the way's length, and the pivot."""

    slack: Place
    middle: Place
    tight: Place
    curvature: Real
    length: Real


@dataclass(frozen=True)
class Seat:
    """Where a belt puts the tensioner: its place and how far that is from the slack stop."""

    x: Real
    y: Real
    gone: Real
    off: Real


def local(found: Route, flags: Sequence[Real], there: Real) -> Local:
    """Return what belongs to the pulley that is flagged with 1, the others with 0.

    `there` is 1; it is not there, with words, where no one pulley is flagged.
    """
    pulleys, runs = found.pulleys, found.runs
    before, arriving = [pulleys[0].circle], [found.arriving[0]]
    for pulley, reached in zip(pulleys[1:-1], found.arriving[1:-1], strict=True):
        before.append(chosen(pulley, pulley.circle, before[-1]))
        arriving.append(_either(pulley, reached, arriving[-1]))
    leaving = [(runs[0].right, runs[0].up)]
    for pulley, run in zip(pulleys[:1:-1], runs[:1:-1], strict=True):
        leaving.append(_either(pulley, (run.right, run.up), leaving[-1]))
    own = _flagged_circle(flags, [pulley.circle for pulley in pulleys[1:]], "tensioner")
    return Local(
        _flagged_direction(flags, arriving, "run before"),
        _flagged_circle(flags, before, "pulley before"),
        called(replace(own, signed_radius=own.signed_radius * there), "tensioner"),
        _flagged_circle(flags, found.nexts[1:], "pulley after"),
        _flagged_direction(flags, leaving[::-1], "run behind"),
    )


def _either(pulley: Pulley, then: Direction, otherwise: Direction) -> Direction:
    """Return one direction where a place is taken, another where it is empty."""
    return (
        told(if_used(pulley, then[0], otherwise[0]), "share right"),
        told(if_used(pulley, then[1], otherwise[1]), "share up"),
    )


def flagged(flags: Sequence[Real], values: Sequence[Real], name: str) -> Real:
    """Return the first value whose flag is 1, named; the last one where none is."""
    found = values[-1]
    for flag, value in zip(flags[-2::-1], values[-2::-1], strict=True):
        found = told(choose(flag, 0.5, found, value), name)
    return found


def _flagged_circle(flags: Sequence[Real], circles: Sequence[Circle], name: str) -> Circle:
    """Return the circle that is flagged."""
    return Circle(
        flagged(flags, [circle.x for circle in circles], f"{name}, right"),
        flagged(flags, [circle.y for circle in circles], f"{name}, up"),
        flagged(flags, [circle.signed_radius for circle in circles], f"{name}, radius"),
    )


def _flagged_direction(
    flags: Sequence[Real], directions: Sequence[Direction], name: str
) -> Direction:
    """Return the direction that is flagged."""
    return (
        flagged(flags, [direction[0] for direction in directions], f"{name}, right"),
        flagged(flags, [direction[1] for direction in directions], f"{name}, up"),
    )


# --- the belt at the tensioner -----------------------------------------------------------------


def bend(at: Local, x: Real, y: Real) -> Bend:
    """Return the belt past the tensioner with its centre at a spot."""
    own = Circle(x, y, at.own.signed_radius)
    into = between(at.before, own, _OVERLAPS, "run into the tensioner")
    out = between(own, at.after, _OVERLAPS, "run out of the tensioner")
    directions = (at.arriving, (into.right, into.up), (out.right, out.up), at.leaving)
    length = into.length + out.length
    for n, circle in enumerate((at.before, own, at.after)):
        turn = choose(circle.signed_radius, 0.0, -1.0, 1.0)
        angle = wrap(directions[n], directions[n + 1], turn)
        length = length + angle * size(circle.signed_radius)
    return Bend(told(length, "belt past the tensioner"), into, out)


def taken_up(belt: Bend, place: Place) -> Real:
    """Return the belt that a small move towards tight takes up, over the move."""
    right, up = belt.into.right - belt.out.right, belt.into.up - belt.out.up
    return told(right * place.right + up * place.up, "belt taken up over the move")


def tightens(belt: Bend, place: Place, gives: Real) -> Real:
    """Return a value if moving towards tight takes up belt there."""
    return within(taken_up(belt, place), LEAST_TAKEN_UP, None, below=_LOOSENS, gives=gives)


# --- the travel --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Arm:
    """A travel round a pivot: unit directions to both stops, the side it goes to, the radius."""

    x: Real
    y: Real
    slack: Direction
    side: Real
    radius: Real


def travel(e: Entries) -> tuple[Travel, Arm]:
    """Return the way from slack to tight, of a slot or of an arm, and the arm."""
    slot, (arm, swing) = _slot(e), _swing(e)

    def of(straight: Real, round_pivot: Real) -> Real:
        return e.pick("tensioner_way", {"slot": straight, "arm": round_pivot, "none": straight})

    def place(straight: Place, round_pivot: Place, name: str) -> Place:
        return _told(
            Place(
                of(straight.x, round_pivot.x),
                of(straight.y, round_pivot.y),
                of(straight.right, round_pivot.right),
                of(straight.up, round_pivot.up),
            ),
            name,
        )

    way = Travel(
        place(slot.slack, swing.slack, "slack stop"),
        place(slot.middle, swing.middle, "middle"),
        place(slot.tight, swing.tight, "tight stop"),
        told(of(0.0, swing.curvature), "curvature of its way"),
        told(of(slot.length, swing.length), "its travel"),
    )
    return way, arm


def _told(place: Place, name: str) -> Place:
    """Return a place that formulas name."""
    return Place(
        told(place.x, f"{name}, right"),
        told(place.y, f"{name}, up"),
        told(place.right, f"way at {name}, right"),
        told(place.up, f"way at {name}, up"),
    )


def _slot(e: Entries) -> Travel:
    """Return the way along a slot."""
    x, y = e["slack_x"], e["slack_y"]
    dx, dy = e["tight_x"] - x, e["tight_y"] - y
    length = told(within(_size_of((dx, dy)), 0.001, None, below=_NO_TRAVEL), "slot")
    right, up = dx / length, dy / length
    slack, middle, tight = (
        Place(x + share * dx, y + share * dy, right, up) for share in (0.0, 0.5, 1.0)
    )
    return Travel(slack, middle, tight, 0.0, length)


def _swing(e: Entries) -> tuple[Arm, Travel]:
    """Return the way round a pivot."""
    x, y = e["pivot_x"], e["pivot_y"]
    a, b = (e["slack_x"] - x, e["slack_y"] - y), (e["tight_x"] - x, e["tight_y"] - y)
    first, second = _size_of(a), _size_of(b)
    radius = within(
        first - second, -UNEVEN, UNEVEN, below=_UNEVEN, above=_UNEVEN, gives=0.5 * (first + second)
    )
    radius = told(radius, "arm")
    slack, tight = _towards(a, first), _towards(b, second)
    middle = slack[0] + tight[0], slack[1] + tight[1]
    half = _size_of(middle)
    cross = slack[0] * tight[1] - slack[1] * tight[0]
    side = told(choose(cross, 0.0, -1.0, 1.0), "way round")
    arm = Arm(x, y, slack, side, radius)
    angle = _angle(slack, tight, side)
    way = Travel(
        _on_arm(arm, slack),
        _on_arm(arm, _towards(middle, half)),
        _on_arm(arm, tight),
        side / radius,
        within(radius * angle, 0.001, None, below=_NO_TRAVEL),
    )
    return arm, way


def _size_of(arrow: Direction) -> Real:
    """Return an arrow's length."""
    return told((arrow[0] * arrow[0] + arrow[1] * arrow[1]) ** 0.5, "distance")


def _towards(arrow: Direction, length: Real) -> Direction:
    """Return an arrow of a known length as a unit direction."""
    return told(arrow[0] / length, "share right"), told(arrow[1] / length, "share up")


def _on_arm(arm: Arm, towards: Direction) -> Place:
    """Return the place that lies in a direction from the pivot."""
    right, up = towards
    x, y = arm.x + arm.radius * right, arm.y + arm.radius * up
    return Place(x, y, -1.0 * arm.side * up, arm.side * right)


def _angle(a: Direction, b: Direction, side: Real) -> Real:
    """Return the angle from one unit direction to another, half a turn at most."""
    cosine, sine = calc.turning(a, b, side)
    cosine, sine = told(cosine, "cosine"), told(sine, "sine")
    return told(whole_angle(cosine, size(sine), first_quarter(cosine, sine)), "angle swung")


def seat(
    at: Local, way: Travel, arm: Arm, e: Entries, missing: Real, three: Sequence[Real]
) -> Seat:
    """Return where a belt puts the tensioner.

    Args:
        at [m]: what belongs to the tensioner.
        way [m]: its travel.
        arm [m]: its arm, if it has one.
        e [m]: the entries.
        missing [m]: the belt past the tensioner, all of it.
        three [m]: the belt past it at the slack stop, in the middle and at the tight stop.
    """
    slack, middle, tight = three
    ends, half = told(tight - slack, "belt that it takes up"), told(middle - slack, "half of it")
    share = told(share_of_travel(missing - slack, ends, half), "share of the travel, guessed")
    place = _told(
        moved_along(way.slack, told(share * way.length, "first step"), way.curvature), "first guess"
    )
    for _ in range(REFINED):
        belt = bend(at, place.x, place.y)
        step = told((missing - belt.length) / taken_up(belt, place), "step")
        place = _told(moved_along(place, step, way.curvature), "place found")
    off = missing - bend(at, place.x, place.y).length
    straight = (place.x - way.slack.x) * way.slack.right + (place.y - way.slack.y) * way.slack.up
    towards = _towards((place.x - arm.x, place.y - arm.y), arm.radius)
    swung = arm.radius * _angle(arm.slack, towards, arm.side)
    gone = e.pick("tensioner_way", {"slot": straight, "arm": swung, "none": straight})

    def settled(value: Real) -> Real:
        return within(
            off, -SETTLED, SETTLED, below=_UNSETTLED, above=_UNSETTLED, gives=value, hair=0.01
        )

    return Seat(settled(place.x), settled(place.y), settled(gone), off)
