"""The icons: real PNGs of the stated size, and a maskable one that a launcher may cut."""

from __future__ import annotations

import math
import struct
import zlib
from xml.etree import ElementTree

import numpy as np
import pytest
from numpy.typing import NDArray

from site_src.publish.icons import DYE, SAFE, icon, icon_names


def _pixels(name: str) -> NDArray[np.uint8]:
    """Decode a PNG of ours, by the letter of the PNG specification (W3C, third edition)."""
    data = icon(name)
    assert data
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, size, chunks = 8, 0, {}
    while at < len(data):
        (length,), kind = struct.unpack(">I", data[at : at + 4]), data[at + 4 : at + 8]
        body = data[at + 8 : at + 8 + length]
        (check,) = struct.unpack(">I", data[at + 8 + length : at + 12 + length])
        assert check == zlib.crc32(kind + body)
        chunks[kind] = body
        at += 12 + length
    width, size, *rest = struct.unpack(">IIBBBBB", chunks[b"IHDR"])
    assert (width, rest) == (size, [8, 3, 0, 0, 0])
    rows = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(size, -1)
    assert not rows[:, 0].any()
    palette = np.frombuffer(chunks[b"PLTE"], dtype=np.uint8).reshape(-1, 3)
    clear = np.frombuffer(chunks.get(b"tRNS", b""), dtype=np.uint8)
    alpha = np.full((len(palette), 1), 255, dtype=np.uint8)
    alpha[: len(clear), 0] = clear
    colours = np.concatenate([palette, alpha], axis=1)[rows[:, 1:]]
    # Without a tRNS chunk an image is opaque, and says so by its shape here.
    return colours if len(clear) else colours[:, :, :3]


PNGS = [name for name in icon_names() if name.endswith(".png")]


@pytest.mark.parametrize("name", PNGS)
def test_each_icon_has_the_size_in_its_name(name: str) -> None:
    size = int(name.rpartition("-")[2].removesuffix(".png"))
    assert _pixels(name).shape[:2] == (size, size)


def test_the_maskable_icon_is_opaque_and_keeps_its_artwork_in_the_safe_circle() -> None:
    pixels = _pixels("maskable-512.png")
    assert pixels.shape[2] == 3
    background = [int(DYE[n : n + 2], 16) for n in (1, 3, 5)]
    rows, columns = np.nonzero((pixels != background).any(axis=2))
    assert rows.size
    reach = max(math.hypot(r - 255.5, c - 255.5) for r, c in zip(rows, columns, strict=True))
    # W3C Web Application Manifest, "safe zone": a circle of 2/5 of the icon's width.
    assert SAFE == 2 * 2 / 5
    assert reach <= 0.4 * 512
    assert reach > 0.35 * 512  # and fills it


def test_the_plain_icon_has_clear_corners() -> None:
    pixels = _pixels("icon-192.png")
    assert pixels.shape[2] == 4
    assert pixels[0, 0, 3] == 0
    assert pixels[96, 4, 3] == 255


def test_the_svg_icon_is_well_formed_and_draws_the_same_shapes() -> None:
    drawn = icon("icon.svg")
    assert drawn
    root = ElementTree.fromstring(drawn)
    assert root.get("viewBox") == "0 0 100 100"
    kinds = [child.tag.rpartition("}")[2] for child in root]
    assert kinds.count("circle") == 2
    assert kinds.count("rect") == 2


def test_there_is_no_icon_of_another_name() -> None:
    assert icon("icon-193.png") is None
