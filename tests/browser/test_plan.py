"""The plan page: what runs out first, pages that it leads to, pulleys side by side."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, Locator, Page, expect

from site_src.face.form import form
from site_src.face.ladder import SAME_REASON, in_order
from site_src.face.numbers import NO_CELL, NO_NUMBER, grouped
from site_src.lookups import lookup
from site_src.model.answers import shown
from site_src.model.lookup import Inputs
from tests.browser.conftest import NewContext
from tests.browser.test_pages import figure, opened, plate, ready
from tests.own import with_own

PLAN = lookup("plan")
VIEW = PLAN.views.ladder
assert VIEW is not None

# On the page that a rung leads to: the answer that the plan shows too, under the plan's own key.
SAME = {
    "rotors_used": ("rotor_speed", "rotor_speed"),
    "grip_used": ("grip_power", "grip_power"),
    "belt_speed_used": ("limiter_belt_speed", "limiter_belt_speed"),
    "idler_used": ("idler_speed", "idler_speed"),
    "accessory_used": ("accessory_speed", "accessory_speed"),
    "injectors_used": ("duty", "duty"),
    "line_used": ("line_velocity", "line_velocity"),
    "knock_used": ("squeeze", "squeeze"),
    "pump_used": ("pump_needed", "pump_needed"),
    "throttle_used": ("inlet_depression", "inlet_depression"),
    "charge_used": ("boost", "boost"),
    "pulls_used": ("charge_hottest", "charge_hottest"),
}


ENTERED: dict[str, float] = with_own(
    PLAN,
    limiter_speed=7000.0,
    compression_ratio=9.5,
    octane=98.0,
    belt_speed_limit=80.0,
    idler_diameter=90.0,
    idler_limit=18000.0,
    accessory_limit=22000.0,
)
"""What the plan does not assume, and the parts that it has only examples of."""

FILLED = "&".join(f"{key}={value:g}{PLAN.numbers[key].unit}" for key, value in ENTERED.items())
"""The same as a link holds it."""


def rungs(page: Page) -> Locator:
    return page.locator("[data-rung]")


def order(page: Page) -> list[str]:
    """The rungs from the top down."""
    found: list[str] = rungs(page).evaluate_all("all => all.map(each => each.dataset.rung)")
    return found


def expected_order(inputs: Inputs) -> list[str]:
    return [rung.answer for rung in in_order(VIEW, PLAN.explain(inputs))]


def percent(key: str, inputs: Inputs) -> str:
    return f"{shown(PLAN.evaluate(inputs)[key], 0)} %"


def no_sideways(page: Page) -> bool:
    return bool(
        page.evaluate(
            "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
        )
    )


# --- what runs out first -------------------------------------------------------------------------


def test_a_smaller_pulley_moves_the_ladder(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}plan/?blower_pulley=110mm&{FILLED}")
    large = {"blower_pulley": 110.0, **ENTERED}
    assert order(page) == expected_order(large)
    first = next(rung for rung in VIEW.rungs if rung.answer == expected_order(large)[0])
    said = f"{first.first}: {percent(first.answer, large)} used."
    expect(page.locator("[data-first]")).to_have_text(said[0].upper() + said[1:])
    page.fill("#blower_pulley", "74")
    inputs = {"blower_pulley": 74.0, **ENTERED}
    assert order(page) == expected_order(inputs) != expected_order(large)
    used = percent("grip_used", inputs)
    expect(page.locator("[data-first]")).to_have_text(
        f"The belt's grip runs out first: {used} used."
    )
    top = rungs(page).first
    expect(top.locator("[data-used]")).to_have_text(used)
    expect(top.locator(".stamp")).to_have_text("beyond the limit")
    expect(top).to_have_attribute("data-status", "beyond")
    for each in order(page):
        expect(page.locator(f'[data-rung="{each}"] [data-used]')).to_have_text(
            percent(each, inputs)
        )


def test_the_plates_reason_is_the_first_to_run_out(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}plan/?blower_pulley=85mm")
    words = rungs(page).first.locator("[data-words]").text_content() or ""
    expect(page.locator("[data-verdict]")).to_contain_text(words)
    page.fill("#blower_pulley", "96")
    words = rungs(page).first.locator("[data-words]").text_content() or ""
    expect(page.locator("[data-verdict]")).to_contain_text(words)


def test_the_ladder_without_scripts_is_the_live_one(new_phone: NewContext, site_url: str) -> None:
    live = opened(new_phone(), f"{site_url}plan/")
    still = new_phone(java_script_enabled=False).new_page()
    still.goto(f"{site_url}plan/")
    for part in ("[data-first]", "[data-rung] .rung-head", "[data-rung] [data-words]"):
        texts = [
            [" ".join(text.split()) for text in page.locator(part).all_text_contents()]
            for page in (live, still)
        ]
        assert texts[0] == texts[1], part
    for part, drawn in (
        ("[data-page]", "each.pathname"),
        (".share rect", "each.getAttribute('width')"),
        (".share path", "each.getAttribute('d')"),
        (".share", "each.getAttribute('aria-label')"),
    ):
        mine, theirs = (
            page.locator(part).evaluate_all(f"all => all.map(each => {drawn})")
            for page in (live, still)
        )
        assert mine == theirs, part


def test_a_rungs_page_shows_the_plans_number_for_what_is_carried_over(
    phone: BrowserContext, site_url: str
) -> None:
    plan = opened(
        phone,
        f"{site_url}plan/?blower_pulley=3.4in&engine_speed=6250rpm&altitude=3000ft"
        f"&throttle_bores=1&injector_flow=901.5ccmin&charge_limit=60C&{FILLED}",
    )
    page = phone.new_page()
    assert SAME.keys() == {rung.answer for rung in VIEW.rungs}
    for rung, (theirs, ours) in SAME.items():
        link = plan.locator(f'[data-rung="{rung}"] [data-page]')
        page.goto(str(link.evaluate("each => each.href")))
        ready(page)
        assert "/plan/" not in page.url
        assert figure(page, theirs) == figure(plan, ours), rung
        expect(page.locator("[data-problem]:visible")).to_have_count(0)
    # The last one as a finger follows it.
    link.click()
    plan.wait_for_url(page.url)


def test_without_boost_every_limit_says_why_and_nothing_is_led_to(
    small_phone: BrowserContext, site_url: str
) -> None:
    page = opened(small_phone, f"{site_url}plan/?blower_pulley=240mm&rotor_limit=14000rpm")
    expect(page.locator("[data-silence] p")).to_contain_text("no boost with this pulley")
    expect(page.locator("[data-first]")).to_have_text(
        "Of what can be worked out, the rotors run out first: 35 % used."
    )
    words = rungs(page).locator("[data-words]").all_text_contents()
    assert "no boost" in words[1]
    others = [each for each in words[2:] if "was left empty" not in each]
    assert others == [SAME_REASON] * 6
    # An accessory turns with the crank, boost or none.
    expect(page.locator("[data-page]:visible")).to_have_count(1)
    expect(rungs(page).first).not_to_contain_text(NO_NUMBER)
    assert no_sideways(page)
    # And back again: nothing of it stays.
    page.fill("#blower_pulley", "92")
    assert order(page) == expected_order({"rotor_limit": 14000.0})
    expect(page.locator("[data-page]:visible")).to_have_count(len(VIEW.rungs))


def test_the_focus_stays_on_a_link_while_the_order_stands(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/")
    link = rungs(page).first.locator("[data-page]")
    link.focus()
    page.evaluate(
        "document.querySelector('#altitude').value = '100';"
        "document.querySelector('#altitude').dispatchEvent(new Event('input', {bubbles: true}))"
    )
    page.wait_for_url(re.compile("altitude"))
    expect(link).to_be_focused()


# --- the form ------------------------------------------------------------------------------------


def test_long_forms_are_folded_under_headings_with_what_differs_first(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/?belt_ribs=8")
    titles = page.locator("[data-more] .more-title").all_text_contents()
    assert titles == [fold.title for fold in form(PLAN.fields).folds]
    assert len(titles) > 4
    belt = page.locator("[data-more]", has=page.locator("#belt_ribs"))
    expect(belt.locator("[data-brief] span").first).to_have_text("Ribs 8")
    expect(page.locator("#belt_ribs")).to_be_hidden()
    belt.locator("summary").click()
    expect(page.locator("#belt_ribs")).to_be_visible()


def test_the_plate_leads_into_the_right_fold(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}plan/?crank_pulley=9000mm")
    page.locator("[data-silence] button").click()
    expect(page.locator("#crank_pulley")).to_be_focused()


# --- pulleys side by side ------------------------------------------------------------------------


def heads(page: Page) -> list[str]:
    """The pulleys in the comparison."""
    found = page.locator("[data-compare] thead th:not(.corner)").all_text_contents()
    return [text.split()[0] for text in found]


def column(page: Page, number: int) -> list[str]:
    """One pulley's answers."""
    return page.locator(f"[data-compare] tbody td:nth-of-type({number})").all_text_contents()


