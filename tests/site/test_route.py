"""The route page: what is drawn, what stands in the tables, and what is said of a wrong route."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from urllib.parse import parse_qs
from xml.etree import ElementTree

import pytest

from calc.belt_route import find_faults, pitch_length, trace_route
from calc.belt_tensioner import Slot, best_stock, move_tensioner, stock_fits
from site_src.builds import Build, load_builds
from site_src.lookups import belt
from site_src.pages.route import PAGE, RouteSheet, route_sheet
from site_src.publish.app import create_app

DEMOS = {build.key: build for build in load_builds()}
SHEETS = {key: route_sheet(build) for key, build in DEMOS.items()}

every_demo = pytest.mark.parametrize("key", DEMOS)


def millimetres(text: str) -> float:
    return float(text.removesuffix(" mm").replace(",", ""))


def degrees(text: str) -> float:
    return float(text.removesuffix("°"))


def drawn_route(build: Build):
    """Return the route with the best belt, by the calculation alone."""
    fits = stock_fits(
        build.route_pulleys(),
        place := build.place("tensioner"),
        build.tensioner,
        build.belt.stock_effective_lengths,
        build.belt.section.line_differential.value,
    )
    best = best_stock(fits)
    pulleys = move_tensioner(build.route_pulleys(), place, build.tensioner, best.fit.position)
    return trace_route(pulleys), best


def moved(build: Build, name: str, **changes: object) -> Build:
    """Return a build with one pulley changed."""
    pulleys = tuple(replace(p, **changes) if p.name == name else p for p in build.pulleys)
    return replace(build, pulleys=pulleys)


@pytest.fixture(scope="module")
def page() -> str:
    """The page as it is served; no lookup needs to be proved for it."""
    return create_app([], [PAGE]).test_client().get("/route/").get_data(as_text=True)


# --- tables ---------------------------------------------------------------------------------------


@every_demo
def test_runs_and_wraps_are_the_calculations(key: str) -> None:
    sheet, (route, _) = SHEETS[key], drawn_route(DEMOS[key])
    assert [row.number for row in sheet.spans] == [1, 2, 3, 4, 5]
    for row, span in zip(sheet.spans, route.spans, strict=True):
        assert millimetres(row.length) == pytest.approx(1e3 * span.length, abs=0.051)
    for row, wrap in zip(sheet.pulleys, route.wraps, strict=True):
        assert degrees(row.wrap) == pytest.approx(math.degrees(wrap.angle), abs=0.51)


@every_demo
def test_runs_and_arcs_add_up_to_the_belt_that_is_named(key: str) -> None:
    sheet, build = SHEETS[key], DEMOS[key]
    straight = sum(millimetres(row.length) for row in sheet.spans)
    arcs = sum(
        math.radians(degrees(row.wrap)) * millimetres(row.diameter) / 2 for row in sheet.pulleys
    )
    named = next(belt.name for belt in sheet.stock if belt.chosen)
    effective = float(named.partition(build.belt.section.key)[2]) / 1e3
    wanted = 1e3 * float(pitch_length(effective, build.belt.section.line_differential.value))
    # Wraps are shown to a degree: half of one on each pulley.
    assert straight + arcs == pytest.approx(wanted, abs=2.0)


@every_demo
def test_only_one_belt_is_chosen_and_it_fits(key: str) -> None:
    chosen = [row for row in SHEETS[key].stock if row.chosen]
    assert len(chosen) == 1
    assert chosen[0].words.startswith("fits")
    assert chosen[0].name in SHEETS[key].verdict


@every_demo
def test_belts_that_miss_say_by_how_much(key: str) -> None:
    words = [row.words for row in SHEETS[key].stock if row.status == "beyond"]
    assert words
    assert all(re.fullmatch(r"[\d.,]+ mm too (short|long)", each) for each in words)


@every_demo
def test_travel_left_adds_up_to_the_tensioners_whole_travel(key: str) -> None:
    whole = 1e3 * DEMOS[key].tensioner.travel
    for row in SHEETS[key].stock:
        if row.to_slack:
            left = millimetres(row.to_slack) + millimetres(row.to_tight)
            assert left == pytest.approx(whole, abs=0.11)


def two_pulleys() -> Build:
    """Tayal's open belt, 24 over 12 cm at 30 cm, with a tensioner that only just touches it."""
    demo = DEMOS["gravel_hauler"]
    specs = {spec.role: spec for spec in demo.pulleys}
    crank = replace(specs["crank"], diameter=0.24, diameter_kind="pitch", minimum_wrap=0.0)
    blower = replace(crank, name="blower", role="blower", center=(0.0, 0.30), diameter=0.12)
    out = (-math.sqrt(0.96), 0.2)
    middle = (0.5 * (0.12 + 0.06) * out[0], 0.15 + 0.5 * (0.12 + 0.06) * out[1])
    radius = specs["tensioner"].pitch_diameter(demo.belt.section) / 2

    def beside(distance: float) -> tuple[float, float]:
        return middle[0] + distance * out[0], middle[1] + distance * out[1]

    slot = Slot(beside(radius - 1e-5), beside(radius - 0.02))
    effective = 1.177528 - math.tau * 0.002
    return replace(
        demo,
        pulleys=(crank, replace(specs["tensioner"], minimum_wrap=0.0), blower),
        tensioner=slot,
        belt=replace(demo.belt, stock_effective_lengths=(effective,)),
    )


