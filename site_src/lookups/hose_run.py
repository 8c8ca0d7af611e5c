"""Hose run: several bends and straights to one length to cut, and an offset with its template.

Sums over the list of bends. How tight a hose may be bent, and how thick it is, are worked out as on
the page of one bend.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from calc import hoses as calc
from calc.domain import Real
from site_src.data.hoses import INCH
from site_src.lookups import hose_bend
from site_src.model.answers import Answer, Band, ChartView, ProcedureView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Number, Parts, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import choose, greatest, least, tabulated, within

SUPPORTS = 24.0 * 0.0254
"""Most between two clips, m. NAVEDTRA 14105, chapter 5."""

QUARTER_SINE = math.sqrt(0.5)
"""Sine of half a quarter turn: beyond it an offset has a straight between its bends."""

BORES = {key: bore * INCH for key, bore in zip(hose_bend.BORES, hose_bend.bores(), strict=True)}

_TOO_LONG = (
    "Over [20 m|66 ft] of bends: no hose run of a truck. Check radii and turns, and their units."
)

HALF_TURN = tabulated(
    "turn_from_half_sine",
    calc.half_turn_angle,
    cubic("sine", "sine of half the turn", 0.0, 0.75),
    tolerance=1e-5,
    monotone=True,
    numbers="f4",
    by=(calc.half_turn_angle,),
)
QUARTER = tabulated(
    "quarter_turn_bores",
    calc.quarter_turn_bores,
    linear("radius", "centreline radius over bore", *calc.BEND_RADII),
    tolerance=1e-9,
    by=(calc.quarter_turn_bores,),
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out the length to cut, what is too tight, what the bends lose, and the offset."""
    hose = hose_bend.hose_used(e)
    limits = hose_bend.minimum_by_basis(e, hose["listed_radius"])
    found = {**hose, **_length(e, hose["hose_diameter"])}
    found |= _tight(e, limits)
    found |= _losses(e, hose["hose_diameter"])
    return found | _offset(e, hose)


def _length(e: Entries, diameter: Real) -> dict[str, Real]:
    """Work out the length to cut, and what pressure does to it."""

    def arc(bend: Entries) -> Real:
        """Return the length of one bend on its centreline."""
        centre = calc.radius_at_face(
            bend["run_radius"], calc.INSIDE_FACE, calc.CENTRELINE, diameter
        )
        return calc.arc_length(centre, bend["run_turn"])

    arcs = within(e.total("runs", arc), None, 20.0, above=_TOO_LONG)
    straights = e.total("runs", lambda bend: bend["run_straight"]) + e["last_straight"]
    flexible = arcs + straights
    shortest = calc.pressurised_length(flexible, calc.SHORTEST_UNDER_PRESSURE)
    slack = flexible * e["slack"]
    return {
        "arcs": arcs,
        "straights": straights,
        "flexible": flexible,
        "run_length": calc.length_to_cut(arcs, straights, e["slack"], e["insertion"]),
        "slack_length": slack,
        "slack_near": slack * (-calc.SHORTEST_UNDER_PRESSURE / calc.LEAST_SLACK),
        "pulls_in": flexible - shortest,
        "slack_most": flexible * calc.MOST_SLACK,
        "turns": e.total("runs", lambda bend: bend["run_turn"]),
        "supports": flexible / SUPPORTS,
    }


def _tight(e: Entries, limits: Mapping[str, Real]) -> dict[str, Real]:
    """Count the bends that are tighter than the hose may be bent."""

    def under(least_radius: Real) -> Real:
        """Return how many are tighter than that."""
        return e.total("runs", lambda bend: choose(bend["run_radius"], least_radius, 1.0, 0.0))

    near = hose_bend.NEAR_FACTOR
    return {
        "stated_minimum": limits["stated"],
        "rule_minimum": limits["rule"],
        "tight_bends": under(limits["stated"]),
        "close_bends": under(near * limits["stated"]),
        "ruled_bends": under(limits["rule"]),
    }


