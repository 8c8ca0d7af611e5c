"""Slip of the belt, from the blower pulley's own speed, by ear, or from the boost that is missing.

Three ways. A photo-tachometer on the blower pulley sees the slip itself; a second reading at idle
takes the error of the diameters out. By ear (`slip_ear.py`) the blower's tone is held against the
engine's firing. With neither, the boost page's inverse gives the rotor speed
that a measured boost needs, and what is missing from the speed of the pulleys is slip. Everything
else that lowers boost looks like slip too, and how well the engine breathes shifts it by several
per cent, so that way says nothing until it is calibrated to a stated rating.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from calc.belts import slip_from_ratio, speed_ratio
from calc.domain import Real
from site_src.lookups import boost, slip_ear
from site_src.model.answers import Answer, Band, Working
from site_src.model.entries import ChosenAlways, Entries
from site_src.model.fields import Field, Number, Scale, When
from site_src.model.lookup import Lookup
from site_src.tables.trace import Refusal, within

SOUND_SLIP = 0.01
"""Slip of a sound ribbed belt, which the expected boost allows for. Common practice."""

NEAR_SLIP, MOST_SLIP = 0.03, 0.05
"""Slip from which a belt needs looking at, and over which it burns. Common practice."""

LEAST_FOUND, MOST_FOUND = -0.03, 0.5
"""Slips that are believed. A little under nought is the model's and the gauge's error."""

HAIR = 1e-4
"""The error of the speeds that boost is worked out from, over the slips believed, is below this."""

LIKE_SLIP, NOT_SLIP = 0.03, 0.05
"""Missing boost over measured slip from which it is questioned, and is surely no slip. Common
practice: what the way by boost is good for."""

NOT_CALIBRATED = (
    "Boost says nothing of slip until it is calibrated: enter the boost, pulley and engine speed "
    "that the kit states. Better: read the blower pulley with a photo-tachometer, or listen with "
    "the phone."
)
_TOO_GOOD = (
    "More boost than these pulleys give without any slip, by the stated rating. Is the pulley of "
    "the rating right, and the crank pulley? Does the gauge read high?"
)
_PULLEY_RATIOS = (0.3, 10.0)
_NO_SUCH_RATIO = (
    "No pulleys give such a ratio at idle: were both speeds read at the same moment, in the same "
    "unit, with one mark each?"
)
_TURNS_TOO_FAST = (
    "The pulley turns faster than a belt can drive it. One reflective mark only? Both readings at "
    "the same moment? Else a diameter is wrong: read it at idle too."
)
_TURNS_TOO_SLOW = (
    "Half the pulley's speed is missing: no belt slips so and lives. Does the tachometer miss the "
    "mark, or is a diameter or a reading wrong?"
)
_TOO_BAD = (
    "Half the rotor speed is missing: no belt slips so and lives. Look for an open bypass, a boost "
    "leak or a wrong entry first."
)


FROM_BOOST = (
    Working("drive_ratio", "Drive ratio of the pulleys", sign="r"),
    Working("want_ratio", "Drive ratio that the boost needs, at 1 % slip"),
    Working("engine_efficiency_used", "Engine volumetric efficiency by the stated rating"),
    Working("want_pressure_ratio", "Pressure ratio measured"),
)
"""Values on the way that the boost page works out, as they are called here."""


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work slip out each way; the tachometer's comes first, then the ear's."""
    found = {**_by_tachometer(e), **_by_boost(e)}
    found |= slip_ear.by_ear(e, *_cord_diameters(e))
    read, heard, missed = (found[f"slip_by_{way}"] for way in ("tacho", "ear", "boost"))
    calibrated = e.if_entered("rating_boost", missed, Refusal(NOT_CALIBRATED))
    # By ear the error is known: a belt is suspect as soon as it may slip that much.
    suspect = e.if_entered("ear_blower", NEAR_SLIP - found["ear_unsure"], NEAR_SLIP)
    seen = e.if_entered("tacho_pulley", read, heard)
    return {
        **found,
        "slip_found": e.if_entered(
            "tacho_pulley", read, e.if_entered("ear_blower", heard, calibrated)
        ),
        "slip_suspect": e.if_entered("tacho_pulley", NEAR_SLIP, suspect),
        "not_slip": missed - seen,
    }


def _cord_diameters(e: Entries) -> tuple[Real, Real]:
    """Return the diameters on which the belt's cord runs, crank pulley's and blower pulley's."""
    allowance = boost.line_allowance(e)
    return e["crank_pulley"] + allowance, e["blower_pulley"] + allowance


