"""Properties of coolant from `coolant.toml`, by temperature and by glycol's share of the volume."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real, require
from site_src.data.reader import Mark, Table, read

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class CoolantRow:
    """One temperature of a mixture, in SI units."""

    temperature: float
    density: float
    heat_capacity: float
    viscosity: float


@dataclass(frozen=True)
class Mixture:
    """One share of glycol, by volume, with where its figures were printed."""

    glycol: float
    freezing: float
    source: str
    mark: Mark
    rows: tuple[CoolantRow, ...]


@cache
def mixtures() -> tuple[Mixture, ...]:
    """Every mixture, water first.

    >>> [round(each.glycol, 2) for each in mixtures()][:3]
    [0.0, 0.1, 0.2]
    """
    return read(
        Path(__file__).with_suffix(".toml"),
        lambda file: file.rows("mixture", _mixture, unique=["glycol_pct"]),
    )


def shares() -> tuple[float, ...]:
    """Shares of glycol that are listed."""
    return tuple(each.glycol for each in mixtures())


def temperatures() -> tuple[float, ...]:
    """Temperatures that are listed, K; the same for each mixture."""
    return tuple(row.temperature for row in mixtures()[0].rows)


def density(temperature: Real, glycol: Real) -> Real:
    """Density of coolant, kg/m³.

    Args:
        temperature: K, 273.15 to 373.15.
        glycol: share of the volume, 0 to 0.6.

    >>> round(float(density(333.15, 0.5)), 1)
    1052.0
    """
    return _between(temperature, glycol, _grids()[0])


def heat_capacity(temperature: Real, glycol: Real) -> Real:
    """Heat capacity of coolant, J/(kg·K), taken as `density` is.

    >>> round(float(heat_capacity(333.15, 0.5)))
    3435
    """
    return _between(temperature, glycol, _grids()[1])


def fluidity(temperature: Real, glycol: Real) -> Real:
    """One over the viscosity of coolant, 1/(Pa·s), taken as `density` is.

    >>> round(1e3 / float(fluidity(333.15, 0.5)), 3)
    1.435
    """
    return _between(temperature, glycol, _grids()[2])


def freezing_point(glycol: Real) -> Real:
    """Temperature at which the first ice appears, K.

    >>> round(float(freezing_point(0.5)) - 273.15, 1)
    -37.1
    """
    require("glycol", glycol, 0.0, shares()[-1])
    found: Real = np.interp(glycol, shares(), [each.freezing for each in mixtures()])
    return found


@cache
def _grids() -> tuple[Floats, Floats, Floats]:
    """Return density, heat capacity and fluidity by temperature and share."""
    rows = [[(r.density, r.heat_capacity, 1.0 / r.viscosity) for r in m.rows] for m in mixtures()]
    whole = np.array(rows).transpose(2, 1, 0)
    return whole[0], whole[1], whole[2]


def _between(temperature: Real, glycol: Real, grid: Floats) -> Real:
    """Interpolate in line along both."""
    knots = np.array(temperatures()), np.array(shares())
    require("temperature", temperature, knots[0][0], knots[0][-1])
    require("glycol", glycol, knots[1][0], knots[1][-1])
    places = [
        np.clip(np.searchsorted(k, x, "right") - 1, 0, len(k) - 2)
        for k, x in zip(knots, (temperature, glycol), strict=True)
    ]
    (i, j), (t, s) = (
        places,
        [
            (x - k[n]) / (k[n + 1] - k[n])
            for k, x, n in zip(knots, (temperature, glycol), places, strict=True)
        ],
    )
    found: Real = (1 - t) * ((1 - s) * grid[i, j] + s * grid[i, j + 1]) + t * (
        (1 - s) * grid[i + 1, j] + s * grid[i + 1, j + 1]
    )
    return found


def _mixture(row: Table) -> Mixture:
    """Return a mixture."""
    return Mixture(
        glycol=row.measure("glycol", "percent", (0, 100)),
        freezing=row.measure("freezing", "temperature", (-80, 0)),
        source=row.source(),
        mark=row.mark(),
        rows=row.cells(_row, unique=["temperature_C"]),
    )


def _row(row: Table) -> CoolantRow:
    """Return one temperature."""
    return CoolantRow(
        temperature=row.measure("temperature", "temperature", (-40, 120)),
        density=row.measure("density", "density", (900, 1200)),
        heat_capacity=row.measure("heat_capacity", "heat_capacity", (2, 5)),
        viscosity=row.measure("viscosity", "viscosity", (0.1, 100)),
    )
