"""What the first runs show against what was reckoned, and which one cause explains the difference.

Covers the air that is missing at one reading; what each cause would do to it, to the temperatures,
to the depression and to the blower's speed, for one unit of the cause (its signature); a fit of
one cause, or of two, to many readings by least squares, where the readings of one gauge share an
error that nobody knows; and the criterion by which one model is preferred to another.

Everything is in terms of readings over their own uncertainty, so that kilopascals and kelvins
can be added up. Signatures are of first order: what is doubled does twice as much.

Left out: fuel and spark, changes while a run lasts, causes that come and go, and more than two
causes at once. A cause that leaves the same signature as another can't be told from it.
"""

from __future__ import annotations

from calc.domain import Real, require

BOOST_UNSURE = 1500.0
"""What a boost gauge and a steady reading of it are good for, Pa. Common practice."""

SHAPE_UNSURE = 0.015
"""How far breathing wanders over engine speed about its one number, 1. Common practice."""

CHARGE_UNSURE, OUTLET_UNSURE = 2.5, 3.0
"""What thermometers behind and before the charge cooler are good for in a pull, K. Common
practice."""

DEPRESSION_UNSURE = 300.0
"""What a depression gauge is good for, Pa. Common practice."""

SPEED_UNSURE = 0.007
"""What the ratio of two speeds is good for, 1. Common practice."""

BREATHING_SHARED, RATED_SHARED = 0.04, 0.02
"""How far the engine's breathing may be off at all speeds alike, entered and by a kit's own line,
1. Common practice."""

CHARGE_SHARED, OUTLET_SHARED = 6.0, 6.0
"""How far reckoned temperatures behind and before the charge cooler may be off alike, K. Common
practice."""

DEPRESSION_SHARED = 0.3
"""How far the reckoned depression may be off at all flows alike, 1. Common practice."""

DIAMETERS_SHARED = 0.007
"""How far the blower's speed may be off for diameters as they are measured, 1. Common practice."""

BARE, STRONG, VERY_STRONG = 2.0, 6.0, 10.0
"""Difference of the criterion from which evidence is worth a mention, strong, and very strong.

Kass and Raftery, Bayes factors, Journal of the American Statistical Association 90 (1995), 777.
"""

_EFFICIENCY = (0.05, 10.0)
_OR_MORE = (0.0, float("inf"))
_TEMPERATURE = (200.0, 700.0)
_PRESSURE = (1e4, 1e6)
_SPEED = (1.0, 400.0)
_SHARE = (0.0, 1.0)


def air_missing(seen: Real, reckoned: Real) -> Real:
    """Air that the blower moves and the manifold doesn't hold, over what it does.

    Args:
        seen [1]: engine volumetric efficiency that the reading would take, 0.05 to 10.
        reckoned [1]: engine volumetric efficiency reckoned with, 0.05 to 10.

    Returns:
        [1]: 2 (seen − reckoned)/(seen + reckoned), the logarithm of their ratio to the third order;
            below 0 where there is more air than reckoned.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass, as in `calc.boost.engine_efficiency_from_rating`; the first term
        of ln x = 2 (z + z³/3 + ...), z = (x − 1)/(x + 1): Abramowitz and Stegun, 4.1.27.

    >>> round(air_missing(1.045, 0.95), 4)
    0.0952
    """
    require("seen", seen, *_EFFICIENCY)
    require("reckoned", reckoned, *_EFFICIENCY)
    return 2.0 * (seen - reckoned) / (seen + reckoned)


def missing_unsure(manifold_pressure: Real) -> Real:
    """What the air missing at one reading is good for.

    Args:
        manifold_pressure [Pa]: absolute, 1e4 to 1e6.

    Returns:
        [1]: standard uncertainty, of the gauge and of the shape of the breathing together.

    Raises:
        DomainError: pressure outside its range.

    Source: uncertainties add as squares, JCGM 100:2008 (GUM), 5.1; the air in the manifold is in
        proportion to its pressure.

    >>> round(missing_unsure(150e3), 5)
    0.01803
    """
    require("manifold_pressure", manifold_pressure, *_PRESSURE)
    gauge = BOOST_UNSURE / manifold_pressure
    return (gauge**2 + SHAPE_UNSURE**2) ** 0.5


# --- what a cause would do -------------------------------------------------------------------


def grown_with_load(power: Real, power_at_full: Real) -> Real:
    """Slip at a reading over the slip at full speed: it grows with speed and load.

    Args:
        power [W]: to turn the blower at the reading, 0 or more.
        power_at_full [W]: the same at full speed, 1 or more.

    Returns:
        [1]: share of the slip at full speed.

    Raises:
        DomainError: an argument outside its range.

    Source: slip in proportion to the power that the belt carries. Common practice.

    >>> grown_with_load(20e3, 40e3)
    0.5
    """
    require("power", power, *_OR_MORE)
    require("power_at_full", power_at_full, 1.0, float("inf"))
    return power / power_at_full


