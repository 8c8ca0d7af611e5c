"""Hose kinds from `hoses.toml`, in SI, and the minimum radius that each gives for a bore."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from calc.hoses import minimum_radius_by_bore
from site_src.data.reader import Mark, Table, read
from site_src.model.quantities import quantity

INCH = quantity("length").unit("in").factor
SAME_BORE = 0.0003
"""Bores that differ by less than this are the same hose, measured in other units."""

_IN_LINE = "it is made for pipes in line, not for a bend. The hose maker's own figure goes first."


@dataclass(frozen=True)
class HoseRow:
    """One bore of a kind: inside and outside diameter and minimum inside radius, in metres.

    The radius is None for a hose that is not to be bent, the dash size where it is not sold by one.
    """

    bore: float
    outside_diameter: float
    minimum_radius: float | None
    dash: int | None
    mark: Mark


@dataclass(frozen=True)
class HoseKind:
    """A kind of hose: the bores it is made in, and how far its figures may be trusted."""

    key: str
    label: str
    source: str
    mark: Mark
    note: str
    multiple: float | None
    rows: tuple[HoseRow, ...]


@dataclass(frozen=True)
class DashSize:
    """A dash size of a kind: the tube that its fittings fit, and the hose's own bore, in metres."""

    number: int
    tube: float
    bore: float
    source: str
    mark: Mark

    @property
    def name(self) -> str:
        """The size as it is asked for over the counter, such as -8."""
        return f"-{self.number}"


@dataclass(frozen=True)
class MinimumRadius:
    """What a kind gives for a bore: the figure, or None, and in plain words where it is from."""

    radius: float | None
    row: HoseRow | None
    basis: str


@cache
def hose_kinds() -> tuple[HoseKind, ...]:
    """Every hose kind, published tables first.

    >>> hose_kinds()[0].key
    'wire_braid'
    """
    return read(
        Path(__file__).with_suffix(".toml"),
        lambda file: file.rows("kind", _kind, unique=["key"]),
    )


def hose_kind(key: str) -> HoseKind:
    """The hose kind of that key.

    >>> hose_kind("mandrel_built").multiple
    8.0
    """
    known = {kind.key: kind for kind in hose_kinds()}
    if key not in known:
        raise KeyError(f"hose kind {key!r} is not one of {', '.join(known)}")
    return known[key]


def dash_sizes(kind: str = "wire_braid") -> tuple[DashSize, ...]:
    """Dash sizes of a kind with the bores they really have, smallest first.

    A dash number is the outside diameter, in sixteenths of an inch, of the tube that the fittings
    fit. Hose with screwed ends has about the bore of that tube, which is smaller: take these, not
    dash/16, for flow and velocity. Without a kind it is the published list of rubber hose with one
    wire braid, whose bores smooth PTFE hose shares. Push-on and convoluted hose has the full
    sixteenths, and hose that is sold by its bore has no dash sizes.

    Args:
        kind: key of a hose kind.

    Returns:
        The sizes, in metres; empty for a kind that is not sold by dash size.

    Raises:
        KeyError: no such kind.

    >>> [round(size.bore * 1000, 1) for size in dash_sizes() if size.number in (6, 8, 10)]
    [7.9, 10.3, 12.7]
    >>> [round(size.bore * 1000, 1) for size in dash_sizes("push_on") if size.number == 8]
    [12.7]
    """
    found = hose_kind(kind)
    return tuple(
        DashSize(row.dash, row.dash * INCH / 16, row.bore, found.source, row.mark)
        for row in found.rows
        if row.dash is not None
    )


def minimum_radius(
    kind: HoseKind, bore: float, makers_figure: float | None = None
) -> MinimumRadius:
    """Smallest radius of the inside of the bend for a kind and a bore in metres.

    The maker's figure always wins. A published table knows only its listed bores, so a bore between
    two of them takes the larger. A kind not made in that bore gives no figure.

    >>> minimum_radius(hose_kind("wire_braid"), 0.625 * INCH).radius
    0.1651
    """
    if makers_figure is not None:
        return MinimumRadius(makers_figure, _row_for(kind, bore), "The hose maker's own figure.")
    if not kind.rows:
        return MinimumRadius(None, None, f"No figure yet. {kind.note}")
    row = _row_for(kind, bore)
    if row is None:
        return MinimumRadius(None, None, _not_made(kind))
    if kind.multiple is not None:
        radius = float(minimum_radius_by_bore(bore, kind.multiple))
        return MinimumRadius(radius, row, f"{kind.mark.capitalize()}: {kind.source}.")
    if row.minimum_radius is None:
        return MinimumRadius(None, row, f"No figure: {_IN_LINE}")
    return MinimumRadius(row.minimum_radius, row, _from_table(kind, bore, row))


def _row_for(kind: HoseKind, bore: float) -> HoseRow | None:
    """Listed row of a bore, or the next larger; None outside the bores that are made."""
    if not kind.rows or bore < kind.rows[0].bore - SAME_BORE:
        return None
    return next((row for row in kind.rows if bore <= row.bore + SAME_BORE), None)


def _from_table(kind: HoseKind, bore: float, row: HoseRow) -> str:
    """Where a table's figure is from, and whether it is for the very bore."""
    trust = "" if row.mark == "published" else f", {row.mark}"
    if abs(bore - row.bore) <= SAME_BORE:
        return f"{kind.source}{trust}."
    return (
        "Not made in that bore: the figure is for the next listed bore up, "
        f"{_in_both(row.bore)}. {kind.source}{trust}."
    )


def _not_made(kind: HoseKind) -> str:
    """Why there is no figure for a bore, and the way out."""
    first, last = kind.rows[0].bore, kind.rows[-1].bore
    return (
        f"No figure: this kind is listed from {_in_both(first)} to {_in_both(last)} bore. "
        "Check the bore, or use the hose maker's figure."
    )


def _in_both(length: float) -> str:
    """A length in millimetres and in inches."""
    return f"{length * 1000:.1f} mm ({length / INCH:.4g} in)"


def _kind(row: Table) -> HoseKind:
    """Return a kind of hose."""
    multiple = row.measure_or_none("multiple", "ratio", (1, 30))
    return HoseKind(
        key=row.text("key"),
        label=row.text("label"),
        source=row.source(),
        mark=row.mark(),
        note=row.text("note"),
        multiple=multiple,
        rows=_rows(row, multiple) if row.has("rows") else (),
    )


def _rows(kind: Table, multiple: float | None) -> tuple[HoseRow, ...]:
    """Return the bores of a kind."""
    return kind.cells(lambda row: _row(row, multiple), unique=["bore_in"])


def _row(row: Table, multiple: float | None) -> HoseRow:
    """Return a bore: with the radius of a table, or with a wall and the radius of a rule."""
    bore = row.measure("bore", "length", (2, 200))
    wall = row.measure_or_none("wall", "length", (0.5, 30))
    if wall is None:
        outside = row.measure("outside_diameter", "length", (4, 300))
        radius: float | None = row.measure("minimum_radius", "length", (10, 2000))
    else:
        outside = bore + 2 * wall
        radius = None if multiple is None else float(minimum_radius_by_bore(bore, multiple))
    dash = row.whole("dash", 2, 64) if row.has("dash") else None
    return HoseRow(bore, outside, radius, dash, row.mark())
