"""What is missing, cut, damaged or of another build: words, and never another one's number."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from tests.browser.conftest import INSTALLED, NewContext, installed
from tests.browser.servers import SiteServer, publish

Serve = Callable[[Path], SiteServer]

M12 = "torque/?thread=M12x1.75"


@pytest.fixture
def phone(new_context: NewContext) -> BrowserContext:
    """A phone without a service worker, on which scripts are allowed to fail."""
    return new_context(service_workers="block", viewport={"width": 390, "height": 844})


def _silent(page: Page, words: str) -> None:
    """Expect words on the plate, and neither a number on it nor answers below it."""
    expect(page.locator("[data-plate] .silence:visible")).to_contain_text(
        re.compile(words, re.IGNORECASE)
    )
    expect(page.locator("[data-plate] .plate-number")).to_be_hidden()
    expect(page.locator("[data-plate] [data-makers]")).to_be_hidden()
    expect(page.locator("main .results")).to_be_hidden()


# --- files of another build ----------------------------------------------------------------------


@pytest.fixture
def mixed(site: Path, tmp_path: Path) -> Path:
    """A second build, to put files of the first one into."""
    publish(site, tmp_path / "live", "Second")
    return tmp_path / "live"


@pytest.mark.parametrize("spoil", ["another build's", "cut", "empty"])
def test_tables_of_another_build_never_give_a_number(
    spoil: str, site: Path, mixed: Path, phone: BrowserContext, serve: Serve
) -> None:
    tables = mixed / "static/tables/tables.bin"
    whole = tables.read_bytes()
    first = (site / "static/tables/tables.bin").read_bytes()
    assert len(first) == len(whole)
    tables.write_bytes({"another build's": first, "cut": whole[:-1], "empty": b""}[spoil])
    page = phone.new_page()
    page.goto(f"{serve(mixed).url}{M12}")
    _silent(page, "different versions")


def test_a_lost_entry_is_fetched_again_only_as_the_build_wrote_it(
    site: Path, mixed: Path, new_context: NewContext, serve: Serve
) -> None:
    live = mixed.with_name("other")
    shutil.copytree(site, live)
    server = serve(live)
    phone = new_context()
    page = installed(phone.new_page(), server.url)
    lose = """async () => {
      const [name] = await caches.keys();
      const cache = await caches.open(name);
      return await cache.delete(new URL("static/tables/tables.bin", location.href).href);
    }"""
    assert page.evaluate(lose)
    page.goto(f"{server.url}{M12}")
    expect(page.locator("[data-value]:visible")).to_have_text(re.compile(r"\d"))
    page.goto(server.url)
    kept = "async () => Boolean(await caches.match('static/tables/tables.bin'))"
    assert page.evaluate(kept), "what was fetched again is kept again"
    assert page.evaluate(lose)
    shutil.copy(mixed / "static/tables/tables.bin", live / "static/tables/tables.bin")
    page.goto(f"{server.url}{M12}")
    _silent(page, "could not be loaded")


# --- scripts that do not come --------------------------------------------------------------------


@pytest.mark.parametrize(
    "lost",
    ["every_page", "shared", "torque"],
)
@pytest.mark.parametrize("address", [M12, "torque/"])
def test_a_script_that_does_not_load_is_said_in_place_of_the_number(
    lost: str, address: str, phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.route(f"**/static/js/bundle/{lost}.js", lambda route: route.abort())
    page.goto(site_url + address)
    _silent(page, "could not be loaded, so no number is shown")
    expect(page.get_by_role("button", name="Load again")).to_be_visible()


def test_without_the_first_script_the_others_show_the_right_number(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(site_url + M12)
    number = page.locator("[data-value]:visible")
    expect(number).to_have_text(re.compile(r"\d"))
    right = number.inner_text()
    page.route("**/watch.js", lambda route: route.abort())
    page.reload()
    expect(number).to_have_text(right)
    # And if the others are lost as well, nothing is seen as the answer.
    page.route("**/shared.js", lambda route: route.abort())
    page.reload()
    _silent(page, "working it out")


@pytest.mark.parametrize("address", [M12, "torque/"])
def test_while_scripts_are_on_their_way_no_number_is_shown(
    address: str, phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/lookups/torque.json", hold)
    # Without a set-up in the address it is the truck's, which the page can't know.
    page.goto(site_url + address, wait_until="commit")
    _silent(page, "working it out")


def test_scripts_off_shows_what_the_page_came_with(new_context: NewContext, site_url: str) -> None:
    page = new_context(java_script_enabled=False).new_page()
    page.goto(f"{site_url}torque/")
    expect(page.locator("[data-plate] .plate-number")).to_be_visible()
    expect(page.locator("main .results")).to_be_visible()


def test_a_page_without_a_plate_says_it_at_its_top(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    page.route("**/bundle/tightening.js", lambda route: route.abort())
    page.goto(f"{site_url}tightening/?torque=99Nm")
    expect(page.locator("[data-notice]")).to_contain_text("could not be loaded")
    expect(page.locator("main form")).to_be_hidden()


def test_an_error_that_nothing_caught_takes_the_number_away(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(site_url + M12)
    expect(page.locator("[data-value]:visible")).to_have_text(re.compile(r"\d"))
    page.evaluate("() => { setTimeout(() => { throw new Error('made for a test'); }); }")
    _silent(page, "something went wrong")


# --- what the phone has stored -------------------------------------------------------------------

FIGURE = {
    "schema": 1,
    "id": "odd",
    "rev": 1,
    "job": "This job",
    "name": "Odd one",
    "thread": "M12x1.75",
    "grade": "",
    "friction": "",
    "text": "35",
    "unit": "furlong",
    "angle": "",
    "reuse": "",
    "sequence": "",
    "source": "Sheet 1",
    "page": "",
    "changed": "2026-01-01T00:00:00.000Z",
}


def _stored(figure: dict[str, Any]) -> dict[str, Any]:
    """A figure of the first version as the phone keeps it today."""
    kept = {key: figure[key] for key in ("id", "rev", "job", "name", "source", "page", "changed")}
    torque = {"text": figure["text"], "unit": figure["unit"]}
    return kept | {
        "schema": 2,
        "kind": "torque",
        "choices": {"thread": figure["thread"]},
        "values": {"maker_torque": torque},
        "texts": {},
        "typed": "",
        "used": "",
    }


PUT = """async (figure) => {
  const database = await new Promise((resolve, reject) => {
    const request = indexedDB.open("bay-reckoner");
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  const transaction = database.transaction("figures", "readwrite");
  transaction.objectStore("figures").put(figure);
  await new Promise((resolve) => { transaction.oncomplete = resolve; });
  database.close();
}"""


def _number(page: Page) -> str:
    number = page.locator("[data-value]:visible")
    expect(number).to_have_text(re.compile(r"\d"))
    return number.inner_text()


def test_a_stored_figure_that_no_page_can_use_stops_none(
    new_phone: NewContext, site_url: str
) -> None:
    page = new_phone().new_page()
    page.goto(site_url + M12)
    right = _number(page)
    page.goto(f"{site_url}figures/")
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    for change in (
        {},
        {"unit": "constructor"},
        {"text": "forty", "unit": "Nm"},
        {"text": "9" * 6000},
    ):
        page.evaluate(PUT, _stored(FIGURE | change))
        page.goto(f"{site_url}torque/?thread=M8x1.25")
        assert _number(page) != right
        page.select_option("#thread", "M12x1.75")
        expect(page.locator("[data-value]")).to_have_text(right)
        expect(page.locator("[data-maker-none]")).to_contain_text("can't be read")
        for other in ("tightening/?figure=odd", "figures/"):
            page.goto(site_url + other)
            expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()


def test_a_file_with_a_figure_in_an_unknown_unit_is_taken_in_without_it(
    new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = new_phone().new_page()
    page.goto(f"{site_url}figures/")
    path = tmp_path / "record.json"
    good = FIGURE | {"id": "good", "unit": "Nm", "name": "Good one"}
    parcel = {"kind": "bay-reckoner record", "schema": 1, "figures": [FIGURE, good], "maps": []}
    path.write_text(json.dumps(parcel), encoding="utf-8")
    page.set_input_files("[data-import]", path)
    expect(page.locator("[data-transfer]")).to_have_text(
        "1 added, 1 could not be read and were left out."
    )
    expect(page.locator(".card h3")).to_have_text(["Good one"])


def test_a_stored_choice_of_an_unknown_unit_is_passed_over(
    new_phone: NewContext, site_url: str
) -> None:
    phone = new_phone()
    page = phone.new_page()
    page.goto(f"{site_url}boost/?engine_speed=5000rpm")
    right = _number(page)
    page.evaluate(
        """() => localStorage.setItem("bay-reckoner", JSON.stringify({
          schema: 1, mode: "auto", system: "metric",
          units: { "boost.engine_speed": "furlong", "boost=boost": "constructor" },
          job: { name: "This job", kept: {} },
        }))"""
    )
    page.reload()
    assert _number(page) == right


def test_a_job_may_have_any_name(new_phone: NewContext, site_url: str) -> None:
    page = new_phone().new_page()
    page.goto(f"{site_url}figures/")
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    names = ["constructor", "__proto__", "toString"]
    for job in (*names, "Another", *names):
        page.select_option("[data-job-pick]", label="A new job …")
        page.fill("[data-job-name]", job)
        page.locator("[data-job-take]").click()
        expect(page.locator("[data-job-pick] option:checked")).to_have_text(job)
    page.reload()
    expect(page.locator("[data-job-pick] option:checked")).to_have_text(names[-1])
    expect(page.locator("[data-notice]")).to_be_hidden()
    options = page.locator("[data-job-pick] option")
    in_hand, *others = options.all_inner_texts()
    assert in_hand == names[-1]
    assert sorted(others) == sorted(["A new job …", "Another", "This job", *names[:-1]])


# --- links ---------------------------------------------------------------------------------------


def test_a_link_with_a_number_of_thousands_of_digits_is_refused_in_few_words(
    new_phone: NewContext, site_url: str
) -> None:
    page = new_phone().new_page()
    for text in ("6" * 6000, "9" * 309, "-" + "1" * 400, "1 " * 3000, "1," * 3000):
        page.goto(f"{site_url}boost/?engine_speed={text}")
        # A page that hung in reading it would run into the usual time limit.
        expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
        _said = page.locator("[data-plate] .silence:visible")
        expect(_said).to_contain_text("is not a number")
        assert len(_said.inner_text()) < 300
        assert "Infinity" not in page.locator("main").inner_text()
    page.fill("#engine_speed", "5000")
    expect(page.locator("[data-value]:visible")).to_have_text(re.compile(r"\d"))


@pytest.mark.parametrize("how", ["missing", "refused"])
def test_a_browser_without_service_workers_logs_nothing(
    how: str, new_phone: NewContext, site_url: str
) -> None:
    phone = new_phone(**INSTALLED)
    away = {
        "missing": """Object.defineProperty(Navigator.prototype, "serviceWorker",
          { get: () => undefined });""",
        "refused": """if (navigator.serviceWorker) navigator.serviceWorker.register =
          () => Promise.reject(new DOMException("no", "SecurityError"));""",
    }
    phone.add_init_script(away[how])
    page = phone.new_page()
    logged: list[str] = []
    page.on("console", lambda message: logged.append(message.text))
    page.goto(f"{site_url}boost/")
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    page.wait_for_timeout(300)
    assert logged == []
