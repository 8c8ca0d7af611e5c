"""What runs out first in the default set-up: each limit, how much of it is used, and its own page.

The phone finds and draws the same, in `static/js/face/ladder.js`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from site_src.face.numbers import decimals_for, power_of_ten, trimmed
from site_src.face.rule import RULE_WIDTH, hatch
from site_src.face.scale import Tick
from site_src.face.words import Ends, Reading
from site_src.model.answers import UNCHECKED, LadderView, Rung, shown
from site_src.model.fields import Field, Number
from site_src.model.lookup import Lookup, Outcome

SHARE_LEFT, SHARE_RIGHT, SHARE_MOST, SHARE_HATCH = 14.0, 326.0, 1.25, 5.0

SAME_REASON = "The same reason as above."

DIGITS = 6
"""Digits that a worked-out value is carried over with: a hundredth of the last one shown."""


@dataclass(frozen=True)
class Share:
    """How much of a limit is used, on one rule for every limit: from zero to past it."""

    used: str
    limit: str
    near: tuple[str, str]
    beyond: tuple[str, str]
    hatch: str
    ticks: tuple[Tick, ...]


@dataclass(frozen=True)
class ShownRung:
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
    rungs: tuple[ShownRung, ...]


def ladder(
    lookup: Lookup,
    view: LadderView,
    readings: Sequence[Reading],
    outcome: Outcome,
    pages: Mapping[str, Lookup],
) -> Ladder:
    """Draw the ladder of the default set-up.

    Args:
        lookup: The lookup that has the ladder.
        view: The ladder.
        readings: The lookup's answers.
        outcome: What they were read from.
        pages: The lookups that the rungs lead to, by key.
    """
    named = {reading.answer.key: reading for reading in readings}
    rungs, reasons = [], set()
    for rung in in_order(view, outcome):
        reading = named[rung.answer]
        words = SAME_REASON if reading.words in reasons else reading.words
        if not reading.text:
            reasons.add(reading.words)
        rungs.append(
            ShownRung(
                rung,
                reading,
                words,
                _share(reading, outcome),
                pages[rung.page].title,
                carried(lookup, rung, outcome, pages[rung.page]),
            )
        )
    return Ladder(view, first_words([(each.rung, each.reading) for each in rungs]), tuple(rungs))


def in_order(view: LadderView, outcome: Outcome) -> list[Rung]:
    """Return the rungs, the most used one first; then those not checked, last without answer."""
    known = [rung for rung in view.rungs if rung.answer in outcome.answers]
    unknown = [rung for rung in view.rungs if rung.answer not in outcome.answers]

    def place(rung: Rung) -> tuple[bool, float]:
        return outcome.status.get(rung.answer) == UNCHECKED, -outcome.answers[rung.answer]

    return [*sorted(known, key=place), *unknown]


def judged_first(
    view: LadderView | None, readings: Sequence[Reading], outcome: Outcome
) -> list[Reading]:
    """Return readings, the ladder's first, so that the verdict is about the first of those."""
    order = [rung.answer for rung in in_order(view, outcome)] if view else []
    place = {key: n for n, key in enumerate(order)}
    return sorted(readings, key=lambda reading: place.get(reading.answer.key, len(order)))


def first_words(rungs: Sequence[tuple[Rung, Reading]]) -> str:
    """Say which limit is used up first."""
    known = [(rung, reading) for rung, reading in rungs if reading.text]
    checked = [each for each in known if each[1].status != UNCHECKED]
    if not known:
        return "None of these can be worked out for this set-up."
    if not checked:
        return (
            "Not checked yet: enter your own parts and limits, and this says what runs out first."
        )
    rung, reading = checked[0]
    said = f"{rung.first}: {reading.number} used."
    if len(checked) < len(known):
        return f"Of what is checked, {said}"
    if len(known) < len(rungs):
        return f"Of what can be worked out, {said}"
    return said[0].upper() + said[1:]


def _share(reading: Reading, outcome: Outcome) -> Share | None:
    """Draw how much of a limit is used."""
    answer = reading.answer
    if not reading.text or answer.band is None or reading.status == UNCHECKED:
        return None
    ends = Ends.of(answer.band, outcome, outcome.symbols[answer.key])
    return draw_share(ends.value / ends.limit, ends.near / ends.limit)


def draw_share(used: float, near: float) -> Share:
    """Place the marks of a share; 1 is the limit. What doesn't fit runs to the rule's end.

    >>> draw_share(0.5, 0.92).used, draw_share(1.0, 0.92).used, draw_share(9.0, 0.92).used
    ('138.8', '263.6', '339.0')
    """

    def x(share: float) -> str:
        return shown(SHARE_LEFT + share / SHARE_MOST * (SHARE_RIGHT - SHARE_LEFT), 1)

    far = shown(RULE_WIDTH - 1.0, 1)
    zone = (x(near), x(1.0))
    return Share(
        used=far if used > SHARE_MOST else x(max(used, 0.0)),
        limit=x(1.0),
        near=zone,
        beyond=(x(1.0), far),
        hatch=hatch(zone, SHARE_HATCH, "49l5 -16"),
        ticks=tuple(
            Tick(x(n / 20), 2, f"{5 * n}") if n % 5 == 0 and n <= 20 else Tick(x(n / 20), 0)
            for n in range(26)
        ),
    )


# --- the page that a rung leads to ---------------------------------------------------------------


def carried(lookup: Lookup, rung: Rung, outcome: Outcome, page: Lookup) -> str | None:
    """Return the query with which a rung's page works out the same; None if it can't."""
    if any(symbol not in outcome.symbols for symbol in rung.feeds.values()):
        return None
    own = {field.key: field for field in lookup.fields}
    return urlencode(list(_entries(page.fields, own, rung.feeds, outcome)))


def _entries(
    fields: Iterable[Field],
    own: Mapping[str, Field],
    feeds: Mapping[str, str],
    outcome: Outcome,
) -> Iterable[tuple[str, str]]:
    """Yield what differs from the page's own defaults, as a link holds it."""
    for field in fields:
        if isinstance(field, Number) and field.key in feeds:
            text = fed_text(field, outcome.symbols[feeds[field.key]])
            if field.default is None or float(text) != field.default:
                yield field.key, text + field.unit
        elif field.key in own and own[field.key].default != field.default:
            yield field.key, _entered(own[field.key])


def _entered(field: Field) -> str:
    """Write a field's default as a link holds an entry."""
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
    # Rounding may not carry a value out of its range.
    inside = min(max(float(text), field.low), field.high)
    rounded_out = field.low <= value <= field.high and float(text) != inside
    return f"{inside:.15g}" if rounded_out else text
