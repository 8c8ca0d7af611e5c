"""Exactly at an edge: the ends of tables and ranges, limits that are met, values that are alike.

Set-ups that are drawn never lie there. What is expected is worked out by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from calc.domain import Real
from site_src.model.answers import Band
from site_src.model.entries import Entries
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import Refusal, choose, greatest, least, tabulated, within
from tests.node import needs_node
from tests.tables.made_up import FIELDS, page
from tests.tables.on_node import node_results
from tests.tables.samples import python_results

SPAN = (0.0, 7.5)
"""From where entry a begins to where it ends, counted from there."""

TABLES = {
    "rising": tabulated(
        "rising", lambda x: np.exp(x / 4.0), cubic("x", "x", *SPAN), tolerance=1e-7
    ),
    "falling": tabulated(
        "falling", lambda x: np.exp(-x / 4.0), cubic("x", "x", *SPAN), tolerance=1e-7
    ),
    "climbing": tabulated(
        "climbing", lambda x: 1.0 + 2.0 * x, linear("x", "x", *SPAN), tolerance=1e-7
    ),
    "sinking": tabulated(
        "sinking", lambda x: -1.0 - 2.0 * x, linear("x", "x", *SPAN), tolerance=1e-7
    ),
}
AWAY = 1e-6
"""By how much of itself a value is moved out of its table."""


def there_and_back(e: Entries) -> Mapping[str, Real]:
    """Look up, and from there back: as it is, and moved a little to either side."""
    x = e["a"] - 0.5
    found: dict[str, Real] = {}
    for name, table in TABLES.items():
        value = table(x, below={"x": "short"}, above={"x": "far"})
        found[f"{name}_there"] = value
        for side, moved in (("", 0.0), ("_less", -AWAY), ("_more", AWAY)):
            found[name + side] = table.where(
                "x", value + moved, below={"x": "under"}, above={"x": "over"}
            )
    return found


SIDES = [name + side for name in TABLES for side in ("_there", "", "_less", "_more")]
ENDS = page(there_and_back, *SIDES)


@pytest.mark.parametrize(("a", "place"), [(0.5, 0.0), (8.0, 7.5)])
def test_both_ends_of_a_table_are_in_it_and_what_lies_beyond_is_not(a: float, place: float) -> None:
    outcome = ENDS.explain({"a": a})
    for name in TABLES:
        # Halving comes as near as the last bit.
        assert outcome.answers[name] == pytest.approx(place, rel=0.0, abs=1e-14)
        grows = name in ("rising", "climbing")
        out, into = ("_less", "_more") if (place == 0.0) == grows else ("_more", "_less")
        assert outcome.faults[name + out].kind == ("below" if place == 0.0 else "above")
        assert outcome.faults[name + out].say == ("under" if place == 0.0 else "over")
        assert 1e-8 < abs(outcome.answers[name + into] - place) < 1e-4


def alike(e: Entries) -> Mapping[str, Real]:
    """Compare values that may be the same, and pick inside a list by what was chosen outside."""

    def inside(part: Entries) -> Real:
        size = part["size"]
        ways = {"one": size * e["b"], "two": size * 10.0, "none": Refusal("none there")}
        return e.pick("way", ways)

    return {
        "less": choose(e["a"], e["b"], 1.0, 2.0),
        "least": least(e["a"], e["b"], e["c"]),
        "greatest": greatest(e["a"], e["b"], e["c"]),
        "kept": within(e["a"] * 2.0, 3.0, 6.0, below="low", above="high"),
        "inside": e.total("rows", inside),
        "more": e["a"] * 1.0,
        "fewer": e["a"] + 0.0,
    }


def band(side: str, limit: float, near: float) -> Band:
    return Band(side=side, limit=limit, near=near, within="w", near_words="n", beyond="b")


ALIKE = page(
    alike,
    *("less", "least", "greatest", "kept", "inside", "more", "fewer"),
    fields=FIELDS,
    bands={"more": band("max", 3.0, 2.0), "fewer": band("min", 2.0, 3.0)},
)
A_HAIR = 1e-9


@pytest.mark.parametrize(
    ("a", "less", "more", "fewer", "kept"),
    [
        (1.5 - A_HAIR, 1.0, "within", "beyond", "low"),
        (1.5, 1.0, "within", "beyond", 3.0),
        (2.0 - A_HAIR, 1.0, "within", "beyond", 4.0),
        (2.0, 2.0, "within", "near", 4.0),
        (2.0 + A_HAIR, 2.0, "near", "near", 4.0),
        (3.0 - A_HAIR, 2.0, "near", "near", 6.0),
        (3.0, 2.0, "near", "within", 6.0),
        (3.0 + A_HAIR, 2.0, "beyond", "within", "high"),
    ],
)
def test_a_limit_that_is_met_is_not_passed(
    a: float, less: float, more: str, fewer: str, kept: float | str
) -> None:
    outcome = ALIKE.explain({"a": a})
    assert outcome.answers["less"] == less
    assert outcome.status == {"more": more, "fewer": fewer}
    if isinstance(kept, str):
        assert outcome.faults["kept"].say == kept
    else:
        assert outcome.answers["kept"] == pytest.approx(kept, abs=1e-8)
    assert outcome.answers["least"] == min(a, 2.0)
    assert outcome.answers["greatest"] == max(a, 2.0)


@pytest.mark.parametrize(("way", "total"), [("one", 12.0), ("two", 60.0), ("none", None)])
def test_a_choice_outside_a_list_counts_for_every_part(way: str, total: float | None) -> None:
    rows = [{"size": 1.0}, {"size": 2.0}, {"size": 3.0}]
    outcome = ALIKE.explain({"way": way, "rows": rows})
    assert outcome.answers.get("inside") == total
    assert ALIKE.exact({"way": way, "rows": rows}).get("inside") == total
    assert total or outcome.faults["inside"].say == "none there"


@needs_node
def test_the_phone_finds_the_same_at_every_edge(tmp_path: Path) -> None:
    at = [0.5, 1.5 - A_HAIR, 1.5, 2.0 - A_HAIR, 2.0, 2.0 + A_HAIR, 3.0, 3.0 + A_HAIR, 8.0]
    ends: list[dict[str, Any]] = [{"a": a} for a in (0.5, 0.5 + 1e-12, 4.0, 8.0 - 1e-12, 8.0)]
    knots = {knot for grid in ENDS.grids.values() for axis in grid.axes for knot in axis.knots}
    ends += [{"a": knot + 0.5} for knot in sorted(knots)]
    lists = ([{"size": 1.0}], [{"size": 1.0}, {"size": 2.0, "sense": "down"}, {"size": 3.0}])
    ways = [{"way": way, "rows": rows} for way in ("one", "two", "none") for rows in lists]
    for lookup, rows in ((ENDS, ends), (ALIKE, [*({"a": a} for a in at), *ways, {"d": 0.5}])):
        assert node_results(lookup, rows, tmp_path) == python_results(lookup, rows)
