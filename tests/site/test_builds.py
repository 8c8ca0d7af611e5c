"""Build files: read as TOML or as a phone's job file, refused by name, worked out by `calc`."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest

from calc import boost
from calc.belt_tensioner import Arm, Slot
from site_src.builds import FOLDER, load_build, load_builds
from site_src.builds.bolt_sheet import _stage_words
from site_src.builds.job import Amount, Job, known_entries
from site_src.builds.lines import Line
from site_src.builds.phone import contents
from site_src.builds.route_sheet import tensioner, traced
from site_src.builds.setup import Truck
from site_src.builds.sheet import BuildSheets
from site_src.data.reader import DataError
from site_src.lookups import lookup
from site_src.model.lookup import Entered, Floats, Lookup
from site_src.pages.builds import build_named, code, sheets_context
from site_src.proof.comparison import ProofError
from site_src.publish.app import create_app

DEMOS = {job.key: job for job in load_builds()}
SHEETS = {key: BuildSheets(job) for key, job in DEMOS.items()}

every_demo = pytest.mark.parametrize("key", DEMOS)


def written(folder: Path, entries: str, rest: str = "") -> Path:
    """Write a small build file."""
    path = folder / "shop.toml"
    path.write_text(f'name = "Ours"\n\n[entries]\n{entries}\n{rest}', encoding="utf-8")
    return path


def refused(path: Path) -> str:
    """Return what is said of a file, without its folder."""
    with pytest.raises(DataError) as caught:
        load_build(path)
    return str(caught.value).removeprefix(f"{path.parent}/")


# --- the demos -----------------------------------------------------------------------------------


@every_demo
def test_a_demo_says_that_it_is_an_example(key: str) -> None:
    job = DEMOS[key]
    assert job.note.startswith("Example of our own invention.")
    assert "example" in job.name


def test_the_demos_are_unlike_each_other() -> None:
    one, other = (job.entries for job in DEMOS.values())
    for entry in ("exchanger_place", "fuel", "injector_rated", "tensioner_way", "blower_kind"):
        assert one[entry] != other[entry]
    units = [{e.unit for e in each.values() if isinstance(e, Amount)} for each in (one, other)]
    assert "mm" in units[0]
    assert "in" in units[1]
    assert "mm" not in units[1]


@every_demo
def test_a_demo_can_be_laid_and_has_a_number_for_everything_first(key: str) -> None:
    sheets = SHEETS[key]
    assert not sheets.route.trouble
    assert not sheets.route.faults
    for page in ("boost", "plan", "fuel", "belt", "loop", "charge-cooling", "hose-run"):
        main = next(r for r in sheets.readings(page) if r.answer.rank == "main")
        assert main.text, (page, main.words)


# --- what is worked out --------------------------------------------------------------------------


def test_the_hauler_by_calc_alone() -> None:
    """Rotor speed by hand: outside diameters of PK pulleys lack 4 mm of the pitch diameter."""
    sheets = SHEETS["gravel_hauler"]
    ratio = boost.drive_ratio(0.180 + 0.004, 0.096 + 0.004, 1.0)
    speed = sheets.truck.outcome("boost").answers["rotor_speed"]
    # A usual slip of 1 %.
    assert speed == pytest.approx(6000 * ratio * 0.99, rel=1e-9)


def test_a_worked_out_entry_comes_from_the_page_that_works_it_out() -> None:
    truck = SHEETS["gravel_hauler"].truck
    flow = truck.outcome("loop").answers["flow"]
    assert truck.inputs("charge-cooling")["coolant_flow"] == pytest.approx(flow, rel=1e-5)
    heat = lookup("charge-cooling")
    field = next(f for f in heat.fields if f.key == "coolant_flow")
    assert truck.whose("charge-cooling", field) == "followed"


def test_a_makers_figure_fills_the_entry_that_it_is_for() -> None:
    truck = SHEETS["gravel_hauler"].truck
    assert truck.inputs("belt-route")["fitted_belt"] == 1250.0
    field = next(f for f in lookup("belt-route").fields if f.key == "fitted_belt")
    assert truck.whose("belt-route", field) == "maker"


def test_what_is_typed_stands_before_the_makers(tmp_path: Path) -> None:
    figure = '[[figures]]\nkind = "rotor"\nvalues = { rotor_limit = "15000 rpm" }\n'
    job = load_build(written(tmp_path, 'rotor_limit = "13000 rpm"', figure))
    assert Truck(job).inputs("boost")["rotor_limit"] == 13000.0
    bare = load_build(written(tmp_path, "gear = 1", figure))
    assert Truck(bare).inputs("boost")["rotor_limit"] == 15000.0


def test_a_sheets_pulley_is_turned_into_the_diameter_that_is_asked(tmp_path: Path) -> None:
    figure = (
        '[[figures]]\nkind = "pulleys"\nchoices = { pulley_kind = "pitch" }\n'
        'values = { rating_pulley = "92 mm", rating_boost = "80 kPa", '
        'rating_engine_speed = "6000 rpm" }\n'
    )
    truck = Truck(load_build(written(tmp_path, "gear = 1", figure)))
    assert truck.inputs("boost")["rating_pulley"] == pytest.approx(88.0)
    assert truck.inputs("boost")["efficiency_from"] == "rating"


def test_a_recipe_that_differs_from_the_calculation_stops_the_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    true = Lookup.direct

    def off(page: Lookup, entered: Entered) -> dict[str, Floats]:
        return {key: 1.01 * value for key, value in true(page, entered).items()}

    monkeypatch.setattr(Lookup, "direct", off)
    with pytest.raises(ProofError, match="by the calculation"):
        Truck(load_build(written(tmp_path, ""))).outcome("throttle")


def test_a_build_without_entries_is_the_example(tmp_path: Path) -> None:
    sheets = BuildSheets(load_build(written(tmp_path, "")))
    assert sheets.entries == ()
    assert "Blower pulley" in sheets.examples
    assert sheets.hoses == ()
    assert sheets.wires.example
    boost_lines = {line.label: line for line in sheets.numbers[0].lines}
    assert "Blower pulley;" in note(sheets, boost_lines["Boost at the manifold"])


def note(sheets: BuildSheets, line: Line, sheet: str = "set-up") -> str:
    """Return what is said of the examples that a line hangs on."""
    return dict(sheets.notes[sheet].listed()).get(line.leans, "")


def test_a_number_on_an_example_says_so_and_one_on_the_trucks_own_does_not() -> None:
    sheets = SHEETS["gravel_hauler"]
    lines = {line.label: line for line in sheets.answers("boost")}
    assert lines["Rotor speed"].leans == ""
    assert note(sheets, lines["Boost at the manifold"]) == "Depression at the blower inlet"
    # The bucket test's content changes nothing while no time is entered.
    flow = next(line for line in sheets.answers("loop") if line.label == "Coolant flow")
    assert flow.leans == ""


def test_what_follows_from_a_page_on_examples_hangs_on_them_too(tmp_path: Path) -> None:
    sheets = BuildSheets(load_build(written(tmp_path, 'face_width = "640 mm"')))
    lines = {line.label: line for line in sheets.answers("loop", whole=True)}
    assert "Hoses" in note(sheets, lines["Coolant flow"], "loop")
    # Charge cooling takes its coolant flow from the loop, whose hoses are ours.
    lines = {line.label: line for line in sheets.answers("charge-cooling", whole=True)}
    said = note(sheets, lines["Charge at full power, coolant settled"], "loop")
    assert "Hoses" in said
    assert "Blower pulley" in said


def test_a_page_that_nothing_was_measured_for_is_left_out(tmp_path: Path) -> None:
    titles = [group.title for group in SHEETS["gravel_hauler"].numbers]
    assert "Belt tension by ear" not in titles
    plucked = BuildSheets(load_build(written(tmp_path, 'tone = "66 Hz"')))
    assert "Belt tension by ear" in [group.title for group in plucked.numbers]


def test_the_pulley_chart_falls_with_the_pulley_and_has_the_builds_own_row() -> None:
    chart = SHEETS["gravel_hauler"].pulleys
    boosts = [float(row.cells[0].text) for row in chart.rows]
    assert boosts == sorted(boosts, reverse=True)
    assert len(set(boosts)) == len(boosts) > 5
    own = [row for row in chart.rows if row.current]
    assert [row.name for row in own] == ["96.0 mm · 3.78 in"]
    plan = SHEETS["gravel_hauler"].truck.outcome("plan").answers["boost"]
    assert float(own[0].cells[0].text) == pytest.approx(plan, abs=0.5)


def test_no_torque_is_assumed() -> None:
    first, second = SHEETS["gravel_hauler"].torques
    assert first["torque"] == "24 N·m"
    assert re.fullmatch(r"\d+\.\d N·m", first["worked"])
    # Its sheet names no friction: nothing is worked out beside it.
    assert second["worked"] == "Not worked out: on the thread and under the head not stated."


def test_a_torque_before_an_angle_is_not_set_beside_one_for_the_whole_load() -> None:
    bracket = SHEETS["timber_wagon"].torques[1]
    assert (bracket["torque"], bracket["angle"]) == ("18 lb·ft", "90°")
    assert bracket["worked"] == "Not compared: the angle does the tightening."


def test_stages_bear_the_names_that_the_phone_gives_them() -> None:
    stages = [
        {"kind": kind, "angle": 0, "dial": {"plain": "x"}, "order": [0]}
        for kind in ("torque", "loosen", "torque", "angle", "angle", "check")
    ]
    said = [_stage_words(n, stages, ["1"])[0] for n in range(len(stages))]
    assert said == ["Pass 1", "Loosen", "Pass 2", "Angle 1", "Angle 2", "Check"]


def test_wires_are_those_of_the_file() -> None:
    wires = SHEETS["timber_wagon"].wires
    assert wires.example == ""
    assert [row.head for row in wires.rows] == ["1 Fuel pump", "2 Coolant pump", "3 Fan"]


def test_a_hold_stands_as_what_was_done_to_it_says(tmp_path: Path) -> None:
    at = 'at = "2026-03-02T10:15:00Z"'
    log = f'[{{ do = "signed", {at}, who = "A" }}, {{ do = "taken back", {at} }}'
    for more, state in (
        ("]", "open"),
        (f', {{ do = "put back", {at} }}]', "signed"),
        (f', {{ do = "skipped", {at}, who = "B", note = "no gauge" }}]', "skipped"),
    ):
        holds = f'[[holds]]\npoint = "blower_oil"\nlog = {log}{more}\n'
        sheets = BuildSheets(load_build(written(tmp_path, "", holds)))
        points = [p for stage in sheets.holds for p in stage.points]
        found = next(p for p in points if p.point and p.point.key == "blower_oil")
        assert found.state == state
    assert found.said == "B, 2026-03-02 10:15: no gauge"


# --- the route -----------------------------------------------------------------------------------


def points(path: str) -> list[tuple[float, float]]:
    """Return where a path's straight runs begin and end."""
    found = re.findall(r"(?:[ML]|A[\d.]+ [\d.]+ 0 [01] [01] )(-?[\d.]+) (-?[\d.]+)", path)
    return [(float(x), float(y)) for x, y in found]


