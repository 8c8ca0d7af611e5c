"""The phone finds the same orders from a pattern's places as the calculation does."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from calc import tightening
from tests.calc.patterns import circle_positions
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
ORDER = HERE.parents[1] / "site_src" / "static" / "js" / "bolts" / "order.js"

pytestmark = needs_node

GRIDS = [(rows, columns) for rows in range(1, 5) for columns in range(1, 13)]
CIRCLES = range(3, 25)
SETS = 2000


def in_node(patterns: list[Any], circles: list[int]) -> Any:
    given = {"patterns": patterns, "circles": circles}
    return told_by(HERE / "order_many.mjs", ORDER, given=given, seconds=300)


def in_python(patterns: list[Any], circles: list[int]) -> Any:
    return {
        "patterns": [
            {
                "order": tightening.tightening_order(places),
                "check": tightening.check_order(places),
                "rings": tightening.rings(places),
                "neighbours": sorted(map(list, tightening.neighbours(places))),
            }
            for places in patterns
        ],
        "circles": [tightening.circle_order(count) for count in circles],
    }


def assert_alike(patterns: list[Any], circles: list[int]) -> None:
    expected, found = in_python(patterns, circles), in_node(patterns, circles)
    assert found["circles"] == expected["circles"]
    for places, python, node in zip(patterns, expected["patterns"], found["patterns"], strict=True):
        assert node == python, places


def test_every_grid_and_circle_that_the_page_offers() -> None:
    grids = [tightening.grid_positions(rows, columns) for rows, columns in GRIDS]
    stretched = [tightening.grid_positions(*grid, 71.5, 88.25) for grid in GRIDS]
    circles = [circle_positions(count, 57.15) for count in CIRCLES]
    assert_alike([*grids, *stretched, *circles], list(CIRCLES))


def scattered(rng: random.Random, grain: float, most: int) -> list[tuple[float, float]]:
    """Places without two alike, on a grid of some grain."""
    wanted = rng.randint(1, most)
    places = {
        (rng.randint(-40, 40) * grain, rng.randint(-40, 40) * grain) for _ in range(3 * wanted)
    }
    return rng.sample(sorted(places), min(wanted, len(places)))


@pytest.mark.parametrize(
    ("grain", "most"),
    [(1.0, 24), (0.1, 24), (12.7, 30), (1.0 / 3.0, 16)],
    ids=["whole numbers", "tenths", "half inches in millimetres", "thirds"],
)
def test_random_places_with_many_ties(grain: float, most: int) -> None:
    rng = random.Random(f"{grain} {most}")
    assert_alike([scattered(rng, grain, most) for _ in range(SETS // 4)], [])


def test_random_places_measured_askew() -> None:
    """Circles and grids as a tape measures them: nearly alike distances, never quite."""
    rng = random.Random(20)
    patterns = []
    for _ in range(SETS // 4):
        grid = tightening.grid_positions(rng.randint(1, 4), rng.randint(1, 10), 80.0, 65.0)
        circle = circle_positions(rng.randint(3, 24), 120.0)
        for exact in (grid, circle):
            error = rng.choice([0.0, 0.001, 0.5, 3.0])
            patterns.append(
                [(x + rng.uniform(-error, error), y + rng.uniform(-error, error)) for x, y in exact]
            )
    assert_alike(patterns, [])


@pytest.mark.parametrize(
    ("places", "said"),
    [
        ([], "no bolts yet"),
        ([[0, 0], [5, 5], [0, 0]], "Bolts 1 and 3 lie in one place"),
        ([[n, 0] for n in range(61)], "60 at most"),
        ([[0, 0], [2e6, 0]], "Bolt 2 lies too far out"),
    ],
)
def test_a_pattern_that_cannot_be_is_refused_in_words(places: list[Any], said: str) -> None:
    found = in_node([places], [])["patterns"][0]
    assert said in found["refused"]
