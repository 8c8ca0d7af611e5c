"""The commands of build.py, once what they need is installed: serve, build, test, lock."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from pathlib import Path

from site_src.checks import run_all
from site_src.data.reader import DataError
from site_src.locks import renew
from site_src.places import CACHE, DIST, ROOT

PORT, LAN_PORT = 8000, 8443

FIRST_LOOK = CACHE / "first_look"
"""The site as `serve` shows it until it is proved."""


def main(arguments: Sequence[str]) -> int:
    """Run one command and return the exit code."""
    if arguments[:1] == ["test"]:
        # All that follows goes to pytest, options too.
        return run_all(arguments[1:])
    if arguments[:1] == ["lock"]:
        return renew()
    given = _parser().parse_args(arguments)
    address = _address(given.at)
    try:
        if given.command == "serve" and not given.lan and not _is_proved():
            return _serve_first_look(given.port or PORT, address)
        _build(DIST, in_full=given.command == "build", site_address=address)
    except DataError as reason:
        raise SystemExit(f"The build stopped. {reason}") from reason
    if given.command == "serve":
        _serve(given.lan, given.port)
    return 0


def _address(given: str) -> str:
    """Return the site's address as links go on from it.

    Raises:
        SystemExit: it is none that a phone could keep a site from.
    """
    if given and not re.fullmatch(r"https?://[^\s/?#]+(/[^\s?#]*)?", given):
        raise SystemExit(f"--at {given}: give the site's whole address, as https://shop.example/")
    return f"{given.rstrip('/')}/" if given else ""


def _is_proved() -> bool:
    """Say whether all proofs are there from an earlier build."""
    from site_src.lookups import all_recipes  # noqa: PLC0415
    from site_src.proof.kept import is_kept  # noqa: PLC0415

    return all(is_kept(each) for each in all_recipes())


def _serve_first_look(port: int, site_address: str) -> int:
    """Serve an unproved site at once, and the proved one when it is there."""
    from site_src.serving.first_look import FirstLook  # noqa: PLC0415

    look = FirstLook(FIRST_LOOK, DIST, port)
    _build(FIRST_LOOK, in_full=False, site_address=site_address, unproved=True)
    command = [sys.executable, str(ROOT / "build.py"), "build", "--at", site_address]
    return look.serve(command)


def _build(target: Path, in_full: bool, site_address: str, unproved: bool = False) -> None:
    """Build the site, and say what it is made of."""
    # Imported here: a page that is broken must not keep the checks from saying so.
    from site_src.proof.comparison import ProofError  # noqa: PLC0415
    from site_src.publish.errors import BuildError  # noqa: PLC0415
    from site_src.publish.freeze import build  # noqa: PLC0415
    from site_src.publish.report import report  # noqa: PLC0415
    from site_src.tables.compiler import TableError  # noqa: PLC0415

    proving = "" if unproved else " and proving answers; the first time takes a while"
    print(f"Working out tables{proving}.", flush=True)
    try:
        build(
            target,
            tell=lambda words: print(f"  {words}", flush=True),
            site_address=site_address,
            unproved=unproved,
        )
    except (BuildError, ProofError, TableError) as reason:
        raise SystemExit(f"The build stopped. {reason}") from reason
    print(report(target, in_full))


def _serve(lan: bool, port: int | None) -> None:
    """Serve what was built, until Ctrl-C."""
    from site_src.serving.lan import serve_here, serve_lan  # noqa: PLC0415

    if lan:
        serve_lan(DIST, port or LAN_PORT)
    else:
        serve_here(DIST, port or PORT)


def _parser() -> argparse.ArgumentParser:
    """Return what the command line may hold."""
    parser = argparse.ArgumentParser(prog="build.py", description="Build, serve or test the site.")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="build the site and serve it")
    serve.add_argument("--lan", action="store_true", help="to phones on this network, over HTTPS")
    serve.add_argument(
        "--port", type=int, help=f"{PORT}, or {LAN_PORT} with --lan, which takes the next one too"
    )
    build = commands.add_parser("build", help="build the site into dist/")
    for command in (serve, build):
        command.add_argument(
            "--at", default="", help="address of the site, for the codes on the builds' sheets"
        )
    commands.add_parser("test", help="run every check; what follows is passed on to pytest")
    commands.add_parser("lock", help="renew the lists of exact versions under locks/")
    return parser
