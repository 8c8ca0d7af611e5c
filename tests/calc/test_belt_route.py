"""Belt routes against closed forms, layouts worked out by hand, a convex hull and an optimiser."""

import math

import numpy as np
import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize
from scipy.spatial import ConvexHull

from calc import belt_route, belts
from calc.belt_route import Pulley, RouteError, find_faults, trace_route
from calc.domain import DomainError

INCH = 0.0254

radii = st.floats(0.02, 0.2)


def half_a_last_digit(printed):
    """The rounding of a number as it was printed."""
    decimals = len(printed.partition(".")[2])
    return pytest.approx(float(printed), abs=0.5000001 * 10.0**-decimals)


def pair(large, small, distance, second_turn=1):
    return trace_route(
        [
            Pulley("large", 0.0, 0.0, large / 2, 1),
            Pulley("small", distance, 0.0, small / 2, second_turn),
        ]
    )


def open_wrap(diameter, other, distance):
    """Khurmi & Gupta, Theory of Machines, ch. 11: π ± 2 arcsin((D - d)/2C)."""
    return math.pi + 2 * math.asin((diameter - other) / 2 / distance)


def crossed_wrap(diameter, other, distance):
    """Khurmi & Gupta, Theory of Machines, ch. 11: π + 2 arcsin((D + d)/2C)."""
    return math.pi + 2 * math.asin((diameter + other) / 2 / distance)


def open_length(diameter, other, distance):
    """Tayal, Engineering Mechanics, ch. 7, in its exact form."""
    step = (diameter - other) / 2
    straight = math.sqrt(distance**2 - step**2)
    return 2 * straight + math.pi * (diameter + other) / 2 + 2 * step * math.asin(step / distance)


def crossed_length(diameter, other, distance):
    """Tayal, Engineering Mechanics, ch. 7, in its exact form."""
    radii = (diameter + other) / 2
    straight = math.sqrt(distance**2 - radii**2)
    return 2 * straight + radii * crossed_wrap(diameter, other, distance)


def degrees(route):
    return [math.degrees(wrap.angle) for wrap in route.wraps]


def turning(route):
    """Whole angle through which the belt turns, counter-clockwise positive."""
    return sum(p.turn * w.angle for p, w in zip(route.pulleys, route.wraps, strict=True))


def faults(route, clearance=0.0):
    return find_faults(route, [0.0] * len(route.pulleys), clearance)


# --- two pulleys: published ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("large", "small", "distance", "unit", "length"),
    [
        pytest.param(24, 12, 30, 0.01, "117.7527", id="Tayal example 7.1, cm"),
        pytest.param(500, 100, 3000, 0.001, "6955.82", id="Bhavikatti example 5.17, mm"),
        pytest.param(1.6, 0.5, 12, 0.5, "27.3239", id="textbook problem printed 27.32 m"),
    ],
)
def test_open_belt_length(large, small, distance, unit, length):
    # Bhavikatti prints 6955.34, with 3.14 for π; Tayal's series gives 117.7487.
    sizes = [value * unit for value in (large, small, distance)]
    assert open_length(*sizes) / unit == half_a_last_digit(length)
    assert pair(*sizes).length / unit == half_a_last_digit(length)


@pytest.mark.parametrize(
    ("large", "small", "distance", "unit", "length"),
    [
        pytest.param(0.6, 0.3, 3.5, 1.0, "8.4717", id="Tayal example 7.2, m, recomputed"),
        pytest.param(500, 100, 3000, 0.001, "6972.50", id="Bhavikatti example 5.16, mm"),
        pytest.param(0.45, 0.2, 1.95, 1.0, "4.975", id="Khurmi example 11.6, m, from memory"),
    ],
)
def test_crossed_belt_length(large, small, distance, unit, length):
    # One printed solution of Tayal 7.2 uses the open form and prints 8.420; Bhavikatti 6972.03.
    sizes = [value * unit for value in (large, small, distance)]
    assert crossed_length(*sizes) / unit == half_a_last_digit(length)
    assert pair(*sizes, second_turn=-1).length / unit == half_a_last_digit(length)


def test_open_wraps_tayal_example_7_1():
    assert degrees(pair(0.24, 0.12, 0.30)) == [
        half_a_last_digit("203.0739"),
        half_a_last_digit("156.9261"),
    ]
    assert math.degrees(open_wrap(0.24, 0.12, 0.30)) == half_a_last_digit("203.0739")


