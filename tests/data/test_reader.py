"""The one reader of TOML: what it makes of a row, and how it refuses one that is wrong."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from site_src.data import belts, coolant, fasteners, fuels, hoses, pipe_fittings, seals, wires
from site_src.data.reader import MARKS, DataError, Table, read
from tests.conftest import ROOT
from tests.data.shop import SHOP, read_shop

DATA = ROOT / "site_src" / "data"

READERS: dict[str, tuple[ModuleType, Callable[[], object]]] = {
    "belts.toml": (belts, belts.sections),
    "coolant.toml": (coolant, coolant.mixtures),
    "fastener_grades.toml": (fasteners, fasteners.all_grades),
    "friction.toml": (fasteners, fasteners.all_friction),
    "fuels.toml": (fuels, fuels.fuels),
    "heads.toml": (fasteners, fasteners.all_heads),
    "hoses.toml": (hoses, hoses.hose_kinds),
    "lubricants.toml": (seals, seals.all_advice),
    "o_rings.toml": (seals, seals.dash_sizes),
    "pipe_fittings.toml": (pipe_fittings, pipe_fittings.pipe_fittings),
    "tapped_materials.toml": (fasteners, fasteners.all_tapped_materials),
    "threads.toml": (fasteners, fasteners.all_threads),
    "wires.toml": (wires, wires.wires),
    "wrenches.toml": (fasteners, fasteners.all_wrench_kinds),
}


@pytest.fixture
def refusal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str, str], str]:
    """What is said of a data file or the build file in which a text has been replaced once."""

    def refuse(name: str, old: str, new: str) -> str:
        whole = (SHOP if name == "shop.toml" else DATA / name).read_text(encoding="utf-8")
        assert old in whole
        path = tmp_path / name
        path.write_text(whole.replace(old, new, 1), encoding="utf-8")
        with pytest.raises(DataError) as caught:
            read_shop(path) if name == "shop.toml" else read_again(path, monkeypatch)
        said = str(caught.value)
        assert said.startswith(str(path))
        return said.removeprefix(f"{path.parent}/")

    return refuse


def read_again(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the module of a data file read a copy of it."""
    module, entries = READERS[path.name]
    for name, value in vars(module).items():
        if hasattr(value, "cache_clear"):
            monkeypatch.setattr(module, name, value.__wrapped__)
    monkeypatch.setattr(
        module,
        "read",
        lambda known, build: read(path if known.name == path.name else known, build),
    )
    getattr(entries, "__wrapped__", entries)()


# --- what it makes of a row -----------------------------------------------------------------------


def parsed(folder: Path, text: str, build: Callable[[Table], Any]) -> Any:
    path = folder / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return read(path, build)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("width_mm = 12", "length", 0.012),
        ("width_in = 0.5", "length", 0.0127),
        ("width_um = 4", "small_length", 4e-6),
        ("width = 0.25", "ratio", 0.25),
        ("width_pct = 25", "percent", 0.25),
    ],
)
def test_the_unit_is_named_in_the_key(
    text: str, kind: str, expected: float, tmp_path: Path
) -> None:
    assert parsed(tmp_path, text, lambda file: file.measure("width", kind, (0, 100))) == expected


def test_a_row_has_the_source_and_mark_of_the_table_around_it_unless_it_has_its_own(
    tmp_path: Path,
) -> None:
    text = """
        source = "the list"
        mark = "from memory"
        columns = ["size", "mark", "source"]
        rows = [[1], [2, "published"], [3, "as restated", "another list"]]
    """

    def row(table: Table) -> tuple[int, str, str]:
        return table.whole("size", 1, 9), table.source(), table.mark()

    assert parsed(tmp_path, text, lambda file: file.cells(row)) == (
        (1, "the list", "from memory"),
        (2, "the list", "published"),
        (3, "another list", "as restated"),
    )


def test_line_breaks_in_a_text_become_spaces(tmp_path: Path) -> None:
    text = 'note = """\none\n  two"""'
    assert parsed(tmp_path, text, lambda file: file.text("note")) == "one two"


# --- how it refuses -------------------------------------------------------------------------------

