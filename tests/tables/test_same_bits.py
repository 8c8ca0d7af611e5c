"""The phone's evaluator and Python's give the same bits, the same refusals, the same statuses."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from site_src.lookups import all_recipes
from site_src.model.fields import Choice, Number, Parts
from site_src.model.lookup import Lookup
from tests.node import needs_node
from tests.own import with_own
from tests.tables.on_node import node_results
from tests.tables.samples import inputs, points, python_results


@needs_node
@pytest.mark.parametrize("lookup", all_recipes(), ids=lambda each: each.key)
def test_node_and_python_agree_to_the_last_bit_and_on_what_is_missing_or_wrong(
    lookup: Lookup, tmp_path: Path
) -> None:
    spread = inputs(lookup, points(lookup))
    assert len(spread) == points(lookup)
    rows = [*spread, *_incomplete(lookup), *_wrong(lookup)]
    expected = python_results(lookup, rows)
    for row, python, node in zip(rows, expected, node_results(lookup, rows, tmp_path), strict=True):
        assert python == node, row
    assert sum(len(python["answers"]) for python in expected[: len(spread)]) > points(lookup)


def _incomplete(lookup: Lookup) -> Iterator[dict[str, Any]]:
    """Yield set-ups in which all example limits are entered, or all but one, or none."""
    own = with_own(lookup)
    yield {}
    yield own
    for key in own:
        yield {each: value for each, value in own.items() if each != key}
    for choice in lookup.choices.values():
        for option in choice.options[:6]:
            yield {choice.key: option.key}


def _wrong(lookup: Lookup) -> Iterator[dict[str, Any]]:
    """Yield set-ups with one wrong entry each: out of range, left blank, not on the list."""
    own = with_own(lookup)
    for field in lookup.fields:
        if isinstance(field, Number):
            yield own | {field.key: field.high + abs(field.high) + 1.0}
            yield own | {field.key: None}
            yield {field.key: field.low - abs(field.low) - 1.0}
        elif isinstance(field, Choice):
            yield own | {field.key: "nothing such"}
        else:
            yield own | {field.key: [*field.default, _wrong_row(field)]}


def _wrong_row(parts: Parts) -> dict[str, float | str]:
    """Return a part whose first number is out of range."""
    first = next(each for each in parts.fields if isinstance(each, Number))
    return {first.key: first.high + 1.0}
