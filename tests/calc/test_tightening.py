"""Orders of bolts against known patterns, an exhaustive search, and the laws of the trade."""

from itertools import pairwise, permutations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import spatial

from calc import tightening
from calc.domain import DomainError
from tests.calc.patterns import circle_positions

GRIDS = [(rows, columns) for rows, columns in product((2, 3), range(2, 11)) if rows <= columns]
CIRCLES = range(4, 25)

scattered = st.lists(
    st.tuples(st.integers(-40, 40), st.integers(-40, 40)), min_size=1, max_size=24, unique=True
)


def steps_to_neighbours(order, positions):
    near = tightening.neighbours(positions)
    return sum((min(pair), max(pair)) in near for pair in pairwise(order))


def grid_order(rows, columns):
    return tightening.tightening_order(tightening.grid_positions(rows, columns))


def numbered(rows, columns):
    """Grid as a drawing shows it: in each place, when that bolt's turn comes."""
    turn = {bolt: place + 1 for place, bolt in enumerate(grid_order(rows, columns))}
    return [[turn[row * columns + column] for column in range(columns)] for row in range(rows)]


# --- known orders ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "drawing",
    [
        pytest.param([[1, 4], [3, 2]], id="four-bolt cover crosswise, common practice"),
        pytest.param([[3, 1, 6], [5, 2, 4]], id="six-bolt cover, common practice"),
        pytest.param([[7, 1, 4, 6], [5, 3, 2, 8]], id="eight-bolt head, common practice"),
        pytest.param([[9, 3, 1, 6, 8], [7, 5, 2, 4, 10]], id="ten-bolt head, common practice"),
        pytest.param([[6, 4, 9], [2, 1, 3], [8, 5, 7]], id="nine bolts in a square, by the rules"),
    ],
)
def test_known_grid(drawing):
    assert numbered(len(drawing), len(drawing[0])) == drawing


@pytest.mark.parametrize(
    ("count", "order"),
    [
        (4, [1, 3, 2, 4]),
        (8, [1, 5, 3, 7, 2, 6, 4, 8]),
        (12, [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]),
        (16, [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]),
        (20, [1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19]),
        pytest.param(
            24,
            [
                *(1, 13, 7, 19, 4, 16, 10, 22, 2, 14, 8, 20),
                *(5, 17, 11, 23, 3, 15, 9, 21, 6, 18, 12, 24),
            ],
        ),
    ],
    ids=lambda value: (
        f"ASME PCC-1 legacy cross pattern, from memory, {value} bolts"
        if isinstance(value, int)
        else ""
    ),
)
def test_flange(count, order):
    assert [bolt + 1 for bolt in tightening.circle_order(count)] == order


@pytest.mark.parametrize(
    ("count", "order"),
    [
        pytest.param(5, [1, 3, 5, 2, 4], id="five-bolt star, common practice"),
        pytest.param(6, [1, 4, 2, 5, 3, 6], id="six-bolt star, common practice"),
    ],
)
def test_wheel_star(count, order):
    assert [bolt + 1 for bolt in tightening.circle_order(count)] == order


# --- laws: every pattern --------------------------------------------------------------------------


def check_laws(positions):
    order = tightening.tightening_order(positions)
    assert sorted(order) == list(range(len(positions)))
    groups = tightening.rings(positions)
    place = {bolt: turn for turn, bolt in enumerate(order)}
    for inner, outer in pairwise(groups):
        assert max(place[bolt] for bolt in inner) < min(place[bolt] for bolt in outer)
    return order


