"""Lists that are ticked: kept with the job, brought back, never ticked by the page itself."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, Page, expect

from site_src.lookups import lookup
from tests.browser.test_pages import opened

MOUNT, FILL = lookup("loop").views.procedures


def ticked(page: Page) -> int:
    """How many actions are ticked."""
    return page.locator("[data-tick]:checked").count()


def test_what_is_done_is_kept_with_the_job_told_to_other_tabs_and_can_be_brought_back(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}loop/")
    beside = opened(phone, f"{site_url}loop/")
    assert ticked(page) == 0
    mount = page.locator("[data-ticks]").first
    counts = mount.locator("[data-ticks-count]")
    expect(counts).to_have_text(f"{len(MOUNT.actions)} to do")
    for name in ("flooded", "arrow"):
        mount.locator(f'.tick:has([data-tick="{name}"])').click()
    expect(counts).to_have_text(f"2 of {len(MOUNT.actions)} done")
    expect(page.locator("[data-kept-state]")).to_contain_text("ept")
    expect(beside.locator('[data-tick="arrow"]')).to_be_checked()
    page.reload()
    expect(page.locator('[data-tick="flooded"]')).to_be_checked()
    expect(page.locator('[data-tick="safe"]')).not_to_be_checked()
    expect(page.locator("[data-tick-when]").nth(1)).not_to_be_empty()
    mount.get_by_role("button", name="Clear these ticks").click()
    expect(page.locator("[data-tick]:checked")).to_have_count(0)
    mount.get_by_role("button", name="Bring them back").click()
    expect(page.locator("[data-tick]:checked")).to_have_count(2)
    # A tick that is taken off is off, and the other list is a list of its own.
    mount.locator('.tick:has([data-tick="arrow"])').click()
    expect(counts).to_have_text(f"1 of {len(MOUNT.actions)} done")
    expect(page.locator("[data-ticks-count]").last).to_have_text(f"{len(FILL.actions)} to do")


def test_another_job_has_ticks_of_its_own(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}loop/")
    page.locator('.tick:has([data-tick="tight"])').click()
    expect(page.locator("[data-kept-state]")).to_contain_text("ept")
    page.evaluate(
        """async () => {
          const modules = globalThis.bayReckonerModules;
          await modules["record/jobs.js"].takeUp("The other one");
        }"""
    )
    page.reload()
    expect(page.locator("[data-tick]:checked")).to_have_count(0)
    expect(page.locator('[data-tick="tight"]')).to_be_enabled()
