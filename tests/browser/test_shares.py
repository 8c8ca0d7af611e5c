"""The loss of the coolant loop by part, as bars: with scripts as without, and kept current."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, Page

from tests.browser.conftest import NewContext
from tests.browser.test_pages import opened

BARS = "all => all.map(each => each.textContent.replace(/\\s+/g, ' ').trim())"
WIDTHS = "all => all.map(each => each.getAttribute('width'))"


def drawn(page: Page) -> tuple[list[str], list[str]]:
    """The words and the lengths of the bars."""
    words = page.locator("[data-bars] li").evaluate_all(BARS)
    return words, page.locator(".bar-part").evaluate_all(WIDTHS)


def test_bars_are_the_same_with_scripts_and_without_and_follow_a_hose(
    new_phone: NewContext, site_url: str
) -> None:
    still = new_phone(java_script_enabled=False).new_page()
    still.goto(f"{site_url}loop/")
    phone: BrowserContext = new_phone()
    live = opened(phone, f"{site_url}loop/")
    live.wait_for_timeout(150)
    assert drawn(live) == drawn(still)
    live.locator("#loop_runs-1-run_length").fill("9")
    live.locator("#loop_runs-1-run_length").blur()
    live.wait_for_timeout(200)
    words, widths = drawn(live)
    assert any(each.startswith("Hose 2: 3/4 in · 19.0 mm, 9 m") for each in words[:3])
    lengths = [float(each) for each in widths]
    assert lengths == sorted(lengths, reverse=True)