def test_two_pulleys_are_the_open_belt_of_tayal_example_7_1() -> None:
    sheet = route_sheet(two_pulleys())
    assert millimetres(dict(sheet.facts)["Pitch length as drawn"]) == pytest.approx(1177.5)
    wraps = {row.name: degrees(row.wrap) for row in sheet.pulleys}
    assert (wraps["crank"], wraps["blower"], wraps["tensioner"]) == (203.0, 157.0, 0.0)


# --- verdicts and faults --------------------------------------------------------------------------


@every_demo
def test_demo_is_sound_and_says_that_it_is_invented(key: str) -> None:
    sheet = SHEETS[key]
    assert sheet.status == "within"
    assert sheet.faults == ()
    assert "Invented" in sheet.note


def faults_of(build: Build) -> tuple[RouteSheet, str]:
    sheet = route_sheet(build)
    assert sheet.status == "beyond"
    return sheet, " ".join(sheet.faults)


def test_a_belt_that_would_cross_itself_is_drawn_and_refused() -> None:
    build = moved(DEMOS["gravel_hauler"], "blower", side="back")
    sheet, words = faults_of(build)
    assert "cross" in words
    assert sheet.drawing is not None


def test_a_wrap_under_its_least_is_named_with_both_figures() -> None:
    build = moved(DEMOS["gravel_hauler"], "right idler", minimum_wrap=math.radians(40.0))
    sheet, words = faults_of(build)
    assert "Right idler has 23.5° of wrap, it needs 40.0°." in words
    assert next(row for row in sheet.pulleys if row.name == "right idler").status == "beyond"


def test_pulleys_in_each_others_place_are_refused_without_a_drawing() -> None:
    build = moved(DEMOS["gravel_hauler"], "right idler", center=(0.0, 0.35))
    sheet, words = faults_of(build)
    assert "overlap" in words
    assert sheet.drawing is None


def test_a_stock_without_a_fit_says_so_and_draws_the_nearest() -> None:
    build = DEMOS["gravel_hauler"]
    short = replace(build, belt=replace(build.belt, stock_effective_lengths=(1.1, 1.2)))
    sheet = route_sheet(short)
    assert sheet.verdict.startswith("No belt in stock fits")
    assert [row.chosen for row in sheet.stock] == [False, True]
    assert sheet.drawing is not None


