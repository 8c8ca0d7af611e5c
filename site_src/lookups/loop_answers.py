"""What the coolant loop's page answers, and the values behind it."""

from __future__ import annotations

from functools import partial

from calc import loop as calc
from calc import pipes
from site_src.model.answers import Answer, Band, Working

NEAR_VELOCITY, NEAR_INLET = 0.8, 1e3

_flow = partial(
    Answer,
    of="volume_flow",
    decimals={"lpm": 1, "gpm": 1},
    tolerance=0.02,
    uncertainty=3.0,
)
"""Makes an answer that is a flow."""

_share = partial(Answer, of="percent", decimals={"pct": 0}, tolerance=0.05, uncertainty=5.0)
"""Makes an answer that is a share of the loss."""

_pressure = partial(
    Answer,
    of="head",
    decimals={"kPa": 1, "mH2O": 2, "bar": 2, "psi": 1, "ftH2O": 1},
    tolerance=0.015,
    uncertainty=3.0,
)
"""Makes an answer that is a pressure."""

ANSWERS = (
    _flow(
        "flow",
        "Coolant flow",
        sign="Q",
        rank="main",
        note="Where the pump's curve crosses the loop's loss. A bucket and a watch tell whether it "
        "is so.",
        by=(calc.crossing_flow, calc.quadratic_part, calc.linear_part),
    ),
    Answer(
        "water_rise",
        "Coolant warmer by, through the charge cooler",
        of="temperature_difference",
        decimals={"dC": 1, "dF": 1},
        tolerance=0.01,
        uncertainty=1.0,
        sign="ΔT",
        rank="second",
        note="At full power. Twice the flow halves it; charge and coolant at the far end are that "
        "much hotter.",
        by=(calc.liquid_rise,),
    ),
    _pressure(
        "inlet_pressure",
        "Pressure at the pump's inlet, over the outside air",
        sign="p_in",
        rank="second",
        by=(calc.inlet_pressure,),
        band=Band(
            side="min",
            limit=0.0,
            near=NEAR_INLET,
            within="Inlet flooded: {value} over the outside air.",
            near_words="Inlet barely flooded, {value} over the outside air: raise the tank, or a "
            "wider, shorter hose to the pump.",
            beyond="The pump sucks: {value} at its inlet. It draws air at clamps and cavitates, "
            "rattles and loses flow: raise the tank, or a wider, shorter hose to the pump.",
        ),
    ),
    Answer(
        "velocity",
        "Fastest flow in any hose",
        of="speed",
        decimals={"mps": 1, "fps": 1},
        tolerance=0.005,
        uncertainty=0.2,
        sign="v",
        rank="second",
        note="[3 m/s|9.8 ft/s] is common practice.",
        by=(pipes.line_velocity,),
        band=Band(
            side="max",
            limit=calc.VELOCITY_LIMIT,
            near=NEAR_VELOCITY * calc.VELOCITY_LIMIT,
            within="Fastest hose {value}, {margin} under the rule.",
            near_words="Fastest hose {value}, only {margin} under the rule.",
            beyond="Fastest hose {value}, {margin} over the rule: a size up pays.",
        ),
    ),
    _share("share_straights", "Share of the loss: hoses", by=(pipes.line_pressure_loss,)),
    _share("share_bends", "Share of the loss: bends in hoses", by=(pipes.bend_friction,)),
    _share(
        "share_fittings",
        "Share of the loss: fittings",
        by=(pipes.square_law, pipes.narrow_place),
    ),
    _share("share_cooler", "Share of the loss: charge cooler", by=(calc.core_loss,)),
    _share("share_exchanger", "Share of the loss: exchanger", by=(calc.core_loss,)),
    _flow(
        "flow_wider",
        "Flow with every hose a size up",
        note="Fittings wider by as much.",
    ),
    _flow(
        "flow_straighter",
        "Flow with two right angles less",
        optional=True,
        note="Two of the turns there are, of middling tightness.",
    ),
    _flow("flow_series", "Flow with two such pumps, one after the other"),
    _flow(
        "flow_parallel",
        "Flow with two such pumps, side by side",
        note="Each with a check valve, or one that stops lets the other's flow run back.",
    ),
    _flow(
        "flow_moved",
        "Flow with the exchanger moved to the bed",
        optional=True,
        note="This loop with that much more hose and those sweeps. “Charge cooling” takes it for "
        "the bed, and says what it does to a pull.",
    ),
    _pressure("pump_makes", "Pressure that the pump makes there", sign="Δp"),
    Answer(
        "above_boiling",
        "Inlet pressure over that of boiling",
        of="head",
        decimals={"kPa": 0, "mH2O": 1, "bar": 2, "psi": 1, "ftH2O": 1},
        tolerance=0.05,
        uncertainty=3.0,
        note="What the pump has against cavitation: its NPSH, as a pressure.",
        by=(calc.above_boiling,),
        band=Band(
            side="min",
            limit="npsh_required",
            near="npsh_near",
            within="{value} over boiling at the inlet, {margin} more than the pump needs.",
            near_words="{value} over boiling at the inlet, only {margin} more than the pump needs.",
            beyond="{value} over boiling at the inlet, {margin} short of what the pump needs: it "
            "cavitates.",
            unchecked="{value} over boiling at the inlet. Enter what the pump needs, its NPSH.",
        ),
    ),
    Answer(
        "content",
        "Coolant to fill it",
        of="volume",
        decimals={"L": 1, "gal": 1},
        tolerance=0.001,
        uncertainty=0.5,
        sign="V",
        by=(pipes.hose_content,),
    ),
    Answer(
        "glycol_content",
        "Of that, glycol",
        of="volume",
        decimals={"L": 1, "gal": 1},
        tolerance=0.001,
        uncertainty=0.3,
    ),
    Answer(
        "correction",
        "Real loss over the reckoned one, by the bucket",
        of="ratio",
        decimals={"": 2},
        tolerance=2e-3,
        uncertainty=0.1,
        sign="κ",
        optional=True,
        note="All answers use it. Far over 1: air, a blockage, a kinked hose or a weak pump, "
        "before any blame on the model. Under 1: a hose wider than entered.",
    ),
    Answer(
        "freezing",
        "Coolant begins to freeze at",
        of="temperature",
        decimals={"C": 0, "F": 0},
        tolerance=0.001,
        uncertainty=2.0,
    ),
)

