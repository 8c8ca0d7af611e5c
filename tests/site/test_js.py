"""The page's own modules, run in Node: what they read, write, step and draw.

Numbers and drawings are compared with `site_src`'s, which make the same page without scripts.
"""

from __future__ import annotations

import json
import random
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pytest

from site_src.face.curve import Dot, draw_curve
from site_src.face.ladder import SAME_REASON, draw_share, fed_text
from site_src.face.numbers import fine, grouped, plain, shown_margin
from site_src.face.rule import draw_rule
from site_src.lookups import all_lookups
from site_src.lookups.boost import LOOKUP as BOOST_PAGE
from site_src.model.answers import shown
from site_src.model.fields import Choice, Number, Option, Parts, Scale
from site_src.model.quantities import all_quantities, quantity
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"
SEED = 20260101

pytestmark = needs_node

QUANTITIES = {
    q.key: {"si": q.si, "units": [asdict(unit) for unit in q.units], "inch": dict(q.inch)}
    for q in all_quantities()
}

PULLEY = Number(
    "blower_pulley",
    "Blower pulley",
    Scale(
        "length",
        unit="mm",
        span=(40, 250),
        default=92,
        step=1,
        stock=(74.0, 78.0, 82.0, 85.0, 88.0, 92.0),
    ),
    way_out="Measure it again.",
)
HEIGHT = Number(
    "altitude", "Altitude", Scale("altitude", unit="m", span=(-300, 4500), default=0, step=100)
)
WARMTH = Number(
    "intake", "Intake air", Scale("temperature", unit="C", span=(-40, 60), default=25, step=5)
)
BOOST = Number(
    "wanted",
    "Wanted boost",
    Scale("gauge_pressure", unit="kPa", span=(5, 200), default=None, step=5),
)
TORQUE = Number(
    "torque", "Torque", Scale("torque", unit="Nm", span=(0.5, 1000), default=20, step=1)
)
KIND = Choice("kind", "Kind", (Option("a", "One"), Option("b", "Other")), "a")
RUNS = Parts(
    "runs",
    "Runs",
    (Number("length", "Length", Scale("run", unit="m", span=(0.1, 20), default=1, step=0.1)), KIND),
    most=4,
    default=({"length": 1.0, "kind": "a"},),
)


def run(*jobs: tuple[object, ...]) -> list[Any]:
    """Hand jobs to the modules and return what came out, in order."""
    given = {"jobs": jobs, "quantities": QUANTITIES}
    results: list[Any] = told_by(HERE / "face_many.mjs", SCRIPTS, given=given)
    return results


def number_fields() -> list[Number]:
    """Every number field of every page, those inside lists of parts too."""
    fields: list[Number] = []
    for lookup in all_lookups():
        for field in lookup.fields:
            inner = field.fields if isinstance(field, Parts) else (field,)
            fields += [each for each in inner if isinstance(each, Number)]
    return fields


# --- reading what was typed ----------------------------------------------------------------------

READ = [
    (PULLEY, "92", 92.0, "mm"),
    (PULLEY, " 92 mm ", 92.0, "mm"),
    (PULLEY, "3.62in", 3.62, "in"),
    (PULLEY, "3,62 in", 3.62, "in"),
    (PULLEY, '3.62"', 3.62, "in"),
    (PULLEY, "3 5/8 in", 3.625, "in"),
    (PULLEY, "3-5/8in", 3.625, "in"),
    (PULLEY, "3½ inch", 3.5, "in"),
    (PULLEY, "¾ in", 0.75, "in"),
    (PULLEY, "92,5", 92.5, "mm"),
    (PULLEY, "92.", 92.0, "mm"),
    (HEIGHT, "1600", 1600.0, "m"),
    (HEIGHT, "1 600", 1600.0, "m"),
    (HEIGHT, "1 600", 1600.0, "m"),
    (HEIGHT, "1'600 m", 1600.0, "m"),
    (HEIGHT, "5,249.5 ft", 5249.5, "ft"),
    (HEIGHT, "5.249,5 ft", 5249.5, "ft"),
    (HEIGHT, "5250'", 5250.0, "ft"),
    (HEIGHT, "-100", -100.0, "m"),
    (HEIGHT, "−100", -100.0, "m"),
    (WARMTH, "77°F", 77.0, "F"),
    (WARMTH, "77 f", 77.0, "F"),
    (WARMTH, "-4 °C", -4.0, "C"),
    (WARMTH, ".5", 0.5, "C"),
    (BOOST, "12 PSI", 12.0, "psi"),
    (BOOST, "0.7bar", 0.7, "bar"),
    (TORQUE, "20 ft-lb", 20.0, "lbft"),
    (TORQUE, "20 lb·ft", 20.0, "lbft"),
    (TORQUE, "240 in lb", 240.0, "lbin"),
    (TORQUE, "20 Nm", 20.0, "Nm"),
]


