"""Hose bends against handbook geometry, published bend tables, a Monte-Carlo run and laws."""

import numpy as np
import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize

from calc import hoses
from calc.domain import DomainError
from site_src.data import hoses as data

INCH = 0.0254
MM = 0.001

chords = st.floats(0.02, 1.5)
rise_shares = st.floats(0.01, 0.499)


# --- chord and rise -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("chord", "rise", "radius"),
    [
        (12, 2, 10.0),
        (24, 3, 25.5),
        (24, 8, 13.0),
        (300, 40, 301.25),
        (150, 30, 108.75),
        (200, 25, 212.5),
    ],
    ids=lambda value: f"{value:g}",
)
def test_radius_from_chord_and_rise_machinerys_handbook_segments(chord, rise, radius):
    # Exact values, so the unit does not matter; a two-hundredth keeps them all within the range.
    assert hoses.bend_radius(chord / 200, rise / 200) == pytest.approx(radius / 200, rel=1e-12)


@pytest.mark.parametrize(
    ("degrees", "chord", "rise"),
    [
        (30, 0.51764, 0.034074),
        (45, 0.76537, 0.076120),
        (60, 1.00000, 0.133975),
        (90, 1.41421, 0.292893),
        (120, 1.73205, 0.500000),
        pytest.param(180, 2.00000, 1.000000, id="180-limit case"),
    ],
)
class TestSegmentTableForRadiusOne:
    """Machinery's Handbook, table of segments of circles for radius 1 (from memory; exact by R)."""

    def test_radius(self, degrees, chord, rise):
        # Half a unit in the printed rise's last place moves the radius by dR/dh times as much.
        slope = abs(0.5 - chord**2 / (8 * rise**2))
        printed = slope * 0.5e-6 + chord / (4 * rise) * 0.5e-5
        assert hoses.bend_radius(chord, rise) == pytest.approx(1.0, abs=printed + 1e-12)

    def test_angle(self, degrees, chord, rise):
        assert np.degrees(hoses.included_angle(chord, rise)) == pytest.approx(degrees, rel=2e-5)

    def test_rise(self, degrees, chord, rise):
        slope = chord / 4 / max(np.sqrt(1 - chord**2 / 4), 1e-3)
        printed = 0.5e-6 + slope * 0.5e-5
        assert hoses.bend_rise(chord, 1.0) == pytest.approx(rise, abs=printed)


def test_angle_agrees_with_the_arcsine_form():
    chord, rise = 0.150, 0.030
    radius = hoses.bend_radius(chord, rise)
    assert hoses.included_angle(chord, rise) == pytest.approx(2 * np.arcsin(chord / 2 / radius))


def test_radius_is_that_of_the_circle_through_three_points():
    # Second method: least-squares circle through the touching points and the foot of the gap.
    chord, rise = 0.150, 0.030
    points = np.array([[-chord / 2, 0.0], [chord / 2, 0.0], [0.0, rise]])

    def misfit(circle):
        return np.hypot(points[:, 0] - circle[0], points[:, 1] - circle[1]) - circle[2]

    fitted = optimize.least_squares(misfit, [0.0, -0.1, 0.1], xtol=1e-14, ftol=1e-14, gtol=1e-14)
    assert hoses.bend_radius(chord, rise) == pytest.approx(fitted.x[2], rel=1e-7)


@given(chords, rise_shares)
def test_bend_rise_undoes_bend_radius(chord, share):
    rise = share * chord
    assert hoses.bend_rise(chord, hoses.bend_radius(chord, rise)) == pytest.approx(rise, rel=1e-6)


@given(chords, st.floats(1.001, 500.0))
def test_bend_radius_undoes_bend_rise(chord, share):
    radius = share * chord / 2
    rise = hoses.bend_rise(chord, radius)
    assume(rise >= 1e-4)
    assert hoses.bend_radius(chord, rise) == pytest.approx(radius, rel=1e-9)


