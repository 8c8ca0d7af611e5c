"""Coolant loop: how much flows, what it is lost to, and what a change would give.

Where the pump's curve crosses the loop's loss is found by rounds: the loss near a flow is as
good as A·Q + B·Q², and where that crosses the pump's curve is a square root. A recipe does a few
rounds, the calculation as many as it takes, so that the proof measures what is left.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from calc import atmosphere, pipes
from calc import loop as calc
from calc.domain import Real
from site_src.data import coolant as liquid
from site_src.lookups import air, piping
from site_src.lookups.loop_answers import ANSWERS, WORKINGS
from site_src.lookups.loop_fields import (
    FIELDS,
    KINDS,
    NEXT_SIZES,
    OWN_STEP,
    PUMPS,
    SIZE_NAMES,
    SIZES,
    TURNS,
)
from site_src.lookups.loop_mounting import FILL, MOUNT
from site_src.lookups.piping import DECAY
from site_src.model.answers import (
    ChartView,
    CurveView,
    ListView,
    Portion,
    SharesView,
    Views,
)
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import Refusal, least, settled, tabulated, within

ROUNDS, MORE_ROUNDS = 8, 7
"""Rounds from a first guess, and from the flow of the loop as it is."""

MORE = 1.01
"""The second flow at which a round looks at the loss, over the first."""

FIRST_GUESS = 0.5
"""Where the rounds begin, as a share of the pump's greatest flow."""

LEAST_FLOW = 0.5 / 6e4
"""Least flow that is told, m³/s; a loop that lets through less is shut."""

SOME_FLOW = 20.0 / 6e4
"""A flow at which charge cooler and exchanger are added up, m³/s: both follow the same law."""

MOST_FLOW = 600.0 / 6e4
"""Flow over which a bucket test is mistaken, m³/s."""

RIGHT_ANGLE = 1.5707963267948966

CORRECTIONS = (0.2, 5.0)
"""Real loss over the reckoned one, outside which bucket test and entries don't agree."""

NEAR_NPSH = 1.25

HAIR = 1e-3
"""The tables' error and what the rounds leave, as a share of a flow or of a loss, is below this."""

_MID_FLOW = "The point between must have less flow than the greatest. Check the pump's curve."
_MID_PRESSURE = (
    "The point between has more than the greatest pressure. Check the three points of the curve."
)
_SAGGING = (
    "The point between lies below the straight line from the greatest pressure to the greatest "
    "flow: no pump of this kind does. Check the three points and their units."
)
_SHUT = (
    "Under half a litre a minute: as good as shut. Look for a closed valve, the smallest hole, and "
    "the units of the drops."
)
_BUCKET_HIGH = (
    "The bucket filled faster than this loop could let through by far. Check time and volume, and "
    "the pump's curve."
)
_BUCKET_LOW = (
    "The bucket filled far slower than reckoned, over five times the loss: air in the pump, a "
    "blockage, a weak pump, or wrong entries. Bleed and measure again."
)
_SHORTER = (
    "Less hose to the bed than to the nose: is the loop as entered the bed's already? Then enter "
    "both alike."
)
_FEW_TURNS = "Under two right angles in the loop: there are no two to take out."
_CROSSING = "the flow at which the pump makes just what the loop takes"
_MEASURED = "No bucket test: the loss is as reckoned."


# --- tables ----------------------------------------------------------------------------------

_TEMPERATURES = linear("temperature", "coolant temperature", *liquid.temperatures())
_SHARES = linear("glycol", "glycol by volume", *liquid.shares())

DENSITY = tabulated("coolant_density", liquid.density, _TEMPERATURES, _SHARES, tolerance=1e-6)
HEAT_CAPACITY = tabulated(
    "coolant_heat_capacity", liquid.heat_capacity, _TEMPERATURES, _SHARES, tolerance=1e-6
)
FLUIDITY = tabulated("coolant_fluidity", liquid.fluidity, _TEMPERATURES, _SHARES, tolerance=1e-6)
FREEZING = tabulated("freezing_point", liquid.freezing_point, _SHARES, tolerance=1e-6)

