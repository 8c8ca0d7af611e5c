"""Clamp load and torque against VDI, ISO, SAE and textbook values, and laws."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import fasteners, threads
from calc.domain import DomainError
from site_src.data import fasteners as data

MM, KN, MPA = 1e-3, 1e3, 1e6
INCH, LBF = 0.0254, 4.4482216152605
LBF_IN = LBF * INCH
KSI = 1e3 * LBF / INCH**2

fastening_threads = st.sampled_from(data.all_threads())
frictions = st.floats(0.04, 0.5)
shares = st.floats(0.1, 1.0)
yields = st.floats(200e6, 1200e6)
torques = st.floats(0.5, 400.0)
deviations = st.floats(0.0, 0.3)


def pull_area(thread, friction):
    return fasteners.pull_area(thread.pitch, thread.pitch_diameter, thread.stress_area, friction)


def torque_arm(thread, friction, head="hex"):
    bearing = data.head(head, thread).bearing_mean(thread)
    return fasteners.torque_arm(thread.pitch, thread.pitch_diameter, bearing, friction, friction)


# --- VDI 2230 assembly tables ---------------------------------------------------------------------

# thread, friction, then clamp load in kN and torque in N·m for classes 8.8, 10.9 and 12.9
VDI_TABLE = [
    ("M8x1", 0.10, (20.7, 22.8), (30.4, 33.5), (35.6, 39.2)),
    ("M8x1", 0.12, (20.2, 26.1), (29.7, 38.3), (34.7, 44.9)),
    ("M8x1", 0.14, (19.7, 29.2), (28.9, 42.8), (33.9, 50.1)),
    ("M12x1.25", 0.10, (49.1, 79), (72.1, 116), (84.4, 135)),
    ("M12x1.25", 0.12, (48.0, 90), (70.5, 133), (82.5, 155)),
    ("M12x1.25", 0.14, (46.8, 101), (68.7, 149), (80.4, 174)),
    ("M6x1", 0.10, (10.4, 9.0), (15.3, 13.2), (17.9, 15.4)),
    ("M6x1", 0.12, (10.2, 10.1), (14.9, 14.9), (17.5, 17.4)),
    ("M6x1", 0.14, (9.9, 11.3), (14.6, 16.5), (17.1, 19.3)),
    ("M8x1.25", 0.10, (19.1, 21.6), (28.0, 31.8), (32.8, 37.2)),
    ("M8x1.25", 0.12, (18.6, 24.6), (27.3, 36.1), (32.0, 42.2)),
    ("M8x1.25", 0.14, (18.1, 27.3), (26.6, 40.1), (31.1, 46.9)),
    ("M12x1.75", 0.10, (44.1, 73), (64.8, 108), (75.9, 126)),
    ("M12x1.75", 0.12, (43.0, 84), (63.2, 123), (74.0, 144)),
    ("M12x1.75", 0.14, (41.9, 93), (61.5, 137), (72.0, 160)),
]
SEEN = {"M8x1": "as restated", "M12x1.25": "as restated"}


@pytest.mark.parametrize("grade", ["8.8", "10.9", "12.9"])
@pytest.mark.parametrize(
    ("key", "friction", "row"),
    [
        pytest.param(key, mu, row, id=f"{key} {mu} VDI 2230 {SEEN.get(key, 'from memory')}")
        for key, mu, *row in VDI_TABLE
    ],
)
def test_vdi_2230_clamp_load_and_torque_at_nine_tenths_of_yield(key, friction, row, grade):
    thread = data.thread(key)
    load_kn, torque = row[["8.8", "10.9", "12.9"].index(grade)]
    load = fasteners.load_at_yield_share(
        0.9, data.grade(grade).yield_strength, pull_area(thread, friction)
    )
    # Printed to three figures at most; the standard works on from rounded loads and diameters.
    assert load / KN == pytest.approx(load_kn, abs=0.051 + 0.002 * load_kn)
    rounding = 0.5 if torque >= 50.5 and torque == int(torque) else 0.05
    made = fasteners.torque_for_load(load, torque_arm(thread, friction))
    assert made == pytest.approx(torque, abs=rounding + 0.005 * torque)


def test_vdi_2230_tightening_factor_m12_example_as_restated():
    thread = data.thread("M12x1.75")
    highest = fasteners.load_at_yield_share(0.9, 640 * MPA, pull_area(thread, 0.14))
    assert fasteners.tightening_factor(highest, 23.3 * KN) == pytest.approx(1.8, abs=0.01)


@given(fastening_threads, frictions, shares, yields)
def test_pull_and_twist_make_the_share_of_yield_by_von_mises(thread, friction, share, strength):
    """The long way round: stresses in a circle of the stress area, fully plastic in twist."""
    area, d2 = thread.stress_area, thread.pitch_diameter
    load = fasteners.load_at_yield_share(share, strength, pull_area(thread, friction))
    thread_torque = load * d2 / 2 * (thread.pitch / (np.pi * d2) + 1.155 * friction)
    diameter = np.sqrt(4 * area / np.pi)
    pull, twist = load / area, thread_torque / (np.pi * diameter**3 / 12)
    assert np.sqrt(pull**2 + 3 * twist**2) == pytest.approx(share * strength)
    ratio = fasteners.twist_over_pull(thread.pitch, d2, area, friction)
    assert ratio == pytest.approx(twist / pull)


# --- ISO 898-1 and SAE J429 -----------------------------------------------------------------------

COARSE = ["M5x0.8", "M6x1", "M8x1.25", "M10x1.5", "M12x1.75", "M14x2", "M16x2"]
PROOF_LOADS = {
    "8.8": (8230, 11_600, 21_200, 33_700, 48_900, 66_700, 91_000),
    "10.9": (11_800, 16_700, 30_400, 48_100, 70_000, 95_500, None),
    "12.9": (13_800, 19_500, 35_500, 56_300, 81_800, 112_000, None),
}


@pytest.mark.parametrize(
    ("grade", "key", "newtons"),
    [
        pytest.param(grade, key, newtons, id=f"ISO 898-1 as restated {key} {grade}")
        for grade, loads in PROOF_LOADS.items()
        for key, newtons in zip(COARSE, loads, strict=True)
        if newtons
    ],
)
def test_proof_load_is_within_the_rounding_of_the_standard(grade, key, newtons):
    """The standard works from areas of three figures and rounds again: 0.6 %, not exact.

    Some cells miss even their own area by half a per cent: M6 8.8 would be 11 700.
    """
    printed_area = float(f"{data.thread(key).stress_area:.3g}")
    load = fasteners.load_at_proof_share(1.0, data.grade(grade).proof, printed_area)
    assert load == pytest.approx(newtons, rel=0.006)


def test_proof_load_from_the_rounded_area_differs_from_the_exact_one_iso_898_1():
    assert fasteners.load_at_proof_share(1.0, 580 * MPA, 58.0 * MM**2) == pytest.approx(33_640)


@pytest.mark.parametrize(
    ("grade", "key", "newtons"),
    [
        ("8.8", "M8x1.25", 29_200),
        ("10.9", "M8x1.25", 38_100),
        ("12.9", "M8x1.25", 44_600),
        ("8.8", "M10x1.5", 46_400),
        ("10.9", "M10x1.5", 60_300),
        ("12.9", "M10x1.5", 70_800),
        ("8.8", "M12x1.75", 67_400),
        ("10.9", "M12x1.75", 87_700),
        ("12.9", "M12x1.75", 103_000),
    ],
    ids=lambda value: f"ISO 898-1 as restated {value}" if value in data_grades() else None,
)
def test_least_breaking_load(grade, key, newtons):
    load = data.grade(grade).tensile * data.thread(key).stress_area
    assert load == pytest.approx(newtons, rel=0.006)


def data_grades():
    return {each.key for each in data.all_grades()}


@pytest.mark.parametrize(
    ("grade", "proof", "strength", "tensile"),
    [
        pytest.param("8.8", 580, 640, 800, id="ISO 898-1 8.8 to 16 mm"),
        pytest.param("10.9", 830, 940, 1040, id="ISO 898-1 10.9"),
        pytest.param("12.9", 970, 1100, 1220, id="ISO 898-1 12.9"),
        pytest.param("A2-70", 450, 450, 700, id="ISO 3506-1 A2-70 from memory"),
        pytest.param("A4-80", 600, 600, 800, id="ISO 3506-1 A4-80 from memory"),
    ],
)
def test_class_strengths(grade, proof, strength, tensile):
    row = data.grade(grade)
    assert (row.proof, row.yield_strength, row.tensile) == pytest.approx(
        (proof * MPA, strength * MPA, tensile * MPA)
    )


@pytest.mark.parametrize(
    ("grade", "proof", "strength", "tensile"),
    [("sae2", 55, 57, 74), ("sae5", 85, 92, 120), ("sae8", 120, 130, 150)],
    ids=[f"SAE J429 grade {n}, Shigley and Mischke as restated" for n in (2, 5, 8)],
)
def test_grade_strengths(grade, proof, strength, tensile):
    row = data.grade(grade)
    assert (row.proof, row.yield_strength, row.tensile) == pytest.approx(
        (proof * KSI, strength * KSI, tensile * KSI), rel=1e-6
    )


def test_class_88_has_other_figures_above_16_mm_iso_898_1_as_restated():
    assert data.grade("8.8").fits(data.thread("M16x2"))
    assert not data.grade("8.8").fits(data.thread("1/4-20"))
    small, large = (data.grade_on("8.8", data.thread(key)) for key in ("M16x1.5", "M18x1.5"))
    assert (small.proof, small.yield_strength, small.tensile) == (580e6, 640e6, 800e6)
    assert (large.proof, large.yield_strength, large.tensile) == pytest.approx(
        (600e6, 660e6, 830e6)
    )
    assert large.shear_ratio == small.shear_ratio
    assert data.grade_on("10.9", data.thread("M18x1.5")) == data.grade("10.9")
    assert "8.8" in [each.key for each in data.grades_for(data.thread("M18x1.5"))]


# --- pressure under the head ----------------------------------------------------------------------

# size, then bearing area in mm² and pressure in MPa at 0.9 of yield for classes 8.8, 10.9, 12.9
UNDER_HEADS = [
    ("socket_cap", "M4x0.7", 17.6, 250, 370, 432),
    ("socket_cap", "M5x0.8", 26.9, 268, 394, 461),
    ("socket_cap", "M6x1", 34.9, 292, 427, 502),
    ("socket_cap", "M8x1.25", 55.8, 333, 489, 574),
    ("socket_cap", "M10x1.5", 89.5, 331, 485, 567),
    ("socket_cap", "M12x1.75", 90.0, 478, 702, 822),
    ("socket_cap", "M14x2", 130.8, 452, 663, 776),
    ("socket_cap", "M16x2", 181.1, 447, 656, 767),
    ("hex", "M10x1.5", 73.1, 405, 594, 695),
    ("hex", "M12x1.75", 74.1, 580, 853, 999),
    ("hex", "M14x2", 114.3, 517, 759, 888),
]


@pytest.mark.parametrize(
    ("head", "key", "area", "printed"),
    [
        pytest.param(head, key, area, printed, id=f"fastener handbook {head} {key}")
        for head, key, area, *printed in UNDER_HEADS
    ],
)
def test_area_and_pressure_under_the_head(head, key, area, printed):
    """A fastener handbook's tables after VDI 2230, at the loads of its table for friction 0.12."""
    thread = data.thread(key)
    ring = fasteners.bearing_area(data.head(head, thread).bearing, thread.clear_hole)
    assert ring / MM**2 == pytest.approx(area, abs=0.06)
    for grade, pressure in zip(("8.8", "10.9", "12.9"), printed, strict=True):
        load = fasteners.load_at_yield_share(
            0.9, data.grade(grade).yield_strength, pull_area(thread, 0.12)
        )
        assert fasteners.head_pressure(load, ring) / MPA == pytest.approx(pressure, rel=0.008)


