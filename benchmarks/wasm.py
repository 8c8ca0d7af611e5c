"""Compare with the other way to bring Python to a phone: its interpreter as WebAssembly.

Run it on a built site, with the test extras: `.venv/bin/python -m benchmarks.wasm`. It takes the
interpreter from npm into .cache, for this comparison alone; nothing of it is ever published. Both
work out the boost page's answers from the same recipe and tables, at first with nothing kept, then
installed and with the server dead. The numeric library that the calculations themselves need has no
build for that interpreter which a package registry would give, so it is left out, and with it most
of what the other way would have to send.
"""

from __future__ import annotations

import argparse
import json
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, sync_playwright

from benchmarks.first_answer import STOPWATCH
from site_src.checks import ROOT, chromium
from site_src.places import CACHE
from site_src.publish.catalogue import TABLES_FILE
from site_src.publish.offline import fetched_files
from site_src.publish.report import over_the_wire
from tests.browser.conftest import PHONE, installed, launch_arguments
from tests.browser.servers import SiteServer, start_server

PACKAGE = "pyodide"
HERE = Path(__file__).parent / "in_wasm"
RUNTIME = (
    *("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip"),
    "pyodide-lock.json",
)
KEEP = "async () => { await globalThis.kept; }"
MANY = """async ([key, times]) => {
  const read = (name) => fetch(name).then((response) => response.json());
  const from = (name) => import(new URL(`static/js/${name}`, location.href).href);
  const [{ decodeTable }, { explain }] = [await from("recipe/grid.js"), await from("recipe.js")];
  const catalogue = await read("lookups.json");
  const numbers = await (await fetch("static/tables/tables.bin")).arrayBuffer();
  const lookup = catalogue.lookups.find((each) => each.key === key);
  const tables = Object.fromEntries(lookup.tables.map(
    (name) => [name, decodeTable(catalogue.tables[name], numbers)]));
  const answer = (speed) => explain(lookup, { engine_speed: speed }, tables).answers;
  for (let n = 0; n < times; n += 1) answer(3000 + (n % 2000));
  const start = performance.now();
  for (let n = 0; n < times; n += 1) answer(3000 + (n % 2000));
  return [(performance.now() - start) / times / 1000, answer(5000)];
}"""


@dataclass(frozen=True)
class Measured:
    """Bytes over the wire; seconds to the first answer, new and kept; seconds for an answer."""

    size: int
    cold: float
    warm: float
    answer: float
    answers: dict[str, float]


def main() -> None:
    """Print both ways side by side, and how many times the one is the other."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=ROOT / "dist")
    parser.add_argument("--slowdown", type=float, default=4.0)
    parser.add_argument("--times", type=int, default=5)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        folder = _laid_out(Path(made) / "site", given.site)
        browser = playwright.chromium.launch(executable_path=chromium(), args=launch_arguments())
        theirs = _theirs(browser, folder, given.slowdown, given.times)
        ours = _ours(browser, given.site, given.slowdown, given.times)
        browser.close()
    differing = [key for key, value in ours.answers.items() if theirs.answers[key] != value]
    if differing:
        sys.exit(f"The two ways differ in {', '.join(differing)}; nothing is compared.")
    print(
        f"Boost, the same bits both ways; {given.times} times, slowed down {given.slowdown:g} times"
    )
    print(f"{'':34} {'interpreter':>12} {'this site':>12} {'ratio':>8}")
    for name, value, unit, scale in (
        ("bytes to install, brotli", "size", "kB", 1e-3),
        ("first answer, nothing kept", "cold", "ms", 1e3),
        ("first answer, installed", "warm", "ms", 1e3),
        ("an answer at full speed", "answer", "µs", 1e6),
    ):
        one, other = getattr(theirs, value), getattr(ours, value)
        numbers = f"{one * scale:9,.0f} {unit} {other * scale:9,.0f} {unit} {one / other:8.1f}"
        print(f"{name:34} {numbers}")
    print("The interpreter alone works out this recipe; this site's bytes are those of all pages.")


def _laid_out(folder: Path, site: Path) -> Path:
    """Lay the interpreter beside its page, fetching it from npm if it isn't there."""
    home = CACHE / "wasm"
    package = home / "node_modules" / PACKAGE
    if not package.is_dir():
        npm = shutil.which("npm") or sys.exit("This comparison takes npm.")
        home.mkdir(parents=True, exist_ok=True)
        command = [npm, "install", "--no-audit", "--no-fund", "--prefix", str(home), PACKAGE]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    shutil.copytree(HERE, folder, ignore=shutil.ignore_patterns("__*"))
    (folder / "runtime").mkdir()
    for name in RUNTIME:
        shutil.copy(package / name, folder / "runtime" / name)
    shutil.copy(site / "lookups.json", folder / "lookups.json")
    shutil.copy(site / TABLES_FILE, folder / "tables.bin")
    return folder


