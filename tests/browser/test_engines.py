"""Firefox and WebKit: a job in the bay with no server, in browsers that are not Chromium.

Where one is not installed its test is skipped and says what it lacks. A phone's own browsers can't
be tried here: these are the desktop builds of the same engines. WebKit's small browser keeps
nothing over its end, so that a kill and a second start are tried in Firefox alone.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from site_src.lookups import all_recipes, lookup
from tests.browser.engines import Engine, firefox, firefox_lacks, until, webkit, webkit_lacks
from tests.browser.servers import SiteServer
from tests.browser.test_pages import worked_out
from tests.browser.test_same_bits import EVALUATE
from tests.tables.samples import FRESH, POINTS, inputs, python_results

Start = Callable[[Path], AbstractContextManager[Engine]]
Serve = Callable[[Path], SiteServer]

FEW = 24
"""Set-ups of each recipe: Chromium and Node, which share an engine, are compared at many more."""

TYPED: dict[str, dict[str, str]] = {
    "boost": {"blower_pulley": "85", "engine_speed": "5500"},
    "accessory": {"accessory_pulley": "61.5", "limiter_speed": "6200"},
    "hose-bend": {"chord": "140", "rise": "22"},
}
"""Pages, and what is typed into each."""

READY = "return !!document.querySelector('[data-lookup][data-whole][data-settled]')"
OPEN = "return !!document.querySelector('[data-entries]:not([disabled])')"
KEPT = "return document.querySelector('[data-job-line]').dataset.state === 'kept'"

SHOWN = """
return [...document.querySelectorAll("[data-answers] [data-answer]")].map((each) => [
  each.dataset.answer, each.querySelector("select[data-unit]")?.value ?? "",
  each.querySelector("[data-number]").textContent.trim()]);
"""
"""Each answer of a page, the key of its unit if there is a choice, its number."""

SERVED = """
const said = document.querySelector("[data-value]:not(:empty), [data-silence]:not([hidden]) p");
const isLookup = document.querySelector("[data-lookup]") !== null;
return [document.title, document.querySelector("h1").textContent.trim() !== "",
  !isLookup || said !== null, "stopped" in document.documentElement.dataset];
"""

INSTALLED = """
const done = arguments[arguments.length - 1];
navigator.serviceWorker.ready.then(() => {
  if (navigator.serviceWorker.controller) done(true);
  else navigator.serviceWorker.addEventListener("controllerchange", () => done(true));
});
"""

DEAD = """
const done = arguments[arguments.length - 1];
fetch("./nothing.txt", { cache: "no-store" }).then(() => done("alive"), () => done("dead"));
"""

COMPARED = f"""
const done = arguments[arguments.length - 1];
({EVALUATE})([arguments[0], arguments[1]]).then(done, (reason) => done(String(reason)));
"""

SMALL = (
    "pattern=grid&rows=2&columns=2&passes=1&passes.1.share=100pct"
    "&order=worked&thread=M8x1.25&grade=8.8&torque=25Nm"
)
"""Four bolts, one pass and the check."""


@pytest.mark.parametrize(
    ("start", "lacks"),
    [
        pytest.param(firefox, firefox_lacks, id="firefox"),
        pytest.param(webkit, webkit_lacks, id="webkit"),
    ],
)
def test_a_job_is_done_offline_in_another_engine(
    start: Start,
    lacks: Callable[[], str],
    site: Path,
    serve: Serve,
    pages: list[str],
    tmp_path: Path,
) -> None:
    if lacking := lacks():
        pytest.skip(f"not tried: this machine has not {lacking}")
    storage = tmp_path / "storage"
    with start(storage) as engine:
        server = serve(site)
        engine.go(server.url)
        assert engine.wait(INSTALLED)
        same_bits(engine)
        server.kill()
        assert engine.wait(DEAD) == "dead"
        for address in pages:
            engine.go(server.url + address)
            title, *all_there, stopped = engine.run(SERVED)
            assert title, address
            assert all(all_there), address
            assert not stopped, address
        for key, texts in TYPED.items():
            answered(engine, server.url, key, texts)
        started(engine, server.url)
        engine.go(f"{server.url}plan/")
        still_there(engine, server.url)
    if start is firefox:
        # It was killed just now, as a flat battery would.
        with start(storage) as engine:
            still_there(engine, server.url)


def same_bits(engine: Engine) -> None:
    """See that the engine's numbers are Python's to the last bit."""
    for each in all_recipes():
        rows = inputs(each, FEW, FRESH + 2 * POINTS)
        found = engine.wait(COMPARED, each.key, json.dumps(rows))
        for row, python, theirs in zip(
            rows, python_results(each, rows), json.loads(found), strict=True
        ):
            assert python == theirs, (each.key, row)


def answered(engine: Engine, url: str, key: str, texts: Mapping[str, str]) -> None:
    """Type into a page, see that every number is what Python shows, and wait until it is kept."""
    engine.go(f"{url}{key}/")
    until(engine, READY)
    for name, text in texts.items():
        engine.type(f"#{name}", text)
    until(engine, KEPT)
    until(engine, READY)
    entered = {name: float(text) for name, text in texts.items()}
    numbers = [row for row in engine.run(SHOWN) if any(map(str.isdigit, row[2]))]
    assert len(numbers) > 2, key
    for answer, picked, text in numbers:
        unit = picked or next(iter(lookup(key).answer(answer).decimals))
        assert text == worked_out(key, answer, unit, entered), (key, answer)


def started(engine: Engine, url: str) -> None:
    """Start a map and tick its first bolt."""
    engine.go(f"{url}tightening/?{SMALL}")
    until(engine, OPEN)
    engine.click("[data-start]")
    until(engine, "return !document.querySelector('[data-bolt-screen]').hidden")
    for count in ("0 of 4", "1 of 4"):
        engine.wait("setTimeout(arguments[0], 480)")  # nearer taps count as one
        engine.click("[data-confirm]")
        until(engine, COUNT, count)


COUNT = """
return document.querySelector("[data-screen-count]").textContent.includes(arguments[0]);
"""


def still_there(engine: Engine, url: str) -> None:
    """See that the truck and the map are as they were left."""
    engine.go(f"{url}plan/")
    until(engine, READY)
    typed = TYPED["boost"]["blower_pulley"]
    assert engine.run("return document.querySelector('#blower_pulley').value") == typed
    engine.go(f"{url}tightening/")
    until(engine, "return !!document.querySelector('[data-unfinished-map]')")
    words = engine.run("return document.querySelector('[data-unfinished-map]').innerText")
    assert "1 of 4 done" in " ".join(words.split())
