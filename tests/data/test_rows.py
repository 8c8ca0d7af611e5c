"""Every row of every data file says where it is from and how far it may be trusted."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from site_src.data import seals
from site_src.data.reader import MARKS
from tests.conftest import ROOT

FILES = sorted((ROOT / "site_src" / "data").glob("*.toml"))


def rows(table: dict[str, Any], above: dict[str, str]) -> Iterator[dict[str, Any]]:
    """Every innermost table and every row of cells, with the source and mark that hold for it."""
    held = above | {key: table[key] for key in ("source", "mark") if key in table}
    inner = [value for value in table.values() if isinstance(value, dict)]
    for value in table.values():
        if isinstance(value, list):
            inner += [each for each in value if isinstance(each, dict)]
    inner += [dict(zip(table["columns"], row, strict=False)) for row in table.get("rows", [])]
    for each in inner:
        yield from rows(each, held)
    if not inner:
        yield table | held


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_row_has_a_source_and_a_mark_with_a_meaning(path: Any) -> None:
    found = list(rows(tomllib.loads(path.read_text(encoding="utf-8")), {}))
    assert len(found) > 4
    assert [row for row in found if not str(row.get("source", "")).strip()] == []
    assert [row for row in found if row.get("mark") not in MARKS] == []


def test_every_mark_is_in_use_and_explained() -> None:
    texts = "".join(path.read_text(encoding="utf-8") for path in FILES)
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    explained = guide.split("## Add or correct a row of data")[1].split("\n## ")[0]
    for mark in MARKS:
        assert f'"{mark}"' in texts
        assert f"`{mark}`" in explained


def test_no_dash_number_is_listed_twice() -> None:
    numbers = [size.number for size in seals.dash_sizes()]
    assert len(numbers) == len(set(numbers))
