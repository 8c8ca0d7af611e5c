"""Stretch and turn-of-nut against a textbook example, an integral over the cone, and laws."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from calc import joints
from calc.domain import DomainError
from site_src.data import fasteners as data

INCH, LBF = 0.0254, 4.4482216152605
KSI = 1e3 * LBF / INCH**2

stiffnesses = st.floats(1e7, 1e10)
loads = st.floats(10.0, 200e3)
pitches = st.floats(0.0005, 0.003)


def parts_stiffness(modulus, d, grip):
    """Stiffness of clamped parts by their thickness."""
    return joints.clamped_stiffness(modulus, d, joints.cone_softness(grip / d))


class TestWentzellExample62:
    """Wentzell, Machine Design, examples 6.1 and 6.2: 3/4-10 grade 5, 0.85 proof, 5 in, 30 Mpsi."""

    LOAD = 0.85 * 85 * KSI * 0.334 * INCH**2
    BOLT = joints.axial_stiffness(30_000 * KSI, 0.334 * INCH**2, 5 * INCH)

    def test_angle(self):
        angle = joints.turn_angle(self.LOAD, INCH / 10, self.BOLT)
        assert np.degrees(angle) == pytest.approx(43.35, abs=0.005)

    def test_stretch(self):
        assert joints.elongation(self.LOAD, self.BOLT) / INCH == pytest.approx(0.01204, abs=5e-6)


@pytest.mark.parametrize("d", [0.006, 0.010, 0.016])
@pytest.mark.parametrize("grip_in_diameters", [0.8, 2.0, 6.0])
def test_clamped_stiffness_is_the_integral_over_two_cones_by_quadrature(d, grip_in_diameters):
    modulus, grip = 70e9, grip_in_diameters * d

    def give_per_length(x):
        outside = 1.5 * d + 2 * x * np.tan(np.radians(30))
        return 1 / (modulus * np.pi / 4 * (outside**2 - d**2))

    give = 2 * integrate.quad(give_per_length, 0, grip / 2)[0]
    assert parts_stiffness(modulus, d, grip) == pytest.approx(1 / give, rel=1e-4)


@given(st.floats(0.005, 0.016), st.floats(0.5, 8.0))
def test_joint_is_stiffer_than_a_sleeve_as_wide_as_the_head(d, grip_in_diameters):
    """Limit case: the cone holds the straight sleeve of the bearing face, so it gives less."""
    grip = grip_in_diameters * d
    sleeve = 206e9 * np.pi / 4 * ((1.5 * d) ** 2 - d**2) / grip
    assert parts_stiffness(206e9, d, grip) > sleeve


@given(st.floats(0.1, 70.0))
def test_thicker_parts_give_more_but_each_layer_less_than_the_last(slenderness):
    """The cone widens, so that what is added gives less than what is there."""
    thin, thick = (joints.cone_softness(more * slenderness) for more in (1.0, 1.4))
    assert thin < thick < 1.4 * thin


@pytest.mark.parametrize("thread", data.all_threads(), ids=lambda thread: thread.key)
def test_a_shank_has_more_to_stretch_than_its_thread(thread):
    assert thread.stress_area < joints.shank_area(thread.diameter) < 1.65 * thread.stress_area


@given(stiffnesses, stiffnesses)
def test_springs_in_a_row_are_softer_than_either_and_add_their_give(first, second):
    both = joints.series_stiffness(first, second)
    assert both < min(first, second)
    assert 1 / both == pytest.approx(1 / first + 1 / second)


@given(st.floats(0.0, 4 * np.pi), pitches, stiffnesses)
def test_turn_and_load_are_inverse(angle, pitch, stiffness):
    load = joints.load_for_turn(angle, pitch, stiffness)
    if load <= 2e6:
        assert joints.turn_angle(load, pitch, stiffness) == pytest.approx(angle, abs=1e-12)


@given(loads, pitches, stiffnesses, st.floats(1.01, 2.0))
def test_softer_joint_and_finer_thread_take_more_turning(load, pitch, stiffness, more):
    angle = joints.turn_angle(load, pitch, stiffness)
    assert joints.turn_angle(load, pitch, stiffness / more) > angle
    assert joints.turn_angle(load, pitch / min(more, 1.6), stiffness) > angle


@given(pitches, stiffnesses)
def test_one_full_turn_takes_up_one_pitch(pitch, stiffness):
    load = joints.load_for_turn(2 * np.pi, pitch, stiffness)
    assert load / stiffness == pytest.approx(pitch)


def test_dimensions_come_out_right():
    unit = pint.get_application_registry()
    m, n = unit.metre, unit.newton
    bolt = joints.axial_stiffness(206e9 * unit.pascal, 58e-6 * m**2, 0.04 * m)
    assert bolt.check("[force] / [length]")
    parts = parts_stiffness(70e9 * unit.pascal, 0.01 * m, 0.04 * m)
    assert parts.check("[force] / [length]")
    both = joints.series_stiffness(bolt.to("N/m"), parts.to("N/m"))
    assert both.check("[force] / [length]")
    assert joints.turn_angle(30e3 * n, 0.0015 * m, both).check("")
    assert joints.elongation(30e3 * n, both).check("[length]")
    assert joints.load_for_turn(1.5 * unit.radian, 0.0015 * m, both).check("[force]")


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: joints.axial_stiffness(206.0, 58e-6, 0.04), "modulus"),
        (lambda: joints.series_stiffness(0.0, 1e8), "first"),
        (lambda: joints.cone_softness(0.0), "slenderness"),
        (lambda: joints.clamped_stiffness(70.0, 0.01, 1.0), "modulus"),
        (lambda: joints.shank_area(10.0), "d"),
        (lambda: joints.turn_angle(-1.0, 0.0015, 1e8), "load_rise"),
        (lambda: joints.load_for_turn(90.0, 0.0015, 1e8), "angle"),
        (lambda: joints.elongation(float("nan"), 1e8), "load"),
    ],
)
def test_bad_input_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
