"""Screw threads of the 60° profile: sizes, worst-case limits, and the length that must engage.

Metric threads by ISO 68-1, 724 and 965-1 (6g in 6H), unified threads by ASME B1.1 (2A in 2B). The
strip check is that of FED-STD-H28: a cylinder of thread at the worst limits of both parts, sheared
through all at once. Left out: a hole that spreads at its mouth in a thin-walled boss, first turns
that take more than their share, a countersink, and incomplete turns at the bolt's end: engaged
length means full turns. For repaired holes and inserts the insert maker's figures count.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real, require

_INCH = 0.0254
_MICRON = 1e-6

# Keeps a half a half, and a quarter inch a quarter inch, where arithmetic is off by the last bit.
_HALF = 1e-7

_DIAMETER = (0.0028, 0.045)
_PITCH = (0.0003, 0.0045)
_PITCH_OVER_DIAMETER = (0.02, 0.3)
_LENGTH = (0.0, 1.0)
_STRENGTH = (1e6, 3e9)
_SHEAR_RATE = (1e-3, 0.2)
_STRIP_RATE = (1e3, 6e8)

# Fundamental triangle height over pitch, and how far each diameter lies inside the nominal one.
_TRIANGLE = 3.0**0.5 / 2.0
_PITCH_DEPTH = 3.0 / 4.0 * _TRIANGLE
_MINOR_DEPTH = 5.0 / 4.0 * _TRIANGLE
_ROOT_DEPTH = 17.0 / 12.0 * _TRIANGLE

# Limits of the diameter steps that ISO 965-1 tolerances belong to, in mm.
_STEP_LIMITS = np.array([2.8, 5.6, 11.2, 22.4, 45.0])

# Preferred numbers of the R40 series, ISO 3: tolerances are rounded to these.
_R40 = np.array(
    [
        *(1.00, 1.06, 1.12, 1.18, 1.25, 1.32, 1.40, 1.50, 1.60, 1.70, 1.80, 1.90, 2.00, 2.12),
        *(2.24, 2.36, 2.50, 2.65, 2.80, 3.00, 3.15, 3.35, 3.55, 3.75, 4.00, 4.25, 4.50, 4.75),
        *(5.00, 5.30, 5.60, 6.00, 6.30, 6.70, 7.10, 7.50, 8.00, 8.50, 9.00, 9.50),
    ]
)
# An internal pitch-diameter tolerance is this many R40 steps above the external one (factor 1.32).
_INTERNAL_STEPS = 5


def _require_thread(d: Real, P: Real) -> None:
    """Raise unless diameter and pitch are those of a fastening thread."""
    require("d", d, *_DIAMETER)
    require("P", P, *_PITCH)
    require("P over d", P / d, *_PITCH_OVER_DIAMETER)


def pitch_diameter(d: Real, P: Real) -> Real:
    """Diameter at which thread and groove are equally wide.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: basic pitch diameter d2 = D2.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 724, d2 = d − 3/4 H with H = √3/2 P; ASME B1.1 has the same.

    >>> pitch_diameter(0.010, 0.0015)
    0.0090257
    """
    _require_thread(d, P)
    diameter: Real = d - _PITCH_DEPTH * P
    return diameter


def minor_diameter(d: Real, P: Real) -> Real:
    """Diameter of the bore of the tapped hole.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: basic minor diameter d1 = D1.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 724, d1 = d − 5/4 H with H = √3/2 P; ASME B1.1 has the same.

    >>> minor_diameter(0.010, 0.0015)
    0.0083762
    """
    _require_thread(d, P)
    diameter: Real = d - _MINOR_DEPTH * P
    return diameter


def root_diameter(d: Real, P: Real) -> Real:
    """Diameter at the rounded root of the bolt's thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: root diameter d3.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 898-1, d3 = d1 − H/6 with H = √3/2 P.

    >>> root_diameter(0.010, 0.0015)
    0.0081597
    """
    _require_thread(d, P)
    diameter: Real = d - _ROOT_DEPTH * P
    return diameter


def stress_area(d: Real, P: Real) -> Real:
    """Area that carries the pull in a metric thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m^2]: nominal stress area A_s.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 898-1, A_s = π/4 ((d2 + d3)/2)².

    >>> stress_area(0.010, 0.0015) * 1e6
    57.99
    """
    return np.pi / 4 * ((pitch_diameter(d, P) + root_diameter(d, P)) / 2) ** 2


def stress_area_unified(d: Real, P: Real) -> Real:
    """Area that carries the pull in a unified thread, a little less than the metric rule gives.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, one inch over the threads per inch, 0.0003 to 0.0045.

    Returns:
        [m^2]: tensile stress area A_t.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ASME B1.1, A_t = π/4 (D − 0.9743/n)².

    >>> stress_area_unified(0.0127, 0.0254 / 13) / 0.0254**2
    0.1419
    """
    _require_thread(d, P)
    return np.pi / 4 * (d - 0.9743 * P) ** 2


def _whole_microns(index: NDArray[np.float64]) -> NDArray[np.float64]:
    """Value at a place of the R40 series in micrometres, as whole micrometres."""
    decade = np.floor(index / len(_R40))
    place = (index - len(_R40) * decade).astype(int)
    return np.asarray(np.rint(_R40[place] * 10.0**decade), dtype=np.float64)


def _r40_index(value: Real) -> NDArray[np.float64]:
    """Place in the R40 series that is nearest to a value."""
    return np.asarray(np.rint(len(_R40) * np.log10(value)), dtype=np.float64)


def _preferred(value: Real) -> NDArray[np.float64]:
    """Tolerance in micrometres, rounded as ISO 965-1 rounds it."""
    return _whole_microns(_r40_index(value))


def _step_mean(d: Real) -> NDArray[np.float64]:
    """Geometric mean in mm of the ISO 965-1 diameter step that a diameter in m lies in."""
    # A rounding in the last bit must not move a diameter into the next step.
    millimetres = np.asarray(d, dtype=np.float64) * 1e3 - 1e-9
    step = np.clip(np.searchsorted(_STEP_LIMITS, millimetres), 1, len(_STEP_LIMITS) - 1)
    return np.asarray(np.sqrt(_STEP_LIMITS[step - 1] * _STEP_LIMITS[step]), dtype=np.float64)


def _external_pitch_index(d: Real, P: Real) -> NDArray[np.float64]:
    """Place in the R40 series of the grade 6 tolerance of the bolt's pitch diameter."""
    return _r40_index(90.0 * (P * 1e3) ** 0.4 * _step_mean(d) ** 0.1)


