"""A new job's file: under the model's name, and never over another."""

from __future__ import annotations

from collections.abc import Collection
from itertools import count
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import file_name, write_whole
from modelmath.job.document import Job
from modelmath.job.storage.copies import locked
from modelmath.job.storage.files import job_text


def save_new(job: Job, folder: Path, taken: Collection[str] = ()) -> Path:
    """Write a new job's file, under a name that no other has.

    Parameters
    ----------
    job : Job
        The job. [-]
    folder : Path
        The folder of the job files; made when missing. [-]
    taken : collection of str
        Further names that are not to be used, without their ending: of jobs that lie elsewhere. [-]

    Returns
    -------
    Path
        The file: called as the model, with a number where that is taken. [-]

    Raises
    ------
    JobError
        If it can't be written; nothing is left behind.

    References
    ----------
    As `modelmath.files.write_whole`.
    """
    content = job_text(job).encode()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        stem = file_name(job.name)
        for number in count(1):
            name = stem if number == 1 else f"{stem}-{number}"
            file = folder / f"{name}.toml"
            if name not in taken and _written(file, content):
                return file
    except OSError as fault:
        problem = f"it can't be written: {(fault.strerror or 'the system refuses').lower()}"
        raise JobError(str(folder), "", problem, "choose another workbook folder; nothing was changed") from None
    raise AssertionError("numbers end")  # pragma: no cover


def _written(file: Path, content: bytes) -> bool:
    """Write a file unless there is one; two pages that begin at once get one each."""
    if file.exists():
        return False
    with locked(file):
        if file.exists() or file.is_symlink():
            return False
        write_whole(file, content, alone=True)
    return True
