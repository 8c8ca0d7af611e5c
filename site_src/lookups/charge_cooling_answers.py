"""Charge cooling: what it answers, how that is judged, and what it shows on the way."""

from __future__ import annotations

from functools import partial

from calc import exchanger, pipes, pulls
from site_src.lookups.charge_cooling_fields import PLACES
from site_src.model.answers import Answer, Band, Working

_charge_temperature = partial(
    Answer, of="temperature", decimals={"C": 0, "F": 0}, tolerance=0.05, uncertainty=5.0
)
_coolant = partial(
    Answer, of="temperature", decimals={"C": 0, "F": 0}, tolerance=0.05, uncertainty=4.0
)
_warmer = partial(
    Answer,
    of="temperature_difference",
    decimals={"dC": 1, "dF": 1},
    tolerance=0.01,
    uncertainty=2.0,
)
_seconds = partial(
    Answer, of="duration", decimals={"s": 0, "min": 1}, tolerance=0.2, uncertainty=5.0
)


def _judged(within_words: str, near_words: str, beyond: str) -> Band:
    """Return how a charge temperature is judged."""
    return Band(
        side="max",
        limit="charge_limit",
        near="charge_near",
        within=within_words,
        near_words=near_words,
        beyond=beyond,
    )


ANSWERS = (
    _seconds(
        "pull_length",
        "Wide open until the charge is that much hotter",
        sign="t",
        rank="main",
        note="Wide open from the coolant as it starts, at one speed.",
        by=(pulls.time_until, pulls.pull_rate),
    ),
    _charge_temperature(
        "charge_hottest",
        "Charge, pull after pull",
        sign="T_m",
        rank="second",
        note="As each pull ends, once all pulls and rests are alike.",
        by=(pulls.settled_start, pulls.temperature_after),
        band=_judged(
            "Pull after pull the charge comes to {value}, {margin} under your limit.",
            "Pull after pull the charge comes to {value}, only {margin} under your limit.",
            "Pull after pull the charge comes to {value}, {margin} over your limit: shorter pulls, "
            "longer rests, more coolant or more air.",
        ),
    ),
    _seconds(
        "recovery_time",
        "Rest until it has recovered",
        rank="second",
        note="After that pull, at the speed between pulls.",
        by=(pulls.time_until,),
    ),
    _warmer(
        "pulls_rise",
        "Coolant over the outside air, pull after pull",
        rank="second",
        note="Into the charge cooler, as each pull ends, where it is hottest. Boost, plan and "
        "knock take it by a tap, once the coolant there is a rise that you enter.",
        by=(pulls.settled_start, pulls.temperature_after),
    ),
    _warmer(
        "steady_rise",
        "Coolant over the outside air, settled",
        note="Into the charge cooler, at that share of full power: a mean, which pulls go over.",
        by=(exchanger.steady_coolant, exchanger.coolant_excess),
    ),
    Answer(
        "heat",
        "Heat to reject at full power",
        of="power",
        decimals={"kW": 1, "hp": 1},
        tolerance=0.01,
        uncertainty=1.5,
        sign="Φ",
        note="With the coolant as it has settled.",
        by=(exchanger.charge_heat,),
    ),
    _coolant("steady", "Coolant into the charge cooler, settled", sign="T_c"),
    _coolant("coolant_out", "Coolant out of it, at full power"),
    _warmer("water_rise", "Coolant warmer by, through the charge cooler", sign="ΔT"),
    _warmer(
        "ten_seconds",
        "All coolant warmer by, in ten seconds",
        note="At full power, if the exchanger gave up nothing.",
    ),
    _charge_temperature(
        "steady_charge",
        "Charge at full power, coolant settled",
        note="As a pull begins after a long drive.",
        by=(exchanger.cooled_air,),
    ),
    _coolant("end", "Coolant, held wide open for ever"),
    _charge_temperature(
        "charge_then",
        "Charge at the pull looked at",
        note="Between pulls: what it would be if it were opened then.",
        band=_judged(
            "At that pull the charge is {value}, {margin} under your limit.",
            "At that pull the charge is {value}, only {margin} under your limit.",
            "At that pull the charge is {value}, {margin} over your limit.",
        ),
        by=(pulls.temperature_after,),
    ),
    _seconds("time_then", "Time since the first pull began", uncertainty=2.0),
    _charge_temperature(
        "hot_day_charge",
        "Charge, pull after pull, on the hot day",
        optional=True,
        note="The same pulls: outside air, intake and blower all hotter.",
        band=_judged(
            "On the hot day it comes to {value}, {margin} under your limit.",
            "On the hot day it comes to {value}, only {margin} under your limit.",
            "On the hot day it comes to {value}, {margin} over your limit.",
        ),
    ),
    _seconds(
        "ice_time",
        "Ice lasts, wide open",
        optional=True,
        note="The coolant stays where ice melts in it, then warms as ever.",
        by=(pulls.melting_time, pulls.iced_start, pulls.ice_left),
    ),
    Answer(
        "equal_fan",
        "Fans that make the bed as cool as the nose, times yours",
        of="ratio",
        decimals={"": 1},
        tolerance=0.02,
        uncertainty=0.3,
        optional=True,
        note="Held wide open. Under 1, yours are more than it takes.",
        by=(exchanger.air_root_for, exchanger.stream_factor),
    ),
    Answer(
        "equal_content",
        "Coolant that makes a pull in the bed as long",
        of="volume",
        decimals={"L": 1, "gal": 1},
        tolerance=0.02,
        uncertainty=1.0,
        optional=True,
        note="In the whole loop; the tank takes what is more. It takes as much longer to recover.",
    ),
    Answer(
        "equal_bore",
        "Hose bore that keeps the flow, to the bed",
        of="length",
        decimals={"mm": 1, "in": 2},
        tolerance=0.01,
        uncertainty=0.5,
        by=(pipes.same_loss_bore,),
    ),
    Answer(
        "face_speed",
        "Air through the core, at its face",
        of="speed",
        decimals={"mps": 1, "fps": 1, "fpm": 0},
        tolerance=0.001,
        uncertainty=1.5,
        sign="v",
        note="A vane meter before the core tells whether it is so.",
    ),
    Answer(
        "effectiveness",
        "Exchanger's effectiveness there",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=5.0,
        sign="ε",
        by=(exchanger.cross_flow_effectiveness, exchanger.scaled_conductance),
    ),
)

