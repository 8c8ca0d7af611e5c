"""The exact versions that were tested: the command that renews the lists under locks/."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys

from site_src.places import LOCKS

_PYTHON = "3.11"
"""The oldest Python that runs this; the lists hold for it and for all later ones."""


def renew() -> int:
    """Write the lists anew with the newest versions that pyproject.toml and package.json allow.

    Returns:
        0 if all of them were written.
    """
    print("Looking for the newest versions that are allowed", flush=True)
    wanted = [
        _compile("test.txt", "--upgrade", "--extra", "test"),
        # What a phone's site is built with is what the tests were run with.
        _compile("run.txt", "--constraint", str(LOCKS / "test.txt")),
        *_npm(),
    ]
    for command in wanted:
        if code := subprocess.run(command, cwd=LOCKS, check=False).returncode:
            return code
    _leave_out_funding()
    print("Written. Now run the tests: python3 build.py test")
    return 0


def _compile(name: str, *options: str) -> list[str]:
    """Return the command that writes a list of Python packages."""
    head = [sys.executable, "-m", "uv", "pip", "compile", "--quiet", "--universal"]
    plain = ["--python-version", _PYTHON, "--generate-hashes", "--no-header", "--no-annotate"]
    return [*head, *plain, *options, "--output-file", name, str(LOCKS.parent / "pyproject.toml")]


def _npm() -> list[list[str]]:
    """Return the command that writes the list of npm packages, where npm is."""
    npm = shutil.which("npm")
    if not npm:
        print("npm is not here: what checks the scripts stays as it is.")
        return []
    # A lock that names no registry is good behind any.
    plain = ["--package-lock-only", "--omit-lockfile-registry-resolved", "--no-audit", "--silent"]
    return [[npm, "update", *plain]]


def _leave_out_funding() -> None:
    """Take whom to pay out of npm's list: a lock is no place for names of people."""
    path = LOCKS / "package-lock.json"
    lock = json.loads(path.read_text(encoding="utf-8"))
    for package in lock["packages"].values():
        package.pop("funding", None)
    path.write_text(json.dumps(lock, indent=2) + "\n", encoding="utf-8")
