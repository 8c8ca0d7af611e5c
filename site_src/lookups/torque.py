"""Torque: what to set on the wrench, and the clamp load that comes of it.

A figure from the part's maker, once entered, is the torque that everything else follows from; the
torque worked out from the bolt's strength then only judges it. What belongs to a thread, a head or
a grade is a list; all else is products of those, but for the share of the stress area that twist
leaves for pull (curved in thread friction), the wrench offset (cosine of its angle) and the
stiffness of the clamped parts (a logarithm of their thickness).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc import fasteners, joints, threads, wrenches
from calc.domain import Real
from site_src.data import fasteners as data
from site_src.model.answers import Answer, Band, GridView, Views, Working
from site_src.model.direct import EDGE, Entries, first_entered
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, entries, linear
from site_src.tables.recipe import First, Look, Pick, Product, Step, Sum, least

Floats = NDArray[np.float64]

STEEL_MODULUS = 206e9
"""Young's modulus of the bolt, Pa. Handbook value for steel; stainless is 5 % springier."""

LARGEST_LOAD = 1.9e6
"""Clamp load in N up to which a share of yield is worked out at all."""

LARGEST_OFFSET = 0.75
"""Offset of a wrench extension over the wrench's length up to which the lever rule is used."""

THREADS_OUT = 2.0
"""Turns that stand out of a nut. US Army TB 43-0218, paragraph 7b."""

LEAST_FRICTION, MOST_FRICTION = 0.021, 0.5
"""Friction coefficients between which the bolt's pull area is tabulated."""

LEAST_FACTOR, MOST_FACTOR = 0.08, 0.40
"""Nut factors that can be entered."""

ALL_THREADS = data.all_threads()
HEADS = data.heads_for(ALL_THREADS[0])
GRADES = data.all_grades()
FRICTION = data.all_friction()
TAPPED = data.all_tapped_materials()
UNKNOWN_FACTOR = data.nut_factor("unknown").factor

PARTS = {
    "aluminium": data.tapped_material("wrought_aluminium").modulus,
    "iron": data.tapped_material("grey_iron").modulus,
    "steel": data.tapped_material("mild_steel").modulus,
}
"""Young's modulus of the clamped parts, Pa."""


@dataclass(frozen=True)
class Tool:
    """A torque tool as it can be picked: its permitted deviation, and from where it is good."""

    key: str
    label: str
    deviation: float
    usable_from: float


def _tools() -> tuple[Tool, ...]:
    """Return the kinds of torque tool; those allowed more when small are listed twice."""
    tools = []
    for kind in data.all_wrench_kinds():
        percent = f"±{kind.deviation:.0%}".replace("%", " %")
        tools.append(Tool(kind.key, f"{kind.label}, {percent}", kind.deviation, kind.usable_from))
        if kind.deviation_small != kind.deviation:
            small = f"±{kind.deviation_small:.0%}".replace("%", " %")
            label = f"{kind.label}, largest {kind.small_up_to:g} N·m or less, {small}"
            key = f"{kind.key}_small"
            tools.append(Tool(key, label, kind.deviation_small, kind.usable_from))
    return tuple(tools)


TOOLS = _tools()
USABLE_FROM = TOOLS[0].usable_from
"""Share of a torque wrench's largest torque from which it has been tested. ISO 6789."""


# --- lists -----------------------------------------------------------------------------------

_THREAD_FIGURES = np.array(
    [
        (
            thread.diameter,
            thread.pitch,
            thread.pitch_diameter,
            thread.stress_area,
            thread.nut_height,
            thread.external_shear_rate,
            thread.internal_shear_rate,
        )
        for thread in ALL_THREADS
    ]
)
_BEARING_MEANS = np.array(
    [[data.head(head.key, on).bearing_mean(on) for head in HEADS] for on in ALL_THREADS]
)
DIAMETER, PITCH, PITCH_DIAMETER, STRESS_AREA, NUT_HEIGHT, BOLT_SHEAR_RATE, HOLE_SHEAR_RATE = range(
    7
)


def thread_figure(thread: Real, figure: Real) -> Floats:
    """Return a dimension of a thread, both by their number in the list."""
    return np.asarray(_THREAD_FIGURES[_whole(thread), _whole(figure)])


def bearing_mean(thread: Real, head: Real) -> Floats:
    """Return the mean bearing diameter of a head on a thread."""
    return np.asarray(_BEARING_MEANS[_whole(thread), _whole(head)])


def _whole(number: Real) -> NDArray[np.int64]:
    """Return numbers of list entries as whole numbers."""
    return np.asarray(number).astype(np.int64)


# --- the direct calculation ------------------------------------------------------------------


@dataclass(frozen=True)
class Bolt:
    """A bolt as picked, an array entry for each set-up; SI."""

    diameter: Floats
    pitch: Floats
    pitch_diameter: Floats
    stress_area: Floats
    bearing: Floats
    yield_strength: Floats
    proof: Floats
    tensile: Floats

    def pull_area(self, friction: Floats) -> Floats:
        """Return the area left for pull at a thread friction."""
        return np.asarray(
            fasteners.pull_area(self.pitch, self.pitch_diameter, self.stress_area, friction)
        )

    def arm(self, thread_friction: Floats, head_friction: Floats) -> Floats:
        """Return the torque for each newton of clamp load."""
        return np.asarray(
            fasteners.torque_arm(
                self.pitch, self.pitch_diameter, self.bearing, thread_friction, head_friction
            )
        )

    def whole(self, load: Floats) -> Floats:
        """Return a clamp load, NaN where it would break the bolt."""
        return np.where(load <= self.tensile * self.stress_area, load, np.nan)

    def yield_share(self, load: Floats, friction: Floats) -> Floats:
        """Return the share of yield at a clamp load, NaN where the load is beyond all reason."""
        fit = (load >= 0.0) & (load <= LARGEST_LOAD)
        share = fasteners.yield_share(
            np.where(fit, load, 0.0), self.yield_strength, self.pull_area(friction)
        )
        return np.where(fit, share, np.nan)


