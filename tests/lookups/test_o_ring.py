"""O-ring: rings and grooves as a builder meets them, and what may go on which rubber."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from site_src.data import seals as data
from site_src.lookups import lookup
from site_src.lookups.o_ring import FITTING, LUBRICANTS
from site_src.model.lookup import InputError

RING = lookup("o-ring")
INCH = 25.4
USES = ("static_face", "static_radial", "dynamic")


def told(answer, **inputs):
    """Return the words that stand in an answer's place."""
    outcome = RING.explain(inputs)
    assert answer not in outcome.answers
    return RING.words(outcome.faults[answer], inputs)


# --- published figures through the page ----------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "squeeze"),
    [
        pytest.param(0.1045, 24.8, id="MIL-G-5514G, 3.6.2, .139 ring, gland .1045"),
        pytest.param(0.113, 18.7, id="MIL-G-5514G, 3.6.2, .139 ring, gland .113"),
    ],
)
def test_squeeze_of_a_139_ring(depth, squeeze):
    found = RING.evaluate({"ring_size": "-210", "gland_depth": depth * INCH})
    assert found["squeeze"] == pytest.approx(squeeze, abs=0.05)


@pytest.mark.parametrize(
    "gland", data.glands(), ids=lambda g: f"{g.use}, {g.thickness / 0.0254:.3f}"
)
def test_gland_tables_print_the_squeeze_that_the_page_works_out(gland):
    """Gland tables of the trade, as restated: depth limits against the squeeze printed beside."""
    size = next(s for s in data.dash_sizes() if s.section.thickness == gland.thickness)
    middle = (gland.least_depth + gland.most_depth) / 2.0
    found = RING.evaluate(
        {
            "ring_size": size.name,
            "use": gland.use,
            "gland_depth": middle * 1000.0,
            "depth_tolerance": (gland.most_depth - gland.least_depth) / 2.0 * 1000.0,
        }
    )
    least, most = (100.0 * printed for printed in gland.printed_squeeze)
    assert found["squeeze_least"] == pytest.approx(least, abs=1.5)
    assert found["squeeze_most"] == pytest.approx(most, abs=1.5)
    assert found["table_depth_least"] == pytest.approx(gland.least_depth * 1000.0)
    assert found["table_depth_most"] == pytest.approx(gland.most_depth * 1000.0)
    assert found["table_width"] == pytest.approx(gland.width * 1000.0)


@pytest.mark.parametrize(
    ("size", "inside", "section"),
    [
        pytest.param("-010", 0.239, 0.070, id="AS568 -010, as restated"),
        pytest.param("-112", 0.487, 0.103, id="AS568 -112, as restated"),
        pytest.param("-210", 0.734, 0.139, id="AS568 -210, as restated"),
        pytest.param("-309", 0.412, 0.210, id="AS568 -309, as restated"),
        pytest.param("-425", 4.475, 0.275, id="AS568 -425, as restated"),
    ],
)
def test_standard_sizes(size, inside, section):
    found = RING.evaluate({"ring_size": size})
    assert found["ring_inside_used"] == pytest.approx(inside * INCH, abs=0.001)
    assert found["ring_section_used"] == pytest.approx(section * INCH, abs=0.001)


# --- what it means on the bench ------------------------------------------------------------------


def test_the_usual_set_up_seals_and_goes_in():
    outcome = RING.explain({})
    assert set(outcome.status.values()) == {"within"}


def test_too_thin_a_ring_does_not_seal():
    outcome = RING.explain({"ring_size": "-112"})
    assert outcome.answers["squeeze"] < 0.0
    assert outcome.status["squeeze"] == "beyond"
    assert outcome.status["squeeze_least"] == "beyond"


def test_too_thick_a_ring_is_cut_and_has_no_room():
    outcome = RING.explain({"ring_size": "-314"})
    assert outcome.status["squeeze"] == "within"
    assert outcome.status["squeeze_most"] == "beyond"
    assert outcome.status["fill_most"] == "beyond"


