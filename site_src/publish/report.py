"""What a build is made of, in numbers: tables, errors, and what a phone downloads."""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from site_src.publish.offline import fetched_files, kept_files, worker_name

WIDTH = 36


def report(site: Path, in_full: bool = True) -> str:
    """Return the numbers of a built site, a line each; only the install's, if not in full."""
    catalogue = json.loads((site / "lookups.json").read_text(encoding="utf-8"))
    parts = [_tables(catalogue), _answers(catalogue)] if in_full else []
    parts.append(_install(site, catalogue["version"]))
    return "\n".join(line for part in parts for line in part)


def _tables(catalogue: dict[str, Any]) -> Iterator[str]:
    """Yield what each lookup's tables take."""
    yield "Tables"
    for lookup in catalogue["lookups"]:
        tables = [catalogue["tables"][name] for name in lookup["tables"]]
        size = sum(table["bytes"] for table in tables)
        count = sum(table["bytes"] // (4 if table["numbers"] == "f4" else 8) for table in tables)
        yield f"  {lookup['key']:{WIDTH}} {count:7,} numbers {size:9,} bytes"


def _answers(catalogue: dict[str, Any]) -> Iterator[str]:
    """Yield the worst error of each answer, beside what it may be."""
    yield "Worst error against the direct calculation"
    for lookup in catalogue["lookups"]:
        for answer in lookup["answers"]:
            found = lookup["measured"].get(answer["key"])
            if found:
                name = f"{lookup['key']}: {answer['key']}"
                yield (
                    f"  {name:{WIDTH}} {found['error']:9.2g} of {answer['tolerance']:g} allowed, "
                    f"{answer['unit'] or 'ratio'}, at {found['points']:,} points"
                )


def _install(site: Path, version: str) -> Iterator[str]:
    """Yield what a phone downloads to install the site."""
    kept = [path.stat().st_size for path in kept_files(site)]
    own = [site / "sw.js", site / worker_name(version)]
    contents = [path.read_bytes() for path in [*fetched_files(site), *own]]
    yield f"Install, version {version}"
    yield f"  {len(kept)} files, {sum(kept):,} bytes, fetched as {len(contents)}"
    yield f"  {_packed(contents, _gzip):,} bytes over the wire with gzip"
    with suppress(ImportError):
        yield f"  {over_the_wire(contents):,} bytes over the wire with brotli"


def over_the_wire(contents: Iterable[bytes]) -> int:
    """Return what a host sends of these files with brotli.

    Raises:
        ImportError: the library is not there, which is a test extra.
    """
    return _packed(contents, _brotli())


def _packed(contents: Iterable[bytes], compress: Callable[[bytes], bytes]) -> int:
    """Return the size of the files, each compressed by itself."""
    return sum(min(len(content), len(compress(content))) for content in contents)


def _gzip(content: bytes) -> bytes:
    return gzip.compress(content, 9)


def _brotli() -> Callable[[bytes], bytes]:
    """Return a function that compresses as hosts do ahead of time.

    Raises:
        ImportError: the library is not there, which is a test extra.
    """
    import brotli  # type: ignore[import-untyped]  # noqa: PLC0415

    def compress(content: bytes) -> bytes:
        packed: bytes = brotli.compress(content, quality=11, lgwin=24)
        return packed

    return compress
