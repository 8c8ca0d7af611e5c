"""Time from opening a page to its first answer, on an installed phone with a slow processor.

Run it on a built site, with the test extras: `.venv/bin/python -m benchmarks.first_answer`.
The server is dead by then; everything comes from the service worker.
"""

from __future__ import annotations

import argparse
import json
import statistics
from pathlib import Path

from playwright.sync_api import BrowserContext, sync_playwright

from site_src.checks import ROOT, chromium
from tests.browser.conftest import PHONE, installed, launch_arguments
from tests.browser.servers import start_server

# The scripts open the form once the first answer is shown.
STOPWATCH = """
const look = () => {
  const form = document.querySelector("[data-entries]");
  if (form && !form.disabled) globalThis.firstAnswer = performance.now();
  else setTimeout(look, 2);
};
look();
"""


def main() -> None:
    """Print the median and the worst time of each lookup, in milliseconds."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=ROOT / "dist")
    parser.add_argument("--slowdown", type=float, default=4.0)
    parser.add_argument("--times", type=int, default=7)
    given = parser.parse_args()
    catalogue = json.loads((given.site / "lookups.json").read_text(encoding="utf-8"))
    server = start_server(given.site)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=launch_arguments())
        phone = browser.new_context(**PHONE)
        installed(phone.new_page(), server.url).close()
        server.kill()
        phone.add_init_script(STOPWATCH)
        print(f"{given.times} times each, processor slowed down {given.slowdown:g} times")
        for lookup in catalogue["lookups"]:
            if not (given.site / lookup["key"]).is_dir():
                continue
            url = f"{server.url}{lookup['key']}/"
            times = [_once(phone, url, given.slowdown) for _ in range(given.times)]
            print(f"{lookup['key']:12} {statistics.median(times):6.0f} ms, worst {max(times):.0f}")
        browser.close()


def _once(phone: BrowserContext, url: str, slowdown: float) -> float:
    """Open a page once in a tab of its own, and return when its first answer stood."""
    page = phone.new_page()
    phone.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
    page.goto(url)
    page.wait_for_function("() => globalThis.firstAnswer")
    time = float(page.evaluate("() => globalThis.firstAnswer"))
    page.close()
    return time


if __name__ == "__main__":
    main()
