"""A small reader of our own pages: elements with their attributes, and text by element."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    text: str = ""


@dataclass
class _Reader(HTMLParser):
    elements: list[Element] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_data(self, data: str) -> None:
        if self.elements:
            self.elements[-1].text += data


def elements(page: Path) -> list[Element]:
    """Return every element of a page, in order."""
    reader = _Reader()
    reader.feed(page.read_text(encoding="utf-8"))
    return reader.elements


def links(page: Path) -> list[str]:
    """Return everything that a page links to or loads."""
    named = ("href", "src", "action", "poster")
    return [e.attributes[n] for e in elements(page) for n in named if n in e.attributes]
