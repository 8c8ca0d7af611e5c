"""Fuel: injectors, pump and line, and whether they keep up with the air.

Nearly all of it is arithmetic, the properties of a blend included. Curved are only the friction in
the line and how a pump's flow follows its voltage.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from calc import fuel as calc
from calc.domain import Real
from site_src.data.fuels import blend_properties, blends, fuels
from site_src.lookups import power
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated, within

ROUGHNESS = 1.5e-6
"""Inside of drawn tube and smooth hose, m. Handbook value."""

SUCTION_VELOCITY, LINE_VELOCITY = calc.LINE_VELOCITY_LIMITS
"""Velocity limits on the suction and on the pressure side, m/s. Common practice."""

NEAR_VELOCITY = 0.8 * LINE_VELOCITY

NEAR_DUTY = 0.05
"""Duty under its limit from which it is near."""

NEAR_SPARE = 0.10
"""Pump flow over the margin asked for from which it is no longer near."""

LEAST_DIFFERENTIAL, LEAST_SPAN, MOST_LINE_LOSS = 50e3, 100e3, 100e3
"""Pressures that the page stops at, Pa: across the injectors, between the two points of the pump's
curve, and lost in the line."""

MOST_DUTY = 3.0
"""Share of the cycle in which fuel would have to flow, above which the entries are mistaken."""

MOST_PLENTY = 6.0
"""Pump flow over fuel burnt above which there is no question."""

ROUNDING = 1e-7
"""How far past an end of the pump's curve still counts as its end, as a share of its length."""

HAIR = 1e-4
"""The tables' error in the line's loss and in the pump's flow is below this share of each."""

TEST_DENSITY = 684.0
"""n-heptane at 20 °C, kg/m³: the liquid that injectors are rated on. SAE J1832."""

BLENDS = {key: blend.ethanol for key, blend in blends().items() if key != "ethanol"}
"""Fuels that can be picked by name, and their volume fraction of ethanol."""

COUNTS = {str(n): float(n) for n in (4, 6, 8, 10, 12, 16)}
PUMPS = {"1": 1.0, "2": 2.0, "3": 3.0}

_HELD_BACK = (
    "Boost leaves under 50 kPa across the injectors: they hardly flow. Raise the rail "
    "pressure, or fit a regulator that follows the manifold."
)
_HOPELESS = (
    "The injectors would have to flow for over three times the time there is. Check power, "
    "injector size and their units."
)
_THIN_LINE = (
    "The line would take over 100 kPa: it is far too thin for this flow. Fit a larger bore."
)
_SHORT_CURVE = (
    "The two points of the pump's curve must be 100 kPa apart or more, the lower pressure first."
)
_RISING_CURVE = "A pump flows less at the higher pressure. Check the two points of its curve."
_BEFORE_CURVE = "The pump works below the first point of its curve. Enter one at a lower pressure."
_PAST_CURVE = (
    "The pump has to work past the last point of its curve, where its flow isn't known. "
    "Enter a point at a higher pressure."
)
_PLENTY = (
    "The pump gives over six times the fuel that is burnt, so there is no question. Check "
    "power and pump flow, and their units."
)


# --- tables ----------------------------------------------------------------------------------


def _drag(reynolds: Real, roughness: Real) -> Real:
    """Friction factor times Reynolds number: flat in laminar flow."""
    return reynolds * calc.darcy_friction_factor(reynolds, roughness)