VAPOUR = tabulated(
    "vapour_pressure_of_water",
    atmosphere.saturation_pressure,
    cubic("temperature", "water temperature", 273.15, 373.15),
    tolerance=0.5,
    monotone=True,
)
HALF_SINE = tabulated(
    "half_sine",
    pipes.half_sine,
    cubic("angle", "angle of the bend", 0.17, 3.1416),
    tolerance=1e-6,
)
LOG = tabulated(
    "log_tightness",
    pipes.log_tightness,
    cubic("radius_ratio", "bend radius over bore", 0.5, 51.0, kinks=(2.0, 10.0)),
    tolerance=1e-6,
)


# --- the liquid and the loss -----------------------------------------------------------------


@dataclass(frozen=True)
class Liquid:
    """What flows, in SI units."""

    density: Real
    heat_capacity: Real
    viscosity: Real


def coolant(e: Entries, temperature: Real) -> Liquid:
    """Return the coolant at a temperature."""
    at = temperature, e["glycol_share"]
    return Liquid(DENSITY(*at), HEAT_CAPACITY(*at), 1.0 / FLUIDITY(*at))


@dataclass(frozen=True)
class Hose:
    """One hose, in SI units; its bends are alike."""

    bore: Real
    length: Real
    bends: Real
    angle: Real
    radius: Real

    def friction(self, flow: Real, of: Liquid) -> Real:
        """Return the dynamic pressure in it times its friction factor."""
        velocity = pipes.line_velocity(flow, self.bore)
        reynolds = pipes.line_reynolds(flow, self.bore, of.density, of.viscosity)
        return pipes.dynamic_pressure(of.density, velocity) * piping.friction(reynolds, self.bore)

    def straight_factor(self) -> Real:
        """Return what its length costs for each unit of friction factor."""
        return self.length / self.bore

    def bend_factor(self) -> Real:
        """Return what its bends cost for each unit of friction factor."""
        log_tightness = LOG(self.radius / self.bore)
        fall = DECAY(pipes.bend_exponent(self.angle, log_tightness))
        return self.bends * pipes.bend_friction(HALF_SINE(self.angle), fall)

    def turning(self, of: Liquid) -> Real:
        """Return what its bends cost for turning the flow, over the flow squared."""
        coefficient = self.bends * pipes.bend_turning(HALF_SINE(self.angle))
        return pipes.square_law(coefficient, of.density, self.bore)


def to_the_bed(e: Entries) -> Hose:
    """Return the hose that an exchanger in the bed takes besides what the nose takes."""
    more = within(e["bed_hose"] - e["nose_hose"], 0.0, None, below=_SHORTER)
    return Hose(e["hose_bore"], more, e["moved_bends"], RIGHT_ANGLE, e["moved_radius"])


