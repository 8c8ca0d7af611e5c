"""Fuel: whether injectors, pump and line keep up, and what the page says when they don't."""

import math

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.lookups import lookup
from site_src.lookups.fuel import LOOKUP
from site_src.model.quantities import quantity
from tests.own import with_own

PSI = 6.894757293

powers = st.floats(100.0, 700.0)
sizes = st.floats(400.0, 2000.0)


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = LOOKUP.explain(inputs)
    assert answer not in outcome.answers
    return LOOKUP.words(outcome.faults[answer], inputs)


def test_it_is_registered():
    assert lookup("fuel") is LOOKUP


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("rated", "rail", "ratio"),
    [
        pytest.param(43.5 * PSI, 58.0 * PSI, 1.15470, id="Bernoulli, 43.5 to 58 psi"),
        pytest.param(300.0, 350.0, 1.08012, id="Bernoulli, 300 to 350 kPa, SAE J1832 scope"),
    ],
)
def test_injectors_follow_the_root_of_the_pressure(rated, rail, ratio):
    same = {"rated_pressure": rated, "rail_pressure": rated}
    more = LOOKUP.evaluate(same | {"rail_pressure": rail})["injector_there"]
    assert more / LOOKUP.evaluate(same)["injector_there"] == pytest.approx(ratio, rel=1e-5)


@pytest.mark.parametrize(
    ("density", "per_pound_hour"),
    [
        pytest.param(745.0, 10.1475, id="1 lb/h in cm³/min, 0.745 kg/L"),
        pytest.param(720.0, 10.4998, id="1 lb/h in cm³/min, 0.72 kg/L"),
        pytest.param(683.815, 11.0557, id="1 lb/h in cm³/min, n-heptane at 20 °C, CoolProp"),
    ],
)
def test_a_sheet_in_pounds_per_hour(density, per_pound_hour):
    sixty = quantity("fuel_flow").unit("lbh").to_si(60.0)
    inputs = {
        "injector_rated": "mass",
        "injector_mass": quantity("fuel_flow").unit("kgh").from_si(sixty),
        "sheet_liquid": "other",
        "test_density": density,
    }
    rated = LOOKUP.explain(inputs).symbols["rated"]
    volume = quantity("volume_flow").unit("ccmin").from_si(rated)
    assert volume == pytest.approx(60.0 * per_pound_hour, rel=1e-4)


def test_time_and_pulse_at_6500_rpm_and_80_per_cent_four_stroke_cycle():
    there = LOOKUP.evaluate({})["injector_there"]
    found = LOOKUP.evaluate(
        {"engine_speed": 6500.0, "dead_time": 0.0, "fuel_flow": 0.8 * 8.0 * there}
    )
    assert found["cycle_time"] == pytest.approx(18.4615, abs=5e-5)
    assert found["pulse_width"] == pytest.approx(14.769, abs=5e-4)


@pytest.mark.parametrize(
    ("ethanol", "density", "ratio", "heat"),
    [
        pytest.param(0.0, 745.0, 14.7, 43.44, id="US DOE, gasoline"),
        pytest.param(100.0, 792.0, 9.0, 26.75, id="US DOE, ethanol"),
        pytest.param(85.0, 784.95, 9.81, 29.13, id="conservation of mass, E85 of the two"),
    ],
)
def test_blends(ethanol, density, ratio, heat):
    inputs = {"fuel": "blend", "ethanol": ethanol}
    found, symbols = LOOKUP.evaluate(inputs), LOOKUP.explain(inputs).symbols
    assert symbols["density"] == pytest.approx(density, abs=0.005)
    assert found["stoichiometric_ratio"] == pytest.approx(ratio, abs=0.005)
    assert symbols["heat"] / 1e6 == pytest.approx(heat, abs=0.005)
    assert symbols["bsfc_thirsty"] / symbols["bsfc_high"] == pytest.approx(43.44 / heat, rel=2e-4)


