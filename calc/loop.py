"""Coolant loop: a circulation pump against hoses, bends, fittings, charge cooler and exchanger.

A pump's curve is held as p = p₀ − a·Q − b·Q², which any two or three of its points give, and which
keeps its form when the pump turns at another speed, pumps a liquid of another density, or works
beside a second one. The loss of the loop is friction and coefficients, which follow from the flow;
near one flow it is as good as A·Q + B·Q², and where that crosses the pump's curve is a square root.
Doing this again at the flow found settles within a few rounds.

Left out: thick liquid, which takes from a pump's curve itself; air in the loop, which takes more
than anything else; and the slip of pumps that displace their liquid.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from calc.constants import G0
from calc.domain import Real, require

VELOCITY_LIMIT: Final = 3.0
"""Velocity of coolant in hoses, m/s. Common practice: 1.5 to 3; more wears and costs pressure."""

WATER_DENSITY: Final = 998.2
"""Water at 20 °C, on which pumps are rated, kg/m³. IAPWS."""

WATER_VISCOSITY: Final = 1.0016e-3
"""Water at 20 °C, Pa·s. IAPWS."""

_FLOW = (0.0, 0.05)
_SOME_FLOW = (1e-7, 0.05)
_SOME_PRESSURE = (1.0, 5e6)
_DENSITY = (600.0, 1200.0)
_LINEAR = (-1e13, 1e13)
_QUADRATIC = (1e-3, 1e20)


@dataclass(frozen=True)
class PumpCurve:
    """A pump's pressure against its flow, p = p₀ − a·Q − b·Q², in SI units."""

    shutoff: Real
    linear: Real
    quadratic: Real

    def pressure(self, flow: Real) -> Real:
        """Return the pressure that it makes at a flow."""
        return self.shutoff - self.linear * flow - self.quadratic * flow**2

    def at_speed(self, speed: Real) -> PumpCurve:
        """Return it at another speed, as a share of that of its curve: the affinity laws."""
        return PumpCurve(self.shutoff * speed**2, self.linear * speed, self.quadratic)

    def with_density(self, ratio: Real) -> PumpCurve:
        """Return it with a liquid so many times as dense: a pump makes so many metres of it."""
        return PumpCurve(self.shutoff * ratio, self.linear * ratio, self.quadratic * ratio)

    def in_series(self, number: Real) -> PumpCurve:
        """Return so many of it, one after the other: pressures add up."""
        return PumpCurve(self.shutoff * number, self.linear * number, self.quadratic * number)

    def in_parallel(self, number: Real) -> PumpCurve:
        """Return so many of it, side by side: flows add up."""
        return PumpCurve(self.shutoff, self.linear / number, self.quadratic / number**2)


def curve_from_rating(flow: Real, pressure: Real) -> PumpCurve:
    """Curve of a usual shape through the one point that a pump is rated at.

    Args:
        flow [m^3/s]: rated flow, 1e-7 to 0.05.
        pressure [Pa]: pressure that it makes at that flow, 1 to 5e6.

    Returns:
        [1]: the curve; a third more pressure with the outlet shut, no pressure at twice the flow.

    Raises:
        DomainError: an argument outside its range.

    Source: single-point pump curve of the US EPA's manual for water networks, EPA/600/R-00/057:
        shut-off pressure 133 % of the rated one, greatest flow twice the rated one.

    >>> curve = curve_from_rating(4e-4, 30e3)
    >>> round(float(curve.pressure(4e-4)), 6), round(float(curve.pressure(8e-4)), 6)
    (30000.0, 0.0)
    """
    require("flow", flow, *_SOME_FLOW)
    require("pressure", pressure, *_SOME_PRESSURE)
    return PumpCurve(4.0 / 3.0 * pressure, 0.0, pressure / 3.0 / flow**2)


def curve_between_ends(shutoff: Real, open_flow: Real) -> PumpCurve:
    """Curve of a pump of which the greatest pressure and the greatest flow are known.

    Args:
        shutoff [Pa]: pressure with the outlet shut, 1 to 5e6.
        open_flow [m^3/s]: flow against no pressure, 1e-7 to 0.05.

    Returns:
        [1]: the curve, which falls with the square of the flow.

    Raises:
        DomainError: an argument outside its range.

    Source: White, Fluid Mechanics, ch. 11: H = H₀ − a·Q².

    >>> round(float(curve_between_ends(40e3, 8e-4).pressure(4e-4)), 6)
    30000.0
    """
    require("shutoff", shutoff, *_SOME_PRESSURE)
    require("open_flow", open_flow, *_SOME_FLOW)
    return PumpCurve(shutoff, 0.0, shutoff / open_flow**2)


