"""The table compiler: from a calculation and its axes to a grid whose error is known.

Knots of a cubic axis are laid greedily, each interval as long as its error allows, never across a
declared kink. A table is judged only off its knots: by a bound where the function is monotone
along its single axis, else at quasi-random points. A table that misses its tolerance stops the
build and names its worst point.
"""

from __future__ import annotations

import hashlib
import json
import sys
import tempfile
import zipfile
from collections.abc import Callable, Sequence
from contextvars import ContextVar
from dataclasses import asdict, dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from site_src.imports import sources_behind
from site_src.places import CACHE, SITE_SRC
from site_src.tables.grid import Axis, Floats, Grid, hermite
from site_src.tables.points import corners, spread

SAMPLES = 20_000
"""Quasi-random points at which a table is judged."""

KEPT = CACHE / "tables"
"""Where compiled tables are kept between runs."""

JUDGING: ContextVar[bool] = ContextVar("judging", default=True)
"""Whether tables are judged when they are compiled. Those that aren't are not kept."""

BUILD_TO = 0.5
"""Share of the tolerance to which knots are laid; the rest covers what the knot search missed."""


class TableError(Exception):
    """A table misses its tolerance; the message names the worst point."""


@dataclass(frozen=True)
class AxisSpec:
    """What a table needs to know of one argument before its knots are laid.

    `linear` and `list` axes carry their knots; a `cubic` axis its two ends and any kinks between.
    """

    key: str
    label: str
    kind: str
    knots: tuple[float, ...]
    kinks: tuple[float, ...] = ()
    names: tuple[str, ...] = ()
    """What the places of a list are called in a formula, where they are not picked by a person."""


def linear(key: str, label: str, *knots: float) -> AxisSpec:
    """Declare an argument in which the function is linear between the knots."""
    return AxisSpec(key, label, "linear", knots)


def cubic(key: str, label: str, low: float, high: float, kinks: tuple[float, ...] = ()) -> AxisSpec:
    """Declare an argument in which the function is smooth between its kinks."""
    return AxisSpec(key, label, "cubic", (low, high), kinks)


def listed(key: str, label: str, count: int, names: tuple[str, ...] = ()) -> AxisSpec:
    """Declare an argument that is a place in a list, counted from 0."""
    return AxisSpec(key, label, "list", tuple(float(n) for n in range(count)), names=names)


@dataclass(frozen=True)
class TableSpec:
    """A table to be compiled: the calculation, its axes and the error it may have.

    `of` takes one array for each axis, in order, and broadcasts. `tolerance` is absolute, in the
    function's own unit, unless `relative` is set. `monotone` claims that the function is monotone
    along a single axis, which lets the error be bounded instead of sampled.
    """

    name: str
    of: Callable[..., Any]
    axes: tuple[AxisSpec, ...]
    tolerance: float
    relative: bool = False
    monotone: bool = False
    numbers: str = "f8"
    by: tuple[Callable[..., Any], ...] = ()
    """The functions of `calc` that `of` calls, where it isn't one itself."""

    @property
    def functions(self) -> tuple[Callable[..., Any], ...]:
        """The functions of `calc` behind it."""
        return (self.of,) if _origin(self.of).startswith("calc.") else self.by

    def __call__(self, *places: Floats) -> Floats:
        """Evaluate the calculation itself."""
        return np.asarray(self.of(*places), dtype=np.float64) + np.zeros(places[0].shape)

    def allowed(self, values: Floats) -> Floats:
        """Return the error allowed at each value."""
        return (
            self.tolerance * np.abs(values)
            if self.relative
            else np.full(values.shape, self.tolerance)
        )


@dataclass(frozen=True)
class Passport:
    """What a compiled table says of itself."""

    source: str
    tolerance: float
    relative: bool
    method: str
    error: float | None
    """None if the table has not been judged."""
    worst: dict[str, float]
    checks: tuple[tuple[tuple[float, ...], float], ...]


@dataclass(frozen=True)
class Table:
    """A compiled grid and its passport."""

    spec: TableSpec
    grid: Grid
    passport: Passport


