"""The phone's scripts: what each page starts, and all that this imports.

Nothing is listed by hand: what a module imports is read from its import statements.
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

UNSTAMPED = "@version-to-be-stamped@"
"""In place of the version in everything until the freeze knows the bytes it is a hash of."""

GENERATED = "version.js"
"""Has no file: it is written when it is bundled, and imports nothing."""

EVALUATOR = ("recipe.js", *sorted(f"recipe/{path.name}" for path in SCRIPTS.glob("recipe/*.js")))
"""What evaluates a recipe; other programs can use it too."""

ALONE = ("pages/watch.js", "sound/tap.js", *EVALUATOR)
"""Scripts that are published as they are: the one that must be at work when another is not, the
one that the browser's audio loads by its address, and the evaluator."""

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


@cache
def imports_of(module: str) -> tuple[str, ...]:
    """Return the modules that one imports, in its own order.

    >>> imports_of("recipe/run.js"), imports_of("pages/mode.js")
    (('recipe/values.js',), ('record/notice.js', 'record/store.js'))

    Raises:
        BuildError: an import leads nowhere.
    """
    if module == GENERATED:
        return ()
    found = _IMPORT.findall(text_of(module))
    imported = tuple(resolved(module, address) for address in found)
    for each in imported:
        if each != GENERATED and not (SCRIPTS / each).is_file():
            raise BuildError(f"static/js/{module} imports {each}, which isn't there")
    return imported


def text_of(module: str) -> str:
    """Return a module's text; the one that is generated names the version to be stamped."""
    if module == GENERATED:
        return f'export const VERSION = "{UNSTAMPED}";\n'
    return (SCRIPTS / module).read_text(encoding="utf-8")


def resolved(module: str, address: str) -> str:
    """Return the module that an address in another one means.

    >>> resolved("form/form.js", "../face/dom.js")
    'face/dom.js'
    """
    return posixpath.normpath(posixpath.join(posixpath.dirname(module), address))
