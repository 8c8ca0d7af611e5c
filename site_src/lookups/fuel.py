"""Fuel: injectors, pump and line, and whether they keep up with the air.

Injectors, pump and velocity are products of powers of what was entered. Curved are the blend's
heating value and mixture by volume of ethanol, the friction in the line, and how a pump's flow
follows its voltage.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from calc import fuel as calc
from calc.domain import Real
from site_src.data.fuels import blend_properties, blends, fuels
from site_src.lookups import power
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.direct import Entries, Floats, Limit, first_entered, where_good
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, linear
from site_src.tables.recipe import First, Look, Pick, Product, Sum

ROUGHNESS = 1.5e-6
"""Inside of drawn tube and smooth hose, m. Handbook value."""

SUCTION_VELOCITY, LINE_VELOCITY = calc.LINE_VELOCITY_LIMITS
"""Velocity limits on the suction and on the pressure side, m/s. Common practice."""

NEAR_VELOCITY = 0.8 * LINE_VELOCITY

NEAR_DUTY = 0.05
"""Duty under its limit from which it is near."""

NEAR_SPARE = 0.10
"""Pump flow over the margin asked for from which it is no longer near."""

ROUNDING = 1e-7
"""How far past an end of the pump's curve still counts as its end, as a share of its length."""

TEST_DENSITY = 684.0
"""n-heptane at 20 °C, kg/m³: the liquid that injectors are rated on. SAE J1832."""

BLENDS = (*((key, blend.ethanol) for key, blend in blends().items() if key != "ethanol"),)
"""Fuels that can be picked by name, and their volume fraction of ethanol."""

COUNTS = tuple((str(n), float(n)) for n in (4, 6, 8, 10, 12, 16))
PUMPS = (("1", 1.0), ("2", 2.0), ("3", 3.0))

DIFFERENTIAL = Limit(
    "fuel_differential",
    "pressure across the injectors",
    50e3,
    1.5e6,
    below="Boost leaves under 50 kPa across the injectors: they hardly flow. Raise the rail "
    "pressure, or fit a regulator that follows the manifold.",
)

DUTY = Limit(
    "fuel_duty",
    "share of the cycle in which fuel must flow",
    0.0,
    3.0,
    above="The injectors would have to flow for over three times the time there is. Check power, "
    "injector size and their units.",
)

LINE_LOSS = Limit(
    "fuel_line_loss",
    "pressure loss of the line",
    -1.0,
    100e3,
    above="The line would take over 100 kPa: it is far too thin for this flow. Fit a larger bore.",
)

PUMP_SPAN = Limit(
    "fuel_pump_span",
    "pressure between the two points of the pump's curve",
    100e3,
    1.5e6,
    below="The two points of the pump's curve must be 100 kPa apart or more, the lower pressure "
    "first.",
)

PUMP_FALL = Limit(
    "fuel_pump_fall",
    "flow lost between the two points of the pump's curve",
    # A flat curve is within: the hair by which the recipe keeps inside a limit is 1e-12.
    -2e-12,
    1e-3,
    below="A pump flows less at the higher pressure. Check the two points of its curve.",
)

PUMP_SHARE = Limit(
    "fuel_pump_share",
    "place on the pump's curve",
    # Either end itself is within, whatever rounding makes of it.
    -ROUNDING,
    1.0 + ROUNDING,
    below="The pump works below the first point of its curve. Enter one at a lower pressure.",
    above="The pump has to work past the last point of its curve, where its flow isn't known. "
    "Enter a point at a higher pressure.",
)

PUMP_PLENTY = Limit(
    "fuel_pump_plenty",
    "pump flow over fuel burnt",
    0.0,
    6.0,
    above="The pump gives over six times the fuel that is burnt, so there is no question. Check "
    "power and pump flow, and their units.",
)


# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    ethanol = np.where(g.chosen("fuel") == "blend", g["ethanol"], g.picked("fuel", BLENDS))
    blend = blend_properties(ethanol)
    base = fuels()["gasoline"].lower_heating_value
    bsfc = np.asarray(calc.bsfc_for_fuel(g["bsfc_high"], base, blend.lower_heating_value))
    fuel = first_entered(g["fuel_flow"], np.asarray(calc.fuel_flow(g["power"], bsfc)))
    density, viscosity = np.asarray(blend.density), np.asarray(blend.viscosity)
    volume = np.asarray(calc.pump_flow_needed(fuel, density, 0.0))
    return {
        "fuel_used": fuel,
        "fuel_volume": volume,
        "stoichiometric_ratio": np.asarray(blend.stoichiometric_ratio),
        **_injectors(g, fuel, density, bsfc),
        **_supply(g, fuel, volume, density, viscosity),
    }


