"""Power: what an engine makes of its air, what the weather does to it, and the way back to boost.

Almost everything here is a product of what was entered: air from boost by the gas law, power from
air by mixture and fuel consumption, each at both ends of its band. Curved are only the standards'
weather factors, the vapour in humid air, and what compression makes of the charge.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from calc import atmosphere
from calc import power as calc
from calc.constants import P_STANDARD, R_AIR
from calc.domain import Real
from site_src.lookups import air, boost
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.direct import Entries, Floats, Limit, first_entered, where_good
from site_src.model.fields import Number
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, linear
from site_src.tables.recipe import First, Look, Product, Sum, greatest, least

COMPRESSION_EXPONENT = 1.3
"""Polytropic exponent of compression with fuel in the charge. Heywood, ch. 9: 1.3 ± 0.05."""

AIR_FLOW = Limit(
    "power_air_flow",
    "air flow",
    0.0,
    2.0,
    above="This works out at over 2,000 g/s of air, past any engine that this page is for. "
    "Check displacement, speed and boost.",
)

POWER = Limit(
    "power_most",
    "power",
    0.0,
    1.6e6,
    above="This works out at over 1,600 kW, past any engine that this page is for. "
    "Check air flow, mixture and fuel consumption, and their units.",
)

BOOST_NEEDED = Limit(
    "power_boost_needed",
    "boost needed",
    0.0,
    250e3,
    below="No boost needed: the engine makes that power without a blower.",
    above="That power takes over 250 kPa of boost at this speed, more than a blower of this kind "
    "makes. More engine speed, more displacement or a cooler charge would do it.",
)

DRY_PRESSURE = Limit(
    "power_dry_pressure",
    "pressure of the dry air",
    60e3,
    110e3,
    below="Weather correction stops at a dry-air pressure of 60 kPa, some 4,200 m up.",
    above="Weather correction stops at a dry-air pressure of 110 kPa. Check the barometer.",
)

COLDEST_WEATHER, HOTTEST_WEATHER = 263.15, 323.15
"""Intake air for which the weather factors are worked out, K."""


# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    ambient = air.ambient(g)
    manifold = ambient + g["boost"]
    air_used = first_entered(g["air_flow"], AIR_FLOW.keep(_engine_air(g, manifold)))
    low, high = _power_ends(g, air_used)
    power = 0.5 * low + 0.5 * high
    pressure_ratio = manifold / ambient
    end = calc.end_of_compression_temperature
    return {
        "power": power,
        "power_low": low,
        "power_high": high,
        "torque": where_good(np.isfinite(power), calc.torque_from_power, power, g["engine_speed"]),
        "air_flow_used": air_used,
        **_wanted(g, ambient),
        **_weather(g, ambient, first_entered(g["measured_power"], power)),
        **_elsewhere(g, ambient, power),
        "charge_density": np.asarray(
            calc.charge_density_ratio(
                pressure_ratio, g["charge_temperature"] / g["intake_temperature"]
            )
        ),
        "effective_compression": np.asarray(
            calc.effective_compression_ratio(g["compression_ratio"], pressure_ratio)
        ),
        "end_temperature": np.asarray(
            end(g["charge_temperature"], g["compression_ratio"], COMPRESSION_EXPONENT)
        ),
        "known_end_temperature": where_good(
            np.isfinite(g["known_charge_temperature"]) & np.isfinite(g["known_compression_ratio"]),
            lambda charge, ratio: end(charge, ratio, COMPRESSION_EXPONENT),
            g["known_charge_temperature"],
            g["known_compression_ratio"],
        ),
    }


def _engine(g: Entries) -> tuple[Floats, ...]:
    """Return what both directions of the gas law need of the engine."""
    return (
        g["charge_temperature"],
        g["engine_displacement"],
        g["engine_speed"],
        g["engine_efficiency"],
    )


def _engine_air(g: Entries, manifold: Floats) -> Floats:
    """Return the air that the engine takes out of its manifold."""
    return np.asarray(calc.engine_air_flow(manifold, *_engine(g)))


def _ends(g: Entries) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
    """Return mixture and consumption at the poor and at the good end of the band."""
    mixture, bsfc = (g["mixture_rich"], g["mixture_lean"]), (g["bsfc_low"], g["bsfc_high"])
    poor = np.maximum(*mixture), np.maximum(*bsfc)
    return poor, (np.minimum(*mixture), np.minimum(*bsfc))


def _power_ends(g: Entries, air_used: Floats) -> tuple[Floats, Floats]:
    """Return power at both ends of the band; NaN at both where it is past the page's range."""
    poor, good = _ends(g)
    known = np.isfinite(air_used)
    low = where_good(known, calc.brake_power, air_used, *poor)
    high = where_good(known, calc.brake_power, air_used, *good)
    inside = POWER.holds(high)
    return np.where(inside, low, np.nan), np.where(inside, high, np.nan)


