"""Where in a TOML or JSON file an entry is: its way in words, and its line."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

Step = str | int
"""A key, or the place of a row in a list."""


def in_words(steps: Sequence[Step]) -> str:
    """Write the way to an entry, rows counted from 1.

    >>> in_words(("pulley", 2, "slot", "tight_mm"))
    'pulley 3.slot.tight_mm'
    """
    parts = (f" {step + 1}" if isinstance(step, int) else f".{step}" for step in steps)
    return "".join(parts).strip(".")


def line_of(text: str, steps: Sequence[Step]) -> int | None:
    r"""Return the line on which an entry starts, or the last table or row on the way to it.

    The parser finds it: the first line up to which the text holds the entry, once a list or text
    that is still open there is closed. None if not even the first step is in the file.

    >>> line_of("[belt]\nribs = 8\n", ("belt", "ribs"))
    2
    >>> line_of('{\n"belt": {\n"ribs": 8}}', ("belt", "ribs"))
    3
    """
    if text.lstrip().startswith("{"):
        return _line_in_json(text, steps)
    there = _steps_there(tomllib.loads(text), steps)
    lines = text.split("\n") if there else []
    for count in range(1, len(lines) + 1):
        entries = _up_to("\n".join(lines[:count]))
        if entries is not None and _steps_there(entries, steps) == there:
            return count
    return None


def _up_to(text: str) -> Mapping[str, Any] | None:
    """Return what the first part of a file holds, or None if it can't be closed."""
    for closing in ("", "]", "]]", '"""'):
        try:
            return tomllib.loads(text + closing)
        except tomllib.TOMLDecodeError:
            continue
    return None


def _steps_there(entries: Mapping[str, Any], steps: Sequence[Step]) -> int:
    """Return how many of the steps lead to something."""
    inner: Any = entries
    for taken, step in enumerate(steps):
        keyed = isinstance(inner, dict) and step in inner
        listed = isinstance(inner, list) and isinstance(step, int) and step < len(inner)
        if not keyed and not listed:
            return taken
        inner = inner[step]
    return len(steps)


# --- JSON ------------------------------------------------------------------------------------

_TOKEN = re.compile(r'"(?:[^"\\\n]|\\.)*"|[{}\[\],]')


class JsonError(ValueError):
    """A text that is no JSON object; the message names the line."""


def parse_json(text: str) -> Mapping[str, Any]:
    """Return the object that a JSON text holds.

    Raises:
        JsonError: it is none, or holds what JSON does not: NaN, Infinity.

    >>> parse_json('{"ribs": 8}')
    {'ribs': 8}
    """

    def refuse(constant: str) -> float:
        raise JsonError(f"somewhere: {constant}")

    try:
        found = json.loads(text, parse_constant=refuse)
    except json.JSONDecodeError as error:
        raise JsonError(f"line {error.lineno}") from error
    except RecursionError as error:
        raise JsonError("line 1") from error
    if not isinstance(found, dict):
        raise JsonError("line 1")
    return found


def _line_in_json(text: str, steps: Sequence[Step]) -> int | None:
    """Return the line on which an entry of a JSON text starts, or the last step on the way."""
    way: list[Step] = []
    line, deepest = None, 0
    key_next = False
    for token in _TOKEN.finditer(text):
        mark = token[0]
        if mark in "{[":
            way.append("" if mark == "{" else 0)
            key_next = mark == "{"
        elif mark in "}]":
            way.pop()
            key_next = False
        elif mark == ",":
            key_next = isinstance(way[-1], str)
            if isinstance(way[-1], int):
                way[-1] += 1
        elif key_next:
            way[-1], key_next = json.loads(mark), False
        reached = _alike(way, steps)
        if reached > deepest:
            deepest, line = reached, text.count("\n", 0, token.start()) + 1
    return line


def _alike(way: Sequence[Step], steps: Sequence[Step]) -> int:
    """Return how many steps a way has come, or 0 if it leads elsewhere."""
    return len(way) if list(way) == list(steps[: len(way)]) else 0
