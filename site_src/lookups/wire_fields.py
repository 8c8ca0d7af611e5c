"""What the wiring page asks: the load, its wire, where it lies, fuse and relay, the harness."""

from __future__ import annotations

from dataclasses import replace

from calc import wiring as calc
from site_src.data.wires import INSULATION, Wire, bundles, fuses, stands, wires
from site_src.model.fields import Choice, Field, Number, Option, Parts, Scale
from site_src.model.said import both

HEATED = {str(limit): calc.FREEZING + float(limit) for limit in INSULATION}
"""What each kind of insulation stands, K."""

_GROUND, _VOLTS, _HEAT = "Ground and connections", "Voltages", "Heat and bundle"
_FUSE, _HARNESS = "Fuse and relay", "The whole harness"
_BY_POWER = ("known_by", ("power", "regulated"))
_CLAMP = "Clamp meter on the feed, everything warm, fluid flowing. A pump's current rises with its "
_INSULATION_NAMES = {
    75: "[75 °C|75 °C, 167 °F]",
    80: "[80 °C|80 °C, 176 °F]: common PVC",
    90: "[90 °C|90 °C, 194 °F]",
    105: "[105 °C|105 °C, 221 °F]",
    125: "[125 °C|125 °C, 257 °F]: cross-linked",
}


def _wire_name(wire: Wire) -> str:
    """Name a size; a metric one also by the gauge size that it is reckoned as."""
    return both(wire.name, f"{wire.name}, over {wire.gauge} AWG") if wire.is_metric else wire.name


LOAD = Choice(
    "load",
    "What hangs on it",
    (
        Option("fuel_pump", "Fuel pump"),
        Option("coolant_pump", "Coolant pump"),
        Option("fan", "Fan"),
        Option("other", "Another load"),
    ),
    "fuel_pump",
    first=True,
)
CURRENT = Number(
    "load_current",
    "Current it draws",
    Scale("current", unit="A", span=(0.5, 60), default=12, step=0.5),
    measure=_CLAMP + "pressure. Or its sheet, at your pressure.",
    way_out="Half an amp to 60 A; for more, follow the cable maker's table.",
    example="Enter what your load draws.",
    sign="I_entered",
    first=True,
    when=("known_by", ("current",)),
)
LENGTH = Number(
    "feed_length",
    "Feed wire, battery to load",
    Scale("run", unit="m", span=(0.1, 12), default=3.5, step=0.25),
    measure="Along the way it takes: a string laid through clips, grommets and relay, then "
    "measured. The way back is added below.",
    way_out="Up to [12 m|39 ft]. Look at the unit.",
    example="Enter the length of your feed wire.",
    sign="L_feed",
    first=True,
)
WIRE = Choice(
    "wire",
    "Wire",
    tuple(
        Option(wire.key, _wire_name(wire), group="By area" if wire.is_metric else "By gauge")
        for wire in wires()
    ),
    "mm6",
    measure="Printed on its insulation. Else measure the bare strands: their number × π/4 × "
    "strand diameter², in mm. The outside says nothing. Copper only: plated aluminium loses "
    "half as much again.",
    first=True,
)
SYSTEM_VOLTAGE = Number(
    "system_voltage",
    "Battery, engine running",
    Scale("voltage", unit="V", span=(11, 16), default=13.8, step=0.1),
    measure="Meter on the battery's posts, at idle, lights and fans on: the worst that lasts.",
    way_out="Under 11 V the alternator isn't charging; over 16 V its regulator is gone.",
    sign="U",
    group=_VOLTS,
)
CONNECTIONS = Number(
    "connections",
    "Fuse, relay and plugs together",
    Scale("resistance", unit="mohm", span=(0, 60), default=10, step=1),
    measure="1 to 3 mΩ each when new, more when green. Common practice. Or measure: volts lost "
    "across them, over the current.",
    way_out="Over 60 mΩ clean or renew them first.",
    sign="R_c",
    group=_GROUND,
)
AIR = Number(
    "wire_air",
    "Air round the wire, at its hottest",
    Scale("temperature", unit="C", span=(-40, 120), default=50, step=5),
    measure="[50 along the frame, 80 to 100 beside the engine|120 along the frame, 180 to 210 "
    "beside "
    "the engine], more near exhaust: keep off it. "
    "Common practice; a thermometer in the loom after a hard run is better.",
    way_out="Over [120 °C|248 °F] lead the wire another way.",
    sign="t_air",
    group=_HEAT,
)
EXPONENT = Number(
    "pump_exponent",
    "How strongly flow follows voltage",
    Scale("ratio", unit="", span=(1, 2.5), default=1.5, step=0.1),
    measure="1 in proportion, up to 2.5 near the pump's highest pressure. Common practice.",
    way_out="1 to 2.5; a curve at your voltage needs no such rule.",
)

