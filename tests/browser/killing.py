"""A phone whose browser may be killed: what was on its disk is still there."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, BrowserType


@dataclass(frozen=True)
class MortalPhone:
    """A phone whose storage is a folder, so that it outlives its browser."""

    chromium: BrowserType
    arguments: dict[str, Any]
    folder: Path

    @contextmanager
    def on(self) -> Iterator[BrowserContext]:
        """Switch it on; what was on its disk is there."""
        context = self.chromium.launch_persistent_context(str(self.folder), **self.arguments)
        try:
            yield context
        finally:
            # One whose browser was killed has nothing left to close.
            if running(self.folder):
                context.close()

    def kill(self) -> None:
        """Kill its browser and all that belongs to it, as a flat battery would."""
        for process in running(self.folder):
            try:
                os.kill(process, signal.SIGKILL)
            except ProcessLookupError:
                continue
        for _ in range(100):
            if not running(self.folder):
                return
            time.sleep(0.05)
        raise AssertionError("the browser is still there")

    def kill_tabs(self) -> None:
        """Kill what its pages and workers run in, as a phone does that needs the memory."""
        parents = {int(each.name): _parent(each) for each in Path("/proc").glob("[0-9]*")}
        ours = set(running(self.folder))
        for process in parents:
            above: int | None = process
            while above is not None and above not in ours:
                above = parents.get(above)
            if above is not None and b"--type=renderer" in _command(process):
                try:
                    os.kill(process, signal.SIGKILL)
                except ProcessLookupError:
                    continue


def _parent(process: Path) -> int | None:
    """Return the number of a process's parent; none if it is gone."""
    try:
        return int((process / "stat").read_text().rsplit(")", 1)[1].split()[1])
    except (OSError, IndexError, ValueError):
        return None


def _command(process: int) -> bytes:
    """Return a process's command line, empty if it is gone."""
    try:
        return (Path("/proc") / str(process) / "cmdline").read_bytes()
    except OSError:
        return b""


def running(folder: Path) -> list[int]:
    """The processes of the browser that keeps its storage in a folder."""
    found = []
    for process in Path("/proc").glob("[0-9]*"):
        if f"--user-data-dir={folder}".encode() in _command(int(process.name)):
            found.append(int(process.name))
    return found
