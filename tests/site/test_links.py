"""Every link leads somewhere, within the site, from wherever the site lies."""

from __future__ import annotations

import posixpath
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from site_src.publish.addresses import relative
from tests.site.html import elements, links


def _broken(site: Path, page: Path) -> list[str]:
    base = page.relative_to(site).parent.as_posix()
    broken = []
    for link in links(page):
        parts = urlsplit(link)
        path = posixpath.normpath(posixpath.join(base, unquote(parts.path) or page.name))
        target = site / path / ("index.html" if parts.path.endswith("/") else "")
        outside = parts.scheme or parts.netloc or link.startswith("/")
        if outside or not target.is_file() or not _has(target, parts.fragment):
            broken.append(link)
    return broken


def _has(target: Path, fragment: str) -> bool:
    if not fragment or target.suffix != ".html":
        return True
    return fragment in {e.attributes.get("id") for e in elements(target)}


def _local(link: str) -> bool:
    # Sources may be cited with their address; nothing is loaded from there.
    return not link.startswith("https://")


def test_every_link_and_anchor_leads_to_something_in_the_site(site: Path) -> None:
    pages = sorted(site.rglob("*.html"))
    assert pages
    broken = {str(p.relative_to(site)): [x for x in _broken(site, p) if _local(x)] for p in pages}
    assert not {page: found for page, found in broken.items() if found}


def test_every_page_can_be_reached_from_home(site: Path) -> None:
    reached, waiting = set(), [""]
    while waiting:
        page = waiting.pop()
        if page in reached:
            continue
        reached.add(page)
        for link in links(site / page / "index.html"):
            path = urlsplit(link).path
            if _local(link) and (path.endswith("/") or not path):
                target = posixpath.normpath(posixpath.join(page, path))
                waiting.append("" if target == "." else f"{target}/")
    folders = (path.parent.relative_to(site) for path in site.rglob("index.html"))
    assert reached == {"" if folder == Path() else f"{folder.as_posix()}/" for folder in folders}


def test_ids_are_unique_on_each_page(site: Path) -> None:
    for page in site.rglob("*.html"):
        ids = [e.attributes["id"] for e in elements(page) if "id" in e.attributes]
        assert len(ids) == len(set(ids)), page


@pytest.mark.parametrize(
    ("target", "page", "link"),
    [
        ("/", "/", "./"),
        ("/boost/", "/", "boost/"),
        ("/", "/boost/", "../"),
        ("/torque/?thread=M8#why", "/boost/", "../torque/?thread=M8#why"),
        ("/static/js/a.js", "/boost/", "../static/js/a.js"),
        ("/manifest.webmanifest", "/404.html", "manifest.webmanifest"),
        ("/boost/", "/boost/", "./"),
    ],
)
def test_links_are_relative_and_folders_keep_their_slash(target: str, page: str, link: str) -> None:
    assert relative(target, page) == link
