"""Throttle and inlet: what bore, filter and pipe take away before the blower.

The nozzle is one curve: the share of the pressure that it takes away over the square of its
dimensionless flow, along which it is almost straight. All else, choking included, is arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from calc import throttle as calc
from calc.domain import Real
from site_src.lookups import air, power
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated, within

MOST_DEPRESSION = 0.35
"""Share of its upstream pressure that a throttle is worked out for; above, it all but chokes."""

MOST_PIPE = 15e3
"""Depression of filter and pipe up to which the law of one measured point is good, Pa."""

MOST_RATIO = 5.0
"""Pressure ratio across a blower, above any of this kind."""

CHOKED_FLOW = float(calc.flow_function(0.0))
"""Dimensionless flow of a choked opening."""

CHOKED_NEAR, CHOKED_LIMIT = 0.40, 0.50
"""Share of choked flow up to which we would run a throttle. Common practice."""

COUNTS = {"1": 1.0, "2": 2.0, "3": 3.0, "4": 4.0}

HAIR = 1e-4
"""What the tables of outside air and free area can be off by is far below this share."""

_CHOKED = (
    "This throttle is choked, or all but: it can't pass that much air. Fit a larger bore or more "
    "of them."
)
_TOO_MUCH_PIPE = (
    "Filter and pipe would take over 15 kPa at this air flow, which the law of one measured "
    "point is not good for. Measure nearer to this air flow, or clean the filter."
)
_TOO_MUCH_RATIO = (
    "Boost over this inlet pressure is a pressure ratio above 5, which no blower of this "
    "kind makes. Check boost and outside air."
)


# --- tables ----------------------------------------------------------------------------------


def _depression(flow_squared: Real) -> Real:
    """Share of the pressure that a nozzle takes away, over the square of its flow."""
    return calc.relative_depression(np.sqrt(flow_squared))


_MOST_SQUARED = float(calc.flow_function(1.0 - MOST_DEPRESSION)) ** 2

DEPRESSION = tabulated(
    "nozzle_depression",
    _depression,
    cubic("flow_squared", "square of the dimensionless flow", 0.0, _MOST_SQUARED),
    tolerance=1e-6,
    monotone=True,
    by=(calc.relative_depression,),
)
WIDE_OPEN = tabulated(
    "wide_open_fraction",
    calc.wide_open_fraction,
    cubic("shaft_ratio", "shaft over bore", 0.0, 0.5),
    tolerance=1e-6,
    monotone=True,
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what this throttle costs, and what the other would."""
    ambient = air.ambient(e)
    pipe = calc.scaled_depression(e["air_flow"], e["pipe_air_flow"], e["pipe_depression"])
    pipe = within(pipe, None, MOST_PIPE, above=_TOO_MUCH_PIPE)
    found = {"ambient": ambient, "pipe_part": pipe, "upstream": ambient - pipe}
    found |= _through(e, found, "throttle")
    other = _through(e, found, "other")
    inlet = ambient - found["inlet_depression"]
    ratio = (ambient + e["boost"]) / inlet
    ratio = within(ratio, None, MOST_RATIO, above=_TOO_MUCH_RATIO, hair=HAIR)
    lost, other_lost = (
        calc.manifold_pressure_lost(ratio, each["inlet_depression"]) for each in (found, other)
    )
    return {
        **found,
        **{f"other_{key}": value for key, value in other.items()},
        "choked_flow": calc.choked_mass_flow(
            found["area"], found["upstream"], e["intake_temperature"]
        ),
        "pressure_ratio": ratio,
        "boost_lost": lost,
        "other_boost_lost": other_lost,
        "boost_change": lost - other_lost,
    }


def _through(e: Entries, before: Mapping[str, Real], which: str) -> dict[str, Real]:
    """Send the air flow through one of the two throttles."""
    bore, number = e[f"{which}_bore"], e.pick(f"{which}_bores", COUNTS)
    open_share = WIDE_OPEN(e["shaft"] / bore)
    area = calc.effective_area(bore, open_share, e["discharge_coefficient"], number)
    upstream = before["upstream"]
    flow = calc.flow_parameter(e["air_flow"], area, upstream, e["intake_temperature"])
    share = DEPRESSION(within(flow**2, None, _MOST_SQUARED, above=_CHOKED, hair=HAIR))
    taken = share * upstream
    total = before["pipe_part"] + taken
    return {
        "number": number,
        "open": open_share,
        "area": area,
        "flow": flow,
        "share": share,
        "throttle_depression": taken,
        "inlet_depression": total,
        "power_lost": calc.power_fraction_lost(total, before["ambient"]),
        "choked_share": flow / CHOKED_FLOW,
    }


# --- the page --------------------------------------------------------------------------------

_BORES = (60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0, 110.0, 120.0, 130.0)
_HOW_MANY = (
    Option("1", "One"),
    Option("2", "Two, side by side"),
    Option("3", "Three, side by side"),
    Option("4", "Four, side by side"),
)

_BORE = Scale("length", unit="mm", span=(40, 150), default=90, step=1, stock=_BORES)
_AIR_FLOW = Scale("mass_flow", unit="gps", span=(20, 1500), default=510, step=10)

