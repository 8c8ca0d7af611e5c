"""Boost by pulley: what it answers, how that is judged, and what it shows on the way."""

from __future__ import annotations

from calc import boost as calc
from calc import power
from site_src.model.answers import Answer, Band, Working

USUAL_BREATHING = 0.95
"""Engine volumetric efficiency that a kit's line is held against, 1. Common practice."""

ODD_BREATHING, NO_BREATHING = 0.13, 0.25
"""How far off that is near the limit (82 and 108 %), and over it, 1. Common practice."""

NEAR_ICE = 5.0
"""Rise of the coolant over the outside air under which it is near what is possible, K."""

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
        note="Good to about [4 kPa|0.6 psi] once calibrated to a stated rating; without, to about "
        "[10|1.5].",
    ),
    Answer(
        "limiter_rotor_speed",
        "Rotors at the rev limiter",
        of="rotation",
        sign="N_max",
        by=(calc.rotor_speed,),
        decimals={"rpm": 0},
        tolerance=0.1,
        uncertainty=50.0,
        band=Band(
            side="max",
            limit="rotor_limit",
            near="rotor_near",
            within="Rotors {value} at the rev limiter, {margin} under their own.",
            near_words="Rotors {value} at the rev limiter, only {margin} under their own limit.",
            beyond="Rotors {value} at the rev limiter, {margin} too fast: fit a larger pulley.",
        ),
        rank="second",
        note="At the rev limiter, or at the engine speed entered if that is higher.",
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
        note="Calibrations take spark away as the charge gets hotter: often from [35 to 45 °C|95 "
        "to 113 °F] on, "
        "most of it by [60 to 65 °C|140 to 149 °F]. Common practice.",
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
        "limiter_speed_for_boost",
        "Rotors with that pulley at the rev limiter",
        of="rotation",
        by=(calc.rotor_speed,),
        decimals={"rpm": 0},
        tolerance=0.2,
        uncertainty=200.0,
        band=Band(
            side="max",
            limit="rotor_limit",
            near="rotor_near",
            within="With that pulley, rotors {value} at the rev limiter, {margin} under their own.",
            near_words="With that pulley, rotors {value} at the rev limiter, only {margin} under "
            "their own limit.",
            beyond="With that pulley, rotors {value} at the rev limiter, {margin} too fast for "
            "this blower.",
        ),
        optional=True,
    ),
    Answer(
        "boost_low",
        "Boost by the lower end of the kit's band",
        of="gauge_pressure",
        by=(calc.gauge_boost,),
        decimals={"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=4.0,
        optional=True,
    ),
    Answer(
        "boost_high",
        "Boost by the upper end of the kit's band",
        of="gauge_pressure",
        by=(calc.gauge_boost,),
        decimals={"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=4.0,
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
        by=(calc.shaft_work,),
        tolerance=0.05,
        uncertainty=8.0,
    ),
    Answer(
        "overall_efficiency",
        "Blower efficiency, overall",
        of="percent",
        sign="η",
        by=(calc.overall_efficiency,),
        decimals={"pct": 0},
        tolerance=0.05,
        uncertainty=4.0,
        note="Ideal power for the air delivered, over the power that it takes. Screw type 62 to "
        "70 %, straight or three-lobe 50 to 60 % at the usual working point, falling again "
        "towards the rotor limit. Common practice. A measured outlet temperature sets it.",
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
    Answer(
        "breathing_off",
        "Engine's breathing, off the usual 95 %",
        of="percent",
        decimals={"pct": 1},
        tolerance=0.01,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit=NO_BREATHING,
            near=ODD_BREATHING,
            within="The engine breathes {value} off the usual 95 %.",
            near_words="The engine would breathe {value} off the usual 95 %: few do. If that comes "
            "from the kit's line, measure the crank pulley again, over the rib tips, not the "
            "flanges.",
            beyond="The engine would breathe {value} off the usual 95 %: no street engine does. "
            "Measure the crank pulley again, over the rib tips, not the flanges.",
        ),
    ),
    Answer(
        "coolant_used",
        "Coolant into the charge cooler",
        of="temperature",
        sign="T_c",
        decimals={"C": 0, "F": 0},
        tolerance=1e-6,
        uncertainty=5.0,
    ),
    Answer(
        "coolant_over_air",
        "Coolant above the outside air",
        of="temperature_difference",
        decimals={"dC": 0, "dF": 0},
        tolerance=1e-6,
        uncertainty=5.0,
        band=Band(
            side="min",
            limit="coolant_least",
            near="coolant_near",
            within="Coolant {value} above the outside air.",
            near_words="Coolant only {value} above the outside air: so on the first pull from "
            "cold, not on the second.",
            beyond="Coolant {value} against the outside air: colder than it takes ice, and ice "
            "lasts minutes. Pick ice if there is some, else enter a rise above the air.",
        ),
    ),
    Answer(
        "kit_power_low",
        "Power that the kit's air makes, low",
        of="power",
        by=(power.brake_power,),
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=25.0,
        optional=True,
    ),
    Answer(
        "kit_power_high",
        "Power that the kit's air makes, high",
        of="power",
        by=(power.brake_power,),
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=25.0,
        optional=True,
    ),
    Answer(
        "kit_power_off",
        "Stated power against that, off the middle",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.02,
        uncertainty=5.0,
        band=Band(
            side="max",
            limit="kit_power_band",
            near="kit_power_band",
            within="The stated power fits the stated boost: {value} off the middle of the band.",
            near_words="",
            beyond="The stated power doesn't fit the stated boost: {value} off, where {limit} is "
            "all that mixture and engine explain. See below which entry is likeliest wrong.",
        ),
        optional=True,
    ),
    Answer(
        "crank_agreeing",
        "Likeliest wrong: the crank pulley. It would agree at",
        of="length",
        by=(calc.drive_ratio_for, calc.share_of_drive_ratio),
        decimals={"mm": 1, "in": 2},
        tolerance=0.02,
        uncertainty=4.0,
        note="Measure it again, over the rib tips, not the flanges. This is the size at which the "
        "engine would breathe the usual 95 %.",
        optional=True,
    ),
    Answer(
        "engine_agreeing",
        "Likeliest wrong: engine displacement or stated boost. It would agree at",
        of="displacement",
        decimals={"L": 2, "ci": 0},
        tolerance=0.002,
        uncertainty=0.3,
        note="The power says that the blower moves as much air as entered. Look at the engine's "
        "displacement, and whether the stated boost belongs to that speed and to the manifold.",
        optional=True,
    ),
    Answer(
        "power_agreeing",
        "Likeliest wrong: the stated power. It would agree at",
        of="power",
        decimals={"kW": 0, "hp": 0},
        tolerance=0.05,
        uncertainty=25.0,
        note="Pulleys, displacements and boost fit each other. Look whether the power is from the "
        "crankshaft or the wheels, from that speed, and on gasoline.",
        optional=True,
    ),
)


def _pressure(key: str, label: str, sign: str) -> Working:
    """Return a pressure on the way."""
    return Working(key, label, sign=sign, of="absolute_pressure", unit="kPa", decimals=1)


def _drive(key: str, what: str, mark: str) -> tuple[Working, ...]:
    """Return the workings of a drive ratio that is looked for; `mark` sets their signs apart."""
    return (
        Working(f"{key}_tight", f"Delivery without leakage, {what}", sign=f"D₀{mark}"),
        Working(f"{key}_lost", f"Delivery lost at leakage ratio 1, {what}", sign=f"D_λ{mark}"),
        Working(
            f"{key}_sweep",
            f"Swept ratio for a drive ratio of 1, {what}",
            sign=f"X₁{mark}",
            by=_SWEPT,
        ),
        Working(
            f"{key}_leak",
            f"Leakage over rotor speed for a drive ratio of 1, {what}",
            sign=f"λ₁{mark}",
        ),
        Working(
            f"{key}_full",
            f"Drive ratio without loss with speed, {what}",
            sign=f"r₀{mark}",
            by=(calc.drive_ratio_for,),
        ),
        Working(
            f"{key}_loss",
            f"Loss with speed for a drive ratio of 1, {what}",
            sign=f"w_k{mark}",
            by=_LOSS,
        ),
        Working(f"{key}_extra", f"Delivery that loss with speed adds, {what}", sign=f"q{mark}"),
        Working(f"{key}_ratio", f"Drive ratio {what}", sign=f"r_w{mark}"),
    )


_SWEPT, _LOSS = (calc.swept_ratio,), (calc.speed_loss,)
_FACTOR = (calc.speed_loss_coefficient,)

_LOSSES = (
    Working("stated_work", "Shaft work by the stated efficiency"),
    Working("stated_lost", "Of that lost with speed, stated"),
    Working("stated_factor", "Loss with speed by the stated efficiency", by=_FACTOR),
    Working("measured_speed", "Rotor speed then", of="rotation", unit="rpm", decimals=0),
    _pressure("measured_ambient", "Outside air pressure then", ""),
    Working("measured_pressure_ratio", "Pressure ratio then"),
    Working(
        "measured_work", "Shaft work by the outlet temperature", by=(calc.shaft_work_from_outlet,)
    ),
    Working("measured_lost", "Of that lost with speed, measured"),
    Working("measured_factor", "Loss with speed by the outlet temperature", by=_FACTOR),
)


def _boost_of(end: str, which: str) -> Working:
    """Return a stated boost."""
    return Working(f"rating_{end}", which, of="gauge_pressure", unit="kPa", decimals=1)


def _breathes(end: str, which: str) -> tuple[Working, ...]:
    """Return how the engine breathes by one end of the kit's band."""
    return (
        Working(f"{end}_pressure_ratio", f"Pressure ratio at the {which}", sign=f"PR′_{end}"),
        Working(f"{end}_delivery", f"Delivery at the {which}"),
        Working(
            f"{end}_breathing",
            f"Engine efficiency that the {which} asks for",
            sign=f"η_e′_{end}",
            of="percent",
            unit="pct",
            decimals=1,
            by=(calc.engine_efficiency_from_rating,),
        ),
    )


_RATING = (
    _pressure("rating_ambient", "Outside air of the stated boost", "p₀′"),
    _pressure("rating_inlet", "Blower inlet at the stated boost", "p₁′"),
    Working("rating_ratio", "Drive ratio at the stated boost", by=(calc.drive_ratio,)),
    Working(
        "rating_speed",
        "Rotor speed at the stated boost",
        sign="N′",
        of="rotation",
        unit="rpm",
        decimals=0,
    ),
    Working("rating_leak", "Leakage over rotor speed at the stated boost", sign="λ′"),
    Working("rating_idle", "Work without boost at the stated boost", sign="w_N′", by=_LOSS),
    Working("rating_swept", "Swept ratio at the stated boost", sign="X′", by=_SWEPT),
    Working(
        "rating_coolant_ratio", "Coolant over intake air of the stated boost, absolute", sign="c′"
    ),
    _boost_of("low", "Lower end of the stated boost"),
    _boost_of("middle", "Middle of the stated boost"),
    _boost_of("high", "Upper end of the stated boost"),
    *_breathes("low", "lower end"),
    *_breathes("middle", "middle"),
    *_breathes("high", "upper end"),
    Working(
        "rating_efficiency",
        "Engine efficiency from the stated boost",
        of="percent",
        unit="pct",
        decimals=1,
    ),
    Working("low_root", "Root of the pressure rise by the lower end"),
    Working("high_root", "Root of the pressure rise by the upper end"),
)


def _power(key: str, label: str) -> Working:
    """Return a power on the way."""
    return Working(key, label, of="power", unit="kW", decimals=0)


_KIT_POWER = (
    Working("rating_air", "Air flow at the stated boost", of="mass_flow", unit="gps", decimals=0),
    _power("power_there_low", "Power of that air, low"),
    _power("power_there_high", "Power of that air, high"),
    _power("power_there", "Power of that air, middle"),
    _power("stated_at_crank", "Stated power at the crankshaft"),
    Working("power_there_off", "Stated power off that of its air, share"),
    Working("kit_power_band", "Half the band of that power, share"),
    Working("breathing_odd", "Engine efficiency of the kit's line off 0.95"),
    _power("power_under", "Stated power under the band"),
    _power("power_over", "Stated power over the band"),
    _power("power_same_way", "Stated power off the way that the crank pulley would put it"),
    *_drive("kit", "for the kit's line at 95 %", "′"),
    Working(
        "crank_by_boost",
        "Crank pulley with which the kit's line gives 95 %",
        of="length",
        unit="mm",
        decimals=1,
    ),
    Working("likely_crank", "Crank pulley, where it is amiss", of="length", unit="mm", decimals=1),
    Working(
        "likely_engine",
        "Engine displacement, where it is amiss",
        of="displacement",
        unit="L",
        decimals=2,
    ),
    _power("likely_power", "Power, where it is amiss"),
)

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
    Working("effectiveness_used", "Charge-cooler effectiveness used", sign="ε"),
    Working("idle", "Work without boost, over γ/(γ−1)·p₁V₁", sign="w₀"),
    Working("rotor_size", "Square of the rotors' size, V_b^⅔", sign="l²"),
    Working("speed_loss_factor", "Loss with speed, over (rotor speed × size)²", sign="k"),
    Working("idle_total", "Work without boost, with the loss at this speed", sign="w_N"),
    Working("slope", "Work for each unit of pressure ratio", sign="w₁"),
    Working("balance_root", "Root of the pressure rise at the balance"),
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
    *_LOSSES,
    *_RATING,
    *_KIT_POWER,
    Working("want_pressure_ratio", "Pressure ratio for the wanted boost", sign="PR_w"),
    *_drive("want", "for the wanted boost", ""),
)
