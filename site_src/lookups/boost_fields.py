"""Boost by pulley: what is entered, and how it is measured."""

from __future__ import annotations

from dataclasses import replace

from calc.belts import pitch_allowance
from site_src.data.belts import section
from site_src.lookups import air
from site_src.model.fields import Choice, Field, Inch, Number, Option, Scale, Shelf, When

_PK = section("PK")

_LINE_DIFFERENTIAL = _PK.line_differential.value
"""Distance from effective to pitch line of a PK belt, m."""

_TIP_HEIGHT = _PK.tip_height.value if _PK.tip_height else 0.0
"""Rib tips over the effective diameter, m."""

ALLOWANCES = {
    "outside": pitch_allowance(_LINE_DIFFERENTIAL, _TIP_HEIGHT),
    "effective": pitch_allowance(_LINE_DIFFERENTIAL, 0.0),
    "pitch": 0.0,
}
"""What each diameter that can be measured lacks of the pitch diameter, m."""

EXAMPLES = (70.0, 74.0, 78.0, 82.0, 85.0, 88.0, 92.0, 96.0, 100.0, 105.0, 110.0)
"""Blower pulleys of our invention, mm, until the shop has entered its own."""

SHELF = Shelf(
    kind="diameter_kind",
    lacks={kind: 1000.0 * float(lack) for kind, lack in ALLOWANCES.items()},
)

_INCH_EXAMPLES = tuple(2.75 + 0.125 * n for n in range(14))
"""The same for a shop that measures in inches, in inches."""

BLOWER_PULLEY = Scale(
    "length",
    unit="mm",
    span=(40, 250),
    default=92,
    step=1,
    stock=EXAMPLES,
    inch=Inch(default=3.625, stock=_INCH_EXAMPLES),
)
OTHER_PULLEY = replace(BLOWER_PULLEY, default=None, inch=Inch(stock=_INCH_EXAMPLES))
"""One to compare with it, which may stay empty."""

RATED: When = ("efficiency_from", ("rating",))
"""While the engine's breathing is taken from the kit's own line."""

_STATED: When = ("losses_from", ("stated",))
_MEASURED: When = ("losses_from", ("measured",))
_READ: When = ("effectiveness_from", ("readings",))

ACROSS = (
    "Caliper over the rib tips, not the flanges. Where it doesn't reach: a paper strip once round "
    "the ribs, its length ÷ 3.14."
)
_ACROSS_AGAIN = "Measure over the rib tips again, and look at the unit."


_PULLEYS: tuple[Field, ...] = (
    Number(
        "blower_pulley",
        "Blower pulley",
        BLOWER_PULLEY,
        shelf=SHELF,
        measure=ACROSS,
        way_out=_ACROSS_AGAIN,
        first=True,
    ),
    Number(
        "crank_pulley",
        "Crank pulley",
        Scale("length", unit="mm", span=(80, 300), default=180, step=1),
        measure=ACROSS + " [One millimetre|1/16 in] here moves boost more than any other.",
        way_out=_ACROSS_AGAIN,
        first=True,
    ),
    Number(
        "engine_speed",
        "Engine speed",
        Scale("rotation", unit="rpm", span=(500, 10000), default=6000, step=250),
        measure="At peak power, or any other speed that you want to look at.",
        way_out="Enter crankshaft speed, not rotor speed.",
        first=True,
    ),
    Number(
        "limiter_speed",
        "Engine speed at the rev limiter",
        Scale("rotation", unit="rpm", span=(1000, 10000), default=6500, step=250),
        measure="The highest speed that the engine ever sees, not that of peak power. Rotors, belt "
        "and accessories are judged there.",
        way_out="Enter crankshaft speed.",
        first=True,
    ),
    Number(
        "wanted_boost",
        "Wanted boost, to find a pulley",
        Scale("gauge_pressure", unit="kPa", span=(5, 200), default=None, step=5),
        measure="Leave empty if you only want to know what a pulley gives.",
        way_out="Enter boost above the outside air, not absolute pressure.",
    ),
)

