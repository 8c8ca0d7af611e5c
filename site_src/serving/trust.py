"""The plain-HTTP page that walks a phone through trusting this machine's certificate authority."""

from __future__ import annotations

import io
from dataclasses import dataclass
from http import HTTPStatus
from urllib.parse import urlsplit

import segno
from jinja2 import Environment, PackageLoader, StrictUndefined

from site_src.places import TEMPLATES
from site_src.serving.serve import SiteHandler

CERTIFICATE_PATH = "/bay-reckoner-authority.crt"
STYLE = TEMPLATES / "trust.css"


@dataclass(frozen=True)
class Trust:
    """What the page tells a phone: where the site is, and the certificate that vouches for it."""

    site_url: str
    certificate: bytes
    fingerprint: str

    def page(self) -> bytes:
        """Return the page."""
        environment = Environment(
            loader=PackageLoader("site_src"), autoescape=True, undefined=StrictUndefined
        )
        page = environment.get_template("trust.html").render(
            trust=self, certificate_path=CERTIFICATE_PATH
        )
        return page.encode()

    def code(self) -> bytes:
        """Return the site's address as a QR code, for the second phone."""
        drawn = io.BytesIO()
        segno.make(self.site_url).save(drawn, kind="svg", scale=6, border=4, light="#fff")
        return drawn.getvalue()


def trust_handler(trust: Trust) -> type[SiteHandler]:
    """Return a handler for the page and the certificate of one authority."""

    class TrustHandler(SiteHandler):
        """Every other address leads to the page."""

        caching = "no-store"

        def do_GET(self) -> None:
            """Answer one request."""
            path = urlsplit(self.path).path
            if path == "/":
                self.send_bytes(trust.page(), "text/html; charset=utf-8")
            elif path == CERTIFICATE_PATH:
                self.send_bytes(trust.certificate, "application/x-x509-ca-cert")
            elif path == "/code.svg":
                self.send_bytes(trust.code(), "image/svg+xml")
            elif path == "/trust.css":
                self.send_bytes(STYLE.read_bytes(), "text/css; charset=utf-8")
            else:
                self.send_response(HTTPStatus.FOUND)
                self.send_header("Location", "/")
                self.send_header("Content-Length", "0")
                self.end_headers()

        def do_HEAD(self) -> None:
            """Answer without a body, which send_bytes leaves out."""
            self.do_GET()

    return TrustHandler
