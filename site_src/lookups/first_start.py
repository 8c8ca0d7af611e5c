"""First start and staged pulls: what to watch, and when to stop, as limits of this truck.

The plan's chain is called as it is, so that the card says what the plan does. Each pull is the same
question at another engine speed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import first_start as calc
from calc.domain import Real
from site_src.lookups import boost, fuel, plan, power
from site_src.model.answers import Answer, Band, EachView, ProcedureView, Views
from site_src.model.entries import Entries, symbols
from site_src.model.fields import Field, Parts
from site_src.model.lookup import Lookup
from site_src.tables.symbols import as_operand
from site_src.tables.writing import write_down

NEAR = 0.95
"""Share of a speed limit from which a pull is near it."""

NEAR_CHARGE = 5.0
"""Kelvin under the charge temperature's limit from which it is near. Common practice."""


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what the gauges should say at full throttle, and where each says stop."""
    found = plan.LOOKUP.chained(e)
    fed = fuel.LOOKUP.chained(
        e,
        **{key: found[key] for key in ("air_flow", "boost", "power")},
        fuel_flow=found["fuel_burnt"],
    )
    rail = fed["rail_gauge"]
    speed = e["engine_speed"]
    return {
        "boost": found["boost"],
        "rail_gauge": rail,
        "rail_stop": rail - calc.RAIL_FALL,
        "lambda_used": found["lambda_used"],
        "lambda_stop": found["lambda_used"] + calc.LEANER,
        "charge_temperature": found["charge_temperature"],
        "charge_near": e["charge_limit"] - NEAR_CHARGE,
        "rotor_speed": found["rotor_speed"],
        "rotor_near": NEAR * e["rotor_limit"],
        "duty": fed["duty"],
        "duty_near": fed["duty_near"],
        "oil_least": calc.least_oil_pressure(speed),
        "highest_pull": e.most("pulls", lambda row: row["pull_speed"]),
        "limiter_near": NEAR * e["limiter_speed"],
    }


# --- the page --------------------------------------------------------------------------------

_GROUP = "Engine, blower and air"
"""Under which the plan has what its own page asks first."""

PULLS = Parts(
    "pulls",
    "Staged pulls",
    (
        replace(
            boost.LOOKUP.numbers["engine_speed"],
            key="pull_speed",
            label="Up to",
            measure="",
            example="",
            way_out="Enter crankshaft speed, under the limiter.",
            scale=replace(boost.LOOKUP.numbers["engine_speed"].scale, default=3000, step=250),
            first=True,
        ),
    ),
    most=6,
    default=tuple({"pull_speed": speed} for speed in (2500.0, 3500.0, 4500.0, 5500.0)),
    measure="Full throttle in a high gear, let off at this speed. The log is read before the next. "
    "Common practice.",
)


def _fields() -> tuple[Field, ...]:
    """Return the plan's entries that this hangs on, the pulls second."""
    known = plan.LOOKUP.fields
    everything = reckon(symbols((*known, PULLS)))
    asked = write_down({key: as_operand(value) for key, value in everything.items()}).asked
    speed, *rest = sorted(
        (field for field in known if field.key in asked), key=lambda f: f.key != "engine_speed"
    )
    others = (replace(field, first=False, group=field.group or _GROUP) for field in rest)
    return (replace(speed, label="Engine speed, full throttle"), PULLS, *others)


_PRESSURE = {"kPa": 0, "psi": 1, "bar": 2}

