"""The first runs on a phone: a long log read offline, what it says, what is kept or refused."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path
from random import Random

import numpy as np
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests import mutated
from tests.browser.conftest import NewContext, installed
from tests.browser.servers import SiteServer
from tests.browser.test_pages import ready
from tests.browser.test_print import PRINTED
from tests.browser.test_typed_anything import LISTEN
from tests.lookups.made_runs import Run, drive, faulty, truck_of

OWN = {
    "engine_displacement": "5.6",
    "blower_displacement": "2.6",
    "blower_pulley": "92",
    "crank_pulley": "180",
}

LONG_TASKS = """
() => {
  window.longest = 0;
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries())
      window.longest = Math.max(window.longest, duration);
  }).observe({ type: "longtask", buffered: false });
}
"""


def slipping() -> Run:
    rng = np.random.default_rng(5)
    return drive(faulty(truck_of(rng), "slip", rng), rng)


def log_of(run: Run, rows: int, folder: Path) -> Path:
    """A log with so many rows: idle and cruising, and in the middle a pull of 400 rows."""
    rng = np.random.default_rng(1)
    start = rows // 2
    lines = ["Time (s);Engine RPM;Boost (psi);TPS;Charge Temp (°F);Blower RPM;Inj Duty;Batt"]
    for n in range(rows):
        if start <= n < start + 400:
            rpm = 2300 + 3900 * (n - start) / 399
            boost, charge, pulley = (
                np.interp(rpm, run.speeds, run.read[key])
                for key in ("run_boost", "run_charge", "run_pulley")
            )
            throttle, duty = 99.5, 40 + rpm / 200
        else:
            rpm, boost, charge, pulley = 1500 + 300 * np.sin(n / 900), -3e4, 315.0, 40.0
            throttle, duty = 12.0, 6.0
        values = (
            n / 50,
            rpm + 8 * rng.normal(),
            boost / 6894.757,
            throttle,
            charge * 1.8 - 459.67,
            60 * pulley,
            duty,
            13.9,
        )
        lines.append(";".join(f"{value:.2f}".replace(".", ",") for value in values))
    path = folder / "pull three.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def own_truck(page: Page, url: str) -> None:
    """Enter the truck that the runs are made of, as one's own."""
    page.goto(f"{url}boost/")
    ready(page)
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
    for key, text in OWN.items():
        box = page.locator(f"#{key}")
        # The same text as shown would be no entry of his.
        box.fill("1")
        box.fill(text)
        box.blur()
    expect(page.locator("[data-kept-state]")).to_have_text("kept")


def runs_page(page: Page, url: str) -> Page:
    page.goto(f"{url}first-runs/")
    expect(page.locator("[data-runs-page][data-ready]")).to_have_count(1)
    return page


def read_log(page: Page, path: Path) -> None:
    page.locator("[data-log]").set_input_files(path)
    expect(page.locator("[data-mapping]")).to_be_visible(timeout=120_000)
    page.locator("[data-read]").click()
    expect(page.locator("[data-finding]")).to_be_visible(timeout=60_000)


def read_on(phone: BrowserContext, url: str, path: Path) -> Page:
    """Read a log on a phone on which one's own truck has been entered."""
    page = phone.new_page()
    own_truck(page, url)
    runs_page(page, url)
    read_log(page, path)
    return page


@pytest.fixture
def quiet(new_phone: NewContext) -> BrowserContext:
    return new_phone()


def test_a_hundred_thousand_rows_are_read_offline_without_a_frozen_screen(
    site: Path, installing: BrowserContext, serve: Callable[[Path], SiteServer], tmp_path: Path
) -> None:
    server = serve(site)
    installed(installing.new_page(), server.url).close()
    server.kill()
    page = installing.new_page()
    own_truck(page, server.url)
    runs_page(page, server.url)
    path = log_of(slipping(), 100_000, tmp_path)
    page.evaluate(LONG_TASKS)
    read_log(page, path)
    expect(page.locator("[data-finding-title]")).to_have_text("The belt slips")
    longest = page.evaluate("window.longest")
    print(f"longest task {longest:.0f} ms, load {os.getloadavg()[0]:.1f}")
    assert longest < 1000
    expect(page.locator("[data-log-words]")).to_contain_text("100,000")
    expect(page.locator("[data-rows-words]")).to_contain_text("from one pull")


