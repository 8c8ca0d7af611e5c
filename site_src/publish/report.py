"""What a build is made of, in numbers: tables, errors, and what a phone downloads."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from site_src.publish.offline import kept_files, worker_name

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
    contents = [
        path.read_bytes()
        for path in [*kept_files(site), site / "sw.js", site / worker_name(version)]
    ]
    yield f"Install, version {version}"
    yield f"  {len(contents)} files, {sum(map(len, contents)):,} bytes as they are"
    packed = _brotli(contents)
    if packed is not None:
        yield f"  {packed:,} bytes over the wire with brotli"


def _brotli(contents: Iterable[bytes]) -> int | None:
    """Return the size of the files, each compressed by itself; None without the library."""
    try:
        import brotli  # type: ignore[import-untyped]  # noqa: PLC0415 - a test extra
    except ImportError:
        return None
    return sum(min(len(content), len(brotli.compress(content))) for content in contents)