@pytest.mark.parametrize("key", ["gasoline", "e10", "e85"])
def test_a_named_fuel_is_the_blend_that_it_names(key):
    ethanol = {"gasoline": 0.0, "e10": 10.0, "e85": 85.0}[key]
    named = LOOKUP.evaluate({"fuel": key})
    assert named == pytest.approx(LOOKUP.evaluate({"fuel": "blend", "ethanol": ethanol}))


@pytest.mark.parametrize("bore", [6.0, 8.0, 10.0])
def test_friction_in_the_line_as_fluids_has_it(bore):
    symbols = LOOKUP.explain({"line_size": "bore", "line_bore": bore}).symbols
    expected = fluids.friction_factor(
        Re=symbols["reynolds"], eD=1.5e-6 / (bore / 1000.0), Method="Churchill_1977"
    )
    assert symbols["friction"] == pytest.approx(expected, rel=1e-4)


def test_slow_flow_in_the_line_hagen_poiseuille():
    inputs = {
        "fuel_flow": 5.0,
        "line_size": "bore",
        "line_bore": 20.0,
        "fuel": "blend",
        "ethanol": 100.0,
    }
    found = LOOKUP.evaluate(inputs | {"line_length": 20.0})
    flow = found["pump_needed"] / 3.6e6
    loss = 128.0 * 1.31e-3 * 20.0 * flow / (math.pi * 0.020**4)
    assert found["line_loss"] * 1000.0 == pytest.approx(loss, rel=1e-4)


def test_velocity_is_flow_over_area():
    found = LOOKUP.evaluate({"line_size": "bore", "line_bore": 8.0})
    area = math.pi / 4.0 * 0.008**2
    assert found["line_velocity"] == pytest.approx(found["pump_needed"] / 3.6e6 / area, rel=1e-9)


# --- what it means in the bay --------------------------------------------------------------------


def test_defaults_are_the_power_page_s_own_set_up_and_sound():
    power = lookup("power").evaluate({})["power"]
    assert LOOKUP.numbers["power"].default == pytest.approx(power, abs=2.0)
    assert set(LOOKUP.explain(with_own(LOOKUP)).status.values()) == {"within"}


@pytest.mark.parametrize(
    ("power", "status"), [(450.0, "within"), (530.0, "near"), (570.0, "beyond")]
)
def test_duty_is_judged_at_85_per_cent(power, status):
    assert LOOKUP.explain(with_own(LOOKUP, power=power)).status["duty"] == status


@given(powers, sizes)
@settings(max_examples=30, deadline=None)
def test_the_size_needed_and_the_power_at_the_limit_are_at_the_limit(power, size):
    found = LOOKUP.evaluate({"power": power, "injector_flow": size})
    if 100.0 <= found["injector_needed"] <= 3000.0:
        needed = LOOKUP.evaluate({"power": power, "injector_flow": found["injector_needed"]})
        assert needed["duty"] == pytest.approx(85.0, abs=1e-6)
    if found["power_at_limit"] <= 1200.0:
        full = LOOKUP.evaluate({"power": found["power_at_limit"], "injector_flow": size})
        assert full["duty"] == pytest.approx(85.0, abs=0.02)


def test_boost_takes_from_a_fixed_rail_and_not_from_one_that_follows():
    follows = [LOOKUP.evaluate({"boost": boost}) for boost in (0.0, 100.0)]
    fixed = [LOOKUP.evaluate({"boost": boost, "rail": "fixed"}) for boost in (0.0, 100.0)]
    assert follows[0]["injector_there"] == follows[1]["injector_there"]
    assert fixed[1]["differential"] == pytest.approx(200.0)
    assert fixed[1]["duty"] > fixed[0]["duty"]
    # The pump pays instead where the rail follows.
    assert follows[1]["pump_pressure"] == pytest.approx(follows[0]["pump_pressure"] + 100.0)
    assert fixed[1]["pump_pressure"] == pytest.approx(fixed[0]["pump_pressure"])


