"""A calculation run on symbols writes down a recipe that is the calculation, or says why not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from calc.domain import DomainError, Real, require
from site_src.model.entries import Entries
from site_src.model.lookup import Lookup
from site_src.proof.comparison import ProofError, prove
from site_src.tables import recipe
from site_src.tables.compiler import cubic, linear
from site_src.tables.symbols import TraceError
from site_src.tables.trace import Refusal, choose, greatest, least, settled, tabulated, within
from tests.tables.made_up import FIELDS, Reckon, number, page


def specs(lookup: Lookup) -> list[dict[str, object]]:
    return [step.spec() for step in lookup.steps]


# --- arithmetic ------------------------------------------------------------------------------


def test_a_chain_becomes_one_step_in_the_written_order() -> None:
    lookup = page(lambda e: {"x": 2.0 * e["a"] / e["b"] * e["c"] / 3.0}, "x")
    of = [["a", 1.0], ["b", -1.0], ["c", 1.0], [3.0, -1.0]]
    assert specs(lookup) == [{"op": "product", "as": "x", "of": of, "times": 2.0}]
    lookup = page(lambda e: {"x": 1.0 - e["a"] + 2.0 * e["b"] - e["c"]}, "x")
    of = [["a", -1.0], ["b", 2.0], ["c", -1.0]]
    assert specs(lookup) == [{"op": "sum", "as": "x", "of": of, "plus": 1.0}]


def test_what_was_written_in_brackets_is_a_step_of_its_own() -> None:
    lookup = page(lambda e: {"x": e["a"] / (e["b"] * e["c"]) + (e["a"] - e["c"])}, "x")
    assert [step.name for step in lookup.steps] == ["product", "product_2", "sum", "x"]


def test_the_same_operation_is_written_down_once_and_kept_apart_where_it_is_named() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        shared = e["a"] * e["b"]
        return {"x": shared * e["c"], "y": (e["a"] * e["b"]) / e["c"], "shared": shared}

    assert [step.name for step in page(reckon, "x", "y").steps] == ["shared", "x", "y"]


def _expression(draw: Any, depth: int) -> Callable[[Entries], Real]:
    """Draw a calculation."""
    kind = draw(st.sampled_from("+-*/" if depth else "en"))
    if kind == "e":
        key = draw(st.sampled_from("abc"))
        return lambda e: e[key]
    if kind == "n":
        value = draw(st.sampled_from([0.5, 1.0, 2.0, 3.7]))
        return lambda _: value
    left, right = _expression(draw, depth - 1), _expression(draw, depth - 1)
    return {
        "+": lambda e: left(e) + right(e),
        "-": lambda e: left(e) - right(e),
        "*": lambda e: left(e) * right(e),
        "/": lambda e: left(e) / right(e),
    }[kind]


@st.composite
def expressions(draw: Any) -> Callable[[Entries], Real]:
    inner = _expression(draw, draw(st.integers(1, 4)))
    return lambda e: e["a"] * inner(e)


@given(expressions(), st.integers(0, 1000))
def test_the_bits_are_those_of_the_written_expression(
    expression: Callable[[Entries], Real], seed: int
) -> None:
    lookup = page(lambda e: {"x": expression(e)}, "x")
    places = np.random.default_rng(seed).uniform(0.5, 8.0, (3, 20))
    entered: dict[str, list[object]] = {key: list(p) for key, p in zip("abc", places, strict=True)}
    entered |= {"d": [None] * 20, "way": ["one"] * 20}
    try:
        column = lookup.run(entered).symbols["x"]
    except ZeroDivisionError:
        # Numbers alone, divided by nothing: that Python itself refuses.
        reject()
    with np.errstate(all="ignore"):
        direct = lookup.direct(entered)["x"]
    # A recipe also refuses where a step on the way is not finite, such as 1 / (1 / 0).
    good = column.fault == 0
    assert np.array_equal(column.values[good], direct[good])


def test_powers_whole_and_half() -> None:
    lookup = page(lambda e: {"x": e["a"] ** 2 * np.sqrt(e["b"]) / e["c"] ** 1.5}, "x")
    assert lookup.evaluate({"a": 3.0, "b": 4.0})["x"] == pytest.approx(18.0 / 2.0**1.5, rel=1e-15)


def test_numbers_of_numpy_on_the_left_are_numbers() -> None:
    lookup = page(lambda e: {"x": np.float64(2.0) * e["a"] + np.pi}, "x")
    assert lookup.evaluate({})["x"] == 4.0 + np.pi


# --- what a recipe has no step for -----------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "what"),
    [
        (lambda a: a if a > 1.0 else -a, "a comparison"),
        (lambda a: a or 1.0, "a branch"),
        (np.exp, "numpy.exp"),
        (lambda a: np.where(True, a, 0.0), "numpy.where"),
        (np.asarray, "turning it into an array"),
        (float, "turning it into a float"),
        (lambda a: a**0.3, "the power 0.3"),
        (lambda a: 2.0 * np.minimum(a, 1.0), "numpy.minimum"),
    ],
    ids=["comparison", "branch", "exp", "where", "array", "float", "power", "minimum"],
)
def test_it_stops_with_the_file_the_line_and_the_way_out(
    wrong: Callable[[Real], Real], what: str
) -> None:
    lookup = page(lambda e: {"x": wrong(e["a"])}, "x")
    words = rf"^made-up, tests/tables/test_trace\.py line \d+: {what} of a symbol .*: .*"
    with pytest.raises(TraceError, match=words):
        _ = lookup.steps


def test_a_range_check_judges_the_usual_set_up_and_lets_pass_what_is_not_there() -> None:
    def checked(low: float) -> Lookup:
        def reckon(e: Entries) -> Mapping[str, Real]:
            require("a", e["a"], low, 9.0)
            require("d", e["d"], low, 9.0)
            return {"x": e["a"] * 1.0, "y": e["d"] * 1.0}

        return page(reckon, "x", "y")

    assert checked(0.5).exact({"d": None}) == {"x": 2.0}
    with pytest.raises(DomainError, match="a is 2, allowed is 3 to 9"):
        _ = checked(3.0).steps
    with pytest.raises(DomainError, match="a is nan"):
        require("a", float("nan"), 0.0, 1.0)


# --- choices and ranges ----------------------------------------------------------------------


def test_a_range_refuses_in_words_on_either_side_and_passes_another_value_on() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        return {"x": within(e["a"] / e["b"], 0.5, 2.0, below="low", above="high", gives=e["c"])}

    lookup = page(reckon, "x")
    assert lookup.evaluate({"c": 7.0}) == lookup.exact({"c": 7.0}) == {"x": 7.0}
    for a, words in ((0.9, "low"), (4.1, "high")):
        assert lookup.explain({"a": a}).faults["x"].say == words
        assert lookup.exact({"a": a}) == {}


@pytest.mark.parametrize("a", [1.9, 2.0, 2.1])
def test_choosing_by_size_least_and_greatest(a: float) -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        return {
            "x": choose(e["a"], e["b"], e["a"] * 10.0, e["b"] * 100.0),
            "y": least(e["a"], e["b"], 2.05),
            "z": greatest(e["a"], e["b"]),
        }

    found = page(reckon, "x", "y", "z").evaluate({"a": a})
    assert found == page(reckon, "x", "y", "z").exact({"a": a})
    assert found["x"] == (a * 10.0 if a < 2.0 else 200.0)


def test_a_choice_picks_a_value_or_a_reason_why_there_is_none() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        return {"x": e.pick("way", {"one": e["a"], "two": 5.0, "none": Refusal("not so")})}

    lookup = page(reckon, "x")
    for way, x in (("one", 2.0), ("two", 5.0)):
        assert lookup.evaluate({"way": way}) == lookup.exact({"way": way}) == {"x": x}
    assert lookup.explain({"way": "none"}).faults["x"].say == "not so"
    assert lookup.exact({"way": "none"}) == {}


def test_an_optional_entry_rules_where_it_is_filled_in() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        return {
            "x": e.entered_or("d", e["a"] * 2.0),
            "y": e.if_entered("d", Refusal("overruled"), e["b"]),
        }

    lookup = page(reckon, "x", "y")
    assert lookup.evaluate({}) == lookup.exact({}) == {"x": 4.0, "y": 2.0}
    assert lookup.evaluate({"d": 3.0}) == lookup.exact({"d": 3.0}) == {"x": 3.0}
    assert lookup.explain({"d": 3.0}).faults["y"].say == "overruled"
    assert lookup.explain({"d": 99.0}).faults["x"].kind == "range"


def test_a_list_of_parts_is_summed_with_choices_and_outer_values_inside() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        def signed(part: Entries) -> Real:
            return part.pick("sense", {"up": 1.0, "down": -1.0}) * part["size"] * e["a"]

        return {"x": e.total("rows", signed), "y": e.total("rows", lambda part: part["size"])}

    lookup = page(reckon, "x", "y", fields=FIELDS)
    assert lookup.evaluate({}) == lookup.exact({}) == {"x": 4.0, "y": 4.0}
    rows = [{"size": 1.0}, {"size": 2.0, "sense": "down"}, {"size": 4.0}]
    assert lookup.evaluate({"rows": rows})["x"] == 6.0
    assert [step.name for step in lookup.steps] == ["x", "y"]


def test_a_parts_value_outside_its_sum_is_refused() -> None:
    leaked: list[Real] = []

    def reckon(e: Entries) -> Mapping[str, Real]:
        e.total("rows", lambda part: leaked.append(part["size"]) or part["size"])  # type: ignore[func-returns-value]
        return {"x": leaked[0] * e["a"]}

    with pytest.raises(TraceError, match="x is worked out for a part of rows"):
        _ = page(reckon, "x", fields=FIELDS).steps


# --- tables ----------------------------------------------------------------------------------

CURVE = tabulated(
    "curve",
    lambda x, y: np.exp(x) * y,
    cubic("x", "x", 0.0, 2.0),
    linear("y", "y", 0.0, 9.0),
    tolerance=1e-9,
)


def test_a_tabulated_function_is_calculated_or_looked_up_both_ways() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        value = CURVE(e["a"] / 4.0, e["b"], above={"x": "too far"})
        return {"x": value, "back": CURVE.where("x", value, e["b"], above={"x": "beyond"}) * 4.0}

    lookup = page(reckon, "x", "back")
    assert lookup.exact({"a": 3.0})["x"] == np.exp(0.75) * 2.0
    assert lookup.exact({"a": 3.0})["back"] == pytest.approx(3.0, rel=1e-12)
    assert lookup.evaluate({"a": 3.0})["back"] == pytest.approx(3.0, rel=1e-8)
    prove(lookup, points=500)


def test_an_answer_that_is_seldom_given_is_compared_around_where_it_was() -> None:
    lookup = page(lambda e: {"x": within(e["a"], 1.99, 2.01)}, "x")
    assert prove(lookup, points=2000)["x"].points >= 2000


def test_an_answer_that_is_never_given_stops_the_proof() -> None:
    lookup = page(lambda e: {"x": within(e["a"], 98.0, 99.0)}, "x")
    with pytest.raises(ProofError, match=r"x was answered at 0 set-ups only, of the 2,000"):
        prove(lookup, points=2000)


# --- chains ----------------------------------------------------------------------------------


def test_a_chain_is_a_call_and_a_fed_value_keeps_to_its_fields_range() -> None:
    inner = page(lambda e: {"x": e["a"] * e["b"], "y": e.entered_or("d", e["c"])}, "x", "y")

    def reckon(e: Entries) -> Mapping[str, Real]:
        found = inner.chained(e, b=e["b"] * 3.0, d=e["c"] + 1.0)
        return {"x": found["x"], "y": found["y"]}

    outer = page(reckon, "x", "y", fields=[number("b"), number("c")])
    assert outer.evaluate({"b": 1.0}) == outer.exact({"b": 1.0}) == {"x": 6.0, "y": 3.0}
    fault = outer.explain({"b": 3.0}).faults["x"]
    assert fault.say == ("B works out over 8, where the page “Made up” stops. Check the set-up.")
    assert outer.exact({"b": 3.0}) == {"y": 3.0}


def test_steps_read_numbers_in_place_of_symbols() -> None:
    lookup = page(lambda e: {"x": choose(e["a"], 3.0, 1.0, e["b"])}, "x")
    (step,) = lookup.steps
    assert isinstance(step, recipe.Choose)
    assert recipe.reads(step) == {"a", "b"}


# --- rounds ----------------------------------------------------------------------------------


def root_in(rounds: int) -> Reckon:
    """Return a calculation of √a by rounds of Newton's."""

    def reckon(e: Entries) -> Mapping[str, Real]:
        return {"y": settled(lambda x: (x + e["a"] / x) / 2.0, e["a"], rounds, "the root of a")}

    return reckon


