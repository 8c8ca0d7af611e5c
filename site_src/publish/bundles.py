"""The phone's scripts and style sheets as a phone fetches them: a few files, made of the many.

The modules are for people. A phone that fetched them one by one would spend most of its time on
asking, so a page starts a few scripts: what every page has, what pages share, and its own. Each
holds whole modules, each as a function of its own, in the order in which they need one another;
what they export is in one object, under their names.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from site_src.places import SITE_SRC
from site_src.publish import scripts
from site_src.publish.errors import BuildError

STYLES = SITE_SRC / "static" / "css"

EVERY_PAGE = "every_page"
"""The scripts that every page starts before its own, and the styles of pages that have none."""

_COMMON_STYLES = (
    *("tokens", "base", "plate", "form", "cells", "answers", "why", "compare", "each", "advice"),
    *("rule", "curve", "ladder", "shares", "offline", "job", "shelf", "record", "nearest", "ear"),
    *("ticks", "torque", "hose_run", "slip", "belt_tone", "print", "route"),
)
"""The style sheets of every page, in their order: print comes last, but for what draws itself."""

_OWN_STYLES = {
    **{
        name: (name,)
        for name in (
            *("home", "truck", "makers_figures", "holds", "pre_start", "first_runs"),
            *("job_record", "builds"),
        )
    },
    "tightening": ("tightening", "drawing", "bolt_screen"),
}

STYLE_BUNDLES = {
    EVERY_PAGE: _COMMON_STYLES,
    **{name: _COMMON_STYLES + own for name, own in _OWN_STYLES.items()},
}
"""One file for each kind of page. What they share is in each: a page asks once, and in the file
that holds all texts it is sent once."""

STARTED_EVERYWHERE = ("mode", "tables", "offline")
"""Its entry scripts. They import little, and nothing of the other bundles: a page that can't work
anything out is still kept, and mended, by the last."""

SHARED = "shared"
"""What two or more pages need, one of them a lookup's; and what all lookups' pages start."""

RECORD = "record"
"""What two or more pages need besides, none of them a lookup's."""

OF_LOOKUPS = "lookup"
"""The entry script of every lookup's page; most have no other."""

_START = """(() => {
"use strict";
const { src: address, dataset: { starts } } = document.currentScript;
const modules = (globalThis.bayReckonerModules ??= {});
"""
"""Begins a bundle. It is a script of the older kind, since browsers keep those compiled beside what
the worker keeps (Chromium does, and not modules), and one function: cut anywhere, it is none."""

_LOOKUP = f"{scripts.ENTRIES}/{OF_LOOKUPS}.js"

_ADDRESS = "import.meta.url"
"""What a module calls its own address. Bundles are as deep below the root as modules are."""

_IMPORT = re.compile(r'^import\s*(?:\{([^}]*)\}\s*from\s*)?"([^"]+)";\n', re.MULTILINE)
_EXPORT = re.compile(
    r"^export ((?:async )?function\*?|const|class) ([A-Za-z_$][\w$]*)", re.MULTILINE
)
_BLOCK_COMMENT = re.compile(r"^[ \t]*/\*.*?\*/[ \t]*", re.DOTALL | re.MULTILINE)
_LINE_COMMENT = re.compile(r"^[ \t]*//.*\n", re.MULTILINE)
_INDENT = re.compile(r"^\s+", re.MULTILINE)


def names() -> tuple[str, ...]:
    """Return the names of all script bundles.

    >>> names()[:3], "boost" in names(), "watch" in names()
    (('every_page', 'shared', 'record'), True, False)
    """
    return tuple(_contents())


def started_by(entries: tuple[str, ...]) -> tuple[str, ...]:
    """Return the bundles that a page with some entry scripts starts after every page's, in order.

    >>> started_by(("lookup",)), started_by(("lookup", "boost"))
    (('shared',), ('shared', 'boost'))
    >>> started_by(("home",))
    ('shared', 'record', 'home')
    """
    own = () if entries == (OF_LOOKUPS,) else (entries[-1],)
    needed = set(_in_order(entries))
    return (SHARED, *((RECORD,) if needed & set(_contents()[RECORD]) else ()), *own)


def script(name: str) -> str:
    """Return the text of a script bundle.

    Raises:
        BuildError: a module imports or exports in a way that is not provided for.
        KeyError: there is no such bundle.
    """
    parts = []
    for module in _contents()[name]:
        condition = f'if (starts === "{OF_LOOKUPS}") ' if module == _LOOKUP else ""
        parts.append(condition + as_function(module))
    return f"{_START}{''.join(parts)}}})();\n"


