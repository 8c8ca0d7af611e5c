"""A blower on an engine, worked out as a whole: the tests' own way to an operating point.

The page puts the functions of `calc.boost` together from tables; this puts them together directly
and solves the balance by halving.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calc.boost import (
    HIGHEST_RATIO,
    LOWEST_EFFICIENCY,
    MECHANICAL_LOSS,
    compression_work,
    flow_surplus,
    rotor_size_squared,
    rotor_speed,
    shaft_work_terms,
    speed_loss,
    swept_ratio,
    volumetric_efficiency,
)
from calc.constants import GAMMA_AIR, R_AIR
from calc.domain import Real, require
from calc.solve import root_between

_COMPRESSION = (GAMMA_AIR - 1.0) / GAMMA_AIR


def outlet_temperature_ratio(
    pressure_ratio: Real, leak_ratio: Real, built_in_ratio: Real, lost_with_speed: Real = 0.0
) -> Real:
    """Blower outlet over inlet temperature; the work of the leaked air stays in the delivered air.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3.
        lost_with_speed [1]: work lost with speed, over γ/(γ−1)·p₁V₁, 0 or more.

    Returns:
        [1]: T₂/T₁.

    Raises:
        DomainError: an argument outside its range.

    Source: energy balance of an uncooled blower; mechanical loss common practice.

    """
    work = compression_work(pressure_ratio, built_in_ratio) * (1.0 + MECHANICAL_LOSS)
    return 1.0 + (work + lost_with_speed) / volumetric_efficiency(pressure_ratio, leak_ratio)


def pressure_ratio_at_balance(
    leak_ratio: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    built_in_ratio: Real,
    demand: Real,
    cooler_drop_ratio: Real = 0.0,
    lost_with_speed: Real = 0.0,
) -> Real:
    """Pressure ratio across the blower at which it delivers what the engine takes.

    Args:
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        effectiveness [1]: of the charge cooler, 0 (none) to 1.
        coolant_ratio [1]: coolant into the charge cooler over inlet air, absolute temperatures.
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3.
        demand [1]: engine volumetric efficiency over swept ratio, above 0.
        cooler_drop_ratio [1]: charge-cooler pressure drop over inlet pressure, 0 to 1.
        lost_with_speed [1]: work lost with speed, over γ/(γ−1)·p₁V₁, 0 or more.

    Returns:
        [1]: pressure ratio; NaN where the engine takes more than the blower moves even without
        any pressure rise, or where the balance lies above 3.25.

    Raises:
        DomainError: an argument outside its range.

    Source: the balance of `flow_surplus`, solved by `root_between`.

    """
    require("effectiveness", effectiveness, 0.0, 1.0)
    require("cooler_drop_ratio", cooler_drop_ratio, 0.0, 1.0)
    idle, slope = shaft_work_terms(built_in_ratio)
    idle = idle + lost_with_speed

    def surplus(ratio: Real) -> Real:
        return flow_surplus(ratio, leak_ratio, effectiveness, coolant_ratio, idle, slope, demand)

    return root_between(surplus, 1.0, HIGHEST_RATIO, target=-demand * cooler_drop_ratio)


@dataclass(frozen=True)
class SetUp:
    """An engine, a blower, its drive and its air, in SI; every entry may be an array."""

    engine_displacement: Real
    blower_displacement: Real
    built_in_ratio: Real
    ratio: Real
    slip: Real
    leakage_speed: Real
    effectiveness: Real
    coolant_temperature: Real
    intake_temperature: Real
    ambient_pressure: Real
    inlet_depression: Real
    cooler_drop: Real
    speed_loss_factor: Real = 0.0


@dataclass(frozen=True)
class Point:
    """What a set-up gives at one engine speed, in SI."""

    pressure_ratio: Real
    boost: Real
    rotor_speed: Real
    outlet_temperature: Real
    charge_temperature: Real
    air_flow: Real
    drive_power: Real
    blower_efficiency: Real


def operating_point(setup: SetUp, engine_speed: Real, engine_efficiency: Real) -> Point:
    """Everything that a set-up gives at one engine speed.

    Args:
        setup [1]: engine, blower, drive and air.
        engine_speed [1/s]: crankshaft revolutions per second, above 0.
        engine_efficiency [1]: engine volumetric efficiency referred to the manifold, above 0.

    Returns:
        [1]: the point; NaN throughout (rotor speed apart) where there is no balance, or where the
        rotors turn so slowly that less than 40 % of their sweep is delivered.

    Raises:
        DomainError: an argument outside its range.

    Source: the functions above.

    """
    inlet = setup.ambient_pressure - setup.inlet_depression
    speed = rotor_speed(engine_speed, setup.ratio, setup.slip)
    leak = setup.leakage_speed / speed
    coolant_ratio = setup.coolant_temperature / setup.intake_temperature
    swept = swept_ratio(
        setup.blower_displacement, setup.engine_displacement, setup.ratio, setup.slip
    )
    size = rotor_size_squared(setup.blower_displacement)
    lost_with_speed = speed_loss(setup.speed_loss_factor, speed, size, setup.intake_temperature)
    pressure_ratio = pressure_ratio_at_balance(
        leak,
        setup.effectiveness,
        coolant_ratio,
        setup.built_in_ratio,
        engine_efficiency / swept,
        setup.cooler_drop / inlet,
        lost_with_speed,
    )
    known = np.where(np.isfinite(pressure_ratio), pressure_ratio, 1.0)
    efficiency = volumetric_efficiency(known, leak)
    holds = np.isfinite(pressure_ratio) & (efficiency >= LOWEST_EFFICIENCY)
    lost = np.where(holds, 0.0, np.nan)
    hot = outlet_temperature_ratio(known, leak, setup.built_in_ratio, lost_with_speed) + lost
    charge = hot - setup.effectiveness * (hot - coolant_ratio)
    swept_flow = setup.blower_displacement * speed
    work = compression_work(known, setup.built_in_ratio) * (1.0 + MECHANICAL_LOSS) + lost
    work = work + lost_with_speed
    return Point(
        pressure_ratio=known + lost,
        boost=(known + lost) * inlet - setup.cooler_drop - setup.ambient_pressure,
        rotor_speed=speed,
        outlet_temperature=hot * setup.intake_temperature,
        charge_temperature=charge * setup.intake_temperature,
        air_flow=(efficiency + lost) * swept_flow * inlet / (R_AIR * setup.intake_temperature),
        drive_power=work / _COMPRESSION * inlet * swept_flow,
        blower_efficiency=efficiency + lost,
    )
