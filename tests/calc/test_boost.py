"""Boost by pulley against printed examples, reference libraries, closed forms and laws."""

from __future__ import annotations

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc import boost
from calc.constants import GAMMA_AIR, R_AIR
from calc.domain import Real
from tests.calc import blower

PSI = 6894.757293168


def printed(*rows: tuple[object, ...]) -> list[object]:
    """Turn rows that begin with their source into parameters named after it."""
    return [pytest.param(*row[1:], id=str(row[0])) for row in rows]


# --- work and temperature --------------------------------------------------------------------

WORK_PER_TERM = GAMMA_AIR / (GAMMA_AIR - 1.0)


@pytest.mark.parametrize(
    ("built_in", "kilojoule", "tolerance"),
    printed(
        ("Rajput, IC Engines, ex 20.35 p 777: Roots, 1.520 kJ/rev", 1.0, 1.520, 0.000501),
        ("Rajput, IC Engines, ex 20.35 p 777: vane, 1.348 kJ/rev", 1.25, 1.348, 0.0015),
    ),
)
def test_work_per_revolution_is_the_printed_one(
    built_in: float, kilojoule: float, tolerance: float
) -> None:
    work = WORK_PER_TERM * float(boost.compression_work(1.5, built_in)) * 101_300.0 * 0.03
    assert work / 1000.0 == pytest.approx(kilojoule, abs=tolerance)


def efficiency(pressure_ratio: float, built_in: float) -> float:
    """Isentropic over indicated work."""
    ideal = pressure_ratio ** (1.0 / WORK_PER_TERM) - 1.0
    return ideal / float(boost.compression_work(pressure_ratio, built_in))


@pytest.mark.parametrize(
    ("volume_ratio", "pressure_ratio", "expected"),
    [
        pytest.param(vi, pr, eta, id=f"closed form of fixed internal compression: vi {vi} PR {pr}")
        for vi, row in {
            1.0: (0.93577, 0.88294, 0.83837, 0.80003, 0.76655, 0.73694),
            1.2: (0.98953, 0.99262, 0.96278, 0.92874, 0.89571, 0.86490),
            1.3: (0.93716, 0.99895, 0.99138, 0.96792, 0.94045, 0.91268),
            1.4: (0.86123, 0.98059, 1.00000, 0.99094, 0.97187, 0.94926),
        }.items()
        for pr, eta in zip((1.2, 1.4, 1.6, 1.8, 2.0, 2.2), row, strict=True)
    ],
)
def test_efficiency_of_fixed_internal_compression(
    volume_ratio: float, pressure_ratio: float, expected: float
) -> None:
    found = efficiency(pressure_ratio, volume_ratio**GAMMA_AIR)
    assert found == pytest.approx(expected, abs=1e-4 if volume_ratio != 1.4 else 2e-4)


def test_too_much_internal_compression_costs_more_than_none() -> None:
    # Closed form: vi 1.6 at PR 1.2 gives 0.70072, a Roots type 0.93577.
    assert efficiency(1.2, 1.6**1.4) == pytest.approx(0.70072, abs=1e-4)
    assert efficiency(1.2, 1.6**1.4) < efficiency(1.2, 1.0)


@given(st.floats(1.001, 3.0), st.floats(1.0, 2.5))
def test_indicated_work_is_never_below_isentropic(pressure_ratio: float, built_in: float) -> None:
    assert efficiency(pressure_ratio, built_in) <= 1.0 + 1e-9


@given(st.floats(1.01, 2.5))
def test_matched_internal_compression_is_isentropic(pressure_ratio: float) -> None:
    assert efficiency(pressure_ratio, pressure_ratio) == pytest.approx(1.0, abs=1e-9)
    ideal = fluids.isentropic_T_rise_compression(
        T1=300.0, P1=1.0, P2=pressure_ratio, k=GAMMA_AIR, eta=1.0
    )
    work = float(boost.compression_work(pressure_ratio, pressure_ratio))
    assert 300.0 * (1.0 + work) == pytest.approx(ideal, rel=1e-9)


