"""A lookup's default set-up, worked out in Python, for pages read without scripts and on paper.

The phone shows the same, rounded and worded by the same rules, with the modules of
`static/js/face/`; a browser test compares the two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from site_src.face.advice import AdviceTable, advice_tables
from site_src.face.chart import Chart, chart
from site_src.face.compare import Comparison, comparison
from site_src.face.curve import DrawnCurve, drawn_curve
from site_src.face.each import EachTable, each_table
from site_src.face.form import Form, form
from site_src.face.ladder import SAME_REASON, Ladder, judged_first, ladder
from site_src.face.shares import Shares, shares
from site_src.face.words import (
    OnTheWay,
    Piece,
    Reading,
    on_the_way,
    pieces,
    read_answer,
    worst,
)
from site_src.model.answers import WITHIN
from site_src.model.lookup import Lookup


@dataclass(frozen=True)
class Sheet:
    """All that the page of a lookup shows before scripts take over."""

    readings: tuple[Reading, ...]
    judged: Reading | None
    ladder: Ladder | None
    comparison: Comparison | None
    each: EachTable | None
    shares: Shares | None
    charts: tuple[Chart, ...]
    curves: tuple[DrawnCurve, ...]
    advice: tuple[AdviceTable, ...]
    workings: tuple[OnTheWay, ...]
    form: Form
    cautions: tuple[tuple[Piece, ...], ...]
    sources: tuple[tuple[Piece, ...], ...]
    leaves_out: tuple[tuple[Piece, ...], ...]

    @property
    def main(self) -> Reading:
        """The one large number."""
        return next((r for r in self.readings if r.answer.rank == "main"), self.readings[0])

    @property
    def verdict(self) -> Reading | None:
        """The first of the worst; without its main number a plate says only what is amiss."""
        silent = not self.main.text and self.judged and self.judged.status == WITHIN
        return None if silent else self.judged

    @property
    def also(self) -> int:
        """How many answers besides the verdict's are judged worse than within, if that is too."""
        return max(0, sum(r.status not in ("", WITHIN) for r in self.readings) - 1)

    @property
    def lesser(self) -> tuple[Reading, ...]:
        """The answers under it on the plate, three at most."""
        return tuple(r for r in self.readings if r.answer.rank == "second")[:3]

    @property
    def told(self) -> tuple[tuple[Reading, str], ...]:
        """Every answer with its note or the reason why there is none, each reason once."""
        said: set[str] = set()
        found = []
        for reading in self.readings:
            words = reading.answer.note if reading.text else reading.words
            if not reading.text:
                if reading.left_out:
                    words = ""
                elif words in said:
                    words = SAME_REASON
                else:
                    said.add(words)
            found.append((reading, words))
        return tuple(found)

    @property
    def ruled(self) -> tuple[Reading, ...]:
        """The answers that are judged against a limit, but for those on the ladder."""
        rungs = self.ladder.view.rungs if self.ladder else ()
        on_ladder = {rung.answer for rung in rungs}
        return tuple(r for r in self.readings if r.answer.band and r.answer.key not in on_ladder)


def sheet(
    lookup: Lookup, pages: Mapping[str, Lookup], carried: Mapping[str, float] | None = None
) -> Sheet:
    """Work out the default set-up of a lookup.

    Args:
        lookup: the lookup.
        pages: the lookups that it may lead to, by key.
        carried: defaults that other pages worked out, which the form shows rounded.
    """
    outcome = lookup.explain({})
    readings = tuple(read_answer(lookup, answer, outcome) for answer in lookup.answers)
    limits = lookup.views.ladder
    return Sheet(
        readings=readings,
        judged=worst(judged_first(limits, readings, outcome)),
        ladder=ladder(lookup, limits, readings, outcome, pages) if limits else None,
        comparison=comparison(lookup, lookup.views.compare) if lookup.views.compare else None,
        each=each_table(lookup, lookup.views.each) if lookup.views.each else None,
        shares=shares(lookup, lookup.views.shares) if lookup.views.shares else None,
        charts=tuple(chart(lookup, view) for view in lookup.views.charts),
        curves=tuple(drawn_curve(lookup, view) for view in lookup.views.curves),
        advice=advice_tables(lookup),
        workings=tuple(
            on_the_way(lookup, each, outcome) for each in lookup.workings if each.listed
        ),
        form=form(lookup.fields, carried or {}),
        cautions=tuple(pieces(text) for text in lookup.cautions),
        sources=tuple(pieces(text) for text in lookup.sources),
        leaves_out=tuple(pieces(text) for text in lookup.leaves_out),
    )
