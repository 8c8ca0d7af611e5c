"""The shop's build files: one TOML file for each set-up, read into SI and checked.

`site_src/data/reader.py` reads them and refuses what is wrong with a `DataError`. What a file can't
show by itself, whether the belt runs, is for `calc.belt_route` to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, get_args

from calc import belts
from calc.belt_route import Point, Pulley, Turn
from calc.belt_tensioner import Arm, Slot, move_tensioner
from site_src.data.belts import Figure, Section, section, sections
from site_src.data.reader import Table, read

Role = Literal["crank", "blower", "idler", "tensioner"]
Side = Literal["ribs", "back"]
DiameterKind = Literal["effective", "outside", "over balls", "pitch", "smooth"]
Travel = Literal["clockwise", "counter-clockwise"]

ROLES: tuple[Role, ...] = get_args(Role)
SIDES: tuple[Side, ...] = get_args(Side)
TRAVELS: tuple[Travel, ...] = get_args(Travel)

ACROSS = (-2000.0, 2000.0)
"""Where the belt's plane ends, in mm from the crank."""


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
    return read(path, lambda file: _build(file, path.stem))


def _build(file: Table, key: str) -> Build:
    """Return a build."""
    belt = file.table("belt", _belt)
    pulleys = file.rows("pulley", lambda row: _pulley(row, belt.section), unique=["name"])
    _check_roles(file, [pulley for pulley, _ in pulleys])
    return Build(
        key=key,
        title=file.text("title"),
        note=file.text("note"),
        engine=file.table("engine", _engine),
        blower=file.table("blower", _blower),
        belt=belt,
        pulleys=tuple(pulley for pulley, _ in pulleys),
        tensioner=next(path for _, path in pulleys if path is not None),
    )


def _engine(table: Table) -> Engine:
    """Return the engine."""
    return Engine(
        displacement=table.measure("displacement", "displacement", (0.5, 20)),
        speed_limit=table.measure("speed_limit", "rotation", (1000, 12000)),
    )


def _blower(table: Table) -> Blower:
    """Return the blower."""
    return Blower(
        displacement_per_rev=table.measure("displacement_per_rev", "displacement", (0.2, 10)),
        built_in_pressure_ratio=table.measure("built_in_pressure_ratio", "ratio", (1, 3)),
        gear_ratio=table.measure("gear_ratio", "ratio", (0.2, 10)),
        speed_limit=table.measure("speed_limit", "rotation", (1000, 40000)),
    )


def _belt(table: Table) -> Belt:
    """Return the belt."""
    return Belt(
        section=section(table.choice("section", [known.key for known in sections()])),
        ribs=table.whole("ribs", 1, 40),
        travel=table.choice("travel", TRAVELS),
        clearance=table.measure("clearance", "length", (0, 50)),
        stock_effective_lengths=table.measures("stock_effective_lengths", "length", (300, 5000)),
    )


def _pulley(table: Table, belt: Section) -> tuple[PulleySpec, Slot | Arm | None]:
    """Return a pulley, and the slot or the arm of one that is the tensioner."""
    role = table.choice("role", ROLES)
    side = table.choice("side", SIDES)
    path = _tensioner(table) if role == "tensioner" else None
    pulley = PulleySpec(
        name=table.text("name"),
        role=role,
        center=path.center(0.0) if path else _center(table),
        diameter=table.measure("diameter", "length", (20, 500)),
        diameter_kind=table.choice("diameter_kind", _kinds(side, belt)),
        side=side,
        minimum_wrap=table.measure("minimum_wrap", "angle", (0, 300)),
    )
    return pulley, path


def _center(table: Table) -> Point:
    """Return the centre of a pulley that stays where it is."""
    return table.measure("x", "length", ACROSS), table.measure("y", "length", ACROSS)


def _kinds(side: Side, belt: Section) -> tuple[DiameterKind, ...]:
    """Return the kinds of diameter that a pulley can have.

    A pulley in the ribs has no smooth face, a smooth idler has no grooves, and a section may lack
    the figure that a kind needs.
    """
    kinds: dict[DiameterKind, bool] = {
        "effective": side == "ribs",
        "outside": side == "ribs" and belt.tip_height is not None,
        "over balls": side == "ribs" and belt.ball_excess is not None,
        "pitch": True,
        "smooth": side == "back" and belt.back_height is not None,
    }
    return tuple(kind for kind, possible in kinds.items() if possible)


def _tensioner(table: Table) -> Slot | Arm:
    """Return the slot or the arm of a tensioner, which has one of the two."""
    slot, arm = table.has("slot"), table.has("arm")
    if slot == arm:
        found = "given as both" if slot else "missing"
        way_out = "Give the tensioner its slot or its arm."
        raise table.refuse("slot or arm", found, "one of the two", way_out)
    return table.table("slot", _slot) if slot else table.table("arm", _arm)


def _slot(table: Table) -> Slot:
    """Return a slot from the two ends of the centre's path."""
    slack, tight = _point(table, "slack"), _point(table, "tight")
    if slack == tight:
        raise table.refuse("tight", "where slack is", "another point", "Measure both ends again.")
    return Slot(slack, tight)


def _arm(table: Table) -> Arm:
    """Return an arm from its pivot, its length and the two ends of its swing."""
    arm = Arm(
        _point(table, "pivot"),
        table.measure("radius", "length", (10, 500)),
        table.measure("slack", "angle", (-360, 360)),
        table.measure("tight", "angle", (-360, 360)),
    )
    if arm.slack_angle == arm.tight_angle:
        raise table.refuse("tight", "where slack is", "another angle", "Measure both ends again.")
    return arm


def _point(table: Table, name: str) -> Point:
    """Return a point from its two distances from the crank."""
    x, y = table.measures(name, "length", ACROSS, 2)
    return x, y


def _check_roles(file: Table, pulleys: Sequence[PulleySpec]) -> None:
    """Refuse a build without one crank, one blower and one tensioner, the first two on the ribs."""
    for role in ("crank", "blower", "tensioner"):
        found = [place for place, pulley in enumerate(pulleys) if pulley.role == role]
        if len(found) != 1:
            way_out = f"Give one pulley the role {role}."
            raise file.refuse(f"number of pulleys with role {role}", str(len(found)), "1", way_out)
        if role != "tensioner" and pulleys[found[0]].side != "ribs":
            what, way_out = f"side of the {role}", "Only an idler or tensioner can run on the back."
            raise file.refuse(what, '"back"', '"ribs"', way_out)


def _turn(travel: Travel, side: Side) -> Turn:
    """Return the way a pulley turns: with the belt inside its loop, against it outside."""
    return 1 if (travel == "counter-clockwise") == (side == "ribs") else -1


def _known(figure: Figure | None) -> float:
    """Return a figure that the checks made sure is there."""
    if figure is None:
        raise ValueError("the section lacks a figure that its diameter kind needs")
    return figure.value
