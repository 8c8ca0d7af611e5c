"""Belt drive: what a builder enters before ordering a belt, and what the page must tell him."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import belt, boost
from tests.own import with_own

BELT = belt.LOOKUP

INCH = 25.4

# The drive that the numbers below are worked out for, whatever truck the page begins with.
TEN = {"drive_power": 38.0, "belt_ribs": 10.0}

wraps = st.floats(90.0, 250.0)
powers = st.floats(5.0, 80.0)
ribs = st.sampled_from([6.0, 8.0, 10.0, 12.0])


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = BELT.explain(inputs)
    assert answer not in outcome.answers
    return BELT.words(outcome.faults[answer], inputs)


def status(answer, **inputs):
    return BELT.explain(with_own(BELT, **inputs)).status.get(answer)


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
    ratio = (found["tight_tension"] - own) / (found["slack_tension"] - own)
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
@given(
    wrap=wraps,
    power=powers,
    tensioner=st.sampled_from(["spring", "locked", "between"]),
    constant=st.floats(0.0, 1.0),
)
def test_the_least_tension_just_carries_the_power(wrap, power, tensioner, constant):
    entered = {"blower_wrap": wrap, "drive_power": power, "tensioner": tensioner}
    entered |= {"tensioner_constant": constant}
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
    both = found["tight_tension"] + found["slack_tension"] - 2 * own
    assert found["hub_load"] == pytest.approx(both, abs=0.01)


def test_rotor_speed_is_the_boost_pages():
    entered = {"blower_pulley": 85.0, "crank_pulley": 192.0, "engine_speed": 5750.0, "slip": 2.0}
    assert BELT.evaluate(entered)["rotor_speed"] == boost.LOOKUP.evaluate(entered)["rotor_speed"]


# --- scenarios -------------------------------------------------------------------------------


def test_usual_set_up_holds():
    outcome = BELT.explain(with_own(BELT))
    judged = ("grip_power", "wrap_needed", "ribs_needed", "rotor_speed", "blower_effective")
    assert {outcome.status[key] for key in judged} == {"within"}
    assert {"misalignment", "set_grip_power", "tight_there"}.isdisjoint(outcome.answers)
    # Nothing is held against a limit that nobody entered.
    assert {"hub_load", "limiter_belt_speed"} <= outcome.answers.keys() - outcome.status.keys()


def test_eight_ribs_slip_where_ten_hold():
    for answer in ("grip_power", "ribs_needed", "wrap_needed"):
        assert status(answer, **TEN) == "within"
        assert status(answer, **TEN | {"belt_ribs": 8.0}) == "beyond"


def test_a_slack_belt_slips_though_its_ribs_would_hold():
    outcome = BELT.explain(with_own(BELT, TEN, tensioner="locked", belt_tension=800.0))
    assert outcome.status["grip_power"] == "within"
    assert outcome.status["set_grip_power"] == "beyond"


def test_a_locked_belt_that_barely_carries_itself_carries_no_power():
    entered = {"tensioner": "locked", "belt_tension": 500.0}
    assert BELT.evaluate(TEN | entered)["set_grip_power"] == 0.0


def test_a_tilted_pulley_is_out_though_its_middle_is_in_plane():
    outcome = BELT.explain(with_own(BELT, {"gap_near": -0.4, "gap_far": 0.4, "gap_distance": 90.0}))
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
    assert "Fit more ribs" in told("wrap_needed", drive_power=38.0, belt_ribs=4.0)


def test_an_impossible_speed_is_said_in_words():
    assert "over 100 m/s" in told("belt_speed", crank_pulley=300.0, engine_speed=9000.0)


def test_power_that_no_belt_stands_is_said_in_words():
    assert "tear any belt" in told("least_tension", drive_power=150.0, engine_speed=600.0)


def test_more_ribs_than_any_belt_has_is_said_in_words():
    assert "Over 40 ribs" in told("ribs_needed", tension_per_rib=75.0, drive_power=60.0)


# --- sprung or locked ----------------------------------------------------------------------------


def test_sprung_is_set_to_what_grips_and_locked_to_m_v_squared_and_half_the_pull_more():
    # 47.5 kW at 57.8 m/s is 822 N; e^(0.44 × 170°) is 3.69; 200 g/m at 57.8 m/s is 668 N.
    sprung, locked = (BELT.evaluate(TEN | {"tensioner": kind}) for kind in ("spring", "locked"))
    assert sprung["least_tension"] == pytest.approx(305.5, abs=0.1)
    assert locked["least_tension"] == pytest.approx(305.5 + 668.3 + 821.7 / 2, abs=0.2)
    assert sprung["slack_tension"] == pytest.approx(305.5 + 668.3, abs=0.1)
    for same in ("slack_tension", "tight_tension", "hub_load", "grip_power"):
        assert sprung[same] == pytest.approx(locked[same], abs=0.01)


def test_resting_tension_of_a_sprung_belt_is_pull_over_grip_less_one_textbook_form():
    found = BELT.evaluate(TEN)
    pull = 1e3 * 1.25 * 38.0 / found["belt_speed"]
    grip = math.exp(0.44 * math.radians(170.0))
    assert found["least_tension"] == pytest.approx(pull / (grip - 1.0), abs=0.05)


@settings(max_examples=60, deadline=None)
@given(constant=st.floats(0.0, 1.0), wrap=wraps, power=powers)
def test_a_known_tensioner_constant_lies_in_proportion_between_sprung_and_locked(
    constant, wrap, power
):
    entered = {"blower_wrap": wrap, "drive_power": power, "tensioner_constant": constant}
    sprung, locked, between = (
        BELT.evaluate(entered | {"tensioner": kind})["least_tension"]
        for kind in ("spring", "locked", "between")
    )
    assert between == pytest.approx(constant * sprung + (1 - constant) * locked, rel=1e-9)


def test_a_sound_350_newton_on_a_spring_is_tight_enough():
    outcome = BELT.explain(with_own(BELT, TEN | {"belt_tension": 350.0}))
    assert outcome.status["set_grip_power"] == "within"
    assert outcome.answers["set_grip_power"] == pytest.approx(54.4, abs=0.05)
    assert outcome.status["tight_there"] == "within"


@pytest.mark.parametrize(
    ("reading", "status"), [(340.0, "within"), (306.0, "near"), (246.0, "near"), (243.0, "beyond")]
)
def test_a_sprung_tensioner_is_blamed_only_below_what_its_friction_explains(reading, status):
    outcome = BELT.explain(with_own(BELT, TEN | {"belt_tension": reading}))
    assert outcome.status["set_grip_power"] == status
    assert outcome.answers["reading_low"] == pytest.approx(244.4, abs=0.1)
    assert outcome.answers["reading_high"] == pytest.approx(366.6, abs=0.1)


def test_a_sprung_belt_set_as_if_locked_is_called_too_tight():
    outcome = BELT.explain(with_own(BELT, TEN | {"belt_tension": 974.0, "hub_limit": 1600.0}))
    assert outcome.status["tight_there"] == "beyond"
    assert outcome.status["hub_load"] == "beyond"
    sound = BELT.explain(with_own(BELT, TEN | {"belt_tension": 306.0, "hub_limit": 1600.0}))
    assert sound.status["hub_load"] == "within"
    at_rest = "hub_load_at_rest"
    assert outcome.answers[at_rest] / sound.answers[at_rest] == pytest.approx(974 / 306)


def test_without_its_constant_a_tensioner_between_gets_no_tension():
    outcome = BELT.explain({"tensioner": "between"})
    assert outcome.faults["least_tension"].symbol == "tensioner_constant"
    assert "least_tension" not in outcome.answers


# --- the rev limiter -----------------------------------------------------------------------------


def test_the_limiter_is_judged_with_the_same_torque_and_more_centrifugal_tension():
    found = BELT.evaluate(TEN | {"limiter_speed": 6500.0})
    assert found["limiter_belt_speed"] == pytest.approx(found["belt_speed"] * 65 / 60)
    room = 10 * (200.0 - 0.020 * found["limiter_belt_speed"] ** 2)
    held = room * (1 - math.exp(-0.44 * math.radians(170.0))) * found["limiter_belt_speed"]
    assert found["limiter_grip_power"] == pytest.approx(held / 1e3, abs=0.05)
    assert status("limiter_grip_power", **TEN, limiter_speed=6000.0) == "within"
    assert status("limiter_grip_power", **TEN, limiter_speed=6500.0) == "near"
    assert status("limiter_grip_power", **TEN, limiter_speed=7500.0) == "beyond"


def test_speed_adds_nothing_to_a_sprung_setting_and_m_v_squared_to_a_locked_one():
    for kind, more in (("spring", 0.0), ("locked", 0.2 * (62.622**2 - 57.805**2))):
        found = BELT.evaluate(TEN | {"tensioner": kind})
        added = found["limiter_tension"] - found["least_tension"]
        assert added == pytest.approx(more, abs=0.1)


def test_an_idler_is_judged_at_the_limiter_against_its_own_bearing():
    entered = {"idler_diameter": 76.0, "limiter_speed": 7000.0}
    found = BELT.explain(entered)
    # On the belt's back the cord runs 1.2 mm outside: 184 mm over 78.4 mm.
    assert found.answers["idler_speed"] == pytest.approx(7000 * 184 / 78.4, abs=0.5)
    assert "idler_speed" not in found.status
    assert status("idler_speed", **entered, idler_limit=16000.0) == "beyond"
    assert status("idler_speed", **entered, idler_limit=17000.0) == "near"
    assert status("idler_speed", **entered, idler_limit=20000.0) == "within"


def test_a_grooved_idler_runs_on_the_pitch_line_of_the_pulleys():
    entered = {"idler_diameter": 88.0, "idler_side": "ribs", "limiter_speed": 6000.0}
    assert BELT.evaluate(entered)["idler_speed"] == pytest.approx(6000 * 184 / 92, abs=0.01)


def test_other_things_on_the_belt_take_their_share_of_the_grip():
    alone, shared = BELT.evaluate(TEN), BELT.evaluate(TEN | {"accessory_power": 5.0})
    assert shared["least_tension"] / alone["least_tension"] == pytest.approx(43 / 38)
    assert shared["ribs_needed"] / alone["ribs_needed"] == pytest.approx(43 / 38)
    assert status("limiter_grip_power", **TEN, accessory_power=5.0) == "beyond"


def test_belt_speed_is_judged_only_against_a_stated_limit():
    assert status("limiter_belt_speed") is None
    assert status("limiter_belt_speed", belt_speed_limit=60.0) == "beyond"
    assert status("limiter_belt_speed", belt_speed_limit=75.0) == "within"


def test_a_limiter_under_the_speed_of_the_power_is_refused_in_words():
    assert "higher of the two" in told("limiter_tension", limiter_speed=5500.0)
