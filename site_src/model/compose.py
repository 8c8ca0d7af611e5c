"""Chaining lookups: one lookup's answers feed another's fields, in recipe and calculation alike.

A link takes a whole lookup, as it is, and replaces some of its fields by symbols that stand
already. The same link is made in the direct calculation, so that a chain is proved end to end.
Fields that are not replaced keep their keys: two links that both ask for the engine speed ask
once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from site_src.model.answers import Answer
from site_src.model.direct import Floats, Limit
from site_src.model.fields import Field
from site_src.model.lookup import Given, Lookup
from site_src.tables.compiler import TableSpec
from site_src.tables.recipe import First, Step, renamed


@dataclass(frozen=True)
class Link:
    """A lookup in a chain: its name there, and which of its fields are fed by what symbols."""

    name: str
    lookup: Lookup
    feeds: Mapping[str, str]

    def symbol(self, of: str) -> str:
        """Return what one of the lookup's own symbols is called in the chain."""
        if of in self.feeds:
            return f"{self.name}.{of}"
        return of if of in self.lookup.numbers else f"{self.name}.{of}"

    @property
    def fields(self) -> tuple[Field, ...]:
        """The fields that are still to be entered."""
        return tuple(field for field in self.lookup.fields if field.key not in self.feeds)

    @property
    def tables(self) -> tuple[TableSpec, ...]:
        """The lookup's tables, and one for each fed field that refuses values out of its range."""
        return (*self.lookup.tables, *(self._limit(key).table for key in self.feeds))

    @property
    def steps(self) -> tuple[Step, ...]:
        """The lookup's recipe with its symbols renamed, each fed field checked first."""
        checks = tuple(
            self._limit(key).look(self.symbol(key), symbol) for key, symbol in self.feeds.items()
        )
        return (*checks, *(renamed(step, self.symbol) for step in self._own_steps))

    @property
    def _own_steps(self) -> tuple[Step, ...]:
        """The lookup's recipe without the stand-ins for fed fields, which are never left empty."""
        return tuple(
            replace(step, of=step.of[:1])
            if isinstance(step, First) and step.of[0] in self.feeds
            else step
            for step in self.lookup.steps
        )

    def answer(self, key: str) -> Answer:
        """Return one of the lookup's answers, as the chain has it."""
        answer = self.lookup.answer(key)
        band = answer.band
        if band:
            band = replace(band, limit=self._source(band.limit), near=self._source(band.near))
        return replace(
            answer,
            key=f"{self.name}_{key}",
            symbol=self.symbol(answer.source),
            band=band,
            filled="",
            rank="more",
        )

    def direct(self, given: Given, fed: Mapping[str, Floats]) -> dict[str, Floats]:
        """Run the lookup's direct calculation on what is entered and what is fed.

        What is neither takes the page's own default: the chain's answers don't hang on it.
        Where something fed can't be used, what hangs on it has no answer, as in the recipe.
        """
        shape = next(iter(fed.values())).shape
        usual = self.lookup.given(self.lookup.filled([{}]))
        entered = {
            key: given[key] if key in given else np.broadcast_to(np.asarray(value), shape)
            for key, value in usual.items()
        }
        low, high = dict(entered), dict(entered)
        unusable = np.zeros(shape, dtype=bool)
        for key in self.feeds:
            limit = self._limit(key)
            outside = ~limit.holds(fed[key])
            unusable |= outside
            low[key] = np.where(outside, limit.low, fed[key])
            high[key] = np.where(outside, limit.high, fed[key])
        answers = dict(self.lookup.direct(low))
        if unusable.any():
            # An answer that is the same with either end in its place doesn't hang on it here.
            other = self.lookup.direct(high)
            answers = {
                key: np.where(unusable & (value != other[key]), np.nan, value)
                for key, value in answers.items()
            }
        return answers

    def _source(self, source: str | float) -> str | float:
        """Return a symbol's name in the chain; a number stays as it is."""
        return self.symbol(source) if isinstance(source, str) else source

    def _limit(self, key: str) -> Limit:
        """Return a fed field's own range as the limit of what feeds it."""
        field = self.lookup.numbers[key]
        unit = f" {field.declared.label}" if field.declared.label else ""

        def words(side: str, end: float) -> str:
            return (
                f"{field.label} works out {side} {end:g}{unit}, where the page "
                f"“{self.lookup.title}” stops. Check the set-up."
            )

        return Limit(
            f"fed_{self.name}_{key}",
            field.label,
            field.declared.to_si(field.low),
            field.declared.to_si(field.high),
            below=words("under", field.low),
            above=words("over", field.high),
        )


def tables_of(*links: Link) -> tuple[TableSpec, ...]:
    """Return the tables of several links, each name once."""
    tables: dict[str, TableSpec] = {}
    for link in links:
        for table in link.tables:
            if tables.setdefault(table.name, table) != table:
                raise ValueError(f"two tables of a chain are called {table.name}")
    return tuple(tables.values())
