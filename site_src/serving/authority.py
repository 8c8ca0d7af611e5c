"""The shop's own certificate authority, which lets its phones trust this machine over HTTPS.

Made once and kept in a folder that only its owner can read and that git ignores. It can vouch for
this machine's own names and addresses and for those of private networks, and for no site of the
world. Whoever has the key can pass for these towards the phones that trust it: it stays on this
machine, and lasts a few years.
"""

from __future__ import annotations

import hashlib
import ipaddress
import os
import shutil
import socket
import ssl
import stat
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import trustme
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from site_src.places import ROOT

FOLDER = ROOT / ".authority"
CERTIFICATE, KEY = "authority.crt", "authority.key"

LEAF_DAYS = 90
"""Each start makes a new server certificate; phones refuse those that last over 825 days."""


YEARS = 3
"""An authority lasts so long; each phone then has to trust the next one."""

PRIVATE = (
    *("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8"),
    *("fc00::/7", "fe80::/10", "::1/128"),
)
"""Addresses that exist on a network of one's own only: RFC 1918, 3927, 4193 and 4291."""


def authority(folder: Path = FOLDER, addresses: Sequence[str] = ()) -> trustme.CA:
    """Return the authority kept in a folder; make it, if there is none that will do.

    Args:
        folder: where it is kept.
        addresses: this machine's own, which it may vouch for besides private ones.

    Raises:
        SystemExit: what is in the folder can't be used; the message says what to do.
    """
    certificate, key = folder / CERTIFICATE, folder / KEY
    if not certificate.exists() and not key.exists():
        return _made(folder, addresses)
    try:
        kept = trustme.CA.from_pem(certificate.read_bytes(), key.read_bytes())
        _refuse_if_open(folder, key)
        found = x509.load_pem_x509_certificate(kept.cert_pem.bytes())
    except (OSError, ValueError) as reason:
        raise SystemExit(
            f"The certificate authority in {folder} can't be read ({reason}). Delete that folder "
            "to make a new one; every phone must then trust the new one."
        ) from reason
    if why := _why_not(found, addresses):
        shutil.rmtree(folder)
        print(f"A new certificate authority was made: the one before {why}.")
        print("Each phone has to trust the new one once, and had better forget the old one.")
        return _made(folder, addresses)
    return kept


def _made(folder: Path, addresses: Sequence[str]) -> trustme.CA:
    """Make an authority and keep it."""
    key = ec.generate_private_key(ec.SECP256R1())
    now = datetime.now(UTC)
    name = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Bay Reckoner"),
            x509.NameAttribute(
                NameOID.ORGANIZATIONAL_UNIT_NAME, f"made on {socket.gethostname()}"[:64]
            ),
        ]
    )
    usage = {"key_cert_sign": True, "crl_sign": True}
    others = "digital_signature content_commitment key_encipherment data_encipherment key_agreement"
    none = dict.fromkeys((*others.split(), "encipher_only", "decipher_only"), False)
    public = key.public_key()
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        # A phone's clock may be behind.
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=YEARS * 365))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(x509.KeyUsage(**usage, **none), critical=True)
        .add_extension(x509.NameConstraints(_may_vouch_for(addresses), None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public), critical=False)
        .sign(key, hashes.SHA256())
    )
    pem = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    _write_private(folder / KEY, pem)
    in_pem = certificate.public_bytes(serialization.Encoding.PEM)
    (folder / CERTIFICATE).write_bytes(in_pem)
    return trustme.CA.from_pem(in_pem, pem)


def _may_vouch_for(addresses: Sequence[str]) -> list[x509.GeneralName]:
    """Return the names and networks that an authority made now is good for."""
    host = socket.gethostname().lower()
    names = {"localhost", host, f"{host.split('.')[0]}.local"}
    return [
        *(x509.DNSName(each) for each in sorted(names) if each.isascii()),
        *(x509.IPAddress(ipaddress.ip_network(each)) for each in (*PRIVATE, *addresses)),
    ]


def _why_not(found: x509.Certificate, addresses: Sequence[str]) -> str:
    """Say why an authority that is kept is not to be used any longer; empty if it is."""
    if found.not_valid_after_utc < datetime.now(UTC) + timedelta(days=LEAF_DAYS + 1):
        return f"ends on {found.not_valid_after_utc:%Y-%m-%d}"
    try:
        limits = found.extensions.get_extension_for_class(x509.NameConstraints).value
    except x509.ExtensionNotFound:
        return "could vouch for any site"
    networks = [
        each.value
        for each in limits.permitted_subtrees or ()
        if isinstance(each, x509.IPAddress)
        if isinstance(each.value, ipaddress.IPv4Network | ipaddress.IPv6Network)
    ]
    for each in map(ipaddress.ip_address, addresses):
        if not any(each in network for network in networks):
            return f"is not good for this machine's address {each}"
    return ""


def _refuse_if_open(folder: Path, key: Path) -> None:
    """Stop if somebody else could have read the key, or could put another in its place.

    Raises:
        SystemExit: so it is; the message says what to do.
    """
    if os.name != "posix":
        return
    is_read = stat.S_IMODE(key.stat().st_mode) & 0o077
    if is_read or stat.S_IMODE(folder.stat().st_mode) & 0o022:
        raise SystemExit(
            f"Others on this machine can read or change the key in {folder}, and with it pass for "
            "the shop's site towards its phones. Delete that folder to make a new one; every phone "
            "must then trust the new one."
        )


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
