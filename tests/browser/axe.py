"""What axe finds wrong with a page."""

from __future__ import annotations

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# What passed is not written out: that takes as long as the rules.
WRONG_ONLY = {"resultTypes": ["violations"]}
# The rule for contrast takes longer than all others together.
NO_CONTRAST = WRONG_ONLY | {"rules": {"color-contrast": {"enabled": False}}}


def violations(
    page: Page, context: str | None = None, *, contrast: bool = True
) -> list[dict[str, Any]]:
    """Return the rules that a page breaks, or one part of it, each with the elements that do."""
    options = WRONG_ONLY if contrast else NO_CONTRAST
    found: list[dict[str, Any]] = (
        Axe().run(page, context=context, options=options).response["violations"]
    )
    return found
