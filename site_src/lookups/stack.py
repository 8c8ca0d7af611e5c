"""Bracket stack: what spacers and plates add up to, and the shim that brings the pulley in plane.

Sums over a list of parts, the root of a sum of squares, and one table: the offset that an angle
allows over a span.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from calc import stack as calc
from calc.belts import offset_for_angle
from calc.domain import Real
from site_src.data.belts import alignment_limits
from site_src.lookups import belt
from site_src.model.answers import Answer, Band, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Parts, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import greatest, tabulated, within

MOST_SHIM = 0.05
"""Thickest shim, or metal taken off, that is still called one, m."""

NEAR_OFFSET = 0.8
"""Share of the allowed offset from which a stack is called near it."""

_NO_PARTS = "There is no part to add up. Enter at least one."
_TOO_SHORT = (
    "The stack falls short by more than [50 mm|2 in]: that is no shim. A part is missing, or one "
    "that "
    "adds is entered as taking away."
)
_TOO_LONG = (
    "The stack is too long by more than [50 mm|2 in]: no part can be faced down so far. A part is "
    "entered "
    "twice, or one that takes away is entered as adding."
)


# --- tables ----------------------------------------------------------------------------------


def _slope(angle: Real) -> Real:
    """Offset over span at an angle."""
    return offset_for_angle(angle, 1.0)


TANGENT = tabulated(
    "tan",
    _slope,
    cubic("angle", "misalignment", math.radians(0.05), math.radians(1.0)),
    tolerance=1e-8,
    monotone=True,
    by=(offset_for_angle,),
)


# --- the calculation -------------------------------------------------------------------------


def _over_parts(e: Entries, each: Callable[[Entries], Real]) -> Real:
    """Add up over the parts, of which there must be one at least."""
    parts = e.total("stack_parts", lambda part: 1.0)
    return within(parts, 1.0, None, below=_NO_PARTS, gives=e.total("stack_parts", each))


def _signed(part: Entries, size: Real) -> Real:
    """Return what a size counts for in the stack."""
    return part.pick("sense", {"adds": size, "subtracts": -size})


def _mean(part: Entries) -> Real:
    """Return what a part counts for in the middle of its tolerances."""
    return _signed(part, calc.mean_size(part["nominal"], part["plus"], part["minus"]))


def _half_band(part: Entries) -> Real:
    """Return half a part's tolerance band."""
    return calc.half_band(part["plus"], part["minus"])


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out the stack, the shim for it, and how far out of plane the tolerances leave it."""
    stack = calc.Stack(
        nominal=_over_parts(e, lambda part: _signed(part, part["nominal"])),
        mean=_over_parts(e, _mean),
        worst_half_band=_over_parts(e, _half_band),
        rss_half_band=_over_parts(e, lambda part: _half_band(part) ** 2) ** 0.5,
    )
    least, most = stack.worst
    target = e["stack_target"]
    exact = calc.shim_for_plane(target, stack.mean)
    shim = within(exact, -MOST_SHIM, MOST_SHIM, below=_TOO_LONG, above=_TOO_SHORT)
    used = e.entered_or("fitted_shim", shim)
    left = calc.out_of_plane(target, stack.mean, used)
    left_out = greatest(left, -left)
    slope = TANGENT(e["alignment_limit"])
    allowed = slope * e["alignment_span"]
    return {
        "stack_nominal": stack.nominal,
        "stack_mean": stack.mean,
        "worst_half_band": stack.worst_half_band,
        "rss_half_band": stack.rss_half_band,
        "worst_least": least,
        "worst_most": most,
        "shim": shim,
        "used_shim": used,
        "left_out": left_out,
        "offset_rss": calc.largest_offset(left_out, stack.rss_half_band),
        "offset_worst": calc.largest_offset(left_out, stack.worst_half_band),
        "slope": slope,
        "offset_allowed": allowed,
        "offset_near": NEAR_OFFSET * allowed,
    }


# --- the page --------------------------------------------------------------------------------


def _tolerance(key: str, label: str, sign: str) -> Number:
    """Return the entry of a tolerance."""
    return Number(
        key,
        label,
        Scale("length", unit="mm", span=(0, 2), default=0.1, step=0.05),
        way_out="Enter a tolerance as a positive number, [2 mm|0.078 in] at most.",
        sign=sign,
    )


FIELDS = (
    Number(
        "stack_target",
        "Where the crank pulley's groove stands",
        Scale("length", unit="mm", span=(0, 880), default=87.2, step=0.1, inch=Inch(step=0.001)),
        measure="From the same engine face, to the first groove: depth gauge and straightedge.",
        way_out="Measure from the face that the first part sits on.",
        sign="S₀",
        first=True,
    ),
    Number(
        "fitted_shim",
        "Shim you fit",
        Scale("length", unit="mm", span=(0, 20), default=None, step=0.1),
        measure="From the packs you have. Leave empty for the exact one.",
        way_out="Over [20 mm|0.79 in] fit a spacer, and enter it as a part.",
        first=True,
    ),
    Parts(
        "stack_parts",
        "Parts from the engine's face to the pulley's first groove",
        (
            Number(
                "nominal",
                "Size",
                Scale(
                    "length", unit="mm", span=(0, 110), default=10, step=0.5, inch=Inch(step=0.001)
                ),
                measure="Micrometer or caliper.",
                way_out="Split a part that is longer, and give one half no tolerance.",
                sign="x",
            ),
            _tolerance("plus", "Tolerance above", "a"),
            _tolerance("minus", "Tolerance below", "b"),
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
        measure="The example is a bracket, a plate, a snout, less a recess.",
    ),
    replace(
        belt.LOOKUP.numbers["alignment_span"],
        measure="The shortest run into the pulley is the strictest.",
    ),
    belt.LOOKUP.numbers["alignment_limit"],
)

_size = partial(Answer, of="length", decimals={"mm": 2, "in": 3}, tolerance=1e-6, uncertainty=0.02)
"""Makes an answer that is a size of the stack."""

_in_plane = partial(Band, side="max", limit="offset_allowed", near="offset_near")
"""Makes the band that an offset is judged by."""

_length = partial(Working, of="length", unit="mm", decimals=2)

ANSWERS = (
    _size(
        "shim",
        "Shim that brings it in plane",
        rank="main",
        note="Negative: so much has to come off.",
        by=(calc.shim_for_plane,),
    ),
    _size(
        "offset_worst",
        "Out of plane, worst case",
        band=_in_plane(
            within="At worst {value} out of plane, {margin} under the limit.",
            near_words="At worst {value} out of plane, only {margin} under the limit: measure it "
            "when built.",
            beyond="At worst {value} out of plane, {margin} over the limit: measure it when "
            "built, and shim then.",
        ),
        rank="second",
        by=(calc.largest_offset,),
    ),
    _size(
        "offset_rss",
        "Out of plane, likely",
        band=_in_plane(
            within="Most likely within {value} of plane, {margin} under the limit.",
            near_words="Most likely within {value} of plane, only {margin} under the limit.",
            beyond="Likely up to {value} out of plane, {margin} over the limit: another shim, or "
            "closer tolerances.",
        ),
        rank="second",
        note="Nearly all assemblies lie within, if errors are independent; no promise for one.",
        by=(calc.largest_offset,),
    ),
    _size(
        "offset_allowed",
        "Out of plane allowed",
        tolerance=1e-4,
        uncertainty=0.1,
        rank="second",
        by=(offset_for_angle,),
    ),
    _size("stack_nominal", "Stack, nominal", by=(calc.combine,)),
    _size(
        "stack_mean",
        "Stack, mean",
        sign="S_m",
        note="Uneven tolerances move the middle away from the nominal.",
        by=(calc.mean_size, calc.combine),
    ),
    _size("worst_least", "Stack, shortest", by=(calc.combine,)),
    _size("worst_most", "Stack, longest", by=(calc.combine,)),
    _size("worst_half_band", "Either way, worst case", sign="h_w", by=(calc.half_band,)),
    _size(
        "rss_half_band",
        "Either way, likely",
        sign="h_r",
        by=(calc.half_band, calc.combine),
    ),
)

LOOKUP = Lookup(
    key="stack",
    title="Bracket stack",
    short="Stack",
    question="What shim brings the pulley in plane, and what do the tolerances leave?",
    stage="drive",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        _length("used_shim", "Shim reckoned with", sign="t"),
        _length("left_out", "What it leaves, before tolerances", sign="u", by=(calc.out_of_plane,)),
        Working("slope", "Offset allowed over span", decimals=5),
    ),
    cautions=(
        "Measure the built stack before the belt goes on: paint, burrs and bent plates are in no "
        "tolerance.",
        "Shims go under the whole face, all bolts through them; then check thread engagement.",
        "A bracket maker's own drawing and torque figures come first.",
    ),
    sources=(
        "Worst case: arithmetic. Likely, root-sum-square: independent errors add by their squares.",
        "Unequal tolerances moved to the middle of their band: arithmetic.",
        f"Angle allowed: {alignment_limits().ribbed.source}. Common practice.",
    ),
    leaves_out=(
        "Tilt of the faces, and bending of the bracket under the belt's pull.",
        "Paint, burrs, and gaskets that settle.",
        "Likely takes every part's error as independent and centred.",
    ),
)
