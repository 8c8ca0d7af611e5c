"""The fuels of fuels.toml as typed records, and the properties of their blends."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from calc.domain import Real
from calc.fuel import (
    blend_density,
    blend_heating_value,
    blend_mass_fraction,
    blend_stoichiometric_ratio,
    blend_viscosity_bound,
)

_NUMBERS = (
    "density",
    "lower_heating_value",
    "stoichiometric_ratio",
    "latent_heat",
    "viscosity",
)


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


@dataclass(frozen=True)
class Blend:
    """A named volume fraction of ethanol in gasoline."""

    key: str
    name: str
    ethanol: float
    source: str


@dataclass(frozen=True)
class BlendProperties:
    """What a blend needs in injectors, pump and line."""

    density: Real
    lower_heating_value: Real
    stoichiometric_ratio: Real
    viscosity: Real


@cache
def fuels() -> dict[str, Fuel]:
    """Read the pure fuels by key.

    >>> fuels()["ethanol"].stoichiometric_ratio
    9.0
    """
    return {key: _fuel(key, entry) for key, entry in _section("fuels").items()}


@cache
def blends() -> dict[str, Blend]:
    """Read the named blends by key, in the order of the file.

    >>> list(blends())
    ['gasoline', 'e10', 'e85', 'ethanol']
    """
    return {key: _blend(key, entry) for key, entry in _section("blends").items()}


def blend_properties(ethanol: Real) -> BlendProperties:
    """Properties of gasoline with a volume fraction of ethanol, 0 to 1.

    >>> round(blend_properties(0.1).density, 1)
    749.7
    """
    base, added = fuels()["gasoline"], fuels()["ethanol"]
    mass = blend_mass_fraction(ethanol, base.density, added.density)
    return BlendProperties(
        density=blend_density(ethanol, base.density, added.density),
        lower_heating_value=blend_heating_value(
            mass, base.lower_heating_value, added.lower_heating_value
        ),
        stoichiometric_ratio=blend_stoichiometric_ratio(
            mass, base.stoichiometric_ratio, added.stoichiometric_ratio
        ),
        viscosity=blend_viscosity_bound(ethanol, base.viscosity, added.viscosity),
    )


def _section(name: str) -> dict[str, dict[str, object]]:
    """One top-level table of the data file."""
    text = resources.files(__package__).joinpath("fuels.toml").read_text(encoding="utf-8")
    section: dict[str, dict[str, object]] = tomllib.loads(text)[name]
    return section


def _fuel(key: str, entry: dict[str, object]) -> Fuel:
    """Build one fuel, or say which figure is missing or not positive."""
    where = f"fuels.toml, [fuels.{key}]"
    numbers = {field: _number(where, entry, field, 0.0, float("inf")) for field in _NUMBERS}
    return Fuel(key, _text(where, entry, "name"), **numbers, source=_text(where, entry, "source"))


def _blend(key: str, entry: dict[str, object]) -> Blend:
    """Build one blend, or say what is wrong with it."""
    where = f"fuels.toml, [blends.{key}]"
    ethanol = _number(where, entry, "ethanol", 0.0, 1.0)
    return Blend(key, _text(where, entry, "name"), ethanol, _text(where, entry, "source"))


def _number(where: str, entry: dict[str, object], field: str, low: float, high: float) -> float:
    """One figure of an entry within its range."""
    value = entry.get(field)
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise ValueError(f"{where}: {field} is {value!r}, expected a number {low:g} to {high:g}")
    return float(value)


def _text(where: str, entry: dict[str, object], field: str) -> str:
    """One text of an entry, with line breaks turned into spaces."""
    value = entry.get(field)
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f"{where}: {field} is missing or empty")
    return " ".join(value.split())
