"""Belt: does it hold, how tight must it be, how fast does it run, does it run true.

One curved relation serves the grip: the share of the belt's working tension that a wrap turns
into pull, 1 − e^(−μθ). Read forward it gives the power that passes, the least tension and the ribs;
read back, the wrap that is needed. Two more tables bend: the pull on a bearing over the wrap, and
small angles from gaps.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calc import belts as calc
from calc.boost import drive_ratio, rotor_speed
from calc.domain import Real
from site_src.data.belts import Figure, alignment_limits, grip_figures, section
from site_src.lookups import boost
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.direct import Limit
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, linear
from site_src.tables.recipe import Inverse, Look, Pick, Product, Sum, greatest, least

Floats = NDArray[np.float64]

PK, GRIP, ALIGNMENT = section("PK"), grip_figures(), alignment_limits()

HIGHEST_SPEED = 100.0
"""Belt speed up to which this page works, m/s."""

HIGHEST_PULL = 10e3
"""Pull up to which this page works, N."""

NEAR_GRIP = 1.1
"""Power over what is needed under which the belt is called near its limit. Common practice."""

NEAR_DIAMETER = 1.2
"""Diameter over the least under which a pulley is called small. Common practice."""

NEAR_ANGLE = 0.8
"""Share of the alignment limit from which a drive is called near it."""

EDGE = 1e-6
"""How far inside the calculation's own limits the recipe falls silent."""

_LEAST_ANGLE, _MOST_ANGLE = 0.004, 4.0
"""Friction times wrap, between which the grip is tabulated."""


RIBS = Limit(
    "belt_ribs_needed",
    "ribs needed",
    0.0,
    40.0,
    above="Over 40 ribs, more than a belt of this kind has. Look at power, wrap and tension per "
    "rib, and their units.",
)

# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    text = ("diameter_kind", "tensioner")
    g = {k: np.asarray(v, dtype=np.float64) for k, v in given.items() if k not in text}
    kind = np.asarray(given["diameter_kind"])
    crank = boost.pitch_diameter(g["crank_pulley"], kind)
    blower = boost.pitch_diameter(g["blower_pulley"], kind)
    ratio = np.asarray(drive_ratio(crank, blower, g["gear"]))
    spring = np.asarray(given["tensioner"]) == "spring"
    return {
        "rotor_speed": np.asarray(rotor_speed(g["engine_speed"], ratio, g["slip"])),
        "drive_ratio": ratio,
        "blower_effective": blower - 2.0 * PK.line_differential.value,
        "best_speed": np.asarray(calc.max_power_speed(g["tension_per_rib"], g["mass_per_rib"])),
        **_grip(g, crank, spring),
        **_alignment(g),
    }


def _grip(g: Mapping[str, Floats], crank: Floats, spring: NDArray[np.bool_]) -> dict[str, Floats]:
    """Return speed, tensions, power, wrap and ribs; NaN where the drive can't be like that."""
    any_speed = np.asarray(calc.belt_speed(crank, g["engine_speed"]))
    slow = any_speed <= HIGHEST_SPEED
    speed = np.where(slow, any_speed, HIGHEST_SPEED)
    needed = g["drive_power"] * (1.0 + g["power_margin"])
    known = slow & (needed / speed <= HIGHEST_PULL)
    power = np.where(known, needed, 0.0)
    mass, wrap = g["belt_ribs"] * g["mass_per_rib"], np.minimum(g["blower_wrap"], g["crank_wrap"])
    allowed = g["belt_ribs"] * g["tension_per_rib"]
    at = (g["grip_friction"], wrap, mass, speed)
    slack = np.asarray(calc.slack_for_power(power, *at))
    tight = np.asarray(calc.tight_for_power(power, *at))
    centrifugal = np.asarray(calc.centrifugal_tension(mass, speed))
    least_tension = np.where(spring, slack, calc.static_for_power(power, *at))
    some = np.nan_to_num(g["belt_tension"])
    set_power = np.where(
        spring, calc.power_from_slack(some, *at), calc.power_from_static(some, *at)
    )
    per_rib = (at[0], wrap, g["mass_per_rib"], speed, g["tension_per_rib"])
    own = g["belt_ribs"] * 0.0
    answers = {
        "least_tension": least_tension,
        "tight_tension": tight,
        "wrap_needed": np.asarray(calc.wrap_for_tight(power, allowed, at[0], mass, speed)),
        "ribs_needed": RIBS.keep(np.asarray(calc.ribs_needed(power, *per_rib))),
        "hub_load": np.asarray(calc.hub_load(tight, slack, centrifugal, g["blower_wrap"])),
    }
    return {
        "belt_speed": np.where(slow, any_speed, np.nan),
        "centrifugal_tension": np.where(slow, centrifugal, np.nan),
        "grip_power": np.where(slow, calc.power_from_tight(allowed, *at), np.nan),
        "set_grip_power": np.where(slow & ~np.isnan(g["belt_tension"]), set_power, np.nan),
        "hub_load_at_rest": np.asarray(calc.hub_load(some, some, own, g["blower_wrap"]))
        + 0.0 * g["belt_tension"],
        **{key: np.where(known, value, np.nan) for key, value in answers.items()},
    }