def test_what_people_type_is_understood() -> None:
    found = run(*[("understood", field.spec(), text, None) for field, text, *_ in READ])
    for (_, text, value, unit), typed in zip(READ, found, strict=True):
        assert (typed.get("value"), typed.get("unit", {}).get("key")) == (value, unit), text


def test_a_comma_that_could_mean_two_things_is_settled_by_the_range_or_asked_about() -> None:
    speed = Number(
        "speed", "Speed", Scale("rotation", unit="rpm", span=(500, 9000), default=600, step=1)
    )
    either = Number("x", "Length", Scale("length", unit="mm", span=(0.1, 5000), default=1, step=1))
    found = run(
        ("understood", HEIGHT.spec(), "4,000", None),  # 4 and 4,000 m are both in range
        ("understood", PULLEY.spec(), "1,150", None),  # neither is
        ("understood", speed.spec(), "6,000", None),
        ("understood", either.spec(), "0,125", None),  # a nought in front: never thousands
        ("complaint", HEIGHT.spec(), "4,000", "m"),
    )
    assert [each.get("problem") for each in found[:2]] == ["two ways", "two ways"]
    assert found[2]["value"] == 6000.0
    assert found[3]["value"] == 0.125
    assert "4,000 can be read as 4 or 4000" in found[4]


MISREAD = ["abc", "", "-", "12..5", "1,2,3", "5/0 in", "9 2", "1.2.3", "NaN", "Infinity", "1e3"]


def test_what_is_not_a_number_is_said_in_words_and_never_guessed() -> None:
    found = run(*[("complaint", PULLEY.spec(), text, "mm") for text in MISREAD])
    for text, words in zip(MISREAD, found, strict=True):
        assert words.startswith("Blower pulley"), text
        assert words.endswith(".")
    assert "is empty. This page takes 40 to 250 mm." in found[1]


def test_a_complaint_names_field_value_range_and_way_out_in_the_picked_unit() -> None:
    outside, inches, foreign = run(
        ("complaint", PULLEY.spec(), "400", "mm"),
        ("complaint", PULLEY.spec(), "12", "in"),
        ("complaint", PULLEY.spec(), "4 kg", "mm"),
    )
    assert outside == ("Blower pulley is 400 mm. This page takes 40 to 250 mm. Measure it again.")
    assert "Blower pulley is 12 in. This page takes 1.58 to 9.84 in." in inches
    assert foreign == "Blower pulley: “kg” is not a unit of this entry. Use mm or in."


def test_stated_ends_of_every_range_are_themselves_accepted_in_every_unit() -> None:
    cases = [(field, unit.key) for field in number_fields() for unit in field.quantity.units]
    found = run(*[("ends", field.spec(), unit) for field, unit in cases])
    for (field, unit), ends in zip(cases, found, strict=True):
        assert ends["taken"] == [True, True], (field.key, unit, ends)


