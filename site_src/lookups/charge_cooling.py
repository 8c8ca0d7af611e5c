"""Charge cooling: how long it may be held wide open, and whether the bed does what the nose did.

The exchanger is carried from its rated point by ε-NTU. Both places are worked out with the same
core, side by side; what makes the bed equal follows from the two. All coolant is one body, so that
a pull and a rest are an exponential each.
"""

from __future__ import annotations

from collections.abc import Mapping

from calc import exchanger, pipes, pulls
from calc.atmosphere import dry_air_density
from calc.constants import CP_AIR
from calc.domain import Real
from site_src.lookups import air
from site_src.lookups.charge_cooling_answers import ANSWERS, WORKINGS
from site_src.lookups.charge_cooling_fields import FIELDS, PLACES
from site_src.lookups.loop import DENSITY, FREEZING, HEAT_CAPACITY
from site_src.lookups.piping import DECAY
from site_src.model.answers import (
    ChartView,
    CompareView,
    CurveView,
    Views,
)
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, choose, greatest, least, settled, tabulated, within

RATING_DENSITY = 1.2
"""Air at which a sheet states an air speed, kg/m³: 20 °C at sea level. Common practice."""

LONGEST = 20.0
"""Exponent past which nothing is left that shows: two thousand-millionths."""

MOST_OF_THE_WAY = 0.98
"""Share of the way to where coolant settles, past which a limit counts as never reached."""

LONGEST_TIME = 7200.0
"""A time over which nobody asks any more, s."""

TEN_SECONDS = 10.0

NEAR_LIMIT = 5.0
"""Under the charge limit from which it is near, K."""

PULLS = 8
"""Pulls that are followed one by one."""

ROUNDS = 3
"""Rounds to the air flow that makes the bed equal, each twenty times nearer."""

MOST_FANS = 30e3 / 3600.0
"""Fans past which nobody puts them on a truck, m³/s in free air."""

MOST_CONTENT = 0.1
"""Coolant past which nobody carries it, m³."""

LEAST_RATE = 4.0
"""Heat capacity rate of next to no air, 4 g/s, W/K."""

LEAST_ROOT, MOST_ROOT = 5e-3, 0.5
"""One over the root of a heat capacity rate past any fan and under any, (K/W)^½: 40 kW/K and 4 W/K,
33 kg/s and 4 g/s of air."""

LITTLE_LEFT = 1.12
"""Factor of the streams over which a core gives up nearly all it can, whatever the air."""

HAIR = 1e-3
"""What the tables and the rounds leave, as a share of a range, is below this."""

SLIGHT = 2e-5
"""The tables' error, as a share of the way to where coolant settles, is below this."""

_NO_AIR = (
    "Hardly any air goes through the exchanger in a pull. Enter a road speed, or a fan that draws "
    "through it."
)
_NO_AIR_RESTING = (
    "Between pulls hardly any air goes through the exchanger: it doesn't recover. Enter a road "
    "speed or a fan for it."
)
_FAR_FROM_RATED = "Over a hundred times the air that it is rated at: look at the units."
_TOO_GOOD = (
    "No core is that good: nearly all the heat there is. Is the difference that between the two "
    "inlets, and are heat and flows of one and the same line of the sheet?"
)
_TOO_POOR = "That is hardly an exchanger: look at the units of heat and difference."
_NOT_COOLED = "The coolant leaves it hotter than it comes, or the air is hotter. Swapped?"
_FLOW_FAR = "The coolant flow is over twenty times the rated one, or under a twentieth."
_NEVER = (
    "It never gets that much hotter, however long: hold it as long as you like. What it settles "
    "at is below."
)
_LONG = "Over two hours: no pull and no rest is that long."
_BACK_ALREADY = "It is within that at once: no need to wait."
_NEVER_BACK = (
    "It never gets back there between pulls: the coolant was colder than that air leaves it. "
    "Start warmer, or bring colder air."
)
_NO_FAN = (
    "No fan makes up for it: the air at the bed is as warm as the coolant gets in the nose, or the "
    "coolant flow there too small. Bring it outside air through a duct, or more flow."
)
_ANY_FAN = "Next to no fan is needed: the bed cools better as it is."
_FAN_IS_NOTHING = (
    "The core gives up nearly all it can already: a fan is not what it lacks. More coolant flow, "
    "or colder air."
)
_FROZEN = "The outside air is colder than this coolant freezes: more glycol first, and no ice."
_TOO_MUCH_COOLANT = "Over [100 L|26 US gal]: it takes air, not coolant."
_COOLER_TOO_GOOD = (
    "No charge cooler is that good with so little coolant. Look at its effectiveness, and at the "
    "coolant flow it is known at."
)
_COOLER_FLOW = "The coolant flow is far from the one that the charge cooler is known at."
_FAR_APART = "Over ten times apart: look at both lengths of hose."
_ICED = "With ice in the tank it is not drawn: the answer above says how long the ice lasts."


