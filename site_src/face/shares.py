"""What each part has of a whole, as bars, the largest first: so that one sees what to mend first.

The phone draws the same in `static/js/face/shares.js`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from site_src.face.numbers import with_unit
from site_src.face.words import fault_words, si_text, unit_of
from site_src.model.answers import Portion, SharesView, shown
from site_src.model.fields import Choice, Number, Parts
from site_src.model.lookup import Lookup
from site_src.tables.recipe import Run

BAR_WIDTH = 340.0
"""Width of a bar that is the whole."""


@dataclass(frozen=True)
class Bar:
    """One part: its name, its share in words, and how long its bar is drawn."""

    name: str
    text: str
    width: str


@dataclass(frozen=True)
class Shares:
    """The bars in their order; or why there are none."""

    view: SharesView
    bars: tuple[Bar, ...]
    words: str


def shares(lookup: Lookup, view: SharesView) -> Shares:
    """Work out the bars of the default set-up."""
    outcome = lookup.explain({})
    asked = [key for portion in view.portions for key in portion.answers]
    for key in asked:
        if key in outcome.faults:
            return Shares(view, (), fault_words(lookup, outcome.faults[key]))
    run = lookup.run(lookup.filled([{}]))
    answer = lookup.answer(asked[0])
    whole = {key: outcome.symbols[key] for key in asked}
    found = [each for portion in view.portions for each in _of(lookup, run, portion, whole)]
    found.sort(key=lambda each: -each[1])
    percent = unit_of(answer)
    bars = (
        Bar(name, with_unit(si_text(answer, share), percent.label), bar_width(share))
        for name, share in found
    )
    return Shares(view, tuple(bars), "")


def bar_width(share: float) -> str:
    """Return how long a bar is drawn; a sliver at least, so that none is missed.

    >>> bar_width(0.5), bar_width(0.0)
    ('170.0', '1.0')
    """
    return shown(max(share * BAR_WIDTH, 1.0), 1)


def _of(
    lookup: Lookup, run: Run, portion: Portion, whole: Mapping[str, float]
) -> Iterator[tuple[str, float]]:
    """Yield the name and the share of what has one, or of each row of a list."""
    if not portion.parts:
        yield portion.label, sum(whole[key] for key in portion.answers)
        return
    parts = next(f for f in lookup.fields if isinstance(f, Parts) and f.key == portion.parts)
    for n, row in enumerate(parts.default):
        share = 0.0
        for key, symbol in portion.answers.items():
            total = float(run.symbols[symbol].values[0])
            part = _of_row(lookup, run, parts.key, symbol, n)
            share += whole[key] * (part / total) if total else 0.0
        texts = [_entry(parts, key, row) for key in portion.names]
        yield f"{portion.label} {n + 1}: {', '.join(texts)}", share


def _of_row(lookup: Lookup, run: Run, parts: str, symbol: str, row: int) -> float:
    """Run the step that adds up a list for one row of it."""
    step = next(step for step in lookup.steps if step.name == symbol)
    with np.errstate(all="ignore"):
        return float(step.run(run.with_one(parts, row)).values[0])


def _entry(parts: Parts, key: str, row: Mapping[str, float | str]) -> str:
    """Write an entry of a row, as typed or as usual."""
    field: Number | Choice = next(each for each in parts.fields if each.key == key)
    value = row.get(key, field.default)
    if isinstance(field, Choice):
        return field.option(str(value)).label
    return "" if value is None else with_unit(f"{float(value):.15g}", field.declared.label)
