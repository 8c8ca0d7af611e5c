"""The phone on a wrench sums up as the calculation does, and knows when it must not be believed."""

from __future__ import annotations

import random
from math import cos, pi, radians
from pathlib import Path
from typing import Any

import pytest

from calc import turning
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
TURN = HERE.parents[1] / "site_src" / "static" / "js" / "bolts" / "turn.js"

pytestmark = needs_node

RATE = 60.0
"""Readings in a second, as most phones send them."""


def in_node(cases: list[dict[str, Any]]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = told_by(HERE / "turn_many.mjs", TURN, given=cases)
    return found


def read(
    angles: list[float],
    *,
    seconds: float = 3.0,
    noise: float = 0.05,
    restless: float | None = None,
    rate: float = RATE,
    wait: float = 0.0,
    seed: int = 1,
) -> dict[str, Any]:
    """Rest for the zero, then smooth sweeps by some angles; degrees, and degrees a second."""
    rng = random.Random(seed)
    axis = [rng.gauss(0, 1) for _ in range(3)]
    size = sum(part * part for part in axis) ** 0.5
    offset = [rng.uniform(-5, 5) for _ in range(3)]

    def shown(speed: float, shake: float) -> list[float]:
        return [
            radians(speed * part / size + off + rng.gauss(0, shake))
            for part, off in zip(axis, offset, strict=True)
        ]

    shake = noise if restless is None else restless
    still = [{"time": n / rate, "rate": shown(0, shake)} for n in range(int(1.5 * rate) + 1)]
    start = still[-1]["time"]
    readings = [still[-1]]
    for angle in angles:
        for n in range(1, int(seconds * rate) + 1):
            speed = angle / seconds * (1 - cos(2 * pi * n / (seconds * rate)))
            start += 1 / rate
            readings.append({"time": start, "rate": shown(speed, noise)})
    for _ in range(int(wait * rate)):
        start += 1 / rate
        readings.append({"time": start, "rate": shown(0, noise)})
    return {"still": still, "readings": readings}


def test_the_sums_are_those_of_the_calculation() -> None:
    cases = [
        read([random.Random(seed).uniform(5, 300)], seed=seed, wait=seed % 4) for seed in range(40)
    ]
    for case, found in zip(cases, in_node(cases), strict=True):
        zero = tuple(found["zero"]["rate"])
        times = [each["time"] for each in case["readings"]]
        rates = [tuple(each["rate"]) for each in case["readings"]]
        turned = found["turned"]
        assert turned["angle"] == pytest.approx(turning.turned_angle(times, rates, zero), rel=1e-9)
        assert turned["share"] == pytest.approx(turning.one_way_share(times, rates, zero), rel=1e-9)
        drift = turning.drift_angle(times[-1] - times[0], found["zero"]["error"])
        assert turned["drift"] == pytest.approx(drift, rel=1e-9)
        band = turning.turn_uncertainty(turned["angle"], drift)
        assert turned["band"] == pytest.approx(band, rel=1e-9)


@pytest.mark.parametrize("angle", [30.0, 60.0, 90.0, 180.0])
def test_a_steady_sweep_is_read_within_its_band(angle: float) -> None:
    for found in in_node([read([angle], seed=seed) for seed in range(20)]):
        assert found["problem"] == ""
        turned = found["turned"]
        assert abs(turned["angle"] - radians(angle)) < turned["band"] < radians(0.03 * angle + 1)


@pytest.mark.parametrize(
    ("case", "said"),
    [
        (read([90], restless=2.0), "Too restless for a zero"),
        (read([90], rate=8.0), "too slow"),
        (read([60, -30, 60]), "went back"),
        (read([90], wait=60.0), "too old"),
    ],
    ids=["an engine that runs", "a slow sensor", "a ratchet's stroke back", "a minute's rest"],
)
def test_what_can_not_be_believed_is_refused_in_words(case: dict[str, Any], said: str) -> None:
    (found,) = in_node([case])
    assert said in found["problem"]