@pytest.mark.parametrize(
    ("key", "megapascals"),
    [
        ("die_cast_aluminium", 290),
        ("aluminium", 220),
        ("cast_aluminium_t6", 380),
        ("wrought_aluminium", 230),
        ("steel", 490),
    ],
    ids=lambda value: f"VDI 2230 (2003) as restated {value}" if isinstance(value, str) else "",
)
def test_pressure_that_a_part_bears(key, megapascals):
    row = next(each for each in data.all_clamped() if each.key == key)
    assert row.bears == pytest.approx(megapascals * MPA)


@given(fastening_threads)
def test_a_hard_washer_presses_on_more_than_the_head_and_no_more_than_itself(thread):
    washer, face = data.washer(thread), data.head("hex", thread).bearing
    spread = fasteners.spread_diameter(face, washer.thickness)
    assert face < min(spread, washer.outside) <= washer.outside
    assert washer.outside > thread.clear_hole


@pytest.mark.parametrize(
    ("key", "lbf"),
    [("1/4-20", 1312), ("3/8-16", 3197), ("1/2-13", 5853), ("5/8-11", 9323)],
    ids=lambda value: (
        f"SAE J429 chart, grade 2 at 75 % of proof-{value}" if isinstance(value, str) else ""
    ),
)
def test_clamp_load_of_the_chart(key, lbf):
    load = fasteners.load_at_proof_share(
        0.75, data.grade("sae2").proof, data.thread(key).stress_area
    )
    assert load / LBF == pytest.approx(lbf, rel=0.001)


