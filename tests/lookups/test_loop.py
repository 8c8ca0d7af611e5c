"""Coolant loop: the flow against a root finder, what a builder changes, and what he measures."""

import math
from itertools import product

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc import pipes
from site_src.data import coolant as liquid
from site_src.face.shares import BAR_WIDTH, shares
from site_src.lookups import loop
from site_src.lookups.loop_fields import KINDS, NEXT_SIZES, SIZES
from site_src.model.lookup import InputError
from tests.own import with_own

LOOP = loop.LOOKUP
LITRE_A_MINUTE = 1 / 6e4
OWN = with_own(LOOP)


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = LOOP.explain(inputs)
    assert answer not in outcome.answers
    return LOOP.words(outcome.faults[answer], inputs)


# --- the flow, worked out another way --------------------------------------------------------


def bore_of(size, own):
    return own / 1e3 if size == "own" else SIZES[size]


def lost(rows, fittings, flow, density, viscosity):
    """Pressure that hoses and fittings take: friction and bends by fluids, K by hand."""
    whole = 0.0
    for row in rows:
        bore = bore_of(row["run_size"], row["run_bore"])
        velocity = flow / (math.pi / 4 * bore**2)
        reynolds = density * velocity * bore / viscosity
        friction = fluids.friction.Churchill_1977(reynolds, 1.5e-6 / bore)
        ratio, angle = row["run_radius"] / 1e3 / bore, row["run_angle"]
        bend = fluids.fittings.bend_rounded(
            Di=bore, angle=angle, fd=friction, bend_diameters=ratio, method="Rennels"
        )
        bend -= friction * math.radians(angle) * ratio  # the arc belongs to the length
        k = friction * row["run_length"] / bore + row["run_bends"] * bend
        whole += k * density * velocity**2 / 2
    for part in fittings:
        bore = part["fitting_bore"] / 1e3
        hose = bore if part["fitting_size"] == "own" else SIZES[part["fitting_size"]]
        area = min(1.0, (bore / hose) ** 2)
        k = KINDS[part["fitting_kind"]] + 0.5 * (1 - area) ** 0.75 + (1 - area) ** 2
        velocity = flow / (math.pi / 4 * bore**2)
        whole += part["fitting_count"] * k * density * velocity**2 / 2
    return whole


runs = st.fixed_dictionaries(
    {
        "run_size": st.sampled_from([*SIZES, "own"]),
        "run_bore": st.floats(10, 50),
        "run_length": st.floats(0.05, 10),
        "run_bends": st.integers(0, 8).map(float),
        "run_angle": st.floats(20, 180),
        "run_radius": st.floats(40, 400),
        "run_side": st.sampled_from(["rest", "suction"]),
    }
)
fittings = st.fixed_dictionaries(
    {
        "fitting_kind": st.sampled_from(list(KINDS)),
        "fitting_count": st.integers(1, 6).map(float),
        "fitting_bore": st.floats(8, 40),
        "fitting_size": st.sampled_from([*SIZES, "own"]),
        "fitting_side": st.sampled_from(["rest", "suction"]),
    }
)


@settings(deadline=None, max_examples=60)
@given(
    st.lists(runs, min_size=1, max_size=10),
    st.lists(fittings, min_size=1, max_size=10),
    st.floats(15, 90),
    st.floats(20, 200),
    st.floats(0, 60),
    st.floats(5, 90),
)
def test_the_flow_of_random_loops_is_that_of_a_root_finder_scipy(
    rows, parts, open_flow, shutoff, glycol, celsius
):
    entered = {
        "loop_runs": rows,
        "loop_fittings": parts,
        "water_pump_open": open_flow,
        "water_pump_shutoff": shutoff,
        "water_pump_control": "holds",
        "glycol_share": glycol,
        "loop_temperature": celsius,
    }
    # Of a recipe of some thousands of steps those that the flow takes.
    found = LOOP.run(LOOP.filled([entered]), ["flow"]).symbols["flow"]
    assert not found.fault[0]
    at = celsius + 273.15, glycol / 100
    density, viscosity = float(liquid.density(*at)), 1 / float(liquid.fluidity(*at))

    def short_of(flow):
        makes = shutoff * 1e3 * density / 998.2 * (1 - (flow / open_flow * 6e4) ** 2)
        thick = (density / 998.2) ** 0.75 * (viscosity / 1.0016e-3) ** 0.25
        cores = (9e3 + 6e3) * thick * (flow / (20 * LITRE_A_MINUTE)) ** 1.75
        return makes - cores - lost(rows, parts, flow, density, viscosity)

    reference = brentq(short_of, 1e-7, open_flow * LITRE_A_MINUTE, xtol=1e-12)
    assert found.values[0] * 6e4 == pytest.approx(reference * 6e4, abs=0.02)


