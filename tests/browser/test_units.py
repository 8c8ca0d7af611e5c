"""One choice of units for the whole app, and single units that win over it."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.test_pages import figure, plate, worked_out
from tests.browser.test_plan import opened


def choose(page: Page, site_url: str, label: str) -> None:
    """Pick a system on the front page."""
    page.goto(site_url)
    page.get_by_label(label).check()


def test_inches_chosen_once_are_used_on_every_page(phone: BrowserContext, site_url: str) -> None:
    choose(phone.new_page(), site_url, "in, psi, lb·ft")
    page = opened(phone, f"{site_url}boost/")
    assert plate(page) == worked_out("boost", "boost", "psi", {})
    expect(page.locator("#blower_pulley")).to_have_value("3.622")
    expect(page.locator('[data-field="blower_pulley"] [data-echo]')).to_have_text(
        "3.622 in · 92 mm"
    )
    assert figure(page, "charge_temperature") == worked_out("boost", "charge_temperature", "F", {})
    torque = opened(phone, f"{site_url}torque/")
    assert figure(torque, "clamp_load") == worked_out("torque", "clamp_load", "lbf", {})


def test_the_set_up_is_the_same_one_and_the_address_says_nothing(
    phone: BrowserContext, site_url: str
) -> None:
    choose(phone.new_page(), site_url, "in, psi, lb·ft")
    page = opened(phone, f"{site_url}boost/")
    page.fill("#engine_speed", "5000")
    page.wait_for_url(re.compile("engine_speed"))
    assert page.url.endswith("boost/?engine_speed=5000rpm")
    assert plate(page) == worked_out("boost", "boost", "psi", {"engine_speed": 5000.0})
    # Each table marks one row as the set-up's own.
    expect(page.locator("[data-chart] tr.current")).to_have_count(2)


def test_a_unit_that_was_picked_by_itself_wins(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator("[data-plate] [data-unit]").select_option("bar")
    expect(page.locator("[data-plate] [data-unit]")).to_have_value("bar")
    choose(page, site_url, "in, psi, lb·ft")
    expect(page.locator("[data-picked]")).to_contain_text("stay as they are: 1.")
    page = opened(phone, f"{site_url}boost/")
    assert plate(page) == worked_out("boost", "boost", "bar", {})
    page.locator('[data-field="blower_pulley"] [data-unit]').select_option("mm")
    expect(page.locator("#blower_pulley")).to_have_value("92")
    page.reload()
    expect(page.locator("#blower_pulley")).to_have_value("92")
    expect(page.locator("#crank_pulley")).to_have_value("7.087")


def test_the_choice_is_kept_and_can_be_undone(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    choose(page, site_url, "in, psi, lb·ft")
    page.reload()
    expect(page.get_by_label("in, psi, lb·ft")).to_be_checked()
    choose(page, site_url, "mm, kPa, N·m")
    assert plate(opened(phone, f"{site_url}boost/")) == worked_out("boost", "boost", "kPa", {})
    choose(page, site_url, "in, psi, lb·ft")
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
    choose(phone.new_page(), site_url, "in, psi, lb·ft")
    page = opened(phone, f"{site_url}boost/?blower_pulley=88.3mm")
    expect(page.locator("#blower_pulley")).to_have_value("3.476")
    assert plate(page) == worked_out("boost", "boost", "psi", {"blower_pulley": 88.3})
    page.fill("#engine_speed", "5000")
    page.wait_for_url(re.compile("blower_pulley=88.3mm&engine_speed=5000rpm"))