def test_a_change_of_unit_and_back_gives_the_text_that_was_typed() -> None:
    cases = [
        (field, unit.key)
        for field in number_fields()
        if field.default is not None
        for unit in field.quantity.units
    ]
    found = run(
        *[
            ("inUnits", field.spec(), f"{field.default:.15g}", field.unit, unit, field.unit)
            for field, unit in cases
        ]
    )
    for (field, unit), text in zip(cases, found, strict=True):
        assert text == f"{field.default:.15g}", (field.key, unit)


def test_a_value_at_the_end_of_its_range_is_still_taken_in_another_unit() -> None:
    cases = [
        (field, end, unit.key)
        for field in number_fields()
        for end in (field.low, field.high)
        for unit in field.quantity.units
    ]
    texts = run(
        *[("inUnits", field.spec(), repr(end), field.unit, unit) for field, end, unit in cases]
    )
    complaints = run(
        *[
            ("complaint", field.spec(), text, unit)
            for (field, _, unit), text in zip(cases, texts, strict=True)
        ]
    )
    assert not any(complaints)


def test_both_units_are_shown_of_what_was_understood() -> None:
    assert run(
        ("echo", PULLEY.spec(), "92", "mm"),
        ("echo", PULLEY.spec(), "3.62in", "in"),
        ("echo", HEIGHT.spec(), "1600", "m"),
        ("echo", PULLEY.spec(), "what", "mm"),
    ) == ["92 mm · 3.622 in", "3.62 in · 91.9 mm", "1,600 m · 5,249 ft", ""]


# --- steps ---------------------------------------------------------------------------------------


def test_a_stepper_walks_the_values_that_exist() -> None:
    up, down, inches = run(
        ("walk", PULLEY.spec(), "83", "mm", 1, 9),
        ("walk", PULLEY.spec(), "400", "mm", -1, 3),
        ("walk", PULLEY.spec(), "3.622", "in", -1, 2),
    )
    assert up == ["85", "88", "92"]
    assert down == ["92", "88", "85"]
    assert inches == ["3.465", "3.346"]


def test_a_stepper_without_a_list_goes_to_the_next_even_step_and_stops_at_the_end() -> None:
    up, down, fahrenheit = run(
        ("walk", WARMTH.spec(), "23", "C", 1, 20),
        ("walk", WARMTH.spec(), "-38", "C", -1, 20),
        ("walk", WARMTH.spec(), "77", "F", 1, 3),
    )
    assert up == ["25", "30", "35", "40", "45", "50", "55", "60"]
    assert down == ["-40"]
    assert fahrenheit == ["80", "85", "90"]


def test_no_stepper_ever_leaves_its_range() -> None:
    # Many pages ask the same entry, which need not be walked again.
    specs = {json.dumps(field.spec()): field for field in number_fields()}.values()
    cases = [
        (field.spec(), unit.key, way)
        for field in specs
        for unit in field.quantity.units
        for way in (1, -1)
    ]
    ends = run(*[("ends", spec, unit) for spec, unit, _ in cases])
    walks = run(
        *[
            ("walk", spec, end["low"] if way > 0 else end["high"], unit, way, 60)
            for (spec, unit, way), end in zip(cases, ends, strict=True)
        ]
    )
    complaints = run(
        *[
            ("complaints", spec, walk, unit)
            for (spec, unit, _), walk in zip(cases, walks, strict=True)
        ]
    )
    assert any(walks)
    assert not any(complaints)


# --- the shop's pulleys --------------------------------------------------------------------------


def pulley(text: str, unit: str, kind: str = "outside") -> dict[str, object]:
    """A pulley as the phone keeps it."""
    return {"schema": 1, "id": text + unit, "rev": 1, "text": text, "unit": unit, "kind": kind}


SHELVED = BOOST_PAGE.numbers["blower_pulley"].spec()
OWN = [pulley("3.75", "in"), pulley("92", "mm"), pulley("90", "mm", "pitch")]


