"""Makers' figures in one place: the torque page, the map and the list show the same, and a sheet's
limits, pulleys and injectors stand first on the pages that ask for them."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.conftest import NewContext
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer
from tests.browser.test_figures import opened
from tests.browser.test_pages import opened as page_of
from tests.browser.test_pages import ready
from tests.browser.test_truck import kept, whose

BEFORE = json.loads(Path(__file__).with_name("kept_before.json").read_text(encoding="utf-8"))

BEFORE_HOLDS = json.loads(
    Path(__file__).with_name("kept_before_holds.json").read_text(encoding="utf-8")
)


def unfold(page: Page) -> None:
    """Open all that is folded away."""
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")


def state(page: Page) -> Locator:
    """What the torque page says of whether its figure is kept."""
    return page.locator('[data-field="maker_torque"] [data-kept-for]')


def sheet(list_: Page, kind: str, values: dict[str, str], **texts: str) -> Locator:
    """Enter what a sheet says, and keep it; return the cards of the list."""
    if list_.input_value("#kind") != kind:
        list_.select_option("#kind", kind)
    for key, text in values.items():
        list_.fill(f"#{key}", text)
    for key, text in texts.items():
        list_.fill(f"#figure-{key}", text)
    list_.locator("[data-keep]").click()
    expect(list_.locator("[data-go-line]")).to_have_text("Kept.")
    return list_.locator(".card")


# --- one store -----------------------------------------------------------------------------------


def test_what_is_typed_on_the_torque_page_is_in_the_list_and_for_the_map_and_follows_the_list(
    phone: BrowserContext, site_url: str
) -> None:
    torque = page_of(phone, f"{site_url}torque/")
    torque.fill("#maker_torque", "22,5")
    torque.fill("#maker_torque-source", "Sheet 4")
    torque.fill("#maker_torque-page", "12")
    expect(state(torque)).to_contain_text("Kept on this phone for M8")
    expect(torque.locator("[data-makers]")).to_contain_text("Sheet 4, page 12")
    expect(torque.locator("[data-maker-list] .card")).to_have_count(1)
    figures = opened(phone, f"{site_url}figures/")
    card = figures.locator(".card")
    for said in ("22,5 N·m", "M8 × 1.25", "Class 8.8", "Oiled steel", "Sheet 4, page 12"):
        expect(card).to_contain_text(said)
    expect(figures.locator("[data-kept-count]")).to_have_text("1 kept")
    figure_map = phone.new_page()
    figure_map.goto(f"{site_url}tightening/")
    figure_map.wait_for_selector("[data-figure-pick] option:nth-child(2)", state="attached")
    figure_map.select_option("[data-figure-pick]", index=1)
    expect(figure_map.locator("#torque")).to_have_value("22,5")
    # Changed in the list, it is the new one on the page that stands open.
    card.get_by_role("button", name="Change").click()
    figures.fill("#maker_torque", "24")
    figures.fill("#figure-name", "Lid")
    figures.locator("[data-keep]").click()
    expect(card).to_contain_text("24 N·m")
    expect(torque.locator("[data-makers]")).to_contain_text("24 N·m")
    expect(torque.locator("#maker_torque")).to_have_value("24")
    # Taken out of the entry there, one that has a name stays in the list.
    torque.fill("#maker_torque", "")
    kept(torque)
    expect(card).to_have_count(1)


def test_a_figure_for_another_class_is_offered_and_never_used_by_itself(
    phone: BrowserContext, site_url: str
) -> None:
    torque = page_of(phone, f"{site_url}torque/?grade=10.9")
    torque.fill("#maker_torque", "33")
    expect(state(torque)).to_contain_text("Class 10.9")
    torque.select_option("#grade", "8.8")
    kept(torque)
    torque.wait_for_url(re.compile("torque/$"))
    expect(torque.locator("[data-makers]")).to_be_hidden()
    expect(torque.locator("#maker_torque")).to_have_value("")
    card = torque.locator("[data-maker-list] .card")
    expect(card).to_contain_text("Kept for Class 10.9. It is not for the bolt picked above.")
    torque.reload()
    ready(torque)
    expect(card).to_contain_text("Kept for Class 10.9")
    expect(torque.locator("[data-makers]")).to_be_hidden()
    torque.get_by_role("link", name="Also kept for Class 10.9: 33 N·m").click()
    card.get_by_role("button", name="Change the bolt to Class 10.9").click()
    expect(torque.locator("#grade")).to_have_value("10.9")
    expect(torque.locator("[data-makers]")).to_contain_text("33 N·m")
    torque.select_option("#thread", "M10x1.5")
    expect(card).to_have_count(0)


def test_a_hose_s_radius_is_the_same_on_both_pages(phone: BrowserContext, site_url: str) -> None:
    page = page_of(phone, f"{site_url}hose-bend/")
    unfold(page)
    page.fill("#makers_radius", "150")
    kept(page)
    page.goto(f"{site_url}hose-run/")
    expect(page.locator("#makers_radius")).to_have_value("150")


def test_two_tabs_that_type_at_once_lose_nothing(phone: BrowserContext, site_url: str) -> None:
    one = page_of(phone, f"{site_url}torque/")
    one.fill("#maker_torque", "20")
    kept(one)
    other = page_of(phone, f"{site_url}torque/")
    unfold(other)
    expect(other.locator("#maker_torque")).to_have_value("20")
    # At once: the other has not heard of it yet when it writes.
    other.evaluate("BroadcastChannel.prototype.postMessage = () => {}")
    one.evaluate("BroadcastChannel.prototype.postMessage = () => {}")
    one.fill("#maker_torque", "21")
    other.fill("#maker_angle", "60")
    kept(one)
    kept(other)
    card = opened(phone, f"{site_url}figures/").locator(".card")
    expect(card).to_have_count(1)
    expect(card).to_contain_text("21 N·m + 60°")


# --- kept before it is said ----------------------------------------------------------------------


def test_a_figure_that_is_said_to_be_kept_outlives_a_killed_browser(
    site: Path,
    serve: Callable[[Path], SiteServer],
    mortal: MortalPhone,
) -> None:
    server = serve(site)
    for before, now in (("", "21"), ("21", "23")):
        with mortal.on() as phone:
            page = page_of(phone, f"{server.url}torque/")
            expect(page.locator("#maker_torque")).to_have_value(before)
            page.fill("#maker_torque", now)
            expect(state(page)).to_contain_text("Kept on this phone")
            mortal.kill()
    with mortal.on() as phone:
        page = page_of(phone, f"{server.url}torque/")
        expect(page.locator("[data-makers]")).to_contain_text("23 N·m")


def test_with_a_full_store_no_field_says_that_it_is_kept(
    phone: BrowserContext, site_url: str
) -> None:
    page = page_of(phone, f"{site_url}torque/")
    page.evaluate(
        "() => { IDBObjectStore.prototype.put = () => {"
        " throw new DOMException('full', 'QuotaExceededError'); }; }"
    )
    page.fill("#maker_torque", "22")
    expect(state(page)).to_have_text(
        "Not kept. This phone's store is full. Make room, then try again."
    )
    expect(page.locator("[data-kept-state]")).to_contain_text(
        "Not kept. This phone's store is full"
    )
    page.fill("#maker_torque", "2200")
    expect(state(page)).to_have_text("Not kept: correct it first.")
    figures = opened(phone, f"{site_url}figures/")
    figures.evaluate(
        "() => { IDBObjectStore.prototype.put = () => {"
        " throw new DOMException('full', 'QuotaExceededError'); }; }"
    )
    figures.fill("#figure-name", "Lid")
    figures.fill("#maker_torque", "10")
    figures.locator("[data-keep]").click()
    expect(figures.locator("[data-go-line]")).to_contain_text(
        "Not kept: This phone's store is full"
    )
    expect(figures.locator("#maker_torque")).to_have_value("10")


# --- what earlier versions kept ------------------------------------------------------------------

PUT_BACK = """(store) => new Promise((resolve) => {
  const request = indexedDB.open("bay-reckoner", store.version);
  request.onupgradeneeded = () => {
    for (const [name, entries] of Object.entries(store.stores)) {
      const into = request.result.createObjectStore(name, { keyPath: "id" });
      for (const each of entries) into.put(each);
    }
  };
  request.onsuccess = () => { request.result.close(); resolve(); };
})"""


def all_there(page: Page) -> None:
    """The list holds what both earlier forms held."""
    expect(page.locator(".card")).to_have_count(5)
    for said in (
        "18 lb·ft + 90°",
        "Single use: new bolts each time.",
        "Fitting sheet, edition 3, page 12, line 4",
        "10 lb·ft",
        "22,5 N·m + 60°",
        "Sheet 4, line 2",
        "33 lb·ft",
        "150 mm",
        "Hose sheet, p. 2",
    ):
        expect(page.locator("[data-kept-list]")).to_contain_text(said)


def test_what_both_earlier_stores_held_is_in_the_one_store(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}404.html")
    page.evaluate(PUT_BACK, BEFORE["store"])
    page.goto(f"{site_url}figures/")
    all_there(page)
    expect(page.locator("#job-pick")).to_have_value("Green truck")
    page.goto(f"{site_url}torque/")
    expect(page.locator("#maker_torque")).to_have_value("33")
    page.select_option("#thread", "M8x1.25")
    page.locator('[data-field="joint"] [data-option="tapped"]').click()
    expect(page.locator("[data-makers]")).to_contain_text("22,5 N·m + 60°")
    expect(page.locator("[data-makers]")).to_contain_text("Sheet 4, line 2")
    expect(page.locator("[data-maker-list]")).to_contain_text("Kept for Class 10.9")
    page.goto(f"{site_url}hose-bend/")
    expect(page.locator("#makers_radius")).to_have_value("150")
    page.goto(f"{site_url}boost/")
    expect(page.locator("#blower_pulley")).to_have_value("101")
    # The file of that version, on another phone, once and again.
    path = tmp_path / "record.json"
    path.write_text(json.dumps(BEFORE["file"]), encoding="utf-8")
    other = opened(new_phone(), f"{site_url}figures/")
    for said in ("6 added.", "0 added, 6 were here already."):
        other.set_input_files("[data-import]", path)
        expect(other.locator("[data-transfer]")).to_have_text(said)
    other.select_option("#job-pick", label="Green truck")
    all_there(other)
    # One of a version to come is refused in words.
    path.write_text(json.dumps(BEFORE["file"] | {"schema": 7}), encoding="utf-8")
    other.set_input_files("[data-import]", path)
    expect(other.locator("[data-transfer]")).to_contain_text("from a newer version of this page")


STORES = """() => new Promise((resolve) => {
  const request = indexedDB.open("bay-reckoner");
  request.onsuccess = () => {
    const names = [...request.result.objectStoreNames];
    const { version } = request.result;
    request.result.close();
    resolve([version, ...names]);
  };
})"""


def test_what_was_kept_before_there_were_hold_points_is_there_as_it_was(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}404.html")
    page.evaluate(PUT_BACK, BEFORE_HOLDS["store"])
    path = tmp_path / "record.json"
    path.write_text(json.dumps(BEFORE_HOLDS["file"]), encoding="utf-8")
    other = opened(new_phone(), f"{site_url}figures/")
    for said in ("3 added.", "0 added, 3 were here already."):
        other.set_input_files("[data-import]", path)
        expect(other.locator("[data-transfer]")).to_have_text(said)
    other.select_option("#job-pick", label="Blue truck")
    for each in (page, other):
        each.goto(f"{site_url}figures/")
        expect(each.locator(".card")).to_contain_text("10 N·m")
        each.goto(f"{site_url}boost/")
        expect(each.locator("#blower_pulley")).to_have_value("101")
        each.goto(f"{site_url}loop/")
        expect(each.locator('[data-tick="tight"]')).to_be_checked()
        each.goto(f"{site_url}tightening/")
        expect(each.locator("[data-unfinished-map]")).to_contain_text("Not finished: Lid")
        wanted = [6, "figures", "holds", "jobs", "maps", "pulleys", "runs"]
        assert each.evaluate(STORES) == wanted


APART_BEFORE = {
    "version": 5,
    "stores": {
        **{name: [] for name in ("figures", "holds", "maps", "pulleys", "runs")},
        "jobs": [
            {
                **{"schema": 1, "id": "a", "name": "Grey truck", "kept": {}},
                "taken": "2026-11-30T10:00:00.000Z",
                "entries": {
                    "accessory crank_pulley": {"text": "160", "unit": "mm", "typed": True},
                    "fuel load_current": {"text": "18", "unit": "A", "typed": True},
                    "fuel wire": "mm4",
                    "pump_supply": "wired",
                    "coolant_from": "bed",
                },
            }
        ],
    },
}


def test_what_was_entered_on_one_page_alone_stands_where_it_belongs_after_the_update(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}404.html")
    page.evaluate(PUT_BACK, APART_BEFORE)
    path = tmp_path / "record.json"
    stores = APART_BEFORE["stores"]
    saved = {"kind": "bay-reckoner record", "schema": 5, "made": "2026-11-30T10:00:00Z", **stores}
    path.write_text(json.dumps(saved), encoding="utf-8")
    other = opened(new_phone(), f"{site_url}figures/")
    other.set_input_files("[data-import]", path)
    expect(other.locator("[data-transfer]")).to_have_text("1 added.")
    for each in (page, other):
        each.goto(f"{site_url}accessory/")
        expect(each.locator("#accessory_crank")).to_have_value("160")
        expect(each.locator('[data-field="accessory_belt"] input:checked')).to_have_value("own")
        for key in ("fuel", "plan"):
            each.goto(f"{site_url}{key}/")
            expect(each.locator("#pump_current")).to_have_value("18")
            expect(each.locator("#pump_wire")).to_have_value("mm4")
        # The exchanger sits where it was said to, on every page.
        for key in ("boost", "plan", "charge-cooling"):
            each.goto(f"{site_url}{key}/")
            place = each.locator('[data-field="exchanger_place"] input:checked')
            expect(place).to_have_value("bed")


def test_another_truck_s_file_feeds_nothing_to_this_one(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = opened(phone, f"{site_url}figures/")
    sheet(page, "rotor", {"rotor_limit": "15000"})
    page.goto(f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    kept(page)
    page.goto(f"{site_url}figures/")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    download.value.save_as(tmp_path / "record.json")
    other = page_of(new_phone(), f"{site_url}boost/")
    other.fill("#blower_pulley", "88")
    kept(other)
    other.goto(f"{site_url}figures/")
    other.set_input_files("[data-import]", tmp_path / "record.json")
    other.get_by_role("button", name="Keep both: add “This job, from a file”").click()
    expect(other.locator("[data-transfer]")).to_contain_text("differ from what is here")
    expect(other.locator(".card")).to_have_count(0)
    other.select_option("#job-pick", label="This job, from a file")
    expect(other.locator(".card")).to_have_count(1)


# --- what a kit's sheet says beyond torques ------------------------------------------------------


def fuel_belt_and_loop(boost: Page, site_url: str) -> None:
    """The sheet's injector, belt and coolant stand on their pages."""
    boost.goto(f"{site_url}fuel/")
    unfold(boost)
    expect(boost.locator("#injector_mass")).to_have_value("44")
    expect(boost.locator("#injector_flow")).to_be_hidden()
    expect(boost.locator("#rated_pressure")).to_have_value("3.5")
    assert whose(boost, "dead_time") == "maker's, page 9"
    boost.goto(f"{site_url}belt-route/")
    expect(boost.locator("#fitted_belt")).to_have_value("1815")
    boost.goto(f"{site_url}loop/")
    expect(boost.locator("#tank_content")).to_have_value("5")


