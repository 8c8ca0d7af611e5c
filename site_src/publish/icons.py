"""The icons: a belt over two pulleys above a steel rule, on layout-dye blue. Drawn by ourselves.

A drawing is a list of a few plain shapes on a unit square. The same list becomes PNG, with edges
smoothed from each shape's distance, and SVG.
"""

from __future__ import annotations

import math
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]

PAPER, INK, DYE = "#f6f3ea", "#14181c", "#1f3f8f"

SAFE = 0.8
"""Diameter of the circle that a launcher never cuts into, as a share of a maskable icon."""


@dataclass(frozen=True)
class Bar:
    """A straight stroke with round ends; a dot, if both ends are the same."""

    x0: float
    y0: float
    x1: float
    y1: float
    width: float
    colour: str = PAPER

    def distance(self, x: Floats, y: Floats) -> Floats:
        """Return distances to the edge, negative inside."""
        dx, dy = self.x1 - self.x0, self.y1 - self.y0
        length = dx * dx + dy * dy
        along = ((x - self.x0) * dx + (y - self.y0) * dy) / length if length else 0.0
        t = np.clip(along, 0.0, 1.0)
        return np.hypot(x - self.x0 - t * dx, y - self.y0 - t * dy) - self.width / 2

    def svg(self) -> str:
        """Return the shape as an SVG element."""
        return (
            f'<path d="M{_n(self.x0)} {_n(self.y0)}L{_n(self.x1)} {_n(self.y1)}" '
            f'stroke="{self.colour}" stroke-width="{_n(self.width)}" stroke-linecap="round"/>'
        )


@dataclass(frozen=True)
class Ring:
    """A circle's line; a disc, if it is as wide as the circle."""

    x: float
    y: float
    radius: float
    width: float
    colour: str = PAPER

    def distance(self, x: Floats, y: Floats) -> Floats:
        """Return distances to the edge, negative inside."""
        return np.abs(np.hypot(x - self.x, y - self.y) - self.radius) - self.width / 2

    def svg(self) -> str:
        """Return the shape as an SVG element."""
        return (
            f'<circle cx="{_n(self.x)}" cy="{_n(self.y)}" r="{_n(self.radius)}" fill="none" '
            f'stroke="{self.colour}" stroke-width="{_n(self.width)}"/>'
        )


@dataclass(frozen=True)
class Box:
    """An upright rectangle with rounded corners."""

    x0: float
    y0: float
    x1: float
    y1: float
    corner: float
    colour: str = PAPER

    def distance(self, x: Floats, y: Floats) -> Floats:
        """Return distances to the edge, negative inside."""
        half_x, half_y = (self.x1 - self.x0) / 2, (self.y1 - self.y0) / 2
        over_x = np.abs(x - self.x0 - half_x) - half_x + self.corner
        over_y = np.abs(y - self.y0 - half_y) - half_y + self.corner
        outside = np.hypot(np.maximum(over_x, 0.0), np.maximum(over_y, 0.0))
        return outside + np.minimum(np.maximum(over_x, over_y), 0.0) - self.corner

    def svg(self) -> str:
        """Return the shape as an SVG element."""
        return (
            f'<rect x="{_n(self.x0)}" y="{_n(self.y0)}" width="{_n(self.x1 - self.x0)}" '
            f'height="{_n(self.y1 - self.y0)}" rx="{_n(self.corner)}" fill="{self.colour}"/>'
        )


Shape: TypeAlias = Bar | Ring | Box


# --- the drawings ----------------------------------------------------------------------------


def _belt_drive() -> tuple[Shape, ...]:
    """A belt over a large and a small pulley, above a rule."""
    return (*_belt((0.36, 0.37), 0.185, (0.72, 0.30), 0.105), *_rule(0.62, 0.84))


def _pulleys() -> tuple[Shape, ...]:
    """The belt and its pulleys alone, larger."""
    return _belt((0.38, 0.52), 0.24, (0.79, 0.46), 0.11)


