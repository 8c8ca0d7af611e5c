"""What runs out first: the order, the words, and pages that say the same when they are led to."""

from __future__ import annotations

import random
from functools import cache
from urllib.parse import parse_qsl

import pytest

from site_src.face.ladder import SAME_REASON, carried, fed_text, in_order, judged_first, ladder
from site_src.face.sheet import sheet
from site_src.face.words import read_answer
from site_src.lookups import all_lookups, lookup
from site_src.model.answers import Rung
from site_src.model.fields import Number
from site_src.model.lookup import Inputs, Outcome
from tests.own import with_own

PAGES = {each.key: each for each in all_lookups()}
PLAN = PAGES["plan"]
VIEW = PLAN.views.ladder
assert VIEW is not None
SEED = 20260101

ENTERED: dict[str, float | str] = {
    "limiter_speed": 7000.0,
    "compression_ratio": 9.5,
    "octane": 98.0,
    "belt_speed_limit": 80.0,
    "idler_diameter": 90.0,
    "idler_limit": 18000.0,
    "accessory_limit": 22000.0,
}
"""What has no usual value: a limit that only a maker states, and what could do harm if assumed."""

# On the page: the answer whose share of a limit the rung shows, and the plan's own of the same.
SAME = {
    "rotors_used": ("rotor_speed", "rotor_speed"),
    "grip_used": ("grip_power", "grip_power"),
    "belt_speed_used": ("limiter_belt_speed", "limiter_belt_speed"),
    "idler_used": ("idler_speed", "idler_speed"),
    "accessory_used": ("accessory_speed", "accessory_speed"),
    "injectors_used": ("duty", "duty"),
    "line_used": ("line_velocity", "line_velocity"),
    "knock_used": ("squeeze", "squeeze"),
    "pump_used": ("pump_needed", "pump_needed"),
    "throttle_used": ("inlet_depression", "inlet_depression"),
    "charge_used": ("charge_temperature", "charge_temperature"),
    "pulls_used": ("charge_hottest", "charge_hottest"),
}


def set_ups(count: int) -> list[dict[str, float | str]]:
    """Set-ups around the usual one."""
    rng = random.Random(SEED)
    return [
        {
            "blower_pulley": rng.choice((78.0, 82.0, 85.0, 88.0, 92.0, 96.0)),
            "engine_speed": float(rng.randrange(3000, 7000, 250)),
            "altitude": float(rng.randrange(0, 2000, 100)),
            "throttle_bores": rng.choice(("1", "2")),
            "injector_flow": rng.uniform(550.0, 1100.0),
            "coolant_temperature": rng.uniform(30.0, 60.0),
            **ENTERED,
        }
        for _ in range(count)
    ]


@cache
def planned_set_ups() -> list[tuple[Inputs, Outcome]]:
    """Set-ups with what the plan makes of them."""
    asked = set_ups(25)
    return list(zip(asked, PLAN.explain_many(asked), strict=True))


def drawn(inputs: Inputs):
    outcome = PLAN.explain(inputs)
    readings = [read_answer(PLAN, answer, outcome) for answer in PLAN.answers]
    return ladder(PLAN, VIEW, readings, outcome, PAGES), readings, outcome


@pytest.mark.parametrize("rung", VIEW.rungs, ids=lambda rung: rung.answer)
def test_a_limits_page_gives_the_plans_answer_for_what_is_carried_over(rung: Rung) -> None:
    page = lookup(rung.page)
    theirs, ours = SAME[rung.answer]
    answer = page.answer(theirs)
    planned = planned_set_ups()
    keys = {field.key for field in page.fields}
    carried_over = [
        {key: value for key, value in inputs.items() if key in keys}
        | {
            key: float(fed_text(page.numbers[key], outcome.symbols[symbol]))
            for key, symbol in rung.feeds.items()
        }
        for inputs, outcome in planned
    ]
    for (inputs, outcome), found in zip(planned, page.explain_many(carried_over), strict=True):
        mine = pytest.approx(outcome.answers[ours], abs=2 * answer.tolerance)
        assert found.answers[theirs] == mine, inputs


def test_the_usual_set_ups_links_hold_only_what_differs_from_the_pages_own() -> None:
    for each in sheet(PLAN, PAGES).ladder.rungs:
        page = lookup(each.rung.page)
        entries = dict(parse_qsl(each.query, strict_parsing=True))
        assert set(entries) <= set(each.rung.feeds)
        for key, text in entries.items():
            field = page.numbers[key]
            value = float(text.removesuffix(field.unit))
            assert field.low <= value <= field.high
            assert value != field.default


