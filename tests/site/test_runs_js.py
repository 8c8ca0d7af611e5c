"""The phone's reader of logs: what loggers write, what is no log; and a run, bit for bit."""

from __future__ import annotations

import base64
import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from site_src.lookups import reading, run_causes
from site_src.model.quantities import all_quantities
from site_src.pages.first_runs import CHANNELS
from site_src.places import SITE_SRC
from site_src.publish.catalogue import table_bytes, table_entry
from tests.lookups.made_runs import ENTRIES, NAMES, Run, drive, faulty, truck_of
from tests.node import needs_node, told_by

HERE = Path(__file__).parent
SCRIPTS = SITE_SRC / "static" / "js"
AMBIENT = 101_325.0

pytestmark = needs_node


def run_node(job: dict[str, Any], folder: Path) -> list[Any]:
    path = folder / "job.json"
    path.write_text(json.dumps(job, allow_nan=False), encoding="utf-8")
    results: list[Any] = told_by(HERE / "runs_checks.mjs", SCRIPTS, path)
    return results


def read_logs(folder: Path, *logs: bytes, mapping: dict[str, Any] | None = None) -> list[Any]:
    files = [{"bytes": base64.b64encode(b).decode(), "mapping": mapping or {}} for b in logs]
    return run_node({"logs": files, "channels": CHANNELS, "ambient": AMBIENT}, folder)


# --- what a logger writes ------------------------------------------------------------------------


def pull(rows: int = 240) -> list[dict[str, float]]:
    """Idle, a pull from 2,000 to 6,500 rpm with 60 kPa, and coasting down; engine off at the start.

    Boost is 40 + rpm/325, so that each bin's median is known.
    """
    found = [
        {"t": 0.02 * n, "rpm": 0.0, "boost": 0.4, "tps": 0.0, "iat": 30.0, "duty": 0.0}
        for n in range(10)
    ]
    for n in range(rows):
        rpm = 2000 + 4500 * n / (rows - 1)
        row = {"rpm": rpm, "boost": 40 + rpm / 325, "tps": 99.0, "iat": 40 + n / 20, "duty": 60.0}
        found.append({"t": 0.02 * len(found), **row})
    for n in range(60):
        row = {"rpm": 6500 - 60 * n, "boost": -40.0, "tps": 2.0, "iat": 50.0, "duty": 3.0}
        found.append({"t": 0.02 * len(found), **row})
    return found


def written(
    delimiter: str = ",",
    *,
    comma: bool = False,
    units: str = "in head",
    before: str = "",
    line_end: str = "\n",
    quoted: bool = False,
) -> str:
    """The pull as a log's text."""
    names = ["Time", "Engine RPM", "Boost", "TPS", "Charge Temp", "Inj Duty"]
    named = ["s", "rpm", "kPa", "%", "°C", "%"]
    if units == "in head":
        heads = [[f"{name} [{unit}]" for name, unit in zip(names, named, strict=True)]]
    elif units == "below":
        heads = [names, named]
    else:
        heads = [named, names]

    def cell(value: object) -> str:
        text = f"{value:.3f}" if isinstance(value, float) else str(value)
        text = text.replace(".", ",") if comma and isinstance(value, float) else text
        return f'"{text}"' if quoted else text

    lines = [delimiter.join(cell(each) for each in row) for row in heads]
    lines += [delimiter.join(cell(float(v)) for v in row.values()) for row in pull()]
    return before + line_end.join(lines) + line_end


