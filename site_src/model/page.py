"""A page that is not a lookup: where one works on something, or keeps something."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Page:
    """One page: its place among the others, its template, and what that is given."""

    key: str
    title: str
    short: str
    question: str
    stage: str
    template: str
    context: Callable[[], Mapping[str, object]]
    quick: bool = False