@given(chords, rise_shares, rise_shares)
def test_radius_falls_with_rise_up_to_half_the_chord(chord, one, other):
    assume(abs(one - other) > 1e-6)
    small, large = sorted((one * chord, other * chord))
    assert hoses.bend_radius(chord, small) > hoses.bend_radius(chord, large)


def test_radius_changes_with_the_rise_as_the_machinerys_handbook_formula_does():
    # dR/dh = 1/2 - c²/(8h²) = -6.531 mm per mm at 300, 40: what a misread rise costs.
    step = 1e-6
    higher, lower = (hoses.bend_radius(0.300, 0.040 + error) for error in (step, -step))
    assert (higher - lower) / (2 * step) == pytest.approx(-6.531, abs=5e-4)


def test_half_a_turn_shows_half_the_chord():
    assert hoses.bend_rise(0.300, 0.150) == 0.150


def test_a_flat_arc_keeps_its_digits():
    # R - sqrt(R² - c²/4) in doubles gives 7.5e-7 with three good digits here.
    series = 0.01**2 / 8 / 16.0
    assert hoses.bend_rise(0.01, 16.0) == pytest.approx(series, rel=1e-7)


# --- faces, lengths -------------------------------------------------------------------------------


@given(st.floats(0.05, 2), st.floats(0.005, 0.04), st.floats(0, 1), st.floats(0, 1))
def test_face_conversion_undoes_itself(radius, diameter, measured, wanted):
    there = hoses.radius_at_face(radius, measured, wanted, diameter)
    assert hoses.radius_at_face(there, wanted, measured, diameter) == pytest.approx(radius)


def test_inside_centreline_and_outside_lie_half_a_diameter_apart():
    inside = 0.100
    assert hoses.radius_at_face(
        inside, hoses.INSIDE_FACE, hoses.CENTRELINE, 0.030
    ) == pytest.approx(0.115)
    assert hoses.radius_at_face(
        inside, hoses.INSIDE_FACE, hoses.OUTSIDE_FACE, 0.030
    ) == pytest.approx(0.130)


@pytest.mark.parametrize(("degrees", "millimetres"), [(90, 157.080), (180, 314.159)])
def test_arc_length_is_2_pi_r_a_over_360_for_radius_100(degrees, millimetres):
    length = hoses.arc_length(0.100, np.radians(degrees))
    assert length / MM == pytest.approx(millimetres, abs=5e-4)


def test_free_length_of_a_half_turn_sae_j343_bend_term():
    # SAE J343: a hose of outside diameter d bent half round to inside radius r takes π(r + d/2).
    inside, diameter = 0.100, 0.0254
    centre = hoses.radius_at_face(inside, hoses.INSIDE_FACE, hoses.CENTRELINE, diameter)
    assert hoses.arc_length(centre, np.pi) == pytest.approx(np.pi * (inside + diameter / 2))


@pytest.mark.parametrize("slack", [hoses.LEAST_SLACK, hoses.MOST_SLACK])
def test_slack_of_5_to_8_percent_covers_4_percent_shrinkage_navedtra_14105_ac_43_13_1b(slack):
    flexible = 0.500
    cut = hoses.length_to_cut(0.200, 0.300, slack, 0.0)
    assert hoses.pressurised_length(cut, hoses.SHORTEST_UNDER_PRESSURE) > flexible


def test_length_change_under_pressure_ac_43_13_1b_figure_9_9():
    assert hoses.pressurised_length(1.0, hoses.LONGEST_UNDER_PRESSURE) == pytest.approx(1.02)
    assert hoses.pressurised_length(1.0, hoses.SHORTEST_UNDER_PRESSURE) == pytest.approx(0.96)
    with pytest.raises(DomainError, match="change"):
        hoses.pressurised_length(1.0, -0.05)


def test_slack_is_taken_on_the_flexible_length_not_on_the_ends():
    bare = hoses.length_to_cut(0.2, 0.3, 0.06, 0.0)
    assert hoses.length_to_cut(0.2, 0.3, 0.06, 0.03) - bare == pytest.approx(0.06)
    assert bare == pytest.approx(0.53)


# --- published tables -----------------------------------------------------------------------------