def test_crossed_wraps_tayal_example_7_2():
    assert degrees(pair(0.6, 0.3, 3.5, -1)) == [half_a_last_digit("194.774")] * 2


def test_contact_angle_needs_the_arc_not_the_sine_khurmi_example_11_6():
    wrap = pair(0.45, 0.2, 1.95, -1).wraps[0].angle
    assert wrap == half_a_last_digit("3.4765")
    assert wrap == pytest.approx(crossed_wrap(0.45, 0.2, 1.95))
    assert abs(wrap - 3.473) > 0.003


def test_inch_drive_wentzell_example_14_2():
    # The book takes 1.57 for π/2 in its series and prints 53.753 in.
    length = pair(6 * INCH, 4 * INCH, 19 * INCH).length / INCH
    assert length - (math.pi / 2 - 1.57) * (6 + 4) == half_a_last_digit("53.753")
    route = pair(6 * INCH, 4 * INCH, 19.124 * INCH)
    assert degrees(route)[1] == pytest.approx(174.00, abs=0.006)


@given(st.floats(0.05, 0.4), st.floats(0.05, 0.4), st.floats(0.41, 3.0))
def test_route_of_two_is_the_closed_form(large, small, distance):
    route, crossed = pair(large, small, distance), pair(large, small, distance, -1)
    sizes = large, small, distance
    assert route.length == pytest.approx(open_length(*sizes), rel=1e-12)
    assert route.wraps[0].angle == pytest.approx(open_wrap(*sizes), rel=1e-12)
    assert route.wraps[1].angle == pytest.approx(open_wrap(small, large, distance), rel=1e-12)
    assert crossed.length == pytest.approx(crossed_length(*sizes), rel=1e-12)
    assert crossed.wraps[0].angle == pytest.approx(crossed_wrap(*sizes), rel=1e-12)


# --- worked out by hand --------------------------------------------------------------------------


def test_two_equal_pulleys_are_a_stadium():
    route = pair(0.2, 0.2, 0.5)
    assert route.length == pytest.approx(2 * 0.5 + math.pi * 0.2)
    assert degrees(route) == [pytest.approx(180.0)] * 2


def test_three_equal_pulleys_on_a_3_4_5_triangle():
    corners = [("right", 0.0, 0.0), ("far", 0.4, 0.0), ("high", 0.0, 0.3)]
    route = trace_route([Pulley(name, x, y, 0.05, 1) for name, x, y in corners])
    assert [span.length for span in route.spans] == pytest.approx([0.4, 0.5, 0.3])
    assert degrees(route) == pytest.approx([90.0, 180 - 36.8699, 180 - 53.1301], abs=1e-4)
    assert route.length == pytest.approx(1.2 + math.tau * 0.05)


def back_idler(height, radius):
    return trace_route(
        [
            Pulley("crank", 0.0, 0.0, 0.1, 1),
            Pulley("blower", 0.8, 0.0, 0.1, 1),
            Pulley("idler", 0.4, height, radius, -1),
        ]
    )


def test_idler_on_the_back_worked_out_by_hand():
    # Crank to idler: centres 0.5 apart (0.4, 0.3), radii 0.1 + 0.3: the run is 0.3 long and
    # dips by asin(0.4/0.5) - atan(0.3/0.4) = 53.1301° - 36.8699° = 16.2602°.
    route = back_idler(0.3, 0.3)
    assert [span.length for span in route.spans] == pytest.approx([0.8, 0.3, 0.3])
    assert degrees(route) == pytest.approx([196.2602, 196.2602, 2 * 16.2602], abs=1e-4)
    dip = math.asin(0.8) - math.asin(0.6)
    arcs = 2 * 0.1 * (math.pi + dip) + 0.3 * 2 * dip
    assert route.length == pytest.approx(1.4 + arcs)
    assert not faults(route)


def test_idler_that_just_touches_has_no_wrap_rather_than_a_whole_turn():
    # Its lowest point is on the line over both pulleys.
    route = back_idler(0.3, 0.2)
    assert route.wraps[2].angle == pytest.approx(0.0, abs=1e-7)
    assert route.length == pytest.approx(2 * 0.8 + math.tau * 0.1)
    assert not faults(route)