@dataclass(frozen=True)
class Loop:
    """One loop: how wide its hoses are, how much of its turns are left, and a hose more, if any."""

    e: Entries
    liquid: Liquid
    correction: Real = 1.0
    wider: bool = False
    turns_gone: Real | None = None
    more: Hose | None = None

    def bore(self, run: Entries) -> Real:
        """Return the bore of a hose."""
        if self.wider:
            return run.pick("run_size", {**NEXT_SIZES, "own": run["run_bore"] + OWN_STEP})
        return run.pick("run_size", {**SIZES, "own": run["run_bore"]})

    def hose(self, run: Entries) -> Hose:
        """Return a hose of the list."""
        return Hose(
            self.bore(run),
            run["run_length"],
            run["run_bends"],
            run["run_angle"],
            run["run_radius"],
        )

    # --- parts of the loss -------------------------------------------------------------------

    def straight(self, run: Entries, flow: Real) -> Real:
        """Return what a hose takes at a flow, its bends apart."""
        hose = self.hose(run)
        return hose.friction(flow, self.liquid) * hose.straight_factor()

    def bend(self, run: Entries, flow: Real) -> Real:
        """Return what the bends of a hose take at a flow."""
        hose = self.hose(run)
        turning = hose.turning(self.liquid) * flow**2
        return hose.friction(flow, self.liquid) * hose.bend_factor() + turning

    def rubbing(self, hose: Hose, flow: Real) -> Real:
        """Return what a hose and its bends take at a flow, for their friction alone."""
        factor = hose.straight_factor() + hose.bend_factor()
        return hose.friction(flow, self.liquid) * factor

    def fitting(self, part: Entries) -> Real:
        """Return what fittings cost, over the flow squared."""
        bore, step = part["fitting_bore"], OWN_STEP if self.wider else 0.0
        hose = part.pick("fitting_size", {**SIZES, "own": bore})
        if self.wider:
            wider = part.pick("fitting_size", {**NEXT_SIZES, "own": bore + step})
            bore, hose = bore * wider / hose, wider
        narrow = pipes.narrow_place(least((bore / hose) ** 2, 1.0))
        coefficient = part["fitting_count"] * (part.pick("fitting_kind", KINDS) + narrow)
        return pipes.square_law(coefficient, self.liquid.density, bore)

    def cores(self, flow: Real) -> dict[str, Real]:
        """Return what charge cooler and exchanger take at a flow."""
        e, of = self.e, self.liquid
        dense = e.pick("core_liquid", {"water": of.density / calc.WATER_DENSITY, "coolant": 1.0})
        thick = e.pick(
            "core_liquid", {"water": of.viscosity / calc.WATER_VISCOSITY, "coolant": 1.0}
        )
        return {
            name: calc.core_loss(flow, e[f"{name}_core_flow"], e[f"{name}_core_drop"], dense, thick)
            for name in ("cooler", "exchanger")
        }

    # --- sums over the lists -----------------------------------------------------------------

    def straights(self, flow: Real) -> Real:
        """Return what the hoses take at a flow, their bends apart."""
        return self.e.total("loop_runs", lambda run: self.straight(run, flow))

    def bends(self, flow: Real) -> Real:
        """Return what the bends of the hoses take at a flow."""
        return self.e.total("loop_runs", lambda run: self.bend(run, flow))

    def suction(self, flow: Real) -> Real:
        """Return what is lost between tank and pump at a flow."""

        def of_run(run: Entries) -> Real:
            hose = self.hose(run)
            lost = self.rubbing(hose, flow) + hose.turning(self.liquid) * flow**2
            return run.pick("run_side", {"suction": lost, "rest": 0.0})

        def of_fitting(part: Entries) -> Real:
            return part.pick("fitting_side", {"suction": self.fitting(part), "rest": 0.0})

        hoses = self.e.total("loop_runs", of_run)
        return hoses + self.e.total("loop_fittings", of_fitting) * flow**2

    def of_turns(self, flow: Real, elbows: Real) -> Real:
        """Return what all turns take at a flow: the hoses' bends, and elbows by flow squared."""
        return self.bends(flow) + elbows * flow**2

    def loss(self) -> Callable[[Real], Real]:
        """Return what the whole loop takes, as a function of the flow."""
        # What goes with the square of the flow is added up once for all rounds.
        square = self.e.total("loop_runs", lambda run: self.hose(run).turning(self.liquid))
        square = square + self.e.total("loop_fittings", self.fitting)
        if self.more is not None:
            square = square + self.more.turning(self.liquid)
        cooler, exchanger = self.cores(SOME_FLOW).values()
        elbows = self.elbows() if self.turns_gone is not None else 0.0

        def at(flow: Real) -> Real:
            hoses = self.e.total("loop_runs", lambda run: self.rubbing(self.hose(run), flow))
            if self.more is not None:
                hoses = hoses + self.rubbing(self.more, flow)
            in_cores = calc.core_loss(flow, SOME_FLOW, cooler + exchanger, 1.0, 1.0)
            whole = hoses + square * flow**2 + in_cores
            if self.turns_gone is not None:
                whole = whole - self.turns_gone * self.of_turns(flow, elbows)
            return self.correction * whole

        return at

    def elbows(self) -> Real:
        """Return what the fittings that turn the flow take, over the flow squared."""
        turning = {kind: 1.0 if turns else 0.0 for kind, turns in TURNS.items()}
        return self.e.total(
            "loop_fittings", lambda part: part.pick("fitting_kind", turning) * self.fitting(part)
        )

    def turns(self) -> Real:
        """Return how many right angles there are in the loop."""
        in_hoses = self.e.total(
            "loop_runs", lambda run: run["run_bends"] * (run["run_angle"] / RIGHT_ANGLE)
        )
        return in_hoses + self.e.total(
            "loop_fittings",
            lambda part: part["fitting_count"] * part.pick("fitting_kind", TURNS),
        )