def test_a_stepper_walks_the_shops_own_pulleys_as_they_were_typed() -> None:
    millimetres, down, inches = run(
        ("walkShelf", SHELVED, "80", "mm", 1, "outside", OWN),
        ("walkShelf", SHELVED, "300", "mm", -1, "outside", OWN),
        ("walkShelf", SHELVED, "3", "in", 1, "outside", OWN),
    )
    # 90 mm where the cord runs is 86 mm over the rib tips: ISO 9981, 2 mm either side.
    assert millimetres == ["86", "92", "95.25"]
    assert down == ["95.25", "92", "86"]
    assert inches == ["3.3858", "3.622", "3.75"]


def test_a_pulley_serves_where_another_diameter_is_asked_for() -> None:
    (found,) = run(("stockOf", SHELVED, "mm", "pitch", OWN))
    assert [each["value"] for each in found] == pytest.approx([90.0, 96.0, 99.25])


def test_a_pulley_shown_in_another_unit_is_still_the_one_that_was_typed() -> None:
    (found,) = run(("stockOf", SHELVED, "in", "outside", [pulley("3.75", "in")]))
    assert found == [{"value": 3.75 * 25.4, "text": "3.75", "unit": "in"}]


def test_without_its_own_an_inch_shop_steps_along_eighths_of_an_inch() -> None:
    inches, millimetres = run(
        ("walkShelf", SHELVED, "3.3", "in", 1, "outside", []),
        ("walkShelf", SHELVED, "80", "mm", 1, "outside", []),
    )
    assert inches[:4] == ["3.375", "3.5", "3.625", "3.75"]
    assert millimetres[:3] == ["82", "85", "88"]


@pytest.mark.parametrize(
    ("entered", "said"),
    [
        (pulley("92", "mm"), "92 mm outside is on the list already"),
        (pulley("92.00", "mm", "effective"), "92 mm outside is on the list already"),
        (pulley("96", "mm", "pitch"), "92 mm outside is on the list already"),
        (pulley("95.25", "mm"), "3.75 in outside is on the list already"),
        (pulley("92.1", "mm"), ""),
        (pulley("96", "mm"), ""),
    ],
)
def test_the_same_pulley_is_not_taken_twice(entered: dict[str, object], said: str) -> None:
    (words,) = run(("refused", SHELVED, entered, OWN))
    assert said in words if said else not words


def test_a_list_that_nobody_would_read_is_refused() -> None:
    many = [pulley(str(50 + n), "mm") for n in range(40)]
    (words,) = run(("refused", SHELVED, pulley("200", "mm"), many))
    assert words == "The list holds 40 pulleys. Delete one that you don't use."


# --- links ---------------------------------------------------------------------------------------

FIELDS = [field.spec() for field in (PULLEY, WARMTH, BOOST, KIND, RUNS)]

LINKS = [
    ("", ""),
    ("blower_pulley=92mm", ""),
    ("blower_pulley=88mm&kind=b", "blower_pulley=88mm&kind=b"),
    ("blower_pulley=3.5in&intake=-4C", "blower_pulley=3.5in&intake=-4C"),
    ("blower_pulley=88", "blower_pulley=88mm"),
    ("blower_pulley=what", "blower_pulley=what"),
    ("blower_pulley=3+5/8in", "blower_pulley=3.625in"),
    ("intake=77+°F", "intake=77F"),
    ("blower_pulley=", "blower_pulley="),
    ("wanted=12psi", "wanted=12psi"),
    ("runs=2&runs.2.length=3.5ft", "runs=2&runs.2.length=3.5ft"),
    ("runs=0", "runs=0"),
    ("nobody=1&kind=a", ""),
]


def test_a_link_gives_back_the_inputs_it_was_made_of() -> None:
    found = run(*[("roundTrip", FIELDS, search) for search, _ in LINKS])
    for (search, query), back in zip(LINKS, found, strict=True):
        assert back["same"], search
        assert back["query"] == query, search


