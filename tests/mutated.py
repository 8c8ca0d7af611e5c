"""Files as a faulty phone, a cut connection or a clumsy hand would leave them: real ones, changed.

The same seed gives the same files, so that one that does harm can be made again.
"""

from __future__ import annotations

import copy
import json
import os
from random import Random
from typing import Any

FUZZ = int(os.environ.get("BAY_FUZZ", "0"))
"""How many files are tried in all; 0 for the few of every day."""

SEED = int(os.environ.get("BAY_FUZZ_SEED", "1"))

HOSTILE: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    0.5,
    1e308,
    -0.0,
    2**53,
    10**400,
    "",
    " ",
    "forty",
    "NaN",
    "1,234",
    "12 furlong",
    "x" * 5000,
    "9" * 400,
    "2026-02-30T99:00:00Z",
    "never",
    "__proto__",
    "constructor",
    "<img src=x onerror='window.ran=1'>",
    "javascript:window.ran=1",
    "\ud7ff\u0000",
    "👩‍🔧",
    [],
    {},
    [[]],
    [None],
    {"__proto__": {"polluted": 1}},
    [0] * 3000,
)

TOKENS = (
    *('"', "'", "\\", "{", "}", "[", "]", "[[", "]]", ",", ":", "=", "#", "\n", "\r", "\t", " "),
    *("\x00", "\ufeff", "\ufffd", "½", "−", "e", "1e999", "nan", "-inf", "0x1F", "true", "null"),
    *('"""', "'''", ";;", ",,", '""', "\\u0000", "\\ud800", "9" * 400, "A" * 5000, "12:61:61"),
)


def text(original: str, chance: Random) -> str:
    """Return a text with a few cuts, doublings, swaps and insertions."""
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        at = chance.randrange(len(original) + 1)
        end = min(len(original), at + chance.choice((1, 1, 2, 5, 20, 200)))
        what = chance.randrange(8)
        if what == 0:
            original = original[:at] + original[end:]
        elif what == 1:
            original = original[:end] + original[at:]
        elif what == 2:
            original = original[:at]
        elif what == 3:
            lines = original.split("\n")
            chance.shuffle(lines)
            original = "\n".join(lines) if len(lines) < 60 else original[at:] + original[:at]
        elif what == 4:
            original = original[:at] + chance.choice(TOKENS) * chance.choice((1, 1, 2, 300))
            original += "" if chance.random() < 0.3 else original[end:]
        else:
            original = original[:at] + chance.choice(TOKENS) + original[end:]
    return original


def data(original: Any, chance: Random) -> Any:
    """Return the data of a file with a few of its values changed, doubled or gone."""
    changed = copy.deepcopy(original)
    for _ in range(chance.choice((1, 1, 2, 3, 8))):
        places = [*_places(changed)]
        holder, key = chance.choice(places)
        what = chance.randrange(6)
        if what == 0:
            del holder[key]
        elif what == 1 and isinstance(holder, list):
            holder.insert(key, copy.deepcopy(holder[chance.randrange(len(holder))]))
        elif what == 2:
            other, name = chance.choice(places)
            holder[key] = copy.deepcopy(other[name])
        elif what == 3 and isinstance(holder, dict):
            holder[chance.choice(("__proto__", "constructor", "x", ""))] = holder.pop(key)
        else:
            holder[key] = copy.deepcopy(chance.choice(HOSTILE))
        if not changed:
            return changed
    return changed


def record(original: Any, chance: Random) -> str:
    """Return a record's file with its values changed, or its letters."""
    if chance.random() < 0.8:
        return json.dumps(data(original, chance))
    return text(json.dumps(original), chance)


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Return every place in some data, as what holds it and under which key."""
    found = []
    waiting = [value]
    while waiting:
        holder = waiting.pop()
        keys = list(holder) if isinstance(holder, dict) else range(len(holder))
        for key in keys:
            found.append((holder, key))
            if isinstance(holder[key], dict | list):
                waiting.append(holder[key])
    return found
