"""Knock: both customs of effective compression, and a flag that no blank entry can raise."""

import pytest

from site_src.lookups import lookup
from site_src.lookups.knock import LOOKUP

PSI = 6.894757293

ENTERED = {"compression_ratio": 9.5, "octane": 98.0, "boost": 70.0, "charge_temperature": 50.0}


def test_it_is_registered():
    assert lookup("knock") is LOOKUP


# --- published figures through the page ----------------------------------------------------------


def test_squeeze_of_ten_to_one_at_pressure_ratio_1_8_closed_forms():
    found = LOOKUP.evaluate(
        {
            "compression_ratio": 10.0,
            "air_from": "barometer",
            "barometer": 100.0,
            "boost": 80.0,
            "charge_temperature": 46.85,
        }
    )
    assert found["squeeze"] == pytest.approx(18.0, abs=1e-9)
    assert found["effective_compression"] == pytest.approx(10.0 * 1.8 ** (1 / 1.4), abs=1e-3)
    # Heywood, ch. 9: T₂ = T₁·r^0.3.
    assert found["end_temperature"] + 273.15 == pytest.approx(320.0 * 10.0**0.3, abs=0.01)


def test_the_trade_s_chart_has_fifteen_to_one_for_nine_to_one_and_ten_pounds_common_practice():
    found = LOOKUP.evaluate({"compression_ratio": 9.0, "boost": 10.0 * PSI})
    assert found["squeeze"] == pytest.approx(15.1, abs=0.05)


def test_seven_degrees_cost_one_octane_number_russ_sae_960497():
    cool = LOOKUP.evaluate(ENTERED)
    warm = LOOKUP.evaluate(ENTERED | {"charge_temperature": 57.0, "octane": 99.0})
    assert warm["line"] == pytest.approx(cool["line"], abs=1e-6)


# --- what it means in the bay --------------------------------------------------------------------


def test_nothing_is_judged_until_compression_and_octane_are_entered():
    assert LOOKUP.explain({}).answers == {}
    for lacking in ("compression_ratio", "octane"):
        outcome = LOOKUP.explain(ENTERED | {lacking: None})
        assert "squeeze" not in outcome.status
    assert LOOKUP.explain(ENTERED).status["squeeze"] == "near"


@pytest.mark.parametrize(
    ("given", "status"),
    [
        pytest.param({"compression_ratio": 9.5, "boost": 0.0, "octane": 95.0}, "within", id="own"),
        pytest.param({"compression_ratio": 8.5, "boost": 55.0}, "within", id="8.5 at 8 psi"),
        pytest.param({"compression_ratio": 9.5, "boost": 79.3}, "near", id="9.5 at 11.5 psi"),
        pytest.param({"compression_ratio": 11.0, "boost": 79.3}, "beyond", id="11 at 11.5 psi"),
        pytest.param({"octane": 91.0, "boost": 79.3}, "beyond", id="regular fuel"),
    ],
)
def test_set_ups_of_the_trade_common_practice(given, status):
    assert LOOKUP.explain(ENTERED | given).status["squeeze"] == status


def test_a_hotter_charge_and_less_octane_lower_the_line():
    usual = LOOKUP.evaluate(ENTERED)
    assert LOOKUP.evaluate(ENTERED | {"charge_temperature": 80.0})["line"] < usual["line"] - 1.0
    assert LOOKUP.evaluate(ENTERED | {"octane": 95.0})["line"] < usual["line"] - 1.0


def test_octane_from_either_kind_of_pump():
    aki = LOOKUP.evaluate(ENTERED | {"octane_scale": "aki", "octane": 93.0})
    ron = LOOKUP.evaluate(ENTERED | {"octane": 97.5})
    assert aki == pytest.approx(ron)


def test_the_boost_at_the_line_is_at_the_line():
    boost = LOOKUP.evaluate(ENTERED)["boost_at_line"]
    found = LOOKUP.evaluate(ENTERED | {"boost": boost})
    assert found["squeeze"] == pytest.approx(found["line"], rel=1e-6)


def test_compression_past_the_line_without_boost_says_so():
    inputs = ENTERED | {"compression_ratio": 14.0, "octane": 85.0, "charge_temperature": 100.0}
    fault = LOOKUP.explain(inputs).faults["boost_at_line"]
    assert "Without any boost" in LOOKUP.words(fault, inputs)


def test_a_hotter_charge_than_the_trusted_set_up_is_beyond_it():
    trusted = ENTERED | {"known_compression_ratio": 9.5, "known_charge_temperature": 55.0}
    hotter = LOOKUP.explain(trusted | {"charge_temperature": 70.0})
    cooler = LOOKUP.explain(trusted | {"charge_temperature": 40.0})
    assert hotter.status["end_temperature"] == "beyond"
    assert cooler.status["end_temperature"] == "within"


def test_it_is_for_the_calibrator_and_gives_no_spark_figure():
    assert any("No spark advice" in caution for caution in LOOKUP.cautions)
    band = LOOKUP.answer("squeeze").band
    assert band is not None
    for words in (band.within, band.near_words, band.beyond):
        assert "calibrator" in words
    labels = " ".join(answer.label.lower() for answer in LOOKUP.answers)
    assert "advance" not in labels
    assert "spark" not in labels


def test_the_band_is_marked_common_practice():
    assert "Common practice" in LOOKUP.answer("line").note
    assert any("common practice" in source for source in LOOKUP.sources)
