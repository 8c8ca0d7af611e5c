"""Outside air: the entries that every page about it asks for, and the pressure they give."""

from __future__ import annotations

from calc.atmosphere import pressure_at_altitude
from calc.domain import Real
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated

LOWEST, HIGHEST = -300.0, 4500.0
"""Altitudes at which anyone drives, m."""

STANDARD_PRESSURE = tabulated(
    "standard_pressure",
    pressure_at_altitude,
    cubic("altitude", "altitude", LOWEST, HIGHEST),
    tolerance=0.1,
    monotone=True,
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
        Scale("altitude", unit="m", span=(LOWEST, HIGHEST), default=0, step=100),
        way_out="Above that, enter a barometer reading.",
        when=("air_from", ("altitude",)),
    ),
    Number(
        "barometer",
        "Barometer, not set to sea level",
        Scale("absolute_pressure", unit="kPa", span=(50, 110), default=101.325, step=0.5),
        measure="Station pressure: a weather report is set to sea level and reads too high.",
        way_out="A weather report is set to sea level; use the altitude instead.",
        when=("air_from", ("barometer",)),
    ),
)

INTAKE_TEMPERATURE = Number(
    "intake_temperature",
    "Intake air temperature",
    Scale("temperature", unit="C", span=(-40, 60), default=25, step=5),
    sign="T₁",
    measure="At the air filter, hood shut and hot.",
    way_out="Measure at the filter.",
)


def ambient(e: Entries) -> Real:
    """Return the outside pressure that was entered or that belongs to the altitude, Pa."""
    standard = STANDARD_PRESSURE(e["altitude"])
    return e.pick("air_from", {"altitude": standard, "barometer": e["barometer"]})
