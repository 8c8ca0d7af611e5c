"""Fuel: injectors, pump and line, and whether they keep up with the air.

Nearly all of it is arithmetic, the properties of a blend included. Curved are only the friction in
the line and how a pump's flow follows its voltage.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from calc import fuel as calc
from calc import pipes
from calc.domain import Real
from site_src.lookups import mixture, piping, wire
from site_src.lookups.fuel_fields import (
    COUNTS,
    DASHES,
    FIELDS,
    GASOLINE_DENSITY,
    PUMPS,
    SIZES,
    TEST_DENSITY,
    inside,
)
from site_src.model.answers import Answer, Band, ChartView, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.trace import Refusal, within

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

_HELD_BACK = (
    "Boost leaves under [50 kPa|7.3 psi] across the injectors: they hardly flow. Raise the rail "
    "pressure, or fit a regulator that follows the manifold."
)
_HOPELESS = (
    "The injectors would have to flow for over three times the time there is. Check power, "
    "injector size and their units."
)
_KNOWN = "The fuel flow is known here: how thirsty the engine is plays no part in it."
_THIN_LINE = (
    "The line would take over [100 kPa|15 psi]: it is far too thin for this flow. Fit a larger "
    "bore."
)
_SHORT_CURVE = (
    "The two points of the pump's curve must be [100 kPa|15 psi] apart or more, the lower pressure "
    "first."
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


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what is burnt, and what that asks of injectors, line and pump."""
    found = _burnt(e)
    found |= _injectors(e, found)
    found |= _line(e, found)
    return found | _pump(e, found)


def _burnt(e: Entries) -> dict[str, Real]:
    """Work out the fuel and how much of it is burnt."""
    fuel = mixture.chosen_fuel(e)
    found = mixture.mixture(e, fuel)
    found |= mixture.consumption(e, fuel, found["lambda_used"])
    for_power = calc.fuel_flow(e["power"], found["bsfc"])
    for_air = calc.fuel_flow_for_air(e["air_flow"], found["air_fuel_ratio"])
    used = e.entered_or("fuel_flow", e.if_entered("air_flow", for_air, for_power))
    return found | {
        "ethanol_share": mixture.ethanol_share(e),
        "ethanol_mass": fuel.ethanol_mass,
        "density": fuel.density,
        "viscosity": fuel.viscosity,
        "heat": fuel.lower_heating_value,
        "stoichiometric_ratio": fuel.stoichiometric_ratio,
        "fuel_for_power": for_power,
        "fuel_used": used,
        "fuel_volume": calc.fuel_volume_flow(used, fuel.density),
    }


