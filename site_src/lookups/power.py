"""Power: what an engine makes of its air, what the weather does to it, and the way back to boost.

Almost everything here is a product of what was entered: air from boost by the gas law, fuel from
air by the mixture, power from fuel at both ends of a band. Curved are only one
standard's weather factor and the vapour in humid air.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import atmosphere
from calc import fuel as fuel_calc
from calc import power as calc
from calc.domain import Real
from site_src.lookups import air, boost, mixture
from site_src.model.answers import Answer, Band, ChartView, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Number, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated, within

MOST_AIR, MOST_POWER, MOST_BOOST = 2.0, 1.6e6, 250e3
"""Air flow, kg/s, power, W, and boost, Pa, past which no engine is that this page is for."""

WEATHER_PRESSURE = (60e3, 110e3)
"""Pressures of the dry air for which the weather factors are worked out, Pa."""

WEATHER_TEMPERATURE = (263.15, 323.15)
"""Intake air for which the weather factors are worked out, K."""

HAIR = 1e-5
"""Ten times what the table of the outside air can be off by, as a share of its pressure."""

FACTOR_HAIR = 1e-4
"""The weather factors' error is far below this share of the factors that rate."""

_TOO_MUCH_AIR = (
    "This works out at over [2,000 g/s|265 lb/min] of air, past any engine that this page is for. "
    "Check displacement, speed and boost."
)
_TOO_MUCH_POWER = (
    "This works out at over [1,600 kW|2,146 hp], past any engine that this page is for. "
    "Check air flow, mixture and fuel consumption, and their units."
)
_NO_BLOWER = "No boost needed: the engine makes that power without a blower."
_TOO_MUCH_BOOST = (
    "That power takes over [250 kPa|36 psi] of boost at this speed, more than a blower of this "
    "kind "
    "makes. More engine speed, more displacement or a cooler charge would do it."
)
_TOO_THIN = (
    "Weather correction stops at a dry-air pressure of [60 kPa, some 4,200 m|17.7 inHg, some "
    "13,800 ft] up."
)
_TOO_THICK = (
    "Weather correction stops at a dry-air pressure of [110 kPa|32.5 inHg]. Check the barometer."
)
_TOO_COLD = "Weather correction covers intake air from [−10 °C|14 °F]; this is colder."
_TOO_HOT = "Weather correction covers intake air up to [50 °C|122 °F]; this is hotter."
_FAR_TEST = (
    "No rating from this air: the standards want [15 to 35 °C|59 to 95 °F] at the intake. The "
    "factor still "
    "serves to compare runs."
)
_FAR_AIR = (
    "No rating from this air: the standards stop at factors from 0.93 to 1.07. The factor still "
    "serves to compare runs."
)


# --- tables ----------------------------------------------------------------------------------


_TEMPERATURE = ("temperature", "intake air temperature", *WEATHER_TEMPERATURE)

SATURATION = tabulated(
    "saturation_pressure",
    atmosphere.saturation_pressure,
    cubic(*_TEMPERATURE, kinks=(273.16,)),
    tolerance=0.01,
    monotone=True,
)
ISO1585 = tabulated(
    "iso1585_factor",
    calc.iso1585_factor,
    cubic("dry_pressure", "pressure of the dry air", *WEATHER_PRESSURE),
    cubic(*_TEMPERATURE),
    tolerance=1e-6,
    numbers="f4",
)
# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out power from boost or air, boost from power, and what weather and height change."""
    found = {"ambient": air.ambient(e)}
    found["manifold"] = found["ambient"] + e["boost"]
    found |= _power(e, found)
    found |= _wanted(e, found)
    found |= _weather(e, found)
    found |= _elsewhere(e, found)
    ratio = found["manifold"] / found["ambient"]
    warmer = e["charge_temperature"] / e["intake_temperature"]
    density = calc.charge_density_ratio(ratio, warmer)
    return found | {"pressure_ratio": ratio, "charge_density": density}


def _engine(e: Entries) -> tuple[Real, Real, Real, Real]:
    """Return what both directions of the gas law need of the engine."""
    engine = e["engine_displacement"], e["engine_speed"], e["engine_efficiency"]
    return e["charge_temperature"], *engine