_BREATHING: tuple[Field, ...] = (
    Choice(
        "efficiency_from",
        "How well the engine breathes",
        (
            Option("typed", "I enter it"),
            Option("rating", "From the kit's stated pulley and boost"),
        ),
        "typed",
    ),
    Number(
        "engine_efficiency",
        "Engine volumetric efficiency",
        Scale("percent", unit="pct", span=(60, 130), default=95, step=1),
        measure="Two valves 85 to 95, four valves 95 to 105. Common practice.",
        way_out="If the kit states a pulley and its boost, use that instead.",
        when=("efficiency_from", ("typed",)),
    ),
    Number(
        "rating_pulley",
        "Stated blower pulley",
        Scale("length", unit="mm", span=(40, 250), default=88, step=1, inch=Inch(default=3.5)),
        measure="As the kit states it, measured the same way as yours.",
        way_out="Enter the pulley that belongs to the stated boost.",
        when=RATED,
    ),
    Number(
        "rating_boost",
        "Stated boost",
        Scale("gauge_pressure", unit="kPa", span=(5, 200), default=80, step=1),
        measure="Above the outside air, at the manifold. Of “11 to 12” the 11.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        when=RATED,
    ),
    Number(
        "rating_boost_high",
        "Other end of the stated boost",
        Scale("gauge_pressure", unit="kPa", span=(5, 200), default=None, step=1),
        measure="Of “11 to 12” the 12. Leave empty if the kit states one number. The middle is "
        "worked with, and both ends are shown.",
        way_out="Enter boost above the outside air, not absolute pressure.",
        when=RATED,
    ),
    Number(
        "rating_engine_speed",
        "Engine speed of the stated boost",
        Scale("rotation", unit="rpm", span=(500, 10000), default=6000, step=250),
        measure="If the kit names none, take the engine's speed at peak power.",
        way_out="Enter crankshaft speed, not rotor speed.",
        when=RATED,
    ),
    Number(
        "rating_power",
        "Stated power",
        Scale("power", unit="kW", span=(50, 1500), default=None, step=10),
        measure="Leave empty if the kit states none. At the speed above, on gasoline. It checks "
        "the whole chain: pulleys, displacements, boost.",
        way_out="Look at the unit: kilowatts or horsepower.",
        when=RATED,
    ),
    Choice(
        "rating_power_at",
        "Where the power was stated",
        (
            Option("crank", "At the crankshaft"),
            Option("wheels", "At the wheels, some 15 % lower"),
        ),
        "crank",
        measure="15 % from crankshaft to wheels: common practice.",
        when=RATED,
    ),
    Number(
        "rating_altitude",
        "Altitude of the stated boost",
        Scale("altitude", unit="m", span=(-300, 4500), default=0, step=100),
        measure="Sea level, unless the kit says where it was measured.",
        way_out="Take sea level if the kit doesn't say.",
        when=RATED,
    ),
    Number(
        "rating_intake_temperature",
        "Intake air of the stated boost",
        Scale("temperature", unit="C", span=(-40, 60), default=25, step=5, inch=Inch(default=77)),
        measure="[25 °C|77 °F], unless the kit says otherwise.",
        way_out="Take [25 °C|77 °F] if the kit doesn't say.",
        when=RATED,
    ),
    Choice(
        "diameter_kind",
        "Diameter you measured",
        (
            Option("outside", "Outside, over the rib tips"),
            Option("effective", "Effective, as stamped or drawn"),
            Option("pitch", "Pitch, where the cord runs"),
        ),
        "outside",
        measure="For a ribbed PK belt the cord runs [2 mm|0.079 in] outside the effective line "
        "(ISO 9981). "
        "Taking outside for pitch makes boost look a few per cent too high.",
    ),
    Number(
        "engine_displacement",
        "Engine displacement",
        Scale("displacement", unit="L", span=(1, 12), default=5.6, step=0.1),
        sign="V_e",
        way_out="Enter all cylinders together.",
    ),
)

