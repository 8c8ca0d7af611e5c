"""Hose bend: from a straightedge and a rule to a verdict, the rise that passes, the length to cut.

One relation serves the whole page: chord over radius against rise over chord. Read forward it gives
the radius of the face that was measured, at the readings and at both ends of their errors; read
back, the rise that a needed radius shows on the same chord. What a hose stands comes from the hose
data by kind and bore, or from its maker, who comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc import hoses as calc
from calc.domain import Real
from site_src.data.hoses import INCH, SAME_BORE, HoseKind, MinimumRadius, hose_kinds, minimum_radius
from site_src.face.numbers import plain
from site_src.model.answers import Advice, AdviceView, Answer, Band, GridView, Views, Working
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, entries, linear
from site_src.tables.recipe import First, Inverse, Look, Pick, Product, Sum, greatest, least

Floats = NDArray[np.float64]

NEAR_FACTOR = 1.1
"""Radius over minimum below which a bend is called tight. Common practice."""

LONGEST_ARC = 20.0
"""Longest arc that is cut to length here, m."""

SMALLEST_GAP = 1e-4
"""Gap under the straightedge that still tells a bend from a straight, m."""

SMALLEST_RADIUS = 1e-3
"""Smallest inside radius that is worked with, m; below it the readings don't fit the hose."""

EDGE = 1e-9
"""How far inside the calculation's own limits the recipe falls silent."""

# Shares do not depend on the chord that they are taken on; this one lets the smallest be had.
_SOME_CHORD = 1.9
_LOWEST_SHARE = 6e-5
_HALF = 0.5 * (1.0 + 5e-13)
_ALL_OF_HALF_A_TURN = 2.0 - 1e-12


# --- hoses by kind and bore ------------------------------------------------------------------


@cache
def bores() -> tuple[float, ...]:
    """Bores that any kind is made in, from 1/4 to 2 in, in inches."""
    made = {round(row.bore / INCH, 5) for kind in hose_kinds() for row in kind.rows}
    return tuple(sorted(bore for bore in made if 0.25 <= bore <= 2.0))


def _bore_key(bore: float) -> str:
    """Return the option key of a bore."""
    return f"{bore:g}in"


def _bore_name(bore: float) -> str:
    """Write a bore as it is asked for over the counter."""
    whole, rest = divmod(Fraction(bore).limit_denominator(32), 1)
    parts = [str(part) for part in (whole, rest) if part]
    return f"{' '.join(parts)} in"


def _bore_label(bore: float) -> str:
    """Name a bore in inches and millimetres."""
    return f"{_bore_name(bore)} · {plain(bore * INCH * 1000.0, 0.1)} mm"


def _found(kind: Floats, bore: Floats, read: Callable[[MinimumRadius], float | None]) -> Floats:
    """Read the hose data at numbered kinds and bores; 0 where there is nothing."""
    kinds, sizes = hose_kinds(), bores()
    values = [
        read(minimum_radius(kinds[int(k)], sizes[int(b)] * INCH)) or 0.0
        for k, b in zip(kind.ravel(), bore.ravel(), strict=True)
    ]
    return np.array(values).reshape(kind.shape)


def _listed_minimum(kind: Floats, bore: Floats) -> Floats:
    """Minimum radius by kind and bore, m; 0 where the kind is not listed in that bore."""
    return _found(kind, bore, lambda found: found.radius)


def _listed_diameter(kind: Floats, bore: Floats) -> Floats:
    """Outside diameter by kind and bore, m; 0 where the kind is not listed in that bore."""
    return _found(kind, bore, lambda found: found.row.outside_diameter if found.row else None)


# --- the direct calculation ------------------------------------------------------------------


def _only(good: NDArray[np.bool_], value: Real) -> Floats:
    """Return values where they are good, NaN elsewhere."""
    return np.where(good, value, np.nan)


