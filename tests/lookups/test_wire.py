"""Wiring page: what a clamp meter, a tape and the print on the wire come to."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.data.wires import fuses, wires
from site_src.face.each import each_table
from site_src.lookups import lookup
from site_src.model.lookup import InputError, Outcome

WIRE = lookup("wire")
FUEL = lookup("fuel")
OWN = {"load_current": 12.0, "feed_length": 3.5}
COOL = {"wire_air": 20.0, "bundle": "1", "insulation": "125", "connections": 0.0}
LARGE = [wire.key for wire in wires()]


def told(answer: str, **inputs: object) -> str:
    """Return the words that stand in an answer's place."""
    outcome = WIRE.explain(inputs)  # type: ignore[arg-type]
    assert answer not in outcome.answers
    return WIRE.words(outcome.faults[answer], inputs)  # type: ignore[arg-type]


def found(**inputs: object) -> Outcome:
    return WIRE.explain(inputs)  # type: ignore[arg-type]


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("wire", "ohm_per_km"),
    [
        pytest.param("mm2_5", 7.98, id="IEC 60228 class 5, 2.5 mm², 20 °C"),
        pytest.param("mm6", 3.30, id="IEC 60228 class 5, 6 mm², 20 °C"),
        pytest.param("mm16", 1.21, id="IEC 60228 class 5, 16 mm², 20 °C"),
    ],
)
def test_drop_is_the_standards_resistance_times_length_and_current(
    wire: str, ohm_per_km: float
) -> None:
    outcome = found(**COOL, wire=wire, load_current=1.0, feed_length=5.0)
    # One ampere warms no wire by more than a degree, which is 0.4 % of its resistance.
    assert outcome.answers["drop"] == pytest.approx(10.0 * ohm_per_km / 1000.0, rel=4e-3)


@pytest.mark.parametrize(
    ("wire", "ohm_per_kft"),
    [
        pytest.param("awg14", 3.14, id="NFPA 70 ch. 9 table 8, 14 AWG at 75 °C"),
        pytest.param("awg10", 1.24, id="NFPA 70 ch. 9 table 8, 10 AWG at 75 °C"),
        pytest.param("awg6", 0.491, id="NFPA 70 ch. 9 table 8, 6 AWG at 75 °C"),
    ],
)
def test_a_gauge_in_hot_air_drops_by_the_code_table(wire: str, ohm_per_kft: float) -> None:
    hot = {**COOL, "wire_air": 75.0}
    outcome = found(**hot, wire=wire, load_current=1.0, feed_length=10 * 0.3048)
    assert outcome.answers["drop"] == pytest.approx(20.0 * ohm_per_kft / 1000.0, rel=4e-3)


@pytest.mark.parametrize(
    ("wire", "insulation", "allowed"),
    [
        pytest.param("awg10", "105", 60.0, id="33 CFR 183.425 table 5, 10 AWG, 105 °C"),
        pytest.param("awg12", "80", 35.0, id="33 CFR 183.425 table 5, 12 AWG, 80 °C"),
        pytest.param("awg4", "90", 135.0, id="33 CFR 183.425 table 5, 4 AWG, 90 °C"),
    ],
)
def test_alone_in_air_of_thirty_it_carries_what_the_rule_lists(
    wire: str, insulation: str, allowed: float
) -> None:
    outcome = found(wire=wire, insulation=insulation, wire_air=30.0, bundle="1", **OWN)
    assert outcome.answers["allowed_current"] == pytest.approx(allowed)


@pytest.mark.parametrize(
    ("wire", "fuse"),
    [
        pytest.param("awg16", 10.0, id="AC 43.13-1B table 11-3, 16 AWG"),
        pytest.param("awg14", 15.0, id="AC 43.13-1B table 11-3, 14 AWG"),
        pytest.param("awg10", 30.0, id="AC 43.13-1B table 11-3, 10 AWG"),
        pytest.param("awg6", 70.0, id="AC 43.13-1B table 11-3, 6 AWG"),
    ],
)
def test_a_cool_wire_may_have_the_fuse_that_the_table_gives(wire: str, fuse: float) -> None:
    assert found(**COOL, wire=wire, **OWN).answers["fuse_most"] == fuse


