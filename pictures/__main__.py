"""Take README's pictures anew, of a built site: `.venv/bin/python -m pictures`.

What they show is the first of our own example builds, taken over as a job.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from playwright.sync_api import BrowserContext, expect, sync_playwright

from site_src.checks import chromium
from site_src.places import DIST
from tests.browser.conftest import PHONE, launch_arguments
from tests.browser.servers import start_server

HERE = Path(__file__).parent
SHOWN = {"home": "", "boost": "boost/", "belt_route": "belt-route/"}


def main() -> None:
    """Write one picture a page beside this file."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=DIST)
    server = start_server(parser.parse_args().site)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=launch_arguments())
        phone = browser.new_context(**PHONE | {"device_scale_factor": 1.5})
        _take_job(phone, server.url)
        for name, address in SHOWN.items():
            _take(phone, f"{server.url}{address}", HERE / f"{name}.png")
        browser.close()
    server.kill()


def _take_job(phone: BrowserContext, url: str) -> None:
    """Make an example build the job in hand."""
    page = phone.new_page()
    page.goto(f"{url}builds/gravel-hauler/")
    page.locator("[data-take]").click()
    expect(page.locator("[data-taken]")).to_contain_text("is the job in hand")
    page.close()


def _take(phone: BrowserContext, address: str, path: Path) -> None:
    """Write the picture of a page's first screen, once all of it is worked out."""
    page = phone.new_page()
    page.goto(address)
    expect(page.locator("[data-entries][disabled]")).to_have_count(0)
    expect(page.locator("[data-lookup]:not([data-whole][data-settled])")).to_have_count(0)
    # What the phone says of installing comes and goes.
    page.evaluate("() => document.querySelector('.offline-note')?.remove()")
    page.screenshot(path=path)
    print(f"{path.name}: {path.stat().st_size} bytes")
    page.close()


if __name__ == "__main__":
    main()
