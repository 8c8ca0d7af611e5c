"""One truck: a key means the same on every page, and what is worked out goes round once."""

from __future__ import annotations

from collections import defaultdict

import pytest

from site_src.lookups import all_lookups, lookup, truck
from site_src.model.entries import symbols
from site_src.model.fields import Field, Number, Parts
from site_src.model.lookup import Lookup
from site_src.model.quantities import quantity
from site_src.tables.symbols import as_operand
from site_src.tables.writing import write_down


def shared() -> dict[str, list[tuple[str, Field]]]:
    """Every entry that several pages ask for, by its key."""
    found: dict[str, list[tuple[str, Field]]] = defaultdict(list)
    for page in all_lookups():
        for field in page.fields:
            if field.key not in truck.APART.get(page.key, ()):
                found[field.key].append((page.key, field))
    return {key: each for key, each in found.items() if len(each) > 1}


def meaning(field: Field) -> tuple[object, ...]:
    """What may not differ between two pages; a default may, where one of them leaves it open."""
    if isinstance(field, Number):
        return ("number", field.of, field.unit, field.scale.span, bool(field.example))
    if isinstance(field, Parts):
        return ("parts", field.most, tuple(meaning(each) for each in field.fields))
    return ("choice", tuple(option.key for option in field.options), field.default)


@pytest.mark.parametrize("key", sorted(shared()))
def test_an_entry_means_the_same_on_every_page_that_asks_for_it(key: str) -> None:
    pages = shared()[key]
    assert len({meaning(field) for _, field in pages}) == 1, [page for page, _ in pages]
    defaults = {field.default for _, field in pages if isinstance(field, Number)} - {None}
    if key not in truck.FOLLOWS:
        assert len(defaults) <= 1


SAID_TO_STAY_AS_USUAL = {
    # "From its wire: as on the wiring page, the ground wire back along the feed and of its size …".
    "fuel": {
        *("known_by", "load_power", "rated_voltage", "ground", "frame_resistance"),
        *("return_length", "insulation", "bundle"),
    }
}


@pytest.mark.parametrize("about", all_lookups(), ids=lambda about: about.key)
def test_a_page_asks_for_every_entry_that_moves_its_answers(about: Lookup) -> None:
    # A page that lets another work for it would else go on with a usual value, beside that other
    # page on which the truck's own stands.
    everywhere = {field.key: field for each in all_lookups() for field in each.fields}
    own = {field.key for field in about.fields}
    others = [field for key, field in everywhere.items() if key not in own]
    found = about.reckon(symbols((*about.fields, *others)))
    shown = {each.key for each in (*about.answers, *about.workings)}
    written = write_down({key: as_operand(found[key]) for key in shown & found.keys()})
    worked_out = {step.name for step in written.steps} | found.keys()
    asked = written.asked & everywhere.keys() - own - worked_out
    assert asked == SAID_TO_STAY_AS_USUAL.get(about.key, set())


def test_what_stands_apart_is_an_entry_that_another_page_has_too() -> None:
    everywhere = [field.key for page in all_lookups() for field in page.fields]
    for page, keys in truck.APART.items():
        for key in keys:
            assert key in {field.key for field in lookup(page).fields}
            assert everywhere.count(key) > 1


def test_usual_values_are_entries() -> None:
    everywhere = {field.key for page in all_lookups() for field in page.fields}
    assert everywhere >= truck.USUAL


def test_an_offer_is_known_by_entries_of_the_page_that_makes_it() -> None:
    for offer in truck.OFFERS.values():
        page = lookup(offer.page)
        assert offer.known_by
        assert offer.known_by <= {field.key for field in page.fields}
        assert not offer.known_by & truck.USUAL
        assert not offer.known_by & truck.APART.get(page.key, frozenset())


@pytest.mark.parametrize("key", sorted({*truck.FOLLOWS, *truck.OFFERS}))
def test_a_followed_value_is_one_that_its_page_works_out_within_the_entrys_range(key: str) -> None:
    source = truck.FOLLOWS.get(key) or truck.OFFERS[key]
    page = lookup(source.page)
    named = [*page.answers, *page.workings]
    (value,) = [each for each in named if each.key == source.symbol]
    found = page.explain({}).symbols[source.symbol]
    for each in all_lookups():
        field = each.numbers.get(key)
        if field is not None:
            assert field.quantity.si == quantity(value.of).si
            assert field.low <= field.declared.from_si(found) <= field.high
            assert each.key != source.page


def test_what_is_worked_out_never_waits_for_itself() -> None:
    def behind(page: str, above: tuple[str, ...]) -> None:
        assert page not in above, f"{page} follows itself by {above}"
        for field in lookup(page).fields:
            if source := truck.FOLLOWS.get(field.key):
                behind(source.page, (*above, page))

    for page in all_lookups():
        behind(page.key, ())