def style(name: str) -> str:
    """Return the text of a bundle of style sheets.

    Raises:
        KeyError: there is no such bundle.
    """
    sheets = STYLE_BUNDLES[name]
    return "".join(lean((STYLES / f"{each}.css").read_text(encoding="utf-8")) for each in sheets)


def lean(text: str) -> str:
    r"""Return a script or a style sheet without its comments and indentation.

    Only a comment that begins a line is one here: what looks like one in a text is left alone.

    >>> lean('/* Why. */\na {\n  b: c; /* kept */\n}\n\n// no\n')
    'a {\nb: c; /* kept */\n}\n'
    """
    return _INDENT.sub("", _LINE_COMMENT.sub("", _BLOCK_COMMENT.sub("", text)))


@cache
def _contents() -> Mapping[str, tuple[str, ...]]:
    """Return the modules of each bundle, in the order in which they need one another."""
    first = _in_order(STARTED_EVERYWHERE)
    entries = sorted(path.stem for path in (scripts.SCRIPTS / scripts.ENTRIES).glob("*.js"))
    own = {
        name: _in_order(_started_with(name))
        for name in entries
        if name not in ("watch", *STARTED_EVERYWHERE)
    }
    of_lookups = {module for name, each in own.items() if _is_lookups(name) for module in each}
    needed = [module for modules in own.values() for module in modules]
    several = [
        module
        for module in dict.fromkeys(needed)
        if needed.count(module) > 1 and module not in first and not _is_entry(module)
    ]
    # What a shared module needs is needed wherever that is, so it is shared too, and before it.
    shared = _sorted([*(module for module in several if module in of_lookups), _LOOKUP])
    record = _sorted(module for module in several if module not in of_lookups)
    del own[OF_LOOKUPS]
    held: set[str] = set()
    contents = {}
    for name, modules in (
        *((EVERY_PAGE, first), (SHARED, shared), (RECORD, record)),
        *own.items(),
    ):
        contents[name] = tuple(module for module in modules if module not in held)
        if name in (EVERY_PAGE, SHARED, RECORD):
            held |= set(modules)
    return contents


def _is_lookups(name: str) -> bool:
    """Say whether a bundle is that of a lookup's page."""
    return _started_with(name)[0] == OF_LOOKUPS


def _started_with(entry: str) -> tuple[str, ...]:
    """Return the entry scripts that a page starts whose own is this one."""
    from site_src.lookups import all_lookups  # noqa: PLC0415 - they are many

    pages = {each.key.replace("-", "_") for each in all_lookups()}
    return (OF_LOOKUPS, entry) if entry in pages else (entry,)


def _is_entry(module: str) -> bool:
    return module.startswith(f"{scripts.ENTRIES}/")


def _in_order(entries: Iterable[str]) -> tuple[str, ...]:
    """Return entry scripts and all behind them, each after what it imports."""
    return _sorted(f"{scripts.ENTRIES}/{name}.js" for name in entries)


def _sorted(modules: Iterable[str]) -> tuple[str, ...]:
    """Return modules and all behind them, each after what it imports."""
    found: dict[str, None] = {}

    def visit(module: str) -> None:
        if module in found:
            return
        for imported in scripts.imports_of(module):
            visit(imported)
        found[module] = None

    for module in modules:
        visit(module)
    return tuple(found)


def as_function(module: str) -> str:
    """Return a module as a statement that puts what it exports in its place."""
    text = lean(scripts.text_of(module))
    exported: list[str] = []

    def imports(found: re.Match[str]) -> str:
        wanted, address = found.groups()
        if wanted is None:
            return ""
        taken = re.sub(r"\s+as\s+", ": ", wanted)
        return f'const {{{taken}}} = modules["{scripts.resolved(module, address)}"];\n'

    def exports(found: re.Match[str]) -> str:
        kind, name = found.groups()
        exported.append(name)
        return f"{kind} {name}"

    body = _EXPORT.sub(exports, _IMPORT.sub(imports, text)).replace(_ADDRESS, "address")
    if left := re.search(r"^(?:import|export)\b.*", body, re.MULTILINE):
        raise BuildError(
            f"static/js/{module} has “{left.group()}”, which can't be put in a bundle: import "
            "names in braces; export a function, a const or a class where it is made"
        )
    return f'modules["{module}"] = (() => {{\n{body}return {{ {", ".join(exported)} }};\n}})();\n'
