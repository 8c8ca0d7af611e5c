"""What the throttle, the filter and the pipe cost on the suction side of the blower.

The throttle is an isentropic nozzle with a discharge coefficient: steady flow, perfect gas, inlet
velocity neglected, no pressure recovered behind the plate. Filter and pipe follow one measured
point. Left out: pulsation, plates that throw a jet into the blower's inlet, and the discharge
coefficient itself, which only a flow bench can give.

Everything about the nozzle is one dimensionless curve: `flow_parameter` is a product of powers of
the entered values, and `flow_function` ties it to the pressure ratio.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from calc.constants import GAMMA_AIR, R_AIR
from calc.domain import Real, require
from calc.solve import root_between

_PRESSURE: Final = (2e4, 5e5)


def critical_pressure_ratio(gamma: Real = GAMMA_AIR) -> Real:
    """Pressure ratio below which the downstream pressure no longer changes the flow.

    Args:
        gamma [1]: ratio of specific heats, 1.05 to 1.7.

    Returns:
        [1]: downstream over upstream absolute pressure.

    Raises:
        DomainError: gamma outside its range.

    Source: ISO 9300, ideal critical flow: (2/(γ + 1))^(γ/(γ − 1)).

    >>> round(critical_pressure_ratio(), 5)
    0.52828
    """
    require("gamma", gamma, 1.05, 1.7)
    return (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0))


def flow_function(pressure_ratio: Real, gamma: Real = GAMMA_AIR) -> Real:
    """Dimensionless mass flow Φ = ṁ·√(R·T)/(A·p) of a nozzle.

    Falls from the choked value to zero as the pressure ratio rises from critical to 1, and is
    constant below critical.

    Args:
        pressure_ratio [1]: downstream over upstream absolute pressure, 0 to 1.
        gamma [1]: ratio of specific heats, 1.05 to 1.7.

    Returns:
        [1]: flow function; at most 0.684731 for air.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, app. C, and ISO 9300: Φ = r^(1/γ)·√(2γ/(γ − 1)·(1 − r^((γ − 1)/γ))).

    >>> round(float(flow_function(0.5)), 6)
    0.684731
    """
    require("pressure_ratio", pressure_ratio, 0.0, 1.0)
    ratio: Real = np.maximum(pressure_ratio, critical_pressure_ratio(gamma))
    return _flow_function(1.0 - ratio, gamma)


def _flow_function(depression: Real, gamma: Real) -> Real:
    """Subsonic flow function of the relative depression, exact down to the smallest one."""
    log_ratio: Real = np.log1p(-depression)
    drop: Real = -np.expm1((gamma - 1.0) / gamma * log_ratio)
    result: Real = np.exp(log_ratio / gamma) * np.sqrt(2.0 * gamma / (gamma - 1.0) * drop)
    return result


def relative_depression(flow: Real, gamma: Real = GAMMA_AIR) -> Real:
    """Share of the upstream pressure that a nozzle takes away at a dimensionless flow.

    The inverse of `flow_function` on its subsonic branch. For small flows it is near Φ²/2, so it
    is best tabulated over the square of the flow.

    Args:
        flow [1]: dimensionless flow Φ from `flow_parameter`, 0 to 10.
        gamma [1]: ratio of specific heats, 1.05 to 1.7.

    Returns:
        [1]: 1 − pressure ratio; NaN where no pressure ratio passes that much, because the
            opening is choked.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, app. C, solved for the pressure ratio by `root_between`.

    >>> round(float(relative_depression(0.2)), 6)
    0.020448
    """
    require("flow", flow, 0.0, 10.0)
    choked = 1.0 - critical_pressure_ratio(gamma)
    return root_between(lambda share: _flow_function(share, gamma), 0.0, choked, target=flow)


def flow_parameter(mass_flow: Real, area: Real, pressure: Real, temperature: Real) -> Real:
    """Dimensionless flow that an opening is asked to pass: a product of powers.

    Args:
        mass_flow [kg/s]: 0 to 5.
        area [m^2]: effective area, 1e-6 to 0.5.
        pressure [Pa]: upstream, absolute, 20000 to 500000.
        temperature [K]: upstream, 200 to 600.

    Returns:
        [1]: Φ = ṁ·√(R·T)/(A·p).

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, app. C, made dimensionless.

    >>> round(float(flow_parameter(0.5, 0.005, 101325.0, 298.15)), 4)
    0.2887
    """
    require("mass_flow", mass_flow, 0.0, 5.0)
    _require_upstream(area, pressure, temperature)
    return mass_flow * np.sqrt(R_AIR * temperature) / (area * pressure)


def _require_upstream(area: Real, pressure: Real, temperature: Real) -> None:
    """Check what describes the opening and the air before it."""
    require("area", area, 1e-6, 0.5)
    require("pressure", pressure, *_PRESSURE)
    require("temperature", temperature, 200.0, 600.0)


def _mass_flow(area: Real, pressure: Real, temperature: Real, flow: Real) -> Real:
    """Mass flow at a dimensionless flow."""
    return flow * area * pressure / np.sqrt(R_AIR * temperature)


def choked_mass_flow(area: Real, pressure: Real, temperature: Real) -> Real:
    """The most air that an opening passes, however strong the suction behind it.

    Args:
        area [m^2]: effective area, 1e-6 to 0.5.
        pressure [Pa]: upstream, absolute, 20000 to 500000.
        temperature [K]: upstream, 200 to 600.

    Returns:
        [kg/s]: choked mass flow.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, app. C; ISO 9300, ideal critical flow.

    >>> round(float(choked_mass_flow(0.0057256, 101325.0, 298.15)), 4)
    1.3579
    """
    _require_upstream(area, pressure, temperature)
    return _mass_flow(area, pressure, temperature, float(flow_function(0.0)))


def wide_open_fraction(shaft_ratio: Real) -> Real:
    """Share of the bore that the shaft and plate leave free when the plate is wide open.

    Args:
        shaft_ratio [1]: diameter of the shaft, or thickness of the plate if more, over the bore,
            0 to 0.5.

    Returns:
        [1]: free area over bore area.

    Raises:
        DomainError: ratio outside its range.

    Source: area of a strip across a circle, 1 − (2/π)·(a·√(1 − a²) + asin a): the limit of
        Heywood, eq. (7.18).

    >>> round(float(wide_open_fraction(10.0 / 90.0)), 5)
    0.85882
    """
    require("shaft_ratio", shaft_ratio, 0.0, 0.5)
    covered: Real = shaft_ratio * np.sqrt(1.0 - shaft_ratio**2) + np.arcsin(shaft_ratio)
    return 1.0 - 2.0 / np.pi * covered


def open_area(width: Real, height: Real, shaft: Real, open_fraction: Real) -> Real:
    """Area that is free beside the shaft of a wide-open round or oval throttle.

    An oval is two half circles with a straight between them, and its shaft runs the long way.

    Args:
        width [m]: along the shaft, 0.02 to 0.3; of a round bore its diameter.
        height [m]: across the shaft, 0.02 to 0.2, at most the width.
        shaft [m]: diameter of the shaft, or thickness of the plate if more, 0 to 0.1.
        open_fraction [1]: of the two half circles, `wide_open_fraction` of shaft over height,
            0.001 to 1.

    Returns:
        [m^2]: free area.

    Raises:
        DomainError: an argument outside its range.

    Source: plane geometry, φ·π·h²/4 + (w − h)·(h − s).

    >>> round(open_area(0.13, 0.07, 0.0, 1.0) * 1e6)
    8048
    """
    require("width", width, 0.02, 0.3)
    require("height", height, 0.02, 0.2)
    require("shaft", shaft, 0.0, 0.1)
    require("open_fraction", open_fraction, 1e-3, 1.0)
    ends = open_fraction * (np.pi / 4.0) * height**2
    return ends + (width - height) * (height - shaft)


def effective_area(area: Real, discharge_coefficient: Real, number: Real) -> Real:
    """Area that the nozzle formulas work with, for equal bores side by side.

    Args:
        area [m^2]: of one bore, from `open_area`, 1e-6 to 0.5.
        discharge_coefficient [1]: 0.3 to 1.
        number [1]: equal bores in parallel, 1 to 8.

    Returns:
        [m^2]: effective area of all bores together.

    Raises:
        DomainError: an argument outside its range.

    Source: definition, n·C_d·A.

    >>> round(effective_area(0.0063617, 0.9, 1.0), 7)
    0.0057255
    """
    require("area", area, 1e-6, 0.5)
    require("discharge_coefficient", discharge_coefficient, 0.3, 1.0)
    require("number", number, 1.0, 8.0)
    return number * discharge_coefficient * area


def rated_area(rated_flow: Real, flow: Real, pressure: Real, temperature: Real) -> Real:
    """Effective area of a throttle whose maker states its flow at a drop.

    Args:
        rated_flow [kg/s]: stated air flow, 0.001 to 5.
        flow [1]: `flow_function` at the stated drop, 0.01 to 0.7.
        pressure [Pa]: of the air before it in the maker's test, absolute, 20000 to 500000.
        temperature [K]: of that air, 200 to 600.

    Returns:
        [m^2]: effective area, shaft and discharge coefficient included.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, app. C, solved for the area: A = ṁ·√(R·T)/(Φ·p).

    >>> round(float(rated_area(0.47485, 0.239451, 101325.0, 298.15)), 7)
    0.0057256
    """
    require("rated_flow", rated_flow, 1e-3, 5.0)
    require("flow", flow, 0.01, 0.7)
    require("pressure", pressure, *_PRESSURE)
    require("temperature", temperature, 200.0, 600.0)
    return rated_flow * np.sqrt(R_AIR * temperature) / (flow * pressure)


def scaled_depression(mass_flow: Real, measured_mass_flow: Real, measured_depression: Real) -> Real:
    """Loss of a filter or pipe at another flow of the same air, from one measured point.

    Args:
        mass_flow [kg/s]: 0 to 5.
        measured_mass_flow [kg/s]: at the measured point, 0.001 to 5.
        measured_depression [Pa]: at the measured point, 0 to 50000.

    Returns:
        [Pa]: pressure loss. Turbulent losses follow the law; a clean paper element is partly
            laminar and loses a little more below, a little less above the measured point.

    Raises:
        DomainError: an argument outside its range.

    Source: Darcy-Weisbach with a constant loss coefficient and density: Δp ∝ ṁ².

    >>> scaled_depression(0.6, 0.3, 500.0)
    2000.0
    """
    require("mass_flow", mass_flow, 0.0, 5.0)
    require("measured_mass_flow", measured_mass_flow, 1e-3, 5.0)
    require("measured_depression", measured_depression, 0.0, 5e4)
    flow_ratio: Real = mass_flow / measured_mass_flow
    return measured_depression * flow_ratio**2


def manifold_pressure_lost(pressure_ratio: Real, depression: Real) -> Real:
    """Boost that an inlet depression costs behind a blower on a fixed pulley.

    Pressure ratio is set by swept volumes and temperatures, so what is missing before the blower
    is missing behind it, multiplied.

    Args:
        pressure_ratio [1]: blower outlet over inlet, 1 to 5.
        depression [Pa]: ambient less blower inlet pressure, 0 to 60000.

    Returns:
        [Pa]: boost lost.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass at constant pressure ratio: Δp₂ = PR·Δp₁.

    >>> manifold_pressure_lost(1.8, 3000.0)
    5400.0
    """
    require("pressure_ratio", pressure_ratio, 1.0, 5.0)
    require("depression", depression, 0.0, 6e4)
    return pressure_ratio * depression


def power_fraction_lost(depression: Real, ambient_pressure: Real) -> Real:
    """Share of the power that an inlet depression costs at constant pressure ratio.

    Args:
        depression [Pa]: ambient less blower inlet pressure, 0 to 60000.
        ambient_pressure [Pa]: absolute, 50000 to 110000.

    Returns:
        [1]: share of air, and so of power, that is missing.

    Raises:
        DomainError: an argument outside its range.

    Source: air mass is proportional to blower inlet density; mixture and efficiency unchanged.

    >>> power_fraction_lost(5000.0, 100000.0)
    0.05
    """
    require("depression", depression, 0.0, 6e4)
    require("ambient_pressure", ambient_pressure, 5e4, 1.1e5)
    return depression / ambient_pressure
