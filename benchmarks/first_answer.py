"""Time from opening a page to its first answer, on an installed phone with a slow processor.

Run it on a built site, with the test extras: `.venv/bin/python -m benchmarks.first_answer`.
The server is dead by then; everything comes from the service worker. With `--against` another
built site is measured in turns with it, and the ratios printed: on a machine that does other work
besides, only those mean much.
"""

from __future__ import annotations

import argparse
import json
import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, sync_playwright

from site_src.checks import ROOT, chromium
from tests.browser.conftest import PHONE, installed, launch_arguments
from tests.browser.servers import start_server

STOPWATCH = """
// The scripts show the answer first, then open the form. Earlier builds did both at once.
new MutationObserver((_, observer) => {
  if (document.querySelector("[data-answered]")) globalThis.firstAnswer ??= performance.now();
  const form = document.querySelector("[data-entries]");
  if (!form || form.disabled) return;
  globalThis.formOpen ??= performance.now();
  globalThis.firstAnswer ??= globalThis.formOpen;
  if (!document.querySelector("[data-whole][data-settled]")) return;
  observer.disconnect();
  globalThis.allShown = performance.now();
}).observe(document, {
  ...{ subtree: true, childList: true },
  attributeFilter: ["data-answered", "disabled", "data-whole", "data-settled"],
});
globalThis.longTasks = [];
new PerformanceObserver((list) => {
  globalThis.longTasks.push(...list.getEntries().map(({ duration }) => duration));
}).observe({ type: "longtask", buffered: true });
"""

LONG = 50
"""Milliseconds from which a browser calls a task long."""


@dataclass(frozen=True)
class Opened:
    """One opening of a page: milliseconds to the answer and until the form can be used."""

    answer: float
    form: float
    shown: float
    """Milliseconds until tables and curves are there too, and what other lookups add."""
    longest: float
    """Milliseconds of its longest task."""
    requests: int


@dataclass(frozen=True)
class Phone:
    """A phone that has a site installed, and the address that it knows it by."""

    context: BrowserContext
    url: str


def main() -> None:
    """Print how long each lookup takes to its first answer, and its longest task."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=ROOT / "dist")
    parser.add_argument("--against", type=Path, help="another built site, measured in turns")
    parser.add_argument("--slowdown", type=float, default=4.0)
    parser.add_argument("--times", type=int, default=7)
    parser.add_argument("--only", nargs="*", default=[], metavar="KEY", help="these lookups alone")
    given = parser.parse_args()
    catalogue = json.loads((given.site / "lookups.json").read_text(encoding="utf-8"))
    keys = [each["key"] for each in catalogue["lookups"]]
    shown = [k for k in given.only or keys if (given.site / k).is_dir()]
    with _browser() as browser:
        phones = [_installed(browser, site) for site in (given.site, given.against) if site]
        print(f"{given.times} times each, processor slowed down {given.slowdown:g} times; the")
        print("longest task at full speed, where a browser calls it long")
        print(
            f"{'':14} {'first answer':>12} {'worst':>6} {'form':>6} {'all':>6} {'task':>6}", end=""
        )
        print(f" {'requests':>8}", end="")
        print(f" {'against':>8} {'ratio':>6} {'of all':>6}" if given.against else "")
        medians = []
        for key in shown:
            medians.append(_line(phones, key, given.slowdown, given.times))
        print(f"{'all':14} {statistics.median(medians):9.0f} ms {max(medians):6.0f}")


def _line(phones: list[Phone], key: str, slowdown: float, times: int) -> float:
    """Measure one lookup on each phone in turns, print its line, and return its median."""
    runs: list[list[Opened]] = [[] for _ in phones]
    for _ in range(times):
        for phone, found in zip(phones, runs, strict=True):
            found.append(_once(phone, key, slowdown))
    medians = [statistics.median(each.answer for each in found) for found in runs]
    own = runs[0]
    # The least of a few: what else the machine does only adds to a task.
    longest = min(_once(phones[0], key, 1.0).longest for _ in range(3))
    task = f"{longest:.0f}" if longest > LONG else "-"
    worst = max(each.answer for each in own)
    form = statistics.median(each.form for each in own)
    shown = [statistics.median(each.shown for each in found) for found in runs]
    print(f"{key:14} {medians[0]:9.0f} ms {worst:6.0f} {form:6.0f} {shown[0]:6.0f}", end="")
    print(f" {task:>6} {own[0].requests:8}", end="")
    if len(runs) > 1:
        print(
            f" {medians[1]:8.0f} {medians[0] / medians[1]:6.2f} {shown[0] / shown[1]:6.2f}", end=""
        )
    print()
    return medians[0]


@contextmanager
def _browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=launch_arguments())
        yield browser
        browser.close()


def _installed(browser: Browser, site: Path) -> Phone:
    """Return a phone that has a site, whose server is dead."""
    server = start_server(site)
    context = browser.new_context(**PHONE)
    installed(context.new_page(), server.url).close()
    server.kill()
    context.add_init_script(STOPWATCH)
    return Phone(context, server.url)


def _once(phone: Phone, key: str, slowdown: float) -> Opened:
    """Open a page once in a tab of its own."""
    page = phone.context.new_page()
    phone.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
    page.goto(f"{phone.url}{key}/")
    page.wait_for_function("() => globalThis.allShown", timeout=60_000)
    *times, requests = page.evaluate(
        """() => [globalThis.firstAnswer, globalThis.formOpen, globalThis.allShown,
                  Math.max(0, ...globalThis.longTasks),
                  1 + performance.getEntriesByType("resource").length]"""
    )
    page.close()
    return Opened(*map(float, times), requests=int(requests))


if __name__ == "__main__":
    main()
