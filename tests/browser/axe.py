"""What axe finds wrong with a page."""

from __future__ import annotations

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

WRONG_ONLY = {"resultTypes": ["violations"]}
"""All rules are run. What passed is not written out: that takes five times as long as the rules."""


def violations(page: Page, context: str | None = None) -> list[dict[str, Any]]:
    """Return the rules that a page breaks, or one part of it, each with the elements that do."""
    found: list[dict[str, Any]] = (
        Axe().run(page, context=context, options=WRONG_ONLY).response["violations"]
    )
    return found
