"""Engine power from air, weather correction, and how far the charge is compressed.

Power from air flow is an estimate: it holds as well as the mixture and the specific fuel
consumption are known, so it is worked out at both ends of `LAMBDA_BAND` and `BSFC_BAND`.
Weather correction follows the standards' own formulas, rounding of the absolute temperature
scale included. The compression figures compare one set-up with another and flag what is for the
calibrator: no prediction of knock, and no basis for a spark curve.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from calc.constants import GAMMA_AIR, R_AIR
from calc.domain import Real, require

LAMBDA_BAND: Final = (0.77, 0.83)
"""Mixture at full load, rich and lean end: 11.3 to 12.2 on the gasoline scale. Common practice."""

MIXTURE_BAND: Final = (14.7 * LAMBDA_BAND[0], 14.7 * LAMBDA_BAND[1])
"""The same as an air-fuel ratio on the gasoline scale."""

LAMBDA_STRAY: Final = 0.03
"""How far the mixture may lie from the one entered, either way: half of `LAMBDA_BAND`."""

LAMBDA_NEAR, LAMBDA_LIMIT = 0.85, 0.90
"""Mixture from which full load under boost is nearly too lean, and too lean. Common practice."""

BSFC_BAND: Final = (335e-3 / 3.6e6, 395e-3 / 3.6e6)
"""Specific fuel consumption at full load on gasoline, blower drive included, kg/J; 335 to
395 g/kWh or 0.55 to 0.65 lb/(hp·h). Common practice."""

FACTOR_LIMITS: Final = (0.93, 1.07)
"""A corrected power counts as a rating only if the factor lies between these.
ISO 1585, UN Regulation No. 85 and SAE J1349, from memory."""

TEST_TEMPERATURE_LIMITS: Final = (288.15, 308.15)
"""Intake air temperature of a rating test, K. SAE J1349 and ISO 1585, from memory."""

OCTANE_SENSITIVITY: Final = 9.0
"""RON less MON of pump gasoline; 8 to 10. Common practice."""

KNOCK_LEVEL: Final = 16.0
"""r·PR from which 95 RON and a charge of 50 °C are for the calibrator. Common practice."""

KNOCK_NEAR: Final = 1.5
"""How far under the line of r·PR it is near. Common practice."""

_LINE_OCTANE: Final = 95.0
_LINE_TEMPERATURE: Final = 323.15
_KELVIN_PER_OCTANE: Final = 7.0
_LINE_PER_OCTANE: Final = 1.75 / 5.0
_REFERENCE_PRESSURE: Final = 99_000.0
_REFERENCE_TEMPERATURE: Final = 298.0
_STANDARDS_OFFSET: Final = 0.15


def brake_power(air_flow: Real, air_fuel_ratio: Real, bsfc: Real) -> Real:
    """Power that an engine makes of the air it is given.

    Args:
        air_flow [kg/s]: mass of air per second, 0 to 5.
        air_fuel_ratio [1]: by mass, 5 to 25.
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.

    Returns:
        [W]: brake power, at the site, uncorrected.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, Internal Combustion Engine Fundamentals, ch. 2: definitions of air-fuel ratio
        and specific fuel consumption, P = ṁ_air/(AFR·BSFC).

    >>> round(brake_power(0.55, 11.7, 365e-3 / 3.6e6))
    463646
    """
    require("air_flow", air_flow, 0.0, 5.0)
    _require_mixture(air_fuel_ratio, bsfc)
    return air_flow / (air_fuel_ratio * bsfc)


def air_flow_for_power(power: Real, air_fuel_ratio: Real, bsfc: Real) -> Real:
    """Air that an engine needs for a wanted power.

    Args:
        power [W]: brake power, 0 to 2e6.
        air_fuel_ratio [1]: by mass, 5 to 25.
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.

    Returns:
        [kg/s]: mass of air per second.

    Raises:
        DomainError: an argument outside its range.

    Source: `brake_power` solved for the air.

    >>> round(air_flow_for_power(463646.0, 11.7, 365e-3 / 3.6e6), 3)
    0.55
    """
    require("power", power, 0.0, 2e6)
    _require_mixture(air_fuel_ratio, bsfc)
    return power * (air_fuel_ratio * bsfc)


def bsfc_of_stray_mixture(bsfc: Real, excess_air: Real, stray: Real) -> Real:
    """Consumption as it looks at the mixture meant, where the engine runs leaner or richer.

    Args:
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.
        excess_air [1]: λ that is meant, 0.5 to 1.5.
        stray [1]: how much leaner it is, -0.1 to 0.1; less than 0 for richer.

    Returns:
        [kg/J]: consumption that makes the same power of the same air at the mixture meant.

    Raises:
        DomainError: an argument outside its range.

    Source: `brake_power`: air for a unit of work is AFR·BSFC, and AFR is in proportion to λ.

    >>> round(bsfc_of_stray_mixture(1e-7, 0.8, 0.04) * 1e7, 6)
    1.05
    """
    require("bsfc", bsfc, 4e-8, 3e-7)
    require("excess_air", excess_air, 0.5, 1.5)
    require("stray", stray, -0.1, 0.1)
    return bsfc * (excess_air + stray) / excess_air


def bsfc_for_mean_power(one: Real, other: Real) -> Real:
    """Consumption at which an engine makes the mean of what it makes at two consumptions.

    Args:
        one [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.
        other [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.

    Returns:
        [kg/J]: specific fuel consumption; the harmonic mean.

    Raises:
        DomainError: an argument outside its range.

    Source: of the same fuel ṁ each makes ṁ/BSFC, so that the mean is ṁ·½·(1/one + 1/other).

    >>> round(bsfc_for_mean_power(335e-3 / 3.6e6, 395e-3 / 3.6e6) * 3.6e9, 1)
    362.5
    """
    require("one", one, 4e-8, 3e-7)
    require("other", other, 4e-8, 3e-7)
    return 2.0 / (1.0 / one + 1.0 / other)


def _require_mixture(air_fuel_ratio: Real, bsfc: Real) -> None:
    """Check what both directions of the power estimate share."""
    require("air_fuel_ratio", air_fuel_ratio, 5.0, 25.0)
    require("bsfc", bsfc, 4e-8, 3e-7)


def engine_air_flow(
    manifold_pressure: Real,
    charge_temperature: Real,
    displacement: Real,
    rev_per_s: Real,
    volumetric_efficiency: Real,
) -> Real:
    """Air that a four-stroke engine takes out of its manifold.

    Args:
        manifold_pressure [Pa]: absolute, 20000 to 500000.
        charge_temperature [K]: in the manifold, 200 to 600.
        displacement [m^3]: all cylinders, 5e-4 to 0.02.
        rev_per_s [1/s]: crankshaft speed, 1 to 200.
        volumetric_efficiency [1]: referred to the manifold, 0.3 to 1.5.

    Returns:
        [kg/s]: mass of air per second.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, Internal Combustion Engine Fundamentals, ch. 2: definition of volumetric
        efficiency, ṁ = η_v·ρ·V_d·n/2, with the perfect gas law for the density.

    >>> round(float(engine_air_flow(180e3, 328.0, 5.6e-3, 100.0, 0.95)), 4)
    0.5085
    """
    require("manifold_pressure", manifold_pressure, 2e4, 5e5)
    taken = _volume_taken(charge_temperature, displacement, rev_per_s, volumetric_efficiency)
    return manifold_pressure * taken / (R_AIR * charge_temperature)


def manifold_pressure_for_air_flow(
    air_flow: Real,
    charge_temperature: Real,
    displacement: Real,
    rev_per_s: Real,
    volumetric_efficiency: Real,
) -> Real:
    """Manifold pressure at which a four-stroke engine takes an air flow.

    Args:
        air_flow [kg/s]: mass of air per second, 0 to 5.
        charge_temperature [K]: in the manifold, 200 to 600.
        displacement [m^3]: all cylinders, 5e-4 to 0.02.
        rev_per_s [1/s]: crankshaft speed, 1 to 200.
        volumetric_efficiency [1]: referred to the manifold, 0.3 to 1.5.

    Returns:
        [Pa]: absolute pressure.

    Raises:
        DomainError: an argument outside its range.

    Source: `engine_air_flow` solved for the pressure.

    >>> round(float(manifold_pressure_for_air_flow(0.5085, 328.0, 5.6e-3, 100.0, 0.95)), -2)
    180000.0
    """
    require("air_flow", air_flow, 0.0, 5.0)
    taken = _volume_taken(charge_temperature, displacement, rev_per_s, volumetric_efficiency)
    return air_flow * (R_AIR * charge_temperature) / taken


def _volume_taken(
    charge_temperature: Real, displacement: Real, rev_per_s: Real, volumetric_efficiency: Real
) -> Real:
    """Check what both directions share, and return the volume taken each second, m³/s."""
    require("charge_temperature", charge_temperature, 200.0, 600.0)
    require("displacement", displacement, 5e-4, 0.02)
    require("rev_per_s", rev_per_s, 1.0, 200.0)
    require("volumetric_efficiency", volumetric_efficiency, 0.3, 1.5)
    return volumetric_efficiency * displacement * rev_per_s / 2.0


def brake_efficiency(bsfc: Real, lower_heating_value: Real) -> Real:
    """Share of the fuel's heat that comes out as work.

    Args:
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.
        lower_heating_value [J/kg]: 1.5e7 to 5e7.

    Returns:
        [1]: brake thermal efficiency.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, ch. 2: η = 1/(BSFC·Q_LHV).

    >>> round(brake_efficiency(335e-3 / 3.6e6, 43.4e6), 3)
    0.248
    """
    require("bsfc", bsfc, 4e-8, 3e-7)
    require("lower_heating_value", lower_heating_value, 1.5e7, 5e7)
    return 1.0 / (bsfc * lower_heating_value)


def torque_from_power(power: Real, rev_per_s: Real) -> Real:
    """Crankshaft torque at a power and speed.

    Args:
        power [W]: 0 to 2e6.
        rev_per_s [1/s]: crankshaft speed, 1 to 200.

    Returns:
        [N*m]: torque.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of mechanical power, M = P/(2π·n).

    >>> round(float(torque_from_power(450e3, 100.0)), 1)
    716.2
    """
    require("power", power, 0.0, 2e6)
    require("rev_per_s", rev_per_s, 1.0, 200.0)
    return power / (2.0 * np.pi * rev_per_s)


def j1349_factor(dry_pressure: Real, temperature: Real) -> Real:
    """Factor from measured to rated power, North American net power rating.

    Applies where a power is stated or compared as SAE net, from an engine or chassis
    dynamometer. Friction, taken as 15 % of the indicated power, is left uncorrected. Beyond
    `FACTOR_LIMITS` and `TEST_TEMPERATURE_LIMITS` the result is a comparison, not a rating.

    Args:
        dry_pressure [Pa]: barometer less vapour pressure, 60000 to 110000.
        temperature [K]: intake air, 263.15 to 323.15.

    Returns:
        [1]: multiply the measured power by it.

    Raises:
        DomainError: pressure or temperature outside its range.

    Source: SAE J1349 (June 1990), as commonly restated:
        1.18·(990/p_d)·√((t + 273)/298) − 0.18, p_d in mbar and t in °C. A widely copied form in
        inHg and °F divides by 505; 25 °C is 537 °R, so that form is wrong.

    >>> round(float(j1349_factor(95000.0, 303.15)), 4)
    1.0599
    """
    _require_weather(dry_pressure, temperature)
    density_part: Real = _REFERENCE_PRESSURE / dry_pressure * np.sqrt(_kelvin_ratio(temperature))
    return 1.18 * density_part - 0.18


def iso1585_factor(dry_pressure: Real, temperature: Real) -> Real:
    """Factor from measured to rated power, international net power rating, spark ignition.

    Applies where a power is declared to ISO 1585 or to UN Regulation No. 85, as outside North
    America. Beyond `FACTOR_LIMITS` and `TEST_TEMPERATURE_LIMITS` the result is a comparison, not
    a rating.

    Args:
        dry_pressure [Pa]: barometer less vapour pressure, 60000 to 110000.
        temperature [K]: intake air, 263.15 to 323.15.

    Returns:
        [1]: multiply the measured power by it.

    Raises:
        DomainError: pressure or temperature outside its range.

    Source: ISO 1585 and UN Regulation No. 85, as commonly restated:
        (99/p_s)^1.2·(T/298)^0.6, p_s in kPa, T = t + 273.

    >>> round(float(iso1585_factor(95000.0, 303.15)), 5)
    1.06128
    """
    _require_weather(dry_pressure, temperature)
    return (_REFERENCE_PRESSURE / dry_pressure) ** 1.2 * _kelvin_ratio(temperature) ** 0.6


def _require_weather(dry_pressure: Real, temperature: Real) -> None:
    """Check what the weather factors share."""
    require("dry_pressure", dry_pressure, 6e4, 1.1e5)
    require("temperature", temperature, 263.15, 323.15)


def _kelvin_ratio(temperature: Real) -> Real:
    """Temperature over reference on the standards' scale, where 25 °C is written 298 K."""
    return (temperature - _STANDARDS_OFFSET) / _REFERENCE_TEMPERATURE


def corrected_power(measured_power: Real, factor: Real) -> Real:
    """Power referred to the standard's weather, once.

    A blower on a fixed pulley does not compensate for the weather. An engine whose control holds
    boost or air flow against it has already done so and must not be corrected a second time, nor
    a power that was predicted for standard weather.

    Args:
        measured_power [W]: 0 to 2e6.
        factor [1]: from `j1349_factor` or `iso1585_factor`, 0.5 to 2.

    Returns:
        [W]: corrected power.

    Raises:
        DomainError: an argument outside its range.

    Source: UN Regulation No. 85, as summarised in GRPE-70-02: no correction of a supercharged
        engine that compensates for ambient conditions.

    >>> corrected_power(400e3, 1.05)
    420000.0
    """
    require("measured_power", measured_power, 0.0, 2e6)
    require("factor", factor, 0.5, 2.0)
    return measured_power * factor


def charge_density_ratio(pressure_ratio: Real, temperature_ratio: Real) -> Real:
    """Density of the charge in the manifold over that of the outside air.

    Args:
        pressure_ratio [1]: manifold over ambient, absolute, 0.5 to 5.
        temperature_ratio [1]: charge over ambient, absolute, 0.7 to 2.

    Returns:
        [1]: density ratio; power is roughly in proportion to it.

    Raises:
        DomainError: a ratio outside its range.

    Source: perfect gas law.

    >>> charge_density_ratio(1.8, 1.2)
    1.5
    """
    require("pressure_ratio", pressure_ratio, 0.5, 5.0)
    require("temperature_ratio", temperature_ratio, 0.7, 2.0)
    return pressure_ratio / temperature_ratio


def pressure_compression_product(compression_ratio: Real, pressure_ratio: Real) -> Real:
    """Effective compression ratio by the custom of the trade's charts, r·PR.

    Args:
        compression_ratio [1]: geometric, 5 to 20.
        pressure_ratio [1]: manifold over ambient, absolute, 0.5 to 5.

    Returns:
        [1]: effective compression ratio, larger than `effective_compression_ratio` gives.

    Raises:
        DomainError: a ratio outside its range.

    Source: common practice: charge drawn in, as a volume at ambient pressure, over the chamber.

    >>> round(pressure_compression_product(9.0, 2.0), 1)
    18.0
    """
    require("compression_ratio", compression_ratio, 5.0, 20.0)
    require("pressure_ratio", pressure_ratio, 0.5, 5.0)
    return compression_ratio * pressure_ratio


def effective_compression_ratio(compression_ratio: Real, pressure_ratio: Real) -> Real:
    """Effective compression ratio by end pressure, r·PR^(1/γ): the same pressure without boost.

    Args:
        compression_ratio [1]: geometric, 5 to 20.
        pressure_ratio [1]: manifold over ambient, absolute, 0.5 to 5.

    Returns:
        [1]: equivalent compression ratio, for comparing set-ups only.

    Raises:
        DomainError: a ratio outside its range.

    Source: isentropic compression, p·r^γ = p₀·r_e^γ, so r_e = r·(p/p₀)^(1/γ). The
        trade's charts have r·p/p₀ instead, see `pressure_compression_product`.

    >>> round(float(effective_compression_ratio(10.0, 1.8)), 2)
    15.22
    """
    require("compression_ratio", compression_ratio, 5.0, 20.0)
    require("pressure_ratio", pressure_ratio, 0.5, 5.0)
    return compression_ratio * pressure_ratio ** (1.0 / GAMMA_AIR)


def end_of_compression_temperature(
    charge_temperature: Real, compression_ratio: Real, exponent: Real
) -> Real:
    """Temperature of the unburned charge at top dead centre, for comparing set-ups.

    Args:
        charge_temperature [K]: at the start of compression, 233.15 to 473.15.
        compression_ratio [1]: geometric, 5 to 20.
        exponent [1]: polytropic exponent, 1.2 to 1.4; about 1.3 for gasoline mixture.

    Returns:
        [K]: temperature without combustion, residual gas or heat from the walls.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, ch. 9: polytropic compression, T₂ = T₁·r^(n − 1), n = 1.3 ± 0.05.

    >>> round(float(end_of_compression_temperature(320.0, 10.0, 1.3)), 1)
    638.5
    """
    require("charge_temperature", charge_temperature, 233.15, 473.15)
    require("compression_ratio", compression_ratio, 5.0, 20.0)
    require("exponent", exponent, 1.2, 1.4)
    return charge_temperature * compression_ratio ** (exponent - 1.0)


def research_octane_number(anti_knock_index: Real) -> Real:
    """Research octane number of a pump gasoline that is sold by its anti-knock index.

    Args:
        anti_knock_index [1]: AKI, (R+M)/2 on the pump, 60 to 130.

    Returns:
        [1]: RON, to one octane number.

    Raises:
        DomainError: index outside its range.

    Source: AKI = (RON + MON)/2, and RON less MON is 8 to 10 for pump gasoline, taken as
        `OCTANE_SENSITIVITY`; common practice.

    >>> research_octane_number(91.0)
    95.5
    """
    require("anti_knock_index", anti_knock_index, 60.0, 130.0)
    return anti_knock_index + OCTANE_SENSITIVITY / 2.0


def knock_line(research_octane: Real, charge_temperature: Real) -> Real:
    """Effective compression r·PR from which a charge-cooled engine is for the calibrator first.

    A flag, not a forecast: chamber, mixture, coolant, exhaust and spark move it by several points.

    Args:
        research_octane [1]: RON, 70 to 135.
        charge_temperature [K]: in the manifold at full load, 233.15 to 473.15.

    Returns:
        [1]: r·PR; on the trade's charts, not by end pressure.

    Raises:
        DomainError: an argument outside its range.

    Source: level of 16 at 95 RON and 50 °C: common practice. Slopes: Russ, SAE 960497, 5 octane
        numbers for a point of compression ratio and 1 for 7 K of intake air; a point of
        compression ratio counts as 1.75 of r·PR, at the pressure ratio of 0.75 bar of boost.

    >>> round(knock_line(98.0, 323.15), 2)
    17.05
    """
    require("research_octane", research_octane, 70.0, 135.0)
    require("charge_temperature", charge_temperature, 233.15, 473.15)
    octane_over = research_octane - _LINE_OCTANE
    spent = (charge_temperature - _LINE_TEMPERATURE) / _KELVIN_PER_OCTANE
    return KNOCK_LEVEL + _LINE_PER_OCTANE * (octane_over - spent)