def _number_of(keys: list[str], chosen: NDArray[np.str_]) -> Floats:
    """Return the place in a list of each chosen option."""
    numbers = {key: float(n) for n, key in enumerate(keys)}
    return np.array([numbers[str(key)] for key in chosen])


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = {
        key: np.asarray(value, dtype=np.float64)
        for key, value in given.items()
        if key not in ("face", "hose_kind", "bore")
    }
    kind = _number_of([each.key for each in hose_kinds()], np.asarray(given["hose_kind"]))
    bore = _number_of([_bore_key(each) for each in bores()], np.asarray(given["bore"]))
    listed, diameter = _listed_minimum(kind, bore), _listed_diameter(kind, bore)
    listed, diameter = _only(listed > 0, listed), _only(diameter > 0, diameter)
    minimum = np.where(np.isnan(g["makers_radius"]), listed, g["makers_radius"])
    outside = np.where(np.isnan(g["outside_diameter"]), diameter, g["outside_diameter"])
    face = np.where(np.asarray(given["face"]) == "inside", calc.INSIDE_FACE, calc.OUTSIDE_FACE)
    # On the inside face the diameter does not matter, and need not be known.
    between = np.where(face == calc.INSIDE_FACE, 0.0, outside)
    radii = _radii(g, face, between)
    inside = radii["inside_radius"]
    return {
        **radii,
        "minimum_radius": minimum,
        "listed_radius": listed,
        **_rises(g, minimum + face * between),
        "length_to_cut": _length(g, inside, outside),
        "length_at_minimum": _length(g, minimum, outside),
        "hose_diameter": outside,
    }


def _radii(g: Mapping[str, Floats], face: Floats, outside: Floats) -> dict[str, Floats]:
    """Return the inside radius, both its ends, and the angle that the chord spans."""
    chord, chord_error, rise_error = g["chord"], g["chord_error"], g["rise_error"]
    turns_half = g["rise"] > chord / 2 * (1.0 + 1e-12)
    rise = np.where(turns_half, chord / 4, g["rise"])
    told = ~turns_half & (rise - rise_error >= SMALLEST_GAP)
    error = np.where(told, rise_error, 0.0)
    measured = np.asarray(calc.bend_radius(chord, rise))
    low = np.asarray(calc.bend_radius_low(chord, rise, chord_error, rise_error))
    high = np.asarray(calc.bend_radius_high(chord, rise, chord_error, error))
    known = np.nan_to_num(outside)
    fits = ~turns_half & ~np.isnan(outside) & (measured - face * known >= SMALLEST_RADIUS)

    def to_inside(radius: Floats) -> Floats:
        standing = np.maximum(radius, face * known)
        return np.asarray(calc.radius_at_face(standing, face, calc.INSIDE_FACE, known))

    return {
        "inside_radius": _only(fits, to_inside(measured)),
        "radius_low": _only(fits, to_inside(low)),
        "radius_high": _only(fits & told, to_inside(high)),
        "bend_angle": _only(~turns_half, calc.included_angle(chord, rise)),
    }


def _rises(g: Mapping[str, Floats], needed: Floats) -> dict[str, Floats]:
    """Return the rises that pass, for a radius needed on the measured face."""
    known, chord = ~np.isnan(needed), g["chord"]
    radius = np.where(known, needed, 1.0)
    surely = calc.rise_that_passes_surely(chord, radius, g["chord_error"], g["rise_error"])
    return {
        "rise_that_passes": _only(known, calc.rise_that_passes(chord, radius)),
        "rise_that_surely_passes": _only(known, surely),
    }


def _length(g: Mapping[str, Floats], inside: Floats, outside: Floats) -> Floats:
    """Return the length to cut for an inside radius; NaN where the bend is as good as straight."""
    known = ~np.isnan(inside) & ~np.isnan(outside)
    radius, diameter = np.where(known, inside, 1.0), np.where(known, outside, 0.0)
    centreline = calc.radius_at_face(radius, calc.INSIDE_FACE, calc.CENTRELINE, diameter)
    arc = np.asarray(calc.arc_length(centreline, g["planned_angle"]))
    known &= arc <= LONGEST_ARC
    straights = g["straight_before"] + g["straight_after"]
    return _only(
        known, calc.length_to_cut(np.where(known, arc, 0.0), straights, g["slack"], g["insertion"])
    )


# --- tables ----------------------------------------------------------------------------------


def _chord_over_radius(share: Real) -> Real:
    """Chord over radius against rise over chord."""
    return _SOME_CHORD / calc.bend_radius(_SOME_CHORD, _SOME_CHORD * share)


