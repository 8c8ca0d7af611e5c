"""A walk over every page: nothing cut, nothing over anything else, nothing too small to press.

A page is loaded once for each system of units. In that one load it is laid out at every width, with
text as it is and twice as large, and looked at with all that is folded opened. A screen mode
changes colours and strokes, so contrast is looked at once in each.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import CDPSession, Page, Route

from site_src.lookups import all_lookups
from tests.browser.axe import violations
from tests.browser.conftest import NewContext

LOOK = Path(__file__).with_name("walk.js").read_text(encoding="utf-8")

USUAL, DOUBLE = 16, 32
"""Font sizes that a browser is set to, in CSS pixels; 16 is what browsers come with."""

LAID_OUT = {
    "metric": (
        (320, 568, USUAL),
        (390, 844, USUAL),
        (768, 1024, USUAL),
        (844, 390, USUAL),
        (390, 844, DOUBLE),
        (320, 568, DOUBLE),
    ),
    "inch": ((320, 568, USUAL), (320, 568, DOUBLE)),
}
"""Width, height and font size. Only units and numbers differ between the systems, so that inches
are held to the least room alone."""

LEAST_SHIFT = 0.02
"""What a page may jump while it loads, as browsers reckon it: a tenth is called good."""

PLATE_SHARE = 0.42
"""How much of the screen the plate may take once the page is scrolled."""

SHIFTS = """
globalThis.shifted = 0;
new PerformanceObserver((list) => {
  for (const { hadRecentInput, value } of list.getEntries())
    if (!hadRecentInput) globalThis.shifted += value;
}).observe({ type: "layout-shift", buffered: true });
"""

TWO_FRAMES = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
READY = """
() => [...document.querySelectorAll("[data-entries]")].every((each) => !each.disabled) &&
  !document.querySelector("[data-lookup]:not([data-whole][data-settled])")
"""


THUMB, GLOVE = 60, 72
"""Least sizes of what is pressed, CSS pixels: any control, and a stepper."""

PRESSED = """
least => [...document.querySelectorAll(
  'main button, main select, main input[type=text], main summary, main .chip, .modes label,'
  + ' .home, main a.row, main a.quick-card'
)].filter(each => each.checkVisibility({ visibilityProperty: true }))
  .filter(each => {
    const own = each.getBoundingClientRect();
    // What lies in a box is pressed through the box.
    const box = (each.closest('.box') ?? each).getBoundingClientRect();
    const wanted = each.matches('.nudge') ? least.glove : least.thumb;
    const size = each.matches('.nudge') ? Math.min(own.width, own.height) : box.height;
    return size + 0.5 < wanted;
  })
  .map(each => each.offsetWidth + ' by ' + each.offsetHeight + ': ' + each.outerHTML.slice(0, 110))