AC_43_13_TABLE_9_3 = [
    # bore, outside diameter, minimum bend radius (in)
    (1 / 8, 0.45, 3.00),
    (3 / 16, 0.52, 3.00),
    (1 / 4, 0.58, 3.38),
    (5 / 16, 0.67, 4.00),
    (13 / 32, 0.77, 4.63),
    (1 / 2, 0.92, 5.50),
    (5 / 8, 1.08, 6.50),
    (7 / 8, 1.23, 7.38),
    (1 + 1 / 8, 1.50, 9.00),
    (1 + 3 / 8, 1.75, 11.00),
    (1 + 13 / 16, 2.22, 13.25),
    (2 + 3 / 8, 2.88, 24.00),
    (3, 3.56, 33.00),
]
SAE_100R1 = [
    (3 / 16, 3.5),
    (1 / 4, 4),
    (5 / 16, 4.5),
    (3 / 8, 5),
    (1 / 2, 7),
    (5 / 8, 8),
    (3 / 4, 9.5),
    (1, 12),
    (1.25, 16.5),
    (1.5, 20),
    (2, 25),
]


@pytest.mark.parametrize(("bore", "outside", "radius"), AC_43_13_TABLE_9_3)
def test_wire_braid_rows_faa_ac_43_13_1b_table_9_3(bore, outside, radius):
    found = data.minimum_radius(data.hose_kind("wire_braid"), bore * INCH)
    assert found.radius / INCH == pytest.approx(radius, abs=1e-9)
    assert found.row.outside_diameter / INCH == pytest.approx(outside, abs=1e-9)
    assert "table 9-3" in found.basis


@pytest.mark.parametrize(
    ("bore", "ratio"),
    [(5 / 16, 12.8), (13 / 32, 11.4), (5 / 8, 10.4), (7 / 8, 8.43), (1 + 3 / 8, 8.0)],
)
def test_radius_over_bore_falls_with_size_derived_from_table_9_3(bore, ratio):
    found = data.minimum_radius(data.hose_kind("wire_braid"), bore * INCH)
    assert found.radius / (bore * INCH) == pytest.approx(ratio, rel=0.01)


def test_wire_braid_lists_the_published_bores_and_no_others():
    bores = [row.bore / INCH for row in data.hose_kind("wire_braid").rows]
    assert bores == pytest.approx([row[0] for row in AC_43_13_TABLE_9_3])


@pytest.mark.parametrize(
    ("bore", "radius"),
    [pytest.param(*row, id=f"{row[0]:g} in, SAE J517 from memory") for row in SAE_100R1],
)
def test_hydraulic_hose_rows_sae_100r1(bore, radius):
    found = data.minimum_radius(data.hose_kind("hydraulic_one_braid"), bore * INCH)
    assert found.radius / INCH == pytest.approx(radius, abs=1e-9)


def test_only_the_ends_of_the_100r1_list_claim_to_have_been_seen():
    marks = [row.mark for row in data.hose_kind("hydraulic_one_braid").rows]
    assert marks == ["as restated"] + ["from memory"] * 9 + ["as restated"]


@pytest.mark.parametrize(
    ("key", "multiple"),
    [
        pytest.param("ptfe_convoluted", 4, id="convoluted PTFE 4 bores, common practice"),
        pytest.param(
            "wire_helix", 6, id="built on a mandrel, wire helix, 6 bores, common practice"
        ),
        pytest.param("mandrel_built", 8, id="no helix 8 bores, common practice"),
        pytest.param("push_on", 10, id="push-on 10 bores, common practice"),
        pytest.param("textile_coolant", 8, id="textile coolant hose 8 bores, common practice"),
    ],
)
def test_rules_of_so_many_bores(key, multiple):
    found = data.minimum_radius(data.hose_kind(key), 0.019)
    assert found.radius == pytest.approx(multiple * 0.019)
    assert f"rule of {multiple} bores" in found.basis
    assert "Common practice" in found.basis


