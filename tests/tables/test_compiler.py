"""The compiler meets its tolerance off the knots, or stops and names the worst point."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calc import atmosphere
from site_src.lookups import air, all_lookups
from site_src.tables import compiler
from site_src.tables.compiler import (
    Table,
    TableError,
    TableSpec,
    compile_table,
    cubic,
    linear,
    listed,
    source_hash,
)
from site_src.tables.points import corners, spread


@pytest.fixture(scope="module")
def tables() -> list[Table]:
    """Every table of every lookup, each once."""
    return list({t.spec.name: t for each in all_lookups() for t in each.compiled}.values())


def test_tables_are_within_tolerance_at_fresh_points(tables: list[Table]) -> None:
    assert {table.spec.name: miss for table in tables if (miss := misses(table))} == {}


def misses(table: Table) -> int:
    """Count the fresh points at which a table misses its tolerance."""
    spec, grid = table.spec, table.grid
    if all(axis.kind == "list" for axis in spec.axes):
        places = corners([axis.knots for axis in spec.axes])
    else:
        bounds = [(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes]
        places = spread(bounds, 20_000, start=5_000_000)
    true = spec(*places)
    return int(np.count_nonzero(np.abs(grid.value(places) - true) > spec.allowed(true)))


def test_both_sides_of_every_kink_are_within_tolerance(tables: list[Table]) -> None:
    kinked = [table for table in tables if any(axis.kinks for axis in table.spec.axes)]
    assert kinked
    for table in kinked:
        both_sides_are_within_tolerance(table)


def both_sides_are_within_tolerance(table: Table) -> None:
    spec, grid = table.spec, table.grid
    for number, axis in enumerate(spec.axes):
        for kink in axis.kinks:
            bounds = [(a.knots[0], a.knots[-1], a.kind == "list") for a in spec.axes]
            places = spread(bounds, 500)
            for nudge in (-1e-7, -1e-12, 0.0, 1e-12, 1e-7):
                places[number] = np.full(500, kink + nudge)
                true = spec(*places)
                assert np.all(np.abs(grid.value(places) - true) <= spec.allowed(true))


def test_passports_tell_the_truth(tables: list[Table]) -> None:
    for table in tables:
        passport = table.passport
        assert passport.error <= passport.tolerance
        assert passport.source == source_hash(table.spec)
        for places, value in passport.checks:
            found = table.grid.value([np.array([place]) for place in places])[0]
            assert found == value


def test_a_kept_table_is_the_compiled_one_and_a_broken_one_is_compiled_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(compiler, "KEPT", tmp_path)
    spec = TableSpec("growth", np.exp, (cubic("x", "x", 0.0, 2.0),), tolerance=1e-5)
    compiler.compiled.cache_clear()
    first = compiler.compiled(spec)
    (kept,) = tmp_path.iterdir()
    for content in (kept.read_bytes(), b"", kept.read_bytes()[:200]):
        kept.write_bytes(content)
        compiler.compiled.cache_clear()
        again = compiler.compiled(spec)
        assert again.passport == first.passport
        assert again.grid.axes == first.grid.axes
        assert np.array_equal(again.grid.numbers, first.grid.numbers)
    compiler.compiled.cache_clear()


def test_few_tables_are_left_and_none_only_checks_a_range(tables: list[Table]) -> None:
    assert len(tables) <= 57
    for table in tables:
        places = [np.array([axis.low, axis.high]) for axis in table.grid.axes]
        values = table.spec(*places)
        assert not any(np.array_equal(values, place) for place in places), table.spec.name


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

    axes = (listed("entry", "entry", 3), linear("x", "x", 0.0, 1.0))
    table = compile_table(TableSpec("mixed", mixed, axes, tolerance=1e-12, numbers="f8"))
    assert table.grid.numbers.size == 6


def test_a_source_that_changed_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    spec = air.STANDARD_PRESSURE.table
    before = source_hash(spec)
    real = Path.read_bytes

    def edited(path: Path) -> bytes:
        text = real(path)
        return text.replace(b"0.0065", b"0.0066") if path.name == "constants.py" else text

    assert vars(atmosphere)["LAPSE_RATE"] == 0.0065
    monkeypatch.setattr(Path, "read_bytes", edited)
    assert source_hash(spec) != before
