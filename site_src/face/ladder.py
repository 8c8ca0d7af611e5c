"""What runs out first in the default set-up; `static/js/face/ladder.js` keeps it current."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias
from urllib.parse import urlencode

from site_src.face.drawing import Share, draw_share
from site_src.face.numbers import decimals_for, power_of_ten, trimmed
from site_src.face.words import Ends, Reading
from site_src.model.answers import LadderView, Rung, shown
from site_src.model.fields import Field, Number
from site_src.model.lookup import Lookup, Outcome

Pages: TypeAlias = Mapping[str, Lookup]
"""Lookups by their keys."""

SAME_REASON = "The same reason as above."

DIGITS = 6
"""Digits that a worked-out value is carried over with: a hundredth of the last one shown."""


@dataclass(frozen=True)
class DrawnRung:
    """One limit: how much of it is used or why that can't be had, and its page with its inputs.

    `query` is None where what the page would be fed can't be worked out.
    """

    rung: Rung
    reading: Reading
    words: str
    share: Share | None
    title: str
    query: str | None


@dataclass(frozen=True)
class Ladder:
    """The limits in the order in which they are used up, and which is first in words."""

    view: LadderView
    first: str
    rungs: tuple[DrawnRung, ...]


def ladder(
    lookup: Lookup,
    view: LadderView,
    readings: Sequence[Reading],
    outcome: Outcome,
    pages: Pages,
) -> Ladder:
    """Draw the ladder of the default set-up; `pages` are those that its rungs lead to."""
    named = {reading.answer.key: reading for reading in readings}
    rungs, reasons = [], set()
    for rung in in_order(view, outcome):
        reading = named[rung.answer]
        words = SAME_REASON if reading.words in reasons else reading.words
        if not reading.text:
            reasons.add(reading.words)
        rungs.append(
            DrawnRung(
                rung,
                reading,
                words,
                _share(reading, outcome),
                pages[rung.page].title,
                carried(lookup, rung, outcome, pages),
            )
        )
    return Ladder(view, first_words([(each.rung, each.reading) for each in rungs]), tuple(rungs))


def in_order(view: LadderView, outcome: Outcome) -> list[Rung]:
    """Return the rungs, the most used one first, those without an answer last."""
    known = [rung for rung in view.rungs if rung.answer in outcome.answers]
    unknown = [rung for rung in view.rungs if rung.answer not in outcome.answers]
    return [*sorted(known, key=lambda rung: -outcome.answers[rung.answer]), *unknown]


def judged_first(
    view: LadderView | None, readings: Sequence[Reading], outcome: Outcome
) -> list[Reading]:
    """Return readings with the ladder's before the others, so that its first one is the verdict."""
    order = [rung.answer for rung in in_order(view, outcome)] if view else []
    place = {key: n for n, key in enumerate(order)}
    return sorted(readings, key=lambda reading: place.get(reading.answer.key, len(order)))


def first_words(rungs: Sequence[tuple[Rung, Reading]]) -> str:
    """Say which limit is used up first."""
    known = [(rung, reading) for rung, reading in rungs if reading.text]
    if not known:
        return "None of these can be worked out for this set-up."
    rung, reading = known[0]
    said = f"{rung.first}: {reading.figure} used."
    if len(known) < len(rungs):
        return f"Of what can be worked out, {said}"
    return said[0].upper() + said[1:]


def _share(reading: Reading, outcome: Outcome) -> Share | None:
    """Draw how much of a limit is used."""
    answer = reading.answer
    if not reading.text or answer.band is None:
        return None
    ends = Ends.of(answer.band, outcome, outcome.symbols[answer.key])
    return draw_share(ends.value / ends.limit, ends.near / ends.limit)


# --- the page that a rung leads to ---------------------------------------------------------------


def carried(lookup: Lookup, rung: Rung, outcome: Outcome, pages: Pages) -> str | None:
    """Return the query with which a rung's page works out the same; None if it can't."""
    if any(symbol not in outcome.symbols for symbol in rung.feeds.values()):
        return None
    own = {field.key: field for field in lookup.fields}
    return urlencode(list(_entries(pages[rung.page].fields, own, rung.feeds, outcome)))


def _entries(
    fields: Iterable[Field],
    own: Mapping[str, Field],
    feeds: Mapping[str, str],
    outcome: Outcome,
) -> Iterable[tuple[str, str]]:
    """Yield what differs from the page's own defaults, as it stands in a link."""
    for field in fields:
        if isinstance(field, Number) and field.key in feeds:
            text = fed_text(field, outcome.symbols[feeds[field.key]])
            if field.default is None or float(text) != field.default:
                yield field.key, text + field.unit
        elif field.key in own and own[field.key].default != field.default:
            yield field.key, _entered(own[field.key])


def _entered(field: Field) -> str:
    """Write a field's default as an entry stands in a link."""
    if isinstance(field, Number):
        return "" if field.default is None else f"{field.default:.15g}{field.unit}"
    return str(field.default)


def fed_text(field: Number, si: float) -> str:
    """Write a worked-out value for a field in its declared unit, within its range.

    >>> from site_src.lookups import lookup
    >>> fed_text(lookup("throttle").numbers["air_flow"], 0.5108642)
    '510.864'
    """
    value = field.declared.from_si(si)
    size = power_of_ten(abs(value))[0] if value else 0
    text = trimmed(shown(value, max(decimals_for(field.step), DIGITS - 1 - size)))
    # Rounding may not carry a value out of the range that it lies in.
    inside = min(max(float(text), field.low), field.high)
    rounded_out = field.low <= value <= field.high and float(text) != inside
    return f"{inside:.15g}" if rounded_out else text
