"""What the coolant loop's page asks: pump, hoses, fittings, coolers, coolant, tank, bucket."""

from __future__ import annotations

from site_src.data.hoses import INCH, dash_sizes, hose_kind
from site_src.data.pipe_fittings import pipe_fittings
from site_src.lookups import air, bed_hoses
from site_src.model.fields import SIXTEENTHS, Choice, Field, Inch, Number, Option, Parts, Scale
from site_src.model.said import both

_BY_BORE = tuple(
    row.bore for row in hose_kind("textile_coolant").rows if 0.012 < row.bore < 2.1 * INCH
)
_DASHES = tuple(size for size in dash_sizes("wire_braid") if 8 <= size.number <= 24)

_INCHES = {0.5: "1/2", 0.625: "5/8", 0.75: "3/4", 0.875: "7/8", 1.0: "1", 1.25: "1 1/4"}
_INCHES |= {1.5: "1 1/2", 1.75: "1 3/4", 2.0: "2"}


def _key(bore: float) -> str:
    """Return the option key of a hose that is bought by its bore."""
    return f"{bore / INCH:g}in"


SIZES = {_key(bore): bore for bore in _BY_BORE} | {f"dash{s.number}": s.bore for s in _DASHES}
"""Hose sizes and their bores, m."""


def _following(bores: list[float]) -> dict[float, float]:
    """Return the next larger bore of each; the largest has a size of a quarter inch more."""
    return dict(zip(bores, [*bores[1:], bores[-1] + INCH / 4], strict=True))


_NEXT_BORE = _following(list(_BY_BORE))
_NEXT_DASH = _following([size.bore for size in _DASHES])
NEXT_SIZES = {
    key: (_NEXT_DASH if key.startswith("dash") else _NEXT_BORE)[bore] for key, bore in SIZES.items()
}
"""The bore of the next size up, m."""

OWN_STEP = 3e-3
"""What a size up adds to a bore that is in no list, m."""


def _across(diameter: float) -> str:
    """Write a diameter, given in metres, as either shop reads it."""
    return both(f"{1e3 * diameter:.1f} mm", f"{diameter / INCH:.3f} in")


SIZE_NAMES = tuple((f"−{size.number}", _across(size.bore), _across(size.tube)) for size in _DASHES)
"""Dash, its real bore, and the tube that it is named after."""

KINDS = {each.key: each.coefficient for each in pipe_fittings()}
TURNS = {each.key: float(each.turns) for each in pipe_fittings()}

PUMPS = ("one", "series", "parallel")

_MOVED = "Exchanger moved to the bed"

_SIZE_OPTIONS = (
    *(
        Option(_key(bore), f"{_INCHES[round(bore / INCH, 5)]} in · {1e3 * bore:.1f} mm", group="By")
        for bore in _BY_BORE
    ),
    *(Option(f"dash{s.number}", f"−{s.number} · {_across(s.bore)}", group="Dash") for s in _DASHES),
)
_GROUPS = {"By": "Bought by its bore, and push-on", "Dash": "By dash, with screwed ends"}
_SIZES = tuple(Option(o.key, o.label, group=_GROUPS[o.group]) for o in _SIZE_OPTIONS)


def _side(key: str) -> Choice:
    """Return the entry of where a part is."""
    return Choice(
        key,
        "Where",
        (Option("rest", "After the pump, or in the return"), Option("suction", "Tank to pump")),
        "rest",
    )


