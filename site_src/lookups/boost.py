"""Boost by pulley: what a pulley gives, and which pulley gives a wanted boost.

The balance between blower and engine is one table, the flow surplus. It is linear in everything
but the pressure ratio, so all axes but one take two knots; along the pressure ratio it is read
back to front. The same table read forward gives outlet and charge temperature, volumetric
efficiency, work, and the engine's efficiency at a stated rating.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from calc import boost as calc
from calc.atmosphere import pressure_at_altitude
from calc.belts import effective_diameter_from_outside, pitch_diameter_from_effective
from calc.constants import CP_AIR, R_AIR
from calc.domain import Real
from site_src.data.belts import section
from site_src.lookups import air
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.direct import Entries, Floats, Limit
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, linear
from site_src.tables.recipe import Inverse, Look, Pick, Product, Sum

_PK = section("PK")

LINE_DIFFERENTIAL = _PK.line_differential.value
"""Distance from effective to pitch line of a PK belt, m."""

TIP_HEIGHT = _PK.tip_height.value if _PK.tip_height else 0.0
"""Rib tips over the effective diameter, m."""

HIGHEST_LEAK = 0.5
"""Leakage over rotor speed up to which the balance is tabulated."""

HIGHEST_HELD = 50.0
"""Largest drive ratio or root of pressure rise that is checked for a blower that can hold it."""

SHELF = (70.0, 74.0, 78.0, 82.0, 85.0, 88.0, 92.0, 96.0, 100.0, 105.0, 110.0)
"""Blower pulleys on our invented shelf, mm."""

EDGE = 1e-5
"""How far inside the calculation's own limits the recipe falls silent, so that it never speaks
where the calculation doesn't."""

AGREES = Limit(
    "agreeing_efficiency",
    "engine efficiency",
    0.75,
    1.20,
    below="The stated rating and the dimensions don't agree: the engine would have to breathe "
    "below 75 %. Most often the crank pulley is smaller than entered; measure it again.",
    above="The stated rating and the dimensions don't agree: the engine would have to breathe "
    "above 120 %. Most often the crank pulley is larger than entered; measure it again.",
)
"""Engine volumetric efficiencies at which a rating agrees with the dimensions."""


# --- the direct calculation ------------------------------------------------------------------


def pitch_diameter(measured: Floats, kind: NDArray[np.str_]) -> Floats:
    """Return pitch diameters from what was measured."""
    outside = pitch_diameter_from_effective(
        effective_diameter_from_outside(measured, TIP_HEIGHT), LINE_DIFFERENTIAL
    )
    effective = pitch_diameter_from_effective(measured, LINE_DIFFERENTIAL)
    return np.select([kind == "outside", kind == "effective"], [outside, effective], measured)


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    crank = pitch_diameter(g["crank_pulley"], g.chosen("diameter_kind"))
    blower = pitch_diameter(g["blower_pulley"], g.chosen("diameter_kind"))
    ratio = np.asarray(calc.drive_ratio(crank, blower, g["gear"]))
    ambient = air.ambient(g)
    setup = _set_up(g, ratio, ambient, g["intake_temperature"])
    efficiency = np.where(
        g.chosen("efficiency_from") == "rating", _rated(g, crank), g["engine_efficiency"]
    )
    point = calc.operating_point(setup, g["engine_speed"], efficiency)
    wanted = _wanted(g, setup, efficiency, crank)
    return {
        "boost": np.asarray(point.boost),
        "rotor_speed": np.asarray(point.rotor_speed),
        "charge_temperature": np.asarray(point.charge_temperature),
        "pressure_ratio": np.asarray(point.pressure_ratio),
        "drive_ratio": ratio,
        "outlet_temperature": np.asarray(point.outlet_temperature),
        "air_flow": np.asarray(point.air_flow),
        "drive_power": np.asarray(point.drive_power),
        "blower_efficiency": np.asarray(point.blower_efficiency),
        "engine_efficiency_used": efficiency,
        **wanted,
    }


def _built_in(g: Entries) -> Floats:
    """Return the built-in pressure ratio; 1 where there is no internal compression."""
    return np.where(g.chosen("blower_kind") == "internal", g["built_in_ratio"], 1.0)


def _set_up(g: Entries, ratio: Floats, ambient: Floats, intake: Floats) -> calc.SetUp:
    """Return the set-up at a drive ratio and in some air."""
    return calc.SetUp(
        engine_displacement=g["engine_displacement"],
        blower_displacement=g["blower_displacement"],
        built_in_ratio=_built_in(g),
        ratio=ratio,
        slip=g["slip"],
        leakage_speed=g["leakage"],
        effectiveness=g["effectiveness"],
        coolant_temperature=g["coolant_temperature"],
        intake_temperature=intake,
        ambient_pressure=ambient,
        inlet_depression=g["inlet_depression"],
        cooler_drop=g["cooler_drop"],
    )


