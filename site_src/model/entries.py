"""What a lookup's calculation is given: its entries, as numbers of many set-ups or as symbols.

`Entries` looks alike in both readings. In chains it also hides which of a page's entries a person
makes and which are worked out by another page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.domain import Real
from site_src.model.fields import Choice, Field, Number, Parts
from site_src.tables.symbols import Symbol, Trace, as_operand, as_real, trace_of
from site_src.tables.trace import IfEntered, Pick, Total, greatest, record, within

Rows: TypeAlias = Sequence[Mapping[str, float | str]]
"""A list of parts in SI, choices by their options' keys."""


class Chosen(Protocol):
    """What was chosen in a choice field."""

    def pick(self, values: Mapping[str, Real]) -> Real:
        """Return the value that belongs to what was chosen."""


class Listed(Protocol):
    """What was entered as a list of parts."""

    def total(self, each: Callable[[Entries], Real]) -> Real:
        """Return the sum of what is worked out for each part."""

    def most(self, each: Callable[[Entries], Real]) -> Real:
        """Return the greatest of what is worked out for each part, 0 or more."""


@dataclass(frozen=True)
class Entries:
    """The entries of one page by key; `fed` ones are worked out and never left blank."""

    numbers: Mapping[str, Real]
    choices: Mapping[str, Chosen]
    lists: Mapping[str, Listed] = field(default_factory=dict)
    fed: frozenset[str] = frozenset()

    def __getitem__(self, key: str) -> Real:
        """Return a number, SI; where it was left blank it is not there."""
        return self.numbers[key]

    def pick(self, key: str, values: Mapping[str, Real]) -> Real:
        """Return the value that belongs to the option chosen in a choice field."""
        return self.choices[key].pick(values)

    def called(self, names: Mapping[str, str]) -> Entries:
        """Return the same entries, some under another page's keys; `names`: ours by theirs."""
        numbers = {each: self.numbers[own] for each, own in names.items() if own in self.numbers}
        choices = {each: self.choices[own] for each, own in names.items() if own in self.choices}
        return replace(
            self, numbers={**self.numbers, **numbers}, choices={**self.choices, **choices}
        )

    def number_of(self, key: str, options: Sequence[str]) -> Real:
        """Return the place in a list of the option chosen, counted from 0."""
        return self.pick(key, {option: float(n) for n, option in enumerate(options)})

    def total(self, key: str, each: Callable[[Entries], Real]) -> Real:
        """Return the sum over a list of parts of what is worked out for each of them."""
        return self.lists[key].total(each)

    def most(self, key: str, each: Callable[[Entries], Real]) -> Real:
        """Return the greatest over a list of parts of what is worked out for each, 0 or more."""
        return self.lists[key].most(each)

    def entered_or(self, key: str, otherwise: Real) -> Real:
        """Return an optional entry, or another value where it was left blank."""
        return self.if_entered(key, self.numbers[key], otherwise)

    def if_entered(self, key: str, then: Real, otherwise: Real) -> Real:
        """Return one value where an optional entry was filled in, another where it was not."""
        entry = self.numbers[key]
        if key in self.fed:
            return then
        if trace := trace_of(entry):
            return record(trace, IfEntered(), entry, then, otherwise)
        blank = np.isnan(entry)
        if trace_of(then, otherwise):
            # A constant among symbols: an entry that this page leaves at its usual value.
            return otherwise if blank.all() else then
        return np.where(blank, otherwise, then)


# --- numbers of many set-ups -----------------------------------------------------------------


@dataclass(frozen=True)
class ChosenInEach:
    """The option chosen in each of many set-ups."""

    options: NDArray[np.str_]

    def pick(self, values: Mapping[str, Real]) -> Real:
        """Return the value that belongs to each option; not there where none does."""
        options, *picked = np.broadcast_arrays(self.options, *values.values())
        return np.select([options == option for option in values], picked, np.nan)


@dataclass(frozen=True)
class ChosenAlways:
    """An option that is the same in all set-ups."""

    option: str

    def pick(self, values: Mapping[str, Real]) -> Real:
        """Return the option's value; not there where it has none."""
        return values.get(self.option, np.nan)


@dataclass(frozen=True)
class ListedNumbers:
    """A list of parts in SI, the same in all set-ups.

    Worked out `together`, parts are the rows of arrays whose columns are set-ups; else one is
    worked out after the other, as it must be where numbers are symbols.
    """

    rows: Rows
    together: bool = False

    def total(self, each: Callable[[Entries], Real]) -> Real:
        """Return the sum, the parts in their order."""
        total: Real = np.zeros(1)
        for term in self._terms(each):
            total = total + term
        return total

    def most(self, each: Callable[[Entries], Real]) -> Real:
        """Return the greatest, the parts in their order."""
        found: Real = np.zeros(1)
        for term in self._terms(each):
            found = greatest(found, term)
        return found

    def _terms(self, each: Callable[[Entries], Real]) -> Iterable[Real]:
        """Return what is worked out for each part."""
        if not (self.together and self.rows):
            return [each(_part_numbers(row)) for row in self.rows]
        found = each(_all_numbers(self.rows))
        return np.broadcast_to(found, (len(self.rows), *np.shape(found)[1:]))


