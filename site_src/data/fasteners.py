"""Threads, grades, friction, heads, tapped materials and wrenches from their tables, in SI."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Protocol, TypeVar

from calc import fasteners, threads

METRIC = "metric"
INCH = "inch"

_UNITS = {
    "mm": 1e-3,
    "in": 0.0254,
    "MPa": 1e6,
    "GPa": 1e9,
    "ksi": 6_894_757.293168361,
    "Nm": 1.0,
}


class _Keyed(Protocol):
    """Anything that a page can pick by its key."""

    @property
    def key(self) -> str: ...


_Row = TypeVar("_Row", bound=_Keyed)


@dataclass(frozen=True)
class Thread:
    """A thread: its table row in metres, and what follows from it at the worst limits."""

    key: str
    label: str
    system: str
    nominal: str
    series: str
    diameter: float
    pitch: float
    clear_hole: float
    nut_height: float
    source: str
    mark: str

    @property
    def pitch_diameter(self) -> float:
        """Basic pitch diameter in metres."""
        return float(threads.pitch_diameter(self.diameter, self.pitch))

    @property
    def stress_area(self) -> float:
        """Stress area in square metres."""
        rule = threads.stress_area if self.system == METRIC else threads.stress_area_unified
        return float(rule(self.diameter, self.pitch))

    @property
    def external_shear_rate(self) -> float:
        """Shear area of the bolt's thread per length engaged, in metres (6g in 6H, 2A in 2B)."""
        if self.system == METRIC:
            pitch_min = threads.pitch_min_6g(self.diameter, self.pitch)
            bore_max = threads.minor_max_6h(self.diameter, self.pitch)
        else:
            pitch_min = threads.pitch_min_2a(self.diameter, self.pitch)
            bore_max = threads.minor_max_2b(self.diameter, self.pitch)
        return float(threads.external_shear_rate(self.pitch, pitch_min, bore_max))

    @property
    def internal_shear_rate(self) -> float:
        """Shear area of the tapped thread per length engaged, in metres (6g in 6H, 2A in 2B)."""
        if self.system == METRIC:
            major_min = threads.major_min_6g(self.diameter, self.pitch)
            pitch_max = threads.pitch_max_6h(self.diameter, self.pitch)
        else:
            major_min = threads.major_min_2a(self.diameter, self.pitch)
            pitch_max = threads.pitch_max_2b(self.diameter, self.pitch)
        return float(threads.internal_shear_rate(self.pitch, major_min, pitch_max))


@dataclass(frozen=True)
class Grade:
    """A property class or grade: strengths in pascals, good up to a nominal diameter in metres."""

    key: str
    label: str
    system: str
    largest: float
    proof: float
    yield_strength: float
    tensile: float
    shear_ratio: float
    source: str
    mark: str
    note: str

    @property
    def shear_strength(self) -> float:
        """Shear strength of the bolt's thread in pascals."""
        return self.shear_ratio * self.tensile

    def fits(self, thread: Thread) -> bool:
        """Whether bolts of that thread are made to this grade, and its figures hold for them."""
        return self.system == thread.system and thread.diameter <= self.largest + 1e-9


@dataclass(frozen=True)
class Friction:
    """Coefficients of friction, alike in thread and under head, for a surface and a lubricant."""

    key: str
    label: str
    low: float
    nominal: float
    high: float
    source: str
    mark: str
    note: str


@dataclass(frozen=True)
class NutFactor:
    """A nut factor K of the short form T = K F d."""

    key: str
    label: str
    factor: float
    source: str
    mark: str


@dataclass(frozen=True)
class Head:
    """A kind of head on one nominal size: the diameter of its bearing face in metres."""

    key: str
    label: str
    system: str
    nominal: str
    bearing: float
    source: str
    mark: str

    def bearing_mean(self, thread: Thread) -> float:
        """Mean diameter in metres at which friction under the head acts on a thread's hole."""
        return float(fasteners.mean_bearing_diameter(self.bearing, thread.clear_hole))


