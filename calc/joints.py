"""Springiness of bolt and joint: stretch, and the angle to turn after the parts have met.

Bolt and clamped parts are springs in a row. A full turn of the nut takes up one pitch, which the
two share. True from the moment that all faces have met (snug), below yield, while the part that
should not turn does not. Soft gaskets, thin flanges that bend and bolts tightened past yield are
left out: for those only the maker's angle counts.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

_MODULUS = (1e9, 1e12)
_AREA = (1e-6, 2e-3)
_DIAMETER = (0.002, 0.045)
_LENGTH = (1e-4, 2.0)
_STIFFNESS = (1e5, 1e11)
_PITCH = (0.0003, 0.0045)
_LOAD = (0.0, 2e6)

# tan 30°, the half angle of the cone of pressed material.
_CONE = 0.57735


def shank_area(d: Real) -> Real:
    """Cross-section of a bolt's plain shank.

    Args:
        d [m]: nominal diameter, 0.002 to 0.045.

    Returns:
        [m^2]: area.

    Raises:
        DomainError: an argument outside its range.

    Source: geometry.

    >>> round(shank_area(0.010) * 1e6, 2)
    78.54
    """
    require("d", d, *_DIAMETER)
    area: Real = np.pi / 4.0 * d**2
    return area


def axial_stiffness(modulus: Real, area: Real, length: Real) -> Real:
    """Stiffness of a straight piece of bolt, shank or thread.

    Args:
        modulus [Pa]: Young's modulus, 1e9 to 1e12; steel about 206e9.
        area [m^2]: area of the shank, or stress area of the thread, 1e-6 to 2e-3.
        length [m]: length that stretches, 0.0001 to 2.

    Returns:
        [N/m]: stiffness.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners: k = A E / l.

    >>> round(axial_stiffness(206e9, 58e-6, 0.040) / 1e6, 1)
    298.7
    """
    require("modulus", modulus, *_MODULUS)
    require("area", area, *_AREA)
    require("length", length, *_LENGTH)
    return modulus * area / length


def series_stiffness(first: Real, second: Real) -> Real:
    """Stiffness of two springs in a row: shank and thread, or bolt and joint.

    Args:
        first [N/m]: stiffness of the one, 1e5 to 1e11.
        second [N/m]: stiffness of the other, 1e5 to 1e11.

    Returns:
        [N/m]: stiffness of the two.

    Raises:
        DomainError: an argument outside its range.

    Source: springs in series, 1/k = 1/k1 + 1/k2.

    >>> series_stiffness(3e8, 6e8)
    200000000.0
    """
    require("first", first, *_STIFFNESS)
    require("second", second, *_STIFFNESS)
    return first * second / (first + second)


def cone_softness(slenderness: Real) -> Real:
    """How much clamped parts give, for a modulus and a bolt diameter of one.

    Args:
        slenderness [1]: thickness clamped over the bolt's nominal diameter, 0.05 to 100.

    Returns:
        [1]: E d/k, of parts wide enough for the cone of pressed material.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners, two 30° cones from a bearing face of 1.5 d:
    k = 0.5774 π E d / (2 ln(5 (0.5774 l + 0.5 d)/(0.5774 l + 2.5 d))).

    >>> round(float(cone_softness(4.0)), 4)
    1.1819
    """
    require("slenderness", slenderness, 0.05, 100.0)
    spread = 5.0 * (_CONE * slenderness + 0.5) / (_CONE * slenderness + 2.5)
    softness: Real = 2.0 * np.log(spread) / (_CONE * np.pi)
    return softness


def clamped_stiffness(modulus: Real, d: Real, softness: Real) -> Real:
    """Stiffness of clamped parts of one material.

    Args:
        modulus [Pa]: Young's modulus of the parts, 1e9 to 1e12; aluminium about 70e9.
        d [m]: nominal diameter of the bolt, 0.002 to 0.045.
        softness [1]: from `cone_softness`, 0.01 to 2.

    Returns:
        [N/m]: stiffness.

    Raises:
        DomainError: an argument outside its range.

    Source: as `cone_softness`.

    >>> round(clamped_stiffness(206e9, 0.010, 1.1819) / 1e6)
    1743
    """
    require("modulus", modulus, *_MODULUS)
    require("d", d, *_DIAMETER)
    require("softness", softness, 0.01, 2.0)
    return modulus * d / softness


def elongation(load: Real, stiffness: Real) -> Real:
    """How much a spring gives under a load; of a bolt, its stretch by a micrometer.

    Args:
        load [N]: clamp load, 0 to 2e6.
        stiffness [N/m]: stiffness of the bolt, 1e5 to 1e11.

    Returns:
        [m]: stretch.

    Raises:
        DomainError: an argument outside its range.

    Source: Hooke's law.

    >>> elongation(30_000.0, 3e8)
    0.0001
    """
    require("load", load, *_LOAD)
    require("stiffness", stiffness, *_STIFFNESS)
    return load / stiffness


def turn_angle(load_rise: Real, P: Real, stiffness: Real) -> Real:
    """Angle to turn, from snug or from a first torque, for a rise in clamp load.

    Args:
        load_rise [N]: clamp load wanted less the clamp load there, 0 to 2e6.
        P [m]: pitch, 0.0003 to 0.0045.
        stiffness [N/m]: bolt and joint in a row, 1e5 to 1e11.

    Returns:
        [rad]: angle between the part that turns and the joint.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners, turn-of-nut: a full turn takes up one pitch.

    >>> round(float(np.degrees(turn_angle(30_000.0, 0.0015, 3e8))), 6)
    24.0
    """
    require("load_rise", load_rise, *_LOAD)
    require("P", P, *_PITCH)
    require("stiffness", stiffness, *_STIFFNESS)
    angle: Real = 2.0 * np.pi * load_rise / (P * stiffness)
    return angle


def load_for_turn(angle: Real, P: Real, stiffness: Real) -> Real:
    """Rise in clamp load from turning by an angle after snug or a first torque.

    Args:
        angle [rad]: angle between the part that turns and the joint, 0 to 4π.
        P [m]: pitch, 0.0003 to 0.0045.
        stiffness [N/m]: bolt and joint in a row, 1e5 to 1e11.

    Returns:
        [N]: rise in clamp load while the bolt stays below yield.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners, turn-of-nut, solved for the load.

    >>> round(load_for_turn(np.pi / 2, 0.0015, 3e8))
    112500
    """
    require("angle", angle, 0.0, 4.0 * np.pi)
    require("P", P, *_PITCH)
    require("stiffness", stiffness, *_STIFFNESS)
    load: Real = angle * P * stiffness / (2.0 * np.pi)
    return load
