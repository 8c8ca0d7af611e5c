"""Range checks that name the argument, the value and the allowed range."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Real = float | NDArray[np.float64]
"""A float, or a numpy array of floats that broadcasts with the other arguments."""


class DomainError(ValueError):
    """An argument lies outside the range in which a function is valid.

    >>> raise DomainError("rise", -2.0, 0.0, 1.0)
    Traceback (most recent call last):
    calc.domain.DomainError: rise is -2, allowed is 0 to 1
    """

    def __init__(self, argument: str, value: float, low: float, high: float) -> None:
        """Keep the parts, so that a page can say the same in its own words and units."""
        self.argument, self.value, self.low, self.high = argument, value, low, high
        super().__init__(f"{argument} is {value:.6g}, allowed is {low:.6g} to {high:.6g}")


def require(argument: str, value: Real, low: float, high: float) -> None:
    """Raise unless every element of a value lies in a closed range.

    In an array, NaN is a value that is not there: an entry left blank, or a set-up that was out of
    some range before. It passes, since arithmetic hands it on as NaN and nothing comes of it. A
    scalar is what a person's own program computes with: there NaN is a wrong value.

    Args:
        argument: name of the argument, used in the error.
        value [SI]: scalar or array; an object with a `magnitude`, such as a quantity, is judged by
            that.
        low [SI]: smallest allowed value.
        high [SI]: largest allowed value.

    Raises:
        DomainError: naming the first element that is outside, or a scalar that is not a number.

    >>> require("chord", 0.15, 0.0, 1.0)
    >>> require("chord", np.array([0.15, np.nan]), 0.0, 1.0)
    """
    # A plain number in range is the usual case, and arrays cost fifty times as much.
    if isinstance(value, float) and low <= value <= high:
        return
    require_between(argument, value, low, high)


def require_between(argument: str, value: Real, low: Real, high: Real) -> None:
    """Raise unless every element of a value lies between limits that depend on other arguments.

    What `require` says of NaN holds here too, for limits as well as values.

    Args:
        argument: name of the argument, used in the error.
        value [SI]: scalar or array, or an object with a `magnitude`.
        low [SI]: smallest allowed value, likewise; one for all elements, or one for each.
        high [SI]: largest allowed value, likewise.

    Raises:
        DomainError: naming the first element that is outside, with its own limits.

    >>> require_between("rise", np.array([0.04, 0.06]), 0.0, np.array([0.05, 0.1]))
    """
    given = [
        np.asarray(getattr(each, "magnitude", each), dtype=np.float64)
        for each in (value, low, high)
    ]
    numbers, lows, highs = given
    # A comparison with NaN is false: what is not there is not outside.
    outside = (numbers < lows) | (numbers > highs)
    if any(not each.ndim and np.isnan(each) for each in given):
        # A scalar that is not a number is.
        outside = ~((numbers >= lows) & (numbers <= highs))
    for each in given:
        if each.ndim:
            outside &= ~np.isnan(each)
    if outside.any():
        first = int(np.argmax(outside))
        of_all = (np.broadcast_to(each, np.shape(outside)) for each in given)
        raise DomainError(argument, *(float(each.flat[first]) for each in of_all))
