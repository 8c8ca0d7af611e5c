"""The plan: one set-up through every page at once, and what runs out first.

Boost, throttle, power, fuel and belt are linked as they are, each feeding the next. Only the
inlet depression runs in a circle, since the throttle's loss depends on the air that depends on it:
it is followed round twice, which leaves less than a tenth of what the first round left.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from site_src.lookups import belt, boost, fuel, power, throttle
from site_src.model.answers import Answer, Band, CompareView, LadderView, Rung, Views
from site_src.model.compose import Link, tables_of
from site_src.model.direct import Floats, Limit
from site_src.model.fields import Field, Number
from site_src.model.lookup import Given, Lookup
from site_src.tables.recipe import Inverse, Look, Product, Step, Sum, needed

FIRST_DEPRESSION = 1500.0
"""Inlet depression with which the first round begins, Pa."""

FIRST_BOOST = Link("first_boost", boost.LOOKUP, {"inlet_depression": "first_depression"})
FIRST_THROTTLE = Link(
    "first_throttle",
    throttle.LOOKUP,
    {"air_flow": FIRST_BOOST.symbol("air_flow"), "boost": FIRST_BOOST.symbol("boost")},
)
BOOST = Link("boost", boost.LOOKUP, {"inlet_depression": FIRST_THROTTLE.symbol("inlet_depression")})
_AIR = {"air_flow": BOOST.symbol("air_flow"), "boost": BOOST.symbol("boost")}
THROTTLE = Link("throttle", throttle.LOOKUP, _AIR)
POWER = Link(
    "power", power.LOOKUP, {**_AIR, "charge_temperature": BOOST.symbol("charge_temperature")}
)
FUEL = Link(
    "fuel",
    fuel.LOOKUP,
    {"power": POWER.symbol("power"), "fuel_flow": "fuel_flow", "boost": _AIR["boost"]},
)
BELT = Link("belt", belt.LOOKUP, {"drive_power": BOOST.symbol("drive_power")})
LINKS = (FIRST_BOOST, FIRST_THROTTLE, BOOST, THROTTLE, POWER, FUEL, BELT)


CHARGE_ROOM = Limit(
    "plan_charge_room",
    "charge limit above the intake air",
    2.0,
    150.0,
    below="The charge-temperature limit must lie at least 2 °C above the intake air. Raise it.",
)

MOST_USED = Limit(
    "plan_used",
    "share of a limit that is used",
    -1.0,
    5.0,
    above="Over five times what it stands: look at the entries and their units on its own page.",
)

NEAR_USED = 0.92
"""Share of a limit from which a part is near running out."""


# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables, link by link."""
    first = np.full(np.asarray(given["engine_speed"]).shape, FIRST_DEPRESSION)
    boost_one = FIRST_BOOST.direct(given, {"inlet_depression": first})
    throttle_one = FIRST_THROTTLE.direct(given, _pick(boost_one, "air_flow", "boost"))
    found = BOOST.direct(given, _pick(throttle_one, "inlet_depression"))
    air = _pick(found, "air_flow", "boost")
    inlet = THROTTLE.direct(given, air)
    made = POWER.direct(given, air | _pick(found, "charge_temperature"))
    flow = found["air_flow"] / np.asarray(given["mixture_rich"])
    fed = FUEL.direct(given, {"power": made["power"], "fuel_flow": flow, "boost": found["boost"]})
    held = BELT.direct(given, _pick(found, "drive_power"))
    margin = 1.0 + np.asarray(given["power_margin"])
    room = np.asarray(given["charge_limit"]) - np.asarray(given["intake_temperature"])
    rise = found["charge_temperature"] - np.asarray(given["intake_temperature"])
    return {
        **_pick(found, "boost", "charge_temperature", "rotor_speed", "air_flow", "drive_power"),
        **_pick(made, "power", "power_low", "power_high", "torque"),
        **_pick(fed, "duty", "pulse_width", "pump_needed", "pump_flow", "line_velocity"),
        **_pick(held, "grip_power", "wrap_needed", "belt_speed"),
        "inlet_depression": inlet["inlet_depression"],
        "fuel_flow": flow,
        "mixture_share": np.asarray(given["mixture_rich"]) / fed["stoichiometric_ratio"],
        "rotors_used": MOST_USED.keep(found["rotor_speed"] / np.asarray(given["rotor_limit"])),
        "grip_used": MOST_USED.keep(found["drive_power"] * margin / held["grip_power"]),
        "injectors_used": MOST_USED.keep(fed["duty"] / np.asarray(given["duty_limit"])),
        "pump_used": MOST_USED.keep(fed["pump_needed"] / fed["pump_flow"]),
        "throttle_used": MOST_USED.keep(inlet["choked_share"] / throttle.CHOKED_LIMIT),
        "charge_used": MOST_USED.keep(rise / CHARGE_ROOM.keep(room)),
    }