def test_a_fixed_rail_held_back_by_boost_is_told_in_words():
    inputs = {"rail": "fixed", "rail_pressure": 200.0, "boost": 180.0}
    for answer in ("duty", "injector_needed", "differential"):
        said = told(answer, **inputs)
        assert "50 kPa" in said
        assert "follows the manifold" in said
    # The pump still works against the rail.
    assert "pump_pressure" in LOOKUP.evaluate(inputs)


def test_e85_asks_for_about_half_as_much_again():
    gasoline, e85 = (LOOKUP.explain(with_own(LOOKUP, fuel=key)) for key in ("gasoline", "e85"))
    ratio = e85.answers["fuel_used"] / gasoline.answers["fuel_used"]
    assert ratio == pytest.approx(1.49, abs=0.01)
    assert e85.status["duty"] == "beyond"
    assert e85.status["pump_spare"] == "beyond"


def test_pump_gasoline_is_the_usual_fuel_and_e85_says_what_it_may_hold():
    choice = LOOKUP.choices["fuel"]
    assert choice.default == "e10"
    assert "51 to 83 %" in choice.option("e85").label
    assert "season" in choice.measure


def test_air_and_mixture_make_the_fuel_flow_of_the_power_page():
    for key in ("gasoline", "e10", "e85"):
        air = {"air_flow": 500.0, "lambda": 0.78, "fuel": key}
        found = LOOKUP.evaluate(air)
        ratio = found["stoichiometric_ratio"]
        assert found["fuel_used"] == pytest.approx(500.0 * 3.6 / (0.78 * ratio), rel=1e-12)
        power = lookup("power").evaluate(air)
        assert found["fuel_used"] == power["fuel_burnt"]
        # From that power alone the same comes out, by consumption.
        alone = LOOKUP.evaluate({"power": power["power"], "lambda": 0.78, "fuel": key})
        assert alone["fuel_used"] == pytest.approx(found["fuel_used"], rel=1e-9)
        assert alone["duty"] == pytest.approx(found["duty"], rel=1e-9)


def test_a_thirsty_engine_is_said_where_power_is_all_that_is_known():
    found = LOOKUP.evaluate({"fuel": "gasoline", "power": 434.0})
    assert found["duty_thirsty"] > found["duty"] + 4.0
    # 434 kW at 395 g/kWh.
    thirsty = LOOKUP.evaluate({"fuel": "gasoline", "fuel_flow": 434.0 * 0.395})
    assert found["duty_thirsty"] == pytest.approx(thirsty["duty"], abs=0.01)
    assert "duty_thirsty" not in thirsty
    assert "duty_thirsty" not in LOOKUP.evaluate({"air_flow": 500.0})


@pytest.mark.parametrize(
    ("liquid", "flows"), [("test", 60.0 * (745.0 / 684.0) ** 0.5), ("gasoline", 60.0)]
)
def test_sixty_pounds_an_hour_on_gasoline_or_on_the_test_liquid(liquid, flows):
    # Flow by mass goes with the root of the density: what was rated on the lighter test liquid
    # passes 4 % more gasoline than its sheet says.
    sixty = quantity("fuel_flow").unit("kgh").from_si(quantity("fuel_flow").unit("lbh").to_si(60.0))
    found = LOOKUP.evaluate(
        {
            "injector_rated": "mass",
            "injector_mass": sixty,
            "sheet_liquid": liquid,
            "fuel": "gasoline",
        }
    )
    pounds = quantity("fuel_flow").unit("lbh").from_si(found["injector_there"] / 3600.0)
    assert pounds == pytest.approx(flows, rel=1e-4)


def test_the_pressures_that_sheets_are_for_are_a_step_apart():
    assert LOOKUP.numbers["rated_pressure"].stock == (270.0, 300.0, 400.0)
    at = {
        p: LOOKUP.evaluate({"rated_pressure": p})["injector_there"] for p in (270.0, 300.0, 400.0)
    }
    # The same figure stated at a higher pressure is a smaller injector.
    assert at[270.0] / at[400.0] == pytest.approx((400.0 / 270.0) ** 0.5, rel=1e-12)