def test_fuse_is_the_next_size_over_the_load_at_four_fifths_common_practice() -> None:
    sizes = {amps: found(load_current=amps).answers["fuse"] for amps in (6.0, 8.0, 8.1, 12.0, 25.0)}
    assert sizes == {6.0: 7.5, 8.0: 10.0, 8.1: 15.0, 12.0: 15.0, 25.0: 40.0}


# --- fuse, relay, heat -----------------------------------------------------------------------


def test_a_hot_crowded_wire_may_have_a_smaller_fuse() -> None:
    cool = found(**OWN, wire_air=30.0, bundle="1").answers["fuse_most"]
    hot = found(**OWN, wire_air=70.0, bundle="8").answers["fuse_most"]
    assert hot < cool
    assert found(**OWN, wire_air=70.0, bundle="8").status["fuse"] == "beyond"


def test_a_fuse_over_what_the_wire_may_have_is_beyond() -> None:
    outcome = found(**OWN, wire="mm2_5", fitted_fuse=30.0)
    assert outcome.status["fuse"] == "beyond"
    assert found(**OWN, fitted_fuse=20.0).status["fuse"] == "within"


def test_a_fuse_that_works_too_hard_is_said_to() -> None:
    assert found(**OWN, fitted_fuse=10.0).status["fuse_share"] == "beyond"
    assert found(**OWN, fitted_fuse=15.0).status["fuse_share"] in ("within", "near")


def test_a_peak_at_switch_on_asks_for_a_larger_fuse() -> None:
    without = found(**OWN)
    assert without.status["fuse_stands"] == "unchecked"
    outcome = found(**OWN, inrush_current=70.0, inrush_time="t150")
    assert outcome.answers["fuse"] == 40.0
    assert outcome.status["fuse_stands"] in ("within", "near")
    fitted = found(**OWN, inrush_current=70.0, inrush_time="t150", fitted_fuse=15.0)
    assert fitted.status["fuse_stands"] == "beyond"


def test_relay_is_judged_only_by_its_own_figures() -> None:
    assert found(**OWN).status["relay_current"] == "unchecked"
    assert found(**OWN, relay_rating=20.0).status["relay_current"] == "within"
    assert found(**OWN, relay_rating=10.0).status["relay_current"] == "beyond"
    closing = {"inrush_current": 70.0, **OWN}
    assert found(**closing).status["inrush"] == "unchecked"
    assert found(**closing, relay_peak=60.0).status["inrush"] == "beyond"


def test_air_hotter_than_the_insulation_is_refused_with_the_way_out() -> None:
    assert "Better insulation" in told("allowed_current", **OWN, wire_air=90.0)
    assert "Better insulation" in told("load_voltage", **OWN, wire_air=90.0)


def test_a_current_that_burns_the_wire_has_no_drop() -> None:
    assert "burn the wire" in told("drop", load_current=60.0, wire="mm1", feed_length=3.0)


# --- voltage and flow ------------------------------------------------------------------------


def test_flow_follows_voltage_in_proportion_or_by_the_exponent() -> None:
    left = found(**OWN, load="fan").answers
    assert left["flow_share"] == pytest.approx(100.0 * left["load_voltage"] / 13.5)
    strong = found(**OWN, pump_exponent=2.0).answers["flow_share"]
    assert strong == pytest.approx(100.0 * (left["load_voltage"] / 13.5) ** 2, abs=0.02)


def test_another_load_has_no_flow() -> None:
    assert "flow_share" not in found(**OWN, load="other").answers


