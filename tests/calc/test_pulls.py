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
    found = pulls.temperature_after(AIR, end, exponent)
    assert found == pytest.approx(whole.y[0, -1], abs=1e-5)


@given(st.floats(0.05, 0.95), st.floats(1e-3, 1.0))
def test_time_until_a_limit_is_when_it_is_there(share, rate):
    limit = 310.0 + share * 20.0
    time = pulls.time_until(310.0, 330.0, limit, rate)
    assert pulls.temperature_after(310.0, 330.0, rate * time) == pytest.approx(limit, abs=1e-9)


def test_a_limit_beyond_the_end_is_never_reached():
    assert np.isnan(pulls.time_until(310.0, 330.0, 335.0, 0.02))


@given(st.floats(0.05, 3.0), st.floats(0.05, 3.0), st.integers(1, 12))
def test_repeated_pulls_are_pull_by_pull(pull, rest, number):
    coolant = 312.0
    for _ in range(number - 1):
        coolant = pulls.temperature_after(coolant, 340.0, pull)
        coolant = pulls.temperature_after(coolant, 310.0, rest)
    settled = pulls.settled_start(340.0, pull, 310.0, rest)
    found = pulls.before_pull(float(number), 312.0, settled, pull + rest)
    assert found == pytest.approx(coolant, abs=1e-8)


def test_ice_melts_by_the_heat_that_comes_in():
    rate, held, end = 0.034, 27e3, 330.0
    time = pulls.melting_time(2.0, 273.15, end, rate, held)
    assert rate * held * (end - 273.15) * time == pytest.approx(2.0 * 333.4e3)
