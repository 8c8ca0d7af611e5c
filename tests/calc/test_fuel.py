"""Injectors, pump, line and blends against textbooks, property tables, libraries and laws."""

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import fuel, power
from calc.domain import DomainError
from site_src.data import fuels as data

UNIT = pint.get_application_registry()
PSI = 6894.757293
BTU_PER_POUND = 2326.0
POUND_PER_GALLON = 0.45359237 / 3.785411784e-3
SIXTY_FAHRENHEIT = 288.706
AFDC = "DOE AFDC fuel comparison"

fractions = st.floats(0.0, 1.0)
duties = st.floats(0.1, 1.0)
speeds = st.floats(1.0, 200.0)
differentials = st.floats(5e4, 1.5e6)
flows = st.floats(1e-6, 1e-3)


# --- injectors ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rated", "actual", "factor"),
    [
        pytest.param(43.5 * PSI, 58.0 * PSI, 1.15470, id="Bernoulli, 43.5 to 58 psi"),
        pytest.param(300e3, 350e3, 1.08012, id="Bernoulli, 300 to 350 kPa"),
    ],
)
def test_flow_follows_the_root_of_the_differential_pressure(rated, actual, factor):
    assert fuel.injector_flow(1e-5, rated, actual) / 1e-5 == pytest.approx(factor, abs=5e-6)


def test_time_for_the_same_quantity_rajput_ex_12_9():
    # 16 ms at 115 bar; at 205 bar the same length takes 11.98 ms. The law is scale-free, so the
    # diesel pressures are taken at a hundredth.
    slow, fast = (fuel.injector_flow(1e-5, 1e5, p * 1e3) for p in (115, 205))
    assert 16.0 * slow / fast == pytest.approx(11.98, abs=0.005)


@pytest.mark.parametrize(
    ("density", "factor"),
    [
        pytest.param(745.0, 10.1475, id="lb/h to cc/min, gasoline 0.745"),
        pytest.param(720.0, 10.4998, id="lb/h to cc/min, 0.72"),
        pytest.param(683.8, 11.0557, id="lb/h to cc/min, n-heptane 0.6838"),
    ],
)
def test_mass_rating_and_volume_rating(density, factor):
    pound_per_hour, cubic_centimetre_per_minute = 0.45359237 / 3600, 1e-6 / 60
    rated = factor * 100 * cubic_centimetre_per_minute
    mass = fuel.injector_mass_flow(rated, density, 300e3, density, 300e3)
    assert mass / pound_per_hour == pytest.approx(100.0, abs=1e-3)


def test_the_test_liquid_is_lighter_than_the_fuel(coolprop):
    heptane = coolprop.PropsSI("D", "T", 293.15, "P", 101_325.0, "n-Heptane")
    assert heptane == pytest.approx(683.815, abs=5e-4)
    rated = fuel.injector_mass_flow(1e-5, heptane, 300e3, heptane, 300e3)
    burnt = fuel.injector_mass_flow(1e-5, heptane, 300e3, 745.0, 300e3)
    assert burnt / rated == pytest.approx(np.sqrt(745.0 / heptane), rel=1e-12)


def test_static_flow_is_that_of_an_orifice_by_fluids():
    # Same orifice at two pressures; β is small, so the approach velocity does not matter.
    def orifice(pressure):
        return fluids.flow_meter_discharge(
            D=0.02, Do=3e-4, P1=pressure + 1e5, P2=1e5, rho=745.0, C=0.8
        )

    ratio = orifice(4e5) / orifice(3e5)
    result = fuel.injector_flow(1e-5, 3e5, 4e5) / 1e-5
    assert result == pytest.approx(ratio, rel=1e-12)


def test_a_referenced_rail_keeps_the_differential_and_loads_the_pump():
    boost = np.array([0.0, 40e3, 80e3])
    rail = fuel.referenced_rail_pressure(300e3, boost)
    assert rail == pytest.approx([300e3, 340e3, 380e3])
    assert rail - boost == pytest.approx(300e3)


def test_boost_takes_flow_away_on_a_fixed_rail():
    pressure = fuel.fixed_rail_differential(400e3, 80e3)
    assert fuel.injector_flow(1e-5, 400e3, pressure) / 1e-5 == pytest.approx(np.sqrt(0.8))


