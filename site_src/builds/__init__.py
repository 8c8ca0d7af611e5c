"""The shop's build files: one TOML file for each set-up, read into SI and checked.

A file that is wrong is refused with its name, the key, the value and what is allowed. What a file
can't show by itself, whether the belt runs, is for `calc.belt_route` to say.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, TypeGuard, TypeVar, get_args

from calc import belts
from calc.belt_route import Point, Pulley, Turn
from calc.belt_tensioner import Arm, Slot, move_tensioner
from site_src.data.belts import Figure, Section, section, sections

Role = Literal["crank", "blower", "idler", "tensioner"]
Side = Literal["ribs", "back"]
DiameterKind = Literal["effective", "outside", "over balls", "pitch", "smooth"]
Travel = Literal["clockwise", "counter-clockwise"]

Word = TypeVar("Word", bound=str)

# Units per SI unit: dividing by a whole number rounds once, so 1255 mm is 1.255 m to the last bit.
_MM = 1000.0
_LITRES = 1000.0
_RPM = 60.0


class BuildFileError(ValueError):
    """A build file that can't be used: which file and key, what is there, what is allowed."""

    def __init__(self, file: str, key: str, found: object, allowed: str) -> None:
        """Say it in one line."""
        super().__init__(f"{file}: {key} is {found}, allowed is {allowed}")


@dataclass(frozen=True)
class Engine:
    """Swept volume of all cylinders in cubic metres, highest speed in revolutions per second."""

    displacement: float
    speed_limit: float


@dataclass(frozen=True)
class Blower:
    """Volume per rotor-shaft turn in cubic metres; gears between pulley and rotors; limits."""

    displacement_per_rev: float
    built_in_pressure_ratio: float
    gear_ratio: float
    speed_limit: float


@dataclass(frozen=True)
class Belt:
    """Section, ribs, way the belt goes seen from the front, space to keep, lengths in stock."""

    section: Section
    ribs: int
    travel: Travel
    clearance: float
    stock_effective_lengths: tuple[float, ...]


@dataclass(frozen=True)
class PulleySpec:
    """A pulley as measured, in metres and radians; the tensioner's centre is its slack end."""

    name: str
    role: Role
    center: Point
    diameter: float
    diameter_kind: DiameterKind
    side: Side
    minimum_wrap: float

    def pitch_diameter(self, belt: Section) -> float:
        """Diameter on which the cord of a belt of that section runs."""
        diameter = self.diameter
        if self.diameter_kind == "pitch":
            return diameter
        if self.diameter_kind == "smooth":
            return float(belts.pitch_diameter_of_back_idler(diameter, _known(belt.back_height)))
        if self.diameter_kind == "outside":
            diameter = float(
                belts.effective_diameter_from_outside(diameter, _known(belt.tip_height))
            )
        elif self.diameter_kind == "over balls":
            diameter = float(
                belts.effective_diameter_from_balls(diameter, _known(belt.ball_excess))
            )
        return float(belts.pitch_diameter_from_effective(diameter, belt.line_differential.value))


@dataclass(frozen=True)
class Build:
    """One set-up: engine, blower, belt, pulleys in the order of travel, and the tensioner."""

    key: str
    title: str
    note: str
    engine: Engine
    blower: Blower
    belt: Belt
    pulleys: tuple[PulleySpec, ...]
    tensioner: Slot | Arm

    def place(self, role: Role) -> int:
        """Place of the crank, blower or tensioner in the order of travel."""
        return [pulley.role for pulley in self.pulleys].index(role)

    @property
    def minimum_wraps(self) -> tuple[float, ...]:
        """Least contact angle of each pulley, in radians."""
        return tuple(pulley.minimum_wrap for pulley in self.pulleys)

    @property
    def tensioner_is_slack_side(self) -> bool:
        """Whether the tensioner works on the runs that leave the crank, where it belongs."""
        count, crank = len(self.pulleys), self.place("crank")
        return (self.place("tensioner") - crank) % count < (self.place("blower") - crank) % count

    def route_pulleys(self, position: float = 0.0) -> tuple[Pulley, ...]:
        """Pulleys for `calc.belt_route`, the tensioner at a position from 0, slack, to 1, tight."""
        pulleys = [
            Pulley(
                pulley.name,
                *pulley.center,
                pulley.pitch_diameter(self.belt.section) / 2.0,
                _turn(self.belt.travel, pulley.side),
            )
            for pulley in self.pulleys
        ]
        return move_tensioner(pulleys, self.place("tensioner"), self.tensioner, position)


