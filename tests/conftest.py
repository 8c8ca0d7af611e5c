"""What tests of several folders share: the built site."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from site_src.checks import BUILT

# Each law is tried on this many examples, and none has a deadline: times vary between machines.
settings.register_profile("laws", max_examples=50, deadline=None, derandomize=True)
settings.load_profile("laws")

ROOT = Path(__file__).resolve().parent.parent


def build_site(target: Path, **surroundings: str) -> Path:
    """Build the site in a process of its own, as the commands do."""
    subprocess.run(
        [sys.executable, "-m", "site_src.publish.freeze", str(target)],
        cwd=ROOT,
        env=os.environ | {"PYTHONHASHSEED": "0"} | surroundings,
        check=True,
    )
    return target


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built site. Tests that change it work on a copy."""
    if built := os.environ.get(BUILT):
        return Path(built)
    return build_site(tmp_path_factory.mktemp("site") / "dist")


@pytest.fixture(scope="session")
def catalogue(site: Path) -> dict[str, Any]:
    """The built lookups.json."""
    loaded: dict[str, Any] = json.loads((site / "lookups.json").read_text(encoding="utf-8"))
    return loaded


@pytest.fixture(scope="session")
def pages(site: Path) -> list[str]:
    """The address of every page, from the root: "" is home, "boost/" a lookup.

    Of the pages of formulas, which are alike and hold no script of their own, one is there.
    """
    found = sorted(path.parent.relative_to(site).as_posix() for path in site.rglob("index.html"))
    every = ["" if folder == "." else f"{folder}/" for folder in found]
    return [each for each in every if each == "torque/why/" or not each.endswith("/why/")]


@pytest.fixture(scope="session")
def coolprop() -> Any:
    """Properties of real fluids: an independent reference, which takes seconds to load."""
    from CoolProp import CoolProp

    return CoolProp


def pytest_collection_finish(session: pytest.Session) -> None:
    """Hold collection to looking at tests: tables are compiled by the tests that need them."""
    from site_src.tables.compiler import compiled

    if compiled.cache_info().misses:
        raise pytest.UsageError("a table was compiled while tests were collected")
