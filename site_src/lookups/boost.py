"""Boost by pulley: what a pulley gives, and which pulley gives a wanted boost.

The balance between blower and engine is one table, the flow surplus. It is linear in everything
but the pressure ratio, so all axes but one take two knots; along the pressure ratio it is read
back to front. The same table read forward gives charge temperature, volumetric efficiency and the
engine's efficiency at a stated rating. Losses that grow with speed are work without boost, along
which it is linear too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from calc import boost as calc
from calc import power
from calc.domain import Real
from site_src.lookups import air
from site_src.lookups.boost_answers import (
    ANSWERS,
    NEAR_ICE,
    ODD_BREATHING,
    USUAL_BREATHING,
    WORKINGS,
)
from site_src.lookups.boost_fields import ALLOWANCES, EXAMPLES, FIELDS
from site_src.model.answers import ChartView, CurveView, Views
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import Refusal, choose, greatest, least, tabulated, within

HIGHEST_LEAK = 0.5
"""Leakage over rotor speed up to which the balance is tabulated."""

AGREES = (0.75, 1.20)
"""Engine volumetric efficiencies at which a rating agrees with the dimensions."""

HIGHEST_DRIVE = 50.0
"""Drive ratio above which no pulley makes a wanted boost."""

HIGHEST_IDLE = 0.5
"""Work without boost up to which the balance is tabulated; with usual losses, 40,000 rpm of a 2.6 L
blower."""

LOSSES = (0.0, 100.0)
"""Coefficients of the losses with speed that are believed; the usual one is 20."""

COOLED = (0.0, 0.95)
"""Effectiveness of a charge cooler that is believed."""

HOTTEST = 1.9
"""Measured outlet over intake temperature, absolute, up to which it is believed."""

MAP_TEMPERATURE = 298.15
"""Inlet air at which a blower's map is taken to be drawn, K. Common practice."""

LOSS_HAIR = 1e-4
"""The error of a loss coefficient, over those believed, is below this."""

MOST_AIR = 2.0
"""Air flow, kg/s, past which no engine is that this page is for."""

SPOKEN_OF = (0.3, 3.0)
"""Engine efficiencies of a kit's line for which the likeliest wrong entry is named."""

MOST_OFF = 3.0
"""Share that a stated power may be off what its air makes, and still be one, 1."""

WHEELS = 0.85
"""Power at the wheels over power at the crankshaft, 1. Common practice."""

HIGHEST_ROTORS = 40_000.0 / 60.0
"""Rotor speed above which no pulley is looked for, revolutions per second."""

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
_NO_ROTORS = (
    "The rotors would have to turn over 40,000 rpm, which none do. It takes a larger blower, or "
    "less boost."
)
_BELOW_AGREEMENT = (
    "The stated rating and the dimensions don't agree: the engine would have to breathe "
    "below 75 %. Most often the crank pulley is larger than entered: measure it again, over the "
    "rib tips, not the flanges."
)
_ABOVE_AGREEMENT = (
    "The stated rating and the dimensions don't agree: the engine would have to breathe "
    "above 120 %. Most often the crank pulley is smaller than entered: measure it again, over the "
    "rib tips, not the flanges."
)
_TOO_FAST = (
    "The rotors turn so fast that their own losses eat the work: no blower runs so. Check the "
    "pulleys and the blower's gear ratio."
)
_TOO_COOL = (
    "That is cooler than any displacement blower delivers. Read the thermometer in the air, once "
    "it has settled; and is the stated efficiency the overall one?"
)
_TOO_HOT = (
    "That is hotter than losses with speed explain. Look for a bypass that leaks hot air back to "
    "the inlet, and for worn rotors."
)
_WARMER_BEHIND = (
    "The air would leave the charge cooler hotter than it came. Are the two readings swapped?"
)
_COLDER_BEHIND = (
    "The air would leave the charge cooler within 5 % of the coolant, or colder: none is that "
    "good. Read all three together, and in the air."
)
_FAR_OFF = "The stated power is over four times what that air makes. Look at its unit."
_TOO_MUCH_AIR = "That is over [2,000 g/s|265 lb/min] of air, past any engine that this page is for."


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


