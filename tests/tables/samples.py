"""Set-ups for tests, and what Python's recipe makes of them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import chain, islice
from typing import Any

from site_src.model.lookup import Lookup
from site_src.proof.comparison import plain_entry, set_ups
from site_src.tables.recipe import Fault

FRESH = 1_000_000
"""Number of the first test point: the build's own proof starts at 1 and never gets here."""

POINTS, POINTS_OF_LONG, LONG = 2_000, 800, 500
"""Set-ups at which evaluators are compared; fewer for a recipe of more steps than that."""

TIMES = int(os.environ.get("BAY_BITS", "1"))
"""So many times as many, if one asks for it."""


def points(lookup: Lookup) -> int:
    """Return at how many set-ups a lookup's evaluators are compared."""
    return TIMES * (POINTS_OF_LONG if len(lookup.steps) > LONG else POINTS)


def inputs(lookup: Lookup, count: int, start: int = FRESH) -> list[dict[str, Any]]:
    """Return set-ups spread through the ranges, as plain dicts in declared units."""
    return list(islice(_rows(lookup, count, start), count))


def _rows(lookup: Lookup, count: int, start: int) -> Iterator[dict[str, Any]]:
    # Half of them where the page says that it has answers, the rest through all ranges.
    likely = [lookup.likely(count // 2, start)] if lookup.likely else []
    for batch in chain(likely, set_ups(lookup, count, start, edges=False)):
        keys = list(batch)
        for values in zip(*batch.values(), strict=True):
            yield dict(zip(keys, map(plain_entry, values), strict=True))


def python_results(lookup: Lookup, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return answers, faults and statuses of each set-up, as JavaScript states them."""
    return [
        {
            "answers": outcome.answers,
            "faults": {key: _said(fault) for key, fault in outcome.faults.items()},
            "status": outcome.status,
            "unjudged": {key: _said(fault) for key, fault in outcome.unjudged.items()},
        }
        for outcome in lookup.explain_many(rows)
    ]


def _said(fault: Fault) -> list[str]:
    return [fault.kind, fault.symbol, fault.say]
