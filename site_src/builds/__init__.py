"""The shop's build files: one job each, as TOML or as the phone's own job file, read and checked.

Both hold the same. In TOML a number is written with its unit, "186 mm", the unit as its key in
`site_src/model/quantities.py`; one without a unit as a plain number, 8; an option as its key,
"PK". What stands apart on a page is in a table of that page, [entries.slip]. DEVELOPERS.md shows
one. What is wrong is refused with a `DataError`: file, line, key, value, range, way out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

from site_src.builds import deeds
from site_src.builds.job import Amount, Figure, Job, Row, Stored, known_entries, makers_own
from site_src.data.reader import DataError, Table, name_of_file, read
from site_src.lookups import sheets, truck
from site_src.model.fields import Choice, Field, Number, Parts

Made = TypeVar("Made")

FOLDER = Path(__file__).parent

SCHEMA = 6
"""The phone's files up to this one are taken (static/js/record/transfer.js)."""

_FIRST = datetime(2000, 1, 1, tzinfo=UTC)

_KEY = re.compile(r"[a-z0-9]+(?:[_-][a-z0-9]+)*")
_WRITTEN = re.compile(r"([-+]?\d+(?:\.\d+)?(?: \d+/\d+)?) (\S+)")
_TYPED = re.compile(r"([-+]?)(?:(\d+) )?(?:(\d+)/(\d+)|(\d*[.,]?\d+))")
_TWO_WAYS = re.compile(r"\d{1,3},\d{3}")

_KEPT_BY_PHONE = ("kind", "schema", "made", "checksum", "pulleys")
_OF_A_JOB = ("schema", "id", "rev", "taken")


def load_builds(folder: Path = FOLDER) -> tuple[Job, ...]:
    """Every build file of a folder, by file name.

    Raises:
        DataError: a file is refused, or two would have one address.

    >>> [job.key for job in load_builds()]
    ['gravel_hauler', 'timber_wagon']
    """
    paths = sorted([*folder.glob("*.toml"), *folder.glob("*.json")])
    jobs = tuple(load_build(path) for path in paths)
    seen: dict[str, Path] = {}
    for job, path in zip(jobs, paths, strict=True):
        other = seen.setdefault(job.address, path)
        if other is not path:
            words = f"{job.address}, as {other.name} is"
            way_out = "Rename one of the two."
            raise DataError(name_of_file(path), "the file's name", words, "each once", way_out)
    return jobs


def load_build(path: Path) -> Job:
    """One build file.

    Raises:
        DataError: it is refused.

    >>> load_build(FOLDER / "gravel_hauler.toml").name
    'Gravel hauler (example)'
    """
    if not _KEY.fullmatch(path.stem):
        allowed = "small letters and digits, words joined by _ or -"
        way_out = "Rename it: its name becomes the address of its page."
        raise DataError(name_of_file(path), "the file's name", path.stem, allowed, way_out)
    build = _of_phone if path.suffix == ".json" else _of_shop
    return read(path, lambda file: build(file, path.stem))


def _of_shop(file: Table, key: str) -> Job:
    """Return the job of a TOML file."""
    note = file.text("note") if file.has("note") else ""
    return _job(file, file, key, note)


def _of_phone(file: Table, key: str) -> Job:
    """Return the job of a file that a phone saved."""
    if file.text("kind") != "bay-reckoner record":
        raise file.wrong("kind", "a job's file", "Save it on the phone, on the page “Record”.")
    file.whole("schema", 1, SCHEMA)
    file.skip(*_KEPT_BY_PHONE)

    def job(row: Table) -> Job:
        row.skip(*_OF_A_JOB)
        if row.has("kept") and row.entries["kept"]:
            way_out = "Take it in on a phone and save it there again."
            raise row.wrong("kept", "nothing: an earlier version wrote it", way_out)
        return _job(row, file, key, "")

    jobs = file.rows("jobs", job)
    if len(jobs) != 1:
        found, way_out = str(len(jobs)), "Save the file of one job, on its page “Record”."
        raise file.refuse("number of jobs", found, "1", way_out)
    return jobs[0]