def test_an_example_list_is_an_input_only_once_a_person_has_entered_in_it() -> None:
    mine = replace(RUNS, example="Enter your own.").spec()
    links = ("", "runs=2&runs.1.length=2ft", "runs=1&runs.1.length=1m")
    untouched, other, same = run(*[("roundTrip", [mine], search) for search in links])
    assert "runs" not in untouched["inputs"]
    assert len(other["inputs"]["runs"]) == 2
    assert same["inputs"]["runs"] == [{"length": 1, "kind": "a"}]
    assert same["same"]


def test_a_links_numbers_reach_the_evaluator_in_the_declared_unit_as_they_were_typed() -> None:
    (back,) = run(("roundTrip", FIELDS, "blower_pulley=88.3mm&wanted=12psi"))
    psi, kpa = BOOST.quantity.unit("psi"), BOOST.quantity.unit("kPa")
    assert back["inputs"]["blower_pulley"] == 88.3
    assert back["inputs"]["wanted"] == kpa.from_si(psi.to_si(12.0))


# --- the same figures and drawings as without scripts ----------------------------------------


def values(count: int) -> list[float]:
    """Numbers of every size and sign, with ties at the last digit among them."""
    rng = random.Random(SEED)
    spread = [rng.choice((-1, 1)) * 10 ** rng.uniform(-6, 6) for _ in range(count)]
    return [*spread, *(n / 8 for n in range(-40, 40)), 0.0, 999.95, 1e15, 0.1 + 0.2]


def test_numbers_are_rounded_and_written_as_in_python() -> None:
    cases = [(value, decimals) for value in values(300) for decimals in (0, 1, 2, 4)]
    assert run(*[("shown", *case) for case in cases]) == [
        grouped(shown(value, decimals)) for value, decimals in cases
    ]


def test_small_differences_and_entries_are_written_as_in_python() -> None:
    numbers = values(300)
    assert run(*[("fine", value, 2) for value in numbers]) == [fine(value) for value in numbers]
    steps = [(value, step) for value in numbers for step in (0.05, 1.0, 250.0)]
    assert run(*[("plain", *case) for case in steps]) == [plain(*case) for case in steps]
    margins = [(abs(value), decimals) for value in numbers for decimals in (0, 1)]
    assert run(*[("shownMargin", *case) for case in margins]) == [
        shown_margin(*case) for case in margins
    ]


def test_rules_are_drawn_as_in_python() -> None:
    rng = random.Random(SEED)
    cases: list[tuple[str, float, float, float]] = [("max", 11385.0, 14000.0, 12880.0)]
    for _ in range(200):
        side, limit = rng.choice(("max", "min")), rng.choice((1, -1)) * 10 ** rng.uniform(-2, 5)
        near = limit * rng.uniform(0.8, 1.2)
        cases.append((side, limit * rng.uniform(-0.5, 3.0), limit, near))
    for case, marks in zip(cases, run(*[("rule", *case) for case in cases]), strict=True):
        expected = asdict(draw_rule(*case, decimals=1, unit="mm"))
        for name in ("ticks", "pointer", "limit", "near", "beyond", "hatch"):
            assert marks[name] == json.loads(json.dumps(expected[name])), (case, name)


def test_shares_of_a_limit_are_drawn_as_in_python() -> None:
    rng = random.Random(SEED)
    cases = [(rng.uniform(-1.0, 5.0), rng.uniform(0.5, 1.0)) for _ in range(100)]
    cases += [(used, 0.92) for used in (0.0, 0.92, 1.0, 1.25, 1.2501)]
    for case, marks in zip(cases, run(*[("share", *case) for case in cases]), strict=True):
        assert marks == json.loads(json.dumps(asdict(draw_share(*case)))), case


