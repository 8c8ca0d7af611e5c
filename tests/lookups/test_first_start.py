"""First start: the card says what the plan and the fuel page do, and where to stop."""

from __future__ import annotations

import pytest

from site_src.lookups import lookup
from site_src.model.answers import ProcedureView

PAGE = lookup("first-start")
PSI = 6.894757293168
"""kPa in a psi. NIST SP 811, appendix B.8."""


def found(**inputs: float | str) -> dict[str, float]:
    return dict(PAGE.evaluate(inputs))


def status(key: str, **inputs: float | str | list[dict[str, float]]) -> str:
    answer = PAGE.answer(key)
    outcome = PAGE.explain(inputs)
    assert answer.band
    value = outcome.answers[key]
    limit = outcome.symbols[answer.band.limit]
    assert isinstance(limit, float)
    return "beyond" if answer.declared.to_si(value) > limit else "within"


def test_a_referenced_rail_is_its_base_and_the_boost_and_a_fixed_one_its_base() -> None:
    """Both are gauge pressures: by definition of a regulator with its hose to the manifold."""
    for base in (300.0, 380.0):
        card = found(rail_pressure=base)
        assert card["rail_gauge"] == pytest.approx(base + card["boost"], abs=0.01)
        assert found(rail_pressure=base, rail="fixed")["rail_gauge"] == pytest.approx(base)


def test_where_to_stop_is_twenty_kpa_and_three_hundredths_away_common_practice() -> None:
    card = found()
    assert card["rail_gauge"] - card["rail_stop"] == pytest.approx(20.0)
    assert card["lambda_stop"] - card["lambda_used"] == pytest.approx(0.03)


@pytest.mark.parametrize("rpm", [1500.0, 3000.0, 6000.0])
def test_oil_pressure_is_ten_psi_for_a_thousand_rpm_common_practice(rpm: float) -> None:
    assert found(engine_speed=rpm)["oil_least"] / PSI == pytest.approx(rpm / 100.0, rel=1e-6)


@pytest.mark.parametrize("set_up", [{}, {"blower_pulley": 80.0}, {"altitude": 1600.0}])
def test_the_card_says_what_the_plan_says(set_up: dict[str, float]) -> None:
    planned = lookup("plan").evaluate(set_up)
    card = found(**set_up)
    for key in ("boost", "charge_temperature", "rotor_speed", "duty", "lambda_used"):
        assert card[key] == planned[key]


def test_each_pull_has_a_stop_of_its_own_since_less_boost_wants_less_fuel_pressure() -> None:
    view = PAGE.views.each
    assert view
    assert {"boost", "rail_gauge", "rail_stop", "oil_least"} <= set(view.answers)
    low, high = found(engine_speed=2500.0), found(engine_speed=6000.0)
    assert low["rail_stop"] < high["rail_stop"]


def test_a_lower_pull_turns_the_blower_slower_in_the_same_ratio() -> None:
    low, high = found(engine_speed=3000.0), found(engine_speed=6000.0)
    assert high["rotor_speed"] / low["rotor_speed"] == pytest.approx(2.0)
    assert high["duty"] > low["duty"]


def test_a_pull_over_the_limiter_is_beyond_it() -> None:
    assert status("highest_pull") == "within"
    pulls = [{"pull_speed": 3000.0}, {"pull_speed": 6900.0}]
    assert PAGE.explain({"pulls": pulls}).answers["highest_pull"] == 6900.0
    assert status("highest_pull", pulls=pulls) == "beyond"


def test_charge_rotors_and_injectors_are_held_to_their_limits() -> None:
    assert status("charge_temperature", charge_limit=40.0) == "beyond"
    assert status("rotor_speed", rotor_limit=9000.0) == "beyond"
    assert status("duty", duty_limit=60.0) == "beyond"


def test_the_card_says_when_to_let_off_and_that_makers_overrule_it() -> None:
    first, pulls, stop = PAGE.views.procedures
    words = " ".join(stop.actions)
    for what in ("Knock", "λ", "Fuel pressure", "Oil pressure", "Coolant", "Charge", "Boost"):
        assert what in words
    assert "READY" in first.actions[0]
    assert "closed track" in pulls.actions[0]
    each: ProcedureView
    for each in (first, pulls, stop):
        assert "ommon practice" in each.note
    assert any("overrule" in caution for caution in PAGE.cautions)