def _turn(share: Real) -> Real:
    """Angle that a chord spans against rise over chord."""
    return calc.included_angle(_SOME_CHORD, _SOME_CHORD * share)


def _same(value: Real) -> Real:
    """Return what it is given: a table of it is a range check."""
    return value


def _check(name: str, label: str, low: float, high: float) -> TableSpec:
    """Declare a range check."""
    return TableSpec(name, _same, (linear("value", label, low, high),), 1e-12, numbers="f8")


_BY_HOSE = (entries("kind", "hose kind", len(hose_kinds())), entries("bore", "bore", len(bores())))

TABLES = (
    TableSpec(
        "chord_over_radius",
        _chord_over_radius,
        (cubic("share", "rise over chord", _LOWEST_SHARE, _HALF),),
        tolerance=1e-9,
        relative=True,
        numbers="f8",
    ),
    TableSpec(
        "bend_turn",
        _turn,
        (cubic("share", "rise over chord", _LOWEST_SHARE, _HALF),),
        tolerance=1e-4,
        monotone=True,
    ),
    TableSpec("hose_minimum", _listed_minimum, _BY_HOSE, tolerance=1e-9, numbers="f8"),
    TableSpec("hose_diameter", _listed_diameter, _BY_HOSE, tolerance=1e-9, numbers="f8"),
    _check("bend_listed", "listed figure", 1e-3, 1.0),
    _check("bend_gap", "gap less its error", SMALLEST_GAP + EDGE, 1.0),
    _check("bend_room", "inside radius", SMALLEST_RADIUS + EDGE, 1e4),
    _check("bend_partial", "chord over radius", 0.0, 2.0 - EDGE),
    _check("bend_to_cut", "arc", 0.0, LONGEST_ARC - EDGE),
)


# --- the recipe ------------------------------------------------------------------------------

_HALF_A_TURN = (
    "The rise is more than half the chord: the rule spans more than half a turn. "
    "Measure across a shorter piece."
)
_NOT_LISTED = (
    "No listed minimum for this kind in this bore. Check the bore, or enter the hose maker's "
    "minimum radius."
)
_NO_DIAMETER = (
    "This kind is not listed in this bore, so its outside diameter isn't known. Measure it and "
    "enter it."
)
_NO_ROOM = (
    "The outside of the bend would be tighter than the hose is thick. Check which face the rule "
    "touched, and the outside diameter."
)
_STRAIGHT = (
    "The gap is as small as its reading error: this may be a straight. Measure across a longer "
    "piece."
)
_TOO_FLAT = "As good as straight: measure the run itself, and add slack and ends."
_ANY_RISE = "On so long a chord any rise up to half of it passes."
_NO_RISE_READS = (
    "On so short a chord no rise can show it for certain. Measure across a longer piece, or read "
    "more closely."
)
_SHARE_ABOVE = (("share", _HALF_A_TURN),)
_BELOW_STRAIGHT = (("value", _STRAIGHT),)


def _radius_steps(name: str, chord: str, rise: str) -> tuple[Product, Look, Product, Sum]:
    """Return the steps from a chord and a rise to the inside radius."""
    share, bend, face = f"{name}_share", f"{name}_bend", f"{name}_at_face"
    return (
        Product(share, ((rise, 1.0), (chord, -1.0))),
        Look(bend, "chord_over_radius", (share,), above=_SHARE_ABOVE),
        Product(face, ((chord, 1.0), (bend, -1.0))),
        Sum(f"{name}_inside", ((face, 1.0), ("face_offset", -1.0))),
    )


def _length_steps(name: str, inside: str) -> tuple[Sum, Product, Look, Sum, Product, Sum]:
    """Return the steps from an inside radius to the length to cut."""
    line, arc, run = f"{name}_centreline", f"{name}_arc", f"{name}_flexible"
    straights = (("straight_before", 1.0), ("straight_after", 1.0))
    return (
        Sum(line, ((inside, 1.0), ("hose_diameter", calc.CENTRELINE))),
        Product(f"{arc}_any", ((line, 1.0), ("planned_angle", 1.0))),
        Look(arc, "bend_to_cut", (f"{arc}_any",), above=(("value", _TOO_FLAT),)),
        Sum(run, ((arc, 1.0), *straights)),
        Product(f"{name}_slackened", ((run, 1.0), ("with_slack", 1.0))),
        Sum(name, ((f"{name}_slackened", 1.0), ("insertion", 2.0))),
    )


