"""The truck that the pages begin with: invented, but one and the same truck, and a sound one."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from site_src.lookups import all_lookups, lookup, plan
from site_src.model.answers import BEYOND
from site_src.model.fields import Number
from site_src.model.lookup import Lookup
from tests.own import with_own

PLAN = lookup("plan")


def handed_on() -> Iterator[tuple[str, str]]:
    """The entries that the plan works out for another page, which asks for them when alone."""
    for page, fed in plan._PAGES.values():
        for key in fed:
            if page.numbers[key].default is not None:
                yield page.key, key


@pytest.mark.parametrize(("page", "key"), list(handed_on()))
def test_a_page_begins_with_what_the_plan_works_out_for_it(page: str, key: str) -> None:
    number = lookup(page).numbers[key]
    worked_out = PLAN.exact({})[key]
    assert number.default is not None
    # To the digits that the number is shown with where it comes from.
    decimals = PLAN.answer(key).decimals[number.unit]
    assert number.default == pytest.approx(worked_out, rel=0.003, abs=0.51 * 10.0**-decimals)


def test_what_two_pages_ask_begins_alike_on_both() -> None:
    met: dict[str, tuple[str, object]] = {}
    for of in all_lookups():
        for field in of.fields:
            if isinstance(field, Number) and field.default is None:
                continue  # Left open here: nothing is claimed.
            page, default = met.setdefault(field.key, (of.key, field.default))
            assert default == field.default, f"{field.key} of {page} and {of.key}"


@pytest.mark.parametrize("of", all_lookups(), ids=lambda each: each.key)
def test_by_its_own_limits_nothing_of_it_is_beyond(of: Lookup) -> None:
    status = of.explain(with_own(of)).status
    assert BEYOND not in status.values(), status


def test_its_belt_carries_its_blower_with_room() -> None:
    outcome = PLAN.explain(with_own(PLAN))
    assert outcome.status["grip_used"] == "within"
    belt = lookup("belt")
    own = belt.explain(with_own(belt))
    assert {own.status[key] for key in ("grip_power", "limiter_grip_power", "ribs_needed")} == {
        "within"
    }
