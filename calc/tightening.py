"""The order in which the bolts of a pattern are tightened, and the passes it takes.

From the centre outward, ring by ring. Within a ring the next bolt is the one most opposite to the
last; of two such, the left one, then the upper one. A neighbour comes next only where no order of
the rings avoids it. One evenly bolted circle goes crosswise in quarters, as flanges do. Bolts are
numbers from 0 in the order in which their positions are given; x runs to the right, y upwards.

An even order is all that this gives. The maker's own order goes first, wherever it starts: castings
have stiff and weak places that no drawing of the bolt holes shows.

The phone finds the same orders from typed places. For that, everything that decides an order uses
only + − × ÷ √, comparisons and rounding down, which give the same bits on every machine; distances
and angles from a library of functions don't.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from calc.domain import require

Positions = Sequence[tuple[float, float]]

USUAL_SHARES = (0.3, 0.6, 1.0)
"""Shares of the final torque in the usual passes."""

_MOST_BOLTS = 60
_FEWEST_ON_A_CIRCLE = 5
# Bolts whose distances from the centre differ by less than this share of their spacing are a ring.
_RING_WIDTH = 0.05
# The same for patterns without symmetry, where nearly every bolt would be a ring of its own.
_WIDE_RING = 0.5
# A bolt on the rim of the circle over two others is between them; a tape measure has its error.
_RIM = 1.05
# A bolt nearer than this share of the spacing to the outline lies on it.
_OUTLINE_SLACK = 0.05
# Less than this off a line is on it, in spacings.
_SAME_LINE = 1e-9
# Two measures of a bolt that differ by less than this are equal; for angles in right angles.
_TIE = 1e-6
_TIE_OF_ANGLE = 1e-9


def grid_positions(
    rows: int, columns: int, row_pitch: float = 1.0, column_pitch: float = 1.0
) -> list[tuple[float, float]]:
    """Positions of a rectangular pattern, along the top row first, as a page is read.

    Args:
        rows [1]: number of rows, 1 to 60.
        columns [1]: number of columns, 1 to 60; at most 60 bolts in all.
        row_pitch [m]: distance between rows, 1e-6 to 1e6.
        column_pitch [m]: distance between columns, 1e-6 to 1e6.

    Returns:
        [m]: x to the right and y upwards of each bolt.

    Raises:
        DomainError: an argument outside its range, or too many bolts.

    Source: geometry.

    >>> grid_positions(2, 2)
    [(0.0, 0.0), (1.0, 0.0), (0.0, -1.0), (1.0, -1.0)]
    """
    require("rows", rows, 1, _MOST_BOLTS)
    require("columns", columns, 1, _MOST_BOLTS)
    require("rows times columns", float(rows * columns), 1, _MOST_BOLTS)
    require("row_pitch", row_pitch, 1e-6, 1e6)
    require("column_pitch", column_pitch, 1e-6, 1e6)
    return [
        (column * column_pitch, 0.0 - row * row_pitch)
        for row in range(rows)
        for column in range(columns)
    ]


def circle_order(count: int) -> list[int]:
    """Crosswise order of an evenly bolted circle, bolts numbered around it.

    Each bolt is followed by the one across; where the number divides by four, then by the pair at
    a right angle. The next group starts as far from the last as the numbers allow.

    Args:
        count [1]: number of bolts, 2 to 60.

    Returns:
        [1]: order of the bolts, from 0.

    Raises:
        DomainError: count outside its range.

    Source: ASME PCC-1, legacy cross-pattern sequence, for 4 to 24 bolts in steps of four, from
    memory; even and odd numbers between by the same idea, common practice.

    >>> [bolt + 1 for bolt in circle_order(8)]
    [1, 5, 3, 7, 2, 6, 4, 8]
    """
    require("count", count, 2, _MOST_BOLTS)
    if count % 4 == 0:
        quarter = count // 4
        starts = _spread(quarter)
        steps = [0, 2 * quarter, quarter, 3 * quarter]
    elif count % 2 == 0:
        half = count // 2
        starts = _around(half)
        steps = [0, half]
    else:
        starts = _around(count)
        steps = [0]
    return [start + step for start in starts for step in steps]


def _spread(count: int) -> list[int]:
    """Numbers below a count, those half the count apart one after the other."""
    stride = max(count // 2, 1)
    return [number for first in range(stride) for number in range(first, count, stride)]


def _around(count: int) -> list[int]:
    """Numbers below an odd count in steps of just under half of it, around and around."""
    stride = max((count - 1) // 2, 1)
    return [number * stride % count for number in range(count)]


def tightening_order(positions: Positions) -> list[int]:
    """Order of any pattern from the positions of its bolts.

    Args:
        positions [m]: x to the right and y upwards of each bolt, -1e6 to 1e6, in any unit of
            length; 1 to 60 bolts, no two in one place.

    Returns:
        [1]: order of the bolts, numbered from 0 as given.

    Raises:
        DomainError: too many bolts, or two in one place.

    Source: common practice: centre outward, alternating sides.

    >>> tightening_order([(0.0, 0.0), (50.0, 4.0), (98.0, 0.0)])
    [1, 0, 2]
    """
    groups = rings(positions)
    if len(groups) == 1 and len(positions) >= _FEWEST_ON_A_CIRCLE:
        around = _clockwise(_centred(positions))
        return [around[place] for place in circle_order(len(positions))]
    return _ring_by_ring(groups, _centred(positions), neighbours(positions))


def rings(positions: Positions) -> list[list[int]]:
    """Bolts grouped by distance from the centre, innermost first.

    Args:
        positions [m]: x to the right and y upwards of each bolt, -1e6 to 1e6; 1 to 60 bolts.

    Returns:
        [1]: bolts of each ring, numbered from 0 as given.

    Raises:
        DomainError: too many bolts, or two in one place.

    Source: common practice: centre outward.

    >>> rings([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)])
    [[1], [0, 2]]
    """
    _require_pattern(positions)
    distances = _lengths(_centred(positions))
    spacing = _spacing(positions)
    groups = _bands(distances, _RING_WIDTH * spacing)
    alone = sum(len(group) == 1 for group in groups)
    if 2 * alone > len(positions):
        groups = _bands(distances, _WIDE_RING * spacing)
    return groups


def neighbours(positions: Positions) -> set[tuple[int, int]]:
    """Pairs of bolts with no other bolt between them.

    Between means in the circle that has the pair as its diameter, or just outside, so that bolts
    across a square, or measured a little askew, are not neighbours.

    Args:
        positions [m]: x to the right and y upwards of each bolt, -1e6 to 1e6; 1 to 60 bolts.

    Returns:
        [1]: pairs of bolt numbers, the smaller first.

    Raises:
        DomainError: too many bolts, or two in one place.

    Source: Gabriel and Sokal 1969, Systematic Zoology 18, 259: the Gabriel graph.

    >>> sorted(neighbours(grid_positions(2, 2)))
    [(0, 1), (0, 2), (1, 3), (2, 3)]
    """
    _require_pattern(positions)
    points = _centred(positions)
    first, second = np.triu_indices(len(points), 1)
    apart, middles = points[first] - points[second], (points[first] + points[second]) / 2.0
    reach = (apart**2).sum(axis=1) / 4.0 * _RIM
    within = ((points - middles[:, None]) ** 2).sum(axis=2) < reach[:, None]
    pairs = np.arange(len(first))
    within[pairs, first] = within[pairs, second] = False
    alone = ~within.any(axis=1)
    return set(zip(first[alone].tolist(), second[alone].tolist(), strict=True))


def check_order(positions: Positions) -> list[int]:
    """Order of the last check: around the outside clockwise, then around what is left within.

    Args:
        positions [m]: x to the right and y upwards of each bolt, -1e6 to 1e6; 1 to 60 bolts.

    Returns:
        [1]: order of the bolts, numbered from 0 as given.

    Raises:
        DomainError: too many bolts, or two in one place.

    Source: ASME PCC-1, last pass in circular order until nothing turns.

    >>> check_order(grid_positions(3, 3))
    [0, 1, 2, 5, 8, 7, 6, 3, 4]
    """
    _require_pattern(positions)
    points = _centred(positions) / _spacing(positions)
    left, order = list(range(len(points))), []
    while left:
        outline = _outline(points, left, _OUTLINE_SLACK)
        order += outline
        left = [bolt for bolt in left if bolt not in outline]
    return order


def _require_pattern(positions: Positions) -> None:
    """Raise unless there are bolts, not too many, and no two in one place."""
    require("number of bolts", float(len(positions)), 1, _MOST_BOLTS)
    for x, y in positions:
        require("x", x, -1e6, 1e6)
        require("y", y, -1e6, 1e6)
    if len(positions) > 1:
        require("distance between two bolts", _nearest(np.asarray(positions)), 1e-6, 1e7)


def _centred(positions: Positions) -> NDArray[np.float64]:
    """Positions as seen from the mean of all."""
    points = np.asarray(positions, dtype=np.float64)
    return np.asarray(points - points.mean(axis=0), dtype=np.float64)


def _lengths(steps: NDArray[np.float64]) -> NDArray[np.float64]:
    """Lengths of steps whose last axis holds x and y."""
    return np.asarray(np.sqrt(steps[..., 0] ** 2 + steps[..., 1] ** 2), dtype=np.float64)


def _tidy(value: float, tie: float) -> float:
    """Whole number of ties nearest to a value, so that what mirrors each other is equal."""
    return float(math.floor(value / tie + 0.5))


def _nearest(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Distance from each bolt to the one nearest to it."""
    apart = _lengths(points[:, None] - points[None, :])
    np.fill_diagonal(apart, np.inf)
    return np.asarray(apart.min(axis=1), dtype=np.float64)


