"""A small server for the frozen site: this machine only, or the shop's network over HTTPS."""

from __future__ import annotations

import argparse
import gzip
import io
import os
import ssl
from collections.abc import Callable
from functools import lru_cache, partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import BinaryIO, TypeAlias

from site_src.publish.policy import HEADERS, TYPES

TEXT = ("text/", "application/json", "application/manifest+json")

COMPRESSED = (*TEXT, "image/svg+xml", "application/octet-stream")


@lru_cache(maxsize=256)
def _gzipped(path: Path, changed: int) -> bytes:
    """Return a file compressed; `changed` tells its states from one another."""
    return gzip.compress(path.read_bytes(), 6, mtime=0)


class SiteHandler(SimpleHTTPRequestHandler):
    """Serves a frozen site as a static host would, with our headers on everything."""

    protocol_version = "HTTP/1.1"
    server_version = "bay-reckoner"
    sys_version = ""
    timeout = 60

    caching = "no-cache"
    """Browsers may keep a file, but must ask whether it is still the same."""

    compressing = True
    """Texts are sent compressed to browsers that take them so."""

    def end_headers(self) -> None:
        """Add our headers to every response."""
        for name, value in HEADERS.items():
            self.send_header(name, value)
        self.send_header("Cache-Control", self.caching)
        super().end_headers()

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Send a text compressed, as static hosts do, where the browser takes it so."""
        path = Path(self.translate_path(self.path))
        if path.is_dir() and self.path.split("?")[0].split("#")[0].endswith("/"):
            path /= "index.html"
        kind = self.guess_type(path.name)
        takes_it = self.compressing and "gzip" in self.headers.get("Accept-Encoding", "")
        asks_again = "If-Modified-Since" in self.headers
        if asks_again or not (takes_it and kind.startswith(COMPRESSED) and path.is_file()):
            return super().send_head()
        state = path.stat()
        content = _gzipped(path, state.st_mtime_ns)
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Last-Modified", self.date_time_string(int(state.st_mtime)))
        self.send_header("Vary", "Accept-Encoding")
        self.end_headers()
        return io.BytesIO(content)

    def guess_type(self, path: str | os.PathLike[str]) -> str:
        """Return a file's type, the same on every machine."""
        kind = TYPES.get(Path(path).suffix, "application/octet-stream")
        return f"{kind}; charset=utf-8" if kind.startswith(TEXT) else kind

    def list_directory(self, path: str | os.PathLike[str]) -> io.BytesIO | None:
        """Show no listings: a folder without a page isn't there."""
        self.send_error(HTTPStatus.NOT_FOUND)
        return None

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Answer with the site's own page for what isn't there."""
        page = Path(self.directory) / "404.html"
        if code != HTTPStatus.NOT_FOUND or not page.is_file():
            super().send_error(code, message, explain)
            return
        self.send_bytes(page.read_bytes(), "text/html; charset=utf-8", HTTPStatus.NOT_FOUND)

    def send_bytes(self, content: bytes, kind: str, code: int = HTTPStatus.OK) -> None:
        """Answer with these bytes."""
        self.send_response(code)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the terminal shows the address and its code."""


class ForgetfulHandler(SiteHandler):
    """Lets browsers keep nothing, so that only a service worker can answer once it is dead."""

    caching = "no-store"
    compressing = False


Handler: TypeAlias = Callable[..., SiteHandler]
"""What a server makes for each connection."""


class Server(ThreadingHTTPServer):
    """A threaded server that says which port is taken."""

    daemon_threads = True

    def __init__(
        self, host: str, port: int, handler: Handler, tls: ssl.SSLContext | None = None
    ) -> None:
        """Listen at once; with TLS, each connection's own thread does the handshake."""
        try:
            super().__init__((host, port), handler)
        except OSError as reason:
            raise SystemExit(
                f"Port {port} can't be used ({reason.strerror}). Pick another with --port."
            ) from reason
        if tls:
            self.socket = tls.wrap_socket(
                self.socket, server_side=True, do_handshake_on_connect=False
            )

    def handle_error(self, request: object, client_address: object) -> None:
        """Stay quiet about phones that hang up or don't trust the certificate yet."""


def main() -> None:
    """Serve a folder from a process of its own: `python -m site_src.serving.serve DIR`."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("site", type=Path)
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--no-store", action="store_true", help="let browsers keep nothing")
    parser.add_argument("--certificate", type=Path, help="serve HTTPS with this chain and key, PEM")
    given = parser.parse_args()
    tls = None
    if given.certificate:
        tls = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        tls.load_cert_chain(given.certificate)
    handler = partial(ForgetfulHandler if given.no_store else SiteHandler, directory=given.site)
    server = Server("127.0.0.1", given.port, handler, tls)
    print(server.server_address[1], flush=True)
    server.serve_forever()


if __name__ == "__main__":
    main()
