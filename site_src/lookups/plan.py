"""The plan: one set-up through every page at once, and what runs out first.

Boost, throttle, power, knock, fuel, belt, accessory and charge cooling are called as they are, each
feeding the next. Only the inlet depression runs in a circle, since the throttle's loss depends on
the air that depends on it. What a round ends with is nearly a straight line over what it begins
with; the plan takes the depression at which the line through two rounds gives itself (a secant's
step).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc.domain import Real
from site_src.lookups import (
    accessory,
    belt,
    boost,
    charge_cooling,
    charge_cooling_fields,
    fuel,
    knock,
    power,
    throttle,
)
from site_src.model.answers import Answer, Band, CompareView, LadderView, Rung, Views, Working
from site_src.model.entries import Entries, symbols
from site_src.model.fields import Field, Number, When
from site_src.model.lookup import Lookup
from site_src.tables.symbols import as_operand
from site_src.tables.trace import greatest, within
from site_src.tables.writing import write_down

BEGUN_WITH = (1500.0, 2500.0)
"""Inlet depressions with which the two rounds begin, Pa."""

REFERENCE_AIR = 298.15
"""Charge temperature from which room is counted up to the limit, K: the 25 °C of SAE J1349.

One fixed temperature, so that a hotter day, which makes the charge hotter, always uses more of it.
"""

LEAST_USED, MOST_USED = -1.0, 5.0
"""Shares of a limit that are believed; a charge below 25 °C has used less than nothing."""

LEAST_CARRIED = 1.0
"""Power that a belt carries from which one can be said to be used up, W."""

NEAR_USED = 0.92
"""Share of a limit from which a part is near running out."""

_FAR_OVER = "Over five times what it stands: look at the entries and their units on its own page."


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work everything out, page by page."""
    drawn = _inlet_depression(e)
    found = boost.LOOKUP.chained(e, inlet_depression=drawn)
    air = _only(found, "air_flow", "boost")
    throttled = throttle.LOOKUP.chained(e, **air)
    charge = _only(found, "boost", "charge_temperature")
    made = power.LOOKUP.chained(e, air_flow=found["air_flow"], **charge)
    squeezed = knock.LOOKUP.chained(e, **charge)
    fed = fuel.LOOKUP.chained(e, **air, power=made["power"], fuel_flow=made["fuel_burnt"])
    held = belt.LOOKUP.chained(e, drive_power=found["drive_power"])
    others = accessory.LOOKUP.chained(e)
    cooling = {
        "blower_outlet": found["outlet_temperature"],
        "cooler_effectiveness": found["effectiveness_used"],
    }
    cooled = charge_cooling.LOOKUP.chained(e, air_flow=found["air_flow"], **cooling)
    room = e["charge_limit"] - REFERENCE_AIR
    used = found["charge_temperature"] - REFERENCE_AIR
    return {
        **_only(found, "boost", "charge_temperature", "rotor_speed", "air_flow", "drive_power"),
        **_only(made, "power", "power_low", "power_high", "torque", "fuel_burnt", "lambda_used"),
        **_only(squeezed, "squeeze", "line"),
        **_only(fed, "duty", "pulse_width", "pump_needed", "pump_flow", "line_velocity"),
        **_only(held, "grip_power", "wrap_needed", "limiter_grip_power", "limiter_belt_speed"),
        "idler_speed": held["idler_speed"],
        "accessory_speed": others["accessory_speed"],
        "drawn_depression": drawn,
        "inlet_depression": throttled["inlet_depression"],
        "rotors_used": _used_up(found["limiter_rotor_speed"] / e["rotor_limit"]),
        "grip_used": _used_up(_most_grip(held)),
        "belt_speed_used": _used_up(held["limiter_belt_speed"] / e["belt_speed_limit"]),
        "idler_used": _used_up(held["idler_speed"] / e["idler_limit"]),
        "accessory_used": _used_up(others["accessory_speed"] / e["accessory_limit"]),
        "injectors_used": _used_up(fed["duty"] / e["duty_limit"]),
        "line_used": _used_up(fed["line_velocity"] / fuel.LINE_VELOCITY),
        "knock_used": _used_up(squeezed["squeeze"] / squeezed["line"]),
        "pump_used": _used_up(fed["pump_needed"] / fed["pump_flow"]),
        "throttle_used": _used_up(throttled["choked_share"] / throttle.CHOKED_LIMIT),
        "charge_used": _used_up(used / room),
        "pulls_used": _used_up((cooled["charge_hottest"] - REFERENCE_AIR) / room),
        "charge_hottest": cooled["charge_hottest"],
        **cooling,
    }


