"""The slip page with a microphone: two tones heard, and what it refuses."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import MICROPHONE_RATE, Hearing
from tests.lookups.drive_sounds import Scene, record

HEARD = 60_000
"""Milliseconds in which ten seconds must be heard and judged."""

# 4 lobes; 184 over 96 mm, as the page's usual pulleys are by the cord. Longer than is listened to,
# since the stand-in for a microphone plays it over and over.
TRUCK = Scene(
    speed=50.0, lobes=4, ratio=184 / 96, slip=0.035, hunt=0.0008, drift=0.004, seconds=16.0
)
ENTERED = "rotor_lobes=4&ear_speed=3000rpm"
TONES = ("firing", "firing_unsure", "blower", "blower_unsure")


def live(page: Page, site_url: str, entered: str = ENTERED) -> Page:
    """Open the slip page at what the phone hears, and wait until its scripts work."""
    page.goto(f"{site_url}slip/?{entered}")
    expect(page.locator("[data-entries]")).to_be_enabled()
    page.locator("summary", has_text="By ear, with the phone").click()
    return page


def listening(page: Page, name: str = "Listen while it pulls") -> Any:
    """Press a button to listen and return the words that follow."""
    page.get_by_role("button", name=name).click()
    return page.locator("[data-listen-words]")


def typed(page: Page, when: str) -> list[str]:
    """Return what stands in the fields of one listening."""
    return [page.locator(f"#{when}_{each}").input_value() for each in TONES]


def test_ten_seconds_give_the_slip_with_its_uncertainty(hearing: Hearing, site_url: str) -> None:
    page = live(hearing(record(TRUCK).sound).new_page(), site_url)
    words = listening(page)
    expect(page.get_by_role("button", name=re.compile(r"Stop\. \d+ s to go"))).to_be_visible()
    expect(words).to_contain_text("Entered with their ±", timeout=HEARD)
    firing, _, blower, _ = (float(each) for each in typed(page, "ear"))
    assert firing == pytest.approx(200.0, rel=0.01)
    assert blower / firing == pytest.approx(TRUCK.order / 4.0, rel=0.003)
    shown = page.locator("[data-plate] [data-value]").get_attribute("value") or ""
    assert float(shown) == pytest.approx(3.5, abs=0.4)
    good_to = page.locator('[data-lesser] [data-answer="ear_unsure"] .lesser-number')
    expect(good_to).to_have_text(re.compile(r"0\.[5-9]\s%"))
    page.wait_for_url(re.compile(r"ear_blower="))


def test_without_load_fills_in_its_own_fields(hearing: Hearing, site_url: str) -> None:
    page = live(hearing(record(TRUCK.with_(slip=0.008)).sound).new_page(), site_url)
    expect(listening(page, "Listen without load")).to_contain_text("Entered", timeout=HEARD)
    assert all(typed(page, "free"))
    assert not any(typed(page, "ear"))


@pytest.mark.parametrize(
    ("scene", "why"),
    [
        pytest.param(None, "Too quiet", id="silence"),
        pytest.param(TRUCK.with_(blower=-math.inf), "blower", id="an engine alone"),
    ],
)
def test_what_is_not_sure_is_not_entered_and_what_was_there_goes(
    hearing: Hearing, site_url: str, scene: Scene | None, why: str
) -> None:
    sound = np.zeros(4 * MICROPHONE_RATE) if scene is None else record(scene).sound
    before = "&ear_firing=200Hz&ear_firing_unsure=0.1Hz&ear_blower=368Hz&ear_blower_unsure=0.2Hz"
    page = live(hearing(sound).new_page(), site_url, ENTERED + before)
    expect(page.locator("[data-plate]")).to_contain_text("4.0 % of slip")
    words = listening(page)
    expect(words).to_contain_text("Nothing entered", timeout=HEARD)
    expect(words).to_contain_text(why)
    assert typed(page, "ear") == [""] * 4
    expect(page.locator("[data-plate]")).to_contain_text("Boost says nothing of slip")


def test_it_asks_for_lobes_and_speed_before_it_listens(
    phone: BrowserContext, site_url: str
) -> None:
    page = live(phone.new_page(), site_url, "rotor_lobes=4")
    expect(page.get_by_text("nothing is recorded, nothing is sent")).to_be_visible()
    expect(listening(page)).to_contain_text("Enter the lobes")


def test_a_refused_microphone_leaves_the_tones_to_type_in(
    phone: BrowserContext, site_url: str
) -> None:
    page = live(phone.new_page(), site_url)
    expect(listening(page)).to_contain_text("Type the two tones in")
    expect(page.get_by_role("button", name="Listen while it pulls")).to_be_enabled()
