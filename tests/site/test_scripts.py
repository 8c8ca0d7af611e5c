"""The phone's scripts: types hold, modules load in Node, and no engineering formula among them."""

from __future__ import annotations

import posixpath
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from site_src.checks import TYPESCRIPT
from site_src.places import SITE_SRC
from site_src.publish import scripts
from site_src.publish.errors import BuildError
from tests.site.html import elements

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


EXACT = {"abs", "ceil", "floor", "max", "min", "round", "sign", "sqrt", "trunc"}
"""Defined to the last bit by ECMAScript, 21.3.2. But for the square root, which it leaves open:
IEEE 754-2019, 5.4.1, has it rounded correctly, and engines take it from the processor."""

DRAWN_ONLY = {"bolts/drawing.js"}
"""Places on a drawing, which are rounded to a tenth of a pixel and which no number depends on."""


def test_no_number_depends_on_what_engines_round_differently(site: Path) -> None:
    # IEEE 754-2019, 9.2: exp, log, pow and the trigonometric functions are only recommended, so
    # engines differ in their last bits. They belong into tables. toFixed, parsing and the four
    # operations are defined exactly.
    modules = {name: text for name, text in _modules(site).items() if name not in DRAWN_ONLY}
    assert set(_modules(site)) > DRAWN_ONLY
    for name, text in modules.items():
        assert set(re.findall(r"\bMath\.(\w+)", text)) <= EXACT, name
        assert text.count("Math") == len(re.findall(r"\bMath\.\w", text)), name
        assert "**" not in text, name
    # What is exact itself imports nothing that isn't.
    numbers = _behind(
        modules,
        {
            "recipe.js",
            "form/entries.js",
            "bolts/order.js",
            "sound/plucks.js",
            "sound/drive_tones.js",
        },
    )
    assert not numbers & DRAWN_ONLY


def test_no_script_makes_code_or_markup_from_text(site: Path) -> None:
    for path in (site / "static/js").rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(
            r"\beval\(|new Function\(|innerHTML|outerHTML|insertAdjacentHTML", text
        )


# --- which modules a page loads ------------------------------------------------------------------

COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL)
LOADED_BY_ADDRESS = {"sound/tap.js"}
"""Run beside the audio hardware, which no import reaches."""


def _modules(site: Path) -> dict[str, str]:
    """Return every module's text without comments, by its path below static/js."""
    folder = site / "static/js"
    return {
        path.relative_to(folder).as_posix(): COMMENT.sub("", path.read_text(encoding="utf-8"))
        for path in folder.rglob("*.js")
    }


def _imported(modules: dict[str, str], name: str) -> set[str]:
    """Return what a module imports, read more loosely than the build does."""
    found = re.findall(r'(?:from|import)\s*"(\.[^"]+\.js)"', modules[name])
    return {posixpath.normpath(posixpath.join(posixpath.dirname(name), each)) for each in found}


def _behind(modules: dict[str, str], entries: set[str]) -> set[str]:
    """Return entry scripts with all that they bring along."""
    waiting, known = list(entries), set(entries)
    for name in waiting:
        new = _imported(modules, name) - known
        known |= new
        waiting += new
    return known


def _started(page: Path, site: Path) -> tuple[set[str], list[str]]:
    """Return the scripts that a page starts, and the modules that it names beside them."""
    root = posixpath.relpath((site / "static/js").as_posix(), page.parent.as_posix()) + "/"
    found = elements(page)
    started = {e.attributes["src"].removeprefix(root) for e in found if e.tag == "script"}
    named = [
        e.attributes["href"].removeprefix(root)
        for e in found
        if e.attributes.get("rel") == "modulepreload"
    ]
    return started, named


def test_a_page_names_exactly_the_modules_that_it_will_need(site: Path) -> None:
    modules = _modules(site)
    for page in site.rglob("*.html"):
        started, named = _started(page, site)
        assert len(named) == len(set(named)), page
        assert started | set(named) == _behind(modules, started), page


def test_what_a_page_starts_is_in_a_room_of_its_own_and_nothing_imports_it(site: Path) -> None:
    modules = _modules(site)
    started = set().union(*(_started(page, site)[0] for page in site.rglob("*.html")))
    assert started == {name for name in modules if name.startswith("pages/")}
    assert not {name for each in modules for name in _imported(modules, each)} & started
    assert _behind(modules, started) | LOADED_BY_ADDRESS == set(modules)


def test_the_evaluator_needs_nothing_and_no_module_needs_itself(site: Path) -> None:
    modules = _modules(site)
    assert not _imported(modules, "recipe.js")
    for name in modules:
        assert name not in _behind(modules, _imported(modules, name)), name


def _names(folder: str, ending: str) -> set[str]:
    """Return the base names of our files in a folder and those below it."""
    return {path.stem for path in (SITE_SRC / folder).rglob(f"*{ending}")} - {"__init__"}


def test_one_thing_has_one_base_name_in_python_script_style_sheet_and_template() -> None:
    entries = _names("static/js/pages", ".js")
    everywhere = {"mode", "offline", "watch"}
    assert entries - everywhere - {"home", "lookup"} <= (
        _names("pages", ".py") | _names("lookups", ".py")
    )
    assert entries - everywhere <= _names("templates", ".html") | _names("static/css", ".css")
    scripts, drawn = _names("static/js", ".js"), _names("face", ".py")
    # The sheet is the whole of a page.
    assert drawn - scripts == {"sheet"}
    templates = _names("templates", ".html")
    # What all pages look like, and what they look like on paper.
    assert _names("static/css", ".css") - scripts - templates == {"tokens", "print"}


def test_an_import_that_leads_nowhere_stops_the_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages/lost.js").write_text(
        'import {\n  a,\n  b,\n} from "../form/none.js";\n', encoding="utf-8"
    )
    monkeypatch.setattr(scripts, "SCRIPTS", tmp_path)
    with pytest.raises(BuildError, match=r"pages/lost\.js imports form/none\.js"):
        scripts.imports_of("pages/lost.js")
