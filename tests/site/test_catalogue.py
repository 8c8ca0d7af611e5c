"""lookups.json and the table files hold all that another program needs to evaluate a lookup."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from site_src.lookups import all_recipes
from site_src.publish.catalogue import COMMON, EVERY, PARTS, part_names


def _reject(name: str) -> None:
    raise AssertionError(f"{name} is no JSON")


def test_it_is_json_without_nan_or_infinity(site: Path) -> None:
    json.loads((site / "lookups.json").read_text(encoding="utf-8"), parse_constant=_reject)


def test_it_holds_every_lookup_with_its_words_and_its_measured_errors(
    catalogue: dict[str, Any],
) -> None:
    assert [entry["key"] for entry in catalogue["lookups"]] == [x.key for x in all_recipes()]
    for entry in catalogue["lookups"]:
        for part in ("fields", "steps", "answers", "tables", "cautions", "sources", "leaves_out"):
            assert part in entry
        for answer in entry["answers"]:
            found = entry["measured"][answer["key"]]
            assert 0 <= found["error"] <= answer["tolerance"]
            assert found["points"] > 0


def test_the_tables_file_holds_the_grids_that_python_uses(
    site: Path, catalogue: dict[str, Any]
) -> None:
    used = {name for entry in catalogue["lookups"] for name in entry["tables"]}
    assert used == set(catalogue["tables"])
    for lookup in all_recipes():
        for name, grid in lookup.grids.items():
            entry = catalogue["tables"][name]
            content = (site / entry["file"]).read_bytes()
            content = content[entry["offset"] : entry["offset"] + entry["bytes"]]
            numbers = np.frombuffer(content, dtype=f"<{entry['numbers']}").astype(np.float64)
            assert np.array_equal(numbers, grid.numbers)
            assert [axis["knots"] for axis in entry["axes"]] == [list(a.knots) for a in grid.axes]


def test_the_tables_file_ends_with_the_version_and_holds_nothing_else(
    site: Path, catalogue: dict[str, Any]
) -> None:
    version = catalogue["version"]
    (name,) = {entry["file"] for entry in catalogue["tables"].values()}
    content = (site / name).read_bytes()
    assert content.endswith(version.encode())
    numbers = sum(entry["bytes"] for entry in catalogue["tables"].values())
    assert len(content) == numbers + len(version)


def test_every_unit_that_a_field_or_an_answer_needs_is_listed(catalogue: dict[str, Any]) -> None:
    units = {key: {u["key"] for u in q["units"]} for key, q in catalogue["quantities"].items()}
    for entry in catalogue["lookups"]:
        for answer in entry["answers"]:
            assert set(answer["decimals"]) <= units[answer["quantity"]]
        for field in entry["fields"]:
            if field["kind"] == "number":
                assert field["unit"] in units[field["quantity"]]


def test_an_entry_in_the_catalogue_names_a_table_once(catalogue: dict[str, Any]) -> None:
    # Two lookups may share a table; two different tables may not share a name.
    seen: dict[str, Any] = {}
    for lookup in all_recipes():
        for spec in lookup.tables:
            assert seen.setdefault(spec.name, spec) == spec


def test_every_lookup_is_in_one_part_and_in_that_of_all(site: Path) -> None:
    keys = [each.key for each in all_recipes()]
    grouped = [key for held in PARTS.values() for key in held]
    assert set(grouped) <= set(keys)
    read = {path.stem: json.loads(path.read_text()) for path in site.glob("static/lookups/*.json")}
    assert set(read) == set(part_names(keys))
    held = {name: [each["lookup"]["key"] for each in part["parts"]] for name, part in read.items()}
    assert held.pop(EVERY) == keys
    assert sorted(key for each in held.values() for key in each) == sorted(keys)
    for name, own in held.items():
        assert read[name]["held"] == own
        for each in own:
            assert read[COMMON]["part_of"][each] == name
            assert read[EVERY]["part_of"][each] == EVERY
