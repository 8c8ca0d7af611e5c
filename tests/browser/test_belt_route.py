"""The belt route on a phone: typed, drawn as typed, without signal, and when it can't run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_src.lookups import lookup
from tests.browser.conftest import SiteServer, installed
from tests.browser.test_pages import ready as live

ROUTE = lookup("belt-route")

TYPED: Mapping[str, float] = {
    "x_2": -150.0,
    "y_2": 120.0,
    "x_3": -190.5,
    "y_3": 251.0,
    "d_3": 60.0,
    "x_4": -95.0,
    "y_4": 330.0,
    "x_5": 5.0,
    "y_5": 441.0,
    "x_6": 90.0,
    "y_6": 312.0,
    "x_7": 140.0,
    "y_7": 182.0,
    "d_7": 125.0,
    "crank_pulley": 176.0,
    "blower_pulley": 88.0,
}
"""Another route of seven pulleys than the usual one."""


def ready(page: Page) -> Page:
    """Wait until the route is drawn, and open every part of the form."""
    live(page)
    page.wait_for_selector("[data-route-drawing] svg")
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
    return page


def opened(phone: BrowserContext, url: str, **entries: str) -> Page:
    """Open the page with a set-up."""
    page = phone.new_page()
    page.goto(f"{url}belt-route/?{urlencode(entries)}")
    return ready(page)


def number(page: Page) -> float:
    """Return the plate's number."""
    text = page.locator("[data-plate] [data-value]").get_attribute("value") or ""
    return float(text.replace(",", ""))


def places(page: Page) -> list[str]:
    """Return what the list calls its pulleys, in the order of the belt."""
    return page.locator("[data-route-places] b").all_inner_texts()


def test_seven_pulleys_typed_are_drawn_and_reckoned_as_in_python(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    for key, value in TYPED.items():
        page.locator(f"#{key}").fill(f"{value:g}")
    expected = ROUTE.evaluate(TYPED)
    assert number(page) == pytest.approx(expected["length_to_buy"], abs=0.051)
    assert places(page)[0] == "1 Crank"
    assert len(places(page)) == 7
    expect(page.locator(".route-pulley")).to_have_count(7)
    expect(page.locator("[data-route-drawing] [data-fault]")).to_have_count(0)
    third = page.locator("[data-route-places] li").nth(2)
    expect(third).to_contain_text(f"wrap {expected['wrap_3']:.1f}")
    expect(third).to_contain_text(f"run to 4: {expected['run_3']:.1f}")


def test_the_drawing_has_the_places_that_were_typed(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, site_url, x_2="-201mm", y_2="99mm", d_2="80mm")
    circle = page.locator(".route-pulley").nth(1)
    assert circle.get_attribute("cx") == "-201.0"
    # Up is up: on the screen y runs down.
    assert circle.get_attribute("cy") == "-99.0"
    assert circle.get_attribute("r") == "42.0"


def test_it_is_typed_and_drawn_without_signal(
    installing: BrowserContext, site: Path, serve: Callable[[Path], SiteServer]
) -> None:
    server = serve(site)
    page = installed(installing.new_page(), server.url)
    server.kill()
    response = page.goto(f"{server.url}belt-route/?fitted_belt=1570mm")
    assert response is not None
    assert response.from_service_worker
    ready(page)
    page.locator("#x_7").fill("142")
    expected = ROUTE.evaluate({"fitted_belt": 1570.0, "x_7": 142.0})
    assert number(page) == pytest.approx(expected["length_to_buy"], abs=0.051)
    expect(page.locator(".route-seat")).to_have_count(1)


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        pytest.param({"side_4": "ribs"}, "nearly all the way round pulley 4", id="wrong side"),
        pytest.param({"travel": "counter"}, "goes round the other way", id="other way round"),
        pytest.param({"x_3": "-140mm", "y_3": "150mm"}, "Pulley 3 overlaps", id="overlap"),
    ],
)
def test_a_route_that_cannot_run_is_drawn_and_said_in_words(
    phone: BrowserContext, site_url: str, entries: dict[str, str], words: str
) -> None:
    page = opened(phone, site_url, **entries)
    expect(page.locator("[data-plate]")).to_contain_text(words)
    expect(page.locator("[data-route-problem]")).to_contain_text(words)
    expect(page.locator(".route-pulley")).to_have_count(7)
    assert page.locator("[data-route-drawing] [data-fault]").count() > 0
    expect(page.locator("[data-route-to]").first).to_be_hidden()
    expect(page.locator("[data-route-links-problem]")).to_contain_text(words)
    page.locator("[data-reset]").click()
    expect(page.locator("[data-route-problem]")).to_be_hidden()


