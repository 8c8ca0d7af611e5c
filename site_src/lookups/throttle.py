"""Throttle and inlet: what bore, filter and pipe take away before the blower.

The nozzle is one curve. The square of its dimensionless flow is a product of powers of what was
entered and almost straight in the depression, so it is tabulated over the depression and read back
to front. All else, choking included, is products of powers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from calc import throttle as calc
from calc.atmosphere import dry_air_density
from calc.constants import R_AIR
from calc.domain import Real
from site_src.lookups import air, power
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.direct import Entries, Floats, Limit, where_good
from site_src.model.fields import Choice, Number, Option
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec, cubic
from site_src.tables.recipe import Inverse, Look, Pick, Product, Step, Sum

MOST_DEPRESSION = 0.35
"""Share of its upstream pressure that a throttle is worked out for; above, it all but chokes."""

_SLACK = 1e-6

CHOKED_FLOW = float(calc.flow_function(0.0))
"""Dimensionless flow of a choked opening."""

CHOKED_NEAR, CHOKED_LIMIT = 0.40, 0.50
"""Share of choked flow up to which we would run a throttle. Common practice."""

COUNTS = (("1", 1.0), ("2", 2.0), ("3", 3.0), ("4", 4.0))

PIPE = Limit(
    "throttle_pipe",
    "depression of filter and pipe",
    # None at all is within: there may be no filter.
    -1.0,
    15e3,
    above="Filter and pipe would take over 15 kPa at this air flow, which the law of one measured "
    "point is not good for. Measure nearer to this air flow, or clean the filter.",
)

PRESSURE_RATIO = Limit(
    "throttle_pressure_ratio",
    "pressure ratio across the blower",
    1.0,
    5.0,
    above="Boost over this inlet pressure is a pressure ratio above 5, which no blower of this "
    "kind makes. Check boost and outside air.",
)


# --- the direct calculation ------------------------------------------------------------------


@dataclass(frozen=True)
class Passed:
    """What one throttle does to the air flow, SI."""

    depression: Floats
    choked_share: Floats
    choked_flow: Floats


def direct(given: Given) -> Mapping[str, Floats]:
    """Work everything out without tables."""
    g = Entries(given)
    ambient = air.ambient(g)
    density = dry_air_density(ambient, g["intake_temperature"])
    pipe = PIPE.keep(
        np.asarray(
            calc.scaled_depression(
                g["air_flow"], density, g["pipe_air_flow"], density, g["pipe_depression"]
            )
        )
    )
    mine = _passed(g, g["throttle_bore"], g.picked("throttle_bores", COUNTS), ambient - pipe)
    other = _passed(g, g["other_bore"], g.picked("other_bores", COUNTS), ambient - pipe)
    total, other_total = pipe + mine.depression, pipe + other.depression
    ratio = PRESSURE_RATIO.keep((ambient + g["boost"]) / (ambient - total))
    lost = where_good(np.isfinite(ratio), calc.manifold_pressure_lost, ratio, total)
    other_lost = where_good(
        np.isfinite(ratio) & np.isfinite(other_total),
        calc.manifold_pressure_lost,
        ratio,
        other_total,
    )
    share = calc.power_fraction_lost
    return {
        "inlet_depression": total,
        "throttle_depression": mine.depression,
        "pipe_part": pipe,
        "boost_lost": lost,
        "power_lost": where_good(np.isfinite(total), share, total, ambient),
        "choked_share": mine.choked_share,
        "choked_flow": mine.choked_flow,
        "other_inlet_depression": other_total,
        "other_throttle_depression": other.depression,
        "boost_change": lost - other_lost,
        "other_power_lost": where_good(np.isfinite(other_total), share, other_total, ambient),
        "other_choked_share": other.choked_share,
    }


def _passed(g: Entries, bore: Floats, number: Floats, upstream: Floats) -> Passed:
    """Send the air flow through one throttle; NaN where there is no upstream pressure."""
    area = calc.effective_area(
        bore, calc.wide_open_fraction(g["shaft"] / bore), g["discharge_coefficient"], number
    )
    known, temperature = np.isfinite(upstream), g["intake_temperature"]
    flow = where_good(known, calc.flow_parameter, g["air_flow"], area, upstream, temperature)
    share = where_good(flow <= CHOKED_FLOW, calc.relative_depression, flow)
    share = np.where(share <= MOST_DEPRESSION + _SLACK, share, np.nan)
    return Passed(
        depression=upstream * share,
        choked_share=flow / CHOKED_FLOW,
        choked_flow=where_good(known, calc.choked_mass_flow, area, upstream, temperature),
    )


# --- tables ----------------------------------------------------------------------------------


def _passing(depression: Real) -> Real:
    """Square of the dimensionless flow over the share of the pressure taken away."""
    return calc.flow_function(1.0 - depression) ** 2


TABLES = (
    air.STANDARD_PRESSURE,
    PIPE.table,
    PRESSURE_RATIO.table,
    TableSpec(
        "nozzle_flow_squared",
        _passing,
        (cubic("depression", "share of the pressure taken away", 0.0, MOST_DEPRESSION),),
        tolerance=1e-7,
        monotone=True,
        numbers="f8",
    ),
    TableSpec(
        "wide_open_fraction",
        calc.wide_open_fraction,
        (cubic("shaft_ratio", "shaft over bore", 0.0, 0.5),),
        tolerance=1e-6,
        monotone=True,
        numbers="f8",
    ),
)


# --- the recipe ------------------------------------------------------------------------------

_CHOKED = (
    "This throttle is choked, or all but: it can't pass that much air. Fit a larger bore or more "
    "of them."
)
_UNIT_AREA = float(calc.effective_area(0.1, 1.0, 1.0, 1.0)) / 0.1**2


def _through(name: str, bore: str, number: str) -> tuple[Step, ...]:
    """Return the steps that send the air flow through one throttle."""
    return (
        Pick(f"{name}number", number, COUNTS),
        Product(f"{name}shaft_ratio", (("shaft", 1.0), (bore, -1.0))),
        Look(f"{name}open", "wide_open_fraction", (f"{name}shaft_ratio",)),
        Product(
            f"{name}area",
            (
                (f"{name}number", 1.0),
                ("discharge_coefficient", 1.0),
                (f"{name}open", 1.0),
                (bore, 2.0),
            ),
            times=_UNIT_AREA,
        ),
        Product(
            f"{name}flow_squared",
            (
                ("air_flow", 2.0),
                ("intake_temperature", 1.0),
                (f"{name}area", -2.0),
                ("upstream", -2.0),
            ),
            times=R_AIR,
        ),
        Inverse(
            f"{name}share",
            "nozzle_flow_squared",
            "depression",
            f"{name}flow_squared",
            above=_CHOKED,
        ),
        Product(f"{name}throttle_depression", ((f"{name}share", 1.0), ("upstream", 1.0))),
        Sum(f"{name}inlet_depression", (("pipe_part", 1.0), (f"{name}throttle_depression", 1.0))),
        Product(f"{name}power_lost", ((f"{name}inlet_depression", 1.0), ("ambient", -1.0))),
        Product(f"{name}choked_share", ((f"{name}flow_squared", 0.5),), times=1.0 / CHOKED_FLOW),
    )


STEPS = (
    *air.PRESSURE_STEPS,
    # Filter and pipe: turbulent loss, in the air of the measured point.
    Product(
        "pipe_scaled",
        (("pipe_depression", 1.0), ("air_flow", 2.0), ("pipe_air_flow", -2.0)),
    ),
    PIPE.look("pipe_part", "pipe_scaled"),
    Sum("upstream", (("ambient", 1.0), ("pipe_part", -1.0))),
    *_through("", "throttle_bore", "throttle_bores"),
    *_through("other_", "other_bore", "other_bores"),
    Product(
        "choked_flow",
        (("area", 1.0), ("upstream", 1.0), ("intake_temperature", -0.5)),
        times=CHOKED_FLOW / float(np.sqrt(R_AIR)),
    ),
    # What it costs behind a blower on a fixed pulley.
    Sum("manifold", (("ambient", 1.0), ("boost", 1.0))),
    Sum("inlet", (("ambient", 1.0), ("inlet_depression", -1.0))),
    Product("ratio", (("manifold", 1.0), ("inlet", -1.0))),
    PRESSURE_RATIO.look("pressure_ratio", "ratio"),
    Product("boost_lost", (("pressure_ratio", 1.0), ("inlet_depression", 1.0))),
    Product("other_boost_lost", (("pressure_ratio", 1.0), ("other_inlet_depression", 1.0))),
    Sum("boost_change", (("boost_lost", 1.0), ("other_boost_lost", -1.0))),
)


# --- the page --------------------------------------------------------------------------------

_BORES = (60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0, 110.0, 120.0, 130.0)
_HOW_MANY = (
    Option("1", "One"),
    Option("2", "Two, side by side"),
    Option("3", "Three, side by side"),
    Option("4", "Four, side by side"),
)

FIELDS = (
    Number(
        "air_flow",
        "Air flow",
        Scale("mass_flow", unit="gps", span=(20, 1500), default=510, step=10),
        measure="From the boost page, at the engine's top speed.",
        way_out="Enter the whole engine's air flow, and look at the unit.",
        first=True,
    ),
    Number(
        "throttle_bore",
        "Throttle bore",
        Scale("length", unit="mm", span=(40, 150), default=90, step=1, stock=_BORES),
        measure="Caliper, at the plate.",
        way_out="Measure the bore at the plate, not the flange.",
        first=True,
    ),
    Choice("throttle_bores", "How many bores", _HOW_MANY, "2", first=True),
    Number(
        "other_bore",
        "The other bore, to compare",
        Scale("length", unit="mm", span=(40, 150), default=105, step=1, stock=_BORES),
        measure="The throttle that you might fit instead.",
        way_out="Enter its bore at the plate, not the flange.",
        first=True,
    ),
    Choice("other_bores", "How many of the other", _HOW_MANY, "1"),
    Number(
        "shaft",
        "Shaft across the bore",
        Scale("length", unit="mm", span=(0, 20), default=10, step=0.5),
        measure="Diameter, or the plate's thickness if that is more; 0 for a bare bore. Taken for "
        "both throttles.",
        way_out="Measure the shaft where it crosses the bore.",
    ),
    Number(
        "discharge_coefficient",
        "Discharge coefficient",
        Scale("ratio", unit="", span=(0.6, 1), default=0.9, step=0.05),
        measure="0.80 to 0.95 for a plate near wide open; flow bench knows. Common practice.",
        way_out="1 is a perfect nozzle; a plate throttle stays below.",
    ),
    Number(
        "pipe_depression",
        "Measured before the throttle",
        Scale("small_pressure", unit="kPa", span=(0, 10), default=0.2, step=0.1),
        measure="Filter and pipe: hose from just before the throttle to a gauge or a water tube.",
        way_out="Over 10 kPa the filter is blocked: change it first.",
    ),
    Number(
        "pipe_air_flow",
        "Air flow when it was measured",
        Scale("mass_flow", unit="gps", span=(20, 1500), default=400, step=10),
        measure="From the boost page, at the speed and boost of the measurement.",
        way_out="Measure near full load, where the air flow is large.",
    ),
    replace(
        power.LOOKUP.numbers["boost"],
        measure="Gauge at the manifold, at the same air flow.",
        first=False,
    ),
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
)

_SUCTION = {"kPa": 1, "inH2O": 0, "psi": 2, "mbar": 0}
_GAUGE = {"kPa": 1, "psi": 1, "bar": 2}

ANSWERS = (
    Answer(
        "inlet_depression",
        "Depression at the blower inlet",
        of="small_pressure",
        decimals=_SUCTION,
        tolerance=0.005,
        uncertainty=0.3,
        rank="main",
        note="What the boost page asks for, under the same name.",
    ),
    Answer(
        "boost_lost",
        "Boost lost",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.01,
        uncertainty=0.6,
        rank="second",
        note="A blower on a fixed pulley multiplies what is missing before it.",
    ),
    Answer(
        "power_lost",
        "Power lost",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.005,
        uncertainty=0.4,
        rank="second",
    ),
    Answer(
        "other_inlet_depression",
        "Depression with the other",
        of="small_pressure",
        decimals=_SUCTION,
        tolerance=0.005,
        uncertainty=0.3,
        rank="second",
        note="At the same air flow.",
    ),
    Answer(
        "choked_share",
        "Share of choked flow",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.01,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=CHOKED_LIMIT,
            near=CHOKED_NEAR,
            within="Throttle at {value} of choking, {margin} under the line.",
            near_words="Throttle at {value} of choking: little room for more air.",
            beyond="Throttle at {value} of choking, {margin} over the line: too small for this air flow. "
            "Fit a larger bore or one more.",
        ),
        note="The line at half of choked flow is common practice; the throttle alone costs 6 % of "
        "the air there.",
    ),
    Answer(
        "choked_flow",
        "Most air that the throttle passes",
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=100.0,
    ),
    Answer(
        "throttle_depression",
        "Taken by the throttle",
        of="small_pressure",
        decimals=_SUCTION,
        tolerance=0.005,
        uncertainty=0.3,
    ),
    Answer(
        "pipe_part",
        "Taken by filter and pipe",
        of="small_pressure",
        decimals=_SUCTION,
        tolerance=0.001,
        uncertainty=0.1,
    ),
    Answer(
        "other_throttle_depression",
        "Taken by the other throttle",
        of="small_pressure",
        decimals=_SUCTION,
        tolerance=0.005,
        uncertainty=0.3,
    ),
    Answer(
        "boost_change",
        "Boost change with the other",
        of="gauge_pressure",
        decimals=_GAUGE,
        tolerance=0.01,
        uncertainty=0.6,
        note="Above 0 the other throttle gives boost, below 0 it costs boost.",
    ),
    Answer(
        "other_power_lost",
        "Power lost with the other",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.005,
        uncertainty=0.4,
    ),
    Answer(
        "other_choked_share",
        "Share of choked flow, the other",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.01,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=CHOKED_LIMIT,
            near=CHOKED_NEAR,
            within="The other throttle at {value} of choking, {margin} under the line.",
            near_words="The other throttle at {value} of choking: little room for more air.",
            beyond="The other throttle at {value} of choking: too small for this air flow.",
        ),
    ),
)

LOOKUP = Lookup(
    key="throttle",
    title="Throttle and inlet",
    short="Throttle",
    question="What does the throttle cost, and would another bore do better?",
    stage="feed",
    fields=FIELDS,
    steps=STEPS,
    answers=ANSWERS,
    tables=TABLES,
    direct=direct,
    workings=(
        Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1),
        Working("upstream", "Before the throttle", of="absolute_pressure", unit="kPa", decimals=1),
        Working("open", "Share of the bore beside the shaft"),
        Working("area", "Effective area", of="area", unit="mm2", decimals=0),
        Working("share", "Share of the pressure taken", decimals=4),
        Working("other_share", "The same, the other throttle", decimals=4),
        Working("other_area", "Effective area, the other", of="area", unit="mm2", decimals=0),
        Working("pressure_ratio", "Pressure ratio across the blower", decimals=2),
        Working(
            "other_boost_lost",
            "Boost lost with the other",
            of="gauge_pressure",
            unit="kPa",
            decimals=1,
        ),
    ),
    views=Views(
        grids=(
            GridView(
                "Depression at the blower inlet by bore and air flow",
                "inlet_depression",
                "throttle_bore",
                (70.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0),
                "air_flow",
                (300.0, 400.0, 500.0, 600.0, 700.0),
            ),
        ),
        curves=(
            CurveView(
                "Depression against air flow",
                "inlet_depression",
                "air_flow",
                tuple(50.0 * n for n in range(1, 17)),
            ),
            CurveView(
                "Share of choked flow against air flow",
                "choked_share",
                "air_flow",
                tuple(50.0 * n for n in range(1, 17)),
            ),
        ),
    ),
    cautions=(
        "With the engine off and the filter pulled, work the pedal: the throttle must open fully, "
        "move freely and snap shut. A larger plate can catch on a gasket or a hose.",
        "Never look into or reach into an inlet on a running engine: it takes in rags, tools and "
        "fingers.",
        "An electronic throttle keeps its own plausibility check; a bore that its control doesn't "
        "know can drop it into limp mode.",
        "The throttle maker's flow figure overrules the bore.",
    ),
    sources=(
        "Throttle as an isentropic nozzle: Heywood, Internal Combustion Engine Fundamentals, "
        "app. C; choked flow as in ISO 9300.",
        "Free area beside the shaft: plane geometry, the limit of Heywood, eq. (7.18).",
        "Filter and pipe: Darcy-Weisbach, loss in proportion to flow squared.",
        "Discharge coefficient 0.80 to 0.95: common practice.",
        "Outside air from altitude: ISO 2533.",
    ),
    leaves_out=(
        "Pressure won back behind the plate, and a plate that throws its jet at one rotor.",
        "Pulsation: the blower draws in beats, and the peaks lose more than the mean.",
        "The air of the measured point is taken to be today's. A paper filter loses a little less "
        "above its measured point than the law says.",
        "The air flow stays as entered: with less depression the engine takes a little more.",
    ),
)
