"""The one reader of the files in `data` and `builds`: opens, checks, converts to SI.

They are TOML; a phone's job file among the build files is JSON.

A module asks a `Table` for each entry by name and builds a frozen dataclass of what it gets. What
is missing, of another kind, out of range or never asked for is refused with a `DataError`.

A measure is written under its name and its unit, such as `bore_in` or `bore_mm`, with the units of
`site_src/model/quantities.py`. A row without a `source` or `mark` of its own has those of the table
around it. Many rows of a few cells are written as `columns` and `rows`.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Literal, TypeGuard, TypeVar, get_args

from site_src.data.where import JsonError, Step, in_words, line_of, parse_json
from site_src.model.quantities import Unit, quantity
from site_src.places import ROOT

Mark = Literal[
    "by definition",
    "maker's figure",
    "published",
    "as restated",
    "common practice",
    "from memory",
]
"""How far a row may be trusted, the best first; DEVELOPERS.md says what each one means."""

MARKS: tuple[Mark, ...] = get_args(Mark)

Span = tuple[float, float]
"""Least and greatest number allowed, in the first unit of the quantity."""

_HUGE = 1e300
"""Numbers from here on, infinity and NaN are refused: conversions must not overflow."""

Row = TypeVar("Row")
Word = TypeVar("Word", bound=str)


class DataError(ValueError):
    """A file that can't be used: where, what is there, what is allowed, and the way out."""

    def __init__(self, where: str, key: str, found: str, allowed: str, way_out: str) -> None:
        """Say it in one line."""
        super().__init__(f"{where}: {key} is {found}, allowed is {allowed}. {way_out}")


def read(path: Path, build: Callable[[Table], Row]) -> Row:
    """Read a file, JSON if its name says so, and return what `build` makes of its outermost table.

    Raises:
        DataError: the file is missing, is no TOML or JSON in UTF-8, or holds an entry that is
            refused.
    """
    name = name_of_file(path)
    try:
        text = path.read_text(encoding="utf-8")
        entries = parse_json(text) if path.suffix == ".json" else tomllib.loads(text)
    except OSError as error:
        found, way_out = f"not readable ({error.strerror})", "Put it back."
        raise DataError(name, "the file", found, "a TOML file", way_out) from error
    except UnicodeDecodeError as error:
        raise DataError(name, "the file", str(error), "UTF-8", "Save it as UTF-8.") from error
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"at line (\d+)", str(error))
        where = f"{name}, line {line[1]}" if line else name
        way_out = "Look for a quote, bracket or = that is missing, or a key given twice."
        raise DataError(where, "the file", f"not TOML ({error})", "TOML", way_out) from error
    except JsonError as error:
        way_out = "Save it on the phone once more."
        raise DataError(
            f"{name}, {error}", "the file", "cut or changed", "JSON", way_out
        ) from error
    return Table(name, text, (), entries).into(build)


