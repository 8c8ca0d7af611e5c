"""A new version is offered, taken when asked for, and never pushed under someone's hands."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_src.publish.offline import PACK
from tests.browser.conftest import installed
from tests.browser.servers import MISTYPED, SiteServer, publish, start_server

Serve = Callable[[Path], SiteServer]

LOOK = "async () => { await (await navigator.serviceWorker.getRegistration()).update(); }"
# A look that meets another one on its way shares its outcome: look until the third is there.
THIRD_WAITS = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  const kept = (await caches.keys()).filter((name) => name.startsWith("bay-reckoner "));
  return kept.length === 3 && registration.waiting && !registration.installing;
}"""
# The worker of the page's own version was put in place of one that doesn't answer.
OWN_WAITS = """async () => {
  const { waiting, installing } = await navigator.serviceWorker.getRegistration();
  return !installing && Boolean(waiting?.scriptURL.includes("/worker-"));
}"""
READY = "New version ready"
FAILED = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  const over = new Promise((resolve) => {
    registration.addEventListener("updatefound", () => {
      const worker = registration.installing;
      worker.addEventListener("statechange", () => resolve(worker.state));
    }, { once: true });
  });
  await registration.update();
  return over;
}"""
"""Look for a new version, and say what became of its worker."""


@pytest.fixture
def phone(installing: BrowserContext) -> BrowserContext:
    """A phone that installs the site."""
    return installing


@pytest.fixture(scope="module")
def site(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A few pages of the site: a version is put in another's place in the same way."""
    few = tmp_path_factory.mktemp("few") / "site"
    shutil.copytree(site, few)
    for page in few.glob("*/index.html"):
        if page.parent.name not in ("boost", "torque", "help"):
            shutil.rmtree(page.parent)
    return few


def _tab(phone: BrowserContext, url: str) -> Page:
    """Open home in a tab that counts how often it is loaded and remembers what it is told."""
    page = installed(phone.new_page(), url)
    page.evaluate("() => { window.untouched = true; }")
    return page


def _untouched(page: Page) -> bool:
    """Say whether a tab has not been reloaded since it was opened."""
    return bool(page.evaluate("() => window.untouched === true"))


def _until(page: Page, promised: str) -> None:
    """Wait for a promise of true: wait_for_function takes any promise for a yes."""
    for _ in range(300):
        if page.evaluate(promised):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"never came true: {promised}")


def _note(page: Page, words: str) -> None:
    expect(page.locator(".offline-note")).to_contain_text(words)


