"""One truck: entered on one page, known on all, kept before it is called kept, never taken over."""

from __future__ import annotations

import json
import os
import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from site_src.lookups import lookup
from tests.browser.conftest import NewContext
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer
from tests.browser.test_pages import opened, plate, ready, worked_out

OFFERED = "[data-offered]"


def kept(page: Page) -> None:
    """Wait until what was entered is on the disk."""
    expect(page.locator("[data-job-line]")).to_have_attribute("data-state", "kept")


def unfold(page: Page) -> None:
    """Open all that is folded away."""
    page.evaluate("document.querySelectorAll('[data-more]').forEach(each => { each.open = true })")


def whose(page: Page, key: str) -> str:
    """What an entry says of where it is from."""
    return page.locator(f'[data-field="{key}"] [data-origin]').first.text_content() or ""


def are_yours(page: Page, **entries: str) -> None:
    """See that the page shows these entries, each as one of the truck's own."""
    for key, text in entries.items():
        expect(page.locator(f"#{key}")).to_have_value(text)
        assert whose(page, key) == "yours"


# --- entered once ------------------------------------------------------------------------------


def test_a_truck_entered_on_one_page_stands_on_all_others(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    assert whose(page, "blower_pulley") == "example"
    page.fill("#blower_pulley", "3.75 in")
    page.locator("#blower_pulley").blur()
    unfold(page)
    page.fill("#altitude", "5000 ft")
    kept(page)
    for key in ("plan", "belt", "slip", "boost"):
        page.goto(f"{site_url}{key}/")
        ready(page)
        expect(page.locator("#blower_pulley")).to_have_value("3.75")
        assert whose(page, "blower_pulley") == "yours"
    page.goto(f"{site_url}knock/")
    ready(page)
    expect(page.locator("#altitude")).to_have_value("5000")


def test_what_another_page_works_out_follows_the_truck_and_can_be_typed_over_and_put_back(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "86")
    made = plate(page)
    kept(page)
    page.goto(f"{site_url}knock/")
    ready(page)
    assert whose(page, "boost") == "from Boost by pulley"
    assert round(float(page.input_value("#boost"))) == float(made)
    page.fill("#boost", "70")
    assert whose(page, "boost") == "yours"
    kept(page)
    page.reload()
    expect(page.locator("#boost")).to_have_value("70")
    page.get_by_role("button", name=re.compile("^Take .* from Boost by pulley$")).click()
    assert whose(page, "boost") == "from Boost by pulley"
    assert round(float(page.input_value("#boost"))) == float(made)


def test_what_another_page_knows_better_is_said_where_the_number_would_be_another(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}throttle/")
    page.fill("#throttle_bore", "85")
    # Not while it is worked on: it would push away what the finger is on.
    expect(page.locator(OFFERED)).to_be_hidden()
    kept(page)
    planned = lookup("plan").evaluate({"throttle_bore": 85.0})
    with_it = f"{planned['boost']:.0f}"
    page.goto(f"{site_url}power/")
    ready(page)
    expect(page.locator(OFFERED)).to_contain_text("Boost by pulley has 1.5 kPa. With it: Power")
    page.goto(f"{site_url}boost/")
    ready(page)
    assert plate(page) != with_it
    expect(page.locator(OFFERED)).to_contain_text(f"With it: Boost at the manifold {with_it} kPa.")
    # It stays, whatever is typed meanwhile, and says what there is to say now.
    page.fill("#blower_pulley", "84")
    expect(page.locator(OFFERED)).not_to_contain_text(f" {with_it} kPa.")
    page.fill("#blower_pulley", "92")
    expect(page.locator(OFFERED)).to_contain_text(f"With it: Boost at the manifold {with_it} kPa.")
    page.locator(OFFERED).get_by_role("button").click()
    assert plate(page) == with_it
    expect(page.locator(OFFERED)).to_be_hidden()
    kept(page)
    page.goto(site_url)
    expect(page.locator("[data-makes-words]")).to_contain_text(f"{with_it} kPa boost")


def test_without_the_page_that_may_know_better_no_number_is_shown(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}throttle/")
    page.fill("#throttle_bore", "85")
    kept(page)
    phone.route("**/lookups/air.json", lambda route: route.abort())
    page.goto(f"{site_url}boost/")
    expect(page.locator("[data-silence] p")).to_contain_text("could not be loaded")
    expect(page.locator("[data-form]")).to_be_hidden()
    assert plate(page) == ""


def test_nothing_is_offered_out_of_the_example(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    # A pulley of one's own makes the example's throttle no better.
    page.fill("#blower_pulley", "80")
    kept(page)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.reload()
    ready(page)
    expect(page.locator(OFFERED)).to_be_hidden()
    expect(page.locator("[data-offer]")).to_have_count(0)
    assert not any(url.endswith("/air.json") for url in asked)


def test_every_page_reckons_with_the_same_truck(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}plan/")
    page.fill("#blower_pulley", "88")
    kept(page)
    made = lookup("boost").evaluate({"blower_pulley": 88.0})
    page.goto(f"{site_url}belt/")
    ready(page)
    # One digit finer than a step: what is worked with has six.
    assert float(page.input_value("#drive_power")) == pytest.approx(made["drive_power"], abs=0.051)
    page.goto(f"{site_url}fuel/")
    ready(page)
    power = lookup("power").evaluate(
        {key: made[key] for key in ("boost", "charge_temperature")} | {"engine_speed": 6000.0}
    )
    assert float(page.input_value("#power")) == pytest.approx(power["power"], abs=0.51)


def test_rows_taken_off_two_lists_are_off_on_the_next_visit(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}loop/")
    left = {}
    for name in ("loop_runs", "loop_fittings"):
        rows = page.locator(f'[data-field="{name}"] [data-rows] > [data-row]')
        left[name] = rows.count() - 1
        rows.last.locator("[data-remove]").click()
        expect(rows).to_have_count(left[name])
    kept(page)
    made = plate(page)
    page.reload()
    ready(page)
    for name, count in left.items():
        rows = page.locator(f'[data-field="{name}"] [data-rows] > [data-row]')
        expect(rows).to_have_count(count)
    assert plate(page) == made


def test_a_row_added_to_a_list_is_still_there_on_the_next_visit(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}stack/")
    before = page.locator("[data-rows] > [data-row]").count()
    page.locator("[data-add]").click()
    kept(page)
    page.goto(f"{site_url}boost/")
    ready(page)
    page.goto(f"{site_url}stack/")
    ready(page)
    expect(page.locator("[data-rows] > [data-row]")).to_have_count(before + 1)


def test_a_second_tab_follows_at_once(phone: BrowserContext, site_url: str) -> None:
    first = opened(phone, f"{site_url}boost/")
    second = opened(phone, f"{site_url}plan/")
    first.fill("#blower_pulley", "101")
    expect(second.locator("#blower_pulley")).to_have_value("101")
    second.fill("#engine_speed", "5500")
    expect(first.locator("#engine_speed")).to_have_value("5500")
    expect(first.locator("#blower_pulley")).to_have_value("101")


def test_a_change_of_unit_alone_makes_no_number_his(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.locator('[data-field="blower_pulley"] [data-unit]').select_option("in")
    assert whose(page, "blower_pulley") == "example"
    expect(page.locator("[data-kept-state]")).to_contain_text("nothing entered yet")


# --- back, and back again ----------------------------------------------------------------------


def test_back_to_the_example_can_be_undone(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    page.fill("#engine_speed", "5500")
    kept(page)
    page.get_by_role("button", name="Back to the example").click()
    expect(page.locator("#blower_pulley")).to_have_value("92")
    page.get_by_role("button", name="Bring them back").click()
    expect(page.locator("#blower_pulley")).to_have_value("101")
    expect(page.locator("#engine_speed")).to_have_value("5500")
    kept(page)
    page.reload()
    expect(page.locator("#blower_pulley")).to_have_value("101")


def test_what_is_offered_and_what_stands_there_are_told_in_one_unit(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    page.check('input[value="inch"]')
    page.goto(f"{site_url}throttle/")
    ready(page)
    page.fill("#throttle_bore", "3.25 in")
    kept(page)
    for key in ("boost", "power"):
        page.goto(f"{site_url}{key}/")
        expect(page.locator(OFFERED)).to_have_text(
            re.compile(r"works out [\d.]+\sinH₂O for .* has ")
        )
        expect(page.locator(OFFERED)).not_to_contain_text("kPa")


# --- links --------------------------------------------------------------------------------------


def test_a_link_is_shown_beside_the_truck_and_changes_nothing_until_it_is_taken(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    kept(page)
    page.goto(f"{site_url}boost/?blower_pulley=88mm&engine_speed=5500rpm")
    ready(page)
    guest = page.locator("[data-guest]")
    expect(guest).to_contain_text("differs from “This job” in 2 entries")
    assert plate(page) == worked_out(
        "boost", "boost", "kPa", {"blower_pulley": 88.0, "engine_speed": 5500.0}
    )
    page.fill("#engine_speed", "5400")
    other = opened(phone, f"{site_url}plan/")
    expect(other.locator("#blower_pulley")).to_have_value("101")
    other.close()
    guest.get_by_role("button", name="Take Blower pulley 88 mm").click()
    expect(guest).to_contain_text("in one entry")
    guest.get_by_role("button", name="Back to my truck").click()
    expect(guest).to_be_hidden()
    expect(page.locator("#blower_pulley")).to_have_value("88")
    expect(page.locator("#engine_speed")).to_have_value("6000")
    kept(page)
    page.reload()
    ready(page)
    expect(guest).to_be_hidden()
    expect(page.locator("#blower_pulley")).to_have_value("88")


def test_all_of_a_link_can_be_taken(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/?blower_pulley=88mm&engine_speed=5500rpm")
    page.get_by_role("button", name="Take all into “This job”").click()
    expect(page.locator("[data-guest]")).to_be_hidden()
    kept(page)
    page.goto(f"{site_url}plan/")
    ready(page)
    expect(page.locator("#blower_pulley")).to_have_value("88")
    expect(page.locator("#engine_speed")).to_have_value("5500")


def test_a_link_to_a_bolt_is_followed_without_asking(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}torque/?thread=M10x1.5")
    expect(page.locator("[data-guest]")).to_be_hidden()
    expect(page.locator("#thread")).to_have_value("M10x1.5")


def test_going_back_to_a_page_shows_the_truck_as_it_is_now(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    page.wait_for_url(re.compile("blower_pulley=101mm"))
    kept(page)
    page.goto(f"{site_url}plan/")
    ready(page)
    page.fill("#blower_pulley", "88")
    kept(page)
    page.go_back()
    ready(page)
    expect(page.locator("#blower_pulley")).to_have_value("88")
    expect(page.locator("[data-guest]")).to_be_hidden()


# --- jobs ---------------------------------------------------------------------------------------


def test_a_job_is_copied_switched_and_named_in_two_taps(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    kept(page)
    page.goto(site_url)
    expect(page.locator("[data-job]")).to_have_text("This job")
    page.get_by_role("button", name="Copy this job").click()
    expect(page.locator("[data-job]")).to_have_text("This job, copy")
    expect(page.locator("[data-job-name]")).to_have_value("This job, copy")
    page.fill("[data-job-name]", "Blue truck")
    page.locator("[data-job-name]").blur()
    expect(page.locator("[data-job]")).to_have_text("Blue truck")
    expect(page.locator("#blower_pulley")).to_have_value("101")
    page.get_by_role("button", name="Blower pulley: one step down").click()
    stepped = page.input_value("#blower_pulley")
    assert stepped != "101"
    row = page.locator("[data-job-list] li").filter(has_text="This job")
    row.get_by_role("button", name="Go to it").click()
    expect(page.locator("[data-job]")).to_have_text("This job")
    expect(page.locator("#blower_pulley")).to_have_value("101")
    page.get_by_role("button", name="New job").click()
    expect(page.locator("#blower_pulley")).to_have_value("92")
    blue = page.locator("[data-job-list] li").filter(has_text="Blue truck")
    blue.get_by_role("button", name="Delete").click()
    expect(blue).to_have_count(0)
    page.get_by_role("button", name="Bring it back").click()
    blue.get_by_role("button", name="Go to it").click()
    expect(page.locator("#blower_pulley")).to_have_value(stepped)


BOLT = "thread=M8x1.25 grade=8.8 friction=oiled joint=tapped tapped=cast_aluminium_t6"
OLD = {
    "schema": 1,
    "mode": "auto",
    "system": "metric",
    "units": {},
    "job": {
        "name": "Red truck",
        "kept": {
            f"torque maker_torque {BOLT}": {
                "text": "22",
                "unit": "Nm",
                "source": "sheet 4",
            }
        },
    },
}
OLD_JOBS = {"schema": 1, "jobs": {"Other truck": {}}}


def test_what_an_earlier_version_kept_is_there_after_the_update(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}404.html")
    page.evaluate(
        """async ([state, jobs]) => {
          localStorage.setItem("bay-reckoner", state);
          localStorage.setItem("bay-reckoner-jobs", jobs);
          await new Promise((resolve) => {
            const request = indexedDB.open("bay-reckoner", 1);
            request.onupgradeneeded = () => {
              for (const each of ["maps", "figures"])
                request.result.createObjectStore(each, { keyPath: "id" });
            };
            request.onsuccess = () => { request.result.close(); resolve(); };
          });
        }""",
        [json.dumps(OLD), json.dumps(OLD_JOBS)],
    )
    page.goto(f"{site_url}torque/")
    ready(page)
    expect(page.locator("#maker_torque")).to_have_value("22")
    expect(page.locator("[data-makers]")).to_contain_text("sheet 4 · Red truck")
    page.goto(site_url)
    expect(page.locator("[data-job]")).to_have_text("Red truck")
    expect(page.locator("[data-job-list] b")).to_have_text(["Other truck"])


def test_a_job_goes_to_another_phone_in_a_file_beside_the_one_in_hand(
    new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = opened(new_phone(), f"{site_url}boost/")
    page.fill("#blower_pulley", "101")
    kept(page)
    page.goto(f"{site_url}figures/")
    with page.expect_download() as saved:
        page.locator("[data-export]").click()
    saved.value.save_as(tmp_path / "job.json")
    other = opened(new_phone(), f"{site_url}boost/")
    other.fill("#blower_pulley", "88")
    kept(other)
    other.goto(f"{site_url}figures/")
    other.set_input_files("[data-import]", tmp_path / "job.json")
    other.get_by_role("button", name="Keep both").click()
    expect(other.locator("[data-transfer]")).to_contain_text("1 differ from what is here")
    other.goto(site_url)
    expect(other.locator("#blower_pulley")).to_have_value("88")
    row = other.locator("[data-job-list] li").filter(has_text="This job, from a file")
    row.get_by_role("button", name="Go to it").click()
    expect(other.locator("#blower_pulley")).to_have_value("101")


def job_here(page: Page) -> dict[str, str]:
    """What the phone has stored of the job in hand, by entry."""
    found: dict[str, str] = page.evaluate(
        """() => new Promise((resolve) => {
          const request = indexedDB.open("bay-reckoner");
          request.onsuccess = () => {
            const store = request.result.transaction("jobs").objectStore("jobs");
            store.getAll().onsuccess = ({ target }) => {
              request.result.close();
              resolve(Object.fromEntries(Object.entries(target.result[0].entries)
                .map(([key, { text }]) => [key, text])));
            };
          };
        })"""
    )
    return found


def test_a_file_of_the_same_job_is_compared_entry_by_entry_before_anything_is_changed(
    new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    theirs = {"blower_pulley": "101", "engine_speed": "5500", "limiter_speed": "6000"}
    mine = {"blower_pulley": "88", "engine_speed": "5500", "crank_pulley": "182"}
    phones = []
    for entries in (theirs, mine):
        page = opened(new_phone(), f"{site_url}boost/")
        unfold(page)
        for key, text in entries.items():
            page.fill(f"#{key}", text)
        kept(page)
        page.goto(f"{site_url}figures/")
        phones.append(page)
    first, page = phones
    with first.expect_download() as saved:
        first.locator("[data-export]").click()
    saved.value.save_as(tmp_path / "job.json")
    question, told = page.locator("[data-clash]"), page.locator("[data-transfer]")
    rows = question.locator("[data-differs]")

    def take_in(button: str) -> None:
        page.set_input_files("[data-import]", tmp_path / "job.json")
        expect(rows).to_have_count(2)
        expect(question).to_contain_text("Nothing is changed until you choose.")
        assert job_here(page) == mine
        question.get_by_role("button", name=button).click()
        expect(question).to_be_hidden()
        expect(told).not_to_be_empty()

    # None of it.
    take_in("Leave the file out")
    assert job_here(page) == mine
    take_in("Keep all of mine")
    expect(told).to_have_text("0 added.")
    assert job_here(page) == mine
    # One by one: what isn't picked, and what only this phone has, stays.
    page.set_input_files("[data-import]", tmp_path / "job.json")
    expect(rows.first).to_contain_text("101 mm, yours 88 mm")
    expect(rows.last).to_contain_text("6,000 rpm, yours not entered")
    rows.first.get_by_role("button", name="Blower pulley: take 101 mm").click()
    question.get_by_role("button", name="Take the one picked").click()
    expect(told).to_have_text("0 added, 1 changed to what the file says.")
    assert job_here(page) == mine | {"blower_pulley": "101"}
    # Undone, then all of it, and undone after that.
    undo = page.locator("[data-taken-back]").get_by_role("button", name="Undo")
    undo.click()
    expect(page.locator("[data-taken-back]")).to_contain_text("as it was")
    take_in("Take all 2 into “This job”")
    assert job_here(page) == mine | theirs
    boost = opened(page.context, f"{site_url}boost/")
    expect(boost.locator("#blower_pulley")).to_have_value("101")
    undo.click()
    expect(page.locator("[data-taken-back]")).to_contain_text("as it was")
    assert job_here(page) == mine
    # A page that stood open follows.
    expect(boost.locator("#blower_pulley")).to_have_value("88")


# --- what can't be kept -------------------------------------------------------------------------


def test_a_phone_that_keeps_nothing_says_so_and_still_reckons(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    phone.add_init_script("delete window.indexedDB")
    page = opened(phone, f"{site_url}boost/?blower_pulley=88mm")
    expect(page.locator("[data-kept-state]")).to_contain_text("Not kept")
    page.fill("#engine_speed", "5500")
    page.wait_for_url(re.compile("5500rpm"))
    page.reload()
    ready(page)
    expect(page.locator("#engine_speed")).to_have_value("5500")
    expect(page.locator("#blower_pulley")).to_have_value("88")


DAMAGE = """(entry) => new Promise((resolve) => {
  const request = indexedDB.open("bay-reckoner");
  request.onsuccess = () => {
    const store = request.result.transaction("jobs", "readwrite").objectStore("jobs");
    store.getAll().onsuccess = (event) => {
      const [job] = event.target.result;
      job.entries.blower_pulley = entry;
      store.put(job).onsuccess = () => { request.result.close(); resolve(); };
    };
  };
})"""


def test_a_damaged_job_never_stops_a_page(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "88")
    kept(page)
    for entry in ({"text": 5}, [[1]], 12, None, {"from": {}}):
        page.evaluate(DAMAGE, entry)
        page.goto(f"{site_url}plan/")
        ready(page)
        assert plate(page), entry


def test_a_connection_to_the_store_that_the_phone_closed_is_opened_again(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(
        """
        window.connections = [];
        const open = IDBFactory.prototype.open;
        IDBFactory.prototype.open = function (...all) {
          const request = open.apply(this, all);
          request.addEventListener("success", () => connections.push(request.result));
          return request;
        };
        """
    )
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "88")
    kept(page)
    assert page.evaluate("connections.splice(0).map((each) => each.close()).length") == 1
    page.fill("#engine_speed", "5800")
    kept(page)
    assert page.evaluate("connections.length") == 1
    page.reload()
    ready(page)
    expect(page.locator("#blower_pulley")).to_have_value("88")
    expect(page.locator("#engine_speed")).to_have_value("5800")


def test_a_store_that_never_answers_is_said_and_the_page_answers_all_the_same(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script("IDBFactory.prototype.open = () => new EventTarget();")
    pages = {key: phone.new_page() for key in ("boost", "figures", "tightening")}
    for key, page in pages.items():
        page.goto(f"{site_url}{key}/")
    words = "This phone's store doesn't answer. Close the other tabs, then load this again."
    for page in pages.values():
        expect(page.locator("main")).to_contain_text(words, timeout=15_000)
    ready(pages["boost"])
    expect(pages["boost"].locator("[data-job-line]")).to_have_attribute("data-state", "lost")
    assert plate(pages["boost"])


def test_a_page_loaded_again_while_something_is_typed_is_still_your_truck(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "86")
    kept(page)
    page.wait_for_url(re.compile("blower_pulley=86mm"))

    def slow(route: Route) -> None:
        # Meanwhile the address is brought up to date once more.
        page.wait_for_timeout(600)
        route.continue_()

    page.route(re.compile(r"/boost/\?"), slow)
    page.fill("#engine_speed", "5800")
    page.reload()
    ready(page)
    expect(page.locator("[data-guest]")).to_be_hidden()
    are_yours(page, blower_pulley="86", engine_speed="5800")


def test_a_text_too_long_to_be_read_again_is_not_called_kept_and_takes_nothing_along(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}boost/")
    page.fill("#crank_pulley", "182")
    kept(page)
    page.fill("#blower_pulley", "1 " * 3000)
    line = page.locator("[data-job-line]")
    expect(line).to_have_attribute("data-state", "lost")
    expect(line).to_contain_text("too long for this phone's record. Shorten it or empty it.")
    page.fill("#engine_speed", "5800")
    expect(line).to_have_attribute("data-state", "lost")
    page.fill("#blower_pulley", "88")
    kept(page)
    page.reload()
    ready(page)
    are_yours(page, crank_pulley="182", blower_pulley="88", engine_speed="5800")


def test_a_name_that_is_being_typed_is_not_written_over(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(site_url)
    name = page.locator("[data-job-name]")
    expect(name).to_be_enabled()
    expect(name).to_have_value("This job")
    # The jobs are read anew while he types.
    page.evaluate(
        """() => {
          const name = document.querySelector("[data-job-name]");
          document.querySelector("[data-copy-job]").click();
          name.focus();
          name.value = "Blue tr";
        }"""
    )
    expect(page.locator("[data-job-list] li")).to_have_count(1)
    expect(name).to_have_value("Blue tr")
    name.fill("Blue truck")
    name.press("Enter")
    expect(page.locator("[data-job]")).to_have_text("Blue truck")
    expect(name).to_have_value("Blue truck")
    expect(page.locator("[data-job-list] li")).to_contain_text(["This job"])


# --- the first minute ---------------------------------------------------------------------------


def test_a_truck_is_started_one_entry_to_a_screen(new_phone: NewContext, site_url: str) -> None:
    phone = new_phone(locale="en-US")
    page = phone.new_page()
    page.goto(site_url)
    page.get_by_role("link", name="Start your truck").click()
    shown = page.locator("[data-ask]:visible")
    expect(shown).to_have_attribute("data-ask", "engine_displacement")
    expect(page.locator("[data-next]")).to_be_disabled()
    page.fill("#engine_displacement", "305 ci")
    page.locator("[data-next]").click()
    expect(shown).to_have_attribute("data-ask", "blower_displacement")
    page.locator("[data-unknown]").click()
    expect(page.locator('[data-field="blower_pulley"] [data-unit]')).to_have_value("in")
    page.fill("#blower_pulley", "3 3/4")
    for _ in range(8):
        if page.locator("[data-next]").is_enabled():
            page.locator("[data-next]").click()
        else:
            page.locator("[data-unknown]").click()
    expect(page.get_by_role("heading", name="That is the truck")).to_be_visible()
    rows = page.locator("[data-asked-list] li")
    expect(rows.filter(has_text="Engine displacement")).not_to_contain_text("example")
    expect(rows.filter(has_text="Rev limiter")).to_contain_text("example")
    kept(page)
    page.goto(f"{site_url}boost/")
    ready(page)
    expect(page.locator("#blower_pulley")).to_have_value("3 3/4")
    expect(page.locator("[data-plate] [data-unit]")).to_have_value("psi")


# --- killed -------------------------------------------------------------------------------------

KILLS = int(os.environ.get("BAY_KILLS", "6"))
"""How often the browser is killed; a person may ask for more."""


def test_nothing_that_was_shown_as_kept_is_lost_when_the_browser_is_killed(
    site: Path,
    serve: Callable[[Path], SiteServer],
    mortal: MortalPhone,
) -> None:
    server = serve(site)
    chance = random.Random(1)
    expected: dict[str, int] = {}
    for round_ in range(KILLS):
        with mortal.on() as phone:
            where = chance.choice(list(PUT_IN))
            page = opened(phone, f"{server.url}{where}/")
            for key in expected.keys() & PUT_IN[where].keys():
                assert int(page.input_value(f"#{key}")) >= expected[key], (round_, key)
            for n in range(chance.randrange(1, 5)):
                key = chance.choice(list(PUT_IN[where]))
                # Each is larger than all before it, so that an older one shows.
                value = PUT_IN[where][key] + 4 * round_ + n
                unfold(page)
                page.fill(f"#{key}", str(value))
                page.wait_for_timeout(chance.randrange(0, 120))
                if is_kept(page, key):
                    expected[key] = int(page.input_value(f"#{key}"))
            mortal.kill()
    assert expected
    with mortal.on() as phone:
        for where, keys in PUT_IN.items():
            page = opened(phone, f"{server.url}{where}/")
            for key in expected.keys() & keys.keys():
                assert int(page.input_value(f"#{key}")) >= expected[key], key


TRUCK = {"blower_pulley": 60, "engine_speed": 3000, "limiter_speed": 5000}
PUT_IN: dict[str, dict[str, int]] = {"boost": TRUCK, "plan": TRUCK, "torque": {"maker_torque": 20}}
"""What is entered before a kill, by page, and the least of it; a torque goes to the figures."""


def is_kept(page: Page, key: str) -> bool:
    """Whether the page says of an entry that it is on the disk."""
    if key == "maker_torque":
        state = page.locator(f'[data-field="{key}"] [data-kept-for]')
        return (state.text_content() or "").startswith("Kept on this phone")
    return page.locator("[data-job-line]").get_attribute("data-state") == "kept"


# --- the entries that matter most, one to a screen -----------------------------------------------


def test_a_fuel_that_is_right_as_it_stands_is_his_own_once_he_taps_it(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}truck/")
    go_on = page.get_by_role("button", name="Next", exact=True)
    while not page.locator('[data-field="fuel"]').is_visible():
        page.get_by_role("button", name="Don't know").click()
    expect(go_on).to_be_disabled()
    for fuel in ("e85", "e10"):
        page.locator(f'[data-field="fuel"] [data-option="{fuel}"]').click()
        expect(page.locator('[data-field="fuel"] input:checked')).to_have_value(fuel)
    page.get_by_role("button", name="Back", exact=True).click()
    page.get_by_role("button", name="Don't know").click()
    page.get_by_role("button", name="Don't know").click()
    page.get_by_role("button", name="Back", exact=True).click()
    expect(go_on).to_be_disabled()
    page.locator('[data-field="fuel"] [data-option="e10"]').click()
    expect(go_on).to_be_enabled()
    kept(page)
    go_on.click()
    page.get_by_role("button", name="Don't know").click()
    expect(page.locator("[data-asked-list] li").nth(8)).not_to_contain_text("example")
    page.goto(f"{site_url}fuel/")
    ready(page)
    assert whose(page, "fuel") == "yours"
