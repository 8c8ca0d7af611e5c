"""What makes the frozen site installable: the manifest, the precache list, the service worker."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from fnmatch import fnmatchcase
from pathlib import Path
from string import Template
from typing import Any

from site_src.model.lookup import Lookup
from site_src.publish.fold import fold
from site_src.publish.icons import DYE, PAPER, SHORTCUT_SIZE, SHORTCUTS
from site_src.publish.policy import TYPES

WORKER = Path(__file__).with_name("sw.js")

_ENTRY = """{
  // Registered by every page. Cut anywhere but at its end, it is not a script.
  importScripts("$worker");
  if (!self.isWhole) throw new Error("$worker is not whole");
}
"""

PREFIX = "bay-reckoner"
"""Begins the name of every cache of ours; caches of other names are never touched."""

PACK = "static/pack.txt"
"""All texts that a phone keeps but scripts, one after the other, folded. What pages have in common
is sent once then: hosts compress each file by itself."""

NOT_KEPT = (
    *("404.html", "_headers", "sw.js", "worker-*.js", ".gitkeep"),
    *("lookups.json", "static/js/recipe*.js", PACK),
)
"""Files that a phone doesn't keep: the worker itself, what only the host uses, what is there for
other programs, and what the worker takes apart.

The 404 page is the host's to serve, and hosts that drop `.html` would redirect it, which would
fail the install.
"""


def manifest(lookups: Sequence[Lookup]) -> dict[str, Any]:
    """Return the web app manifest; its addresses resolve against its own address.

    It has no `id`: two copies on one host would share it. Without one the start address is used.
    """
    return {
        "name": "Bay Reckoner",
        "short_name": "Reckoner",
        "description": "A pocket ready reckoner for fitting a belt-driven supercharger.",
        "lang": "en",
        "dir": "ltr",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": DYE,
        "icons": [
            _picture("icon-192.png", 192),
            _picture("icon-512.png", 512),
            _picture("maskable-512.png", 512) | {"purpose": "maskable"},
        ],
        "shortcuts": [
            {
                "name": lookup.title,
                "short_name": lookup.short,
                "url": f"{lookup.key}/",
                "icons": [_picture(f"{lookup.key}-{SHORTCUT_SIZE}.png", SHORTCUT_SIZE)],
            }
            for lookup in lookups
            if lookup.key in SHORTCUTS
        ],
    }


def _picture(name: str, size: int) -> dict[str, str]:
    """Return one icon of the manifest."""
    return {"src": f"static/icons/{name}", "sizes": f"{size}x{size}", "type": "image/png"}


def precache(site: Path) -> list[list[str]]:
    """Return the address, from the root, and the content hash of each file that a phone keeps.

    A page's address is its folder: hosts that hide `index.html` redirect the file's own name. The
    hash is in the form that a browser checks a download against.
    """
    return [
        [_address(path.relative_to(site).as_posix()), content_hash(path)]
        for path in kept_files(site)
    ]


def kept_files(site: Path) -> list[Path]:
    """Return the files of a frozen site that a phone keeps, in a fixed order."""
    files = sorted(path for path in site.rglob("*") if path.is_file())
    return [path for path in files if not _only_the_host(path.relative_to(site).as_posix())]


def pack(site: Path) -> bytes:
    """Return the texts of a frozen site that come as one, one after the other, folded."""
    return fold(b"".join(path.read_bytes() for path in kept_files(site) if _is_packed(path)))


def lengths(site: Path) -> list[int]:
    """Return the length of each file of the precache list in the pack, 0 if it isn't in it."""
    return [path.stat().st_size if _is_packed(path) else 0 for path in kept_files(site)]


def fetched_files(site: Path) -> list[Path]:
    """Return the files that a phone downloads to keep the site."""
    return [site / PACK, *(path for path in kept_files(site) if not _is_packed(path))]


def _is_packed(path: Path) -> bool:
    """Say whether a file comes in the pack: texts do, but scripts come as they are.

    Chromium compiles a script when it is kept, once and for all, but not one that the worker has
    put together.
    """
    return path.suffix not in (".bin", ".png", ".js")


def _only_the_host(name: str) -> bool:
    """Say whether a file is none that a phone keeps."""
    return any(fnmatchcase(name, pattern) for pattern in NOT_KEPT)


def worker_name(version: str) -> str:
    """Return the name of a version's worker, at the root: a worker serves what is below it."""
    return f"worker-{version}.js"


def worker_entry(version: str) -> str:
    """Return the text of sw.js, which only imports its version's worker.

    It is short, and no beginning of it is a script, so that a browser takes all of it or nothing.
    """
    return Template(_ENTRY).substitute(worker=worker_name(version))


def worker(
    entries: Sequence[Sequence[str]],
    version: str,
    packed: Sequence[int] = (),
    pack_hash: str = "",
) -> str:
    """Return the worker's text; its cache is named after every byte that it holds.

    `packed` is the length of each entry in the unfolded pack. All of it is in one block: a file
    that was cut is not a script.
    """
    everything = hashlib.sha256(json.dumps(entries).encode()).hexdigest()
    listed = "".join(f"  {json.dumps(entry, ensure_ascii=False)},\n" for entry in entries)
    template = Template(WORKER.read_text(encoding="utf-8"))
    text = template.substitute(
        prefix=PREFIX,
        cache=everything[:16],
        version=version,
        entries=f"[\n{listed}]",
        types=json.dumps(TYPES, indent=2),
        pack=json.dumps(PACK),
        pack_hash=json.dumps(pack_hash),
        lengths=json.dumps(list(packed)),
    )
    return f"{{\n{text}}}\n"


def _address(name: str) -> str:
    """Return the address of a file.

    >>> _address("index.html"), _address("boost/index.html"), _address("static/a.json")
    ('./', 'boost/', 'static/a.json')
    """
    folder = name.removesuffix("index.html")
    return (folder or "./") if name.endswith("index.html") else name


def content_hash(path: Path) -> str:
    """Return a file's hash as subresource integrity metadata (W3C SRI, section 3.5)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(path.read_bytes()).digest()).decode()