def _wanted(g: Entries, ambient: Floats) -> Mapping[str, Floats]:
    """Return air and boost for the wanted power; NaN where none was asked for."""
    poor, good = _ends(g)
    wanted, asked = g["wanted_power"], np.isfinite(g["wanted_power"])
    per_air = 0.5 * (calc.brake_power(1.0, *poor) + calc.brake_power(1.0, *good))
    middle = wanted / per_air
    sure = where_good(asked, calc.air_flow_for_power, wanted, *poor)

    def boost(flow: Floats) -> Floats:
        """Return the boost at which the engine takes an air flow, NaN where there is none."""
        pressure = where_good(
            np.isfinite(flow), calc.manifold_pressure_for_air_flow, flow, *_engine(g)
        )
        return BOOST_NEEDED.keep(pressure - ambient)

    return {
        "air_for_power": middle,
        "boost_for_power": boost(middle),
        "boost_for_power_sure": boost(sure),
    }


def _weather(g: Entries, ambient: Floats, measured: Floats) -> Mapping[str, Floats]:
    """Return the standards' factors and rated powers; NaN where a standard does not rate."""
    temperature = g["intake_temperature"]
    mild = (temperature >= COLDEST_WEATHER) & (temperature <= HOTTEST_WEATHER)
    dry = DRY_PRESSURE.keep(
        where_good(mild, atmosphere.dry_air_pressure, ambient, temperature, g["humidity"])
    )
    found: dict[str, Floats] = {"dry_pressure": dry}
    for name, factor in (("j1349", calc.j1349_factor), ("iso1585", calc.iso1585_factor)):
        value = where_good(np.isfinite(dry), factor, dry, temperature)
        low, high = calc.TEST_TEMPERATURE_LIMITS
        rated = (temperature >= low) & (temperature <= high)
        rated &= (value >= calc.FACTOR_LIMITS[0]) & (value <= calc.FACTOR_LIMITS[1])
        rated &= np.isfinite(measured)
        found[f"{name}_factor"] = value
        found[f"power_{name}"] = where_good(rated, calc.corrected_power, measured, value, 0.0)
    return found


def _elsewhere(g: Entries, ambient: Floats, power: Floats) -> Mapping[str, Floats]:
    """Return power and boost at another altitude with the same pulley."""
    share = np.asarray(atmosphere.pressure_at_altitude(g["other_altitude"])) / ambient
    return {"power_elsewhere": power * share, "boost_elsewhere": g["boost"] * share}


# --- tables ----------------------------------------------------------------------------------


def _j1349(thinness: Real, temperature: Real) -> Real:
    """SAE J1349 factor over how much thinner the dry air is than standard: linear in that."""
    return calc.j1349_factor(P_STANDARD / thinness, temperature)


def _iso1585(thinness: Real, temperature: Real) -> Real:
    """ISO 1585 factor over the same."""
    return calc.iso1585_factor(P_STANDARD / thinness, temperature)


def _rateable(factor: Real, temperature: Real) -> Real:
    """Return a factor as it is: a table of it refuses what a standard does not rate."""
    del temperature
    return factor


def _end_temperature(charge_temperature: Real, compression_ratio: Real) -> Real:
    """End of compression at our one exponent."""
    return calc.end_of_compression_temperature(
        charge_temperature, compression_ratio, COMPRESSION_EXPONENT
    )


_HAIR = 1e-7
_THINNEST = P_STANDARD / DRY_PRESSURE.low
_THICKEST = P_STANDARD / DRY_PRESSURE.high
_WEATHER = ("temperature", "intake air temperature", COLDEST_WEATHER, HOTTEST_WEATHER)

