"""Every answer of every lookup, at points the build never saw; and a proof that can fail."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from site_src.imports import sources_behind
from site_src.lookups import all_lookups, all_recipes
from site_src.model.fields import Field, Number
from site_src.model.lookup import InputError, Lookup
from site_src.places import ROOT
from site_src.proof import comparison
from site_src.proof.comparison import ProofError, prove
from site_src.tables.recipe import Fault
from tests.tables.samples import FRESH

LOOKUPS = pytest.mark.parametrize("lookup", all_recipes(), ids=lambda each: each.key)


USUAL = {
    field.key: field.default
    for lookup in all_recipes()
    for field in lookup.numbers.values()
    if field.default is not None
}


@LOOKUPS
def test_every_answer_is_within_tolerance_at_fresh_points(lookup: Lookup) -> None:
    # The build compares at twenty times as many: these show that it didn't hang on which they were.
    for key, measured in prove(lookup, points=1_000, start=FRESH, edges=False).items():
        assert measured.error <= measured.tolerance, key


@LOOKUPS
def test_tolerances_are_far_below_what_is_shown_and_what_is_known(lookup: Lookup) -> None:
    for answer in lookup.answers:
        assert answer.tolerance <= answer.uncertainty / 10.0, answer.key
        for unit_key, decimals in answer.decimals.items():
            unit = answer_unit(answer.of, unit_key)
            shown = answer.tolerance * answer.declared.factor / unit
            assert shown <= 0.2 * 10.0**-decimals * (1 + 1e-9), (answer.key, unit_key)


def answer_unit(quantity_key: str, unit_key: str) -> float:
    from site_src.model.quantities import quantity

    return quantity(quantity_key).unit(unit_key).factor


@LOOKUPS
def test_both_ends_of_every_field_are_accepted_and_a_step_outside_is_named(
    lookup: Lookup,
) -> None:
    # The values of other columns are tried in the place of the entry that they are compared with.
    compared = lookup.views.compare.others if lookup.views.compare else ()
    tried = [
        (field, field.key, way | {field.key: value}, value != end)
        for field in lookup.numbers.values()
        if field.key not in compared
        for end, out in ((field.low, -field.step), (field.high, field.step))
        for way in opened(lookup, field)
        for value in (end, end + out)
    ]
    found = ranges_met(lookup, [way for _, _, way, _ in tried])
    minded = set()
    for (field, key, way, outside), faults in zip(tried, found, strict=True):
        assert outside or not faults, key
        for fault in faults:
            assert fault.symbol == key
            words = lookup.words(fault, way)
            assert field.label in words
            assert f"{field.low:g} to {field.high:g}" in words
            minded.add((key, way[key]))
    assert {(key, way[key]) for _, key, way, outside in tried if outside} == minded


def ranges_met(lookup: Lookup, ways: list[dict[str, Any]]) -> list[set[Fault]]:
    """Return by set-up the faults of range that keep an answer or its judgement away."""
    run = lookup.run(lookup.filled(ways))
    ends = [e for a in lookup.answers if a.band for e in (a.band.limit, a.band.near)]
    columns = [run.column(each) for each in (*(answer.key for answer in lookup.answers), *ends)]
    known = [None, *run.faults.known]
    return [
        {f for c in columns if (f := known[c.fault[n]]) is not None and f.kind == "range"}
        for n in range(len(ways))
    ]


def opened(lookup: Lookup, field: Number) -> list[dict[str, Any]]:
    """Return set-ups in which a field is asked for: the others blank, or all filled in.

    Filled in, they are in the middle of their ranges, or as is usual on a page that asks the same.
    """
    choices: dict[str, Any] = {}
    asked: Field = field
    while asked.when:
        key, options = asked.when
        choices[key] = options[0]
        asked = next(each for each in lookup.fields if each.key == key)
    middles = filled(lookup)
    usual = {key: USUAL.get(key, middle) for key, middle in middles.items()}
    return [choices, {**middles, **choices}, {**usual, **choices}]


def filled(lookup: Lookup) -> dict[str, float]:
    """Return every optional entry, in the middle of its range."""
    return {
        each.key: 0.5 * (each.low + each.high)
        for each in lookup.numbers.values()
        if each.default is None
    }


@LOOKUPS
def test_the_usual_set_up_has_every_answer_that_is_not_optional(lookup: Lookup) -> None:
    found = lookup.evaluate({})
    exact = lookup.exact({})
    for answer in lookup.answers:
        if not answer.optional:
            assert found[answer.key] == pytest.approx(exact[answer.key], abs=answer.tolerance)


def test_an_unusable_entry_is_named_with_its_range() -> None:
    boost = next(each for each in all_recipes() if each.key == "boost")
    with pytest.raises(InputError, match=r"Blower pulley is 30\.0 mm\. This page covers 40 to 250"):
        boost.evaluate({"blower_pulley": 30.0})
    with pytest.raises(InputError, match="no field pully"):
        boost.evaluate({"pully": 90.0})


@pytest.mark.parametrize("lookup", all_lookups(), ids=lambda each: each.key)
def test_a_needed_entry_left_blank_is_named_by_recipe_and_calculation(lookup: Lookup) -> None:
    needed = next(f for f in lookup.numbers.values() if f.default is not None and not f.when)
    # A page that assumes nothing has no answer to miss until it is filled in.
    given = {} if lookup.evaluate({}) else filled(lookup)
    for run in (lookup.evaluate, lookup.exact):
        with pytest.raises(InputError, match=f"“{re.escape(needed.label)}” was left empty"):
            run({**given, needed.key: None})


def test_an_unusable_limit_is_named_too() -> None:
    boost = next(each for each in all_recipes() if each.key == "boost")
    with pytest.raises(InputError, match=r"Rotor speed limit is 100\.0 rpm"):
        boost.evaluate({"rotor_limit": 100.0})
    assert "boost" in boost.explain({"rotor_limit": 100.0}).answers


def test_a_recipe_that_is_off_stops_the_build_and_names_the_set_up() -> None:
    boost = next(each for each in all_recipes() if each.key == "boost")
    wrong = tuple(
        replace(step, times=1.0001) if step.name == "drive_ratio" else step for step in boost.steps
    )
    copy = replace(boost)
    vars(copy)["written"] = replace(boost.written, steps=wrong)
    with pytest.raises(ProofError, match=r"boost: \w+ is off by .* at \{'blower_pulley'"):
        prove(copy, points=500, edges=False)


def test_every_answer_was_compared_at_twenty_thousand_set_ups(catalogue: dict[str, Any]) -> None:
    counts = {
        f"{lookup['key']}: {key}": measured["points"]
        for lookup in catalogue["lookups"]
        for key, measured in lookup["measured"].items()
    }
    assert len(counts) > 300
    assert not {key: count for key, count in counts.items() if count < comparison.POINTS}


# --- what a kept proof hangs on ------------------------------------------------------------------


def test_a_kept_proof_hangs_on_what_its_lookup_imports_and_on_no_other_page() -> None:
    behind = {path.relative_to(ROOT).as_posix() for path in sources_behind(*ACCESSORY)}
    assert {"calc/belts.py", "site_src/model/lookup.py", "site_src/tables/trace.py"} <= behind
    assert "site_src/lookups/accessory.py" in behind
    assert not behind & {"site_src/lookups/torque.py", "site_src/lookups/plan.py", "build.py"}
    chained = {path.name for path in sources_behind("site_src.lookups.plan", ("site_src.",))}
    assert {"boost.py", "power.py", "fuel.py", "belt.py"} <= chained


ACCESSORY = ("site_src.lookups.accessory", ("calc.", "site_src."))