def test_fields_of_one_name_are_one_thing_on_the_plan_and_on_the_pages() -> None:
    own = {field.key: field for field in PLAN.fields}
    for rung in VIEW.rungs:
        page = lookup(rung.page)
        assert set(rung.feeds) <= set(page.numbers)
        for field in page.fields:
            if field.key in own and isinstance(field, Number):
                mine = PLAN.numbers[field.key]
                assert (mine.of, mine.unit) == (field.of, field.unit), field.key


def test_the_most_used_limit_comes_first_and_is_the_plates_reason() -> None:
    for inputs in [{}, *set_ups(5)]:
        found, readings, outcome = drawn(with_own(PLAN, **inputs))
        known = [each for each in found.rungs if each.rung.answer in outcome.answers]
        assert list(found.rungs[: len(known)]) == known
        used = [outcome.answers[each.rung.answer] for each in known]
        assert used == sorted(used, reverse=True)
        first = found.rungs[0]
        said = f"{first.rung.first}: {first.reading.number} used."
        some = "" if inputs else "Of what can be worked out, "
        assert found.first.lower() == f"{some}{said}".lower()
        assert judged_first(VIEW, readings, outcome)[0] is first.reading
    verdict = sheet(PLAN, PAGES).verdict
    assert verdict is not None
    assert verdict.words == sheet(PLAN, PAGES).ladder.rungs[0].reading.words


def test_limits_that_are_only_examples_come_after_those_that_were_checked() -> None:
    fresh, _, _ = drawn({})
    assert {each.reading.status for each in fresh.rungs if each.reading.text} == {"unchecked"}
    assert fresh.first.startswith("Not checked yet: enter your own")
    assert all(each.share is None for each in fresh.rungs)
    rotors, _, _ = drawn({"rotor_limit": 20000.0})
    assert rotors.rungs[0].rung.answer == "rotors_used"
    assert rotors.rungs[0].share is not None
    assert rotors.first.startswith("Of what is checked, the rotors run out first")


def test_an_example_is_the_same_on_the_plan_and_on_the_pages() -> None:
    # Else a link would carry the plan's own example as if somebody had entered it.
    for rung in VIEW.rungs:
        for key, number in lookup(rung.page).numbers.items():
            if number.example and key in PLAN.numbers:
                mine = PLAN.numbers[key]
                assert (mine.default, mine.example) == (number.default, number.example)
            assert not (number.example and key in rung.feeds)


def test_a_worse_complaint_than_the_ladders_is_not_hidden_behind_it() -> None:
    # Lean, whatever the parts have left.
    from site_src.face.words import worst

    _, readings, outcome = drawn({"lambda": 0.95, "injector_flow": 1500.0, "pumps": "2"})
    assert outcome.status["lambda_used"] == "beyond"
    found = worst(judged_first(VIEW, readings, outcome))
    assert found is not None
    assert found.status == "beyond"


def test_without_boost_each_limit_says_why_and_leads_nowhere() -> None:
    found, _, outcome = drawn(with_own(PLAN, blower_pulley=240.0, **ENTERED))
    # What turns with the belt can still be judged; what takes air or boost can't.
    turning = {"rotors_used", "belt_speed_used", "idler_used", "accessory_used"}
    known = [each.rung.answer for each in found.rungs if each.rung.answer in outcome.answers]
    assert set(known) == turning
    assert found.first.startswith("Of what can be worked out, the ")
    silent = found.rungs[len(known) :]
    assert "no boost" in silent[0].words
    assert {each.words for each in silent[1:]} == {SAME_REASON}
    assert all(each.share is None for each in silent)
    queries = {
        rung.answer: carried(PLAN, rung, outcome, PAGES[rung.page])
        for rung in in_order(VIEW, outcome)
    }
    # The belt and the boost page need what there is none of.
    led = {key for key, query in queries.items() if query is not None}
    assert led == {"accessory_used"}


def test_a_limit_that_was_left_blank_says_which_entry_it_needs() -> None:
    found, _, outcome = drawn({})
    words = {each.rung.answer: each.words for each in found.rungs}
    for key, needed in {
        "belt_speed_used": "Belt speed allowed",
        "idler_used": "Smallest idler",
        "accessory_used": "Accessory's speed limit",
        "knock_used": "Compression ratio",
    }.items():
        assert key not in outcome.answers
        assert needed in words[key]


def test_limits_on_the_ladder_are_not_drawn_as_margins_again() -> None:
    ruled = {reading.answer.key for reading in sheet(PLAN, PAGES).ruled}
    assert ruled == {"lambda_used"}
