"""The test command: finds or installs a browser, then runs every check and says which failed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from subprocess import PIPE, STDOUT

from site_src.places import CACHE, LOCKS, ROOT

BROWSER = "BAY_CHROMIUM"
"""Environment variable with the path of the Chromium that the browser tests run."""

BUILT = "BAY_SITE"
"""Environment variable with the folder of a built site that the tests may read."""

CHROMIUMS = ("chromium-headless-shell", "chromium", "chromium-browser")
"""Programs that do, the first that is there: the one that never opens a window takes half of the
time. The first two are Debian packages of the same names."""

NODE = CACHE / "node"
_PROGRAMS = NODE / "node_modules" / ".bin"

TYPESCRIPT = _PROGRAMS / "tsc"
"""The compiler that checks the types which the scripts' comments state."""

ESLINT, PRETTIER = _PROGRAMS / "eslint", _PROGRAMS / "prettier"
"""The linter of the scripts, and their formatter; what they ask for is in eslint.config.mjs and
.prettierrc.json."""

SCRIPTS = ("site_src/**/*.js", "tests/**/*.mjs", "*.mjs")

SOURCES = ("build.py", "benchmarks", "calc", "mutants", "pictures", "site_src", "tests")


def run_all(pytest_arguments: Sequence[str]) -> int:
    """Run every check, the tests last; return 0 if all of them passed."""
    # Servers are started hundreds of times: each would compile our sources anew.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ[BROWSER] = chromium()
    os.environ[BUILT] = str(CACHE / "site")
    _need_certutil()
    _need_node()
    _need_npm_packages()
    python = sys.executable
    style = [
        ("ruff check", [python, "-m", "ruff", "check", *SOURCES]),
        ("ruff format", [python, "-m", "ruff", "format", "--check", *SOURCES]),
        ("mypy", [python, "-m", "mypy"]),
        *_script_checks(),
    ]
    # Once, for all processes of the tests, which find the proofs kept.
    build = [("build", [python, "-m", "site_src.publish.freeze", str(os.environ[BUILT])])]
    print("\nChecking style and types, and building the site beside it …", flush=True)
    with ThreadPoolExecutor() as side_by_side:
        both = side_by_side.map(_failing, (style, build))
        failed = [name for each in both for name in each]
    print("\n--- pytest", flush=True)
    tests = [python, "-m", "pytest", *_side_by_side(), *pytest_arguments]
    if subprocess.run(tests, cwd=ROOT, check=False).returncode:
        failed.append("pytest")
    if failed:
        print(f"\nFailed: {', '.join(failed)}")
    return 1 if failed else 0


def _failing(checks: Sequence[tuple[str, list[str]]]) -> list[str]:
    """Run checks one after the other, print what each says; return the names of those that fail."""
    failed = []
    for name, command in checks:
        done = subprocess.run(command, cwd=ROOT, check=False, stdout=PIPE, stderr=STDOUT, text=True)
        print(f"\n--- {name}\n{done.stdout.strip()}", flush=True)
        if done.returncode:
            failed.append(name)
    return failed


def _side_by_side() -> list[str]:
    """Return the options that run the tests in several processes, one more than processors.

    Tests of a phone wait for it much of their time.
    """
    return ["-n", str(min((os.cpu_count() or 1) + 1, 5)), "--dist", "worksteal"]


def _script_checks() -> list[tuple[str, list[str]]]:
    """Return the checks of the scripts' style, where they can be run."""
    if not (ESLINT.exists() and PRETTIER.exists()):
        print("\nThe scripts are not linted: that takes Node with npm.", flush=True)
        return []
    return [
        ("eslint", [str(ESLINT), "--max-warnings=0", *SCRIPTS]),
        ("prettier", [str(PRETTIER), "--check", "--log-level=warn", *SCRIPTS]),
    ]


def chromium() -> str:
    """Return the path of a Chromium; install one, if there is none.

    Raises:
        SystemExit: there is none, and none can be installed here; the message says what to do.
    """
    found = os.environ.get(BROWSER) or on_path() or _playwrights_own()
    for package in CHROMIUMS[:2]:
        if not found and _can_install():
            _apt_install(package)
            found = on_path()
    if not found:
        command = [sys.executable, "-m", "playwright", "install", "--with-deps", "chromium"]
        subprocess.run(command, check=False)
        found = _playwrights_own()
    if not found or not Path(found).is_file():
        raise SystemExit(
            "The browser tests need a Chromium, and none could be found or installed. Install one "
            f"by hand and set {BROWSER} to the path of its program."
        )
    return found


def _playwrights_own() -> str | None:
    """Return Playwright's own build, if it has been downloaded."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - belongs to the test extras

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).is_file() else None


def on_path() -> str | None:
    """Return the system's Chromium, if there is one."""
    return next(filter(None, map(shutil.which, CHROMIUMS)), None)


def _need_certutil() -> None:
    """Install certutil where we may: without it the tests of HTTPS on a network are skipped."""
    if not shutil.which("certutil") and _can_install():
        _apt_install("libnss3-tools")


def _need_node() -> None:
    """Let the tests use the Node that comes with Playwright, where the system has none."""
    import playwright  # noqa: PLC0415 - belongs to the test extras

    if not shutil.which("node"):
        os.environ["PATH"] += os.pathsep + str(Path(playwright.__file__).parent / "driver")


def _need_npm_packages() -> None:
    """Install what checks the scripts, where npm is: without it those checks are left out."""
    npm = shutil.which("npm")
    lock, done = LOCKS / "package-lock.json", NODE / "installed.json"
    if not npm or (done.exists() and done.read_bytes() == lock.read_bytes()):
        return
    NODE.mkdir(parents=True, exist_ok=True)
    for name in ("package.json", lock.name):
        shutil.copyfile(LOCKS / name, NODE / name)
    install = [npm, "ci", "--silent", "--no-fund", "--no-audit", "--prefix", str(NODE)]
    if subprocess.run(install, check=False).returncode == 0:
        shutil.copyfile(lock, done)


def _can_install() -> bool:
    """Say whether this is a Debian-like system and we are its root."""
    return bool(shutil.which("apt-get")) and hasattr(os, "geteuid") and os.geteuid() == 0


def _apt_install(package: str) -> None:
    """Install a system package, if it can be had."""
    print(f"Installing {package}", flush=True)
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    install = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", package]
    for command in (["apt-get", "update", "-qq"], install):
        subprocess.run(command, env=environment, check=False, stdout=subprocess.DEVNULL)