def test_a_sheet_s_limit_pulleys_and_injectors_stand_first_where_they_are_asked_for(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}figures/")
    sheet(page, "rotor", {"rotor_limit": "15500"}, source="Kit sheet 2", page="4")
    line = {"rating_pulley": "84", "rating_boost": "0.9 bar", "rating_engine_speed": "6200"}
    sheet(page, "pulleys", line, page="6")
    more = {"rating_pulley": "96", "rating_boost": "0.6 bar", "rating_boost_high": "0.7 bar"} | {
        "rating_engine_speed": "6100"
    }
    sheet(page, "pulleys", more, page="7")
    injector = {"injector_mass": "44 kg/h", "rated_pressure": "3.5 bar", "dead_time": "1.1"}
    sheet(page, "injector", injector, page="9")
    sheet(page, "belt", {"fitted_belt": "1815"}, belt_number="8PK and so on")
    sheet(page, "coolant", {"coolant_quantity": "9", "tank_content": "5"})
    cards = sheet(page, "plug", {"plug_gap": "0.7"}, plug="Heat range 8")
    expect(cards).to_have_count(7)
    expect(page.locator("[data-kept-count]")).to_have_text("7 kept")
    expect(cards.filter(has_text="Heat range 8")).to_contain_text("0.7 mm")
    expect(cards.filter(has_text="8PK")).to_contain_text("1815 mm")
    expect(cards.filter(has_text="96 mm")).to_contain_text("this one is not used")
    # The other pages have them first, and say whose they are.
    boost = page_of(phone, f"{site_url}boost/")
    unfold(boost)
    expect(boost.locator("#rotor_limit")).to_have_value("15500")
    assert whose(boost, "rotor_limit") == "maker's, page 4"
    expect(boost.locator('[data-field="rotor_limit"] [data-origin]')).not_to_have_text("example")
    expect(boost.locator('[name="efficiency_from"]:checked')).to_have_value("rating")
    expect(boost.locator("#rating_pulley")).to_be_visible()
    expect(boost.locator("#rating_pulley")).to_have_value("84")
    expect(boost.locator("#rating_boost")).to_have_value("0.9")
    assert whose(boost, "rating_boost") == "maker's, page 6"
    # The sheet's pulleys are among those that are stepped along.
    expect(boost.locator("[data-shelf-list] li")).to_have_count(2)
    expect(boost.locator("[data-shelf-list]")).to_contain_text("maker's sheet, page 7")
    # The other line is taken whole.
    boost.get_by_role("button", name=re.compile("Take 96.mm, the maker's, page 7")).click()
    expect(boost.locator("#rating_boost")).to_have_value("0.6")
    expect(boost.locator("#rating_boost_high")).to_have_value("0.7")
    assert whose(boost, "rating_pulley") == "maker's, page 7"
    # Typed over it is his own, and the way back is there.
    boost.fill("#rotor_limit", "14000")
    kept(boost)
    assert whose(boost, "rotor_limit") == "yours"
    boost.get_by_role("button", name=re.compile("Take 15,500.rpm, the maker's, page 4")).click()
    expect(boost.locator("#rotor_limit")).to_have_value("15500")
    assert whose(boost, "rotor_limit") == "maker's, page 4"
    # A change of unit alone makes it nobody else's.
    boost.locator('[data-field="rating_boost"] [data-unit]').click()
    boost.wait_for_timeout(200)
    boost.reload()
    ready(boost)
    unfold(boost)
    assert whose(boost, "rating_boost") == "maker's, page 7"
    fuel_belt_and_loop(boost, site_url)


