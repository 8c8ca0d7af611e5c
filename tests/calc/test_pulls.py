"""Coolant in time against an integrator of its own, and repeated pulls against pull by pull."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc import exchanger, pulls

HOT, AIR, RATE = 393.15, 308.15, 1400.0


@settings(deadline=None, max_examples=40)
@given(st.floats(50.0, 500.0), st.floats(200.0, 1200.0), st.floats(5e3, 1e5), st.floats(1.0, 120.0))
def test_a_pull_is_what_an_integrator_makes_of_the_energy_balance_scipy(
    taken, effective, held, time
):
    def warming(_, state):
        heat = taken * (HOT - state[0])
        return [(heat - effective * (state[0] + heat / RATE - AIR)) / held]

    whole = solve_ivp(warming, (0.0, time), [AIR], rtol=1e-10, atol=1e-9)
    end = exchanger.steady_coolant(AIR, exchanger.coolant_excess(effective, RATE), taken, HOT)
    exponent = pulls.pull_rate(taken, effective, RATE, held) * time
    found = pulls.temperature_after(AIR, end, np.exp(-exponent))
    assert found == pytest.approx(whole.y[0, -1], abs=1e-5)


@given(st.floats(1e-6, 0.99), st.floats(1e-3, 1.0))
def test_time_until_a_share_of_the_way_is_when_it_is_there(share, rate):
    time = pulls.time_until(share, pulls.slowing(share), rate)
    found = pulls.temperature_after(310.0, 330.0, np.exp(-rate * time))
    assert found == pytest.approx(310.0 + share * 20.0, abs=1e-9)


@given(st.floats(0.05, 3.0), st.floats(0.05, 3.0), st.integers(1, 12))
def test_repeated_pulls_are_pull_by_pull(pull, rest, number):
    coolant = 312.0
    for _ in range(number - 1):
        coolant = pulls.temperature_after(coolant, 340.0, np.exp(-pull))
        coolant = pulls.temperature_after(coolant, 310.0, np.exp(-rest))
    settled = pulls.settled_start(340.0, np.exp(-pull), 310.0, np.exp(-rest))
    left = np.exp(-(number - 1) * (pull + rest))
    found = pulls.temperature_after(312.0, settled, left)
    assert found == pytest.approx(coolant, abs=1e-8)


def test_ice_takes_the_heat_of_mixing_iapws():
    # 2 kg of ice at 0 °C into 8 kg of water at 30 °C: (8·4.19·30 − 2·333.4)/(10·4.19) = 8.1 °C.
    found = pulls.iced_start(303.15, 8 * 4.19e3, 2.0)
    assert found - 273.15 == pytest.approx(8.09, abs=0.01)
    # Enough ice for twice that heat: half of what was left over stays.
    mixed = pulls.iced_start(303.15, 8 * 4.19e3, 6.0)
    left = pulls.ice_left(273.15, mixed, 14 * 4.19e3)
    assert left == pytest.approx(6.0 - 8 * 4.19 * 30 / 333.4, abs=1e-9)


def test_ice_melts_by_the_heat_that_comes_in():
    rate, held, end = 0.034, 27e3, 330.0
    time = pulls.melting_time(2.0, 273.15, end, rate, held)
    assert rate * held * (end - 273.15) * time == pytest.approx(2.0 * 333.4e3)
