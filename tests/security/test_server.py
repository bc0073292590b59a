"""The workbook's server, as `modelmath open` starts it: who gets in, from where, to what, and who can read its key.

The machine has a file of settings that opens all doors, and an environment that names a token: neither may matter.
"""

from __future__ import annotations

import json
import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest

ROOT = Path(__file__).resolve().parents[2]
WIDE_OPEN = {
    "ServerApp": {
        "ip": "0.0.0.0",
        "allow_origin": "*",
        "allow_remote_access": True,
        "disable_check_xsrf": True,
        "allow_unauthenticated_access": True,
    },
    "IdentityProvider": {"token": ""},
    "PasswordIdentityProvider": {"hashed_password": "", "password_required": False},
}
# As `modelmath open`, and then each route the server has.
OPEN = """
import sys
from modelmath.cli import main
from jupyterlab.labapp import LabApp
start = LabApp.initialize_server.__func__
def noting(cls, *given, **named):
    server = start(cls, *given, **named)
    for rule in server.web_app.wildcard_router.rules + server.web_app.default_router.rules:
        for each in getattr(rule.target, "rules", [rule]):
            print("route", each.matcher.regex.pattern if hasattr(each.matcher, "regex") else "", each.target)
    return server
LabApp.initialize_server = classmethod(noting)
sys.exit(main(sys.argv[1:]))
"""
HIDDEN_NAME = "<img src=x onerror=alert(1)>.ipynb"
OUTSIDE = "not for anybody"
# What anybody on this machine may read: the libraries' own files, which page asks for which key, the version.
NEVER_ANSWERED = "/lab/api/licenses"  # a fault of the library's own: who has no key waits for ever
PUBLIC = {"/api", "/login", "/logout", "/favicon.ico"}
FILES_OF_LIBRARIES = (
    *("/static/", "/voila/static/", "/voila/templates/", "/lab/extensions/", "/voila/labextensions/"),
    *("/lab/api/themes/", "/voila/api/themes/"),
)


@dataclass
class Server:
    """The server, and how it is asked."""

    port: int
    token: str
    pid: int
    home: Path
    folder: Path
    routes: list[str]
    printed: list[str] = field(default_factory=list)

    def ask(self, path: str, method: str = "GET", **headers: str) -> Any:
        link = HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            link.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
            answer: Any = link.getresponse()
            answer.text = "" if answer.status == 101 else answer.read().decode(errors="replace")
        finally:
            link.close()
        answer.close()
        return answer

    def with_key(self, path: str, method: str = "GET", **headers: str) -> Any:
        return self.ask(path, method, Authorization=f"token {self.token}", **headers)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    home = tmp_path_factory.mktemp("home")
    (home / "settings").mkdir()
    (home / "settings" / "jupyter_server_config.json").write_text(json.dumps(WIDE_OPEN))
    (home / "outside.txt").write_text(OUTSIDE)
    folder = home / "workbook"
    folder.mkdir()
    (folder / HIDDEN_NAME).write_text('{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}')
    (folder / "link.txt").symlink_to(home / "outside.txt")
    env = {
        **os.environ,
        "HOME": str(home),
        "PYTHONPATH": str(ROOT),
        "PYTHONUNBUFFERED": "1",
        "JUPYTER_TOKEN": "guessed",
    }
    env |= {"JUPYTER_CONFIG_PATH": str(home / "settings"), "JUPYTER_TOKEN": "guessed"}
    old = os.umask(0o022)
    process = subprocess.Popen(
        [sys.executable, "-c", OPEN, "open", "--no-browser", "--folder", str(folder)],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=home, env=env,
    )  # fmt: skip
    os.umask(old)
    assert process.stdout
    printed: list[str] = []
    for line in process.stdout:
        printed.append(line.rstrip())
        if line.startswith("To stop"):
            break
    found = re.search(r"http://127\.0\.0\.1:(\d+)/\S+\?token=(\S+)", "\n".join(printed))
    assert found, printed
    routes = [line.removeprefix("route ") for line in printed if line.startswith("route ")]
    said = [line for line in printed if not line.startswith("route ")]
    made = Server(int(found[1]), found[2], process.pid, home, folder, routes, said)
    yield made
    process.terminate()
    made.printed += process.communicate(timeout=30)[0].splitlines()
    assert not [line for line in made.printed if made.token in line and not line.startswith("Open this in a browser:")]