ANY_MARK = " or ".join(f'"{mark}"' for mark in MARKS)


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        pytest.param(
            "belts.toml",
            "value_mm = 2.34",
            "value_mm = 2340",
            "belts.toml, line 17: section 2.rib_pitch.value_mm is 2340, allowed is a number from "
            "1 to 20 mm. Correct it, or its unit: the key says mm.",
            id="data, a thousand times too much",
        ),
        pytest.param(
            "shop.toml",
            "displacement_L = 5.6",
            "displacement_L = 5600",
            "shop.toml, line 8: engine.displacement_L is 5600, allowed is a number from 0.5 to "
            "20 L. Correct it, or its unit: the key says L.",
            id="build, cubic centimetres for litres",
        ),
        pytest.param(
            "hoses.toml",
            "[0.1875, 0.52, 3.00, 4]",
            "[0.1875, 520, 3.00, 4]",
            "hoses.toml, line 17: kind 1.rows 2.outside_diameter_in is 520, allowed is a number "
            "from 0.15748 to 11.811 in. Correct it, or its unit: the key says in.",
            id="data, in inches and in a row of cells",
        ),
        pytest.param(
            "fuels.toml",
            "ethanol = 0.85",
            "ethanol = 85",
            "fuels.toml, line 55: blend 3.ethanol is 85, allowed is a number from 0 to 1. "
            "Correct it.",
            id="data, per cent for a share",
        ),
        pytest.param(
            "belts.toml",
            "value_mm = 2.34",
            "value_cm = 0.234",
            "belts.toml, line 17: section 2.rib_pitch.value_mm or value_in is missing, allowed is "
            "a number from 1 to 20 mm. Add it. Is it value_cm, misspelt?",
            id="data, a unit that isn't there",
        ),
        pytest.param(
            "shop.toml",
            "clearance_mm = 4",
            "clearence_mm = 4",
            "shop.toml, line 17: belt.clearance_mm or clearance_in is missing, allowed is a number "
            "from 0 to 50 mm. Add it. Is it clearence_mm, misspelt?",
            id="build, misspelt and needed",
        ),
        pytest.param(
            "belts.toml",
            "value_mm = 2.34",
            "value_mm = 2.34, value_in = 0.092",
            "belts.toml, line 17: section 2.rib_pitch.value_in is a second value, allowed is one "
            "of them. Delete it, or value_mm.",
            id="data, in two units",
        ),
        pytest.param(
            "threads.toml",
            "threads_per_inch = 20",
            "threads_per_inch = 20.5",
            "threads.toml, line 335: thread 19.threads_per_inch is 20.5, allowed is a whole number "
            "from 4 to 80. Correct it.",
            id="data, not whole",
        ),
        pytest.param(
            "shop.toml",
            "ribs = 8",
            "ribs = 48",
            "shop.toml, line 19: belt.ribs is 48, allowed is a whole number from 1 to 40. "
            "Correct it.",
            id="build, too many",
        ),
        pytest.param(
            "o_rings.toml",
            "squeeze = [0.20, 0.30]",
            "squeeze = [0.20]",
            "o_rings.toml, line 167: use 1.squeeze is [0.2], allowed is a list of 2 numbers from "
            "0.01 to 0.5. Write it as [1, 2].",
            id="data, one of two numbers",
        ),
        pytest.param(
            "shop.toml",
            "[1195, 1220",
            "[1195, 12200",
            "shop.toml, line 22: belt.stock_effective_lengths_mm is [1195, 12200, 1245, 1255, "
            "1270, 1295], allowed is a list of one or more numbers from 300 to 5000 mm. Correct "
            "it, or its unit: the key says mm.",
            id="build, one number of a list",
        ),
        pytest.param(
            "belts.toml",
            'mark = "as restated"',
            'mark = "hearsay"',
            f'belts.toml, line 9: section 1.rib_pitch.mark is "hearsay", allowed is {ANY_MARK}. '
            "Write one of these, letter for letter.",
            id="data, a mark of no meaning",
        ),
        pytest.param(
            "hoses.toml",
            '"as restated"],',
            '"seen"],',
            f'hoses.toml, line 39: kind 2.rows 1.mark is "seen", allowed is {ANY_MARK}. '
            "Write one of these, letter for letter.",
            id="data, a mark in a row of cells",
        ),
        pytest.param(
            "shop.toml",
            'travel = "clockwise"',
            'travel = "left"',
            'shop.toml, line 20: belt.travel is "left", allowed is "clockwise" or '
            '"counter-clockwise". Write one of these, letter for letter.',
            id="build, another word",
        ),
        pytest.param(
            "fastener_grades.toml",
            'mark = "as restated"\n',
            "",
            f"fastener_grades.toml, line 6: grade 1.mark is missing, allowed is {ANY_MARK}. "
            "Add it.",
            id="data, no mark",
        ),
        pytest.param(
            "fuels.toml",
            'source = "definition"',
            'source = " "',
            'fuels.toml, line 39: blend 1.source is " ", allowed is some text. '
            'Write it in "quotes".',
            id="data, an empty source",
        ),
        pytest.param(
            "lubricants.toml",
            '    "Check the ring',
            '    3, "Check the ring',
            'lubricants.toml, line 12: fitting.steps is [3, "Check the ring: right size, right '
            'rubber, no cut, fl..., allowed is a list of texts. Write it as ["one", "two"].',
            id="data, a number among texts",
        ),
        pytest.param(
            "wrenches.toml",
            "deviation_small = 0.06",
            "deviation_smal = 0.06",
            "wrenches.toml, line 6: wrench 1.deviation_small is missing, allowed is a number from "
            "0.001 to 0.5. Add it. Is it deviation_smal, misspelt?",
            id="data, misspelt and needed",
        ),
        pytest.param(
            "friction.toml",
            'note = "Plain or black steel',
            'notes = "Plain or black steel',
            "friction.toml, line 16: friction 1.notes is unknown, allowed is high, key, label, "
            "low, mark, nominal, note, source. Delete it or correct it. Is it note, misspelt?",
            id="data, misspelt and not needed",
        ),
        pytest.param(
            "shop.toml",
            "gear_ratio = 1.0",
            "gear_ratio = 1.0\nboost = 11",
            "shop.toml, line 15: blower.boost is unknown, allowed is built_in_pressure_ratio, "
            "displacement_per_rev_L, displacement_per_rev_cc, displacement_per_rev_ci, "
            "gear_ratio, speed_limit_rpm. Delete it or correct it.",
            id="build, unknown key",
        ),
        pytest.param(
            "belts.toml",
            "[grip]",
            "[grips]",
            "belts.toml: grip is missing, allowed is a table [grip]. Add it. Is it grips, "
            "misspelt?",
            id="data, no table of that name",
        ),
        pytest.param(
            "shop.toml",
            "[engine]",
            "[[engine]]",
            'shop.toml, line 7: engine is [{"displacement_L": 5.6, "speed_limit_rpm": 6200}], '
            "allowed is a table [engine]. Write it in single brackets, once.",
            id="build, a list for a table",
        ),
        pytest.param(
            "tapped_materials.toml",
            "[[material]]",
            "[other]\n[[material]]",
            "tapped_materials.toml, line 5: other is unknown, allowed is clamped, material. "
            "Delete it or correct it.",
            id="data, unknown table",
        ),
        pytest.param(
            "heads.toml",
            '["M6", 8.74]',
            '["M5", 8.74]',
            'heads.toml, line 16: head 1.rows 3.nominal is "M5" for the second time, allowed is '
            "each only once. Change one of the two, or delete it.",
            id="data, twice the same size",
        ),
        pytest.param(
            "shop.toml",
            'name = "left idler"',
            'name = "crank"',
            'shop.toml, line 36: pulley 2.name is "crank" for the second time, allowed is each '
            "only once. Change one of the two, or delete it.",
            id="build, twins",
        ),
        pytest.param(
            "heads.toml",
            '["M6", 8.74]',
            '["M7", 8.74]',
            'heads.toml, line 16: head 1.rows 3.nominal is "M7", allowed is "M4" or "M5" or "M6" '
            'or "M8" or "M10" or "M12" or "M14" or "M16" or "M18". Write one of these, letter '
            "for letter.",
            id="data, a size of no thread",
        ),
        pytest.param(
            "hoses.toml",
            "[0.1875, 0.52, 3.00, 4]",
            "[0.1875, 0.52]",
            "hoses.toml, line 17: kind 1.rows 2.minimum_radius_mm or minimum_radius_in is missing, "
            "allowed is a number from 10 to 2000 mm. Add it.",
            id="data, a cell too few",
        ),
        pytest.param(
            "hoses.toml",
            "[0.1875, 0.52, 3.00, 4]",
            "[0.1875, 0.52, 3.00, 4, 5]",
            "hoses.toml, line 17: kind 1.rows 2 is [0.1875, 0.52, 3.0, 4, 5], allowed is a list of "
            "up to 4 cells: bore_in, outside_diameter_in, minimum_radius_in, dash. Compare it with "
            "its neighbours.",
            id="data, a cell too many",
        ),
        pytest.param(
            "o_rings.toml",
            "section_in = 0.070",
            "section_in = 0.071",
            "o_rings.toml, line 251: sizes 1.section is not listed, allowed is the thickness of a "
            "[[section]]. Correct it, or add that section.",
            id="data, sizes of no section",
        ),
    ],
)
def test_refused_with_file_line_key_value_what_is_allowed_and_the_way_out(
    name: str, old: str, new: str, said: str, refusal: Callable[[str, str, str], str]
) -> None:
    assert refusal(name, old, new) == said


