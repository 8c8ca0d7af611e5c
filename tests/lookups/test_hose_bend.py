"""Hose bend: what a builder under the truck types, and what the page must tell him."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import hoses as calc
from site_src.data.hoses import hose_kind, hose_kinds
from site_src.lookups import lookup
from site_src.lookups.hose_bend import BASIS, DASH_SIZES, bores
from site_src.model.lookup import InputError

BEND = lookup("hose-bend")
INCH = 25.4

chords = st.floats(60.0, 600.0)
shares = st.floats(0.03, 0.49)


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = BEND.explain(inputs)
    assert answer not in outcome.answers
    return BEND.words(outcome.faults[answer], inputs)


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("chord", "rise", "radius"),
    [
        pytest.param(150.0, 30.0, 108.75, id="Machinery's Handbook, R = c²/8h + h/2"),
        pytest.param(200.0, 25.0, 212.5, id="Machinery's Handbook, R = c²/8h + h/2, flatter"),
        pytest.param(173.205, 50.0, 100.0, id="Machinery's Handbook, segments, 120°, radius 100"),
        pytest.param(100.0, 50.0, 50.0, id="limit case: half a turn"),
    ],
)
def test_radius_from_a_rule_across_the_inside(chord, rise, radius):
    found = BEND.evaluate({"chord": chord, "rise": rise})
    assert found["inside_radius"] == pytest.approx(radius, abs=0.01)


def test_angle_under_the_rule_segment_table_120_degrees():
    found = BEND.evaluate({"chord": 173.205, "rise": 50.0})
    assert found["bend_angle"] == pytest.approx(120.0, abs=0.02)


@pytest.mark.parametrize(
    ("kind", "bore", "inches"),
    [
        pytest.param("wire_braid", "0.5in", 5.50, id="FAA AC 43.13-1B table 9-3, 1/2 in bore"),
        pytest.param("wire_braid", "0.625in", 6.50, id="FAA AC 43.13-1B table 9-3, 5/8 in bore"),
        pytest.param("wire_braid", "0.75in", 7.38, id="FAA AC 43.13-1B table 9-3, next size up"),
        pytest.param("hydraulic_one_braid", "2in", 25.0, id="SAE J517 100R1, 2 in, as restated"),
        pytest.param("wire_helix", "0.75in", 4.5, id="6 bores, common practice"),
        pytest.param("mandrel_built", "0.75in", 6.0, id="no helix, 8 bores, common practice"),
        pytest.param("push_on", "0.5in", 5.0, id="10 bores, common practice"),
        pytest.param("textile_coolant", "1in", 8.0, id="8 bores, common practice"),
    ],
)
def test_minimum_radius_of_the_hose(kind, bore, inches):
    found = BEND.evaluate({"hose_kind": kind, "bore": bore})
    assert found["minimum_radius"] == pytest.approx(inches * INCH, abs=0.01)


# --- what it means in the bay --------------------------------------------------------------------


BRAID = {"hose_kind": "wire_braid", "bore": "0.625in"}
"""Hose whose minimum is from a published table: 6.50 in, 165 mm."""


def verdict(key, status):
    """Return the words that an answer's verdict is given in."""
    return BEND.answer(key).band.spec()["words"][status]


def test_chord_150_rise_30_is_tighter_than_the_rule_for_a_three_quarter_coolant_hose():
    outcome = BEND.explain({"chord": 150.0, "rise": 30.0})
    # Six inches, eight times the bore, against 109 mm.
    assert outcome.answers["minimum_radius"] == pytest.approx(152.4)
    assert outcome.answers["over_rule"] == pytest.approx(108.75 / 152.4, abs=1e-4)
    assert outcome.answers["rise_that_passes"] == pytest.approx(19.73, abs=0.01)
    assert outcome.status == {"over_rule": "near"}
    words = verdict("over_rule", "near")
    assert words.startswith("Tighter than the rule")
    assert "look for flattening, warm" in words


def test_the_same_bend_is_too_tight_for_a_hose_with_a_published_minimum():
    outcome = BEND.explain({"chord": 150.0, "rise": 30.0} | BRAID)
    assert outcome.status == {"inside_radius": "beyond"}
    assert "Too tight" in verdict("inside_radius", "beyond")


