"""Slip from measured boost: how fast must the rotors have turned to make it.

The boost page as a whole, asked for the rotor speed that a measured boost needs; what is missing
from the speed that the pulleys would give is slip. Everything else that lowers boost looks like
slip too, so the page says what to rule out first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calc.belts import slip_from_ratio
from calc.domain import Real
from site_src.lookups import boost
from site_src.model.answers import Answer, Band, CurveView, Views, Working
from site_src.model.compose import Link
from site_src.model.fields import Field, Number
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, linear
from site_src.tables.recipe import Look, Product, Sum

Floats = NDArray[np.float64]

SOUND_SLIP = 0.01
"""Slip of a sound ribbed belt, which the expected boost allows for. Common practice."""

NEAR_SLIP, MOST_SLIP = 0.03, 0.05
"""Slip from which a belt needs looking at, and over which it burns. Common practice."""

LEAST_FOUND, MOST_FOUND = -0.03, 0.5
"""Slips that are believed. A little under nought is the model's and the gauge's error."""

EDGE = 1e-9
"""How far inside the calculation's own limits the recipe falls silent."""

BOOST = Link("boost", boost.LOOKUP, feeds={"wanted_boost": "measured_boost", "slip": "sound_slip"})


# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    measured = np.asarray(given["measured_boost"], dtype=np.float64)
    engine_speed = np.asarray(given["engine_speed"], dtype=np.float64)
    found = BOOST.direct(
        given, {"wanted_boost": measured, "slip": np.full(measured.shape, SOUND_SLIP)}
    )
    needed = found["rotor_speed_for_boost"]
    ratio, expected = needed / engine_speed, found["drive_ratio"]
    believed = (ratio >= (1.0 - MOST_FOUND) * expected) & (ratio <= (1.0 - LEAST_FOUND) * expected)
    slip = slip_from_ratio(np.where(believed, ratio, expected), expected)
    return {
        "slip_found": np.where(believed, slip, np.nan),
        "expected_boost": found["boost"],
        "boost_missing": found["boost"] - measured,
        "rotor_speed_there": needed,
        "rotor_speed_without_slip": engine_speed * found["drive_ratio"],
    }


# --- tables and recipe -----------------------------------------------------------------------


def _same(value: Real) -> Real:
    """Return what it is given: a table of it is a range check."""
    return value


TABLES = (
    *BOOST.tables,
    TableSpec(
        "slip_believed",
        _same,
        (linear("value", "slip", LEAST_FOUND + EDGE, MOST_FOUND - EDGE),),
        1e-12,
        numbers="f8",
    ),
)

_TOO_GOOD = (
    "More boost than these pulleys give without any slip. The crank pulley or the engine's "
    "breathing is entered wrong, or the gauge reads high: calibrate to the kit's stated boost."
)
_TOO_BAD = (
    "Half the rotor speed is missing: no belt slips so and lives. Look for an open bypass, a boost "
    "leak or a wrong entry first."
)

STEPS = (
    Product("sound_slip", (), times=SOUND_SLIP),
    *BOOST.steps,
    Product("rotor_speed_there", ((BOOST.symbol("rotor_speed_for_boost"), 1.0),)),
    Product(
        "rotor_speed_without_slip",
        (("engine_speed", 1.0), (BOOST.symbol("drive_ratio"), 1.0)),
    ),
    Product("share_kept", (("rotor_speed_there", 1.0), ("rotor_speed_without_slip", -1.0))),
    Sum("any_slip", (("share_kept", -1.0),), plus=1.0),
    Look(
        "slip_found",
        "slip_believed",
        ("any_slip",),
        below=(("value", _TOO_GOOD),),
        above=(("value", _TOO_BAD),),
    ),
    Product("expected_boost", ((BOOST.symbol("boost"), 1.0),)),
    Sum("boost_missing", (("expected_boost", 1.0), ("measured_boost", -1.0))),
)


# --- the page --------------------------------------------------------------------------------


def _fields() -> tuple[Field, ...]:
    """Return the measured boost, then what the boost page asks, the quickest first."""
    first = ("engine_speed", "blower_pulley", "crank_pulley")
    measured = Number(
        "measured_boost",
        "Boost you measured",
        Scale("gauge_pressure", unit="kPa", span=(6, 199), default=75, step=1),
        measure="At the manifold, full throttle, steady, at the engine speed below.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        first=True,
    )
    rest = {field.key: replace(field, first=field.key in first) for field in BOOST.fields}
    return (measured, *(rest.pop(key) for key in first), *rest.values())


ANSWERS = (
    Answer(
        "slip_found",
        "Slip",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=3.0,
        band=Band(
            side="max",
            limit=MOST_SLIP,
            near=NEAR_SLIP,
            within="{value} of slip, {margin} under what burns a belt.",
            near_words="{value} of slip: look at tension, wrap and ribs before the next run.",
            beyond="{value} of slip, {margin} over what a belt stands: rule out a leak, then look at "
            "tension, wrap and ribs.",
        ),
        rank="main",
        note="1 % is sound. Good to 3 % once calibrated to a stated rating, no better. Common "
        "practice.",
    ),
    Answer(
        "boost_missing",
        "Boost missing",
        of="gauge_pressure",
        decimals={"kPa": 1, "psi": 1, "bar": 2},
        tolerance=0.02,
        uncertainty=4.0,
        rank="second",
    ),
    Answer(
        "rotor_speed_there",
        "Rotor speed there",
        of="rotation",
        decimals={"rpm": 0},
        tolerance=0.2,
        uncertainty=300.0,
        rank="second",
    ),
    Answer(
        "rotor_speed_without_slip",
        "Rotor speed without slip",
        of="rotation",
        decimals={"rpm": 0},
        tolerance=1e-6,
        uncertainty=50.0,
    ),
    Answer(
        "expected_boost",
        "Boost with a sound belt",
        of="gauge_pressure",
        decimals={"kPa": 1, "psi": 1, "bar": 2},
        tolerance=0.02,
        uncertainty=4.0,
    ),
)

LOOKUP = Lookup(
    key="slip",
    title="Slip from boost",
    short="Slip",
    question="The boost is lower than it should be: how much does the belt slip?",
    stage="drive",
    fields=_fields(),
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("boost.drive_ratio", "Drive ratio of the pulleys"),
        Working("boost.want_ratio", "Drive ratio that the boost needs, at 1 % slip"),
        Working("boost.grip", "1 − slip of a sound belt"),
        Working("boost.engine_efficiency_used", "Engine volumetric efficiency used"),
        Working("boost.want_pressure_ratio", "Pressure ratio measured"),
    ),
    views=Views(
        curves=(
            CurveView(
                "Slip against the boost you might read",
                "slip_found",
                "measured_boost",
                tuple(40.0 + 2.5 * n for n in range(29)),
            ),
        ),
    ),
    cautions=(
        "A slipping belt gets hot and can come off. Stop, key out, and look before the next run.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
    ),
    sources=(
        *boost.LOOKUP.sources,
        "Slips of 1, 3 and 5 % as sound, suspect and burning: common practice.",
    ),
    leaves_out=(
        "A boost leak, an open bypass, a blocked filter and a tired charge cooler also lower "
        "boost. Slip grows with speed and load; a leak lowers boost at all speeds.",
        *boost.LOOKUP.leaves_out,
    ),
)