STEPS = (
    # The hose.
    Pick("kind_number", "hose_kind", tuple((k.key, float(n)) for n, k in enumerate(hose_kinds()))),
    Pick("bore_number", "bore", tuple((_bore_key(b), float(n)) for n, b in enumerate(bores()))),
    Look("minimum_or_none", "hose_minimum", ("kind_number", "bore_number")),
    Look("listed_radius", "bend_listed", ("minimum_or_none",), below=(("value", _NOT_LISTED),)),
    First("minimum_radius", ("makers_radius", "listed_radius")),
    Look("diameter_or_none", "hose_diameter", ("kind_number", "bore_number")),
    Look("listed_diameter", "bend_listed", ("diameter_or_none",), below=(("value", _NO_DIAMETER),)),
    First("hose_diameter", ("outside_diameter", "listed_diameter")),
    Pick("face_offset", "face", (("inside", 0.0), ("outside", "hose_diameter"))),
    # The bend as read, and at both ends of the reading errors.
    *_radius_steps("read", "chord", "rise"),
    Look("inside_radius", "bend_room", ("read_inside",), below=(("value", _NO_ROOM),)),
    Look("bend_angle", "bend_turn", ("read_share",), above=_SHARE_ABOVE),
    Sum("short_chord", (("chord", 1.0), ("chord_error", -1.0))),
    Product("half_short", (("short_chord", 1.0),), times=0.5),
    Sum("rise_and_error", (("rise", 1.0), ("rise_error", 1.0))),
    least("deep_rise", "rise_and_error", "half_short"),
    *_radius_steps("low", "short_chord", "deep_rise"),
    greatest("low_or_nil", "low_inside", 0.0),
    # Where the bend as read has no radius, neither have its ends.
    Sum("radius_low", (("low_or_nil", 1.0), ("inside_radius", 0.0))),
    Sum("long_chord", (("chord", 1.0), ("chord_error", 1.0))),
    Sum("rise_less_error", (("rise", 1.0), ("rise_error", -1.0))),
    Look("shallow_rise", "bend_gap", ("rise_less_error",), below=_BELOW_STRAIGHT),
    *_radius_steps("high", "long_chord", "shallow_rise"),
    Sum("radius_high", (("high_inside", 1.0), ("inside_radius", 0.0))),
    # Tight: under the factor, or the reading error leaves it open.
    Product("factor_near", (("minimum_radius", 1.0),), times=NEAR_FACTOR),
    Sum("error_near", (("minimum_radius", 1.0), ("inside_radius", 1.0), ("radius_low", -1.0))),
    greatest("radius_near", "factor_near", "error_near"),
    # The rise that passes: the same relation, read back.
    Sum("needed_at_face", (("minimum_radius", 1.0), ("face_offset", 1.0))),
    Product("needed_bend", (("chord", 1.0), ("needed_at_face", -1.0))),
    least("needed_bend_at_most", "needed_bend", _ALL_OF_HALF_A_TURN),
    Inverse("passing_share", "chord_over_radius", "share", "needed_bend_at_most"),
    Product("rise_that_passes", (("passing_share", 1.0), ("chord", 1.0))),
    Product("sure_bend_any", (("short_chord", 1.0), ("needed_at_face", -1.0))),
    Look("sure_bend", "bend_partial", ("sure_bend_any",), above=(("value", _ANY_RISE),)),
    Inverse("sure_share", "chord_over_radius", "share", "sure_bend"),
    Product("sure_rise", (("sure_share", 1.0), ("short_chord", 1.0))),
    Sum("sure_rise_read", (("sure_rise", 1.0), ("rise_error", -1.0))),
    Look(
        "rise_that_surely_passes",
        "bend_gap",
        ("sure_rise_read",),
        below=(("value", _NO_RISE_READS),),
    ),
    # The length to cut, along the centreline.
    Sum("with_slack", (("slack", 1.0),), plus=1.0),
    *_length_steps("length_to_cut", "inside_radius"),
    *_length_steps("length_at_minimum", "minimum_radius"),
)