def _injectors(g: Entries, fuel: Floats, density: Floats, bsfc: Floats) -> Mapping[str, Floats]:
    """Return what the injectors are asked for; NaN where too little pressure is across them."""
    number, speed, dead = g.picked("injectors", COUNTS), g["engine_speed"], g["dead_time"]
    follows = g.chosen("rail") == "referenced"
    differential = DIFFERENTIAL.keep(
        np.where(
            follows,
            g["rail_pressure"],
            calc.fixed_rail_differential(g["rail_pressure"], g["boost"]),
        )
    )
    rated = np.where(
        g.chosen("injector_rated") == "volume",
        g["injector_flow"],
        g["injector_mass"] / g["test_density"],
    )
    static = where_good(
        np.isfinite(differential),
        calc.injector_mass_flow,
        rated,
        g["test_density"],
        g["rated_pressure"],
        density,
        differential,
    )
    flowing = DUTY.keep(where_good(np.isfinite(static), calc.injector_duty, fuel, number, static))
    known = np.isfinite(flowing)
    allowed = g["duty_limit"] - np.asarray(calc.commanded_duty(0.0, speed, dead))
    needed = np.asarray(calc.injector_flow_needed(fuel, number, allowed))
    size = rated * (needed / static)
    return {
        "duty": where_good(known, calc.commanded_duty, flowing, speed, dead),
        "flow_duty": flowing,
        "pulse_width": where_good(known, calc.pulse_width, flowing, speed, dead),
        "cycle_time": np.asarray(calc.cycle_time(speed)),
        "injector_needed": np.where(known, size, np.nan),
        "injector_mass_needed": np.where(known, size * g["test_density"], np.nan),
        "power_at_limit": where_good(
            np.isfinite(static), calc.power_at_duty, bsfc, number, static, allowed
        ),
        "differential": differential,
        "injector_there": static,
    }


def _supply(
    g: Entries, fuel: Floats, volume: Floats, density: Floats, viscosity: Floats
) -> Mapping[str, Floats]:
    """Return what line and pump are asked for, and what the pump has; NaN off its curve."""
    line_flow = np.asarray(calc.pump_flow_needed(fuel, density, g["pump_margin"]))
    loss = LINE_LOSS.keep(
        np.asarray(
            calc.line_pressure_loss(
                line_flow, g["line_bore"], g["line_length"], density, viscosity, ROUGHNESS
            )
        )
    )
    follows = g.chosen("rail") == "referenced"
    referenced = calc.referenced_rail_pressure(g["rail_pressure"], g["boost"])
    pressure = np.where(follows, referenced, g["rail_pressure"]) + loss
    flow = g.picked("pumps", PUMPS) * _pumped(g, pressure)
    return {
        "pump_needed": line_flow,
        "pump_pressure": pressure,
        "pump_flow": flow,
        "pump_spare": PUMP_PLENTY.keep(flow / volume) - 1.0,
        "line_velocity": np.asarray(calc.line_velocity(line_flow, g["line_bore"])),
        "line_loss": loss,
        "line_bore_needed": np.asarray(calc.line_bore(line_flow, LINE_VELOCITY)),
        "suction_bore_needed": np.asarray(calc.line_bore(line_flow, SUCTION_VELOCITY)),
    }


def _pumped(g: Entries, pressure: Floats) -> Floats:
    """Return one pump's flow at a pressure and at its voltage; NaN off its curve."""
    points = (g["pump_pressure_1"], g["pump_flow_1"], g["pump_pressure_2"], g["pump_flow_2"])
    span, fall = points[2] - points[0], points[1] - points[3]
    on_curve = PUMP_SPAN.holds(span) & PUMP_FALL.holds(fall) & (fall >= 0.0)
    on_curve &= PUMP_SHARE.holds((pressure - points[0]) / span)
    held = np.clip(pressure, points[0], points[2])
    curve = where_good(on_curve, _on_curves, held, *points)
    return where_good(
        on_curve,
        calc.pump_flow_by_voltage_rule,
        curve,
        g["pump_rated_voltage"],
        g["pump_voltage"],
        g["pump_exponent"],
    )


