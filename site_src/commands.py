"""The commands of build.py, once what they need is installed: serve, build, test."""

from __future__ import annotations

import argparse
import shutil
import sys
import threading
from collections.abc import Sequence
from functools import partial
from pathlib import Path

import segno

from site_src.authority import authority, fingerprint, lan_addresses, server_context
from site_src.freeze import build
from site_src.report import report
from site_src.serve import Server, SiteHandler
from site_src.trust import Trust, trust_handler

DIST = Path(__file__).resolve().parent.parent / "dist"

PORT, LAN_PORT = 8000, 8443

SITE = partial(SiteHandler, directory=str(DIST))


def main(arguments: Sequence[str]) -> int:
    """Run one command and return the exit code."""
    given = _parser().parse_args(arguments)
    if given.command == "test":
        # Needs the test extras, which the other commands do without.
        from site_src.checks import run_all  # noqa: PLC0415

        return run_all(given.pytest_arguments)
    version = build(DIST)
    if given.command == "build":
        print(report(DIST))
        print(f"Built {DIST}")
        return 0
    print(f"Bay Reckoner, version {version}")
    if given.lan:
        _serve_lan(given.port or LAN_PORT)
    else:
        _serve_here(given.port or PORT)
    return 0


def _parser() -> argparse.ArgumentParser:
    """Return what the command line may hold."""
    parser = argparse.ArgumentParser(prog="build.py", description="Build, serve or test the site.")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="build the site and serve it")
    serve.add_argument("--lan", action="store_true", help="to phones on this network, over HTTPS")
    serve.add_argument(
        "--port", type=int, help=f"{PORT}, or {LAN_PORT} with --lan, which takes the next one too"
    )
    commands.add_parser("build", help="build the site into dist/")
    test = commands.add_parser("test", help="run every check")
    test.add_argument("pytest_arguments", nargs=argparse.REMAINDER, help="passed on to pytest")
    return parser


def _serve_here(port: int) -> None:
    """Serve on this machine only, where browsers allow offline use without a certificate."""
    server = Server("127.0.0.1", port, SITE)
    url = f"http://localhost:{port}/"
    _show(url)
    print("This machine only. For phones on this network: python3 build.py serve --lan")
    _until_stopped(server)


def _serve_lan(port: int) -> None:
    """Serve to the network over HTTPS, and show how a phone comes to trust it."""
    addresses = lan_addresses()
    if not addresses:
        raise SystemExit("This machine has no network address. Connect it, then try again.")
    ca = authority()
    site_url = f"https://{addresses[0]}:{port}/"
    trust = Trust(site_url, ca.cert_pem.bytes(), fingerprint(ca))
    tls = server_context(ca, [*addresses, "localhost", "127.0.0.1"])
    site = Server("", port, SITE, tls)
    helper = Server("", port + 1, trust_handler(trust))
    threading.Thread(target=helper.serve_forever, daemon=True).start()
    _show(f"http://{addresses[0]}:{port + 1}/")
    print("Open this on each phone once: it explains how to trust this machine and install.")
    print(f"The certificate's SHA-256 fingerprint: {trust.fingerprint}")
    print(f"The site itself, for phones that trust it already: {site_url}")
    _until_stopped(site)


def _show(url: str) -> None:
    """Print an address, and its QR code where the terminal can show one."""
    print(url)
    block = "█▀▄"
    try:
        block.encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return
    if sys.stdout.isatty() and shutil.get_terminal_size().columns < 40:
        return
    segno.make(url, micro=False).terminal(compact=True)


def _until_stopped(server: Server) -> None:
    """Serve until Ctrl-C."""
    sys.stdout.flush()
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print("Stopped.")
