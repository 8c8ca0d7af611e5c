"""The compiler meets its tolerance off the knots, or stops and names the worst point."""

from __future__ import annotations

import sys
from dataclasses import replace
from types import ModuleType

import numpy as np
import pytest

from calc import atmosphere
from site_src.lookups import all_lookups
from site_src.tables import compiler
from site_src.tables.compiler import (
    Table,
    TableError,
    TableSpec,
    compile_table,
    cubic,
    entries,
    linear,
    source_hash,
)
from site_src.tables.points import corners, spread

TABLES = {t.spec.name: t for each in all_lookups() for t in each.compiled}


@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES.keys())
def test_table_is_within_tolerance_at_fresh_points(table: Table) -> None:
    spec, grid = table.spec, table.grid
    if all(axis.kind == "list" for axis in spec.axes):
        places = corners([axis.knots for axis in spec.axes])
    else:
        bounds = [(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes]
        places = spread(bounds, 20_000, start=5_000_000)
    true = spec(*places)
    assert np.all(np.abs(grid.value(places) - true) <= spec.allowed(true))


@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES.keys())
def test_both_sides_of_every_kink_are_within_tolerance(table: Table) -> None:
    spec, grid = table.spec, table.grid
    for number, axis in enumerate(spec.axes):
        for kink in axis.kinks:
            bounds = [(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes]
            places = spread(bounds, 500)
            for nudge in (-1e-7, -1e-12, 0.0, 1e-12, 1e-7):
                places[number] = np.full(500, kink + nudge)
                true = spec(*places)
                assert np.all(np.abs(grid.value(places) - true) <= spec.allowed(true))


@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES.keys())
def test_passport_tells_the_truth(table: Table) -> None:
    passport = table.passport
    assert passport.error <= passport.tolerance
    assert passport.source == source_hash(table.spec)
    for places, value in passport.checks:
        found = table.grid.value([np.array([place]) for place in places])[0]
        assert found == value


def test_a_table_that_misses_its_tolerance_names_the_worst_point(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(compiler, "BUILD_TO", 50.0)
    spec = TableSpec("rough", np.exp, (cubic("x", "x", 0.0, 3.0),), tolerance=1e-6)
    with pytest.raises(TableError, match=r"rough: error .* at \{'x': "):
        compile_table(spec)


def test_an_undeclared_kink_is_met_with_many_knots_or_an_error_not_with_silence() -> None:
    def bent(x: np.ndarray) -> np.ndarray:
        return np.abs(x - 0.3217)

    spec = TableSpec("bent", bent, (cubic("x", "x", 0.0, 1.0),), tolerance=1e-9, numbers="f8")
    with pytest.raises(TableError, match="kink undeclared"):
        compile_table(spec)
    declared = replace(spec, axes=(cubic("x", "x", 0.0, 1.0, kinks=(0.3217,)),))
    assert compile_table(declared).grid.numbers.size == 8


def test_a_bound_is_never_below_a_sampled_error() -> None:
    spec = TableSpec(
        "growth", np.exp, (cubic("x", "x", 0.0, 2.0),), tolerance=1e-5, monotone=True, numbers="f8"
    )
    table = compile_table(spec)
    assert table.passport.method == "bound"
    places = spread([(0.0, 2.0, False)], 50_000)
    sampled = np.max(np.abs(table.grid.value(places) - np.exp(places[0])))
    assert sampled <= table.passport.error <= spec.tolerance


def test_lists_and_lines_are_exact() -> None:
    def mixed(entry: np.ndarray, x: np.ndarray) -> np.ndarray:
        return np.array([1.0, 2.5, 7.0])[entry.astype(int)] * (1.0 + 3.0 * x)

    axes = (entries("entry", "entry", 3), linear("x", "x", 0.0, 1.0))
    table = compile_table(TableSpec("mixed", mixed, axes, tolerance=1e-12, numbers="f8"))
    assert table.grid.numbers.size == 6


def test_a_source_that_changed_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    spec = next(t.spec for t in TABLES.values() if t.spec.name == "standard_pressure")
    before = source_hash(spec)
    real = compiler.inspect.getsource

    def edited(module: ModuleType) -> str:
        text = real(module)
        return text.replace("0.0065", "0.0066") if module is sys.modules["calc.constants"] else text

    assert vars(atmosphere)["LAPSE_RATE"] == 0.0065
    monkeypatch.setattr(compiler.inspect, "getsource", edited)
    assert source_hash(spec) != before
