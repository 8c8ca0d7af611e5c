"""Accessory speed: pitch diameters make the ratio, and nothing is judged without a limit."""

from __future__ import annotations

import pytest

from site_src.lookups import lookup

ACCESSORY = lookup("accessory")
PRINTED = {"crank_pulley": 200.0, "accessory_pulley": 80.0, "diameter_kind": "effective"}


def test_ratio_by_pitch_diameters_iso_9981() -> None:
    # d_e 200 and 80 mm, b_e 2 mm: 2.42857 by pitch, 2.5 by effective diameters (ISO 9981, 5.4).
    found = ACCESSORY.evaluate(PRINTED | {"slip": 0.0, "limiter_speed": 6000.0})
    assert found["accessory_ratio"] == pytest.approx(2.42857, abs=1e-5)
    assert found["accessory_speed"] == pytest.approx(6000.0 * 204.0 / 84.0, abs=0.01)


def test_a_belt_of_its_own_has_a_crank_pulley_of_its_own() -> None:
    found = ACCESSORY.evaluate(PRINTED | {"accessory_belt": "own", "accessory_crank": 180.0})
    assert found["accessory_ratio"] == pytest.approx(184.0 / 84.0)


def test_without_a_limit_nothing_is_judged() -> None:
    open_limit = ACCESSORY.explain({})
    assert "accessory_speed" in open_limit.answers
    assert open_limit.unjudged["accessory_speed"].kind == "blank"
    judged = ACCESSORY.explain({"accessory_limit": 18000.0})
    assert judged.status["accessory_speed"] == "near"


def test_the_pulley_that_keeps_to_the_limit_does() -> None:
    limit = {"accessory_limit": 16000.0}
    pulley = ACCESSORY.evaluate(limit)["pulley_for_limit"]
    found = ACCESSORY.evaluate(limit | {"accessory_pulley": pulley})
    assert found["accessory_speed"] == pytest.approx(16000.0, rel=1e-9)


def test_a_larger_crank_pulley_turns_it_faster_by_its_pitch_diameter() -> None:
    found = ACCESSORY.evaluate(PRINTED | {"old_crank_pulley": 180.0})
    assert found["faster"] == pytest.approx(100.0 * (204.0 / 184.0 - 1.0), abs=1e-6)
