"""The documents name files and commands that exist."""

from __future__ import annotations

import re

import pytest

from tests.conftest import ROOT

DOCUMENTS = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "LOOKUPS.md"]

# Made by a command, or stands for any name.
MADE = {"dist", ".venv", ".authority", ".cache"}
ANY = re.compile(r"NAME|KEY")


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_path_named_is_there(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    named = set(re.findall(r"`([\w./-]+/[\w./-]*|[\w-]+\.(?:py|js|md|toml))`", text))
    starts = [ROOT, ROOT / "site_src", ROOT / "site_src" / "static" / "js"]
    missing = [
        name
        for name in sorted(named)
        if name.strip("/").split("/")[0] not in MADE
        and not ANY.search(name)
        and not any((start / name).exists() for start in starts)
    ]
    assert not missing


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_command_named_is_one(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    for command in re.findall(r"build\.py ([a-z]+)", text):
        assert command in ("serve", "build", "test", "lock")
    for option in re.findall(r"(?<![\w-])--[a-z]+", text):
        assert option in ("--at", "--lan", "--port", "--against")


def test_the_map_names_every_room_and_every_module_that_is_in_none() -> None:
    house = ROOT / "site_src"
    rooms = [f"{path.name}/" for path in house.iterdir() if path.is_dir() and path.name[0] != "_"]
    scripts = house / "static" / "js"
    rooms += [f"{path.name}/" for path in scripts.iterdir() if path.is_dir()]
    rooms += [path.name for path in (scripts / "pages").iterdir()]
    modules = [path.name for path in house.glob("[!_]*.py")]
    tests = [f"tests/{path.name}" for path in (ROOT / "tests").iterdir() if path.is_dir()]
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    plan = text.split("## The map")[1].split("\n## ")[0]
    named = [name for name in (*rooms, *modules, *tests) if "__pycache__" not in name]
    assert named
    assert [name for name in named if name not in plan] == []