def test_a_fixed_rail_below_boost_has_no_flow():
    pressure = fuel.fixed_rail_differential(80e3, np.array([80e3, 90e3]))
    assert pressure.tolist() == [0.0, -10e3]
    with pytest.raises(DomainError, match="pressure is 0, "):
        fuel.injector_flow(1e-5, 400e3, pressure)


@given(differentials, differentials)
def test_more_pressure_never_flows_less(one, other):
    low, high = sorted((one, other))
    assert fuel.injector_flow(1e-5, 3e5, low) <= fuel.injector_flow(1e-5, 3e5, high)


@given(differentials, differentials)
def test_a_rating_can_be_moved_there_and_back(rated, actual):
    there = fuel.injector_flow(1e-5, rated, actual)
    if 1e-7 <= there <= 1e-4:
        assert fuel.injector_flow(there, actual, rated) == pytest.approx(1e-5, rel=1e-12)


@given(st.floats(1e-3, 0.5), st.integers(1, 24), st.floats(1e-6, 5e-5), duties)
def test_an_injector_of_the_needed_size_flows_for_the_allowed_share(total, number, size, allowed):
    sheet = 684.0, 300e3, 745.0, 350e3
    there = fuel.injector_mass_flow(size, *sheet)
    duty = fuel.injector_duty(total, float(number), there)
    if duty <= 5.0:
        needed = fuel.injector_size_needed(size, duty, allowed)
        # A smaller one would flow less than the least that a duty is worked out for.
        if 2e-7 <= needed <= 1e-4:
            larger = fuel.injector_mass_flow(needed, *sheet)
            reached = fuel.injector_duty(total, float(number), larger)
            assert reached == pytest.approx(allowed, rel=1e-12)


@given(st.floats(5e-8, 2.5e-7), st.floats(1e-3, 0.05), duties)
def test_power_at_a_duty_is_where_the_duty_is_reached(bsfc, static_flow, duty):
    reached = fuel.power_at_duty(bsfc, 8.0, static_flow, duty)
    if reached <= 2e6:
        total = fuel.fuel_flow(reached, bsfc)
        assert fuel.injector_duty(total, 8.0, static_flow) == pytest.approx(duty, rel=1e-12)


def test_injector_for_500_horsepower_by_the_short_rule_of_the_trade_common_practice():
    # lb/h per injector = hp · BSFC / (number · duty): 500 · 0.5 / (8 · 0.8) = 39.06.
    bsfc = 0.5 * 0.45359237 / (745.699872 * 3600)
    total = fuel.fuel_flow(500 * 745.699872, bsfc)
    size = 1e-5
    there = fuel.injector_mass_flow(size, 745.0, 300e3, 745.0, 300e3)
    needed = fuel.injector_size_needed(size, fuel.injector_duty(total, 8.0, there), 0.8)
    assert needed * 745.0 * 3600 / 0.45359237 == pytest.approx(39.0625, rel=1e-9)


def test_time_available_at_6500_rpm():
    assert fuel.cycle_time(6500 / 60) * 1e3 == pytest.approx(18.4615, abs=5e-5)
    assert fuel.pulse_width(0.8, 6500 / 60, 0.0) * 1e3 == pytest.approx(14.769, abs=5e-4)


@given(st.floats(1e-6, 2.0), speeds, st.floats(0.0, 5e-3))
def test_dead_time_is_added_once_per_cycle(duty, speed, dead_time):
    commanded = fuel.commanded_duty(duty, speed, dead_time)
    assert commanded == pytest.approx(duty + dead_time * speed / 2, rel=1e-12)
    assert commanded >= duty * (1 - 1e-12)
    assert duty + fuel.dead_time_share(speed, dead_time) == pytest.approx(commanded, rel=1e-12)


# --- pump -----------------------------------------------------------------------------------------

# Two points of a pump of our own invention.
PRESSURES, FLOWS = (3e5, 5e5), (9.0e-5, 6.8e-5)


def pumped(pressure):
    return fuel.pump_flow_on_curve(fuel.pump_curve_share(pressure, *PRESSURES), *FLOWS)