@pytest.mark.parametrize(("rows", "columns"), GRIDS)
class TestGrids:
    def test_each_bolt_once_and_ring_by_ring(self, rows, columns):
        check_laws(tightening.grid_positions(rows, columns))

    def test_distance_from_the_centre_never_falls(self, rows, columns):
        positions = np.array(tightening.grid_positions(rows, columns))
        away = np.hypot(*(positions - positions.mean(axis=0)).T)[grid_order(rows, columns)]
        assert np.all(np.diff(away) > -1e-9)

    def test_only_the_two_in_the_middle_follow_as_neighbours(self, rows, columns):
        """One such step cannot be avoided: the innermost bolts have only one another to go to."""
        positions = tightening.grid_positions(rows, columns)
        assert steps_to_neighbours(grid_order(rows, columns), positions) <= 1

    def test_a_ring_begins_on_the_other_side_or_else_on_the_left(self, rows, columns):
        """Alternating sides comes first; where the bolt before was on neither side, left first."""
        order, middle = grid_order(rows, columns), (columns - 1) / 2
        side = [np.sign(bolt % columns - middle) for bolt in order]
        first = 0
        for ring in tightening.rings(tightening.grid_positions(rows, columns)):
            if side[first]:
                assert side[first] == (1 if first and side[first - 1] == -1 else -1)
            first += len(ring)

    def test_same_order_when_entered_as_coordinates_in_millimetres(self, rows, columns):
        moved = [
            (310 + 62.5 * x, -40 + 62.5 * y) for x, y in tightening.grid_positions(rows, columns)
        ]
        assert tightening.tightening_order(moved) == grid_order(rows, columns)

    def test_a_millimetre_of_measuring_error_changes_nothing(self, rows, columns):
        rng = np.random.default_rng(rows * 100 + columns)
        exact = np.array(tightening.grid_positions(rows, columns, 80.0, 80.0))
        measured = [tuple(map(float, each)) for each in exact + rng.uniform(-0.5, 0.5, exact.shape)]
        assert {frozenset(ring) for ring in tightening.rings(measured)} == {
            frozenset(ring) for ring in tightening.rings([tuple(map(float, e)) for e in exact])
        }
        check_laws(measured)
        assert tightening.check_order(measured) == tightening.check_order(
            tightening.grid_positions(rows, columns)
        )


@pytest.mark.parametrize("columns", range(2, 11))
def test_two_rows_alternate_sides_throughout(columns):
    middle = (columns - 1) / 2
    sides = [np.sign(bolt % columns - middle) for bolt in grid_order(2, columns)]
    sides = [side for side in sides if side]
    assert all(first == -second for first, second in pairwise(sides))


@pytest.mark.parametrize("count", CIRCLES)
class TestCircles:
    def test_each_bolt_once(self, count):
        assert sorted(tightening.circle_order(count)) == list(range(count))

    def test_never_to_a_neighbour(self, count):
        gaps = [
            min((b - a) % count, (a - b) % count)
            for a, b in pairwise(tightening.circle_order(count))
        ]
        unavoidable = 1 if count == 4 else 0
        assert sum(gap == 1 for gap in gaps) == unavoidable

    def test_every_second_bolt_is_straight_across_where_there_is_one(self, count):
        order = tightening.circle_order(count)
        if count % 2:
            across = {count // 2, count - count // 2}
            assert all((b - a) % count in across for a, b in pairwise(order))
        else:
            assert all((order[i + 1] - order[i]) % count == count // 2 for i in range(0, count, 2))

    def test_load_stays_balanced(self, count):
        """After each pair the centre of the tightened bolts is within a fifth of the radius."""
        positions = np.array(circle_positions(count))
        order = tightening.circle_order(count)
        if count % 2 == 0:
            for tightened in range(2, count + 1, 2):
                assert np.hypot(*positions[order[:tightened]].mean(axis=0)) < 1e-9
        else:
            assert np.hypot(*positions[order[:3]].mean(axis=0)) < 0.4

    def test_check_goes_around_clockwise(self, count):
        assert tightening.check_order(circle_positions(count)) == list(range(count))


@pytest.mark.parametrize("count", range(5, 25))
def test_coordinates_of_a_circle_get_the_crosswise_order(count):
    """From five up; four are a square as much as a circle, and go left before right."""
    measured = circle_positions(count, 71.5)
    assert tightening.tightening_order(measured) == tightening.circle_order(count)


@given(scattered)
def test_laws_hold_for_scattered_bolts(positions):
    check_laws(positions)


@given(scattered)
def test_rings_go_outward_and_hold_every_bolt_once(positions):
    groups = tightening.rings(positions)
    assert sorted(bolt for group in groups for bolt in group) == list(range(len(positions)))
    points = np.array(positions, dtype=float)
    away = np.hypot(*(points - points.mean(axis=0)).T)
    for inner, outer in pairwise(groups):
        assert away[inner].max() <= away[outer].min()


@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=2, max_size=7, unique=True)
)
def test_no_order_of_the_rings_has_fewer_steps_to_neighbours_exhaustive_search(positions):
    groups = tightening.rings(positions)
    if len(groups) == 1 and len(positions) > 4:
        return  # a circle, crosswise by its own rule
    fewest = min(
        steps_to_neighbours([bolt for part in parts for bolt in part], positions)
        for parts in product(*(permutations(group) for group in groups))
    )
    order = tightening.tightening_order(positions)
    assert steps_to_neighbours(order, positions) == fewest