# --- fields and answers ----------------------------------------------------------------------

_BASIS = {
    "published": "Published table",
    "from memory": "Standard, from memory",
    "common practice": "Rule of the trade, common practice",
    "maker's figure": "The maker's own figure",
}
_TAPE = (
    "Length of rule between the points where it touches. Lay it across the tightest part, so short "
    "that the bend under it is one even arc."
)

FIELDS = (
    Number(
        "chord",
        "Chord",
        Scale("length", unit="mm", span=(30, 1000), default=200, step=10),
        measure=_TAPE,
        way_out="Measure across a piece between 30 mm and 1 m.",
        first=True,
    ),
    Number(
        "rise",
        "Rise",
        Scale("length", unit="mm", span=(1, 500), default=30, step=1),
        measure="Largest gap under the rule: a second rule, square to the first, in the middle.",
        way_out="Under 1 mm it is a straight: measure across a longer piece.",
        first=True,
    ),
    Choice(
        "hose_kind",
        "Hose",
        tuple(Option(k.key, k.label, group=_BASIS[k.mark]) for k in hose_kinds()),
        "textile_coolant",
        measure="Printed along the hose. If nothing is, take the one that looks like it.",
        first=True,
    ),
    Choice(
        "bore",
        "Bore",
        tuple(Option(_bore_key(b), _bore_label(b)) for b in bores()),
        _bore_key(0.75),
        measure="Inside diameter: calipers in a cut end, or the pipe that it is pushed over.",
        first=True,
    ),
    Choice(
        "face",
        "Side of the bend the rule lies on",
        (
            Option("inside", "Inside: touches at two ends, gap in the middle"),
            Option("outside", "Outside: touches in the middle, same gap at both ends"),
        ),
        "inside",
        measure="On the outside, the chord is the distance between the two gaps.",
    ),
    Number(
        "makers_radius",
        "Hose maker's minimum radius",
        Scale("length", unit="mm", span=(10, 1500), default=None, step=5),
        measure="For the inside of the bend. From a figure for the centreline take off half the "
        "outside diameter.",
        way_out="Look whether the sheet is in inches.",
        kept=True,
    ),
    Number(
        "outside_diameter",
        "Outside diameter of the hose",
        Scale("length", unit="mm", span=(5, 100), default=None, step=0.5),
        measure="Leave it open to take the usual one of this kind and bore.",
        way_out="Calipers across the hose, or its girth divided by 3.14.",
    ),
    Number(
        "chord_error",
        "Reading error of the chord",
        Scale("length", unit="mm", span=(0, 10), default=2, step=0.5),
        measure="2 mm with a rule held by hand. Common practice.",
        way_out="Over 10 mm read it again.",
    ),
    Number(
        "rise_error",
        "Reading error of the rise",
        Scale("length", unit="mm", span=(0, 10), default=1, step=0.5),
        measure="1 mm with a rule held by hand. Common practice.",
        way_out="Over 10 mm read it again.",
    ),
    Number(
        "planned_angle",
        "Turn that the hose has to make",
        Scale("angle", unit="deg", span=(5, 360), default=90, step=5),
        measure="From fitting to fitting, not only under the rule.",
        way_out="A hose that turns more than once round wants another route.",
    ),
    Number(
        "straight_before",
        "Straight before the bend",
        Scale("length", unit="mm", span=(0, 2000), default=150, step=10),
        measure="From the end of the fitting. Leave one outside diameter straight before any "
        "bend. Common practice.",
        way_out="Longer runs: cut over length and trim in place.",
    ),
    Number(
        "straight_after",
        "Straight after the bend",
        Scale("length", unit="mm", span=(0, 2000), default=150, step=10),
        measure="To the end of the other fitting.",
        way_out="Longer runs: cut over length and trim in place.",
    ),
    Number(
        "insertion",
        "Hose pushed on at each end",
        Scale("length", unit="mm", span=(0, 100), default=30, step=5),
        measure="Past the clamp to the stop: 25 to 35 on a beaded pipe. Common practice.",
        way_out="Measure the bare end of the pipe.",
    ),
    Number(
        "slack",
        "Slack",
        Scale("percent", unit="pct", span=(0, 20), default=6, step=1),
        measure="5 to 8 for shrinking under pressure and an engine that rocks (NAVEDTRA 14105).",
        way_out="More than 20 sags and chafes: clip it up, or cut it shorter.",
    ),
)

