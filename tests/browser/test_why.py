"""How a number is worked out: brought to the page when asked for, with this truck's numbers."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from tests.browser.conftest import NewContext
from tests.browser.test_pages import KEYS, figure, opened


def _asked(page: Page) -> None:
    page.locator("[data-why-way]").click()


def test_formulas_have_the_numbers_of_the_set_up_and_follow_it(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}torque/?torque_k=0.15")
    _asked(page)
    filled = page.locator('[data-why-answer="worked_torque"] [data-filled]')
    for thread in ("M8x1.25", "M12x1.75"):
        page.select_option("#thread", thread)
        shown = page.locator("[data-value]").inner_text()
        expect(filled).to_have_text(re.compile(re.escape(shown)))
    # In reach of a finger or of a keyboard: the first is asked for next.
    expect(page.locator("[data-why-body] summary").first).to_be_focused()


@pytest.mark.parametrize("fault", ["lost", "other version", "not there"])
def test_formulas_that_cant_be_had_are_said_and_can_be_asked_for_again(
    fault: str, phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    before = figure(page, "boost")

    def spoil(route: Route) -> None:
        if fault == "lost":
            route.abort()
        elif fault == "not there":
            route.fulfill(status=404, body="no such page")
        else:
            version = r'"bay-version" content="\w+"'
            text = re.sub(version, '"bay-version" content="other"', route.fetch().text())
            route.fulfill(body=text, content_type="text/html")

    page.route("**/boost/why/", spoil)
    _asked(page)
    expect(page.locator("[data-why-problem]")).to_contain_text("could not be loaded")
    expect(page.locator("[data-why-body]")).to_have_count(0)
    assert figure(page, "boost") == before
    page.unroute("**/boost/why/")
    _asked(page)
    expect(page.locator("[data-why-body]")).to_be_visible()
    expect(page.locator("[data-why-problem]")).to_be_hidden()


def test_no_formula_is_wider_than_a_small_phone_with_large_letters(
    new_phone: NewContext, site_url: str
) -> None:
    phone = new_phone(viewport={"width": 320, "height": 640})
    page = phone.new_page()
    wide = []
    for key in KEYS:
        page.goto(f"{site_url}{key}/why/")
        wide += page.evaluate(
            """(key) => {
              document.documentElement.style.fontSize = "200%";
              for (const each of document.querySelectorAll("details")) each.open = true;
              const found = [...document.querySelectorAll("[data-why-body] *")].filter(
                (each) => each.getBoundingClientRect().right > innerWidth + 0.5);
              return found.map((each) => `${key}: ${each.textContent.slice(0, 60)}`);
            }""",
            key,
        )
    assert wide == []
