"""Exchanger and steady coolant against published tables, a library and the energy balance."""

import ht
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import exchanger


@pytest.mark.parametrize(
    ("units", "ratio", "printed"),
    [
        pytest.param(1.0, 0.25, 0.588011, id="both unmixed, exact, by ht: NTU 1"),
        pytest.param(1.0, 0.5, 0.547490, id="both unmixed, exact, by ht: NTU 1, 0.5"),
        pytest.param(1.0, 0.75, 0.510309, id="both unmixed, exact, by ht: NTU 1, 0.75"),
        pytest.param(1.0, 1.0, 0.476222, id="both unmixed, exact, by ht: NTU 1, 1"),
        pytest.param(2.0, 0.5, 0.73241, id="both unmixed, exact, by ht: NTU 2, no approximation"),
    ],
)
def test_effectiveness_is_the_exact_one(units, ratio, printed):
    assert exchanger.cross_flow_effectiveness(units, ratio) == pytest.approx(printed, abs=1e-5)


@given(st.floats(0.05, 40.0), st.floats(0.05, 1.0))
def test_effectiveness_agrees_with_the_library_ht(units, ratio):
    reference = ht.effectiveness_from_NTU(units, ratio, subtype="crossflow")
    assert exchanger.cross_flow_effectiveness(units, ratio) == pytest.approx(reference, abs=1e-6)


def test_at_no_ratio_it_is_that_of_a_condenser_holman_ex_10_14():
    # ε 0.6 at NTU 0.9163.
    assert exchanger.cross_flow_effectiveness(0.9163, 1e-3) == pytest.approx(0.6, abs=5e-4)


def test_cross_flow_incropera_ex_11_3():
    # ε 0.75 at a ratio of 0.45: 2.1 off the chart, 2.04 exactly.
    assert exchanger.cross_flow_effectiveness(2.1, 0.45) == pytest.approx(0.75, rel=0.02)


def test_charge_heat_of_real_air_is_within_a_hundredth_cp_by_coolprop(coolprop):
    states = [coolprop.PropsSI("H", "T", at, "P", 1.8e5, "Air") for at in (393.15, 328.15)]
    found = exchanger.charge_heat(0.35, 393.15, 328.15)
    assert found == pytest.approx(0.35 * (states[0] - states[1]), rel=0.01)


def test_at_its_rated_point_a_core_is_as_rated():
    assert exchanger.scaled_conductance(900.0, 0.75, 1.0, 1.0) == pytest.approx(900.0)


def test_a_quarter_of_the_resistance_grows_as_the_flow_falls_by_dittus_boelter():
    film = exchanger.film_ratio(0.5)
    assert film == pytest.approx(0.5743, abs=1e-4)
    half = exchanger.scaled_conductance(900.0, 0.75, 1.0, film)
    assert 900.0 / half == pytest.approx(0.75 + 0.25 / 0.5743, abs=1e-4)


@given(st.floats(100.0, 2000.0), st.floats(200.0, 3000.0), st.floats(100.0, 3000.0))
def test_the_air_that_is_wanted_is_the_air_that_passes_it(conductance, air_rate, coolant_rate):
    smaller, larger = sorted((air_rate, coolant_rate))
    ratio = smaller / larger
    effective = smaller * exchanger.cross_flow_effectiveness(conductance / smaller, ratio)
    factor = exchanger.stream_factor(effective, conductance, air_rate, coolant_rate)
    assert 1.0 <= factor <= 2.0
    # All of UA on the air side: 1/UA = a/√C_a.
    side, other = air_rate**0.5 / conductance, 0.5 * factor / coolant_rate
    root = exchanger.air_root_for(1.0 / effective, side, other, factor)
    assert root**-2.0 == pytest.approx(air_rate, rel=1e-6)


@given(
    st.floats(280.0, 320.0),
    st.floats(50.0, 900.0),
    st.floats(1000.0, 3000.0),
    st.floats(10.0, 600.0),
    st.floats(350.0, 450.0),
)
def test_what_comes_in_goes_out_to_a_millionth(air, effective, rate, taken, hot):
    excess = exchanger.coolant_excess(effective, rate)
    coolant = exchanger.steady_coolant(air, excess, taken, hot)
    heat_in = taken * (hot - coolant)
    heat_out = effective * (coolant + heat_in / rate - air)
    assert heat_out == pytest.approx(heat_in, rel=1e-6)


def test_arrays_broadcast():
    found = exchanger.cross_flow_effectiveness(np.array([[1.0], [2.0]]), np.array([0.5, 1.0]))
    assert found.shape == (2, 2)
