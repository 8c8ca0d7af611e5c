"""What holds the bolt: the thread it screws into, the face under its head, and the springs of both.

A part of the torque page. A torque worked out there is lowered to what the engaged thread holds
with its margin, and not given at all where the thread would strip first. A figure from the part's
maker is never hidden, since he may know more than was entered here; the thread is held against it
all the same, and the page says what it finds before anything else.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from calc import fasteners, joints, threads
from calc.domain import Real
from site_src.lookups import bolts
from site_src.model.answers import Answer, Band, Working
from site_src.model.entries import Entries
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, choose, least, tabulated, within

STEEL_MODULUS = 206e9
"""Young's modulus of the bolt, Pa. Handbook value for steel; stainless is 5 % springier."""

THREADS_OUT = 2.0
"""Turns that stand out of a nut. US Army TB 43-0218, paragraph 7b."""

STRIPS_AT, LEAST_AT_WORST = 1.0, 1.0
"""Pull that the thread holds over the clamp load, under which it strips: by definition."""

LARGEST_LOAD = 1.9e6
"""Clamp load in N up to which a share of yield is worked out at all."""

# Keeps an engagement that is just enough from failing by a rounding.
_JUST_ENOUGH = 1.0 + 1e-9

_STRIPS = (
    "No setting: the thread would strip before this clamp load is reached. Engage more, aim lower, "
    "or fit an insert."
)
_INSERT_SHORT = (
    "No setting: less thread is engaged than the insert's maker wants. Take a longer bolt, or the "
    "insert and the torque that he names for it."
)
_NUT = "Into a nut: one of the bolt's own class holds as long as all its turns are filled."
_BY_INSERT = "An insert is judged by the engagement that its maker wants."
_LOWERED = "Between stripping and the margin wanted; see how often the thread holds the clamp load."
_ANGLE_FOLLOWS = "An angle follows the torque; the thread is judged by where that ends."
_PICK_PART = "Pick what lies under the head: the angle depends on how it springs."
_ANGLE_TOO_FAR = "So large an angle on so short a bolt: check the angle and the stack."
_YIELDS = (
    "The bolt is taken past yield, where its load no longer follows the angle: no number. "
    "Single use: new bolts each time."
)

# Smooth throughout; cut where its scale changes, so that slopes are sampled finely enough.
CONE_SOFTNESS = tabulated(
    "cone_softness",
    joints.cone_softness,
    cubic("slenderness", "stack over diameter", 0.1, 70.0, kinks=(0.5, 3.0, 15.0)),
    tolerance=1e-6,
    relative=True,
    monotone=True,
)


# --- the calculation -------------------------------------------------------------------------


