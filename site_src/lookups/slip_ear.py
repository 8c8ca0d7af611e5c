"""Slip by ear: the blower's tone against the engine's firing, as the slip page uses it.

Both are typed, or heard by the phone's microphone (`static/js/pages/slip.js`), which fills in the
same fields. Heard once more without load, the same two tones give the ratio that there is without
slip, and neither lobes, cylinders, gear nor diameters matter any more.
"""

from __future__ import annotations

from functools import partial

from calc import drive_tone as calc
from calc.belts import slip_from_ratio, speed_ratio
from calc.domain import Real
from site_src.model.answers import Answer, Working
from site_src.model.entries import Entries
from site_src.model.fields import Field, Number, Scale
from site_src.tables.compiler import linear
from site_src.tables.trace import tabulated, within

GROUP, HEARD = "By ear, with the phone", "By ear, the tones heard"

LEAST_HEARD, MOST_HEARD = -0.03, 0.15
"""Slips among which the blower's tone is looked for. Under nought is the diameters' error."""

MOST_UNSURE = 0.015
"""Uncertainty over which a slip by ear is worth nothing beside limits of 3 and 5 %."""

FREE_AND_PULLEYS = 0.04
"""By how much the ratio without load may differ from the pulleys' before one of them is wrong."""

LEAST_GAP = 0.005
"""Gap of orders under which no engine turns fast enough: 12,000 rpm give one hertz."""

_STEP = calc.HALF_ORDER / 2.0

GAP = tabulated(
    "gap_to_engine",
    calc.gap_to_engine,
    linear(
        "order",
        "Blower tones for one turn of the crank",
        *(_STEP * n for n in range(2, round(calc.HIGHEST_ORDER / _STEP) + 1)),
    ),
    tolerance=1e-9,
)
"""A saw tooth: linear between the engine's lines and the middles between them."""

_NO_SUCH_TONES = (
    "These two tones don't belong to one truck: look at both, and at the number of cylinders."
)
_ON_A_HARMONIC = (
    "The blower's tone can't be told apart from a harmonic of the engine here. Hold a higher "
    "engine speed, steadier, with the phone closer to the blower's snout; or hear it under more "
    "load. Else use the tachometer."
)
_TOO_COARSE = (
    "By ear this slip is known to no better than ±1.5 %, which says nothing beside limits of 3 and "
    "5 %. Hold the speed steadier, go closer to the blower's snout, and listen without load too."
)
_TURNS_TOO_SLOW = (
    "More than 15 % of the blower's speed is missing by ear: no belt slips so for ten seconds. "
    "Count lobes and cylinders again, look at gear ratio and diameters."
)
_TURNS_TOO_FAST = (
    "By ear the blower turns faster than a belt can drive it. Count lobes and cylinders again, "
    "look at gear ratio and diameters, or listen without load too."
)
_NOT_THESE_PULLEYS = (
    "Heard without load, the drive is more than 4 % off what these pulleys give. Count lobes and "
    "cylinders again, look at gear ratio and diameters."
)
_TOO_MANY = (
    f"No blower sings over {calc.HIGHEST_ORDER:g} times in a turn of the crank: look at lobes, "
    "gear ratio and diameters."
)
_ON_A_LINE = (
    "Without slip the blower's tone lies right on a harmonic of the engine at every speed. Only "
    "slip takes it off, so hear it under load."
)


def by_ear(e: Entries, driving: Real, driven: Real) -> dict[str, Real]:
    """Work out slip from the tones heard, with its uncertainty; none where they are not clear.

    The diameters are those on which the belt's cord runs.
    """
    pulleys = speed_ratio(driving, driven)
    lobes, gear = e["rotor_lobes"], e["gear"]
    loaded, free = _heard(e, "ear"), _heard(e, "free")
    turned, loose = loaded["order"] / lobes / gear, free["order"] / lobes / gear
    off = 1.0 / (1.0 - FREE_AND_PULLEYS)
    sure = within(
        loose / pulleys, 1.0 / off, off, below=_NOT_THESE_PULLEYS, above=_NOT_THESE_PULLEYS
    )
    sound = e.if_entered("free_blower", sure * pulleys, pulleys)
    by_diameters = calc.pulleys_share_unsure(driving, driven, e["diameter_unsure"])
    sound_share = e.if_entered("free_blower", free["share"], by_diameters)
    believed = within(
        turned / sound,
        1.0 - MOST_HEARD,
        1.0 - LEAST_HEARD,
        below=_TURNS_TOO_SLOW,
        above=_TURNS_TOO_FAST,
        gives=turned,
    )
    slip = slip_from_ratio(believed, sound)
    unsure = calc.slip_unsure(slip, loaded["share"], sound_share)
    return {
        **_expected(e, pulleys),
        "ear_order": loaded["order"],
        "free_order": free["order"],
        "ear_apart": loaded["apart"],
        "ear_turned": turned,
        "ear_sound": sound,
        "ear_ratio": loaded["order"] / lobes,
        "free_ratio": free["order"] / lobes,
        "ear_share": loaded["share"],
        "pulleys_unsure": by_diameters,
        "sound_share": sound_share,
        "ear_rotor_speed": calc.rotor_speed_heard(e["ear_blower"], lobes),
        "ear_engine_speed": loaded["speed"],
        "ear_unsure": unsure,
        "slip_by_ear": within(unsure, None, MOST_UNSURE, above=_TOO_COARSE, gives=slip),
    }


