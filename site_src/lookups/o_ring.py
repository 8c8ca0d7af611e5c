"""O-ring: whether a ring suits its groove, and what may be put on it.

Squeeze and fill are products and quotients of lengths, which the recipe works out as they stand;
the one curved relation, how much thinner a ring gets when it is stretched, is a table. Sizes,
glands and guidance are lists. Which lubricant goes on which rubber is words alone, from the same
data.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from calc import seals as calc
from calc.domain import Real
from site_src.data import seals as data
from site_src.face.numbers import plain
from site_src.model.answers import (
    Advice,
    AdviceView,
    Answer,
    Band,
    GridView,
    ListView,
    StepsView,
    Views,
    Working,
)
from site_src.model.direct import Entries, Floats, Limit, where_good
from site_src.model.fields import Choice, Number, Option, When
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, entries
from site_src.tables.recipe import First, Look, Pick, Product, Sum

MM, INCH = 1e-3, 0.0254

SIZES = data.dash_sizes()
USES = data.uses()
SECTIONS = tuple(dict.fromkeys(size.section.thickness for size in SIZES))
"""Thicknesses of the standard sizes, m; one more stands for a ring that has none of them."""

_SOME_SECTION = 5.0 * MM
"""The thinning depends on shape alone; a ring of this thickness spans all shapes in the table."""

_AREA_OVER_SQUARE = float(calc.section_area(MM)) / MM**2


# --- limits ----------------------------------------------------------------------------------

STRETCH = Limit(
    "ring_stretch_limit",
    "stretch",
    -0.1,
    0.3,
    below="The ring is more than a tenth too large for its seat: take a smaller one, or check the "
    "diameter that it sits on.",
    above="The ring would be stretched by more than 30 %: take a larger one, or check the diameter "
    "that it sits on.",
)
SHAPE = Limit(
    "ring_shape_limit",
    "thickness over inside diameter",
    0.007,
    2.15,
    above="The ring is more than twice as thick as its hole is wide: check both measures.",
)
DEPTH = Limit(
    "gland_depth_limit",
    "gland depth",
    0.9 * MM,
    10.1 * MM,
    below="Bore less groove leaves under 1 mm for the ring: check that they are not swapped.",
    above="Bore less groove leaves over 10 mm for the ring: check both diameters.",
)
LEFT = Limit(
    "gland_over_ring_limit",
    "gland depth over thickness",
    0.25,
    4.0,
    below="The ring is more than four times as thick as the gland is deep: check both measures.",
    above="The gland is more than four times as deep as the ring is thick: check both measures.",
)
LISTED = Limit(
    "listed_gland_limit",
    "length in the gland tables",
    0.5 * MM,
    20.0 * MM,
    below="The gland tables cover standard sizes only.",
)


# --- the direct calculation ------------------------------------------------------------------


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    size = g.picked("ring_size", _SIZE_NUMBERS).astype(int)
    standard = g.chosen("ring_from") == "size"
    inside = np.where(standard, _ring(size, 0), g["ring_inside"])
    section = np.where(standard, _ring(size, 1), g["ring_section"])
    section_tolerance = np.where(standard, _ring(size, 2), g["section_tolerance"])
    stretched = where_good(~np.isnan(g["seat_diameter"]), calc.stretch, inside, g["seat_diameter"])
    used = np.where(np.isnan(g["seat_diameter"]), 0.0, stretched)
    sound = SHAPE.holds(section / inside) & STRETCH.holds(used)
    sits = where_good(sound, calc.stretched_section, section, inside, used)
    depth = _depth(g)
    fitting = np.where(LEFT.holds(depth / sits), depth, np.nan)
    number = np.where(standard, _ring(size, 3), float(len(SECTIONS)))
    use = g.picked("use", _USE_NUMBERS)
    return {
        **_squeezes(g, sits, section_tolerance, fitting),
        **_fills(g, sits, section_tolerance, fitting),
        "stretch": stretched,
        "ring_inside_used": inside,
        "ring_section_used": section,
        "section_as_it_sits": sits,
        "gland_depth_used": depth,
        "seat_least": inside * (1.0 + g.picked("use", _LEAST_STRETCH)),
        "seat_most": inside * (1.0 + g.picked("use", _MOST_STRETCH)),
        **{
            key: LISTED.keep(_standard_gland(use, number, np.full(use.shape, float(n))))
            for n, key in enumerate(("table_depth_least", "table_depth_most", "table_width"))
        },
    }


def _depth(g: Entries) -> Floats:
    """Return the gland depth, as entered or from bore and groove; NaN where they don't fit."""
    half = (g["gland_bore"] - g["seat_diameter"]) / 2.0
    worked = where_good(
        DEPTH.holds(half), calc.radial_gland_depth, g["gland_bore"], g["seat_diameter"]
    )
    return np.where(g.chosen("gland_from") == "depth", g["gland_depth"], worked)