# --- tables ----------------------------------------------------------------------------------

EFFECTIVENESS = tabulated(
    "cross_flow_effectiveness",
    exchanger.cross_flow_effectiveness,
    cubic("transfer_units", "NTU", 0.02, 10.0),
    cubic("capacity_ratio", "smaller over larger heat capacity rate", 0.02, 1.0),
    tolerance=1e-6,
    # A large table: half as many bytes hold it within its tolerance.
    numbers="f4",
)
FILM = tabulated(
    "coolant_film",
    exchanger.film_ratio,
    cubic("flow_ratio", "coolant flow over the rated one", 0.05, 20.0, kinks=(0.3, 2.0)),
    tolerance=2e-6,
    monotone=True,
)
SLOWING = tabulated(
    "slowing",
    pulls.slowing,
    cubic("share", "share of the way", 0.0, MOST_OF_THE_WAY),
    tolerance=2e-6,
    relative=True,
    monotone=True,
)
SAME_LOSS = tabulated(
    "bore_of_the_same_loss",
    pipes.same_loss_bore,
    cubic("length_ratio", "longer hose over shorter", 0.1, 20.0, kinks=(0.5, 3.0)),
    tolerance=2e-6,
    monotone=True,
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out both places, then the one at hand in time, then what makes them equal."""
    found = _liquid(e)
    found |= _charge(e, found)
    found |= _air(e, found)
    found |= _rated(e, found)
    for place in PLACES:
        found |= _cooling(e, found, place)
        found |= _exchanging(found, place)
        found |= _pull(e, found, place)
    found |= {key: _here(e, found, key) for key in _SHOWN}
    found |= _steady(e, found)
    found |= _one_pull(e, found)
    found |= _in_time(e, found)
    found |= _on_a_hot_day(e, found)
    found |= _equal(e, found)
    return {key: found[key] for key in (*_NAMED, "charge_near")}


def _here(e: Entries, f: Mapping[str, Real], key: str) -> Real:
    """Return what belongs to the place that was chosen."""
    return e.pick("exchanger_place", {place: f[f"{place}_{key}"] for place in PLACES})


def _liquid(e: Entries) -> dict[str, Real]:
    """Work out what the coolant carries and holds, in either place."""
    at = e["loop_temperature"], e["glycol_share"]
    heat = DENSITY(*at) * HEAT_CAPACITY(*at)
    more_hose = pipes.hose_content(e["hose_bore"], e["bed_hose"]) - pipes.hose_content(
        e["hose_bore"], e["nose_hose"]
    )
    content = {"nose": e["content"], "bed": within(e["content"] + more_hose, 0.5e-3, None)}
    flow = {"nose": e["coolant_flow"], "bed": e["bed_coolant_flow"]}
    found: dict[str, Real] = {"volume_heat": heat, "melting": FREEZING(e["glycol_share"])}
    for place in PLACES:
        found |= {
            f"{place}_flow": flow[place],
            f"{place}_coolant_rate": flow[place] * heat,
            f"{place}_content": content[place],
            f"{place}_held": content[place] * heat,
        }
    return found


def _charge(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out outside air, and the charge cooler's conductance where its effectiveness is known.

    At another coolant flow it is better or worse than that: without this, less flow would seem to
    cool as well.
    """
    air_rate = exchanger.heat_for_each_kelvin(e["air_flow"], 1.0)
    known = exchanger.heat_for_each_kelvin(e["air_flow"], e["cooler_effectiveness"])
    rate = e["effectiveness_flow"] * f["volume_heat"]
    smaller, larger = least(air_rate, rate), greatest(air_rate, rate)
    units = EFFECTIVENESS.where(
        "transfer_units",
        known / smaller,
        smaller / larger,
        below={"transfer_units": _COOLER_TOO_GOOD, "capacity_ratio": _COOLER_FLOW},
        above={"transfer_units": _COOLER_TOO_GOOD},
    )
    return {
        "outside": air.outside(e),
        "ambient": air.ambient(e),
        "charge_rate": air_rate,
        "cooler_conductance": units * smaller,
    }


def _cooling(e: Entries, f: Mapping[str, Real], place: str) -> dict[str, Real]:
    """Work out how well the charge cooler cools at the coolant flow in one place."""
    rate, air_rate = f[f"{place}_coolant_rate"], f["charge_rate"]
    far = {"flow_ratio": _COOLER_FLOW}
    film = FILM(f[f"{place}_flow"] / e["effectiveness_flow"], below=far, above=far)
    known = within(f["cooler_conductance"], 1.0, 5e4)
    conductance = exchanger.scaled_conductance(known, exchanger.AIR_SIDE_SHARE, 1.0, film)
    smaller, larger = least(air_rate, rate), greatest(air_rate, rate)
    passed = smaller * EFFECTIVENESS(
        conductance / smaller,
        smaller / larger,
        below={"capacity_ratio": _COOLER_FLOW},
        above={"transfer_units": _COOLER_TOO_GOOD},
    )
    share = passed / air_rate
    return {
        f"{place}_for_each_kelvin": passed,
        f"{place}_cooling": share,
        f"{place}_rise": e["rise_allowed"] / share,
    }


# --- the exchanger ---------------------------------------------------------------------------


def _air(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the air through the core in either place, in a pull and between pulls."""
    face = e["face_width"] * e["face_height"]
    standing = e.entered_or("nose_fan", 0.0)
    fanned = e["bed_fan"] * e["fan_share"]
    through = {
        ("nose", "pull"): greatest(e["face_share"] * e["road_speed"] * face, standing),
        ("nose", "rest"): greatest(e["face_share"] * e["rest_speed"] * face, standing),
        ("bed", "pull"): fanned,
        ("bed", "rest"): fanned,
    }
    found: dict[str, Real] = {"face": face}
    for place in PLACES:
        before = f["outside"] + e[f"{place}_warmer"]
        density = dry_air_density(f["ambient"], before)
        found |= {f"{place}_air": before, f"{place}_density": density}
        for when in ("pull", "rest"):
            found[f"{place}_{when}_through"] = through[place, when]
            found[f"{place}_{when}_air_rate"] = through[place, when] * density * CP_AIR
    return found


def _rated(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the core's conductance at its rated point, or where it was measured."""
    by_sheet = {
        "rated_air_rate": RATING_DENSITY * e["rated_face_speed"] * f["face"] * CP_AIR,
        "rated_coolant_rate": e["rated_coolant_flow"] * f["volume_heat"],
        "rated_effective": e["exchanger_heat"] / e["exchanger_difference"],
    }
    measured = {
        name: e.pick("exchanger_read_in", {place: f[f"{place}_{key}"] for place in PLACES})
        for name, key in (
            ("rated_air_rate", "pull_air_rate"),
            ("rated_coolant_rate", "coolant_rate"),
        )
    }
    cooled = e["exchanger_coolant_in"] - e["exchanger_coolant_out"]
    over = e["exchanger_coolant_in"] - e["exchanger_air_in"]
    cooled = within(cooled, 0.1, None, below=_NOT_COOLED)
    over = within(over, 1.0, None, below=_NOT_COOLED)
    measured["rated_effective"] = measured["rated_coolant_rate"] * cooled / over
    found = {
        key: e.pick("exchanger_from", {"sheet": by_sheet[key], "readings": measured[key]})
        for key in by_sheet
    }
    found["rated_air_rate"] = within(found["rated_air_rate"], LEAST_RATE, None, below=_NO_AIR)
    smaller = least(found["rated_air_rate"], found["rated_coolant_rate"])
    larger = greatest(found["rated_air_rate"], found["rated_coolant_rate"])
    effectiveness = found["rated_effective"] / smaller
    units = EFFECTIVENESS.where(
        "transfer_units",
        effectiveness,
        smaller / larger,
        below={"transfer_units": _TOO_POOR, "capacity_ratio": _FAR_FROM_RATED},
        above={"transfer_units": _TOO_GOOD},
    )
    conductance = within(units * smaller, 5.0, 5e4, below=_TOO_POOR, above=_TOO_GOOD, hair=HAIR)
    return found | {
        "rated_effectiveness": effectiveness,
        "rated_units": units,
        "rated_conductance": conductance,
    }


def _exchanging(f: Mapping[str, Real], place: str) -> dict[str, Real]:
    """Work out what the exchanger passes for each kelvin in one place, in a pull."""
    rate = f[f"{place}_coolant_rate"]
    film = FILM(
        rate / f["rated_coolant_rate"],
        below={"flow_ratio": _FLOW_FAR},
        above={"flow_ratio": _FLOW_FAR},
    )
    passed = _effective(f, f[f"{place}_pull_air_rate"], rate, film, _NO_AIR)
    return {f"{place}_film": film} | {f"{place}_{key}": value for key, value in passed.items()}


def _effective(
    f: Mapping[str, Real],
    air_rate: Real,
    rate: Real,
    film: Real,
    silent: str,
    windy: str = _FAR_FROM_RATED,
) -> dict[str, Real]:
    """Work out the conductance and the effectiveness at an air flow and a coolant flow.

    `silent` says what too little air means, `windy` what too much.
    """
    ratio = air_rate / f["rated_air_rate"]
    ratio = within(ratio, 0.01, 100.0, below=silent, above=windy)
    conductance = exchanger.scaled_conductance(
        f["rated_conductance"], exchanger.AIR_SIDE_SHARE, ratio, film
    )
    smaller, larger = least(air_rate, rate), greatest(air_rate, rate)
    units = conductance / smaller
    effectiveness = EFFECTIVENESS(
        units,
        smaller / larger,
        below={"capacity_ratio": silent, "transfer_units": _TOO_POOR},
        above={"transfer_units": silent},
    )
    return {
        "conductance": conductance,
        "effectiveness": effectiveness,
        "effective": effectiveness * smaller,
    }


# --- pulls -----------------------------------------------------------------------------------

_NO_ICE_IN = ("settled", "cold", "measured")


def _pull(e: Entries, f: Mapping[str, Real], place: str) -> dict[str, Real]:
    """Work out where coolant settles in one place, and how long it takes to warm so far."""
    effective, rate = f[f"{place}_effective"], f[f"{place}_coolant_rate"]
    before, hot, taken = f[f"{place}_air"], e["blower_outlet"], f[f"{place}_for_each_kelvin"]
    excess = exchanger.coolant_excess(effective, rate)
    steady = exchanger.steady_coolant(before, excess, e["duty_share"] * taken, hot)
    end = exchanger.steady_coolant(before, excess, taken, hot)
    found = {"excess": excess, "steady": steady, "end": end}
    found |= _start(e, f, f[f"{place}_held"], steady)
    found["pull_rate"] = pulls.pull_rate(taken, effective, rate, found["heats"])
    over = within(end - found["start"], 0.01, None, below=_NEVER, hair=HAIR)
    share = within(f[f"{place}_rise"] / over, None, MOST_OF_THE_WAY, above=_NEVER, hair=SLIGHT)
    found["warming"] = _time(share, found["pull_rate"])
    return {f"{place}_{key}": value for key, value in found.items()}


def _start(e: Entries, f: Mapping[str, Real], held: Real, steady: Real) -> dict[str, Real]:
    """Work out the coolant before the first pull, what warms with it, and what ice is left."""
    water = e["ice"] * pulls.WATER_HEAT_CAPACITY
    heats = held + e.pick("start_from", {"ice": water} | dict.fromkeys(_NO_ICE_IN, 0.0))
    liquid = within(f["outside"] - f["melting"], 0.0, None, below=_FROZEN, gives=f["outside"])
    mixed = pulls.iced_start(liquid, held, e["ice"])
    iced = greatest(mixed, f["melting"])
    start = e.pick(
        "start_from",
        {"settled": steady, "cold": f["outside"], "measured": e["start_coolant"], "ice": iced},
    )
    return {"heats": heats, "start": start, "mixed": mixed}


def _ice_time(e: Entries, f: Mapping[str, Real]) -> Real:
    """Work out how long ice holds the coolant where it melts."""
    left = pulls.ice_left(f["melting"], least(f["mixed"], f["melting"]), f["heats"])
    end = within(f["end"] - f["start"], 0.5, None, below=_NEVER, gives=f["end"], hair=HAIR)
    return pulls.melting_time(left, f["start"], end, f["pull_rate"], f["heats"])


def _time(share: Real, rate: Real) -> Real:
    """Work out how long a share of the way takes."""
    found = pulls.time_until(share, SLOWING(share), rate)
    return within(found, None, LONGEST_TIME, above=_LONG, hair=HAIR)


_SHOWN = (
    "coolant_rate",
    "for_each_kelvin",
    "cooling",
    "rise",
    "film",
    "air",
    "pull_through",
    "rest_air_rate",
    "effectiveness",
    "excess",
    "steady",
    "end",
    "start",
    "mixed",
    "heats",
    "pull_rate",
    "warming",
)
"""What is passed on from the place that was chosen, under the same name."""


def _steady(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out heat and temperatures once coolant has settled at the share of full power."""
    after = _charge_with(e, f, f["steady"])
    heat = exchanger.charge_heat(e["air_flow"], e["blower_outlet"], after)
    rise = heat / f["coolant_rate"]
    return {
        "steady_charge": after,
        "charge_near": e["charge_limit"] - NEAR_LIMIT,
        "heat": heat,
        "water_rise": rise,
        "coolant_out": f["steady"] + rise,
        "steady_rise": f["steady"] - f["outside"],
        "ten_seconds": heat * TEN_SECONDS / f["heats"],
        "face_speed": f["pull_through"] / f["face"],
    }


def _one_pull(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out how long a pull may last, and the rest after it."""
    ice = _ice_time(e, f)
    held_up = e.pick("start_from", {"ice": ice} | dict.fromkeys(_NO_ICE_IN, 0.0))
    length = within(f["warming"] + held_up, None, LONGEST_TIME, above=_LONG, hair=HAIR)
    passed = _effective(f, f["rest_air_rate"], f["coolant_rate"], f["film"], _NO_AIR_RESTING)
    rest_rate = pulls.pull_rate(0.0, passed["effective"], f["coolant_rate"], f["heats"])
    to_go = e["recovered_to"] / f["cooling"]
    back = within(f["rise"] - to_go, 0.0, None, below=_BACK_ALREADY, hair=0.0)
    over = within(f["start"] + f["rise"] - f["air"], 0.01, None, below=_BACK_ALREADY, hair=HAIR)
    share = within(back / over, None, MOST_OF_THE_WAY, above=_NEVER_BACK, hair=SLIGHT)
    # No rest follows a pull that never ends.
    return {
        "ice_time": e.pick("start_from", {"ice": ice} | dict.fromkeys(_NO_ICE_IN, Refusal(""))),
        "pull_length": length,
        "rest_rate": rest_rate,
        "recovery_time": within(length, None, None, gives=_time(share, rest_rate)),
    }


def _in_time(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out pulls that are all alike, and one of the first few."""
    exponents = {
        "pull": least(f["pull_rate"] * e["pull_time"], LONGEST),
        "rest": least(f["rest_rate"] * e["rest_time"], LONGEST),
    }
    left = {key: DECAY(exponent) for key, exponent in exponents.items()}
    alike = pulls.settled_start(f["end"], left["pull"], f["air"], left["rest"])
    hottest = pulls.temperature_after(alike, f["end"], left["pull"])
    found = {
        "pull_left": left["pull"],
        "rest_left": left["rest"],
        "alike": alike,
        "charge_hottest": _charge_with(e, f, hottest),
        "pulls_rise": hottest - f["outside"],
    }
    return found | _looked_at(e, f, exponents, alike)


def _charge_with(e: Entries, f: Mapping[str, Real], coolant: Real) -> Real:
    """Return the charge at full power with coolant of a temperature."""
    return exchanger.cooled_air(e["blower_outlet"], coolant, f["cooling"])


def _looked_at(
    e: Entries, f: Mapping[str, Real], exponents: Mapping[str, Real], alike: Real
) -> dict[str, Real]:
    """Work out time and charge at the pull that is looked at, on the way through it or after."""
    number: Real = 1.0
    for later in range(2, PULLS + 1):
        number = number + choose(e["pull_number"], float(later), 0.0, 1.0)
    along = 2.0 * (e["pull_number"] - number)
    pulled, rested = least(along, 1.0), greatest(along, 1.0) - 1.0
    both = exponents["pull"] + exponents["rest"]
    gone = least((number - 1.0) * both, LONGEST)
    before = pulls.temperature_after(f["start"], alike, DECAY(gone))
    after = pulls.temperature_after(before, f["end"], DECAY(pulled * exponents["pull"]))
    then = pulls.temperature_after(after, f["air"], DECAY(rested * exponents["rest"]))
    drawn = e.pick("start_from", {"ice": Refusal(_ICED)} | dict.fromkeys(_NO_ICE_IN, then))
    round_time = e["pull_time"] + e["rest_time"]
    return {
        "which_pull": number,
        "time_then": (number - 1.0) * round_time
        + pulled * e["pull_time"]
        + rested * e["rest_time"],
        "charge_then": _charge_with(e, f, drawn),
    }


def _on_a_hot_day(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the same pulls on a hot day: air and coolant hotter, the blower's air in step."""
    hotter = e["hot_day"] - f["outside"]
    hot = e["blower_outlet"] * ((e["intake_temperature"] + hotter) / e["intake_temperature"])
    hot = within(hot, 230.0, 590.0)
    before = f["air"] + hotter
    end = exchanger.steady_coolant(before, f["excess"], f["for_each_kelvin"], hot)
    alike = pulls.settled_start(end, f["pull_left"], before, f["rest_left"])
    hottest = pulls.temperature_after(alike, end, f["pull_left"])
    return {
        "hot_day_outlet": hot,
        "hot_day_charge": exchanger.cooled_air(hot, hottest, f["cooling"]),
    }


# --- what makes the bed equal ----------------------------------------------------------------


def _equal(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out fan, volume and bore with which the bed does what the nose does."""
    fans = _equal_fan(e, f)
    longer = f["bed_content"] * (f["nose_warming"] / f["bed_warming"])
    longer = within(longer, None, MOST_CONTENT, above=_TOO_MUCH_COOLANT, hair=HAIR)
    volume = {"ice": Refusal(_ICED)} | dict.fromkeys(_NO_ICE_IN, longer)
    return {
        "equal_fan_flow": fans,
        "equal_fan": fans / e["bed_fan"],
        "equal_content": e.pick("start_from", volume),
        "equal_bore": e["hose_bore"]
        * SAME_LOSS(
            e["bed_hose"] / e["nose_hose"],
            below={"length_ratio": _FAR_APART},
            above={"length_ratio": _FAR_APART},
        ),
    }


def _equal_fan(e: Entries, f: Mapping[str, Real]) -> Real:
    """Work out the fans with which coolant settles in the bed as it does in the nose.

    At full power, so that it doesn't hang on how often that is.
    """
    rate, film = f["bed_coolant_rate"], f["bed_film"]
    # As much heat in either place, so that the charge cooler's own flow plays no part.
    heat = f["bed_for_each_kelvin"] * (e["blower_outlet"] - f["nose_end"])
    over = within(f["nose_end"] - f["bed_air"], 0.1, None, below=_NO_FAN)
    wanted = over / within(heat, 500.0, None, below=_NO_FAN) + 1.0 / rate
    share = exchanger.AIR_SIDE_SHARE
    core = f["rated_conductance"]
    air_side = share * f["rated_air_rate"] ** 0.5 / core
    coolant_side = (1.0 - share) / (core * film)

    def air_for(factor: Real) -> Real:
        other = least(coolant_side + 0.5 * factor / rate, wanted)
        root = exchanger.air_root_for(wanted, air_side, other, factor)
        return within(root, LEAST_ROOT, MOST_ROOT, below=_NO_FAN, above=_ANY_FAN) ** -2.0

    def once(factor: Real) -> Real:
        air_rate = air_for(factor)
        passed = _effective(f, air_rate, rate, film, _NO_FAN, _NO_FAN)
        return exchanger.stream_factor(passed["effective"], passed["conductance"], air_rate, rate)

    begun = exchanger.stream_factor(
        f["bed_effective"],
        f["bed_conductance"],
        within(f["bed_pull_air_rate"], LEAST_RATE, None, below=_NO_AIR),
        rate,
    )
    factor = settled(once, begun, ROUNDS, "what the streams' own warming and cooling adds")
    factor = within(factor, 0.9, LITTLE_LEFT, above=_FAN_IS_NOTHING, hair=HAIR)
    fans = air_for(factor) / (f["bed_density"] * CP_AIR * e["fan_share"])
    return within(fans, None, MOST_FANS, above=_NO_FAN, hair=HAIR)


# --- the page --------------------------------------------------------------------------------

_NAMED = tuple(value.key for value in (*ANSWERS, *WORKINGS))

_PARTS = (0.0, 0.125, 0.25, 0.5, 0.625, 0.75)
_MOMENTS = (*(number + part for number in range(1, 7) for part in _PARTS), 7.0)
"""Begin of each pull, places on the way, its end, and places in the rest after it."""

LOOKUP = Lookup(
    key="charge-cooling",
    title="Charge cooling",
    short="Cooling",
    question="How long may I hold it wide open, and is the bed as good as the nose?",
    stage="plumb",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "A bigger tank",
                "pull_length",
                "content",
                (4.0, 6.0, 8.0, 12.0, 16.0, 24.0),
                also=("recovery_time", "charge_hottest"),
            ),
            ChartView(
                "More coolant flow",
                "charge_hottest",
                "coolant_flow",
                (8.0, 12.0, 16.0, 20.0, 30.0, 40.0),
                also=("water_rise", "heat"),
            ),
            ChartView(
                "Hot days",
                "hot_day_charge",
                "hot_day",
                (10.0, 20.0, 30.0, 35.0, 40.0, 45.0),
            ),
        ),
        curves=(
            CurveView(
                "Pull after pull",
                "charge_then",
                "pull_number",
                _MOMENTS,
                at="time_then",
            ),
        ),
        compare=CompareView(
            "Nose against bed",
            "exchanger_place",
            (),
            (
                "pull_length",
                "recovery_time",
                "charge_hottest",
                "pulls_rise",
                "end",
                "face_speed",
                "effectiveness",
            ),
        ),
    ),
    cautions=(
        "Coolant under a cap scalds: open it cold. Fans start without warning.",
        "Full pulls belong on a closed road or rollers, with somebody at the gauges.",
        "Ice thins the glycol as it melts: not before a frost, and drain what overflows.",
        "Hose under the truck clear of exhaust, propeller shaft and springs at full travel.",
        "A maker's own rating at your flows overrules what is carried over here.",
    ),
    sources=(
        "Exchanger: ε-NTU, cross flow, both unmixed (Mason, 1955), from one rated point.",
        "Air side as the root of the flow: louvred fins, Chang & Wang (1997). Coolant side: "
        "Dittus-Boelter. Three quarters of the resistance on the air side: common practice.",
        "Pulls and rests: heat balance of one body, solved exactly.",
        "Ice: 333.4 kJ/kg (IAPWS).",
        "Coolant: ASHRAE Handbook, Fundamentals, ch. 31, ethylene glycol by volume, as restated.",
        "Bore for a longer hose: Darcy-Weisbach with Blasius's factor (1913).",
        "Air at altitude: ISO 2533. A sheet's air: 1.2 kg/m³, common practice.",
        "Share of road speed, of a fan's free air, bed air: common practice; a vane meter and a "
        "thermometer tell yours.",
    ),
    leaves_out=(
        "Heat that hoses, tank and the metal of the cores take up: pulls last a little longer.",
        "The time once round the loop: for the first seconds of a pull the charge cooler still "
        "gets the coolant of before.",
        "A hotter charge gives a little less air: air flow and blower temperature stay as entered.",
        "Coolant flow and its film are those of the temperature entered: cold and thick, both are "
        "less.",
        "Heat between pulls: driving along, the blower's bypass is taken to be open.",
        "Dirt and bent fins; sun on a tank; hot air that a fan draws round again.",
        "Longer hose counts as straight: its bends are on the coolant loop's page.",
    ),
)
