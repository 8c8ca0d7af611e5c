"""Time from navigation to the first answer on a phone, offline, against a slowed processor.

Run: python -m benchmarks.first_answer [PAGE …]. Builds the site, installs it into a fresh browser,
kills the server, slows the processor four times, opens each page several times by its service
worker and prints the median time until the scripts have put an answer on the plate, and its ratio
to the same page without slowing.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from pathlib import Path
from statistics import median

from playwright.sync_api import BrowserContext, Page, sync_playwright

from site_src.checks import BROWSER
from tests.browser.conftest import ARGUMENTS, PHONE, installed
from tests.browser.servers import start_server
from tests.conftest import build_site

ROUNDS = 9
SLOWER = 4

READY = """
() => new Promise((resolve) => {
  const look = () => {
    const entries = document.querySelector("[data-entries]");
    const value = document.querySelector("[data-value]");
    if (entries && !entries.disabled && value && value.textContent.trim()) {
      resolve(performance.now());
    } else setTimeout(look, 2);
  };
  look();
})
"""


def first_answer(page: Page, url: str, slower: int) -> float:
    """Return milliseconds from the start of a navigation to the first answer."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    page.goto(url, wait_until="commit")
    return float(page.evaluate(READY))


def measure(context: BrowserContext, url: str, slower: int) -> float:
    """Return the median over several rounds, each in a page of its own."""
    times = []
    for _ in range(ROUNDS):
        page = context.new_page()
        times.append(first_answer(page, url, slower))
        page.close()
    return median(times)


def main(pages: list[str]) -> None:
    """Build, install, kill the server, measure, print."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = start_server(build_site(Path(folder) / "dist"))
        arguments = [*ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]
        found = os.environ.get(BROWSER) or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=found, args=arguments)
        context = browser.new_context(**PHONE)
        installed(context.new_page(), server.url)
        server.kill()
        print(f"{'page':<12} {'as it is':>10} {f'{SLOWER}× slower':>12} {'ratio':>7}")
        for page in pages:
            plain, slowed = (measure(context, f"{server.url}{page}/", n) for n in (1, SLOWER))
            print(f"{page:<12} {plain:>7.0f} ms {slowed:>9.0f} ms {slowed / plain:>7.2f}")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:] or ["boost", "torque", "hose-bend", "plan"])