def _belt(
    large: tuple[float, float], radius: float, small: tuple[float, float], other: float
) -> tuple[Shape, ...]:
    """Two pulleys with their hubs, and the belt's two free spans along the outer tangents."""
    (x0, y0), (x1, y1) = large, small
    towards = math.atan2(y1 - y0, x1 - x0)
    lean = math.acos((radius - other) / math.hypot(x1 - x0, y1 - y0))
    spans = []
    for angle in (towards + lean, towards - lean):
        c, s = math.cos(angle), math.sin(angle)
        ends = x0 + radius * c, y0 + radius * s, x1 + other * c, y1 + other * s
        spans.append(Bar(*ends, 0.045))
    hubs = (Bar(x0, y0, x0, y0, 0.1), Bar(x1, y1, x1, y1, 0.07))
    return (Ring(x0, y0, radius, 0.045), Ring(x1, y1, other, 0.045), *spans, *hubs)


def _rule(top: float, bottom: float) -> tuple[Shape, ...]:
    """A steel rule with its marks, every fourth one long."""
    marks = []
    for number in range(13):
        x = 0.17 + number * 0.055
        length = 0.11 if number % 4 == 0 else 0.06
        marks.append(Bar(x, top + 0.03, x, top + length, 0.018, INK))
    return (Box(0.11, top, 0.89, bottom, 0.02), *marks)