def _only(found: Mapping[str, Real], *keys: str) -> dict[str, Real]:
    """Return some of a page's values."""
    return {key: found[key] for key in keys}


def _most_grip(held: Mapping[str, Real]) -> Real:
    """Return the share of the belt's grip that is used, at peak power or at the limiter."""

    def used(at: str) -> Real:
        carried = within(held[f"{at}grip_power"], LEAST_CARRIED, None, below=belt.NO_ROOM)
        return held[f"{at}power_needed"] / carried

    return greatest(used(""), used("limiter_"))


def _used_up(share: Real) -> Real:
    """Return the share of a limit that is used, if it can be believed."""
    return within(share, LEAST_USED, MOST_USED, above=_FAR_OVER)


def _inlet_depression(e: Entries) -> Real:
    """Return the depression at the blower inlet that makes the air flow that makes it."""
    near, far = BEGUN_WITH
    after_near, after_far = (_round(e, depression) for depression in BEGUN_WITH)
    # More depression, less air: the slope is below zero, and nothing is divided by zero.
    slope = (after_far - after_near) / (far - near)
    return (after_near - slope * near) / (1.0 - slope)


def _round(e: Entries, depression: float) -> Real:
    """Return the depression at the blower inlet of the air that flows with one."""
    air = boost.LOOKUP.chained(e, inlet_depression=depression)
    return throttle.LOOKUP.chained(e, **_only(air, "air_flow", "boost"))["inlet_depression"]


# --- the page --------------------------------------------------------------------------------

_PAGES = {
    "Engine, blower and air": (boost.LOOKUP, ("inlet_depression",)),
    "Throttle and inlet": (throttle.LOOKUP, ("air_flow", "boost")),
    "Power": (power.LOOKUP, ("air_flow", "boost", "charge_temperature")),
    "Knock": (knock.LOOKUP, ("boost", "charge_temperature")),
    "Fuel": (fuel.LOOKUP, ("power", "air_flow", "fuel_flow", "boost")),
    "Belt": (belt.LOOKUP, ("drive_power",)),
    "Accessory": (accessory.LOOKUP, ()),
    "Charge cooling": (
        charge_cooling.LOOKUP,
        ("air_flow", "blower_outlet", "cooler_effectiveness"),
    ),
}
"""The pages of the chain under the headings of their entries, and what the plan feeds each."""

_FIRST = ("blower_pulley", "engine_speed")


def _other_pulley(key: str, label: str) -> Number:
    """Return the optional entry of a pulley to compare with."""
    pulley = boost.LOOKUP.numbers["blower_pulley"]
    return replace(
        pulley,
        key=key,
        label=label,
        scale=replace(pulley.scale, default=None),
        first=False,
        measure="",
        group="Compare pulleys",
    )


_OF_BED = frozenset(
    {
        "bed_coolant_flow",
        "bed_fan",
        "bed_hose",
        "bed_warmer",
        "fan_share",
        "hose_bore",
        "nose_hose",
    }
)
"""What the plan asks of an exchanger in the bed alone; charge cooling compares both places."""

CHARGE_LIMIT = replace(charge_cooling_fields.CHARGE_LIMIT, group=next(iter(_PAGES)))


def _page_fields() -> dict[str, Field]:
    """Return the fields of all pages that aren't fed, under the heading that asks them first."""
    fields: dict[str, Field] = {}
    for group, (page, fed) in _PAGES.items():
        for field in page.fields:
            if field.key not in (*fed, CHARGE_LIMIT.key):
                asked = replace(field, first=field.key in _FIRST, group=group, when=_when(field))
                fields.setdefault(field.key, asked)
    return fields