FIELDS = (
    Number(
        "air_flow",
        "Air flow",
        _AIR_FLOW,
        sign="ṁ",
        measure="From the boost page, at the engine's top speed.",
        way_out="Enter the whole engine's air flow, and look at the unit.",
        first=True,
    ),
    Number(
        "throttle_bore",
        "Throttle bore",
        _BORE,
        sign="D",
        measure="Caliper, at the plate.",
        way_out="Measure the bore at the plate, not the flange.",
        first=True,
    ),
    Choice("throttle_bores", "How many bores", _HOW_MANY, "2", first=True),
    Number(
        "other_bore",
        "The other bore, to compare",
        replace(_BORE, default=105),
        sign="D₂",
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
        sign="C_d",
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
        replace(_AIR_FLOW, default=400),
        sign="ṁ_measured",
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


def _suction(key: str, label: str, rank: str = "more", note: str = "") -> Answer:
    """Return the answer that says what the throttle, or all before the blower, takes away."""
    return Answer(
        key,
        label,
        of="small_pressure",
        decimals={"kPa": 1, "inH2O": 0, "psi": 2, "mbar": 0},
        tolerance=0.005,
        uncertainty=0.3,
        rank=rank,
        note=note,
    )


def _choking(key: str, label: str, words: tuple[str, str, str], note: str = "") -> Answer:
    """Return the answer that judges a throttle by how near it is to choking."""
    return Answer(
        key,
        label,
        of="percent",
        decimals={"pct": 0},
        tolerance=0.01,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=CHOKED_LIMIT,
            near=CHOKED_NEAR,
            within=words[0],
            near_words=words[1],
            beyond=words[2],
        ),
        note=note,
    )


_LOST = Answer(
    "boost_lost",
    "Boost lost",
    of="gauge_pressure",
    decimals={"kPa": 1, "psi": 1, "bar": 2},
    tolerance=0.01,
    uncertainty=0.6,
    rank="second",
    note="A blower on a fixed pulley multiplies what is missing before it.",
    by=(calc.manifold_pressure_lost,),
)
_POWER_LOST = Answer(
    "power_lost",
    "Power lost",
    of="percent",
    decimals={"pct": 1},
    tolerance=0.005,
    uncertainty=0.4,
    rank="second",
    by=(calc.power_fraction_lost,),
)

ANSWERS = (
    _suction(
        "inlet_depression",
        "Depression at the blower inlet",
        "main",
        "What the boost page asks for, under the same name.",
    ),
    _LOST,
    _POWER_LOST,
    _suction(
        "other_inlet_depression", "Depression with the other", "second", "At the same air flow."
    ),
    _choking(
        "choked_share",
        "Share of choked flow",
        (
            "Throttle at {value} of choking, {margin} under the line.",
            "Throttle at {value} of choking: little room for more air.",
            "Throttle at {value} of choking, {margin} over the line: too small for this air flow. "
            "Fit a larger bore or one more.",
        ),
        "The line at half of choked flow is common practice; the throttle alone costs 6 % of "
        "the air there.",
    ),
    Answer(
        "choked_flow",
        "Most air that the throttle passes",
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=100.0,
        by=(calc.choked_mass_flow,),
    ),
    _suction("throttle_depression", "Taken by the throttle"),
    replace(
        _suction("pipe_part", "Taken by filter and pipe"),
        tolerance=0.001,
        uncertainty=0.1,
        by=(calc.scaled_depression,),
    ),
    _suction("other_throttle_depression", "Taken by the other throttle"),
    replace(
        _LOST,
        key="boost_change",
        label="Boost change with the other",
        rank="more",
        note="Above 0 the other throttle gives boost, below 0 it costs boost.",
        by=(),
    ),
    replace(_POWER_LOST, key="other_power_lost", label="Power lost with the other", rank="more"),
    _choking(
        "other_choked_share",
        "Share of choked flow, the other",
        (
            "The other throttle at {value} of choking, {margin} under the line.",
            "The other throttle at {value} of choking: little room for more air.",
            "The other throttle at {value} of choking: too small for this air flow.",
        ),
    ),
)


def _on_the_way(of: str, which: str, number: str) -> tuple[Working, ...]:
    """Return what is worked out on the way through one of the two throttles."""
    return (
        Working(f"{of}number", f"Bores{which}", decimals=0, sign=f"n{number}"),
        Working(f"{of}open", f"Share of the bore beside the shaft{which}", sign=f"φ{number}"),
        Working(
            f"{of}area",
            f"Effective area{which}",
            of="area",
            unit="mm2",
            decimals=0,
            sign=f"A{number}",
            by=(calc.effective_area,),
        ),
        Working(
            f"{of}flow",
            f"Dimensionless flow{which}",
            decimals=4,
            sign=f"Φ{number}",
            by=(calc.flow_parameter,),
        ),
        Working(f"{of}share", f"Share of the pressure taken{which}", decimals=4),
    )


LOOKUP = Lookup(
    key="throttle",
    title="Throttle and inlet",
    short="Throttle",
    question="What does the throttle cost, and would another bore do better?",
    stage="feed",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1),
        Working(
            "upstream",
            "Before the throttle",
            of="absolute_pressure",
            unit="kPa",
            decimals=1,
            sign="p",
        ),
        *_on_the_way("", "", ""),
        *_on_the_way("other_", " by the other", "₂"),
        Working("pressure_ratio", "Pressure ratio across the blower", decimals=2, sign="PR"),
        Working(
            "other_boost_lost",
            "Boost lost with the other",
            of="gauge_pressure",
            unit="kPa",
            decimals=1,
            by=(calc.manifold_pressure_lost,),
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
