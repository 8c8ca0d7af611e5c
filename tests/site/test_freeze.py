"""The frozen site: deterministic, one version throughout, nothing inline, nothing unplanned."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from flask import Flask, abort

from site_src.lookups import all_lookups
from site_src.publish.app import UNSTAMPED
from site_src.publish.errors import BuildError
from site_src.publish.freeze import freeze, plan
from site_src.publish.policy import CONTENT_POLICY, TYPES
from tests.conftest import build_site
from tests.site.html import elements


def _contents(site: Path) -> dict[str, bytes]:
    files = (path for path in site.rglob("*") if path.is_file())
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in files}


def test_two_builds_give_identical_bytes(site: Path, tmp_path: Path) -> None:
    again = tmp_path / "again"
    again.mkdir()
    (again / ".gitkeep").touch()
    (again / "left-over.html").write_text("from an earlier build")
    elsewhere = {"PYTHONHASHSEED": "12345", "TZ": "Pacific/Chatham", "LC_ALL": "C"}
    rebuilt = _contents(build_site(again, **elsewhere))
    assert rebuilt.pop(".gitkeep") == b""
    first = _contents(site)
    assert sorted(rebuilt) == sorted(first)
    assert [name for name in first if first[name] != rebuilt[name]] == []


def test_every_page_has_one_title_and_one_main_part(site: Path) -> None:
    for page in site.rglob("*.html"):
        found = elements(page)
        for tag in ("title", "main", "h1"):
            assert sum(each.tag == tag for each in found) == 1, (page.name, tag)


def test_one_version_stands_in_pages_catalogue_and_script(site: Path) -> None:
    version = json.loads((site / "lookups.json").read_text(encoding="utf-8"))["version"]
    assert re.fullmatch(r"[0-9a-f]{12}", version)
    script = (site / "static/js/bundle/shared.js").read_text(encoding="utf-8")
    assert f'const VERSION = "{version}";' in script
    for page in site.rglob("*.html"):
        stated = [
            e.attributes["content"]
            for e in elements(page)
            if e.attributes.get("name") == "bay-version"
        ]
        assert stated == [version], page
    assert not [name for name, data in _contents(site).items() if UNSTAMPED.encode() in data]


def test_every_page_states_the_policy_before_anything_that_it_governs(site: Path) -> None:
    for page in site.rglob("*.html"):
        found = elements(page)
        policy = [
            n
            for n, e in enumerate(found)
            if e.attributes.get("http-equiv") == "Content-Security-Policy"
        ]
        assert [found[n].attributes["content"] for n in policy] == [CONTENT_POLICY], page
        loads = [n for n, e in enumerate(found) if e.tag in ("link", "script", "img", "style")]
        assert policy[0] < min(loads), page


def test_nothing_is_inline_and_nothing_comes_from_elsewhere(site: Path) -> None:
    for page in site.rglob("*.html"):
        for element in elements(page):
            attributes = element.attributes
            assert "style" not in attributes, (page, element)
            assert not [name for name in attributes if name.startswith("on")], (page, element)
            assert element.tag != "style", page
            if element.tag == "script":
                assert "src" in attributes, (page, element)
                assert not element.text.strip(), (page, element)
            if element.tag in ("link", "script", "img"):
                address = attributes.get("src", attributes.get("href", ""))
                assert not re.match(r"[a-z]+:|//|/", address), (page, element)


def test_style_sheets_and_scripts_name_no_other_host(site: Path) -> None:
    for path in [*site.rglob("*.css"), *site.rglob("*.js")]:
        text = path.read_text(encoding="utf-8").replace("http://www.w3.org/", "")
        assert not re.search(r"https?://|url\(\s*['\"]?//|@import", text), path


def test_every_file_has_a_type_that_the_server_knows(site: Path) -> None:
    endings = {path.suffix for path in site.rglob("*") if path.is_file()} - {""}
    assert endings <= set(TYPES)


@pytest.mark.parametrize(("number", "why"), [(1, "planned.*/other/1/"), (2, "404.*/other/2/")])
def test_a_link_to_what_is_not_there_or_not_planned_stops_the_build(
    number: int, why: str, tmp_path: Path
) -> None:
    app = Flask("stray", static_folder=None)

    @app.get("/")
    def home() -> str:
        return app.url_for("other", number=number)

    @app.get("/other/<int:number>/")
    def other(number: int) -> str:
        return str(number) if number == 1 else abort(404)

    with pytest.raises(BuildError, match=why):
        freeze(app, [("home", {})], tmp_path / "out")


def test_two_tables_of_one_name_stop_the_build() -> None:
    first, second, *_ = all_lookups()
    clash, same = replace(second), replace(second)
    vars(clash)["written"] = replace(
        second.written, tables=(replace(first.tables[0], tolerance=1.0),)
    )
    vars(same)["written"] = replace(second.written, tables=first.tables[:1])
    with pytest.raises(BuildError, match=f"{first.tables[0].name}, of {first.key} and of"):
        plan([first, clash])
    plan([first, same])