def test_a_pulley_put_in_last_is_moved_to_its_turn(phone: BrowserContext, site_url: str) -> None:
    new = {"x_8": 150.0, "y_8": 20.0, "d_8": 70.0}
    page = opened(phone, site_url)
    page.locator("#kind_8").select_option("steering")
    page.locator('[data-field="side_8"] [data-option="ribs"]').click()
    for key, value in new.items():
        page.locator(f"#{key}").fill(f"{value:g}")
    assert places(page)[-1] == "8 Steering pump"
    page.get_by_role("button", name="8 Steering pump: one place earlier").click()
    assert places(page)[-2:] == ["7 Steering pump", "8 Water pump"]
    there: dict[str, float | str] = {"kind_7": "steering", "kind_8": "water_pump"}
    there |= {f"{key[0]}_7": value for key, value in new.items()}
    there |= {"side_7": "ribs", "side_8": "ribs", "x_8": 135.0, "y_8": 190.0, "d_8": 120.0}
    outcome = ROUTE.explain(there)
    said = ROUTE.words(outcome.faults["length_to_buy"], there)
    expect(page.locator("[data-plate]")).to_contain_text(said)


def test_wraps_and_runs_go_on_to_grip_and_tone(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, site_url, blower_pulley="88mm")
    expected = ROUTE.evaluate({"blower_pulley": 88.0})
    for to, feeds in (
        ("belt", {"blower_wrap": "blower_wrap", "alignment_span": "blower_run"}),
        ("belt-tone", {"tone_span": "pluck_run", "crank_wrap": "crank_wrap"}),
    ):
        link = page.locator(f'[data-route-to="{to}"]').get_attribute("href") or ""
        query = parse_qs(urlsplit(link).query)
        for field, answer in feeds.items():
            carried = float(query[field][0].rstrip("degm"))
            assert carried == pytest.approx(expected[answer], rel=1e-4)
    page.locator('[data-route-to="belt"]').click()
    live(page)
    assert page.locator("#blower_pulley").input_value() == "88"
    assert float(page.locator("#blower_wrap").input_value()) == pytest.approx(
        expected["blower_wrap"], rel=1e-4
    )


def test_the_tensioner_is_put_where_the_belt_puts_it(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, site_url, fitted_belt="1575mm")
    page.get_by_role("button", name="Measure on from where your belt puts the tensioner").click()
    expected = ROUTE.evaluate({"fitted_belt": 1575.0})
    assert float(page.locator("#x_4").input_value()) == pytest.approx(expected["seat_x"], abs=1e-3)
    drawn = page.locator('[data-answer="belt_length"]').first
    expect(drawn).to_contain_text("1,575.0")


def test_lengths_next_to_it_are_offered_with_the_travel_they_leave(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    expect(page.locator("[data-nearest]")).to_contain_text("travel left")
    page.get_by_role("button", name="Use 1,565 mm").or_(
        page.get_by_role("button", name="Use 1565 mm")
    ).click()
    assert page.locator("#fitted_belt").input_value() == "1565"
    expect(page.locator(".beside")).to_contain_text("to slack")
