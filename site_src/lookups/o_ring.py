"""O-ring: whether a ring suits its groove, and what may be put on it.

Squeeze and fill are plain arithmetic on lengths; the one curved relation, how much thinner a ring
gets when it is stretched, is a table. Sizes, glands and guidance are lists. Which lubricant goes on
which rubber is words alone, from the same data.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

import numpy as np
from numpy.typing import NDArray

from calc import seals as calc
from calc.domain import Real
from site_src.data import seals as data
from site_src.model.answers import (
    Advice,
    AdviceView,
    Answer,
    Band,
    ChartView,
    ListView,
    ProcedureView,
    Views,
    Working,
)
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Scale, When
from site_src.model.lookup import Lookup
from site_src.model.said import both
from site_src.tables.compiler import cubic, listed
from site_src.tables.trace import Refusal, Tabulated, choose, greatest, tabulated, within

MM, INCH = 1e-3, 0.0254

SIZES = data.dash_sizes()
USES = data.uses()
SMALL = data.small_rings()
SECTIONS = tuple(dict.fromkeys(gland.thickness for gland in data.glands()))
"""Thicknesses that the gland tables cover, m."""

_NAMES = tuple(size.name for size in SIZES)

NO_GLAND = -1.0
"""Number of the section of a ring that the gland tables do not cover."""

STRETCH = (-0.1, 0.3)
"""Stretch that is worked with."""

SHAPE = (0.007, 2.15)
"""Thickness over inside diameter that is worked with."""

LEFT = (0.25, 4.0)
"""Gland depth over thickness at which ring and gland belong together at all."""

DEPTH = (0.9 * MM, 10.1 * MM)
"""Gland depth that bore and groove may leave, m."""

THINNED_ERROR = 5e-7
"""Error of the table of thicknesses left by stretch, as a share."""

LEFT_HAIR = 2.0 * THINNED_ERROR
"""The thickness in that quotient comes from a table."""

_TOO_LARGE = (
    "The ring is more than a tenth too large for its seat: take a smaller one, or check the "
    "diameter that it sits on."
)
_TOO_SMALL = (
    "The ring would be stretched by more than 30 %: take a larger one, or check the diameter that "
    "it sits on."
)
_TOO_STOUT = "The ring is more than twice as thick as its hole is wide: check both measures."
_SWAPPED = (
    "Bore less groove leaves under [1 mm|0.039 in] for the ring: check that they are not swapped."
)
_TOO_WIDE = "Bore less groove leaves over [10 mm|0.39 in] for the ring: check both diameters."
_TOO_SHALLOW = (
    "The ring is more than four times as thick as the gland is deep: check both measures."
)
_TOO_DEEP = "The gland is more than four times as deep as the ring is thick: check both measures."
_NOT_STANDARD = "The gland tables cover standard sizes only."
_BOSS = (
    "A ring for a straight-thread port sits in a chamfer, not in a groove: port and fitting set "
    "its squeeze. Wet it, and tighten to the fitting maker's figure."
)
_LAID_IN = "A ring between two faces is laid in, so that its stretch is not judged."


# --- tables ----------------------------------------------------------------------------------

# The thinning depends on shape alone; a ring of this thickness spans all shapes in the table.
_SOME_SECTION = 5.0 * MM


def _thinned(shape: Real, stretch: Real) -> Real:
    """Thickness left, as a share, by thickness over inside diameter and by stretch."""
    thin = calc.stretched_section(_SOME_SECTION, _SOME_SECTION / shape, stretch)
    return thin / _SOME_SECTION


THINNED = tabulated(
    "ring_thinned",
    _thinned,
    cubic("shape", "thickness over inside diameter", *SHAPE),
    cubic("stretch", "stretch", *STRETCH),
    tolerance=THINNED_ERROR,
    by=(calc.stretched_section,),
)


def _by_size(name: str, figure: Callable[[data.DashSize], float]) -> Tabulated:
    """Tabulate a figure of the standard sizes by the size's number in their list."""
    figures = np.array([figure(size) for size in SIZES])

    def found(size: Real) -> Real:
        at: NDArray[np.float64] = figures[np.asarray(size, dtype=int)]
        return at

    return tabulated(name, found, listed("size", "ring", len(SIZES)), tolerance=1e-12)


