"""Wiring: what a wire takes from a pump or a fan, how warm it gets, and the fuse that protects it.

All of it is arithmetic but for how a fuel pump's flow follows its voltage. Sizes of wire and fuse
are found by going through the listed ones.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from calc import fuel
from calc import wiring as calc
from calc.domain import Real
from site_src.data.wires import INSULATION, Wire, bundles, fuses, stands, wires
from site_src.lookups.wire_fields import FIELDS, HEATED, PUMPS
from site_src.model.answers import (
    Answer,
    Band,
    ChartView,
    CurveView,
    EachView,
    ListView,
    ProcedureView,
    Views,
    Working,
)
from site_src.model.entries import Entries, feeding
from site_src.model.formulas import Origin
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.symbols import trace_of
from site_src.tables.trace import (
    Refusal,
    first_reaching,
    first_within,
    greatest,
    least,
    tabulated,
    within,
)

TITLE = "Pump and fan wiring"

NEAR_DROP = 0.8
"""Share of the allowed drop from which it is near."""

NEAR_HEAT = 15.0
"""Degrees under what the insulation stands from which it is near, K."""

NEAR_CURRENT = 0.9
"""Share of a current limit from which it is near."""

HOTTEST = calc.FREEZING + 200.0
"""Copper above this is no wiring any more, K."""

LEAST_LEFT = 3.0
"""Least voltage at the load that still is one, V."""

LEAST_HEADROOM = 5.0
"""Least by which the insulation must stand more than the air, K."""

_HOT_AIR = (
    "The air is as hot as the insulation stands, so the wire may carry nothing. Better insulation, "
    "or another way."
)
_GLOWS = "This current would burn the wire. Take a larger size."
_GONE = "The wire takes nearly all of the voltage. Take a larger size, and look at the length."
_COLLAPSE = (
    "The wire can't bring this power: the voltage collapses as the load asks for more. Take a "
    "larger size."
)
_BIG_FUSE = "Over 80 A: split the load, or follow the maker of a bolted fuse."
_NO_FUSE = "No listed fuse protects this wire here: a larger wire, or a cooler place."
_BIG_WIRE = (
    "Over 35 mm² or 2 AWG: shorten the run, split the load, or look for what the connections and "
    "the frame take."
)
_OTHER_FAMILY = Refusal("")
_NO_FLOW = "Another load has no flow."
WEAK = "At this voltage, under half of what its sheet is for, flow isn't known."

VOLTAGE_FACTOR = tabulated(
    "pump_voltage_factor",
    fuel.pump_voltage_factor,
    cubic("ratio", "voltage over rated voltage", 0.5, 1.6),
    cubic("exponent", "exponent", 1.0, 2.5),
    tolerance=1e-5,
    numbers="f4",
)

_METRIC = tuple(wire for wire in wires() if wire.is_metric)
_GAUGE = tuple(wire for wire in wires() if not wire.is_metric)
_FUSES = tuple((rating, rating) for rating in fuses())


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out one circuit, its fuse, the least size for it, and what the harness adds up to."""
    found = _circuit(e)
    found |= _flow(e, found)
    found |= _fuse(e, found)
    found |= _least_size(e, found)
    return found | _harness(e)


def supply(e: Entries) -> Mapping[str, Real]:
    """Work out a fuel pump's circuit for another page, by what it asks and the usual others."""
    found = _circuit(feeding(e.called(PUMPS), FIELDS, TITLE, {}))
    if trace := trace_of(*found.values()):
        for value in (*ANSWERS, *WORKINGS):
            if value.key in found:
                trace.came_from(found[value.key], Origin(TITLE, value))
    return found


