"""Runs that nobody drove: an engine and a blower from `calc`, with a fault, through poor gauges.

The way round is the other one than the page's: the balance is solved with the fault in it, by
`tests.calc.blower`, and the gauges read what comes of it with noise, drift and errors of their own.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace

import numpy as np

from calc.boost import USUAL_SPEED_LOSS, orifice_function
from calc.constants import P_STANDARD
from site_src.lookups import reading, run_causes
from site_src.lookups.boost_fields import ALLOWANCES
from tests.calc.blower import Point, SetUp, operating_point

SPEEDS = np.arange(2250.0, 6251.0, 500.0)
FULL = 6000.0
BREATHING, EFFECTIVENESS, COOLANT_RISE, DEPRESSION, DROP = 0.95, 0.75, 15.0, 1500.0, 4000.0
"""As the page's example has them."""

ENTRIES = ("run_boost", "run_charge", "run_outlet", "run_depression", "run_pulley")

SIZES = {
    "slip": (0.06, 0.15),
    "leak": (0.07, 0.18),
    "bypass": (0.08, 0.2),
    "inlet": (2.5e3, 6e3),
    "cooler": (0.25, 0.45),
    "pulley": (0.05, 0.12),
    "breathing": (0.12, 0.18),
    "gauge": (4e3, 9e3),
}
"""How large a fault is drawn, by cause."""

SHOWN_BY = {
    "slip": ("run_pulley",),
    "leak": ("run_outlet",),
    "bypass": ("run_outlet",),
    "inlet": ("run_depression",),
    "cooler": ("run_charge",),
    "pulley": ("run_pulley",),
    "breathing": ("run_pulley", "run_rest"),
    "gauge": ("run_rest",),
}
"""Without these a cause may look like another one."""


@dataclass
class Truck:
    """A truck as it is, not as it was entered."""

    breathing: float = BREATHING
    ripple: float = 0.0
    phase: float = 0.0
    effectiveness: float = EFFECTIVENESS
    coolant_rise: float = COOLANT_RISE
    depression: float = DEPRESSION
    ratio: float = 1.0
    slip: float = 0.0
    slip_power: float = 1.0
    leak: float = 0.0
    bypass: float = 0.0
    gauge: float = 0.0


@dataclass
class Run:
    """What the gauges read, SI, by entry; and at rest."""

    speeds: np.ndarray = field(default_factory=lambda: SPEEDS)
    read: dict[str, np.ndarray] = field(default_factory=dict)
    rest: float | None = None


def truck_of(rng: np.random.Generator) -> Truck:
    """A sound truck, as far off its entries as sound ones are."""
    return Truck(
        breathing=BREATHING * (1 + 0.02 * rng.normal()),
        ripple=0.008 * rng.normal(),
        phase=rng.uniform(0, 6.3),
        effectiveness=EFFECTIVENESS + 0.03 * rng.normal(),
        coolant_rise=COOLANT_RISE + 3 * rng.normal(),
        depression=DEPRESSION * (1 + 0.12 * rng.normal()),
        ratio=1 + 0.003 * rng.normal(),
    )


def faulty(truck: Truck, fault: str, rng: np.random.Generator) -> Truck:
    """The truck with a fault of some size."""
    size = rng.uniform(*SIZES[fault])
    sign = rng.choice([-1.0, 1.0])
    grown = rng.uniform(0.9, 1.4)
    worse: dict[str, dict[str, float]] = {
        "slip": {"slip": size, "slip_power": grown},
        "leak": {"leak": size},
        "bypass": {"bypass": size},
        "inlet": {"depression": truck.depression + size},
        # The cooler itself is foul, or its coolant comes hot.
        "cooler": {"effectiveness": truck.effectiveness - size}
        if sign > 0
        else {"coolant_rise": truck.coolant_rise + 100 * size},
        "pulley": {"ratio": truck.ratio * (1 + sign * size)},
        "breathing": {"breathing": truck.breathing * (1 + sign * size)},
        "gauge": {"gauge": sign * size},
    }
    return replace(truck, **worse[fault])


def drive(truck: Truck, rng: np.random.Generator) -> Run:
    """Pull once, and read every gauge."""
    return drive_all([truck], [rng])[0]


def drive_all(trucks: list[Truck], rngs: list[np.random.Generator]) -> list[Run]:
    """Do so with many trucks, a row of every array to each."""
    columns = {each.name: [getattr(truck, each.name) for truck in trucks] for each in fields(Truck)}
    point, depression, pulley = _pulled(
        Truck(**{name: np.array(column)[:, None] for name, column in columns.items()})
    )
    runs = []
    for n, (truck, rng) in enumerate(zip(trucks, rngs, strict=True)):
        here = Point(**{each.name: getattr(point, each.name)[n] for each in fields(Point)})
        runs.append(_read(truck, here, depression[n], pulley[n], rng))
    return runs


