"""The air that the engine is given: standard atmosphere, humidity, density.

Covers the troposphere of ISO 2533 (geopotential altitude −2 to 11 km; the height on a map is
geometric, 4 m more at 5 km) and humid air as a mixture of two perfect gases. Leaves out the
real-gas and enhancement corrections (below 0.5 % of the vapour pressure in weather) and any weather
forecast: a barometer is better than the altitude.
"""

from __future__ import annotations

import numpy as np

from calc.constants import G0, LAPSE_RATE, P_STANDARD, R_AIR, T_STANDARD
from calc.domain import Real, require

_BAROMETRIC_EXPONENT = G0 / (LAPSE_RATE * R_AIR)
_LOWEST, _TROPOPAUSE = -2000.0, 11_000.0

_WATER_CRITICAL_TEMPERATURE = 647.096
_WATER_CRITICAL_PRESSURE = 22.064e6
_WATER_TRIPLE_TEMPERATURE = 273.16
# A little more than -40 to 100 °C, whose conversion to kelvin can miss by its last bit.
_COLDEST_WATER, _HOTTEST_WATER = 233.1, 373.2
_SATURATION_TERMS = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


def temperature_at_altitude(altitude: Real) -> Real:
    """Temperature of the standard atmosphere.

    Args:
        altitude [m]: geopotential altitude, -2000 to 11000.

    Returns:
        [K]: air temperature.

    Raises:
        DomainError: altitude outside its range.

    Source: ISO 2533:1975, troposphere: T = T₀ + β·H, β = −6.5 K/km.

    >>> temperature_at_altitude(2000.0)
    275.15
    """
    require("altitude", altitude, _LOWEST, _TROPOPAUSE)
    return T_STANDARD - LAPSE_RATE * altitude


def pressure_at_altitude(altitude: Real) -> Real:
    """Pressure of the standard atmosphere.

    Args:
        altitude [m]: geopotential altitude, -2000 to 11000.

    Returns:
        [Pa]: absolute air pressure.

    Raises:
        DomainError: altitude outside its range.

    Source: ISO 2533:1975, barometric formula: p = p₀·(1 + β·H/T₀)^(−g/(β·R)), exponent 5.25588.

    >>> float(pressure_at_altitude(1000.0))
    89874.6
    """
    ratio: Real = temperature_at_altitude(altitude) / T_STANDARD
    return P_STANDARD * ratio**_BAROMETRIC_EXPONENT


def dry_air_density(pressure: Real, temperature: Real) -> Real:
    """Density of dry air as a perfect gas.

    Args:
        pressure [Pa]: absolute, 1000 to 1000000.
        temperature [K]: 200 to 600.

    Returns:
        [kg/m^3]: density; real air at 15 °C and 1 atm is 0.04 % denser.

    Raises:
        DomainError: pressure or temperature outside its range.

    Source: ISO 2533:1975, perfect gas law: ρ = p/(R·T).

    >>> float(dry_air_density(101325.0, 288.15))
    1.2250
    """
    require("pressure", pressure, 1e3, 1e6)
    require("temperature", temperature, 200.0, 600.0)
    return pressure / (R_AIR * temperature)


def saturation_pressure(temperature: Real) -> Real:
    """Vapour pressure of saturated air over liquid water.

    Below the triple point the water is taken as supercooled, not as ice, because weather
    stations state relative humidity against liquid water at all temperatures (WMO-No. 8).

    Args:
        temperature [K]: 233.1 to 373.2, which holds -40 to 100 °C.

    Returns:
        [Pa]: saturation pressure; good to 0.01 % above the triple point and 1 % at 233 K.

    Raises:
        DomainError: temperature outside its range.

    Source: IAPWS SR1-86(1992), Wagner & Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783, eq. (1),
        above 273.16 K; Murphy & Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, eq. (10), below.

    >>> float(saturation_pressure(298.15))
    3169.9
    """
    require("temperature", temperature, _COLDEST_WATER, _HOTTEST_WATER)
    warm = temperature >= _WATER_TRIPLE_TEMPERATURE
    result: Real = np.where(warm, _saturation_warm(temperature), _saturation_cold(temperature))[()]
    return result


def _saturation_warm(temperature: Real) -> Real:
    """Saturation line between the triple and the critical point."""
    tau: Real = 1.0 - temperature / _WATER_CRITICAL_TEMPERATURE
    total: Real = sum((a * tau**n for a, n in _SATURATION_TERMS), 0.0 * tau)
    exponent: Real = _WATER_CRITICAL_TEMPERATURE / temperature * total
    return _WATER_CRITICAL_PRESSURE * np.exp(exponent)


def _saturation_cold(temperature: Real) -> Real:
    """Saturation over supercooled liquid water."""
    log_t: Real = np.log(temperature)
    base: Real = 54.842763 - 6763.22 / temperature - 4.210 * log_t + 0.000367 * temperature
    step: Real = 53.878 - 1331.22 / temperature - 9.44523 * log_t + 0.014025 * temperature
    result: Real = np.exp(base + np.tanh(0.0415 * (temperature - 218.8)) * step)
    return result


def vapour_pressure(saturation: Real, relative_humidity: Real) -> Real:
    """Partial pressure of the water vapour in humid air.

    Args:
        saturation [Pa]: from `saturation_pressure`, 0 to 102000.
        relative_humidity [1]: against liquid water, 0 to 1.

    Returns:
        [Pa]: partial pressure of the vapour.

    Raises:
        DomainError: saturation pressure or humidity outside its range.

    Source: WMO-No. 8 (2018), annex 4.A: definition of relative humidity.

    >>> float(vapour_pressure(saturation_pressure(298.15), 0.5))
    1584.9
    """
    require("saturation", saturation, 0.0, 1.02e5)
    require("relative_humidity", relative_humidity, 0.0, 1.0)
    return relative_humidity * saturation


def dry_air_pressure(pressure: Real, saturation: Real, relative_humidity: Real) -> Real:
    """Partial pressure of the dry air in humid air: the part that an engine can burn with.

    Args:
        pressure [Pa]: barometer, absolute, not reduced to sea level, 20000 to 130000.
        saturation [Pa]: from `saturation_pressure`, 0 to 20000, which is reached at 60 °C.
        relative_humidity [1]: against liquid water, 0 to 1.

    Returns:
        [Pa]: partial pressure of the dry air.

    Raises:
        DomainError: an argument outside its range.

    Source: Dalton's law; the dry barometric pressure of SAE J1349 and ISO 1585.

    >>> float(dry_air_pressure(101325.0, saturation_pressure(298.15), 0.5))
    99740.0
    """
    require("pressure", pressure, 2e4, 1.3e5)
    require("saturation", saturation, 0.0, 2e4)
    return pressure - vapour_pressure(saturation, relative_humidity)
