"""Fuel, mixture and consumption: the one reckoning from air to fuel, and from fuel to power.

Every page that turns air into fuel or fuel into power asks these entries and calls these functions,
so that all of them say the same. Mixture is λ: the fuel's own ratio makes a fuel flow of it, and
the fuel's heat makes power of that.
"""

from __future__ import annotations

from collections.abc import Callable

from calc import fuel as calc
from calc import power
from calc.domain import Real
from site_src.data.fuels import BlendProperties, blend_properties, blends, fuels
from site_src.model.answers import Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.quantities import quantity
from site_src.tables.trace import greatest, least

BLENDS = {key: blend.ethanol for key, blend in blends().items() if key != "ethanol"}
"""Fuels that can be picked by name, and their volume fraction of ethanol."""

GAUGE_RATIO = fuels()["gasoline"].stoichiometric_ratio
"""What a gauge on the gasoline scale shows at λ = 1, whatever fuel is burnt."""


# --- the calculation -------------------------------------------------------------------------


def ethanol_share(e: Entries) -> Real:
    """Return the volume fraction of ethanol in the chosen fuel."""
    return e.pick("fuel", {**BLENDS, "blend": e["ethanol"]})


def chosen_fuel(e: Entries) -> BlendProperties:
    """Return the properties of the chosen fuel."""
    return blend_properties(ethanol_share(e))


def mixture(e: Entries, fuel: BlendProperties) -> dict[str, Real]:
    """Return the mixture as λ and as this fuel's own ratio."""
    shown = calc.excess_air(e["gauge_mixture"], GAUGE_RATIO)
    excess = e.pick("mixture_from", {"lambda": e["lambda"], "gauge": shown})
    return {
        "lambda_used": excess,
        "air_fuel_ratio": calc.air_fuel_ratio(excess, fuel.stoichiometric_ratio),
    }


def consumption(e: Entries, fuel: BlendProperties, excess: Real) -> dict[str, Real]:
    """Return what a unit of work takes of the chosen fuel, at both ends and at the mean power.

    At the good end the mixture is richer than entered by what it may stray, at the poor end leaner.
    """
    gasoline = fuels()["gasoline"].lower_heating_value
    thrifty, thirsty = (
        calc.bsfc_for_fuel(end(e["bsfc_low"], e["bsfc_high"]), gasoline, fuel.lower_heating_value)
        for end in (least, greatest)
    )
    good = power.bsfc_of_stray_mixture(thrifty, excess, -power.LAMBDA_STRAY)
    poor = power.bsfc_of_stray_mixture(thirsty, excess, power.LAMBDA_STRAY)
    return {
        "bsfc_thrifty": thrifty,
        "bsfc_thirsty": thirsty,
        "bsfc_good": good,
        "bsfc_poor": poor,
        "bsfc": power.bsfc_for_mean_power(good, poor),
    }


# --- entries ---------------------------------------------------------------------------------

FUEL_FIELDS = (
    Choice(
        "fuel",
        "Fuel",
        (
            Option("e10", blends()["e10"].name),
            *(Option(key, blends()[key].name) for key in BLENDS if key != "e10"),
            Option("blend", "A blend of my own"),
        ),
        "e10",
        measure="Gasoline from a pump mostly holds 10 % ethanol. E85 holds 51 to 83 % with the "
        "season: measure it, and run the calibration that was made for it.",
    ),
    Number(
        "ethanol",
        "Ethanol by volume",
        Scale("percent", unit="pct", span=(0, 100), default=30, step=5),
        measure="A test tube with water, or the fuel sensor's reading.",
        way_out="Enter ethanol as a share of the whole, 0 to 100 %.",
        when=("fuel", ("blend",)),
    ),
)

_RICH, _LEAN = power.LAMBDA_BAND

