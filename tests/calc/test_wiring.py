"""Wiring against published tables and worked examples."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import wiring
from calc.domain import DomainError
from site_src.data import wires as data

FOOT = 0.3048
ZERO = 273.15
ANNEALED = 1.7241e-8
"""Resistivity of annealed copper at 20 °C, Ω·m: IEC 60028."""


def size(key: str) -> data.Wire:
    return next(wire for wire in data.wires() if wire.key == key)


# --- wire ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "inches"),
    [
        pytest.param(n, d, id=f"ASTM B258, {n} AWG")
        for n, d in [
            (4, 0.20431),
            (8, 0.12849),
            (10, 0.10189),
            (12, 0.08081),
            (14, 0.06408),
            (18, 0.0403),
        ]
    ],
)
def test_a_gauge_has_its_printed_diameter(number: int, inches: float) -> None:
    diameter = math.sqrt(4.0 * float(wiring.gauge_area(float(number))) / math.pi)
    assert diameter / 0.0254 == pytest.approx(inches, rel=5e-4)


@pytest.mark.parametrize(
    ("number", "ohms"),
    [
        pytest.param(n, r, id=f"NBS Handbook 100, {n} AWG solid")
        for n, r in zip(
            (4, 6, 8, 10, 12, 14, 16, 18, 20),
            (0.2485, 0.3951, 0.6282, 0.9989, 1.588, 2.525, 4.016, 6.385, 10.15),
            strict=True,
        )
    ],
)
def test_a_solid_gauge_has_its_printed_resistance(number: int, ohms: float) -> None:
    per_length = ANNEALED / float(wiring.gauge_area(float(number)))
    assert per_length * 1000.0 * FOOT == pytest.approx(ohms, rel=1e-3)


@pytest.mark.parametrize(
    ("celsius", "factor"),
    [
        pytest.param(t, k, id=f"IEC 60228 annex, {t} °C")
        for t, k in [(5, 1.064), (25, 0.980), (50, 0.893), (80, 0.806), (100, 0.758)]
    ],
)
def test_copper_warms_as_the_standard_has_it(celsius: float, factor: float) -> None:
    # Printed is the factor that brings a reading back to 20 °C, with 0.004 in place of 1/254.5,
    # which is 0.0039293: at 100 °C that alone is 0.43 %.
    assert 1.0 / wiring.copper_factor(ZERO + celsius) == pytest.approx(factor, rel=4.5e-3)


@pytest.mark.parametrize(
    ("celsius", "share"),
    [pytest.param(80.0, 0.80922, id="FAA AC 43.13-1B 11-66b: 254.5/(234.5 + 80)")],
)
def test_a_warm_run_is_shorter_for_the_same_drop(celsius: float, share: float) -> None:
    assert 1.0 / wiring.copper_factor(ZERO + celsius) == pytest.approx(share, abs=1e-5)


@pytest.mark.parametrize(
    ("volts", "amps", "ohm_per_foot", "feet"),
    [
        pytest.param(0.942, 20.0, 0.00044, 107.0, id="AC 43.13-1B table 11-7, No. 6"),
        pytest.param(0.504, 20.0, 0.00028, 90.0, id="AC 43.13-1B table 11-7, No. 4"),
        pytest.param(6.12, 20.0, 0.00306, 100.0, id="AC 43.13-1B table 11-7, No. 14"),
        pytest.param(
            3.5552, 20.0, 0.00202, 88.0, id="AC 43.13-1B table 11-7, No. 12: prints 3.60, is 3.5552"
        ),
        pytest.param(0.98, 20.0, 0.00126, 39.0, id="AC 43.13-1B table 11-8, No. 10, 39 ft"),
        pytest.param(
            0.4914, 20.0, 0.00126, 19.5, id="AC 43.13-1B table 11-8: prints .366, is 0.4914"
        ),
        pytest.param(3.93, 20.0, 0.00126, 156.0, id="AC 43.13-1B table 11-8, 156 ft"),
        pytest.param(6.88, 20.0, 0.00126, 273.0, id="AC 43.13-1B table 11-8, 273 ft"),
    ],
)
def test_drops_worked_in_public(
    volts: float, amps: float, ohm_per_foot: float, feet: float
) -> None:
    resistance = wiring.wire_resistance(ohm_per_foot / FOOT, feet * FOOT, 1.0)
    assert wiring.voltage_drop(amps, resistance) == pytest.approx(volts, abs=5.1e-3)


@pytest.mark.parametrize(
    ("number", "ohms"),
    [
        pytest.param(n, r, id=f"NFPA 70 ch. 9 table 8 at 75 °C, {n} AWG")
        for n, r in [(14, 3.14), (12, 1.98), (10, 1.24), (8, 0.778), (6, 0.491), (4, 0.308)]
    ],
)
def test_stranded_gauges_by_the_code_table(number: int, ohms: float) -> None:
    wire = size(f"awg{number}")
    warm = wiring.wire_resistance(
        wire.resistance, 1000.0 * FOOT / 10.0, float(wiring.copper_factor(ZERO + 75.0))
    )
    assert 10.0 * warm == pytest.approx(ohms, rel=1e-9)


@pytest.mark.parametrize("number", [18, 16, 14, 12, 10, 8, 6, 4, 2])
def test_a_stranded_gauge_is_a_little_worse_than_solid_by_resistivity(number: int) -> None:
    solid = ANNEALED / float(wiring.gauge_area(float(number)))
    assert 1.0 < size(f"awg{number}").resistance / solid < 1.04


@pytest.mark.parametrize("key", [w.key for w in data.wires() if w.is_metric])
def test_a_metric_size_is_within_a_tenth_of_its_area_by_resistivity(key: str) -> None:
    wire = size(key)
    assert 1.0 < wire.resistance * wire.area / ANNEALED < 1.17


@pytest.mark.parametrize(
    ("key", "ohms"),
    [
        pytest.param(key, r, id=f"IEC 60228 class 5, {key}")
        for key, r in [
            ("mm1", 19.5),
            ("mm1_5", 13.3),
            ("mm2_5", 7.98),
            ("mm4", 4.95),
            ("mm6", 3.30),
            ("mm10", 1.91),
            ("mm16", 1.21),
            ("mm25", 0.780),
            ("mm35", 0.554),
        ]
    ],
)
def test_metric_wires_have_the_standards_resistance(key: str, ohms: float) -> None:
    assert 1e3 * size(key).resistance == pytest.approx(ohms)


# --- heat ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("limit", "printed"),
    [
        pytest.param(t, k, id=f"33 CFR 183.425 table 5 note 1, {t} °C at 50 °C, from memory")
        for t, k in [(75, 0.75), (80, 0.78), (90, 0.82), (105, 0.85), (125, 0.89)]
    ],
)
def test_engine_spaces_take_what_the_rule_says(limit: float, printed: float) -> None:
    factor = wiring.air_factor(ZERO + limit, ZERO + 50.0)
    assert float(factor) == pytest.approx(printed, abs=7e-3)


@pytest.mark.parametrize(
    ("key", "amps"),
    [
        pytest.param("awg18", {75: 10, 80: 15, 105: 20, 125: 25}, id="33 CFR 183.425, 18 AWG"),
        pytest.param("awg12", {75: 25, 80: 35, 105: 45, 125: 50}, id="33 CFR 183.425, 12 AWG"),
        pytest.param("awg10", {75: 40, 80: 50, 105: 60, 125: 70}, id="33 CFR 183.425, 10 AWG"),
        pytest.param("awg2", {75: 170, 80: 175, 105: 210, 125: 225}, id="33 CFR 183.425, 2 AWG"),
    ],
)
def test_allowed_currents_as_the_rule_lists_them(key: str, amps: dict[int, float]) -> None:
    assert {limit: size(key).allowed[limit] for limit in amps} == amps


@pytest.mark.parametrize(
    ("number", "fuse"),
    [
        pytest.param(n, f, id=f"AC 43.13-1B table 11-3, {n} AWG")
        for n, f in [
            (18, 10),
            (16, 10),
            (14, 15),
            (12, 20),
            (10, 30),
            (8, 50),
            (6, 70),
            (4, 70),
            (2, 100),
        ]
    ],
)
def test_largest_fuse_of_each_gauge(number: int, fuse: float) -> None:
    assert size(f"awg{number}").fuse == fuse


def test_no_metric_wire_is_taken_for_a_thicker_gauge_than_it_is() -> None:
    for wire in data.wires():
        assert wire.area >= float(wiring.gauge_area(float(wire.gauge))) * (1.0 - 1e-12)


def test_at_its_allowed_current_a_wire_reaches_its_limit_by_definition() -> None:
    for air in (0.0, 30.0, 50.0, 70.0):
        factor = wiring.air_factor(ZERO + 80.0, ZERO + air)
        allowed = wiring.allowed_current(50.0, 0.725, factor)
        found = wiring.conductor_temperature(
            ZERO + air, ZERO + 80.0, float(allowed) / (50.0 * 0.725)
        )
        assert found == pytest.approx(ZERO + 80.0)


def test_air_as_hot_as_the_insulation_stands_is_refused() -> None:
    with pytest.raises(DomainError, match="limit less air"):
        wiring.air_factor(ZERO + 80.0, ZERO + 90.0)


# --- loads and fuses -------------------------------------------------------------------------


@given(voltage=st.floats(9.0, 16.0), power=st.floats(1.0, 800.0), resistance=st.floats(1e-4, 0.04))
def test_a_held_power_is_what_arrives_by_ohms_law(
    voltage: float, power: float, resistance: float
) -> None:
    room = wiring.room_for_power(voltage, power, resistance)
    if room < 1e-3:
        return
    current = wiring.regulated_current(voltage, power, room)
    arriving = current * (voltage - wiring.voltage_drop(current, resistance))
    assert arriving == pytest.approx(power, rel=1e-9)
    assert voltage - current * resistance >= voltage / 2.0 - 1e-6


@pytest.mark.parametrize(
    ("current", "rating"),
    [
        pytest.param(8.0, 10.0, id="80 % of the rating, common practice"),
        pytest.param(12.0, 15.0, id="80 % of the rating, common practice, 15 A"),
        pytest.param(24.0, 30.0, id="80 % of the rating, common practice, 30 A"),
    ],
)
def test_a_fuse_carries_four_fifths_for_good(current: float, rating: float) -> None:
    assert wiring.fuse_for_load(current, wiring.FUSE_SHARE) == pytest.approx(rating)


def test_a_longer_peak_needs_a_larger_fuse_iso_8820_3_from_memory() -> None:
    needed = [wiring.fuse_for_inrush(90.0, each.times) for each in data.stands()]
    assert needed == sorted(needed)
    assert needed[0] == pytest.approx(15.0)


def test_flow_follows_voltage_affinity_law() -> None:
    found = wiring.flow_share(np.array([13.5, 12.15, 6.75]), 13.5)
    assert found == pytest.approx(np.array([1.0, 0.9, 0.5]))
