"""What the pages work out of a job's truck, by the calculation itself.

An entry is the job's own where one was entered, else what a maker's sheet says, else what another
page works out of it, else the page's usual value: the phone's order (static/js/form/of_truck.js).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Literal, TypeAlias

from site_src.builds.job import Amount, Figure, Job, Stored, known_entries, name_of
from site_src.lookups import boost_fields, lookup, sheets, truck
from site_src.model.fields import Choice, Field, Number, in_sight
from site_src.model.lookup import Inputs, Lookup, Outcome
from site_src.proof.comparison import ProofError

Whose: TypeAlias = Literal["own", "maker", "followed", "usual", "example", "open"]
"""Whose number an entry shows; `open`: one that may be left empty and is."""

WHOSE_WORDS: Mapping[Whose, str] = {
    "own": "the shop's",
    "maker": "the maker's",
    "followed": "worked out",
    "usual": "usual value",
    "example": "example",
    "open": "left open",
}

_DIGITS = 6
"""Digits with which a worked-out value goes from page to page."""


class Truck:
    """A job's truck on every page."""

    def __init__(self, job: Job) -> None:
        """Work nothing out yet."""
        self.job = job
        self._inputs: dict[str, Inputs] = {}
        self._outcomes: dict[str, Outcome] = {}

    def inputs(self, page: str) -> Inputs:
        """Return a page's entries in declared units; what is as usual there is left out."""
        if page not in self._inputs:
            found = {f.key: self._value(page, f) for f in lookup(page).fields}
            self._inputs[page] = {k: v for k, v in found.items() if v is not _AS_USUAL}  # type: ignore[misc]
        return self._inputs[page]

    def outcome(self, page: str) -> Outcome:
        """Return what a page gives for this truck.

        Answers and what they hang on are the calculation's own; reasons and statuses the recipe's.

        Raises:
            ProofError: the two differ by more than the answer's tolerance.
        """
        if page not in self._outcomes:
            (self._outcomes[page],) = exact_outcomes(lookup(page), [self.inputs(page)])
        return self._outcomes[page]

    def whose(self, page: str, field: Field) -> Whose:
        """Say whose an entry is."""
        if name_of(page, field.key) in self.job.entries:
            return "own"
        if self._stated(page, field) is not None:
            return "maker"
        if source_of(page, field):
            return "followed"
        if isinstance(field, Number) and field.default is None:
            return "open"
        return "usual" if field.key in truck.USUAL else "example"

    def shown(self, page: str) -> Iterator[tuple[Field, Whose]]:
        """Go through the entries that a page asks for with this truck, and whose each is."""
        about, inputs = lookup(page), self.inputs(page)
        values = {f.key: inputs.get(f.key, f.default) for f in about.fields}
        for field in about.fields:
            if in_sight(field, values):
                yield field, self.whose(page, field)

    # --- one entry -----------------------------------------------------------------------------

    def _value(self, page: str, field: Field) -> object:
        """Return an entry in the declared unit."""
        own = self.job.entries.get(name_of(page, field.key))
        if own is None:
            own = self._stated(page, field)
        if own is not None:
            return _declared(own)
        source = source_of(page, field)
        if source is None:
            return _AS_USUAL
        assert isinstance(field, Number)
        symbols = self.outcome(source.page).symbols
        if source.symbol not in symbols:
            return None
        value = field.declared.from_si(symbols[source.symbol])
        return float(f"{value:.{_DIGITS}g}")

    def _stated(self, page: str, field: Field) -> Stored | None:
        """Return what a maker's sheet says for an entry."""
        if name_of(page, field.key) != field.key:
            return None
        kind = _feeder(field.key)
        figure = self._in_use(kind, field.key) if kind else None
        if not kind or not figure:
            return None
        if isinstance(field, Choice):
            return next(
                (p.option for p in kind.picks if p.choice == field.key and _says(figure, p.by)),
                None,
            )
        amount = figure.values.get(field.key)
        return self._as_measured(figure, field, amount) if isinstance(field, Number) else None

    def _in_use(self, kind: sheets.Kind, key: str) -> Figure | None:
        """Return the figure that fills an entry: the only one, or the one picked last.

        The first line of a sheet is as good as the others: they are of one kit.
        """
        able = [
            each
            for each in self.job.figures
            if each.kind == kind.key
            and (
                kind.lines
                or (key in kind.feeds and key in each.values)
                or any(p.choice == key and _says(each, p.by) for p in kind.picks)
            )
        ]
        picked = max((each for each in able if each.used), key=_used, default=None)
        if len(able) == 1 or not kind.lines:
            return able[0] if len(able) == 1 else picked
        return picked or min(able, key=_changed, default=None)

    def _as_measured(self, figure: Figure, field: Number, amount: Amount | None) -> Amount | None:
        """Return what a figure says; a pulley as the diameter that the pages are told."""
        meant = figure.choices.get("pulley_kind")
        if amount is None or amount.value is None or field.of != "length" or not meant:
            return amount
        wanted = str(self.job.entries.get("diameter_kind", self._usual_kind))
        lacks = boost_fields.SHELF.lacks
        value = amount.value + lacks[meant] - lacks[wanted]
        return replace(amount, value=value)

    @cached_property
    def _usual_kind(self) -> str:
        """The diameter that pages are told until a person says otherwise."""
        field = known_entries()["diameter_kind"]
        assert isinstance(field, Choice)
        return field.default