def test_pump_power_of_a_small_pump():
    # 8.45 L/min at 3 bar: 42.25 W in the liquid, 140.8 W at 30 %.
    flow = 8.45e-3 / 60
    assert fuel.pump_electrical_power(flow, 3e5, 1.0) == pytest.approx(42.25, abs=5e-3)
    assert fuel.pump_electrical_power(flow, 3e5, 0.3) == pytest.approx(140.8, abs=0.05)


def test_pump_curve_passes_through_its_points_and_is_straight_between():
    assert pumped(np.array(PRESSURES)) == pytest.approx(FLOWS, rel=1e-15)
    assert pumped(4.5e5) == pytest.approx(7.35e-5, rel=1e-12)


@given(st.floats(*PRESSURES), st.floats(*PRESSURES))
def test_a_pump_gives_less_against_more_pressure(one, other):
    low, high = sorted((one, other))
    assert pumped(low) >= pumped(high)


@pytest.mark.parametrize("pressure", [2.97e5, 5.03e5])
def test_a_pump_curve_is_not_extrapolated(pressure):
    with pytest.raises(DomainError) as caught:
        pumped(pressure)
    assert caught.value.argument == "share"


def test_pump_voltage_lies_between_two_published_ones():
    voltages = np.array([12.0, 13.0, 13.5])
    flow = fuel.pump_flow_at_voltage(voltages, 12.0, 6e-5, 13.5, 7.5e-5)
    assert flow == pytest.approx([6e-5, 7e-5, 7.5e-5], rel=1e-12)
    with pytest.raises(DomainError, match=r"^voltage less low_voltage is -0.1"):
        fuel.pump_flow_at_voltage(11.9, 12.0, 6e-5, 13.5, 7.5e-5)
    with pytest.raises(DomainError, match=r"^high_voltage less voltage is -0.5"):
        fuel.pump_flow_at_voltage(14.0, 12.0, 6e-5, 13.5, 7.5e-5)
    with pytest.raises(DomainError, match=r"^high_voltage less low_voltage is 0.4"):
        fuel.pump_flow_at_voltage(12.2, 12.0, 6e-5, 12.4, 7.5e-5)


def test_the_voltage_rule_keeps_the_rating():
    assert fuel.pump_voltage_factor(1.0, 2.0) == 1.0
    assert fuel.pump_voltage_factor(12.0 / 13.5, 1.0) == 12.0 / 13.5


def test_pump_need_is_the_fuel_and_a_margin():
    burnt = fuel.fuel_volume_flow(0.0447, 745.0)
    litres_per_hour = fuel.pump_flow_needed(burnt, 0.25) * 3.6e6
    assert litres_per_hour == pytest.approx(270.0, rel=1e-9)


# --- fuels ----------------------------------------------------------------------------------------


def test_air_of_octane_at_half_as_much_again_mooney_ex_14_1():
    # The book counts air as 21 parts O₂ of 32 and 79 parts N₂ of 28, and octane as 114.
    book = (12.5 * 32 + 12.5 * 79 / 21 * 28) / 114
    assert book == pytest.approx(15.06, abs=0.005)
    assert fuel.air_fuel_ratio(1.5, book) == pytest.approx(22.59, abs=0.01)
    assert fuel.excess_air(22.59, book) == pytest.approx(1.5, abs=0.001)


def test_fuel_for_air_is_what_burns_it_all_at_lambda_one_mooney_ex_14_1():
    # 114 kg of octane take 12.5 kmol of oxygen: 400 kg, and 79/21 as many of nitrogen.
    air = 12.5 * 32 + 12.5 * 79 / 21 * 28
    assert fuel.fuel_flow_for_air(air / 1e3, air / 114) == pytest.approx(0.114, rel=1e-12)