def curve_through_point(shutoff: Real, open_flow: Real, flow: Real, pressure: Real) -> PumpCurve:
    """Curve of a pump through both its ends and a point between them.

    Args:
        shutoff [Pa]: pressure with the outlet shut, 1 to 5e6.
        open_flow [m^3/s]: flow against no pressure, 1e-7 to 0.05.
        flow [m^3/s]: of the point between, 1e-7 to 0.05, under `open_flow`.
        pressure [Pa]: of the point between, 1 to 5e6.

    Returns:
        [1]: the parabola through the three points.

    Raises:
        DomainError: an argument outside its range.

    Source: interpolation by a parabola.

    >>> curve = curve_through_point(40e3, 8e-4, 4e-4, 32e3)
    >>> [round(float(curve.pressure(q))) for q in (0.0, 4e-4, 8e-4)]
    [40000, 32000, 0]
    """
    require("shutoff", shutoff, *_SOME_PRESSURE)
    require("open_flow", open_flow, *_SOME_FLOW)
    require("flow", flow, *_SOME_FLOW)
    require("pressure", pressure, *_SOME_PRESSURE)
    quadratic = ((shutoff - pressure) / flow - shutoff / open_flow) / (flow - open_flow)
    return PumpCurve(shutoff, shutoff / open_flow + quadratic * -open_flow, quadratic)


def pump_speed(voltage: Real, rated_voltage: Real) -> Real:
    """Speed of a plain direct-current pump at its voltage, over that of its curve.

    Args:
        voltage [V]: at the pump's own terminals while it runs, 6 to 20.
        rated_voltage [V]: of the curve, 6 to 20.

    Returns:
        [1]: speed over speed.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice: speed follows voltage. Flow then follows speed, pressure its square.

    >>> round(pump_speed(12.2, 13.5), 4)
    0.9037
    """
    require("voltage", voltage, 6.0, 20.0)
    require("rated_voltage", rated_voltage, 6.0, 20.0)
    return voltage / rated_voltage


def core_loss(
    flow: Real,
    measured_flow: Real,
    measured_drop: Real,
    density_ratio: Real,
    viscosity_ratio: Real,
) -> Real:
    """Pressure that a charge cooler or an exchanger takes, from one measured point.

    Args:
        flow [m^3/s]: 0 to 0.05.
        measured_flow [m^3/s]: flow of the measured point, 1e-7 to 0.05.
        measured_drop [Pa]: drop of the measured point, 0 to 5e7.
        density_ratio [1]: density now over that of the measurement, 0.5 to 2.
        viscosity_ratio [1]: viscosity now over that of the measurement, 0.1 to 100.

    Returns:
        [Pa]: pressure loss.

    Raises:
        DomainError: an argument outside its range.

    Source: Blasius (1913), friction in smooth passages: Δp ∝ ρ^0.75·μ^0.25·Q^1.75.

    >>> round(float(core_loss(4e-4, 2e-4, 5e3, 1.0, 1.0)))
    16818
    """
    require("flow", flow, *_FLOW)
    require("measured_flow", measured_flow, *_SOME_FLOW)
    require("measured_drop", measured_drop, 0.0, 5e7)
    require("density_ratio", density_ratio, 0.5, 2.0)
    require("viscosity_ratio", viscosity_ratio, 0.1, 100.0)
    share = flow / measured_flow
    thick: Real = np.sqrt(np.sqrt(viscosity_ratio / (density_ratio * share)))
    return measured_drop * density_ratio * share**2 * thick


def quadratic_part(flow: Real, loss: Real, more_flow: Real, more_loss: Real) -> Real:
    """Quadratic part of a loop's loss near a flow: B of Δp = A·Q + B·Q².

    Args:
        flow [m^3/s]: a flow, 1e-7 to 0.05.
        loss [Pa]: loss there, 0 to 1e12.
        more_flow [m^3/s]: another flow near it, 1e-7 to 0.05.
        more_loss [Pa]: loss there, 0 to 1e12.

    Returns:
        [Pa*s^2/m^6]: B.

    Raises:
        DomainError: an argument outside its range.

    Source: interpolation through both points and nothing at no flow.

    >>> round(quadratic_part(1e-4, 3e3, 2e-4, 10e3))
    200000000000
    """
    require("flow", flow, *_SOME_FLOW)
    require("loss", loss, 0.0, 1e12)
    require("more_flow", more_flow, *_SOME_FLOW)
    require("more_loss", more_loss, 0.0, 1e12)
    return (more_loss / more_flow - loss / flow) / (more_flow - flow)


def linear_part(flow: Real, loss: Real, quadratic: Real) -> Real:
    """Linear part of a loop's loss near a flow: A of Δp = A·Q + B·Q².

    Args:
        flow [m^3/s]: a flow, 1e-7 to 0.05.
        loss [Pa]: loss there, 0 to 1e12.
        quadratic [Pa*s^2/m^6]: B, from `quadratic_part`, -1e20 to 1e20.

    Returns:
        [Pa*s/m^3]: A.

    Raises:
        DomainError: an argument outside its range.

    Source: `quadratic_part`.

    >>> round(linear_part(1e-4, 3e3, 2e11))
    10000000
    """
    require("flow", flow, *_SOME_FLOW)
    require("loss", loss, 0.0, 1e12)
    require("quadratic", quadratic, -1e20, 1e20)
    return loss / flow - quadratic * flow


