"""A new version is offered, taken when asked for, and never pushed under someone's hands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import installed
from tests.browser.servers import SiteServer, publish

Serve = Callable[[Path], SiteServer]

LOOK = "async () => { await (await navigator.serviceWorker.getRegistration()).update(); }"
# A look that meets another one on its way shares its outcome: look until the third is there.
THIRD_WAITS = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  const kept = (await caches.keys()).filter((name) => name.startsWith("bay-reckoner "));
  return kept.length === 3 && registration.waiting && !registration.installing;
}"""
READY = "New version ready"


@pytest.fixture
def live(tmp_path: Path, site: Path) -> Path:
    """The folder that is live: version one of the site."""
    publish(site, tmp_path / "live", "One")
    return tmp_path / "live"


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
    for _ in range(100):
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
    (live / "lookups.json").write_text("{}")
    tab.get_by_role("button", name="OK").click()
    failed = tab.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          const over = new Promise((resolve) => {
            registration.addEventListener("updatefound", () => {
              const worker = registration.installing;
              worker.addEventListener("statechange", () => resolve(worker.state));
            });
          });
          await registration.update();
          return over;
        }"""
    )
    assert failed == "redundant"
    expect(tab.locator(".offline-note")).to_be_empty()
    tab.reload()
    assert tab.title() == "One"
    assert tab.evaluate("async () => (await fetch('lookups.json')).ok")


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
