#!/usr/bin/env python3
"""Build, serve or test Bay Reckoner: python3 build.py serve | build | test.

This file only sees to it that the dependencies are there, in .venv if need be. The commands
themselves are in site_src/commands.py.
"""

import importlib.metadata
import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def missing(extra: str) -> bool:
    """Say whether this Python lacks any of the packages that pyproject.toml asks for."""
    import tomllib  # noqa: PLC0415 - new in Python 3.11, whose absence is explained first

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = project["dependencies"] + project["optional-dependencies"].get(extra, [])
    names = [re.split(r"[^\w.-]", requirement, maxsplit=1)[0] for requirement in wanted]
    return not all(any(importlib.metadata.distributions(name=name)) for name in names)


def _run(purpose: str, *command: str) -> None:
    """Run a step of the installation, or stop with what to do about it."""
    print(purpose, flush=True)
    if subprocess.run(command, check=False).returncode:
        raise SystemExit(f"That failed: see above. Then delete {VENV} and run this again.")


def main() -> int:
    """Run the command in a Python that has what it needs."""
    if sys.version_info < (3, 11):  # noqa: UP036 - said before anything fails
        raise SystemExit(f"Bay Reckoner needs Python 3.11 or later, not {sys.version.split()[0]}.")
    extra = "test" if sys.argv[1:2] == ["test"] else ""
    inside = Path(sys.prefix).resolve() == VENV
    if inside and missing(extra):
        what = f"{ROOT}[{extra}]" if extra else str(ROOT)
        _run("Installing packages", sys.executable, "-m", "pip", "install", "-q", "-e", what)
    if inside or not missing(extra):
        from site_src.commands import main as run  # noqa: PLC0415 - needs the packages

        return run(sys.argv[1:])
    if not PYTHON.exists():
        _run(f"Making {VENV}", sys.executable, "-m", "venv", str(VENV))
    again = [str(PYTHON), str(ROOT / "build.py"), *sys.argv[1:]]
    if os.name == "posix":
        os.execv(again[0], again)
    return subprocess.run(again, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
