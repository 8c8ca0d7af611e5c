"""Which numbers of a truck hang on our examples, found by moving each example and looking again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from site_src.builds.setup import Truck, source_of
from site_src.lookups import lookup
from site_src.model.fields import Field, Number, Parts
from site_src.model.lookup import Inputs

Labels: TypeAlias = tuple[str, ...]
Entry: TypeAlias = float | Sequence[Mapping[str, float | str]]

_A_LITTLE = 0.01
"""By what share a number is moved that another page works out."""


class Leaning:
    """What a truck's pages hang on."""

    def __init__(self, truck: Truck) -> None:
        """Look at nothing yet."""
        self.truck = truck
        self._found: dict[str, Mapping[str, Labels]] = {}

    def of(self, page: str) -> Mapping[str, Labels]:
        """Return by symbol of a page the labels of the examples that it hangs on.

        A symbol hangs on an entry if it is another one once the entry has been moved. An entry
        that another page works out brings along what that page hangs on.
        """
        if page not in self._found:
            self._found[page] = self._look(page)
        return self._found[page]

    def _look(self, page: str) -> Mapping[str, Labels]:
        """Move the page's entries one by one."""
        inputs = self.truck.inputs(page)
        moves = list(self._moves(page, inputs))
        many: list[Inputs] = [inputs, *({**inputs, key: value} for _, key, value in moves)]
        as_is, *moved = lookup(page).explain_many(many)
        found: dict[str, Labels] = {}
        for symbol, value in as_is.symbols.items():
            labels = [
                label
                for (each, _, _), other in zip(moves, moved, strict=True)
                if other.symbols.get(symbol) != value
                for label in each
            ]
            found[symbol] = tuple(dict.fromkeys(labels))
        return found

    def _moves(self, page: str, inputs: Inputs) -> Iterator[tuple[Labels, str, Entry]]:
        """Go through the entries that are moved: labels, key, and where to."""
        for field, whose in self.truck.shown(page):
            if whose == "example" and isinstance(field, Number | Parts):
                yield (field.label,), field.key, _moved(field)
            elif whose == "followed" and isinstance(field, Number):
                source = source_of(page, field)
                labels = self.of(source.page).get(source.symbol, ()) if source else ()
                value = inputs[field.key]
                if labels and isinstance(value, float):
                    yield labels, field.key, _within(field, value * (1.0 + _A_LITTLE), value)


def _moved(field: Field) -> Entry:
    """Return an example a step away: a number's, or a list without its last part."""
    if isinstance(field, Parts):
        return field.default[:-1]
    assert isinstance(field, Number)
    assert field.default is not None
    return _within(field, field.default + field.step, field.default - field.step)


def _within(field: Number, value: float, otherwise: float) -> float:
    """Return a value if the field takes it, and else another one."""
    return value if field.low <= value <= field.high else otherwise
