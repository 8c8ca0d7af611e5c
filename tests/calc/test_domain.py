"""Range checks: what they let through, and what they say of the rest."""

import math

import numpy as np
import pint
import pytest

from calc.domain import DomainError, require, require_between

FORMS = [
    pytest.param(float, id="float"),
    pytest.param(np.float64, id="numpy's float"),
    pytest.param(lambda number: np.array([number]), id="array"),
    pytest.param(lambda number: pint.get_application_registry().Quantity(number, "m"), id="length"),
]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("check", [require, require_between])
def test_both_ends_of_a_range_belong_to_it_in_every_form(check, form):
    for number in (0.25, 0.5, 0.75):
        check("rise", form(number), 0.25, 0.75)
    for number in (np.nextafter(0.25, 0.0), np.nextafter(0.75, 1.0), math.inf, -math.inf):
        with pytest.raises(DomainError) as caught:
            check("rise", form(number), 0.25, 0.75)
        error = caught.value
        assert (error.argument, error.value, error.low, error.high) == ("rise", number, 0.25, 0.75)


@pytest.mark.parametrize("check", [require, require_between])
def test_a_number_that_is_not_there_passes_in_an_array_alone(check):
    check("rise", np.array([0.5, math.nan]), 0.25, 0.75)
    with pytest.raises(DomainError, match="rise is nan"):
        check("rise", math.nan, 0.25, 0.75)
    with pytest.raises(DomainError, match=r"rise is 0\.8"):
        check("rise", np.array([math.nan, 0.8]), 0.25, 0.75)


def test_an_element_is_held_to_its_own_limits():
    highs = np.array([[0.5], [0.7]])
    require_between("rise", np.array([0.4, 0.5]), 0.0, highs)
    with pytest.raises(DomainError, match=r"rise is 0\.6, allowed is 0 to 0\.5"):
        require_between("rise", np.array([0.4, 0.6]), 0.0, highs)
    with pytest.raises(DomainError, match=r"rise is 0\.6, allowed is 0 to 0\.5"):
        require_between("rise", 0.6, 0.0, highs)


def test_a_limit_that_is_not_there_lets_its_element_pass():
    require_between("rise", 0.6, 0.0, np.array([math.nan, 0.7]))
    require_between("rise", np.array([9.0, 0.6]), np.array([math.nan, 0.5]), 0.7)
