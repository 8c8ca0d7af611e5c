"""A first look at the site while it is proved: the first time, that is long to wait for a page."""

from __future__ import annotations

import subprocess
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from site_src.serving.lan import show, until_stopped
from site_src.serving.serve import Server, SiteHandler


class FirstLook:
    """A server of this machine that shows one folder, and another one once that has been proved."""

    def __init__(self, first: Path, proved: Path, port: int) -> None:
        """Listen at once.

        Raises:
            SystemExit: the port is taken.
        """
        self.shown = first
        self.proved = proved
        self.failed = False
        self.proving: subprocess.Popen[bytes] | None = None
        self.server = Server("127.0.0.1", port, self._handler)

    def _handler(self, *arguments: Any) -> SiteHandler:  # noqa: ANN401 - as a server gives them
        return SiteHandler(*arguments, directory=str(self.shown))

    def prove(self, command: Sequence[str]) -> None:
        """Run the command that builds and proves the site, then show that; stop if it fails."""
        # Ctrl-C is for the server, which ends this too.
        with subprocess.Popen(command, start_new_session=True) as self.proving:
            self.failed = self.proving.wait() != 0
        if self.failed:
            self.server.shutdown()
            return
        self.shown = self.proved
        print("Proved. Load the page again.", flush=True)

    def serve(self, command: Sequence[str]) -> int:
        """Serve until Ctrl-C, and prove behind it; return 1 if the proof fails."""
        show(f"http://localhost:{self.server.server_address[1]}/")
        print("A first look: not proved yet, as each page says. Proving goes on behind it.")
        threading.Thread(target=self.prove, args=(command,), daemon=True).start()
        until_stopped(self.server)
        if self.proving and self.proving.poll() is None:
            self.proving.terminate()
        return int(self.failed)
