"""Made-up sound of an engine and its belt-driven blower, as a phone would hear them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy import signal

Sound = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Scene:
    """What there is to hear: a four-stroke engine, a blower on its belt, and what disturbs.

    Levels are in decibels over the hiss in one hertz, which is what a listener works against.
    """

    speed: float = 50.0
    """Turns of the crank in a second."""
    cylinders: int = 8
    lobes: int = 4
    ratio: float = 2.1
    """Rotor turns for one of the crank, without slip."""
    slip: float = 0.01
    engine: float = 36.0
    uneven: float = 14.0
    """Decibels by which half orders that are no firing are under the firing."""
    blower: float = 34.0
    """None of it at -inf."""
    doubled: bool = False
    """Whether two rotors offset make the double of the tone the louder."""
    drift: float = 0.005
    """Share by which the speed creeps from beginning to end."""
    hunt: float = 0.001
    """Share by which it wanders to and fro meanwhile."""
    slip_wander: float = 0.0005
    hum: float = -math.inf
    mains: float = 50.0
    fan: float = -math.inf
    """A second tone with multiples, at a frequency of its own."""
    fan_tone: float = 0.0
    seconds: float = 10.0
    rate: int = 48_000
    seed: int = 1

    @property
    def order(self) -> float:
        """Blower tones for one turn of the crank, as it is."""
        return self.lobes * self.ratio * (1.0 - self.slip)

    def with_(self, **changes: object) -> Scene:
        """Return a scene that differs."""
        return replace(self, **changes)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Take:
    """A recording, and what is true of it."""

    sound: Sound
    speed: float
    slip: float


def record(scene: Scene) -> Take:
    """Return what is heard of a scene."""
    rng = np.random.default_rng(scene.seed)
    count = int(scene.seconds * scene.rate)
    hiss = _hiss(rng, count, scene.rate)
    speed = scene.speed * (
        1.0
        + scene.drift * (np.linspace(-0.5, 0.5, count))
        + scene.hunt * _wander(rng, count, scene.rate, 1.0)
    )
    slip = scene.slip + scene.slip_wander * _wander(rng, count, scene.rate, 0.5)
    crank = np.cumsum(speed) / scene.rate
    blower = np.cumsum(speed * scene.lobes * scene.ratio * (1.0 - slip)) / scene.rate
    sound = hiss + _engine(rng, scene, crank) + _blower(rng, scene, blower)
    time = np.arange(count) / scene.rate
    for tone, level in ((scene.mains, scene.hum), (scene.fan_tone, scene.fan)):
        for multiple, drop in ((1, 0.0), (2, 3.0), (3, 8.0), (4, 14.0)):
            angle = math.tau * (multiple * tone * time + rng.random())
            sound = sound + _strength(level - drop) * np.sin(angle)
    # A phone's microphone hears little below 100 Hz.
    thin = signal.sosfilt(signal.butter(1, 100.0, "highpass", fs=scene.rate, output="sos"), sound)
    loud = 0.05 * thin / np.sqrt(np.mean(thin**2))
    true_slip = 1.0 - (blower[-1] / crank[-1]) / (scene.lobes * scene.ratio)
    return Take(loud, float(crank[-1] / scene.seconds), float(true_slip))


def _strength(level: float) -> float:
    """Return a sine's amplitude, from decibels over a hiss of one in a hertz."""
    return math.sqrt(2.0) * 10.0 ** (level / 20.0)


def _hiss(rng: np.random.Generator, count: int, rate: int) -> Sound:
    """Return noise of one in a hertz at 300 Hz that falls by 3 dB an octave."""
    spectrum = np.fft.rfft(rng.normal(size=count)) * math.sqrt(rate / 2.0)
    frequency = np.maximum(np.fft.rfftfreq(count, 1.0 / rate), 20.0)
    coloured: Sound = np.fft.irfft(spectrum * np.sqrt(300.0 / frequency), count)
    return coloured


def _wander(rng: np.random.Generator, count: int, rate: int, up_to: float) -> Sound:
    """Return a random motion of size one, with nothing in it that is faster than so many hertz."""
    steps = signal.sosfilt(
        signal.butter(2, up_to, fs=40.0, output="sos"), rng.normal(size=count * 40 // rate + 80)
    )[80:]
    motion: Sound = np.interp(
        np.arange(count) / rate, np.arange(len(steps)) / 40.0, steps / np.std(steps)
    )
    return motion


def _engine(rng: np.random.Generator, scene: Scene, crank: Sound) -> Sound:
    """Return lines at every half order: firing and its multiples loud, the others less so."""
    turn = np.exp(1j * math.pi * crank)
    line = np.ones_like(turn)
    sound = np.zeros_like(crank)
    for n in range(1, 81):
        order = 0.5 * n
        if order * scene.speed > 3000.0:
            break
        line *= turn
        firing = order % (0.5 * scene.cylinders) == 0
        level = scene.engine - 6.0 * math.log2(max(1.0, order / 4.0)) + rng.normal(0.0, 3.0)
        level -= 0.0 if firing else scene.uneven
        sound += (_strength(level) * np.exp(1j * math.tau * rng.random()) * line).imag
    return sound


def _blower(rng: np.random.Generator, scene: Scene, turned: Sound) -> Sound:
    """Return the blower's tone and its multiples."""
    drops = (8.0, 0.0, 14.0, 6.0) if scene.doubled else (0.0, 4.0, 8.0, 12.0)
    sound = np.zeros_like(turned)
    for multiple, drop in enumerate(drops, 1):
        level = scene.blower - drop + rng.normal(0.0, 2.0)
        if multiple * scene.order * scene.speed < 0.45 * scene.rate:
            sound += _strength(level) * np.sin(math.tau * (multiple * turned + rng.random()))
    return sound
