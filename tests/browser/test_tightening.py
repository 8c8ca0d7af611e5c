"""The tightening page: maps set up, worked through, interrupted, and put in the record."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlencode

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from calc import tightening
from site_src.lookups import lookup
from tests.browser.axe import violations
from tests.browser.conftest import NewContext, installed
from tests.browser.killing import MortalPhone
from tests.browser.servers import SiteServer

Serve = Callable[[Path], SiteServer]

APART = 480
"""Milliseconds between two taps that count as two."""

LATER = """
(passed) => {
  if (!globalThis.wait) {
    let waited = 0;
    globalThis.wait = (more) => { waited += more; };
    const { get } = Object.getOwnPropertyDescriptor(Event.prototype, "timeStamp");
    const since = performance.now.bind(performance);
    Object.defineProperty(Event.prototype, "timeStamp", {
      get() { return get.call(this) + waited; },
    });
    performance.now = () => since() + waited;
  }
  wait(passed);
}
"""
"""Moves the page's clock on: a map of eleven taps would take five seconds of waiting."""

WRITTEN = "() => !document.querySelector('[data-bolt-screen][aria-busy=true]')"

WHERE = """
(drawing, bolt) => {
  const from = drawing.getBoundingClientRect();
  const box = drawing.querySelector(bolt).getBoundingClientRect();
  return { x: box.x + box.width / 2 - from.x, y: box.y + box.height / 2 - from.y };
}
"""
"""The middle of a drawing's first such bolt, from the drawing's corner."""

READY = {"order": "worked", "thread": "M8x1.25", "grade": "8.8", "torque": "25Nm"}
"""What a map needs besides its pattern: nothing of it is assumed."""

SMALL = "pattern=grid&rows=2&columns=2&passes=1&passes.1.share=100pct"
"""Four bolts, one pass and the check."""

VOICE = """
window.saidAloud = [];
const voices = VOICES;
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
Object.defineProperty(window, "speechSynthesis", { value: {
  getVoices: () => voices,
  speak: ({ text, voice }) => saidAloud.push([text, voice.name]),
  cancel: () => {},
  addEventListener: (_, act) => setTimeout(act),
} });
"""

AWAKE = """
window.locks = [];
Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  const lock = { kind, released: false, release: async () => { lock.released = true; } };
  locks.push(lock);
  return lock;
} } });
window.buzzes = [];
navigator.vibrate = (pattern) => buzzes.push(pattern);
"""


def with_all(address: str) -> str:
    """The address with all that a map needs, but for what it says itself."""
    place, _, query = address.partition("?")
    return f"{place}?{urlencode({**READY, **dict(parse_qsl(query))})}"


def opened(context: BrowserContext, address: str) -> Page:
    """Open the page with all that a map needs, and wait until one can be started."""
    return fresh(context, with_all(address))


def fresh(context: BrowserContext, address: str) -> Page:
    """Open the page just so, and wait until entries can be made."""
    page = context.new_page()
    page.goto(address)
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    return page


def started(context: BrowserContext, site_url: str, query: str = SMALL) -> Page:
    """Open a set-up and start its map."""
    page = opened(context, f"{site_url}tightening/?{query}")
    begin(page)
    return page


def begin(page: Page) -> None:
    """Start the map, and wait as long as it takes until a tap counts."""
    page.locator("[data-start]").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    pause(page)


def pause(page: Page) -> None:
    """Let the last step be written, and so much time pass that the next tap counts."""
    page.wait_for_function(WRITTEN)
    page.evaluate(LATER, APART)


def tap(page: Page, selector: str = "[data-confirm]", times: int = 1) -> None:
    """Tap, as far apart as a hand does."""
    for _ in range(times):
        page.locator(selector).click()
        pause(page)


def tap_drawn(holder: Locator, bolt: str) -> None:
    """Tap a drawing where it shows a bolt: it takes a tap for its nearest, scribed lines or not."""
    drawing = holder.locator("svg")
    drawing.click(position=drawing.evaluate(WHERE, bolt))


def line(page: Page) -> str:
    """What the call says, on one line."""
    words = page.locator("[data-line]").inner_text(), page.locator("[data-dial]").inner_text()
    return " ".join(" ".join(words).split())


def states(page: Page) -> dict[str, str]:
    """How each bolt is drawn, by its place in the pattern."""
    found: dict[str, str] = page.evaluate(
        "Object.fromEntries([...document.querySelectorAll('[data-bolt-screen] .bolt')]"
        ".map(each => [each.dataset.bolt, each.getAttribute('class').replace('bolt ', '')]))"
    )
    return found


def maps(page: Page) -> list[dict[str, Any]]:
    """The maps on the phone, read past the page's own scripts."""
    found: list[dict[str, Any]] = page.evaluate(
        """() => new Promise((resolve, reject) => {
          const request = indexedDB.open("bay-reckoner");
          request.onerror = () => reject(request.error);
          request.onsuccess = () => {
            const all = request.result.transaction("maps").objectStore("maps").getAll();
            all.onsuccess = () => { request.result.close(); resolve(all.result); };
          };
        })"""
    )
    return found


# --- a whole map, offline, killed and resumed ----------------------------------------------------