def lost_through_hole(flow: Real, speed: Real, speed_at_full: Real) -> Real:
    """Air lost through one hole, over the engine's air, for one such share at full speed.

    The engine takes less air the slower it turns; a hole passes as much as the pressure drives.

    Args:
        flow [1]: through the hole against choked flow at that pressure, 0 to 1.
        speed [1/s]: engine revolutions per second at the reading, 1 to 400.
        speed_at_full [1/s]: the same at full speed, 1 to 400.

    Returns:
        [1]: share of the air at the reading, for a share of 1 at full speed, choked.

    Raises:
        DomainError: an argument outside its range.

    Source: flow through an orifice, over a displacement engine's flow at the same pressure.

    >>> lost_through_hole(0.9, 50.0, 100.0)
    1.8
    """
    require("flow", flow, *_SHARE)
    require("speed", speed, *_SPEED)
    require("speed_at_full", speed_at_full, *_SPEED)
    return flow * speed_at_full / speed


def hotter_by_return(outlet: Real, inlet: Real) -> Real:
    """How much hotter the blower's outlet gets for air that goes back to its inlet.

    Args:
        outlet [K]: blower outlet without it, 200 to 700.
        inlet [K]: blower inlet without it, 200 to 700.

    Returns:
        [K]: rise for a share of 1 of the blower's air, to first order: the inlet mixes hotter by
            outlet − inlet, and compression multiplies that.

    Raises:
        DomainError: an argument outside its range.

    Source: energy balance of the mixture; outlet over inlet temperature unchanged.

    >>> hotter_by_return(390.0, 300.0)
    117.0
    """
    require("outlet", outlet, *_TEMPERATURE)
    require("inlet", inlet, *_TEMPERATURE)
    return (outlet - inlet) * outlet / inlet


# --- least squares ---------------------------------------------------------------------------


def shared(product: Real, first: Real, second: Real, square: Real) -> Real:
    """Inner product of two columns of readings that share an error nobody knows.

    All columns are over the uncertainty of each reading. The shared error's column is what one
    standard deviation of it would do.

    Args:
        product [1]: not checked: sum of the products of the two columns.
        first [1]: not checked: sum of the products of the first with the shared error's.
        second [1]: not checked: likewise of the second.
        square [1]: sum of the squares of the shared error's column, 0 or more.

    Returns:
        [1]: uᵀ (I + n nᵀ)⁻¹ v.

    Raises:
        DomainError: square below 0.

    Source: generalised least squares (Aitken, Proceedings of the Royal Society of Edinburgh 55
        (1935), 42); inverse by Sherman and Morrison, Annals of Mathematical Statistics 21 (1950),
        124.

    >>> shared(10.0, 4.0, 2.0, 3.0)
    8.0
    """
    require("square", square, *_OR_MORE)
    return product - first * second / (1.0 + square)


def explained(cross: Real, square: Real) -> Real:
    """How much of the misfit one cause takes away, fitted by least squares.

    Args:
        cross [1]: not checked: inner product of the cause's signature with the readings.
        square [1]: not checked: of the signature with itself; above 0.

    Returns:
        [1]: fall of the sum of squares.

    Source: normal equation of one parameter.

    >>> explained(6.0, 4.0)
    9.0
    """
    return cross * cross / square


def explained_by_two(
    cross_a: Real, cross_b: Real, square_a: Real, square_b: Real, between: Real
) -> Real:
    """How much of the misfit two causes take away together, fitted by least squares.

    Args:
        cross_a [1]: not checked: inner product of the one signature with the readings.
        cross_b [1]: not checked: of the other.
        square_a [1]: not checked: of the one signature with itself; above 0.
        square_b [1]: not checked: of the other with itself; above 0.
        between [1]: not checked: of the two signatures; they must not be alike.

    Returns:
        [1]: fall of the sum of squares.

    Source: normal equations of two parameters, by Cramer's rule.

    >>> explained_by_two(6.0, 3.0, 4.0, 9.0, 0.0)
    10.0
    """
    apart = square_a * square_b - between * between
    one = cross_a * cross_a * square_b - 2.0 * cross_a * cross_b * between
    return (one + cross_b * cross_b * square_a) / apart


def criterion(misfit: Real, log_count: Real, causes: float) -> Real:
    """What a model is judged by: the less, the better.

    Args:
        misfit [1]: sum of squares over their uncertainties that the model leaves, 0 or more.
        log_count [1]: natural logarithm of the number of readings, 0 or more.
        causes [1]: number of causes that were fitted, 0 to 10.

    Returns:
        [1]: Bayesian information criterion.

    Raises:
        DomainError: an argument outside its range.

    Source: Schwarz, Estimating the dimension of a model, Annals of Statistics 6 (1978), 461.

    >>> criterion(12.0, 3.0, 1.0)
    15.0
    """
    require("misfit", misfit, *_OR_MORE)
    require("log_count", log_count, *_OR_MORE)
    require("causes", causes, 0.0, 10.0)
    return misfit + causes * log_count