def _squeezes(g: Entries, sits: Floats, tolerance: Floats, depth: Floats) -> dict[str, Floats]:
    """Return squeeze, its ends, and the depth for a wanted one."""
    good = ~np.isnan(depth)
    wanted = ~np.isnan(sits) & ~np.isnan(g["wanted_squeeze"])
    ends = (sits, tolerance, depth, g["depth_tolerance"])
    return {
        "squeeze": where_good(good, calc.squeeze, sits, depth),
        "squeeze_least": where_good(good, calc.squeeze_least, *ends),
        "squeeze_most": where_good(good, calc.squeeze_most, *ends),
        "depth_for_squeeze": where_good(wanted, calc.gland_depth_for, sits, g["wanted_squeeze"]),
    }


def _fills(g: Entries, sits: Floats, tolerance: Floats, depth: Floats) -> dict[str, Floats]:
    """Return fill, its ends, and the width for a wanted one."""
    good = ~np.isnan(depth)
    width, swell = g["groove_width"], g["volume_swell"]
    ends = (sits, tolerance, width, g["width_tolerance"], depth, g["depth_tolerance"], swell)
    return {
        "fill": where_good(good, calc.gland_fill, sits, width, depth, swell),
        "fill_least": where_good(good, calc.gland_fill_least, *ends),
        "fill_most": where_good(good, calc.gland_fill_most, *ends),
        "width_for_fill": where_good(
            good, calc.groove_width_for, sits, depth, swell, g["wanted_fill"]
        ),
    }


# --- tables and lists ------------------------------------------------------------------------

_SIZE_NUMBERS = tuple((size.name, float(n)) for n, size in enumerate(SIZES))
_USE_NUMBERS = tuple((use.key, float(n)) for n, use in enumerate(USES))
_LEAST_STRETCH = tuple((use.key, use.stretch[0] if use.stretch else 0.0) for use in USES)
_MOST_STRETCH = tuple((use.key, use.stretch[1] if use.stretch else 0.0) for use in USES)

_RINGS = np.array(
    [
        (
            size.inside_diameter,
            size.section.thickness,
            size.section.tolerance,
            float(SECTIONS.index(size.section.thickness)),
        )
        for size in SIZES
    ]
)
"""By size: inside diameter, thickness and its tolerance, m, and the number of the section."""


def _ring(size: Real, figure: Real) -> Floats:
    """Return one of the figures of the standard sizes."""
    found: Floats = _RINGS[np.asarray(size, dtype=int), np.asarray(figure, dtype=int)]
    return found


def _glands() -> Floats:
    """Return depths and width by use and section, m; 0 for a section that is not standard."""
    glands = np.zeros((len(USES), len(SECTIONS) + 1, 3))
    keys = [use.key for use in USES]
    for gland in data.glands():
        place = keys.index(gland.use), SECTIONS.index(gland.thickness)
        glands[place] = (gland.least_depth, gland.most_depth, gland.width)
    return glands


_GLANDS = _glands()


def _standard_gland(use: Real, section: Real, figure: Real) -> Floats:
    """Return one of the figures of the gland tables."""
    at = tuple(np.asarray(place, dtype=int) for place in (use, section, figure))
    found: Floats = _GLANDS[at]
    return found


def _thinned(shape: Real, stretch: Real) -> Real:
    """Thickness left, as a share, by thickness over inside diameter and by stretch."""
    thin = calc.stretched_section(_SOME_SECTION, _SOME_SECTION / shape, stretch)
    return thin / _SOME_SECTION


