"""Answers: what a lookup gives back, how it is rounded and what it is judged against."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from site_src.model.quantities import Unit, quantity

WITHIN, NEAR, BEYOND = "within", "near", "beyond"
UNCHECKED = "unchecked"
"""The status of an answer that must not pass in silence, although it can't be judged: its limit was
left blank or is only an example, or an entry can't be used."""


@dataclass(frozen=True, kw_only=True)
class Band:
    """What an answer is judged against.

    `side` is "max" (the limit is the most allowed) or "min" (the least). `limit` and `near` are
    recipe symbols or SI numbers: beyond the limit, near it from `near` on, within otherwise. The
    words may hold {value}, {limit} and {margin}, filled in the answer's unit.

    `unchecked` are the words for a limit that was left blank; they may hold {value}. Without them
    an answer with a blank limit is not judged, and nothing is said.
    """

    side: str
    limit: str | float
    near: str | float
    within: str
    near_words: str
    beyond: str
    unchecked: str = ""

    def status(self, value: float, limit: float, near: float) -> str:
        """Say where a value lies; all three in SI.

        >>> Band(side="max", limit=1.0, near=0.9, within="", near_words="", beyond="").status(
        ...     0.95, 1.0, 0.9
        ... )
        'near'
        """
        sign = 1.0 if self.side == "max" else -1.0
        if sign * value > sign * limit:
            return BEYOND
        return NEAR if sign * value > sign * near else WITHIN

    @property
    def words(self) -> dict[str, str]:
        """The words by status."""
        said = {WITHIN: self.within, NEAR: self.near_words, BEYOND: self.beyond}
        return said | ({UNCHECKED: self.unchecked} if self.unchecked else {})

    def spec(self) -> dict[str, object]:
        """Return the band as plain data."""
        return {
            "side": self.side,
            "limit": self.limit,
            "near": self.near,
            "words": self.words,
        }


@dataclass(frozen=True, kw_only=True)
class Worked:
    """A value that a lookup works out; what the answers and the workings have in common.

    `sign` is the trade's letter for it in a formula. `by` are the functions of `calc` that work it
    out, besides those that the recipe looks up.
    """

    key: str = field(kw_only=False)
    label: str = field(kw_only=False)
    of: str = "ratio"
    unit: str = ""
    sign: str = ""
    by: tuple[Callable[..., Any], ...] = ()

    @property
    def declared(self) -> Unit:
        """The declared unit."""
        return quantity(self.of).unit(self.unit)

    @property
    def si(self) -> list[float]:
        """Factor and offset of the declared unit."""
        return [self.declared.factor, self.declared.offset]


@dataclass(frozen=True, kw_only=True)
class Answer(Worked):
    """One output.

    `decimals` gives the digits shown for each unit that may be picked, the usual one first, which
    is also the declared one unless `unit` names another. `tolerance` is the largest difference
    allowed between recipe and calculation, and `uncertainty` what the model itself is good for,
    both in the declared unit.
    """

    decimals: Mapping[str, int]
    tolerance: float
    uncertainty: float
    band: Band | None = None
    rank: str = "more"
    note: str = ""
    optional: bool = False
    """Shown only when it can be had, such as an answer to a question that may be left open."""

    @property
    def declared(self) -> Unit:
        """The declared unit."""
        return quantity(self.of).unit(self.unit or next(iter(self.decimals)))

    def spec(self) -> dict[str, object]:
        """Return the answer as plain data."""
        return {
            "key": self.key,
            "label": self.label,
            "quantity": self.of,
            "unit": self.declared.key,
            "si": self.si,
            "decimals": dict(self.decimals),
            "tolerance": self.tolerance,
            "uncertainty": self.uncertainty,
            "symbol": self.key,
            "band": self.band.spec() if self.band else None,
            "rank": self.rank,
            "note": self.note,
            "optional": self.optional,
        }


@dataclass(frozen=True, kw_only=True)
class Working(Worked):
    """An intermediate value worth showing in "How this is worked out".

    One that is not `listed` is only named, in the formulas that it is part of.
    """

    decimals: int = 3
    listed: bool = True

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "symbol": self.key,
            "label": self.label,
            "quantity": self.of,
            "unit": self.unit,
            "si": self.si,
            "decimals": self.decimals,
            "listed": self.listed,
        }


