"""The geometry of a route of up to ten pulleys, from `calc`, on numbers and on symbols alike.

A place in the list may be empty. What an empty place holds is put far away, each at a spot of its
own, so that its runs and gaps are numbers without meaning that nothing reads, and the belt goes
from each pulley to the next one that is there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc import belt_route as calc
from calc.belt_route import Circle, Run
from calc.domain import Real
from site_src.model.formulas import told
from site_src.tables.compiler import cubic
from site_src.tables.trace import choose, greatest, least, tabulated, within

PLACES = 10
"""Pulleys that a route may have."""

FAR = 50.0
"""From where on empty places are put, m: far from whatever a tape reaches."""

HALF, TURN = math.pi, 2.0 * math.pi

NO_CROSSING = -1e-12
"""Product of two distances, m², under which two ends lie on either side of a run for certain."""

TOUCHES = -1e-9
"""Sine from which on a belt that seems to go all the way round just touches, as in `calc`."""

ENDS = 1e-9
"""What a place along a run may be off by rounding, m."""

ANGLE = tabulated(
    "atan",
    calc.slope_angle,
    cubic("slope", "slope", 0.0, 1.0),
    tolerance=1e-9,
    by=(calc.slope_angle,),
)

Direction = tuple[Real, Real]


@dataclass(frozen=True)
class Pulley:
    """A place of the list: its number, whether it is taken (1 or 0), circle, radius, turn."""

    number: int
    used: Real
    circle: Circle
    radius: Real
    turn: Real


@dataclass(frozen=True)
class Route:
    """A belt round the pulleys: what leaves and reaches each place, and how far it wraps."""

    pulleys: tuple[Pulley, ...]
    nexts: tuple[Circle, ...]
    runs: tuple[Run, ...]
    arriving: tuple[Direction, ...]
    cosines: tuple[Real, ...]
    sines: tuple[Real, ...]
    firsts: tuple[Real, ...]
    wraps: tuple[Real, ...]

    def of_used(self, values: Sequence[Real], empty: float = 0.0, name: str = "") -> list[Real]:
        """Return values by place, a number in place of those of empty ones; with a name, told."""
        found = [if_used(p, v, empty) for p, v in zip(self.pulleys, values, strict=True)]
        return [told(v, f"{name} {n}") for n, v in enumerate(found, 1)] if name else found


# --- pulleys and runs --------------------------------------------------------------------------


def if_used(pulley: Pulley, then: Real, otherwise: Real) -> Real:
    """Return one value where a place is taken, another where it is empty."""
    return then if pulley.number == 1 else choose(pulley.used, 0.5, otherwise, then)


def put(number: int, used: Real, x: Real, y: Real, radius: Real, turn: Real) -> Pulley:
    """Return the pulley at a place; far away if the place is empty."""
    bare = Pulley(number, used, Circle(x, y, radius * turn), radius, turn)
    away = FAR + 10.0 * number
    circle = chosen(bare, bare.circle, Circle(away, away, 0.05))
    return replace(bare, circle=circle, radius=if_used(bare, radius, 0.05))


def size(value: Real) -> Real:
    """Return a number without its sign."""
    return greatest(value, -1.0 * value)


def between(a: Circle, b: Circle, overlap: str, name: str = "") -> Run:
    """Return the run from one circle to another, told if it has a name.

    Where the circles overlap, there is none, and the words say so.
    """
    square = within(calc.run_square(a, b), 1e-6, None, below=overlap)
    if not name:
        return calc.run_between(a, b, square**0.5)
    run = calc.run_between(a, b, told(square**0.5, name))
    right, up = told(run.right, f"{name}, right"), told(run.up, f"{name}, up")
    return replace(run, right=right, up=up)


def first_quarter(cosine: Real, sine: Real) -> Real:
    """Return the angle, up to a quarter turn, that has these without their signs."""
    a, b = size(cosine), size(sine)
    slope = least(a, b) / greatest(a, b)
    angle = told(ANGLE(slope), "angle in the first octant")
    return choose(a, b, 0.5 * HALF - angle, angle)


def whole_angle(cosine: Real, sine: Real, first: Real) -> Real:
    """Return the angle from 0 to a whole turn, from the one in the first quarter."""
    first = told(first, "angle in the first quarter")
    half = told(choose(cosine, 0.0, HALF - first, first), "angle without its sign")
    touches = choose(cosine, 0.0, TURN - half, 0.0)
    under = told(choose(sine, TOUCHES, TURN - half, touches), "a turn less that")
    return choose(sine, 0.0, under, half)


def wrap(before: Direction, after: Direction, turn: Real) -> Real:
    """Return the angle of contact between two runs."""
    cosine, sine = calc.turning(before, after, turn)
    cosine, sine = told(cosine, "its cosine"), told(sine, "its sine")
    return told(whole_angle(cosine, sine, first_quarter(cosine, sine)), "wrap")


def chosen(pulley: Pulley, then: Circle, otherwise: Circle) -> Circle:
    """Return one circle where a place is taken, another where it is empty."""
    return called(
        Circle(
            if_used(pulley, then.x, otherwise.x),
            if_used(pulley, then.y, otherwise.y),
            if_used(pulley, then.signed_radius, otherwise.signed_radius),
        ),
        "pulley",
    )


def called(circle: Circle, name: str) -> Circle:
    """Return a circle that formulas call by a name."""
    return Circle(
        told(circle.x, f"{name}, right"),
        told(circle.y, f"{name}, up"),
        told(circle.signed_radius, f"{name}, radius"),
    )


def followers(pulleys: Sequence[Pulley]) -> list[Circle]:
    """Return, by place, the circle that the belt goes to from there."""
    found = [pulleys[0].circle]
    for pulley in reversed(pulleys[1:]):
        found.append(chosen(pulley, pulley.circle, found[-1]))
    return found[::-1]


def route(pulleys: Sequence[Pulley]) -> Route:
    """Lay the belt from each pulley to the next."""
    nexts = followers(pulleys)
    others: Real = pulleys[1].used
    for pulley in pulleys[2:]:
        others = others + pulley.used
    nexts[0] = replace(nexts[0], x=within(others, 1.0, None, below=ALONE, gives=nexts[0].x))
    runs = [
        between(
            p.circle,
            after,
            f"Pulley {p.number} and the one after it overlap: {LOOK}",
        )
        for p, after in zip(pulleys, nexts, strict=True)
    ]
    last: Direction = runs[0].right, runs[0].up
    arriving: list[Direction] = []
    for pulley, run in zip(pulleys[1:], runs[1:], strict=True):
        arriving.append(last)
        last = (
            told(if_used(pulley, run.right, last[0]), "share right of the run before"),
            told(if_used(pulley, run.up, last[1]), "share up of the run before"),
        )
    arriving = [last, *arriving]
    turned = [
        calc.turning(before, (run.right, run.up), pulley.turn)
        for before, run, pulley in zip(arriving, runs, pulleys, strict=True)
    ]
    firsts = [first_quarter(cosine, sine) for cosine, sine in turned]
    return Route(
        tuple(pulleys),
        tuple(nexts),
        tuple(runs),
        tuple(arriving),
        tuple(cosine for cosine, _ in turned),
        tuple(sine for _, sine in turned),
        tuple(firsts),
        tuple(whole_angle(*pair, first) for pair, first in zip(turned, firsts, strict=True)),
    )


ALONE = "There is only the crank. Say at each further place of the list what pulley is there."
LOOK = "look at their places, signs, diameters and units."


# --- what keeps a belt from running ------------------------------------------------------------


def gaps(pulleys: Sequence[Pulley]) -> list[Real]:
    """Return, by place but the first, the least gap to the pulleys before it."""
    return [
        told(
            least(
                *(calc.rim_gap(p.circle, q.circle, p.radius + q.radius) for q in pulleys[:n]),
                FAR,
            ),
            f"gap between pulley {p.number} and those before it",
        )
        for n, p in enumerate(pulleys[1:], 1)
    ]


def rooms(found: Route) -> list[Real]:
    """Return, by place, the least room that the run from there has past another pulley."""
    lengths = found.of_used([run.length for run in found.runs])
    return [
        told(
            least(*(_room(run, lengths[n], q) for q in found.pulleys if q.number != n + 1)),
            f"room beside the run from pulley {n + 1}",
        )
        for n, run in enumerate(found.runs)
    ]


def _room(run: Run, length: Real, pulley: Pulley) -> Real:
    """Return what a pulley leaves of room to a run beside which it stands.

    Before and behind the run the next thing is a pulley that the run touches, and the gap between
    the two pulleys counts.
    """
    along = told(calc.along_run(run, pulley.circle.x, pulley.circle.y), "place along it")
    aside = told(calc.beside_run(run, pulley.circle.x, pulley.circle.y), "distance beside it")
    beside = size(aside) - pulley.radius
    ahead = choose(along, length - ENDS, beside, FAR)
    return choose(ENDS, along, ahead, FAR)


def crossings(found: Route) -> list[Real]:
    """Return, by place, less than `NO_CROSSING` if the run from there crosses another."""
    lengths = found.of_used([run.length for run in found.runs])
    pairs: dict[tuple[int, int], Real] = {}
    for i, a in enumerate(found.runs):
        for j, b in enumerate(found.runs[:i]):
            sine = a.right * b.up - a.up * b.right
            pairs[i, j] = pairs[j, i] = greatest(
                _either_side(a, b, lengths[j] * sine), _either_side(b, a, -lengths[i] * sine)
            )
    return [least(*(pairs[i, j] for j in range(PLACES) if j != i)) for i in range(PLACES)]


def _either_side(run: Run, other: Run, across: Real) -> Real:
    """Return the product of how far both ends of another run lie beside this one."""
    start = calc.beside_run(run, other.x, other.y)
    return start * (start + across)


def area(found: Route) -> Real:
    """Return twice the area that the centres go round, positive if they go the belt's own way."""
    pieces = [
        p.circle.x * after.y - after.x * p.circle.y
        for p, after in zip(found.pulleys, found.nexts, strict=True)
    ]
    total: Real = 0.0
    for piece in found.of_used(pieces):
        total = total + piece
    return total * found.pulleys[0].turn


def turned_in_all(found: Route) -> Real:
    """Return by how much the belt turns in all in its own way: one turn, if it is laid right."""
    total: Real = 0.0
    own = found.pulleys[0].turn
    for angle, pulley in zip(found.of_used(found.wraps), found.pulleys, strict=True):
        total = total + angle * (pulley.turn * own)
    return total
