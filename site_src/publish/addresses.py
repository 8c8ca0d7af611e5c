"""Relative addresses, so that the frozen site works under any sub-path of any host."""

from __future__ import annotations

import posixpath

from flask import request, url_for


def relative(target: str, page: str) -> str:
    """Return a target's address relative to one of the site's pages, both given from the root.

    Folders keep their trailing slash: a host that hides `index.html` then has nothing to redirect.

    >>> relative("/boost/?air_from=altitude", "/help/"), relative("/", "/help/")
    ('../boost/?air_from=altitude', '../')
    >>> relative("/help/#trust", "/help/"), relative("/static/css/a.css", "/404.html")
    ('./#trust', 'static/css/a.css')
    """
    path, mark, rest = _split(target)
    relative_path = posixpath.relpath(path, posixpath.dirname(page))
    return relative_path + ("/" if path.endswith("/") else "") + mark + rest


def relative_url_for(endpoint: str, **values: object) -> str:
    """Do what `url_for` does in a template, relative to the page that is being rendered."""
    return relative(url_for(endpoint, **values), request.path)  # type: ignore[arg-type]


def _split(target: str) -> tuple[str, str, str]:
    """Cut a target where its query or its fragment begins."""
    for number, character in enumerate(target):
        if character in "?#":
            return target[:number], character, target[number + 1 :]
    return target, "", ""