def test_a_gland_by_the_table_is_no_worse_than_close():
    # The tables' own loosest pair, 14 %, lies just under the usual least of 15 %.
    outcome = RING.explain({"gland_depth": 2.87, "depth_tolerance": 0.076})
    assert outcome.status["squeeze"] == "near"
    assert outcome.status["squeeze_most"] == "within"


def test_a_face_joint_wants_more_squeeze_than_a_spigot_and_a_sliding_one_less():
    squeezed = {use: RING.explain({"use": use, "gland_depth": 2.9}) for use in USES}
    assert squeezed["static_face"].status["squeeze"] == "beyond"
    assert squeezed["static_radial"].status["squeeze"] == "near"
    assert squeezed["dynamic"].status["squeeze"] == "within"


def test_a_stretched_ring_is_thinner_and_squeezes_less():
    free, on = RING.evaluate({}), RING.evaluate({"seat_diameter": 19.2})
    assert on["stretch"] == pytest.approx(100.0 * (19.2 / 18.6436 - 1.0))
    assert on["section_as_it_sits"] < free["section_as_it_sits"]
    assert on["squeeze"] < free["squeeze"]


def test_volume_is_kept_when_a_ring_is_stretched():
    # Pappus: the torus's volume goes with W² (d + W).
    found = RING.evaluate({"seat_diameter": 19.5})
    before = 3.5306**2 * (18.6436 + 3.5306)
    after = found["section_as_it_sits"] ** 2 * (19.5 + found["section_as_it_sits"])
    assert after == pytest.approx(before, rel=1e-5)


@pytest.mark.parametrize(("seat", "status"), [(19.1, "within"), (19.4, "near"), (19.7, "beyond")])
def test_stretch_up_to_three_is_usual_and_over_five_is_too_much(seat, status):
    assert RING.explain({"seat_diameter": seat}).status["stretch"] == status


@pytest.mark.parametrize(
    ("seat", "status"),
    [
        pytest.param(6.2, "within", id="2.1 %"),
        pytest.param(6.5, "near", id="7.1 %, over the 5 % of larger rings"),
        pytest.param(6.6, "beyond", id="8.7 %"),
    ],
)
def test_a_ring_of_6_mm_may_be_stretched_by_8_per_cent_iso_3601_2_from_memory(seat, status):
    entered = {"ring_size": "-010", "gland_depth": 1.4, "seat_diameter": seat}
    assert RING.explain(entered).status["stretch"] == status


@pytest.mark.parametrize(
    ("size", "inside", "section", "port"),
    [
        pytest.param("-906", 11.89, 1.98, "9/16-18", id="dash 6 port, AS568 from memory"),
        pytest.param("-908", 16.36, 2.21, "3/4-16", id="dash 8 port, AS568 from memory"),
        pytest.param("-910", 19.18, 2.46, "7/8-14", id="dash 10 port, AS568 from memory"),
    ],
)
def test_a_boss_ring_is_found_by_its_port_and_is_not_judged_as_in_a_groove(
    size, inside, section, port
):
    option = next(o for o in RING.choices["ring_size"].options if o.key == size)
    assert port in option.label
    outcome = RING.explain({"ring_size": size})
    assert outcome.answers["ring_inside_used"] == pytest.approx(inside, abs=0.006)
    assert outcome.answers["ring_section_used"] == pytest.approx(section, abs=0.006)
    assert outcome.status == {}
    assert "chamfer" in told("squeeze", ring_size=size)
    assert "chamfer" in told("fill_most", ring_size=size)


def test_a_boss_ring_in_a_groove_is_worked_out_as_measured():
    own = {"ring_from": "own", "ring_inside": 16.36, "ring_section": 2.21, "gland_depth": 1.7}
    assert RING.explain(own | {"ring_size": "-908"}).answers["squeeze"] == pytest.approx(
        23.1, abs=0.1
    )


