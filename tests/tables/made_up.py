"""Lookups made up for tests: nothing but fields and a calculation."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from calc.domain import Real
from site_src.model.answers import Answer, Band
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Parts, Scale
from site_src.model.lookup import Lookup

Reckon = Callable[[Entries], Mapping[str, Real]]


def number(key: str, default: float | None = 2.0, span: tuple[float, float] = (0.5, 8.0)) -> Number:
    return Number(key, key.upper(), Scale("ratio", unit="", span=span, default=default, step=0.5))


FIELDS = (
    *(number(key) for key in "abc"),
    number("d", default=None),
    Choice(
        "way", "Way", (Option("one", "One"), Option("two", "Two"), Option("none", "None")), "one"
    ),
    Parts(
        "rows",
        "Rows",
        (
            number("size"),
            Choice("sense", "Sense", (Option("up", "Up"), Option("down", "Down")), "up"),
        ),
        most=3,
        default=({"size": 3.0, "sense": "up"}, {"size": 1.0, "sense": "down"}),
    ),
)
NO_BANDS: Mapping[str, Band] = {}
PLAIN = tuple(field for field in FIELDS if not isinstance(field, Parts))


def page(
    reckon: Reckon, *keys: str, fields: Sequence[Any] = PLAIN, bands: Mapping[str, Band] = NO_BANDS
) -> Lookup:
    """Return a lookup of nothing but a calculation, and what its answers are judged by."""
    answers = tuple(
        Answer(
            key,
            key,
            of="ratio",
            decimals={"": 2},
            tolerance=1e-9,
            uncertainty=1e-6,
            band=bands.get(key),
        )
        for key in keys
    )
    return Lookup(
        key="made-up",
        title="Made up",
        short="",
        question="",
        stage="plan",
        fields=tuple(fields),
        reckon=reckon,
        answers=answers,
        cautions=(),
        sources=(),
        leaves_out=(),
    )