def wanted(pulley: float) -> list[str]:
    """What a column must hold."""
    assert PLAN.views.compare is not None
    found = PLAN.evaluate({"blower_pulley": pulley, **ENTERED})
    texts = []
    for key in PLAN.views.compare.answers:
        answer = PLAN.answer(key)
        unit = answer.declared.key
        assert next(iter(answer.decimals)) == unit
        texts.append(grouped(shown(found[key], answer.decimals[unit])))
    return texts


def test_neighbours_on_the_shelf_are_set_beside_the_pulley_and_taken_out_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/?{FILLED}")
    expect(page.locator("[data-beside]:visible")).to_have_text(
        ["Compare with 88 mm", "Compare with 96 mm"]
    )
    assert heads(page) == ["92"]
    page.get_by_role("button", name="Compare with 88 mm").click()
    # The buttons change places with the table that is shown a moment later.
    expect(page.locator("[data-compare] thead th")).to_have_count(3)
    page.get_by_role("button", name="Compare with 96 mm").click()
    expect(page.locator("[data-compare] thead th")).to_have_count(4)
    assert heads(page) == ["92", "88", "96"]
    for number, pulley in enumerate((92.0, 88.0, 96.0), start=1):
        found = [text.split()[0] for text in column(page, number)]
        assert found == wanted(pulley)
    page.wait_for_url(re.compile("pulley_b=88mm&pulley_c=96mm"))
    assert plate(page) == shown(PLAN.evaluate({})["boost"], 0)
    expect(page.locator("[data-beside]:visible")).to_have_count(0)
    alone = page.get_by_role("button", name="Take the others out")
    expect(alone).to_be_focused()
    alone.click()
    expect(page.locator("[data-compare] thead th")).to_have_count(2)
    assert heads(page) == ["92"]