"""


class Walk:
    """One phone that goes from page to page, and what it has found."""

    def __init__(self, page: Page, cdp: CDPSession, root: str) -> None:
        self.page, self.cdp, self.root = page, cdp, root
        self.found: dict[str, list[str]] = {}
        self.size, self.font = (0, 0), 0

    def open(self, address: str) -> None:
        """Load a page on the usual phone and wait until it may be used."""
        self.lay_out(390, 844, USUAL)
        self.page.goto(self.root + address)
        self.settle()

    def lay_out(self, width: int, height: int, font: int) -> None:
        """Turn or change the phone, and set the browser's text size."""
        # Each lays the page out anew, even where nothing changes.
        if (width, height) != self.size:
            self.page.set_viewport_size({"width": width, "height": height})
        if font != self.font:
            sizes = {"standard": font, "fixed": font * 13 // 16}
            self.cdp.send("Page.setFontSizes", {"fontSizes": sizes})
        self.size, self.font = (width, height), font

    def settle(self) -> None:
        """Let what was changed be shown and laid out: a table is filled in first, then fitted."""
        self.page.wait_for_function(READY)
        self.page.evaluate(TWO_FRAMES)

    def look(self, where: str, *, drawings: bool = True) -> None:
        """Note what is wrong as the page lies now; drawings of nonsense are left out."""
        self.settle()
        for fault in self.page.evaluate("walk.measure()"):
            if drawings or "in a drawing" not in fault:
                self.note(fault, where)

    def note(self, fault: str, where: str) -> None:
        """Note one fault; the same one at other widths is one line."""
        self.found.setdefault(fault, []).append(where)

    def told(self) -> str:
        """All that was found, a line each."""
        return "\n".join(f"{each} [{', '.join(where)}]" for each, where in self.found.items())


def walker(new_phone: NewContext, root: str, system: str = "metric", mode: str = "auto") -> Walk:
    """A phone that measures in a system and has nothing stored but that."""
    phone = new_phone(device_scale_factor=1, reduced_motion="reduce")
    state = {"schema": 1, "mode": mode, "units": {}, "system": system}
    text = json.dumps(json.dumps(state))
    phone.add_init_script(
        f"if (location.protocol === 'http:') localStorage.setItem('bay-reckoner', {text})"
    )
    phone.add_init_script(SHIFTS)
    phone.add_init_script(LOOK)
    page = phone.new_page()
    return Walk(page, phone.new_cdp_session(page), root)


AXE_SEES_CONTRAST = ("", "boost/", "help/", "tightening/", "torque/")
"""Pages of every make, on which axe judges contrast too: `walk.faint` does on all, in all modes."""

PUSHES = """
() => {
  const views = [...document.querySelectorAll(".results > .view")];
  const tall = () => views.map((each) => each.offsetHeight);
  const far = tall();
  for (const each of views)
    Object.assign(each.style, { contentVisibility: "visible", contain: "layout style paint" });
  const near = tall();
  for (const each of views) Object.assign(each.style, { contentVisibility: "", contain: "" });
  return views
    .map((each, n) => [each.querySelector("h2").textContent, far[n], near[n]])
    .filter(([, from, to]) => from !== to);
}
"""
"""What far below has another height once it is laid out: it would push away what is tapped."""

# Parts of one walk, so that several processes can go them.
PARTS = 8
in_parts = pytest.mark.parametrize("part", range(PARTS))


WRONG = "what"
LONG = "57.3661"

FILL = """
([first, rest]) => {
  const inputs = [
    ...document.querySelectorAll("[data-entries] [data-kind=number] input[inputmode]"),
  ].filter((each) => each.checkVisibility());
  inputs.forEach((input, n) => {
    input.value = n ? rest : first;
    input.dispatchEvent(new Event("input", { bubbles: true }));
  });
  return inputs.length;
}
"""

COVERED = """
() => {
  const plate = document.querySelector("[data-plate]").getBoundingClientRect();
  const box = (document.activeElement.closest(".box") ?? document.activeElement)
    .getBoundingClientRect();
  if (document.activeElement === document.body) return "no entry has the focus";
  return box.top < plate.bottom - 1 || box.bottom > innerHeight + 1
    ? `${box.top} to ${box.bottom} under a plate down to ${plate.bottom}` : "";
}
"""

SHARE = """
() => {
  const plate = document.querySelector("[data-lookup] [data-plate]");
  if (!plate) return 0;
  scrollTo({ top: 1500, behavior: "instant" });
  return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() =>
    done(plate.offsetHeight / innerHeight))));
}
"""


@in_parts
@pytest.mark.parametrize("system", list(LAID_OUT))
def test_no_page_cuts_covers_breaks_jumps_or_is_faint(
    new_phone: NewContext, site_url: str, pages: list[str], system: str, part: int
) -> None:
    walk = walker(new_phone, site_url, system)
    for address in pages[part::PARTS]:
        walk.open(address)
        shifted = walk.page.evaluate("shifted")
        if shifted > LEAST_SHIFT:
            walk.note(f"{address or 'home'}: jumps by {shifted:.3f} while it loads", "390 px")
        if system == "metric":
            for title, far, near in walk.page.evaluate(PUSHES):
                walk.note(f"{address}: {title} grows from {far} to {near} when it comes near", "")
        walk.page.evaluate("walk.unfold()")
        _at_every_width(walk, address or "home", system)
        if system == "metric":
            _in_every_mode(walk, address)
    assert not walk.found, walk.told()


@in_parts
def test_wrong_and_long_entries_are_shown_whole_and_the_plate_leaves_room_for_them(
    new_phone: NewContext, site_url: str, part: int
) -> None:
    walk = walker(new_phone, site_url)
    for key in [each.key for each in all_lookups()][part::PARTS]:
        walk.open(f"{key}/")
        walk.page.evaluate("walk.unfold()")
        _with_wrong_and_long_entries(walk, f"{key}/")
    assert not walk.found, walk.told()


def _at_every_width(walk: Walk, name: str, system: str) -> None:
    """Look at a page at every width and text size."""
    for width, height, font in LAID_OUT[system]:
        walk.lay_out(width, height, font)
        walk.look(f"{name} at {width} px, {100 * font // USUAL} %")
        share = walk.page.evaluate(SHARE)
        # Twice as large on the smallest phone it was never held to this.
        if (width, font) != (320, DOUBLE) and share > (PLATE_SHARE if height > width else 0.5):
            walk.note(f"{name}: the plate takes {share:.2f}", f"{width} px, {font}")
        if (width, font) == (320, USUAL):
            for small in walk.page.evaluate(PRESSED, {"thumb": THUMB, "glove": GLOVE}):
                walk.note(f"{name}: too small to press, {small}", f"{width} px")


def _in_every_mode(walk: Walk, address: str) -> None:
    """Let axe judge a page, and look for faint words in each screen mode."""
    walk.lay_out(390, 844, USUAL)
    walk.settle()
    for fault in violations(walk.page, contrast=address in AXE_SEES_CONTRAST):
        for node in fault["nodes"]:
            walk.note(f"{fault['id']}: {node['html'][:160]}", address)
    # All that a mode changes is colour.
    for mode in ("auto", "dark", "sunlight"):
        walk.page.evaluate("mode => { document.documentElement.dataset.mode = mode; }", mode)
        walk.settle()
        for fault in walk.page.evaluate("walk.faint()"):
            walk.note(fault, f"{address} {mode}")
    # Strokes are heavier and small words larger in sunlight.
    walk.lay_out(320, 568, USUAL)
    walk.look(f"{address} at 320 px in sunlight")
    walk.page.evaluate("() => { document.documentElement.dataset.mode = 'auto'; }")


def _with_wrong_and_long_entries(walk: Walk, address: str) -> None:
    """Look whether they are shown whole, and the plate leaves room for the one it speaks of."""
    walk.lay_out(390, 844, USUAL)
    if not walk.page.evaluate(FILL, [WRONG, LONG]):
        return
    walk.settle()
    for width, height, font in ((320, 568, USUAL), (390, 844, DOUBLE)):
        walk.lay_out(width, height, font)
        walk.look(f"{address} with wrong entries at {width} px, {font}", drawings=False)
        way = walk.page.get_by_role("button", name="Go to that entry")
        if way.count():
            way.first.evaluate("each => each.click()")
            walk.settle()
            if covered := walk.page.evaluate(COVERED):
                walk.note(f"{address}: the entry is covered, {covered}", f"{width} px, {font}")


def test_what_other_lookups_add_late_pushes_nothing_away(
    new_phone: NewContext, site_url: str
) -> None:
    walk = walker(new_phone, site_url)

    def late(route: Route) -> None:
        walk.page.wait_for_timeout(600)
        route.continue_()

    walk.page.route("**/static/lookups/*.json", late)
    walk.open("first-start/")
    assert not walk.page.evaluate(PUSHES)


def test_the_walk_sees_words_that_are_too_faint(new_phone: NewContext, site_url: str) -> None:
    walk = walker(new_phone, site_url)
    walk.open("help/")
    assert not walk.page.evaluate("walk.faint()")
    # 4.48 and 4.54 to 1 on white, by WCAG's own formula: the greys on either side of its limit.
    for grey, count in (("#777777", 1), ("#767676", 0)):
        walk.page.evaluate(
            """grey => {
              const words = document.querySelector("#words") ?? document.createElement("p");
              words.id = "words";
              words.textContent = "faint";
              Object.assign(words.style, { color: grey, background: "#fff", fontSize: "16px" });
              document.querySelector("main").append(words);
            }""",
            grey,
        )
        assert len(walk.page.evaluate("walk.faint()")) == count
