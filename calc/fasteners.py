"""Clamp load and torque of a bolt, both ways, by VDI 2230 and by the short form T = K F d.

The bolt is tightened by turning and stays elastic: pull in the stress area together with the twist
from thread friction reaches a chosen share of yield by the distortion-energy rule. Friction in the
thread and under the head is one number each for the whole tightening. What the model leaves out:
settling after tightening, bending of the bolt from a face that is not square, working loads, heat,
and any figure for bolts meant to be taken past yield. A figure of the part's maker goes first.

Scatter is in the friction far more than in the wrench, which is why a clamp load is a band.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require
from calc.wrenches import highest_applied, lowest_applied

_PITCH = (0.0003, 0.0045)
_DIAMETER = (0.002, 0.045)
_BEARING = (0.003, 0.1)
_AREA = (1e-6, 2e-3)
_FRICTION = (0.02, 0.6)
_SHARE = (0.05, 1.0)
_STRENGTH = (1e8, 2e9)
_LOAD = (0.0, 2e6)
_TORQUE = (0.0, 5_000.0)
_ARM = (1e-4, 0.05)

# Coefficients as VDI 2230 prints them: 1/(2π), 1/(2 cos 30°) and 1/cos 30°, rounded.
_PITCH_COEFFICIENT = 0.16
_THREAD_COEFFICIENT = 0.58
_FLANK_COEFFICIENT = 1.155

# Twice tan of the angle at which pressure spreads through a washer, about 39°.
_SPREAD = 1.6


def stress_diameter(area: Real) -> Real:
    """Diameter of a circle of the stress area, in which the twist is reckoned.

    Args:
        area [m^2]: stress area, 1e-6 to 2e-3.

    Returns:
        [m]: d0.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, d0 = √(4 A_0/π).

    >>> round(float(stress_diameter(36.61e-6)) * 1e3, 3)
    6.827
    """
    require("area", area, *_AREA)
    diameter: Real = np.sqrt(4.0 * area / np.pi)
    return diameter


def twist_over_pull(P: Real, d2: Real, area: Real, thread_friction: Real) -> Real:
    """Shear stress over tensile stress in a bolt that is being tightened.

    Args:
        P [m]: pitch, 0.0003 to 0.0045.
        d2 [m]: pitch diameter, 0.002 to 0.045.
        area [m^2]: stress area, 1e-6 to 2e-3.
        thread_friction [1]: coefficient of friction in the thread, 0.02 to 0.6.

    Returns:
        [1]: ratio of the stresses, fully plastic in twist.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230: τ/σ = 3/2 d2/d0 (P/(π d2) + 1.155 μ_G).

    >>> round(float(twist_over_pull(0.00125, 0.007188, 36.61e-6, 0.12)), 4)
    0.3063
    """
    require("P", P, *_PITCH)
    require("d2", d2, *_DIAMETER)
    require("thread_friction", thread_friction, *_FRICTION)
    lever = 1.5 * d2 / stress_diameter(area)
    return lever * (P / (np.pi * d2) + _FLANK_COEFFICIENT * thread_friction)


def pull_area(P: Real, d2: Real, area: Real, thread_friction: Real) -> Real:
    """Area that a bolt has left for pull while thread friction twists it.

    Args:
        P [m]: pitch, 0.0003 to 0.0045.
        d2 [m]: pitch diameter, 0.002 to 0.045.
        area [m^2]: stress area, 1e-6 to 2e-3.
        thread_friction [1]: coefficient of friction in the thread, 0.02 to 0.6.

    Returns:
        [m^2]: clamp load over the yield-strength share used; less than the stress area.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230: F_M = ν R_p A_0 / √(1 + 3 (τ/σ)²), the distortion-energy rule, with τ/σ as in
    `twist_over_pull`.

    >>> float(pull_area(0.00125, 0.007188, 36.61e-6, 0.12)) * 1e6
    32.34
    """
    twist = twist_over_pull(P, d2, area, thread_friction)
    left: Real = area / np.sqrt(1.0 + 3.0 * twist**2)
    return left


def load_at_strength(strength: Real, area: Real) -> Real:
    """Load at which the stress in an area reaches a strength: yield, proof or breaking load.

    Args:
        strength [Pa]: yield, proof or tensile strength, 1e8 to 2e9.
        area [m^2]: stress area, or the area from `pull_area`, 1e-6 to 2e-3.

    Returns:
        [N]: load.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 898-1, loads as strength times stress area.

    >>> round(load_at_strength(580e6, 36.6e-6))
    21228
    """
    require("strength", strength, *_STRENGTH)
    require("area", area, *_AREA)
    return strength * area


def load_at_yield_share(share: Real, yield_strength: Real, area: Real) -> Real:
    """Clamp load at which pull and twist together reach a share of yield.

    Args:
        share [1]: share of the yield strength used while tightening, 0.05 to 1; 0.9 is usual.
        yield_strength [Pa]: yield strength or 0.2 % proof stress, 1e8 to 2e9.
        area [m^2]: from `pull_area`, 1e-6 to 2e-3.

    Returns:
        [N]: clamp load just after tightening.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, assembly preload F_M.

    >>> round(load_at_yield_share(0.9, 640e6, 32.34e-6))
    18628
    """
    require("share", share, *_SHARE)
    require("yield_strength", yield_strength, *_STRENGTH)
    return share * load_at_strength(yield_strength, area)


def yield_share(load: Real, yield_strength: Real, area: Real) -> Real:
    """Share of yield that pull and twist together reach at a clamp load.

    Args:
        load [N]: clamp load, 0 to 2e6.
        yield_strength [Pa]: yield strength or 0.2 % proof stress, 1e8 to 2e9.
        area [m^2]: from `pull_area`, 1e-6 to 2e-3.

    Returns:
        [1]: share of yield; above 1 the bolt stretches for good.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, solved for the other quantity.

    >>> round(yield_share(18_628.0, 640e6, 32.34e-6), 4)
    0.9
    """
    require("load", load, *_LOAD)
    require("yield_strength", yield_strength, *_STRENGTH)
    return load / load_at_strength(yield_strength, area)


def load_at_proof_share(share: Real, proof_strength: Real, area: Real) -> Real:
    """Clamp load as a share of the proof load, the twist not counted.

    Args:
        share [1]: share of the proof load, 0.05 to 1; 0.75 is usual for joints to be undone.
        proof_strength [Pa]: proof strength of the class or grade, 1e8 to 2e9.
        area [m^2]: stress area, 1e-6 to 2e-3.

    Returns:
        [N]: clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners: F = 0.75 A_t S_p for reused fasteners.

    >>> round(load_at_proof_share(0.75, 580e6, 36.6e-6))
    15921
    """
    require("share", share, *_SHARE)
    require("proof_strength", proof_strength, *_STRENGTH)
    return share * load_at_strength(proof_strength, area)


def proof_share(load: Real, proof_strength: Real, area: Real) -> Real:
    """Share of the proof load that a clamp load is, the twist not counted.

    Args:
        load [N]: clamp load, 0 to 2e6.
        proof_strength [Pa]: proof strength of the class or grade, 1e8 to 2e9.
        area [m^2]: stress area, 1e-6 to 2e-3.

    Returns:
        [1]: share of the proof load.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 898-1, proof load = S_p A_s.

    >>> round(proof_share(15_921.0, 580e6, 36.6e-6), 4)
    0.75
    """
    require("load", load, *_LOAD)
    require("proof_strength", proof_strength, *_STRENGTH)
    return load / load_at_strength(proof_strength, area)


def mean_bearing_diameter(bearing: Real, hole: Real) -> Real:
    """Diameter at which friction under the head acts.

    Args:
        bearing [m]: outside diameter of the bearing face, 0.003 to 0.1.
        hole [m]: diameter of the clearance hole, 0.003 to 0.1, at most the bearing diameter.

    Returns:
        [m]: mean of the two.

    Raises:
        DomainError: an argument outside its range, or a hole larger than the head.

    Source: VDI 2230, D_Km = (d_w + d_h)/2.

    >>> mean_bearing_diameter(0.01163, 0.009)
    0.010315
    """
    require("bearing", bearing, *_BEARING)
    require("hole", hole, *_BEARING)
    require("bearing less hole", bearing - hole, 0.0, _BEARING[1])
    return (bearing + hole) / 2.0


def spread_diameter(bearing: Real, thickness: Real) -> Real:
    """Diameter over which a hard washer spreads the pressure of a head.

    Args:
        bearing [m]: outside diameter of the head's bearing face, 0.003 to 0.1.
        thickness [m]: thickness of the washer, 0.0002 to 0.02.

    Returns:
        [m]: diameter pressed on the part; the washer's own outside diameter where that is less.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, d_Wa = d_W + 1.6 h_S, from memory. A soft washer dents and spreads nothing.

    >>> round(spread_diameter(0.01163, 0.0016), 5)
    0.01419
    """
    require("bearing", bearing, *_BEARING)
    require("thickness", thickness, 0.0002, 0.02)
    return bearing + _SPREAD * thickness


def bearing_area(bearing: Real, hole: Real) -> Real:
    """Ring that a head or washer presses on.

    Args:
        bearing [m]: outside diameter that presses, 0.003 to 0.1.
        hole [m]: diameter of the clearance hole, 0.003 to 0.1, less than that; a chamfer makes the
            ring smaller still.

    Returns:
        [m^2]: area.

    Raises:
        DomainError: an argument outside its range, or a hole larger than the head.

    Source: VDI 2230, A_p = π/4 (d_W² − d_h²).

    >>> round(float(bearing_area(0.01163, 0.009)) * 1e6, 1)
    42.6
    """
    require("bearing", bearing, *_BEARING)
    require("hole", hole, *_BEARING)
    require("bearing less hole", bearing - hole, 0.0, _BEARING[1])
    return np.pi / 4.0 * (bearing**2 - hole**2)


def head_pressure(load: Real, area: Real) -> Real:
    """Pressure under a head.

    Args:
        load [N]: clamp load, 0 to 2e6.
        area [m^2]: from `bearing_area`, 1e-6 to 1e-2.

    Returns:
        [Pa]: mean pressure; over the limiting pressure of the part the head sinks in.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, p = F/A_p.

    >>> round(head_pressure(18_600.0, 55.8e-6) / 1e6)
    333
    """
    require("load", load, *_LOAD)
    require("area", area, 1e-6, 1e-2)
    return load / area


def torque_arm(
    P: Real, d2: Real, bearing_mean: Real, thread_friction: Real, head_friction: Real
) -> Real:
    """Torque for each newton of clamp load.

    Args:
        P [m]: pitch, 0.0003 to 0.0045.
        d2 [m]: pitch diameter, 0.002 to 0.045.
        bearing_mean [m]: mean bearing diameter, 0.003 to 0.1.
        thread_friction [1]: coefficient of friction in the thread, 0.02 to 0.6.
        head_friction [1]: coefficient of friction under the turned head or nut, 0.02 to 0.6.

    Returns:
        [m]: arm, torque over clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230: M_A = F_M (0.16 P + 0.58 d2 μ_G + D_Km/2 μ_K), with its rounded coefficients,
    which are up to 0.5 % above the exact ones.

    >>> round(torque_arm(0.00125, 0.007188, 0.010315, 0.12, 0.12), 7)
    0.0013192
    """
    require("P", P, *_PITCH)
    require("d2", d2, *_DIAMETER)
    require("bearing_mean", bearing_mean, *_BEARING)
    require("thread_friction", thread_friction, *_FRICTION)
    require("head_friction", head_friction, *_FRICTION)
    arm: Real = (
        _PITCH_COEFFICIENT * P
        + _THREAD_COEFFICIENT * d2 * thread_friction
        + bearing_mean / 2.0 * head_friction
    )
    return arm


def friction_for_arm(arm: Real, P: Real, d2: Real, bearing_mean: Real) -> Real:
    """Coefficient of friction, the same in thread and under head, that gives an arm.

    Args:
        arm [m]: torque over clamp load, 0.0001 to 0.05.
        P [m]: pitch, 0.0003 to 0.0045.
        d2 [m]: pitch diameter, 0.002 to 0.045.
        bearing_mean [m]: mean bearing diameter, 0.003 to 0.1.

    Returns:
        [1]: coefficient of friction.

    Raises:
        DomainError: an argument outside its range, or an arm that no such friction gives.

    Source: VDI 2230, solved for the other quantity.

    >>> round(friction_for_arm(0.0013192, 0.00125, 0.007188, 0.010315), 4)
    0.12
    """
    require("arm", arm, *_ARM)
    require("P", P, *_PITCH)
    require("d2", d2, *_DIAMETER)
    require("bearing_mean", bearing_mean, *_BEARING)
    friction = (arm - _PITCH_COEFFICIENT * P) / (_THREAD_COEFFICIENT * d2 + bearing_mean / 2.0)
    require("friction", friction, *_FRICTION)
    return friction


def torque_for_load(load: Real, arm: Real) -> Real:
    """Torque that makes a clamp load.

    Args:
        load [N]: clamp load, 0 to 2e6.
        arm [m]: torque over clamp load, 0.0001 to 0.05.

    Returns:
        [N*m]: torque, any running torque not included.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, assembly torque M_A.

    >>> round(torque_for_load(18_600.0, 0.0013192), 1)
    24.5
    """
    require("load", load, *_LOAD)
    require("arm", arm, *_ARM)
    return load * arm


def load_for_torque(torque: Real, arm: Real) -> Real:
    """Clamp load that a torque makes.

    Args:
        torque [N*m]: torque, any running torque taken off, 0 to 5000.
        arm [m]: torque over clamp load, 0.0001 to 0.05.

    Returns:
        [N]: clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, solved for the other quantity.

    >>> round(load_for_torque(24.6, 0.0013192))
    18648
    """
    require("torque", torque, *_TORQUE)
    require("arm", arm, *_ARM)
    return torque / arm


def nut_factor(arm: Real, d: Real) -> Real:
    """Nut factor K of the short form T = K F d that belongs to an arm.

    Args:
        arm [m]: torque over clamp load, 0.0001 to 0.05.
        d [m]: nominal diameter, 0.002 to 0.045.

    Returns:
        [1]: nut factor.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners: T = K F d.

    >>> nut_factor(0.0013192, 0.008)
    0.1649
    """
    require("arm", arm, *_ARM)
    require("d", d, *_DIAMETER)
    return arm / d


def arm_for_nut_factor(K: Real, d: Real) -> Real:
    """Arm that belongs to a nut factor, so that the short form works both ways.

    Args:
        K [1]: nut factor, 0.05 to 0.8; 0.20 where nothing is known.
        d [m]: nominal diameter, 0.002 to 0.045.

    Returns:
        [m]: torque over clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: Shigley, chapter on screws and fasteners: T = K F d.

    >>> arm_for_nut_factor(0.20, 0.008)
    0.0016
    """
    require("K", K, 0.05, 0.8)
    require("d", d, *_DIAMETER)
    return K * d


def lowest_load(torque: Real, deviation: Real, arm_high: Real) -> Real:
    """Least clamp load of a torque: the wrench gives little and friction is high.

    Args:
        torque [N*m]: torque set or read, running torque taken off, 0 to 5000.
        deviation [1]: permitted deviation of the wrench, 0 to 0.5.
        arm_high [m]: arm at the highest friction, 0.0001 to 0.05.

    Returns:
        [N]: least clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of ISO 6789 and the friction range together.

    >>> round(lowest_load(24.6, 0.04, 0.0017))
    13914
    """
    return load_for_torque(lowest_applied(torque, deviation), arm_high)


def highest_load(torque: Real, deviation: Real, arm_low: Real) -> Real:
    """Greatest clamp load of a torque: the wrench gives much and friction is low.

    Args:
        torque [N*m]: torque set or read, running torque taken off, 0 to 5000.
        deviation [1]: permitted deviation of the wrench, 0 to 0.5.
        arm_low [m]: arm at the lowest friction, 0.0001 to 0.05.

    Returns:
        [N]: greatest clamp load.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of ISO 6789 and the friction range together.

    >>> round(highest_load(24.6, 0.04, 0.0010))
    25625
    """
    return load_for_torque(highest_applied(torque, deviation), arm_low)


def tightening_factor(highest: Real, lowest: Real) -> Real:
    """Greatest over least clamp load.

    Args:
        highest [N]: greatest clamp load, 0 to 2e6.
        lowest [N]: least clamp load, 1 to 2e6.

    Returns:
        [1]: tightening factor α_A, 1 for no scatter.

    Raises:
        DomainError: an argument outside its range.

    Source: VDI 2230, α_A = F_Mmax/F_Mmin.

    >>> round(tightening_factor(41_900.0, 23_300.0), 1)
    1.8
    """
    require("highest", highest, *_LOAD)
    require("lowest", lowest, 1.0, _LOAD[1])
    return highest / lowest
