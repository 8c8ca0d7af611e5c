"""The lookup pages, one file each, in the order of the job."""

from __future__ import annotations

from functools import cache

from site_src.lookups import (
    accessory,
    belt,
    belt_route,
    belt_tone,
    boost,
    charge_cooling,
    first_start,
    fuel,
    hose_bend,
    hose_run,
    knock,
    loop,
    o_ring,
    plan,
    power,
    reading,
    run_causes,
    slip,
    stack,
    throttle,
    torque,
    wire,
)
from site_src.model.lookup import Lookup


@cache
def all_lookups() -> tuple[Lookup, ...]:
    """Return every lookup that has a page, the three quick ones first."""
    return (
        boost.LOOKUP,
        torque.LOOKUP,
        hose_bend.LOOKUP,
        plan.LOOKUP,
        power.LOOKUP,
        knock.LOOKUP,
        throttle.LOOKUP,
        loop.LOOKUP,
        charge_cooling.LOOKUP,
        hose_run.LOOKUP,
        fuel.LOOKUP,
        belt_route.LOOKUP,
        belt.LOOKUP,
        slip.LOOKUP,
        belt_tone.LOOKUP,
        stack.LOOKUP,
        accessory.LOOKUP,
        wire.LOOKUP,
        o_ring.LOOKUP,
        first_start.LOOKUP,
        reading.LOOKUP,
    )


@cache
def behind_pages() -> tuple[Lookup, ...]:
    """Return the lookups without a page of their own, which another page's script asks."""
    return (run_causes.LOOKUP,)


@cache
def all_recipes() -> tuple[Lookup, ...]:
    """Return every lookup there is, with a page or without."""
    return (*all_lookups(), *behind_pages())


def lookup(key: str) -> Lookup:
    """Return one lookup by its key, or raise a KeyError that lists those there are."""
    for each in all_recipes():
        if each.key == key:
            return each
    raise KeyError(f"no lookup {key!r}; there are {', '.join(e.key for e in all_recipes())}")
