"""Texts in one file, in which a run of lines that came before is told, not repeated.

Hosts that compress well find such runs themselves. Many look back only as far as RFC 1951 lets
them, 32 kB, and a site's pages, style sheets and scripts are longer than that.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

LEAST = 300
"""Bytes of the shortest run that is told. Telling it takes about 20 bytes, and hosts that find the
run themselves gain nothing from it."""

LOOKED_AT = 16
"""Earlier places of a line that are tried: a closing tag has thousands."""


def fold(content: bytes) -> bytes:
    r"""Return a content folded: a line that tells how to unfold it, then what is in it once.

    The line is a list in JSON of threes: so many bytes as they follow, then, from so many bytes
    back in what is unfolded by then, so many bytes again. What is repeated never overlaps itself.

    Args:
        content: Text in UTF-8, of any length.

    >>> lines = b"".join(b"line %d of what two pages have in common\n" % n for n in range(9))
    >>> fold(lines + b"between\n" + lines).partition(b"\n")[0]
    b'[[368,368,360],[0,0,0]]'
    """
    lines = content.splitlines(keepends=True)
    starts = list(accumulate(map(len, lines), initial=0))
    told: list[tuple[int, int, int]] = []
    once: list[bytes] = []
    fresh = 0
    for first, earlier, count in [*_repeated(lines, starts), (len(lines), len(lines), 0)]:
        begin, end = starts[first], starts[first + count]
        told.append((begin - starts[fresh], begin - starts[earlier], end - begin))
        once.append(content[starts[fresh] : begin])
        fresh = first + count
    return json.dumps(told, separators=(",", ":")).encode() + b"\n" + b"".join(once)


def _repeated(lines: Sequence[bytes], starts: Sequence[int]) -> Iterator[tuple[int, int, int]]:
    """Yield the first line of each run that came before, where that began, and how many lines."""
    seen: dict[bytes, list[int]] = {}
    at = 0
    while at < len(lines):
        earlier, count = _longest(lines, at, seen.get(lines[at], [])[-LOOKED_AT:])
        if starts[at + count] - starts[at] >= LEAST:
            yield at, earlier, count
        else:
            count = 1
        for each in range(at, at + count):
            seen.setdefault(lines[each], []).append(each)
        at += count


def _longest(lines: Sequence[bytes], at: int, places: Iterable[int]) -> tuple[int, int]:
    """Return the place from which the most lines are those from here on, and how many."""
    best = (at, 0)
    for place in places:
        count = 0
        most = min(at - place, len(lines) - at)
        while count < most and lines[place + count] == lines[at + count]:
            count += 1
        best = max(best, (place, count), key=lambda found: found[1])
    return best