def test_shares_add_up_and_the_pump_makes_what_the_loop_takes():
    outcome = LOOP.explain({})
    shares = [value for key, value in outcome.answers.items() if key.startswith("share_")]
    assert len(shares) == 5
    assert sum(shares) == pytest.approx(100.0, abs=1e-6)
    assert outcome.symbols["lost"] == pytest.approx(outcome.symbols["pump_makes"], rel=1e-5)


def test_the_share_of_each_hose_and_fitting_is_its_own_loss_over_the_whole_fluids():
    v = LOOP.explain(OWN).symbols
    found = shares(LOOP, LOOP.views.shares)
    by_name = {bar.name.split(":")[0]: float(bar.width) / BAR_WIDTH for bar in found.bars}
    assert sum(by_name.values()) == pytest.approx(1.0, abs=2e-3)
    assert [float(bar.width) for bar in found.bars] == sorted(by_width(found), reverse=True)

    def rows(key):
        parts = next(field for field in LOOP.fields if field.key == key)
        usual = {field.key: field.default for field in parts.fields}
        return [{**usual, **row} for row in parts.default]

    at = v["flow"], v["density"], v["viscosity"]
    for n, row in enumerate(rows("loop_runs"), 1):
        share = lost([row], [], *at) / v["lost"]
        assert by_name[f"Hose {n}"] == pytest.approx(share, abs=1e-3)
    for n, row in enumerate(rows("loop_fittings"), 1):
        share = lost([], [row], *at) / v["lost"]
        assert by_name[f"Fittings {n}"] == pytest.approx(share, abs=1e-3)


def by_width(found):
    return [float(bar.width) for bar in found.bars]


def test_the_rise_is_heat_over_flow_and_keeps_the_energy():
    outcome = LOOP.explain({"charge_heat": 23.0})
    given_up = math.prod(
        outcome.symbols[key] for key in ("flow", "density", "heat_capacity", "water_rise")
    )
    assert given_up == pytest.approx(23e3, rel=1e-6)


# --- what changes give -----------------------------------------------------------------------


def test_a_size_up_is_what_the_next_sizes_would_give():
    rows = [{"run_size": "0.75in", "run_length": 5.0, "run_bends": 4.0}]
    none = [{"fitting_kind": "valve", "fitting_count": 1.0, "fitting_size": "own"}]
    before = LOOP.evaluate({"loop_runs": rows, "loop_fittings": none})
    wider = [rows[0] | {"run_size": "0.875in"}]
    scaled = [none[0] | {"fitting_bore": 19.0}]
    after = LOOP.evaluate({"loop_runs": wider, "loop_fittings": scaled})
    assert NEXT_SIZES["0.75in"] == pytest.approx(0.875 * 0.0254)
    assert before["flow_wider"] == pytest.approx(after["flow"], abs=0.03)


@pytest.mark.parametrize("way", ["series", "parallel"])
def test_a_second_pump_is_what_two_pumps_give(way):
    assert LOOP.evaluate({})[f"flow_{way}"] == pytest.approx(
        LOOP.evaluate({"water_pumps": way})["flow"], abs=0.02
    )


def test_the_move_to_the_bed_is_the_loop_with_that_hose_in_it():
    nose = [{"run_length": 5.0, "run_bends": 4.0}]
    sweeps = {"run_bends": 3.0, "run_radius": 200.0, "run_size": "own", "run_bore": 16.0}
    bed = [*nose, {"run_length": 7.5, **sweeps}]
    moved = {"nose_hose": 5.0, "bed_hose": 12.5, "hose_bore": 16.0}
    moved |= {"moved_bends": 3.0, "moved_radius": 200.0}
    promised = LOOP.evaluate({"loop_runs": nose, **moved})["flow_moved"]
    assert promised == pytest.approx(LOOP.evaluate({"loop_runs": bed})["flow"], abs=0.02)


def test_a_loop_that_is_in_the_bed_already_is_said_to_be():
    alike = {"nose_hose": 12.0, "bed_hose": 12.0, "moved_bends": 0.0}
    found = LOOP.evaluate(alike)
    assert found["flow_moved"] == pytest.approx(found["flow"], abs=0.02)
    assert "enter both alike" in told("flow_moved", nose_hose=12.0, bed_hose=6.0)