def test_while_cranking_less_arrives() -> None:
    outcome = found(**OWN)
    assert outcome.answers["cranking_left"] == pytest.approx(10.0 - outcome.answers["drop"])
    assert outcome.answers["cranking_flow"] < outcome.answers["flow_share"]


def test_power_on_a_sheet_is_a_current_at_its_own_voltage() -> None:
    outcome = found(known_by="power", load_power=162.0, rated_voltage=13.5, feed_length=3.5)
    assert outcome.answers["current"] == pytest.approx(12.0)


def test_electronics_draw_more_as_the_voltage_sags() -> None:
    held = {"known_by": "regulated", "load_power": 162.0, "feed_length": 6.0, "wire": "mm2_5"}
    answers = found(**held).answers
    assert answers["current"] * answers["load_voltage"] == pytest.approx(162.0)
    plain = found(**{**held, "known_by": "power", "rated_voltage": 13.8}).answers
    assert answers["drop"] > plain["drop"]


def test_a_wire_that_cannot_bring_the_power_says_so() -> None:
    entered = {
        "known_by": "regulated",
        "load_power": 300.0,
        "feed_length": 12.0,
        "wire": "mm4",
        "insulation": "125",
        "bundle": "1",
        "connections": 60.0,
        "cranking_voltage": 6.0,
    }
    assert "can't bring this power" in told("cranking_left", **entered)


def test_the_frame_takes_its_own_share() -> None:
    wired = found(**OWN, return_length=0.5).answers["drop"]
    framed = found(**OWN, return_length=0.5, ground="frame", frame_resistance=5.0)
    assert framed.answers["drop"] == pytest.approx(wired + 12.0 * 5e-3)
    guessed = found(**OWN, ground="frame")
    assert guessed.status["load_voltage"] == "unchecked"


# --- least size ------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    current=st.floats(1.0, 30.0),
    length=st.floats(0.5, 8.0),
    air=st.floats(0.0, 65.0),
    limit=st.floats(0.3, 1.5),
    bundle=st.sampled_from(["1", "2", "4", "8"]),
    family=st.sampled_from(["mm4", "awg12"]),
)
def test_the_least_wire_passes_and_the_next_thinner_one_does_not(
    current: float, length: float, air: float, limit: float, bundle: str, family: str
) -> None:
    entered = {
        "load_current": current,
        "feed_length": length,
        "wire_air": air,
        "drop_limit": limit,
        "bundle": bundle,
    }
    outcome = found(**entered, wire=family)
    if "current" not in outcome.answers or "wire_warm" not in outcome.symbols:
        return
    sizes = [wire for wire in wires() if wire.is_metric == (family == "mm4")]
    tried = WIRE.explain_many([{**entered, "wire": wire.key} for wire in sizes])
    passing = [wire.key for wire, each in zip(sizes, tried, strict=True) if _passes(each)]
    key = "least_metric" if family == "mm4" else "least_gauge"
    if key not in outcome.answers:
        assert passing == []
        return
    least = next(
        wire.key
        for wire in sizes
        if outcome.answers[key] == pytest.approx(1e6 * wire.area if wire.is_metric else wire.gauge)
    )
    assert least == passing[0]


def _passes(outcome: Outcome) -> bool:
    """Whether a wire keeps to the drop and may have the fuse that the load needs."""
    return outcome.status.get("load_voltage") in ("within", "near") and (
        outcome.status.get("fuse") in ("within", "near")
    )


def test_no_size_that_does_says_what_to_do() -> None:
    words = told("least_metric", load_current=60.0, feed_length=12.0, wire="mm35", drop_limit=0.2)
    assert "shorten the run" in words


@settings(max_examples=40, deadline=None)
@given(current=st.floats(2.0, 25.0), more=st.floats(0.1, 3.0))
def test_more_length_never_leaves_more_voltage(current: float, more: float) -> None:
    short = found(load_current=current, feed_length=3.0).answers["load_voltage"]
    long = found(load_current=current, feed_length=3.0 + more).answers["load_voltage"]
    assert long < short


