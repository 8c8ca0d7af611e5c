"""A scale with round divisions: the ticks of a drawn rule and of a curve's axes.

Positions are in the drawing's own units, those of its SVG view box. The phone places them by the
same rules, in `static/js/face/scale.js`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from site_src.face.numbers import grouped, power_of_ten
from site_src.model.answers import shown


@dataclass(frozen=True)
class Scale:
    """Even divisions of 1, 2 or 5 that cover a range."""

    first: int
    last: int
    spacing: float
    digit: int
    decimals: int

    @property
    def low(self) -> float:
        """Where the scale begins."""
        return self.first * self.spacing

    @property
    def high(self) -> float:
        """Where it ends."""
        return self.last * self.spacing

    def labels(self) -> list[tuple[float, str]]:
        """Return the value at each division and how it is written."""
        return [
            (n * self.spacing, grouped(shown(n * self.spacing, self.decimals)))
            for n in range(self.first, self.last + 1)
        ]

    def place(self, value: float, start: float, end: float) -> float:
        """Return where a value is between two ends of the drawing."""
        return start + (value - self.low) / (self.high - self.low) * (end - start)


def scale(low: float, high: float, count: int) -> Scale:
    """Return a scale over a range, with about as many divisions as are wanted.

    >>> scale(0.0, 17000.0, 6)
    Scale(first=0, last=4, spacing=5000.0, digit=5, decimals=0)
    """
    span = high - low if high > low else max(abs(high), 1.0)
    exponent, power = power_of_ten(span / count)
    digit = next(d for d in (1, 2, 5, 10) if d * power >= span / count * (1.0 - 1e-9))
    if digit == 10:
        digit, exponent, power = 1, exponent + 1, power * 10.0
    spacing = digit * power
    first = math.floor(low / spacing + 1e-9)
    last = max(math.ceil((low + span) / spacing - 1e-9), first + 1)
    return Scale(first, last, spacing, digit, max(0, -exponent))


@dataclass(frozen=True)
class Tick:
    """One mark: where it is, how long it is (0 fine, 1 middle, 2 full), its number if it has."""

    at: str
    size: int
    label: str = ""
