"""The place where a function takes a value, between two ends.

For a function that only rises, or only falls, between them. The interval is narrowed from both
sides, on whole arrays at once, each element with ends and a target of its own. The next place to
look at lies near the straight line between what is known at the two ends, moved towards the middle
and never so far from it that more looks are needed than halving takes (ITP: interpolate, truncate,
project). So it is as certain as halving and takes a fourth of its looks. It stops when no number
lies between the ends any more, or less than 1e-18 of the interval.

Not for a function that turns back between the ends: it has no single answer there.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from calc.domain import Real

_MOST_LOOKS: Final = 64
"""Halving leaves less than 1e-18 of the interval after sixty."""

_LEAST_LEFT: Final = 2.0**-60
"""No end is sought nearer than this, of the whole interval."""

_TRUNCATION: Final = 0.2
"""How far the line's own place is moved towards the middle, of the interval that is left."""


def root_between(
    function: Callable[[Real], Real], low: Real, high: Real, target: Real = 0.0
) -> Real:
    """Where a function that only rises, or only falls, between two ends takes a target value.

    Args:
        function [1]: takes a place, or an array of places, between the ends.
        low [1]: one end, in the unit that the function takes; not checked: the function checks it.
        high [1]: the other end; not checked: likewise.
        target [1]: value that the function shall take, in the unit that it returns; not checked:
            the answer tells whether the function takes it.

    Returns:
        [1]: the place, in the unit of the ends; NaN where the target does not lie between the
            values at the two ends. An end at which the function equals the target is returned
            exactly. Where the function keeps to the target over a stretch, the place is the end of
            that stretch towards `high`.

    Source: Oliveira and Takahashi, ACM Transactions on Mathematical Software 47 (2020) 1, from
        memory; the tests hold it to halving.

    >>> float(root_between(lambda side: side**2, 0.0, 3.0, target=2.25))
    1.5
    >>> root_between(lambda side: side**2, 0.0, 3.0, target=np.array([4.0, 16.0]))
    array([ 2., nan])
    """
    at_low, at_high = function(low), function(high)
    rising = np.less_equal(at_low, at_high)
    least, greatest = np.minimum(at_low, at_high), np.maximum(at_low, at_high)
    there = (least <= target) & (target <= greatest)
    shape = np.broadcast(low, high, at_low, at_high, target).shape
    lower, upper = np.full(shape, low), np.full(shape, high)
    before = np.broadcast_to(np.where(rising, at_low - target, target - at_low), shape)
    after = np.broadcast_to(np.where(rising, at_high - target, target - at_high), shape)
    whole = upper - lower
    least_left = np.abs(whole) * _LEAST_LEFT
    for look in range(1, _MOST_LOOKS):
        middle = 0.5 * (lower + upper)
        goes_on = there & (middle != lower) & (middle != upper)
        goes_on &= np.abs(upper - lower) > least_left
        if not np.any(goes_on):
            break
        share = _share(before, after, (upper - lower) / whole, look)
        place = _inside(lower, upper, lower + share * (upper - lower), middle, least_left)
        at = function(place)
        off = np.where(rising, at - target, target - at)
        short, long = goes_on & (off <= 0.0), goes_on & ~(off <= 0.0)
        lower, upper = np.where(short, place, lower), np.where(long, place, upper)
        before, after = np.where(short, off, before), np.where(long, off, after)
    root = np.where(at_high == target, high, 0.5 * (lower + upper))
    root = np.where((at_low == target) & (lower == low), low, root)
    result: Real = np.where(there, root, np.nan)[()]
    return result


def _inside(lower: Real, upper: Real, place: Real, middle: Real, least_left: Real) -> Real:
    """A place that lies between two ends as far as rounding allows.

    On an end nothing new would be learnt; a hair beside it, the other end comes as near.

    Args:
        lower [1]: one end.
        upper [1]: the other end, over or under it.
        place [1]: where to look.
        middle [1]: the middle, taken where a hair is all that is left.
        least_left [1]: how near to an end nothing is sought, 0 or more.

    Returns:
        [1]: the place, moved off the ends.
    """
    first, last = np.minimum(lower, upper), np.maximum(lower, upper)
    hair = 2.0 * np.spacing(np.maximum(np.abs(first), np.abs(last)))
    hair = np.maximum(hair, 0.5 * least_left)
    moved = np.clip(place, first + hair, last - hair)
    found: Real = np.where(last - first > 2.0 * hair, moved, middle)
    return found


def _share(before: Real, after: Real, left: Real, look: int) -> Real:
    """Where to look next, as a share of the interval that is left.

    Args:
        before [1]: what the function lacks of its target at the lower end, 0 or less.
        after [1]: by how much it is over its target at the upper end, 0 or more.
        left [1]: the interval that is left, as a share of the whole, 0 to 1.
        look [1]: number of the look, from 1.

    Returns:
        [1]: the share, 0 to 1; the middle where the line says nothing.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        line = before / (before - after)
        reach = 2.0 ** (1 - look) / left - 0.5
    line = np.where((line >= 0.0) & (line <= 1.0), line, 0.5)
    side = np.sign(0.5 - line)
    away = np.abs(0.5 - line)
    moved = np.where(_TRUNCATION * left <= away, away - _TRUNCATION * left, 0.0)
    share: Real = 0.5 - side * np.minimum(moved, np.maximum(reach, 0.0))
    return share