_BLOWER: tuple[Field, ...] = (
    Number(
        "blower_displacement",
        "Blower displacement per revolution",
        # Blowers are sold by the litre in inch shops too.
        Scale("displacement", unit="L", span=(0.3, 6), default=2.6, step=0.1, inch=Inch(unit="L")),
        sign="V_b",
        measure="Per revolution of the rotor that the gear ratio below turns.",
        way_out="Enter litres per rotor revolution, from the blower's plate or its maker.",
    ),
    Choice(
        "blower_kind",
        "Blower kind",
        (
            Option("internal", "Compresses inside"),
            Option("plain", "Moves air, no compression inside"),
        ),
        "internal",
        measure="Screw rotors compress inside. Straight and three-lobe rotors don't.",
    ),
    Number(
        "built_in_ratio",
        "Built-in pressure ratio",
        Scale("ratio", unit="", span=(1, 2), default=1.3, step=0.05),
        measure="From the maker. 1.2 to 1.5 is usual where there is some. Common practice.",
        way_out="If you don't know it, pick the other blower kind and compare.",
        when=("blower_kind", ("internal",)),
    ),
    Number(
        "gear",
        "Blower's own gear ratio",
        Scale("ratio", unit="", span=(0.5, 3), default=1, step=0.05),
        sign="i",
        measure="Rotor turns for one turn of the pulley; 1 if the pulley is on the rotor.",
        way_out="Turn the pulley once by hand and count.",
    ),
    Number(
        "rotor_limit",
        "Rotor speed limit",
        Scale("rotation", unit="rpm", span=(3000, 30000), default=14000, step=500),
        measure="The maker's figure; the one here is an example.",
        way_out="Ask the blower's maker.",
        example="Enter the rotor speed limit of the blower's maker.",
    ),
    Number(
        "slip",
        "Belt slip",
        Scale("percent", unit="pct", span=(0, 15), default=1, step=0.5),
        sign="s",
        measure="A sound ribbed belt slips about 1 %. Common practice.",
        way_out="More slip than that burns the belt: look at grip and tension.",
    ),
    Number(
        "leakage",
        "Leakage speed of the rotors",
        Scale("rotation", unit="rpm", span=(100, 2000), default=500, step=50),
        sign="N_L",
        measure="300 tight and large, 500 usual, 1,200 small or worn. Common practice.",
        way_out="Leave 500 unless you know better.",
    ),
    Choice(
        "losses_from",
        "How much the blower loses with speed",
        (
            Option("usual", "As is usual for rotors of this size"),
            Option("stated", "From a stated efficiency"),
            Option("measured", "From a measured outlet temperature"),
        ),
        "usual",
        measure="Ports, windage and gears take more the faster the rotors turn. A thermometer at "
        "the blower's outlet beats any table.",
    ),
    Number(
        "stated_efficiency",
        "Stated efficiency",
        Scale("percent", unit="pct", span=(35, 90), default=65, step=1),
        measure="Overall (adiabatic) efficiency, read from the maker's map. Screw type 62 to 70 %, "
        "straight or three-lobe 50 to 60 %. Common practice.",
        way_out="Overall efficiency, not the volumetric one, which is higher.",
        when=_STATED,
    ),
    Number(
        "stated_pressure_ratio",
        "Pressure ratio it is stated at",
        Scale("ratio", unit="", span=(1.2, 3), default=1.8, step=0.05),
        measure="Blower outlet over inlet, both absolute.",
        way_out="Pick a point of the map near where you run.",
        when=_STATED,
    ),
    Number(
        "stated_rotor_speed",
        "Rotor speed it is stated at",
        Scale("rotation", unit="rpm", span=(3000, 30000), default=11000, step=500),
        way_out="Pick a point of the map near where you run.",
        when=_STATED,
    ),
    Number(
        "measured_outlet",
        "Measured outlet temperature",
        Scale("temperature", unit="C", span=(40, 250), default=110, step=5),
        measure="In the air between blower and charge cooler, held steady until it stops rising; "
        "a thermometer in the wall reads too low.",
        way_out="Hold the speed until it settles, and read it in the air.",
        when=_MEASURED,
    ),
    Number(
        "measured_intake",
        "Intake air then",
        Scale("temperature", unit="C", span=(-40, 60), default=25, step=5),
        measure="At the blower's inlet, not on the weather report.",
        way_out="Measure at the filter.",
        when=_MEASURED,
    ),
    Number(
        "measured_boost_then",
        "Boost then",
        Scale("gauge_pressure", unit="kPa", span=(20, 200), default=80, step=1),
        measure="At the manifold, above the outside air.",
        way_out="Measure in full boost.",
        when=_MEASURED,
    ),
    Number(
        "measured_engine_speed",
        "Engine speed then",
        Scale("rotation", unit="rpm", span=(2000, 10000), default=6000, step=250),
        way_out="Measure at a speed where the engine pulls.",
        when=_MEASURED,
    ),
    Number(
        "measured_pulley",
        "Blower pulley fitted then",
        replace(BLOWER_PULLEY, stock=(), inch=Inch(default=3.625)),
        measure="Measured the same way as the one above.",
        way_out=_ACROSS_AGAIN,
        when=_MEASURED,
    ),
    Number(
        "measured_altitude",
        "Altitude then",
        Scale("altitude", unit="m", span=(-300, 4500), default=0, step=100),
        way_out="Take the altitude of the place where it was measured.",
        when=_MEASURED,
    ),
)

