"""The tone page with a microphone: what it hears, what it refuses, and that it asks nobody."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import BrowserContext, Page, Request, expect

from tests.browser.conftest import Hearing, SiteServer, Sound, installed
from tests.calc.test_tone import RATE, WITHIN, hum, noise, pluck

HEARD = 20_000
"""Milliseconds in which three plucks must be heard."""


def listening(page: Page) -> Any:
    """Press Listen and return the words that follow."""
    page.get_by_role("button", name="Listen").click()
    return page.locator("[data-listen-words]")


def tone_field(page: Page) -> Any:
    """Return the field that the tone is typed in."""
    return page.get_by_role("textbox", name="Tone of the plucked span")


def live(page: Page, url: str) -> Page:
    """Open the tone page and wait until its scripts work."""
    page.goto(url)
    expect(page.get_by_role("button", name="Listen")).to_be_enabled()
    return page


@pytest.mark.parametrize("tone", [55.0, 82.41, 110.0, 146.83, 196.0])
def test_three_plucks_fill_in_the_tone_and_the_tension(
    hearing: Hearing, site_url: str, tone: float
) -> None:
    page = live(hearing(pluck(tone, ring=0.2) + noise(0.001)).new_page(), f"{site_url}belt-tone/")
    words = listening(page)
    expect(words).to_contain_text("Middle of 3", timeout=HEARD)
    heard = float(tone_field(page).input_value())
    assert heard == pytest.approx(tone, abs=WITHIN)
    expect(page.locator("[data-listen-plucks] li")).to_have_count(3)
    expect(words).to_have_text(re.compile(r"They lie \d+\.\d Hz apart"))
    shown = page.locator("[data-plate] [data-value]").get_attribute("value") or ""
    # The example's fourteen ribs of 20 g/m.
    assert float(shown.replace(",", "")) == pytest.approx(4 * 0.28 * (0.31 * heard) ** 2, abs=1.0)
    page.wait_for_url(re.compile(r"tone="))


@pytest.mark.parametrize(
    ("sound", "why"),
    [
        pytest.param(np.zeros(2 * RATE), "too quiet", id="silence"),
        pytest.param(noise(0.05), "steady sound", id="noise"),
        pytest.param(hum(0.1, 100.0), "steady sound", id="hum"),
    ],
)
def test_what_is_no_pluck_is_refused_in_words(
    hearing: Hearing, site_url: str, sound: Sound, why: str
) -> None:
    page = live(hearing(sound).new_page(), f"{site_url}belt-tone/")
    words = listening(page)
    expect(words).to_contain_text("No tone heard", timeout=HEARD)
    expect(words).to_contain_text(why)
    assert tone_field(page).input_value() == "63"
    page.get_by_role("button", name="Stop").click()
    expect(words).to_have_text("Stopped.")


def test_it_listens_without_signal_and_sends_nothing(
    hearing: Hearing, site: Path, serve: Callable[[Path], SiteServer]
) -> None:
    server = serve(site)
    page = installed(hearing(pluck(98.0, ring=0.2)).new_page(), server.url)
    server.kill()
    live(page, f"{server.url}belt-tone/")
    asked: list[Request] = []

    def note(request: Request) -> None:
        asked.append(request)

    page.on("request", note)
    expect(listening(page)).to_contain_text("Middle of 3", timeout=HEARD)
    # At most the site's own files, from the phone's own store: no query, nothing sent along.
    for request in asked:
        assert request.method == "GET"
        assert request.url.startswith(f"{server.url}static/")
        assert "?" not in request.url


def test_permission_is_explained_before_it_is_asked_for(
    phone: BrowserContext, site_url: str
) -> None:
    page = live(phone.new_page(), f"{site_url}belt-tone/")
    expect(page.get_by_text("nothing is recorded, nothing is sent")).to_be_visible()
    expect(page.locator("[data-listen-words]")).to_be_empty()


def test_a_refused_microphone_leaves_the_field_to_type_in(
    phone: BrowserContext, site_url: str
) -> None:
    page = live(phone.new_page(), f"{site_url}belt-tone/")
    expect(listening(page)).to_contain_text("type the tone", ignore_case=True)
    tone_field(page).fill("98,5")
    expect(page.locator("[data-plate] [data-value]")).to_have_attribute(
        "value", re.compile(r"104\d")
    )
