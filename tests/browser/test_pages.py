"""The lookup pages, worked as a person works them: typed, stepped, switched, shared, gone wrong."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from site_src.face.numbers import NO_CELL, grouped
from site_src.lookups import all_lookups, lookup, truck
from site_src.model.answers import shown
from site_src.model.quantities import quantity
from site_src.pages import all_pages
from site_src.publish.catalogue import parts_of
from tests.browser.conftest import NOT_INSTALLED, PHONE, NewContext, Watch

KEYS = [each.key for each in all_lookups()]
OTHERS = [each.key for each in all_pages()]
STORE = "bay-reckoner"


def opened(context: BrowserContext, address: str) -> Page:
    """Open a lookup page and wait until its form may be used."""
    page = context.new_page()
    page.goto(address)
    ready(page)
    return page


def ready(page: Page) -> None:
    """Wait until a page's form may be used, its answers are there, and what others add to them."""
    expect(page.locator("[data-entries]:not([disabled])")).to_have_count(1)
    expect(page.locator("[data-lookup]:not([data-whole][data-settled])")).to_have_count(0)


def plate(page: Page) -> str:
    """The large number, as it is shown."""
    return page.locator("[data-plate] [data-value]").inner_text()


def worked_out(key: str, answer: str, unit: str, inputs: Mapping[str, float | str]) -> str:
    """What the page must show: the same evaluator in Python, rounded once."""
    about = truck.of_example(key)
    spec = about.answer(answer)
    value = spec.declared.to_si(about.evaluate(inputs)[answer])
    return grouped(shown(quantity(spec.of).unit(unit).from_si(value), spec.decimals[unit]))


def figure(page: Page, answer: str) -> str:
    """One answer in the list of all answers."""
    return (
        page.locator(f'[data-answers] [data-answer="{answer}"] [data-number]').text_content() or ""
    )


def stored(page: Page) -> dict[str, object]:
    """What the phone remembers."""
    found: dict[str, object] = json.loads(page.evaluate(f"localStorage.getItem('{STORE}')") or "{}")
    return found


# --- typing and stepping -------------------------------------------------------------------------


def test_a_typed_number_is_answered_as_the_builder_works_it_out(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "85")
    page.fill("#engine_speed", "5500")
    inputs: dict[str, float | str] = {"blower_pulley": 85.0, "engine_speed": 5500.0}
    assert plate(page) == worked_out("boost", "boost", "kPa", inputs)
    for answer in ("rotor_speed", "charge_temperature", "air_flow"):
        unit = next(iter(lookup("boost").answer(answer).decimals))
        assert figure(page, answer) == worked_out("boost", answer, unit, inputs)


def test_a_unit_typed_along_moves_the_picker_and_is_remembered(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "3.62in")
    page.locator("#blower_pulley").blur()
    field = page.locator('[data-field="blower_pulley"]')
    expect(field.locator("[data-unit]")).to_have_value("in")
    expect(page.locator("#blower_pulley")).to_have_value("3.62")
    expect(field.locator("[data-echo]")).to_have_text("3.62 in · 91.9 mm")
    metric = quantity("length").unit("mm").from_si(quantity("length").unit("in").to_si(3.62))
    assert plate(page) == worked_out("boost", "boost", "kPa", {"blower_pulley": metric})
    again = opened(phone, f"{site_url}boost/")
    expect(again.locator('[data-field="blower_pulley"] [data-unit]')).to_have_value("in")
    expect(again.locator('[data-field="crank_pulley"] [data-unit]')).to_have_value("mm")


