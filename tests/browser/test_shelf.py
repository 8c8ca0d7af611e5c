"""The shop's own pulleys: entered once, stepped along everywhere, kept on the phone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import NewContext


@pytest.fixture
def phone(new_phone: NewContext) -> BrowserContext:
    """A phone without a service worker, whose note on its first visit could come under a click."""
    return new_phone(service_workers="block")


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
    assert found["figures"] == [FIGURE]
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