def _pulled(truck):
    """What there is to read in a pull: the point, the inlet's depression, the pulley's speed."""
    speeds = SPEEDS / 60.0
    outside, ambient = 298.15, P_STANDARD
    allowance = float(ALLOWANCES["outside"])
    ratio = truck.ratio * (0.180 + allowance) / (0.092 + allowance)
    breathing = truck.breathing * (1 + truck.ripple * np.sin(SPEEDS / 900.0 + truck.phase))
    setup = SetUp(
        5.6e-3, 2.6e-3, 1.3, ratio, 0.01, 500 / 60, truck.effectiveness,
        outside + truck.coolant_rise, outside, ambient, truck.depression, DROP, USUAL_SPEED_LOSS,
    )  # fmt: skip
    full = operating_point(setup, np.array([FULL / 60.0]), truck.breathing)
    flow, point = full.air_flow * speeds / (FULL / 60), None
    demand, inlet_air, slip = breathing, outside, 0.01
    depression = truck.depression * (flow / full.air_flow) ** 2
    for _ in range(12):
        here = replace(setup, slip=slip, intake_temperature=inlet_air, inlet_depression=depression)
        point = operating_point(here, speeds, demand)
        out = np.maximum((point.boost + ambient) / ambient, 1.0)
        hole = truck.leak * orifice_function(out) * (FULL / 60) / speeds
        back = truck.bypass * orifice_function(point.pressure_ratio) * (FULL / 60) / speeds
        demand = breathing + BREATHING * (hole + back)
        part = BREATHING * back / demand
        inlet_air = outside + part * (point.outlet_temperature - inlet_air)
        slip = 0.01 + truck.slip * (point.drive_power / full.drive_power) ** truck.slip_power
        flow = point.air_flow * (1 - part)
        depression = truck.depression * (flow / full.air_flow) ** 2
    return point, depression, speeds * ratio * (1 - slip)


def _read(truck, point, depression, pulley, rng) -> Run:
    """What poor gauges make of it: noise, a drift along the pull, a thermometer that lags."""
    n, along = len(SPEEDS), np.linspace(0, 1, len(SPEEDS))
    noise = rng.normal(size=(5, n))
    read = {
        "run_boost": point.boost + truck.gauge + 500 * noise[0] + 700 * rng.normal() * along,
        "run_charge": point.charge_temperature - 3 * rng.random() + 1.2 * noise[1],
        "run_outlet": point.outlet_temperature - 5 * rng.random() + 2.0 * noise[2],
        "run_depression": depression + 80 * noise[3] + 60 * rng.normal(),
        "run_pulley": pulley * (1 + 0.002 * noise[4]),
    }
    return Run(SPEEDS, read, truck.gauge + 150 * rng.normal())


def entered(
    run: Run, columns: tuple[str, ...], rng: np.random.Generator
) -> list[dict[str, float | None]]:
    """The readings as entries of the page `reading`, one for each engine speed.

    Each gauge is in some unit of its quantity, rounded to a whole number of half per cents of its
    usual range or so, as loggers do.
    """
    numbers = reading.LOOKUP.numbers
    rows: list[dict[str, float | None]] = [{"run_speed": float(speed)} for speed in run.speeds]
    for key in columns:
        field = numbers[key]
        unit = rng.choice(np.array(field.quantity.units, dtype=object))
        fine = 10.0 ** np.floor(np.log10(np.ptp(unit.from_si(run.read[key]))) - 1.5)
        for row, value in zip(rows, run.read[key], strict=True):
            rounded = round(float(unit.from_si(value)) / fine) * fine
            row[key] = field.declared.from_si(unit.to_si(rounded))
    return rows


NAMES = [field.key for field in run_causes.LOOKUP.fields[1].fields]
"""The columns of a row."""


def weigh_all(
    runs: list[tuple[Run, tuple[str, ...], np.random.Generator]],
) -> list[dict[str, float]]:
    """Read runs as the page does: every reading by its recipe, then each run's causes."""
    inputs, sizes = [], []
    for run, gauges, rng in runs:
        columns = ("run_boost", *(key for key in gauges if key in ENTRIES))
        rows = entered(run, columns, rng)
        inputs += rows
        sizes.append(len(rows))
    outcomes = iter(reading.LOOKUP.explain_many(inputs))
    found = []
    for (run, gauges, _), size in zip(runs, sizes, strict=True):
        rows = [next(outcomes).symbols for _ in range(size)]
        rows = [{name: row.get(name) for name in NAMES} for row in rows if "air_off" in row]
        rest = round(run.rest / 1e3, 1) if "run_rest" in gauges else None
        found.append(run_causes.LOOKUP.explain({"run_rest": rest, "run_rows": rows}).answers)
    return found
