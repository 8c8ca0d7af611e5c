"""Tones of an engine and a belt-driven blower, and the drive ratio that they tell."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import signal

from calc import drive_tone as calc
from calc.domain import DomainError


@pytest.mark.parametrize(
    ("cylinders", "rpm", "hertz"),
    [
        pytest.param(8.0, 3000.0, 200.0, id="eight at 3,000: four firings a turn, definition"),
        pytest.param(4.0, 900.0, 30.0, id="four at 900: two firings a turn, definition"),
        pytest.param(6.0, 6000.0, 300.0, id="six at 6,000: three firings a turn, definition"),
        pytest.param(3.0, 1200.0, 30.0, id="three at 1,200: three firings in two turns"),
    ],
)
def test_firing_and_back(cylinders, rpm, hertz):
    assert calc.firing_tone(cylinders, rpm / 60.0) == pytest.approx(hertz)
    assert calc.crank_speed_heard(hertz, cylinders) == pytest.approx(rpm / 60.0)


@pytest.mark.parametrize(
    ("lobes", "rpm", "hertz"),
    [
        pytest.param(3.0, 12000.0, 600.0, id="three lobes, blade passing: 3 × 200"),
        pytest.param(2.0, 1800.0, 60.0, id="two lobes, blade passing: 2 × 30"),
        pytest.param(4.0, 14000.0, 933.3333333, id="four lobes, blade passing: 4 × 233.3"),
    ],
)
def test_lobe_tone_and_back(lobes, rpm, hertz):
    assert calc.lobe_tone(lobes, rpm / 60.0) == pytest.approx(hertz)
    assert calc.rotor_speed_heard(hertz, lobes) == pytest.approx(rpm / 60.0)


def test_lobe_tone_is_the_first_line_of_the_spectrum_of_a_port_that_lobes_pass():
    # A port that each of three lobes covers for a twentieth of a turn, at 40 turns a second.
    rate, turns = 8192, 40.0
    angle = np.arange(rate) / rate * turns * 3.0
    spectrum = np.abs(np.fft.rfft((angle % 1.0 < 0.15) - 0.15))
    lines = np.flatnonzero(spectrum > 0.2 * spectrum.max())
    assert lines[0] == pytest.approx(calc.lobe_tone(3.0, turns), abs=1)
    assert lines[1] == pytest.approx(2 * calc.lobe_tone(3.0, turns), abs=1)


@given(
    cylinders=st.sampled_from([3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0]),
    lobes=st.sampled_from([2.0, 3.0, 4.0, 5.0]),
    ratio=st.floats(0.5, 4.0),
    slip=st.floats(0.0, 0.15),
    crank=st.floats(10.0, 120.0),
)
def test_the_two_tones_give_the_ratio_back_whatever_the_speed(cylinders, lobes, ratio, slip, crank):
    tone = calc.lobe_tone(lobes, crank * ratio * (1.0 - slip))
    order = calc.order_heard(tone, calc.firing_tone(cylinders, crank), cylinders)
    assert order / lobes == pytest.approx(ratio * (1.0 - slip))
    assert order == pytest.approx(calc.lobe_order(lobes, ratio) * (1.0 - slip))


# --- uncertainty ---------------------------------------------------------------------------------


def test_parts_add_as_squares_gum_5_1_2():
    assert calc.together(3.0, 4.0) == pytest.approx(5.0)
    assert calc.ratio_share_unsure(400.0, 1.2, 200.0, 0.8) == pytest.approx(0.005)
    assert calc.pulleys_share_unsure(0.200, 0.150, 0.0006) == pytest.approx(0.005)
    assert calc.slip_unsure(0.02, 0.003, 0.004) == pytest.approx(0.98 * 0.005)


def test_uncertainty_of_slip_is_that_of_a_million_trials_numpy():
    rng = np.random.default_rng(7)
    tone = rng.normal(411.6, 0.9, 1_000_000)
    firing = rng.normal(200.0, 0.3, 1_000_000)
    driving, driven = (rng.normal(d, 0.0005, 1_000_000) for d in (0.184, 0.096))
    slips = 1.0 - tone / firing / (driving / driven) * 4.0 / 4.0
    heard = calc.ratio_share_unsure(411.6, 0.9, 200.0, 0.3)
    sound = calc.pulleys_share_unsure(0.184, 0.096, 0.0005)
    slip = 1.0 - 411.6 / 200.0 / (0.184 / 0.096)
    assert calc.slip_unsure(slip, heard, sound) == pytest.approx(slips.std(), rel=0.01)


# --- telling them apart --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("order", "gap"),
    [(8.0, 0.0), (8.4, 0.1), (8.25, 0.25), (7.5, 0.0), (7.74, 0.24), (7.76, 0.24), (0.5, 0.0)],
)
def test_an_engine_has_lines_at_every_half_order(order, gap):
    assert float(calc.gap_to_engine(order)) == pytest.approx(gap)


def test_a_four_stroke_engine_repeats_itself_every_two_turns_and_so_has_half_orders():
    # Eight unequal firings in two turns, at one turn a second over 64 turns: lines every 0.5 Hz.
    rate = 512
    pulses = np.zeros(64 * rate)
    for firing, strength in enumerate([1.0, 0.8, 1.1, 0.9, 1.0, 1.2, 0.7, 1.0]):
        pulses[firing * rate // 4 :: 2 * rate] = strength
    spectrum = np.abs(np.fft.rfft(pulses))
    orders = np.flatnonzero(spectrum > 1e-6 * spectrum.max()) / 64.0
    assert np.allclose(orders % 0.5, 0.0)
    assert {0.5, 1.0, 4.0, 8.0} <= set(orders)


def test_room_is_what_the_widths_leave():
    assert calc.hertz_apart(0.1, 50.0, 0.2, 0.3) == pytest.approx(4.5)
    assert calc.hertz_apart(0.0, 50.0, 0.2, 0.3) < 0.0


@given(st.floats(0.005, 0.25))
def test_at_the_least_speed_tones_are_just_apart(gap):
    speed = calc.least_speed_apart(gap)
    assert calc.hertz_apart(gap, speed, 0.0, 0.0) == pytest.approx(calc.RESOLUTION)


@pytest.mark.parametrize(
    ("apart", "told"),
    [
        pytest.param(calc.RESOLUTION, True, id="far enough, Hann window of scipy"),
        pytest.param(0.4 * calc.RESOLUTION, False, id="one line apart, Hann window of scipy"),
    ],
)
def test_a_tone_a_fifth_as_loud_is_found_beside_another_only_that_far_off(apart, told):
    time = np.arange(int(2.5 * 2000)) / 2000.0
    missed = []
    for phase in np.linspace(0.0, math.tau, 8, endpoint=False):
        quieter = 0.2 * np.sin(math.tau * (200.0 + apart) * time + phase)
        sound = np.sin(math.tau * 200.0 * time) + quieter
        at, power = signal.periodogram(sound, 2000.0, window="hann", nfft=1 << 16)
        summits = at[signal.find_peaks(power, height=0.01 * power.max())[0]]
        missed.append(np.abs(summits - 200.0 - apart).min())
    assert (max(missed) < 0.1) == told


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: calc.firing_tone(0.0, 50.0),
        lambda: calc.order_heard(400.0, 0.0, 8.0),
        lambda: calc.gap_to_engine(0.2),
        lambda: calc.least_speed_apart(0.0),
        lambda: calc.ratio_share_unsure(400.0, math.nan, 200.0, 0.1),
    ],
)
def test_what_is_out_of_range_is_refused(wrong):
    with pytest.raises(DomainError):
        wrong()
