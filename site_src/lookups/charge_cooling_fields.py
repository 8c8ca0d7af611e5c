"""What the page of charge cooling asks: air, coolant, exchanger, where it stands, how it is driven.

Entries of other pages keep their keys: they are one truck's.
"""

from __future__ import annotations

from dataclasses import replace

from site_src.lookups import air, bed_hoses, loop_fields, throttle
from site_src.model.fields import Choice, Field, Number, Option, Scale, When

PLACES = ("nose", "bed")

_SHEET: When = ("exchanger_from", ("sheet",))
_READINGS: When = ("exchanger_from", ("readings",))
_HEAT, _EXCHANGER = "Charge air and coolant", "Exchanger"
_NOSE, _BED, _DRIVEN = "In the nose", "In the bed", "How it is driven"

CHARGE_LIMIT = Number(
    "charge_limit",
    "Charge temperature that you want to stay under",
    Scale("temperature", unit="C", span=(30, 150), default=60, step=5),
    measure="[60 °C|140 °F] is usual on pump fuel. Calibrations take spark away as the charge gets "
    "hotter, "
    "often from [35 to 45 °C|95 to 113 °F] on, most of it by [65|149]. Common practice; the "
    "calibrator decides.",
    way_out="Under [30 °C|86 °F] no charge cooler gets on a warm day.",
    group=_HEAT,
)


def _of_loop(key: str) -> Number:
    """Return an entry of the coolant loop's page."""
    found = next(field for field in loop_fields.FIELDS if field.key == key)
    assert isinstance(found, Number)
    return replace(found, group=_HEAT)


def _degrees(
    key: str, label: str, default: float, measure: str, *, group: str, step: float = 1
) -> Number:
    """Return an entry of how much warmer something is."""
    return Number(
        key,
        label,
        Scale("temperature_difference", unit="dC", span=(0, 40), default=default, step=step),
        measure=measure,
        way_out="[0 to 40 °C|0 to 72 °F]: a difference, not a temperature.",
        group=group,
    )


def _reading(key: str, label: str, default: float, measure: str) -> Number:
    """Return an entry read from a thermometer at the exchanger."""
    return Number(
        key,
        label,
        Scale("temperature", unit="C", span=(-20, 110), default=default, step=1),
        measure=measure,
        way_out="Read all three together, once they have stopped moving.",
        when=_READINGS,
        first=True,
        example="Enter your own three readings.",
    )


def _seconds(key: str, label: str, default: float, high: float, measure: str, sign: str) -> Number:
    """Return an entry of a time."""
    return Number(
        key,
        label,
        Scale("duration", unit="s", span=(2, high), default=default, step=5),
        measure=measure,
        way_out=f"2 to {high:g} s.",
        sign=sign,
        first=key == "pull_time",
        group=_DRIVEN,
    )


PLACE = replace(air.EXCHANGER_PLACE, first=True, measure="The other one stands beside it below.")

_RATED: tuple[Field, ...] = (
    PLACE,
    Choice(
        "exchanger_from",
        "What is known of the exchanger",
        (
            Option("sheet", "Its maker's sheet: heat at a difference"),
            Option("readings", "Three thermometers on it, running"),
        ),
        "sheet",
        first=True,
    ),
    Number(
        "exchanger_heat",
        "Rated heat",
        Scale("power", unit="kW", span=(1, 100), default=20, step=1),
        measure="From its sheet, at one air speed and one coolant flow.",
        way_out="[1 to 100 kW|1.4 to 134 hp]: look at the unit.",
        sign="Φ_r",
        first=True,
        when=_SHEET,
        example="Enter your exchanger's rated heat.",
    ),
    Number(
        "exchanger_difference",
        "Rated at this difference",
        Scale("temperature_difference", unit="dC", span=(5, 100), default=40, step=5),
        measure="Coolant into it, less air into it: between the two inlets, not the means.",
        way_out="[5 to 100 °C|9 to 180 °F] between the inlets.",
        sign="ΔT_r",
        first=True,
        when=_SHEET,
        example="Enter the difference that your exchanger is rated at.",
    ),
    Number(
        "rated_face_speed",
        "Rated at this air speed, at its face",
        Scale("speed", unit="mps", span=(0.5, 25), default=5, step=0.5),
        measure="From the sheet. A flow in [m³/h: divide by 3600 and by the face in m²|cfm: divide "
        "by 60 and by the "
        "face in square feet].",
        way_out="[0.5 to 25 m/s|1.7 to 82 ft/s] at the face of the core, not the road speed.",
        sign="v_r",
        when=_SHEET,
        group=_EXCHANGER,
    ),
    Number(
        "rated_coolant_flow",
        "Rated at this coolant flow",
        Scale("volume_flow", unit="lpm", span=(3, 150), default=20, step=1),
        measure="From the sheet. Taken to be this coolant.",
        way_out="[3 to 150 L/min|0.8 to 39 US gal/min]: look at the unit.",
        sign="Q_r",
        when=_SHEET,
        group=_EXCHANGER,
    ),
    _reading(
        "exchanger_coolant_in",
        "Coolant into it",
        48,
        "Held at one load until nothing moves any more. Same thermometer in both hoses, lagged: "
        "half a degree of three is a sixth of the heat.",
    ),
    _reading("exchanger_coolant_out", "Coolant out of it", 40, "In the hose that leaves it."),
    _reading(
        "exchanger_air_in",
        "Air into it",
        30,
        "In front of the core, in the shade, not on the weather report.",
    ),
    Choice(
        "exchanger_read_in",
        "It sat then",
        (
            Option("nose", "In the nose, at the road speed below"),
            Option("bed", "In the bed, on the fans below"),
        ),
        "nose",
        measure="With the coolant flow entered here.",
        when=_READINGS,
        group=_EXCHANGER,
    ),
    Number(
        "face_width",
        "Core, width",
        Scale("length", unit="mm", span=(100, 1500), default=600, step=10),
        measure="Tape over fins alone, no tanks.",
        way_out="[100 to 1500 mm|4 to 59 in].",
        group=_EXCHANGER,
    ),
    Number(
        "face_height",
        "Core, height",
        Scale("length", unit="mm", span=(100, 1000), default=350, step=10),
        measure="Tape over fins alone. Two cores side by side: enter them as one.",
        way_out="[100 to 1000 mm|4 to 39 in].",
        group=_EXCHANGER,
    ),
)

