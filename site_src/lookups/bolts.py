"""Bolts: what can be picked and entered about a bolt, its wrench and its joint.

Threads, grades, heads, friction, tapped materials and torque tools are lists of
`site_src.data.fasteners`; figures of a thread are tabulated by its place in the list. The torque
page asks all of this; other pages take single entries of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc import fasteners, threads
from calc.domain import Real
from site_src.data import fasteners as data
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Scale
from site_src.model.quantities import quantity
from site_src.model.said import both
from site_src.tables.compiler import listed
from site_src.tables.trace import Tabulated, tabulated

LEAST_FACTOR, MOST_FACTOR = 0.08, 0.40
"""Nut factors that can be entered."""

ALL_THREADS = data.all_threads()
HEADS = data.heads_for(ALL_THREADS[0])
GRADES = data.all_grades()
FRICTION = data.all_friction()
TAPPED = data.all_tapped_materials()
UNKNOWN_FACTOR = data.nut_factor("unknown").factor

CLAMPED = data.all_clamped()
NOT_STATED = "not_stated"
"""What lies under the head is not picked, so that neither pressure nor springs are judged."""


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
    pound_foot = quantity("torque").unit("lbft").factor
    for kind in data.all_wrench_kinds():
        percent = f"±{kind.deviation:.0%}".replace("%", " %")
        tools.append(Tool(kind.key, f"{kind.label}, {percent}", kind.deviation, kind.usable_from))
        if kind.deviation_small != kind.deviation:
            small = f"±{kind.deviation_small:.0%}".replace("%", " %")
            largest = both(
                f"{kind.small_up_to:g} N·m", f"{kind.small_up_to / pound_foot:.1f} lb·ft"
            )
            label = f"{kind.label}, largest {largest} or less, {small}"
            key = f"{kind.key}_small"
            tools.append(Tool(key, label, kind.deviation_small, kind.usable_from))
    return tuple(tools)


TOOLS = _tools()
USABLE_FROM = TOOLS[0].usable_from
"""Share of a torque wrench's largest torque from which it has been tested. ISO 6789."""


# --- figures of threads ---------------------------------------------------------------------

_BY_THREAD = listed("thread", "thread", len(ALL_THREADS))
_BY_HEAD = listed("head", "head", len(HEADS))
_BY_GRADE = listed("grade", "grade", len(GRADES))


def _whole(number: Real) -> NDArray[np.int64]:
    """Return places in a list as whole numbers."""
    return np.asarray(number).astype(np.int64)


def _of_thread(
    name: str, figure: Callable[[data.Thread], float], *by: Callable[..., Real]
) -> Tabulated:
    """Return a table of one figure of each thread."""
    figures = np.array([figure(thread) for thread in ALL_THREADS])
    return tabulated(
        name, lambda thread: figures[_whole(thread)], _BY_THREAD, tolerance=1e-15, by=by
    )


def _size(thread: Real, which: Real) -> Real:
    """Return a dimension of a thread, or of what goes with it."""
    return np.asarray(_SIZES[_whole(thread), _whole(which)])


def _strength(thread: Real, grade: Real, which: Real) -> Real:
    """Return a strength of a grade on a thread."""
    return np.asarray(_STRENGTHS[_whole(thread), _whole(grade), _whole(which)])


def _of_head(
    name: str, figure: Callable[[data.Head, data.Thread], float], *by: Callable[..., Real]
) -> Tabulated:
    """Return a table of one figure of each head on each thread."""
    figures = np.array(
        [[figure(data.head(head.key, on), on) for head in HEADS] for on in ALL_THREADS]
    )
    return tabulated(
        name,
        lambda thread, head: figures[_whole(thread), _whole(head)],
        _BY_THREAD,
        _BY_HEAD,
        tolerance=1e-15,
        by=by,
    )


_SIZES = np.array(
    [
        (
            thread.diameter,
            thread.pitch,
            thread.nut_height,
            thread.clear_hole,
            data.washer(thread).outside,
            data.washer(thread).thickness,
        )
        for thread in ALL_THREADS
    ]
)
SIZE = tabulated(
    "thread_size",
    _size,
    _BY_THREAD,
    listed(
        *("which", "dimension", _SIZES.shape[1]),
        ("diameter", "pitch", "nut height", "clear hole", "washer outside", "washer thickness"),
    ),
    tolerance=1e-15,
)
DIAMETER, PITCH, NUT_HEIGHT, CLEAR_HOLE, WASHER_OUTSIDE, WASHER_THICKNESS = (
    float(n) for n in range(6)
)
"""Places of the dimensions in the table."""

STRESS_AREA = _of_thread(
    "stress_area",
    lambda thread: thread.stress_area,
    threads.stress_area,
    threads.stress_area_unified,
)
BOLT_SHEAR_RATE = _of_thread(
    "bolt_shear_rate", lambda thread: thread.external_shear_rate, threads.external_shear_rate
)
HOLE_SHEAR_RATE = _of_thread(
    "hole_shear_rate", lambda thread: thread.internal_shear_rate, threads.internal_shear_rate
)
BEARING_MEAN = _of_head(
    "bearing_mean", lambda head, on: head.bearing_mean(on), fasteners.mean_bearing_diameter
)
BEARING = _of_head("bearing", lambda head, on: head.bearing)

