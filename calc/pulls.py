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

_TEMPERATURE = (200.0, 600.0)
_EXPONENT = (0.0, 50.0)


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


def temperature_after(start: Real, end: Real, exponent: Real) -> Real:
    """Coolant after a time.

    Args:
        start [K]: coolant at the start, 200 to 600.
        end [K]: where it would settle, 200 to 600.
        exponent [1]: rate times time, 0 to 50.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: solution of the energy balance of one body.

    >>> round(float(temperature_after(310.0, 320.0, 1.0)), 3)
    316.321
    """
    require("start", start, *_TEMPERATURE)
    require("end", end, *_TEMPERATURE)
    require("exponent", exponent, *_EXPONENT)
    left: Real = np.exp(-exponent)
    return end + (start - end) * left


def time_until(start: Real, end: Real, limit: Real, rate: Real) -> Real:
    """Time until coolant has come to a limit.

    Args:
        start [K]: coolant at the start, 200 to 600.
        end [K]: where it would settle, 200 to 600.
        limit [K]: between both, 200 to 600.
        rate [1/s]: from `pull_rate`, 1e-6 to 100.

    Returns:
        [s]: time; NaN where it never comes to the limit.

    Raises:
        DomainError: an argument outside its range.

    Source: `temperature_after` solved for the time.

    >>> round(float(time_until(310.0, 330.0, 320.0, 0.02)), 2)
    34.66
    """
    require("start", start, *_TEMPERATURE)
    require("end", end, *_TEMPERATURE)
    require("limit", limit, *_TEMPERATURE)
    require("rate", rate, 1e-6, 100.0)
    share = (end - limit) / (end - start)
    inside = (share > 0.0) & (share <= 1.0)
    time: Real = -np.log(np.where(inside, share, np.nan)) / rate
    return time


def before_pull(number: Real, first: Real, settled: Real, both: Real) -> Real:
    """Coolant before one of many pulls with rests between them, all alike.

    Args:
        number [1]: of the pull, the first is 1, 1 to 1000.
        first [K]: coolant before the first, 200 to 600.
        settled [K]: coolant before a pull once all are alike, from `settled_start`, 200 to 600.
        both [1]: exponents of a pull and a rest together, 0 to 50.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: the difference to the settled start falls by the same share with each pull and rest.

    >>> round(float(before_pull(3.0, 310.0, 320.0, 0.5)), 3)
    316.321
    """
    require("number", number, 1.0, 1000.0)
    require("first", first, *_TEMPERATURE)
    require("settled", settled, *_TEMPERATURE)
    require("both", both, *_EXPONENT)
    left: Real = np.exp(-(number - 1.0) * both)
    return settled + (first - settled) * left


def settled_start(pull_end: Real, pull: Real, rest_end: Real, rest: Real) -> Real:
    """Coolant before a pull once all pulls and rests are alike.

    Args:
        pull_end [K]: where coolant would settle in a pull that never ends, 200 to 600.
        pull [1]: rate times time of a pull, 1e-6 to 50.
        rest_end [K]: where it would settle in a rest that never ends, 200 to 600.
        rest [1]: rate times time of a rest, 1e-6 to 50.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: `temperature_after` over a pull and a rest, with the same temperature before and after.

    >>> round(float(settled_start(340.0, 0.5, 310.0, 0.5)), 3)
    321.326
    """
    require("pull_end", pull_end, *_TEMPERATURE)
    require("pull", pull, 1e-6, 50.0)
    require("rest_end", rest_end, *_TEMPERATURE)
    require("rest", rest, 1e-6, 50.0)
    after: Real = np.exp(-rest)
    gone: Real = 1.0 - np.exp(-pull)
    whole: Real = 1.0 - np.exp(-pull - rest)
    return rest_end + (pull_end - rest_end) * gone * after / whole


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