def _rated(g: Entries, crank: Floats) -> Floats:
    """Return the engine efficiency at the stated rating; NaN where it can't be right."""
    blower = pitch_diameter(g["rating_pulley"], g.chosen("diameter_kind"))
    ratio = np.asarray(calc.drive_ratio(crank, blower, g["gear"]))
    ambient = np.asarray(pressure_at_altitude(g["rating_altitude"]))
    inlet = ambient - g["inlet_depression"]
    pressure_ratio = (g["rating_boost"] + g["cooler_drop"] + ambient) / inlet
    speed = calc.rotor_speed(g["rating_engine_speed"], ratio, g["slip"])
    known = pressure_ratio <= calc.HIGHEST_RATIO
    efficiency = np.asarray(
        calc.engine_efficiency_from_rating(
            np.where(known, pressure_ratio, 1.0),
            g["leakage"] / speed,
            g["effectiveness"],
            g["coolant_temperature"] / g["rating_intake_temperature"],
            _built_in(g),
            calc.swept_ratio(g["blower_displacement"], g["engine_displacement"], ratio, g["slip"]),
            g["cooler_drop"] / inlet,
        )
    )
    return np.where(known & AGREES.holds(efficiency), efficiency, np.nan)


def _wanted(
    g: Entries, setup: calc.SetUp, efficiency: Floats, crank: Floats
) -> Mapping[str, Floats]:
    """Return pulley and rotor speed for the wanted boost; NaN where none was asked for."""
    ambient, inlet = setup.ambient_pressure, setup.ambient_pressure - g["inlet_depression"]
    pressure_ratio = (g["wanted_boost"] + g["cooler_drop"] + ambient) / inlet
    known = pressure_ratio <= calc.HIGHEST_RATIO
    one = np.ones(g["slip"].shape)
    ratio = np.asarray(
        calc.drive_ratio_for(
            np.where(known, pressure_ratio, 1.0),
            g["effectiveness"],
            g["coolant_temperature"] / g["intake_temperature"],
            setup.built_in_ratio,
            efficiency,
            calc.swept_ratio(g["blower_displacement"], g["engine_displacement"], one, g["slip"]),
            g["leakage"] / calc.rotor_speed(g["engine_speed"], one, g["slip"]),
            g["cooler_drop"] / inlet,
        )
    )
    leak = g["leakage"] / calc.rotor_speed(g["engine_speed"], ratio, g["slip"])
    efficiency_there = calc.volumetric_efficiency(np.where(known, pressure_ratio, 1.0), leak)
    ratio = np.where(known & (efficiency_there >= calc.LOWEST_EFFICIENCY), ratio, np.nan)
    added = crank - g["crank_pulley"]
    return {
        "pulley_for_boost": crank * g["gear"] / ratio - added,
        "rotor_speed_for_boost": np.asarray(calc.rotor_speed(g["engine_speed"], ratio, g["slip"])),
    }


# --- tables ----------------------------------------------------------------------------------


def _surplus(
    root: Real,
    leak: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    idle: Real,
    slope: Real,
    demand: Real,
) -> Real:
    """Flow surplus over the root of the pressure rise, along which leakage starts smoothly."""
    return calc.flow_surplus(
        1.0 + root * root, leak, effectiveness, coolant_ratio, idle, slope, demand
    )


def _idle(built_in: Real) -> Real:
    """Shaft work without boost."""
    return calc.shaft_work_terms(built_in)[0]


def _slope(built_in: Real) -> Real:
    """Slope of the shaft work."""
    return calc.shaft_work_terms(built_in)[1]


def _held(value: Real, efficiency: Real) -> Real:
    """Return a value as it is: a table of it refuses values where the blower can't hold them."""
    del efficiency
    return value