def _spacing(positions: Positions) -> float:
    """Usual distance to the next bolt."""
    points = _centred(positions)
    return float(np.median(_nearest(points))) if len(points) > 1 else 1.0


def _bands(distances: NDArray[np.float64], width: float) -> list[list[int]]:
    """Bolts by distance, those together that lie within a width of the first of their band."""
    groups: list[list[int]] = []
    start = -np.inf
    for bolt in np.argsort(distances, kind="stable"):
        if distances[bolt] > start + width:
            groups.append([])
            start = distances[bolt]
        groups[-1].append(int(bolt))
    return [sorted(group) for group in groups]


def _clockwise(points: NDArray[np.float64]) -> list[int]:
    """Bolts around the centre, clockwise from the top."""
    # Rounded, so that a bolt at the very top doesn't come last for lying a last bit to the left.
    turns = [_tidy(_turn(float(x), float(y)), _TIE_OF_ANGLE) for x, y in points]
    whole = _tidy(4.0, _TIE_OF_ANGLE)
    return sorted(range(len(points)), key=lambda bolt: turns[bolt] if turns[bolt] < whole else 0.0)


def _turn(x: float, y: float) -> float:
    """How far around clockwise from the top, 0 to 4: grows with the angle, a right angle is 1."""
    if x == 0.0 and y == 0.0:
        return 0.0
    share = abs(x) / (abs(x) + abs(y))
    if x >= 0.0:
        return share if y >= 0.0 else 2.0 - share
    return 2.0 + share if y < 0.0 else 4.0 - share


