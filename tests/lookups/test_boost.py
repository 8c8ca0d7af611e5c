"""Boost by pulley: what a hot day, a tired blower, a limiter and a kit's own words do to it."""

from __future__ import annotations

import numpy as np
import pytest

from site_src.lookups import lookup
from site_src.model.lookup import InputError
from tests.own import with_own

BOOST = lookup("boost")
PLAN = lookup("plan")
SLIP = lookup("slip")
PSI = 6.894757293168
KIT = {"efficiency_from": "rating"}


def told(answer: str, **inputs: object) -> str:
    """Return the words that stand in an answer's place."""
    outcome = BOOST.explain(inputs)  # type: ignore[arg-type]
    assert answer not in outcome.answers
    return BOOST.words(outcome.faults[answer], inputs)  # type: ignore[arg-type]


def status(answer: str, **inputs: object) -> str:
    """Return how an answer is judged."""
    return BOOST.explain(with_own(BOOST, inputs)).status[answer]  # type: ignore[arg-type]


def test_the_usual_set_up_in_numbers() -> None:
    found = BOOST.evaluate({})
    assert found["boost"] == pytest.approx(81.7, abs=0.1)
    assert found["overall_efficiency"] == pytest.approx(64.6, abs=0.1)
    assert found["outlet_temperature"] == pytest.approx(115.7, abs=0.1)
    assert found["charge_temperature"] == pytest.approx(58.9, abs=0.1)
    assert found["drive_power"] == pytest.approx(46.5, abs=0.1)
    assert found["limiter_rotor_speed"] == pytest.approx(12_334, abs=1)


# --- hot days are hotter -----------------------------------------------------------------------

DAYS = (-10.0, 5.0, 15.0, 25.0, 35.0, 45.0, 55.0)


@pytest.mark.parametrize(
    ("coolant", "rise"),
    [
        ({"exchanger_place": "nose"}, 15.0),
        ({"exchanger_place": "bed"}, 28.0),
        ({"coolant_from": "rise", "coolant_rise": 20.0}, 20.0),
    ],
)
def test_the_coolant_follows_the_day(coolant: dict[str, float | str], rise: float) -> None:
    for day in DAYS:
        found = BOOST.evaluate({"intake_temperature": day, **coolant})
        assert found["coolant_used"] == pytest.approx(day + rise)


def test_the_coolant_follows_the_outside_air_where_the_filter_is_under_a_hot_hood() -> None:
    found = BOOST.evaluate({"intake_temperature": 45.0, "outside_temperature": 30.0})
    assert found["coolant_used"] == pytest.approx(45.0)
    assert found["coolant_over_air"] == pytest.approx(15.0)


def test_coolant_under_the_air_is_questioned_and_ice_is_said() -> None:
    cold = {"coolant_from": "temperature", "coolant_temperature": 20.0}
    assert status("coolant_over_air", **cold) == "beyond"
    assert status("coolant_over_air", **cold, intake_temperature=18.0) == "near"
    assert status("coolant_over_air", **cold, intake_temperature=10.0) == "within"
    iced = {"coolant_from": "ice", "coolant_temperature": 2.0}
    assert status("coolant_over_air", **iced) == "within"
    band = BOOST.answer("coolant_over_air").band
    assert band is not None
    assert "ice" in band.beyond


COOLINGS = (
    {"exchanger_place": "nose"},
    {"exchanger_place": "bed"},
    {"coolant_from": "temperature", "coolant_temperature": 40.0},
    {"coolant_from": "ice", "coolant_temperature": 2.0},
    {"effectiveness": 30.0},
    {"effectiveness": 95.0, "coolant_from": "temperature", "coolant_temperature": 40.0},
)


@pytest.mark.parametrize("cooling", COOLINGS, ids=str)
def test_a_hotter_day_never_looks_easier(cooling: dict[str, float | str]) -> None:
    used = [PLAN.evaluate({"intake_temperature": day, **cooling})["charge_used"] for day in DAYS]
    assert used == sorted(used)


