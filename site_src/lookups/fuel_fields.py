"""What the fuel page asks: power or fuel, injectors, rail, pump and line."""

from __future__ import annotations

from dataclasses import replace

from calc import fuel as calc
from site_src.data.fuels import fuels
from site_src.data.hoses import INCH, dash_sizes
from site_src.lookups import mixture, power, wire_fields
from site_src.model.fields import SIXTEENTHS, Choice, Inch, Number, Option, Scale
from site_src.model.quantities import quantity
from site_src.model.said import both

TEST_DENSITY = 684.0
"""n-heptane at 20 °C, kg/m³: the liquid that injectors are rated on. SAE J1832."""

GASOLINE_DENSITY = fuels()["gasoline"].density
"""Pump gasoline, kg/m³: the other liquid that injector sheets go by."""


def _both_densities(density: float) -> str:
    """Write a density, kg/m³, for either shop."""
    gallon = quantity("density").unit("lbgal").from_si(density)
    return both(f"{density:g} kg/m³", f"{gallon:.2f} lb/US gal")


def inside(bore: float) -> str:
    """Write a bore, m, for either shop."""
    return both(f"{1e3 * bore:.1f} mm", f"{bore / INCH:.2f} in")


_FEED_DASHES = (4, 6, 8, 10, 12)

COUNTS = {str(n): float(n) for n in (4, 6, 8, 10, 12, 16)}
DASHES = {
    str(size.number): size.bore for size in dash_sizes("wire_braid") if size.number in _FEED_DASHES
}
"""Dash sizes of feed lines and the bores that they really have, m."""

PUMPS = {"1": 1.0, "2": 2.0, "3": 3.0}

SIZES = (450.0, 550.0, 650.0, 750.0, 850.0, 1000.0, 1200.0)
"""Injectors that the steppers and charts walk, cm³/min; invented."""

_BY_VOLUME = ("injector_rated", ("volume",))
_BY_MASS = ("injector_rated", ("mass",))
_CURVE_PRESSURE = Scale("gauge_pressure", unit="kPa", span=(0, 800), default=300, step=10)


def _point(number: int, which: str, pressure: Scale, flow: float) -> tuple[Number, Number]:
    """Return the entries of one of the two points of the pump's curve."""
    measure = "Two points of the maker's curve, both at the rated voltage, one pump alone."
    return (
        Number(
            f"pump_pressure_{number}",
            f"Pump, {which} point: pressure",
            pressure,
            measure=measure,
            way_out="Take two points that lie on both sides of the pressure the pump works at.",
            sign=f"p_{number}",
        ),
        Number(
            f"pump_flow_{number}",
            f"Pump, {which} point: flow",
            Scale("volume_flow", unit="lph", span=(50, 1000), default=flow, step=5),
            measure=measure,
            way_out="Enter one pump alone, and look at the unit.",
            example=f"Enter your pump's flow at the {which} point.",
            sign=f"Q_{number}",
        ),
    )


