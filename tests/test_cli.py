"""The command line: three commands, plain messages, exit codes, never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.metadata import entry_points
from pathlib import Path

import pdfplumber
import pytest

from modelmath.cli import find_job, main
from modelmath.errors import JobError, NotYetKnown
from modelmath.job import load_job, save_job
from modelmath.job.fields.sound import SoundEntry
from modelmath.job.storage.text import job_text
from modelmath.materials.drawer.store import save_drawer
from modelmath.materials.drawer.tables import read_drawer
from modelmath.tables import data_folder

ROOT = Path(__file__).resolve().parents[1]
DEMOS = sorted(item.name.removesuffix(".toml") for item in (data_folder() / "jobs").iterdir())


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job file; what is in it does not matter to the test."""
    file = tmp_path / "shunter.toml"
    file.touch()
    return file


def unknown(given: str, problem: str = "no such file") -> str:
    return f"modelmath: {given}: {problem}; write the path of a job file, or a demo job: {', '.join(DEMOS)}.\n"


def test_help_names_three_commands_and_no_more(capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert stopped.value.code == 0
    lines = capsys.readouterr().out.split("COMMAND\n")[1].split("options:")[0].splitlines()
    assert [line.split()[0] for line in lines if line.strip()] == ["open", "packet", "check"]


def test_the_command_is_installed_under_its_name():
    found = entry_points(group="console_scripts", name="modelmath")
    assert [entry.value for entry in found] == ["modelmath.cli:main"]


def test_reading_the_command_line_loads_nothing_heavy():
    code = "import sys, modelmath.cli; print([m for m in ('pandas', 'ipywidgets', 'jupyterlab') if m in sys.modules])"
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert ran.stdout == "[]\n"


def test_every_demo_job_has_no_problem(capsys):
    assert len(DEMOS) >= 4
    assert [main(["check", name]) for name in DEMOS] == [0] * len(DEMOS)
    assert capsys.readouterr().out == "no problem found\n" * len(DEMOS)


def test_check_prints_every_problem(job, capsys, monkeypatch):
    problems = [
        JobError("shunter.toml", "zone 1 (cab), floor", "3 4/3/2 can't be read", "write a reading such as 3 3/4"),
        JobError("shunter.toml", "line 9", "no such field: sclae", "write scale"),
    ]
    monkeypatch.setattr("modelmath.job.check_job", lambda path: problems if path == job else [], raising=False)
    assert main(["check", str(job)]) == 1
    assert capsys.readouterr().out == (
        "shunter.toml, zone 1 (cab), floor: 3 4/3/2 can't be read; write a reading such as 3 3/4.\n"
        "shunter.toml, line 9: no such field: sclae; write scale.\n"
    )


def test_check_says_what_it_brought_up_to_date(job, capsys):
    wiring = "front and rear in series, that pair in parallel with top"  # the words of the first releases
    also = '[{ name = "rear", impedance = "8 ohm" }, { name = "top", impedance = "4 ohm" }]'
    sound = f'wiring = "{wiring}"\ndriver = {{ impedance = "8 ohm" }}\nalso = {also}\n'
    bare = load_job(find_job("switcher-ho"))
    speaker = bare.speaker.model_copy(update={"name": "front"})
    text = job_text(bare.model_copy(update={"speaker": speaker, "sound": SoundEntry(), "choices": []}))
    job.write_text(f"{text}\n[sound]\n{sound}", "utf-8")
    assert main(["check", str(job)]) == 0
    assert capsys.readouterr().out == (
        f"The wiring was written '{wiring}' by an earlier release; it is '(front + rear in series) + top, in parallel' "
        "now.\nno problem found\n"
    )


@pytest.mark.parametrize("content", [b"scale = \n", b"\xff\xfe", b"colour = 3\n", b""])
def test_a_broken_file_is_named_in_every_line_of_the_answer(job, capsys, content):
    job.write_bytes(content)
    assert main(["check", str(job)]) == 1
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out
    assert all(line.startswith("shunter.toml") for line in said.out.splitlines())


@pytest.mark.parametrize("command", [["check"], ["packet", "--out", "packet"]])
def test_a_job_that_is_not_there(command, capsys):
    assert main([*command, "nowhere.toml"]) == 2
    assert capsys.readouterr() == ("", unknown("nowhere.toml"))


def test_a_job_that_is_a_folder(tmp_path, capsys):
    assert main(["check", str(tmp_path)]) == 2
    assert capsys.readouterr() == ("", unknown(str(tmp_path), "is a folder"))


def test_a_demo_job_goes_by_its_name():
    for name in DEMOS:
        assert find_job(name).read_bytes() == (data_folder() / "jobs" / f"{name}.toml").read_bytes()


def test_a_file_comes_before_a_demo_job_of_its_name(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    mine = tmp_path / DEMOS[0]
    mine.touch()
    assert find_job(DEMOS[0]).resolve() == mine.resolve()


def test_packet_prints_what_it_wrote(tmp_path, capsys):
    out = tmp_path / "packet"
    assert main(["packet", DEMOS[0], "--out", str(out)]) == 0
    printed = [Path(line) for line in capsys.readouterr().out.splitlines()]
    assert printed
    assert sorted(printed) == sorted(out.glob("*.pdf"))
    assert any(path.read_bytes().startswith(b"%PDF-") for path in printed)


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """The HO switcher without stock of its own."""
    found = load_job(find_job("switcher-ho")).model_copy(update={"drawer": []})
    return save_job(found, tmp_path / "bare.toml")


def test_packet_takes_stock_from_a_drawer_where_the_job_lists_none(bare, tmp_path, capsys):
    rows = (
        "kind,name,length,width,count",
        "strip,.100 sq,14 in,,1",
        "strip,1.5 x 2 mm,330 mm,,1",
        "sheet,.040 sheet,6 in,6 in,1",
    )
    text = "\n".join(rows)
    table = tmp_path / "mine.csv"
    table.write_text(text)
    kept = tmp_path / "drawer.json"
    save_drawer(kept, read_drawer(text)[0], "", "from the table")
    said = {}
    for file in (None, table, kept):
        out = tmp_path / f"out {file and file.name}"
        assert main(["packet", str(bare), "--out", str(out), *(["--drawer", str(file)] if file else [])]) == 0
        with pdfplumber.open(next(out.glob("*a4.pdf"))) as pdf:
            said[file] = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    nothing = "Nothing: the drawer has all of it."
    assert [nothing in said[file] for file in (None, table, kept)] == [False, True, True]


def test_a_drawer_that_can_t_be_read_is_told(bare, tmp_path, capsys):
    table = tmp_path / "mine.csv"
    table.write_text("kind,name,length\nstrip,.100 sq,14\n")
    for file, told in (
        (tmp_path / "none.csv", f"{tmp_path / 'none.csv'}: there is no such file; check its name."),
        (table, "mine.csv: row 2 can't be read: length: '14': it has no unit;"),
    ):
        assert main(["packet", str(bare), "--out", str(tmp_path / "out"), "--drawer", str(file)]) == 2
        assert capsys.readouterr().err.startswith(f"modelmath: {told}")
    assert not (tmp_path / "out").exists()


def test_packet_into_a_file_says_so(tmp_path, capsys):
    taken = tmp_path / "notes.txt"
    taken.write_text("keep me")
    assert main(["packet", DEMOS[0], "--out", str(taken)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("modelmath: ")
    assert str(taken) in said.err
    assert "Traceback" not in said.err
    assert taken.read_text() == "keep me"


def test_a_plan_that_lacks_an_entry_says_which(job, tmp_path, capsys, monkeypatch):
    def not_yet(_path: Path) -> None:
        raise NotYetKnown("the bulkhead's height", "the reading in the shell")

    monkeypatch.setattr("modelmath.job.load_job", not_yet, raising=False)
    assert main(["packet", str(job), "--out", str(tmp_path)]) == 2
    text = "modelmath: the bulkhead's height is not known yet; enter the reading in the shell.\n"
    assert capsys.readouterr() == ("", text)


def test_open_refuses_a_checkout(tmp_path, capsys):
    (tmp_path / "modelmath").mkdir()
    for name in ("pyproject.toml", "modelmath/tables.py"):
        (tmp_path / name).touch()
    inside = tmp_path / "my-workbook"
    assert main(["open", "--no-browser", "--folder", str(inside)]) == 2
    text = f"{inside} is inside the program's own files ({tmp_path}); name a folder of your own with --folder."
    assert capsys.readouterr() == ("", f"modelmath: {text}\n")
    assert not inside.exists()


def test_open_refuses_a_file(tmp_path, capsys):
    file = tmp_path / "notes.txt"
    file.touch()
    assert main(["open", "--no-browser", "--folder", str(file)]) == 2
    assert capsys.readouterr() == ("", f"modelmath: {file} is a file; name a folder with --folder.\n")


def test_open_refuses_a_port_before_it_makes_the_folder(tmp_path, capsys):
    folder = tmp_path / "workbook"
    assert main(["open", "--no-browser", "--folder", str(folder), "--port", "70000"]) == 2
    text = "modelmath: --port is 70000; it must be from 1 to 65535. Leave --port out, and a free one is chosen.\n"
    assert capsys.readouterr() == ("", text)
    assert not folder.exists()


def test_open_says_where_and_what_it_kept(tmp_path, capsys, monkeypatch):
    served = []
    monkeypatch.setattr("modelmath.workbook.server.serve", lambda *given: (served.append(given), given[-1]()))
    assert main(["open", "--no-browser", "--folder", str(tmp_path)]) == 0
    first = capsys.readouterr().out.splitlines()
    assert first[0] == f"Workbook folder: {tmp_path.resolve()}"
    assert "start.ipynb" in first[1]
    folder, address, browser = served[0][:3]
    assert (folder, browser) == (tmp_path.resolve(), False)
    assert first[-2:] == [f"Open this in a browser: {address.url}", "To stop: press Ctrl+C here."]
    (tmp_path / "start.ipynb").write_text("mine")
    assert main(["open", "--no-browser", "--lab", "--folder", str(tmp_path)]) == 0
    assert "Kept as you changed them: start.ipynb" in capsys.readouterr().out.splitlines()
    assert served[1][1].url.endswith(f"/lab/tree/enclosure.ipynb?token={served[1][1].token}")