def test_curves_are_drawn_as_in_python() -> None:
    rng = random.Random(SEED)
    curves = []
    for _ in range(20):
        size = 10 ** rng.uniform(-2, 5)
        curves.append(
            [
                Dot(
                    100.0 * n,
                    None if rng.random() < 0.15 else rng.uniform(-0.2, 1.0) * size,
                    size if rng.random() < 0.5 else None,
                    n == 7,
                )
                for n in range(20)
            ]
        )
    found = run(*[("curve", [asdict(dot) for dot in dots]) for dots in curves])
    for dots, marks in zip(curves, found, strict=True):
        expected = draw_curve(dots)
        assert expected is not None
        assert tuple(marks["runs"]) == expected.runs
        assert tuple(marks["limits"]) == expected.limits
        assert marks["current"] == (list(expected.current) if expected.current else None)
        for drawn, ticks in (
            (marks["xTicks"], expected.x_ticks),
            (marks["yTicks"], expected.y_ticks),
        ):
            assert [(t["at"], t["label"]) for t in drawn] == [(t.at, t.label) for t in ticks]


# --- what runs out first -------------------------------------------------------------------------

FLOW = Number(
    "air_flow", "Air flow", Scale("mass_flow", unit="gps", span=(20, 1500), default=400, step=10)
)
MADE = Number(
    "boost", "Boost", Scale("gauge_pressure", unit="kPa", span=(0, 200), default=None, step=5)
)


def test_what_is_carried_over_is_written_as_in_python() -> None:
    rng = random.Random(SEED)
    cases = [(field, rng.uniform(0.0, 3.0) * 10 ** rng.uniform(-6, 3)) for field in number_fields()]
    # Rounding alone must not carry a value out of its range.
    ends = [(field, field.declared.to_si(end)) for field, end in _ends(number_fields())]
    cases += [*ends, *((field, si * (1 - 1e-9)) for field, si in ends)]
    found = run(*[("fed", field.spec(), si) for field, si in cases])
    assert found == [fed_text(*case) for case in cases]


def _ends(fields: list[Number]) -> list[tuple[Number, float]]:
    return [(field, end) for field in fields for end in (field.low, field.high)]


def test_a_limits_page_gets_what_was_entered_and_what_was_worked_out() -> None:
    own, page = (PULLEY, WARMTH, KIND), (PULLEY, WARMTH, KIND, FLOW, MADE, HEIGHT)
    rung = {"page": "throttle", "feeds": {"air_flow": "a.flow", "boost": "b.boost"}}
    pages = {"throttle": {"fields": [field.spec() for field in page]}}
    given = [field.spec() for field in own], pages, rung
    usual, typed, unread, unknown = run(
        ("carried", *given, "", {"a.flow": 0.4, "b.boost": 79582.53}),
        (
            *("carried", *given, "blower_pulley=3.5in&kind=b"),
            {"a.flow": 0.51145321, "b.boost": 80000.0},
        ),
        ("carried", *given, "blower_pulley=what", {"a.flow": 0.4, "b.boost": 0.0}),
        ("carried", *given, "", {"a.flow": 0.4, "b.boost": {"kind": "above", "symbol": "x"}}),
    )
    assert usual == "boost=79.5825kPa"
    assert typed == "blower_pulley=3.5in&kind=b&air_flow=511.453gps&boost=80kPa"
    assert unread == "blower_pulley=what&boost=0kPa"
    assert unknown is None


def test_the_most_used_limit_is_on_top_and_those_without_an_answer_say_why_once() -> None:
    steps = [
        {"answer": "belt", "used": None, "words": "No boost.", "first": "the belt runs out first"},
        {"answer": "rotors", "used": 81, "words": "", "first": "the rotors run out first"},
        {"answer": "pump", "used": None, "words": "No boost.", "first": "the pump runs out first"},
        {"answer": "throttle", "used": 86, "words": "", "first": "the throttle runs out first"},
    ]
    some, every, none = run(
        ("ladder", steps), ("ladder", [steps[1], steps[3]]), ("ladder", [steps[0]])
    )
    assert some["order"] == ["throttle", "rotors", "belt", "pump"]
    assert some["words"] == ["", "", "No boost.", SAME_REASON]
    assert some["first"] == "Of what can be worked out, the throttle runs out first: 86 % used."
    assert every["first"] == "The throttle runs out first: 86 % used."
    assert none["first"] == "None of these can be worked out for this set-up."