# --- the calculation -------------------------------------------------------------------------


def one_pump(e: Entries, density: Real) -> tuple[calc.PumpCurve, Real]:
    """Return the curve of one pump with this coolant at its voltage, and its greatest flow."""
    shutoff, end = e["water_pump_shutoff"], e["water_pump_open"]
    mid = e["water_pump_mid_flow"], e["water_pump_mid_pressure"]
    ends = calc.curve_between_ends(shutoff, end)
    rated = calc.curve_from_rating(e["water_pump_flow"], e["water_pump_pressure"])
    before = within(mid[0] / end, None, 0.95, above=_MID_FLOW, gives=mid[0])
    under = within(mid[1] / shutoff, None, 1.0, above=_MID_PRESSURE, gives=mid[1])
    point = calc.curve_through_point(shutoff, end, before, under)
    bend = within(point.quadratic * end**2 / shutoff, 0.0, None, below=_SAGGING)
    point = replace(point, quadratic=bend * shutoff / end**2)

    def known(part: Callable[[calc.PumpCurve], Real]) -> Real:
        return e.pick(
            "water_pump_from", {"ends": part(ends), "point": part(point), "rated": part(rated)}
        )

    curve = calc.PumpCurve(
        known(lambda c: c.shutoff), known(lambda c: c.linear), known(lambda c: c.quadratic)
    )
    last = e.pick(
        "water_pump_from", {"ends": end, "point": end, "rated": 2.0 * e["water_pump_flow"]}
    )
    by_voltage = calc.pump_speed(e["water_pump_voltage"], e["water_pump_rated_voltage"])
    speed = e.pick("water_pump_control", {"follows": by_voltage, "holds": 1.0})
    return curve.at_speed(speed).with_density(density / calc.WATER_DENSITY), last * speed


