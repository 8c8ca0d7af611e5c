"""Parts of the catalogue in fewer bytes, as a phone gets them.

`lookups.json` says everything in words, for other programs. A phone gets no more than its scripts
read. In a recipe's steps a value that the calculation doesn't name has no name here either, and is
read by how many steps ago it was made, as `~3`. A recipe that does the same in rounds then says the
same in each, which is sent once. `static/js/model/terse.js` gives the names back. A whole number
has no decimals, since JavaScript knows one kind.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

_UNNAMED = re.compile(
    r"(?:sum|product|range|extreme|choose|pick|total|ifentered|refuse)(?:_\d+)?", re.ASCII
)
"""What `site_src/tables/writing.py` calls a step whose value has no name."""

_NAME = re.compile(r"\w+")

_READS = ("of", "at", "value", "gives", "less", "otherwise", "by", "then")
"""Where a step may name a value that it reads; and in `from`, beside the options."""


def terse(part: Mapping[str, Any]) -> dict[str, Any]:
    """Return a part with its lookup's steps in few bytes, and those of all lookups in it.

    >>> add = {"op": "sum", "of": [["x", 1.0]], "plus": 0.5}
    >>> steps = [add | {"as": "sum"}, add | {"as": "twice", "of": [["sum", 2.0]]}]
    >>> [step["of"] for step in terse({"lookup": {"steps": steps}})["lookup"]["steps"]]
    [[['x', 1]], [['~1', 2]]]
    """
    short: dict[str, Any] = _whole(part)
    if "lookup" in part:
        steps = _Recipe(_names({**part["lookup"], "steps": None})).steps(short["lookup"]["steps"])
        short["lookup"] = _read_by_scripts(short["lookup"]) | {"steps": list(steps)}
    if "parts" in part:
        short["parts"] = [terse(each) for each in part["parts"]]
    return short


_UNREAD = ("workings", "filled", "measure", "tolerance", "uncertainty")
"""What pages have in their own text, or what no script reads."""


def _read_by_scripts(lookup: Mapping[str, Any]) -> dict[str, Any]:
    """Return a lookup without what no script reads of it, of its fields and of its answers."""

    def read(value: Any) -> Any:  # noqa: ANN401 - plain data
        if isinstance(value, Mapping):
            return {key: read(each) for key, each in value.items() if key not in _UNREAD}
        return [read(each) for each in value] if isinstance(value, list) else value

    whole = {key: value for key, value in lookup.items() if key not in _UNREAD}
    return whole | {key: read(whole[key]) for key in ("fields", "answers") if key in whole}


def _names(value: object) -> set[str]:
    """Return every name that stands in plain data."""
    if isinstance(value, str):
        return set(_NAME.findall(value))
    inside = value.values() if isinstance(value, Mapping) else value
    return set().union(*map(_names, inside)) if isinstance(inside, Iterable) else set()


class _Recipe:
    """Takes the names out of one recipe's steps, but for those that stand elsewhere as well."""

    def __init__(self, kept: set[str]) -> None:
        self.kept = kept
        self.count = 0
        self.last: Mapping[str, int] = {}
        """The unnamed values that could be read where a list of steps ended."""

    def steps(
        self, steps: Sequence[Mapping[str, Any]], around: Mapping[str, int] | None = None
    ) -> Iterator[dict[str, Any]]:
        """Yield steps in their order; `around` says where the values were made that they can read.

        Those of a list of parts are counted before the list itself.
        """
        made = dict(around or {})
        for step in steps:
            short = dict(step)
            if "steps" in step:
                short["steps"] = list(self.steps(step["steps"], made))
            # What a list of parts gives is read from inside it.
            known = self.last if "steps" in step else made
            short |= {key: self._read(step[key], known) for key in _READS if key in step}
            if "from" in step:
                short["from"] = [[option, self._read(of, known)] for option, of in step["from"]]
            if _UNNAMED.fullmatch(step["as"]) and step["as"] not in self.kept:
                made[step["as"]] = self.count
                short["as"] = ""
            yield short
            self.count += 1
        self.last = made

    def _read(self, value: object, made: Mapping[str, int]) -> object:
        if isinstance(value, list):
            return [self._read(each, made) for each in value]
        if isinstance(value, str) and value in made:
            return f"~{self.count - made[value]}"
        return value


def _whole(value: object) -> Any:  # noqa: ANN401 - as plain as what it is given
    """Return plain data with whole numbers that have no decimals; a zero keeps its sign.

    >>> _whole([2.0, 0.5, -0.0, {"a": 1e300}])
    [2, 0.5, -0.0, {'a': 1e+300}]
    """
    if isinstance(value, Mapping):
        return {key: _whole(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_whole(each) for each in value]
    if isinstance(value, float) and value.is_integer() and abs(value) < _EXACT:
        return value if value == 0.0 and str(value) == "-0.0" else int(value)
    return value


_EXACT = 2**53
"""From here on not every whole number is a number of JavaScript's."""
