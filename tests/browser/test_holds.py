"""Hold points on a phone: signed, skipped, taken back, kept, told; and READY only if it is so."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from site_src.holds import hold_stages
from tests.browser.conftest import NewContext, installed
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer
from tests.browser.test_pages import opened as page_of
from tests.browser.test_tightening import started

STAGES = hold_stages()
BEFORE_KEY = [p.key for s in STAGES if s.when == "before the key" for p in s.points]
FIRST, SECOND = (point.key for point in STAGES[0].points[:2])

SIGN_ALL = """async ([keys, job]) => {
  const modules = globalThis.bayReckonerModules;
  const { addDeed, readKept } = modules["record/kept_holds.js"];
  const { deed } = modules["record/holds.js"];
  const name = job || (await readKept()).job;
  for (const key of keys) await addDeed(name, key, deed("signed", { who: "Jo" }));
}"""
"""Sign points by the page's own record; what the hand does is tested by hand."""

PUT = """([collection, entry]) => new Promise((resolve) => {
  const request = indexedDB.open("bay-reckoner");
  request.onsuccess = () => {
    const change = request.result.transaction(collection, "readwrite");
    change.objectStore(collection).put(entry);
    change.oncomplete = () => { request.result.close(); resolve(); };
  };
})"""

FULL = (
    "() => { IDBObjectStore.prototype.put = () => {"
    " throw new DOMException('full', 'QuotaExceededError'); }; }"
)

PICTURE = """(side) => new Promise((resolve) => {
  const canvas = document.createElement("canvas");
  canvas.width = side; canvas.height = Math.round(side * 0.75);
  const pen = canvas.getContext("2d");
  const pixels = pen.createImageData(canvas.width, canvas.height);
  let seed = 7;
  for (let n = 0; n < pixels.data.length; n += 1) {
    seed = (seed * 16807) % 2147483647;
    pixels.data[n] = n % 4 === 3 ? 255 : seed % 256;
  }
  pen.putImageData(pixels, 0, 0);
  // As text: a million numbers take Playwright a minute.
  resolve(canvas.toDataURL("image/jpeg", 0.95).split(",")[1]);
})"""
"""A photo of nothing but noise, which packs worse than anything a camera sees; in base64."""


def opened(context: BrowserContext, site_url: str, page: str = "holds/") -> Page:
    """Open the page and wait until it has read the record."""
    new = context.new_page()
    go(new, site_url, page)
    return new


def go(page: Page, site_url: str, address: str = "holds/") -> None:
    """Go to a page of hold points, and wait until it has read the record."""
    page.goto(site_url + address)
    if address.startswith("pre-start"):
        expect(page.locator("[data-verdict]")).not_to_have_attribute("data-verdict", "unread")
    else:
        expect(page.locator("[data-counts]")).not_to_be_empty()


def card(page: Page, key: str) -> Locator:
    """A point's card."""
    return page.locator(f'[data-point="{key}"]')


def press(page: Page, key: str, name: str) -> Locator:
    """Press a button of a card; return the form that opens there, if one does."""
    card(page, key).get_by_role("button", name=name, exact=True).click()
    return card(page, key).locator(".sign-form")


def sign(page: Page, key: str, who: str = "", note: str = "") -> None:
    """Sign a point by hand."""
    form = press(page, key, "Sign")
    if who:
        form.get_by_label("Who").fill(who)
    if note:
        form.locator("textarea").fill(note)
    form.get_by_role("button", name="Sign: done and seen").click()
    expect(card(page, key)).to_have_attribute("data-state", "signed")


def kept(page: Page, collection: str = "holds") -> list[dict[str, Any]]:
    """What is on the phone, read past the page's own scripts."""
    found: list[dict[str, Any]] = page.evaluate(
        """(collection) => new Promise((resolve) => {
          const request = indexedDB.open("bay-reckoner");
          request.onsuccess = () => {
            const all = request.result.transaction(collection).objectStore(collection).getAll();
            all.onsuccess = () => { request.result.close(); resolve(all.result); };
          };
        })""",
        collection,
    )
    return found


