"""Each step does what it says, and a fault travels to what needs it and no further."""

from __future__ import annotations

import numpy as np
import pytest

from site_src.tables.grid import Axis, Grid
from site_src.tables.recipe import (
    Choose,
    Column,
    Extreme,
    Fault,
    Faults,
    IfEntered,
    Inverse,
    Look,
    Over,
    Part,
    Pick,
    Product,
    Rows,
    Run,
    Step,
    Sum,
    Within,
    needed,
)

LINE = Grid("line", (Axis("x", "linear", (0.0, 10.0)),), np.array([5.0, 25.0]))


def run_of(**symbols: float | Fault) -> Run:
    """A run of one set-up with the given symbols."""
    run = Run(1, {"line": LINE}, Faults(), {})
    for name, value in symbols.items():
        if isinstance(value, Fault):
            run.symbols[name] = Column(
                np.ones(1), np.array([run.faults.code(value)], dtype=np.int32)
            )
        else:
            run.symbols[name] = Column(np.array([value]), np.zeros(1, dtype=np.int32))
    return run


def result(step: Step, run: Run) -> float | Fault:
    with np.errstate(all="ignore"):
        column = step.run(run)
    code = int(column.fault[0])
    return run.faults.known[code - 1] if code else float(column.values[0])


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        (Product("p", (("a", 2.0), ("b", -1.0)), times=3.0), 3.0 * 4.0 * 4.0 / 9.0),
        (Product("p", (("b", 0.5),)), 3.0),
        (Product("p", (("a", 1.0), ("b", -1.5))), 4.0 / 27.0),
        (Sum("s", (("a", 2.0), ("b", -1.0)), plus=0.5), -0.5),
        (Product("p", (("a", 1.0), (8.0, -1.0))), 0.5),
        (Sum("s", ((1.5, -1.0), ("a", 1.0))), 2.5),
        (Extreme("l", "least", ("a", "b", 7.0)), 4.0),
        (Extreme("g", "greatest", ("a", "b", 7.0)), 9.0),
        (Within("w", "a", 4.0, 4.0, "b"), 9.0),
        (Within("w", "a", None, None, "a"), 4.0),
        (Choose("c", ("a", "b"), "a", 1.0), 4.0),
        (Choose("c", ("b", "b"), "a", 1.0), 1.0),
        (IfEntered("e", "a", "b", 1.0), 9.0),
        (Look("k", "line", ("a",)), 13.0),
        (Inverse("i", "line", "x", "b"), 2.0),
    ],
)
def test_step_arithmetic(step: Step, expected: float) -> None:
    assert result(step, run_of(a=4.0, b=9.0)) == pytest.approx(expected, rel=1e-15)


def test_division_by_zero_and_roots_of_negatives_are_faults_not_numbers() -> None:
    assert result(Product("p", (("a", -1.0),)), run_of(a=0.0)) == Fault("undefined", "p")
    assert result(Product("p", (("a", 0.5),)), run_of(a=-1.0)) == Fault("undefined", "p")


def test_outside_a_table_there_is_no_number_but_words() -> None:
    look = Look("k", "line", ("a",), below=(("x", "too little"),), above=(("x", "too much"),))
    assert result(look, run_of(a=-1e-9)) == Fault("below", "k:x", "too little")
    assert result(look, run_of(a=0.0)) == 5.0
    assert result(look, run_of(a=10.0)) == 25.0
    assert result(look, run_of(a=10.000001)) == Fault("above", "k:x", "too much")
    back = Inverse("i", "line", "x", "a", below="before", above="after")
    assert result(back, run_of(a=4.9)) == Fault("below", "i:x", "before")
    assert result(back, run_of(a=25.1)) == Fault("above", "i:x", "after")


def test_a_fault_travels_only_to_what_needs_it() -> None:
    lost = Fault("range", "a")
    run = run_of(a=lost, b=2.0)
    assert result(Sum("s", (("a", 1.0), ("b", 1.0))), run) == lost
    assert result(Sum("s", (("b", 1.0),)), run) == 2.0


def test_outside_a_range_there_is_no_number_but_words() -> None:
    within = Within("w", "a", 1.0, 2.0, "b", below="too little", above="too much")
    assert result(within, run_of(a=0.99, b=5.0)) == Fault("below", "w", "too little")
    assert result(within, run_of(a=2.01, b=5.0)) == Fault("above", "w", "too much")
    assert result(within, run_of(a=1.0, b=5.0)) == result(within, run_of(a=2.0, b=5.0)) == 5.0


