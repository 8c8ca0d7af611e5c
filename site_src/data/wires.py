"""The wires, fuses and bundles of wires.toml as typed records, SI units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from calc.wiring import FREEZING, copper_factor, gauge_area
from site_src.data.reader import Mark, Table, read

INSULATION = (75, 80, 90, 105, 125)
"""Temperatures that kinds of insulation stand, °C: the columns of the allowed currents."""


@dataclass(frozen=True)
class Wire:
    """A size of wire, SI.

    `gauge` is its number, or for a metric size that of the next gauge size under it, whose allowed
    currents and fuse it has. `allowed` is by the temperature that the insulation stands, in °C.
    """

    key: str
    name: str
    is_metric: bool
    gauge: int
    area: float
    resistance: float
    allowed: Mapping[int, float]
    fuse: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Stands:
    """A time in s, and the multiple of its rating that a fuse stands for as long at least."""

    key: str
    time: float
    times: float


def wires() -> tuple[Wire, ...]:
    """Return the sizes, metric ones first, each from the thinnest.

    >>> wires()[4].name, wires()[4].gauge, wires()[-1].name
    ('6 mm²', 10, '2 AWG')
    """
    return _file().wires


def bundles() -> Mapping[str, float]:
    """Return the share of current left to a wire, by how many loaded ones lie together.

    >>> bundles()["4"]
    0.66
    """
    return _file().bundles


def fuses() -> tuple[float, ...]:
    """Return the ratings of fuses, A, rising.

    >>> fuses()[:6]
    (2.0, 3.0, 4.0, 5.0, 7.5, 10.0)
    """
    return _file().fuses


def stands() -> tuple[Stands, ...]:
    """Return what a fuse stands, the shortest time first.

    >>> stands()[0].times
    6.0
    """
    return _file().stands


@dataclass(frozen=True)
class _File:
    """What `wires.toml` holds."""

    wires: tuple[Wire, ...]
    bundles: Mapping[str, float]
    fuses: tuple[float, ...]
    stands: tuple[Stands, ...]


@dataclass(frozen=True)
class _Size:
    """A row of the sizes."""

    key: str
    name: str
    number: int | None
    area: float
    resistance: float
    source: str
    mark: Mark


@cache
def _file() -> _File:
    """Read the file, once."""
    return read(Path(__file__).with_suffix(".toml"), _whole)


def _whole(file: Table) -> _File:
    """Return what the file holds."""
    sizes = (
        *file.table("metric", lambda table: table.cells(_metric, unique=["key"])),
        *file.table("gauge", lambda table: table.cells(_gauge, unique=["key"])),
    )
    allowed = dict(file.table("allowed", lambda table: table.cells(_allowed, unique=["number"])))
    protected = dict(
        file.table("protected", lambda table: table.cells(_protected, unique=["number"]))
    )
    return _File(
        wires=tuple(_wire(size, allowed, protected) for size in sizes),
        bundles=dict(file.table("bundle", lambda table: table.cells(_bundle, unique=["wires"]))),
        fuses=file.table("fuse", lambda table: table.cells(_fuse, unique=["rating_A"])),
        stands=file.table("stands", lambda table: table.cells(_stands, unique=["key"])),
    )


def _metric(row: Table) -> _Size:
    """Return a metric size."""
    area = row.measure("area", "area", (0.1, 150))
    return _Size(
        key=row.text("key"),
        name=f"{1e6 * area:g} mm²",
        number=None,
        area=area,
        resistance=row.measure("resistance_20", "resistance_per_length", (0.05, 100)),
        source=row.source(),
        mark=row.mark(),
    )


def _gauge(row: Table) -> _Size:
    """Return a gauge size; its resistance is brought from 75 to 20 °C."""
    number = row.whole("number", 0, 36)
    warm = row.measure("resistance_75", "resistance_per_length", (0.05, 100))
    return _Size(
        key=row.text("key"),
        name=f"{number} AWG",
        number=number,
        area=float(gauge_area(float(number))),
        resistance=warm / float(copper_factor(FREEZING + 75.0)),
        source=row.source(),
        mark=row.mark(),
    )


def _wire(
    size: _Size, allowed: Mapping[int, Mapping[int, float]], protected: Mapping[int, float]
) -> Wire:
    """Return a size with what it may carry: a metric one by the next gauge size under it."""
    number = size.number
    if number is None:
        number = min(n for n in allowed if gauge_area(float(n)) <= size.area)
    return Wire(
        size.key,
        size.name,
        size.number is None,
        number,
        size.area,
        size.resistance,
        allowed[number],
        protected[number],
        size.source,
        size.mark,
    )


def _allowed(row: Table) -> tuple[int, Mapping[int, float]]:
    """Return the allowed currents of a gauge size."""
    row.source(), row.mark()
    return row.whole("number", 0, 36), {
        limit: row.measure(f"c{limit}", "current", (1, 600)) for limit in INSULATION
    }


def _protected(row: Table) -> tuple[int, float]:
    """Return the largest fuse of a gauge size."""
    row.source(), row.mark()
    return row.whole("number", 0, 36), row.measure("fuse", "current", (1, 600))


def _bundle(row: Table) -> tuple[str, float]:
    """Return the share left to each of so many wires."""
    row.source(), row.mark()
    return str(row.whole("wires", 1, 40)), row.measure("share", "ratio", (0.1, 1))


def _fuse(row: Table) -> float:
    """Return a rating."""
    row.source(), row.mark()
    return row.measure("rating", "current", (0.5, 600))


def _stands(row: Table) -> Stands:
    """Return what a fuse stands."""
    row.source(), row.mark()
    return Stands(
        key=row.text("key"),
        time=row.measure("time", "time", (1, 1e6)),
        times=row.measure("times", "ratio", (1, 20)),
    )