def test_a_bore_between_listed_sizes_takes_the_next_up_and_says_so():
    found = data.minimum_radius(data.hose_kind("wire_braid"), 0.75 * INCH)
    assert found.radius == pytest.approx(7.38 * INCH)
    assert "next listed bore up" in found.basis


@pytest.mark.parametrize("bore", [0.002, 0.090])
def test_a_bore_the_kind_is_not_made_in_gives_no_figure_and_the_way_out(bore):
    found = data.minimum_radius(data.hose_kind("wire_braid"), bore)
    assert found.radius is None
    assert "maker's figure" in found.basis


def test_a_listed_bore_typed_in_millimetres_is_that_bore():
    found = data.minimum_radius(data.hose_kind("wire_braid"), 10.3 * MM)
    assert found.radius == pytest.approx(4.63 * INCH)
    assert "next listed" not in found.basis


@pytest.mark.parametrize("kind", data.hose_kinds(), ids=lambda kind: kind.key)
def test_the_makers_figure_goes_before_every_kind(kind):
    assert data.minimum_radius(kind, 0.019, makers_figure=0.123).radius == 0.123


def test_my_hose_asks_for_the_makers_figure():
    found = data.minimum_radius(data.hose_kind("own"), 0.019)
    assert found.radius is None
    assert "maker" in found.basis


@pytest.mark.parametrize("kind", data.hose_kinds(), ids=lambda kind: kind.key)
def test_rows_are_in_order_and_make_sense(kind):
    bores = [row.bore for row in kind.rows]
    radii = [row.minimum_radius for row in kind.rows if row.minimum_radius is not None]
    dashes = [row.dash for row in kind.rows if row.dash is not None]
    assert bores == sorted(set(bores))
    assert radii == sorted(radii)
    assert dashes == sorted(set(dashes))
    for row in kind.rows:
        assert row.bore < row.outside_diameter < 4 * row.bore
        assert row.minimum_radius is None or row.minimum_radius > row.outside_diameter


def flattening_radius(row):
    """Inside radius at which a plain tube bent in air flattens of itself.

    Brazier, Proc. R. Soc. A 116 (1927) 104 (from memory): the bending moment of a thin tube of
    mean radius r and wall t is largest at a curvature of (√2/3)·t/(r²·√(1 − ν²)); rubber, ν = 1/2.
    """
    wall = (row.outside_diameter - row.bore) / 2
    mean = (row.outside_diameter + row.bore) / 4
    curvature = np.sqrt(2) / 3 * wall / mean**2 / np.sqrt(1 - 0.5**2)
    return 1 / curvature - row.outside_diameter / 2


@pytest.mark.parametrize(
    "key", ["mandrel_built", "textile_coolant", "push_on", "fuel_injection", "nylon_braid"]
)
def test_a_rule_for_hose_without_a_helix_keeps_clear_of_braziers_flattening(key):
    for row in data.hose_kind(key).rows:
        assert row.minimum_radius > 1.4 * flattening_radius(row), row.bore / INCH


def test_six_bores_would_not_keep_the_largest_hose_without_a_helix_clear_of_it():
    # Why the six bores of hose with a wire helix are not for hose without one.
    largest = data.hose_kind("mandrel_built").rows[-1]
    assert 6 * largest.bore < 1.4 * flattening_radius(largest)


def test_a_helix_lets_a_hose_bend_tighter_and_not_less():
    helix, plain = (data.hose_kind(key).multiple for key in ("wire_helix", "mandrel_built"))
    assert helix < plain


# --- dash sizes -----------------------------------------------------------------------------------

DASHES = [3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48]


@pytest.mark.parametrize(
    ("number", "bore"),
    [
        pytest.param(number, row[0], id=f"-{number}, FAA AC 43.13-1B table 9-3 (MIL-H-8794)")
        for number, row in zip(DASHES, AC_43_13_TABLE_9_3, strict=True)
    ],
)
def test_real_bores_of_the_dash_sizes(number, bore):
    size = next(size for size in data.dash_sizes() if size.number == number)
    assert size.bore / INCH == pytest.approx(bore)
    assert size.tube / INCH == pytest.approx(number / 16)
    assert size.mark == "published"