def _ideal(root: Real) -> Real:
    """Rise of an ideal compression over the root of the pressure rise."""
    return calc.isentropic_rise(1.0 + root * root)


_HIGHEST_ROOT = float(np.sqrt(calc.HIGHEST_RATIO - 1.0))
_CRITICAL_ROOT = float(np.sqrt(calc.CRITICAL_RATIO - 1.0))
_BUILT_IN = cubic("built_in", "built-in pressure ratio", 1.0, 2.0)

SURPLUS = tabulated(
    "flow_surplus",
    _surplus,
    cubic("root", "root of the pressure rise", 0.0, _HIGHEST_ROOT, kinks=(_CRITICAL_ROOT,)),
    linear("leak", "leakage speed over rotor speed", 0.0, HIGHEST_LEAK),
    linear("effectiveness", "charge-cooler effectiveness", 0.0, 1.0),
    linear("coolant_ratio", "coolant over inlet temperature", 0.75, 1.75),
    linear("idle", "work without boost", 0.0, HIGHEST_IDLE),
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

SIZE = tabulated(
    "rotor_size_squared",
    calc.rotor_size_squared,
    cubic("displacement", "blower displacement", 0.3e-3, 6e-3),
    tolerance=2e-8,
    monotone=True,
)
IDEAL = tabulated(
    "isentropic_rise",
    _ideal,
    cubic("root", "root of the pressure rise", 0.0, _HIGHEST_ROOT),
    tolerance=1e-8,
    by=(calc.isentropic_rise,),
)
SHARE = tabulated(
    "share_of_drive_ratio",
    calc.share_of_drive_ratio,
    cubic("extra", "delivery that loss with speed adds, over tight", 0.0, 2.0),
    tolerance=2e-7,
    monotone=True,
)


# --- the calculation -------------------------------------------------------------------------


def line_allowance(e: Entries) -> Real:
    """Return what to add to a diameter as it was measured for the pitch diameter."""
    return e.pick("diameter_kind", ALLOWANCES)


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
    found["limiter_rotor_speed"] = calc.rotor_speed(_limiter(e), found["drive_ratio"], e["slip"])
    found["inlet"] = found["ambient"] - e["inlet_depression"]
    found["drop_ratio"] = e["cooler_drop"] / found["inlet"]
    found |= _cooling(e)
    built_in = e.pick("blower_kind", {"plain": 1.0, "internal": e["built_in_ratio"]})
    found |= {"idle": IDLE(built_in), "slope": SLOPE(built_in)}
    found["rotor_size"] = SIZE(e["blower_displacement"])
    found |= _speed_loss(e, found)
    found |= _rated(e, found)
    used = e.pick(
        "efficiency_from",
        {"typed": e["engine_efficiency"], "rating": found["rating_efficiency"]},
    )
    off = used - USUAL_BREATHING
    found |= {"engine_efficiency_used": used, "breathing_off": greatest(off, -1.0 * off)}
    found |= _balance(e, found)
    found |= _both_ends(e, found)
    found |= _wanted(e, found)
    found |= _kit_power(e, found)
    return found | {"rotor_near": NEAR_ROTORS * e["rotor_limit"]}


def _limiter(e: Entries) -> Real:
    """Return the highest engine speed there is."""
    return greatest(e["limiter_speed"], e["engine_speed"])


def _cooling(e: Entries) -> dict[str, Real]:
    """Work out the coolant's temperature and the charge cooler's effectiveness."""
    rise, least_rise = air.coolant_rise(e), air.least_rise(e)
    coolant = air.outside(e) + rise
    read = calc.cooler_effectiveness(
        e["air_before_cooler"], e["air_after_cooler"], e["coolant_at_reading"]
    )
    read = within(read, *COOLED, below=_WARMER_BEHIND, above=_COLDER_BEHIND)
    return {
        "coolant_over_air": rise,
        "coolant_least": least_rise,
        "coolant_near": least_rise + NEAR_ICE,
        "coolant_used": coolant,
        "coolant_ratio": coolant / e["intake_temperature"],
        "effectiveness_used": e.pick(
            "effectiveness_from", {"typed": e["effectiveness"], "readings": read}
        ),
    }


# --- losses with speed -----------------------------------------------------------------------


def _idle_total(f: Mapping[str, Real], speed: Real, intake: Real) -> Real:
    """Return the work without boost at a rotor speed."""
    return f["idle"] + calc.speed_loss(f["speed_loss_factor"], speed, f["rotor_size"], intake)


def _speed_loss(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the coefficient of the losses with speed, in the way that was picked."""
    stated, measured = _loss_stated(e, f), _loss_measured(e, f)
    picked = e.pick(
        "losses_from",
        {
            "usual": calc.USUAL_SPEED_LOSS,
            "stated": stated["stated_factor"],
            "measured": measured["measured_factor"],
        },
    )
    return {**stated, **measured, "speed_loss_factor": picked}


def _loss_stated(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the coefficient from a stated overall efficiency, at 25 °C."""
    pressure_ratio, speed = e["stated_pressure_ratio"], e["stated_rotor_speed"]
    root = (pressure_ratio - 1.0) ** 0.5
    efficiency = _held_efficiency(root, e["leakage"] / speed, f)
    work = calc.shaft_work_from_efficiency(IDEAL(root), efficiency, e["stated_efficiency"])
    lost = work - calc.shaft_work(pressure_ratio, f["idle"], f["slope"])
    return {
        "stated_work": work,
        "stated_lost": lost,
        "stated_factor": _factor(f, lost, speed, MAP_TEMPERATURE),
    }


def _loss_measured(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the coefficient from a measured outlet temperature."""
    ratio = calc.drive_ratio(
        f["crank_pitch"], e["measured_pulley"] + f["line_allowance"], e["gear"]
    )
    speed = calc.rotor_speed(e["measured_engine_speed"], ratio, e["slip"])
    ambient = air.STANDARD_PRESSURE(e["measured_altitude"])
    inlet = ambient - e["inlet_depression"]
    pressure_ratio = (e["measured_boost_then"] + ambient + e["cooler_drop"]) / inlet
    efficiency = _held_efficiency((pressure_ratio - 1.0) ** 0.5, e["leakage"] / speed, f)
    hotter = e["measured_outlet"] / e["measured_intake"]
    hotter = within(hotter, 1.0, HOTTEST, below=_TOO_COOL, above=_TOO_HOT)
    work = calc.shaft_work_from_outlet(hotter, efficiency)
    lost = work - calc.shaft_work(pressure_ratio, f["idle"], f["slope"])
    return {
        "measured_speed": speed,
        "measured_ambient": ambient,
        "measured_pressure_ratio": pressure_ratio,
        "measured_work": work,
        "measured_lost": lost,
        "measured_factor": _factor(f, lost, speed, e["measured_intake"]),
    }


def _factor(f: Mapping[str, Real], lost: Real, speed: Real, intake: Real) -> Real:
    """Work out the coefficient from what was lost at one speed, if it can be believed."""
    factor = calc.speed_loss_coefficient(lost, speed, f["rotor_size"], intake)
    return within(factor, *LOSSES, below=_TOO_COOL, above=_TOO_HOT, hair=LOSS_HAIR)


# --- the kit's own line ----------------------------------------------------------------------


def _rated(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the engine's efficiency at the stated rating, and by either end of its band."""
    pitch = e["rating_pulley"] + f["line_allowance"]
    ratio = calc.drive_ratio(f["crank_pitch"], pitch, e["gear"])
    speed = calc.rotor_speed(e["rating_engine_speed"], ratio, e["slip"])
    ambient = air.STANDARD_PRESSURE(e["rating_altitude"])
    intake = e["rating_intake_temperature"]
    low, high = e["rating_boost"], e.entered_or("rating_boost_high", e["rating_boost"])
    found = {
        "rating_ratio": ratio,
        "rating_speed": speed,
        "rating_ambient": ambient,
        "rating_inlet": ambient - e["inlet_depression"],
        "rating_leak": e["leakage"] / speed,
        "rating_swept": _swept(e, ratio),
        "rating_idle": _idle_total(f, speed, intake),
        # No kit is rated on ice: its coolant was as far above its air as ours, if ours is above.
        "rating_coolant_ratio": (intake + greatest(f["coolant_over_air"], 0.0)) / intake,
        "rating_low": least(low, high),
        "rating_middle": 0.5 * (low + high),
        "rating_high": greatest(low, high),
    }
    known = {**f, **found}
    for end in ("low", "middle", "high"):
        found |= _breathing(e, known, end)
    return found | {"rating_efficiency": _agreed(found["middle_breathing"])}


def _breathing(e: Entries, f: Mapping[str, Real], end: str) -> dict[str, Real]:
    """Work out how the engine breathes by one end of the rating's band, or by its middle."""
    pressure_ratio = (f[f"rating_{end}"] + f["rating_ambient"] + e["cooler_drop"]) / f[
        "rating_inlet"
    ]
    delivered = SURPLUS(
        (pressure_ratio - 1.0) ** 0.5,
        f["rating_leak"],
        f["effectiveness_used"],
        f["rating_coolant_ratio"],
        f["rating_idle"],
        f["slope"],
        0.0,
        above={"root": _TOO_MUCH, "leak": _TOO_SLOW, "idle": _TOO_FAST},
    )
    drop = e["cooler_drop"] / f["rating_inlet"]
    breathing = calc.engine_efficiency_from_rating(
        f["rating_swept"], delivered, pressure_ratio, drop
    )
    return {
        f"{end}_pressure_ratio": pressure_ratio,
        f"{end}_delivery": delivered,
        f"{end}_breathing": breathing,
    }


def _agreed(breathing: Real) -> Real:
    """Return the engine's efficiency if rating and dimensions agree."""
    return within(breathing, *AGREES, below=_BELOW_AGREEMENT, above=_ABOVE_AGREEMENT, hair=HAIR)


def _if_rated(e: Entries, value: Real) -> Real:
    """Return a value where the kit's own line is used."""
    return e.pick("efficiency_from", {"typed": Refusal(""), "rating": value})


def _both_ends(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the boost by either end of the kit's band, where it states one."""
    found: dict[str, Real] = {}
    for end in ("low", "high"):
        root = _balance_root(e, f, _agreed(f[f"{end}_breathing"]))
        boost = calc.gauge_boost(1.0 + root**2, f["inlet"], e["cooler_drop"], f["ambient"])
        found[f"{end}_root"] = root
        found[f"boost_{end}"] = _if_rated(e, e.if_entered("rating_boost_high", boost, Refusal("")))
    return found


def _kit_power(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what power the kit's air makes, and how far off that its stated power is."""
    intake = e["rating_intake_temperature"]
    swept = calc.swept_mass_flow(
        e["blower_displacement"], f["rating_speed"], f["rating_inlet"], intake
    )
    root = (f["middle_pressure_ratio"] - 1.0) ** 0.5
    flow = _held_efficiency(root, f["rating_leak"], f) * swept
    flow = within(flow, 0.0, MOST_AIR, above=_TOO_MUCH_AIR)
    (rich, lean), (thrifty, thirsty) = power.MIXTURE_BAND, power.BSFC_BAND
    low = power.brake_power(flow, lean, thirsty)
    high = power.brake_power(flow, rich, thrifty)
    middle = 0.5 * (low + high)
    stated = e["rating_power"] / e.pick("rating_power_at", {"crank": 1.0, "wheels": WHEELS})
    off = stated / middle - 1.0
    off = within(greatest(off, -1.0 * off), None, MOST_OFF, above=_FAR_OFF)
    found = {
        "rating_air": flow,
        "power_there_low": low,
        "power_there_high": high,
        "power_there": middle,
        "power_there_off": off,
        "stated_at_crank": stated,
        "kit_power_band": (high - middle) / middle,
    }
    found |= _likeliest_wrong(e, {**f, **found})
    shown = {
        "kit_power_low": low,
        "kit_power_high": high,
        "kit_power_off": off,
        "crank_agreeing": found["likely_crank"],
        "engine_agreeing": found["likely_engine"],
        "power_agreeing": found["likely_power"],
    }
    return found | {key: _if_rated(e, value) for key, value in shown.items()}


def _likeliest_wrong(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Return the one entry that would make the kit's line agree, at what it would.

    The kit's air follows from pulleys and blower alone, the engine's breathing from that air and
    from the engine. Where both are off the same way, the blower doesn't turn as entered: the crank
    pulley. Where the air is right, the engine or the boost isn't. Where the breathing is right, it
    is the power.
    """
    breathing = within(f["middle_breathing"], *SPOKEN_OF)
    more = breathing - USUAL_BREATHING
    odd = greatest(more, -1.0 * more)
    under = f["power_there_low"] - f["stated_at_crank"]
    over = f["stated_at_crank"] - f["power_there_high"]
    same_way = choose(more, 0.0, over, under)
    found = _crank_agreeing(e, f)
    crank, engine = found["crank_by_boost"], e["engine_displacement"] * breathing / USUAL_BREATHING
    none = Refusal("")
    crank = e.if_entered("rating_power", choose(0.0, same_way, crank, none), crank)
    engine = e.if_entered("rating_power", choose(0.0, same_way, none, engine), none)
    amiss = choose(0.0, greatest(under, over), f["power_there"], none)
    return {
        **found,
        "breathing_odd": odd,
        "power_under": under,
        "power_over": over,
        "power_same_way": same_way,
        "likely_crank": choose(ODD_BREATHING, odd, crank, none),
        "likely_engine": choose(ODD_BREATHING, odd, engine, none),
        "likely_power": choose(ODD_BREATHING, odd, none, amiss),
    }


def _crank_agreeing(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the crank pulley with which the engine would breathe as usual at the rating."""
    at = _At(
        USUAL_BREATHING,
        f["middle_pressure_ratio"],
        e["cooler_drop"] / f["rating_inlet"],
        f["rating_coolant_ratio"],
        e["rating_engine_speed"],
        e["rating_intake_temperature"],
    )
    found = _drive_for(e, f, at, "kit")
    pitch = e["rating_pulley"] + f["line_allowance"]
    return found | {"crank_by_boost": found["kit_ratio"] / e["gear"] * pitch - f["line_allowance"]}


# --- the balance -----------------------------------------------------------------------------


def _swept(e: Entries, ratio: Real) -> Real:
    """Return the swept ratio at a drive ratio."""
    return calc.swept_ratio(e["blower_displacement"], e["engine_displacement"], ratio, e["slip"])


def _tight_efficiency(root: Real, leak: Real, f: Mapping[str, Real]) -> Real:
    """Return the blower's volumetric efficiency: its delivery, cooled to inlet temperature."""
    at = root, leak, 1.0, 1.0, f["idle"], f["slope"], 0.0
    return SURPLUS(*at, above={"leak": _TOO_SLOW, "root": _TOO_MUCH})


def _held(value: Real, efficiency: Real) -> Real:
    """Return a value where the blower holds the pressure well enough."""
    lowest = calc.LOWEST_EFFICIENCY
    return within(efficiency, lowest, None, below=_TOO_SLOW, gives=value, hair=HAIR)


def _held_efficiency(root: Real, leak: Real, f: Mapping[str, Real]) -> Real:
    """Return the blower's volumetric efficiency where it holds the pressure well enough."""
    efficiency = _tight_efficiency(root, leak, f)
    return _held(efficiency, efficiency)


def _balance_root(e: Entries, f: Mapping[str, Real], breathing: Real) -> Real:
    """Return the root of the pressure rise at which blower and engine agree."""
    leak = e["leakage"] / f["rotor_speed"]
    demand = breathing / _swept(e, f["drive_ratio"])
    balance = SURPLUS.where(
        "root",
        -demand * f["drop_ratio"],
        leak,
        f["effectiveness_used"],
        f["coolant_ratio"],
        _idle_total(f, f["rotor_speed"], e["intake_temperature"]),
        f["slope"],
        demand,
        below={"root": _OUT_BREATHES},
        above={
            "root": _TOO_MUCH,
            "leak": _TOO_SLOW,
            "idle": _TOO_FAST,
            "demand": _OUT_BREATHES,
        },
    )
    return _held(balance, _tight_efficiency(balance, leak, f))


def _balance(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out where blower and engine agree, and all that follows from it."""
    intake, swept = e["intake_temperature"], _swept(e, f["drive_ratio"])
    leak, idle = e["leakage"] / f["rotor_speed"], _idle_total(f, f["rotor_speed"], intake)
    root = _balance_root(e, f, f["engine_efficiency_used"])
    efficiency = _tight_efficiency(root, leak, f)
    cooling = f["effectiveness_used"], f["coolant_ratio"], idle, f["slope"]
    cool = SURPLUS(root, leak, *cooling, 0.0)
    pressure_ratio = 1.0 + root**2
    flow = calc.swept_mass_flow(e["blower_displacement"], f["rotor_speed"], f["inlet"], intake)
    work = calc.shaft_work(pressure_ratio, idle, f["slope"])
    return {
        "leak": leak,
        "swept_ratio": swept,
        "demand": f["engine_efficiency_used"] / swept,
        "idle_total": idle,
        "balance_root": root,
        "pressure_ratio": pressure_ratio,
        "outlet_pressure": pressure_ratio * f["inlet"],
        "boost": calc.gauge_boost(pressure_ratio, f["inlet"], e["cooler_drop"], f["ambient"]),
        "blower_efficiency": efficiency,
        "cool_delivery": cool,
        "outlet_temperature": (1.0 + work / efficiency) * intake,
        "charge_temperature": cool / efficiency * intake,
        "swept_flow": flow,
        "air_flow": efficiency * flow,
        "work": work,
        "drive_power": calc.shaft_power(work, flow, intake),
        "overall_efficiency": calc.overall_efficiency(IDEAL(root), efficiency, work),
    }


# --- the way back: a drive for a boost -------------------------------------------------------


@dataclass(frozen=True)
class _At:
    """What a drive ratio is asked for."""

    breathing: Real
    pressure_ratio: Real
    drop_ratio: Real
    coolant_ratio: Real
    engine_speed: Real
    intake: Real


def _drive_for(e: Entries, f: Mapping[str, Real], at: _At, key: str) -> dict[str, Real]:
    """Work out the drive ratio for a pressure ratio.

    Without the losses that grow with speed the balance is linear in it; they add a cube of it.
    """
    root = (at.pressure_ratio - 1.0) ** 0.5
    cooling = f["effectiveness_used"], at.coolant_ratio, f["idle"], f["slope"]
    tight, leaky = (
        SURPLUS(root, leak, *cooling, 0.0, above={"root": _TOO_MUCH})
        for leak in (0.0, HIGHEST_LEAK)
    )
    lost = (tight - leaky) / HIGHEST_LEAK
    sweep, speed = _swept(e, 1.0), calc.rotor_speed(at.engine_speed, 1.0, e["slip"])
    leak_per_ratio = e["leakage"] / speed
    full = calc.drive_ratio_for(
        at.breathing, at.pressure_ratio, at.drop_ratio, sweep, leak_per_ratio, tight, lost
    )
    full = within(full, 0.0, HIGHEST_DRIVE, above=_NO_PULLEY)
    loss = calc.speed_loss(f["speed_loss_factor"], speed, f["rotor_size"], at.intake)
    extra = (1.0 - f["effectiveness_used"]) * loss / tight * full**2
    ratio = SHARE(extra, above={"extra": _TOO_FAST}) * full
    idle = f["idle"] + loss * ratio**2
    ratio = within(idle, None, HIGHEST_IDLE, above=_TOO_FAST, gives=ratio, hair=HAIR)
    ratio = _held(ratio, _tight_efficiency(root, leak_per_ratio / ratio, f))
    return {
        f"{key}_tight": tight,
        f"{key}_lost": lost,
        f"{key}_sweep": sweep,
        f"{key}_leak": leak_per_ratio,
        f"{key}_full": full,
        f"{key}_loss": loss,
        f"{key}_extra": extra,
        f"{key}_ratio": ratio,
    }


def _wanted(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out pulley and rotor speed for the wanted boost."""
    pressure_ratio = (e["wanted_boost"] + f["ambient"] + e["cooler_drop"]) / f["inlet"]
    at = _At(
        f["engine_efficiency_used"],
        pressure_ratio,
        f["drop_ratio"],
        f["coolant_ratio"],
        e["engine_speed"],
        e["intake_temperature"],
    )
    found = _drive_for(e, f, at, "want")
    ratio = found["want_ratio"]
    return {
        **found,
        "want_pressure_ratio": pressure_ratio,
        "pulley_for_boost": f["crank_pitch"] * e["gear"] / ratio - f["line_allowance"],
        "rotor_speed_for_boost": _rotors_for(e, e["engine_speed"], ratio),
        "limiter_speed_for_boost": _rotors_for(e, _limiter(e), ratio),
    }


def _rotors_for(e: Entries, engine_speed: Real, ratio: Real) -> Real:
    """Return the rotor speed at a drive ratio that was looked for, if a blower could turn so."""
    speed = calc.rotor_speed(engine_speed, ratio, e["slip"])
    return within(speed, None, HIGHEST_ROTORS, above=_NO_ROTORS, hair=HAIR)


# --- the page --------------------------------------------------------------------------------

_SPEEDS = (2000.0, 3000.0, 4000.0, 5000.0, 6000.0, 7000.0)

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
        charts=(
            ChartView(
                "Boost by pulley and engine speed",
                "boost",
                "blower_pulley",
                EXAMPLES,
                "engine_speed",
                _SPEEDS,
            ),
            ChartView(
                "Rotor speed by pulley and engine speed",
                "rotor_speed",
                "blower_pulley",
                EXAMPLES,
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
        "Losses that grow with the square of rotor speed, set so that a screw type comes to 62 to "
        "70 % overall and a three-lobe type to 50 to 60 % where they usually run: common practice.",
        "Coolant [15 °C|27 °F] above the outside air from an exchanger in the nose, [25 to 30 "
        "°C|45 to 54 °F] from one "
        "in the bed on fans: common practice.",
        "Power of the kit's air at air-fuel ratios of 11.3 to 12.2 and 335 to 395 g/kWh, 15 % from "
        "crankshaft to wheels: common practice.",
    ),
    leaves_out=(
        "Pulsation and tuning of inlet and exhaust: they move the curve a few kilopascal up and "
        "down over engine speed.",
        "Heat through the blower's case, and fuel sprayed before the blower.",
        "Humidity, and a bypass valve that leaks.",
        "Engine efficiency is taken as the same at every speed.",
        "What the ports cost at high speed is counted as heat and power, not as air.",
    ),
)