def _on_curves(pressure: Floats, p1: Floats, q1: Floats, p2: Floats, q2: Floats) -> Floats:
    """Return flows at pressures, each on a two-point curve of its own."""
    rows = zip(pressure, p1, q1, p2, q2, strict=True)
    return np.array(
        [
            calc.pump_flow_at_pressure(float(p), np.array([a, b]), np.array([at_a, at_b]))
            for p, a, at_a, b, at_b in rows
        ]
    )


# --- tables ----------------------------------------------------------------------------------


def _density(ethanol: Real) -> Real:
    """Density of a blend."""
    return blend_properties(ethanol).density


def _viscosity(ethanol: Real) -> Real:
    """Viscosity of a blend."""
    return blend_properties(ethanol).viscosity


def _stoichiometric(ethanol: Real) -> Real:
    """Stoichiometric ratio of a blend."""
    return blend_properties(ethanol).stoichiometric_ratio


def _fuel_share(ethanol: Real) -> Real:
    """Mass of a blend that does the work of one of gasoline."""
    base = fuels()["gasoline"].lower_heating_value
    return calc.bsfc_for_fuel(1e-7, base, blend_properties(ethanol).lower_heating_value) / 1e-7


def _drag(reynolds: Real, roughness: Real) -> Real:
    """Friction factor times Reynolds number: flat in laminar flow."""
    return reynolds * calc.darcy_friction_factor(reynolds, roughness)


def _voltage_factor(ratio: Real, exponent: Real) -> Real:
    """Pump flow over rated flow by voltage over rated voltage."""
    rated = np.where(ratio < 1.0, 16.0, 10.0)
    return calc.pump_flow_by_voltage_rule(1e-4, rated, rated * ratio, exponent) / 1e-4


_ETHANOL = ("ethanol", "volume fraction of ethanol", 0.0, 1.0)

TABLES = (
    DIFFERENTIAL.table,
    DUTY.table,
    LINE_LOSS.table,
    PUMP_SPAN.table,
    PUMP_FALL.table,
    PUMP_SHARE.table,
    PUMP_PLENTY.table,
    TableSpec("blend_density", _density, (linear(*_ETHANOL),), tolerance=1e-9, numbers="f8"),
    TableSpec("blend_viscosity", _viscosity, (linear(*_ETHANOL),), tolerance=1e-15, numbers="f8"),
    TableSpec(
        "blend_stoichiometric_ratio",
        _stoichiometric,
        (cubic(*_ETHANOL),),
        tolerance=1e-5,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "blend_fuel_share",
        _fuel_share,
        (cubic(*_ETHANOL),),
        tolerance=1e-6,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "line_drag",
        _drag,
        (
            # No kinks, but the flow changes its law at 2,300, and its scale beyond.
            cubic("reynolds", "Reynolds number", 35.0, 4e5, kinks=(1500.0, 2600.0, 7e3, 5e4)),
            cubic("roughness", "roughness over bore", 5e-5, 4e-4),
        ),
        tolerance=1e-5,
        relative=True,
        numbers="f8",
    ),
    TableSpec(
        "pump_voltage_factor",
        _voltage_factor,
        (
            cubic("ratio", "voltage over rated voltage", 0.5, 1.6),
            cubic("exponent", "exponent", 1.0, 2.5),
        ),
        tolerance=1e-5,
    ),
)


# --- the recipe ------------------------------------------------------------------------------

_PER_VELOCITY = float(calc.line_velocity(1e-4, 0.01)) * 0.01**2 / 1e-4
"""Velocity times bore squared over flow."""


def _bore_per_root(velocity: float) -> float:
    """Return the bore over the root of the flow that a velocity asks for."""
    return float(calc.line_bore(1e-4, velocity)) / 0.01


