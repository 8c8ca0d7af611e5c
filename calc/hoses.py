"""Bend of a hose from a straightedge and a rule, how tight it may be, and the length to cut.

A straightedge across a bend gives a chord, the largest gap under it the rise. Together they fix the
circle through three points, so the model holds where the bend is one even arc: measure over the
tightest part, on a chord short enough to fit within it. A bend in two planes, or a flattened one,
is not a circle, and the figure is then true of the measured part only.

The minimum radius belongs to the inside face of the bend (EN 853:2015, 6.2); lengths belong to the
centreline. `radius_at_face` converts one to the other. Flattening, pressure, heat and ageing are in
the hose maker's figure, not here.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require, require_between

INSIDE_FACE = 0.0
"""Offset of the face on the inside of the bend, in outside diameters from that face."""

CENTRELINE = 0.5
"""Offset of the hose's centreline, in outside diameters from the inside face."""

OUTSIDE_FACE = 1.0
"""Offset of the face on the outside of the bend, in outside diameters from the inside face."""

LONGEST_UNDER_PRESSURE = 0.02
"""Growth that pressure may cause (FAA AC 43.13-1B, figure 9-9)."""

SHORTEST_UNDER_PRESSURE = -0.04
"""Shrinkage that pressure may cause (FAA AC 43.13-1B, figure 9-9)."""

LEAST_SLACK = 0.05
"""Slack to leave between fittings, lower figure (NAVEDTRA 14105, chapter 5)."""

MOST_SLACK = 0.08
"""Slack to leave between fittings, upper figure (NAVEDTRA 14105, chapter 5)."""

_CHORD = (0.01, 2.0)
_RISE = (1e-4, 1.0)
_RADIUS = (1e-3, 10_000.0)
# A half chord typed in inches can miss its own half by the last bit.
_HALF = 0.5 * (1.0 + 1e-12)


def _require_reading(chord: Real, rise: Real) -> None:
    """Raise unless the rise is one that an arc of at most half a turn shows on that chord."""
    require("chord", chord, *_CHORD)
    require("rise", rise, *_RISE)
    require_between("rise", rise, _RISE[0], chord * _HALF)


def bend_radius(chord: Real, rise: Real) -> Real:
    """Radius of the face that a straightedge and the gap under it measure.

    Args:
        chord [m]: straightedge length between the points where it touches, 0.01 to 2.
        rise [m]: largest gap under it, 0.0001 to 1, at most half the chord.

    Returns:
        [m]: radius of the face that was measured.

    Raises:
        DomainError: chord or rise outside its range. More than half a turn cannot be read from a
            rise: measure over a shorter chord.

    Source: Machinery's Handbook, segments of circles: R = c²/(8h) + h/2.

    >>> bend_radius(0.150, 0.030)
    0.10875
    """
    _require_reading(chord, rise)
    return chord**2 / (8 * rise) + rise / 2


def included_angle(chord: Real, rise: Real) -> Real:
    """Angle that the hose turns through between the ends of the straightedge.

    Args:
        chord [m]: straightedge length between the points where it touches, 0.01 to 2.
        rise [m]: largest gap under it, 0.0001 to 1, at most half the chord.

    Returns:
        [rad]: angle at the centre of the bend, at most half a turn.

    Raises:
        DomainError: chord or rise outside its range.

    Source: Machinery's Handbook, segments of circles: tan(θ/4) = 2h/c.

    >>> round(float(included_angle(0.150, 0.075)), 6)
    3.141593
    """
    _require_reading(chord, rise)
    angle: Real = 4 * np.arctan(2 * rise / chord)
    return angle


def radius_at_face(
    radius: Real, measured_face: Real, wanted_face: Real, outside_diameter: Real
) -> Real:
    """Radius of one face of a bent hose from that of another: all share one centre.

    Args:
        radius [m]: radius of the measured face, 0.001 to 10000.
        measured_face [1]: where it was measured, in outside diameters from the inside of the bend,
            0 to 1: 0 inside face, 0.5 centreline, 1 outside face.
        wanted_face [1]: where it is wanted, likewise, 0 to 1.
        outside_diameter [m]: outside diameter of the hose, 0 to 0.2.

    Returns:
        [m]: radius of the wanted face.

    Raises:
        DomainError: an argument outside its range, or a radius too small to be on that face of a
            hose of that diameter.

    Source: concentric circles; EN 853:2015, 6.2, measures the minimum on the inside face.

    >>> round(radius_at_face(0.120, OUTSIDE_FACE, INSIDE_FACE, 0.025), 6)
    0.095
    """
    require("radius", radius, *_RADIUS)
    require("measured_face", measured_face, INSIDE_FACE, OUTSIDE_FACE)
    require("wanted_face", wanted_face, INSIDE_FACE, OUTSIDE_FACE)
    require("outside_diameter", outside_diameter, 0.0, 0.2)
    offset = (wanted_face - measured_face) * outside_diameter
    require_between("radius", radius, -offset, _RADIUS[1])
    return radius + offset


