"""A phone for browser tests: Chromium, a small touch screen, a server that is another process."""

from __future__ import annotations

import os
import wave
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import numpy as np
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright

from site_src.checks import BROWSER, on_path
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer, publish, start_server

PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "is_mobile": True,
    "has_touch": True,
    "locale": "en-GB",
}

NOT_INSTALLED, INSTALLED = {"service_workers": "block"}, {"service_workers": "allow"}

ARGUMENTS = [
    # Chromium's own errands must not look like requests of ours.
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-default-apps",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
]

NewContext = Callable[..., BrowserContext]
Sound = Any
Hearing = Callable[[Sound], BrowserContext]

MICROPHONE_RATE = 48_000
"""Samples a second of what a phone is made to hear."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test of this folder, so that `-m "not browser"` leaves them out."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """Launch the Chromium that the test command found, else the system's, else Playwright's."""
    found = os.environ.get(BROWSER) or on_path()
    where = {"executable_path": found} if found else {}
    return browser_type_launch_args | where | {"args": launch_arguments()}


def launch_arguments() -> list[str]:
    """Return what a Chromium is started with; as root it has no sandbox."""
    return [*ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]


@dataclass
class Watch:
    """What went wrong behind the page's back."""

    host: str
    foreign: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def over(self, context: BrowserContext) -> None:
        """Record requests to other hosts, uncaught errors, and what the policy refused."""
        context.on("request", lambda request: self._request(request.url))
        context.on("weberror", lambda error: self.errors.append(str(error.error)))
        context.on("console", lambda message: self._console(message.text))

    def _request(self, url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in ("data", "blob") and parts.hostname != self.host:
            self.foreign.append(url)

    def _console(self, text: str) -> None:
        if "Content Security Policy" in text:
            self.errors.append(text)


@pytest.fixture
def new_phone(new_context: NewContext) -> Iterator[NewContext]:
    """Make phones; at the end, none may have asked another host or met an uncaught error.

    They install nothing unless that is asked for: it would be half of most tests' time.
    """
    watch = Watch("localhost")

    def make(**changes: Any) -> BrowserContext:
        context = new_context(**(PHONE | NOT_INSTALLED | changes))
        watch.over(context)
        return context

    yield make
    assert not watch.foreign
    assert not watch.errors


@pytest.fixture
def phone(new_phone: NewContext) -> BrowserContext:
    """A phone of usual size."""
    return new_phone()


@pytest.fixture
def installing(new_phone: NewContext) -> BrowserContext:
    """A phone that installs what it meets."""
    return new_phone(**INSTALLED)


@pytest.fixture
def small_phone(new_phone: NewContext) -> BrowserContext:
    """The narrowest phone that must do."""
    return new_phone(viewport={"width": 320, "height": 568})


def write_wave(path: Path, sound: Sound) -> Path:
    """Write sound as the browser's stand-in for a microphone reads it."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(MICROPHONE_RATE)
        file.writeframes((np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())
    return path


@pytest.fixture
def hearing(
    playwright: Playwright, browser_type_launch_args: dict[str, Any], tmp_path: Path
) -> Iterator[Hearing]:
    """Make phones whose microphone hears a sound, over and over."""
    browsers: list[Browser] = []

    def make(sound: Sound) -> BrowserContext:
        heard = write_wave(tmp_path / "heard.wav", sound)
        # A missing file would give silence, not an error.
        assert heard.is_file()
        arguments = [
            *browser_type_launch_args["args"],
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            f"--use-file-for-fake-audio-capture={heard}",
        ]
        launched = playwright.chromium.launch(**(browser_type_launch_args | {"args": arguments}))
        browsers.append(launched)
        return launched.new_context(**PHONE)

    yield make
    for browser in browsers:
        browser.close()


@pytest.fixture
def mortal(
    playwright: Playwright, browser_type_launch_args: dict[str, Any], tmp_path: Path
) -> MortalPhone:
    """A phone whose browser may be killed."""
    if not Path("/proc").is_dir():
        pytest.skip("finds the browser's processes in /proc")
    return MortalPhone(playwright.chromium, browser_type_launch_args | PHONE, tmp_path / "phone")


@pytest.fixture(scope="session")
def site_url(site: Path) -> Iterator[str]:
    """The built site's address on a server that stays up; ends in a slash."""
    server = start_server(site)
    yield server.url
    server.kill()


@pytest.fixture
def serve() -> Iterator[Callable[[Path], SiteServer]]:
    """Start servers that the test may kill; what is left of them is killed at the end."""
    servers: list[SiteServer] = []

    def start(folder: Path) -> SiteServer:
        servers.append(start_server(folder))
        return servers[-1]

    yield start
    for server in servers:
        server.kill()


@pytest.fixture
def live(site: Path, tmp_path: Path) -> Path:
    """The folder that is live: version one of the site."""
    publish(site, tmp_path / "live", "One")
    return tmp_path / "live"


def installed(page: Page, url: str) -> Page:
    """Open a page and wait until the service worker holds the whole site and serves the page."""
    page.goto(url)
    page.evaluate("async () => { await navigator.serviceWorker.ready; }")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    return page