_kpa = partial(Working, of="head", unit="kPa", decimals=1)

WORKINGS = (
    Working("density", "Density of the coolant", of="density", unit="kgm3", decimals=0, sign="ρ"),
    Working(
        "heat_capacity",
        "Heat capacity of the coolant",
        of="heat_capacity",
        unit="kJpkgK",
        decimals=3,
        sign="c",
    ),
    Working("viscosity", "Viscosity of the coolant", of="viscosity", unit="mPas", sign="μ"),
    _kpa("shutoff", "Pump at no flow, here"),
    Working("greatest_flow", "One pump's greatest flow", of="volume_flow", unit="lpm", decimals=1),
    _kpa("linear_fall", "Of that lost at this flow, in proportion to it"),
    _kpa("square_fall", "Of that lost at this flow, with its square"),
    _kpa("lost_straights", "Lost in hoses"),
    _kpa("lost_bends", "Lost in bends of hoses"),
    _kpa("lost_fittings", "Lost in fittings"),
    _kpa("lost_cooler", "Lost in the charge cooler"),
    _kpa("lost_exchanger", "Lost in the exchanger"),
    _kpa("lost", "Lost in the whole loop, as reckoned"),
    Working("used_correction", "Real loss over the reckoned one", decimals=2),
    Working("measured", "Flow by the bucket", of="volume_flow", unit="lpm", decimals=1),
    _kpa("made_there", "The pump makes at the bucket's flow"),
    _kpa("lost_there", "The loop takes at the bucket's flow, as reckoned"),
    Working("turns", "Right angles in the loop", decimals=1),
    _kpa("suction_loss", "Lost between tank and pump"),
    Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1, sign="p_a"),
    Working(
        "saturation",
        "Vapour pressure of water",
        of="absolute_pressure",
        unit="kPa",
        decimals=1,
        sign="p_v",
    ),
    Working("hose_content", "Coolant in the hoses", of="volume", unit="L", decimals=1),
)
