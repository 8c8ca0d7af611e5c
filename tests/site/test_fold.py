"""What is told once can be written out again, and is told once."""

from __future__ import annotations

import json
from itertools import accumulate
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from site_src.publish.fold import LEAST, fold
from site_src.publish.offline import PACK, kept_files, lengths

LINES = st.lists(st.sampled_from([b"a" * 70, b"b" * 150, b"c" * LEAST, b"", b"\r", "µ".encode()]))


def unfold(folded: bytes) -> bytes:
    """Write out what a pack's first line tells, a byte at a time."""
    told, _, once = folded.partition(b"\n")
    whole = bytearray()
    for fresh, back, again in json.loads(told):
        whole += once[:fresh]
        once = once[fresh:]
        assert again <= back <= len(whole)
        for _ in range(again):
            whole.append(whole[-back])
    assert not once
    return bytes(whole)


@given(LINES, st.sampled_from([b"\n", b""]))
def test_it_can_be_written_out_again(lines: list[bytes], end: bytes) -> None:
    content = b"\n".join(lines) + end
    assert unfold(fold(content)) == content


@given(LINES, LINES, LINES)
def test_a_long_run_that_came_before_is_not_sent_again(
    before: list[bytes], run: list[bytes], after: list[bytes]
) -> None:
    # Something that is nowhere else around it keeps the run from being longer than it is drawn.
    text, first, last = (b"".join(line + b"\n" for line in each) for each in (run, before, after))
    text = b"x\n" + text + b"d" * LEAST + b"\n"
    content = first + text + b"between\n" + text + last
    told = json.loads(fold(content).partition(b"\n")[0])
    ends = accumulate(fresh + again for fresh, _, again in told)
    again = [range(end - again, end) for end, (_, _, again) in zip(ends, told, strict=True)]
    second = len(first + text + b"between\n")
    assert any(second in each and second + len(text) - 1 in each for each in again)


def test_the_pack_is_the_kept_texts_one_after_the_other(site: Path) -> None:
    whole = unfold((site / PACK).read_bytes())
    start = 0
    for path, length in zip(kept_files(site), lengths(site), strict=True):
        if length:
            assert whole[start : start + length] == path.read_bytes(), path
        start += length
    assert start == len(whole)