def _by_tachometer(e: Entries) -> dict[str, Real]:
    """Hold the pulley's speed against what it would be without slip."""
    pulleys = speed_ratio(*_cord_diameters(e))
    idle = within(
        e["idle_pulley"] / e["idle_engine"],
        *_PULLEY_RATIOS,
        below=_NO_SUCH_RATIO,
        above=_NO_SUCH_RATIO,
    )
    sound = e.if_entered("idle_pulley", idle, pulleys)
    turned = e["tacho_pulley"] / e["tacho_engine"]
    believed = within(
        turned / sound,
        1.0 - MOST_FOUND,
        1.0 - LEAST_FOUND,
        below=_TURNS_TOO_SLOW,
        above=_TURNS_TOO_FAST,
        gives=turned,
    )
    return {
        "pulley_ratio": pulleys,
        "idle_ratio": idle,
        "sound_ratio": sound,
        "turned_ratio": turned,
        "slip_by_tacho": slip_from_ratio(believed, sound),
        "diameters_off": idle / pulleys - 1.0,
    }


def _by_boost(e: Entries) -> dict[str, Real]:
    """Ask the boost page for the rotor speed that the boost needs, and see what is missing."""
    calibrated = replace(e, choices={**e.choices, "efficiency_from": ChosenAlways("rating")})
    found = boost.LOOKUP.chained(calibrated, wanted_boost=e["measured_boost"], slip=SOUND_SLIP)
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
        "slip_by_boost": slip_from_ratio(believed, expected),
        "expected_boost": found["boost"],
        "boost_missing": found["boost"] - e["measured_boost"],
        "rotor_speed_there": there,
        "rotor_speed_without_slip": e["engine_speed"] * expected,
    }


# --- the page --------------------------------------------------------------------------------


def _reading(key: str, label: str, span: tuple[float, float], measure: str) -> Number:
    """Return the optional entry of a speed that was read."""
    return Number(
        key,
        label,
        Scale("rotation", unit="rpm", span=span, default=None, step=10),
        measure=measure,
        way_out="Read it again, steady, with one mark only.",
    )


_STATED = {
    "rating_boost": "Boost that the kit states",
    "rating_pulley": "Blower pulley of that boost",
    "rating_engine_speed": "Engine speed of that boost",
}
"""What calibrates the way by boost; never assumed."""

_UNASKED = (
    "wanted_boost",
    "slip",
    "rotor_limit",
    "limiter_speed",
    "efficiency_from",
    "engine_efficiency",
    "rating_power",
    "rating_power_at",
)
"""What the boost page asks and this page feeds, or what does not matter here."""

READINGS = (
    _reading(
        "tacho_pulley",
        "Blower pulley, by photo-tachometer",
        (300, 30000),
        "The better way. One strip of reflective tape on the pulley's face, the tachometer clamped "
        "and read from outside the belt's plane, full load, steady.",
    ),
    _reading(
        "tacho_engine",
        "Engine speed at that moment",
        (300, 10000),
        "From a second mark on the crank pulley, or the logger; 1 % wrong here is 1 % of slip.",
    ),
    _reading(
        "idle_pulley",
        "Blower pulley at idle",
        (300, 10000),
        "Same mark, bypass open, no load: hardly any slip. It takes the diameters' error out.",
    ),
    _reading("idle_engine", "Engine speed at that idle", (300, 4000), "At the same moment."),
)


def _fields() -> tuple[Field, ...]:
    """Return the readings, then what the boost page asks, the quickest first."""
    measured = Number(
        "measured_boost",
        "Boost you measured",
        Scale("gauge_pressure", unit="kPa", span=(6, 199), default=None, step=1),
        measure="At the manifold, full throttle, steady, at the engine speed below.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        first=True,
    )
    rest = {field.key: replace(field, first=False, when=_always(field)) for field in _asked()}
    speed = replace(rest.pop("engine_speed"), label="Engine speed of the boost you measured")
    stated = [rest.pop(key) for key in _STATED]
    pulleys = [replace(rest.pop(key), first=True) for key in ("blower_pulley", "crank_pulley")]
    tacho = [replace(field, first=field.key.startswith("tacho")) for field in READINGS]
    return (*slip_ear.FIELDS, *tacho, *pulleys, measured, speed, *stated, *rest.values())


def _asked() -> list[Field]:
    """Return what the boost page asks and this page passes on; a rating's figures left blank."""
    fields = [field for field in boost.LOOKUP.fields if field.key not in _UNASKED]
    return [
        replace(
            field,
            label=_STATED[field.key],
            scale=replace(field.scale, default=None),
            measure=f"From the kit's sheet. {field.measure}".strip(),
        )
        if isinstance(field, Number) and field.key in _STATED
        else field
        for field in fields
    ]


def _always(field: Field) -> When:
    """Return a field's condition, unless it is one on what this page takes for granted."""
    return None if field.when and field.when[0] in _UNASKED else field.when


_slip = partial(
    Answer,
    of="percent",
    by=(slip_from_ratio,),
    decimals={"pct": 1},
    tolerance=0.01,
)
"""Makes an answer that is a slip."""