def crossing(
    pump: calc.PumpCurve, loss: Callable[[Real], Real], start: Real, rounds: int = MORE_ROUNDS
) -> Real:
    """Return the flow at which a pump's curve crosses a loop's loss."""

    def once(flow: Real) -> Real:
        more = MORE * flow
        here = loss(flow)
        quadratic = calc.quadratic_part(flow, here, more, loss(more))
        rising = calc.linear_part(flow, here, quadratic)
        return calc.crossing_flow(pump.shutoff, pump.linear + rising, pump.quadratic + quadratic)

    return within(settled(once, start, rounds, _CROSSING), LEAST_FLOW, None, below=_SHUT, hair=HAIR)


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out flow, shares of the loss, pressure at the pump, and what changes would give."""
    of = coolant(e, e["loop_temperature"])
    one, greatest_flow = one_pump(e, of.density)
    series, parallel = one.in_series(2.0), one.in_parallel(2.0)

    def fitted(part: Callable[[calc.PumpCurve], Real]) -> Real:
        return e.pick(
            "water_pumps", dict(zip(PUMPS, map(part, (one, series, parallel)), strict=True))
        )

    pump = calc.PumpCurve(
        fitted(lambda c: c.shutoff), fitted(lambda c: c.linear), fitted(lambda c: c.quadratic)
    )
    measured = calc.measured_flow(e["bucket_volume"], e["bucket_time"])
    measured = within(measured, None, MOST_FLOW, above=_BUCKET_HIGH)
    made_there, lost_there = pump.pressure(measured), Loop(e, of).loss()(measured)
    correction = within(
        made_there / lost_there, *CORRECTIONS, below=_BUCKET_HIGH, above=_BUCKET_LOW, hair=HAIR
    )
    used = e.if_entered("bucket_time", correction, 1.0)
    loop = Loop(e, of, used)
    loss = loop.loss()
    flow = crossing(pump, loss, FIRST_GUESS * greatest_flow, ROUNDS)
    return {
        "density": of.density,
        "heat_capacity": of.heat_capacity,
        "viscosity": of.viscosity,
        "freezing": FREEZING(e["glycol_share"]),
        "shutoff": pump.shutoff,
        "greatest_flow": greatest_flow,
        "measured": measured,
        "made_there": made_there,
        "lost_there": lost_there,
        "correction": e.if_entered("bucket_time", correction, Refusal(_MEASURED)),
        "used_correction": used,
        "flow": flow,
        **_pump_there(pump, flow),
        "water_rise": calc.liquid_rise(e["charge_heat"], flow, of.density, of.heat_capacity),
        "velocity": e.most("loop_runs", lambda run: pipes.line_velocity(flow, loop.bore(run))),
        **_shares(e, loop, flow),
        **_inlet(e, loop, flow),
        **_contents(e, loop),
        **_changes(e, loop, flow, one, series, parallel, pump),
    }


def _pump_there(pump: calc.PumpCurve, flow: Real) -> dict[str, Real]:
    """Work out what the pump makes, and how that comes about."""
    linear, square = pump.linear * flow, pump.quadratic * flow**2
    return {
        "linear_fall": linear,
        "square_fall": square,
        "pump_makes": pump.shutoff - linear - square,
    }


def _shares(e: Entries, loop: Loop, flow: Real) -> dict[str, Real]:
    """Work out how much of the loss each kind of part has."""
    cores = loop.cores(flow)
    parts = {
        "straights": loop.straights(flow),
        "bends": loop.bends(flow),
        "fittings": e.total("loop_fittings", lambda part: loop.fitting(part) * flow**2),
        **cores,
    }
    whole = (
        parts["straights"]
        + parts["bends"]
        + parts["fittings"]
        + cores["cooler"]
        + cores["exchanger"]
    )
    shares = {f"share_{name}": lost / whole for name, lost in parts.items()}
    return {**shares, **{f"lost_{name}": lost for name, lost in parts.items()}, "lost": whole}


def _inlet(e: Entries, loop: Loop, flow: Real) -> dict[str, Real]:
    """Work out the pressure at the pump's inlet."""
    lost = loop.correction * loop.suction(flow)
    inlet = calc.inlet_pressure(e["tank_pressure"], e["tank_height"], loop.liquid.density, lost)
    saturation, ambient = VAPOUR(e["loop_temperature"]), air.ambient(e)
    return {
        "suction_loss": lost,
        "inlet_pressure": inlet,
        "saturation": saturation,
        "ambient": ambient,
        "above_boiling": calc.above_boiling(inlet, ambient, saturation),
        "npsh_near": NEAR_NPSH * e["npsh_required"],
    }


def _contents(e: Entries, loop: Loop) -> dict[str, Real]:
    """Work out what the loop holds."""
    hoses = e.total("loop_runs", lambda run: pipes.hose_content(loop.bore(run), run["run_length"]))
    whole = hoses + e["cooler_core_content"] + e["exchanger_core_content"] + e["tank_content"]
    return {"hose_content": hoses, "content": whole, "glycol_content": whole * e["glycol_share"]}


