"""Belt tension by ear: tone to tension and back, and the phone's listener against the reference."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.tone import hear_pluck
from site_src.lookups import belt, belt_tone
from tests.calc.test_tone import PARTIALS, RATE, TONES, WITHIN, hum, noise, pluck
from tests.node import needs_node, told_by
from tests.own import with_own

TONE = belt_tone.LOOKUP

# The drive that the numbers below are worked out for, whatever truck the page begins with.
TEN = {"drive_power": 38.0, "belt_ribs": 10.0}
HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"


# --- tension from tone, and back -----------------------------------------------------------------


def test_tension_of_a_quarter_metre_standard_string_equation():
    entered = {
        "tone": 126.491,
        "tone_span": 250.0,
        "mass_from": "entered",
        "mass_per_metre": 100.0,
        "wanted_from": "entered",
        "wanted_tension": 400.0,
    }
    found = TONE.evaluate(entered)
    assert found["belt_tension"] == pytest.approx(400.0, abs=0.01)
    assert found["tone_wanted"] == pytest.approx(126.491, abs=5e-4)


@settings(max_examples=60, deadline=None)
@given(
    tension=st.floats(100.0, 3000.0),
    span=st.floats(150.0, 1000.0),
    ribs=st.sampled_from([6.0, 8.0, 10.0, 12.0]),
)
def test_the_tone_of_a_tension_gives_the_tension_back(tension, span, ribs):
    entered = {"tone_span": span, "belt_ribs": ribs, "wanted_from": "entered"}
    tone = TONE.evaluate(entered | {"wanted_tension": tension})["tone_wanted"]
    if 20.0 <= tone <= 400.0:
        found = TONE.evaluate(entered | {"tone": tone})["belt_tension"]
        assert found == pytest.approx(tension, rel=1e-9)


def test_an_octave_up_is_four_times_the_tension_string_law():
    low, high = (TONE.evaluate({"tone": tone})["belt_tension"] for tone in (80.0, 160.0))
    assert high / low == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("entered", "mass"),
    [
        pytest.param({"mass_from": "ribs", "belt_ribs": 8.0}, 160.0, id="by ribs, from memory"),
        pytest.param(
            {"mass_from": "weighed", "belt_mass": 300.0, "belt_length": 1500.0},
            200.0,
            id="weighed, definition",
        ),
        pytest.param({"mass_from": "entered", "mass_per_metre": 185.0}, 185.0, id="as entered"),
    ],
)
def test_mass_of_a_metre(entered, mass):
    assert TONE.evaluate(entered)["belt_mass_per_metre"] == pytest.approx(mass)


@pytest.mark.parametrize(
    ("tone", "status"), [(67.0, "within"), (64.0, "near"), (57.0, "near"), (56.0, "beyond")]
)
def test_a_sprung_tension_is_judged_with_the_tensioners_friction(tone, status):
    assert TONE.explain(with_own(TONE, TEN | {"tone": tone})).status["belt_tension"] == status


@pytest.mark.parametrize(
    ("tone", "status"), [(142.0, "within"), (136.0, "near"), (134.0, "beyond")]
)
def test_a_locked_tension_is_judged_against_what_is_wanted(tone, status):
    entered = {"tensioner": "locked", "tone": tone}
    assert TONE.explain(with_own(TONE, TEN | entered)).status["belt_tension"] == status


def test_without_a_wanted_tension_nothing_is_judged():
    outcome = TONE.explain({"wanted_from": "entered", "wanted_tension": None})
    assert outcome.status == {}
    assert "tone_wanted" not in outcome.answers


def test_the_wanted_tone_follows_the_kind_of_tensioner():
    sprung, locked = (TONE.evaluate(TEN | {"tensioner": kind}) for kind in ("spring", "locked"))
    # √(305.5 N ÷ 0.2 kg/m) ÷ 0.62 m, and the same for 1,384.7 N.
    assert sprung["tension_wanted"] == pytest.approx(305.5, abs=0.1)
    assert sprung["tone_wanted"] == pytest.approx(63.04, abs=0.01)
    assert (sprung["tone_low"], sprung["tone_high"]) == pytest.approx((56.4, 69.1), abs=0.05)
    assert locked["tone_wanted"] == pytest.approx(134.2, abs=0.05)
    assert locked["tone_low"] == locked["tone_high"] == locked["tone_wanted"]


def test_a_sound_350_newton_on_a_spring_is_tight_enough():
    entered = TEN | {"wanted_from": "entered", "wanted_tension": 350.0}
    tone = TONE.evaluate(entered)["tone_wanted"]
    assert TONE.explain(with_own(TONE, TEN | {"tone": tone})).status["belt_tension"] == "within"


@settings(max_examples=40, deadline=None)
@given(
    power=st.floats(5.0, 80.0),
    wrap=st.floats(100.0, 240.0),
    kind=st.sampled_from(["spring", "locked"]),
)
def test_the_tension_wanted_is_the_belt_pages(power, wrap, kind):
    entered = {"drive_power": power, "blower_wrap": wrap, "tensioner": kind, "belt_ribs": 8.0}
    there = belt.LOOKUP.evaluate(entered)["least_tension"]
    assert TONE.evaluate(entered)["tension_wanted"] == pytest.approx(there, rel=1e-9)


def test_a_weighed_belt_is_what_locked_centres_are_set_for():
    heavy = {"mass_from": "weighed", "belt_mass": 300.0, "belt_length": 1250.0}
    locked, weighed = (TONE.evaluate(TEN | {"tensioner": "locked"} | more) for more in ({}, heavy))
    more = weighed["tension_wanted"] - locked["tension_wanted"]
    assert more == pytest.approx(0.040 * 57.805**2, abs=0.1)


# --- the phone's listener ------------------------------------------------------------------------


def node_hears(folder, recordings, *, stream=False):
    """Return what the phone's listener makes of (sound, rate) pairs."""
    job, at = [], 0
    for sound, rate in recordings:
        job.append({"rate": rate, "from": at, "to": at + len(sound), "stream": stream})
        at += len(sound)
    (folder / "job.json").write_text(json.dumps(job))
    np.concatenate([sound for sound, _ in recordings]).astype("<f8").tofile(folder / "sound.f64")
    files = folder / "job.json", folder / "sound.f64"
    return told_by(HERE / "hear_many.mjs", SCRIPTS, *files, seconds=300)


