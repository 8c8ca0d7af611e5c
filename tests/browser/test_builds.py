"""Builds: taken over as a job with the same numbers, offline too; as a file; on paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_src.builds import FOLDER, load_builds
from site_src.builds.sheet import BuildSheets
from site_src.face.words import Reading
from tests.browser.test_pages import opened, plate
from tests.browser.test_print import too_wide
from tests.browser.test_truck import ready, whose

SHEETS = {job.address: BuildSheets(job) for job in load_builds()}
PAGES = ("boost", "plan", "fuel", "belt", "belt-route", "loop", "charge-cooling", "hose-run")

every_build = pytest.mark.parametrize("address", SHEETS)


def main_of(sheets: BuildSheets, page: str) -> Reading:
    """Return a page's one large number as the sheets have it."""
    return next(r for r in sheets.readings(page) if r.answer.rank == "main")


def at(phone: BrowserContext, address: str) -> Page:
    """Open a page that is no lookup's."""
    page = phone.new_page()
    page.goto(address)
    return page


def taken(page: Page, site_url: str, address: str) -> Page:
    """Take a build over as the job in hand."""
    page.goto(f"{site_url}builds/{address}/")
    page.get_by_role("button", name="Take it as a job on this phone").click()
    expect(page.locator("[data-taken]")).to_contain_text("is the job in hand now.")
    return page


@every_build
def test_a_build_taken_over_has_the_sheets_numbers_on_every_page(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    page = taken(phone.new_page(), site_url, address)
    for key in PAGES:
        page.goto(f"{site_url}{key}/")
        ready(page)
        assert plate(page) == main_of(SHEETS[address], key).text, key
    page.goto(f"{site_url}boost/")
    ready(page)
    assert whose(page, "blower_pulley") == "yours"
    page.goto(f"{site_url}charge-cooling/")
    ready(page)
    assert whose(page, "coolant_flow") == "from Coolant loop"


def test_it_is_beside_what_is_there_and_the_same_one_is_not_taken_twice(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "86")
    expect(page.locator('[data-field="blower_pulley"]')).to_contain_text("yours")
    page = taken(page, site_url, "gravel-hauler")
    page = taken(page, site_url, "timber-wagon")
    expect(page.locator("[data-taken]")).to_contain_text("“Gravel hauler (example)” is kept")
    page = taken(page, site_url, "gravel-hauler")
    page.goto(f"{site_url}truck/")
    jobs = page.locator("body")
    expect(jobs).to_contain_text("Gravel hauler (example)")
    assert "from a file" not in jobs.inner_text()


def test_it_is_taken_with_no_signal(installing: BrowserContext, site_url: str) -> None:
    page = at(installing, site_url)
    expect(page.locator(".offline-note")).to_contain_text("Works offline now", timeout=60_000)
    installing.set_offline(True)
    page = taken(page, site_url, "timber-wagon")
    page.goto(f"{site_url}holds/")
    expect(page.locator("#blower_oil")).to_contain_text("Example hand")


def test_a_build_file_is_taken_in_as_a_record_is(phone: BrowserContext, site_url: str) -> None:
    page = at(phone, f"{site_url}figures/")
    page.set_input_files("[data-import]", FOLDER / "gravel_hauler.toml")
    expect(page.locator("[data-transfer]")).to_contain_text("added")
    # What a build's page has is what its file has.
    page = taken(page, site_url, "gravel-hauler")
    page.goto(f"{site_url}boost/")
    ready(page)
    assert plate(page) == main_of(SHEETS["gravel-hauler"], "boost").text


def test_a_build_file_with_a_slip_is_refused_with_its_line(
    phone: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    path = tmp_path / "shop.toml"
    path.write_text('name = "Ours"\n[entries]\ngear = = 1\n', encoding="utf-8")
    page = at(phone, f"{site_url}figures/")
    page.set_input_files("[data-import]", path)
    expect(page.locator("[data-transfer]")).to_contain_text(re.compile("line 3", re.IGNORECASE))


@every_build
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_sheet_begins_a_page_and_nothing_is_wider_than_it(
    phone: BrowserContext, site_url: str, tmp_path: Path, address: str, paper: str
) -> None:
    page = at(phone, f"{site_url}builds/{address}/")
    path = tmp_path / "build.pdf"
    page.pdf(path=path, format=paper)
    count = len(re.findall(rb"/Type\s*/Page\b", path.read_bytes()))
    assert 8 <= count <= 13
    assert too_wide(page, paper) == []