TABLES = (
    TableSpec(
        "flow_surplus",
        _surplus,
        (
            cubic(
                "root",
                "root of the pressure rise",
                0.0,
                float(np.sqrt(calc.HIGHEST_RATIO - 1.0)),
                kinks=(float(np.sqrt(calc.CRITICAL_RATIO - 1.0)),),
            ),
            linear("leak", "leakage speed over rotor speed", 0.0, HIGHEST_LEAK),
            linear("effectiveness", "charge-cooler effectiveness", 0.0, 1.0),
            linear("coolant_ratio", "coolant over inlet temperature", 0.75, 1.6),
            linear("idle", "work without boost", 0.0, 0.06),
            linear("slope", "work per pressure ratio", 0.15, 0.31),
            linear("demand", "engine efficiency over swept ratio", 0.0, 4.0),
        ),
        tolerance=2e-7,
        numbers="f8",
    ),
    TableSpec(
        "idle_work",
        _idle,
        (cubic("built_in", "built-in pressure ratio", 1.0, 2.0),),
        tolerance=5e-8,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "work_slope",
        _slope,
        (cubic("built_in", "built-in pressure ratio", 1.0, 2.0),),
        tolerance=5e-8,
        monotone=True,
        numbers="f8",
    ),
    air.STANDARD_PRESSURE,
    AGREES.table,
    TableSpec(
        "held_by_leakage",
        _held,
        (
            linear("value", "value", 0.0, HIGHEST_HELD),
            linear("efficiency", "blower efficiency", calc.LOWEST_EFFICIENCY + EDGE, 1.0),
        ),
        tolerance=1e-12,
        numbers="f8",
    ),
)


# --- the recipe ------------------------------------------------------------------------------

_OUT_BREATHES = (
    "The engine takes more air than the blower moves: no boost with this pulley. "
    "Fit a smaller blower pulley, or check the displacements."
)
_TOO_MUCH = (
    "This works out above a pressure ratio of 3.25, where a blower of this kind is not run. "
    "Check the pulleys and the displacements."
)
_TOO_SLOW = (
    "The rotors turn so slowly that leakage rules: no number here. Raise the engine speed, "
    "or enter a lower leakage speed."
)
_SLOW = (("leak", _TOO_SLOW),)
_LEAKS = (("efficiency", _TOO_SLOW),)
_SURPLUS_AT = ("leak", "effectiveness", "coolant_ratio", "idle", "slope", "demand")
_PER_LEAK = 1.0 / HIGHEST_LEAK


def _negated(name: str, look: Look) -> tuple[Look, Product]:
    """Return a look-up of the surplus at no demand, and its negative: the delivery."""
    return look, Product(name, ((look.name, 1.0),), times=-1.0)


def _tight(name: str, root: str, leak: str) -> Look:
    """Look up the surplus where it is the negative of the blower's volumetric efficiency."""
    at = (root, leak, 1.0, 1.0, "idle", "slope", 0.0)
    return Look(name, "flow_surplus", at, above=_SLOW)


DRIVE_STEPS = (
    Pick(
        "line_allowance",
        "diameter_kind",
        (
            ("outside", 2.0 * (LINE_DIFFERENTIAL - TIP_HEIGHT)),
            ("effective", 2.0 * LINE_DIFFERENTIAL),
            ("pitch", 0.0),
        ),
    ),
    Sum("crank_pitch", (("crank_pulley", 1.0), ("line_allowance", 1.0))),
    Sum("blower_pitch", (("blower_pulley", 1.0), ("line_allowance", 1.0))),
    Product("drive_ratio", (("crank_pitch", 1.0), ("blower_pitch", -1.0), ("gear", 1.0))),
    Sum("grip", (("slip", -1.0),), plus=1.0),
    Product("rotor_speed", (("engine_speed", 1.0), ("drive_ratio", 1.0), ("grip", 1.0))),
)
"""From the pulleys as measured to the rotors' speed; the belt's page asks the same."""

