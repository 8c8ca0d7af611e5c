"""Makers' figures: entered once, first everywhere, questioned in words and never changed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from site_src.lookups import lookup
from tests.browser.axe import violations
from tests.browser.conftest import NewContext

LONG = (
    "Lower blower manifold to cylinder head, both banks, with the thin washers, "
    "Zylinderkopfverschraubungsanzugsdrehmoment"
)


def opened(context: BrowserContext, address: str) -> Page:
    """Open the page and wait until a figure can be entered."""
    page = context.new_page()
    page.goto(address)
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    return page


def enter(shop: Page, name: str, torque: str, **more: str) -> Locator:
    """Enter a figure as the instructions print it, and keep it; return its card."""
    shop.fill("#figure-name", name)
    shop.fill("#maker_torque", torque)
    for box in ("source", "page", "sequence"):
        if box in more:
            shop.fill(f"#figure-{box}", more[box])
    if "angle" in more:
        shop.fill("#maker_angle", more["angle"])
    for choice in ("thread", "grade", "friction"):
        if choice in more:
            shop.select_option(f"#{choice}", more[choice])
    if "reuse" in more:
        shop.locator('[data-field="reuse"] .chip').filter(has_text=more["reuse"]).click()
    shop.locator("[data-keep]").click()
    card = shop.locator(".card").filter(has=shop.get_by_role("heading", name=name, exact=True))
    expect(card).to_be_visible()
    return card


@pytest.fixture
def address(site_url: str) -> str:
    return f"{site_url}figures/"


# --- entering and keeping -------------------------------------------------------------------------


def test_a_figure_is_kept_with_all_that_the_instructions_say(
    phone: BrowserContext, address: str
) -> None:
    page = opened(phone, address)
    card = enter(
        page,
        "Manifold to head",
        "18 lb-ft",
        angle="90",
        grade="10.9",
        friction="oiled",
        reuse="Single use",
        sequence="Centre outward, three stages",
        source="Fitting sheet, edition 3",
        page="page 12, line 4",
    )
    for _ in range(2):
        for said in (
            "18 lb·ft + 90°",
            "M8 × 1.25",
            "10.9",
            "Oiled steel",
            "Fitting sheet, edition 3, page 12, line 4",
            "Single use: new bolts each time.",
            "Centre outward, three stages",
        ):
            expect(card).to_contain_text(said)
        page.reload()
    expect(page.locator("#figure-name")).to_have_value("")


@pytest.mark.parametrize(
    ("name", "torque", "said"),
    [("", "25", "Give it a name"), ("Lid", "", "Enter what the sheet gives")],
)
def test_what_is_lacking_is_said(
    phone: BrowserContext, address: str, name: str, torque: str, said: str
) -> None:
    page = opened(phone, address)
    page.fill("#figure-name", name)
    page.fill("#maker_torque", torque)
    page.locator("[data-keep]").click()
    expect(page.locator("[data-go-line]")).to_contain_text(re.compile("Give it a name|Enter what"))
    expect(page.locator("main")).to_contain_text(said)
    expect(page.locator(".card")).to_have_count(0)


def test_a_figure_is_changed_and_can_be_left_as_it_was(phone: BrowserContext, address: str) -> None:
    page = opened(phone, address)
    card = enter(page, "Lid", "10", source="Sheet 2")
    card.get_by_role("button", name="Change").click()
    expect(page.locator("#figure-source")).to_have_value("Sheet 2")
    page.fill("#maker_torque", "12")
    page.locator("[data-give-up]").click()
    expect(card).to_contain_text("10 N·m")
    card.get_by_role("button", name="Change").click()
    page.fill("#maker_torque", "12")
    page.locator("[data-keep]").click()
    expect(card).to_contain_text("12 N·m")
    expect(page.locator(".card")).to_have_count(1)


def test_a_deleted_figure_can_be_brought_back(phone: BrowserContext, address: str) -> None:
    page = opened(phone, address)
    card = enter(page, "Lid", "10")
    card.get_by_role("button", name="Delete").click()
    expect(card).to_have_count(0)
    page.reload()
    expect(card).to_have_count(0)
    again = enter(page, "Lid", "10")
    again.get_by_role("button", name="Delete").click()
    page.locator("[data-undo]").get_by_role("button", name="Bring it back").click()
    expect(again).to_be_visible()


def test_jobs_are_kept_apart_and_each_finds_its_own(phone: BrowserContext, address: str) -> None:
    page = opened(phone, address)
    enter(page, "Lid", "10")
    page.select_option("#job-pick", label="A new job …")
    page.fill("#job-name", "Green truck")
    page.locator("[data-job-take]").click()
    expect(page.locator("#job-pick")).to_have_value("Green truck")
    expect(page.locator(".card")).to_have_count(0)
    enter(page, "Manifold", "25")
    page.reload()
    expect(page.locator(".card h3")).to_have_text(["Manifold"])
    page.select_option("#job-pick", label="This job")
    expect(page.locator(".card h3")).to_have_text(["Lid"])


def test_a_job_that_is_named_on_the_front_page_keeps_its_figures(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    page = opened(phone, address)
    enter(page, "Lid", "10")
    front = phone.new_page()
    front.goto(site_url)
    front.fill("#job-name", "Green truck")
    front.locator("#job-name").blur()
    # Shown once it is kept.
    expect(front.locator("[data-job]")).to_have_text("Green truck")
    page.reload()
    expect(page.locator("#job-pick")).to_have_value("Green truck")
    expect(page.locator("#job-pick option")).to_have_text(["Green truck", "A new job …"])
    expect(page.locator(".card h3")).to_have_text(["Lid"])


def test_figures_go_to_another_phone_as_a_file(
    phone: BrowserContext, new_phone: NewContext, address: str, tmp_path: Path
) -> None:
    page = opened(phone, address)
    enter(page, "Manifold", "221 lb-in", source="Sheet 1")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    path = tmp_path / "record.json"
    download.value.save_as(path)
    other = opened(new_phone(), address)
    enter(other, "Lid", "10")
    for said in ("1 added.", "0 added, 1 were here already."):
        other.set_input_files("[data-import]", path)
        expect(other.locator("[data-transfer]")).to_have_text(said)
    expect(other.locator(".card h3")).to_have_text(["Lid", "Manifold"])
    expect(other.locator(".card").nth(1)).to_contain_text("221 lb·in")
    # Changed on the one phone, it is not written over on the other unless that is said.
    card = page.locator(".card")
    card.get_by_role("button", name="Change").click()
    page.fill("#maker_torque", "230")
    page.locator("[data-keep]").click()
    expect(card).to_contain_text("230 lb·in")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    download.value.save_as(path)
    other.set_input_files("[data-import]", path)
    expect(other.locator("[data-differs]")).to_contain_text(
        "Maker's figure, Manifold 230 lb·in, Sheet 1, yours 221 lb·in, Sheet 1"
    )
    expect(other.locator(".card").nth(1)).to_contain_text("221 lb·in")
    other.get_by_role("button", name="Keep both figures").click()
    expect(other.locator("[data-transfer]")).to_contain_text("1 differ from what is here")
    expect(other.locator(".card h3")).to_have_text(["Lid", "Manifold", "Manifold"])
    other.get_by_role("button", name="Undo").click()
    expect(other.locator(".card h3")).to_have_text(["Lid", "Manifold"])
    other.set_input_files("[data-import]", path)
    other.get_by_role("button", name="Take it into “This job”").click()
    expect(other.locator(".card h3")).to_have_text(["Lid", "Manifold"])
    expect(other.locator(".card").nth(1)).to_contain_text("230 lb·in")


def test_a_long_name_breaks_and_stays_on_the_screen(new_phone: NewContext, address: str) -> None:
    narrow = new_phone(viewport={"width": 320, "height": 568})
    page = opened(narrow, address)
    enter(page, LONG, "25", source=LONG, sequence=LONG)
    page.wait_for_timeout(100)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.goto(address.replace("figures", "torque"))
    expect(page.locator("[data-maker-list] h3")).to_have_text(LONG)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.goto(address.replace("figures", "tightening"))
    expect(page.locator("[data-figure-pick]")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


# --- questions ------------------------------------------------------------------------------------


def judged(page: Page, typed: str) -> Locator:
    """What is said about a torque as it is typed."""
    page.fill("#maker_torque", typed)
    return page.locator("[data-judged]")


def test_inch_pounds_taken_for_foot_pounds_are_questioned_and_left_alone(
    phone: BrowserContext, address: str
) -> None:
    page = opened(phone, address)
    box = judged(page, "177 lb-ft")
    expect(box).to_have_attribute("data-status", "beyond")
    expect(box).to_contain_text("look again")
    expect(box).to_contain_text("are these pound-inches?")
    expect(box).to_contain_text("As 177 lb·in the same number would be plausible.")
    expect(page.locator("#maker_torque")).to_have_value(re.compile("177"))
    card = enter(page, "Lid", "177 lb-ft")
    expect(card).to_contain_text("177 lb·ft")
    expect(card).to_contain_text("are these pound-inches?")


def test_a_plausible_figure_is_left_in_peace_with_the_worked_out_one_beside_it(
    phone: BrowserContext, address: str
) -> None:
    page = opened(phone, address)
    box = judged(page, "20")
    expect(box).to_have_attribute("data-status", "within")
    worked = lookup("torque").evaluate({})["worked_torque"]
    expect(box).to_contain_text(f"Worked out: {worked:.1f} N·m, for M8 × 1.25")
    expect(box).to_contain_text("Not stated, so taken: Class 8.8, Oiled steel.")
    page.select_option("#grade", "10.9")
    stronger = lookup("torque").evaluate({"grade": "10.9"})["worked_torque"]
    expect(box).to_contain_text(f"Worked out: {stronger:.1f} N·m")
    expect(box).to_contain_text("Not stated, so taken: Oiled steel.")


@pytest.mark.parametrize(
    ("typed", "unit", "status"),
    [
        ("14", "lb·ft", "within"),
        ("2", "lb·ft", "beyond"),
        ("170", "lb·in", "within"),
        ("14", "lb·in", "beyond"),
    ],
)
def test_each_unit_is_judged_in_its_own_size(
    phone: BrowserContext, address: str, typed: str, unit: str, status: str
) -> None:
    page = opened(phone, address)
    expect(judged(page, f"{typed} {unit}")).to_have_attribute("data-status", status)


def test_a_torque_before_an_angle_only_seats_and_is_not_compared(
    phone: BrowserContext, address: str
) -> None:
    page = opened(phone, address)
    page.fill("#maker_angle", "90")
    box = judged(page, "5")
    expect(box).to_have_attribute("data-status", "")
    expect(box).to_contain_text("only seats the parts")


# --- first everywhere -----------------------------------------------------------------------------


def on_torque_page(context: BrowserContext, site_url: str, query: str = "") -> Page:
    """The torque page, once it knows the figures."""
    page = context.new_page()
    page.goto(f"{site_url}torque/{query}")
    expect(page.locator("[data-maker-figures]")).to_be_visible()
    return page


def test_the_figure_comes_first_on_the_torque_page_and_everything_follows_it(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    enter(opened(phone, address), "Manifold", "24", source="Sheet 1", page="page 3")
    page = on_torque_page(phone, site_url)
    makers = page.locator("[data-makers]")
    expect(makers).to_contain_text("24 N·m")
    expect(makers).to_contain_text("Sheet 1, page 3")
    expect(page.locator("[data-plate] [data-value]")).to_have_text("24.0")
    clamp = lookup("torque").evaluate({"maker_torque": 24.0})["clamp_load"]
    expect(page.locator('[data-lesser] [data-answer="clamp_load"]')).to_contain_text(f"{clamp:.1f}")
    # Another thread has no figure; back at this one it is there again.
    page.select_option("#thread", "M10x1.5")
    expect(makers).to_be_hidden()
    expect(page.locator("[data-maker-none]")).to_contain_text("Nothing is kept")


def test_a_figure_that_was_changed_is_the_new_one_on_the_torque_page(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    page = opened(phone, address)
    card = enter(page, "Manifold", "24")
    expect(on_torque_page(phone, site_url).locator("[data-makers]")).to_contain_text("24 N·m")
    page.bring_to_front()
    card.get_by_role("button", name="Change").click()
    page.fill("#maker_torque", "22")
    page.locator("[data-keep]").click()
    expect(card).to_contain_text("22 N·m")
    expect(on_torque_page(phone, site_url).locator("[data-makers]")).to_contain_text("22 N·m")


def test_a_figure_for_another_grade_or_job_is_not_taken(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    page = opened(phone, address)
    enter(page, "Studs", "40", grade="12.9")
    elsewhere = on_torque_page(phone, site_url)
    expect(elsewhere.locator("[data-makers]")).to_be_hidden()
    elsewhere.select_option("#grade", "12.9")
    expect(elsewhere.locator("[data-makers]")).to_contain_text("40 N·m")
    page.select_option("#job-pick", label="A new job …")
    page.fill("#job-name", "Green truck")
    page.locator("[data-job-take]").click()
    expect(page.locator(".card")).to_have_count(0)
    expect(on_torque_page(phone, site_url, "?grade=12.9").locator("[data-makers]")).to_be_hidden()


def test_of_two_figures_for_a_thread_one_is_picked(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    page = opened(phone, address)
    enter(page, "Manifold", "24")
    enter(page, "Lid", "10")
    torque = on_torque_page(phone, site_url)
    expect(torque.locator("[data-makers]")).to_contain_text("Pick one below")
    lid = torque.locator("[data-maker-picks] .card").filter(has_text="Lid")
    lid.get_by_role("button", name="Use this figure").click()
    expect(torque.locator("[data-makers]")).to_contain_text("10 N·m")
    expect(torque.locator("[data-maker-picks] .card")).to_have_count(0)
    used = torque.locator("[data-maker-list] .card").filter(has_text="Lid")
    expect(used).to_contain_text("In use above.")


def test_a_figure_typed_over_stays_typed_over(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    enter(opened(phone, address), "Manifold", "24")
    page = on_torque_page(phone, site_url)
    page.fill("#maker_torque", "")
    expect(page.locator("[data-makers]")).to_be_hidden()
    page.fill("#maker_torque", "21")
    expect(page.locator("[data-makers]")).to_contain_text("21 N·m")
    page.get_by_role("link", name="Also kept: 24 N·m").click()
    page.get_by_role("button", name="Use this figure").click()
    expect(page.locator("[data-makers]")).to_contain_text("24 N·m")


def test_a_map_takes_figure_source_and_warning(
    phone: BrowserContext, site_url: str, address: str
) -> None:
    card = enter(
        opened(phone, address),
        "Manifold",
        "24",
        angle="60",
        reuse="into yield",
        source="Sheet 1",
    )
    card.get_by_role("link", name="Make a map").click()
    page = card.page
    expect(page.locator("[data-go-line]")).to_have_text("Missing: order.")
    page.locator('[data-option="worked"]').click()
    expect(page.locator("[data-go-line]")).to_have_text("7.2 → 14.4 → 24 N·m, then 60°")
    expect(page.locator("[data-figure-warned]")).to_contain_text("Tightened into yield")
    expect(page.locator("#map-title")).to_have_value("Manifold")
    page.wait_for_timeout(400)
    page.reload()
    expect(page.locator("[data-figure-warned]")).to_contain_text("Tightened into yield")
    # Another torque is no longer the maker's.
    page.fill("#torque", "20")
    expect(page.locator("[data-figure-warned]")).to_be_hidden()
    expect(page.locator("[data-figure-pick]")).to_have_value("")


def test_a_map_is_made_from_what_the_torque_page_works_out(
    phone: BrowserContext, site_url: str
) -> None:
    page = on_torque_page(phone, site_url, "?maker_torque=30Nm&drive=offset&extension=40mm")
    page.locator("[data-maker-map]").click()
    expect(page.locator("#torque")).to_have_value("30")
    expect(page.locator("#extension")).to_have_value("40")


# --- everyone -------------------------------------------------------------------------------------


def test_axe_finds_nothing_with_figures_questions_and_undo(
    phone: BrowserContext, address: str
) -> None:
    page = opened(phone, address)
    enter(page, "Manifold", "177 lb-ft", reuse="Single use")
    enter(page, "Lid", "10").get_by_role("button", name="Delete").click()
    judged(page, "2")
    expect(page.locator("[data-undo]")).to_be_visible()
    for mode in ("auto", "dark", "sunlight"):
        page.locator(f'[data-modes] label:has([value="{mode}"])').click()
        found = violations(page)
        assert not [(mode, each["id"], each["nodes"][0]["html"]) for each in found]


def test_a_phone_that_keeps_nothing_says_so(phone: BrowserContext, address: str) -> None:
    phone.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    page = opened(phone, address)
    expect(page.locator("[data-kept-problem]")).to_contain_text("keeps nothing for this page")
    page.fill("#figure-name", "Lid")
    page.fill("#maker_torque", "10")
    page.locator("[data-keep]").click()
    expect(page.locator("[data-go-line]")).to_contain_text("Not kept")
    expect(page.locator("#figure-name")).to_have_value("Lid")