# inch-pounds; a chart prints foot-pounds from 7/16 up
CHART = [
    pytest.param("1/4-20", "sae5", "unknown", 101, 1, id="grade 5 dry 1/4-20"),
    pytest.param("5/16-18", "sae5", "unknown", 209, 1, id="grade 5 dry 5/16-18"),
    pytest.param("3/8-16", "sae5", "unknown", 372, 1, id="grade 5 dry 3/8-16"),
    pytest.param("7/16-14", "sae5", "unknown", 49, 12, id="grade 5 dry 7/16-14"),
    pytest.param("1/2-13", "sae5", "unknown", 75, 12, id="grade 5 dry 1/2-13"),
    pytest.param("1/2-20", "sae5", "unknown", 85, 12, id="grade 5 dry 1/2-20"),
    pytest.param("5/8-11", "sae5", "unknown", 150, 12, id="grade 5 dry 5/8-11"),
    pytest.param("5/8-18", "sae5", "unknown", 170, 12, id="grade 5 dry 5/8-18"),
    pytest.param("1/4-20", "sae5", "chart_oiled", 76, 1, id="grade 5 oiled 1/4-20"),
    pytest.param("5/16-18", "sae5", "chart_oiled", 157, 1, id="grade 5 oiled 5/16-18"),
    pytest.param("3/8-16", "sae5", "chart_oiled", 276, 1, id="grade 5 oiled 3/8-16"),
    pytest.param("7/16-14", "sae5", "chart_oiled", 37, 12, id="grade 5 oiled 7/16-14"),
    pytest.param("1/2-13", "sae5", "chart_oiled", 57, 12, id="grade 5 oiled 1/2-13"),
    pytest.param("1/2-20", "sae5", "chart_oiled", 64, 12, id="grade 5 oiled 1/2-20"),
    pytest.param("5/8-11", "sae5", "chart_oiled", 113, 12, id="grade 5 oiled 5/8-11"),
    pytest.param("5/8-18", "sae5", "chart_oiled", 127, 12, id="grade 5 oiled 5/8-18"),
    pytest.param("1/4-20", "sae8", "unknown", 143, 1, id="grade 8 dry 1/4-20"),
    pytest.param("5/16-18", "sae8", "unknown", 295, 1, id="grade 8 dry 5/16-18"),
    pytest.param("3/8-16", "sae8", "unknown", 44, 12, id="grade 8 dry 3/8-16"),
    pytest.param("1/2-13", "sae8", "unknown", 106, 12, id="grade 8 dry 1/2-13"),
    pytest.param("5/8-11", "sae8", "unknown", 212, 12, id="grade 8 dry 5/8-11"),
]


