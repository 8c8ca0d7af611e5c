"""Physical quantities and the units a person may pick for them.

pint turns every unit into a factor and an offset at build time; the phone only applies them:
`SI = value × factor + offset`. Quantities that share a dimension but must never be mixed up
(gauge and absolute pressure, torque and energy, temperature and temperature difference) are
separate entries, so a unit list can't offer the wrong one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from math import floor, log10

import pint

# Decimal arithmetic, so that a factor such as 0.3048 reaches the phone correctly rounded.
_REGISTRY: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)


@dataclass(frozen=True)
class Unit:
    """One unit of a quantity: `SI = value × factor + offset`."""

    key: str
    label: str
    factor: float
    offset: float

    def to_si(self, value: float) -> float:
        """Convert a value in this unit to SI, with the phone's own order of operations."""
        return value * self.factor + self.offset

    def from_si(self, value: float) -> float:
        """Convert an SI value to this unit, with the phone's own order of operations."""
        return (value - self.offset) / self.factor


@dataclass(frozen=True)
class Quantity:
    """A kind of measurement, its SI unit, and the units to pick from, the most usual first.

    `inch` says which unit stands for which where a shop measures in inches.
    """

    key: str
    si: str
    units: tuple[Unit, ...]
    inch: Mapping[str, str]

    def unit(self, key: str) -> Unit:
        """Return one unit by its key, or raise a KeyError that lists those there are."""
        for unit in self.units:
            if unit.key == key:
                return unit
        known = ", ".join(unit.key for unit in self.units)
        raise KeyError(f"{self.key} has no unit {key!r}; it has {known}")