@dataclass
class Table:
    """One table of a file: the steps that lead to it, its entries, and the table around it."""

    file: str
    whole_text: str
    steps: tuple[Step, ...]
    entries: Mapping[str, object]
    around: Table | None = None
    asked: set[str] = field(default_factory=set)

    def into(self, build: Callable[[Table], Row]) -> Row:
        """Return what `build` makes of this table; refuse the keys that it did not ask for."""
        row = build(self)
        for key in self.entries:
            if key not in self.asked:
                known = ", ".join(sorted(self.asked))
                meant = _meant(key, self.asked)
                raise self.refuse(key, "unknown", known, f"Delete it or correct it.{meant}")
        return row

    def refuse(self, key: str, found: str, allowed: str, way_out: str) -> DataError:
        """Return the error for a key of this table, or with no key for the table itself."""
        steps = (*self.steps, key) if key else self.steps
        line = line_of(self.whole_text, steps)
        where = f"{self.file}, line {line}" if line else self.file
        return DataError(where, in_words(steps), found, allowed, way_out)

    def wrong(self, key: str, allowed: str, way_out: str = "Correct it.") -> DataError:
        """Return the error for an entry that is missing, or isn't what is allowed."""
        if key in self.entries:
            return self.refuse(key, _as_toml(self.entries[key]), allowed, way_out)
        return self._missing([key], allowed)

    def _missing(self, keys: Sequence[str], allowed: str) -> DataError:
        """Return the error for an entry that is missing under any of its keys."""
        unknown = [other for other in self.entries if other not in self.asked]
        way_out = f"Add it.{_meant(keys[0], unknown)}"
        return self.refuse(" or ".join(keys), "missing", allowed, way_out)

    def skip(self, *keys: str) -> None:
        """Let keys stand that nothing here asks for."""
        self.asked.update(keys)

    def has(self, key: str) -> bool:
        """Whether there is an entry of that key, for one that may be left out."""
        self.asked.add(key)
        return key in self.entries

    # --- words -----------------------------------------------------------------------------------

    def text(self, key: str) -> str:
        """Return some words, with line breaks turned into spaces."""
        value = self._get(key)
        if not _is_text(value):
            raise self.wrong(key, "some text", 'Write it in "quotes".')
        return " ".join(value.split())

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of one or more texts."""
        values = self._get(key)
        if not isinstance(values, list) or not values or not all(map(_is_text, values)):
            raise self.wrong(key, "a list of texts", 'Write it as ["one", "two"].')
        return tuple(" ".join(value.split()) for value in values)

    def choice(self, key: str, options: Sequence[Word]) -> Word:
        """Return one of several words."""
        value = self._get(key)
        for option in options:
            if value == option:
                return option
        allowed = " or ".join(f'"{option}"' for option in options)
        raise self.wrong(key, allowed, "Write one of these, letter for letter.")

    def source(self) -> str:
        """Return where this row is from: its own word, or that of the table around it."""
        return self._holder("source").text("source")

    def mark(self) -> Mark:
        """Return how far this row may be trusted: its own word, or that of the table around it."""
        return self._holder("mark").choice("mark", MARKS)

    # --- numbers ---------------------------------------------------------------------------------

    def measure(self, name: str, kind: str, span: Span) -> float:
        """Return a number of a kind of quantity, in SI, from the entry of that name and a unit."""
        key, unit = self._unit(name, kind, span)
        value = self._get(key)
        if not _is_number(value) or not _within(value, kind, unit, span):
            raise self.wrong(key, f"a number from {_range(kind, unit, span)}", _look_at(unit))
        return unit.to_si(value)

    def measure_or_none(self, name: str, kind: str, span: Span) -> float | None:
        """Return a measure that may be left out."""
        keys = _keys(name, kind)
        self.asked.update(keys)
        return self.measure(name, kind, span) if self.entries.keys() & keys else None

    def measures(
        self, name: str, kind: str, span: Span, count: int | None = None
    ) -> tuple[float, ...]:
        """Return a list of measures in SI: so many, or one or more."""
        key, unit = self._unit(name, kind, span)
        values = self._get(key)
        how_many = "one or more" if count is None else str(count)
        allowed = f"a list of {how_many} numbers from {_range(kind, unit, span)}"
        if not isinstance(values, list) or not values or count not in (None, len(values)):
            raise self.wrong(key, allowed, "Write it as [1, 2].")
        if not all(_is_number(value) and _within(value, kind, unit, span) for value in values):
            raise self.wrong(key, allowed, _look_at(unit))
        return tuple(unit.to_si(value) for value in values)

    def whole(self, key: str, low: int, high: int) -> int:
        """Return a whole number within limits."""
        value = self._get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
            raise self.wrong(key, f"a whole number from {low} to {high}")
        return value

    def _unit(self, name: str, kind: str, span: Span) -> tuple[str, Unit]:
        """Return the key of a measure, and the unit that it ends in."""
        keys = _keys(name, kind)
        self.asked.update(keys)
        given = [key for key in keys if key in self.entries]
        if len(given) > 1:
            found, way_out = f"a second {name}", f"Delete it, or {given[0]}."
            raise self.refuse(given[1], found, "one of them", way_out)
        if not given:
            unit = quantity(kind).units[0]
            raise self._missing(list(keys), f"a number from {_range(kind, unit, span)}")
        return given[0], keys[given[0]]

    # --- tables inside this one ------------------------------------------------------------------

    def table(self, key: str, build: Callable[[Table], Row]) -> Row:
        """Return what `build` makes of the table [key]."""
        value = self._get(key)
        if not isinstance(value, dict):
            raise self.wrong(key, f"a table [{key}]", "Write it in single brackets, once.")
        return self._inside((key,), value).into(build)

    def rows(
        self, key: str, build: Callable[[Table], Row], unique: Sequence[str] = ()
    ) -> tuple[Row, ...]:
        """Return what `build` makes of each table [[key]]; no two are alike in all of `unique`."""
        values = self._get(key)
        if not isinstance(values, list) or not all(isinstance(value, dict) for value in values):
            raise self.wrong(key, f"tables [[{key}]]", "Write each in double brackets.")
        tables = [self._inside((key, place), value) for place, value in enumerate(values)]
        return _built(tables, build, unique)

    def cells(self, build: Callable[[Table], Row], unique: Sequence[str] = ()) -> tuple[Row, ...]:
        """Return what `build` makes of each of `rows`, whose cells `columns` name from the left.

        A row may end early: the cells that it leaves out are the last ones.
        """
        columns, values = self.texts("columns"), self._get("rows")
        if not isinstance(values, list):
            raise self.wrong("rows", "a list of rows", "Write each as a list of its cells.")
        tables = []
        for place, value in enumerate(values):
            if not isinstance(value, list) or not 0 < len(value) <= len(columns):
                allowed = f"a list of up to {len(columns)} cells: {', '.join(columns)}"
                row = self._inside(("rows", place), {})
                raise row.refuse("", _as_toml(value), allowed, "Compare it with its neighbours.")
            cells = dict(zip(columns, value, strict=False))
            tables.append(self._inside(("rows", place), cells))
        return _built(tables, build, unique)

    def _get(self, key: str) -> object:
        """Return an entry as it is written, or None."""
        self.asked.add(key)
        return self.entries.get(key)

    def _inside(self, steps: tuple[Step, ...], entries: Mapping[str, object]) -> Table:
        """Return a table that lies in this one."""
        return Table(self.file, self.whole_text, (*self.steps, *steps), entries, self)

    def _holder(self, key: str) -> Table:
        """Return this table or the nearest around it that has a key; this one if none has."""
        self.asked.add(key)
        table: Table | None = self
        while table is not None and key not in table.entries:
            table = table.around
        return table or self


def _built(
    tables: Sequence[Table], build: Callable[[Table], Row], unique: Sequence[str]
) -> tuple[Row, ...]:
    """Return what `build` makes of each table; refuse two alike in all of `unique`."""
    rows = tuple(table.into(build) for table in tables)
    seen: list[list[object]] = []
    for table in tables if unique else ():
        name = [table.entries.get(key) for key in unique]
        if name in seen:
            key, way_out = " and ".join(unique), "Change one of the two, or delete it."
            found = " and ".join(map(_as_toml, name)) + " for the second time"
            raise table.refuse(key, found, "each only once", way_out)
        seen.append(name)
    return rows


def _is_text(value: object) -> TypeGuard[str]:
    """Whether a value is a text with something in it."""
    return isinstance(value, str) and bool(value.strip())


def _is_number(value: object) -> TypeGuard[float]:
    """Whether a value is a finite number; true and false are not."""
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < _HUGE


def _keys(name: str, kind: str) -> dict[str, Unit]:
    """Return the keys that a measure may be written under, each with its unit."""
    return {f"{name}_{u.key}" if u.key else name: u for u in quantity(kind).units}


def _within(value: float, kind: str, unit: Unit, span: Span) -> bool:
    """Whether a number in a unit lies in a span."""
    low, high = map(quantity(kind).units[0].to_si, span)
    return low <= unit.to_si(value) <= high


# --- what an error says ---------------------------------------------------------------------------


def name_of_file(path: Path) -> str:
    """Name a file by its path in the checkout, where it lies in it."""
    path = path.resolve()
    return path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else str(path)


def _range(kind: str, unit: Unit, span: Span) -> str:
    """Write a span in the unit of an entry."""
    low, high = (unit.from_si(quantity(kind).units[0].to_si(end)) for end in span)
    return f"{low:.6g} to {high:.6g} {unit.label}".rstrip()


def _look_at(unit: Unit) -> str:
    """Say what to do about a number that is out of range."""
    return f"Correct it, or its unit: the key says {unit.label}." if unit.label else "Correct it."


def _as_toml(value: object) -> str:
    """Write a value about as it is in the file, cut short if it is long."""
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _meant(key: str, others: Iterable[str]) -> str:
    """Ask after a key of almost the same letters; a slip seldom changes the first one."""
    close = get_close_matches(key, [other for other in others if other[:1] == key[:1]], 1)
    return f" Is it {close[0]}, misspelt?" if close else ""
