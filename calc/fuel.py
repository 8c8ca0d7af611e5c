"""Injectors, pump, line and blends: whether the fuel keeps up with the air.

Steady flow, constant density and constant discharge coefficients. Left out: pressure waves in the
rail, vapour in hot fuel, wall film in the ports, and injectors near the shortest or the longest
pulse, where a maker's own curve is the only guide. Fuel temperature is that of the data: between a
cold and a hot tank the density changes by about 1 % per 10 K.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from calc.domain import Real, require

DUTY_LIMIT: Final = 0.85
"""Share of the cycle that an injector should stay open at most. Common practice."""

PUMP_MARGIN: Final = 0.20
"""Flow that a pump should have beyond the need at full load. Common practice."""

LINE_VELOCITY_LIMITS: Final = (1.5, 3.0)
"""Fuel velocity at full flow, m/s: suction side, pressure side. Common practice."""


_VOLTAGE = (6.0, 20.0)


def fuel_flow(power: Real, bsfc: Real) -> Real:
    """Fuel that an engine burns at a power.

    Args:
        power [W]: brake power, 0 to 2e6.
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.

    Returns:
        [kg/s]: mass of fuel per second.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of specific fuel consumption.

    >>> round(fuel_flow(450e3, 1e-7), 4)
    0.045
    """
    require("power", power, 0.0, 2e6)
    require("bsfc", bsfc, 4e-8, 3e-7)
    return power * bsfc


def bsfc_for_fuel(reference_bsfc: Real, reference_heating_value: Real, heating_value: Real) -> Real:
    """Specific consumption on another fuel at the same brake efficiency.

    Args:
        reference_bsfc [kg/J]: on the fuel it was measured with, 4e-8 to 3e-7.
        reference_heating_value [J/kg]: lower heating value of that fuel, 1.5e7 to 5e7.
        heating_value [J/kg]: lower heating value of the other fuel, 1.5e7 to 5e7.

    Returns:
        [kg/J]: specific fuel consumption on the other fuel.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of brake efficiency. Alcohols often do a few per cent better than this.

    >>> round(bsfc_for_fuel(1e-7, 43.4e6, 26.8e6) * 1e7, 3)
    1.619
    """
    require("reference_bsfc", reference_bsfc, 4e-8, 3e-7)
    require("reference_heating_value", reference_heating_value, 1.5e7, 5e7)
    require("heating_value", heating_value, 1.5e7, 5e7)
    return reference_bsfc * reference_heating_value / heating_value


def air_fuel_ratio(excess_air: Real, stoichiometric: Real) -> Real:
    """Air-fuel ratio of a mixture given by its excess-air factor.

    Args:
        excess_air [1]: λ, 0.5 to 1.5; 0.77 to 0.83 at full load, common practice.
        stoichiometric [1]: air-fuel ratio at λ = 1, 5 to 20.

    Returns:
        [1]: air-fuel ratio by mass.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, ch. 3: definition of the relative air-fuel ratio.

    >>> round(air_fuel_ratio(0.8, 14.7), 2)
    11.76
    """
    require("excess_air", excess_air, 0.5, 1.5)
    require("stoichiometric", stoichiometric, 5.0, 20.0)
    return excess_air * stoichiometric


def excess_air(air_fuel_ratio: Real, stoichiometric: Real) -> Real:
    """Excess-air factor of a mixture given by its air-fuel ratio.

    A gauge measures λ and multiplies it by the stoichiometric ratio that it is set to, mostly
    gasoline's, whatever fuel is burnt: divide its reading by that one.

    Args:
        air_fuel_ratio [1]: by mass, or as a gauge shows it, 2.5 to 30.
        stoichiometric [1]: air-fuel ratio at λ = 1, that of the gauge, 5 to 20.

    Returns:
        [1]: λ.

    Raises:
        DomainError: an argument outside its range.

    Source: `air_fuel_ratio` solved for λ.

    >>> round(excess_air(11.76, 14.7), 6)
    0.8
    """
    require("air_fuel_ratio", air_fuel_ratio, 2.5, 30.0)
    require("stoichiometric", stoichiometric, 5.0, 20.0)
    return air_fuel_ratio / stoichiometric


def fuel_flow_for_air(air_flow: Real, mixture: Real) -> Real:
    """Fuel that goes with an air flow.

    Args:
        air_flow [kg/s]: mass of air per second, 0 to 5.
        mixture [1]: air-fuel ratio by mass on this fuel's own scale, 2.5 to 30.

    Returns:
        [kg/s]: mass of fuel per second.

    Raises:
        DomainError: an argument outside its range.

    Source: Heywood, ch. 2: definition of the air-fuel ratio.

    >>> round(fuel_flow_for_air(0.5, 12.5), 6)
    0.04
    """
    require("air_flow", air_flow, 0.0, 5.0)
    require("mixture", mixture, 2.5, 30.0)
    return air_flow / mixture


def referenced_rail_pressure(base_pressure: Real, boost: Real) -> Real:
    """Rail pressure of a return system whose regulator follows the manifold.

    The injector keeps its differential pressure; the pump has to make the boost as well.

    Args:
        base_pressure [Pa]: gauge, with the hose of the regulator off, 50000 to 1500000.
        boost [Pa]: manifold gauge pressure, -100000 to 300000.

    Returns:
        [Pa]: rail gauge pressure that the pump works against.

    Raises:
        DomainError: a pressure outside its range.

    Source: balance of the regulator's diaphragm, one to one.

    >>> referenced_rail_pressure(300e3, 80e3)
    380000.0
    """
    require("base_pressure", base_pressure, 5e4, 1.5e6)
    require("boost", boost, -1e5, 3e5)
    return base_pressure + boost


def fixed_rail_differential(rail_pressure: Real, boost: Real) -> Real:
    """Pressure across an injector on a rail whose regulator does not follow the manifold.

    Args:
        rail_pressure [Pa]: gauge, 50000 to 1500000.
        boost [Pa]: manifold gauge pressure, -100000 to 300000.

    Returns:
        [Pa]: differential pressure; 0 or less where boost holds the fuel back altogether.

    Raises:
        DomainError: a pressure outside its range.

    Source: pressure balance across the injector.

    >>> fixed_rail_differential(400e3, 80e3)
    320000.0
    """
    require("rail_pressure", rail_pressure, 5e4, 1.5e6)
    require("boost", boost, -1e5, 3e5)
    return rail_pressure - boost


def injector_flow(rated_flow: Real, rated_pressure: Real, pressure: Real) -> Real:
    """Static flow of an injector at another differential pressure.

    Args:
        rated_flow [m^3/s]: static flow on the maker's sheet, 1e-7 to 1e-4.
        rated_pressure [Pa]: differential pressure on the maker's sheet, 50000 to 1500000.
        pressure [Pa]: actual differential pressure, 50000 to 1500000.

    Returns:
        [m^3/s]: static flow of the same liquid.

    Raises:
        DomainError: an argument outside its range.

    Source: Bernoulli with a constant discharge coefficient, Q ∝ √Δp; rating conditions as in
        SAE J1832.

    >>> round(float(injector_flow(1e-5, 300e3, 400e3)) * 1e5, 4)
    1.1547
    """
    require("rated_flow", rated_flow, 1e-7, 1e-4)
    _require_differential(rated_pressure, pressure)
    ratio: Real = pressure / rated_pressure
    return rated_flow * np.sqrt(ratio)


def injector_mass_flow(
    rated_flow: Real,
    test_density: Real,
    rated_pressure: Real,
    fuel_density: Real,
    pressure: Real,
) -> Real:
    """Static fuel mass flow of an injector that was rated by volume on a test liquid.

    Args:
        rated_flow [m^3/s]: static flow on the maker's sheet, 1e-7 to 1e-4.
        test_density [kg/m^3]: of the liquid on the sheet, 600 to 900; n-heptane 684 at 20 °C.
        rated_pressure [Pa]: differential pressure on the maker's sheet, 50000 to 1500000.
        fuel_density [kg/m^3]: 600 to 900.
        pressure [Pa]: actual differential pressure, 50000 to 1500000.

    Returns:
        [kg/s]: static fuel flow.

    Raises:
        DomainError: an argument outside its range.

    Source: Bernoulli with a constant discharge coefficient, ṁ ∝ √(ρ·Δp).

    >>> round(float(injector_mass_flow(1e-5, 684.0, 300e3, 745.0, 300e3)), 6)
    0.007138
    """
    require("test_density", test_density, 600.0, 900.0)
    require("fuel_density", fuel_density, 600.0, 900.0)
    product: Real = test_density * fuel_density
    return injector_flow(rated_flow, rated_pressure, pressure) * np.sqrt(product)


def _require_differential(rated_pressure: Real, pressure: Real) -> None:
    """Check the two differential pressures of the square-root law."""
    require("rated_pressure", rated_pressure, 5e4, 1.5e6)
    require("pressure", pressure, 5e4, 1.5e6)


def injector_size_needed(size: Real, duty: Real, allowed: Real) -> Real:
    """Size of injector, on the same sheet, that would flow for an allowed share of the cycle.

    Args:
        size [m^3/s]: static flow of the present one on its sheet, 1e-7 to 1e-4.
        duty [1]: share of the cycle that the present one must flow, 0 to 5.
        allowed [1]: share of the cycle that the new one may flow, 0.1 to 1.

    Returns:
        [m^3/s]: static flow of the new one, with the same liquid at the same pressure.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of duty: for the same fuel, static flow · duty stays the same.

    >>> round(injector_size_needed(1e-5, 0.9, 0.75) * 1e5, 3)
    1.2
    """
    require("size", size, 1e-7, 1e-4)
    require("duty", duty, 0.0, 5.0)
    require("allowed", allowed, 0.1, 1.0)
    return size * duty / allowed


def injector_duty(total_fuel_flow: Real, number: Real, static_flow: Real) -> Real:
    """Share of the cycle that the injectors must flow.

    Args:
        total_fuel_flow [kg/s]: of the whole engine, 0 to 0.5.
        number [1]: injectors, 1 to 24.
        static_flow [kg/s]: of one injector at its actual differential pressure, 1e-4 to 0.1.

    Returns:
        [1]: duty without dead time; above 1 the injectors are too small for any tune.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of duty: fuel = number · static flow · duty.

    >>> round(injector_duty(0.045, 8.0, 0.007), 4)
    0.8036
    """
    require("total_fuel_flow", total_fuel_flow, 0.0, 0.5)
    require("number", number, 1.0, 24.0)
    require("static_flow", static_flow, 1e-4, 0.1)
    return total_fuel_flow / (number * static_flow)


def cycle_time(rev_per_s: Real) -> Real:
    """Time of one four-stroke cycle: all the time there is for one injection.

    Args:
        rev_per_s [1/s]: crankshaft speed, 1 to 200.

    Returns:
        [s]: two revolutions, 120 over the speed in revolutions per minute.

    Raises:
        DomainError: speed outside its range.

    Source: definition of the four-stroke cycle.

    >>> round(cycle_time(6500.0 / 60.0) * 1e3, 4)
    18.4615
    """
    require("rev_per_s", rev_per_s, 1.0, 200.0)
    return 2.0 / rev_per_s


def pulse_width(duty: Real, rev_per_s: Real, dead_time: Real) -> Real:
    """Length of the electrical pulse that makes an injector flow for a share of the cycle.

    Args:
        duty [1]: share of the cycle in which fuel must flow, 0 to 5.
        rev_per_s [1/s]: crankshaft speed, 1 to 200.
        dead_time [s]: opening less closing delay at the actual voltage, 0 to 0.005.

    Returns:
        [s]: pulse width; longer than `cycle_time` means never closed.

    Raises:
        DomainError: an argument outside its range.

    Source: SAE J1832: flow is linear in pulse width beyond an offset.

    >>> round(pulse_width(0.8, 6500.0 / 60.0, 0.001) * 1e3, 3)
    15.769
    """
    require("duty", duty, 0.0, 5.0)
    require("dead_time", dead_time, 0.0, 5e-3)
    return duty * cycle_time(rev_per_s) + dead_time


def commanded_duty(duty: Real, rev_per_s: Real, dead_time: Real) -> Real:
    """Pulse width as a share of the cycle: the duty that a log shows.

    Args:
        duty [1]: share of the cycle in which fuel must flow, 0 to 5.
        rev_per_s [1/s]: crankshaft speed, 1 to 200.
        dead_time [s]: opening less closing delay at the actual voltage, 0 to 0.005.

    Returns:
        [1]: duty with dead time.

    Raises:
        DomainError: an argument outside its range.

    Source: `pulse_width` over `cycle_time`.

    >>> round(commanded_duty(0.8, 6500.0 / 60.0, 0.001), 4)
    0.8542
    """
    return pulse_width(duty, rev_per_s, dead_time) / cycle_time(rev_per_s)


def dead_time_share(rev_per_s: Real, dead_time: Real) -> Real:
    """Share of the cycle that is lost to dead time: by so much duty exceeds the share that flows.

    Args:
        rev_per_s [1/s]: crankshaft speed, 1 to 200.
        dead_time [s]: opening less closing delay at the actual voltage, 0 to 0.005.

    Returns:
        [1]: share of the cycle.

    Raises:
        DomainError: an argument outside its range.

    Source: `commanded_duty` where no fuel flows.

    >>> dead_time_share(100.0, 0.001)
    0.05
    """
    require("dead_time", dead_time, 0.0, 5e-3)
    return dead_time / cycle_time(rev_per_s)


def power_at_duty(bsfc: Real, number: Real, static_flow: Real, duty: Real) -> Real:
    """Power at which the injectors reach a duty.

    Args:
        bsfc [kg/J]: fuel per unit of brake work, 4e-8 to 3e-7.
        number [1]: injectors, 1 to 24.
        static_flow [kg/s]: of one injector at its actual differential pressure, 1e-4 to 0.1.
        duty [1]: share of the cycle in which fuel flows, 0.1 to 1.

    Returns:
        [W]: brake power.

    Raises:
        DomainError: an argument outside its range.

    Source: definitions of duty and of specific fuel consumption.

    >>> round(power_at_duty(1e-7, 8.0, 0.007, 0.85))
    476000
    """
    require("bsfc", bsfc, 4e-8, 3e-7)
    require("number", number, 1.0, 24.0)
    require("static_flow", static_flow, 1e-4, 0.1)
    require("duty", duty, 0.1, 1.0)
    return number * static_flow * duty / bsfc


def fuel_volume_flow(total_fuel_flow: Real, fuel_density: Real) -> Real:
    """Volume of the fuel that is burnt.

    Args:
        total_fuel_flow [kg/s]: of the whole engine, 0 to 0.5.
        fuel_density [kg/m^3]: 600 to 900.

    Returns:
        [m^3/s]: volume flow.

    Raises:
        DomainError: an argument outside its range.

    Source: definition of density.

    >>> round(fuel_volume_flow(0.045, 745.0) * 3.6e6, 1)
    217.4
    """
    require("total_fuel_flow", total_fuel_flow, 0.0, 0.5)
    require("fuel_density", fuel_density, 600.0, 900.0)
    return total_fuel_flow / fuel_density


def pump_flow_needed(volume_flow: Real, margin: Real) -> Real:
    """Volume flow that the pump must still deliver at rail pressure.

    Args:
        volume_flow [m^3/s]: of the fuel that is burnt, 0 to 1e-3.
        margin [1]: share on top, 0 to 1; see `PUMP_MARGIN`.

    Returns:
        [m^3/s]: volume flow.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice.

    >>> round(pump_flow_needed(6e-5, 0.2) * 1e5, 3)
    7.2
    """
    require("volume_flow", volume_flow, 0.0, 1e-3)
    require("margin", margin, 0.0, 1.0)
    return volume_flow * (1.0 + margin)


def pump_curve_share(pressure: Real, first_pressure: Real, second_pressure: Real) -> Real:
    """Place between two points of a pump's curve that its maker published.

    Args:
        pressure [Pa]: gauge, 0 to 2000000.
        first_pressure [Pa]: gauge, of the first point, 0 to 2000000.
        second_pressure [Pa]: gauge, of the second point, 0 to 2000000, not that of the first.

    Returns:
        [1]: 0 at the first point, 1 at the second; the curve isn't known below 0 and above 1.

    Raises:
        DomainError: an argument outside its range.

    Source: linear interpolation.

    >>> pump_curve_share(350e3, 300e3, 500e3)
    0.25
    """
    require("pressure", pressure, 0.0, 2e6)
    require("first_pressure", first_pressure, 0.0, 2e6)
    require("second_pressure", second_pressure, 0.0, 2e6)
    return (pressure - first_pressure) / (second_pressure - first_pressure)


def pump_flow_on_curve(share: Real, first_flow: Real, second_flow: Real) -> Real:
    """Flow of a pump between two points of its curve, at the voltage of both.

    Args:
        share [1]: from `pump_curve_share`, -0.01 to 1.01; what is past an end may be rounding.
        first_flow [m^3/s]: at the first point, 0 to 1e-3.
        second_flow [m^3/s]: at the second point, 0 to 1e-3.

    Returns:
        [m^3/s]: flow, on the straight line through both points.

    Raises:
        DomainError: an argument outside its range.

    Source: linear interpolation of the maker's points.

    >>> round(pump_flow_on_curve(0.25, 1.0e-4, 0.8e-4) * 1e4, 6)
    0.95
    """
    require("share", share, -0.01, 1.01)
    require("first_flow", first_flow, 0.0, 1e-3)
    require("second_flow", second_flow, 0.0, 1e-3)
    return first_flow - share * (first_flow - second_flow)


def pump_flow_at_voltage(
    voltage: Real, low_voltage: Real, flow_at_low: Real, high_voltage: Real, flow_at_high: Real
) -> Real:
    """Flow of a pump between two voltages that its maker published, at the same pressure.

    Args:
        voltage [V]: at the pump's terminals, 6 to 20, between the two others.
        low_voltage [V]: 6 to 20.
        flow_at_low [m^3/s]: 0 to 1e-3.
        high_voltage [V]: 6 to 20, at least half a volt above the low one.
        flow_at_high [m^3/s]: 0 to 1e-3.

    Returns:
        [m^3/s]: flow, linear between the two.

    Raises:
        DomainError: an argument outside its range.

    Source: linear interpolation of the maker's points.

    >>> round(float(pump_flow_at_voltage(13.0, 12.0, 0.8e-4, 14.0, 1.0e-4)) * 1e4, 6)
    0.9
    """
    require("low_voltage", low_voltage, *_VOLTAGE)
    require("high_voltage", high_voltage, *_VOLTAGE)
    require("voltage", voltage, *_VOLTAGE)
    require("high_voltage less low_voltage", high_voltage - low_voltage, 0.5, 14.0)
    require("voltage less low_voltage", voltage - low_voltage, 0.0, 14.0)
    require("high_voltage less voltage", high_voltage - voltage, 0.0, 14.0)
    require("flow_at_low", flow_at_low, 0.0, 1e-3)
    require("flow_at_high", flow_at_high, 0.0, 1e-3)
    share: Real = (voltage - low_voltage) / (high_voltage - low_voltage)
    return flow_at_low + (flow_at_high - flow_at_low) * share


def pump_voltage_factor(voltage_ratio: Real, exponent: Real) -> Real:
    """Rough flow of a pump at another voltage, where its maker published only one.

    Args:
        voltage_ratio [1]: at the pump's terminals over that of its curve, 0.4 to 2.
        exponent [1]: 1 to 2.5; 1 for speed in proportion to voltage, more near the pump's
            highest pressure.

    Returns:
        [1]: flow over the flow on the curve, to some 10 %; the maker's curve overrides it.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice.

    >>> round(pump_voltage_factor(12.0 / 13.5, 1.0), 4)
    0.8889
    """
    require("voltage_ratio", voltage_ratio, 0.4, 2.0)
    require("exponent", exponent, 1.0, 2.5)
    return voltage_ratio**exponent


def pump_electrical_power(volume_flow: Real, pressure: Real, efficiency: Real) -> Real:
    """Electrical power that a pump draws.

    Args:
        volume_flow [m^3/s]: 0 to 1e-3.
        pressure [Pa]: rise across the pump, 0 to 1500000.
        efficiency [1]: motor and pump together, 0.05 to 1; about 0.3, common practice.

    Returns:
        [W]: electrical power.

    Raises:
        DomainError: an argument outside its range.

    Source: hydraulic power over efficiency, Q·Δp/η.

    >>> round(pump_electrical_power(8.45e-3 / 60.0, 3e5, 0.3), 1)
    140.8
    """
    require("volume_flow", volume_flow, 0.0, 1e-3)
    require("pressure", pressure, 0.0, 1.5e6)
    require("efficiency", efficiency, 0.05, 1.0)
    return volume_flow * pressure / efficiency


def _mixed(share: Real, base: Real, added: Real) -> Real:
    """Mean of two fuels' figures by the added one's share."""
    return (1.0 - share) * base + share * added


def blend_density(volume_fraction: Real, base_density: Real, added_density: Real) -> Real:
    """Density of two fuels mixed by volume.

    Args:
        volume_fraction [1]: of the added fuel, 0 to 1.
        base_density [kg/m^3]: 600 to 900.
        added_density [kg/m^3]: 600 to 900.

    Returns:
        [kg/m^3]: density, without the 0.3 % that ethanol and gasoline expand on mixing.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass, volumes added.

    >>> round(blend_density(0.85, 745.0, 792.0), 2)
    784.95
    """
    require("volume_fraction", volume_fraction, 0.0, 1.0)
    require("base_density", base_density, 600.0, 900.0)
    require("added_density", added_density, 600.0, 900.0)
    return _mixed(volume_fraction, base_density, added_density)


def blend_mass_fraction(volume_fraction: Real, base_density: Real, added_density: Real) -> Real:
    """Share of the mass that the added fuel has in a blend made by volume.

    Args:
        volume_fraction [1]: of the added fuel, 0 to 1.
        base_density [kg/m^3]: 600 to 900.
        added_density [kg/m^3]: 600 to 900.

    Returns:
        [1]: mass fraction of the added fuel.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of mass.

    >>> round(blend_mass_fraction(0.85, 745.0, 792.0), 4)
    0.8576
    """
    density = blend_density(volume_fraction, base_density, added_density)
    return volume_fraction * added_density / density


def blend_heating_value(mass_fraction: Real, base_value: Real, added_value: Real) -> Real:
    """Lower heating value of a blend.

    Args:
        mass_fraction [1]: of the added fuel, 0 to 1.
        base_value [J/kg]: lower heating value, 1.5e7 to 5e7.
        added_value [J/kg]: lower heating value, 1.5e7 to 5e7.

    Returns:
        [J/kg]: lower heating value of the blend.

    Raises:
        DomainError: an argument outside its range.

    Source: conservation of energy, heat of mixing neglected.

    >>> round(blend_heating_value(0.8576, 43.44e6, 26.75e6), -4)
    29130000.0
    """
    require("mass_fraction", mass_fraction, 0.0, 1.0)
    require("base_value", base_value, 1.5e7, 5e7)
    require("added_value", added_value, 1.5e7, 5e7)
    return _mixed(mass_fraction, base_value, added_value)


def blend_stoichiometric_ratio(mass_fraction: Real, base_ratio: Real, added_ratio: Real) -> Real:
    """Stoichiometric air-fuel ratio of a blend.

    Args:
        mass_fraction [1]: of the added fuel, 0 to 1.
        base_ratio [1]: air-fuel ratio by mass, 5 to 20.
        added_ratio [1]: air-fuel ratio by mass, 5 to 20.

    Returns:
        [1]: air-fuel ratio of the blend by mass.

    Raises:
        DomainError: an argument outside its range.

    Source: each part needs its own air; conservation of mass. Tables that weigh by the volume
        percentage instead print 9.85 for E85.

    >>> round(blend_stoichiometric_ratio(0.8576, 14.7, 9.0), 2)
    9.81
    """
    require("mass_fraction", mass_fraction, 0.0, 1.0)
    require("base_ratio", base_ratio, 5.0, 20.0)
    require("added_ratio", added_ratio, 5.0, 20.0)
    return _mixed(mass_fraction, base_ratio, added_ratio)


def blend_viscosity_bound(
    volume_fraction: Real, base_viscosity: Real, added_viscosity: Real
) -> Real:
    """Upper bound of the viscosity of a blend, for the loss in a line.

    Args:
        volume_fraction [1]: of the added fuel, 0 to 1.
        base_viscosity [Pa*s]: dynamic, 1e-4 to 0.05.
        added_viscosity [Pa*s]: dynamic, 1e-4 to 0.05.

    Returns:
        [Pa*s]: linear by volume; real blends are thinner, which hardly changes the line loss.

    Raises:
        DomainError: an argument outside its range.

    Source: common practice: mixing rules that average logarithms give less than the straight line.

    >>> round(blend_viscosity_bound(0.5, 4.0e-4, 1.2e-3) * 1e3, 6)
    0.8
    """
    require("volume_fraction", volume_fraction, 0.0, 1.0)
    require("base_viscosity", base_viscosity, 1e-4, 0.05)
    require("added_viscosity", added_viscosity, 1e-4, 0.05)
    return _mixed(volume_fraction, base_viscosity, added_viscosity)