@every_demo
def test_wraps_and_runs_are_those_of_the_traced_route(key: str) -> None:
    route = traced(SHEETS[key].truck)
    for place, wrap, span in zip(SHEETS[key].route.places, route.wraps, route.spans, strict=True):
        assert float(place[1].removesuffix("°")) == pytest.approx(
            math.degrees(wrap.angle), abs=0.05001
        )
        assert float(place[2].split(" ")[0]) == pytest.approx(1e3 * span.length, abs=0.05001)


@every_demo
def test_the_belt_that_the_page_calls_shortest_is_the_shortest_that_fits(key: str) -> None:
    sheets = SHEETS[key]
    answers = sheets.truck.outcome("belt-route").answers
    for length, how, _, _ in sheets.route.belts:
        mm = float(length.split(" ")[0].replace(",", ""))
        fits = answers["shortest_belt"] <= mm <= answers["longest_belt"]
        assert how.startswith("fits") is fits


@every_demo
def test_drawn_belt_follows_the_route(key: str) -> None:
    route, drawing = traced(SHEETS[key].truck), SHEETS[key].route.drawing
    assert drawing
    first = [route.spans[0].start]
    ends = [p for s, w in zip(route.spans, (*route.wraps[1:], route.wraps[0]), strict=True)
            for p in (s.end, w.end)]  # fmt: skip
    for (x, y), end in zip(points(drawing.belt), first + ends, strict=True):
        assert (x, y) == pytest.approx((1e3 * end[0], -1e3 * end[1]), abs=0.051)


