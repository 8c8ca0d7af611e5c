"""The record: what it says of a job, its checksum, its file, and what comes out on paper."""

from __future__ import annotations

import hashlib
import json
import math
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import NewContext
from tests.browser.test_figures import opened as figures_of
from tests.browser.test_holds import (
    BEFORE_KEY,
    FINISHED,
    FIRST,
    PUT,
    SECOND,
    SIGN_ALL,
    card,
    go,
    press,
    sign,
)
from tests.browser.test_holds import opened as holds_of
from tests.browser.test_one_store import sheet
from tests.browser.test_pages import opened as page_of
from tests.browser.test_print import PAGE
from tests.browser.test_truck import kept

COLLECTIONS = ("figures", "maps", "pulleys", "jobs", "holds", "runs")


# --- RFC 8785, a second time ---------------------------------------------------------------------


def canonical(value: Any) -> str:
    """Write a value as RFC 8785 does: ECMAScript's numbers and texts, keys by UTF-16 code units."""
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        return f"{{{','.join(f'{canonical(key)}:{canonical(value[key])}' for key in keys)}}}"
    if isinstance(value, list):
        return f"[{','.join(map(canonical, value))}]"
    if isinstance(value, float):
        return number(value)
    return json.dumps(value, ensure_ascii=False)


def number(value: float) -> str:
    """Write a number as ECMA-262, Number::toString does, from Python's shortest digits."""
    if value == 0 or (math.isfinite(value) and value == int(value) and abs(value) < 1e21):
        return str(int(value))
    mantissa, _, exponent = repr(value).partition("e")
    if not exponent:
        return mantissa
    power = int(exponent)
    if -7 < power < 0:
        digits = mantissa.replace(".", "").lstrip("-")
        return f"{'-' if value < 0 else ''}0.{'0' * (-power - 1)}{digits}"
    return f"{mantissa.removesuffix('.0')}e{'+' if power > 0 else '-'}{abs(power)}"


SAMPLE = (
    r'{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],'
    r'"string":"\u20ac$\u000F\u000aA\u0027\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}'
)
SAMPLE_SORTED = (
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
    '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
)


def test_both_write_the_sample_of_rfc_8785_from_memory_alike(
    phone: BrowserContext, site_url: str
) -> None:
    page = phone.new_page()
    page.goto(f"{site_url}record/")
    by_phone = """async (text) => {
      const modules = globalThis.bayReckonerModules;
      const { canonical } = modules["record/job_file.js"];
      return canonical(JSON.parse(text));
    }"""
    # Keys of the sample of section 3.2.3, whose order differs between code points and UTF-16.
    keys = json.dumps({"€": 1, "\r": 2, "\ufb33": 3, "1": 4, "😀": 5, "\u0080": 6, "ö": 7})
    odd = json.dumps(
        {"a": [1e-7, 1.5e-7, 123456789.5e-12, 5e-324, -0.0, 1e21, 1.25e22, 0.1, 100.0]}
    )
    assert page.evaluate(by_phone, SAMPLE) == canonical(json.loads(SAMPLE)) == SAMPLE_SORTED
    order = json.loads(page.evaluate(by_phone, keys))
    assert list(order) == ["\r", "1", "\u0080", "ö", "€", "😀", "\ufb33"]
    for text in (keys, odd):
        assert page.evaluate(by_phone, text) == canonical(json.loads(text))


# --- the page ------------------------------------------------------------------------------------


def record_of(page: Page, site_url: str) -> Page:
    """Open the record and wait until all of it is there."""
    page.goto(f"{site_url}record/")
    expect(page.locator("[data-owner] div").first).to_be_visible()
    return page


def part(page: Page, key: str) -> Any:
    """One part of the record."""
    return page.locator(f'[data-part="{key}"] [data-lines]')


