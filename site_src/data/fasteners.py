"""Threads, grades, friction, heads, tapped materials and wrenches from their tables, in SI."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Literal, Protocol, TypeVar, get_args

from calc import fasteners, threads
from site_src.data.reader import MARKS, Mark, Table, read
from site_src.model.quantities import quantity

System = Literal["metric", "inch"]
Series = Literal["coarse", "fine"]
SYSTEMS: tuple[System, ...] = get_args(System)
SERIES: tuple[Series, ...] = get_args(Series)
METRIC, INCH = SYSTEMS

_FOLDER = Path(__file__).parent
_INCH = quantity("length").unit("in").factor


class _Keyed(Protocol):
    """Anything that a page can pick by its key."""

    @property
    def key(self) -> str: ...


_Row = TypeVar("_Row", bound=_Keyed)
_Entry = TypeVar("_Entry")


@dataclass(frozen=True)
class Thread:
    """A thread: its table row in metres, and what follows from it at the worst limits."""

    key: str
    label: str
    system: System
    nominal: str
    series: Series
    diameter: float
    pitch: float
    clear_hole: float
    nut_height: float
    source: str
    mark: Mark

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
    system: System
    largest: float
    proof: float
    yield_strength: float
    tensile: float
    shear_ratio: float
    source: str
    mark: Mark
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
    mark: Mark
    note: str


@dataclass(frozen=True)
class NutFactor:
    """A nut factor K of the short form T = K F d."""

    key: str
    label: str
    factor: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Head:
    """A kind of head on one nominal size: the diameter of its bearing face in metres."""

    key: str
    label: str
    system: System
    nominal: str
    bearing: float
    source: str
    mark: Mark

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
    mark: Mark


@dataclass(frozen=True)
class Clamped:
    """What lies under the head: the pressure that it bears and its modulus, in pascals."""

    key: str
    label: str
    bears: float
    modulus: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Washer:
    """A plain hard washer for one nominal size: outside diameter and thickness in metres."""

    nominal: str
    outside: float
    thickness: float
    source: str
    mark: Mark


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
    mark: Mark

    def deviation_for(self, largest: float) -> float:
        """Permitted deviation of a wrench with that largest torque in newton metres."""
        return self.deviation_small if largest <= self.small_up_to else self.deviation


def all_threads() -> tuple[Thread, ...]:
    """Every thread, metric first, by size and from coarse to fine.

    >>> all_threads()[0].label
    'M4 × 0.7 coarse'
    """
    return _threads_file().threads


def all_grades() -> tuple[Grade, ...]:
    """Every property class and grade, metric first.

    >>> [grade.key for grade in all_grades()][:3]
    ['8.8', '10.9', '12.9']
    """
    return _grades_file().grades


def all_friction() -> tuple[Friction, ...]:
    """Every surface and lubricant.

    >>> all_friction()[0].nominal
    0.12
    """
    return _friction_file().surfaces


def all_nut_factors() -> tuple[NutFactor, ...]:
    """Every nut factor of the short form.

    >>> all_nut_factors()[0].factor
    0.2
    """
    return _friction_file().nut_factors


def all_heads() -> tuple[Head, ...]:
    """Every kind of head on every size.

    >>> all_heads()[0].label
    'Hex head'
    """
    return _heads_file().heads


def all_tapped_materials() -> tuple[TappedMaterial, ...]:
    """Every material to screw into, aluminium first.

    >>> all_tapped_materials()[0].shear_strength
    143000000.0
    """
    return _materials_file().tapped


def all_clamped() -> tuple[Clamped, ...]:
    """Every material that may lie under a head, aluminium first.

    >>> all_clamped()[0].bears
    220000000.0
    """
    return _materials_file().clamped


@cache
def all_wrench_kinds() -> tuple[WrenchKind, ...]:
    """Every kind of torque tool.

    >>> all_wrench_kinds()[0].deviation_for(60.0)
    0.04
    """
    return read(
        _FOLDER / "wrenches.toml", lambda file: file.rows("wrench", _wrench_kind, unique=["key"])
    )


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


def washer(on: Thread) -> Washer:
    """Plain hard washer for the size of a thread.

    >>> washer(thread("M8x1")).outside
    0.016
    """
    return {each.nominal: each for each in _heads_file().washers}[on.nominal]


def grade_on(key: str, on: Thread) -> Grade:
    """Property class or grade with the figures that hold for the size of a thread.

    >>> grade_on("8.8", thread("M18x1.5")).proof
    600000000.0
    """
    usual = grade(key)
    over = _grades_file().over.get(key)
    if over is None or usual.fits(on) or usual.system != on.system:
        return usual
    return over


def grades_for(on: Thread) -> tuple[Grade, ...]:
    """Property classes or grades that a thread is made to.

    >>> [entry.key for entry in grades_for(thread("3/8-16"))]
    ['sae2', 'sae5', 'sae8']
    """
    return tuple(entry for entry in all_grades() if grade_on(entry.key, on).fits(on))


def heads_for(on: Thread) -> tuple[Head, ...]:
    """Kinds of head that a thread is made with.

    >>> [entry.key for entry in heads_for(thread("3/8-16"))]
    ['hex', 'hex_flange', 'socket_cap']
    """
    return tuple(entry for entry in all_heads() if entry.nominal == on.nominal)


def _pick(what: str, key: str, rows: Iterable[_Row]) -> _Row:
    """Row of that key, or an error that names the choices."""
    known = {row.key: row for row in rows}
    if key not in known:
        raise KeyError(f"{what} {key!r} is not one of {', '.join(known)}")
    return known[key]


# --- rows -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Size:
    """A nominal size: what every thread cut on it has alike."""

    nominal: str
    system: System
    diameter: float
    clear_hole: float
    nut_height: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class _ThreadsFile:
    """What `threads.toml` holds."""

    sizes: tuple[_Size, ...]
    threads: tuple[Thread, ...]


@cache
def _threads_file() -> _ThreadsFile:
    """Read the file, once."""
    return read(_FOLDER / "threads.toml", _sizes_and_threads)


def _sizes_and_threads(file: Table) -> _ThreadsFile:
    """Return what the file holds."""
    sizes = file.rows("size", _size, unique=["nominal"])
    by_name = {size.nominal: size for size in sizes}

    def thread_of(row: Table) -> Thread:
        return _thread(row, by_name[row.choice("nominal", tuple(by_name))])

    return _ThreadsFile(sizes, file.rows("thread", thread_of, unique=["key"]))


def _size(row: Table) -> _Size:
    """Return a nominal size."""
    return _Size(
        nominal=row.text("nominal"),
        system=row.choice("system", SYSTEMS),
        diameter=row.measure("diameter", "length", (1, 100)),
        clear_hole=row.measure("clear_hole", "length", (1, 120)),
        nut_height=row.measure("nut_height", "length", (0.5, 100)),
        source=row.source(),
        mark=row.mark(),
    )


def _thread(row: Table, size: _Size) -> Thread:
    """Return a thread on a size; its mark is the lesser of the two."""
    return Thread(
        key=row.text("key"),
        label=row.text("label"),
        system=size.system,
        nominal=size.nominal,
        series=row.choice("series", SERIES),
        diameter=size.diameter,
        pitch=_pitch(row, size.system),
        clear_hole=size.clear_hole,
        nut_height=size.nut_height,
        source=f"{row.source()}; {size.source}",
        mark=max(row.mark(), size.mark, key=MARKS.index),
    )


def _pitch(row: Table, system: System) -> float:
    """Return the pitch in metres: an inch thread is known by its threads per inch."""
    if system == INCH:
        return _INCH / row.whole("threads_per_inch", 4, 80)
    return row.measure("pitch", "length", (0.2, 6))


@dataclass(frozen=True)
class _GradesFile:
    """What `fastener_grades.toml` holds; `over` are the figures over a grade's largest size."""

    grades: tuple[Grade, ...]
    over: dict[str, Grade]


