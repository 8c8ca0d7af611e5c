"""Flow in pipes and hoses against textbooks, a general library and laws."""

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import pipes
from calc.domain import DomainError

UNIT = pint.get_application_registry()

flows = st.floats(1e-6, 1e-3)


# --- straight runs --------------------------------------------------------------------------------


@given(flows, st.floats(2e-3, 0.05))
def test_bore_and_velocity_undo_each_other(flow, bore):
    velocity = flow / (np.pi / 4 * bore**2)
    if 0.1 <= velocity <= 20.0:
        assert pipes.line_velocity(flow, bore) == pytest.approx(velocity, rel=1e-12)
        assert pipes.line_bore(flow, velocity) == pytest.approx(bore, rel=1e-12)


@pytest.mark.parametrize("reynolds", [500.0, 2000.0, 3000.0, 4e3, 1e4, 1e5, 1e6])
@pytest.mark.parametrize("roughness", [0.0, 1e-4, 1e-3, 0.02])
def test_friction_factor_agrees_with_the_library(reynolds, roughness):
    reference = fluids.friction.Churchill_1977(reynolds, roughness)
    result = pipes.darcy_friction_factor(reynolds, roughness)
    assert result == pytest.approx(reference, rel=1e-12)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "factor"),
    [
        (1e4, 0.0, 0.030883),
        (1e5, 0.0, 0.017990),
        (1e5, 1e-4, 0.018514),
        (1e6, 1e-4, 0.013441),
        (1e5, 1e-3, 0.022175),
        (4e3, 0.0, 0.039907),
    ],
    ids=lambda value: f"Colebrook by fluids-{value:g}",
)
def test_friction_factor_is_within_its_stated_error_of_colebrook(reynolds, roughness, factor):
    assert pipes.darcy_friction_factor(reynolds, roughness) == pytest.approx(factor, rel=0.03)


@pytest.mark.parametrize("reynolds", [10.0, 500.0, 1500.0])
def test_laminar_friction_is_hagen_poiseuille(reynolds):
    result = pipes.darcy_friction_factor(reynolds, 1e-3)
    assert result == pytest.approx(64.0 / reynolds, rel=1e-6)


def line_loss(flow, bore, length, density, viscosity, roughness):
    reynolds = pipes.line_reynolds(flow, bore, density, viscosity)
    friction = pipes.darcy_friction_factor(reynolds, roughness / bore)
    velocity = pipes.line_velocity(flow, bore)
    return pipes.line_pressure_loss(friction, length, bore, density, velocity)


def test_laminar_loss_cengel_and_cimbala_ex_8_2():
    # Water at 5 °C in 3 mm, 0.9 m/s, 9 m: 43.7 kPa. Near Re 1800 the single formula for all
    # regimes is 0.03 % above 64/Re.
    flow = 0.9 * np.pi / 4 * 3e-3**2
    loss = line_loss(flow, 3e-3, 9.0, 999.9, 1.519e-3, 0.0)
    assert loss == pytest.approx(43.7e3, rel=0.0015)


def test_turbulent_loss_agrees_with_the_library():
    flow, bore = 8e-5, 8e-3
    velocity = flow / (np.pi / 4 * bore**2)
    reynolds = 745.0 * velocity * bore / 0.44e-3
    friction = fluids.friction_factor(reynolds, 1.5e-6 / bore)
    expected = fluids.dP_from_K(friction * 4.0 / bore, rho=745.0, V=velocity)
    result = line_loss(flow, bore, 4.0, 745.0, 0.44e-3, 1.5e-6)
    assert result == pytest.approx(expected, rel=0.02)


@given(flows, flows)
def test_more_flow_never_loses_less(one, other):
    low, high = sorted((one, other))
    loss = line_loss(np.array([low, high]), 8e-3, 4.0, 745.0, 0.44e-3, 1.5e-6)
    # Between laminar and turbulent f·v² still rises: no fold, so the bore can be looked up.
    assert loss[0] <= loss[1]


# --- bends, and narrow places ---------------------------------------------------------------------


def bend(angle, radius_ratio, friction):
    """Whole coefficient of a bend, friction along its arc included."""
    half = pipes.half_sine(angle)
    fall = pipes.decay(pipes.bend_exponent(angle, pipes.log_tightness(radius_ratio)))
    along = friction * angle * radius_ratio
    return along + friction * pipes.bend_friction(half, fall) + pipes.bend_turning(half)


