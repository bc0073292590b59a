"""The command line, small on purpose: open the workbook, write a job's packet, check a job's file."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from modelmath.errors import JobError, ModelMathError, shown, visible
from modelmath.workbook.folder import DEFAULT_FOLDER, Outcome, Prepared

if TYPE_CHECKING:
    from modelmath.materials.drawer.drawer import Drawer

LONGEST_NAME = 300  # signs of a file's name that a message repeats whole


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code: 0 done, 1 problems found in a job, 2 could not be done.

    Parameters
    ----------
    argv : sequence of str, optional
        The words after the program's name; those of this process when left out.

    Returns
    -------
    int
        The exit code.
    """
    given = _parser().parse_args(argv)
    try:
        return int(given.run(given))
    except ModelMathError as error:
        _say(f"modelmath: {error}", sys.stderr)
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        _say(f"modelmath: {place}{error.strerror}; name another file or folder.", sys.stderr)
    return 2


def _say(line: str, to: TextIO | None = None) -> None:
    """Print a line in which nothing of a job or a file's name steers the terminal."""
    stream = to or sys.stdout
    coding = stream.encoding or "utf-8"
    print(visible(line).encode(coding, "backslashreplace").decode(coding), file=stream)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="modelmath", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    job_help = "a job file, or the name of a demo job"

    command = commands.add_parser("open", help="open the workbook in a browser")
    command.add_argument("--folder", type=Path, default=Path(DEFAULT_FOLDER), help="default: %(default)s")
    command.add_argument("--lab", action="store_true", help="open the notebook in JupyterLab, code and all")
    command.add_argument("--no-browser", action="store_true", help="only print the address")
    command.add_argument("--port", type=int, metavar="N", help="default: any that is free")
    command.set_defaults(run=_open)

    command = commands.add_parser("packet", help="write a job's bench card and packet; needs no screen")
    command.add_argument("job", metavar="JOB", help=job_help)
    command.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="where the files go")
    drawer_help = "stock for a job that lists none: a workbook's drawer.json, or a table (.csv, .xlsx)"
    command.add_argument("--drawer", type=Path, metavar="FILE", help=drawer_help)
    command.set_defaults(run=_packet)

    command = commands.add_parser("check", help="say what is wrong with a job file, and where")
    command.add_argument("job", metavar="JOB", help=job_help)
    command.set_defaults(run=_check)
    return parser


def _open(given: argparse.Namespace) -> int:
    from modelmath.workbook.folder import prepare
    from modelmath.workbook.server import Address, can_open_browser, choose_port, serve

    address = Address(choose_port(given.port), lab=given.lab)
    prepared = prepare(given.folder)
    for line in _what_was_done(prepared):
        _say(line)
    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    if as_root:
        print("Running as root: fine in a container; elsewhere use an account of your own.")
    browser = not given.no_browser and can_open_browser(os.environ)

    def ready() -> None:
        print(f"Opened at: {address.url}" if browser else f"Open this in a browser: {address.url}")
        print("To stop: press Ctrl+C here.", flush=True)

    serve(prepared.folder, address, browser, as_root, ready)
    return 0


def _what_was_done(prepared: Prepared) -> list[str]:
    """Return the lines that say where the workbook is and what became of its files."""
    lines = [f"Workbook folder: {prepared.folder}"]
    for outcome, said in (
        (Outcome.COPIED, "Copied"),
        (Outcome.REFRESHED, "Brought up to date"),
        (Outcome.YOURS, "Kept as you changed them"),
        (Outcome.KEPT, "Kept as you changed them, though there is a newer one (rename yours to get it)"),
    ):
        if names := prepared.named(outcome):
            lines.append(f"{said}: {', '.join(names)}")
    return lines


def find_job(given: str) -> Path:
    """Return the job file that a word on the command line means.

    Parameters
    ----------
    given : str
        A path, or the name of a demo job without its ending. [-]

    Returns
    -------
    Path
        The file; a path comes before a demo job of the same name.

    Raises
    ------
    JobError
        If there is neither.
    """
    from modelmath.tables import data_folder

    try:
        path = Path(given).expanduser()
        if path.is_file():
            return path
        problem = "is a folder" if path.is_dir() else "no such file"
    except (OSError, ValueError, RuntimeError):  # too long a name, or ~ and somebody who has no home here
        problem = "no such file"
    jobs = data_folder() / "jobs"
    demos = [item.name.removesuffix(".toml") for item in jobs.iterdir() if item.name.endswith(".toml")]
    if given in demos:
        return Path(str(jobs / f"{given}.toml"))
    name = given if len(given) <= LONGEST_NAME else shown(given)
    raise JobError(name, "", problem, f"write the path of a job file, or a demo job: {', '.join(sorted(demos))}")


def _packet(given: argparse.Namespace) -> int:
    file = find_job(given.job)
    from datetime import date

    from modelmath.drawings import day_in_words, write_packet
    from modelmath.job import load_job, plan

    made = plan(load_job(file), None if given.drawer is None else _drawer(given.drawer))
    for path in write_packet(made, given.out, date=day_in_words(date.today())):
        _say(str(path))
    if made.misfit is None:
        return 0
    _say(f"modelmath: {made.misfit} The packet leaves it out.", sys.stderr)
    return 1


def _drawer(file: Path) -> Drawer:
    """Return the drawer of a file; a row of a table that can't be read stops the command."""
    from modelmath.materials.drawer.states import DrawerFault
    from modelmath.materials.drawer.store import load_drawer
    from modelmath.materials.drawer.tables import read_drawer

    if not file.is_file():
        raise DrawerFault(str(file), "there is no such file", "check its name")
    if file.suffix == ".json":
        return load_drawer(file).drawer
    drawer, bad = read_drawer(file)
    if bad:
        first = bad[0]
        raise DrawerFault(file.name, f"row {first.number} can't be read: {first.column}: {first.message}", "mend it")
    return drawer


def _check(given: argparse.Namespace) -> int:
    file = find_job(given.job)
    from modelmath.job import check_job, open_job

    problems = check_job(file)
    for problem in problems:
        _say(str(problem))
    if not problems:
        for line in open_job(file).news:  # an earlier format, brought up to date
            _say(line)
        print("no problem found")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