def _alignment(g: Mapping[str, Floats]) -> dict[str, Floats]:
    """Return offset and misalignment; NaN where the straightedge was not read."""
    read = ~(np.isnan(g["gap_near"]) | np.isnan(g["gap_far"]))
    near, far = np.where(read, g["gap_near"], 0.0), np.where(read, g["gap_far"], 0.0)
    offset = np.asarray(calc.offset_from_gaps(near, far, g["rim_difference"]))
    tilt = calc.tilt_from_gaps(near, far, g["gap_distance"])
    angle = calc.combined_misalignment(offset, g["alignment_span"], tilt)
    return {
        "plane_offset": np.where(read, offset, np.nan),
        "misalignment": np.where(read, angle, np.nan),
    }


# --- tables ----------------------------------------------------------------------------------


def _grip_share(angle: Real) -> Real:
    """Pull over the working tension of the tight side, against friction times wrap."""
    friction = 0.2
    return calc.power_from_tight(1.0, friction, angle / friction, 0.0, 1.0)


def _bearing_share(wrap: Real) -> Real:
    """Pull on a bearing between two runs of equal tension, over that tension."""
    return calc.hub_load(1.0, 1.0, 0.0, wrap)


def _gap_angle(slope: Real) -> Real:
    """Angle of a gap over a distance."""
    distance = 0.2
    return calc.misalignment_angle(slope * distance, distance)


def _same(value: Real) -> Real:
    """Return what it is given: a table of it is a range check."""
    return value


def _check(name: str, label: str, low: float, high: float) -> TableSpec:
    """Declare a range check."""
    return TableSpec(name, _same, (linear("value", label, low, high),), 1e-12, True, numbers="f8")


_WRAPS = (60.0, 270.0)

TABLES = (
    RIBS.table,
    TableSpec(
        "grip_share",
        _grip_share,
        (cubic("angle", "friction times wrap", _LEAST_ANGLE, _MOST_ANGLE),),
        tolerance=1e-8,
        numbers="f8",
    ),
    TableSpec(
        "bearing_share",
        _bearing_share,
        (cubic("wrap", "wrap", math.radians(_WRAPS[0]), math.radians(_WRAPS[1])),),
        tolerance=1e-7,
        numbers="f8",
    ),
    TableSpec(
        "gap_angle",
        _gap_angle,
        (cubic("slope", "gap over distance", 0.0, 0.25),),
        tolerance=1e-6,
        monotone=True,
    ),
    _check("belt_speed_known", "belt speed", 0.0, HIGHEST_SPEED - EDGE),
    _check("belt_pull_known", "pull", 0.0, HIGHEST_PULL - EDGE),
    _check("belt_room", "tension left for the pull", EDGE, 1e6),
)


# --- the recipe ------------------------------------------------------------------------------

_TOO_FAST = (
    "The belt would run at over 100 m/s: no ribbed belt does. Check the crank pulley and the "
    "engine speed."
)
_TOO_STRONG = (
    "So much power at so low a belt speed would tear any belt. Check the power and the engine "
    "speed: they belong together."
)
_NO_ROOM = (
    "At this belt speed the ribs spend all their tension on turning their own mass, and more ribs "
    "bring more mass. Fit a smaller crank pulley."
)
_NO_WRAP = "No wrap is enough: the ribs can't carry this pull. Fit more ribs."
_ANY_WRAP = "So little pull that any wrap holds it."