def test_it_listens_on_this_machine_only(server):
    # /proc/net/tcp: addresses of the kernel's own table, little-endian; 0A is one that listens.
    held = {
        local
        for file in ("/proc/net/tcp", "/proc/net/tcp6")
        if Path(file).exists()
        for local, state in ((line.split()[1], line.split()[3]) for line in Path(file).read_text().splitlines()[1:])
        if state == "0A" and int(local.split(":")[1], 16) == server.port
    }
    assert held <= {f"0100007F:{server.port:04X}"}
    with socket.socket() as probe:
        probe.settimeout(5)
        assert probe.connect_ex(("127.0.0.2", server.port)) != 0


def example(pattern: str) -> str:
    """A path that a route's pattern takes."""
    plain = re.sub(r"\(\?P<\w+>", "(", pattern.removeprefix("^").removesuffix("$"))
    for _ in range(6):  # from the innermost group out
        plain = re.sub(r"\((?:\?:)?[^()]*\)[?*+]?", "x", plain)
    return re.sub(r"\\", "", plain).replace("?", "").replace(".*", "x") or "/"


def test_every_route_asks_for_the_key(server):
    assert len(server.routes) > 60
    open_to_all = {}
    for route in server.routes:
        path = example(route.split(" ")[0])
        if path.startswith(NEVER_ANSWERED):
            continue
        for method in ("GET", "POST"):
            answer = server.ask(path, method)
            # What sends on to another address gives nothing itself; that address is asked for in its turn.
            refused = answer.status in (403, 404, 405) or answer.getheader("Location", "").startswith("/")
            if not refused and path not in PUBLIC and not path.startswith(FILES_OF_LIBRARIES):
                open_to_all[method, route] = answer.status
    assert open_to_all == {}


@pytest.mark.parametrize(
    "path",
    ["/voila/render/start.ipynb", "/lab", "/lab/tree/start.ipynb", "/files/start.ipynb", "/nbconvert/html/start.ipynb"],
)
def test_a_page_asks_for_the_key_first(server, path):
    answer = server.ask(path)
    assert (answer.status, answer.getheader("Location")) == (302, f"/login?next={quote(path, safe='')}")


@pytest.mark.parametrize("key", ["", "guessed", "0" * 48])
def test_no_other_key_lets_anybody_in(server, key):
    assert server.ask(f"/api/contents?token={key}").status == 403
    assert server.ask("/api/contents", Authorization=f"token {key}").status == 403
    assert server.with_key("/api/contents").status == 200


def socket_of(server: Server, path: str, **headers: str) -> int:
    asked = {"Connection": "Upgrade", "Upgrade": "websocket", "Sec_WebSocket_Version": "13"}
    return int(server.ask(path, Sec_WebSocket_Key="dGhlIHNhbXBsZSBub25jZQ==", **asked, **headers).status)


@pytest.fixture(scope="module")
def visit(server):
    """A page that was opened with the key: its cookies, and what it is."""
    page = server.ask(f"/voila/render/glossary.ipynb?token={server.token}")
    cookies: SimpleCookie = SimpleCookie()
    for each in page.headers.get_all("Set-Cookie"):
        cookies.load(each)
    (kernel,) = json.loads(server.with_key("/api/kernels").text)
    return page, cookies, "; ".join(f"{name}={held.value}" for name, held in cookies.items()), kernel["id"]


def test_a_kernels_socket_asks_for_the_key_and_for_its_own_page(server, visit):
    _, _, cookie, kernel = visit
    path, here = f"/api/kernels/{kernel}/channels", f"http://127.0.0.1:{server.port}"
    assert socket_of(server, path) == 403
    assert socket_of(server, path, Cookie=cookie, Origin="http://elsewhere.example") == 403
    assert socket_of(server, path, Cookie=cookie, Host=f"elsewhere.example:{server.port}") == 403
    assert socket_of(server, path, Cookie=cookie, Origin=here) == 101
    for other in ("/api/events/subscribe", "/terminals/websocket/1", "/lsp/ws/x", "/voila/query/start.ipynb"):
        assert socket_of(server, other) in (302, 403, 404)
        assert socket_of(server, other, Cookie=cookie, Origin="http://elsewhere.example") in (403, 404)


