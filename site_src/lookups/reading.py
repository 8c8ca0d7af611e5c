"""One reading of a run against what was reckoned: what is missing, and what each cause would do.

The boost page's balance is worked out at the reading's engine speed; then, from what was measured,
how well the engine would have to breathe. What that is over the breathing reckoned with is air that
is missing, whatever took it. The signatures of the causes go to `run_causes.py`, which weighs them
over all readings of a run.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

import numpy as np

from calc import boost as blower
from calc import first_runs as calc
from calc import throttle
from calc.belts import slip_from_ratio
from calc.domain import Real
from site_src.lookups import boost
from site_src.model.answers import Answer, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Field, Number, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, tabulated, within

MOST_ROOT = 1.6
"""Root of the boost over the outside air up to which a hole's flow is tabulated."""

ONE_KPA = 1000.0

EFFECTIVENESS = (-0.5, 1.2)
"""Charge-cooler effectiveness that readings show and that is believed to be one."""

BREATHES = (0.3, 3.0)
"""Breathing that a reading takes, and that is believed to be one."""

TURNS = (0.1, 1.5)
"""Blower speed over the one expected that is believed."""

MOST_DEPRESSION = 15e3
"""Depression at the blower inlet that the boost page stops at, Pa."""

LEAST_POWER = 100.0
"""Power at full speed under which the blower as good as idles, W."""

FLOWS = (0.002, 4.9)
"""Air flows that are carried on, kg/s."""

HOTTEST = 590.0
"""Blower outlet past which none runs, K."""

HAIR = 1e-4
"""The tables' errors are far below this share of a range."""

_TOO_MUCH = (
    "This boost is above a pressure ratio of 3.25, where a blower of this kind is not run. Is it "
    "boost above the outside air, and in which unit?"
)
_TOO_SLOW = (
    "The rotors turn so slowly at that engine speed that leakage rules: nothing is said of it. "
    "Read it higher up."
)
_NO_MATCH = (
    "Boost and truck are far apart, by over three to one in air. Look at the units of boost, "
    "displacements and pulleys before any fault is looked for."
)
_TOO_FAST = (
    "At that engine speed the inlet would lose over [15 kPa|60 inH₂O]. Is the depression entered "
    "the one at "
    "the engine speed of peak power?"
)
_IDLE = (
    "At the engine speed of peak power this blower as good as idles, so that nothing is said. "
    "Check displacements and pulleys."
)
_TOO_HOT = (
    "That boost would heat the blower's outlet over [315 °C|599 °F], where none runs. Is it boost "
    "above the "
    "outside air, and in which unit?"
)
_PULLEY = (
    "The blower's speed is far from what the pulleys give. Is it the pulley's speed, in rpm, at "
    "the same moment?"
)
_COOLER = (
    "No charge cooler does what these temperatures say. Is the thermometer behind the cooler, in "
    "the air, and in the unit entered?"
)


def _hole(root: Real) -> Real:
    """Flow through a hole over the root of the boost, along which it begins smoothly."""
    return blower.orifice_function(1.0 + root * root)