@pytest.mark.parametrize("written", ["nan", "inf", "-inf", "true", '"2.34"', "[2.34]", "1" * 400])
def test_what_is_no_finite_number_is_refused(
    written: str, refusal: Callable[[str, str, str], str]
) -> None:
    said = refusal("belts.toml", "value_mm = 2.34", f"value_mm = {written}")
    assert "section 2.rib_pitch.value_mm is " in said
    assert "allowed is a number from 1 to 20 mm" in said


@pytest.mark.parametrize("name", READERS)
def test_every_data_file_is_refused_with_a_mark_of_no_meaning(
    name: str, refusal: Callable[[str, str, str], str]
) -> None:
    mark = re.search(r'mark = "[^"]+"', (DATA / name).read_text(encoding="utf-8"))
    assert mark
    assert 'mark is "hearsay", allowed is ' in refusal(name, mark[0], 'mark = "hearsay"')


def test_every_data_file_has_a_module_that_reads_it() -> None:
    assert sorted(READERS) == sorted(path.name for path in DATA.glob("*.toml"))


@pytest.mark.parametrize(
    ("name", "old", "new", "line"),
    [("belts.toml", "[grip]", "[grip", 49), ("shop.toml", "ribs = 8", "ribs = 8\nribs = 9", 20)],
    ids=["data, open bracket", "build, a key twice"],
)
def test_what_is_not_toml_is_refused_with_its_line(
    name: str, old: str, new: str, line: int, refusal: Callable[[str, str, str], str]
) -> None:
    said = refusal(name, old, new)
    assert said.startswith(f"{name}, line {line}: the file is not TOML (")
    assert said.endswith("Look for a quote, bracket or = that is missing, or a key given twice.")


