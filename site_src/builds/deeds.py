"""What was done on a job, as a build file may hold it: tightening maps, hold points, runs read.

Kept as plain data, the way the phone keeps it; what may be left out is filled in.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from site_src.data.reader import Table

MAP_SCHEMA, HOLD_SCHEMA, RUN_SCHEMA = 2, 1, 1

STAGE_KINDS = ("torque", "angle", "loosen", "check")
PATTERNS = ("grid", "circle", "places")
TAPS = ("set", "done", "turned", "doubt")
DOINGS = (
    *("signed", "skipped", "taken back", "put back", "noted", "added", "renamed", "deleted"),
    *("brought back", "unreadable"),
)

_MOST_BOLTS = 200
_PHOTO = "data:image/jpeg;base64,"


# --- tightening maps -------------------------------------------------------------------------


def bolt_map(row: Table) -> Mapping[str, Any]:
    """Return a tightening map."""
    row.skip("schema", "id", "rev", "job")
    places = _places(row)
    count = len(places)
    names = row.texts("names") if row.has("names") else [str(n + 1) for n in range(count)]
    if len(names) != count or len(set(names)) != count:
        raise row.wrong("names", f"{count} names, each once", "Name each bolt as the sheet does.")
    return {
        "schema": MAP_SCHEMA,
        "title": row.text("title"),
        "pattern": row.table("pattern", _pattern)
        if row.has("pattern")
        else {"kind": "places", "rows": 0, "columns": 0, "count": count},
        "places": places,
        "names": list(names),
        "orderBy": row.choice("orderBy", ("maker", "worked")),
        "bolt": row.text("bolt"),
        "judged": words(row, "judged"),
        "quarters": row.whole("quarters", 0, 3) if row.has("quarters") else 0,
        "torque": row.text("torque"),
        "source": words(row, "source"),
        "notes": list(row.texts("notes")) if row.has("notes") and row.entries["notes"] else [],
        "offset": row.table("offset", lambda t: _offset(t, count))
        if row.has("offset")
        else {"bolts": [], "words": ""},
        "unit": words(row, "unit") or "Nm",
        "stages": list(row.rows("stages", lambda stage: _stage(stage, count))),
        "wrench": words(row, "wrench"),
        "who": words(row, "who"),
        "voice": _flag(row, "voice"),
        "started": _moment_or_none(row, "started"),
        "finished": _moment_or_none(row, "finished"),
        "steps": list(row.rows("steps", lambda tap: _tap(tap, count)))
        if row.has("steps") and row.entries["steps"] != []
        else [],
    }


def _pattern(table: Table) -> dict[str, Any]:
    """Return how the bolts stand: in a grid, in a circle, or placed by hand."""
    counts = {key: table.whole(key, 0, _MOST_BOLTS) for key in ("rows", "columns", "count")}
    return {"kind": table.choice("kind", PATTERNS), **counts}


def _places(row: Table) -> list[list[float]]:
    """Return where the bolts are, in the drawing's own measure."""
    row.has("places")
    places = row.entries.get("places")
    if not isinstance(places, list) or not 1 <= len(places) <= _MOST_BOLTS:
        raise row.wrong("places", f"a list of 1 to {_MOST_BOLTS} places", "Write it as [[0, 0]].")
    for place in places:
        if not isinstance(place, list) or len(place) != 2 or not all(map(is_number, place)):
            raise row.wrong("places", "pairs of numbers", "Write each as [across, down].")
    return [[float(x), float(y)] for x, y in places]


def _offset(table: Table, count: int) -> dict[str, Any]:
    """Return for which bolts the crowfoot goes on."""
    return {"bolts": _bolts(table, "bolts", count), "words": words(table, "words")}


def _stage(row: Table, count: int) -> dict[str, Any]:
    """Return one stage, every bolt in its turn."""
    order = _bolts(row, "order", count)
    if len(order) != count:
        raise row.wrong("order", f"all {count} bolts, counted from 0", "Add those that are left.")
    return {
        "kind": row.choice("kind", STAGE_KINDS),
        "share": _number(row, "share", 0, 1),
        "angle": _number(row, "angle", 0, 1000),
        "order": order,
        "dial": row.table("dial", _dial),
    }


def _dial(table: Table) -> dict[str, str]:
    """Return what the wrench is set to, as shown."""
    return {"plain": words(table, "plain"), "offset": words(table, "offset")}


