"""The two ways to serve from this machine: to itself, and to the shop's phones over HTTPS."""

from __future__ import annotations

import shutil
import sys
import threading
from functools import partial
from pathlib import Path

import segno

from site_src.serving.authority import FOLDER, authority, fingerprint, lan_addresses, server_context
from site_src.serving.serve import Server, SiteHandler
from site_src.serving.trust import Trust, trust_handler


def serve_here(site: Path, port: int) -> None:
    """Serve on this machine only, where browsers allow offline use without a certificate."""
    server = Server("127.0.0.1", port, partial(SiteHandler, directory=str(site)))
    show(f"http://localhost:{port}/")
    print("This machine only. For phones on this network: python3 build.py serve --lan")
    until_stopped(server)


def serve_lan(site: Path, port: int, folder: Path = FOLDER) -> None:
    """Serve to the network over HTTPS, and on the next port show how a phone comes to trust it.

    Raises:
        SystemExit: there is no network, a port is taken, or the authority can't be read.
    """
    addresses = lan_addresses()
    if not addresses:
        raise SystemExit("This machine has no network address. Connect it, then try again.")
    ca = authority(folder, addresses)
    site_url = f"https://{addresses[0]}:{port}/"
    trust = Trust(site_url, ca.cert_pem.bytes(), fingerprint(ca))
    tls = server_context(ca, [*addresses, "localhost", "127.0.0.1"])
    server = Server("", port, partial(SiteHandler, directory=str(site)), tls)
    helper = Server("", port + 1, trust_handler(trust))
    threading.Thread(target=helper.serve_forever, daemon=True).start()
    show(f"http://{addresses[0]}:{port + 1}/")
    print("Open this on each phone once: it explains how to trust this machine and install.")
    print(f"The certificate's SHA-256 fingerprint: {trust.fingerprint}")
    print(f"The site itself, for phones that trust it already: {site_url}")
    until_stopped(server)


def show(url: str) -> None:
    """Print an address, and its QR code where the terminal can show one."""
    print(url)
    try:
        "█▀▄".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return
    if shutil.get_terminal_size().columns >= 40:
        segno.make(url, micro=False).terminal(compact=True)


def until_stopped(server: Server) -> None:
    """Serve until Ctrl-C."""
    sys.stdout.flush()
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print("Stopped.")
