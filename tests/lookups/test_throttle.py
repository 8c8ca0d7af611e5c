"""Throttle: what a bore costs, when it chokes, and two of them side by side."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import lookup
from site_src.lookups.throttle import LOOKUP

BARE = {
    "throttle_bore": 90.0,
    "throttle_bores": "1",
    "shaft": 0.0,
    "discharge_coefficient": 0.9,
    "pipe_depression": 0.0,
    "intake_temperature": 25.0,
}
"""A bare 90 mm bore with nothing before it, at sea level and 25 °C."""

flows = st.floats(50.0, 700.0)
bores = st.floats(70.0, 140.0)


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = LOOKUP.explain(inputs)
    assert answer not in outcome.answers
    return LOOKUP.words(outcome.faults[answer], inputs)


def test_it_is_registered():
    assert lookup("throttle") is LOOKUP


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("flow", "kilopascal"),
    [
        pytest.param(196.48, 0.5, id="Heywood app. C, 90 mm, C_d 0.9, 0.5 kPa"),
        pytest.param(277.13, 1.0, id="Heywood app. C, 90 mm, C_d 0.9, 1 kPa"),
        pytest.param(389.82, 2.0, id="Heywood app. C, 90 mm, C_d 0.9, 2 kPa"),
        pytest.param(474.85, 3.0, id="Heywood app. C, 90 mm, C_d 0.9, 3 kPa"),
        pytest.param(606.30, 5.0, id="Heywood app. C, 90 mm, C_d 0.9, 5 kPa"),
    ],
)
def test_depression_of_a_bare_bore(flow, kilopascal):
    found = LOOKUP.evaluate(BARE | {"air_flow": flow})
    assert found["throttle_depression"] == pytest.approx(kilopascal, abs=3e-4)
    assert found["inlet_depression"] == found["throttle_depression"]


def test_choked_flow_of_a_bare_bore_iso_9300_ideal_critical_flow():
    found = LOOKUP.evaluate(BARE)
    assert found["choked_flow"] == pytest.approx(1357.87, abs=0.05)


def test_free_area_beside_a_ten_millimetre_shaft_heywood_limit_of_eq_7_18():
    symbols = LOOKUP.explain(BARE | {"shaft": 10.0}).symbols
    assert symbols["open"] == pytest.approx(0.85882, abs=5e-6)


def test_four_times_the_loss_at_twice_the_flow_darcy_weisbach():
    found = LOOKUP.evaluate({"air_flow": 600.0, "pipe_air_flow": 300.0, "pipe_depression": 0.5})
    assert found["pipe_part"] == pytest.approx(2.0, rel=1e-12)


def test_the_line_at_half_of_choked_flow_costs_what_the_note_says():
    choked = LOOKUP.evaluate(BARE)["choked_flow"]
    found = LOOKUP.evaluate(BARE | {"air_flow": choked / 2.0})
    assert found["choked_share"] == pytest.approx(50.0, abs=0.01)
    assert found["power_lost"] == pytest.approx(6.3, abs=0.05)
    assert "costs 6 %" in LOOKUP.answer("choked_share").note


# --- what it means in the bay --------------------------------------------------------------------


def test_defaults_feed_the_boost_page_its_own_default():
    boost = lookup("boost")
    found = LOOKUP.evaluate({})
    assert found["inlet_depression"] == pytest.approx(1.5, abs=0.05)
    assert boost.numbers["inlet_depression"].of == LOOKUP.answer("inlet_depression").of
    assert LOOKUP.explain({}).status == {"choked_share": "within", "other_choked_share": "within"}


def test_boost_lost_is_what_the_boost_page_loses():
    # The same set-up with and without the depression. The boost page holds the air flow's balance;
    # here it is the pressure ratio at the boost that is left.
    boost = lookup("boost")
    with_loss, without = (boost.evaluate({"inlet_depression": d}) for d in (1.5, 0.0))
    lost = LOOKUP.evaluate(
        {"boost": with_loss["boost"], "air_flow": with_loss["air_flow"], "pipe_depression": 0.0}
    )
    per_kilopascal = lost["boost_lost"] / lost["inlet_depression"]
    assert per_kilopascal * 1.5 == pytest.approx(without["boost"] - with_loss["boost"], abs=0.15)


def test_two_equal_throttles_change_nothing():
    found = LOOKUP.evaluate({"other_bore": 90.0, "other_bores": "2"})
    assert found["boost_change"] == 0.0
    assert found["other_inlet_depression"] == found["inlet_depression"]


def test_two_bores_pass_twice_what_one_does():
    one = LOOKUP.evaluate(BARE)["choked_flow"]
    assert LOOKUP.evaluate(BARE | {"throttle_bores": "2"})["choked_flow"] == pytest.approx(2 * one)


@given(flows, bores, bores)
@settings(max_examples=40, deadline=None)
def test_a_larger_bore_never_costs_more(flow, one, other):
    small, large = sorted((one, other))
    outcome = LOOKUP.explain(
        {"air_flow": flow, "throttle_bore": small, "throttle_bores": "1", "other_bore": large}
    )
    if "boost_change" in outcome.answers:
        assert outcome.answers["boost_change"] >= 0.0
        assert outcome.answers["other_power_lost"] <= outcome.answers["power_lost"]


@pytest.mark.parametrize(
    ("flow", "status"), [(500.0, "within"), (600.0, "near"), (700.0, "beyond")]
)
def test_a_throttle_is_judged_by_its_share_of_choked_flow(flow, status):
    assert LOOKUP.explain(BARE | {"air_flow": flow}).status["choked_share"] == status


def test_a_choked_throttle_is_told_in_words_and_still_judged():
    inputs = {"air_flow": 900.0, "throttle_bore": 60.0, "throttle_bores": "1"}
    assert "choked" in told("inlet_depression", **inputs)
    outcome = LOOKUP.explain(inputs)
    assert outcome.status["choked_share"] == "beyond"
    # The other throttle is answered all the same.
    assert "other_inlet_depression" in outcome.answers
    assert "boost_change" not in outcome.answers


def test_a_point_measured_far_below_is_refused_in_words():
    said = told("pipe_part", air_flow=1000.0, pipe_air_flow=50.0, pipe_depression=1.0)
    assert "15 kPa" in said
    assert "Measure nearer" in said


def test_thin_air_costs_more_depression():
    assert (
        LOOKUP.evaluate({"altitude": 2000.0})["throttle_depression"]
        > LOOKUP.evaluate({})["throttle_depression"]
    )