def test_the_measures_of_the_standard_rings_are_looked_up_and_not_spelt_out_again():
    picks = [step.spec() for step in RING.steps if step.spec().get("by") == "ring_size"]
    assert len(picks) == 1


def test_a_face_ring_is_laid_in_and_its_stretch_not_judged():
    outcome = RING.explain({"use": "static_face", "seat_diameter": 19.7})
    assert "stretch" in outcome.answers
    assert "stretch" not in outcome.status


@pytest.mark.parametrize("use", USES)
def test_every_joint_is_worked_out_with_the_seat_known(use):
    inputs = {"use": use, "seat_diameter": 19.0}
    found = RING.evaluate(inputs)
    assert found.keys() == {answer.key for answer in RING.answers} - {"depth_for_squeeze"}
    assert found == pytest.approx(RING.exact(inputs), rel=1e-5)


def test_bore_and_groove_diameters_give_the_gland_depth():
    found = RING.evaluate({"gland_from": "diameters", "gland_bore": 24.6, "seat_diameter": 19.0})
    assert found["gland_depth_used"] == pytest.approx(2.8)


def test_swelling_fills_the_groove():
    dry, swollen = RING.evaluate({}), RING.evaluate({"volume_swell": 20.0})
    assert swollen["fill"] == pytest.approx(1.2 * dry["fill"])


def test_the_width_for_a_fill_gives_that_fill():
    width = RING.evaluate({"wanted_fill": 80.0})["width_for_fill"]
    assert RING.evaluate({"groove_width": width})["fill"] == pytest.approx(80.0)


def test_the_depth_for_a_squeeze_gives_that_squeeze():
    depth = RING.evaluate({"wanted_squeeze": 22.0})["depth_for_squeeze"]
    assert RING.evaluate({"gland_depth": depth})["squeeze"] == pytest.approx(22.0)


def test_a_measured_ring_of_standard_measures_is_that_ring():
    own = {
        "ring_from": "own",
        "ring_inside": 0.734 * INCH,
        "ring_section": 0.139 * INCH,
        "section_tolerance": 0.1,
    }
    measured, standard = RING.evaluate(own), RING.evaluate({"ring_size": "-210"})
    assert measured["squeeze"] == pytest.approx(standard["squeeze"])
    assert "table_width" not in measured


@settings(deadline=None)
@given(st.floats(2.6, 3.2), st.floats(0.0, 0.2), st.floats(0.0, 0.3))
def test_worst_cases_lie_around_the_middle(depth, depth_error, width_error):
    found = RING.evaluate(
        {"gland_depth": depth, "depth_tolerance": depth_error, "width_tolerance": width_error}
    )
    assert found["squeeze_least"] <= found["squeeze"] <= found["squeeze_most"]
    assert found["fill_least"] <= found["fill"] <= found["fill_most"]


@settings(deadline=None)
@given(st.floats(2.0, 5.0), st.floats(2.0, 5.0))
def test_a_deeper_gland_squeezes_less(one, other):
    shallow, deep = sorted((one, other))
    assert (
        RING.evaluate({"gland_depth": deep})["squeeze"]
        <= RING.evaluate({"gland_depth": shallow})["squeeze"]
    )


@pytest.mark.parametrize(
    ("key", "text"),
    [
        pytest.param("squeeze", "S = 1 − gland depth used ÷ W", id="MIL-G-5514G, 3.6.2"),
        pytest.param("shape", "thickness over inside diameter = W_free ÷ d", id="definition"),
        pytest.param(
            "stretch", "stretch on its seat = diameter that the ring sits on ÷ d − 1", id="ISO 3601"
        ),
    ],
)
def test_formulas_are_shown_as_the_trade_writes_them(key, text):
    assert RING.shown[key].text == text