_MM = {"mm": 0, "in": 1}


def _length_answer(
    key: str,
    label: str,
    formula: str,
    filled: str = "",
    uncertainty: float = 5.0,
    rank: str = "more",
    band: Band | None = None,
    note: str = "",
    optional: bool = False,
) -> Answer:
    """Declare an answer in millimetres."""
    return Answer(
        key,
        label,
        of="length",
        decimals=_MM,
        tolerance=0.05,
        uncertainty=uncertainty,
        rank=rank,
        band=band,
        note=note,
        optional=optional,
    )


ANSWERS = (
    _length_answer(
        "inside_radius",
        "Inside bend radius",
        "R = c²/(8h) + h/2, less the hose's diameter if its outside was measured",
        "{chord} ÷ {read_bend} − {face_offset} = {inside_radius}",
        rank="main",
        band=Band(
            side="min",
            limit="minimum_radius",
            near="radius_near",
            within="Sweeps: {margin} over the minimum of {limit}.",
            near_words="Tight: only {margin} over the minimum of {limit}. Open the bend, or read it again "
            "more closely.",
            beyond="Will kink: {margin} under the minimum of {limit}. Open the bend, take another way, "
            "or fit a moulded elbow.",
        ),
        note="Tight means under 1.1 times the minimum (common practice), or that the reading "
        "errors could take it under.",
    ),
    _length_answer(
        "minimum_radius",
        "Minimum radius",
        "the hose maker's figure if there is one, else the listed one",
        rank="second",
        note="On the inside of the bend (EN 853, 6.2). Where it is from stands under Basis.",
    ),
    _length_answer(
        "rise_that_passes",
        "Rise that just passes",
        "h = R − √(R² − c²/4), on this chord, up to half of it",
        "{passing_share} × {chord} = {rise_that_passes}",
        uncertainty=1.0,
        rank="second",
    ),
    _length_answer(
        "length_to_cut",
        "Length to cut",
        "L = (R_centre · turn + straights) (1 + slack) + 2 · pushed on",
        "({length_to_cut_arc} + {straight_before} + {straight_after}) × {with_slack} + "
        "2 × {insertion} = {length_to_cut}",
        rank="second",
        note="Cut a little over, offer it up, trim.",
    ),
    _length_answer(
        "radius_low",
        "Radius at least, by your readings",
        "R at chord − error and rise + error",
        "{short_chord} ÷ {low_bend} − {face_offset} = {radius_low}",
    ),
    _length_answer(
        "radius_high",
        "Radius at most, by your readings",
        "R at chord + error and rise − error",
        "{long_chord} ÷ {high_bend} − {face_offset} = {radius_high}",
    ),
    _length_answer(
        "rise_that_surely_passes",
        "Rise that passes whatever the reading error",
        "h = R − √(R² − c²/4) at chord − error, less the rise's error",
        "{sure_share} × {short_chord} − {rise_error} = {rise_that_surely_passes}",
        uncertainty=1.0,
    ),
    _length_answer(
        "length_at_minimum",
        "Length to cut, bent to the minimum",
        "L as above, with the minimum radius",
        "({length_at_minimum_arc} + {straight_before} + {straight_after}) × {with_slack} + "
        "2 × {insertion} = {length_at_minimum}",
        note="Where the bend as it lies will kink: the shortest hose that can make the turn.",
    ),
    _length_answer(
        "listed_radius",
        "Listed minimum for this kind and bore",
        "from the table or rule named under Basis",
    ),
    _length_answer(
        "hose_diameter",
        "Outside diameter used",
        "as entered, or the usual one of this kind and bore",
        uncertainty=1.0,
    ),
    Answer(
        "bend_angle",
        "Turn under the rule",
        of="angle",
        decimals={"deg": 0},
        tolerance=0.02,
        uncertainty=3.0,
    ),
)


# --- the basis in words ----------------------------------------------------------------------