@dataclass(frozen=True)
class Rubbing:
    """Friction in the thread and under the head: nominal, slippery and sticky."""

    thread: Floats
    head: Floats
    thread_low: Floats
    head_low: Floats
    thread_high: Floats
    head_high: Floats


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    bolt = _bolt(g)
    rubbing = _rubbing(g, bolt)
    arm = bolt.arm(rubbing.thread, rubbing.head)
    worked = _worked_torque(g, bolt, rubbing, arm)
    maker = g["maker_torque"]
    torque = first_entered(maker, worked)
    with np.errstate(invalid="ignore"):
        load = torque / arm
    clamp = bolt.whole(load)
    return {
        "worked_torque": worked,
        "clamp_load": clamp,
        "yield_share": bolt.yield_share(load, rubbing.thread),
        "proof_share": clamp / (bolt.proof * bolt.stress_area),
        "equivalent_factor": np.asarray(fasteners.nut_factor(arm, bolt.diameter)),
        "short_torque": clamp * fasteners.arm_for_nut_factor(UNKNOWN_FACTOR, bolt.diameter),
        **_plausible(g, maker, worked),
        **_scatter(g, bolt, rubbing, torque),
        **_wrench(g, torque),
        **_engagement(g, bolt, clamp),
        **_turning(g, bolt, clamp, bolt.yield_strength * bolt.pull_area(rubbing.thread), arm),
    }


def _picked(g: Entries, key: str, numbers: Mapping[str, float | Floats]) -> Floats:
    """Return the number that belongs to the option chosen."""
    chosen = g.chosen(key)
    return np.select([chosen == option for option in numbers], list(numbers.values()), np.nan)


def _bolt(g: Entries) -> Bolt:
    """Return the bolt."""
    thread = _picked(g, "thread", _numbered(ALL_THREADS))
    head = _picked(g, "head", _numbered(HEADS))
    return Bolt(
        diameter=thread_figure(thread, DIAMETER),
        pitch=thread_figure(thread, PITCH),
        pitch_diameter=thread_figure(thread, PITCH_DIAMETER),
        stress_area=thread_figure(thread, STRESS_AREA),
        bearing=bearing_mean(thread, head),
        yield_strength=_picked(g, "grade", {g.key: g.yield_strength for g in GRADES}),
        proof=_picked(g, "grade", {g.key: g.proof for g in GRADES}),
        tensile=_picked(g, "grade", {g.key: g.tensile for g in GRADES}),
    )


def _numbered(rows: Iterable[data.Thread | data.Head]) -> dict[str, float]:
    """Return the number of each entry of a list by its key."""
    return {row.key: float(number) for number, row in enumerate(rows)}


def _rubbing(g: Entries, bolt: Bolt) -> Rubbing:
    """Return the friction, from the list or the person's own."""
    scatter = g["friction_scatter"]
    arm = fasteners.arm_for_nut_factor(g["nut_factor"], bolt.diameter)
    by_factor = np.asarray(
        fasteners.friction_for_arm(arm, bolt.pitch, bolt.pitch_diameter, bolt.bearing)
    )

    def used(listed: Mapping[str, float], place: str, share: Floats) -> Floats:
        own = {"own": g[place] * share, "nut_factor": by_factor * share}
        return _picked(g, "friction", {**listed, **own})

    nominal = {row.key: row.nominal for row in FRICTION}
    low = {row.key: row.low for row in FRICTION}
    high = {row.key: row.high for row in FRICTION}
    one = np.ones(scatter.shape)
    return Rubbing(
        used(nominal, "thread_friction", one),
        used(nominal, "head_friction", one),
        used(low, "thread_friction", 1.0 - scatter),
        used(low, "head_friction", 1.0 - scatter),
        used(high, "thread_friction", 1.0 + scatter),
        used(high, "head_friction", 1.0 + scatter),
    )


def _worked_torque(g: Entries, bolt: Bolt, rubbing: Rubbing, arm: Floats) -> Floats:
    """Return the torque for what was aimed at; NaN where that would break the bolt."""
    by_yield = fasteners.load_at_yield_share(
        g["yield_target"], bolt.yield_strength, bolt.pull_area(rubbing.thread)
    )
    by_proof = fasteners.load_at_proof_share(g["proof_target"], bolt.proof, bolt.stress_area)
    load = _picked(
        g,
        "work_from",
        {
            "yield": np.asarray(by_yield),
            "proof": np.asarray(by_proof),
            "load": bolt.whole(g["load_target"]),
        },
    )
    torque = fasteners.torque_for_load(np.nan_to_num(load, nan=0.0), arm)
    return np.where(np.isnan(load), np.nan, torque)


def _plausible(g: Entries, maker: Floats, worked: Floats) -> Mapping[str, Floats]:
    """Return how the maker's figure compares; NaN where an angle does the tightening."""
    seats_only = ~np.isnan(g["maker_angle"])
    return {
        "figure_over": np.where(seats_only, np.nan, maker / worked),
        "figure_under": np.where(seats_only, np.nan, worked / maker),
    }


def _scatter(g: Entries, bolt: Bolt, rubbing: Rubbing, torque: Floats) -> Mapping[str, Floats]:
    """Return the band of clamp loads, and the share of yield at its top."""
    deviation = _picked(g, "wrench", {tool.key: tool.deviation for tool in TOOLS})
    known = ~np.isnan(torque)
    at = np.where(known, torque, 1.0)
    arm_low = bolt.arm(rubbing.thread_low, rubbing.head_low)
    arm_high = bolt.arm(rubbing.thread_high, rubbing.head_high)
    low = np.where(known, fasteners.lowest_load(at, deviation, arm_high), np.nan)
    high = np.where(known, fasteners.highest_load(at, deviation, arm_low), np.nan)
    low_clamp, high_clamp = bolt.whole(low), bolt.whole(high)
    both = ~np.isnan(low_clamp) & ~np.isnan(high_clamp)
    factor = fasteners.tightening_factor(
        np.where(both, high_clamp, 1.0), np.where(both, low_clamp, 1.0)
    )
    return {
        "clamp_low": low_clamp,
        "clamp_high": high_clamp,
        "scatter": np.where(both, factor, np.nan),
        "yield_worst": bolt.yield_share(high, rubbing.thread_low),
    }


def _wrench(g: Entries, torque: Floats) -> Mapping[str, Floats]:
    """Return torque at the bolt, setting of the wrench and how far up its range that is."""
    used = np.where(g.chosen("drive") == "offset", g["extension"], 0.0)
    offset = used / g["wrench_length"]
    fit = (offset <= LARGEST_OFFSET) & ~np.isnan(torque)
    ratio = wrenches.torque_ratio(np.where(fit, offset, 0.0), g["extension_angle"])
    at_bolt = wrenches.with_running_torque(
        np.where(np.isnan(torque), 0.0, torque), g["running_torque"]
    )
    setting = np.where(fit, wrenches.wrench_setting(at_bolt, ratio), np.nan)
    return {
        "setting": setting,
        "bolt_torque": np.where(np.isnan(torque), np.nan, at_bolt),
        "range_share": setting / g["wrench_largest"],
    }


