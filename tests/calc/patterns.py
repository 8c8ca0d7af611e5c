"""Bolt patterns that tests try."""

import math


def circle_positions(count: int, radius: float = 1.0) -> list[tuple[float, float]]:
    """An evenly bolted circle, clockwise from the top."""
    angles = [math.tau * bolt / count for bolt in range(count)]
    return [(radius * math.sin(angle), radius * math.cos(angle)) for angle in angles]