def test_a_whole_map_offline_with_the_browser_killed_in_the_middle(
    site: Path,
    serve: Serve,
    mortal: MortalPhone,
) -> None:
    server = serve(site)
    address = f"{server.url}tightening/?pattern=grid&rows=2&columns=3&torque=25Nm"
    expected = called(tightening.grid_positions(2, 3), "25 N·m")
    with mortal.on() as phone:
        installed(phone.new_page(), server.url).close()
        server.kill()
        page = opened(phone, address)
        begin(page)
        seen = []
        for _ in range(11):
            seen.append(line(page))
            tap(page)
        before = line(page), page.locator("[data-screen-count]").inner_text(), states(page)
        place = page.url
        assert place.endswith("#bolts")
        mortal.kill()
    with mortal.on() as phone:
        page = phone.new_page()
        page.goto(place)
        expect(page.locator("[data-bolt-screen]")).to_be_visible()
        pause(page)
        after = line(page), page.locator("[data-screen-count]").inner_text(), states(page)
        assert after == before
        while "Every bolt" not in line(page):
            seen.append(line(page))
            tap(page)
        assert seen == expected
        tap(page)
        card = page.locator("[data-map]")
        expect(card).to_contain_text("2 × 3 bolts")
        expect(card).to_contain_text("30 %: 7.5 N·m; 60 %: 15 N·m; 100 %: 25 N·m")
        expect(card).to_contain_text("no bolt turned")
        page.reload()
        expect(page.locator("[data-map]")).to_have_count(1)
        expect(page.locator("[data-unfinished]")).to_be_hidden()


def called(positions: list[tuple[float, float]], torque: str) -> list[str]:
    """Every call of a map, by the calculation."""
    order, check = tightening.tightening_order(positions), tightening.check_order(positions)
    passes = [("Pass 1", "7.5 N·m", order), ("Pass 2", "15 N·m", order), ("Pass 3", torque, order)]
    calls = []
    for where, dial, bolts in [*passes, ("Check", torque, check)]:
        calls.append(f"{where} · dial in {dial}")
        calls += [f"{where} · bolt {order.index(bolt) + 1} {dial}" for bolt in bolts]
    return calls


def test_a_map_that_was_left_waits_at_the_top_of_the_page(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url, f"{SMALL}&title=Lid")
    tap(page, times=3)
    tap(page, "[data-leave]")
    expect(page.locator("[data-bolt-screen]")).to_be_hidden()
    assert "#bolts" not in page.url
    again = opened(phone, f"{site_url}tightening/")
    card = again.locator("[data-unfinished-map]")
    expect(card).to_contain_text("Not finished: Lid")
    expect(card).to_contain_text("Pass 1: 2 of 4 done.")
    card.get_by_role("button", name="Go on").click()
    expect(again.locator("[data-line]")).to_have_text("Pass 1 · bolt 3")


