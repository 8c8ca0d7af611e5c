"""Nothing is judged by a limit that is only an example, nor called within beside a wrong entry."""

from __future__ import annotations

from dataclasses import replace

import pytest

from site_src.lookups import all_lookups, lookup
from site_src.model.answers import UNCHECKED
from site_src.model.fields import Number, Parts
from site_src.model.lookup import Lookup
from site_src.tables.recipe import needed
from tests.own import with_own

LOOKUPS = pytest.mark.parametrize("of", all_lookups(), ids=lambda each: each.key)
BOOST = lookup("boost")


@LOOKUPS
def test_a_fresh_page_judges_nothing_by_an_example_limit(of: Lookup) -> None:
    outcome = of.explain({})
    for answer in of.answers:
        if of.examples.get(answer.key) and answer.key in outcome.status:
            shown = [n for n in of.examples[answer.key] if asked(of, n)]
            assert (outcome.status[answer.key] == UNCHECKED) == bool(shown), answer.key


def with_examples(of: Lookup) -> list[Number | Parts]:
    """What may be only an example: a number, or a list."""
    return [field for field in of.fields if isinstance(field, Number | Parts)]


def asked(of: Lookup, number: Number) -> bool:
    if number.when is None:
        return True
    return of.choices[number.when[0]].default in number.when[1]


@LOOKUPS
def test_entered_at_the_very_value_of_the_example_they_are_all_judged(of: Lookup) -> None:
    own = of.explain(with_own(of))
    # What is still not checked waits for a limit that may stay empty, or has none in this set-up.
    waiting = {key for key, status in own.status.items() if status == UNCHECKED}
    assert all(own.unjudged[key].kind != "example" for key in waiting if key in own.unjudged)
    assert {fault.kind for fault in own.unjudged.values()} <= {"blank", "below", "above"}
    assert own.answers == of.explain({}).answers


@LOOKUPS
def test_every_example_has_a_say_in_some_verdict_and_says_what_to_enter(of: Lookup) -> None:
    for number in with_examples(of):
        if number.example:
            assert any(number in each for each in of.examples.values()), number.key
            assert number.default is not None
            assert number.example.startswith("Enter ")
            assert number.example.endswith(".")


@LOOKUPS
def test_the_examples_that_a_band_ships_are_those_that_its_steps_read(of: Lookup) -> None:
    for answer in of.answers:
        if answer.band:
            ends = [answer.key, answer.band.limit, answer.band.near]
            _, read = needed(of.steps, [end for end in ends if isinstance(end, str)])
            shipped = {number.key for number in of.examples[answer.key]}
            assert shipped == {field.key for field in with_examples(of) if field.example} & read


def test_the_rotors_are_not_checked_before_their_limit_is_entered() -> None:
    outcome = BOOST.explain({})
    assert outcome.status["rotor_speed"] == UNCHECKED
    reason = outcome.unjudged["rotor_speed"]
    assert (reason.kind, reason.symbol) == ("example", "rotor_limit")
    assert reason.say.startswith("Example limit. Enter the rotor speed limit")
    assert BOOST.explain({"rotor_limit": 14000.0}).status["rotor_speed"] == "within"
    assert BOOST.explain({"rotor_limit": 9000.0}).status["rotor_speed"] == "beyond"


def test_what_the_answer_is_about_is_asked_for_first_and_the_rest_is_counted() -> None:
    said = lookup("plan").explain({}).unjudged
    assert said["rotors_used"].symbol == "rotor_limit"
    assert said["injectors_used"].symbol == "injector_flow"
    assert said["injectors_used"].say.endswith("Then 1 more.")
    assert said["pump_used"].symbol == "pump_flow_1"
    assert said["grip_used"].symbol == "belt_ribs"


def test_only_the_limit_that_is_asked_for_counts() -> None:
    fuel = lookup("fuel")
    assert fuel.explain({"injector_rated": "mass"}).unjudged["duty"].symbol == "injector_mass"
    by_mass = fuel.explain({"injector_rated": "mass", "injector_mass": 31.0})
    assert by_mass.status["duty"] != UNCHECKED


@pytest.mark.parametrize(
    ("entered", "symbol"),
    [
        ({"wanted_boost": 900.0}, "wanted_boost"),
        ({"effectiveness": float("nan")}, "effectiveness"),
        ({"engine_displacement": None}, "engine_displacement"),
        ({"blower_kind": "none"}, "blower_kind"),
    ],
)
def test_beside_a_wrong_entry_nothing_is_within(
    entered: dict[str, float | str | None], symbol: str
) -> None:
    # The rotors' speed depends on none of them; still the set-up is not his.
    own = {"rotor_limit": 14000.0}
    outcome = BOOST.explain(own | entered)
    assert outcome.status["rotor_speed"] == UNCHECKED
    assert outcome.unjudged["rotor_speed"].symbol == symbol


def test_a_warning_stays_beside_a_wrong_entry() -> None:
    entered = {"rotor_limit": 9000.0, "wanted_boost": 900.0}
    assert BOOST.explain(entered).status["rotor_speed"] == "beyond"


def test_a_wrong_entry_that_is_not_asked_for_changes_nothing() -> None:
    entered = {"rotor_limit": 14000.0, "rating_boost": 900.0}
    assert BOOST.explain(entered).status["rotor_speed"] == "within"
    assert BOOST.explain(entered | {"efficiency_from": "rating"}).status["rotor_speed"] == UNCHECKED


def test_a_page_whose_limit_is_no_example_is_judged_at_once() -> None:
    plain = replace(
        BOOST,
        fields=tuple(replace(f, example="") if isinstance(f, Number) else f for f in BOOST.fields),
    )
    assert plain.explain({}).status["rotor_speed"] == "within"
