"""The air against the standard atmosphere, published tables, CoolProp and laws."""

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants as codata

from calc import atmosphere, constants
from calc.domain import DomainError

ISO_2533 = "ISO 2533/ICAO 7488 closed form"
PSI = 6894.757293
FOOT = 0.3048
INCH_MERCURY = 3386.389

# J/(kg·K): 8.314462618 J/(mol·K) (exact, SI 2019) over 18.015268 g/mol (IAPWS R6-95).
R_WATER_VAPOUR = 8.314462618 / 18.015268e-3

altitudes = st.floats(-2000.0, 11_000.0)
temperatures = st.floats(234.0, 333.0)
humidities = st.floats(0.0, 1.0)


def geopotential(geometric):
    """Geopotential altitude of a height above sea level, ISO 2533: H = r·h/(r + h)."""
    earth_radius = 6_356_766.0
    return earth_radius * geometric / (earth_radius + geometric)


def parts_of_humid_air(pressure, temperature, relative_humidity):
    """Pressure of the dry air and of the vapour."""
    saturation = atmosphere.saturation_pressure(temperature)
    return (
        atmosphere.dry_air_pressure(pressure, saturation, relative_humidity),
        atmosphere.vapour_pressure(saturation, relative_humidity),
    )


def density_of(dry, vapour, temperature):
    """Density of a mixture of two perfect gases, Dalton's law."""
    return (dry / constants.R_AIR + vapour / R_WATER_VAPOUR) / temperature


# --- constants ------------------------------------------------------------------------------------


def test_constants_agree_with_codata():
    assert codata.g == constants.G0
    assert codata.atm == constants.P_STANDARD


def test_air_is_the_air_of_the_reference_library(coolprop):
    state = "T", 298.15, "P", 1e5, "Air"
    assert (
        pytest.approx(codata.R / coolprop.PropsSI("molemass", "Air"), rel=5e-5) == constants.R_AIR
    )
    assert pytest.approx(coolprop.PropsSI("Cpmass", *state), rel=2e-3) == constants.CP_AIR
    ratio = coolprop.PropsSI("Cpmass", *state) / coolprop.PropsSI("Cvmass", *state)
    assert ratio == pytest.approx(constants.GAMMA_AIR, rel=2e-3)


@pytest.mark.parametrize("temperature", [250.0, 300.0, 400.0, 500.0])
def test_constant_heat_capacity_is_as_good_as_stated(temperature, coolprop):
    real = coolprop.PropsSI("Cpmass", "T", temperature, "P", 1e5, "Air")
    assert pytest.approx(real, rel=0.025) == constants.CP_AIR


# --- standard atmosphere --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("altitude", "pressure", "temperature", "density"),
    [
        pytest.param(0, 101325, 288.15, 1.22500, id=f"{ISO_2533}, 0 m"),
        pytest.param(500, 95460.8, 284.90, 1.16727, id=f"{ISO_2533}, 500 m"),
        pytest.param(1000, 89874.6, 281.65, 1.11164, id=f"{ISO_2533}, 1000 m"),
        pytest.param(1500, 84556.0, 278.40, 1.05807, id=f"{ISO_2533}, 1500 m"),
        pytest.param(2000, 79495.2, 275.15, 1.00649, id=f"{ISO_2533}, 2000 m"),
        pytest.param(2500, 74682.5, 271.90, 0.956859, id=f"{ISO_2533}, 2500 m"),
        pytest.param(3000, 70108.5, 268.65, 0.909122, id=f"{ISO_2533}, 3000 m"),
        pytest.param(5000, 54019.9, 255.65, 0.736116, id=f"{ISO_2533}, 5000 m"),
    ],
)
def test_standard_atmosphere(altitude, pressure, temperature, density):
    p = atmosphere.pressure_at_altitude(altitude)
    t = atmosphere.temperature_at_altitude(altitude)
    assert p == pytest.approx(pressure, abs=0.06)
    assert t == pytest.approx(temperature, abs=0.005)
    assert atmosphere.dry_air_density(p, t) == pytest.approx(density, abs=0.6e-5)


ASHRAE_PSI = {0: 14.696, 1: 14.175, 2: 13.664, 3: 13.173, 4: 12.682}
ASHRAE_PSI |= {5: 12.230, 6: 11.778, 7: 11.341, 8: 10.914, 10: 10.108}


@pytest.mark.parametrize(
    "thousand_feet",
    sorted(ASHRAE_PSI.keys() - {4}),
    ids=lambda value: f"ASHRAE Fundamentals ch. 1 table 1-{value} kft",
)
def test_ashrae_pressure(thousand_feet):
    # The table is a conversion of inches of mercury that were rounded to 0.01 first.
    p = atmosphere.pressure_at_altitude(thousand_feet * 1000 * FOOT)
    printed = ASHRAE_PSI[thousand_feet] * PSI
    assert p / INCH_MERCURY == pytest.approx(printed / INCH_MERCURY, abs=0.005 + 0.001)


