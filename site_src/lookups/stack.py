"""Bracket stack: what spacers and plates add up to, and the shim that brings the pulley in plane.

Sums over a list of parts, the root of a sum of squares, and one table: the offset that an angle
allows over a span.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calc import stack as calc
from calc.belts import offset_for_angle
from calc.domain import Real
from site_src.data.belts import alignment_limits
from site_src.lookups import belt
from site_src.model.answers import Answer, Band, Views, Working
from site_src.model.fields import Choice, Number, Option, Parts
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic, linear
from site_src.tables.recipe import First, Look, Over, Pick, Product, Sum, greatest

Floats = NDArray[np.float64]

MOST_SHIM = 0.05
"""Thickest shim, or metal taken off, that is still called one, m."""

NEAR_OFFSET = 0.8
"""Share of the allowed offset from which a stack is called near it."""

EDGE = 1e-9
"""How far inside the calculation's own limits the recipe falls silent."""


# --- the direct calculation ------------------------------------------------------------------


def _parts(rows: list[dict[str, float | str]]) -> list[calc.Part]:
    """Return a list of parts as the calculation takes them."""
    return [
        calc.Part(
            f"part {number}",
            float(row["nominal"]),
            float(row["plus"]),
            float(row["minus"]),
            1 if row["sense"] == "adds" else -1,
        )
        for number, row in enumerate(rows, 1)
    ]


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    rows = given["stack_parts"]
    assert isinstance(rows, list)
    stack = calc.combine(_parts(rows))
    target, fitted, span, limit = (
        np.asarray(given[key], dtype=np.float64)
        for key in ("stack_target", "fitted_shim", "alignment_span", "alignment_limit")
    )
    same = np.ones(target.shape)
    shim = np.asarray(calc.shim_for_plane(target, stack.mean))
    thin = np.abs(shim) <= MOST_SHIM
    used = np.where(np.isnan(fitted), np.where(thin, shim, 0.0), fitted)
    usable = thin | ~np.isnan(fitted)

    def offset(half_band: float) -> Floats:
        found = calc.largest_offset(target, stack.mean, used, half_band)
        return np.where(usable, found, np.nan)

    return {
        "shim": np.where(thin, shim, np.nan),
        "offset_rss": offset(stack.rss_half_band),
        "offset_worst": offset(stack.worst_half_band),
        "offset_allowed": np.asarray(offset_for_angle(limit, span)),
        "stack_nominal": stack.nominal * same,
        "stack_mean": stack.mean * same,
        "worst_half_band": stack.worst_half_band * same,
        "rss_half_band": stack.rss_half_band * same,
        "worst_least": stack.worst[0] * same,
        "worst_most": stack.worst[1] * same,
    }


# --- tables and recipe -----------------------------------------------------------------------


def _slope(angle: Real) -> Real:
    """Offset over span at an angle."""
    return offset_for_angle(angle, 1.0)


def _same(value: Real) -> Real:
    """Return what it is given: a table of it is a range check."""
    return value


TABLES = (
    TableSpec(
        "angle_slope",
        _slope,
        (cubic("angle", "misalignment", math.radians(0.05), math.radians(1.0)),),
        tolerance=1e-8,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "stack_shim",
        _same,
        (linear("value", "shim", -MOST_SHIM + EDGE, MOST_SHIM - EDGE),),
        1e-12,
        numbers="f8",
    ),
)

_TOO_SHORT = (
    "The stack falls short by more than 50 mm: that is no shim. A part is missing, or one that "
    "adds is entered as taking away."
)
_TOO_LONG = (
    "The stack is too long by more than 50 mm: no part can be faced down so far. A part is entered "
    "twice, or one that takes away is entered as adding."
)


def _over(name: str, *steps: Pick | Product | Sum) -> Over:
    """Add up over the parts what the last of some steps gives."""
    return Over(name, "stack_parts", steps, steps[-1].name)


_SIGN = Pick("sign", "sense", (("adds", 1.0), ("subtracts", -1.0)))
_HALF_BAND = Sum("half_band", (("plus", 0.5), ("minus", 0.5)))

