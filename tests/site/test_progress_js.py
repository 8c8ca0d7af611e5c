"""The rules of the working mode: what is asked for next, whatever is tapped."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

CHECKS = Path(__file__).with_name("progress_checks.mjs")
SCRIPTS = Path(__file__).parents[2] / "site_src" / "static" / "js"
NAMES = re.findall(r'^check\(\s*"(.+?)",', CHECKS.read_text(encoding="utf-8"), re.MULTILINE)

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="Node is not on this machine")


@pytest.fixture(scope="module")
def results() -> dict[str, str]:
    done = subprocess.run(
        ["node", str(CHECKS), str(SCRIPTS)], check=True, capture_output=True, text=True, timeout=120
    )
    found: dict[str, str] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_working(name: str, results: dict[str, str]) -> None:
    assert results[name] == ""


def test_no_check_is_left_out(results: dict[str, str]) -> None:
    assert sorted(results) == sorted(NAMES)
    assert len(NAMES) > 15