def test_what_is_passed_on_speaks_before_what_is_judged() -> None:
    run = run_of(a=Fault("blank", "a"), b=Fault("range", "b"))
    assert result(Within("w", "a", 0.0, 1.0, "b"), run) == Fault("range", "b")
    assert result(Within("w", "a", 0.0, 1.0, 2.0), run) == Fault("blank", "a")


def test_choosing_needs_only_the_value_that_was_chosen() -> None:
    run = run_of(a=1.0, b=2.0, lost=Fault("range", "lost"))
    assert result(Choose("c", ("a", "b"), "a", "lost"), run) == 1.0
    assert result(Choose("c", ("b", "a"), "a", "lost"), run) == Fault("range", "lost")
    assert result(Choose("c", ("lost", "a"), "a", "b"), run) == Fault("range", "lost")


def test_a_blank_entry_chooses_but_a_mistake_is_not_stepped_over() -> None:
    step = IfEntered("e", "a", "a", "b")
    assert result(step, run_of(a=Fault("blank", "a"), b=2.0)) == 2.0
    assert result(step, run_of(a=Fault("range", "a"), b=2.0)) == Fault("range", "a")
    aside = IfEntered("e", "a", 3.0, "b")
    assert result(aside, run_of(a=Fault("range", "a"), b=2.0)) == Fault("range", "a")


def test_pick_needs_only_the_branch_that_was_chosen() -> None:
    run = run_of(a=1.0, b=Fault("blank", "b"))
    run.choices["way"] = (np.array(["one"]), np.zeros(1, dtype=np.int32))
    assert result(Pick("p", "way", (("one", "a"), ("two", "b"))), run) == 1.0
    assert result(Pick("p", "way", (("two", "b"),)), run) == Fault("choice", "way")


def test_over_adds_up_a_list_of_parts_or_takes_the_greatest() -> None:
    run = run_of(scale=2.0)
    run.parts["rows"] = [
        Part({"size": Column(np.array([size]), np.zeros(1, dtype=np.int32))}, {})
        for size in (1.0, 2.0, 4.0)
    ]
    doubled = Product("doubled", (("size", 1.0), ("scale", 1.0)))
    assert result(Over("total", "rows", (doubled,), "doubled"), run) == 14.0
    assert result(Over("most", "rows", (doubled,), "doubled", "greatest"), run) == 8.0


def test_rows_give_each_part_what_its_sums_share() -> None:
    run = run_of(scale=2.0)
    wrong = run.faults.code(Fault("range", "size"))
    run.parts["rows"] = [
        Part({"size": Column(np.array([size]), np.array([code], dtype=np.int32))}, {})
        for size, code in ((1.0, 0), (2.0, 0), (4.0, 0))
    ]
    square = Product("square", (("size", 2.0),))
    shared = Rows("count", "rows", (square, Sum("more", (("square", 1.0),), 1.0)))
    run.symbols["count"] = shared.run(run)
    assert result(Sum("x", (("count", 1.0),)), run) == 3.0
    scaled = Product("scaled", (("more", 1.0), ("scale", 1.0)))
    assert result(Over("total", "rows", (scaled,), "scaled"), run) == 48.0
    assert result(Over("most", "rows", (), "square", "greatest"), run) == 16.0
    # One part that can't be used spoils what is read of it, and only that.
    run.parts["rows"][1].symbols["size"] = Column(np.ones(1), np.array([wrong], dtype=np.int32))
    run.symbols["count"] = shared.run(run)
    assert result(Sum("x", (("count", 1.0),)), run) == 3.0
    assert result(Over("total", "rows", (scaled,), "scaled"), run) == Fault("range", "size")


def test_of_what_rows_share_only_the_wanted_is_needed() -> None:
    square = Product("square", (("size", 2.0),))
    more = Sum("more", (("square", 1.0),), 1.0)
    shared = Rows("count", "rows", (square, more))
    total = Over("total", "rows", (), "square")
    steps, read = needed((shared, total), ["total"])
    assert steps == (Rows("count", "rows", (square,)), total)
    assert {"rows", "size", "square"} <= read
    assert needed((shared, total), ["elsewhere"])[0] == ()
