"""What outside readers are told of recipes is all that there is, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, get_args

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


def keys_of(rows: Iterable[dict[str, Any]]) -> set[str]:
    return {key for row in rows for key in row}


def parts_of(catalogue: dict[str, Any]) -> dict[str, set[str]]:
    """Every kind of object in the catalogue but for steps and views, with all keys it has."""
    lookups = catalogue["lookups"]
    outer = [field for lookup in lookups for field in lookup["fields"]]
    fields = [*outer, *(inner for field in outer for inner in field.get("fields", []))]
    answers = [answer for lookup in lookups for answer in lookup["answers"]]
    return {
        "file": set(catalogue),
        "quantity": keys_of(catalogue["quantities"].values()),
        "unit": keys_of(u for q in catalogue["quantities"].values() for u in q["units"]),
        "table": keys_of(catalogue["tables"].values()),
        "truck": keys_of([catalogue["truck"], *catalogue["truck"]["follows"].values()]),
        "makers": keys_of(each for kind in catalogue["makers"] for each in (kind, *kind["picks"])),
        "lookup": keys_of(lookups),
        "field": keys_of(fields),
        "when": keys_of(field["when"] for field in fields if field["when"]),
        "option": keys_of(o for field in fields for o in field.get("options", [])),
        "shelf": keys_of(field["shelf"] for field in fields if field.get("shelf")),
        "answer": keys_of(answers),
        "band": keys_of(answer["band"] for answer in answers if answer["band"]),
        "working": keys_of(w for lookup in lookups for w in lookup["workings"]),
        "measured": keys_of(m for lookup in lookups for m in lookup["measured"].values()),
    }


def test_every_key_of_the_file_is_told_of(catalogue: dict[str, Any]) -> None:
    lacking = {
        part: sorted(key for key in keys if f"`{key}`" not in PAGE)
        for part, keys in parts_of(catalogue).items()
    }
    assert not any(lacking.values()), {part: keys for part, keys in lacking.items() if keys}


def test_a_step_is_of_a_recipe_and_of_nothing_else(catalogue: dict[str, Any]) -> None:
    assert "steps" not in parts_of(catalogue)["field"]
