"""Boost from a belt-driven positive-displacement blower on a four-stroke engine.

Covers the steady balance, wide-open throttle and bypass shut, between the air that the blower
delivers and the air that the engine takes: drive ratio, rotor speed, leakage, work with and
without internal compression, outlet and charge temperature, boost, air flow and drive power; the
way back from a stated rating to the engine's volumetric efficiency, and from a wanted boost to a
drive ratio.

The balance is struck at the manifold. A pressure drop in the charge cooler stands between blower
outlet and manifold: the blower works against the outlet pressure, the engine breathes the
manifold's. A positive-displacement blower therefore answers a restrictive cooler with a higher
outlet pressure and a hotter charge; little boost is lost.

The model stops at: pulsation, heat lost from the casing, the latent heat of fuel sprayed before
the blower, humidity, and bypass leakage. Leakage follows an isentropic orifice of fixed size.
"""

from __future__ import annotations

from calc.constants import CP_AIR, GAMMA_AIR, R_AIR
from calc.domain import Real, require
from calc.throttle import critical_pressure_ratio, flow_function

TIGHT_EFFICIENCY = 0.97
"""Volumetric efficiency of the blower with no pressure across it, 1. Common practice."""

MECHANICAL_LOSS = 0.05
"""Share of the compression work lost to bearings, gears and seals, 1. Common practice."""

LOWEST_EFFICIENCY = 0.40
"""Blower volumetric efficiency below which leakage rules and the model says nothing, 1."""

HIGHEST_RATIO = 3.25
"""Highest pressure ratio across the blower that the model is asked for, 1."""

_COMPRESSION = (GAMMA_AIR - 1.0) / GAMMA_AIR

CRITICAL_RATIO = float(1.0 / critical_pressure_ratio(GAMMA_AIR))
"""Pressure ratio at which leakage chokes, 1.893; the leakage function has its kink there."""


def drive_ratio(crank_pitch: Real, blower_pitch: Real, gear: Real = 1.0) -> Real:
    """Blower rotor revolutions for one revolution of the crankshaft.

    Args:
        crank_pitch [m]: pitch diameter of the crank pulley, above 0.
        blower_pitch [m]: pitch diameter of the blower pulley, above 0.
        gear [1]: rotor revolutions for one of the blower's pulley, above 0.

    Returns:
        [1]: drive ratio.

    Source: kinematics of a belt at its pitch line (ISO 9981:1998, 5.4: pitch diameters).

    >>> round(drive_ratio(0.164, 0.082), 3)
    2.0
    """
    return crank_pitch / blower_pitch * gear


def rotor_speed(engine_speed: Real, ratio: Real, slip: Real = 0.0) -> Real:
    """Rotor speed at an engine speed.

    Args:
        engine_speed [1/s]: crankshaft revolutions per second, above 0.
        ratio [1]: drive ratio, above 0.
        slip [1]: share of the speed that the belt loses, 0 to 1.

    Returns:
        [1/s]: rotor revolutions per second.

    Source: kinematics.

    >>> rotor_speed(100.0, 2.0, 0.01)
    198.0
    """
    return engine_speed * ratio * (1.0 - slip)


def swept_ratio(
    blower_displacement: Real, engine_displacement: Real, ratio: Real, slip: Real = 0.0
) -> Real:
    """Volume that the rotors sweep for each volume that the four-stroke engine sweeps.

    Args:
        blower_displacement [m^3]: swept volume for one rotor revolution, above 0.
        engine_displacement [m^3]: swept volume of all cylinders, above 0.
        ratio [1]: drive ratio, above 0.
        slip [1]: share of the speed that the belt loses, 0 to 1.

    Returns:
        [1]: swept ratio X; a four-stroke takes its displacement once in two revolutions.

    Source: conservation of mass.

    >>> round(swept_ratio(2.0e-3, 5.0e-3, 2.0), 3)
    1.6
    """
    return 2.0 * blower_displacement / engine_displacement * ratio * (1.0 - slip)