def test_rounds_come_to_where_nothing_changes_and_a_formula_says_what_it_is() -> None:
    lookup = page(root_in(6), "y")
    assert lookup.evaluate({"a": 2.0})["y"] == pytest.approx(2.0**0.5, rel=1e-12)
    assert lookup.exact({"a": 2.0})["y"] == pytest.approx(2.0**0.5, rel=1e-12)
    assert lookup.shown["y"].text == "y = the root of a"


def test_the_proof_measures_what_too_few_rounds_leave() -> None:
    with pytest.raises(ProofError, match="y is off by"):
        prove(page(root_in(2), "y"), points=500)


def test_rounds_that_never_settle_have_no_value() -> None:
    found = settled(lambda x: 1.0 / x, np.array([2.0, 1.0]), 3, "")
    assert np.isnan(found).tolist() == [True, False]


def test_the_greatest_of_a_list_is_written_down() -> None:
    def reckon(e: Entries) -> Mapping[str, Real]:
        return {"y": e.most("rows", lambda row: row["size"] * e["a"])}

    lookup = page(reckon, "y", fields=FIELDS)
    assert lookup.evaluate({"a": 2.0})["y"] == 6.0
    assert lookup.exact({"a": 2.0})["y"] == 6.0
    prove(lookup, points=500)
