"""What the overview worked out, kept beside the jobs, so that a file that did not change is not planned again.

A row is taken from there only for the same content, under the same name, by the same release and the same tables. A
file that is damaged counts as none: all is worked out anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TYPE_CHECKING

from modelmath.files import write_whole
from modelmath.job.fleet.rows import Row
from modelmath.job.storage.copies import OWN_FOLDER
from modelmath.tables import data_folder

if TYPE_CHECKING:
    from pydantic import TypeAdapter

FILE = "overview"
LARGEST = 200_000_000  # bytes; a row has some 4,000
_CALCULATES = (".py", ".csv")  # what a figure follows from


@dataclass(frozen=True)
class KeptRow:
    """A row and the content that it was worked out from.

    Attributes
    ----------
    mark : str
        Of the job file, as `mark_of`. [-]
    row : Row
        The row. [-]
    """

    mark: str
    row: Row


def kept_file(folder: Path) -> Path:
    """Return where the rows of a folder are kept.

    Parameters
    ----------
    folder : Path
        The folder of jobs. [-]

    Returns
    -------
    Path
        In a hidden folder in it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> kept_file(Path("/jobs")).as_posix()
    '/jobs/.modelmath/overview'
    """
    return folder / OWN_FOLDER / FILE


@cache
def release_mark() -> str:
    """Return the mark of this release: its version, its modules and its tables.

    Returns
    -------
    str
        A digest; another as soon as any of them changes. [-]

    References
    ----------
    FIPS 180-4, SHA-256.
    """
    try:
        found = sha256(version("modelmath").encode())
    except PackageNotFoundError:
        found = sha256(b"")
    for top in (files("modelmath"), data_folder()):
        for place in _content(top, ""):
            found.update(place)
    return found.hexdigest()


def _content(top: Traversable, path: str) -> list[bytes]:
    """Return name and content of each module and table below a folder, in order of their names."""
    found: list[bytes] = []
    for item in sorted(top.iterdir(), key=lambda each: each.name):
        inner = f"{path}/{item.name}"
        if item.is_dir():
            if item.name not in ("widgets", "drawings", "__pycache__"):
                found += _content(item, inner)
        elif item.name.endswith(_CALCULATES):
            content = item.read_bytes()
            found += [f"{inner} {len(content)}\n".encode(), content]
    return found


def read_kept(file: Path) -> dict[str, KeptRow]:
    """Return the rows that were kept.

    Parameters
    ----------
    file : Path
        Where they are kept. [-]

    Returns
    -------
    dict of str to KeptRow
        By the job file's name; none where there is no such file, it is damaged, or of another release. [-]

    References
    ----------
    ECMA-404; FIPS 180-4.
    """
    try:
        if not file.is_file() or file.stat().st_size > LARGEST:
            return {}
        head, _, body = file.read_bytes().partition(b"\n")
    except (OSError, ValueError):
        return {}
    if head != _head(body):
        return {}
    try:
        return _adapter().validate_json(body)
    except ValueError:  # pydantic's are of this kind
        return {}


def write_kept(file: Path, rows: Mapping[str, KeptRow]) -> None:
    """Keep rows; where the folder can't be written they are worked out again the next time.

    Parameters
    ----------
    file : Path
        Where to; its folder is made when missing. [-]
    rows : mapping of str to KeptRow
        By the job file's name. [-]

    References
    ----------
    As `modelmath.files.write_whole`.
    """
    named = {name: row for name, row in rows.items() if _is_text(name)}
    body = _adapter().dump_json(named)
    with suppress(OSError):
        file.parent.mkdir(exist_ok=True)
        write_whole(file, _head(body) + b"\n" + body, through_links=False, synced=False)


def _is_text(name: str) -> bool:
    """Return whether a file's name is Unicode text, which JSON asks for; other rows are worked out each time."""
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True


def _head(body: bytes) -> bytes:
    """Return the first line: the release, and a digest by which damage is seen."""
    return f"{release_mark()} {sha256(body).hexdigest()}".encode()


@cache
def _adapter() -> TypeAdapter[dict[str, KeptRow]]:
    from pydantic import TypeAdapter

    return TypeAdapter(dict[str, KeptRow])
