"""A shop's file of the tests' own, with every kind of entry that the reader knows."""

from __future__ import annotations

from pathlib import Path

from site_src.data.belts import section, sections
from site_src.data.reader import Table, read

SHOP = Path(__file__).with_name("shop.toml")

ROLES = ("crank", "blower", "idler", "tensioner")
ACROSS = (-2000.0, 2000.0)


def read_shop(path: Path) -> object:
    """Read a shop's file, or raise the DataError that names what is wrong."""
    return read(path, _shop)


def _shop(file: Table) -> object:
    file.text("title")
    file.text("note")
    file.table("engine", _engine)
    file.table("blower", _blower)
    file.table("belt", _belt)
    return file.rows("pulley", _pulley, unique=["name"])


def _engine(table: Table) -> None:
    table.measure("displacement", "displacement", (0.5, 20))
    table.measure("speed_limit", "rotation", (1000, 12000))


def _blower(table: Table) -> None:
    table.measure("displacement_per_rev", "displacement", (0.2, 10))
    table.measure("built_in_pressure_ratio", "ratio", (1, 3))
    table.measure("gear_ratio", "ratio", (0.2, 10))
    table.measure("speed_limit", "rotation", (1000, 40000))


def _belt(table: Table) -> None:
    section(table.choice("section", [known.key for known in sections()]))
    table.whole("ribs", 1, 40)
    table.choice("travel", ("clockwise", "counter-clockwise"))
    table.measure("clearance", "length", (0, 50))
    table.measures("stock_effective_lengths", "length", (300, 5000))


def _pulley(table: Table) -> None:
    table.text("name")
    role = table.choice("role", ROLES)
    if role == "tensioner":
        table.table("slot", lambda slot: [_point(slot, end) for end in ("slack", "tight")])
    else:
        table.measure("x", "length", ACROSS)
        table.measure("y", "length", ACROSS)
    table.measure("diameter", "length", (20, 500))
    table.choice("diameter_kind", ("effective", "outside", "over balls", "pitch", "smooth"))
    table.choice("side", ("ribs", "back"))
    table.measure("minimum_wrap", "angle", (0, 300))


def _point(table: Table, name: str) -> tuple[float, ...]:
    return table.measures(name, "length", ACROSS, 2)
