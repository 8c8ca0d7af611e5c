"""The template of an offset: true lengths, as the page works them out, with scripts and without."""

from __future__ import annotations

import pytest
from playwright.sync_api import BrowserContext, expect

from site_src.lookups import lookup
from tests.browser.conftest import NewContext
from tests.browser.test_pages import opened

RUN = lookup("hose-run")
DRAWN = "all => all.map(each => each.getAttribute('d'))"


def test_the_template_is_drawn_in_millimetres_and_follows_the_offset(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}hose-run/")
    page.locator("details", has_text="Offset, and its template").locator("summary").first.click()
    page.get_by_label("To the side", exact=True).fill("100")
    way = RUN.evaluate({"offset": 100.0})["offset_run"]
    drawing = page.locator("svg.bend-template")
    expect(drawing).to_have_attribute("aria-label", f"Offset of 100 mm over {way:.0f} mm")
    box = [float(each) for each in (drawing.get_attribute("viewBox") or "").split()]
    assert drawing.get_attribute("width") == f"{box[2]:.1f}mm"
    assert drawing.get_attribute("height") == f"{box[3]:.1f}mm"
    line = drawing.locator(".template-line").first
    end = line.evaluate(
        "p => { const e = p.getPointAtLength(p.getTotalLength()); return [e.x, e.y]; }"
    )
    assert end == pytest.approx([100.0, way], abs=0.05)
    hose = RUN.evaluate({"offset": 100.0})["offset_hose"]
    assert line.evaluate("p => p.getTotalLength()") == pytest.approx(hose, rel=2e-3)


def test_without_scripts_the_template_is_the_same(new_phone: NewContext, site_url: str) -> None:
    live = opened(new_phone(), f"{site_url}hose-run/")
    still = new_phone(java_script_enabled=False).new_page()
    still.goto(f"{site_url}hose-run/")
    live.wait_for_timeout(150)
    paths = ".bend-template path"
    assert live.locator(paths).evaluate_all(DRAWN) == still.locator(paths).evaluate_all(DRAWN)
