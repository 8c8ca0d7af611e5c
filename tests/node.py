"""The phone's scripts run under Node, where that is."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

needs_node = pytest.mark.skipif(shutil.which("node") is None, reason="Node is not on this machine")


def told_by(program: Path, *arguments: object, given: object = None, seconds: int = 120) -> Any:
    """Run a program and return the JSON that it writes.

    `given` is what it reads, as JSON; it has failed after so many seconds.
    """
    done = subprocess.run(
        ["node", str(program), *map(str, arguments)],
        input=None if given is None else json.dumps(given),
        check=True,
        capture_output=True,
        text=True,
        timeout=seconds,
    )
    return json.loads(done.stdout)