_RUN = (
    Choice("run_size", "Hose", (*_SIZES, Option("own", "A bore that I enter")), "0.75in"),
    Number(
        "run_bore",
        "Bore",
        Scale("length", unit="mm", span=(8, 55), default=19, step=0.5, inch=SIXTEENTHS),
        way_out="[8 to 55 mm|0.32 to 2.1 in]: look at the unit.",
        sign="D",
        when=("run_size", ("own",)),
    ),
    Number(
        "run_length",
        "Length, bends included",
        Scale("run", unit="m", span=(0.02, 12), default=1, step=0.1),
        way_out="Split a longer run in two.",
        sign="L",
    ),
    Number(
        "run_bends",
        "Bends in it",
        Scale("ratio", unit="", span=(0, 12), default=0, step=1),
        way_out="Split a run with more bends in two.",
        sign="n",
    ),
    Number(
        "run_angle",
        "Angle of each",
        Scale("angle", unit="deg", span=(10, 180), default=90, step=15),
        way_out="A bend turns through 10 to 180°.",
        sign="α",
    ),
    Number(
        "run_radius",
        "Radius of each, to the middle of the hose",
        Scale("length", unit="mm", span=(30, 400), default=120, step=10),
        way_out="Tighter than [30 mm|1.2 in] is an elbow: enter it as a fitting. Over [400 mm|16 "
        "in] is no bend.",
        sign="r",
    ),
    _side("run_side"),
)

_FITTING = (
    Choice(
        "fitting_kind",
        "Fitting",
        tuple(Option(each.key, each.label) for each in pipe_fittings()),
        "straight",
    ),
    Number(
        "fitting_count",
        "How many",
        Scale("ratio", unit="", span=(1, 12), default=2, step=1),
        way_out="1 to 12 alike; enter others as another row.",
        sign="n",
    ),
    Number(
        "fitting_bore",
        "Smallest hole through it",
        Scale("length", unit="mm", span=(6, 55), default=16, step=0.5, inch=SIXTEENTHS),
        way_out="Drill shank or caliper in the bore; [6 to 55 mm|0.24 to 2.1 in].",
        sign="d",
    ),
    Choice(
        "fitting_size",
        "In hose",
        (*_SIZES, Option("own", "No step in bore")),
        "0.75in",
    ),
    _side("fitting_side"),
)


def _pump(
    key: str, label: str, scale: Scale, options: tuple[str, ...], sign: str, example: str = ""
) -> Number:
    """Return an entry of the pump's curve."""
    return Number(
        key,
        label,
        scale,
        measure="Off the maker's sheet or the label, in water, one pump alone.",
        way_out="Look at the unit: a sheet may give metres of water or bar.",
        sign=sign,
        first=bool(example),
        when=("water_pump_from", options),
        example=example,
    )


def _flow(default: float, high: float = 150) -> Scale:
    """Return the scale of a flow."""
    return Scale("volume_flow", unit="lpm", span=(3, high), default=default, step=1)


def _head(default: float) -> Scale:
    """Return the scale of a pump's pressure."""
    return Scale("head", unit="kPa", span=(2, 300), default=default, step=2)


_PUMP = (
    Choice(
        "water_pump_from",
        "What is known of the pump",
        (
            Option("ends", "Greatest flow and greatest pressure"),
            Option("point", "Those, and a point between them"),
            Option("rated", "One rating: so much flow at a pressure"),
        ),
        "ends",
        measure="Greatest flow is against no pressure, and greatest pressure with the outlet shut.",
    ),
    _pump(
        "water_pump_open",
        "Greatest flow",
        _flow(42),
        ("ends", "point"),
        "Q₀",
        "Enter your pump's greatest flow.",
    ),
    _pump(
        "water_pump_shutoff",
        "Greatest pressure",
        _head(62),
        ("ends", "point"),
        "p₀",
        "Enter your pump's greatest pressure.",
    ),
    _pump("water_pump_mid_flow", "Point between: flow", _flow(24, 140), ("point",), "Q_1"),
    _pump("water_pump_mid_pressure", "Point between: pressure", _head(46), ("point",), "p_1"),
    _pump(
        "water_pump_flow",
        "Rated flow",
        _flow(20, 100),
        ("rated",),
        "Q_r",
        "Enter your pump's rated flow.",
    ),
    _pump(
        "water_pump_pressure",
        "Pressure at that flow",
        _head(40),
        ("rated",),
        "p_r",
        "Enter your pump's pressure at its rated flow.",
    ),
)

