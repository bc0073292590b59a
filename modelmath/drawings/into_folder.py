"""A file of a drawing, sheet or table written whole into a folder, and over no other model's."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from itertools import count
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import write_whole
from modelmath.job.storage.copies import OWN_FOLDER, locked

RECORD = "made-for.json"
LARGEST = 1_000_000  # bytes; a record of a thousand files has some 60,000


def write_into(folder: str | os.PathLike[str], name: str, content: bytes, what: str, made_for: str = "") -> Path:
    """Write a file whole into a folder that is made if it is not there.

    A link of that name is replaced, not followed, so that nothing comes to lie outside the folder.

    Parameters
    ----------
    folder : str or path
        The folder. [-]
    name : str
        The file's name. [-]
    content : bytes
        What is in it. [-]
    what : str
        What it is, for the message. [-]
    made_for : str
        The model's name. A file made for another one, whose name gives the same file name, stays: this one gets a
        number. Empty for what belongs to no model. [-]

    Returns
    -------
    Path
        The file. [-]

    Raises
    ------
    JobError
        If it can't be written; an older one of that name is untouched.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic.
    """
    file = Path(folder) / name
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        if not made_for:
            write_whole(file, content, through_links=False)
            return file
        with locked(file.parent / RECORD):
            file = _own(file, made_for)
            write_whole(file, content, through_links=False)
    except OSError as fault:
        reason = (fault.strerror or "the folder refuses").lower()
        raise JobError(str(file), "", f"{what} can't be written: {reason}", "choose another folder") from None
    return file


def _own(file: Path, made_for: str) -> Path:
    """Return the file that a model may write, and put down that it is that model's."""
    record_file = file.parent / OWN_FOLDER / RECORD
    record = _read(record_file)
    for number in count(1):
        found = file if number == 1 else file.with_name(f"{file.stem}-{number}{file.suffix}")
        owner = record.get(found.name, made_for)
        if owner == made_for or not os.path.lexists(found):
            break
    if record.get(found.name) != made_for:
        record[found.name] = made_for
        text = json.dumps(record, indent=1, sort_keys=True) + "\n"
        write_whole(record_file, text.encode(), through_links=False, alone=True)
    return found


def _read(record_file: Path) -> dict[str, str]:
    """Return which file was made for which model; of a record that is damaged nothing."""
    with suppress(OSError, ValueError, RecursionError):
        if record_file.stat().st_size <= LARGEST:
            held = json.loads(record_file.read_bytes())
            return {str(name): str(model) for name, model in held.items()} if isinstance(held, dict) else {}
    return {}