@pytest.mark.parametrize("path", ["/voila/render/start.ipynb", "/api/contents", "/lab", "/files/start.ipynb"])
@pytest.mark.parametrize("host", ["elsewhere.example", "elsewhere.example:{port}", "127.0.0.1.elsewhere.example"])
def test_another_name_for_this_machine_is_refused(server, path, host):
    """A page elsewhere can give its own name this machine's address; the key itself does not help it then."""
    assert server.with_key(path, Host=host.format(port=server.port)).status == 403


def test_a_page_elsewhere_can_do_nothing_with_the_cookie(server, visit):
    _, _, cookie, kernel = visit
    elsewhere = {"Cookie": cookie, "Origin": "http://elsewhere.example"}
    assert server.ask("/api/contents", **elsewhere).status == 404
    for path in ("/api/kernels", "/api/terminals", "/api/contents", f"/voila/api/shutdown/{kernel}"):
        assert server.ask(path, "POST", **elsewhere).status in (403, 404)
        assert server.ask(path, "POST", Cookie=cookie).status == 403  # without the cross-site key
    assert server.ask(f"/api/kernels/{kernel}", "DELETE", **elsewhere).status in (403, 404)
    assert server.ask("/api/contents", **elsewhere).getheader("Access-Control-Allow-Origin") in (None, "")


def test_the_cookie_is_for_this_server_alone(server, visit):
    _, cookies, cookie, _ = visit
    (held,) = [each for name, each in cookies.items() if name.startswith("username-")]
    assert held["httponly"]
    assert held["samesite"] == "Strict"
    # Signed with a key that is nowhere kept: the next opening takes no cookie of this one.
    assert not list(server.home.rglob("jupyter_cookie_secret"))
    assert server.ask("/api/contents", Cookie=cookie).status == 200
    assert server.ask("/api/contents", Cookie=cookie.replace("|", "|x", 1)).status == 403


def test_a_page_reaches_nothing_but_its_server(server, visit):
    page = visit[0]
    policy = dict(rule.split(" ", 1) for rule in page.getheader("Content-Security-Policy").split("; "))
    assert policy["default-src"] == "'self'"
    assert policy["object-src"] == "'none'"
    assert policy["frame-ancestors"] == "'self'"
    reached = {place for places in policy.values() for place in places.split() if ":/" in place or "*" in place}
    assert reached == {f"ws://127.0.0.1:{server.port}", f"ws://localhost:{server.port}"}
    assert page.getheader("X-Content-Type-Options") == "nosniff"


def test_a_files_name_is_text_on_the_page(server, visit):
    assert "&lt;img src=x onerror=alert(1)&gt;" in visit[0].text
    assert "<img src=x" not in visit[0].text


CLIMBS = (
    *("..%2f..%2foutside.txt", "../../outside.txt", "%2e%2e/outside.txt", "%2f{home}/outside.txt"),
    *("..%5c..%5coutside.txt", ".modelmath/copied.json"),
)
STAIRS = (
    *("/files/", "/voila/files/", "/voila/render/", "/nbconvert/html/", "/api/contents/", "/lab/extensions/modelmath/"),
    *("/voila/templates/bench/static/", "/voila/static/", "/static/", "/lab/api/themes/"),
)


@pytest.mark.parametrize("stair", STAIRS)
def test_nothing_outside_the_folder_is_given(server, stair):
    for climb in CLIMBS:
        path = stair + climb.format(home=quote(str(server.home), safe=""))
        answer = server.with_key(path)
        assert answer.status != 200, path
        assert OUTSIDE not in answer.text


@pytest.mark.parametrize("stair", ["/files/", "/voila/files/"])
def test_a_link_out_of_the_folder_is_not_followed(server, stair):
    assert server.with_key(stair + "link.txt").status == 403


def test_nobody_else_can_read_the_key(server):
    """Not in a file that others may read, nor in the command, nor in what the server says of a fault."""
    answer = server.ask(f"/voila/templates/..%2f..%2fx?token={server.token}")  # a fault of a library's own
    assert answer.status == 500
    assert server.token not in answer.text
    holding = [file for file in server.home.rglob("*") if file.is_file() and server.token.encode() in file.read_bytes()]
    assert [file.name for file in holding] == [f"jpserver-{server.pid}.json"]
    assert {oct(each.stat().st_mode & 0o077) for each in [*holding, holding[0].parent]} == {"0o0"}
    assert server.token not in Path(f"/proc/{server.pid}/cmdline").read_text()
    assert server.token not in Path(f"/proc/{server.pid}/environ").read_text()