def _outline(points: NDArray[np.float64], bolts: list[int], slack: float) -> list[int]:
    """Bolts on the outline of some, clockwise from the one numbered lowest; a line from its end."""
    corners = _corners(points, bolts)
    if len(corners) == 1:
        return corners
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    found = [bolt for side in sides for bolt in _beside(points, bolts, side, slack)]
    around = list(dict.fromkeys(found))
    first = around.index(min(around)) if len(corners) > 2 else 0
    return around[first:] + around[:first]


def _corners(points: NDArray[np.float64], bolts: list[int]) -> list[int]:
    """Corners of the convex outline, clockwise from the left; of a line its two ends."""
    across = sorted(bolts, key=lambda bolt: (points[bolt, 0], points[bolt, 1]))
    there, back = _upper_side(points, across), _upper_side(points, across[::-1])
    if len(there) == len(back) == 2 and points[across[0], 0] == points[across[-1], 0]:
        return back
    return there[:-1] + back[:-1] if len(bolts) > 1 else there


def _upper_side(points: NDArray[np.float64], along: list[int]) -> list[int]:
    """Corners of the outline to the left of a walk."""
    side: list[int] = []
    for bolt in along:
        while len(side) > 1:
            start = points[side[-2]]
            if _offset(points[side[-1]] - start, points[bolt] - start) < -_SAME_LINE:
                break
            side.pop()
        side.append(bolt)
    return side