# --- no answer, in words -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("answer", "inputs", "words"),
    [
        ("squeeze", {"seat_diameter": 15.0}, "too large for its seat"),
        ("squeeze", {"seat_diameter": 30.0}, "take a larger one"),
        ("squeeze", {"gland_depth": 1.0, "ring_size": "-425"}, "four times as thick"),
        ("squeeze", {"gland_depth": 10.0, "ring_size": "-010"}, "four times as deep"),
        (
            "gland_depth_used",
            {"gland_from": "diameters", "gland_bore": 18.0, "seat_diameter": 19.0},
            "swapped",
        ),
        (
            "squeeze",
            {"ring_from": "own", "ring_inside": 2.0, "ring_section": 8.0},
            "twice as thick",
        ),
        ("table_width", {"ring_from": "own"}, "standard sizes"),
    ],
)
def test_a_set_up_that_cannot_be_says_what_to_check(answer, inputs, words):
    assert words in told(answer, **inputs)


@pytest.mark.parametrize(
    ("field", "inside", "outside"),
    [
        ("gland_depth", 1.0, 0.99),
        ("gland_depth", 10.0, 10.1),
        ("groove_width", 1.2, 1.19),
        ("volume_swell", 100.0, 100.1),
        ("wanted_fill", 30.0, 29.9),
        ("wanted_squeeze", 40.0, 40.1),
    ],
)
def test_range_ends_are_taken_and_a_step_outside_is_refused_by_name(field, inside, outside):
    RING.evaluate({field: inside})
    with pytest.raises(InputError) as refused:
        RING.evaluate({field: outside})
    number = RING.numbers[field]
    assert number.label in str(refused.value)
    assert f"{number.low:g} to {number.high:g} {number.declared.label}" in str(refused.value)


# --- what may go on which rubber -----------------------------------------------------------------


def test_every_rubber_with_every_lubricant_has_a_verdict():
    rubbers, lubricants = (RING.choices[key].options for key in LUBRICANTS.by)
    pairs = {(rubber.key, lubricant.key) for rubber in rubbers for lubricant in lubricants}
    assert set(LUBRICANTS.cells) == pairs
    assert {cell.status for cell in LUBRICANTS.cells.values()} == {"within", "near", "beyond"}


@pytest.mark.parametrize(
    ("rubber", "lubricant", "words"),
    [
        pytest.param("nbr", "petroleum", "Yes", id="FAA handbook: petroleum with nitrile"),
        pytest.param("epdm", "petroleum", "No", id="elastomer practice, common practice"),
        pytest.param("epdm", "fuel", "No", id="Sandia report (Green): EPDM doubles in fuel"),
        pytest.param("vmq", "silicone", "No", id="silicone oil on silicone, trade press"),
        pytest.param("fkm", "engine_oil", "Yes", id="injector rings, common practice"),
        pytest.param("unknown", "petroleum", "No", id="unknown rubber: the worst that it may be"),
        pytest.param("unknown", "soap", "Yes", id="unknown rubber: soap harms none"),
    ],
)
def test_verdict_on_a_lubricant(rubber, lubricant, words):
    assert LUBRICANTS.cells[rubber, lubricant].words == words


def test_every_reason_says_where_it_is_from():
    for (rubber, _), cell in LUBRICANTS.cells.items():
        assert rubber == "unknown" or cell.why.rstrip(")").endswith(
            ("published", "common practice", "from memory", "as restated")
        )


def test_advice_is_plain_data_with_each_reason_once():
    spec = LUBRICANTS.spec()
    assert len(spec["reasons"]) == len(set(spec["reasons"]))
    for cell in spec["cells"]:
        advice = LUBRICANTS.cells[tuple(cell["at"])]
        assert (cell["words"], cell["status"]) == (advice.words, advice.status)
        assert spec["reasons"][cell["why"]] == advice.why


def test_fitting_is_a_short_list_that_begins_with_the_ring_and_ends_with_a_look():
    assert 5 <= len(FITTING.actions) <= 9
    assert "ring" in FITTING.actions[0]
    assert "look" in FITTING.actions[-1]
    assert "dry ring" in FITTING.note