def _engagement(g: Entries, bolt: Bolt, clamp: Floats) -> Mapping[str, Floats]:
    """Return what thread must be engaged and what it holds, and the bolt's length."""
    thread = _picked(g, "thread", _numbered(ALL_THREADS))
    bolt_shear = _picked(g, "grade", {g.key: g.shear_strength for g in GRADES})
    hole_shear = _picked(g, "tapped", {row.key: row.shear_strength for row in TAPPED})
    bolt_rate = thread_figure(thread, BOLT_SHEAR_RATE)
    hole_rate = thread_figure(thread, HOLE_SHEAR_RATE)
    tapped = g.chosen("joint") == "tapped"
    breaks = threads.engagement_bolt_breaks(
        bolt.stress_area, bolt.tensile, bolt_rate, bolt_shear, hole_rate, hole_shear
    )
    factor = g["strip_factor"]
    pull = np.where(np.isnan(clamp), 1.0, clamp)
    for_load = np.maximum(
        threads.engagement_length(pull, factor, bolt_rate, bolt_shear),
        threads.engagement_length(pull, factor, hole_rate, hole_shear),
    )
    guide = _picked(g, "tapped", {row.key: row.guide_diameters for row in TAPPED})
    engaged = g["engaged"]
    known = np.where(np.isnan(engaged), 0.0, engaged)
    strip_load = np.minimum(
        threads.strip_load(known, bolt_rate, bolt_shear),
        threads.strip_load(known, hole_rate, hole_shear),
    )
    stack = g["stack"]
    used = first_entered(engaged, np.asarray(breaks))
    through = threads.bolt_length_through(
        np.nan_to_num(stack), thread_figure(thread, NUT_HEIGHT), THREADS_OUT, bolt.pitch
    )
    into = threads.bolt_length_tapped(np.nan_to_num(stack), used)
    gap = np.where(np.isnan(stack), np.nan, 0.0)
    return {
        "engagement_breaks": np.where(tapped, breaks, np.nan),
        "engagement_for_load": np.where(tapped & ~np.isnan(clamp), for_load, np.nan),
        "engagement_guide": np.where(
            tapped, threads.engagement_guide(bolt.diameter, guide), np.nan
        ),
        "strip_safety": np.where(tapped & ~np.isnan(engaged), strip_load, np.nan) / clamp,
        "bolt_length": np.where(tapped, into, through) + gap,
    }


def _turning(
    g: Entries, bolt: Bolt, clamp: Floats, yield_load: Floats, arm: Floats
) -> Mapping[str, Floats]:
    """Return stretch and angle, and where the maker's angle ends; NaN without a stack."""
    stack = g["stack"]
    grip = np.where(np.isnan(stack), 0.01, stack)
    shank = np.pi / 4.0 * bolt.diameter**2
    area = np.where(g.chosen("bolt_shape") == "shank", shank, bolt.stress_area)
    of_bolt = joints.axial_stiffness(STEEL_MODULUS, area, grip)
    of_parts = joints.clamped_stiffness(_picked(g, "parts", PARTS), bolt.diameter, grip)
    both = joints.series_stiffness(of_bolt, of_parts)
    known = ~np.isnan(stack) & ~np.isnan(clamp)
    load = np.where(known, clamp, 0.0)
    angle = g["maker_angle"]
    rise = joints.load_for_turn(np.nan_to_num(angle), bolt.pitch, both)
    after = g["maker_torque"] / arm + rise
    asked = ~np.isnan(stack) & ~np.isnan(angle) & (after <= LARGEST_LOAD)
    reach = np.where(asked, after, np.nan) / yield_load
    return {
        "stretch": np.where(known, joints.elongation(load, of_bolt), np.nan),
        "turn_angle": np.where(known, joints.turn_angle(load, bolt.pitch, both), np.nan),
        "elastic_reach": reach,
        "clamp_after_angle": np.where(reach <= 1.0, after, np.nan),
    }


# --- tables ----------------------------------------------------------------------------------


def _pull_area(thread: Real, friction: Real) -> Real:
    """Pull area by thread number."""
    return fasteners.pull_area(
        thread_figure(thread, PITCH),
        thread_figure(thread, PITCH_DIAMETER),
        thread_figure(thread, STRESS_AREA),
        friction,
    )


def _arm(thread: Real, head: Real, thread_friction: Real, head_friction: Real) -> Real:
    """Torque arm by thread and head number."""
    return fasteners.torque_arm(
        thread_figure(thread, PITCH),
        thread_figure(thread, PITCH_DIAMETER),
        bearing_mean(thread, head),
        thread_friction,
        head_friction,
    )


def _factor_friction(thread: Real, head: Real, factor: Real) -> Real:
    """Friction, alike in both places, that a nut factor stands for."""
    return fasteners.friction_for_arm(
        fasteners.arm_for_nut_factor(factor, thread_figure(thread, DIAMETER)),
        thread_figure(thread, PITCH),
        thread_figure(thread, PITCH_DIAMETER),
        bearing_mean(thread, head),
    )


def _parts_softness(slenderness: Real) -> Real:
    """Give of the clamped parts by thickness over diameter, for unit modulus and diameter."""
    modulus, d = 1e11, 0.01
    return modulus * d / joints.clamped_stiffness(modulus, d, slenderness * d)


def _held(value: Real, share: Real) -> Real:
    """Return a value as it is: a table of it refuses values whose share is above one."""
    del share
    return value


_BY_THREAD = entries("thread", "thread", len(ALL_THREADS))
_BY_HEAD = entries("head", "head", len(HEADS))

TABLES = (
    TableSpec(
        "thread_figure",
        thread_figure,
        (_BY_THREAD, entries("figure", "dimension", _THREAD_FIGURES.shape[1])),
        tolerance=1e-15,
        numbers="f8",
    ),
    TableSpec(
        "pull_area",
        _pull_area,
        (_BY_THREAD, cubic("friction", "thread friction", LEAST_FRICTION, MOST_FRICTION)),
        tolerance=5e-7,
        relative=True,
    ),
    TableSpec(
        "torque_arm",
        _arm,
        (
            _BY_THREAD,
            _BY_HEAD,
            linear("thread_friction", "thread friction", LEAST_FRICTION, MOST_FRICTION),
            linear("head_friction", "head friction", LEAST_FRICTION, MOST_FRICTION),
        ),
        tolerance=1e-12,
        relative=True,
        numbers="f8",
    ),
    TableSpec(
        "factor_friction",
        _factor_friction,
        (_BY_THREAD, _BY_HEAD, linear("factor", "nut factor", LEAST_FACTOR, MOST_FACTOR)),
        tolerance=1e-12,
        relative=True,
        numbers="f8",
    ),
    TableSpec(
        "torque_ratio",
        wrenches.torque_ratio,
        (
            linear("offset", "offset over wrench length", 0.0, LARGEST_OFFSET),
            cubic("angle", "angle of the offset", 0.0, float(np.pi)),
        ),
        tolerance=5e-8,
        numbers="f8",
    ),
    TableSpec(
        "parts_softness",
        _parts_softness,
        # Smooth throughout; cut where its scale changes, so that slopes are sampled finely enough.
        (cubic("slenderness", "stack over diameter", 0.1, 70.0, kinks=(0.5, 3.0, 15.0)),),
        tolerance=1e-6,
        relative=True,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "held",
        _held,
        (
            linear("value", "value", 0.0, LARGEST_LOAD * (1.0 - EDGE)),
            linear("share", "share", 0.0, 1.0 - EDGE),
        ),
        tolerance=1e-9,
        numbers="f8",
    ),
)


