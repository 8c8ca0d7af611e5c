"""Reads the docstrings of `calc`: arguments, units, ranges, and what the example calls.

The grammar is fixed, so that tests can hold the docstrings to the code.
"""

from __future__ import annotations

import doctest
import inspect
import math
import pkgutil
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Any

import calc

# The range check takes names and limits, not quantities.
NOT_ENGINEERING = {"calc.domain"}

SECTION = re.compile(r"^(Args|Returns|Raises|Source|Note):", re.MULTILINE)
ARGUMENT = re.compile(r"^    (\w+) \[([^\]]+)\]: (\S.*(?:\n        .*)*)", re.MULTILINE)
ARGUMENT_WITHOUT_UNIT = re.compile(r"^    (\w+): ", re.MULTILINE)
RESULT = re.compile(r"\A\s+\[([^\]]+)\]: \S")

# "0 to 1", "-π to π", "1e-6 to 2e-3", "0 or more": a clause of its own, the first one counts.
END = r"-?(?:\d+(?:\.\d+)?(?:e-?\d+)?π?|π)(?:/\d+)?"
RANGE = re.compile(rf"(?:^|[,;:] )({END}) (?:to ({END})|(or more))(?=[,;:] | \(|\.?$|\. )")
UNCHECKED = re.compile(r"not checked: \S")
RELATIVE = re.compile(r"limited by `\w+`")


@dataclass(frozen=True)
class Described:
    """One line of Args: the argument's name, its unit, and what is said of it."""

    name: str
    unit: str
    words: str

    def stated(self) -> tuple[float, float] | None:
        """The range that the line states, if it states one."""
        match = RANGE.search(" ".join(self.words.split()))
        if match is None:
            return None
        low, high, unlimited = match.groups()
        return number(low), math.inf if unlimited else number(high)

    def agrees_with(self, enforced: tuple[float, float] | None) -> bool:
        """Whether the line says what is enforced: a range, a limit by another argument, or none."""
        words = " ".join(self.words.split())
        if self.stated() is not None:
            return self.stated() == enforced
        return bool((UNCHECKED if enforced is None else RELATIVE).search(words))


def number(text: str) -> float:
    """Number of one end of a range; a whole multiple or a fraction of π is one too."""
    sign, text = (-1.0, text[1:]) if text.startswith("-") else (1.0, text)
    over, _, under = text.partition("/")
    factor = float(over.removesuffix("π") or 1.0) * (math.pi if over.endswith("π") else 1.0)
    return sign * factor / float(under or 1.0)


@dataclass(frozen=True)
class Parts:
    """The sections of one docstring by title."""

    sections: dict[str, str]

    @classmethod
    def of(cls, text: str) -> Parts:
        starts = list(SECTION.finditer(text))
        ends = [start.start() for start in starts[1:]] + [len(text)]
        return cls(
            {
                start.group(1): text[start.end() : end]
                for start, end in zip(starts, ends, strict=True)
            }
        )

    def arguments(self) -> list[Described]:
        found = ARGUMENT.findall(self.sections.get("Args", ""))
        return [Described(*parts) for parts in found]

    def result_unit(self) -> str:
        match = RESULT.match(self.sections.get("Returns", ""))
        assert match, "Returns: must start with a unit in brackets"
        return match.group(1)


def modules() -> list[ModuleType]:
    names = [info.name for info in pkgutil.iter_modules(calc.__path__, "calc.")]
    return [import_module(name) for name in names if name not in NOT_ENGINEERING]


Function = Callable[..., object]


def public_functions() -> list[Function]:
    return [
        function
        for module in modules()
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and function.__module__ == module.__name__
    ]


def parts_of(function: Function) -> Parts:
    return Parts.of(inspect.getdoc(function) or "")


def title(function: Function) -> str:
    return f"{function.__module__}.{function.__name__}"


def offenders(wrong: Callable[[Function], object]) -> list[str]:
    """Every function of which something is wrong, and what it is."""
    found = ((title(function), wrong(function)) for function in public_functions())
    return [f"{name}: {what}" for name, what in found if what]


@cache
def examples(function: Function) -> tuple[dict[str, Any], ...]:
    """The arguments of each call that a function's own example makes."""
    signature = inspect.signature(function)
    calls: list[dict[str, Any]] = []

    def noted(*args: object, **kwargs: object) -> object:
        bound = signature.bind(*args, **kwargs)
        bound.apply_defaults()
        calls.append(bound.arguments)
        return function(*args, **kwargs)

    names = {**vars(inspect.getmodule(function)), function.__name__: noted}
    for example in doctest.DocTestParser().get_examples(inspect.getdoc(function) or ""):
        exec(compile(example.source, title(function), "exec"), names)
    return tuple(calls)
