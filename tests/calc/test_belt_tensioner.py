"""Tensioner travel against closed forms, published drives, and the laws of a slot and an arm."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import belt_route, belt_tensioner
from calc.belt_route import Pulley, RouteError, trace_route
from calc.belt_tensioner import Arm, Slot, best_stock, fit_length, move_tensioner, stock_fits
from calc.domain import DomainError

INCH = 0.0254

CRANK = Pulley("crank", 0.0, 0.0, 0.095, -1)
DRIVE = [
    CRANK,
    Pulley("left idler", -0.15, 0.15, 0.042, -1),
    Pulley("tensioner", -0.112, 0.262, 0.0392, 1),
    Pulley("blower", -0.005, 0.345, 0.048, -1),
    Pulley("right idler", 0.072, 0.2, 0.0392, 1),
]
SLOT = Slot((-0.112, 0.262), (-0.068, 0.248))
ARM = Arm((-0.205, 0.245), 0.091, math.radians(15), math.radians(-12))

tensioners = pytest.mark.parametrize("tensioner", [SLOT, ARM], ids=["slot", "arm"])


def two(radius=0.1):
    return [Pulley("crank", 0.0, 0.0, radius, 1), Pulley("idler", 0.4, 0.0, radius, 1)]


def length_at(tensioner, position):
    return trace_route(move_tensioner(DRIVE, 2, tensioner, position)).length


def test_equal_pulleys_take_up_twice_the_travel():
    slot = Slot((0.3, 0.0), (0.5, 0.0))
    fit = fit_length(two(), 1, slot, 2 * 0.45 + math.tau * 0.1)
    assert fit.center == pytest.approx((0.45, 0.0))
    assert fit.position == pytest.approx(0.75)
    assert (fit.travel_to_slack, fit.travel_to_tight) == pytest.approx((0.15, 0.05))
    assert (fit.length_to_slack, fit.length_to_tight) == pytest.approx((0.30, 0.10))


def test_center_distance_for_a_54_inch_belt_wentzell_example_14_2():
    # The book's series has 1.57 for π/2: at 10 in of diameters it finds 0.004 in more.
    pulleys = [
        Pulley("small", 0.0, 0.0, 2 * INCH, 1),
        Pulley("large", 19 * INCH, 0.0, 3 * INCH, 1),
    ]
    slot = Slot((18 * INCH, 0.0), (20 * INCH, 0.0))
    fit = fit_length(pulleys, 1, slot, 54 * INCH)
    book = fit.center[0] / INCH + (math.pi / 2 - 1.57) * 10 / 2
    assert book == pytest.approx(19.124, abs=5e-4)


@tensioners
def test_ends_of_the_travel_are_the_ends_of_the_range(tensioner):
    assert belt_tensioner.length_range(DRIVE, 2, tensioner) == (
        length_at(tensioner, 0.0),
        length_at(tensioner, 1.0),
    )


@tensioners
@given(position=st.floats(0.0, 1.0))
def test_position_for_a_length_is_the_inverse_of_the_length(tensioner, position):
    fit = fit_length(DRIVE, 2, tensioner, length_at(tensioner, position))
    assert fit.position == pytest.approx(position, abs=1e-9)
    assert fit.center == pytest.approx(tensioner.center(position))
    assert fit.travel_to_slack + fit.travel_to_tight == pytest.approx(tensioner.travel)


@tensioners
def test_slope_along_the_travel_is_the_gradient(tensioner):
    step, middle = 1e-6, 0.5
    (x0, y0), (x1, y1) = tensioner.center(middle - step), tensioner.center(middle + step)
    route = trace_route(move_tensioner(DRIVE, 2, tensioner, middle))
    gx, gy = belt_route.length_gradient(route, 2)
    change = length_at(tensioner, middle + step) - length_at(tensioner, middle - step)
    assert change == pytest.approx(gx * (x1 - x0) + gy * (y1 - y0), rel=1e-6)


def test_arm_travels_on_its_arc():
    arm = Arm((0.0, 0.0), 0.1, 0.0, math.pi / 2)
    assert arm.travel == pytest.approx(0.1 * math.pi / 2)
    assert arm.center(1.0) == pytest.approx((0.0, 0.1))
    assert math.hypot(*arm.center(0.3)) == pytest.approx(0.1)


@pytest.mark.parametrize("excess", [-0.001, 0.001])
def test_length_beyond_the_travel_says_what_it_takes(excess):
    slot = Slot((0.3, 0.0), (0.5, 0.0))
    ends = belt_tensioner.length_range(two(), 1, slot)
    length = (ends[0] if excess < 0 else ends[1]) + excess
    with pytest.raises(RouteError, match=r"takes 1228\.3 to 1628\.3 mm"):
        fit_length(two(), 1, slot, length)


@pytest.mark.parametrize(
    ("pulleys", "place", "tensioner", "where"),
    [
        pytest.param(DRIVE, 2, Slot(SLOT.tight, SLOT.slack), "0", id="ends swapped"),
        pytest.param(
            two(),
            1,
            Arm((0.3, 0.0), 0.15, math.radians(60), math.radians(-60)),
            "50",
            id="over centre",
        ),
        pytest.param(
            DRIVE, 2, Slot((-0.17, 0.29), SLOT.tight), "[0-9]+", id="misses the belt when slack"
        ),
    ],
)
def test_travel_that_takes_up_no_belt_somewhere_is_refused(pulleys, place, tensioner, where):
    with pytest.raises(RouteError, match=f"takes up no belt at {where} % of its travel"):
        belt_tensioner.length_range(pulleys, place, tensioner)


def test_stock_belts_fit_or_tell_by_how_much_they_miss():
    # Effective lengths that the slot takes: 0.6 + 0.2 π - 0.004 π to 1.0 + 0.2 π - 0.004 π.
    slot = Slot((0.3, 0.0), (0.5, 0.0))
    shortest = 0.6 + math.pi * (0.2 - 0.004)
    short, inside, long = stock_fits(
        two(), 1, slot, [shortest + 0.41, shortest - 0.01, shortest + 0.1], 0.002
    )
    assert (short.miss, short.fit) == (pytest.approx(-0.01), None)
    assert (long.miss, long.fit) == (pytest.approx(0.01), None)
    assert inside.miss == 0.0
    assert inside.fit.position == pytest.approx(0.25)


def test_best_belt_is_nearest_to_the_wanted_position():
    slot = Slot((0.3, 0.0), (0.5, 0.0))
    fits = stock_fits(two(), 1, slot, [1.0, 1.25, 1.35, 1.55], 0.002)
    assert best_stock(fits).effective_length == 1.35
    assert best_stock(fits, 0.0).effective_length == 1.25
    assert best_stock(fits, 1.0).effective_length == 1.55


def test_if_no_belt_fits_the_best_is_the_nearest_miss():
    slot = Slot((0.3, 0.0), (0.5, 0.0))
    best = best_stock(stock_fits(two(), 1, slot, [1.0, 1.7], 0.002))
    assert (best.effective_length, best.fit) == (1.7, None)
    with pytest.raises(RouteError, match="no belts"):
        best_stock([])


def test_position_outside_the_travel_is_refused():
    with pytest.raises(DomainError, match=r"position is 1\.1, allowed is 0 to 1"):
        move_tensioner(DRIVE, 2, SLOT, 1.1)
    with pytest.raises(DomainError, match="wanted_position"):
        best_stock([], 2.0)