HOLE = tabulated(
    "flow_through_hole",
    _hole,
    cubic(
        "root",
        "root of the boost over the outside air",
        0.0,
        MOST_ROOT,
        kinks=(float(np.sqrt(blower.CRITICAL_RATIO - 1.0)),),
    ),
    tolerance=1e-6,
    by=(blower.orifice_function,),
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what was to be expected, what is off, and what each cause would do to it."""
    air_in = e.entered_or("run_intake", e["intake_temperature"])
    full = boost.LOOKUP.chained(e, intake_temperature=air_in)
    carried = within(full["drive_power"], LEAST_POWER, None, below=_IDLE)
    at = {"intake_temperature": air_in, "engine_speed": e["run_speed"]}
    first = boost.LOOKUP.chained(e, **at)
    depression = throttle.scaled_depression(
        within(first["air_flow"], *FLOWS, below=_IDLE, above=_NO_MATCH),
        within(full["air_flow"], *FLOWS, below=_IDLE, above=_NO_MATCH),
        e["inlet_depression"],
    )
    depression = within(depression, None, MOST_DEPRESSION, above=_TOO_FAST)
    found = boost.LOOKUP.chained(e, **at, inlet_depression=depression)
    known = {
        **found,
        "air_in": air_in,
        "expected_depression": depression,
        "load_share": calc.grown_with_load(
            within(found["drive_power"], 0.0, None, below=_IDLE), carried
        ),
        "flow_share": (first["air_flow"] / full["air_flow"]) ** 2,
        "left_hot": 1.0 - found["effectiveness_used"],
    }
    seen = _seen(e, known, e["run_boost"])
    known |= {f"seen_{key}": value for key, value in seen.items()}
    known |= _differences(e, known)
    known |= _shares(e, known)
    return {
        **{key: known[key] for key in (*_SHOWN, *_ON_THE_WAY)},
        "breathing_seen": known["seen_breathing"],
        "expected_boost": found["boost"],
        "expected_charge": found["charge_temperature"],
        "expected_outlet": found["outlet_temperature"],
        **_columns(e, known),
    }


def _seen(e: Entries, f: Mapping[str, Real], measured: Real) -> dict[str, Real]:
    """Work out what a measured boost means: temperatures there, and how the engine breathes."""
    inlet = f["ambient"] - e.entered_or("run_depression", f["expected_depression"])
    ratio = (measured + f["ambient"] + e["cooler_drop"]) / inlet
    ratio = within(ratio, 1.0, blower.HIGHEST_RATIO, above=_TOO_MUCH)
    root = (ratio - 1.0) ** 0.5
    words = {"leak": _TOO_SLOW, "root": _TOO_MUCH}
    leak, rest = f["leak"], (f["idle_total"], f["slope"], 0.0)
    cooling = f["effectiveness_used"], f["coolant_ratio"]
    tight = boost.SURPLUS(root, leak, 1.0, 1.0, *rest, above=words)
    tight = within(tight, blower.LOWEST_EFFICIENCY, None, below=_TOO_SLOW, hair=HAIR)
    charge = boost.SURPLUS(root, leak, *cooling, *rest, above=words) / tight * f["air_in"]
    work = blower.shaft_work(ratio, f["idle_total"], f["slope"])
    breathing = blower.engine_efficiency_from_rating(
        f["swept_ratio"],
        tight * e.entered_or("run_charge", charge) / f["air_in"],
        ratio,
        e["cooler_drop"] / inlet,
    )
    outlet = (1.0 + work / tight) * f["air_in"]
    return {
        "inlet": inlet,
        "ratio": ratio,
        "root": root,
        "charge": charge,
        "outlet": within(outlet, None, HOTTEST, above=_TOO_HOT),
        "breathing": within(breathing, *BREATHES, below=_NO_MATCH, above=_NO_MATCH, hair=HAIR),
    }


def _differences(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what was measured less what was to be expected."""
    pulley = f["rotor_speed"] / e["gear"]
    turned = e["run_pulley"] / pulley
    turned = within(turned, *TURNS, below=_PULLEY, above=_PULLEY)
    cooled = blower.cooler_effectiveness(f["seen_outlet"], e["run_charge"], f["coolant_used"])
    return {
        "expected_pulley": pulley,
        "boost_short": f["boost"] - e["run_boost"],
        "air_missing": calc.air_missing(f["seen_breathing"], f["engine_efficiency_used"]),
        "charge_hotter": e["run_charge"] - f["seen_charge"],
        "outlet_hotter": e["run_outlet"] - f["seen_outlet"],
        "depression_more": e["run_depression"] - f["expected_depression"],
        "slip_more": slip_from_ratio(turned, 1.0),
        "effectiveness_seen": within(
            cooled, *EFFECTIVENESS, below=_COOLER, above=_COOLER, hair=HAIR
        ),
    }


def _shares(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out how a hole, and air that goes back, grow with engine speed."""
    out = (e["run_boost"] / f["ambient"]) ** 0.5
    leak, back = (HOLE(root, above={"root": _TOO_MUCH}) for root in (out, f["seen_root"]))
    speeds = e["run_speed"], e["engine_speed"]
    return {
        "out_root": out,
        "hole_flow": leak,
        "return_flow": back,
        "hole_share": calc.lost_through_hole(leak, *speeds),
        "return_share": calc.lost_through_hole(back, *speeds),
        "return_heat": calc.hotter_by_return(f["seen_outlet"], f["air_in"]),
        "missing_unsure": calc.missing_unsure(e["run_boost"] + f["ambient"]),
        "breathing_shared": e.pick(
            "efficiency_from", {"typed": calc.BREATHING_SHARED, "rating": calc.RATED_SHARED}
        ),
    }


# --- what each cause would do, over what the reading is good for ------------------------------


def _columns(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Return each gauge's reading, its shared error and the causes' signatures, as columns."""
    columns = {
        "air": _air_columns(e, f),
        "charge": (
            calc.CHARGE_UNSURE,
            {
                "off": f["charge_hotter"],
                "shared": calc.CHARGE_SHARED,
                "bypass": f["left_hot"] * f["return_share"] * f["return_heat"],
                "cooler": f["seen_outlet"] - f["coolant_used"],
            },
        ),
        "outlet": (
            calc.OUTLET_UNSURE,
            {
                "off": f["outlet_hotter"],
                "shared": calc.OUTLET_SHARED,
                "bypass": f["return_share"] * f["return_heat"],
            },
        ),
        "depression": (
            calc.DEPRESSION_UNSURE,
            {
                "off": f["depression_more"],
                "shared": calc.DEPRESSION_SHARED * f["expected_depression"],
                "bypass": -2.0 * f["return_share"] * f["expected_depression"],
                "inlet": f["flow_share"] * ONE_KPA,
            },
        ),
        "speed": (
            calc.SPEED_UNSURE,
            {
                "off": f["slip_more"],
                "shared": calc.DIAMETERS_SHARED,
                "slip": f["load_share"],
                "ratio": 1.0,
            },
        ),
    }
    found: dict[str, Real] = {}
    for gauge, (unsure, values) in columns.items():
        there = found_if_read(e, GAUGES[gauge])
        found |= {f"{gauge}_{key}": there(value / unsure) for key, value in values.items()}
    return found


def _air_columns(e: Entries, f: Mapping[str, Real]) -> tuple[Real, dict[str, Real]]:
    """Return what the boost gauge's columns are over, and the columns."""
    back = f["return_share"] * f["seen_outlet"] / f["air_in"]
    hotter = f["left_hot"] * f["return_share"] * f["return_heat"] / f["seen_charge"]
    higher = _seen(e, f, e["run_boost"] + ONE_KPA)["breathing"]
    read = calc.air_missing(higher, f["engine_efficiency_used"])
    inlet = f["flow_share"] * ONE_KPA / f["seen_inlet"]
    return f["missing_unsure"], {
        "off": f["air_missing"],
        "shared": f["breathing_shared"],
        "slip": f["load_share"],
        "leak": f["hole_share"],
        # A measured charge temperature holds what the returned air heats, a reckoned one doesn't.
        "bypass": e.if_entered("run_charge", back, back - hotter),
        # With the depression measured, it is in the blower's inlet pressure already.
        "inlet": e.if_entered("run_depression", 0.0, inlet),
        "ratio": 1.0,
        "gauge": read - f["air_missing"],
    }


COLUMNS = {
    "air": ("off", "shared", "slip", "leak", "bypass", "inlet", "ratio", "gauge"),
    "charge": ("off", "shared", "bypass", "cooler"),
    "outlet": ("off", "shared", "bypass"),
    "depression": ("off", "shared", "bypass", "inlet"),
    "speed": ("off", "shared", "slip", "ratio"),
}
"""By gauge: how far it is off, the error that all its readings share, the causes it shows."""

GAUGES = {
    "air": "run_boost",
    "charge": "run_charge",
    "outlet": "run_outlet",
    "depression": "run_depression",
    "speed": "run_pulley",
}
"""The entry that each gauge's columns hang on."""


def found_if_read(e: Entries, key: str) -> Callable[[Real], Real]:
    """Return what leaves a value out where a gauge was not read."""
    return lambda value: e.if_entered(key, value, Refusal(""))


# --- the page --------------------------------------------------------------------------------

_SHOWN = (
    "expected_depression",
    "expected_pulley",
    "boost_short",
    "air_missing",
    "charge_hotter",
    "outlet_hotter",
    "depression_more",
    "slip_more",
    "effectiveness_seen",
)

_ON_THE_WAY = (
    "air_in",
    "load_share",
    "flow_share",
    "left_hot",
    "seen_inlet",
    "seen_ratio",
    "seen_root",
    "seen_charge",
    "seen_outlet",
    "seen_breathing",
    "out_root",
    "hole_flow",
    "return_flow",
    "hole_share",
    "return_share",
    "return_heat",
    "missing_unsure",
)


def _read(
    key: str,
    label: str,
    scale: Scale,
    measure: str,
    way_out: str,
    *,
    first: bool = True,
) -> Number:
    """Return the entry of something that was read."""
    return Number(key, label, scale, measure=measure, way_out=way_out, first=first)


READINGS = (
    _read(
        "run_speed",
        "Engine speed of the reading",
        Scale("rotation", unit="rpm", span=(1000, 10000), default=6000, step=250),
        "Full throttle and steady, or passed slowly in a pull.",
        "Enter crankshaft speed.",
    ),
    _read(
        "run_boost",
        "Boost read",
        Scale("gauge_pressure", unit="kPa", span=(0, 220), default=None, step=1),
        "At the manifold, above the outside air, at full throttle.",
        "Enter boost above the outside air, not absolute pressure.",
    ),
    _read(
        "run_charge",
        "Charge temperature read",
        Scale("temperature", unit="C", span=(-20, 200), default=None, step=5),
        "In the air behind the charge cooler. It lags: read it late in the pull.",
        "Read it behind the charge cooler, and look at the unit.",
    ),
    _read(
        "run_outlet",
        "Blower outlet temperature read",
        Scale("temperature", unit="C", span=(0, 250), default=None, step=5),
        "In the air before the charge cooler. It tells an open bypass from a leak.",
        "Read it between blower and charge cooler, and look at the unit.",
        first=False,
    ),
    _read(
        "run_depression",
        "Depression read at the blower inlet",
        Scale("small_pressure", unit="kPa", span=(0, 20), default=None, step=0.5),
        "Under the outside air, between throttle and blower.",
        "Enter how far it is under the outside air.",
        first=False,
    ),
    _read(
        "run_pulley",
        "Blower pulley speed read",
        Scale("rotation", unit="rpm", span=(300, 40000), default=None, step=50),
        "By photo-tachometer or a sensor, at the same moment. It tells slip from a wrong pulley.",
        "Enter the pulley's speed, not the rotors', and look at the marks.",
        first=False,
    ),
    _read(
        "run_intake",
        "Intake air then",
        Scale("temperature", unit="C", span=(-40, 60), default=None, step=5),
        "Leave empty if it is as entered below.",
        "Measure at the filter.",
        first=False,
    ),
)

_UNASKED = (
    "wanted_boost",
    "rotor_limit",
    "limiter_speed",
    "rating_power",
    "rating_power_at",
)
"""What the boost page asks and does not matter here."""


def _fields() -> tuple[Field, ...]:
    """Return what was read, then what the boost page asks."""
    asked = [field for field in boost.LOOKUP.fields if field.key not in _UNASKED]
    return (*READINGS, *(replace(field, first=False) for field in asked))


_pressure = partial(
    Answer,
    of="gauge_pressure",
    decimals={"kPa": 1, "psi": 1, "bar": 2},
    tolerance=0.02,
    uncertainty=4.0,
)
_hot = partial(Answer, of="temperature", decimals={"C": 0, "F": 0}, tolerance=0.05, uncertainty=8.0)
_hotter = partial(
    Answer,
    of="temperature_difference",
    decimals={"dC": 0, "dF": 0},
    tolerance=0.05,
    uncertainty=8.0,
    optional=True,
)
_share = partial(
    Answer, of="percent", decimals={"pct": 1}, tolerance=0.02, uncertainty=3.0, optional=True
)

ANSWERS = (
    _pressure(
        "expected_boost",
        "Boost to expect there",
        rank="main",
        note="By the truck as entered, with a sound belt and nothing leaking. Good to [4 kPa|0.6 "
        "psi].",
    ),
    _pressure("boost_short", "Boost short of that", rank="second", optional=True),
    _share(
        "air_missing",
        "Air missing",
        rank="second",
        by=(calc.air_missing,),
        note="Air that the blower moves and that doesn't show in the manifold, over the air that "
        "does. A hotter charge is allowed for, if its temperature is read.",
    ),
    _hot("expected_charge", "Charge temperature to expect", rank="second"),
    _hotter("charge_hotter", "Charge hotter than that boost should make it"),
    _hot("expected_outlet", "Blower outlet temperature to expect"),
    _hotter("outlet_hotter", "Blower outlet hotter than that boost should make it"),
    Answer(
        "expected_depression",
        "Depression to expect",
        of="small_pressure",
        decimals={"kPa": 2, "inH2O": 1, "mbar": 0},
        tolerance=0.002,
        uncertainty=0.5,
        by=(throttle.scaled_depression,),
    ),
    Answer(
        "depression_more",
        "Depression more than that",
        of="small_pressure",
        decimals={"kPa": 2, "inH2O": 1, "mbar": 0},
        tolerance=0.002,
        uncertainty=0.5,
        optional=True,
    ),
    Answer(
        "expected_pulley",
        "Blower pulley speed to expect",
        of="rotation",
        decimals={"rpm": 0},
        tolerance=0.01,
        uncertainty=100.0,
    ),
    _share("slip_more", "Speed missing at the blower", by=(slip_from_ratio,)),
    _share(
        "effectiveness_seen",
        "Charge cooler's effectiveness by this reading",
        by=(blower.cooler_effectiveness,),
        tolerance=0.02,
    ),
    Answer(
        "breathing_seen",
        "Breathing that this reading takes",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.02,
        uncertainty=3.0,
        optional=True,
        by=(blower.engine_efficiency_from_rating,),
    ),
)

_SAID = {
    "air": "Air missing",
    "charge": "Charge hotter",
    "outlet": "Blower outlet hotter",
    "depression": "Depression more",
    "speed": "Blower's speed missing",
}
_BY = {
    "off": "as read",
    "shared": "by an error that all readings share",
    "slip": "by belt slip",
    "leak": "by a boost leak",
    "bypass": "by an open bypass",
    "inlet": "by a restricted inlet",
    "cooler": "by a tired charge cooler",
    "ratio": "by another drive ratio",
    "gauge": "by a boost gauge that reads high",
}


def _column_workings() -> tuple[Working, ...]:
    """Return the columns that the causes are weighed by, each only named."""
    return tuple(
        Working(
            f"{gauge}_{column}",
            f"{_SAID[gauge]} {_BY[column]}, over what the reading is good for",
            listed=False,
        )
        for gauge, columns in COLUMNS.items()
        for column in columns
    )


WORKINGS = (
    Working("air_in", "Intake air", of="temperature", unit="C", decimals=0),
    Working("seen_inlet", "Blower inlet, as read", of="absolute_pressure", unit="kPa", decimals=1),
    Working("seen_ratio", "Pressure ratio, as read"),
    Working("seen_charge", "Charge at that boost", of="temperature", unit="C", decimals=0),
    Working("seen_outlet", "Blower outlet at that boost", of="temperature", unit="C", decimals=0),
    Working("load_share", "Belt's load, over that at full speed", by=(calc.grown_with_load,)),
    Working("flow_share", "Square of the air flow, over that at full speed"),
    Working("left_hot", "Share of the heat that the charge cooler leaves"),
    Working("seen_root", "Root of the pressure rise, as read"),
    Working("seen_breathing", "Breathing that this reading takes, as it is judged"),
    Working("out_root", "Root of the boost over the outside air"),
    Working("hole_flow", "Flow through a hole in the charge pipe, over choked flow"),
    Working("return_flow", "Flow through an open bypass, over choked flow"),
    Working("hole_share", "Air through a hole, over that at full speed", listed=False),
    Working("return_share", "Air through a bypass, over that at full speed", listed=False),
    Working(
        "return_heat",
        "Hotter outlet if all air went back",
        of="temperature_difference",
        unit="dC",
        decimals=0,
        by=(calc.hotter_by_return,),
        listed=False,
    ),
    Working("missing_unsure", "What the air missing is good for", by=(calc.missing_unsure,)),
    *_column_workings(),
)

LOOKUP = Lookup(
    key="reading",
    title="Check a reading",
    short="Reading",
    question="I read this boost at that speed: is it what was reckoned?",
    stage="start",
    fields=_fields(),
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        curves=(
            CurveView(
                "Boost to expect over engine speed",
                "expected_boost",
                "run_speed",
                tuple(1500.0 + 250.0 * n for n in range(25)),
            ),
        ),
    ),
    cautions=(
        "Pulls on a closed course or a dynamometer. One drives, another reads.",
        "Stop at the first knock, lean mixture, hot coolant or strange noise: no reading is worth "
        "an engine.",
        "Belts start without warning. Engine off and key out before a hand goes near a pulley.",
    ),
    sources=(
        *boost.LOOKUP.sources,
        "Uncertainties add as squares: JCGM 100:2008 (GUM), 5.1.",
        "Gauge good to [1.5 kPa|0.2 psi], breathing over engine speed to 1.5 %: common practice.",
    ),
    leaves_out=(
        *boost.LOOKUP.leaves_out,
        "One reading tells what is missing, not why: read a whole pull for that.",
    ),
)
