"""A phone on a wrench: the angle against rigid-body rotation, the band against a data sheet."""

from math import degrees, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from calc import turning
from calc.domain import DomainError

STILL = (0.0, 0.0, 0.0)


def sweep(angle, seconds=4.0, axis=(0.0, 0.0, 1.0), zero=STILL, count=241):
    """Readings of one smooth sweep, as a hand pulls it: from rest, to rest."""
    times = np.linspace(0.0, seconds, count)
    speed = angle / seconds * (1.0 - np.cos(2.0 * np.pi * times / seconds))
    unit = np.asarray(axis) / np.linalg.norm(axis)
    rates = speed[:, None] * unit + np.asarray(zero)
    return list(times), [tuple(rate) for rate in rates]


@pytest.mark.parametrize("angle", [30.0, 90.0, 180.0, 270.0])
@pytest.mark.parametrize("axis", [(0, 0, 1), (1, 0, 0), (1, -2, 3)])
def test_angle_is_that_of_the_rigid_body(angle, axis):
    """Rotation composed step by step from the same rates, as scipy does it."""
    times, rates = sweep(radians(angle), axis=axis)
    whole = Rotation.identity()
    for before, after, a, b in zip(times, times[1:], rates, rates[1:], strict=False):
        whole = whole * Rotation.from_rotvec((np.add(a, b) / 2.0) * (after - before))
    found = turning.turned_angle(times, rates, STILL)
    assert found == pytest.approx(radians(angle), abs=1e-9)
    turned_over = whole.magnitude() if angle <= 180 else 2 * np.pi - whole.magnitude()
    assert found == pytest.approx(turned_over, abs=1e-9)


def test_zero_taken_at_the_start_takes_the_gyro_s_offset_away():
    """A gyro may show up to 20 degrees a second at rest (data sheet, 2013)."""
    zero = (radians(20), radians(-7), radians(3))
    times, rates = sweep(radians(90), zero=zero)
    assert turning.turned_angle(times, rates, zero) == pytest.approx(radians(90), abs=1e-9)
    assert degrees(turning.turned_angle(times, rates, STILL)) > 100


@given(st.floats(0.5, 6.0), st.floats(0.4, 6.0))
def test_a_return_stroke_shows_in_the_share(forth, back):
    times, rates = sweep(forth)
    more, again = sweep(back)
    times += [times[-1] + time for time in more]
    rates += [(-x, -y, -z) for x, y, z in again]
    share = turning.one_way_share(times, rates, STILL)
    assert share == pytest.approx(abs(forth - back) / (forth + back), abs=0.05)


def test_one_sweep_is_all_angle_even_with_the_noise_of_the_data_sheet():
    """0.05 degrees a second of noise, data sheet of a motion sensor for phones, 2013."""
    noise = np.random.default_rng(3).normal(0.0, radians(0.05), (241, 3))
    times, rates = sweep(radians(90))
    rates = [tuple(rate) for rate in np.asarray(rates) + noise]
    assert turning.one_way_share(times, rates, STILL) > 0.99
    assert degrees(turning.turned_angle(times, rates, STILL)) == pytest.approx(90, abs=0.1)


def test_a_wrench_that_is_lifted_on_the_way_shows_in_the_share():
    times, rates = sweep(radians(90))
    lifted = [
        (radians(15), y, z) if 80 < n < 200 else (x, y, z) for n, (x, y, z) in enumerate(rates)
    ]
    lifted = [(-x, y, z) if n > 140 else (x, y, z) for n, (x, y, z) in enumerate(lifted)]
    assert turning.one_way_share(times, lifted, STILL) < 0.95


def test_band_of_a_quarter_turn_in_five_seconds():
    """3 % of 90 degrees and 5 s at 0.1 degrees a second, by the data sheet: 2.7 + 0.5."""
    drift = turning.drift_angle(5.0, 0.0)
    assert degrees(drift) == pytest.approx(0.5)
    assert degrees(turning.turn_uncertainty(radians(90), drift)) == pytest.approx(3.2)


def test_readings_out_of_their_order_are_refused():
    with pytest.raises(DomainError):
        turning.turned_angle([0.0, 2.0, 1.0], [STILL] * 3, STILL)
    with pytest.raises(DomainError):
        turning.turned_angle([0.0, 1.0], [(0.0, 0.0, 100.0)] * 2, STILL)


def test_a_zero_that_is_off_adds_to_the_drift_what_it_is_off_by_the_time():
    # By definition: an angle is a rate by a time, and both bands lie to the same side at worst.
    sound, off = turning.drift_angle(10.0, 0.0), turning.drift_angle(10.0, 0.02)
    assert off - sound == pytest.approx(0.2)
