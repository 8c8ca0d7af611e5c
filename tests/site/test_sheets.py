"""The set-up that a page shows without scripts: the builder's own numbers, rounded once."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from site_src.face.chart import chart
from site_src.face.compare import comparison
from site_src.face.curve import drawn_curve
from site_src.face.form import Entry, Rows, form
from site_src.face.numbers import NO_CELL, grouped, with_unit
from site_src.face.sheet import Sheet, sheet
from site_src.face.words import Reading, fault_words, pieces, subscripted
from site_src.lookups import all_lookups, lookup
from site_src.model.answers import ChartView, CurveView, shown
from site_src.model.fields import Choice, Field, Number, Option, Parts, Scale
from site_src.model.lookup import Lookup
from site_src.model.quantities import Unit, quantity

LOOKUPS = all_lookups()
PAGES = {each.key: each for each in LOOKUPS}


@cache
def drawn_for(key: str) -> Sheet:
    """One page's sheet, worked out once for all tests."""
    return sheet(lookup(key), PAGES)


def ids(each: Lookup) -> str:
    return each.key


@pytest.mark.parametrize("of", LOOKUPS, ids=ids)
def test_every_answer_shows_the_evaluators_number_or_says_why_not(of: Lookup) -> None:
    outcome = of.explain({})
    for reading in drawn_for(of.key).readings:
        answer = reading.answer
        if answer.key in outcome.faults:
            assert not reading.text
            assert reading.words.endswith(".")
            continue
        unit = next(iter(answer.decimals))
        value = answer.declared.to_si(outcome.answers[answer.key])
        usual = next(u for u in _units(reading) if u.key == unit)
        assert reading.text == grouped(shown(usual.from_si(value), answer.decimals[unit]))


def _units(reading: Reading) -> tuple[Unit, ...]:
    return quantity(reading.answer.of).units


@pytest.mark.parametrize("of", LOOKUPS, ids=ids)
def test_no_cell_is_blank_and_every_cell_without_an_answer_has_its_reason(of: Lookup) -> None:
    drawn = drawn_for(of.key)
    for table in (*drawn.charts, *drawn.curves):
        reasons = {mark for mark, _ in table.notes}
        for row in table.rows:
            for cell in row.cells:
                assert cell.text
                assert "nan" not in cell.text.lower()
                said = cell.note in reasons if cell.note else False
                assert (cell.text == NO_CELL or cell.status == "unchecked") == said


@pytest.mark.parametrize("of", LOOKUPS, ids=ids)
def test_the_default_set_up_is_usable_and_its_own_row_is_marked(of: Lookup) -> None:
    drawn = drawn_for(of.key)
    # An answer that waits for readings says which, in its place.
    assert drawn.main.text or (drawn.main.answer.optional and drawn.main.words)
    for table in drawn.charts:
        defaults = {field.key: field.default for field in of.fields}
        if defaults[table.view.rows] is not None:
            own = [row for row in table.rows if row.current]
            listed = defaults[table.view.rows] in table.view.row_values
            assert len(own) == 1 or not listed


def test_a_charts_cell_is_what_the_page_would_show_for_that_set_up() -> None:
    boost = lookup("boost")
    chart_of = drawn_for("boost").charts[0]
    row = next(row for row in chart_of.rows if row.head == "85")
    column = next(n for n, head in enumerate(chart_of.heads) if head.text == "4,000")
    value = boost.evaluate({"blower_pulley": 85.0, "engine_speed": 4000.0})["boost"]
    assert row.cells[column].text == shown(value, 0)


def test_the_boost_page_says_of_the_rotors_that_they_are_not_checked() -> None:
    drawn = drawn_for("boost")
    # They are judged at the rev limiter first.
    rotors = next(each for each in drawn.readings if each.answer.key == "limiter_rotor_speed")
    assert (rotors.status_words, rotors.rule) == ("not checked", None)
    assert rotors.words.startswith("Example limit. Enter the rotor speed limit")
    assert drawn.verdict is rotors
    table = next(table for table in drawn.charts if table.view.answer == "rotor_speed")
    assert {cell.status for row in table.rows for cell in row.cells} == {"unchecked"}
    assert [words for _, words in table.notes] == [
        "Not checked. Example limit. Enter your own parts and limits."
    ]


