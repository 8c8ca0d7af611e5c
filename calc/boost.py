"""Boost from a belt-driven positive-displacement blower on a four-stroke engine.

Covers the steady balance, wide-open throttle and bypass shut, between the air that the blower
delivers and the air that the engine takes: drive ratio, rotor speed, leakage, work with and
without internal compression, losses that grow with speed, outlet and charge temperature, overall
efficiency, boost, air flow and drive power; the way back from a stated rating to the engine's
volumetric efficiency, from a stated efficiency or a measured outlet temperature to the losses, and
from a wanted boost to a drive ratio.

The balance holds at the manifold. The charge cooler takes some pressure away between blower outlet
and manifold: the blower works against the outlet pressure, the engine breathes at the manifold's.
A restrictive cooler therefore makes a positive-displacement blower work at a higher outlet
pressure, with a hotter charge; little boost is lost.

Left out: pulsation, heat lost from the casing, the latent heat of fuel sprayed before the blower,
humidity, and bypass leakage. Leakage follows an isentropic orifice of fixed size. What the ports
cost is counted as work, not as filling.
"""

from __future__ import annotations

import numpy as np

from calc.belts import speed_ratio
from calc.constants import CP_AIR, GAMMA_AIR, R_AIR
from calc.domain import Real, require
from calc.throttle import critical_pressure_ratio, flow_function

TIGHT_EFFICIENCY = 0.97
"""Volumetric efficiency of the blower with no pressure across it, 1. Common practice."""

MECHANICAL_LOSS = 0.05
"""Share of the compression work lost to bearings, gears and seals, 1. Common practice."""

USUAL_SPEED_LOSS = 20.0
"""Loss that grows with speed, over the square of rotor speed times rotor size, 1.

Chosen once, for both kinds, so that a screw type of 2.6 L at 11,400 rpm and a pressure ratio of
1.85 comes to an overall efficiency of about 66 % and a three-lobe type to about 57 %. Common
practice: 62 to 70 % and 50 to 60 % at the usual working point.
"""

LOWEST_EFFICIENCY = 0.40
"""Blower volumetric efficiency below which most is leakage and the model gives no answer, 1."""

HIGHEST_RATIO = 3.25
"""Highest pressure ratio across the blower that the model is asked for, 1."""

_COMPRESSION = (GAMMA_AIR - 1.0) / GAMMA_AIR

CRITICAL_RATIO = float(1.0 / critical_pressure_ratio(GAMMA_AIR))
"""Pressure ratio at which leakage chokes, 1.893; the leakage function has its kink there."""

# Widest inputs for which the relations are meant; the pages use narrower ones.
_GEAR = (0.1, 10.0)
_CRANK_SPEED = (1.0, 200.0)
_DRIVE_RATIO = (1e-3, 1e3)
_DISPLACEMENT = (1e-4, 0.02)
_SWEPT = (1e-3, 1e3)
_SHARE = (0.0, 1.0)
_BUILT_IN = (1.0, 3.0)
_PRESSURE_RATIO = (1.0, 10.0)
_TEMPERATURE_RATIO = (0.5, 2.0)
_ENGINE_EFFICIENCY = (0.1, 5.0)
_PRESSURE = (1e4, 2e5)
_PRESSURE_DROP = (0.0, 1e5)
_TEMPERATURE = (200.0, 600.0)
_OR_MORE = (0.0, np.inf)
_ROTOR_SPEED = (0.0, 1e5)
_OVERALL = (0.01, 1.0)


def drive_ratio(crank_pitch: Real, blower_pitch: Real, gear: Real) -> Real:
    """Blower rotor revolutions for one revolution of the crankshaft.

    Args:
        crank_pitch [m]: pitch diameter of the crank pulley, 0.005 to 2.
        blower_pitch [m]: pitch diameter of the blower pulley, 0.005 to 2.
        gear [1]: rotor revolutions for one of the blower's pulley, 0.1 to 10; 1 without gears.

    Returns:
        [1]: drive ratio.

    Raises:
        DomainError: an argument outside its range.

    Source: kinematics of a belt at its pitch line (ISO 9981:1998, 5.4: pitch diameters), times the
    gears behind it.

    >>> round(drive_ratio(0.164, 0.082, 1.5), 3)
    3.0
    """
    require("gear", gear, *_GEAR)
    return speed_ratio(crank_pitch, blower_pitch) * gear