PUMPS = {"load_current": "pump_current", "feed_length": "pump_feed", "wire": "pump_wire"}
"""What another page calls the entries of the fuel pump's own circuit: the wiring page may be at
another's."""

SUPPLY: tuple[Number | Choice, ...] = (
    replace(CURRENT, key=PUMPS[CURRENT.key], label="Current the pump draws"),
    replace(LENGTH, key=PUMPS[LENGTH.key], label="Feed wire, battery to pump"),
    replace(WIRE, key=PUMPS[WIRE.key], label="The pump's wire"),
    CONNECTIONS,
    SYSTEM_VOLTAGE,
    AIR,
)
"""What another page asks, to work out the voltage at a fuel pump; the rest is as usual here."""

CIRCUITS = Parts(
    "circuits",
    "Circuits of the harness",
    (
        replace(LOAD, key="circuit_load", label="Load", first=False),
        replace(
            CURRENT,
            key="circuit_current",
            label="Current",
            measure="",
            example="",
            sign="I_each",
            first=False,
            when=None,
        ),
        replace(
            LENGTH, key="circuit_length", label="Feed wire", measure="", example="", first=False
        ),
        replace(WIRE, key="circuit_wire", label="Its wire", measure="", first=False),
    ),
    most=10,
    default=(
        {
            "circuit_load": "fuel_pump",
            "circuit_current": 12,
            "circuit_length": 3.5,
            "circuit_wire": "mm6",
        },
        {
            "circuit_load": "coolant_pump",
            "circuit_current": 7,
            "circuit_length": 5,
            "circuit_wire": "mm4",
        },
        {
            "circuit_load": "fan",
            "circuit_current": 18,
            "circuit_length": 5.5,
            "circuit_wire": "mm10",
        },
        {
            "circuit_load": "fan",
            "circuit_current": 18,
            "circuit_length": 6,
            "circuit_wire": "mm10",
        },
    ),
    measure="All that runs at once, each with its own fuse. Ground, heat, voltages and connections "
    "are those above.",
    first=False,
    group=_HARNESS,
    example="Enter your own circuits.",
)

