"""What outside readers are told of recipes is all that there is, and nothing else."""

from __future__ import annotations

import re
from typing import get_args

from site_src.lookups import all_lookups
from site_src.tables import recipe
from tests.conftest import ROOT

PAGE = (ROOT / "LOOKUPS.md").read_text(encoding="utf-8")


def ops(steps: list[dict[str, object]]) -> set[str]:
    found = {str(step["op"]) for step in steps}
    for step in steps:
        inside = step.get("steps", [])
        assert isinstance(inside, list)
        found |= ops(inside)
    return found


def test_every_op_in_use_is_told_of_and_every_op_told_of_is_known() -> None:
    told = set(re.findall(r"^\| ((?:`\w+`(?:, )?)+) \| ", PAGE.split("| op |")[1], re.MULTILINE))
    named = {name for cell in told for name in re.findall(r"`(\w+)`", cell)}
    used = {op for lookup in all_lookups() for op in ops([s.spec() for s in lookup.steps])}
    known = {kind.__name__.lower() for kind in get_args(recipe.Step)}
    assert used <= named
    assert {name.replace("_", "") for name in named} - {"least", "greatest"} == known - {"extreme"}


def test_every_key_of_a_step_is_told_of() -> None:
    keys = {key for lookup in all_lookups() for step in lookup.steps for key in step.spec()}
    for key in keys - {"op"}:
        assert f"`{key}`" in PAGE, key