@cache
def compiled(spec: TableSpec) -> Table:
    """Return a table as it was kept from an earlier run, or compile and keep it.

    What is kept is found by a hash of all that the table depends on, so that it is never stale.

    Raises:
        TableError: the error is larger than the spec allows.
    """
    source = source_hash(spec)
    path = KEPT / f"{source}.npz"
    try:
        return _kept(spec, source, path)
    except (OSError, EOFError, ValueError, KeyError, TypeError, zipfile.BadZipFile):
        table = compile_table(spec, judged=JUDGING.get())
        if JUDGING.get():
            _keep(table, path)
        return table


def compile_table(spec: TableSpec, judged: bool = True) -> Table:
    """Lay the knots, fill the grid, judge it off its knots; that takes nine tenths of the time.

    Raises:
        TableError: the error is larger than the spec allows.
    """
    axes = tuple(_laid(spec, number) for number in range(len(spec.axes)))
    filled = _filled(spec, axes)
    stored = filled.astype(np.float32 if spec.numbers == "f4" else np.float64)
    grid = Grid(spec.name, axes, stored.astype(np.float64).ravel())
    error, worst, method = _judge(spec, grid) if judged else (None, {}, "not judged")
    if error is not None and error > spec.tolerance:
        raise TableError(
            f"table {spec.name}: error {error:.3g} is over {spec.tolerance:.3g} at {worst}"
        )
    checks = _check_points(spec, grid)
    passport = Passport(
        source_hash(spec), spec.tolerance, spec.relative, method, error, worst, checks
    )
    return Table(spec, grid, passport)


# --- kept between runs -----------------------------------------------------------------------


def _kept(spec: TableSpec, source: str, path: Path) -> Table:
    """Read a table that was kept; any trouble is an error that leads to compiling it."""
    with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
        axes = tuple(
            Axis(axis.key, axis.kind, tuple(kept[f"knots_{n}"].tolist()))
            for n, axis in enumerate(spec.axes)
        )
        facts = json.loads(str(kept["passport"]))
        numbers = kept["numbers"]
    checks = tuple((tuple(places), value) for places, value in facts.pop("checks"))
    passport = Passport(source=source, checks=checks, **facts)
    return Table(spec, Grid(spec.name, axes, numbers), passport)


def _keep(table: Table, path: Path) -> None:
    """Write a table in one go, so that another process never reads half of it."""
    facts = {key: value for key, value in asdict(table.passport).items() if key != "source"}
    arrays: dict[str, Any] = {"numbers": table.grid.numbers, "passport": json.dumps(facts)}
    arrays |= {f"knots_{n}": np.array(axis.knots) for n, axis in enumerate(table.grid.axes)}
    path.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as part:
        np.savez(part, **arrays)
    Path(part.name).replace(path)


# --- knots -----------------------------------------------------------------------------------


def _laid(spec: TableSpec, number: int) -> Axis:
    """Return an axis with its knots laid."""
    axis = spec.axes[number]
    if axis.kind != "cubic":
        return Axis(axis.key, axis.kind, axis.knots)
    edges = (axis.knots[0], *axis.kinks, axis.knots[1])
    knots: list[float] = []
    for low, high in pairwise(edges):
        # A kink ends one piece and begins the next: it is listed twice.
        knots.extend(_greedy(_Slice(spec, number, low, high), low, high))
    return Axis(axis.key, "cubic", tuple(knots))


@dataclass(frozen=True)
class _Slice:
    """A table seen along one axis, at a mesh of places on the others."""

    spec: TableSpec
    number: int
    low: float
    high: float

    def __call__(self, along: Floats) -> Floats:
        """Return values: one row for each mesh point, one column for each place along."""
        ends = [
            np.array(axis.knots) if axis.kind == "list" else _span(axis, 3)
            for n, axis in enumerate(self.spec.axes)
            if n != self.number
        ]
        mesh = np.meshgrid(*ends, along, indexing="ij") if ends else [along[np.newaxis, :]]
        places = [part.reshape(-1, len(along)) for part in mesh]
        places.insert(self.number, places.pop())
        return self.spec(*places)

    def slope(self, at: Floats) -> Floats:
        """Return slopes by five-point differences that stay inside the smooth piece."""
        step, stencils = _stencils(at, self.low, self.high)
        samples = self(np.concatenate(list(stencils.T)))
        parts = samples.reshape(samples.shape[0], 5, len(at))
        weights = _weights(at, self.low, self.high)
        slopes: Floats = np.einsum("mkn,nk->mn", parts, weights) / step
        return slopes

    def misses(self, low: float, high: float) -> bool:
        """Say whether one cubic over an interval misses the tolerance to build to."""
        shares = (np.arange(16) + 0.5) / 16
        inside = low + (high - low) * shares
        ends = np.array([low, high])
        values, slopes, true = self(ends), self.slope(ends), self(inside)
        column = [part[:, n : n + 1] for n in (0, 1) for part in (values, slopes)]
        error = np.abs(hermite(shares, np.array(high - low), *column) - true)
        return bool(np.any(error > BUILD_TO * self.spec.allowed(true)))