TABLES = (
    air.STANDARD_PRESSURE,
    AIR_FLOW.table,
    POWER.table,
    BOOST_NEEDED.table,
    DRY_PRESSURE.table,
    TableSpec(
        "saturation_pressure",
        atmosphere.saturation_pressure,
        (cubic(*_WEATHER, kinks=(273.16,)),),
        tolerance=0.01,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "j1349_factor",
        _j1349,
        (
            linear("thinness", "standard pressure over dry pressure", _THICKEST, _THINNEST),
            cubic(*_WEATHER),
        ),
        tolerance=1e-6,
    ),
    TableSpec(
        "iso1585_factor",
        _iso1585,
        (
            cubic("thinness", "standard pressure over dry pressure", _THICKEST, _THINNEST),
            cubic(*_WEATHER),
        ),
        tolerance=1e-6,
    ),
    TableSpec(
        "rateable",
        _rateable,
        (
            linear(
                "factor",
                "weather factor",
                calc.FACTOR_LIMITS[0] + _HAIR + 1e-6,
                calc.FACTOR_LIMITS[1] - _HAIR - 1e-6,
            ),
            linear("temperature", "intake air temperature", *calc.TEST_TEMPERATURE_LIMITS),
        ),
        tolerance=1e-12,
        numbers="f8",
    ),
    TableSpec(
        "effective_compression",
        calc.effective_compression_ratio,
        (
            linear("compression_ratio", "compression ratio", 5.0, 15.0),
            cubic("pressure_ratio", "manifold over outside pressure", 1.0, 5.0),
        ),
        tolerance=1e-4,
    ),
    TableSpec(
        "end_of_compression",
        _end_temperature,
        (
            linear("charge_temperature", "charge temperature", 250.0, 450.0),
            cubic("compression_ratio", "compression ratio", 5.0, 15.0),
        ),
        tolerance=1e-3,
    ),
)


# --- the recipe ------------------------------------------------------------------------------

_TOO_COLD = "Weather correction covers intake air from −10 °C; this is colder."
_TOO_HOT = "Weather correction covers intake air up to 50 °C; this is hotter."
_WEATHER_SIDES = ((("temperature", _TOO_COLD),), (("temperature", _TOO_HOT),))
_COLD_TEST = (
    "No rating from this air: the standards want 15 to 35 °C at the intake. The factor still "
    "serves to compare runs."
)
_FAR_AIR = (
    "No rating from this air: the standards stop at factors from 0.93 to 1.07. The factor still "
    "serves to compare runs."
)
_RATING_SIDES = (("factor", _FAR_AIR), ("temperature", _COLD_TEST))

_SWALLOWED = (
    ("engine_efficiency", 1.0),
    ("engine_displacement", 1.0),
    ("engine_speed", 1.0),
    ("charge_temperature", -1.0),
)


def _rated(name: str) -> tuple[Look, Look, Product]:
    """Look up a standard's factor, see that it rates, apply it."""
    below, above = _WEATHER_SIDES
    factor, rating = f"{name}_factor", f"{name}_rating"
    at = ("thinness", "intake_temperature")
    return (
        Look(factor, factor, at, below=below, above=above),
        Look(
            rating,
            "rateable",
            (factor, "intake_temperature"),
            below=_RATING_SIDES,
            above=_RATING_SIDES,
        ),
        Product(f"power_{name}", (("power_to_rate", 1.0), (rating, 1.0))),
    )


