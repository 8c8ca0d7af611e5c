"""Rules of thumb for a first start, against how the trade states them."""

from __future__ import annotations

import pytest
from pint import UnitRegistry

from calc import first_start
from calc.domain import DomainError

UNITS = UnitRegistry()


@pytest.mark.parametrize(
    ("rpm", "psi"),
    [
        pytest.param(1000, 10.0, id="10 psi per 1000 rpm, common practice"),
        pytest.param(2000, 20.0, id="20 psi at 2000 rpm, common practice"),
        pytest.param(6000, 60.0, id="60 psi at 6000 rpm, common practice"),
    ],
)
def test_ten_psi_for_each_thousand_rpm(rpm: float, psi: float) -> None:
    turns = UNITS.Quantity(rpm, "revolution/minute").to("revolution/second").magnitude
    found = UNITS.Quantity(first_start.least_oil_pressure(turns), "pascal").to("psi").magnitude
    assert found == pytest.approx(psi, rel=1e-9)


def test_outside_its_range_it_says_nothing() -> None:
    for speed in (-1.0, 301.0):
        with pytest.raises(DomainError):
            first_start.least_oil_pressure(speed)
