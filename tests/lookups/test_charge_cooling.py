"""Charge cooling: round numbers of the trade, balances, an integrator, and nose against bed."""

import ht
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from calc import exchanger
from site_src.lookups import charge_cooling, truck
from site_src.model.lookup import Inputs
from tests.own import with_own

COOLING = charge_cooling.LOOKUP
LITRE_A_MINUTE = 1 / 6e4
CP_AIR = 1004.7
KELVIN = 273.15


def own(**entered):
    return with_own(COOLING, **entered)


def si(**entered):
    """Every value that is worked out, SI; entries and all."""
    return COOLING.explain(own(**entered)).symbols


def told(answer, **entered):
    """Return the words that stand in an answer's place."""
    outcome = COOLING.explain(own(**entered))
    assert answer not in outcome.answers
    return COOLING.words(outcome.faults[answer], own(**entered))


def as_entered(**entered: float) -> dict[str, float]:
    """Round numbers: 23 kW, 20 L/min, 8 L, half and half."""
    return {
        # 0.35 kg/s, cooled by 65.4 K of 87.2 K: 23.0 kW.
        "air_flow": 350.0,
        "blower_outlet": 115.0,
        "cooler_effectiveness": 75.0,
        "coolant_flow": 20.0,
        "content": 8.0,
        "duty_share": 0.0,
        "intake_temperature": 27.8,
        **entered,
    }


# --- round numbers ---------------------------------------------------------------------------


def test_some_23_kw_warm_20_litres_a_minute_by_18_k_and_8_l_by_8_k_in_ten_seconds():
    # Conservation of energy; 20 L/min of 30 % glycol carry 1.28 kW/K, of half and half 1.20.
    for glycol, rise in ((30.0, 18.0), (50.0, 19.2)):
        found = COOLING.evaluate(own(**as_entered(glycol_share=glycol)))
        assert found["heat"] == pytest.approx(23.0, abs=0.05)
        assert found["water_rise"] == pytest.approx(rise, abs=0.15)
    assert found["ten_seconds"] == pytest.approx(8.0, abs=0.05)


def test_coolants_heat_is_that_of_coolprop_by_volume_and_not_by_mass(coolprop):
    carried = si(**as_entered(), loop_temperature=40.0)["nose_coolant_rate"]
    by = {
        name: coolprop.PropsSI("D", "T", 313.15, "P", 101325, f"INCOMP::{name}-50%")
        * coolprop.PropsSI("C", "T", 313.15, "P", 101325, f"INCOMP::{name}-50%")
        * 20
        * LITRE_A_MINUTE
        for name in ("AEG", "MEG")
    }
    assert carried == pytest.approx(by["AEG"], rel=2e-3)
    assert abs(carried - by["MEG"]) > 5 * abs(carried - by["AEG"])


# --- the exchanger ---------------------------------------------------------------------------


@settings(max_examples=25, deadline=None)
@given(st.floats(5, 40), st.floats(40, 200), st.floats(8, 40), st.sampled_from(["nose", "bed"]))
def test_the_exchanger_is_hts_cross_flow_from_its_rated_point(heat, speed, flow, place):
    v = si(
        exchanger_heat=heat,
        road_speed=speed,
        coolant_flow=flow,
        exchanger_place=place,
        bed_warmer=0,
    )
    if "effectiveness" not in v:
        return
    smaller, larger = sorted((v["rated_air_rate"], v["rated_coolant_rate"]))
    units = ht.NTU_from_effectiveness(
        heat * 1e3 / 40 / smaller, smaller / larger, subtype="crossflow"
    )
    air, coolant = v[f"{place}_pull_air_rate"], v[f"{place}_coolant_rate"]
    ratio = air / v["rated_air_rate"], coolant / v["rated_coolant_rate"]
    conductance = units * smaller / (0.75 / ratio[0] ** 0.5 + 0.25 / ratio[1] ** 0.8)
    smaller, larger = sorted((air, coolant))
    found = ht.effectiveness_from_NTU(conductance / smaller, smaller / larger, subtype="crossflow")
    assert v["effectiveness"] == pytest.approx(found, rel=1e-4)