def thread_holds(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the thread holds for each millimetre engaged, and over all of them."""
    thread, grade = bolts.thread_number(e), bolts.grade_number(e)
    bolt_shear = bolts.STRENGTH(thread, grade, bolts.SHEAR)
    hole_shear = e.pick("tapped", {row.key: row.shear_strength for row in bolts.TAPPED})
    bolt_rate, hole_rate = bolts.BOLT_SHEAR_RATE(thread), bolts.HOLE_SHEAR_RATE(thread)
    bolt_holds = threads.strip_rate(bolt_rate, bolt_shear)
    hole_holds = threads.strip_rate(hole_rate, hole_shear)
    weaker = least(bolt_holds, hole_holds)
    return {
        "bolt_shear_rate": bolt_rate,
        "hole_shear_rate": hole_rate,
        "bolt_shear": bolt_shear,
        "hole_shear": hole_shear,
        "bolt_holds": bolt_holds,
        "hole_holds": hole_holds,
        "weaker": weaker,
        "strip_load": threads.strip_load(e["engaged"], weaker),
    }


def load_held(e: Entries, f: Mapping[str, Real], aim: Real) -> dict[str, Real]:
    """Return the clamp load aimed at, or as much of it as the thread holds with its margin."""
    held = threads.held_load(f["strip_load"], e["strip_factor"])
    in_hole = within(f["strip_load"] / aim, STRIPS_AT, None, below=_STRIPS, gives=least(aim, held))
    long_enough = within(
        e["engaged"] / e["insert_engagement"], 1.0, None, below=_INSERT_SHORT, gives=aim
    )
    in_insert = e.if_entered("insert_engagement", long_enough, aim)
    hole, insert = (e.if_entered("engaged", load, aim) for load in (in_hole, in_insert))
    return {
        "held_load": held,
        "hole_load": hole,
        "insert_load": insert,
        "worked_load": e.pick("joint", {"tapped": hole, "insert": insert, "nut": aim}),
    }


def springs(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out how stiff bolt and clamped parts are."""
    shank = joints.shank_area(f["diameter"])
    area = e.pick("bolt_shape", {"threaded": f["stress_area"], "shank": shank})
    softness = CONE_SOFTNESS(e["stack"] / f["diameter"])
    bolt = joints.axial_stiffness(STEEL_MODULUS, area, e["stack"])
    listed = {row.key: row.modulus for row in bolts.CLAMPED}
    modulus = e.pick("parts", {bolts.NOT_STATED: Refusal(_PICK_PART), **listed})
    parts = joints.clamped_stiffness(modulus, f["diameter"], softness)
    return {
        "parts_modulus": modulus,
        "stretched_area": area,
        "bolt_stiffness": bolt,
        "parts_stiffness": parts,
        "stiffness": joints.series_stiffness(bolt, parts),
    }


def turning(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out stretch and angle, where the maker's angle ends, and what the joint must hold."""
    seat = fasteners.load_for_torque(e["maker_torque"], f["arm"])
    rise = joints.load_for_turn(e["maker_angle"], f["pitch"], f["stiffness"])
    reached = within(seat + rise, 0.0, LARGEST_LOAD, above=_ANGLE_TOO_FAR)
    reach = fasteners.yield_share(reached, f["yield_strength"], f["pull_area"])
    breaks = f["breaking_load"]
    # Where it can't be known how far an angle takes the bolt, the thread must hold its strongest.
    stretched = e.if_entered("stack", least(seat + rise, breaks), breaks)
    parts = {row.key: stretched for row in bolts.CLAMPED}
    turned = e.pick("parts", {bolts.NOT_STATED: breaks, **parts})
    figure = e.if_entered("maker_angle", turned, least(seat, breaks))
    return {
        "stretch": joints.elongation(f["clamp_load"], f["bolt_stiffness"]),
        "turn_angle": joints.turn_angle(f["clamp_load"], f["pitch"], f["stiffness"]),
        "seat_load": seat,
        "angle_load": rise,
        "elastic_reach": reach,
        "clamp_after_angle": within(reach, None, 1.0, above=_YIELDS, gives=reached),
        "angle_end": turned,
        "figure_load": figure,
        "full_load": e.if_entered("maker_torque", figure, f["aimed_load"]),
    }


def thread_judged(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what thread must be engaged, and hold what is engaged against it."""
    engaged, wanted = e["engaged"], e["strip_factor"]
    holds = f["strip_load"] / f["full_load"]
    breaks = threads.engagement_length(f["breaking_load"], f["weaker"])
    for_load = threads.engagement_length(f["full_load"] * wanted, f["weaker"])
    enough = within(holds / wanted, 1.0, None, below=_LOWERED, gives=engaged * _JUST_ENOUGH)
    # Left blank, the limit is what is still to be entered: then the thread is not checked.
    by_insert = e.if_entered("insert_engagement", engaged, e["insert_engagement"])
    guide = e.pick("tapped", {row.key: row.guide_diameters for row in bolts.TAPPED})
    at_worst = least(f["worst_load"], f["breaking_load"])
    greatest = e.if_entered("maker_angle", _unless_figure(e, at_worst), at_worst)
    return {
        "greatest_load": greatest,
        "guide": guide,
        "engagement_for_load": e.pick(
            "joint",
            {
                "tapped": for_load,
                "insert": e.entered_or("insert_engagement", for_load),
                "nut": Refusal(_NUT),
            },
        ),
        "engaged_held": e.pick(
            "joint",
            {
                "tapped": choose(holds, STRIPS_AT, engaged, enough),
                "insert": by_insert,
                "nut": engaged,
            },
        ),
        "strip_safety": _in_hole(e, holds),
        "strip_worst": _in_hole(e, f["strip_load"] / greatest),
        "engagement_breaks": _in_hole(e, breaks),
        "engagement_guide": _in_hole(e, threads.engagement_guide(f["diameter"], guide)),
        "engaged_near": 0.95 * engaged,
        **_length(e, f, breaks),
    }


def _unless_figure(e: Entries, value: Real) -> Real:
    """Return a value unless a maker's torque is followed by his angle."""
    return e.if_entered("maker_torque", Refusal(_ANGLE_FOLLOWS), value)


def _in_hole(e: Entries, value: Real) -> Real:
    """Return a value that only a plain tapped hole has."""
    return e.pick("joint", {"tapped": value, "insert": Refusal(_BY_INSERT), "nut": Refusal(_NUT)})


def _length(e: Entries, f: Mapping[str, Real], breaks: Real) -> dict[str, Real]:
    """Work out how long the bolt must be at least."""
    stack, thread = e["stack"], bolts.thread_number(e)
    used = e.entered_or("engaged", breaks)
    in_insert = e.entered_or("engaged", e["insert_engagement"])
    through = threads.bolt_length_through(
        stack, bolts.SIZE(thread, bolts.NUT_HEIGHT), THREADS_OUT, f["pitch"]
    )
    length = {
        "tapped": threads.bolt_length_tapped(stack, used),
        "insert": threads.bolt_length_tapped(stack, in_insert),
        "nut": through,
    }
    return {"engagement_used": used, "bolt_length": e.pick("joint", length)}


def face(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the pressure under the head, and what the part bears."""
    thread = bolts.thread_number(e)
    hole, head = bolts.SIZE(thread, bolts.CLEAR_HOLE), bolts.BEARING(thread, bolts.head_number(e))
    spread = fasteners.spread_diameter(head, bolts.SIZE(thread, bolts.WASHER_THICKNESS))
    under_washer = least(spread, bolts.SIZE(thread, bolts.WASHER_OUTSIDE))
    pressed = e.pick("washer", {"none": head, "hard": under_washer})
    area = fasteners.bearing_area(pressed, hole)
    load = e.if_entered("maker_torque", f["full_load"], f["turned_load"])
    listed = {row.key: row.bears for row in bolts.CLAMPED}
    bears = e.pick("parts", {bolts.NOT_STATED: e["part_bears"], **listed})
    return {
        "clear_hole": hole,
        "head_face": head,
        "pressed": pressed,
        "face_area": area,
        "pressing_load": load,
        "head_pressure": fasteners.head_pressure(load, area),
        "bears": bears,
        "bears_near": bears * f["turned_load"] / f["worst_load"],
    }


# --- answers ---------------------------------------------------------------------------------

_a_length = partial(
    Answer,
    of="length",
    decimals={"mm": 1, "in": 2},
    tolerance=0.001,
    uncertainty=1.0,
    optional=True,
)
_a_ratio = partial(
    Answer,
    decimals={"": 2},
    tolerance=0.0005,
    uncertainty=0.2,
    by=(threads.strip_load,),
    optional=True,
)

THREAD_ANSWERS = (
    _a_length(
        "engagement_for_load",
        "Thread for this clamp load",
        by=(threads.engagement_length,),
        band=Band(
            side="max",
            limit="engaged_held",
            near="engaged_near",
            within="{limit} engaged, {value} needed: the thread holds this clamp load with its "
            "margin.",
            near_words="{limit} engaged, {value} needed: just enough thread.",
            beyond="{limit} engaged, {value} needed, or the thread strips. Engage more or fit an "
            "insert. With a maker's figure: ask him before you turn.",
            unchecked="Thread not checked: enter how much of it is engaged. {value} is needed.",
        ),
    ),
    _a_ratio(
        "strip_safety",
        "Thread holds, times the clamp load",
        band=Band(
            side="min",
            limit=STRIPS_AT,
            near="strip_factor",
            within="The thread holds {value} times the clamp load.",
            near_words="The thread holds {value} times the full clamp load, less than wanted. A "
            "torque worked out here is lowered to leave the margin; a maker's figure is his own: "
            "for that, engage more thread or ask.",
            beyond="The thread strips at {value} of the clamp load, so no setting is worked out. "
            "A maker's figure is shown because it is his, and he may know a better thread than "
            "was entered: find that out before you turn.",
        ),
    ),
    _a_ratio(
        "strip_worst",
        "Thread holds, times the greatest clamp load",
        band=Band(
            side="min",
            limit=LEAST_AT_WORST,
            near=LEAST_AT_WORST,
            within="Slippery and the wrench giving too much, the thread still holds {value} times "
            "the clamp load.",
            near_words="Slippery and the wrench giving too much, the thread holds {value} times "
            "the clamp load.",
            beyond="Slippery and the wrench giving too much, the thread holds only {value} times "
            "the clamp load and could strip. Engage more thread, ask for more margin, or use "
            "friction you know better.",
        ),
    ),
)

JOINT_ANSWERS = (
    Answer(
        "head_pressure",
        "Pressure under the head",
        of="stress",
        sign="p",
        by=(fasteners.head_pressure,),
        decimals={"MPa": 0, "ksi": 0},
        tolerance=0.02,
        uncertainty=20.0,
        band=Band(
            side="max",
            limit="bears",
            near="bears_near",
            within="{value} under the head, the part bears {limit}.",
            near_words="{value} under the head. Slippery and the wrench giving too much, it passes "
            "the {limit} that the part bears: put a hard washer under it, or take a flange head.",
            beyond="{value} under the head, {margin} over what the part bears: the head sinks in "
            "and the clamp load goes. Put a hard washer under it, take a flange head, or aim "
            "lower.",
            unchecked="Face under the head not checked, {value} there: pick what it presses on.",
        ),
    ),
    _a_length(
        "engagement_breaks",
        "Thread for the bolt to break first",
        by=(threads.engagement_length,),
        band=Band(
            side="max",
            limit="engaged",
            near="engaged_near",
            within="{limit} engaged, {value} needed: overtightened, the bolt breaks and not the "
            "hole.",
            near_words="{limit} engaged, {value} needed: just enough for the bolt to break first.",
            beyond="{margin} short of {value}: overtightened, the thread strips before the bolt "
            "breaks.",
        ),
    ),
    _a_length(
        "engagement_guide", "Thread by the rule of diameters", by=(threads.engagement_guide,)
    ),
    _a_length(
        "bolt_length",
        "Shortest bolt under the head",
        by=(threads.bolt_length_tapped, threads.bolt_length_through),
        note="Take the next stock length up. The hole must be deeper than the bolt reaches.",
    ),
    Answer(
        "stretch",
        "Stretch of the bolt",
        of="small_length",
        by=(joints.elongation,),
        decimals={"mm": 3, "thou": 1},
        tolerance=0.00005,
        uncertainty=0.01,
        note="By micrometer over the bolt, where both ends can be reached.",
        optional=True,
    ),
    Answer(
        "turn_angle",
        "Angle from hand-tight",
        of="angle",
        by=(joints.turn_angle,),
        decimals={"deg": 0},
        tolerance=0.02,
        uncertainty=5.0,
        note="For all faces met. Only for comparing: gaskets and paint take up angle.",
        optional=True,
    ),
    Answer(
        "elastic_reach",
        "Bolt's elastic reach used by the angle",
        of="percent",
        by=(fasteners.yield_share,),
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=10.0,
        band=Band(
            side="max",
            limit=1.0,
            near=0.9,
            within="Torque and angle use {value} of what the bolt springs: it stays elastic.",
            near_words="Torque and angle use {value} of what the bolt springs, close to yield: "
            "take new bolts.",
            beyond="Torque and angle use {value} of what the bolt springs: it is taken past yield. "
            "Single use: new bolts each time, in the grade the maker names.",
        ),
        optional=True,
    ),
    Answer(
        "clamp_after_angle",
        "Clamp load after the angle",
        of="force",
        decimals={"kN": 1, "lbf": 0},
        tolerance=0.0008,
        uncertainty=2.0,
        optional=True,
    ),
)

_length_way = partial(Working, of="length", unit="mm")
_area = partial(Working, of="area", unit="mm2", decimals=1)
_stress = partial(Working, of="stress", unit="MPa", decimals=0)
_force = partial(Working, of="force", unit="kN", decimals=1)
_for_each_mm = partial(Working, of="force_per_length", unit="kNpmm", decimals=2)

WORKINGS = (
    _length_way(
        "bolt_shear_rate", "Bolt's thread to shear, area for each mm engaged", sign="a_bolt"
    ),
    _length_way(
        "hole_shear_rate", "Hole's thread to shear, area for each mm engaged", sign="a_hole"
    ),
    _stress("bolt_shear", "Shear strength of the bolt", sign="τ_bolt"),
    _stress("hole_shear", "Shear strength of the tapped part", sign="τ_hole"),
    _for_each_mm(
        "bolt_holds",
        "Bolt's thread strips at, for each mm engaged",
        sign="q_bolt",
        by=(threads.strip_rate,),
    ),
    _for_each_mm(
        "hole_holds",
        "Hole's thread strips at, for each mm engaged",
        sign="q_hole",
        by=(threads.strip_rate,),
    ),
    _for_each_mm("weaker", "Thread strips at, for each mm engaged", sign="q"),
    _force("strip_load", "Thread engaged strips at", sign="F_strip", by=(threads.strip_load,)),
    _force("held_load", "Clamp load held with the margin", sign="F_held", by=(threads.held_load,)),
    _force("hole_load", "Clamp load that a tapped hole leaves", sign="F_hole"),
    _force("insert_load", "Clamp load that an insert leaves", sign="F_insert"),
    _force("angle_end", "Clamp load at the end of the angle, at most", sign="F_end"),
    _force("figure_load", "Clamp load of the maker's figure", sign="F_figure"),
    _force("full_load", "Clamp load that the thread is judged by", sign="F_full"),
    _force("greatest_load", "Greatest clamp load before the bolt breaks", sign="F_greatest"),
    Working("guide", "Diameters by the rule", decimals=1),
    _length_way("engagement_used", "Thread counted on for the length"),
    _length_way("clear_hole", "Clearance hole", sign="d_h"),
    _length_way("head_face", "Bearing face of the head", sign="d_w"),
    _length_way("pressed", "Diameter pressed on the part", sign="d_p"),
    _area("face_area", "Ring that is pressed", sign="A_p", by=(fasteners.bearing_area,)),
    _force("pressing_load", "Clamp load that presses", sign="F_p"),
    _stress("bears", "Pressure that the part bears", sign="p_bears"),
    _area("stretched_area", "Area that stretches", sign="A", by=(joints.shank_area,)),
    _stress("parts_modulus", "Young's modulus of the parts", sign="E_parts"),
    _for_each_mm(
        "bolt_stiffness", "Stiffness of the bolt", sign="k_bolt", by=(joints.axial_stiffness,)
    ),
    _for_each_mm(
        "parts_stiffness", "Stiffness of the parts", sign="k_parts", by=(joints.clamped_stiffness,)
    ),
    _for_each_mm(
        "stiffness", "Stiffness of bolt and parts", sign="k", by=(joints.series_stiffness,)
    ),
    _force(
        "seat_load",
        "Clamp load of the maker's torque",
        sign="F_seat",
        by=(fasteners.load_for_torque,),
    ),
    _force(
        "angle_load", "Clamp load added by the angle", sign="F_angle", by=(joints.load_for_turn,)
    ),
)
