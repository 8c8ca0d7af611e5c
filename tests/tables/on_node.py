"""What the phone's evaluator makes of set-ups, under Node."""

from __future__ import annotations

import base64
import json
from pathlib import Path
from typing import Any

from site_src.model.lookup import Lookup
from site_src.publish.catalogue import table_bytes, table_entry
from tests.node import told_by

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"


def node_results(lookup: Lookup, rows: list[dict[str, Any]], folder: Path) -> Any:
    job = {
        "lookup": lookup.spec(),
        "tables": [
            (table_entry(table), base64.b64encode(table_bytes(table)).decode())
            for table in lookup.compiled
        ],
        "inputs": rows,
    }
    path = folder / "job.json"
    path.write_text(json.dumps(job, allow_nan=False))
    return told_by(HERE / "evaluate_many.mjs", SCRIPTS, path, seconds=300)
