"""The precache list, the worker's text and the manifest are made from what was really built."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from site_src.publish.offline import PACK, precache, worker
from site_src.publish.scripts import EVALUATOR


def _worker(site: Path) -> Path:
    (found,) = site.glob("worker-*.js")
    return found


def _entries(site: Path) -> list[list[str]]:
    text = _worker(site).read_text(encoding="utf-8")
    listed = re.search(r"ENTRIES = (\[.*?\n\]);", text, re.DOTALL)
    assert listed
    entries: list[list[str]] = json.loads(re.sub(r",\n\]", "]", listed[1]))
    return entries


def _cache(site: Path) -> str:
    found = re.search(r'const CACHE = PREFIX \+ "([0-9a-f]{16})"', worker(precache(site), ""))
    assert found
    return found[1]


def test_every_file_is_kept_but_those_only_the_host_needs(site: Path) -> None:
    files = {p.relative_to(site).as_posix() for p in site.rglob("*") if p.is_file()}
    addresses = {address for address, _ in _entries(site)}
    named = {"index.html" if a == "./" else a + "index.html" * a.endswith("/") for a in addresses}
    others = {"lookups.json", *(f"static/js/{each}" for each in EVALUATOR)}
    host_only = {"404.html", "_headers", "sw.js", _worker(site).name, PACK}
    assert named == files - others - host_only


def test_each_hash_is_that_of_the_file_as_it_lies_there(site: Path) -> None:
    for address, stated in _entries(site):
        path = site / address / "index.html" if address.endswith("/") else site / address
        digest = hashlib.sha256(path.read_bytes()).digest()
        assert stated == f"sha256-{base64.b64encode(digest).decode()}"


def test_any_changed_byte_changes_the_name_of_the_cache(site: Path, tmp_path: Path) -> None:
    before = _cache(site)
    changed = tmp_path / "changed"
    shutil.copytree(site, changed)
    assert _cache(changed) == before
    table = next(iter(sorted((changed / "static/tables").glob("*.bin"))))
    data = bytearray(table.read_bytes())
    data[-1] ^= 1
    table.write_bytes(data)
    assert _cache(changed) != before


def test_the_worker_takes_over_only_when_told(site: Path) -> None:
    text = _worker(site).read_text(encoding="utf-8")
    assert text.count("skipWaiting") == 1
    assert re.search(r'"message", .*\n.*event\.data === "take over"\) scope\.skipWaiting', text)


def test_the_registered_file_imports_the_worker_of_its_own_version(site: Path) -> None:
    text = (site / "sw.js").read_text(encoding="utf-8")
    version = json.loads((site / "lookups.json").read_text(encoding="utf-8"))["version"]
    assert _worker(site).name == f"worker-{version}.js"
    assert f'importScripts("{_worker(site).name}")' in text
    assert not (site / "sw.js.new").exists()


def test_a_worker_that_was_cut_is_no_script(site: Path, tmp_path: Path) -> None:
    if shutil.which("node") is None:
        pytest.skip("Node is not on this machine")
    program = """
      const { Script } = require("node:vm");
      const { readFileSync } = require("node:fs");
      const whole = readFileSync(process.argv[1], "utf8").trimEnd();
      new Script(whole);
      const step = Math.max(1, Math.floor(whole.length / 400));
      for (let end = 1; end < whole.length; end += end + step < whole.length ? step : 1) {
        try { new Script(whole.slice(0, end)); } catch { continue; }
        console.log(end);
      }
    """
    for path in (site / "sw.js", _worker(site)):
        done = subprocess.run(
            ["node", "-e", program, str(path)], capture_output=True, text=True, check=True
        )
        assert done.stdout == "", path.name


def test_the_manifest_stays_relative_and_names_what_is_there(
    site: Path, catalogue: dict[str, Any]
) -> None:
    manifest = json.loads((site / "manifest.webmanifest").read_text(encoding="utf-8"))
    assert "id" not in manifest  # two copies on one host would share it
    assert manifest["start_url"] == manifest["scope"] == "./"
    assert manifest["display"] == "standalone"
    pictures = manifest["icons"] + [i for s in manifest["shortcuts"] for i in s["icons"]]
    for picture in pictures:
        assert (site / picture["src"]).is_file()
    for shortcut in manifest["shortcuts"]:
        assert (site / shortcut["url"] / "index.html").is_file()
    lookups = {lookup["key"] for lookup in catalogue["lookups"]}
    quick = [key for key in ("boost", "torque", "hose-bend") if key in lookups]
    assert [shortcut["url"] for shortcut in manifest["shortcuts"]] == [f"{k}/" for k in quick]
