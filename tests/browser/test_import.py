"""Taking a file in: all of it or nothing, never over what is there, whatever the file holds."""

from __future__ import annotations

import json
import random
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from site_src.builds import FOLDER, load_build
from site_src.builds.phone import contents
from tests import mutated
from tests.browser.conftest import NewContext
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer
from tests.browser.test_truck import KILLS
from tests.browser.test_typed_anything import LISTEN

FILES = max(12, mutated.FUZZ // 50)
"""Spoilt files that are taken in: more of them are read in Node, which is quicker."""

BUILD = (FOLDER / "timber_wagon.toml").read_text(encoding="utf-8")

RECORD: dict[str, Any] = contents(load_build(FOLDER / "gravel_hauler.toml"))

COLLECTIONS = ("figures", "maps", "pulleys", "jobs", "holds", "runs")

WHOLE = sum(len(RECORD[each]) for each in COLLECTIONS)

READING = (
    *("", "truck/", "figures/", "tightening/", "holds/", "pre-start/", "record/"),
    *("first-runs/", "boost/", "torque/", "hose-run/", "belt-route/"),
)
"""Pages that show what the record holds."""

STORED = """
(collections) => new Promise((resolve, reject) => {
  const request = indexedDB.open("bay-reckoner");
  request.onerror = () => reject(request.error);
  request.onsuccess = () => {
    const found = {};
    const all = request.result.transaction(collections);
    for (const each of collections)
      all.objectStore(each).getAll().onsuccess = ({ target }) => { found[each] = target.result; };
    all.oncomplete = () => { request.result.close(); resolve(found); };
  };
})
"""
"""All that is on the phone, read past the page's own scripts."""

PUT = """
([collection, value]) => new Promise((resolve, reject) => {
  const request = indexedDB.open("bay-reckoner");
  request.onerror = () => reject(request.error);
  request.onsuccess = () => {
    const writing = request.result.transaction(collection, "readwrite");
    writing.objectStore(collection).put(value);
    writing.oncomplete = () => { request.result.close(); resolve(); };
  };
})
"""


@pytest.fixture
def phone(new_phone: NewContext) -> BrowserContext:
    """A phone that watches itself, without a service worker, whose note could come in between."""
    phone = new_phone()
    phone.add_init_script(LISTEN)
    return phone


def listed(phone: BrowserContext, site_url: str) -> Page:
    """Open the list of figures, which takes files in."""
    page = phone.new_page()
    page.goto(f"{site_url}figures/")
    page.locator("[data-keep]:not([disabled])").wait_for()
    return page


ANSWERED = """
() => document.querySelector("[data-transfer]").textContent
  || document.querySelector("[data-clash]:not([hidden]) .guest-foot")
"""


def take_in(page: Page, text: str, answer: int = 0) -> str:
    """Take a file in, and give one answer to all that is asked of it; return what is said."""
    told = page.locator("[data-transfer]")
    told.evaluate("each => { each.textContent = ''; }")
    file = {"name": "record.json", "mimeType": "application/json", "buffer": text.encode()}
    page.set_input_files("[data-import]", files=[file])  # type: ignore[list-item]
    page.wait_for_function(ANSWERED)
    while not told.inner_text():
        page.locator("[data-clash] .guest-foot button").nth(answer).click()
        page.wait_for_function(ANSWERED)
    return told.inner_text()


def stored(page: Page) -> dict[str, list[Any]]:
    """What is on the phone, by its collection."""
    found: dict[str, list[Any]] = page.evaluate(STORED, list(COLLECTIONS))
    return found


def count(found: dict[str, list[Any]]) -> int:
    """How many entries those are."""
    return sum(map(len, found.values()))


def test_with_a_store_that_gets_full_half_way_nothing_is_added_and_that_is_said(
    phone: BrowserContext, site_url: str
) -> None:
    page = listed(phone, site_url)
    page.evaluate(
        """() => {
          const put = IDBObjectStore.prototype.put;
          let room = 3;
          IDBObjectStore.prototype.put = function (...all) {
            room -= 1;
            if (room < 0) throw new DOMException("full", "QuotaExceededError");
            return put.apply(this, all);
          };
        }"""
    )
    said = take_in(page, json.dumps(RECORD))
    assert said == ("Nothing was added. This phone's store is full. Make room, then try again.")
    assert count(stored(page)) == 0
    page.reload()
    page.locator("[data-keep]:not([disabled])").wait_for()
    assert take_in(page, json.dumps(RECORD)) == f"{WHOLE} added."
    assert count(stored(page)) == WHOLE


@pytest.mark.parametrize("rev", [None, 0, 7])
def test_an_entry_of_a_newer_version_is_never_overwritten(
    rev: int | None, phone: BrowserContext, site_url: str
) -> None:
    page = listed(phone, site_url)
    figure = RECORD["figures"][0]
    newer = {"id": figure["id"], "schema": 99, "something": "else"}
    newer |= {} if rev is None else {"rev": rev}
    page.evaluate(PUT, ["figures", newer])
    assert "added" in take_in(page, json.dumps(RECORD))
    figures = stored(page)["figures"]
    assert newer in figures
    assert len(figures) == 1 + len(RECORD["figures"])


def test_entries_with_one_id_are_all_taken_in(phone: BrowserContext, site_url: str) -> None:
    page = listed(phone, site_url)
    twice = dict(RECORD)
    for each in ("figures", "maps", "runs"):
        other = [entry | {"title": "Other", "name": "Other"} for entry in RECORD[each]]
        twice[each] = [*RECORD[each], *RECORD[each], *other]
    twice["holds"] = [*RECORD["holds"], *RECORD["holds"]]
    assert "added" in take_in(page, json.dumps(twice))
    found = stored(page)
    for each in ("figures", "maps", "runs"):
        ids = [entry["id"] for entry in found[each]]
        assert len(set(ids)) == len(ids) == 2 * len(RECORD[each]), each
    assert len(found["holds"]) == len(RECORD["holds"])
    before = stored(page)
    assert take_in(page, json.dumps(RECORD)).startswith("0 added")
    assert stored(page) == before


def test_words_for_a_number_and_days_that_are_none_are_left_out_and_counted(
    phone: BrowserContext, site_url: str
) -> None:
    page = listed(phone, site_url)
    [figure, *_] = [each for each in RECORD["figures"] if each["values"]]
    key = next(iter(figure["values"]))
    [first, *_] = RECORD["maps"]
    dial = first["stages"][0]["dial"]["plain"]
    step = {"do": "set", "at": "2026-03-02T10:15:00Z", "dial": dial, "offset": False}
    first |= {"finished": "", "steps": [step]}
    bad = {
        "figures": [figure | {"values": {key: figure["values"][key] | {"text": "forty"}}}],
        "maps": [
            first | {"started": "the other day"},
            first | {"steps": [step | {"at": "noonish"}]},
        ],
        **{each: [] for each in ("pulleys", "jobs", "holds", "runs")},
    }
    said = take_in(page, json.dumps(RECORD | bad))
    assert said == "0 added, 3 could not be read and were left out."
    assert count(stored(page)) == 0
    good = {"figures": [figure], "maps": [first]}
    assert take_in(page, json.dumps(RECORD | bad | good)) == "2 added."


def test_killed_while_a_file_is_taken_in_all_of_it_is_there_or_nothing(
    site: Path, serve: Callable[[Path], SiteServer], mortal: MortalPhone
) -> None:
    server = serve(site)
    chance = random.Random(5)
    many = RECORD | {
        "figures": [
            each | {"id": f"{each['id']} {n}", "name": f"{n}"}
            for n in range(60)
            for each in RECORD["figures"]
        ]
    }
    whole = sum(len(many[each]) for each in COLLECTIONS)
    file = {"name": "r.json", "mimeType": "application/json", "buffer": json.dumps(many).encode()}
    for _ in range(max(3, KILLS // 2)):
        with mortal.on() as phone:
            page = listed(phone, server.url)
            there = count(stored(page))
            assert there in (0, whole)
            if there:
                page.evaluate("indexedDB.deleteDatabase('bay-reckoner')")
                page.reload()
                page.locator("[data-keep]:not([disabled])").wait_for()
            page.set_input_files("[data-import]", files=[file])  # type: ignore[list-item]
            time.sleep(chance.uniform(0, 0.25))
            is_said = "added" in page.locator("[data-transfer]").inner_text()
            mortal.kill()
        if is_said:
            with mortal.on() as phone:
                assert count(stored(listed(phone, server.url))) == whole


def test_a_spoilt_file_does_no_harm_to_any_page(phone: BrowserContext, site_url: str) -> None:
    page = listed(phone, site_url)
    chance = random.Random(f"{mutated.SEED} imports")
    for n in range(FILES):
        spoilt = mutated.text(BUILD, chance) if n % 3 == 2 else mutated.record(RECORD, chance)
        text = spoilt.encode("utf-8", "replace").decode()
        said = take_in(page, text, answer=n % 4)
        assert len(said.split()) > 1, (n, said)
        assert not page.evaluate("window.typedAnything.errors"), (n, text[:500])
        assert page.evaluate("window.ran") is None
    for address in READING:
        page.goto(site_url + address)
        page.wait_for_timeout(200)
        assert not page.evaluate("window.typedAnything.errors"), address
        assert page.evaluate("window.ran") is None
        words = page.locator("main").inner_text()
        for wrong in ("Invalid Date", "undefined", "[object"):
            assert wrong not in words, address