def test_ashrae_prints_a_hundredth_of_an_inch_too_little_at_4000_feet():
    # 12.682 psi is 25.82 inHg; the standard atmosphere has 25.84.
    p = atmosphere.pressure_at_altitude(4000 * FOOT)
    assert p / INCH_MERCURY == pytest.approx(25.84, abs=0.005)
    assert ASHRAE_PSI[4] * PSI / INCH_MERCURY == pytest.approx(25.82, abs=0.005)


@pytest.mark.parametrize(
    ("thousand_feet", "fahrenheit"),
    [(0, 59.0), (1, 55.4), (2, 51.9), (5, 41.2), (10, 23.4)],
    ids=lambda value: f"ASHRAE Fundamentals ch. 1 table 1-{value:g}",
)
def test_ashrae_temperature(thousand_feet, fahrenheit):
    kelvin = atmosphere.temperature_at_altitude(thousand_feet * 1000 * FOOT)
    # 10 000 ft prints 23.4 where the lapse rate gives 23.34: the last digit is rounded up.
    assert (kelvin - 273.15) * 1.8 + 32 == pytest.approx(fahrenheit, abs=0.1)


@pytest.mark.parametrize(
    ("geometric", "pressure"),
    [
        pytest.param(1000, 89876.3, id="US Standard Atmosphere 1976, 1000 m geometric"),
        pytest.param(2000, 79501.4, id="US Standard Atmosphere 1976, 2000 m geometric"),
        pytest.param(3000, 70121.2, id="US Standard Atmosphere 1976, 3000 m geometric"),
        pytest.param(5000, 54048.3, id="US Standard Atmosphere 1976, 5000 m geometric"),
    ],
)
def test_geometric_altitude_is_not_geopotential(geometric, pressure):
    altitude = geopotential(geometric)
    assert atmosphere.pressure_at_altitude(altitude) == pytest.approx(pressure, abs=0.1)
    assert atmosphere.pressure_at_altitude(geometric) < pressure - 1.0


@pytest.mark.parametrize("geometric", [-1000.0, 300.0, 2222.0, 4500.0, 10_500.0])
def test_standard_atmosphere_agrees_with_the_library(geometric):
    reference = fluids.ATMOSPHERE_1976(geometric)
    altitude = geopotential(geometric)
    assert altitude == pytest.approx(reference.H, rel=1e-5)
    assert atmosphere.pressure_at_altitude(altitude) == pytest.approx(reference.P, rel=5e-6)


@given(altitudes, altitudes)
def test_pressure_falls_with_altitude(one, other):
    low, high = sorted((one, other))
    assert atmosphere.pressure_at_altitude(low) >= atmosphere.pressure_at_altitude(high)


def test_pressure_is_in_hydrostatic_balance():
    step = 0.5
    for altitude in (0.0, 1500.0, 4000.0):
        below, above = (atmosphere.pressure_at_altitude(altitude + d) for d in (-step, step))
        density = atmosphere.dry_air_density(
            atmosphere.pressure_at_altitude(altitude), atmosphere.temperature_at_altitude(altitude)
        )
        assert (below - above) / (2 * step) == pytest.approx(density * constants.G0, rel=1e-7)


# --- humid air ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("celsius", "pascal"),
    [
        *((10, 1228.2), (15, 1705.8), (20, 2339.3), (25, 3169.9)),
        *((30, 4247.0), (35, 5629.0), (40, 7384.9)),
    ],
    ids=lambda value: f"IAPWS-95 by CoolProp-{value:g}",
)
def test_saturation_pressure(celsius, pascal):
    # Two fits to the same data: they part by 0.007 % at most.
    assert atmosphere.saturation_pressure(celsius + 273.15) == pytest.approx(pascal, rel=1e-4)


@pytest.mark.parametrize("temperature", np.linspace(273.16, 373.15, 12))
def test_saturation_pressure_agrees_with_the_library(temperature, coolprop):
    reference = coolprop.PropsSI("P", "T", temperature, "Q", 1, "Water")
    assert atmosphere.saturation_pressure(temperature) == pytest.approx(reference, rel=1e-4)


@pytest.mark.parametrize(
    ("temperature", "pascal"),
    [
        pytest.param(273.15, 611.213, id="WMO-No. 8, 0 °C (from memory)"),
        pytest.param(263.15, 286.5, id="Smithsonian tables, over water, -10 °C (from memory)"),
        pytest.param(253.15, 125.4, id="Smithsonian tables, over water, -20 °C (from memory)"),
        pytest.param(233.15, 18.91, id="Smithsonian tables, over water, -40 °C (from memory)"),
    ],
)
def test_saturation_pressure_over_supercooled_water(temperature, pascal):
    assert atmosphere.saturation_pressure(temperature) == pytest.approx(pascal, rel=0.01)