@pytest.mark.parametrize("degrees", [30.0, 45.0, 90.0, 180.0])
@pytest.mark.parametrize("radius_ratio", [1.0, 2.0, 5.0, 12.0])
def test_bends_agree_with_the_library_rennels_by_fluids(degrees, radius_ratio):
    reference = fluids.fittings.bend_rounded(
        Di=0.01905, angle=degrees, fd=0.0257, bend_diameters=radius_ratio, method="Rennels"
    )
    found = bend(np.radians(degrees), radius_ratio, 0.0257)
    assert found == pytest.approx(reference, rel=1e-9)


def test_a_bend_of_two_bores_lies_among_the_published_methods_by_fluids():
    # At Re 20,000 in 19.05 mm: Rennels 0.2633, Ito 0.2690, Miller 0.2887.
    found = bend(np.pi / 2, 2.0, pipes.darcy_friction_factor(2e4, 1.5e-6 / 0.01905))
    assert found == pytest.approx(0.2633, abs=1e-3)
    assert found == pytest.approx(0.2690, rel=0.05)


@pytest.mark.parametrize(
    ("diameters", "expansion"),
    [(0.3, 0.8281), (0.5, 0.5625), (0.7, 0.2601)],
    ids=lambda value: f"Borda-Carnot by fluids.diffuser_sharp-{value:g}",
)
def test_a_narrow_place_is_a_step_in_and_a_step_out(diameters, expansion):
    assert fluids.diffuser_sharp(diameters, 1.0) == pytest.approx(expansion, abs=1e-4)
    area = diameters**2
    assert pipes.narrow_place(area) - 0.5 * (1 - area) ** 0.75 == pytest.approx(expansion, abs=1e-4)


def test_the_step_in_is_near_another_rule_for_sharp_edges_rennels_by_fluids():
    # Rennels counts the profile of the flow too, and comes out a fifth higher.
    area = 0.6**2
    reference = fluids.contraction_sharp(1.0, 0.6)
    assert pipes.narrow_place(area) - (1 - area) ** 2 == pytest.approx(reference, rel=0.2)


def test_loss_of_a_pipe_with_fittings_cengel_and_cimbala_ex_8_8():
    # 6 L/s in 50 mm of 0.26 mm roughness, 89 m, K = 0.5 + 2·0.3 + 0.2 + 1.06: f 0.0315, 27.9 m.
    velocity = pipes.line_velocity(6e-3, 0.05)
    reynolds = pipes.line_reynolds(6e-3, 0.05, 999.7, 1.307e-3)
    friction = pipes.darcy_friction_factor(reynolds, 0.26e-3 / 0.05)
    assert friction == pytest.approx(0.0315, rel=0.01)
    whole = pipes.dynamic_pressure(999.7, velocity) * friction * 89.0 / 0.05
    whole += pipes.square_law(0.5 + 2 * 0.3 + 0.2 + 1.06, 999.7, 0.05) * 6e-3**2
    assert whole / (999.7 * 9.81) == pytest.approx(27.9, rel=0.01)


def test_what_a_hose_holds_is_a_cylinder():
    assert pipes.hose_content(0.02, 1.0) == pytest.approx(np.pi * 1e-4)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: pipes.line_velocity(7e-5, 8.0), "bore"),
        (lambda: pipes.half_sine(90.0), "angle"),
        (lambda: pipes.narrow_place(1.4), "area_ratio"),
    ],
    ids=["millimetres", "degrees", "wider than the hose"],
)
def test_a_value_out_of_range_is_named(call, argument):
    with pytest.raises(DomainError) as caught:
        call()
    assert caught.value.argument == argument


def si(value, unit):
    return UNIT.Quantity(value, unit).to_base_units()


FLOW, DENSITY, BORE = si(7e-5, "m^3/s"), si(745.0, "kg/m^3"), si(8e-3, "m")


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        (pipes.line_velocity(FLOW, BORE), "[length]/[time]"),
        (pipes.line_bore(FLOW, si(2.0, "m/s")), "[length]"),
        (pipes.line_reynolds(FLOW, BORE, DENSITY, si(5e-4, "Pa*s")), "[]"),
        (
            pipes.line_pressure_loss(0.02, si(4.0, "m"), BORE, DENSITY, si(1.4, "m/s")),
            "[pressure]",
        ),
        (pipes.square_law(1.5, DENSITY, BORE) * FLOW**2, "[pressure]"),
        (pipes.dynamic_pressure(DENSITY, si(2.0, "m/s")), "[pressure]"),
        (pipes.hose_content(BORE, si(2.0, "m")), "[volume]"),
    ],
)
def test_dimension(result, dimension):
    assert result.check(dimension)