def test_dead_time_says_where_it_is_found():
    said = LOOKUP.numbers["dead_time"].measure
    assert "table of dead time over battery voltage" in said
    assert "calibration" in said


@pytest.mark.parametrize(
    ("dash", "sixteenths"),
    [
        pytest.param("6", 5.0, id="FAA AC 43.13-1B, table 9-3: dash 6 is 5/16 in"),
        pytest.param("8", 6.5, id="FAA AC 43.13-1B, table 9-3: dash 8 is 13/32 in"),
        pytest.param("10", 8.0, id="FAA AC 43.13-1B, table 9-3: dash 10 is 1/2 in"),
    ],
)
def test_a_dash_size_is_smaller_inside_than_its_number(dash, sixteenths):
    symbols = LOOKUP.explain({"line_size": dash}).symbols
    assert symbols["bore"] == pytest.approx(sixteenths / 16.0 * 0.0254, rel=1e-9)
    assert symbols["bore"] < float(dash) / 16.0 * 0.0254


def test_a_known_fuel_flow_overrules_power():
    found = LOOKUP.evaluate({"fuel_flow": 150.0, "power": 1000.0})
    assert found["fuel_used"] == 150.0


def test_a_tired_battery_takes_pump_flow():
    full, low = (LOOKUP.evaluate({"pump_voltage": volt}) for volt in (13.5, 11.5))
    assert low["pump_flow"] / full["pump_flow"] == pytest.approx((11.5 / 13.5) ** 1.5, rel=1e-4)
    assert LOOKUP.explain(with_own(LOOKUP, pump_voltage=11.0)).status["pump_spare"] == "beyond"


def test_two_pumps_give_twice_the_flow():
    one, two = (LOOKUP.evaluate({"pumps": pumps}) for pumps in ("1", "2"))
    assert two["pump_flow"] == pytest.approx(2.0 * one["pump_flow"], rel=1e-12)


def test_the_ends_of_the_pump_s_curve_belong_to_it():
    inputs = {"rail": "fixed", "line_length": 0.0, "pump_voltage": 13.5}
    first = LOOKUP.evaluate(inputs | {"rail_pressure": 300.0})
    last = LOOKUP.evaluate(inputs | {"rail_pressure": 500.0})
    assert first["pump_flow"] == pytest.approx(350.0, abs=0.05)
    assert last["pump_flow"] == pytest.approx(290.0, abs=0.05)


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        pytest.param({"rail_pressure": 500.0}, "past the last point", id="past the curve"),
        pytest.param(
            {"rail_pressure": 200.0, "boost": 20.0}, "below the first point", id="before the curve"
        ),
        pytest.param(
            {"pump_pressure_1": 500.0, "pump_pressure_2": 300.0}, "lower pressure", id="swapped"
        ),
        pytest.param({"pump_flow_2": 400.0}, "flows less at the higher pressure", id="rising"),
        pytest.param({"fuel_flow": 20.0}, "over six times", id="far too much pump"),
        pytest.param(
            {"line_size": "bore", "line_bore": 4.0, "power": 600.0}, "far too thin", id="thin line"
        ),
    ],
)
def test_a_pump_that_can_t_be_judged_says_why(inputs, words):
    assert words in told("pump_spare", **inputs)


def test_hopeless_injectors_are_told_in_words():
    assert "three times" in told("duty", injector_flow=100.0, power=600.0)


@pytest.mark.parametrize(("bore", "status"), [(8.0, "within"), (6.0, "near"), (5.5, "beyond")])
def test_a_thin_line_runs_fast(bore, status):
    inputs = {"line_size": "bore", "line_bore": bore}
    assert LOOKUP.explain(with_own(LOOKUP, inputs)).status["line_velocity"] == status


def test_the_smallest_bore_is_at_the_velocity_limit():
    needed = LOOKUP.evaluate({})["line_bore_needed"]
    found = LOOKUP.evaluate({"line_size": "bore", "line_bore": needed})
    assert found["line_velocity"] == pytest.approx(3.0, rel=1e-9)
