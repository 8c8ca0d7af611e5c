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
from site_src.publish import bundles, scripts
from site_src.publish.errors import BuildError
from tests.site.html import elements

STRICT = [
    *("--noEmit", "--allowJs", "--checkJs", "--strict", "--skipLibCheck"),
    *("--target", "es2022", "--module", "es2022", "--moduleResolution", "bundler"),
    *("--lib", "es2022,dom,dom.iterable"),
]


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All modules in a folder, with the one that has no file."""
    folder = tmp_path_factory.mktemp("scripts") / "js"
    shutil.copytree(scripts.SCRIPTS, folder)
    (folder / scripts.GENERATED).write_text(scripts.text_of(scripts.GENERATED), encoding="utf-8")
    return folder


def test_types_hold_in_every_script(written: Path) -> None:
    compiler = shutil.which("tsc") or (str(TYPESCRIPT) if TYPESCRIPT.is_file() else None)
    if not compiler:
        pytest.skip("no TypeScript compiler; build.py test installs one where npm is")
    modules = sorted(str(path) for path in written.rglob("*.js"))
    found = subprocess.run(
        [compiler, *STRICT, *modules], capture_output=True, text=True, check=False
    )
    assert not found.stdout
    assert found.returncode == 0


EXACT = {"abs", "ceil", "floor", "max", "min", "round", "sign", "sqrt", "trunc"}
"""Defined to the last bit by ECMAScript, 21.3.2. But for the square root, which it leaves open:
IEEE 754-2019, 5.4.1, has it rounded correctly, and engines take it from the processor."""

DRAWN_ONLY = {"bolts/drawing.js"}
"""Places on a drawing, which are rounded to a tenth of a pixel and which no number depends on."""


def test_no_number_depends_on_what_engines_round_differently(written: Path) -> None:
    # IEEE 754-2019, 9.2: exp, log, pow and the trigonometric functions are only recommended, so
    # engines differ in their last bits. They belong into tables. toFixed, parsing and the four
    # operations are defined exactly.
    modules = {name: text for name, text in _modules(written).items() if name not in DRAWN_ONLY}
    assert set(_modules(written)) > DRAWN_ONLY
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


def test_no_script_makes_code_or_markup_from_text(written: Path) -> None:
    for path in written.rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(
            r"\beval\(|new Function\(|innerHTML|outerHTML|insertAdjacentHTML", text
        )


# --- which modules a page loads ------------------------------------------------------------------

COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL)


def _modules(folder: Path) -> dict[str, str]:
    """Return every module's text without comments, by its path below static/js."""
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


def _bundled(page: Path, site: Path) -> list[tuple[str, str]]:
    """Return the scripts that a page starts, by their path below static/js, and what of them."""
    root = posixpath.relpath((site / "static/js").as_posix(), page.parent.as_posix()) + "/"
    found = [e.attributes for e in elements(page) if e.tag == "script"]
    return [(e["src"].removeprefix(root), e.get("data-starts", "")) for e in found]


def _started(page: Path, site: Path) -> list[str]:
    """Return the scripts that a page starts, by their path below static/js, in order."""
    return [script for script, _ in _bundled(page, site)]


def test_a_page_starts_few_bundles_and_has_one_style_sheet(site: Path) -> None:
    for page in site.rglob("*.html"):
        started = _started(page, site)
        assert started[:2] == ["pages/watch.js", "bundle/every_page.js"], page
        assert len(started) <= 5, page
        sheets = [e for e in elements(page) if e.attributes.get("rel") == "stylesheet"]
        assert len(sheets) == 1, page


def test_bundles_are_scripts_that_browsers_keep_compiled(site: Path) -> None:
    # Chromium keeps no module compiled that a service worker serves.
    for page in site.rglob("*.html"):
        first, *bundled = [e.attributes for e in elements(page) if e.tag == "script"]
        assert "defer" not in first, page
        assert all("defer" in each and "type" not in each for each in bundled), page


_HELD = re.compile(r'^(if \(starts === "lookup"\) )?modules\["([^"]+)"\] = ', re.MULTILINE)


def _held(site: Path, script: str, starts: str = "lookup") -> list[str]:
    """Return the modules that a bundle runs, in order."""
    text = (site / "static/js" / script).read_text(encoding="utf-8")
    return [name for asked, name in _HELD.findall(text) if not asked or starts == "lookup"]


def test_every_module_is_in_a_page_once_and_after_what_it_imports(
    written: Path, site: Path
) -> None:
    modules = _modules(written)
    held = {module for name in bundles.names() for module in _held(site, f"bundle/{name}.js")}
    assert held | {*scripts.ALONE} == set(modules)
    for page in site.rglob("*.html"):
        order = [
            module
            for script, starts in _bundled(page, site)[1:]
            for module in _held(site, script, starts)
        ]
        assert len(order) == len(set(order)), page
        for at, module in enumerate(order):
            assert _imported(modules, module) <= set(order[:at]), (page, module)


def test_what_a_page_starts_is_in_a_room_of_its_own_and_nothing_imports_it(
    written: Path, site: Path
) -> None:
    modules = _modules(written)
    entries = {name for name in modules if name.startswith("pages/")}
    assert not {name for each in modules for name in _imported(modules, each)} & entries
    assert _behind(modules, entries) | {*scripts.ALONE} == set(modules)
    started = {name for page in site.rglob("*.html") for name in _started(page, site)}
    assert started == {f"bundle/{name}.js" for name in bundles.names()} | {"pages/watch.js"}
    for page in site.rglob("*.html"):
        is_lookup = f'data-lookup="{page.parent.name}"' in page.read_text(encoding="utf-8")
        modules_run = {
            m for script, starts in _bundled(page, site)[1:] for m in _held(site, script, starts)
        }
        assert ("pages/lookup.js" in modules_run) == is_lookup, page


@pytest.mark.parametrize("line", ["export default 1;", "export { a };", 'import a from "./b.js";'])
def test_what_a_bundle_can_not_hold_stops_the_build(
    line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "odd.js").write_text(f"{line}\n", encoding="utf-8")
    monkeypatch.setattr(scripts, "SCRIPTS", tmp_path)
    with pytest.raises(BuildError, match=r"static/js/odd\.js has .*in braces"):
        bundles.as_function("odd.js")


def test_the_evaluator_needs_its_room_alone_and_no_module_needs_itself(written: Path) -> None:
    modules = _modules(written)
    assert _behind(modules, {"recipe.js"}) == set(scripts.EVALUATOR)
    for name in modules:
        assert name not in _behind(modules, _imported(modules, name)), name


def _names(folder: str, ending: str) -> set[str]:
    """Return the base names of our files in a folder and those below it."""
    return {path.stem for path in (SITE_SRC / folder).rglob(f"*{ending}")} - {"__init__"}


def test_one_thing_has_one_base_name_in_python_script_style_sheet_and_template() -> None:
    entries = _names("static/js/pages", ".js")
    everywhere = {"mode", "offline", "tables", "watch"}
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