@pytest.mark.parametrize(
    ("pressure_ratio", "rise"),
    printed(
        ("ideal Roots dT/T1, closed form: PR 1.4", 1.4, 0.11429),
        ("ideal Roots dT/T1, closed form: PR 1.8", 1.8, 0.22857),
        ("ideal Roots dT/T1, closed form: PR 2.2", 2.2, 0.34286),
    ),
)
def test_roots_temperature_rise(pressure_ratio: float, rise: float) -> None:
    assert float(boost.compression_work(pressure_ratio, 1.0)) == pytest.approx(rise, abs=1e-5)


def test_blower_power_and_outlet_of_a_boosted_engine() -> None:
    # Mathur & Sharma, Internal Combustion Engines, ex 17.1 p 333: 3.0 L at 3500 rpm, 300 K, PR 1.7,
    # η_is 0.75, η_mech 0.80, 0.14319 kg/s: T₂ 366.67 K, 11.992 kW. The book rounds its isentropic
    # temperature from 349.1 up to 350 K, which is a pressure ratio of 1.7152. A machine whose
    # built-in ratio matches does the isentropic work.
    rounded = (350.0 / 300.0) ** 3.5
    work = float(boost.compression_work(rounded, rounded)) / 0.75
    assert 300.0 * (1.0 + work) == pytest.approx(366.67, abs=0.005)
    power = 0.14319 * 1005.0 * 300.0 * work / 0.80
    assert power == pytest.approx(11_992.0, abs=2.0)


# --- leakage ---------------------------------------------------------------------------------


def test_leakage_chokes_at_the_critical_ratio() -> None:
    # fluids: critical pressure of an isentropic nozzle, also ISO 9300 and Heywood app. C, 0.52828.
    critical = fluids.P_critical_flow(1.0, 1.4)
    assert pytest.approx(critical, abs=1e-9) == 1.0 / boost.CRITICAL_RATIO
    assert pytest.approx(0.52828, abs=5e-6) == 1.0 / boost.CRITICAL_RATIO
    assert float(boost.orifice_function(boost.CRITICAL_RATIO)) == pytest.approx(1.0, abs=1e-12)
    assert float(boost.orifice_function(2.5)) == 1.0


@given(st.floats(1.001, 1.893))
def test_orifice_function_is_the_nozzle_flow(pressure_ratio: float) -> None:
    back = 1.0 / pressure_ratio
    flow = np.sqrt(2 * 1.4 / 0.4 * max(back ** (2 / 1.4) - back ** (2.4 / 1.4), 0.0))
    choked = np.sqrt(1.4) * (2 / 2.4) ** 3  # Heywood app. C: 0.684731.
    assert float(boost.orifice_function(pressure_ratio)) == pytest.approx(flow / choked, abs=1e-9)


# --- drive -----------------------------------------------------------------------------------


def test_drive_ratio_is_that_of_the_pitch_diameters_times_the_gears() -> None:
    # ISO 9981, de 200 and 80 mm, b_e 2 mm: 2.42857 by pitch diameters, not 2.5 by effective ones.
    assert boost.drive_ratio(0.204, 0.084, 1.0) == pytest.approx(2.42857, abs=1e-5)
    assert boost.drive_ratio(0.204, 0.084, 0.5) == pytest.approx(1.214286, abs=1e-6)


def test_dimensions_come_out_right() -> None:
    units = pint.get_application_registry()
    speed = boost.rotor_speed(100.0 / units.second, 2.0, 0.01)
    assert speed.check("1/[time]")
    swept = boost.swept_ratio(2.0e-3 * units.m**3, 5.0e-3 * units.m**3, 2.0)
    assert swept.to_base_units().check("[]")
    ratio = boost.drive_ratio(0.180 * units.m, 0.092 * units.m, 1.0)
    assert ratio.check("[]")


# --- the balance -----------------------------------------------------------------------------

SEA_LEVEL = {"ambient_pressure": 101_325.0, "intake_temperature": 298.15}


def set_up(ratio: Real, **changed: Real) -> blower.SetUp:
    """A set-up of our own invention, changed in some entries."""
    entries = {
        "engine_displacement": 5.6e-3,
        "blower_displacement": 2.6e-3,
        "built_in_ratio": 1.3,
        "ratio": ratio,
        "slip": 0.01,
        "leakage_speed": 500.0 / 60.0,
        "effectiveness": 0.75,
        "coolant_temperature": 313.15,
        "inlet_depression": 1500.0,
        "cooler_drop": 4000.0,
        **SEA_LEVEL,
    }
    return blower.SetUp(**(entries | changed))


