"""Places at which tables and recipes are judged: spread evenly, and every corner."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def spread(bounds: Sequence[tuple[float, float, bool]], count: int, start: int = 1) -> list[Floats]:
    """Return quasi-random places that fill a box evenly.

    The additive recurrence of the generalised golden ratio: the root of x^(d+1) = x + 1 gives
    steps 1/x, 1/x², … whose multiples, modulo 1, leave no large hole in d dimensions.

    Args:
        bounds [1]: for each dimension its low end, its high end, and whether it counts entries.
        count [1]: how many places.
        start [1]: number of the first; another start gives fresh places.

    >>> [round(float(x), 3) for x in spread([(0.0, 1.0, False)], 3)[0]]
    [0.118, 0.736, 0.354]
    """
    root = 2.0
    for _ in range(60):
        root = (1.0 + root) ** (1.0 / (len(bounds) + 1))
    number = np.arange(start, start + count, dtype=np.float64)
    places = []
    for n, (low, high, counts) in enumerate(bounds, 1):
        share = (0.5 + number * root ** (-n)) % 1.0
        places.append(
            low + np.floor(share * (high - low + 1.0)) if counts else low + (high - low) * share
        )
    return places


def corners(ends: Sequence[Sequence[float]]) -> list[Floats]:
    """Return every combination of the given values, one array for each dimension.

    >>> [list(map(float, c)) for c in corners([(0.0, 1.0), (5.0,)])]
    [[0.0, 1.0], [5.0, 5.0]]
    """
    return [np.array(column, dtype=np.float64) for column in zip(*product(*ends), strict=True)]
