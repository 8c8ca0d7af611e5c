"""From the application to a folder of files: plan, freeze, stamp the version, seal for offline use.

Deterministic: the same sources give the same bytes, wherever and whenever they are built.
"""

from __future__ import annotations

import hashlib
import mimetypes
import os
import sys
import warnings
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import suppress
from pathlib import Path

from flask import Flask
from flask_frozen import Freezer, FrozenFlaskWarning

from site_src.builds.job import Job
from site_src.lookups import all_lookups, all_recipes, behind_pages, lookup
from site_src.model.lookup import Lookup
from site_src.model.page import Page
from site_src.pages import all_pages
from site_src.pages.builds import all_builds
from site_src.proof.kept import is_kept, proved
from site_src.publish import bundles
from site_src.publish.app import create_app
from site_src.publish.catalogue import part_names
from site_src.publish.errors import BuildError
from site_src.publish.icons import icon_names
from site_src.publish.offline import (
    PACK,
    content_hash,
    lengths,
    pack,
    precache,
    worker,
    worker_entry,
    worker_name,
)
from site_src.publish.policy import TYPES, headers_file
from site_src.publish.scripts import ALONE, SCRIPTS, UNSTAMPED
from site_src.tables.compiler import JUDGING, TableSpec

GENERATED = ("sw.js", "worker-*.js", "_headers", ".gitkeep", PACK)
"""Files in the folder that don't come from the application."""


def build(
    target: Path,
    lookups: Sequence[Lookup] | None = None,
    tell: Callable[[str], None] = lambda _: None,
    site_address: str = "",
    unproved: bool = False,
) -> str:
    """Build the whole site into a folder and return its version.

    Call it once in a process: templates keep the addresses of whatever was rendered first. `tell`
    is told how far it is. `site_address` is where phones will find the site, if that is known. An
    `unproved` site is a first look: it leaves the proof to another process, and each page says so.

    Raises:
        DataError: a build file is refused.
        BuildError: a page links to something that isn't there.
        ProofError: an answer misses its tolerance.
        TableError: a table misses its own.
    """
    JUDGING.set(not unproved)
    pages = all_lookups() if lookups is None else tuple(lookups)
    others = all_pages() if lookups is None else ()
    behind = behind_pages() if lookups is None else ()
    if lookups is None:
        # Read before anything takes long: a slip in a shop's file is said at once.
        all_builds()
    if lookups is None and not unproved:
        _prove_side_by_side(tell)
    for each in (*pages, *behind):
        proved(each)
    tell("Writing the pages.")
    _named_once((*pages, *behind))
    builds = all_builds() if lookups is None else ()
    app = create_app(pages, others, behind, site_address, unproved)
    freeze(app, plan(pages, others, builds, behind), target)
    return seal(target)


def _prove_side_by_side(tell: Callable[[str], None]) -> None:
    """Prove all lookups, as many at once as there are processors, and keep the proofs.

    An answer that misses its tolerance is met again where the proofs are read, and stops the build.
    """
    waiting = [each.key for each in all_recipes() if not is_kept(each)]
    if len(waiting) < 2 or (os.cpu_count() or 1) < 2:
        return
    with ProcessPoolExecutor() as processes, suppress(Exception):
        for done, key in enumerate(processes.map(_prove, waiting), start=1):
            tell(f"Proved {done} of {len(waiting)}: {lookup(key).title}")


def _prove(key: str) -> str:
    """Prove one lookup, in a process of its own; return its key."""
    proved(lookup(key))
    return key


def plan(
    lookups: Sequence[Lookup],
    others: Sequence[Page] = (),
    builds: Sequence[Job] = (),
    behind: Sequence[Lookup] = (),
) -> list[tuple[str, dict[str, str]]]:
    """Return every page and generated file, as endpoints of the application."""
    _named_once(lookups)
    keys = [*(each.key for each in lookups), *(page.key for page in others)]
    parts = part_names([each.key for each in (*lookups, *behind)])
    return [
        ("home", {}),
        *(("lookup", {"key": key}) for key in keys),
        *(("why", {"key": each.key}) for each in lookups),
        *(("build", {"name": job.address}) for job in builds),
        ("help_page", {}),
        ("not_found", {}),
        ("lookups_json", {}),
        *(("lookup_part", {"name": name}) for name in parts),
        ("web_manifest", {}),
        *(("script_bundle", {"name": name}) for name in bundles.names()),
        *(("style_bundle", {"name": name}) for name in bundles.STYLE_BUNDLES),
        ("tables", {}),
        *(("icon_file", {"name": name}) for name in icon_names()),
    ]


