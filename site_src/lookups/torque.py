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

from calc import fasteners, threads, wrenches
from calc.domain import Real
from site_src.data import fasteners as data
from site_src.lookups import bolts, joint
from site_src.model.answers import Answer, Band, ChartView, Views, Working
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, tabulated, within

LARGEST_OFFSET = 0.75
"""Offset of a wrench extension over the wrench's length up to which the lever rule is used."""

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


# --- tables ----------------------------------------------------------------------------------

SHARE_ALONG = tabulated(
    "share_along_wrench",
    wrenches.share_along,
    cubic("angle", "angle of the offset", 0.0, float(np.pi)),
    tolerance=5e-8,
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out torque, setting and clamp load, and what thread and bolt the joint needs."""
    found = _bolt(e)
    found |= _friction(e, found)
    found |= joint.thread_holds(e, found)
    found |= _torque(e, found)
    found |= _clamped(found)
    found |= _scatter(e, found)
    found |= _wrench(e, found)
    found |= joint.springs(e, found)
    found |= joint.turning(e, found)
    found |= joint.thread_judged(e, found)
    return found | joint.face(e, found)


def _bolt(e: Entries) -> dict[str, Real]:
    """Return the bolt as picked: its dimensions, strengths and loads."""
    thread, grade = bolts.thread_number(e), bolts.grade_number(e)
    diameter, pitch = bolts.SIZE(thread, bolts.DIAMETER), bolts.SIZE(thread, bolts.PITCH)
    area = bolts.STRESS_AREA(thread)
    proof, tensile = (
        bolts.STRENGTH(thread, grade, bolts.PROOF),
        bolts.STRENGTH(thread, grade, bolts.TENSILE),
    )
    return {
        "diameter": diameter,
        "pitch": pitch,
        "pitch_diameter": threads.pitch_diameter(diameter, pitch),
        "stress_area": area,
        "bearing": bolts.BEARING_MEAN(thread, bolts.head_number(e)),
        "yield_strength": bolts.STRENGTH(thread, grade, bolts.YIELD),
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
    aim = e.pick(
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
    held = joint.load_held(e, f, aim)
    load = held["worked_load"]
    maker, worked = e["maker_torque"], fasteners.torque_for_load(load, f["arm"])
    stands = fasteners.torque_for_load(aim, f["arm"])
    not_asked = Refusal(_SEATS_ONLY)
    return {
        **held,
        "aimed_load": aim,
        "bolt_stands": stands,
        "worked_torque": worked,
        "joint_torque": e.entered_or("maker_torque", worked),
        "figure_over": e.if_entered("maker_angle", not_asked, maker / stands),
        "figure_under": e.if_entered("maker_angle", not_asked, stands / maker),
    }


def _clamped(f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the clamp load at usual friction, and how far it takes the bolt."""
    load = fasteners.load_for_torque(f["joint_torque"], f["arm"])
    clamp = _unbroken(load, f, _BREAKS)
    judged = within(load, 0.0, joint.LARGEST_LOAD, above=_TOO_FAR)
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
    judged = within(high, 0.0, joint.LARGEST_LOAD, above=_TOO_FAR)
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
            near=1.015,
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

WORKINGS = (
    _way("torque", "Nm", 1, "joint_torque", "Torque that tightens the joint", "T"),
    _way(
        "torque",
        "Nm",
        1,
        "bolt_stands",
        "Torque that the bolt alone stands",
        "T_bolt_alone",
        fasteners.torque_for_load,
    ),
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
    _force("aimed_load", "Clamp load aimed at", "F_aim"),
    _force("worked_load", "Clamp load worked with", "F_work"),
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
)


def _grid(title: str, system: str) -> ChartView:
    """Return the table of torque by thread and grade for one system."""
    rows = tuple(thread.key for thread in bolts.ALL_THREADS if thread.system == system)
    columns = tuple(grade.key for grade in bolts.GRADES if grade.system == system)
    unit = "lbft" if system == data.INCH else ""
    return ChartView(title, "worked_torque", "thread", rows, "grade", columns, unit=unit)


LOOKUP = Lookup(
    key="torque",
    title="Torque",
    short="Torque",
    question="What do I set on the wrench, and what clamp load does it give?",
    stage="bolt",
    quick=True,
    fields=bolts.FIELDS,
    reckon=reckon,
    answers=(*joint.THREAD_ANSWERS, *_TORQUE_ANSWERS, *joint.JOINT_ANSWERS),
    workings=(*WORKINGS, *joint.WORKINGS),
    views=Views(
        charts=(
            _grid("Metric bolts: torque worked out, by thread and grade", data.METRIC),
            _grid("Inch bolts: torque worked out, by thread and grade", data.INCH),
            ChartView(
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
        "Threads: ISO 724, ISO 965-1, and ASME B1.1 rounded as printed there. Strengths: ISO 898-1 "
        "and SAE J429 as restated; ISO 3506-1 and shear over tensile strength from memory.",
        "Friction: VDI 2230 friction classes, values inside them common practice.",
        "Bearing faces: tables of VDI 2230, ISO 4014, EN 1665 and ISO 4762 as restated; inch heads "
        "common practice or from memory. Washers: ISO 7089 and ASME B18.21.1 as restated; how they "
        "spread the load: VDI 2230, from memory.",
        "Pressure that a part bears: limiting values of VDI 2230, 2003 and 1986, as a fastener "
        "handbook restates them; of two the lower for cast iron and for aluminium.",
        "Wrench deviation and range: ISO 6789. Extension and running torque: FAA AC 43.13-1B, "
        "paragraph 7-40.",
        "Thread strip: FED-STD-H28/2B at the worst limits 6g in 6H, 2A in 2B; 1.5 times the clamp "
        "load common practice. Two turns out of a nut: US Army TB 43-0218.",
        "Stretch and angle: springs in a row, parts as two 30° cones, Shigley, same chapter.",
        "Shares of yield from 70 to 90 %, when a figure is questioned, and bolts 10 % above the "
        "least yield of their grade: common practice.",
    ),
    leaves_out=(
        "Settling after tightening, heat, and the load that the joint carries later.",
        "A hole's mouth that spreads in a thin boss; bolts stronger than their grade, which need "
        "more thread to break first.",
        "Scatter of the running torque. What an insert holds: that is its maker's to say.",
        "A chamfer at the hole's mouth, which makes the ring under the head smaller; screws of "
        "No. 10 that are not marked: take grade 2, SAE J429 begins at 1/4.",
        "Stainless inch bolts, washers that turn along, bolts that are waisted or longer threaded "
        "than plain: stretch and angle are for the shape picked.",
    ),
)
