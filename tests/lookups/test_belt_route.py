"""Belt route as measured with a tape: closed forms, a hull, a search, and routes that can't run."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from calc.belt_route import Pulley, effective_length, find_faults, trace_route
from calc.belt_tensioner import Arm, Slot, fit_length, length_range
from site_src.lookups.belt import BACK_HEIGHT
from site_src.lookups.belt_route import LINE, LOOKUP
from site_src.lookups.belt_route_fields import NONE
from site_src.lookups.belt_route_geometry import PLACES

PITCH = {"diameter_kind": "pitch", "tensioner_way": "none"}


def pair(crank, blower, distance, side="ribs"):
    """Two pulleys beside each other, pitch diameters in mm."""
    spare = {f"kind_{n}": NONE for n in range(3, PLACES + 1)}
    smooth = blower - (2e3 * BACK_HEIGHT if side == "back" else 0.0)
    return {
        **PITCH,
        **spare,
        "crank_pulley": crank,
        "blower_pulley": smooth,
        "kind_2": "blower",
        "x_2": distance,
        "y_2": 0.0,
        "side_2": side,
    }


def said(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = LOOKUP.explain(inputs)
    assert answer not in outcome.answers
    return LOOKUP.words(outcome.faults[answer], inputs)


def laid(inputs):
    """Return the pulleys of a set-up for `calc`, and the places that they have in the list."""
    entered = {field.key: inputs.get(field.key, field.default) for field in LOOKUP.fields}
    allowance = 2e3 * LINE if entered["diameter_kind"] != "pitch" else 0.0
    way = -1 if entered["travel"] == "clockwise" else 1
    pulleys, places = [], []
    for n in range(1, PLACES + 1):
        kind = "crank" if n == 1 else entered[f"kind_{n}"]
        if kind == NONE:
            continue
        size = {"crank": "crank_pulley", "blower": "blower_pulley"}.get(kind, f"d_{n}")
        back = n > 1 and entered[f"side_{n}"] == "back"
        pitch = entered[size] + (2e3 * BACK_HEIGHT if back else allowance)
        x, y = 1e-3 * entered[f"x_{n}"], 1e-3 * entered[f"y_{n}"]
        pulleys.append(Pulley(f"{n} {kind}", x, y, 5e-4 * pitch, -way if back else way))
        places.append(n)
    return pulleys, places


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("crank", "blower", "distance", "wraps", "length"),
    [
        pytest.param(
            240.0,
            120.0,
            300.0,
            (203.0739, 156.9261),
            1177.527,
            id="Tayal, Ex. 7.1: open, 24/12/30 cm",
        ),
        pytest.param(
            200.0, 40.0, 1200.0, None, 0.4 * 6955.82, id="Bhavikatti, Ex. 5.17: open, at 2 to 5"
        ),
        pytest.param(
            128.0, 40.0, 960.0, None, 80.0 * 27.3239, id="textbook: open, 1.6/0.5/12 m, at 2 to 25"
        ),
    ],
)
def test_open_belt_round_two_pulleys(crank, blower, distance, wraps, length):
    found = LOOKUP.evaluate(pair(crank, blower, distance))
    assert found["pitch_length"] == pytest.approx(length, rel=1e-4)
    if wraps:
        assert (found["crank_wrap"], found["blower_wrap"]) == pytest.approx(wraps, abs=1e-4)


@pytest.mark.parametrize(
    ("sizes", "wrap", "length"),
    [
        pytest.param(
            (240.0, 120.0, 1400.0), 194.774, 3388.64, id="Tayal, Ex. 7.2: crossed, at 2 to 5"
        ),
        pytest.param(
            (200.0, 40.0, 1200.0), None, 2789.0, id="Bhavikatti, Ex. 5.16: crossed, at 2 to 5"
        ),
    ],
)
def test_crossed_belt_has_its_wraps_and_runs_but_no_length(sizes, wrap, length):
    inputs = pair(*sizes, side="back")
    inputs["blower_pulley"] = max(inputs["blower_pulley"], 40.0)
    sizes = (sizes[0], inputs["blower_pulley"] + 2e3 * BACK_HEIGHT, sizes[2])
    found = LOOKUP.evaluate(inputs)
    if wrap:
        assert found["wrap_1"] == found["wrap_2"] == pytest.approx(wrap, abs=1e-3)
    arcs = [math.radians(found[f"wrap_{n}"]) * sizes[n - 1] / 2.0 for n in (1, 2)]
    whole = sum(arcs) + found["run_1"] + found["run_2"]
    assert whole == pytest.approx(length, rel=1e-4 if wrap else 3e-3)
    assert "crosses another run" in said("length_to_buy", **inputs)


# --- independent ways ----------------------------------------------------------------------------


def ring(generator, count):
    """A ring of pulleys that all lie on their hull, in mm: crank first, clockwise."""
    angles = (
        -np.pi / 2 - (np.arange(count) + generator.uniform(-0.2, 0.2, count)) * 2 * np.pi / count
    )
    far = generator.uniform(320.0, 380.0, count)
    sizes = generator.uniform(50.0, 150.0, count)
    sizes[0] = generator.uniform(100.0, 180.0)
    return far * np.cos(angles), far * np.sin(angles), sizes


@pytest.mark.parametrize("count", [3, 4, 5, 7, 8, 10])
def test_all_inside_is_the_hull_of_the_circles_by_sampled_points(count):
    generator = np.random.default_rng(count)
    x, y, sizes = ring(generator, count)
    inputs = {**PITCH, "crank_pulley": sizes[0], "x_1": x[0], "y_1": y[0]}
    for n in range(2, PLACES + 1):
        inputs[f"kind_{n}"] = "idler" if n <= count else NONE
        if n <= count:
            inputs |= {f"x_{n}": x[n - 1], f"y_{n}": y[n - 1], f"d_{n}": sizes[n - 1]}
            inputs[f"side_{n}"] = "ribs"
    turns = np.linspace(0.0, 2.0 * np.pi, 20_000, endpoint=False)
    points = np.concatenate(
        [
            np.column_stack([a + d / 2 * np.cos(turns), b + d / 2 * np.sin(turns)])
            for a, b, d in zip(x, y, sizes, strict=True)
        ]
    )
    found = LOOKUP.evaluate(inputs)
    assert found["pitch_length"] == pytest.approx(ConvexHull(points).area, rel=1e-7)
    assert sum(found[f"wrap_{n}"] for n in range(1, count + 1)) == pytest.approx(360.0, abs=1e-6)


def strewn(count, start):
    """Set-ups drawn as the proof draws them, at points of their own."""
    entered = LOOKUP.likely(count, start)
    return [{key: values[n] for key, values in entered.items()} for n in range(count)]


def test_strewn_routes_agree_with_the_search_for_faults_and_the_solver():
    many = strewn(400, 7_000_001)
    run = LOOKUP.run(LOOKUP.filled(many))
    answered = fitted = refused = 0
    for n, inputs in enumerate(many):
        pulleys, places = laid(inputs)
        try:
            route = trace_route(pulleys)
        except ValueError:
            assert run.symbols["pitch_length"].fault[n]
            continue
        faults = find_faults(route, [0.0] * len(pulleys))
        given = not run.symbols["pitch_length"].fault[n]
        assert given == (not faults), (inputs, faults)
        refused += not given
        if not given:
            continue
        answered += 1
        assert run.symbols["pitch_length"].values[n] == pytest.approx(route.length, abs=1e-7)
        for place, wrap, span in zip(places, route.wraps, route.spans, strict=True):
            assert run.symbols[f"wrap_{place}"].values[n] == pytest.approx(wrap.angle, abs=1e-7)
            assert run.symbols[f"run_{place}"].values[n] == pytest.approx(span.length, abs=1e-9)
        if inputs["tensioner_way"] == "none" or run.symbols["travel_to_slack"].fault[n]:
            continue
        index = places.index(4)
        tensioner = travel(inputs)
        pitch = 1e-3 * inputs["fitted_belt"] + 2.0 * math.pi * LINE
        fit = fit_length(pulleys, index, tensioner, pitch)
        slack = run.symbols["travel_to_slack"].values[n]
        assert slack == pytest.approx(fit.travel_to_slack, abs=2e-6)
        seat = run.symbols["seat_x"].values[n], run.symbols["seat_y"].values[n]
        assert seat == pytest.approx(fit.center, abs=2e-6)
        low, high = length_range(pulleys, index, tensioner)
        assert run.symbols["over_shortest"].values[n] == pytest.approx(pitch - low, abs=1e-7)
        assert run.symbols["under_longest"].values[n] == pytest.approx(high - pitch, abs=1e-7)
        fitted += 1
    assert answered > 200
    assert fitted > 100
    assert refused > 3


def travel(inputs):
    """Return a set-up's tensioner for `calc`, its stops put on the arm's circle."""
    slack, tight, pivot = (
        (1e-3 * inputs[f"{end}_x"], 1e-3 * inputs[f"{end}_y"])
        for end in ("slack", "tight", "pivot")
    )
    if inputs["tensioner_way"] == "slot":
        return Slot(slack, tight)
    angles = [math.atan2(end[1] - pivot[1], end[0] - pivot[0]) for end in (slack, tight)]
    swing = (angles[1] - angles[0] + math.pi) % math.tau - math.pi
    radius = (math.dist(slack, pivot) + math.dist(tight, pivot)) / 2.0
    return Arm(pivot, radius, angles[0], angles[0] + swing)


# --- laws ----------------------------------------------------------------------------------------


def test_another_datum_changes_no_length_and_a_mirror_only_the_way_round():
    usual = LOOKUP.evaluate({})
    keys = [key for key in LOOKUP.numbers if key[:2] in ("x_", "y_") or key[-2:] in ("_x", "_y")]
    shifted = {key: LOOKUP.numbers[key].default + 37.25 for key in keys}
    mirrored = {key: -LOOKUP.numbers[key].default for key in keys if "x" in key}
    for found in (
        LOOKUP.evaluate(shifted),
        LOOKUP.evaluate({**mirrored, "travel": "counter"}),
    ):
        assert found == pytest.approx(usual, abs=1e-6)


def test_a_larger_pulley_takes_belt_by_its_wrap():
    small, large = (LOOKUP.evaluate({"blower_pulley": size}) for size in (91.9, 92.1))
    wrap = math.radians(LOOKUP.evaluate({})["blower_wrap"])
    taken = (large["belt_length"] - small["belt_length"]) / 0.1
    assert taken == pytest.approx(wrap, rel=1e-4)


def test_lengths_that_fit_lie_between_those_at_the_stops():
    found = LOOKUP.evaluate({})
    assert found["shortest_belt"] < found["belt_length"] < found["longest_belt"]
    assert found["shortest_belt"] < found["length_to_buy"] < found["longest_belt"]
    fitted = LOOKUP.evaluate({"fitted_belt": 1570.0})
    whole = math.dist((-112, 331), (-74, 319))
    assert fitted["travel_to_slack"] + fitted["travel_to_tight"] == pytest.approx(whole)
    seated = {"x_4": fitted["seat_x"], "y_4": fitted["seat_y"]}
    assert LOOKUP.evaluate(seated)["belt_length"] == pytest.approx(1570.0, abs=1e-3)


def test_an_empty_place_in_the_middle_is_no_pulley():
    without = {"kind_2": NONE}
    pulleys, _ = laid(without)
    length = 1e3 * float(effective_length(trace_route(pulleys).length, LINE))
    assert LOOKUP.evaluate(without)["belt_length"] == pytest.approx(length, abs=1e-4)


# --- routes that can't run -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        pytest.param(
            {"x_3": -140.0, "y_3": 150.0}, "Pulley 3 overlaps one before it", id="overlap"
        ),
        pytest.param({"x_7": -40.0, "y_7": 20.0}, "overlap", id="on the crank"),
        pytest.param({"travel": "counter"}, "goes round the other way", id="other way round"),
        pytest.param({"side_4": "ribs"}, "nearly all the way round pulley 4", id="wrong side"),
        pytest.param({"side_7": "back"}, "nearly all the way round pulley 7", id="wrong side too"),
        pytest.param({f"kind_{n}": NONE for n in range(2, 11)}, "only the crank", id="alone"),
        pytest.param(
            {"kind_8": "idler", "x_8": 60.0, "y_8": 130.0, "d_8": 60.0, "side_8": "ribs"},
            "pulley 8",
            id="hangs free inside",
        ),
    ],
)
def test_impossible_routes_say_in_words_what_is_wrong(inputs, words):
    assert words in said("length_to_buy", **inputs)
    assert "blower_wrap" not in LOOKUP.explain(inputs).answers


def test_a_run_through_a_pulley_names_the_run():
    # The belt turns back round an idler that stands in the way of the run from blower to crank.
    cut = {
        **PITCH,
        **{f"kind_{n}": NONE for n in range(5, PLACES + 1)},
        **{"kind_2": "idler", "x_2": -200.0, "y_2": 300.0, "d_2": 80.0},
        **{"kind_3": "idler", "x_3": 18.0, "y_3": 300.0, "d_3": 97.6, "side_3": "back"},
        **{"kind_4": "blower", "x_4": 0.0, "y_4": 500.0, "side_4": "ribs"},
    }
    faults = find_faults(trace_route(laid(cut)[0]), [0.0] * 4)
    assert [fault.kind for fault in faults] == ["cut"]
    assert "The run from pulley 4 to the next cuts into a pulley" in said("length_to_buy", **cut)
    assert "length_to_buy" in LOOKUP.evaluate({**cut, "x_3": 0.0})


@pytest.mark.parametrize(
    ("answer", "inputs", "words"),
    [
        ("travel_to_slack", {"fitted_belt": 1500.0}, "Too short"),
        ("travel_to_slack", {"fitted_belt": 1650.0}, "Too long"),
        ("shortest_belt", {"kind_2": "tensioner"}, "Two pulleys are named as the tensioner"),
        ("shortest_belt", {"kind_4": "idler"}, "None of the pulleys is a tensioner"),
        ("blower_wrap", {"kind_5": "other"}, "None of the pulleys is the blower's"),
        (
            "shortest_belt",
            {"slack_x": -74.0, "slack_y": 319.0, "tight_x": -112.0, "tight_y": 331.0},
            "the stops are swapped",
        ),
        ("shortest_belt", {"tensioner_way": "arm", "pivot_x": -60.0}, "not equally far"),
        ("shortest_belt", {"slack_x": -74.0, "slack_y": 319.0}, "same spot"),
    ],
)
def test_belts_and_tensioners_that_do_not_fit_say_so(answer, inputs, words):
    assert words in said(answer, **inputs)


def test_a_belt_that_misses_says_by_how_much():
    outcome = LOOKUP.explain({"fitted_belt": 1500.0})
    assert outcome.answers["over_shortest"] == pytest.approx(
        1500.0 - LOOKUP.evaluate({})["shortest_belt"], abs=1e-6
    )
    assert outcome.status["over_shortest"] == "beyond"


def test_nothing_is_judged_by_our_own_limits():
    assert LOOKUP.explain({}).status["least_room"] == "unchecked"
    assert LOOKUP.explain({"clearance": 10.0}).status["least_room"] == "within"
    assert LOOKUP.explain({"clearance": 60.0 - 15.0}).status["least_room"] == "beyond"
    assert LOOKUP.explain({"least_run": 100.0}).status["shortest_run"] == "beyond"


def test_a_tensioner_after_the_blower_is_on_the_tight_side():
    outcome = LOOKUP.explain({"kind_4": "idler", "kind_6": "tensioner", "tensioner_way": "none"})
    assert outcome.status["slack_side"] == "beyond"
    assert LOOKUP.explain({}).status["slack_side"] == "within"