def test_readings_and_a_sheet_of_the_same_core_agree():
    sheet = si()
    flow, air = sheet["nose_coolant_rate"], sheet["nose_air"] - KELVIN
    heat = sheet["nose_effective"] * 20.0
    read = si(
        exchanger_from="readings",
        exchanger_coolant_in=air + 20.0,
        exchanger_coolant_out=air + 20.0 - heat / flow,
        exchanger_air_in=air,
    )
    assert read["nose_effective"] == pytest.approx(sheet["nose_effective"], rel=1e-5)
    # Read at another air flow, three quarters of the resistance are the air's there, not here.
    assert read["bed_effective"] == pytest.approx(sheet["bed_effective"], rel=1e-2)


@settings(max_examples=25, deadline=None)
@given(st.floats(5, 40), st.floats(10, 40), st.floats(0, 100), st.sampled_from(["nose", "bed"]))
def test_what_comes_in_goes_out_to_a_millionth(heat, flow, duty, place):
    v = si(exchanger_heat=heat, coolant_flow=flow, duty_share=duty, exchanger_place=place)
    if "end" not in v:
        return
    for share, coolant in ((duty / 100, v["steady"]), (1.0, v["end"])):
        taken = share * v[f"{place}_for_each_kelvin"] * (v["blower_outlet"] - coolant)
        warm = coolant + taken / v[f"{place}_coolant_rate"]
        given_up = v[f"{place}_effective"] * (warm - v[f"{place}_air"])
        assert given_up == pytest.approx(taken, rel=1e-6, abs=1e-3)


@settings(max_examples=25, deadline=None)
@given(st.floats(6, 60), st.floats(40, 85), st.floats(150, 700))
def test_the_charge_cooler_is_hts_cross_flow_at_another_coolant_flow(flow, share, grams):
    v = si(coolant_flow=flow, cooler_effectiveness=share, air_flow=grams)
    if "cooling" not in v:
        return
    air, coolant = grams / 1e3 * CP_AIR, v["nose_coolant_rate"]
    smaller, larger = sorted((air, coolant * 20 / flow))
    units = ht.NTU_from_effectiveness(
        share / 100 * air / smaller, smaller / larger, subtype="crossflow"
    )
    conductance = units * smaller / (0.75 + 0.25 / (flow / 20) ** 0.8)
    smaller, larger = sorted((air, coolant))
    found = ht.effectiveness_from_NTU(conductance / smaller, smaller / larger, subtype="crossflow")
    assert v["cooling"] == pytest.approx(found * smaller / air, rel=1e-4)


def test_less_coolant_flow_makes_a_hotter_charge():
    found = [COOLING.evaluate(own(coolant_flow=q))["charge_hottest"] for q in (10.0, 20.0, 40.0)]
    assert found == sorted(found, reverse=True)


# --- in time ---------------------------------------------------------------------------------


def balance(v, place, *, pulling):
    """The heat balance of all coolant as one body, for an integrator."""
    rate, air, held = v[f"{place}_coolant_rate"], v[f"{place}_air"], v["content"] * v["heat_held"]
    taken = v[f"{place}_for_each_kelvin"] if pulling else 0.0
    passes = v[f"{place}_effective"] if pulling else v["rest_effective"]

    def warming(_, state):
        heat = taken * (v["blower_outlet"] - state[0])
        return [(heat - passes * (state[0] + heat / rate - air)) / held]

    return warming


def resting(v, place):
    """What the exchanger passes between pulls, by ht and the page's own conductance law."""
    air, coolant = v[f"{place}_rest_air_rate"], v[f"{place}_coolant_rate"]
    ratio = air / v["rated_air_rate"]
    conductance = v["rated_conductance"] / (0.75 / ratio**0.5 + 0.25 / v[f"{place}_film"])
    smaller, larger = sorted((air, coolant))
    units, share = conductance / smaller, smaller / larger
    return smaller * ht.effectiveness_from_NTU(units, share, subtype="crossflow")


