"""A build file's sheets, ready for the template: worked out when the site is built, for paper."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from site_src.builds.bolt_sheet import MapSheet, map_sheet, torque_row
from site_src.builds.hold_sheet import Stage, stages
from site_src.builds.job import Job, Row, name_of
from site_src.builds.leaning import Leaning
from site_src.builds.lines import Group, Line, answer_line, entry_text, in_both, marked, origin
from site_src.builds.route_sheet import RouteSheet, route_sheet
from site_src.builds.setup import WHOSE_WORDS, Truck, exact_outcomes
from site_src.face.cells import Cell, Notes, answer_name, cell
from site_src.face.each import EachTable, each_table
from site_src.face.words import STATUS_WORDS, Reading, read_answer, worst
from site_src.lookups import boost_fields, lookup, sheets
from site_src.model.fields import Choice, Number, Parts

SET_UP = (
    *("boost", "power", "plan", "knock", "throttle", "fuel", "belt", "belt-tone", "accessory"),
    *("first-start",),
)
"""The pages whose answers are on the set-up sheet; the others have a sheet of their own."""

NEEDS = {"belt-tone": "tone", "accessory": "accessory_pulley"}
"""What must be in the file for a page to say anything of this truck at all."""

PULLEY_ANSWERS = (
    *("boost", "rotor_speed", "charge_temperature", "drive_power", "power_low", "power_high"),
)
"""What the pulley chart says of each pulley: answers of the plan."""

_LOOP = ("loop", "charge-cooling")
_ALONE = ("belt-route", "hose-run")
"""Pages with a sheet of their own."""

ENTERED_ON = (*SET_UP, *_LOOP, "wire")
"""The pages whose entries are on the set-up sheet."""

_EACH_WAY = 4
"""Pulleys on the chart to either side of the one that is on the truck."""


@dataclass(frozen=True)
class PulleyRow:
    """One pulley of the chart."""

    name: str
    current: bool
    cells: tuple[Cell, ...]
    status: str
    word: str


@dataclass(frozen=True)
class PulleyChart:
    """What each pulley would give."""

    heads: tuple[str, ...]
    rows: tuple[PulleyRow, ...]
    notes: tuple[tuple[str, str], ...]


class BuildSheets:
    """Everything that a build's page shows."""

    def __init__(self, job: Job) -> None:
        """Work nothing out yet."""
        self.job = job
        self.truck = Truck(job)
        self.leaning = Leaning(self.truck)
        self._readings: dict[str, tuple[Reading, ...]] = {}
        self.notes = {key: Notes() for key in ("set-up", "loop", *_ALONE)}

    # --- the set-up --------------------------------------------------------------------------

    @cached_property
    def entries(self) -> tuple[Group, ...]:
        """What was entered or is the maker's, under the first page that asks for it."""
        seen: set[str] = set()
        groups = []
        for page in ENTERED_ON:
            lines = tuple(self._entry_lines(page, seen))
            if lines:
                groups.append(Group(lookup(page).title, lines))
        return tuple(groups)

    def _entry_lines(self, page: str, seen: set[str]) -> Iterable[Line]:
        """Return a page's own and maker's entries that no page before had."""
        inputs = self.truck.inputs(page)
        for field, whose in self.truck.shown(page):
            name = name_of(page, field.key)
            if whose in ("own", "maker") and name not in seen and not isinstance(field, Parts):
                seen.add(name)
                text = entry_text(field, self.job.entries.get(name, inputs[field.key]))  # type: ignore[arg-type]
                yield Line(field.label, text, word=WHOSE_WORDS[whose])

    @cached_property
    def examples(self) -> tuple[str, ...]:
        """Labels of what still is an example of ours: no number of the truck stands there."""
        found: dict[str, str] = {}
        for page in ENTERED_ON:
            for field, whose in self.truck.shown(page):
                if whose == "example" and not isinstance(field, Choice):
                    found.setdefault(name_of(page, field.key), field.label)
        return tuple(dict.fromkeys(found.values()))

    @cached_property
    def numbers(self) -> tuple[Group, ...]:
        """What each page works out: what is first on it, and all that is judged."""
        return tuple(
            Group(lookup(page).title, self.answers(page))
            for page in SET_UP
            if NEEDS.get(page, "") in ("", *self.job.entries)
        )

    def answers(self, page: str, *, whole: bool = False) -> tuple[Line, ...]:
        """Return a page's answers, the first ones and what is judged, or all that there are."""
        outcome, leans = self.truck.outcome(page), self.leaning.of(page)
        notes = self.notes["loop" if page in _LOOP else page if page in _ALONE else "set-up"]
        return tuple(
            replace(
                answer_line(reading, outcome),
                leans=marked(notes, leans.get(reading.answer.key, ())),
            )
            for reading in self.readings(page)
            if not reading.left_out and (whole or reading.status or reading.answer.rank != "more")
        )

    def readings(self, page: str) -> tuple[Reading, ...]:
        """Return a page's answers."""
        if page not in self._readings:
            about, outcome = lookup(page), self.truck.outcome(page)
            self._readings[page] = tuple(read_answer(about, a, outcome) for a in about.answers)
        return self._readings[page]

    @cached_property
    def limits(self) -> tuple[Line, ...]:
        """Every rung of the plan's ladder that is near its limit or beyond it."""
        outcome = self.truck.outcome("plan")
        return tuple(
            answer_line(reading, outcome)
            for reading in self.readings("plan")
            if reading.status in ("near", "beyond")
        )

    # --- pulleys -----------------------------------------------------------------------------

    @cached_property
    def pulleys(self) -> PulleyChart:
        """What the pulleys next in size would give on this truck."""
        plan = lookup("plan")
        answers = [plan.answer(key) for key in PULLEY_ANSWERS]
        notes, rows = Notes(), []
        field = plan.numbers["blower_pulley"]
        fitted = float(self.truck.inputs("plan").get("blower_pulley") or field.default or 0.0)  # type: ignore[arg-type]
        sizes = _sizes(fitted)
        many = [{**self.truck.inputs("plan"), "blower_pulley": size} for size in sizes]
        for size, outcome in zip(sizes, exact_outcomes(plan, many), strict=True):
            judged = worst(read_answer(plan, answer, outcome) for answer in plan.answers)
            cells = tuple(cell(plan, answer, outcome, notes) for answer in answers)
            name = in_both(field.of, field.unit, field.declared.to_si(size), 1)
            status = judged.status if judged else ""
            rows.append(
                PulleyRow(name, size == fitted, cells, status, STATUS_WORDS.get(status, ""))
            )
        return PulleyChart(tuple(map(answer_name, answers)), tuple(rows), notes.listed())

    # --- belt --------------------------------------------------------------------------------

    @cached_property
    def route(self) -> RouteSheet:
        """The belt's route as its page works it out, drawn."""
        readings = self.readings("belt-route")
        return route_sheet(self.truck, {reading.answer.key: reading for reading in readings})

    # --- bolts -------------------------------------------------------------------------------

    @cached_property
    def torques(self) -> tuple[Mapping[str, str], ...]:
        """Makers' torques as their sheets print them, each beside what it works out as."""
        return tuple(
            torque_row(each) for each in self.job.figures if each.kind == sheets.TORQUE.key
        )

    @cached_property
    def other_figures(self) -> tuple[Line, ...]:
        """What makers' sheets say besides torques."""
        kinds = {kind.key: kind for kind in sheets.KINDS}
        found = []
        for each in self.job.figures:
            if each.kind == sheets.TORQUE.key:
                continue
            kind = kinds[each.kind]
            numbers = {f.key: f for f in kind.fields if isinstance(f, Number)}
            said = [*each.texts.values()]
            said += [
                f"{numbers[key].label} {entry_text(numbers[key], amount)}"
                for key, amount in each.values.items()
            ]
            found.append(Line(kind.title, ", ".join(said), words=origin(each.source, each.page)))
        return tuple(found)

    @cached_property
    def maps(self) -> tuple[MapSheet, ...]:
        """Tightening maps."""
        return tuple(map(map_sheet, self.job.maps))

    # --- hoses and loop ----------------------------------------------------------------------

    @cached_property
    def hoses(self) -> tuple[tuple[str, ...], ...]:
        """Each hose of the loop: its size, its length, its bends; none if they are an example."""
        rows = self.job.entries.get("loop_runs")
        parts = next(f for f in lookup("loop").fields if f.key == "loop_runs")
        assert isinstance(parts, Parts)
        if not isinstance(rows, tuple):
            return ()
        return tuple(_hose(parts, row, n) for n, row in enumerate(rows, 1))

    @cached_property
    def bent_hose(self) -> tuple[Line, ...]:
        """The hose whose bends were entered one by one."""
        return self.answers("hose-run") if "runs" in self.job.entries else ()

    # --- wires -------------------------------------------------------------------------------

    @cached_property
    def wires(self) -> EachTable:
        """Each circuit with its fuse and its least wire."""
        page = lookup("wire")
        assert page.views.each
        return each_table(page, page.views.each, self.truck.inputs("wire"))

    # --- hold points -------------------------------------------------------------------------

    @cached_property
    def holds(self) -> tuple[Stage, ...]:
        """Every hold point as it stands."""
        return stages(self.job.holds)


# --- words -----------------------------------------------------------------------------------


def _sizes(fitted: float) -> list[float]:
    """Return pulleys next in size to one, itself among them."""
    smaller = [size for size in boost_fields.EXAMPLES if size < fitted][-_EACH_WAY:]
    larger = [size for size in boost_fields.EXAMPLES if size > fitted][:_EACH_WAY]
    return [*smaller, fitted, *larger]


def _hose(parts: Parts, row: Row, n: int) -> tuple[str, ...]:
    """Return a hose of the cut list: number, size, side, length, bends."""
    fields = {field.key: field for field in parts.fields}

    def text(key: str) -> str:
        field = fields[key]
        given = row.get(key, field.default)
        return entry_text(field, given)

    own = str(row.get("run_size", fields["run_size"].default)) == "own"
    size = text("run_bore") if own else text("run_size")
    bends = text("run_bends")
    turns = "" if bends == "0" else f"{bends} of {text('run_angle')}, radius {text('run_radius')}"
    return (str(n), size, text("run_side"), text("run_length"), turns or "straight")