def _heard(e: Entries, when: str) -> dict[str, Real]:
    """Return what one listening says: order, speed, and how surely the two tones are apart."""
    tone, firing = e[f"{when}_blower"], e[f"{when}_firing"]
    tone_unsure, firing_unsure = e[f"{when}_blower_unsure"], e[f"{when}_firing_unsure"]
    speed = calc.crank_speed_heard(firing, e["cylinders"])
    order = calc.order_heard(tone, firing, e["cylinders"])
    gap = GAP(order, below={"order": _NO_SUCH_TONES}, above={"order": _NO_SUCH_TONES})
    # A line of the engine is off by as many times the firing's error as it is the firing's tone.
    apart = calc.hertz_apart(gap, speed, tone_unsure, firing_unsure * tone / firing)
    share = within(
        calc.ratio_share_unsure(tone, tone_unsure, firing, firing_unsure),
        None,
        MOST_UNSURE,
        above=_TOO_COARSE,
    )
    return {
        "speed": speed,
        "order": within(apart, calc.RESOLUTION, None, below=_ON_A_HARMONIC, gives=order),
        "apart": apart,
        "share": share,
    }


def _expected(e: Entries, pulleys: Real) -> dict[str, Real]:
    """Return where the tones lie without slip, and from which engine speed they are apart."""
    ratio = pulleys * e["gear"]
    order = calc.lobe_order(e["rotor_lobes"], ratio)
    gap = GAP(order, above={"order": _TOO_MANY}, below={"order": _TOO_MANY})
    return {
        "order_expected": order,
        "order_lowest": order * (1.0 - MOST_HEARD),
        "order_highest": order * (1.0 - LEAST_HEARD),
        "firing_order": calc.firing_tone(e["cylinders"], 1.0),
        "firing_expected": calc.firing_tone(e["cylinders"], e["ear_speed"]),
        "tone_expected": calc.lobe_tone(e["rotor_lobes"], e["ear_speed"] * ratio),
        "speed_apart": calc.least_speed_apart(within(gap, LEAST_GAP, None, below=_ON_A_LINE)),
    }


# --- the page --------------------------------------------------------------------------------


def _tone(key: str, label: str, span: tuple[float, float], measure: str) -> Number:
    """Return the optional entry of a tone that was heard."""
    return Number(
        key,
        label,
        Scale("frequency", unit="Hz", span=span, default=None, step=1),
        measure=measure,
        way_out="Listen again.",
        group=HEARD,
    )


def _unsure(key: str, label: str) -> Number:
    """Return the optional entry of how well a tone is known."""
    return Number(
        key,
        label,
        Scale("frequency", unit="Hz", span=(0.001, 20), default=None, step=0.1),
        measure="With what both tones drift together taken out.",
        way_out="Over 20 Hz it is no tone: listen again, steadier.",
        group=HEARD,
    )


_FIRING, _BLOWER = (10, 1200), (20, 5000)
_PULLING, _LOOSE = "pulling", "without load"

FIELDS: tuple[Field, ...] = (
    Number(
        "rotor_lobes",
        "Lobes of one rotor",
        Scale("ratio", unit="", span=(2, 8), default=None, step=1, stock=(2, 3, 4, 5, 6)),
        sign="z",
        measure="Of the rotor that the gear ratio turns. Count them through the outlet, engine "
        "off, or ask the blower's maker.",
        way_out="Rotors have 2 to 8 lobes.",
        group=GROUP,
    ),
    Number(
        "cylinders",
        "Cylinders, four-stroke",
        Scale("ratio", unit="", span=(2, 16), default=8, step=1, stock=(3, 4, 5, 6, 8, 10, 12)),
        sign="Z",
        way_out="Enter all cylinders together.",
        group=GROUP,
    ),
    Number(
        "ear_speed",
        "Engine speed that you hold",
        Scale("rotation", unit="rpm", span=(600, 10000), default=None, step=100),
        measure="Off the dash or the logger, good to 4 %: it tells the phone where to listen.",
        way_out="Enter crankshaft speed.",
        group=GROUP,
    ),
    Number(
        "diameter_unsure",
        "Pulleys measured to, ±",
        Scale("length", unit="mm", span=(0.01, 5), default=0.5, step=0.1),
        measure="Each of the two. [Half a millimetre|0.02 in] with a caliper over the ribs: common "
        "practice.",
        way_out="Measure them better, or listen without load.",
        group=GROUP,
    ),
    _tone(
        "ear_firing",
        f"Firing, {_PULLING}",
        _FIRING,
        "Half the cylinders × crank speed. The phone fills it in.",
    ),
    _unsure("ear_firing_unsure", f"Firing, {_PULLING}, ±"),
    _tone(
        "ear_blower",
        f"Blower's lowest tone, {_PULLING}",
        _BLOWER,
        "Lobes × rotor speed. Its double is often the louder: enter half of that.",
    ),
    _unsure("ear_blower_unsure", f"Blower's tone, {_PULLING}, ±"),
    _tone(
        "free_firing",
        f"Firing, {_LOOSE}",
        _FIRING,
        "Engine held at a fast idle, bypass open: hardly any slip.",
    ),
    _unsure("free_firing_unsure", f"Firing, {_LOOSE}, ±"),
    _tone(
        "free_blower",
        f"Blower's lowest tone, {_LOOSE}",
        _BLOWER,
        "It takes the error of diameters, gear and lobes out. Left empty, the diameters are "
        "worked with.",
    ),
    _unsure("free_blower_unsure", f"Blower's tone, {_LOOSE}, ±"),
)