def _bolt() -> tuple[Shape, ...]:
    """A hexagon bolt head from above, with the arc that it is turned through."""
    corners = [
        (0.5 + 0.2 * math.cos(math.radians(a)), 0.53 + 0.2 * math.sin(math.radians(a)))
        for a in range(0, 360, 60)
    ]
    sides = [
        Bar(*corner, *following, 0.05)
        for corner, following in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
    turn = _arc(0.5, 0.53, 0.335, 200, 330)
    tip = turn[-1].x1, turn[-1].y1
    head = []
    for barb in (330 - 90 + 40, 330 - 90 - 40):
        c, s = math.cos(math.radians(barb)), math.sin(math.radians(barb))
        head.append(Bar(*tip, tip[0] + 0.13 * c, tip[1] + 0.13 * s, 0.05))
    return (*sides, Ring(0.5, 0.53, 0.085, 0.04), *turn, *head)


def _bend() -> tuple[Shape, ...]:
    """A bent hose with a rule laid across it."""
    outer, inner = _arc(0.5, 0.74, 0.42, 190, 350), _arc(0.5, 0.74, 0.27, 190, 350)
    chord = Bar(0.26, 0.62, 0.74, 0.62, 0.045)
    rise = Bar(0.5, 0.62, 0.5, 0.49, 0.03)
    return (*outer, *inner, chord, rise)


def _arc(x: float, y: float, radius: float, start: int, end: int) -> tuple[Bar, ...]:
    """An arc as short strokes, angles in degrees, clockwise on the screen."""
    points = [
        (x + radius * math.cos(math.radians(a)), y + radius * math.sin(math.radians(a)))
        for a in range(start, end + 1, 10)
    ]
    return tuple(Bar(*point, *following, 0.05) for point, following in pairwise(points))


# --- the files -------------------------------------------------------------------------------

_ROUND = Box(0.0, 0.0, 1.0, 1.0, 0.16, DYE)
_FULL = Box(0.0, 0.0, 1.0, 1.0, 0.0, DYE)

SHORTCUTS: dict[str, Callable[[], tuple[Shape, ...]]] = {
    "boost": _pulleys,
    "torque": _bolt,
    "hose-bend": _bend,
}
"""The lookups that have an icon of their own, by key."""

SHORTCUT_SIZE = 96
"""Pixels, as browsers ask for. A launcher draws them small, and a phone keeps each of them."""


def icon_names() -> list[str]:
    """Return the name of every icon file."""
    shortcuts = [f"{key}-{SHORTCUT_SIZE}.png" for key in SHORTCUTS]
    return [
        "icon.svg",
        "apple-touch-180.png",
        "icon-192.png",
        "icon-512.png",
        "maskable-512.png",
        *shortcuts,
    ]


@cache
def icon(name: str) -> bytes | None:
    """Return an icon file, or None if there is none of that name.

    >>> icon("icon-192.png")[1:4], icon("none.png")
    (b'PNG', None)
    """
    if name not in icon_names():
        return None
    if name.endswith(".svg"):
        return _svg((_ROUND, *_belt_drive()))
    stem, size = name.removesuffix(".png").rsplit("-", 1)
    if stem == "maskable":
        return _png((_FULL, *_shrunk(_belt_drive())), int(size))
    if size == "180":
        # For home screens that round the corners themselves and turn what is clear black.
        return _png((_FULL, *_belt_drive()), int(size))
    return _png((_ROUND, *SHORTCUTS.get(stem, _belt_drive)()), int(size))


def _shrunk(shapes: tuple[Shape, ...]) -> tuple[Shape, ...]:
    """Shrink a drawing about the middle until its farthest corner is inside the safe circle."""
    reach = max(math.hypot(x - 0.5, y - 0.5) for shape in shapes for x, y in _extent(shape))
    share = min(1.0, 0.97 * SAFE / 2 / reach)
    return tuple(_scaled(shape, share) for shape in shapes)


def _extent(shape: Shape) -> list[tuple[float, float]]:
    """Return points that enclose a shape."""
    if isinstance(shape, Ring):
        r = shape.radius + shape.width / 2
        return [(shape.x + r * c, shape.y + r * s) for c in (-1, 1) for s in (-1, 1)]
    grown = shape.width / 2 if isinstance(shape, Bar) else 0.0
    return [
        (x + grown * c, y + grown * s)
        for x in (shape.x0, shape.x1)
        for y in (shape.y0, shape.y1)
        for c in (-1, 1)
        for s in (-1, 1)
    ]


def _scaled(shape: Shape, share: float) -> Shape:
    """Scale a shape about the middle of the square."""

    def at(value: float) -> float:
        return 0.5 + (value - 0.5) * share

    if isinstance(shape, Ring):
        return Ring(
            at(shape.x), at(shape.y), shape.radius * share, shape.width * share, shape.colour
        )
    ends = at(shape.x0), at(shape.y0), at(shape.x1), at(shape.y1)
    if isinstance(shape, Bar):
        return Bar(*ends, shape.width * share, shape.colour)
    return Box(*ends, shape.corner * share, shape.colour)


def _png(shapes: tuple[Shape, ...], size: int) -> bytes:
    """Paint the shapes one over the other and write a PNG."""
    middle = (np.arange(size) + 0.5) / size
    x, y = np.meshgrid(middle, middle)
    colour, alpha = np.zeros((size, size, 3)), np.zeros((size, size, 1))
    for shape in shapes:
        cover = np.clip(0.5 - shape.distance(x, y) * size, 0.0, 1.0)[..., np.newaxis]
        # Eight shades of edge are as smooth to the eye as 256, and pack much smaller.
        cover = np.round(cover * 7) / 7
        paint = np.array([int(shape.colour[n : n + 2], 16) for n in (1, 3, 5)], dtype=np.float64)
        total = cover + alpha * (1 - cover)
        mixed = paint * cover + colour * alpha * (1 - cover)
        colour, alpha = mixed / np.where(total == 0.0, 1.0, total), total
    pixels = np.concatenate([np.round(colour), np.round(alpha * 255)], axis=2)
    return _encoded(pixels.astype(np.uint8))


def _encoded(pixels: NDArray[np.uint8]) -> bytes:
    """Write pixels as a PNG with a palette; without transparency, if nothing is clear."""
    size = pixels.shape[0]
    palette, numbers = np.unique(pixels.reshape(-1, 4), axis=0, return_inverse=True)
    assert len(palette) <= 256, "too many colours for a palette"
    rows = numbers.reshape(size, size).astype(np.uint8)
    packed = zlib.compress(b"".join(b"\0" + row.tobytes() for row in rows), 9)
    chunks = [
        (b"IHDR", struct.pack(">IIBBBBB", size, size, 8, 3, 0, 0, 0)),
        (b"PLTE", palette[:, :3].tobytes()),
        *([(b"tRNS", palette[:, 3].tobytes())] if (palette[:, 3] < 255).any() else []),
        (b"IDAT", packed),
        (b"IEND", b""),
    ]
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    """Write one chunk of a PNG with its length and checksum."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _svg(shapes: tuple[Shape, ...]) -> bytes:
    """Write the shapes as an SVG file."""
    body = "".join(shape.svg() for shape in shapes)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{body}</svg>\n'.encode()


def _n(value: float) -> str:
    """Write a length of the unit square in hundredths, for the SVG."""
    return f"{value * 100:.2f}".rstrip("0").rstrip(".")
