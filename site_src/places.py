"""Folders of the checkout, each named once."""

from __future__ import annotations

from pathlib import Path

SITE_SRC = Path(__file__).resolve().parent
ROOT = SITE_SRC.parent
DIST = ROOT / "dist"
CACHE = ROOT / ".cache"
"""What is kept between builds and tests; deleting it costs time and nothing else."""

LOCKS = ROOT / "locks"
"""Exact versions of all that is installed, with hashes."""

TEMPLATES = SITE_SRC / "templates"