def _power(e: Entries, found: Mapping[str, Real]) -> dict[str, Real]:
    """Work out fuel from air, and power at both ends of the band."""
    fuel = mixture.chosen_fuel(e)
    burnt = mixture.mixture(e, fuel)
    burnt |= mixture.consumption(e, fuel, burnt["lambda_used"])
    ratio = burnt["air_fuel_ratio"]
    by_gas_law = calc.engine_air_flow(found["manifold"], *_engine(e))
    by_gas_law = within(by_gas_law, None, MOST_AIR, above=_TOO_MUCH_AIR, hair=HAIR)
    used = e.entered_or("air_flow", by_gas_law)
    most = calc.brake_power(used, ratio, burnt["bsfc_good"])
    low, high, power = (
        within(most, None, MOST_POWER, above=_TOO_MUCH_POWER, hair=HAIR, gives=power)
        for power in (
            calc.brake_power(used, ratio, burnt["bsfc_poor"]),
            most,
            calc.brake_power(used, ratio, burnt["bsfc"]),
        )
    )
    return burnt | {
        "ethanol_share": mixture.ethanol_share(e),
        "ethanol_mass": fuel.ethanol_mass,
        "heat": fuel.lower_heating_value,
        "stoichiometric_ratio": fuel.stoichiometric_ratio,
        "engine_air": by_gas_law,
        "air_flow_used": used,
        "fuel_burnt": fuel_calc.fuel_flow_for_air(used, ratio),
        "heat_used": calc.brake_efficiency(burnt["bsfc"], fuel.lower_heating_value),
        "power_low": low,
        "power_high": high,
        "power": power,
        "torque": calc.torque_from_power(power, e["engine_speed"]),
    }


def _wanted(e: Entries, found: Mapping[str, Real]) -> dict[str, Real]:
    """Work out air and boost for the wanted power."""
    wanted = e["wanted_power"]
    middle, sure = (
        calc.air_flow_for_power(wanted, found["air_fuel_ratio"], found[consumption])
        for consumption in ("bsfc", "bsfc_poor")
    )
    pressure, sure_pressure = (
        calc.manifold_pressure_for_air_flow(flow, *_engine(e)) for flow in (middle, sure)
    )
    return {
        "air_for_power_sure": sure,
        "air_for_power": middle,
        "manifold_for_power": pressure,
        "manifold_for_power_sure": sure_pressure,
        "boost_for_power": _boost_needed(pressure - found["ambient"]),
        "boost_for_power_sure": _boost_needed(sure_pressure - found["ambient"]),
        "wanted_near": wanted * found["power"] / found["power_low"],
    }


def _boost_needed(boost: Real) -> Real:
    """Return a boost that was asked for, if a blower has to and can make it."""
    return within(boost, 0.0, MOST_BOOST, below=_NO_BLOWER, above=_TOO_MUCH_BOOST, hair=HAIR)