# --- the recipe ------------------------------------------------------------------------------

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


def _thread_look(name: str, figure: int) -> Look:
    """Look up a dimension of the thread."""
    return Look(name, "thread_figure", ("thread_number", float(figure)))


def _friction_pick(name: str, which: str, own: str, by_factor: str) -> Pick:
    """Pick a coefficient of friction: of the list, the person's own, or from a nut factor."""
    listed = [(row.key, float(getattr(row, which))) for row in FRICTION]
    return Pick(name, "friction", (*listed, ("own", own), ("nut_factor", by_factor)))


def _grade_pick(name: str, which: str) -> Pick:
    """Pick a strength of the grade."""
    return Pick(name, "grade", tuple((row.key, float(getattr(row, which))) for row in GRADES))


def _whole_load(name: str, load: str, share: str, words: str) -> tuple[Step, ...]:
    """Return steps that give a load unless it breaks the bolt."""
    return (
        Product(share, ((load, 1.0), ("breaking_load", -1.0))),
        Look(name, "held", (load, share), above=(("value", words), ("share", words))),
    )


def _any_load(name: str, load: str, words: str) -> Look:
    """Return a step that gives a load unless it is beyond all reason."""
    return Look(name, "held", (load, 0.0), above=(("value", words),))


def _if_tapped(name: str, value: str) -> Look:
    """Return a step that gives a value for a tapped hole only."""
    return Look(name, "held", (value, "nut_used"), above=(("share", _NUT),))


_BOLT_STEPS: tuple[Step, ...] = (
    Pick("thread_number", "thread", tuple(_numbered(ALL_THREADS).items())),
    Pick("head_number", "head", tuple(_numbered(HEADS).items())),
    _thread_look("diameter", DIAMETER),
    _thread_look("pitch", PITCH),
    _thread_look("stress_area", STRESS_AREA),
    _thread_look("nut_height", NUT_HEIGHT),
    _thread_look("bolt_shear_rate", BOLT_SHEAR_RATE),
    _thread_look("hole_shear_rate", HOLE_SHEAR_RATE),
    _grade_pick("yield_strength", "yield_strength"),
    _grade_pick("proof_strength", "proof"),
    _grade_pick("tensile_strength", "tensile"),
    _grade_pick("bolt_shear", "shear_strength"),
    Product("breaking_load", (("tensile_strength", 1.0), ("stress_area", 1.0))),
    Product("proof_load", (("proof_strength", 1.0), ("stress_area", 1.0))),
)

_FRICTION_STEPS: tuple[Step, ...] = (
    Sum("slippery", (("friction_scatter", -1.0),), plus=1.0),
    Sum("sticky", (("friction_scatter", 1.0),), plus=1.0),
    Look("factor_friction", "factor_friction", ("thread_number", "head_number", "nut_factor")),
    Product("factor_low", (("factor_friction", 1.0), ("slippery", 1.0))),
    Product("factor_high", (("factor_friction", 1.0), ("sticky", 1.0))),
    Product("own_thread_low", (("thread_friction", 1.0), ("slippery", 1.0))),
    Product("own_thread_high", (("thread_friction", 1.0), ("sticky", 1.0))),
    Product("own_head_low", (("head_friction", 1.0), ("slippery", 1.0))),
    Product("own_head_high", (("head_friction", 1.0), ("sticky", 1.0))),
    _friction_pick("thread_rub", "nominal", "thread_friction", "factor_friction"),
    _friction_pick("head_rub", "nominal", "head_friction", "factor_friction"),
    _friction_pick("thread_rub_low", "low", "own_thread_low", "factor_low"),
    _friction_pick("head_rub_low", "low", "own_head_low", "factor_low"),
    _friction_pick("thread_rub_high", "high", "own_thread_high", "factor_high"),
    _friction_pick("head_rub_high", "high", "own_head_high", "factor_high"),
    Look("pull_area", "pull_area", ("thread_number", "thread_rub")),
    Look("pull_area_low", "pull_area", ("thread_number", "thread_rub_low")),
    Look("arm", "torque_arm", ("thread_number", "head_number", "thread_rub", "head_rub")),
    Look(
        "arm_low", "torque_arm", ("thread_number", "head_number", "thread_rub_low", "head_rub_low")
    ),
    Look(
        "arm_high",
        "torque_arm",
        ("thread_number", "head_number", "thread_rub_high", "head_rub_high"),
    ),
    Product("yield_load", (("yield_strength", 1.0), ("pull_area", 1.0))),
    Product("yield_load_low", (("yield_strength", 1.0), ("pull_area_low", 1.0))),
    Product("equivalent_factor", (("arm", 1.0), ("diameter", -1.0))),
)

