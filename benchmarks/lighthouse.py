"""What Lighthouse makes of the pages, from the server that `build.py serve` runs.

Run it on a built site: `.venv/bin/python -m benchmarks.lighthouse`. It takes Lighthouse from npm
into .cache. A score below 100 is followed by what cost it.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from site_src.checks import ROOT, chromium
from site_src.places import CACHE

PACKAGE = "lighthouse@12"
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")


def main() -> int:
    """Print four scores for each page; return 1 if one of them is below 100."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=ROOT / "dist")
    parser.add_argument("--only", nargs="*", default=None, metavar="PAGE", help="as boost/ or ./")
    given = parser.parse_args()
    program = _program()
    folders = sorted(path.parent for path in given.site.rglob("index.html"))
    pages = given.only or [f"{path.relative_to(given.site).as_posix()}/" for path in folders]
    command = [sys.executable, "-m", "site_src.serving.serve", str(given.site)]
    server = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    assert server.stdout
    address = f"http://localhost:{server.stdout.readline().strip()}/"
    print(f"{'':24} {' '.join(f'{each:>14}' for each in CATEGORIES)}")
    below = 0
    try:
        for page in pages:
            below += _page(program, address, page.removeprefix("./"))
    finally:
        server.kill()
        server.wait()
    return min(below, 1)


def _program() -> Path:
    """Return Lighthouse's program, fetched from npm if it isn't there."""
    home = CACHE / "lighthouse"
    program = home / "node_modules" / ".bin" / "lighthouse"
    if not program.exists():
        npm = shutil.which("npm") or sys.exit("Lighthouse takes Node with npm.")
        home.mkdir(parents=True, exist_ok=True)
        command = [npm, "install", "--no-audit", "--no-fund", "--prefix", str(home), PACKAGE]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return program


def _page(program: Path, address: str, page: str) -> int:
    """Look at one page, print its line and what cost it, and return how many scores are below."""
    report = _report(program, address + page)
    scores = {each: report["categories"][each]["score"] for each in CATEGORIES}
    # A category is without a score where one of its audits failed to run.
    shown = [
        f"{round(100 * score):14}" if score is not None else f"{'-':>14}"
        for score in scores.values()
    ]
    print(f"{page or './':24} {' '.join(shown)}", flush=True)
    low = [each for each in CATEGORIES if scores[each] != 1]
    for category in low:
        for part in report["categories"][category]["auditRefs"]:
            audit = report["audits"][part["id"]]
            if part["weight"] and audit["score"] is not None and audit["score"] < 0.9:
                value = audit.get("displayValue", "")
                print(f"    {category}: {audit['title']} {value}".rstrip(), flush=True)
                _print_places(audit)
    return len(low)


def _print_places(audit: dict[str, Any]) -> None:
    """Print where on the page an audit found something, for the first few."""
    for item in (audit.get("details") or {}).get("items", [])[:4]:
        node = item.get("node") if isinstance(item, dict) else None
        if node:
            print(f"        {node.get('snippet', '')[:110]}", flush=True)


def _report(program: Path, url: str) -> dict[str, Any]:
    flags = "--headless --disable-gpu" + (" --no-sandbox" if os.geteuid() == 0 else "")
    command = [str(program), url, "--output=json", "--quiet", f"--chrome-flags={flags}"]
    command.append(f"--only-categories={','.join(CATEGORIES)}")
    surroundings = os.environ | {"CHROME_PATH": chromium()}
    done = subprocess.run(command, env=surroundings, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"Lighthouse stopped at {url}: {done.stderr.strip()[-400:]}")
    report: dict[str, Any] = json.loads(done.stdout)
    return report


if __name__ == "__main__":
    sys.exit(main())
