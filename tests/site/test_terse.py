"""What a phone makes of a part of the catalogue is the lookup as `lookups.json` tells it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from site_src.publish.terse import terse
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"

pytestmark = needs_node


@pytest.fixture(scope="module")
def read(site: Path) -> dict[str, dict[str, Any]]:
    """Every lookup as the phone's own script reads it out of its part."""
    parts = site / "static" / "lookups"
    found: dict[str, dict[str, Any]] = told_by(HERE / "terse_all.mjs", SCRIPTS, parts)
    return found


UNREAD = {"measure", "filled", "tolerance", "uncertainty"}
"""What no script of a page reads of a field or an answer."""


def _read(whole: Any) -> Any:
    """What a phone is sent of a field or an answer."""
    if isinstance(whole, dict):
        return {key: _read(each) for key, each in whole.items() if key not in UNREAD}
    return [_read(each) for each in whole] if isinstance(whole, list) else whole


def _differences(whole: Any, short: Any, renamed: dict[str, str]) -> int:
    """Count where two lookups differ; names of unnamed steps may, each always in one way."""
    if isinstance(whole, dict) and isinstance(short, dict) and list(whole) == list(short):
        known = renamed
        if "steps" in whole:
            # What is made inside a list of parts may have a name that is in use outside.
            known = dict(renamed)
            wrong = _steps(whole["steps"], short["steps"], known)
        else:
            wrong = 0
        rest = [key for key in whole if key != "steps"]
        return wrong + sum(_differences(whole[key], short[key], known) for key in rest)
    if isinstance(whole, list) and isinstance(short, list) and len(whole) == len(short):
        return sum(_differences(a, b, renamed) for a, b in zip(whole, short, strict=True))
    if isinstance(short, str) and short.startswith("~"):
        return int(renamed.get(whole) != short)
    return int(whole != short)


def _steps(whole: list[Any], short: list[Any], renamed: dict[str, str]) -> int:
    """Count where two lists of steps differ, and take down the names that they make."""
    wrong = abs(len(whole) - len(short))
    for a, b in zip(whole, short, strict=False):
        name = {key: each for key, each in a.items() if key != "as"}
        wrong += _differences(name, {k: v for k, v in b.items() if k != "as"}, renamed)
        if b["as"].startswith("~"):
            renamed[a["as"]] = b["as"]
        else:
            wrong += a["as"] != b["as"]
    return wrong


def test_what_the_phone_reads_is_the_lookup_that_the_catalogue_tells(
    read: dict[str, dict[str, Any]], catalogue: dict[str, Any]
) -> None:
    told = {each["key"]: each for each in catalogue["lookups"]}
    assert set(read) == set(told)
    for key, lookup in read.items():
        whole = {part: told[key][part] for part in lookup}
        whole |= {part: _read(whole[part]) for part in ("fields", "answers")}
        assert "steps" in whole
        assert "measured" not in lookup
        assert _differences(whole, lookup, {}) == 0, key


def test_every_unnamed_step_has_a_name_of_its_own(read: dict[str, dict[str, Any]]) -> None:
    def names(steps: list[dict[str, Any]]) -> list[str]:
        return [name for s in steps for name in (*names(s.get("steps", [])), s["as"])]

    for key, lookup in read.items():
        unnamed = [name for name in names(lookup["steps"]) if name.startswith("~")]
        assert len(unnamed) == len(set(unnamed)), key
        assert all(names(lookup["steps"])), key


def test_a_step_keeps_its_name_if_anything_else_says_it() -> None:
    step = {"op": "sum", "as": "sum", "of": [["x", 1.0]], "plus": 0.0}
    answer = {"symbol": "sum"}
    for lookup, name in (({}, ""), ({"answers": [answer]}, "sum"), ({"filled": "{sum}"}, "sum")):
        (short,) = terse({"lookup": {**lookup, "steps": [step]}})["lookup"]["steps"]
        assert short["as"] == name