FINISHED = {
    "schema": 2,
    "id": "lid",
    "rev": 1,
    "job": "This job",
    "title": "Lid",
    "pattern": {"kind": "grid", "rows": 1, "columns": 1, "count": 1},
    "places": [[0, 0]],
    "names": ["1"],
    "orderBy": "maker",
    "bolt": "M8",
    "judged": "",
    "quarters": 0,
    "torque": "10 N·m",
    "source": "",
    "notes": [],
    "offset": {"bolts": [], "words": ""},
    "unit": "Nm",
    "stages": [
        {
            "kind": "torque",
            "share": 1,
            "angle": 0,
            "order": [0],
            "dial": {"plain": "10 N·m", "offset": ""},
        }
    ],
    "wrench": "",
    "who": "Jo",
    "voice": False,
    "started": "2026-11-29T07:00:00.000Z",
    "finished": "2026-11-29T07:30:00.000Z",
    "steps": [
        {"do": "set", "at": "2026-11-29T07:10:00.000Z", "dial": "10 N·m", "offset": False},
        {"do": "done", "at": "2026-11-29T07:20:00.000Z", "bolt": 0},
    ],
}
"""A map of one bolt, done: how maps are made is tested on their own page."""


def all_signed(phone: BrowserContext, site_url: str) -> Page:
    """A job that is ready, looked at on the pre-start page."""
    page = opened(phone, site_url)
    page.evaluate(PUT, ["maps", FINISHED])
    page.evaluate(SIGN_ALL, [BEFORE_KEY, ""])
    go(page, site_url, "pre-start/")
    expect(page.locator("[data-word]")).to_have_text("READY")
    return page


def not_ready(page: Page, words: str) -> None:
    """The pre-start page says so, and names what is open."""
    expect(page.locator("[data-word]")).to_have_text("NOT READY")
    expect(page.locator("[data-verdict]")).to_have_attribute("data-verdict", "stop")
    expect(page.locator("[data-open]")).to_contain_text(words)


# --- signing -------------------------------------------------------------------------------------


