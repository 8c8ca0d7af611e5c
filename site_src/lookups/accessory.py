"""Accessory speed: how fast an alternator or a pump turns on the new crank pulley."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import belts
from calc import boost as blower
from calc.domain import Real
from site_src.lookups import boost, boost_fields
from site_src.model.answers import Answer, Band, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup

NEAR_LIMIT = 0.92
"""Share of the accessory's limit from which it is called near."""


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out the accessory's speeds, and the pulley that would keep it to its limit."""
    allowance = boost.line_allowance(e)
    drives = {"blower": e["crank_pulley"], "own": e["accessory_crank"]}
    crank = e.pick("accessory_belt", drives) + allowance
    own = e["accessory_pulley"] + allowance
    ratio = belts.speed_ratio(crank, own)
    fastest = blower.rotor_speed(e["limiter_speed"], ratio, e["slip"])
    needed = blower.rotor_speed(e["limiter_speed"], crank, e["slip"]) / e["accessory_limit"]
    return {
        "line_allowance": allowance,
        "crank_pitch": crank,
        "accessory_pitch": own,
        "accessory_ratio": ratio,
        "accessory_speed": fastest,
        "accessory_near": NEAR_LIMIT * e["accessory_limit"],
        "accessory_idle": blower.rotor_speed(e["idle_speed"], ratio, e["slip"]),
        "pitch_for_limit": needed,
        "pulley_for_limit": needed - allowance,
        "faster": crank / (e["old_crank_pulley"] + allowance) - 1.0,
        "belt_speed": belts.belt_speed(crank, e["limiter_speed"]),
    }


_CRANK_PULLEY = boost.LOOKUP.numbers["crank_pulley"]

FIELDS = (
    Number(
        "accessory_pulley",
        "Accessory pulley",
        Scale("length", unit="mm", span=(40, 250), default=62, step=1),
        measure=boost_fields.ACROSS,
        way_out="Measure over the ribs again, and look at the unit.",
        first=True,
    ),
    Choice(
        "accessory_belt",
        "Driven by",
        (Option("blower", "The blower's belt"), Option("own", "A belt of its own")),
        "blower",
        first=True,
    ),
    replace(_CRANK_PULLEY, when=("accessory_belt", ("blower",))),
    replace(
        _CRANK_PULLEY,
        key="accessory_crank",
        label="Crank pulley of that belt",
        measure=boost_fields.ACROSS,
        when=("accessory_belt", ("own",)),
    ),
    boost.LOOKUP.numbers["limiter_speed"],
    Number(
        "accessory_limit",
        "Accessory's speed limit",
        Scale("rotation", unit="rpm", span=(2000, 30000), default=None, step=500),
        measure="From its maker. Left empty, nothing is judged.",
        way_out="Ask the accessory's maker.",
        sign="N_max",
    ),
    Number(
        "idle_speed",
        "Engine speed at idle",
        Scale("rotation", unit="rpm", span=(400, 1500), default=750, step=50),
        measure="Warm, everything electrical switched on.",
        way_out="Enter crankshaft speed.",
    ),
    Number(
        "old_crank_pulley",
        "Crank pulley it had before",
        Scale("length", unit="mm", span=(80, 300), default=None, step=1),
        measure="Measured the same way. Leave empty if it has not changed.",
        way_out="Measure across the rims again, and look at the unit.",
    ),
    boost.LOOKUP.choices["diameter_kind"],
    boost.LOOKUP.numbers["slip"],
)

_SPEED = {"rpm": 0}

LOOKUP = Lookup(
    key="accessory",
    title="Accessory speed",
    short="Accessory",
    question="How fast does the alternator or the pump turn on this crank pulley?",
    stage="drive",
    fields=FIELDS,
    reckon=reckon,
    answers=(
        Answer(
            "accessory_speed",
            "Accessory speed at the limiter",
            of="rotation",
            decimals=_SPEED,
            tolerance=0.1,
            uncertainty=100.0,
            by=(blower.rotor_speed,),
            band=Band(
                side="max",
                limit="accessory_limit",
                near="accessory_near",
                within="Turns {value}, {margin} under its limit.",
                near_words="Turns {value}, only {margin} under its limit: no room for a missed "
                "shift.",
                beyond="Turns {value}, {margin} over its limit: fit a larger pulley on it.",
            ),
            rank="main",
        ),
        Answer(
            "accessory_idle",
            "Accessory speed at idle",
            of="rotation",
            decimals=_SPEED,
            tolerance=0.1,
            uncertainty=20.0,
            by=(blower.rotor_speed,),
            rank="second",
            note="An alternator that turns too slowly at idle does not charge: see its curve.",
        ),
        Answer(
            "faster",
            "Faster than before",
            of="percent",
            decimals={"pct": 1},
            tolerance=0.01,
            uncertainty=1.0,
            rank="second",
            optional=True,
        ),
        Answer(
            "pulley_for_limit",
            "Smallest pulley that keeps to its limit",
            of="length",
            decimals={"mm": 1, "in": 2},
            tolerance=0.01,
            uncertainty=1.0,
            rank="second",
            optional=True,
        ),
        Answer(
            "accessory_ratio",
            "Accessory turns for one of the engine",
            of="ratio",
            decimals={"": 3},
            tolerance=1e-9,
            uncertainty=0.02,
            by=(belts.speed_ratio,),
        ),
        Answer(
            "belt_speed",
            "Belt speed at the limiter",
            of="speed",
            decimals={"mps": 1, "fpm": 0},
            tolerance=1e-3,
            uncertainty=0.5,
            by=(belts.belt_speed,),
        ),
    ),
    workings=(
        Working("line_allowance", "Added to what was measured", of="length", unit="mm", decimals=1),
        Working("crank_pitch", "Crank pitch diameter", sign="d_c", of="length", unit="mm"),
        Working("accessory_pitch", "Accessory pitch diameter", sign="d_a", of="length", unit="mm"),
        Working("pitch_for_limit", "Pitch diameter for the limit", of="length", unit="mm"),
    ),
    views=Views(
        curves=(
            CurveView(
                "Accessory speed against its pulley",
                "accessory_speed",
                "accessory_pulley",
                tuple(45.0 + 2.5 * n for n in range(19)),
            ),
        ),
    ),
    cautions=(
        "The accessory maker's speed limit overrules this page; so does his least speed.",
        "Belts and fans start without warning. Engine off and key out before a hand goes near.",
    ),
    sources=(
        "Ratio of pitch diameters: ISO 9981, clause 5.4. Rib tips level with the effective line: "
        "common practice.",
    ),
    leaves_out=("Slip that grows with the accessory's load.",),
)