def test_a_view_is_flat_only_if_nothing_in_it_changes() -> None:
    assert run(
        ("flat", [[1, 2], [1, 2]]),
        ("flat", [[1, None], [1, None]]),
        ("flat", [[1, 2], [1, 3]]),
        ("flat", [[1, None], [1, 2]]),
        ("flat", [[None], [None]]),
    ) == [True, True, False, False, False]


def test_neighbours_on_the_shelf_lie_on_either_side_or_both_where_it_goes_on() -> None:
    shelf = [88, 74, 78, 82, 85, 92]
    assert run(
        ("beside", shelf, 85),
        ("beside", shelf, 86.5),
        ("beside", shelf, 74),
        ("beside", shelf, 240),
        ("beside", [85], 85),
    ) == [[82, 88], [85, 88], [78, 82], [88, 92], []]


# --- a shop that measures in inches --------------------------------------------------------------


def test_an_inch_shop_gets_an_inch_unit_wherever_one_is_offered() -> None:
    fields = [field for field in number_fields() if field.unit in field.quantity.inch]
    for field, unit in zip(
        fields, run(*[("inSystem", "inch", f.unit, f.spec()) for f in fields]), strict=True
    ):
        assert unit == (field.in_inches.unit if field.in_inches else field.unit), field.key
    answers = [answer for lookup in all_lookups() for answer in lookup.answers]
    usual = [next(iter(answer.decimals)) for answer in answers]
    found = run(
        *[("inSystem", "inch", u, a.spec()) for u, a in zip(usual, answers, strict=True)],
    )
    for answer, first, unit in zip(answers, usual, found, strict=True):
        metric = quantity(answer.of).inch
        inch = [key for key in answer.decimals if key not in metric]
        assert unit in (inch if inch else [first]), answer.key
    assert run(("inSystem", "metric", "mm", PULLEY.spec())) == ["mm"]


def test_inches_on_the_screen_change_no_answer_and_no_link() -> None:
    fields = [field.spec() for field in (PULLEY, WARMTH, BOOST, KIND, RUNS)]
    usual, linked, wrong = run(
        ("inInches", fields, ""),
        ("inInches", fields, "blower_pulley=88.3mm&wanted=0.7bar&runs=1&runs.1.length=2m"),
        ("inInches", fields, "blower_pulley=400mm"),
    )
    assert usual["shown"]["blower_pulley"]["text"] == "3.622"
    assert usual["shown"]["intake"] | {"from": None} == {"text": "77", "unit": "F", "from": None}
    assert usual["inputs"]["blower_pulley"] == 92.0
    assert usual["inputs"]["intake"] == 25.0
    assert usual["query"] == ""
    assert linked["shown"]["blower_pulley"]["text"] == "3.476"
    assert linked["inputs"]["blower_pulley"] == 88.3
    assert linked["inputs"]["runs"] == [{"length": 2.0, "kind": "a"}]
    assert linked["query"] == "blower_pulley=88.3mm&wanted=0.7bar&runs=1&runs.1.length=2m"
    assert "Blower pulley is 15.748 in." in wrong["problems"][0]["words"]


def test_a_change_of_unit_changes_no_input() -> None:
    rng = random.Random(SEED)
    fields = [field for field in number_fields() if field.unit in field.quantity.inch]
    cases = [(field, round(rng.uniform(field.low, field.high), 4)) for field in fields]
    jobs = [("inInches", [f.spec()], f"{f.key}={value}{f.unit}") for f, value in cases]
    for (field, value), found in zip(cases, run(*jobs), strict=True):
        assert found["inputs"] == {field.key: value}
        unit = field.in_inches.unit if field.in_inches else field.unit
        assert found["shown"][field.key]["unit"] == unit
