"""Job files, build files and logs that were spoilt: taken for what they say, or refused in words.

A few of each by default; as many as the environment variable BAY_FUZZ says.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

from site_src.builds import FOLDER, load_build
from site_src.builds.phone import contents
from tests import mutated
from tests.node import needs_node
from tests.site.test_build_file_script import JOB, KIT, Ask, alike, ask
from tests.site.test_runs_js import WAYS, read_logs

__all__ = ["ask"]

pytestmark = needs_node

FILES = max(150, mutated.FUZZ)
LOGS = max(60, mutated.FUZZ // 5)
AT_ONCE = 200
"""Logs that one Node reads."""

BUILDS = sorted(FOLDER.glob("*.toml"))


def chance(what: str) -> Random:
    return Random(f"{mutated.SEED} {what}")


def in_words(answer: dict[str, Any]) -> bool:
    """Whether a file was refused in a sentence, and not by chance."""
    assert "broken" not in answer, answer["broken"]
    words = answer.get("refused")
    if words is None:
        return False
    assert len(words.split()) > 4
    assert not any(wrong in words for wrong in ("undefined", "[object", "NaN is"))
    return True


def test_a_spoilt_job_file_is_taken_for_what_can_be_read_again(ask: Ask) -> None:
    random = chance("records")
    files = [contents(load_build(path)) for path in BUILDS]
    files.append(ask("file", text=JOB)["data"])
    told: Counter[str] = Counter()
    for _ in range(FILES):
        text = mutated.record(random.choice(files), random)
        answer = ask("twice", text=text, kit=KIT)
        if in_words(answer):
            told["refused"] += 1
            continue
        told["taken whole" if not answer["data"]["first"]["damaged"] else "in part"] += 1
        assert answer["data"]["isSame"], text[:2000]
        assert not answer["data"]["spoilt"], text[:2000]
    assert min(told["refused"], told["taken whole"], told["in part"]) > 5, told


def test_a_spoilt_build_file_is_refused_or_read_as_python_reads_it(ask: Ask) -> None:
    random = chance("builds")
    texts = [JOB, *(path.read_text(encoding="utf-8") for path in BUILDS)]
    taken = 0
    for _ in range(FILES):
        text = mutated.text(random.choice(texts), random)
        if not in_words(answer := ask("toml", text=text)):
            assert alike(answer["data"]) == alike(tomllib.loads(text)), text
        if not in_words(answer := ask("twice", text=text, kit=KIT)):
            assert answer["data"]["isSame"], text
            taken += 1
    assert taken > 5


def test_a_spoilt_log_is_refused_in_words_or_read_as_numbers(tmp_path: Path) -> None:
    random = chance("logs")
    logs = []
    for _ in range(LOGS):
        log = random.choice([*WAYS.values()])
        if random.random() < 0.3:
            # Letters of any alphabet, cut anywhere.
            spoilt = bytearray(log)
            for _ in range(random.choice((1, 3, 30))):
                spoilt[random.randrange(len(spoilt))] = random.randrange(256)
            logs.append(bytes(spoilt[random.choice((0, 0, 1, 500)) :]))
        else:
            text = mutated.text(log.decode("utf-8", "replace"), random)
            logs.append(text.encode("utf-8", "surrogatepass"))
    read = 0
    for start in range(0, LOGS, AT_ONCE):
        for log, found in zip(
            logs[start:], read_logs(tmp_path, *logs[start : start + AT_ONCE]), strict=False
        ):
            if "refused" in found:
                assert found["kind"] == "LogError", (found, log[:2000])
                assert len(found["refused"].split()) > 3
                continue
            read += 1
            assert found["count"] >= 3
            if "counts" in found:
                counts = found["counts"]
                parts = [counts[key] for key in ("blank", "part", "falling", "few", "used")]
                assert sum(parts) == counts["rows"] == found["count"]
                for each in found["bins"]:
                    assert all(value is None or abs(value) < 1e300 for value in each.values())
    assert read > LOGS // 4