STEPS = (
    *boost.DRIVE_STEPS,
    Sum("blower_effective", (("blower_pitch", 1.0),), plus=-2.0 * PK.line_differential.value),
    # Speed, pull, and what the tension has left for it.
    Product("any_speed", (("crank_pitch", 1.0), ("engine_speed", 1.0)), times=float(np.pi)),
    Look("belt_speed", "belt_speed_known", ("any_speed",), above=(("value", _TOO_FAST),)),
    Sum("with_margin", (("power_margin", 1.0),), plus=1.0),
    Product("power_needed", (("drive_power", 1.0), ("with_margin", 1.0))),
    Product("any_pull", (("power_needed", 1.0), ("belt_speed", -1.0))),
    Look("pull", "belt_pull_known", ("any_pull",), above=(("value", _TOO_STRONG),)),
    Product("belt_mass", (("belt_ribs", 1.0), ("mass_per_rib", 1.0))),
    Product("centrifugal_tension", (("belt_mass", 1.0), ("belt_speed", 2.0))),
    Product("allowed_tension", (("belt_ribs", 1.0), ("tension_per_rib", 1.0))),
    Sum("any_room", (("allowed_tension", 1.0), ("centrifugal_tension", -1.0))),
    Look("room", "belt_room", ("any_room",), below=(("value", _NO_ROOM),)),
    greatest("room_or_none", "any_room", 0.0),
    # Grip.
    least("wrap_there", "blower_wrap", "crank_wrap"),
    Product("grip_angle", (("grip_friction", 1.0), ("wrap_there", 1.0))),
    Look("grip_share", "grip_share", ("grip_angle",)),
    Sum("slack_share", (("grip_share", -1.0),), plus=1.0),
    Product("grip_power", (("room_or_none", 1.0), ("grip_share", 1.0), ("belt_speed", 1.0))),
    Product("grip_near", (("power_needed", 1.0),), times=NEAR_GRIP),
    Product("share_needed", (("pull", 1.0), ("room", -1.0))),
    Inverse("angle_needed", "grip_share", "angle", "share_needed", below=_ANY_WRAP, above=_NO_WRAP),
    Product("wrap_needed", (("angle_needed", 1.0), ("grip_friction", -1.0))),
    Product("wrap_near", (("wrap_there", 1.0),), times=0.95),
    Product(
        "ribs_reckoned", (("pull", 1.0), ("belt_ribs", 1.0), ("grip_share", -1.0), ("room", -1.0))
    ),
    RIBS.look("ribs_needed", "ribs_reckoned"),
    Product("ribs_near", (("belt_ribs", 1.0),), times=1.0 / NEAR_GRIP),
    # Tensions: what the pull takes of them, and what the belt's own mass takes.
    Product("tight_working", (("pull", 1.0), ("grip_share", -1.0))),
    Product("slack_working", (("tight_working", 1.0), ("slack_share", 1.0))),
    Sum("tight_tension", (("tight_working", 1.0), ("centrifugal_tension", 1.0))),
    Sum("slack_tension", (("slack_working", 1.0), ("centrifugal_tension", 1.0))),
    Sum("static_tension", (("tight_tension", 0.5), ("slack_tension", 0.5))),
    Pick("least_tension", "tensioner", (("spring", "slack_tension"), ("locked", "static_tension"))),
    # Grip at the tension that is there: the pull over the slack side's working tension, or over
    # the mean of both sides'.
    Sum("any_set_room", (("belt_tension", 1.0), ("centrifugal_tension", -1.0))),
    greatest("set_room", "any_set_room", 0.0),
    Sum("both_share", (("slack_share", 0.5),), plus=0.5),
    Pick("set_share", "tensioner", (("spring", "slack_share"), ("locked", "both_share"))),
    Product(
        "set_grip_power",
        (("set_room", 1.0), ("grip_share", 1.0), ("set_share", -1.0), ("belt_speed", 1.0)),
    ),
    # Bearing: cosine rule, with the chord of equal tensions.
    Look("bearing_share", "bearing_share", ("blower_wrap",)),
    Product("pull_squared", (("pull", 2.0),)),
    Product(
        "sideways_squared",
        (("tight_working", 1.0), ("slack_working", 1.0), ("bearing_share", 2.0)),
    ),
    Sum("load_squared", (("pull_squared", 1.0), ("sideways_squared", 1.0))),
    Product("hub_load", (("load_squared", 0.5),)),
    Product("hub_load_at_rest", (("belt_tension", 1.0), ("bearing_share", 1.0))),
    Product(
        "best_speed", (("tension_per_rib", 0.5), ("mass_per_rib", -0.5)), times=float(3.0**-0.5)
    ),
    # Alignment.
    Sum("plane_offset", (("gap_near", 0.5), ("gap_far", 0.5), ("rim_difference", -1.0))),
    Product("set_forward", (("plane_offset", 1.0),), times=-1.0),
    greatest("offset_size", "plane_offset", "set_forward"),
    Product("offset_slope", (("offset_size", 1.0), ("alignment_span", -1.0))),
    Look("offset_angle", "gap_angle", ("offset_slope",)),
    Sum("gap_growth", (("gap_far", 1.0), ("gap_near", -1.0))),
    Product("gap_shrink", (("gap_growth", 1.0),), times=-1.0),
    greatest("gap_change", "gap_growth", "gap_shrink"),
    Product("tilt_slope", (("gap_change", 1.0), ("gap_distance", -1.0))),
    Look("tilt_angle", "gap_angle", ("tilt_slope",)),
    Sum("misalignment", (("offset_angle", 1.0), ("tilt_angle", 1.0))),
    Product("misalignment_near", (("alignment_limit", 1.0),), times=NEAR_ANGLE),
    Product("rotor_near", (("rotor_limit", 1.0),), times=0.92),
)


