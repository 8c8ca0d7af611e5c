"""What a page may load and do, and what type each of the site's files is sent as."""

from __future__ import annotations

CONTENT_POLICY = (
    "default-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'self'; "
    "object-src 'none'"
)
"""Written into every page, so that it holds on hosts whose headers we don't write. Photos of hold
points are kept with the job, and shown from there."""

HEADERS = {
    "Content-Security-Policy": f"{CONTENT_POLICY}; frame-ancestors 'none'",
    "Permissions-Policy": "accelerometer=(self), camera=(), geolocation=(), gyroscope=(self), "
    "microphone=(self), screen-wake-lock=(self)",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
"""Sent by our own server, and by static hosts that read a `_headers` file."""

TYPES = {
    ".bin": "application/octet-stream",
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".webmanifest": "application/manifest+json",
}
"""Types by ending, the same on every machine: some systems have other ideas."""


def headers_file() -> str:
    """Return the text of `_headers`, a convention of several static hosts; others ignore it."""
    return "/*\n" + "".join(f"  {name}: {value}\n" for name, value in HEADERS.items())
