"""Wrench settings against manuals and ISO 6789, a lever worked as vectors, and laws."""

import numpy as np
import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc import wrenches
from calc.domain import DomainError
from site_src.data import fasteners as data

extensions = st.floats(0.0, 0.75)
angles = st.floats(-np.pi, np.pi)
torques = st.floats(0.1, 1000.0)
deviations = st.floats(0.0, 0.4)


def ratio_at(extension, angle):
    """Torque at the fastener over torque set, for an offset at an angle."""
    return wrenches.torque_ratio(extension, wrenches.share_along(angle))


@pytest.mark.parametrize(
    ("torque", "wrench", "extension", "setting", "rounding"),
    [
        pytest.param(300, 10, 4, 214, 0.5, id="US Army TM 1-1500-204-23-9 fig 8-16"),
        pytest.param(100, 12, 6, 66.7, 0.05, id="US Navy aviation manual, drive-end extension"),
    ],
)
def test_setting_for_an_extension(torque, wrench, extension, setting, rounding):
    ratio = ratio_at(extension / wrench, 0.0)
    assert wrenches.wrench_setting(torque, ratio) == pytest.approx(setting, abs=rounding)


@given(extensions, angles, torques)
def test_ratio_is_the_moment_of_the_pull_about_the_fastener(extension, angle, torque):
    """The hand pulls square to the wrench; moments about drive and fastener as cross products."""
    grip = np.array([-1.0, 0.0])
    head = extension * np.array([np.cos(angle), np.sin(angle)])
    pull = np.array([0.0, -torque])

    def moment(about):
        arm = grip - about
        return arm[0] * pull[1] - arm[1] * pull[0]

    ratio = moment(head) / moment(np.zeros(2))
    assert ratio_at(extension, angle) == pytest.approx(ratio, abs=1e-12)


@pytest.mark.parametrize(
    ("angle", "ratio"),
    [(0, 1.25), (60, 1.125), (90, 1.0), (-90, 1.0), (120, 0.875), (180, 0.75)],
    ids=lambda value: f"{value:g}",
)
def test_right_angle_changes_nothing_and_pointing_back_lessens_lever_rule(angle, ratio):
    assert ratio_at(0.25, np.radians(angle)) == pytest.approx(ratio)


@given(extensions, angles, torques)
def test_setting_times_ratio_is_the_torque_at_the_fastener(extension, angle, torque):
    ratio = ratio_at(extension, angle)
    assert wrenches.wrench_setting(torque, ratio) * ratio == pytest.approx(torque)


@given(extensions, st.floats(0.01, 0.2), torques)
def test_longer_extension_is_set_lower(extension, more, torque):
    shorter, longer = (ratio_at(e, 0.0) for e in (extension, extension + more))
    assert wrenches.wrench_setting(torque, longer) < wrenches.wrench_setting(torque, shorter)


@given(torques, deviations)
def test_deviation_as_iso_6789_defines_it(torque, deviation):
    for true, sign in (
        (wrenches.lowest_applied(torque, deviation), 1),
        (wrenches.highest_applied(torque, deviation), -1),
    ):
        assert (torque - true) / true == pytest.approx(sign * deviation, abs=1e-12)


@given(torques, deviations)
def test_true_torque_lies_around_the_setting(torque, deviation):
    low = wrenches.lowest_applied(torque, deviation)
    assert low <= torque <= wrenches.highest_applied(torque, deviation)


@pytest.mark.parametrize(
    ("key", "largest", "deviation"),
    [
        pytest.param("click", 10.0, 0.06, id="ISO 6789 type II class A to 10 N m, as restated"),
        pytest.param("click", 10.1, 0.04, id="ISO 6789 type II class A above, as restated"),
        pytest.param("click", 200.0, 0.04, id="ISO 6789 type II class A 200 N m, as restated"),
        pytest.param("beam", 200.0, 0.06, id="ISO 6789 type I class A, from memory"),
    ],
)
def test_permitted_deviation(key, largest, deviation):
    assert data.wrench_kind(key).deviation_for(largest) == deviation