_TORQUE_STEPS: tuple[Step, ...] = (
    # What the bolt stands.
    Product("load_by_yield", (("yield_target", 1.0), ("yield_load", 1.0))),
    Product("load_by_proof", (("proof_target", 1.0), ("proof_load", 1.0))),
    *_whole_load("load_by_wish", "load_target", "wish_share", _TOO_HEAVY),
    Pick(
        "worked_load",
        "work_from",
        (("yield", "load_by_yield"), ("proof", "load_by_proof"), ("load", "load_by_wish")),
    ),
    Product("worked_torque", (("worked_load", 1.0), ("arm", 1.0))),
    # The maker's figure, if there is one, and whether it is plausible.
    First("joint_torque", ("maker_torque", "worked_torque")),
    Product("figure_ratio", (("maker_torque", 1.0), ("worked_torque", -1.0))),
    Product("figure_inverse", (("worked_torque", 1.0), ("maker_torque", -1.0))),
    Sum("angle_follows", (("maker_angle", 1.0),), plus=2.0),
    Look("seats_only", "held", (0.0, "angle_follows"), above=(("share", _SEATS_ONLY),)),
    First("figure_over", ("seats_only", "figure_ratio")),
    First("figure_under", ("seats_only", "figure_inverse")),
    # What it clamps, at usual friction and at the ends of friction and wrench.
    Product("turned_load", (("joint_torque", 1.0), ("arm", -1.0))),
    *_whole_load("clamp_load", "turned_load", "break_share", _BREAKS),
    _any_load("judged_load", "turned_load", _TOO_FAR),
    Product("yield_share", (("judged_load", 1.0), ("yield_load", -1.0))),
    Product("proof_share", (("clamp_load", 1.0), ("proof_load", -1.0))),
    Product("short_torque", (("clamp_load", 1.0), ("diameter", 1.0)), times=UNKNOWN_FACTOR),
    Pick("deviation", "wrench", tuple((tool.key, tool.deviation) for tool in TOOLS)),
    Sum("set_over_true", (("deviation", 1.0),), plus=1.0),
    Sum("set_under_true", (("deviation", -1.0),), plus=1.0),
    Product("low_load", (("joint_torque", 1.0), ("set_over_true", -1.0), ("arm_high", -1.0))),
    Product("high_load", (("joint_torque", 1.0), ("set_under_true", -1.0), ("arm_low", -1.0))),
    *_whole_load("clamp_low", "low_load", "low_break_share", _BREAKS),
    *_whole_load("clamp_high", "high_load", "high_break_share", _BREAKS_AT_WORST),
    Product("scatter", (("clamp_high", 1.0), ("clamp_low", -1.0))),
    _any_load("worst_load", "high_load", _TOO_FAR),
    Product("yield_worst", (("worst_load", 1.0), ("yield_load_low", -1.0))),
    # What to dial in.
    Sum("bolt_torque", (("joint_torque", 1.0), ("running_torque", 1.0))),
    Pick("offset_used", "drive", (("straight", 0.0), ("offset", "extension"))),
    Product("offset", (("offset_used", 1.0), ("wrench_length", -1.0))),
    Look("lever", "torque_ratio", ("offset", "extension_angle"), above=(("offset", _LONG_OFFSET),)),
    Product("setting", (("bolt_torque", 1.0), ("lever", -1.0))),
    Product("range_share", (("setting", 1.0), ("wrench_largest", -1.0))),
    Product("largest_near", (("wrench_largest", 1.0),), times=0.95),
)

_JOINT_STEPS: tuple[Step, ...] = (
    # Thread in the hole.
    Pick("nut_used", "joint", (("tapped", 0.0), ("nut", 2.0))),
    Pick("hole_shear", "tapped", tuple((row.key, row.shear_strength) for row in TAPPED)),
    Pick("guide", "tapped", tuple((row.key, row.guide_diameters) for row in TAPPED)),
    Product("bolt_holds", (("bolt_shear_rate", 1.0), ("bolt_shear", 1.0))),
    Product("hole_holds", (("hole_shear_rate", 1.0), ("hole_shear", 1.0))),
    least("weaker", "bolt_holds", "hole_holds"),
    Product("thread_breaks", (("breaking_load", 1.0), ("weaker", -1.0))),
    _if_tapped("engagement_breaks", "thread_breaks"),
    Product("thread_needed", (("clamp_load", 1.0), ("strip_factor", 1.0), ("weaker", -1.0))),
    _if_tapped("engagement_for_load", "thread_needed"),
    Product("thread_guide", (("diameter", 1.0), ("guide", 1.0))),
    _if_tapped("engagement_guide", "thread_guide"),
    Product("strip_load", (("engaged", 1.0), ("weaker", 1.0))),
    Product("strip_ratio", (("strip_load", 1.0), ("clamp_load", -1.0))),
    _if_tapped("strip_safety", "strip_ratio"),
    Product("strip_near", (("strip_factor", 1.0),), times=1.1),
    Product("engaged_near", (("engaged", 1.0),), times=0.95),
    # The bolt's length.
    First("engagement_used", ("engaged", "thread_breaks")),
    Sum("length_tapped", (("stack", 1.0), ("engagement_used", 1.0))),
    Sum("length_through", (("stack", 1.0), ("nut_height", 1.0), ("pitch", THREADS_OUT))),
    Pick("bolt_length", "joint", (("tapped", "length_tapped"), ("nut", "length_through"))),
    # Stretch and angle.
    Product("shank_area", (("diameter", 2.0),), times=float(np.pi / 4.0)),
    Pick("stretched_area", "bolt_shape", (("threaded", "stress_area"), ("shank", "shank_area"))),
    Product("bolt_give", (("stack", 1.0), ("stretched_area", -1.0)), times=1.0 / STEEL_MODULUS),
    Pick("parts_modulus", "parts", tuple(PARTS.items())),
    Product("slenderness", (("stack", 1.0), ("diameter", -1.0))),
    Look("parts_number", "parts_softness", ("slenderness",)),
    Product("parts_give", (("parts_number", 1.0), ("parts_modulus", -1.0), ("diameter", -1.0))),
    Sum("give", (("bolt_give", 1.0), ("parts_give", 1.0))),
    Product("stretch", (("clamp_load", 1.0), ("bolt_give", 1.0))),
    Product(
        "turn_angle",
        (("clamp_load", 1.0), ("give", 1.0), ("pitch", -1.0)),
        times=float(2.0 * np.pi),
    ),
    Product("seat_load", (("maker_torque", 1.0), ("arm", -1.0))),
    Product(
        "angle_load",
        (("maker_angle", 1.0), ("pitch", 1.0), ("give", -1.0)),
        times=float(1.0 / (2.0 * np.pi)),
    ),
    Sum("angled_load", (("seat_load", 1.0), ("angle_load", 1.0))),
    _any_load("reached_load", "angled_load", _ANGLE_TOO_FAR),
    Product("elastic_reach", (("reached_load", 1.0), ("yield_load", -1.0))),
    Look(
        "clamp_after_angle",
        "held",
        ("reached_load", "elastic_reach"),
        above=(("share", _YIELDS),),
    ),
)

STEPS = (*_BOLT_STEPS, *_FRICTION_STEPS, *_TORQUE_STEPS, *_JOINT_STEPS)


# --- the page --------------------------------------------------------------------------------

_GROUPS = {
    (data.METRIC, "coarse"): "Metric coarse",
    (data.METRIC, "fine"): "Metric fine",
    (data.INCH, "coarse"): "Unified coarse, UNC",
    (data.INCH, "fine"): "Unified fine, UNF",
}


def _thread_options() -> tuple[Option, ...]:
    """Return the threads by group, each marked with its system."""
    return tuple(
        Option(thread.key, thread.label, thread.system, heading)
        for (system, series), heading in _GROUPS.items()
        for thread in ALL_THREADS
        if (thread.system, thread.series) == (system, series)
    )


