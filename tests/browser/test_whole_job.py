"""A whole job with no server and a battery that dies ten times: from a new truck to the record."""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import partial
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.conftest import installed
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer
from tests.browser.test_holds import BEFORE_KEY, FINISHED, PUT, card, go, sign
from tests.browser.test_job_record import part, record_of
from tests.browser.test_one_store import sheet
from tests.browser.test_pages import ready
from tests.browser.test_print import PAGE
from tests.browser.test_truck import kept, unfold

KILLS = 10

ENTRIES = {
    "blower_pulley": "84",
    "crank_pulley": "182",
    "engine_speed": "5900",
    "limiter_speed": "6300",
    "altitude": "450",
    "engine_displacement": "5.4",
    "blower_displacement": "2.4",
}

Deed = Callable[[Page, str], None]


def enter(key: str, value: str, page: Page, url: str) -> None:
    """Enter one thing of the truck, and see that it is kept."""
    page.goto(f"{url}boost/")
    ready(page)
    unfold(page)
    page.fill(f"#{key}", value)
    page.locator(f"#{key}").blur()
    kept(page)


def look_up_a_figure(page: Page, url: str) -> None:
    """Keep what a maker's sheet says."""
    page.goto(f"{url}figures/")
    page.locator("[data-keep]:not([disabled])").wait_for()
    sheet(page, "rotor", {"rotor_limit": "15000"}, source="Sheet 3", page="4")


def tighten(page: Page, url: str) -> None:
    """Finish the map; how one is gone through is tested with the map."""
    go(page, url)
    page.evaluate(PUT, ["maps", FINISHED])


def sign_point(key: str, page: Page, url: str) -> None:
    """Sign a hold point."""
    go(page, url)
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true })")
    sign(page, key, who="Jo")


DEEDS: tuple[Deed, ...] = (
    *(partial(enter, key, value) for key, value in ENTRIES.items()),
    look_up_a_figure,
    tighten,
    *(partial(sign_point, key) for key in BEFORE_KEY),
)


def test_from_a_new_truck_to_ready_and_the_record_killed_ten_times(
    site: Path,
    serve: Callable[[Path], SiteServer],
    mortal: MortalPhone,
) -> None:
    server = serve(site)
    with mortal.on() as phone:
        installed(phone.new_page(), server.url)
    server.kill()
    after = sorted(random.Random(11).sample(range(1, len(DEEDS)), KILLS))
    start = 0
    for end in (*after, len(DEEDS)):
        with mortal.on() as phone:
            page = phone.new_page()
            for deed in DEEDS[start:end]:
                deed(page, server.url)
            mortal.kill()
        start = end
    with mortal.on() as phone:
        page = phone.new_page()
        go(page, server.url, "pre-start/")
        expect(page.locator("[data-word]")).to_have_text("READY")
        record_of(page, server.url)
        expect(page.locator("[data-ready]")).to_have_text("READY")
        truck = part(page, "truck")
        for value in ENTRIES.values():
            shown = f"{float(value):,.6g}" if "." in value else f"{int(value):,}"
            expect(truck).to_contain_text(shown)
        expect(truck.locator("li", has_text="15,000").first).to_contain_text("the maker's, page 4")
        expect(part(page, "maps")).to_contain_text("Lid")
        assert 2 <= len(PAGE.findall(page.pdf(format="A4"))) <= 6
        go(page, server.url)
        for key in BEFORE_KEY:
            expect(card(page, key)).to_contain_text("Signed by Jo")
