"""The plan: chained answers are the pages' own, and a pulley is felt everywhere downstream."""

from __future__ import annotations

import pytest

from site_src.lookups import lookup
from site_src.lookups.belt import NO_ROOM
from site_src.lookups.truck import FOLLOWS, OFFERS
from tests.own import with_own

PLAN = lookup("plan")
PSI = 6.894757293168


def judged(entered):
    """Return how everything is judged, his own parts being the usual ones."""
    return PLAN.explain(with_own(PLAN, entered)).status


def test_the_chain_gives_what_the_pages_give_one_by_one() -> None:
    plan = PLAN.exact({})
    boost = lookup("boost").exact({"inlet_depression": plan["inlet_depression"]})
    assert plan["boost"] == pytest.approx(boost["boost"], abs=0.05)
    assert plan["air_flow"] == pytest.approx(boost["air_flow"], rel=1e-3)
    throttle = lookup("throttle").exact({"air_flow": plan["air_flow"]})
    assert plan["inlet_depression"] == pytest.approx(throttle["inlet_depression"], rel=1e-9)
    power = lookup("power").exact({"air_flow": plan["air_flow"], "boost": plan["boost"]})
    assert plan["power_high"] == pytest.approx(power["power_high"], rel=1e-9)
    # Fuel from air and mixture, from the fuel flow, or from the power alone: one reckoning.
    for known in ({"air_flow": plan["air_flow"]}, {"fuel_flow": plan["fuel_burnt"]}, {}):
        fuel = lookup("fuel").exact({"boost": plan["boost"], "power": plan["power"], **known})
        assert plan["duty"] == pytest.approx(fuel["duty"], rel=1e-9), known
        assert plan["pump_needed"] == pytest.approx(fuel["pump_needed"], rel=1e-9), known
    belt = lookup("belt").exact({"drive_power": plan["drive_power"]})
    assert plan["grip_power"] == pytest.approx(belt["grip_power"], rel=1e-9)


ELSEWHERE = (
    {},
    {"exchanger_place": "bed", "altitude": 1800.0, "fuel": "e85", "rail": "fixed"},
    {"accessory_belt": "own", "accessory_crank": 160.0, "accessory_pulley": 58.0},
    {"pump_supply": "wired", "pump_current": 18.0, "pump_feed": 6.0, "pump_wire": "mm4"},
)


@pytest.mark.parametrize("truck", ELSEWHERE)
def test_the_plan_and_each_page_say_the_same_of_one_truck(truck: dict[str, float | str]) -> None:
    # What is entered under one name on a page and on the plan is one thing to both.
    truck = {"compression_ratio": 9.0, "octane": 98.0, **truck}
    plan = PLAN.exact(truck)
    for key in ("boost", "throttle", "power", "knock", "fuel", "belt", "accessory"):
        page = lookup(key)
        asked = {field.key for field in page.fields}
        worked_out = {each: plan[each] for each in asked & plan.keys() & {*FOLLOWS, *OFFERS}}
        here = page.exact({each: truck[each] for each in asked & truck.keys()} | worked_out)
        assert here.keys() & plan.keys(), key
        for each in here.keys() & plan.keys():
            # The plan's depression is a hair from the one that its last round began with.
            assert here[each] == pytest.approx(plan[each], rel=1e-4, abs=1e-4), (key, each)


@pytest.mark.parametrize(
    ("bore", "left"), [(125.0, 0.002), (90.0, 0.01), (80.0, 0.05), (75.0, 0.15)]
)
def test_two_rounds_find_the_inlet_depression(bore: float, left: float) -> None:
    # Follow the circle by hand until it stands still; through 75 mm the air all but chokes.
    throttled = {"throttle_bore": bore}
    depression = 1.5
    for _ in range(20):
        air = lookup("boost").exact({"inlet_depression": depression})
        depression = lookup("throttle").exact(
            {"air_flow": air["air_flow"], "boost": air["boost"], **throttled}
        )["inlet_depression"]
    found = PLAN.explain(throttled)
    assert found.symbols["drawn_depression"] / 1e3 == pytest.approx(depression, abs=left)
    assert PLAN.exact(throttled)["inlet_depression"] == pytest.approx(depression, abs=left)
    assert PLAN.exact(throttled)["boost"] == pytest.approx(air["boost"], abs=2.0 * left)


def test_a_smaller_pulley_is_felt_by_everything_downstream() -> None:
    large, small = PLAN.evaluate({"blower_pulley": 96.0}), PLAN.evaluate({"blower_pulley": 85.0})
    for key in (
        "boost",
        "power_low",
        "power_high",
        "charge_temperature",
        "rotors_used",
        "grip_used",
        "injectors_used",
        "pump_used",
        "throttle_used",
        "charge_used",
        "drive_power",
        "inlet_depression",
    ):
        assert small[key] > large[key], key


def test_what_runs_out_says_so_and_says_what_to_do() -> None:
    outcome = PLAN.explain(with_own(PLAN, blower_pulley=74.0, injector_flow=600.0))
    assert outcome.status["rotors_used"] in ("near", "beyond")
    assert outcome.status["injectors_used"] == "beyond"
    band = PLAN.answer("injectors_used").band
    assert band is not None
    assert "lean" in band.beyond