STEPS = (
    # Fuel.
    Pick("ethanol_share", "fuel", (*BLENDS, ("blend", "ethanol"))),
    Look("density", "blend_density", ("ethanol_share",)),
    Look("viscosity", "blend_viscosity", ("ethanol_share",)),
    Look("stoichiometric_ratio", "blend_stoichiometric_ratio", ("ethanol_share",)),
    Look("fuel_share", "blend_fuel_share", ("ethanol_share",)),
    Product("bsfc", (("bsfc_high", 1.0), ("fuel_share", 1.0))),
    Product("fuel_for_power", (("power", 1.0), ("bsfc", 1.0))),
    First("fuel_used", ("fuel_flow", "fuel_for_power")),
    Product("fuel_volume", (("fuel_used", 1.0), ("density", -1.0))),
    # Injectors.
    Pick("number", "injectors", COUNTS),
    Sum("held_back", (("rail_pressure", 1.0), ("boost", -1.0))),
    Pick("across", "rail", (("referenced", "rail_pressure"), ("fixed", "held_back"))),
    DIFFERENTIAL.look("differential", "across"),
    Product("rated_by_mass", (("injector_mass", 1.0), ("test_density", -1.0))),
    Pick(
        "rated",
        "injector_rated",
        (("volume", "injector_flow"), ("mass", "rated_by_mass")),
    ),
    Product(
        "injector_there",
        (
            ("rated", 1.0),
            ("test_density", 0.5),
            ("density", 0.5),
            ("differential", 0.5),
            ("rated_pressure", -0.5),
        ),
    ),
    Product("open_share", (("fuel_used", 1.0), ("number", -1.0), ("injector_there", -1.0))),
    DUTY.look("flow_duty", "open_share"),
    Product("cycle_time", (("engine_speed", -1.0),), times=float(calc.cycle_time(1.0))),
    Product("dead_share", (("dead_time", 1.0), ("cycle_time", -1.0))),
    Sum("duty", (("flow_duty", 1.0), ("dead_share", 1.0))),
    Product("pulse_width", (("duty", 1.0), ("cycle_time", 1.0))),
    Sum("duty_near", (("duty_limit", 1.0),), plus=-NEAR_DUTY),
    Sum("allowed", (("duty_limit", 1.0), ("dead_share", -1.0))),
    Product("injector_needed", (("rated", 1.0), ("flow_duty", 1.0), ("allowed", -1.0))),
    Product("injector_mass_needed", (("injector_needed", 1.0), ("test_density", 1.0))),
    Product(
        "power_at_limit",
        (("number", 1.0), ("injector_there", 1.0), ("allowed", 1.0), ("bsfc", -1.0)),
    ),
    # Line.
    Sum("with_margin", (("pump_margin", 1.0),), plus=1.0),
    Product("pump_needed", (("fuel_volume", 1.0), ("with_margin", 1.0))),
    Product(
        "line_velocity",
        (("pump_needed", 1.0), ("line_bore", -2.0)),
        times=_PER_VELOCITY,
    ),
    Product("line_bore_needed", (("pump_needed", 0.5),), times=_bore_per_root(LINE_VELOCITY)),
    Product("suction_bore_needed", (("pump_needed", 0.5),), times=_bore_per_root(SUCTION_VELOCITY)),
    Product(
        "reynolds",
        (("density", 1.0), ("line_velocity", 1.0), ("line_bore", 1.0), ("viscosity", -1.0)),
    ),
    Product("roughness", (("line_bore", -1.0),), times=ROUGHNESS),
    Look("drag", "line_drag", ("reynolds", "roughness")),
    Product("friction", (("drag", 1.0), ("reynolds", -1.0))),
    Product(
        "loss",
        (
            ("friction", 1.0),
            ("line_length", 1.0),
            ("line_bore", -1.0),
            ("density", 1.0),
            ("line_velocity", 2.0),
        ),
        times=0.5,
    ),
    LINE_LOSS.look("line_loss", "loss"),
    # Pump.
    Sum("referenced_rail", (("rail_pressure", 1.0), ("boost", 1.0))),
    Pick("rail_gauge", "rail", (("referenced", "referenced_rail"), ("fixed", "rail_pressure"))),
    Sum("pump_pressure", (("rail_gauge", 1.0), ("line_loss", 1.0))),
    Sum("span", (("pump_pressure_2", 1.0), ("pump_pressure_1", -1.0))),
    PUMP_SPAN.look("pump_span", "span"),
    Sum("fall", (("pump_flow_1", 1.0), ("pump_flow_2", -1.0))),
    PUMP_FALL.look("pump_fall", "fall"),
    Sum("past_first", (("pump_pressure", 1.0), ("pump_pressure_1", -1.0))),
    Product("place", (("past_first", 1.0), ("pump_span", -1.0))),
    PUMP_SHARE.look("pump_place", "place"),
    Product("pump_lost", (("pump_place", 1.0), ("pump_fall", 1.0))),
    Sum("pump_curve_flow", (("pump_flow_1", 1.0), ("pump_lost", -1.0))),
    Product("voltage_ratio", (("pump_voltage", 1.0), ("pump_rated_voltage", -1.0))),
    Look("voltage_factor", "pump_voltage_factor", ("voltage_ratio", "pump_exponent")),
    Pick("pump_number", "pumps", PUMPS),
    Product(
        "pump_flow",
        (("pump_number", 1.0), ("pump_curve_flow", 1.0), ("voltage_factor", 1.0)),
    ),
    Product("pump_ratio", (("pump_flow", 1.0), ("fuel_volume", -1.0))),
    PUMP_PLENTY.look("pump_over_need", "pump_ratio"),
    Sum("pump_spare", (("pump_over_need", 1.0),), plus=-1.0),
    Sum("pump_spare_near", (("pump_margin", 1.0),), plus=NEAR_SPARE),
)