@pytest.mark.parametrize(
    ("key", "field", "low", "high"),
    [
        pytest.param("gasoline", "density", 6.0, 6.5, id=f"{AFDC}, gasoline lb/gal"),
        pytest.param("gasoline", "lower_heating_value", 18e3, 19e3, id=f"{AFDC}, gasoline Btu/lb"),
        pytest.param("gasoline", "latent_heat", 149, 151, id=f"{AFDC}, gasoline latent Btu/lb"),
        pytest.param("gasoline", "stoichiometric_ratio", 14.65, 14.75, id=f"{AFDC}, gasoline AFR"),
        pytest.param("ethanol", "density", 6.605, 6.615, id=f"{AFDC}, ethanol lb/gal"),
        pytest.param("ethanol", "lower_heating_value", 11450, 11550, id=f"{AFDC}, ethanol Btu/lb"),
        pytest.param("ethanol", "latent_heat", 395.5, 396.5, id=f"{AFDC}, ethanol latent Btu/lb"),
        pytest.param("ethanol", "stoichiometric_ratio", 8.95, 9.05, id=f"{AFDC}, ethanol AFR"),
    ],
)
def test_fuel_data_lie_in_the_printed_range(key, field, low, high):
    units = {
        "density": POUND_PER_GALLON,
        "lower_heating_value": BTU_PER_POUND,
        "latent_heat": BTU_PER_POUND,
        "stoichiometric_ratio": 1.0,
    }
    assert low <= getattr(data.fuels()[key], field) / units[field] <= high


def test_gasoline_heat_by_mass_and_by_volume_doe_properties_of_fuels():
    gasoline = data.fuels()["gasoline"]
    assert gasoline.lower_heating_value / BTU_PER_POUND == pytest.approx(18_676, abs=5)
    by_volume = gasoline.lower_heating_value * gasoline.density
    british = by_volume / (BTU_PER_POUND * POUND_PER_GALLON)
    assert british == pytest.approx(116_090, rel=5e-4)


def test_ethanol_data_agree_with_the_libraries(coolprop):
    ethanol = data.fuels()["ethanol"]
    state = "T", SIXTY_FAHRENHEIT, "P", 101_325.0, "Ethanol"
    assert ethanol.density == pytest.approx(coolprop.PropsSI("D", *state), rel=2e-3)
    assert ethanol.viscosity == pytest.approx(coolprop.PropsSI("V", *state), rel=5e-3)
    # chemicals library, from the heats of formation: 26.816 MJ/kg.
    assert ethanol.lower_heating_value == pytest.approx(26.816e6, rel=5e-3)
    assert coolprop.PropsSI("D", "T", 293.15, "P", 101_325.0, "Ethanol") == pytest.approx(
        789.42, abs=0.01
    )


def test_stored_ratio_of_ethanol_is_that_of_its_formula_heywood_eq_3_6():
    # C₂H₆O takes three O₂, each with 4 × 34.56 g of dry air about it.
    computed = 3 * 4 * 34.56 / (2 * 12.011 + 6 * 1.008 + 15.999)
    assert data.fuels()["ethanol"].stoichiometric_ratio == pytest.approx(computed, abs=0.01)


@pytest.mark.parametrize(
    ("ethanol", "share"),
    [
        pytest.param(0.10, 0.967, id="E10 heat per volume, DOE AFDC (from memory)"),
        pytest.param(1.00, 0.655, id="ethanol heat per volume, DOE, 76 000 of 116 090 Btu/gal"),
    ],
)
def test_blends_hold_the_heat_that_is_published(ethanol, share):
    blend, neat = data.blend_properties(ethanol), data.blend_properties(0.0)
    heat = blend.lower_heating_value * blend.density
    assert heat / (neat.lower_heating_value * neat.density) == pytest.approx(share, abs=0.002)


def test_e85_is_weighed_by_mass_and_not_by_volume():
    ratio = data.blend_properties(0.85).stoichiometric_ratio
    by_volume = 0.85 * 9.0 + 0.15 * 14.7
    assert ratio == pytest.approx(9.81, abs=0.01)
    assert ratio < by_volume


@given(fractions)
def test_blend_conserves_mass_air_and_heat(ethanol):
    base, added = data.fuels()["gasoline"], data.fuels()["ethanol"]
    blend = data.blend_properties(ethanol)
    parts = ((1 - ethanol) * base.density, ethanol * added.density)
    assert blend.density == pytest.approx(sum(parts), rel=1e-12)
    air = parts[0] * base.stoichiometric_ratio + parts[1] * added.stoichiometric_ratio
    assert blend.density * blend.stoichiometric_ratio == pytest.approx(air, rel=1e-12)
    heat = parts[0] * base.lower_heating_value + parts[1] * added.lower_heating_value
    assert blend.density * blend.lower_heating_value == pytest.approx(heat, rel=1e-12)