def test_a_limit_that_is_only_an_example_is_not_drawn_on_a_curve() -> None:
    boost = lookup("boost")
    view = CurveView("Rotors", "rotor_speed", "engine_speed", (2000.0, 3000.0, 4000.0))
    fresh = drawn_curve(boost, view).curve
    assert fresh is not None
    assert not fresh.limits
    own = replace(boost, fields=tuple(own_limit(field) for field in boost.fields))
    judged = drawn_curve(own, view).curve
    assert judged is not None
    assert judged.limits


def test_the_verdict_is_the_worst_of_the_judged_answers() -> None:
    for of in LOOKUPS:
        drawn = drawn_for(of.key)
        statuses = [reading.status for reading in drawn.readings if reading.status]
        if not statuses:
            assert drawn.verdict is None
            continue
        worst = min(statuses, key=("beyond", "near", "unchecked", "within").index)
        assert drawn.verdict is not None
        assert drawn.verdict.status == worst
        assert "{" not in drawn.verdict.words


@pytest.mark.parametrize("of", LOOKUPS, ids=ids)
def test_filled_formulas_leave_no_placeholder_open(of: Lookup) -> None:
    for reading in drawn_for(of.key).readings:
        assert "{" not in reading.filled
        assert "—" not in reading.filled, (reading.answer.key, reading.filled)


def test_marks_of_origin_are_cut_out_wherever_they_stand() -> None:
    assert pieces("Common practice") == (("Common practice", True),)
    assert [
        text for text, mark in pieces("K = 0.20, from memory; 2 d, common practice.") if mark
    ] == [
        "unverified",
        "common practice",
    ]


def test_subscripts_are_set_apart_and_words_with_underscores_before_them_are_not_lost() -> None:
    assert subscripted("η_v · X") == (("η", False), ("v", True), (" · X", False))
    assert "".join(text for text, _ in subscripted("p₁ / p₂")) == "p₁ / p₂"


# --- the form ------------------------------------------------------------------------------------

SIZE = Number(
    "size", "Size", Scale("length", unit="mm", span=(1, 9), default=3, step=1), first=True
)
DEPTH = Number(
    "depth",
    "Depth",
    Scale("length", unit="mm", span=(1, 9), default=None, step=1),
    when=("kind", ("deep",)),
)
KIND = Choice(
    "kind",
    "Kind",
    (Option("flat", "Flat", group="One"), Option("deep", "Deep", group="Other")),
    "flat",
)
RUNS = Parts("runs", "Runs", (SIZE, KIND), 3, ({"size": 2.0}, {"size": 4.0, "kind": "deep"}))


def test_what_is_asked_first_is_laid_out_first_and_the_rest_is_folded() -> None:
    laid = form((KIND, SIZE, DEPTH))
    assert [entry.id for entry in laid.first] == ["size"]
    assert [entry.id for entry in laid.folded] == ["kind", "depth"]


def test_a_field_that_hangs_on_a_choice_is_out_of_sight_until_that_is_made() -> None:
    laid = form((KIND, DEPTH))
    assert [entry.shown for entry in laid.folded] == [True, False]


def test_options_stand_under_their_headings_in_the_order_they_are_listed() -> None:
    entry = form((KIND,)).folded[0]
    assert isinstance(entry, Entry)
    assert [(heading, [o.key for o in options]) for heading, options in entry.groups] == [
        ("One", ["flat"]),
        ("Other", ["deep"]),
    ]


def test_a_list_of_parts_has_a_row_for_each_default_and_an_empty_one_to_copy() -> None:
    rows = form((RUNS,)).first[0]
    assert isinstance(rows, Rows)
    assert [[entry.value for entry in row] for row in rows.rows] == [["2", "flat"], ["4", "deep"]]
    assert [entry.id for entry in rows.blank] == ["runs-new-size", "runs-new-kind"]


