"""Where in a TOML file an entry is: its way in words, and its line."""

from __future__ import annotations

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
    """
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