@every_demo
def test_arrowheads_point_the_way_of_travel(key: str) -> None:
    route, drawing = traced(SHEETS[key].truck), SHEETS[key].route.drawing
    assert drawing
    for mark, span in zip(drawing.marks, route.spans, strict=True):
        tip, left, right = points(mark.head)
        heel = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
        forward = (tip[0] - heel[0]) * span.direction[0] - (tip[1] - heel[1]) * span.direction[1]
        assert forward == pytest.approx(16.0, abs=0.3)


@every_demo
def test_numbers_keep_off_the_pulleys(key: str) -> None:
    route, drawing = traced(SHEETS[key].truck), SHEETS[key].route.drawing
    assert drawing
    left, top, width, height = (float(each) for each in drawing.view_box.split())
    for mark in drawing.marks:
        x, y = float(mark.x), float(mark.y)
        assert left + 11 <= x <= left + width - 11
        assert top + 11 <= y <= top + height - 11
        for pulley in route.pulleys:
            away = math.hypot(x - 1e3 * pulley.x, y + 1e3 * pulley.y)
            # A number may touch an idler's edge, never stand on it.
            assert away > 1e3 * pulley.radius - 11


def test_slot_and_arm_come_from_where_the_stops_were_measured() -> None:
    slot, arm = (tensioner(SHEETS[key].truck) for key in DEMOS)
    assert isinstance(slot, Slot)
    assert isinstance(arm, Arm)
    assert slot.center(1.0) == pytest.approx((-0.068, 0.248))
    assert arm.center(0.0) == pytest.approx((-0.1246378, 0.2777236), abs=1e-6)
    # The tight stop was measured too, to the thousandth of an inch.
    assert arm.center(1.0) == pytest.approx((-0.1145032, 0.2255012), abs=2e-4)