TABLES = (
    TableSpec(
        "ring_thinned",
        _thinned,
        (
            cubic("shape", "thickness over inside diameter", SHAPE.low, SHAPE.high),
            cubic("stretch", "stretch", STRETCH.low, STRETCH.high),
        ),
        tolerance=5e-7,
        numbers="f8",
    ),
    TableSpec(
        "ring_sizes",
        _ring,
        (entries("size", "dash size", len(SIZES)), entries("figure", "figure", 4)),
        tolerance=1e-12,
        numbers="f8",
    ),
    TableSpec(
        "standard_glands",
        _standard_gland,
        (
            entries("use", "use", len(USES)),
            entries("section", "section", len(SECTIONS) + 1),
            entries("figure", "figure", 3),
        ),
        tolerance=1e-12,
        numbers="f8",
    ),
    *(limit.table for limit in (STRETCH, SHAPE, DEPTH, LEFT, LISTED)),
)


# --- the recipe ------------------------------------------------------------------------------


def _squeeze_steps(name: str, section: str, depth: str) -> tuple[Product, Sum]:
    """Return the steps from a thickness and a depth to the squeeze."""
    return (
        Product(f"{name}_left", ((depth, 1.0), (section, -1.0))),
        Sum(name, ((f"{name}_left", -1.0),), plus=1.0),
    )


def _fill_step(name: str, section: str, width: str, depth: str) -> Product:
    """Return the step from a thickness and a groove to the fill."""
    of = ((section, 2.0), ("grown", 1.0), (width, -1.0), (depth, -1.0))
    return Product(name, of, times=_AREA_OVER_SQUARE)


def _by_use(name: str, figures: tuple[float | None, ...]) -> Pick:
    """Return the step that picks a figure of guidance; a use without one is left out."""
    options = zip(USES, figures, strict=True)
    return Pick(name, "use", tuple((use.key, n) for use, n in options if n is not None))


def _of_ring(name: str, figure: int, own: str | float) -> tuple[Look, Pick]:
    """Return the steps that take a ring's figure from the list, or as entered."""
    listed = f"{name}_listed"
    return (
        Look(listed, "ring_sizes", ("size_number", float(figure))),
        Pick(name, "ring_from", (("size", listed), ("own", own))),
    )


def _of_gland(name: str, figure: int) -> tuple[Look, Look]:
    """Return the steps that take a figure from the gland tables."""
    at = ("use_number", "section_number", float(figure))
    return Look(f"{name}_or_none", "standard_glands", at), LISTED.look(name, f"{name}_or_none")


