"""Heat from charge air into coolant, and from coolant into the outside air.

An exchanger by effectiveness and number of transfer units, both streams unmixed, from one rated
point that is carried to other flows. Steady: the coolant settles where the exchanger gives up what
the charge cooler takes in. Left out: heat that hoses, tank and pump give up or take in, sun and
dirt on a core, and air that goes round it.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from calc.constants import CP_AIR
from calc.domain import Real, require

AIR_SIDE_SHARE: Final = 0.75
"""Share of a core's resistance on its air side at its rated point. Common practice: 0.7 to 0.85."""

_TERMS = 120
_TEMPERATURE = (200.0, 600.0)
_RATE = (1.0, 1e5)


def charge_heat(air_flow: Real, before: Real, after: Real) -> Real:
    """Heat that a charge cooler takes from the air.

    Args:
        air_flow [kg/s]: 0 to 5.
        before [K]: air into the cooler, 200 to 600.
        after [K]: air out of it, 200 to 600.

    Returns:
        [W]: heat.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of energy.

    >>> round(charge_heat(0.35, 393.15, 328.15), -2)
    22900.0
    """
    require("air_flow", air_flow, 0.0, 5.0)
    require("before", before, *_TEMPERATURE)
    require("after", after, *_TEMPERATURE)
    return air_flow * CP_AIR * (before - after)


def cross_flow_effectiveness(transfer_units: Real, capacity_ratio: Real) -> Real:
    """Effectiveness of a cross-flow exchanger, both streams unmixed.

    Args:
        transfer_units [1]: NTU, UA over the smaller heat capacity rate, 0.001 to 20.
        capacity_ratio [1]: smaller over larger heat capacity rate, 0.001 to 1.

    Returns:
        [1]: heat over the most that could pass.

    Raises:
        DomainError: an argument outside its range.

    Source: Mason, Heat transfer in crossflow, Proc. 2nd US Natl. Congress of Applied Mechanics
        (1955), 801: the exact solution as a series.

    >>> round(float(cross_flow_effectiveness(1.0, 0.5)), 5)
    0.54749
    """
    require("transfer_units", transfer_units, 1e-3, 20.0)
    require("capacity_ratio", capacity_ratio, 1e-3, 1.0)
    one, other = transfer_units, transfer_units * capacity_ratio
    term_one: Real = np.exp(-one)
    term_other: Real = np.exp(-other)
    rest_one, rest_other, total = 1.0 - term_one, 1.0 - term_other, 0.0 * (one + other)
    for n in range(1, _TERMS):
        total = total + rest_one * rest_other
        term_one, term_other = term_one * one / n, term_other * other / n
        rest_one, rest_other = rest_one - term_one, rest_other - term_other
    return total / other


def scaled_conductance(rated: Real, air_share: Real, air_ratio: Real, coolant_ratio: Real) -> Real:
    """Conductance of a core away from its rated point.

    Args:
        rated [W/K]: UA at the rated point, 1 to 100000.
        air_share [1]: share of the resistance on the air side there, 0 to 1.
        air_ratio [1]: air flow over the rated one, 0.01 to 20.
        coolant_ratio [1]: coolant flow over the rated one, 0.01 to 20.

    Returns:
        [W/K]: UA.

    Raises:
        DomainError: an argument outside its range.

    Source: resistances in series. Louvred fins, h ∝ v^0.51: Chang & Wang, Int. J. Heat Mass
        Transfer 40 (1997), taken as a square root; coolant h ∝ Q^0.8: Dittus-Boelter.

    >>> round(float(scaled_conductance(1000.0, 0.75, 4.0, 1.0)))
    1600
    """
    require("rated", rated, *_RATE)
    require("air_share", air_share, 0.0, 1.0)
    require("air_ratio", air_ratio, 0.01, 20.0)
    require("coolant_ratio", coolant_ratio, 0.01, 20.0)
    air: Real = air_share / np.sqrt(air_ratio)
    coolant: Real = (1.0 - air_share) / coolant_ratio**0.8
    return rated / (air + coolant)


def coolant_excess(effective: Real, coolant_rate: Real) -> Real:
    """Coolant into the charge cooler over the exchanger's air, for each watt that passes.

    The coolant comes to the exchanger warmer than it left it for the charge cooler.

    Args:
        effective [W/K]: effectiveness of the exchanger times its smaller heat capacity rate, 1 to
            100000, less than `coolant_rate`.
        coolant_rate [W/K]: heat capacity rate of the coolant, 1 to 100000.

    Returns:
        [K/W]: rise over heat.

    Raises:
        DomainError: an argument outside its range.

    Source: q = ε·C_min·(T + q/C_w − T_a).

    >>> round(coolant_excess(800.0, 1400.0) * 23e3, 2)
    12.32
    """
    require("effective", effective, *_RATE)
    require("coolant_rate", coolant_rate, *_RATE)
    return 1.0 / effective - 1.0 / coolant_rate


def steady_coolant(air: Real, excess: Real, taken: Real, hot: Real) -> Real:
    """Coolant into the charge cooler once nothing changes any more.

    Args:
        air [K]: air into the exchanger, 200 to 600.
        excess [K/W]: from `coolant_excess`, 0 to 1.
        taken [W/K]: heat that the charge cooler takes for each kelvin between hot air and coolant,
            air flow times heat capacity times its effectiveness, times the share of the time at
            full power, 0 to 100000.
        hot [K]: air into the charge cooler, 200 to 600.

    Returns:
        [K]: coolant temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: T = T_a + R·G·(T_hot − T), solved for T.

    >>> round(steady_coolant(308.15, 0.00054, 280.0, 393.15) - 273.15, 1)
    46.2
    """
    require("air", air, *_TEMPERATURE)
    require("excess", excess, 0.0, 1.0)
    require("taken", taken, 0.0, 1e5)
    require("hot", hot, *_TEMPERATURE)
    both = excess * taken
    return (air + both * hot) / (1.0 + both)
