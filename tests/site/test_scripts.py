"""The phone's scripts: types hold, modules load in Node, and no engineering formula among them."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from site_src.checks import TYPESCRIPT

STRICT = [
    *("--noEmit", "--allowJs", "--checkJs", "--strict"),
    *("--target", "es2022", "--module", "es2022", "--moduleResolution", "bundler"),
    *("--lib", "es2022,dom,dom.iterable"),
]


def test_types_hold_in_every_script(site: Path) -> None:
    compiler = shutil.which("tsc") or (str(TYPESCRIPT) if TYPESCRIPT.is_file() else None)
    if not compiler:
        pytest.skip("no TypeScript compiler; build.py test installs one where npm is")
    scripts = sorted(str(path) for path in (site / "static/js").rglob("*.js"))
    found = subprocess.run(
        [compiler, *STRICT, *scripts], capture_output=True, text=True, check=False
    )
    assert not found.stdout
    assert found.returncode == 0


def test_no_script_uses_what_engines_round_differently(site: Path) -> None:
    # IEEE 754-2019, 9.2: exp, log, pow and the trigonometric functions are only recommended, so
    # engines differ in their last bits. They belong into tables.
    loose = re.compile(r"Math\.(exp|log|log2|log10|pow|sin|cos|tan|atan2?|cbrt|hypot)\b|\*\*")
    comments = re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL)
    recipe = (site / "static/js/recipe.js").read_text(encoding="utf-8")
    assert not loose.search(comments.sub("", recipe))


def test_no_script_makes_code_or_markup_from_text(site: Path) -> None:
    for path in (site / "static/js").rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(
            r"\beval\(|new Function\(|innerHTML|outerHTML|insertAdjacentHTML", text
        )