def _job(table: Table, file: Table, key: str, note: str) -> Job:
    """Return a job: its name and entries from one table, all else from the file's outermost."""
    return Job(
        key=key,
        name=table.text("name"),
        note=note,
        entries=table.table("entries", _entries),
        figures=_each(file, "figures", _figure),
        maps=_each(file, "maps", deeds.bolt_map),
        holds=_each(file, "holds", deeds.hold),
        runs=_each(file, "runs", deeds.run),
    )


def _each(file: Table, key: str, build: Callable[[Table], Made]) -> tuple[Made, ...]:
    """Return a list that may be left out."""
    return file.rows(key, build) if file.has(key) and file.entries[key] != [] else ()


# --- entries ---------------------------------------------------------------------------------


def _entries(table: Table) -> Mapping[str, Stored]:
    """Return what was entered, by the job's names."""
    known = known_entries()
    found: dict[str, Stored] = {}
    for key, value in table.entries.items():
        if key in truck.APART and isinstance(value, dict):
            apart = table.table(key, lambda inner: _apart(inner, key))  # noqa: B023 - used at once
            found.update(apart)
            continue
        if key in known:
            found[key] = _stored(table, key, known[key])
        elif key in makers_own():
            way_out = "Write it as one of the [[figures]]."
            raise table.refuse(key, "a maker's figure", "an entry of the truck", way_out)
        else:
            raise table.refuse(key, "unknown", "an entry of a page", _meant(key))
    return found


def _meant(key: str) -> str:
    """Name the entries that may be meant by a key that there is none of."""
    known = list(known_entries())
    alike = [each for each in known if key in each.split("_") or each.endswith(f"_{key}")]
    near = dict.fromkeys([*get_close_matches(key, known, 2), *alike])
    way_out = "The keys are those in the address of a page whose entries were changed."
    return f"Is it {' or '.join(list(near)[:3])}? {way_out}" if near else way_out


def _apart(table: Table, page: str) -> Mapping[str, Stored]:
    """Return the entries that stand apart on a page."""
    known = known_entries()
    table.asked.update(truck.APART[page])
    return {
        f"{page} {key}": _stored(table, key, known[f"{page} {key}"])
        for key in table.entries
        if key in truck.APART[page]
    }


def _stored(table: Table, key: str, field: Field) -> Stored:
    """Return one entry."""
    table.has(key)
    if isinstance(field, Parts):
        if len(_list(table, key)) > field.most:
            found, allowed = f"{len(_list(table, key))} rows", f"at most {field.most}"
            raise table.refuse(key, found, allowed, "Take the others off.")
        return table.rows(key, lambda row: _row(row, field)) if _list(table, key) else ()
    if isinstance(field, Choice):
        return _option(table, key, field)
    return _amount(table, key, field)


def _list(table: Table, key: str) -> list[Any]:
    """Return a list as it is written."""
    value = table.entries[key]
    if not isinstance(value, list):
        raise table.wrong(key, f"tables [[{key}]]", "Write each in double brackets.")
    return value


def _row(table: Table, parts: Parts) -> Row:
    """Return one part of a list."""
    known = {field.key: field for field in parts.fields}
    table.asked.update(known)
    found: dict[str, Amount | str] = {}
    for key in table.entries:
        field = known.get(key)
        if isinstance(field, Choice):
            found[key] = _option(table, key, field)
        elif field:
            found[key] = _amount(table, key, field)
    return found


def _option(table: Table, key: str, field: Choice) -> str:
    """Return the option that was picked, a number in quotes."""
    return table.choice(key, [option.key for option in field.options])


def _amount(table: Table, key: str, field: Number) -> Amount:
    """Return a number that lies in its field's range."""
    table.has(key)
    text, unit_key = _text_and_unit(table, key, field)
    units = {unit.key: unit for unit in field.quantity.units}
    if unit_key not in units:
        allowed = " or ".join(f'"{each}"' if each else "none" for each in units)
        raise table.refuse(key, f"in the unit “{unit_key}”", allowed, "Write the unit's key.")
    if not text:
        return Amount("", unit_key, None)
    number, unit = _number(text), units[unit_key]
    low, high = (unit.from_si(field.declared.to_si(end)) for end in (field.low, field.high))
    value = None if number is None else field.declared.from_si(unit.to_si(number))
    if unit is field.declared:
        value = number
    # As the phone does, the ends of a range are forgiven the last digits of a conversion.
    slack = 1e-9 * max(abs(field.low), abs(field.high))
    if value is None or not field.low - slack <= value <= field.high + slack:
        label = f" {unit.label}".rstrip()
        allowed = f"a number from {low:.6g} to {high:.6g}{label}"
        found = f"{text}{label}"
        raise table.refuse(key, found, allowed, field.way_out or field.measure or "Correct it.")
    return Amount(text, unit_key, min(max(value, field.low), field.high))


