"""Flow in pipes and hoses: velocity, friction, bends, and where the bore changes.

For liquids in round pipes that run full. Losses are in the Darcy-Weisbach form: a friction factor
times length over bore, and a coefficient for each bend, fitting and change of bore, each times the
dynamic pressure. Coefficients of neighbours are added up, as handbooks do: fittings closer together
than some ten bores disturb each other, either way.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

_FLOW = (0.0, 0.05)
_BORE = (2e-3, 0.1)
_ANGLE = (0.0, 3.1416)
_RADIUS_RATIO = (0.5, 100.0)
_DENSITY = (600.0, 1200.0)
_VELOCITY = (0.0, 2e4)


def line_velocity(volume_flow: Real, bore: Real) -> Real:
    """Mean velocity in a line.

    Args:
        volume_flow [m^3/s]: 0 to 0.05.
        bore [m]: inside diameter, 0.002 to 0.1.

    Returns:
        [m/s]: velocity.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass, v = 4Q/(π·D²).

    >>> round(float(line_velocity(7e-5, 8e-3)), 3)
    1.393
    """
    require("volume_flow", volume_flow, *_FLOW)
    require("bore", bore, *_BORE)
    return volume_flow / ((np.pi / 4.0) * bore**2)


def line_bore(volume_flow: Real, velocity: Real) -> Real:
    """Smallest bore that keeps a line at or under a velocity.

    Args:
        volume_flow [m^3/s]: 0 to 0.05.
        velocity [m/s]: 0.1 to 20; see `LINE_VELOCITY_LIMITS`.

    Returns:
        [m]: inside diameter.

    Raises:
        DomainError: an argument outside its range.

    Source: `line_velocity` solved for the bore.

    >>> round(float(line_bore(7e-5, 1.393)) * 1e3, 2)
    8.0
    """
    require("volume_flow", volume_flow, *_FLOW)
    require("velocity", velocity, 0.1, 20.0)
    area: Real = volume_flow / velocity
    return np.sqrt(area / (np.pi / 4.0))


def line_reynolds(volume_flow: Real, bore: Real, density: Real, viscosity: Real) -> Real:
    """Reynolds number in a line.

    Args:
        volume_flow [m^3/s]: 0 to 0.05.
        bore [m]: inside diameter, 0.002 to 0.1.
        density [kg/m^3]: 600 to 1200.
        viscosity [Pa*s]: dynamic, 1e-4 to 0.05.

    Returns:
        [1]: Reynolds number; laminar below about 2300.

    Raises:
        DomainError: an argument outside its range.

    Source: definition, ρ·v·D/μ.

    >>> round(float(line_reynolds(7e-5, 8e-3, 745.0, 5e-4)), -1)
    16600.0
    """
    require("density", density, *_DENSITY)
    require("viscosity", viscosity, 1e-4, 0.05)
    return density * line_velocity(volume_flow, bore) * bore / viscosity


def darcy_friction_factor(reynolds: Real, relative_roughness: Real) -> Real:
    """Darcy friction factor at any Reynolds number, laminar to rough.

    Args:
        reynolds [1]: 1 to 1e8.
        relative_roughness [1]: roughness over bore, 0 to 0.05.

    Returns:
        [1]: friction factor, within 3.1 % of the Colebrook equation from Re 4000 up; between 2000
            and 4000 it bridges laminar and turbulent flow, and the flow itself is unsettled.

    Raises:
        DomainError: an argument outside its range.

    Source: Churchill, Chemical Engineering 84 (1977) no. 24, p. 91:
        f = 8·((8/Re)¹² + (A + B)^(−3/2))^(1/12).

    >>> round(float(darcy_friction_factor(1e5, 1e-4)), 4)
    0.0185
    """
    require("reynolds", reynolds, 1.0, 1e8)
    require("relative_roughness", relative_roughness, 0.0, 0.05)
    rough: Real = (7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness
    turbulent: Real = (-2.457 * np.log(rough)) ** 16.0 + (37_530.0 / reynolds) ** 16.0
    return 8.0 * ((8.0 / reynolds) ** 12.0 + turbulent**-1.5) ** (1.0 / 12.0)


def line_pressure_loss(
    friction: Real, length: Real, bore: Real, density: Real, velocity: Real
) -> Real:
    """Pressure that a straight line takes away.

    Args:
        friction [1]: from `darcy_friction_factor`, 0 to 64.
        length [m]: 0 to 20; add the equivalent length of bends and fittings.
        bore [m]: inside diameter, 0.002 to 0.1.
        density [kg/m^3]: 600 to 1200.
        velocity [m/s]: from `line_velocity`, 0 to 20000.

    Returns:
        [Pa]: pressure loss.

    Raises:
        DomainError: an argument outside its range.

    Source: Darcy-Weisbach, Δp = f·(L/D)·ρ·v²/2.

    >>> round(line_pressure_loss(0.0273, 4.0, 8e-3, 745.0, 1.393), -2)
    9900.0
    """
    require("friction", friction, 0.0, 64.0)
    require("length", length, 0.0, 20.0)
    require("bore", bore, *_BORE)
    require("density", density, *_DENSITY)
    require("velocity", velocity, *_VELOCITY)
    return friction * (length / bore) * (density * velocity**2 / 2.0)


def half_sine(angle: Real) -> Real:
    """Sine of half the angle that a bend turns through.

    Args:
        angle [rad]: 0 to 3.1416 (half a turn).

    Returns:
        [1]: sin(α/2).

    Raises:
        DomainError: angle outside its range.

    Source: definition.

    >>> round(float(half_sine(1.5707963)), 4)
    0.7071
    """
    require("angle", angle, *_ANGLE)
    half: Real = np.sin(angle / 2.0)
    return half


def log_tightness(radius_ratio: Real) -> Real:
    """Natural logarithm of a bend's radius over its bore.

    Args:
        radius_ratio [1]: radius of the centreline over bore, 0.5 to 100.

    Returns:
        [1]: ln(r/d).

    Raises:
        DomainError: radius_ratio outside its range.

    Source: definition.

    >>> round(float(log_tightness(2.0)), 4)
    0.6931
    """
    require("radius_ratio", radius_ratio, *_RADIUS_RATIO)
    logarithm: Real = np.log(radius_ratio)
    return logarithm


def bend_exponent(angle: Real, log_tightness: Real) -> Real:
    """Exponent by which what a bend costs falls with its radius; see `bend_friction`.

    Args:
        angle [rad]: 0 to 3.1416 (half a turn).
        log_tightness [1]: from `log_tightness`, -0.7 to 4.7.

    Returns:
        [1]: (4α/π)·ln(r/d).

    Raises:
        DomainError: an argument outside its range.

    Source: Rennels & Hudson, Pipe Flow (2012), ch. 15.

    >>> round(float(bend_exponent(1.5707963, 0.6931)), 4)
    1.3862
    """
    require("angle", angle, *_ANGLE)
    require("log_tightness", log_tightness, -0.7, 4.7)
    return 4.0 / np.pi * angle * log_tightness


def bend_friction(half_sine: Real, fall: Real) -> Real:
    """What a bend costs for each unit of friction factor, besides the length of its arc.

    A bend's coefficient is linear in the friction factor: this times the friction factor, and
    `bend_turning`. The friction along the arc itself belongs to the length of the hose.

    Args:
        half_sine [1]: from `half_sine`, 0 to 1.
        fall [1]: e to the power of less `bend_exponent`, 0 to 20.

    Returns:
        [1]: factor of the Darcy friction factor.

    Raises:
        DomainError: an argument outside its range.

    Source: Rennels & Hudson, Pipe Flow (2012), ch. 15, smooth bends:
        K = f·α·(r/d) + (0.10 + 2.4·f)·sin(α/2) + 6.6·f·(√sin(α/2) + sin(α/2))/(r/d)^(4α/π).

    >>> round(float(bend_friction(0.70711, 0.25)), 3)
    4.251
    """
    require("half_sine", half_sine, 0.0, 1.0)
    require("fall", fall, 0.0, 20.0)
    root: Real = np.sqrt(half_sine)
    return 2.4 * half_sine + 6.6 * (root + half_sine) * fall


def bend_turning(half_sine: Real) -> Real:
    """What a smooth bend costs besides friction, for turning the flow.

    Args:
        half_sine [1]: from `half_sine`, 0 to 1.

    Returns:
        [1]: loss coefficient, of the dynamic pressure in the hose.

    Raises:
        DomainError: half_sine outside its range.

    Source: Rennels & Hudson, Pipe Flow (2012), ch. 15, smooth bends; see `bend_friction`.

    >>> round(bend_turning(0.70711), 4)
    0.0707
    """
    require("half_sine", half_sine, 0.0, 1.0)
    return 0.10 * half_sine


def decay(exponent: Real) -> Real:
    """What is left after an exponential fall.

    Args:
        exponent [1]: how often it has fallen to 1/e, -3 to 50; below 0 it has grown.

    Returns:
        [1]: e to the power of less the exponent.

    Raises:
        DomainError: exponent outside its range.

    Source: definition.

    >>> round(float(decay(1.0)), 4)
    0.3679
    """
    require("exponent", exponent, -3.0, 50.0)
    left: Real = np.exp(-exponent)
    return left


def narrow_place(area_ratio: Real) -> Real:
    """Loss coefficient of a short narrow place in a hose: a step into it, and one out of it.

    Such as a barb, a union or a quick coupling with a smaller bore than the hose that it sits in.

    Args:
        area_ratio [1]: area of the narrow place over that of the hose, 0 to 1.

    Returns:
        [1]: loss coefficient, of the dynamic pressure in the narrow place.

    Raises:
        DomainError: area_ratio outside its range.

    Source: into it 0.5·(1 − a)^0.75, Idelchik, Handbook of Hydraulic Resistance, ch. 4, which ends
        in the 0.5 of a sharp inlet; out of it Borda-Carnot, (1 − a)².

    >>> round(float(narrow_place(0.64)), 4)
    0.362
    """
    require("area_ratio", area_ratio, 0.0, 1.0)
    step = 1.0 - area_ratio
    into: Real = 0.5 * np.sqrt(step) * np.sqrt(np.sqrt(step))
    return into + step**2


def dynamic_pressure(density: Real, velocity: Real) -> Real:
    """Dynamic pressure, which loss coefficients are multiplied with.

    Args:
        density [kg/m^3]: 600 to 1200.
        velocity [m/s]: 0 to 20000.

    Returns:
        [Pa]: ρ·v²/2.

    Raises:
        DomainError: an argument outside its range.

    Source: Bernoulli.

    >>> dynamic_pressure(1000.0, 2.0)
    2000.0
    """
    require("density", density, *_DENSITY)
    require("velocity", velocity, *_VELOCITY)
    return density * velocity**2 / 2.0


def square_law(coefficient: Real, density: Real, bore: Real) -> Real:
    """Pressure loss over the square of the flow, of a loss coefficient in a bore.

    Args:
        coefficient [1]: of the dynamic pressure in the bore, 0 to 1000.
        density [kg/m^3]: 600 to 1200.
        bore [m]: inside diameter, 0.002 to 0.1.

    Returns:
        [Pa*s^2/m^6]: pressure loss over flow squared.

    Raises:
        DomainError: an argument outside its range.

    Source: Δp = K·ρ·v²/2 with v = 4Q/(π·D²).

    >>> round(square_law(1.5, 1060.0, 0.016) / 1e9, 3)
    19.666
    """
    require("coefficient", coefficient, 0.0, 1000.0)
    require("density", density, *_DENSITY)
    require("bore", bore, *_BORE)
    return coefficient * density / 2.0 / ((np.pi / 4.0) * bore**2) ** 2


def same_loss_bore(length_ratio: Real) -> Real:
    """Bore that loses no more over a longer hose, over that of the shorter one.

    Args:
        length_ratio [1]: longer over shorter, 0.05 to 20.

    Returns:
        [1]: ratio of bores.

    Raises:
        DomainError: length_ratio outside its range.

    Source: Darcy-Weisbach with Blasius's friction factor (1913): Δp ∝ L·Q^1.75·D^−4.75.

    >>> round(float(same_loss_bore(2.0)), 3)
    1.157
    """
    require("length_ratio", length_ratio, 0.05, 20.0)
    return length_ratio ** (1.0 / 4.75)


def hose_content(bore: Real, length: Real) -> Real:
    """Liquid that a hose holds.

    Args:
        bore [m]: inside diameter, 0.002 to 0.1.
        length [m]: 0 to 20.

    Returns:
        [m^3]: volume.

    Raises:
        DomainError: an argument outside its range.

    Source: volume of a cylinder.

    >>> round(hose_content(0.01905, 3.5) * 1e3, 3)
    0.998
    """
    require("bore", bore, *_BORE)
    require("length", length, 0.0, 20.0)
    return (np.pi / 4.0) * bore**2 * length