def _gland_number(size: data.DashSize) -> float:
    """Return the number of a size's section in the gland tables."""
    thickness = size.section.thickness
    return float(SECTIONS.index(thickness)) if thickness in SECTIONS else NO_GLAND


RING_INSIDE = _by_size("ring_inside", lambda size: size.inside_diameter)
RING_SECTION = _by_size("ring_section", lambda size: size.section.thickness)
RING_TOLERANCE = _by_size("ring_section_tolerance", lambda size: size.section.tolerance)
RING_GLAND = _by_size("ring_gland_number", _gland_number)


def _by_joint_and_section(name: str, figure: Callable[[data.Gland], float]) -> Tabulated:
    """Tabulate a figure of the gland tables by the numbers of use and section."""
    known = {(gland.use, gland.thickness): figure(gland) for gland in data.glands()}
    figures = np.array([[known[use.key, section] for section in SECTIONS] for use in USES])

    def found(use: Real, section: Real) -> Real:
        at: NDArray[np.float64] = figures[
            np.asarray(use, dtype=int), np.asarray(section, dtype=int)
        ]
        return at

    uses, sections = (
        listed("use", "joint", len(USES)),
        listed("section", "thickness", len(SECTIONS)),
    )
    return tabulated(name, found, uses, sections, tolerance=1e-12)


LEAST_DEPTH = _by_joint_and_section("least_gland_depth", lambda gland: gland.least_depth)
MOST_DEPTH = _by_joint_and_section("most_gland_depth", lambda gland: gland.most_depth)
GLAND_WIDTH = _by_joint_and_section("gland_width", lambda gland: gland.width)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out how the ring sits, how it is squeezed, how full the groove is, what is usual."""
    ring = _ring(e)
    sits, tolerance = ring["section_as_it_sits"], ring["thickness_tolerance"]
    gland_number = RING_GLAND(e.number_of("ring_size", _NAMES))
    # Judged on the difference of the diameters, before its half is taken.
    room = e["gland_bore"] - e["seat_diameter"]
    bore = within(
        room, 2 * DEPTH[0], 2 * DEPTH[1], below=_SWAPPED, above=_TOO_WIDE, gives=e["gland_bore"]
    )
    worked = calc.radial_gland_depth(bore, e["seat_diameter"])
    groove = e.pick("gland_from", {"depth": e["gland_depth"], "diameters": worked})
    in_groove = within(gland_number, 0.0, None, below=_BOSS, gives=groove)
    depth = e.pick("ring_from", {"size": in_groove, "own": groove})
    fitting = within(
        depth / sits, *LEFT, below=_TOO_SHALLOW, above=_TOO_DEEP, gives=depth, hair=LEFT_HAIR
    )
    return {
        **ring,
        "gland_depth_used": depth,
        "thin": sits - tolerance,
        "thick": sits + tolerance,
        "deep": fitting + e["depth_tolerance"],
        "shallow": fitting - e["depth_tolerance"],
        "wide": e["groove_width"] + e["width_tolerance"],
        "narrow": e["groove_width"] - e["width_tolerance"],
        **_squeezes(e, sits, tolerance, fitting),
        **_fills(e, sits, tolerance, fitting),
        **_guidance(e, ring["ring_inside_used"], gland_number),
    }


def _ring(e: Entries) -> dict[str, Real]:
    """Return the ring's measures, of its size or its own, and how it sits."""
    inside = _of_ring(e, RING_INSIDE, e["ring_inside"])
    section = _of_ring(e, RING_SECTION, e["ring_section"])
    stretch = calc.stretch(inside, e["seat_diameter"])
    borne = within(stretch, *STRETCH, below=_TOO_LARGE, above=_TOO_SMALL)
    used = e.if_entered("seat_diameter", borne, 0.0)
    shape = within(section / inside, *SHAPE, above=_TOO_STOUT)
    thinned = THINNED(shape, used)
    return {
        "ring_inside_used": inside,
        "ring_section_used": section,
        "thickness_tolerance": _of_ring(e, RING_TOLERANCE, e["section_tolerance"]),
        "stretch": stretch,
        "stretch_used": used,
        "shape": shape,
        "thinned": thinned,
        "section_as_it_sits": section * thinned,
    }