def orifice_function(pressure_ratio: Real) -> Real:
    """Isentropic flow through the rotor clearances, against the choked flow.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.

    Returns:
        [1]: ψ, 0 at equal pressures, 1 from the critical ratio 1.893 on.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: `calc.throttle.flow_function`.

    >>> round(float(orifice_function(1.4)), 4)
    0.9199
    """
    require("pressure_ratio", pressure_ratio, 1.0, 10.0)
    return flow_function(1.0 / pressure_ratio) / flow_function(0.0)


def volumetric_efficiency(pressure_ratio: Real, leak_ratio: Real) -> Real:
    """Share of the swept volume that a blower delivers, at inlet conditions.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more. The leakage speed is the rotor
            speed whose sweep would just make up for choked leakage at equal densities.

    Returns:
        [1]: η_v = η₀ − (N_L/N)·ψ·PR; not above 0 where the rotors can't hold the pressure.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: orifice leakage, ψ as in `orifice_function`; η₀ common practice.

    >>> round(float(volumetric_efficiency(1.8, 0.05)), 4)
    0.8801
    """
    return TIGHT_EFFICIENCY - leak_ratio * orifice_function(pressure_ratio) * pressure_ratio


def work_without_boost(built_in_ratio: Real) -> Real:
    """Compression work at pressure ratio 1, over γ/(γ−1)·p₁V₁: the price of internal compression.

    Args:
        built_in_ratio [1]: pressure ratio of the internal compression, 1 (none) to 3.

    Returns:
        [1]: work with equal pressures at inlet and outlet, 0 for a Roots type.

    Raises:
        DomainError: built-in ratio outside its range.

    Source: as `compression_work`, at pressure ratio 1.

    >>> round(float(work_without_boost(1.3)), 5)
    0.00678
    """
    return compression_work(1.0, built_in_ratio)


def work_slope(built_in_ratio: Real) -> Real:
    """How fast the compression work rises with pressure ratio, over γ/(γ−1)·p₁V₁.

    Args:
        built_in_ratio [1]: pressure ratio of the internal compression, 1 (none) to 3.

    Returns:
        [1]: work for one unit of pressure ratio; discharge volume over swept volume, times γ−1/γ.

    Raises:
        DomainError: built-in ratio outside its range.

    Source: as `compression_work`, derivative.

    >>> round(float(work_slope(1.0)), 5)
    0.28571
    """
    require("built_in_ratio", built_in_ratio, 1.0, 3.0)
    return _COMPRESSION * built_in_ratio ** (-1.0 / GAMMA_AIR)


def shaft_work_terms(built_in_ratio: Real) -> tuple[Real, Real]:
    """The two terms of the shaft work, mechanical loss included: without boost, and its slope.

    Args:
        built_in_ratio [1]: pressure ratio of the internal compression, 1 (none) to 3.

    Returns:
        [1]: idle work and slope; shaft work is idle + slope·(PR − 1), over γ/(γ−1)·p₁V₁.

    Raises:
        DomainError: built-in ratio outside its range.

    Source: `compression_work`; mechanical loss common practice.

    >>> tuple(round(float(term), 4) for term in shaft_work_terms(1.0))
    (0.0, 0.3)
    """
    loss = 1.0 + MECHANICAL_LOSS
    return work_without_boost(built_in_ratio) * loss, work_slope(built_in_ratio) * loss