def _allowance_g(P: Real) -> NDArray[np.float64]:
    """Upper deviation of position g in micrometres, taken off the bolt."""
    return _preferred(15.0 + 11.0 * P * 1e3)


def major_min_6g(d: Real, P: Real) -> Real:
    """Smallest outside diameter of a metric bolt's thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: least major diameter of a 6g thread, before any plating.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 965-1, es = −(15 + 11 P), T_d(6) = 180 P^(2/3) − 3.15/√P, in μm with P in mm,
    rounded to the R40 series.

    >>> float(major_min_6g(0.008, 0.00125))
    0.007760
    """
    _require_thread(d, P)
    pitch = P * 1e3
    tolerance = _preferred(180.0 * pitch ** (2.0 / 3.0) - 3.15 / np.sqrt(pitch))
    return d - (_allowance_g(P) + tolerance) * _MICRON


def pitch_min_6g(d: Real, P: Real) -> Real:
    """Smallest pitch diameter of a metric bolt's thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: least pitch diameter of a 6g thread, before any plating.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 965-1, T_d2(6) = 90 P^0.4 d^0.1 in μm with P and d in mm, d the geometric mean of
    the diameter step, rounded to the R40 series.

    >>> float(pitch_min_6g(0.008, 0.00125))
    0.007042
    """
    tolerance = _whole_microns(_external_pitch_index(d, P))
    return pitch_diameter(d, P) - (_allowance_g(P) + tolerance) * _MICRON