def test_a_tensioner_with_its_ends_swapped_is_said_in_words() -> None:
    build = DEMOS["gravel_hauler"]
    assert isinstance(build.tensioner, Slot)
    swapped = replace(build, tensioner=Slot(build.tensioner.tight, build.tensioner.slack))
    _, words = faults_of(swapped)
    assert "ends are swapped" in words


def test_a_tensioner_on_the_tight_side_is_said_in_words() -> None:
    build = DEMOS["gravel_hauler"]
    # The other way round, the belt meets the tensioner after the blower.
    belt = replace(build.belt, travel="counter-clockwise")
    turned = replace(build, belt=belt, pulleys=(build.pulleys[0], *build.pulleys[:0:-1]))
    _, words = faults_of(turned)
    assert "tight side" in words


# --- drawing --------------------------------------------------------------------------------------


def points(path: str) -> list[tuple[float, float]]:
    """Return where a path's straight runs begin and end."""
    found = re.findall(r"(?:[ML]|A[\d.]+ [\d.]+ 0 [01] [01] )(-?[\d.]+) (-?[\d.]+)", path)
    return [(float(x), float(y)) for x, y in found]


@every_demo
def test_drawn_belt_follows_the_route(key: str) -> None:
    route, _ = drawn_route(DEMOS[key])
    drawing = SHEETS[key].drawing
    assert drawing
    first = [route.spans[0].start]
    ends = [p for s, w in zip(route.spans, (*route.wraps[1:], route.wraps[0]), strict=True)
            for p in (s.end, w.end)]  # fmt: skip
    for (x, y), end in zip(points(drawing.belt), first + ends, strict=True):
        assert (x, y) == pytest.approx((1e3 * end[0], -1e3 * end[1]), abs=0.051)


@every_demo
def test_arrowheads_point_the_way_of_travel(key: str) -> None:
    route, _ = drawn_route(DEMOS[key])
    drawing = SHEETS[key].drawing
    assert drawing
    for mark, span in zip(drawing.marks, route.spans, strict=True):
        tip, left, right = points(mark.head)
        heel = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
        forward = (tip[0] - heel[0]) * span.direction[0] - (tip[1] - heel[1]) * span.direction[1]
        assert forward == pytest.approx(16.0, abs=0.3)


@every_demo
def test_numbers_keep_off_the_pulleys_and_off_the_belt(key: str) -> None:
    route, _ = drawn_route(DEMOS[key])
    drawing = SHEETS[key].drawing
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


# --- the page -------------------------------------------------------------------------------------


def test_page_shows_every_build_without_a_script_of_its_own(page: str) -> None:
    for build in DEMOS.values():
        assert f'id="{build.key}"' in page
        assert build.title in page
        assert build.note in page
    assert "route.js" not in page
    assert "style=" not in page


def test_drawings_are_well_formed_and_have_a_text_in_their_place(page: str) -> None:
    drawings = re.findall(r'<svg class="route-drawing".*?</svg>', page, re.DOTALL)
    assert len(drawings) == len(DEMOS)
    for drawing in drawings:
        root = ElementTree.fromstring(drawing)
        assert root.get("role") == "img"
        assert "seen from the front" in (root.get("aria-label") or "")


@every_demo
def test_link_to_the_belt_page_is_a_set_up_that_it_takes(key: str) -> None:
    fields = {field.key: field for field in belt.LOOKUP.fields}
    for name, (value,) in parse_qs(SHEETS[key].belt_query, strict_parsing=True).items():
        field = fields[name]
        if name in belt.LOOKUP.numbers:
            number = belt.LOOKUP.numbers[name]
            assert value.endswith(number.unit)
            assert number.low <= float(value.removesuffix(number.unit)) <= number.high
        else:
            assert value in [option.key for option in field.options]


@every_demo
def test_nothing_is_wrong_that_the_calculation_does_not_find(key: str) -> None:
    build = DEMOS[key]
    route, _ = drawn_route(build)
    assert find_faults(route, build.minimum_wraps, build.belt.clearance) == ()