def _changes(
    e: Entries,
    loop: Loop,
    flow: Real,
    one: calc.PumpCurve,
    series: calc.PumpCurve,
    parallel: calc.PumpCurve,
    pump: calc.PumpCurve,
) -> dict[str, Real]:
    """Work out the flow with wider hoses, fewer turns, two pumps, or the exchanger moved."""
    turns, loss = loop.turns(), loop.loss()
    gone = 2.0 / within(turns, 2.0, None, below=_FEW_TURNS)
    return {
        "turns": turns,
        "flow_wider": crossing(pump, replace(loop, wider=True).loss(), flow),
        "flow_straighter": crossing(pump, replace(loop, turns_gone=gone).loss(), flow),
        "flow_series": crossing(series, loss, flow),
        "flow_parallel": crossing(parallel, loss, flow),
        "flow_moved": crossing(pump, replace(loop, more=to_the_bed(e)).loss(), flow),
    }


# --- the page --------------------------------------------------------------------------------

LOOKUP = Lookup(
    key="loop",
    title="Coolant loop",
    short="Loop",
    question="How much coolant flows, and what holds it back?",
    stage="plumb",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "Cold and warm",
                "flow",
                "loop_temperature",
                (0.0, 20.0, 40.0, 60.0, 80.0),
                also=("water_rise", "inlet_pressure"),
            ),
        ),
        curves=(
            CurveView(
                "Coolant flow against voltage at the pump",
                "flow",
                "water_pump_voltage",
                tuple(9.0 + 0.5 * n for n in range(12)),
            ),
        ),
        lists=(
            ListView(
                "Dash sizes of hose with screwed ends",
                ("Dash", "Bore it really has", "Tube it is named after"),
                SIZE_NAMES,
                "Push-on hose has the full sixteenths: −12 is 3/4 in there, not 5/8 in.",
            ),
        ),
        shares=SharesView(
            "What takes the pressure",
            (
                Portion(
                    "Hose",
                    {"share_straights": "lost_straights", "share_bends": "lost_bends"},
                    "loop_runs",
                    ("run_size", "run_length"),
                ),
                Portion(
                    "Fittings",
                    {"share_fittings": "lost_fittings"},
                    "loop_fittings",
                    ("fitting_kind", "fitting_count"),
                ),
                Portion("Charge cooler", {"share_cooler": ""}),
                Portion("Exchanger", {"share_exchanger": ""}),
            ),
        ),
        procedures=(MOUNT, FILL),
    ),
    cautions=(
        "Never open a hot loop: coolant under a cap scalds.",
        "Glycol is poison and tastes sweet: catch every drop, away from children and animals.",
        "Pump and fans start without warning with the key on. Fuse at the battery, wire to suit.",
        "Stands under the truck, not a jack.",
        "The makers' own curves and limits for pump and cores overrule this page.",
    ),
    sources=(
        "Friction: Darcy-Weisbach with Churchill's factor (Chemical Engineering, 1977), smooth "
        "hose of 1.5 µm.",
        "Bends: Rennels & Hudson, Pipe Flow (2012), ch. 15.",
        "Fittings: Munson, Young & Okiishi, Fundamentals of Fluid Mechanics, table 8.2; steps in "
        "bore: Idelchik and Borda-Carnot.",
        "Charge cooler and exchanger: one measured point, Δp ∝ Q^1.75 (Blasius, 1913).",
        "Pump: H₀ − a·Q² (White, Fluid Mechanics, ch. 11); from one rating, US EPA "
        "EPA/600/R-00/057; speed, density: affinity laws.",
        "Coolant: ASHRAE Handbook, Fundamentals, ch. 31, ethylene glycol by volume, as restated.",
        "Vapour pressure: IAPWS SR1-86, of plain water: coolant boils a little later.",
        "Speed in proportion to voltage, [3 m/s|9.8 ft/s]: common practice.",
    ),
    leaves_out=(
        "Air in the loop, which costs more flow than anything listed here.",
        "What thick coolant takes from the pump's own curve, cold.",
        "Kinks and flattened bends: see the page “Hose bend”.",
        "Between laminar and turbulent flow, cold, nothing is certain to better than a fifth.",
        "Fittings close together disturb each other, either way.",
    ),
)
