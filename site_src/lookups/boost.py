"""Boost by pulley: what a pulley gives, and which pulley gives a wanted boost.

The balance between blower and engine is one table, the flow surplus. It is linear in everything
but the pressure ratio, so all axes but one take two knots; along the pressure ratio it is read
back to front. The same table read forward gives outlet and charge temperature, volumetric
efficiency, work, and the engine's efficiency at a stated rating.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from calc import boost as calc
from calc.belts import pitch_allowance
from calc.domain import Real
from site_src.data.belts import section
from site_src.lookups import air
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import tabulated, within

_PK = section("PK")

LINE_DIFFERENTIAL = _PK.line_differential.value
"""Distance from effective to pitch line of a PK belt, m."""

TIP_HEIGHT = _PK.tip_height.value if _PK.tip_height else 0.0
"""Rib tips over the effective diameter, m."""

HIGHEST_LEAK = 0.5
"""Leakage over rotor speed up to which the balance is tabulated."""

SHELF = (70.0, 74.0, 78.0, 82.0, 85.0, 88.0, 92.0, 96.0, 100.0, 105.0, 110.0)
"""Blower pulleys on our invented shelf, mm."""

AGREES = (0.75, 1.20)
"""Engine volumetric efficiencies at which a rating agrees with the dimensions."""

HIGHEST_DRIVE = 50.0
"""Drive ratio above which no pulley makes a wanted boost."""

NEAR_ROTORS = 0.92
"""Share of the rotor limit from which it is called near."""

HAIR = 1e-5
"""The tables' errors, in pressures and efficiencies, are far below this share of a range."""

_OUT_BREATHES = (
    "The engine takes more air than the blower moves: no boost with this pulley. "
    "Fit a smaller blower pulley, or check the displacements."
)
_TOO_MUCH = (
    "This works out above a pressure ratio of 3.25, where a blower of this kind is not run. "
    "Check the pulleys and the displacements."
)
_TOO_SLOW = (
    "The rotors turn so slowly that leakage rules: no number here. Raise the engine speed, "
    "or enter a lower leakage speed."
)
_NO_PULLEY = (
    "No pulley makes that boost on this engine. Check the displacements and the wanted boost."
)
_BELOW_AGREEMENT = (
    "The stated rating and the dimensions don't agree: the engine would have to breathe "
    "below 75 %. Most often the crank pulley is smaller than entered; measure it again."
)
_ABOVE_AGREEMENT = (
    "The stated rating and the dimensions don't agree: the engine would have to breathe "
    "above 120 %. Most often the crank pulley is larger than entered; measure it again."
)


# --- tables ----------------------------------------------------------------------------------


def _surplus(
    root: Real,
    leak: Real,
    effectiveness: Real,
    coolant_ratio: Real,
    idle: Real,
    slope: Real,
    demand: Real,
) -> Real:
    """Flow surplus over the root of the pressure rise, along which leakage starts smoothly."""
    return calc.flow_surplus(
        1.0 + root * root, leak, effectiveness, coolant_ratio, idle, slope, demand
    )


def _idle(built_in: Real) -> Real:
    """Shaft work without boost."""
    return calc.shaft_work_terms(built_in)[0]


def _slope(built_in: Real) -> Real:
    """Slope of the shaft work."""
    return calc.shaft_work_terms(built_in)[1]


_HIGHEST_ROOT = float(np.sqrt(calc.HIGHEST_RATIO - 1.0))
_CRITICAL_ROOT = float(np.sqrt(calc.CRITICAL_RATIO - 1.0))
_BUILT_IN = cubic("built_in", "built-in pressure ratio", 1.0, 2.0)