@pytest.mark.parametrize("place", ["nose", "bed"])
def test_pulls_and_rests_are_what_an_integrator_makes_of_them_scipy(place):
    entered: Inputs = own(
        exchanger_place=place, pull_time=20, rest_time=70, bed_hose=6, bed_coolant_flow=20
    )
    v = dict(COOLING.explain(entered).symbols)
    v["heat_held"] = v["nose_coolant_rate"] / v["coolant_flow"]
    v["rest_effective"] = resting(v, place)
    coolant = v[f"{place}_start"]
    for n in range(1, 5):
        for pulling, time, moment in ((True, 20.0, n + 0.5), (False, 70.0, n + 1.0)):
            way = balance(v, place, pulling=pulling)
            whole = solve_ivp(way, (0.0, time), [coolant], rtol=1e-9, atol=1e-8)
            coolant = whole.y[0, -1]
            found = COOLING.explain({**entered, "pull_number": moment}).symbols
            charge = v["blower_outlet"] - 0.75 * (v["blower_outlet"] - coolant)
            assert found["charge_then"] == pytest.approx(charge, abs=2e-3)
            assert found["time_then"] == pytest.approx(n * 90.0 - 70.0 + (0.0 if pulling else 70.0))


def test_a_pull_ends_and_has_recovered_when_an_integrator_says_so_scipy():
    v = dict(si(bed_hose=6.0))
    v["heat_held"] = v["nose_coolant_rate"] / v["coolant_flow"]
    v["rest_effective"] = resting(v, "nose")
    start = v["nose_start"]

    def hotter(_, state):
        return 0.75 * (state[0] - start) - 10.0

    hotter.terminal = True
    pulled = solve_ivp(
        balance(v, "nose", pulling=True), (0, 600), [start], events=hotter, rtol=1e-9
    )
    assert v["pull_length"] == pytest.approx(pulled.t[-1], abs=0.02)

    def back(_, state):
        return 0.75 * (state[0] - start) - 2.0

    back.terminal = True
    rested = solve_ivp(
        balance(v, "nose", pulling=False),
        (0, 3000),
        [start + 10.0 / 0.75],
        events=back,
        rtol=1e-9,
    )
    assert v["recovery_time"] == pytest.approx(rested.t[-1], abs=0.05)


def test_the_last_of_many_pulls_is_as_hot_as_all_that_follow():
    v = si(pull_number=8.5)
    assert v["charge_then"] == pytest.approx(v["charge_hottest"], abs=0.1)
    assert v["charge_then"] < v["charge_hottest"]


def test_ice_holds_the_coolant_until_its_heat_is_used_up():
    entered = own(start_from="ice", ice=6.0, glycol_share=0.0)
    v = COOLING.explain(entered).symbols
    assert v["nose_start"] == pytest.approx(KELVIN)
    heat = v["nose_for_each_kelvin"] * (v["blower_outlet"] - KELVIN)
    out = v["nose_effective"] * (KELVIN + heat / v["nose_coolant_rate"] - v["nose_air"])
    melted = 6.0 - 8e-3 * v["nose_coolant_rate"] / v["coolant_flow"] * 25.0 / 333.4e3
    assert v["ice_time"] == pytest.approx(melted * 333.4e3 / (heat - out), rel=1e-3)
    more = COOLING.evaluate({**entered, "ice": 8.0})
    assert more["pull_length"] > COOLING.evaluate(entered)["pull_length"] > v["ice_time"]
    # A little ice only cools: none of it is left.
    assert si(start_from="ice", ice=1.0, glycol_share=0.0)["ice_time"] == 0.0


# --- nose against bed ------------------------------------------------------------------------


def test_the_fans_that_make_the_bed_equal_do():
    small = {"road_speed": 50.0, "bed_warmer": 2.0}
    first = si(**small)
    fans = 3000.0 * first["equal_fan"]
    after = si(**small, bed_fan=fans)
    assert after["bed_end"] == pytest.approx(first["nose_end"], abs=2e-3)
    assert after["equal_fan"] == pytest.approx(1.0, abs=1e-3)

    def end(fan):
        return si(**small, bed_fan=fan)["bed_end"] - first["nose_end"]

    assert brentq(end, 3000.0, 14000.0) == pytest.approx(fans, rel=1e-3)