# --- the page --------------------------------------------------------------------------------


def origin(figure: Figure) -> str:
    """Say where a figure is from and how far it may be trusted."""
    return (
        f"{figure.source[0].upper()}{figure.source[1:]}. {figure.mark[0].upper()}{figure.mark[1:]}."
    )


def _from_boost(key: str, first: bool = False) -> Number:
    """Return the boost page's field, which means the same here."""
    return replace(boost.LOOKUP.numbers[key], first=first)


_RIBS = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0)
_RULE_AND_FEELER = "Straightedge on the crank pulley's rim; feeler or rule at the blower pulley's."

FIELDS = (
    Number(
        "drive_power",
        "Power to turn the blower",
        Scale("power", unit="kW", span=(1, 200), default=38, step=1),
        measure="From the page “Boost by pulley”, at the engine speed below.",
        way_out="Take it from the page “Boost by pulley”.",
        first=True,
    ),
    Number(
        "belt_ribs",
        "Ribs",
        Scale("ratio", unit="", span=(3, 20), default=10, step=1, stock=_RIBS),
        measure="Count them. The belt's name has them too: 10 in 10PK1250.",
        way_out="Count the ribs of the belt, not the grooves of the pulley.",
        first=True,
    ),
    Number(
        "blower_wrap",
        "Wrap on the blower pulley",
        "angle",
        "deg",
        *_WRAPS,
        170.0,
        5.0,
        measure="String along the contact: length ÷ diameter × 115 is degrees. Or off a drawing.",
        way_out="A blower pulley needs some 150° and more; move an idler to get it.",
        first=True,
    ),
    _from_boost("blower_pulley", first=True),
    _from_boost("crank_pulley"),
    _from_boost("engine_speed"),
    Choice(
        "tensioner",
        "Tensioner",
        (
            Option("spring", "Spring-loaded, on the slack side"),
            Option("locked", "Set by hand and locked"),
        ),
        "spring",
        measure="The slack side is the run that leaves the crank pulley.",
    ),
    Number(
        "belt_tension",
        "Tension the belt has",
        Scale("force", unit="N", span=(20, 6000), default=None, step=10),
        measure="From the page “Belt tension by ear”, engine off. Leave empty if not known.",
        way_out="Measure it by ear, or leave it empty.",
    ),
    Number(
        "crank_wrap",
        "Wrap on the crank pulley",
        "angle",
        "deg",
        *_WRAPS,
        180.0,
        5.0,
        measure="The pulley with less wrap slides first.",
        way_out="Move an idler to get more wrap.",
    ),
    Number(
        "power_margin",
        "Margin on the power",
        Scale("percent", unit="pct", span=(0, 100), default=100 * GRIP.power_margin.value, step=5),
        measure=origin(GRIP.power_margin),
        way_out="Over 100 % ask the belt's maker.",
    ),
    Number(
        "grip_friction",
        "Friction along the wrap",
        Scale("ratio", unit="", span=(0.2, 0.8), default=GRIP.friction.value, step=0.02),
        measure=origin(GRIP.friction),
        way_out="Take 0.44 dry, less when wet or worn.",
    ),
    Number(
        "tension_per_rib",
        "Tension a rib may carry",
        Scale("force", unit="N", span=(50, 400), default=GRIP.tension_per_rib.value, step=10),
        measure=origin(GRIP.tension_per_rib),
        way_out="Ask the belt's maker.",
    ),
    Number(
        "mass_per_rib",
        "Mass of a metre of one rib",
        Scale(
            "mass_per_length",
            unit="gpm",
            span=(10, 50),
            default=1000 * PK.mass_per_rib.value,
            step=1,
        ),
        measure=origin(PK.mass_per_rib),
        way_out="Weigh the belt: grams ÷ metres ÷ ribs.",
    ),
    replace(
        boost.LOOKUP.choices["diameter_kind"],
        measure="For a ribbed PK belt the cord runs 2 mm outside the effective line (ISO 9981).",
    ),
    _from_boost("gear"),
    _from_boost("slip"),
    _from_boost("rotor_limit"),
    Number(
        "gap_near",
        "Gap at the rim's near edge",
        Scale("length", unit="mm", span=(-5, 5), default=None, step=0.1),
        measure=f"{_RULE_AND_FEELER} Negative if it stands proud. Leave empty if not measured.",
        way_out="So far out it can be seen: bring the bracket near first.",
    ),
    Number(
        "gap_far",
        "Gap at the rim's far edge",
        Scale("length", unit="mm", span=(-5, 5), default=None, step=0.1),
        measure="The same on the other side of the blower pulley.",
        way_out="So far out it can be seen: bring the bracket near first.",
    ),
    Number(
        "gap_distance",
        "Between the two gaps",
        Scale("length", unit="mm", span=(60, 300), default=90, step=5),
        measure="The pulley's diameter, if read at its edges.",
        way_out="Read the gaps farther apart.",
    ),
    Number(
        "rim_difference",
        "Rims unlike",
        Scale("length", unit="mm", span=(-5, 5), default=0, step=0.1),
        measure="Rim to first groove on the crank pulley less the same on the blower's.",
        way_out="Measure from rim to first groove on both.",
    ),
    Number(
        "alignment_span",
        "Free belt between the two pulleys",
        Scale("length", unit="mm", span=(50, 1500), default=300, step=10),
        measure="The shortest run into the blower pulley is the strictest.",
        way_out="Measure the free run, from contact to contact.",
    ),
    Number(
        "alignment_limit",
        "Misalignment allowed",
        Scale(
            "angle",
            unit="deg",
            span=(0.05, 1),
            default=round(math.degrees(ALIGNMENT.ribbed.value), 6),
            step=0.05,
        ),
        measure=origin(ALIGNMENT.ribbed),
        way_out="Ribbed belts stand little; ask the belt's maker.",
    ),
)

