#!/usr/bin/env python3
"""Build, serve or test Bay Reckoner: python3 build.py serve | build | test | lock.

This file only sees to it that .venv holds exactly the packages that locks/ lists. The commands
themselves are in site_src/commands.py.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
RUN, TEST = ROOT / "locks" / "run.txt", ROOT / "locks" / "test.txt"


def installed(lock: Path) -> bool:
    """Say whether .venv was made from this list, as it reads now."""
    copy = VENV / lock.name
    return copy.exists() and copy.read_bytes() == lock.read_bytes()


def install(lock: Path) -> None:
    """Put just these packages into .venv: each file's hash is compared with the list's."""
    pip = (str(PYTHON), "-m", "pip", "install", "-q", "--no-deps", "--require-hashes")
    _run("Installing packages", *pip, "-r", str(lock))
    # The longer list holds all of the shorter one.
    for each in {lock, RUN}:
        shutil.copyfile(each, VENV / each.name)


def _run(purpose: str, *command: str) -> None:
    """Run a step of the installation, or stop with what to do about it."""
    print(purpose, flush=True)
    if subprocess.run(command, check=False).returncode:
        raise SystemExit(f"That failed: see above. Then delete {VENV} and run this again.")


def main() -> int:
    """Run the command in a Python that has what it needs."""
    if sys.version_info < (3, 11):  # noqa: UP036 - said before anything fails
        raise SystemExit(f"Bay Reckoner needs Python 3.11 or later, not {sys.version.split()[0]}.")
    lock = TEST if sys.argv[1:2] in (["test"], ["lock"]) else RUN
    if not PYTHON.exists():
        _run(f"Making {VENV}", sys.executable, "-m", "venv", str(VENV))
    if not installed(lock):
        install(lock)
    if Path(sys.prefix).resolve() == VENV.resolve():
        from site_src.commands import main as run  # noqa: PLC0415 - needs the packages

        return run(sys.argv[1:])
    again = [str(PYTHON), str(ROOT / "build.py"), *sys.argv[1:]]
    if os.name == "posix":
        os.execv(again[0], again)
    return subprocess.run(again, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
