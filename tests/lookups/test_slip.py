"""Slip from boost: what a gauge tells of the belt, and when it can't."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from site_src.lookups import boost, slip
from site_src.model.lookup import InputError

SLIP = slip.LOOKUP
BOOST = boost.LOOKUP


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = SLIP.explain(inputs)
    assert answer not in outcome.answers
    return SLIP.words(outcome.faults[answer], inputs)


@settings(max_examples=80, deadline=None)
@given(
    percent=st.floats(0.0, 12.0),
    pulley=st.floats(75.0, 100.0),
    engine_speed=st.floats(3500.0, 7000.0),
    altitude=st.floats(0.0, 2500.0),
)
def test_the_boost_that_a_slip_gives_gives_the_slip_back(percent, pulley, engine_speed, altitude):
    entered = {"blower_pulley": pulley, "engine_speed": engine_speed, "altitude": altitude}
    given_boost = BOOST.explain(entered | {"slip": percent}).answers.get("boost")
    assume(given_boost is not None and given_boost > 8.0)
    found = SLIP.evaluate(entered | {"measured_boost": given_boost})
    assert found["slip_found"] == pytest.approx(percent, abs=0.005)


def test_a_rating_calibrates_the_slip_too():
    entered = {"efficiency_from": "rating", "rating_boost": 70.0, "blower_pulley": 88.0}
    found = SLIP.evaluate(entered | {"measured_boost": 70.0})
    # At the very set-up that the kit states, the slip that the model allows for comes back.
    assert found["slip_found"] == pytest.approx(1.0, abs=0.005)
    assert found["boost_missing"] == pytest.approx(0.0, abs=0.01)


def test_expected_boost_is_the_boost_pages():
    entered = {"blower_pulley": 85.0, "altitude": 1600.0}
    expected = BOOST.evaluate(entered | {"slip": 1.0})["boost"]
    assert SLIP.evaluate(entered)["expected_boost"] == pytest.approx(expected, abs=1e-9)


def test_less_boost_is_more_slip():
    readings = [80.0, 78.0, 75.0, 70.0, 60.0]
    slips = [SLIP.evaluate({"measured_boost": each})["slip_found"] for each in readings]
    assert slips == sorted(slips)


@pytest.mark.parametrize(
    ("measured", "status"), [(79.0, "within"), (75.0, "near"), (65.0, "beyond")]
)
def test_slip_is_judged_against_what_burns_a_belt_common_practice(measured, status):
    assert SLIP.explain({"measured_boost": measured}).status["slip_found"] == status


def test_more_boost_than_the_pulleys_give_is_no_negative_slip():
    assert "without any slip" in told("slip_found", measured_boost=95.0)


def test_a_boost_far_too_low_is_no_slip():
    assert "boost leak" in told("slip_found", measured_boost=6.0, blower_pulley=70.0)


def test_a_reading_out_of_range_is_refused_by_name():
    with pytest.raises(InputError, match=r"Boost you measured is 5\.0 kPa"):
        SLIP.evaluate({"measured_boost": 5.0})