FIELDS = (
    Number(
        "power",
        "Power",
        Scale("power", unit="kW", span=(20, 1200), default=434, step=10),
        sign="P",
        measure="At the crankshaft, blower drive already paid for; from the power page.",
        way_out="Enter power at the crankshaft, and look at the unit.",
        first=True,
    ),
    Number(
        "injector_flow",
        "Injector size on its sheet",
        Scale("volume_flow", unit="ccmin", span=(100, 3000), default=750, step=10, stock=SIZES),
        sign="Q_sheet",
        measure="Static flow of one injector.",
        way_out="Enter one injector, wide open, in the unit of its sheet.",
        example="Enter your injector's size.",
        first=True,
        when=_BY_VOLUME,
    ),
    Number(
        "injector_mass",
        "Injector size on its sheet",
        Scale("fuel_flow", unit="kgh", span=(5, 140), default=31, step=1),
        sign="ṁ_sheet",
        measure="Static flow of one injector.",
        way_out="Enter one injector, wide open, in the unit of its sheet.",
        example="Enter your injector's size.",
        first=True,
        when=_BY_MASS,
    ),
    replace(power.LOOKUP.numbers["boost"], measure="Gauge at the manifold, or the boost page."),
    replace(mixture.FUEL_FIELDS[0], first=True),
    replace(mixture.FUEL_FIELDS[1], first=True),
    Choice(
        "injectors",
        "Injectors",
        (
            *(Option(key, key) for key in COUNTS if key != "16"),
            Option("16", "16, two for each of eight"),
        ),
        "8",
    ),
    Choice(
        "injector_rated",
        "Injector sheet gives",
        (Option("volume", "Volume, as [cm³/min|cc/min]"), Option("mass", "Mass, as lb/h or kg/h")),
        "volume",
    ),
    Number(
        "rated_pressure",
        "Pressure on the injector sheet",
        Scale(
            "gauge_pressure",
            unit="kPa",
            span=(200, 600),
            default=300,
            step=10,
            stock=(270.0, 300.0, 400.0),
            inch=Inch(stock=(39.0, 43.5, 58.0)),
        ),
        sign="p_sheet",
        measure="Across the injector: mostly 270, 300 or 400 kPa, that is 39, 43.5 or 58 psi. At "
        "[400|58] the same injector flows 15 % more than at [300|43.5].",
        way_out="Enter the pressure that the stated flow was measured at.",
    ),
    Choice(
        "sheet_liquid",
        "Liquid of the injector sheet",
        (
            Option("test", "Test liquid, n-heptane: [684 kg/m³|5.71 lb/US gal]"),
            Option("gasoline", f"Gasoline: {_both_densities(GASOLINE_DENSITY)}"),
            Option("other", "Another: its density"),
        ),
        "test",
        measure="Sheets in cm³/min are mostly for the test liquid. Where a sheet in lb/h or kg/h "
        "doesn't say, take gasoline: the injector may be 4 % smaller than you hope.",
    ),
    Number(
        "test_density",
        "Density of the sheet's liquid",
        Scale("density", unit="kgm3", span=(600, 900), default=TEST_DENSITY, step=1),
        sign="ρ_other",
        measure="As the sheet states it.",
        way_out="Pick the test liquid unless the sheet names another.",
        when=("sheet_liquid", ("other",)),
    ),
    Choice(
        "rail",
        "Regulator",
        (
            Option("referenced", "Hose to the manifold: rail follows boost"),
            Option("fixed", "No hose: rail pressure stays"),
        ),
        "referenced",
        measure="On a fixed rail boost takes away from the pressure across the injectors.",
    ),
    Number(
        "rail_pressure",
        "Rail pressure, hose off",
        Scale("gauge_pressure", unit="kPa", span=(200, 800), default=300, step=10),
        sign="p_rail",
        measure="Gauge on the rail, key on, engine off.",
        way_out="Port injection runs at [250 to 500 kPa|37 to 72 psi]; direct injection is not "
        "covered here.",
    ),
    replace(
        power.LOOKUP.numbers["engine_speed"],
        measure="Where the power is made.",
        way_out="Enter crankshaft speed.",
        first=False,
    ),
    Number(
        "dead_time",
        "Injector dead time",
        Scale("time", unit="ms", span=(0, 3), default=0.9, step=0.1),
        measure="Also called offset or latency. In the injector maker's table of dead time over "
        "battery voltage and pressure, or in the calibration that is loaded: take it at 13 to 14 V "
        "and your rail pressure. 0.7 to 1.2 is usual. Common practice.",
        way_out="Over 3 ms the voltage is too low.",
    ),
    Number(
        "duty_limit",
        "Highest duty",
        Scale("percent", unit="pct", span=(60, 95), default=100 * calc.DUTY_LIMIT, step=1),
        measure="85: above it an injector may no longer close. Common practice.",
        way_out="60 to 95 %; the injector's maker knows best.",
    ),
    *mixture.CONSUMPTION_FIELDS,
    Number(
        "air_flow",
        "Air flow, if you know it",
        replace(power.LOOKUP.numbers["air_flow"].scale),
        sign="ṁ_air",
        measure="From the boost page or an air meter. Filled in, the mixture makes the fuel flow "
        "of it, and power and consumption play no part.",
        way_out="Leave it empty to work the fuel out from power.",
    ),
    *mixture.MIXTURE_FIELDS,
    Number(
        "fuel_flow",
        "Fuel flow, if you know it",
        Scale("fuel_flow", unit="kgh", span=(5, 900), default=None, step=5),
        sign="ṁ_entered",
        measure="Of this fuel, whole engine. Filled in, it overrules air, power and consumption.",
        way_out="Leave it empty to work it out from power.",
    ),
    *_point(1, "first", _CURVE_PRESSURE, 350),
    *_point(2, "second", replace(_CURVE_PRESSURE, span=(100, 1200), default=500), 290),
    Choice(
        "pumps",
        "Pumps side by side",
        (Option("1", "One"), Option("2", "Two"), Option("3", "Three")),
        "1",
    ),
    Number(
        "pump_rated_voltage",
        "Voltage of the pump's curve",
        Scale("voltage", unit="V", span=(10, 16), default=13.5, step=0.5),
        measure="As the maker states it.",
        way_out="Makers state 12 to 14 V.",
    ),
    Choice(
        "pump_supply",
        "Voltage at the pump is",
        (Option("measured", "Measured, or expected"), Option("wired", "Worked out from its wire")),
        "measured",
        measure="From its wire: as on the wiring page, the ground wire back along the feed and of "
        "its size; insulation for [80 °C|176 °F], two wires together.",
    ),
    Number(
        "pump_voltage",
        "Voltage at the pump",
        Scale("voltage", unit="V", span=(8, 16), default=13, step=0.1),
        measure="Meter on the pump's own terminals, running, full load.",
        way_out="Below 8 V look for a bad ground or too thin a wire.",
        when=("pump_supply", ("measured",)),
    ),
    *(
        replace(field, first=False, group="", when=("pump_supply", ("wired",)))
        for field in wire_fields.SUPPLY
    ),
    wire_fields.EXPONENT,
    Number(
        "pump_margin",
        "Margin asked of the pump",
        Scale("percent", unit="pct", span=(0, 60), default=100 * calc.PUMP_MARGIN, step=5),
        measure="20 for heat, wear and a tired battery. Common practice.",
        way_out="0 to 60 %.",
    ),
    Choice(
        "line_size",
        "Feed line",
        (
            *(Option(key, f"−{key}: {inside(bore)} inside") for key, bore in DASHES.items()),
            Option("bore", "I enter its bore"),
        ),
        "6",
        measure="A dash is the tube's outside in sixteenths of an inch: hose with screwed ends has "
        "less inside. For push-on hose or hard tube enter the bore of the narrowest fitting.",
    ),
    Number(
        "line_bore",
        "Bore of the feed line",
        Scale(
            "length",
            unit="mm",
            span=(4, 25),
            default=8,
            step=0.5,
            inch=SIXTEENTHS,
        ),
        sign="D_entered",
        measure="Inside, pump to rail, at its narrowest fitting.",
        example="Enter the bore of your feed line.",
        way_out="Measure inside, or pick the dash size.",
        when=("line_size", ("bore",)),
    ),
    Number(
        "line_length",
        "Length of the feed line",
        Scale("run", unit="m", span=(0, 20), default=5, step=0.5),
        sign="L",
        measure="Add [half a metre|a foot and a half] for each sharp fitting. Common practice.",
        way_out="Up to [20 m|65 ft].",
    ),
)