def test_a_mixture_too_lean_for_boost_is_questioned_on_any_fuel():
    for fuel in ("e10", "e85"):
        assert PLAN.explain({"fuel": fuel}).status["lambda_used"] == "within"
        assert PLAN.explain({"fuel": fuel, "lambda": 0.95}).status["lambda_used"] == "beyond"


FIVE_LITRES = {
    "engine_displacement": 5.0,
    "blower_displacement": 2.9,
    "crank_pulley": 160.0,
    "engine_speed": 7000.0,
    "limiter_speed": 7200.0,
    "engine_efficiency": 104.0,
    "leakage": 300.0,
}
"""A 5.0 L four-valve V8 of our own invention, near 11.5 psi with a pulley of 98 mm."""


def test_e85_at_eleven_and_a_half_psi_makes_gasoline_power_and_asks_120_per_cent_of_injectors():
    # Injectors that were right for gasoline: just under the duty limit of 85 %, dead time and all.
    set_up = FIVE_LITRES | {"blower_pulley": 98.0, "injector_flow": 650.0}
    gasoline, e85 = (PLAN.evaluate(set_up | {"fuel": fuel}) for fuel in ("gasoline", "e85"))
    assert gasoline["boost"] / PSI == pytest.approx(11.5, abs=0.1)
    assert e85["boost"] == gasoline["boost"]
    assert gasoline["power"] / 0.7457 / 5.0 == pytest.approx(131.0, abs=3.0)
    assert e85["power"] / gasoline["power"] == pytest.approx(1.0, abs=0.01)
    assert e85["fuel_burnt"] / gasoline["fuel_burnt"] == pytest.approx(1.50, abs=0.01)
    assert gasoline["duty"] == pytest.approx(84.4, abs=0.5)
    assert e85["duty"] == pytest.approx(120.8, abs=0.5)
    assert judged(set_up | {"fuel": "gasoline"})["injectors_used"] == "near"
    assert judged(set_up | {"fuel": "e85"})["injectors_used"] == "beyond"


def test_a_belt_too_fast_to_carry_anything_says_so_and_what_to_do() -> None:
    found = PLAN.explain({"crank_pulley": 280.0, "mass_per_rib": 26.0})
    assert found.faults["grip_used"].say == NO_ROOM


def test_rungs_of_the_drive_are_judged_at_the_rev_limiter():
    given = {"belt_speed_limit": 70.0, "idler_diameter": 90.0, "idler_limit": 16000.0}
    given |= {"accessory_limit": 20000.0}
    low, high = (PLAN.evaluate({**given, "limiter_speed": speed}) for speed in (6250.0, 6900.0))
    for key in ("belt_speed_used", "idler_used", "accessory_used", "rotors_used"):
        assert high[key] / low[key] == pytest.approx(6900.0 / 6250.0, rel=1e-6), key
    assert high["grip_used"] > low["grip_used"]
    # What is decided where the power is made stays.
    for key in ("boost", "power", "injectors_used", "pump_used", "line_used", "throttle_used"):
        assert high[key] == low[key], key


def test_limits_without_a_makers_figure_are_not_judged():
    outcome = PLAN.explain({})
    for key in ("belt_speed_used", "idler_used", "accessory_used", "knock_used"):
        assert outcome.faults[key].kind == "blank", key
        assert key not in outcome.status


def test_the_feed_line_and_the_octane_have_rungs():
    entered = {"compression_ratio": 9.5, "octane": 95.0, "line_size": "4"}
    outcome = PLAN.explain(with_own(PLAN, entered))
    line = lookup("fuel").evaluate({"power": outcome.answers["power"], "line_size": "4"})
    assert outcome.answers["line_used"] == pytest.approx(line["line_velocity"] / 3.0 * 100.0)
    assert outcome.status["line_used"] == "beyond"
    assert outcome.status["knock_used"] == "beyond"
    assert judged(entered | {"octane": 105.0})["knock_used"] == "within"


def test_no_boost_is_said_once_and_stops_what_hangs_on_it() -> None:
    outcome = PLAN.explain({"blower_pulley": 240.0})
    assert "no boost with this pulley" in outcome.faults["boost"].say
    assert "power_low" in outcome.faults
    assert "grip_used" in outcome.faults
    assert "rotors_used" in outcome.answers


def test_common_practice_five_litres_at_eleven_and_a_half_psi_makes_six_hundred() -> None:
    # Common practice: a 5.0 L four-valve V8, 2.9 L per revolution with internal compression,
    # 3¾ in pulley on a crank pulley near 6.3 in, about 11.5 psi: the band straddles 600 hp.
    found = PLAN.evaluate(
        {
            "engine_displacement": 5.0,
            "blower_displacement": 2.9,
            "blower_pulley": 95.25,
            "crank_pulley": 160.0,
            "engine_speed": 7000.0,
            "engine_efficiency": 104.0,
            "leakage": 300.0,
        }
    )
    assert 11.0 < found["boost"] / PSI < 12.3
    assert found["power_low"] / 0.7457 < 600.0 < found["power_high"] / 0.7457
