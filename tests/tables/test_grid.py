"""Reading a grid: exact where it should be, at both ends, at kinks, and back to front."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicHermiteSpline, RegularGridInterpolator

from site_src.tables.grid import Axis, Grid


def cubic_grid(knots: list[float], values: list[float], slopes: list[float]) -> Grid:
    numbers = np.array([n for pair in zip(values, slopes, strict=True) for n in pair])
    return Grid("test", (Axis("x", "cubic", tuple(knots)),), numbers)


@given(st.floats(0.0, 4.0))
def test_cubic_axis_is_the_hermite_spline(place: float) -> None:
    # scipy CubicHermiteSpline.
    knots, values, slopes = [0.0, 0.5, 2.0, 4.0], [1.0, -1.0, 3.0, 0.5], [0.2, 1.0, -2.0, 0.0]
    ours = cubic_grid(knots, values, slopes).value([np.array([place])])[0]
    theirs = CubicHermiteSpline(knots, values, slopes)(place)
    assert ours == pytest.approx(float(theirs), abs=1e-12)


@given(st.floats(0.0, 2.0), st.floats(-1.0, 3.0), st.integers(0, 2))
def test_linear_axes_are_the_multilinear_interpolant(x: float, y: float, entry: int) -> None:
    # scipy RegularGridInterpolator, one for each list entry.
    numbers = np.arange(18, dtype=np.float64) ** 1.5
    axes = (
        Axis("entry", "list", (0.0, 1.0, 2.0)),
        Axis("x", "linear", (0.0, 1.5, 2.0)),
        Axis("y", "linear", (-1.0, 3.0)),
    )
    ours = Grid("test", axes, numbers).value([np.array([v]) for v in (float(entry), x, y)])[0]
    plane = numbers.reshape(3, 3, 2)[entry]
    theirs = RegularGridInterpolator(([0.0, 1.5, 2.0], [-1.0, 3.0]), plane)([[x, y]])[0]
    assert ours == pytest.approx(float(theirs), abs=1e-12)


def test_both_ends_are_read_exactly() -> None:
    grid = cubic_grid([0.0, 1.0, 3.0], [2.0, 5.0, 11.0], [0.0, 0.0, 0.0])
    assert list(grid.value([np.array([0.0, 1.0, 3.0])])) == [2.0, 5.0, 11.0]


def test_a_kink_keeps_a_slope_on_each_side() -> None:
    # |x| as two straight pieces: exact on both sides only if the kink has two slopes.
    grid = cubic_grid([-1.0, 0.0, 0.0, 1.0], [1.0, 0.0, 0.0, 1.0], [-1.0, -1.0, 1.0, 1.0])
    places = np.array([-0.75, -1e-9, 0.0, 1e-9, 0.6])
    assert np.allclose(grid.value([places]), np.abs(places), rtol=0, atol=1e-16)


@given(st.floats(0.0, 0.999), st.booleans())
def test_inverse_undoes_a_forward_look_up(place: float, falling: bool) -> None:
    sign = -1.0 if falling else 1.0
    knots = [0.0, 0.2, 0.5, 0.5, 1.0]
    grid = cubic_grid(
        knots,
        [sign * (x + 0.3 * x * x) for x in knots],
        [sign * (1.0 + 0.6 * x) for x in knots],
    )
    value = grid.value([np.array([place])])
    found, side = grid.inverse("x", [], value)
    assert side[0] == 0
    assert found[0] == pytest.approx(place, abs=1e-14)


def test_inverse_says_on_which_side_a_value_is_missing() -> None:
    grid = cubic_grid([0.0, 1.0], [2.0, 4.0], [2.0, 2.0])
    _, side = grid.inverse("x", [], np.array([1.999999, 2.0, 4.0, 4.000001]))
    assert list(side) == [-1, 0, 0, 1]