SURPLUS = tabulated(
    "flow_surplus",
    _surplus,
    cubic("root", "root of the pressure rise", 0.0, _HIGHEST_ROOT, kinks=(_CRITICAL_ROOT,)),
    linear("leak", "leakage speed over rotor speed", 0.0, HIGHEST_LEAK),
    linear("effectiveness", "charge-cooler effectiveness", 0.0, 1.0),
    linear("coolant_ratio", "coolant over inlet temperature", 0.75, 1.6),
    linear("idle", "work without boost", 0.0, 0.06),
    linear("slope", "work per pressure ratio", 0.15, 0.31),
    linear("demand", "engine efficiency over swept ratio", 0.0, 4.0),
    tolerance=2e-7,
    by=(calc.flow_surplus,),
)
IDLE = tabulated(
    "idle_work", _idle, _BUILT_IN, tolerance=5e-8, monotone=True, by=(calc.shaft_work_terms,)
)
SLOPE = tabulated(
    "work_slope", _slope, _BUILT_IN, tolerance=5e-8, monotone=True, by=(calc.shaft_work_terms,)
)


# --- the calculation -------------------------------------------------------------------------


def line_allowance(e: Entries) -> Real:
    """Return what to add to a diameter as it was measured for the pitch diameter."""
    return e.pick(
        "diameter_kind",
        {
            "outside": pitch_allowance(LINE_DIFFERENTIAL, TIP_HEIGHT),
            "effective": pitch_allowance(LINE_DIFFERENTIAL, 0.0),
            "pitch": 0.0,
        },
    )


def drive(e: Entries) -> Mapping[str, Real]:
    """Work out the drive from the pulleys as measured; the belt's page asks the same."""
    allowance = line_allowance(e)
    crank, blower = e["crank_pulley"] + allowance, e["blower_pulley"] + allowance
    ratio = calc.drive_ratio(crank, blower, e["gear"])
    return {
        "line_allowance": allowance,
        "crank_pitch": crank,
        "blower_pitch": blower,
        "drive_ratio": ratio,
        "rotor_speed": calc.rotor_speed(e["engine_speed"], ratio, e["slip"]),
    }


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what the pulley gives, and the pulley for a wanted boost."""
    found = {**drive(e), "ambient": air.ambient(e)}
    found["inlet"] = found["ambient"] - e["inlet_depression"]
    found["drop_ratio"] = e["cooler_drop"] / found["inlet"]
    found["coolant_ratio"] = e["coolant_temperature"] / e["intake_temperature"]
    built_in = e.pick("blower_kind", {"plain": 1.0, "internal": e["built_in_ratio"]})
    found |= {"idle": IDLE(built_in), "slope": SLOPE(built_in)}
    found |= _rated(e, found)
    found["engine_efficiency_used"] = e.pick(
        "efficiency_from",
        {"typed": e["engine_efficiency"], "rating": found["rating_efficiency"]},
    )
    found |= _balance(e, found)
    found |= _wanted(e, found)
    return found | {"rotor_near": NEAR_ROTORS * e["rotor_limit"]}


def _rated(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the engine's efficiency at the stated rating."""
    pitch = e["rating_pulley"] + f["line_allowance"]
    ratio = calc.drive_ratio(f["crank_pitch"], pitch, e["gear"])
    speed = calc.rotor_speed(e["rating_engine_speed"], ratio, e["slip"])
    ambient = air.STANDARD_PRESSURE(e["rating_altitude"])
    inlet = ambient - e["inlet_depression"]
    pressure_ratio = (e["rating_boost"] + ambient + e["cooler_drop"]) / inlet
    leak = e["leakage"] / speed
    delivered = SURPLUS(
        (pressure_ratio - 1.0) ** 0.5,
        leak,
        e["effectiveness"],
        e["coolant_temperature"] / e["rating_intake_temperature"],
        f["idle"],
        f["slope"],
        0.0,
        above={"root": _TOO_MUCH, "leak": _TOO_SLOW},
    )
    swept, drop = _swept(e, ratio), e["cooler_drop"] / inlet
    breathing = calc.engine_efficiency_from_rating(swept, delivered, pressure_ratio, drop)
    return {
        "rating_ambient": ambient,
        "rating_inlet": inlet,
        "rating_ratio": ratio,
        "rating_pressure_ratio": pressure_ratio,
        "rating_leak": leak,
        "rating_delivery": delivered,
        "rating_swept": swept,
        "rating_efficiency": within(
            breathing, *AGREES, below=_BELOW_AGREEMENT, above=_ABOVE_AGREEMENT, hair=HAIR
        ),
    }