def _of_ring(e: Entries, figure: Tabulated, own: Real) -> Real:
    """Return a figure of a ring: of its standard size, or as measured."""
    standard = figure(e.number_of("ring_size", _NAMES))
    return e.pick("ring_from", {"size": standard, "own": own})


def _by_use(e: Entries, figure: Callable[[data.Use], float]) -> Real:
    """Return a figure of guidance for the joint."""
    return e.pick("use", {use.key: figure(use) for use in USES})


def _usual_stretch(e: Entries, figure: int, laid_in: float) -> Real:
    """Return the least, usual or most stretch for the joint, or what it is for a ring laid in."""
    return _by_use(e, lambda use: use.stretch[figure] if use.stretch else laid_in)


def _squeezes(e: Entries, sits: Real, tolerance: Real, depth: Real) -> dict[str, Real]:
    """Return squeeze, its ends, what they are judged by, and the depth for a wanted squeeze."""
    ends = sits, tolerance, depth, e["depth_tolerance"]
    middle = calc.squeeze(sits, depth)
    least, most = calc.squeeze_least(*ends), calc.squeeze_most(*ends)
    usual_least = _by_use(e, lambda use: use.squeeze[0])
    usual_most = _by_use(e, lambda use: use.squeeze[1])
    return {
        "squeeze": middle,
        "squeeze_least": least,
        "squeeze_most": most,
        # The middle is judged; what the tolerances add makes it a near thing.
        "usual_least": usual_least,
        "least_near": usual_least + middle - least,
        "usual_most": usual_most,
        "most_limit": usual_most + most - middle,
        "depth_for_squeeze": calc.gland_depth_for(sits, e["wanted_squeeze"]),
    }


def _fills(e: Entries, sits: Real, tolerance: Real, depth: Real) -> dict[str, Real]:
    """Return fill, its ends, what they are judged by, and the width for a wanted fill."""
    width, swell = e["groove_width"], e["volume_swell"]
    ends = sits, tolerance, width, e["width_tolerance"], depth, e["depth_tolerance"], swell
    return {
        "fill": calc.gland_fill(sits, width, depth, swell),
        "fill_least": calc.gland_fill_least(*ends),
        "fill_most": calc.gland_fill_most(*ends),
        "usual_fill": _by_use(e, lambda use: use.usual_fill),
        "most_fill": _by_use(e, lambda use: use.most_fill),
        "width_for_fill": calc.groove_width_for(sits, depth, swell, e["wanted_fill"]),
    }


def _guidance(e: Entries, inside: Real, gland_number: Real) -> dict[str, Real]:
    """Return what is usual for the seat, and the gland of the trade's tables."""
    least, most = _usual_stretch(e, 0, 0.0), _usual_stretch(e, 1, 0.0)
    in_tables = within(gland_number, 0.0, None, below=_BOSS)
    number = e.pick("ring_from", {"size": in_tables, "own": Refusal(_NOT_STANDARD)})
    small = choose(SMALL.inside_diameter, inside, 0.0, SMALL.stretch)
    most_of_all = _usual_stretch(e, 2, Refusal(_LAID_IN))
    at = e.number_of("use", [use.key for use in USES]), number
    return {
        "stretch_near": _usual_stretch(e, 1, Refusal(_LAID_IN)),
        "stretch_limit": greatest(most_of_all, small),
        "stretch_least": least,
        "stretch_most": most,
        "seat_least": calc.seat_for(inside, least),
        "seat_most": calc.seat_for(inside, most),
        "table_depth_least": LEAST_DEPTH(*at),
        "table_depth_most": MOST_DEPTH(*at),
        "table_width": GLAND_WIDTH(*at),
    }


# --- fields ----------------------------------------------------------------------------------