def _pick(answers: Mapping[str, Floats], *keys: str) -> dict[str, Floats]:
    """Return some of a page's answers."""
    return {key: answers[key] for key in keys}


# --- the recipe ------------------------------------------------------------------------------

_RICH = "mixture_rich"


def _used_share(name: str, *of: tuple[str, float], times: float = 1.0) -> tuple[Step, ...]:
    """Return the steps that work out how much of a limit is used, and refuse what can't be."""
    share = Product(f"{name}_share", of, times=times)
    return share, MOST_USED.look(f"{name}_used", share.name)


ALL_STEPS = (
    Product("first_depression", (), times=FIRST_DEPRESSION),
    *FIRST_BOOST.steps,
    *FIRST_THROTTLE.steps,
    *BOOST.steps,
    *THROTTLE.steps,
    *POWER.steps,
    Product("fuel_flow", ((_AIR["air_flow"], 1.0), (_RICH, -1.0))),
    *FUEL.steps,
    *BELT.steps,
    Product("mixture_share", ((_RICH, 1.0), (FUEL.symbol("stoichiometric_ratio"), -1.0))),
    *_used_share("rotors", (BOOST.symbol("rotor_speed"), 1.0), ("rotor_limit", -1.0)),
    *_used_share("grip", (BELT.symbol("power_needed"), 1.0), (BELT.symbol("grip_power"), -1.0)),
    *_used_share("injectors", (FUEL.symbol("duty"), 1.0), ("duty_limit", -1.0)),
    *_used_share("pump", (FUEL.symbol("pump_needed"), 1.0), (FUEL.symbol("pump_flow"), -1.0)),
    *_used_share(
        "throttle", (THROTTLE.symbol("choked_share"), 1.0), times=1.0 / throttle.CHOKED_LIMIT
    ),
    Sum("charge_room_there", (("charge_limit", 1.0), ("intake_temperature", -1.0))),
    CHARGE_ROOM.look("charge_room", "charge_room_there"),
    Sum("charge_rise", ((BOOST.symbol("charge_temperature"), 1.0), ("intake_temperature", -1.0))),
    *_used_share("charge", ("charge_rise", 1.0), ("charge_room", -1.0)),
)


# --- the page --------------------------------------------------------------------------------

_GROUPS = {
    "first_boost": "Engine, blower and air",
    "first_throttle": "Throttle and inlet",
    "power": "Power",
    "fuel": "Fuel",
    "belt": "Belt",
}
_FIRST = ("blower_pulley", "engine_speed")


def _other_pulley(key: str, label: str) -> Number:
    """Return the optional entry of a pulley to compare with."""
    pulley = boost.LOOKUP.numbers["blower_pulley"]
    return replace(
        pulley, key=key, label=label, default=None, first=False, measure="", group="Compare pulleys"
    )