def rotor_speed(engine_speed: Real, ratio: Real, slip: Real = 0.0) -> Real:
    """Rotor speed at an engine speed.

    Args:
        engine_speed [1/s]: crankshaft revolutions per second, 1 to 200.
        ratio [1]: drive ratio, 1e-3 to 1e3.
        slip [1]: share of the speed that the belt loses, 0 to 1.

    Returns:
        [1/s]: rotor revolutions per second.

    Raises:
        DomainError: an argument outside its range.

    Source: kinematics.

    >>> rotor_speed(100.0, 2.0, 0.01)
    198.0
    """
    require("engine_speed", engine_speed, *_CRANK_SPEED)
    require("ratio", ratio, *_DRIVE_RATIO)
    require("slip", slip, *_SHARE)
    return engine_speed * ratio * (1.0 - slip)


def swept_ratio(
    blower_displacement: Real, engine_displacement: Real, ratio: Real, slip: Real = 0.0
) -> Real:
    """Volume that the rotors sweep for each volume that the four-stroke engine sweeps.

    Args:
        blower_displacement [m^3]: swept volume for one rotor revolution, 1e-4 to 0.02.
        engine_displacement [m^3]: swept volume of all cylinders, 1e-4 to 0.02.
        ratio [1]: drive ratio, 1e-3 to 1e3.
        slip [1]: share of the speed that the belt loses, 0 to 1.

    Returns:
        [1]: swept ratio X; a four-stroke takes its displacement once in two revolutions.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass.

    >>> round(swept_ratio(2.0e-3, 5.0e-3, 2.0), 3)
    1.6
    """
    require("blower_displacement", blower_displacement, *_DISPLACEMENT)
    require("engine_displacement", engine_displacement, *_DISPLACEMENT)
    require("ratio", ratio, *_DRIVE_RATIO)
    require("slip", slip, *_SHARE)
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
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
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
        DomainError: an argument outside its range.

    Source: orifice leakage, ψ as in `orifice_function`; η₀ common practice.

    >>> round(float(volumetric_efficiency(1.8, 0.05)), 4)
    0.8801
    """
    require("leak_ratio", leak_ratio, *_OR_MORE)
    return TIGHT_EFFICIENCY - leak_ratio * orifice_function(pressure_ratio) * pressure_ratio


def work_without_boost(built_in_ratio: Real) -> Real:
    """Compression work at pressure ratio 1, over γ/(γ−1)·p₁V₁: what internal compression costs.

    Args:
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3; 1 is none.

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
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3; 1 is none.

    Returns:
        [1]: work for one unit of pressure ratio; discharge volume over swept volume, times γ−1/γ.

    Raises:
        DomainError: built-in ratio outside its range.

    Source: as `compression_work`, derivative.

    >>> round(float(work_slope(1.0)), 5)
    0.28571
    """
    require("built_in_ratio", built_in_ratio, *_BUILT_IN)
    return _COMPRESSION * built_in_ratio ** (-1.0 / GAMMA_AIR)


def shaft_work_terms(built_in_ratio: Real) -> tuple[Real, Real]:
    """The two terms of the shaft work, mechanical loss included: without boost, and its slope.

    Args:
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3; 1 is none.

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
        built_in_ratio [1]: pressure ratio of the internal compression, 1 to 3; 1 is none.

    Returns:
        [1]: w/(γ/(γ−1)·p₁).

    Raises:
        DomainError: an argument outside its range.

    Source: Rajput, Internal Combustion Engines, ex. 20.35 (both kinds); the closed form of an
        internal-compression machine with isochoric equalisation.

    >>> round(float(compression_work(1.5, 1.0)), 6)
    0.142857
    """
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    require("built_in_ratio", built_in_ratio, *_BUILT_IN)
    inside = built_in_ratio**_COMPRESSION - 1.0
    outside = (pressure_ratio - built_in_ratio) * built_in_ratio ** (-1.0 / GAMMA_AIR)
    return inside + _COMPRESSION * outside


def rotor_size_squared(displacement: Real) -> Real:
    """Square of the size of the rotors: of the edge of a cube that holds their displacement.

    Rotors of one shape have a tip speed in proportion to their size times their speed.

    Args:
        displacement [m^3]: swept volume for one rotor revolution, 1e-4 to 0.02.

    Returns:
        [m^2]: displacement to the power 2/3.

    Raises:
        DomainError: displacement outside its range.

    Source: geometric similarity.

    >>> round(float(rotor_size_squared(2.6e-3)), 6)
    0.018908
    """
    require("displacement", displacement, *_DISPLACEMENT)
    return displacement ** (2.0 / 3.0)


def speed_loss(coefficient: Real, speed: Real, size_squared: Real, inlet_temperature: Real) -> Real:
    """Work lost in ports, to windage and in gears, over γ/(γ−1)·p₁V₁: it grows with speed squared.

    Args:
        coefficient [1]: loss for each kilogram swept over (rotor speed × rotor size)², 0 or more.
        speed [1/s]: rotor revolutions per second, 0 to 1e5.
        size_squared [m^2]: not checked: `rotor_size_squared` gives it.
        inlet_temperature [K]: at the blower inlet, 200 to 600.

    Returns:
        [1]: loss, on the swept volume.

    Raises:
        DomainError: an argument outside its range.

    Source: dynamic similarity (flow losses in proportion to the square of a Mach number);
        γ/(γ−1)·p₁V₁ is c_p·T₁ for each kilogram. That losses grow so: common practice.

    >>> round(speed_loss(20.0, 190.0, 0.0189, 298.15), 4)
    0.0456
    """
    require("coefficient", coefficient, *_OR_MORE)
    require("speed", speed, *_ROTOR_SPEED)
    require("inlet_temperature", inlet_temperature, *_TEMPERATURE)
    return coefficient * speed**2 * size_squared / inlet_temperature / CP_AIR


def speed_loss_coefficient(
    loss: Real, speed: Real, size_squared: Real, inlet_temperature: Real
) -> Real:
    """Coefficient of the losses that grow with speed, from what was lost at one speed.

    Args:
        loss [1]: work lost so on the swept volume, over γ/(γ−1)·p₁V₁; not checked: below 0 where
            a measurement contradicts the rest of the model.
        speed [1/s]: rotor revolutions per second then, 0 to 1e5.
        size_squared [m^2]: not checked: `rotor_size_squared` gives it.
        inlet_temperature [K]: at the blower inlet then, 200 to 600.

    Returns:
        [1]: coefficient of `speed_loss`.

    Raises:
        DomainError: an argument outside its range.

    Source: `speed_loss`, turned round.

    >>> round(speed_loss_coefficient(0.0456, 190.0, 0.0189, 298.15), 1)
    20.0
    """
    require("speed", speed, *_ROTOR_SPEED)
    require("inlet_temperature", inlet_temperature, *_TEMPERATURE)
    return loss * inlet_temperature * CP_AIR / (speed**2 * size_squared)


def shaft_work(pressure_ratio: Real, idle_work: Real, slope: Real) -> Real:
    """Shaft work on the swept volume, over γ/(γ−1)·p₁V₁.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        idle_work [1]: not checked: from `shaft_work_terms`, with `speed_loss` on top.
        slope [1]: not checked: from `shaft_work_terms`.

    Returns:
        [1]: work.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: `compression_work`, which is linear in the pressure ratio.

    >>> round(shaft_work(1.8, 0.05, 0.3), 3)
    0.29
    """
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    return idle_work + slope * (pressure_ratio - 1.0)


def shaft_work_from_outlet(temperature_ratio: Real, efficiency: Real) -> Real:
    """Shaft work that a measured outlet temperature shows, over γ/(γ−1)·p₁V₁.

    Args:
        temperature_ratio [1]: blower outlet over inlet, both absolute, 0.5 to 2.
        efficiency [1]: volumetric efficiency, 0 to 1.

    Returns:
        [1]: work on the swept volume; all of it ends in the delivered air.

    Raises:
        DomainError: an argument outside its range.

    Source: energy balance of an uncooled blower, T₂/T₁ = 1 + work/η_v.

    >>> round(shaft_work_from_outlet(1.3, 0.9), 3)
    0.27
    """
    require("temperature_ratio", temperature_ratio, *_TEMPERATURE_RATIO)
    require("efficiency", efficiency, *_SHARE)
    return (temperature_ratio - 1.0) * efficiency


def isentropic_rise(pressure_ratio: Real) -> Real:
    """Temperature rise of an ideal compression, over the inlet temperature.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.

    Returns:
        [1]: PR^((γ−1)/γ) − 1.

    Raises:
        DomainError: pressure ratio outside its range.

    Source: isentropic relation of a perfect gas.

    >>> round(float(isentropic_rise(1.8)), 5)
    0.18286
    """
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    return pressure_ratio**_COMPRESSION - 1.0


def overall_efficiency(ideal_rise: Real, efficiency: Real, work: Real) -> Real:
    """Overall (adiabatic) efficiency of a blower: ideal power for the air delivered, over power.

    Args:
        ideal_rise [1]: not checked: `isentropic_rise` gives it.
        efficiency [1]: volumetric efficiency, 0 to 1.
        work [1]: shaft work on the swept volume over γ/(γ−1)·p₁V₁; not checked: `shaft_work`
            gives it.

    Returns:
        [1]: efficiency; the same as the ideal over the real temperature rise, since all work ends
        in the air.

    Raises:
        DomainError: volumetric efficiency outside its range.

    Source: definition of isentropic efficiency.

    >>> round(overall_efficiency(0.18287, 0.9, 0.25), 3)
    0.658
    """
    require("efficiency", efficiency, *_SHARE)
    return ideal_rise * efficiency / work


def shaft_work_from_efficiency(ideal_rise: Real, efficiency: Real, overall: Real) -> Real:
    """Shaft work that a stated overall efficiency means, over γ/(γ−1)·p₁V₁.

    Args:
        ideal_rise [1]: not checked: `isentropic_rise` gives it.
        efficiency [1]: volumetric efficiency, 0 to 1.
        overall [1]: overall efficiency, 0.01 to 1.

    Returns:
        [1]: work on the swept volume.

    Raises:
        DomainError: an argument outside its range.

    Source: `overall_efficiency`, turned round.

    >>> round(shaft_work_from_efficiency(0.18287, 0.9, 0.658), 3)
    0.25
    """
    require("efficiency", efficiency, *_SHARE)
    require("overall", overall, *_OVERALL)
    return ideal_rise * efficiency / overall


def cooler_effectiveness(before: Real, after: Real, coolant: Real) -> Real:
    """Effectiveness of a charge cooler from thermometers before and after it.

    Args:
        before [K]: air into it, 200 to 600.
        after [K]: air out of it, 200 to 600.
        coolant [K]: coolant into it, 200 to 600.

    Returns:
        [1]: share of the way from the air's temperature to the coolant's; only from 0 to 1 are
        the readings to be believed.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of effectiveness, T_m = T₂ − ε (T₂ − T_c).

    >>> cooler_effectiveness(393.0, 333.0, 313.0)
    0.75
    """
    for name, value in (("before", before), ("after", after), ("coolant", coolant)):
        require(name, value, *_TEMPERATURE)
    return (before - after) / (before - coolant)


def share_of_drive_ratio(extra: Real) -> Real:
    """Share of a drive ratio that is enough, because losses with speed heat the charge.

    Hotter charge fills the engine with less air, so that a little less sweep makes the boost.

    Args:
        extra [1]: delivery that those losses would add at the full drive ratio, over delivery
            without leakage, 0 or more.

    Returns:
        [1]: root x of x + extra·x³ = 1.

    Raises:
        DomainError: extra below 0.

    Source: closed form of the cubic with one real root.

    >>> round(float(share_of_drive_ratio(0.03)), 5)
    0.97241
    """
    require("extra", extra, *_OR_MORE)
    scale = np.sqrt(np.maximum(3.0 * extra, 1e-16))
    return 2.0 / scale * np.sinh(np.arcsinh(1.5 * scale) / 3.0)


def delivery(
    pressure_ratio: Real,
    leak_ratio: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    idle_work: Real,
    slope: Real,
) -> Real:
    """Volume delivered for each volume swept, at charge temperature and inlet pressure: η_v·T_m/T₁.

    Linear in every argument but the pressure ratio, so that a small table is enough. With
    effectiveness 0 it is η_v·T₂/T₁; with effectiveness 1 and coolant at inlet temperature, η_v.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        effectiveness [1]: of the charge cooler, 0 to 1; 0 is none.
        coolant_ratio [1]: coolant into the charge cooler over inlet air, both absolute, 0.5 to 2.
        idle_work [1]: not checked: from `shaft_work_terms`, with `speed_loss` on top.
        slope [1]: not checked: from `shaft_work_terms`.

    Returns:
        [1]: delivery.

    Raises:
        DomainError: an argument outside its range.

    Source: T_m = T₂ − ε (T₂ − T_c), definition of effectiveness; energy balance of
        an uncooled blower, T₂/T₁ = 1 + work/η_v.

    >>> round(float(delivery(1.8, 0.05, 1.0, 1.0, 0.0, 0.3)), 4)
    0.8801
    """
    require("effectiveness", effectiveness, *_SHARE)
    require("coolant_ratio", coolant_ratio, *_TEMPERATURE_RATIO)
    efficiency = volumetric_efficiency(pressure_ratio, leak_ratio)
    work = shaft_work(pressure_ratio, idle_work, slope)
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

    The balance is where the surplus equals −demand × (charge-cooler drop / inlet pressure), because
    the manifold has that much less than the outlet pressure. Without demand it is what the blower
    delivers.

    Args:
        pressure_ratio [1]: outlet over inlet pressure, 1 to 10.
        leak_ratio [1]: leakage speed over rotor speed, 0 or more.
        effectiveness [1]: of the charge cooler, 0 to 1; 0 is none.
        coolant_ratio [1]: coolant into the charge cooler over inlet air, both absolute, 0.5 to 2.
        idle_work [1]: not checked: from `shaft_work_terms`, with `speed_loss` on top.
        slope [1]: not checked: from `shaft_work_terms`.
        demand [1]: engine volumetric efficiency over swept ratio, 0 or more.

    Returns:
        [1]: delivery − demand × PR; falls with pressure ratio.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass, PR − δ = η_v X (T_m/T₁)/η_e.

    >>> round(float(flow_surplus(1.8, 0.05, 1.0, 1.0, 0.0, 0.3, 0.5)), 4)
    -0.0199
    """
    require("demand", demand, *_OR_MORE)
    made = delivery(pressure_ratio, leak_ratio, effectiveness, coolant_ratio, idle_work, slope)
    return made - demand * pressure_ratio