def test_balance_by_an_independent_root_finder() -> None:
    # scipy brentq on the mass balance written out again from conservation of mass.
    setup = set_up(1.9)
    point = blower.operating_point(setup, 100.0, 0.95)
    inlet = 101_325.0 - 1500.0

    def surplus(outlet: float) -> float:
        ratio = outlet / inlet
        speed = 100.0 * 1.9 * 0.99
        back = max(1.0 / ratio, 0.528281788)
        leak = np.sqrt((back ** (2 / 1.4) - back ** (2.4 / 1.4)) / 0.0669796)
        delivered = 0.97 - 500.0 / 60.0 / speed * leak * ratio
        work = (1.3 ** (0.4 / 1.4) - 1) + (0.4 / 1.4) * (ratio - 1.3) * 1.3 ** (-1 / 1.4)
        hot = 298.15 * (1 + 1.05 * work / delivered)
        charge = hot - 0.75 * (hot - 313.15)
        made = delivered * 2.6e-3 * speed * inlet / (R_AIR * 298.15)
        taken = 0.95 * 5.6e-3 / 2 * 100.0 * (outlet - 4000.0) / (R_AIR * charge)
        return taken - made

    outlet = brentq(surplus, inlet, 3.0 * inlet, xtol=1e-6)
    assert float(point.boost) == pytest.approx(outlet - 4000.0 - 101_325.0, abs=1.0)


def test_balance_is_the_mass_identity() -> None:
    # PR = V_b · ratio · η_v · 2 / (V_e · η_e) · T_m/T₁, four-stroke, no cooler drop.
    setup = set_up(1.9, cooler_drop=0.0)
    point = blower.operating_point(setup, 100.0, 0.95)
    identity = (
        (2.6 * 1.9 * 0.99 * point.blower_efficiency * 2.0)
        / (5.6 * 0.95)
        * (point.charge_temperature / 298.15)
    )
    assert float(point.pressure_ratio) == pytest.approx(float(identity), rel=1e-9)


def test_energy_balance_with_reference_air(coolprop) -> None:
    # CoolProp: drive power less mechanical loss is the enthalpy rise of the air, real-gas c_p.
    point = blower.operating_point(set_up(1.9), 100.0, 0.95)
    rise = coolprop.PropsSI(
        "H", "T", float(point.outlet_temperature), "P", 1.8e5, "Air"
    ) - coolprop.PropsSI("H", "T", 298.15, "P", 1e5, "Air")
    assert float(point.drive_power) == pytest.approx(float(point.air_flow) * rise, rel=0.01)


def test_common_practice_eleven_to_twelve_psi() -> None:
    # Common practice: 2.9 L per revolution with internal compression on a 5.0 L four-valve V8,
    # 3¾ in blower pulley, crank pulley near 6.3 in: 11 to 12 psi in the upper half of the speed
    # range at sea level. Large, tight rotors: leakage speed 300 rpm; the engine breathes 1.04.
    inch = 0.0254
    ratio = float(boost.drive_ratio(6.3 * inch + 0.004, 3.75 * inch + 0.004, 1.0))
    setup = set_up(
        ratio,
        engine_displacement=5.0e-3,
        blower_displacement=2.9e-3,
        leakage_speed=300.0 / 60.0,
    )
    speeds = np.array([4000.0, 4500.0, 5000.0, 5500.0, 6000.0, 6500.0, 7000.0]) / 60.0
    psi = np.asarray(blower.operating_point(setup, speeds, 1.04).boost) / PSI
    assert np.all((psi > 10.9) & (psi < 12.3)), psi
    assert 11.0 <= float(np.mean(psi)) <= 12.0


# --- losses with speed -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pressure_ratio", "temperatures", "expected"),
    printed(
        ("Mathur & Sharma, IC Engines, ex 17.1 p 333: η_is 0.75", 1.7152, (300.0, 366.67), 0.75),
        ("fluids: isentropic compression with efficiency 0.6", 1.8, (298.15, None), 0.6),
    ),
)
def test_overall_efficiency_from_temperatures(
    pressure_ratio: float, temperatures: tuple[float, float | None], expected: float
) -> None:
    inlet, outlet = temperatures
    if outlet is None:
        outlet = fluids.isentropic_T_rise_compression(
            T1=inlet, P1=1.0, P2=pressure_ratio, k=GAMMA_AIR, eta=expected
        )
    for efficiency in (0.7, 0.95):
        work = boost.shaft_work_from_outlet(outlet / inlet, efficiency)
        ideal = boost.isentropic_rise(pressure_ratio)
        found = boost.overall_efficiency(ideal, efficiency, work)
        assert float(found) == pytest.approx(expected, abs=5e-4)
        back = boost.shaft_work_from_efficiency(ideal, efficiency, found)
        assert float(back) == pytest.approx(float(work), rel=1e-12)


