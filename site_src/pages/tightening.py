"""Tightening map: which bolt next, and what to dial in, pass by pass.

The maker's order comes first, and the bolts bear the numbers of his sheet. Where he gives none, the
phone works one out by static/js/bolts/order.js, which does what calc/tightening.py does, step by
step. What is dialled in comes from the torque page's own recipe, and so does the judgement of the
torque: none is ever assumed. An angle can be read by static/js/bolts/turn.js, as calc/turning.py
does it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import degrees, radians

from calc import tightening, turning
from site_src.face.form import form_context
from site_src.lookups import sheets, torque
from site_src.model.fields import Choice, Field, Number, Option, Parts, Scale
from site_src.model.page import Page
from site_src.pages import makers_figures

MOST_ROWS, MOST_COLUMNS = 4, 12
FEWEST_AROUND, MOST_AROUND = 3, 24
MOST_STAGES = 10
UNPICKED = ""
"""Default of a choice that the user has to make himself; nothing is taken for it."""

REASONS = {
    "maker": "The maker's own order, and the bolts bear the numbers of his sheet.",
    "grid": "From the centre outward, each next bolt on the far side, so that the face is drawn "
    "down flat and nothing is trapped in the middle.",
    "row": "From the middle outward, side to side, so that the strip is drawn down flat.",
    "circle": "Crosswise: each bolt is followed by the one across, so that the flange stays square "
    "and the gasket is squeezed alike all around.",
    "places": "From the centre outward, ring by ring, each next bolt on the far side and never to "
    "a neighbour while that can be helped.",
}
"""Why the order is what it is, in one line."""


def _whole(key: str, label: str, low: int, high: int, default: int, kind: str) -> Number:
    """Return a field for a whole number of bolts."""
    return Number(
        key,
        label,
        Scale("ratio", unit="", span=(low, high), default=default, step=1),
        way_out="For anything else pick By place, and tap or type where the bolts are.",
        first=True,
        when=("pattern", (kind,)),
    )


def _of_torque_page(known: str, default: float | None = None, **changes: object) -> Number:
    """Return a field of the torque page, so that a set-up carries over by its link."""
    field = torque.LOOKUP.numbers[known]
    if default is not None:
        field = replace(field, scale=replace(field.scale, default=default))
    return replace(field, **changes)  # type: ignore[arg-type]


PATTERN_FIELDS: tuple[Field, ...] = (
    Choice(
        "pattern",
        "Pattern",
        (Option("grid", "Rows"), Option("circle", "Circle"), Option("places", "By place")),
        "grid",
        first=True,
    ),
    _whole("rows", "Rows", 1, MOST_ROWS, 2, "grid"),
    _whole("columns", "Bolts in a row", 1, MOST_COLUMNS, 5, "grid"),
    _whole("count", "Bolts around", FEWEST_AROUND, MOST_AROUND, 8, "circle"),
)


def _usual_stages() -> tuple[dict[str, float | str], ...]:
    """Return the rows that the form begins with: the usual shares and a check. Common practice."""
    rows: list[dict[str, float | str]] = [
        {"do": "share", "share": 100.0 * share} for share in tightening.USUAL_SHARES
    ]
    return (*rows, {"do": "check"})


ORDER_FIELDS: tuple[Field, ...] = (
    Choice(
        "order",
        "Order",
        (
            Option("tap", "The maker's: I tap it"),
            Option("type", "The maker's: I type it"),
            Option("worked", "The maker gives none: work one out"),
        ),
        UNPICKED,
        measure="The order of the sheet goes before any other, wherever it starts.",
        first=True,
    ),
)

_STATED = {field.key: field for field in sheets.TORQUE.fields if isinstance(field, Choice)}

BOLT_FIELDS: tuple[Field, ...] = (
    replace(
        _STATED["thread"],
        options=(*_STATED["thread"].options, Option("other", "Another: not judged")),
        default=UNPICKED,
    ),
    replace(
        _STATED["grade"],
        label="Grade, as marked on the head",
        options=(Option("not_stated", "Not marked, not known"), *_STATED["grade"].options[1:]),
        default=UNPICKED,
        measure="The torque is held against what this bolt bears.",
        first=True,
    ),
    replace(_STATED["friction"], measure="Oiled, dry, with what paste: what the torque is for."),
)

TORQUE_FIELDS: tuple[Field, ...] = (
    _of_torque_page(
        "maker_torque",
        key="torque",
        label="Torque of the last torque stage",
        kept=False,
        stands_before="",
        measure="The maker's figure for these bolts, or one carried over from the torque page. "
        "Not needed where the stages below give torques.",
    ),
)

STAGE_FIELDS: tuple[Field, ...] = (
    Parts(
        "stages",
        "Stages",
        (
            Choice(
                "do",
                "What",
                (
                    Option("share", "Tighten: a share of the torque"),
                    Option("torque", "Tighten: a torque"),
                    Option("angle", "Turn on by an angle"),
                    Option("loosen", "Loosen all, backwards"),
                    Option("check", "Check all"),
                ),
                "share",
                first=True,
            ),
            Number(
                "share",
                "Share of the torque",
                Scale("percent", unit="pct", span=(5, 100), default=100, step=5),
                way_out="The last share is 100 %.",
                first=True,
                when=("do", ("share",)),
            ),
            _of_torque_page(
                "maker_torque",
                key="torque",
                label="Torque",
                kept=False,
                stands_before="",
                measure="A check stage left empty is at the torque of the last torque stage.",
                when=("do", ("torque", "check")),
            ),
            _of_torque_page(
                "maker_angle",
                key="angle",
                label="Angle",
                first=True,
                kept=False,
                measure="A loosening stage left empty loosens until the bolt is slack.",
                when=("do", ("angle", "loosen")),
            ),
        ),
        MOST_STAGES,
        _usual_stages(),
        measure="The stages of the sheet, one by one: torques or shares, angles, loosening in "
        "between, a check. What stands here first is common practice (check: ASME PCC-1).",
    ),
    _of_torque_page("running_torque"),
)

WRENCH_FIELDS: tuple[Field, ...] = (
    _of_torque_page(
        "wrench_largest",
        measure="Top of its scale. A stage below a fifth of that is pointed out (ISO 6789).",
    ),
    # Nothing is taken for the offset until it is entered: a wrong one would be turned.
    _of_torque_page(
        "extension",
        label="Crowfoot's offset, drive to bolt",
        default=0.0,
        first=False,
        when=None,
    ),
    _of_torque_page("wrench_length", first=False, when=None),
    _of_torque_page("extension_angle", first=False, when=None),
)

FIELDS = (
    *PATTERN_FIELDS,
    *ORDER_FIELDS,
    *BOLT_FIELDS,
    *TORQUE_FIELDS,
    *STAGE_FIELDS,
    *WRENCH_FIELDS,
)


@dataclass(frozen=True)
class Pattern:
    """A common pattern with its order: the turn of each bolt, where the bolt is."""

    label: str
    reason: str
    rows: tuple[tuple[int, ...], ...]
    around: tuple[int, ...]
    check: tuple[int, ...]


def common_patterns() -> tuple[Pattern, ...]:
    """Return common patterns, worked out, for paper and for phones without scripts."""
    grids = ((1, 5), (2, 2), (2, 3), (2, 4), (2, 5), (2, 6), (3, 3), (3, 4))
    return (
        *(_grid(rows, columns) for rows, columns in grids),
        *(_circle(count) for count in (4, 5, 6, 8, 10, 12, 16)),
    )


def _grid(rows: int, columns: int) -> Pattern:
    """Return a rectangular pattern."""
    positions = tightening.grid_positions(rows, columns)
    turn = _turns(tightening.tightening_order(positions))
    cells = tuple(
        tuple(turn[row * columns + column] for column in range(columns)) for row in range(rows)
    )
    label = f"{rows} × {columns}" if rows > 1 else f"{columns} in a row"
    check = tuple(turn[bolt] for bolt in tightening.check_order(positions))
    return Pattern(label, REASONS["grid" if rows > 1 else "row"], cells, (), check)


def _circle(count: int) -> Pattern:
    """Return an evenly bolted circle."""
    turn = _turns(tightening.circle_order(count))
    around = tuple(turn[bolt] for bolt in range(count))
    return Pattern(f"{count} on a circle", REASONS["circle"], (), around, around)


def _turns(order: list[int]) -> dict[int, int]:
    """Return each bolt's turn, from 1."""
    return {bolt: place + 1 for place, bolt in enumerate(order)}


def _read_by_phone() -> dict[str, str]:
    """Return what is said of an angle read by a phone: a quarter turn in five seconds."""
    angle, seconds = radians(90.0), 5.0
    drift = turning.drift_angle(seconds, 0.0)
    return {
        "scale": f"{100.0 * turning.SCALE_TOLERANCE:g} %",
        "rate": f"{degrees(turning.TILT_RATE):g}°",
        "band": f"{degrees(float(turning.turn_uncertainty(angle, drift))):.1f}°",
    }


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return form_context(FIELDS) | {
        "reasons": REASONS,
        "reasons_json": json.dumps(REASONS, ensure_ascii=False),
        "assumed": json.dumps(makers_figures.ASSUMED),
        "patterns": common_patterns(),
        "turned": _read_by_phone(),
    }


PAGE = Page(
    key="tightening",
    title="Tightening map",
    short="Map",
    question="Which bolt next, and what do I dial in?",
    stage="bolt",
    template="tightening.html",
    context=_context,
)