@pytest.mark.parametrize("of", LOOKUPS, ids=ids)
def test_an_id_stands_once_on_a_page(of: Lookup) -> None:
    laid = form(of.fields)
    found: list[str] = []
    for entry in (*laid.first, *laid.folded):
        rows = [*entry.rows, entry.blank] if isinstance(entry, Rows) else [(entry,)]
        found += [each.id for row in rows for each in row]
    assert len(found) == len(set(found))


def test_a_unit_follows_its_number_and_a_bare_number_stays_bare() -> None:
    assert with_unit("92", "mm") == "92 mm"
    assert with_unit("1.85", "") == "1.85"


def test_entries_are_folded_under_their_headings_however_they_are_listed() -> None:
    belt, air = replace(DEPTH, group="Belt", when=None), replace(KIND, group="Air")
    loose, late = replace(DEPTH, key="loose", when=None), replace(belt, key="late")
    laid = form((SIZE, belt, air, loose, late))
    assert [(fold.title, [entry.id for entry in fold.entries]) for fold in laid.folds] == [
        ("Belt", ["depth", "late"]),
        ("Air", ["kind"]),
        ("More of this set-up", ["loose"]),
    ]


# --- pulleys side by side, flat views ------------------------------------------------------------


def test_a_comparison_begins_with_the_set_ups_own_column() -> None:
    plan = lookup("plan")
    table = sheet(plan, PAGES).comparison
    assert table is not None
    assert [(head.text, head.current) for head in table.heads] == [("92", True)]
    named = {f"{r.answer.label}, {r.unit}": r for r in sheet(plan, PAGES).readings}
    for row in table.rows:
        assert row.cells[0].text == (named[row.head].text or NO_CELL)
        assert row.cells[0].status == named[row.head].status


def own_limit(field: Field) -> Field:
    """A field whose usual value is a real limit."""
    return replace(field, example="") if isinstance(field, Number) else field


def test_a_comparison_has_a_column_for_each_value_with_its_faults_said_below() -> None:
    plan = lookup("plan")
    assert plan.views.compare is not None
    entered = {"pulley_b": 74.0, "pulley_c": 240.0}
    fields = tuple(
        replace(field, scale=replace(field.scale, default=entered[field.key]))
        if isinstance(field, Number) and field.key in entered
        else own_limit(field)
        for field in plan.fields
    )
    table = comparison(replace(plan, fields=fields), plan.views.compare)
    assert [head.text for head in table.heads] == ["92", "74", "240"]
    used = next(row for row in table.rows if row.head.startswith("Belt grip"))
    assert used.cells[1].status == "beyond"
    assert used.cells[2].text == NO_CELL
    assert "no boost" in dict(table.notes)[used.cells[2].note]


def test_a_view_over_an_entry_that_is_not_asked_for_is_put_away() -> None:
    boost = lookup("boost")
    view = CurveView("Boost by barometer", "boost", "barometer", (90.0, 100.0))
    table = drawn_curve(boost, view)
    assert not table.shown
    assert table.flat == "Barometer, not set to sea level changes nothing in this set-up."
    assert drawn_curve(boost, replace(view, over="altitude", values=(0.0, 900.0))).shown


def test_a_chart_says_which_of_its_entries_changes_nothing() -> None:
    boost = lookup("boost")
    view = ChartView(
        "Boost", "boost", "blower_pulley", (85.0, 92.0), "barometer", (90.0, 100.0), unit="psi"
    )
    table = chart(boost, view)
    assert table.flat.startswith("Barometer")
    assert not table.empty
    assert table.axes.startswith("Boost at the manifold, psi.")
    empty = chart(boost, replace(view, answer="rotor_speed", rows="altitude", unit=""))
    assert empty.empty


def test_an_entry_that_is_missing_is_named() -> None:
    boost = lookup("boost")
    outcome = boost.explain({"engine_speed": None})
    assert fault_words(boost, outcome.faults["boost"]) == (
        "“Engine speed” was left empty, and this needs it."
    )
