"""Build files: the demo set-ups run, and a file that is wrong is refused by name."""

import re
from pathlib import Path

import pytest

import site_src.builds
from calc import boost
from calc.belt_route import effective_length, find_faults, trace_route
from calc.belt_tensioner import best_stock, length_range, stock_fits
from site_src.builds import load_build, load_builds
from site_src.data.reader import DataError
from site_src.model.quantities import quantity

FOLDER = Path(site_src.builds.__file__).parent
DEMOS = load_builds()

every_demo = pytest.mark.parametrize("build", DEMOS, ids=lambda build: build.key)


def best_belt(build):
    return best_stock(
        stock_fits(
            build.route_pulleys(),
            build.place("tensioner"),
            build.tensioner,
            build.belt.stock_effective_lengths,
            build.belt.section.line_differential.value,
        )
    )


# --- the demo set-ups -----------------------------------------------------------------------------


def test_there_are_two_demos():
    assert len(DEMOS) == 2


@every_demo
def test_demo_says_that_it_is_invented(build):
    assert "invented" in build.note.lower()
    assert "invention" in (FOLDER / f"{build.key}.toml").read_text(encoding="utf-8")


@every_demo
def test_demo_belt_runs_at_every_tensioner_position(build):
    for step in range(41):
        route = trace_route(build.route_pulleys(step / 40))
        assert not find_faults(route, build.minimum_wraps, build.belt.clearance)


@every_demo
def test_demo_has_a_belt_in_stock_with_travel_left_both_ways(build):
    best = best_belt(build)
    assert best.fit is not None
    assert best.fit.travel_to_slack > 0.015
    assert best.fit.travel_to_tight > 0.015


@every_demo
def test_demo_also_shows_belts_that_do_not_fit(build):
    ends = length_range(build.route_pulleys(), build.place("tensioner"), build.tensioner)
    takes = [effective_length(end, build.belt.section.line_differential.value) for end in ends]
    stock = build.belt.stock_effective_lengths
    assert min(stock) < takes[0] < takes[1] < max(stock)


@every_demo
def test_demo_tensioner_is_on_the_slack_side(build):
    assert build.tensioner_is_slack_side


@every_demo
def test_demo_blower_stays_below_its_limit(build):
    crank, blower = (
        build.pulleys[build.place(role)].pitch_diameter(build.belt.section)
        for role in ("crank", "blower")
    )
    turns = boost.drive_ratio(crank, blower, build.blower.gear_ratio)
    assert turns * build.engine.speed_limit < build.blower.speed_limit


@every_demo
def test_demo_pulleys_are_large_enough_for_the_section(build):
    smallest = min(pulley.diameter for pulley in build.pulleys)
    assert smallest > build.belt.section.minimum_diameter.value


# --- diameters and turns --------------------------------------------------------------------------


def test_every_kind_of_diameter_becomes_the_pitch_diameter():
    hauler, wagon = DEMOS
    section = hauler.belt.section
    pitch = {
        pulley.name: pulley.pitch_diameter(section) for pulley in (*wagon.pulleys, *hauler.pulleys)
    }
    assert pitch["crank"] == pytest.approx(0.186 + 0.004)  # effective
    assert pitch["left idler"] == pytest.approx(0.080 + 0.004)  # outside
    assert pitch["tensioner"] == pytest.approx(0.076 + 0.0024)  # smooth, on the belt's back
    assert wagon.pulleys[0].pitch_diameter(section) == pytest.approx(0.168 + 0.004)  # over balls
    assert wagon.pulleys[3].pitch_diameter(section) == 0.088  # pitch


@every_demo
def test_pulleys_on_the_back_turn_against_the_crank(build):
    turns = {pulley.side: set() for pulley in build.pulleys}
    for pulley, traced in zip(build.pulleys, build.route_pulleys(), strict=True):
        turns[pulley.side].add(traced.turn)
    assert turns == {"ribs": {-1}, "back": {1}}


def test_the_other_way_round_turns_everything(tmp_path):
    build = load_build(changed(tmp_path, '"clockwise"', '"counter-clockwise"'))
    assert [p.turn for p in build.route_pulleys()] == [1, 1, -1, 1, -1]


# --- files that are wrong -------------------------------------------------------------------------


def changed(folder, old, new, name="gravel_hauler"):
    text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    assert old in text
    path = folder / "shop.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


