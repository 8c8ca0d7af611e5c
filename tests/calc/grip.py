"""A belt drive worked out as a whole: the tests' own way from a tension to the power it passes.

The page puts the functions of `calc.belts` together around a table; this puts them together
directly, so that published drives and laws try them all.
"""

from __future__ import annotations

import math

import numpy as np

from calc.belts import (
    centrifugal_tension,
    pull_from_rest,
    pull_held,
    resting_tension,
    slack_ratio,
)
from calc.domain import Real


def groove_friction(surface_friction: float, groove_angle: float) -> float:
    """Friction along the wrap of a belt in grooves. Khurmi & Gupta, ch. 11: μ / sin(β/2)."""
    return surface_friction / math.sin(groove_angle / 2.0)


def _working(tension: Real, mass: Real, speed: Real) -> Real:
    """What the centrifugal tension leaves of a tension; nothing if it takes all of it."""
    left: Real = np.maximum(tension - centrifugal_tension(mass, speed), 0.0)
    return left


def power_from_tight(tight: Real, friction: Real, wrap: Real, mass: Real, speed: Real) -> Real:
    """Most power with the tight span at a tension."""
    return pull_held(_working(tight, mass, speed), slack_ratio(friction, wrap)) * speed


def power_from_slack(slack: Real, friction: Real, wrap: Real, mass: Real, speed: Real) -> Real:
    """Most power with the slack span held at a tension by a tensioner."""
    ratio = slack_ratio(friction, wrap)
    return pull_held(_working(slack, mass, speed) / ratio, ratio) * speed


def power_from_static(static: Real, friction: Real, wrap: Real, mass: Real, speed: Real) -> Real:
    """Most power with locked centres, from the tension at rest."""
    ratio = slack_ratio(friction, wrap)
    return pull_from_rest(_working(static, mass, speed), ratio, 0.0) * speed


def static_for_power(power: Real, friction: Real, wrap: Real, mass: Real, speed: Real) -> Real:
    """Least tension at rest with which locked centres pass a power."""
    ratio = slack_ratio(friction, wrap)
    return resting_tension(power / speed, ratio, centrifugal_tension(mass, speed), 0.0)