@dataclass(frozen=True)
class TappedMaterial:
    """What a bolt is screwed into: strengths and modulus in pascals, and the rule of diameters."""

    key: str
    label: str
    tensile: float
    shear_strength: float
    modulus: float
    guide_diameters: float
    guide_source: str
    source: str
    mark: str


@dataclass(frozen=True)
class WrenchKind:
    """A kind of torque tool: permitted deviation, and the shares of its range that are tested."""

    key: str
    label: str
    deviation_small: float
    deviation: float
    small_up_to: float
    usable_from: float
    usable_to: float
    source: str
    mark: str

    def deviation_for(self, largest: float) -> float:
        """Permitted deviation of a wrench with that largest torque in newton metres."""
        return self.deviation_small if largest <= self.small_up_to else self.deviation


@cache
def all_threads() -> tuple[Thread, ...]:
    """Every thread, metric first, by size and from coarse to fine.

    >>> all_threads()[0].label
    'M5 × 0.8 coarse'
    """
    table = _read("threads")
    sizes = {size["nominal"]: size for size in table["size"]}
    return tuple(_thread(row, sizes[row["nominal"]]) for row in table["thread"])


@cache
def all_grades() -> tuple[Grade, ...]:
    """Every property class and grade, metric first.

    >>> [grade.key for grade in all_grades()][:3]
    ['8.8', '10.9', '12.9']
    """
    return tuple(_grade(row) for row in _read("fastener_grades")["grade"])


@cache
def all_friction() -> tuple[Friction, ...]:
    """Every surface and lubricant.

    >>> all_friction()[0].nominal
    0.12
    """
    return tuple(Friction(**row) for row in _read("friction")["friction"])


@cache
def all_nut_factors() -> tuple[NutFactor, ...]:
    """Every nut factor of the short form.

    >>> all_nut_factors()[0].factor
    0.2
    """
    return tuple(NutFactor(**row) for row in _read("friction")["nut_factor"])


@cache
def all_heads() -> tuple[Head, ...]:
    """Every kind of head on every size.

    >>> all_heads()[0].label
    'Hex head'
    """
    return tuple(head for row in _read("heads")["head"] for head in _heads(row))


@cache
def all_tapped_materials() -> tuple[TappedMaterial, ...]:
    """Every material to screw into, aluminium first.

    >>> all_tapped_materials()[0].shear_strength
    143000000.0
    """
    return tuple(_tapped_material(row) for row in _read("tapped_materials")["material"])


@cache
def all_wrench_kinds() -> tuple[WrenchKind, ...]:
    """Every kind of torque tool.

    >>> all_wrench_kinds()[0].deviation_for(60.0)
    0.04
    """
    return tuple(_wrench_kind(row) for row in _read("wrenches")["wrench"])


def thread(key: str) -> Thread:
    """Thread of that key.

    >>> round(thread("M8x1.25").stress_area * 1e6, 1)
    36.6
    """
    return _pick("thread", key, all_threads())


def grade(key: str) -> Grade:
    """Property class or grade of that key.

    >>> grade("10.9").yield_strength
    940000000.0
    """
    return _pick("grade", key, all_grades())


def friction(key: str) -> Friction:
    """Surface and lubricant of that key.

    >>> friction("moly_paste").high
    0.1
    """
    return _pick("friction", key, all_friction())


def nut_factor(key: str) -> NutFactor:
    """Nut factor of that key.

    >>> nut_factor("zinc").factor
    0.2
    """
    return _pick("nut factor", key, all_nut_factors())


def head(key: str, on: Thread) -> Head:
    """Kind of head of that key on the size of a thread.

    >>> head("hex", thread("M8x1")).bearing
    0.01163
    """
    same_size = [entry for entry in all_heads() if entry.nominal == on.nominal]
    return _pick(f"head for {on.nominal}", key, same_size)


def tapped_material(key: str) -> TappedMaterial:
    """Material to screw into of that key.

    >>> tapped_material("mild_steel").guide_diameters
    1.0
    """
    return _pick("tapped material", key, all_tapped_materials())