def _losses(e: Entries, diameter: Real) -> dict[str, Real]:
    """Work out what the bends lose, and what moulded elbows would, as straight hose."""
    bore = e.pick("bore", BORES)
    elbow = float(calc.quarter_turn_bores(1.0))

    def lost(bend: Entries) -> Real:
        """Return what one bend loses, in bores."""
        ratio = (bend["run_radius"] + 0.5 * diameter) / bore
        ratio = least(greatest(ratio, calc.BEND_RADII[0]), calc.BEND_RADII[-1])
        return calc.bend_bores(QUARTER(ratio), ratio, bend["run_turn"])

    return {
        "run_bore": bore,
        "bends_as_straight": e.total("runs", lost) * bore,
        "elbows_as_straight": e.total(
            "runs", lambda bend: calc.bend_bores(elbow, 1.0, bend["run_turn"])
        )
        * bore,
    }


def _offset(e: Entries, hose: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the shortest way to the side without going under the least radius."""
    inside = e.entered_or("offset_radius", hose["minimum_radius"])
    radius = calc.radius_at_face(inside, calc.INSIDE_FACE, calc.CENTRELINE, hose["hose_diameter"])
    aside = e["offset"]
    bent = least(aside, 2.0 * radius)
    sine = least(calc.offset_half_turn(bent, radius), QUARTER_SINE)
    turn = HALF_TURN(sine)
    between = greatest(aside - 2.0 * radius, 0.0)
    return {
        "offset_inside": inside,
        "offset_centre": radius,
        "offset_bent": bent,
        "offset_turn": turn,
        "offset_between": between,
        "offset_run": calc.offset_length(bent, radius),
        "offset_hose": 2.0 * calc.arc_length(radius, turn) + between,
    }


# --- the page --------------------------------------------------------------------------------

_ONE = hose_bend.LOOKUP
_mm = partial(Scale, "length", "mm")
_OFFSET = "Offset, and its template"

FIELDS = (
    replace(_ONE.choices["hose_kind"]),
    replace(_ONE.choices["bore"]),
    Parts(
        "runs",
        "Bends in their order, from one end",
        (
            Number(
                "run_straight",
                "Straight before it",
                _mm(span=(0, 2000), default=100, step=10),
                way_out="Longer runs: cut over length and trim in place.",
                sign="S_each",
            ),
            Number(
                "run_radius",
                "Inside radius",
                _mm(span=(10, 600), default=150, step=5),
                way_out="Under [10 mm|0.39 in] it is a kink; over [600 mm|24 in] as good as a "
                "straight.",
                sign="R_each",
            ),
            Number(
                "run_turn",
                "Turn",
                Scale("angle", unit="deg", span=(5, 180), default=90, step=5),
                way_out="Enter more than half a turn as two bends.",
                sign="θ_each",
            ),
        ),
        most=6,
        default=(
            {"run_straight": 120.0, "run_radius": 180.0, "run_turn": 90.0},
            {"run_straight": 300.0, "run_radius": 180.0, "run_turn": 45.0},
            {"run_straight": 200.0, "run_radius": 180.0, "run_turn": 45.0},
        ),
        measure="A wire laid along the way, a straightedge and a rule on each bend: the hose bend "
        "page makes its radius of chord and rise.",
        example="Enter your own bends.",
    ),
    replace(
        _ONE.numbers["straight_after"],
        key="last_straight",
        label="Straight after the last bend",
        first=True,
    ),
    _ONE.numbers["makers_radius"],
    _ONE.numbers["outside_diameter"],
    _ONE.numbers["slack"],
    _ONE.numbers["insertion"],
    Number(
        "offset",
        "To the side",
        _mm(span=(5, 800), default=60, step=5),
        measure="From centreline to centreline, both ends pointing the same way.",
        way_out="[5 to 800 mm|0.2 to 31 in].",
        sign="h",
        group=_OFFSET,
    ),
    Number(
        "offset_radius",
        "Inside radius you bend it to",
        _mm(span=(10, 600), default=None, step=5),
        measure="Empty: the minimum of this hose, the tightest there is. More is better.",
        way_out="[10 to 600 mm|0.4 to 23 in].",
        sign="R_entered",
        group=_OFFSET,
    ),
)

_length_answer = partial(
    Answer, of="length", decimals={"mm": 0, "in": 1}, tolerance=0.05, uncertainty=10.0
)


def _count(key: str, label: str, band: Band, note: str = "") -> Answer:
    """Return a count of bends."""
    return Answer(
        key,
        label,
        decimals={"": 0},
        tolerance=1e-9,
        uncertainty=0.1,
        band=band,
        note=note,
        optional=True,
        rank="second",
    )


def _run(key: str, label: str, note: str, *by: Callable[..., Real]) -> Answer:
    """Return a length of straight hose."""
    return Answer(
        key,
        label,
        of="run",
        decimals={"m": 2, "ft": 1},
        tolerance=1e-3,
        uncertainty=0.3,
        note=note,
        by=by,
    )


ANSWERS = (
    _length_answer(
        "run_length",
        "Length to cut",
        sign="L",
        rank="main",
        note="Slack and both ends included. Cut a little over, offer it up, trim.",
        by=(calc.length_to_cut,),
    ),
    _count(
        "tight_bends",
        "Bends under the minimum",
        Band(
            side="max",
            limit=0.0,
            near=0.0,
            within="No bend is tighter than this hose may be bent.",
            near_words="No bend is tighter than this hose may be bent.",
            beyond="Bends that are tighter than this hose may be bent: {value}. Open them, take "
            "another way, or fit a moulded elbow.",
        ),
        "By the maker's figure or a table.",
    ),
    _count(
        "ruled_bends",
        "Bends under the rule of the trade",
        Band(
            side="max",
            # A rule of the trade can call for a look, but condemns no hose.
            limit=99.0,
            near=0.0,
            within="No bend is tighter than the rule asks.",
            near_words="Bends tighter than the rule asks: {value}. Look for flattening, warm.",
            beyond="No run has so many bends.",
        ),
        "For kinds without a figure of their own; its maker's figure settles it.",
    ),
    _length_answer(
        "pulls_in",
        "Pressure may shorten it by",
        uncertainty=10.0,
        rank="second",
        by=(calc.pressurised_length,),
        band=Band(
            side="max",
            limit="slack_length",
            near="slack_near",
            within="Pressure may shorten it by {value}; you leave {limit} of slack.",
            near_words="Pressure may shorten it by {value}, and you leave {limit} of slack: little "
            "is left for an engine that rocks.",
            beyond="Pressure may shorten it by {value}, more than the {limit} of slack: it would "
            "pull on its ends.",
        ),
    ),
    _length_answer("offset_run", "Shortest way for that offset", by=(calc.offset_length,)),
    _length_answer("offset_hose", "Hose in the offset", by=(calc.half_turn_angle, calc.arc_length)),
    _length_answer("offset_between", "Straight between its bends"),
    Answer(
        "offset_turn",
        "Turn of each of its bends",
        of="angle",
        decimals={"deg": 0},
        tolerance=0.01,
        uncertainty=3.0,
        by=(calc.offset_half_turn, calc.half_turn_angle),
    ),
    _run(
        "bends_as_straight",
        "Bends lose as much as straight hose of",
        "The hose in them included. Crane TP 410, as restated; a bend under 1 or over 20 bores "
        "round is counted as one of 1 or 20.",
        calc.bend_bores,
    ),
    _run(
        "elbows_as_straight",
        "Moulded elbows in their place",
        "Elbows as tight as their bore: more loss than an open bend, less than a kinked one. Add "
        "the hose that they save.",
        calc.bend_bores,
    ),
    _length_answer("flexible", "Bends and straights", sign="L_f"),
    _length_answer("arcs", "Of it in bends", by=(calc.radius_at_face, calc.arc_length)),
    Answer(
        "supports",
        "Clips, round up",
        decimals={"": 1},
        tolerance=1e-6,
        uncertainty=0.5,
        note="One at least every [610 mm|24 in] (NAVEDTRA 14105), more where it shakes.",
    ),
    _length_answer("slack_most", "Most slack that is usual", note="8 %: more sags and chafes."),
    _length_answer("minimum_radius", "Minimum radius", sign="R_min"),
)

_on_the_way = partial(Working, of="length", unit="mm", decimals=1)

WORKINGS = (
    _on_the_way("listed_radius", "Listed minimum for this kind and bore"),
    _on_the_way("hose_diameter", "Outside diameter used", sign="d"),
    _on_the_way("run_bore", "Bore", sign="D"),
    _on_the_way("straights", "Straights together", decimals=0),
    _on_the_way("slack_length", "Slack left", decimals=0),
    _on_the_way("stated_minimum", "Minimum of the maker or a table", sign="R_stated"),
    _on_the_way("rule_minimum", "Minimum by the rule", sign="R_rule_min"),
    Working("close_bends", "Bends within a tenth of the minimum or under it", decimals=0),
    Working("turns", "All turns together", of="angle", unit="deg", decimals=0),
    _on_the_way("offset_inside", "Inside radius of the offset"),
    _on_the_way("offset_centre", "Centreline radius of the offset", sign="R_c"),
    _on_the_way("offset_bent", "Of it to the side in the bends", sign="h_b"),
)

LOOKUP = Lookup(
    key="hose-run",
    title="Hose run",
    short="Hose run",
    question="How long a hose do these bends take, and is one of them too tight?",
    stage="plumb",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "Offset: shortest way and hose",
                "offset_run",
                "offset",
                (20.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0, 300.0),
                also=("offset_hose", "offset_turn"),
            ),
        ),
        procedures=(
            ProcedureView(
                "Clearances to keep",
                (
                    "[150 mm|6 in] from exhaust, or a heat shield and a sleeve; what is too hot "
                    "for a "
                    "hand is too hot for a hose. Common practice.",
                    "[25 mm|1 in] from anything that moves, with engine rocked and suspension at "
                    "both "
                    "ends of its travel; [75 mm|3 in] from belt and fan. Common practice.",
                    "[12 mm|1/2 in] from edges and bolt heads, or a sleeve; a grommet at every "
                    "hole. Common "
                    "practice.",
                    "Fuel never over exhaust or beside the battery's feed; clips of their own.",
                    "One diameter straight behind each end before a bend begins; no clamp on the "
                    "bend itself.",
                ),
            ),
        ),
    ),
    cautions=(
        "The hose maker's minimum and pressure rating overrule this page. Fuel, brake and "
        "air-conditioning hoses: only as their makers and local rules allow.",
        "Print the template at 100 % and lay a rule on its bar before you trust it.",
        "Let the loop cool before opening a hose: hot coolant under pressure scalds.",
        "Under the truck: on stands, never on a jack alone.",
    ),
    sources=(
        "Arc and offset: geometry. Minimum radius on the inside of the bend: EN 853:2015, 6.2, by "
        "kind as on the hose bend page.",
        "Slack 5 to 8 % and clips: NAVEDTRA 14105, chapter 5. Under pressure +2 to −4 %: FAA AC "
        "43.13-1B, figure 9-9.",
        "Loss of bends: Crane TP 410, page A-29, as restated.",
    ),
    leaves_out=(
        "Bends in two planes: the length holds, twist does not show.",
        "A bend that flattens loses far more than one that doesn't.",
        "Bends close behind each other lose less than their sum.",
    ),
)
