"""Coolant in time: how it warms over a pull, cools after it, and where repeated pulls take it.

All coolant counts as one body of one temperature. It warms towards the temperature at which it
would settle, the nearer the slower: one exponential for a pull, another for the rest after it.
Left out: the time that coolant takes once round the loop, and the heat that metal takes up, which
both lengthen a pull.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from calc.domain import Real, require

MELTING_HEAT: Final = 333.4e3
"""Heat that ice takes up as it melts, J/kg. IAPWS, at 0 °C."""

ICE_POINT: Final = 273.15
"""Temperature of melting ice, K."""

WATER_HEAT_CAPACITY: Final = 4.19e3
"""Heat capacity of water between 0 and 60 °C, J/(kg·K). IAPWS, rounded."""

_NEXT_TO_NOTHING = 1e-12
_TEMPERATURE = (200.0, 600.0)


def pull_rate(taken: Real, effective: Real, coolant_rate: Real, held: Real) -> Real:
    """How fast coolant nears the temperature at which it would settle.

    Args:
        taken [W/K]: heat into the coolant for each kelvin between hot air and coolant, 0 in a
            rest, 0 to 100000.
        effective [W/K]: effectiveness of the exchanger times its smaller heat capacity rate, 0 to
            100000, no more than `coolant_rate`.
        coolant_rate [W/K]: heat capacity rate of the coolant, 1 to 100000.
        held [J/K]: heat capacity of all coolant, 100 to 1e6.

    Returns:
        [1/s]: share of the difference that goes in a second.

    Raises:
        DomainError: an argument outside its range.

    Source: energy balance of one body, m·c·dT/dt = G·(T_hot − T) − W·(T + G·(T_hot − T)/C_w − T_a).

    >>> round(1.0 / pull_rate(280.0, 800.0, 1400.0, 27e3), 1)
    29.3
    """
    require("taken", taken, 0.0, 1e5)
    require("effective", effective, 0.0, 1e5)
    require("coolant_rate", coolant_rate, 1.0, 1e5)
    require("held", held, 100.0, 1e6)
    return (taken * (1.0 - effective / coolant_rate) + effective) / held


def temperature_after(start: Real, end: Real, left: Real) -> Real:
    """Coolant after a time, or before one of many pulls and rests that are all alike.

    Args:
        start [K]: coolant at the start, 200 to 600.
        end [K]: where it would settle, 200 to 600.
        left [1]: share of the difference that is left, e to the power of less rate times time, 0 to
            1.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: solution of the energy balance of one body.

    >>> round(temperature_after(310.0, 320.0, 0.36788), 3)
    316.321
    """
    require("start", start, *_TEMPERATURE)
    require("end", end, *_TEMPERATURE)
    require("left", left, 0.0, 1.0)
    return end + (start - end) * left


def slowing(share: Real) -> Real:
    """How much longer a share of the way takes than at the pace of the start.

    Args:
        share [1]: of the way to where it would settle, 0 to 0.999.

    Returns:
        [1]: time over that at the first pace; 1 at the start.

    Raises:
        DomainError: share outside its range.

    Source: `temperature_after` solved for the time.

    >>> round(float(slowing(0.5)), 4)
    1.3863
    """
    require("share", share, 0.0, 0.999)
    some: Real = np.maximum(share, _NEXT_TO_NOTHING)
    longer: Real = -np.log1p(-some) / some
    return longer


def time_until(share: Real, slower: Real, rate: Real) -> Real:
    """Time until coolant has gone a share of the way to where it would settle.

    Args:
        share [1]: of the way, 0 to 0.999.
        slower [1]: from `slowing`, 1 to 10.
        rate [1/s]: from `pull_rate`, 1e-7 to 100.

    Returns:
        [s]: time.

    Raises:
        DomainError: an argument outside its range.

    Source: `temperature_after` solved for the time.

    >>> round(time_until(0.5, 1.38629, 0.02), 2)
    34.66
    """
    require("share", share, 0.0, 0.999)
    require("slower", slower, 1.0, 10.0)
    require("rate", rate, 1e-7, 100.0)
    return share * slower / rate


def settled_start(pull_end: Real, pull_left: Real, rest_end: Real, rest_left: Real) -> Real:
    """Coolant before a pull once all pulls and rests are alike.

    Args:
        pull_end [K]: where coolant would settle in a pull that never ends, 200 to 600.
        pull_left [1]: share of the difference left after a pull, 0 to 1.
        rest_end [K]: where it would settle in a rest that never ends, 200 to 600.
        rest_left [1]: share of the difference left after a rest, 0 to 1.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: `temperature_after` over a pull and a rest, with the same temperature before and after.

    >>> round(settled_start(340.0, 0.606531, 310.0, 0.606531), 3)
    321.326
    """
    require("pull_end", pull_end, *_TEMPERATURE)
    require("pull_left", pull_left, 0.0, 1.0)
    require("rest_end", rest_end, *_TEMPERATURE)
    require("rest_left", rest_left, 0.0, 1.0)
    gone = (1.0 - pull_left) * rest_left / (1.0 - pull_left * rest_left)
    return rest_end + (pull_end - rest_end) * gone


def iced_start(coolant: Real, held: Real, ice: Real) -> Real:
    """Coolant once ice has melted in it, all of it.

    Args:
        coolant [K]: before the ice went in, 200 to 600.
        held [J/K]: heat capacity of the coolant without the ice, 100 to 1e6.
        ice [kg]: at 0 °C, 0 to 50.

    Returns:
        [K]: coolant temperature; under its melting point some of the ice is left, and the coolant
            stays at that point.

    Raises:
        DomainError: an argument outside its range.

    Source: heat balance of mixing.

    >>> round(iced_start(298.15, 27e3, 2.0) - 273.15, 2)
    0.23
    """
    require("coolant", coolant, *_TEMPERATURE)
    require("held", held, 100.0, 1e6)
    require("ice", ice, 0.0, 50.0)
    water = ice * WATER_HEAT_CAPACITY
    return (held * coolant + water * ICE_POINT - ice * MELTING_HEAT) / (held + water)


def ice_left(melting: Real, mixed: Real, held: Real) -> Real:
    """Ice that is left once the coolant has come down to where it melts.

    Args:
        melting [K]: temperature at which it melts in this coolant, 200 to 600.
        mixed [K]: from `iced_start`, no higher, 1 to 600.
        held [J/K]: heat capacity of coolant and ice together, 100 to 1e6.

    Returns:
        [kg]: ice.

    Raises:
        DomainError: an argument outside its range.

    Source: heat balance of mixing.

    >>> round(ice_left(273.15, 263.15, 30e3), 2)
    0.9
    """
    require("melting", melting, *_TEMPERATURE)
    require("mixed", mixed, 1.0, 600.0)
    require("held", held, 100.0, 1e6)
    return held * (melting - mixed) / MELTING_HEAT


def melting_time(ice: Real, melting: Real, end: Real, rate: Real, held: Real) -> Real:
    """Time for which ice in the tank holds the coolant at its melting point.

    Args:
        ice [kg]: 0 to 50.
        melting [K]: temperature at which it melts in this coolant, 200 to 600.
        end [K]: where the coolant would settle without ice, above `melting`, 200 to 600.
        rate [1/s]: from `pull_rate`, 1e-6 to 100.
        held [J/K]: heat capacity of all coolant, 100 to 1e6.

    Returns:
        [s]: time.

    Raises:
        DomainError: an argument outside its range.

    Source: heat of melting over the heat that comes in at that temperature.

    >>> round(melting_time(2.0, 273.15, 330.0, 0.034, 27e3), 1)
    12.8
    """
    require("ice", ice, 0.0, 50.0)
    require("melting", melting, *_TEMPERATURE)
    require("end", end, *_TEMPERATURE)
    require("rate", rate, 1e-6, 100.0)
    require("held", held, 100.0, 1e6)
    return ice * MELTING_HEAT / (rate * held * (end - melting))