def test_sixty_degrees_is_the_usual_limit() -> None:
    assert PLAN.numbers["charge_limit"].default == 60.0
    usual = PLAN.evaluate({})
    assert usual["charge_used"] == pytest.approx(
        100.0 * (usual["charge_temperature"] - 25.0) / (60.0 - 25.0), abs=0.01
    )
    assert (
        PLAN.explain(with_own(PLAN, {"intake_temperature": 30.0})).status["charge_used"] == "beyond"
    )


def test_effectiveness_comes_from_thermometers_before_and_after() -> None:
    read = {
        "effectiveness_from": "readings",
        "air_before_cooler": 120.0,
        "air_after_cooler": 60.0,
        "coolant_at_reading": 40.0,
    }
    by_hand = BOOST.evaluate({"effectiveness": 75.0})
    for key, value in BOOST.evaluate(read).items():
        assert value == pytest.approx(by_hand[key], abs=1e-6), key
    assert "swapped" in told("boost", **read | {"air_after_cooler": 130.0})
    assert "coolant" in told("boost", **read | {"air_after_cooler": 38.0})


# --- a blower that tires -----------------------------------------------------------------------

SPEEDS = tuple(range(2000, 7501, 250))


def overall(**inputs: object) -> np.ndarray:
    """Return the overall efficiency over engine speed."""
    return np.array(
        [BOOST.evaluate({**inputs, "engine_speed": n})["overall_efficiency"] for n in SPEEDS]  # type: ignore[dict-item]
    )


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        pytest.param("internal", 62.0, 70.0, id="common practice: screw type 62 to 70 %"),
        pytest.param("plain", 50.0, 60.0, id="common practice: three-lobe type 50 to 60 %"),
    ],
)
def test_overall_efficiency_is_usual_where_the_blower_usually_works(
    kind: str, low: float, high: float
) -> None:
    for speed in (5000.0, 5500.0, 6000.0, 6500.0):
        found = BOOST.evaluate({"blower_kind": kind, "engine_speed": speed})
        assert low <= found["overall_efficiency"] <= high, speed


@pytest.mark.parametrize("kind", ["internal", "plain"])
def test_efficiency_rises_to_a_best_speed_and_falls_towards_the_rotor_limit(kind: str) -> None:
    found = overall(blower_kind=kind)
    best = int(np.argmax(found))
    assert 0 < best < len(SPEEDS) - 1
    assert (np.diff(found[: best + 1]) > 0).all()
    assert (np.diff(found[best:]) < 0).all()
    assert found[best] - found[-1] > 4.0


def test_belt_and_cooler_feel_what_the_blower_loses() -> None:
    good, poor = (
        BOOST.evaluate({"losses_from": "stated", "stated_efficiency": each}) for each in (68, 58)
    )
    for key in ("drive_power", "outlet_temperature", "charge_temperature"):
        assert poor[key] > good[key]
    assert poor["air_flow"] < good["air_flow"]


def test_a_stated_efficiency_comes_back_at_its_own_point() -> None:
    usual = BOOST.evaluate({})
    stated = {
        "losses_from": "stated",
        "stated_efficiency": usual["overall_efficiency"],
        "stated_pressure_ratio": usual["pressure_ratio"],
        "stated_rotor_speed": usual["rotor_speed"],
    }
    for key, value in BOOST.evaluate(stated).items():
        assert value == pytest.approx(usual[key], abs=0.01), key
    back = BOOST.evaluate(stated | {"stated_efficiency": 60.0})
    assert back["overall_efficiency"] == pytest.approx(60.0, abs=0.5)


@pytest.mark.parametrize("hotter", [-6.0, 0.0, 8.0, 16.0])
def test_a_measured_outlet_temperature_comes_back(hotter: float) -> None:
    usual = BOOST.evaluate({})
    measured = {
        "losses_from": "measured",
        "measured_outlet": usual["outlet_temperature"] + hotter,
        "measured_boost_then": usual["boost"],
    }
    # The heat makes a little more boost of the same air, so that the point moves a little.
    found = BOOST.evaluate(measured)
    assert found["outlet_temperature"] == pytest.approx(measured["measured_outlet"], abs=2.5)
    assert np.sign(round(found["drive_power"] - usual["drive_power"], 2)) == np.sign(hotter)


