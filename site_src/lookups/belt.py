"""Belt: does it hold, how tight must it be, how fast does it run, does it run true.

One curved relation serves the grip: the share of the tight run's tension that the slack run keeps
when the belt is about to slide, e^(−μθ). Looked up forward it gives the power that passes, the
least tension and the ribs; looked up backward, the wrap that is needed. Two more tables bend: the
pull on a bearing over the wrap, and small angles from gaps.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from calc import belts as calc
from calc.domain import Real
from site_src.data.belts import Figure, alignment_limits, grip_figures, section
from site_src.lookups import boost
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import greatest, least, tabulated, within

PK, GRIP, ALIGNMENT = section("PK"), grip_figures(), alignment_limits()

HIGHEST_SPEED = 100.0
"""Belt speed up to which this page works, m/s."""

HIGHEST_PULL = 10e3
"""Pull up to which this page works, N."""

MOST_RIBS = 40.0
"""Ribs up to which a belt of this kind is made."""

NEAR_GRIP = 1.1
"""Power over what is needed under which the belt is called near its limit. Common practice."""

NEAR_WRAP = 0.95
"""Share of the wrap there is from which the wrap needed is called near it."""

NEAR_DIAMETER = 1.2
"""Diameter over the least under which a pulley is called small. Common practice."""

NEAR_ANGLE = 0.8
"""Share of the alignment limit from which a drive is called near it."""

HAIR = 1e-6
"""The table's error in the ribs needed, over their range, is below this."""

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
_TOO_MANY_RIBS = (
    "Over 40 ribs, more than a belt of this kind has. Look at power, wrap and tension per "
    "rib, and their units."
)


# --- tables ----------------------------------------------------------------------------------


def _slack_ratio(exponent: Real) -> Real:
    """Slack over tight run, over the exponent −μθ."""
    friction = 0.2
    return calc.slack_ratio(friction, -exponent / friction)


def _gap_angle(slope: Real) -> Real:
    """Angle of a gap over a distance."""
    distance = 0.2
    return calc.misalignment_angle(slope * distance, distance)


_WRAPS = (60.0, 270.0)