_mm = partial(Scale, "length", "mm")
_percent = partial(Scale, "percent", "pct")
_STOCK = (1.5, 1.78, 2.0, 2.5, 2.62, 3.0, 3.53, 4.0, 5.0, 5.33, 6.99)
_THOU = Inch(step=0.001)
_INCH_STOCK = Inch(step=0.001, stock=(0.07, 0.103, 0.139, 0.21, 0.275))
_STANDARD: When = ("ring_from", ("size",))
_OWN: When = ("ring_from", ("own",))
_TYPED: When = ("gland_from", ("depth",))
_WORKED: When = ("gland_from", ("diameters",))


def _size_option(size: data.DashSize) -> Option:
    """Name a standard size by its dash number and its measures."""
    inside, thickness = size.inside_diameter, size.section.thickness
    section = f"{round(thickness / MM, 2):g} mm"
    measures = both(
        f"{round(inside / MM, 2):g} × {section}", f"{inside / INCH:.3f} × {thickness / INCH:.3f} in"
    )
    if size.boss:
        name = f"{size.name} · {size.thread}" if size.thread else size.name
        return Option(size.name, f"{name} · {measures}", group="Straight-thread port (boss)")
    return Option(
        size.name,
        f"{size.name} · {measures}",
        group=f"Thickness {section} ({thickness / INCH:.3f} in)",
    )


FIELDS = (
    Choice(
        "ring_from",
        "Ring",
        (Option("size", "Standard size"), Option("own", "Measured")),
        "size",
        first=True,
    ),
    Choice(
        "ring_size",
        "Dash size: inside × thickness",
        tuple(_size_option(size) for size in SIZES),
        "-210",
        measure="AS568, from memory and where seen from a restatement: measure the ring as well. "
        "For a straight-thread port go by its thread: a fitting of dash 8, 3/4-16, takes -908. To "
        "judge such a ring in a groove, enter it as measured.",
        first=True,
        when=_STANDARD,
    ),
    Number(
        "ring_inside",
        "Inside diameter of the ring, lying free",
        _mm(span=(2, 160), default=20, step=0.5, inch=_THOU),
        measure="Calipers, without pulling it; on a cone if there is one.",
        way_out="Larger or smaller rings: ask their maker.",
        first=True,
        when=_OWN,
    ),
    Number(
        "ring_section",
        "Thickness of the ring",
        _mm(span=(1.2, 8.4), default=3, step=0.1, stock=_STOCK, inch=_INCH_STOCK),
        measure="Calipers, closed till they just touch, in three places.",
        way_out="Thinner or thicker rings: ask their maker.",
        first=True,
        when=_OWN,
    ),
    Number(
        "gland_depth",
        "Gland depth, joint closed",
        _mm(span=(1, 10), default=2.8, step=0.05),
        measure="Groove depth plus any gap between the parts, where the ring lies.",
        way_out="Measure the groove alone, and the gap between the parts alone, and add them.",
        first=True,
        when=_TYPED,
    ),
    Choice(
        "rubber",
        "Rubber of the ring",
        (
            *(Option(rubber.key, rubber.label) for rubber in data.rubbers()),
            Option("unknown", "Nobody knows"),
        ),
        "nbr",
        measure="From the bag or the maker's list. " + data.fitting().unknown_rubber,
        first=True,
    ),
    Choice(
        "lubricant",
        "Wetted with",
        tuple(Option(each.key, each.label) for each in data.lubricants()),
        "engine_oil",
        first=True,
    ),
    Choice(
        "use",
        "Joint",
        tuple(Option(use.key, use.label) for use in USES),
        "static_radial",
        measure="An injector, a sensor or a water outlet is a spigot in a bore.",
    ),
    Choice(
        "gland_from",
        "Gland depth from",
        (Option("depth", "Depth as measured"), Option("diameters", "Bore and groove diameters")),
        "depth",
    ),
    Number(
        "gland_bore",
        "Bore around the ring",
        _mm(span=(4, 190), default=24.6, step=0.1, inch=_THOU),
        measure="Inside calipers, where the ring comes to rest.",
        way_out="Enter the gland depth as measured.",
        when=_WORKED,
    ),
    Number(
        "seat_diameter",
        "Diameter that the ring sits on",
        _mm(span=(2, 170), default=None, step=0.1, inch=_THOU),
        measure="Bottom of the groove in a spigot. Leave it open to take the ring as unstretched.",
        way_out="Measure the bottom of the groove with pointed calipers.",
    ),
    Number(
        "groove_width",
        "Groove width",
        _mm(span=(1.2, 20), default=4.95, step=0.05),
        measure="At the bottom of the groove, along the pipe; across the ring in a face.",
        way_out="A groove of several rings: measure one.",
    ),
    Number(
        "depth_tolerance",
        "Tolerance of the depth, ±",
        _mm(span=(0, 0.3), default=0.08, step=0.01),
        measure="Drawing, or how far your readings differ. Parts that sit to one side add half of "
        "their play.",
        way_out="Over [0.3 mm|0.012 in] measure again.",
    ),
    Number(
        "width_tolerance",
        "Tolerance of the width, ±",
        _mm(span=(0, 0.4), default=0.13, step=0.01),
        measure="Drawing, or how far your readings differ.",
        way_out="Over [0.4 mm|0.016 in] measure again.",
    ),
    Number(
        "section_tolerance",
        "Tolerance of the thickness, ±",
        _mm(span=(0, 0.3), default=0.1, step=0.01),
        measure="0.08 for thin rings to 0.15 for thick ones (ISO 3601-1, from memory).",
        way_out="Over [0.3 mm|0.012 in] use another ring.",
        when=_OWN,
    ),
    Number(
        "volume_swell",
        "Swelling of the rubber in service",
        _percent(span=(-20, 100), default=0, step=5),
        measure="By volume. The usual fill leaves room for a little; for more see the rubber's "
        "data sheet.",
        way_out="Over 100 the rubber is wrong for the fluid.",
    ),
    Number(
        "wanted_fill",
        "Wanted fill",
        _percent(span=(30, 100), default=75, step=5),
        measure="70 to 75, as the gland tables come out. Common practice.",
        way_out="A ring needs some room: 75 is usual.",
    ),
    Number(
        "wanted_squeeze",
        "Wanted squeeze",
        _percent(span=(5, 40), default=None, step=1),
        measure="To machine a groove for this ring.",
        way_out="20 is usual for a joint at rest. Common practice.",
    ),
)