def _when(field: Field) -> When:
    """Return what a page's field depends on, asked once for all of them."""
    place = charge_cooling_fields.PLACE
    if field.key == place.key:
        return place.when
    return (place.key, ("bed",)) if field.key in _OF_BED else field.when


def _fields() -> tuple[Field, ...]:
    """Return the fields that the plan's own values depend on, the quickest first."""
    fields = _page_fields()
    everything = reckon(symbols((*fields.values(), CHARGE_LIMIT)))
    asked = write_down({key: as_operand(value) for key, value in everything.items()}).asked
    first = [fields.pop(key) for key in _FIRST]
    others = (_other_pulley("pulley_b", "Second pulley"), _other_pulley("pulley_c", "Third pulley"))
    rest = (field for field in fields.values() if field.key in asked)
    return (*first, *others, *rest, CHARGE_LIMIT)


def _from(page: Lookup, key: str, rank: str = "more") -> Answer:
    """Return a page's answer as the plan shows it."""
    return replace(page.answer(key), rank=rank, band=None)


def _used(
    key: str,
    label: str,
    words: tuple[str, str, str],
    *,
    optional: bool = False,
) -> Answer:
    """Return the answer that says how much of a limit is used up.

    `optional` is for a limit that nobody but a maker states, or one that may not be assumed.
    """
    within_words, near_words, beyond = words
    return Answer(
        key,
        label,
        of="percent",
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=3.0,
        optional=optional,
        band=Band(
            side="max",
            limit=1.0,
            near=NEAR_USED,
            within=within_words,
            near_words=near_words,
            beyond=beyond,
        ),
    )


USED = (
    _used(
        "rotors_used",
        "Rotor speed, used",
        (
            "At the limiter the rotors turn at {value} of their limit.",
            "At the limiter the rotors turn at {value} of their limit: no room for a missed shift.",
            "At the limiter the rotors turn at {value} of their limit: fit a larger blower pulley, "
            "or lower the rev limiter.",
        ),
    ),
    _used(
        "grip_used",
        "Belt grip, used",
        (
            "The belt is asked for {value} of what it can carry.",
            "The belt is asked for {value} of what it can carry: more wrap or another rib soon.",
            "The belt is asked for {value} of what it can carry: it slips. More wrap, more ribs.",
        ),
    ),
    _used(
        "belt_speed_used",
        "Belt speed, used",
        (
            "At the limiter the belt runs at {value} of its speed limit.",
            "At the limiter the belt runs at {value} of its speed limit: no higher limiter.",
            "At the limiter the belt runs at {value} of its speed limit: a smaller crank pulley, "
            "or a lower limiter.",
        ),
        optional=True,
    ),
    _used(
        "idler_used",
        "Idler speed, used",
        (
            "At the limiter the idler turns at {value} of its bearing's limit.",
            "At the limiter the idler turns at {value} of its bearing's limit: a larger one lasts.",
            "At the limiter the idler turns at {value} of its bearing's limit: fit a larger idler, "
            "or a bearing made for it.",
        ),
        optional=True,
    ),
    _used(
        "accessory_used",
        "Accessory speed, used",
        (
            "At the limiter the accessory turns at {value} of its limit.",
            "At the limiter the accessory turns at {value} of its limit: no room for a missed "
            "shift.",
            "At the limiter the accessory turns at {value} of its limit: fit a larger pulley on "
            "it.",
        ),
        optional=True,
    ),
    _used(
        "injectors_used",
        "Injector duty, used",
        (
            "Injectors at {value} of their duty limit.",
            "Injectors at {value} of their duty limit: the next smaller pulley needs larger ones.",
            "Injectors at {value} of their duty limit: the engine would run lean. Larger ones.",
        ),
    ),
    _used(
        "pump_used",
        "Fuel pump, used",
        (
            "The pump is asked for {value} of what it moves there.",
            "The pump is asked for {value} of what it moves there: measure its flow.",
            "The pump is asked for {value} of what it moves there: the rail would fall. A larger "
            "pump, or a second one.",
        ),
    ),
    _used(
        "line_used",
        "Feed line, used",
        (
            "Fuel in the feed line at {value} of [3 m/s|9.8 ft/s].",
            "Fuel in the feed line at {value} of [3 m/s|9.8 ft/s]: the next size of hose soon.",
            "Fuel in the feed line at {value} of [3 m/s|9.8 ft/s]: fit a larger bore.",
        ),
    ),
    _used(
        "knock_used",
        "Knock flag, used",
        (
            "Squeeze at {value} of the line for this fuel. The calibrator still decides.",
            "Squeeze at {value} of the line for this fuel: for the calibrator before a full-load "
            "run.",
            "Squeeze at {value} of the line for this fuel: for the calibrator. More octane, a "
            "cooler charge or less boost.",
        ),
        optional=True,
    ),
    _used(
        "throttle_used",
        "Throttle, used",
        (
            "The throttle at {value} of half its choked flow.",
            "The throttle at {value} of half its choked flow: a larger bore would show.",
            "The throttle at {value} of half its choked flow: it costs boost. A larger bore.",
        ),
    ),
    _used(
        "charge_used",
        "Charge temperature, used",
        (
            "The charge uses {value} of the room from [25 °C|77 °F] up to its limit.",
            "The charge uses {value} of the room from [25 °C|77 °F] up to its limit: no second "
            "pull in a "
            "row.",
            "The charge uses {value} of the room from [25 °C|77 °F] up to its limit: spark and "
            "power go. "
            "More cooling, or less boost.",
        ),
    ),
    _used(
        "pulls_used",
        "Charge pull after pull, used",
        (
            "Pull after pull the charge uses {value} of the room from [25 °C|77 °F] up to its "
            "limit.",
            "Pull after pull the charge uses {value} of the room from [25 °C|77 °F] up to its "
            "limit: "
            "longer rests, or more coolant.",
            "Pull after pull the charge uses {value} of the room from [25 °C|77 °F] up to its "
            "limit: spark "
            "and power go. More air through the exchanger, more coolant, or longer rests.",
        ),
        optional=True,
    ),
)
"""What runs out, each as the share of its limit that is used up."""