def test_outlet_temperatures_that_no_blower_gives_are_refused() -> None:
    assert "cooler than any" in told("boost", losses_from="measured", measured_outlet=80.0)
    assert "bypass" in told("boost", losses_from="measured", measured_outlet=220.0)
    assert "overall" in told("boost", losses_from="stated", stated_efficiency=85.0)


def test_a_wanted_boost_gives_back_the_pulley_it_came_from() -> None:
    for kind in ("internal", "plain"):
        for pulley in (78.0, 88.0, 100.0):
            boost = BOOST.evaluate({"blower_pulley": pulley, "blower_kind": kind})["boost"]
            found = BOOST.evaluate({"wanted_boost": boost, "blower_kind": kind})
            assert found["pulley_for_boost"] == pytest.approx(pulley, abs=0.01)


# --- two speeds --------------------------------------------------------------------------------


def test_rotors_are_judged_at_the_rev_limiter() -> None:
    entered = {"blower_pulley": 85.0, "rotor_limit": 13_500.0, "limiter_speed": 7000.0}
    outcome = BOOST.explain(with_own(BOOST, entered))
    assert outcome.status["rotor_speed"] == "within"
    assert outcome.status["limiter_rotor_speed"] == "beyond"
    found = outcome.answers
    assert found["limiter_rotor_speed"] == pytest.approx(found["rotor_speed"] * 7000 / 6000)


def test_a_limiter_under_the_speed_entered_never_judges_lower() -> None:
    found = BOOST.evaluate({"engine_speed": 7000.0, "limiter_speed": 6000.0})
    assert found["limiter_rotor_speed"] == found["rotor_speed"]


def test_the_plan_and_the_wanted_pulley_are_judged_there_too() -> None:
    plan = PLAN.evaluate({"limiter_speed": 7000.0})
    found = BOOST.evaluate({"limiter_speed": 7000.0, "wanted_boost": 84.0})
    assert plan["rotors_used"] == pytest.approx(
        100.0 * found["limiter_rotor_speed"] / 14_000.0, abs=0.01
    )
    assert found["limiter_speed_for_boost"] == pytest.approx(
        found["rotor_speed_for_boost"] * 7000.0 / 6000.0
    )


# --- the kit's own words -----------------------------------------------------------------------


def test_a_band_of_boost_is_taken_at_both_ends() -> None:
    band = KIT | {"rating_boost": 11.0 * PSI, "rating_boost_high": 12.0 * PSI}
    on_its_pulley = BOOST.evaluate(band | {"blower_pulley": 88.0})
    assert on_its_pulley["boost_low"] == pytest.approx(11.0 * PSI, abs=0.01)
    assert on_its_pulley["boost_high"] == pytest.approx(12.0 * PSI, abs=0.01)
    assert on_its_pulley["boost"] == pytest.approx(11.5 * PSI, abs=0.05)
    other = BOOST.evaluate(band)
    assert other["boost_low"] < other["boost"] < other["boost_high"]
    turned = BOOST.evaluate(KIT | {"rating_boost": 12.0 * PSI, "rating_boost_high": 11.0 * PSI})
    assert turned["boost_low"] == pytest.approx(other["boost_low"], abs=1e-6)
    assert "boost_low" not in BOOST.explain(KIT).answers


@pytest.mark.parametrize(
    ("crank", "expected"),
    [(170.0, "within"), (191.0, "within"), (193.0, "near"), (150.0, "within"), (147.0, "near")],
)
def test_breathing_over_108_or_under_82_per_cent_is_near_the_limit(
    crank: float, expected: str
) -> None:
    entered = KIT | {"crank_pulley": crank}
    breathes = BOOST.evaluate(entered)["engine_efficiency_used"]
    assert (82.0 <= breathes <= 108.0) == (expected == "within")
    assert status("breathing_off", **entered) == expected
    band = BOOST.answer("breathing_off").band
    assert band is not None
    assert "crank pulley" in band.near_words
    assert "over the rib tips, not the flanges" in band.near_words