def test_overall_efficiency_is_ideal_over_real_power() -> None:
    point = blower.operating_point(set_up(1.9, speed_loss_factor=20.0), 100.0, 0.95)
    ideal = fluids.isentropic_T_rise_compression(
        T1=298.15, P1=1.0, P2=float(point.pressure_ratio), k=GAMMA_AIR, eta=1.0
    )
    power = float(point.air_flow) * GAMMA_AIR / (GAMMA_AIR - 1.0) * R_AIR * (ideal - 298.15)
    work = float(point.drive_power) / (
        GAMMA_AIR / (GAMMA_AIR - 1.0) * 99_825.0 * 2.6e-3 * float(point.rotor_speed)
    )
    found = boost.overall_efficiency(ideal / 298.15 - 1.0, float(point.blower_efficiency), work)
    assert found == pytest.approx(power / float(point.drive_power), rel=1e-9)


@given(st.floats(0.5, 5.0), st.floats(0.5, 2.0))
def test_rotors_of_one_shape_lose_alike_at_one_tip_speed(larger: float, faster: float) -> None:
    # Similarity: eight times the displacement is twice the size, and half the speed the same tip.
    size = boost.rotor_size_squared(1e-3)
    grown = boost.rotor_size_squared(1e-3 * larger)
    one = boost.speed_loss(20.0, 200.0, size, 298.15)
    alike = boost.speed_loss(20.0, 200.0 / larger ** (1.0 / 3.0), grown, 298.15)
    assert float(alike) == pytest.approx(float(one), rel=1e-9)
    quicker = boost.speed_loss(20.0, 200.0 * faster, size, 298.15)
    assert float(quicker) == pytest.approx(float(one) * faster**2, rel=1e-9)
    back = boost.speed_loss_coefficient(quicker, 200.0 * faster, size, 298.15)
    assert float(back) == pytest.approx(20.0, rel=1e-9)


def test_balance_with_losses_by_an_independent_root_finder() -> None:
    # scipy brentq, as above, with 20·(N·V_b^⅓)² on top of the work for each kilogram.
    point = blower.operating_point(set_up(1.9, speed_loss_factor=20.0), 100.0, 0.95)
    inlet, speed, heat = 101_325.0 - 1500.0, 100.0 * 1.9 * 0.99, 3.5 * R_AIR

    def surplus(outlet: float) -> float:
        ratio = outlet / inlet
        back = max(1.0 / ratio, 0.528281788)
        leak = np.sqrt((back ** (2 / 1.4) - back ** (2.4 / 1.4)) / 0.0669796)
        delivered = 0.97 - 500.0 / 60.0 / speed * leak * ratio
        work = (1.3 ** (0.4 / 1.4) - 1) + (0.4 / 1.4) * (ratio - 1.3) * 1.3 ** (-1 / 1.4)
        lost = 20.0 * (speed * 2.6e-3 ** (1 / 3)) ** 2 / heat
        hot = 298.15 + (1.05 * work * 298.15 + lost) / delivered
        charge = hot - 0.75 * (hot - 313.15)
        made = delivered * 2.6e-3 * speed * inlet / (R_AIR * 298.15)
        taken = 0.95 * 5.6e-3 / 2 * 100.0 * (outlet - 4000.0) / (R_AIR * charge)
        return taken - made

    outlet = brentq(surplus, inlet, 3.0 * inlet, xtol=1e-6)
    assert float(point.boost) == pytest.approx(outlet - 4000.0 - 101_325.0, abs=1.0)


@given(st.floats(0.0, 50.0))
def test_share_of_a_drive_ratio_solves_its_cubic(extra: float) -> None:
    share = float(boost.share_of_drive_ratio(extra))
    assert share + extra * share**3 == pytest.approx(1.0, abs=1e-12)


