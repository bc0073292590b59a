"""A real browser, and the workbook as `modelmath open` shows it.

A test asks for `page` (desktop) or `phone`; both note what a page does behind its face. At the end of a test
that used one, `page.noted` is for the test to judge; that nothing outside this machine was asked for is asserted
for each of them here.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import urlopen

import pytest

from modelmath.workbook.folder import HIDDEN
from modelmath.workbook.preferences import FILE as PREFERENCES

ROOT = Path(__file__).resolve().parents[2]
NAMES = ("chromium", "chromium-browser", "google-chrome")
# Nothing of the browser's own may look like a request of the page.
QUIET = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
    "--no-sandbox",
]
PAGE_MS = 60_000  # a page's first answer, its kernel cold
START_S = 60  # a cold start with nothing in the disk's cache


@dataclass
class Noted:
    """What a page did behind its face."""

    outside: list[str] = field(default_factory=list)
    console: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class WorkbookServer:
    """A workbook that is open: the address of its start page, its folder, and what it printed."""

    url: str
    folder: Path
    printed: list[str]

    def at(self, path: str, token: bool = True) -> str:
        """Return the address of another path of this server."""
        parts = urlsplit(self.url)
        return f"{parts.scheme}://{parts.netloc}{path}" + (f"?{parts.query}" if token else "")

    def kernels(self) -> list[dict[str, Any]]:
        """Return the kernels that run now."""
        with urlopen(self.at("/api/kernels")) as answer:
            found: list[dict[str, Any]] = json.load(answer)
            return found


def _lacking(what: str) -> None:
    """Skip where a person runs the tests; fail where a green result would be read as a checked one."""
    if os.environ.get("CI") == "true":
        pytest.fail(what)
    pytest.skip(what)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """A headless Chromium: one on PATH, else the one Playwright installs."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _lacking("no browser test without Playwright: pip install playwright")
    with sync_playwright() as playwright:
        found = next(filter(None, map(shutil.which, NAMES)), None) or playwright.chromium.executable_path
        if not Path(found).exists():
            _lacking(f"no browser: install one of {', '.join(NAMES)}, or run: playwright install chromium")
        chromium = playwright.chromium.launch(executable_path=found, args=QUIET)
        yield chromium
        chromium.close()


@contextmanager
def opened_workbook(home: Path) -> Iterator[WorkbookServer]:
    """`modelmath open` as a user runs it, in a home of its own where another `python3` kernel is installed."""
    other = home / ".local" / "share" / "jupyter" / "kernels" / "python3"
    other.mkdir(parents=True)
    (other / "kernel.json").write_text('{"argv": ["false"], "display_name": "theirs", "language": "python"}')
    folder = home / "my workbook"
    process = subprocess.Popen(
        [sys.executable, "-m", "modelmath.cli", "open", "--no-browser", "--folder", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
        cwd=home,
        env={**os.environ, "HOME": str(home), "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout
    too_late = threading.Timer(START_S, process.kill)
    too_late.start()
    printed: list[str] = []
    for line in process.stdout:
        printed.append(line.rstrip("\n"))
        if line.startswith("To stop"):
            break
    too_late.cancel()
    # Read on, or the server would block once the pipe is full.
    reader = threading.Thread(target=lambda: printed.extend(line.rstrip("\n") for line in process.stdout or ()))
    reader.start()
    try:
        address = re.search(r"http://127\.0\.0\.1:\d+/\S+", "\n".join(printed))
        assert address, f"no address within {START_S} s:\n" + "\n".join(printed)
        yield WorkbookServer(address[0], folder, printed)
    finally:
        try:
            os.killpg(process.pid, signal.SIGINT)
            process.wait(10)
        except (ProcessLookupError, subprocess.TimeoutExpired):
            process.kill()
            process.wait(10)
        reader.join(10)
        process.stdout.close()


@pytest.fixture(scope="session")
def workbook_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[WorkbookServer]:
    """The workbook that most tests share; what one saves, the others see."""
    with opened_workbook(tmp_path_factory.mktemp("home")) as server:
        yield server


@pytest.fixture
def fresh_server(tmp_path: Path) -> Iterator[WorkbookServer]:
    """A workbook that nobody has used yet."""
    with opened_workbook(tmp_path) as server:
        yield server


def _page(browser: Any, **look: Any) -> Iterator[Any]:
    context = browser.new_context(**look)
    noted = Noted()
    context.on("request", lambda request: _note_request(noted, request.url))
    context.on("page", lambda opened: opened.on("websocket", lambda socket: _note_request(noted, socket.url)))
    page = context.new_page()
    page.noted = noted
    page.on("console", lambda said: _note_console(noted, said))
    page.on("pageerror", lambda fault: noted.faults.append(str(fault)))
    yield page
    context.close()
    assert noted.outside == []


def _note_console(noted: Noted, said: Any) -> None:
    if said.type == "error":
        noted.console.append(f"{said.text} ({said.location['url']})")


def _note_request(noted: Noted, url: str) -> None:
    parts = urlsplit(url)
    if parts.scheme not in ("data", "blob", "about") and parts.hostname != "127.0.0.1":
        noted.outside.append(url)


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    """A page of a desktop's size."""
    yield from _page(browser, viewport={"width": 1280, "height": 800})


@pytest.fixture
def phone(browser: Any) -> Iterator[Any]:
    """A page of a phone's size, with touch."""
    yield from _page(browser, viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)


@pytest.fixture
def night(browser: Any) -> Iterator[Any]:
    """A page of a desktop's size on a screen set to dark."""
    yield from _page(browser, viewport={"width": 1280, "height": 800}, color_scheme="dark")


@pytest.fixture
def opens(request: pytest.FixtureRequest, workbook_server: Any) -> Any:
    """Open a page of the workbook, on a desktop or a phone, and see in the end that nothing failed behind it."""
    seen: list[Any] = []
    # A page that a test before this one left may not have got as far as putting back how pages look.
    (workbook_server.folder / HIDDEN / PREFERENCES).unlink(missing_ok=True)

    def at(name: str, kind: str = "page", waits_for: str = ".mm") -> Any:
        page = request.getfixturevalue(kind)
        page.goto(workbook_server.at(f"/voila/render/{name}.ipynb"))
        page.locator(waits_for).first.wait_for(timeout=PAGE_MS)
        assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
        if page not in seen:
            seen.append(page)
        return page

    yield at
    for page in seen:
        assert page.noted.faults == []
        assert page.noted.console == []
        assert page.noted.outside == []
