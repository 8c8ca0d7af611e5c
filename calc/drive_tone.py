"""What a belt-driven blower and its engine sing, and the drive ratio that the two tones tell.

Rotor lobes pass the outlet port one after the other, so that a positive-displacement blower sounds
at lobes × rotor speed and at whole multiples of that. The second rotor opens between two lobes of
the first, which may make the second multiple the louder. A four-stroke engine fires half its
cylinders in each turn of the crank. All that it does repeats every two turns, so that its sound
has lines at every half multiple of crank speed: every half order.

The two tones stand in a fixed ratio while the belt does not slip. Heard in the same seconds they
give the true drive ratio, whatever the tachometer says. Left out: two-stroke engines, and whatever
else the belt turns that sings by itself (an alternator, a pump with vanes).
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

RESOLUTION = 1.0
"""Hertz by which two steady tones must differ to be told apart: two and a half lines of a spectrum
over 2.5 s seen through a Hann window, whose main lobe reaches two lines to either side (Harris, On
the use of windows for harmonic analysis with the discrete Fourier transform, Proc. IEEE 66 (1978),
51-83; from memory). Ten seconds give four such spectra."""

HALF_ORDER = 0.5
"""A four-stroke engine repeats itself every two turns: its lines lie this far apart."""

HIGHEST_ORDER = 40.0
"""Most blower tones for one turn of the crank that are looked at."""

_CYLINDERS = (1.0, 16.0)
_LOBES = (1.0, 12.0)
_SPEED = (0.0, 5000.0)
_TONE = (1.0, 20e3)
_RATIO = (0.05, 40.0)
_SHARE = (0.0, 1.0)


def firing_tone(cylinders: Real, crank_speed: Real) -> Real:
    """Firing frequency of a four-stroke engine, evenly spaced.

    Args:
        cylinders [1]: 1 to 16.
        crank_speed [1/s]: 0 to 5000.

    Returns:
        [Hz]: firings in a second.

    Raises:
        DomainError: an input outside its range.

    Source: definition; each cylinder fires once in two turns.

    >>> firing_tone(8.0, 50.0)
    200.0
    """
    require("cylinders", cylinders, *_CYLINDERS)
    require("crank_speed", crank_speed, *_SPEED)
    return 0.5 * cylinders * crank_speed


def crank_speed_heard(firing: Real, cylinders: Real) -> Real:
    """Crank speed from a firing frequency.

    Args:
        firing [Hz]: firings in a second, 1 to 20e3.
        cylinders [1]: 1 to 16.

    Returns:
        [1/s]: crank speed.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `firing_tone`.

    >>> crank_speed_heard(200.0, 8.0)
    50.0
    """
    require("firing", firing, *_TONE)
    require("cylinders", cylinders, *_CYLINDERS)
    return firing / (0.5 * cylinders)


def lobe_tone(lobes: Real, rotor_speed: Real) -> Real:
    """Frequency at which the lobes of one rotor pass a port.

    Args:
        lobes [1]: lobes of that rotor, 1 to 12.
        rotor_speed [1/s]: of that rotor, 0 to 5000.

    Returns:
        [Hz]: lowest tone of the blower; two rotors offset may make its double louder.

    Raises:
        DomainError: an input outside its range.

    Source: definition; blade passing frequency, as of any fan.

    >>> lobe_tone(3.0, 200.0)
    600.0
    """
    require("lobes", lobes, *_LOBES)
    require("rotor_speed", rotor_speed, *_SPEED)
    return lobes * rotor_speed


def rotor_speed_heard(tone: Real, lobes: Real) -> Real:
    """Rotor speed from the blower's lowest tone.

    Args:
        tone [Hz]: lobes passing in a second, 1 to 20e3.
        lobes [1]: lobes of that rotor, 1 to 12.

    Returns:
        [1/s]: rotor speed.

    Raises:
        DomainError: an input outside its range.

    Source: inverse of `lobe_tone`.

    >>> rotor_speed_heard(600.0, 3.0)
    200.0
    """
    require("tone", tone, *_TONE)
    require("lobes", lobes, *_LOBES)
    return tone / lobes


def lobe_order(lobes: Real, drive_ratio: Real) -> Real:
    """Lobes that pass a port during one turn of the crank.

    Args:
        lobes [1]: lobes of the rotor, 1 to 12.
        drive_ratio [1]: turns of that rotor for one of the crank, 0.05 to 40.

    Returns:
        [1]: order of the blower's lowest tone.

    Raises:
        DomainError: an input outside its range.

    Source: definition; an order is a tone over crank speed.

    >>> lobe_order(4.0, 2.1)
    8.4
    """
    require("lobes", lobes, *_LOBES)
    require("drive_ratio", drive_ratio, *_RATIO)
    return lobes * drive_ratio


def order_heard(tone: Real, firing: Real, cylinders: Real) -> Real:
    """Order of a tone that is heard together with the firing.

    Args:
        tone [Hz]: 1 to 20e3.
        firing [Hz]: firing frequency in the same seconds, 1 to 20e3.
        cylinders [1]: 1 to 16.

    Returns:
        [1]: cycles of the tone for one turn of the crank.

    Raises:
        DomainError: an input outside its range.

    Source: definition; an order is a tone over crank speed.

    >>> order_heard(420.0, 200.0, 8.0)
    8.4
    """
    require("tone", tone, *_TONE)
    require("firing", firing, *_TONE)
    require("cylinders", cylinders, *_CYLINDERS)
    return 0.5 * cylinders * tone / firing


def ratio_share_unsure(tone: Real, tone_unsure: Real, firing: Real, firing_unsure: Real) -> Real:
    """Relative uncertainty of the ratio of two tones.

    Args:
        tone [Hz]: 1 to 20e3.
        tone_unsure [Hz]: half width within which it is known, 0 to 1000.
        firing [Hz]: 1 to 20e3.
        firing_unsure [Hz]: half width within which it is known, 0 to 1000.

    Returns:
        [1]: half width within which the ratio is known, over the ratio.

    Raises:
        DomainError: an input outside its range.

    Source: law of propagation for independent inputs, JCGM 100:2008 (GUM), 5.1.6, equation 12: the
        relative parts of a product or a quotient add as squares.

    >>> round(ratio_share_unsure(400.0, 1.2, 200.0, 0.8), 6)
    0.005
    """
    require("tone", tone, *_TONE)
    require("tone_unsure", tone_unsure, 0.0, 1000.0)
    require("firing", firing, *_TONE)
    require("firing_unsure", firing_unsure, 0.0, 1000.0)
    return together(tone_unsure / tone, firing_unsure / firing)


def pulleys_share_unsure(driving: Real, driven: Real, unsure: Real) -> Real:
    """Relative uncertainty of the ratio of two pulleys measured alike.

    Args:
        driving [m]: pitch diameter of the driving pulley, 0.005 to 2.
        driven [m]: pitch diameter of the driven pulley, 0.005 to 2.
        unsure [m]: half width within which each is known, 0 to 0.02.

    Returns:
        [1]: half width within which their ratio is known, over the ratio.

    Raises:
        DomainError: an input outside its range.

    Source: as `ratio_share_unsure`.

    >>> round(pulleys_share_unsure(0.200, 0.150, 0.0006), 6)
    0.005
    """
    require("driving", driving, 0.005, 2.0)
    require("driven", driven, 0.005, 2.0)
    require("unsure", unsure, 0.0, 0.02)
    return together(unsure / driving, unsure / driven)


def together(a: Real, b: Real) -> Real:
    """Two independent uncertainties as one.

    Args:
        a [1]: half width, 0 to 1000.
        b [1]: half width, 0 to 1000.

    Returns:
        [1]: half width of both.

    Raises:
        DomainError: an input outside its range.

    Source: JCGM 100:2008 (GUM), 5.1.2, equation 10: independent parts add as squares.

    >>> together(3.0, 4.0)
    5.0
    """
    require("a", a, 0.0, 1000.0)
    require("b", b, 0.0, 1000.0)
    return (a * a + b * b) ** 0.5


def slip_unsure(slip: Real, heard_share: Real, sound_share: Real) -> Real:
    """Uncertainty of a slip that is one less a ratio of ratios.

    Args:
        slip [1]: -1 to 1.
        heard_share [1]: relative uncertainty of the ratio with slip, 0 to 1.
        sound_share [1]: relative uncertainty of the ratio without, 0 to 1.

    Returns:
        [1]: half width within which the slip is known.

    Raises:
        DomainError: an input outside its range.

    Source: as `ratio_share_unsure`, with slip = 1 - heard / sound.

    >>> round(slip_unsure(0.02, 0.003, 0.004), 6)
    0.0049
    """
    require("slip", slip, -1.0, 1.0)
    require("heard_share", heard_share, *_SHARE)
    require("sound_share", sound_share, *_SHARE)
    return (1.0 - slip) * together(heard_share, sound_share)


def gap_to_engine(order: Real) -> Real:
    """How far an order lies from the engine's nearest line.

    Args:
        order [1]: 0.5 to 40.

    Returns:
        [1]: distance to the nearest half order, 0 to 0.25.

    Raises:
        DomainError: an input outside its range.

    Source: definition; a four-stroke engine has lines at every half order.

    >>> round(float(gap_to_engine(8.4)), 6), float(gap_to_engine(6.5))
    (0.1, 0.0)
    """
    require("order", order, HALF_ORDER, HIGHEST_ORDER)
    gap: Real = np.abs(order - HALF_ORDER * np.round(order / HALF_ORDER))
    return gap


def hertz_apart(gap: Real, crank_speed: Real, tone_unsure: Real, engine_unsure: Real) -> Real:
    """How far a tone surely lies from an engine's line.

    Args:
        gap [1]: distance of their orders, 0 to 0.25.
        crank_speed [1/s]: 0 to 20e3.
        tone_unsure [Hz]: half width within which the tone is known, 0 to 1000.
        engine_unsure [Hz]: the same of the engine's line, 0 to 1e6.

    Returns:
        [Hz]: at least this; under `RESOLUTION` the two can't be told apart.

    Raises:
        DomainError: an input outside its range.

    Source: definition; the widths of both are taken off in full.

    >>> round(hertz_apart(0.1, 50.0, 0.2, 0.3), 6)
    4.5
    """
    require("gap", gap, 0.0, HALF_ORDER / 2.0)
    require("crank_speed", crank_speed, 0.0, 20e3)
    require("tone_unsure", tone_unsure, 0.0, 1000.0)
    require("engine_unsure", engine_unsure, 0.0, 1e6)
    return gap * crank_speed - tone_unsure - engine_unsure


def least_speed_apart(gap: Real) -> Real:
    """Crank speed from which on a tone can be told apart from the engine's nearest line.

    Args:
        gap [1]: distance of their orders, 1e-4 to 0.25. Under that no engine turns fast enough.

    Returns:
        [1/s]: crank speed.

    Raises:
        DomainError: an input outside its range.

    Source: definition, with `RESOLUTION`; orders stay, hertz grow with speed.

    >>> least_speed_apart(0.05)
    20.0
    """
    require("gap", gap, 1e-4, HALF_ORDER / 2.0)
    return RESOLUTION / gap
