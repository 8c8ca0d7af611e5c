"""Time that the phone's evaluator takes for the answers of each quick lookup, under Node.

Run it on a built site: `.venv/bin/python -m benchmarks.answers`.
"""

from __future__ import annotations

import argparse
import json
import shutil
import subprocess
import sys
from pathlib import Path

from site_src.checks import ROOT
from site_src.publish.catalogue import TABLES_FILE
from site_src.publish.scripts import SCRIPTS


def main() -> None:
    """Print microseconds for all answers of a set-up, and for the main one alone."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--site", type=Path, default=ROOT / "dist")
    given = parser.parse_args()
    node = shutil.which("node") or sys.exit("This measurement takes Node.")
    program = Path(__file__).with_suffix(".mjs")
    files = [SCRIPTS, given.site / "lookups.json", given.site / TABLES_FILE]
    done = subprocess.run([node, program, *files], check=True, capture_output=True, text=True)
    print(f"{'':12} {'steps':>6} {'all answers':>12} {'main alone':>12}")
    for key, found in json.loads(done.stdout).items():
        numbers = f"{found['all']:9.1f} µs {found['main']:9.1f} µs"
        print(f"{key:12} {found['steps']:6} {numbers}")


if __name__ == "__main__":
    main()
