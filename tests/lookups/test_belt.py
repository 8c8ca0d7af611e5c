"""Belt drive: what a builder enters before ordering a belt, and what the page must tell him."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import belt, boost

BELT = belt.LOOKUP

INCH = 25.4

wraps = st.floats(90.0, 250.0)
powers = st.floats(5.0, 80.0)
ribs = st.sampled_from([6.0, 8.0, 10.0, 12.0])


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = BELT.explain(inputs)
    assert answer not in outcome.answers
    return BELT.words(outcome.faults[answer], inputs)


def status(answer, **inputs):
    return BELT.explain(inputs).status.get(answer)


def test_tables_stay_small():
    assert sum(table.grid.numbers.size for table in BELT.compiled) < 400


# --- published figures through the page ----------------------------------------------------------

# A flat belt of 0.6 kg/m that may carry 1200 N, written as 12 ribs.
KHURMI_11_10 = {
    "belt_ribs": 12.0,
    "tension_per_rib": 100.0,
    "mass_per_rib": 50.0,
    "grip_friction": 0.3,
    "blower_wrap": 120.0,
    "diameter_kind": "pitch",
    "crank_pulley": 180.0,
    "engine_speed": 60.0 * 25.82 / (math.pi * 0.180),
}


def test_power_at_the_best_speed_khurmi_example_11_10():
    found = BELT.evaluate(KHURMI_11_10)
    assert found["best_speed"] == pytest.approx(25.82, abs=0.005)
    assert found["belt_speed"] == pytest.approx(25.82, abs=0.005)
    assert found["grip_power"] == pytest.approx(9.64, abs=0.005)


def test_less_power_on_both_sides_of_the_best_speed_khurmi_chapter_11():
    def power(speed):
        return BELT.evaluate(KHURMI_11_10 | {"engine_speed": speed})["grip_power"]

    best = KHURMI_11_10["engine_speed"]
    assert power(best) > max(power(0.9 * best), power(1.1 * best))


@pytest.mark.parametrize(
    ("kind", "ratio"),
    [
        pytest.param("effective", 2.42857, id="ISO 9981 clause 5.4: pitch diameters make it"),
        pytest.param("pitch", 2.5, id="ISO 9981 clause 5.4: 200/80 by itself"),
    ],
)
def test_drive_ratio_of_200_over_80(kind, ratio):
    entered = {"crank_pulley": 200.0, "blower_pulley": 80.0, "diameter_kind": kind}
    assert BELT.evaluate(entered)["drive_ratio"] == pytest.approx(ratio, abs=5e-6)


def test_belt_speed_wentzell_example_14_2():
    entered = {"crank_pulley": 4 * INCH, "diameter_kind": "pitch", "engine_speed": 1800.0}
    feet_per_minute = BELT.evaluate(entered)["belt_speed"] / 0.3048 * 60
    assert feet_per_minute == pytest.approx(1884.96, abs=0.01)


def test_tight_to_slack_is_four_at_half_a_turn_rating_practice_from_memory():
    found = BELT.evaluate({"blower_wrap": 180.0})
    own = found["centrifugal_tension"]
    ratio = (found["tight_tension"] - own) / (found["least_tension"] - own)
    # 0.44 is ln 4 / π to two digits.
    assert ratio == pytest.approx(4.0, abs=0.02)


@pytest.mark.parametrize(
    ("gap", "span", "angle"),
    [
        pytest.param(5.0, 500.0, 0.5730, id="tangent: 5 mm in 500 mm"),
        pytest.param(4.363, 500.0, 0.5000, id="tangent: 0.5° over 500 mm"),
        pytest.param(0.4363, 100.0, 0.2500, id="tangent: 0.25° over 100 mm"),
        pytest.param(0.0524 * INCH, 12 * INCH, 0.2502, id="tangent: 0.0524 in per foot"),
    ],
)
def test_misalignment_from_equal_gaps(gap, span, angle):
    entered = {"gap_near": gap, "gap_far": gap, "alignment_span": span}
    assert BELT.evaluate(entered)["misalignment"] == pytest.approx(angle, abs=2e-4)


def test_smallest_pulley_iso_9981_clause_5_2():
    assert status("blower_effective", blower_pulley=44.9) == "beyond"
    assert status("blower_effective", blower_pulley=45.0) == "near"
    assert status("blower_effective", blower_pulley=60.0) == "within"


# --- laws ------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(wrap=wraps, power=powers, count=ribs)
def test_power_wrap_and_ribs_give_one_verdict(wrap, power, count):
    entered = {"blower_wrap": wrap, "crank_wrap": 250.0, "drive_power": power, "belt_ribs": count}
    outcome = BELT.explain(entered)
    holds = outcome.answers["grip_power"] >= 1.25 * power
    assert (outcome.answers["ribs_needed"] <= count) == holds
    if "wrap_needed" in outcome.answers:
        assert (outcome.answers["wrap_needed"] <= wrap) == holds
    else:
        assert not holds or power < 10.0


@settings(max_examples=60, deadline=None)
@given(wrap=wraps, power=powers, tensioner=st.sampled_from(["spring", "locked"]))
def test_the_least_tension_just_passes_the_power(wrap, power, tensioner):
    entered = {"blower_wrap": wrap, "drive_power": power, "tensioner": tensioner}
    least = BELT.evaluate(entered)["least_tension"]
    found = BELT.evaluate(entered | {"belt_tension": least})
    assert found["set_grip_power"] == pytest.approx(1.25 * power, rel=1e-6)


def test_the_pulley_with_less_wrap_slides_first():
    on_blower = BELT.evaluate({"blower_wrap": 140.0, "crank_wrap": 180.0})
    on_crank = BELT.evaluate({"blower_wrap": 180.0, "crank_wrap": 140.0})
    assert on_blower["grip_power"] == on_crank["grip_power"]


def test_the_margin_makes_all_the_difference_between_slipping_and_not():
    passes = BELT.evaluate({})["grip_power"]
    assert status("grip_power", drive_power=passes, power_margin=0.0) in ("near", "beyond")
    assert status("grip_power", drive_power=passes / 1.26) == "near"


def test_bearing_pull_at_rest_and_half_a_turn_is_both_runs_limit_case():
    found = BELT.evaluate({"blower_wrap": 180.0, "belt_tension": 600.0})
    assert found["hub_load_at_rest"] == pytest.approx(1200.0, abs=0.01)


def test_bearing_pull_running_and_half_a_turn_is_the_sum_limit_case():
    found = BELT.evaluate({"blower_wrap": 180.0})
    own = found["centrifugal_tension"]
    both = found["tight_tension"] + found["least_tension"] - 2 * own
    assert found["hub_load"] == pytest.approx(both, abs=0.01)


def test_rotor_speed_is_the_boost_pages():
    entered = {"blower_pulley": 85.0, "crank_pulley": 192.0, "engine_speed": 5750.0, "slip": 2.0}
    assert BELT.evaluate(entered)["rotor_speed"] == boost.LOOKUP.evaluate(entered)["rotor_speed"]


# --- scenarios -------------------------------------------------------------------------------


def test_usual_set_up_holds():
    outcome = BELT.explain({})
    judged = ("grip_power", "wrap_needed", "ribs_needed", "rotor_speed", "blower_effective")
    assert {outcome.status[key] for key in judged} == {"within"}
    assert {"misalignment", "set_grip_power"}.isdisjoint(outcome.answers)


def test_eight_ribs_slip_where_ten_hold():
    assert status("grip_power", belt_ribs=8.0) == "beyond"
    assert status("ribs_needed", belt_ribs=8.0) == "beyond"
    assert status("wrap_needed", belt_ribs=8.0) == "beyond"


def test_a_slack_belt_slips_though_its_ribs_would_hold():
    outcome = BELT.explain({"belt_tension": 800.0})
    assert outcome.status["grip_power"] == "within"
    assert outcome.status["set_grip_power"] == "beyond"


def test_a_belt_that_barely_carries_itself_passes_nothing():
    assert BELT.evaluate({"belt_tension": 500.0})["set_grip_power"] == 0.0


def test_a_tilted_pulley_is_out_though_its_middle_is_in_plane():
    outcome = BELT.explain({"gap_near": -0.4, "gap_far": 0.4, "gap_distance": 90.0})
    assert outcome.answers["plane_offset"] == 0.0
    assert outcome.status["misalignment"] == "beyond"


def test_unlike_rims_are_taken_off_the_reading():
    found = BELT.evaluate({"gap_near": 1.0, "gap_far": 1.0, "rim_difference": 1.0})
    assert found["plane_offset"] == 0.0
    assert found["misalignment"] == 0.0


def test_too_fast_a_belt_passes_nothing_and_says_why():
    entered = {"crank_pulley": 290.0, "engine_speed": 6000.0, "mass_per_rib": 25.0}
    assert BELT.evaluate(entered | {"tension_per_rib": 150.0})["grip_power"] == 0.0
    words = told("ribs_needed", **entered, tension_per_rib=150.0)
    assert "turning their own mass" in words
    assert "smaller crank pulley" in words


def test_no_wrap_is_enough_is_said_in_words():
    assert "Fit more ribs" in told("wrap_needed", belt_ribs=4.0)


def test_an_impossible_speed_is_said_in_words():
    assert "over 100 m/s" in told("belt_speed", crank_pulley=300.0, engine_speed=9000.0)


def test_power_that_no_belt_stands_is_said_in_words():
    assert "tear any belt" in told("least_tension", drive_power=150.0, engine_speed=600.0)


def test_more_ribs_than_any_belt_has_is_said_in_words():
    assert "Over 40 ribs" in told("ribs_needed", tension_per_rib=75.0, drive_power=60.0)