_boost = partial(
    Answer,
    of="gauge_pressure",
    decimals={"kPa": 1, "psi": 1, "bar": 2},
    tolerance=0.02,
    uncertainty=4.0,
    optional=True,
)
"""Makes an answer that is a boost."""

ANSWERS = (
    _slip(
        "slip_found",
        "Slip",
        uncertainty=3.0,
        band=Band(
            side="max",
            limit=MOST_SLIP,
            near="slip_suspect",
            within="{value} of slip, {margin} under what burns a belt.",
            near_words="{value} of slip: look at tension, wrap and ribs before the next run.",
            beyond="{value} of slip, {margin} over what a belt stands: look at tension, wrap and "
            "ribs. Known by boost alone, rule out a leak first.",
        ),
        rank="main",
        optional=True,
        note="By the tachometer where it was read, good to 1 %; else by ear, with its own ±; else "
        "by boost, good to 3 % and no better. 1 % is sound. Common practice.",
    ),
    _slip(
        "slip_by_tacho",
        "Slip, by the tachometer",
        uncertainty=1.0,
        rank="second",
        note="With a reading at idle too, good to 0.3 %.",
        optional=True,
    ),
    slip_ear.ANSWERS[0],
    slip_ear.ANSWERS[1],
    _slip("slip_by_boost", "Slip, by boost", uncertainty=3.0, rank="second", optional=True),
    Answer(
        "not_slip",
        "Missing by boost, but not slip",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=3.0,
        band=Band(
            side="max",
            limit=NOT_SLIP,
            near=LIKE_SLIP,
            within="Boost and tachometer agree: what is missing is slip.",
            near_words="Boost misses {value} more than the belt slips: smoke-test for a leak, look "
            "at the bypass.",
            beyond="Boost misses {value} more than the belt slips: not the belt. A leak, an open "
            "bypass, a blocked filter or a hot charge.",
        ),
        optional=True,
    ),
    _boost("boost_missing", "Boost missing", rank="second"),
    Answer(
        "diameters_off",
        "Ratio at idle against the diameters",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.001,
        uncertainty=0.3,
        note="Over 1 % a diameter is measured wrong, most often the crank pulley's.",
        optional=True,
    ),
    Answer(
        "rotor_speed_there",
        "Rotor speed that the boost needs",
        of="rotation",
        sign="N",
        decimals={"rpm": 0},
        tolerance=0.2,
        uncertainty=300.0,
        optional=True,
    ),
    Answer(
        "rotor_speed_without_slip",
        "Rotor speed without slip",
        of="rotation",
        decimals={"rpm": 0},
        tolerance=1e-6,
        uncertainty=50.0,
    ),
    _boost("expected_boost", "Boost with a sound belt"),
    *slip_ear.ANSWERS[2:],
)

LOOKUP = Lookup(
    key="slip",
    title="Belt slip",
    short="Slip",
    question="The boost is lower than it should be: how much does the belt slip?",
    stage="drive",
    fields=_fields(),
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        *FROM_BOOST,
        Working("ratio_there", "Rotor turns for one of the engine, by the boost", sign="r_m"),
        Working("pulley_ratio", "Pulley turns for one of the engine, by the diameters", sign="r_d"),
        Working("idle_ratio", "The same as read at idle", sign="r_i"),
        Working("sound_ratio", "The same without slip", sign="r_0"),
        Working("turned_ratio", "The same as read under load", sign="r_t"),
        *slip_ear.WORKINGS,
    ),
    cautions=(
        "A slipping belt gets hot and can come off. Stop, key out, and look before the next run.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
        "By ear, the phone is clamped or held by somebody who does not drive, clear of belt, fan "
        "and hot parts. Full load only on a dynamometer or with a passenger who listens.",
        "Never hold a tachometer in the plane of a running belt, and let nobody stand there: clamp "
        "it, and read from the side.",
    ),
    sources=(
        *boost.LOOKUP.sources,
        "Slips of 1, 3 and 5 % as sound, suspect and burning: common practice.",
        "Lobes × rotor speed as the blower's tone, half the cylinders × crank speed as the firing: "
        "by what they are. Uncertainties add as squares: JCGM 100:2008 (GUM), 5.1.",
        "What moves the speed loss of a ribbed belt, measured: Balta, Sonmez and Cengiz, Speed "
        "losses in V-ribbed belt drives, Mechanism and Machine Theory 86 (2015), 1–14.",
    ),
    leaves_out=(
        "A boost leak, an open bypass, a blocked filter and a tired charge cooler also lower "
        "boost. Slip grows with speed and load; a leak lowers boost at all speeds.",
        "By ear: whatever else the belt turns and sings near the blower's tone, such as an "
        "alternator, a pump with vanes or a fan. Ancillaries off; look at whether both tones move "
        "when the engine speed does.",
        *boost.LOOKUP.leaves_out,
    ),
)