def _weather(e: Entries, found: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the standards' factors and the powers rated by them."""
    temperature = within(
        e["intake_temperature"], *WEATHER_TEMPERATURE, below=_TOO_COLD, above=_TOO_HOT
    )
    saturation = SATURATION(temperature)
    dry = atmosphere.dry_air_pressure(found["ambient"], saturation, e["humidity"])
    dry = within(dry, *WEATHER_PRESSURE, below=_TOO_THIN, above=_TOO_THICK, hair=HAIR)
    j1349, iso1585 = calc.j1349_factor(dry, temperature), ISO1585(dry, temperature)
    to_rate = e.entered_or("measured_power", found["power"])
    return {
        "saturation": saturation,
        "dry_pressure": dry,
        "j1349_factor": j1349,
        "iso1585_factor": iso1585,
        "power_to_rate": to_rate,
        "power_j1349": calc.corrected_power(to_rate, _rating(temperature, j1349)),
        "power_iso1585": calc.corrected_power(to_rate, _rating(temperature, iso1585)),
    }


def _rating(temperature: Real, factor: Real) -> Real:
    """Return a weather factor where the standards let it rate an engine."""
    low, high = calc.FACTOR_LIMITS
    factor = within(factor, low, high, below=_FAR_AIR, above=_FAR_AIR, hair=FACTOR_HAIR)
    low, high = calc.TEST_TEMPERATURE_LIMITS
    return within(temperature, low, high, below=_FAR_TEST, above=_FAR_TEST, gives=factor)


def _elsewhere(e: Entries, found: Mapping[str, Real]) -> dict[str, Real]:
    """Work out power and boost at another altitude with the same pulley."""
    there = air.STANDARD_PRESSURE(e["other_altitude"])
    share = there / found["ambient"]
    return {
        "other_air": there,
        "power_elsewhere": found["power"] * share,
        "boost_elsewhere": e["boost"] * share,
    }


# --- the page --------------------------------------------------------------------------------

CHASSIS = (
    "The truck must carry the power too. Have axle and gears, propshaft and joints, gearbox and "
    "clutch, brakes, and the tyres' load and speed rating judged before the boost goes up, and ask "
    "whether licence, insurance and emissions rules allow it: local law decides."
)
"""What anyone who plans power is told."""

FIELDS = (
    Number(
        "boost",
        "Boost",
        Scale("gauge_pressure", unit="kPa", span=(0, 200), default=82, step=1),
        measure="Gauge at the manifold, full throttle at this speed, or the boost page.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        first=True,
    ),
    replace(boost.LOOKUP.numbers["engine_speed"], sign="n"),
    Number(
        "wanted_power",
        "Wanted power, to find its boost",
        Scale("power", unit="kW", span=(20, 1200), default=None, step=10),
        sign="P_wanted",
        measure="At the crankshaft. Leave empty if you only want to know what there is.",
        way_out="Enter power at the crankshaft, and look at the unit.",
        first=True,
    ),
    Number(
        "air_flow",
        "Air flow, if you know it",
        Scale("mass_flow", unit="gps", span=(20, 1500), default=None, step=5),
        sign="ṁ_entered",
        measure="From the boost page or an air meter. Left empty, it is worked out from boost, "
        "charge temperature and displacement; filled in, it overrules them.",
        way_out="Leave it empty to work it out from boost.",
    ),
    Number(
        "charge_temperature",
        "Charge temperature",
        Scale("temperature", unit="C", span=(-10, 150), default=59, step=5),
        sign="T_m",
        measure="In the manifold, after the charge cooler, at the end of a pull.",
        way_out="Over [150 °C|302 °F] the sensor or the charge cooler is at fault.",
    ),
    boost.LOOKUP.numbers["engine_displacement"],
    replace(
        boost.LOOKUP.numbers["engine_efficiency"],
        sign="η_e",
        way_out="The boost page finds it from a kit's stated pulley and boost.",
        when=None,
    ),
    *mixture.FUEL_FIELDS,
    *mixture.MIXTURE_FIELDS,
    *mixture.CONSUMPTION_FIELDS,
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
    Number(
        "humidity",
        "Relative humidity",
        Scale("percent", unit="pct", span=(0, 100), default=40, step=5),
        measure="Weather report, or a hygrometer in the dyno cell.",
        way_out="Enter 0 to 100 %.",
    ),
    Number(
        "measured_power",
        "Power measured on a dyno",
        Scale("power", unit="kW", span=(10, 1500), default=None, step=5),
        measure="At the crankshaft, uncorrected. Left empty, the estimate is corrected instead.",
        way_out="Enter the uncorrected power, and look at the unit.",
    ),
    Number(
        "other_altitude",
        "Another altitude, to compare",
        Scale("altitude", unit="m", span=(air.LOWEST, air.HIGHEST), default=1500, step=100),
        measure="Where the truck will be driven, or where the dyno stands.",
        way_out="This page compares altitudes from [−300 to 4,500 m|−984 to 14,700 ft].",
    ),
)

_POWER = Answer(
    "power",
    "Power, middle of the estimate",
    of="power",
    decimals={"kW": 0, "hp": 0},
    tolerance=0.05,
    uncertainty=40.0,
    sign="P",
    rank="main",
    note="At the crankshaft, blower drive already paid for. A dyno decides.",
    band=Band(
        side="min",
        limit="wanted_power",
        near="wanted_near",
        within="{value}, {margin} over the wanted {limit}: even the low estimate makes it.",
        near_words="{value}, {margin} over the wanted {limit}, but the low estimate falls short.",
        beyond="{value}, {margin} short of the wanted {limit}: see the boost that it takes.",
    ),
)


def _end(key: str, label: str, sign: str) -> Answer:
    """Return the answer that gives the power at one end of the band."""
    return replace(
        _POWER,
        key=key,
        label=label,
        sign=sign,
        uncertainty=20.0,
        rank="second",
        note="",
        band=None,
        by=(calc.brake_power,),
    )


def _rated(key: str, standard: str, note: str) -> Answer:
    """Return the answer that gives the power as a standard rates it."""
    return replace(
        _POWER,
        key=key,
        label=f"Power rated to {standard}",
        sign="",
        uncertainty=5.0,
        rank="more",
        note=note,
        band=None,
        by=(calc.corrected_power,),
    )


def _boost(key: str, label: str, uncertainty: float, rank: str = "more", note: str = "") -> Answer:
    """Return an answer that is a boost at the manifold."""
    return Answer(
        key,
        label,
        of="gauge_pressure",
        decimals={"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=uncertainty,
        rank=rank,
        note=note,
    )


def _air(key: str, label: str, uncertainty: float, sign: str = "") -> Answer:
    """Return an answer that is an air flow."""
    return Answer(
        key,
        label,
        of="mass_flow",
        decimals={"gps": 0, "lbmin": 1, "kgh": 0},
        tolerance=0.05,
        uncertainty=uncertainty,
        sign=sign,
    )


def _factor(key: str, standard: str, sign: str) -> Answer:
    """Return the answer that gives a standard's weather factor."""
    return Answer(
        key,
        f"Weather factor, {standard}",
        decimals={"": 3},
        tolerance=1e-5,
        uncertainty=0.005,
        sign=sign,
    )


ANSWERS = (
    _POWER,
    _end("power_low", "Low estimate", "P_low"),
    _end("power_high", "High estimate", "P_high"),
    replace(
        _boost(
            "boost_for_power",
            "Boost for the wanted power",
            12.0,
            "second",
            "At the charge temperature entered: more boost makes a hotter charge. Take it to "
            "the boost page as wanted boost, for its pulley.",
        ),
        optional=True,
    ),
    replace(
        _boost("boost_for_power_sure", "Boost for it even by the low estimate", 12.0), optional=True
    ),
    replace(
        _air("air_for_power", "Air flow for the wanted power", 40.0, "ṁ_wanted"),
        optional=True,
        by=(calc.air_flow_for_power,),
    ),
    Answer(
        "torque",
        "Torque at this speed",
        of="torque",
        decimals={"Nm": 0, "lbft": 0},
        tolerance=0.1,
        uncertainty=60.0,
        by=(calc.torque_from_power,),
    ),
    _air("air_flow_used", "Air flow", 25.0, "ṁ"),
    Answer(
        "fuel_burnt",
        "Fuel flow",
        of="fuel_flow",
        decimals={"kgh": 0, "lbh": 0, "gps": 1},
        tolerance=0.01,
        uncertainty=8.0,
        sign="ṁ_fuel",
        note="What the fuel page works with as well. See there whether injectors and pump keep up.",
        by=(fuel_calc.fuel_flow_for_air,),
    ),
    Answer(
        "lambda_used",
        "Mixture, λ",
        decimals={"": 2},
        tolerance=1e-6,
        uncertainty=0.02,
        sign="λ",
        by=(fuel_calc.excess_air,),
        band=Band(
            side="max",
            limit=calc.LAMBDA_LIMIT,
            near=calc.LAMBDA_NEAR,
            within="λ {value} at full load: rich enough under boost.",
            near_words="λ {value} at full load: nearly too lean under boost. Ask the calibrator.",
            beyond="λ {value} at full load is too lean under boost: it melts pistons. The power "
            "that it works out is none that you can have.",
        ),
    ),
    Answer(
        "air_fuel_ratio",
        "Air to fuel by mass, this fuel",
        decimals={"": 2},
        tolerance=1e-4,
        uncertainty=0.3,
        sign="AFR",
        note="On the fuel's own scale. A gauge set to gasoline shows 14.7 times λ instead.",
        by=(fuel_calc.air_fuel_ratio,),
    ),
    Answer(
        "heat_used",
        "Share of the fuel's heat that becomes work",
        of="percent",
        decimals={"pct": 0},
        tolerance=0.001,
        uncertainty=3.0,
        note="At the middle of the estimate. The best engines without a blower reach some 30 %.",
        by=(calc.brake_efficiency,),
    ),
    _rated(
        "power_j1349",
        "SAE J1349",
        "For a power quoted as SAE net; ISO 1585 is for one declared to ISO or UN R85.",
    ),
    _rated(
        "power_iso1585",
        "ISO 1585",
        "For a power declared to ISO or UN R85; SAE J1349 is for one quoted as SAE net. Neither, "
        "if the engine holds its boost against the weather.",
    ),
    replace(_factor("j1349_factor", "SAE J1349", "f_SAE"), by=(calc.j1349_factor,)),
    _factor("iso1585_factor", "ISO 1585", "f_ISO"),
    Answer(
        "dry_pressure",
        "Pressure of the dry air",
        of="absolute_pressure",
        decimals={"kPa": 2, "inHg": 2, "mbar": 0},
        tolerance=0.001,
        uncertainty=0.05,
        sign="p_dry",
        by=(atmosphere.dry_air_pressure,),
    ),
    replace(
        _POWER,
        key="power_elsewhere",
        label="Power at the other altitude",
        sign="",
        rank="more",
        note="Same pulley, speed and air temperature: a blower multiplies what air there is.",
        band=None,
    ),
    replace(_boost("boost_elsewhere", "Boost at the other altitude", 4.0), tolerance=0.02),
    Answer(
        "charge_density",
        "Charge density over outside air",
        decimals={"": 2},
        tolerance=1e-4,
        uncertainty=0.03,
        note="What power follows, first of all.",
        by=(calc.charge_density_ratio,),
    ),
)


def _pressure(key: str, label: str, decimals: int = 1, sign: str = "") -> Working:
    """Return an absolute pressure on the way."""
    return Working(key, label, of="absolute_pressure", unit="kPa", decimals=decimals, sign=sign)


def _flow(key: str, label: str) -> Working:
    """Return an air flow on the way."""
    return Working(key, label, of="mass_flow", unit="gps", decimals=0)


_ENGINE = (calc.manifold_pressure_for_air_flow,)

LOOKUP = Lookup(
    key="power",
    title="Power from air",
    short="Power",
    question="What power will it make, and what boost does a wanted power take?",
    stage="plan",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        _pressure("ambient", "Outside air"),
        _pressure("manifold", "Manifold pressure", sign="p_m"),
        Working("pressure_ratio", "Manifold over outside air"),
        replace(_flow("engine_air", "Air by the gas law"), by=(calc.engine_air_flow,)),
        *mixture.WORKINGS,
        mixture.on_the_way(
            "stoichiometric_ratio",
            "Air to fuel with none left over",
            "ratio",
            "",
            2,
            "AFR_λ=1",
            fuel_calc.blend_stoichiometric_ratio,
        ),
        Working("power_to_rate", "Power that is corrected", of="power", unit="kW", decimals=0),
        _pressure("saturation", "Saturation pressure", 2),
        _pressure("other_air", "Outside air at the other altitude"),
        _flow("air_for_power_sure", "Air for the wanted power by the low estimate"),
        _pressure("manifold_for_power", "Manifold for the wanted power", 3),
        _pressure("manifold_for_power_sure", "The same by the low estimate", 3),
    ),
    views=Views(
        charts=(
            ChartView(
                "Power by boost and engine speed",
                "power",
                "boost",
                (0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0),
                "engine_speed",
                (3000.0, 4000.0, 5000.0, 6000.0, 7000.0),
            ),
            ChartView(
                "By fuel, at the same λ",
                "power",
                "fuel",
                ("e10", "gasoline", "e85"),
                also=("power_low", "power_high", "fuel_burnt", "air_fuel_ratio"),
            ),
        ),
        curves=(
            CurveView(
                "Power against altitude, same pulley",
                "power_elsewhere",
                "other_altitude",
                tuple(250.0 * n for n in range(19)),
            ),
        ),
    ),
    cautions=(
        "No spark advice here: timing belongs to the calibrator, on a dyno, with knock sensors "
        "connected and listening.",
        "More boost, more compression or a hotter charge asks for more octane. Knock breaks "
        "pistons in seconds: run the fuel that the calibration was made for, and lift at the "
        "first sound of it.",
        "A dyno run is done with the truck strapped down, nobody in line with the wheels or the "
        "belt, and a fire extinguisher in reach.",
        CHASSIS,
    ),
    sources=(
        "Power from air: Heywood, Internal Combustion Engine Fundamentals, ch. 2, definitions of "
        "air-fuel ratio, specific fuel consumption and volumetric efficiency.",
        "λ 0.77 to 0.83, lean from 0.85 on, and 335 to 395 g/kWh on gasoline at full load: common "
        "practice.",
        "Fuels: US Department of Energy, properties of fuels; E85: its Alternative Fuels Data "
        "Center, after ASTM D5798. Same brake efficiency on every fuel.",
        "SAE J1349 (June 1990) and ISO 1585, as commonly restated; limits of the factor and of "
        "the intake air from memory.",
        "No second correction where the control holds boost: UN Regulation No. 85.",
        "Outside air from altitude: ISO 2533. Saturation pressure: IAPWS SR1-86.",
    ),
    leaves_out=(
        "Losses between crankshaft and wheels.",
        "Alcohols often turn a few per cent more of their heat into work than gasoline does.",
        "A mixture far from the usual: the consumption belongs to λ 0.77 to 0.83.",
        "Fuel that cools the charge as it evaporates, and exhaust left in the cylinder.",
        "How volumetric efficiency changes with speed: enter it for the speed you ask about.",
    ),
)