# --- files that are wrong ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entries", "message"),
    [
        (
            'displacement = "5.6 L"',
            "line 4: entries.displacement is unknown, allowed is an entry of a page. Is it "
            "engine_displacement or blower_displacement? The keys are those in the address",
        ),
        (
            'engine_displacement = "5600 L"',
            "line 4: entries.engine_displacement is 5600 L, allowed is a number from 1 to 12 L. ",
        ),
        (
            'engine_displacement = "5.6 l"',
            'line 4: entries.engine_displacement is in the unit “l”, allowed is "L" or "ci" or '
            '"cc". ',
        ),
        (
            "engine_displacement = 5.6",
            'line 4: entries.engine_displacement is in the unit “”, allowed is "L" or "ci"',
        ),
        (
            'gear = "1"',
            'line 4: entries.gear is "1", allowed is a number and its unit, as "1". A number that '
            "has no unit is written without quotes.",
        ),
        ('fuel = "diesel"', 'line 4: entries.fuel is "diesel", allowed is "e10" or "gasoline"'),
        ("injectors = 8", 'line 4: entries.injectors is 8, allowed is "4" or "6" or "8"'),
        (
            'maker_torque = "20 Nm"',
            "line 4: entries.maker_torque is a maker's figure, allowed is an entry of the truck. "
            "Write it as one of the [[figures]].",
        ),
        (
            '[[entries.circuits]]\ncircuit_current = "700 A"',
            "line 5: entries.circuits 1.circuit_current is 700 A, allowed is a number from",
        ),
        (
            "[entries.slip]\nboost = 3",
            "line 5: entries.slip.boost is unknown, allowed is engine_speed.",
        ),
    ],
)
def test_an_entry_is_refused_with_line_key_value_and_range(
    tmp_path: Path, entries: str, message: str
) -> None:
    assert refused(written(tmp_path, entries)).startswith(f"shop.toml, {message}")


@pytest.mark.parametrize(
    ("rest", "message"),
    [
        ('[[figures]]\nkind = "rotors"', 'figures 1.kind is "rotors", allowed is "torque" or'),
        ('[[figures]]\nkind = "rotor"', "figures 1.values is missing, allowed is what the sheet"),
        (
            '[[holds]]\npoint = "blower_oil"\nlog = [{ do = "skipped", who = "A", '
            'at = "2026-03-02T10:15:00Z" }]',
            "holds 1.log 1.note is missing, allowed is the reason for the skip. Add it.",
        ),
        (
            '[[holds]]\npoint = "blower_oil"\nlog = [{ do = "signed", who = "A", at = "March" }]',
            'holds 1.log 1.at is "March", allowed is a day and time',
        ),
        ("[[maps]]\nplaces = []", "maps 1.places is [], allowed is a list of 1 to 200 places."),
        ('[[runs]]\nat = "2026-03-02"', "runs 1.data is missing, allowed is what the phone noted"),
    ],
)
def test_what_was_done_is_refused_alike(tmp_path: Path, rest: str, message: str) -> None:
    assert message in refused(written(tmp_path, "", rest))


def test_a_files_name_is_an_address(tmp_path: Path) -> None:
    path = written(tmp_path, "").rename(tmp_path / "Our Truck.toml")
    assert "the file's name is Our Truck, allowed is small letters" in refused(path)
    written(tmp_path, "").rename(tmp_path / "a_b.toml")
    path.rename(tmp_path / "a-b.toml")
    with pytest.raises(DataError, match=r"a-b, as a-b\.toml is|a-b, as a_b\.toml is"):
        load_builds(tmp_path)


# --- the phone's own file ------------------------------------------------------------------------