def built(phone: BrowserContext, site_url: str) -> Page:
    """A job with a truck, figures, a map, signatures and a skip."""
    page = page_of(phone, f"{site_url}boost/")
    page.fill("#blower_pulley", "78")
    kept(page)
    page.close()
    page = figures_of(phone, f"{site_url}figures/")
    sheet(page, "belt", {"fitted_belt": "1815"}, belt_number="K-1815", source="Sheet 3")
    sheet(page, "rotor", {"rotor_limit": "15000"}, source="Sheet 3", page="4")
    go(page, site_url)
    page.evaluate(PUT, ["maps", FINISHED])
    page.evaluate(SIGN_ALL, [[key for key in BEFORE_KEY if key not in (FIRST, SECOND)], ""])
    page.reload()
    sign(page, FIRST, note="Light in every port")
    form = press(page, SECOND, "Skip")
    form.locator("textarea").fill("Engine has none")
    form.get_by_role("button", name="Skip it for this reason").click()
    expect(card(page, SECOND)).to_have_attribute("data-state", "skipped")
    return page


def test_the_record_says_whose_each_figure_is_and_who_did_what(
    phone: BrowserContext, site_url: str
) -> None:
    page = record_of(built(phone, site_url), site_url)
    expect(page.locator("[data-ready]")).to_have_text("READY")
    truck = part(page, "truck")
    expect(truck.locator("li", has_text="Blower pulley").first).to_contain_text("78 mm the shop's")
    expect(truck.locator("li", has_text="limit").first).to_contain_text("the maker's, page 4")
    expect(part(page, "figures")).to_contain_text("K-1815")
    expect(part(page, "maps")).to_contain_text("Lid")
    expect(part(page, "maps")).to_contain_text("by Jo")
    holds = part(page, "holds")
    expect(holds).to_contain_text("Light in every port")
    expect(holds.locator("li", has_text="Knock sensors clear")).to_contain_text("skipped")
    deviations = part(page, "deviations")
    expect(deviations).to_contain_text("Because: Engine has none")
    expect(deviations).to_contain_text("Not checked, for want of an entry of its own")
    expect(part(page, "again")).to_contain_text("Belt tension measured again")
    assert "NaN" not in page.locator("main").inner_text()


def test_a_limit_that_is_passed_and_a_figure_typed_over_are_deviations(
    phone: BrowserContext, site_url: str
) -> None:
    page = built(phone, site_url)
    page.goto(f"{site_url}boost/")
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true })")
    page.fill("#rotor_limit", "9000")
    kept(page)
    deviations = part(record_of(page, site_url), "deviations")
    expect(deviations).to_contain_text("Beyond its limit: ")
    expect(deviations).to_contain_text("Not as its maker says:")
    expect(deviations).to_contain_text("15,000 rpm")