@pytest.mark.parametrize(
    ("number", "bore"),
    [
        pytest.param(*row, id=f"-{row[0]}, FAA AC 43.13-1B table 9-3 (MIL-H-8788)")
        for row in (
            *((4, 7 / 32), (5, 9 / 32), (6, 11 / 32), (8, 7 / 16)),
            *((10, 9 / 16), (12, 11 / 16), (16, 7 / 8)),
        )
    ],
)
def test_bores_of_hose_with_an_outer_braid(number, bore):
    size = next(size for size in data.dash_sizes("nylon_braid") if size.number == number)
    assert size.bore / INCH == pytest.approx(bore)


def test_a_bore_is_never_wider_than_its_dash_size_says():
    for kind in data.hose_kinds():
        for size in data.dash_sizes(kind.key):
            assert size.bore <= size.tube * (1 + 1e-12), (kind.key, size.name)


def test_hose_sold_by_its_bore_has_no_dash_sizes():
    assert data.dash_sizes("fuel_injection") == ()
    assert data.dash_sizes("textile_coolant") == ()


def test_an_unknown_kind_is_named():
    with pytest.raises(KeyError, match="straw"):
        data.hose_kind("straw")


# --- ranges ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: hoses.bend_radius(0.100, 0.051), "rise"),
        (lambda: hoses.bend_radius(0.100, 0.0), "rise"),
        (lambda: hoses.bend_radius(0.0, 0.01), "chord"),
        (lambda: hoses.bend_radius(float("nan"), 0.01), "chord"),
        (lambda: hoses.bend_radius(np.array([0.1, 0.05]), 0.03), "rise"),
        (lambda: hoses.bend_rise(0.300, 0.149), "radius"),
        (lambda: hoses.bend_rise(0.300, 20_000.0), "radius"),
        (lambda: hoses.radius_at_face(0.020, 1.0, 0.0, 0.030), "radius"),
        (lambda: hoses.radius_at_face(0.100, 1.1, 0.0, 0.030), "measured_face"),
        (lambda: hoses.length_to_cut(0.1, 0.1, 0.25, 0.0), "slack"),
        (lambda: hoses.minimum_radius_by_bore(0.0, 6.0), "bore"),
        (lambda: hoses.arc_length(0.1, 6.3), "angle"),
    ],
)
def test_input_outside_its_range_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument
    assert not caught.value.low <= caught.value.value <= caught.value.high


def test_the_largest_rise_named_is_half_the_chord():
    with pytest.raises(DomainError) as caught:
        hoses.bend_radius(0.100, 0.051)
    assert caught.value.high == pytest.approx(0.050)


@pytest.mark.parametrize("inches", [3, 5, 6, 7, 11, 13])
def test_exactly_half_a_turn_is_allowed_in_any_unit(inches):
    chord, rise = inches * INCH, inches / 2 * INCH
    assert hoses.bend_radius(chord, rise) == pytest.approx(chord / 2)


def test_arrays_broadcast():
    radii = hoses.bend_radius(np.array([[0.150], [0.200]]), np.array([0.020, 0.025, 0.030]))
    assert radii.shape == (2, 3)
    assert radii[1, 1] == pytest.approx(0.2125)


# --- dimensions -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def units():
    return pint.get_application_registry()


def test_dimensions_come_out_as_declared(units):
    chord, rise = 0.150 * units.m, 0.030 * units.m
    lengths = [
        hoses.bend_radius(chord, rise),
        hoses.bend_rise(chord, 0.2 * units.m),
        hoses.radius_at_face(0.1 * units.m, 0.0, 0.5, 0.03 * units.m),
        hoses.arc_length(0.1 * units.m, 1.0 * units.rad),
        hoses.length_to_cut(chord, chord, 0.05, rise),
        hoses.minimum_radius_by_bore(rise, 6.0),
        hoses.pressurised_length(chord, 0.01),
    ]
    assert all(length.check("[length]") for length in lengths)
    assert hoses.included_angle(chord, rise).check("[]")