_TAPPED_HOLE = ("joint", ("tapped",))
_OWN = ("friction", ("own",))
_OFFSET = ("drive", ("offset",))
_FROM_MAKER = "From the instructions for this very part."

_FIRST_FIELDS = (
    Choice(
        "thread",
        "Thread",
        _thread_options(),
        "M8x1.25",
        measure="Caliper over the thread, and a pitch gauge.",
        first=True,
    ),
    Choice(
        "grade",
        "Grade",
        tuple(Option(grade.key, grade.label, grade.system) for grade in GRADES),
        "8.8",
        measure="Marked on the head: figures for metric, none, three or six lines for grades 2, 5 "
        "and 8.",
        first=True,
        match="thread",
    ),
    Choice(
        "friction",
        "On the thread and under the head",
        (
            *(Option(row.key, row.label) for row in FRICTION),
            Option("own", "Friction I enter", group="My own"),
            Option("nut_factor", "Nut factor K I enter", group="My own"),
        ),
        "oiled",
        measure="Decides the clamp load more than the wrench does.",
        first=True,
    ),
    Number(
        "maker_torque",
        "Maker's torque",
        Scale("torque", unit="Nm", span=(0.5, 600), default=None, step=1),
        measure=f"{_FROM_MAKER} It overrules everything worked out here.",
        way_out="Look at the unit: pound-inches are a twelfth of pound-feet.",
        first=True,
        kept=True,
        stands_before="setting",
    ),
)

_AIM_FIELDS = (
    Number(
        "maker_angle",
        "Maker's angle after that torque",
        Scale("angle", unit="deg", span=(5, 360), default=None, step=15),
        measure=f"{_FROM_MAKER} Leave empty if there is none.",
        way_out="Enter the angle of one stage, up to a full turn.",
        kept=True,
    ),
    Choice(
        "work_from",
        "Work out the torque from",
        (
            Option("yield", "Share of yield, twist counted"),
            Option("proof", "Share of the proof load"),
            Option("load", "A clamp load I want"),
        ),
        "yield",
    ),
    Number(
        "yield_target",
        "Share of yield",
        Scale("percent", unit="pct", span=(30, 95), default=70, step=5),
        measure="At 70 an oiled bolt just gets to yield at worst, slippery and the wrench giving "
        "too much. VDI 2230 goes to 90, for friction that is known.",
        way_out="Over 95 the bolt is as good as stretched.",
        when=("work_from", ("yield",)),
    ),
    Number(
        "proof_target",
        "Share of the proof load",
        Scale("percent", unit="pct", span=(30, 100), default=75, step=5),
        measure="75 for joints that are undone again, 90 for those that are not (Shigley).",
        way_out="Over 100 the bolt may stretch for good.",
        when=("work_from", ("proof",)),
    ),
    Number(
        "load_target",
        "Clamp load wanted",
        Scale("force", unit="kN", span=(0.5, 150), default=15, step=1),
        measure="For each bolt.",
        way_out="Enter the load of one bolt.",
        when=("work_from", ("load",)),
    ),
    Choice(
        "head",
        "What turns",
        tuple(Option(head.key, head.label) for head in HEADS),
        "hex",
        measure="For a nut take the same shape.",
    ),
    Number(
        "thread_friction",
        "Friction in the thread",
        Scale("ratio", unit="", span=(0.04, 0.35), default=0.12, step=0.01),
        measure="From the maker of bolt or lubricant.",
        way_out="Oiled steel is about 0.12, pastes 0.08, dry 0.18.",
        when=_OWN,
    ),
    Number(
        "head_friction",
        "Friction under the head",
        Scale("ratio", unit="", span=(0.04, 0.35), default=0.12, step=0.01),
        measure="The same, if only one figure is given.",
        way_out="Oiled steel is about 0.12, pastes 0.08, dry 0.18.",
        when=_OWN,
    ),
    Number(
        "nut_factor",
        "Nut factor K",
        Scale(
            "ratio", unit="", span=(LEAST_FACTOR, MOST_FACTOR), default=UNKNOWN_FACTOR, step=0.01
        ),
        measure="0.20 where nothing is known, 0.12 with anti-seize paste (Shigley); 0.15 in charts "
        "for oiled inch bolts.",
        way_out="If it isn't known, take 0.20.",
        when=("friction", ("nut_factor",)),
    ),
    Number(
        "friction_scatter",
        "Scatter of that friction, up and down",
        Scale("percent", unit="pct", span=(0, 40), default=25, step=5),
        measure="25 if not measured on these parts. Common practice.",
        way_out="Over 40 pick an entry of the list instead.",
        when=("friction", ("own", "nut_factor")),
    ),
    Number(
        "running_torque",
        "Running torque, before the head seats",
        Scale("torque", unit="Nm", span=(0, 60), default=0, step=0.5),
        measure="Locking nuts: read it while turning freely. Leave 0 if the figure you use counts "
        "it already.",
        way_out="More drag than that is a damaged thread: stop.",
    ),
)

_WRENCH_FIELDS = (
    Choice(
        "wrench",
        "Torque wrench",
        tuple(Option(tool.key, tool.label) for tool in TOOLS),
        "click",
    ),
    Number(
        "wrench_largest",
        "Its largest torque",
        Scale("torque", unit="Nm", span=(2, 1500), default=None, step=10),
        measure="Top of its scale. It is tested from a fifth of that up (ISO 6789).",
        way_out="Enter the top of the scale.",
    ),
    Choice(
        "drive",
        "Head of the wrench",
        (Option("straight", "Socket straight on"), Option("offset", "Crowfoot or offset")),
        "straight",
        measure="A long socket straight down changes nothing; an offset to the side does.",
    ),
    Number(
        "extension",
        "Offset, drive to bolt",
        Scale("length", unit="mm", span=(0, 500), default=50, step=5),
        measure="Across, from the drive square to the bolt's centre.",
        way_out="Use a longer wrench or a shorter extension.",
        when=_OFFSET,
    ),
    Number(
        "wrench_length",
        "Wrench length",
        Scale("length", unit="mm", span=(100, 1500), default=300, step=10),
        measure="Drive square to the mark on the grip.",
        way_out="Measure from the drive square to where the hand pulls.",
        when=_OFFSET,
    ),
    Number(
        "extension_angle",
        "Angle of the offset",
        Scale("angle", unit="deg", span=(0, 180), default=0, step=15),
        measure="0 carries straight on, 90 changes nothing, 180 points back at the hand.",
        way_out="Left or right is the same: enter 0 to 180.",
        when=_OFFSET,
    ),
)

