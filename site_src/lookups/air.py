"""Outside air: the fields, the table and the steps that every page about it shares."""

from __future__ import annotations

import numpy as np

from calc.atmosphere import pressure_at_altitude
from site_src.model.direct import Entries, Floats
from site_src.model.fields import Choice, Number, Option
from site_src.tables.compiler import TableSpec, cubic
from site_src.tables.recipe import Look, Pick, Step

LOWEST, HIGHEST = -300.0, 4500.0
"""Altitudes at which anyone drives, m."""

STANDARD_PRESSURE = TableSpec(
    "standard_pressure",
    pressure_at_altitude,
    (cubic("altitude", "altitude", LOWEST, HIGHEST),),
    tolerance=0.1,
    monotone=True,
    numbers="f8",
)

PRESSURE_FIELDS = (
    Choice(
        "air_from",
        "Outside air pressure",
        (Option("altitude", "From altitude"), Option("barometer", "Barometer here")),
        "altitude",
    ),
    Number(
        "altitude",
        "Altitude",
        "altitude",
        "m",
        LOWEST,
        HIGHEST,
        0.0,
        100.0,
        way_out="Above that, enter a barometer reading.",
        when=("air_from", ("altitude",)),
    ),
    Number(
        "barometer",
        "Barometer, not set to sea level",
        "absolute_pressure",
        "kPa",
        50.0,
        110.0,
        101.325,
        0.5,
        measure="Station pressure: a weather report is set to sea level and reads too high.",
        way_out="A weather report is set to sea level; use the altitude instead.",
        when=("air_from", ("barometer",)),
    ),
)

INTAKE_TEMPERATURE = Number(
    "intake_temperature",
    "Intake air temperature",
    "temperature",
    "C",
    -40.0,
    60.0,
    25.0,
    5.0,
    measure="At the air filter, hood shut and hot.",
    way_out="Measure at the filter.",
)

PRESSURE_STEPS: tuple[Step, ...] = (
    Look("standard_air", STANDARD_PRESSURE.name, ("altitude",)),
    Pick("ambient", "air_from", (("altitude", "standard_air"), ("barometer", "barometer"))),
)


def ambient(g: Entries) -> Floats:
    """Return the outside pressure that was entered or that belongs to the altitude, Pa."""
    standard = np.asarray(pressure_at_altitude(g["altitude"]))
    return np.where(g.chosen("air_from") == "altitude", standard, g["barometer"])
