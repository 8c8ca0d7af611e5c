"""Bracket stack: what a builder reads off a micrometer, and the shim it comes to."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import stack
from site_src.model.lookup import InputError

STACK = stack.LOOKUP
INCH = 25.4


def part(nominal, plus=0.0, minus=0.0, sense="adds"):
    return {"nominal": nominal, "plus": plus, "minus": minus, "sense": sense}


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = STACK.explain(inputs)
    assert answer not in outcome.answers
    return STACK.words(outcome.faults[answer], inputs)


# --- published figures through the page ----------------------------------------------------------


def test_three_spacers_of_five_hundredths_arithmetic():
    found = STACK.evaluate({"stack_parts": [part(20.0, 0.05, 0.05)] * 3, "stack_target": 60.0})
    assert found["worst_half_band"] == pytest.approx(0.150, abs=5e-6)
    assert found["rss_half_band"] == pytest.approx(0.08660, abs=5e-6)


def test_unequal_tolerances_move_to_the_middle_arithmetic():
    found = STACK.evaluate({"stack_parts": [part(20.0, 0.2, 0.0)], "stack_target": 21.0})
    assert found["stack_nominal"] == pytest.approx(20.0)
    assert found["stack_mean"] == pytest.approx(20.1)
    assert found["worst_half_band"] == pytest.approx(0.1)
    assert found["shim"] == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("angle", "span", "offset"),
    [
        pytest.param(0.1, 300.0, 0.524, id="tangent: 0.1° over 300 mm"),
        pytest.param(0.25, 300.0, 1.309, id="tangent: 0.25° over 300 mm"),
        pytest.param(0.5, 500.0, 4.363, id="tangent: 0.5° over 500 mm"),
        pytest.param(1.0, 300.0, 5.237, id="tangent: 1° over 300 mm, printed 5.237"),
        pytest.param(0.25, 12 * INCH, 0.0524 * INCH, id="tangent: 0.0524 in per foot"),
    ],
)
def test_offset_that_an_angle_allows(angle, span, offset):
    found = STACK.evaluate({"alignment_limit": angle, "alignment_span": span})
    assert found["offset_allowed"] == pytest.approx(offset, abs=2e-3)


# --- laws ------------------------------------------------------------------------------------

parts = st.lists(
    st.builds(
        part,
        st.floats(1.0, 100.0),
        st.floats(0.0, 0.5),
        st.floats(0.0, 0.5),
        st.sampled_from(["adds", "subtracts"]),
    ),
    min_size=1,
    max_size=8,
)


@settings(max_examples=60, deadline=None)
@given(parts=parts)
def test_root_sum_square_is_what_the_square_root_of_the_sum_says(parts):
    found = STACK.explain({"stack_parts": parts}).answers
    halves = [(each["plus"] + each["minus"]) / 2 for each in parts]
    assert found["rss_half_band"] == pytest.approx(math.hypot(*halves), abs=1e-9)
    assert found["rss_half_band"] <= found["worst_half_band"] + 1e-9


@settings(max_examples=60, deadline=None)
@given(parts=parts, order=st.randoms())
def test_order_of_the_parts_does_not_matter(parts, order):
    shuffled = list(parts)
    order.shuffle(shuffled)
    one = STACK.explain({"stack_parts": parts}).answers
    other = STACK.explain({"stack_parts": shuffled}).answers
    assert one == pytest.approx(other, abs=1e-9)


# --- scenarios -------------------------------------------------------------------------------


def test_usual_set_up_wants_a_small_shim_and_stays_in_plane():
    outcome = STACK.explain({})
    assert outcome.answers["shim"] == pytest.approx(0.6)
    assert outcome.status == {"offset_worst": "within", "offset_rss": "within"}


def test_the_exact_shim_leaves_only_the_tolerances():
    found = STACK.evaluate({})
    assert found["offset_worst"] == pytest.approx(found["worst_half_band"], abs=1e-9)


def test_the_shim_from_the_pack_leaves_its_difference_too():
    found = STACK.evaluate({"fitted_shim": 0.5})
    assert found["offset_worst"] == pytest.approx(found["worst_half_band"] + 0.1, abs=1e-9)
    assert found["shim"] == pytest.approx(0.6)


def test_too_long_a_stack_says_how_much_has_to_come_off():
    assert STACK.evaluate({"stack_target": 86.0})["shim"] == pytest.approx(-0.6)


def test_a_short_span_makes_the_same_stack_near_then_beyond():
    statuses = [
        STACK.explain({"alignment_span": span}).status["offset_worst"] for span in (300, 110, 90)
    ]
    assert statuses == ["within", "near", "beyond"]


def test_a_part_that_takes_away_counts_against_the_stack():
    entered = {"stack_parts": [part(50.0), part(8.0, sense="subtracts")], "stack_target": 42.0}
    assert STACK.evaluate(entered)["shim"] == pytest.approx(0.0)


def test_a_missing_part_is_no_shim_and_says_so():
    assert "A part is missing" in told("shim", stack_parts=[part(20.0)], stack_target=87.0)


def test_a_part_entered_twice_is_no_shim_and_says_so():
    words = told("shim", stack_parts=[part(90.0), part(90.0)], stack_target=87.0)
    assert "entered twice" in words


@pytest.mark.parametrize("answer", [a.key for a in STACK.answers if a.key != "offset_allowed"])
def test_a_list_of_no_parts_is_no_stack_and_says_so(answer):
    assert "Enter at least one" in told(answer, stack_parts=[])
    assert answer not in STACK.exact({"stack_parts": []})


# --- entries ---------------------------------------------------------------------------------


def test_a_size_out_of_range_is_refused():
    with pytest.raises(InputError):
        STACK.evaluate({"stack_parts": [part(111.0)]})