def _fields(asked: frozenset[str]) -> tuple[Field, ...]:
    """Return the fields that are asked for, under the heading of the link that asks them first."""
    fields: dict[str, Field] = {}
    for link in LINKS:
        for field in link.fields:
            group = _GROUPS.get(link.name, "")
            fields.setdefault(field.key, replace(field, first=field.key in _FIRST, group=group))
    charge_limit = Number(
        "charge_limit",
        "Charge temperature that you want to stay under",
        Scale("temperature", unit="C", span=(20, 150), default=70, step=5),
        measure="70 °C on pump fuel is a usual wish. Common practice; the calibrator decides.",
        way_out="Enter a limit above the intake air.",
        group=_GROUPS["first_boost"],
    )
    first = [fields.pop(key) for key in _FIRST]
    others = (_other_pulley("pulley_b", "Second pulley"), _other_pulley("pulley_c", "Third pulley"))
    rest = (field for field in fields.values() if field.key in asked)
    return (*first, *others, *rest, charge_limit)


def _from(link: Link, key: str, rank: str = "more", as_key: str = "") -> Answer:
    """Return a page's answer as the plan shows it."""
    return replace(link.answer(key), key=as_key or key, rank=rank, band=None)


def _used(key: str, label: str, formula: str, words: tuple[str, str, str]) -> Answer:
    """Return the answer that says how much of a limit is used up."""
    return Answer(
        key,
        label,
        of="percent",
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=3.0,
        band=Band("max", 1.0, NEAR_USED, *words),
    )


USED = (
    _used(
        "rotors_used",
        "Rotor speed, used",
        "rotor speed ÷ limit",
        (
            "Rotors at {value} of their limit.",
            "Rotors at {value} of their limit: no room for a missed shift.",
            "Rotors at {value} of their limit: fit a larger blower pulley.",
        ),
    ),
    _used(
        "grip_used",
        "Belt grip, used",
        "blower power with margin ÷ power that the belt can pass",
        (
            "The belt is asked for {value} of what it can pass.",
            "The belt is asked for {value} of what it can pass: more wrap or another rib soon.",
            "The belt is asked for {value} of what it can pass: it slips. More wrap, more ribs.",
        ),
    ),
    _used(
        "injectors_used",
        "Injector duty, used",
        "duty ÷ duty limit",
        (
            "Injectors at {value} of their duty limit.",
            "Injectors at {value} of their duty limit: the next smaller pulley needs larger ones.",
            "Injectors at {value} of their duty limit: the engine would run lean. Larger ones.",
        ),
    ),
    _used(
        "pump_used",
        "Fuel pump, used",
        "flow needed with margin ÷ pump flow at pressure and voltage",
        (
            "The pump is asked for {value} of what it moves there.",
            "The pump is asked for {value} of what it moves there: measure its flow.",
            "The pump is asked for {value} of what it moves there: the rail would fall. A larger "
            "pump, or a second one.",
        ),
    ),
    _used(
        "throttle_used",
        "Throttle, used",
        "air flow ÷ half the choked flow",
        (
            "The throttle at {value} of half its choked flow.",
            "The throttle at {value} of half its choked flow: a larger bore would show.",
            "The throttle at {value} of half its choked flow: it costs boost. A larger bore.",
        ),
    ),
    _used(
        "charge_used",
        "Charge temperature, used",
        "(charge − intake air) ÷ (limit − intake air)",
        (
            "The charge uses {value} of the room up to its limit.",
            "The charge uses {value} of the room up to its limit: no second pull in a row.",
            "The charge uses {value} of the room up to its limit: more cooling, or less boost.",
        ),
    ),
)
"""What runs out, each as the share of its limit that is used up."""

