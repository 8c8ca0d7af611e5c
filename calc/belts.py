"""V-ribbed belt drives: diameters, speed, grip, tension, tone, alignment.

The model is the flexible, inextensible belt of the textbooks: Euler–Eytelwein grip with the
centrifugal tension taken off both spans. `friction` is everywhere the exponent that works on the
wrap angle; for a belt in grooves it is the surface friction over the sine of the grooves' half
angle, or the figure that a rating practice states.

Tensions are what a span carries, its centrifugal part included. At rest there is none: a sprung
tensioner adds it by itself as the belt speeds up, locked centres do not. Left out: bending
stiffness (a short span sounds sharper than `span_frequency` says), creep, heat, water or oil on
the ribs, shock loads. A belt maker's rating is always better than these numbers.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

# Widest inputs for which the relations are meant; the pages use narrower ones.
_DIAMETER = (0.005, 2.0)
_SPEED = (0.01, 150.0)
_TENSION = (0.0, 100e3)
_POWER = (0.0, 1e6)
_MASS = (0.001, 10.0)
_SPAN = (0.02, 15.0)
_WRAP = (0.017, 20.0)
_ANGLE = (0.0, 0.175)
_PULL = (0.0, 1e8)
_RATIO = (0.0, 1.0)


def _require_grip(friction: Real, wrap: Real, mass_per_length: Real, speed: Real) -> None:
    """Check the four inputs that every grip relation shares."""
    require("friction", friction, 0.05, 3.0)
    require("wrap", wrap, *_WRAP)
    require("mass_per_length", mass_per_length, 0.0, _MASS[1])
    require("speed", speed, *_SPEED)


def _if_room(room: Real, value: Real) -> Real:
    """Keep a value where the tension left for it is positive, NaN elsewhere."""
    kept: Real = np.where(room > 0.0, value, np.nan)[()]
    return kept


# Diameters and speed ------------------------------------------------------------------------


def effective_diameter_from_pitch(pitch_diameter: Real, line_differential: Real) -> Real:
    """Effective diameter from the diameter on which the belt's cord runs.

    Args:
        pitch_diameter [m]: 0.005 to 2.
        line_differential [m]: b_e, radial distance from effective line to cord, 0 to 0.01.

    Returns:
        [m]: effective diameter.

    Raises:
        DomainError: an input outside its range.

    Source: ISO 9981, pitch diameter = effective diameter + 2 b_e.

    >>> effective_diameter_from_pitch(0.204, 0.002)
    0.2
    """
    require("pitch_diameter", pitch_diameter, *_DIAMETER)
    require("line_differential", line_differential, 0.0, 0.010)
    return pitch_diameter - 2.0 * line_differential


def pitch_allowance(line_differential: Real, tip_height: Real) -> Real:
    """What to add to a caliper reading over the rib tips for the pitch diameter.

    The same for every pulley of a drive, so that a wanted pitch diameter is turned back into a
    reading by taking it off.

    Args:
        line_differential [m]: from the effective to the pitch line, 0 to 0.01.
        tip_height [m]: radial height of the tips over the effective circle, -0.002 to 0.002; 0
            where the effective diameter itself was measured.

    Returns:
        [m]: allowance on the diameter.

    Raises:
        DomainError: an input outside its range.

    Source: ISO 9981:1998, 5.4; height of the tips common practice.

    >>> pitch_allowance(0.002, 0.0)
    0.004
    """
    require("line_differential", line_differential, 0.0, 0.010)
    require("tip_height", tip_height, -0.002, 0.002)
    return 2.0 * (line_differential - tip_height)


def pitch_diameter_of_back_idler(surface_diameter: Real, back_height: Real) -> Real:
    """Diameter on which the cord runs round a smooth idler that touches the belt's back.

    Args:
        surface_diameter [m]: diameter of the smooth idler, 0.005 to 2.
        back_height [m]: from the belt's back to the middle of its cord, 0 to 0.01.

    Returns:
        [m]: pitch diameter of the idler.

    Raises:
        DomainError: an input outside its range.

    Source: geometry.

    >>> pitch_diameter_of_back_idler(0.076, 0.001)
    0.078
    """
    require("surface_diameter", surface_diameter, *_DIAMETER)
    require("back_height", back_height, 0.0, 0.010)
    return surface_diameter + 2.0 * back_height


def speed_ratio(driver_pitch_diameter: Real, driven_pitch_diameter: Real) -> Real:
    """Turns of the driven pulley for one turn of the driver, without slip.

    Args:
        driver_pitch_diameter [m]: 0.005 to 2.
        driven_pitch_diameter [m]: 0.005 to 2.

    Returns:
        [1]: speed ratio.

    Raises:
        DomainError: a diameter outside its range.

    Source: ISO 9981, clause 5.4: the pitch diameters make the ratio, not the effective ones.

    >>> speed_ratio(0.204, 0.084)
    2.428571
    """
    require("driver_pitch_diameter", driver_pitch_diameter, *_DIAMETER)
    require("driven_pitch_diameter", driven_pitch_diameter, *_DIAMETER)
    return driver_pitch_diameter / driven_pitch_diameter


def slip_from_ratio(measured_ratio: Real, expected_ratio: Real) -> Real:
    """Slip as the share of the expected speed that is missing.

    Args:
        measured_ratio [1]: driven speed over driver speed as measured, 0.05 to 25.
        expected_ratio [1]: the same from the pitch diameters, 0.05 to 25.

    Returns:
        [1]: slip; a negative one means that a diameter or a reading is wrong.

    Raises:
        DomainError: a ratio outside its range.

    Source: definition.

    >>> slip_from_ratio(1.96, 2.0)
    0.02
    """
    require("measured_ratio", measured_ratio, 0.05, 25.0)
    require("expected_ratio", expected_ratio, 0.05, 25.0)
    return 1.0 - measured_ratio / expected_ratio


def belt_speed(pitch_diameter: Real, rev_per_s: Real) -> Real:
    """Speed of the belt from a pulley that does not slip.

    Args:
        pitch_diameter [m]: 0.005 to 2.
        rev_per_s [1/s]: speed of that pulley, 0 to 1000.

    Returns:
        [m/s]: belt speed.

    Raises:
        DomainError: an input outside its range.

    Source: kinematics, v = π d n.

    >>> float(belt_speed(0.204, 100.0))
    64.0885
    """
    require("pitch_diameter", pitch_diameter, *_DIAMETER)
    require("rev_per_s", rev_per_s, 0.0, 1000.0)
    return np.pi * pitch_diameter * rev_per_s


def pulley_speed(speed: Real, pitch_diameter: Real) -> Real:
    """Rotational speed of a pulley that runs with the belt, such as an idler.

    Args:
        speed [m/s]: belt speed, 0 to 150.
        pitch_diameter [m]: 0.005 to 2.

    Returns:
        [1/s]: rotational speed.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `belt_speed`.

    >>> float(pulley_speed(64.08849, 0.204))
    100.0000
    """
    require("speed", speed, 0.0, _SPEED[1])
    require("pitch_diameter", pitch_diameter, *_DIAMETER)
    return speed / (np.pi * pitch_diameter)


# Grip ---------------------------------------------------------------------------------------


def grip_ratio(friction: Real, wrap: Real) -> Real:
    """Largest ratio of tight to slack tension before the belt slides, at rest.

    Args:
        friction [1]: effective friction, 0.05 to 3.
        wrap [rad]: angle of contact, 0.017 to 20.

    Returns:
        [1]: tension ratio.

    Raises:
        DomainError: an input outside its range.

    Source: Euler–Eytelwein: e^(μθ).

    >>> float(grip_ratio(0.25, 5.0 * np.pi))
    50.754
    """
    require("friction", friction, 0.05, 3.0)
    require("wrap", wrap, *_WRAP)
    ratio: Real = np.exp(friction * wrap)
    return ratio


def slack_ratio(friction: Real, wrap: Real) -> Real:
    """Slack over tight tension when the belt is about to slide, both less the centrifugal tension.

    Args:
        friction [1]: effective friction, 0.05 to 3.
        wrap [rad]: angle of contact, 0.017 to 20.

    Returns:
        [1]: tension ratio, from 0, a perfect grip, to 1, none.

    Raises:
        DomainError: an input outside its range.

    Source: Euler–Eytelwein: e^(-μθ).

    >>> float(slack_ratio(0.25, np.pi))
    0.455938
    """
    return 1.0 / grip_ratio(friction, wrap)


def pull_held(tight_working: Real, slack_ratio: Real) -> Real:
    """Most pull that a belt passes with a tension in its tight span.

    Args:
        tight_working [N]: tension of the tight span less the centrifugal tension, 0 or more.
        slack_ratio [1]: from `slack_ratio`, 0 to 1.

    Returns:
        [N]: pull.

    Raises:
        DomainError: an input outside its range.

    Source: Euler–Eytelwein: F = (T_1 - T_c)(1 - e^(-μθ)).

    >>> pull_held(800.0, 0.25)
    600.0
    """
    require("tight_working", tight_working, 0.0, np.inf)
    require("slack_ratio", slack_ratio, *_RATIO)
    return tight_working * (1.0 - slack_ratio)


def tight_for_pull(pull: Real, slack_ratio: Real) -> Real:
    """Tension of the tight span, less the centrifugal tension, that just holds a pull.

    Args:
        pull [N]: 0 to 1e8.
        slack_ratio [1]: from `slack_ratio`, 0 to 1.

    Returns:
        [N]: tension.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `pull_held`.

    >>> tight_for_pull(600.0, 0.25)
    800.0
    """
    require("pull", pull, *_PULL)
    require("slack_ratio", slack_ratio, *_RATIO)
    return pull / (1.0 - slack_ratio)


def slack_ratio_needed(pull: Real, tight_working: Real) -> Real:
    """Slack over tight tension, both less the centrifugal tension, that a pull comes to.

    Args:
        pull [N]: 0 to 1e8.
        tight_working [N]: tension of the tight span less the centrifugal tension, not checked:
            above 0.

    Returns:
        [1]: tension ratio; 0 or less where the pull alone is more than the tension.

    Raises:
        DomainError: pull outside its range.

    Source: statics: the pull is the difference of the two tensions.

    >>> float(slack_ratio_needed(600.0, 800.0))
    0.25
    """
    require("pull", pull, *_PULL)
    ratio: Real = 1.0 - np.divide(pull, tight_working)
    return ratio


def resting_tension(
    pull: Real, slack_ratio: Real, centrifugal: Real, tensioner_constant: Real
) -> Real:
    """Least tension at rest with which a drive passes a pull.

    A sprung tensioner presses on the belt with what its run carries less the centrifugal tension,
    and holds that, so that the run carries the centrifugal tension on top while it runs. Locked
    centres hold the belt's stretch instead: the centrifugal tension is lost from the grip, and the
    pull slackens one run by as much as it tightens the other.

    Args:
        pull [N]: 0 to 1e8.
        slack_ratio [1]: from `slack_ratio`, 0 to 1.
        centrifugal [N]: centrifugal tension while it runs, 0 to 100e3.
        tensioner_constant [1]: 0 to 1, from locked centres to an ideal sprung tensioner.

    Returns:
        [N]: tension of every run at rest.

    Raises:
        DomainError: an input outside its range.

    Source: Beikmann, Perkins and Ulsoy, J. Mech. Design 119 (1997), 162-168: the tensioner
    constant says how much of its tractive tension a tensioner keeps; both runs as equally long.

    >>> resting_tension(600.0, 0.25, 400.0, 1.0), resting_tension(600.0, 0.25, 400.0, 0.0)
    (200.0, 900.0)
    """
    require("centrifugal", centrifugal, *_TENSION)
    require("tensioner_constant", tensioner_constant, *_RATIO)
    slack = tight_for_pull(pull, slack_ratio) * slack_ratio
    return slack + (1.0 - tensioner_constant) * (centrifugal + pull / 2.0)


def gripping_tension(resting: Real, centrifugal: Real, tensioner_constant: Real) -> Real:
    """What the centrifugal tension leaves of the tension at rest, to grip with.

    Args:
        resting [N]: tension at rest, 0 to 100e3.
        centrifugal [N]: centrifugal tension while it runs, 0 to 100e3.
        tensioner_constant [1]: 0 to 1, from locked centres to an ideal sprung tensioner.

    Returns:
        [N]: tension of every run, less the centrifugal one, before there is any pull; negative
        where the belt would float.

    Raises:
        DomainError: an input outside its range.

    Source: Beikmann, Perkins and Ulsoy, J. Mech. Design 119 (1997), 162-168.

    >>> gripping_tension(900.0, 400.0, 1.0), gripping_tension(900.0, 400.0, 0.0)
    (900.0, 500.0)
    """
    require("resting", resting, *_TENSION)
    require("centrifugal", centrifugal, *_TENSION)
    require("tensioner_constant", tensioner_constant, *_RATIO)
    return resting - (1.0 - tensioner_constant) * centrifugal


def slack_from_rest(gripping: Real, pull: Real, tensioner_constant: Real) -> Real:
    """Tension of the slack span while it runs, less the centrifugal tension.

    Args:
        gripping [N]: from `gripping_tension`, -100e3 to 100e3.
        pull [N]: 0 to 1e8.
        tensioner_constant [1]: 0 to 1, from locked centres to an ideal sprung tensioner.

    Returns:
        [N]: tension; negative where the belt would float.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `resting_tension`.

    >>> slack_from_rest(500.0, 600.0, 0.0)
    200.0
    """
    require("gripping", gripping, -_TENSION[1], _TENSION[1])
    require("pull", pull, *_PULL)
    require("tensioner_constant", tensioner_constant, *_RATIO)
    return gripping - (1.0 - tensioner_constant) * pull / 2.0


def pull_from_rest(gripping: Real, slack_ratio: Real, tensioner_constant: Real) -> Real:
    """Most pull that a drive passes with the tension that it has at rest.

    Args:
        gripping [N]: from `gripping_tension`, 0 or more.
        slack_ratio [1]: from `slack_ratio`, 0 to 1; not checked: below 1.
        tensioner_constant [1]: 0 to 1, from locked centres to an ideal sprung tensioner.

    Returns:
        [N]: pull.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `resting_tension`.

    >>> pull_from_rest(200.0, 0.25, 1.0), pull_from_rest(500.0, 0.25, 0.0)
    (600.0, 600.0)
    """
    require("gripping", gripping, 0.0, np.inf)
    require("tensioner_constant", tensioner_constant, *_RATIO)
    slack_for_one = tight_for_pull(1.0, slack_ratio) * slack_ratio
    return gripping / (slack_for_one + (1.0 - tensioner_constant) / 2.0)


def least_reading(tension: Real, damping: Real) -> Real:
    """Least tension at rest that a sprung tensioner of a tension may show.

    The friction that damps it holds it where it last stopped: up to so much under its spring's
    tension, or as much over it.

    Args:
        tension [N]: what the spring alone gives, 0 to 100e3.
        damping [1]: friction over the spring's force, 0 to 0.9.

    Returns:
        [N]: tension.

    Raises:
        DomainError: an input outside its range.

    Source: statics of a spring with dry friction.

    >>> least_reading(300.0, 0.2)
    240.0
    """
    require("tension", tension, *_TENSION)
    require("damping", damping, 0.0, 0.9)
    return tension * (1.0 - damping)


def greatest_reading(tension: Real, damping: Real) -> Real:
    """Greatest tension at rest that a sprung tensioner of a tension may show.

    Args:
        tension [N]: what the spring alone gives, 0 to 100e3.
        damping [1]: friction over the spring's force, 0 to 0.9.

    Returns:
        [N]: tension.

    Raises:
        DomainError: an input outside its range.

    Source: statics of a spring with dry friction; the other end of `least_reading`.

    >>> greatest_reading(300.0, 0.2)
    360.0
    """
    require("tension", tension, *_TENSION)
    require("damping", damping, 0.0, 0.9)
    return tension * (1.0 + damping)


def centrifugal_tension(mass_per_length: Real, speed: Real) -> Real:
    """Tension that only bends the belt's path round the pulleys, and does not grip.

    Args:
        mass_per_length [kg/m]: 0 to 10.
        speed [m/s]: 0 to 150.

    Returns:
        [N]: centrifugal tension.

    Raises:
        DomainError: an input outside its range.

    Source: Khurmi & Gupta, Theory of Machines, ch. 11: T_c = m v².

    >>> centrifugal_tension(0.16, 50.0)
    400.0
    """
    require("mass_per_length", mass_per_length, 0.0, _MASS[1])
    require("speed", speed, 0.0, _SPEED[1])
    return mass_per_length * speed**2


def slack_for_power(
    power: Real, friction: Real, wrap: Real, mass_per_length: Real, speed: Real
) -> Real:
    """Least slack-span tension, while it runs, that passes a power.

    A sprung tensioner is set to this less the centrifugal tension: see `resting_tension`.

    Args:
        power [W]: power to pass, margin included, 0 to 1e6.
        friction [1]: effective friction, 0.05 to 3.
        wrap [rad]: contact angle of the pulley that slides first, 0.017 to 20.
        mass_per_length [kg/m]: mass of the belt, 0 to 10.
        speed [m/s]: belt speed, 0.01 to 150.

    Returns:
        [N]: tension of the slack span.

    Raises:
        DomainError: an input outside its range.

    Source: Euler–Eytelwein with centrifugal tension: T_2 = T_c + (P/v) / (e^(μθ) - 1).

    >>> float(slack_for_power(31112.07, 0.45, np.pi, 0.16, 50.0))
    600.00
    """
    require("power", power, *_POWER)
    _require_grip(friction, wrap, mass_per_length, speed)
    ratio = slack_ratio(friction, wrap)
    return (
        centrifugal_tension(mass_per_length, speed) + tight_for_pull(power / speed, ratio) * ratio
    )


def tight_for_power(
    power: Real, friction: Real, wrap: Real, mass_per_length: Real, speed: Real
) -> Real:
    """Tight-span tension when the slack span has just enough to pass a power.

    Args:
        power [W]: power to pass, margin included, 0 to 1e6.
        friction [1]: effective friction, 0.05 to 3.
        wrap [rad]: contact angle of the pulley that slides first, 0.017 to 20.
        mass_per_length [kg/m]: mass of the belt, 0 to 10.
        speed [m/s]: belt speed, 0.01 to 150.

    Returns:
        [N]: tension of the tight span.

    Raises:
        DomainError: an input outside its range.

    Source: Khurmi & Gupta, Theory of Machines, ch. 11: T_1 = T_c + (P/v) / (1 - e^(-μθ)).

    >>> float(tight_for_power(9636.228, 0.3, np.radians(120.0), 0.6, 25.8199))
    1200.0
    """
    require("power", power, *_POWER)
    _require_grip(friction, wrap, mass_per_length, speed)
    working = tight_for_pull(power / speed, slack_ratio(friction, wrap))
    return centrifugal_tension(mass_per_length, speed) + working


def wrap_for_slack(
    power: Real, slack: Real, friction: Real, mass_per_length: Real, speed: Real
) -> Real:
    """Wrap that a pulley needs to pass a power while a tensioner holds the slack span.

    Args:
        power [W]: power to pass, margin included, 0 to 1e6.
        slack [N]: tension of the slack span, 0 to 100e3.
        friction [1]: effective friction, 0.05 to 3.
        mass_per_length [kg/m]: mass of the belt, 0 to 10.
        speed [m/s]: belt speed, 0.01 to 150.

    Returns:
        [rad]: contact angle; NaN where the slack span carries no more than the centrifugal
        tension, so that no wrap grips.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `slack_for_power` for the wrap.

    >>> float(wrap_for_slack(31112.07, 600.0, 0.45, 0.16, 50.0))
    3.1416
    """
    require("power", power, *_POWER)
    require("slack", slack, *_TENSION)
    _require_grip(friction, 1.0, mass_per_length, speed)
    grip = slack - centrifugal_tension(mass_per_length, speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        wrap = np.log(1.0 + np.divide(power / speed, grip)) / friction
    return _if_room(grip, wrap)


def wrap_for_tight(
    power: Real, tight: Real, friction: Real, mass_per_length: Real, speed: Real
) -> Real:
    """Wrap that a pulley needs to pass a power without the tight span exceeding a tension.

    Args:
        power [W]: power to pass, margin included, 0 to 1e6.
        tight [N]: tension allowed in the tight span, 0 to 100e3.
        friction [1]: effective friction, 0.05 to 3.
        mass_per_length [kg/m]: mass of the belt, 0 to 10.
        speed [m/s]: belt speed, 0.01 to 150.

    Returns:
        [rad]: contact angle; NaN where the pull alone exceeds what the tight span may carry.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `tight_for_power` for the wrap.

    >>> float(wrap_for_tight(9636.228, 1200.0, 0.3, 0.6, 25.8199))
    2.0944
    """
    require("power", power, *_POWER)
    require("tight", tight, *_TENSION)
    _require_grip(friction, 1.0, mass_per_length, speed)
    pull = power / speed
    working = tight - centrifugal_tension(mass_per_length, speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        wrap = -np.log(slack_ratio_needed(pull, working)) / friction
    return _if_room(working - pull, wrap)


def ribs_needed(
    power: Real,
    friction: Real,
    wrap: Real,
    mass_per_rib: Real,
    speed: Real,
    tension_per_rib: Real,
) -> Real:
    """Ribs that carry a power within the tension allowed to each; round up.

    Each rib brings its own mass, so the centrifugal tension takes its share of every rib and
    adding ribs does not help a belt that is too fast.

    Args:
        power [W]: power to pass, margin included, 0 to 1e6.
        friction [1]: effective friction, 0.05 to 3.
        wrap [rad]: contact angle of the pulley that slides first, 0.017 to 20.
        mass_per_rib [kg/m]: mass of one rib, 0 to 10.
        speed [m/s]: belt speed, 0.01 to 150.
        tension_per_rib [N]: allowed tight-span tension of one rib, 1 to 10e3.

    Returns:
        [1]: ribs, not rounded; NaN where the centrifugal tension alone reaches what a rib may
        carry, so that no number of ribs is enough.

    Raises:
        DomainError: an input outside its range.

    Source: `tight_for_power` divided among the ribs.

    >>> float(ribs_needed(40e3, 0.44, np.pi, 0.02, 50.0, 200.0))
    7.12061
    """
    require("power", power, *_POWER)
    require("tension_per_rib", tension_per_rib, 1.0, 10e3)
    _require_grip(friction, wrap, mass_per_rib, speed)
    left = tension_per_rib - centrifugal_tension(mass_per_rib, speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        ribs = np.divide(tight_for_pull(power / speed, slack_ratio(friction, wrap)), left)
    return _if_room(left, ribs)


def max_power_speed(tight: Real, mass_per_length: Real) -> Real:
    """Belt speed at which a tight-span tension passes the most power.

    Above it, more speed passes less power, because the belt spends its tension on itself.

    Args:
        tight [N]: tension allowed in the tight span, 0 to 100e3.
        mass_per_length [kg/m]: 0.001 to 10.

    Returns:
        [m/s]: belt speed.

    Raises:
        DomainError: an input outside its range.

    Source: Khurmi & Gupta, Theory of Machines, ch. 11: v = √(T / 3m).

    >>> float(max_power_speed(1200.0, 0.6))
    25.820
    """
    require("tight", tight, *_TENSION)
    require("mass_per_length", mass_per_length, *_MASS)
    speed: Real = np.sqrt(tight / (3.0 * mass_per_length))
    return speed


def chord(wrap: Real) -> Real:
    """Pull on the bearing between two spans of equal tension, over that tension.

    Args:
        wrap [rad]: contact angle, 0 to 6.284.

    Returns:
        [1]: the chord of the wrap on a circle of radius 1.

    Raises:
        DomainError: wrap outside its range.

    Source: statics: 2 sin(θ/2).

    >>> float(chord(np.pi / 3.0))
    1.0
    """
    require("wrap", wrap, 0.0, 6.284)
    return 2.0 * np.sin(wrap / 2.0)


def bearing_load(tight_working: Real, slack_working: Real, chord: Real) -> Real:
    """Force with which two spans pull on the bearing of the pulley between them.

    Args:
        tight_working [N]: tension of the tighter span less the centrifugal one, -100e3 to 100e3.
        slack_working [N]: the same of the other span, -100e3 to 100e3.
        chord [1]: from `chord`, not checked: anything goes.

    Returns:
        [N]: magnitude of the load.

    Raises:
        DomainError: a tension outside its range.

    Source: cosine rule on the two span forces, 1 - cos θ written as half the square of the chord.

    >>> float(bearing_load(1000.0, 250.0, 2.0))
    1250.0
    """
    require("tight_working", tight_working, -_TENSION[1], _TENSION[1])
    require("slack_working", slack_working, -_TENSION[1], _TENSION[1])
    load: Real = np.sqrt(
        (tight_working - slack_working) ** 2 + tight_working * slack_working * chord**2
    )
    return load


def hub_load(tight: Real, slack: Real, centrifugal: Real, wrap: Real) -> Real:
    """Force with which the belt pulls on a pulley's bearing.

    The centrifugal tension turns the belt's own mass and never reaches the bearing.

    Args:
        tight [N]: tension of the tighter span, 0 to 100e3.
        slack [N]: tension of the other span, 0 to 100e3.
        centrifugal [N]: centrifugal tension, 0 at rest, 0 to 100e3.
        wrap [rad]: contact angle, 0 to 6.284.

    Returns:
        [N]: magnitude of the load; `calc.belt_route.hub_load_vector` gives its direction.

    Raises:
        DomainError: an input outside its range.

    Source: `bearing_load` on what the centrifugal tension leaves.

    >>> float(hub_load(1000.0, 250.0, 0.0, np.pi))
    1250.0
    """
    for name, value in (("tight", tight), ("slack", slack), ("centrifugal", centrifugal)):
        require(name, value, *_TENSION)
    return bearing_load(tight - centrifugal, slack - centrifugal, chord(wrap))


# Tone ---------------------------------------------------------------------------------------


def weighed_mass_per_length(belt_mass: Real, belt_length: Real) -> Real:
    """Mass of a metre of belt, from the kitchen scales.

    Args:
        belt_mass [kg]: mass of the whole belt or of a cut piece, 0.001 to 50.
        belt_length [m]: length of the same, 0.02 to 15.

    Returns:
        [kg/m]: mass per length.

    Raises:
        DomainError: an input outside its range.

    Source: definition.

    >>> weighed_mass_per_length(0.30, 1.5)
    0.2
    """
    require("belt_mass", belt_mass, 0.001, 50.0)
    require("belt_length", belt_length, *_SPAN)
    return belt_mass / belt_length


def span_frequency(tension: Real, span: Real, mass_per_length: Real) -> Real:
    """Lowest tone of a plucked span at rest.

    The span is taken as a string. A belt's bending stiffness raises the tone of a short span, so
    a tension worked out from the tone is too high there: use the longest free span.

    Args:
        tension [N]: 0 to 100e3.
        span [m]: free length between the points of contact, 0.02 to 15.
        mass_per_length [kg/m]: 0.001 to 10.

    Returns:
        [Hz]: frequency.

    Raises:
        DomainError: an input outside its range.

    Source: standard string equation: f = √(T/m) / 2L.

    >>> float(span_frequency(400.0, 0.250, 0.100))
    126.491
    """
    require("tension", tension, *_TENSION)
    require("span", span, *_SPAN)
    require("mass_per_length", mass_per_length, *_MASS)
    return np.sqrt(tension / mass_per_length) / (2.0 * span)


def span_tension(frequency: Real, span: Real, mass_per_length: Real) -> Real:
    """Tension of a span at rest from the tone it gives when plucked.

    Args:
        frequency [Hz]: lowest tone, 1 to 2000.
        span [m]: free length between the points of contact, 0.02 to 15.
        mass_per_length [kg/m]: 0.001 to 10.

    Returns:
        [N]: tension.

    Raises:
        DomainError: an input outside its range.

    Source: standard string equation: T = 4 m L² f².

    >>> span_tension(126.4911, 0.250, 0.100)
    400.000
    """
    require("frequency", frequency, 1.0, 2000.0)
    require("span", span, *_SPAN)
    require("mass_per_length", mass_per_length, *_MASS)
    return mass_per_length * (2.0 * span * frequency) ** 2


# Alignment ----------------------------------------------------------------------------------


def offset_from_gaps(gap_near: Real, gap_far: Real, rim_difference: Real) -> Real:
    """How far one pulley's grooves lie behind the other's, from a straightedge on the other.

    Args:
        gap_near [m]: gap at the rim's nearer edge, -0.05 to 0.05; negative if the rim sticks out.
        gap_far [m]: gap at the rim's farther edge, -0.05 to 0.05.
        rim_difference [m]: rim to first groove on the reference pulley less the same on the
            measured one, -0.05 to 0.05; 0 for equal rims.

    Returns:
        [m]: parallel offset of the grooves at the middle of the pulley, positive set back.

    Raises:
        DomainError: a reading outside its range.

    Source: geometry.

    >>> offset_from_gaps(0.0010, 0.0016, 0.0005)
    0.0008
    """
    for name, value in (("gap_near", gap_near), ("gap_far", gap_far)):
        require(name, value, -0.05, 0.05)
    require("rim_difference", rim_difference, -0.05, 0.05)
    return (gap_near + gap_far) / 2.0 - rim_difference


def misalignment_angle(offset: Real, span: Real) -> Real:
    """Angle at which the belt leaves the pulley's plane because of a parallel offset.

    Args:
        offset [m]: parallel offset, -0.05 to 0.05.
        span [m]: free length between the two pulleys, 0.02 to 15.

    Returns:
        [rad]: angle with the sign of the offset.

    Raises:
        DomainError: an input outside its range.

    Source: geometry.

    >>> float(np.degrees(misalignment_angle(0.005, 0.500)))
    0.5729
    """
    require("offset", offset, -0.05, 0.05)
    require("span", span, *_SPAN)
    angle: Real = np.arctan(offset / span)
    return angle


def offset_for_angle(angle: Real, span: Real) -> Real:
    """Parallel offset that makes a stated misalignment over a span: the allowed gap.

    Args:
        angle [rad]: misalignment, 0 to 0.175 (10°).
        span [m]: free length between the two pulleys, 0.02 to 15.

    Returns:
        [m]: offset.

    Raises:
        DomainError: an input outside its range.

    Source: geometry.

    >>> float(offset_for_angle(np.radians(0.5), 0.500))
    0.0043634
    """
    require("angle", angle, *_ANGLE)
    require("span", span, *_SPAN)
    return np.tan(angle) * span


def combined_misalignment(offset: Real, span: Real, tilt: Real) -> Real:
    """Misalignment to hold against a limit: offset and tilt together, at their worst.

    Args:
        offset [m]: parallel offset, -0.05 to 0.05.
        span [m]: free length between the two pulleys, 0.02 to 15.
        tilt [rad]: tilt of the pulley, -0.175 to 0.175.

    Returns:
        [rad]: sum of the two magnitudes.

    Raises:
        DomainError: an input outside its range.

    Source: common practice: the limits of belt makers count both together.

    >>> float(np.degrees(combined_misalignment(0.001, 0.300, np.radians(-0.1))))
    0.29098
    """
    require("tilt", tilt, -_ANGLE[1], _ANGLE[1])
    total: Real = np.abs(misalignment_angle(offset, span)) + np.abs(tilt)
    return total
