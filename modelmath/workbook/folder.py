"""The workbook folder: notebooks and demo jobs copied to where their owner may change them.

A copy that its owner has not touched follows the package; one that was changed is never overwritten.
What tells the two apart is a record, inside the folder, of what each copy looked like when it was made.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from hashlib import sha256
from pathlib import Path, PurePosixPath

import modelmath
from modelmath.errors import ModelMathError
from modelmath.files import write_whole
from modelmath.tables import data_folder, notebooks_folder

DEFAULT_FOLDER = "~/modelmath-workbook"
HIDDEN = ".modelmath"  # inside the workbook folder: the record, and the settings of this workbook's JupyterLab
RECORD = "copied.json"


class FolderRefused(ModelMathError):
    """A folder that can't hold the workbook."""

    def __init__(self, folder: str, problem: str, write: str) -> None:
        super().__init__(folder, problem, write)
        self.folder, self.problem, self.write = folder, problem, write

    def __str__(self) -> str:
        return f"{self.folder} {self.problem}; {self.write}."


class Outcome(Enum):
    """What became of one file of the workbook."""

    COPIED = "copied"  # there was none
    REFRESHED = "refreshed"  # an untouched copy of an earlier release
    SAME = "same"
    YOURS = "yours"  # changed by its owner, and nothing newer to offer
    KEPT = "kept"  # changed by its owner, though this release has a newer one


@dataclass(frozen=True)
class Prepared:
    """A workbook folder that is ready to be shown.

    Attributes
    ----------
    folder : Path
        Where it is, absolute.
    outcomes : mapping of str to Outcome
        By file, its path in the folder with forward slashes.
    """

    folder: Path
    outcomes: Mapping[str, Outcome]

    def named(self, outcome: Outcome) -> list[str]:
        """Return the files with one outcome, in order of their names."""
        return sorted(name for name, found in self.outcomes.items() if found is outcome)


def digest(content: bytes) -> str:
    """Return the fingerprint that the record keeps of a file.

    Examples
    --------
    >>> digest(b"")[:12]
    'e3b0c44298fc'
    """
    return sha256(content).hexdigest()


def fingerprint(name: str, content: bytes) -> str:
    """Return what tells a file from one that its owner changed: of a notebook its cells, whatever they gave when run.

    JupyterLab writes a page's results into it without being asked; that makes it no notebook of its owner's own.

    Parameters
    ----------
    name : str
        The file's name. [-]
    content : bytes
        What is in it. [-]

    Returns
    -------
    str
        Alike for notebooks whose cells are of one kind, text and tags, in one order. [-]

    References
    ----------
    The notebook format, nbformat 4.

    Examples
    --------
    >>> run = b'{"cells": [{"cell_type": "code", "source": "1", "execution_count": 3, "outputs": []}]}'
    >>> fingerprint("a.ipynb", run) == fingerprint("a.ipynb", b'{"cells": [{"cell_type": "code", "source": ["1"]}]}')
    True
    """
    if not name.endswith(".ipynb"):
        return digest(content)
    try:
        cells = [
            [cell["cell_type"], "".join(cell["source"]), cell.get("metadata", {}).get("tags", [])]
            for cell in json.loads(content)["cells"]
        ]
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return digest(content)
    return digest(json.dumps(cells).encode())


def outcome(shipped: str, present: str | None, recorded: str | None) -> Outcome:
    """Decide what to do with one file, from three fingerprints.

    Parameters
    ----------
    shipped : str
        Of the file in this release. [-]
    present : str or None
        Of the file in the folder; None when there is none. [-]
    recorded : str or None
        Of the copy when it was last made; None when it never was. [-]

    Returns
    -------
    Outcome
        COPIED and REFRESHED ask for the file to be written; the others leave it alone.

    Examples
    --------
    >>> outcome("new", "old", recorded="old").value, outcome("new", "mine", recorded="old").value
    ('refreshed', 'kept')
    """
    if present is None:
        return Outcome.COPIED
    if present == shipped:
        return Outcome.SAME
    if present == recorded:
        return Outcome.REFRESHED
    return Outcome.YOURS if recorded == shipped else Outcome.KEPT