STEPS = (
    *air.PRESSURE_STEPS,
    Sum("manifold", (("ambient", 1.0), ("boost", 1.0))),
    # Air, from boost by the gas law unless it was entered.
    Product("swallowed", _SWALLOWED, times=0.5 / R_AIR),
    Product("engine_air", (("swallowed", 1.0), ("manifold", 1.0))),
    AIR_FLOW.look("air_worked_out", "engine_air"),
    First("air_flow_used", ("air_flow", "air_worked_out")),
    # Power, at both ends of the band.
    least("mixture_good", "mixture_rich", "mixture_lean"),
    greatest("mixture_poor", "mixture_rich", "mixture_lean"),
    least("bsfc_good", "bsfc_low", "bsfc_high"),
    greatest("bsfc_poor", "bsfc_low", "bsfc_high"),
    Product("power_per_air_high", (("mixture_good", -1.0), ("bsfc_good", -1.0))),
    Product("power_per_air_low", (("mixture_poor", -1.0), ("bsfc_poor", -1.0))),
    Sum("power_per_air", (("power_per_air_low", 0.5), ("power_per_air_high", 0.5))),
    Product("most_power", (("air_flow_used", 1.0), ("power_per_air_high", 1.0))),
    POWER.look("power_high", "most_power"),
    Product(
        "power_low",
        (("power_high", 1.0), ("power_per_air_low", 1.0), ("power_per_air_high", -1.0)),
    ),
    Sum("power", (("power_low", 0.5), ("power_high", 0.5))),
    Product(
        "torque",
        (("power", 1.0), ("engine_speed", -1.0)),
        times=float(calc.torque_from_power(1.0, 1.0)),
    ),
    # The way back: air and boost for a wanted power.
    Product("wanted_near", (("wanted_power", 1.0), ("power", 1.0), ("power_low", -1.0))),
    Product("air_for_power", (("wanted_power", 1.0), ("power_per_air", -1.0))),
    Product("air_for_power_sure", (("wanted_power", 1.0), ("power_per_air_low", -1.0))),
    Product("manifold_for_power", (("air_for_power", 1.0), ("swallowed", -1.0))),
    Product("manifold_for_power_sure", (("air_for_power_sure", 1.0), ("swallowed", -1.0))),
    Sum("needed", (("manifold_for_power", 1.0), ("ambient", -1.0))),
    Sum("needed_sure", (("manifold_for_power_sure", 1.0), ("ambient", -1.0))),
    BOOST_NEEDED.look("boost_for_power", "needed"),
    BOOST_NEEDED.look("boost_for_power_sure", "needed_sure"),
    # Weather.
    Look(
        "saturation",
        "saturation_pressure",
        ("intake_temperature",),
        below=_WEATHER_SIDES[0],
        above=_WEATHER_SIDES[1],
    ),
    Product("vapour", (("humidity", 1.0), ("saturation", 1.0))),
    Sum("dry", (("ambient", 1.0), ("vapour", -1.0))),
    DRY_PRESSURE.look("dry_pressure", "dry"),
    Product("thinness", (("dry_pressure", -1.0),), times=P_STANDARD),
    First("power_to_rate", ("measured_power", "power")),
    *_rated("j1349"),
    *_rated("iso1585"),
    # Another altitude.
    Look("other_air", "standard_pressure", ("other_altitude",)),
    Product("air_share", (("other_air", 1.0), ("ambient", -1.0))),
    Product("power_elsewhere", (("power", 1.0), ("air_share", 1.0))),
    Product("boost_elsewhere", (("boost", 1.0), ("air_share", 1.0))),
    # The cylinder's side.
    Product("pressure_ratio", (("manifold", 1.0), ("ambient", -1.0))),
    Product(
        "charge_density",
        (("pressure_ratio", 1.0), ("intake_temperature", 1.0), ("charge_temperature", -1.0)),
    ),
    Look("effective_compression", "effective_compression", ("compression_ratio", "pressure_ratio")),
    Look("end_temperature", "end_of_compression", ("charge_temperature", "compression_ratio")),
    Look(
        "known_end_temperature",
        "end_of_compression",
        ("known_charge_temperature", "known_compression_ratio"),
    ),
    Sum("known_end_near", (("known_end_temperature", 1.0),), plus=-10.0),
)


# --- the page --------------------------------------------------------------------------------

_BAND = "Either end may be entered first."