def test_two_elbows_out_of_four_is_what_is_promised():
    four = [{"fitting_kind": "elbow", "fitting_count": 4.0}]
    two = [{"fitting_kind": "elbow", "fitting_count": 2.0}]
    straight = [{"run_length": 3.0}]
    promised = LOOP.evaluate({"loop_runs": straight, "loop_fittings": four})["flow_straighter"]
    found = LOOP.evaluate({"loop_runs": straight, "loop_fittings": two})["flow"]
    assert promised == pytest.approx(found, abs=0.02)


def test_without_turns_none_can_be_taken_out():
    said = told(
        "flow_straighter",
        loop_runs=[{"run_length": 3.0}],
        loop_fittings=[{"fitting_kind": "straight"}],
    )
    assert "no two to take out" in said


# --- bucket and watch ------------------------------------------------------------------------


def test_a_bucket_corrects_flow_and_every_change():
    found = LOOP.evaluate({"bucket_volume": 10.0, "bucket_time": 36.0})
    plain = LOOP.evaluate({})
    assert found["flow"] == pytest.approx(10.0 / 36.0 * 60.0, abs=0.02)
    assert found["correction"] > 1.0
    for key in ("flow_wider", "flow_series", "flow_parallel", "flow_straighter"):
        assert found["flow"] < found[key] < plain[key]


def test_a_bucket_that_fills_as_reckoned_changes_nothing():
    plain = LOOP.evaluate({})
    same = LOOP.evaluate({"bucket_volume": 10.0, "bucket_time": 600.0 / plain["flow"]})
    assert same["correction"] == pytest.approx(1.0, abs=2e-3)
    assert "correction" not in plain


def test_a_bucket_that_can_not_be_is_told():
    assert "filled faster" in told("flow", bucket_time=5.0)
    assert "air in the pump" in told("flow", bucket_time=300.0)


# --- the pump's inlet, and cautions ----------------------------------------------------------


def test_a_pump_over_its_tank_sucks_and_is_told_so():
    outcome = LOOP.explain(OWN | {"tank_height": -300.0})
    assert outcome.status["inlet_pressure"] == "beyond"
    assert LOOP.explain(OWN).status["inlet_pressure"] == "within"


def test_nothing_is_judged_by_example_entries():
    assert set(LOOP.explain({}).status.values()) == {"unchecked"}


def test_boiling_is_judged_by_the_makers_figure_only():
    assert LOOP.explain(OWN | {"npsh_required": None}).status["above_boiling"] == "unchecked"
    assert LOOP.explain(OWN | {"npsh_required": 110.0}).status["above_boiling"] == "beyond"


def test_a_curve_that_no_pump_has_is_refused_in_words():
    assert "below the straight line" in told(
        "flow", water_pump_from="point", water_pump_mid_pressure=12.0
    )
    assert "less flow than the greatest" in told(
        "flow", water_pump_from="point", water_pump_mid_flow=60.0
    )


def test_cold_and_thick_flows_less_and_less_voltage_too():
    warm, cold = (LOOP.evaluate({"loop_temperature": at})["flow"] for at in (60.0, 0.0))
    assert cold < warm
    weak, strong = (LOOP.evaluate({"water_pump_voltage": at})["flow"] for at in (11.0, 13.0))
    assert weak < strong


def test_the_smallest_hole_counts_most():
    flows = [
        LOOP.evaluate({"loop_fittings": [{"fitting_bore": bore, "fitting_count": 6.0}]})["flow"]
        for bore in (10.0, 13.0, 16.0, 19.0)
    ]
    assert np.all(np.diff(flows) > 0)


def test_fastest_hose_is_the_narrowest():
    rows = [{"run_size": size} for size in ("1in", "0.5in", "0.75in")]
    found = LOOP.evaluate({"loop_runs": rows})
    flow = found["flow"] * LITRE_A_MINUTE
    assert found["velocity"] == pytest.approx(float(pipes.line_velocity(flow, 0.0127)), abs=0.005)


def test_what_it_holds_is_counted():
    found = LOOP.evaluate({"loop_runs": [{"run_size": "1in", "run_length": 2.0}]})
    hose = math.pi / 4 * 0.254**2 * 20.0
    assert found["content"] == pytest.approx(hose + 0.7 + 1.2 + 4.0, abs=1e-3)
    assert found["glycol_content"] == pytest.approx(found["content"] / 2, abs=1e-3)


def test_an_entry_out_of_range_is_named_with_the_way_out():
    with pytest.raises(InputError, match="metres of water or bar"):
        LOOP.evaluate({"water_pump_shutoff": 900.0})


def test_every_size_has_a_larger_next_one():
    for (key, bore), (other, following) in product(SIZES.items(), NEXT_SIZES.items()):
        assert key != other or following > bore
