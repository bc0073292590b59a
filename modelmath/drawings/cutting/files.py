"""The drawings of flat parts as files in a folder."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from modelmath.drawings.cutting.dxf import cutting_dxf
from modelmath.drawings.cutting.svg import cutting_svg
from modelmath.errors import JobError
from modelmath.files import file_name, write_whole

if TYPE_CHECKING:
    from modelmath.job import Plan


def save_cutting_svg(plan: Plan, folder: str | os.PathLike[str]) -> Path:
    """Write the flat parts of a plan as an SVG file.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]

    Returns
    -------
    Path
        The file, named after the job. [-]

    Raises
    ------
    DoesNotFit, NotYetKnown
        If there is nothing to draw.
    JobError
        If the file can't be written; an older one of that name is untouched.

    References
    ----------
    `cutting_svg`.
    """
    content = cutting_svg(plan).encode()
    return write_into(folder, f"{file_name(plan.job.name)}-parts.svg", content, "the drawing")


def save_cutting_dxf(plan: Plan, folder: str | os.PathLike[str]) -> Path:
    """Write the flat parts of a plan as a DXF file.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]

    Returns
    -------
    Path
        The file, named after the job. [-]

    Raises
    ------
    DoesNotFit, NotYetKnown
        If there is nothing to draw.
    JobError
        If the file can't be written; an older one of that name is untouched.

    References
    ----------
    `cutting_dxf`.
    """
    return write_into(folder, f"{file_name(plan.job.name)}-parts.dxf", cutting_dxf(plan), "the drawing")


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
