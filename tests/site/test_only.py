"""An answer that is worked out alone, as for a cell of a table, is what it is among all of them."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from site_src.lookups import all_recipes
from site_src.publish.catalogue import TABLES_FILE
from tests.tables.samples import inputs

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"


@pytest.mark.skipif(shutil.which("node") is None, reason="Node is not on this machine")
def test_an_answer_alone_is_the_same_as_among_all(site: Path, tmp_path: Path) -> None:
    given = tmp_path / "inputs.json"
    given.write_text(json.dumps({each.key: [{}, *inputs(each, 24)] for each in all_recipes()}))
    files = [site / "lookups.json", site / TABLES_FILE, given]
    command = ["node", str(HERE / "only_many.mjs"), str(SCRIPTS), *map(str, files)]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=300)
    found = json.loads(done.stdout)
    assert {key: each["differing"] for key, each in found.items() if each["differing"]} == {}
    # Else nothing would be saved.
    for key in ("boost", "loop", "plan"):
        assert min(found[key]["steps"]) < found[key]["all"] / 2