@pytest.mark.parametrize("kind", [k.key for k in hose_kinds() if k.multiple])
@pytest.mark.parametrize("rise", [20.0, 49.0, 75.0])
def test_a_rule_of_the_trade_condemns_no_hose(kind, rise):
    bore = next(b for b in bores() if any(r.bore / 0.0254 == b for r in hose_kind(kind).rows))
    entered = {"hose_kind": kind, "bore": f"{bore:g}in", "chord": 150.0, "rise": rise}
    outcome = BEND.explain(entered)
    assert outcome.status["over_rule"] in ("within", "near")
    assert "inside_radius" not in outcome.status


def test_a_makers_figure_makes_the_rule_fall_away():
    entered = {"chord": 150.0, "rise": 30.0, "makers_radius": 120.0}
    outcome = BEND.explain(entered)
    assert outcome.status == {"inside_radius": "beyond"}
    assert "over_rule" not in outcome.answers


def test_a_straight_coupler_is_not_to_be_bent():
    entered = {"hose_kind": "silicone_coupler", "bore": "3in"}
    outcome = BEND.explain(entered)
    assert outcome.status == {}
    assert outcome.answers["hose_diameter"] == pytest.approx(3.4 * INCH)
    assert "Basis" in told("minimum_radius", **entered)
    assert BASIS.cells["3in", "silicone_coupler"].words == "Not to be bent"
    assert "moulded elbow" in BASIS.cells["3in", "silicone_coupler"].why


def test_the_usual_set_up_sweeps():
    outcome = BEND.explain({})
    assert outcome.status == {"over_rule": "within"}
    assert not outcome.faults


def test_the_rise_that_passes_passes_and_a_millimetre_more_does_not():
    rise = BEND.evaluate({"chord": 150.0} | BRAID)["rise_that_passes"]
    at, over = ({"chord": 150.0, "rise": rise + more} | BRAID for more in (-0.01, 1.0))
    assert BEND.explain(at).status["inside_radius"] == "near"
    assert BEND.explain(over).status["inside_radius"] == "beyond"


def test_a_reading_error_that_leaves_it_open_is_called_tight():
    # 169 mm is more than 1.1 times 152.4; only a rough reading puts it in doubt.
    exact = {"chord": 150.0, "rise": 17.5, "chord_error": 0.0, "rise_error": 0.0}
    rough = exact | {"chord_error": 2.0, "rise_error": 2.0}
    for judged, entered in (("over_rule", {}), ("inside_radius", {"makers_radius": 152.4})):
        assert BEND.explain(exact | entered).status[judged] == "within"
        outcome = BEND.explain(rough | entered)
        assert outcome.answers["radius_low"] < outcome.answers["minimum_radius"]
        assert outcome.status[judged] == "near"


def test_less_than_a_tenth_over_the_minimum_is_called_tight():
    exact = {"chord_error": 0.0, "rise_error": 0.0, "makers_radius": 100.0, "chord": 150.0}
    assert BEND.explain(exact | {"rise": 30.0}).status["inside_radius"] == "near"  # 108.75
    assert BEND.explain(exact | {"rise": 29.0}).status["inside_radius"] == "within"  # 111.5


def test_the_rise_that_surely_passes_leaves_room_for_both_errors():
    found = BEND.evaluate({"chord": 150.0})
    sure = found["rise_that_surely_passes"]
    assert sure < found["rise_that_passes"]
    low = BEND.evaluate({"chord": 150.0, "rise": sure})["radius_low"]
    assert low == pytest.approx(found["minimum_radius"], abs=0.01)


def test_the_makers_figure_wins_over_every_list():
    listed = BEND.evaluate({"chord": 150.0, "rise": 30.0})
    stated = BEND.evaluate({"chord": 150.0, "rise": 30.0, "makers_radius": 90.0})
    assert stated["minimum_radius"] == pytest.approx(90.0)
    assert stated["listed_radius"] == listed["listed_radius"]


def test_measured_outside_the_bend_the_hose_itself_is_taken_off():
    outside = {"face": "outside", "chord": 200.0, "rise": 25.0, "outside_diameter": 25.0}
    found = BEND.evaluate(outside)
    assert found["inside_radius"] == pytest.approx(212.5 - 25.0, abs=0.01)
    inside = BEND.evaluate(outside | {"face": "inside"})
    # The same bend shows a smaller rise from outside, where the radius is larger.
    assert found["rise_that_passes"] < inside["rise_that_passes"]