def test_of_two_limits_none_is_used_until_one_is_picked(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}figures/")
    sheet(page, "rotor", {"rotor_limit": "15000"}, page="4")
    cards = sheet(page, "rotor", {"rotor_limit": "18000"}, page="5")
    boost = page_of(phone, f"{site_url}boost/")
    unfold(boost)
    assert whose(boost, "rotor_limit") == "example"
    page.bring_to_front()
    cards.filter(has_text="18000").get_by_role("button", name="Use this one").click()
    expect(cards.filter(has_text="18000")).to_contain_text("Used on the pages")
    expect(boost.locator("#rotor_limit")).to_have_value("18000")
    assert whose(boost, "rotor_limit") == "maker's, page 5"


def test_a_pulley_s_diameter_is_read_as_the_page_is_told(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}figures/")
    speed = {"rating_engine_speed": "6000"}
    page.select_option("#kind", "pulleys")
    page.locator('[data-field="pulley_kind"] [data-option="pitch"]').click()
    sheet(page, "pulleys", {"rating_pulley": "84", "rating_boost": "80 kPa"} | speed)
    boost = page_of(phone, f"{site_url}boost/")
    unfold(boost)
    # Outside it is 4 mm less than at the cord, as the boost page allows.
    expect(boost.locator("#rating_pulley")).to_have_value("80")
    boost.locator('[data-field="diameter_kind"] [data-option="pitch"]').click()
    expect(boost.locator("#rating_pulley")).to_have_value("84")
    kept(boost)
    boost.reload()
    ready(boost)
    unfold(boost)
    expect(boost.locator("#rating_pulley")).to_have_value("84")
