"""The fuels of fuels.toml as typed records, and the properties of their blends."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from calc.domain import Real
from calc.fuel import (
    blend_density,
    blend_heating_value,
    blend_mass_fraction,
    blend_stoichiometric_ratio,
    blend_viscosity_bound,
)
from site_src.data.reader import Mark, Table, read


@dataclass(frozen=True)
class Fuel:
    """One pure fuel, SI units, with the place where its figures were printed."""

    key: str
    name: str
    density: float
    lower_heating_value: float
    stoichiometric_ratio: float
    latent_heat: float
    viscosity: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Blend:
    """A named volume fraction of ethanol in gasoline."""

    key: str
    name: str
    ethanol: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class BlendProperties:
    """What a blend needs in injectors, pump and line; `ethanol_mass` is ethanol's share by mass."""

    ethanol_mass: Real
    density: Real
    lower_heating_value: Real
    stoichiometric_ratio: Real
    viscosity: Real


def fuels() -> dict[str, Fuel]:
    """Return the pure fuels by key.

    >>> fuels()["ethanol"].stoichiometric_ratio
    9.0
    """
    return {fuel.key: fuel for fuel in _file().fuels}


def blends() -> dict[str, Blend]:
    """Return the named blends by key, in the order of the file.

    >>> list(blends())
    ['gasoline', 'e10', 'e85', 'ethanol']
    """
    return {blend.key: blend for blend in _file().blends}


def blend_properties(ethanol: Real) -> BlendProperties:
    """Properties of gasoline with a volume fraction of ethanol, 0 to 1.

    >>> round(blend_properties(0.1).density, 1)
    749.7
    """
    base, added = fuels()["gasoline"], fuels()["ethanol"]
    mass = blend_mass_fraction(ethanol, base.density, added.density)
    return BlendProperties(
        ethanol_mass=mass,
        density=blend_density(ethanol, base.density, added.density),
        lower_heating_value=blend_heating_value(
            mass, base.lower_heating_value, added.lower_heating_value
        ),
        stoichiometric_ratio=blend_stoichiometric_ratio(
            mass, base.stoichiometric_ratio, added.stoichiometric_ratio
        ),
        viscosity=blend_viscosity_bound(ethanol, base.viscosity, added.viscosity),
    )


@dataclass(frozen=True)
class _File:
    """What `fuels.toml` holds."""

    fuels: tuple[Fuel, ...]
    blends: tuple[Blend, ...]


@cache
def _file() -> _File:
    """Read the file, once."""
    return read(Path(__file__).with_suffix(".toml"), _whole)


def _whole(file: Table) -> _File:
    """Return what the file holds."""
    return _File(
        fuels=file.rows("fuel", _fuel, unique=["key"]),
        blends=file.rows("blend", _blend, unique=["key"]),
    )


def _fuel(row: Table) -> Fuel:
    """Return a fuel."""
    return Fuel(
        key=row.text("key"),
        name=row.text("name"),
        density=row.measure("density", "density", (500, 1200)),
        lower_heating_value=row.measure("lower_heating_value", "specific_energy", (5, 130)),
        stoichiometric_ratio=row.measure("stoichiometric_ratio", "ratio", (1, 40)),
        latent_heat=row.measure("latent_heat", "specific_energy", (0.05, 3)),
        viscosity=row.measure("viscosity", "viscosity", (0.05, 100)),
        source=row.source(),
        mark=row.mark(),
    )


def _blend(row: Table) -> Blend:
    """Return a blend."""
    return Blend(
        key=row.text("key"),
        name=row.text("name"),
        ethanol=row.measure("ethanol", "ratio", (0, 1)),
        source=row.source(),
        mark=row.mark(),
    )