def minor_max_6h(d: Real, P: Real) -> Real:
    """Largest bore of a metric tapped hole.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: greatest minor diameter of a 6H thread.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 965-1, T_D1(6) = 433 P − 190 P^1.22 for fine and 230 P^0.7 for coarse pitches, in μm
    with P in mm, rounded to the R40 series. Other books count 1 mm as a coarse pitch, but the
    standard's own table has 236 μm there, which only the first formula gives.

    >>> float(minor_max_6h(0.008, 0.00125))
    0.006912
    """
    _require_thread(d, P)
    pitch = P * 1e3
    tolerance = np.where(pitch < 1.1, 433.0 * pitch - 190.0 * pitch**1.22, 230.0 * pitch**0.7)
    return minor_diameter(d, P) + _preferred(tolerance) * _MICRON


def pitch_max_6h(d: Real, P: Real) -> Real:
    """Largest pitch diameter of a metric tapped hole.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: greatest pitch diameter of a 6H thread.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ISO 965-1, T_D2(6) = 1.32 T_d2(6), a whole number of steps of the R40 series.

    >>> float(pitch_max_6h(0.008, 0.00125))
    0.007348
    """
    basic = pitch_diameter(d, P)
    return basic + _whole_microns(_external_pitch_index(d, P) + _INTERNAL_STEPS) * _MICRON


def _in_tenths(inches: Real) -> Real:
    """Round inches to 0.0001 in, as ASME B1.1 rounds each part of a limit; a half is rounded up."""
    return np.floor(np.asarray(inches) * 1e4 + 0.5 + _HALF) / 1e4


def _pitch_tolerance_2a(d: Real, P: Real) -> Real:
    """Class 2A tolerance of the pitch diameter in inches, for an engagement of one diameter.

    The standard carries six decimals on: at 1/4-20 they decide a rounding of what follows.
    """
    diameter, pitch = d / _INCH, P / _INCH
    inches: Real = (
        0.0015 * diameter ** (1.0 / 3.0) + 0.0015 * diameter**0.5 + 0.015 * pitch ** (2.0 / 3.0)
    )
    return np.round(inches, 6)


def _allowance_2a(d: Real, P: Real) -> Real:
    """Allowance of class 2A in inches, which the bolt lies inside its basic size.

    Worked out from the rounded tolerance; the one half met, at 5/8-11, is printed rounded down.
    """
    return _in_tenths(0.3 * _in_tenths(_pitch_tolerance_2a(d, P)) - 2e-4 * _HALF)


def _minor_tolerance_2b(d: Real, P: Real) -> Real:
    """Class 2B tolerance of the bore in inches, from 4 threads per inch up."""
    diameter, pitch = d / _INCH, P / _INCH
    usual = 0.25 * pitch - 0.4 * pitch**2
    small = 0.05 * pitch ** (2.0 / 3.0) + 0.03 * pitch / diameter - 0.002
    bounded = np.clip(small, usual, 0.394 * pitch)
    return np.where(diameter < 0.25 - _HALF, bounded, usual)


def major_min_2a(d: Real, P: Real) -> Real:
    """Smallest outside diameter of a unified bolt's thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, one inch over the threads per inch, 0.0003 to 0.0045.

    Returns:
        [m]: least major diameter of a class 2A thread, before any plating.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ASME B1.1: allowance 0.3 of the pitch-diameter tolerance, major-diameter tolerance
    0.060 P^(2/3), in inches, each rounded to 0.0001 in.

    >>> round(float(major_min_2a(0.00635, 0.00127)) / 0.0254, 6)
    0.2408
    """
    _require_thread(d, P)
    tolerance = _in_tenths(0.060 * (P / _INCH) ** (2.0 / 3.0))
    return _in_tenths(d / _INCH - _allowance_2a(d, P) - tolerance) * _INCH