STEPS = (
    *DRIVE_STEPS,
    Product(
        "sweep_per_ratio",
        (("blower_displacement", 1.0), ("engine_displacement", -1.0), ("grip", 1.0)),
        times=2.0,
    ),
    Product("swept_ratio", (("sweep_per_ratio", 1.0), ("drive_ratio", 1.0))),
    Product("leak", (("leakage", 1.0), ("rotor_speed", -1.0))),
    # Air.
    *air.PRESSURE_STEPS,
    Sum("inlet", (("ambient", 1.0), ("inlet_depression", -1.0))),
    Product("drop_ratio", (("cooler_drop", 1.0), ("inlet", -1.0))),
    Product("coolant_ratio", (("coolant_temperature", 1.0), ("intake_temperature", -1.0))),
    # Work.
    Pick("built_in", "blower_kind", (("plain", 1.0), ("internal", "built_in_ratio"))),
    Look("idle", "idle_work", ("built_in",)),
    Look("slope", "work_slope", ("built_in",)),
    # The engine, from a stated rating if there is one.
    Sum("rating_pitch", (("rating_pulley", 1.0), ("line_allowance", 1.0))),
    Product("rating_ratio", (("crank_pitch", 1.0), ("rating_pitch", -1.0), ("gear", 1.0))),
    Product("rating_swept", (("sweep_per_ratio", 1.0), ("rating_ratio", 1.0))),
    Product(
        "rating_leak",
        (("leakage", 1.0), ("rating_engine_speed", -1.0), ("rating_ratio", -1.0), ("grip", -1.0)),
    ),
    Look("rating_air", "standard_pressure", ("rating_altitude",)),
    Sum("rating_inlet", (("rating_air", 1.0), ("inlet_depression", -1.0))),
    Sum("rating_outlet", (("rating_boost", 1.0), ("rating_air", 1.0), ("cooler_drop", 1.0))),
    Product("rating_pressure_ratio", (("rating_outlet", 1.0), ("rating_inlet", -1.0))),
    Sum("rating_rise", (("rating_pressure_ratio", 1.0),), plus=-1.0),
    Product("rating_root", (("rating_rise", 0.5),)),
    Product("rating_coolant", (("coolant_temperature", 1.0), ("rating_intake_temperature", -1.0))),
    *_negated(
        "rating_delivery",
        Look(
            "rating_surplus",
            "flow_surplus",
            (
                "rating_root",
                "rating_leak",
                "effectiveness",
                "rating_coolant",
                "idle",
                "slope",
                0.0,
            ),
            above=(("root", _TOO_MUCH), *_SLOW),
        ),
    ),
    Product("rating_drop", (("cooler_drop", 1.0), ("rating_inlet", -1.0))),
    Sum("rating_manifold", (("rating_pressure_ratio", 1.0), ("rating_drop", -1.0))),
    Product(
        "rating_breathing",
        (("rating_swept", 1.0), ("rating_delivery", 1.0), ("rating_manifold", -1.0)),
    ),
    AGREES.look("rating_efficiency", "rating_breathing"),
    Pick(
        "engine_efficiency_used",
        "efficiency_from",
        (("typed", "engine_efficiency"), ("rating", "rating_efficiency")),
    ),
    # The balance.
    Product("demand", (("engine_efficiency_used", 1.0), ("swept_ratio", -1.0))),
    Product("wanted_surplus", (("demand", 1.0), ("drop_ratio", 1.0))),
    Inverse(
        "balance_root",
        "flow_surplus",
        "root",
        "wanted_surplus",
        _SURPLUS_AT,
        below=_OUT_BREATHES,
        above=_TOO_MUCH,
        above_at=(*_SLOW, ("demand", _OUT_BREATHES)),
    ),
    *_negated("balance_efficiency", _tight("balance_surplus", "balance_root", "leak")),
    Look("root", "held_by_leakage", ("balance_root", "balance_efficiency"), below=_LEAKS),
    Product("rise", (("root", 2.0),)),
    Sum("pressure_ratio", (("rise", 1.0),), plus=1.0),
    Product("outlet_pressure", (("pressure_ratio", 1.0), ("inlet", 1.0))),
    Sum("boost", (("outlet_pressure", 1.0), ("cooler_drop", -1.0), ("ambient", -1.0))),
    # Temperatures, flow and power: the same table, read forward.
    *_negated("blower_efficiency", _tight("tight_surplus", "root", "leak")),
    *_negated(
        "hot_delivery",
        Look("hot_surplus", "flow_surplus", ("root", "leak", 0.0, 1.0, "idle", "slope", 0.0)),
    ),
    *_negated(
        "cool_delivery",
        Look(
            "cool_surplus",
            "flow_surplus",
            ("root", "leak", "effectiveness", "coolant_ratio", "idle", "slope", 0.0),
        ),
    ),
    Product(
        "outlet_temperature",
        (("hot_delivery", 1.0), ("blower_efficiency", -1.0), ("intake_temperature", 1.0)),
    ),
    Product(
        "charge_temperature",
        (("cool_delivery", 1.0), ("blower_efficiency", -1.0), ("intake_temperature", 1.0)),
    ),
    Product(
        "swept_flow",
        (
            ("blower_displacement", 1.0),
            ("rotor_speed", 1.0),
            ("inlet", 1.0),
            ("intake_temperature", -1.0),
        ),
        times=1.0 / R_AIR,
    ),
    Product("air_flow", (("blower_efficiency", 1.0), ("swept_flow", 1.0))),
    Sum("work", (("hot_delivery", 1.0), ("blower_efficiency", -1.0))),
    Product(
        "drive_power",
        (("work", 1.0), ("swept_flow", 1.0), ("intake_temperature", 1.0)),
        times=CP_AIR,
    ),
    # Which pulley for a wanted boost: linear in the drive ratio once the pressure is given.
    Sum("want_outlet", (("wanted_boost", 1.0), ("ambient", 1.0), ("cooler_drop", 1.0))),
    Product("want_pressure_ratio", (("want_outlet", 1.0), ("inlet", -1.0))),
    Sum("want_rise", (("want_pressure_ratio", 1.0),), plus=-1.0),
    Product("want_root", (("want_rise", 0.5),)),
    *_negated(
        "want_tight",
        Look(
            "want_tight_surplus",
            "flow_surplus",
            ("want_root", 0.0, "effectiveness", "coolant_ratio", "idle", "slope", 0.0),
            above=(("root", _TOO_MUCH),),
        ),
    ),
    *_negated(
        "want_leaky",
        Look(
            "want_leaky_surplus",
            "flow_surplus",
            ("want_root", HIGHEST_LEAK, "effectiveness", "coolant_ratio", "idle", "slope", 0.0),
            above=(("root", _TOO_MUCH),),
        ),
    ),
    Sum("want_loss", (("want_tight", _PER_LEAK), ("want_leaky", -_PER_LEAK))),
    Product("leak_per_ratio", (("leakage", 1.0), ("engine_speed", -1.0), ("grip", -1.0))),
    Product("want_leakage", (("leak_per_ratio", 1.0), ("want_loss", 1.0))),
    Sum("want_manifold", (("want_pressure_ratio", 1.0), ("drop_ratio", -1.0))),
    Product(
        "want_taken",
        (("engine_efficiency_used", 1.0), ("want_manifold", 1.0), ("sweep_per_ratio", -1.0)),
    ),
    Sum("want_made", (("want_taken", 1.0), ("want_leakage", 1.0))),
    Product("want_balance", (("want_made", 1.0), ("want_tight", -1.0))),
    Product("want_leak", (("leak_per_ratio", 1.0), ("want_balance", -1.0))),
    *_negated("want_efficiency", _tight("want_surplus", "want_root", "want_leak")),
    Look("want_ratio", "held_by_leakage", ("want_balance", "want_efficiency"), below=_LEAKS),
    Product("want_pitch", (("crank_pitch", 1.0), ("gear", 1.0), ("want_ratio", -1.0))),
    Sum("pulley_for_boost", (("want_pitch", 1.0), ("line_allowance", -1.0))),
    Product("rotor_speed_for_boost", (("engine_speed", 1.0), ("want_ratio", 1.0), ("grip", 1.0))),
    # Limits.
    Product("rotor_near", (("rotor_limit", 1.0),), times=0.92),
)


