"""An answer that is worked out alone, as for a cell of a table, is what it is among all of them."""

from __future__ import annotations

import json
from pathlib import Path

from site_src.lookups import all_recipes
from site_src.publish.catalogue import TABLES_FILE
from tests.node import needs_node, told_by
from tests.tables.samples import inputs

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"


@needs_node
def test_an_answer_alone_is_the_same_as_among_all(site: Path, tmp_path: Path) -> None:
    given = tmp_path / "inputs.json"
    given.write_text(json.dumps({each.key: [{}, *inputs(each, 24)] for each in all_recipes()}))
    files = [site / "lookups.json", site / TABLES_FILE, given]
    found = told_by(HERE / "only_many.mjs", SCRIPTS, *files, seconds=300)
    assert {key: each["differing"] for key, each in found.items() if each["differing"]} == {}
    # Else nothing would be saved.
    for key in ("boost", "loop", "plan"):
        assert min(found[key]["steps"]) < found[key]["all"] / 2
