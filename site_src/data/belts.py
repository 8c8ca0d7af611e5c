"""Belt sections and drive limits from `belts.toml`, in SI, each figure with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from site_src.data.reader import Mark, Span, Table, read


@dataclass(frozen=True)
class Figure:
    """One figure in SI, where it is from, and how far it may be trusted."""

    value: float
    source: str
    mark: Mark

    @property
    def origin(self) -> str:
        """Where the figure is from and how far it may be trusted, in a sentence."""
        return f"{self.source[0].upper()}{self.source[1:]}. {self.mark[0].upper()}{self.mark[1:]}."


@dataclass(frozen=True)
class Section:
    """A V-ribbed section; the last three are known for the automotive section only.

    `ball_excess` is the diameter over balls less the effective diameter, `tip_height` the rib tips'
    radial height over the effective circle, `back_height` belt back to middle of cord.
    """

    key: str
    label: str
    rib_pitch: Figure
    line_differential: Figure
    minimum_diameter: Figure
    mass_per_rib: Figure
    ball_excess: Figure | None
    tip_height: Figure | None
    back_height: Figure | None


@dataclass(frozen=True)
class GripFigures:
    """What a page starts from: effective friction, tension per rib, margin on the power."""

    friction: Figure
    tension_per_rib: Figure
    power_margin: Figure


@dataclass(frozen=True)
class TensionerFigures:
    """Friction over the spring's force of a sprung tensioner."""

    damping: Figure


@dataclass(frozen=True)
class AlignmentLimits:
    """Limits of misalignment in radians and of a pulley's errors in metres."""

    v_belt: Figure
    ribbed: Figure
    run_out: Figure
    groove_to_groove: Figure


@dataclass(frozen=True)
class LengthSeries:
    """Effective lengths that belts are likely to be had in, in metres."""

    shortest: Figure
    longest: Figure
    step: Figure

    @property
    def lengths(self) -> tuple[float, ...]:
        """The lengths, shortest first.

        >>> len(length_series().lengths)
        481
        """
        count = round((self.longest.value - self.shortest.value) / self.step.value)
        return tuple(self.shortest.value + n * self.step.value for n in range(count + 1))


def sections() -> tuple[Section, ...]:
    """Every section, finest ribs first.

    >>> [section.key for section in sections()]
    ['PH', 'PJ', 'PK', 'PL', 'PM']
    """
    return _file().sections


def section(key: str) -> Section:
    """The section of that name.

    >>> section("PK").line_differential.value
    0.002
    """
    known = {found.key: found for found in sections()}
    if key not in known:
        raise KeyError(f"belt section {key!r} is not one of {', '.join(known)}")
    return known[key]


def grip_figures() -> GripFigures:
    """Starting figures for the grip of a ribbed belt.

    >>> grip_figures().tension_per_rib.mark
    'common practice'
    """
    return _file().grip


def tensioner_figures() -> TensionerFigures:
    """Starting figures for a sprung tensioner.

    >>> tensioner_figures().damping.value
    0.2
    """
    return _file().tensioner


def alignment_limits() -> AlignmentLimits:
    """Limits to hold a straightedge reading and a dial indicator against.

    >>> alignment_limits().run_out.value
    0.00025
    """
    return _file().alignment


def length_series() -> LengthSeries:
    """The lengths that belts are likely to be had in.

    >>> length_series().step.value
    0.005
    """
    return _file().lengths


@dataclass(frozen=True)
class _File:
    """What `belts.toml` holds."""

    sections: tuple[Section, ...]
    grip: GripFigures
    tensioner: TensionerFigures
    alignment: AlignmentLimits
    lengths: LengthSeries


@cache
def _file() -> _File:
    """Read the file, once."""
    return read(Path(__file__).with_suffix(".toml"), _whole)


def _whole(file: Table) -> _File:
    """Return what the file holds."""
    return _File(
        sections=file.rows("section", _section, unique=["key"]),
        grip=file.table("grip", _grip),
        tensioner=file.table("tensioner", _tensioner),
        alignment=file.table("alignment", _alignment),
        lengths=file.table("lengths", _lengths),
    )


def _section(row: Table) -> Section:
    """Return a section."""
    return Section(
        key=row.text("key"),
        label=row.text("label"),
        rib_pitch=_figure(row, "rib_pitch", "length", (1, 20)),
        line_differential=_figure(row, "line_differential", "length", (0, 10)),
        minimum_diameter=_figure(row, "minimum_diameter", "length", (5, 500)),
        mass_per_rib=_figure(row, "mass_per_rib", "mass_per_length", (1, 500)),
        ball_excess=_figure_or_none(row, "ball_excess", "length", (0, 10)),
        tip_height=_figure_or_none(row, "tip_height", "length", (0, 5)),
        back_height=_figure_or_none(row, "back_height", "length", (0, 5)),
    )


def _grip(table: Table) -> GripFigures:
    """Return the figures for the grip."""
    return GripFigures(
        friction=_figure(table, "friction", "ratio", (0.05, 2)),
        tension_per_rib=_figure(table, "tension_per_rib", "force", (0.01, 2)),
        power_margin=_figure(table, "power_margin", "ratio", (0, 2)),
    )


def _tensioner(table: Table) -> TensionerFigures:
    """Return the figures for a sprung tensioner."""
    return TensionerFigures(damping=_figure(table, "damping", "ratio", (0, 0.9)))


def _alignment(table: Table) -> AlignmentLimits:
    """Return the limits of alignment."""
    return AlignmentLimits(
        v_belt=_figure(table, "v_belt", "angle", (0.01, 5)),
        ribbed=_figure(table, "ribbed", "angle", (0.01, 5)),
        run_out=_figure(table, "run_out", "length", (0.01, 5)),
        groove_to_groove=_figure(table, "groove_to_groove", "length", (0.01, 5)),
    )


def _lengths(table: Table) -> LengthSeries:
    """Return the lengths to look for."""
    return LengthSeries(
        shortest=_figure(table, "shortest", "length", (100, 10000)),
        longest=_figure(table, "longest", "length", (100, 10000)),
        step=_figure(table, "step", "length", (1, 100)),
    )


def _figure(table: Table, key: str, kind: str, span: Span) -> Figure:
    """Return a figure, which is a table of its value, source and mark."""
    return table.table(
        key, lambda row: Figure(row.measure("value", kind, span), row.source(), row.mark())
    )


def _figure_or_none(table: Table, key: str, kind: str, span: Span) -> Figure | None:
    """Return a figure that not every section has."""
    return _figure(table, key, kind, span) if table.has(key) else None
