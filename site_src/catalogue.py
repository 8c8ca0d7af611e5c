"""`lookups.json`: every lookup as plain data, enough for another program to evaluate it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import numpy as np

from site_src.lookup import Lookup
from site_src.proofs import proved
from site_src.quantities import all_quantities
from site_src.tables.compiler import Table

_DTYPES = {"f4": "<f4", "f8": "<f8"}


def catalogue(lookups: Sequence[Lookup], version: str) -> dict[str, Any]:
    """Return the whole catalogue."""
    return {
        "version": version,
        "quantities": {
            quantity.key: {"units": [asdict(unit) for unit in quantity.units]}
            for quantity in all_quantities()
        },
        "tables": {
            table.spec.name: table_entry(table) for lookup in lookups for table in lookup.compiled
        },
        "lookups": [_lookup(lookup) for lookup in lookups],
    }


def table_bytes(table: Table) -> bytes:
    """Return a table's numbers as its file holds them: little-endian, last axis fastest."""
    return table.grid.numbers.astype(np.dtype(_DTYPES[table.spec.numbers])).tobytes()


def _lookup(lookup: Lookup) -> dict[str, Any]:
    """Return a lookup with its words and with what the build measured of it."""
    return lookup.spec() | {
        "quick": lookup.quick,
        "needs": list(lookup.needs),
        "measured": {key: asdict(found) for key, found in proved(lookup).items()},
        "cautions": list(lookup.cautions),
        "sources": list(lookup.sources),
        "leaves_out": list(lookup.leaves_out),
    }


def table_entry(table: Table) -> dict[str, Any]:
    """Return all that is needed to read a table's file, and its passport."""
    labels = {axis.key: axis.label for axis in table.spec.axes}
    return {
        "name": table.spec.name,
        "axes": [
            {"key": a.key, "label": labels[a.key], "kind": a.kind, "knots": list(a.knots)}
            for a in table.grid.axes
        ],
        "numbers": table.spec.numbers,
        "file": f"static/tables/{table.spec.name}.bin",
        "bytes": len(table_bytes(table)),
        "passport": asdict(table.passport),
    }