def bend_rise(chord: Real, radius: Real) -> Real:
    """Rise that a bend shows on a chord: the other way round from `bend_radius`.

    Args:
        chord [m]: straightedge length between the points where it touches, 0.01 to 2.
        radius [m]: radius of the face that is measured, 0.001 to 10000, at least half the chord.

    Returns:
        [m]: largest gap under the straightedge, at most half the chord, where it spans half a turn.

    Raises:
        DomainError: an argument outside its range.

    Source: Machinery's Handbook, segments of circles: h = R − √(R² − c²/4), in the form
        h = (c²/4)/(R + √(R² − c²/4)), which loses no digits on a flat arc.

    >>> round(float(bend_rise(0.150, 0.10875)), 6)
    0.03
    """
    require("chord", chord, *_CHORD)
    require("radius", radius, *_RADIUS)
    half = chord / 2
    require_between("radius", radius, half, _RADIUS[1])
    rise: Real = half**2 / (radius + np.sqrt(radius**2 - half**2))
    return rise


def arc_length(centreline_radius: Real, angle: Real) -> Real:
    """Length of hose in a bend, on its centreline.

    Args:
        centreline_radius [m]: radius of the centreline, 0.001 to 10000.
        angle [rad]: angle that the hose turns through, 0 to 6.2832 (a full turn).

    Returns:
        [m]: length of the arc.

    Raises:
        DomainError: an argument outside its range.

    Source: length of a circular arc, L = 2πR·A/360 with A in degrees.

    >>> round(arc_length(0.100, 1.5707963), 6)
    0.15708
    """
    require("centreline_radius", centreline_radius, *_RADIUS)
    require("angle", angle, 0.0, 6.2832)
    return centreline_radius * angle


def length_to_cut(arc: Real, straights: Real, slack: Real, insertion: Real) -> Real:
    """Length of hose to cut for a bend, its straights, slack and both ends.

    Metal end fittings are no part of the flexible length: straights run from the end of one fitting
    to the end of the other. Slack is taken on that flexible length alone.

    Args:
        arc [m]: arc on the centreline, 0 to 20.
        straights [m]: straight hose on both sides of the bend together, 0 to 20.
        slack [1]: share of the flexible length to add, 0 to 0.2; 0.05 to 0.08 is usual.
        insertion [m]: hose pushed over, or into, the fitting at each end, 0 to 0.2.

    Returns:
        [m]: length to cut.

    Raises:
        DomainError: an argument outside its range.

    Source: slack of 5 to 8 %, NAVEDTRA 14105, chapter 5; fittings outside the flexible length, FAA
        AC 43.13-1B, figure 9-9.

    >>> round(length_to_cut(0.157, 0.343, 0.06, 0.030), 6)
    0.59
    """
    require("arc", arc, 0.0, 20.0)
    require("straights", straights, 0.0, 20.0)
    require("slack", slack, 0.0, 0.2)
    require("insertion", insertion, 0.0, 0.2)
    return (arc + straights) * (1 + slack) + 2 * insertion


def minimum_radius_by_bore(bore: Real, multiple: Real) -> Real:
    """Minimum bend radius by a rule of so many bores, for a hose without a published figure.

    Args:
        bore [m]: inside diameter, 0.001 to 0.2.
        multiple [1]: radius over bore, 1 to 30.

    Returns:
        [m]: minimum radius on the inside of the bend.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice; the hose maker's figure overrides it.

    >>> round(minimum_radius_by_bore(0.019, 6.0), 6)
    0.114
    """
    require("bore", bore, 1e-3, 0.2)
    require("multiple", multiple, 1.0, 30.0)
    return bore * multiple


def pressurised_length(length: Real, change: Real) -> Real:
    """Length that a hose takes up when pressure comes on.

    Args:
        length [m]: flexible length without pressure, 0 to 50.
        change [1]: relative change, -0.04 to 0.02; negative is shorter.

    Returns:
        [m]: flexible length under pressure.

    Raises:
        DomainError: an argument outside its range.

    Source: FAA AC 43.13-1B, figure 9-9: +2 % to −4 %.

    >>> round(pressurised_length(1.0, SHORTEST_UNDER_PRESSURE), 6)
    0.96
    """
    require("length", length, 0.0, 50.0)
    require("change", change, SHORTEST_UNDER_PRESSURE, LONGEST_UNDER_PRESSURE)
    return length * (1 + change)


