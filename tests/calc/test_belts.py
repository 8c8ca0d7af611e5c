"""Belt grip, tension, tone and alignment against textbooks, standards, limit cases and laws."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from calc import belts
from calc.domain import DomainError
from site_src.data import belts as data
from tests.calc import grip

LBF, HP, INCH, FOOT = 4.4482216152605, 745.69987158227, 0.0254, 0.3048
WEIGHTLESS = 0.0

frictions = st.floats(0.1, 1.0)
wraps = st.floats(0.5, 5.0)
masses = st.floats(0.02, 0.4)
speeds = st.floats(1.0, 60.0)
powers = st.floats(100.0, 80e3)


def rpm(value):
    return value / 60.0


def half_a_last_digit(printed):
    """The rounding of a number as it was printed."""
    decimals = len(printed.partition(".")[2])
    return pytest.approx(float(printed), abs=0.5000001 * 10.0**-decimals)


# --- diameters and speed --------------------------------------------------------------------------


def test_pitch_diameters_make_the_ratio_iso_9981_clause_5_4():
    big, small = (d + belts.pitch_allowance(0.002, 0.0) for d in (0.200, 0.080))
    assert belts.speed_ratio(big, small) == half_a_last_digit("2.42857")


def test_effective_diameters_would_overstate_the_ratio_by_3_percent():
    right, wrong = belts.speed_ratio(0.204, 0.084), belts.speed_ratio(0.200, 0.080)
    assert wrong == 2.5
    assert 100 * (right / wrong - 1) == half_a_last_digit("-2.9")


def test_belt_speed_wentzell_example_14_2():
    feet_per_minute = belts.belt_speed(4 * INCH, rpm(1800)) / FOOT * 60
    assert feet_per_minute == half_a_last_digit("1884.96")


def test_belt_speed_is_the_same_on_both_pulleys():
    ratio = belts.speed_ratio(0.190, 0.096)
    assert belts.belt_speed(0.190, 100.0) == pytest.approx(belts.belt_speed(0.096, 100 * ratio))


def test_slip_is_the_missing_share_of_the_speed():
    assert belts.slip_from_ratio(1.94, 2.0) == pytest.approx(0.03)
    assert belts.slip_from_ratio(2.0, 2.0) == 0.0
    assert belts.slip_from_ratio(2.1, 2.0) < 0.0


def test_smooth_idler_runs_the_cord_outside_its_surface():
    assert belts.pitch_diameter_of_back_idler(0.076, 0.0012) == pytest.approx(0.0784)


# --- grip: worked examples ------------------------------------------------------------------------


def test_post_with_two_and_a_half_turns_khurmi_example_11_5():
    slack = 9000 / belts.grip_ratio(0.25, 2.5 * math.tau)
    assert slack == half_a_last_digit("177.33")
    kilowatts = (9000 - slack) * belts.belt_speed(0.3, rpm(20)) / 1e3
    assert kilowatts == half_a_last_digit("2.772")


def test_v_belt_textbook_problem_total_groove_30_degrees():
    # The printed 4.11, 607.85 N and 3.784 kW carry the book's roundings; these are recomputed.
    friction = grip.groove_friction(0.15, math.radians(30))
    wrap = math.radians(140)
    assert belts.grip_ratio(friction, wrap) == half_a_last_digit("4.1211")
    power = grip.power_from_tight(2500, friction, wrap, WEIGHTLESS, 2.0)
    assert power / 1e3 == half_a_last_digit("3.787")
    assert 2500 - power / 2.0 == half_a_last_digit("606.63")


def test_greatest_power_khurmi_example_11_10():
    tight, mass = 2e6 * 0.100 * 0.006, 0.100 * 0.006 * 1000
    speed = belts.max_power_speed(tight, mass)
    assert speed == half_a_last_digit("25.82")
    power = grip.power_from_tight(tight, 0.3, math.radians(120), mass, speed)
    assert power / 1e3 == half_a_last_digit("9.64")


def test_crossed_drive_khurmi_example_11_6_from_memory():
    # Wrap 3.4765 rad; the arc for the sine that one reprint uses would give 3.473.
    wrap = math.pi + 2 * math.asin((0.450 + 0.200) / 2 / 1.95)
    power = grip.power_from_tight(1000, 0.25, wrap, WEIGHTLESS, belts.belt_speed(0.450, rpm(200)))
    assert power / 1e3 == half_a_last_digit("2.74")


def test_initial_tension_textbook_problem_1000_newton_150_degrees_recomputed():
    speed = 500 / 60
    power = grip.power_from_static(1000, 0.25, math.radians(150), WEIGHTLESS, speed)
    assert power / 1e3 == half_a_last_digit("5.27")
    assert 1000 + power / speed / 2 == half_a_last_digit("1316")


def test_ropes_textbook_problem_80_kilowatt_recomputed():
    friction = grip.groove_friction(0.3, math.radians(45))
    speed, wrap = belts.belt_speed(1.5, rpm(200)), math.radians(160)
    each = grip.power_from_tight(800, friction, wrap, 0.6, speed)
    assert 80e3 / each == half_a_last_digit("8.8")
    assert belts.ribs_needed(80e3, friction, wrap, 0.6, speed, 800) == pytest.approx(80e3 / each)
    assert grip.static_for_power(each, friction, wrap, 0.6, speed) == half_a_last_digit("510.53")


def test_more_tension_gives_more_than_more_friction_khurmi_example_with_400_and_250_mm_recomputed():
    wrap = math.pi - 2 * math.asin((0.400 - 0.250) / 2 / 2)
    power = grip.power_from_tight(1200, 0.4, wrap, WEIGHTLESS, 10)
    static = 1200 - power / 10 / 2
    tenser = grip.power_from_static(1.1 * static, 0.4, wrap, WEIGHTLESS, 10)
    rougher = grip.power_from_static(static, 0.44, wrap, WEIGHTLESS, 10)
    assert power / 1e3 == half_a_last_digit("8.48")
    assert tenser / power == pytest.approx(1.10, abs=1e-3)
    assert 1.0 < rougher / power < tenser / power


class TestFlatBeltShigleyExample171:
    """Polyamide flat belt, 15 hp, service factors 1.25 and 1.1 (printed values from memory)."""

    speed = belts.belt_speed(6 * INCH, rpm(1750))
    tight, slack, centrifugal = 420 * LBF, 172.4 * LBF, 25.6 * LBF
    mass = centrifugal / speed**2
    power = (tight - slack) * speed
    wrap = 3.0165

    def test_belt_speed(self):
        assert self.speed / FOOT * 60 == half_a_last_digit("2749")

    def test_pull_is_the_design_power(self):
        # 247.6 lbf is itself rounded.
        assert self.power / HP == pytest.approx(15 * 1.25 * 1.1, abs=0.05 * 2749 / 33000)

    def test_friction_used(self):
        needed = belts.wrap_for_tight(self.power, self.tight, 0.328, self.mass, self.speed)
        assert 0.328 * needed / self.wrap == half_a_last_digit("0.328")

    def test_initial_tension_differs_by_the_centrifugal_tension(self):
        # Shigley's F_i is what is left to grip while it runs, ours what is there at rest.
        static = grip.static_for_power(
            self.power, math.log(394.4 / 146.8) / self.wrap, self.wrap, self.mass, self.speed
        )
        assert (static - self.centrifugal) / LBF == half_a_last_digit("270.6")
        assert static == pytest.approx((self.tight + self.slack) / 2, rel=1e-6)


class TestFlatBeltShigleyExample172:
    """Figures as restated in the solution of problem 17-1, 10th edition: 3.037 rad, e^fθ 11.35."""

    pull, centrifugal, ratio = 664 * LBF, 73.4 * LBF, 1 / 11.35

    # 802 and 138 lbf are rounded to the pound, and 396.6 comes of them.

    def test_locked_centres_hold_the_printed_initial_tension(self):
        resting = belts.resting_tension(self.pull, self.ratio, self.centrifugal, 0.0)
        # The book's 396.6 lbf is what is left to grip while it runs.
        assert (resting - self.centrifugal) / LBF == pytest.approx(396.6, abs=0.5)

    def test_a_sprung_tensioner_needs_the_printed_slack_run_less_the_centrifugal_tension(self):
        resting = belts.resting_tension(self.pull, self.ratio, self.centrifugal, 1.0)
        assert resting / LBF == pytest.approx(138 - 73.4, abs=0.5)

    def test_running_runs_are_the_printed_ones_whichever_way_it_is_tensioned(self):
        for constant in (0.0, 0.5, 1.0):
            resting = belts.resting_tension(self.pull, self.ratio, self.centrifugal, constant)
            gripping = belts.gripping_tension(resting, self.centrifugal, constant)
            slack = belts.slack_from_rest(gripping, self.pull, constant)
            assert (slack + self.centrifugal) / LBF == pytest.approx(138, abs=0.5)
            assert (slack + self.centrifugal + self.pull) / LBF == pytest.approx(802, abs=0.5)


def test_tension_ratio_4_at_half_a_turn_rating_practice_from_memory():
    friction = data.grip_figures().friction
    assert friction.mark == "from memory"
    assert belts.grip_ratio(friction.value, math.pi) == half_a_last_digit("4.0")


def test_grip_ratio_solves_eytelweins_differential_equation_scipy():
    solved = integrate.solve_ivp(lambda _, t: 0.44 * t, (0.0, 2.8), [150.0], rtol=1e-10)
    assert solved.y[0, -1] / 150.0 == pytest.approx(belts.grip_ratio(0.44, 2.8), rel=1e-7)


def test_max_power_speed_is_where_scipy_finds_the_top():
    found = optimize.minimize_scalar(
        lambda v: -grip.power_from_tight(1600.0, 0.44, 2.9, 0.16, v),
        bounds=(1.0, 99.0),
        method="bounded",
    )
    assert found.x == pytest.approx(belts.max_power_speed(1600.0, 0.16), rel=1e-5)


# --- grip: laws -----------------------------------------------------------------------------------


@given(powers, frictions, wraps, masses, speeds)
def test_tension_for_a_power_passes_that_power(power, friction, wrap, mass, speed):
    drive = friction, wrap, mass, speed
    for tension_for, power_from in (
        (belts.slack_for_power, grip.power_from_slack),
        (belts.tight_for_power, grip.power_from_tight),
        (grip.static_for_power, grip.power_from_static),
    ):
        tension = tension_for(power, *drive)
        if tension <= 100e3:
            assert power_from(tension, *drive) == pytest.approx(power, rel=1e-6)


@given(powers, frictions, wraps, masses, speeds)
def test_the_three_tensions_of_one_drive_agree(power, friction, wrap, mass, speed):
    drive = power, friction, wrap, mass, speed
    tight, slack = belts.tight_for_power(*drive), belts.slack_for_power(*drive)
    assert tight - slack == pytest.approx(power / speed, rel=1e-9)
    assert grip.static_for_power(*drive) == pytest.approx((tight + slack) / 2, rel=1e-9)
    own = belts.centrifugal_tension(mass, speed)
    assert (tight - own) / (slack - own) == pytest.approx(
        belts.grip_ratio(friction, wrap), rel=1e-6
    )


@given(frictions, wraps, st.floats(1.0, 5000.0))
def test_pull_and_tight_tension_belong_to_a_ratio_of_tensions_euler_eytelwein(friction, wrap, pull):
    ratio = belts.slack_ratio(friction, wrap)
    assert ratio == pytest.approx(math.exp(-friction * wrap), rel=1e-12)
    tight = belts.tight_for_pull(pull, ratio)
    assert belts.pull_held(tight, ratio) == pytest.approx(pull, rel=1e-12)
    assert belts.slack_ratio_needed(pull, tight) == pytest.approx(ratio, abs=1e-9)


@given(powers, frictions, st.floats(0.5, 4.0), masses, speeds)
def test_wrap_for_a_tension_is_the_inverse_of_the_tension(power, friction, wrap, mass, speed):
    drive = friction, wrap, mass, speed
    for tension_for, wrap_for in (
        (belts.slack_for_power, belts.wrap_for_slack),
        (belts.tight_for_power, belts.wrap_for_tight),
    ):
        tension = tension_for(power, *drive)
        if tension <= 100e3:
            found = wrap_for(power, tension, friction, mass, speed)
            assert found == pytest.approx(wrap, rel=1e-4)


@given(st.floats(10.0, 3000.0), frictions, wraps, masses, speeds, st.floats(1.01, 1.5))
def test_more_of_what_grips_never_passes_less(tension, friction, wrap, mass, speed, more):
    for power_from in (grip.power_from_slack, grip.power_from_tight, grip.power_from_static):
        base = power_from(tension, friction, wrap, mass, speed)
        assert base >= 0.0
        assert power_from(tension * more, friction, wrap, mass, speed) >= base
        assert power_from(tension, friction * more, wrap, mass, speed) >= base
        assert power_from(tension, friction, wrap * more, mass, speed) >= base
        assert power_from(tension, friction, wrap, mass * more, speed) <= base


def elastic_drive(resting, pull, own, stiffness, spring):
    """Runs of a stretchy belt on two pulleys, less the centrifugal tension, by its stretch alone.

    Both runs are a metre long. The tensioner sits on the slack run and takes up belt by a spring
    of so many newtons per metre of belt; none means locked centres.
    """

    def too_long(slack):
        tight = slack + pull
        stretch = ((slack + own) + (tight + own) - 2 * resting) / stiffness
        return stretch - ((resting - slack) / spring if spring else 0.0)

    slack = optimize.brentq(too_long, -1e5, 1e5)
    return slack, slack + pull


@given(st.floats(200.0, 3000.0), st.floats(0.0, 1500.0), st.floats(0.0, 900.0))
def test_locked_centres_are_an_elastic_belt_of_constant_length_scipy(resting, pull, own):
    slack, _ = elastic_drive(resting, pull, own, 1e5, None)
    gripping = belts.gripping_tension(resting, own, 0.0)
    assert belts.slack_from_rest(gripping, pull, 0.0) == pytest.approx(slack, abs=1e-6)


@given(
    st.floats(200.0, 3000.0),
    st.floats(0.0, 1500.0),
    st.floats(0.0, 900.0),
    st.floats(1e3, 1e6),
)
def test_the_tensioner_constant_is_the_belts_share_of_both_stiffnesses_scipy(
    resting, pull, own, spring
):
    # A belt of 1e5 N stretches as a spring of 5e4 N/m over its two metres.
    constant = 5e4 / (5e4 + spring)
    slack, _ = elastic_drive(resting, pull, own, 1e5, spring)
    gripping = belts.gripping_tension(resting, own, constant)
    assert belts.slack_from_rest(gripping, pull, constant) == pytest.approx(slack, abs=1e-6)


@given(st.floats(0.0, 2000.0), st.floats(0.05, 0.9), st.floats(0.0, 900.0), st.floats(0.0, 1.0))
def test_the_least_resting_tension_just_holds_its_pull(pull, ratio, own, constant):
    resting = belts.resting_tension(pull, ratio, own, constant)
    gripping = belts.gripping_tension(resting, own, constant)
    assert belts.pull_from_rest(max(gripping, 0.0), ratio, constant) == pytest.approx(
        pull, rel=1e-9, abs=1e-6
    )
    slack = belts.slack_from_rest(gripping, pull, constant)
    assert slack == pytest.approx((slack + pull) * ratio, rel=1e-9, abs=1e-6)


def test_dry_friction_lies_as_far_under_as_over_the_springs_tension():
    low, high = belts.least_reading(306.0, 0.2), belts.greatest_reading(306.0, 0.2)
    assert (low + high) / 2 == pytest.approx(306.0)
    assert high / low == pytest.approx(1.2 / 0.8)


def test_an_idler_turns_with_the_belt():
    speed = belts.belt_speed(0.184, rpm(6500))
    assert belts.pulley_speed(speed, 0.092) == pytest.approx(2 * rpm(6500))


def test_a_belt_that_floats_passes_nothing():
    own = belts.centrifugal_tension(0.16, 60.0)
    for power_from in (grip.power_from_slack, grip.power_from_tight, grip.power_from_static):
        assert power_from(0.9 * own, 0.44, 3.0, 0.16, 60.0) == 0.0


@pytest.mark.parametrize(
    ("wrap_for", "tension"),
    [
        pytest.param(belts.wrap_for_slack, 576.0, id="slack: nothing but its own centrifugal"),
        pytest.param(belts.wrap_for_slack, 500.0, id="slack: floats"),
        pytest.param(belts.wrap_for_tight, 900.0, id="tight: pull alone is more"),
    ],
)
def test_no_wrap_is_enough_is_not_a_number(wrap_for, tension):
    assert np.isnan(wrap_for(36e3, tension, 0.44, 0.16, 60.0))


def test_no_number_of_ribs_helps_a_belt_that_is_too_fast():
    assert np.isnan(belts.ribs_needed(40e3, 0.44, 3.0, 0.02, 100.0, 200.0))
    assert np.isnan(belts.ribs_needed(40e3, 0.44, 3.0, 0.02, 120.0, 200.0))


@given(powers, st.floats(0.3, 1.0), st.floats(1.0, 5.0), st.floats(10.0, 60.0))
def test_ribs_carry_exactly_the_tight_tension(power, friction, wrap, speed):
    ribs = belts.ribs_needed(power, friction, wrap, 0.02, speed, 200.0)
    tight = belts.tight_for_power(power, friction, wrap, 0.02 * ribs, speed)
    assert tight == pytest.approx(200.0 * ribs, rel=1e-9)


# --- bearing load ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("tight", "slack", "degrees", "expected"),
    [
        pytest.param(1000, 250, 180, 1250.0, id="half a turn: sum"),
        pytest.param(300, 300, 60, 300.0, id="equilateral triangle of forces"),
        pytest.param(300, 400, 90, 500.0, id="right angle: Pythagoras"),
        pytest.param(700, 700, 0, 0.0, id="straight run: nothing"),
    ],
)
def test_hub_load_closed_forms(tight, slack, degrees, expected):
    load = belts.hub_load(tight, slack, 0.0, math.radians(degrees))
    assert load == pytest.approx(expected, abs=1e-9)


@given(st.floats(0, 3000), st.floats(0, 3000), st.floats(0.0, 6.28))
def test_hub_load_lies_between_difference_and_sum(tight, slack, wrap):
    load = belts.hub_load(tight, slack, 0.0, wrap)
    assert abs(tight - slack) - 1e-6 <= load <= tight + slack + 1e-6


@given(st.floats(0, 3000), st.floats(0, 3000), st.floats(0.0, 6.28))
def test_bearing_load_is_the_cosine_rule(tight, slack, wrap):
    load = belts.bearing_load(tight, slack, belts.chord(wrap))
    sides = tight**2 + slack**2 - 2 * tight * slack * math.cos(wrap)
    assert load == pytest.approx(math.sqrt(max(sides, 0.0)), rel=1e-6, abs=1e-3)


@pytest.mark.parametrize(("degrees", "chord"), [(60, 1.0), (90, math.sqrt(2)), (180, 2.0)])
def test_chord_of_a_circle(degrees, chord):
    assert belts.chord(math.radians(degrees)) == pytest.approx(chord)


def test_centrifugal_tension_does_not_reach_the_bearing():
    assert belts.hub_load(1400, 650, 400, math.pi) == pytest.approx(1250.0)


# --- tone -----------------------------------------------------------------------------------------


def test_string_equation_standard():
    assert belts.span_frequency(400.0, 0.250, 0.100) == half_a_last_digit("126.491")


def test_lowest_mode_of_a_discrete_string_numpy():
    tension, span, mass, count = 520.0, 0.21, 0.17, 400
    step = span / count
    stiffness = 2.0 * np.eye(count - 1) - np.eye(count - 1, k=1) - np.eye(count - 1, k=-1)
    lowest = np.linalg.eigvalsh(stiffness * tension / (mass * step * step))[0]
    expected = math.sqrt(lowest) / math.tau
    assert belts.span_frequency(tension, span, mass) == pytest.approx(expected, rel=1e-5)


@given(st.floats(1.0, 5000.0), st.floats(0.05, 1.0), st.floats(0.01, 1.0))
def test_tension_and_tone_are_inverse(tension, span, mass):
    frequency = belts.span_frequency(tension, span, mass)
    if 1.0 <= frequency <= 2000.0:
        assert belts.span_tension(frequency, span, mass) == pytest.approx(tension, rel=1e-12)


def test_an_octave_is_four_times_the_tension():
    assert belts.span_tension(110, 0.3, 0.16) == pytest.approx(
        4 * belts.span_tension(55, 0.3, 0.16)
    )


def test_weighed_belt():
    assert belts.weighed_mass_per_length(0.312, 1.95) == pytest.approx(0.16)


# --- alignment ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("degrees", "per_100_mm", "per_300_mm", "inch_per_foot"),
    [
        (0.1, "0.1745", "0.524", "0.0209"),
        (0.25, "0.4363", "1.309", "0.0524"),
        (0.5, "0.8727", "2.618", "0.1047"),
        (1.0, "1.7455", "5.237", "0.2095"),
    ],
)
def test_misalignment_table_tangents(degrees, per_100_mm, per_300_mm, inch_per_foot):
    def gap(span):
        return belts.offset_for_angle(math.radians(degrees), span)

    assert gap(0.100) * 1e3 == half_a_last_digit(per_100_mm)
    assert gap(0.300) * 1e3 == half_a_last_digit(per_300_mm)
    assert gap(FOOT) / INCH == half_a_last_digit(inch_per_foot)


def test_two_quoted_v_belt_limits_are_15_percent_apart():
    quoted_angle = belts.offset_for_angle(math.radians(0.5), 0.500)
    assert quoted_angle * 1e3 == half_a_last_digit("4.363")
    assert np.degrees(belts.misalignment_angle(0.005, 0.500)) == half_a_last_digit("0.5729")
    assert 0.005 / quoted_angle == half_a_last_digit("1.15")


@pytest.mark.parametrize(("sixteenths", "degrees"), [("0.1000", "0.477"), ("0.0625", "0.298")])
def test_inches_per_foot_in_checklists_are_near_the_angles_but_not_equal(sixteenths, degrees):
    angle = belts.misalignment_angle(float(sixteenths) * INCH, FOOT)
    assert np.degrees(angle) == half_a_last_digit(degrees)


@given(st.floats(-0.04, 0.04), st.floats(0.05, 1.0))
def test_offset_and_angle_are_inverse(offset, span):
    angle = belts.misalignment_angle(offset, span)
    if 0.0 <= angle <= 0.17:
        assert belts.offset_for_angle(angle, span) == pytest.approx(offset, abs=1e-12)


def test_tilt_does_not_count_as_offset():
    # A pulley set back 0.8 mm, its far edge 0.6 mm farther than its near edge.
    near, far = 0.0005, 0.0011
    assert belts.offset_from_gaps(near, far, 0.0) == pytest.approx(0.0008)


def test_a_thicker_rim_on_the_reference_is_taken_off():
    assert belts.offset_from_gaps(0.002, 0.002, 0.002) == 0.0


def test_offset_and_tilt_add_up_at_their_worst():
    same = belts.combined_misalignment(0.001, 0.3, 0.002)
    opposed = belts.combined_misalignment(0.001, 0.3, -0.002)
    assert same == opposed == pytest.approx(math.atan(1 / 300) + 0.002)


# --- data -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "millimetres"),
    [("PH", 1.60), ("PJ", 2.34), ("PK", 3.56), ("PL", 4.70), ("PM", 9.40)],
    ids=lambda value: f"{value}",
)
def test_rib_pitch_iso_9982_as_restated(key, millimetres):
    assert data.section(key).rib_pitch.value == pytest.approx(millimetres / 1e3)


@pytest.mark.parametrize(
    ("name", "expected", "mark"),
    [
        pytest.param("minimum_diameter", 0.045, "published", id="ISO 9981 clause 5.2"),
        pytest.param("line_differential", 0.002, "published", id="ISO 9981 clause 5.4"),
        pytest.param("ball_excess", 0.00099, "as restated", id="SAE J1459"),
        pytest.param("mass_per_rib", 0.020, "from memory", id="belt makers' lists from memory"),
        pytest.param("tip_height", 0.0, "common practice", id="common practice"),
    ],
)
def test_automotive_section_and_how_far_it_is_trusted(name, expected, mark):
    figure = getattr(data.section("PK"), name)
    assert (figure.value, figure.mark) == (pytest.approx(expected), mark)


def test_pulley_errors_iso_9981_clause_5_3():
    limits = data.alignment_limits()
    assert limits.run_out.value == 0.00025
    assert limits.groove_to_groove.value == 0.00015


def test_alignment_limits_common_practice():
    limits = data.alignment_limits()
    assert math.degrees(limits.v_belt.value) == pytest.approx(0.5)
    assert math.degrees(limits.ribbed.value) == pytest.approx(0.25)
    assert {limits.v_belt.mark, limits.ribbed.mark} == {"common practice"}


def test_sections_grow_from_fine_to_coarse():
    for name in ("rib_pitch", "line_differential", "minimum_diameter", "mass_per_rib"):
        values = [getattr(section, name).value for section in data.sections()]
        assert values == sorted(values)


def test_unknown_section_names_the_known_ones():
    with pytest.raises(KeyError, match=r"PQ.*PH, PJ, PK, PL, PM"):
        data.section("PQ")


# --- dimensions, arrays, ranges -------------------------------------------------------------------


@pytest.fixture(scope="module")
def unit():
    return pint.get_application_registry()


@pytest.mark.parametrize(
    ("function", "arguments", "expected"),
    [
        (belts.effective_diameter_from_pitch, "0.1 m, 0.002 m", "m"),
        (belts.pitch_diameter_of_back_idler, "0.1 m, 0.001 m", "m"),
        (belts.speed_ratio, "0.2 m, 0.1 m", ""),
        (belts.belt_speed, "0.2 m, 100 1/s", "m/s"),
        (belts.centrifugal_tension, "0.16 kg/m, 50 m/s", "N"),
        (belts.tight_for_power, "30e3 W, 0.4, 3 rad, 0.16 kg/m, 50 m/s", "N"),
        (belts.slack_for_power, "30e3 W, 0.4, 3 rad, 0.16 kg/m, 50 m/s", "N"),
        (belts.wrap_for_slack, "30e3 W, 800 N, 0.4, 0.16 kg/m, 50 m/s", "rad"),
        (belts.wrap_for_tight, "30e3 W, 1500 N, 0.4, 0.16 kg/m, 50 m/s", "rad"),
        (belts.ribs_needed, "30e3 W, 0.4, 3 rad, 0.02 kg/m, 50 m/s, 200 N", ""),
        (belts.slack_ratio, "0.4, 3 rad", ""),
        (belts.pull_held, "800 N, 0.25", "N"),
        (belts.tight_for_pull, "600 N, 0.25", "N"),
        (belts.slack_ratio_needed, "600 N, 800 N", ""),
        (belts.resting_tension, "600 N, 0.25, 400 N, 0.9", "N"),
        (belts.gripping_tension, "900 N, 400 N, 0.9", "N"),
        (belts.slack_from_rest, "500 N, 600 N, 0.9", "N"),
        (belts.pull_from_rest, "500 N, 0.25, 0.9", "N"),
        (belts.least_reading, "300 N, 0.2", "N"),
        (belts.greatest_reading, "300 N, 0.2", "N"),
        (belts.pulley_speed, "64 m/s, 0.2 m", "1/s"),
        (belts.chord, "3 rad", ""),
        (belts.bearing_load, "800 N, 200 N, 1.9", "N"),
        (belts.max_power_speed, "1500 N, 0.16 kg/m", "m/s"),
        (belts.hub_load, "1500 N, 700 N, 400 N, 3 rad", "N"),
        (belts.weighed_mass_per_length, "0.3 kg, 1.5 m", "kg/m"),
        (belts.span_frequency, "500 N, 0.25 m, 0.16 kg/m", "Hz"),
        (belts.span_tension, "110 Hz, 0.25 m, 0.16 kg/m", "N"),
        (belts.offset_from_gaps, "0.001 m, 0.002 m, 0 m", "m"),
        (belts.misalignment_angle, "0.001 m, 0.3 m", "rad"),
        (belts.offset_for_angle, "0.01 rad, 0.3 m", "m"),
    ],
    ids=lambda value: getattr(value, "__name__", None),
)
def test_dimensions(unit, function, arguments, expected):
    result = function(*(unit.Quantity(text.strip()) for text in arguments.split(",")))
    assert unit.Quantity(result).check(unit.parse_units(expected).dimensionality)


def test_arrays_broadcast():
    speeds = np.array([10.0, 40.0, 70.0])[:, None]
    powers = np.array([20e3, 40e3])
    tight = belts.tight_for_power(powers, 0.44, 3.0, 0.16, speeds)
    assert tight.shape == (3, 2)
    assert tight[1, 0] == belts.tight_for_power(20e3, 0.44, 3.0, 0.16, 40.0)
    assert belts.wrap_for_slack(powers, 900.0, 0.44, 0.16, speeds).shape == (3, 2)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: belts.speed_ratio(0.1, -0.1), "driven_pitch_diameter"),
        (lambda: belts.belt_speed(0.1, -1.0), "rev_per_s"),
        (lambda: belts.wrap_for_tight(1.0, -1.0, 0.4, 0.1, 10.0), "tight"),
        (lambda: belts.wrap_for_slack(1.0, 1.0, 0.0, 0.1, 10.0), "friction"),
        (lambda: belts.slack_ratio(0.4, 0.0), "wrap"),
        (lambda: belts.tight_for_power(math.nan, 0.4, 3.0, 0.1, 10.0), "power"),
        (lambda: belts.slack_for_power(1.0, 0.4, 3.0, -0.1, 10.0), "mass_per_length"),
        (lambda: belts.tight_for_power(1.0, 0.4, 3.0, 0.1, 0.0), "speed"),
        (lambda: belts.ribs_needed(1.0, 0.4, 3.0, 0.1, 1.0, 0.0), "tension_per_rib"),
        (lambda: belts.effective_diameter_from_pitch(0.1, 0.02), "line_differential"),
        (lambda: belts.pull_held(-1.0, 0.5), "tight_working"),
        (lambda: belts.tight_for_pull(1.0, 1.1), "slack_ratio"),
        (lambda: belts.resting_tension(1.0, 0.5, 1.0, 1.1), "tensioner_constant"),
        (lambda: belts.gripping_tension(-1.0, 1.0, 1.0), "resting"),
        (lambda: belts.slack_from_rest(1.0, -1.0, 1.0), "pull"),
        (lambda: belts.pull_from_rest(-1.0, 0.5, 1.0), "gripping"),
        (lambda: belts.least_reading(1.0, 1.0), "damping"),
        (lambda: belts.greatest_reading(-1.0, 0.2), "tension"),
        (lambda: belts.pulley_speed(1.0, 0.0), "pitch_diameter"),
        (lambda: belts.bearing_load(1.0, 1e6, 2.0), "slack_working"),
        (lambda: belts.hub_load(1.0, 1.0, 0.0, 7.0), "wrap"),
        (lambda: belts.span_frequency(1.0, 0.0, 0.1), "span"),
        (lambda: belts.span_tension(0.0, 0.1, 0.1), "frequency"),
        (lambda: belts.offset_from_gaps(0.0, 0.2, 0.0), "gap_far"),
        (lambda: belts.combined_misalignment(0.0, 0.2, 0.3), "tilt"),
    ],
)
def test_out_of_range_names_the_argument(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