def _bolts(row: Table, key: str, count: int) -> list[int]:
    """Return a list of bolts, counted from 0, each once."""
    row.has(key)
    bolts = row.entries.get(key)
    if not isinstance(bolts, list) or not _each_once(bolts, count):
        allowed = f"whole numbers from 0 to {count - 1}, each once"
        raise row.wrong(key, allowed, "Bolts are counted from 0, in the order of places.")
    return bolts


def _each_once(bolts: list[object], count: int) -> bool:
    """Whether a list holds bolts that there are, none of them twice."""
    whole = [each for each in bolts if type(each) is int and 0 <= each < count]
    return len(set(whole)) == len(bolts)


def _tap(row: Table, count: int) -> dict[str, Any]:
    """Return one tap of the log."""
    did = row.choice("do", TAPS)
    tap: dict[str, Any] = {"do": did, "at": row.text("at")}
    if did == "set":
        return {**tap, "dial": row.text("dial"), "offset": _flag(row, "offset")}
    tap["bolt"] = row.whole("bolt", 0, count - 1)
    if row.has("read"):
        tap["read"] = row.table(
            "read", lambda t: {key: _number(t, key, -1e4, 1e4) for key in ("angle", "band")}
        )
    return tap


# --- hold points -----------------------------------------------------------------------------


def hold(row: Table) -> Mapping[str, Any]:
    """Return what was done to a hold point."""
    row.skip("schema", "id", "rev", "job")
    log = list(row.rows("log", _deed))
    stage = words(row, "stage")
    if stage and not any(each["do"] == "added" for each in log):
        raise row.wrong("stage", "that of a point which the shop added", "Leave it out.")
    return {"schema": HOLD_SCHEMA, "point": row.text("point"), "stage": stage, "log": log}


def _deed(row: Table) -> dict[str, str]:
    """Return one deed: what, when, who, a note, a photo."""
    deed = {"do": row.choice("do", DOINGS), "at": moment(row, "at")}
    deed |= {key: words(row, key) for key in ("who", "note", "photo")}
    if deed["do"] in ("signed", "skipped") and not deed["who"]:
        raise row.wrong("who", "a name: nothing is signed or skipped by nobody", "Add it.")
    if deed["do"] == "skipped" and not deed["note"]:
        raise row.wrong("note", "the reason for the skip", "Add it.")
    if deed["photo"] and not deed["photo"].startswith(_PHOTO):
        raise row.wrong("photo", "a small JPEG as the phone keeps it", "Leave it out.")
    return deed


# --- runs ------------------------------------------------------------------------------------


def run(row: Table) -> Mapping[str, Any]:
    """Return a run that was read."""
    row.skip("schema", "id", "rev", "job")
    row.has("data")
    data = row.entries.get("data")
    if not isinstance(data, dict):
        raise row.wrong("data", "what the phone noted of the run", "Copy it from the job's file.")
    try:
        json.dumps(data, allow_nan=False)
    except (TypeError, ValueError) as error:
        raise row.wrong("data", "plain data", "Copy it from the job's file.") from error
    return {"schema": RUN_SCHEMA, "at": moment(row, "at"), "data": data}


# --- what they share -------------------------------------------------------------------------


def words(row: Table, key: str) -> str:
    """Return some words that may be left out, or be empty."""
    return row.text(key) if row.has(key) and row.entries[key] != "" else ""


def moment(row: Table, key: str) -> str:
    """Return a day and time as the phone writes it."""
    written = row.text(key)
    try:
        datetime.fromisoformat(written)
    except ValueError as error:
        allowed = 'a day and time, as "2026-03-02T10:15:00Z"'
        raise row.wrong(key, allowed, "Write it in quotes.") from error
    return written


def _moment_or_none(row: Table, key: str) -> str:
    """Return a day and time that may be left out, or be empty."""
    return moment(row, key) if row.has(key) and row.entries[key] != "" else ""


def _flag(row: Table, key: str) -> bool:
    """Return true or false; false if it is left out."""
    value = row.entries[key] if row.has(key) else False
    if not isinstance(value, bool):
        raise row.wrong(key, "true or false")
    return value


def is_number(value: object) -> bool:
    """Whether a value is a number that JSON can hold."""
    finite = isinstance(value, int | float) and abs(value) < 1e300
    return finite and not isinstance(value, bool)


def _number(row: Table, key: str, low: float, high: float) -> float:
    """Return a number within limits."""
    row.has(key)
    value = row.entries.get(key)
    if not isinstance(value, int | float) or not is_number(value) or not low <= value <= high:
        raise row.wrong(key, f"a number from {low:g} to {high:g}")
    return value
