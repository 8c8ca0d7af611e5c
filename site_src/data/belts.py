"""Belt sections and drive limits from `belts.toml`, in SI, each figure with its source."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

MARKS = ("published", "as restated", "common practice", "from memory")
"""How far a figure may be trusted, the best first."""


@dataclass(frozen=True)
class Figure:
    """One figure in SI, where it is from, and how far it may be trusted."""

    value: float
    source: str
    mark: str


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
class AlignmentLimits:
    """Limits of misalignment in radians and of a pulley's errors in metres."""

    v_belt: Figure
    ribbed: Figure
    run_out: Figure
    groove_to_groove: Figure


@cache
def sections() -> tuple[Section, ...]:
    """Every section, finest ribs first.

    >>> [section.key for section in sections()]
    ['PH', 'PJ', 'PK', 'PL', 'PM']
    """
    return tuple(_section(key, entry) for key, entry in _file()["section"].items())


def section(key: str) -> Section:
    """The section of that name.

    >>> section("PK").line_differential.value
    0.002
    """
    known = {found.key: found for found in sections()}
    if key not in known:
        raise KeyError(f"belt section {key!r} is not one of {', '.join(known)}")
    return known[key]


@cache
def grip_figures() -> GripFigures:
    """Starting figures for the grip of a ribbed belt.

    >>> grip_figures().tension_per_rib.mark
    'common practice'
    """
    entry = _file()["grip"]
    return GripFigures(
        friction=_figure(entry["friction"]),
        tension_per_rib=_figure(entry["tension_per_rib_N"]),
        power_margin=_figure(entry["power_margin"]),
    )


@cache
def alignment_limits() -> AlignmentLimits:
    """Limits to hold a straightedge reading and a dial indicator against.

    >>> alignment_limits().run_out.value
    0.00025
    """
    entry = _file()["alignment"]
    return AlignmentLimits(
        v_belt=_figure(entry["v_belt_deg"], math.radians),
        ribbed=_figure(entry["ribbed_deg"], math.radians),
        run_out=_figure(entry["run_out_mm"], _metres),
        groove_to_groove=_figure(entry["groove_to_groove_mm"], _metres),
    )


@cache
def _file() -> dict[str, Any]:
    """The file as it is written."""
    return tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))


def _section(key: str, entry: dict[str, Any]) -> Section:
    """A section from its entry in the file."""
    return Section(
        key,
        entry["label"],
        rib_pitch=_figure(entry["rib_pitch_mm"], _metres),
        line_differential=_figure(entry["line_differential_mm"], _metres),
        minimum_diameter=_figure(entry["minimum_diameter_mm"], _metres),
        mass_per_rib=_figure(entry["mass_per_rib_kg_m"]),
        ball_excess=_optional(entry, "ball_excess_mm"),
        tip_height=_optional(entry, "tip_height_mm"),
        back_height=_optional(entry, "back_height_mm"),
    )


def _optional(entry: dict[str, Any], key: str) -> Figure | None:
    """A length that not every section has."""
    return _figure(entry[key], _metres) if key in entry else None


def _figure(entry: dict[str, Any], to_si: Callable[[float], float] = float) -> Figure:
    """A figure, turned into SI."""
    if entry["mark"] not in MARKS:
        raise ValueError(f"belts.toml: mark {entry['mark']!r} is not one of {', '.join(MARKS)}")
    return Figure(to_si(entry["value"]), entry["source"], entry["mark"])


def _metres(millimetres: float) -> float:
    """Metres, rounded once."""
    return millimetres / 1000.0
