"""The two commands: their first part is small and needs nothing; figures say what was built."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import build
from site_src.publish.report import report
from tests.conftest import ROOT


def test_the_first_part_uses_the_standard_library_alone_and_stays_small() -> None:
    text = (ROOT / "build.py").read_text(encoding="utf-8")
    assert len(text.splitlines()) < 60
    names = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module.split(".")[0])
    assert names - {"site_src"} <= sys.stdlib_module_names


def test_a_python_without_the_packages_is_told_from_one_with_them() -> None:
    assert not build.missing("test")
    bare = [sys.executable, "-S", "-c", "import build; print(build.missing(''))"]
    found = subprocess.run(bare, cwd=ROOT, capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "True"


@pytest.mark.parametrize(("command", "what"), [("serve", f"{ROOT}"), ("test", f"{ROOT}[test]")])
def test_in_an_empty_environment_it_installs_what_the_command_needs(
    command: str, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[tuple[str, ...]] = []
    monkeypatch.setattr(sys, "prefix", str(build.VENV))
    monkeypatch.setattr(sys, "argv", ["build.py", command])
    monkeypatch.setattr(build, "missing", lambda _: True)
    monkeypatch.setattr(build, "_run", lambda _, *step: steps.append(step))
    monkeypatch.setattr("site_src.commands.main", lambda _: 0)
    assert build.main() == 0
    assert [step[-1] for step in steps] == [what]


def test_a_wrong_command_is_answered_with_those_there_are() -> None:
    wrong = [sys.executable, "build.py", "bild"]
    found = subprocess.run(wrong, cwd=ROOT, capture_output=True, text=True, check=False)
    assert found.returncode == 2
    for command in ("serve", "build", "test"):
        assert command in found.stderr


def test_ci_runs_the_command_that_a_person_runs() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "set -euo pipefail" in script
    assert script.splitlines()[-1] == "python3 build.py test"


def test_the_report_states_size_and_error_of_everything(
    site: Path, catalogue: dict[str, Any]
) -> None:
    text = report(site)
    for lookup in catalogue["lookups"]:
        for answer in lookup["answers"]:
            assert f"{lookup['key']}: {answer['key']}" in text
    assert f"version {catalogue['version']}" in text
    assert "over the wire with brotli" in text