def _basis(kind: HoseKind, bore: float) -> Advice:
    """Say where a minimum is from: a short word for the table, the whole for the chosen hose."""
    found = minimum_radius(kind, bore * INCH)
    why = f"{found.basis} {kind.note}"
    if not kind.rows:
        return Advice("Maker's figure", found.basis)
    if found.radius is None or found.row is None:
        return Advice("Not listed", found.basis)
    if kind.multiple is not None:
        return Advice(f"{kind.multiple:g} × bore", why)
    if abs(found.row.bore - bore * INCH) > SAME_BORE:
        return Advice(f"As {_bore_name(found.row.bore / INCH)}, next up", why)
    return Advice(found.row.mark.capitalize(), why)


BASIS = AdviceView(
    "Basis of the minimum",
    ("bore", "hose_kind"),
    {(_bore_key(bore), kind.key): _basis(kind, bore) for bore in bores() for kind in hose_kinds()},
    note="The maker's figure comes first, a published table next, a rule of the trade last.",
    unless="makers_radius",
    unless_words="The hose maker's own figure, entered above. It overrules any list.",
)

LOOKUP = Lookup(
    key="hose-bend",
    title="Hose bend",
    short="Hose bend",
    question="Is this bend too tight for the hose, and how long must it be cut?",
    stage="plumb",
    quick=True,
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("read_share", "Rise over chord"),
        Working("read_bend", "Chord over radius"),
        Working("read_at_face", "Radius where the rule lay", of="length", unit="mm", decimals=1),
        Working("face_offset", "From there to the inside", of="length", unit="mm", decimals=1),
        Working("radius_near", "Called tight below", of="length", unit="mm", decimals=1),
        Working("short_chord", "Chord − error", of="length", unit="mm", decimals=1),
        Working("low_bend", "Chord over radius, lower end"),
        Working("long_chord", "Chord + error", of="length", unit="mm", decimals=1),
        Working("high_bend", "Chord over radius, upper end"),
        Working("passing_share", "Rise over chord that passes"),
        Working("sure_share", "Rise over chord that surely passes"),
        Working("length_to_cut_arc", "Arc on the centreline", of="length", unit="mm", decimals=0),
        Working("length_at_minimum_arc", "Arc at the minimum", of="length", unit="mm", decimals=0),
        Working("with_slack", "1 + slack"),
    ),
    views=Views(
        grids=(
            GridView(
                "Radius by chord and rise",
                "inside_radius",
                "rise",
                (10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 75.0),
                "chord",
                (100.0, 150.0, 200.0, 250.0, 300.0),
            ),
            GridView(
                "Minimum radius by bore and hose",
                "listed_radius",
                "bore",
                tuple(_bore_key(bore) for bore in bores()),
                "hose_kind",
                tuple(kind.key for kind in hose_kinds() if kind.rows),
            ),
        ),
        advice=(BASIS,),
    ),
    cautions=(
        "The hose maker's minimum and pressure rating overrule this page. Fuel, brake and "
        "air-conditioning hoses: only as their makers and local rules allow.",
        "Keep hoses off anything hot, sharp or moving, with the suspension at both ends of its "
        "travel. Sleeve them where they touch, clip them often enough not to sag.",
        "A bend that looks right cold can flatten hot: look again with the engine warm and the "
        "pump running, hands clear of belt and fan.",
        "Under the truck: on stands, never on a jack alone.",
        "Let the loop cool before opening a hose: hot coolant under pressure scalds.",
    ),
    sources=(
        "Radius, angle and rise from a chord: Machinery's Handbook, segments of circles.",
        "Minimum radius on the inside of the bend: EN 853:2015, 6.2.",
        "Rubber hose with one wire braid: FAA AC 43.13-1B, table 9-3.",
        "SAE 100R1 and 100R14 hose: SAE J517, mostly from memory.",
        "Mandrel-built 6 bores, wire helix and textile coolant hose 8 bores: common practice.",
        "Slack 5 to 8 %: NAVEDTRA 14105, chapter 5. Shrinking under pressure: FAA AC 43.13-1B, "
        "figure 9-9.",
    ),
    leaves_out=(
        "Bends in two planes and twist: a twisted hose fails sooner than a tight one.",
        "A hose already oval or flattened: it is past its minimum, whatever the rule says.",
        "Heat, age, pressure and vacuum: a suction hose wants a helix.",
        "The loss of pressure in the bend.",
    ),
)
