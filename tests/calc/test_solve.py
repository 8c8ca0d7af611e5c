"""The root finder against scipy's, known roots and the edges of its range."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from calc.solve import root_between


@given(st.floats(0.5, 2.0), st.floats(0.0, 1.0), st.sampled_from([1.0, -1.0]))
def test_rising_or_falling_it_finds_what_scipy_finds(power, share, direction):
    def curve(place):
        return direction * (place**power + 0.1 * place)

    target = float(curve(0.2 + 2.8 * share))
    reference = optimize.brentq(lambda place: curve(place) - target, 0.2, 3.0, xtol=1e-15)
    assert root_between(curve, 0.2, 3.0, target) == pytest.approx(reference, rel=1e-13)


def halved(function, low, high, target):
    """Return the place by sixty halvings of the interval."""
    rising = function(low) <= function(high)
    for _ in range(60):
        middle = 0.5 * (low + high)
        short = function(middle) <= target if rising else function(middle) >= target
        low, high = (middle, high) if short else (low, middle)
    return 0.5 * (low + high)


@given(
    st.lists(st.floats(0.0, 1.0), min_size=3, max_size=6).filter(lambda steps: sum(steps) > 0.01),
    st.floats(0.001, 0.999),
    st.sampled_from([1.0, -1.0]),
)
def test_over_corners_and_level_stretches_it_finds_what_halving_finds(steps, share, sign):
    places = np.linspace(1.0, 3.0, len(steps) + 1)
    heights = np.concatenate([[0.0], np.cumsum(steps)])

    def curve(place):
        return sign * np.interp(place, places, heights)

    target = sign * share * heights[-1]
    reference = halved(curve, 1.0, 3.0, target)
    assert root_between(curve, 1.0, 3.0, target) == pytest.approx(reference, rel=1e-12)


def test_it_looks_a_fourth_as_often_as_halving():
    looks = []

    def curve(place):
        looks.append(place)
        return place**3 + np.exp(place)

    root_between(curve, 0.0, 2.0, np.linspace(1.5, 10.0, 200))
    assert len(looks) < 20


@pytest.mark.parametrize("sign", [1.0, -1.0], ids=["rising", "falling"])
def test_no_root_between_the_ends_is_not_a_number(sign):
    found = root_between(lambda place: sign * place, 1.0, 2.0, sign * np.array([0.9, 1.5, 2.1]))
    assert np.isnan(found).tolist() == [True, False, True]


@pytest.mark.parametrize("sign", [1.0, -1.0], ids=["rising", "falling"])
@pytest.mark.parametrize(("low", "high"), [(0.1, 0.7), (0.7, 0.1)])
def test_an_end_is_returned_exactly(sign, low, high):
    found = root_between(
        lambda place: sign * place**3, low, high, sign * np.array([low, high]) ** 3
    )
    assert found.tolist() == [low, high]


@pytest.mark.parametrize("sign", [1.0, -1.0], ids=["rising", "falling"])
@pytest.mark.parametrize(("level", "last"), [(1.0, 1.0), (2.0, 2.0), (3.0, 4.0)])
def test_on_a_level_stretch_the_place_is_its_far_end(sign, level, last):
    # Level at 1 from 0 to 1 and at 3 from 3 to 4.
    found = root_between(lambda place: sign * np.clip(place, 1.0, 3.0), 0.0, 4.0, sign * level)
    assert found == pytest.approx(last, rel=1e-15)


def test_ends_and_target_broadcast():
    high = np.array([[1.0], [4.0]])
    target = np.array([0.25, 1.0, 9.0])
    found = root_between(lambda place: place**2, 0.0, high, target)
    assert found == pytest.approx(
        np.array([[0.5, 1.0, np.nan], [0.5, 1.0, 3.0]]), rel=1e-15, nan_ok=True
    )


def test_a_number_that_is_missing_leaves_only_its_own_answer_missing():
    slope = np.array([1.0, np.nan, 2.0])
    found = root_between(lambda place: slope * place, 0.0, 1.0, 0.5)
    assert found == pytest.approx(np.array([0.5, np.nan, 0.25]), nan_ok=True)


def test_it_never_leaves_the_interval():
    asked = []

    def curve(place):
        asked.append(place)
        return place**3

    root_between(curve, -0.1, 0.3, target=0.001)
    assert min(asked) >= -0.1
    assert max(asked) <= 0.3