# --- the page --------------------------------------------------------------------------------

_RATED = ("efficiency_from", ("rating",))
_CALIPER = "Caliper across the rims."
_SPEEDS = (2000.0, 3000.0, 4000.0, 5000.0, 6000.0, 7000.0)

FIELDS = (
    Number(
        "blower_pulley",
        "Blower pulley",
        "length",
        "mm",
        40.0,
        250.0,
        92.0,
        1.0,
        measure=_CALIPER,
        way_out="Measure across the rims again, and look at the unit.",
        steps=SHELF,
        first=True,
    ),
    Number(
        "crank_pulley",
        "Crank pulley",
        "length",
        "mm",
        80.0,
        300.0,
        180.0,
        1.0,
        measure="Caliper or diameter tape. One millimetre here moves boost more than any other.",
        way_out="Measure across the rims again, and look at the unit.",
        first=True,
    ),
    Number(
        "engine_speed",
        "Engine speed",
        "rotation",
        "rpm",
        500.0,
        10000.0,
        6000.0,
        250.0,
        way_out="Enter crankshaft speed, not rotor speed.",
        first=True,
    ),
    Number(
        "wanted_boost",
        "Wanted boost, to find a pulley",
        "gauge_pressure",
        "kPa",
        5.0,
        200.0,
        None,
        5.0,
        measure="Leave empty if you only want to know what a pulley gives.",
        way_out="Enter boost above the outside air, not absolute pressure.",
    ),
    Choice(
        "efficiency_from",
        "How well the engine breathes",
        (
            Option("typed", "I enter it"),
            Option("rating", "From the kit's stated pulley and boost"),
        ),
        "typed",
    ),
    Number(
        "engine_efficiency",
        "Engine volumetric efficiency",
        "percent",
        "pct",
        60.0,
        130.0,
        95.0,
        1.0,
        measure="Two valves 85 to 95, four valves 95 to 105. Common practice.",
        way_out="If the kit states a pulley and its boost, use that instead.",
        when=("efficiency_from", ("typed",)),
    ),
    Number(
        "rating_pulley",
        "Stated blower pulley",
        "length",
        "mm",
        40.0,
        250.0,
        88.0,
        1.0,
        measure="As the kit states it, measured the same way as yours.",
        way_out="Enter the pulley that belongs to the stated boost.",
        when=_RATED,
    ),
    Number(
        "rating_boost",
        "Stated boost",
        "gauge_pressure",
        "kPa",
        5.0,
        200.0,
        80.0,
        1.0,
        measure="Above the outside air, at the manifold.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        when=_RATED,
    ),
    Number(
        "rating_engine_speed",
        "Engine speed of the stated boost",
        "rotation",
        "rpm",
        500.0,
        10000.0,
        6000.0,
        250.0,
        measure="If the kit names none, take the engine's speed at peak power.",
        way_out="Enter crankshaft speed, not rotor speed.",
        when=_RATED,
    ),
    Number(
        "rating_altitude",
        "Altitude of the stated boost",
        "altitude",
        "m",
        -300.0,
        4500.0,
        0.0,
        100.0,
        measure="Sea level, unless the kit says where it was measured.",
        way_out="Take sea level if the kit doesn't say.",
        when=_RATED,
    ),
    Number(
        "rating_intake_temperature",
        "Intake air of the stated boost",
        "temperature",
        "C",
        -40.0,
        60.0,
        25.0,
        5.0,
        measure="25 °C, unless the kit says otherwise.",
        way_out="Take 25 °C if the kit doesn't say.",
        when=_RATED,
    ),
    Choice(
        "diameter_kind",
        "Diameter you measured",
        (
            Option("outside", "Outside, over the rib tips"),
            Option("effective", "Effective, as stamped or drawn"),
            Option("pitch", "Pitch, where the cord runs"),
        ),
        "outside",
        measure="For a ribbed PK belt the cord runs 2 mm outside the effective line (ISO 9981). "
        "Taking outside for pitch makes boost look a few per cent too high.",
    ),
    Number(
        "engine_displacement",
        "Engine displacement",
        "displacement",
        "L",
        1.0,
        12.0,
        5.6,
        0.1,
        way_out="Enter all cylinders together.",
    ),
    Number(
        "blower_displacement",
        "Blower displacement per revolution",
        "displacement",
        "L",
        0.3,
        6.0,
        2.6,
        0.1,
        measure="Per revolution of the rotor that the gear ratio below turns.",
        way_out="Enter litres per rotor revolution, from the blower's plate or its maker.",
    ),
    Choice(
        "blower_kind",
        "Blower kind",
        (
            Option("internal", "Compresses inside"),
            Option("plain", "Moves air, no compression inside"),
        ),
        "internal",
    ),
    Number(
        "built_in_ratio",
        "Built-in pressure ratio",
        "ratio",
        "",
        1.0,
        2.0,
        1.3,
        0.05,
        measure="From the maker. 1.2 to 1.5 is usual where there is some. Common practice.",
        way_out="If you don't know it, pick the other blower kind and compare.",
        when=("blower_kind", ("internal",)),
    ),
    Number(
        "gear",
        "Blower's own gear ratio",
        "ratio",
        "",
        0.5,
        3.0,
        1.0,
        0.05,
        measure="Rotor turns for one turn of the pulley; 1 if the pulley is on the rotor.",
        way_out="Turn the pulley once by hand and count.",
    ),
    Number(
        "rotor_limit",
        "Rotor speed limit",
        "rotation",
        "rpm",
        3000.0,
        30000.0,
        14000.0,
        500.0,
        measure="The maker's figure; ours is invented.",
        way_out="Ask the blower's maker.",
    ),
    Number(
        "slip",
        "Belt slip",
        "percent",
        "pct",
        0.0,
        15.0,
        1.0,
        0.5,
        measure="A sound ribbed belt slips about 1 %. Common practice.",
        way_out="More slip than that burns the belt: look at grip and tension.",
    ),
    Number(
        "leakage",
        "Leakage speed of the rotors",
        "rotation",
        "rpm",
        100.0,
        2000.0,
        500.0,
        50.0,
        measure="300 tight and large, 500 usual, 1,200 small or worn. Common practice.",
        way_out="Leave 500 unless you know better.",
    ),
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
    Number(
        "coolant_temperature",
        "Coolant into the charge cooler",
        "temperature",
        "C",
        -10.0,
        90.0,
        40.0,
        5.0,
        measure="Not the outside air: 10 to 20 °C above it once warm. Common practice.",
        way_out="Measure at the charge cooler's inlet after a run.",
    ),
    Number(
        "effectiveness",
        "Charge-cooler effectiveness",
        "percent",
        "pct",
        0.0,
        95.0,
        75.0,
        5.0,
        measure="0 with no cooler; 65 to 85 is usual. Common practice.",
        way_out="100 would cool the charge right down to the coolant; no cooler does.",
    ),
    Number(
        "inlet_depression",
        "Depression at the blower inlet",
        "small_pressure",
        "kPa",
        0.0,
        15.0,
        1.5,
        0.5,
        measure="Filter, pipe and throttle together, at this air flow.",
        way_out="Over 15 kPa look for a blocked filter or too small a throttle.",
    ),
    Number(
        "cooler_drop",
        "Pressure drop over the charge cooler",
        "small_pressure",
        "kPa",
        0.0,
        30.0,
        4.0,
        0.5,
        measure="On the air side, blower outlet to manifold.",
        way_out="Over 30 kPa the cooler is blocked or far too small.",
    ),
)

