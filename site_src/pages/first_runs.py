"""The first runs: what was measured against what was reckoned, which cause fits, what to check.

The phone works nothing out here by itself: each reading goes through the recipe of
`lookups/reading.py`, all together through that of `lookups/run_causes.py`. What a cause is called,
how it is put in words and what to check next are said here.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace

from calc import first_runs as calc
from site_src.face.form import form_context
from site_src.lookups import reading, run_causes
from site_src.model.fields import Field, Number, Parts, Scale
from site_src.model.page import Page
from site_src.model.quantities import quantity

# --- what the causes are called ---------------------------------------------------------------


@dataclass(frozen=True)
class Told:
    """A cause in words. `size` and `less` hold {size} and {unsure}, one for either way round."""

    key: str
    title: str
    size: str
    evidence: str
    check: str
    page: str = ""
    less: str = ""


TOLD = (
    Told(
        "slip",
        "The belt slips",
        "{size} at full speed, give or take {unsure}, over the slip reckoned with.",
        "Air goes missing with speed and load, and the blower's speed with it.",
        "Mark belt and blower pulley with chalk across both, pull once, engine off: do the marks "
        "still meet? Then tension, wrap and ribs.",
        "slip",
    ),
    Told(
        "leak",
        "Boost leaks out",
        "{size} of the air at full speed, give or take {unsure}; more of it the slower it turns.",
        "A hole passes as much air at low speed as at high: the low end misses most.",
        "Engine off: smoke from blower to heads, or a little shop air and soapy water. Hoses, "
        "gaskets, the boost reference lines. If all is tight, the rotors leak: raise their leakage "
        "speed.",
        "boost",
    ),
    Told(
        "bypass",
        "The bypass is open",
        "{size} of the air at full speed goes back, give or take {unsure}.",
        "The low end misses most, and what goes back comes round again hotter.",
        "Engine off, hand pump on the bypass actuator: does the flap shut with boost, and is its "
        "hose on and whole? During a pull only a camera looks at it.",
        "reading",
    ),
    Told(
        "inlet",
        "The inlet is restricted",
        "{size} more depression at full speed than entered, give or take {unsure}.",
        "The loss grows with the square of the air flow: the top end misses most.",
        "Read the depression before and behind the filter in one pull, never without a filter: "
        "what goes in goes through the rotors. Then look for a throttle that doesn't open all the "
        "way, a collapsed hose, too small a bore.",
        "throttle",
    ),
    Told(
        "cooler",
        "The charge cooling is tired",
        "As if the charge cooler did {size} less of its work, give or take {unsure}.",
        "The charge is hotter than this boost makes it.",
        "Look at the return for flow, feel both coolant hoses, bleed the loop, time a bucket. Then "
        "the pump's voltage, the exchanger's face, the fans.",
        "loop",
    ),
    Told(
        "pulley",
        "Another pulley than entered",
        "The blower turns {size} slower than the pulleys entered make it, give or take {unsure}.",
        "Boost and the blower's speed are off by one ratio at every engine speed.",
        "Measure both pulleys again over the rib tips, the crank pulley above all; turn the engine "
        "by hand and count.",
        "boost",
        less="The blower turns {size} faster than the pulleys entered make it, give or take "
        "{unsure}.",
    ),
    Told(
        "breathing",
        "The engine breathes otherwise than entered",
        "It takes {size} more air than reckoned, give or take {unsure}.",
        "Boost is off by one ratio at every speed, and nothing else is.",
        "No fault by itself: cams, heads and exhaust do it. Look at displacement and pulleys once "
        "more, then take the calibration below.",
        "boost",
        less="It takes {size} less air than reckoned, give or take {unsure}.",
    ),
    Told(
        "gauge",
        "The boost gauge is off",
        "It reads {size} high, give or take {unsure}.",
        "All its readings are off by the same amount, at rest too.",
        "Key on, engine off: it should read nought. Another gauge beside it on a tee, or set its "
        "nought in the logger.",
        less="It reads {size} low, give or take {unsure}.",
    ),
)

VERDICTS: Mapping[float, tuple[str, str]] = {
    run_causes.NOTHING: (
        "Nothing found",
        "It makes what was reckoned, as far as gauges and reckoning are good for.",
    ),
    run_causes.SURE: ("Sure", ""),
    run_causes.LIKELY: ("Likely", "It fits best, but not so well that nothing else may be behind."),
    run_causes.UNTOLD: ("Can't tell", "These fit alike. What would tell them apart is below."),
    run_causes.SEVERAL: (
        "More than one",
        "No single cause explains it. These two together do best; begin with the first check.",
    ),
    run_causes.UNKNOWN: (
        "None fits",
        "Something is off, but as none of the causes known here would have it. Look at the log's "
        "columns and units, then at whatever changed.",
    ),
    run_causes.TOO_FEW: ("Too few readings", "Nothing is said of fewer than four readings."),
}
"""What a run says: a stamp, and the words after it."""

TELLS = {
    "run_pulley": "The blower pulley's speed: it tells slip from a wrong pulley, and both from how "
    "the engine breathes.",
    "run_rest": "The boost gauge with the engine off: it tells a gauge that is off.",
    "run_charge": "The charge temperature: it tells tired charge cooling.",
    "run_outlet": "The blower's outlet temperature: it tells an open bypass from a leak.",
    "run_depression": "The depression at the blower inlet: it tells a restricted inlet.",
}
"""What a reading that is not there would tell."""

NEEDED = ("engine_displacement", "blower_displacement", "blower_pulley", "crank_pulley")
"""Entries that must be this truck's own before anything is said of it."""

