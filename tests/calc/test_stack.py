"""Tolerance stacks against arithmetic worked by hand, a Monte-Carlo run and laws."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import belts, stack
from calc.domain import DomainError
from calc.stack import Part, combine

MM = 1e-3


def spacers(count, tolerance):
    return [Part(f"spacer {i}", 10 * MM, tolerance, tolerance) for i in range(count)]


tolerances = st.integers(0, 2000).map(lambda microns: microns * 1e-6)
parts = st.lists(
    st.builds(
        Part,
        name=st.just("part"),
        nominal=st.floats(0.0, 0.2),
        plus=tolerances,
        minus=tolerances,
        sense=st.sampled_from([1, -1]),
    ),
    min_size=1,
    max_size=8,
)


def test_three_spacers_worst_case_and_root_sum_square():
    found = combine(spacers(3, 0.05 * MM))
    assert found.worst_half_band / MM == pytest.approx(0.150, abs=5e-6)
    assert found.rss_half_band / MM == pytest.approx(0.08660, abs=5e-6)
    assert found.nominal == found.mean == pytest.approx(30 * MM)


def test_unequal_tolerance_moves_to_the_middle_of_its_band():
    # 20 +0.2/-0.0 is 20.1 ± 0.1.
    assert stack.mean_size(20 * MM, 0.2 * MM, 0.0) == pytest.approx(20.1 * MM)
    assert stack.half_band(0.2 * MM, 0.0) == pytest.approx(0.1 * MM)


def test_bracket_worked_by_hand():
    # Plate 12 +0.1/-0.3 and spacer 40 ±0.05 out, snout 22 +0/-0.2 in:
    # nominal 30; mean 11.9 + 40 - 21.9 = 30.0; half bands 0.2, 0.05, 0.1.
    found = combine(
        [
            Part("plate", 12 * MM, 0.1 * MM, 0.3 * MM),
            Part("spacer", 40 * MM, 0.05 * MM, 0.05 * MM),
            Part("snout", 22 * MM, 0.0, 0.2 * MM, -1),
        ]
    )
    assert found.nominal == pytest.approx(30 * MM)
    assert found.mean == pytest.approx(30 * MM)
    assert found.worst == pytest.approx((29.65 * MM, 30.35 * MM))
    assert found.rss_half_band == pytest.approx(math.sqrt(0.04 + 0.0025 + 0.01) * MM)


def test_a_part_that_takes_away_shifts_the_mean_the_other_way():
    out, back = (combine([Part("ring", 5 * MM, 0.2 * MM, 0.0, sense)]) for sense in (1, -1))
    assert out.worst == pytest.approx((5.0 * MM, 5.2 * MM))
    assert back.worst == pytest.approx((-5.2 * MM, -5.0 * MM))


def test_root_sum_square_is_the_spread_of_independent_parts_monte_carlo():
    stacked = [
        Part("a", 10 * MM, 0.10 * MM, 0.02 * MM),
        Part("b", 20 * MM, 0.05 * MM, 0.05 * MM, -1),
        Part("c", 15 * MM, 0.00 * MM, 0.12 * MM),
    ]
    random = np.random.default_rng(7)
    total = sum(
        part.sense
        * random.normal(
            part.nominal + (part.plus - part.minus) / 2, (part.plus + part.minus) / 2 / 3, 400_000
        )
        for part in stacked
    )
    found = combine(stacked)
    assert total.mean() == pytest.approx(found.mean, abs=2e-7)
    assert 3 * total.std() == pytest.approx(found.rss_half_band, rel=0.005)


@given(parts)
def test_root_sum_square_never_exceeds_the_worst_case(stacked):
    found = combine(stacked)
    widest = max((part.plus + part.minus) / 2 for part in stacked)
    assert widest <= found.rss_half_band * (1 + 1e-12)
    assert found.rss_half_band <= found.worst_half_band * (1 + 1e-12)


@given(parts)
def test_extremes_of_every_part_lie_at_the_worst_case(stacked):
    low = sum(min(p.sense * (p.nominal - p.minus), p.sense * (p.nominal + p.plus)) for p in stacked)
    high = sum(
        max(p.sense * (p.nominal - p.minus), p.sense * (p.nominal + p.plus)) for p in stacked
    )
    assert combine(stacked).worst == pytest.approx((low, high), abs=1e-12)


@given(parts)
def test_order_does_not_matter(stacked):
    there, back = combine(stacked), combine(stacked[::-1])
    assert there.mean == pytest.approx(back.mean, abs=1e-12)
    assert there.rss_half_band == pytest.approx(back.rss_half_band)


@given(parts, st.floats(-0.05, 0.05))
def test_the_exact_shim_leaves_only_the_band(stacked, shortage):
    found = combine(stacked)
    target = found.mean + shortage
    if abs(target) <= 1.0 and abs(found.mean) <= 1.0:
        shim = stack.shim_for_plane(target, found.mean)
        left = abs(stack.out_of_plane(target, found.mean, shim))
        worst = stack.largest_offset(left, found.worst_half_band)
        assert worst == pytest.approx(found.worst_half_band, abs=1e-12)


def test_a_stack_that_is_too_short_is_out_of_plane_by_less_than_nothing():
    assert stack.out_of_plane(95 * MM, 94.6 * MM, 0.0) == pytest.approx(-0.4 * MM)


def test_metal_to_take_off_is_a_negative_shim():
    assert stack.shim_for_plane(94.6 * MM, 95 * MM) == pytest.approx(-0.4 * MM)


def test_remaining_misalignment_against_the_limit_worked_by_hand():
    # 0.1 mm off plane and ±0.35 mm of stack over a run of 150 mm: atan(0.45/150) = 0.1719°.
    left = stack.out_of_plane(30 * MM, 29.6 * MM, 0.5 * MM)
    assert left == pytest.approx(0.1 * MM)
    offset = stack.largest_offset(left, 0.35 * MM)
    assert offset == pytest.approx(0.45 * MM)
    angle = math.degrees(belts.misalignment_angle(offset, 0.150))
    assert angle == pytest.approx(0.1719, abs=5e-5)


def test_dimensions():
    unit = pint.get_application_registry()
    length = 0.001 * unit.m
    for result in (
        stack.mean_size(length, length, length),
        stack.half_band(length, length),
        stack.shim_for_plane(length, length),
        stack.out_of_plane(length, length, length),
        stack.largest_offset(length, length),
    ):
        assert result.check("[length]")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Part("plate", 2.0, 0.0, 0.0), "nominal of plate is 2, allowed is -1 to 1"),
        (lambda: Part("plate", 0.01, -0.001, 0.0), "plus of plate"),
        (lambda: Part("plate", 0.01, 0.0, math.nan), "minus of plate"),
        (lambda: Part("plate", 0.01, 0.0, 0.0, 0), "sense of plate"),
        (lambda: stack.mean_size(0.01, 0.1, 0.0), "plus"),
        (lambda: stack.out_of_plane(0.0, 0.0, 0.2), "shim"),
        (lambda: stack.largest_offset(-0.001, 0.0), "left_out"),
    ],
)
def test_out_of_range_names_the_part(call, message):
    with pytest.raises(DomainError, match=message):
        call()


def test_a_stack_of_nothing_is_refused():
    with pytest.raises(ValueError, match="no parts"):
        combine([])
