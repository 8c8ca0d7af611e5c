"""Five quick jobs, from Home, in the bay: how many taps, and how far one has to scroll.

The counts are the product's own promise, on a phone of 390 by 844 whose job has entries, makers'
figures and a map that was begun. A tap counts when the thing to tap is whole in sight and not
covered; what has to be scrolled until it is counts too. A list to pick from takes two taps. Numbers
that are typed are not counted, the tap into their box is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from site_src.builds import load_builds
from site_src.builds.job import Amount, Job
from site_src.builds.sheet import BuildSheets
from site_src.lookups.boost import LOOKUP
from tests.browser.conftest import PHONE, NewContext
from tests.browser.test_builds import main_of, taken
from tests.browser.test_pages import plate, ready

ADDRESS = "gravel-hauler"
SCREEN: int = PHONE["viewport"]["height"]

AWAY = """
(element) => {
  const at = element.getBoundingClientRect();
  const plate = document.querySelector("[data-plate]");
  const top = plate && scrollY > 0 ? plate.getBoundingClientRect().bottom : 0;
  if (at.bottom > innerHeight) return Math.ceil(at.bottom - innerHeight);
  return at.top < top ? Math.floor(at.top - top) : 0;
}
"""
"""How far an element is from being whole in sight, under the plate."""

COVERED = """
(element) => {
  const at = element.getBoundingClientRect();
  const there = document.elementFromPoint(at.x + at.width / 2, at.y + at.height / 2);
  return !(there && (element.contains(there) || there.contains(element)));
}
"""


@dataclass
class Hand:
    """The hand at the phone, and what it had to do."""

    page: Page
    taps: int = 0
    scrolled: int = 0

    def reach(self, target: Locator) -> Locator:
        """Scroll until a thing is whole in sight."""
        target.wait_for()
        for _ in range(3):
            if not (away := int(target.evaluate(AWAY))):
                break
            self.scrolled += abs(away)
            self.page.evaluate("(by) => scrollBy({ top: by, behavior: 'instant' })", away)
        assert not target.evaluate(COVERED)
        return target

    def tap(self, target: Locator) -> None:
        """Tap it."""
        self.reach(target).tap()
        self.taps += 1

    def go(self, target: Locator) -> None:
        """Tap what leads to a lookup, and wait until it answers."""
        self.tap(target)
        self.page.wait_for_url("**/*/**")
        ready(self.page)

    def type_(self, target: Locator, text: str) -> None:
        """Tap into a box and type over what stands there."""
        self.tap(target)
        expect(target).to_be_focused()
        target.press_sequentially(text)

    def pick(self, target: Locator, option: str) -> None:
        """Pick from a list: a tap that opens it, a tap on the option."""
        self.reach(target).select_option(option)
        self.taps += 2


def build() -> Job:
    """The job that the phone has."""
    return next(job for job in load_builds() if job.address == ADDRESS)


def with_entries(**declared: float) -> BuildSheets:
    """What Python works out of the job with some entries others, in declared units."""
    job = build()
    entries = {
        key: Amount(f"{value:g}", LOOKUP.numbers[key].unit, value)
        for key, value in declared.items()
    }
    return BuildSheets(replace(job, entries={**job.entries, **entries}))


@pytest.fixture
def hand(new_phone: NewContext, site_url: str) -> Hand:
    """A hand at Home, with the truck known, figures kept and a map begun."""
    phone: BrowserContext = new_phone()
    page = taken(phone.new_page(), site_url, ADDRESS)
    page.goto(site_url)
    expect(page.locator("[data-makes-words]")).not_to_be_empty()
    expect(page.locator("[data-open-work] a")).to_be_visible()
    expect(page.locator("[data-next-hold]")).to_be_visible()
    return Hand(page)


def test_boost_for_a_pulley_at_an_altitude_takes_three_taps_and_no_scrolling(hand: Hand) -> None:
    page = hand.page
    hand.type_(page.locator("#blower_pulley"), "92")
    page.locator("#blower_pulley").press("Enter")
    hand.go(page.locator("[data-altitude]"))
    # A phone may want a tap before it shows its keyboard.
    hand.type_(page.locator("#altitude"), "1600")
    page.locator("#altitude").blur()
    expected = with_entries(blower_pulley=92, altitude=1600)
    assert plate(page) == main_of(expected, "boost").text
    assert plate(page) != main_of(BuildSheets(build()), "boost").text
    assert hand.taps <= 3
    assert hand.scrolled == 0


def test_torque_for_an_oiled_bolt_into_aluminium_with_a_crowfoot_takes_eight_taps(
    hand: Hand,
) -> None:
    page = hand.page
    hand.go(page.get_by_role("link", name="Torque", exact=False).and_(page.locator(".quick a")))
    expect(page.locator("#thread")).to_have_value("M8x1.25")
    hand.pick(page.locator("#grade"), "10.9")
    expect(page.locator("#friction")).to_have_value("oiled")
    hand.tap(page.locator('[data-option="offset"]'))
    hand.type_(page.locator("#extension"), "40")
    hand.type_(page.locator("#wrench_length"), "450")
    expect(page.locator("#tapped")).to_have_value("cast_aluminium_t6")
    # The sheet's 24 N·m for this very bolt, and the lever rule: 24 × 450 / (450 + 40).
    expect(page.locator("[data-makers]")).to_contain_text("24 N·m")
    assert plate(page) == "22.0"
    assert hand.taps <= 8
    assert hand.scrolled <= SCREEN


def test_the_verdict_on_a_hose_at_the_rail_takes_three_taps_and_no_scrolling(hand: Hand) -> None:
    page = hand.page
    hand.go(page.locator(".quick a").filter(has_text="Hose bend"))
    hand.type_(page.locator("#chord"), "150")
    hand.type_(page.locator("#rise"), "30")
    page.locator("#rise").blur()
    # The sagitta relation: (150² / 4 + 30²) / (2 × 30) = 108.75 mm to the face that was measured.
    assert plate(page) == "109"
    expect(page.locator("[data-verdict]")).to_contain_text("near the limit Tighter than the rule")
    assert hand.taps <= 3
    assert hand.scrolled == 0


def test_the_next_pulley_up_and_down_stand_on_home_and_one_is_tried_by_one_tap(hand: Hand) -> None:
    page = hand.page
    line = page.locator("[data-next-pulleys]")
    hand.reach(line)
    for size in (92, 100):
        made = with_entries(blower_pulley=size)
        expect(line).to_contain_text(f"{size} mm: {main_of(made, 'plan').text} kPa")
    hand.tap(page.get_by_role("button", name="Blower pulley: one step up"))
    made = with_entries(blower_pulley=100)
    expect(page.locator("[data-makes-words]")).to_contain_text(
        f"{main_of(made, 'plan').text} kPa boost"
    )
    hand.tap(page.get_by_role("button", name="Blower pulley: one step down"))
    expect(page.locator("#blower_pulley")).to_have_value("96")
    assert hand.taps <= 3
    assert hand.scrolled == 0


def test_a_map_that_was_begun_is_gone_on_with_by_one_tap(hand: Hand) -> None:
    page = hand.page
    hand.tap(page.locator("[data-open-work] a"))
    page.wait_for_url("**/tightening/#bolts=*")
    expect(page.get_by_role("dialog")).to_contain_text("0 of 10 done")
    expect(page.get_by_role("button", name="Wrench is set")).to_be_visible()
    assert hand.taps == 1
    assert hand.scrolled == 0
