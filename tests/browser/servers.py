"""Servers for browser tests, each in a process of its own, so that killing one leaves nothing.

A server stopped within the test's process still answers a connection that the browser had opened in
advance, and an offline test then passes falsely. `no-store` for the same reason: else the browser's
own cache answers for a dead server, and hides a file that the service worker lacks.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from site_src.publish.app import UNSTAMPED
from site_src.publish.freeze import seal
from tests.conftest import ROOT


@dataclass
class SiteServer:
    """A running server and its address."""

    process: subprocess.Popen[str]
    url: str

    def kill(self) -> None:
        """Kill it with no chance to answer anything more."""
        self.process.kill()
        self.process.wait()


MISTYPED = """
from site_src.serving import serve

def guess_type(self, path):
    name = str(path).rsplit("/", 1)[-1]
    worker = name == "sw.js" or name.startswith("worker-")
    return "text/javascript" if worker else "text/x-other"

serve.SiteHandler.guess_type = guess_type
serve.main()
"""
"""A server that sends everything but the service worker under a type that browsers refuse."""


def start_server(folder: Path, port: int = 0, program: str = "") -> SiteServer:
    """Serve a folder from a new process, on the first free port if none is given."""
    process = subprocess.Popen(
        [
            sys.executable,
            *(("-c", program) if program else ("-m", "site_src.serving.serve")),
            str(folder),
            "--no-store",
            "--port",
            str(port),
        ],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout
    chosen = process.stdout.readline().strip()
    process.stdout.close()
    assert chosen.isdigit(), "the server did not start"
    return SiteServer(process, f"http://localhost:{chosen}/")


def publish(built: Path, live: Path, title: str) -> str:
    """Put a version of the site live, told by its home page's title; return the version.

    It is swapped in whole: a look that fell on a half-made folder would find yet another version.
    """
    made, gone = live.with_name(f"{live.name}-made"), live.with_name(f"{live.name}-gone")
    shutil.copytree(built, made)
    old = version_of(made)
    for path in made.rglob("*"):
        if path.is_file() and old.encode() in path.read_bytes():
            path.write_bytes(path.read_bytes().replace(old.encode(), UNSTAMPED.encode()))
    home = made / "index.html"
    text = home.read_text(encoding="utf-8")
    before, _, rest = text.partition("<title>")
    home.write_text(f"{before}<title>{title}{rest[rest.index('</title>') :]}", encoding="utf-8")
    version = seal(made)
    if live.exists():
        live.rename(gone)
    made.rename(live)
    shutil.rmtree(gone, ignore_errors=True)
    return version


def version_of(site: Path) -> str:
    """Return the version of a built site."""
    (found,) = re.findall(
        r'"bay-version" content="(\w+)"', (site / "index.html").read_text("utf-8")
    )
    return str(found)