ANSWERS = (
    Answer(
        "grip_power",
        "Power the belt passes",
        of="power",
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=6.0,
        band=Band(
            side="min",
            limit="power_needed",
            near="grip_near",
            within="Belt passes {value}, {margin} over what the blower takes, margin included.",
            near_words="Belt passes {value}, only {margin} over what is needed: more ribs or more wrap.",
            beyond="Belt passes {value}, {margin} under what is needed: it will slip. Fit more ribs, or "
            "an idler for more wrap.",
        ),
        rank="main",
        note="With the tight side at what its ribs may carry.",
    ),
    Answer(
        "least_tension",
        "Least tension",
        of="force",
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=60.0,
        rank="second",
        note="Spring-loaded: in the slack run. Locked: in every run, at rest.",
    ),
    Answer(
        "wrap_needed",
        "Wrap needed",
        of="angle",
        decimals={"deg": 0},
        tolerance=0.02,
        uncertainty=15.0,
        band=Band(
            side="max",
            limit="wrap_there",
            near="wrap_near",
            within="Needs {value} of wrap, {margin} less than there is.",
            near_words="Needs {value} of wrap, only {margin} less than there is.",
            beyond="Needs {value} of wrap, {margin} more than there is: add an idler.",
        ),
        rank="second",
    ),
    Answer(
        "ribs_needed",
        "Ribs needed",
        of="ratio",
        decimals={"": 1},
        tolerance=0.005,
        uncertainty=1.0,
        band=Band(
            side="max",
            limit="belt_ribs",
            near="ribs_near",
            within="Needs {value} ribs, {margin} fewer than fitted.",
            near_words="Needs {value} ribs, only {margin} fewer than fitted.",
            beyond="Needs {value} ribs, {margin} more than fitted. Round up.",
        ),
        rank="second",
    ),
    Answer(
        "set_grip_power",
        "Power it passes at its tension",
        of="power",
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=6.0,
        band=Band(
            side="min",
            limit="power_needed",
            near="grip_near",
            within="At its tension the belt passes {value}, {margin} over what is needed.",
            near_words="At its tension the belt passes {value}, only {margin} over what is needed.",
            beyond="At its tension the belt passes {value}, {margin} under what is needed: tighten it.",
        ),
        optional=True,
    ),
    Answer(
        "tight_tension",
        "Tight run under full pull",
        of="force",
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=60.0,
        note="At the least tension. Tighter set, it carries more.",
    ),
    Answer(
        "hub_load",
        "Pull on the blower's bearing, running",
        of="force",
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=120.0,
        note="At the least tension and full pull; hold it against the blower maker's limit.",
    ),
    Answer(
        "hub_load_at_rest",
        "Pull on the blower's bearing, at rest",
        of="force",
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=60.0,
        optional=True,
    ),
    Answer(
        "rotor_speed",
        "Rotor speed",
        of="rotation",
        decimals={"rpm": 0},
        tolerance=0.1,
        uncertainty=50.0,
        band=Band(
            side="max",
            limit="rotor_limit",
            near="rotor_near",
            within="Rotors {value}, {margin} under the limit.",
            near_words="Rotors {value}, only {margin} under the limit: no room for a missed shift.",
            beyond="Rotors {value}, {margin} over the limit: fit a larger blower pulley.",
        ),
    ),
    Answer(
        "drive_ratio",
        "Rotor turns for one of the engine",
        of="ratio",
        decimals={"": 3},
        tolerance=1e-9,
        uncertainty=0.01,
    ),
    Answer(
        "belt_speed",
        "Belt speed",
        of="speed",
        decimals={"mps": 1, "fpm": 0},
        tolerance=1e-3,
        uncertainty=0.5,
    ),
    Answer(
        "best_speed",
        "Belt speed that passes the most",
        of="speed",
        decimals={"mps": 0, "fpm": 0},
        tolerance=1e-3,
        uncertainty=5.0,
        note="Faster, the belt spends its tension on its own mass, and more speed passes less.",
    ),
    Answer(
        "centrifugal_tension",
        "Tension its own mass takes",
        of="force",
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=60.0,
    ),
    Answer(
        "blower_effective",
        "Blower pulley, effective diameter",
        of="length",
        decimals={"mm": 1, "in": 2},
        tolerance=1e-6,
        uncertainty=0.5,
        band=Band(
            side="min",
            limit=PK.minimum_diameter.value,
            near=NEAR_DIAMETER * PK.minimum_diameter.value,
            within="Pulley {value}, {margin} over the smallest for PK.",
            near_words="Pulley {value}, only {margin} over the smallest for PK: hard on the belt.",
            beyond="Pulley {value}, {margin} under the smallest for PK (ISO 9981): the belt cracks early.",
        ),
        note="Every grooved pulley of the route must pass this.",
    ),
    Answer(
        "misalignment",
        "Misalignment",
        of="angle",
        decimals={"deg": 2},
        tolerance=5e-4,
        uncertainty=0.05,
        band=Band(
            side="max",
            limit="alignment_limit",
            near="misalignment_near",
            within="Out by {value}, {margin} under the limit.",
            near_words="Out by {value}, only {margin} under the limit.",
            beyond="Out by {value}, {margin} over the limit: shim the bracket, or square it up.",
        ),
        optional=True,
    ),
    Answer(
        "plane_offset",
        "Blower pulley behind the crank's plane",
        of="length",
        decimals={"mm": 1, "in": 3},
        tolerance=1e-6,
        uncertainty=0.2,
        note="Negative: it stands before it.",
        optional=True,
    ),
)

