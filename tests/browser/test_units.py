"""One choice of units for the whole app, and single units that win over it."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, Page, expect

from site_src.lookups import all_lookups, lookup
from site_src.model.fields import Number
from tests.browser.test_pages import figure, opened, plate, ready, worked_out
from tests.inches import of_inches

INCHES = "in, psi, lb·ft"


def choose(page: Page, site_url: str, label: str) -> None:
    """Pick a system on the front page."""
    page.goto(site_url)
    page.get_by_label(label).check()


def even(page: str, answer: str, unit: str, **entered: float) -> str:
    """What a page must show of the truck in even inches, but for what is entered."""
    return worked_out(page, answer, unit, of_inches(lookup(page)) | entered)


def test_inches_chosen_once_are_used_on_every_page(phone: BrowserContext, site_url: str) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/")
    assert plate(page) == even("boost", "boost", "psi")
    expect(page.locator("#blower_pulley")).to_have_value("3.625")
    expect(page.locator('[data-field="blower_pulley"] [data-echo]')).to_have_text(
        "3.625 in · 92.1 mm"
    )
    assert figure(page, "charge_temperature") == even("boost", "charge_temperature", "F")
    torque = opened(phone, f"{site_url}torque/")
    assert figure(torque, "clamp_load") == even("torque", "clamp_load", "lbf")


def test_the_address_says_whose_examples_stand_for_what_it_leaves_out(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/")
    page.fill("#engine_speed", "5000")
    page.wait_for_url(re.compile("engine_speed"))
    assert page.url.endswith("boost/?engine_speed=5000rpm&units=inch")
    assert plate(page) == even("boost", "boost", "psi", engine_speed=5000.0)
    # Each table marks one row as the set-up's own.
    expect(page.locator("[data-chart] tr.current")).to_have_count(2)


def test_a_unit_that_was_picked_by_itself_wins(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator("[data-plate] [data-unit]").select_option("bar")
    expect(page.locator("[data-plate] [data-unit]")).to_have_value("bar")
    choose(page, site_url, INCHES)
    expect(page.locator("[data-picked]")).to_contain_text("stay as they are: 1.")
    page = opened(phone, f"{site_url}boost/")
    assert plate(page) == even("boost", "boost", "bar")
    # One truck: the unit of one entry changes how it is shown, not the pulley.
    page.locator('[data-field="blower_pulley"] [data-unit]').select_option("mm")
    expect(page.locator("#blower_pulley")).to_have_value("92.1")
    assert plate(page) == even("boost", "boost", "bar")
    page.reload()
    expect(page.locator("#blower_pulley")).to_have_value("92.1")
    expect(page.locator("#crank_pulley")).to_have_value("7.1")


def test_the_choice_is_kept_and_can_be_undone(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    choose(page, site_url, INCHES)
    page.reload()
    expect(page.get_by_label(INCHES)).to_be_checked()
    choose(page, site_url, "mm, kPa, N·m")
    assert plate(opened(phone, f"{site_url}boost/")) == worked_out("boost", "boost", "kPa", {})
    choose(page, site_url, INCHES)
    page.get_by_role("button", name="Forget units and screen mode").click()
    expect(page.get_by_label("mm, kPa, N·m")).to_be_checked()


def test_a_store_from_before_the_choice_is_still_read(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    page.goto(site_url)
    page.evaluate(
        """localStorage.setItem('bay-reckoner', JSON.stringify({schema: 1, mode: 'dark',
        units: {'boost=boost': 'psi'}, job: {name: 'Flatbed', kept: {}}}))"""
    )
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-mode", "dark")
    expect(page.get_by_label("mm, kPa, N·m")).to_be_checked()
    assert plate(opened(phone, f"{site_url}boost/")) == worked_out("boost", "boost", "psi", {})


def test_inch_threads_are_tabled_in_pound_feet_until_another_unit_is_picked(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}torque/")
    metric, inch = page.locator("[data-chart] [data-axes]").all()[:2]
    expect(metric).to_contain_text("N·m")
    expect(inch).to_contain_text("lb·ft")
    page.locator('[data-answers] [data-answer="worked_torque"] [data-unit]').select_option("lbft")
    expect(metric).to_contain_text("lb·ft")


def test_a_link_in_millimetres_is_shown_in_inches_and_stays_what_it_was(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/?blower_pulley=88.3mm")
    expect(page.locator("#blower_pulley")).to_have_value("3.476")
    assert plate(page) == worked_out("boost", "boost", "psi", {"blower_pulley": 88.3})
    page.fill("#engine_speed", "5000")
    page.wait_for_url(re.compile("blower_pulley=88.3mm&engine_speed=5000rpm"))


STANDING = """
() => [...document.querySelectorAll("[data-field]")].flatMap((field) => {
  const origin = field.querySelector("[data-origin]")?.textContent ?? "";
  const input = document.getElementById(field.dataset.field);
  return input && !origin.includes("from") ? [[field.dataset.field, input.value]] : [];
})
"""
"""What stands in each entry that no other page filled in."""


def test_every_example_is_shown_as_it_is_worked_with(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    choose(page, site_url, INCHES)
    looked_at = 0
    for each in all_lookups():
        page.goto(f"{site_url}{each.key}/")
        ready(page)
        stand = dict(page.evaluate(STANDING))
        worked_with = {
            field.key: f"{field.in_inches.default:.12g}"
            for field in each.fields
            if isinstance(field, Number) and field.in_inches and field.in_inches.default is not None
        }
        asked = worked_with.keys() & stand.keys()
        looked_at += len(asked)
        assert {key: stand[key] for key in asked} == {key: worked_with[key] for key in asked}
    assert looked_at > 300


def test_a_stepper_moves_by_what_an_inch_shop_steps_by(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/")
    for key, up in (("crank_pulley", "7.15"), ("blower_pulley", "3.75")):
        page.locator(f'[data-field="{key}"] [data-way="1"]').click()
        expect(page.locator(f"#{key}")).to_have_value(up)


def test_a_refusal_names_the_range_in_inches_and_takes_its_ends(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/")
    problem = page.locator("#crank_pulley-problem")
    page.fill("#crank_pulley", "12")
    expect(problem).to_contain_text("This page takes 3.15 to 11.81 in.")
    for end in ("3.15", "11.81"):
        page.fill("#crank_pulley", end)
        expect(problem).to_be_hidden()


def measures(page: Page) -> dict[str, str]:
    """How the two measures of a text are shown."""
    found: dict[str, str] = page.locator("#chord_error-measure").evaluate(
        """text => Object.fromEntries(["metric", "inch"].map((kind) =>
            [kind, getComputedStyle(text.querySelector("." + kind)).display]))"""
    )
    return found


def test_words_state_measures_as_the_shop_reads_them(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}hose-bend/")
    assert measures(page) == {"metric": "inline", "inch": "none"}
    choose(page, site_url, INCHES)
    page = opened(phone, f"{site_url}hose-bend/")
    assert measures(page) == {"metric": "none", "inch": "inline"}


def test_a_link_of_a_metric_shop_stays_what_it_was_and_is_taken_whole(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, INCHES)
    page = opened(phone, f"{site_url}boost/?engine_speed=5000rpm")
    assert plate(page) == worked_out("boost", "boost", "psi", {"engine_speed": 5000.0})
    expect(page.locator("#blower_pulley")).to_have_value("3.622")
