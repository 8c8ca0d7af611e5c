"""Knowledge runs one way: which rooms of the house know which others."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.conftest import ROOT

KNOWS = {
    "calc": set(),
    "tables": {"calc", "imports", "places"},
    "model": {"calc", "tables", "places"},
    "data": {"calc", "model", "places"},
    "holds": {"data"},
    "lookups": {"calc", "data", "model", "tables"},
    "proof": {"imports", "model", "tables", "places"},
    "face": {"calc", "model", "tables"},
    "builds": {"calc", "data", "face", "holds", "lookups", "model", "proof"},
    "pages": {"calc", "builds", "data", "face", "holds", "lookups", "model"},
    "publish": {"builds", "face", "lookups", "model", "pages", "places", "proof", "tables"},
    "serving": {"places", "publish"},
}
"""Each room, and the others that it may import from; what isn't listed, it must not know."""


def room_of(name: str) -> str:
    """Return the room of a module by its dotted name."""
    parts = name.split(".")
    return parts[0] if parts[0] != "site_src" or len(parts) == 1 else parts[1]


def imported(path: Path) -> set[str]:
    """Return the names of our own modules that a file imports."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            whole = node.module == "site_src"
            names |= {f"site_src.{a.name}" for a in node.names} if whole else {node.module}
    return {name for name in names if name.split(".")[0] in ("calc", "site_src")}


@pytest.mark.parametrize("room", KNOWS)
def test_a_room_knows_only_what_it_may(room: str) -> None:
    folder = ROOT / "calc" if room == "calc" else ROOT / "site_src" / room
    files = sorted(folder.rglob("*.py"))
    assert files
    strange = {
        f"{path.relative_to(ROOT)} imports {name}"
        for path in files
        for name in imported(path)
        if room_of(name) not in {room, *KNOWS[room]}
    }
    assert sorted(strange) == []


def test_every_room_is_listed() -> None:
    rooms = {p.parent.name for p in (ROOT / "site_src").glob("*/__init__.py")}
    assert rooms == set(KNOWS) - {"calc"}
