"""Fits of causes against general least squares; signatures against the balance with a fault in."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import boost, first_runs
from tests.calc.blower import SetUp, operating_point


def columns(seed: int, number: int = 9) -> tuple[np.ndarray, ...]:
    """Readings, two signatures and a shared error, over the uncertainty of each reading."""
    rng = np.random.default_rng(seed)
    along = np.linspace(0.3, 1.0, number)
    one, other = 40 * along, 40 / along
    shared = np.full(number, rng.uniform(0.5, 3))
    read = 0.07 * one + 0.03 * other + rng.normal(size=number)
    return read, one, other, shared


def inner(u: np.ndarray, v: np.ndarray, shared: np.ndarray) -> float:
    return first_runs.shared(u @ v, u @ shared, v @ shared, shared @ shared)


def with_shared(shared: np.ndarray, *causes: np.ndarray) -> np.ndarray:
    """The design of ordinary least squares with the shared error as an unknown, known to ± 1."""
    whole = np.column_stack([*causes, shared])
    return np.vstack([whole, [0.0] * len(causes) + [1.0]])


@pytest.mark.parametrize("seed", range(20))
def test_one_cause_is_fitted_as_numpy_lstsq_fits_it_beside_the_shared_error(seed):
    read, one, _, shared = columns(seed)
    found, residual, *_ = np.linalg.lstsq(with_shared(shared, one), np.append(read, 0.0))
    cross, square = inner(one, read, shared), inner(one, one, shared)
    assert cross / square == pytest.approx(found[0], rel=1e-9)
    left = inner(read, read, shared) - first_runs.explained(cross, square)
    assert left == pytest.approx(residual[0], rel=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_two_causes_are_fitted_as_numpy_lstsq_fits_them(seed):
    read, one, other, shared = columns(seed)
    _, residual, *_ = np.linalg.lstsq(with_shared(shared, one, other), np.append(read, 0.0))
    gain = first_runs.explained_by_two(
        inner(one, read, shared),
        inner(other, read, shared),
        inner(one, one, shared),
        inner(other, other, shared),
        inner(one, other, shared),
    )
    assert inner(read, read, shared) - gain == pytest.approx(residual[0], rel=1e-8)


@pytest.mark.parametrize("seed", range(5))
def test_a_shared_error_is_generalised_least_squares_by_the_inverse_covariance_aitken(seed):
    read, one, _, shared = columns(seed)
    inverse = np.linalg.inv(np.eye(len(read)) + np.outer(shared, shared))
    assert inner(one, read, shared) == pytest.approx(one @ inverse @ read, rel=1e-9)


@settings(max_examples=40)
@given(st.integers(0, 10_000))
def test_two_causes_never_leave_more_than_one(seed):
    read, one, other, shared = columns(seed)
    cross, square = inner(one, read, shared), inner(one, one, shared)
    both = first_runs.explained_by_two(
        cross,
        inner(other, read, shared),
        square,
        inner(other, other, shared),
        inner(one, other, shared),
    )
    assert both >= first_runs.explained(cross, square) - 1e-9


def test_the_criterion_is_that_of_a_gaussian_likelihood_schwarz():
    # −2 ln L + k ln n, of residuals over known uncertainties, less what all models share.
    rng = np.random.default_rng(1)
    left = rng.normal(size=12)
    likelihood = -0.5 * np.sum(left**2)
    expected = -2 * likelihood + 2 * np.log(12)
    assert first_runs.criterion(left @ left, np.log(12), 2.0) == pytest.approx(expected)


@given(st.floats(0.8, 1.25))
def test_air_missing_is_the_logarithm_of_the_ratio_to_a_thousandth(ratio):
    assert first_runs.air_missing(0.95 * ratio, 0.95) == pytest.approx(np.log(ratio), abs=1e-3)


def test_uncertainties_add_as_squares_gum():
    # 1.5 kPa of 150 kPa is 1 %; with 1.5 % beside it, √(1² + 1.5²) %.
    assert first_runs.missing_unsure(150e3) == pytest.approx(0.01 * np.hypot(1.0, 1.5))


# --- signatures against the balance, solved with the fault in it ------------------------------

TRUCK = SetUp(
    5.6e-3, 2.6e-3, 1.3, 1.95, 0.01, 500 / 60, 0.75, 313.15, 298.15, 101325.0, 0.0, 4e3, 20.0
)
SPEED, FULL, BREATHING = 50.0, 100.0, 0.95


def seen(point, setup=TRUCK) -> float:
    """The breathing that a boost and a charge temperature mean, by conservation of mass."""
    displaced = setup.engine_displacement * SPEED / 2
    held = (point.boost + setup.ambient_pressure) / point.charge_temperature / 287.05287
    return point.air_flow / (displaced * held)


def test_a_hole_loses_more_of_the_air_the_slower_the_engine_turns():
    flow = float(boost.orifice_function(1.5))
    share = 0.1 * first_runs.lost_through_hole(flow, SPEED, FULL)
    # The blower feeds engine and hole; the manifold holds what the engine's share leaves it.
    point = operating_point(TRUCK, SPEED, BREATHING * (1 + share))
    assert seen(point) == pytest.approx(BREATHING * (1 + share), rel=1e-6)
    assert share == pytest.approx(0.2 * flow)


def test_air_that_goes_back_heats_the_outlet_as_the_mixture_says():
    # A share β of the air at T₂ and the rest at T₁ mix; T₂/T₁ is the blower's.
    back, outlet, inlet = 1e-4, 385.0, 300.0
    mixed = inlet
    for _ in range(50):
        mixed = (1 - back) * inlet + back * mixed * outlet / inlet
    rise = mixed * outlet / inlet - outlet
    assert first_runs.hotter_by_return(outlet, inlet) == pytest.approx(rise / back, rel=1e-3)


def test_slip_grows_with_what_the_belt_carries():
    assert first_runs.grown_with_load(20e3, 80e3) == 0.25
