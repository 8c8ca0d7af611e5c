"""Belt: does it hold, how tight must it be, how fast does it run, does it run true.

One curved relation serves the grip: the share of the tight run's tension that the slack run keeps
when the belt is about to slide, e^(−μθ). Looked up forward it gives the power that passes, the
least tension and the ribs; looked up backward, the wrap that is needed. Two more tables bend: the
pull on a bearing over the wrap, and small angles from gaps.

Two engine speeds matter: that of peak power, where the power is known, and the rev limiter, where
the belt spends most on its own mass and the idlers turn fastest.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from calc import belts as calc
from calc.domain import Real
from site_src.data.belts import grip_figures, section
from site_src.lookups import accessory, alignment, boost, tensioner
from site_src.model.answers import Answer, Band, ChartView, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import greatest, least, tabulated, within

PK, GRIP = section("PK"), grip_figures()

BACK_HEIGHT = PK.back_height.value if PK.back_height else 0.0
"""From the belt's back to the middle of its cord, m."""

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

NEAR_SPEED = 0.92
"""Share of a limit of speed from which belt or idler is called near it. Common practice."""

NEAR_STRENGTH = 0.95
"""Share of what the ribs may carry from which a belt is called near it. Common practice."""

NEAR_LOAD = 0.9
"""Share of the bearing's limit from which the pull on it is called near it. Common practice."""

HAIR = 1e-6
"""The table's error in the ribs needed, over their range, is below this."""