def pitch_min_2a(d: Real, P: Real) -> Real:
    """Smallest pitch diameter of a unified bolt's thread.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, one inch over the threads per inch, 0.0003 to 0.0045.

    Returns:
        [m]: least pitch diameter of a class 2A thread, before any plating.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ASME B1.1: tolerance 0.0015 D^(1/3) + 0.0015 L_E^(1/2) + 0.015 P^(2/3) in inches with
    L_E = D for coarse and fine series, allowance 0.3 of it, each rounded to 0.0001 in, as is the
    basic size.

    >>> round(float(pitch_min_2a(0.00635, 0.00127)) / 0.0254, 6)
    0.2127
    """
    largest = _in_tenths(pitch_diameter(d, P) / _INCH) - _allowance_2a(d, P)
    return (largest - _in_tenths(_pitch_tolerance_2a(d, P))) * _INCH


def minor_max_2b(d: Real, P: Real) -> Real:
    """Largest bore of a unified tapped hole.

    Args:
        d [m]: nominal diameter, 0.0036 to 0.045; below that the standard prints finer steps.
        P [m]: pitch, one inch over the threads per inch, 0.0003 to 0.0045.

    Returns:
        [m]: greatest minor diameter of a class 2B thread.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ASME B1.1: tolerance 0.25 P − 0.4 P² in inches from 1/4 in and 4 threads per inch up,
    0.05 P^(2/3) + 0.03 P/D − 0.002 below, there at least the former and at most 0.394 P. Basic
    size and tolerance are rounded to 0.0001 in and their sum to 0.001 in, a half up: that gives
    every bore that the standard prints from No. 10 to 3/4 in.

    >>> round(float(minor_max_2b(0.00635, 0.00127)) / 0.0254, 6)
    0.207
    """
    require("d", d, 0.0036, _DIAMETER[1])
    basic = _in_tenths(minor_diameter(d, P) / _INCH)
    largest = basic + _in_tenths(_minor_tolerance_2b(d, P))
    return np.floor(largest * 1e3 + 0.5 + _HALF) / 1e3 * _INCH


def pitch_max_2b(d: Real, P: Real) -> Real:
    """Largest pitch diameter of a unified tapped hole.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        P [m]: pitch, one inch over the threads per inch, 0.0003 to 0.0045.

    Returns:
        [m]: greatest pitch diameter of a class 2B thread.

    Raises:
        DomainError: a diameter, a pitch or their ratio outside its range.

    Source: ASME B1.1: 1.3 times the class 2A tolerance, rounded to 0.0001 in, as is the basic size.

    >>> round(float(pitch_max_2b(0.00635, 0.00127)) / 0.0254, 6)
    0.2224
    """
    basic = _in_tenths(pitch_diameter(d, P) / _INCH)
    return (basic + _in_tenths(1.3 * _pitch_tolerance_2a(d, P))) * _INCH


def external_shear_rate(P: Real, pitch_min: Real, bore_max: Real) -> Real:
    """Area of bolt thread that must shear, for each metre engaged.

    Args:
        P [m]: pitch, 0.0003 to 0.0045.
        pitch_min [m]: least pitch diameter of the bolt, 0.002 to 0.045.
        bore_max [m]: greatest minor diameter of the tapped hole, 0.002 to 0.045.

    Returns:
        [m]: square metres of thread per metre of full engagement.

    Raises:
        DomainError: an argument outside its range, or a thread that does not engage.

    Source: FED-STD-H28/2B; ASME B1.1 appendix B:
    A = π n L K_max (1/(2n) + 0.57735 (E_min − K_max)), n = 1/P.

    >>> external_shear_rate(0.0015, 0.008862, 0.008676) * 1e3
    15.58
    """
    _require_flank(P, pitch_min, bore_max, "pitch_min", "bore_max")
    rate: Real = np.pi * bore_max * (0.5 + 0.57735 * (pitch_min - bore_max) / P)
    return rate