def test_nothing_is_signed_until_someone_signs_and_the_name_is_remembered(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    expect(page.locator('[data-state="signed"], [data-state="skipped"]')).to_have_count(0)
    assert kept(page) == []
    form = press(page, FIRST, "Sign")
    expect(form.get_by_label("Who")).to_have_value("")
    form.get_by_role("button", name="Sign: done and seen").click()
    expect(form.get_by_role("alert")).to_have_text("Type who signs.")
    assert kept(page) == []
    form.get_by_label("Who").fill("Jo")
    form.locator("textarea").fill("Light in every port.")
    form.get_by_role("button", name="Sign: done and seen").click()
    expect(card(page, FIRST)).to_contain_text("Signed by Jo")
    expect(card(page, FIRST)).to_contain_text("Light in every port.")
    expect(press(page, SECOND, "Sign").get_by_label("Who")).to_have_value("Jo")
    page.reload()
    expect(card(page, FIRST)).to_contain_text("Signed by Jo")
    [entry] = kept(page)
    assert entry["point"] == FIRST
    assert [(d["do"], d["who"], d["note"]) for d in entry["log"]] == [
        ("signed", "Jo", "Light in every port.")
    ]


def test_a_stage_opens_only_when_those_before_are_signed_or_skipped(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    drive = page.locator('[data-stage="drive"]')
    drive.locator("summary").first.click()
    expect(drive.locator("[data-waits]")).to_have_text("Opens when “Bolt up” is signed.")
    expect(drive.get_by_role("button", name="Sign", exact=True)).to_have_count(0)
    for key in (FIRST, SECOND, "seals_seated"):
        sign(page, key, who="Jo")
    # No map was made: that can't be signed, and a skip takes a reason.
    expect(card(page, "maps").get_by_role("button", name="Sign", exact=True)).to_be_disabled()
    form = press(page, "maps", "Skip")
    form.get_by_role("button", name="Skip it for this reason").click()
    expect(form.get_by_role("alert")).to_have_text("Type why it is skipped.")
    form.locator("textarea").fill("Torques are on the kit's own card.")
    form.get_by_role("button", name="Skip it for this reason").click()
    expect(card(page, "maps")).to_contain_text("Because: Torques are on the kit's own card.")
    expect(drive.locator("[data-waits]")).to_be_hidden()
    expect(drive.get_by_role("button", name="Sign", exact=True)).to_have_count(4)
    go(page, site_url, "pre-start/")
    expect(page.locator("[data-skipped]")).to_contain_text("Torques are on the kit's own card.")


def test_a_signature_taken_back_stays_in_the_log_and_can_be_put_back(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    sign(page, FIRST, who="Jo", note="All out")
    press(page, FIRST, "Take it back")
    expect(card(page, FIRST)).to_have_attribute("data-state", "open")
    card(page, FIRST).get_by_role("button", name="Put it back").click()
    expect(card(page, FIRST)).to_have_attribute("data-state", "signed")
    expect(card(page, FIRST).locator("[data-now]")).to_contain_text("All out")
    press(page, FIRST, "Take it back")
    expect(card(page, FIRST)).to_have_attribute("data-state", "open")
    page.reload()
    expect(card(page, FIRST)).to_have_attribute("data-state", "open")
    card(page, FIRST).locator(".hold-log summary").click()
    expect(card(page, FIRST).locator(".hold-log li")).to_have_count(4)
    assert [d["do"] for d in kept(page)[0]["log"]] == [
        "signed",
        "taken back",
        "put back",
        "taken back",
    ]


def test_a_photo_is_kept_small_and_one_that_is_none_is_refused_in_words(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    noise = base64.b64decode(page.evaluate(PICTURE, 2400))
    assert len(noise) > 1_000_000
    form = press(page, FIRST, "Sign")
    form.get_by_label("Who").fill("Jo")
    picker = form.locator("input[type=file]")
    picker.set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"})
    expect(form.get_by_role("alert")).to_contain_text("can't read that as a picture")
    picker.set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": noise})
    expect(form.locator("img")).to_be_visible()
    form.get_by_role("button", name="Sign: done and seen").click()
    shown = card(page, FIRST).locator(".deed img")
    expect(shown).to_be_visible()
    assert shown.evaluate("async (image) => { await image.decode(); return image.naturalWidth }")
    photo = kept(page)[0]["log"][0]["photo"]
    assert photo.startswith("data:image/jpeg;base64,")
    assert len(photo) * 3 / 4 <= 60_000
    # What comes later is added to the signature.
    form = press(page, FIRST, "Add a note or photo")
    form.get_by_role("button", name="Keep it").click()
    expect(form.get_by_role("alert")).to_have_text("Type a note, or add a photo.")
    form.locator("textarea").fill("Seen once more")
    form.get_by_role("button", name="Keep it").click()
    expect(card(page, FIRST).locator(".deed")).to_have_count(2)
    expect(card(page, FIRST)).to_have_attribute("data-state", "signed")


def test_what_was_typed_outlives_a_page_that_is_loaded_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    form = press(page, SECOND, "Sign")
    form.get_by_label("Who").fill("Jo")
    form.locator("textarea").fill("Lead goes behind the bracket")
    page.reload()
    expect(form.get_by_label("Who")).to_have_value("Jo")
    expect(form.locator("textarea")).to_have_value("Lead goes behind the bracket")
    form.get_by_role("button", name="Leave it").click()
    page.reload()
    expect(page.locator("[data-counts]")).not_to_be_empty()
    expect(page.locator(".sign-form")).to_have_count(0)


def test_points_of_one_s_own_are_added_renamed_deleted_and_brought_back(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    bolt = page.locator('[data-stage="bolt"]')
    bolt.get_by_role("button", name="Add a point of your own").click()
    bolt.locator("textarea").fill("Dowels in, both")
    bolt.get_by_role("button", name="Add this point").click()
    own = bolt.locator(".hold").last
    expect(own.locator("h3")).to_have_text("Dowels in, both")
    expect(bolt.locator("[data-stage-count]")).to_have_text("0 of 5")
    own.get_by_role("button", name="Rename").click()
    own.locator("textarea").fill("Dowels in, all four")
    own.get_by_role("button", name="Call it that").click()
    expect(own.locator("h3")).to_have_text("Dowels in, all four")
    own.get_by_role("button", name="Sign", exact=True).click()
    own.get_by_label("Who").fill("Jo")
    own.get_by_role("button", name="Sign: done and seen").click()
    expect(own).to_have_attribute("data-state", "signed")
    own.get_by_role("button", name="Delete").click()
    expect(bolt.locator(".hold")).to_have_count(4)
    page.get_by_role("button", name="Bring it back").click()
    expect(bolt.locator(".hold")).to_have_count(5)
    page.reload()
    expect(own).to_have_attribute("data-state", "signed")
    go(page, site_url, "pre-start/")
    expect(page.locator("[data-open]")).not_to_contain_text("Dowels")


# --- kept ----------------------------------------------------------------------------------------


def test_another_tab_hears_of_it_and_two_that_sign_at_once_lose_nothing(
    phone: BrowserContext, site_url: str
) -> None:
    one, other = opened(phone, site_url), opened(phone, site_url)
    pre_start = opened(phone, site_url, "pre-start/")
    expect(pre_start.locator("[data-line]")).to_contain_text(f"{len(BEFORE_KEY)} open")
    sign(one, FIRST, who="Jo")
    expect(card(other, FIRST)).to_have_attribute("data-state", "signed")
    expect(pre_start.locator("[data-line]")).to_contain_text(f"{len(BEFORE_KEY) - 1} open")
    # At once: neither has heard of the other when it writes.
    for page in (one, other):
        page.evaluate("BroadcastChannel.prototype.postMessage = () => {}")
    sign(one, SECOND, note="by one")
    form = press(other, SECOND, "Sign")
    form.locator("textarea").fill("by the other")
    form.get_by_role("button", name="Sign: done and seen").click()
    expect(card(other, SECOND)).to_contain_text("by the other")
    log = next(each["log"] for each in kept(other) if each["point"] == SECOND)
    assert [each["note"] for each in log] == ["by one", "by the other"]


def test_what_is_shown_as_signed_outlives_a_killed_browser_without_a_server(
    site: Path,
    serve: Callable[[Path], SiteServer],
    mortal: MortalPhone,
) -> None:
    server = serve(site)
    with mortal.on() as phone:
        installed(phone.new_page(), server.url)
    server.kill()
    keys = (FIRST, SECOND, "seals_seated")
    for count, key in enumerate(keys):
        with mortal.on() as phone:
            page = opened(phone, server.url)
            expect(page.locator('[data-state="signed"]')).to_have_count(count)
            sign(page, key, who="Jo" if count == 0 else "")
            mortal.kill()
    with mortal.on() as phone:
        page = opened(phone, server.url)
        for key in keys:
            expect(card(page, key)).to_contain_text("Signed by Jo")


def test_with_a_full_store_nothing_is_called_signed_and_what_was_typed_stays(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    page.evaluate(FULL)
    form = press(page, FIRST, "Sign")
    form.get_by_label("Who").fill("Jo")
    form.locator("textarea").fill("All out")
    form.get_by_role("button", name="Sign: done and seen").click()
    expect(form.get_by_role("alert")).to_have_text(
        "Not kept. This phone's store is full. Make room, then try again."
    )
    expect(form.locator("textarea")).to_have_value("All out")
    expect(card(page, FIRST)).not_to_have_attribute("data-state", "signed")


def test_a_job_that_is_renamed_keeps_its_signatures_and_another_has_none(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    sign(page, FIRST, who="Jo")
    home = page_of(phone, site_url)
    home.fill("[data-job-name]", "Grey truck")
    home.locator("[data-job-name]").dispatch_event("change")
    expect(home.locator("[data-job]")).to_have_text("Grey truck")
    go(page, site_url)
    expect(page.locator("[data-job]")).to_have_text("Grey truck")
    expect(card(page, FIRST)).to_have_attribute("data-state", "signed")
    home.get_by_role("button", name="Copy this job").click()
    expect(home.locator("[data-job]")).to_have_text("Grey truck, copy")
    go(page, site_url)
    expect(page.locator('[data-state="signed"]')).to_have_count(0)


# --- READY ---------------------------------------------------------------------------------------


def test_ready_only_when_all_is_signed_and_every_map_is_finished(
    phone: BrowserContext, site_url: str
) -> None:
    page = all_signed(phone, site_url)
    expect(page.locator("[data-verdict]")).to_have_attribute("data-verdict", "ready")
    expect(page.locator("[data-open] li")).to_have_count(0)
    # A map begun elsewhere tells nobody, and is seen all the same.
    other = started(phone, site_url)
    not_ready(page, "Pass 1")
    page.locator("[data-open] a").first.click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    page.close()
    other.close()
    page = opened(phone, site_url)
    expect(card(page, "maps")).to_have_attribute("data-state", "open")
    expect(card(page, "maps").get_by_role("button", name="Skip")).to_be_disabled()


def test_one_signature_taken_back_is_one_tap_away(phone: BrowserContext, site_url: str) -> None:
    page = all_signed(phone, site_url)
    holds = opened(phone, site_url, "holds/#blower_oil")
    press(holds, "blower_oil", "Take it back")
    not_ready(page, "Blower oil filled")
    expect(page.locator("[data-line]")).to_have_text("1 open. Tap one to see to it.")
    page.locator("[data-open] a").click()
    expect(card(page, "blower_oil").get_by_role("button", name="Sign", exact=True)).to_be_visible()
    expect(card(page, "blower_oil")).to_be_in_viewport()
    sign(page, "blower_oil")
    go(page, site_url, "pre-start/")
    expect(page.locator("[data-word]")).to_have_text("READY")


@pytest.mark.parametrize(
    ("collection", "entry", "words"),
    [
        ("holds", {"id": "broken", "schema": 1}, "A hold point that can't be read"),
        ("maps", {"id": "broken", "schema": 2, "steps": "none"}, "A tightening map"),
        ("jobs", {"id": "broken", "schema": 9}, "A job that can't be read"),
    ],
)
def test_what_can_t_be_read_is_never_ready_and_there_is_a_way_out(
    phone: BrowserContext, site_url: str, collection: str, entry: dict[str, Any], words: str
) -> None:
    page = all_signed(phone, site_url)
    page.evaluate(PUT, [collection, entry])
    page.reload()
    not_ready(page, words)
    page.locator("[data-open] a").first.click()
    page.get_by_role("button", name="Throw out what can't be read").click()
    expect(page.get_by_role("button", name="Bring back")).to_be_visible()
    assert "broken" not in {each["id"] for each in kept(page, collection)}
    page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_role("button", name="Throw out what can't be read")).to_be_visible()
    assert "broken" in {each["id"] for each in kept(page, collection)}
    page.get_by_role("button", name="Throw out what can't be read").click()
    expect(page.get_by_role("button", name="Bring back")).to_be_visible()
    go(page, site_url, "pre-start/")
    expect(page.locator("[data-word]")).to_have_text("READY")


def test_a_point_whose_entry_can_t_be_read_is_open_and_signed_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = all_signed(phone, site_url)
    entry = next(each for each in kept(page) if each["point"] == "blower_oil")
    page.evaluate(PUT, ["holds", entry | {"log": [{"do": "signed", "who": ""}]}])
    page.reload()
    not_ready(page, "Blower oil filled")
    page.locator("[data-open] a").first.click()
    expect(card(page, "blower_oil")).to_contain_text("What was stored for it can't be read")
    sign(page, "blower_oil")
    card(page, "blower_oil").locator(".hold-log summary").click()
    expect(card(page, "blower_oil").locator(".hold-log")).to_contain_text("could not be read")


def test_a_phone_that_keeps_nothing_is_not_ready_and_says_why(
    new_phone: NewContext, site_url: str
) -> None:
    phone = new_phone()
    phone.add_init_script("Object.defineProperty(window, 'indexedDB', { get() { throw 1; } })")
    page = opened(phone, site_url, "pre-start/")
    not_ready(page, "keeps nothing")
    go(page, site_url)
    expect(page.locator("[data-problem]")).to_contain_text("Nothing can be signed.")


def test_after_the_start_re_torque_and_re_tension_are_due(
    phone: BrowserContext, site_url: str
) -> None:
    page = all_signed(phone, site_url)
    expect(page.locator("[data-due-part]")).to_be_hidden()
    started_points = [p.key for s in STAGES if s.when == "at the first start" for p in s.points]
    page.evaluate(SIGN_ALL, [started_points, ""])
    page.reload()
    expect(page.locator("[data-word]")).to_have_text("READY")
    expect(page.locator("[data-due]")).to_contain_text("Bolts gone over again cold")
    expect(page.locator("[data-due]")).to_contain_text("Belt tension measured again")
    go(page, site_url)
    expect(page.locator("[data-next]")).to_contain_text("Due now")
    home = page_of(phone, site_url)
    expect(home.locator("[data-next-hold]")).to_contain_text("due")
    home.locator("[data-next-hold]").click()
    expect(card(home, "retorque")).to_be_in_viewport()


def test_home_names_the_next_point_once_there_is_a_truck_or_a_signature(
    phone: BrowserContext, site_url: str
) -> None:
    home = page_of(phone, site_url)
    expect(home.locator("[data-next-hold]")).to_be_hidden()
    page = opened(phone, site_url)
    sign(page, FIRST, who="Jo")
    expect(home.locator("[data-next-hold]")).to_contain_text("not ready")
    expect(home.locator("[data-next-hold]")).to_contain_text("Next: Knock sensors clear")
    home.locator("[data-next-hold]").click()
    expect(card(home, SECOND)).to_be_in_viewport()


# --- files ---------------------------------------------------------------------------------------


def saved(page: Page, site_url: str, path: Path) -> dict[str, Any]:
    """Save the record as a file, and return what is in it."""
    page.goto(f"{site_url}figures/")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    download.value.save_as(path)
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found


def take_in(page: Page, site_url: str, path: Path) -> Locator:
    """Take a file in; return what is said."""
    page.goto(f"{site_url}figures/")
    page.set_input_files("[data-import]", path)
    told = page.locator("[data-transfer]")
    expect(told).not_to_be_empty()
    return told


def test_signatures_go_with_the_file_and_come_together_on_the_same_job(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page, path = opened(phone, site_url), tmp_path / "record.json"
    sign(page, FIRST, who="Jo")
    file = saved(page, site_url, path)
    assert (file["schema"], len(file["holds"]), file["runs"]) == (6, 1, [])
    other = new_phone().new_page()
    expect(take_in(other, site_url, path)).to_contain_text("added")
    go(other, site_url)
    expect(card(other, FIRST)).to_contain_text("Signed by Jo")
    press(other, FIRST, "Take it back")
    sign(other, SECOND)
    back = tmp_path / "back.json"
    saved(other, site_url, back)
    expect(take_in(page, site_url, back)).to_contain_text("have what the file says besides")
    expect(take_in(page, site_url, back)).not_to_contain_text("besides")
    go(page, site_url)
    expect(card(page, FIRST)).to_have_attribute("data-state", "open")
    expect(card(page, SECOND)).to_have_attribute("data-state", "signed")


def test_another_truck_s_signatures_never_come_to_stand_under_this_one(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page, path = opened(phone, site_url), tmp_path / "record.json"
    page.evaluate(SIGN_ALL, [BEFORE_KEY, ""])
    saved(page, site_url, path)
    other = new_phone().new_page()
    go(other, site_url)
    sign(other, FIRST, who="Al")
    expect(take_in(other, site_url, path)).to_contain_text("beside it")
    go(other, site_url)
    expect(page.locator("body")).to_be_visible()
    expect(other.locator('[data-state="signed"]')).to_have_count(1)
    home = page_of(other.context, site_url)
    expect(home.locator("[data-job-list]")).to_contain_text("This job, from a file")


def test_damaged_hostile_and_huge_files_change_nothing(
    phone: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page, path = opened(phone, site_url), tmp_path / "record.json"
    sign(page, FIRST, who="Jo")
    file = saved(page, site_url, path)
    before = kept(page)
    [good] = file["holds"]
    evil = [
        good | {"point": "blower_oil"},
        good | {"log": good["log"] * 400},
        good | {"log": [good["log"][0] | {"photo": "data:text/html,<script>alert(1)</script>"}]},
        good | {"log": [good["log"][0] | {"who": ""}]},
        {"id": 7},
        None,
        [],
    ]
    runs = [{"schema": 1, "id": "r", "rev": 0, "job": "This job", "at": "never", "data": {}}]
    path.write_text(json.dumps(file | {"holds": evil, "runs": runs}), encoding="utf-8")
    expect(take_in(page, site_url, path)).to_contain_text("8 could not be read and were left out")
    assert kept(page) == before
    path.write_text(json.dumps(file | {"holds": "all"}), encoding="utf-8")
    expect(take_in(page, site_url, path)).to_contain_text("0 added")
    with path.open("wb") as big:
        big.truncate(50_000_000)
    expect(take_in(page, site_url, path)).to_contain_text("too large to be a record from here")
    assert kept(page) == before


# --- on paper ------------------------------------------------------------------------------------


def test_on_paper_every_stage_is_there_with_who_and_why(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, site_url)
    sign(page, FIRST, who="Jo", note="Light in every port")
    form = press(page, SECOND, "Skip")
    form.locator("textarea").fill("Engine has none")
    form.get_by_role("button", name="Skip it for this reason").click()
    expect(card(page, SECOND)).to_have_attribute("data-state", "skipped")
    page.emulate_media(media="print")
    for words in ("Signed by Jo", "Light in every port", "Because: Engine has none"):
        expect(page.get_by_text(words).first).to_be_visible()
    for key in ("blower_oil", "handover"):
        expect(card(page, key).locator("h3")).to_be_visible()
    expect(page.locator(".sign-form, .hold-acts:visible")).to_have_count(0)


def test_a_stage_that_is_done_asks_for_a_copy_until_one_is_saved(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(site_url)
    reminder = page.locator("[data-unsaved]")
    expect(page.locator("[data-next-hold]")).to_be_attached()
    first = STAGES[0]
    page.evaluate(SIGN_ALL, [[point.key for point in first.points[:-1]], ""])
    page.reload()
    expect(page.locator("[data-hold-words]")).to_contain_text("Next")
    expect(reminder).to_be_hidden()
    page.evaluate(SIGN_ALL, [[first.points[-1].key], ""])
    page.reload()
    expect(reminder).to_contain_text(f"{first.label} is done, and only this phone knows")
    with page.expect_download():
        reminder.get_by_role("button", name="Save a copy").click()
    expect(reminder).to_contain_text("Saved as")
    page.reload()
    expect(page.locator("[data-hold-words]")).to_contain_text("Next")
    expect(reminder).to_be_hidden()
    # The job's own file, saved on the record's page, is a copy as well.
    second = STAGES[1]
    page.evaluate(SIGN_ALL, [[point.key for point in second.points], ""])
    page.reload()
    expect(reminder).to_contain_text(f"{second.label} is done")
    page.goto(f"{site_url}record/")
    with page.expect_download():
        page.locator("[data-save]").click()
    page.goto(site_url)
    expect(page.locator("[data-hold-words]")).to_contain_text("Next")
    expect(reminder).to_be_hidden()
