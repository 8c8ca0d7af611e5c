"""Belt route: each build file's pulleys and belt as a drawing, as tables and as faults in words.

Worked out when the site is built, so the page needs no script and prints as it is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from calc.belt_route import Pulley, Route, RouteError, effective_length, find_faults, trace_route
from calc.belt_tensioner import Arm, Slot, StockFit, best_stock, move_tensioner, stock_fits
from site_src.builds import Build, load_builds
from site_src.face.numbers import grouped
from site_src.face.route import Drawing, draw_route
from site_src.face.words import STATUS_WORDS
from site_src.lookups.belt import BACK_HEIGHT
from site_src.lookups.belt_route_fields import NONE
from site_src.lookups.belt_route_geometry import PLACES
from site_src.model.answers import BEYOND, NEAR, WITHIN, shown
from site_src.model.page import Page

NEAR_WRAP = math.radians(10.0)
"""Wrap over the least that a pulley needs under which it is called near it. Common practice."""

NEAR_END = 0.15
"""Share of the tensioner's travel at either end in which a belt is called near it. Common
practice."""


@dataclass(frozen=True)
class SpanRow:
    """A straight run."""

    number: int
    between: str
    length: str


@dataclass(frozen=True)
class PulleyRow:
    """A pulley and its contact with the belt."""

    name: str
    side: str
    diameter: str
    wrap: str
    least: str
    status: str


@dataclass(frozen=True)
class StockRow:
    """A belt from stock and how it fits."""

    name: str
    status: str
    words: str
    to_slack: str
    to_tight: str
    chosen: bool


@dataclass(frozen=True)
class RouteSheet:
    """One build's route, ready for the template."""

    key: str
    title: str
    note: str
    verdict: str
    status: str
    status_words: str
    faults: tuple[str, ...]
    drawing: Drawing | None
    label: str
    facts: tuple[tuple[str, str], ...]
    spans: tuple[SpanRow, ...]
    pulleys: tuple[PulleyRow, ...]
    stock: tuple[StockRow, ...]
    belt_query: str
    live_query: str


def route_sheet(build: Build) -> RouteSheet:
    """Work out a build's route with the belt from stock that fits it best.

    Whatever keeps the route from being laid is said in words; nothing is drawn then.
    """
    fits: tuple[StockFit, ...] = ()
    trouble: tuple[str, ...] = ()
    try:
        fits = _fits(build)
    except RouteError as error:
        trouble = (_sentence(str(error)),)
    best = best_stock(fits) if fits else None
    try:
        route = trace_route(_placed(build, best))
    except RouteError as error:
        return _refused(build, (_sentence(str(error)),))
    found = find_faults(route, build.minimum_wraps, build.belt.clearance)
    faults = (*trouble, *(_sentence(fault.message) for fault in found), *_wrong_side(build))
    status, verdict = _verdict(build, best, faults)
    return RouteSheet(
        key=build.key,
        title=build.title,
        note=build.note,
        verdict=verdict,
        status=status,
        status_words=STATUS_WORDS[status],
        faults=faults,
        drawing=draw_route(route, [pulley.role for pulley in build.pulleys], build.tensioner),
        label=_label(build, route),
        facts=_facts(build, route),
        spans=_span_rows(route),
        pulleys=_pulley_rows(build, route),
        stock=tuple(_stock_row(build, fit, fit is best) for fit in fits),
        belt_query=_belt_query(build, route),
        live_query=_live_query(build, route, best),
    )


def _fits(build: Build) -> tuple[StockFit, ...]:
    """Return how the belts in stock fit."""
    return stock_fits(
        build.route_pulleys(),
        build.place("tensioner"),
        build.tensioner,
        build.belt.stock_effective_lengths,
        build.belt.section.line_differential.value,
    )


def _placed(build: Build, best: StockFit | None) -> tuple[Pulley, ...]:
    """Return the pulleys with the tensioner where the best belt puts it, or nearest to it."""
    if best is None:
        position = 0.5
    elif best.fit is not None:
        position = best.fit.position
    else:
        position = 0.0 if best.miss < 0.0 else 1.0
    return move_tensioner(
        build.route_pulleys(), build.place("tensioner"), build.tensioner, position
    )


