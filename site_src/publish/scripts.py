"""The phone's scripts: what each page starts, and all that this imports.

A browser would find out about a module only when the one that imports it has arrived. So every page
names all of them at once, and they are read from the import statements themselves.
"""

from __future__ import annotations

import posixpath
import re
from functools import cache

from site_src.places import SITE_SRC
from site_src.publish.errors import BuildError

SCRIPTS = SITE_SRC / "static" / "js"

ENTRIES = "pages"
"""The room of the scripts that a page starts; all others are imported by them."""

GENERATED = "version.js"
"""Written by the application, and imports nothing."""

EVERYWHERE = "mode"
"""The entry script that every page starts before its own; see the template base.html."""

_IMPORT = re.compile(
    r'^(?:import\s*|(?:import|export)\s+[\w$*{][\w$*{},\s]*?\s*from\s*)"([^"]+)"', re.MULTILINE
)


def entry_scripts(key: str) -> tuple[str, ...]:
    """Return the entry scripts of a lookup page: that of all lookups, and its own if it has one.

    >>> entry_scripts("boost"), entry_scripts("hose-bend")
    (('lookup', 'boost'), ('lookup',))
    """
    own = key.replace("-", "_")
    return ("lookup", own) if (SCRIPTS / ENTRIES / f"{own}.js").is_file() else ("lookup",)


def modules_behind(*entries: str) -> tuple[str, ...]:
    """Return every module that entry scripts import, themselves or through others, nearest first.

    Each is named by its path below static/js. What every page starts anyway is left out.

    Raises:
        BuildError: an import leads nowhere.
    """
    known = set() if entries == (EVERYWHERE,) else set(modules_behind(EVERYWHERE))
    found: list[str] = []
    waiting = [f"{ENTRIES}/{name}.js" for name in entries]
    for module in waiting:
        for imported in imports_of(module):
            if imported not in known:
                known.add(imported)
                found.append(imported)
                waiting.append(imported)
    return tuple(found)


@cache
def imports_of(module: str) -> tuple[str, ...]:
    """Return the modules that one imports, in its own order.

    >>> imports_of("recipe.js"), imports_of("pages/mode.js")
    ((), ('record/notice.js', 'record/store.js'))

    Raises:
        BuildError: an import leads nowhere.
    """
    if module == GENERATED:
        return ()
    text = (SCRIPTS / module).read_text(encoding="utf-8")
    imported = tuple(
        posixpath.normpath(posixpath.join(posixpath.dirname(module), address))
        for address in _IMPORT.findall(text)
    )
    for each in imported:
        if each != GENERATED and not (SCRIPTS / each).is_file():
            raise BuildError(f"static/js/{module} imports {each}, which isn't there")
    return imported