def test_units_switched_and_back_keep_the_typed_text(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#crank_pulley", "180,5")
    unit = page.locator('[data-field="crank_pulley"] [data-unit]')
    unit.select_option("in")
    expect(page.locator("#crank_pulley")).to_have_value("7.106")
    unit.select_option("mm")
    expect(page.locator("#crank_pulley")).to_have_value("180,5")


def test_the_plates_unit_is_picked_and_remembered(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    unit = page.locator("[data-plate] [data-unit]")
    for key in ("psi", "bar", "kPa", "psi"):
        unit.select_option(key)
        expect(unit).to_have_value(key)
    assert plate(page) == worked_out("boost", "boost", "psi", {})
    page.reload()
    expect(page.locator("[data-plate] [data-unit]")).to_have_value("psi")


def test_a_stepper_goes_to_the_pulley_that_exists_and_repeats_while_held(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    up = page.get_by_role("button", name="Blower pulley: one step up")
    up.click()
    expect(page.locator("#blower_pulley")).to_have_value("96")
    page.get_by_role("button", name="Blower pulley: one step down").click()
    expect(page.locator("#blower_pulley")).to_have_value("92")
    up.evaluate("each => each.scrollIntoView({ block: 'center', behavior: 'instant' })")
    box = up.bounding_box()
    assert box
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    expect(page.locator("#blower_pulley")).to_have_value("110")
    page.mouse.up()
    expect(page.locator("#blower_pulley")).to_have_value("110")
    expect(up).to_have_attribute("aria-disabled", "true")


def test_wheel_and_swipe_never_change_a_number(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator("#blower_pulley").focus()
    page.locator("#blower_pulley").hover()
    page.mouse.wheel(0, 400)
    page.mouse.wheel(0, -200)
    expect(page.locator("#blower_pulley")).to_have_value("92")


# --- what can't be used --------------------------------------------------------------------------


def test_bad_input_is_named_with_value_range_and_way_out_and_no_number_stays(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "400")
    words = (
        "Blower pulley is 400 mm. This page takes 40 to 250 mm. "
        "Measure over the rib tips again, and look at the unit."
    )
    expect(page.locator("[data-silence] p")).to_have_text(words)
    expect(page.locator("#blower_pulley-problem")).to_have_text(words)
    expect(page.locator("[data-plate] [data-value]")).to_be_hidden()
    assert plate(page) == ""
    expect(page.locator("#blower_pulley")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#blower_pulley")).to_have_value("400")
    page.fill("#blower_pulley", "88")
    assert plate(page) == worked_out("boost", "boost", "kPa", {"blower_pulley": 88.0})
    expect(page.locator("#blower_pulley-problem")).to_be_hidden()


def test_answers_that_dont_need_the_bad_entry_stay(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator("[data-more] > summary").click()
    page.fill("#effectiveness", "hot")
    assert figure(page, "rotor_speed") == worked_out("boost", "rotor_speed", "rpm", {})
    assert figure(page, "boost") == NO_CELL
    expect(page.locator("[data-silence] p")).to_contain_text("“hot” is not a number")


def test_the_plate_leads_to_a_bad_entry_that_is_folded_away(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/?slip=40pct")
    expect(page.locator("#slip")).to_be_hidden()
    page.get_by_role("button", name="Go to that entry").click()
    expect(page.locator("#slip")).to_be_focused()
    expect(page.locator("#slip-problem")).to_contain_text("Belt slip is 40 %.")


def test_a_set_up_without_an_answer_says_why_and_shows_no_number(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/?blower_displacement=0.3L&engine_displacement=12L")
    expect(page.locator("[data-silence] p")).to_contain_text("more air than the blower moves")
    assert plate(page) == ""
    for text in page.locator("main td, main dd, [data-number], .lesser-number").all_text_contents():
        assert text.strip()
        assert not re.search(r"NaN|Infinity|undefined|null", text)


def test_choices_that_dont_go_together_are_asked_for_again_not_changed(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}torque/")
    page.select_option("#thread", "3/8-16")
    expect(page.locator("[data-silence] p")).to_contain_text("pick again")
    expect(page.locator("#grade")).to_have_value("")
    offered = page.locator("#grade option").all_inner_texts()
    assert not any(text.startswith("Class ") for text in offered)
    page.select_option("#grade", index=1)
    assert plate(page)
    page.select_option("#thread", "M8x1.25")
    expect(page.locator("#grade option:checked")).to_have_text("Class 8.8")


# --- links and the phone's store -----------------------------------------------------------------


def test_inputs_stand_in_the_address_and_survive_a_reload(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "88")
    page.fill("#engine_speed", "what?")
    page.wait_for_url(re.compile("engine_speed"))
    assert parse_qs(urlsplit(page.url).query) == {
        "blower_pulley": ["88mm"],
        "engine_speed": ["what?"],
    }
    page.reload()
    expect(page.locator("#blower_pulley")).to_have_value("88")
    expect(page.locator("#engine_speed")).to_have_value("what?")
    expect(page.locator("[data-silence] p")).to_contain_text("“what?” is not a number")


def test_a_link_means_the_same_on_a_phone_with_other_units(
    new_phone: NewContext, site_url: str
) -> None:
    page = opened(new_phone(), f"{site_url}boost/")
    page.locator('[data-field="blower_pulley"] [data-unit]').select_option("in")
    page.goto(f"{site_url}boost/?blower_pulley=88")
    ready(page)
    assert plate(page) == worked_out("boost", "boost", "kPa", {"blower_pulley": 88.0})


def test_a_damaged_store_never_stops_a_page_and_can_be_emptied(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    for damage in (
        *("{", '{"schema": 99}', '{"schema": 1, "mode": "pink", "units": {}, "job": {}}'),
        *("[]", "null"),
    ):
        page.evaluate(f"localStorage.setItem('{STORE}', {json.dumps(damage)})")
        page.reload()
        ready(page)
        assert plate(page) == worked_out("boost", "boost", "kPa", {})
        expect(page.locator("[data-notice]")).to_contain_text("can't be read")
        page.get_by_role("button", name="Empty the store").click()
        expect(page.locator("[data-notice]")).to_be_hidden()
        ready(page)


def test_a_phone_that_stores_nothing_still_answers(phone: BrowserContext, site_url: str) -> None:
    phone.add_init_script(
        "for (const name of ['getItem', 'setItem', 'removeItem'])"
        "  Storage.prototype[name] = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    page = opened(phone, f"{site_url}boost/")
    page.locator('[data-field="blower_pulley"] [data-unit]').select_option("in")
    page.fill("#blower_pulley", "3.5")
    assert plate(page)
    expect(page.locator("[data-notice]")).to_be_visible()


def test_the_screen_mode_is_kept(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.get_by_role("radio", name="Sun").check()
    expect(page.locator("html")).to_have_attribute("data-mode", "sunlight")
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-mode", "sunlight")
    assert stored(page)["mode"] == "sunlight"


def test_a_makers_figure_stands_first_as_typed_and_is_kept_for_its_bolt_only(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}torque/")
    page.fill("#maker_torque", "20,5")
    page.fill("#maker_torque-source", "Sheet 4, line 2")
    page.locator("#maker_torque-source").blur()
    makers = page.locator("[data-makers]")
    expect(makers).to_contain_text("20,5 N·m")
    expect(makers).to_contain_text("Sheet 4, line 2")
    page.goto(f"{site_url}torque/")
    expect(makers).to_contain_text("20,5 N·m")
    assert figure(page, "worked_torque") == worked_out("torque", "worked_torque", "Nm", {})
    page.select_option("#thread", "M10x1.5")
    expect(makers).to_be_hidden()
    page.select_option("#thread", "M8x1.25")
    expect(makers).to_contain_text("20,5 N·m")


# --- the whole page ------------------------------------------------------------------------------


TEXTS = (
    *("[data-label]", "[data-value]", "[data-verdict]", "[data-lesser] li", "[data-number]"),
    *("[data-words]", "main td", "main th", ".notes li", ".curve text", ".rule text"),
    "[data-axes]",
)
WORKED_OUT = (".formula", ".legend li", "[data-filled]", ".by", "[data-working]")
DRAWN = ((".curve polyline", "points"), (".rule path", "d"))

IN_SIGHT = """
([texts, drawn]) => {
  const all = (part) => [...document.querySelectorAll(part)];
  // Without the space that markup puts between words.
  const said = (each) => {
    const read = each.cloneNode(true);
    // Of two measures the one of the other system is in the page, and not seen.
    for (const other of read.querySelectorAll(".inch")) other.remove();
    return read.textContent.replace(/\\s+/g, " ").trim();
  };
  return Object.fromEntries([
    ...texts.map((part) => [part, all(part).filter((each) => !each.closest("[hidden]")).map(said)]),
    ...drawn.map(([part, name]) => [part, all(part).map((each) => each.getAttribute(name))]),
  ]);
}
"""
"""The texts in sight and what is drawn, by part of the page."""


TYPED_WHILE_LAID_OUT = """
addEventListener("DOMContentLoaded", () => {
  const page = document.querySelector("[data-lookup]");
  new MutationObserver((_, watch) => {
    if (!("layingOut" in page.dataset)) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => requestAnimationFrame(() => {
      const entry = document.querySelector("#blower_pulley");
      entry.value = "86";
      entry.dispatchEvent(new Event("input", { bubbles: true }));
      globalThis.hasTyped = true;
    })));
  }).observe(page, { attributes: true });
});
"""
"""Types just before the page has been laid out as a whole, when its tables would be let go."""

WORKED_OUT_LATER = (
    "[...document.querySelectorAll('.results .view')].map((each) => each.textContent)"
)


def test_what_is_typed_while_the_page_is_laid_out_is_shown_everywhere(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(TYPED_WHILE_LAID_OUT)
    page = opened(phone, f"{site_url}boost/")
    page.wait_for_function("() => globalThis.hasTyped")
    ready(page)
    shown = page.evaluate(WORKED_OUT_LATER)
    page.goto(f"{site_url}boost/")
    expect(page.locator("#blower_pulley")).to_have_value("86")
    page.wait_for_function("() => globalThis.hasTyped")
    ready(page)
    assert page.evaluate(WORKED_OUT_LATER) == shown


@pytest.fixture(scope="module")
def live_and_still(browser: Browser) -> Iterator[tuple[Page, Page]]:
    """A page as it is, and one without scripts; nothing is entered on either."""
    live = browser.new_page(**PHONE, **NOT_INSTALLED)
    still = browser.new_page(**PHONE, java_script_enabled=False)
    watch = Watch("localhost")
    for page in (live, still):
        watch.over(page.context)
    yield live, still
    live.close()
    still.close()
    assert not watch.foreign
    assert not watch.errors


@pytest.mark.parametrize("key", KEYS)
def test_the_page_without_scripts_shows_what_the_live_one_does(
    live_and_still: tuple[Page, Page], site_url: str, key: str
) -> None:
    live, still = live_and_still
    live.goto(f"{site_url}{key}/")
    ready(live)
    still.goto(f"{site_url}{key}/")
    _same_in_sight(live, still)
    live.locator("[data-why-way]").click()
    expect(live.locator("[data-why-body]")).to_be_attached()
    expect(live.locator("[data-settled]")).to_be_attached()
    still.goto(f"{site_url}{key}/why/")
    _same_in_sight(live, still, WORKED_OUT, ())


def _same_in_sight(
    live: Page, still: Page, texts: Sequence[str] = TEXTS, drawn: Sequence[Sequence[str]] = DRAWN
) -> None:
    shown, written = (page.evaluate(IN_SIGHT, [texts, drawn]) for page in (live, still))
    assert shown[texts[0]]
    for part, found in shown.items():
        assert found == written[part], part


def test_the_plate_stays_in_sight_and_keeps_its_height_while_numbers_change(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator("#engine_speed").scroll_into_view_if_needed()
    page.mouse.wheel(0, 900)
    page.wait_for_timeout(300)
    height = "document.querySelector('[data-plate]').offsetHeight"
    top = "Math.round(document.querySelector('[data-plate]').getBoundingClientRect().top)"
    assert page.evaluate(top) == 0
    before = page.evaluate(height)
    for pulley in ("110", "74", "70", "88"):
        page.fill("#blower_pulley", pulley)
        assert page.evaluate(height) == before
    page.fill("#blower_pulley", "4")
    assert page.evaluate(height) <= before + 40


@pytest.mark.parametrize(("key", "part"), [("boost", "common"), ("plan", "air"), ("plan", "drive")])
def test_pages_of_different_versions_work_nothing_out(
    key: str, part: str, phone: BrowserContext, site_url: str, site: Path
) -> None:
    path = site / "static" / "lookups" / f"{part}.json"
    text = path.read_text(encoding="utf-8")
    older = text.replace(json.loads(text)["version"], "another")
    phone.route(
        f"**/lookups/{part}.json",
        lambda route: route.fulfill(body=older, content_type="application/json"),
    )
    page = phone.new_page()
    page.goto(f"{site_url}{key}/?blower_pulley=88mm")
    expect(page.locator("[data-silence] p")).to_contain_text("different versions")
    assert plate(page) == ""
    expect(page.get_by_role("button", name="Load again")).to_be_visible()
    expect(page.locator("[data-form]")).to_be_hidden()


def test_parts_are_added_taken_out_and_linked(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}stack/")
    rows = page.locator("[data-rows] > [data-row]")
    count = rows.count()
    before = plate(page)
    page.get_by_role("button", name="Add one").click()
    expect(rows).to_have_count(count + 1)
    assert plate(page) != before
    page.wait_for_url(re.compile(r"\?"))
    page.reload()
    expect(rows).to_have_count(count + 1)
    rows.last.get_by_role("button", name="Take this one out").click()
    expect(rows).to_have_count(count)
    assert plate(page) == before


def test_a_wanted_boost_offers_the_pulleys_on_either_side(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/?wanted_boost=84kPa")
    wanted = lookup("boost").evaluate({"wanted_boost": 84.0})["pulley_for_boost"]
    picks = page.locator("[data-picks] > li")
    expect(picks).to_have_count(2)
    texts = picks.locator(".pick-head b").all_text_contents()
    sizes = [float(text.split()[0]) for text in texts]
    assert sizes[0] < wanted <= sizes[1]
    for size, pick in zip(sizes, picks.all(), strict=True):
        expect(pick).to_contain_text(
            worked_out("boost", "boost", "kPa", {"blower_pulley": size}) + " kPa"
        )
    page.get_by_role("button", name=f"Use {sizes[0]:g} mm").click()
    expect(page.locator("#blower_pulley")).to_have_value(f"{sizes[0]:g}")


def test_a_name_in_a_folds_summary_leads_to_its_entry(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    fold = page.locator("[data-more]").filter(has=page.locator("#altitude"))
    fold.locator('summary [data-to="altitude"]').click()
    expect(fold).to_have_attribute("open", "")
    expect(page.locator("#altitude")).to_be_focused()
    expect(page.locator("#altitude")).to_be_in_viewport()


@pytest.mark.parametrize("key", [*KEYS, "", *OTHERS])
def test_a_page_asks_for_few_files_and_for_each_once(
    key: str, new_phone: NewContext, site_url: str
) -> None:
    page = new_phone().new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.removeprefix(site_url)))
    page.goto(f"{site_url}{key}/" if key else site_url)
    page.wait_for_load_state("networkidle")
    if key in KEYS:
        page.wait_for_selector("[data-whole]")
        assert {f"static/lookups/{part}.json" for part in parts_of([key])} <= set(asked)
    assert len(asked) == len(set(asked))
    assert len(asked) <= 10, asked
