"""In the browser too, the site's own evaluator and tables give Python's bits."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from site_src.lookups import all_recipes
from site_src.model.lookup import Lookup
from tests.tables.samples import FRESH, POINTS, inputs, python_results

FEW = 500
"""Set-ups a page: other ones than those at which the same engine is compared in Node."""

EVALUATE = """
async ([key, text]) => {
  const { decodeTable } = await import("./static/js/recipe/grid.js");
  const { explain } = await import("./static/js/recipe.js");
  const catalogue = await (await fetch("./lookups.json")).json();
  const lookup = catalogue.lookups.find((each) => each.key === key);
  const tables = {};
  for (const name of lookup.tables) {
    const meta = catalogue.tables[name];
    tables[name] = decodeTable(meta, await (await fetch("./" + meta.file)).arrayBuffer());
  }
  const found = JSON.parse(text).map((row) => {
    const { answers, faults, status, unjudged } = explain(lookup, row, tables);
    const said = (found) =>
      Object.fromEntries(Object.entries(found).map(([k, f]) => [k, [f.kind, f.symbol, f.say]]));
    return { answers, faults: said(faults), status, unjudged: said(unjudged) };
  });
  return JSON.stringify(found);
}
"""
# As text both ways: Playwright itself takes half a minute for ten thousand set-ups.


@pytest.fixture(scope="module")
def page(browser: Browser, site_url: str) -> Iterator[Page]:
    """A page of the site that all lookups are evaluated on: evaluating leaves nothing there."""
    page = browser.new_page(service_workers="block")
    page.goto(site_url)
    yield page
    page.close()


@pytest.mark.parametrize("lookup", all_recipes(), ids=lambda each: each.key)
def test_browser_and_python_agree_to_the_last_bit(lookup: Lookup, page: Page) -> None:
    rows = inputs(lookup, FEW, FRESH + POINTS)
    found = json.loads(page.evaluate(EVALUATE, [lookup.key, json.dumps(rows)]))
    for row, python, browser in zip(rows, python_results(lookup, rows), found, strict=True):
        assert python == browser, row
