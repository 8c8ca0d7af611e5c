"""Whatever is typed into a lookup's page: an answer of just that, or words; never anything else.

A few entries a page by default; as many as the environment variable BAY_FUZZ says, over all pages.
"""

from __future__ import annotations

import math
import os
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_src.lookups import lookup
from site_src.model.fields import Number
from site_src.model.quantities import quantity
from tests.browser.conftest import NewContext
from tests.browser.test_pages import KEYS, opened, ready

TYPE = Path(__file__).with_name("typing.js").read_text(encoding="utf-8").strip().rstrip(";")

TOTAL = int(os.environ.get("BAY_FUZZ", "0"))
A_PAGE = max(15, math.ceil(TOTAL / len(KEYS)))
"""Entries a page."""

AT_A_TIME = 250
"""Entries until the page is loaded anew."""

SEED = int(os.environ.get("BAY_FUZZ_SEED", "1"))

PLAIN = re.compile(r"-?[0-9]{1,20}(\.[0-9]{1,20})?")
"""A number that can be read in one way only."""

LISTEN = """
window.typedAnything = { errors: [] };
const note = (words) => window.typedAnything.errors.push(String(words).slice(0, 300));
console.error = (...words) => note(words.map((each) => each?.stack ?? each).join(" "));
addEventListener("error", (event) => {
  // Without an error it is a notice of the browser's, such as a layout that took two turns.
  if (event.error) note(event.error.stack ?? event.error);
  else if (event.target !== window) note("a file did not load");
}, true);
addEventListener("unhandledrejection", (event) => note(event.reason?.stack ?? event.reason));
addEventListener("securitypolicyviolation", (event) => note(`policy: ${event.violatedDirective}`));
for (const name of ["alert", "confirm", "prompt"]) window[name] = () => note(name);
"""

STANDING = """
() => [...document.querySelectorAll(
  "[data-plate], [data-lesser], [data-answers], [data-ladder], [data-margins], "
  + "[data-form] .problem, main table, main svg text"
)].filter((each) => !each.closest("[hidden], template")).map((each) => {
  const read = each.cloneNode(true);
  for (const unseen of read.querySelectorAll("[hidden], select")) unseen.remove();
  return read.textContent.replace(/\\s+/g, " ").trim();
})
"""
"""What a page says of its set-up."""

NOT_KEPT = """
() => [...document.querySelectorAll("[data-kept-for]")]
  .some((each) => !each.closest("[hidden]") && /not kept/i.test(each.textContent))
"""
"""Whether a page says of a maker's figure that it does not keep it."""


@pytest.fixture
def phone(new_phone: NewContext) -> BrowserContext:
    """A phone that watches itself, without a service worker, whose note could come in between."""
    phone = new_phone()
    phone.add_init_script(LISTEN)
    return phone


@pytest.mark.parametrize("key", KEYS)
def test_whatever_is_typed_is_answered_or_refused_in_words(
    key: str, phone: BrowserContext, site_url: str
) -> None:
    page = opened(phone, f"{site_url}{key}/")
    done = 0
    while done < A_PAGE:
        count = min(AT_A_TIME, A_PAGE - done)
        seed = SEED * 1_000_003 + KEYS.index(key) * 10_007 + done
        found = page.evaluate(f"([...all]) => ({TYPE})(...all)", [seed, count, 7])
        assert not found["wrong"], "\n".join(found["wrong"])
        for sample in found["samples"]:
            as_python(key, sample)
        after_a_reload(page)
        done += count


def as_python(key: str, sample: dict[str, Any]) -> None:
    """Compare a set-up's answers with Python's, and what plain numbers were taken for."""
    about, inputs = lookup(key), sample["inputs"]
    (outcome,) = about.explain_many([inputs])
    assert outcome.answers == sample["answers"], sample["did"]
    fields = {field.key: field for field in about.fields}
    for name, text, unit, is_converted in sample["texts"]:
        field = fields[name]
        assert isinstance(field, Number)
        if is_converted or name not in inputs or not PLAIN.fullmatch(text):
            continue
        of = quantity(field.of)
        value = of.unit(field.unit).from_si(of.unit(unit).to_si(float(text)))
        hair = 0.01 * (field.high - field.low)
        if field.low + hair < value < field.high - hair:
            assert inputs[name] == pytest.approx(value, rel=1e-9, abs=1e-12), (name, text, unit)
        elif not field.low - hair < value < field.high + hair:
            is_refused = name in sample["problems"] and math.isnan(inputs[name])
            assert is_refused or (field.when and inputs[name] == field.default), (name, text, unit)


def after_a_reload(page: Page) -> None:
    """See that the job holds what stood there, and that the page says the same of it."""
    state = "document.querySelector('[data-job-line]').dataset.state"
    page.wait_for_function(f"() => {state} !== 'keeping'")
    before = page.evaluate(STANDING)
    is_kept = page.evaluate(state) == "kept" and not page.evaluate(NOT_KEPT)
    page.reload()
    ready(page)
    if is_kept:
        expect(page.locator("[data-job-line]")).to_have_attribute("data-state", "kept")
        expect(page.locator("[data-guest]")).to_be_hidden()
        assert page.evaluate(STANDING) == before
    assert not page.evaluate("() => window.typedAnything.errors")