def _text_and_unit(table: Table, key: str, field: Number) -> tuple[str, str]:
    """Return a number as it was written, and its unit's key."""
    value = table.entries[key]
    example = f'"{field.default or field.low:g} {field.unit}"'.replace(' "', '"')
    if isinstance(value, dict) and {"text", "unit"} <= value.keys():
        # A worked-out value that was carried along is shown rounded; what it was is beside it.
        carried = value.get("from")
        if isinstance(carried, dict) and carried.get("now") == value["text"]:
            value = carried
        return str(value["text"]).strip(), str(value["unit"])
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise table.wrong(key, f"a number, as {example}")
    if isinstance(value, str):
        met = _WRITTEN.fullmatch(value.strip())
        if not met:
            way_out = "A number that has no unit is written without quotes."
            raise table.wrong(key, f"a number and its unit, as {example}", way_out)
        return met[1], met[2]
    return plain(value), ""


def plain(value: float) -> str:
    """Write a number as the phone does, never with an exponent.

    >>> plain(8), plain(1.0), plain(0.25)
    ('8', '1', '0.25')
    """
    return f"{Decimal(repr(value)).normalize():f}"


def _number(text: str) -> float | None:
    """Read a number as people type it; None if it is none, or could be two."""
    met = _TYPED.fullmatch(text.replace("−", "-"))
    if not met or _TWO_WAYS.fullmatch(text):
        return None
    sign, whole, over, under, decimal = met.groups()
    if decimal and whole:
        return None
    if over:
        if not int(under):
            return None
        size = float(int(whole or 0) + Fraction(int(over), int(under)))
    else:
        size = float(decimal.replace(",", "."))
    return -size if sign == "-" else size


# --- makers' figures -------------------------------------------------------------------------


def _figure(row: Table) -> Figure:
    """Return what a sheet says."""
    kinds = {kind.key: kind for kind in sheets.KINDS}
    kind = kinds[row.choice("kind", list(kinds))]
    row.skip("schema", "id", "rev", "job", "typed")
    numbers = {field.key: field for field in kind.fields if isinstance(field, Number)}
    choices = {field.key: field for field in kind.fields if isinstance(field, Choice)}
    texts = {text.key: text for text in kind.texts}

    def amounts(table: Table) -> dict[str, Amount]:
        table.asked.update(numbers)
        return {k: _amount(table, k, numbers[k]) for k in table.entries if k in numbers}

    def options(table: Table) -> dict[str, str]:
        table.asked.update(choices)
        return {k: _option(table, k, choices[k]) for k in table.entries if k in choices}

    def words(table: Table) -> dict[str, str]:
        table.asked.update(texts)
        return {k: table.text(k) for k in table.entries if k in texts}

    figure = Figure(
        kind=kind.key,
        name=deeds.words(row, "name"),
        choices=row.table("choices", options) if row.has("choices") else {},
        values=row.table("values", amounts) if row.has("values") else {},
        texts=row.table("texts", words) if row.has("texts") else {},
        source=deeds.words(row, "source"),
        page=deeds.words(row, "page"),
        used=deeds.words(row, "used"),
        changed=deeds.words(row, "changed") or _entered(row),
    )
    if not (figure.values or figure.texts):
        raise row.refuse("values", "missing", "what the sheet says", "Add it.")
    return figure


def _entered(row: Table) -> str:
    """Return when a figure of a file counts as entered: those of a list in their order."""
    place = row.steps[-1]
    assert isinstance(place, int)
    moment = _FIRST + timedelta(milliseconds=place)
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")