def compression_work(pressure_ratio: Real, built_in_ratio: Real) -> Real:
    """Indicated work on the swept volume, over γ/(γ−1)·p₁V₁: an adiabatic temperature rise over T₁.

    Isentropic up to the built-in ratio, then at constant volume to the outlet pressure, then
    discharge. A built-in ratio of 1 is the Roots type. Above or below the built-in ratio the
    charge is compressed too little or too much, and the difference is lost.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        built_in_ratio [1]: pressure ratio of the internal compression, 1 (none) to 3.

    Returns:
        [1]: w/(γ/(γ−1)·p₁).

    Raises:
        DomainError: an argument outside its range.

    Source: Rajput, Internal Combustion Engines, ex. 20.35 (both kinds); the closed form of an
        internal-compression machine with isochoric equalisation.

    >>> round(float(compression_work(1.5, 1.0)), 6)
    0.142857
    """
    require("pressure_ratio", pressure_ratio, 1.0, 10.0)
    require("built_in_ratio", built_in_ratio, 1.0, 3.0)
    inside = built_in_ratio**_COMPRESSION - 1.0
    outside = (pressure_ratio - built_in_ratio) * built_in_ratio ** (-1.0 / GAMMA_AIR)
    return inside + _COMPRESSION * outside


def delivery(
    pressure_ratio: Real,
    leak_ratio: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    idle_work: Real,
    slope: Real,
) -> Real:
    """Volume delivered for each volume swept, at charge temperature and inlet pressure: η_v·T_m/T₁.

    Linear in every argument but the pressure ratio, which is what makes it cheap to tabulate. With
    effectiveness 0 it is η_v·T₂/T₁; with effectiveness 1 and coolant at inlet temperature, η_v.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        effectiveness [1]: of the charge cooler, 0 (none) to 1.
        coolant_ratio [1]: coolant into the charge cooler over inlet air, absolute temperatures.
        idle_work [1]: from `shaft_work_terms`.
        slope [1]: from `shaft_work_terms`.

    Returns:
        [1]: delivery.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: T_m = T₂ − ε (T₂ − T_c), definition of effectiveness; energy balance of
        an uncooled blower, T₂/T₁ = 1 + work/η_v.

    >>> round(float(delivery(1.8, 0.05, 1.0, 1.0, 0.0, 0.3)), 4)
    0.8801
    """
    efficiency = volumetric_efficiency(pressure_ratio, leak_ratio)
    work = idle_work + slope * (pressure_ratio - 1.0)
    uncooled = 1.0 - effectiveness
    return efficiency * (uncooled + effectiveness * coolant_ratio) + uncooled * work


def flow_surplus(
    pressure_ratio: Real,
    leak_ratio: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    idle_work: Real,
    slope: Real,
    demand: Real,
) -> Real:
    """How much more the blower delivers than an engine at blower outlet pressure would take.

    The balance lies where the surplus equals −demand × (charge-cooler drop / inlet pressure),
    because the engine breathes that much less than the outlet pressure. Without demand it is what
    the blower delivers.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        effectiveness [1]: of the charge cooler, 0 (none) to 1.
        coolant_ratio [1]: coolant into the charge cooler over inlet air, absolute temperatures.
        idle_work [1]: from `shaft_work_terms`.
        slope [1]: from `shaft_work_terms`.
        demand [1]: engine volumetric efficiency over swept ratio, 0 or more.

    Returns:
        [1]: delivery − demand × PR; falls with pressure ratio.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: conservation of mass, PR − δ = η_v X (T_m/T₁)/η_e.

    >>> round(float(flow_surplus(1.8, 0.05, 1.0, 1.0, 0.0, 0.3, 0.5)), 4)
    -0.0199
    """
    made = delivery(pressure_ratio, leak_ratio, effectiveness, coolant_ratio, idle_work, slope)
    return made - demand * pressure_ratio


def engine_efficiency_from_rating(
    swept: Real, delivered: Real, pressure_ratio: Real, cooler_drop_ratio: Real = 0.0
) -> Real:
    """Engine volumetric efficiency that makes the balance pass through a stated rating.

    Args:
        swept [1]: swept ratio at the rating, above 0.
        delivered [1]: from `delivery` at the rating, above 0.
        pressure_ratio [1]: blower outlet over inlet pressure at the rating, above 1.
        cooler_drop_ratio [1]: charge-cooler pressure drop over inlet pressure, 0 to 1.

    Returns:
        [1]: volumetric efficiency referred to the manifold. Outside 0.75 to 1.20 the rating and
        the dimensions do not agree.

    Source: the balance of `flow_surplus`, solved for the engine.

    >>> round(engine_efficiency_from_rating(1.7, 0.9919, 1.8035), 3)
    0.935
    """
    return swept * delivered / (pressure_ratio - cooler_drop_ratio)


