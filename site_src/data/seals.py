"""O-ring sections, sizes and glands in SI, and which lubricant goes on which rubber."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, get_args

from site_src.data.reader import Mark, Table, read

Verdict = Literal["yes", "care", "no"]
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)


@dataclass(frozen=True)
class Section:
    """A standard thickness of ring and its tolerance either way, in metres."""

    series: str
    thickness: float
    tolerance: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class DashSize:
    """An AS568 size, in metres; the tolerance is None where it is not surely known.

    A ring for a straight-thread boss, of the 900 series, also knows the usual thread of its port.
    """

    number: int
    section: Section
    inside_diameter: float
    tolerance: float | None
    source: str
    mark: Mark
    thread: str = ""

    @property
    def boss(self) -> bool:
        """Whether it is made for a straight-thread boss, and not for a groove."""
        return self.number >= 900

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
    mark: Mark


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
    mark: Mark
    note: str


@dataclass(frozen=True)
class SmallRings:
    """How far a small ring may be stretched, and up to which inside diameter it is small, m."""

    inside_diameter: float
    stretch: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Rubber:
    """A rubber that rings are made of, and where it is found."""

    key: str
    label: str
    found: str
    source: str
    mark: Mark


@dataclass(frozen=True)
class Lubricant:
    """Something that a ring might be wetted with."""

    key: str
    label: str
    source: str
    mark: Mark


@dataclass(frozen=True)
class Advice:
    """Verdict on a lubricant for a rubber: yes, care or no; why, and what goes wrong."""

    rubber: str
    lubricant: str
    verdict: Verdict
    why: str
    wrong: str
    source: str
    mark: Mark


@dataclass(frozen=True)
class Swell:
    """Share of its volume that a rubber takes up from a fluid in a long soak."""

    rubber: str
    fluid: str
    growth: float
    source: str
    mark: Mark


@dataclass(frozen=True)
class Fitting:
    """Why to lubricate, what to do with an unknown rubber, and the steps of fitting a ring."""

    why_lubricate: str
    unknown_rubber: str
    steps: tuple[str, ...]
    source: str
    mark: Mark


def sections() -> tuple[Section, ...]:
    """Every standard section, AS568 first.

    >>> round(sections()[0].thickness * 1000, 3)
    1.778
    """
    return _o_rings().sections


def dash_sizes() -> tuple[DashSize, ...]:
    """AS568 sizes in order of their dash numbers.

    >>> dash_sizes()[0].name
    '-004'
    """
    return _o_rings().sizes


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


def uses() -> tuple[Use, ...]:
    """The ways a ring is used, with their guidance.

    >>> [use.key for use in uses()]
    ['static_face', 'static_radial', 'dynamic']
    """
    return _o_rings().uses


def small_rings() -> SmallRings:
    """What is allowed to rings too small for the usual limit of stretch.

    >>> small_rings().stretch
    0.08
    """
    return _o_rings().small_rings


def glands() -> tuple[Gland, ...]:
    """Glands of the trade's tables, for every use and AS568 section.

    >>> len(glands())
    15
    """
    return _o_rings().glands


def rubbers() -> tuple[Rubber, ...]:
    """The rubbers that the advice covers.

    >>> rubbers()[0].label
    'NBR (nitrile)'
    """
    return _lubricants().rubbers


def lubricants() -> tuple[Lubricant, ...]:
    """The lubricants that the advice covers.

    >>> lubricants()[1].label
    'Silicone grease'
    """
    return _lubricants().lubricants


def all_advice() -> tuple[Advice, ...]:
    """Advice on every pair of rubber and lubricant.

    >>> len(all_advice()) == len(rubbers()) * len(lubricants())
    True
    """
    return _lubricants().advice


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


def swells() -> tuple[Swell, ...]:
    """Measured growth of rubbers in fluids.

    >>> swells()[0].growth
    1.0
    """
    return _lubricants().swells


def fitting() -> Fitting:
    """How to fit a ring, and why to lubricate it.

    >>> len(fitting().steps)
    7
    """
    return _lubricants().fitting


# --- o_rings.toml ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class _ORings:
    """What `o_rings.toml` holds."""

    sections: tuple[Section, ...]
    uses: tuple[Use, ...]
    small_rings: SmallRings
    glands: tuple[Gland, ...]
    sizes: tuple[DashSize, ...]


@cache
def _o_rings() -> _ORings:
    """Read the file, once."""
    return read(Path(__file__).with_name("o_rings.toml"), _all_rings)


def _all_rings(file: Table) -> _ORings:
    """Return what the file holds."""
    sections = file.rows("section", _section)
    uses = file.rows("use", _use, unique=["key"])
    keys = [use.key for use in uses]
    glands = file.rows("gland", lambda row: _glands(row, keys), unique=["use"])
    sizes = file.rows("sizes", lambda row: _dash_sizes(row, sections))
    boss = file.table("boss", lambda table: table.cells(_boss_size, unique=["number"]))
    sizes = (*sizes, boss)
    return _ORings(
        sections,
        uses,
        file.table("small_rings", _small_rings),
        tuple(gland for of_use in glands for gland in of_use),
        tuple(sorted((size for group in sizes for size in group), key=lambda size: size.number)),
    )


def _section(row: Table) -> Section:
    """Return a section."""
    return Section(
        series=row.text("series"),
        thickness=row.measure("thickness", "length", (0.5, 15)),
        tolerance=row.measure("tolerance", "length", (0.01, 0.5)),
        source=row.source(),
        mark=row.mark(),
    )


def _use(row: Table) -> Use:
    """Return a use."""
    least, most = row.measures("squeeze", "ratio", (0.01, 0.5), 2)
    usual_fill, most_fill = row.measures("fill", "ratio", (0.5, 1), 2)
    return Use(
        key=row.text("key"),
        label=row.text("label"),
        squeeze=(least, most),
        usual_fill=usual_fill,
        most_fill=most_fill,
        stretch=_stretch(row) if row.has("stretch") else None,
        source=row.source(),
        mark=row.mark(),
        note=row.text("note"),
    )


def _stretch(row: Table) -> tuple[float, float, float]:
    """Return the least, the usual and the most stretch of a use."""
    low, usual, high = row.measures("stretch", "ratio", (0, 0.2), 3)
    return low, usual, high


def _small_rings(table: Table) -> SmallRings:
    """Return what is allowed to small rings."""
    return SmallRings(
        inside_diameter=table.measure("inside_diameter", "length", (1, 50)),
        stretch=table.measure("stretch", "ratio", (0, 0.2)),
        source=table.source(),
        mark=table.mark(),
    )


def _glands(table: Table, uses: Sequence[str]) -> tuple[Gland, ...]:
    """Return the glands of a use, one a section."""
    use = table.choice("use", uses)
    return table.cells(lambda row: _gland(row, use), unique=["thickness_in"])


def _gland(row: Table, use: str) -> Gland:
    """Return a gland."""
    return Gland(
        use=use,
        thickness=row.measure("thickness", "length", (0.5, 15)),
        least_depth=row.measure("least_depth", "length", (0.3, 15)),
        most_depth=row.measure("most_depth", "length", (0.3, 15)),
        width=row.measure("width", "length", (0.5, 30)),
        width_tolerance=row.measure("width_tolerance", "length", (0.01, 1)),
        printed_squeeze=(
            row.measure("least_squeeze", "percent", (1, 50)),
            row.measure("most_squeeze", "percent", (1, 50)),
        ),
        source=row.source(),
        mark=row.mark(),
    )


def _dash_sizes(table: Table, sections: Sequence[Section]) -> tuple[DashSize, ...]:
    """Return the dash sizes of one section."""
    thickness = table.measure("section", "length", (0.5, 15))
    section = next((found for found in sections if found.thickness == thickness), None)
    if section is None:
        allowed, way_out = "the thickness of a [[section]]", "Correct it, or add that section."
        raise table.refuse("section", "not listed", allowed, way_out)
    return table.cells(lambda row: _dash_size(row, section), unique=["number"])


def _dash_size(row: Table, section: Section) -> DashSize:
    """Return a dash size."""
    return DashSize(
        number=row.whole("number", 1, 999),
        section=section,
        inside_diameter=row.measure("inside_diameter", "length", (0.5, 1000)),
        tolerance=row.measure_or_none("tolerance", "length", (0.01, 5)),
        source=row.source(),
        mark=row.mark(),
    )


def _boss_size(row: Table) -> DashSize:
    """Return a size for a straight-thread boss, which has a section of its own."""
    source, mark = row.source(), row.mark()
    thickness = row.measure("thickness", "length", (0.5, 15))
    tolerance = row.measure("thickness_tolerance", "length", (0.01, 0.5))
    return DashSize(
        number=row.whole("number", 901, 999),
        section=Section("AS568 9xx", thickness, tolerance, source, mark),
        inside_diameter=row.measure("inside_diameter", "length", (0.5, 1000)),
        tolerance=row.measure("tolerance", "length", (0.01, 5)),
        source=source,
        mark=mark,
        thread=row.text("thread") if row.has("thread") else "",
    )


# --- lubricants.toml ------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Lubricants:
    """What `lubricants.toml` holds."""

    fitting: Fitting
    rubbers: tuple[Rubber, ...]
    lubricants: tuple[Lubricant, ...]
    advice: tuple[Advice, ...]
    swells: tuple[Swell, ...]


@cache
def _lubricants() -> _Lubricants:
    """Read the file, once."""
    return read(Path(__file__).with_name("lubricants.toml"), _all_lubricants)


def _all_lubricants(file: Table) -> _Lubricants:
    """Return what the file holds."""
    rubbers = file.table("rubbers", lambda table: table.cells(_rubber, unique=["key"]))
    lubricants = file.table("lubricants", lambda table: table.cells(_lubricant, unique=["key"]))
    on = [rubber.key for rubber in rubbers]
    of = [lubricant.key for lubricant in lubricants]
    return _Lubricants(
        fitting=file.table("fitting", _fitting),
        rubbers=rubbers,
        lubricants=lubricants,
        advice=file.rows("advice", lambda row: _advice(row, on, of), ["rubber", "lubricant"]),
        swells=file.rows("swell", lambda row: _swell(row, on), ["rubber", "fluid"]),
    )


def _fitting(table: Table) -> Fitting:
    """Return how to fit a ring."""
    return Fitting(
        why_lubricate=table.text("why_lubricate"),
        unknown_rubber=table.text("unknown_rubber"),
        steps=table.texts("steps"),
        source=table.source(),
        mark=table.mark(),
    )


def _rubber(row: Table) -> Rubber:
    """Return a rubber."""
    return Rubber(row.text("key"), row.text("label"), row.text("found"), row.source(), row.mark())


def _lubricant(row: Table) -> Lubricant:
    """Return a lubricant."""
    return Lubricant(row.text("key"), row.text("label"), row.source(), row.mark())


def _advice(row: Table, rubbers: Sequence[str], lubricants: Sequence[str]) -> Advice:
    """Return the advice on a lubricant for a rubber."""
    return Advice(
        rubber=row.choice("rubber", rubbers),
        lubricant=row.choice("lubricant", lubricants),
        verdict=row.choice("verdict", VERDICTS),
        why=row.text("why"),
        wrong=row.text("wrong"),
        source=row.source(),
        mark=row.mark(),
    )


def _swell(row: Table, rubbers: Sequence[str]) -> Swell:
    """Return how much a rubber grows in a fluid."""
    return Swell(
        rubber=row.choice("rubber", rubbers),
        fluid=row.text("fluid"),
        growth=row.measure("growth", "ratio", (0, 5)),
        source=row.source(),
        mark=row.mark(),
    )
