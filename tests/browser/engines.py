"""Browsers that are not Chromium, driven over their own remote controls with nothing in between.

Firefox listens to a protocol of its own (Marionette: a length, a colon, JSON), WebKit to that of
the W3C over HTTP through the driver that comes with it. Both know the same few commands.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any, Protocol

PATIENCE = 30.0
"""Seconds until whatever is waited for is given up."""

_ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""The key under which the protocol of the W3C names an element."""

_BUS = """<busconfig>
  <type>session</type>
  <listen>unix:tmpdir=/tmp</listen>
  <policy context="default">
    <allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/>
  </policy>
</busconfig>
"""
"""A bus that starts no service: a desktop's would mount folders that no test can remove."""

_PHONE = {"width": 390, "height": 844}
"""The window; Firefox makes none as narrow and takes its least."""

_QUIET = {
    "marionette.port": 0,
    # Its own errands must not fall into the test, nor leave this machine.
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "browser.aboutwelcome.enabled": False,
    "browser.region.network.url": "",
    "browser.safebrowsing.downloads.remote.enabled": False,
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "browser.search.update": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.homepage_override.mstone": "ignore",
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.getAddons.cache.enabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,",
    "toolkit.telemetry.enabled": False,
    # One that was killed asks for nothing when it is back.
    "toolkit.startup.max_resumed_crashes": -1,
    "browser.sessionstore.resume_from_crash": False,
    "intl.accept_languages": "en-GB",
}


class Engine(Protocol):
    """One tab of a browser."""

    def go(self, url: str) -> None:
        """Load a page."""

    def run(self, script: str, *arguments: Any) -> Any:
        """Run a function's body in the page; return what it returns."""

    def wait(self, script: str, *arguments: Any) -> Any:
        """Run a function's body whose last argument is called with what is to be returned."""

    def click(self, selector: str) -> None:
        """Click in the middle of an element, as a hand does."""

    def type(self, selector: str, text: str) -> None:
        """Empty an entry and type into it."""


_IN_SIGHT = "arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })"


def until(engine: Engine, script: str, *arguments: Any) -> Any:
    """Ask a page until it says yes; return what it says."""
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        if said := engine.run(script, *arguments):
            return said
        time.sleep(0.05)
    raise AssertionError(f"in vain: {script} {arguments}\n{engine.run('return document.URL')}")


# --- Firefox -------------------------------------------------------------------------------------

FIREFOXES = ("firefox-esr", "firefox")
"""Programs that do, the first that is there; the first is Debian's package of the same name."""


def firefox_lacks() -> str:
    """Say what is missing for Firefox, if anything is."""
    return "" if any(map(shutil.which, FIREFOXES)) else "a Firefox: Debian's package firefox-esr"


@contextmanager
def firefox(profile: Path) -> Iterator[Firefox]:
    """Start a Firefox without a window, that keeps its storage in a folder; kill it at the end."""
    program = next(filter(None, map(shutil.which, FIREFOXES)))
    profile.mkdir(exist_ok=True)
    lines = [f"user_pref({json.dumps(key)}, {json.dumps(is_)});\n" for key, is_ in _QUIET.items()]
    (profile / "user.js").write_text("".join(lines), encoding="utf-8")
    heard = profile / "MarionetteActivePort"
    heard.unlink(missing_ok=True)
    options = ["--headless", "--marionette", "--no-remote", "--profile", str(profile)]
    with _running([program, *options], HOME=str(profile)):
        port = _when(lambda: heard.exists() and heard.read_text(encoding="ascii"))
        with socket.create_connection(("127.0.0.1", int(port)), PATIENCE) as connection:
            yield Firefox(connection)


class Firefox:
    """A tab of a Firefox."""

    def __init__(self, connection: socket.socket) -> None:
        self._connection = connection
        self._answers = connection.makefile("rb")
        self._count = 0
        self._read()  # who it is, said unasked
        self._call("NewSession", capabilities={})
        self._call("SetWindowRect", **_PHONE)
        self._call("SetTimeouts", script=PATIENCE * 1000, pageLoad=PATIENCE * 1000)

    def go(self, url: str) -> None:
        self._call("Navigate", url=url)

    def run(self, script: str, *arguments: Any) -> Any:
        return self._call("ExecuteScript", script=script, args=arguments)

    def wait(self, script: str, *arguments: Any) -> Any:
        return self._call("ExecuteAsyncScript", script=script, args=arguments)

    def click(self, selector: str) -> None:
        self._call("ElementClick", id=self._find(selector))

    def type(self, selector: str, text: str) -> None:
        found = self._find(selector)
        self._call("ElementClear", id=found)
        self._call("ElementSendKeys", id=found, text=text)

    def _find(self, selector: str) -> str:
        found = self._call("FindElement", using="css selector", value=selector)
        self.run(_IN_SIGHT, found)
        return str(found[_ELEMENT])

    def _call(self, name: str, **parameters: Any) -> Any:
        self._count += 1
        message = json.dumps([0, self._count, f"WebDriver:{name}", parameters]).encode()
        self._connection.sendall(b"%d:%b" % (len(message), message))
        _, _, error, result = self._read()
        assert not error, error
        return result.get("value", result)

    def _read(self) -> Any:
        length = b""
        while (byte := self._answers.read(1)) != b":":
            assert byte, "Firefox is gone"
            length += byte
        return json.loads(self._answers.read(int(length)))


