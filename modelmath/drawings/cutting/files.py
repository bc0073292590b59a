"""The drawings of flat parts as files in a folder."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from modelmath.drawings.cutting.dxf import cutting_dxf
from modelmath.drawings.cutting.svg import cutting_svg
from modelmath.drawings.into_folder import write_into
from modelmath.files import file_name

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
    return write_into(folder, f"{file_name(plan.job.name)}-parts.svg", content, "the drawing", plan.job.name)


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
    name = f"{file_name(plan.job.name)}-parts.dxf"
    return write_into(folder, name, cutting_dxf(plan), "the drawing", plan.job.name)