STEPS = (
    _over("stack_nominal", _SIGN, Product("signed", (("sign", 1.0), ("nominal", 1.0)))),
    _over(
        "stack_mean",
        _SIGN,
        Sum("middle", (("nominal", 1.0), ("plus", 0.5), ("minus", -0.5))),
        Product("signed", (("sign", 1.0), ("middle", 1.0))),
    ),
    _over("worst_half_band", _HALF_BAND),
    _over("squares", _HALF_BAND, Product("square", (("half_band", 2.0),))),
    Product("rss_half_band", (("squares", 0.5),)),
    Sum("worst_least", (("stack_mean", 1.0), ("worst_half_band", -1.0))),
    Sum("worst_most", (("stack_mean", 1.0), ("worst_half_band", 1.0))),
    Sum("any_shim", (("stack_target", 1.0), ("stack_mean", -1.0))),
    Look(
        "shim",
        "stack_shim",
        ("any_shim",),
        below=(("value", _TOO_LONG),),
        above=(("value", _TOO_SHORT),),
    ),
    First("used_shim", ("fitted_shim", "shim")),
    Sum("left_over", (("stack_mean", 1.0), ("used_shim", 1.0), ("stack_target", -1.0))),
    Product("left_short", (("left_over", 1.0),), times=-1.0),
    greatest("left_out", "left_over", "left_short"),
    Sum("offset_rss", (("left_out", 1.0), ("rss_half_band", 1.0))),
    Sum("offset_worst", (("left_out", 1.0), ("worst_half_band", 1.0))),
    Look("slope", "angle_slope", ("alignment_limit",)),
    Product("offset_allowed", (("slope", 1.0), ("alignment_span", 1.0))),
    Product("offset_near", (("offset_allowed", 1.0),), times=NEAR_OFFSET),
)


# --- the page --------------------------------------------------------------------------------


def _tolerance(key: str, label: str) -> Number:
    """Return the entry of a tolerance."""
    return Number(
        key,
        label,
        Scale("length", unit="mm", span=(0, 2), default=0.1, step=0.05),
        way_out="Enter a tolerance as a positive number, 2 mm at most.",
    )


FIELDS = (
    Number(
        "stack_target",
        "Where the crank pulley's groove stands",
        Scale("length", unit="mm", span=(0, 880), default=87.2, step=0.1),
        measure="From the same engine face, to the first groove: depth gauge and straightedge.",
        way_out="Measure from the face that the first part sits on.",
        first=True,
    ),
    Number(
        "fitted_shim",
        "Shim you fit",
        Scale("length", unit="mm", span=(0, 20), default=None, step=0.1),
        measure="From the packs you have. Leave empty for the exact one.",
        way_out="Over 20 mm fit a spacer, and enter it as a part.",
        first=True,
    ),
    Parts(
        "stack_parts",
        "Parts from the engine's face to the pulley's first groove",
        (
            Number(
                "nominal",
                "Size",
                Scale("length", unit="mm", span=(0, 110), default=10, step=0.5),
                measure="Micrometer or caliper.",
                way_out="Split a part that is longer, and give one half no tolerance.",
            ),
            _tolerance("plus", "Tolerance above"),
            _tolerance("minus", "Tolerance below"),
            Choice(
                "sense",
                "This part",
                (Option("adds", "Adds"), Option("subtracts", "Takes away")),
                "adds",
            ),
        ),
        most=8,
        default=(
            {"nominal": 42.0, "plus": 0.1, "minus": 0.1, "sense": "adds"},
            {"nominal": 12.0, "plus": 0.2, "minus": 0.0, "sense": "adds"},
            {"nominal": 38.5, "plus": 0.15, "minus": 0.15, "sense": "adds"},
            {"nominal": 6.0, "plus": 0.05, "minus": 0.05, "sense": "subtracts"},
        ),
        measure="Ours is invented: a bracket, a plate, a snout, less a recess.",
    ),
    replace(
        belt.LOOKUP.numbers["alignment_span"],
        measure="The shortest run into the pulley is the strictest.",
    ),
    belt.LOOKUP.numbers["alignment_limit"],
)

_SIZE = {"mm": 2, "in": 3}