def internal_shear_rate(P: Real, major_min: Real, pitch_max: Real) -> Real:
    """Area of thread in the tapped part that must shear, for each metre engaged.

    Args:
        P [m]: pitch, 0.0003 to 0.0045.
        major_min [m]: least major diameter of the bolt, 0.002 to 0.045.
        pitch_max [m]: greatest pitch diameter of the tapped hole, 0.002 to 0.045.

    Returns:
        [m]: square metres of thread per metre of full engagement.

    Raises:
        DomainError: an argument outside its range, or a thread that does not engage.

    Source: FED-STD-H28/2B; ASME B1.1 appendix B:
    A = π n L D_min (1/(2n) + 0.57735 (D_min − E_max)), n = 1/P.

    >>> internal_shear_rate(0.0015, 0.009732, 0.009206) * 1e3
    21.48
    """
    _require_flank(P, major_min, pitch_max, "major_min", "pitch_max")
    rate: Real = np.pi * major_min * (0.5 + 0.57735 * (major_min - pitch_max) / P)
    return rate


def _require_flank(P: Real, outer: Real, inner: Real, outer_name: str, inner_name: str) -> None:
    """Raise unless two diameters leave some width of thread to shear."""
    require("P", P, *_PITCH)
    require(outer_name, outer, 0.002, _DIAMETER[1])
    require(inner_name, inner, 0.002, _DIAMETER[1])
    # From no width left at all up to a whole pitch.
    require(f"{outer_name} less {inner_name}, in pitches", (outer - inner) / P, -0.86, 0.86)


def strip_rate(shear_rate: Real, shear_strength: Real) -> Real:
    """Pull at which a thread strips, for each metre engaged.

    Args:
        shear_rate [m]: shear area per length of the thread looked at, 0.001 to 0.2.
        shear_strength [Pa]: shear strength of that part, 1e6 to 3e9.

    Returns:
        [N/m]: rate; of a bolt and its hole, the one with the lower rate lets go first.

    Raises:
        DomainError: an argument outside its range.

    Source: FED-STD-H28/2B, shear area times shear strength.

    >>> round(strip_rate(0.02148, 143e6) / 1e6, 3)
    3.072
    """
    require("shear_rate", shear_rate, *_SHEAR_RATE)
    require("shear_strength", shear_strength, *_STRENGTH)
    return shear_rate * shear_strength


def engagement_length(pull: Real, rate: Real) -> Real:
    """Length of full thread that carries a pull.

    Args:
        pull [N]: pull along the bolt, any safety factor counted, 0 to 2e7; with the bolt's breaking
            load, the bolt breaks before the thread strips.
        rate [N/m]: from `strip_rate`, the lower of bolt and hole, 1e3 to 6e8.

    Returns:
        [m]: full turns that must be engaged.

    Raises:
        DomainError: an argument outside its range.

    Source: FED-STD-H28/2B. With shear strength half the tensile strength on both sides, the
    breaking load needs its L = 2 A_t / (external area per length), times J where the tapped part is
    the weaker.

    >>> round(engagement_length(33_700.0 * 1.5, 3.0716e6), 5)
    0.01646
    """
    require("pull", pull, 0.0, 2e7)
    require("rate", rate, *_STRIP_RATE)
    return pull / rate


def strip_load(engaged: Real, rate: Real) -> Real:
    """Pull at which an engaged thread strips.

    Args:
        engaged [m]: length of full turns engaged, 0 to 1.
        rate [N/m]: from `strip_rate`, the lower of bolt and hole, 1e3 to 6e8.

    Returns:
        [N]: pull that shears the thread off.

    Raises:
        DomainError: an argument outside its range.

    Source: FED-STD-H28/2B, shear area times shear strength.

    >>> round(strip_load(0.0150, 3.0716e6))
    46074
    """
    require("engaged", engaged, *_LENGTH)
    require("rate", rate, *_STRIP_RATE)
    return engaged * rate


