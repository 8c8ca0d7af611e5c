"""The site on a phone whose server is dead. Only the home page was ever visited."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Error, Page, Response, expect

from tests.browser.conftest import NewContext, installed
from tests.browser.servers import SiteServer, publish

Serve = Callable[[Path], SiteServer]


@pytest.fixture
def phone(installing: BrowserContext) -> BrowserContext:
    """A phone that installs the site."""
    return installing


@pytest.fixture
def dead(site: Path, phone: BrowserContext, serve: Serve) -> str:
    """The address of a site whose home page was visited, and whose server is dead now."""
    server = serve(site)
    page = installed(phone.new_page(), server.url)
    page.close()
    server.kill()
    return server.url


def _open(phone: BrowserContext, url: str) -> tuple[Page, Response]:
    page = phone.new_page()
    response = page.goto(url)
    assert response
    return page, response


def test_every_page_comes_from_the_service_worker_and_runs_its_scripts(
    dead: str, phone: BrowserContext, pages: list[str]
) -> None:
    for address in pages:
        page, response = _open(phone, dead + address)
        assert response.status == 200, address
        assert response.from_service_worker, address
        expect(page.locator("h1")).not_to_be_empty()
        if page.locator("[data-lookup]").count():
            # The scripts open the form once they have read the catalogue and every table.
            expect(page.locator("[data-entries]:not([disabled])")).to_have_count(1)
            # A number, or the words of a page that assumes nothing and waits for its entries.
            said = "[data-value]:not(:empty), [data-silence]:not([hidden]) p:not(:empty)"
            expect(page.locator(said).first).to_be_visible()
        page.close()


def test_with_service_workers_blocked_the_same_phone_has_nothing(
    site: Path, new_phone: NewContext, serve: Serve, pages: list[str]
) -> None:
    phone = new_phone(service_workers="block")
    server = serve(site)
    for address in pages[:3]:
        page, response = _open(phone, server.url + address)
        assert not response.from_service_worker
        page.close()
    server.kill()
    for address in pages:
        with pytest.raises(Error, match="ERR_CONNECTION_REFUSED"):
            phone.new_page().goto(server.url + address)


def test_a_link_with_inputs_a_missing_slash_or_the_file_name_lead_to_the_page(
    dead: str, phone: BrowserContext
) -> None:
    for address in ("boost/?engine_speed=5000rpm", "boost/index.html", "boost/#answers-title"):
        page, response = _open(phone, dead + address)
        assert (response.status, response.from_service_worker) == (200, True)
        assert page.url == dead + address
    page, response = _open(phone, f"{dead}boost?engine_speed=5000rpm")
    assert response.from_service_worker
    assert page.url == f"{dead}boost/?engine_speed=5000rpm"


def test_an_address_that_is_not_there_leads_home_and_that_is_said(
    dead: str, phone: BrowserContext
) -> None:
    page, _ = _open(phone, f"{dead}bost/")
    expect(page.locator(".offline-note")).to_contain_text("There is no page at that address")
    expect(page.locator(".offline-note")).to_be_in_viewport()
    assert page.url == dead
    page.get_by_role("button", name="OK").click()
    page.reload()
    page.wait_for_timeout(300)
    expect(page.locator(".offline-note")).to_be_empty()


def test_every_kept_file_is_the_built_one(dead: str, phone: BrowserContext, site: Path) -> None:
    page, _ = _open(phone, dead)
    lengths = page.evaluate(
        """async () => {
          const [name] = await caches.keys();
          const cache = await caches.open(name);
          const requests = await cache.keys();
          const lengths = {};
          for (const { url } of requests) {
            lengths[url] = (await (await cache.match(url)).arrayBuffer()).byteLength;
          }
          return lengths;
        }"""
    )
    assert len(lengths) > 20
    for url, length in lengths.items():
        name = url.removeprefix(dead)
        path = site / name / "index.html" if name.endswith("/") or not name else site / name
        assert path.stat().st_size == length, name


def test_a_first_look_is_not_kept_and_the_proved_page_in_its_place_is(
    site: Path, phone: BrowserContext, serve: Serve
) -> None:
    url = f"{serve(site).url}stack/"
    proved = (site / "stack" / "index.html").read_text(encoding="utf-8")
    unproved = proved.replace("<html ", "<html data-unproved ")
    phone.route(url, lambda route: route.fulfill(body=unproved, content_type="text/html"), times=1)
    page = phone.new_page()
    page.goto(url)
    page.wait_for_selector("[data-whole][data-settled]")
    page.wait_for_load_state("networkidle")
    kept = "async () => (await navigator.serviceWorker.getRegistrations()).length"
    assert page.locator("html[data-unproved]").count() == 1
    assert page.evaluate(kept) == 0
    page.reload()
    page.evaluate("async () => { await navigator.serviceWorker.ready; }")
    assert page.evaluate(kept) == 1


def test_the_first_install_says_so_once(site: Path, phone: BrowserContext, serve: Serve) -> None:
    server = serve(site)
    page = installed(phone.new_page(), server.url)
    note = page.locator(".offline-note")
    expect(note).to_contain_text("Works offline now")
    note.get_by_role("button", name="OK").click()
    expect(note).to_be_empty()
    again = installed(phone.new_page(), f"{server.url}boost/")
    again.wait_for_timeout(500)
    expect(again.locator(".offline-note")).to_be_empty()


def test_under_a_sub_path_it_works_and_leaves_its_neighbour_alone(
    site: Path, phone: BrowserContext, serve: Serve, tmp_path: Path
) -> None:
    for folder in ("tools/reckoner", "tools/reckoner/second"):
        shutil.copytree(site, tmp_path / folder, dirs_exist_ok=True)
    publish(site, tmp_path / "tools/other", "Other copy")
    server = serve(tmp_path)
    one, other = f"{server.url}tools/reckoner/", f"{server.url}tools/other/"
    installed(phone.new_page(), one)
    page = installed(phone.new_page(), other)
    assert len(page.evaluate("() => caches.keys()")) == 2
    server.kill()
    for url in (one, other):
        page, response = _open(phone, f"{url}boost/")
        assert response.from_service_worker
        page.locator("header a").first.click()
        assert page.url == url


@pytest.mark.parametrize("spoil", ["missing", "altered", "redirected"])
def test_a_file_that_is_not_as_built_fails_the_whole_install(
    spoil: str, site: Path, phone: BrowserContext, serve: Serve, tmp_path: Path
) -> None:
    live = tmp_path / "live"
    shutil.copytree(site, live)
    table = next(iter(sorted((live / "static/tables").glob("*.bin"))))
    if spoil == "altered":
        table.write_bytes(b"\0" * table.stat().st_size)
    else:
        table.unlink()
    if spoil == "redirected":
        # A folder of that name: the server redirects to the address with a slash.
        table.mkdir()
        (table / "index.html").write_text("here instead")
    server = serve(live)
    page = phone.new_page()
    page.goto(server.url)
    state = page.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.getRegistration()
            ?? await navigator.serviceWorker.register("sw.js");
          const worker = registration.installing ?? registration.waiting ?? registration.active;
          if (!worker) return "gone";
          if (worker.state === "redundant" || worker.state === "activated") return worker.state;
          return new Promise((resolve) => worker.addEventListener("statechange", () => {
            if (worker.state !== "installed") resolve(worker.state);
          }));
        }"""
    )
    assert state in ("redundant", "gone")
    assert page.evaluate("() => navigator.serviceWorker.controller") is None


def test_a_page_and_tables_of_different_versions_do_not_compute(
    site: Path, new_phone: NewContext, serve: Serve, tmp_path: Path
) -> None:
    live = tmp_path / "live"
    publish(site, live, "Mixed")
    common = Path("static", "lookups", "common.json")
    shutil.copy(site / common, live / common)
    server = serve(live)
    page = new_phone(service_workers="block").new_page()
    page.goto(f"{server.url}boost/")
    silence = page.locator("[data-silence]")
    expect(silence).to_be_visible()
    expect(silence).to_contain_text(re.compile("version", re.IGNORECASE))
    expect(page.locator("[data-value]")).to_be_empty()
    versions = {json.loads((s / common).read_text())["version"] for s in (site, live)}
    assert len(versions) == 1