ANSWERS = (
    Answer(
        "boost",
        "Boost at the manifold",
        "gauge_pressure",
        "kPa",
        {"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=4.0,
        formula="boost = PR · p₁ − cooler drop − outside air, where η_v · X · T_m/T₁ = "
        "η_e · (PR − drop/p₁)",
        filled="{pressure_ratio} × {inlet} − {cooler_drop} − {ambient} = {boost}",
        rank="main",
        note="Good to about 4 kPa once calibrated to a stated rating; without, to about 10.",
    ),
    Answer(
        "rotor_speed",
        "Rotor speed",
        "rotation",
        "rpm",
        {"rpm": 0},
        tolerance=0.1,
        uncertainty=50.0,
        formula="N = drive ratio · engine speed · (1 − slip)",
        filled="{drive_ratio} × {engine_speed} × {grip} = {rotor_speed}",
        band=Band(
            "max",
            "rotor_limit",
            "rotor_near",
            "Rotors {value}, {margin} under the limit.",
            "Rotors {value}, only {margin} under the limit: no room for a missed shift.",
            "Rotors {value}, {margin} over the limit: fit a larger blower pulley.",
        ),
        rank="second",
    ),
    Answer(
        "charge_temperature",
        "Charge temperature",
        "temperature",
        "C",
        {"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=5.0,
        formula="T_m = T₂ − ε (T₂ − T_c)",
        filled="{outlet_temperature} cooled by {effectiveness} of the way to "
        "{coolant_temperature} = {charge_temperature}",
        rank="second",
    ),
    Answer(
        "pulley_for_boost",
        "Pulley for the wanted boost",
        "length",
        "mm",
        {"mm": 1, "in": 2},
        tolerance=0.02,
        uncertainty=2.0,
        formula="drive ratio from η_v · X · T_m/T₁ = η_e · (PR − drop/p₁), leakage inverse to it",
        filled="{crank_pitch} × {gear} ÷ {want_ratio} − {line_allowance} = {pulley_for_boost}",
        rank="second",
        optional=True,
    ),
    Answer(
        "rotor_speed_for_boost",
        "Rotor speed with that pulley",
        "rotation",
        "rpm",
        {"rpm": 0},
        tolerance=0.2,
        uncertainty=200.0,
        formula="N = drive ratio · engine speed · (1 − slip)",
        filled="{want_ratio} × {engine_speed} × {grip} = {rotor_speed_for_boost}",
        band=Band(
            "max",
            "rotor_limit",
            "rotor_near",
            "Rotors {value} with that pulley, {margin} under the limit.",
            "Rotors {value} with that pulley, only {margin} under the limit.",
            "Rotors {value} with that pulley, {margin} over the limit: this boost is too much "
            "for this blower.",
        ),
        optional=True,
    ),
    Answer(
        "pressure_ratio",
        "Pressure ratio across the blower",
        "ratio",
        "",
        {"": 2},
        tolerance=0.001,
        uncertainty=0.04,
        formula="PR = blower outlet ÷ blower inlet, absolute",
        filled="{outlet_pressure} ÷ {inlet} = {pressure_ratio}",
    ),
    Answer(
        "drive_ratio",
        "Rotor turns for one of the engine",
        "ratio",
        "",
        {"": 3},
        tolerance=1e-9,
        uncertainty=0.01,
        formula="r = crank pitch diameter ÷ blower pitch diameter · gear",
        filled="{crank_pitch} ÷ {blower_pitch} × {gear} = {drive_ratio}",
    ),
    Answer(
        "outlet_temperature",
        "Blower outlet temperature",
        "temperature",
        "C",
        {"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=8.0,
        formula="T₂ = T₁ (1 + w (1 + loss) / (η_v · p₁ · γ/(γ−1)))",
        filled="{intake_temperature} × {hot_delivery} ÷ {blower_efficiency} = "
        "{outlet_temperature}, absolute",
    ),
    Answer(
        "air_flow",
        "Air flow",
        "mass_flow",
        "gps",
        {"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=25.0,
        formula="ṁ = η_v · V_b · N · p₁ / (R T₁)",
        filled="{blower_efficiency} × {swept_flow} = {air_flow}",
    ),
    Answer(
        "drive_power",
        "Power to turn the blower",
        "power",
        "kW",
        {"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=5.0,
        formula="P = w (1 + loss) · V_b · N",
        filled="{work} × {swept_flow} × c_p × {intake_temperature}, absolute = {drive_power}",
    ),
    Answer(
        "blower_efficiency",
        "Blower volumetric efficiency",
        "percent",
        "pct",
        {"pct": 0},
        tolerance=0.05,
        uncertainty=4.0,
        formula="η_v = η₀ − (N_L / N) · ψ(PR) · PR",
    ),
    Answer(
        "engine_efficiency_used",
        "Engine volumetric efficiency used",
        "percent",
        "pct",
        {"pct": 1},
        tolerance=0.01,
        uncertainty=5.0,
        formula="η_e as entered, or X · η_v · T_m/T₁ / (PR − drop/p₁) at the stated rating",
    ),
)

LOOKUP = Lookup(
    key="boost",
    title="Boost by pulley",
    short="Boost",
    question="What boost does this pulley give, and how fast do the rotors turn?",
    stage="plan",
    quick=True,
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("crank_pitch", "Crank pitch diameter", "length", "mm", 1),
        Working("blower_pitch", "Blower pitch diameter", "length", "mm", 1),
        Working("line_allowance", "Added to what was measured", "length", "mm", 1),
        Working("grip", "1 − slip"),
        Working("swept_ratio", "Swept ratio X"),
        Working("leak", "Leakage over rotor speed"),
        Working("ambient", "Outside air", "absolute_pressure", "kPa", 1),
        Working("inlet", "Blower inlet p₁", "absolute_pressure", "kPa", 1),
        Working("outlet_pressure", "Blower outlet", "absolute_pressure", "kPa", 1),
        Working("hot_delivery", "η_v · T₂/T₁"),
        Working("cool_delivery", "η_v · T_m/T₁"),
        Working("work", "Shaft work over γ/(γ−1) · p₁V₁"),
        Working("swept_flow", "Air swept, at inlet density", "mass_flow", "gps", 0),
        Working("want_ratio", "Drive ratio for the wanted boost"),
    ),
    views=Views(
        grids=(
            GridView(
                "Boost by pulley and engine speed",
                "boost",
                "blower_pulley",
                SHELF,
                "engine_speed",
                _SPEEDS,
            ),
            GridView(
                "Rotor speed by pulley and engine speed",
                "rotor_speed",
                "blower_pulley",
                SHELF,
                "engine_speed",
                _SPEEDS,
            ),
        ),
        curves=(
            CurveView(
                "Boost against engine speed",
                "boost",
                "engine_speed",
                tuple(1500.0 + 250.0 * n for n in range(25)),
            ),
        ),
    ),
    needs=("shelf",),
    cautions=(
        "The blower maker's rotor limit and pulley list overrule this page.",
        "More boost needs more fuel, a fuel that stands it and a calibration made for it. "
        "Never run a new pulley on an old calibration.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
        "More power can affect road legality, emissions, insurance and brakes: follow local law.",
    ),
    sources=(
        "Balance of air: conservation of mass, four-stroke engine and displacement blower.",
        "Work and temperature with and without internal compression: Rajput, Internal Combustion "
        "Engines, ex. 20.35, and the closed form of fixed internal compression.",
        "Leakage: isentropic orifice, Heywood, Internal Combustion Engine Fundamentals, app. C.",
        "Pitch diameters of PK pulleys: ISO 9981. Rib tips level with the effective line: common "
        "practice.",
        "Outside air from altitude: ISO 2533.",
        "Blower efficiency without pressure 97 %, mechanical loss 5 %: common practice.",
    ),
    leaves_out=(
        "Pulsation and tuning of inlet and exhaust: they move the curve a few kilopascal up and "
        "down over engine speed.",
        "Heat through the blower's case, and fuel sprayed before the blower.",
        "Humidity, and a bypass valve that leaks.",
        "Engine efficiency is taken as the same at every speed.",
    ),
)
