"""`lookups.json`: every lookup as plain data, enough for another program to evaluate it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from decimal import ROUND_UP, Decimal
from typing import Any

import numpy as np

from site_src.lookups import sheets, truck
from site_src.model.lookup import Lookup
from site_src.model.quantities import all_quantities
from site_src.proof.comparison import Measured
from site_src.proof.kept import proved
from site_src.tables.compiler import Table

TABLES_FILE = "static/tables/tables.bin"
"""One file for all, so that a phone asks once."""

_DTYPES = {"f4": "<f4", "f8": "<f8"}


COMMON = "common"
"""The name of the part that every page's phone reads."""


def catalogue(lookups: Sequence[Lookup], version: str) -> dict[str, Any]:
    """Return the whole catalogue."""
    return {
        "version": version,
        "quantities": _quantities(),
        "tables": _tables(lookups),
        "lookups": [_lookup(lookup) for lookup in lookups],
        "truck": truck.spec(),
        "makers": sheets.spec(),
    }


def common(lookups: Sequence[Lookup]) -> dict[str, Any]:
    """Return what a phone needs on every page that works something out.

    It says of each lookup which others it takes to fill it in, and which have something to add.
    """
    keys = [lookup.key for lookup in lookups]
    return {
        "quantities": _quantities(),
        "truck": truck.spec(),
        "makers": sheets.spec(),
        "titles": {lookup.key: lookup.title for lookup in lookups},
        "behind": {key: truck.behind(key) for key in keys},
        "beside": {key: truck.beside(key) for key in keys},
        "parts": [part(key, lookups) for key in keys if _is_common(key, keys)],
    }


def part_names(keys: Sequence[str]) -> tuple[str, ...]:
    """Return the parts that are files of their own, of all these lookups.

    >>> part_names(["boost", "power", "knock", "belt"])
    ('common', 'power', 'knock', 'belt')
    """
    return (COMMON, *(key for key in keys if not _is_common(key, keys)))


def _is_common(key: str, keys: Sequence[str]) -> bool:
    """Say whether a lookup is in the common part: so many others can't be filled in without it."""
    return sum(key in truck.behind(each) for each in keys) > 2


def parts_of(keys: Sequence[str], every: Sequence[str]) -> tuple[str, ...]:
    """Return the parts that a page reads first which works with some lookups of all there are.

    >>> parts_of(["fuel"], ["boost", "power", "knock", "belt", "fuel"])
    ('common', 'fuel', 'power')
    """
    behind = [each for key in keys for each in truck.behind(key)]
    files = part_names(every)
    return (COMMON, *(each for each in dict.fromkeys((*keys, *behind)) if each in files))


def part(key: str, lookups: Sequence[Lookup]) -> dict[str, Any]:
    """Return what a phone needs of one lookup, and where its tables are in their file.

    Raises:
        KeyError: there is no such lookup.
    """
    lookup = {each.key: each for each in lookups}[key]
    entries = _tables(lookups)
    read = ("axes", "numbers", "offset", "bytes")
    return {
        "lookup": lookup.spec(),
        "tables": {
            name: {each: entries[name][each] for each in read}
            for name in dict.fromkeys(table.spec.name for table in lookup.compiled)
        },
    }


def _quantities() -> dict[str, Any]:
    """Return every quantity's units, and which stand in which system."""
    return {
        quantity.key: {
            "units": [asdict(unit) for unit in quantity.units],
            "si": quantity.si,
            "inch": dict(quantity.inch),
        }
        for quantity in all_quantities()
    }


def all_table_bytes(lookups: Sequence[Lookup], version: str) -> bytes:
    """Return the file that holds the numbers of all tables, one table after the other.

    It ends with the version, so that a page knows the tables of another build, or a part of a file.
    """
    numbers = b"".join(table_bytes(table) for table in _each_once(lookups))
    return numbers + version.encode("ascii")


def _tables(lookups: Sequence[Lookup]) -> dict[str, Any]:
    """Return every table's entry by its name, with its place in the file."""
    entries: dict[str, Any] = {}
    offset = 0
    for table in _each_once(lookups):
        entries[table.spec.name] = table_entry(table, offset)
        offset += len(table_bytes(table))
    return entries


def _each_once(lookups: Sequence[Lookup]) -> Iterable[Table]:
    """Return the tables of all lookups, each once."""
    return {t.spec.name: t for lookup in lookups for t in lookup.compiled}.values()


def table_bytes(table: Table) -> bytes:
    """Return a table's numbers as the file holds them: little-endian, last axis fastest."""
    return table.grid.numbers.astype(np.dtype(_DTYPES[table.spec.numbers])).tobytes()


def _lookup(lookup: Lookup) -> dict[str, Any]:
    """Return a lookup with its words and with what the build measured of it."""
    return lookup.spec() | {
        "quick": lookup.quick,
        "measured": {key: _measured(found) for key, found in proved(lookup).items()},
        "cautions": list(lookup.cautions),
        "sources": list(lookup.sources),
        "leaves_out": list(lookup.leaves_out),
    }


def _measured(found: Measured) -> dict[str, Any]:
    """Return what was measured of an answer in few digits, the error rounded up."""
    worst = {
        key: float(f"{value:.6g}") if isinstance(value, float) else value
        for key, value in found.worst.items()
    }
    return asdict(found) | {"error": _rounded_up(found.error), "worst": worst}


def _rounded_up(value: float) -> float:
    """Return the next number of two significant digits that isn't smaller.

    >>> _rounded_up(0.00123), _rounded_up(0.0), _rounded_up(2.0)
    (0.0013, 0.0, 2.0)
    """
    if value == 0.0:
        return 0.0
    unit = Decimal(1).scaleb(Decimal(value).adjusted() - 1)
    return float(Decimal(value).quantize(unit, ROUND_UP))


def table_entry(table: Table, offset: int = 0) -> dict[str, Any]:
    """Return all that is needed to read a table out of its file, and its passport."""
    labels = {axis.key: axis.label for axis in table.spec.axes}
    return {
        "name": table.spec.name,
        "axes": [
            {"key": a.key, "label": labels[a.key], "kind": a.kind, "knots": list(a.knots)}
            for a in table.grid.axes
        ],
        "numbers": table.spec.numbers,
        "file": TABLES_FILE,
        "offset": offset,
        "bytes": len(table_bytes(table)),
        "passport": asdict(table.passport),
    }
