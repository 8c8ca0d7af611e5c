"""First start and staged pulls: the rules of thumb by which a run is broken off.

Limits that follow from the truck are worked out where the truck is; here is only what the trade
holds for any engine, until its maker says otherwise.
"""

from __future__ import annotations

from typing import Final

from calc.domain import Real, require

OIL_PRESSURE_PER_SPEED: Final = 6894.757293168 / (100.0 / 60.0)
"""Least oil pressure for each revolution a second, Pa·s: 10 psi for 1000 rpm. Common practice."""

RAIL_FALL: Final = 20e3
"""Fall of the rail under what it should be at which a run is broken off, Pa. Common practice."""

LEANER: Final = 0.03
"""Rise of λ over what is wanted at which a run is broken off. Common practice."""


def least_oil_pressure(engine_speed: Real) -> Real:
    """Oil pressure below which a warm engine is shut off, by a rule of thumb.

    Args:
        engine_speed [1/s]: of the crankshaft, revolutions a second, 0 to 300.

    Returns:
        [Pa]: gauge.

    Raises:
        DomainError: an argument outside its range.

    Source: 10 psi for each 1000 rpm, common practice; the engine's maker overrules it.

    >>> round(least_oil_pressure(3000.0 / 60.0) / 6894.757, 1)
    30.0
    """
    require("engine_speed", engine_speed, 0.0, 300.0)
    return OIL_PRESSURE_PER_SPEED * engine_speed