_TOO_FAST = (
    "The belt would run at over [100 m/s|328 ft/s]: no ribbed belt does. Check the crank pulley "
    "and the "
    "engine speed."
)
_TOO_STRONG = (
    "So much power at so low a belt speed would tear any belt. Check the power and the engine "
    "speed: they belong together."
)
_LIMITER_LOW = (
    "The rev limiter lies under the engine speed that the power belongs to. Enter the higher of "
    "the two as the limiter."
)
NO_ROOM = (
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
    found |= _at_limiter(e, found)
    return found | alignment.reckon(e) | {"rotor_near": boost.NEAR_ROTORS * e["rotor_limit"]}


def _running(e: Entries, crank: Real) -> dict[str, Real]:
    """Work out speed, pull, and what the belt's own mass takes of the tension."""
    any_speed = calc.belt_speed(crank, e["engine_speed"])
    speed = within(any_speed, 0.0, HIGHEST_SPEED, above=_TOO_FAST)
    needed = (e["drive_power"] + e["accessory_power"]) * (1.0 + e["power_margin"])
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
    enough = within(f["rib_room"], 0.0, None, below=NO_ROOM)
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
    ratio, pull, own = f["slack_ratio"], f["pull"], f["centrifugal_tension"]
    constant, damping = tensioner.constant(e), tensioner.damping(e)
    least_there = calc.resting_tension(pull, ratio, own, constant)
    low = calc.least_reading(least_there, damping)

    def gripping(resting: Real) -> Real:
        return calc.gripping_tension(resting, own, constant)

    def slack_at(resting: Real) -> Real:
        return greatest(calc.slack_from_rest(gripping(resting), pull, constant), 0.0)

    set_gripping, low_gripping = greatest(gripping(e["belt_tension"]), 0.0), gripping(low)
    low_pull = calc.pull_from_rest(greatest(low_gripping, 0.0), ratio, constant)
    resting, chord = e.entered_or("belt_tension", least_there), CHORD(e["blower_wrap"])
    slack, strength = slack_at(resting), e["belt_ribs"] * e["tension_per_rib"]
    return {
        "kept": constant,
        "damping": damping,
        "least_tension": least_there,
        "reading_low": low,
        "reading_high": calc.greatest_reading(least_there, damping),
        "set_gripping": set_gripping,
        "set_grip_power": calc.pull_from_rest(set_gripping, ratio, constant) * f["belt_speed"],
        "set_grip_least": low_pull * f["belt_speed"],
        "slack_tension": f["tight_working"] * ratio + own,
        "tight_tension": f["tight_working"] + own,
        "tight_there": slack_at(e["belt_tension"]) + pull + own,
        "rib_strength": strength,
        "strength_near": NEAR_STRENGTH * strength,
        "resting": resting,
        "slack_there": slack,
        "chord": chord,
        "hub_load": calc.bearing_load(slack + pull, slack, chord),
        "hub_load_at_rest": resting * chord,
        "hub_near": NEAR_LOAD * e["hub_limit"],
    }


def _at_limiter(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out belt speed, grip, tension and idler at the rev limiter.

    The blower is taken to need the same torque there, so that its power grows with the speed.
    """
    faster = within(e["limiter_speed"] / e["engine_speed"], 1.0, None, below=_LIMITER_LOW)
    any_speed = calc.belt_speed(f["crank_pitch"], e["limiter_speed"])
    speed = within(any_speed, 0.0, HIGHEST_SPEED, above=_TOO_FAST)
    needed = (e["drive_power"] * faster + e["accessory_power"]) * (1.0 + e["power_margin"])
    pull = within(needed / speed, 0.0, HIGHEST_PULL, above=_TOO_STRONG)
    own_of_rib = calc.centrifugal_tension(e["mass_per_rib"], speed)
    room = e["belt_ribs"] * greatest(e["tension_per_rib"] - own_of_rib, 0.0)
    own = calc.centrifugal_tension(f["belt_mass"], speed)
    idler = e.pick(
        "idler_side",
        {
            "back": calc.pitch_diameter_of_back_idler(e["idler_diameter"], BACK_HEIGHT),
            "ribs": e["idler_diameter"] + f["line_allowance"],
        },
    )
    return {
        "limiter_ratio": faster,
        "limiter_belt_speed": speed,
        "belt_speed_near": NEAR_SPEED * e["belt_speed_limit"],
        "limiter_power_needed": needed,
        "limiter_grip_near": NEAR_GRIP * needed,
        "limiter_room": room,
        "limiter_grip_power": calc.pull_held(room, f["slack_ratio"]) * speed,
        "limiter_pull": pull,
        "limiter_own": own,
        "limiter_tension": calc.resting_tension(pull, f["slack_ratio"], own, f["kept"]),
        "idler_pitch": idler,
        "idler_speed": calc.pulley_speed(speed, idler),
        "idler_near": NEAR_SPEED * e["idler_limit"],
    }


# --- the page --------------------------------------------------------------------------------


def _from_boost(key: str, first: bool = False) -> Number:
    """Return the boost page's field, which means the same here."""
    return replace(boost.LOOKUP.numbers[key], first=first)


_RIBS = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0)
FIELDS = (
    Number(
        "drive_power",
        "Power to turn the blower",
        Scale("power", unit="kW", span=(1, 200), default=46.5, step=1),
        sign="P",
        measure="From the page “Boost by pulley”, at the engine speed of peak power.",
        way_out="Take it from the page “Boost by pulley”.",
        first=True,
    ),
    Number(
        "belt_ribs",
        "Ribs",
        Scale("ratio", unit="", span=(3, 20), default=14, step=1, stock=_RIBS),
        sign="z",
        measure="Count them. The belt's name has them too: 10 in 14PK1250.",
        way_out="Count the ribs of the belt, not the grooves of the pulley.",
        example="Enter your belt's ribs.",
        first=True,
    ),
    Number(
        "blower_wrap",
        "Wrap on the blower pulley",
        Scale("angle", unit="deg", span=_WRAPS, default=170, step=5),
        sign="θ_b",
        measure="String along the contact: length ÷ diameter × 115 is degrees. Or off a drawing.",
        way_out="A blower pulley needs some 150° and more; move an idler to get it.",
        example="Enter the wrap on your blower pulley.",
        first=True,
    ),
    _from_boost("blower_pulley", first=True),
    _from_boost("crank_pulley"),
    replace(
        boost.LOOKUP.numbers["engine_speed"],
        label="Engine speed of that power",
        measure="Of peak power, where the blower's power is taken from.",
        first=False,
    ),
    replace(accessory.LOOKUP.numbers["limiter_speed"], first=False),
    *tensioner.FIELDS,
    Number(
        "belt_tension",
        "Tension the belt has at rest",
        Scale("force", unit="N", span=(20, 6000), default=None, step=10),
        sign="T",
        measure="From the page “Belt tension by ear”, engine off. Leave empty if not known.",
        way_out="Measure it by ear, or leave it empty.",
    ),
    Number(
        "hub_limit",
        "Pull the blower's bearing may take",
        Scale("force", unit="N", span=(100, 20000), default=None, step=50),
        measure="The blower maker's figure. Left empty, the pull is shown and not judged.",
        way_out="Ask the blower's maker, or leave it empty.",
    ),
    Number(
        "accessory_power",
        "Power of other things on this belt",
        Scale("power", unit="kW", span=(0, 50), default=0, step=0.5),
        sign="P_a",
        measure="All of them at the rev limiter. 0 if the belt turns the blower alone; an "
        "alternator at full charge takes [3 to 5 kW|4 to 6.7 hp]. Common practice.",
        way_out="Add up what the accessories' makers give.",
    ),
    Number(
        "belt_speed_limit",
        "Belt speed allowed",
        Scale(
            "speed",
            unit="mps",
            span=(10, 100),
            default=None,
            step=5,
            inch=Inch(unit="fpm", step=500),
        ),
        measure="The belt maker's figure. Left empty, the speed is shown and not judged.",
        way_out="Ask the belt's maker, or leave it empty.",
    ),
    Number(
        "idler_diameter",
        "Smallest idler",
        Scale("length", unit="mm", span=(30, 200), default=None, step=1),
        measure="Caliper across the face that the belt runs on. The smallest turns fastest.",
        way_out="Measure across the face, not the flanges.",
    ),
    Choice(
        "idler_side",
        "That idler runs on",
        (Option("back", "The belt's back, smooth"), Option("ribs", "The ribs, grooved")),
        "back",
    ),
    Number(
        "idler_limit",
        "Speed limit of the idler's bearing",
        Scale("rotation", unit="rpm", span=(2000, 40000), default=None, step=500),
        measure="Its maker's list, by the number on the seal: grease, contact seals. Left empty, "
        "nothing is judged.",
        way_out="Read the number off the seal and look it up.",
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
        measure=GRIP.power_margin.origin,
        way_out="Over 100 % ask the belt's maker.",
    ),
    Number(
        "grip_friction",
        "Friction along the wrap",
        Scale("ratio", unit="", span=(0.2, 0.8), default=GRIP.friction.value, step=0.02),
        sign="μ",
        measure=GRIP.friction.origin,
        way_out="Take 0.44 dry, less when wet or worn.",
    ),
    Number(
        "tension_per_rib",
        "Tension a rib may carry",
        Scale("force", unit="N", span=(50, 400), default=GRIP.tension_per_rib.value, step=10),
        sign="T_r",
        measure=GRIP.tension_per_rib.origin,
        way_out="Ask the belt's maker.",
    ),
    Number(
        "mass_per_rib",
        "Mass of one rib by length",
        Scale("mass_per_length", "gpm", (10, 50), default=1000 * PK.mass_per_rib.value, step=1),
        sign="m_r",
        measure=PK.mass_per_rib.origin,
        way_out="Weigh the belt: [grams ÷ metres|ounces ÷ feet] ÷ ribs.",
    ),
    replace(
        boost.LOOKUP.choices["diameter_kind"],
        measure="For a ribbed PK belt the cord runs [2 mm|0.079 in] outside the effective line "
        "(ISO 9981).",
    ),
    _from_boost("gear"),
    _from_boost("slip"),
    _from_boost("rotor_limit"),
    *alignment.FIELDS,
)


_carried = partial(
    Answer,
    of="power",
    by=(calc.pull_held,),
    decimals={"kW": 0, "hp": 0},
    tolerance=0.05,
    uncertainty=6.0,
)
"""Makes an answer that is a power the belt can carry."""

_tension = partial(Answer, of="force", decimals={"N": 0, "lbf": 0}, tolerance=0.1)
"""Makes an answer that is a tension, or the pull on the bearing that comes of it."""

ANSWERS = (
    _carried(
        "grip_power",
        "Power the belt can carry",
        band=Band(
            side="min",
            limit="power_needed",
            near="grip_near",
            within="Belt can carry {value}, {margin} over what is needed, margin included.",
            near_words="Belt can carry {value}, only {margin} over what is needed: more ribs or "
            "more wrap.",
            beyond="Belt can carry {value}, {margin} under what is needed: it will slip. Fit more "
            "ribs, or an idler for more wrap.",
        ),
        rank="main",
        note="With the tight side at what its ribs may carry.",
    ),
    _tension(
        "least_tension",
        "Least tension at rest",
        by=(calc.resting_tension,),
        uncertainty=60.0,
        rank="second",
        note="What to set, engine off, in every run. Sprung, the belt tightens itself by m v² as "
        "it runs; locked, that is in this figure.",
    ),
    Answer(
        "wrap_needed",
        "Wrap needed",
        of="angle",
        by=(calc.wrap_for_tight,),
        decimals={"deg": 0},
        tolerance=0.05,
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
    _carried(
        "set_grip_power",
        "Power it grips at its tension",
        by=(calc.pull_from_rest,),
        band=Band(
            side="min",
            limit="set_grip_least",
            near="grip_near",
            within="At its tension the belt grips {value}: it does not slip.",
            near_words="At its tension the belt grips {value}, about what is needed. Sprung: "
            "turn the engine by hand twice and read again, its friction hides that much. Locked: "
            "a little tighter.",
            beyond="At its tension the belt grips {value}, too little: it will slip. Locked: "
            "tighten it to the least tension. Sprung: look at the tensioner's marks and spring.",
        ),
        optional=True,
    ),
    _tension(
        "reading_low",
        "A sound tensioner may read, from",
        by=(calc.least_reading,),
        uncertainty=60.0,
        note="At the least tension; its friction can hold it that far under. Locked, it is none.",
    ),
    _tension(
        "reading_high",
        "A sound tensioner may read, to",
        by=(calc.greatest_reading,),
        uncertainty=60.0,
    ),
    _tension(
        "slack_tension",
        "Slack run, running",
        by=(calc.slack_for_power,),
        uncertainty=60.0,
        note="At the least tension and full pull. Nothing to set: most of it is m v².",
    ),
    _tension(
        "tight_tension",
        "Tight run, running",
        by=(calc.tight_for_power,),
        uncertainty=60.0,
        note="At the least tension and full pull. Tighter set, it carries more.",
    ),
    _tension(
        "tight_there",
        "Tight run, running, at the tension it has",
        uncertainty=60.0,
        band=Band(
            side="max",
            limit="rib_strength",
            near="strength_near",
            within="The tight run carries {value}, {margin} under what its ribs may.",
            near_words="The tight run carries {value}, only {margin} under what its ribs may: no "
            "tighter.",
            beyond="The tight run carries {value}, {margin} over what its ribs may: too tight, or "
            "too few ribs.",
        ),
        optional=True,
    ),
    _tension(
        "hub_load",
        "Pull on the blower's bearing, running",
        by=(calc.bearing_load,),
        uncertainty=120.0,
        band=Band(
            side="max",
            limit="hub_limit",
            near="hub_near",
            within="The belt pulls on the bearing with {value}, {margin} under its limit.",
            near_words="The belt pulls on the bearing with {value}, only {margin} under its limit: "
            "no tighter.",
            beyond="The belt pulls on the bearing with {value}, {margin} over its limit: slacken "
            "it, and look for more wrap instead of more tension.",
        ),
        note="At full pull, and the tension it has, else the least. m v² turns the belt and does "
        "not reach the bearing.",
    ),
    _tension(
        "hub_load_at_rest",
        "Pull on the blower's bearing, at rest",
        by=(calc.chord,),
        uncertainty=60.0,
        note="At the tension it has, else the least.",
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
        "limiter_belt_speed",
        "Belt speed at the rev limiter",
        of="speed",
        by=(calc.belt_speed,),
        decimals={"mps": 1, "fpm": 0},
        tolerance=1e-3,
        uncertainty=0.5,
        band=Band(
            side="max",
            limit="belt_speed_limit",
            near="belt_speed_near",
            within="Belt at {value} at the limiter, {margin} under what it may run.",
            near_words="Belt at {value} at the limiter, only {margin} under what it may run.",
            beyond="Belt at {value} at the limiter, {margin} over what it may run: a smaller crank "
            "pulley, or a lower limiter.",
        ),
    ),
    _carried(
        "limiter_grip_power",
        "Power the belt can carry at the rev limiter",
        band=Band(
            side="min",
            limit="limiter_power_needed",
            near="limiter_grip_near",
            within="At the limiter the belt can carry {value}, {margin} over what is needed.",
            near_words="At the limiter the belt can carry {value}, only {margin} over what is "
            "needed: more ribs or more wrap.",
            beyond="At the limiter the belt can carry {value}, {margin} under what is needed: it "
            "slips there. Fit more ribs, an idler for more wrap, or a smaller crank pulley.",
        ),
    ),
    _tension(
        "limiter_tension",
        "Least tension at rest, for the rev limiter",
        by=(calc.resting_tension,),
        uncertainty=60.0,
        note="Sprung, speed adds nothing to it. Locked, set the higher of the two.",
    ),
    Answer(
        "idler_speed",
        "Idler speed at the rev limiter",
        of="rotation",
        by=(calc.pulley_speed,),
        decimals={"rpm": 0},
        tolerance=0.1,
        uncertainty=200.0,
        band=Band(
            side="max",
            limit="idler_limit",
            near="idler_near",
            within="Idler turns {value} at the limiter, {margin} under its bearing's limit.",
            near_words="Idler turns {value} at the limiter, only {margin} under its bearing's "
            "limit: it will not last. A larger idler.",
            beyond="Idler turns {value} at the limiter, {margin} over its bearing's limit: fit a "
            "larger idler, or a bearing made for it.",
        ),
        optional=True,
    ),
    Answer(
        "best_speed",
        "Belt speed that carries the most power",
        of="speed",
        by=(calc.max_power_speed,),
        decimals={"mps": 0, "fpm": 0},
        tolerance=1e-3,
        uncertainty=5.0,
        note="Faster, the belt spends its tension on its own mass, and more speed carries less.",
    ),
    _tension(
        "centrifugal_tension",
        "m v², what its own mass takes",
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
    *alignment.ANSWERS,
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
    Working("kept", "Tensioner constant", sign="η"),
    Working("damping", "Tensioner's friction over its spring", sign="δ"),
    _force(
        "set_gripping",
        "What T_c leaves of the tension it has at rest",
        sign="T′",
        by=(calc.gripping_tension,),
    ),
    Working(
        "set_grip_least",
        "Power at the lowest reading of a sound tensioner",
        of="power",
        unit="kW",
        decimals=1,
        by=(calc.pull_from_rest,),
    ),
    _force("resting", "Tension at rest that the bearing is reckoned with", sign="T₀"),
    _force(
        "slack_there", "Slack run at that tension, less T_c", sign="T₂″", by=(calc.slack_from_rest,)
    ),
    Working("limiter_ratio", "Rev limiter over engine speed", sign="n_l/n"),
    Working(
        "limiter_power_needed",
        "Power with margin at the limiter, same blower torque",
        of="power",
        unit="kW",
        decimals=1,
    ),
    _force("limiter_room", "What the ribs may carry at the limiter, less T_c there"),
    _force("limiter_pull", "Pull at the limiter"),
    _force("limiter_own", "T_c at the limiter", by=(calc.centrifugal_tension,)),
    Working(
        "idler_pitch",
        "Idler, pitch diameter",
        of="length",
        unit="mm",
        decimals=1,
        by=(calc.pitch_diameter_of_back_idler,),
    ),
    Working("chord", "Pull on the bearing for equal runs, over their tension", sign="c"),
    *alignment.WORKINGS,
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
        charts=(
            ChartView(
                "Power the belt can carry by wrap and ribs",
                "grip_power",
                "blower_wrap",
                (120.0, 135.0, 150.0, 165.0, 180.0, 195.0, 210.0),
                "belt_ribs",
                (6.0, 8.0, 10.0, 12.0, 14.0),
            ),
        ),
        curves=(
            CurveView(
                "Power the belt can carry against engine speed",
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
        "Resting tension, sprung or locked: Beikmann, Perkins and Ulsoy, Design and analysis of "
        "automotive serpentine belt drive systems for steady state performance, J. Mech. Design "
        "119 (1997), 162–168.",
        f"Friction in a sprung tensioner: {tensioner.DAMPING.source}. Common practice.",
        "Pitch diameters, smallest effective diameter of PK pulleys: ISO 9981:2020, 5.4 and 5.2.",
        f"Friction: {GRIP.friction.source}. From memory.",
        f"Tension per rib: {GRIP.tension_per_rib.source}. Common practice.",
        f"Mass per rib: {PK.mass_per_rib.source}. From memory.",
        f"Alignment: {alignment.ALIGNMENT.ribbed.source}. Common practice.",
    ),
    leaves_out=(
        "PK section only: ribs of 3.56 mm pitch.",
        "Where on the route other things take their power: all of the pull is held against the "
        "smaller wrap of crank and blower.",
        "At the limiter the blower is taken to need the same torque as at peak power.",
        "Bending stiffness, creep, heat, water or oil on the ribs, shock loads.",
        "Tight and slack runs are taken as equally long where a tensioner is not ideal.",
        "The tensioner's own lean, its pulley's bearing, and an arm at its stop, where a sprung "
        "tensioner is as good as locked.",
    ),
)
