"""What was proved of each answer, kept between builds while its sources stay the same."""

from __future__ import annotations

import hashlib
import json
import shutil
import sys
from collections.abc import Iterator
from dataclasses import asdict
from functools import cache
from importlib.metadata import version
from pathlib import Path

from site_src.model.lookup import Lookup
from site_src.places import CACHE, ROOT, SITE_SRC
from site_src.proof.comparison import Measured, prove

KEPT = CACHE / "proofs"

_ROOMS = ("model", "tables", "lookups", "data", "proof")
"""The rooms of site_src that a number can depend on; drawing, publishing and serving are others."""


def proved(lookup: Lookup) -> dict[str, Measured]:
    """Return by answer what was measured of a lookup; prove it, if its sources have changed.

    Raises:
        ProofError: an answer misses its tolerance; the message names the worst point.
    """
    kept = KEPT / _sources() / f"{lookup.key}.json"
    try:
        entries = json.loads(kept.read_text(encoding="utf-8"))
        return {key: Measured(**entry) for key, entry in entries.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        found = prove(lookup)
        text = json.dumps({key: asdict(entry) for key, entry in found.items()}, allow_nan=False)
        _keep(kept, text)
        return found


def _keep(path: Path, text: str) -> None:
    """Write a proof, and throw away those of other sources."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    for other in KEPT.iterdir():
        if other != path.parent:
            shutil.rmtree(other, ignore_errors=True)


@cache
def _sources() -> str:
    """Return a hash over all that a number can depend on: our Python and data, and what runs it."""
    running = [sys.version, *(f"{name} {version(name)}" for name in ("numpy", "pint"))]
    digest = hashlib.sha256("\n".join(running).encode())
    for path in _files():
        digest.update(path.relative_to(ROOT).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()[:16]


def _files() -> Iterator[Path]:
    """Yield the files that a number can depend on."""
    for folder in (ROOT / "calc", *(SITE_SRC / room for room in _ROOMS)):
        yield from (p for p in sorted(folder.rglob("*")) if p.suffix in (".py", ".toml"))