OFFERED = (
    ("breathing", "engine_efficiency", "breathing_seen", {"efficiency_from": "typed"}),
    ("cooler", "effectiveness", "effectiveness_seen", {"effectiveness_from": "typed"}),
)
"""Calibrations: the cause or nothing that allows it, the entry, the value by reading, and the
choices that make the entry count."""


# --- the columns of a log -----------------------------------------------------------------------


def _unit(of: str, key: str, *names: str, ambient: float = 0.0) -> dict[str, object]:
    """Return a unit that a log may have, with what it is written as there."""
    unit = quantity(of).unit(key)
    label = unit.label
    if ambient:
        label = f"{label} absolute"
    return {
        "key": f"{key}{'abs' if ambient else ''}",
        "label": label or "0 to 1",
        "factor": (-1.0 if ambient > 0 else 1.0) * unit.factor,
        "offset": unit.offset,
        "ambient": ambient,
        "names": list(names),
    }


_PRESSURES = (("kPa", "kpa"), ("psi", "psi"), ("bar", "bar"))
_BOOST = (
    *(_unit("gauge_pressure", key, name, f"{name}g", f"{name}gauge") for key, name in _PRESSURES),
    *(
        _unit("absolute_pressure", key, *names, ambient=-1.0)
        for key, names in (
            ("kPa", ("kpa", "kpaa", "kpaabs")),
            ("mbar", ("mbar", "hpa", "mbara", "mbarabs")),
        )
    ),
    _unit("gauge_pressure", "psi", "psia", "psiabs", ambient=-1.0),
    _unit("gauge_pressure", "bar", "bara", "barabs", ambient=-1.0),
)
_TEMPERATURES = (
    _unit("temperature", "C", "c", "degc", "celsius"),
    _unit("temperature", "F", "f", "degf", "fahrenheit"),
    {"key": "K", "label": "K", "factor": 1.0, "offset": 0.0, "ambient": 0.0, "names": ["k"]},
)
_SPEEDS = (
    _unit("rotation", "rpm", "rpm", "r/min", "1/min", "u/min", "min-1"),
    _unit("frequency", "Hz", "hz", "1/s"),
)
_SHARES = (
    _unit("percent", "pct", "%", "pct", "percent"),
    _unit("ratio", "", "0-1"),
)
_DEPRESSIONS = (
    *(
        _unit("small_pressure", key, *names)
        for key, names in (("kPa", ("kpa",)), ("mbar", ("mbar", "hpa")), ("inH2O", ("inh2o",)))
    ),
    _unit("absolute_pressure", "kPa", "kpaa", "kpaabs", "kpa", ambient=1.0),
)


def _channel(
    key: str,
    label: str,
    units: Sequence[Mapping[str, object]],
    names: str,
    usual: tuple[float, float],
    *,
    needed: bool = False,
    unless: str = "",
) -> dict[str, object]:
    """Return what a column may be: how it is called in logs, and how high it usually goes, SI."""
    listed = [name.strip() for name in names.split(",")]
    return {
        "key": key,
        "label": label,
        "needed": needed,
        "names": listed,
        "not": [name.strip() for name in unless.split(",") if name.strip()],
        "units": [dict(unit) for unit in units],
        "usual": list(usual),
    }


