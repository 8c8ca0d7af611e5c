"""The wiring list: judged by a person's own circuits alone, each row as the page has it."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, expect

from site_src.lookups import lookup
from tests.browser.test_pages import opened

WIRE = lookup("wire")


def test_a_row_of_the_list_is_what_the_page_says_of_that_circuit(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}wire/")
    expect(page.locator("[data-each-example]")).to_contain_text("Example list")
    page.locator("details", has_text="The whole harness").locator("summary").first.click()
    row = page.locator("[data-rows] > [data-row]").first
    row.get_by_label("Current", exact=True).fill("16")
    expect(page.locator("[data-each-example]")).to_be_empty()
    alone = WIRE.evaluate({"load_current": 16.0, "feed_length": 3.5, "wire": "mm6"})
    listed = page.locator("[data-each] tbody tr").first
    expect(listed).to_contain_text(f"{alone['load_voltage']:.2f}")
    expect(listed).to_contain_text("beyond")
    page.wait_for_url(re.compile(r"circuits"))
    page.reload()
    expect(page.locator("[data-each] tbody tr").first).to_contain_text("16 A")
    expect(page.locator("[data-each-example]")).to_be_empty()


def test_the_list_prints_with_columns_for_a_pen(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}wire/")
    pens = page.locator("[data-each] thead .write-in")
    expect(pens.first).to_be_hidden()
    page.emulate_media(media="print")
    expect(pens).to_have_text(["Colour", "Relay", "Done"])
    expect(pens.first).to_be_visible()