def test_the_coolant_that_makes_a_pull_in_the_bed_as_long_does():
    v = COOLING.evaluate(own())
    bigger = v["equal_content"]
    hose = si()["bed_content"] * 1e3 - 8.0
    in_bed = own(exchanger_place="bed", content=bigger - hose)
    assert COOLING.evaluate(in_bed)["pull_length"] == pytest.approx(v["pull_length"], abs=0.1)


def test_the_bore_for_a_longer_hose_is_blasiuss():
    # Δp ∝ L·D^−4.75 at one flow: twice the hose takes 1.157 times the bore.
    found = COOLING.evaluate(own(nose_hose=6.0, bed_hose=12.0, hose_bore=19.0))["equal_bore"]
    assert found == pytest.approx(19.0 * 2 ** (1 / 4.75), abs=5e-3)


def test_more_of_anything_that_cools_cools():
    base = COOLING.evaluate(own(exchanger_place="bed"))
    for better in (
        {"bed_fan": 5000.0},
        {"bed_warmer": 3.0},
        {"rest_time": 120.0},
        {"exchanger_heat": 25.0},
        {"pull_time": 10.0},
    ):
        found = COOLING.evaluate(own(exchanger_place="bed", **better))
        assert found["charge_hottest"] < base["charge_hottest"], better
    hot = COOLING.evaluate(own(intake_temperature=35.0))
    assert hot["charge_hottest"] > COOLING.evaluate(own())["charge_hottest"]


def test_the_hot_day_is_the_day_itself_entered():
    # The blower's air goes with the intake's, absolute: 116 °C at 25 °C is 135.6 °C at 40 °C.
    later = COOLING.evaluate(own(hot_day=40.0))["hot_day_charge"]
    outlet = 389.15 * 313.15 / 298.15 - KELVIN
    found = COOLING.evaluate(own(intake_temperature=40.0, blower_outlet=outlet))
    # Air at 40 °C is thinner, which the reckoning ahead leaves out.
    assert found["charge_hottest"] == pytest.approx(later, abs=1.0)
    assert found["charge_hottest"] >= later


# --- words -----------------------------------------------------------------------------------


def test_nothing_is_judged_before_the_exchanger_is_ones_own():
    assert set(COOLING.explain({"hot_day": 40.0}).status.values()) == {"unchecked"}
    for known in ("sheet", "readings"):
        by = {"exchanger_from": known}
        assert set(COOLING.explain({**by, "hot_day": 40.0}).status.values()) == {"unchecked"}
        assert "unchecked" not in COOLING.explain(own(**by)).status.values()


@pytest.mark.parametrize(
    ("answer", "entered", "words"),
    [
        ("pull_length", {"rise_allowed": 60}, "never gets that much hotter"),
        ("recovery_time", {"recovered_to": 20}, "within that at once"),
        ("recovery_time", {"rest_speed": 0}, "hardly any air"),
        ("heat", {"road_speed": 0}, "Enter a road speed"),
        ("heat", {"exchanger_heat": 90}, "No core is that good"),
        ("equal_fan", {"bed_warmer": 40}, "No fan makes up"),
        ("charge_hottest", {"coolant_flow": 3, "effectiveness_flow": 100}, "charge cooler"),
    ],
)
def test_what_has_no_answer_says_why(answer, entered, words):
    assert words in told(answer, **entered)


def test_the_coolant_of_the_hottest_moment_is_offered_where_it_is_entered_as_a_rise():
    offer = truck.OFFERS["coolant_rise"]
    assert (offer.page, offer.symbol) == ("charge-cooling", "pulls_rise")
    v = si()
    charge = exchanger.cooled_air(v["blower_outlet"], v["outside"] + v["pulls_rise"], v["cooling"])
    assert charge == pytest.approx(v["charge_hottest"], abs=0.05)
    # The mean of pulls and rests would make the charge look cooler than a pull ever leaves it.
    assert v["pulls_rise"] > v["steady_rise"] + 3.0
