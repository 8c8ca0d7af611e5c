"""What a shop that measures in inches reads: even numbers, and the same ones worked with."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from site_src.lookups import all_lookups, truck
from site_src.model.answers import BEYOND
from site_src.model.fields import Number, Parts
from site_src.model.lookup import Lookup
from site_src.model.quantities import quantity
from site_src.model.said import metric, pairs
from tests.inches import declared, of_inches
from tests.node import needs_node
from tests.site.test_js import number_fields, run

pytestmark = needs_node

INCH = list({str(f.spec()): f for f in number_fields() if f.in_inches}.values())
"""Each field that an inch shop reads in another unit, once."""


def decimals(number: float) -> int:
    """Count the digits after the point."""
    return max(0, -int(Decimal(repr(number)).normalize().as_tuple().exponent))


def even(number: float, step: float) -> bool:
    """Whether a number is a multiple of a step."""
    return Decimal(repr(number)) % Decimal(repr(step)) == 0


def test_no_example_shows_more_digits_than_its_step_asks_for() -> None:
    for field in INCH:
        inch = field.in_inches
        assert inch is not None
        if inch.default is None:
            continue
        named = field.scale.inch.default is not None
        most = decimals(inch.step) + (1 if named else 0)
        assert decimals(inch.default) <= most, field.key
        assert named or even(inch.default, inch.step), field.key


def test_an_even_example_is_the_metric_one_but_for_its_rounding() -> None:
    for field in INCH:
        inch = field.in_inches
        assert inch is not None
        if inch.default is None or field.default is None:
            continue
        here = declared(field, inch.default, inch.unit)
        off = abs(here - field.default) * field.declared.factor
        step = inch.step * field.quantity.unit(inch.unit).factor
        assert field.low <= here <= field.high, field.key
        assert off <= max(step, 0.03 * abs(field.default) * field.declared.factor), field.key


def test_what_is_shown_in_inches_is_what_is_worked_with() -> None:
    pages = all_lookups()
    jobs = [("ofShop", "inch", [field.spec() for field in page.fields]) for page in pages]
    for page, found in zip(pages, run(*jobs), strict=True):
        assert found["query"] == ""
        _shows_what_it_works_with(page, found)


def _shows_what_it_works_with(page: Lookup, found: dict[str, Any]) -> None:
    """Check every entry of a page."""
    for field in page.fields:
        if isinstance(field, Number):
            _is_worked_with(field, found["shown"][field.key], found["usual"][field.key])
            if field.key in found["inputs"]:
                assert found["inputs"][field.key] == found["usual"][field.key]
        elif isinstance(field, Parts):
            numbers = [each for each in field.fields if isinstance(each, Number)]
            rows = zip(found["shown"][field.key], found["usual"][field.key], strict=True)
            for shown, usual in rows:
                for each in numbers:
                    _is_worked_with(each, shown[each.key], usual[each.key])


def _is_worked_with(field: Number, shown: dict[str, Any], usual: float | None) -> None:
    """Check that an entry's text, read as it stands, is the number worked with."""
    assert "from" not in shown, field.key
    assert shown["unit"] == (field.in_inches.unit if field.in_inches else field.unit)
    if usual is None:
        assert shown["text"] == "", field.key
    elif shown["unit"] == field.unit:
        assert float(shown["text"]) == usual, field.key
    else:
        assert declared(field, float(shown["text"]), shown["unit"]) == usual, field.key


def test_a_metric_shop_works_with_the_metric_example() -> None:
    pages = all_lookups()
    jobs = [("ofShop", "metric", [field.spec() for field in page.fields]) for page in pages]
    for page, found in zip(pages, run(*jobs), strict=True):
        for field in page.fields:
            if isinstance(field, Number):
                assert found["usual"][field.key] == field.default, field.key


def test_steppers_move_by_the_inch_step_and_land_on_even_numbers() -> None:
    cases = [(f, i) for f in INCH if (i := f.in_inches) and i.default is not None]
    jobs = [
        ("walk", f.spec(), f"{i.default:.12g}", i.unit, way, 3) for f, i in cases for way in (1, -1)
    ]
    walks = iter(run(*jobs))
    limits = run(*[("ends", field.spec(), inch.unit) for field, inch in cases])
    for (field, inch), ends in zip(cases, limits, strict=True):
        stock = inch.stock or field.stock
        for walk in (next(walks), next(walks)):
            for text in walk:
                at_end = text in (ends["low"], ends["high"])
                good = even(float(text), inch.step) if not stock else True
                assert at_end or good or float(text) in inch.stock, (field.key, walk)