@given(st.floats(0.0, 0.95), st.floats(290.0, 320.0))
def test_effectiveness_is_read_back(effectiveness: float, coolant: float) -> None:
    before = 390.0
    after = before - effectiveness * (before - coolant)
    assert boost.cooler_effectiveness(before, after, coolant) == pytest.approx(effectiveness)


# --- laws ------------------------------------------------------------------------------------


def scattered(*spans: tuple[float, float]) -> list[np.ndarray]:
    """Three thousand points all over a box: the balance is solved for all of them at once."""
    numbers = np.random.default_rng(len(spans))
    return [numbers.uniform(low, high, 3000) for low, high in spans]


def test_a_smaller_pulley_always_makes_more_boost() -> None:
    ratio, faster, speed = scattered((1.5, 2.4), (1.001, 1.2), (40.0, 130.0))
    slow = blower.operating_point(set_up(ratio), speed, 0.95).boost
    fast = blower.operating_point(set_up(ratio * faster), speed, 0.95).boost
    answered = np.isfinite(slow) & np.isfinite(fast)
    assert answered.mean() > 0.9
    assert (fast > slow)[answered].all()


def test_slip_takes_boost_and_power_away_together() -> None:
    ratio, slip = scattered((1.6, 2.2), (0.0, 0.1))
    whole = blower.operating_point(set_up(ratio, slip=0.0), 100.0, 0.95)
    slipping = blower.operating_point(set_up(ratio, slip=slip), 100.0, 0.95)
    assert (slipping.boost <= whole.boost).all()
    assert (slipping.drive_power <= whole.drive_power).all()


def test_a_cooler_drop_costs_less_boost_than_its_own_size() -> None:
    ratio, drop = scattered((1.6, 2.2), (0.0, 20_000.0))
    free = blower.operating_point(set_up(ratio, cooler_drop=0.0), 100.0, 0.95).boost
    held = blower.operating_point(set_up(ratio, cooler_drop=drop), 100.0, 0.95).boost
    assert ((free - drop <= held) & (held <= free + 0.25 * drop)).all()


def test_rating_gives_back_the_engine_it_came_from() -> None:
    ratio, engine, speed = scattered((1.5, 2.5), (0.8, 1.15), (50.0, 125.0))
    point = blower.operating_point(set_up(ratio), speed, engine)
    answered = np.isfinite(point.pressure_ratio)
    assert answered.mean() > 0.9
    there = point.pressure_ratio[answered]
    leak = 500.0 / 60.0 / point.rotor_speed[answered]
    found = boost.engine_efficiency_from_rating(
        boost.swept_ratio(2.6e-3, 5.6e-3, ratio[answered], 0.01),
        boost.delivery(there, leak, 0.75, 313.15 / 298.15, *boost.shaft_work_terms(1.3)),
        there,
        4000.0 / (101_325.0 - 1500.0),
    )
    assert found == pytest.approx(engine[answered], rel=1e-9)


def test_wanted_boost_gives_back_the_drive_it_came_from() -> None:
    ratio, speed = scattered((1.5, 2.5), (50.0, 125.0))
    point = blower.operating_point(set_up(ratio), speed, 0.95)
    answered = np.isfinite(point.pressure_ratio)
    assert answered.mean() > 0.9
    there, terms = point.pressure_ratio[answered], boost.shaft_work_terms(1.3)
    tight, leaky = (boost.delivery(there, n, 0.75, 313.15 / 298.15, *terms) for n in (0.0, 1.0))
    found = boost.drive_ratio_for(
        0.95,
        there,
        4000.0 / (101_325.0 - 1500.0),
        boost.swept_ratio(2.6e-3, 5.6e-3, 1.0, 0.01),
        500.0 / 60.0 / (speed[answered] * 0.99),
        tight,
        tight - leaky,
    )
    assert found == pytest.approx(ratio[answered], rel=1e-9)


def test_an_engine_that_out_breathes_the_blower_has_no_number() -> None:
    point = blower.operating_point(set_up(0.8), 100.0, 0.95)
    assert np.isnan(float(point.boost))
    assert np.isfinite(float(point.rotor_speed))


def test_rotors_too_slow_to_hold_pressure_have_no_number() -> None:
    point = blower.operating_point(set_up(1.9, leakage_speed=2000.0 / 60.0), 20.0, 0.60)
    assert np.isnan(float(point.boost))
