"""Throttle and inlet: what bore, filter and pipe take away before the blower.

The nozzle is one curve: the share of the pressure that it takes away over the square of its
dimensionless flow, along which it is almost straight. All else, choking included, is arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from calc import throttle as calc
from calc.atmosphere import dry_air_density
from calc.domain import Real
from site_src.lookups import air, power
from site_src.model.answers import Answer, Band, ChartView, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Inch, Number, Option, Scale
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

RATED_PRESSURE, RATED_TEMPERATURE = 101_325.0, 293.15
"""Air before the throttle where a maker states a flow, Pa and K; as in ISO 5011, from memory."""

RATED_DENSITY = float(dry_air_density(RATED_PRESSURE, RATED_TEMPERATURE))
"""Density of that air, kg/m³."""

LEAST_DROP, MOST_DROP = 0.004, 0.26
"""Stated drops that are worked with, over the pressure before the throttle."""

COUNTS = {"1": 1.0, "2": 2.0, "3": 3.0, "4": 4.0}

HAIR = 1e-4
"""What the tables of outside air and free area can be off by is far below this share."""

_CHOKED = (
    "This throttle is choked, or all but: it can't pass that much air. Fit a larger bore or more "
    "of them."
)
_TOO_MUCH_PIPE = (
    "Filter and pipe would take over [15 kPa|60 inH₂O] at this air flow, which the law of one "
    "measured "
    "point is not good for. Measure nearer to this air flow, or clean the filter."
)
_UPRIGHT = "The width of an oval runs along its shaft and is the longer way. Swap width and height."
_TOO_MUCH_RATIO = (
    "Boost over this inlet pressure is a pressure ratio above 5, which no blower of this "
    "kind makes. Check boost and outside air."
)


# --- tables ----------------------------------------------------------------------------------


def _depression(flow_squared: Real) -> Real:
    """Share of the pressure that a nozzle takes away, over the square of its flow."""
    return calc.relative_depression(np.sqrt(flow_squared))


def _flow_over_root(drop: Real) -> Real:
    """Dimensionless flow of a nozzle over the root of its drop, along which it is almost flat."""
    return calc.flow_function(1.0 - drop) / np.sqrt(drop)


_MOST_SQUARED = float(calc.flow_function(1.0 - MOST_DEPRESSION)) ** 2

DEPRESSION = tabulated(
    "nozzle_depression",
    _depression,
    cubic("flow_squared", "square of the dimensionless flow", 0.0, _MOST_SQUARED),
    tolerance=1e-6,
    monotone=True,
    by=(calc.relative_depression,),
)
RATED_FLOW = tabulated(
    "flow_over_root_of_drop",
    _flow_over_root,
    cubic("drop", "drop over the pressure before the throttle", LEAST_DROP, MOST_DROP),
    tolerance=1e-7,
    by=(calc.flow_function,),
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
    found = _area(e, which)
    upstream = before["upstream"]
    flow = calc.flow_parameter(e["air_flow"], found["area"], upstream, e["intake_temperature"])
    share = DEPRESSION(within(flow**2, None, _MOST_SQUARED, above=_CHOKED, hair=HAIR))
    taken = share * upstream
    total = before["pipe_part"] + taken
    return found | {
        "flow": flow,
        "share": share,
        "throttle_depression": taken,
        "inlet_depression": total,
        "power_lost": calc.power_fraction_lost(total, before["ambient"]),
        "choked_share": flow / CHOKED_FLOW,
    }


def _area(e: Entries, which: str) -> dict[str, Real]:
    """Work out the effective area of one of the two throttles, as it was described."""
    number, shaft, bore = e.pick(f"{which}_bores", COUNTS), e["shaft"], e[f"{which}_bore"]
    width, height = e[f"{which}_width"], e[f"{which}_height"]
    width = within(width - height, 0.0, None, below=_UPRIGHT, gives=width)
    open_share, ends = WIDE_OPEN(shaft / bore), WIDE_OPEN(shaft / height)
    free = e.pick(
        f"{which}_kind",
        {
            "round": calc.open_area(bore, bore, shaft, open_share),
            "oval": calc.open_area(width, height, shaft, ends),
        },
    )
    drop = e[f"{which}_rated_drop"] / RATED_PRESSURE
    rated_flow = RATED_FLOW(drop) * drop**0.5
    by_volume = e[f"{which}_rated_volume"] * RATED_DENSITY
    measured = calc.effective_area(free, e["discharge_coefficient"], number)
    rated = {"mass": e[f"{which}_rated_mass"], "volume": by_volume}
    areas = {
        key: calc.rated_area(flow, rated_flow, RATED_PRESSURE, RATED_TEMPERATURE)
        for key, flow in rated.items()
    }
    return {
        "number": number,
        "open": open_share,
        "free": free,
        "rated_flow": rated_flow,
        "area": e.pick(f"{which}_kind", {"round": measured, "oval": measured, **areas}),
    }


# --- the page --------------------------------------------------------------------------------

_BORES = (60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0, 110.0, 120.0, 125.0, 130.0)
_HOW_MANY = (
    Option("1", "One"),
    Option("2", "Two, side by side"),
    Option("3", "Three, side by side"),
    Option("4", "Four, side by side"),
)

_INCH_BORES = tuple(2.5 + 0.25 * n for n in range(14))
_BORE = Scale("length", unit="mm", span=(40, 150), default=125, step=1, stock=_BORES)
_AIR_FLOW = Scale("mass_flow", unit="gps", span=(20, 1500), default=510, step=10)

_MEASURED, _RATED = ("round", "oval"), ("mass", "volume")


def _throttle(
    key: str,
    whose: str,
    sign: str,
    *,
    first: bool,
    kind: str,
    bore: float,
    inch_bore: float,
    oval: tuple[float, float],
) -> tuple[Number | Choice, ...]:
    """Return the entries that describe one of the two throttles."""
    what = f"{key}_kind"
    width, height = oval
    of_which = " of your throttle" if first else " of the throttle that you compare"
    return (
        Choice(
            what,
            "Throttle" if first else "The other throttle, to compare",
            (
                Option("round", "Round: its bore"),
                Option("oval", "Oval: width and height"),
                Option("mass", "Maker's flow at a drop, in kg/h or lb/min"),
                Option("volume", "Maker's flow at a drop, in cfm or m³/h"),
            ),
            kind,
            measure="A flow that the maker states knows shaft, plate and shape: take it before any "
            "bore.",
            first=True,
        ),
        Number(
            f"{key}_bore",
            f"Throttle bore{whose}",
            replace(_BORE, default=bore, inch=Inch(default=inch_bore, stock=_INCH_BORES)),
            sign=sign,
            measure="Caliper, at the plate.",
            way_out="Measure the bore at the plate, not the flange.",
            example=f"Enter the bore{of_which}.",
            first=True,
            when=(what, ("round",)),
        ),
        Number(
            f"{key}_width",
            f"Width{whose}",
            Scale("length", unit="mm", span=(40, 250), default=width, step=1),
            sign=f"w{sign[1:]}",
            measure="Along the shaft, at the plate: the longer way.",
            way_out="Measure along the shaft, at the plate.",
            example=f"Enter the width{of_which}.",
            first=True,
            when=(what, ("oval",)),
        ),
        Number(
            f"{key}_height",
            f"Height{whose}",
            Scale("length", unit="mm", span=(40, 150), default=height, step=1),
            sign=f"h{sign[1:]}",
            measure="Across the shaft, at the plate.",
            way_out="Measure across the shaft, at the plate.",
            example=f"Enter the height{of_which}.",
            first=True,
            when=(what, ("oval",)),
        ),
        Choice(
            f"{key}_bores",
            f"How many bores{whose}",
            _HOW_MANY,
            "1",
            first=first,
            when=(what, _MEASURED),
        ),
        Number(
            f"{key}_rated_mass",
            f"Stated flow{whose}",
            Scale("mass_flow", unit="kgh", span=(100, 10_000), default=None, step=50),
            sign=f"ṁ_stated{sign[1:]}",
            measure="All bores together, wide open, from the maker's sheet.",
            way_out="Enter the whole throttle wide open, and look at the unit.",
            first=True,
            when=(what, ("mass",)),
        ),
        Number(
            f"{key}_rated_volume",
            f"Stated flow{whose}",
            Scale("air_volume_flow", unit="cfm", span=(50, 5_000), default=None, step=25),
            sign=f"Q_stated{sign[1:]}",
            measure="All bores together, wide open, from the maker's sheet. Taken as air of [20 "
            "°C|68 °F] "
            "at [101.3 kPa|29.92 inHg].",
            way_out="Enter the whole throttle wide open, and look at the unit.",
            first=True,
            when=(what, ("volume",)),
        ),
        Number(
            f"{key}_rated_drop",
            f"Drop that it is stated at{whose}",
            Scale("small_pressure", unit="kPa", span=(0.5, 25), default=None, step=0.5),
            sign=f"Δp_stated{sign[1:]}",
            measure="On the same sheet. A flow without its drop says nothing: 28 inH₂O is 7 kPa, "
            "1.5 inHg is 5.1 kPa.",
            way_out="Ask the maker at which drop the flow was measured.",
            first=True,
            when=(what, _RATED),
        ),
    )


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
    *_throttle(
        "throttle", "", "D", first=True, kind="round", bore=125, inch_bore=5, oval=(160, 90)
    ),
    *_throttle(
        "other",
        ", the other",
        "D₂",
        first=False,
        kind="round",
        bore=105,
        inch_bore=4.25,
        oval=(140, 80),
    ),
    Number(
        "shaft",
        "Shaft across the bore",
        Scale("length", unit="mm", span=(0, 20), default=10, step=0.5),
        measure="Diameter, or the plate's thickness if that is more; 0 for a bare bore. Taken for "
        "both throttles, unless the maker states a flow.",
        way_out="Measure the shaft where it crosses the bore.",
    ),
    Number(
        "discharge_coefficient",
        "Discharge coefficient",
        Scale("ratio", unit="", span=(0.6, 1), default=0.9, step=0.05),
        sign="C_d",
        measure="0.80 to 0.95 for a plate near wide open; flow bench knows. Common practice. "
        "Not used where the maker states a flow.",
        way_out="1 is a perfect nozzle; a plate throttle stays below.",
    ),
    Number(
        "pipe_depression",
        "Measured before the throttle",
        Scale("small_pressure", unit="kPa", span=(0, 10), default=0.2, step=0.1),
        measure="Filter and pipe: hose from just before the throttle to a gauge or a water tube.",
        way_out="Over [10 kPa|40 inH₂O] the filter is blocked: change it first.",
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
        decimals={"kPa": 1, "inH2O": 1, "psi": 2, "mbar": 0},
        tolerance=0.004,
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
            f"{of}free",
            f"Free area of one bore{which}",
            of="area",
            unit="mm2",
            decimals=0,
            sign=f"A_free{number}",
            by=(calc.open_area,),
        ),
        Working(f"{of}rated_flow", f"Dimensionless flow as stated{which}", decimals=4),
        Working(
            f"{of}area",
            f"Effective area{which}",
            of="area",
            unit="mm2",
            decimals=0,
            sign=f"A{number}",
            by=(calc.effective_area, calc.rated_area),
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
        charts=(
            ChartView(
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
        "The throttle maker's flow at a stated drop overrules the bore: enter it instead.",
    ),
    sources=(
        "Throttle as an isentropic nozzle: Heywood, Internal Combustion Engine Fundamentals, "
        "app. C; choked flow as in ISO 9300.",
        "Free area beside the shaft: plane geometry, the limit of Heywood, eq. (7.18); an oval is "
        "two half circles with a straight between them.",
        "A stated flow: the same nozzle with air of 20 °C at 101.325 kPa before it, as in "
        "ISO 5011, from memory. Makers who test in other air differ by 1 to 2 %.",
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
