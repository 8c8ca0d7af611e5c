"""Power: what a dyno operator would check, what the weather does, and the way back to boost."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.data.fuels import blend_properties
from site_src.lookups import lookup
from site_src.lookups.power import LOOKUP
from site_src.model.quantities import quantity

HORSEPOWER = 0.745699872
PSI = 6.894757293

boosts = st.floats(0.0, 150.0)
speeds = st.floats(1500.0, 8000.0)


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = LOOKUP.explain(inputs)
    assert answer not in outcome.answers
    return LOOKUP.words(outcome.faults[answer], inputs)


def test_it_is_registered():
    assert lookup("power") is LOOKUP


# --- published figures through the page ----------------------------------------------------------


def test_five_litres_on_eleven_and_a_half_psi_common_practice():
    # Common practice: 110 to 130 hp per litre at about 0.8 bar, charge-cooled, four valves. Ours:
    # 7000 rpm, volumetric efficiency 95 %, charge 47 °C, sea level, the page's usual bands.
    found = LOOKUP.evaluate(
        {
            "boost": 11.5 * PSI,
            "engine_speed": 7000.0,
            "engine_displacement": 5.0,
            "engine_efficiency": 95.0,
            "charge_temperature": 47.0,
        }
    )
    low, high = (found[key] / HORSEPOWER for key in ("power_low", "power_high"))
    assert low < 600.0 < high
    assert 110.0 * 5.0 < found["power"] / HORSEPOWER < 130.0 * 5.0


def test_air_of_a_blown_engine_mathur_and_sharma_example_17_1():
    # 3.0 L, 3500 rpm, pressure ratio 1.7 on 1.013 bar, 366.67 K, filling its sweep: the book, with
    # R = 287 J/(kg·K), has 0.14319 kg/s.
    found = LOOKUP.evaluate(
        {
            "boost": 0.7 * 101.3,
            "air_from": "barometer",
            "barometer": 101.3,
            "charge_temperature": 300.0 + 50.0 / 0.75 - 273.15,
            "engine_speed": 3500.0,
            "engine_displacement": 3.0,
            "engine_efficiency": 100.0,
        }
    )
    assert found["air_flow_used"] * 287.05287 / 287.0 == pytest.approx(143.19, abs=0.01)


@pytest.mark.parametrize(
    ("answer", "barometer", "celsius", "factor", "rounding"),
    [
        pytest.param("j1349_factor", 99.0, 25.0, 1.0, 5e-6, id="SAE J1349, reference weather"),
        pytest.param(
            "j1349_factor", 95.0, 30.0, 1.05996, 5e-6, id="SAE J1349, as commonly restated"
        ),
        pytest.param("iso1585_factor", 99.0, 25.0, 1.0, 5e-6, id="ISO 1585, reference weather"),
        pytest.param(
            "iso1585_factor", 95.0, 30.0, 1.06128, 1e-5, id="ISO 1585, exponents from memory"
        ),
        pytest.param(
            "iso1585_factor", 90.0, 35.0, 1.14359, 1e-5, id="ISO 1585, exponents from memory, thin"
        ),
    ],
)
def test_weather_factors(answer, barometer, celsius, factor, rounding):
    weather = {
        "air_from": "barometer",
        "barometer": barometer,
        "intake_temperature": celsius,
        "humidity": 0.0,
    }
    assert LOOKUP.evaluate(weather)[answer] == pytest.approx(factor, abs=rounding)


def test_dry_air_at_25_degrees_and_half_humidity_saturation_3169_9_pa_reference_equation():
    found = LOOKUP.evaluate({"intake_temperature": 25.0, "humidity": 50.0})
    assert found["dry_pressure"] == pytest.approx(101.325 - 0.5 * 3.1699, abs=1e-3)


@pytest.mark.parametrize(
    ("altitude", "pressure"),
    [
        pytest.param(1000.0, 89874.6, id="ISO 2533, 1000 m"),
        pytest.param(1500.0, 84556.0, id="ISO 2533, 1500 m"),
        pytest.param(3000.0, 70108.5, id="ISO 2533, 3000 m"),
    ],
)
def test_power_and_boost_follow_the_air_up_the_hill(altitude, pressure):
    found = LOOKUP.evaluate({"other_altitude": altitude, "boost": 80.0})
    share = pressure / 101_325.0
    assert found["power_elsewhere"] / found["power"] == pytest.approx(share, rel=1e-5)
    assert found["boost_elsewhere"] / 80.0 == pytest.approx(share, rel=1e-5)


def test_torque_and_power_cross_at_5252_rpm():
    found = LOOKUP.evaluate({"engine_speed": 5252.113})
    pound_feet = found["torque"] / 1.3558179483
    assert pound_feet == pytest.approx(found["power"] / HORSEPOWER, rel=1e-6)


@pytest.mark.parametrize(
    ("pounds", "grams"),
    [
        pytest.param(0.55, 335.0, id="bsfc reference, 1 lb/(hp·h) = 608.277 g/kWh, thrifty"),
        pytest.param(0.65, 395.0, id="bsfc reference, 1 lb/(hp·h) = 608.277 g/kWh, thirsty"),
    ],
)
def test_the_band_reads_the_same_in_pounds(pounds, grams):
    units = quantity("fuel_use")
    si = units.unit("lbhph").to_si(pounds)
    assert units.unit("gkwh").from_si(si) == pytest.approx(grams, abs=0.5)


def test_power_per_air_on_e85_is_within_one_per_cent_of_gasoline():
    gasoline, e85 = (LOOKUP.evaluate({"fuel": key})["power"] for key in ("gasoline", "e85"))
    assert e85 / gasoline == pytest.approx(1.0, abs=0.01)
    # By heat and ratio alone, as the US Department of Energy prints them.
    heat_per_air = [
        f.lower_heating_value / f.stoichiometric_ratio
        for f in (blend_properties(0.0), blend_properties(0.85))
    ]
    assert e85 / gasoline == pytest.approx(heat_per_air[1] / heat_per_air[0], rel=1e-9)


# --- what it means in the bay --------------------------------------------------------------------


def test_defaults_are_the_boost_page_s_own_set_up():
    boost = lookup("boost").evaluate({})
    found = LOOKUP.evaluate({})
    assert found["air_flow_used"] == pytest.approx(boost["air_flow"], abs=2.0)
    assert found["power"] == pytest.approx(435.0, abs=5.0)
    assert LOOKUP.explain({}).status == {"lambda_used": "within"}


def test_air_flow_from_the_boost_page_overrules_the_gas_law():
    found = LOOKUP.evaluate({"air_flow": 400.0, "boost": 80.0})
    assert found["air_flow_used"] == 400.0
    # The good end: 0.03 of λ richer than entered and thrifty, with the heat of this fuel.
    fuel = blend_properties(0.1)
    thrifty = 335e-3 / 3600.0 * 43.44e6 / fuel.lower_heating_value
    ratio = 0.77 * fuel.stoichiometric_ratio
    assert found["power_high"] == pytest.approx(400e-3 / (ratio * thrifty), rel=1e-3)


def test_a_gauge_on_the_gasoline_scale_shows_the_same_lambda_for_every_fuel():
    for key in ("gasoline", "e85"):
        shown = LOOKUP.evaluate({"mixture_from": "gauge", "gauge_mixture": 11.76, "fuel": key})
        entered = LOOKUP.evaluate({"lambda": 0.8, "fuel": key})
        assert shown == pytest.approx(entered, rel=1e-12)


def test_a_gauge_on_another_fuel_s_scale_is_refused_with_the_way_out():
    said = told("power", mixture_from="gauge", gauge_mixture=7.8, fuel="e85")
    assert "enter λ instead" in said


@pytest.mark.parametrize(("excess", "status"), [(0.8, "within"), (0.87, "near"), (0.93, "beyond")])
def test_a_lean_mixture_is_questioned(excess, status):
    assert LOOKUP.explain({"lambda": excess}).status["lambda_used"] == status


def test_who_plans_power_is_told_of_the_chassis():
    said = " ".join(LOOKUP.cautions)
    for part in ("axle", "propshaft", "brakes", "tyres", "licence", "insurance"):
        assert part in said, part
    assert lookup("plan").cautions[-1] == LOOKUP.cautions[-1]


@pytest.mark.parametrize(
    ("wanted", "status"), [(370.0, "within"), (420.0, "near"), (450.0, "beyond")]
)
def test_a_wanted_power_is_judged_against_the_whole_band(wanted, status):
    outcome = LOOKUP.explain({"wanted_power": wanted})
    assert outcome.status["power"] == status


def test_boost_for_a_wanted_power_is_more_where_the_estimate_is_poor():
    found = LOOKUP.evaluate({"wanted_power": 450.0})
    assert 80.0 < found["boost_for_power"] < found["boost_for_power_sure"]


@given(boosts, speeds)
@settings(max_examples=40, deadline=None)
def test_power_and_boost_undo_each_other(boost, speed):
    found = LOOKUP.evaluate({"boost": boost, "engine_speed": speed})
    if not 20.0 <= found["power"] <= 1200.0:
        return
    back = LOOKUP.evaluate({"engine_speed": speed, "wanted_power": found["power"]})
    if boost > 1e-3:
        assert back["boost_for_power"] == pytest.approx(boost, abs=1e-6)


def test_a_small_wanted_power_needs_no_blower():
    assert "without a blower" in told("boost_for_power", wanted_power=50.0)


def test_a_great_wanted_power_says_what_else_would_do_it():
    said = told("boost_for_power", wanted_power=1000.0, engine_speed=3000.0)
    assert "250 kPa" in said
    assert "More engine speed" in said


def test_either_end_of_a_band_may_come_first():
    straight = LOOKUP.evaluate({"bsfc_low": 320.0, "bsfc_high": 400.0})
    swapped = LOOKUP.evaluate({"bsfc_low": 400.0, "bsfc_high": 320.0})
    assert straight == swapped


def test_a_measured_power_is_corrected_instead_of_the_estimate():
    found = LOOKUP.evaluate({"measured_power": 300.0})
    assert found["power_j1349"] == pytest.approx(300.0 * found["j1349_factor"], rel=1e-9)


def test_no_rating_on_a_mountain_but_a_factor_to_compare_by():
    inputs = {"altitude": 1500.0}
    assert LOOKUP.evaluate(inputs)["j1349_factor"] > 1.07
    for answer in ("power_j1349", "power_iso1585"):
        assert "0.93 to 1.07" in told(answer, **inputs)


@pytest.mark.parametrize(
    ("celsius", "rated"), [(14.9, False), (15.0, True), (35.0, True), (35.1, False)]
)
def test_a_rating_wants_intake_air_from_15_to_35_degrees(celsius, rated):
    inputs = {"intake_temperature": celsius, "air_from": "barometer", "barometer": 99.0}
    assert ("power_j1349" in LOOKUP.evaluate(inputs)) == rated
    if not rated:
        assert "15 to 35 °C" in told("power_j1349", **inputs)


def test_deep_frost_silences_the_weather_and_nothing_else():
    assert "−10 °C" in told("j1349_factor", intake_temperature=-20.0)
    assert LOOKUP.evaluate({"intake_temperature": -20.0})["power"] > 0


def test_thin_air_silences_the_weather_in_words():
    assert "60 kPa" in told("dry_pressure", air_from="barometer", barometer=55.0)


def test_both_standards_say_when_each_applies():
    for key in ("power_j1349", "power_iso1585"):
        note = LOOKUP.answer(key).note
        assert "SAE net" in note
        assert "UN R85" in note


def test_an_impossible_air_flow_is_refused_in_words():
    said = told(
        "power", engine_displacement=12.0, engine_speed=10_000.0, boost=200.0, engine_efficiency=130
    )
    assert "2,000 g/s" in said
    assert "displacement" in said


def test_no_spark_advice_is_given_and_the_page_says_so():
    assert any("No spark advice" in caution for caution in LOOKUP.cautions)
    assert not any("advance" in answer.label.lower() for answer in LOOKUP.answers)
