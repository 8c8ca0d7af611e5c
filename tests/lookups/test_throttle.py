"""Throttle: what a bore costs, when it chokes, and two of them side by side."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import lookup
from site_src.lookups.throttle import LOOKUP
from site_src.model.quantities import quantity
from tests.own import with_own

BARE = {
    "throttle_bore": 90.0,
    "throttle_bores": "1",
    "throttle_kind": "round",
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
    judged = LOOKUP.explain(with_own(LOOKUP)).status
    assert judged == {"choked_share": "within", "other_choked_share": "within"}


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
    found = LOOKUP.evaluate({"other_bore": 125.0, "other_bores": "1"})
    assert found["boost_change"] == 0.0
    assert found["other_inlet_depression"] == found["inlet_depression"]


def test_one_round_bore_is_the_usual():
    assert LOOKUP.choices["throttle_kind"].default == "round"
    assert LOOKUP.choices["throttle_bores"].default == "1"


@pytest.mark.parametrize(
    ("grams", "kilopascal"),
    [
        pytest.param(277.13, 1.0, id="Heywood app. C, 90 mm, C_d 0.9, 1 kPa"),
        pytest.param(474.85, 3.0, id="Heywood app. C, 90 mm, C_d 0.9, 3 kPa"),
        pytest.param(606.30, 5.0, id="Heywood app. C, 90 mm, C_d 0.9, 5 kPa"),
    ],
)
def test_a_flow_that_the_maker_states_is_the_bore_that_passes_it(grams, kilopascal):
    # The printed flows are for 25 °C; a sheet is for 20 °C, where the same opening passes more.
    stated = grams * 3.6 * (298.15 / 293.15) ** 0.5
    rated = {
        "throttle_kind": "mass",
        "throttle_rated_mass": stated,
        "throttle_rated_drop": kilopascal,
        "pipe_depression": 0.0,
    }
    found = LOOKUP.evaluate(rated | {"air_flow": 500.0})
    bare = LOOKUP.evaluate(BARE | {"air_flow": 500.0})
    assert found["inlet_depression"] == pytest.approx(bare["inlet_depression"], abs=2e-3)
    assert found["choked_flow"] == pytest.approx(bare["choked_flow"], rel=5e-5)


def test_cfm_at_28_inches_of_water_and_kilograms_an_hour_are_the_same_throttle():
    # 1,000 cfm of air of 20 °C at 1 atm, 1.2041 kg/m³ (ISO 2533): 2,045.8 kg/h.
    drop = (
        quantity("small_pressure")
        .unit("kPa")
        .from_si(quantity("small_pressure").unit("inH2O").to_si(28.0))
    )
    by_volume = {
        "throttle_kind": "volume",
        "throttle_rated_volume": 1000.0,
        "throttle_rated_drop": drop,
    }
    by_mass = {
        "throttle_kind": "mass",
        "throttle_rated_mass": 1000.0 * 0.3048**3 * 60.0 * 1.2041,
        "throttle_rated_drop": drop,
    }
    volume, mass = (LOOKUP.evaluate(each)["inlet_depression"] for each in (by_volume, by_mass))
    assert volume == pytest.approx(mass, rel=1e-4)


def test_a_flow_stated_at_28_inches_of_water_is_less_at_one_and_a_half_of_mercury():
    # Common practice on flow benches: flow goes with the root of the drop. A gas passes less than
    # that by 3/(4γ)·Δp/p, the first term of the nozzle's own series.
    units = quantity("small_pressure")
    drops = [
        units.unit("kPa").from_si(units.unit(key).to_si(value))
        for key, value in (("inH2O", 28.0), ("inHg", 1.5))
    ]
    areas = [
        LOOKUP.explain(
            {
                "throttle_kind": "volume",
                "throttle_rated_volume": 1000.0,
                "throttle_rated_drop": drop,
            }
        ).symbols["area"]
        for drop in drops
    ]
    root = (drops[1] / drops[0]) ** 0.5
    series = 1.0 + 0.75 / 1.4 * (drops[0] - drops[1]) / 101.325
    assert root == pytest.approx((20.4 / 28.0) ** 0.5, rel=1e-3)
    assert areas[0] / areas[1] == pytest.approx(root * series, rel=1e-3)


def test_a_stated_flow_without_its_drop_is_asked_for():
    outcome = LOOKUP.explain({"throttle_kind": "mass", "throttle_rated_mass": 1500.0})
    assert outcome.faults["inlet_depression"].kind == "blank"
    assert LOOKUP.numbers["throttle_rated_drop"].default is None


def test_an_oval_is_between_the_round_bores_of_its_height_and_width():
    oval = {"throttle_kind": "oval", "throttle_width": 130.0, "throttle_height": 80.0}
    depression = LOOKUP.evaluate(oval)["throttle_depression"]
    low, high = (
        LOOKUP.evaluate({"throttle_bore": bore})["throttle_depression"] for bore in (130.0, 80.0)
    )
    assert low < depression < high
    round_oval = {"throttle_kind": "oval", "throttle_width": 125.0, "throttle_height": 125.0}
    assert LOOKUP.evaluate(round_oval) == pytest.approx(LOOKUP.evaluate({}), rel=1e-12)


def test_an_oval_measured_the_wrong_way_round_is_told_so():
    said = told(
        "inlet_depression", throttle_kind="oval", throttle_width=80.0, throttle_height=120.0
    )
    assert "Swap width and height" in said


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
    assert (
        LOOKUP.explain(with_own(LOOKUP, BARE | {"air_flow": flow})).status["choked_share"] == status
    )


def test_a_choked_throttle_is_told_in_words_and_still_judged():
    inputs = {"air_flow": 900.0, "throttle_bore": 60.0, "throttle_bores": "1"}
    assert "choked" in told("inlet_depression", **inputs)
    outcome = LOOKUP.explain(with_own(LOOKUP, inputs))
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
