"""Pages that everyone can use: in every mode, on the narrowest phone, with a gloved thumb."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, Page

from tests.browser.axe import violations


def settled(page: Page, address: str) -> None:
    """Open a page, unfold all of it and let it come to rest."""
    page.goto(address)
    page.wait_for_function(
        "() => !document.querySelector('[data-entries]')"
        " || !document.querySelector('[data-entries]').disabled"
    )
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    # What is far below has no places of its own until it comes near; axe takes them for one.
    page.evaluate(
        "document.querySelectorAll('.results > section')"
        ".forEach(each => { each.style.contentVisibility = 'visible'; })"
    )
    page.wait_for_timeout(100)
    # It lies over what is under it, and axe takes its ground for that of the cells there.
    page.evaluate("document.querySelector('.offline-note')?.replaceChildren()")


def test_axe_finds_nothing_where_an_entry_is_wrong(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    settled(page, f"{site_url}boost/?blower_pulley=400mm&slip=what")
    assert not violations(page)


def test_axe_finds_nothing_in_the_line_that_says_it_works_offline(
    installing: BrowserContext, site_url: str
) -> None:
    page = installing.new_page()
    page.goto(site_url)
    page.locator(".offline-note button").wait_for()
    found = violations(page, ".offline-note")
    assert not [violation["id"] for violation in found]


def test_the_answer_is_large_and_labels_can_be_read(
    small_phone: BrowserContext, site_url: str
) -> None:
    page = small_phone.new_page()
    settled(page, f"{site_url}boost/")
    size = "selector => parseFloat(getComputedStyle(document.querySelector(selector)).fontSize)"
    assert page.evaluate(size, "[data-plate] .plate-number") >= 40
    assert page.evaluate(size, "#blower_pulley") >= 20
    assert page.evaluate(size, ".field label") >= 17


def test_every_status_has_a_word_and_a_pattern_of_its_own(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    settled(page, f"{site_url}help/")
    looks = page.locator(".stamp").evaluate_all(
        "all => all.map(each => [each.textContent, getComputedStyle(each).backgroundImage,"
        " getComputedStyle(each).backgroundColor])"
    )
    words, images, fills = zip(*looks, strict=True)
    assert list(words) == ["within", "near the limit", "beyond the limit", "not checked"]
    assert "repeating-linear-gradient" in images[1]
    assert "radial-gradient" in images[3]
    assert images[0] == images[2] == "none"
    dashes = page.locator(".stamp").evaluate_all(
        "all => all.map(each => getComputedStyle(each).borderTopStyle)"
    )
    assert dashes == ["solid", "solid", "solid", "dashed"]
    assert fills[2] not in (fills[0], "rgba(0, 0, 0, 0)")


def test_the_form_can_be_used_with_the_keyboard_alone(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    settled(page, f"{site_url}boost/")
    page.locator("#blower_pulley").focus()
    page.keyboard.type("88")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.matches('[data-unit]')")
    page.keyboard.press("i")
    assert page.locator("#blower_pulley").input_value() == "3.465"
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.locator("#blower_pulley").input_value() == "3.5"
