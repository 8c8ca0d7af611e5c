"""One truck: which entries of the pages are one quantity, and which pages work out another's.

An entry's key is its name on every page: entered on one, it stands on all. The phone keeps it in
the job under that name (static/js/record/job.js).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Source:
    """Where an entry comes from until one is typed: a page, and the value that it works out."""

    page: str
    symbol: str


FOLLOWS: Mapping[str, Source] = {
    "boost": Source("boost", "boost"),
    "air_flow": Source("boost", "air_flow"),
    "charge_temperature": Source("boost", "charge_temperature"),
    "drive_power": Source("boost", "drive_power"),
    "power": Source("power", "power"),
    "inlet_depression": Source("plan", "first_depression"),
}
"""By the entry's key; on the page that works it out it is an answer and no entry."""

APART: Mapping[str, frozenset[str]] = {
    "slip": frozenset({"engine_speed"}),
    "accessory": frozenset({"crank_pulley"}),
    "fuel": frozenset({"load_current", "feed_length", "wire"}),
}
"""Entries by page that mean something else there than on the other pages: the speed at which a
boost was measured, the crank pulley of a belt of its own, the fuel pump's circuit where the wiring
page may be at another's."""

USUAL = frozenset(
    {
        "slip",
        "leakage",
        "gear",
        "diameter_unsure",
        "built_in_ratio",
        "effectiveness",
        "coolant_rise",
        "cooler_drop",
        "intake_temperature",
        "barometer",
        "humidity",
        "rating_altitude",
        "rating_intake_temperature",
        "friction_scatter",
        "thread_friction",
        "head_friction",
        "nut_factor",
        "yield_target",
        "proof_target",
        "strip_factor",
        "running_torque",
        "chord_error",
        "rise_error",
        "insertion",
        "slack",
        "lambda",
        "gauge_mixture",
        "bsfc_low",
        "bsfc_high",
        "discharge_coefficient",
        "shaft",
        "pipe_depression",
        "test_density",
        "rated_pressure",
        "rail_pressure",
        "dead_time",
        "duty_limit",
        "pump_rated_voltage",
        "pump_voltage",
        "pump_exponent",
        "pump_margin",
        "system_voltage",
        "cranking_voltage",
        "rated_voltage",
        "drop_limit",
        "connections",
        "wire_air",
        "accessory_power",
        "power_margin",
        "grip_friction",
        "tension_per_rib",
        "mass_per_rib",
        "tensioner_damping",
        "alignment_limit",
        "gap_distance",
        "rim_difference",
        "charge_limit",
        "idle_speed",
        "section_tolerance",
        "depth_tolerance",
        "width_tolerance",
        "volume_swell",
        "wanted_fill",
        "water_pump_rated_voltage",
        "water_pump_voltage",
        "glycol_share",
        "loop_temperature",
        "tank_pressure",
    }
)
"""Entries whose default is a usual value of the trade; the others' is an example's."""


def spec() -> dict[str, Any]:
    """Return it as plain data."""
    return {
        "follows": {key: {"page": s.page, "symbol": s.symbol} for key, s in FOLLOWS.items()},
        "apart": {page: sorted(keys) for page, keys in APART.items()},
        "usual": sorted(USUAL),
    }
