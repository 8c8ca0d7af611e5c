"""Checks written in JavaScript, run in Node: what each found, by its name."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path


def names_in(checks: Path) -> list[str]:
    """Return the names of the checks that a file holds."""
    return re.findall(r'^check\(\s*"(.+?)",', checks.read_text(encoding="utf-8"), re.MULTILINE)


def run_checks(checks: Path, *arguments: object) -> dict[str, str]:
    """Run a file of checks; a check that passed found nothing."""
    done = subprocess.run(
        ["node", str(checks), *map(str, arguments)],
        check=True,
        capture_output=True,
        text=True,
        timeout=120,
    )
    found: dict[str, str] = json.loads(done.stdout)
    return found
