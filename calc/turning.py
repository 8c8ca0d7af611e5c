"""Angle that a wrench turns, read by a phone that is strapped to it.

The phone's rate gyro says how fast it turns about three axes of its own. Held still at the start it
shows its zero; what it shows after that, less the zero and summed over time, is the turn about the
wrench's axis, whichever way the phone is strapped. A compass is of no use beside an engine.

A zero that is a little off grows with time: that is the drift, and it is part of the band. The sum
is the angle only while the wrench goes one way about one axis; how true that is shows in the share
of the motion that ended up as angle. A ratchet's return stroke, a wrench that is lifted and a phone
that slips all spoil it.

The phone does the same sums in static/js/bolts/turn.js.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real, require

Rates = Sequence[tuple[float, float, float]]

SCALE_TOLERANCE = 0.03
"""Share by which a phone's gyro may show too much or too little."""

TILT_RATE = 0.1 * float(np.pi) / 180.0
"""Rate in rad/s by which a gyro's zero may move while the phone is turned over in gravity."""

STILL_RATE = 2.0 * float(np.pi) / 180.0
"""Rate in rad/s under which a phone is not moved: a hand's tremor, an engine beside it."""

_FASTEST = 40.0
_LONGEST = 600.0


def turned_angle(times: Sequence[float], rates: Rates, zero: tuple[float, float, float]) -> float:
    """Angle turned about an axis that stays where it is.

    Args:
        times [s]: time of each reading, rising, 0 to 600.
        rates [rad/s]: rate about each of the phone's axes at those times, -40 to 40.
        zero [rad/s]: what the gyro shows when it is held still, -40 to 40.

    Returns:
        [rad]: angle, without a sign.

    Raises:
        DomainError: an argument outside its range.

    Source: kinematics: about a fixed axis the angle is the integral of the rate; trapezoids.

    >>> round(turned_angle([0.0, 1.0, 2.0], [(0.0, 0.0, 0.5)] * 3, (0.0, 0.0, 0.0)), 6)
    1.0
    """
    steps, seconds = _steps(times, rates, zero)
    total = (steps * seconds[:, None]).sum(axis=0)
    return float(np.sqrt((total * total).sum()))


def one_way_share(times: Sequence[float], rates: Rates, zero: tuple[float, float, float]) -> float:
    """Share of all motion that ended up as angle: 1 for one sweep about one axis.

    What is slower than `STILL_RATE` is rest, not motion.

    Args:
        times [s]: time of each reading, rising, 0 to 600.
        rates [rad/s]: rate about each of the phone's axes at those times, -40 to 40.
        zero [rad/s]: what the gyro shows when it is held still, -40 to 40.

    Returns:
        [1]: share, 0 to 1; 1 where nothing moved.

    Raises:
        DomainError: an argument outside its range.

    Source: geometry: a path is never shorter than the way between its ends.

    >>> there_and_back = [(0.0, 0.0, 1.0), (0.0, 0.0, 1.0), (0.0, 0.0, -1.0), (0.0, 0.0, -1.0)]
    >>> one_way_share([0.0, 1.0, 2.0, 3.0], there_and_back, (0.0, 0.0, 0.0))
    0.0
    """
    steps, seconds = _steps(times, rates, zero)
    sizes = np.sqrt((steps * steps).sum(axis=1))
    moved = sizes > STILL_RATE
    path = float((sizes * seconds)[moved].sum())
    if path == 0.0:
        return 1.0
    total = (steps * seconds[:, None])[moved].sum(axis=0)
    return float(np.sqrt((total * total).sum())) / path


def drift_angle(elapsed: Real, zero_error: Real) -> Real:
    """Angle that a zero which is a little off may have added.

    Args:
        elapsed [s]: time since the zero was taken, 0 to 600.
        zero_error [rad/s]: uncertainty of the zero itself, 0 to 1.

    Returns:
        [rad]: angle, to either side.

    Raises:
        DomainError: an argument outside its range.

    Source: data sheet of a six-axis motion sensor for phones, 2013: 0.1 degrees per second for
    each g, and the phone is turned over in gravity.

    >>> round(float(drift_angle(10.0, 0.0)), 4)
    0.0175
    """
    require("elapsed", elapsed, 0.0, _LONGEST)
    require("zero_error", zero_error, 0.0, 1.0)
    return elapsed * (TILT_RATE + zero_error)


def turn_uncertainty(angle: Real, drift: Real) -> Real:
    """Band to either side of an angle read by a phone.

    Args:
        angle [rad]: angle that was read, 0 to 100.
        drift [rad]: angle that drift may have added, 0 to 100.

    Returns:
        [rad]: band, to either side.

    Raises:
        DomainError: an argument outside its range.

    Source: data sheet of a six-axis motion sensor for phones, 2013: sensitivity within 3 per cent.

    >>> round(float(turn_uncertainty(1.5708, 0.0)), 4)
    0.0471
    """
    require("angle", angle, 0.0, 100.0)
    require("drift", drift, 0.0, 100.0)
    return SCALE_TOLERANCE * angle + drift


def _steps(
    times: Sequence[float], rates: Rates, zero: tuple[float, float, float]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Mean rates between readings less the zero, and how long each lasts."""
    for time in times:
        require("times", time, 0.0, _LONGEST)
    for rate in rates:
        for part in rate:
            require("rates", part, -_FASTEST, _FASTEST)
    for part in zero:
        require("zero", part, -_FASTEST, _FASTEST)
    seconds = np.diff(np.asarray(times, dtype=np.float64))
    require("times", seconds, 0.0, _LONGEST)
    shown = np.asarray(rates, dtype=np.float64) - np.asarray(zero, dtype=np.float64)
    return np.asarray((shown[1:] + shown[:-1]) / 2.0), seconds