@pytest.mark.parametrize(("key", "grade", "factor", "printed", "inches"), CHART)
def test_short_form_torque_chart_sae_j429_as_restated(key, grade, factor, printed, inches):
    thread = data.thread(key)
    load = fasteners.load_at_proof_share(0.75, data.grade(grade).proof, thread.stress_area)
    arm = fasteners.arm_for_nut_factor(data.nut_factor(factor).factor, thread.diameter)
    torque = fasteners.torque_for_load(load, arm) / (LBF_IN * inches)
    # Whole numbers, and the oiled column is three quarters of the rounded dry one.
    assert torque == pytest.approx(printed, abs=0.5 + 0.01 * printed)


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        ("black", 0.30),
        ("zinc", 0.20),
        ("lubricated", 0.18),
        ("cadmium", 0.16),
        ("anti_seize", 0.12),
        ("self_locking", 0.09),
        ("unknown", 0.20),
    ],
    ids=lambda value: f"Shigley and Mischke chapter 8-{value}" if isinstance(value, str) else "",
)
def test_nut_factors(key, printed):
    assert data.nut_factor(key).factor == printed


# --- textbook examples ----------------------------------------------------------------------------


def test_wentzell_example_6_1_three_quarter_inch_grade_5():
    area = threads.stress_area_unified(0.75 * INCH, INCH / 10)
    load = fasteners.load_at_proof_share(0.85, 85 * KSI, 0.334 * INCH**2)
    assert area / INCH**2 == pytest.approx(0.334, abs=0.0006)
    torque = fasteners.torque_for_load(load, fasteners.arm_for_nut_factor(0.2, 0.75 * INCH))
    assert torque / LBF_IN == pytest.approx(3619.73, abs=0.01)