def load_builds(folder: Path = Path(__file__).parent) -> tuple[Build, ...]:
    """Every build file of a folder, by file name.

    >>> [build.key for build in load_builds()]
    ['gravel_hauler', 'timber_wagon']
    """
    return tuple(load_build(path) for path in sorted(folder.glob("*.toml")))


def load_build(path: Path) -> Build:
    """One build file.

    >>> load_build(Path(__file__).with_name("gravel_hauler.toml")).belt.ribs
    8
    """
    try:
        entries = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BuildFileError(path.name, "the file", error, "TOML in UTF-8") from error
    top = _Table(path.name, "", entries)
    pulley_tables = top.tables("pulley")
    belt = _belt(top.table("belt"))
    build = Build(
        path.stem,
        top.text("title"),
        top.text("note"),
        _engine(top.table("engine")),
        _blower(top.table("blower")),
        belt,
        tuple(_pulley(table, belt.section) for table in pulley_tables),
        _only_tensioner(path.name, pulley_tables),
    )
    for table in (top, *pulley_tables):
        table.refuse_others()
    _check_roles(path.name, build)
    return build


class _Table:
    """A table of a build file that reports what it lacks, and what it has too much."""

    def __init__(self, file: str, name: str, entries: dict[str, Any]) -> None:
        """Keep the file's and the table's names for the messages."""
        self.file, self.name, self.entries = file, name, entries
        self.read: set[str] = set()

    def error(self, key: str, allowed: str) -> BuildFileError:
        """The error for a key of this table."""
        found = repr(self.entries[key]) if key in self.entries else "missing"
        return BuildFileError(self.file, f"{self.name}{key}", found, allowed)

    def get(self, key: str) -> object:
        """A value as written, or None."""
        self.read.add(key)
        return self.entries.get(key)

    def text(self, key: str) -> str:
        """Some words."""
        value = self.get(key)
        if not isinstance(value, str) or not value.strip():
            raise self.error(key, "some text")
        return value

    def choice(self, key: str, options: tuple[Word, ...]) -> Word:
        """One of several words."""
        value = self.get(key)
        for option in options:
            if value == option:
                return option
        raise self.error(key, " or ".join(f'"{option}"' for option in options))

    def number(self, key: str, low: float, high: float) -> float:
        """A number within limits, in the unit that the key names."""
        value = self.get(key)
        if not _is_number(value) or not low <= value <= high:
            raise self.error(key, f"a number from {low:g} to {high:g}")
        return float(value)

    def numbers(self, key: str, low: float, high: float, count: int | None = None) -> list[float]:
        """A list of numbers within limits."""
        values = self.get(key)
        if isinstance(values, list) and values and count in (None, len(values)):
            found = [float(value) for value in values if _is_number(value) and low <= value <= high]
            if len(found) == len(values):
                return found
        how_many = "one or more" if count is None else str(count)
        raise self.error(key, f"a list of {how_many} numbers from {low:g} to {high:g}")

    def table(self, key: str) -> _Table:
        """A table inside this one."""
        value = self.get(key)
        if not isinstance(value, dict):
            raise self.error(key, f"a table [{self.name}{key}]")
        return _Table(self.file, f"{self.name}{key}.", value)

    def tables(self, key: str) -> list[_Table]:
        """A list of tables inside this one."""
        values = self.get(key)
        if not isinstance(values, list) or not all(isinstance(value, dict) for value in values):
            raise self.error(key, f"tables [[{key}]]")
        return [
            _Table(self.file, f"{key} {place}.", value) for place, value in enumerate(values, 1)
        ]

    def refuse_others(self) -> None:
        """Refuse keys that nobody asked for: they are misspelt."""
        for key in self.entries:
            if key not in self.read:
                raise BuildFileError(
                    self.file, f"{self.name}{key}", "unknown", ", ".join(sorted(self.read))
                )


