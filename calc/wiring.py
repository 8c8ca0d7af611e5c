"""Wires to pumps and fans: what they lose on the way, how warm they get, and the fuse for them.

A direct-current circuit of one load: battery, fuse, relay, wire there, load, wire or frame back.
Resistance is that of copper and rises with temperature. A wire warms with the square of its
current, and what a table allows it to carry is the current at which it reaches the limit of its
insulation in the table's own air: that fixes how warm it gets at any other current, in any other
air.

Not in it: connections that corrode, the motor's own drop in current with voltage, and how a wire
warms and cools within the first minutes.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

FREEZING = 273.15
"""0 °C, K."""

COPPER_OFFSET = 234.5
"""Degrees below 0 °C at which the resistance of copper would vanish, if it went on so: IEC 60228
and FAA AC 43.13-1B, paragraph 11-66."""

TABLE_AIR = FREEZING + 30.0
"""The air in which the allowed currents of 33 CFR 183.425 hold, K."""

FUSE_SHARE = 0.8
"""Share of its rating that a fuse carries for good. Common practice; 0.75 where it sits hot."""

CONTINUOUS_DROP, SHORT_DROP = 0.5, 1.0
"""Drop allowed in a 14 V system, V: for good, and for a load that is on for moments. FAA
AC 43.13-1B, table 11-6, from memory."""

_CURRENT = (0.0, 1000.0)
_VOLTAGE = (0.0, 60.0)
_RESISTANCE = (0.0, 100.0)
_PER_LENGTH = (1e-5, 1.0)
_TEMPERATURE = (213.15, 523.15)
_AIR = (213.15, 473.15)
_LIMIT = (323.15, 523.15)


def gauge_area(number: Real) -> Real:
    """Area of the solid round wire that an American gauge number means.

    Args:
        number [1]: gauge number, 0 to 36.

    Returns:
        [m^2]: area of the copper.

    Raises:
        DomainError: a number outside its range.

    Source: ASTM B258: 0.005 in at 36, 0.46 in at 0000, 39 equal ratios between.

    >>> round(1e6 * float(gauge_area(10.0)), 3)
    5.261
    """
    require("number", number, 0.0, 36.0)
    diameter: Real = 0.127e-3 * 92.0 ** ((36.0 - number) / 39.0)
    return np.pi / 4.0 * diameter**2


def copper_factor(temperature: Real) -> Real:
    """Resistance of copper over that at 20 °C.

    Args:
        temperature [K]: of the conductor, 213.15 to 523.15.

    Returns:
        [1]: factor, 1 at 20 °C.

    Raises:
        DomainError: a temperature outside its range.

    Source: IEC 60228, annex; FAA AC 43.13-1B, paragraph 11-66: (234.5 + t)/254.5.

    >>> round(copper_factor(273.15 + 80.0), 4)
    1.2358
    """
    require("temperature", temperature, *_TEMPERATURE)
    return (temperature - (FREEZING - COPPER_OFFSET)) / (20.0 + COPPER_OFFSET)


def wire_resistance(per_length: Real, length: Real, factor: Real) -> Real:
    """Resistance of a wire.

    Args:
        per_length [ohm/m]: of the conductor at 20 °C, 0.00001 to 1.
        length [m]: there and back together, 0 to 100.
        factor [1]: resistance over that at 20 °C, 0.5 to 3; see `copper_factor`.

    Returns:
        [ohm]: resistance.

    Raises:
        DomainError: an argument outside its range.

    Source: R = r·L.

    >>> round(wire_resistance(3.3e-3, 7.0, 1.0), 4)
    0.0231
    """
    require("per_length", per_length, *_PER_LENGTH)
    require("length", length, 0.0, 100.0)
    require("factor", factor, 0.5, 3.0)
    return per_length * length * factor


def voltage_drop(current: Real, resistance: Real) -> Real:
    """Voltage that a resistance takes.

    Args:
        current [A]: 0 to 1000.
        resistance [ohm]: of all that the current passes, 0 to 100.

    Returns:
        [V]: drop.

    Raises:
        DomainError: an argument outside its range.

    Source: Ohm's law, U = I·R.

    >>> round(voltage_drop(20.0, 0.025), 9)
    0.5
    """
    require("current", current, *_CURRENT)
    require("resistance", resistance, *_RESISTANCE)
    return current * resistance


def rated_current(power: Real, voltage: Real) -> Real:
    """Current of a load by the power on its sheet.

    Args:
        power [W]: electrical, 0 to 5000.
        voltage [V]: that the sheet is for, 1 to 60.

    Returns:
        [A]: current.

    Raises:
        DomainError: an argument outside its range.

    Source: P = U·I.

    >>> rated_current(162.0, 13.5)
    12.0
    """
    require("power", power, 0.0, 5000.0)
    require("voltage", voltage, 1.0, 60.0)
    return power / voltage


def room_for_power(voltage: Real, power: Real, resistance: Real) -> Real:
    """Whether a wire can bring a load the power that its electronics hold, as a number.

    Args:
        voltage [V]: at the battery, 1 to 60.
        power [W]: that the load takes whatever its voltage, 0 to 5000.
        resistance [ohm]: of the way there and back, 0 to 100.

    Returns:
        [V^2]: under 0 no current brings that power: the voltage at the load collapses.

    Raises:
        DomainError: an argument outside its range.

    Source: U·I − I²·R = P has a solution while U² ≥ 4·R·P.

    >>> room_for_power(12.0, 100.0, 0.36)
    0.0
    """
    require("voltage", voltage, 1.0, 60.0)
    require("power", power, 0.0, 5000.0)
    require("resistance", resistance, *_RESISTANCE)
    return voltage**2 - 4.0 * resistance * power


def regulated_current(voltage: Real, power: Real, room: Real) -> Real:
    """Current of a load whose electronics hold its power: it draws more as its voltage sags.

    Args:
        voltage [V]: at the battery, 1 to 60.
        power [W]: that the load takes whatever its voltage, 0 to 5000.
        room [V^2]: what `room_for_power` gives, 0 to 3600.

    Returns:
        [A]: the lesser of the two currents, at which it runs.

    Raises:
        DomainError: an argument outside its range.

    Source: U·I − I²·R = P, solved for I so that it holds without resistance too:
        I = 2·P/(U + √(U² − 4·R·P)).

    >>> regulated_current(12.0, 100.0, 144.0)
    8.333333333333334
    """
    require("voltage", voltage, 1.0, 60.0)
    require("power", power, 0.0, 5000.0)
    require("room", room, 0.0, 3600.0)
    return 2.0 * power / (voltage + room**0.5)


def air_factor(limit: Real, air: Real) -> Real:
    """Current that a wire may carry in warmer air, over that in air of 30 °C.

    Args:
        limit [K]: that the insulation stands, 323.15 to 523.15.
        air [K]: round the wire, 213.15 to 473.15, under that limit.

    Returns:
        [1]: factor, 1 in air of 30 °C.

    Raises:
        DomainError: an argument outside its range, or air that is hotter than the insulation
            stands.

    Source: heat given off in proportion to the rise, made in proportion to I²:
        √((t_limit − t_air)/(t_limit − 30 °C)). It gives note 1 of 33 CFR 183.425, table 5.

    >>> round(float(air_factor(273.15 + 105.0, 273.15 + 50.0)), 3)
    0.856
    """
    require("limit", limit, *_LIMIT)
    require("air", air, *_AIR)
    require("limit less air", limit - air, 0.0, 300.0)
    factor: Real = ((limit - air) / (limit - TABLE_AIR)) ** 0.5
    return factor


def allowed_current(in_table: Real, bundle: Real, factor: Real) -> Real:
    """Current that a wire may carry where it lies.

    Args:
        in_table [A]: one wire in still air of 30 °C, 0 to 500.
        bundle [1]: share left to a wire among others that are loaded too, 0.1 to 1.
        factor [1]: for the air, 0 to 3; see `air_factor`.

    Returns:
        [A]: current.

    Raises:
        DomainError: an argument outside its range.

    Source: 33 CFR 183.425 (air) and MIL-W-5088L (bundle): the factors are multiplied.

    >>> round(allowed_current(60.0, 0.825, 0.856), 2)
    42.37
    """
    require("in_table", in_table, 0.0, 500.0)
    require("bundle", bundle, 0.1, 1.0)
    require("factor", factor, 0.0, 3.0)
    return in_table * bundle * factor


def conductor_temperature(air: Real, limit: Real, load: Real) -> Real:
    """Temperature that a wire settles at.

    Args:
        air [K]: round the wire, 213.15 to 473.15.
        limit [K]: that the insulation stands, 323.15 to 523.15.
        load [1]: current over what the wire, in its bundle, may carry in air of 30 °C, 0 to 1000.

    Returns:
        [K]: temperature of the copper.

    Raises:
        DomainError: an argument outside its range.

    Source: heat given off in proportion to the rise: t_air + (t_limit − 30 °C)·(I/I_30)².

    >>> round(conductor_temperature(303.15, 378.15, 1.0), 2)
    378.15
    """
    require("air", air, *_AIR)
    require("limit", limit, *_LIMIT)
    require("load", load, 0.0, 1000.0)
    return air + (limit - TABLE_AIR) * load**2


def fuse_for_load(current: Real, share: Real) -> Real:
    """Rating that a fuse needs so as to carry a current for good.

    Args:
        current [A]: 0 to 1000.
        share [1]: of its rating that it carries for good, 0.3 to 1.

    Returns:
        [A]: least rating; take the next size up.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice: at most 80 % of the rating for good.

    >>> fuse_for_load(12.0, 0.8)
    15.0
    """
    require("current", current, *_CURRENT)
    require("share", share, 0.3, 1.0)
    return current / share


def fuse_for_inrush(peak: Real, times: Real) -> Real:
    """Rating that a fuse needs so as to stand the peak at switch-on.

    Args:
        peak [A]: current at its highest, 0 to 2000.
        times [1]: multiple of its rating that a fuse stands for as long as the peak lasts, 1 to 10.

    Returns:
        [A]: least rating; take the next size up.

    Raises:
        DomainError: an argument outside its range.

    Source: least operating times of ISO 8820-3, from memory.

    >>> fuse_for_inrush(60.0, 2.0)
    30.0
    """
    require("peak", peak, 0.0, 2000.0)
    require("times", times, 1.0, 10.0)
    return peak / times


def flow_share(voltage: Real, rated: Real) -> Real:
    """Flow of a fan or a coolant pump over that at the voltage of its sheet.

    Args:
        voltage [V]: at its terminals, 0 to 60.
        rated [V]: that its sheet is for, 1 to 60.

    Returns:
        [1]: share, to some 10 %.

    Raises:
        DomainError: an argument outside its range.

    Source: affinity law, flow in proportion to speed; speed in proportion to voltage is common
        practice for brushed motors.

    >>> flow_share(12.15, 13.5)
    0.9
    """
    require("voltage", voltage, *_VOLTAGE)
    require("rated", rated, 1.0, 60.0)
    return voltage / rated
