"""What makers' sheets say stands under the names that the pages ask for it by."""

from __future__ import annotations

import pytest

from site_src.lookups import all_lookups, lookup, sheets, truck
from site_src.model.fields import Choice, Number


@pytest.mark.parametrize("kind", sheets.KINDS, ids=lambda kind: kind.key)
def test_what_a_sheet_feeds_is_asked_for_by_that_name_in_that_quantity_and_range(
    kind: sheets.Kind,
) -> None:
    numbers = {field.key: field for field in kind.fields if isinstance(field, Number)}
    assert set(kind.feeds) <= set(numbers)
    for key in kind.feeds:
        asked = [page.numbers[key] for page in all_lookups() if key in page.numbers]
        assert asked
        for field in asked:
            own = numbers[key]
            assert (own.of, own.unit) == (field.of, field.unit)
            assert (own.low, own.high) == (field.low, field.high)
    # Nothing is assumed of what a sheet doesn't say.
    assert {field.default for field in numbers.values()} <= {None}


@pytest.mark.parametrize("kind", sheets.KINDS, ids=lambda kind: kind.key)
def test_what_a_sheet_picks_is_an_option_of_every_page_that_has_the_choice(
    kind: sheets.Kind,
) -> None:
    for pick in kind.picks:
        assert set(pick.by) <= set(kind.feeds)
        having = [page for page in all_lookups() if pick.choice in page.choices]
        assert having
        for page in having:
            assert page.choices[pick.choice].option(pick.option)


def test_each_entry_is_fed_by_one_kind_and_follows_no_page() -> None:
    fed = [key for kind in sheets.KINDS for key in kind.feeds]
    assert len(fed) == len(set(fed))
    assert not set(fed) & set(truck.FOLLOWS)


def test_each_entry_and_text_has_a_name_of_its_own() -> None:
    keys = [field.key for field in sheets.fields()] + [text.key for _, text in sheets.texts()]
    assert len(keys) == len(set(keys))


def test_a_figure_for_one_part_is_told_apart_by_choices_of_each_of_its_pages() -> None:
    for kind in sheets.KINDS:
        for page in map(lookup, kind.pages):
            choices = {f.key for f in kind.fields if isinstance(f, Choice)} - {"reuse"}
            assert choices <= set(page.choices)
            assert {f.key for f in page.numbers.values() if f.kept} == set(kind.feeds)


def test_every_page_that_keeps_a_maker_s_figure_has_a_kind_for_it() -> None:
    keeping = {p.key for p in all_lookups() if any(f.kept for f in p.numbers.values())}
    assert keeping == {page for kind in sheets.KINDS for page in kind.pages}