# --- harness ---------------------------------------------------------------------------------


def _circuit(amps: float, length: float = 4.0, wire: str = "mm6") -> dict[str, object]:
    return {
        "circuit_load": "fan",
        "circuit_current": amps,
        "circuit_length": length,
        "circuit_wire": wire,
    }


def test_the_harness_is_judged_by_the_alternators_spare() -> None:
    mine = {"circuits": [_circuit(20.0), _circuit(15.0)]}
    assert found(**mine).status["harness_current"] == "unchecked"
    enough = found(**mine, alternator_output=90.0, base_load=40.0)
    assert enough.answers["harness_current"] == pytest.approx(35.0)
    assert enough.answers["reserve"] == pytest.approx(15.0)
    assert enough.status["harness_current"] == "within"
    short = found(**mine, alternator_output=70.0, base_load=40.0)
    assert short.status["harness_current"] == "beyond"


def test_nothing_is_judged_by_the_example_list() -> None:
    outcome = found(alternator_output=300.0, base_load=10.0)
    assert outcome.status["harness_current"] == "unchecked"
    assert "Example list" in outcome.unjudged["harness_current"].say


def test_nothing_is_judged_by_example_current_or_length() -> None:
    for entered in ({}, {"load_current": 12.0}, {"feed_length": 3.5}):
        assert found(**entered).status["load_voltage"] == "unchecked"
    assert found(**OWN, wire="mm10").status["load_voltage"] == "within"


def test_the_wiring_list_gives_each_circuit_its_own_answer() -> None:
    table = each_table(WIRE, WIRE.views.each)  # type: ignore[arg-type]
    assert table.example.startswith("Example list")
    assert len(table.rows) == 4
    first = found(load_current=12.0, feed_length=3.5, wire="mm6", load="fuel_pump")
    assert table.rows[0].cells[3].text == f"{first.answers['load_voltage']:.2f}"
    assert all(cell.status == "" for row in table.rows for cell in row.cells)


# --- entries, and the page that this one feeds -------------------------------------------------


@pytest.mark.parametrize("entered", [{"load_current": 90.0}, {"system_voltage": 28.0}])
def test_an_entry_out_of_range_is_refused(entered: dict[str, float]) -> None:
    with pytest.raises(InputError, match="This page covers"):
        WIRE.evaluate(entered)


def test_every_fuse_that_is_given_is_one_that_exists() -> None:
    for amps in (0.5, 3.0, 7.7, 19.9, 41.0, 60.0):
        answers = found(load_current=amps, wire="mm35").answers
        assert answers["fuse"] in fuses()
        assert answers["fuse_most"] in fuses()


def test_fuel_page_takes_the_voltage_that_this_page_gives() -> None:
    circuit = {"load_current": 15.0, "feed_length": 5.0, "wire": "mm4", "wire_air": 40.0}
    arriving = found(**circuit).answers["load_voltage"]
    wire = {"pump_current": 15.0, "pump_feed": 5.0, "pump_wire": "mm4", "wire_air": 40.0}
    wired = FUEL.evaluate({**wire, "pump_supply": "wired"})
    typed = FUEL.evaluate({"pump_voltage": arriving})
    assert wired["pump_flow"] == pytest.approx(typed["pump_flow"], rel=1e-4)


def test_fuel_page_does_not_judge_the_pump_by_an_example_wire() -> None:
    pump = {
        "pump_flow_1": 350.0,
        "pump_flow_2": 290.0,
        "injector_flow": 750.0,
        "pump_supply": "wired",
    }
    assert FUEL.explain(pump).status["pump_spare"] == "unchecked"
    own = {**pump, "pump_current": 12.0, "pump_feed": 3.5}
    assert FUEL.explain(own).status["pump_spare"] != "unchecked"