ANSWERS = (
    replace(_from(BOOST, "boost"), rank="main"),
    replace(_from(POWER, "power_low", "second"), label="Power, low end"),
    replace(_from(POWER, "power_high", "second"), label="Power, high end"),
    _from(BOOST, "charge_temperature", "second"),
    *USED,
    _from(BOOST, "rotor_speed"),
    _from(BOOST, "air_flow"),
    _from(BOOST, "drive_power"),
    _from(POWER, "power"),
    _from(POWER, "torque"),
    _from(THROTTLE, "inlet_depression"),
    Answer(
        "fuel_flow",
        "Fuel flow at the rich end",
        of="fuel_flow",
        decimals={"kgh": 0, "lbh": 0, "gps": 1},
        tolerance=0.05,
        uncertainty=8.0,
    ),
    Answer(
        "mixture_share",
        "Rich end against this fuel's own ratio",
        of="ratio",
        decimals={"": 2},
        tolerance=0.001,
        uncertainty=0.02,
        band=Band(
            side="max",
            limit=0.95,
            near=0.88,
            within="λ {value} at the rich end: it fits this fuel.",
            near_words="λ {value} at the rich end: lean under boost. Does the air-fuel ratio belong to this "
            "fuel?",
            beyond="λ {value} at the rich end: that air-fuel ratio doesn't belong to this fuel. "
            "For E85 enter 7.0 to 7.6.",
        ),
    ),
    _from(FUEL, "duty"),
    _from(FUEL, "pulse_width"),
    _from(FUEL, "pump_needed"),
    _from(FUEL, "pump_flow"),
    _from(FUEL, "line_velocity"),
    _from(BELT, "grip_power"),
    _from(BELT, "wrap_needed"),
    _from(BELT, "belt_speed"),
)

_JUDGED = (answer.band for answer in ANSWERS if answer.band)
_WANTED = {answer.source for answer in ANSWERS} | {
    source for band in _JUDGED for source in (band.limit, band.near) if isinstance(source, str)
}
STEPS, ASKED = needed(ALL_STEPS, _WANTED)
TABLE_NAMES = {step.table for step in STEPS if isinstance(step, Look | Inverse)}


def _rung(answer: str, label: str, first: str, link: Link) -> Rung:
    """Return a rung that leads to a page, with what the plan feeds it."""
    return Rung(answer, label, first, link.lookup.key, dict(link.feeds))


LOOKUP = Lookup(
    key="plan",
    title="Plan a pulley",
    short="Plan",
    question="With this pulley, what does it make, and what runs out first?",
    stage="plan",
    fields=_fields(ASKED),
    steps=STEPS,
    answers=ANSWERS,
    tables=tuple(
        table
        for table in (*tables_of(*LINKS), CHARGE_ROOM.table, MOST_USED.table)
        if table.name in TABLE_NAMES
    ),
    direct=direct,
    views=Views(
        ladder=LadderView(
            "What runs out first",
            (
                _rung("rotors_used", "Rotors", "the rotors run out first", BOOST),
                _rung("grip_used", "Belt grip", "the belt's grip runs out first", BELT),
                _rung("injectors_used", "Injectors", "the injectors run out first", FUEL),
                _rung("pump_used", "Fuel pump", "the fuel pump runs out first", FUEL),
                _rung("throttle_used", "Throttle", "the throttle runs out first", THROTTLE),
                _rung("charge_used", "Charge cooling", "the charge cooling runs out first", BOOST),
            ),
        ),
        compare=CompareView(
            "Pulleys side by side",
            "blower_pulley",
            ("pulley_b", "pulley_c"),
            (
                "boost",
                "power_low",
                "power_high",
                "rotor_speed",
                "charge_temperature",
                "drive_power",
                "inlet_depression",
                "duty",
                *(answer.key for answer in USED),
            ),
        ),
    ),
    cautions=(
        "An estimate from entries, not a measurement. Order parts with room to spare.",
        "The makers' limits for rotors, belt, injectors and pump overrule the ones entered here.",
        "No spark advice: that is the calibrator's work. Never run a new pulley on an old "
        "calibration.",
        "More power can affect road legality, emissions, insurance and brakes: follow local law "
        "and have licensed practice sign where it is required.",
    ),
    sources=tuple(
        dict.fromkeys(
            source
            for link in (BOOST, POWER, FUEL, THROTTLE, BELT)
            for source in link.lookup.sources
        )
    ),
    leaves_out=(
        "The inlet depression is followed round twice; what is left is under 0.2 kPa in any "
        "sensible set-up.",
        "Everything is steady. A pull lasts seconds: coolant and charge warm up after it.",
        "Each page says what it leaves out itself.",
    ),
)