STEPS = (
    # The ring.
    Pick("size_number", "ring_size", _SIZE_NUMBERS),
    Pick("use_number", "use", _USE_NUMBERS),
    *_of_ring("ring_inside_used", 0, "ring_inside"),
    *_of_ring("ring_section_used", 1, "ring_section"),
    *_of_ring("thickness_tolerance", 2, "section_tolerance"),
    *_of_ring("section_number", 3, float(len(SECTIONS))),
    # Stretched on its seat, if that is known.
    Product("seat_ratio", (("seat_diameter", 1.0), ("ring_inside_used", -1.0))),
    Sum("stretch", (("seat_ratio", 1.0),), plus=-1.0),
    STRETCH.look("stretch_borne", "stretch"),
    First("stretch_used", ("stretch_borne", 0.0)),
    Product("shape_any", (("ring_section_used", 1.0), ("ring_inside_used", -1.0))),
    SHAPE.look("shape", "shape_any"),
    Look("thinned", "ring_thinned", ("shape", "stretch_used")),
    Product("section_as_it_sits", (("ring_section_used", 1.0), ("thinned", 1.0))),
    # The gland.
    Sum("room_both_sides", (("gland_bore", 1.0), ("seat_diameter", -1.0))),
    Product("depth_any", (("room_both_sides", 1.0),), times=0.5),
    DEPTH.look("depth_worked", "depth_any"),
    Pick(
        "gland_depth_used",
        "gland_from",
        (("depth", "gland_depth"), ("diameters", "depth_worked")),
    ),
    Product("left_any", (("gland_depth_used", 1.0), ("section_as_it_sits", -1.0))),
    LEFT.look("left", "left_any"),
    # The depth as it is, and silent where the ring is nothing like it.
    Sum("fitting_depth", (("gland_depth_used", 1.0), ("left", 0.0))),
    Sum("thin", (("section_as_it_sits", 1.0), ("thickness_tolerance", -1.0))),
    Sum("thick", (("section_as_it_sits", 1.0), ("thickness_tolerance", 1.0))),
    Sum("deep", (("fitting_depth", 1.0), ("depth_tolerance", 1.0))),
    Sum("shallow", (("fitting_depth", 1.0), ("depth_tolerance", -1.0))),
    Sum("wide", (("groove_width", 1.0), ("width_tolerance", 1.0))),
    Sum("narrow", (("groove_width", 1.0), ("width_tolerance", -1.0))),
    # Squeeze. The middle is judged; what the tolerances add makes it a near thing.
    *_squeeze_steps("squeeze", "section_as_it_sits", "fitting_depth"),
    *_squeeze_steps("squeeze_least", "thin", "deep"),
    *_squeeze_steps("squeeze_most", "thick", "shallow"),
    _by_use("usual_least", tuple(use.squeeze[0] for use in USES)),
    _by_use("usual_most", tuple(use.squeeze[1] for use in USES)),
    Sum("least_near", (("usual_least", 1.0), ("squeeze", 1.0), ("squeeze_least", -1.0))),
    Sum("most_limit", (("usual_most", 1.0), ("squeeze_most", 1.0), ("squeeze", -1.0))),
    Sum("share_left", (("wanted_squeeze", -1.0),), plus=1.0),
    Product("depth_for_squeeze", (("section_as_it_sits", 1.0), ("share_left", 1.0))),
    # Fill.
    Sum("grown", (("volume_swell", 1.0),), plus=1.0),
    _fill_step("fill", "section_as_it_sits", "groove_width", "fitting_depth"),
    _fill_step("fill_least", "thin", "wide", "deep"),
    _fill_step("fill_most", "thick", "narrow", "shallow"),
    _fill_step("width_for_fill", "section_as_it_sits", "wanted_fill", "fitting_depth"),
    _by_use("usual_fill", tuple(use.usual_fill for use in USES)),
    _by_use("most_fill", tuple(use.most_fill for use in USES)),
    # Guidance for the seat, and the glands of the trade.
    _by_use("stretch_near", tuple(use.stretch[1] if use.stretch else None for use in USES)),
    _by_use("stretch_limit", tuple(use.stretch[2] if use.stretch else None for use in USES)),
    Pick("stretch_least", "use", _LEAST_STRETCH),
    Pick("stretch_most", "use", _MOST_STRETCH),
    Sum("seat_least_ratio", (("stretch_least", 1.0),), plus=1.0),
    Product("seat_least", (("ring_inside_used", 1.0), ("seat_least_ratio", 1.0))),
    Sum("seat_most_ratio", (("stretch_most", 1.0),), plus=1.0),
    Product("seat_most", (("ring_inside_used", 1.0), ("seat_most_ratio", 1.0))),
    *_of_gland("table_depth_least", 0),
    *_of_gland("table_depth_most", 1),
    *_of_gland("table_width", 2),
)


# --- fields ----------------------------------------------------------------------------------

_STANDARD: When = ("ring_from", ("size",))
_OWN: When = ("ring_from", ("own",))
_TYPED: When = ("gland_from", ("depth",))
_WORKED: When = ("gland_from", ("diameters",))