# --- the page --------------------------------------------------------------------------------

_BY_VOLUME = ("injector_rated", ("volume",))
_BY_MASS = ("injector_rated", ("mass",))
_SIZES = (450.0, 550.0, 650.0, 750.0, 850.0, 1000.0, 1200.0)
_POINT = "Two points of the maker's curve, both at the rated voltage, one pump alone."

FIELDS = (
    Number(
        "power",
        "Power",
        Scale("power", unit="kW", span=(20, 1200), default=435, step=10),
        measure="At the crankshaft, blower drive already paid for; from the power page.",
        way_out="Enter power at the crankshaft, and look at the unit.",
        first=True,
    ),
    Number(
        "injector_flow",
        "Injector size on its sheet",
        Scale("volume_flow", unit="ccmin", span=(100, 3000), default=750, step=10, stock=_SIZES),
        measure="Static flow of one injector.",
        way_out="Enter one injector, wide open, in the unit of its sheet.",
        first=True,
        when=_BY_VOLUME,
    ),
    Number(
        "injector_mass",
        "Injector size on its sheet",
        Scale("fuel_flow", unit="kgh", span=(5, 140), default=31, step=1),
        measure="Static flow of one injector.",
        way_out="Enter one injector, wide open, in the unit of its sheet.",
        first=True,
        when=_BY_MASS,
    ),
    replace(power.LOOKUP.numbers["boost"], measure="Gauge at the manifold, or the boost page."),
    Choice(
        "fuel",
        "Fuel",
        (
            *(Option(key, blends()[key].name) for key, _ in BLENDS),
            Option("blend", "A blend of my own"),
        ),
        "gasoline",
        first=True,
    ),
    Number(
        "ethanol",
        "Ethanol by volume",
        Scale("percent", unit="pct", span=(0, 100), default=30, step=5),
        measure="Measure what came out of the pump: E85 holds 51 to 83 % with the season.",
        way_out="Enter ethanol as a share of the whole, 0 to 100 %.",
        first=True,
        when=("fuel", ("blend",)),
    ),
    Choice(
        "injectors",
        "Injectors",
        (
            *(Option(key, key) for key, _ in COUNTS if key != "16"),
            Option("16", "16, two for each of eight"),
        ),
        "8",
    ),
    Choice(
        "injector_rated",
        "Injector sheet gives",
        (Option("volume", "Volume, as cm³/min"), Option("mass", "Mass, as lb/h or kg/h")),
        "volume",
    ),
    Number(
        "rated_pressure",
        "Pressure on the injector sheet",
        Scale("gauge_pressure", unit="kPa", span=(200, 600), default=300, step=10),
        measure="Across the injector: mostly 300 kPa, 43.5 psi.",
        way_out="Enter the pressure that the stated flow was measured at.",
    ),
    Number(
        "test_density",
        "Density of the sheet's liquid",
        Scale("density", unit="kgm3", span=(600, 900), default=TEST_DENSITY, step=1),
        measure="684 for n-heptane, which most are rated on; 745 if the sheet says gasoline.",
        way_out="Leave 684 unless the sheet names another liquid.",
    ),
    Choice(
        "rail",
        "Regulator",
        (
            Option("referenced", "Hose to the manifold: rail follows boost"),
            Option("fixed", "No hose: rail pressure stays"),
        ),
        "referenced",
        measure="On a fixed rail boost takes away from the pressure across the injectors.",
    ),
    Number(
        "rail_pressure",
        "Rail pressure, hose off",
        Scale("gauge_pressure", unit="kPa", span=(200, 800), default=300, step=10),
        measure="Gauge on the rail, key on, engine off.",
        way_out="Port injection runs at 250 to 500 kPa; direct injection is not covered here.",
    ),
    replace(
        power.LOOKUP.numbers["engine_speed"],
        measure="Where the power is made.",
        way_out="Enter crankshaft speed.",
        first=False,
    ),
    Number(
        "dead_time",
        "Injector dead time",
        Scale("time", unit="ms", span=(0, 3), default=0.9, step=0.1),
        measure="From its data, at the voltage it will see; 0.7 to 1.2 is usual. Common practice.",
        way_out="Over 3 ms the voltage is too low.",
    ),
    Number(
        "duty_limit",
        "Highest duty",
        Scale("percent", unit="pct", span=(60, 95), default=100 * calc.DUTY_LIMIT, step=1),
        measure="85: above it an injector may no longer close. Common practice.",
        way_out="60 to 95 %; the injector's maker knows best.",
    ),
    replace(
        power.LOOKUP.numbers["bsfc_high"],
        label="Fuel consumption on gasoline, thirsty end",
        measure="395 is 0.65 lb/hp·h, blower drive included. Common practice. Other fuels are "
        "worked out by their heat.",
    ),
    Number(
        "fuel_flow",
        "Fuel flow, if you know it",
        Scale("fuel_flow", unit="kgh", span=(5, 900), default=None, step=5),
        measure="Of this fuel, whole engine. Filled in, it overrules power and consumption.",
        way_out="Leave it empty to work it out from power.",
    ),
    Number(
        "pump_pressure_1",
        "Pump, first point: pressure",
        Scale("gauge_pressure", unit="kPa", span=(0, 800), default=300, step=10),
        measure=_POINT,
        way_out="Take two points that lie on both sides of the pressure the pump works at.",
    ),
    Number(
        "pump_flow_1",
        "Pump, first point: flow",
        Scale("volume_flow", unit="lph", span=(50, 1000), default=350, step=5),
        measure=_POINT,
        way_out="Enter one pump alone, and look at the unit.",
    ),
    Number(
        "pump_pressure_2",
        "Pump, second point: pressure",
        Scale("gauge_pressure", unit="kPa", span=(100, 1200), default=500, step=10),
        measure=_POINT,
        way_out="Take two points that lie on both sides of the pressure the pump works at.",
    ),
    Number(
        "pump_flow_2",
        "Pump, second point: flow",
        Scale("volume_flow", unit="lph", span=(50, 1000), default=290, step=5),
        measure=_POINT,
        way_out="Enter one pump alone, and look at the unit.",
    ),
    Choice(
        "pumps",
        "Pumps side by side",
        (Option("1", "One"), Option("2", "Two"), Option("3", "Three")),
        "1",
    ),
    Number(
        "pump_rated_voltage",
        "Voltage of the pump's curve",
        Scale("voltage", unit="V", span=(10, 16), default=13.5, step=0.5),
        measure="As the maker states it.",
        way_out="Makers state 12 to 14 V.",
    ),
    Number(
        "pump_voltage",
        "Voltage at the pump",
        Scale("voltage", unit="V", span=(8, 16), default=13, step=0.1),
        measure="Meter on the pump's own terminals, running, full load.",
        way_out="Below 8 V look for a bad ground or too thin a wire.",
    ),
    Number(
        "pump_exponent",
        "How strongly flow follows voltage",
        Scale("ratio", unit="", span=(1, 2.5), default=1.5, step=0.1),
        measure="1 in proportion, up to 2.5 near the pump's highest pressure. Common practice.",
        way_out="1 to 2.5; a curve at your voltage needs no such rule.",
    ),
    Number(
        "pump_margin",
        "Margin asked of the pump",
        Scale("percent", unit="pct", span=(0, 60), default=100 * calc.PUMP_MARGIN, step=5),
        measure="20 for heat, wear and a tired battery. Common practice.",
        way_out="0 to 60 %.",
    ),
    Number(
        "line_bore",
        "Bore of the feed line",
        Scale(
            "length",
            unit="mm",
            span=(4, 25),
            default=8,
            step=0.5,
            stock=(6.0, 8.0, 9.5, 12.7, 15.9),
        ),
        measure="Inside, pump to rail, at its narrowest fitting.",
        way_out="Measure inside; a hose's dash size is its nominal bore in sixteenths of an inch.",
    ),
    Number(
        "line_length",
        "Length of the feed line",
        Scale("run", unit="m", span=(0, 20), default=5, step=0.5),
        measure="Add half a metre for each sharp fitting. Common practice.",
        way_out="Up to 20 m.",
    ),
)

