"""What runs out first: the order, the words, and pages that say the same when they are led to."""

from __future__ import annotations

import random
from urllib.parse import parse_qsl

import pytest

from site_src.face.ladder import SAME_REASON, carried, fed_text, in_order, judged_first, ladder
from site_src.face.sheet import sheet
from site_src.face.words import read_answer
from site_src.lookups import all_lookups, lookup
from site_src.model.answers import Rung
from site_src.model.fields import Number
from site_src.model.lookup import Inputs

PAGES = {each.key: each for each in all_lookups()}
PLAN = PAGES["plan"]
VIEW = PLAN.views.ladder
assert VIEW is not None
SEED = 20260101

# On the page: the answer whose share of a limit the rung shows, and the plan's own of the same.
SAME = {
    "rotors_used": ("rotor_speed", "rotor_speed"),
    "grip_used": ("grip_power", "grip_power"),
    "injectors_used": ("duty", "duty"),
    "pump_used": ("pump_needed", "pump_needed"),
    "throttle_used": ("inlet_depression", "inlet_depression"),
    "charge_used": ("charge_temperature", "charge_temperature"),
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
        }
        for _ in range(count)
    ]


def drawn(inputs: Inputs):
    outcome = PLAN.explain(inputs)
    readings = [read_answer(PLAN, answer, outcome) for answer in PLAN.answers]
    return ladder(PLAN, VIEW, readings, outcome, PAGES), readings, outcome


@pytest.mark.parametrize("rung", VIEW.rungs, ids=lambda rung: rung.answer)
def test_a_limits_page_gives_the_plans_answer_for_what_is_carried_over(rung: Rung) -> None:
    page = lookup(rung.page)
    theirs, ours = SAME[rung.answer]
    answer = page.answer(theirs)
    for inputs in set_ups(25):
        outcome = PLAN.explain(inputs)
        keys = {field.key for field in page.fields}
        given = {key: value for key, value in inputs.items() if key in keys}
        for key, symbol in rung.feeds.items():
            given[key] = float(fed_text(page.numbers[key], outcome.symbols[symbol]))
        found = page.evaluate(given)[theirs]
        assert found == pytest.approx(outcome.answers[ours], abs=2 * answer.tolerance), inputs


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
        found, readings, outcome = drawn(inputs)
        used = [outcome.answers[each.rung.answer] for each in found.rungs]
        assert used == sorted(used, reverse=True)
        first = found.rungs[0]
        assert found.first.lower() == f"{first.rung.first}: {first.reading.number} used.".lower()
        assert judged_first(VIEW, readings, outcome)[0] is first.reading
    verdict = sheet(PLAN, PAGES).verdict
    assert verdict is not None
    assert verdict.words == sheet(PLAN, PAGES).ladder.rungs[0].reading.words


def test_a_worse_complaint_than_the_ladders_is_not_hidden_behind_it() -> None:
    # The rich end of a gasoline mixture with E85: lean, whatever the parts have left.
    from site_src.face.words import worst

    _, readings, outcome = drawn({"fuel": "e85", "injector_flow": 1500.0, "pumps": "2"})
    assert outcome.status["mixture_share"] == "beyond"
    found = worst(judged_first(VIEW, readings, outcome))
    assert found is not None
    assert found.status == "beyond"


def test_without_boost_each_limit_says_why_and_leads_nowhere() -> None:
    found, _, outcome = drawn({"blower_pulley": 240.0})
    assert found.rungs[0].rung.answer == "rotors_used"
    assert found.first.startswith("Of what can be worked out, the rotors run out first")
    silent = found.rungs[1:]
    assert "no boost" in silent[0].words
    assert [each.words for each in silent[1:]] == [SAME_REASON] * 4
    assert all(each.share is None for each in silent)
    queries = [carried(PLAN, rung, outcome, PAGES[rung.page]) for rung in in_order(VIEW, outcome)]
    assert queries[1:] == [None] * 5


def test_limits_on_the_ladder_are_not_drawn_as_margins_again() -> None:
    ruled = {reading.answer.key for reading in sheet(PLAN, PAGES).ruled}
    assert ruled == {"mixture_share"}