@dataclass(frozen=True)
class ChartView:
    """A table of one answer over two fields, or over one if `columns` is empty."""

    title: str
    answer: str
    rows: str
    row_values: tuple[float | str, ...]
    columns: str = ""
    column_values: tuple[float | str, ...] = ()
    also: tuple[str, ...] = ()
    """Further answers, a column each, where there is one field only."""
    unit: str = ""
    """The answer's unit here until another is picked, such as lb·ft over inch threads."""

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "title": self.title,
            "answer": self.answer,
            "rows": self.rows,
            "row_values": list(self.row_values),
            "columns": self.columns,
            "column_values": list(self.column_values),
            "also": list(self.also),
            "unit": self.unit,
        }


@dataclass(frozen=True)
class CurveView:
    """A curve of one answer over one field, with its limit if it has one.

    `at` is another answer, such as a time, that says how far along each point is drawn; it must
    rise with the field.
    """

    title: str
    answer: str
    over: str
    values: tuple[float, ...]
    at: str = ""

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "title": self.title,
            "answer": self.answer,
            "over": self.over,
            "values": list(self.values),
            "at": self.at,
        }


@dataclass(frozen=True)
class Advice:
    """One cell of an advice table: a status if it is judged, a word or two, and the reason."""

    words: str
    why: str
    status: str = ""


@dataclass(frozen=True)
class AdviceView:
    """Words that depend on two choice fields: a table on paper, the chosen cell on a phone.

    `cells` holds one advice for every option of the first field with every option of the second.
    Where the number field `unless` is filled in, `unless_words` take the chosen cell's place.
    """

    title: str
    by: tuple[str, str]
    cells: Mapping[tuple[str, str], Advice]
    note: str = ""
    unless: str = ""
    unless_words: str = ""

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reasons, each once, in the order that the cells first give them."""
        return tuple(dict.fromkeys(cell.why for cell in self.cells.values()))

    def spec(self) -> dict[str, object]:
        """Return it as plain data; a cell's reason by its number in the list."""
        reasons = self.reasons
        return {
            "title": self.title,
            "by": list(self.by),
            "cells": [
                {
                    "at": list(at),
                    "status": cell.status,
                    "words": cell.words,
                    "why": reasons.index(cell.why),
                }
                for at, cell in self.cells.items()
            ],
            "reasons": list(reasons),
            "note": self.note,
            "unless": self.unless,
            "unless_words": self.unless_words,
        }


@dataclass(frozen=True)
class ProcedureView:
    """A short ordered list of what to do, with where it is from.

    With `ticks`, a name for each action, whatever is done is ticked, and the phone keeps it with
    the job under that name. A name never gets another meaning, or a tick would wander.
    """

    title: str
    actions: tuple[str, ...]
    note: str = ""
    ticks: tuple[str, ...] = ()
    drawing: str = ""
    """Name of a drawing that belongs to it, in `templates/drawings`."""

    def __post_init__(self) -> None:
        """Refuse ticks that are not one an action."""
        if self.ticks and len(set(self.ticks)) != len(self.actions):
            raise ValueError(f"{self.title}: as many ticks as actions, each with a name of its own")

    @property
    def ticked(self) -> tuple[tuple[str, str], ...]:
        """The actions, each with the name of its tick, empty where there is none."""
        return tuple(zip(self.ticks or ("",) * len(self.actions), self.actions, strict=True))

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        spec: dict[str, object] = {"title": self.title, "actions": list(self.actions)}
        return spec | {"note": self.note, "ticks": list(self.ticks)}