def _span(axis: AxisSpec, count: int) -> Floats:
    """Return places over an axis, both ends included."""
    return np.linspace(axis.knots[0], axis.knots[-1], count)


def _greedy(along: _Slice, low: float, high: float) -> list[float]:
    """Lay knots from the left, each interval as long as its error allows."""
    knots = [low]
    while knots[-1] < high:
        start = knots[-1]
        if not along.misses(start, high):
            knots.append(high)
            break
        good, bad = 0.0, high - start
        for _ in range(12):
            middle = 0.5 * (good + bad)
            good, bad = (good, middle) if along.misses(start, start + middle) else (middle, bad)
        if good <= 1e-6 * (high - low):
            raise TableError(
                f"table {along.spec.name}: no interval is short enough near "
                f"{along.spec.axes[along.number].key} = {start:.6g}; is a kink undeclared?"
            )
        knots.append(start + good)
    return knots


# --- slopes ----------------------------------------------------------------------------------

_FIVE = {
    # First derivative on five points, first entry: the point's own number among the five.
    0: (-25 / 12, 4.0, -3.0, 4 / 3, -1 / 4),
    2: (1 / 12, -2 / 3, 0.0, 2 / 3, -1 / 12),
    4: (1 / 4, -4 / 3, 3.0, -4.0, 25 / 12),
}


def _mode(at: Floats, low: float, high: float, step: float) -> list[int]:
    """Say which each place is among its five points: first, middle or last."""
    return [0 if x - 2 * step < low else 4 if x + 2 * step > high else 2 for x in at]


def _stencils(at: Floats, low: float, high: float) -> tuple[float, Floats]:
    """Return the difference step and the five places used for each slope."""
    step = 1e-3 * (high - low)
    shift = np.array([[k - mode for k in range(5)] for mode in _mode(at, low, high, step)])
    return step, at[:, np.newaxis] + step * shift


def _weights(at: Floats, low: float, high: float) -> Floats:
    """Return the five weights for each slope."""
    return np.array([_FIVE[mode] for mode in _mode(at, low, high, 1e-3 * (high - low))])


# --- filling ---------------------------------------------------------------------------------


def _filled(spec: TableSpec, axes: Sequence[Axis]) -> Floats:
    """Return the grid's numbers: sample the function on a mesh, then turn samples to slopes."""
    plans = [_plan(axis, spec.axes[n]) for n, axis in enumerate(axes)]
    mesh = np.meshgrid(*(samples for samples, _ in plans), indexing="ij")
    numbers = spec(*mesh)
    for n, (_, matrix) in enumerate(plans):
        numbers = np.moveaxis(np.tensordot(matrix, numbers, axes=(1, n)), 0, n)
    return numbers


def _plan(axis: Axis, spec: AxisSpec) -> tuple[Floats, Floats]:
    """Return where to sample along an axis, and the matrix from samples to its numbers."""
    if axis.kind != "cubic":
        return np.array(axis.knots), np.eye(len(axis.knots))
    edges = (spec.knots[0], *spec.kinks, spec.knots[1])
    samples: list[float] = []
    rows: list[tuple[int, tuple[float, ...]]] = []
    for knot, low, high in _pieces(axis.knots, edges):
        at = np.array([knot])
        step, stencil = _stencils(at, low, high)
        rows.append((len(samples), tuple(_weights(at, low, high)[0] / step)))
        samples.extend([knot, *stencil[0]])
    matrix = np.zeros((axis.width, len(samples)))
    for n, (start, weights) in enumerate(rows):
        matrix[2 * n, start] = 1.0
        matrix[2 * n + 1, start + 1 : start + 6] = weights
    return np.array(samples), matrix