def drive_ratio_for(
    engine_efficiency: Real,
    pressure_ratio: Real,
    cooler_drop_ratio: Real,
    sweep_per_ratio: Real,
    leak_per_ratio: Real,
    tight: Real,
    lost: Real,
) -> Real:
    """Drive ratio that makes a wanted pressure ratio.

    Args:
        engine_efficiency [1]: engine volumetric efficiency, above 0.
        pressure_ratio [1]: wanted blower outlet over inlet pressure, above 1.
        cooler_drop_ratio [1]: charge-cooler pressure drop over inlet pressure, 0 to 1.
        sweep_per_ratio [1]: swept ratio at drive ratio 1, above 0.
        leak_per_ratio [1]: leakage speed over rotor speed at drive ratio 1, 0 or more.
        tight [1]: from `delivery` without leakage, above 0.
        lost [1]: how much less `delivery` is at leak ratio 1, 0 or more.

    Returns:
        [1]: drive ratio. Leakage is inversely proportional to it, which leaves a linear equation.

    Source: the balance of `flow_surplus`, solved for the drive.

    >>> round(drive_ratio_for(0.935, 1.8035, 0.0, 0.85, 0.08, 1.06, 1.70), 4)
    2.0
    """
    taken = engine_efficiency * (pressure_ratio - cooler_drop_ratio) / sweep_per_ratio
    return (taken + leak_per_ratio * lost) / tight


def gauge_boost(
    pressure_ratio: Real, inlet_pressure: Real, cooler_drop: Real, ambient_pressure: Real
) -> Real:
    """Boost above the outside air at the manifold.

    Args:
        pressure_ratio [1]: blower outlet over inlet pressure, 1 or more.
        inlet_pressure [Pa]: at the blower inlet, absolute, above 0.
        cooler_drop [Pa]: pressure drop over the charge cooler, 0 or more.
        ambient_pressure [Pa]: outside air, absolute, above 0.

    Returns:
        [Pa]: boost; below 0 where there is less than outside.

    Source: definition.

    >>> gauge_boost(1.8, 100e3, 4e3, 101e3)
    75000.0
    """
    return pressure_ratio * inlet_pressure - cooler_drop - ambient_pressure


def swept_mass_flow(
    displacement: Real, speed: Real, inlet_pressure: Real, inlet_temperature: Real
) -> Real:
    """Mass of inlet air that the rotors sweep in a second.

    Args:
        displacement [m^3]: swept volume for one rotor revolution, above 0.
        speed [1/s]: rotor revolutions per second, above 0.
        inlet_pressure [Pa]: at the blower inlet, absolute, above 0.
        inlet_temperature [K]: at the blower inlet, above 0.

    Returns:
        [kg/s]: mass flow, of which the volumetric efficiency is delivered.

    Source: ideal gas.

    >>> round(swept_mass_flow(2.6e-3, 200.0, 100e3, 298.15), 4)
    0.6076
    """
    return displacement * speed * inlet_pressure / inlet_temperature / R_AIR


def shaft_power(work: Real, mass_flow: Real, inlet_temperature: Real) -> Real:
    """Power to turn the blower.

    Args:
        work [1]: shaft work on the swept volume over γ/(γ−1)·p₁V₁, 0 or more.
        mass_flow [kg/s]: from `swept_mass_flow`, 0 or more.
        inlet_temperature [K]: at the blower inlet, above 0.

    Returns:
        [W]: power.

    Source: γ/(γ−1)·p₁V₁ is c_p·T₁ for each kilogram of inlet air.

    >>> round(shaft_power(0.25, 0.6, 298.15))
    44932
    """
    return work * mass_flow * inlet_temperature * CP_AIR