def _refused(build: Build, faults: tuple[str, ...]) -> RouteSheet:
    """Return the sheet of a route that can't be laid."""
    verdict = "This route can't be laid. Correct the build file and build the site again."
    words = STATUS_WORDS[BEYOND]
    return RouteSheet(
        build.key, build.title, build.note, verdict, BEYOND, words, faults, None, "",
        (), (), (), (), "", "",
    )  # fmt: skip


def _wrong_side(build: Build) -> tuple[str, ...]:
    """Say that the tensioner works on the tight runs, if it does."""
    if build.tensioner_is_slack_side:
        return ()
    return (
        "The tensioner is on the tight side, where the blower's pull lifts it. It belongs on "
        "the runs that leave the crank.",
    )


def _verdict(build: Build, best: StockFit | None, faults: Sequence[str]) -> tuple[str, str]:
    """Return status and words for the whole route."""
    if faults:
        return BEYOND, "This belt can't run so. The reasons are below."
    if best is None or best.fit is None:
        return BEYOND, "No belt in stock fits. Order another length, or move the tensioner."
    name = _belt_name(build, best)
    slack, tight = _mm(best.fit.travel_to_slack), _mm(best.fit.travel_to_tight)
    words = f"Fit {name}. The tensioner has {slack} left to slack and {tight} to tight."
    return _end_status(best.fit.position), words


def _end_status(position: float) -> str:
    """Say whether a tensioner is near an end of its travel."""
    return WITHIN if NEAR_END <= position <= 1.0 - NEAR_END else NEAR


def _belt_name(build: Build, fit: StockFit) -> str:
    """Name a belt as it is ordered: ribs, section, effective length."""
    return f"{build.belt.ribs}{build.belt.section.key}{1e3 * fit.effective_length:.0f}"


def _facts(build: Build, route: Route) -> tuple[tuple[str, str], ...]:
    """Return what is said of the route as a whole."""
    effective = effective_length(route.length, build.belt.section.line_differential.value)
    return (
        ("Belt", f"{build.belt.ribs} ribs, section {build.belt.section.key}"),
        ("Direction, seen from the front", build.belt.travel),
        ("Effective length as drawn", _mm(float(effective))),
        ("Pitch length as drawn", _mm(route.length)),
        ("Space kept to every run", _mm(build.belt.clearance)),
    )


def _span_rows(route: Route) -> tuple[SpanRow, ...]:
    """Return the straight runs in the order of travel."""
    names = [pulley.name for pulley in route.pulleys]
    followers = (*names[1:], names[0])
    return tuple(
        SpanRow(number, f"{start} to {end}", _mm(span.length))
        for number, (start, end, span) in enumerate(
            zip(names, followers, route.spans, strict=True), 1
        )
    )


def _pulley_rows(build: Build, route: Route) -> tuple[PulleyRow, ...]:
    """Return the pulleys in the order of travel."""
    rows = zip(build.pulleys, route.pulleys, route.wraps, build.minimum_wraps, strict=True)
    return tuple(
        PulleyRow(
            spec.name,
            "grooves" if spec.side == "ribs" else "back, smooth",
            _mm(2.0 * pulley.radius),
            _degrees(wrap.angle),
            _degrees(least),
            _wrap_status(wrap.angle, least),
        )
        for spec, pulley, wrap, least in rows
    )


def _wrap_status(wrap: float, least: float) -> str:
    """Judge a wrap against the least that a pulley needs."""
    if wrap < least:
        return BEYOND
    return NEAR if wrap < least + NEAR_WRAP else WITHIN


def _stock_row(build: Build, belt: StockFit, chosen: bool) -> StockRow:
    """Return how one belt from stock fits."""
    name = _belt_name(build, belt)
    if belt.fit is None:
        side = "short" if belt.miss < 0.0 else "long"
        return StockRow(name, BEYOND, f"{_mm(abs(belt.miss))} too {side}", "", "", chosen)
    return StockRow(
        name,
        _end_status(belt.fit.position),
        f"fits, {100 * belt.fit.position:.0f} % tight",
        _mm(belt.fit.travel_to_slack),
        _mm(belt.fit.travel_to_tight),
        chosen,
    )