# --- answers ---------------------------------------------------------------------------------

_share = partial(Answer, of="percent", decimals={"pct": 0}, tolerance=0.01, uncertainty=1.0)
_length = partial(
    Answer, of="length", decimals={"mm": 2, "in": 3}, tolerance=0.001, uncertainty=0.05
)

ANSWERS = (
    _share(
        "squeeze",
        "Squeeze",
        sign="S",
        by=(calc.squeeze,),
        rank="main",
        band=Band(
            side="min",
            limit="usual_least",
            near="least_near",
            within="Seals: {margin} over the usual least of {limit}.",
            near_words="Close: {margin} over the usual least of {limit}, and the thinnest ring in "
            "the deepest groove falls under it. Measure both.",
            beyond="Too loose: {margin} under the usual least of {limit}. Take a thicker ring, or "
            "a shallower groove.",
        ),
        note="Guidance, not a standard: the maker of the part comes first.",
    ),
    _share(
        "squeeze_least",
        "Loosest pair",
        by=(calc.squeeze_least,),
        rank="second",
        band=Band(
            side="min",
            limit=0.0,
            near=0.0,
            within="The loosest pair is still squeezed {value}.",
            near_words="The thinnest ring in the deepest groove only just touches.",
            beyond="The thinnest ring in the deepest groove does not touch both sides: it leaks.",
        ),
    ),
    _share(
        "squeeze_most",
        "Tightest pair",
        by=(calc.squeeze_most,),
        rank="second",
        band=Band(
            side="max",
            limit="most_limit",
            near="usual_most",
            within="The tightest pair, {value}, still goes in.",
            near_words="The tightest pair, {value}, is over what is usual: a good lead-in, well "
            "wetted, pushed straight.",
            beyond="Too tight: {value} in the tightest pair, over the usual most even in the "
            "middle. It rolls or is cut as it goes in. Take a thinner ring, or a deeper groove.",
        ),
    ),
    _share(
        "fill_most",
        "Fill at most",
        by=(calc.gland_fill_most,),
        rank="second",
        band=Band(
            side="max",
            limit="most_fill",
            near="usual_fill",
            within="The ring has room: {value} full at most.",
            near_words="Nearly full: {value} at most. A wider groove leaves room for heat and "
            "swelling.",
            beyond="Too full: {value} at most, over {limit}. A ring without room lifts the parts "
            "or bursts. Widen the groove.",
        ),
    ),
    _share("fill", "Fill", by=(calc.gland_fill,)),
    _share("fill_least", "Fill at least", by=(calc.gland_fill_least,)),
    _share(
        "stretch",
        "Stretch on its seat",
        by=(calc.stretch,),
        decimals={"pct": 1},
        band=Band(
            side="max",
            limit="stretch_limit",
            near="stretch_near",
            within="Stretched {value}; up to {limit} is usual.",
            near_words="Stretched {value}: much, but under {limit}.",
            beyond="Stretched {value}, over {limit}: it thins, ages and may snap. Take a larger "
            "ring.",
        ),
        note="0.5 to 3 % is usual on a spigot, 5 % the most, 8 % for a ring of [13 mm|0.51 in] or "
        "less; "
        "under nought it hangs loose and is pinched.",
        optional=True,
    ),
    _length("width_for_fill", "Groove width for the wanted fill", by=(calc.groove_width_for,)),
    _length(
        "depth_for_squeeze",
        "Gland depth for the wanted squeeze",
        by=(calc.gland_depth_for,),
        optional=True,
    ),
    _length("gland_depth_used", "Gland depth used", by=(calc.radial_gland_depth,)),
    _length(
        "section_as_it_sits",
        "Thickness as it sits",
        sign="W",
        note="Taken as round still; a stretched ring also flattens: nearly a point of squeeze at "
        "3 to 5 % stretch, more beyond.",
    ),
    _length("ring_inside_used", "Inside diameter", sign="d"),
    _length("ring_section_used", "Thickness", sign="W_free"),
    _length("seat_least", "Sits on, from", by=(calc.seat_for,)),
    _length("seat_most", "Sits on, to", by=(calc.seat_for,)),
    _length("table_depth_least", "Gland tables: depth, from"),
    _length("table_depth_most", "Gland tables: depth, to"),
    _length("table_width", "Gland tables: groove width"),
)