def wrench_kind(key: str) -> WrenchKind:
    """Kind of torque tool of that key.

    >>> wrench_kind("click").deviation_for(5.0)
    0.06
    """
    return _pick("wrench", key, all_wrench_kinds())


def grades_for(on: Thread) -> tuple[Grade, ...]:
    """Property classes or grades that a thread is made to.

    >>> [entry.key for entry in grades_for(thread("3/8-16"))]
    ['sae2', 'sae5', 'sae8']
    """
    return tuple(entry for entry in all_grades() if entry.fits(on))


def heads_for(on: Thread) -> tuple[Head, ...]:
    """Kinds of head that a thread is made with.

    >>> [entry.key for entry in heads_for(thread("3/8-16"))]
    ['hex', 'hex_flange', 'socket_cap']
    """
    return tuple(entry for entry in all_heads() if entry.nominal == on.nominal)


def _read(name: str) -> dict[str, Any]:
    """Table of that name beside this file."""
    path = Path(__file__).with_name(f"{name}.toml")
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _pick(what: str, key: str, rows: Iterable[_Row]) -> _Row:
    """Row of that key, or an error that names the choices."""
    known = {row.key: row for row in rows}
    if key not in known:
        raise KeyError(f"{what} {key!r} is not one of {', '.join(known)}")
    return known[key]


def _si(row: dict[str, Any], name: str) -> float:
    """SI value of the entry whose name ends in its unit."""
    for unit, size in _UNITS.items():
        if f"{name}_{unit}" in row:
            return float(row[f"{name}_{unit}"]) * size
    raise KeyError(f"{name} with a unit is missing in {row}")


def _thread(row: dict[str, Any], size: dict[str, Any]) -> Thread:
    """Thread from its row and the row of its size."""
    pitch = 0.0254 / row["threads_per_inch"] if "threads_per_inch" in row else _si(row, "pitch")
    return Thread(
        key=row["key"],
        label=row["label"],
        system=size["system"],
        nominal=row["nominal"],
        series=row["series"],
        diameter=_si(size, "diameter"),
        pitch=pitch,
        clear_hole=_si(size, "clear_hole"),
        nut_height=_si(size, "nut_height"),
        source=f"{row['source']}; {size['source']}",
        mark=size["mark"],
    )


def _grade(row: dict[str, Any]) -> Grade:
    """Grade from its row."""
    return Grade(
        key=row["key"],
        label=row["label"],
        system=row["system"],
        largest=_si(row, "largest"),
        proof=_si(row, "proof"),
        yield_strength=_si(row, "yield"),
        tensile=_si(row, "tensile"),
        shear_ratio=row["shear_ratio"],
        source=row["source"],
        mark=row["mark"],
        note=row["note"],
    )


def _heads(row: dict[str, Any]) -> list[Head]:
    """One head a size from the row of a kind."""
    unit = "mm" if row["system"] == METRIC else "in"
    return [
        Head(
            key=row["key"],
            label=row["label"],
            system=row["system"],
            nominal=nominal,
            bearing=float(bearing) * _UNITS[unit],
            source=row["source"],
            mark=row["mark"],
        )
        for nominal, bearing in row[f"bearing_{unit}"].items()
    ]


def _tapped_material(row: dict[str, Any]) -> TappedMaterial:
    """Tapped material from its row."""
    return TappedMaterial(
        key=row["key"],
        label=row["label"],
        tensile=_si(row, "tensile"),
        shear_strength=_si(row, "shear"),
        modulus=_si(row, "modulus"),
        guide_diameters=row["guide_diameters"],
        guide_source=row["guide_source"],
        source=row["source"],
        mark=row["mark"],
    )


def _wrench_kind(row: dict[str, Any]) -> WrenchKind:
    """Wrench kind from its row."""
    return WrenchKind(
        key=row["key"],
        label=row["label"],
        deviation_small=row["deviation_small"],
        deviation=row["deviation"],
        small_up_to=_si(row, "small_up_to"),
        usable_from=row["usable_from"],
        usable_to=row["usable_to"],
        source=row["source"],
        mark=row["mark"],
    )