_GAUGE = {"kPa": 0, "psi": 1, "bar": 2}
_FLOW = {"lph": 0, "gph": 1, "lpm": 2}

ANSWERS = (
    Answer(
        "duty",
        "Injector duty",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.02,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit="duty_limit",
            near="duty_near",
            within="Injectors at {value}, {margin} under the limit.",
            near_words="Injectors at {value}, only {margin} under the limit: no room for a cold night or a "
            "smaller pulley.",
            beyond="Injectors at {value}, {margin} over the limit: fit larger ones before more boost.",
        ),
        rank="main",
        note="As a log shows it, dead time included.",
    ),
    Answer(
        "injector_needed",
        "Injector size needed",
        of="volume_flow",
        decimals={"ccmin": 0},
        tolerance=0.1,
        uncertainty=40.0,
        rank="second",
        note="On the same sheet: same liquid, same pressure. Or more rail pressure.",
    ),
    Answer(
        "pump_spare",
        "Pump flow to spare",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=10.0,
        band=Band(
            side="min",
            limit="pump_margin",
            near="pump_spare_near",
            within="Pump has {value} to spare, {margin} more than the margin asked for.",
            near_words="Pump has {value} to spare, just {margin} more than the margin asked for: look at "
            "its voltage under load.",
            beyond="Pump has {value} to spare, {margin} short of the margin asked for: a larger pump, a "
            "second one, or better wiring.",
        ),
        rank="second",
    ),
    Answer(
        "pulse_width",
        "Pulse width",
        of="time",
        decimals={"ms": 1},
        tolerance=0.01,
        uncertainty=0.8,
        rank="second",
    ),
    Answer(
        "cycle_time",
        "Time there is for one injection",
        of="time",
        decimals={"ms": 1},
        tolerance=1e-9,
        uncertainty=0.1,
    ),
    Answer(
        "power_at_limit",
        "Power at which the injectors run out",
        of="power",
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=25.0,
    ),
    Answer(
        "differential",
        "Pressure across the injectors",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=1e-6,
        uncertainty=5.0,
    ),
    Answer(
        "injector_there",
        "Flow of one injector there",
        of="fuel_flow",
        decimals={"kgh": 1, "lbh": 1, "gps": 2},
        tolerance=0.001,
        uncertainty=1.0,
    ),
    Answer(
        "injector_mass_needed",
        "Injector size needed, by mass",
        of="fuel_flow",
        unit="kgh",
        decimals={"lbh": 0, "kgh": 1},
        tolerance=0.01,
        uncertainty=2.0,
    ),
    Answer(
        "flow_duty",
        "Share of the cycle in which fuel flows",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.02,
        uncertainty=5.0,
    ),
    Answer(
        "fuel_used",
        "Fuel flow, whole engine",
        of="fuel_flow",
        decimals={"kgh": 0, "lbh": 0, "gps": 1},
        tolerance=0.01,
        uncertainty=8.0,
    ),
    Answer(
        "fuel_volume",
        "Fuel flow by volume",
        of="volume_flow",
        decimals=_FLOW,
        tolerance=0.02,
        uncertainty=10.0,
    ),
    Answer(
        "pump_needed",
        "Pump flow needed, with margin",
        of="volume_flow",
        decimals=_FLOW,
        tolerance=0.02,
        uncertainty=10.0,
    ),
    Answer(
        "pump_flow",
        "Pump flow there",
        of="volume_flow",
        decimals=_FLOW,
        tolerance=0.05,
        uncertainty=30.0,
    ),
    Answer(
        "pump_pressure",
        "Pressure the pump works against",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.01,
        uncertainty=10.0,
    ),
    Answer(
        "line_velocity",
        "Velocity in the feed line",
        of="speed",
        decimals={"mps": 1, "fps": 1},
        tolerance=0.005,
        uncertainty=0.2,
        band=Band(
            side="max",
            limit=LINE_VELOCITY,
            near=NEAR_VELOCITY,
            within="Fuel in the feed line at {value}, {margin} under the limit.",
            near_words="Fuel in the feed line at {value}, only {margin} under the limit.",
            beyond="Fuel in the feed line at {value}, {margin} over the limit: fit a larger bore.",
        ),
        note="3 m/s is common practice. With a return line it carries all that the pump pumps.",
    ),
    Answer(
        "line_loss",
        "Loss of the feed line",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.01,
        uncertainty=3.0,
    ),
    Answer(
        "line_bore_needed",
        "Smallest bore of the feed line",
        of="length",
        decimals={"mm": 1, "in": 2},
        tolerance=0.005,
        uncertainty=0.5,
    ),
    Answer(
        "suction_bore_needed",
        "Smallest bore before the pump",
        of="length",
        decimals={"mm": 1, "in": 2},
        tolerance=0.005,
        uncertainty=0.5,
        note="A pump that has to suck makes vapour: keep it low and its inlet flooded.",
    ),
    Answer(
        "stoichiometric_ratio",
        "Air to fuel with none left over",
        of="ratio",
        decimals={"": 2},
        tolerance=0.001,
        uncertainty=0.1,
    ),
)