_mm_on_the_way = partial(Working, of="length", unit="mm", decimals=2)
_pct_on_the_way = partial(Working, of="percent", unit="pct", decimals=0)

WORKINGS = (
    _mm_on_the_way("thickness_tolerance", "Tolerance of the thickness"),
    _pct_on_the_way("stretch_used", "Stretch taken", decimals=1),
    Working("shape", "Thickness over inside diameter"),
    _pct_on_the_way("thinned", "Thickness left by stretch", decimals=1),
    _mm_on_the_way("thin", "Thinnest ring", sign="W_min"),
    _mm_on_the_way("thick", "Thickest ring", sign="W_max"),
    _mm_on_the_way("deep", "Deepest gland"),
    _mm_on_the_way("shallow", "Shallowest gland"),
    _mm_on_the_way("wide", "Widest groove"),
    _mm_on_the_way("narrow", "Narrowest groove"),
    _pct_on_the_way("stretch_least", "Least usual stretch", decimals=1),
    _pct_on_the_way("stretch_most", "Most usual stretch", decimals=1),
    _pct_on_the_way("usual_least", "Usual least squeeze"),
    _pct_on_the_way("usual_most", "Usual most squeeze"),
    _pct_on_the_way("usual_fill", "Usual fill at most"),
)


# --- advice ----------------------------------------------------------------------------------

_STATUS = {"yes": "within", "care": "near", "no": "beyond"}
_WORDS = {"yes": "Yes", "care": "With care", "no": "No"}
_WORST_FIRST = ("no", "care", "yes")


def _known(entry: data.Advice) -> Advice:
    """Say whether a lubricant suits a rubber, why, and where that is from."""
    why = f"{entry.why} {entry.wrong} ({entry.source}; {entry.mark})"
    return Advice(_WORDS[entry.verdict], why, _STATUS[entry.verdict])