@cache
def _grades_file() -> _GradesFile:
    """Read the file, once."""
    return read(_FOLDER / "fastener_grades.toml", _grades_and_over)


def _grades_and_over(file: Table) -> _GradesFile:
    """Return what the file holds."""
    grades = {each.key: each for each in file.rows("grade", _grade, unique=["key"])}

    def over(row: Table) -> Grade:
        usual = grades[row.choice("key", tuple(grades))]
        return replace(
            usual,
            largest=row.measure("largest", "length", (1, 100)),
            proof=row.measure("proof", "stress", (100, 2000)),
            yield_strength=row.measure("yield", "stress", (100, 2000)),
            tensile=row.measure("tensile", "stress", (100, 2000)),
            source=row.source(),
            mark=row.mark(),
        )

    over_rows = file.rows("over", over, unique=["key"])
    return _GradesFile(tuple(grades.values()), {each.key: each for each in over_rows})


def _grade(row: Table) -> Grade:
    """Return a property class or grade."""
    return Grade(
        key=row.text("key"),
        label=row.text("label"),
        system=row.choice("system", SYSTEMS),
        largest=row.measure("largest", "length", (1, 100)),
        proof=row.measure("proof", "stress", (100, 2000)),
        yield_strength=row.measure("yield", "stress", (100, 2000)),
        tensile=row.measure("tensile", "stress", (100, 2000)),
        shear_ratio=row.measure("shear_ratio", "ratio", (0.4, 1)),
        source=row.source(),
        mark=row.mark(),
        note=row.text("note"),
    )


@dataclass(frozen=True)
class _FrictionFile:
    """What `friction.toml` holds."""

    surfaces: tuple[Friction, ...]
    nut_factors: tuple[NutFactor, ...]


@cache
def _friction_file() -> _FrictionFile:
    """Read the file, once."""
    return read(
        _FOLDER / "friction.toml",
        lambda file: _FrictionFile(
            surfaces=file.rows("friction", _friction, unique=["key"]),
            nut_factors=file.rows("nut_factor", _nut_factor, unique=["key"]),
        ),
    )