def test_length_to_cut_is_the_arc_the_straights_the_slack_and_both_ends():
    found = BEND.evaluate(
        {
            "chord": 150.0,
            "rise": 30.0,
            "outside_diameter": 30.0,
            "planned_angle": 180.0,
            "straight_before": 100.0,
            "straight_after": 50.0,
            "slack": 5.0,
            "insertion": 30.0,
        }
    )
    arc = 3.14159265 * (108.75 + 15.0)
    assert found["length_to_cut"] == pytest.approx((arc + 150.0) * 1.05 + 60.0, abs=0.01)


def test_bent_to_the_minimum_a_hose_that_would_kink_gets_longer():
    found = BEND.evaluate({"chord": 150.0, "rise": 30.0})
    assert found["length_at_minimum"] > found["length_to_cut"]


@settings(deadline=None)
@given(chords, shares, shares)
def test_more_rise_is_a_tighter_bend(chord, one, other):
    small, large = sorted((one, other))
    tight, open_ = (
        BEND.evaluate({"chord": chord, "rise": chord * share})["inside_radius"]
        for share in (large, small)
    )
    assert tight <= open_ + 1e-9


@settings(deadline=None)
@given(chords, shares)
def test_the_radius_lies_between_its_ends(chord, share):
    found = BEND.evaluate({"chord": chord, "rise": chord * share})
    high = found.get("radius_high", 1e9)
    assert found["radius_low"] - 1e-6 <= found["inside_radius"] <= high + 1e-6


def test_the_ends_are_those_over_a_grid_of_readings():
    chord, rise, chord_error, rise_error = 0.150, 0.060, 0.004, 0.010
    span = np.linspace(-1, 1, 201)
    gaps, lengths = np.meshgrid(rise + span * rise_error, chord + span * chord_error)
    arcs = gaps <= lengths / 2
    radii = calc.bend_radius(lengths[arcs], gaps[arcs])
    found = BEND.evaluate({"chord": 150.0, "rise": 60.0, "chord_error": 4.0, "rise_error": 10.0})
    assert found["radius_low"] == pytest.approx(1000.0 * radii.min())
    assert found["radius_high"] == pytest.approx(1000.0 * radii.max())


def test_the_least_radius_of_nearly_half_a_turn_is_half_the_shortest_chord():
    found = BEND.evaluate({"chord": 100.0, "rise": 50.0, "chord_error": 2.0, "rise_error": 1.0})
    assert found["radius_low"] == pytest.approx(49.0)


def test_without_reading_errors_the_sure_rise_is_the_rise_that_passes():
    found = BEND.evaluate({"chord_error": 0.0, "rise_error": 0.0})
    assert found["rise_that_surely_passes"] == pytest.approx(found["rise_that_passes"], abs=1e-9)


@pytest.mark.parametrize(
    ("key", "text"),
    [
        pytest.param("read_at_face", "R_rule = c² ÷ (8 × h) + h ÷ 2", id="Machinery's Handbook"),
        pytest.param("read_share", "rise over chord = h ÷ c", id="definition"),
    ],
)
def test_formulas_are_shown_as_the_trade_writes_them(key, text):
    assert BEND.shown[key].text == text


# --- no answer, in words -------------------------------------------------------------------------


def test_more_than_half_a_turn_asks_for_a_shorter_piece():
    words = told("inside_radius", chord=100.0, rise=60.0)
    assert "half the chord" in words
    assert "shorter piece" in words


def test_half_the_chord_exactly_is_still_read():
    assert BEND.evaluate({"chord": 115.0, "rise": 57.5})["inside_radius"] == pytest.approx(57.5)


def test_a_kind_not_made_in_the_bore_has_no_minimum_and_no_verdict():
    outcome = BEND.explain({"hose_kind": "ptfe_braid", "bore": "2in"})
    assert outcome.answers["inside_radius"] == pytest.approx(181.67, abs=0.01)
    assert outcome.status == {}
    words = told("minimum_radius", hose_kind="ptfe_braid", bore="2in")
    assert "maker's minimum radius" in words
    assert "outside diameter" in told("length_to_cut", hose_kind="ptfe_braid", bore="2in")


def test_ones_own_hose_is_judged_once_its_makers_figure_is_in():
    assert "minimum radius" in told("minimum_radius", hose_kind="own")
    own = {"hose_kind": "own", "makers_radius": 120.0, "outside_diameter": 27.0}
    outcome = BEND.explain(own)
    assert outcome.status["inside_radius"] == "within"
    assert "length_to_cut" in outcome.answers


def test_a_gap_no_larger_than_its_error_may_be_a_straight():
    assert "straight" in told("radius_high", rise=1.0, rise_error=1.0)


