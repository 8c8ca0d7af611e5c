"""The plan: chained answers are the pages' own, and a pulley is felt everywhere downstream."""

from __future__ import annotations

import pytest

from site_src.lookups import lookup

PLAN = lookup("plan")
PSI = 6.894757293168


def test_the_chain_gives_what_the_pages_give_one_by_one() -> None:
    plan = PLAN.exact({})
    boost = lookup("boost").exact({"inlet_depression": plan["inlet_depression"]})
    assert plan["boost"] == pytest.approx(boost["boost"], abs=0.05)
    assert plan["air_flow"] == pytest.approx(boost["air_flow"], rel=1e-3)
    throttle = lookup("throttle").exact({"air_flow": plan["air_flow"]})
    assert plan["inlet_depression"] == pytest.approx(throttle["inlet_depression"], rel=1e-9)
    power = lookup("power").exact({"air_flow": plan["air_flow"], "boost": plan["boost"]})
    assert plan["power_high"] == pytest.approx(power["power_high"], rel=1e-9)
    fuel = lookup("fuel").exact(
        {"fuel_flow": plan["fuel_flow"], "boost": plan["boost"], "power": plan["power"]}
    )
    assert plan["duty"] == pytest.approx(fuel["duty"], rel=1e-9)
    belt = lookup("belt").exact({"drive_power": plan["drive_power"]})
    assert plan["grip_power"] == pytest.approx(belt["grip_power"], rel=1e-9)


def test_two_rounds_settle_the_inlet_depression() -> None:
    # Follow the circle by hand until it stands still.
    depression = 1.5
    for _ in range(12):
        air = lookup("boost").exact({"inlet_depression": depression})["air_flow"]
        depression = lookup("throttle").exact({"air_flow": air})["inlet_depression"]
    assert PLAN.exact({})["inlet_depression"] == pytest.approx(depression, abs=0.01)
    tight = {"throttle_bore": 90.0, "throttle_bores": "1"}
    for _ in range(12):
        air = lookup("boost").exact({"inlet_depression": depression})["air_flow"]
        depression = lookup("throttle").exact({"air_flow": air, **tight})["inlet_depression"]
    assert PLAN.exact(tight)["inlet_depression"] == pytest.approx(depression, abs=0.2)


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
    outcome = PLAN.explain({"blower_pulley": 74.0, "injector_flow": 600.0})
    assert outcome.status["rotors_used"] in ("near", "beyond")
    assert outcome.status["injectors_used"] == "beyond"
    band = PLAN.answer("injectors_used").band
    assert band is not None
    assert "lean" in band.beyond


def test_a_fuel_that_the_mixture_does_not_belong_to_is_questioned() -> None:
    assert PLAN.explain({}).status["mixture_share"] == "within"
    assert PLAN.explain({"fuel": "e85"}).status["mixture_share"] == "beyond"
    fits = {"fuel": "e85", "mixture_rich": 7.4, "mixture_lean": 7.9}
    assert PLAN.explain(fits).status["mixture_share"] == "within"
    assert PLAN.evaluate(fits)["duty"] > 1.3 * PLAN.evaluate({})["duty"]


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
