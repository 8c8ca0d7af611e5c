"""Hose bend: from a straightedge and a rule to a verdict, the rise that passes, the length to cut.

One relation serves the whole page: radius from chord and rise. It gives the radius of the face that
was measured, at the readings and at both ends of their errors; the other way round, the rise that a
needed radius shows on the same chord. How tight a hose may be bent comes from the hose data by kind
and bore, or from its maker, whose figure comes first.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache, partial

import numpy as np
from numpy.typing import NDArray

from calc import hoses as calc
from calc.domain import Real
from site_src.data.hoses import (
    INCH,
    SAME_BORE,
    HoseKind,
    dash_sizes,
    hose_kinds,
    minimum_radius,
)
from site_src.model.answers import (
    Advice,
    AdviceView,
    Answer,
    Band,
    ChartView,
    ListView,
    Views,
    Working,
)
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, listed
from site_src.tables.trace import Refusal, Tabulated, greatest, least, tabulated, within

NEAR_FACTOR = 1.1
"""Radius over minimum below which a bend is called tight. Common practice."""

LONGEST_ARC = 20.0
"""Longest arc that is cut to length here, m."""

SMALLEST_GAP = 1e-4
"""Gap under the straightedge that still tells a bend from a straight, m."""

SMALLEST_RADIUS = 1e-3
"""Smallest inside radius that is worked with, m; below it the readings don't fit the hose."""

HALF = 0.5 * (1.0 + 5e-13)
"""Largest rise over chord: half a turn, and the last bits of a half chord typed in inches."""

_HALF_A_TURN = (
    "The rise is more than half the chord: the rule spans more than half a turn. "
    "Measure across a shorter piece."
)
_NOT_LISTED = (
    "No listed minimum for this kind in this bore. Basis says why. Check the bore, or enter the "
    "hose maker's minimum radius."
)
_BY_RULE = "The minimum of this kind is a rule of the trade: look at the radius over the rule."
_NOT_BY_RULE = "The minimum is the maker's, or from a table: look at the inside bend radius."
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


# --- hoses by kind and bore ------------------------------------------------------------------


@cache
def bores() -> tuple[float, ...]:
    """Bores that any kind is made in, from 1/4 to 4 in, in inches."""
    made = {round(row.bore / INCH, 5) for kind in hose_kinds() for row in kind.rows}
    return tuple(sorted(bore for bore in made if 0.25 <= bore <= 4.0))


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
    return f"{_bore_name(bore)} · {round(bore * INCH * 1000.0, 2):g} mm"


KINDS = tuple(kind.key for kind in hose_kinds())
BORES = tuple(_bore_key(bore) for bore in bores())
RULED = {kind.key: kind.multiple is not None for kind in hose_kinds()}
"""Which kinds have their minimum by a rule of so many bores."""


def _hose(kind: HoseKind, bore: float) -> tuple[float, float]:
    """Return minimum radius and outside diameter, m; 0 where the kind is not listed in a bore."""
    found = minimum_radius(kind, bore * INCH)
    return found.radius or 0.0, found.row.outside_diameter if found.row else 0.0


_HOSES = np.array([[_hose(kind, bore) for bore in bores()] for kind in hose_kinds()])
"""By kind and bore: minimum radius and outside diameter."""


def _by_hose(name: str, figures: NDArray[np.float64]) -> Tabulated:
    """Tabulate a figure of hoses by the numbers of kind and bore."""

    def figure(kind: Real, bore: Real) -> Real:
        found: NDArray[np.float64] = figures[
            np.asarray(kind, dtype=int), np.asarray(bore, dtype=int)
        ]
        return found

    kinds, sizes = listed("kind", "hose kind", len(KINDS)), listed("bore", "bore", len(BORES))
    return tabulated(name, figure, kinds, sizes, tolerance=1e-9)


HOSE_MINIMUM = _by_hose("hose_minimum", _HOSES[..., 0])
HOSE_DIAMETER = _by_hose("hose_diameter", _HOSES[..., 1])

# Shares do not depend on the chord that they are taken on; this one lets the smallest be had.
_SOME_CHORD = 1.9


def _turn(share: Real) -> Real:
    """Angle that a chord spans against rise over chord."""
    return calc.included_angle(_SOME_CHORD, _SOME_CHORD * share)