@dataclass(frozen=True)
class ListView:
    """A printed list that no entry changes, such as standard sizes; the phone works nothing out."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""

    def spec(self) -> dict[str, object]:
        """Return it as plain data, without the rows, which the page itself holds."""
        return {"title": self.title, "heads": list(self.heads), "note": self.note}


@dataclass(frozen=True)
class Rung:
    """One limit on the ladder: the answer that says how much of it is used, and its own page.

    `feeds` says which of that page's fields take which of this recipe's symbols; fields of the
    same key are carried over as entered. `first` says that it is the first to run out.
    """

    answer: str
    label: str
    first: str
    page: str
    feeds: Mapping[str, str]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "answer": self.answer,
            "label": self.label,
            "first": self.first,
            "page": self.page,
            "feeds": dict(self.feeds),
        }


@dataclass(frozen=True)
class LadderView:
    """What runs out first: limits in the order in which they are used up."""

    title: str
    rungs: tuple[Rung, ...]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {"title": self.title, "rungs": [rung.spec() for rung in self.rungs]}


@dataclass(frozen=True)
class CompareView:
    """The same set-up with other values of one field, side by side.

    `others` are optional fields that hold those values; a column is shown for each filled in. A
    choice has a column for each of its options, and no others.
    """

    title: str
    field: str
    others: tuple[str, ...]
    answers: tuple[str, ...]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "title": self.title,
            "field": self.field,
            "others": list(self.others),
            "answers": list(self.answers),
        }


@dataclass(frozen=True)
class EachView:
    """The page's own question for each row of a list of parts: a list to print and write on.

    `feeds` says which of the page's fields take which entries of a row; the first of them names the
    row. `fixed` are fields that hold no row's entry and are the same for all of them. All else is
    as entered on the page. `write_in` heads columns that stay empty, for a pen.
    """

    title: str
    parts: str
    feeds: Mapping[str, str]
    fixed: Mapping[str, float | str | None]
    answers: tuple[str, ...]
    write_in: tuple[str, ...] = ()

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "title": self.title,
            "parts": self.parts,
            "feeds": dict(self.feeds),
            "fixed": dict(self.fixed),
            "answers": list(self.answers),
            "write_in": list(self.write_in),
        }


@dataclass(frozen=True)
class Portion:
    """Part of a whole, or each row of a list of parts, as shares that answers tell.

    `answers` are shares of the whole. For the rows of a list, each answer names the symbol that is
    the sum over the list, by whose terms the share is split; `names` are entries that tell a row.
    """

    label: str
    answers: Mapping[str, str]
    parts: str = ""
    names: tuple[str, ...] = ()

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {
            "label": self.label,
            "answers": dict(self.answers),
            "parts": self.parts,
            "names": list(self.names),
        }


@dataclass(frozen=True)
class SharesView:
    """What each part has of a whole, as bars, the largest first."""

    title: str
    portions: tuple[Portion, ...]

    def spec(self) -> dict[str, object]:
        """Return it as plain data."""
        return {"title": self.title, "portions": [each.spec() for each in self.portions]}


@dataclass(frozen=True)
class Views:
    """What a page shows besides the answers."""

    charts: tuple[ChartView, ...] = field(default=())
    curves: tuple[CurveView, ...] = field(default=())
    advice: tuple[AdviceView, ...] = field(default=())
    procedures: tuple[ProcedureView, ...] = field(default=())
    lists: tuple[ListView, ...] = field(default=())
    ladder: LadderView | None = None
    compare: CompareView | None = None
    each: EachView | None = None
    shares: SharesView | None = None

    def spec(self) -> dict[str, object]:
        """Return them as plain data."""
        return {
            "charts": [chart.spec() for chart in self.charts],
            "curves": [curve.spec() for curve in self.curves],
            "advice": [advice.spec() for advice in self.advice],
            "procedures": [each.spec() for each in self.procedures],
            "lists": [listed.spec() for listed in self.lists],
            "ladder": self.ladder.spec() if self.ladder else None,
            "compare": self.compare.spec() if self.compare else None,
            "each": self.each.spec() if self.each else None,
            "shares": self.shares.spec() if self.shares else None,
        }


NO_VIEWS = Views()


def shown(value: float, decimals: int) -> str:
    """Round for the screen: half away from zero on the exact value, as the phone's toFixed does.

    >>> shown(0.125, 2), shown(-0.04, 1), shown(14300.0, 0), shown(1.5e-7, 8)
    ('0.13', '0.0', '14300', '0.00000015')
    """
    text = f"{Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP):f}"
    return text.lstrip("-") if float(text) == 0.0 else text
