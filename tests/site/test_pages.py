"""The pages that are not lookups: what they take from the torque page, and what they print."""

from __future__ import annotations

import json
from typing import Any

import pytest

from site_src.lookups import lookup
from site_src.model.fields import Parts
from site_src.model.lookup import STAGES
from site_src.model.page import Page
from site_src.pages import all_pages, makers_figures, tightening

TORQUE = lookup("torque")


def context(page: Page) -> dict[str, Any]:
    return dict(page.context())


@pytest.mark.parametrize("page", all_pages(), ids=lambda page: page.key)
def test_every_page_has_its_words_and_a_place_in_the_job(page: Page) -> None:
    assert page.title
    assert page.question.endswith("?")
    assert page.stage in {key for key, _ in STAGES}


@pytest.mark.parametrize(
    "page", [tightening.PAGE, makers_figures.PAGE], ids=["tightening", "figures"]
)
def test_the_phone_gets_the_fields_that_the_template_lays_out(page: Page) -> None:
    given = context(page)
    assert [field["key"] for field in json.loads(given["fields"])] == list(given["entries"])


def test_a_set_up_of_the_torque_page_carries_over_by_its_keys() -> None:
    carried = ("running_torque", "wrench_largest", "extension", "wrench_length", "extension_angle")
    mine = {field.key: field for field in tightening.FIELDS}
    for key in carried:
        spec = mine[key].spec()
        assert (spec["quantity"], spec["unit"], spec["low"], spec["high"]) == (
            TORQUE.numbers[key].of,
            TORQUE.numbers[key].unit,
            TORQUE.numbers[key].low,
            TORQUE.numbers[key].high,
        )


def test_a_map_assumes_no_torque_no_bolt_no_order_and_no_offset() -> None:
    mine = {field.key: field.default for field in tightening.FIELDS}
    assert (mine["torque"], mine["extension"]) == (None, 0.0)
    assert {mine[key] for key in ("order", "thread", "grade")} == {tightening.UNPICKED}
    stages = next(field for field in tightening.FIELDS if isinstance(field, Parts))
    assert not any("torque" in row for row in stages.default)
    assert {field.default for field in stages.fields if field.key in ("torque", "angle")} == {None}


def test_the_torque_page_has_what_the_phone_s_scripts_ask_it_for() -> None:
    """static/js/bolts/draft.js and plausible.js evaluate its recipe by these names."""
    assert {option.key for option in TORQUE.choices["drive"].options} == {"straight", "offset"}
    assert TORQUE.numbers["maker_torque"].unit == "Nm"
    assert {"maker_angle", *(field.key for field in tightening.WRENCH_FIELDS)} <= set(
        TORQUE.numbers
    )
    for key in ("setting", "range_share", "worked_torque", "figure_over", "figure_under"):
        assert TORQUE.answer(key)
    assert TORQUE.numbers["maker_torque"].high == makers_figures.FIELDS[2].spec()["high"]


def test_what_is_taken_where_nothing_is_stated_is_on_the_list() -> None:
    grades = TORQUE.choices["grade"]
    for system, grade in makers_figures.ASSUMED["grade"].items():
        assert grades.option(grade).tag == system
    assert TORQUE.choices["friction"].option(str(makers_figures.ASSUMED["friction"]))
    assert {o.tag for o in TORQUE.choices["thread"].options} == set(makers_figures.ASSUMED["grade"])


def test_usual_passes_are_30_60_and_100_percent_common_practice() -> None:
    passes = next(field for field in tightening.FIELDS if isinstance(field, Parts))
    assert [row.get("share", row["do"]) for row in passes.default] == [30.0, 60.0, 100.0, "check"]


@pytest.mark.parametrize(
    ("label", "rows", "around"),
    [
        pytest.param(
            "2 × 5",
            ((9, 3, 1, 6, 8), (7, 5, 2, 4, 10)),
            (),
            id="ten-bolt head, common practice",
        ),
        pytest.param(
            "8 on a circle",
            (),
            (1, 5, 3, 7, 2, 6, 4, 8),
            id="ASME PCC-1 legacy cross pattern, from memory, 8 bolts",
        ),
    ],
)
def test_printed_orders(
    label: str, rows: tuple[tuple[int, ...], ...], around: tuple[int, ...]
) -> None:
    pattern = next(each for each in tightening.common_patterns() if each.label == label)
    assert (pattern.rows, pattern.around) == (rows, around)
    turns = sorted(turn for row in (*pattern.rows, pattern.around) for turn in row)
    assert sorted(pattern.check) == turns == list(range(1, len(turns) + 1))