WAYS: dict[str, bytes] = {
    "comma": written().encode(),
    "semicolon and decimal comma": written(";", comma=True).encode(),
    "tab, units below": written("\t", units="below").encode(),
    "units above": written(";", units="above").encode(),
    "quoted, decimal comma": written(",", comma=True, quoted=True).encode(),
    "old line ends": written(line_end="\r").encode(),
    "windows line ends": written(line_end="\r\n").encode(),
    "comments first": written(before="# a log\n# of a pull\n\n").encode(),
    "words first": written(before="Logged by nobody\nVersion,3\n").encode(),
    "mark and utf-8": written().encode("utf-8-sig"),
    "utf-16 with mark": written().encode("utf-16"),
    "utf-16 without mark": written().encode("utf-16-le"),
    "latin-1": written().encode("latin-1"),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_log_is_read_however_it_is_written(way: str, tmp_path: Path) -> None:
    (found,) = read_logs(tmp_path, WAYS[way])
    assert found.get("refused") is None
    assert (found["count"], len(found["heads"])) == (310, 6)
    guessed = {key: each["column"] for key, each in found["guessed"].items() if each["column"] >= 0}
    assert guessed == {
        "run_speed": 1,
        "run_boost": 2,
        "run_throttle": 3,
        "run_charge": 4,
        "run_duty": 5,
    }
    assert found["guessed"]["run_charge"]["unit"] == "C"
    assert found["rest"] == pytest.approx(400.0)
    assert found["counts"]["pulls"] == 1


def test_bins_are_medians_by_engine_speed_and_every_row_is_accounted_for(tmp_path: Path) -> None:
    (found,) = read_logs(tmp_path, WAYS["comma"])
    counts = found["counts"]
    parts = [counts[key] for key in ("blank", "part", "falling", "few", "used")]
    assert sum(parts) == counts["rows"] == 310
    assert 4 <= len(found["bins"]) <= 12
    for each in found["bins"]:
        rpm = 60 * each["run_speed"]
        assert each["run_boost"] == pytest.approx(1e3 * (40 + rpm / 325), abs=2.0)
    # The median of a bin is numpy's of its rows.
    rows = np.array([[row["rpm"], row["boost"]] for row in pull() if row["tps"] > 90][14:])
    inside = rows[(rows[:, 0] >= 3000) & (rows[:, 0] < 3500)]
    bin_there = next(b for b in found["bins"] if 3000 <= 60 * b["run_speed"] < 3500)
    assert bin_there["rows"] == len(inside)
    assert 60 * bin_there["run_speed"] == pytest.approx(np.median(inside[:, 0]), abs=0.01)


def test_absolute_pressure_and_inch_units_are_told_by_name_and_range(tmp_path: Path) -> None:
    lines = ["RPM,MAP (psi abs),Charge Air Temp (°F),Throttle"]
    for n in range(100):
        lines.append(f"{2000 + 40 * n},{14.7 + 9 + n / 50:.2f},{110 + n / 5:.1f},0.99")
    (found,) = read_logs(tmp_path, "\n".join(lines).encode())
    units = {key: each["unit"] for key, each in found["guessed"].items() if each["column"] >= 0}
    assert units == {
        "run_speed": "rpm",
        "run_boost": "psiabs",
        "run_charge": "F",
        "run_throttle": "",
    }
    assert found["bins"][0]["run_boost"] == pytest.approx(9.1 * 6894.76, rel=0.03)
    assert found["bins"][0]["run_charge"] == pytest.approx(317.0, abs=1.5)


def test_missing_cells_and_clock_times_are_no_numbers_that_count(tmp_path: Path) -> None:
    lines = ["Time,RPM,Boost (kPa)"]
    for n in range(100):
        boost = "" if n % 10 == 3 else f"{60 + n / 50:.2f}"
        lines.append(f"12:01:{n % 60:02d}.5,{2000 + 40 * n},{boost}")
    lines.insert(50, "--- marker ---")
    (found,) = read_logs(tmp_path, "\n".join(lines).encode())
    assert found["counts"]["blank"] == 10
    assert found["thrown"] == 1
    assert found["columns"][0][0] == 12 * 3600 + 60 + 0.5
    assert len(found["bins"]) >= 4


HOSTILE: dict[str, bytes] = {
    "empty": b"",
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40,
    "noughts": bytes(5000),
    "words": b"This is a letter.\nIt has no numbers.\nNone at all.\n",
    "one endless line": b"1," * 200_000,
    "markup": b"<html><body>" + b"<p>hello</p>\n" * 100,
    "one column": b"\n".join(b"%d" % n for n in range(100)),
    "braces": json.dumps({"a": [1, 2, 3]}).encode(),
    "two rows": b"rpm,boost\n1,2\n3,4\n",
}


@pytest.mark.parametrize("what", HOSTILE)
def test_what_is_no_log_is_refused_in_words(what: str, tmp_path: Path) -> None:
    (found,) = read_logs(tmp_path, HOSTILE[what])
    assert found["kind"] == "LogError"
    assert len(found["refused"].split()) > 3


def test_a_file_of_fifty_megabytes_is_refused_unread(tmp_path: Path) -> None:
    # Never in memory as text: only its size is looked at.
    text = (SCRIPTS / "runs" / "read_log.js").read_text(encoding="utf-8")
    assert "file.size > MOST_BYTES" in text


# --- a run, bit for bit --------------------------------------------------------------------------


def bins_of(run: Run) -> list[dict[str, float]]:
    return [
        {"rows": 5.0, "run_speed": float(speed) / 60.0}
        | {key: float(run.read[key][n]) for key in ENTRIES}
        for n, speed in enumerate(run.speeds)
    ]


def python_says(bins: list[dict[str, float]], rest: float | None) -> Any:
    """The same way in Python: declared units in, symbols on, causes out."""
    numbers = reading.LOOKUP.numbers
    inputs = [
        {key: numbers[key].declared.from_si(value) for key, value in each.items() if key != "rows"}
        for each in bins
    ]
    outcomes = reading.LOOKUP.explain_many(inputs)
    rows = [{name: each.symbols.get(name) for name in NAMES} for each in outcomes]
    at_rest = None if rest is None else run_causes.LOOKUP.numbers["run_rest"].declared.from_si(rest)
    causes = run_causes.LOOKUP.explain({"run_rest": at_rest, "run_rows": rows})
    return {"answers": causes.answers, "readings": [each.answers for each in outcomes]}


def test_a_run_says_the_same_in_node_and_python_to_the_last_bit(tmp_path: Path) -> None:
    runs = []
    for seed, fault in enumerate(("slip", "leak", "bypass", "inlet", "cooler", "pulley", "gauge")):
        rng = np.random.default_rng([21, seed])
        run = drive(faulty(truck_of(rng), fault, rng), rng)
        runs.append({"bins": bins_of(run), "rest": run.rest if seed % 2 else None})
    both = (reading.LOOKUP, run_causes.LOOKUP)
    tables = {table.spec.name: table for each in both for table in each.compiled}
    quantities = {
        each.key: {"units": [asdict(unit) for unit in each.units], "si": each.si}
        for each in all_quantities()
    }
    job = {
        "runs": runs,
        "lookups": {each.key: each.spec() for each in both},
        "quantities": quantities,
        "tables": [
            (table_entry(table), base64.b64encode(table_bytes(table)).decode())
            for table in tables.values()
        ],
    }
    found = run_node(job, tmp_path)
    expected = [python_says(each["bins"], each["rest"]) for each in runs]
    assert json.loads(json.dumps(expected)) == found
    assert all(len(each["readings"]) == 9 for each in found)
