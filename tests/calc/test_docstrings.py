"""Every public function says what it takes and gives, in units that a program can read."""

from __future__ import annotations

import inspect
import pkgutil
import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from types import ModuleType

import pint
import pytest

import calc

REGISTRY = pint.UnitRegistry()

# The range check takes names and limits, not quantities.
NOT_ENGINEERING = {"calc.domain"}

SECTION = re.compile(r"^(Args|Returns|Raises|Source|Note):", re.MULTILINE)
ARGUMENT = re.compile(r"^    (\w+) \[([^\]]+)\]: \S", re.MULTILINE)
ARGUMENT_WITHOUT_UNIT = re.compile(r"^    (\w+): ", re.MULTILINE)
CHECK = re.compile(r"\b(require|DomainError)\(")
RESULT = re.compile(r"\A\s+\[([^\]]+)\]: \S")


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

    def arguments(self) -> list[tuple[str, str]]:
        return ARGUMENT.findall(self.sections.get("Args", ""))

    def result_unit(self) -> str:
        match = RESULT.match(self.sections.get("Returns", ""))
        assert match, "Returns: must start with a unit in brackets"
        return match.group(1)


def modules() -> list[ModuleType]:
    names = [info.name for info in pkgutil.iter_modules(calc.__path__, "calc.")]
    return [import_module(name) for name in names if name not in NOT_ENGINEERING]


def public_functions() -> list[Callable[..., object]]:
    return [
        function
        for module in modules()
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and function.__module__ == module.__name__
    ]


def require_units(parts: Parts) -> None:
    for unit in [unit for _, unit in parts.arguments()] + [parts.result_unit()]:
        REGISTRY.parse_units(unit)


def title(function: Callable[..., object]) -> str:
    return f"{function.__module__}.{function.__name__}"


every_function = pytest.mark.parametrize("function", public_functions(), ids=title)


def test_there_are_functions_to_check():
    assert len(public_functions()) > 20


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.__name__)
def test_module_says_what_it_covers(module):
    assert module.__doc__
    assert len(module.__doc__.splitlines()) > 1, "say where the model stops as well"


@every_function
def test_every_parameter_is_described_in_order_with_its_unit(function):
    text = inspect.getdoc(function) or ""
    described = [name for name, _ in Parts.of(text).arguments()]
    assert described == list(inspect.signature(function).parameters)


@every_function
def test_no_parameter_is_described_without_a_unit(function):
    arguments = Parts.of(inspect.getdoc(function) or "").sections.get("Args", "")
    assert ARGUMENT_WITHOUT_UNIT.findall(arguments) == []


@every_function
def test_units_can_be_parsed(function):
    require_units(Parts.of(inspect.getdoc(function) or ""))


@every_function
def test_there_is_an_example(function):
    assert ">>> " in (inspect.getdoc(function) or "")


@every_function
def test_the_source_is_named(function):
    source = Parts.of(inspect.getdoc(function) or "").sections.get("Source", "")
    assert source.strip()


@every_function
def test_a_range_check_is_announced(function):
    body = inspect.getsource(function).split('"""')[-1]
    raises = Parts.of(inspect.getdoc(function) or "").sections.get("Raises", "")
    if CHECK.search(body):
        assert "DomainError" in raises


@pytest.mark.parametrize(
    "broken",
    [
        pytest.param(
            "Args:\n    v [furlong_per_jiffy]: speed.\nReturns:\n    [m]: way.", id="unit"
        ),
        pytest.param("Args:\n    v [m/s]: speed.\nReturns:\n    the way in m.", id="result"),
        pytest.param("Args:\n    v [m/s]: speed.\n", id="no result"),
    ],
)
def test_the_grammar_refuses(broken):
    parts = Parts.of(broken)
    with pytest.raises((AssertionError, pint.UndefinedUnitError)):
        require_units(parts)


def test_the_grammar_notices_a_parameter_without_a_unit():
    parts = Parts.of("Args:\n    v: speed.\n    t [s]: time.\n")
    assert parts.arguments() == [("t", "s")]
    assert ARGUMENT_WITHOUT_UNIT.findall(parts.sections["Args"]) == ["v"]