BY_CRANK = ("belt_speed_used", "idler_used", "accessory_used")
"""What no blower pulley changes."""

ANSWERS = (
    replace(_from(boost.LOOKUP, "boost"), rank="main"),
    replace(_from(power.LOOKUP, "power_low", "second"), label="Power, low end"),
    replace(_from(power.LOOKUP, "power_high", "second"), label="Power, high end"),
    _from(boost.LOOKUP, "charge_temperature", "second"),
    *USED,
    _from(boost.LOOKUP, "rotor_speed"),
    _from(boost.LOOKUP, "air_flow"),
    replace(_from(boost.LOOKUP, "outlet_temperature"), key="blower_outlet"),
    Answer(
        "cooler_effectiveness",
        "Charge cooler's effectiveness",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.01,
        uncertainty=5.0,
    ),
    _from(boost.LOOKUP, "drive_power"),
    _from(power.LOOKUP, "power"),
    _from(power.LOOKUP, "torque"),
    _from(throttle.LOOKUP, "inlet_depression"),
    _from(power.LOOKUP, "fuel_burnt"),
    power.LOOKUP.answer("lambda_used"),
    _from(knock.LOOKUP, "squeeze"),
    _from(knock.LOOKUP, "line"),
    _from(fuel.LOOKUP, "duty"),
    _from(fuel.LOOKUP, "pulse_width"),
    _from(fuel.LOOKUP, "pump_needed"),
    _from(fuel.LOOKUP, "pump_flow"),
    _from(fuel.LOOKUP, "line_velocity"),
    _from(belt.LOOKUP, "grip_power"),
    _from(belt.LOOKUP, "wrap_needed"),
    _from(belt.LOOKUP, "limiter_grip_power"),
    _from(belt.LOOKUP, "limiter_belt_speed"),
    _from(belt.LOOKUP, "idler_speed"),
    _from(accessory.LOOKUP, "accessory_speed"),
    replace(_from(charge_cooling.LOOKUP, "charge_hottest"), optional=True),
)