_AIR_AND_COOLANT: tuple[Field, ...] = (
    replace(throttle.LOOKUP.numbers["air_flow"], first=False, group=_HEAT),
    Number(
        "blower_outlet",
        "Air out of the blower",
        Scale("temperature", unit="C", span=(20, 250), default=116, step=5),
        measure="At full power, before the charge cooler: from the boost page, or a thermometer.",
        way_out="[20 to 250 °C|68 to 482 °F].",
        sign="T₂",
        group=_HEAT,
    ),
    Number(
        "cooler_effectiveness",
        "Charge cooler's effectiveness",
        Scale("percent", unit="pct", span=(20, 95), default=75, step=5),
        measure="From the boost page, where it is entered or read from thermometers.",
        way_out="20 to 95 %: with no charge cooler there is nothing to work out here.",
        sign="ε_k",
        group=_HEAT,
    ),
    Number(
        "effectiveness_flow",
        "It is that good at this coolant flow",
        Scale("volume_flow", unit="lpm", span=(3, 150), default=20, step=1),
        measure="The flow on its maker's sheet, or when it was read. Less flow cools less.",
        way_out="[3 to 150 L/min|0.8 to 39 US gal/min]: look at the unit.",
        sign="Q_k",
        group=_HEAT,
    ),
    CHARGE_LIMIT,
    replace(air.INTAKE_TEMPERATURE, group=_HEAT),
    *(replace(f, group=_HEAT) for f in air.COOLANT_FIELDS if f.key == "outside_temperature"),
    *(replace(field, group=_HEAT) for field in air.PRESSURE_FIELDS),
    Number(
        "coolant_flow",
        "Coolant flow",
        Scale("volume_flow", unit="lpm", span=(3, 150), default=20, step=1),
        measure="From the coolant loop's page, or bucket and watch. With the exchanger in the "
        "nose.",
        way_out="[3 to 150 L/min|0.8 to 39 US gal/min]: look at the unit.",
        sign="Q",
        group=_HEAT,
    ),
    Number(
        "content",
        "Coolant in the whole loop",
        Scale("volume", unit="L", span=(1, 100), default=8, step=1),
        measure="Tank, hoses and cores together, from the coolant loop's page or what it took to "
        "fill it.",
        way_out="[1 to 100 L|0.27 to 26 US gal].",
        sign="V",
        group=_HEAT,
    ),
    _of_loop("glycol_share"),
    _of_loop("loop_temperature"),
)


def _road_speed(key: str, label: str, default: float, measure: str) -> Number:
    """Return an entry of a road speed."""
    return Number(
        key,
        label,
        Scale("vehicle_speed", unit="kmh", span=(0, 250), default=default, step=10),
        measure=measure,
        way_out="[0 to 250 km/h|0 to 155 mph].",
        group=_NOSE,
    )


def _fan(
    key: str, label: str, default: float | None, low: float, measure: str, group: str
) -> Number:
    """Return an entry of an air flow."""
    return Number(
        key,
        label,
        Scale("air_volume_flow", unit="m3h", span=(low, 15000), default=default, step=100),
        measure=measure,
        way_out="Up to [15,000 m³/h|8,820 cfm]: look at the unit, 1 cfm is 1.7 m³/h.",
        group=group,
    )


