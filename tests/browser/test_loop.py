"""A loop of twelve parts, entered on a phone by taps and keys that are counted."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.test_pages import opened, plate, worked_out

# Card, Moran & Newell, The keystroke-level model, Comm. ACM 23 (1980) 396: 1.1 s to point, 1.35 s
# to make up one's mind, 0.5 s a key for one who is no typist and hits single keys.
A_TAP, A_KEY = 1.1 + 1.35, 0.5
MOST_TIME = 180.0

RUNS = ((0.4, 0), (1.2, 1), (0.9, 2), (2.6, 3), (0.3, 1), (1.1, 0), (2.2, 3), (0.8, 1))
FITTINGS = (("elbow", 2), ("straight", 8), ("tank", 1), ("elbow", 1))
"""As the example's first one stands: all but one hose comes after the pump."""


class Hand:
    """A hand that taps and types on a page, and how long it takes."""

    def __init__(self, page: Page) -> None:
        self.page, self.seconds = page, 0.0

    def tap(self, what: Locator) -> None:
        """Tap something."""
        what.click()
        self.seconds += A_TAP

    def number(self, box: Locator, text: str) -> None:
        """Tap a box, whose text is then selected, and type a number over it."""
        self.tap(box)
        box.press_sequentially(text)
        self.seconds += A_KEY * len(text)

    def pick(self, box: Locator, option: str) -> None:
        """Tap a list, and an option of it."""
        box.focus()
        box.select_option(option)
        self.seconds += 2 * A_TAP


def test_a_loop_of_twelve_parts_takes_less_than_three_minutes(
    phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}loop/")
    hand = Hand(page)
    hoses = page.locator('[data-field="loop_runs"]')
    fittings = page.locator('[data-field="loop_fittings"]')
    for n, (length, bends) in enumerate(RUNS):
        if n >= 4:
            hand.tap(hoses.locator("[data-add]"))
        hand.number(page.locator(f"#loop_runs-{n}-run_length"), f"{length:g}")
        hand.number(page.locator(f"#loop_runs-{n}-run_bends"), f"{bends}")
    for n, (kind, count) in enumerate(FITTINGS):
        if n >= 3:
            hand.tap(fittings.locator("[data-add]"))
        hand.pick(page.locator(f"#loop_fittings-{n}-fitting_kind"), kind)
        hand.number(page.locator(f"#loop_fittings-{n}-fitting_count"), f"{count}")
    inputs = {
        "loop_runs": [
            {"run_length": length, "run_bends": float(bends)}
            | ({"run_side": "suction"} if n == 0 else {})
            for n, (length, bends) in enumerate(RUNS)
        ],
        "loop_fittings": [
            {"fitting_kind": kind, "fitting_count": float(count)} for kind, count in FITTINGS
        ],
    }
    expect(page.locator("[data-shares]").first).to_be_visible()
    assert plate(page) == worked_out("loop", "flow", "lpm", inputs)  # type: ignore[arg-type]
    assert hand.seconds < MOST_TIME, f"{hand.seconds:.0f} s"