@pytest.mark.parametrize("share", [0.2, 0.6, 1.0], ids=lambda share: f"ISO 6789 at {share:.0%}")
def test_every_tested_point_is_inside_the_usable_range(share):
    used = wrenches.share_of_range(share * 120.0, 120.0)
    for kind in data.all_wrench_kinds():
        assert kind.usable_from - 1e-12 <= used <= kind.usable_to + 1e-12


@given(torques, st.floats(0.0, 50.0))
def test_running_torque_is_added_faa_ac_43_13_1b_7_40(torque, running):
    assert wrenches.with_running_torque(torque, running) == torque + running


# --- figures in the wrong unit --------------------------------------------------------------------


def test_units_of_torque_are_those_of_pint():
    unit = pint.get_application_registry()
    names = {
        "N·m": "N*m",
        "lb·ft": "lbf*ft",
        "lb·in": "lbf*inch",
        "kgf·m": "kgf*m",
        "kgf·cm": "kgf*cm",
    }
    for name, size in wrenches.TORQUE_UNITS.items():
        assert unit.Quantity(1, names[name]).to("N*m").magnitude == pytest.approx(size, rel=1e-9)


def test_inch_pounds_typed_as_foot_pounds_are_found():
    """89 as foot-pounds is twelve times what an M6 takes; as inch-pounds it is right."""
    plausible = wrenches.plausible_units(89.0, 8.0, 12.0)
    assert "lb·in" in plausible
    assert "lb·ft" not in plausible


@given(st.sampled_from(sorted(wrenches.TORQUE_UNITS)), torques, st.floats(1.05, 1.5))
def test_right_unit_is_always_among_the_plausible(name, torque, width):
    figure = torque / wrenches.TORQUE_UNITS[name]
    assert name in wrenches.plausible_units(figure, torque / width, torque * width)


@given(torques, st.floats(1.01, 3.0))
def test_foot_and_inch_pounds_are_never_both_plausible_in_a_band_under_twelve(torque, width):
    assume(width**2 < 12)
    low, high = torque / width, torque * width
    for number in (torque / 0.11298, torque / 1.35582):
        found = wrenches.plausible_units(number, low, high)
        assert not {"lb·ft", "lb·in"} <= set(found)


# --- dimensions and bad input ---------------------------------------------------------------------


def test_dimensions_come_out_right():
    unit = pint.get_application_registry()
    newton_metre = unit.newton * unit.metre
    ratio = ratio_at((50 * unit.mm) / (400 * unit.mm), 0.5 * unit.radian)
    assert ratio.check("")
    assert ratio.magnitude == pytest.approx(1 + 0.125 * np.cos(0.5))
    assert wrenches.wrench_setting(40.0 * newton_metre, ratio).check("[energy]")
    assert wrenches.share_of_range(40.0 * newton_metre, 100.0 * newton_metre).check("")
    assert wrenches.with_running_torque(40.0 * newton_metre, 2.0 * newton_metre).check("[energy]")
    with pytest.raises(pint.DimensionalityError):
        wrenches.with_running_torque(40.0 * newton_metre, 2.0 * unit.newton)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: wrenches.torque_ratio(1.5, 1.0), "relative_extension"),
        (lambda: wrenches.torque_ratio(0.2, 90.0), "along"),
        (lambda: wrenches.share_along(90.0), "angle"),
        (lambda: wrenches.wrench_setting(40.0, ratio_at(0.9, np.pi)), "ratio"),
        (lambda: wrenches.wrench_setting(-1.0, 1.0), "torque"),
        (lambda: wrenches.share_of_range(40.0, 0.0), "largest"),
        (lambda: wrenches.lowest_applied(40.0, 4.0), "deviation"),
        (lambda: wrenches.with_running_torque(40.0, -1.0), "running"),
        (lambda: wrenches.plausible_units(float("nan"), 1.0, 2.0), "number"),
        (lambda: wrenches.plausible_units(5.0, 2.0, 1.0), "high less low"),
    ],
)
def test_bad_input_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