def test_the_owner_is_told_only_what_was_entered(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    owner = record_of(page, site_url).locator("[data-owner]")
    # Of the example truck nothing is told: a line to write on stands in its place.
    expect(owner.locator("dd:not(.by-hand)")).to_have_count(0)
    page.close()
    page = record_of(built(phone, site_url), site_url)
    expect(owner_line(page, "Belt")).to_contain_text("K-1815, 1815 mm")
    expect(owner_line(page, "Blower speed limit")).to_contain_text("15,000 rpm")
    expect(owner_line(page, "Fuel")).to_contain_text("Not entered")
    expect(page.locator("[data-owner-again]")).to_contain_text("Still to be done.")


def owner_line(page: Page, label: str) -> Any:
    """A line of the owner's page."""
    return page.locator("[data-owner] div", has_text=label).first


def test_runs_that_were_read_are_in_the_record(phone: BrowserContext, site_url: str) -> None:
    page = holds_of(phone, site_url)
    run = {
        "schema": 1,
        "id": "run",
        "rev": 0,
        "job": "This job",
        "at": "2026-11-29T09:00:00.000Z",
        "data": {"words": "Boost as reckoned to 4,000 rpm."},
    }
    page.evaluate(PUT, ["runs", run])
    expect(part(record_of(page, site_url), "runs")).to_contain_text("Boost as reckoned")


# --- its file ------------------------------------------------------------------------------------


def saved(page: Page, path: Path) -> dict[str, Any]:
    """Save the job's file."""
    with page.expect_download() as download:
        page.locator("[data-save]").click()
    download.value.save_as(path)
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found


def digest(file: dict[str, Any]) -> str:
    """The checksum of a file, worked out without any of the page's scripts."""
    plain = {each: file[each] for each in COLLECTIONS}
    return hashlib.sha256(canonical(plain).encode()).hexdigest()


def test_the_printed_checksum_is_that_of_the_file_and_changes_with_the_job(
    phone: BrowserContext, new_phone: NewContext, site_url: str, tmp_path: Path
) -> None:
    page = record_of(built(phone, site_url), site_url)
    path = tmp_path / "job.json"
    file = saved(page, path)
    wanted = digest(file)
    assert file["checksum"] == wanted
    whole = page.locator("[data-checksum-full]").inner_text()
    assert "".join(whole.split()) == f"SHA-256{wanted}"
    short = page.locator("[data-checksum]").inner_text()
    assert "".join(short.split()).lower() == wanted[:16]
    page.set_input_files("[data-compare]", path)
    expect(page.locator("[data-told]")).to_contain_text("Yes: it holds exactly what")
    # Nothing of it was written in between, so it stays the same.
    page.reload()
    expect(page.locator("[data-checksum]")).to_have_text(short)
    # On the phone that takes it in the record is the same.
    other = new_phone().new_page()
    other.goto(f"{site_url}record/")
    other.set_input_files("[data-import]", path)
    expect(other.locator("[data-transfer]")).to_contain_text("added")
    other.evaluate(
        """async () => {
          const modules = globalThis.bayReckonerModules;
          await modules["record/jobs.js"].takeUp("This job");
        }"""
    )
    record_of(other, site_url)
    expect(other.locator("[data-checksum]")).to_have_text(short)
    # One more signature is another record.
    page.evaluate(SIGN_ALL, [["started"], ""])
    record_of(page, site_url)
    expect(page.locator("[data-checksum]")).not_to_have_text(short)
    page.set_input_files("[data-compare]", path)
    expect(page.locator("[data-told]")).to_contain_text(f"No: its checksum is {short}")
    path.write_text("{", encoding="utf-8")
    page.set_input_files("[data-compare]", path)
    expect(page.locator("[data-told]")).to_contain_text("can't be read")
    path.write_text('{"kind": "something else"}', encoding="utf-8")
    page.set_input_files("[data-compare]", path)
    expect(page.locator("[data-told]")).to_contain_text("not a record from here")


def test_another_job_is_not_in_the_job_s_file(
    phone: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = built(phone, site_url)
    page.evaluate(SIGN_ALL, [[FIRST], "The other one"])
    file = saved(record_of(page, site_url), tmp_path / "job.json")
    assert {each["job"] for each in (*file["holds"], *file["maps"], *file["figures"])} == {
        "This job"
    }
    assert [each["name"] for each in file["jobs"]] == ["This job"]


# --- on paper ------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_the_owner_s_page_stands_alone_and_the_checksum_is_there(
    phone: BrowserContext, site_url: str, paper: str
) -> None:
    page = record_of(built(phone, site_url), site_url)
    count = len(PAGE.findall(page.pdf(format=paper)))
    assert 2 <= count <= 5
    page.emulate_media(media="print")
    expect(page.locator("[data-checksum]")).to_be_visible()
    expect(page.locator(".not-printed:visible")).to_have_count(0)
    page.locator(".owner").evaluate(
        "(owner) => document.querySelector('main').replaceChildren(owner)"
    )
    assert len(PAGE.findall(page.pdf(format=paper))) == 1
