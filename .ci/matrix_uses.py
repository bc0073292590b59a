"""What a fresh installation is put to, by the Python it is installed in.

`alone` says that no network may be up, `notebooks` that each notebook is run as well.
"""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from pathlib import Path
from urllib.request import urlopen

import modelmath
from modelmath.tables import data_folder, notebooks_folder

COMMAND = str(Path(sys.executable).parent / "modelmath")
START_S = 300  # on a machine that is busy with other things too
STOP_S = 60


def check_place() -> None:
    """See that what is used is what was installed."""
    for place in (Path(modelmath.__file__), Path(str(data_folder())), Path(str(notebooks_folder()))):
        assert place.is_relative_to(sys.prefix), place


def use_commands() -> None:
    """Each demo job is without a problem; the packet of one is written."""
    jobs = sorted(Path(str(data_folder()), "jobs").glob("*.toml"))
    assert len(jobs) >= 6
    for job in jobs:
        assert _said("check", job.stem) == "no problem found\n"
    _said("packet", "gas-electric-o", "--out", "packets")
    assert any(Path("packets").glob("*.pdf"))


def _said(*words: str) -> str:
    done = subprocess.run([COMMAND, *words], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, ""), (words, done.stdout, done.stderr)
    return done.stdout


def use_package() -> None:
    """Every demo job gives a plan, from Python."""
    for job in Path(str(data_folder()), "jobs").glob("*.toml"):
        plan = modelmath.plan(modelmath.load_job(job))
        assert plan.cuts.strips
        assert plan.holes


def open_workbook() -> None:
    """The workbook opens and shows its first page, worked out."""
    words = [COMMAND, "open", "--no-browser", "--folder", "workbook"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as server:
        try:
            page = _first_page(server)
        finally:
            server.terminate()
            said, _ = server.communicate(timeout=STOP_S)
    assert "application/vnd.jupyter.widget-view+json" in page, f"{len(page)} characters without a widget"
    assert 'class="mm-failed"' not in page
    assert [line for line in said.splitlines() if line and "received signal 15, stopping" not in line] == []


def _first_page(server: subprocess.Popen[str]) -> str:
    address = ""
    for line in server.stdout or ():
        if found := re.search(r"http://127\.0\.0\.1:\d+/\S+", line):
            address = found[0]
        if line.startswith("To stop"):
            break
    with urlopen(address, timeout=START_S) as answer:
        return str(answer.read().decode())


def run_notebooks() -> None:
    """Each notebook runs, in a kernel of its own, without an error."""
    import nbformat
    from nbclient import NotebookClient

    for file in sorted(Path("workbook").glob("*.ipynb")):
        notebook = nbformat.read(file, as_version=4)
        where = {"metadata": {"path": "workbook"}}
        NotebookClient(notebook, timeout=300, kernel_name="python3", resources=where).execute()


def has_network() -> bool:
    """Whether an address that belongs to nobody can at least be sent to."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return False
    return True


if __name__ == "__main__":
    assert "alone" not in sys.argv or not has_network()
    check_place()
    use_commands()
    use_package()
    open_workbook()
    if "notebooks" in sys.argv:
        run_notebooks()