CHANNELS = (
    _channel(
        "run_speed",
        "Engine speed",
        _SPEEDS,
        "engine speed, engine rpm, rpm, engine, motordrehzahl, drehzahl, regime, n",
        (25.0, 170.0),
        needed=True,
        unless="blower, pulley, rotor, idle, target, wheel, vehicle, limit, temp, coolant, load",
    ),
    _channel(
        "run_boost",
        "Boost at the manifold",
        _BOOST,
        "boost, boost pressure, manifold pressure, map, manifold, ladedruck, charge pressure",
        (5e3, 2.5e5),
        needed=True,
        unless="target, temp, temperature, duty, control, inlet, error, solenoid",
    ),
    _channel(
        "run_throttle",
        "Throttle",
        _SHARES,
        "throttle, throttle position, tps, pedal, drosselklappe, app",
        (0.5, 1.2),
        unless="target, inlet, voltage",
    ),
    _channel(
        "run_charge",
        "Charge temperature, behind the cooler",
        _TEMPERATURES,
        "charge temp, charge temperature, charge air temp, manifold air temp, manifold temp, iat2, "
        "act, mat, ladelufttemperatur, post cooler, after cooler",
        (280.0, 430.0),
        unless="before, outlet, pre",
    ),
    _channel(
        "run_outlet",
        "Blower outlet temperature",
        _TEMPERATURES,
        "blower outlet, blower out, outlet temp, discharge temp, pre cooler, before cooler",
        (300.0, 500.0),
    ),
    _channel(
        "run_depression",
        "Depression at the blower inlet",
        _DEPRESSIONS,
        "depression, inlet depression, inlet vacuum, inlet pressure, blower inlet",
        (50.0, 2e4),
        unless="temp",
    ),
    _channel(
        "run_pulley",
        "Blower pulley speed",
        _SPEEDS,
        "blower speed, blower rpm, pulley speed, pulley rpm, blower pulley, blower",
        (40.0, 600.0),
        unless="temp, inlet, outlet",
    ),
    _channel(
        "run_duty",
        "Injector duty",
        _SHARES,
        "injector duty, inj duty, duty cycle, duty, idc",
        (0.1, 1.1),
        unless="boost, wastegate, fan, idle, pump, solenoid",
    ),
    _channel(
        "run_intake",
        "Intake air, before the blower",
        _TEMPERATURES,
        "intake air, intake temp, air temp, iat, inlet temp, ansaugluft",
        (250.0, 350.0),
        unless="charge, manifold, outlet, cooler",
    ),
)


# --- the page -----------------------------------------------------------------------------------

_DUTY = Number(
    "run_duty",
    "Injector duty read",
    Scale("percent", unit="pct", span=(0, 110), default=None, step=1),
    measure="From the logger, as a share of the time that there is.",
    way_out="Enter per cent of the time, not milliseconds.",
)


def _fields() -> tuple[Field, ...]:
    """Return the readings that can be typed, and the gauge at rest."""
    each = [
        replace(field, scale=replace(field.scale, default=None), first=False)
        for field in reading.READINGS
        if field.key != "run_intake"
    ]
    points = Parts(
        "run_points",
        "Readings of a pull",
        (*each, _DUTY),
        run_causes.MOST_READINGS,
        ({},),
        measure="Four or more, from low to high engine speed. What wasn't read stays empty.",
    )
    rest = next(f for f in run_causes.FIELDS if isinstance(f, Number))
    return (rest, points)


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    data = {
        "told": [asdict(each) for each in TOLD],
        "verdicts": {f"{key:g}": words for key, words in VERDICTS.items()},
        "tells": TELLS,
        "channels": CHANNELS,
        "needed": NEEDED,
        "offered": OFFERED,
        "strong": calc.STRONG,
        "pairs": [list(pair) for pair in run_causes.PAIRS],
        "nothing": run_causes.NOTHING,
        "sure": run_causes.SURE,
        "likely": run_causes.LIKELY,
        "untold": run_causes.UNTOLD,
        "several": run_causes.SEVERAL,
        "limits": {"run_charge": "charge_limit", "run_duty": "duty_limit"},
    }
    return form_context(_fields()) | {"data": json.dumps(data, ensure_ascii=False)}


PAGE = Page(
    key="first-runs",
    title="Read the first runs",
    short="First runs",
    question="Does it make what was reckoned; and if not, why?",
    stage="start",
    template="first_runs.html",
    context=_context,
)
