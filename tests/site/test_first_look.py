"""A site is shown before it is proved, says so on each page, and gives way to the proved one."""

from __future__ import annotations

import sys
import threading
import time
from pathlib import Path
from urllib.request import urlopen

import pytest

from site_src.lookups import lookup
from site_src.proof import kept
from site_src.publish.app import create_app
from site_src.serving.first_look import FirstLook
from site_src.tables.compiler import JUDGING, compile_table

NOT_PROVED = "not proved yet"


def test_an_unproved_page_says_so_is_not_kept_and_states_no_error(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(kept, "KEPT", tmp_path)
    monkeypatch.setattr(kept, "prove", lambda _: pytest.fail("proved all the same"))
    token = JUDGING.set(False)
    try:
        unproved = create_app([lookup("accessory")], [], [], unproved=True).test_client()
        for address in ("/accessory/", "/accessory/why/"):
            page = unproved.get(address).text
            assert NOT_PROVED in page
            assert "data-unproved" in page, "so that no phone keeps the site"
            assert "worst of" not in page
    finally:
        JUDGING.reset(token)
    assert not any(tmp_path.iterdir())


def test_a_proved_page_does_not_say_so(site: Path) -> None:
    for page in site.rglob("*.html"):
        assert NOT_PROVED not in page.read_text(encoding="utf-8")


def test_a_table_that_is_not_judged_has_the_same_numbers_and_no_error() -> None:
    spec = lookup("hose-bend").tables[0]
    quick, judged = compile_table(spec, judged=False), compile_table(spec)
    assert quick.grid.axes == judged.grid.axes
    assert (quick.grid.numbers == judged.grid.numbers).all()
    assert quick.passport.error is None
    assert judged.passport.error is not None


@pytest.mark.parametrize("fails", [False, True])
def test_the_proved_site_takes_its_place_or_nothing_is_shown_any_more(
    fails: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, proved = tmp_path / "first", tmp_path / "proved"
    for folder in (first, proved):
        folder.mkdir()
        (folder / "index.html").write_text(folder.name, encoding="utf-8")
    look = FirstLook(first, proved, 0)
    address = f"http://127.0.0.1:{look.server.server_address[1]}/"
    # The proof waits until the page was seen.
    seen = tmp_path / "seen"
    wait = f"import pathlib, time\nwhile not pathlib.Path({str(seen)!r}).exists(): time.sleep(0.02)"
    command = [sys.executable, "-c", f"{wait}\nraise SystemExit({int(fails)})"]
    ended: list[int] = []
    serving = threading.Thread(target=lambda: ended.append(look.serve(command)))
    serving.start()
    assert _read(address) == b"first"
    seen.touch()
    if not fails:
        until = time.monotonic() + 30
        while _read(address) != b"proved" and time.monotonic() < until:
            time.sleep(0.02)
        assert _read(address) == b"proved"
        look.server.shutdown()
    serving.join(timeout=30)
    look.server.server_close()
    assert ended == [int(fails)]
    assert ("Proved." in capsys.readouterr().out) is not fails


def _read(address: str) -> bytes:
    with urlopen(address) as response:
        found: bytes = response.read()
    return found