def _size(key: str, label: str, formula: str, filled: str, note: str = "") -> Answer:
    """Return an answer that is a size of the stack."""
    return Answer(
        key, label, of="length", decimals=_SIZE, tolerance=1e-6, uncertainty=0.02, note=note
    )


ANSWERS = (
    Answer(
        "shim",
        "Shim that brings it in plane",
        of="length",
        decimals=_SIZE,
        tolerance=1e-6,
        uncertainty=0.02,
        rank="main",
        note="Negative: so much has to come off.",
    ),
    Answer(
        "offset_worst",
        "Out of plane, worst case",
        of="length",
        decimals=_SIZE,
        tolerance=1e-6,
        uncertainty=0.02,
        band=Band(
            side="max",
            limit="offset_allowed",
            near="offset_near",
            within="At worst {value} out of plane, {margin} under the limit.",
            near_words="At worst {value} out of plane, only {margin} under the limit: measure it when built.",
            beyond="At worst {value} out of plane, {margin} over the limit: measure it when built, and "
            "shim then.",
        ),
        rank="second",
    ),
    Answer(
        "offset_rss",
        "Out of plane, root-sum-square",
        of="length",
        decimals=_SIZE,
        tolerance=1e-6,
        uncertainty=0.02,
        band=Band(
            side="max",
            limit="offset_allowed",
            near="offset_near",
            within="Most likely within {value} of plane, {margin} under the limit.",
            near_words="Most likely within {value} of plane, only {margin} under the limit.",
            beyond="Likely up to {value} out of plane, {margin} over the limit: another shim, or closer "
            "tolerances.",
        ),
        rank="second",
        note="Nearly all assemblies lie within, if errors are independent; no promise for one.",
    ),
    Answer(
        "offset_allowed",
        "Out of plane allowed",
        of="length",
        decimals=_SIZE,
        tolerance=1e-4,
        uncertainty=0.1,
        rank="second",
    ),
    _size(
        "stack_nominal",
        "Stack, nominal",
        "Σ sizes, those that take away counted negative",
        "= {stack_nominal}",
    ),
    _size(
        "stack_mean",
        "Stack, mean",
        "Σ sizes, each in the middle of its tolerances",
        "= {stack_mean}",
        note="Uneven tolerances move the middle away from the nominal.",
    ),
    _size(
        "worst_least",
        "Stack, shortest",
        "mean − Σ half tolerance bands",
        "{stack_mean} − {worst_half_band} = {worst_least}",
    ),
    _size(
        "worst_most",
        "Stack, longest",
        "mean + Σ half tolerance bands",
        "{stack_mean} + {worst_half_band} = {worst_most}",
    ),
    _size(
        "worst_half_band",
        "Either way, worst case",
        "Σ half tolerance bands",
        "= {worst_half_band}",
    ),
    _size(
        "rss_half_band",
        "Either way, root-sum-square",
        "√Σ (half tolerance band)²",
        "= {rss_half_band}",
    ),
)

LOOKUP = Lookup(
    key="stack",
    title="Bracket stack",
    short="Stack",
    question="What shim brings the pulley in plane, and what do the tolerances leave?",
    stage="drive",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("used_shim", "Shim reckoned with", of="length", unit="mm", decimals=2),
        Working(
            "left_out", "What it leaves, before tolerances", of="length", unit="mm", decimals=2
        ),
        Working("slope", "tan(angle allowed)", of="ratio", unit="", decimals=5),
    ),
    views=Views(),
    cautions=(
        "Measure the built stack before the belt goes on: paint, burrs and bent plates are in no "
        "tolerance.",
        "Shims go under the whole face, all bolts through them; then check thread engagement.",
        "A bracket maker's own drawing and torque figures come first.",
    ),
    sources=(
        "Worst case: arithmetic. Root-sum-square: independent errors add by their squares.",
        "Unequal tolerances moved to the middle of their band: arithmetic.",
        f"Angle allowed: {alignment_limits().ribbed.source}. Common practice.",
    ),
    leaves_out=(
        "Tilt of the faces, and bending of the bracket under the belt's pull.",
        "Paint, burrs, and gaskets that settle.",
        "Root-sum-square takes every part's error as independent and centred.",
    ),
)