def _part_numbers(row: Mapping[str, float | str]) -> Entries:
    """Return one part's entries."""
    return Entries(
        {key: np.array([value]) for key, value in row.items() if not isinstance(value, str)},
        {key: ChosenAlways(value) for key, value in row.items() if isinstance(value, str)},
    )


def _all_numbers(rows: Rows) -> Entries:
    """Return the entries of parts, each entry a column with one of them to a row."""
    columns = {key: np.array([[row[key]] for row in rows]) for key in rows[0]}
    texts = {key for key, value in rows[0].items() if isinstance(value, str)}
    return Entries(
        {key: column for key, column in columns.items() if key not in texts},
        {key: ChosenInEach(columns[key]) for key in texts},
    )


# --- symbols ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class ChosenSymbol:
    """The option of a choice field in a calculation that is being written down."""

    trace: Trace
    field: Choice
    part: str

    def pick(self, values: Mapping[str, Real]) -> Real:
        """Write down the value that belongs to what is chosen."""
        operation = Pick(self.field.key, tuple(values), self.field.default)
        return record(self.trace, operation, *values.values(), part=self.part)


_Each: TypeAlias = "Callable[[Entries], Real]"


@dataclass(frozen=True)
class ListedSymbol:
    """A list of parts in a calculation that is being written down."""

    trace: Trace
    field: Parts

    def total(self, each: Callable[[Entries], Real]) -> Real:
        """Write down what is done for each part, and the sum."""
        return self._over(each, self._usual.total, "sum")

    def most(self, each: Callable[[Entries], Real]) -> Real:
        """Write down what is done for each part, and the greatest."""
        return self._over(each, self._usual.most, "greatest")

    @property
    def _usual(self) -> ListedNumbers:
        """The default list."""
        return ListedNumbers(si_rows(self.field, self.field.default))

    def _over(self, each: _Each, usual: Callable[[_Each], Real], take: str) -> Real:
        """Write down a step over the list, with what it comes to over the default list."""
        body = as_operand(each(_symbols(self.trace, self.field.fields, self.field.key)))
        found = as_operand(usual(each))
        total = found.value if isinstance(found, Symbol) else found
        return as_real(self.trace.close(Total(self.field.key, total, take), body))


def symbols(fields: Sequence[Field]) -> Entries:
    """Return a page's entries as symbols of a new trace."""
    return _symbols(Trace(), fields, "")


def _symbols(trace: Trace, fields: Sequence[Field], part: str) -> Entries:
    """Return entries as symbols; those of one part of a list, if it is named."""
    return Entries(
        {
            each.key: as_real(trace.entry(each.key, usual_si(each), part))
            for each in fields
            if isinstance(each, Number)
        },
        {each.key: ChosenSymbol(trace, each, part) for each in fields if isinstance(each, Choice)},
        {each.key: ListedSymbol(trace, each) for each in fields if isinstance(each, Parts)},
    )


# --- chains ----------------------------------------------------------------------------------


def feeding(e: Entries, fields: Sequence[Field], title: str, fed: Mapping[str, Real]) -> Entries:
    """Return the entries of another page: some fed, the others as they are entered on this one.

    What is neither stays as usual there; what this page asks of the other must not depend on it.

    Args:
        e [1]: this page's entries.
        fields [1]: the other page's fields.
        title [1]: the other page's title, to be named where a fed value is out of its range.
        fed [1]: what this page works out for the other, SI by field.
    """
    numbers = {each.key: each for each in fields if isinstance(each, Number)}
    return Entries(
        {
            key: _fed(number, title, fed[key])
            if key in fed
            else e.numbers.get(key, np.array([usual_si(number)]))
            for key, number in numbers.items()
        },
        {
            each.key: e.choices.get(each.key, ChosenAlways(each.default))
            for each in fields
            if isinstance(each, Choice)
        },
        e.lists,
        frozenset(fed) | (e.fed & numbers.keys()),
    )


def _fed(number: Number, title: str, value: Real) -> Real:
    """Return what feeds a field, if it lies in the field's range."""

    def words(side: str, end: float) -> str:
        return (
            f"{number.label} works out {side} {number.in_both(end)}, where the page “{title}” "
            "stops. Check the set-up."
        )

    return within(
        value,
        number.declared.to_si(number.low),
        number.declared.to_si(number.high),
        below=words("under", number.low),
        above=words("over", number.high),
    )


# --- usual values in SI ----------------------------------------------------------------------


def usual_si(number: Number) -> float:
    """Return a field's usual value in SI, NaN where it is left blank."""
    return np.nan if number.default is None else number.declared.to_si(number.default)


def si_rows(parts: Parts, rows: Rows) -> Rows:
    """Return a list of parts in SI; an entry that a row lacks is as usual."""
    return [
        {
            each.key: _row_si(each, row) if isinstance(each, Number) else _row_option(each, row)
            for each in parts.fields
        }
        for row in rows
    ]


def _row_si(number: Number, row: Mapping[str, float | str]) -> float:
    """Return a part's number in SI."""
    if number.key in row:
        return number.declared.to_si(float(row[number.key]))
    return usual_si(number)


def _row_option(choice: Choice, row: Mapping[str, float | str]) -> str:
    """Return a part's option."""
    return str(row.get(choice.key, choice.default))