DRAG = tabulated(
    "friction_times_reynolds",
    _drag,
    # No kinks, but the flow changes its law at 2,300, and its scale beyond.
    cubic("reynolds", "Reynolds number", 35.0, 4e5, kinks=(1500.0, 2600.0, 7e3, 5e4)),
    cubic("roughness", "roughness over bore", 5e-5, 4e-4),
    tolerance=1e-5,
    relative=True,
    by=(calc.darcy_friction_factor,),
)
VOLTAGE_FACTOR = tabulated(
    "pump_voltage_factor",
    calc.pump_voltage_factor,
    cubic("ratio", "voltage over rated voltage", 0.5, 1.6),
    cubic("exponent", "exponent", 1.0, 2.5),
    tolerance=1e-5,
    numbers="f4",
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what is burnt, and what that asks of injectors, line and pump."""
    found = _burnt(e)
    found |= _injectors(e, found)
    found |= _line(e, found)
    return found | _pump(e, found)


def _burnt(e: Entries) -> dict[str, Real]:
    """Work out the fuel and how much of it is burnt."""
    ethanol = e.pick("fuel", {**BLENDS, "blend": e["ethanol"]})
    blend = blend_properties(ethanol)
    gasoline = fuels()["gasoline"].lower_heating_value
    bsfc = calc.bsfc_for_fuel(e["bsfc_high"], gasoline, blend.lower_heating_value)
    for_power = calc.fuel_flow(e["power"], bsfc)
    used = e.entered_or("fuel_flow", for_power)
    return {
        "ethanol_share": ethanol,
        "ethanol_mass": blend.ethanol_mass,
        "density": blend.density,
        "viscosity": blend.viscosity,
        "heat": blend.lower_heating_value,
        "stoichiometric_ratio": blend.stoichiometric_ratio,
        "bsfc": bsfc,
        "fuel_for_power": for_power,
        "fuel_used": used,
        "fuel_volume": calc.fuel_volume_flow(used, blend.density),
    }


def _injectors(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the injectors are asked for."""
    number, speed, dead_time = e.pick("injectors", COUNTS), e["engine_speed"], e["dead_time"]
    held_back = calc.fixed_rail_differential(e["rail_pressure"], e["boost"])
    differential = e.pick("rail", {"referenced": e["rail_pressure"], "fixed": held_back})
    differential = within(differential, LEAST_DIFFERENTIAL, None, below=_HELD_BACK)
    by_mass = e["injector_mass"] / e["test_density"]
    rated = e.pick("injector_rated", {"volume": e["injector_flow"], "mass": by_mass})
    there = calc.injector_mass_flow(
        rated, e["test_density"], e["rated_pressure"], f["density"], differential
    )
    flowing = calc.injector_duty(f["fuel_used"], number, there)
    flowing = within(flowing, None, MOST_DUTY, above=_HOPELESS)
    dead = calc.dead_time_share(speed, dead_time)
    allowed = e["duty_limit"] - dead
    needed = calc.injector_size_needed(rated, flowing, allowed)
    return {
        "number": number,
        "differential": differential,
        "rated": rated,
        "injector_there": there,
        "flow_duty": flowing,
        "cycle_time": calc.cycle_time(speed),
        "pulse_width": calc.pulse_width(flowing, speed, dead_time),
        "duty": calc.commanded_duty(flowing, speed, dead_time),
        "duty_near": e["duty_limit"] - NEAR_DUTY,
        "dead_share": dead,
        "allowed": allowed,
        "injector_needed": needed,
        "injector_mass_needed": needed * e["test_density"],
        "power_at_limit": calc.power_at_duty(f["bsfc"], number, there, allowed),
    }


def _line(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the line is asked for, at the flow that the pump should have."""
    flow, bore = calc.pump_flow_needed(f["fuel_volume"], e["pump_margin"]), e["line_bore"]
    velocity = calc.line_velocity(flow, bore)
    reynolds = calc.line_reynolds(flow, bore, f["density"], f["viscosity"])
    friction = DRAG(reynolds, ROUGHNESS / bore) / reynolds
    loss = calc.line_pressure_loss(friction, e["line_length"], bore, f["density"], velocity)
    return {
        "pump_needed": flow,
        "line_velocity": velocity,
        "reynolds": reynolds,
        "friction": friction,
        "line_loss": within(loss, None, MOST_LINE_LOSS, above=_THIN_LINE, hair=HAIR),
        "line_bore_needed": calc.line_bore(flow, LINE_VELOCITY),
        "suction_bore_needed": calc.line_bore(flow, SUCTION_VELOCITY),
    }


def _pump(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the pump works against and what it gives there."""
    following = calc.referenced_rail_pressure(e["rail_pressure"], e["boost"])
    rail = e.pick("rail", {"referenced": following, "fixed": e["rail_pressure"]})
    pressure = rail + f["line_loss"]
    place = _place(e, pressure)
    on_curve = calc.pump_flow_on_curve(place, e["pump_flow_1"], _second_flow(e))
    factor = VOLTAGE_FACTOR(e["pump_voltage"] / e["pump_rated_voltage"], e["pump_exponent"])
    number = e.pick("pumps", PUMPS)
    flow = number * on_curve * factor
    plenty = within(flow / f["fuel_volume"], None, MOST_PLENTY, above=_PLENTY, hair=HAIR)
    return {
        "rail_gauge": rail,
        "pump_pressure": pressure,
        "pump_place": place,
        "pump_curve_flow": on_curve,
        "voltage_factor": factor,
        "pump_number": number,
        "pump_flow": flow,
        "pump_spare": plenty - 1.0,
        "pump_spare_near": e["pump_margin"] + NEAR_SPARE,
    }


def _place(e: Entries, pressure: Real) -> Real:
    """Return where a pressure lies between the two points of the pump's curve."""
    first, second = e["pump_pressure_1"], e["pump_pressure_2"]
    second = within(second - first, LEAST_SPAN, None, below=_SHORT_CURVE, gives=second)
    place = calc.pump_curve_share(pressure, first, second)
    return within(
        place, -ROUNDING, 1.0 + ROUNDING, below=_BEFORE_CURVE, above=_PAST_CURVE, hair=HAIR
    )


def _second_flow(e: Entries) -> Real:
    """Return the flow at the second point of the pump's curve, if it is the lower one."""
    first, second = e["pump_flow_1"], e["pump_flow_2"]
    return within(first - second, 0.0, None, below=_RISING_CURVE, gives=second)


# --- the page --------------------------------------------------------------------------------

_BY_VOLUME = ("injector_rated", ("volume",))
_BY_MASS = ("injector_rated", ("mass",))
_SIZES = (450.0, 550.0, 650.0, 750.0, 850.0, 1000.0, 1200.0)
_CURVE_PRESSURE = Scale("gauge_pressure", unit="kPa", span=(0, 800), default=300, step=10)


def _point(number: int, which: str, pressure: Scale, flow: float) -> tuple[Number, Number]:
    """Return the entries of one of the two points of the pump's curve."""
    measure = "Two points of the maker's curve, both at the rated voltage, one pump alone."
    return (
        Number(
            f"pump_pressure_{number}",
            f"Pump, {which} point: pressure",
            pressure,
            measure=measure,
            way_out="Take two points that lie on both sides of the pressure the pump works at.",
            sign=f"p_{number}",
        ),
        Number(
            f"pump_flow_{number}",
            f"Pump, {which} point: flow",
            Scale("volume_flow", unit="lph", span=(50, 1000), default=flow, step=5),
            measure=measure,
            way_out="Enter one pump alone, and look at the unit.",
            sign=f"Q_{number}",
        ),
    )


FIELDS = (
    Number(
        "power",
        "Power",
        Scale("power", unit="kW", span=(20, 1200), default=435, step=10),
        sign="P",
        measure="At the crankshaft, blower drive already paid for; from the power page.",
        way_out="Enter power at the crankshaft, and look at the unit.",
        first=True,
    ),
    Number(
        "injector_flow",
        "Injector size on its sheet",
        Scale("volume_flow", unit="ccmin", span=(100, 3000), default=750, step=10, stock=_SIZES),
        sign="Q_sheet",
        measure="Static flow of one injector.",
        way_out="Enter one injector, wide open, in the unit of its sheet.",
        first=True,
        when=_BY_VOLUME,
    ),
    Number(
        "injector_mass",
        "Injector size on its sheet",
        Scale("fuel_flow", unit="kgh", span=(5, 140), default=31, step=1),
        sign="ṁ_sheet",
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
            *(Option(key, blends()[key].name) for key in BLENDS),
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
            *(Option(key, key) for key in COUNTS if key != "16"),
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
        sign="p_sheet",
        measure="Across the injector: mostly 300 kPa, 43.5 psi.",
        way_out="Enter the pressure that the stated flow was measured at.",
    ),
    Number(
        "test_density",
        "Density of the sheet's liquid",
        Scale("density", unit="kgm3", span=(600, 900), default=TEST_DENSITY, step=1),
        sign="ρ_sheet",
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
        sign="p_rail",
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
        sign="BSFC_gasoline",
        measure="395 is 0.65 lb/hp·h, blower drive included. Common practice. Other fuels are "
        "worked out by their heat.",
    ),
    Number(
        "fuel_flow",
        "Fuel flow, if you know it",
        Scale("fuel_flow", unit="kgh", span=(5, 900), default=None, step=5),
        sign="ṁ_entered",
        measure="Of this fuel, whole engine. Filled in, it overrules power and consumption.",
        way_out="Leave it empty to work it out from power.",
    ),
    *_point(1, "first", _CURVE_PRESSURE, 350),
    *_point(2, "second", replace(_CURVE_PRESSURE, span=(100, 1200), default=500), 290),
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
        sign="D",
        measure="Inside, pump to rail, at its narrowest fitting.",
        way_out="Measure inside; a hose's dash size is its nominal bore in sixteenths of an inch.",
    ),
    Number(
        "line_length",
        "Length of the feed line",
        Scale("run", unit="m", span=(0, 20), default=5, step=0.5),
        sign="L",
        measure="Add half a metre for each sharp fitting. Common practice.",
        way_out="Up to 20 m.",
    ),
)

_DECIMALS = {
    "fuel_flow": {"kgh": 1, "lbh": 1, "gps": 2},
    "gauge_pressure": {"kPa": 0, "psi": 1, "bar": 2},
    "length": {"mm": 1, "in": 2},
    "percent": {"pct": 0},
    "power": {"kW": 0, "hp": 0},
    "ratio": {"": 2},
    "speed": {"mps": 1, "fps": 1},
    "time": {"ms": 1},
    "volume_flow": {"lph": 0, "gph": 1, "lpm": 2},
}
"""The digits of an answer by its quantity, where it is not given others."""


def _answer(
    key: str,
    label: str,
    of: str,
    tolerance: float,
    uncertainty: float,
    *by: Callable[..., Real],
    sign: str = "",
    rank: str = "more",
) -> Answer:
    """Return an answer."""
    return Answer(
        key,
        label,
        of=of,
        decimals=_DECIMALS[of],
        tolerance=tolerance,
        uncertainty=uncertainty,
        sign=sign,
        rank=rank,
        by=by,
    )


ANSWERS = (
    replace(
        _answer("duty", "Injector duty", "percent", 0.02, 5.0, calc.commanded_duty, rank="main"),
        note="As a log shows it, dead time included.",
        band=Band(
            side="max",
            limit="duty_limit",
            near="duty_near",
            within="Injectors at {value}, {margin} under the limit.",
            near_words="Injectors at {value}, only {margin} under the limit: no room for a cold "
            "night or a smaller pulley.",
            beyond="Injectors at {value}, {margin} over the limit: fit larger ones before more "
            "boost.",
        ),
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
        by=(calc.injector_size_needed,),
    ),
    replace(
        _answer("pump_spare", "Pump flow to spare", "percent", 0.05, 10.0, rank="second"),
        band=Band(
            side="min",
            limit="pump_margin",
            near="pump_spare_near",
            within="Pump has {value} to spare, {margin} more than the margin asked for.",
            near_words="Pump has {value} to spare, just {margin} more than the margin asked for: "
            "look at its voltage under load.",
            beyond="Pump has {value} to spare, {margin} short of the margin asked for: a larger "
            "pump, a second one, or better wiring.",
        ),
    ),
    _answer("pulse_width", "Pulse width", "time", 0.01, 0.8, calc.pulse_width, rank="second"),
    _answer("cycle_time", "Time there is for one injection", "time", 1e-9, 0.1, calc.cycle_time),
    _answer(
        "power_at_limit",
        "Power at which the injectors run out",
        "power",
        0.05,
        25.0,
        calc.power_at_duty,
    ),
    _answer(
        "differential",
        "Pressure across the injectors",
        "gauge_pressure",
        1e-6,
        5.0,
        calc.fixed_rail_differential,
        sign="Δp",
    ),
    _answer(
        "injector_there",
        "Flow of one injector there",
        "fuel_flow",
        0.001,
        1.0,
        calc.injector_mass_flow,
    ),
    replace(
        _answer("injector_mass_needed", "Injector size needed, by mass", "fuel_flow", 0.01, 2.0),
        unit="kgh",
        decimals={"lbh": 0, "kgh": 1},
    ),
    replace(
        _answer(
            "flow_duty",
            "Share of the cycle in which fuel flows",
            "percent",
            0.02,
            5.0,
            calc.injector_duty,
        ),
        decimals={"pct": 1},
    ),
    replace(
        _answer("fuel_used", "Fuel flow, whole engine", "fuel_flow", 0.01, 8.0, sign="ṁ"),
        decimals={"kgh": 0, "lbh": 0, "gps": 1},
    ),
    _answer("fuel_volume", "Fuel flow by volume", "volume_flow", 0.02, 10.0, calc.fuel_volume_flow),
    _answer(
        "pump_needed",
        "Pump flow needed, with margin",
        "volume_flow",
        0.02,
        10.0,
        calc.pump_flow_needed,
        sign="Q",
    ),
    _answer("pump_flow", "Pump flow there", "volume_flow", 0.05, 30.0),
    _answer("pump_pressure", "Pressure the pump works against", "gauge_pressure", 0.01, 10.0),
    replace(
        _answer(
            "line_velocity",
            "Velocity in the feed line",
            "speed",
            0.005,
            0.2,
            calc.line_velocity,
            sign="v",
        ),
        note="3 m/s is common practice. With a return line it carries all that the pump pumps.",
        band=Band(
            side="max",
            limit=LINE_VELOCITY,
            near=NEAR_VELOCITY,
            within="Fuel in the feed line at {value}, {margin} under the limit.",
            near_words="Fuel in the feed line at {value}, only {margin} under the limit.",
            beyond="Fuel in the feed line at {value}, {margin} over the limit: fit a larger bore.",
        ),
    ),
    _answer(
        "line_loss", "Loss of the feed line", "gauge_pressure", 0.01, 3.0, calc.line_pressure_loss
    ),
    _answer(
        "line_bore_needed", "Smallest bore of the feed line", "length", 0.005, 0.5, calc.line_bore
    ),
    replace(
        _answer(
            "suction_bore_needed",
            "Smallest bore before the pump",
            "length",
            0.005,
            0.5,
            calc.line_bore,
        ),
        note="A pump that has to suck makes vapour: keep it low and its inlet flooded.",
    ),
    _answer(
        "stoichiometric_ratio",
        "Air to fuel with none left over",
        "ratio",
        0.001,
        0.1,
        calc.blend_stoichiometric_ratio,
    ),
)

_UNITS = {
    "density": "kgm3",
    "fuel_flow": "kgh",
    "fuel_use": "gkwh",
    "gauge_pressure": "kPa",
    "percent": "pct",
    "ratio": "",
    "specific_energy": "MJpkg",
    "viscosity": "mPas",
    "volume_flow": "lph",
}
"""The unit of each quantity on the way."""


def _on(
    key: str, label: str, of: str, decimals: int, sign: str = "", *by: Callable[..., Real]
) -> Working:
    """Return a value on the way."""
    return Working(key, label, of=of, unit=_UNITS[of], decimals=decimals, sign=sign, by=by)


WORKINGS = (
    _on("ethanol_share", "Ethanol by volume", "percent", 0, "x"),
    _on("ethanol_mass", "Ethanol by mass", "percent", 1, "m", calc.blend_mass_fraction),
    _on("density", "Density of the fuel", "density", 0, "ρ", calc.blend_density),
    _on("viscosity", "Viscosity of the fuel", "viscosity", 2, "μ", calc.blend_viscosity_bound),
    _on("heat", "Heat of the fuel", "specific_energy", 2, "H", calc.blend_heating_value),
    _on("bsfc", "Consumption on this fuel", "fuel_use", 0, "BSFC", calc.bsfc_for_fuel),
    _on("fuel_for_power", "Fuel for the power", "fuel_flow", 0, "", calc.fuel_flow),
    _on("number", "Injectors", "ratio", 0),
    replace(_on("rated", "Size on the sheet", "volume_flow", 0), unit="ccmin"),
    _on("dead_share", "Dead time as a share", "percent", 1, "", calc.dead_time_share),
    _on("allowed", "Share that may flow", "percent", 1),
    _on("reynolds", "Reynolds number in the line", "ratio", 0, "Re", calc.line_reynolds),
    _on("friction", "Friction factor", "ratio", 4, "f"),
    _on(
        "rail_gauge",
        "Rail pressure at this boost",
        "gauge_pressure",
        0,
        "",
        calc.referenced_rail_pressure,
    ),
    _on("pump_place", "Place on the pump's curve", "ratio", 3, "", calc.pump_curve_share),
    _on(
        "pump_curve_flow",
        "Flow of one pump on its curve",
        "volume_flow",
        0,
        "",
        calc.pump_flow_on_curve,
    ),
    _on("voltage_factor", "Share that the voltage leaves", "ratio", 3),
    _on("pump_number", "Pumps", "ratio", 0),
)

LOOKUP = Lookup(
    key="fuel",
    title="Fuel supply",
    short="Fuel",
    question="Do injectors, pump and line keep up with this power?",
    stage="feed",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
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
                tuple(BLENDS),
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