_VOLTAGE = (
    Choice(
        "water_pump_control",
        "The pump's speed",
        (
            Option("follows", "Follows its voltage: plain motor"),
            Option("holds", "Is held by electronics of its own"),
        ),
        "follows",
    ),
    Number(
        "water_pump_rated_voltage",
        "Voltage of its curve",
        Scale("voltage", unit="V", span=(10, 16), default=13.5, step=0.5),
        measure="As the maker states it: 12 or 13.5 V are usual.",
        way_out="Makers state 12 to 14 V.",
        sign="U_r",
        when=("water_pump_control", ("follows",)),
    ),
    Number(
        "water_pump_voltage",
        "Voltage at the pump",
        Scale("voltage", unit="V", span=(8, 16), default=13, step=0.1),
        measure="Meter on the pump's own terminals, running: not at the battery.",
        way_out="Below 8 V look for a bad ground or too thin a wire.",
        sign="U",
        when=("water_pump_control", ("follows",)),
    ),
    Choice(
        "water_pumps",
        "Pumps in the loop",
        (
            Option("one", "One"),
            Option("series", "Two alike, one after the other"),
            Option("parallel", "Two alike, side by side"),
        ),
        "one",
    ),
)


def _core(name: str, label: str, flow: float, drop: float, content: float) -> tuple[Number, ...]:
    """Return the entries of a charge cooler or an exchanger."""
    return (
        Number(
            f"{name}_flow",
            f"{label}: measured flow",
            Scale("volume_flow", unit="lpm", span=(3, 150), default=flow, step=1),
            measure="From its maker, or bucket and watch with a gauge on either side. One point.",
            way_out="Enter the flow that the drop belongs to.",
        ),
        Number(
            f"{name}_drop",
            f"{label}: pressure drop at that flow",
            Scale("head", unit="kPa", span=(0.5, 150), default=drop, step=0.5),
            measure="Inlet less outlet, both gauges at the same height.",
            way_out="[0.5 to 150 kPa|0.073 to 21 psi]: look at the unit.",
        ),
        Number(
            f"{name}_content",
            f"{label}: coolant in it",
            Scale("volume", unit="L", span=(0, 15), default=content, step=0.1),
            measure="Fill it from a jug, or weigh it empty and full.",
            way_out="Up to [15 L|3.9 US gal].",
        ),
    )


