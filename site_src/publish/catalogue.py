"""`lookups.json`: every lookup as plain data, enough for another program to evaluate it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
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
"""The name of the part that phones read on every page but those that read all."""

EVERY = "every"
"""The name of the part that holds every lookup, for a page that works them all out: it asks once.
What it repeats of the others is sent once, in the pack."""

PARTS = {
    COMMON: ("boost",),
    "air": ("plan", "loop", "charge-cooling"),
    "drive": ("power", "knock", "throttle", "fuel", "accessory", "belt", "belt-tone"),
    "fittings": ("hose-run", "stack", "wire", "o-ring"),
    "runs": ("first-start", "slip", "reading", "run-causes"),
}
"""Lookups that are read together, since the pages of one mostly need the others: asking takes
longer than reading, and of what is read a page parses only the lookups that it wants. All others
are a part each, as those are which are to be at hand soonest."""


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


def part(name: str, lookups: Sequence[Lookup]) -> dict[str, Any]:
    """Return what a phone needs of a part's lookups, and where their tables are in their file.

    One that is read first has what is needed on every page besides.
    """
    entries = _tables(lookups)
    held = [each for each in lookups if name in (EVERY, part_of(each.key))]
    shared = {COMMON: part_of, EVERY: lambda _: EVERY}
    return {
        **(_shared(lookups, shared[name]) if name in shared else {}),
        "held": [each.key for each in held],
        "parts": [_read(each, entries) for each in held],
    }


def _shared(lookups: Sequence[Lookup], in_part: Callable[[str], str]) -> dict[str, Any]:
    """Return what a phone needs on every page that works something out.

    It says of each lookup which others it takes to fill it in, which have something to add, which
    may offer a better value, and in which part it is.
    """
    keys = [lookup.key for lookup in lookups]
    return {
        "quantities": _quantities(),
        "truck": truck.spec(),
        "makers": sheets.spec(),
        "titles": {lookup.key: lookup.title for lookup in lookups},
        "behind": {key: truck.behind(key) for key in keys},
        "beside": {key: truck.beside(key) for key in keys},
        "offering": {key: truck.offering(key) for key in keys},
        "part_of": {key: in_part(key) for key in keys},
    }


def part_names(keys: Sequence[str]) -> tuple[str, ...]:
    """Return the parts that are files of their own, of all these lookups.

    >>> part_names(["boost", "power", "knock", "torque"])
    ('every', 'common', 'drive', 'torque')
    """
    return (EVERY, *_with_common(keys))


def _with_common(keys: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((COMMON, *map(part_of, keys))))


def part_of(key: str) -> str:
    """Return the part that holds a lookup.

    >>> part_of("knock"), part_of("torque")
    ('drive', 'torque')
    """
    return next((name for name, held in PARTS.items() if key in held), key)


def parts_of(keys: Sequence[str]) -> tuple[str, ...]:
    """Return the parts that a page reads first which works with some lookups.

    >>> parts_of(["fuel"])
    ('common', 'drive')
    """
    return _with_common([each for key in keys for each in (key, *truck.behind(key))])


def plain(data: object) -> str:
    """Write JSON that every parser reads: no NaN, and the order that the data has."""
    return json.dumps(data, allow_nan=False, ensure_ascii=False, separators=(",", ":"))


def in_lines(part: Mapping[str, Any]) -> str:
    r"""Write a part with each lookup on a line of its own, so that a page parses those it needs.

    So are the commas: a lookup's line is the same in every part, and is sent once, in the pack.

    >>> in_lines({"version": "a", "held": ["b", "c"], "parts": [{"b": 1}, {"c": 2}]})
    '{"version":"a","held":["b","c"],"parts":[\n{"b":1}\n,\n{"c":2}\n]}\n'
    """
    head = plain({key: value for key, value in part.items() if key != "parts"})
    lookups = "\n,\n".join(map(plain, part["parts"]))
    return f'{head[:-1]},"parts":[\n{lookups}\n]}}\n'


def _read(lookup: Lookup, entries: dict[str, Any]) -> dict[str, Any]:
    """Return what a phone needs of one lookup, and of the entries of its tables."""
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
