"""From the torque a fastener needs to what is dialled in, and back.

Extensions and crowfoot heads, running torque, the range in which a torque wrench is good, and its
permitted deviation. An extension on the drive axis, such as a long socket, changes nothing; only
an offset at right angles to the axis does. The lever rule holds while the hand pulls at the mark
on the grip; for a wrench whose beam bends it is the same, with the length from drive to grip.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

_TORQUE = (0.0, 5_000.0)
_DEVIATION = (0.0, 0.5)
_RATIO = (0.2, 2.0)
_SETTING = (0.0, _TORQUE[1] / _RATIO[0])

TORQUE_UNITS = {
    "N·m": 1.0,
    "lb·ft": 1.3558179483314004,
    "lb·in": 0.1129848290276167,
    "kgf·m": 9.80665,
    "kgf·cm": 0.0980665,
}
"""Newton metres in one of each unit that figures are printed in (exact by definition)."""


def share_along(angle: Real) -> Real:
    """Share of an offset that lies along the wrench.

    Args:
        angle [rad]: angle between offset and wrench, -π to π; 0 carries straight on, a right angle
            changes nothing, π points back at the hand.

    Returns:
        [1]: share, 1 to -1; below 0 where the offset points back.

    Raises:
        DomainError: an argument outside its range.

    Source: geometry.

    >>> round(float(share_along(np.pi / 3)), 9)
    0.5
    """
    require("angle", angle, -np.pi, np.pi)
    share: Real = np.cos(angle)
    return share


def torque_ratio(relative_extension: Real, along: Real) -> Real:
    """Torque at the fastener over the torque set on the wrench, with an offset head.

    Args:
        relative_extension [1]: offset of the head, drive to fastener, over the length of the
            wrench, drive to grip, 0 to 1.
        along [1]: share of the offset that lies along the wrench, from `share_along`, -1 to 1.

    Returns:
        [1]: ratio above 1 where the offset lengthens the lever.

    Raises:
        DomainError: an argument outside its range.

    Source: FAA AC 43.13-1B, paragraph 7-40; US Army TM 1-1500-204-23-9: T_set = T L/(L + E), with
    the offset's component along the wrench for an angle.

    >>> torque_ratio(0.4, 1.0)
    1.4
    """
    require("relative_extension", relative_extension, 0.0, 1.0)
    require("along", along, -1.0, 1.0)
    return 1.0 + relative_extension * along


def wrench_setting(torque: Real, ratio: Real) -> Real:
    """What to dial in so that the fastener gets a torque.

    Args:
        torque [N*m]: torque wanted at the fastener, 0 to 5000.
        ratio [1]: torque at the fastener over torque set, 0.2 to 2.

    Returns:
        [N*m]: setting of the wrench.

    Raises:
        DomainError: an argument outside its range.

    Source: FAA AC 43.13-1B, paragraph 7-40.

    >>> round(wrench_setting(300.0, 1.4), 2)
    214.29
    """
    require("torque", torque, *_TORQUE)
    require("ratio", ratio, *_RATIO)
    return torque / ratio


def share_of_range(setting: Real, largest: Real) -> Real:
    """Share of a wrench's largest setting that is used.

    Args:
        setting [N*m]: setting of the wrench, 0 to 25000.
        largest [N*m]: its largest setting, 0.1 to 5000.

    Returns:
        [1]: share; from 0.2 to 1 the wrench has been tested.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 6789, tested at 20, 60 and 100 % of the largest torque.

    >>> share_of_range(25.0, 100.0)
    0.25
    """
    require("setting", setting, *_SETTING)
    require("largest", largest, 0.1, _TORQUE[1])
    return setting / largest


def lowest_applied(torque: Real, deviation: Real) -> Real:
    """Least torque that a wrench within its permitted deviation gives.

    Args:
        torque [N*m]: torque set or read, 0 to 5000.
        deviation [1]: permitted deviation, 0 to 0.5.

    Returns:
        [N*m]: least true torque.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 6789: the deviation is (set − true)/true, so the true torque is set/(1 + deviation).

    >>> lowest_applied(104.0, 0.04)
    100.0
    """
    require("torque", torque, *_TORQUE)
    require("deviation", deviation, *_DEVIATION)
    return torque / (1.0 + deviation)


def highest_applied(torque: Real, deviation: Real) -> Real:
    """Greatest torque that a wrench within its permitted deviation gives.

    Args:
        torque [N*m]: torque set or read, 0 to 5000.
        deviation [1]: permitted deviation, 0 to 0.5.

    Returns:
        [N*m]: greatest true torque.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 6789: the deviation is (set − true)/true, so the true torque is set/(1 − deviation).

    >>> highest_applied(96.0, 0.04)
    100.0
    """
    require("torque", torque, *_TORQUE)
    require("deviation", deviation, *_DEVIATION)
    return torque / (1.0 - deviation)


def with_running_torque(torque: Real, running: Real) -> Real:
    """Torque to dial in where the nut or the compound drags before the head seats.

    Args:
        torque [N*m]: torque that the joint needs, 0 to 5000.
        running [N*m]: torque that turns the fastener before it seats, 0 to 5000.

    Returns:
        [N*m]: torque to apply.

    Raises:
        DomainError: an argument outside its range.

    Source: FAA AC 43.13-1B, paragraph 7-40: the friction drag torque is added.

    >>> with_running_torque(40.0, 3.5)
    43.5
    """
    require("torque", torque, *_TORQUE)
    require("running", running, *_TORQUE)
    return torque + running


def plausible_units(number: float, low: float, high: float) -> list[str]:
    """Units in which a torque figure would lie in a band: catches inch-pounds read as foot-pounds.

    Args:
        number [1]: figure as printed, without its unit, 0 to 1e6.
        low [N*m]: least plausible torque, 0 to 5000.
        high [N*m]: greatest plausible torque, 0 to 5000, at least the least.

    Returns:
        [1]: names from `TORQUE_UNITS`, in their order; empty where none fits.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of the units.

    >>> plausible_units(89.0, 8.0, 12.0)
    ['lb·in', 'kgf·cm']
    """
    require("number", number, 0.0, 1e6)
    require("low", low, *_TORQUE)
    require("high", high, *_TORQUE)
    require("high less low", high - low, *_TORQUE)
    return [name for name, size in TORQUE_UNITS.items() if low <= number * size <= high]
