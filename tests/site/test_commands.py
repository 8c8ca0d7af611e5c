"""The two commands: their first part is small and needs nothing; figures say what was built."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
import tomllib
from importlib import metadata
from pathlib import Path
from typing import Any

import pytest
from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import build
from site_src.places import LOCKS
from site_src.publish.report import report
from tests.conftest import ROOT


def test_the_first_part_uses_the_standard_library_alone_and_stays_small() -> None:
    text = (ROOT / "build.py").read_text(encoding="utf-8")
    assert len(text.splitlines()) < 65
    names = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module.split(".")[0])
    assert names - {"site_src"} <= sys.stdlib_module_names


@pytest.mark.parametrize(
    ("command", "lock", "kept"),
    [("serve", "run.txt", ["run.txt"]), ("test", "test.txt", ["run.txt", "test.txt"])],
)
def test_it_installs_exactly_the_list_that_the_command_needs_and_only_once(
    command: str, lock: str, kept: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    steps: list[tuple[str, ...]] = []
    python = tmp_path / "python"
    python.touch()
    monkeypatch.setattr(build, "VENV", tmp_path)
    monkeypatch.setattr(build, "PYTHON", python)
    monkeypatch.setattr(sys, "prefix", str(tmp_path))
    monkeypatch.setattr(sys, "argv", ["build.py", command])
    monkeypatch.setattr(build, "_run", lambda _, *step: steps.append(step))
    monkeypatch.setattr("site_src.commands.main", lambda _: 0)
    assert build.main() == build.main() == 0
    assert [Path(step[-1]).name for step in steps] == [lock]
    assert {"--require-hashes", "--no-deps"} <= set(steps[0])
    assert sorted(path.name for path in tmp_path.glob("*.txt")) == kept
    # A list that was renewed since is installed again.
    (tmp_path / lock).write_text("numpy==1.0\n", encoding="utf-8")
    build.main()
    assert len(steps) == 2


def test_a_list_that_fails_to_install_is_not_taken_for_installed(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(build, "VENV", tmp_path)
    monkeypatch.setattr(build, "PYTHON", Path(sys.executable))
    lock = tmp_path / "lock" / "run.txt"
    lock.parent.mkdir()
    lock.write_text(f"pytest==0.0.0 --hash=sha256:{'0' * 64}\n", encoding="utf-8")
    monkeypatch.setattr(build, "RUN", lock)
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    with pytest.raises(SystemExit, match="That failed"):
        build.install(lock)
    assert not build.installed(lock)


def locked(name: str) -> dict[str, list[tuple[str, str]]]:
    """Return a list's packages: version and marker, as often as the package is listed."""
    found: dict[str, list[tuple[str, str]]] = {}
    text = (LOCKS / name).read_text(encoding="utf-8").replace("\\\n", " ")
    for line in text.splitlines():
        wanted, *hashes = line.split(" --hash=")
        assert hashes, line
        assert all(re.fullmatch(r"\s*sha256:[0-9a-f]{64}\s*", each) for each in hashes), line
        pinned, _, marker = wanted.partition(";")
        package, _, version = pinned.strip().partition("==")
        assert version, line
        found.setdefault(package, []).append((version, marker.strip()))
    return found


def test_the_lists_hold_what_the_project_asks_for_and_the_shorter_is_part_of_the_longer() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    run, test = locked("run.txt"), locked("test.txt")
    for asked, held in (
        (project["dependencies"], run),
        (project["optional-dependencies"]["test"], test),
    ):
        for each in map(Requirement, asked):
            versions = [version for version, _ in held[canonicalize_name(each.name)]]
            assert all(each.specifier.contains(version) for version in versions), each
    assert {name: test[name] for name in run} == run


def test_this_environment_holds_what_the_longer_list_says() -> None:
    for package, entries in locked("test.txt").items():
        for version, marker in entries:
            if not marker or Marker(marker).evaluate():
                assert metadata.version(package) == version, package


def test_npm_s_list_holds_what_is_asked_for_with_hashes_and_names_nobody() -> None:
    asked = json.loads((LOCKS / "package.json").read_text(encoding="utf-8"))
    text = (LOCKS / "package-lock.json").read_text(encoding="utf-8")
    packages = json.loads(text)["packages"]
    assert packages.pop("")["devDependencies"] == asked["devDependencies"]
    assert all(each["integrity"].startswith("sha512-") for each in packages.values())
    assert "http" not in text


def test_a_wrong_command_is_answered_with_those_there_are() -> None:
    wrong = [sys.executable, "build.py", "bild"]
    found = subprocess.run(wrong, cwd=ROOT, capture_output=True, text=True, check=False)
    assert found.returncode == 2
    for command in ("serve", "build", "test", "lock"):
        assert command in found.stderr


def test_ci_runs_the_command_that_a_person_runs() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "set -euo pipefail" in script
    assert script.splitlines()[-1] == "python3 build.py test"


def test_the_report_states_size_and_error_of_everything(
    site: Path, catalogue: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    # Which size is stated doesn't matter here, and to pack that closely takes seconds.
    monkeypatch.setattr("brotli.compress", lambda content, **_: content[::4])
    text = report(site)
    for lookup in catalogue["lookups"]:
        for answer in lookup["answers"]:
            assert f"{lookup['key']}: {answer['key']}" in text
    assert f"version {catalogue['version']}" in text
    assert "over the wire with brotli" in text