FIELDS = (
    Number(
        "boost",
        "Boost",
        Scale("gauge_pressure", unit="kPa", span=(0, 200), default=80, step=1),
        measure="Gauge at the manifold, full throttle at this speed, or the boost page.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        first=True,
    ),
    boost.LOOKUP.numbers["engine_speed"],
    Number(
        "wanted_power",
        "Wanted power, to find its boost",
        Scale("power", unit="kW", span=(20, 1200), default=None, step=10),
        measure="At the crankshaft. Leave empty if you only want to know what there is.",
        way_out="Enter power at the crankshaft, and look at the unit.",
        first=True,
    ),
    Number(
        "air_flow",
        "Air flow, if you know it",
        Scale("mass_flow", unit="gps", span=(20, 1500), default=None, step=5),
        measure="From the boost page or an air meter. Left empty, it is worked out from boost, "
        "charge temperature and displacement; filled in, it overrules them.",
        way_out="Leave it empty to work it out from boost.",
    ),
    Number(
        "charge_temperature",
        "Charge temperature",
        Scale("temperature", unit="C", span=(-10, 150), default=55, step=5),
        measure="In the manifold, after the charge cooler, at the end of a pull.",
        way_out="Over 150 °C the sensor or the charge cooler is at fault.",
    ),
    boost.LOOKUP.numbers["engine_displacement"],
    replace(
        boost.LOOKUP.numbers["engine_efficiency"],
        way_out="The boost page finds it from a kit's stated pulley and boost.",
        when=None,
    ),
    Number(
        "mixture_rich",
        "Mixture, rich end (air to fuel)",
        Scale("ratio", unit="", span=(6, 18), default=calc.MIXTURE_BAND[0], step=0.1),
        measure=f"At full load, as a meter shows it for gasoline. Common practice. {_BAND}",
        way_out="Enter kilograms of air for one of fuel, such as 11.5.",
    ),
    Number(
        "mixture_lean",
        "Mixture, lean end (air to fuel)",
        Scale("ratio", unit="", span=(6, 18), default=calc.MIXTURE_BAND[1], step=0.1),
        measure=f"Leaner than this at full boost is asking for knock. Common practice. {_BAND}",
        way_out="Enter kilograms of air for one of fuel, such as 12.0.",
    ),
    Number(
        "bsfc_low",
        "Fuel consumption, thrifty end",
        Scale("fuel_use", unit="gkwh", span=(200, 550), default=335, step=5),
        measure="On gasoline, blower drive included: 335 is 0.55 lb/hp·h. Common practice.",
        way_out="Full load on gasoline takes 335 to 395 g/kWh with a blower to drive.",
    ),
    Number(
        "bsfc_high",
        "Fuel consumption, thirsty end",
        Scale("fuel_use", unit="gkwh", span=(200, 550), default=395, step=5),
        measure="On gasoline, blower drive included: 395 is 0.65 lb/hp·h. Common practice.",
        way_out="Full load on gasoline takes 335 to 395 g/kWh with a blower to drive.",
    ),
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
    Number(
        "humidity",
        "Relative humidity",
        Scale("percent", unit="pct", span=(0, 100), default=40, step=5),
        measure="Weather report, or a hygrometer in the dyno cell.",
        way_out="Enter 0 to 100 %.",
    ),
    Number(
        "measured_power",
        "Power measured on a dyno",
        Scale("power", unit="kW", span=(10, 1500), default=None, step=5),
        measure="At the crankshaft, uncorrected. Left empty, the estimate is corrected instead.",
        way_out="Enter the uncorrected power, and look at the unit.",
    ),
    Number(
        "other_altitude",
        "Another altitude, to compare",
        Scale("altitude", unit="m", span=(air.LOWEST, air.HIGHEST), default=1500, step=100),
        measure="Where the truck will be driven, or where the dyno stands.",
        way_out="This page compares altitudes from −300 to 4,500 m.",
    ),
    Number(
        "compression_ratio",
        "Compression ratio",
        Scale("ratio", unit="", span=(6, 14), default=9.5, step=0.1),
        measure="From chamber, piston and gasket; not from a cranking pressure.",
        way_out="Enter swept and chamber volume over chamber volume.",
    ),
    Number(
        "known_compression_ratio",
        "Compression ratio of a set-up you trust",
        Scale("ratio", unit="", span=(6, 14), default=None, step=0.1),
        measure="One that ran without knock on the same fuel, to compare with.",
        way_out="Enter swept and chamber volume over chamber volume.",
    ),
    Number(
        "known_charge_temperature",
        "Charge temperature of that set-up",
        Scale("temperature", unit="C", span=(-10, 150), default=None, step=5),
        measure="In its manifold, at full load.",
        way_out="Leave both empty if there is no such set-up.",
    ),
)

