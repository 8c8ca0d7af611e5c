"""O-ring sections, sizes and glands in SI, and which lubricant goes on which rubber."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

_METRES = {"in": 0.0254, "mm": 0.001}


@dataclass(frozen=True)
class Section:
    """A standard thickness of ring and its tolerance either way, in metres."""

    series: str
    thickness: float
    tolerance: float
    source: str
    mark: str


@dataclass(frozen=True)
class DashSize:
    """An AS568 size, in metres; the tolerance is None where it is not surely known."""

    number: int
    section: Section
    inside_diameter: float
    tolerance: float | None
    mark: str

    @property
    def name(self) -> str:
        """The size as it is ordered, such as -210."""
        return f"-{self.number:03d}"


@dataclass(frozen=True)
class Gland:
    """A gland as the tables of the trade give it, in metres; its squeeze as they print it."""

    use: str
    thickness: float
    least_depth: float
    most_depth: float
    width: float
    width_tolerance: float
    printed_squeeze: tuple[float, float]
    source: str
    mark: str


@dataclass(frozen=True)
class Use:
    """How a ring is used, and the squeeze, fill and stretch that are usual for it."""

    key: str
    label: str
    squeeze: tuple[float, float]
    usual_fill: float
    most_fill: float
    stretch: tuple[float, float, float] | None
    source: str
    mark: str
    note: str


@dataclass(frozen=True)
class Rubber:
    """A rubber that rings are made of, and where it is found."""

    key: str
    label: str
    found: str


@dataclass(frozen=True)
class Lubricant:
    """Something that a ring might be wetted with."""

    key: str
    label: str


@dataclass(frozen=True)
class Advice:
    """Verdict on a lubricant for a rubber: yes, care or no; why, and what goes wrong."""

    rubber: str
    lubricant: str
    verdict: str
    why: str
    wrong: str
    source: str
    mark: str


@dataclass(frozen=True)
class Swell:
    """Share of its volume that a rubber takes up from a fluid in a long soak."""

    rubber: str
    fluid: str
    growth: float
    source: str
    mark: str


@dataclass(frozen=True)
class Fitting:
    """Why to lubricate, what to do with an unknown rubber, and the steps of fitting a ring."""

    why_lubricate: str
    unknown_rubber: str
    steps: tuple[str, ...]
    source: str
    mark: str


@cache
def _file(name: str) -> dict[str, Any]:
    """Parsed contents of a data file beside this one."""
    return tomllib.loads((Path(__file__).parent / name).read_text(encoding="utf-8"))


@cache
def sections() -> tuple[Section, ...]:
    """Every standard section, AS568 first.

    >>> round(sections()[0].thickness * 1000, 3)
    1.778
    """
    return tuple(
        Section(
            entry["series"],
            entry["thickness"] * _METRES[entry["unit"]],
            entry["tolerance"] * _METRES[entry["unit"]],
            entry["source"],
            entry["mark"],
        )
        for entry in _file("o_rings.toml")["section"]
    )


@cache
def dash_sizes() -> tuple[DashSize, ...]:
    """AS568 sizes in order of their dash numbers.

    >>> dash_sizes()[0].name
    '-004'
    """
    sizes: list[DashSize] = []
    for entry in _file("o_rings.toml")["sizes"]:
        thickness = entry["section"] * _METRES["in"]
        section = next(found for found in sections() if found.thickness == thickness)
        sizes += [_dash_size(row, section, entry["seen"]) for row in entry["rows"]]
    return tuple(sorted(sizes, key=lambda size: size.number))


def _dash_size(row: list[float], section: Section, seen: list[int]) -> DashSize:
    """A dash size from its row: number, inside diameter and, where known, tolerance."""
    number, inside, *tolerance = row
    return DashSize(
        int(number),
        section,
        inside * _METRES["in"],
        tolerance[0] * _METRES["in"] if tolerance else None,
        "as restated" if number in seen else "from memory",
    )


def dash_size(number: int) -> DashSize:
    """The AS568 size of a dash number.

    >>> round(dash_size(210).inside_diameter * 1000, 2)
    18.64
    """
    known = {size.number: size for size in dash_sizes()}
    if number not in known:
        raise KeyError(f"dash size -{number:03d} is not in the list: enter the ring's own measures")
    return known[number]


def nearest_dash_sizes(
    inside_diameter: float, thickness: float, count: int = 3
) -> tuple[DashSize, ...]:
    """Sizes nearest to a ring measured free, of the section nearest to it, nearest first.

    >>> [size.name for size in nearest_dash_sizes(0.0186, 0.0035)]
    ['-210', '-209', '-211']
    """
    nearest = min(
        {size.section.thickness for size in dash_sizes()}, key=lambda w: abs(w - thickness)
    )
    fitting = [size for size in dash_sizes() if size.section.thickness == nearest]
    fitting.sort(key=lambda size: abs(size.inside_diameter - inside_diameter))
    return tuple(fitting[:count])


@cache
def uses() -> tuple[Use, ...]:
    """The ways a ring is used, with their guidance.

    >>> [use.key for use in uses()]
    ['static_face', 'static_radial', 'dynamic']
    """
    return tuple(_use(entry) for entry in _file("o_rings.toml")["use"])


def _use(entry: dict[str, Any]) -> Use:
    """A use from its entry in the file."""
    low, high = entry["squeeze"]
    usual_fill, most_fill = entry["fill"]
    stretch = entry.get("stretch")
    return Use(
        entry["key"],
        entry["label"],
        (low, high),
        usual_fill,
        most_fill,
        None if stretch is None else (stretch[0], stretch[1], stretch[2]),
        entry["source"],
        entry["mark"],
        entry["note"],
    )


@cache
def glands() -> tuple[Gland, ...]:
    """Glands of the trade's tables, for every use and AS568 section.

    >>> len(glands())
    15
    """
    return tuple(
        _gland(row, entry) for entry in _file("o_rings.toml")["gland"] for row in entry["rows"]
    )


def _gland(row: list[float], entry: dict[str, Any]) -> Gland:
    """A gland from its row: five lengths in inches, then the printed squeeze in per cent."""
    *inches, least_squeeze, most_squeeze = row
    thickness, shallow, deep, width, tolerance = (length * _METRES["in"] for length in inches)
    return Gland(
        entry["use"],
        thickness,
        shallow,
        deep,
        width,
        tolerance,
        (least_squeeze / 100, most_squeeze / 100),
        entry["source"],
        entry["mark"],
    )


@cache
def rubbers() -> tuple[Rubber, ...]:
    """The rubbers that the advice covers.

    >>> rubbers()[0].label
    'NBR (nitrile)'
    """
    return tuple(Rubber(**entry) for entry in _file("lubricants.toml")["rubber"])


@cache
def lubricants() -> tuple[Lubricant, ...]:
    """The lubricants that the advice covers.

    >>> lubricants()[1].label
    'Silicone grease'
    """
    return tuple(Lubricant(**entry) for entry in _file("lubricants.toml")["lubricant"])


@cache
def all_advice() -> tuple[Advice, ...]:
    """Advice on every pair of rubber and lubricant.

    >>> len(all_advice()) == len(rubbers()) * len(lubricants())
    True
    """
    return tuple(Advice(**entry) for entry in _file("lubricants.toml")["advice"])


def advice(rubber: str, lubricant: str) -> Advice:
    """Advice on one lubricant for one rubber, by their keys.

    >>> advice("epdm", "petroleum").verdict
    'no'
    """
    for entry in all_advice():
        if (entry.rubber, entry.lubricant) == (rubber, lubricant):
            return entry
    raise KeyError(f"no advice on lubricant {lubricant!r} for rubber {rubber!r}")


def safe_on_every_rubber() -> tuple[Lubricant, ...]:
    """Lubricants with a plain yes on every rubber, for a ring that nobody can name.

    >>> [lubricant.key for lubricant in safe_on_every_rubber()]
    ['soap']
    """
    doubtful = {entry.lubricant for entry in all_advice() if entry.verdict != "yes"}
    return tuple(lubricant for lubricant in lubricants() if lubricant.key not in doubtful)


@cache
def swells() -> tuple[Swell, ...]:
    """Measured growth of rubbers in fluids.

    >>> swells()[0].growth
    1.0
    """
    return tuple(Swell(**entry) for entry in _file("lubricants.toml")["swell"])


@cache
def fitting() -> Fitting:
    """How to fit a ring, and why to lubricate it.

    >>> len(fitting().steps)
    7
    """
    data = _file("lubricants.toml")
    return Fitting(
        data["why_lubricate"],
        data["unknown_rubber"],
        tuple(data["steps"]),
        data["steps_source"],
        data["steps_mark"],
    )