def test_idler_that_misses_the_belt_is_a_fault_not_a_wrap():
    route = back_idler(0.31, 0.2)
    assert degrees(route)[2] > 300.0
    assert {fault.kind for fault in faults(route)} == {"crossing"}


def test_wrap_beyond_half_a_turn_is_kept():
    route = trace_route(
        [
            Pulley("crank", 0.0, 0.0, 0.10, 1),
            Pulley("right", 0.075, 0.31, 0.04, -1),
            Pulley("blower", 0.0, 0.40, 0.05, 1),
            Pulley("left", -0.075, 0.31, 0.04, -1),
        ]
    )
    assert degrees(route)[2] > 200.0
    assert degrees(route)[1] == pytest.approx(degrees(route)[3])
    assert not faults(route)


# --- independent routes --------------------------------------------------------------------------


def test_pulleys_all_inside_are_a_convex_hull_scipy():
    pulleys = [
        Pulley("a", 0.0, 0.0, 0.095, -1),
        Pulley("b", -0.15, 0.15, 0.042, -1),
        Pulley("c", -0.02, 0.34, 0.048, -1),
        Pulley("d", 0.17, 0.21, 0.036, -1),
    ]
    angles = np.linspace(0.0, math.tau, 4000, endpoint=False)
    outline = np.vstack(
        [
            np.column_stack([p.x + p.radius * np.cos(angles), p.y + p.radius * np.sin(angles)])
            for p in pulleys
        ]
    )
    # In two dimensions the hull's `area` is its perimeter.
    assert trace_route(pulleys).length == pytest.approx(ConvexHull(outline).area, rel=2e-6)


MIXED = {
    "blower drive": [
        Pulley("crank", 0.0, 0.0, 0.095, -1),
        Pulley("left idler", -0.15, 0.15, 0.042, -1),
        Pulley("tensioner", -0.087, 0.254, 0.0392, 1),
        Pulley("blower", -0.005, 0.345, 0.048, -1),
        Pulley("right idler", 0.072, 0.2, 0.0392, 1),
    ],
    "counter-clockwise, one idler on the back": [
        Pulley("crank", 0.0, 0.0, 0.08, 1),
        Pulley("idler", 0.10, 0.18, 0.035, -1),
        Pulley("blower", 0.05, 0.36, 0.05, 1),
    ],
}


class Band:
    """A closed polygon with a few corners to a pulley, which knows only sides and distances."""

    def __init__(self, pulleys, corners):
        self.corners = corners
        owners = [p for p in pulleys for _ in range(corners)]
        self.centers = np.array([[p.x, p.y] for p in owners])
        self.turns = np.array([p.turn for p in owners])
        self.radii = np.array([p.radius for p in owners])

    def loosely_round(self, route):
        """Corners well outside the contact with each pulley."""
        corners = []
        for place, p in enumerate(route.pulleys):
            heading = math.atan2(*route.spans[place - 1].direction[::-1])
            turned = p.turn * route.wraps[place].angle
            for angle in heading + turned * np.linspace(0, 1, self.corners + 2)[1:-1]:
                outward = np.array([math.sin(angle), -math.cos(angle)]) * p.turn
                corners.append(np.array([p.x, p.y]) + 1.15 * p.radius * outward)
        return np.array(corners).ravel()

    def edges(self, flat):
        points = flat.reshape(-1, 2)
        steps = np.roll(points, -1, axis=0) - points
        return points, steps, np.hypot(*steps.T)

    def length(self, flat):
        return self.edges(flat)[2].sum()

    def room(self, flat):
        """By how much each edge clears the pulleys of its two corners, on their side."""
        points, steps, lengths = self.edges(flat)
        spare = []
        for owner in (np.arange(len(points)), np.roll(np.arange(len(points)), -1)):
            away = self.centers[owner] - points
            beside = steps[:, 0] * away[:, 1] - steps[:, 1] * away[:, 0]
            spare.append(self.turns[owner] * beside / lengths - self.radii[owner])
        return np.concatenate(spare)


