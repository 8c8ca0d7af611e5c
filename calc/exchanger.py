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

_TERMS = 600
_LEAST_TERM = 1e-14
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


def heat_for_each_kelvin(air_flow: Real, effectiveness: Real) -> Real:
    """Heat that a charge cooler takes for each kelvin between hot air and coolant.

    Args:
        air_flow [kg/s]: 0 to 5.
        effectiveness [1]: of the charge cooler, 0 to 1.

    Returns:
        [W/K]: heat over temperature difference.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of effectiveness, air the smaller heat capacity rate.

    >>> round(heat_for_each_kelvin(0.35, 0.75), 1)
    263.7
    """
    require("air_flow", air_flow, 0.0, 5.0)
    require("effectiveness", effectiveness, 0.0, 1.0)
    return air_flow * CP_AIR * effectiveness


def cooled_air(before: Real, coolant: Real, effectiveness: Real) -> Real:
    """Air out of a charge cooler.

    Args:
        before [K]: air into it, 200 to 600.
        coolant [K]: coolant into it, 200 to 600.
        effectiveness [1]: of the charge cooler, 0 to 1.

    Returns:
        [K]: air temperature.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of effectiveness, air the smaller heat capacity rate.

    >>> round(cooled_air(393.15, 318.15, 0.75) - 273.15, 2)
    63.75
    """
    require("before", before, *_TEMPERATURE)
    require("coolant", coolant, *_TEMPERATURE)
    require("effectiveness", effectiveness, 0.0, 1.0)
    return before - effectiveness * (before - coolant)


def cross_flow_effectiveness(transfer_units: Real, capacity_ratio: Real) -> Real:
    """Effectiveness of a cross-flow exchanger, both streams unmixed.

    Args:
        transfer_units [1]: NTU, UA over the smaller heat capacity rate, 0.001 to 200.
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
    require("transfer_units", transfer_units, 1e-3, 200.0)
    require("capacity_ratio", capacity_ratio, 1e-3, 1.0)
    one, other = transfer_units, transfer_units * capacity_ratio
    term_one: Real = np.exp(-one)
    term_other: Real = np.exp(-other)
    rest_one, rest_other, total = 1.0 - term_one, 1.0 - term_other, 0.0 * (one + other)
    for n in range(1, _TERMS):
        more = rest_one * rest_other
        total = total + more
        if not np.any(more > _LEAST_TERM):
            break
        term_one, term_other = term_one * one / n, term_other * other / n
        rest_one, rest_other = rest_one - term_one, rest_other - term_other
    return total / other


def film_ratio(flow_ratio: Real) -> Real:
    """How a coolant film passes heat, over that at the rated flow.

    Args:
        flow_ratio [1]: coolant flow over the rated one, 0.02 to 20.

    Returns:
        [1]: heat transfer coefficient over the rated one.

    Raises:
        DomainError: flow_ratio outside its range.

    Source: Dittus-Boelter, h ∝ Q^0.8 in turbulent flow.

    >>> round(float(film_ratio(0.5)), 3)
    0.574
    """
    require("flow_ratio", flow_ratio, 0.02, 20.0)
    return flow_ratio**0.8


def scaled_conductance(rated: Real, air_share: Real, air_ratio: Real, film: Real) -> Real:
    """Conductance of a core away from its rated point.

    Args:
        rated [W/K]: UA at the rated point, 1 to 100000.
        air_share [1]: share of the resistance on the air side there, 0 to 1.
        air_ratio [1]: air flow over the rated one, 0.001 to 1000.
        film [1]: from `film_ratio`, 0.01 to 20.

    Returns:
        [W/K]: UA.

    Raises:
        DomainError: an argument outside its range.

    Source: resistances in series. Louvred fins, h ∝ v^0.51: Chang & Wang, Int. J. Heat Mass
        Transfer 40 (1997), taken as a square root.

    >>> round(scaled_conductance(1000.0, 0.75, 4.0, 1.0))
    1600
    """
    require("rated", rated, *_RATE)
    require("air_share", air_share, 0.0, 1.0)
    require("air_ratio", air_ratio, 1e-3, 1e3)
    require("film", film, 0.01, 20.0)
    return rated / (air_share / air_ratio**0.5 + (1.0 - air_share) / film)


def stream_factor(effective: Real, conductance: Real, air_rate: Real, coolant_rate: Real) -> Real:
    """How much more the streams' own warming and cooling holds back than at their mean.

    Args:
        effective [W/K]: effectiveness times the smaller heat capacity rate, 0.1 to 100000, less
            than `conductance`.
        conductance [W/K]: UA, 1 to 100000.
        air_rate [W/K]: heat capacity rate of the air, 1 to 1e6.
        coolant_rate [W/K]: heat capacity rate of the coolant, 1 to 100000.

    Returns:
        [1]: 1 where the mean difference is that of the streams' middles, up to 2.

    Raises:
        DomainError: an argument outside its range.

    Source: 1/W = 1/UA + κ·(1/C_a + 1/C_w)/2, solved for κ; at κ = 1 the exchanger's heat balance
        with arithmetic means.

    >>> round(stream_factor(476.222, 1000.0, 1000.0, 1000.0), 3)
    1.1
    """
    require("effective", effective, 0.1, 1e5)
    require("conductance", conductance, *_RATE)
    require("air_rate", air_rate, 1.0, 1e6)
    require("coolant_rate", coolant_rate, *_RATE)
    return 2.0 * (1.0 / effective - 1.0 / conductance) / (1.0 / air_rate + 1.0 / coolant_rate)


def air_root_for(wanted: Real, air_side: Real, other: Real, factor: Real) -> Real:
    """How little air makes an exchanger pass a wanted heat.

    Args:
        wanted [K/W]: 1/W that is wanted, 0 to 10.
        air_side [(K/W)^0.5]: the core's resistance on the air side times the root of the air's heat
            capacity rate, 0 to 100.
        other [K/W]: what no air changes: the coolant side's resistance and `factor` / 2 C_w, less
            than `wanted`, 0 to 10.
        factor [1]: from `stream_factor`, 0.5 to 4.

    Returns:
        [(K/W)^0.5]: one over the root of the air's heat capacity rate.

    Raises:
        DomainError: an argument outside its range.

    Source: 1/W = a·y + κ·y²/2 + other, with y = C_a^−½ (see `stream_factor` and
        `scaled_conductance`), solved for y.

    >>> round(air_root_for(0.0021, 0.02371, 0.0008, 1.1) ** -2)
    1000
    """
    require("wanted", wanted, 0.0, 10.0)
    require("air_side", air_side, 0.0, 100.0)
    require("other", other, 0.0, 10.0)
    require("factor", factor, 0.5, 4.0)
    return ((air_side**2.0 + 2.0 * factor * (wanted - other)) ** 0.5 - air_side) / factor


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