def crossing_flow(shutoff: Real, linear: Real, quadratic: Real) -> Real:
    """Flow at which a pump's curve crosses a loop's loss, both as parabolas.

    Args:
        shutoff [Pa]: pump's pressure at no flow, 1 to 5e6.
        linear [Pa*s/m^3]: linear parts of both together, a + A, -1e13 to 1e13.
        quadratic [Pa*s^2/m^6]: quadratic parts of both together, b + B, 0.001 to 1e20.

    Returns:
        [m^3/s]: flow.

    Raises:
        DomainError: an argument outside its range.

    Source: p₀ = (a + A)·Q + (b + B)·Q², its positive root in the form that loses no digits.

    >>> round(float(crossing_flow(370.0, 0.0, 0.595)), 2)
    24.94
    """
    require("shutoff", shutoff, *_SOME_PRESSURE)
    require("linear", linear, *_LINEAR)
    require("quadratic", quadratic, *_QUADRATIC)
    root: Real = np.sqrt(linear**2 + 4.0 * shutoff * quadratic)
    return 2.0 * shutoff / (linear + root)


def measured_flow(volume: Real, time: Real) -> Real:
    """Flow by bucket and watch.

    Args:
        volume [m^3]: what ran into the bucket, 0.0001 to 0.1.
        time [s]: how long it ran, 1 to 3600.

    Returns:
        [m^3/s]: flow.

    Raises:
        DomainError: an argument outside its range.

    Source: definition.

    >>> round(measured_flow(0.010, 30.0) * 6e4, 6)
    20.0
    """
    require("volume", volume, 1e-4, 0.1)
    require("time", time, 1.0, 3600.0)
    return volume / time


def liquid_rise(heat: Real, flow: Real, density: Real, heat_capacity: Real) -> Real:
    """How much warmer a liquid leaves than it came.

    Args:
        heat [W]: heat that it takes up, 0 to 1e6.
        flow [m^3/s]: 1e-7 to 0.05.
        density [kg/m^3]: 600 to 1200.
        heat_capacity [J/kg/K]: 1000 to 5000.

    Returns:
        [delta_degC]: rise.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of energy.

    >>> round(liquid_rise(23e3, 4e-4, 1060.0, 3370.0), 2)
    16.1
    """
    require("heat", heat, 0.0, 1e6)
    require("flow", flow, *_SOME_FLOW)
    require("density", density, *_DENSITY)
    require("heat_capacity", heat_capacity, 1000.0, 5000.0)
    return heat / (flow * density * heat_capacity)


def inlet_pressure(tank: Real, height: Real, density: Real, loss: Real) -> Real:
    """Gauge pressure at a pump's inlet, below or above its tank.

    Args:
        tank [Pa]: gauge pressure above the liquid in the tank, 0 when open, 0 to 300000.
        height [m]: the tank's level over the pump's inlet, below it if negative, -3 to 3.
        density [kg/m^3]: 600 to 1200.
        loss [Pa]: pressure lost between tank and pump, 0 to 1e12.

    Returns:
        [Pa]: gauge pressure; under 0 the pump sucks.

    Raises:
        DomainError: an argument outside its range.

    Source: Bernoulli; the velocity head at the inlet is left to the pump's own figure.

    >>> round(inlet_pressure(0.0, 0.4, 1060.0, 1500.0))
    2658
    """
    require("tank", tank, 0.0, 3e5)
    require("height", height, -3.0, 3.0)
    require("density", density, *_DENSITY)
    require("loss", loss, 0.0, 1e12)
    return tank + density * G0 * height - loss


def above_boiling(inlet: Real, ambient: Real, saturation: Real) -> Real:
    """How far the pressure at a pump's inlet is above that at which water boils there.

    Args:
        inlet [Pa]: gauge pressure at the inlet, -1e12 to 400000.
        ambient [Pa]: outside pressure, 20000 to 130000.
        saturation [Pa]: vapour pressure of water at the coolant's temperature, which is above that
            of coolant with glycol, 0 to 102000.

    Returns:
        [Pa]: what there is to spare for the pump: its net positive suction head, as a pressure.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of the net positive suction head, ISO 17769-1, as a pressure.

    >>> round(above_boiling(2658.0, 101325.0, 19946.0))
    84037
    """
    require("inlet", inlet, -1e12, 4e5)
    require("ambient", ambient, 2e4, 1.3e5)
    require("saturation", saturation, 0.0, 1.02e5)
    return inlet + ambient - saturation
