"""Every public function says what it takes and gives, in words that a program can check.

Units are read, ranges are compared with those that the function enforces. Each test walks all of
`calc` and lists what breaks its rule.
"""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from unittest import mock

import pint
import pytest

from calc import hoses
from calc.domain import require
from tests.calc.reading import (
    ARGUMENT_WITHOUT_UNIT,
    Described,
    Function,
    Parts,
    examples,
    modules,
    offenders,
    parts_of,
    public_functions,
)

CHECK = re.compile(r"\b(require|require_between|DomainError)\(")


# What a function enforces ---------------------------------------------------------------------


class Given:
    """Mixed into a number: which argument it was given as."""

    argument: str


class GivenFloat(Given, float):
    pass


class GivenWhole(Given, int):
    pass


def given(name: str, value: object) -> object:
    """The value of an argument, its numbers so marked that a check of them is known as theirs."""
    if isinstance(value, list | tuple):
        return [given(name, each) for each in value]
    if isinstance(value, bool) or not isinstance(value, float | int):
        return value
    marked = GivenWhole(value) if isinstance(value, int) else GivenFloat(value)
    marked.argument = name
    return marked


@dataclass
class Enforced:
    """The range checks met while a function runs its own example."""

    ranges: dict[str, tuple[float, float]] = field(default_factory=dict)
    checks: int = 0

    def note(self, argument: str, value: object, low: float, high: float) -> None:
        """Take down a range check, then do it: the range of an argument is what all leave of it.

        A number tells which argument it is, under whatever name an inner function checks it. Arrays
        go by name.
        """
        require(argument, value, low, high)
        self.checks += 1
        if isinstance(value, float | int) and not isinstance(value, Given):
            return
        name = value.argument if isinstance(value, Given) else argument
        before = self.ranges.get(name, (-math.inf, math.inf))
        self.ranges[name] = max(before[0], low), min(before[1], high)


@contextmanager
def noted_checks() -> Iterator[Enforced]:
    """While it lasts, every range check in calc is taken down."""
    enforced = Enforced()
    checking = [module for module in modules() if hasattr(module, "require")]
    patches = [mock.patch.object(module, "require", enforced.note) for module in checking]
    for patch in patches:
        patch.start()
    try:
        yield enforced
    finally:
        for patch in patches:
            patch.stop()


@cache
def enforced_by(function: Function) -> Enforced:
    """What a function enforces, found by calling it as the example in its docstring does."""
    with noted_checks() as enforced:
        for call in examples(function):
            function(**{name: given(name, value) for name, value in call.items()})
    return enforced


def wrong_ranges(function: Function) -> list[str]:
    """Arguments whose stated range is not the enforced one, or that state none without a reason."""
    enforced = enforced_by(function).ranges
    wrong = []
    for described in parts_of(function).arguments():
        stated, held = described.stated(), enforced.get(described.name)
        if (stated or held or is_number(function, described)) and not described.agrees_with(held):
            wrong.append(f"{described.name} states {stated}, enforced is {held}")
    return wrong


def is_number(function: Function, described: Described) -> bool:
    """Whether an argument is a number, not a list, a route or a function."""
    annotation = inspect.signature(function).parameters[described.name].annotation
    return annotation in ("Real", "float", "int")


# The rules ------------------------------------------------------------------------------------


def test_there_are_functions_to_check():
    assert len(public_functions()) > 20


def test_every_module_says_what_it_covers_and_where_it_stops():
    short = [each.__name__ for each in modules() if len((each.__doc__ or "").splitlines()) < 2]
    assert short == []


def test_every_parameter_is_described_in_order_with_its_unit():
    def wrong(function):
        described = [each.name for each in parts_of(function).arguments()]
        parameters = list(inspect.signature(function).parameters)
        return described != parameters and f"described {described}, takes {parameters}"

    assert offenders(wrong) == []


def test_no_parameter_is_described_without_a_unit():
    def wrong(function):
        return ARGUMENT_WITHOUT_UNIT.findall(parts_of(function).sections.get("Args", ""))

    assert offenders(wrong) == []


def require_units(parts: Parts) -> None:
    registry = pint.get_application_registry()
    for unit in [each.unit for each in parts.arguments()] + [parts.result_unit()]:
        registry.parse_units(unit)


def test_every_unit_can_be_parsed():
    def wrong(function):
        try:
            require_units(parts_of(function))
        except (AssertionError, pint.UndefinedUnitError) as error:
            return str(error)
        return None

    assert offenders(wrong) == []


def test_every_function_has_an_example_that_calls_it():
    assert offenders(lambda function: not examples(function) and "no example") == []


def test_every_function_names_its_source():
    assert offenders(lambda f: not parts_of(f).sections.get("Source", "").strip() and "none") == []


def test_every_range_check_is_announced_and_no_other():
    def wrong(function):
        announced = "DomainError" in parts_of(function).sections.get("Raises", "")
        body = inspect.getsource(function).split('"""')[-1]
        met = enforced_by(function)
        if announced:
            return met.checks == 0 and "announces a check that it does not make"
        return (met.ranges or CHECK.search(body)) and "does not announce its check"

    assert offenders(wrong) == []


def test_every_stated_range_is_the_one_enforced():
    assert offenders(wrong_ranges) == []


# The rules themselves -------------------------------------------------------------------------


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
    assert [(each.name, each.unit) for each in parts.arguments()] == [("t", "s")]
    assert ARGUMENT_WITHOUT_UNIT.findall(parts.sections["Args"]) == ["v"]


@pytest.mark.parametrize(
    ("words", "stated"),
    [
        ("0 to 1.", (0.0, 1.0)),
        ("speed, 1e-6 to 2e-3; 1e-4 to 2e-4 is usual.", (1e-6, 2e-3)),
        ("speed,\n        -0.05 to 0.05, negative if backwards.", (-0.05, 0.05)),
        ("angle, -π to π; 0 is ahead.", (-math.pi, math.pi)),
        ("angle, 0 to 4π.", (0.0, 4 * math.pi)),
        ("angle, 0 to π/2.", (0.0, math.pi / 2)),
        ("0 or more. The share lost.", (0.0, math.inf)),
        ("angle, 0 to 0.175 (10°).", (0.0, 0.175)),
        ("from 0 to 1 of them.", None),
        ("1 to 60 bolts.", None),
        ("above 0.", None),
    ],
)
def test_a_range_is_read_from_words(words, stated):
    assert Described("v", "m/s", words).stated() == stated


def stand_in(size: float, multiple: float, share: float, lost: float, spare: float) -> float:
    """Function that is right about `multiple`, which an inner function checks, and `spare`.

    Args:
        size [m]: 0.001 to 0.3.
        multiple [1]: 1 to 30.
        share [1]: 0 to 1.
        lost [1]: share that is lost.
        spare [1]: not checked: anything goes.

    >>> round(stand_in(0.1, 10.0, 0.5, 0.0, 0.0))
    2
    """
    return hoses.minimum_radius_by_bore(size, multiple) + share + lost + spare


def test_a_range_that_is_not_the_enforced_one_is_found():
    assert wrong_ranges(stand_in) == [
        "size states (0.001, 0.3), enforced is (0.001, 0.2)",
        "share states (0.0, 1.0), enforced is None",
        "lost states None, enforced is None",
    ]
