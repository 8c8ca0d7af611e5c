"""Charge cooling on a phone with no signal: both places, pulls in time, the rise that is lent."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import BrowserContext, expect

from site_src.face.words import si_text
from site_src.lookups import lookup, truck
from tests.browser.conftest import installed
from tests.browser.servers import SiteServer
from tests.browser.test_pages import opened, ready
from tests.browser.test_truck import kept, unfold, whose

MOMENTS = lookup("charge-cooling").views.curves[0].values


def test_the_page_follows_the_truck_and_lends_its_rise_with_no_signal(
    site: Path, installing: BrowserContext, serve: Callable[[Path], SiteServer]
) -> None:
    cooling = truck.of_example("charge-cooling")
    server = serve(site)
    installed(installing.new_page(), server.url).close()
    server.kill()
    page = opened(installing, f"{server.url}charge-cooling/")
    assert whose(page, "blower_outlet") == "from Boost by pulley"
    assert whose(page, "coolant_flow") == "from Coolant loop"
    expect(page.locator("[data-plate]")).to_contain_text("not checked")
    page.fill("#exchanger_heat", "18")
    expect(page.locator("[data-plate]")).to_contain_text("not checked")
    page.fill("#exchanger_difference", "42")
    expect(page.locator("[data-plate]")).not_to_contain_text("not checked")
    # Both places side by side, the truck's own marked.
    for column, place in enumerate(("nose", "bed"), 1):
        outcome = cooling.explain(
            {"exchanger_heat": 18.0, "exchanger_difference": 42.0, "exchanger_place": place}
        )
        cells = page.locator(f"[data-compare] tbody td:nth-of-type({column})")
        for cell, key in zip(
            cells.all_text_contents(), ("pull_length", "recovery_time"), strict=False
        ):
            assert cell == si_text(cooling.answer(key), outcome.symbols[key]), (place, key)
    expect(page.locator("[data-compare] th.current")).to_contain_text("In the nose")
    page.get_by_label("In the bed, on fans").first.check()
    expect(page.locator("[data-compare] th.current")).to_contain_text("In the bed")
    # A curve in seconds, through the ends of the pulls, with the limit.
    drawing = page.locator("[data-curve] svg")
    expect(drawing).to_contain_text("Time since the first pull began, s")
    points = (drawing.locator(".curve-run").get_attribute("points") or "").split()
    assert len(points) == len(set(MOMENTS) | {3.5})
    along = [float(point.split(",")[0]) for point in points]
    assert along == sorted(along)
    expect(drawing.locator(".curve-limit")).to_have_count(1)
    kept(page)
    # Boost takes the rise by a tap, and keeps it as the truck's own.
    page.goto(f"{server.url}boost/")
    ready(page)
    unfold(page)
    expect(page.locator('[data-field="exchanger_place"] input:checked')).to_have_value("bed")
    page.locator('[data-field="coolant_from"] [data-option="rise"]').click()
    kept(page)
    page.goto(f"{server.url}charge-cooling/")
    ready(page)
    rise = (
        page.locator('[data-answers] [data-answer="pulls_rise"] [data-number]').text_content() or ""
    )
    page.goto(f"{server.url}boost/")
    ready(page)
    page.locator("[data-offered]").get_by_role("button").click()
    assert whose(page, "coolant_rise") == "yours"
    assert float(page.input_value("#coolant_rise")) == float(rise)
    kept(page)


def test_a_rest_that_is_no_time_is_said_and_the_page_goes_on(
    phone: BrowserContext, site_url: str
) -> None:
    # No moment of the curve is left then, and a curve without a point is none that lies flat.
    page = opened(phone, f"{site_url}charge-cooling/")
    unfold(page)
    before = page.locator("[data-plate]").inner_text()
    page.fill("#rest_time", "-31")
    expect(page.locator("#rest_time-problem")).to_contain_text("This page takes")
    ready(page)
    drawing = page.locator('[data-curve="0"] [data-drawing]')
    expect(drawing).to_have_text("No curve: this set-up has no such answer.")
    page.fill("#rest_time", "60")
    ready(page)
    expect(drawing.locator("svg")).to_have_count(1)
    assert page.locator("[data-plate]").inner_text() == before
