"""Torque: what to set on the wrench, and the clamp load that comes of it.

A figure from the part's maker, once entered, is the torque that everything else follows from; the
torque worked out from the bolt's strength then only judges it. What belongs to a thread, a head or
a grade is a list; all else is arithmetic, but for the cosine of an offset head's angle and the
stiffness of the clamped parts, a logarithm of their thickness.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

import numpy as np

from calc import fasteners, joints, threads, wrenches
from calc.domain import Real
from site_src.data import fasteners as data
from site_src.lookups import bolts
from site_src.model.answers import Answer, Band, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, least, tabulated, within

STEEL_MODULUS = 206e9
"""Young's modulus of the bolt, Pa. Handbook value for steel; stainless is 5 % springier."""

LARGEST_LOAD = 1.9e6
"""Clamp load in N up to which a share of yield is worked out at all."""

LARGEST_OFFSET = 0.75
"""Offset of a wrench extension over the wrench's length up to which the lever rule is used."""

THREADS_OUT = 2.0
"""Turns that stand out of a nut. US Army TB 43-0218, paragraph 7b."""

_BREAKS = (
    "This torque would pull the bolt in two. Check the unit first: pound-inches taken for "
    "pound-feet are twelve times too much."
)
_BREAKS_AT_WORST = (
    "With slippery threads and the wrench at its worst, this torque could pull the bolt in two. "
    "Aim lower, or use friction you know better."
)
_TOO_HEAVY = "More clamp load than this bolt holds. Take a larger bolt or a higher grade."
_TOO_FAR = "Far beyond what any bolt here holds. Check the unit of the torque."
_LONG_OFFSET = (
    "The offset is over three quarters of the wrench's length, too much to trust the lever rule. "
    "Use a longer wrench or a shorter extension."
)
_SEATS_ONLY = "The torque only seats the parts and the angle tightens them: nothing to compare."
_NUT = "Into a nut: one of the bolt's own class holds as long as all its turns are filled."
_YIELDS = (
    "The bolt is taken past yield, where its load no longer follows the angle: no number. "
    "Single use: new bolts each time."
)
_ANGLE_TOO_FAR = "So large an angle on so short a bolt: check the angle and the stack."


# --- tables ----------------------------------------------------------------------------------