def test_a_column_without_answers_says_why_and_only_the_table_scrolls(
    small_phone: BrowserContext, site_url: str
) -> None:
    page = opened(small_phone, f"{site_url}plan/?pulley_b=74mm&pulley_c=240mm&{FILLED}")
    expect(page.locator("[data-compare] thead th")).to_have_count(4)
    assert NO_CELL in column(page, 3)[0]
    expect(page.locator("[data-compare] .notes li")).to_contain_text("no boost with this pulley")
    grip = page.locator("[data-compare] tbody tr", has_text="Belt grip").locator("td").nth(1)
    expect(grip).to_have_attribute("data-status", "beyond")
    expect(grip).to_contain_text("beyond")
    assert no_sideways(page)
    corner = page.locator("[data-compare] .corner")
    before = corner.bounding_box()
    page.locator("[data-compare] .sideways").evaluate("region => { region.scrollLeft = 500; }")
    assert corner.bounding_box() == before


def test_a_pulley_that_cant_be_read_is_named_beside_the_table(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/?pulley_b=900mm")
    expect(page.locator("[data-unusable]")).to_contain_text("Second pulley is 900 mm.")
    assert heads(page) == ["92"]
    page.fill("#blower_pulley", "what")
    expect(page.locator("[data-compare] thead th").nth(1)).to_contain_text("“what”")
    assert all(NO_CELL in text for text in column(page, 1))
    expect(page.locator("[data-beside]:visible")).to_have_count(0)


# --- views that would be flat --------------------------------------------------------------------


def test_a_view_over_entries_that_are_overruled_says_by_what(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}power/?air_flow=480gps")
    chart = page.locator("[data-chart]").first
    expect(chart.locator("[data-flat]")).to_contain_text("is filled in, so")
    expect(chart.locator("[data-table]")).to_be_hidden()
    page.get_by_role("button", name="Back to my truck").click()
    expect(chart.locator("[data-flat]")).to_be_empty()
    expect(chart.locator("[data-table]")).to_be_visible()


def test_a_view_over_an_entry_out_of_sight_is_put_away(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}fuel/?injector_rated=mass")
    expect(page.locator("[data-chart]").first).to_be_hidden()
    again = opened(phone, f"{site_url}fuel/?fuel_flow=150kgh")
    curve = again.locator("[data-curve]").first
    expect(curve.locator("[data-flat]")).to_contain_text("changes nothing here")
    expect(curve.locator("[data-drawing]")).to_be_hidden()


def test_margins_without_one_are_put_away(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}accessory/")
    expect(page.locator("[data-margins]")).to_be_hidden()


def test_a_missing_entry_is_named_where_its_answer_would_stand(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/?blower_pulley=")
    expect(page.locator("[data-silence] p")).to_contain_text("Blower pulley is empty.")
