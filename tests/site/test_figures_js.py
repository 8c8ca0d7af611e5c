"""The rules of makers' figures: which one is meant, what it feeds, what earlier versions kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.node import needs_node
from tests.site.node_checks import names_in, run_checks

CHECKS = Path(__file__).with_name("figures_checks.mjs")
SCRIPTS = Path(__file__).parents[2] / "site_src" / "static" / "js"
BEFORE = Path(__file__).parents[1] / "browser" / "kept_before.json"
NAMES = names_in(CHECKS)

pytestmark = needs_node


@pytest.fixture(scope="module")
def results() -> dict[str, str]:
    return run_checks(CHECKS, SCRIPTS, BEFORE)


@pytest.mark.parametrize("name", NAMES)
def test_figures(name: str, results: dict[str, str]) -> None:
    assert results[name] == ""


def test_no_check_is_left_out(results: dict[str, str]) -> None:
    assert sorted(results) == sorted(NAMES)
    assert len(NAMES) > 10