LOOKUP = Lookup(
    key="belt",
    title="Belt drive",
    short="Belt",
    question="Will the belt hold, how tight must it be, and does it run true?",
    stage="drive",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("crank_pitch", "Crank pitch diameter", of="length", unit="mm", decimals=1),
        Working("blower_pitch", "Blower pitch diameter", of="length", unit="mm", decimals=1),
        Working("grip", "1 − slip"),
        Working("power_needed", "Power with margin", of="power", unit="kW", decimals=1),
        Working("pull", "Pull, power ÷ belt speed", of="force", unit="N", decimals=0),
        Working("belt_mass", "Belt's mass", of="mass_per_length", unit="gpm", decimals=0),
        Working("allowed_tension", "Tension the ribs may carry", of="force", unit="N", decimals=0),
        Working("room", "Of that, left for the pull", of="force", unit="N", decimals=0),
        Working(
            "room_or_none", "Of that, left for the pull, or none", of="force", unit="N", decimals=0
        ),
        Working(
            "wrap_there", "Smaller wrap of crank and blower", of="angle", unit="deg", decimals=0
        ),
        Working("grip_angle", "Friction × wrap, μθ"),
        Working("grip_share", "1 − e^(−μθ)"),
        Working("angle_needed", "μθ needed"),
        Working("tight_working", "Tight run, less m v²", of="force", unit="N", decimals=0),
        Working("slack_working", "Slack run, less m v²", of="force", unit="N", decimals=0),
        Working("set_room", "Tension as set, less m v²", of="force", unit="N", decimals=0),
        Working("set_share", "e^(−μθ), or half of 1 + e^(−μθ) locked"),
        Working("bearing_share", "2 sin(θ/2)"),
        Working("load_squared", "F², in N²", of="ratio", unit="", decimals=0),
        Working("offset_angle", "Angle of the offset", of="angle", unit="deg", decimals=2),
        Working("tilt_angle", "Angle of the tilt", of="angle", unit="deg", decimals=2),
    ),
    views=Views(
        grids=(
            GridView(
                "Power the belt passes by wrap and ribs",
                "grip_power",
                "blower_wrap",
                (120.0, 135.0, 150.0, 165.0, 180.0, 195.0, 210.0),
                "belt_ribs",
                (6.0, 8.0, 10.0, 12.0, 14.0),
            ),
        ),
        curves=(
            CurveView(
                "Power the belt passes against engine speed",
                "grip_power",
                "engine_speed",
                tuple(1000.0 + 250.0 * n for n in range(29)),
            ),
        ),
    ),
    cautions=(
        "The belt maker's rating and the blower maker's bearing limit overrule this page.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
        "No loose clothing, no gloves and no straightedge near a running belt.",
    ),
    sources=(
        "Grip with centrifugal tension: Euler–Eytelwein; Khurmi & Gupta, Theory of Machines, "
        "ch. 11.",
        "Pitch diameters, smallest effective diameter of PK pulleys: ISO 9981:2020, 5.4 and 5.2.",
        f"Friction: {GRIP.friction.source}. From memory.",
        f"Tension per rib: {GRIP.tension_per_rib.source}. Common practice.",
        f"Mass per rib: {PK.mass_per_rib.source}. From memory.",
        f"Alignment: {ALIGNMENT.ribbed.source}. Common practice.",
    ),
    leaves_out=(
        "PK section only: ribs of 3.56 mm pitch.",
        "Other pulleys that the same belt drives: add their power to the blower's.",
        "Bending stiffness, creep, heat, water or oil on the ribs, shock loads.",
        "Locked centres: tight and slack runs taken as equally long.",
    ),
)
