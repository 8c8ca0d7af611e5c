"""Hose run page: several bends to one length, and an offset that a hose can take."""

from __future__ import annotations

import math

import fluids.fittings
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import hoses
from site_src.data.hoses import INCH
from site_src.lookups import lookup

RUN = lookup("hose-run")
BEND = lookup("hose-bend")
PLAIN = {"outside_diameter": 30.0, "slack": 0.0, "insertion": 0.0, "last_straight": 0.0}


def bend(radius: float, turn: float, straight: float = 0.0) -> dict[str, float]:
    return {"run_straight": straight, "run_radius": radius, "run_turn": turn}


# --- length ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("turn", "length"),
    [
        pytest.param(90.0, 157.080, id="L = 2πR·A/360, R 100 mm on the centreline, 90°"),
        pytest.param(180.0, 314.159, id="L = 2πR·A/360, R 100 mm on the centreline, 180°"),
    ],
)
def test_one_bend_is_the_arc_of_its_centreline(turn: float, length: float) -> None:
    found = RUN.evaluate({**PLAIN, "runs": [bend(85.0, turn)]})
    assert found["run_length"] == pytest.approx(length, abs=5e-4)


def test_one_bend_is_cut_as_long_as_on_the_page_of_one_bend() -> None:
    radius = BEND.evaluate({})["inside_radius"]
    alone = BEND.evaluate({})["length_to_cut"]
    listed = RUN.evaluate({"runs": [bend(radius, 90.0, 150.0)], "last_straight": 150.0})
    assert listed["run_length"] == pytest.approx(alone, abs=0.1)


def test_slack_is_taken_on_the_flexible_length_and_ends_come_on_top() -> None:
    entered = {**PLAIN, "runs": [bend(85.0, 90.0, 200.0)], "slack": 6.0, "insertion": 30.0}
    found = RUN.evaluate(entered)
    assert found["run_length"] == pytest.approx(found["flexible"] * 1.06 + 60.0, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(
    rows=st.lists(
        st.builds(bend, st.floats(50, 300), st.floats(10, 170), st.floats(0, 400)),
        min_size=1,
        max_size=6,
    ),
    order=st.randoms(),
)
def test_the_order_of_the_bends_does_not_matter(
    rows: list[dict[str, float]], order: object
) -> None:
    shuffled = list(rows)
    order.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = (RUN.evaluate({**PLAIN, "runs": each}) for each in (rows, shuffled))
    assert one["run_length"] == pytest.approx(other["run_length"], abs=1e-6)


# --- limits ----------------------------------------------------------------------------------


def test_bends_under_the_table_are_counted_faa_ac_43_13_1b_table_9_3() -> None:
    braid = {"hose_kind": "wire_braid", "bore": "0.625in"}
    least = 6.5 * 25.4
    rows = [bend(least - 1.0, 90.0), bend(least + 1.0, 90.0), bend(least - 20.0, 45.0)]
    found = RUN.explain({**braid, "runs": rows})
    assert found.answers["tight_bends"] == 2.0
    assert found.status["tight_bends"] == "beyond"
    good = RUN.explain({**braid, "runs": rows[1:2]})
    assert good.status["tight_bends"] == "within"
    assert "ruled_bends" not in good.answers


def test_a_rule_of_the_trade_calls_for_a_look_and_condemns_none() -> None:
    found = RUN.explain({"hose_kind": "textile_coolant", "runs": [bend(40.0, 90.0)]})
    assert found.answers["ruled_bends"] == 1.0
    assert found.status["ruled_bends"] == "near"
    assert "tight_bends" not in found.answers


def test_the_makers_figure_comes_first() -> None:
    found = RUN.explain({"makers_radius": 60.0, "runs": [bend(70.0, 90.0), bend(50.0, 90.0)]})
    assert found.answers["tight_bends"] == 1.0


def test_nothing_is_judged_by_the_example_bends() -> None:
    outcome = RUN.explain({})
    assert set(outcome.status.values()) == {"unchecked"}


def test_slack_under_what_pressure_takes_is_beyond_ac_43_13_1b_figure_9_9() -> None:
    rows = {"runs": [bend(150.0, 90.0, 300.0)]}
    status = {
        slack: RUN.explain({**rows, "slack": slack}).status["pulls_in"] for slack in (3.0, 4.5, 6.0)
    }
    assert status == {3.0: "beyond", 4.5: "near", 6.0: "within"}


# --- offset ----------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(aside=st.floats(5.0, 800.0), radius=st.floats(20.0, 500.0))
def test_the_offset_closes_by_walking_along_it(aside: float, radius: float) -> None:
    found = RUN.evaluate({"offset": aside, "offset_radius": radius, "outside_diameter": 30.0})
    centre, turn = radius + 15.0, math.radians(found["offset_turn"])
    between = found["offset_between"]
    # Down the first bend, along the straight, back up in the second.
    along = 2.0 * centre * math.sin(turn) + between * math.cos(turn)
    down = 2.0 * centre * (1.0 - math.cos(turn)) + between * math.sin(turn)
    assert along == pytest.approx(found["offset_run"], abs=0.1)
    assert down == pytest.approx(aside, abs=0.1)
    assert found["offset_hose"] == pytest.approx(2.0 * centre * turn + between, abs=0.1)


def test_a_wider_bend_needs_a_longer_way() -> None:
    ways = [
        RUN.evaluate({"offset": 60.0, "offset_radius": r})["offset_run"] for r in (80.0, 120.0, 200)
    ]
    assert ways == sorted(ways)


def test_the_tightest_offset_keeps_the_least_radius() -> None:
    found = RUN.explain({"hose_kind": "wire_braid", "bore": "0.625in"})
    assert found.symbols["offset_inside"] == pytest.approx(6.5 * INCH)


# --- loss ------------------------------------------------------------------------------------


@pytest.mark.parametrize("turn", [45.0, 90.0, 180.0])
@pytest.mark.parametrize(
    "ratio",
    [pytest.param(r, id=f"Crane TP 410 in fluids, r/d {r}") for r in (1.5, 6, 10, 20)],
)
def test_bends_lose_what_a_reference_library_says(ratio: float, turn: float) -> None:
    bore = 0.75 * INCH
    inside = 1000.0 * (ratio * bore - 0.015)
    if inside < 10.0:
        pytest.skip("tighter than the page takes")
    found = RUN.evaluate({**PLAIN, "bore": "0.75in", "runs": [bend(inside, turn)]})
    friction = fluids.fittings.ft_Crane(bore)
    loss = fluids.fittings.bend_rounded(Di=bore, angle=turn, bend_diameters=ratio, method="Crane")
    # The library draws a polynomial through the printed rows.
    assert found["bends_as_straight"] == pytest.approx(loss / friction * bore, rel=0.08)


@pytest.mark.parametrize(
    ("ratio", "bores"),
    [
        pytest.param(r, n, id=f"Crane TP 410 A-29, as restated, r/d {r:g}")
        for r, n in [(1.0, 20.0), (2.0, 12.0), (6.0, 17.0), (10.0, 30.0), (20.0, 50.0)]
    ],
)
def test_a_quarter_turn_by_the_printed_rows(ratio: float, bores: float) -> None:
    assert float(hoses.quarter_turn_bores(ratio)) == bores


def test_clips_every_two_feet_navedtra_14105() -> None:
    found = RUN.evaluate({**PLAIN, "runs": [bend(85.0, 90.0, 24.0 * 25.4)]})
    assert found["supports"] == pytest.approx(1.0 + 157.08 / 609.6, abs=1e-3)