def _friction(row: Table) -> Friction:
    """Return a surface and lubricant."""
    return Friction(
        key=row.text("key"),
        label=row.text("label"),
        low=row.measure("low", "ratio", (0.01, 1)),
        nominal=row.measure("nominal", "ratio", (0.01, 1)),
        high=row.measure("high", "ratio", (0.01, 1)),
        source=row.source(),
        mark=row.mark(),
        note=row.text("note") if row.has("note") else "",
    )


def _nut_factor(row: Table) -> NutFactor:
    """Return a nut factor."""
    return NutFactor(
        key=row.text("key"),
        label=row.text("label"),
        factor=row.measure("factor", "ratio", (0.01, 1)),
        source=row.source(),
        mark=row.mark(),
    )


@dataclass(frozen=True)
class _HeadsFile:
    """What `heads.toml` holds."""

    heads: tuple[Head, ...]
    washers: tuple[Washer, ...]


@cache
def _heads_file() -> _HeadsFile:
    """Read the file, once."""
    return read(
        _FOLDER / "heads.toml",
        lambda file: _HeadsFile(
            _flat(file.rows("head", _heads, unique=["key", "system"])),
            _flat(file.rows("washer", _washers, unique=["system"])),
        ),
    )


def _flat(kinds: tuple[tuple[_Entry, ...], ...]) -> tuple[_Entry, ...]:
    """Return the entries of all kinds, one after the other."""
    return tuple(entry for kind in kinds for entry in kind)


def _washers(kind: Table) -> tuple[Washer, ...]:
    """Return the washers of one system, one for each size."""
    system = kind.choice("system", SYSTEMS)
    sizes = [size.nominal for size in _threads_file().sizes if size.system == system]

    def washer_for(row: Table) -> Washer:
        return Washer(
            nominal=row.choice("nominal", sizes),
            outside=row.measure("outside", "length", (2, 150)),
            thickness=row.measure("thickness", "length", (0.3, 15)),
            source=row.source(),
            mark=row.mark(),
        )

    return kind.cells(washer_for, unique=["nominal"])


def _heads(kind: Table) -> tuple[Head, ...]:
    """Return a kind of head on each of its sizes."""
    key, label = kind.text("key"), kind.text("label")
    system = kind.choice("system", SYSTEMS)
    sizes = [size.nominal for size in _threads_file().sizes if size.system == system]

    def head_on(row: Table) -> Head:
        return Head(
            key=key,
            label=label,
            system=system,
            nominal=row.choice("nominal", sizes),
            bearing=row.measure("bearing", "length", (1, 150)),
            source=row.source(),
            mark=row.mark(),
        )

    return kind.cells(head_on, unique=["nominal"])


@dataclass(frozen=True)
class _MaterialsFile:
    """What `tapped_materials.toml` holds."""

    tapped: tuple[TappedMaterial, ...]
    clamped: tuple[Clamped, ...]


@cache
def _materials_file() -> _MaterialsFile:
    """Read the file, once."""
    return read(
        _FOLDER / "tapped_materials.toml",
        lambda file: _MaterialsFile(
            tapped=file.rows("material", _tapped_material, unique=["key"]),
            clamped=file.rows("clamped", _clamped, unique=["key"]),
        ),
    )


def _clamped(row: Table) -> Clamped:
    """Return a material that may lie under a head."""
    return Clamped(
        key=row.text("key"),
        label=row.text("label"),
        bears=row.measure("bears", "stress", (50, 2000)),
        modulus=row.measure("modulus", "stress", (1e4, 3e5)),
        source=row.source(),
        mark=row.mark(),
    )


def _tapped_material(row: Table) -> TappedMaterial:
    """Return a material to screw into."""
    return TappedMaterial(
        key=row.text("key"),
        label=row.text("label"),
        tensile=row.measure("tensile", "stress", (50, 2000)),
        shear_strength=row.measure("shear", "stress", (30, 2000)),
        modulus=row.measure("modulus", "stress", (1e4, 3e5)),
        guide_diameters=row.measure("guide_diameters", "ratio", (0.5, 4)),
        guide_source=row.text("guide_source"),
        source=row.source(),
        mark=row.mark(),
    )


def _wrench_kind(row: Table) -> WrenchKind:
    """Return a kind of torque tool."""
    return WrenchKind(
        key=row.text("key"),
        label=row.text("label"),
        deviation_small=row.measure("deviation_small", "ratio", (0.001, 0.5)),
        deviation=row.measure("deviation", "ratio", (0.001, 0.5)),
        small_up_to=row.measure("small_up_to", "torque", (0.1, 1000)),
        usable_from=row.measure("usable_from", "ratio", (0, 1)),
        usable_to=row.measure("usable_to", "ratio", (0, 1)),
        source=row.source(),
        mark=row.mark(),
    )