# quantity: (SI unit, then (key in links, label on screen, pint's name)).
_DECLARED: dict[str, tuple[str, tuple[tuple[str, str, str], ...]]] = {
    "length": ("m", (("mm", "mm", "mm"), ("in", "in", "inch"))),
    "run": ("m", (("m", "m", "m"), ("ft", "ft", "foot"), ("mm", "mm", "mm"), ("in", "in", "inch"))),
    "small_length": ("m", (("um", "µm", "um"), ("mm", "mm", "mm"), ("thou", "thou", "thou"))),
    "altitude": ("m", (("m", "m", "m"), ("ft", "ft", "foot"))),
    "area": ("m^2", (("mm2", "mm²", "mm^2"), ("in2", "in²", "inch^2"))),
    "displacement": (
        "m^3",
        (("L", "L", "liter"), ("ci", "cu in", "inch^3"), ("cc", "cm³", "cm^3")),
    ),
    "volume": (
        "m^3",
        (
            ("L", "L", "liter"),
            ("gal", "US gal", "gallon"),
            ("qt", "US qt", "quart"),
            ("cc", "cm³", "cm^3"),
        ),
    ),
    # Revolutions per second are the calculations' own unit: 1 rpm is 1/60 of it, with no 2π.
    "rotation": ("1/s", (("rpm", "rpm", "1/minute"),)),
    "frequency": ("1/s", (("Hz", "Hz", "1/s"),)),
    "speed": (
        "m/s",
        (("mps", "m/s", "m/s"), ("fps", "ft/s", "foot/s"), ("fpm", "ft/min", "foot/minute")),
    ),
    "vehicle_speed": ("m/s", (("kmh", "km/h", "km/hour"), ("mph", "mph", "mile/hour"))),
    "gauge_pressure": (
        "Pa",
        (("kPa", "kPa", "kPa"), ("psi", "psi", "psi"), ("bar", "bar", "bar")),
    ),
    "head": (
        "Pa",
        (
            ("kPa", "kPa", "kPa"),
            ("mH2O", "m of water", "meter_H2O"),
            ("bar", "bar", "bar"),
            ("psi", "psi", "psi"),
            ("ftH2O", "ft of water", "foot_H2O"),
        ),
    ),
    "small_pressure": (
        "Pa",
        (
            ("kPa", "kPa", "kPa"),
            ("inH2O", "inH₂O", "inch_H2O"),
            ("inHg", "inHg", "inch_Hg"),
            ("psi", "psi", "psi"),
            ("mbar", "mbar", "mbar"),
        ),
    ),
    "absolute_pressure": (
        "Pa",
        (
            ("kPa", "kPa abs", "kPa"),
            ("inHg", "inHg", "inch_Hg"),
            ("mbar", "mbar abs", "mbar"),
            ("psia", "psi abs", "psi"),
        ),
    ),
    "temperature": ("K", (("C", "°C", "degC"), ("F", "°F", "degF"))),
    "temperature_difference": ("K", (("dC", "°C", "delta_degC"), ("dF", "°F", "delta_degF"))),
    "ratio": ("", (("", "", ""),)),
    "percent": ("", (("pct", "%", "percent"),)),
    "mass_flow": (
        "kg/s",
        (("gps", "g/s", "g/s"), ("lbmin", "lb/min", "lb/minute"), ("kgh", "kg/h", "kg/hour")),
    ),
    "fuel_flow": (
        "kg/s",
        (("kgh", "kg/h", "kg/hour"), ("lbh", "lb/h", "lb/hour"), ("gps", "g/s", "g/s")),
    ),
    "volume_flow": (
        "m^3/s",
        (
            ("lpm", "L/min", "liter/minute"),
            ("lph", "L/h", "liter/hour"),
            ("gpm", "US gal/min", "gallon/minute"),
            ("gph", "US gal/h", "gallon/hour"),
            ("ccmin", "cm³/min", "cm^3/minute"),
        ),
    ),
    "air_volume_flow": (
        "m^3/s",
        (("cfm", "cfm", "foot^3/minute"), ("m3h", "m³/h", "m^3/hour"), ("Lps", "L/s", "liter/s")),
    ),
    "fuel_use": (
        "kg/J",
        (("gkwh", "g/kWh", "g/(kW*hour)"), ("lbhph", "lb/hp·h", "lb/(hp*hour)")),
    ),
    "power": ("W", (("kW", "kW", "kW"), ("hp", "hp", "hp"))),
    "torque": (
        "N*m",
        (
            ("Nm", "N·m", "N*m"),
            ("lbft", "lb·ft", "lbf*foot"),
            ("lbin", "lb·in", "lbf*inch"),
        ),
    ),
    "force": ("N", (("kN", "kN", "kN"), ("lbf", "lbf", "lbf"), ("N", "N", "N"))),
    "force_per_length": ("N/m", (("kNpmm", "kN/mm", "kN/mm"),)),
    "stress": ("Pa", (("MPa", "MPa", "MPa"), ("ksi", "ksi", "ksi"))),
    "angle": ("rad", (("deg", "°", "degree"),)),
    "mass": ("kg", (("g", "g", "g"), ("kg", "kg", "kg"), ("oz", "oz", "oz"), ("lb", "lb", "lb"))),
    "mass_per_length": (
        "kg/m",
        (
            ("gpm", "g/m", "g/m"),
            ("kgpm", "kg/m", "kg/m"),
            ("lbft", "lb/ft", "lb/foot"),
            ("ozft", "oz/ft", "oz/foot"),
        ),
    ),
    "density": ("kg/m^3", (("kgm3", "kg/m³", "kg/m^3"), ("lbgal", "lb/US gal", "lb/gallon"))),
    "specific_energy": ("J/kg", (("MJpkg", "MJ/kg", "MJ/kg"),)),
    "heat_capacity": ("J/kg/K", (("kJpkgK", "kJ/kg·K", "kJ/kg/delta_degC"),)),
    "conductance": ("W/K", (("WpK", "W/°C", "W/delta_degC"),)),
    "viscosity": ("Pa*s", (("mPas", "mPa·s", "mPa*s"),)),
    "time": ("s", (("ms", "ms", "ms"), ("s", "s", "s"))),
    "duration": ("s", (("s", "s", "s"), ("min", "min", "minute"))),
    "voltage": ("V", (("V", "V", "V"),)),
    "current": ("A", (("A", "A", "A"),)),
    "electric_power": ("W", (("W", "W", "W"),)),
    "resistance": ("ohm", (("mohm", "mΩ", "mohm"), ("ohm", "Ω", "ohm"))),
    "resistance_per_length": (
        "ohm/m",
        (("mohmpm", "mΩ/m", "mohm/m"), ("ohmpkft", "Ω/1000 ft", "ohm/kilofoot")),
    ),
}