FIELDS: tuple[Field, ...] = (
    *_PUMP,
    Parts(
        "loop_runs",
        "Hoses, from tank to tank",
        _RUN,
        most=10,
        default=(
            {"run_length": 0.4, "run_side": "suction"},
            {"run_length": 2.6, "run_bends": 3},
            {"run_length": 2.2, "run_bends": 3},
            {"run_length": 0.8, "run_bends": 1},
        ),
        measure="A tape along the hose. The example has its exchanger in the nose.",
    ),
    Parts(
        "loop_fittings",
        "Fittings",
        _FITTING,
        most=10,
        default=(
            {"fitting_kind": "straight", "fitting_count": 6},
            {"fitting_kind": "elbow", "fitting_count": 2},
            {"fitting_kind": "tank", "fitting_count": 1},
        ),
        measure="Count them along the way. The smallest hole counts most: its bore works to the "
        "fourth power.",
    ),
    *_VOLTAGE,
    *_core("cooler_core", "Charge cooler", 20, 9, 0.7),
    *_core("exchanger_core", "Exchanger", 20, 6, 1.2),
    Choice(
        "core_liquid",
        "Both were measured with",
        (
            Option("water", "Water, about [20 °C|68 °F]"),
            Option("coolant", "This coolant, as below"),
        ),
        "water",
    ),
    Number(
        "glycol_share",
        "Glycol in the coolant, by volume",
        Scale("percent", unit="pct", span=(0, 60), default=50, step=5),
        sign="φ",
        measure="As it was mixed, or by the tester: ethylene glycol, litres of it in a hundred of "
        "the mix. Half and half by volume is 53 % by mass.",
        way_out="0 to 60 %: more than that is thicker, carries less heat and freezes sooner.",
    ),
    Number(
        "loop_temperature",
        "Coolant in the loop",
        Scale("temperature", unit="C", span=(0, 95), default=45, step=5),
        sign="T",
        measure="Warm, after a run; cold to see the flow on a cold morning.",
        way_out="[0 to 95 °C|32 to 203 °F].",
    ),
    Number(
        "charge_heat",
        "Heat that the charge cooler gives to the coolant",
        Scale("power", unit="kW", span=(0.5, 120), default=23, step=1),
        sign="Φ",
        measure="At full power: [about 1 kW for each kg/s of air and each °C that the cooler takes "
        "off it: 0.35 kg/s cooled by 65 °C is 23 kW|air in lb/min × °F that the cooler takes off "
        "it ÷ 177, in hp: 46 lb/min cooled by 117 °F is 30 hp]. The page “Charge cooling” works it "
        "out.",
        way_out="Air flow in kg/s times the degrees that the cooler takes off it, in kW.",
    ),
    Number(
        "tank_height",
        "Level in the tank over the pump's inlet",
        Scale("length", unit="mm", span=(-1000, 2000), default=300, step=50),
        sign="h",
        measure="Tape, straight up. Negative if the pump sits higher than the level.",
        way_out="The tank belongs above the pump.",
    ),
    Number(
        "tank_pressure",
        "Pressure in the tank",
        Scale("gauge_pressure", unit="kPa", span=(0, 200), default=0, step=10, inch=Inch(step=1)),
        sign="p_t",
        measure="0 if it is vented. A pressure cap holds its rating only once warm: 0 is safe.",
        way_out="Caps hold up to [200 kPa|29 psi].",
    ),
    Number(
        "tank_content",
        "Coolant in the tank",
        Scale("volume", unit="L", span=(0, 80), default=4, step=1),
        measure="At the running level.",
        way_out="Up to [80 L|21 US gal].",
    ),
    Number(
        "npsh_required",
        "Pressure over boiling that the pump needs",
        Scale("head", unit="kPa", span=(1, 150), default=None, step=5),
        measure="The maker's NPSH, in metres of water or as a pressure. Left empty, nothing is "
        "judged by it.",
        way_out="Ask the pump's maker, or leave it empty.",
    ),
    *air.PRESSURE_FIELDS,
    Number(
        "bucket_time",
        "Bucket test: seconds to fill it",
        Scale("time", unit="s", span=(5, 300), default=None, step=1),
        measure="Return hose into a bucket held at the tank's level, tank topped up, pump at the "
        "voltage and coolant as entered here. Left empty, the model stands as it is.",
        way_out="5 to 300 s: take a bucket that fills in ten or more.",
        sign="t_b",
    ),
    Number(
        "bucket_volume",
        "Bucket test: what it holds",
        Scale(
            "volume", unit="L", span=(2, 30), default=10, step=1, inch=Inch(default=2.5, step=0.5)
        ),
        measure="To the mark that was filled to.",
        way_out="[2 to 30 L|0.53 to 7.9 US gal].",
        sign="V_b",
    ),
    *bed_hoses.entries(_MOVED),
    Number(
        "moved_bends",
        "Right angles more on the way to the bed",
        Scale("ratio", unit="", span=(0, 20), default=4, step=1),
        measure="Count the sweeps along the frame, there and back, that the nose has not.",
        way_out="0 to 20; two of 45° make one.",
        sign="n_b",
        group=_MOVED,
    ),
    Number(
        "moved_radius",
        "Radius of those sweeps, to the middle of the hose",
        Scale("length", unit="mm", span=(30, 400), default=150, step=10),
        measure="Rule across the bend; the page “Hose bend” has it from chord and rise.",
        way_out="[30 to 400 mm|1.2 to 15 in].",
        sign="R_b",
        group=_MOVED,
    ),
)
