"""The proof: a lookup's recipe against its direct calculation, off the knots and at every edge.

A recipe may refuse where the calculation still has an answer, if a worked-out value leaves a
table: that is an honest refusal, counted as `refused`. It may never give a number where the
calculation has none, nor one that is off by more than the answer's tolerance.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from site_src.model.fields import Choice, Number, Parts
from site_src.model.lookup import UNUSABLE, Given, Lookup
from site_src.tables.points import corners, spread
from site_src.tables.recipe import Run, needed

POINTS = 20_000
"""Quasi-random set-ups at which every answer is compared."""

MOST_BATCHES = 40
"""Where many set-ups have no answer, further batches of points are drawn, so many at most."""

SEEDS = 100
"""Set-ups with an answer, at most, that are kept of those compared at once, to draw more near."""

LISTS, LISTS_OF_LONG, LONG = 60, 10, 200
"""Lists of parts in a batch of set-ups; fewer for a recipe of more steps than that."""

NEARNESS = 0.25
"""Share of each range that set-ups near the usual one are spread over."""

AT_ONCE = 5_000
"""Set-ups that are compared at once."""

MOST_CORNERS = 1 << 13
"""Corners compared; a lookup with more has this many drawn evenly from all of them."""


class ProofError(Exception):
    """A recipe is off by more than its tolerance; the message names the worst set-up."""


@dataclass(frozen=True)
class Measured:
    """What the comparison of one answer found, in the answer's declared unit.

    `worst` is the set-up with the largest error, as far as the answer depends on it.
    """

    error: float
    tolerance: float
    points: int
    refused: int
    worst: dict[str, object]


def prove(
    lookup: Lookup, points: int = POINTS, start: int = 1, *, edges: bool = True
) -> dict[str, Measured]:
    """Compare every answer of a lookup with the direct calculation.

    Args:
        lookup [1]: the lookup.
        points [1]: at how many set-ups every answer must have been given.
        start [1]: number of the first point; another start gives fresh points.
        edges [1]: whether to compare at the corners of all ranges too.

    Returns:
        [1]: by answer, the worst error met and where.

    Raises:
        ProofError: an answer is off by more than its tolerance, is given where there is none, or is
            given too seldom to be compared at as many set-ups as that.
    """
    found: dict[str, Measured] = {}
    seeds: dict[str, list[Drawn]] = {}
    asked = {answer.key: needed(lookup.steps, [answer.key])[1] for answer in lookup.answers}
    wanted = list(asked)
    for batch in range(MOST_BATCHES):
        first = start + 2 * batch * points
        drawn = (
            _more(lookup, seeds, points, first)
            if batch
            else set_ups(lookup, points, first, edges=edges)
        )
        for entered in (piece for whole in drawn for piece in _pieces(whole)):
            for key, (measured, given) in _compare(lookup, entered, asked, wanted).items():
                found[key] = _join(found.get(key), measured)
                if found[key].points < points:
                    seeds[key] = [*seeds.get(key, ()), _some(entered, given)]
        # What has been compared often enough is left out of the batches that others need.
        wanted = [key for key in wanted if found[key].points < points]
        seeds = {key: seeds[key] for key in wanted}
        if not wanted:
            break
    for key, measured in found.items():
        if measured.error > measured.tolerance:
            raise ProofError(
                f"{lookup.key}: {key} is off by {measured.error:.3g}, "
                f"over {measured.tolerance:.3g}, at {measured.worst}"
            )
        if measured.points < points:
            raise ProofError(
                f"{lookup.key}: {key} was answered at {measured.points:,} set-ups only, of the "
                f"{points:,} at which an answer must be compared. Say where it has one (likely)."
            )
    return found


def _join(a: Measured | None, b: Measured) -> Measured:
    """Add up two comparisons of one answer."""
    if a is None:
        return b
    worse = a if a.error >= b.error else b
    return Measured(
        worse.error, a.tolerance, a.points + b.points, a.refused + b.refused, worse.worst
    )


# --- set-ups ---------------------------------------------------------------------------------


Drawn: TypeAlias = dict[str, Given]
"""Set-ups as they are drawn, to be put together field by field."""


def set_ups(lookup: Lookup, points: int, start: int, *, edges: bool) -> Iterator[Drawn]:
    """Yield batches of set-ups: half through all ranges, half near the usual one, then corners."""
    plain, lists = _told_apart(lookup)
    if lists:
        yield from _with_parts(plain, lists, points, start, _batches(lookup))
        return
    half = points // 2
    yield _spread(plain, half, start)
    yield _near_usual(plain, _spread(plain, points - half, start + half))
    if edges:
        yield _corners(plain)


def _more(
    lookup: Lookup, seeds: Mapping[str, Sequence[Drawn]], points: int, start: int
) -> Iterator[Drawn]:
    """Yield further batches for answers that are given too seldom, `seeds` being where they were.

    A page that knows better where it has answers is asked for them.
    """
    if lookup.likely:
        yield dict(lookup.likely(points, start))
        return
    plain, lists = _told_apart(lookup)
    known = [each for pieces in seeds.values() if _size(each := _joined(pieces))]
    if known:
        yield _near(plain, known, points, start)
    if len(known) == len(seeds):
        return
    if lists:
        drawn = _with_parts(plain, lists, points, start, _batches(lookup))
        yield from (_near_usual(plain, each) for each in drawn)
        return
    yield _near_usual(plain, _spread(plain, points, start))
    yield _near_usual(plain, _spread(plain, points, start + points, blanks=False))


def _near(
    fields: Sequence[Number | Choice], seeds: Sequence[Drawn], points: int, start: int
) -> Drawn:
    """Return set-ups around others, most of them close by and some far: what is blank stays so."""
    each = -(-points // len(seeds))
    places = [np.arange(each) % _size(seed) for seed in seeds]
    near = _joined([_at(seed, at) for seed, at in zip(seeds, places, strict=True)])
    *columns, far = spread([*map(_bounds, fields), (0.0, 1.0, False)], _size(near), start)
    share = far**4
    for field, column in zip(fields, columns, strict=True):
        anywhere = _entries(field, column)
        if isinstance(field, Number):
            seed = np.asarray(near[field.key], dtype=np.float64)
            moved = seed + share * (column - seed)
            near[field.key] = np.minimum(np.maximum(moved, field.low), field.high)
        else:
            near[field.key] = np.where(share > 0.5, anywhere, np.asarray(near[field.key]))
    return near


def _some(entered: Drawn, given: NDArray[np.bool_]) -> Drawn:
    """Return a few of the set-ups that had an answer."""
    at = np.flatnonzero(given)
    return _at(entered, at[:: -(-max(len(at), 1) // SEEDS)])


def _size(entered: Drawn) -> int:
    """Return how many set-ups there are."""
    return len(next(iter(entered.values())))


def _at(entered: Drawn, places: NDArray[np.int64]) -> Drawn:
    """Return some of a batch's set-ups."""
    return {
        key: values[places] if isinstance(values, np.ndarray) else [values[n] for n in places]
        for key, values in entered.items()
    }