def shipped_files() -> dict[str, bytes]:
    """Return what a workbook folder is filled with: notebooks on top, the demo jobs in ``jobs``."""
    found = {item.name: item.read_bytes() for item in notebooks_folder().iterdir() if item.name.endswith(".ipynb")}
    jobs = data_folder() / "jobs"
    for item in jobs.iterdir():
        if item.name.endswith(".toml"):
            found[f"jobs/{item.name}"] = item.read_bytes()
    return dict(sorted(found.items()))


def source_home(folder: Path) -> Path | None:
    """Return the package folder or checkout that `folder` lies in, or None.

    A checkout is told by what is in it, so that another clone than the one running is spared too.
    """
    package = Path(modelmath.__file__).resolve().parent
    for home in (folder, *folder.parents):
        if home == package or ((home / "pyproject.toml").is_file() and (home / "modelmath" / "tables.py").is_file()):
            return home
    return None


def prepare(folder: Path, shipped: Mapping[str, bytes] | None = None) -> Prepared:
    """Make the workbook folder, or bring it up to date, without touching what its owner changed.

    Parameters
    ----------
    folder : Path
        The folder; ``~`` is the user's home. Made when missing, with its parents. [-]
    shipped : mapping of str to bytes, optional
        Content by path in the folder; `shipped_files()` when left out. [-]

    Returns
    -------
    Prepared
        Where it is, and what became of each file. A file that was deleted comes back: that is how its
        owner asks for a fresh copy.

    Raises
    ------
    FolderRefused
        If the folder is a file, lies in the package or a checkout, or can't be written.
    """
    shipped = shipped_files() if shipped is None else shipped
    try:
        asked = folder.expanduser()
    except RuntimeError:  # ~ and somebody who has no home here
        raise FolderRefused(str(folder), "is in no home folder that is known", "name a folder with --folder") from None
    if asked.exists() and not asked.is_dir():
        raise FolderRefused(str(asked), "is a file", "name a folder with --folder")
    try:
        place = asked.resolve()
        inside = [".", HIDDEN, *sorted({PurePosixPath(name).parent.as_posix() for name in shipped})]
        folders = [(place / name).resolve() for name in inside]  # a link in the folder may lead back to the source
        for into in folders:
            if home := source_home(into):
                problem = f"is inside the program's own files ({home})"
                raise FolderRefused(str(into), problem, "name a folder of your own with --folder")
        for into in folders:
            into.mkdir(parents=True, exist_ok=True)
        return Prepared(place, _bring_up_to_date(place, shipped))
    except OSError as error:
        problem = f"can't be written ({error.strerror})"
        raise FolderRefused(str(asked), problem, "name a folder of your own with --folder") from error


def _bring_up_to_date(place: Path, shipped: Mapping[str, bytes]) -> dict[str, Outcome]:
    record_file = place / HIDDEN / RECORD
    record = _read_record(record_file)
    outcomes: dict[str, Outcome] = {}
    for name, content in shipped.items():
        target = place / name
        mark, recorded = fingerprint(name, content), record.get(name)
        outcomes[name] = found = outcome(mark, _present(target, recorded), recorded)
        if found in (Outcome.COPIED, Outcome.REFRESHED):
            write_whole(target, content, through_links=False)
        if found in (Outcome.COPIED, Outcome.REFRESHED, Outcome.SAME):
            record[name] = mark
    write_whole(record_file, (json.dumps(record, indent=1, sort_keys=True) + "\n").encode(), through_links=False)
    return outcomes


def _present(target: Path, recorded: str | None) -> str | None:
    """Return the fingerprint of a file in the folder; records of earlier releases hold that of all its bytes."""
    if not target.exists():
        return None
    content = target.read_bytes()
    return recorded if digest(content) == recorded else fingerprint(target.name, content)


def _read_record(record_file: Path) -> dict[str, str]:
    """Return the record, or an empty one: a lost record only means that no file counts as untouched."""
    try:
        held = json.loads(record_file.read_text("utf-8"))
    except (FileNotFoundError, ValueError, RecursionError):
        return {}
    return {str(name): str(mark) for name, mark in held.items()} if isinstance(held, dict) else {}