_share = partial(Answer, of="percent", decimals={"pct": 1}, uncertainty=1.0, optional=True)
_ratio = partial(
    Answer,
    by=(calc.order_heard,),
    decimals={"": 3},
    tolerance=1e-6,
    uncertainty=0.005,
    optional=True,
)
_turns = partial(Answer, of="rotation", decimals={"rpm": 0}, tolerance=0.01, optional=True)
_hertz = partial(Answer, of="frequency", decimals={"Hz": 1}, tolerance=1e-3, optional=True)

ANSWERS: tuple[Answer, ...] = (
    _share(
        "slip_by_ear",
        "Slip, by ear",
        by=(slip_from_ratio, calc.order_heard),
        tolerance=0.01,
        rank="second",
        note="Its own ± is below. Slip is what the load makes it: heard on a free engine it tells "
        "the pulleys' true ratio, and no more.",
    ),
    _share(
        "ear_unsure",
        "Good by ear to ±",
        by=(calc.slip_unsure,),
        tolerance=0.01,
        rank="second",
        note="How well both tones are known, and what slip is held against: the pulleys' "
        "diameters, or the tones without load.",
    ),
    _ratio("ear_ratio", f"Rotor turns for one of the crank, {_PULLING}"),
    _ratio("free_ratio", f"Rotor turns for one of the crank, {_LOOSE}"),
    _turns(
        "ear_engine_speed",
        "Engine speed, by ear",
        by=(calc.crank_speed_heard,),
        uncertainty=10.0,
        note="Hold it against the tachometer: one of the two is wrong where they differ by more "
        "than 2 %.",
    ),
    _turns(
        "ear_rotor_speed", "Rotor speed, by ear", by=(calc.rotor_speed_heard,), uncertainty=20.0
    ),
    Answer(
        "pulleys_unsure",
        "Ratio of the pulleys, by their diameters, good to ±",
        of="percent",
        by=(calc.pulleys_share_unsure,),
        decimals={"pct": 1},
        tolerance=0.001,
        uncertainty=0.1,
        note="All that slip by ear is good to, until the tones are heard without load as well.",
    ),
    _hertz("firing_expected", "Firing to expect", by=(calc.firing_tone,), uncertainty=2.0),
    _hertz(
        "tone_expected",
        "Blower's lowest tone to expect, no slip",
        by=(calc.lobe_tone,),
        uncertainty=5.0,
    ),
    _turns(
        "speed_apart",
        "Tones can be told apart from",
        by=(calc.gap_to_engine, calc.least_speed_apart),
        uncertainty=50.0,
        note="Engine speed, no slip: below, the blower's tone lies within a hertz of a harmonic.",
    ),
)

_order = partial(Working, by=(calc.order_heard,))

WORKINGS: tuple[Working, ...] = (
    Working("order_expected", "Blower tones for one turn of the crank, no slip", sign="q_0"),
    Working("order_lowest", "The same with the most slip listened for"),
    Working("order_highest", "The same with the least slip listened for"),
    Working("firing_order", "Firings for one turn of the crank"),
    _order("ear_order", "Blower tones for one turn of the crank, pulling", sign="q"),
    _order("free_order", "The same without load", sign="q_f"),
    Working(
        "ear_apart",
        "The tone lies from the engine's nearest harmonic at least",
        of="frequency",
        unit="Hz",
        by=(calc.hertz_apart,),
        decimals=1,
    ),
    Working("ear_turned", "Pulley turns for one of the engine, by ear", sign="r_e"),
    Working("ear_sound", "The same without slip, as by ear it is held against", sign="r_s"),
    Working(
        "ear_share",
        "Uncertainty of the ratio heard",
        of="percent",
        unit="pct",
        by=(calc.ratio_share_unsure,),
        decimals=2,
    ),
    Working(
        "sound_share",
        "Uncertainty of the ratio without slip",
        of="percent",
        unit="pct",
        by=(calc.pulleys_share_unsure,),
        decimals=2,
    ),
)