@pytest.mark.parametrize(
    ("kelvin", "pascal"),
    [
        pytest.param(-40 + 273.15, 18.91, id="-40 °C"),
        pytest.param((-40 + 459.67) * 5 / 9, 18.91, id="-40 °F"),
        pytest.param((212 + 459.67) / 1.8, 101_418, id="212 °F"),
    ],
)
def test_the_ends_of_the_range_are_taken_as_typed_in_either_unit(kelvin, pascal):
    # Each conversion misses 233.15 or 373.15 K by its last bit.
    assert kelvin not in (233.15, 373.15)
    assert atmosphere.saturation_pressure(kelvin) == pytest.approx(pascal, rel=0.01)


@pytest.mark.parametrize("celsius", [-40.1, 100.1])
def test_a_step_outside_the_range_is_refused(celsius):
    with pytest.raises(DomainError, match=r"allowed is 233\.1 to 373\.2"):
        atmosphere.saturation_pressure(celsius + 273.15)


def test_the_two_saturation_formulas_meet():
    at = atmosphere._WATER_TRIPLE_TEMPERATURE
    cold, warm = atmosphere.saturation_pressure(np.array([at - 1e-9, at]))
    assert cold == pytest.approx(warm, rel=1e-6)
    assert warm == pytest.approx(611.657, rel=1e-5)


@pytest.mark.parametrize(
    ("relative_humidity", "density"),
    [
        pytest.param(0.0, 1.18393, id="ideal mixture, 25 °C dry"),
        pytest.param(0.5, 1.17692, id="ideal mixture, 25 °C half saturated"),
    ],
)
def test_humid_air_density(relative_humidity, density):
    parts = parts_of_humid_air(101_325.0, 298.15, relative_humidity)
    # The printed values use the gas constants 287.05 and 461.5.
    assert density_of(*parts, 298.15) == pytest.approx(density, rel=3e-5)


@pytest.mark.parametrize(
    ("temperature", "relative_humidity"), [(288.15, 0.2), (298.15, 0.5), (308.15, 0.9)]
)
def test_humid_air_agrees_with_the_real_gas(temperature, relative_humidity, coolprop):
    state = "T", temperature, "P", 101_325.0, "R", relative_humidity
    specific_volume, humidity_ratio = (
        coolprop.HAPropsSI("Vha", *state),
        coolprop.HAPropsSI("W", *state),
    )
    dry, vapour = parts_of_humid_air(101_325.0, temperature, relative_humidity)
    density = density_of(dry, vapour, temperature)
    assert density == pytest.approx(1.0 / specific_volume, rel=1e-3)
    # The gap is the enhancement factor, which the module says it leaves out.
    ratio = vapour / dry * constants.R_AIR / R_WATER_VAPOUR
    assert ratio == pytest.approx(humidity_ratio, rel=6e-3)


@pytest.mark.parametrize(
    ("celsius", "density"),
    [(0, 1.29307), (15, 1.22554), (25, 1.18432), (60, 1.05963), (100, 0.94587)],
    ids=lambda value: f"real air by CoolProp-{value:g}",
)
def test_dry_air_density(celsius, density, coolprop):
    result = atmosphere.dry_air_density(101_325.0, celsius + 273.15)
    # What is left between a perfect gas and air is its compressibility, 0.9994 to 1.0001.
    compressibility = coolprop.PropsSI("Z", "T", celsius + 273.15, "P", 101_325.0, "Air")
    assert result / compressibility == pytest.approx(density, rel=5e-5)
    assert compressibility == pytest.approx(1.0, abs=7e-4)


@given(temperatures, humidities, humidities)
def test_damper_air_has_less_to_burn_with(temperature, one, other):
    dry, _ = parts_of_humid_air(1e5, temperature, np.array(sorted((one, other))))
    assert dry[1] <= dry[0]


@given(temperatures, humidities)
def test_partial_pressures_add_up(temperature, relative_humidity):
    assert sum(parts_of_humid_air(1e5, temperature, relative_humidity)) == pytest.approx(
        1e5, rel=1e-14
    )


# --- conventions ----------------------------------------------------------------------------------


def test_arrays_broadcast():
    dry, vapour = parts_of_humid_air(np.array([[9e4], [1e5]]), np.array([280.0, 300.0]), 0.3)
    assert dry.shape == (2, 2)
    assert vapour.shape == (2,)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: atmosphere.pressure_at_altitude(11_001.0), "altitude"),
        (lambda: atmosphere.pressure_at_altitude(np.nan), "altitude"),
        (lambda: atmosphere.vapour_pressure(3e3, 50.0), "relative_humidity"),
        (lambda: atmosphere.saturation_pressure(25.0), "temperature"),
        (lambda: atmosphere.dry_air_density(14.7, 288.15), "pressure"),
    ],
    ids=["too high", "not a number", "per cent", "celsius", "psi"],
)
def test_a_value_out_of_range_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument


def test_density_has_the_dimension_of_density(monkeypatch):
    unit = pint.get_application_registry()
    monkeypatch.setattr(
        atmosphere, "R_AIR", unit.Quantity(constants.R_AIR, "J/(kg*K)").to_base_units()
    )
    pressure = unit.Quantity(101_325.0, "Pa").to_base_units()
    density = atmosphere.dry_air_density(pressure, unit.Quantity(288.15, "K"))
    assert density.check("[mass]/[length]**3")