def _is_number(value: object) -> TypeGuard[float]:
    """Whether a value is a finite number; true and false are not."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _engine(table: _Table) -> Engine:
    """The engine."""
    engine = Engine(
        table.number("displacement_l", 0.5, 20) / _LITRES,
        table.number("speed_limit_rpm", 1000, 12000) / _RPM,
    )
    table.refuse_others()
    return engine


def _blower(table: _Table) -> Blower:
    """The blower."""
    blower = Blower(
        table.number("displacement_l_per_rev", 0.2, 10) / _LITRES,
        table.number("built_in_pressure_ratio", 1, 3),
        table.number("gear_ratio", 0.2, 10),
        table.number("speed_limit_rpm", 1000, 40000) / _RPM,
    )
    table.refuse_others()
    return blower


def _belt(table: _Table) -> Belt:
    """The belt."""
    key = table.choice("section", tuple(known.key for known in sections()))
    ribs = table.number("ribs", 1, 40)
    if ribs != int(ribs):
        raise table.error("ribs", "a whole number from 1 to 40")
    belt = Belt(
        section(key),
        int(ribs),
        table.choice("travel", get_args(Travel)),
        table.number("clearance_mm", 0, 50) / _MM,
        tuple(mm / _MM for mm in table.numbers("stock_effective_lengths_mm", 300, 5000)),
    )
    table.refuse_others()
    return belt


def _pulley(table: _Table, belt: Section) -> PulleySpec:
    """A pulley, its tensioner's slot or arm apart."""
    role: Role = table.choice("role", get_args(Role))
    side: Side = table.choice("side", get_args(Side))
    center = (
        _tensioner(table).center(0.0)
        if role == "tensioner"
        else (table.number("x_mm", -2000, 2000) / _MM, table.number("y_mm", -2000, 2000) / _MM)
    )
    return PulleySpec(
        table.text("name"),
        role,
        center,
        table.number("diameter_mm", 20, 500) / _MM,
        table.choice("diameter_kind", _kinds(side, belt)),
        side,
        math.radians(table.number("minimum_wrap_deg", 0, 300)),
    )


def _kinds(side: Side, belt: Section) -> tuple[DiameterKind, ...]:
    """Kinds of diameter that make sense: grooves are not smooth, a smooth idler has no grooves."""
    kinds: dict[DiameterKind, bool] = {
        "effective": side == "ribs",
        "outside": side == "ribs" and belt.tip_height is not None,
        "over balls": side == "ribs" and belt.ball_excess is not None,
        "pitch": True,
        "smooth": side == "back" and belt.back_height is not None,
    }
    return tuple(kind for kind, possible in kinds.items() if possible)


def _tensioner(table: _Table) -> Slot | Arm:
    """The slot or the arm of a tensioner."""
    if ("slot" in table.entries) == ("arm" in table.entries):
        raise BuildFileError(
            table.file, f"{table.name}slot and arm", "both or neither", "one of the two"
        )
    return _slot(table.table("slot")) if "slot" in table.entries else _arm(table.table("arm"))


def _slot(table: _Table) -> Slot:
    """A slot from the two ends of the centre's path."""
    slack, tight = (
        table.numbers("slack_mm", -2000, 2000, 2),
        table.numbers("tight_mm", -2000, 2000, 2),
    )
    table.refuse_others()
    if slack == tight:
        raise table.error("tight_mm", "another point than slack_mm")
    return Slot((slack[0] / _MM, slack[1] / _MM), (tight[0] / _MM, tight[1] / _MM))


def _arm(table: _Table) -> Arm:
    """An arm from its pivot, its length and the two ends of its swing."""
    x, y = table.numbers("pivot_mm", -2000, 2000, 2)
    arm = Arm(
        (x / _MM, y / _MM),
        table.number("radius_mm", 10, 500) / _MM,
        math.radians(table.number("slack_deg", -360, 360)),
        math.radians(table.number("tight_deg", -360, 360)),
    )
    table.refuse_others()
    if arm.slack_angle == arm.tight_angle:
        raise table.error("tight_deg", "another angle than slack_deg")
    return arm


def _only_tensioner(file: str, tables: list[_Table]) -> Slot | Arm:
    """The tensioner of a build, which has one."""
    found = [table for table in tables if table.entries.get("role") == "tensioner"]
    if len(found) != 1:
        raise BuildFileError(file, "number of pulleys with role tensioner", len(found), "1")
    return _tensioner(found[0])


def _check_roles(file: str, build: Build) -> None:
    """Refuse a build without one crank and one blower, both on the ribs, or with twin names."""
    for role in ("crank", "blower"):
        found = [pulley for pulley in build.pulleys if pulley.role == role]
        if len(found) != 1:
            raise BuildFileError(file, f"number of pulleys with role {role}", len(found), "1")
        if found[0].side != "ribs":
            raise BuildFileError(file, f"side of the {role}", f'"{found[0].side}"', '"ribs"')
    names = [pulley.name for pulley in build.pulleys]
    for name in names:
        if names.count(name) > 1:
            raise BuildFileError(file, "pulley name", f'"{name}" twice', "each name once")


def _turn(travel: Travel, side: Side) -> Turn:
    """Way a pulley turns: with the belt inside its loop, against it outside."""
    return 1 if (travel == "counter-clockwise") == (side == "ribs") else -1


def _known(figure: Figure | None) -> float:
    """A figure that the checks made sure is there."""
    if figure is None:
        raise ValueError("the section lacks a figure that its diameter kind needs")
    return figure.value
