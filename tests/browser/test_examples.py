"""Verdicts only from real limits: an example becomes the shop's own by being typed, and by no other
way."""

from __future__ import annotations

import re
from urllib.parse import urlencode

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_src.lookups import all_lookups, lookup, truck
from site_src.model.answers import WITHIN
from site_src.model.fields import Parts
from site_src.model.lookup import Lookup
from tests.browser.conftest import NewContext
from tests.browser.test_pages import opened
from tests.browser.test_truck import kept
from tests.own import with_own

VERDICT = "[data-plate] .verdict .stamp"
TRUCK_LINE = "[data-truck-line]"
JUDGED = [
    each.key
    for each in all_lookups()
    if any(each.examples.values()) and not any(isinstance(f, Parts) for f in each.fields)
]
"""The lookups whose limits are entered one by one, and not in a list of parts."""


def own_link(of: Lookup) -> str:
    """A link in which every limit has been entered, at the value of the example."""
    entered = with_own(of)
    return urlencode({key: f"{value:g}{of.numbers[key].unit}" for key, value in entered.items()})


def enter(page: Page, key: str, text: str) -> None:
    """Type into an entry, wherever it is folded away."""
    page.evaluate("document.querySelectorAll('.more').forEach(each => { each.open = true; })")
    page.fill(f"#{key}", text)


def within(page: Page) -> int:
    """How many verdicts on the page say that something is within its limit."""
    return page.locator('.stamp[data-status="within"]').count()


def test_the_value_of_the_example_typed_by_a_person_is_his_own(
    phone: BrowserContext, new_phone: NewContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    mark = page.locator('[data-field="rotor_limit"] [data-origin]')
    expect(page.locator(VERDICT)).to_have_text("not checked")
    expect(mark).to_have_text("example")
    enter(page, "rotor_limit", "14000")
    expect(page.locator(VERDICT)).to_have_text("within")
    expect(mark).not_to_have_text("example")
    page.wait_for_url(re.compile(r"\?rotor_limit=14000rpm$"))
    page.reload()
    expect(page.locator(VERDICT)).to_have_text("within")
    other = opened(new_phone(), page.url)
    expect(other.locator(VERDICT)).to_have_text("within")


def test_a_press_on_a_stepper_and_back_makes_it_his_own_too(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.evaluate("document.querySelectorAll('.more').forEach(each => { each.open = true; })")
    page.get_by_role("button", name="Rotor speed limit: one step up").click()
    page.get_by_role("button", name="Rotor speed limit: one step down").click()
    expect(page.locator("#rotor_limit")).to_have_value("14000")
    expect(page.locator(VERDICT)).to_have_text("within")


def test_another_unit_is_no_entry(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}plan/")
    page.evaluate("document.querySelectorAll('.more').forEach(each => { each.open = true; })")
    expect(page.locator('[data-rung="injectors_used"] .stamp')).to_have_text("not checked")
    unit = page.locator('[data-field="injector_flow"] [data-unit]')
    unit.select_option(index=1)
    expect(page.locator('[data-rung="injectors_used"] .stamp')).to_have_text("not checked")
    expect(page.locator('[data-field="injector_flow"] [data-origin]')).to_have_text("example")


def test_back_to_the_usual_set_up_nothing_is_checked_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/?rotor_limit=14000rpm")
    expect(page.locator(VERDICT)).to_have_text("within")
    page.locator("[data-reset]").click()
    expect(page.locator(VERDICT)).to_have_text("not checked")
    expect(page.locator('[data-field="rotor_limit"] [data-origin]')).to_have_text("example")
    page.wait_for_url(re.compile(r"boost/$"))
    page.reload()
    expect(page.locator(VERDICT)).to_have_text("not checked")


def test_home_says_of_a_truck_s_examples_that_they_are(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    enter(page, "engine_displacement", "6.2")
    kept(page)
    page.goto(site_url)
    expect(page.locator(TRUCK_LINE)).to_have_text(
        re.compile("^Engine\\s6.2\\sL · Examples: Blower\\s.*, Crank\\s.*$")
    )
    page = opened(phone, f"{site_url}boost/")
    enter(page, "blower_displacement", "2.3")
    enter(page, "crank_pulley", "180")
    kept(page)
    page.goto(site_url)
    expect(page.locator(TRUCK_LINE)).to_have_text(
        re.compile("^Engine\\s.* · Blower\\s.* · Crank\\s[^:]*$")
    )


@pytest.mark.parametrize("key", JUDGED)
def test_beside_any_entry_that_cant_be_used_nothing_is_within(
    phone: BrowserContext, site_url: str, key: str
) -> None:
    of = lookup(key)
    page = opened(phone, f"{site_url}{key}/?{own_link(of)}")
    expect(page.locator("[data-current]")).to_have_count(1)
    # The example's truck is within a limit on every page but that of charge cooling.
    found = truck.of_example(key).explain(with_own(of)).status
    is_within = WITHIN in found.values()
    assert (within(page) > 0) == is_within == (key != "charge-cooling")
    asked = [
        number.key
        for number in of.numbers.values()
        if number.when is None and number.default is not None and not number.kept
    ]
    # The first that is asked, the last one, and one between: what depends on it or doesn't.
    for each in dict.fromkeys((asked[0], asked[len(asked) // 2], asked[-1])):
        before = page.locator(f"#{each}").input_value()
        problem = page.locator(f'[data-field="{each}"] [data-problem]').first
        for text in ("", "what", "99999999"):
            enter(page, each, text)
            expect(problem).to_be_visible()
            assert within(page) == 0, (each, text)
            enter(page, each, before)
            expect(problem).to_be_hidden()
            assert (within(page) > 0) == is_within, (each, text)