_JOINT_FIELDS = (
    Choice(
        "joint",
        "Screws into",
        (Option("tapped", "A tapped hole"), Option("nut", "A nut")),
        "tapped",
    ),
    Choice(
        "tapped",
        "Tapped in",
        tuple(Option(row.key, row.label) for row in TAPPED),
        TAPPED[0].key,
        when=_TAPPED_HOLE,
    ),
    Number(
        "engaged",
        "Thread engaged",
        Scale("length", unit="mm", span=(2, 60), default=None, step=1),
        measure="Full turns only: about one pitch less than the bolt reaches in.",
        way_out="Enter millimetres of full thread, not turns.",
        when=_TAPPED_HOLE,
    ),
    Number(
        "strip_factor",
        "Thread to hold, times the clamp load",
        Scale("ratio", unit="", span=(1, 4), default=1.5, step=0.1),
        measure="1.5 is common practice.",
        way_out="From 1 up; more than 4 is never needed.",
        when=_TAPPED_HOLE,
    ),
    Number(
        "stack",
        "Stack under the head",
        Scale("length", unit="mm", span=(2, 300), default=None, step=1),
        measure="All that is clamped, washers too. For bolt length, stretch and angle.",
        way_out="Measure from under the head to hole or nut.",
    ),
    Choice(
        "bolt_shape",
        "Bolt in the stack",
        (Option("threaded", "Threaded all through"), Option("shank", "Mostly plain shank")),
        "threaded",
    ),
    Choice(
        "parts",
        "Clamped parts",
        (
            Option("aluminium", "Aluminium"),
            Option("iron", "Cast iron"),
            Option("steel", "Steel"),
        ),
        "aluminium",
    ),
)

FIELDS = (*_FIRST_FIELDS, *_AIM_FIELDS, *_WRENCH_FIELDS, *_JOINT_FIELDS)

_TORQUE_DECIMALS = {"Nm": 1, "lbft": 1, "lbin": 0}
_LOAD_DECIMALS = {"kN": 1, "lbf": 0}
_LENGTH_DECIMALS = {"mm": 1, "in": 2}

FACTOR_LIMIT, FACTOR_NEAR = 2.0, 1.3
"""Maker's figure over worked-out torque from which it is questioned. Common practice: 1.36 is
N·m taken for lb·ft, 12 is lb·in taken for lb·ft; strength alone seldom explains more than 1.3."""

UNDER_LIMIT, UNDER_NEAR = 6.0, 1.3
"""Worked-out torque over maker's figure from which it is questioned. Common practice: gaskets and
soft parts take half of what the bolt stands, seldom a sixth, so only a wrong unit is beyond."""

_TORQUE_ANSWERS = (
    Answer(
        "setting",
        "Set the wrench to",
        of="torque",
        decimals=_TORQUE_DECIMALS,
        tolerance=0.004,
        uncertainty=0.5,
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
    Answer(
        "worked_torque",
        "Torque worked out",
        of="torque",
        decimals=_TORQUE_DECIMALS,
        tolerance=0.004,
        uncertainty=0.5,
        rank="second",
        note="From strength and friction alone, without any running torque.",
    ),
    Answer(
        "clamp_load",
        "Clamp load",
        of="force",
        decimals=_LOAD_DECIMALS,
        tolerance=0.0008,
        uncertainty=1.0,
        rank="second",
        note="At usual friction; the band stands below.",
    ),
    Answer(
        "figure_over",
        "Maker's figure over worked-out torque",
        of="ratio",
        decimals={"": 2},
        tolerance=0.0005,
        uncertainty=0.2,
        band=Band(
            side="max",
            limit=FACTOR_LIMIT,
            near=FACTOR_NEAR,
            within="The figure is {value} of the worked-out torque: plausible.",
            near_words="The figure is {value} times the worked-out torque. Check thread, grade and lubricant; "
            "newton metres taken for pound-feet make 1.36.",
            beyond="The figure is {value} times the worked-out torque. It stands, but ask before you "
            "turn: are these pound-inches? Taken for pound-feet they are 12 times too much.",
        ),
        optional=True,
    ),
    Answer(
        "figure_under",
        "Worked-out torque over maker's figure",
        of="ratio",
        decimals={"": 2},
        tolerance=0.002,
        uncertainty=0.2,
        band=Band(
            side="max",
            limit=UNDER_LIMIT,
            near=UNDER_NEAR,
            within="The bolt would take {value} of the figure: plausible.",
            near_words="The bolt would take {value} times the figure: usual over gaskets and in soft parts. "
            "If there are none, check the unit: pound-feet taken for newton metres make 1.36.",
            beyond="The bolt would take {value} times the figure. It stands, but ask before you turn: "
            "are these pound-feet? Taken for pound-inches they are 12 times too little.",
        ),
        optional=True,
    ),
    Answer(
        "yield_share",
        "Share of yield",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.02,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=1.0,
            near=0.905,
            within="Bolt at {value} of yield, twist counted.",
            near_words="Bolt at {value} of yield: only with friction that you know well.",
            beyond="Bolt at {value} of yield: it stretches for good. Check the unit and the lubricant.",
        ),
        rank="second",
    ),
    Answer(
        "yield_worst",
        "Share of yield at worst",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.02,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=1.1,
            near=1.01,
            within="At worst {value} of yield, slippery and the wrench giving too much.",
            near_words="At worst {value} of yield, slippery and the wrench giving too much: fit new bolts, or "
            "aim a little lower.",
            beyond="At worst {value} of yield: a slippery bolt stretches for good. Unless the figure is "
            "the maker's, aim lower or use friction you know better.",
        ),
    ),
    Answer(
        "clamp_low",
        "Least clamp load",
        of="force",
        decimals=_LOAD_DECIMALS,
        tolerance=0.0008,
        uncertainty=1.0,
        note="Sticky thread, wrench giving too little.",
    ),
    Answer(
        "clamp_high",
        "Greatest clamp load",
        of="force",
        decimals=_LOAD_DECIMALS,
        tolerance=0.0008,
        uncertainty=1.0,
        note="Slippery thread, wrench giving too much.",
    ),
    Answer(
        "scatter",
        "Greatest over least",
        of="ratio",
        decimals={"": 1},
        tolerance=1e-6,
        uncertainty=0.2,
    ),
    Answer(
        "bolt_torque",
        "Torque at the bolt",
        of="torque",
        decimals=_TORQUE_DECIMALS,
        tolerance=0.004,
        uncertainty=0.5,
        note="Differs from the setting where an offset head is on the wrench.",
    ),
    Answer(
        "range_share",
        "Setting in the wrench's range",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=2.0,
        band=Band(
            side="min",
            limit=USABLE_FROM,
            near=USABLE_FROM * 1.1,
            within="{value} of the wrench's largest: it has been tested there, up to 100 %.",
            near_words="{value} of the wrench's largest, barely in its tested range.",
            beyond="{value} of the wrench's largest: below {limit} nothing has been tested. Take a "
            "smaller wrench.",
        ),
        optional=True,
    ),
    Answer(
        "proof_share",
        "Share of the proof load",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.02,
        uncertainty=5.0,
    ),
    Answer(
        "equivalent_factor",
        "Nut factor K of this set-up",
        of="ratio",
        decimals={"": 3},
        tolerance=1e-6,
        uncertainty=0.02,
    ),
    Answer(
        "short_torque",
        f"Short form, K = {UNKNOWN_FACTOR:.2f}",
        of="torque",
        decimals=_TORQUE_DECIMALS,
        tolerance=0.004,
        uncertainty=0.5,
        note="For comparing with charts that know no lubricant.",
    ),
)