def offset_half_turn(offset: Real, centreline_radius: Real) -> Real:
    """Sine of half the turn of each bend, where two equal bends carry a hose aside.

    Args:
        offset [m]: from one centreline to the other, both straights parallel, 0 to 5.
        centreline_radius [m]: of both bends, 0.001 to 10.

    Returns:
        [1]: sine of half the turn; over 0.7071 the bends are quarter turns with a straight between.

    Raises:
        DomainError: an argument outside its range.

    Source: two equal arcs, tangent in the middle: h = 2R·(1 − cos θ) = 4R·sin²(θ/2).

    >>> round(float(offset_half_turn(0.1, 0.1)), 6)
    0.5
    """
    require("offset", offset, 0.0, 5.0)
    require("centreline_radius", centreline_radius, 1e-3, 10.0)
    half: Real = (offset / (4.0 * centreline_radius)) ** 0.5
    return half


def offset_length(offset: Real, centreline_radius: Real) -> Real:
    """Least length, along the straights, in which two equal bends carry a hose aside.

    Args:
        offset [m]: from one centreline to the other, 0 to 5, at most twice the radius.
        centreline_radius [m]: of both bends, 0.001 to 10.

    Returns:
        [m]: length from the end of one straight to the start of the other.

    Raises:
        DomainError: an argument outside its range.

    Source: two equal arcs, tangent in the middle: L = 2R·sin θ = √(h·(4R − h)).

    >>> round(float(offset_length(0.1, 0.1)), 6)
    0.173205
    """
    require("offset", offset, 0.0, 5.0)
    require("centreline_radius", centreline_radius, 1e-3, 10.0)
    require_between("offset", offset, 0.0, 2.0 * centreline_radius * (1.0 + 1e-9))
    length: Real = (offset * (4.0 * centreline_radius - offset)) ** 0.5
    return length


def half_turn_angle(sine: Real) -> Real:
    """Turn of each of two equal bends, from the sine of half of it.

    Args:
        sine [1]: what `offset_half_turn` gives, 0 to 0.75.

    Returns:
        [rad]: turn of each bend.

    Raises:
        DomainError: an argument outside its range.

    Source: θ = 2·asin(s).

    >>> round(float(half_turn_angle(0.5)), 6)
    1.047198
    """
    require("sine", sine, 0.0, 0.75)
    angle: Real = 2.0 * np.arcsin(sine)
    return angle


BEND_RADII = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 20.0)
"""Centreline radii over bore at which the loss of a quarter turn is listed. Crane TP 410, A-29, as
restated."""

_BEND_BORES = (20.0, 14.0, 12.0, 12.0, 14.0, 17.0, 24.0, 30.0, 34.0, 38.0, 42.0, 50.0)


def quarter_turn_bores(radius_over_bore: Real) -> Real:
    """Straight hose that loses as much as a smooth quarter turn.

    Args:
        radius_over_bore [1]: centreline radius over bore, 1 to 20.

    Returns:
        [1]: length in bores, the hose in the bend included.

    Raises:
        DomainError: an argument outside its range.

    Source: Crane TP 410, page A-29, bends of 90 degrees, as restated; straight between its rows.

    >>> float(quarter_turn_bores(1.0)), float(quarter_turn_bores(5.0))
    (20.0, 15.5)
    """
    require("radius_over_bore", radius_over_bore, BEND_RADII[0], BEND_RADII[-1])
    found: Real = np.interp(radius_over_bore, BEND_RADII, _BEND_BORES)
    return found


def bend_bores(quarter: Real, radius_over_bore: Real, angle: Real) -> Real:
    """Straight hose that loses as much as a smooth bend of any turn.

    Args:
        quarter [1]: what a quarter turn of that radius loses, in bores, 5 to 60.
        radius_over_bore [1]: centreline radius over bore, 1 to 20.
        angle [rad]: turn, 0 to 6.2832.

    Returns:
        [1]: length in bores, the hose in the bend included.

    Raises:
        DomainError: an argument outside its range.

    Source: Crane TP 410, page A-29: K = (n − 1)·(0.25·π·f·r/d + 0.5·K_90) + K_90 for n quarter
        turns, over f; its restatements use it under a quarter turn too.

    >>> round(float(bend_bores(17.0, 6.0, np.pi)), 2)
    30.21
    """
    require("quarter", quarter, 5.0, 60.0)
    require("radius_over_bore", radius_over_bore, 1.0, 20.0)
    require("angle", angle, 0.0, 6.2832)
    turns = angle / (0.5 * np.pi)
    return (turns - 1.0) * (0.25 * np.pi * radius_over_bore + 0.5 * quarter) + quarter
