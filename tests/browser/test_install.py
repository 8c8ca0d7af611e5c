"""Installing: the browser finds nothing wrong, and the shop's own HTTPS works as the page says."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, BrowserType, Error

from site_src.serving.authority import lan_addresses
from tests.browser.conftest import PHONE, Watch, installed
from tests.browser.servers import SiteServer
from tests.conftest import ROOT

Serve = Callable[[Path], SiteServer]
OpenPhone = Callable[[Path, str], Any]


@pytest.fixture
def open_phone(browser_type: BrowserType, browser_type_launch_args: dict[str, Any]) -> OpenPhone:
    """Open a phone that keeps its profile under a home folder, as an installed app needs."""

    @contextmanager
    def opened(home: Path, host: str) -> Iterator[BrowserContext]:
        context = browser_type.launch_persistent_context(
            home / "profile", **(browser_type_launch_args | PHONE | {"env": {"HOME": str(home)}})
        )
        watch = Watch(host)
        watch.over(context)
        yield context
        context.close()
        assert not watch.foreign
        assert not watch.errors

    return opened


def test_the_browser_finds_nothing_that_keeps_it_from_installing(
    site: Path, serve: Serve, open_phone: OpenPhone, tmp_path: Path
) -> None:
    server = serve(site)
    with open_phone(tmp_path, "localhost") as phone:
        page = installed(phone.new_page(), server.url)
        browser = phone.new_cdp_session(page)
        manifest = browser.send("Page.getAppManifest")
        assert manifest["errors"] == []
        assert manifest["url"] == f"{server.url}manifest.webmanifest"
        assert browser.send("Page.getInstallabilityErrors")["installabilityErrors"] == []


def test_the_site_survives_a_restart_of_the_browser_without_its_server(
    site: Path, serve: Serve, open_phone: OpenPhone, tmp_path: Path
) -> None:
    server = serve(site)
    with open_phone(tmp_path, "localhost") as phone:
        installed(phone.new_page(), server.url)
    server.kill()
    with open_phone(tmp_path, "localhost") as phone:
        response = phone.new_page().goto(f"{server.url}boost/")
        assert response
        assert response.from_service_worker


@pytest.fixture
def lan(site: Path, tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], str, str]]:
    """What `build.py serve --lan` starts, and what it printed: the page's and site's addresses."""
    if not lan_addresses():
        pytest.skip("this machine has no network address")
    script = (
        "import pathlib, sys; from site_src.serving.lan import serve_lan; "
        "serve_lan(pathlib.Path(sys.argv[1]), int(sys.argv[2]), pathlib.Path(sys.argv[3]))"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script, str(site), "18443", str(tmp_path / "authority")],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout
    printed = ""
    while "trust it already" not in printed:
        line = process.stdout.readline()
        assert line, printed
        printed += line
    page_url, fingerprint = printed.split()[0], re.search(r"[0-9A-F:]{95}", printed)
    assert fingerprint
    yield process, page_url, fingerprint[0]
    process.kill()
    process.wait()
    process.stdout.close()


def test_a_phone_that_follows_the_page_gets_the_site_over_https_and_keeps_it(
    lan: tuple[subprocess.Popen[str], str, str], open_phone: OpenPhone, tmp_path: Path
) -> None:
    if not shutil.which("certutil"):
        pytest.skip("needs certutil, in Debian's libnss3-tools")
    process, page_url, fingerprint = lan
    page = _fetch(page_url).decode()
    assert fingerprint in page
    site_url = re.search(r'href="(https://[^"]+)"', page)
    certificate = re.search(r'href="(/[^"]+\.crt)"', page)
    assert site_url
    assert certificate
    host = site_url[1].split("/")[2].split(":")[0]

    home = tmp_path / "home"
    home.mkdir()
    with open_phone(home, host) as phone, pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        phone.new_page().goto(site_url[1])

    _trust(home, _fetch(page_url.rstrip("/") + certificate[1]))
    with open_phone(home, host) as phone:
        installed(phone.new_page(), site_url[1])
        process.kill()
        process.wait()
        response = phone.new_page().goto(f"{site_url[1]}boost/")
        assert response
        assert response.from_service_worker


def _fetch(url: str) -> bytes:
    with urllib.request.urlopen(url, timeout=10) as response:
        content: bytes = response.read()
    return content


def _trust(home: Path, certificate: bytes) -> None:
    """Do what the phone's settings do: add the authority to those that the browser trusts."""
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    file = home / "authority.crt"
    file.write_bytes(certificate)
    database = ["-d", f"sql:{store}"]
    subprocess.run(["certutil", *database, "-N", "--empty-password"], check=True)
    add = ["-A", "-t", "C,,", "-n", "shop", "-i", str(file)]
    subprocess.run(["certutil", *database, *add], check=True)