def _size_option(size: data.DashSize) -> Option:
    """Name a standard size by its dash number and its measures."""
    inside, thickness = (plain(m / MM, 0.1) for m in (size.inside_diameter, size.section.thickness))
    return Option(
        size.name, f"{size.name} · {inside} × {thickness}", group=f"Thickness {thickness} mm"
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
        "Dash size: inside × thickness, mm",
        tuple(_size_option(size) for size in SIZES),
        "-210",
        measure="AS568, from memory and where seen from a restatement: measure the ring as well.",
        first=True,
        when=_STANDARD,
    ),
    Number(
        "ring_inside",
        "Inside diameter of the ring, lying free",
        Scale("length", unit="mm", span=(2, 160), default=20, step=0.5),
        measure="Calipers, without pulling it; on a cone if there is one.",
        way_out="Larger or smaller rings: ask their maker.",
        first=True,
        when=_OWN,
    ),
    Number(
        "ring_section",
        "Thickness of the ring",
        Scale(
            "length",
            unit="mm",
            span=(1.2, 8.4),
            default=3,
            step=0.1,
            stock=(1.5, 1.78, 2.0, 2.5, 2.62, 3.0, 3.53, 4.0, 5.0, 5.33, 6.99),
        ),
        measure="Calipers, closed till they just touch, in three places.",
        way_out="Thinner or thicker rings: ask their maker.",
        first=True,
        when=_OWN,
    ),
    Number(
        "gland_depth",
        "Gland depth, joint closed",
        Scale("length", unit="mm", span=(1, 10), default=2.8, step=0.05),
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
        Scale("length", unit="mm", span=(4, 190), default=24.6, step=0.1),
        measure="Inside calipers, where the ring comes to rest.",
        way_out="Enter the gland depth as measured.",
        when=_WORKED,
    ),
    Number(
        "seat_diameter",
        "Diameter that the ring sits on",
        Scale("length", unit="mm", span=(2, 170), default=None, step=0.1),
        measure="Bottom of the groove in a spigot. Leave it open to take the ring as unstretched.",
        way_out="Measure the bottom of the groove with pointed calipers.",
    ),
    Number(
        "groove_width",
        "Groove width",
        Scale("length", unit="mm", span=(1.2, 20), default=4.95, step=0.05),
        measure="At the bottom of the groove, along the pipe; across the ring in a face.",
        way_out="A groove of several rings: measure one.",
    ),
    Number(
        "depth_tolerance",
        "Tolerance of the depth, ±",
        Scale("length", unit="mm", span=(0, 0.3), default=0.08, step=0.01),
        measure="Drawing, or how far your readings differ. Parts that sit to one side add half of "
        "their play.",
        way_out="Over 0.3 mm measure again.",
    ),
    Number(
        "width_tolerance",
        "Tolerance of the width, ±",
        Scale("length", unit="mm", span=(0, 0.4), default=0.13, step=0.01),
        measure="Drawing, or how far your readings differ.",
        way_out="Over 0.4 mm measure again.",
    ),
    Number(
        "section_tolerance",
        "Tolerance of the thickness, ±",
        Scale("length", unit="mm", span=(0, 0.3), default=0.1, step=0.01),
        measure="0.08 for thin rings to 0.15 for thick ones (ISO 3601-1, from memory).",
        way_out="Over 0.3 mm use another ring.",
        when=_OWN,
    ),
    Number(
        "volume_swell",
        "Swelling of the rubber in service",
        Scale("percent", unit="pct", span=(-20, 100), default=0, step=5),
        measure="By volume. The usual fill leaves room for a little; for more see the rubber's "
        "data sheet.",
        way_out="Over 100 the rubber is wrong for the fluid.",
    ),
    Number(
        "wanted_fill",
        "Wanted fill",
        Scale("percent", unit="pct", span=(30, 100), default=75, step=5),
        measure="70 to 75, as the gland tables come out. Common practice.",
        way_out="A ring needs some room: 75 is usual.",
    ),
    Number(
        "wanted_squeeze",
        "Wanted squeeze",
        Scale("percent", unit="pct", span=(5, 40), default=None, step=1),
        measure="To machine a groove for this ring.",
        way_out="20 is usual for a joint at rest. Common practice.",
    ),
)


# --- answers ---------------------------------------------------------------------------------


def _share(
    key: str,
    label: str,
    formula: str,
    filled: str = "",
    rank: str = "more",
    band: Band | None = None,
    note: str = "",
    optional: bool = False,
) -> Answer:
    """Declare an answer in per cent."""
    return Answer(
        key,
        label,
        of="percent",
        decimals={"pct": 0 if key != "stretch" else 1},
        tolerance=0.01,
        uncertainty=1.0,
        rank=rank,
        band=band,
        note=note,
        optional=optional,
    )


