"""Whether a pulley runs in the plane of another, from two gaps at a straightedge.

A part of the belt's page: entries, calculation, answers and workings.
"""

from __future__ import annotations

import math
from functools import partial

from calc import belts as calc
from calc.domain import Real
from site_src.data.belts import alignment_limits
from site_src.model.answers import Answer, Band, Working
from site_src.model.entries import Entries
from site_src.model.fields import Field, Number, Scale
from site_src.tables.compiler import cubic
from site_src.tables.trace import greatest, tabulated

ALIGNMENT = alignment_limits()

NEAR_ANGLE = 0.8
"""Share of the alignment limit from which a drive is called near it."""


def _gap_angle(slope: Real) -> Real:
    """Angle of a gap over a distance."""
    distance = 0.2
    return calc.misalignment_angle(slope * distance, distance)


ARCTAN = tabulated(
    "arctan",
    _gap_angle,
    cubic("slope", "gap over distance", 0.0, 0.25),
    tolerance=1e-6,
    monotone=True,
    numbers="f4",
    by=(calc.misalignment_angle,),
)


def reckon(e: Entries) -> dict[str, Real]:
    """Work out offset and misalignment from the straightedge."""
    offset = calc.offset_from_gaps(e["gap_near"], e["gap_far"], e["rim_difference"])
    growth = e["gap_far"] - e["gap_near"]
    offset_angle = ARCTAN(greatest(offset, -offset) / e["alignment_span"])
    tilt_angle = ARCTAN(greatest(growth, -growth) / e["gap_distance"])
    return {
        "plane_offset": offset,
        "offset_angle": offset_angle,
        "tilt_angle": tilt_angle,
        "misalignment": offset_angle + tilt_angle,
        "misalignment_near": NEAR_ANGLE * e["alignment_limit"],
    }


_LIMIT = round(math.degrees(ALIGNMENT.ribbed.value), 6)
_GAP = Scale("length", unit="mm", span=(-5, 5), default=None, step=0.1)
_RULE_AND_FEELER = "Straightedge on the crank pulley's rim; feeler or rule at the blower pulley's."
_FAR_OUT = "So far out it can be seen: bring the bracket near first."

FIELDS: tuple[Field, ...] = (
    Number(
        "gap_near",
        "Gap at the rim's near edge",
        _GAP,
        sign="g₁",
        measure=f"{_RULE_AND_FEELER} Negative if it stands proud. Leave empty if not measured.",
        way_out=_FAR_OUT,
    ),
    Number(
        "gap_far",
        "Gap at the rim's far edge",
        _GAP,
        sign="g₂",
        measure="The same on the other side of the blower pulley.",
        way_out=_FAR_OUT,
    ),
    Number(
        "gap_distance",
        "Between the two gaps",
        Scale("length", unit="mm", span=(60, 300), default=90, step=5),
        sign="b",
        measure="The pulley's diameter, if read at its edges.",
        way_out="Read the gaps farther apart.",
    ),
    Number(
        "rim_difference",
        "Rims unlike",
        Scale("length", unit="mm", span=(-5, 5), default=0, step=0.1),
        sign="u",
        measure="Rim to first groove on the crank pulley less the same on the blower's.",
        way_out="Measure from rim to first groove on both.",
    ),
    Number(
        "alignment_span",
        "Free belt between the two pulleys",
        Scale("length", unit="mm", span=(50, 1500), default=300, step=10),
        sign="L",
        measure="The shortest run into the blower pulley is the strictest.",
        way_out="Measure the free run, from contact to contact.",
    ),
    Number(
        "alignment_limit",
        "Misalignment allowed",
        Scale("angle", unit="deg", span=(0.05, 1), default=_LIMIT, step=0.05),
        sign="α",
        measure=ALIGNMENT.ribbed.origin,
        way_out="Ribbed belts stand little; ask the belt's maker.",
    ),
)

ANSWERS = (
    Answer(
        "misalignment",
        "Misalignment",
        of="angle",
        by=(calc.combined_misalignment,),
        decimals={"deg": 2},
        tolerance=5e-4,
        uncertainty=0.05,
        band=Band(
            side="max",
            limit="alignment_limit",
            near="misalignment_near",
            within="Out by {value}, {margin} under the limit.",
            near_words="Out by {value}, only {margin} under the limit.",
            beyond="Out by {value}, {margin} over the limit: shim the bracket, or square it up.",
        ),
        optional=True,
    ),
    Answer(
        "plane_offset",
        "Blower pulley behind the crank's plane",
        of="length",
        sign="d",
        by=(calc.offset_from_gaps,),
        decimals={"mm": 1, "in": 3},
        tolerance=1e-6,
        uncertainty=0.2,
        note="Negative: it stands before it.",
        optional=True,
    ),
)

_angle = partial(Working, of="angle", unit="deg", decimals=2)

WORKINGS = (
    _angle("offset_angle", "Angle of the offset", sign="α₁"),
    _angle("tilt_angle", "Angle of the tilt", sign="α₂"),
)
