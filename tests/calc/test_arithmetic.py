"""What is arithmetic alone works on anything that adds and multiplies.

The site runs calculations on symbols, to write down how an answer comes about. A symbol knows
+ − × ÷, whole and half powers and the square root, and refuses everything else. A function that is
arithmetic must therefore not wrap its arguments, branch on them or use another function of numpy.
What can't do without becomes a table of the site, and is listed here.
"""

from __future__ import annotations

import inspect
import operator
from dataclasses import is_dataclass

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from tests.calc.reading import Function, examples, offenders, public_functions, title

NEEDS_A_TABLE = {
    f"calc.{module}.{name}"
    for module, names in {
        "atmosphere": "pressure_at_altitude saturation_pressure",
        "belts": """
            chord combined_misalignment grip_ratio hub_load misalignment_angle offset_for_angle
            ribs_needed slack_for_power slack_ratio tight_for_power wrap_for_slack wrap_for_tight
        """,
        "belt_route": "slope_angle wrap_angle",
        "boost": """
            compression_work delivery flow_surplus isentropic_rise orifice_function
            rotor_size_squared shaft_work_terms share_of_drive_ratio volumetric_efficiency
            work_slope work_without_boost
        """,
        "drive_tone": "gap_to_engine",
        "exchanger": "cross_flow_effectiveness film_ratio",
        "fuel": "pump_voltage_factor",
        "hoses": "half_turn_angle included_angle quarter_turn_bores",
        "joints": "cone_softness",
        "pipes": "darcy_friction_factor decay half_sine log_tightness same_loss_bore",
        "power": """
            effective_compression_ratio end_of_compression_temperature iso1585_factor
        """,
        "pulls": "slowing",
        "threads": """
            major_min_2a major_min_6g minor_max_2b minor_max_6h pitch_max_2b pitch_max_6h
            pitch_min_2a pitch_min_6g
        """,
        "throttle": """
            critical_pressure_ratio flow_function relative_depression wide_open_fraction
        """,
        "wiring": "gauge_area",
        "wrenches": "share_along",
    }.items()
    for name in names.split()
}

ARITHMETIC = {
    np.add: operator.add,
    np.subtract: operator.sub,
    np.multiply: operator.mul,
    np.divide: operator.truediv,
    np.negative: operator.neg,
    np.power: operator.pow,
    np.sqrt: np.sqrt,
}


class NotArithmeticError(TypeError):
    """Something was done to a symbol that is not arithmetic."""


class Symbol(NDArrayOperatorsMixin):
    """A number that knows nothing but arithmetic."""

    def __init__(self, value):
        self.value = value

    @property
    def magnitude(self):
        """What a range check looks at."""
        return np.array([self.value])

    def __array_ufunc__(self, ufunc, method, *operands, **_):
        if ufunc not in ARITHMETIC or (ufunc is np.power and not is_half(operands[1])):
            raise NotArithmeticError(f"numpy.{ufunc.__name__}")
        plain = [each.value if isinstance(each, Symbol) else each for each in operands]
        return Symbol(ARITHMETIC[ufunc](*plain))

    def __array_function__(self, function, *_):
        raise NotArithmeticError(f"numpy.{function.__name__}")

    def _refuse(self, *_):
        raise NotArithmeticError("a branch, or a conversion to a number or an array")

    __bool__ = __float__ = __array__ = _refuse


def is_half(exponent: object) -> bool:
    return not isinstance(exponent, Symbol) and (2.0 * exponent) % 1.0 == 0.0


def takes_numbers_alone(function: Function) -> bool:
    annotations = [each.annotation for each in inspect.signature(function).parameters.values()]
    return all(each == "Real" for each in annotations)


def not_arithmetic(function: Function) -> str | None:
    """What keeps a function from running on symbols, or from giving the same number on them."""
    call = examples(function)[0]
    try:
        result = function(**{name: Symbol(value) for name, value in call.items()})
    except NotArithmeticError as error:
        return str(error)
    same = numbers_of(result) == numbers_of(function(**call))
    return None if same else "another number"


def numbers_of(result: object) -> list[object]:
    """The numbers that a function gave: one, several, or those of a record."""
    if is_dataclass(result) and not isinstance(result, Symbol):
        return [number for each in vars(result).values() for number in numbers_of(each)]
    parts = result if isinstance(result, tuple) else (result,)
    return [part.value if isinstance(part, Symbol) else part for part in parts]


def test_what_is_arithmetic_runs_on_symbols_to_the_same_bits():
    def wrong(function):
        if takes_numbers_alone(function) and title(function) not in NEEDS_A_TABLE:
            return not_arithmetic(function)
        return None

    assert offenders(wrong) == []


def test_nothing_is_said_to_need_a_table_that_does_not():
    numeric = [function for function in public_functions() if takes_numbers_alone(function)]
    need = {title(function) for function in numeric if not_arithmetic(function)}
    assert sorted(NEEDS_A_TABLE - need) == []
