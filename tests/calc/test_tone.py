"""The reference listener on made-up plucks, and on what it must refuse."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.domain import DomainError
from calc.tone import hear_pluck, median_and_spread

RATE = 48_000
SECONDS = 1.2
ONSET = 0.3
WITHIN = 0.3
"""Allowed error in hertz over the range of belt tones."""

TONES = [55.0, 61.74, 73.42, 82.41, 98.0, 110.0, 123.47, 146.83, 164.81, 180.3, 196.0]
PARTIALS = {
    "plain": (1.0, 0.5, 0.33, 0.25, 0.2),
    "plucked in the middle: odd ones only": (1.0, 0.0, 0.4, 0.0, 0.2),
    "weak lowest": (0.3, 1.0, 0.5, 0.5, 0.3),
    "pure": (1.0,),
    "bright": (1.0, 0.9, 0.9, 0.9, 0.9),
}


def seconds(rate=RATE):
    return np.arange(int(SECONDS * rate)) / rate


def pluck(tone, ring=0.15, partials=PARTIALS["plain"], stiffness=0.0, rate=RATE, level=0.2):
    """Sum of fading sines; a stiff string's partials are sharp, and higher ones fade sooner."""
    since = seconds(rate) - ONSET
    sound = np.zeros_like(since)
    for number, strength in enumerate(partials, 1):
        sharp = tone * number * math.sqrt((1 + stiffness * number**2) / (1 + stiffness))
        fade = np.exp(-np.maximum(since, 0) * math.sqrt(number) / ring)
        sound += strength * fade * np.sin(math.tau * sharp * since + number**2)
    return level * np.where(since >= 0, sound, 0)


def noise(level, seed=1, rate=RATE):
    return level * np.random.default_rng(seed).normal(size=len(seconds(rate)))


def hum(level, mains=60.0):
    time = seconds()
    return level * sum(
        strength * np.sin(math.tau * mains * number * time + number)
        for number, strength in ((1, 1.0), (2, 0.4), (3, 0.3))
    )


# --- heard ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("rate", [44_100, 48_000, 96_000, 16_000])
@pytest.mark.parametrize("tone", TONES)
def test_pluck_is_heard_within_three_tenths_of_a_hertz(tone, rate):
    sound = pluck(tone, rate=rate) + noise(0.002, rate=rate)
    assert hear_pluck(sound, rate).frequency == pytest.approx(tone, abs=WITHIN)


@pytest.mark.parametrize("partials", PARTIALS.values(), ids=PARTIALS)
@pytest.mark.parametrize("ring", [0.08, 0.3, 0.8], ids="rings {} s".format)
def test_whatever_the_partials_and_however_damped(partials, ring):
    for tone in TONES:
        heard = hear_pluck(pluck(tone, ring, partials) + noise(0.002), RATE)
        assert heard.frequency == pytest.approx(tone, abs=WITHIN)


@pytest.mark.parametrize("stiffness", [0.0003, 0.001])
@pytest.mark.parametrize("tone", TONES)
def test_sharp_partials_of_a_stiff_belt_do_not_pull_the_tone_up(tone, stiffness):
    heard = hear_pluck(pluck(tone, stiffness=stiffness), RATE)
    assert heard.frequency == pytest.approx(tone, abs=WITHIN)


@settings(max_examples=60)
@given(st.floats(55.0, 196.0), st.floats(0.08, 0.8), st.integers(0, 10_000))
def test_any_tone_in_the_range(tone, ring, seed):
    heard = hear_pluck(pluck(tone, ring) + noise(0.004, seed), RATE)
    assert heard.frequency == pytest.approx(tone, abs=WITHIN)


@pytest.mark.parametrize(("ring", "verdict"), [(0.036, "tone"), (0.032, "no clear pitch")])
def test_a_pluck_is_heard_if_it_rings_for_a_tenth_of_a_second(ring, verdict):
    since = seconds() - 0.3
    sound = np.where(since > 0, np.exp(-since / ring), 0) * np.sin(math.tau * 200 * since)
    assert hear_pluck(sound, RATE).verdict == verdict


