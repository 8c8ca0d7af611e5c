"""What was proved of each answer, kept between builds while its sources stay the same."""

from __future__ import annotations

import hashlib
import json
import sys
from dataclasses import asdict
from functools import cache
from importlib.metadata import version
from pathlib import Path

from site_src.imports import sources_behind
from site_src.model.lookup import Lookup
from site_src.places import CACHE, ROOT, SITE_SRC
from site_src.proof.comparison import Measured, prove
from site_src.tables.compiler import JUDGING

KEPT = CACHE / "proofs"

_OURS = ("calc.", "site_src.")
"""The packages whose sources a proof hangs on, as far as a lookup imports them."""


def proved(lookup: Lookup) -> dict[str, Measured]:
    """Return by answer what was measured of a lookup; prove it, if its sources have changed.

    Nothing is returned of what is not proved yet where tables are not judged either: that is left
    to another process.

    Raises:
        ProofError: an answer misses its tolerance; the message names the worst point.
    """
    kept = _place(lookup)
    try:
        entries = json.loads(kept.read_text(encoding="utf-8"))
        return {key: Measured(**entry) for key, entry in entries.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        if not JUDGING.get():
            return {}
        found = prove(lookup)
        text = json.dumps({key: asdict(entry) for key, entry in found.items()}, allow_nan=False)
        _keep(kept, text)
        return found


def is_kept(lookup: Lookup) -> bool:
    """Say whether a lookup's proof is there already."""
    return _place(lookup).is_file()


def _place(lookup: Lookup) -> Path:
    """Return where a lookup's proof is kept."""
    return KEPT / lookup.key / f"{_sources(lookup.reckon.__module__)}.json"


def _keep(path: Path, text: str) -> None:
    """Write a proof, and throw away those of the same lookup's other sources."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    for other in path.parent.iterdir():
        if other != path:
            other.unlink(missing_ok=True)


@cache
def _sources(module: str) -> str:
    """Return a hash over all that a lookup's numbers can depend on, and what runs it.

    That is every source of ours that its module or the proof imports, near or far, and all data.
    """
    running = [sys.version, *(f"{name} {version(name)}" for name in ("numpy", "pint"))]
    digest = hashlib.sha256("\n".join(running).encode())
    data = (SITE_SRC / "data").rglob("*.toml")
    behind = [sources_behind(each, _OURS) for each in (module, prove.__module__)]
    for path in sorted(set(data).union(*behind)):
        digest.update(path.relative_to(ROOT).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()[:16]