def engine_efficiency_from_rating(
    swept: Real, delivered: Real, pressure_ratio: Real, cooler_drop_ratio: Real = 0.0
) -> Real:
    """Engine volumetric efficiency that makes the balance pass through a stated rating.

    Args:
        swept [1]: swept ratio at the rating, 1e-3 to 1e3.
        delivered [1]: not checked: `delivery` gives it, at the rating.
        pressure_ratio [1]: blower outlet over inlet pressure at the rating, 1 to 10.
        cooler_drop_ratio [1]: charge-cooler pressure drop over inlet pressure, 0 to 1.

    Returns:
        [1]: volumetric efficiency referred to the manifold. Outside 0.75 to 1.20 the rating and
        the dimensions do not agree.

    Raises:
        DomainError: an argument outside its range.

    Source: the balance of `flow_surplus`, solved for the engine.

    >>> round(engine_efficiency_from_rating(1.7, 0.9919, 1.8035), 3)
    0.935
    """
    require("swept", swept, *_SWEPT)
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    require("cooler_drop_ratio", cooler_drop_ratio, *_SHARE)
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
        engine_efficiency [1]: engine volumetric efficiency, 0.1 to 5.
        pressure_ratio [1]: wanted blower outlet over inlet pressure, 1 to 10.
        cooler_drop_ratio [1]: charge-cooler pressure drop over inlet pressure, 0 to 1.
        sweep_per_ratio [1]: swept ratio at drive ratio 1, 1e-3 to 1e3.
        leak_per_ratio [1]: leakage speed over rotor speed at drive ratio 1, 0 or more.
        tight [1]: without leakage or losses with speed; not checked: `delivery` gives it.
        lost [1]: how much less it is at leak ratio 1; not checked: likewise.

    Returns:
        [1]: drive ratio without losses that grow with speed; `share_of_drive_ratio` of it is
        enough with them. Leakage is inversely proportional to it: a linear equation.

    Raises:
        DomainError: an argument outside its range.

    Source: the balance of `flow_surplus`, solved for the drive.

    >>> round(drive_ratio_for(0.935, 1.8035, 0.0, 0.85, 0.08, 1.06, 1.70), 4)
    2.0
    """
    require("engine_efficiency", engine_efficiency, *_ENGINE_EFFICIENCY)
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    require("cooler_drop_ratio", cooler_drop_ratio, *_SHARE)
    require("sweep_per_ratio", sweep_per_ratio, *_SWEPT)
    require("leak_per_ratio", leak_per_ratio, *_OR_MORE)
    taken = engine_efficiency * (pressure_ratio - cooler_drop_ratio) / sweep_per_ratio
    return (taken + leak_per_ratio * lost) / tight


def gauge_boost(
    pressure_ratio: Real, inlet_pressure: Real, cooler_drop: Real, ambient_pressure: Real
) -> Real:
    """Boost above the outside air at the manifold.

    Args:
        pressure_ratio [1]: blower outlet over inlet pressure, 1 to 10.
        inlet_pressure [Pa]: at the blower inlet, absolute, 1e4 to 2e5.
        cooler_drop [Pa]: pressure drop over the charge cooler, 0 to 1e5.
        ambient_pressure [Pa]: outside air, absolute, 1e4 to 2e5.

    Returns:
        [Pa]: boost; below 0 where there is less than outside.

    Raises:
        DomainError: an argument outside its range.

    Source: definition.

    >>> gauge_boost(1.8, 100e3, 4e3, 101e3)
    75000.0
    """
    require("pressure_ratio", pressure_ratio, *_PRESSURE_RATIO)
    require("inlet_pressure", inlet_pressure, *_PRESSURE)
    require("cooler_drop", cooler_drop, *_PRESSURE_DROP)
    require("ambient_pressure", ambient_pressure, *_PRESSURE)
    return pressure_ratio * inlet_pressure - cooler_drop - ambient_pressure


def swept_mass_flow(
    displacement: Real, speed: Real, inlet_pressure: Real, inlet_temperature: Real
) -> Real:
    """Mass of inlet air that the rotors sweep in a second.

    Args:
        displacement [m^3]: swept volume for one rotor revolution, 1e-4 to 0.02.
        speed [1/s]: rotor revolutions per second, 0 to 1e5.
        inlet_pressure [Pa]: at the blower inlet, absolute, 1e4 to 2e5.
        inlet_temperature [K]: at the blower inlet, 200 to 600.

    Returns:
        [kg/s]: mass flow, of which the volumetric efficiency is delivered.

    Raises:
        DomainError: an argument outside its range.

    Source: ideal gas.

    >>> round(swept_mass_flow(2.6e-3, 200.0, 100e3, 298.15), 4)
    0.6076
    """
    require("displacement", displacement, *_DISPLACEMENT)
    require("speed", speed, *_ROTOR_SPEED)
    require("inlet_pressure", inlet_pressure, *_PRESSURE)
    require("inlet_temperature", inlet_temperature, *_TEMPERATURE)
    return displacement * speed * inlet_pressure / inlet_temperature / R_AIR


def shaft_power(work: Real, mass_flow: Real, inlet_temperature: Real) -> Real:
    """Power to turn the blower.

    Args:
        work [1]: shaft work on the swept volume over γ/(γ−1)·p₁V₁; not checked: at pressure ratio
            1 a rounding may put it below 0.
        mass_flow [kg/s]: from `swept_mass_flow`, 0 or more.
        inlet_temperature [K]: at the blower inlet, 200 to 600.

    Returns:
        [W]: power.

    Raises:
        DomainError: an argument outside its range.

    Source: γ/(γ−1)·p₁V₁ is c_p·T₁ for each kilogram of inlet air.

    >>> round(shaft_power(0.25, 0.6, 298.15))
    44932
    """
    require("mass_flow", mass_flow, *_OR_MORE)
    require("inlet_temperature", inlet_temperature, *_TEMPERATURE)
    return work * mass_flow * inlet_temperature * CP_AIR