def _circuit(e: Entries) -> dict[str, Real]:
    """Work out resistance, current, drop and heat of the circuit with the wire chosen."""
    limit = e.pick("insulation", HEATED)
    air = _air(e, limit)
    in_table, share = e.pick("wire", _by_insulation(e)), e.pick("bundle", bundles())
    carries = in_table * share
    nominal = e.pick(
        "known_by",
        {
            "current": e["load_current"],
            "power": calc.rated_current(e["load_power"], e["rated_voltage"]),
            "regulated": calc.rated_current(e["load_power"], e["system_voltage"]),
        },
    )
    warm = _warm(air, limit, nominal, carries)
    length = e["feed_length"] + e.entered_or("return_length", e["feed_length"])
    per_length = e.pick("wire", {wire.key: wire.resistance for wire in wires()})
    wire = calc.wire_resistance(per_length, length, calc.copper_factor(warm))
    others = e["connections"] + e.pick("ground", {"wire": 0.0, "frame": e["frame_resistance"]})
    resistance = wire + others
    current = _current(e, nominal, e["system_voltage"], resistance)
    cranking = _current(e, nominal, e["cranking_voltage"], resistance)
    drop = calc.voltage_drop(current, resistance)
    left = e["system_voltage"] - drop
    left_cranking = e["cranking_voltage"] - calc.voltage_drop(cranking, resistance)
    return {
        "insulation_limit": limit,
        "heat_near": limit - NEAR_HEAT,
        "in_table": in_table,
        "share": share,
        "carries": carries,
        "nominal_current": nominal,
        "wire_warm": warm,
        "length": length,
        "per_length": per_length,
        "wire_resistance": wire,
        "other_resistance": others,
        "resistance": resistance,
        "current": current,
        "drop": drop,
        "drop_share": drop / e["system_voltage"],
        "load_voltage": within(left, LEAST_LEFT, None, below=_GONE),
        "least_voltage": e["system_voltage"] - e["drop_limit"],
        "near_voltage": e["system_voltage"] - NEAR_DROP * e["drop_limit"],
        "cranking_left": within(left_cranking, LEAST_LEFT, None, below=_GONE),
        "wire_temperature": _warm(air, limit, current, carries),
    }


def _air(e: Entries, limit: Real) -> Real:
    """Return the air round the wire, if the insulation stands more than that."""
    over = limit - e["wire_air"]
    return within(over, LEAST_HEADROOM, None, below=_HOT_AIR, gives=e["wire_air"])


def _by_insulation(e: Entries) -> dict[str, Real]:
    """Return what each size carries alone in air of 30 °C, for the insulation chosen."""
    return {wire.key: _alone(e, wire) for wire in wires()}


def _alone(e: Entries, wire: Wire) -> Real:
    """Return what a size carries alone in air of 30 °C, for the insulation chosen."""
    return e.pick("insulation", {str(limit): wire.allowed[limit] for limit in INSULATION})


def _warm(air: Real, limit: Real, current: Real, carries: Real) -> Real:
    """Return the temperature of the copper, if it is one that a wire survives for a while."""
    warm = calc.conductor_temperature(air, limit, current / carries)
    return within(warm, None, HOTTEST, above=_GLOWS)


def _current(e: Entries, nominal: Real, voltage: Real, resistance: Real) -> Real:
    """Return the current at a battery voltage: more than nominal where electronics hold power."""
    room = within(
        calc.room_for_power(voltage, e["load_power"], resistance), 0.0, None, below=_COLLAPSE
    )
    regulated = calc.regulated_current(voltage, e["load_power"], room)
    return e.pick("known_by", {"current": nominal, "power": nominal, "regulated": regulated})


