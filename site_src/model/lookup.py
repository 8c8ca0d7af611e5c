"""A lookup: entries, one calculation, answers and words; all else is derived from these."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from pathlib import Path
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real
from site_src.model.answers import NO_VIEWS, UNCHECKED, WITHIN, Answer, Views, Working
from site_src.model.entries import (
    Chosen,
    ChosenInEach,
    Entries,
    Listed,
    ListedNumbers,
    feeding,
    si_rows,
    symbols,
)
from site_src.model.fields import Choice, Field, Number, Parts, in_sight
from site_src.model.formulas import Formula, Origin, formulas
from site_src.model.said import metric
from site_src.places import ROOT
from site_src.tables import symbols as symbols_module
from site_src.tables.compiler import Table, TableSpec, compiled
from site_src.tables.grid import Grid
from site_src.tables.recipe import Column, Fault, Faults, Part, Run, Step, needed
from site_src.tables.symbols import TraceError, as_operand, trace_of
from site_src.tables.writing import Written, write_down

Floats: TypeAlias = NDArray[np.float64]
Inputs: TypeAlias = Mapping[str, float | str | Sequence[Mapping[str, float | str]] | None]
"""What a person entered: declared units; a missing key means the default, None means blank."""

Given: TypeAlias = "Sequence[object] | Floats | NDArray[np.str_]"
"""One field's entries of many set-ups, in an array NaN for what was left blank."""

Entered: TypeAlias = Mapping[str, Given]
"""Many set-ups, entries by field."""

STAGES = (
    ("plan", "Plan"),
    ("bolt", "Bolt up"),
    ("drive", "Drive"),
    ("plumb", "Plumb"),
    ("feed", "Feed"),
    ("wire", "Wire"),
    ("start", "Start"),
    ("sign", "Sign off"),
)
"""The order of the job."""


UNUSABLE = ("range", "choice", "missing")
"""Kinds of faults that are a mistake in what was entered."""


class InputError(ValueError):
    """An entry can't be used; the message names the field, the value, the range, the way out."""

    def __init__(self, message: str, faults: Mapping[str, Fault]) -> None:
        """Keep the faults by answer, for callers that show them one by one."""
        self.faults = dict(faults)
        super().__init__(message)


@dataclass(frozen=True)
class Outcome:
    """What a recipe gave for one set-up, in declared units.

    `unjudged` says why an answer that was given could not be held against its limit: the limit
    can't be had, it is only an example, or an entry can't be used, beside which nothing is
    called within. The last two are not checked, by status.
    """

    answers: dict[str, float]
    faults: dict[str, Fault]
    status: dict[str, str]
    unjudged: dict[str, Fault]
    symbols: Mapping[str, float]


@dataclass(frozen=True)
class Values(Mapping[str, float]):
    """The values of one set-up of a run, by symbol; those that can't be had are not in it."""

    run: Run
    n: int

    def __getitem__(self, symbol: str) -> float:
        """Return a symbol's value."""
        column = self.run.symbols[symbol]
        if column.fault[self.n]:
            raise KeyError(symbol)
        return float(column.values[self.n])

    def __iter__(self) -> Iterator[str]:
        """Go through the symbols that have a value."""
        return (key for key, column in self.run.symbols.items() if not column.fault[self.n])

    def __len__(self) -> int:
        """Return how many have one."""
        return sum(1 for _ in self)


