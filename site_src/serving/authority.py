"""The shop's own certificate authority, which lets its phones trust this machine over HTTPS.

Made once and kept in a folder that only its owner can read and that git ignores. Whoever has the
key can pass for any site towards the phones that trust it: it stays on this machine.
"""

from __future__ import annotations

import hashlib
import os
import socket
import ssl
from datetime import UTC, datetime, timedelta
from pathlib import Path

import trustme

from site_src.places import ROOT

FOLDER = ROOT / ".authority"
CERTIFICATE, KEY = "authority.crt", "authority.key"

LEAF_DAYS = 90
"""Each start makes a new server certificate; phones refuse those that last over 825 days."""


def authority(folder: Path = FOLDER) -> trustme.CA:
    """Return the authority kept in a folder; make it, if there is none yet.

    Raises:
        SystemExit: what is in the folder can't be used; the message says what to do.
    """
    certificate, key = folder / CERTIFICATE, folder / KEY
    if not certificate.exists() and not key.exists():
        made = trustme.CA(
            organization_name="Bay Reckoner",
            organization_unit_name=f"made on {socket.gethostname()}",
            path_length=0,
        )
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _write_private(key, made.private_key_pem.bytes())
        certificate.write_bytes(made.cert_pem.bytes())
        return made
    try:
        return trustme.CA.from_pem(certificate.read_bytes(), key.read_bytes())
    except (OSError, ValueError) as reason:
        raise SystemExit(
            f"The certificate authority in {folder} can't be read ({reason}). Delete that folder "
            "to make a new one; every phone must then trust the new one."
        ) from reason


def server_context(ca: trustme.CA, names: list[str]) -> ssl.SSLContext:
    """Return a TLS context with a fresh certificate for these names and addresses."""
    now = datetime.now(UTC)
    # A phone's clock may be behind.
    leaf = ca.issue_cert(
        *names, not_before=now - timedelta(days=1), not_after=now + timedelta(days=LEAF_DAYS)
    )
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    leaf.configure_cert(context)
    return context


def fingerprint(ca: trustme.CA) -> str:
    """Return the SHA-256 of the authority's certificate, in the form that phones show."""
    der = ssl.PEM_cert_to_DER_cert(ca.cert_pem.bytes().decode())
    digest = hashlib.sha256(der).hexdigest().upper()
    return ":".join(digest[n : n + 2] for n in range(0, len(digest), 2))


def lan_addresses() -> list[str]:
    """Return this machine's addresses on its networks, the one that leads outward first."""
    found: list[str] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Sends nothing: it only asks which way a packet to a documentation address would go.
            probe.connect(("192.0.2.1", 9))
            found.append(probe.getsockname()[0])
        except OSError:
            pass
    try:
        listed = socket.gethostbyname_ex(socket.gethostname())[2]
    except OSError:
        listed = []
    found.extend(address for address in listed if address not in found)
    return [address for address in found if not address.startswith("127.")]


def _write_private(path: Path, content: bytes) -> None:
    """Write a new file that only its owner can read."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