# --- WebKit --------------------------------------------------------------------------------------


def webkit_lacks() -> str:
    """Say what is missing for WebKit, if anything is."""
    needed = {"WebKitWebDriver": "webkit2gtk-driver", "Xvfb": "xvfb", "dbus-run-session": "dbus"}
    lacking = [package for program, package in needed.items() if not shutil.which(program)]
    return f"a WebKit: Debian's packages {', '.join(lacking)}" if lacking else ""


@contextmanager
def webkit(home: Path) -> Iterator[WebKit]:
    """Start a WebKit on a screen that nobody sees; kill it at the end. It keeps nothing."""
    home.mkdir(mode=0o700, exist_ok=True)
    with ExitStack() as stack:
        number, told = os.pipe()
        screen = ["Xvfb", "-displayfd", str(told), "-nolisten", "tcp", "-screen", "0", "800x900x24"]
        stack.enter_context(_running(screen, kept_open=told))
        os.close(told)
        # To the end of the line: it is written in two pieces, and nobody may hang up between them.
        with open(number, encoding="ascii") as heard:
            display = heard.readline().strip()
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        surroundings = {
            "DISPLAY": f":{display}",
            "HOME": str(home),
            "XDG_RUNTIME_DIR": str(home),
            "LANG": "C.UTF-8",
            "NO_AT_BRIDGE": "1",
            "LIBGL_ALWAYS_SOFTWARE": "1",
            "WEBKIT_DISABLE_COMPOSITING_MODE": "1",
        }
        bus = home / "bus.conf"
        bus.write_text(_BUS, encoding="ascii")
        with_bus = ["dbus-run-session", f"--config-file={bus}", "--"]
        driver = [*with_bus, "WebKitWebDriver", f"--port={port}"]
        stack.enter_context(_running(driver, **surroundings))
        tab = WebKit(f"http://127.0.0.1:{port}")
        try:
            yield tab
        finally:
            with suppress(OSError, AssertionError):
                tab.close()


class WebKit:
    """A tab of the small browser that comes with WebKitGTK."""

    def __init__(self, driver: str) -> None:
        self._at = driver
        _when(self._is_up)
        session = self._call("POST", "/session", capabilities={})
        self._at = f"{driver}/session/{session['sessionId']}"
        self._call("POST", "/window/rect", **_PHONE)
        self._call("POST", "/timeouts", script=int(PATIENCE * 1000), pageLoad=int(PATIENCE * 1000))

    def close(self) -> None:
        """Close it and all that belongs to it."""
        self._call("DELETE", "")

    def go(self, url: str) -> None:
        self._call("POST", "/url", url=url)

    def run(self, script: str, *arguments: Any) -> Any:
        return self._call("POST", "/execute/sync", script=script, args=arguments)

    def wait(self, script: str, *arguments: Any) -> Any:
        return self._call("POST", "/execute/async", script=script, args=arguments)

    def click(self, selector: str) -> None:
        self._call("POST", f"/element/{self._find(selector)}/click")

    def type(self, selector: str, text: str) -> None:
        found = self._find(selector)
        self._call("POST", f"/element/{found}/clear")
        self._call("POST", f"/element/{found}/value", text=text)

    def _find(self, selector: str) -> str:
        found = self._call("POST", "/element", using="css selector", value=selector)
        self.run(_IN_SIGHT, found)
        return str(found[_ELEMENT])

    def _is_up(self) -> bool:
        with suppress(OSError):
            return bool(self._call("GET", "/status"))
        return False

    def _call(self, method: str, place: str, **parameters: Any) -> Any:
        body = json.dumps(parameters).encode() if method == "POST" else None
        asked = urllib.request.Request(self._at + place, body, method=method)
        try:
            with urllib.request.urlopen(asked, timeout=2 * PATIENCE) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as refused:
            raise AssertionError(refused.read().decode()) from None


# --- both ----------------------------------------------------------------------------------------


@contextmanager
def _running(command: list[str], kept_open: int | None = None, **more: str) -> Iterator[None]:
    """Run a program and what it starts; kill all of them at the end."""
    process = subprocess.Popen(
        command,
        env=os.environ | more,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
        pass_fds=() if kept_open is None else (kept_open,),
    )
    try:
        yield
    finally:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def _when(is_so: Any) -> Any:
    """Wait until something is so; return it."""
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        if found := is_so():
            return found
        time.sleep(0.05)
    raise AssertionError("it did not start")