def _unknown(lubricant: str) -> Advice:
    """Say whether a lubricant suits a rubber that nobody knows: the worst that it may be."""
    verdicts = {entry.verdict for entry in data.all_advice() if entry.lubricant == lubricant}
    worst = next(verdict for verdict in _WORST_FIRST if verdict in verdicts)
    return Advice(_WORDS[worst], data.fitting().unknown_rubber, _STATUS[worst])


LUBRICANTS = AdviceView(
    "Lubricant on this rubber",
    ("rubber", "lubricant"),
    {(entry.rubber, entry.lubricant): _known(entry) for entry in data.all_advice()}
    | {("unknown", each.key): _unknown(each.key) for each in data.lubricants()},
    note="A smear at assembly. Whether the rubber suits the fluid that it seals is for the maker "
    "of the part.",
)

FITTING = ProcedureView(
    "Fitting the ring",
    data.fitting().steps,
    note=f"{data.fitting().why_lubricate} ({data.fitting().source}; {data.fitting().mark})",
)


def _listed(size: data.DashSize) -> tuple[str, ...]:
    """Write a standard size as a row, in millimetres and as the standard prints it."""
    inside, thickness = size.inside_diameter, size.section.thickness
    return (
        f"{size.name}, port {size.thread}" if size.thread else size.name,
        f"{inside / MM:.2f} mm",
        f"{inside / INCH:.3f} in",
        both(
            f"{thickness / MM:.2f} ± {size.section.tolerance / MM:.2f} mm",
            f"{thickness / INCH:.3f} ± {size.section.tolerance / INCH:.3f} in",
        ),
        size.mark,
    )


STANDARD_SIZES = ListView(
    "Standard sizes",
    ("Dash size", "Inside", "Inside", "Thickness", "How far to trust it"),
    tuple(_listed(size) for size in SIZES),
    note="AS568, by thickness: -0, -1, -2, -3 and -4; -9 for straight-thread ports, by the dash "
    "size of the fitting. Measure the ring that you have.",
)

LOOKUP = Lookup(
    key="o-ring",
    title="O-ring",
    short="O-ring",
    question="Does this ring suit its groove, and what may I put on it?",
    stage="bolt",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "Gland tables for this ring",
                "table_depth_least",
                "use",
                tuple(use.key for use in USES),
                also=("table_depth_most", "table_width"),
            ),
        ),
        advice=(LUBRICANTS,),
        procedures=(FITTING,),
        lists=(STANDARD_SIZES,),
    ),
    cautions=(
        "Ring, rubber and lubricant that the maker of the part names overrule this page.",
        "A fuel joint is leak-checked at pressure before the engine is cranked. Fire extinguisher "
        "within reach, no flame, no lamp with a hot bulb.",
        "Let pressure off before a joint is opened: fuel, coolant and refrigerant do harm.",
        "Fluorocarbon rubber that has been burnt leaves acid: don't touch the remains with bare "
        "skin.",
    ),
    sources=(
        "Squeeze: MIL-G-5514G, 3.6.2. Stretch: ISO 3601-2. Thinning: volume of a torus.",
        "Sections: SAE AS568. Dash sizes: AS568, from memory, in part seen in restatements.",
        "Glands and guidance for squeeze, fill and stretch: gland tables and gland-design texts, "
        "as restated. Stretch of small rings: ISO 3601-2, from memory.",
        "Numbers of rings for straight-thread ports: NAVEDTRA 14105, chapter 7; their threads: SAE "
        "J1926, as restated; their measures: AS568, from memory.",
        "Nitrile with petroleum: FAA Aviation Maintenance Technician Handbook, Airframe.",
        "Swelling in hydrocarbon fuel: Sandia report (Green).",
        "Other advice on lubricants, and the steps: common practice and from memory, as marked "
        "beside each.",
    ),
    leaves_out=(
        "Flattening of a stretched ring, set, friction, and heat, which swells rubber far more "
        "than metal.",
        "Creep into the gap under pressure: that wants a harder ring, or a back-up ring.",
        "Corner radii and sloping sides of the groove.",
        "The tolerance of the ring's inside diameter.",
    ),
)