def test_ranges_said_are_taken_at_both_ends_and_refused_beyond() -> None:
    cases = [(field, field.in_inches) for field in INCH]
    ends = run(*[("saidEnds", f.spec(), i.unit if i else "") for f, i in cases])
    inside, outside = [], []
    for (field, inch), said in zip(cases, ends, strict=True):
        assert inch is not None
        low, high = float(said["low"]), float(said["high"])
        spec = replace(field, when=None).spec()
        inside += [("complaint", spec, said[end], inch.unit) for end in ("low", "high")]
        step = max(inch.step, 10.0 ** -decimals(low))
        beyond = (f"{low - step:.9f}", f"{high + step:.9f}")
        outside += [("complaint", spec, text, inch.unit) for text in beyond]
        finest = max(decimals(inch.step), 1)
        for text in said.values():
            digits = len(text.replace("-", "").replace(".", "").lstrip("0"))
            assert digits <= 2 or decimals(float(text)) <= finest, (field.key, said)
    assert not any(run(*inside))
    for job, words in zip(outside, run(*outside), strict=True):
        assert "This page takes" in words, job


def test_a_link_means_the_same_truck_in_a_shop_of_the_other_system() -> None:
    shops = (("inch", "metric"), ("metric", "inch"), ("inch", "inch"))
    jobs = []
    for page in all_lookups():
        specs = [field.spec() for field in page.fields]
        first = next(field for field in page.fields if isinstance(field, Number))
        jobs += [("sent", *two, specs, f"{first.key}={first.low:g}{first.unit}") for two in shops]
    for job, found in zip(jobs, run(*jobs), strict=True):
        assert found["here"] == found["there"], job[1:3]
        assert ("units=inch" in found["link"]) == (job[1] == "inch")


@pytest.mark.parametrize("page", all_lookups(), ids=lambda page: page.key)
def test_the_even_truck_is_as_sound_as_the_metric_one(page: Lookup) -> None:
    whole = {field.key: field.default for field in page.fields}
    usual = page.explain(whole | dict(truck.example(page.key)))  # type: ignore[arg-type]
    even_truck = page.explain(whole | of_inches(page))  # type: ignore[arg-type]
    assert set(even_truck.faults) == set(usual.faults)
    for key, status in even_truck.status.items():
        assert (status == BEYOND) == (usual.status[key] == BEYOND), key


def test_words_say_a_measure_as_the_shop_reads_it() -> None:
    text = "Leave [25 mm|1 in] from belts, [75|3] from fans."
    assert metric(text) == "Leave 25 mm from belts, 75 from fans."
    spoken = ["Leave 25 mm from belts, 75 from fans.", "Leave 1 in from belts, 3 from fans."]
    assert run(("spoken", text, "metric"), ("spoken", text, "inch")) == spoken


def test_names_of_entries_and_answers_hold_no_pair() -> None:
    # They stand in attributes too, where there is no markup to show one of the two.
    for page in all_lookups():
        inner = [each for field in page.fields for each in getattr(field, "fields", ())]
        for named in (*page.fields, *inner, *page.answers, *page.workings):
            assert not pairs(named.label), named.key


def test_every_page_holds_both_measures_as_markup_and_no_bare_pair(site: Path) -> None:
    marked = 0
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        for data in re.findall(r'data-(?:fields|told|reasons|assumed|file)="([^"]*)"', text):
            json.loads(html.unescape(data))
        words = re.sub(r'data-\w+="[^"]*"', "", text)
        assert not pairs(words), path
        assert words.count('<span class="metric">') == words.count('<span class="inch">')
        marked += text.count('<span class="inch">')
    assert marked > 100


_RANGE = re.compile(r"^([−-]?[\d.,]+) to ([−-]?[\d.,]+) ")


def test_ways_out_never_promise_more_than_is_taken() -> None:
    for field in INCH:
        inch = field.in_inches
        assert inch is not None
        for here, there in pairs(field.way_out):
            ends = [_RANGE.match(words) for words in (here, there)]
            if not all(ends):
                continue
            metric_ends, inch_ends = (
                [float(end.replace("−", "-").replace(",", "")) for end in found.groups()]
                for found in ends
                if found
            )
            if metric_ends != [field.low, field.high]:
                continue
            label = quantity(field.of).unit(inch.unit).label
            assert there.endswith(label), (field.key, there)
            for end in inch_ends:
                value = declared(field, end, inch.unit)
                hair = 1e-9 * field.step
                assert field.low - hair <= value <= field.high + hair, (field.key, there)
