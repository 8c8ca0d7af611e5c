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


def _started(page: Path, site: Path) -> list[str]:
    """Return the scripts that a page starts, by their path below static/js, in order."""
    root = posixpath.relpath((site / "static/js").as_posix(), page.parent.as_posix()) + "/"
    return [e.attributes["src"].removeprefix(root) for e in elements(page) if e.tag == "script"]


def test_a_page_starts_two_bundles_at_most_and_has_one_style_sheet(site: Path) -> None:
    for page in site.rglob("*.html"):
        started = _started(page, site)
        assert started[:2] == ["pages/watch.js", "bundle/every_page.js"], page
        assert len(started) <= 3, page
        sheets = [e for e in elements(page) if e.attributes.get("rel") == "stylesheet"]
        assert len(sheets) == 1, page


def test_what_keeps_the_site_needs_no_script_that_works_something_out(site: Path) -> None:
    assert 'from "./' not in bundles.script("every_page")
    assert "pages/offline.js" in _held(site, "every_page")


def _held(site: Path, bundle: str) -> list[str]:
    """Return the modules in a bundle, in order."""
    text = (site / f"static/js/bundle/{bundle}.js").read_text(encoding="utf-8")
    return re.findall(r'^modules\["([^"]+)"\] = ', text, re.MULTILINE)


def test_every_module_is_in_a_page_once_and_after_what_it_imports(
    written: Path, site: Path
) -> None:
    modules = _modules(written)
    held = {name: _held(site, name) for name in bundles.names()}
    assert {each for found in held.values() for each in found} | {*scripts.ALONE} == set(modules)
    imported = {name: re.findall(r'from "./(\w+)\.js"', bundles.script(name)) for name in held}
    assert {len(before) for before in imported.values()} == {0, 1}
    for name, own in held.items():
        order, before = own, imported[name]
        while before:
            order, before = held[before[0]] + order, imported[before[0]]
        assert len(order) == len(set(order)), name
        for at, module in enumerate(order):
            assert _imported(modules, module) <= set(order[:at]), (name, module)


def test_what_a_page_starts_is_in_a_room_of_its_own_and_nothing_imports_it(
    written: Path, site: Path
) -> None:
    modules = _modules(written)
    entries = {name for name in modules if name.startswith("pages/")}
    assert not {name for each in modules for name in _imported(modules, each)} & entries
    assert _behind(modules, entries) | {*scripts.ALONE} == set(modules)
    started = {name for page in site.rglob("*.html") for name in _started(page, site)}
    shared = {f"bundle/{name}.js" for name in ("shared", "record")}
    bundled = {f"bundle/{name}.js" for name in bundles.names()}
    assert started == (bundled - shared) | {"pages/watch.js"}


def test_a_page_asks_early_for_the_bundles_that_its_own_imports(site: Path) -> None:
    for page in site.rglob("*.html"):
        early = [
            posixpath.basename(e.attributes["href"]).removesuffix(".js")
            for e in elements(page)
            if e.attributes.get("rel") == "modulepreload"
        ]
        own = posixpath.basename(_started(page, site)[-1]).removesuffix(".js")
        behind = []
        while found := re.search(r'from "./(\w+)\.js"', bundles.script(own)):
            own = found[1]
            behind.append(own)
        assert [*early, "every_page"] == (behind or ["every_page"]), page


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
