"""Advice tables: the page made in Python and the phone's script pick the same cell."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from site_src.face.advice import advice_tables
from site_src.lookups import all_lookups
from site_src.model.answers import AdviceView
from site_src.model.lookup import Lookup
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
SCRIPT = HERE.parents[1] / "site_src" / "static" / "js" / "face" / "advice.js"

ADVISED = [
    pytest.param(lookup, view, id=f"{lookup.key}: {view.title}")
    for lookup in all_lookups()
    for view in lookup.views.advice
]


@pytest.mark.parametrize(("lookup", "view"), ADVISED)
def test_every_pair_of_options_has_its_cell(lookup: Lookup, view: AdviceView) -> None:
    down, across = (lookup.choices[key].options for key in view.by)
    assert set(view.cells) == {(row.key, column.key) for row in down for column in across}


@pytest.mark.parametrize(("lookup", "view"), ADVISED)
def test_the_page_is_made_with_the_default_cell_picked_out(
    lookup: Lookup, view: AdviceView
) -> None:
    table = next(table for table in advice_tables(lookup) if table.view is view)
    current = [cell for row in table.rows for cell in row.cells if cell.current]
    assert [cell.advice for cell in current] == [table.chosen]
    for row in table.rows:
        for cell in row.cells:
            assert view.reasons[cell.reason - 1] == cell.advice.why


@pytest.mark.parametrize(("lookup", "view"), ADVISED)
def test_the_plate_can_warn_where_advice_is_judged(lookup: Lookup, view: AdviceView) -> None:
    table = next(table for table in advice_tables(lookup) if table.view is view)
    assert table.judged == any(cell.status for cell in view.cells.values())
    assert not table.warns, "the usual set-up should not be one that is warned of"


def said(view: AdviceView, many: list[dict[str, Any]], folder: Path) -> Any:
    """Return what the phone's script says to many set-ups."""
    job = folder / "job.json"
    job.write_text(json.dumps({"view": view.spec(), "many": many}), encoding="utf-8")
    return told_by(HERE / "advise_many.mjs", SCRIPT, job, seconds=60)


@needs_node
@pytest.mark.parametrize(("lookup", "view"), ADVISED)
def test_the_script_says_what_the_data_says(
    lookup: Lookup, view: AdviceView, tmp_path: Path
) -> None:
    many = [dict(zip(view.by, at, strict=True)) for at in view.cells]
    wanted = [
        {"status": cell.status, "words": cell.words, "why": cell.why}
        for cell in view.cells.values()
    ]
    assert said(view, many, tmp_path) == wanted


@needs_node
@pytest.mark.parametrize(("lookup", "view"), ADVISED)
def test_a_choice_outside_the_table_gets_no_advice(
    lookup: Lookup, view: AdviceView, tmp_path: Path
) -> None:
    assert said(view, [dict.fromkeys(view.by, "no such option")], tmp_path) == [None]


@needs_node
def test_a_makers_figure_takes_the_place_of_the_advice(tmp_path: Path) -> None:
    view = next(view for lookup in all_lookups() for view in lookup.views.advice if view.unless)
    entries = dict(zip(view.by, next(iter(view.cells)), strict=True))
    typed, left_open = said(
        view, [entries | {view.unless: 90.0}, entries | {view.unless: None}], tmp_path
    )
    assert typed["why"] == view.unless_words
    assert left_open["why"] != view.unless_words