def test_columns_are_remembered_for_a_log_with_the_same_heads(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = quiet.new_page()
    own_truck(page, site_url)
    runs_page(page, site_url)
    path = log_of(slipping(), 1200, tmp_path)
    page.locator("[data-log]").set_input_files(path)
    expect(page.locator("[data-mapping-words]")).to_contain_text("A guess")
    duty = page.locator('[data-channel="run_duty"] [data-column]')
    expect(duty).to_have_value("6")
    duty.select_option("-1")
    page.locator("[data-read]").click()
    expect(page.locator("[data-verdict]")).to_have_text(re.compile("Sure|Likely"))
    page.reload()
    runs_page(page, site_url)
    page.locator("[data-log]").set_input_files(path)
    expect(page.locator("[data-mapping-words]")).to_contain_text("same columns before")
    expect(duty).to_have_value("-1")


def test_a_run_is_kept_with_the_job_and_shown_again_after_a_reload(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = read_on(quiet, site_url, log_of(slipping(), 1200, tmp_path))
    page.locator("[data-keep]").click()
    expect(page.locator("[data-kept-words]")).to_contain_text("Kept with")
    runs_page(page, site_url)
    card = page.locator("[data-kept-list] li")
    expect(card).to_have_count(1)
    expect(card).to_contain_text("The belt slips")
    expect(card).to_contain_text("pull three.csv")
    card.get_by_role("button", name="Show it again").click()
    expect(page.locator("[data-finding-title]")).to_have_text("The belt slips")
    card.get_by_role("button", name="Take it out").click()
    expect(card).to_have_count(0)
    page.get_by_role("button", name="Bring it back").click()
    expect(card).to_have_count(1)


def test_nothing_is_judged_against_an_example_truck(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = runs_page(quiet.new_page(), site_url)
    read_log(page, log_of(slipping(), 1200, tmp_path))
    expect(page.locator("[data-verdict]")).to_have_text("Not judged")
    expect(page.locator("[data-finding-words]")).to_contain_text("crank pulley")
    expect(page.locator("[data-causes] li")).to_have_count(0)


def test_a_calibration_is_offered_and_taken_only_by_a_tap_with_a_way_back(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    rng = np.random.default_rng(3)
    page = read_on(quiet, site_url, log_of(drive(truck_of(rng), rng), 1200, tmp_path))
    expect(page.locator("[data-verdict]")).to_have_text("Nothing found")
    offer = page.locator("[data-offers-list] button").first
    text = offer.inner_text()
    offer.click()
    page.get_by_role("button", name="Back to before").click()
    expect(page.locator("[data-offers-list] button").first).to_have_text(text)
    page.locator("[data-offers-list] button").first.click()
    expect(page.locator("[data-kept-state]")).to_have_text("kept")
    runs_page(page, site_url)
    page.goto(f"{site_url}boost/")
    ready(page)
    number = re.findall(r"\d+", text)[0]
    values = [
        page.locator(f"#{key}").input_value() for key in ("engine_efficiency", "effectiveness")
    ]
    assert number in values


BAD = {
    "picture.csv": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 100,
    "letter.txt": b"Dear customer,\nplease find enclosed nothing.\n" * 20,
    "empty.csv": b"",
    "large.csv": b"1,2,3\n" * 9_000_000,
}


def test_what_is_no_log_is_refused_in_words_and_what_was_read_stays(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = read_on(quiet, site_url, log_of(slipping(), 1200, tmp_path))
    for name, content in BAD.items():
        path = tmp_path / name
        path.write_bytes(content)
        page.locator("[data-log]").set_input_files(path)
        problem = page.locator("[data-log-problem]")
        expect(problem).to_be_visible(timeout=30_000)
        assert len(problem.inner_text().split()) > 4, name
        expect(page.locator("[data-finding-title]")).to_have_text("The belt slips")


LOGS = max(6, mutated.FUZZ // 100)
"""Spoilt logs that are read on the page: more of them are read in Node, which is quicker."""

TOLD = """
() => {
  const shown = (selector) => document.querySelector(selector)?.checkVisibility() ?? false;
  return shown("[data-log-problem]") || shown("[data-mapping]");
}
"""


def test_a_spoilt_log_is_read_or_refused_and_says_nothing_that_is_no_number(
    quiet: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    quiet.add_init_script(LISTEN)
    page = quiet.new_page()
    own_truck(page, site_url)
    runs_page(page, site_url)
    log = log_of(slipping(), 300, tmp_path).read_text(encoding="utf-8")
    chance = Random(f"{mutated.SEED} logs on the page")
    for _ in range(LOGS):
        text = mutated.text(log, chance)
        page.evaluate(
            "document.querySelectorAll('[data-log-problem], [data-mapping]')"
            ".forEach((each) => { each.hidden = true; })"
        )
        file = {"name": "log.csv", "mimeType": "text/csv", "buffer": text.encode()}
        page.locator("[data-log]").set_input_files(files=[file])  # type: ignore[list-item]
        page.wait_for_function(TOLD)
        if page.locator("[data-mapping]").is_visible() and page.locator("[data-read]").is_enabled():
            page.locator("[data-read]").click()
            page.wait_for_timeout(150)
        assert not page.evaluate("window.typedAnything.errors"), text[:500]
        words = page.locator("main").inner_text()
        assert not re.search(r"\bNaN\b|Infinity|undefined|\[object|Invalid Date", words), text[:500]


def test_a_run_prints_on_one_page(quiet: BrowserContext, site_url: str, tmp_path: Path) -> None:
    page = read_on(quiet, site_url, log_of(slipping(), 1200, tmp_path))
    for paper in ("A4", "Letter"):
        pages = re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format=paper))
        assert len(pages) == 1, paper
    # As it is laid out on the phone: turning it into a wide window would lay it out anew.
    page.emulate_media(media="print")
    tables = page.evaluate(
        "() => [...document.querySelectorAll('main table')]"
        ".filter((each) => each.checkVisibility())"
        ".map((each) => each.getBoundingClientRect().width)"
    )
    assert tables
    assert max(tables) <= PRINTED["A4"]
