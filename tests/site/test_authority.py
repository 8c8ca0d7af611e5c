"""The shop's certificate authority: made once, private, and good for the addresses it is asked."""

from __future__ import annotations

import hashlib
import re
import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import trustme
from cryptography import x509

from site_src.serving import authority as serving
from site_src.serving.authority import (
    CERTIFICATE,
    KEY,
    LEAF_DAYS,
    YEARS,
    authority,
    fingerprint,
    lan_addresses,
    server_context,
)
from site_src.serving.trust import CERTIFICATE_PATH, Trust


def test_it_is_made_once_and_kept(tmp_path: Path) -> None:
    made = authority(tmp_path / "kept")
    again = authority(tmp_path / "kept")
    assert again.cert_pem.bytes() == made.cert_pem.bytes()
    assert again.private_key_pem.bytes() == made.private_key_pem.bytes()


def test_only_its_owner_can_read_the_key(tmp_path: Path) -> None:
    folder = tmp_path / "kept"
    authority(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / KEY).stat().st_mode) == 0o600


def test_a_damaged_one_is_named_with_the_way_out(tmp_path: Path) -> None:
    authority(tmp_path)
    (tmp_path / CERTIFICATE).write_text("not a certificate")
    with pytest.raises(SystemExit, match=f"{tmp_path}.*Delete that folder"):
        authority(tmp_path)


@pytest.mark.parametrize(("what", "mode"), [(KEY, 0o644), (KEY, 0o640), (".", 0o777)])
def test_a_key_that_others_can_read_or_change_is_not_used(
    what: str, mode: int, tmp_path: Path
) -> None:
    folder = tmp_path / "kept"
    authority(folder)
    (folder / what).chmod(mode)
    with pytest.raises(SystemExit, match=f"Others on this machine.*{folder}.*Delete that folder"):
        authority(folder)


def test_it_can_vouch_for_no_site_of_the_world(tmp_path: Path) -> None:
    ca = authority(tmp_path, ["192.0.2.7"])
    trusted = ca.cert_pem.bytes().decode()
    for name in ("localhost", "192.168.7.7", "10.1.2.3", "192.0.2.7", "127.0.0.1"):
        assert _handshake(server_context(ca, [name]), trusted, name)["notAfter"]
    for name in ("shop.example", "example.com", "192.0.2.8", "8.8.8.8"):
        with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
            _handshake(server_context(ca, [name]), trusted, name)


def test_it_lasts_a_few_years(tmp_path: Path) -> None:
    ca = authority(tmp_path)
    found = x509.load_pem_x509_certificate(ca.cert_pem.bytes())
    now = datetime.now(UTC)
    assert now - timedelta(days=2) < found.not_valid_before_utc < now
    assert found.not_valid_after_utc - now < timedelta(days=YEARS * 366)


def test_one_that_ends_soon_is_replaced_and_that_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "kept"
    made = authority(folder)

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return datetime.now(tz) + timedelta(days=YEARS * 365 - LEAF_DAYS)

    assert authority(folder).cert_pem.bytes() == made.cert_pem.bytes()
    monkeypatch.setattr(serving, "datetime", Later)
    again = authority(folder)
    assert again.cert_pem.bytes() != made.cert_pem.bytes()
    assert "the one before ends on" in capsys.readouterr().out


def test_one_without_limits_or_for_another_address_is_replaced_and_that_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "kept"
    authority(folder)
    free = trustme.CA(organization_name="Bay Reckoner")
    (folder / CERTIFICATE).write_bytes(free.cert_pem.bytes())
    (folder / KEY).write_bytes(free.private_key_pem.bytes())
    limited = authority(folder)
    assert limited.cert_pem.bytes() != free.cert_pem.bytes()
    assert "could vouch for any site" in capsys.readouterr().out
    assert authority(folder, ["192.168.1.2"]).cert_pem.bytes() == limited.cert_pem.bytes()
    moved = authority(folder, ["192.168.1.2", "192.0.2.9"])
    assert moved.cert_pem.bytes() != limited.cert_pem.bytes()
    assert "not good for this machine's address 192.0.2.9" in capsys.readouterr().out
    assert stat.S_IMODE((folder / KEY).stat().st_mode) == 0o600


def test_a_browser_that_trusts_it_accepts_the_server_at_each_name(tmp_path: Path) -> None:
    ca = authority(tmp_path, ["192.0.2.7"])
    server = server_context(ca, ["192.0.2.7", "localhost"])
    for name in ("192.0.2.7", "localhost"):
        assert _handshake(server, ca.cert_pem.bytes().decode(), name)["notAfter"]
    with pytest.raises(ssl.SSLCertVerificationError, match="IP address mismatch"):
        _handshake(server, ca.cert_pem.bytes().decode(), "192.0.2.8")


def test_the_server_certificate_lasts_no_longer_than_phones_accept(tmp_path: Path) -> None:
    ca = authority(tmp_path)
    leaf = _handshake(server_context(ca, ["localhost"]), ca.cert_pem.bytes().decode(), "localhost")
    seconds = ssl.cert_time_to_seconds(leaf["notAfter"]) - ssl.cert_time_to_seconds(
        leaf["notBefore"]
    )
    assert seconds == (LEAF_DAYS + 1) * 86_400
    # 825 days: the limit that phones put on server certificates of an authority added by hand.
    assert seconds < 825 * 86_400


def _handshake(server: ssl.SSLContext, trusted: str, name: str) -> dict[str, str]:
    """Shake hands in memory, and return the certificate that the client accepted."""
    client = ssl.create_default_context(cadata=trusted)
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    ends = [
        client.wrap_bio(to_client, to_server, server_hostname=name),
        server.wrap_bio(to_server, to_client, server_side=True),
    ]
    while ends:
        for end in list(ends):
            try:
                end.do_handshake()
                ends.remove(end)
                if not end.server_side:
                    accepted = end.getpeercert()
            except ssl.SSLWantReadError:
                pass
    return {key: str(value) for key, value in (accepted or {}).items()}


def test_the_page_shows_the_fingerprint_and_hands_out_the_certificate(tmp_path: Path) -> None:
    ca = authority(tmp_path)
    der = ssl.PEM_cert_to_DER_cert(ca.cert_pem.bytes().decode())
    trust = Trust("https://192.0.2.7:8443/", ca.cert_pem.bytes(), fingerprint(ca))
    page = trust.page().decode()
    assert trust.fingerprint.replace(":", "").lower() == hashlib.sha256(der).hexdigest()
    assert trust.fingerprint in page
    assert f'href="{CERTIFICATE_PATH}"' in page
    assert 'href="https://192.0.2.7:8443/"' in page
    assert b"PRIVATE" not in trust.certificate
    assert trust.code().startswith(b"<?xml")


def test_lan_addresses_are_addresses_of_this_machine_that_others_can_reach() -> None:
    for address in lan_addresses():
        assert re.fullmatch(r"\d+(\.\d+){3}", address)
        assert not address.startswith("127.")