def _belt_query(build: Build, route: Route) -> str:
    """Return this route's part of a link to the belt page."""
    crank, blower = build.place("crank"), build.place("blower")
    shortest = min(route.spans[blower - 1].length, route.spans[blower].length)
    return urlencode(
        {
            "belt_ribs": build.belt.ribs,
            "blower_wrap": f"{math.degrees(route.wraps[blower].angle):.1f}deg",
            "crank_wrap": f"{math.degrees(route.wraps[crank].angle):.1f}deg",
            "crank_pulley": f"{2e3 * route.pulleys[crank].radius:.2f}mm",
            "blower_pulley": f"{2e3 * route.pulleys[blower].radius:.2f}mm",
            "diameter_kind": "pitch",
            "engine_speed": f"{60 * build.engine.speed_limit:.0f}rpm",
            "rotor_limit": f"{60 * build.blower.speed_limit:.0f}rpm",
            "gear": f"{build.blower.gear_ratio:g}",
            "alignment_span": f"{1e3 * shortest:.0f}mm",
        }
    )


def _live_query(build: Build, route: Route, best: StockFit | None) -> str:
    """Return this route as a link to the page on which it is measured, from the crank on."""
    start = build.place("crank")
    order = [*range(start, len(build.pulleys)), *range(start)]
    fields: dict[str, str] = {
        "travel": build.belt.travel.split("-")[0],
        "diameter_kind": "pitch",
        "clearance": _link_mm(build.belt.clearance),
        "crank_pulley": _link_mm(2.0 * route.pulleys[start].radius),
        "fitted_belt": _link_mm(best.effective_length) if best else "",
        **_travel(build.tensioner),
    }
    for number in range(1, PLACES + 1):
        if number > len(order):
            fields[f"kind_{number}"] = NONE
            continue
        spec, pulley = build.pulleys[order[number - 1]], route.pulleys[order[number - 1]]
        fields |= {f"x_{number}": _link_mm(pulley.x), f"y_{number}": _link_mm(pulley.y)}
        if number > 1:
            smooth = 2.0 * (pulley.radius - (BACK_HEIGHT if spec.side == "back" else 0.0))
            size = "blower_pulley" if spec.role == "blower" else f"d_{number}"
            kinds = {f"kind_{number}": spec.role, f"side_{number}": spec.side}
            fields |= {**kinds, size: _link_mm(smooth)}
    return urlencode(fields)


def _travel(tensioner: Slot | Arm) -> dict[str, str]:
    """Return how a tensioner moves, as a link has it."""
    (slack_x, slack_y), (tight_x, tight_y) = tensioner.center(0.0), tensioner.center(1.0)
    fields = {
        "tensioner_way": "arm" if isinstance(tensioner, Arm) else "slot",
        "slack_x": _link_mm(slack_x),
        "slack_y": _link_mm(slack_y),
        "tight_x": _link_mm(tight_x),
        "tight_y": _link_mm(tight_y),
    }
    if isinstance(tensioner, Arm):
        pivot_x, pivot_y = tensioner.pivot
        fields |= {"pivot_x": _link_mm(pivot_x), "pivot_y": _link_mm(pivot_y)}
    return fields


def _link_mm(metres: float) -> str:
    """Write a length as a link has it, far finer than it was measured."""
    return f"{1e3 * metres:.4f}mm"


def _label(build: Build, route: Route) -> str:
    """Say in words what the drawing shows."""
    names = ", ".join(pulley.name for pulley in route.pulleys)
    return (
        f"Drawing of the belt route, seen from the front, {build.belt.travel}: {names}, and back. "
        "The tables below hold the same."
    )


def _mm(metres: float) -> str:
    """Write a length in millimetres."""
    return f"{grouped(shown(1e3 * metres, 1))} mm"


def _degrees(angle: float) -> str:
    """Write an angle in degrees."""
    return f"{shown(math.degrees(angle), 0)}°"


def _sentence(text: str) -> str:
    """Make a sentence of a message."""
    return f"{text[0].upper()}{text[1:]}."


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    return {"routes": [route_sheet(build) for build in load_builds()]}


PAGE = Page(
    key="route",
    title="Belt routes of the build files",
    short="Build files' routes",
    question="Which way does each build's belt go, and which belt of its stock fits?",
    stage="drive",
    template="route.html",
    context=_context,
)