LOOKUP = Lookup(
    key="first-start",
    title="First start and staged pulls",
    short="First start",
    question="What must the gauges say at the first start and the first pulls, and when to stop?",
    stage="start",
    fields=_fields(),
    reckon=reckon,
    answers=(
        Answer(
            "rail_gauge",
            "Fuel pressure under full boost",
            of="gauge_pressure",
            decimals=_PRESSURE,
            tolerance=0.05,
            uncertainty=5.0,
            rank="main",
            note="It has to rise with boost, as much as boost does, where the regulator has its "
            "hose.",
        ),
        Answer(
            "rail_stop",
            "Stop if it falls to",
            of="gauge_pressure",
            decimals=_PRESSURE,
            tolerance=0.05,
            uncertainty=5.0,
            rank="second",
            note="[20 kPa|2.9 psi] under what it should be. Common practice.",
        ),
        replace(power.LOOKUP.answer("lambda_used"), label="λ wanted", rank="second"),
        Answer(
            "lambda_stop",
            "Stop if λ is leaner than",
            of="ratio",
            decimals={"": 2},
            tolerance=1e-3,
            uncertainty=0.02,
            rank="second",
            note="0.03 over what is wanted. Common practice; the calibrator's own limit overrules "
            "it.",
        ),
        replace(boost.LOOKUP.answer("boost"), rank="more", band=None),
        replace(
            boost.LOOKUP.answer("charge_temperature"),
            rank="more",
            band=Band(
                side="max",
                limit="charge_limit",
                near="charge_near",
                within="Charge at {value}, {margin} under its limit.",
                near_words="Charge at {value}, only {margin} under its limit: let it cool between "
                "pulls.",
                beyond="Charge at {value}, {margin} over its limit: no full pull so. More cooling, "
                "or less boost.",
            ),
        ),
        replace(
            boost.LOOKUP.answer("rotor_speed"),
            rank="more",
            band=Band(
                side="max",
                limit="rotor_limit",
                near="rotor_near",
                within="Blower at {value}, {margin} under its limit.",
                near_words="Blower at {value}, only {margin} under its limit: let off earlier.",
                beyond="Blower at {value}, {margin} over its limit: do not pull so far. A larger "
                "blower pulley.",
            ),
        ),
        replace(
            fuel.LOOKUP.answer("duty"),
            rank="more",
            band=Band(
                side="max",
                limit="duty_limit",
                near="duty_near",
                within="Injectors at {value}, {margin} under their limit.",
                near_words="Injectors at {value}, only {margin} under their limit: watch λ.",
                beyond="Injectors at {value}, {margin} over their limit: it would run lean. Do not "
                "pull so far.",
            ),
        ),
        Answer(
            "oil_least",
            "Oil pressure, warm, at least",
            of="gauge_pressure",
            decimals=_PRESSURE,
            tolerance=0.05,
            uncertainty=20.0,
            by=(calc.least_oil_pressure,),
            rank="more",
            note="10 psi for each 1000 rpm. Common practice; the engine's maker overrules it.",
        ),
        Answer(
            "highest_pull",
            "Highest pull",
            of="rotation",
            decimals={"rpm": 0},
            tolerance=0.2,
            uncertainty=50.0,
            rank="more",
            band=Band(
                side="max",
                limit="limiter_speed",
                near="limiter_near",
                within="The highest pull, {value}, ends {margin} under the limiter.",
                near_words="The highest pull, {value}, ends only {margin} under the limiter.",
                beyond="The highest pull, {value}, is {margin} over the limiter. Take it lower.",
            ),
        ),
    ),
    views=Views(
        each=EachView(
            "Pull by pull",
            "pulls",
            feeds={"engine_speed": "pull_speed"},
            fixed={},
            answers=(
                "boost",
                "rail_gauge",
                "rail_stop",
                "duty",
                "charge_temperature",
                "rotor_speed",
                "oil_least",
            ),
            write_in=("Boost read", "Fuel read", "λ read"),
        ),
        procedures=(
            ProcedureView(
                "First start",
                (
                    "Pre-start says READY. Extinguisher in hand, one at the key, doors open, "
                    "nobody in line with belt and fan.",
                    "Key on, fuel pump primes: rail at its pressure, and dry. Off and on again.",
                    "Start. Oil pressure within ten seconds, or off. No throttle before.",
                    "Two minutes at a fast idle: fuel, coolant, oil and air looked over with a "
                    "light. Bypass open, no boost.",
                    "Warm up at 1,500 to 2,000 rpm without load until the coolant fan has come and "
                    "gone. Coolant under [105 °C|221 °F], common practice; the maker's figure "
                    "overrules it.",
                    "Off. Let it go cold. Levels, bolts and belt again: the hold points after the "
                    "first heat.",
                ),
                note="Common practice. The kit's and the calibrator's own steps come first. A new "
                "camshaft or new rings want the run-in of their maker instead.",
            ),
            ProcedureView(
                "Staged pulls",
                (
                    "On a dynamometer or a closed track, with a driver and a reader. Never on a "
                    "public road.",
                    "Part throttle first, boost just showing: λ as wanted, no knock, no slip.",
                    "The first pull to the lowest speed in the list. Off, read the log, compare "
                    "with the card.",
                    "Go on to the next only if every reading is on its side of its limit and the "
                    "boost is about as reckoned.",
                    "Between pulls until charge and coolant are back where they began.",
                ),
                note="Common practice.",
            ),
            ProcedureView(
                "Off the throttle at once",
                (
                    "Knock heard or counted. λ leaner than its limit. Fuel pressure at its limit "
                    "or falling.",
                    "Oil pressure under its limit. Coolant over [105 °C|221 °F]. Charge over its "
                    "limit.",
                    "Boost over what is reckoned by [10 kPa|1.5 psi], or gone. Smoke, smell of "
                    "fuel, a new "
                    "noise, squeal of the belt.",
                    "Then idle a minute, unless it is oil, fire or noise: key off.",
                ),
                note="Common practice; whichever limit of a maker is lower overrules it.",
            ),
        ),
    ),
    cautions=(
        "Fuel under pressure, hot coolant, a belt that can break: nobody near the engine at speed, "
        "hoods and guards on.",
        "Full throttle belongs on a dynamometer or a closed track, with the truck inspected and "
        "its brakes proved first.",
        "Engine, fuel and tune makers' limits overrule every one here. Spark is the calibrator's.",
        power.CHASSIS,
    ),
    sources=(
        "Boost, charge, power and fuel: as the plan works them out, with its sources.",
        "Oil pressure, fall of the rail, lean limit and coolant: common practice.",
    ),
    leaves_out=(
        "Cold oil, and an engine of high clearance: its maker's figure instead.",
        "What the gauges and the λ sensor are off by.",
        "Boost below full throttle.",
    ),
)