def test_the_phone_s_own_way_back_leaves_the_map_and_loses_nothing(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    tap(page, times=2)
    page.go_back()
    expect(page.locator("[data-bolt-screen]")).to_be_hidden()
    expect(page.locator("[data-unfinished-map]")).to_contain_text("1 of 4 done")


# --- taps ----------------------------------------------------------------------------------------


def test_two_taps_at_once_tick_one_bolt_and_say_why(phone: BrowserContext, site_url: str) -> None:
    page = started(phone, site_url)
    tap(page)
    page.locator("[data-confirm]").dblclick(delay=20)
    expect(page.locator("[data-note]")).to_have_text(
        "Two taps at once count as one. Nothing more was ticked."
    )
    expect(page.locator("[data-screen-count]")).to_have_text("1 of 4 done")
    assert [step["do"] for step in maps(page)[0]["steps"]] == ["set", "done"]


def test_the_tap_that_starts_a_map_ticks_nothing_by_bouncing(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?{SMALL}")
    page.locator("[data-start]").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    page.evaluate("document.querySelector('[data-confirm]').click()")
    pause(page)
    assert line(page).startswith("Pass 1 · dial in")
    assert len(maps(page)) == 1
    assert not maps(page)[0]["steps"]


def test_a_doubtful_bolt_is_hatched_and_asked_for_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    tap(page, times=4)
    assert list(states(page).values()).count("done") == 3
    expect(page.locator("[data-doubt]")).to_have_text("In doubt: 3")
    tap(page, "[data-doubt]", times=2)
    assert line(page) == "Pass 1 · bolt 2 again 25 N·m"
    assert sorted(states(page).values()) == ["done", "doubtful", "next again", "open"]
    tap(page)
    assert line(page) == "Pass 1 · bolt 3 again 25 N·m"
    tap(page)
    assert line(page) == "Pass 1 · bolt 4 25 N·m"


def test_a_tap_on_a_done_bolt_of_the_drawing_puts_it_in_doubt(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    tap(page, times=3)
    tap_drawn(page.locator("[data-screen-map]"), ".bolt.done")
    pause(page)
    assert "again" in line(page)
    tap_drawn(page.locator("[data-screen-map]"), ".bolt.open")
    expect(page.locator("[data-note]")).to_contain_text("is open: nothing to doubt")


def test_back_one_step_takes_back_the_last_tap_whatever_it_was(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    expect(page.locator("[data-back]")).to_be_disabled()
    seen = []
    for selector in ("[data-confirm]", "[data-confirm]", "[data-doubt]", "[data-confirm]"):
        seen.append((line(page), states(page)))
        tap(page, selector)
    for expected in reversed(seen):
        tap(page, "[data-back]")
        assert (line(page), states(page)) == expected


def test_a_bolt_that_still_turns_in_the_check_brings_all_around_once_more(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    expect(page.locator("[data-turned]")).to_be_hidden()
    tap(page, times=6)
    assert line(page) == "Check · bolt 1 25 N·m"
    tap(page, "[data-turned]")
    tap(page, times=3)
    assert line(page) == "Check 2 · dial in 25 N·m"
    tap(page, times=6)
    expect(page.locator("[data-map]")).to_contain_text("2 rounds; turned before the last: 1.")


# --- voice, screen, buzz -------------------------------------------------------------------------


def with_voices(phone: BrowserContext, voices: list[dict[str, Any]]) -> None:
    """Stand in for the phone's speech: record what is said."""
    phone.add_init_script(VOICE.replace("VOICES", json.dumps(voices)))


def test_the_call_is_spoken_by_a_voice_of_the_phone_itself(
    phone: BrowserContext, site_url: str
) -> None:
    far = {"name": "far", "lang": "en-US", "localService": False}
    foreign = {"name": "foreign", "lang": "de-DE", "localService": True}
    near = {"name": "near", "lang": "en-GB", "localService": True}
    with_voices(phone, [far, foreign, near])
    page = started(phone, site_url, f"{SMALL}&torque=19Nm")
    assert page.evaluate("saidAloud") == []
    tap(page, "[data-voice]")
    tap(page, times=2)
    page.locator("[data-confirm]").dblclick(delay=10)
    pause(page)
    assert page.evaluate("saidAloud") == [
        ["pass 1: set the wrench to 19 newton metres", "near"],
        ["pass 1, bolt 1, 19 newton metres", "near"],
        ["pass 1, bolt 2, 19 newton metres", "near"],
        ["pass 1, bolt 3, 19 newton metres", "near"],
    ]
    tap(page, "[data-voice]")
    tap(page)
    assert len(page.evaluate("saidAloud")) == 4


def test_without_a_voice_of_its_own_the_phone_says_so(phone: BrowserContext, site_url: str) -> None:
    with_voices(phone, [{"name": "far", "lang": "en-US", "localService": False}])
    page = started(phone, site_url)
    tap(page, "[data-voice]")
    expect(page.locator("[data-note]")).to_contain_text("no English voice of its own")
    expect(page.locator("[data-voice]")).to_have_attribute("aria-pressed", "false")


def test_the_screen_is_kept_on_and_taken_hold_of_again_after_a_call(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(AWAKE)
    with_voices(phone, [{"name": "near", "lang": "en-GB", "localService": True}])
    page = started(phone, site_url)
    tap(page, "[data-voice]")
    assert page.evaluate("locks.map(({ kind }) => kind)") == ["screen"]
    page.evaluate(
        """() => {
          locks[0].released = true;
          document.dispatchEvent(new Event("visibilitychange"));
        }"""
    )
    page.wait_for_function("() => locks.length === 2")
    # Back from the call it says once more what is next.
    assert (
        page.evaluate("saidAloud.map(([text]) => text)")
        == ["pass 1: set the wrench to 25 newton metres"] * 2
    )
    tap(page, times=2)
    assert page.evaluate("buzzes") == [60, 60]
    tap(page, "[data-leave]")
    page.wait_for_function("() => locks.every(({ released }) => released)")


def test_a_phone_that_can_do_neither_works_all_the_same(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(
        "Object.defineProperty(Navigator.prototype, 'wakeLock', { value: undefined });"
        "delete Navigator.prototype.wakeLock; navigator.vibrate = undefined;"
    )
    page = started(phone, site_url)
    expect(page.locator("[data-note]")).to_contain_text("keep the screen on")
    tap(page, times=2)
    expect(page.locator("[data-screen-count]")).to_have_text("1 of 4 done")


# --- when the phone won't store ------------------------------------------------------------------


FULL = """
window.isFull = true;
const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (...value) {
  if (window.isFull) throw new DOMException("full", "QuotaExceededError");
  return put.apply(this, value);
};
"""


def test_a_full_phone_is_said_in_words_and_the_work_goes_on(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(FULL)
    page = started(phone, site_url)
    trouble = page.locator("[data-trouble]")
    expect(trouble).to_contain_text("This phone's store is full")
    tap(page, times=2)
    expect(trouble).to_contain_text("Not stored")
    expect(page.locator("[data-screen-count]")).to_have_text("1 of 4 done")
    page.evaluate("window.isFull = false")
    tap(page)
    expect(trouble).to_be_hidden()
    assert [step["do"] for step in maps(page)[0]["steps"]] == ["set", "done", "done"]


def test_a_phone_that_keeps_nothing_works_on_the_screen_alone(
    phone: BrowserContext, site_url: str
) -> None:
    phone.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    page = started(phone, site_url)
    expect(page.locator("[data-trouble]")).to_contain_text("keeps nothing for this page")
    tap(page, times=2)
    expect(page.locator("[data-screen-count]")).to_have_text("1 of 4 done")


def test_a_map_gone_on_with_in_another_tab_is_not_written_over(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    tap(page, times=2)
    other = opened(phone, f"{site_url}tightening/")
    other.get_by_role("button", name="Go on").click()
    pause(other)
    tap(other, times=2)
    page.bring_to_front()
    tap(page)
    expect(page.locator("[data-trouble]")).to_contain_text("gone on with in another tab")
    expect(page.locator("[data-confirm]")).to_be_disabled()
    assert len(maps(page)[0]["steps"]) == 4
    page.reload()
    expect(page.locator("[data-screen-count]")).to_have_text("3 of 4 done")


def test_a_damaged_entry_is_said_and_left_where_it_is(phone: BrowserContext, site_url: str) -> None:
    page = started(phone, site_url)
    tap(page, times=2)
    page.evaluate(
        """() => new Promise((resolve) => {
          const request = indexedDB.open("bay-reckoner");
          request.onsuccess = () => {
            const change = request.result.transaction("maps", "readwrite");
            change.objectStore("maps").put({ id: "broken", schema: 1, steps: "none" });
            change.oncomplete = () => { request.result.close(); resolve(); };
          };
        })"""
    )
    page.reload()
    expect(page.locator("[data-record-problem]")).to_contain_text("One entry")
    expect(page.locator("[data-line]")).to_have_text("Pass 1 · bolt 2")
    assert {each["id"] for each in maps(page)} >= {"broken"}


# --- setting up ----------------------------------------------------------------------------------


def test_a_torque_from_a_link_is_dialled_in_pass_by_pass(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?torque=89lbin")
    expect(page.locator("[data-go-line]")).to_have_text("27 → 53 → 89 lb·in, then check")
    expect(page.locator("[data-start]")).to_have_text("Start: 10 bolts, 3 passes")


def test_the_crowfoot_s_setting_is_the_torque_page_s_own(
    phone: BrowserContext, site_url: str
) -> None:
    crowfoot: dict[str, float | str] = {"extension": 60.0, "wrench_length": 350.0}
    query = "&".join(f"{key}={value}mm" for key, value in crowfoot.items())
    page = started(phone, site_url, f"{SMALL}&torque=25Nm&offset=3&{query}")
    given: dict[str, float | str] = {"maker_torque": 25.0, "drive": "offset", **crowfoot}
    setting = lookup("torque").evaluate(given)["setting"]
    assert setting < 22
    tap(page, times=2)
    # The lower right of four is second, and takes it.
    assert line(page) == f"Pass 1 · dial in {round(setting, 1):g} N·m"
    expect(page.locator("[data-hint]")).to_have_text("Crowfoot on.")
    tap(page, times=2)
    assert line(page) == "Pass 1 · dial in 25 N·m"
    expect(page.locator("[data-hint]")).to_have_text("Crowfoot off.")
    expect(page.locator("[data-screen-map] .offset-mark")).to_have_count(1)


def test_bolts_that_take_the_crowfoot_ask_for_its_offset(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/")
    page.locator("[data-more] > summary").click()
    page.locator("[data-offset-bolts] button").nth(6).click()
    expect(page.locator("[data-offset-problem]")).to_contain_text("enter its offset")
    expect(page.locator("[data-start]")).to_be_disabled()
    page.fill("#extension", "50")
    expect(page.locator("[data-start]")).to_be_enabled()
    # Another pattern has other bolts.
    page.fill("#columns", "4")
    expect(page.locator('[data-offset-bolts] [aria-pressed="true"]')).to_have_count(0)


def test_typed_places_get_the_order_of_the_calculation(
    phone: BrowserContext, site_url: str
) -> None:
    places = [(0.0, 0.0), (52.5, 3.0), (110.0, 0.0), (0.0, 70.0), (48.0, 74.0), (110.0, 70.0)]
    page = opened(phone, f"{site_url}tightening/?pattern=places")
    expect(page.locator("[data-start]")).to_be_disabled()
    page.fill("[data-places-typed]", "\n".join(f"{x} {y}" for x, y in places))
    page.locator("[data-start]").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    made = maps(page)[0]
    assert made["stages"][0]["order"] == tightening.tightening_order(places)
    assert made["stages"][-1]["order"] == tightening.check_order(places)


def test_tapped_places_are_typed_ones_and_a_second_tap_takes_one_out(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?pattern=places")
    grid = page.locator("[data-places-board] svg")
    box = grid.bounding_box()
    assert box

    def at(x: int, y: int) -> None:
        grid.click(position={"x": (x + 0.5) * box["width"] / 9, "y": (6.5 - y) * box["height"] / 7})

    for place in ((1, 1), (5, 1), (5, 5), (1, 5), (3, 3)):
        at(*place)
    at(3, 3)
    expect(page.locator("[data-places-typed]")).to_have_value("1 1\n5 1\n5 5\n1 5")
    expect(page.locator("[data-places-count]")).to_have_text("4 bolts")
    expect(page.locator("[data-start]")).to_have_text("Start: 4 bolts, 3 passes")
    page.wait_for_timeout(400)
    page.reload()
    expect(page.locator("[data-places-typed]")).to_have_value("1 1\n5 1\n5 5\n1 5")


def test_places_that_cannot_be_are_refused_in_words(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}tightening/?pattern=places")
    for typed, said in (
        ("0 0\nten 5", "Line 2 is “ten 5”. Write two numbers"),
        ("0 0\n5 5\n0 0", "Bolts 1 and 3 lie in one place"),
        ("0 0\n9999999 0", "Bolt 2 lies too far out"),
    ):
        page.fill("[data-places-typed]", typed)
        expect(page.locator("[data-places-problem]")).to_contain_text(said)
        expect(page.locator("[data-start]")).to_be_disabled()


REFUSED = {
    "passes=2&passes.1.share=60pct&passes.2.share=30pct": "lower than the one before",
    "stages=1&stages.1.share=60pct": "The last share is 60 %",
    "stages=0": "No stage tightens",
    "stages=2&stages.2.do=angle": "Stage 2: enter its angle",
    "rows=2.5": "Enter a whole number",
    "columns=13": "1 to 12",
    "thread=M5x0.8&torque=1Nm&passes=2&passes.1.share=30pct&passes.2.share=100pct": (
        "Leave the stage out"
    ),
    "torque=5000Nm": "Look at the unit",
}


def test_a_set_up_that_cannot_be_is_refused_in_words(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    for query, said in REFUSED.items():
        page.goto(with_all(f"{site_url}tightening/?{query}"))
        expect(page.locator("[data-go-line]")).to_contain_text(said)
        expect(page.locator("[data-start]")).to_be_disabled()


def test_a_pass_below_the_wrench_s_range_is_pointed_out(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?torque=25Nm&wrench_largest=100Nm")
    notes = page.locator("[data-go-notes] li")
    expect(notes).to_have_count(2)
    expect(notes.first).to_contain_text("Stage 1")
    expect(notes.first).to_contain_text("Take a smaller wrench")


def test_a_set_up_survives_a_reload(phone: BrowserContext, site_url: str) -> None:
    page = opened(phone, f"{site_url}tightening/")
    page.locator('[data-option="circle"]').click()
    page.fill("#count", "12")
    page.fill("#torque", "31")
    page.fill("#map-title", "Water pump")
    page.locator("[data-quarter]").click()
    page.wait_for_timeout(400)
    page.reload()
    expect(page.locator("[data-start]")).to_have_text("Start: 12 bolts, 3 passes")
    expect(page.locator("#torque")).to_have_value("31")
    expect(page.locator("#map-title")).to_have_value("Water pump")
    assert "quarters=1" in page.url


# --- nothing is assumed --------------------------------------------------------------------------


def test_a_fresh_map_has_no_torque_and_start_says_what_is_missing(
    phone: BrowserContext, site_url: str
) -> None:
    page = fresh(phone, f"{site_url}tightening/")
    expect(page.locator("#torque")).to_have_value("")
    expect(page.locator("[data-go-line]")).to_have_text("Missing: order, thread, grade, torque.")
    expect(page.locator("[data-start]")).to_be_disabled()
    assert (
        not page.locator("input:checked")
        .filter(visible=True)
        .evaluate_all(
            "all => all.filter(each => each.closest('[data-entries]') && each.name !== 'pattern')"
        )
    )
    page.locator('[data-option="worked"]').click()
    page.select_option("#thread", "M6x1")
    page.select_option("#grade", "8.8")
    expect(page.locator("[data-go-line]")).to_have_text("Missing: torque.")
    page.fill("#torque", "9")
    expect(page.locator("[data-start]")).to_have_text("Start: 10 bolts, 3 passes")
    expect(page.locator("[data-reason]")).to_contain_text("the maker gives none")


def test_25_newton_metres_on_an_m6_are_questioned_until_they_are_looked_at_again(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?{SMALL}&thread=M6x1&torque=25Nm")
    worked = lookup("torque").evaluate({"thread": "M6x1", "grade": "8.8"})["worked_torque"]
    assert 25 / worked > 2
    expect(page.locator("[data-judged]")).to_contain_text("look again")
    expect(page.locator("[data-judged-beside]")).to_contain_text(f"Worked out: {worked:.1f} N·m")
    expect(page.locator("[data-go-line]")).to_contain_text("Look again at the torque")
    expect(page.locator("[data-start]")).to_be_disabled()
    expect(page.locator("[data-sure-box]")).not_to_be_checked()
    page.locator("[data-sure-box]").check()
    expect(page.locator("[data-start]")).to_be_enabled()
    # Another torque has to be looked at anew.
    page.fill("#torque", "26")
    expect(page.locator("[data-sure-box]")).not_to_be_checked()
    expect(page.locator("[data-start]")).to_be_disabled()
    page.fill("#torque", "9")
    expect(page.locator("[data-sure]")).to_be_hidden()
    expect(page.locator("[data-start]")).to_be_enabled()


def test_an_angle_after_it_does_not_hide_a_torque_that_is_too_much(
    phone: BrowserContext, site_url: str
) -> None:
    stages = "stages=2&stages.1.do=torque&stages.1.torque=25Nm&stages.2.do=angle"
    page = opened(phone, f"{site_url}tightening/?thread=M6x1&{stages}&stages.2.angle=90deg")
    expect(page.locator("[data-judged]")).to_contain_text("look again")
    expect(page.locator("[data-start]")).to_be_disabled()


def test_a_torque_is_carried_from_the_torque_page_with_its_bolt(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}torque/?thread=M6x1&grade=8.8")
    link = page.locator("[data-maker-map]")
    expect(link).to_have_attribute("href", re.compile("torque="))
    page.goto(str(link.evaluate("each => each.href")))
    expect(page.locator("[data-entries]:not([disabled])")).to_be_attached()
    worked = lookup("torque").evaluate({"thread": "M6x1", "grade": "8.8"})["worked_torque"]
    expect(page.locator("#torque")).to_have_value(f"{worked:.1f}")
    expect(page.locator("#thread")).to_have_value("M6x1")
    expect(page.locator("[data-go-line]")).to_have_text("Missing: order.")
    page.locator('[data-option="worked"]').click()
    page.locator("[data-start]").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    assert maps(page)[0]["source"] == "Worked out on the torque page"
    assert maps(page)[0]["bolt"].startswith("M6 × 1")


def test_a_torque_without_a_setting_is_not_carried(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    # Eight millimetres in cast aluminium strip before a 12.9 bolt is tight.
    page.goto(f"{site_url}torque/?thread=M8x1.25&grade=12.9&engaged=8mm")
    link = page.locator("[data-maker-map]")
    expect(link).to_have_attribute("href", re.compile("grade=12.9"))
    assert "torque=" not in str(link.get_attribute("href")).partition("?")[2]


# --- the maker's order ---------------------------------------------------------------------------


def test_tapped_bolts_are_tightened_in_the_sheet_s_order_and_bear_its_numbers(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}tightening/?{SMALL}&order=tap&title=Lid")
    expect(page.locator("[data-go-line]")).to_have_text("Missing: order, 4 of 4 bolts to tap.")
    holder = page.locator("[data-preview]")
    tap_drawn(holder, '[data-bolt="3"]')
    page.locator("[data-tap-bolts] button").nth(0).click()
    tap_drawn(holder, '[data-bolt="0"]')
    expect(page.locator("[data-tap-count]")).to_have_text("2 of 4")
    page.locator("[data-untap]").click()
    expect(page.locator("[data-tap-count]")).to_have_text("1 of 4")
    for bolt in (0, 1, 2):
        page.locator("[data-tap-bolts] button").nth(bolt).click()
    expect(page.locator("[data-reason]")).to_contain_text("The maker's own order")
    begin(page)
    made = maps(page)[0]
    assert made["stages"][0]["order"] == made["stages"][-1]["order"] == [3, 0, 1, 2]
    assert (made["names"], made["orderBy"]) == (["2", "3", "4", "1"], "maker")
    tap(page, times=11)
    expect(page.locator("[data-map]")).to_contain_text("the maker's: 1, 2, 3, 4")


def test_typed_numbers_are_on_the_screen_in_the_call_and_in_the_record(
    phone: BrowserContext, site_url: str
) -> None:
    with_voices(phone, [{"name": "near", "lang": "en-GB", "localService": True}])
    page = opened(phone, f"{site_url}tightening/?{SMALL}&order=type&title=Lid")
    expect(page.locator("[data-go-line]")).to_have_text("Missing: sheet's numbers.")
    page.fill("[data-sheet-numbers]", "14 11 12")
    expect(page.locator("#sheet-numbers-problem")).to_contain_text("3 for 4 bolts")
    page.fill("[data-sheet-numbers]", "14 11 12 13")
    # Turned, the drawing is read in another order, and each number stays with its bolt.
    page.locator("[data-quarter]").click()
    expect(page.locator("[data-sheet-numbers]")).to_have_value("12 14 13 11")
    page.fill("[data-sheet-order]", "13 11 14 12")
    page.wait_for_timeout(400)
    page.reload()
    expect(page.locator("[data-sheet-order]")).to_have_value("13 11 14 12")
    begin(page)
    tap(page, "[data-voice]")
    tap(page)
    assert line(page) == "Pass 1 · bolt 13 25 N·m"
    assert page.evaluate("saidAloud.at(-1)[0]") == "pass 1, bolt 13, 25 newton metres"
    expect(page.locator("[data-bolt-screen] .bolt.next text.name")).to_have_text("13")
    tap(page, times=10)
    expect(page.locator("[data-map]")).to_contain_text("the maker's: 13, 11, 14, 12")


def test_the_sheet_s_stages_are_gone_through_with_loosening_and_two_angles(
    phone: BrowserContext, site_url: str
) -> None:
    rows = ["torque&torque=20Nm", "loosen", "torque&torque=15Nm", "angle&angle=60deg"]
    rows.append("angle&angle=90deg")
    stages = "&".join(
        f"stages.{n}.do={row.replace('&', f'&stages.{n}.')}" for n, row in enumerate(rows, 1)
    )
    query = f"pattern=grid&rows=1&columns=2&stages={len(rows)}&{stages}"
    place = f"{site_url}tightening/?{urlencode({k: v for k, v in READY.items() if k != 'torque'})}"
    page = fresh(phone, f"{place}&{query}&title=Lid")
    expect(page.locator("[data-go-line]")).to_have_text(
        "20 N·m, then loosen slack, then 15 N·m, then 60°, then 90°"
    )
    begin(page)
    seen = []
    while "Every bolt" not in line(page):
        seen.append(line(page))
        tap(page)
    assert seen[::3] == [
        "Pass 1 · dial in 20 N·m",
        "Loosen · loosen all slack",
        "Pass 2 · dial in 15 N·m",
        "Angle 1 · turn each by 60°",
        "Angle 2 · turn each by 90°",
    ]
    assert seen[4:6] == ["Loosen · bolt 2 slack", "Loosen · bolt 1 slack"]
    tap(page)
    expect(page.locator("[data-map]")).to_contain_text("20 N·m; loosened slack; 15 N·m; 60°; 90°")


def test_a_map_stored_by_the_first_version_is_gone_on_with(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url, f"{SMALL}&title=Lid")
    tap(page, times=3)
    page.evaluate(
        """() => new Promise((resolve) => {
          const request = indexedDB.open("bay-reckoner");
          request.onsuccess = () => {
            const change = request.result.transaction("maps", "readwrite");
            const store = change.objectStore("maps");
            store.getAll().onsuccess = ({ target }) => {
              const [{ names, orderBy, bolt, judged, ...old }] = target.result;
              for (const stage of old.stages) delete stage.angle;
              store.put({ ...old, schema: 1 });
            };
            change.oncomplete = () => { request.result.close(); resolve(); };
          };
        })"""
    )
    page.reload()
    expect(page.locator("[data-line]")).to_have_text("Pass 1 · bolt 3")
    pause(page)
    tap(page)
    assert (maps(page)[0]["schema"], maps(page)[0]["orderBy"]) == (2, "worked")
    assert len(maps(page)[0]["steps"]) == 4


# --- the phone on the wrench ---------------------------------------------------------------------

ANGLE = (
    "pattern=grid&rows=1&columns=2&stages=2&stages.1.do=torque&stages.1.torque=25Nm"
    "&stages.2.do=angle&stages.2.angle=90deg"
)

SENSOR = """
// A gyro of our own, at 60 readings a second: `rest(seconds, shake)`, `sweep(degrees, seconds)`.
window.gyro = { time: 1000, isHeard: false };
const listen = window.addEventListener;
window.addEventListener = (kind, ...rest) => {
  listen.call(window, kind, ...rest);
  gyro.isHeard ||= kind === "devicemotion";
};
const show = (alpha, beta, gamma) => {
  gyro.time += 1000 / 60;
  const event = new DeviceMotionEvent("devicemotion", { rotationRate: { alpha, beta, gamma } });
  Object.defineProperty(event, "timeStamp", { value: gyro.time });
  window.dispatchEvent(event);
};
gyro.rest = (seconds, shake = 0.05) => {
  for (let n = 0; n < seconds * 60; n += 1) {
    const off = n % 2 ? shake : -shake;
    show(1.5 + off, -0.8, 0.3 - off);
  }
};
gyro.sweep = (degrees, seconds) => {
  for (let n = 1; n <= seconds * 60; n += 1) {
    const speed = degrees / seconds * (1 - Math.cos(2 * Math.PI * n / (seconds * 60)));
    show(1.5 + 0.6 * speed, -0.8 + 0.8 * speed, 0.3);
  }
};
"""


def read_by_phone(page: Page) -> None:
    """Let the phone read the angle, and wait until it listens: it asks for leave first."""
    page.evaluate("gyro.isHeard = false")
    page.locator("[data-read]").click()
    page.wait_for_function("() => gyro.isHeard")
    pause(page)


def at_the_angle(phone: BrowserContext, site_url: str) -> Page:
    """A map whose first bolt is about to be turned by 90 degrees."""
    page = started(phone, site_url, ANGLE)
    expect(page.locator("[data-read]")).to_be_hidden()
    tap(page, times=4)
    expect(page.locator("[data-read]")).to_have_text("Read by phone")
    return page


def test_an_angle_is_read_with_the_phone_on_the_wrench(
    phone: BrowserContext, site_url: str
) -> None:
    phone.grant_permissions(["accelerometer", "gyroscope"])
    phone.add_init_script(SENSOR)
    with_voices(phone, [{"name": "near", "lang": "en-GB", "localService": True}])
    page = at_the_angle(phone, site_url)
    assert line(page) == "Angle · bolt 1 90°"
    tap(page, "[data-voice]")
    read_by_phone(page)
    expect(page.locator("[data-hint]")).to_contain_text("hold the wrench still")
    page.evaluate("gyro.rest(2)")
    page.evaluate("gyro.sweep(84, 4)")
    expect(page.locator("[data-dial]")).to_contain_text("84° of 90°")
    expect(page.locator("[data-hint]")).to_have_text(
        re.compile(r"± 3°, drift 0\.[4-6]°\. One sweep, not lifted\.")
    )
    page.locator("[data-read]").click()
    expect(page.locator("[data-hint]")).to_contain_text("Held at 84°")
    read_by_phone(page)
    page.evaluate("gyro.rest(2)")
    page.evaluate("gyro.sweep(7, 1)")
    expect(page.locator("[data-dial]")).to_contain_text("91° of 90°")
    said = [text for text, _ in page.evaluate("saidAloud")]
    assert said[-2:] == ["Turn.", "Stop."]
    assert "10 more." in said
    pause(page)
    tap(page)
    read = maps(page)[0]["steps"][-1]["read"]
    assert read["angle"] == pytest.approx(91, abs=0.5)
    assert 3 < read["band"] < 5
    assert line(page) == "Angle · bolt 2 90°"
    tap(page, times=2)
    expect(page.locator("[data-map]")).to_contain_text("1: 91° ± 3°")


@pytest.mark.parametrize(
    ("motions", "said"),
    [
        (["gyro.rest(2, 3)"], "Too restless for a zero"),
        (["gyro.rest(2)", "gyro.sweep(60, 2)", "gyro.sweep(-30, 2)"], "went back"),
        (["gyro.rest(2)", "gyro.sweep(60, 2)", "gyro.rest(60)"], "too old"),
        ([], "no motion sensor"),
    ],
    ids=["restless", "a stroke back", "too long ago", "no sensor"],
)
def test_an_angle_that_can_not_be_believed_is_refused_and_the_protractor_is_named(
    phone: BrowserContext, site_url: str, motions: list[str], said: str
) -> None:
    phone.grant_permissions(["accelerometer", "gyroscope"])
    phone.add_init_script(SENSOR)
    page = at_the_angle(phone, site_url)
    read_by_phone(page)
    for motion in motions:
        page.evaluate(motion)
    expect(page.locator("[data-hint]")).to_contain_text(said)
    expect(page.locator("[data-hint]")).to_contain_text("protractor")
    expect(page.locator("[data-dial]")).to_have_text("90°")
    pause(page)
    tap(page)
    assert "read" not in maps(page)[0]["steps"][-1]


# --- the record ----------------------------------------------------------------------------------


def finished(context: BrowserContext, site_url: str, title: str) -> Page:
    """A page on which a map has just been put in the record."""
    query = "pattern=grid&rows=1&columns=2&passes=1&passes.1.share=100pct&check=no"
    page = opened(context, f"{site_url}tightening/?{query}&title={title}")
    page.locator("[data-more] > summary").click()
    page.fill("#map-wrench", "No. 3, checked in May")
    page.fill("#map-who", "R.")
    begin(page)
    tap(page, times=4)
    expect(page.locator("[data-map]").filter(has_text=title)).to_be_visible()
    return page


def test_the_record_holds_time_wrench_figure_and_name(phone: BrowserContext, site_url: str) -> None:
    page = finished(phone, site_url, "Lid")
    card = page.locator("[data-map]")
    for said in ("25 N·m", "No. 3, checked in May", "R.", "Finished", "Begun"):
        expect(card).to_contain_text(said)
    assert re.search(r"20\d\d", card.inner_text())
    # Wrench and name are there for the next map.
    again = opened(phone, f"{site_url}tightening/")
    expect(again.locator("#map-who")).to_have_value("R.")


def test_a_deleted_map_can_be_brought_back(phone: BrowserContext, site_url: str) -> None:
    page = finished(phone, site_url, "Lid")
    page.locator("[data-map]").get_by_role("button", name="Delete").click()
    expect(page.locator("[data-map]")).to_have_count(0)
    page.locator("[data-undo]").get_by_role("button", name="Bring it back").click()
    expect(page.locator("[data-map]")).to_have_count(1)


def test_the_record_goes_to_another_phone_as_a_file(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = finished(phone, site_url, "Lid")
    with page.expect_download() as download:
        page.locator("[data-export]").click()
    path = tmp_path / "record.json"
    download.value.save_as(path)
    assert re.fullmatch(r"record-this-job-\d{4}-\d\d-\d\d\.json", download.value.suggested_filename)
    other = opened(new_phone(), f"{site_url}tightening/")
    for said in ("1 added.", "0 added, 1 were here already."):
        other.set_input_files("[data-import]", path)
        expect(other.locator("[data-transfer]")).to_have_text(said)
    expect(other.locator("[data-map]")).to_contain_text("Lid")
    assert maps(other)[0]["steps"] == maps(page)[0]["steps"]


def test_a_file_that_is_none_of_ours_is_refused_in_words(
    phone: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = opened(phone, f"{site_url}tightening/")
    for text, said in (
        ("not json", "can't be read"),
        ('{"kind": "else"}', "not a record from here"),
        ('{"kind": "bay-reckoner record", "schema": 9}', "newer version"),
        (
            '{"kind": "bay-reckoner record", "schema": 1, "maps": [{"id": "x"}], "figures": []}',
            "0 added, 1 could not be read",
        ),
    ):
        path = tmp_path / "file.json"
        path.write_text(text)
        page.set_input_files("[data-import]", path)
        expect(page.locator("[data-transfer]")).to_contain_text(said)


def test_the_record_prints_alone(phone: BrowserContext, site_url: str) -> None:
    page = finished(phone, site_url, "Lid")
    page.evaluate(
        """() => {
          window.print = () => { window.printed = document.documentElement.dataset.print; };
        }"""
    )
    page.locator("[data-print]").click()
    assert page.evaluate("printed") == "record"
    page.emulate_media(media="print")
    page.evaluate("document.documentElement.dataset.print = 'record'")
    expect(page.locator("[data-map]")).to_be_visible()
    for selector in ("[data-form]", ".orders", ".go", "[data-export]"):
        expect(page.locator(selector)).to_be_hidden()


# --- at arm's length -----------------------------------------------------------------------------


SCREENS = [(320, 568), (390, 844), (844, 390)]
PATTERNS = ["rows=2&columns=5", "rows=4&columns=12", "pattern=circle&count=24", "rows=1&columns=12"]


MEASURED = """
() => {
  const box = (each) => {
    const { left, top, right, bottom, width, height } = each.getBoundingClientRect();
    return { left, top, right, bottom, width, height };
  };
  const all = (selector) => [...document.querySelectorAll(`[data-bolt-screen] ${selector}`)];
  return {
    buttons: all("button").filter((each) => each.checkVisibility()).map(box),
    confirm: all("[data-confirm]").map(box)[0],
    holder: all("[data-screen-map]").map(box)[0],
    ring: all("[data-screen-map] .next circle.ring").map(box)[0],
    others: all("[data-screen-map] .bolt:not(.next)").map(box),
    number: all("[data-screen-map] .next text.name").map((each) => each.textContent).join(),
  };
}
"""
"""Where everything lies on the screen to tighten by, told in one look."""


def laid_out(page: Page, width: int, height: int) -> dict[str, Any]:
    """Turn or change the phone, and measure what is on the screen once it has been drawn."""
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate(DRAWN)
    found: dict[str, Any] = page.evaluate(MEASURED)
    return found


DRAWN = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"


def is_within(inner: dict[str, float], outer: dict[str, float]) -> bool:
    """Say whether a box lies in another one, but for half a pixel."""
    return (
        inner["left"] >= outer["left"] - 0.5
        and inner["right"] <= outer["right"] + 0.5
        and inner["top"] >= outer["top"] - 0.5
        and inner["bottom"] <= outer["bottom"] + 0.5
    )


def test_everything_that_is_touched_is_large_and_on_the_screen(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url, f"{SMALL}&title=A+very+long+name+of+what+is+tightened+here")
    tap(page, times=6)
    for width, height in SCREENS:
        found = laid_out(page, width, height)
        screen = {"left": 0, "top": 0, "right": width, "bottom": height}
        assert len(found["buttons"]) >= 5
        for button in found["buttons"]:
            assert min(button["width"], button["height"]) >= 72
            assert is_within(button, screen)
        assert found["confirm"]["bottom"] >= height - 1


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_next_bolt_is_the_largest_and_wholly_in_sight(
    phone: BrowserContext, site_url: str, pattern: str
) -> None:
    page = started(phone, site_url, f"{pattern}&torque=25Nm")
    tap(page, times=2)
    for number in range(3):
        for width, height in SCREENS:
            found = laid_out(page, width, height)
            ring = found["ring"]
            assert ring["width"] >= 56
            assert is_within(ring, found["holder"])
            assert found["number"] == str(number + 2)
            assert len(found["others"]) > 8
            assert max(each["width"] for each in found["others"]) < ring["width"]
        tap(page)


def test_axe_finds_nothing_in_the_working_mode(phone: BrowserContext, site_url: str) -> None:
    page = started(phone, site_url)
    tap(page, times=2)
    tap(page, "[data-doubt]")
    for mode in ("auto", "dark", "sunlight"):
        page.evaluate("mode => { document.documentElement.dataset.mode = mode; }", mode)
        page.evaluate(DRAWN)
        found = violations(page)
        assert not [(mode, each["id"], each["nodes"][0]["html"]) for each in found]


def test_without_scripts_the_orders_stand_as_a_table(new_phone: NewContext, site_url: str) -> None:
    page = new_phone(java_script_enabled=False).new_page()
    page.goto(f"{site_url}tightening/")
    expect(page.locator("[data-start]")).to_be_hidden()
    row = page.locator(".orders tr").filter(has_text="2 × 5")
    expect(row).to_contain_text(re.compile(r"9\s*3\s*1\s*6\s*8\s*7\s*5\s*2\s*4\s*10"))


# --- a second map like the first -----------------------------------------------------------------


def test_a_map_like_one_that_is_there_is_started_only_if_that_is_meant(
    phone: BrowserContext, site_url: str
) -> None:
    page = started(phone, site_url)
    tap(page, times=2)
    begun = maps(page)[0]["id"]
    page.close()
    page = opened(phone, f"{site_url}tightening/?{SMALL}")
    page.locator("[data-start]").click()
    question = page.locator("[data-again]")
    expect(question).to_contain_text("of 4 done")
    question.get_by_role("button", name="Don't start").click()
    expect(question).to_be_hidden()
    page.locator("[data-start]").click()
    question.get_by_role("button", name="Go on with it").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    assert [each["id"] for each in maps(page)] == [begun]
    page.close()
    page = opened(phone, f"{site_url}tightening/?{SMALL}")
    page.locator("[data-start]").click()
    question = page.locator("[data-again]")
    question.get_by_role("button", name="Start another").click()
    expect(page.locator("[data-bolt-screen]")).to_be_visible()
    assert len(maps(page)) == 2