def test_two_tabs_and_three_versions(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    url = serve(live).url
    first, second = _tab(phone, url), _tab(phone, url)
    first.evaluate("async () => { await caches.open('of someone else'); }")

    publish(site, live, "Two")
    first.evaluate(LOOK)
    for tab in (first, second):
        _note(tab, READY)
        assert _untouched(tab)
    # Not asked for yet: even a reload, or another page, stays with the version that is there.
    third = installed(phone.new_page(), url)
    assert third.title() == "One"
    _note(third, READY)
    third.close()

    publish(site, live, "Three")
    _until(second, THIRD_WAITS)
    assert first.title() == second.title() == "One"

    first.get_by_role("button", name="Load it").click()
    expect(first).to_have_title("Three")
    assert not _untouched(first)
    first.evaluate("() => { window.untouched = true; }")
    # The other tab keeps what it shows, and says what happened.
    _note(second, "This page is from an earlier version")
    assert _untouched(second)
    assert second.title() == "One"
    second.get_by_role("button", name="Reload it").click()
    expect(second).to_have_title("Three")
    first.wait_for_timeout(500)
    assert _untouched(first), "reloaded more than once"

    names = first.evaluate("() => caches.keys()")
    assert len([name for name in names if name.startswith("bay-reckoner ")]) == 1
    assert "of someone else" in names


def test_later_puts_the_offer_away_and_changes_nothing(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    tab = _tab(phone, serve(live).url)
    publish(site, live, "Two")
    tab.evaluate(LOOK)
    _note(tab, READY)
    tab.get_by_role("button", name="Later").click()
    expect(tab.locator(".offline-note")).to_be_empty()
    assert _untouched(tab)
    tab.reload()
    assert tab.title() == "One"
    _note(tab, READY)


def test_a_version_that_is_only_half_there_is_not_offered(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    tab = _tab(phone, serve(live).url)
    publish(site, live, "Two")
    pack = live / PACK
    pack.write_bytes(pack.read_bytes()[:-1])
    tab.get_by_role("button", name="OK").click()
    assert tab.evaluate(FAILED) == "redundant"
    expect(tab.locator(".offline-note")).to_be_empty()
    tab.reload()
    assert tab.title() == "One"
    assert tab.evaluate("async () => (await fetch('static/lookups/common.json')).ok")


def test_five_updates_that_fail_leave_no_more_on_the_phone_than_before(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    tab = _tab(phone, serve(live).url)
    before = tab.evaluate("() => caches.keys()")
    assert len(before) == 1
    for n in range(5):
        publish(site, live, f"Version {n}")
        (live / "static" / "tables" / "tables.bin").write_bytes(b"cut")
        assert tab.evaluate(FAILED) == "redundant"
        assert tab.evaluate("() => caches.keys()") == before
    tab.reload()
    assert tab.title() == "One"


def _spoil(live: Path, how: str) -> None:
    """Damage the file that phones register, or what it imports."""
    (worker,) = live.glob("worker-*.js")
    damaged, content = live / "sw.js", b""
    if how == "cut":
        content = damaged.read_bytes()[:-3]
    elif how == "of another site":
        content = b"self.addEventListener('install', () => undefined);"
    elif how == "imports an empty file":
        damaged = worker
    elif how == "imports a cut file":
        damaged, content = worker, worker.read_bytes()[: worker.stat().st_size // 2]
    damaged.write_bytes(content)


@pytest.mark.parametrize(
    "how", ["empty", "cut", "of another site", "imports an empty file", "imports a cut file"]
)
@pytest.mark.parametrize("whole_version", [True, False])
def test_a_damaged_worker_is_not_offered_and_never_replaces_the_good_one(
    how: str, whole_version: bool, live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    """The rest of the host may be what the phone has, or a new version."""
    server = serve(live)
    tab = _tab(phone, server.url)
    tab.get_by_role("button", name="OK").click()
    if not whole_version:
        publish(site, live, "Two")
    _spoil(live, how)
    tab.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          await registration.update().catch(() => undefined);
        }"""
    )
    silent = how in ("empty", "of another site")
    if silent and whole_version:
        _until(tab, OWN_WAITS)
    tab.wait_for_timeout(6_000 if silent and not whole_version else 500)
    expect(tab.locator(".offline-note")).to_be_empty()
    if silent and not whole_version:
        # Only a whole host can help; until then this tab keeps what is at work.
        assert tab.evaluate("async () => (await fetch('boost/')).ok")
        publish(site, live, "Three")
        tab.evaluate(LOOK)
        _note(tab, READY)
        return
    tab.close()
    server.kill()
    for _ in range(2):
        page = phone.new_page()
        response = page.goto(f"{server.url}boost/")
        assert response
        assert response.from_service_worker
        page.close()


def test_right_bytes_under_a_wrong_type_are_kept_under_the_right_one(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    server = serve(live)
    tab = _tab(phone, server.url)
    port = urlsplit(server.url).port
    server.kill()
    publish(site, live, "Two")
    assert port
    mistyped = start_server(live, port, MISTYPED)
    try:
        tab.evaluate(LOOK)
        _note(tab, READY)
    finally:
        mistyped.kill()
    tab.get_by_role("button", name="Load it").click()
    expect(tab).to_have_title("Two")
    response = tab.goto(f"{server.url}torque/")
    assert response
    assert response.headers["content-type"].split(";")[0] == "text/html"
    # Scripts ran, and style sheets were applied.
    expect(tab.locator("[data-entries]")).to_be_enabled()
    assert tab.locator(".plate").evaluate("(plate) => getComputedStyle(plate).position") == "sticky"


def test_a_phone_that_met_an_empty_worker_first_is_mended_by_the_next_look(
    live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    whole = (live / "sw.js").read_bytes()
    (live / "sw.js").write_bytes(b"")
    server = serve(live)
    tab = phone.new_page()
    tab.goto(server.url)
    tab.evaluate("async () => { await navigator.serviceWorker.ready; }")
    # The page puts the worker of its own version in its place.
    expect(tab.locator(".offline-note")).to_contain_text("Works offline now", timeout=30_000)
    (live / "sw.js").write_bytes(whole)
    tab.close()
    server.kill()
    page = phone.new_page()
    response = page.goto(f"{server.url}boost/")
    assert response
    assert response.from_service_worker


@pytest.mark.parametrize("event", ["focus", "pageshow", "visibilitychange"])
def test_coming_back_looks_for_a_new_version_at_most_every_half_minute(
    event: str, live: Path, site: Path, phone: BrowserContext, serve: Serve
) -> None:
    page = phone.new_page()
    page.clock.install()
    tab = installed(page, serve(live).url)
    publish(site, live, "Two")
    target = "document" if event == "visibilitychange" else "window"
    back = f"() => {{ {target}.dispatchEvent(new Event('{event}')); }}"
    tab.evaluate(back)
    tab.wait_for_timeout(500)
    assert tab.evaluate(
        "async () => (await navigator.serviceWorker.getRegistration()).waiting === null"
    )
    tab.clock.fast_forward(31_000)
    tab.evaluate(back)
    _note(tab, READY)


def test_looking_without_a_signal_says_nothing(
    live: Path, phone: BrowserContext, serve: Serve
) -> None:
    page = phone.new_page()
    page.clock.install()
    server = serve(live)
    tab = installed(page, server.url)
    tab.get_by_role("button", name="OK").click()
    server.kill()
    tab.clock.fast_forward(31_000)
    tab.evaluate("() => { window.dispatchEvent(new Event('focus')); }")
    tab.wait_for_timeout(500)
    expect(tab.locator(".offline-note")).to_be_empty()