def _named_once(lookups: Sequence[Lookup]) -> None:
    """Stop if two different tables have one name; lookups may share one and the same table."""
    known: dict[str, tuple[str, TableSpec]] = {}
    for each in lookups:
        for spec in each.tables:
            owner, first = known.setdefault(spec.name, (each.key, spec))
            if first != spec:
                raise BuildError(
                    f"two different tables are named {spec.name}, of {owner} and of {each.key}"
                )


def freeze(app: Flask, planned: Sequence[tuple[str, dict[str, str]]], target: Path) -> None:
    """Write the planned pages and the static files, and delete everything else but .gitkeep.

    Raises:
        BuildError: a page links to something that isn't there, or wasn't planned.
        FrozenFlaskWarning: a type doesn't fit its file's name, or an endpoint was left out.
    """
    for ending, kind in TYPES.items():
        mimetypes.add_type(kind, ending)
    app.config["PROPAGATE_EXCEPTIONS"] = True
    app.config["FREEZER_DESTINATION"] = str(target.resolve())
    app.config["FREEZER_DESTINATION_IGNORE"] = [".gitkeep"]
    app.config["FREEZER_STATIC_IGNORE"] = [".*", *_bundled()]
    app.config["FREEZER_REDIRECT_POLICY"] = "error"
    freezer = Freezer(app, with_no_argument_rules=False)

    freezer.register_generator(lambda: iter(planned))
    expected = set(freezer.all_urls())
    with warnings.catch_warnings():
        warnings.simplefilter("error", FrozenFlaskWarning)
        try:
            unplanned = sorted(freezer.freeze() - expected)
        except ValueError as reason:
            # The freezer's way to say that nothing answers at an address that a page names.
            raise BuildError(str(reason)) from reason
    if unplanned:
        raise BuildError(f"pages link to what wasn't planned: {', '.join(unplanned)}")


def _bundled() -> list[str]:
    """Return the static files that are published as a part of others only."""
    modules = (path.relative_to(SCRIPTS).as_posix() for path in SCRIPTS.rglob("*.js"))
    sheets = (path.name for path in bundles.STYLES.glob("*.css"))
    return [
        *(f"js/{module}" for module in modules if module not in ALONE),
        *(f"css/{sheet}" for sheet in sheets),
    ]


def seal(site: Path) -> str:
    """Stamp the version into a frozen folder and write what is made from all of its files."""
    version = _version(site)
    for path in _files(site):
        content = path.read_bytes()
        if UNSTAMPED.encode() in content:
            path.write_bytes(content.replace(UNSTAMPED.encode(), version.encode()))
    for old in site.glob("worker-*.js"):
        old.unlink()
    _write(site / "_headers", headers_file())
    (site / PACK).write_bytes(pack(site))
    text = worker(precache(site), version, lengths(site), content_hash(site / PACK))
    _write(site / worker_name(version), text)
    # Last, and in one go: what it imports is there before it is.
    _write(site / "sw.js.new", worker_entry(version)).replace(site / "sw.js")
    return version


def _write(path: Path, text: str) -> Path:
    """Write a text, the same on every machine."""
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def _version(site: Path) -> str:
    """Return a hash over the name and the content of every file, and over the worker's text."""
    digest = hashlib.sha256((worker([], "") + worker_entry("")).encode())
    for path in _files(site):
        content = hashlib.sha256(path.read_bytes()).digest()
        digest.update(path.relative_to(site).as_posix().encode() + b"\0" + content)
    return digest.hexdigest()[:12]


def _files(site: Path) -> list[Path]:
    """Return the files that the application wrote, in a fixed order."""
    written = (path for path in site.rglob("*") if path.is_file())
    return sorted(p for p in written if not any(p.match(each) for each in GENERATED))


if __name__ == "__main__":
    print(build(Path(sys.argv[1])))