@pytest.mark.parametrize("name", MIXED)
def test_shortest_band_that_keeps_every_pulley_on_its_side_scipy(name):
    route, band = trace_route(MIXED[name]), Band(MIXED[name], corners=3)
    found = optimize.minimize(
        band.length,
        band.loosely_round(route),
        constraints={"type": "ineq", "fun": band.room},
        method="SLSQP",
        options={"maxiter": 1000, "ftol": 1e-12},
    )
    # At its shortest it goes round an arc in equal tangents, 2 n r tan(wrap / 2n) of them.
    sides = 2 * band.corners
    polygon = sum(span.length for span in route.spans) + sum(
        sides * p.radius * math.tan(w.angle / sides)
        for p, w in zip(route.pulleys, route.wraps, strict=True)
    )
    assert found.success
    assert band.room(found.x).min() > -1e-9
    assert found.fun == pytest.approx(polygon, rel=1e-9)


@pytest.mark.parametrize("name", MIXED)
def test_tangent_points_satisfy_tangency_scipy(name):
    # Solved from "the run is square to both radii", not from the arcsine.
    route = trace_route(MIXED[name])
    followers = (*route.pulleys[1:], route.pulleys[0])
    for a, b, span in zip(route.pulleys, followers, route.spans, strict=True):

        def square(angles, a=a, b=b):
            ra, rb = (np.array([math.cos(t), math.sin(t)]) for t in angles)
            run = np.array([b.x, b.y]) + b.radius * rb - np.array([a.x, a.y]) - a.radius * ra
            return run @ ra, run @ rb

        guess = [
            math.atan2(y - p.y, x - p.x) + 0.1 for p, (x, y) in ((a, span.start), (b, span.end))
        ]
        solved = optimize.root(square, guess).x
        for p, angle, point in zip((a, b), solved, (span.start, span.end), strict=True):
            assert point[0] == pytest.approx(p.x + p.radius * math.cos(angle), abs=1e-9)
            assert point[1] == pytest.approx(p.y + p.radius * math.sin(angle), abs=1e-9)


# --- laws ----------------------------------------------------------------------------------------


@st.composite
def rings(draw):
    """Pulleys at about even angles round a ring, none overlapping, all inside the belt."""
    count = draw(st.integers(2, 7))
    pulleys = []
    for place in range(count):
        angle = math.tau * place / count + draw(st.floats(-0.2, 0.2)) / count
        distance = draw(st.floats(0.4, 0.6))
        radius = draw(st.floats(0.02, 0.08))
        pulleys.append(
            Pulley(f"p{place}", distance * math.cos(angle), distance * math.sin(angle), radius, 1)
        )
    return pulleys


def changed(pulleys, move, turn=1, scale=1.0):
    return [
        Pulley(p.name, *move(p.x, p.y), p.radius * scale, turn * p.turn)  # type: ignore[arg-type]
        for p in pulleys
    ]


every_layout = st.one_of(rings(), st.sampled_from(list(MIXED.values())))


@given(every_layout)
def test_a_belt_without_faults_turns_once_round(pulleys):
    route = trace_route(pulleys)
    assume(not faults(route))
    assert abs(turning(route)) == pytest.approx(math.tau, abs=1e-9)


@given(every_layout, st.floats(-3.0, 3.0), st.floats(-0.5, 0.5), st.floats(0.5, 2.0))
def test_length_is_the_same_wherever_the_engine_is(pulleys, angle, shift, scale):
    route = trace_route(pulleys)
    c, s = math.cos(angle), math.sin(angle)
    turned = trace_route(changed(pulleys, lambda x, y: (c * x - s * y + shift, s * x + c * y)))
    mirrored = trace_route(changed(pulleys, lambda x, y: (-x, y), turn=-1))
    scaled = trace_route(changed(pulleys, lambda x, y: (scale * x, scale * y), scale=scale))
    assert turned.length == pytest.approx(route.length, rel=1e-9)
    assert mirrored.length == pytest.approx(route.length, rel=1e-9)
    assert scaled.length == pytest.approx(scale * route.length, rel=1e-9)
    assert degrees(scaled) == pytest.approx(degrees(route), abs=1e-6)


@given(every_layout)
def test_running_backwards_changes_nothing(pulleys):
    forwards = trace_route(pulleys)
    backwards = trace_route(changed(pulleys[::-1], lambda x, y: (x, y), turn=-1))
    assert backwards.length == pytest.approx(forwards.length, rel=1e-9)
    assert degrees(backwards)[::-1] == pytest.approx(degrees(forwards), abs=1e-6)


