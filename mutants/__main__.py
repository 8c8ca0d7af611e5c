"""Changes sources one place at a time and counts which changes the tests notice.

`.venv/bin/python -m mutants` takes 200 changes at random, over `calc/` and what evaluates recipes
in Python and on the phone; `--count 0` takes all, which is a matter of days. Each is tried in a
copy of the project: on the tests of its own file first, then on all that need no browser. What no
test minded is listed, to be looked at: a test is missing, or the change changes nothing.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import SimpleQueue

from mutants.changes import Change, changes
from site_src.checks import BUILT
from site_src.places import ROOT
from site_src.publish import scripts

EVALUATOR = (
    Path("site_src/tables/recipe.py"),
    Path("site_src/tables/grid.py"),
    *(Path("site_src/static/js") / each for each in scripts.EVALUATOR),
)
SECONDS = 600

BITS = "tests/tables/test_same_bits.py"
EDGES = "tests/tables/test_edges.py"
OF_EVALUATOR = {
    "recipe.py": ["tests/tables/test_recipe.py", "tests/tables/test_trace.py"],
    "grid.py": ["tests/tables/test_grid.py", "tests/tables/test_recipe.py"],
}
EVERYTHING = ["calc", "tests/calc", "tests/data", "tests/lookups", "tests/tables"]
OF_SCRIPTS = [EDGES, BITS, "-k", "phone or stack or hose-bend or wire or loop"]
ALL_OF_SCRIPTS = [BITS, "tests/site/test_only.py", "tests/site/test_js.py"]


def main() -> None:
    """Try changes and print what came of them."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("files", nargs="*", type=Path, help="sources, if not all")
    parser.add_argument("--count", type=int, default=200, help="changes drawn; 0 for all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    given = parser.parse_args()
    files = given.files or [*sorted(Path("calc").glob("[!_]*.py")), *EVALUATOR]
    found = [change for path in files for change in changes(path)]
    drawn = random.Random(given.seed).sample(found, given.count) if given.count else found
    print(f"{len(drawn)} of {len(found)} changes, in {len(files)} files", flush=True)
    counts: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        print("A site is built first, which the tests need that read one.", flush=True)
        subprocess.run(
            [sys.executable, "-m", "site_src.publish.freeze", site], cwd=ROOT, check=True
        )
        os.environ[BUILT] = str(site)
        places: SimpleQueue[Path] = SimpleQueue()
        for n in range(given.workers):
            places.put(copied(Path(folder) / str(n)))

        def one(change: Change) -> tuple[str, str]:
            place = places.get()
            told, text = change.made()
            try:
                return f"{change.path}:{change.line}: {told}", outcome(place, change.path, text)
            finally:
                places.put(place)

        with ThreadPoolExecutor(given.workers) as pool:
            for told, said in pool.map(one, drawn):
                counts[said] += 1
                if said == "lives":
                    print(told, flush=True)
                if counts.total() % 10 == 0:
                    print(f"  {counts.total()} tried, {counts['lives']} live", flush=True)
    noticed = len(drawn) - counts["lives"]
    print(f"{noticed} of {len(drawn)} noticed, {100 * noticed / len(drawn):.1f} %: {dict(counts)}")


def copied(place: Path) -> Path:
    """Copy what is under version control, and the compiled tables."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    for name in filter(None, listed.stdout.split("\0")):
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(ROOT / name, place / name)
    if (ROOT / ".cache" / "tables").is_dir():
        shutil.copytree(ROOT / ".cache" / "tables", place / ".cache" / "tables")
    return place


def outcome(place: Path, path: Path, text: str) -> str:
    """Say by which tests a changed file was noticed, or that it lives."""
    target = place / path
    before = target.read_text(encoding="utf-8")
    target.write_text(text, encoding="utf-8")
    try:
        if fails(place, nearest(path)):
            return "by its own tests"
        others = ALL_OF_SCRIPTS if path.suffix == ".js" else EVERYTHING
        return "by others" if fails(place, others) else "lives"
    finally:
        target.write_text(before, encoding="utf-8")


def nearest(path: Path) -> list[str]:
    """Return the tests that are most likely to mind a change of this file."""
    if path.parts[0] != "calc":
        return OF_SCRIPTS if path.suffix == ".js" else OF_EVALUATOR[path.name]
    own = f"tests/calc/test_{path.stem}.py"
    return [str(path), *([own] if (ROOT / own).exists() else ["tests/calc"])]


def fails(place: Path, tests: list[str]) -> bool:
    """Run tests until one fails; one that never ends has failed too."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    surroundings = os.environ | {"PYTHONPATH": str(place), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=place, env=surroundings, timeout=SECONDS, capture_output=True, check=False
        )
    except subprocess.TimeoutExpired:
        return True
    return done.returncode != 0


if __name__ == "__main__":
    main()
