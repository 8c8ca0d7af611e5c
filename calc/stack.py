"""Tolerance stack of a bracket: spacers, plates and snouts that place a pulley's plane.

A part adds to the stack or takes away from it, and has a nominal size with its own tolerance above
and below. Unequal tolerances are shifted to the middle of their band before anything is combined,
so the root-sum-square band lies round the mean, not round the nominal. The worst case holds for
parts within tolerance, always; the root-sum-square holds for nearly all assemblies of parts whose
errors are independent and centred, and is no promise for one assembly of a few parts.

Not in it: tilt of the faces, bending of the bracket under the belt's pull, paint, burrs, gaskets
that settle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from calc.domain import DomainError, Real, require

_SIZE = (-1.0, 1.0)
_TOLERANCE = (0.0, 0.05)


@dataclass(frozen=True)
class Part:
    """A part of the stack, in metres: size, tolerance above, tolerance below, and its sense.

    `sense` is 1 for a part that adds to the stack and -1 for one that takes away from it.
    """

    name: str
    nominal: float
    plus: float
    minus: float
    sense: Literal[1, -1] = 1

    def __post_init__(self) -> None:
        """Refuse a part that can't exist."""
        require(f"nominal of {self.name}", self.nominal, *_SIZE)
        require(f"plus of {self.name}", self.plus, *_TOLERANCE)
        require(f"minus of {self.name}", self.minus, *_TOLERANCE)
        if self.sense not in (1, -1):
            raise DomainError(f"sense of {self.name}", self.sense, -1, 1)


@dataclass(frozen=True)
class Stack:
    """A stack in metres: nominal and mean size, and half the width of its two bands."""

    nominal: Real
    mean: Real
    worst_half_band: Real
    rss_half_band: Real

    @property
    def worst(self) -> tuple[Real, Real]:
        """Smallest and largest size with every part at the wrong end of its tolerance."""
        return self.mean - self.worst_half_band, self.mean + self.worst_half_band

    @property
    def rss(self) -> tuple[Real, Real]:
        """Smallest and largest size by root-sum-square."""
        return self.mean - self.rss_half_band, self.mean + self.rss_half_band


def mean_size(nominal: Real, plus: Real, minus: Real) -> Real:
    """Middle of a tolerance band that need not be the same above and below.

    Args:
        nominal [m]: size on the drawing, -1 to 1.
        plus [m]: tolerance above, 0 to 0.05.
        minus [m]: tolerance below, as a positive number, 0 to 0.05.

    Returns:
        [m]: mean size.

    Raises:
        DomainError: an input outside its range.

    Source: arithmetic: x + (a - b)/2.

    >>> mean_size(0.0200, 0.0002, 0.0)
    0.0201
    """
    require("nominal", nominal, *_SIZE)
    require("plus", plus, *_TOLERANCE)
    require("minus", minus, *_TOLERANCE)
    return nominal + (plus - minus) / 2.0


def half_band(plus: Real, minus: Real) -> Real:
    """Half the width of a tolerance band.

    Args:
        plus [m]: tolerance above, 0 to 0.05.
        minus [m]: tolerance below, as a positive number, 0 to 0.05.

    Returns:
        [m]: half the width.

    Raises:
        DomainError: an input outside its range.

    Source: arithmetic: (a + b)/2.

    >>> half_band(0.0002, 0.0)
    0.0001
    """
    require("plus", plus, *_TOLERANCE)
    require("minus", minus, *_TOLERANCE)
    return (plus + minus) / 2.0


def combine(parts: Sequence[Part]) -> Stack:
    """Size of a stack of parts, with its worst-case and its root-sum-square band.

    Args:
        parts [m]: one or more.

    Returns:
        [m]: the stack.

    Raises:
        ValueError: there are no parts.

    Source: arithmetic; root-sum-square of independent errors.

    >>> washer = Part("washer", 0.002, 0.00005, 0.00005)
    >>> combine([washer, washer, washer]).rss_half_band
    0.0000866
    """
    if not parts:
        raise ValueError("a stack of no parts, allowed is 1 or more")
    bands = [float(half_band(part.plus, part.minus)) for part in parts]
    return Stack(
        nominal=sum(part.sense * part.nominal for part in parts),
        mean=sum(part.sense * mean_size(part.nominal, part.plus, part.minus) for part in parts),
        worst_half_band=sum(bands),
        rss_half_band=float(np.sqrt(sum(band * band for band in bands))),
    )


def shim_for_plane(target: Real, mean: Real) -> Real:
    """Shim that brings the mean of a stack to where the pulley has to be.

    Args:
        target [m]: wanted size of the stack, -1 to 1.
        mean [m]: mean size without a shim, -1 to 1.

    Returns:
        [m]: thickness to add; negative is metal to take off.

    Raises:
        DomainError: an input outside its range.

    Source: arithmetic.

    >>> shim_for_plane(0.0950, 0.0946)
    0.0004
    """
    require("target", target, *_SIZE)
    require("mean", mean, *_SIZE)
    return target - mean


def out_of_plane(target: Real, mean: Real, shim: Real) -> Real:
    """How far a shim leaves the mean of a stack from where the pulley has to be.

    Args:
        target [m]: wanted size of the stack, -1 to 1.
        mean [m]: mean size without a shim, -1 to 1.
        shim [m]: thickness fitted, -0.1 to 0.1.

    Returns:
        [m]: positive if the stack is too long with it, negative if too short.

    Raises:
        DomainError: an input outside its range.

    Source: arithmetic.

    >>> out_of_plane(0.0950, 0.0946, 0.0005)
    0.0001
    """
    require("target", target, *_SIZE)
    require("mean", mean, *_SIZE)
    require("shim", shim, -0.1, 0.1)
    return mean + shim - target


def largest_offset(left_out: Real, half_band: Real) -> Real:
    """Farthest that the pulley can be out of plane, tolerances included.

    Args:
        left_out [m]: magnitude of `out_of_plane`, 0 to 2.1.
        half_band [m]: worst-case or root-sum-square half band, 0 to 0.5.

    Returns:
        [m]: offset either way; `calc.belts.misalignment_angle` turns it into an angle over a span.

    Raises:
        DomainError: an input outside its range.

    Source: arithmetic.

    >>> largest_offset(0.0001, 0.00015)
    0.00025
    """
    require("left_out", left_out, 0.0, 2.1)
    require("half_band", half_band, 0.0, 0.5)
    return left_out + half_band
