"""One truck: which entries of the pages are one quantity, and which pages work out another's.

An entry's key is its name on every page: entered on one, it stands on all. The phone keeps it in
the job under that name (static/js/record/job.js).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from site_src.lookups import lookup
from site_src.model.fields import Field, Number
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class Source:
    """Where an entry comes from until one is typed: a page, and the value that it works out."""

    page: str
    symbol: str


@dataclass(frozen=True)
class Offer(Source):
    """Where a better value comes from once one of some entries was typed; else it is no better."""

    known_by: frozenset[str]


FOLLOWS: Mapping[str, Source] = {
    "boost": Source("boost", "boost"),
    "air_flow": Source("boost", "air_flow"),
    "charge_temperature": Source("boost", "charge_temperature"),
    "drive_power": Source("boost", "drive_power"),
    "power": Source("power", "power"),
    "blower_outlet": Source("boost", "outlet_temperature"),
    "cooler_effectiveness": Source("boost", "effectiveness_used"),
    "coolant_flow": Source("loop", "flow"),
    "bed_coolant_flow": Source("loop", "flow_moved"),
    "content": Source("loop", "content"),
}
"""By the entry's key; on the page that works it out it is an answer and no entry. An entry that
may stay empty stays so."""

_THROTTLE = frozenset(
    {
        *("throttle_bore", "throttle_width", "throttle_height"),
        *("throttle_rated_mass", "throttle_rated_volume"),
    }
)
_EXCHANGER = frozenset({"exchanger_heat"})

OFFERS: Mapping[str, Offer] = {
    "inlet_depression": Offer("plan", "drawn_depression", _THROTTLE),
    "coolant_rise": Offer("charge-cooling", "pulls_rise", _EXCHANGER),
    "charge_heat": Offer("charge-cooling", "heat", _EXCHANGER),
}
"""Entries with a usual value, for which another page has a better one once it knows this truck's
part: it is offered there, and taken by a tap."""

LEADS: Mapping[str, frozenset[str]] = {"belt-route": frozenset({"belt", "belt-tone"})}
"""Pages to which one carries on what it works out; those of its ladder are not named again."""

PULLEYS = "boost"
"""The page that says in which diameter the shop's pulleys are told."""

APART: Mapping[str, frozenset[str]] = {"slip": frozenset({"engine_speed"})}
"""Entries by page that mean something else there than on the other pages: the speed at which a
boost was measured."""

PASSING = frozenset({"torque", "hose-bend", "hose-run", "o-ring"})
"""Pages about one bolt, bend or ring after another: a link to one is followed without asking."""

USUAL = frozenset(
    {
        "slip",
        "leakage",
        "gear",
        "diameter_unsure",
        "built_in_ratio",
        "effectiveness",
        "coolant_rise",
        "cooler_drop",
        "intake_temperature",
        "barometer",
        "humidity",
        "rating_altitude",
        "rating_intake_temperature",
        "friction_scatter",
        "thread_friction",
        "head_friction",
        "nut_factor",
        "yield_target",
        "proof_target",
        "strip_factor",
        "running_torque",
        "chord_error",
        "rise_error",
        "insertion",
        "slack",
        "lambda",
        "gauge_mixture",
        "bsfc_low",
        "bsfc_high",
        "discharge_coefficient",
        "shaft",
        "pipe_depression",
        "test_density",
        "rated_pressure",
        "rail_pressure",
        "dead_time",
        "duty_limit",
        "pump_rated_voltage",
        "pump_voltage",
        "pump_exponent",
        "pump_margin",
        "system_voltage",
        "cranking_voltage",
        "rated_voltage",
        "drop_limit",
        "connections",
        "wire_air",
        "accessory_power",
        "power_margin",
        "grip_friction",
        "tension_per_rib",
        "mass_per_rib",
        "tensioner_damping",
        "alignment_limit",
        "gap_distance",
        "rim_difference",
        "charge_limit",
        "idle_speed",
        "section_tolerance",
        "depth_tolerance",
        "width_tolerance",
        "volume_swell",
        "wanted_fill",
        "water_pump_rated_voltage",
        "water_pump_voltage",
        "glycol_share",
        "loop_temperature",
        "tank_pressure",
        "effectiveness_flow",
        "road_speed",
        "rest_speed",
        "face_share",
        "nose_warmer",
        "fan_share",
        "bed_warmer",
        "rise_allowed",
        "pull_time",
        "rest_time",
        "duty_share",
        "recovered_to",
        "pull_number",
    }
)
"""Entries whose default is a usual value of the trade; the others' is an example's."""


