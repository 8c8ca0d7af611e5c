"""What "How this is worked out" shows is what is worked out: formulas give their answers."""

from __future__ import annotations

import ast
import math
import re

import pytest

import calc
from site_src.lookups import all_lookups
from site_src.model.formulas import formulas
from site_src.model.lookup import Lookup

LOOKUPS = pytest.mark.parametrize("lookup", all_lookups(), ids=lambda each: each.key)

_PYTHON = {"×": "*", "÷": "/", "−": "-", "√": "_root", " = ": "=="}
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻·", "0123456789-.")


def value(text: str, symbols: dict[str, float]) -> float:
    """Work out a filled formula by its text alone, in SI."""
    for sign, python in _PYTHON.items():
        text = text.replace(sign, python)
    text = re.sub(r"([⁰¹²³⁴⁵⁶⁷⁸⁹⁻·]+)", lambda found: "**" + found[1].translate(_RAISED), text)
    text = re.sub(r"(least|greatest) of \(", r"_\1(", text)
    text = re.sub(r"\|([^|]*)\|", r"abs(\1)", text)
    text = re.sub(r"\{(\w+)\}", lambda found: repr(symbols[found[1]]), text)
    text = re.sub(r"(?<=\d)π", "*π", text)
    names = {"π": math.pi, "_root": lambda x: x**0.5, "_least": min, "_greatest": max}
    return float(eval(compile(ast.parse(text, mode="eval"), "", "eval"), {}, names))


def arithmetic(filled: str) -> bool:
    """Say whether a formula is arithmetic only, not a look-up or a choice in words."""
    bare = re.sub(r"\{\w+\}|least of|greatest of|π", "", filled)
    return bool(filled) and not re.search(r"[A-Za-z]", bare)


@LOOKUPS
def test_shown_formulas_give_their_answers(lookup: Lookup) -> None:
    symbols = lookup.explain({}).symbols
    checked = 0
    for key, formula in lookup.shown.items():
        filled, _, result = formula.filled.rpartition("= ")
        needed = set(re.findall(r"\{(\w+)\}", filled))
        assert result == f"{{{key}}}"
        if arithmetic(filled) and needed <= symbols.keys() and key in symbols:
            # Constants are shown with four digits.
            assert value(filled, symbols) == pytest.approx(symbols[key], rel=1e-3, abs=1e-12), key
            checked += 1
    assert checked > 0


@LOOKUPS
def test_every_function_named_is_of_calc_and_says_where_it_is_from(lookup: Lookup) -> None:
    named = {source for formula in lookup.shown.values() for source in formula.sources}
    assert named
    for source in named:
        assert source.name.startswith(f"{calc.__name__}.")
        assert source.text, source.name


@LOOKUPS
def test_every_value_worked_out_is_an_answer_a_working_or_judged_against(lookup: Lookup) -> None:
    shown = {each.key for each in (*lookup.answers, *lookup.workings)}
    bands = [answer.band for answer in lookup.answers if answer.band]
    judged = {end for band in bands for end in (band.limit, band.near) if isinstance(end, str)}
    entered = {field.key for field in lookup.fields}
    assert shown <= set(lookup.written.values)
    assert set(lookup.written.values) - shown - judged - entered == set()
    assert judged <= set(lookup.written.values) | entered


def test_a_formula_in_the_trades_form_is_the_one_that_is_evaluated() -> None:
    # T = K F d, the short form of the torque (Shigley, screws and fasteners).
    torque = next(each for each in all_lookups() if each.key == "torque")
    symbols = torque.explain({}).symbols
    short = formulas(torque.fields, (torque.answer("short_torque"),), torque.written)
    assert "short_torque" in short
    factor = symbols["short_torque"] / (symbols["clamp_load"] * symbols["diameter"])
    assert factor == pytest.approx(0.2, rel=1e-12)


def test_the_evaluation_of_formula_texts_can_fail() -> None:
    assert value("2 × ({a} − 1)² ÷ √({b})", {"a": 3.0, "b": 4.0}) == 4.0
    assert value("least of ({a}, {b})", {"a": 3.0, "b": 4.0}) == 3.0
    assert value("|{a} − {b}|", {"a": 3.0, "b": 4.0}) == 1.0
