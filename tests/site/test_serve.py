"""The server answers as a static host does, with our headers on everything."""

from __future__ import annotations

import gzip
import http.client
import socket
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from site_src.publish.offline import PACK, precache
from site_src.publish.policy import HEADERS, TYPES
from site_src.serving.serve import Server, SiteHandler


@pytest.fixture(scope="module")
def port(site: Path) -> Iterator[int]:
    server = Server("127.0.0.1", 0, partial(SiteHandler, directory=str(site)))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield server.server_address[1]
    server.shutdown()
    thread.join()
    server.server_close()


def _get(
    port: int, path: str, method: str = "GET", **headers: str
) -> tuple[http.client.HTTPResponse, bytes]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    connection.request(method, path, headers=named)
    response = connection.getresponse()
    body = response.read()
    connection.close()
    return response, body


def test_every_kept_file_is_answered_at_once_and_with_its_type(site: Path, port: int) -> None:
    for address, _ in precache(site):
        response, body = _get(port, f"/{address.removeprefix('./')}")
        assert response.status == 200, address
        ending = ".html" if address.endswith("/") else Path(address).suffix
        kind = (response.headers["Content-Type"] or "").split(";")[0]
        assert kind == TYPES[ending], address
        assert body, address


def test_every_answer_carries_our_headers(port: int) -> None:
    for path in ("/", "/lookups.json", "/nothing-here", "/help"):
        response, _ = _get(port, path)
        assert {name: response.headers[name] for name in HEADERS} == HEADERS, path
        assert response.headers["Cache-Control"] == "no-cache"


def test_text_says_that_it_is_utf_8(port: int) -> None:
    assert _get(port, "/")[0].headers["Content-Type"] == "text/html; charset=utf-8"
    assert _get(port, "/sw.js")[0].headers["Content-Type"] == "text/javascript; charset=utf-8"


def test_texts_are_compressed_where_the_browser_takes_them_so(site: Path, port: int) -> None:
    for path, file in (("/boost/?gear=1", "boost/index.html"), (f"/{PACK}", PACK)):
        whole = (site / file).read_bytes()
        response, body = _get(port, path, Accept_Encoding="gzip, br")
        assert response.headers["Content-Encoding"] == "gzip"
        assert len(body) < len(whole) / 3
        assert gzip.decompress(body) == whole
        assert {name: response.headers[name] for name in HEADERS} == HEADERS
        plain, same = _get(port, path)
        assert (plain.headers["Content-Encoding"], same) == (None, whole)
        # What has not changed is not sent again.
        changed = response.headers["Last-Modified"]
        again, _ = _get(port, path, Accept_Encoding="gzip", If_Modified_Since=changed)
        assert again.status == 304
    picture, _ = _get(port, "/static/icons/icon-192.png", Accept_Encoding="gzip")
    assert picture.headers["Content-Encoding"] is None


def test_what_is_not_there_gets_our_own_page_and_the_right_status(site: Path, port: int) -> None:
    page = (site / "404.html").read_bytes()
    for path in ("/nothing-here", "/static/", "/static/js/none.js", "/../pyproject.toml"):
        response, body = _get(port, path)
        assert (response.status, body) == (404, page), path


def test_a_folder_without_its_slash_is_sent_there(port: int) -> None:
    response, _ = _get(port, "/help?from=link")
    assert response.status == 301
    assert response.headers["Location"].endswith("/help/?from=link")


def test_head_has_no_body(port: int) -> None:
    response, body = _get(port, "/nothing-here", "HEAD")
    assert (response.status, body) == (404, b"")


def test_a_taken_port_is_named_with_the_way_out(site: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        number = taken.getsockname()[1]
        with pytest.raises(SystemExit, match=f"Port {number} .*--port"):
            Server("127.0.0.1", number, partial(SiteHandler, directory=str(site)))