_JOINT_ANSWERS = (
    Answer(
        "engagement_breaks",
        "Thread for the bolt to break first",
        of="length",
        decimals=_LENGTH_DECIMALS,
        tolerance=0.001,
        uncertainty=1.0,
        band=Band(
            side="max",
            limit="engaged",
            near="engaged_near",
            within="{limit} engaged, {value} needed: overtightened, the bolt breaks and not the hole.",
            near_words="{limit} engaged, {value} needed: just enough for the bolt to break first.",
            beyond="{margin} short of {value}: overtightened, the thread strips before the bolt breaks.",
        ),
        optional=True,
    ),
    Answer(
        "engagement_for_load",
        "Thread for this clamp load",
        of="length",
        decimals=_LENGTH_DECIMALS,
        tolerance=0.001,
        uncertainty=1.0,
        optional=True,
    ),
    Answer(
        "engagement_guide",
        "Thread by the rule of diameters",
        of="length",
        decimals=_LENGTH_DECIMALS,
        tolerance=0.001,
        uncertainty=1.0,
        optional=True,
    ),
    Answer(
        "strip_safety",
        "Thread holds, times the clamp load",
        of="ratio",
        decimals={"": 1},
        tolerance=0.001,
        uncertainty=0.2,
        band=Band(
            side="min",
            limit="strip_factor",
            near="strip_near",
            within="The thread holds {value} times the clamp load.",
            near_words="The thread holds {value} times the clamp load, barely the {limit} wanted.",
            beyond="The thread holds only {value} times the clamp load, {limit} are wanted. Engage more "
            "thread, or fit an insert by its maker's instructions.",
        ),
        optional=True,
    ),
    Answer(
        "bolt_length",
        "Shortest bolt under the head",
        of="length",
        decimals=_LENGTH_DECIMALS,
        tolerance=0.001,
        uncertainty=1.0,
        note="Take the next stock length up. The hole must be deeper than the bolt reaches.",
        optional=True,
    ),
    Answer(
        "stretch",
        "Stretch of the bolt",
        of="small_length",
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
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=10.0,
        band=Band(
            side="max",
            limit=1.0,
            near=0.9,
            within="Torque and angle use {value} of what the bolt springs: it stays elastic.",
            near_words="Torque and angle use {value} of what the bolt springs, close to yield: take new "
            "bolts.",
            beyond="Torque and angle use {value} of what the bolt springs: it is taken past yield. Single "
            "use: new bolts each time, in the grade the maker names.",
        ),
        optional=True,
    ),
    Answer(
        "clamp_after_angle",
        "Clamp load after the angle",
        of="force",
        decimals=_LOAD_DECIMALS,
        tolerance=0.0008,
        uncertainty=2.0,
        optional=True,
    ),
)

ANSWERS = (*_TORQUE_ANSWERS, *_JOINT_ANSWERS)


def _of_system(system: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the threads and the grades of one system."""
    return (
        tuple(thread.key for thread in ALL_THREADS if thread.system == system),
        tuple(grade.key for grade in GRADES if grade.system == system),
    )


def _grid(title: str, system: str) -> GridView:
    """Return the table of torque by thread and grade for one system."""
    rows, columns = _of_system(system)
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
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working(
            "joint_torque", "Torque that tightens the joint", of="torque", unit="Nm", decimals=1
        ),
        Working("diameter", "Nominal diameter d", of="length", unit="mm", decimals=3),
        Working("pitch", "Pitch P", of="length", unit="mm", decimals=3),
        Working("stress_area", "Stress area A_s", of="area", unit="mm2", decimals=1),
        Working(
            "pull_area",
            "Area left for pull beside the twist, A_pull",
            of="area",
            unit="mm2",
            decimals=1,
        ),
        Working("thread_rub", "Friction in the thread μ_thread"),
        Working("head_rub", "Friction under the head μ_head"),
        Working("arm", "Torque over clamp load, arm", of="length", unit="mm", decimals=3),
        Working("arm_low", "Arm at the lowest friction", of="length", unit="mm", decimals=3),
        Working("arm_high", "Arm at the highest friction", of="length", unit="mm", decimals=3),
        Working("worked_load", "Clamp load aimed at", of="force", unit="kN", decimals=1),
        Working("yield_load", "Clamp load at yield", of="force", unit="kN", decimals=1),
        Working(
            "yield_load_low",
            "Clamp load at yield, lowest friction",
            of="force",
            unit="kN",
            decimals=1,
        ),
        Working("worst_load", "Greatest clamp load", of="force", unit="kN", decimals=1),
        Working("proof_load", "Proof load", of="force", unit="kN", decimals=1),
        Working("breaking_load", "Breaking load R_m A_s", of="force", unit="kN", decimals=1),
        Working(
            "weaker",
            "Thread strips at, for each mm engaged",
            of="force_per_length",
            unit="kNpmm",
            decimals=2,
        ),
        Working("bolt_give", "Give of the bolt", of="give", unit="umpkN", decimals=2),
        Working("give", "Give of bolt and parts", of="give", unit="umpkN", decimals=2),
        Working("set_over_true", "1 + deviation of the wrench"),
        Working("set_under_true", "1 − deviation of the wrench"),
        Working("lever", "Torque at the bolt over setting"),
        Working("guide", "Diameters by the rule", decimals=1),
        Working("seat_load", "Clamp load of the maker's torque", of="force", unit="kN", decimals=1),
        Working("angle_load", "Clamp load added by the angle", of="force", unit="kN", decimals=1),
    ),
    views=Views(
        grids=(
            _grid("Metric bolts: torque worked out, by thread and grade", data.METRIC),
            _grid("Inch bolts: torque worked out, by thread and grade", data.INCH),
            GridView(
                "This bolt with other lubricants",
                "worked_torque",
                "friction",
                tuple(row.key for row in FRICTION),
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