def _length(
    key: str, label: str, formula: str, filled: str = "", note: str = "", optional: bool = False
) -> Answer:
    """Declare an answer in millimetres."""
    return Answer(
        key,
        label,
        of="length",
        decimals={"mm": 2, "in": 3},
        tolerance=0.001,
        uncertainty=0.05,
        note=note,
        optional=optional,
    )


ANSWERS = (
    _share(
        "squeeze",
        "Squeeze",
        "S = (W − depth) / W",
        "1 − {gland_depth_used} ÷ {section_as_it_sits} = {squeeze}",
        rank="main",
        band=Band(
            side="min",
            limit="usual_least",
            near="least_near",
            within="Seals: {margin} over the usual least of {limit}.",
            near_words="Close: {margin} over the usual least of {limit}, and the thinnest ring in the deepest "
            "groove falls under it. Measure both.",
            beyond="Too loose: {margin} under the usual least of {limit}. Take a thicker ring, or a "
            "shallower groove.",
        ),
        note="Guidance, not a standard: the maker of the part comes first.",
    ),
    _share(
        "squeeze_least",
        "Loosest pair",
        "thinnest ring, deepest groove",
        "1 − {deep} ÷ {thin} = {squeeze_least}",
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
        "thickest ring, shallowest groove",
        "1 − {shallow} ÷ {thick} = {squeeze_most}",
        rank="second",
        band=Band(
            side="max",
            limit="most_limit",
            near="usual_most",
            within="The tightest pair, {value}, still goes in.",
            near_words="The tightest pair, {value}, is over what is usual: a good lead-in, well wetted, "
            "pushed straight.",
            beyond="Too tight: {value} in the tightest pair, over the usual most even in the middle. It "
            "rolls or is cut as it goes in. Take a thinner ring, or a deeper groove.",
        ),
    ),
    _share(
        "fill_most",
        "Fill at most",
        "thickest ring, smallest groove",
        "{thick}² × π/4 × {grown} ÷ ({narrow} × {shallow}) = {fill_most}",
        rank="second",
        band=Band(
            side="max",
            limit="most_fill",
            near="usual_fill",
            within="The ring has room: {value} full at most.",
            near_words="Nearly full: {value} at most. A wider groove leaves room for heat and swelling.",
            beyond="Too full: {value} at most, over {limit}. A ring without room lifts the parts or "
            "bursts. Widen the groove.",
        ),
    ),
    _share(
        "fill",
        "Fill",
        "W² · π/4 · (1 + swelling) / (width · depth)",
        "{section_as_it_sits}² × π/4 × {grown} ÷ ({groove_width} × {gland_depth_used}) = {fill}",
    ),
    _share(
        "fill_least",
        "Fill at least",
        "thinnest ring, largest groove",
        "{thin}² × π/4 × {grown} ÷ ({wide} × {deep}) = {fill_least}",
    ),
    _share(
        "stretch",
        "Stretch on its seat",
        "seat / inside diameter − 1",
        "{seat_diameter} ÷ {ring_inside_used} − 1 = {stretch}",
        band=Band(
            side="max",
            limit="stretch_limit",
            near="stretch_near",
            within="Stretched {value}; up to {limit} is usual.",
            near_words="Stretched {value}: much, but under {limit}.",
            beyond="Stretched {value}, over {limit}: it thins, ages and may snap. Take a larger ring.",
        ),
        note="0.5 to 3 % is usual on a spigot; under nought it hangs loose and is pinched.",
        optional=True,
    ),
    _length(
        "width_for_fill",
        "Groove width for the wanted fill",
        "W² · π/4 · (1 + swelling) / (fill · depth)",
        "{section_as_it_sits}² × π/4 × {grown} ÷ ({wanted_fill} × {gland_depth_used}) = "
        "{width_for_fill}",
    ),
    _length(
        "depth_for_squeeze",
        "Gland depth for the wanted squeeze",
        "W · (1 − S)",
        "{section_as_it_sits} × {share_left} = {depth_for_squeeze}",
        optional=True,
    ),
    _length(
        "gland_depth_used",
        "Gland depth used",
        "as entered, or (bore − groove) / 2",
        "{gland_depth_used}",
    ),
    _length(
        "section_as_it_sits",
        "Thickness as it sits",
        "thinner as it is stretched, its volume unchanged: W² (d + W) = constant",
        "{ring_section_used} × {thinned} = {section_as_it_sits}",
        note="Taken as round still; a stretched ring also flattens a little, up to a point of "
        "squeeze.",
    ),
    _length("ring_inside_used", "Inside diameter", "of the standard size, or as measured"),
    _length("ring_section_used", "Thickness", "of the standard size, or as measured"),
    _length(
        "seat_least",
        "Sits on, from",
        "inside diameter · (1 + least usual stretch)",
        "{ring_inside_used} × {seat_least_ratio} = {seat_least}",
    ),
    _length(
        "seat_most",
        "Sits on, to",
        "inside diameter · (1 + most usual stretch)",
        "{ring_inside_used} × {seat_most_ratio} = {seat_most}",
    ),
    _length("table_depth_least", "Gland tables: depth, from", "by joint and thickness"),
    _length("table_depth_most", "Gland tables: depth, to", "by joint and thickness"),
    _length("table_width", "Gland tables: groove width", "by joint and thickness"),
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

FITTING = StepsView(
    "Fitting the ring",
    data.fitting().steps,
    note=f"{data.fitting().why_lubricate} ({data.fitting().source}; {data.fitting().mark})",
)


def _listed(size: data.DashSize) -> tuple[str, ...]:
    """Write a standard size as a row, in millimetres and as the standard prints it."""
    inside, thickness = size.inside_diameter, size.section.thickness
    return (
        size.name,
        f"{inside / MM:.2f} mm",
        f"{inside / INCH:.3f} in",
        f"{thickness / MM:.2f} ± {size.section.tolerance / MM:.2f} mm",
        size.mark,
    )


STANDARD_SIZES = ListView(
    "Standard sizes",
    ("Dash size", "Inside", "Inside", "Thickness", "How far to trust it"),
    tuple(_listed(size) for size in SIZES),
    note="AS568, by thickness: -0, -1, -2, -3 and -4. Measure the ring that you have.",
)

LOOKUP = Lookup(
    key="o-ring",
    title="O-ring",
    short="O-ring",
    question="Does this ring suit its groove, and what may I put on it?",
    stage="bolt",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working(
            "thickness_tolerance", "Tolerance of the thickness", of="length", unit="mm", decimals=2
        ),
        Working("stretch_used", "Stretch taken", of="percent", unit="pct", decimals=1),
        Working("shape", "Thickness over inside diameter"),
        Working("thinned", "Thickness left by stretch", of="percent", unit="pct", decimals=1),
        Working("thin", "Thinnest ring", of="length", unit="mm", decimals=2),
        Working("thick", "Thickest ring", of="length", unit="mm", decimals=2),
        Working("deep", "Deepest gland", of="length", unit="mm", decimals=2),
        Working("shallow", "Shallowest gland", of="length", unit="mm", decimals=2),
        Working("wide", "Widest groove", of="length", unit="mm", decimals=2),
        Working("narrow", "Narrowest groove", of="length", unit="mm", decimals=2),
        Working("grown", "1 + swelling"),
        Working("share_left", "1 − wanted squeeze"),
        Working("seat_least_ratio", "1 + least usual stretch"),
        Working("seat_most_ratio", "1 + most usual stretch"),
        Working("usual_least", "Usual least squeeze", of="percent", unit="pct", decimals=0),
        Working("usual_most", "Usual most squeeze", of="percent", unit="pct", decimals=0),
        Working("usual_fill", "Usual fill at most", of="percent", unit="pct", decimals=0),
    ),
    views=Views(
        grids=(
            GridView(
                "Gland tables for this ring",
                "table_depth_least",
                "use",
                tuple(use.key for use in USES),
                also=("table_depth_most", "table_width"),
            ),
        ),
        advice=(LUBRICANTS,),
        steps=(FITTING,),
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
        "as restated.",
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