class TestShigleyThreeQuarterInchFineAt25Kip:
    """Shigley, chapter 8, example with 3/4-16, 25 kip and friction 0.15 all round (from memory)."""

    D, PITCH, LOAD = 0.75 * INCH, INCH / 16, 25_000 * LBF

    def test_short_form_3750_pound_inches(self):
        arm = fasteners.arm_for_nut_factor(0.2, self.D)
        assert fasteners.torque_for_load(self.LOAD, arm) / LBF_IN == pytest.approx(3750, abs=0.5)

    def test_long_form_3551_pound_inches(self):
        # Shigley takes the mean bearing diameter as 1.25 d and keeps the product of friction and
        # lead that VDI drops while rounding its coefficients up: half a per cent between them.
        arm = fasteners.torque_arm(self.PITCH, 0.7093 * INCH, 1.25 * self.D, 0.15, 0.15)
        assert fasteners.torque_for_load(self.LOAD, arm) / LBF_IN == pytest.approx(3551, rel=0.005)


@given(fastening_threads, frictions)
def test_arm_is_the_exact_screw_and_collar_formula_within_the_rounding_of_vdi(thread, friction):
    """Screw formula of any machine-design text, tan(φ + ρ), with no small-angle shortcut."""
    d2, bearing = thread.pitch_diameter, data.head("hex", thread).bearing_mean(thread)
    lead = np.arctan(thread.pitch / (np.pi * d2))
    rub = np.arctan(friction / np.cos(np.radians(30)))
    exact = d2 / 2 * np.tan(lead + rub) + bearing / 2 * friction
    # VDI's sum lies up to 0.5 % above by rounding; it lacks the product of lead and friction.
    product = np.tan(lead) * np.tan(rub)
    assert torque_arm(thread, friction) == pytest.approx(exact, rel=0.006 + product)


def test_oiled_hex_heads_lie_between_the_chart_015_and_shigley_018():
    """K 0.15 of inch torque charts, K 0.18 of Shigley's table, both for lubricated bolts."""
    for thread in data.all_threads():
        factor = fasteners.nut_factor(torque_arm(thread, 0.12), thread.diameter)
        assert 0.15 <= factor <= 0.18


# --- laws -----------------------------------------------------------------------------------------


@given(fastening_threads, frictions, torques)
def test_load_from_torque_and_back(thread, friction, torque):
    arm = torque_arm(thread, friction)
    load = fasteners.load_for_torque(torque, arm)
    assert fasteners.torque_for_load(load, arm) == pytest.approx(torque)


@given(fastening_threads, frictions, shares, yields)
def test_share_of_yield_and_back(thread, friction, share, strength):
    area = pull_area(thread, friction)
    load = fasteners.load_at_yield_share(share, strength, area)
    assert fasteners.yield_share(load, strength, area) == pytest.approx(share)


@given(fastening_threads, shares, yields)
def test_share_of_proof_and_back(thread, share, proof):
    load = fasteners.load_at_proof_share(share, proof, thread.stress_area)
    assert fasteners.proof_share(load, proof, thread.stress_area) == pytest.approx(share)