LOOKUP = Lookup(
    key="fuel",
    title="Fuel supply",
    short="Fuel",
    question="Do injectors, pump and line keep up with this power?",
    stage="feed",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("ethanol_share", "Ethanol by volume", of="percent", unit="pct", decimals=0),
        Working("density", "Density of the fuel", of="density", unit="kgm3", decimals=0),
        Working("bsfc", "Consumption on this fuel", of="fuel_use", unit="gkwh", decimals=0),
        Working("fuel_for_power", "Fuel for the power", of="fuel_flow", unit="kgh", decimals=0),
        Working("number", "Injectors", decimals=0),
        Working("rated", "Size on the sheet", of="volume_flow", unit="ccmin", decimals=0),
        Working("dead_share", "Dead time as a share", of="percent", unit="pct", decimals=1),
        Working("allowed", "Share that may flow", of="percent", unit="pct", decimals=1),
        Working("with_margin", "1 + margin", decimals=2),
        Working("reynolds", "Reynolds number in the line", decimals=0),
        Working("friction", "Friction factor", decimals=4),
        Working(
            "rail_gauge", "Rail pressure at this boost", of="gauge_pressure", unit="kPa", decimals=0
        ),
        Working(
            "pump_curve_flow",
            "Flow of one pump on its curve",
            of="volume_flow",
            unit="lph",
            decimals=0,
        ),
        Working("voltage_factor", "Share that the voltage leaves"),
        Working("pump_number", "Pumps", decimals=0),
    ),
    views=Views(
        grids=(
            GridView(
                "Injector duty by size and power",
                "duty",
                "injector_flow",
                _SIZES,
                "power",
                (300.0, 350.0, 400.0, 450.0, 500.0, 550.0),
            ),
            GridView(
                "By fuel",
                "duty",
                "fuel",
                tuple(key for key, _ in BLENDS),
                also=("injector_needed", "pump_spare", "fuel_volume", "stoichiometric_ratio"),
            ),
        ),
        curves=(
            CurveView(
                "Injector duty against power",
                "duty",
                "power",
                tuple(200.0 + 25.0 * n for n in range(17)),
            ),
            CurveView(
                "Pump flow to spare against boost",
                "pump_spare",
                "boost",
                tuple(10.0 * n for n in range(13)),
            ),
        ),
    ),
    cautions=(
        "Fuel under pressure sprays and burns. Let the rail down before opening it, work cold, "
        "no flame or spark, extinguisher in reach.",
        "Leak-check at full rail pressure, engine off, before the first crank. Lines away from "
        "exhaust and belts, sleeved where they cross, with hose that the fuel allows.",
        "Lean under boost melts pistons. When injectors or pump run out, so does the mixture: "
        "size for the worst day, and have fuel pressure logged and alarmed.",
        "Ethanol attacks some hoses, seals and metals: every part in the line must be rated "
        "for it.",
        "The makers' own flow curves overrule this page, and local law rules on fuel systems.",
    ),
    sources=(
        "Injectors: Bernoulli with a constant discharge coefficient; pulse width and dead time, "
        "SAE J1832.",
        "Fuels and blends: US Department of Energy, properties of fuels; blended by mass.",
        "Mixture: Heywood, Internal Combustion Engine Fundamentals, ch. 3.",
        "Line: Darcy-Weisbach with Churchill's friction factor (1977), smooth tube of 1.5 µm.",
        "Duty 85 %, pump margin 20 %, 1.5 and 3 m/s, flow by voltage: common practice.",
    ),
    leaves_out=(
        "Pressure waves in the rail, hot fuel and vapour.",
        "Injectors near the ends of their stroke: above the duty limit they no longer follow.",
        "What fuel does in the port, and cold start enrichment.",
        "Direct injection.",
        "The brake efficiency is taken as the same on every fuel; alcohols often do a little "
        "better.",
    ),
)