@given(st.integers(10, 24), st.integers(0, 10_000))
def test_bolts_without_symmetry_share_rings_of_half_their_spacing(count, seed):
    """Else each would be a ring of its own, and the order could not avoid neighbours."""
    points = np.random.default_rng(seed).uniform(0, 300, (count, 2))
    positions = [(float(x), float(y)) for x, y in points]
    away = np.hypot(*(points - points.mean(axis=0)).T)
    nearest = np.sort(spatial.distance.cdist(points, points), axis=1)[:, 1]
    groups = tightening.rings(positions)
    assert all(np.ptp(away[group]) <= np.median(nearest) / 2 + 1e-9 for group in groups)
    by_distance_alone = [int(bolt) for bolt in np.argsort(away)]
    order = tightening.tightening_order(positions)
    assert len(groups) < count
    assert steps_to_neighbours(order, positions) <= steps_to_neighbours(
        by_distance_alone, positions
    )


@given(scattered, st.sampled_from([0.03125, 0.5, 4.0, 64.0]))
def test_unit_of_length_does_not_matter(positions, scale):
    """Powers of two, so that equal distances stay equal to the last bit."""
    scaled = [(scale * x, scale * y) for x, y in positions]
    assert tightening.tightening_order(scaled) == tightening.tightening_order(positions)
    assert tightening.check_order(scaled) == tightening.check_order(positions)


@given(scattered)
def test_check_pass_visits_each_bolt_once(positions):
    assert sorted(tightening.check_order(positions)) == list(range(len(positions)))


@given(st.integers(8, 40), st.integers(0, 10_000))
def test_check_pass_does_the_hull_of_scipy_before_what_lies_well_inside(count, seed):
    points = np.random.default_rng(seed).uniform(0, 300, (count, 2))
    order = tightening.check_order([(float(x), float(y)) for x, y in points])
    hull = spatial.ConvexHull(points)
    depth = -(points @ hull.equations[:, :2].T + hull.equations[:, 2]).max(axis=1)
    well_inside = [order.index(bolt) for bolt in range(count) if depth[bolt] > 30]
    on_hull = [order.index(bolt) for bolt in hull.vertices]
    assert not well_inside or max(on_hull) < min(well_inside)


# --- neighbours and the check pass ----------------------------------------------------------------


def test_neighbours_on_a_grid_are_up_down_left_right():
    pairs = tightening.neighbours(tightening.grid_positions(3, 4, 70.0, 95.0))
    for first, second in pairs:
        assert abs(first // 4 - second // 4) + abs(first % 4 - second % 4) == 1
    assert len(pairs) == 3 * 3 + 2 * 4


@pytest.mark.parametrize("count", range(5, 25))
def test_neighbours_on_a_circle_are_the_two_beside(count):
    pairs = tightening.neighbours(circle_positions(count))
    assert pairs == {(min(a, b), max(a, b)) for a in range(count) for b in [(a + 1) % count]}


def test_check_pass_of_a_long_cover_goes_around_the_rim_and_then_along_the_middle():
    order = tightening.check_order(tightening.grid_positions(3, 4))
    assert order == [0, 1, 2, 3, 7, 11, 10, 9, 8, 4, 5, 6]


@pytest.mark.parametrize(("rows", "columns"), [(1, 5), (5, 1)])
def test_check_pass_of_a_single_row_runs_along_it(rows, columns):
    assert tightening.check_order(tightening.grid_positions(rows, columns)) == [0, 1, 2, 3, 4]


def test_single_row_goes_outward_from_its_middle():
    assert grid_order(1, 5) == [2, 1, 3, 0, 4]


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: tightening.grid_positions(0, 5), "rows"),
        (lambda: tightening.grid_positions(9, 9), "rows times columns"),
        (lambda: tightening.circle_order(1), "count"),
        (lambda: tightening.circle_order(61), "count"),
        (lambda: tightening.tightening_order([]), "number of bolts"),
        (
            lambda: tightening.tightening_order([(0, 0), (1, 1), (0, 0)]),
            "distance between two bolts",
        ),
        (lambda: tightening.tightening_order([(0, float("nan")), (1, 1)]), "y"),
    ],
)
def test_bad_input_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