MIXTURE_FIELDS = (
    Choice(
        "mixture_from",
        "Mixture at full load",
        (
            Option("lambda", "As λ"),
            Option("gauge", "As a gauge shows it, on the gasoline scale"),
        ),
        "lambda",
        measure="λ is the same for every fuel. A gauge set to gasoline shows 14.7 times λ, on E85 "
        "too.",
    ),
    Number(
        "lambda",
        "λ",
        Scale("ratio", unit="", span=(0.65, 1.05), default=0.8, step=0.01),
        sign="λ_entered",
        measure=f"{_RICH} to {_LEAN} at full load under boost. Common practice. Take the richest "
        "that the calibration asks for: the injectors must carry it. The power's band holds 0.03 "
        "either way.",
        way_out="λ is 1 where no air and no fuel is left over. 11.8 on a gauge is λ 0.80: pick the "
        "gauge's scale above.",
        when=("mixture_from", ("lambda",)),
    ),
    Number(
        "gauge_mixture",
        "Air to fuel on the gauge",
        Scale("ratio", unit="", span=(9.6, 15.4), default=11.8, step=0.1),
        sign="AFR_gauge",
        measure="{:.1f} to {:.1f} at full load under boost. Common practice.".format(
            *power.MIXTURE_BAND
        ),
        way_out="A gauge set to another fuel's scale shows something else, such as 6.5 to 8 for "
        "E85: enter λ instead.",
        when=("mixture_from", ("gauge",)),
    ),
)

_GRAMS = quantity("fuel_use").unit("gkwh")
_THRIFTY, _THIRSTY = (round(_GRAMS.from_si(end)) for end in power.BSFC_BAND)


def _consumption(key: str, label: str, sign: str, usual: int, pounds: str) -> Number:
    """Return the entry of one end of the consumption band."""
    return Number(
        key,
        label,
        Scale("fuel_use", unit="gkwh", span=(200, 550), default=usual, step=5),
        sign=sign,
        measure=f"On gasoline, blower drive included: {usual} is {pounds} lb/hp·h. Common "
        "practice. Other fuels are worked out by their heat.",
        way_out=f"Full load on gasoline takes {_THRIFTY} to {_THIRSTY} g/kWh with a blower to "
        "drive.",
    )


CONSUMPTION_FIELDS = (
    _consumption("bsfc_low", "Fuel consumption, thrifty end", "BSFC_thrifty", _THRIFTY, "0.55"),
    _consumption("bsfc_high", "Fuel consumption, thirsty end", "BSFC_thirsty", _THIRSTY, "0.65"),
)


# --- on the way ------------------------------------------------------------------------------


def on_the_way(
    key: str, label: str, of: str, unit: str, decimals: int, sign: str, *by: Callable[..., Real]
) -> Working:
    """Return a value on the way."""
    return Working(key, label, of=of, unit=unit, decimals=decimals, sign=sign, by=by)


WORKINGS = (
    on_the_way("ethanol_share", "Ethanol by volume", "percent", "pct", 0, "x"),
    on_the_way(
        "ethanol_mass", "Ethanol by mass", "percent", "pct", 1, "m", calc.blend_mass_fraction
    ),
    on_the_way(
        "heat", "Heat of the fuel", "specific_energy", "MJpkg", 2, "H", calc.blend_heating_value
    ),
    *(
        on_the_way(
            f"bsfc_{end}",
            f"Consumption if {end}, this fuel",
            "fuel_use",
            "gkwh",
            0,
            f"b_{end}",
            calc.bsfc_for_fuel,
        )
        for end in ("thrifty", "thirsty")
    ),
    *(
        on_the_way(
            f"bsfc_{end}",
            f"Consumption behind the {estimate} estimate, mixture included",
            "fuel_use",
            "gkwh",
            0,
            f"BSFC_{mixture}",
            power.bsfc_of_stray_mixture,
        )
        for end, estimate, mixture in (("good", "high", "rich"), ("poor", "low", "lean"))
    ),
    on_the_way(
        "bsfc",
        "Consumption at the middle of the power",
        "fuel_use",
        "gkwh",
        0,
        "BSFC",
        power.bsfc_for_mean_power,
    ),
)