@given(fractions)
def test_blend_ends_in_the_pure_fuels(ethanol):
    base, added = data.fuels()["gasoline"], data.fuels()["ethanol"]
    blend = data.blend_properties(ethanol)
    assert base.density * (1 - 1e-12) <= blend.density <= added.density * (1 + 1e-12)
    assert added.stoichiometric_ratio <= blend.stoichiometric_ratio + 1e-12
    assert base.viscosity * (1 - 1e-12) <= blend.viscosity <= added.viscosity * (1 + 1e-12)


def test_the_viscosity_bound_lies_above_the_logarithmic_mean():
    share = np.linspace(0.05, 0.95, 19)
    low, high = data.fuels()["gasoline"].viscosity, data.fuels()["ethanol"].viscosity
    logarithmic = np.exp((1 - share) * np.log(low) + share * np.log(high))
    assert (fuel.blend_viscosity_bound(share, low, high) > logarithmic).all()


def test_e85_needs_about_two_fifths_more_fuel_for_the_same_power():
    # Common practice: 30 to 40 % more by volume, 40 to 45 % by mass of the lower-density gasoline.
    neat, e85 = data.blend_properties(0.0), data.blend_properties(0.85)
    more = fuel.bsfc_for_fuel(1e-7, neat.lower_heating_value, e85.lower_heating_value) / 1e-7
    assert 1.40 < more < 1.52
    assert 1.30 < more * neat.density / e85.density < 1.45


def test_another_fuel_at_the_same_efficiency():
    other = fuel.bsfc_for_fuel(1e-7, 43.4e6, 27e6)
    assert power.brake_efficiency(other, 27e6) == pytest.approx(
        power.brake_efficiency(1e-7, 43.4e6), rel=1e-12
    )


# --- conventions ----------------------------------------------------------------------------------


def test_arrays_broadcast():
    total = fuel.fuel_flow(np.array([[3e5], [4e5]]), 1e-7)
    assert fuel.injector_duty(total, 8.0, np.array([0.005, 0.006, 0.007])).shape == (2, 3)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: fuel.injector_flow(1e-5, 43.5, 3e5), "rated_pressure"),
        (lambda: fuel.injector_duty(0.045, 8.0, 42.0), "static_flow"),
        (lambda: fuel.injector_size_needed(1e-5, 0.8, 85.0), "allowed"),
        (lambda: fuel.pulse_width(0.8, 100.0, 1.0), "dead_time"),
        (lambda: fuel.blend_density(85.0, 745.0, 792.0), "volume_fraction"),
        (lambda: fuel.cycle_time(6500.0), "rev_per_s"),
    ],
    ids=["psi", "lb per hour", "per cent", "milliseconds", "E85 as 85", "rpm"],
)
def test_a_value_out_of_range_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument


def si(value, unit):
    return UNIT.Quantity(value, unit).to_base_units()


VOLUME_FLOW, MASS_FLOW, DENSITY = si(7e-5, "m^3/s"), si(0.045, "kg/s"), si(745.0, "kg/m^3")
PRESSURE = si(3e5, "Pa")


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        (fuel.fuel_flow(si(4e5, "W"), si(1e-7, "kg/J")), "[mass]/[time]"),
        (fuel.injector_flow(si(1e-5, "m^3/s"), PRESSURE, PRESSURE), "[volume]/[time]"),
        (
            fuel.injector_mass_flow(si(1e-5, "m^3/s"), DENSITY, PRESSURE, DENSITY, PRESSURE),
            "[mass]/[time]",
        ),
        (fuel.injector_duty(MASS_FLOW, 8.0, si(0.007, "kg/s")), "[]"),
        (fuel.pulse_width(0.8, si(100.0, "1/s"), si(1e-3, "s")), "[time]"),
        (fuel.power_at_duty(si(1e-7, "kg/J"), 8.0, si(0.007, "kg/s"), 0.8), "[power]"),
        (fuel.fuel_volume_flow(MASS_FLOW, DENSITY), "[volume]/[time]"),
        (fuel.pump_electrical_power(VOLUME_FLOW, PRESSURE, 0.3), "[power]"),
        (fuel.blend_mass_fraction(0.85, DENSITY, si(792.0, "kg/m^3")), "[]"),
    ],
)
def test_dimension(result, dimension):
    assert result.check(dimension)
