"""Pump curves, where they cross a loop, and what follows, against textbooks and a root finder."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc import loop
from calc.domain import DomainError

LITRE_A_MINUTE = 1 / 6e4


def test_where_two_parabolas_cross_white_ex_11_6():
    # 490 − 0.26·Q² against 120 + 0.335·Q², Q in thousands of gallons a minute: 24.94, 328 ft.
    # From memory; recomputed.
    flow = loop.crossing_flow(490.0 - 120.0, 0.0, 0.26 + 0.335)
    assert flow == pytest.approx(24.94, abs=0.005)
    assert 490.0 - 0.26 * flow**2 == pytest.approx(328.0, abs=0.5)


@given(st.floats(1e3, 3e5), st.floats(0.0, 1e9), st.floats(1e8, 1e13))
def test_the_crossing_is_that_of_a_root_finder_scipy(shutoff, linear, quadratic):
    found = loop.crossing_flow(shutoff, linear, quadratic)
    reference = brentq(lambda q: shutoff - linear * q - quadratic * q**2, 0.0, 1.0, xtol=1e-15)
    assert found == pytest.approx(reference, rel=1e-9)


def test_one_rating_gives_the_shape_of_epa_600_r_00_057():
    curve = loop.curve_from_rating(20 * LITRE_A_MINUTE, 40e3)
    assert curve.pressure(0.0) == pytest.approx(40e3 * 4 / 3)
    assert curve.pressure(20 * LITRE_A_MINUTE) == pytest.approx(40e3)
    assert curve.pressure(40 * LITRE_A_MINUTE) == pytest.approx(0.0, abs=1e-6)


@given(st.floats(5e3, 2e5), st.floats(1e-4, 2e-3), st.floats(0.1, 0.9), st.floats(0.1, 1.2))
def test_a_curve_goes_through_its_three_points_numpy_polyfit(shutoff, end, share, height):
    flow, pressure = share * end, height * shutoff
    curve = loop.curve_through_point(shutoff, end, flow, pressure)
    whole = np.polyfit(np.array([0.0, share, 1.0]), np.array([shutoff, pressure, 0.0]), 2)
    for place in (0.0, share, 0.5, 1.0):
        expected = np.polyval(whole, place)
        assert curve.pressure(place * end) == pytest.approx(expected, abs=1e-6 * shutoff)


@given(st.floats(0.5, 1.5), st.floats(0.0, 1.0))
def test_another_speed_keeps_the_affinity_laws(speed, share):
    curve = loop.curve_through_point(60e3, 7e-4, 4e-4, 45e3)
    flow = share * 7e-4
    faster = curve.at_speed(speed).pressure(speed * flow)
    assert faster == pytest.approx(speed**2 * curve.pressure(flow), abs=1e-6)


def test_two_pumps_add_pressures_in_series_and_flows_in_parallel():
    curve = loop.curve_between_ends(60e3, 7e-4)
    assert curve.in_series(2.0).pressure(3e-4) == pytest.approx(2 * curve.pressure(3e-4))
    assert curve.in_parallel(2.0).pressure(6e-4) == pytest.approx(curve.pressure(3e-4))


def test_a_denser_liquid_is_lifted_as_high():
    curve = loop.curve_between_ends(60e3, 7e-4)
    assert curve.with_density(1.06).pressure(3e-4) == pytest.approx(1.06 * curve.pressure(3e-4))


def test_a_core_follows_the_blasius_law():
    # Blasius: f = 0.316·Re^−0.25, so that Δp goes with ρ^0.75·μ^0.25·Q^1.75.
    found = loop.core_loss(3e-4, 2e-4, 5e3, 1.06, 2.2)
    assert found == pytest.approx(5e3 * 1.06**0.75 * 2.2**0.25 * 1.5**1.75)


def test_the_fit_of_a_loss_goes_through_both_points():
    def loss(flow):
        return 7e9 * flow**1.75

    quadratic = loop.quadratic_part(3e-4, loss(3e-4), 3.1e-4, loss(3.1e-4))
    linear = loop.linear_part(3e-4, loss(3e-4), quadratic)
    for flow in (3e-4, 3.1e-4):
        assert linear * flow + quadratic * flow**2 == pytest.approx(loss(flow), rel=1e-12)


def test_water_through_a_radiator_cengel_heat_transfer_ex_11_6():
    # Water, 0.6 kg/s from 90 to 65 °C, 4,195 J/(kg·K): 62.93 kW.
    assert loop.liquid_rise(62.93e3, 0.6 / 974.0, 974.0, 4195.0) == pytest.approx(25.0, rel=1e-3)


def test_a_pump_under_its_tank_is_flooded_by_the_height():
    assert loop.inlet_pressure(0.0, 1.0, 1000.0, 0.0) == pytest.approx(9806.65)
    assert loop.above_boiling(9806.65, 101325.0, 2339.0) == pytest.approx(108792.65)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: loop.curve_from_rating(20.0, 40e3), "flow"),
        (lambda: loop.pump_speed(0.9, 13.5), "voltage"),
        (lambda: loop.inlet_pressure(0.0, 300.0, 1060.0, 0.0), "height"),
    ],
    ids=["litres a minute", "a share", "millimetres"],
)
def test_a_value_out_of_range_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
