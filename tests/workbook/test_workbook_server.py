"""The server's settings: on this machine only, with a token, with this Python."""

from __future__ import annotations

import json
import os
import re
import socket
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

from modelmath.errors import OutOfRange
from modelmath.workbook.pages import heading, pages
from modelmath.workbook.server import Address, choose_port, environment, settings

KERNEL = """
import json
from jupyter_client import KernelManager
manager = KernelManager(kernel_name="python3")
print(json.dumps({"spec": manager.kernel_spec.display_name, "argv": manager.format_kernel_cmd()}))
"""


def test_it_listens_on_this_machine_only_and_asks_for_the_token(tmp_path):
    address = Address(8888)
    given = settings(tmp_path, address, browser=False, as_root=False)
    assert given["ServerApp"]["ip"] == "127.0.0.1"
    assert given["ServerApp"]["port"] == 8888
    assert given["ServerApp"]["port_retries"] == 0
    assert given["ServerApp"]["root_dir"] == str(tmp_path)
    assert given["ServerApp"]["allow_root"] is False
    assert given["IdentityProvider"]["token"] == address.token
    assert given["VoilaConfiguration"]["file_allowlist"] == []


def test_a_page_waits_for_what_a_busy_machine_hands_over_late(tmp_path):
    """By itself a page is made without an output that is 4 s late: it would be empty, with no word said."""
    from traitlets.config import Config
    from voila.execute import VoilaExecutor

    given = settings(tmp_path, Address(8888), browser=False, as_root=False)
    made = VoilaExecutor(nbformat.v4.new_notebook(), config=Config(given))
    assert made.iopub_timeout == 120


def test_every_opening_has_a_token_of_its_own():
    tokens = {Address(8888).token for _ in range(20)}
    assert len(tokens) == 20
    assert all(re.fullmatch("[0-9a-f]{48}", token) for token in tokens)


def test_the_token_is_not_in_the_text_of_an_address():
    address = Address(8888)
    assert address.token not in repr(address)


@pytest.mark.parametrize(
    ("lab", "path"), [(False, "/voila/render/enclosure.ipynb"), (True, "/lab/tree/enclosure.ipynb")]
)
def test_the_page_that_opens(tmp_path, lab, path):
    address = Address(8888, lab=lab, token="key")
    assert address.url == f"http://127.0.0.1:8888{path}?token=key"
    given = settings(tmp_path, address, browser=True, as_root=True)
    assert given["ServerApp"]["default_url"] == given["LabApp"]["default_url"] == path
    assert given["ServerApp"]["open_browser"] is True
    assert given["ServerApp"]["allow_root"] is True


def test_a_free_port_is_found():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = choose_port(None)
        assert 1024 <= port <= 65535
        assert port != taken.getsockname()[1]


def test_a_port_in_use_is_refused():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        text = (
            f"--port is {port} (Address already in use); it must be free. Leave --port out, and a free one is chosen."
        )
        with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
            choose_port(port)


@pytest.mark.parametrize("port", [0, -1, 65536])
def test_what_is_no_port_is_refused(port):
    text = f"--port is {port}; it must be from 1 to 65535. Leave --port out, and a free one is chosen."
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        choose_port(port)


def test_ours_comes_first_and_what_was_there_stays(tmp_path):
    given = environment(tmp_path, {"JUPYTER_PATH": "/theirs"})
    ours, theirs = given["JUPYTER_PATH"].split(os.pathsep)
    assert (Path(ours) / "voila" / "templates" / "bench" / "index.html.j2").is_file()
    assert theirs == "/theirs"
    assert Path(given["JUPYTER_CONFIG_DIR"]).is_relative_to(tmp_path)
    assert Path(given["IPYTHONDIR"]).is_relative_to(tmp_path)


@pytest.mark.parametrize("home", ["data", "user"])
def test_the_kernel_is_this_python_whatever_the_user_has_installed(tmp_path, home):
    shelf = tmp_path / "theirs" if home == "data" else tmp_path / ".local" / "share" / "jupyter"
    other = shelf / "kernels" / "python3"
    other.mkdir(parents=True)
    (other / "kernel.json").write_text(
        json.dumps({"argv": ["/usr/bin/false"], "display_name": "theirs", "language": "python"})
    )
    inherited = {**os.environ, "HOME": str(tmp_path), "JUPYTER_PATH": str(shelf), "JUPYTER_PREFER_ENV_PATH": "0"}

    def kernel(env: dict[str, str]) -> dict[str, object]:
        ran = subprocess.run([sys.executable, "-c", KERNEL], env=env, capture_output=True, text=True, check=True)
        found: dict[str, object] = json.loads(ran.stdout)
        return found

    assert kernel(inherited)["spec"] == "theirs"  # the danger is real
    found = kernel(inherited | environment(tmp_path, inherited))
    assert found["spec"] == "Python 3 (modelmath)"
    assert found["argv"][:3] == [sys.executable, "-m", "ipykernel_launcher"]


def test_the_links_name_each_page_and_mark_the_one_that_is_open():
    links = pages("strips.ipynb", ["strips.ipynb", "my notes.ipynb", "start.ipynb"])
    assert [link["name"] for link in links] == ["Start", "My notes", "Strips"]
    assert [link["href"] for link in links] == [
        "/voila/render/start.ipynb",
        "/voila/render/my%20notes.ipynb",
        "/voila/render/strips.ipynb",
    ]
    assert [link["here"] for link in links] == [False, False, True]


def test_a_notebook_without_a_heading_names_no_page():
    cells = [{"cell_type": "code", "source": "# a comment"}, {"cell_type": "markdown", "source": "#tag"}]
    assert heading(cells) is None