def _injectors(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the injectors are asked for."""
    number, speed, dead_time = e.pick("injectors", COUNTS), e["engine_speed"], e["dead_time"]
    held_back = calc.fixed_rail_differential(e["rail_pressure"], e["boost"])
    differential = e.pick("rail", {"referenced": e["rail_pressure"], "fixed": held_back})
    differential = within(differential, LEAST_DIFFERENTIAL, None, below=_HELD_BACK)
    sheet = e.pick(
        "sheet_liquid",
        {"test": TEST_DENSITY, "gasoline": GASOLINE_DENSITY, "other": e["test_density"]},
    )
    by_mass = e["injector_mass"] / sheet
    rated = e.pick("injector_rated", {"volume": e["injector_flow"], "mass": by_mass})
    there = calc.injector_mass_flow(rated, sheet, e["rated_pressure"], f["density"], differential)
    flowing = calc.injector_duty(f["fuel_used"], number, there)
    flowing = within(flowing, None, MOST_DUTY, above=_HOPELESS)
    thirsty = calc.injector_duty(calc.fuel_flow(e["power"], f["bsfc_thirsty"]), number, there)
    thirsty = within(thirsty, None, MOST_DUTY, above=_HOPELESS)
    dead = calc.dead_time_share(speed, dead_time)
    allowed = e["duty_limit"] - dead
    needed = calc.injector_size_needed(rated, flowing, allowed)
    return {
        "number": number,
        "differential": differential,
        "sheet_density": sheet,
        "rated": rated,
        "injector_there": there,
        "flow_duty": flowing,
        "cycle_time": calc.cycle_time(speed),
        "pulse_width": calc.pulse_width(flowing, speed, dead_time),
        "duty": calc.commanded_duty(flowing, speed, dead_time),
        "duty_near": e["duty_limit"] - NEAR_DUTY,
        "duty_thirsty": _thirsty(e, calc.commanded_duty(thirsty, speed, dead_time)),
        "dead_share": dead,
        "allowed": allowed,
        "injector_needed": needed,
        "injector_mass_needed": needed * sheet,
        "power_at_limit": calc.power_at_duty(f["bsfc"], number, there, allowed),
    }


def _thirsty(e: Entries, duty: Real) -> Real:
    """Return a duty at the thirsty end, where the fuel is worked out from power."""
    known = Refusal(_KNOWN)
    return e.if_entered("fuel_flow", known, e.if_entered("air_flow", known, duty))


def _line(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the line is asked for, at the flow that the pump should have."""
    flow = calc.pump_flow_needed(f["fuel_volume"], e["pump_margin"])
    bore = e.pick("line_size", {**DASHES, "bore": e["line_bore"]})
    velocity = pipes.line_velocity(flow, bore)
    reynolds = pipes.line_reynolds(flow, bore, f["density"], f["viscosity"])
    friction = piping.friction(reynolds, bore)
    loss = pipes.line_pressure_loss(friction, e["line_length"], bore, f["density"], velocity)
    return {
        "pump_needed": flow,
        "bore": bore,
        "line_velocity": velocity,
        "reynolds": reynolds,
        "friction": friction,
        "line_loss": within(loss, None, MOST_LINE_LOSS, above=_THIN_LINE, hair=HAIR),
        "line_bore_needed": pipes.line_bore(flow, LINE_VELOCITY),
        "suction_bore_needed": pipes.line_bore(flow, SUCTION_VELOCITY),
    }


def _pump(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the pump works against and what it gives there."""
    following = calc.referenced_rail_pressure(e["rail_pressure"], e["boost"])
    rail = e.pick("rail", {"referenced": following, "fixed": e["rail_pressure"]})
    pressure = rail + f["line_loss"]
    place = _place(e, pressure)
    on_curve = calc.pump_flow_on_curve(place, e["pump_flow_1"], _second_flow(e))
    voltage = _pump_voltage(e)
    ratio = voltage / e["pump_rated_voltage"]
    factor = wire.VOLTAGE_FACTOR(ratio, e["pump_exponent"], below={"ratio": wire.WEAK})
    number = e.pick("pumps", PUMPS)
    flow = number * on_curve * factor
    plenty = within(flow / f["fuel_volume"], None, MOST_PLENTY, above=_PLENTY, hair=HAIR)
    return {
        "rail_gauge": rail,
        "pump_pressure": pressure,
        "pump_place": place,
        "pump_curve_flow": on_curve,
        "voltage_used": voltage,
        "voltage_factor": factor,
        "pump_number": number,
        "pump_flow": flow,
        "pump_spare": plenty - 1.0,
        "pump_spare_near": e["pump_margin"] + NEAR_SPARE,
    }


def _pump_voltage(e: Entries) -> Real:
    """Return the voltage at the pump: as measured, or what its wire leaves."""
    wired = wire.supply(e)["load_voltage"]
    return e.pick("pump_supply", {"measured": e["pump_voltage"], "wired": wired})


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
        _answer("duty_thirsty", "Duty if the engine is thirsty", "percent", 0.02, 5.0),
        optional=True,
        note="The same power at the thirsty end of the consumption band. Where power is all that "
        "you know, size the injectors by this one.",
        by=(calc.commanded_duty,),
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
    replace(
        _answer("air_fuel_ratio", "Air to fuel by mass, this fuel", "ratio", 0.001, 0.3),
        sign="AFR",
        by=(calc.air_fuel_ratio,),
        note="On the fuel's own scale. A gauge set to gasoline shows 14.7 times λ instead.",
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
            pipes.line_velocity,
            sign="v",
        ),
        note="[3 m/s|9.8 ft/s] is common practice. With a return line it carries all that the pump "
        "pumps.",
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
        "line_loss", "Loss of the feed line", "gauge_pressure", 0.01, 3.0, pipes.line_pressure_loss
    ),
    replace(
        _answer(
            "line_bore_needed",
            "Smallest bore of the feed line",
            "length",
            0.005,
            0.5,
            pipes.line_bore,
        ),
        note="Inside, for [3 m/s|9.8 ft/s]. "
        + ", ".join(f"−{key} is {inside(bore)}" for key, bore in DASHES.items())
        + " in hose with screwed ends.",
    ),
    replace(
        _answer(
            "suction_bore_needed",
            "Smallest bore before the pump",
            "length",
            0.005,
            0.5,
            pipes.line_bore,
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
    *mixture.WORKINGS,
    _on("density", "Density of the fuel", "density", 0, "ρ", calc.blend_density),
    _on("viscosity", "Viscosity of the fuel", "viscosity", 2, "μ", calc.blend_viscosity_bound),
    _on("lambda_used", "Mixture, λ", "ratio", 2, "λ", calc.excess_air),
    _on("fuel_for_power", "Fuel for the power", "fuel_flow", 0, "", calc.fuel_flow),
    _on("number", "Injectors", "ratio", 0),
    _on("sheet_density", "Density of the sheet's liquid", "density", 0, "ρ_sheet"),
    replace(_on("rated", "Size on the sheet", "volume_flow", 0), unit="ccmin"),
    _on("dead_share", "Dead time as a share", "percent", 1, "", calc.dead_time_share),
    _on("allowed", "Share that may flow", "percent", 1),
    Working("bore", "Bore of the feed line", of="length", unit="mm", decimals=1, sign="D"),
    _on("reynolds", "Reynolds number in the line", "ratio", 0, "Re", pipes.line_reynolds),
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
    Working("voltage_used", "Voltage at the pump", of="voltage", unit="V", decimals=2, sign="U"),
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
        charts=(
            ChartView(
                "Injector duty by size and power",
                "duty",
                "injector_flow",
                SIZES,
                "power",
                (300.0, 350.0, 400.0, 450.0, 500.0, 550.0),
            ),
            ChartView(
                "By fuel",
                "duty",
                "fuel",
                ("e10", "gasoline", "e85"),
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
        "Fuels and blends: US Department of Energy, properties of fuels; blended by mass. E85: its "
        "Alternative Fuels Data Center, after ASTM D5798.",
        "Mixture: Heywood, Internal Combustion Engine Fundamentals, ch. 3.",
        "Dash sizes: FAA AC 43.13-1B, table 9-3 (MIL-H-8794), hose with one wire braid.",
        "Line: Darcy-Weisbach with Churchill's friction factor (1977), smooth tube of 1.5 µm.",
        "Duty 85 %, pump margin 20 %, [1.5 and 3 m/s|4.9 and 9.8 ft/s], flow by voltage: common "
        "practice.",
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
