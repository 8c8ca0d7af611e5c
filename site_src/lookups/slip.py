"""Slip from measured boost: how fast must the rotors have turned to make it.

The boost page as a whole, asked for the rotor speed that a measured boost needs; what is missing
from the speed that the pulleys would give is slip. Everything else that lowers boost looks like
slip too, so the page says what to rule out first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc.belts import slip_from_ratio
from calc.domain import Real
from site_src.lookups import boost
from site_src.model.answers import Answer, Band, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Field, Number, Scale
from site_src.model.lookup import Lookup
from site_src.tables.trace import within

SOUND_SLIP = 0.01
"""Slip of a sound ribbed belt, which the expected boost allows for. Common practice."""

NEAR_SLIP, MOST_SLIP = 0.03, 0.05
"""Slip from which a belt needs looking at, and over which it burns. Common practice."""

LEAST_FOUND, MOST_FOUND = -0.03, 0.5
"""Slips that are believed. A little under nought is the model's and the gauge's error."""

HAIR = 1e-4
"""The error of the speeds that boost is worked out from, over the slips believed, is below this."""

_TOO_GOOD = (
    "More boost than these pulleys give without any slip. The crank pulley or the engine's "
    "breathing is entered wrong, or the gauge reads high: calibrate to the kit's stated boost."
)
_TOO_BAD = (
    "Half the rotor speed is missing: no belt slips so and lives. Look for an open bypass, a boost "
    "leak or a wrong entry first."
)


FROM_BOOST = (
    Working("drive_ratio", "Drive ratio of the pulleys", sign="r"),
    Working("want_ratio", "Drive ratio that the boost needs, at 1 % slip"),
    Working("engine_efficiency_used", "Engine volumetric efficiency used"),
    Working("want_pressure_ratio", "Pressure ratio measured"),
)
"""Values on the way that the boost page works out, as they are called here."""


def reckon(e: Entries) -> Mapping[str, Real]:
    """Ask the boost page for the rotor speed that the boost needs, and see what is missing."""
    found = boost.LOOKUP.chained(e, wanted_boost=e["measured_boost"], slip=SOUND_SLIP)
    there, expected = found["rotor_speed_for_boost"], found["drive_ratio"]
    ratio = there / e["engine_speed"]
    believed = within(
        ratio / expected,
        1.0 - MOST_FOUND,
        1.0 - LEAST_FOUND,
        below=_TOO_BAD,
        above=_TOO_GOOD,
        gives=ratio,
        hair=HAIR,
    )
    return {
        **{working.key: found[working.key] for working in FROM_BOOST},
        "ratio_there": ratio,
        "slip_found": slip_from_ratio(believed, expected),
        "expected_boost": found["boost"],
        "boost_missing": found["boost"] - e["measured_boost"],
        "rotor_speed_there": there,
        "rotor_speed_without_slip": e["engine_speed"] * expected,
    }


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
    rest = {field.key: replace(field, first=field.key in first) for field in boost.LOOKUP.fields}
    for fed_or_no_matter in ("wanted_boost", "slip", "rotor_limit"):
        del rest[fed_or_no_matter]
    return (measured, *(rest.pop(key) for key in first), *rest.values())


ANSWERS = (
    Answer(
        "slip_found",
        "Slip",
        of="percent",
        by=(slip_from_ratio,),
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=3.0,
        band=Band(
            side="max",
            limit=MOST_SLIP,
            near=NEAR_SLIP,
            within="{value} of slip, {margin} under what burns a belt.",
            near_words="{value} of slip: look at tension, wrap and ribs before the next run.",
            beyond="{value} of slip, {margin} over what a belt stands: rule out a leak, then look "
            "at tension, wrap and ribs.",
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
        sign="N",
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
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        *FROM_BOOST,
        Working("ratio_there", "Rotor turns for one of the engine, by the boost", sign="r_m"),
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