@given(every_layout)
def test_spans_are_square_to_the_radii_at_both_ends(pulleys):
    route = trace_route(pulleys)
    for place, span in enumerate(route.spans):
        after = (place + 1) % len(pulleys)
        for p, (x, y) in ((pulleys[place], span.start), (pulleys[after], span.end)):
            rx, ry = x - p.x, y - p.y
            assert math.hypot(rx, ry) == pytest.approx(p.radius)
            assert rx * span.direction[0] + ry * span.direction[1] == pytest.approx(0, abs=1e-12)
            # The belt's way is the way in which the pulley turns.
            assert p.turn * (rx * span.direction[1] - ry * span.direction[0]) > 0.0


@given(every_layout, st.floats(0.0005, 0.004))
def test_effective_line_is_shorter_by_one_circle(pulleys, differential):
    # Inside pulleys carry the effective line b_e farther in, back-side ones b_e farther out.
    route = trace_route(pulleys)
    assume(not faults(route, 0.02))
    way = 1 if turning(route) > 0 else -1
    shifted = [
        Pulley(p.name, p.x, p.y, p.radius - way * p.turn * differential, p.turn) for p in pulleys
    ]
    expected = belt_route.effective_length(route.length, differential)
    assert trace_route(shifted).length == pytest.approx(expected, rel=1e-9)


@given(st.floats(0.5, 5.0), st.floats(0.0, 0.005))
def test_effective_and_pitch_length_are_inverse(length, differential):
    there = belt_route.pitch_length(length, differential)
    assert belt_route.effective_length(there, differential) == pytest.approx(length, rel=1e-12)


@given(every_layout, st.integers(0, 6))
def test_length_gradient_is_the_slope(pulleys, place):
    place %= len(pulleys)
    step = 1e-6

    def length(dx, dy):
        p = pulleys[place]
        moved = Pulley(p.name, p.x + dx, p.y + dy, p.radius, p.turn)
        return trace_route([*pulleys[:place], moved, *pulleys[place + 1 :]]).length

    route = trace_route(pulleys)
    assume(all(0.01 < wrap.angle < 6.2 for wrap in route.wraps))
    slope = (
        (length(step, 0) - length(-step, 0)) / (2 * step),
        (length(0, step) - length(0, -step)) / (2 * step),
    )
    assert belt_route.length_gradient(route, place) == pytest.approx(slope, abs=1e-6)


# --- loads ---------------------------------------------------------------------------------------


@given(every_layout, st.floats(100, 900), st.floats(0, 2000), st.floats(0, 90))
def test_bearing_loads(pulleys, slack, pull, centrifugal):
    route = trace_route(pulleys)
    tensions = belt_route.span_tensions(route, 0, 1, slack + pull, slack)
    loads = [
        belt_route.hub_load_vector(route, i, tensions[i - 1], tensions[i], centrifugal)
        for i in range(len(pulleys))
    ]
    assert sum(load[0] for load in loads) == pytest.approx(0.0, abs=1e-6)
    assert sum(load[1] for load in loads) == pytest.approx(0.0, abs=1e-6)
    for i, load in enumerate(loads):
        expected = belts.hub_load(tensions[i - 1], tensions[i], centrifugal, route.wraps[i].angle)
        assert math.hypot(*load) == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_the_runs_into_the_crank_are_the_tight_ones():
    route = trace_route(MIXED["blower drive"])
    crank, blower = route.index("crank"), route.index("blower")
    tensions = belt_route.span_tensions(route, crank, blower, 1500.0, 500.0)
    assert tensions == (500.0, 500.0, 500.0, 1500.0, 1500.0)
    assert belt_route.span_tensions(route, blower, crank, 2.0, 1.0) == (2, 2, 2, 1, 1)


def test_a_pulley_can_not_drive_itself():
    with pytest.raises(RouteError, match="crank"):
        belt_route.span_tensions(trace_route(MIXED["blower drive"]), 0, 0, 2.0, 1.0)


# --- faults --------------------------------------------------------------------------------------


def test_crossed_belt_is_a_fault():
    (fault,) = faults(pair(0.2, 0.1, 0.5, -1))
    assert fault.kind == "crossing"
    assert "large-small" in fault.message


def test_pulleys_in_the_wrong_order_cross():
    ring = [
        Pulley(f"p{i}", x, y, 0.03, 1) for i, (x, y) in enumerate([(0, 0), (1, 0), (1, 1), (0, 1)])
    ]
    assert not faults(trace_route(ring))
    swapped = [ring[0], ring[2], ring[1], ring[3]]
    assert "crossing" in {fault.kind for fault in faults(trace_route(swapped))}