_AS_USUAL = object()


def exact_outcomes(page: Lookup, many: Sequence[Inputs]) -> list[Outcome]:
    """Return what a page gives for set-ups that share their lists, by the calculation itself.

    Raises:
        ProofError: calculation and recipe differ by more than an answer's tolerance.
    """
    outcomes = page.explain_many(many)
    entered = page.filled(many)
    _, faults = page.read(entered)
    if any(fault.kind != "blank" for fault in faults.known):
        # Another page fed what can't be used here; the recipe says which entry, in words.
        return outcomes
    exact = page.direct(entered)
    return [
        _exact(page, outcome, {key: float(values[n]) for key, values in exact.items()})
        for n, outcome in enumerate(outcomes)
    ]


def _exact(page: Lookup, outcome: Outcome, exact: Mapping[str, float]) -> Outcome:
    """Return an outcome with the calculation's own answers, SI, in place of the recipe's."""
    symbols, answers = dict(outcome.symbols), {}
    for answer in page.answers:
        if answer.key not in outcome.answers:
            continue
        value = exact[answer.key]
        tolerance = answer.declared.factor * answer.tolerance
        # Written so that a value that is not there is a difference too.
        if not abs(value - symbols[answer.key]) <= tolerance:
            raise ProofError(
                f"{page.key}: {answer.key} is {value} by the calculation, "
                f"{symbols[answer.key]} by the recipe"
            )
        symbols[answer.key] = value
        answers[answer.key] = float(answer.declared.from_si(value))
    return replace(outcome, answers=answers, symbols=symbols)


def _declared(value: Stored) -> object:
    """Return an entry as a lookup takes it."""
    if isinstance(value, tuple):
        return [
            {key: single for key, each in row.items() if (single := _single(each)) is not None}
            for row in value
        ]
    return _single(value)


def _single(value: Amount | str) -> float | str | None:
    """Return a number in its declared unit, or an option."""
    return value.value if isinstance(value, Amount) else value


def source_of(page: str, field: Field) -> truck.Source | None:
    """Return the page that works an entry out, if another one does and it may not stay empty."""
    if not isinstance(field, Number) or field.default is None:
        return None
    found = truck.FOLLOWS.get(field.key)
    return found if found and found.page != page else None


def _feeder(key: str) -> sheets.Kind | None:
    """Return the kind of figure that an entry is filled by on any page."""
    for kind in sheets.KINDS:
        if not kind.pages and (key in kind.feeds or any(p.choice == key for p in kind.picks)):
            return kind
    return None


def _used(figure: Figure) -> str:
    """When a figure was last picked out of several."""
    return figure.used


def _changed(figure: Figure) -> str:
    """When a figure was last entered."""
    return figure.changed


def _says(figure: Figure, keys: tuple[str, ...]) -> bool:
    """Whether a sheet gives all of these."""
    return all(key in figure.values for key in keys)
