"""Curves with their axes and limit for the default set-up, each with a table of the same numbers.

The phone draws them by the same rules, in `static/js/face/curve.js`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from site_src.face.cells import (
    Cell,
    Notes,
    Row,
    answer_name,
    axis_name,
    cell,
    value_head,
    with_current,
)
from site_src.face.flat import are_in_sight, flat_words, is_flat
from site_src.face.scale import Tick, scale
from site_src.face.words import Ends, si_text, unit_of
from site_src.model.answers import UNCHECKED, CurveView, shown
from site_src.model.lookup import Lookup, Outcome

CURVE_LEFT, CURVE_RIGHT, CURVE_TOP, CURVE_BOTTOM = 54.0, 334.0, 34.0, 224.0


@dataclass(frozen=True)
class DrawnCurve:
    """A curve and the same numbers as rows; or why it would be flat."""

    view: CurveView
    curve: Curve | None
    down: str
    heads: tuple[Cell, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]
    shown: bool = True
    flat: str = ""


def drawn_curve(lookup: Lookup, view: CurveView) -> DrawnCurve:
    """Work out a curve for the default set-up."""
    field, answer, notes = lookup.numbers[view.over], lookup.answer(view.answer), Notes()
    placed = lookup.answer(view.at) if view.at else None
    dots, rows = [], []
    values = with_current(field, view.values)
    outcomes = lookup.explain_many([{view.over: value} for value in values])
    for value, outcome in zip(values, outcomes, strict=True):
        mine = value == field.default
        x, head = float(value), value_head(field, value)
        if placed:
            si = outcome.symbols.get(placed.key)
            if si is None:
                continue
            x, head = unit_of(placed).from_si(si), si_text(placed, si)
        rows.append(Row(head, (cell(lookup, answer, outcome, notes, mine),), mine))
        y, limit = _heights(lookup, view, outcome)
        dots.append(Dot(x, y, limit, mine))
    flat = is_flat([[dot.y, dot.limit] for dot in dots])
    return DrawnCurve(
        view,
        draw_curve(dots),
        answer_name(placed) if placed else axis_name(field),
        (Cell(answer_name(answer)),),
        tuple(rows),
        notes.listed(),
        are_in_sight(lookup, field),
        flat_words([field] if flat else []),
    )


def _heights(
    lookup: Lookup, view: CurveView, outcome: Outcome
) -> tuple[float | None, float | None]:
    """Return how high a curve and its limit are at one place, in the answer's usual unit."""
    answer = lookup.answer(view.answer)
    si, unit = outcome.symbols.get(answer.key), unit_of(answer)
    if si is None:
        return None, None
    limit = None
    if answer.band and outcome.status.get(answer.key, UNCHECKED) != UNCHECKED:
        limit = Ends.of(answer.band, outcome, si).limit
    return unit.from_si(si), None if limit is None else unit.from_si(limit)


# --- the marks -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Dot:
    """One point of a curve; no y where there is no answer, no limit where there is none."""

    x: float
    y: float | None
    limit: float | None = None
    current: bool = False


@dataclass(frozen=True)
class Curve:
    """A curve with its axes; the strings are ready for an SVG polyline."""

    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    runs: tuple[str, ...]
    limits: tuple[str, ...]
    current: tuple[str, str] | None


def draw_curve(dots: Sequence[Dot]) -> Curve | None:
    """Place a curve's points and the ticks of its axes; None if there is nothing to draw."""
    heights = [y for dot in dots for y in (dot.y, dot.limit) if y is not None]
    if not heights:
        return None
    across = scale(min(dot.x for dot in dots), max(dot.x for dot in dots), 5)
    low = min(heights)
    up = scale(0.0 if 0.0 <= low < 0.6 * max(heights) else low, max(heights), 5)

    def at(x: float, y: float) -> str:
        return f"{place_x(x)},{place_y(y)}"

    def place_x(x: float) -> str:
        return shown(across.place(x, CURVE_LEFT, CURVE_RIGHT), 1)

    def place_y(y: float) -> str:
        return shown(up.place(y, CURVE_BOTTOM, CURVE_TOP), 1)

    here = next((dot for dot in dots if dot.current and dot.y is not None), None)
    return Curve(
        x_ticks=tuple(Tick(place_x(value), 2, label) for value, label in across.labels()),
        y_ticks=tuple(Tick(place_y(value), 2, label) for value, label in up.labels()),
        runs=_runs([(dot.x, dot.y) for dot in dots], at),
        limits=_runs([(dot.x, dot.limit) for dot in dots], at),
        current=(place_x(here.x), place_y(here.y)) if here and here.y is not None else None,
    )


def _runs(
    points: Sequence[tuple[float, float | None]], at: Callable[[float, float], str]
) -> tuple[str, ...]:
    """Return the unbroken stretches of a curve, two points or more each."""
    runs: list[list[str]] = [[]]
    for x, y in points:
        if y is None:
            runs.append([])
        else:
            runs[-1].append(at(x, y))
    return tuple(" ".join(run) for run in runs if len(run) > 1)