def _swept(e: Entries, ratio: Real) -> Real:
    """Return the swept ratio at a drive ratio."""
    return calc.swept_ratio(e["blower_displacement"], e["engine_displacement"], ratio, e["slip"])


def _tight_efficiency(root: Real, leak: Real, f: Mapping[str, Real]) -> Real:
    """Return the blower's volumetric efficiency: its delivery, cooled to inlet temperature."""
    at = root, leak, 1.0, 1.0, f["idle"], f["slope"], 0.0
    return SURPLUS(*at, above={"leak": _TOO_SLOW})


def _held(value: Real, efficiency: Real) -> Real:
    """Return a value where the blower holds the pressure well enough."""
    lowest = calc.LOWEST_EFFICIENCY
    return within(efficiency, lowest, None, below=_TOO_SLOW, gives=value, hair=HAIR)


def _balance(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out where blower and engine agree, and all that follows from it."""
    intake = e["intake_temperature"]
    leak, swept = e["leakage"] / f["rotor_speed"], _swept(e, f["drive_ratio"])
    demand = f["engine_efficiency_used"] / swept
    cooling = e["effectiveness"], f["coolant_ratio"], f["idle"], f["slope"]
    balance = SURPLUS.where(
        "root",
        -demand * f["drop_ratio"],
        leak,
        *cooling,
        demand,
        below={"root": _OUT_BREATHES},
        above={"root": _TOO_MUCH, "leak": _TOO_SLOW, "demand": _OUT_BREATHES},
    )
    root = _held(balance, _tight_efficiency(balance, leak, f))
    efficiency = _tight_efficiency(root, leak, f)
    hot = SURPLUS(root, leak, 0.0, 1.0, f["idle"], f["slope"], 0.0)
    cool = SURPLUS(root, leak, *cooling, 0.0)
    pressure_ratio = 1.0 + root**2
    flow = calc.swept_mass_flow(e["blower_displacement"], f["rotor_speed"], f["inlet"], intake)
    work = hot - efficiency
    return {
        "leak": leak,
        "swept_ratio": swept,
        "demand": demand,
        "balance_root": root,
        "pressure_ratio": pressure_ratio,
        "outlet_pressure": pressure_ratio * f["inlet"],
        "boost": calc.gauge_boost(pressure_ratio, f["inlet"], e["cooler_drop"], f["ambient"]),
        "blower_efficiency": efficiency,
        "hot_delivery": hot,
        "cool_delivery": cool,
        "outlet_temperature": hot / efficiency * intake,
        "charge_temperature": cool / efficiency * intake,
        "swept_flow": flow,
        "air_flow": efficiency * flow,
        "work": work,
        "drive_power": calc.shaft_power(work, flow, intake),
    }


def _wanted(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out pulley and rotor speed for the wanted boost."""
    pressure_ratio = (e["wanted_boost"] + f["ambient"] + e["cooler_drop"]) / f["inlet"]
    root = (pressure_ratio - 1.0) ** 0.5
    cooling = e["effectiveness"], f["coolant_ratio"], f["idle"], f["slope"]
    tight, leaky = (
        SURPLUS(root, leak, *cooling, 0.0, above={"root": _TOO_MUCH})
        for leak in (0.0, HIGHEST_LEAK)
    )
    lost = (tight - leaky) / HIGHEST_LEAK
    sweep = _swept(e, 1.0)
    leak_per_ratio = e["leakage"] / calc.rotor_speed(e["engine_speed"], 1.0, e["slip"])
    balance = calc.drive_ratio_for(
        f["engine_efficiency_used"],
        pressure_ratio,
        f["drop_ratio"],
        sweep,
        leak_per_ratio,
        tight,
        lost,
    )
    balance = within(balance, 0.0, HIGHEST_DRIVE, above=_NO_PULLEY)
    ratio = _held(balance, _tight_efficiency(root, leak_per_ratio / balance, f))
    return {
        "want_pressure_ratio": pressure_ratio,
        "want_tight": tight,
        "want_lost": lost,
        "want_sweep": sweep,
        "want_leak": leak_per_ratio,
        "want_ratio": ratio,
        "pulley_for_boost": f["crank_pitch"] * e["gear"] / ratio - f["line_allowance"],
        "rotor_speed_for_boost": calc.rotor_speed(e["engine_speed"], ratio, e["slip"]),
    }


# --- the page --------------------------------------------------------------------------------

_RATED = ("efficiency_from", ("rating",))
_CALIPER = "Caliper across the rims."
_SPEEDS = (2000.0, 3000.0, 4000.0, 5000.0, 6000.0, 7000.0)

FIELDS = (
    Number(
        "blower_pulley",
        "Blower pulley",
        Scale("length", unit="mm", span=(40, 250), default=92, step=1, stock=SHELF),
        measure=_CALIPER,
        way_out="Measure across the rims again, and look at the unit.",
        first=True,
    ),
    Number(
        "crank_pulley",
        "Crank pulley",
        Scale("length", unit="mm", span=(80, 300), default=180, step=1),
        measure="Caliper or diameter tape. One millimetre here moves boost more than any other.",
        way_out="Measure across the rims again, and look at the unit.",
        first=True,
    ),
    Number(
        "engine_speed",
        "Engine speed",
        Scale("rotation", unit="rpm", span=(500, 10000), default=6000, step=250),
        way_out="Enter crankshaft speed, not rotor speed.",
        first=True,
    ),
    Number(
        "wanted_boost",
        "Wanted boost, to find a pulley",
        Scale("gauge_pressure", unit="kPa", span=(5, 200), default=None, step=5),
        measure="Leave empty if you only want to know what a pulley gives.",
        way_out="Enter boost above the outside air, not absolute pressure.",
    ),
    Choice(
        "efficiency_from",
        "How well the engine breathes",
        (
            Option("typed", "I enter it"),
            Option("rating", "From the kit's stated pulley and boost"),
        ),
        "typed",
    ),
    Number(
        "engine_efficiency",
        "Engine volumetric efficiency",
        Scale("percent", unit="pct", span=(60, 130), default=95, step=1),
        measure="Two valves 85 to 95, four valves 95 to 105. Common practice.",
        way_out="If the kit states a pulley and its boost, use that instead.",
        when=("efficiency_from", ("typed",)),
    ),
    Number(
        "rating_pulley",
        "Stated blower pulley",
        Scale("length", unit="mm", span=(40, 250), default=88, step=1),
        measure="As the kit states it, measured the same way as yours.",
        way_out="Enter the pulley that belongs to the stated boost.",
        when=_RATED,
    ),
    Number(
        "rating_boost",
        "Stated boost",
        Scale("gauge_pressure", unit="kPa", span=(5, 200), default=80, step=1),
        measure="Above the outside air, at the manifold.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        when=_RATED,
    ),
    Number(
        "rating_engine_speed",
        "Engine speed of the stated boost",
        Scale("rotation", unit="rpm", span=(500, 10000), default=6000, step=250),
        measure="If the kit names none, take the engine's speed at peak power.",
        way_out="Enter crankshaft speed, not rotor speed.",
        when=_RATED,
    ),
    Number(
        "rating_altitude",
        "Altitude of the stated boost",
        Scale("altitude", unit="m", span=(-300, 4500), default=0, step=100),
        measure="Sea level, unless the kit says where it was measured.",
        way_out="Take sea level if the kit doesn't say.",
        when=_RATED,
    ),
    Number(
        "rating_intake_temperature",
        "Intake air of the stated boost",
        Scale("temperature", unit="C", span=(-40, 60), default=25, step=5),
        measure="25 °C, unless the kit says otherwise.",
        way_out="Take 25 °C if the kit doesn't say.",
        when=_RATED,
    ),
    Choice(
        "diameter_kind",
        "Diameter you measured",
        (
            Option("outside", "Outside, over the rib tips"),
            Option("effective", "Effective, as stamped or drawn"),
            Option("pitch", "Pitch, where the cord runs"),
        ),
        "outside",
        measure="For a ribbed PK belt the cord runs 2 mm outside the effective line (ISO 9981). "
        "Taking outside for pitch makes boost look a few per cent too high.",
    ),
    Number(
        "engine_displacement",
        "Engine displacement",
        Scale("displacement", unit="L", span=(1, 12), default=5.6, step=0.1),
        sign="V_e",
        way_out="Enter all cylinders together.",
    ),
    Number(
        "blower_displacement",
        "Blower displacement per revolution",
        Scale("displacement", unit="L", span=(0.3, 6), default=2.6, step=0.1),
        sign="V_b",
        measure="Per revolution of the rotor that the gear ratio below turns.",
        way_out="Enter litres per rotor revolution, from the blower's plate or its maker.",
    ),
    Choice(
        "blower_kind",
        "Blower kind",
        (
            Option("internal", "Compresses inside"),
            Option("plain", "Moves air, no compression inside"),
        ),
        "internal",
    ),
    Number(
        "built_in_ratio",
        "Built-in pressure ratio",
        Scale("ratio", unit="", span=(1, 2), default=1.3, step=0.05),
        measure="From the maker. 1.2 to 1.5 is usual where there is some. Common practice.",
        way_out="If you don't know it, pick the other blower kind and compare.",
        when=("blower_kind", ("internal",)),
    ),
    Number(
        "gear",
        "Blower's own gear ratio",
        Scale("ratio", unit="", span=(0.5, 3), default=1, step=0.05),
        sign="i",
        measure="Rotor turns for one turn of the pulley; 1 if the pulley is on the rotor.",
        way_out="Turn the pulley once by hand and count.",
    ),
    Number(
        "rotor_limit",
        "Rotor speed limit",
        Scale("rotation", unit="rpm", span=(3000, 30000), default=14000, step=500),
        measure="The maker's figure; ours is invented.",
        way_out="Ask the blower's maker.",
    ),
    Number(
        "slip",
        "Belt slip",
        Scale("percent", unit="pct", span=(0, 15), default=1, step=0.5),
        sign="s",
        measure="A sound ribbed belt slips about 1 %. Common practice.",
        way_out="More slip than that burns the belt: look at grip and tension.",
    ),
    Number(
        "leakage",
        "Leakage speed of the rotors",
        Scale("rotation", unit="rpm", span=(100, 2000), default=500, step=50),
        sign="N_L",
        measure="300 tight and large, 500 usual, 1,200 small or worn. Common practice.",
        way_out="Leave 500 unless you know better.",
    ),
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
    Number(
        "coolant_temperature",
        "Coolant into the charge cooler",
        Scale("temperature", unit="C", span=(-10, 90), default=40, step=5),
        sign="T_c",
        measure="Not the outside air: 10 to 20 °C above it once warm. Common practice.",
        way_out="Measure at the charge cooler's inlet after a run.",
    ),
    Number(
        "effectiveness",
        "Charge-cooler effectiveness",
        Scale("percent", unit="pct", span=(0, 95), default=75, step=5),
        sign="ε",
        measure="0 with no cooler; 65 to 85 is usual. Common practice.",
        way_out="100 would cool the charge right down to the coolant; no cooler does.",
    ),
    Number(
        "inlet_depression",
        "Depression at the blower inlet",
        Scale("small_pressure", unit="kPa", span=(0, 15), default=1.5, step=0.5),
        measure="Filter, pipe and throttle together, at this air flow.",
        way_out="Over 15 kPa look for a blocked filter or too small a throttle.",
    ),
    Number(
        "cooler_drop",
        "Pressure drop over the charge cooler",
        Scale("small_pressure", unit="kPa", span=(0, 30), default=4, step=0.5),
        sign="Δp",
        measure="On the air side, blower outlet to manifold.",
        way_out="Over 30 kPa the cooler is blocked or far too small.",
    ),
)

ANSWERS = (
    Answer(
        "boost",
        "Boost at the manifold",
        of="gauge_pressure",
        by=(calc.gauge_boost,),
        decimals={"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=4.0,
        rank="main",
        note="Good to about 4 kPa once calibrated to a stated rating; without, to about 10.",
    ),
    Answer(
        "rotor_speed",
        "Rotor speed",
        of="rotation",
        sign="N",
        by=(calc.rotor_speed,),
        decimals={"rpm": 0},
        tolerance=0.1,
        uncertainty=50.0,
        band=Band(
            side="max",
            limit="rotor_limit",
            near="rotor_near",
            within="Rotors {value}, {margin} under the limit.",
            near_words="Rotors {value}, only {margin} under the limit: no room for a missed shift.",
            beyond="Rotors {value}, {margin} over the limit: fit a larger blower pulley.",
        ),
        rank="second",
    ),
    Answer(
        "charge_temperature",
        "Charge temperature",
        of="temperature",
        sign="T_m",
        decimals={"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=5.0,
        rank="second",
    ),
    Answer(
        "pulley_for_boost",
        "Pulley for the wanted boost",
        of="length",
        decimals={"mm": 1, "in": 2},
        tolerance=0.02,
        uncertainty=2.0,
        rank="second",
        optional=True,
    ),
    Answer(
        "rotor_speed_for_boost",
        "Rotor speed with that pulley",
        of="rotation",
        by=(calc.rotor_speed,),
        decimals={"rpm": 0},
        tolerance=0.2,
        uncertainty=200.0,
        band=Band(
            side="max",
            limit="rotor_limit",
            near="rotor_near",
            within="Rotors {value} with that pulley, {margin} under the limit.",
            near_words="Rotors {value} with that pulley, only {margin} under the limit.",
            beyond="Rotors {value} with that pulley, {margin} over the limit: too much for this "
            "blower.",
        ),
        optional=True,
    ),
    Answer(
        "pressure_ratio",
        "Pressure ratio across the blower",
        of="ratio",
        sign="PR",
        decimals={"": 2},
        tolerance=0.001,
        uncertainty=0.04,
    ),
    Answer(
        "drive_ratio",
        "Rotor turns for one of the engine",
        of="ratio",
        sign="r",
        by=(calc.drive_ratio,),
        decimals={"": 3},
        tolerance=1e-9,
        uncertainty=0.01,
    ),
    Answer(
        "outlet_temperature",
        "Blower outlet temperature",
        of="temperature",
        sign="T₂",
        decimals={"C": 0, "F": 0},
        tolerance=0.05,
        uncertainty=8.0,
    ),
    Answer(
        "air_flow",
        "Air flow",
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=25.0,
    ),
    Answer(
        "drive_power",
        "Power to turn the blower",
        of="power",
        by=(calc.shaft_power,),
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=5.0,
    ),
    Answer(
        "blower_efficiency",
        "Blower volumetric efficiency",
        of="percent",
        sign="η_v",
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=4.0,
    ),
    Answer(
        "engine_efficiency_used",
        "Engine volumetric efficiency used",
        of="percent",
        sign="η_e",
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=5.0,
    ),
)


def _pressure(key: str, label: str, sign: str) -> Working:
    """Return a pressure on the way."""
    return Working(key, label, sign=sign, of="absolute_pressure", unit="kPa", decimals=1)


WORKINGS = (
    Working("line_allowance", "Added to what was measured", of="length", unit="mm", decimals=1),
    Working("crank_pitch", "Crank pitch diameter", sign="d_c", of="length", unit="mm", decimals=1),
    Working(
        "blower_pitch", "Blower pitch diameter", sign="d_b", of="length", unit="mm", decimals=1
    ),
    _pressure("ambient", "Outside air", "p₀"),
    _pressure("inlet", "Blower inlet", "p₁"),
    _pressure("outlet_pressure", "Blower outlet", "p₂"),
    Working("swept_ratio", "Swept ratio", sign="X", by=(calc.swept_ratio,)),
    Working("leak", "Leakage over rotor speed", sign="λ"),
    Working("coolant_ratio", "Coolant over intake air, absolute", sign="T_c/T₁"),
    Working("drop_ratio", "Cooler drop over inlet pressure", sign="δ"),
    Working("demand", "Engine's demand over swept ratio", sign="η_e/X"),
    Working("idle", "Work without boost, over γ/(γ−1)·p₁V₁", sign="w₀"),
    Working("slope", "Work for each unit of pressure ratio", sign="w₁"),
    Working("balance_root", "Root of the pressure rise at the balance"),
    Working("hot_delivery", "Delivery, uncooled", sign="η_v·T₂/T₁"),
    Working("cool_delivery", "Delivery, cooled", sign="η_v·T_m/T₁"),
    Working("work", "Shaft work, over γ/(γ−1)·p₁V₁", sign="w"),
    Working(
        "swept_flow",
        "Air swept, at inlet density",
        of="mass_flow",
        unit="gps",
        decimals=0,
        by=(calc.swept_mass_flow,),
    ),
    _pressure("rating_ambient", "Outside air of the stated boost", ""),
    _pressure("rating_inlet", "Blower inlet at the stated boost", ""),
    Working("rating_ratio", "Drive ratio at the stated boost", by=(calc.drive_ratio,)),
    Working("rating_pressure_ratio", "Pressure ratio at the stated boost"),
    Working("rating_leak", "Leakage over rotor speed at the stated boost"),
    Working("rating_swept", "Swept ratio at the stated boost", by=(calc.swept_ratio,)),
    Working("rating_delivery", "Delivery at the stated boost"),
    Working(
        "rating_efficiency",
        "Engine efficiency from the stated boost",
        of="percent",
        unit="pct",
        decimals=1,
        by=(calc.engine_efficiency_from_rating,),
    ),
    Working("want_pressure_ratio", "Pressure ratio for the wanted boost"),
    Working("want_tight", "Delivery there without leakage"),
    Working("want_lost", "Delivery lost there at leakage ratio 1"),
    Working("want_sweep", "Swept ratio for a drive ratio of 1", by=(calc.swept_ratio,)),
    Working("want_leak", "Leakage over rotor speed for a drive ratio of 1"),
    Working("want_ratio", "Drive ratio for the wanted boost", by=(calc.drive_ratio_for,)),
)

LOOKUP = Lookup(
    key="boost",
    title="Boost by pulley",
    short="Boost",
    question="What boost does this pulley give, and how fast do the rotors turn?",
    stage="plan",
    quick=True,
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        grids=(
            GridView(
                "Boost by pulley and engine speed",
                "boost",
                "blower_pulley",
                SHELF,
                "engine_speed",
                _SPEEDS,
            ),
            GridView(
                "Rotor speed by pulley and engine speed",
                "rotor_speed",
                "blower_pulley",
                SHELF,
                "engine_speed",
                _SPEEDS,
            ),
        ),
        curves=(
            CurveView(
                "Boost against engine speed",
                "boost",
                "engine_speed",
                tuple(1500.0 + 250.0 * n for n in range(25)),
            ),
        ),
    ),
    needs=("shelf",),
    cautions=(
        "The blower maker's rotor limit and pulley list overrule this page.",
        "More boost needs more fuel, a fuel that stands it and a calibration made for it. "
        "Never run a new pulley on an old calibration.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
        "More power can affect road legality, emissions, insurance and brakes: follow local law.",
    ),
    sources=(
        "Balance of air: conservation of mass, four-stroke engine and displacement blower.",
        "Work and temperature with and without internal compression: Rajput, Internal Combustion "
        "Engines, ex. 20.35, and the closed form of fixed internal compression.",
        "Leakage: isentropic orifice, Heywood, Internal Combustion Engine Fundamentals, app. C.",
        "Pitch diameters of PK pulleys: ISO 9981. Rib tips level with the effective line: common "
        "practice.",
        "Outside air from altitude: ISO 2533.",
        "Blower efficiency without pressure 97 %, mechanical loss 5 %: common practice.",
    ),
    leaves_out=(
        "Pulsation and tuning of inlet and exhaust: they move the curve a few kilopascal up and "
        "down over engine speed.",
        "Heat through the blower's case, and fuel sprayed before the blower.",
        "Humidity, and a bypass valve that leaks.",
        "Engine efficiency is taken as the same at every speed.",
    ),
)
