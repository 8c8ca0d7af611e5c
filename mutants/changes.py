"""The wrong changes: in Python found in the syntax tree, in JavaScript between its tokens."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path

SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.And: ast.Or,
    ast.Or: ast.And,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}

CALLED_INSTEAD = {
    "minimum": "maximum",
    "maximum": "minimum",
    "min": "max",
    "max": "min",
    "sin": "cos",
    "cos": "sin",
    "any": "all",
    "all": "any",
    "isfinite": "isnan",
    "floor": "ceil",
    "ceil": "floor",
}

SCRIPT_SWAPPED = {
    "+": "-",
    "-": "+",
    "*": "/",
    "/": "*",
    "<": "<=",
    "<=": "<",
    ">": ">=",
    ">=": ">",
    "===": "!==",
    "!==": "===",
    "&&": "||",
    "||": "&&",
}


@dataclass(frozen=True)
class Change:
    """One wrong change: of the `at`-th node of a Python file, or at a place in a script's text."""

    path: Path
    line: int
    at: int

    def made(self) -> tuple[str, str]:
        """Return what is changed, in words, and the file as it then reads."""
        return _in_python(self) if self.path.suffix == ".py" else _in_script(self)


def changes(path: Path) -> Iterator[Change]:
    """Yield every change of a source file."""
    text = path.read_text(encoding="utf-8")
    yield from _of_python(path, text) if path.suffix == ".py" else _of_script(path, text)


# --- Python --------------------------------------------------------------------------------------


def _of_python(path: Path, text: str) -> Iterator[Change]:
    tree = ast.parse(text)
    skipped = {id(node) for node in _passed_over(tree)}
    for at, node in enumerate(ast.walk(tree)):
        if id(node) not in skipped and _change(node):
            yield Change(path, getattr(node, "lineno", 0), at)


def _in_python(change: Change) -> tuple[str, str]:
    tree = ast.parse(change.path.read_text(encoding="utf-8"))
    node = next(islice(ast.walk(tree), change.at, None))
    before = ast.unparse(node)
    change_it = _change(node)
    assert change_it
    change_it()
    return f"{before} → {ast.unparse(node)}", ast.unparse(tree) + "\n"


def _passed_over(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield what no number depends on: annotations, imports, what is said when refusing."""
    for node in ast.walk(tree):
        parts: list[ast.AST | None] = []
        if isinstance(node, ast.Raise | ast.Import | ast.ImportFrom | ast.JoinedStr):
            parts = [node]
        elif isinstance(node, ast.arg | ast.AnnAssign):
            parts = [node.annotation]
        elif isinstance(node, ast.FunctionDef):
            parts = [node.returns, *node.decorator_list]
        for part in filter(None, parts):
            yield from ast.walk(part)


def _change(node: ast.AST) -> Callable[[], None] | None:
    """Return what changes a node in place, if it is of a kind that is changed."""
    name, value = "", None
    match node:
        case ast.BinOp(op=op) | ast.BoolOp(op=op) | ast.AugAssign(op=op) if type(op) in SWAPPED:
            name, value = "op", SWAPPED[type(op)]()
        case ast.Compare(ops=[op, *others]) if type(op) in SWAPPED:
            name, value = "ops", [SWAPPED[type(op)](), *others]
        case ast.UnaryOp(op=ast.USub()):
            name, value = "op", ast.UAdd()
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            name, value = "operand", ast.UnaryOp(ast.Not(), operand)
        case ast.Constant(value=int(number)) if not isinstance(number, bool):
            name, value = "value", number + 1
        case ast.Constant(value=float(number)):
            name, value = "value", number * 1.07 + 1e-3
        case ast.Attribute(attr=called) if called in CALLED_INSTEAD:
            name, value = "attr", CALLED_INSTEAD[called]
        case ast.Name(id=called) if called in CALLED_INSTEAD:
            name, value = "id", CALLED_INSTEAD[called]
    return partial(setattr, node, name, value) if name else None


# --- JavaScript ----------------------------------------------------------------------------------

TOKEN = re.compile(r"(?<=\S) (===|!==|<=|>=|&&|\|\||[-+*/<>]) (?=\S)")


def _of_script(path: Path, text: str) -> Iterator[Change]:
    at = 0
    for number, line in enumerate(text.splitlines(keepends=True), 1):
        if not line.lstrip().startswith(("*", "/", "import", "throw")):
            for found in TOKEN.finditer(line):
                yield Change(path, number, at + found.start(1))
        at += len(line)


def _in_script(change: Change) -> tuple[str, str]:
    text = change.path.read_text(encoding="utf-8")
    before, after = text[: change.at], text[change.at :]
    old, rest = after.split(" ", 1)
    line = text.splitlines()[change.line - 1].strip()
    return f"{line}: {old} → {SCRIPT_SWAPPED[old]}", f"{before}{SCRIPT_SWAPPED[old]} {rest}"
