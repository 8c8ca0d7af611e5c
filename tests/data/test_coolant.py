"""Coolant's properties against a printed table and a library; by volume is not by mass."""

import numpy as np
import pytest

from site_src.data import coolant

POUND_PER_CUBIC_FOOT = 16.018463
PRINTED = {40: 67.47, 60: 67.20, 80: 66.90, 100: 66.55, 120: 66.17, 140: 65.75, 160: 65.30}


def kelvin(fahrenheit):
    return (fahrenheit - 32.0) / 1.8 + 273.15


@pytest.mark.parametrize(("at", "printed"), PRINTED.items(), ids=lambda v: f"ASHRAE ch. 31-{v}")
def test_density_of_half_and_half_by_volume_is_as_printed(at, printed):
    found = coolant.density(kelvin(at), 0.5)
    assert found == pytest.approx(printed * POUND_PER_CUBIC_FOOT, rel=1.5e-3)


@pytest.mark.parametrize("glycol", [0.17, 0.33, 0.45, 0.5, 0.58])
@pytest.mark.parametrize("celsius", [3.0, 18.0, 45.0, 62.0, 93.0])
def test_between_the_rows_it_is_near_the_library_coolprop_aeg(glycol, celsius, coolprop):
    kind, at = f"INCOMP::AEG-{100 * glycol:.1f}%", celsius + 273.15
    found = [coolant.density(at, glycol), coolant.heat_capacity(at, glycol)]
    expected = [coolprop.PropsSI(key, "T", at, "P", 2e5, kind) for key in "DC"]
    assert found == pytest.approx(expected, rel=1e-3)
    viscosity = coolprop.PropsSI("V", "T", at, "P", 2e5, kind)
    assert 1.0 / coolant.fluidity(at, glycol) == pytest.approx(viscosity, rel=0.02)


@pytest.mark.parametrize("celsius", [20.0, 40.0, 60.0, 80.0])
def test_half_by_volume_is_not_half_by_mass_coolprop_meg_by_mass(celsius, coolprop):
    # The same liquid by another author, by mass: half by volume is 52.7 % by mass.
    at = celsius + 273.15
    mass = 0.5 * 1113.2 / (0.5 * 1113.2 + 0.5 * 998.2)
    assert mass == pytest.approx(0.527, abs=5e-4)
    by_mass = f"INCOMP::MEG-{100 * mass:.2f}%"
    assert coolant.density(at, 0.5) == pytest.approx(
        coolprop.PropsSI("D", "T", at, "P", 2e5, by_mass), 0.01
    )
    assert coolant.heat_capacity(at, 0.5) == pytest.approx(
        coolprop.PropsSI("C", "T", at, "P", 2e5, by_mass), rel=0.03
    )
    viscosity = coolprop.PropsSI("V", "T", at, "P", 2e5, by_mass)
    assert 1.0 / coolant.fluidity(at, 0.5) == pytest.approx(viscosity, rel=0.08)


@pytest.mark.parametrize("celsius", [20.0, 40.0, 60.0, 80.0])
def test_without_glycol_it_is_water_iapws_by_coolprop(celsius, coolprop):
    at = celsius + 273.15
    found = coolant.density(at, 0.0), coolant.heat_capacity(at, 0.0), coolant.fluidity(at, 0.0)
    expected = [coolprop.PropsSI(key, "T", at, "P", 2e5, "Water") for key in "DC"]
    expected.append(1.0 / coolprop.PropsSI("V", "T", at, "P", 2e5, "Water"))
    assert list(map(float, found)) == pytest.approx(expected, rel=5e-4)


def test_half_and_half_freezes_at_minus_37_printed():
    assert coolant.freezing_point(0.5) - 273.15 == pytest.approx(-37.0, abs=0.5)


def test_more_glycol_is_denser_thicker_and_holds_less_heat():
    shares = np.linspace(0.0, 0.6, 25)
    at = np.full(25, 313.15)
    assert np.all(np.diff(coolant.density(at, shares)) > 0)
    assert np.all(np.diff(coolant.fluidity(at, shares)) < 0)
    assert np.all(np.diff(coolant.heat_capacity(at, shares)) < 0)