def _joined(batches: Sequence[Drawn]) -> Drawn:
    """Return several batches as one."""
    return {
        key: np.concatenate([each[key] for each in batches])
        if isinstance(values, np.ndarray)
        else [one for each in batches for one in each[key]]
        for key, values in batches[0].items()
    }


def _told_apart(lookup: Lookup) -> tuple[list[Number | Choice], list[Parts]]:
    """Return a lookup's plain fields, and its lists of parts."""
    plain = [field for field in lookup.fields if not isinstance(field, Parts)]
    return plain, [field for field in lookup.fields if isinstance(field, Parts)]


def _batches(lookup: Lookup) -> int:
    """Return how many lists of parts set-ups are tried with."""
    return LISTS_OF_LONG if len(lookup.steps) > LONG else LISTS


def _with_parts(
    plain: Sequence[Number | Choice], lists: Sequence[Parts], points: int, start: int, batches: int
) -> Iterator[Drawn]:
    """Yield batches that share their lists of parts: many lists, a few set-ups with each."""
    each = -(-points // batches)
    shape = [f for parts in lists for _ in range(parts.most) for f in parts.fields]
    columns = spread([_bounds(field) for field in shape], batches, start)
    for n in range(batches):
        size = 1 + (n % max(parts.most for parts in lists))
        entered = _spread(plain, each, start + n * each) if plain else {}
        places = iter(columns)
        for parts in lists:
            rows = [
                {
                    field.key: _entries(field, next(places)[n : n + 1])[0].item()
                    for field in parts.fields
                }
                for _ in range(parts.most)
            ]
            entered[parts.key] = [rows[:size]] * each
        yield entered


def _bounds(field: Number | Choice) -> tuple[float, float, bool]:
    """Return the range of a field, options counted."""
    if isinstance(field, Choice):
        return 0.0, float(len(field.options) - 1), True
    return field.low, field.high, False


def _entries(
    field: Number | Choice, places: NDArray[np.float64]
) -> NDArray[np.float64] | NDArray[np.str_]:
    """Return a field's entries at places within its bounds."""
    if isinstance(field, Number):
        return places
    keys = np.array([option.key for option in field.options], dtype=np.str_)
    return keys[places.astype(np.int64)]


def _spread(
    fields: Sequence[Number | Choice], points: int, start: int, *, blanks: bool = True
) -> Drawn:
    """Return set-ups spread evenly through all ranges; each optional entry is blank in half."""
    columns = spread([_bounds(field) for field in fields], points, start)
    entered: Drawn = {}
    optional = 0
    for field, column in zip(fields, columns, strict=True):
        values = _entries(field, column)
        if blanks and isinstance(field, Number) and field.default is None:
            blank = (np.arange(points) >> optional) & 1
            values = np.where(blank == 1, np.nan, column)
            optional += 1
        entered[field.key] = values
    return entered


def _near_usual(fields: Sequence[Number | Choice], entered: Drawn) -> Drawn:
    """Return set-ups drawn towards the usual one, where nearly all have an answer."""
    near = dict(entered)
    for field in fields:
        if isinstance(field, Number) and field.default is not None:
            spread_out = np.asarray(entered[field.key], dtype=np.float64)
            near[field.key] = field.default + NEARNESS * (spread_out - field.default)
    return near


def _corners(fields: Sequence[Number | Choice]) -> Drawn:
    """Return set-ups with every number at one of its ends, options in turn."""
    numbers = [field for field in fields if isinstance(field, Number)]
    if 1 << len(numbers) <= MOST_CORNERS:
        columns = corners([(field.low, field.high) for field in numbers])
        size = len(columns[0])
    else:
        shares = spread([(0.0, 1.0, True)] * len(numbers), MOST_CORNERS)
        columns = [
            np.where(share > 0.5, field.high, field.low)
            for share, field in zip(shares, numbers, strict=True)
        ]
        size = MOST_CORNERS
    entered: Drawn = {
        field.key: np.asarray(column, dtype=np.float64)
        for field, column in zip(numbers, columns, strict=True)
    }
    picks = spread([_bounds(f) for f in fields if isinstance(f, Choice)] or [(0, 1, True)], size)
    for field, pick in zip([f for f in fields if isinstance(f, Choice)], picks, strict=False):
        entered[field.key] = _entries(field, pick)
    return entered


# --- comparison ------------------------------------------------------------------------------


def _pieces(entered: Drawn) -> Iterator[Drawn]:
    """Yield a batch in pieces: all symbols of a long recipe are in memory for one piece only."""
    for start in range(0, _size(entered), AT_ONCE):
        yield {key: values[start : start + AT_ONCE] for key, values in entered.items()}


def _compare(
    lookup: Lookup,
    entered: Drawn,
    asked: Mapping[str, frozenset[str]],
    wanted: Sequence[str],
) -> dict[str, tuple[Measured, NDArray[np.bool_]]]:
    """Compare recipe and calculation over a batch of set-ups, in the answers that are wanted.

    `asked` are the symbols that each answer depends on. With what was measured of an answer comes
    at which set-ups it was given.
    """
    run = lookup.run(entered, wanted)
    with np.errstate(all="ignore"):
        true = lookup.direct(entered)
    compared = {}
    for answer in (each for each in lookup.answers if each.key in wanted):
        column = run.symbols[answer.key]
        given = column.fault == 0
        exact = np.broadcast_to(np.asarray(true[answer.key], dtype=np.float64), given.shape)
        has = np.isfinite(exact)
        invented = given & ~has
        if invented.any():
            at = int(np.argmax(invented))
            raise ProofError(
                f"{lookup.key}: {answer.key} is given where the calculation has none, at "
                f"{_set_up(entered, at)}"
            )
        unit = answer.declared
        error = np.where(given, np.abs(column.values - exact) / unit.factor, 0.0)
        at = int(np.argmax(error))
        count = int(np.count_nonzero(given))
        measured = Measured(
            float(error[at]),
            answer.tolerance,
            count,
            int(np.count_nonzero(has & ~_meant(run, column.fault))) - count,
            _set_up({k: v for k, v in entered.items() if k in asked[answer.key]}, at),
        )
        compared[answer.key] = measured, given
    return compared


def _meant(run: Run, fault: NDArray[np.int32]) -> NDArray[np.bool_]:
    """Say which faults are no refusal: an entry left blank, out of range or mismatched."""
    known = run.faults.known
    codes = [n for n, f in enumerate(known, 1) if f.kind in ("blank", *UNUSABLE)]
    return np.isin(fault, codes)


def _set_up(entered: Drawn, at: int) -> dict[str, object]:
    """Return one set-up of a batch, as a person's program would write it."""
    return {key: plain_entry(values[at]) for key, values in entered.items()}


def plain_entry(value: object) -> object:
    """Return an entry out of an array as a plain one, None for what was left blank."""
    if isinstance(value, np.generic):
        value = value.item()
    return None if isinstance(value, float) and np.isnan(value) else value
