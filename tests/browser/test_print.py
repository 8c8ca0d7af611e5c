"""On paper, A4 and Letter: one page for a lookup, with every entry and answer whole.

A list that is ticked at the truck is a page of its own.
"""

from __future__ import annotations

import re

from playwright.sync_api import Browser, Page

from site_src.lookups import all_lookups

READY = "() => [...document.querySelectorAll('[data-entries]')].every((each) => !each.disabled)"
PAGE = re.compile(rb"/Type\s*/Page[^s]")

CUT = """
() => [
  ...document.querySelectorAll("main :is(.plate-number, .answer-number, .lesser-number, input)"),
].filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 2)
  .map((each) => each.id || each.textContent.trim())
"""


WIDE = """
() => [...document.querySelectorAll("main *")].filter((each) => each.getClientRects().length
  && each.getBoundingClientRect().right > innerWidth + 1)
  .map((each) => each.outerHTML.slice(0, 80))
"""

SMALL = """
(least) => [...document.querySelectorAll("main *")]
  .filter((each) => !each.closest("svg, sub, sup, option") && each.checkVisibility()
    && [...each.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()))
  .map((each) => [each, parseFloat(getComputedStyle(each).fontSize) * each.currentCSSZoom * 0.75])
  .filter(([, points]) => points < least - 0.01)
  .map(([each, points]) => `${points.toFixed(1)} pt: ${each.textContent.trim().slice(0, 40)}`)
"""
"""Texts that are set smaller than so many points."""

LEAST_POINTS = 6.0
"""The smallest letters on paper: those of notes at the foot of a page. Common practice."""

PRINTED = {"A4": 710, "Letter": 732}
"""Width between the margins of a paper, in CSS pixels."""


def too_wide(page: Page, paper: str) -> list[str]:
    """Return what is printed beyond the right edge of a paper."""
    page.set_viewport_size({"width": PRINTED[paper], "height": 1000})
    page.emulate_media(media="print")
    found: list[str] = page.evaluate(WIDE)
    return found


def test_a_lookup_is_one_page_on_a4_and_letter_and_nothing_on_it_is_cut(
    browser: Browser, site_url: str
) -> None:
    page = browser.new_context(service_workers="block", locale="en-GB").new_page()
    found: list[str] = []
    for key in (each.key for each in all_lookups()):
        page.goto(f"{site_url}{key}/")
        page.wait_for_function(READY)
        # What is cut out to be laid on the hose has pages of its own, in true size.
        page.evaluate("document.querySelector('.template')?.remove()")
        # So has a list to be ticked at the truck: one sheet more.
        sheets = 1 + page.evaluate("Math.min(document.querySelectorAll('[data-ticks]').length, 1)")
        for paper in ("A4", "Letter"):
            count = len(PAGE.findall(page.pdf(format=paper)))
            if count != sheets:
                found.append(f"{key}: {count} pages of {paper}")
        page.set_viewport_size({"width": PRINTED["A4"], "height": 1000})
        page.emulate_media(media="print")
        found += [f"{key}: {each} is cut" for each in page.evaluate(CUT)]
        found += [f"{key}: {each}" for each in page.evaluate(SMALL, LEAST_POINTS)]
        page.emulate_media(media="null")
    page.context.close()
    assert not found, "\n".join(found)