_watts = partial(Working, of="conductance", unit="WpK", decimals=0)
_celsius = partial(Working, of="temperature", unit="C", decimals=1)
_air_through = partial(Working, of="air_volume_flow", unit="m3h", decimals=0)


def _in_place(place: str) -> tuple[Working, ...]:
    """Return what is worked out on the way in one place."""
    where = f"in the {place}"
    return (
        _watts(f"{place}_coolant_rate", f"Coolant carries, {where}"),
        _watts(f"{place}_for_each_kelvin", f"Charge cooler takes for each degree, {where}"),
        Working(f"{place}_density", f"Air's density, {where}", of="density", unit="kgm3"),
        _air_through(f"{place}_pull_through", f"Air through the core, {where}, pulling"),
        _watts(f"{place}_pull_air_rate", f"Air carries, {where}, pulling"),
        _watts(f"{place}_rest_air_rate", f"Air carries, {where}, between pulls"),
        Working(f"{place}_film", f"Coolant film over the rated one, {where}", decimals=3),
        _watts(f"{place}_conductance", f"UA, {where}"),
        _watts(f"{place}_effective", f"Exchanger passes for each degree, {where}"),
        _celsius(f"{place}_air", f"Air before the core, {where}"),
        _celsius(f"{place}_end", f"Coolant held wide open for ever, {where}"),
        _celsius(f"{place}_start", f"Coolant before the first pull, {where}"),
        Working(f"{place}_warming", f"Time to warm so far, {where}", of="duration", unit="s"),
        Working(f"{place}_content", f"Coolant in the loop, {where}", of="volume", unit="L"),
    )


WORKINGS = (
    Working("outside", "Outside air", of="temperature", unit="C", decimals=1, sign="T_a"),
    Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1, sign="p_a"),
    Working("cooling", "Charge cooler's effectiveness at this coolant flow", sign="ε_c"),
    Working("face", "Face of the core", of="area", unit="mm2", decimals=0, sign="A"),
    _watts("charge_rate", "Charge air carries"),
    _watts("cooler_conductance", "UA of the charge cooler, where its effectiveness is known"),
    _watts("rated_air_rate", "Air carries, as rated"),
    _watts("rated_coolant_rate", "Coolant carries, as rated"),
    _watts("rated_effective", "Exchanger passes for each degree, as rated"),
    Working("rated_effectiveness", "Effectiveness as rated", sign="ε_r"),
    Working("rated_units", "Transfer units as rated", sign="NTU_r"),
    _watts("rated_conductance", "UA as rated", sign="UA_r"),
    *(working for place in PLACES for working in _in_place(place)),
    _celsius("melting", "Ice melts in this coolant at"),
    Working("pull_rate", "Pace of a pull", listed=False),
    Working("rest_rate", "Pace of a rest", listed=False),
    Working("pull_left", "Left of the way after a pull"),
    Working("rest_left", "Left of the way after a rest"),
    _celsius("alike", "Coolant before each pull, once all are alike"),
    Working("which_pull", "Pulls begun", decimals=0),
    _air_through("equal_fan_flow", "Fans that make the bed as cool, as rated in free air"),
    _celsius("hot_day_outlet", "Air out of the blower on the hot day"),
)
