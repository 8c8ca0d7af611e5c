"""Outside air and the coolant that follows it: the entries that every page about them asks for.

The pressure that they give, and the coolant's temperature.
"""

from __future__ import annotations

from dataclasses import replace

from calc.atmosphere import pressure_at_altitude
from calc.domain import Real
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Scale
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated

LOWEST, HIGHEST = -300.0, 4500.0
"""Altitudes at which anyone drives, m."""

STANDARD_PRESSURE = tabulated(
    "standard_pressure",
    pressure_at_altitude,
    cubic("altitude", "altitude", LOWEST, HIGHEST),
    tolerance=0.02,
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
        Scale(
            "absolute_pressure",
            unit="kPa",
            span=(50, 110),
            default=101.325,
            step=0.5,
            inch=Inch(default=29.92),
        ),
        measure="Station pressure: a weather report is set to sea level and reads too high.",
        way_out="A weather report is set to sea level; use the altitude instead.",
        when=("air_from", ("barometer",)),
    ),
)

NOSE_RISE, BED_RISE = 15.0, 28.0
"""Coolant above the outside air, by where its exchanger sits, K.

Common practice: about 15 K in the nose, 25 to 30 K in the bed on fans alone.
"""

NO_ICE, ICE = 0.0, -100.0
"""Least rise of the coolant over the outside air without ice, and with it, K."""

INTAKE_TEMPERATURE = Number(
    "intake_temperature",
    "Intake air temperature",
    Scale("temperature", unit="C", span=(-40, 60), default=25, step=5),
    sign="T₁",
    measure="At the air filter, hood shut and hot.",
    way_out="Measure at the filter.",
)

EXCHANGER_PLACE = Choice(
    "exchanger_place",
    "The exchanger sits",
    (Option("nose", "In the nose, in road air"), Option("bed", "In the bed, on fans")),
    "nose",
)

COOLANT_FIELDS = (
    Number(
        "outside_temperature",
        "Outside air",
        Scale("temperature", unit="C", span=(-40, 60), default=None, step=5),
        measure="Leave empty if the filter draws outside air. The coolant follows this one.",
        way_out="Measure in the shade.",
    ),
    Choice(
        "coolant_from",
        "Coolant into the charge cooler",
        (
            Option("place", "As is usual where the exchanger sits"),
            Option("rise", "A rise above outside air that I enter"),
            Option("temperature", "A temperature that I measured"),
            Option("ice", "A temperature, with ice in the reservoir"),
        ),
        "place",
        measure="Once warm, the coolant is always above the outside air, on a hot day as well: "
        "about [15 °C|27 °F] in the nose, [25 to 30 °C|45 to 54 °F] in the bed on fans alone, "
        "where [28 °C|50 °F] is taken. Common practice.",
    ),
    replace(EXCHANGER_PLACE, when=("coolant_from", ("place",))),
    Number(
        "coolant_rise",
        "Coolant above the outside air",
        Scale(
            "temperature_difference",
            unit="dC",
            span=(0, 60),
            default=15,
            step=5,
            inch=Inch(default=27),
        ),
        measure="Coolant at the charge cooler's inlet after a run, less outside air that day. The "
        "page “Charge cooling” works it out from your exchanger.",
        way_out="Measure at the charge cooler's inlet after a run.",
        when=("coolant_from", ("rise",)),
    ),
    Number(
        "coolant_temperature",
        "Coolant temperature",
        Scale("temperature", unit="C", span=(-10, 90), default=40, step=5),
        measure="At the charge cooler's inlet after a run. It holds for the day it was measured: "
        "on a hotter day it is hotter.",
        way_out="Measure at the charge cooler's inlet after a run.",
        when=("coolant_from", ("temperature", "ice")),
    ),
)
"""What the coolant's temperature depends on, besides the intake air."""


def coolant_rise(e: Entries) -> Real:
    """Return how far the coolant is above the outside air, K; below 0 it is colder."""
    entered = e["coolant_temperature"] - outside(e)
    return e.pick(
        "coolant_from",
        {
            "place": e.pick("exchanger_place", {"nose": NOSE_RISE, "bed": BED_RISE}),
            "rise": e["coolant_rise"],
            "temperature": entered,
            "ice": entered,
        },
    )


def least_rise(e: Entries) -> Real:
    """Return the least rise that the coolant can have, K: colder than the air takes ice."""
    return e.pick(
        "coolant_from",
        {**dict.fromkeys(("place", "rise", "temperature"), NO_ICE), "ice": ICE},
    )


def outside(e: Entries) -> Real:
    """Return the outside air's temperature, K: the intake's, where none is entered."""
    return e.entered_or("outside_temperature", e["intake_temperature"])


def ambient(e: Entries) -> Real:
    """Return the outside pressure that was entered or that belongs to the altitude, Pa."""
    standard = STANDARD_PRESSURE(e["altitude"])
    return e.pick("air_from", {"altitude": standard, "barometer": e["barometer"]})