def recordings():
    """Plucks of every kind, and what must be refused."""
    silence, knock = np.zeros(RATE), pluck(98.0, ring=0.01)
    plucks = [
        (pluck(tone, ring, partials, rate=rate) + noise(0.002, rate=rate), rate)
        for tone in TONES
        for ring in (0.08, 0.15, 0.8)
        for partials in PARTIALS.values()
        for rate in (44_100, 48_000)
    ]
    stiff = [(pluck(tone, stiffness=0.001), RATE) for tone in TONES]
    other_rates = [(pluck(tone, rate=rate), rate) for tone in TONES for rate in (16_000, 96_000)]
    refused = [silence, knock, noise(0.0005), noise(0.05), *(hum(0.1, f) for f in (50, 60, 100))]
    mixed = [pluck(98.0) + hum(0.3), pluck(98.0) + hum(0.006), pluck(30.0), pluck(320.0)]
    clipped = np.clip(8 * pluck(82.41), -1, 1)
    rest = [(sound, RATE) for sound in (*refused, *mixed, clipped)]
    return [*plucks, *stiff, *other_rates, *rest]


@needs_node
def test_phone_hears_what_the_reference_hears(tmp_path):
    heard = node_hears(tmp_path, all_of_them := recordings())
    for (sound, rate), phone in zip(all_of_them, heard, strict=True):
        reference = hear_pluck(sound, rate)
        assert phone["verdict"] == reference.verdict
        if reference.frequency is None:
            assert phone["frequency"] is None
        else:
            assert phone["frequency"] == pytest.approx(reference.frequency, abs=1e-6)
    assert {each["verdict"] for each in heard} == {
        "tone",
        "too quiet",
        "steady sound",
        "no clear pitch",
    }


@needs_node
def test_three_plucks_in_a_noisy_bay_are_heard_one_by_one(tmp_path):
    streams = []
    for tone in TONES:
        plucks = [pluck(tone + shift, ring=0.2) for shift in (0.0, 0.4, -0.4)]
        sound = np.concatenate([np.zeros(RATE // 2), *plucks, np.zeros(RATE // 2)])
        streams.append((sound + 0.002 * np.random.default_rng(5).normal(size=len(sound)), RATE))
    for tone, found in zip(TONES, node_hears(tmp_path, streams, stream=True), strict=True):
        tones = [each["frequency"] for each in found["heard"]]
        assert tones == pytest.approx([tone, tone + 0.4, tone - 0.4], abs=WITHIN)


@needs_node
@pytest.mark.parametrize(
    ("sound", "why"),
    [
        pytest.param(np.zeros(3 * RATE), "too quiet", id="silence"),
        pytest.param(np.tile(noise(0.05), 3), "steady sound", id="noise"),
        pytest.param(np.tile(hum(0.1, 100.0), 3), "steady sound", id="hum"),
    ],
)
def test_no_pluck_is_found_in_what_is_none(tmp_path, sound, why):
    (found,) = node_hears(tmp_path, [(sound, RATE)], stream=True)
    assert found["heard"] == []
    assert found["back"]["verdict"] == why


@needs_node
def test_a_knock_is_no_tone(tmp_path):
    quiet = np.zeros(RATE)
    knock = 0.3 * np.exp(-np.arange(RATE) / (0.03 * RATE)) * noise(1.0, seed=3)[:RATE]
    (found,) = node_hears(tmp_path, [(np.concatenate([quiet, knock, quiet]), RATE)], stream=True)
    assert [each["frequency"] for each in found["heard"]] == [None]


def test_a_pluck_of_the_usual_set_up_is_within_what_is_listened_for():
    tone = TONE.evaluate({})["tone_wanted"]
    assert 40.0 < tone < 300.0
    assert math.isclose(TONE.numbers["tone"].default, tone, rel_tol=0.1)
