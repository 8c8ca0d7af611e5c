"""A build's belt route: drawn, with what each place has and which belts fit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from calc.belt_route import Point as Place
from calc.belt_route import (
    Pulley,
    Route,
    RouteError,
    Turn,
    effective_length,
    find_faults,
    trace_route,
)
from calc.belt_tensioner import Arm, Slot, StockFit, best_stock, length_range, stock_fits
from site_src.builds.lines import Line, answer_line, in_mm, sentence
from site_src.builds.setup import Truck
from site_src.data.belts import length_series
from site_src.face.route import Drawing, draw_route
from site_src.face.words import Reading
from site_src.lookups import lookup
from site_src.lookups.belt_route import LINE
from site_src.lookups.belt_route_geometry import PLACES

PAGE = "belt-route"

_NEARLY = 0.02
"""Belts that miss by up to this are listed too, m."""


@dataclass(frozen=True)
class RouteSheet:
    """The belt's route: drawn, with what each place has; `trouble` if it can't be laid."""

    drawing: Drawing | None
    label: str
    places: tuple[tuple[str, str, str], ...]
    answers: tuple[Line, ...]
    faults: tuple[str, ...]
    belts: tuple[tuple[str, str, str, str], ...]
    trouble: str


def route_sheet(truck: Truck, readings: Mapping[str, Reading]) -> RouteSheet:
    """Return the belt's route of a truck; `readings` are its page's answers by key."""
    outcome = truck.outcome(PAGE)
    try:
        route = traced(truck)
    except (KeyError, RouteError) as error:
        main = next(r for r in readings.values() if r.answer.rank == "main")
        return RouteSheet(None, "", (), (), (), (), main.words or str(error))
    names = places(truck)
    roles = [role(truck, n) for n, _ in names]
    moves = tensioner(truck)
    said = ", ".join(name for _, name in names)
    faults = find_faults(route, [0.0] * len(names), outcome.symbols["clearance"])
    return RouteSheet(
        drawing=draw_route(route, roles, moves),
        label=f"Drawing of the belt route, seen from in front: {said}, and back to the crank.",
        places=tuple(
            (name, readings[f"wrap_{n}"].number, readings[f"run_{n}"].number) for n, name in names
        ),
        answers=tuple(
            answer_line(reading, outcome)
            for key, reading in readings.items()
            if not reading.left_out and not key.startswith(("wrap_", "run_"))
        ),
        faults=tuple(sentence(fault.message) for fault in faults),
        belts=_belts(route, roles.index("tensioner"), moves) if moves else (),
        trouble="",
    )


def traced(truck: Truck) -> Route:
    """Return the route with each pulley where its page places it.

    Raises:
        KeyError: the page places them nowhere.
        RouteError: no belt can be laid round them.
    """
    symbols = truck.outcome(PAGE).symbols
    return trace_route([_pulley(name, n, symbols) for n, name in places(truck)])


def places(truck: Truck) -> list[tuple[int, str]]:
    """Return the places that hold a pulley, with their names."""
    found = [(1, "1 Crank")]
    for n in range(2, PLACES + 1):
        if role(truck, n) != "none":
            field = lookup(PAGE).choices[f"kind_{n}"]
            found.append((n, f"{n} {field.option(role(truck, n)).label}"))
    return found


def role(truck: Truck, n: int) -> str:
    """Return what a place holds."""
    return "crank" if n == 1 else _picked(truck, f"kind_{n}")


def _picked(truck: Truck, key: str) -> str:
    """Return what is picked on the route's page."""
    return str(truck.inputs(PAGE).get(key, lookup(PAGE).choices[key].default))


def tensioner(truck: Truck) -> Slot | Arm | None:
    """Return how the tensioner moves, if that was measured."""
    way, symbols = _picked(truck, "tensioner_way"), truck.outcome(PAGE).symbols
    if way == "none" or "tensioner" not in [role(truck, n) for n in range(2, PLACES + 1)]:
        return None
    slack, tight = ((symbols[f"{end}_x"], symbols[f"{end}_y"]) for end in ("slack", "tight"))
    if way == "slot":
        return Slot(slack, tight)
    return _arm((symbols["pivot_x"], symbols["pivot_y"]), slack, tight)


def _pulley(name: str, n: int, symbols: Mapping[str, float]) -> Pulley:
    """Return a pulley of the route as the page placed it."""
    turn: Turn = 1 if symbols[f"signed_{n}"] > 0.0 else -1
    return Pulley(name, symbols[f"at_x_{n}"], symbols[f"at_y_{n}"], symbols[f"radius_{n}"], turn)


def _belts(
    route: Route, tensioner: int, moves: Slot | Arm
) -> tuple[tuple[str, str, str, str], ...]:
    """Return how belts of the standard lengths fit: length, how, what is left to either stop."""
    try:
        shortest, longest = (effective_length(end, LINE) for end in _ends(route, tensioner, moves))
    except RouteError:
        return ()
    near = [
        length
        for length in length_series().lengths
        if shortest - _NEARLY <= length <= longest + _NEARLY
    ]
    fits = stock_fits(route.pulleys, tensioner, moves, near, LINE)
    best = best_stock(fits) if fits else None
    return tuple(_belt(each, each is best) for each in fits)


def _ends(route: Route, tensioner: int, moves: Slot | Arm) -> tuple[float, float]:
    """Return the lengths along the cord between which the tensioner takes a belt."""
    shortest, longest = length_range(route.pulleys, tensioner, moves)
    return float(shortest), float(longest)


def _belt(each: StockFit, best: bool) -> tuple[str, str, str, str]:
    """Return how one belt fits."""
    name = in_mm(each.effective_length)
    if each.fit is None:
        side = "short" if each.miss < 0.0 else "long"
        return (name, f"{in_mm(abs(each.miss))} too {side}", "", "")
    how = f"fits, {100 * each.fit.position:.0f} % tight{', the best of these' if best else ''}"
    return (name, how, in_mm(each.fit.travel_to_slack), in_mm(each.fit.travel_to_tight))


def _arm(pivot: Place, slack: Place, tight: Place) -> Arm:
    """Return an arm that swings the short way from one of its stops to the other."""
    radius = math.dist(pivot, slack)
    first, last = (math.atan2(y - pivot[1], x - pivot[0]) for x, y in (slack, tight))
    return Arm(pivot, radius, first, first + math.remainder(last - first, math.tau))
