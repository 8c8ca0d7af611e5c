"""The rules of makers' figures: which one is meant, what it feeds, what earlier versions kept."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

CHECKS = Path(__file__).with_name("figures_checks.mjs")
SCRIPTS = Path(__file__).parents[2] / "site_src" / "static" / "js"
BEFORE = Path(__file__).parents[1] / "browser" / "kept_before.json"
NAMES = re.findall(r'^check\(\s*"(.+?)",', CHECKS.read_text(encoding="utf-8"), re.MULTILINE)

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="Node is not on this machine")


@pytest.fixture(scope="module")
def results() -> dict[str, str]:
    done = subprocess.run(
        ["node", str(CHECKS), str(SCRIPTS), str(BEFORE)],
        check=True,
        capture_output=True,
        text=True,
        timeout=120,
    )
    found: dict[str, str] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_figures(name: str, results: dict[str, str]) -> None:
    assert results[name] == ""


def test_no_check_is_left_out(results: dict[str, str]) -> None:
    assert sorted(results) == sorted(NAMES)
    assert len(NAMES) > 10