@given(st.floats(0.05, 4.0))
@settings(max_examples=20)
def test_loudness_does_not_matter(gain):
    sound = pluck(98.0)
    assert hear_pluck(gain * sound, RATE).frequency == pytest.approx(
        hear_pluck(sound, RATE).frequency, abs=1e-6
    )


def test_pluck_over_hum_30_decibels_down():
    for tone in TONES:
        heard = hear_pluck(pluck(tone) + hum(0.2 * 10 ** (-30 / 20)), RATE)
        assert heard.frequency == pytest.approx(tone, abs=WITHIN)


def test_a_phone_that_clips_the_attack_still_hears_the_tone():
    sound = np.clip(8 * pluck(82.41), -1, 1)
    assert hear_pluck(sound, RATE).frequency == pytest.approx(82.41, abs=WITHIN)


# --- refused --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sound", "verdict"),
    [
        pytest.param(np.zeros(RATE), "too quiet", id="digital silence"),
        pytest.param(noise(0.0005), "too quiet", id="the phone's own noise"),
        pytest.param(pluck(98.0, level=0.0005), "too quiet", id="a pluck next door"),
        pytest.param(hum(0.1, 50.0), "steady sound", id="hum 50 Hz"),
        pytest.param(hum(0.1, 60.0), "steady sound", id="hum 60 Hz"),
        pytest.param(hum(0.1, 100.0), "steady sound", id="hum 100 Hz"),
        pytest.param(noise(0.05), "steady sound", id="white noise"),
        pytest.param(pluck(98.0) + hum(0.3), "steady sound", id="pluck drowned in hum"),
    ],
)
def test_what_is_not_a_pluck_is_refused_with_the_reason(sound, verdict):
    heard = hear_pluck(sound, RATE)
    assert (heard.verdict, heard.frequency) == (verdict, None)


@pytest.mark.parametrize("mains", [50.0, 60.0, 100.0, 120.0])
@pytest.mark.parametrize("when", np.linspace(0.1, 1.1, 11))
def test_hum_that_is_switched_on_or_off_is_no_pluck(mains, when):
    on = np.where(seconds() > when, hum(0.1, mains), 0.0)
    assert hear_pluck(on, RATE).frequency is None
    assert hear_pluck(hum(0.1, mains) - on, RATE).frequency is None


@pytest.mark.parametrize("seed", range(20))
def test_noises_have_no_pitch(seed):
    fading = np.where(seconds() > ONSET, np.exp((ONSET - seconds()) / 0.15), 0.0)
    knock = np.convolve(noise(0.5, seed) * fading, np.ones(200) / 200, "same")
    wandering = 0.002 * np.cumsum(noise(1.0, seed))
    for sound in (noise(0.2, seed), noise(0.2, seed) * fading, knock, wandering):
        assert hear_pluck(sound, RATE).frequency is None


@pytest.mark.parametrize("tone", [12.0, 25.0, 340.0, 440.0, 1000.0, 2500.0])
def test_tones_beyond_the_range_are_not_taken_for_belts(tone):
    assert hear_pluck(pluck(tone, partials=PARTIALS["pure"]), RATE).frequency is None


def test_a_recording_must_last():
    with pytest.raises(DomainError, match="duration"):
        hear_pluck(np.zeros(100), RATE)
    with pytest.raises(DomainError, match="sample_rate"):
        hear_pluck(np.zeros(RATE), 4000.0)


# --- several plucks -------------------------------------------------------------------------------


def test_median_of_three_ignores_one_slip():
    assert median_and_spread([98.2, 140.0, 97.9]) == (98.2, pytest.approx(42.1))


def test_one_pluck_has_no_spread():
    assert median_and_spread([98.2]) == (98.2, 0.0)


@pytest.mark.parametrize("tones", [[], [0.0], [math.nan, 100.0]])
def test_plucks_that_are_none_are_refused(tones):
    with pytest.raises(DomainError):
        median_and_spread(tones)