_KW = {"kW": 0, "hp": 0}
_GAUGE = {"kPa": 0, "psi": 1, "bar": 2}
_ESTIMATE = "At the crankshaft, blower drive already paid for. A dyno decides."
_SAE = "For a power quoted as SAE net; ISO 1585 is for one declared to ISO or UN R85."
_ISO = (
    "For a power declared to ISO or UN R85; SAE J1349 is for one quoted as SAE net. Neither, if "
    "the engine holds its boost against the weather."
)

ANSWERS = (
    Answer(
        "power",
        "Power, middle of the estimate",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=40.0,
        band=Band(
            side="min",
            limit="wanted_power",
            near="wanted_near",
            within="{value}, {margin} over the wanted {limit}: even the poor end of the estimate makes "
            "it.",
            near_words="{value}, {margin} over the wanted {limit}, but the poor end of the estimate falls "
            "short.",
            beyond="{value}, {margin} short of the wanted {limit}: see the boost that it takes.",
        ),
        rank="main",
        note=_ESTIMATE,
    ),
    Answer(
        "power_low",
        "Poor end",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=20.0,
        rank="second",
    ),
    Answer(
        "power_high",
        "Good end",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=20.0,
        rank="second",
    ),
    Answer(
        "boost_for_power",
        "Boost for the wanted power",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.05,
        uncertainty=12.0,
        rank="second",
        note="At the charge temperature entered: more boost makes a hotter charge. Take it to "
        "the boost page as wanted boost, for its pulley.",
        optional=True,
    ),
    Answer(
        "boost_for_power_sure",
        "Boost for it even at the poor end",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.05,
        uncertainty=12.0,
        optional=True,
    ),
    Answer(
        "air_for_power",
        "Air flow for the wanted power",
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=40.0,
        optional=True,
    ),
    Answer(
        "torque",
        "Torque at this speed",
        of="torque",
        decimals={"Nm": 0, "lbft": 0},
        tolerance=0.1,
        uncertainty=60.0,
    ),
    Answer(
        "air_flow_used",
        "Air flow",
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=25.0,
    ),
    Answer(
        "power_j1349",
        "Power rated to SAE J1349",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=5.0,
        note=_SAE,
    ),
    Answer(
        "power_iso1585",
        "Power rated to ISO 1585",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=5.0,
        note=_ISO,
    ),
    Answer(
        "j1349_factor",
        "Weather factor, SAE J1349",
        of="ratio",
        decimals={"": 3},
        tolerance=1e-5,
        uncertainty=0.005,
    ),
    Answer(
        "iso1585_factor",
        "Weather factor, ISO 1585",
        of="ratio",
        decimals={"": 3},
        tolerance=1e-5,
        uncertainty=0.005,
    ),
    Answer(
        "dry_pressure",
        "Pressure of the dry air",
        of="absolute_pressure",
        decimals={"kPa": 2, "inHg": 2, "mbar": 0},
        tolerance=0.001,
        uncertainty=0.05,
    ),
    Answer(
        "power_elsewhere",
        "Power at the other altitude",
        of="power",
        decimals=_KW,
        tolerance=0.05,
        uncertainty=40.0,
        note="Same pulley, speed and air temperature: a blower multiplies what air there is.",
    ),
    Answer(
        "boost_elsewhere",
        "Boost at the other altitude",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.02,
        uncertainty=4.0,
    ),
    Answer(
        "charge_density",
        "Charge density over outside air",
        of="ratio",
        decimals={"": 2},
        tolerance=1e-4,
        uncertainty=0.03,
        note="What power follows, first of all.",
    ),
    Answer(
        "effective_compression",
        "Effective compression ratio",
        of="ratio",
        decimals={"": 1},
        tolerance=0.001,
        uncertainty=0.3,
        note="The unblown ratio with the same end pressure. To compare set-ups, nothing more.",
    ),
    Answer(
        "end_temperature",
        "Charge at the end of compression",
        of="temperature",
        decimals={"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=30.0,
        band=Band(
            side="max",
            limit="known_end_temperature",
            near="known_end_near",
            within="{value} at the end of compression, {margin} cooler than the set-up you trust.",
            near_words="{value} at the end of compression, only {margin} cooler than the set-up you trust.",
            beyond="{value} at the end of compression, {margin} hotter than the set-up you trust: a "
            "cooler charge, less compression or more octane, and a calibrator before boost.",
        ),
        note="No burning, no residual gas: to compare set-ups, not to predict knock.",
    ),
    Answer(
        "known_end_temperature",
        "The same in the set-up you trust",
        of="temperature",
        decimals={"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=30.0,
        optional=True,
    ),
)

LOOKUP = Lookup(
    key="power",
    title="Power from air",
    short="Power",
    question="What power will it make, and what boost does a wanted power take?",
    stage="plan",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1),
        Working("manifold", "Manifold pressure", of="absolute_pressure", unit="kPa", decimals=1),
        Working("pressure_ratio", "Manifold over outside air"),
        Working("engine_air", "Air by the gas law", of="mass_flow", unit="gps", decimals=0),
        Working("mixture_good", "Mixture at the good end", decimals=1),
        Working("mixture_poor", "Mixture at the poor end", decimals=1),
        Working("bsfc_good", "Consumption at the good end", of="fuel_use", unit="gkwh", decimals=0),
        Working("bsfc_poor", "Consumption at the poor end", of="fuel_use", unit="gkwh", decimals=0),
        Working("power_to_rate", "Power that is corrected", of="power", unit="kW", decimals=0),
        Working(
            "saturation", "Saturation pressure", of="absolute_pressure", unit="kPa", decimals=2
        ),
        Working(
            "other_air",
            "Outside air at the other altitude",
            of="absolute_pressure",
            unit="kPa",
            decimals=1,
        ),
        Working(
            "manifold_for_power",
            "Manifold for the wanted power",
            of="absolute_pressure",
            unit="kPa",
        ),
        Working(
            "manifold_for_power_sure",
            "The same at the poor end",
            of="absolute_pressure",
            unit="kPa",
        ),
    ),
    views=Views(
        grids=(
            GridView(
                "Power by boost and engine speed",
                "power",
                "boost",
                (0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0),
                "engine_speed",
                (3000.0, 4000.0, 5000.0, 6000.0, 7000.0),
            ),
            GridView(
                "Squeeze by compression ratio",
                "effective_compression",
                "compression_ratio",
                (8.0, 8.5, 9.0, 9.5, 10.0, 10.5, 11.0),
                also=("end_temperature",),
            ),
        ),
        curves=(
            CurveView(
                "Power against altitude, same pulley",
                "power_elsewhere",
                "other_altitude",
                tuple(250.0 * n for n in range(19)),
            ),
        ),
    ),
    cautions=(
        "No spark advice here: timing belongs to the calibrator, on a dyno, with knock sensors "
        "connected and listening.",
        "More boost, more compression or a hotter charge asks for more octane. Knock breaks "
        "pistons in seconds: run the fuel that the calibration was made for, and lift at the "
        "first sound of it.",
        "A dyno run is done with the truck strapped down, nobody in line with the wheels or the "
        "belt, and a fire extinguisher in reach.",
        "More power can affect road legality, emissions, insurance and brakes: follow local law.",
    ),
    sources=(
        "Power from air: Heywood, Internal Combustion Engine Fundamentals, ch. 2, definitions of "
        "air-fuel ratio, specific fuel consumption and volumetric efficiency.",
        "Mixture 11.3 to 12.2 and 335 to 395 g/kWh at full load: common practice.",
        "SAE J1349 (June 1990) and ISO 1585, as commonly restated; limits of the factor and of "
        "the intake air from memory.",
        "No second correction where the control holds boost: UN Regulation No. 85.",
        "Outside air from altitude: ISO 2533. Saturation pressure: IAPWS SR1-86.",
        "Effective compression: isentropic, γ = 1.4. End of compression: Heywood, ch. 9, n = 1.3.",
    ),
    leaves_out=(
        "Losses between crankshaft and wheels.",
        "Other fuels: at the same share of excess air, E85 makes within 1 % of the same power per "
        "kilogram of air, so the gasoline figures serve for power. Fuel flow is another matter: "
        "see the fuel page.",
        "Fuel that cools the charge as it evaporates, and exhaust left in the cylinder.",
        "How volumetric efficiency changes with speed: enter it for the speed you ask about.",
    ),
)