@given(fastening_threads, frictions)
def test_friction_from_arm_and_back(thread, friction):
    bearing = data.head("hex", thread).bearing_mean(thread)
    found = fasteners.friction_for_arm(
        torque_arm(thread, friction), thread.pitch, thread.pitch_diameter, bearing
    )
    assert found == pytest.approx(friction)


@given(fastening_threads, frictions)
def test_nut_factor_from_arm_and_back(thread, friction):
    arm = torque_arm(thread, friction)
    factor = fasteners.nut_factor(arm, thread.diameter)
    assert fasteners.arm_for_nut_factor(factor, thread.diameter) == pytest.approx(arm)


@given(fastening_threads, frictions, st.floats(1.001, 1.2))
def test_more_friction_takes_more_torque_and_leaves_less_pull(thread, friction, more):
    assert torque_arm(thread, friction * more) > torque_arm(thread, friction)
    assert pull_area(thread, friction * more) < pull_area(thread, friction)


@given(fastening_threads, frictions)
def test_twist_always_costs_some_pull(thread, friction):
    assert 0.3 * thread.stress_area < pull_area(thread, friction) < thread.stress_area


def test_without_friction_only_the_lead_twists_the_bolt():
    """Limit case: the smallest friction allowed leaves the stress area but for a few per cent."""
    thread = data.thread("M10x1.5")
    assert pull_area(thread, 0.02) / thread.stress_area == pytest.approx(1.0, abs=0.03)


@given(
    fastening_threads,
    st.sampled_from(data.all_friction()),
    st.sampled_from(data.all_wrench_kinds()),
    torques,
)
def test_band_holds_the_nominal_load(thread, friction, wrench, torque):
    deviation = wrench.deviation_for(200.0)
    nominal = fasteners.load_for_torque(torque, torque_arm(thread, friction.nominal))
    low = fasteners.lowest_load(torque, deviation, torque_arm(thread, friction.high))
    high = fasteners.highest_load(torque, deviation, torque_arm(thread, friction.low))
    assert low < nominal < high


@given(fastening_threads, frictions, torques, deviations)
def test_exact_wrench_and_known_friction_leave_no_band(thread, friction, torque, deviation):
    arm = torque_arm(thread, friction)
    assert fasteners.lowest_load(torque, 0.0, arm) == fasteners.highest_load(torque, 0.0, arm)
    spread = fasteners.tightening_factor(
        fasteners.highest_load(torque, deviation, arm),
        fasteners.lowest_load(torque, deviation, arm),
    )
    assert spread == pytest.approx((1 + deviation) / (1 - deviation))


def test_tightening_factor_of_oiled_bolts_and_a_checked_wrench_vdi_2230_from_memory():
    """VDI 2230 gives α_A 1.6 to 2.0 for a torque wrench with friction class B estimated."""
    oiled, thread = data.friction("oiled"), data.thread("M8x1.25")
    low = fasteners.lowest_load(25.0, 0.04, torque_arm(thread, oiled.high))
    high = fasteners.highest_load(25.0, 0.04, torque_arm(thread, oiled.low))
    assert 1.6 <= fasteners.tightening_factor(high, low) <= 2.0


# --- dimensions, arrays and bad input -------------------------------------------------------------


def test_dimensions_come_out_right():
    unit = pint.get_application_registry()
    m, n, pa = unit.metre, unit.newton, unit.pascal
    area = fasteners.pull_area(0.00125 * m, 0.007188 * m, 36.61e-6 * m**2, 0.12)
    assert area.check("[area]")
    load = fasteners.load_at_yield_share(0.9, 640e6 * pa, area)
    assert load.check("[force]")
    bearing = fasteners.mean_bearing_diameter(0.01163 * m, 0.009 * m)
    arm = fasteners.torque_arm(0.00125 * m, 0.007188 * m, bearing, 0.12, 0.12)
    assert arm.check("[length]")
    assert fasteners.torque_for_load(load, arm).check("[force] * [length]")
    assert fasteners.load_for_torque(25.0 * n * m, arm).check("[force]")
    assert fasteners.nut_factor(arm, 0.008 * m).check("")
    assert fasteners.friction_for_arm(arm, 0.00125 * m, 0.007188 * m, bearing).check("")
    assert fasteners.yield_share(load, 640e6 * pa, area).to("").magnitude == pytest.approx(0.9)
    assert fasteners.lowest_load(25.0 * n * m, 0.04, arm).check("[force]")
    spread = fasteners.spread_diameter(0.01163 * m, 0.0016 * m)
    assert spread.check("[length]")
    ring = fasteners.bearing_area(spread, 0.009 * m)
    assert fasteners.head_pressure(load, ring).check("[pressure]")