_PLACES: tuple[Field, ...] = (
    _road_speed("road_speed", "Road speed in a pull", 100, "The middle of it. On rollers: 0."),
    _road_speed("rest_speed", "Road speed between pulls", 50, "Idling: 0, and only fans cool."),
    Number(
        "face_share",
        "Air through the core, of the road speed",
        Scale("percent", unit="pct", span=(3, 80), default=25, step=5),
        measure="Before a radiator and behind a grille 15 to 35 %; shrouded and open to the front "
        "up to 50. Common practice. Wool threads show whether air goes through or round.",
        way_out="3 to 80 %.",
        group=_NOSE,
    ),
    _fan(
        "nose_fan",
        "What fans draw through it, standing",
        None,
        0,
        "Radiator's fan behind it, or one of its own, as it comes through. Left empty: none.",
        _NOSE,
    ),
    _degrees(
        "nose_warmer",
        "Air there warmer than outside",
        0,
        "Thermometer before the core. A condenser before it: [5 to 10 °C|9 to 18 °F].",
        group=_NOSE,
    ),
    _fan(
        "bed_fan",
        "Fans, as rated in free air",
        3000,
        50,
        "All of them together, off their label.",
        _BED,
    ),
    Number(
        "fan_share",
        "Of that, through the core",
        Scale("percent", unit="pct", span=(10, 100), default=60, step=5),
        measure="A core before a fan leaves 50 to 70 % of its free-air rating, without a shroud "
        "less. Common practice.",
        way_out="10 to 100 %.",
        group=_BED,
    ),
    _degrees(
        "bed_warmer",
        "Air there warmer than outside",
        8,
        "Thermometer before the core, hot and standing. From beneath or over the exhaust 5 to "
        "[15 °C|27 °F]. Common practice.",
        group=_BED,
    ),
    Number(
        "bed_coolant_flow",
        "Coolant flow with the exchanger there",
        Scale("volume_flow", unit="lpm", span=(3, 150), default=19, step=1),
        measure="From the coolant loop's page, with the longer hoses entered there, until one is "
        "typed. Or bucket and watch, once they lie.",
        way_out="[3 to 150 L/min|0.8 to 39 US gal/min].",
        group=_BED,
    ),
    *bed_hoses.entries(_BED),
)

_DRIVING: tuple[Field, ...] = (
    Number(
        "rise_allowed",
        "A pull ends when the charge is hotter by",
        Scale("temperature_difference", unit="dC", span=(1, 60), default=10, step=1),
        way_out="[1 to 60 °C|1.8 to 108 °F]: a difference, not a temperature.",
        first=True,
        group=_DRIVEN,
    ),
    _seconds("pull_time", "One pull", 15, 120, "Seconds wide open, each time.", "t_p"),
    _seconds("rest_time", "Rest between pulls", 60, 1800, "From one pull to the next.", "t_z"),
    Number(
        "duty_share",
        "Share of the time at full power",
        Scale("percent", unit="pct", span=(0, 100), default=10, step=5),
        measure="Over a long drive: road 5 to 10 %, hill with a trailer 50 and more. Common "
        "practice.",
        way_out="0 to 100 %.",
        group=_DRIVEN,
    ),
    _degrees(
        "recovered_to",
        "Recovered once the charge is back within",
        2,
        "Of where it was before the pull.",
        group=_DRIVEN,
    ),
    Choice(
        "start_from",
        "Coolant before the first pull",
        (
            Option("settled", "As it settles at that share"),
            Option("cold", "Cold, as the outside air"),
            Option("measured", "A temperature that I measured"),
            Option("ice", "As the outside air, then ice in the tank"),
        ),
        "settled",
        group=_DRIVEN,
    ),
    Number(
        "start_coolant",
        "Coolant then",
        Scale("temperature", unit="C", span=(-10, 90), default=35, step=5),
        way_out="[−10 to 90 °C|14 to 194 °F].",
        when=("start_from", ("measured",)),
        group=_DRIVEN,
    ),
    Number(
        "ice",
        "Ice",
        Scale("mass", unit="kg", span=(0, 30), default=3, step=0.5),
        measure="On a scale. It takes room: [a kilogram is 1.1 L|a pound is 0.13 US gal] until it "
        "melts.",
        way_out="Up to [30 kg|66 lb].",
        when=("start_from", ("ice",)),
        group=_DRIVEN,
    ),
    Number(
        "pull_number",
        "Pull to look at",
        Scale("ratio", unit="", span=(1, 8.5), default=3.5, step=0.5),
        measure="1 is as the first begins, 1.5 as it ends, 2 as the second begins, and so on.",
        way_out="1 to 8.5: at 8.5 the eighth ends.",
        sign="n",
        group=_DRIVEN,
    ),
    Number(
        "hot_day",
        "A hot day's outside air",
        Scale("temperature", unit="C", span=(-10, 60), default=None, step=5),
        measure="The hottest that the truck will be driven in. Left empty: today alone.",
        way_out="[−10 to 60 °C|14 to 140 °F].",
        group=_DRIVEN,
    ),
)

FIELDS: tuple[Field, ...] = (*_RATED, *_DRIVING, *_AIR_AND_COOLANT, *_PLACES)