EXP = tabulated(
    "exp",
    _slack_ratio,
    cubic("exponent", "exponent", -4.0, -0.004),
    tolerance=1e-8,
    by=(calc.slack_ratio,),
)
CHORD = tabulated(
    "chord",
    calc.chord,
    cubic("wrap", "wrap", math.radians(_WRAPS[0]), math.radians(_WRAPS[1])),
    tolerance=1e-7,
)
ARCTAN = tabulated(
    "arctan",
    _gap_angle,
    cubic("slope", "gap over distance", 0.0, 0.25),
    tolerance=1e-6,
    monotone=True,
    numbers="f4",
    by=(calc.misalignment_angle,),
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out speeds, grip, tensions and loads, and how true the belt runs."""
    found = {**boost.drive(e)}
    found["blower_effective"] = calc.effective_diameter_from_pitch(
        found["blower_pitch"], PK.line_differential.value
    )
    found |= _running(e, found["crank_pitch"])
    found |= _grip(e, found)
    found |= _tensions(e, found)
    return found | _alignment(e) | {"rotor_near": boost.NEAR_ROTORS * e["rotor_limit"]}


def _running(e: Entries, crank: Real) -> dict[str, Real]:
    """Work out speed, pull, and what the belt's own mass takes of the tension."""
    any_speed = calc.belt_speed(crank, e["engine_speed"])
    speed = within(any_speed, 0.0, HIGHEST_SPEED, above=_TOO_FAST)
    needed = e["drive_power"] * (1.0 + e["power_margin"])
    mass = e["belt_ribs"] * e["mass_per_rib"]
    own_of_rib = calc.centrifugal_tension(e["mass_per_rib"], speed)
    return {
        "belt_speed": speed,
        "best_speed": calc.max_power_speed(e["tension_per_rib"], e["mass_per_rib"]),
        "power_needed": needed,
        "grip_near": NEAR_GRIP * needed,
        "pull": within(needed / speed, 0.0, HIGHEST_PULL, above=_TOO_STRONG),
        "belt_mass": mass,
        "centrifugal_tension": calc.centrifugal_tension(mass, speed),
        "rib_room": e["tension_per_rib"] - own_of_rib,
    }


def _grip(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the power that passes, and the wrap and the ribs that are needed."""
    wrap = least(e["blower_wrap"], e["crank_wrap"])
    angle = e["grip_friction"] * wrap
    ratio = EXP(-angle)
    room = e["belt_ribs"] * greatest(f["rib_room"], 0.0)
    enough = within(f["rib_room"], 0.0, None, below=_NO_ROOM)
    ratio_needed = calc.slack_ratio_needed(f["pull"], e["belt_ribs"] * enough)
    angle_needed = -EXP.where(
        "exponent", ratio_needed, below={"exponent": _NO_WRAP}, above={"exponent": _ANY_WRAP}
    )
    tight = calc.tight_for_pull(f["pull"], ratio)
    return {
        "wrap_there": wrap,
        "wrap_near": NEAR_WRAP * wrap,
        "grip_angle": angle,
        "slack_ratio": ratio,
        "room": room,
        "grip_power": calc.pull_held(room, ratio) * f["belt_speed"],
        "ratio_needed": ratio_needed,
        "angle_needed": angle_needed,
        "wrap_needed": angle_needed / e["grip_friction"],
        "tight_working": tight,
        "ribs_needed": within(tight / enough, 0.0, MOST_RIBS, above=_TOO_MANY_RIBS, hair=HAIR),
        "ribs_near": e["belt_ribs"] / NEAR_GRIP,
    }


def _tensions(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the tensions, the power at the tension that is there, and the bearing's load."""
    ratio, tight, own = f["slack_ratio"], f["tight_working"], f["centrifugal_tension"]
    slack, chord = tight * ratio, CHORD(e["blower_wrap"])
    share = e.pick("tensioner", {"spring": ratio, "locked": calc.mean_ratio(ratio)})
    room = greatest(e["belt_tension"] - own, 0.0)
    return {
        "slack_working": slack,
        "set_share": share,
        "least_tension": tight * share + own,
        "tight_tension": tight + own,
        "set_room": room,
        "set_grip_power": calc.pull_held(room / share, ratio) * f["belt_speed"],
        "chord": chord,
        "hub_load": calc.bearing_load(tight, slack, chord),
        "hub_load_at_rest": e["belt_tension"] * chord,
    }


def _alignment(e: Entries) -> dict[str, Real]:
    """Work out offset and misalignment from the straightedge."""
    offset = calc.offset_from_gaps(e["gap_near"], e["gap_far"], e["rim_difference"])
    growth = e["gap_far"] - e["gap_near"]
    offset_angle = ARCTAN(greatest(offset, -offset) / e["alignment_span"])
    tilt_angle = ARCTAN(greatest(growth, -growth) / e["gap_distance"])
    return {
        "plane_offset": offset,
        "offset_angle": offset_angle,
        "tilt_angle": tilt_angle,
        "misalignment": offset_angle + tilt_angle,
        "misalignment_near": NEAR_ANGLE * e["alignment_limit"],
    }


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
_LIMIT = round(math.degrees(ALIGNMENT.ribbed.value), 6)
_GAP = Scale("length", unit="mm", span=(-5, 5), default=None, step=0.1)
_RULE_AND_FEELER = "Straightedge on the crank pulley's rim; feeler or rule at the blower pulley's."
_FAR_OUT = "So far out it can be seen: bring the bracket near first."

FIELDS = (
    Number(
        "drive_power",
        "Power to turn the blower",
        Scale("power", unit="kW", span=(1, 200), default=38, step=1),
        sign="P",
        measure="From the page “Boost by pulley”, at the engine speed below.",
        way_out="Take it from the page “Boost by pulley”.",
        first=True,
    ),
    Number(
        "belt_ribs",
        "Ribs",
        Scale("ratio", unit="", span=(3, 20), default=10, step=1, stock=_RIBS),
        sign="z",
        measure="Count them. The belt's name has them too: 10 in 10PK1250.",
        way_out="Count the ribs of the belt, not the grooves of the pulley.",
        first=True,
    ),
    Number(
        "blower_wrap",
        "Wrap on the blower pulley",
        Scale("angle", unit="deg", span=_WRAPS, default=170, step=5),
        sign="θ_b",
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
        sign="T",
        measure="From the page “Belt tension by ear”, engine off. Leave empty if not known.",
        way_out="Measure it by ear, or leave it empty.",
    ),
    Number(
        "crank_wrap",
        "Wrap on the crank pulley",
        Scale("angle", unit="deg", span=_WRAPS, default=180, step=5),
        sign="θ_c",
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
        sign="μ",
        measure=origin(GRIP.friction),
        way_out="Take 0.44 dry, less when wet or worn.",
    ),
    Number(
        "tension_per_rib",
        "Tension a rib may carry",
        Scale("force", unit="N", span=(50, 400), default=GRIP.tension_per_rib.value, step=10),
        sign="T_r",
        measure=origin(GRIP.tension_per_rib),
        way_out="Ask the belt's maker.",
    ),
    Number(
        "mass_per_rib",
        "Mass of a metre of one rib",
        Scale("mass_per_length", "gpm", (10, 50), default=1000 * PK.mass_per_rib.value, step=1),
        sign="m_r",
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
        _GAP,
        sign="g₁",
        measure=f"{_RULE_AND_FEELER} Negative if it stands proud. Leave empty if not measured.",
        way_out=_FAR_OUT,
    ),
    Number(
        "gap_far",
        "Gap at the rim's far edge",
        _GAP,
        sign="g₂",
        measure="The same on the other side of the blower pulley.",
        way_out=_FAR_OUT,
    ),
    Number(
        "gap_distance",
        "Between the two gaps",
        Scale("length", unit="mm", span=(60, 300), default=90, step=5),
        sign="b",
        measure="The pulley's diameter, if read at its edges.",
        way_out="Read the gaps farther apart.",
    ),
    Number(
        "rim_difference",
        "Rims unlike",
        Scale("length", unit="mm", span=(-5, 5), default=0, step=0.1),
        sign="u",
        measure="Rim to first groove on the crank pulley less the same on the blower's.",
        way_out="Measure from rim to first groove on both.",
    ),
    Number(
        "alignment_span",
        "Free belt between the two pulleys",
        Scale("length", unit="mm", span=(50, 1500), default=300, step=10),
        sign="L",
        measure="The shortest run into the blower pulley is the strictest.",
        way_out="Measure the free run, from contact to contact.",
    ),
    Number(
        "alignment_limit",
        "Misalignment allowed",
        Scale("angle", unit="deg", span=(0.05, 1), default=_LIMIT, step=0.05),
        sign="α",
        measure=origin(ALIGNMENT.ribbed),
        way_out="Ribbed belts stand little; ask the belt's maker.",
    ),
)


_passed = partial(
    Answer,
    of="power",
    by=(calc.pull_held,),
    decimals={"kW": 0, "hp": 0},
    tolerance=0.05,
    uncertainty=6.0,
)
"""Makes an answer that is a power the belt passes."""

_enough = partial(Band, side="min", limit="power_needed", near="grip_near")
"""Makes the band that such a power is judged by."""

_tension = partial(Answer, of="force", decimals={"N": 0, "lbf": 0}, tolerance=0.1)
"""Makes an answer that is a tension, or the pull on the bearing that comes of it."""

ANSWERS = (
    _passed(
        "grip_power",
        "Power the belt passes",
        band=_enough(
            within="Belt passes {value}, {margin} over what the blower takes, margin included.",
            near_words="Belt passes {value}, only {margin} over what is needed: more ribs or "
            "more wrap.",
            beyond="Belt passes {value}, {margin} under what is needed: it will slip. Fit more "
            "ribs, or an idler for more wrap.",
        ),
        rank="main",
        note="With the tight side at what its ribs may carry.",
    ),
    _tension(
        "least_tension",
        "Least tension",
        by=(calc.tight_for_pull,),
        uncertainty=60.0,
        rank="second",
        note="Spring-loaded: in the slack run. Locked: in every run, at rest.",
    ),
    Answer(
        "wrap_needed",
        "Wrap needed",
        of="angle",
        by=(calc.wrap_for_tight,),
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
        by=(calc.ribs_needed,),
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
    _passed(
        "set_grip_power",
        "Power it passes at its tension",
        band=_enough(
            within="At its tension the belt passes {value}, {margin} over what is needed.",
            near_words="At its tension the belt passes {value}, only {margin} over what is needed.",
            beyond="At its tension the belt passes {value}, {margin} under what is needed: "
            "tighten it.",
        ),
        optional=True,
    ),
    _tension(
        "tight_tension",
        "Tight run under full pull",
        by=(calc.tight_for_power,),
        uncertainty=60.0,
        note="At the least tension. Tighter set, it carries more.",
    ),
    _tension(
        "hub_load",
        "Pull on the blower's bearing, running",
        by=(calc.bearing_load,),
        uncertainty=120.0,
        note="At the least tension and full pull; hold it against the blower maker's limit.",
    ),
    _tension(
        "hub_load_at_rest",
        "Pull on the blower's bearing, at rest",
        by=(calc.chord,),
        uncertainty=60.0,
        optional=True,
    ),
    replace(boost.LOOKUP.answer("rotor_speed"), rank="more"),
    boost.LOOKUP.answer("drive_ratio"),
    Answer(
        "belt_speed",
        "Belt speed",
        of="speed",
        sign="v",
        by=(calc.belt_speed,),
        decimals={"mps": 1, "fpm": 0},
        tolerance=1e-3,
        uncertainty=0.5,
    ),
    Answer(
        "best_speed",
        "Belt speed that passes the most",
        of="speed",
        by=(calc.max_power_speed,),
        decimals={"mps": 0, "fpm": 0},
        tolerance=1e-3,
        uncertainty=5.0,
        note="Faster, the belt spends its tension on its own mass, and more speed passes less.",
    ),
    _tension(
        "centrifugal_tension",
        "Tension its own mass takes",
        sign="T_c",
        by=(calc.centrifugal_tension,),
        uncertainty=60.0,
    ),
    Answer(
        "blower_effective",
        "Blower pulley, effective diameter",
        of="length",
        by=(calc.effective_diameter_from_pitch,),
        decimals={"mm": 1, "in": 2},
        tolerance=1e-6,
        uncertainty=0.5,
        band=Band(
            side="min",
            limit=PK.minimum_diameter.value,
            near=NEAR_DIAMETER * PK.minimum_diameter.value,
            within="Pulley {value}, {margin} over the smallest for PK.",
            near_words="Pulley {value}, only {margin} over the smallest for PK: hard on the belt.",
            beyond="Pulley {value}, {margin} under the smallest for PK (ISO 9981): the belt cracks "
            "early.",
        ),
        note="Every grooved pulley of the route must pass this.",
    ),
    Answer(
        "misalignment",
        "Misalignment",
        of="angle",
        by=(calc.combined_misalignment,),
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
        sign="d",
        by=(calc.offset_from_gaps,),
        decimals={"mm": 1, "in": 3},
        tolerance=1e-6,
        uncertainty=0.2,
        note="Negative: it stands before it.",
        optional=True,
    ),
)


_force = partial(Working, of="force", unit="N", decimals=0)
_angle = partial(Working, of="angle", unit="deg")
_DRIVE = ("line_allowance", "crank_pitch", "blower_pitch")

WORKINGS = (
    *(working for working in boost.LOOKUP.workings if working.key in _DRIVE),
    Working("power_needed", "Power with margin", of="power", unit="kW", decimals=1),
    _force("pull", "Pull, power with margin over belt speed", sign="F"),
    Working("belt_mass", "Belt's mass", sign="m", of="mass_per_length", unit="gpm", decimals=0),
    _force("rib_room", "What a rib may carry, less what its own mass takes", sign="T_r′"),
    _force("room", "What the ribs may carry, less T_c", sign="T_z"),
    _angle("wrap_there", "Smaller wrap of crank and blower", sign="θ", decimals=0),
    Working("grip_angle", "Friction × wrap", sign="μθ"),
    Working("slack_ratio", "Slack over tight run when it slides, both less T_c", sign="q"),
    Working(
        "ratio_needed",
        "Slack over tight run at full pull and tension, both less T_c",
        sign="q_n",
        by=(calc.slack_ratio_needed,),
    ),
    Working("angle_needed", "Friction × wrap needed", sign="(μθ)_n"),
    _force("tight_working", "Tight run, less T_c", sign="T₁′", by=(calc.tight_for_pull,)),
    _force("slack_working", "Slack run, less T_c", sign="T₂′"),
    Working(
        "set_share",
        "Run whose tension is set, over the tight run, both less T_c",
        sign="k",
        by=(calc.mean_ratio,),
    ),
    _force("set_room", "Tension as set, less T_c", sign="T′"),
    Working("chord", "Pull on the bearing for equal runs, over their tension", sign="c"),
    _angle("offset_angle", "Angle of the offset", sign="α₁", decimals=2),
    _angle("tilt_angle", "Angle of the tilt", sign="α₂", decimals=2),
)

LOOKUP = Lookup(
    key="belt",
    title="Belt drive",
    short="Belt",
    question="Will the belt hold, how tight must it be, and does it run true?",
    stage="drive",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
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