def test_a_value_where_tables_belong_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DataError) as caught:
        parsed(tmp_path, "pulley = 5", lambda file: file.rows("pulley", lambda row: row.mark()))
    assert str(caught.value) == (
        f"{tmp_path}/shop.toml, line 1: pulley is 5, allowed is tables [[pulley]]. Write each in "
        "double brackets."
    )


def test_a_file_of_the_checkout_is_named_by_its_path_in_it() -> None:
    with pytest.raises(DataError) as caught:
        read(DATA / "gone.toml", lambda file: file.text("title"))
    assert str(caught.value) == (
        "site_src/data/gone.toml: the file is not readable (No such file or directory), allowed is "
        "a TOML file. Put it back."
    )


def test_a_file_in_another_encoding_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_bytes('title = "Kühler"'.encode("latin-1"))
    with pytest.raises(DataError, match=r"allowed is UTF-8\. Save it as UTF-8\."):
        read(path, lambda file: file.text("title"))


def test_the_commands_stop_with_the_same_words(monkeypatch: pytest.MonkeyPatch) -> None:
    from site_src import commands

    def stop(*_: object, **__: object) -> None:
        read(DATA / "gone.toml", lambda file: file.text("title"))

    monkeypatch.setattr(commands, "_build", stop)
    with pytest.raises(SystemExit, match=r"^The build stopped\. site_src/data/gone\.toml: "):
        commands.main(["build"])
