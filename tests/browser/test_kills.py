"""Killed at any moment: the server, the browser or the tab; what was shown as there is there.

The browser is killed a few times by default; the server and the tab too, and all of them more
often, where the environment variable BAY_KILLS says how often.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Error, Page, expect

from tests.browser.conftest import installed
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer, publish, start_server, version_of
from tests.browser.test_pages import opened, plate, ready, worked_out
from tests.browser.test_tightening import APART, READY, SMALL
from tests.browser.test_truck import KILLS

FEW = max(1, KILLS // 6)

DEEP = "BAY_KILLS" in os.environ


def kinds(*all_of_them: str) -> tuple[str, ...]:
    """Return what is killed: the first by default."""
    return all_of_them if DEEP else all_of_them[:1]


SOME = ("", "torque/", "tightening/", "first-runs/")
"""Pages of each kind."""


@pytest.fixture
def servers() -> Iterator[Callable[..., SiteServer]]:
    """Start servers on one port, one after the other."""
    running: list[SiteServer] = []

    def start(folder: Path, port: int = 0) -> SiteServer:
        running.append(start_server(folder, port))
        return running[-1]

    yield start
    for server in running:
        server.kill()


def port_of(server: SiteServer) -> int:
    """Return the port that a server has."""
    return int(server.url.rsplit(":", 1)[1].strip("/"))


def works(phone: BrowserContext, url: str, versions: set[str]) -> str:
    """With no server: see that the site is there, all of one version, and return which.

    Nothing at all is the empty text; anything in between fails.
    """
    page = phone.new_page()
    try:
        page.goto(url)
    except Error:
        page.close()
        for address in SOME:
            page = phone.new_page()
            with pytest.raises(Error, match="ERR_CONNECTION_REFUSED"):
                page.goto(url + address)
            page.close()
        return ""
    found = set()
    for address in SOME:
        response = page.goto(url + address)
        assert response
        assert response.from_service_worker
        found.add(page.locator('meta[name="bay-version"]').get_attribute("content"))
        assert page.locator("html[data-stopped]").count() == 0
    assert len(found) == 1
    assert found <= versions
    page.goto(f"{url}boost/?blower_pulley=88mm")
    ready(page)
    assert plate(page) == worked_out("boost", "boost", "kPa", {"blower_pulley": 88.0})
    page.close()
    return str(found.pop())


@pytest.mark.parametrize("what", kinds("browser", "server", "tab"))
def test_killed_while_it_installs_the_site_is_whole_or_not_there(
    what: str,
    live: Path,
    servers: Callable[..., SiteServer],
    mortal: MortalPhone,
) -> None:
    chance = random.Random(f"install {what}")
    version = version_of(live)
    server = servers(live)
    url, port = server.url, port_of(server)
    for _ in range(FEW):
        with mortal.on() as phone:
            page = phone.new_page()
            page.goto(url)
            page.wait_for_timeout(chance.uniform(0, 700))
            if what == "browser":
                mortal.kill()
            elif what == "server":
                server.kill()
                page.wait_for_timeout(300)
            else:
                mortal.kill_tabs()
        if what != "server":
            server.kill()
        with mortal.on() as phone:
            there = works(phone, url, {version})
            if there:
                # Begun anew, so that the next is killed on its way too.
                page = phone.new_page()
                page.goto(url)
                page.evaluate(
                    """async () => {
                      await (await navigator.serviceWorker.getRegistration()).unregister();
                      for (const name of await caches.keys()) await caches.delete(name);
                    }"""
                )
        server = servers(live, port)
    with mortal.on() as phone:
        installed(phone.new_page(), url)
        server.kill()
        assert works(phone, url, {version}) == version


@pytest.mark.parametrize("what", kinds("browser", "server"))
def test_killed_while_it_is_brought_up_to_date_the_site_is_of_one_version(
    what: str,
    site: Path,
    live: Path,
    servers: Callable[..., SiteServer],
    mortal: MortalPhone,
) -> None:
    chance = random.Random(f"update {what}")
    versions = {version_of(live)}
    server = servers(live)
    url, port = server.url, port_of(server)
    with mortal.on() as phone:
        installed(phone.new_page(), url)
    for n in range(FEW):
        versions.add(publish(site, live, f"Version {n}"))
        with mortal.on() as phone:
            page = phone.new_page()
            page.goto(url)
            page.evaluate(
                "() => { navigator.serviceWorker.getRegistration().then((one) => one.update())"
                ".catch(() => {}); }"
            )
            page.wait_for_timeout(chance.uniform(0, 900))
            if chance.random() < 0.5:
                load_it = page.get_by_role("button", name="Load it")
                if load_it.count():
                    load_it.click(no_wait_after=True)
                    page.wait_for_timeout(chance.uniform(0, 60))
            if what == "browser":
                mortal.kill()
            else:
                server.kill()
                page.wait_for_timeout(300)
        if what == "browser":
            server.kill()
        with mortal.on() as phone:
            assert works(phone, url, versions)
        server = servers(live, port)
    with mortal.on() as phone:
        page = installed(phone.new_page(), url)
        page.evaluate("async () => { await (await navigator.serviceWorker.ready).update(); }")
        if page.title() != f"Version {FEW - 1}":
            page.get_by_role("button", name="Load it").click()
        expect(page).to_have_title(f"Version {FEW - 1}")
        server.kill()
        assert works(phone, url, {version_of(live)})


@pytest.mark.parametrize("what", kinds("tab", "browser"))
def test_killed_while_bolts_are_ticked_every_tick_that_was_shown_is_there(
    what: str, site: Path, servers: Callable[..., SiteServer], mortal: MortalPhone
) -> None:
    chance = random.Random(f"map {what}")
    url = servers(site).url
    query = "&".join(f"{key}={value}" for key, value in READY.items())
    shown = 0
    place = f"{url}tightening/?pattern=grid&rows=3&columns=12&{SMALL.split('&', 3)[3]}&{query}"
    with mortal.on() as phone:
        page = phone.new_page()
        page.goto(place)
        page.locator("[data-entries]:not([disabled])").wait_for()
        page.locator("[data-start]").click()
        page.wait_for_timeout(APART)
        page.locator("[data-confirm]").click()
        expect(page.locator("[data-screen-count]")).to_contain_text("0 of 36")
        page.wait_for_timeout(APART)
        place = page.url
    for _ in range(min(2 * FEW, 15)):
        with mortal.on() as phone:
            page = phone.new_page()
            page.goto(place)
            expect(page.locator("[data-bolt-screen]")).to_be_visible()
            there = count(page)
            assert shown <= there <= shown + 1
            shown = there
            page.wait_for_timeout(APART)
            for _ in range(2):
                page.locator("[data-confirm]").click()
                page.wait_for_timeout(chance.choice((0, 5, 20, 60, APART)))
                shown = max(shown, count(page))
                if chance.random() < 0.5:
                    break
                page.wait_for_timeout(APART)
            if what == "browser":
                mortal.kill()
            else:
                mortal.kill_tabs()


def count(page: Page) -> int:
    """How many bolts are shown as done."""
    return int(page.locator("[data-screen-count]").inner_text().split()[0])


def test_a_tab_that_crashes_loses_no_entry_that_was_shown_as_kept(
    site: Path, servers: Callable[..., SiteServer], mortal: MortalPhone
) -> None:
    chance = random.Random("tab")
    url = servers(site).url
    kept = ""
    with mortal.on() as phone:
        for n in range(3 * FEW):
            page = opened(phone, f"{url}boost/")
            if kept:
                assert float(page.input_value("#blower_pulley")) >= float(kept)
            value = f"{60 + n}"
            page.fill("#blower_pulley", value)
            page.wait_for_timeout(chance.uniform(0, 60))
            if page.locator("[data-job-line]").get_attribute("data-state") == "kept":
                kept = value
            mortal.kill_tabs()