FIELDS: tuple[Field, ...] = (
    LOAD,
    Choice(
        "known_by",
        "Known by",
        (
            Option("current", "Current"),
            Option("power", "Power, plain motor"),
            Option("regulated", "Power, brushless"),
        ),
        "current",
        measure="Brushless pumps and fans with built-in electronics draw more current as their "
        "voltage sags.",
        first=True,
    ),
    CURRENT,
    Number(
        "load_power",
        "Power on its sheet",
        Scale("electric_power", unit="W", span=(5, 800), default=160, step=5),
        measure="Electrical, at the voltage its sheet is for; not the shaft's.",
        way_out="5 to 800 W.",
        example="Enter the power of your load.",
        sign="P",
        first=True,
        when=_BY_POWER,
    ),
    LENGTH,
    WIRE,
    Choice(
        "ground",
        "The way back",
        (
            Option("wire", "A wire to the battery"),
            Option("frame", "A wire to the frame, and the frame"),
        ),
        "wire",
        group=_GROUND,
    ),
    Number(
        "return_length",
        "Ground wire, same size",
        Scale("run", unit="m", span=(0.05, 12), default=None, step=0.25),
        measure="Load to battery, or load to frame. Empty: as long as the feed.",
        way_out="Up to [12 m|39 ft]. Look at the unit.",
        sign="L_back",
        group=_GROUND,
    ),
    Number(
        "frame_resistance",
        "Frame and straps",
        Scale("resistance", unit="mohm", span=(0, 60), default=5, step=1),
        measure="Load running: volts from its ground point on the frame to the battery's negative "
        "post, over the current. Paint and rust count; a good frame with clean straps has 1 to 5 "
        "mΩ. Common practice.",
        way_out="Over 60 mΩ clean the straps, or run a wire.",
        example="Enter what you measured of your frame and its straps.",
        sign="R_f",
        when=("ground", ("frame",)),
        group=_GROUND,
    ),
    CONNECTIONS,
    SYSTEM_VOLTAGE,
    Number(
        "cranking_voltage",
        "Battery while cranking",
        Scale("voltage", unit="V", span=(6, 13), default=10, step=0.1),
        measure="Meter on the posts, coil or injectors unplugged, ten seconds, cold. Under 9.6 V "
        "at [20 °C|68 °F] the battery is tired. Common practice.",
        way_out="Under 6 V charge or renew the battery.",
        sign="U_crank",
        group=_VOLTS,
    ),
    Number(
        "rated_voltage",
        "Voltage its sheet is for",
        Scale("voltage", unit="V", span=(10, 16), default=13.5, step=0.5),
        measure="As the maker states it: 12, 13 or 13.5.",
        way_out="Makers state 12 to 14 V.",
        sign="U_sheet",
        group=_VOLTS,
    ),
    replace(EXPONENT, when=("load", ("fuel_pump",)), group=_VOLTS),
    Number(
        "drop_limit",
        "Drop allowed, there and back",
        Scale("voltage", unit="V", span=(0.2, 2), default=calc.CONTINUOUS_DROP, step=0.1),
        measure="0.5 for a load that runs on, 1 for one that runs for moments, in a 14 V system: "
        "AC 43.13-1B, table 11-6, from memory. A maker's least voltage at the pump overrules it.",
        way_out="0.2 to 2 V.",
        sign="ΔU_max",
        group=_VOLTS,
    ),
    AIR,
    Choice(
        "insulation",
        "Its insulation stands",
        tuple(Option(str(limit), _INSULATION_NAMES[limit]) for limit in INSULATION),
        "80",
        measure="Printed on it, or on its maker's sheet. Unknown: take the lowest. In road-vehicle "
        "wire class A stands 85 °C, B 100, C 125 (ISO 19642, from memory): take the next lower "
        "listed here.",
        group=_HEAT,
    ),
    Choice(
        "bundle",
        "Loaded wires that lie together",
        tuple(Option(count, "1, alone" if count == "1" else count) for count in bundles()),
        "2",
        measure="Feed and ground count as two. Wires that carry next to nothing don't count; "
        "between two numbers take the higher.",
        group=_HEAT,
    ),
    Number(
        "inrush_current",
        "Peak at switch-on",
        Scale("current", unit="A", span=(1, 600), default=None, step=5),
        measure="Clamp meter that holds a peak, or the maker. A motor starts at 3 to 8 times what "
        "it runs at. Common practice. Left empty, it is not checked.",
        way_out="1 to 600 A.",
        sign="I_peak",
        group=_FUSE,
    ),
    Choice(
        "inrush_time",
        "The peak is over within",
        tuple(
            Option(each.key, "Over a second" if each.key == "long" else f"{1e3 * each.time:g} ms")
            for each in stands()
        ),
        "t150",
        measure="Motors: mostly 100 ms. Unknown: take the longer.",
        group=_FUSE,
    ),
    Number(
        "fitted_fuse",
        "Fuse you fit",
        Scale("current", unit="A", span=(2, 100), default=None, step=5, stock=fuses()),
        measure="Empty: the one that the load asks for.",
        way_out="2 to 100 A.",
        sign="I_fitted",
        group=_FUSE,
    ),
    Number(
        "relay_rating",
        "Relay's current, hot and for good",
        Scale("current", unit="A", span=(1, 200), default=None, step=5),
        measure="On its sheet, for a motor load, at [85 °C|185 °F] or as hot as it sits; what is "
        "printed on "
        "the case holds at [23 °C|73 °F]. Left empty, it is not checked.",
        way_out="1 to 200 A.",
        sign="I_relay",
        group=_FUSE,
    ),
    Number(
        "relay_peak",
        "Relay's current when it closes",
        Scale("current", unit="A", span=(1, 600), default=None, step=5),
        measure="“Making current” on its sheet: contacts weld above it.",
        way_out="1 to 600 A.",
        sign="I_make",
        group=_FUSE,
    ),
    CIRCUITS,
    Number(
        "alternator_output",
        "Alternator's output, hot, at idle",
        Scale("current", unit="A", span=(10, 400), default=None, step=5),
        measure="On its curve, at the speed that the accessory page gives for idle: about half of "
        "what is stamped on it. Common practice. Left empty, nothing is judged.",
        way_out="10 to 400 A.",
        sign="I_alt",
        group=_HARNESS,
    ),
    Number(
        "base_load",
        "What the truck draws without these",
        Scale("current", unit="A", span=(0, 300), default=None, step=5),
        measure="Clamp meter on the battery's and the alternator's leads: lights, blower motor, "
        "ignition and injectors on.",
        way_out="0 to 300 A.",
        sign="I_truck",
        group=_HARNESS,
    ),
)
