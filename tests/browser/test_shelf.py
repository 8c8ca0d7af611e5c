"""The shop's own pulleys: entered once, stepped along everywhere, kept on the phone."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.axe import violations
from tests.browser.conftest import INSTALLED, NewContext, installed
from tests.browser.servers import SiteServer
from tests.browser.test_pages import opened, ready

FIGURE = {
    "schema": 1,
    "id": "lid",
    "rev": 1,
    "job": "This job",
    "name": "Lid",
    "thread": "M8x1.25",
    "grade": "",
    "friction": "",
    "text": "10",
    "unit": "Nm",
    "angle": "",
    "reuse": "",
    "sequence": "",
    "source": "Sheet 2",
    "page": "",
    "changed": "2024-05-01T10:00:00.000Z",
}


def store_as(page: Page, version: int, collections: list[str]) -> None:
    """Make the record as another version of the pages made it, with a figure in it."""
    page.evaluate(
        """([version, collections, figure]) => new Promise((resolve, reject) => {
          const request = indexedDB.open("bay-reckoner", version);
          request.onerror = () => reject(request.error);
          request.onupgradeneeded = () => {
            for (const each of collections) request.result.createObjectStore(each, {keyPath: "id"});
            request.transaction.objectStore("figures").put(figure);
          };
          request.onsuccess = () => { request.result.close(); resolve(); };
        })""",
        [version, collections, FIGURE],
    )


def record(page: Page) -> dict[str, Any]:
    """The record's version and all that it holds, read past the page's own scripts."""
    found: dict[str, Any] = page.evaluate(
        """() => new Promise((resolve, reject) => {
          const request = indexedDB.open("bay-reckoner");
          request.onerror = () => reject(request.error);
          request.onsuccess = () => {
            const database = request.result;
            const found = { version: database.version };
            const names = [...database.objectStoreNames];
            const reading = database.transaction(names);
            for (const name of names)
              reading.objectStore(name).getAll().onsuccess = ({ target }) => {
                found[name] = target.result;
              };
            reading.oncomplete = () => { database.close(); resolve(found); };
          };
        })"""
    )
    return found


def put(page: Page, text: str, kind: str = "outside") -> None:
    """Enter a pulley, as a person does."""
    page.evaluate("document.querySelector('[data-shelf]').open = true")
    page.fill("#shelf-size", text)
    page.locator(f'[data-kinds] .chip:has([value="{kind}"])').click()
    page.get_by_role("button", name="Put it on the list").click()


def shelf(page: Page) -> Locator:
    """The pulleys on the list, each as it was typed."""
    return page.locator("[data-shelf-list] b")


def put_all(page: Page, *texts: str) -> None:
    """Enter several pulleys, one after the other."""
    for text in texts:
        count = shelf(page).count()
        put(page, text)
        expect(shelf(page)).to_have_count(count + 1)


def rows(page: Page) -> Locator:
    """The pulleys that the first chart has rows for."""
    return page.locator('[data-chart="0"] tbody th')


def up(page: Page) -> Locator:
    return page.get_by_role("button", name="Blower pulley: one step up", exact=True)


def down(page: Page) -> Locator:
    return page.get_by_role("button", name="Blower pulley: one step down", exact=True)


def problem(page: Page) -> Locator:
    return page.locator("[data-size-problem]")


# --- entering and stepping -----------------------------------------------------------------------


def test_pulleys_entered_once_are_stepped_along_tabled_and_offered(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    expect(page.locator("[data-stepped]")).to_have_text("− and + step along examples of ours.")
    expect(page.locator('[data-chart="0"] [data-axes]')).to_contain_text("examples of ours")
    put_all(page, "3.75 in", "92", "88.3 mm")
    expect(shelf(page)).to_have_text(["88.3 mm", "92 mm", "3.75 in"])
    expect(page.locator("[data-stepped]")).to_have_text("− and + step along the shop's 3 pulleys.")
    expect(page.locator("[data-shelf-brief]")).to_have_text("3 of them, 88.3 mm to 3.75 in")
    expect(rows(page)).to_have_text(["88.3", "92 (yours)", "95.25"])
    expect(page.locator('[data-chart="0"] [data-axes]')).to_contain_text("the shop's own")
    up(page).click()
    expect(page.locator("#blower_pulley")).to_have_value("95.25")
    # The pulley is the one that was typed, and so is the link.
    page.wait_for_url(re.compile(r"blower_pulley=3\.75in$"))
    expect(rows(page)).to_have_text(["88.3", "92", "95.25 (yours)"])
    expect(up(page)).to_have_attribute("aria-disabled", "true")
    page.evaluate("document.querySelectorAll('.more').forEach(each => { each.open = true; })")
    page.fill("#wanted_boost", "84")
    expect(page.locator("[data-picks] .pick-head b")).to_have_text(["88.3 mm", "92 mm"])
    expect(page.locator("p[data-asked]")).to_contain_text("The shop's nearest give:")


def test_every_page_that_asks_for_a_pulley_steps_along_them_after_a_reload(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "3.75 in", "86.2")
    for key in ("plan", "slip", "belt"):
        page.goto(f"{site_url}{key}/")
        ready(page)
        expect(page.locator("[data-stepped]")).to_have_text(
            "− and + step along the shop's 2 pulleys."
        )
        up(page).click()
        expect(page.locator("#blower_pulley")).to_have_value("95.25")
        down(page).click()
        expect(page.locator("#blower_pulley")).to_have_value("86.2")
        expect(page.locator("[data-kept-state]")).to_have_text("kept")


def test_the_next_pulleys_up_and_down_on_the_plan_are_the_shops(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}plan/")
    put_all(page, "3.75 in", "86.2", "110")
    expect(page.locator("[data-beside]:visible")).to_have_text(
        ["Compare with 86.2 mm", "Compare with 95.25 mm"]
    )
    page.get_by_role("button", name="Compare with 95.25 mm").click()
    page.wait_for_url(re.compile(r"pulley_b=3\.75in"))
    expect(page.locator("[data-beside]:visible")).to_have_text(["Compare with 86.2 mm"])


def test_an_inch_shop_steps_along_examples_in_eighths_of_an_inch(
    phone: BrowserContext, site_url: str
) -> None:
    home = phone.new_page()
    home.goto(site_url)
    home.locator("label").filter(has_text="in, psi, lb·ft").click()
    page = opened(phone, f"{site_url}boost/")
    for size in ("3.75", "3.875", "4"):
        up(page).click()
        expect(page.locator("#blower_pulley")).to_have_value(size)
    expect(rows(page).filter(has_text=re.compile(r"^3\.75$"))).to_have_count(1)
    put(page, "3 5/8")
    expect(shelf(page)).to_have_text(["3.625 in"])


def test_a_stated_pitch_diameter_is_stepped_to_as_the_diameter_that_the_page_asks_for(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    put(page, "100", "pitch")
    expect(shelf(page)).to_have_text(["100 mm"])
    # ISO 9981: the cord runs 2 mm outside the effective line, either side.
    up(page).click()
    expect(page.locator("#blower_pulley")).to_have_value("96")


# --- what is refused, deleted, brought back ------------------------------------------------------


def test_what_is_no_pulley_or_is_there_already_is_refused_in_words(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "92")
    for text, said in (
        ("", "The diameter is empty. This page takes 40 to 250 mm."),
        ("blue", "“blue” is not a number"),
        ("92 blue", "“blue” is not a unit of this entry. Use mm or in."),
        ("900", "The diameter is 900 mm. This page takes 40 to 250 mm. Measure over the rib tips"),
        ("0.5 in", "The diameter is 0.5 in. This page takes 1.58 to 9.84 in."),
        ("92.0", "92 mm outside is on the list already"),
    ):
        put(page, text)
        expect(problem(page)).to_contain_text(said)
        expect(shelf(page)).to_have_count(1)
    put(page, "96", "pitch")
    expect(problem(page)).to_contain_text("92 mm outside is on the list already, the same size.")
    page.fill("#shelf-size", "93")
    expect(problem(page)).to_be_hidden()
    assert len(record(page)["pulleys"]) == 1


def test_a_deleted_pulley_can_be_brought_back(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "92", "3.75 in")
    page.get_by_role("button", name="Delete 3.75 in outside").click()
    expect(shelf(page)).to_have_text(["92 mm"])
    expect(page.locator("[data-stepped]")).to_have_text("− and + step to the shop's one pulley.")
    page.get_by_role("button", name="Bring it back").click()
    expect(shelf(page)).to_have_text(["92 mm", "3.75 in"])
    for name in ("92 mm", "3.75 in"):
        page.get_by_role("button", name=f"Delete {name} outside").click()
        expect(shelf(page).filter(has_text=name)).to_have_count(0)
    expect(page.locator("[data-stepped]")).to_have_text("− and + step along examples of ours.")
    page.reload()
    expect(shelf(page)).to_have_count(0)


# --- where it is kept ----------------------------------------------------------------------------


def test_another_tab_steps_along_the_new_pulley_at_once(
    phone: BrowserContext, site_url: str
) -> None:
    other = opened(phone, f"{site_url}plan/")
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "97.5")
    expect(shelf(other)).to_have_text(["97.5 mm"])
    up(other).click()
    expect(other.locator("#blower_pulley")).to_have_value("97.5")
    page.get_by_role("button", name="Delete 97.5 mm outside").click()
    expect(shelf(other)).to_have_count(0)


def test_the_list_is_there_with_no_signal(
    site: Path, new_phone: NewContext, serve: Callable[[Path], SiteServer]
) -> None:
    phone, server = new_phone(**INSTALLED), serve(site)
    installed(phone.new_page(), server.url).close()
    server.kill()
    put_all(opened(phone, f"{server.url}boost/"), "3.75 in")
    page = opened(phone, f"{server.url}slip/")
    expect(shelf(page)).to_have_text(["3.75 in"])
    up(page).click()
    expect(page.locator("#blower_pulley")).to_have_value("95.25")


def test_the_list_goes_to_another_phone_with_the_record(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    put_all(opened(phone, f"{site_url}boost/"), "3.75 in", "92")
    page = opened(phone, f"{site_url}figures/")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    path = tmp_path / "record.json"
    download.value.save_as(path)
    other = new_phone()
    put_all(opened(other, f"{site_url}boost/"), "92")
    there = opened(other, f"{site_url}figures/")
    for said in ("1 added, 1 were here already.", "0 added, 2 were here already."):
        there.set_input_files("[data-import]", path)
        expect(there.locator("[data-transfer]")).to_have_text(said)
    expect(shelf(opened(other, f"{site_url}boost/"))).to_have_text(["92 mm", "3.75 in"])


def test_a_phone_that_keeps_nothing_says_so_and_steps_along_examples(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    page = opened(phone, f"{site_url}boost/")
    put(page, "92")
    expect(problem(page)).to_contain_text("Not kept: This phone keeps nothing for this page")
    expect(page.locator("#shelf-size")).to_have_value("92")
    up(page).click()
    expect(page.locator("#blower_pulley")).to_have_value("96")


def test_a_damaged_pulley_is_said_and_left_where_it_is(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "97.5")
    page.evaluate(
        """() => new Promise((resolve) => {
          const request = indexedDB.open("bay-reckoner");
          request.onsuccess = () => {
            const change = request.result.transaction("pulleys", "readwrite");
            const whole = { id: "a", schema: 1, rev: 1, text: "90", unit: "mm", kind: "outside" };
            for (const wrong of [
              { text: "-4" }, { text: "1e999" }, { kind: "constructor" }, { unit: "ell" },
            ])
              change.objectStore("pulleys").put({ ...whole, ...wrong, id: JSON.stringify(wrong) });
            change.oncomplete = () => { request.result.close(); resolve(); };
          };
        })"""
    )
    page.reload()
    expect(shelf(page)).to_have_text(["97.5 mm"])
    expect(page.locator("[data-shelf-problem]")).to_contain_text("4 entries")
    assert len(record(page)["pulleys"]) == 5


# --- how it looks --------------------------------------------------------------------------------


def test_axe_finds_nothing_with_pulleys_a_problem_and_undo(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    put_all(page, "92", "3.75 in")
    page.get_by_role("button", name="Delete 92 mm outside").click()
    put(page, "what")
    expect(problem(page)).to_be_visible()
    for mode in ("auto", "dark", "sunlight"):
        page.locator(f'[data-modes] label:has([value="{mode}"])').click()
        found = violations(page, "[data-shelf]")
        assert not [(mode, each["id"], each["nodes"][0]["html"]) for each in found]


def test_the_list_fits_the_narrowest_phone(new_phone: NewContext, site_url: str) -> None:
    narrow = new_phone(viewport={"width": 320, "height": 568})
    page = opened(narrow, f"{site_url}boost/")
    put_all(page, "123.456789012345", "3.74015748031496 in")
    assert page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )
    for touched in page.locator("[data-shelf] button:visible, [data-shelf] input:visible").all():
        box = touched.bounding_box()
        assert box
        assert box["height"] >= 48
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 320


# --- the record ----------------------------------------------------------------------------------


def test_a_record_from_before_the_shelf_keeps_all_it_has_and_takes_pulleys(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}lookups.json")
    store_as(page, 1, ["maps", "figures"])
    page.goto(f"{site_url}figures/")
    expect(page.locator(".card h3")).to_have_text(["Lid"])
    found = record(page)
    assert found["version"] >= 2
    (figure,) = found["figures"]
    assert figure["values"]["maker_torque"] == {"text": FIGURE["text"], "unit": FIGURE["unit"]}
    assert figure["choices"]["thread"] == FIGURE["thread"]
    assert [figure[key] for key in ("id", "name", "source")] == ["lid", "Lid", "Sheet 2"]
    assert found["pulleys"] == []


def test_a_record_from_a_newer_version_is_left_alone_and_said(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}lookups.json")
    store_as(page, 99, ["maps", "figures", "later"])
    page.goto(f"{site_url}figures/")
    expect(page.locator("[data-kept-problem]")).to_contain_text("newer version of this page")
    assert record(page)["figures"] == [FIGURE]


def test_a_file_of_the_first_version_is_taken_in(
    phone: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    path = tmp_path / "record.json"
    first = {"kind": "bay-reckoner record", "schema": 1, "figures": [FIGURE], "maps": []}
    path.write_text(json.dumps(first))
    page = phone.new_page()
    page.goto(f"{site_url}figures/")
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    page.set_input_files("[data-import]", path)
    expect(page.locator("[data-transfer]")).to_have_text("1 added.")
    expect(page.locator(".card h3")).to_have_text(["Lid"])