def test_the_ends_have_no_radius_for_the_same_reason_as_the_bend():
    unknown = {"face": "outside", "hose_kind": "own", "chord": 100.0, "rise": 60.0}
    words = {told(answer, **unknown) for answer in ("inside_radius", "radius_low", "radius_high")}
    assert len(words) == 1


def test_an_outside_bend_smaller_than_the_hose_is_questioned():
    words = told("inside_radius", face="outside", chord=40.0, rise=20.0, outside_diameter=30.0)
    assert "which face" in words


def test_a_run_as_good_as_straight_is_not_given_an_arc():
    assert "straight" in told("length_to_cut", chord=1000.0, rise=1.0)


def test_on_a_chord_too_long_any_rise_passes():
    found = BEND.evaluate({"chord": 400.0, "makers_radius": 100.0})
    assert found["rise_that_passes"] == pytest.approx(200.0, abs=0.01)
    assert "any rise" in told("rise_that_surely_passes", chord=400.0, makers_radius=100.0)


def test_on_a_chord_too_short_no_rise_is_sure():
    assert "longer piece" in told("rise_that_surely_passes", chord=30.0, makers_radius=1000.0)


@pytest.mark.parametrize(
    ("field", "inside", "outside"),
    [
        ("chord", 30.0, 29.9),
        ("chord", 1000.0, 1000.1),
        ("rise", 1.0, 0.9),
        ("makers_radius", 10.0, 9.9),
        ("makers_radius", 1500.0, 1500.1),
        ("slack", 20.0, 20.1),
    ],
)
def test_range_ends_are_taken_and_a_step_outside_is_refused_by_name(field, inside, outside):
    BEND.evaluate({field: inside} | ({"rise": 5.0} if field == "chord" else {}))
    entered = {field: outside} | ({"rise": 5.0} if field == "chord" else {})
    with pytest.raises(InputError) as refused:
        BEND.evaluate(entered)
    number = BEND.numbers[field]
    assert number.label in str(refused.value)
    assert f"{number.low:g} to {number.high:g} {number.declared.label}" in str(refused.value)


# --- where the minimum is from -------------------------------------------------------------------


def test_every_bore_and_kind_says_where_its_minimum_is_from():
    assert len(BASIS.cells) == len(bores()) * len(hose_kinds())


@pytest.mark.parametrize(
    ("bore", "kind", "words", "why"),
    [
        ("0.625in", "wire_braid", "Published", "table 9-3"),
        ("0.75in", "wire_braid", "As 7/8 in, next up", "next listed bore up"),
        ("0.75in", "textile_coolant", "8 × bore", "Common practice"),
        ("0.5in", "push_on", "10 × bore", "dash 8 is 1/2 in here"),
        ("0.4375in", "nylon_braid", "8 × bore", "MIL-H-8788"),
        ("0.375in", "fuel_injection", "8 × bore", "30R7"),
        ("0.5in", "ptfe_braid", "From memory", "from memory"),
        ("2in", "ptfe_braid", "Not listed", "No figure"),
        ("0.75in", "own", "Maker's figure", "Enter the minimum"),
    ],
)
def test_basis_tells_a_table_from_a_rule_of_the_trade(bore, kind, words, why):
    cell = BASIS.cells[bore, kind]
    assert cell.words == words
    assert why in cell.why


def test_bores_are_the_ones_over_the_counter():
    labels = [option.label for option in BEND.choices["bore"].options]
    assert labels[0] == "1/4 in · 6.35 mm"
    assert labels[-1] == "4 in · 101.6 mm"
    assert {"3/4 in · 19.05 mm", "1 1/2 in · 38.1 mm", "13/32 in · 10.32 mm"} < set(labels)


# --- dash sizes ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(
            ("-6", "3/8 in", "7.9 mm", "7.9 mm", "8.7 mm", "9.5 mm", "9.5 mm"), id="dash 6"
        ),
        pytest.param(
            ("-8", "1/2 in", "10.3 mm", "10.3 mm", "11.1 mm", "12.7 mm", "12.7 mm"), id="dash 8"
        ),
        pytest.param(
            ("-10", "5/8 in", "12.7 mm", "12.7 mm", "14.3 mm", "15.9 mm", "15.9 mm"), id="dash 10"
        ),
    ],
)
def test_a_dash_size_is_shown_with_the_bore_that_each_kind_has(row):
    # Wire braid and outer braid: FAA AC 43.13-1B, table 9-3; the others as marked in the data.
    assert row in DASH_SIZES.rows
