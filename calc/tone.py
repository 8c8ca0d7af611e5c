"""Tone of a plucked belt span from recorded sound: the reference for the phone's own listener.

Plain arithmetic (+ - × ÷ √ and comparisons), so that it can be followed line by line elsewhere.
The steps: thin the sound to about 6 kHz, take the rumble out, find the pluck, make sure that it
dies away as a pluck does, then find the delay at which the sound repeats itself.

Where it is not sure it gives no tone. Silence is too quiet; hum, a fan or a running engine is
steady; noise and knocks have no pitch. A steady hum under the pluck is allowed: 30 dB under it the
tone is off by 0.1 Hz, 20 dB under it by up to 2 Hz, and above that no tone is given. It can't tell
a plucked belt from another thing that rings and dies away, so nothing else may ring meanwhile.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from calc.domain import require

Samples = NDArray[np.float64]
Verdict = Literal["tone", "too quiet", "steady sound", "no clear pitch"]

LOWEST = 40.0
"""Lowest tone that is looked for, in hertz."""

HIGHEST = 300.0
"""Highest tone that is looked for, in hertz."""

_THIN_RATE = 6000.0  # Thirty samples in the shortest period that matters: enough for a parabola.
_FRAME = 0.025  # Loudness is judged over one period of the lowest tone.
_LONGEST = 0.4  # After that a belt no longer rings.
_QUIET = 0.002  # Root mean square of full scale; the noise of phones is well below.
_FADED = 1.0 / 400.0  # Listen until the pluck has lost 26 dB.
_ABOVE_BACKGROUND = 10.0  # Against the quietest frame; hum hardly varies.
_FALL = 0.5  # A pluck loses half its power while it is listened to; hum loses none.
_CLEAR = 0.8  # Likeness of a period to the next; noise stays below 0.5.
_FIRST = 0.9  # The first peak nearly as high as the highest is the period, later ones repeat it.
_FEWEST_FRAMES = 4
_REPETITIONS = 6


@dataclass(frozen=True)
class Heard:
    """What was heard: the tone in hertz, or why there is none."""

    verdict: Verdict
    frequency: float | None = None


def hear_pluck(samples: Samples, sample_rate: float) -> Heard:
    """Tone of one pluck in a recording of about a second.

    Args:
        samples [1]: sound, full scale from -1 to 1, at least 0.2 s of it.
        sample_rate [Hz]: 8000 to 200e3.

    Returns:
        [Hz]: the tone between 40 and 300 Hz, or the verdict why none is given.

    Raises:
        DomainError: sample rate outside its range, or a recording that is too short.

    Source: normalised autocorrelation with a parabola through its peak; checked on sums of
    decaying sines.

    >>> time = np.arange(48000) / 48000
    >>> pluck = np.where(time > 0.3, np.exp((0.3 - time) / 0.2), 0) * np.sin(2 * np.pi * 110 * time)
    >>> round(hear_pluck(pluck, 48000).frequency, 1)
    110.0
    """
    require("sample_rate", sample_rate, 8000.0, 200e3)
    require("duration", len(samples) / sample_rate, 0.2, 60.0)
    step = int(sample_rate / _THIN_RATE)
    rate = sample_rate / step
    sound = _without_rumble(_block_means(samples, step), int(rate / LOWEST))
    frame = int(rate * _FRAME)
    powers = _block_means(sound * sound, frame)
    loudest = int(np.argmax(powers))
    if powers[loudest] < _QUIET * _QUIET:
        return Heard("too quiet")
    if powers[loudest] < _ABOVE_BACKGROUND * powers.min():
        return Heard("steady sound")
    start, end = loudest + 1, _end_of_pluck(powers, loudest)
    if end - start < _FEWEST_FRAMES:
        return Heard("no clear pitch")
    quarter = (end - start) // 4
    if powers[end - quarter : end].sum() > _FALL * powers[start : start + quarter].sum():
        return Heard("steady sound")
    period = _period(sound[start * frame : end * frame], rate)
    return Heard("no clear pitch") if period is None else Heard("tone", rate / period)


def median_and_spread(tones: Sequence[float]) -> tuple[float, float]:
    """Middle one of several plucks, and how far they lie apart.

    Args:
        tones [Hz]: one or more, 1 to 2000.

    Returns:
        [Hz]: median, and largest less smallest.

    Raises:
        DomainError: no tones, or one outside its range.

    Source: definition.

    >>> median_and_spread([101.0, 98.5, 100.0])
    (100.0, 2.5)
    """
    require("number of plucks", float(len(tones)), 1.0, 1000.0)
    for tone in tones:
        require("tones", tone, 1.0, 2000.0)
    return float(np.median(tones)), max(tones) - min(tones)


def _block_means(values: Samples, size: int) -> Samples:
    """Mean of each whole block of values."""
    count = len(values) // size
    means: Samples = values[: count * size].reshape(count, size).sum(axis=1) / size
    return means


def _moving_means(values: Samples, size: int) -> Samples:
    """Mean of every run of so many neighbours; shifts no tone, and shortens by size - 1."""
    sums = np.concatenate([np.zeros(1), np.cumsum(values)])
    means: Samples = (sums[size:] - sums[:-size]) / size
    return means


def _without_rumble(sound: Samples, size: int) -> Samples:
    """Sound less its moving mean over the longest period."""
    half = size // 2
    return sound[half : len(sound) - half] - _moving_means(sound, 2 * half + 1)


def _end_of_pluck(powers: Samples, loudest: int) -> int:
    """Frame at which the pluck has faded, or has been listened to for long enough.

    The last frame is left out: a steady sound that is cut off within it would seem to fade.
    """
    faded = max(_FADED * powers[loudest], _ABOVE_BACKGROUND * powers.min())
    last = min(len(powers), loudest + 1 + int(_LONGEST / _FRAME))
    for frame in range(loudest + 1, last):
        if powers[frame] < faded:
            return frame - 1
    return last - 1


def _likeness(sound: Samples, lag: int) -> float:
    """How like a sound is to itself a lag later, from -1 to 1, however fast it fades."""
    early, late = sound[:-lag], sound[lag:]
    size = float(np.sqrt((early * early).sum() * (late * late).sum()))
    return float((early * late).sum()) / size if size > 0.0 else 0.0


def _period(sound: Samples, rate: float) -> float | None:
    """Period in samples: the first clear repetition, then sharpened over several of them.

    Shorter delays than the highest tone's are looked at too, or a whistle would be taken for
    the belt tone of several of its periods.
    """
    shortest, longest = int(rate / HIGHEST), int(rate / LOWEST) + 1
    if len(sound) < 2 * longest:
        return None
    likeness = [_likeness(sound, lag) for lag in range(1, longest + 2)]
    peaks = [
        (lag, likeness[lag - 1])
        for lag in range(2, longest + 1)
        if likeness[lag - 2] < likeness[lag - 1] >= likeness[lag]
    ]
    highest = max((height for _, height in peaks), default=0.0)
    first = next((lag for lag, height in peaks if height >= _FIRST * highest), 0)
    if highest < _CLEAR or first < shortest:
        return None
    return _sharpened(_lowest_partial(sound, first), first)


def _lowest_partial(sound: Samples, period: int) -> Samples:
    """Sound with its second to sixth partials averaged away.

    A belt is stiff, so its partials are sharp and would pull the tone up with them.
    """
    half, third = round(period / 2), round(period / 3)
    return _moving_means(_moving_means(sound, half), third)


def _sharpened(sound: Samples, lag: int) -> float:
    """Period from the latest of its repetitions that is still clear."""
    period = _peak(sound, lag)
    for count in range(2, _REPETITIONS + 1):
        lag = round(count * period)
        if 2 * lag > len(sound) or _likeness(sound, lag) < _CLEAR:
            break
        period = _peak(sound, lag) / count
    return period


def _peak(sound: Samples, lag: int) -> float:
    """Top of the parabola through the likeness at a lag and at its two neighbours."""
    before, at, after = (_likeness(sound, lag + step) for step in (-1, 0, 1))
    bend = before - 2.0 * at + after
    return lag + 0.5 * (before - after) / bend if bend < 0.0 else float(lag)
