"""A file of a drawing, sheet or table written whole into a folder."""

from __future__ import annotations

import os
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import write_whole


def write_into(folder: str | os.PathLike[str], name: str, content: bytes, what: str) -> Path:
    """Write a file whole into a folder that is made if it is not there.

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
        write_whole(file, content)
    except OSError as fault:
        reason = (fault.strerror or "the folder refuses").lower()
        raise JobError(str(file), "", f"{what} can't be written: {reason}", "choose another folder") from None
    return file
