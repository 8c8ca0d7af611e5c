"""The rules of the working mode: what is asked for next, whatever is tapped."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.node import needs_node
from tests.site.node_checks import names_in, run_checks

CHECKS = Path(__file__).with_name("progress_checks.mjs")
SCRIPTS = Path(__file__).parents[2] / "site_src" / "static" / "js"
NAMES = names_in(CHECKS)

pytestmark = needs_node


@pytest.fixture(scope="module")
def results() -> dict[str, str]:
    return run_checks(CHECKS, SCRIPTS)


@pytest.mark.parametrize("name", NAMES)
def test_working(name: str, results: dict[str, str]) -> None:
    assert results[name] == ""


def test_no_check_is_left_out(results: dict[str, str]) -> None:
    assert sorted(results) == sorted(NAMES)
    assert len(NAMES) > 15
