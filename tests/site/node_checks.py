"""Checks written in JavaScript, run in Node: what each found, by its name."""

from __future__ import annotations

import re
from pathlib import Path

from tests.node import told_by


def names_in(checks: Path) -> list[str]:
    """Return the names of the checks that a file holds."""
    return re.findall(r'^check\(\s*"(.+?)",', checks.read_text(encoding="utf-8"), re.MULTILINE)


def run_checks(checks: Path, *arguments: object) -> dict[str, str]:
    """Run a file of checks; a check that passed found nothing."""
    found: dict[str, str] = told_by(checks, *arguments)
    return found