# What the reader refuses in any file, and in which words, is in tests/data; here is what is
# particular to a build.


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        pytest.param(
            "displacement_L = 5.6",
            "displacement_L = 5600",
            "engine.displacement_L is 5600, allowed is a number from 0.5 to 20 L",
            id="cubic centimetres for litres",
        ),
        pytest.param("ribs = 8", "ribs = 7.5", "belt.ribs is 7.5, allowed is a whole", id="half"),
        pytest.param("ribs = 8\n", "", "belt.ribs is missing, allowed is a whole", id="missing"),
        pytest.param(
            'section = "PK"', 'section = "pk"', '"PH" or "PJ" or "PK" or "PL" or "PM"', id="section"
        ),
        pytest.param("x_mm = 0\n", "", "pulley 1.x_mm or x_in is missing", id="x"),
        pytest.param('side = "back"', 'side = "outside"', 'pulley 3.side is "outside"', id="side"),
        pytest.param(
            'side = "back"',
            'side = "ribs"',
            'pulley 3.diameter_kind is "smooth", allowed is "effective" or "outside"',
            id="smooth in grooves",
        ),
        pytest.param(
            'diameter_kind = "effective"\nside = "ribs"',
            'diameter_kind = "pitch"\nside = "back"',
            'side of the crank is "back", allowed is "ribs". Only an idler or tensioner can',
            id="crank on the back",
        ),
        pytest.param(
            'role = "crank"',
            'role = "idler"',
            "number of pulleys with role crank is 0, allowed is 1. Give one pulley the role crank.",
            id="no crank",
        ),
        pytest.param(
            'role = "idler"', 'role = "blower"', "role blower is 2, allowed is 1", id="two blowers"
        ),
        pytest.param(
            'role = "tensioner"',
            'role = "idler"\nx_mm = -112\ny_mm = 262',
            "pulley 3.slot is unknown",
            id="an idler in a slot",
        ),
        pytest.param(
            'name = "left idler"', 'name = "crank"', 'pulley 2.name is "crank" for the', id="twins"
        ),
        pytest.param('name = "crank"', 'name = " "', 'pulley 1.name is " "', id="no name"),
        pytest.param(
            "tight_mm = [-68, 248]",
            "tight_mm = [-112, 262]",
            "pulley 3.slot.tight is where slack is, allowed is another point. Measure both ends",
            id="slot of no length",
        ),
        pytest.param("tight_mm = [-68, 248]", "tight_mm = [-68]", "a list of 2 numbers", id="one"),
        pytest.param(
            "[pulley.slot]",
            "[pulley.rail]",
            "pulley 3.slot or arm is missing, allowed is one of the two",
            id="rail",
        ),
        pytest.param(
            "[pulley.slot]",
            "[pulley.arm]\n[pulley.slot]",
            "pulley 3.slot or arm is given as both, allowed is one of the two",
            id="slot and arm",
        ),
        pytest.param("[1195,", '["1195",', "a list of one or more numbers from 300", id="quoted"),
        pytest.param("[engine]", "[motor]", "engine is missing, allowed is a table", id="table"),
        pytest.param('title = "Gravel hauler"', "title = 3", "title is 3, allowed is", id="title"),
        pytest.param("[engine]", "wheels = 4\n[engine]", "wheels is unknown", id="unknown on top"),
    ],
)
def test_refused_with_file_key_value_and_what_is_allowed(tmp_path, old, new, message):
    with pytest.raises(DataError, match=re.escape(message)) as caught:
        load_build(changed(tmp_path, old, new))
    assert str(caught.value).startswith(f"{tmp_path}/shop.toml")


def test_arm_that_does_not_swing_is_refused(tmp_path):
    path = changed(tmp_path, "tight_deg = -6", "tight_deg = 28", "timber_wagon")
    with pytest.raises(DataError, match=r"pulley 3\.arm\.tight is where slack is"):
        load_build(path)


def test_sections_without_the_figure_do_not_offer_the_kind(tmp_path):
    with pytest.raises(DataError, match=r'diameter_kind is .outside., allowed is "effective"'):
        load_build(changed(tmp_path, 'section = "PK"', 'section = "PL"'))


def test_a_number_becomes_what_the_phone_makes_of_it():
    length, angle = quantity("length").unit("mm"), quantity("angle").unit("deg")
    assert DEMOS[0].belt.stock_effective_lengths[3] == length.to_si(1255)
    assert DEMOS[0].minimum_wraps[0] == angle.to_si(130)


def test_a_build_may_be_measured_in_inches(tmp_path):
    build = load_build(changed(tmp_path, "diameter_mm = 92", "diameter_in = 3.625"))
    assert build.pulleys[3].diameter == quantity("length").unit("in").to_si(3.625)