def likeliest(**inputs: object) -> dict[str, float]:
    """Return what is named as likeliest wrong, with the value at which it would agree."""
    found = BOOST.explain({**KIT, **inputs}).answers  # type: ignore[arg-type]
    return {key: found[key] for key in found if key.endswith("_agreeing")}


def kit_line() -> dict[str, float | str]:
    """A kit's line that is true of the usual set-up, with the power that its air makes."""
    true = BOOST.evaluate({"blower_pulley": 88.0})
    line = KIT | {"rating_boost": true["boost"]}
    found = BOOST.evaluate(line)
    power = 0.5 * (found["kit_power_low"] + found["kit_power_high"])
    return line | {"rating_power": power}


def test_a_true_line_names_nothing_wrong() -> None:
    line = kit_line()
    assert likeliest(**line) == {}
    assert BOOST.evaluate(line)["kit_power_off"] == pytest.approx(0.0, abs=0.01)
    assert status("kit_power_off", **line) == "within"
    assert BOOST.evaluate(line)["engine_efficiency_used"] == pytest.approx(95.0, abs=0.01)


@pytest.mark.parametrize("crank", [140.0, 150.0, 208.0, 225.0])
def test_a_crank_pulley_measured_wrong_is_found_with_its_true_size(crank: float) -> None:
    # Over 120 or under 75 % no boost is given, but the pulley is still named.
    for line in (kit_line(), {k: v for k, v in kit_line().items() if k != "rating_power"}):
        found = likeliest(**line, crank_pulley=crank)
        assert found == {"crank_agreeing": pytest.approx(180.0, abs=0.1)}


@pytest.mark.parametrize("litres", [4.6, 6.8])
def test_an_engine_entered_wrong_is_told_from_the_pulley_by_the_power(litres: float) -> None:
    found = likeliest(**kit_line(), engine_displacement=litres)
    assert found == {"engine_agreeing": pytest.approx(5.6, abs=0.01)}


@pytest.mark.parametrize("times", [0.8, 1.25])
def test_a_power_that_the_air_does_not_make_is_named(times: float) -> None:
    line = kit_line()
    stated = float(line["rating_power"])
    found = likeliest(**line | {"rating_power": stated * times})
    assert found == {"power_agreeing": pytest.approx(stated, abs=0.1)}
    assert status("kit_power_off", **line | {"rating_power": stated * times}) == "beyond"


def test_power_at_the_wheels_is_brought_to_the_crankshaft() -> None:
    line = kit_line()
    wheels = 0.85 * float(line["rating_power"])
    assert likeliest(**line | {"rating_power": wheels}) == {
        "power_agreeing": pytest.approx(float(line["rating_power"]), abs=0.1)
    }
    assert likeliest(**line | {"rating_power": wheels, "rating_power_at": "wheels"}) == {}


def test_disagreement_says_which_way_the_crank_pulley_is_wrong() -> None:
    assert "larger than entered" in told("boost", **KIT, crank_pulley=130.0)
    assert "smaller than entered" in told("boost", **KIT, crank_pulley=230.0)


def test_diameters_are_asked_over_the_rib_tips_or_by_a_paper_strip() -> None:
    for key in ("blower_pulley", "crank_pulley"):
        assert "over the rib tips, not the flanges" in BOOST.numbers[key].measure
        assert "paper strip" in BOOST.numbers[key].measure
        assert "÷ 3.14" in BOOST.numbers[key].measure


def test_slip_is_calibrated_by_the_middle_of_a_band() -> None:
    kit = {"rating_boost": 70.0, "rating_boost_high": 80.0, "rating_pulley": 88.0}
    read = {"measured_boost": 75.0, "blower_pulley": 88.0, "rating_engine_speed": 6000.0}
    assert SLIP.evaluate({**kit, **read})["slip_found"] == pytest.approx(1.0, abs=0.01)


def test_an_entry_out_of_range_is_named() -> None:
    with pytest.raises(InputError, match=r"Engine speed at the rev limiter is 20000\.0 rpm"):
        BOOST.evaluate({"limiter_speed": 20_000.0})