SHARE_ALONG = tabulated(
    "share_along_wrench",
    wrenches.share_along,
    cubic("angle", "angle of the offset", 0.0, float(np.pi)),
    tolerance=5e-8,
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


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out torque, setting and clamp load, and what thread and bolt the joint needs."""
    found = _bolt(e)
    found |= _friction(e, found)
    found |= _torque(e, found)
    found |= _clamped(found)
    found |= _scatter(e, found)
    found |= _wrench(e, found)
    found |= _engagement(e, found)
    found |= _springs(e, found)
    return found | _turning(e, found)


def _bolt(e: Entries) -> dict[str, Real]:
    """Return the bolt as picked: its dimensions, strengths and loads."""
    thread = bolts.thread_number(e)
    diameter, pitch = bolts.DIAMETER(thread), bolts.PITCH(thread)
    area = bolts.STRESS_AREA(thread)
    proof = bolts.strength(e, lambda grade: grade.proof)
    tensile = bolts.strength(e, lambda grade: grade.tensile)
    return {
        "diameter": diameter,
        "pitch": pitch,
        "pitch_diameter": threads.pitch_diameter(diameter, pitch),
        "stress_area": area,
        "bearing": bolts.BEARING_MEAN(thread, bolts.head_number(e)),
        "yield_strength": bolts.strength(e, lambda grade: grade.yield_strength),
        "proof_strength": proof,
        "tensile_strength": tensile,
        "proof_load": fasteners.load_at_strength(proof, area),
        "breaking_load": fasteners.load_at_strength(tensile, area),
    }


def _friction(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Return friction as usual, at its lowest and at its highest, and what each of them makes."""
    by_factor = fasteners.friction_for_arm(
        fasteners.arm_for_nut_factor(e["nut_factor"], f["diameter"]),
        f["pitch"],
        f["pitch_diameter"],
        f["bearing"],
    )
    usual = [e["thread_friction"], e["head_friction"], by_factor]
    scatter = e["friction_scatter"]
    thread, head = _rub(e, "nominal", usual)
    thread_low, head_low = _rub(e, "low", [own * (1.0 - scatter) for own in usual])
    thread_high, head_high = _rub(e, "high", [own * (1.0 + scatter) for own in usual])
    size = f["pitch"], f["pitch_diameter"]
    twisted = *size, f["stress_area"]
    turned = *size, f["bearing"]
    area = fasteners.pull_area(*twisted, thread)
    area_low = fasteners.pull_area(*twisted, thread_low)
    return {
        "thread_rub": thread,
        "head_rub": head,
        "thread_rub_low": thread_low,
        "head_rub_low": head_low,
        "thread_rub_high": thread_high,
        "head_rub_high": head_high,
        "stress_diameter": fasteners.stress_diameter(f["stress_area"]),
        "twist": fasteners.twist_over_pull(*twisted, thread),
        "twist_low": fasteners.twist_over_pull(*twisted, thread_low),
        "pull_area": area,
        "pull_area_low": area_low,
        "yield_load": fasteners.load_at_strength(f["yield_strength"], area),
        "yield_load_low": fasteners.load_at_strength(f["yield_strength"], area_low),
        "arm": fasteners.torque_arm(*turned, thread, head),
        "arm_low": fasteners.torque_arm(*turned, thread_low, head_low),
        "arm_high": fasteners.torque_arm(*turned, thread_high, head_high),
    }


def _rub(e: Entries, level: str, own: Sequence[Real]) -> tuple[Real, Real]:
    """Return friction in the thread and under the head, from the list or the person's own.

    `own` are friction in the thread, under the head, and the one that a nut factor stands for.
    """
    rows = {row.key: float(getattr(row, level)) for row in bolts.FRICTION}
    thread, head, by_factor = own
    return (
        e.pick("friction", {**rows, "own": thread, "nut_factor": by_factor}),
        e.pick("friction", {**rows, "own": head, "nut_factor": by_factor}),
    )


def _unbroken(load: Real, f: Mapping[str, Real], words: str) -> Real:
    """Return a clamp load that doesn't break the bolt."""
    return within(load / f["breaking_load"], None, 1.0, above=words, gives=load)


def _torque(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work the torque out from what is aimed at, and hold the maker's figure against it."""
    load = e.pick(
        "work_from",
        {
            "yield": fasteners.load_at_yield_share(
                e["yield_target"], f["yield_strength"], f["pull_area"]
            ),
            "proof": fasteners.load_at_proof_share(
                e["proof_target"], f["proof_strength"], f["stress_area"]
            ),
            "load": _unbroken(e["load_target"], f, _TOO_HEAVY),
        },
    )
    maker, worked = e["maker_torque"], fasteners.torque_for_load(load, f["arm"])
    not_asked = Refusal(_SEATS_ONLY)
    return {
        "worked_load": load,
        "worked_torque": worked,
        "joint_torque": e.entered_or("maker_torque", worked),
        "figure_over": e.if_entered("maker_angle", not_asked, maker / worked),
        "figure_under": e.if_entered("maker_angle", not_asked, worked / maker),
    }


def _clamped(f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the clamp load at usual friction, and how far it takes the bolt."""
    load = fasteners.load_for_torque(f["joint_torque"], f["arm"])
    clamp = _unbroken(load, f, _BREAKS)
    judged = within(load, 0.0, LARGEST_LOAD, above=_TOO_FAR)
    by_factor = fasteners.arm_for_nut_factor(bolts.UNKNOWN_FACTOR, f["diameter"])
    return {
        "turned_load": load,
        "clamp_load": clamp,
        "yield_share": fasteners.yield_share(judged, f["yield_strength"], f["pull_area"]),
        "proof_share": fasteners.proof_share(clamp, f["proof_strength"], f["stress_area"]),
        "equivalent_factor": fasteners.nut_factor(f["arm"], f["diameter"]),
        "short_torque": fasteners.torque_for_load(clamp, by_factor),
    }


def _scatter(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the band of clamp loads that friction and wrench leave open."""
    deviation = e.pick("wrench", {tool.key: tool.deviation for tool in bolts.TOOLS})
    low = fasteners.lowest_load(f["joint_torque"], deviation, f["arm_high"])
    high = fasteners.highest_load(f["joint_torque"], deviation, f["arm_low"])
    judged = within(high, 0.0, LARGEST_LOAD, above=_TOO_FAR)
    clamp_low = _unbroken(low, f, _BREAKS)
    clamp_high = _unbroken(high, f, _BREAKS_AT_WORST)
    return {
        "deviation": deviation,
        "worst_load": high,
        "clamp_low": clamp_low,
        "clamp_high": clamp_high,
        "scatter": fasteners.tightening_factor(clamp_high, clamp_low),
        "yield_worst": fasteners.yield_share(judged, f["yield_strength"], f["pull_area_low"]),
    }


def _wrench(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what to dial in."""
    used = e.pick("drive", {"straight": 0.0, "offset": e["extension"]})
    offset = within(used / e["wrench_length"], None, LARGEST_OFFSET, above=_LONG_OFFSET)
    lever = wrenches.torque_ratio(offset, SHARE_ALONG(e["extension_angle"]))
    at_bolt = wrenches.with_running_torque(f["joint_torque"], e["running_torque"])
    setting = wrenches.wrench_setting(at_bolt, lever)
    return {
        "bolt_torque": at_bolt,
        "offset_used": used,
        "offset": offset,
        "lever": lever,
        "setting": setting,
        "range_share": wrenches.share_of_range(setting, e["wrench_largest"]),
        "largest_near": 0.95 * e["wrench_largest"],
    }


def _in_hole(e: Entries, value: Real) -> Real:
    """Return a value that only a tapped hole has."""
    nuts = e.pick("joint", {"tapped": 0.0, "nut": 1.0})
    return within(nuts, None, 0.0, above=_NUT, gives=value)


def _engagement(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what thread must be engaged, what it holds, and how long the bolt must be."""
    thread, engaged, stack = bolts.thread_number(e), e["engaged"], e["stack"]
    bolt_shear = bolts.strength(e, lambda grade: grade.shear_strength)
    hole_shear = e.pick("tapped", {row.key: row.shear_strength for row in bolts.TAPPED})
    guide = e.pick("tapped", {row.key: row.guide_diameters for row in bolts.TAPPED})
    bolt_rate, hole_rate = bolts.BOLT_SHEAR_RATE(thread), bolts.HOLE_SHEAR_RATE(thread)
    bolt_holds = threads.strip_rate(bolt_rate, bolt_shear)
    hole_holds = threads.strip_rate(hole_rate, hole_shear)
    weaker = least(bolt_holds, hole_holds)
    breaks = threads.engagement_length(f["breaking_load"], weaker)
    for_load = threads.engagement_length(f["clamp_load"] * e["strip_factor"], weaker)
    used = e.entered_or("engaged", breaks)
    length = {
        "tapped": threads.bolt_length_tapped(stack, used),
        "nut": threads.bolt_length_through(
            stack, bolts.NUT_HEIGHT(thread), THREADS_OUT, f["pitch"]
        ),
    }
    return {
        "bolt_shear_rate": bolt_rate,
        "hole_shear_rate": hole_rate,
        "bolt_shear": bolt_shear,
        "hole_shear": hole_shear,
        "bolt_holds": bolt_holds,
        "hole_holds": hole_holds,
        "weaker": weaker,
        "guide": guide,
        "engagement_used": used,
        "engagement_breaks": _in_hole(e, breaks),
        "engagement_for_load": _in_hole(e, for_load),
        "engagement_guide": _in_hole(e, threads.engagement_guide(f["diameter"], guide)),
        "engaged_near": 0.95 * engaged,
        "strip_safety": _in_hole(e, threads.strip_load(engaged, weaker) / f["clamp_load"]),
        "strip_near": 1.1 * e["strip_factor"],
        "bolt_length": e.pick("joint", length),
    }


def _springs(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out how stiff bolt and clamped parts are."""
    shank = joints.shank_area(f["diameter"])
    area = e.pick("bolt_shape", {"threaded": f["stress_area"], "shank": shank})
    softness = CONE_SOFTNESS(e["stack"] / f["diameter"])
    bolt = joints.axial_stiffness(STEEL_MODULUS, area, e["stack"])
    modulus = e.pick("parts", bolts.PARTS)
    parts = joints.clamped_stiffness(modulus, f["diameter"], softness)
    return {
        "parts_modulus": modulus,
        "stretched_area": area,
        "bolt_stiffness": bolt,
        "parts_stiffness": parts,
        "stiffness": joints.series_stiffness(bolt, parts),
    }


def _turning(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out stretch and angle, and where the maker's angle ends."""
    seat = fasteners.load_for_torque(e["maker_torque"], f["arm"])
    rise = joints.load_for_turn(e["maker_angle"], f["pitch"], f["stiffness"])
    reached = within(seat + rise, 0.0, LARGEST_LOAD, above=_ANGLE_TOO_FAR)
    reach = fasteners.yield_share(reached, f["yield_strength"], f["pull_area"])
    return {
        "stretch": joints.elongation(f["clamp_load"], f["bolt_stiffness"]),
        "turn_angle": joints.turn_angle(f["clamp_load"], f["pitch"], f["stiffness"]),
        "seat_load": seat,
        "angle_load": rise,
        "elastic_reach": reach,
        "clamp_after_angle": within(reach, None, 1.0, above=_YIELDS, gives=reached),
    }


# --- the page --------------------------------------------------------------------------------

FACTOR_LIMIT, FACTOR_NEAR = 2.0, 1.3
"""Maker's figure over worked-out torque from which it is questioned. Common practice: 1.36 is
N·m taken for lb·ft, 12 is lb·in taken for lb·ft; strength alone seldom explains more than 1.3."""

UNDER_LIMIT, UNDER_NEAR = 6.0, 1.3
"""Worked-out torque over maker's figure from which it is questioned. Common practice: gaskets and
soft parts take half of what the bolt stands, seldom a sixth, so only a wrong unit is beyond."""

_a_torque = partial(
    Answer,
    of="torque",
    decimals={"Nm": 1, "lbft": 1, "lbin": 0},
    tolerance=0.004,
    uncertainty=0.5,
)
_a_load = partial(
    Answer, of="force", decimals={"kN": 1, "lbf": 0}, tolerance=0.0008, uncertainty=1.0
)
_a_length = partial(
    Answer,
    of="length",
    decimals={"mm": 1, "in": 2},
    tolerance=0.001,
    uncertainty=1.0,
    optional=True,
)
_a_share = partial(Answer, of="percent", decimals={"pct": 0}, tolerance=0.02, uncertainty=5.0)

_TORQUE_ANSWERS = (
    _a_torque(
        "setting",
        "Set the wrench to",
        sign="T_set",
        by=(wrenches.wrench_setting,),
        band=Band(
            side="max",
            limit="wrench_largest",
            near="largest_near",
            within="Set {value}, {margin} below the top of this wrench.",
            near_words="Set {value}, close to the top of this wrench.",
            beyond="Set {value}: over the top of this wrench by {margin}. Take a larger one.",
        ),
        rank="main",
        note="The maker's figure overrules this one: enter it if you have it.",
    ),
    _a_torque(
        "worked_torque",
        "Torque worked out",
        by=(fasteners.torque_for_load,),
        rank="second",
        note="From strength and friction alone, without any running torque.",
    ),
    _a_load(
        "clamp_load",
        "Clamp load",
        sign="F",
        by=(fasteners.load_for_torque,),
        rank="second",
        note="At usual friction; the band stands below.",
    ),
    Answer(
        "figure_over",
        "Maker's figure over worked-out torque",
        decimals={"": 2},
        tolerance=0.0005,
        uncertainty=0.2,
        band=Band(
            side="max",
            limit=FACTOR_LIMIT,
            near=FACTOR_NEAR,
            within="The figure is {value} of the worked-out torque: plausible.",
            near_words="The figure is {value} times the worked-out torque. Check thread, grade and "
            "lubricant; newton metres taken for pound-feet make 1.36.",
            beyond="The figure is {value} times the worked-out torque. It stands, but ask before "
            "you turn: are these pound-inches? Taken for pound-feet they are 12 times too much.",
        ),
        optional=True,
    ),
    Answer(
        "figure_under",
        "Worked-out torque over maker's figure",
        decimals={"": 2},
        tolerance=0.002,
        uncertainty=0.2,
        band=Band(
            side="max",
            limit=UNDER_LIMIT,
            near=UNDER_NEAR,
            within="The bolt would take {value} of the figure: plausible.",
            near_words="The bolt would take {value} times the figure: usual over gaskets and in "
            "soft parts. If there are none, check the unit: pound-feet taken for newton metres "
            "make 1.36.",
            beyond="The bolt would take {value} times the figure. It stands, but ask before you "
            "turn: are these pound-feet? Taken for pound-inches they are 12 times too little.",
        ),
        optional=True,
    ),
    _a_share(
        "yield_share",
        "Share of yield",
        by=(fasteners.yield_share,),
        band=Band(
            side="max",
            limit=1.0,
            near=0.905,
            within="Bolt at {value} of yield, twist counted.",
            near_words="Bolt at {value} of yield: only with friction that you know well.",
            beyond="Bolt at {value} of yield: it stretches for good. Check the unit and the "
            "lubricant.",
        ),
        rank="second",
    ),
    _a_share(
        "yield_worst",
        "Share of yield at worst",
        by=(fasteners.yield_share,),
        band=Band(
            side="max",
            limit=1.1,
            near=1.01,
            within="At worst {value} of yield, slippery and the wrench giving too much.",
            near_words="At worst {value} of yield, slippery and the wrench giving too much: fit "
            "new bolts, or aim a little lower.",
            beyond="At worst {value} of yield: a slippery bolt stretches for good. Unless the "
            "figure is the maker's, aim lower or use friction you know better.",
        ),
    ),
    _a_load(
        "clamp_low",
        "Least clamp load",
        sign="F_min",
        by=(fasteners.lowest_load,),
        note="Sticky thread, wrench giving too little.",
    ),
    _a_load(
        "clamp_high",
        "Greatest clamp load",
        sign="F_max",
        by=(fasteners.highest_load,),
        note="Slippery thread, wrench giving too much.",
    ),
    Answer(
        "scatter",
        "Greatest over least",
        sign="α_A",
        by=(fasteners.tightening_factor,),
        decimals={"": 1},
        tolerance=1e-6,
        uncertainty=0.2,
    ),
    _a_torque(
        "bolt_torque",
        "Torque at the bolt",
        sign="T_bolt",
        by=(wrenches.with_running_torque,),
        note="Differs from the setting where an offset head is on the wrench.",
    ),
    Answer(
        "range_share",
        "Setting in the wrench's range",
        of="percent",
        by=(wrenches.share_of_range,),
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=2.0,
        band=Band(
            side="min",
            limit=bolts.USABLE_FROM,
            near=bolts.USABLE_FROM * 1.1,
            within="{value} of the wrench's largest: it has been tested there, up to 100 %.",
            near_words="{value} of the wrench's largest, barely in its tested range.",
            beyond="{value} of the wrench's largest: below {limit} nothing has been tested. Take "
            "a smaller wrench.",
        ),
        optional=True,
    ),
    _a_share("proof_share", "Share of the proof load", by=(fasteners.proof_share,)),
    Answer(
        "equivalent_factor",
        "Nut factor K of this set-up",
        sign="K",
        by=(fasteners.nut_factor,),
        decimals={"": 3},
        tolerance=1e-6,
        uncertainty=0.02,
    ),
    _a_torque(
        "short_torque",
        f"Short form, K = {bolts.UNKNOWN_FACTOR:.2f}",
        sign="T_short",
        by=(fasteners.arm_for_nut_factor,),
        note="For comparing with charts that know no lubricant.",
    ),
)

_JOINT_ANSWERS = (
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
    _a_length("engagement_for_load", "Thread for this clamp load", by=(threads.engagement_length,)),
    _a_length(
        "engagement_guide", "Thread by the rule of diameters", by=(threads.engagement_guide,)
    ),
    Answer(
        "strip_safety",
        "Thread holds, times the clamp load",
        by=(threads.strip_load,),
        decimals={"": 1},
        tolerance=0.001,
        uncertainty=0.2,
        band=Band(
            side="min",
            limit="strip_factor",
            near="strip_near",
            within="The thread holds {value} times the clamp load.",
            near_words="The thread holds {value} times the clamp load, barely the {limit} wanted.",
            beyond="The thread holds only {value} times the clamp load, {limit} are wanted. Engage "
            "more thread, or fit an insert by its maker's instructions.",
        ),
        optional=True,
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
    _a_load(
        "clamp_after_angle",
        "Clamp load after the angle",
        uncertainty=2.0,
        optional=True,
        few_points="Most torques with an angle to follow take a bolt past yield, where there is "
        "no such load.",
    ),
)


def _way(
    of: str,
    unit: str,
    decimals: int,
    key: str,
    label: str,
    sign: str = "",
    *by: Callable[..., Real],
) -> Working:
    """Return a value on the way."""
    return Working(key, label, of=of, unit=unit, decimals=decimals, sign=sign, by=by)


_ratio = partial(_way, "ratio", "", 3)
_length = partial(_way, "length", "mm", 3)
_area = partial(_way, "area", "mm2", 1)
_stress = partial(_way, "stress", "MPa", 0)
_force = partial(_way, "force", "kN", 1)
_for_each_mm = partial(_way, "force_per_length", "kNpmm", 2)

WORKINGS = (
    _way("torque", "Nm", 1, "joint_torque", "Torque that tightens the joint", "T"),
    _length("diameter", "Nominal diameter", "d"),
    _length("pitch", "Pitch", "P"),
    _length("pitch_diameter", "Pitch diameter", "d₂", threads.pitch_diameter),
    _length("bearing", "Mean diameter under the head", "D_Km"),
    _area("stress_area", "Stress area", "A_s"),
    _length("stress_diameter", "Diameter of the stress area", "d₀", fasteners.stress_diameter),
    _stress("yield_strength", "Yield strength", "R_p"),
    _stress("proof_strength", "Proof strength", "S_p"),
    _stress("tensile_strength", "Tensile strength", "R_m"),
    _ratio("thread_rub", "Friction in the thread", "μ_thread"),
    _ratio("head_rub", "Friction under the head", "μ_head"),
    _ratio("thread_rub_low", "Lowest friction in the thread"),
    _ratio("head_rub_low", "Lowest friction under the head"),
    _ratio("thread_rub_high", "Highest friction in the thread"),
    _ratio("head_rub_high", "Highest friction under the head"),
    _ratio("twist", "Twist over pull", "t", fasteners.twist_over_pull),
    _ratio("twist_low", "Twist over pull, lowest friction", "t_low", fasteners.twist_over_pull),
    _area("pull_area", "Area left for pull beside the twist", "A_pull", fasteners.pull_area),
    _area("pull_area_low", "Area left for pull, lowest friction", "A_low", fasteners.pull_area),
    _length("arm", "Torque over clamp load", "arm", fasteners.torque_arm),
    _length("arm_low", "Arm at the lowest friction", "arm_low", fasteners.torque_arm),
    _length("arm_high", "Arm at the highest friction", "arm_high", fasteners.torque_arm),
    _force("worked_load", "Clamp load aimed at", "F_aim"),
    _force("turned_load", "Clamp load that this torque makes", "F", fasteners.load_for_torque),
    _force("yield_load", "Clamp load at yield", "F_yield", fasteners.load_at_strength),
    _force(
        "yield_load_low",
        "Clamp load at yield, lowest friction",
        "F_low",
        fasteners.load_at_strength,
    ),
    _force("worst_load", "Greatest clamp load", "F_max", fasteners.highest_load),
    _force("proof_load", "Proof load", "F_proof", fasteners.load_at_strength),
    _force("breaking_load", "Breaking load", "F_break", fasteners.load_at_strength),
    _way("percent", "pct", 0, "deviation", "Permitted deviation of the wrench", "δ"),
    _length("offset_used", "Offset on the wrench"),
    _ratio("offset", "Offset over wrench length", "e"),
    _ratio("lever", "Torque at the bolt over setting", "lever", wrenches.torque_ratio),
    _length("bolt_shear_rate", "Bolt's thread to shear, area for each mm engaged", "a_bolt"),
    _length("hole_shear_rate", "Hole's thread to shear, area for each mm engaged", "a_hole"),
    _stress("bolt_shear", "Shear strength of the bolt", "τ_bolt"),
    _stress("hole_shear", "Shear strength of the tapped part", "τ_hole"),
    _for_each_mm(
        "bolt_holds", "Bolt's thread strips at, for each mm engaged", "q_bolt", threads.strip_rate
    ),
    _for_each_mm(
        "hole_holds", "Hole's thread strips at, for each mm engaged", "q_hole", threads.strip_rate
    ),
    _for_each_mm("weaker", "Thread strips at, for each mm engaged", "q"),
    _way("ratio", "", 1, "guide", "Diameters by the rule"),
    _length("engagement_used", "Thread counted on for the length"),
    _area("stretched_area", "Area that stretches", "A", joints.shank_area),
    _stress("parts_modulus", "Young's modulus of the parts", "E_parts"),
    _for_each_mm("bolt_stiffness", "Stiffness of the bolt", "k_bolt", joints.axial_stiffness),
    _for_each_mm("parts_stiffness", "Stiffness of the parts", "k_parts", joints.clamped_stiffness),
    _for_each_mm("stiffness", "Stiffness of bolt and parts", "k", joints.series_stiffness),
    _force("seat_load", "Clamp load of the maker's torque", "F_seat", fasteners.load_for_torque),
    _force("angle_load", "Clamp load added by the angle", "F_angle", joints.load_for_turn),
)


def _grid(title: str, system: str) -> GridView:
    """Return the table of torque by thread and grade for one system."""
    rows = tuple(thread.key for thread in bolts.ALL_THREADS if thread.system == system)
    columns = tuple(grade.key for grade in bolts.GRADES if grade.system == system)
    unit = "lbft" if system == data.INCH else ""
    return GridView(title, "worked_torque", "thread", rows, "grade", columns, unit=unit)


LOOKUP = Lookup(
    key="torque",
    title="Torque",
    short="Torque",
    question="What do I set on the wrench, and what clamp load does it give?",
    stage="bolt",
    quick=True,
    needs=("makers",),
    fields=bolts.FIELDS,
    reckon=reckon,
    answers=(*_TORQUE_ANSWERS, *_JOINT_ANSWERS),
    workings=WORKINGS,
    views=Views(
        grids=(
            _grid("Metric bolts: torque worked out, by thread and grade", data.METRIC),
            _grid("Inch bolts: torque worked out, by thread and grade", data.INCH),
            GridView(
                "This bolt with other lubricants",
                "worked_torque",
                "friction",
                tuple(row.key for row in bolts.FRICTION),
                also=("clamp_load", "clamp_low", "clamp_high"),
            ),
        ),
    ),
    cautions=(
        "The figure from the maker of the part overrules this page. For wheels, steering, brakes, "
        "seat belts and anything that lifts, use no other.",
        "Bolts that are tightened past yield, or that the maker calls single use, are new every "
        "time. A torque worked out from strength is not for them.",
        "A torque goes with one lubricant. Oil or paste on a figure meant for dry overloads the "
        "bolt.",
        "Clean threads, no burrs, holes dry to the bottom: oil trapped under a bolt cracks the "
        "casting.",
        "Never plate class 12.9. Never run stainless dry: it seizes.",
        "Pull square at the mark on the grip, slow at the end, and stop at the click.",
    ),
    sources=(
        "Clamp load and torque: VDI 2230, F_M and M_A; short form T = K F d: Shigley, Mechanical "
        "Engineering Design, chapter on screws and fasteners.",
        "Threads: ISO 724, ISO 965-1, ASME B1.1. Strengths: ISO 898-1 and SAE J429 as restated; "
        "ISO 3506-1 and yield of SAE grades from memory.",
        "Friction: VDI 2230 friction classes, values inside them common practice.",
        "Bearing faces: tables of VDI 2230; flange, socket and inch heads from memory or common "
        "practice.",
        "Wrench deviation and range: ISO 6789. Extension and running torque: FAA AC 43.13-1B, "
        "paragraph 7-40.",
        "Thread strip: FED-STD-H28/2B at the worst limits 6g in 6H, 2A in 2B. Two turns out of a "
        "nut: US Army TB 43-0218.",
        "Stretch and angle: springs in a row, parts as two 30° cones, Shigley, same chapter.",
        "Shares of yield from 70 to 90 %, when a figure is questioned, and bolts 10 % above the "
        "least yield of their grade: common practice.",
    ),
    leaves_out=(
        "Settling after tightening, heat, and the load that the joint carries later.",
        "A hole's mouth that spreads in a thin boss; bolts stronger than their grade, which need "
        "more thread to break first.",
        "Scatter of the running torque. Inserts follow their maker.",
        "Stainless inch bolts, washers that turn along, bolts that are waisted or longer threaded "
        "than plain: stretch and angle are for the shape picked.",
    ),
)