_INCH: dict[str, dict[str, str]] = {
    "length": {"mm": "in"},
    "run": {"m": "ft", "mm": "in"},
    "small_length": {"um": "thou", "mm": "thou"},
    "altitude": {"m": "ft"},
    "area": {"mm2": "in2"},
    "displacement": {"L": "ci", "cc": "ci"},
    "volume": {"L": "gal"},
    "speed": {"mps": "fps"},
    "vehicle_speed": {"kmh": "mph"},
    "gauge_pressure": {"kPa": "psi", "bar": "psi"},
    "head": {"kPa": "psi", "bar": "psi", "mH2O": "ftH2O"},
    "small_pressure": {"kPa": "inH2O", "mbar": "inH2O"},
    "absolute_pressure": {"kPa": "inHg", "mbar": "inHg"},
    "temperature": {"C": "F"},
    "temperature_difference": {"dC": "dF"},
    "mass_flow": {"gps": "lbmin", "kgh": "lbmin"},
    "fuel_flow": {"kgh": "lbh", "gps": "lbh"},
    # Injectors are sold by the cubic centimetre in inch shops too.
    "volume_flow": {"lpm": "gpm", "lph": "gph"},
    "air_volume_flow": {"m3h": "cfm", "Lps": "cfm"},
    "fuel_use": {"gkwh": "lbhph"},
    "power": {"kW": "hp"},
    "torque": {"Nm": "lbft"},
    "force": {"kN": "lbf", "N": "lbf"},
    "stress": {"MPa": "ksi"},
    "mass": {"g": "oz", "kg": "lb"},
    "mass_per_length": {"gpm": "ozft", "kgpm": "lbft"},
    "density": {"kgm3": "lbgal"},
}
"""The usual unit of an inch shop in place of each metric one; what isn't listed stays."""

_INCH_STEPS: dict[tuple[str, str], dict[float, float]] = {
    ("length", "mm"): {0.01: 0.001, 0.05: 0.001, 5.0: 0.25},
    ("run", "m"): {0.1: 0.25, 0.25: 0.5, 0.5: 1.0},
    ("volume", "L"): {1.0: 0.1},
    ("gauge_pressure", "kPa"): {1.0: 0.1, 10.0: 0.5},
    ("absolute_pressure", "kPa"): {0.5: 0.1},
    ("small_pressure", "kPa"): {0.1: 0.1, 0.5: 1.0},
    ("temperature", "C"): {1.0: 1.0, 5.0: 5.0},
    ("temperature_difference", "dC"): {1.0: 1.0, 5.0: 5.0},
    ("force", "N"): {10.0: 5.0},
    ("stress", "MPa"): {10.0: 1.0},
    ("mass", "kg"): {0.5: 0.5},
    ("mass_per_length", "gpm"): {1.0: 0.005},
}
"""What an inch shop steps by where a metric one steps by so much, if that isn't simply the nearest
of 1, 2 and 5 times a power of ten."""


def inch_step(of: str, unit: str, step: float, inch: str) -> float:
    """Return what an entry steps by in an inch shop's unit.

    >>> inch_step("length", "mm", 1.0, "in"), inch_step("altitude", "m", 100.0, "ft")
    (0.05, 500.0)
    >>> inch_step("temperature", "C", 5.0, "F"), inch_step("length", "mm", 5.0, "in")
    (5.0, 0.25)
    """
    known = _INCH_STEPS.get((of, unit), {}).get(step)
    if known is not None and _INCH[of].get(unit) == inch:
        return known
    there = quantity(of)
    return even(step * there.unit(unit).factor / there.unit(inch).factor)


def even(step: float) -> float:
    """Return the nearest step that reads well: 1, 2 or 5 times a power of ten.

    >>> even(0.03937), even(328.1), even(0.725)
    (0.05, 500.0, 1.0)
    """
    power = floor(log10(step))
    lead = step / 10.0**power
    digit = 1 if lead < 1.42 else 2 if lead < 3.17 else 5 if lead < 7.08 else 10
    return float(Decimal(digit).scaleb(power))


def nearest_multiple(value: float, step: float) -> float:
    """Return the multiple of a step that is nearest to a value, as it would be written.

    >>> nearest_multiple(3.622, 0.05), nearest_multiple(104.0, 5.0)
    (3.6, 105.0)
    """
    return float(round(value / step) * Decimal(repr(step)))


def _unit(si: str, key: str, label: str, name: str) -> Unit:
    """Ask pint for the factor and offset of one unit against its SI unit."""
    zero = _REGISTRY.Quantity(Decimal(0), name).to(si).magnitude
    difference = name if zero == 0 else f"delta_{name}"
    factor = _REGISTRY.Quantity(Decimal(1), difference).to(si).magnitude
    return Unit(key, label, float(factor), float(zero))


@cache
def quantity(key: str) -> Quantity:
    """Return a quantity by its key.

    >>> quantity("length").unit("in").to_si(1.0)
    0.0254
    """
    si, units = _DECLARED[key]
    return Quantity(key, si, tuple(_unit(si, *unit) for unit in units), _INCH.get(key, {}))


def all_quantities() -> tuple[Quantity, ...]:
    """Return every quantity, in the order they are declared."""
    return tuple(quantity(key) for key in _DECLARED)