def _beside(
    points: NDArray[np.float64], bolts: list[int], side: tuple[int, int], slack: float
) -> list[int]:
    """Bolts on a side of the outline, or within the slack of it, in the direction of the side."""
    start, line = points[side[0]], points[side[1]] - points[side[0]]
    steps = points[bolts] - start
    length = float(_lengths(line))
    along = (_dot(steps, line) / length).tolist()
    near = (np.abs(_offset(steps, line)) <= slack).tolist()
    found = [n for n in range(len(bolts)) if near[n] and 0.0 <= along[n] <= length]
    return [bolts[n] for n in sorted(found, key=along.__getitem__)]


def _dot(steps: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far steps go the way of another; spelt out, as a library may round it another way."""
    return np.asarray(steps[..., 0] * other[0] + steps[..., 1] * other[1], dtype=np.float64)


def _offset(steps: NDArray[np.float64], line: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far steps from the start of a line end to the right of it."""
    bx, by = line
    across = steps[..., 0] * by - steps[..., 1] * bx
    return np.asarray(across / np.sqrt(bx * bx + by * by), dtype=np.float64)


def _ring_by_ring(
    groups: list[list[int]], points: NDArray[np.float64], near: set[tuple[int, int]]
) -> list[int]:
    """Order ring by ring with the fewest steps from a bolt to its neighbour."""
    for steps in range(len(points) + 1):
        order = _Search(groups, points, near).find(steps)
        if order is not None:
            return order
    raise AssertionError("an order with every step to a neighbour always exists")


class _Search:
    """Depth-first search for an order, each next bolt tried from the most wanted down."""

    def __init__(
        self,
        groups: list[list[int]],
        points: NDArray[np.float64],
        near: set[tuple[int, int]],
    ) -> None:
        """Keep the pattern, and note dead ends so that none is entered twice."""
        self._groups, self._near = groups, near
        self._points: list[list[float]] = points.tolist()
        self._dead_ends: set[tuple[int, frozenset[int], int, int]] = set()

    def find(self, steps: int) -> list[int] | None:
        """Order with at most so many steps to a neighbour, or None."""
        return self._extend(0, frozenset(self._groups[0]), -1, steps)

    def _extend(self, ring: int, left: frozenset[int], last: int, steps: int) -> list[int] | None:
        """Rest of the order after a bolt, or None where the steps do not suffice."""
        if not left:
            if ring + 1 == len(self._groups):
                return []
            return self._extend(ring + 1, frozenset(self._groups[ring + 1]), last, steps)
        state = (ring, left, last, steps)
        if state in self._dead_ends:
            return None
        for bolt in sorted(left, key=lambda bolt: self._wish(last, bolt)):
            still = steps - ((min(last, bolt), max(last, bolt)) in self._near)
            if still >= 0:
                rest = self._extend(ring, left - {bolt}, bolt, still)
                if rest is not None:
                    return [bolt, *rest]
        self._dead_ends.add(state)
        return None

    def _wish(self, last: int, bolt: int) -> tuple[float, float, float, int]:
        """Sort key of the next bolt: opposite the last, then left, then upper, then as given."""
        x, y = self._points[bolt]
        last_x, last_y = self._points[last] if last >= 0 else (0.0, 0.0)
        along = last_x * x + last_y * y
        # Rounded, bolts that mirror each other are equal, so that left and upper decide.
        return _tidy(along, _TIE), _tidy(x, _TIE), -_tidy(y, _TIE), bolt