_STRENGTHS = np.array(
    [
        [
            (grade.proof, grade.yield_strength, grade.tensile, grade.shear_strength)
            for grade in (data.grade_on(each.key, on) for each in GRADES)
        ]
        for on in ALL_THREADS
    ]
)
STRENGTH = tabulated(
    "bolt_strength",
    _strength,
    _BY_THREAD,
    _BY_GRADE,
    listed("which", "strength", 4, ("proof", "yield", "tensile", "shear")),
    tolerance=1e-15,
    relative=True,
)
PROOF, YIELD, TENSILE, SHEAR = (float(n) for n in range(4))
"""Places of the strengths in the table."""


def thread_number(e: Entries) -> Real:
    """Return the thread's place in the list."""
    return e.number_of("thread", [thread.key for thread in ALL_THREADS])


def head_number(e: Entries) -> Real:
    """Return the head's place in the list."""
    return e.number_of("head", [head.key for head in HEADS])


def grade_number(e: Entries) -> Real:
    """Return the grade's place in the list."""
    return e.number_of("grade", [grade.key for grade in GRADES])


# --- entries -------------------------------------------------------------------------------

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
_IN_THREAD = ("joint", ("tapped", "insert"))
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
        measure="On the head: figures for metric; no, three or six lines for grades 2, 5, 8.",
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
    Choice(
        "drive",
        "Head of the wrench",
        (Option("straight", "Socket straight on"), Option("offset", "Crowfoot or offset")),
        "straight",
        first=True,
    ),
    Number(
        "extension",
        "Offset, drive to bolt",
        Scale("length", unit="mm", span=(0, 500), default=50, step=5),
        measure="Across, from the drive square to the bolt's centre. A long socket straight down "
        "is none.",
        way_out="Use a longer wrench or a shorter extension.",
        first=True,
        when=_OFFSET,
    ),
    Number(
        "wrench_length",
        "Wrench length",
        Scale("length", unit="mm", span=(100, 1500), default=300, step=10),
        measure="Drive square to the mark on the grip.",
        way_out="Measure from the drive square to where the hand pulls.",
        first=True,
        when=_OFFSET,
    ),
    Number(
        "extension_angle",
        "Angle of the offset",
        Scale("angle", unit="deg", span=(0, 180), default=0, step=15),
        measure="0 carries straight on, 90 changes nothing, 180 points back at the hand.",
        way_out="Left or right is the same: enter 0 to 180.",
        first=True,
        when=_OFFSET,
    ),
    Number(
        "maker_torque",
        "Maker's torque",
        Scale("torque", unit="Nm", span=(0.5, 600), default=None, step=1),
        sign="T_maker",
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
        sign="φ",
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
        Scale("torque", unit="Nm", span=(0, 60), default=0, step=0.5, inch=Inch(unit="lbin")),
        sign="T_running",
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
        sign="T_largest",
        measure="Top of its scale. It is tested from a fifth of that up (ISO 6789).",
        way_out="Enter the top of the scale.",
    ),
)

_THREAD_FIELDS = (
    Choice(
        "joint",
        "Screws into",
        (
            Option("tapped", "A tapped hole"),
            Option("insert", "A thread insert"),
            Option("nut", "A nut"),
        ),
        "tapped",
        first=True,
    ),
    Choice(
        "tapped",
        "Tapped in",
        tuple(Option(row.key, row.label) for row in TAPPED),
        TAPPED[0].key,
        first=True,
        when=_IN_THREAD,
    ),
    Number(
        "engaged",
        "Thread engaged",
        Scale("length", unit="mm", span=(2, 60), default=None, step=1),
        sign="L",
        measure="Full turns only: about one pitch less than the bolt reaches in.",
        way_out="Enter [millimetres|inches] of full thread, not turns.",
        first=True,
        when=_IN_THREAD,
    ),
    Number(
        "insert_engagement",
        "Engagement its maker wants",
        Scale("length", unit="mm", span=(2, 60), default=None, step=1),
        sign="L_insert",
        measure="From the insert maker's table, for this grade of bolt in this material. In cast "
        "aluminium such tables run from 1.5 to 2.5 diameters for class 8.8, and longer for 10.9 "
        "and 12.9.",
        way_out="Enter the insert's length, or the engagement its maker names.",
        first=True,
        when=("joint", ("insert",)),
    ),
)

_JOINT_FIELDS = (
    Number(
        "strip_factor",
        "Thread to hold, times the clamp load",
        Scale("ratio", unit="", span=(1.5, 4), default=1.5, step=0.1),
        sign="S",
        measure="1.5 is common practice: an oiled thread and the wrench at its worst make almost "
        "that of the clamp load. With paste take 2.",
        way_out="From 1.5 up; more than 4 is never needed.",
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
        "Under the head",
        (
            Option(NOT_STATED, "Not picked, or something else"),
            *(Option(row.key, row.label) for row in CLAMPED),
        ),
        NOT_STATED,
        measure="The part that the head presses on. It must bear the pressure, and it springs.",
    ),
    Number(
        "part_bears",
        "Pressure that part bears",
        Scale("stress", unit="MPa", span=(50, 1500), default=None, step=10),
        sign="p_limit",
        measure="From its maker. Leave empty if it isn't known.",
        way_out="Soft aluminium bears about [150 MPa|22 ksi], hard steel [1000|145].",
        when=("parts", (NOT_STATED,)),
    ),
    Choice(
        "washer",
        "Between head and part",
        (Option("none", "Nothing"), Option("hard", "Hard plain washer")),
        "none",
        measure="Hard: 200 HV for class 8.8 and grade 5, 300 HV above. A soft one dents.",
    ),
)

FIELDS = (*_FIRST_FIELDS, *_THREAD_FIELDS, *_AIM_FIELDS, *_WRENCH_FIELDS, *_JOINT_FIELDS)