def _pieces(knots: Sequence[float], edges: Sequence[float]) -> list[tuple[float, float, float]]:
    """Return each knot with the ends of the smooth piece it belongs to."""
    pieces: list[tuple[float, float, float]] = []
    piece = 0
    for n, knot in enumerate(knots):
        if n and knot == knots[n - 1]:
            piece += 1
        pieces.append((knot, edges[piece], edges[piece + 1]))
    return pieces


# --- judgement -------------------------------------------------------------------------------


def _judge(spec: TableSpec, grid: Grid) -> tuple[float | None, dict[str, float], str]:
    """Return the error, where it is worst, and how it was found."""
    if spec.monotone and len(spec.axes) == 1:
        error, where = _bound(spec, grid)
        return error, {spec.axes[0].key: where}, "bound"
    if all(axis.kind == "list" for axis in spec.axes):
        places = corners([axis.knots for axis in spec.axes])
    else:
        places = spread([(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes], SAMPLES)
    true = spec(*places)
    error_at = np.abs(grid.value(places) - true)
    if spec.relative:
        error_at = error_at / np.abs(true)
    at = int(np.argmax(error_at))
    where_at = {axis.key: float(p[at]) for axis, p in zip(spec.axes, places, strict=True)}
    return float(error_at[at]), where_at, "sampled"


def _bound(spec: TableSpec, grid: Grid) -> tuple[float, float]:
    """Bound the error of a monotone table over one axis; halve what is not yet proved.

    Where function and table are both monotone on [a, b], the error there is at most
    max(|f(b) − p(a)|, |p(b) − f(a)|).
    """
    edges = np.unique(np.array(grid.axes[0].knots))
    low, high = edges[:-1], edges[1:]
    worst, where = 0.0, float(edges[0])
    while low.size:
        f_low, f_high = spec(low), spec(high)
        p_low, p_high = grid.value([low]), grid.value([high])
        bound = np.maximum(np.abs(f_high - p_low), np.abs(p_high - f_low))
        if spec.relative:
            bound = bound / np.minimum(np.abs(f_low), np.abs(f_high))
        proved = bound <= spec.tolerance
        if proved.any():
            at = int(np.argmax(np.where(proved, bound, -1.0)))
            if bound[at] > worst:
                worst, where = float(bound[at]), float(low[at])
        open_low, open_high = low[~proved], high[~proved]
        if open_low.size > 4_000_000 or (open_low.size and np.min(open_high - open_low) < 1e-12):
            at = int(np.argmax(bound))
            return float(bound[at]), float(low[at])
        middle = 0.5 * (open_low + open_high)
        low = np.concatenate([open_low, middle])
        high = np.concatenate([middle, open_high])
    return worst, where


def _check_points(spec: TableSpec, grid: Grid) -> tuple[tuple[tuple[float, ...], float], ...]:
    """Return three off-knot places and the grid's value there, to be checked by any reader."""
    bounds = [(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes]
    places = spread(bounds, 3)
    values = grid.value(places)
    return tuple((tuple(float(place[n]) for place in places), float(values[n])) for n in range(3))


# --- freshness -------------------------------------------------------------------------------


def source_hash(spec: TableSpec) -> str:
    """Return a hash of all that made a table: the calculation's sources, data and the spec.

    With them the compiler's own sources, and the versions of what it runs on.
    """
    digest = hashlib.sha256(f"{sys.version} {np.__version__}".encode())
    paths = sources_behind(_origin(spec.of), _SOURCES)
    for name in _COMPILERS:
        paths |= sources_behind(name, ())
    if any("data" in path.parts for path in paths):
        paths |= set((SITE_SRC / "data").glob("*.toml"))
    for path in sorted(paths):
        digest.update(path.read_bytes())
    digest.update(repr(replace(spec, of=len, by=())).encode())
    return digest.hexdigest()[:16]


_SOURCES = ("calc.", "site_src.data", "site_src.lookups.", "site_src.model.quantities")
"""Modules whose content a calculation can depend on."""

_COMPILERS = tuple(f"site_src.tables.{name}" for name in ("compiler", "grid", "points"))


def _origin(function: Callable[..., Any]) -> str:
    """Return the name of the module in which a calculation is written."""
    return str(getattr(function, "__module__", "builtins"))