def _flow(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out what the voltage leaves of the flow on the load's sheet."""
    return {
        "flow_share": _flow_at(e, f["load_voltage"]),
        "cranking_flow": _flow_at(e, f["cranking_left"]),
    }


def _flow_at(e: Entries, voltage: Real) -> Real:
    """Return the share of the sheet's flow at a voltage."""
    ratio = voltage / e["rated_voltage"]
    pumped = VOLTAGE_FACTOR(ratio, e["pump_exponent"], below={"ratio": WEAK})
    turned = calc.flow_share(voltage, e["rated_voltage"])
    by_load = {"fuel_pump": pumped, "coolant_pump": turned, "fan": turned}
    return e.pick("load", {**by_load, "other": Refusal(_NO_FLOW)})


def _fuse(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the fuse that the load needs and the largest that the wire may have."""
    times = e.pick("inrush_time", {each.key: each.times for each in stands()})
    for_load = calc.fuse_for_load(f["current"], calc.FUSE_SHARE)
    for_peak = calc.fuse_for_inrush(e["inrush_current"], times)
    needed = greatest(for_load, e.if_entered("inrush_current", for_peak, for_load))
    size = first_reaching(needed, _FUSES, Refusal(_BIG_FUSE))
    used = e.entered_or("fitted_fuse", size)
    limit = f["insulation_limit"]
    air_factor = calc.air_factor(limit, _air(e, limit))
    allowed = calc.allowed_current(f["in_table"], f["share"], air_factor)
    protected = e.pick("wire", {wire.key: wire.fuse for wire in wires()})
    return {
        "air_factor": air_factor,
        "allowed_current": allowed,
        "protected": protected,
        "inrush_times": times,
        "fuse_for_load": for_load,
        "fuse_rating": needed,
        "fuse_size": size,
        "fuse": used,
        "fuse_most": first_within(least(allowed, protected), _FUSES[::-1], Refusal(_NO_FUSE)),
        "fuse_share": f["current"] / e["fitted_fuse"],
        "fuse_stands": used * times,
        "inrush_near": 1.1 * e["inrush_current"],
        "inrush": e["inrush_current"],
        "relay_peak_near": NEAR_CURRENT * e["relay_peak"],
        "relay_current": f["current"],
        "relay_near": NEAR_CURRENT * e["relay_rating"],
    }


def _least_size(e: Entries, f: Mapping[str, Real]) -> dict[str, Real]:
    """Work out the least size in the wire's own family, by drop, by heat and by its fuse."""
    alone = f["fuse_size"] / (f["share"] * f["air_factor"])
    metric, gauge = (
        {
            "drop": first_within(
                e["drop_limit"],
                [(_drop_with(e, f, wire), _named(wire)) for wire in family],
                Refusal(_BIG_WIRE),
            ),
            "heat": first_reaching(
                alone, [(_alone(e, wire), _named(wire)) for wire in family], Refusal(_BIG_WIRE)
            ),
            "fuse": first_reaching(
                f["fuse_size"],
                [(wire.fuse, _named(wire)) for wire in family],
                Refusal(_BIG_WIRE),
            ),
        }
        for family in (_METRIC, _GAUGE)
    )
    return {
        "alone_needed": alone,
        "metric_for_drop": metric["drop"],
        "metric_for_heat": metric["heat"],
        "metric_for_fuse": metric["fuse"],
        "gauge_for_drop": gauge["drop"],
        "gauge_for_heat": gauge["heat"],
        "gauge_for_fuse": gauge["fuse"],
        "least_metric": _if_family(e, _METRIC, greatest(*metric.values())),
        "least_gauge": _if_family(e, _GAUGE, least(*gauge.values())),
    }


def _named(wire: Wire) -> float:
    """Return what a size is called by: its area, or its gauge."""
    return wire.area if wire.is_metric else float(wire.gauge)


def _drop_with(e: Entries, f: Mapping[str, Real], wire: Wire) -> Real:
    """Return the drop with another size, which is as warm as its own current makes it.

    Past what a wire survives it is taken no warmer: its fuse would not fit it anyway.
    """
    carries = f["share"] * _alone(e, wire)
    load = least(f["current"] / carries, 1000.0)
    limit = f["insulation_limit"]
    warm = least(calc.conductor_temperature(_air(e, limit), limit, load), HOTTEST)
    own = calc.wire_resistance(wire.resistance, f["length"], calc.copper_factor(warm))
    return calc.voltage_drop(f["current"], own + f["other_resistance"])


def _if_family(e: Entries, family: Sequence[Wire], size: Real) -> Real:
    """Return a size if the chosen wire is of its family."""
    return e.pick("wire", {wire.key: size if wire in family else _OTHER_FAMILY for wire in wires()})


def _harness(e: Entries) -> dict[str, Real]:
    """Work out what all circuits draw together, and what the alternator has for them."""
    total = e.total("circuits", lambda circuit: circuit["circuit_current"])
    spare = e["alternator_output"] - e["base_load"]
    return {
        "harness_current": total,
        "alternator_spare": spare,
        "spare_near": NEAR_CURRENT * spare,
        "reserve": spare - total,
        "main_fuse": first_reaching(
            calc.fuse_for_load(total, calc.FUSE_SHARE), _FUSES, Refusal(_BIG_FUSE)
        ),
    }


# --- the page --------------------------------------------------------------------------------

_DECIMALS = {
    "area": {"mm2": 1},
    "current": {"A": 1},
    "percent": {"pct": 0},
    "ratio": {"": 0},
    "temperature": {"C": 0, "F": 0},
    "voltage": {"V": 2},
}
_TOLERANCES = {
    "area": (1e-6, 0.1),
    "current": (1e-6, 1.0),
    "percent": (0.02, 5.0),
    "ratio": (1e-9, 0.1),
    "temperature": (1e-6, 10.0),
    "voltage": (1e-6, 0.05),
}
"""Tolerance of the recipe and uncertainty of the model, by quantity, in the first unit."""


def _answer(
    key: str, label: str, of: str, *by: Callable[..., Real], sign: str = "", rank: str = "more"
) -> Answer:
    """Return an answer."""
    tolerance, uncertainty = _TOLERANCES[of]
    return Answer(
        key,
        label,
        of=of,
        decimals=_DECIMALS[of],
        tolerance=tolerance,
        uncertainty=uncertainty,
        sign=sign,
        rank=rank,
        by=by,
    )


ANSWERS = (
    replace(
        _answer("fuse", "Fuse", "current", calc.fuse_for_load, calc.fuse_for_inrush, rank="second"),
        decimals={"A": 1},
        band=Band(
            side="max",
            limit="fuse_most",
            near="fuse_most",
            within="A {value} fuse protects this wire, which may have up to {limit}.",
            near_words="A {value} fuse is just what this wire may have.",
            beyond="A {value} fuse does not protect this wire, which may have {limit} at most: the "
            "wire would burn first. Take a larger wire, better insulation or a cooler place.",
        ),
        note="The next size up from the current over 0.8, common practice, and from the peak at "
        "switch-on. It is there for the wire, not for the load.",
    ),
    replace(
        _answer(
            "load_voltage",
            "Voltage at the load",
            "voltage",
            calc.voltage_drop,
            rank="main",
        ),
        note="Check it: meter on the load's own terminals, running, warm.",
        band=Band(
            side="min",
            limit="least_voltage",
            near="near_voltage",
            within="{value} arrive, {margin} over the least that you allow.",
            near_words="{value} arrive, only {margin} over the least that you allow: a green plug "
            "takes that.",
            beyond="{value} arrive, {margin} under the least that you allow: a larger wire, a "
            "shorter way or better grounds.",
        ),
    ),
    replace(
        _answer("least_metric", "Least wire", "area", rank="second"),
        optional=True,
        note="Keeps to the drop, stays cool enough, and may have that fuse.",
    ),
    replace(
        _answer("least_gauge", "Least wire, AWG", "ratio", rank="second"),
        optional=True,
        note="Keeps to the drop, stays cool enough, and may have that fuse.",
    ),
    _answer("drop", "Drop, there and back", "voltage", calc.voltage_drop, sign="ΔU"),
    replace(
        _answer("drop_share", "Drop, of the battery's voltage", "percent"), decimals={"pct": 1}
    ),
    replace(
        _answer("flow_share", "Flow left of the sheet's", "percent", calc.flow_share),
        optional=True,
        note="Coolant pump and fan in proportion to voltage, fuel pump by the exponent below. "
        "Common practice; a maker's curve at your voltage is better.",
    ),
    replace(
        _answer("cranking_left", "Voltage at the load, cranking", "voltage", calc.voltage_drop),
        note="With the current as above. A fuel pump has to make its pressure with this.",
    ),
    replace(_answer("cranking_flow", "Flow left while cranking", "percent"), optional=True),
    replace(
        _answer(
            "wire_temperature",
            "The wire settles at",
            "temperature",
            calc.conductor_temperature,
            sign="t_wire",
        ),
        band=Band(
            side="max",
            limit="insulation_limit",
            near="heat_near",
            within="The wire settles at {value}; its insulation stands {limit}.",
            near_words="The wire settles at {value}, close to the {limit} that its insulation "
            "stands.",
            beyond="The wire would settle at {value}, over the {limit} that its insulation "
            "stands: a larger wire, fewer in the bundle, or a cooler place.",
        ),
    ),
    replace(
        _answer(
            "allowed_current", "What this wire may carry here", "current", calc.allowed_current
        ),
        note="33 CFR 183.425 is for boats: the wire's own maker comes first.",
    ),
    _answer("fuse_most", "Largest fuse for this wire", "current"),
    replace(
        _answer("fuse_share", "The fuse you fit is loaded to", "percent"),
        optional=True,
        band=Band(
            side="max",
            limit=calc.FUSE_SHARE,
            near=calc.FUSE_SHARE,
            within="Your fuse carries {value} of its rating.",
            near_words="Your fuse carries {value} of its rating, all that it should.",
            beyond="Your fuse carries {value} of its rating: over {limit} it ages and opens on a "
            "hot day.",
        ),
    ),
    replace(
        _answer("fuse_stands", "Peak that the fuse stands", "current", calc.fuse_for_inrush),
        band=Band(
            side="min",
            limit="inrush",
            near="inrush_near",
            within="The fuse stands a peak of {value} for that long; yours is {limit}.",
            near_words="The fuse stands a peak of {value} for that long; yours is {limit}, hardly "
            "less.",
            beyond="The fuse stands a peak of {value} for that long, and yours is {limit}: it "
            "would open at switch-on.",
            unchecked="Peak at switch-on not checked: measure it, or ask the maker.",
        ),
    ),
    replace(
        _answer("relay_current", "Through the relay", "current"),
        band=Band(
            side="max",
            limit="relay_rating",
            near="relay_near",
            within="Relay carries {value}, {margin} under what it may.",
            near_words="Relay carries {value}, only {margin} under what it may.",
            beyond="Relay carries {value}, {margin} over what it may: a larger relay, or one for "
            "each load.",
            unchecked="Relay not checked: enter its current, hot and for good.",
        ),
    ),
    replace(
        _answer("inrush", "Through the relay as it closes", "current"),
        optional=True,
        band=Band(
            side="max",
            limit="relay_peak",
            near="relay_peak_near",
            within="Relay closes on {value}, {margin} under what its contacts stand.",
            near_words="Relay closes on {value}, only {margin} under what its contacts stand.",
            beyond="Relay closes on {value}, {margin} over what its contacts stand: they weld, and "
            "the pump runs on.",
            unchecked="Relay's contacts not checked at switch-on: enter its making current.",
        ),
    ),
    replace(
        _answer("harness_current", "All circuits together", "current"),
        band=Band(
            side="max",
            limit="alternator_spare",
            near="spare_near",
            within="The harness draws {value}, {margin} less than the alternator has to spare.",
            near_words="The harness draws {value}, only {margin} less than the alternator has to "
            "spare.",
            beyond="The harness draws {value}, {margin} more than the alternator has to spare: at "
            "idle the battery pays, and the voltage sags.",
            unchecked="Alternator not checked: enter its output, and what the truck draws.",
        ),
    ),
    replace(_answer("reserve", "Left of the alternator at idle", "current"), optional=True),
    replace(
        _answer("main_fuse", "Main fuse, if one wire feeds them all", "current"),
        note="That wire is a circuit of its own: work it out above with all the current.",
    ),
    _answer("current", "Current", "current", calc.regulated_current, sign="I"),
)


def _on(
    key: str,
    label: str,
    of: str,
    unit: str,
    decimals: int,
    sign: str = "",
    *by: Callable[..., Real],
) -> Working:
    """Return a value on the way."""
    return Working(key, label, of=of, unit=unit, decimals=decimals, sign=sign, by=by)


def _size(key: str, label: str, metric: bool) -> Working:
    """Return a size found by going through the listed ones."""
    return _on(key, label, "area", "mm2", 1) if metric else _on(key, label, "ratio", "", 0)


WORKINGS = (
    _on("least_voltage", "Least voltage allowed", "voltage", "V", 2, "U_min"),
    _on("insulation_limit", "What the insulation stands", "temperature", "C", 0, "t_max"),
    _on("in_table", "Alone, in air of 30 °C", "current", "A", 0, "I_alone"),
    _on("share", "Left in the bundle", "ratio", "", 3, "k_b"),
    _on("carries", "Carries in the bundle, in air of 30 °C", "current", "A", 1, "I_30"),
    _on("nominal_current", "Current without the drop", "current", "A", 1, "", calc.rated_current),
    _on(
        "wire_warm",
        "Copper for its resistance",
        "temperature",
        "C",
        0,
        "t",
        calc.conductor_temperature,
    ),
    _on("length", "There and back", "run", "m", 2, "L"),
    _on("per_length", "Of one metre at 20 °C", "resistance_per_length", "mohmpm", 3, "r"),
    _on(
        "wire_resistance",
        "Of the wire, warm",
        "resistance",
        "mohm",
        1,
        "R_w",
        calc.copper_factor,
        calc.wire_resistance,
    ),
    _on("other_resistance", "Of all but the wire", "resistance", "mohm", 1, "R_o"),
    _on("resistance", "Resistance in all", "resistance", "mohm", 1, "R"),
    _on("air_factor", "Left by the air", "ratio", "", 3, "", calc.air_factor),
    _on("protected", "Largest fuse by the table", "current", "A", 0),
    _on("inrush_times", "Times its rating that a fuse stands", "ratio", "", 2),
    _on("fuse_for_load", "Rating for the load", "current", "A", 1, "", calc.fuse_for_load),
    _on("fuse_rating", "Rating asked of the fuse", "current", "A", 1),
    _on("fuse_size", "Next size up", "current", "A", 1),
    _on("alone_needed", "Alone in air of 30 °C it would have to carry", "current", "A", 1),
    _size("metric_for_drop", "Least area for the drop", True),
    _size("metric_for_heat", "Least area for heat", True),
    _size("metric_for_fuse", "Least area for the fuse", True),
    _size("gauge_for_drop", "Gauge for the drop", False),
    _size("gauge_for_heat", "Gauge for heat", False),
    _size("gauge_for_fuse", "Gauge for the fuse", False),
    _on("alternator_spare", "Alternator's spare at idle", "current", "A", 0),
)

_SIZES = ListView(
    "Wires and their fuses",
    ("Wire", "mΩ/m at 20 °C", "A at 80 °C", "A at 105 °C", "A at 125 °C", "Fuse, A"),
    tuple(
        (
            wire.name,
            f"{1e3 * wire.resistance:.2f}",
            *(f"{wire.allowed[limit]:g}" for limit in (80, 105, 125)),
            f"{wire.fuse:g}",
        )
        for wire in wires()
    ),
    "One wire alone in still air of 30 °C, by what its insulation stands: 33 CFR 183.425, table 5. "
    "A metric wire as the next gauge size under it. Fuse: AC 43.13-1B, table 11-3. The wire's own "
    "maker comes first.",
)

LOOKUP = Lookup(
    key="wire",
    title=TITLE,
    short="Wiring",
    question="What arrives at the pump, and which wire and fuse does it take?",
    stage="wire",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        each=EachView(
            "Wiring list",
            "circuits",
            feeds={
                "load": "circuit_load",
                "load_current": "circuit_current",
                "feed_length": "circuit_length",
                "wire": "circuit_wire",
            },
            fixed={"known_by": "current", "inrush_current": None, "fitted_fuse": None},
            answers=("load_voltage", "fuse", "fuse_most", "least_metric", "least_gauge"),
            write_in=("Colour", "Relay", "Done"),
        ),
        charts=(
            ChartView(
                "By wire",
                "load_voltage",
                "wire",
                tuple(wire.key for wire in wires()),
                also=("drop", "wire_temperature", "allowed_current", "fuse_most"),
            ),
            ChartView(
                "Voltage at the load by wire and length",
                "load_voltage",
                "wire",
                ("mm2_5", "mm4", "mm6", "mm10", "mm16", "awg14", "awg12", "awg10", "awg8", "awg6"),
                "feed_length",
                (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0),
            ),
        ),
        curves=(
            CurveView(
                "Voltage at the load against current",
                "load_voltage",
                "load_current",
                tuple(2.0 * n for n in range(1, 16)),
            ),
        ),
        procedures=(
            ProcedureView(
                "Find the drop with a meter",
                (
                    "Load running, all of it warm, engine at idle. Meter on volts, the lowest "
                    "range that fits.",
                    "Battery's positive post to the load's positive terminal: what the feed takes, "
                    "with its fuse and relay.",
                    "Load's negative terminal to the battery's negative post: what the way back "
                    "takes.",
                    "The two together are the drop. Where one half takes far more than its wire "
                    "should, go along it plug by plug: the volts show where the bad one is.",
                    "Wiggle, and look again. Write date and volts beside the circuit on the list.",
                ),
                "On the posts and terminals themselves, not on their clamps. Common practice.",
            ),
            ProcedureView(
                "Before it is live",
                (
                    "Battery disconnected, negative first, until the last ground is tight.",
                    "Fuse in the feed within [180 mm|7 in] of the battery or of the bus it leaves. "
                    "Common practice.",
                    "Grommet at every hole, loom over every edge, a clip every [450 mm|18 in], "
                    "slack where "
                    "cab, bed and engine move against each other, away from exhaust and belts. "
                    "Common practice.",
                    "Crimp with the tool for the terminal, pull on it, heat-shrink with glue where "
                    "it gets wet.",
                    "Fuel pump: relay through an inertia switch and through oil pressure or the "
                    "engine computer, so that it stops when the engine does.",
                    "Fuses out, battery on, then one fuse at a time: each load must stop when its "
                    "relay is pulled.",
                ),
            ),
        ),
        lists=(_SIZES,),
    ),
    cautions=(
        "Battery disconnected, negative first, before a wire is touched. A wrench from plus to "
        "frame welds itself and burns: rings and watch off.",
        "Every feed has its fuse within [180 mm|7 in] of the battery, common practice. Unfused, a "
        "chafed "
        "wire burns the truck.",
        "With the relay live, pumps and fans start without warning: hands off belts and blades.",
        "A fuel pump must stop by itself: inertia switch, oil pressure or the engine computer. "
        "Fuel and a spark are both here: no live joint near an open line.",
        "The makers of wire, fuse, relay and pump overrule this page, and so does local law.",
    ),
    sources=(
        "Resistance: IEC 60228, class 5, and NFPA 70, chapter 9, table 8; copper at 20 °C plus "
        "0.393 % a degree, FAA AC 43.13-1B, paragraph 11-66.",
        "What a wire may carry: 33 CFR 183.425, table 5 (boats, one wire, air of 30 °C); warmer "
        "air by the square root of what is left to the insulation's limit, as its note 1.",
        "Bundles: MIL-W-5088L, every wire fully loaded, as restated.",
        "Fuse for a wire: FAA AC 43.13-1B, table 11-3; protect the wire, not the load: paragraph "
        "11-48. Load at 80 % of the fuse: common practice. Fuse sizes and what they stand: ISO "
        "8820-3, from memory.",
        "Allowed drop: FAA AC 43.13-1B, table 11-6, from memory. NFPA 70 suggests 3 % for a "
        "branch.",
        "Flow by voltage: affinity law with speed in proportion to voltage, common practice.",
    ),
    leaves_out=(
        "Current of a motor is taken as the same at every voltage; a brushed one draws a little "
        "less as its voltage sags.",
        "Joints that corrode, strands cut by a stripper, aluminium wire.",
        "Blade fuses over 40 A and fusible links have curves of their own.",
        "How a wire warms within the first minute: a winch is not a pump.",
        "A metric wire has the current of the next gauge size under it: a little too cautious.",
    ),
)