_AIR: tuple[Field, ...] = (
    *air.PRESSURE_FIELDS,
    air.INTAKE_TEMPERATURE,
    *air.COOLANT_FIELDS,
    Choice(
        "effectiveness_from",
        "How well the charge cooler works",
        (
            Option("typed", "I enter its effectiveness"),
            Option("readings", "From two thermometers"),
        ),
        "typed",
    ),
    Number(
        "effectiveness",
        "Charge-cooler effectiveness",
        Scale("percent", unit="pct", span=(0, 95), default=75, step=5),
        measure="0 with no cooler; 65 to 85 is usual. Common practice.",
        way_out="100 would cool the charge right down to the coolant; no cooler does.",
        when=("effectiveness_from", ("typed",)),
    ),
    Number(
        "air_before_cooler",
        "Air before the cooler",
        Scale("temperature", unit="C", span=(20, 250), default=110, step=5),
        measure="Both thermometers in the air, read together while the engine pulls.",
        way_out="Read it in the air between blower and cooler.",
        when=_READ,
    ),
    Number(
        "air_after_cooler",
        "Air after the cooler",
        Scale("temperature", unit="C", span=(0, 200), default=58, step=5),
        measure="At the manifold.",
        way_out="Read it at the manifold.",
        when=_READ,
    ),
    Number(
        "coolant_at_reading",
        "Coolant into the cooler then",
        Scale("temperature", unit="C", span=(-10, 90), default=40, step=5),
        measure="At the charge cooler's inlet, at the same time.",
        way_out="Measure at the charge cooler's inlet.",
        when=_READ,
    ),
    Number(
        "inlet_depression",
        "Depression at the blower inlet",
        Scale("small_pressure", unit="kPa", span=(0, 15), default=1.5, step=0.5),
        measure="Filter, pipe and throttle together, at this air flow.",
        way_out="Over [15 kPa|60 inH₂O] look for a blocked filter or too small a throttle.",
    ),
    Number(
        "cooler_drop",
        "Pressure drop over the charge cooler",
        Scale("small_pressure", unit="kPa", span=(0, 30), default=4, step=0.5),
        sign="Δp",
        measure="On the air side, blower outlet to manifold.",
        way_out="Over [30 kPa|120 inH₂O] the cooler is blocked or far too small.",
    ),
)

FIELDS: tuple[Field, ...] = (*_PULLEYS, *_BREATHING, *_BLOWER, *_AIR)