def _theirs(browser: Browser, folder: Path, slowdown: float, times: int) -> Measured:
    contents = [path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()]
    colds = []
    for _ in range(times):
        server, context = start_server(folder, program=TYPED), browser.new_context(**PHONE)
        colds.append(_first(context, server.url, slowdown))
        server.kill()
        context.close()
    server, context = start_server(folder, program=TYPED), browser.new_context(**PHONE)
    page = context.new_page()
    page.goto(server.url)
    page.wait_for_function("() => globalThis.firstAnswer", timeout=120_000)
    page.evaluate(KEEP)
    took = float(page.evaluate("() => globalThis.timeAnAnswer(300)"))
    answers = page.evaluate("() => globalThis.answers")
    page.close()
    server.kill()
    warms = [_first(context, server.url, slowdown) for _ in range(times)]
    return _measured(contents, colds, warms, took, answers)


def _ours(browser: Browser, site: Path, slowdown: float, times: int) -> Measured:
    version = json.loads((site / "lookups.json").read_text(encoding="utf-8"))["version"]
    own = [site / "sw.js", site / f"worker-{version}.js"]
    contents = [path.read_bytes() for path in [*fetched_files(site), *own]]
    colds = []
    for _ in range(times):
        server, context = _started(browser, site)
        colds.append(_first(context, f"{server.url}boost/", slowdown))
        server.kill()
        context.close()
    server, context = _started(browser, site)
    page = installed(context.new_page(), server.url)
    took, answers = page.evaluate(MANY, ["boost", 3000])
    page.close()
    server.kill()
    warms = [_first(context, f"{server.url}boost/", slowdown) for _ in range(times)]
    return _measured(contents, colds, warms, took, answers)


def _started(browser: Browser, site: Path) -> tuple[SiteServer, BrowserContext]:
    server, context = start_server(site), browser.new_context(**PHONE)
    context.add_init_script(STOPWATCH)
    return server, context


def _measured(
    contents: Iterable[bytes],
    colds: list[float],
    warms: list[float],
    answer: float,
    answers: dict[str, float],
) -> Measured:
    medians = statistics.median(colds) / 1000, statistics.median(warms) / 1000
    return Measured(over_the_wire(contents), *medians, answer, answers)


def _first(context: BrowserContext, url: str, slowdown: float) -> float:
    """Open a page in a tab of its own, and return when its first answer stood, in milliseconds."""
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
    page.goto(url, timeout=120_000)
    page.wait_for_function("() => globalThis.firstAnswer", timeout=120_000)
    time = float(page.evaluate("() => globalThis.firstAnswer"))
    page.close()
    return time


TYPED = """
from site_src.serving import serve

# What the interpreter is made of has endings of its own, and asks for a looser policy.
serve.TYPES |= {".mjs": "text/javascript", ".wasm": "application/wasm"}
serve.HEADERS.clear()
serve.main()
"""


if __name__ == "__main__":
    main()
