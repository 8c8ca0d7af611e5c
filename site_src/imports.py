"""Which of our sources a module rests on: what is kept between builds is kept by these."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from site_src.places import ROOT


def sources_behind(module: str, within: tuple[str, ...]) -> set[Path]:
    """Return the files of a module and of all that is imported behind it.

    Args:
        module: its full name.
        within: beginnings of the names that are followed.
    """
    found: set[Path] = set()
    waiting = [module]
    while waiting:
        path = _file_of(waiting.pop())
        if path is not None and path not in found:
            found.add(path)
            waiting.extend(name for name in _imported(path) if name.startswith(within))
    return found


@cache
def _imported(path: Path) -> tuple[str, ...]:
    """Return the names of the modules that a file imports."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return tuple(name for node in ast.walk(tree) for name in _named(node))


def _named(node: ast.AST) -> Iterator[str]:
    """Yield the modules that a statement imports: of a package, those that it names."""
    if isinstance(node, ast.Import):
        yield from (each.name for each in node.names)
    elif isinstance(node, ast.ImportFrom) and node.module:
        for each in node.names:
            inside = f"{node.module}.{each.name}"
            yield inside if _file_of(inside) else node.module


def _file_of(module: str) -> Path | None:
    """Return a module's file; None for what is no module of ours."""
    path = ROOT.joinpath(*module.split("."))
    files = (path.with_suffix(".py"), path / "__init__.py")
    return next((each for each in files if each.is_file()), None)