def phones(folder: Path, job: Job, **changed: Any) -> Path:
    """Write a job as a phone saves it."""
    path = folder / "phone.json"
    path.write_text(json.dumps(contents(job) | changed, indent=1), encoding="utf-8")
    return path


@every_demo
def test_a_job_that_a_phone_saved_is_the_same_build(tmp_path: Path, key: str) -> None:
    again = load_build(phones(tmp_path, DEMOS[key]))
    assert contents(again) == contents(DEMOS[key])
    assert again.entries.keys() == DEMOS[key].entries.keys()
    for name, one in DEMOS[key].entries.items():
        assert again.entries[name] == one


def test_numbers_are_read_as_they_were_typed_on_the_phone(tmp_path: Path) -> None:
    path = phones(tmp_path, DEMOS["gravel_hauler"])
    file = json.loads(path.read_text(encoding="utf-8"))
    entries = file["jobs"][0]["entries"]
    for text, value in (("3 5/8", 3.625), ("3,625", None), ("3,5", 3.5), ("7/2", 3.5)):
        entries["blower_pulley"] = {"text": text, "unit": "in"}
        path.write_text(json.dumps(file), encoding="utf-8")
        if value is None:
            # Three and some, or three thousand: it is not guessed.
            assert "blower_pulley is 3,625 in" in refused(path)
            continue
        found = load_build(path).entries["blower_pulley"]
        assert isinstance(found, Amount)
        assert found.value == pytest.approx(25.4 * value)
    entries["blower_pulley"] = {
        "text": "92",
        "unit": "mm",
        "from": {"text": "91.9876", "unit": "mm", "now": "92"},
    }
    path.write_text(json.dumps(file), encoding="utf-8")
    found = load_build(path).entries["blower_pulley"]
    assert isinstance(found, Amount)
    assert found.value == 91.9876


def test_a_wrong_entry_of_a_phones_file_is_named_with_its_line(tmp_path: Path) -> None:
    path = phones(tmp_path, DEMOS["gravel_hauler"])
    text = path.read_text(encoding="utf-8")
    changed = text.replace('"text": "5.6"', '"text": "56"')
    path.write_text(changed, encoding="utf-8")
    line = changed[: changed.index('"engine_displacement"')].count("\n") + 1
    assert refused(path).startswith(
        f"phone.json, line {line}: jobs 1.entries.engine_displacement is 56 L"
    )


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"kind": "something else"}, 'kind is "something else", allowed is a job\'s file'),
        ({"schema": 99}, "schema is 99, allowed is a whole number from 1 to 6"),
        ({"jobs": []}, "number of jobs is 0, allowed is 1"),
    ],
)
def test_a_file_that_is_no_job_is_refused(
    tmp_path: Path, change: dict[str, Any], message: str
) -> None:
    assert message in refused(phones(tmp_path, DEMOS["gravel_hauler"], **change))


@pytest.mark.parametrize("text", ["", "[1]", '{"kind": ', '{"kind": NaN}', "{" * 100_000])
def test_a_file_that_is_cut_or_hostile_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "phone.json"
    path.write_text(text, encoding="utf-8")
    assert "the file is cut or changed, allowed is JSON" in refused(path)


# --- pages ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    """Each demo's page as it is served."""
    client = create_app([], []).test_client()
    return {
        key: client.get(f"/builds/{job.address}/").get_data(as_text=True)
        for key, job in DEMOS.items()
    }


@every_demo
def test_every_sheet_is_on_the_page(pages: dict[str, str], key: str) -> None:
    for sheet in ("set-up", "pulleys", "belt", "torques", "hoses", "loop", "wires", "holds"):
        assert f'<h2 id="{sheet}">' in pages[key]
    assert DEMOS[key].note in pages[key]
    assert "NaN" not in pages[key]
    assert "None" not in pages[key]


def test_the_code_is_there_only_if_the_sites_address_is_known() -> None:
    job = build_named("gravel-hauler")
    assert job
    assert sheets_context(job, "")["code"] == ""
    known = sheets_context(job, "https://reckoner.example/shop/")
    assert known["where"] == "https://reckoner.example/shop/builds/gravel-hauler/"
    assert "<svg" in str(known["code"])
    assert code("https://a.example/") != code("https://b.example/")


def test_there_is_no_page_of_a_build_that_is_not_there() -> None:
    assert create_app([], []).test_client().get("/builds/nobody/").status_code == 404


def test_every_name_that_a_job_may_hold_belongs_to_one_kind_of_entry() -> None:
    assert {"slip engine_speed", "accessory_crank", "altitude"} <= known_entries().keys()
    assert "maker_torque" not in known_entries()
    assert FOLDER.name == "builds"