def test_arrays_give_what_scalars_give():
    thread, friction = data.thread("M10x1.5"), np.linspace(0.04, 0.5, 7)
    assert pull_area(thread, friction) == pytest.approx(
        [pull_area(thread, float(each)) for each in friction], rel=1e-14
    )
    assert torque_arm(thread, friction) == pytest.approx(
        [torque_arm(thread, float(each)) for each in friction], rel=1e-14
    )


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: fasteners.pull_area(0.00125, 0.0072, 36.6e-6, 0.0), "thread_friction"),
        (lambda: fasteners.pull_area(1.25, 0.0072, 36.6e-6, 0.12), "P"),
        (lambda: fasteners.stress_diameter(36.6), "area"),
        (lambda: fasteners.load_at_strength(640.0, 36e-6), "strength"),
        (lambda: fasteners.load_at_yield_share(1.2, 640e6, 36e-6), "share"),
        (lambda: fasteners.load_at_yield_share(0.9, 640.0, 36e-6), "yield_strength"),
        (lambda: fasteners.load_for_torque(float("nan"), 0.0013), "torque"),
        (lambda: fasteners.bearing_area(0.010, 0.012), "bearing less hole"),
        (lambda: fasteners.head_pressure(1e3, 0.1), "area"),
        (lambda: fasteners.spread_diameter(0.010, 0.1), "thickness"),
        (lambda: fasteners.mean_bearing_diameter(0.011, 0.012), "bearing less hole"),
        (lambda: fasteners.friction_for_arm(2e-4, 0.00125, 0.0072, 0.0103), "friction"),
        (lambda: fasteners.arm_for_nut_factor(2.0, 0.008), "K"),
        (lambda: fasteners.lowest_load(25.0, 0.9, 0.0013), "deviation"),
    ],
)
def test_bad_input_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument


# --- the tables -----------------------------------------------------------------------------------


def test_every_thread_has_heads_grades_and_room_for_friction_to_act():
    for thread in data.all_threads():
        assert data.grades_for(thread)
        heads = data.heads_for(thread)
        assert [head.key for head in heads] == ["hex", "hex_flange", "socket_cap"]
        for head in heads:
            assert head.system == thread.system
            assert thread.clear_hole > thread.diameter
            assert head.bearing > thread.clear_hole
            assert 1.1 < head.bearing_mean(thread) / thread.diameter < 1.8


def test_friction_is_ordered_and_inside_its_vdi_2230_class():
    classes = {"A": (0.04, 0.10), "B": (0.08, 0.16), "C": (0.14, 0.24), "D": (0.20, 0.35)}
    for row in data.all_friction():
        assert row.low < row.nominal < row.high
        name = row.source.removeprefix("VDI 2230, friction class ")[:1]
        if row.source.startswith("VDI 2230, friction class "):
            assert classes[name][0] <= row.low
            assert row.high <= classes[name][1]


def test_grades_get_stronger_from_proof_to_tensile():
    for grade in data.all_grades():
        assert grade.proof <= grade.yield_strength < grade.tensile
        assert 0.5 < grade.shear_ratio < 0.8


@pytest.mark.parametrize(
    ("pick", "what"),
    [
        (lambda: data.thread("M9"), "thread 'M9' is not one of M4x0.7"),
        (lambda: data.grade("11.9"), "grade '11.9' is not one of 8.8"),
        (
            lambda: data.head("cheese", data.thread("M8x1")),
            "head for M8 'cheese' is not one of hex",
        ),
    ],
)
def test_unknown_key_names_the_choices(pick, what):
    with pytest.raises(KeyError) as caught:
        pick()
    assert what in str(caught.value)