def held_load(strips_at: Real, factor: Real) -> Real:
    """Clamp load that a thread holds with a margin.

    Args:
        strips_at [N]: pull at which the engaged thread strips, from `strip_load`, 0 to 2e7.
        factor [1]: how many times the clamp load the thread is to hold, 1 to 5; 1.5 is usual.

    Returns:
        [N]: greatest clamp load to tighten to.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of the factor; 1.5 is common practice.

    >>> held_load(30_000.0, 1.5)
    20000.0
    """
    require("strips_at", strips_at, 0.0, 2e7)
    require("factor", factor, 1.0, 5.0)
    return strips_at / factor


def engagement_guide(d: Real, diameters: Real) -> Real:
    """Engagement by the rule of so many diameters.

    Args:
        d [m]: nominal diameter, 0.0028 to 0.045.
        diameters [1]: rule for the tapped material, 0.5 to 4: 1 in steel, 1.5 in softer metal.

    Returns:
        [m]: full turns to engage.

    Raises:
        DomainError: an argument outside its range.

    Source: US Army TB 43-0218, paragraph 7a.

    >>> engagement_guide(0.010, 1.5)
    0.015
    """
    require("d", d, *_DIAMETER)
    require("diameters", diameters, 0.5, 4.0)
    return diameters * d


def bolt_length_tapped(stack: Real, engagement: Real) -> Real:
    """Length under the head of a bolt into a tapped hole.

    Args:
        stack [m]: all that lies between head and hole, washers included, 0 to 1.
        engagement [m]: thread wanted in the hole, 0 to 1.

    Returns:
        [m]: shortest bolt that engages as wanted; take the next stock length up, and check that
        the hole is deeper than the bolt reaches.

    Raises:
        DomainError: an argument outside its range.

    Source: geometry.

    >>> bolt_length_tapped(0.0125, 0.020)
    0.0325
    """
    require("stack", stack, *_LENGTH)
    require("engagement", engagement, *_LENGTH)
    return stack + engagement


def engaged_length(bolt_length: Real, stack: Real) -> Real:
    """Length of a bolt that reaches into a tapped hole.

    Args:
        bolt_length [m]: length under the head, 0 to 1.
        stack [m]: all that lies between head and hole, washers included, 0 to 1, at most the bolt's
            length.

    Returns:
        [m]: length inside the hole; the incomplete turns at the bolt's end are part of it.

    Raises:
        DomainError: an argument outside its range, or a bolt that does not reach the hole.

    Source: geometry.

    >>> engaged_length(0.035, 0.0125)
    0.0225
    """
    require("bolt_length", bolt_length, *_LENGTH)
    require("stack", stack, *_LENGTH)
    reach = bolt_length - stack
    require("bolt_length less stack", reach, *_LENGTH)
    return reach


def bolt_length_through(stack: Real, nut_height: Real, threads_out: Real, P: Real) -> Real:
    """Length under the head of a bolt through a clear hole into a nut.

    Args:
        stack [m]: all that lies between head and nut, washers included, 0 to 1.
        nut_height [m]: height of the nut, 0 to 0.1.
        threads_out [1]: full turns to show beyond the nut, 0 to 10; two or more are usual.
        P [m]: pitch, 0.0003 to 0.0045.

    Returns:
        [m]: shortest bolt that shows as many turns; take the next stock length up.

    Raises:
        DomainError: an argument outside its range.

    Source: geometry; two full turns by US Army TB 43-0218, paragraph 7b.

    >>> bolt_length_through(0.020, 0.0084, 2.0, 0.0015)
    0.0314
    """
    require("stack", stack, *_LENGTH)
    require("nut_height", nut_height, 0.0, 0.1)
    require("threads_out", threads_out, 0.0, 10.0)
    require("P", P, *_PITCH)
    return stack + nut_height + threads_out * P