@cache
def example(page: str) -> Mapping[str, float]:
    """Return what follows on a page in the example's truck, in declared units, by entry.

    In six digits, as the phone carries it from page to page.
    """
    found: dict[str, float] = {}
    for key, field in lookup(page).numbers.items():
        source = FOLLOWS.get(key)
        if source and source.page != page and field.default is not None:
            value = of_example(source.page).explain({}).symbols[source.symbol]
            found[key] = float(f"{field.declared.from_si(value):.6g}")
    return found


@cache
def of_example(page: str) -> Lookup:
    """Return a lookup whose defaults are the example's truck, what follows included."""
    carried = example(page)

    def filled(field: Field) -> Field:
        if not isinstance(field, Number) or field.key not in carried:
            return field
        return replace(field, scale=replace(field.scale, default=carried[field.key]))

    about = lookup(page)
    return replace(about, fields=tuple(map(filled, about.fields))) if carried else about


def origin_words(page: str, field: Number) -> str:
    """Return whose number an entry shows while no truck is entered; empty if it shows none."""
    if field.kept or field.default is None:
        return ""
    source = FOLLOWS.get(field.key)
    if source and source.page != page:
        return f"from {lookup(source.page).title}"
    return "usual value" if field.key in USUAL else "example"


def behind(page: str) -> tuple[str, ...]:
    """Return the pages without which one can't be filled in: its entries follow them.

    >>> behind("power"), behind("stack")
    (('boost',), ())
    """
    found: dict[str, None] = {}
    waiting = [page]
    while waiting:
        nearest = [each for each in _followed(waiting.pop()) if each not in found]
        found |= dict.fromkeys(nearest)
        waiting += nearest
    return tuple(sorted(found.keys() - {page}))


def _followed(page: str) -> Iterable[str]:
    """Return the pages that work out entries of one, or say what a pulley's diameter means."""
    for key, field in lookup(page).numbers.items():
        if key in FOLLOWS and field.default is not None:
            yield FOLLOWS[key].page
        if field.shelf:
            yield PULLEYS


def beside(page: str) -> tuple[str, ...]:
    """Return the pages that have something to add to one once it has answered: it leads to them.

    >>> beside("belt-route"), beside("boost")
    (('belt', 'belt-tone'), ())
    """
    about = lookup(page)
    ladder = {rung.page for rung in about.views.ladder.rungs} if about.views.ladder else set()
    leads = LEADS.get(page, frozenset())
    return tuple(sorted((ladder | leads) - {page, *behind(page)}))


def offering(page: str) -> tuple[str, ...]:
    """Return the pages that may have a better value for an entry of one, or of those behind it.

    >>> offering("belt"), offering("torque")
    (('charge-cooling', 'plan'), ())
    """
    there = (page, *behind(page))
    found = {OFFERS[key].page for each in there for key in lookup(each).numbers if key in OFFERS}
    return tuple(sorted(found - set(there)))


def spec() -> dict[str, Any]:
    """Return it as plain data."""
    return {
        "follows": {key: _plain(each) for key, each in FOLLOWS.items()},
        "offers": {
            key: _plain(each) | {"known_by": sorted(each.known_by)} for key, each in OFFERS.items()
        },
        "apart": {page: sorted(keys) for page, keys in APART.items()},
        "passing": sorted(PASSING),
        "usual": sorted(USUAL),
    }


def _plain(source: Source) -> dict[str, Any]:
    """Return a source as plain data."""
    return {"page": source.page, "symbol": source.symbol}
