"""Routes that can run, for the proof: pulleys strewn over their ranges nearly always overlap.

The usual route stretched, mirrored, its pulleys shifted, resized, left out or moved to the other
end of their slot; most of these run, and each differs from every other.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from site_src.lookups.belt_route_fields import FIELDS, NONE
from site_src.lookups.belt_route_geometry import PLACES
from site_src.model.fields import Choice, Number
from site_src.tables.points import spread

Floats = NDArray[np.float64]
Entered: TypeAlias = dict[str, Sequence[object]]

SHIFT = 14.0
"""How far a pulley's centre is shifted each way, mm."""

NUMBERS = {field.key: field for field in FIELDS if isinstance(field, Number)}
CHOICES = {field.key: field for field in FIELDS if isinstance(field, Choice)}

SPARE = {8: "idler", 9: "other", 10: "other"}
"""What a spare place holds where it is taken."""

_CENTRES = [f"{axis}_{n}" for n in range(1, PLACES + 1) for axis in "xy"]
_STOPS = [f"{end}_{axis}" for end in ("slack", "tight", "pivot") for axis in "xy"]
_SIZES = ["crank_pulley", "blower_pulley", *(f"d_{n}" for n in range(2, PLACES + 1))]
_LEFT_OUT = (2, 3, 6, 7, 8, 9, 10)


def likely(points: int, start: int, belts: Callable[[Entered], tuple[Floats, Floats]]) -> Entered:
    """Return set-ups that mostly run.

    Args:
        points [1]: how many.
        start [1]: number of the first.
        belts [mm]: what says of set-ups the shortest and the longest belt that their tensioner
            takes, NaN where it takes none.
    """
    shared = ["scale", "mirror", "way", "kind", "belt", "limits"]
    keys = [*shared, *_CENTRES, *_SIZES, *(f"out_{n}" for n in _LEFT_OUT)]
    shares = dict(zip(keys, spread([(0.0, 1.0, False)] * len(keys), points, start), strict=True))
    scale = 0.85 + 0.5 * shares["scale"]
    mirrored = shares["mirror"] < 0.5
    entered: Entered = {
        "travel": np.where(mirrored, "counter", "clockwise").tolist(),
        "tensioner_way": _one_of("tensioner_way", shares["way"]),
        "diameter_kind": _one_of("diameter_kind", shares["kind"]),
        "fitted_belt": [None] * points,
        "clearance": (50.0 * shares["limits"]).tolist(),
        "least_run": (300.0 * shares["limits"]).tolist(),
    }
    for key in [*_CENTRES, *_STOPS]:
        shift = SHIFT * (2.0 * shares[key] - 1.0) if key in shares else 0.0
        usual = scale * _usual(key) + shift
        entered[key] = np.where(mirrored & ("x" in key), -usual, usual).tolist()
    for key in _SIZES:
        size = _usual(key) * (0.9 + 0.2 * shares[key])
        entered[key] = np.clip(size, NUMBERS[key].low, NUMBERS[key].high).tolist()
    for n in range(2, PLACES + 1):
        kind, side = CHOICES[f"kind_{n}"].default, CHOICES[f"side_{n}"].default
        kinds = np.full(points, SPARE.get(n, kind), dtype="U16")
        if n in _LEFT_OUT:
            kinds[shares[f"out_{n}"] < (0.3 if n not in SPARE else 0.9)] = NONE
        entered[f"kind_{n}"], entered[f"side_{n}"] = kinds.tolist(), [side] * points
    for field in FIELDS:
        entered.setdefault(field.key, [field.default] * points)
    shortest, longest = belts(entered)
    fitted = shortest + (1.1 * shares["belt"] - 0.05) * (longest - shortest)
    known = np.where(np.isnan(fitted), NUMBERS["fitted_belt"].low, fitted)
    return entered | {"fitted_belt": np.clip(known, NUMBERS["fitted_belt"].low, 6000.0).tolist()}


def _usual(key: str) -> float:
    """Return an entry's usual value."""
    usual = NUMBERS[key].default
    assert usual is not None
    return usual


def _one_of(key: str, share: Floats) -> list[object]:
    """Return an option of a choice for each share."""
    options = CHOICES[key].options
    return [options[min(int(each * len(options)), len(options) - 1)].key for each in share]