@dataclass(frozen=True)
class Lookup:
    """One lookup page.

    `reckon` is the calculation: from entries to the answers, the workings and whatever else the
    answers are judged against, SI by key. Run on arrays over many set-ups it is the direct
    calculation, not there (NaN) where there is no answer. Run on symbols it is the recipe.
    """

    key: str
    title: str
    short: str
    question: str
    stage: str
    fields: tuple[Field, ...]
    reckon: Callable[[Entries], Mapping[str, Real]]
    answers: tuple[Answer, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    leaves_out: tuple[str, ...]
    workings: tuple[Working, ...] = ()
    views: Views = NO_VIEWS
    quick: bool = False
    likely: Callable[[int, int], Mapping[str, Sequence[object]]] | None = None
    """Set-ups that have an answer, entries by field, for a page that seldom has one: how many of
    them, and the number of the first. The proof draws them besides its own."""

    def chained(self, e: Entries, **fed: Real) -> Mapping[str, Real]:
        """Run the calculation for another page, which feeds some of the entries.

        A fed value must lie in its field's range. What is not fed is as entered on that other
        page; what that page doesn't ask stays as usual, and its answers must not depend on it.

        Args:
            e [1]: the other page's entries.
            fed [1]: worked-out values in SI, by field.
        """
        found = self.reckon(feeding(e, self.fields, self.title, fed))
        if trace := trace_of(*found.values()):
            for value in (*self.answers, *self.workings):
                trace.came_from(found[value.key], Origin(self.title, value))
        return found

    # --- use -------------------------------------------------------------------------------

    def evaluate(self, inputs: Inputs) -> dict[str, float]:
        """Run the recipe on one set-up, in declared units.

        An answer that this set-up does not have is left out.

        Raises:
            InputError: an entry is not usable.
        """
        outcome = self.explain(inputs)
        met = outcome.faults | outcome.unjudged
        unusable = {key: fault for key, fault in met.items() if fault.kind in UNUSABLE}
        if unusable:
            said = {self.words(fault, inputs) for fault in unusable.values()}
            raise InputError(" ".join(sorted(said)), unusable)
        return outcome.answers

    def exact(self, inputs: Inputs) -> dict[str, float]:
        """Run the direct calculation on one set-up, in declared units.

        Raises:
            InputError: an entry is not usable.
        """
        entered = self.filled([inputs])
        _, faults = self.read(entered)
        if faults.known:
            unusable = {f.symbol: f for f in faults.known if f.kind != "blank"}
            if unusable:
                said = {self.words(fault, inputs) for fault in unusable.values()}
                raise InputError(" ".join(sorted(said)), unusable)
        values = self.direct(entered)
        return {
            answer.key: answer.declared.from_si(float(values[answer.key][0]))
            for answer in self.answers
            if np.isfinite(values[answer.key][0])
        }

    def explain(self, inputs: Inputs) -> Outcome:
        """Run the recipe on one set-up and keep the reasons, the statuses and the workings."""
        return self.explain_many([inputs])[0]

    def explain_many(self, many: Sequence[Inputs]) -> list[Outcome]:
        """Do the same for many set-ups, those at once that share their lists of parts."""
        found: list[Outcome] = []
        lists = [field for field in self.fields if isinstance(field, Parts)]
        for _, alike in groupby(many, lambda one: [one.get(f.key, f.default) for f in lists]):
            group = list(alike)
            run = self.run(self.filled(group))
            suspects = [field for field in self.fields if _suspect(field, run)]
            found += [self._outcome(inputs, run, n, suspects) for n, inputs in enumerate(group)]
        return found

    def _outcome(self, inputs: Inputs, run: Run, n: int, suspects: Sequence[Field]) -> Outcome:
        """Return what a run found for one of its set-ups."""
        known = run.faults.known
        wrong = self._wrong_entry(inputs, run, n, suspects)
        answers: dict[str, float] = {}
        faults: dict[str, Fault] = {}
        status: dict[str, str] = {}
        unjudged: dict[str, Fault] = {}
        for answer in self.answers:
            column = run.symbols[answer.key]
            if column.fault[n]:
                faults[answer.key] = known[column.fault[n] - 1]
                continue
            answers[answer.key] = float(answer.declared.from_si(float(column.values[n])))
            if answer.band:
                ends = [run.column(answer.band.limit), run.column(answer.band.near)]
                met = next((known[end.fault[n] - 1] for end in ends if end.fault[n]), None)
                if met and met.kind == "blank" and answer.band.unchecked:
                    status[answer.key] = UNCHECKED
                elif met:
                    unjudged[answer.key] = met
                else:
                    limit, near = (float(end.values[n]) for end in ends)
                    judged = answer.band.status(float(column.values[n]), limit, near)
                    reason = self._example(answer, inputs) or (wrong if judged == WITHIN else None)
                    status[answer.key] = UNCHECKED if reason else judged
                    if reason:
                        unjudged[answer.key] = reason
        return Outcome(answers, faults, status, unjudged, Values(run, n))

    def _example(self, answer: Answer, inputs: Inputs) -> Fault | None:
        """Return why an answer isn't judged, if it depends on limits that nobody entered."""
        unentered = [field for field in self.examples[answer.key] if field.key not in inputs]
        if not unentered:
            return None
        values = {field.key: inputs.get(field.key, field.default) for field in self.fields}
        missing = [field for field in unentered if in_sight(field, values)]
        if not missing:
            return None
        more = f" Then {len(missing) - 1} more." if len(missing) > 1 else ""
        return Fault("example", missing[0].key, missing[0].example_words + more)

    def _wrong_entry(
        self, inputs: Inputs, run: Run, n: int, suspects: Sequence[Field]
    ) -> Fault | None:
        """Return what is wrong with the first entry that is asked for and can't be used."""
        if not suspects:
            return None
        values = {field.key: inputs.get(field.key, field.default) for field in self.fields}
        for field in suspects:
            codes = [_code(field, run.symbols, run.choices, n)]
            if isinstance(field, Parts):
                rows = values[field.key]
                assert isinstance(rows, (list, tuple))
                codes = [
                    _code(entry, part.symbols, part.choices, n)
                    for row, part in zip(rows, run.parts[field.key], strict=True)
                    for entry in field.fields
                    if in_sight(entry, {e.key: row.get(e.key, e.default) for e in field.fields})
                ]
            for fault in (run.faults.known[code - 1] for code in codes if code):
                if fault.kind in UNUSABLE and in_sight(field, values):
                    return fault
        return None

    def words(self, fault: Fault, inputs: Inputs) -> str:
        """Say a fault in words: the field, the value, the range, the way out."""
        return metric(self._words(fault, inputs))

    def _words(self, fault: Fault, inputs: Inputs) -> str:
        """Say it for either system of units."""
        number = self.numbers.get(fault.symbol)
        if fault.kind == "missing" and number:
            return f"“{number.label}” was left empty. {number.way_out or number.measure}".strip()
        if fault.kind == "range" and number:
            value = inputs.get(fault.symbol)
            unit = number.declared.label
            return (
                f"{number.label} is {value} {unit}. This page covers {number.low:g} to "
                f"{number.high:g} {unit}. {number.way_out or number.measure}"
            ).strip()
        return fault.say or f"{fault.symbol}: {fault.kind}"

    # --- many set-ups at once --------------------------------------------------------------

    def filled(self, many: Sequence[Inputs]) -> dict[str, list[object]]:
        """Return entries by field, a list over set-ups, defaults put in where a key is missing."""
        known = {field.key for field in self.fields}
        for inputs in many:
            unknown = sorted(set(inputs) - known)
            if unknown:
                raise InputError(f"{self.key} has no field {', '.join(unknown)}.", {})
        return {
            field.key: [inputs.get(field.key, field.default) for inputs in many]
            for field in self.fields
        }

    def run(self, entered: Entered, wanted: Iterable[str] | None = None) -> Run:
        """Run the recipe on many set-ups, or of its steps those that some answers take."""
        run, _ = self.read(entered)
        steps = self.steps if wanted is None else needed(self.steps, wanted)[0]
        with np.errstate(all="ignore"):
            for step in steps:
                run.symbols[step.name] = step.run(run)
        return run

    def read(self, entered: Entered) -> tuple[Run, Faults]:
        """Turn entries into the recipe's first symbols, with faults for what can't be used."""
        size = len(next(iter(entered.values())))
        faults = Faults()
        run = Run(size, self.grids, faults, {})
        for field in self.fields:
            values = entered[field.key]
            if isinstance(field, Number):
                run.symbols[field.key] = _numbers(field, values, run)
            elif isinstance(field, Choice):
                run.choices[field.key] = _choices(field, values, run)
            else:
                run.parts[field.key] = _parts(field, values, run)
        for choice in self.choices.values():
            if choice.match:
                _mismatch(choice, self.choices[choice.match], run)
        return run, faults

    def direct(self, entered: Entered) -> dict[str, Floats]:
        """Run the calculation itself on many set-ups; SI by key, NaN where there is no value."""
        size = len(next(iter(entered.values())))
        with np.errstate(all="ignore"):
            found = self.reckon(self._entries(entered))
        return {key: np.broadcast_to(value, (size,)) for key, value in found.items()}

    def _entries(self, entered: Entered) -> Entries:
        """Turn entries into what the calculation takes: SI, NaN where left blank."""
        numbers: dict[str, Real] = {}
        choices: dict[str, Chosen] = {}
        lists: dict[str, Listed] = {}
        for field in self.fields:
            values = entered[field.key]
            if isinstance(field, Number):
                raw = _floats(values)
                numbers[field.key] = raw * field.declared.factor + field.declared.offset
            elif isinstance(field, Choice):
                choices[field.key] = ChosenInEach(np.array(values, dtype=np.str_))
            else:
                rows = values[0]
                assert isinstance(rows, (list, tuple))
                lists[field.key] = ListedNumbers(si_rows(field, rows), together=True)
        return Entries(numbers, choices, lists)

    # --- parts -----------------------------------------------------------------------------

    @cached_property
    def numbers(self) -> dict[str, Number]:
        """The number fields by key."""
        return {field.key: field for field in self.fields if isinstance(field, Number)}

    @cached_property
    def choices(self) -> dict[str, Choice]:
        """The choice fields by key."""
        return {field.key: field for field in self.fields if isinstance(field, Choice)}

    @cached_property
    def written(self) -> Written:
        """The calculation written down as a recipe.

        Raises:
            TraceError: the calculation does something that a recipe has no step for; the message
                names the file and the line.
        """
        try:
            found = self.reckon(symbols(self.fields))
        except TraceError as reason:
            raise TraceError(f"{self.key}, {_place(reason)}: {reason}") from reason
        return write_down({key: as_operand(value) for key, value in found.items()})

    @cached_property
    def examples(self) -> Mapping[str, tuple[Number | Parts, ...]]:
        """The example limits that each judged answer depends on, by answer.

        Those come first that fewest answers depend on: they are what the answer is about.
        """
        fields = [field for field in self.fields if isinstance(field, Number | Parts)]
        examples = [field for field in fields if field.example]
        found: dict[str, list[Number | Parts]] = {}
        for answer in self.answers:
            if answer.band:
                ends = (answer.key, answer.band.limit, answer.band.near)
                _, read = needed(self.steps, [end for end in ends if isinstance(end, str)])
                found[answer.key] = [number for number in examples if number.key in read]
        spread = {number.key: sum(number in each for each in found.values()) for number in examples}
        return {
            key: tuple(sorted(numbers, key=lambda number: spread[number.key]))
            for key, numbers in found.items()
        }

    @property
    def steps(self) -> tuple[Step, ...]:
        """The recipe."""
        return self.written.steps

    @property
    def tables(self) -> tuple[TableSpec, ...]:
        """What the recipe looks things up in."""
        return self.written.tables

    @cached_property
    def compiled(self) -> tuple[Table, ...]:
        """The compiled tables."""
        return tuple(compiled(spec) for spec in self.tables)

    @cached_property
    def grids(self) -> dict[str, Grid]:
        """The compiled grids by name."""
        return {table.spec.name: table.grid for table in self.compiled}

    @cached_property
    def shown(self) -> Mapping[str, Formula]:
        """How each answer and working is worked out, by key."""
        return formulas(self.fields, (*self.answers, *self.workings), self.written)

    def answer(self, key: str) -> Answer:
        """Return an answer by its key."""
        return next(answer for answer in self.answers if answer.key == key)

    def spec(self) -> dict[str, object]:
        """Return the lookup as plain data, without what the build measures."""
        return {
            "key": self.key,
            "title": self.title,
            "short": self.short,
            "question": self.question,
            "stage": self.stage,
            "fields": [field.spec() for field in self.fields],
            "steps": [step.spec() for step in self.steps],
            "answers": [self._answer_spec(answer) for answer in self.answers],
            "workings": [working.spec() for working in self.workings],
            "tables": [table.name for table in self.tables],
            "views": self.views.spec(),
        }

    def _answer_spec(self, answer: Answer) -> dict[str, object]:
        """Return an answer as plain data, with its formula and the limits it is judged by."""
        spec = answer.spec() | {"filled": self.shown[answer.key].filled}
        if answer.band:
            examples = [number.key for number in self.examples[answer.key]]
            spec["band"] = answer.band.spec() | {"examples": examples}
        return spec


def _place(reason: Exception) -> str:
    """Return the file and the line of a calculation that made the trace give up."""
    machinery = str(Path(symbols_module.__file__).parent)
    frames = traceback.extract_tb(reason.__traceback__)
    place = [frame for frame in frames if not frame.filename.startswith(machinery)][-1]
    return f"{Path(place.filename).relative_to(ROOT)} line {place.lineno}"


def _code(
    field: Field,
    symbols: Mapping[str, Column],
    choices: Mapping[str, tuple[NDArray[np.str_], NDArray[np.int32]]],
    n: int,
) -> int:
    """Return the number of a single entry's fault in one set-up of a run, 0 if it has none."""
    if isinstance(field, Number):
        return int(symbols[field.key].fault[n])
    return int(choices[field.key][1][n]) if isinstance(field, Choice) else 0


def _suspect(field: Field, run: Run) -> bool:
    """Say whether a field's entry can't be used in some set-up of a run."""
    codes = []
    for part in run.parts[field.key] if isinstance(field, Parts) else [run]:
        entries = field.fields if isinstance(field, Parts) else [field]
        codes += [part.symbols[e.key].fault for e in entries if isinstance(e, Number)]
        codes += [part.choices[e.key][1] for e in entries if isinstance(e, Choice)]
    met = {code for each in codes if each.any() for code in np.unique(each).tolist() if code}
    return any(run.faults.known[code - 1].kind in UNUSABLE for code in met)


def _floats(values: Given) -> Floats:
    """Return entries as numbers, NaN where left blank."""
    return np.asarray(values, dtype=np.float64)


def _numbers(field: Number, values: Given, run: Run) -> Column:
    """Turn one number field's entries into an SI column.

    In an array NaN is an entry left blank; in a list None is, and NaN is no number.
    """
    raw = _floats(values)
    blank = np.isnan(raw)
    if blank.any() and not isinstance(values, np.ndarray):
        blank = np.array([v is None for v in values])
    outside = ~blank & ~((raw >= field.low) & (raw <= field.high))
    fault = np.zeros(len(values), dtype=np.int32)
    if blank.any():
        fault[blank] = run.faults.code(
            Fault("blank" if field.default is None else "missing", field.key)
        )
    if outside.any():
        fault[outside] = run.faults.code(Fault("range", field.key, field.way_out))
    si = np.where(fault == 0, raw, field.low) * field.declared.factor + field.declared.offset
    return Column(si, fault if fault.any() else run.good)


def _choices(field: Choice, values: Given, run: Run) -> tuple[NDArray[np.str_], NDArray[np.int32]]:
    """Turn one choice field's entries into options and faults."""
    if isinstance(values, np.ndarray):
        chosen = values.astype(np.str_, copy=False)
    else:
        chosen = np.array([str(v) for v in values], dtype=np.str_)
    unknown = ~np.isin(chosen, [option.key for option in field.options])
    fault = np.zeros(len(values), dtype=np.int32)
    if unknown.any():
        fault[unknown] = run.faults.code(
            Fault("choice", field.key, f"{field.label}: pick one from the list.")
        )
    return chosen, fault


def _looked_up(chosen: NDArray[np.str_], words: Mapping[str, str]) -> NDArray[np.str_]:
    """Return the word that goes with each option, each option looked up once."""
    options, places = np.unique(chosen, return_inverse=True)
    return np.array([words.get(str(option), "") for option in options])[places]


def _mismatch(choice: Choice, master: Choice, run: Run) -> None:
    """Give a fault where two choices don't go together, such as an inch grade on metric thread."""
    tags = {option.key: option.tag for option in choice.options if option.tag}
    wanted = {option.key: option.tag for option in master.options}
    chosen, fault = run.choices[choice.key]
    mine = _looked_up(chosen, tags)
    theirs = _looked_up(run.choices[master.key][0], wanted)
    clash = (fault == 0) & (mine != "") & (theirs != "") & (mine != theirs)
    if clash.any():
        fault = fault.copy()
        fault[clash] = run.faults.code(
            Fault(
                "choice",
                choice.key,
                f"“{choice.label}” and “{master.label}” don't go together: pick the one or the "
                "other again.",
            )
        )
        run.choices[choice.key] = (chosen, fault)


def _parts(field: Parts, values: Given, run: Run) -> list[Part]:
    """Turn a list of parts, the same for all set-ups, into symbols for each part."""
    rows = values[0]
    assert isinstance(rows, (list, tuple))
    parts = []
    for row in rows:
        symbols, choices = {}, {}
        for entry in field.fields:
            value = [row.get(entry.key, entry.default)] * len(values)
            if isinstance(entry, Number):
                symbols[entry.key] = _numbers(entry, value, run)
            else:
                choices[entry.key] = _choices(entry, value, run)
        parts.append(Part(symbols, choices))
    return parts
