"""After installation nothing is fetched: by no notebook, and by nothing that a page is made of.

Each notebook is run by the suite anyway, in a kernel that the watch below is set over; here is seen that it bites.
What a browser asks for is judged by the browser tests' own fixture.
"""

from __future__ import annotations

import json
import os
import re
import socket
from pathlib import Path

import only_here
import pytest
from jupyter_client.manager import start_new_kernel

ROOT = Path(__file__).resolve().parents[2]
# A name or address that stands for no machine (RFC 2606, RFC 5737).
REACHES = {
    "connect": "import socket; socket.create_connection(('192.0.2.1', 80), 1)",
    "name": "import socket; socket.getaddrinfo('elsewhere.example', 80)",
    "page": "import urllib.request; urllib.request.urlopen('http://elsewhere.example/')",
    "datagram": "import socket; socket.socket(socket.AF_INET, socket.SOCK_DGRAM).sendto(b'', ('192.0.2.1', 9))",
    "hidden": "import socket\ntry:\n    socket.getaddrinfo('elsewhere.example', 80)\nexcept Exception:\n    pass",
}


def test_a_notebooks_kernel_reaches_nothing_outside_this_machine():
    manager, client = start_new_kernel()
    try:
        said = {name: client.execute_interactive(code, output_hook=lambda _: None) for name, code in REACHES.items()}
        here = client.execute_interactive("import socket; socket.getaddrinfo('localhost', 80)", output_hook=print)
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    assert {name: answer["content"].get("ename") for name, answer in said.items()} == dict.fromkeys(
        REACHES, "ReachedOut"
    )
    assert here["content"]["status"] == "ok"


@pytest.mark.parametrize("code", REACHES.values(), ids=REACHES)
@pytest.mark.filterwarnings("ignore::ResourceWarning")
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_neither_does_a_test(code):
    with pytest.raises(only_here.ReachedOut):
        exec(code, {})


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.8.8", "::1", "localhost", "", None, b"127.0.0.1", "0.0.0.0"])
def test_this_machine_is_here(host):
    assert only_here.is_here(host)


@pytest.mark.parametrize("host", ["192.0.2.1", "elsewhere.example", "localhost.example", "2001:db8::1"])
def test_another_is_not(host):
    assert not only_here.is_here(host)


def test_the_tests_kernels_are_watched_ones():
    assert (Path(os.environ["IPYTHONDIR"]) / "profile_default" / "startup" / "00-only-here.py").is_file()


def test_a_link_between_two_processes_is_left_alone():
    first, second = socket.socketpair()
    with first, second:
        first.sendall(b"x")
        assert second.recv(1) == b"x"


# What a page, a style, a notebook or a template is made of, and what a program writes for one.
ENDINGS = (".js", ".css", ".html", ".j2", ".ipynb", ".svg", ".json", ".py")
FILES = [
    file
    for place in ("modelmath", "notebooks", "data")
    for file in sorted((ROOT / place).rglob("*"))
    if file.suffix in ENDINGS and "__pycache__" not in file.parts
]
# Names of XML's own kind, and of a schema: none is fetched.
NAMES_ONLY = (
    "http://www.w3.org/2000/svg",
    "http://www.w3.org/1999/xlink",
    "https://json-schema.org/draft/2020-12/schema",
    "http://schemas.openxmlformats.org/package/2006/",
    "http://schemas.microsoft.com/3dmanufacturing/",
)
ADDRESS = re.compile(r"(?:https?|wss?|ftp):/{2}[^\s\"'`)<>\\]+|(?:src|href)\s*=\s*[\"']//[^\"']+|url\(\s*[\"']?//[^)]+")
OWN = re.compile(r"(?:http|ws)://(?:\{HOST\}|127\.0\.0\.1|localhost):")


def addresses(text: str) -> list[str]:
    return [each for each in ADDRESS.findall(text) if not each.startswith(NAMES_ONLY) and not OWN.match(each)]


def test_nothing_shipped_names_an_address_to_load():
    assert len(FILES) > 500
    found = {str(file.relative_to(ROOT)): named for file in FILES if (named := addresses(file.read_text("utf-8")))}
    assert found == {}


@pytest.mark.parametrize(
    "text",
    [
        '<img src="//elsewhere.example/a.png">',
        "@import url(//elsewhere.example/a.css);",
        'import x from "https://elsewhere.example/x.js"',
        "wss://elsewhere.example",
    ],
)
def test_one_that_did_would_be_seen(text):
    assert addresses(text)


def test_a_kernels_settings_name_no_address():
    for file in (ROOT / "modelmath" / "workbook" / "jupyter").rglob("*.json"):
        assert "://" not in json.dumps(json.loads(file.read_text("utf-8")))