def _rung(answer: str, label: str, first: str, page: Lookup, **feeds: str) -> Rung:
    """Return a rung that leads to a page, with what the plan feeds it."""
    return Rung(answer, label, first, page.key, feeds)


_INLET = {"inlet_depression": "drawn_depression"}
_AIR = {"air_flow": "air_flow", "boost": "boost"}
_FUEL = {"power": "power", "boost": "boost"}

LOOKUP = Lookup(
    key="plan",
    title="Plan a pulley",
    short="Plan",
    question="With this pulley, what does it make, and what runs out first?",
    stage="plan",
    fields=_fields(),
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        Working(
            "drawn_depression",
            "Depression at the blower inlet, from two rounds",
            of="small_pressure",
            unit="kPa",
            decimals=2,
        ),
    ),
    views=Views(
        ladder=LadderView(
            "What runs out first",
            (
                _rung("rotors_used", "Rotors", "the rotors run out first", boost.LOOKUP, **_INLET),
                _rung(
                    "grip_used",
                    "Belt grip",
                    "the belt's grip runs out first",
                    belt.LOOKUP,
                    drive_power="drive_power",
                ),
                _rung(
                    "belt_speed_used",
                    "Belt speed",
                    "the belt's speed runs out first",
                    belt.LOOKUP,
                    drive_power="drive_power",
                ),
                _rung(
                    "idler_used",
                    "Idler bearing",
                    "the idler's bearing runs out first",
                    belt.LOOKUP,
                    drive_power="drive_power",
                ),
                _rung(
                    "accessory_used",
                    "Accessory",
                    "the accessory's speed runs out first",
                    accessory.LOOKUP,
                ),
                _rung(
                    "injectors_used",
                    "Injectors",
                    "the injectors run out first",
                    fuel.LOOKUP,
                    **_FUEL,
                ),
                _rung(
                    "pump_used", "Fuel pump", "the fuel pump runs out first", fuel.LOOKUP, **_FUEL
                ),
                _rung(
                    "line_used", "Feed line", "the feed line runs out first", fuel.LOOKUP, **_FUEL
                ),
                _rung(
                    "knock_used",
                    "Knock flag",
                    "the fuel's octane runs out first",
                    knock.LOOKUP,
                    boost="boost",
                    charge_temperature="charge_temperature",
                ),
                _rung(
                    "throttle_used",
                    "Throttle",
                    "the throttle runs out first",
                    throttle.LOOKUP,
                    **_AIR,
                ),
                _rung(
                    "charge_used",
                    "Charge cooling",
                    "the charge cooling runs out first",
                    boost.LOOKUP,
                    **_INLET,
                ),
                _rung(
                    "pulls_used",
                    "Coolant, pull after pull",
                    "the coolant runs out first",
                    charge_cooling.LOOKUP,
                    air_flow="air_flow",
                    blower_outlet="blower_outlet",
                    cooler_effectiveness="cooler_effectiveness",
                ),
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
                *(answer.key for answer in USED if answer.key not in BY_CRANK),
            ),
        ),
    ),
    cautions=(
        "An estimate from entries, not a measurement. Order parts with room to spare.",
        "The makers' limits for rotors, belt, injectors and pump overrule the ones entered here.",
        "No spark advice: that is the calibrator's work. Never run a new pulley on an old "
        "calibration.",
        power.CHASSIS,
    ),
    sources=tuple(
        dict.fromkeys(
            source
            for page in (boost, power, knock, fuel, throttle, belt, accessory, charge_cooling)
            for source in page.LOOKUP.sources
        )
    ),
    leaves_out=(
        "The inlet depression is found from two rounds; what is left is under [0.2 kPa|0.8 inH₂O] "
        "up to a throttle that all but chokes.",
        "All but the coolant's rung is steady. That one is about pulls, how long and how often: "
        "see the page “Charge cooling”.",
        "Each page says what it leaves out itself.",
    ),
)
