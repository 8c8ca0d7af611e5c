"""The place where a function takes a value, found by halving.

For a function that only rises, or only falls, between two ends. Halving is slow but certain: it
needs no slope and no first guess, and it can't leave the interval. It works on whole arrays, each
element with ends and a target of its own. It stops at the sixtieth halving, which leaves less
than 1e-18 of the interval.

Not for a function that turns back between the ends: it has no single answer there.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from calc.domain import Real

_HALVINGS: Final = 60


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

    Source: halving of the interval (bisection), any textbook of numerical analysis.

    >>> float(root_between(lambda side: side**2, 0.0, 3.0, target=2.25))
    1.5
    >>> root_between(lambda side: side**2, 0.0, 3.0, target=np.array([4.0, 16.0]))
    array([ 2., nan])
    """
    at_low, at_high = function(low), function(high)
    rising = np.less_equal(at_low, at_high)
    shape = np.broadcast(low, high, at_low, at_high, target).shape
    lower, upper = np.full(shape, low), np.full(shape, high)
    for _ in range(_HALVINGS):
        middle = 0.5 * (lower + upper)
        at = function(middle)
        before = np.where(rising, at <= target, at >= target)
        lower, upper = np.where(before, middle, lower), np.where(before, upper, middle)
    root = np.where(at_high == target, high, 0.5 * (lower + upper))
    root = np.where((at_low == target) & (lower == low), low, root)
    least, greatest = np.minimum(at_low, at_high), np.maximum(at_low, at_high)
    result: Real = np.where((least <= target) & (target <= greatest), root, np.nan)[()]
    return result
