"""Contrast of every pair of colours that carries something to read, in every screen mode.

Source: WCAG 2.2, relative luminance and contrast ratio; 7:1 is success criterion 1.4.6 (AAA),
3:1 for shapes is 1.4.11.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOKENS = Path(__file__).resolve().parents[2] / "site_src" / "static" / "css" / "tokens.css"

TEXT = [
    ("ink", "paper"),
    ("ink", "card"),
    ("ink", "steel"),
    ("ink-soft", "paper"),
    ("ink-soft", "card"),
    ("accent", "paper"),
    ("accent", "card"),
    ("on-accent", "accent"),
    ("on-dye", "dye"),
    ("on-dye", "dye-deep"),
    ("on-dye-soft", "dye"),
    ("near-on-dye", "dye"),
    ("near", "paper"),
    ("near", "card"),
    ("on-beyond", "beyond"),
    ("paper", "ink"),
]
SHAPES = [("line-strong", "card"), ("beyond", "paper"), ("steel-edge", "paper")]


def modes() -> dict[str, dict[str, str]]:
    """Read the colours of each mode; a mode keeps what it doesn't change."""
    text = TOKENS.read_text(encoding="utf-8")
    blocks = {
        "light": r":root \{(.*?)\n\}",
        "auto dark": r':root\[data-mode="auto"\] \{(.*?)\n  \}',
        "dark": r':root\[data-mode="dark"\] \{(.*?)\n\}',
        "sunlight": r':root\[data-mode="sunlight"\] \{(.*?)\n\}',
    }
    found: dict[str, dict[str, str]] = {}
    for name, pattern in blocks.items():
        block = re.search(pattern, text, re.DOTALL)
        assert block, name
        own = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{3,6});", block.group(1)))
        found[name] = found.get("light", {}) | own
    return found


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * c for c in colour[1:])
    shares = [int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_21_to_1() -> None:
    assert contrast("#000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("mode", ["light", "auto dark", "dark", "sunlight"])
@pytest.mark.parametrize(("front", "back"), TEXT)
def test_text_stands_out_seven_to_one(mode: str, front: str, back: str) -> None:
    colours = modes()[mode]
    assert contrast(colours[front], colours[back]) >= 7.0


@pytest.mark.parametrize("mode", ["light", "auto dark", "dark", "sunlight"])
@pytest.mark.parametrize(("front", "back"), SHAPES)
def test_edges_that_mean_something_stand_out_three_to_one(mode: str, front: str, back: str) -> None:
    colours = modes()[mode]
    assert contrast(colours[front], colours[back]) >= 3.0


def test_both_dark_modes_are_one() -> None:
    found = modes()
    assert found["auto dark"] == found["dark"]


def test_sunlight_knows_only_black_and_white() -> None:
    own = {c for name, c in modes()["sunlight"].items()}
    assert own <= {"#fff", "#000"}