INCLUDED_ANGLE = tabulated(
    "included_angle",
    _turn,
    cubic("share", "rise over chord", 6e-5, HALF),
    tolerance=1e-4,
    monotone=True,
    numbers="f4",
    by=(calc.included_angle,),
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out how tight the bend is, how tight it may be, and the length to cut."""
    hose = hose_used(e)
    # Where the rule lay inside, the hose's diameter does not matter and need not be known.
    offset = e.pick("face", {"inside": 0.0, "outside": hose["hose_diameter"]})
    radii = _radii(e, offset)
    inside, minimum = radii["inside_radius"], hose["minimum_radius"]
    return {
        **hose,
        "face_offset": offset,
        **radii,
        **_limits(e, hose["listed_radius"], inside, inside - radii["radius_low"]),
        **_rises(e, radii["short_chord"], minimum + offset),
        **_length(e, "length_to_cut", inside, hose["hose_diameter"]),
        **_length(e, "length_at_minimum", minimum, hose["hose_diameter"]),
    }


def hose_used(e: Entries) -> dict[str, Real]:
    """Return minimum radius and outside diameter, as entered or else as listed."""
    at = e.number_of("hose_kind", KINDS), e.number_of("bore", BORES)
    radius = within(HOSE_MINIMUM(*at), SMALLEST_RADIUS, None, below=_NOT_LISTED)
    diameter = within(HOSE_DIAMETER(*at), SMALLEST_RADIUS, None, below=_NO_DIAMETER)
    return {
        "listed_radius": radius,
        "minimum_radius": e.entered_or("makers_radius", radius),
        "hose_diameter": e.entered_or("outside_diameter", diameter),
    }


def minimum_by_basis(
    e: Entries, listed_radius: Real, by_rule_words: str = "", not_by_rule_words: str = ""
) -> dict[str, Real]:
    """Return the minimum that is the hose's own, and the one that is a rule; one is not there."""
    by_table = {kind: Refusal(by_rule_words) if RULED[kind] else listed_radius for kind in KINDS}
    by_rule = {kind: listed_radius if RULED[kind] else Refusal(not_by_rule_words) for kind in KINDS}
    return {
        "stated": e.entered_or("makers_radius", e.pick("hose_kind", by_table)),
        "rule": e.if_entered(
            "makers_radius", Refusal(not_by_rule_words), e.pick("hose_kind", by_rule)
        ),
    }


def _limits(e: Entries, listed_radius: Real, inside: Real, error: Real) -> dict[str, Real]:
    """Return what the radius is judged by: a figure of the hose's own, or else a rule."""
    by_basis = minimum_by_basis(e, listed_radius, _BY_RULE, _NOT_BY_RULE)
    stated, rule = by_basis["stated"], by_basis["rule"]
    return {
        "stated_minimum": stated,
        "radius_near": greatest(NEAR_FACTOR * stated, stated + error),
        "rule_minimum": rule,
        "over_rule": inside / rule,
        "rule_near": greatest(NEAR_FACTOR, 1.0 + error / rule),
    }


def _radii(e: Entries, offset: Real) -> dict[str, Real]:
    """Return the radius as read and at both ends of the reading errors, and the angle."""
    chord = e["chord"]
    share = e["rise"] / chord
    # No hair: both readings divide the same two entries, and the calculation allows no more.
    rise = within(share, None, HALF, above=_HALF_A_TURN, gives=e["rise"], hair=0.0)
    short, long = chord - e["chord_error"], chord + e["chord_error"]
    # Up to half a turn the radius falls as the rise grows; half a turn is the smallest of all.
    deep = least(rise + e["rise_error"], short / 2.0)
    shallow = within(rise - e["rise_error"], SMALLEST_GAP, None, below=_STRAIGHT)
    at_face = calc.bend_radius(chord, rise)
    inside = at_face - offset

    def where_read(radius: Real) -> Real:
        """Return an end, if the bend as read has a radius at all."""
        return within(inside, SMALLEST_RADIUS, None, below=_NO_ROOM, gives=radius)

    return {
        "read_share": share,
        "read_at_face": at_face,
        "inside_radius": within(inside, SMALLEST_RADIUS, None, below=_NO_ROOM),
        "bend_angle": INCLUDED_ANGLE(share, above={"share": _HALF_A_TURN}),
        "short_chord": short,
        "deep_rise": deep,
        "radius_low": where_read(greatest(calc.bend_radius(short, deep) - offset, 0.0)),
        "long_chord": long,
        "shallow_rise": shallow,
        "radius_high": where_read(calc.bend_radius(long, shallow) - offset),
    }


def _rises(e: Entries, short: Real, needed: Real) -> dict[str, Real]:
    """Return the rises that pass, for a radius needed on the measured face."""
    chord = e["chord"]
    # A chord longer than twice the radius passes with any rise, up to half the chord.
    radius, sure_radius = greatest(needed, chord / 2.0), greatest(needed, short / 2.0)
    sure = within(
        short / needed, None, 2.0, above=_ANY_RISE, gives=calc.bend_rise(short, sure_radius)
    )
    return {
        "needed_at_face": needed,
        "rise_radius": radius,
        "rise_that_passes": calc.bend_rise(chord, radius),
        "sure_radius": sure_radius,
        "rise_that_surely_passes": within(
            sure - e["rise_error"], SMALLEST_GAP, None, below=_NO_RISE_READS
        ),
    }


def _length(e: Entries, name: str, inside: Real, diameter: Real) -> dict[str, Real]:
    """Return the length to cut for an inside radius, and the arc in it."""
    centre = calc.radius_at_face(inside, calc.INSIDE_FACE, calc.CENTRELINE, diameter)
    arc = calc.arc_length(centre, e["planned_angle"])
    arc = within(arc, None, LONGEST_ARC, above=_TOO_FLAT)
    straights = e["straight_before"] + e["straight_after"]
    return {
        f"{name}_arc": arc,
        name: calc.length_to_cut(arc, straights, e["slack"], e["insertion"]),
    }


# --- fields and answers ----------------------------------------------------------------------

_mm = partial(Scale, "length", "mm")
_BASIS = {
    "published": "Published table",
    "from memory": "Standard, unverified: measure it",
    "common practice": "Rule of the trade, common practice",
    "maker's figure": "The maker's own figure",
}
_TAPE = "Between where the rule touches, across the tightest part of one even arc."

FIELDS = (
    Number(
        "chord",
        "Chord",
        _mm(span=(30, 1000), default=200, step=10),
        sign="c",
        measure=_TAPE,
        way_out="Measure across a piece between [30 mm|1.2 in] and [1 m|39 in].",
        first=True,
    ),
    Number(
        "rise",
        "Rise",
        _mm(span=(1, 500), default=30, step=1),
        sign="h",
        measure="Largest gap under the rule: a second rule, square to the first, in the middle.",
        way_out="Under [1 mm|0.04 in] it is a straight: measure across a longer piece.",
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
        tuple(Option(_bore_key(bore), _bore_label(bore)) for bore in bores()),
        _bore_key(0.75),
        measure="Inside diameter: calipers in a cut end, or the pipe that it is pushed over. "
        "Bought by dash size, look in the list of dash sizes: -8 is not 1/2 in in every hose.",
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
        _mm(span=(10, 1500), default=None, step=5),
        measure="For the inside of the bend. From a figure for the centreline take off half the "
        "outside diameter.",
        way_out="Look whether the sheet is in inches.",
        kept=True,
    ),
    Number(
        "outside_diameter",
        "Outside diameter of the hose",
        _mm(span=(5, 130), default=None, step=0.5),
        measure="Leave it open to take the usual one of this kind and bore.",
        way_out="Calipers across the hose, or its girth divided by 3.14.",
    ),
    Number(
        "chord_error",
        "Reading error of the chord",
        _mm(span=(0, 10), default=2, step=0.5),
        measure="[2 mm|0.08 in] with a rule held by hand. Common practice.",
        way_out="Over [10 mm|0.39 in] read it again.",
    ),
    Number(
        "rise_error",
        "Reading error of the rise",
        _mm(span=(0, 10), default=1, step=0.5),
        measure="[1 mm|0.04 in] with a rule held by hand. Common practice.",
        way_out="Over [10 mm|0.39 in] read it again.",
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
        _mm(span=(0, 2000), default=150, step=10),
        measure="From the end of the fitting. Leave one outside diameter straight before any "
        "bend. Common practice.",
        way_out="Longer runs: cut over length and trim in place.",
    ),
    Number(
        "straight_after",
        "Straight after the bend",
        _mm(span=(0, 2000), default=150, step=10),
        measure="To the end of the other fitting.",
        way_out="Longer runs: cut over length and trim in place.",
    ),
    Number(
        "insertion",
        "Hose pushed on at each end",
        _mm(span=(0, 100), default=30, step=5),
        measure="Past the clamp to the stop: [25 to 35|1 to 1 3/8] on a beaded pipe. Common "
        "practice.",
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

_length_answer = partial(
    Answer, of="length", decimals={"mm": 0, "in": 1}, tolerance=0.05, uncertainty=5.0
)

_RADIUS = (calc.bend_radius,)
_ARC = (calc.radius_at_face, calc.arc_length)
_CUT = (calc.length_to_cut,)

ANSWERS = (
    _length_answer(
        "inside_radius",
        "Inside bend radius",
        sign="R_inside",
        rank="main",
        band=Band(
            side="min",
            limit="stated_minimum",
            near="radius_near",
            within="Sweeps: {margin} over the minimum of {limit}.",
            near_words="Tight: only {margin} over the minimum of {limit}. Open the bend, or read "
            "it again more closely.",
            beyond="Too tight: {margin} under the minimum of {limit}. Open the bend, take another "
            "way, or fit a moulded elbow.",
        ),
        note="Tight means under 1.1 times the minimum (common practice), or that the reading "
        "errors could take it under.",
    ),
    Answer(
        "over_rule",
        "Radius over the rule",
        of="ratio",
        decimals={"": 2},
        tolerance=0.002,
        uncertainty=0.2,
        rank="second",
        band=Band(
            side="min",
            # A rule of the trade can call for a look, but condemns no hose.
            limit=0.0,
            near="rule_near",
            within="Sweeps: {value} times what the rule asks.",
            near_words="Tighter than the rule or close to it ({value}): look for flattening, warm. "
            "Flat or oval: open the bend, or fit an elbow.",
            beyond="No bend is as tight as this.",
        ),
        note="For kinds without a figure of their own. Some hose takes less than the rule, some "
        "wants more: its maker's figure settles it.",
        optional=True,
    ),
    _length_answer(
        "minimum_radius",
        "Minimum radius",
        sign="R_min",
        rank="second",
        note="On the inside of the bend (EN 853, 6.2). Basis says where it is from.",
    ),
    _length_answer(
        "rise_that_passes",
        "Rise that just passes",
        uncertainty=1.0,
        rank="second",
        by=(calc.bend_rise,),
    ),
    _length_answer(
        "length_to_cut",
        "Length to cut",
        sign="L",
        rank="second",
        note="Cut a little over, offer it up, trim.",
        by=_CUT,
    ),
    _length_answer("radius_low", "Radius at least, by your readings", by=_RADIUS),
    _length_answer("radius_high", "Radius at most, by your readings", by=_RADIUS),
    _length_answer(
        "rise_that_surely_passes",
        "Rise that passes whatever the reading error",
        uncertainty=1.0,
        by=(calc.bend_rise,),
    ),
    _length_answer(
        "length_at_minimum",
        "Length to cut, bent to the minimum",
        note="Where the bend as it lies is too tight: the shortest hose that can make the turn.",
        by=_CUT,
    ),
    _length_answer("listed_radius", "Listed minimum for this kind and bore"),
    _length_answer("hose_diameter", "Outside diameter used", sign="d", uncertainty=1.0),
    Answer(
        "bend_angle",
        "Turn under the rule",
        of="angle",
        decimals={"deg": 0},
        tolerance=0.02,
        uncertainty=3.0,
    ),
)

_on_the_way = partial(Working, of="length", unit="mm", decimals=1)

WORKINGS = (
    Working("read_share", "Rise over chord"),
    _on_the_way("read_at_face", "Radius where the rule lay", sign="R_rule", by=_RADIUS),
    _on_the_way("face_offset", "From there to the inside"),
    _on_the_way("stated_minimum", "Minimum of the maker or a table", sign="R_stated"),
    _on_the_way("radius_near", "Called tight below"),
    _on_the_way("rule_minimum", "Minimum by the rule", sign="R_rule_min"),
    Working("rule_near", "Called close to the rule below", decimals=2),
    _on_the_way("short_chord", "Shortest chord", sign="c_min"),
    _on_the_way("deep_rise", "Deepest rise", sign="h_max"),
    _on_the_way("long_chord", "Longest chord", sign="c_max"),
    _on_the_way("shallow_rise", "Shallowest rise", sign="h_min"),
    _on_the_way("needed_at_face", "Radius needed where the rule lies", sign="R_needed"),
    _on_the_way("rise_radius", "Radius needed, at least half the chord", sign="R_rise"),
    _on_the_way("sure_radius", "Radius needed, at least half the shortest chord", sign="R_sure"),
    _on_the_way("length_to_cut_arc", "Arc on the centreline", decimals=0, by=_ARC),
    _on_the_way("length_at_minimum_arc", "Arc at the minimum", decimals=0, by=_ARC),
)


# --- the basis in words ----------------------------------------------------------------------


def _basis(kind: HoseKind, bore: float) -> Advice:
    """Say where a minimum is from: a short word for the table, the whole for the chosen hose."""
    found = minimum_radius(kind, bore * INCH)
    why = f"{found.basis} {kind.note}"
    if not kind.rows:
        return Advice("Maker's figure", found.basis)
    if found.row is None:
        return Advice("Not listed", found.basis)
    if found.radius is None:
        return Advice("Not to be bent", why)
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

# --- dash sizes ------------------------------------------------------------------------------

_BY_DASH = ("wire_braid", "ptfe_braid", "nylon_braid", "push_on", "ptfe_convoluted")


def _sold_as(number: int) -> tuple[str, ...]:
    """Write a dash size as a row: the tube, and the bore that each kind really has."""
    found = {
        kind: {size.number: size for size in dash_sizes(kind)}.get(number) for kind in _BY_DASH
    }
    bores_in_mm = (f"{size.bore * 1000.0:.1f} mm" if size else "–" for size in found.values())
    return f"-{number}", f"{_bore_name(number / 16)}", *bores_in_mm


DASH_SIZES = ListView(
    "Dash sizes and the bores they really have",
    ("Dash", "Tube", "Wire braid", "PTFE, smooth", "Nylon braid", "Push-on", "PTFE, convoluted"),
    tuple(_sold_as(size.number) for size in dash_sizes() if 4 <= size.number <= 32),
    note="A dash number is the outside diameter, in sixteenths of an inch, of the tube that the "
    "fittings fit; the bore is its own matter. Wire braid from FAA AC 43.13-1B, table 9-3; the "
    "others as marked in Basis. Measure a cut end.",
)

LOOKUP = Lookup(
    key="hose-bend",
    title="Hose bend",
    short="Hose bend",
    question="Is this bend too tight for the hose, and how long must it be cut?",
    stage="plumb",
    quick=True,
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "Radius by chord and rise",
                "inside_radius",
                "rise",
                (10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 75.0),
                "chord",
                (100.0, 150.0, 200.0, 250.0, 300.0),
            ),
            ChartView(
                "Minimum radius by bore and hose",
                "listed_radius",
                "bore",
                BORES,
                "hose_kind",
                tuple(kind.key for kind in hose_kinds() if kind.rows),
            ),
        ),
        advice=(BASIS,),
        lists=(DASH_SIZES,),
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
        "Rules of so many bores: convoluted PTFE 4, wire helix 6, hose without a helix 8, push-on "
        "10: common practice. Outer braid, bores: FAA AC 43.13-1B, table 9-3.",
        "Slack 5 to 8 %: NAVEDTRA 14105, chapter 5. Shrinking under pressure: FAA AC 43.13-1B, "
        "figure 9-9.",
    ),
    leaves_out=(
        "Bends in two planes and twist: a twisted hose fails sooner than a tight one.",
        "A hose already oval or flattened: it is past its minimum, whatever the rule says.",
        "Heat, age, pressure and vacuum: a suction hose wants a helix.",
        "The loss of pressure in the bend: see the page of a hose run.",
    ),
)