def test_a_span_through_a_pulley_of_another_span():
    # The belt goes from the bottom left straight to the bottom right, through the fan between.
    pulleys = [
        Pulley("left", 0.0, 0.0, 0.05, 1),
        Pulley("right", 1.0, 0.0, 0.05, 1),
        Pulley("top", 0.5, 0.6, 0.05, 1),
        Pulley("fan", 0.5, 0.0, 0.07, -1),
    ]
    kinds = {(fault.kind, fault.pulleys) for fault in faults(trace_route(pulleys))}
    assert ("cut", ("left", "right", "fan")) in kinds


def test_clearance_is_kept_to_pulleys():
    # The idler reaches down to 80 mm above the bottom run.
    route = back_idler(0.28, 0.3)
    gap = 0.28 - 0.3 + 0.1
    assert not faults(route, gap - 1e-6)
    (fault,) = faults(route, gap + 1e-6)
    assert (fault.kind, fault.pulleys) == ("cut", ("crank", "blower", "idler"))
    assert "passes 80.0 mm from idler" in fault.message


def test_clearance_is_kept_between_runs_that_are_not_adjacent():
    # Two idlers press the runs of a long drive to about 50 mm from each other in the middle.
    route = trace_route(
        [
            Pulley("crank", 0.0, 0.0, 0.10, 1),
            Pulley("under", 0.35, -0.055, 0.04, -1),
            Pulley("blower", 0.8, 0.0, 0.10, 1),
            Pulley("over", 0.45, 0.055, 0.04, -1),
        ]
    )
    assert not faults(route, 0.02)
    assert any(fault.kind == "crossing" for fault in faults(route, 0.055))


def test_runs_that_meet_at_a_pulley_are_not_too_close():
    assert not faults(pair(0.04, 0.04, 1.0), 0.05)


def test_small_wrap_is_told_with_both_angles():
    route = back_idler(0.3, 0.3)
    (fault,) = find_faults(route, [0.0, math.radians(200), 0.0])
    assert fault.kind == "wrap"
    assert fault.message == "blower has 196.3° of wrap, it needs 200.0°"


def test_overlapping_pulleys_are_refused_by_name():
    with pytest.raises(RouteError, match=r"large and small overlap by 10\.0 mm"):
        pair(0.2, 0.1, 0.14)


def test_pulley_inside_another_is_refused_too():
    with pytest.raises(RouteError, match="overlap"):
        pair(0.4, 0.05, 0.1)


@pytest.mark.parametrize(
    ("pulleys", "message"),
    [
        ([], "0 pulleys"),
        ([Pulley("crank", 0, 0, 0.1, 1)], "1 pulleys"),
        ([Pulley("crank", 0, 0, 0.1, 1), Pulley("crank", 1, 0, 0.1, 1)], "named crank"),
    ],
)
def test_routes_that_are_none(pulleys, message):
    with pytest.raises(RouteError, match=message):
        trace_route(pulleys)


def test_a_pulley_without_a_size_is_refused_by_name():
    with pytest.raises(DomainError, match="radius of crank"):
        Pulley("crank", 0.0, 0.0, 0.0, 1)
    with pytest.raises(DomainError, match="x of crank"):
        Pulley("crank", math.nan, 0.0, 0.1, 1)
    with pytest.raises(RouteError, match="turn of crank"):
        Pulley("crank", 0.0, 0.0, 0.1, 0)


def test_unknown_pulley_lists_the_known():
    with pytest.raises(RouteError, match="no pulley alternator, the route has large, small"):
        pair(0.2, 0.1, 0.5).index("alternator")


def test_lengths_keep_their_dimension():
    unit = pint.get_application_registry()
    assert belt_route.effective_length(1.5 * unit.m, 0.002 * unit.m).check("[length]")
    assert belt_route.pitch_length(1.5 * unit.m, 0.002 * unit.m).check("[length]")


def test_a_belt_that_just_touches_is_not_around_a_whole_turn():
    # By definition: a hair under no angle is none, and not a turn less that hair.
    a_hair_under = belt_route.wrap_angle(1.0, -1e-15)
    assert float(a_hair_under) == 0.0
    assert float(belt_route.wrap_angle(1.0, -1e-3)) == pytest.approx(2.0 * np.pi - 1e-3, abs=1e-9)
