"""All jobs of a folder brought up to the shelf's version: first which would change and how, then the writing."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from modelmath.errors import JobError
from modelmath.job.document import Job
from modelmath.job.shelf.differing import Difference, differences
from modelmath.job.shelf.taking import from_shelf
from modelmath.job.shelf.things import SHELF, Shelf
from modelmath.job.storage.files import open_job, store_job


@dataclass(frozen=True)
class Proposal:
    """A job that is not as the shelf has it.

    Attributes
    ----------
    file : Path
        Its file. [-]
    job : Job
        The job as it would be. [-]
    mark : str
        What its file is; it is written only as long as it is still that. [-]
    differences : tuple of Difference
        What would change. [-]
    """

    file: Path
    job: Job
    mark: str
    differences: tuple[Difference, ...]

    def __str__(self) -> str:
        return f"{self.file.name}: {'. '.join(str(each) for each in self.differences)}."


@dataclass(frozen=True)
class Proposals:
    """What of a folder would change.

    Attributes
    ----------
    proposals : tuple of Proposal
        The jobs that would change, by the names of their files. [-]
    same : tuple of Path
        Those that have nothing on the shelf, or have it as it is there. [-]
    unreadable : tuple of JobError
        Why a file of the folder can't be read; it is left alone. [-]
    """

    proposals: tuple[Proposal, ...] = ()
    same: tuple[Path, ...] = ()
    unreadable: tuple[JobError, ...] = ()


@dataclass(frozen=True)
class BroughtUp:
    """What was written.

    Attributes
    ----------
    written : tuple of Path
        The files that are now as the shelf has it; of each the copy before is kept. [-]
    left : tuple of JobError
        Why others were left as they are. [-]
    """

    written: tuple[Path, ...] = ()
    left: tuple[JobError, ...] = field(default=())


def proposals(folder: str | os.PathLike[str], shelf: Shelf) -> Proposals:
    """Return which jobs of a folder are not as the shelf has it. Nothing is written.

    Parameters
    ----------
    folder : str or path
        The folder of the job files. [-]
    shelf : Shelf
        The shelf. [-]

    Returns
    -------
    Proposals
        The jobs that would change, each with what would. [-]

    References
    ----------
    None needed.
    """
    found: list[Proposal] = []
    same: list[Path] = []
    unreadable: list[JobError] = []
    for file in sorted(each for each in Path(folder).glob("*.toml") if each.name != SHELF):
        try:
            opened = open_job(file)
            differing = differences(opened.job, shelf)
            job = opened.job
            for each in differing:
                job = from_shelf(job, shelf, each.kind, each.name)
        except JobError as fault:
            unreadable.append(fault)
            continue
        if differing:
            found.append(Proposal(file, job, opened.mark, differing))
        else:
            same.append(file)
    return Proposals(tuple(found), tuple(same), tuple(unreadable))


def bring_up(chosen: Iterable[Proposal]) -> BroughtUp:
    """Write the jobs that were proposed, each only if its file is still what it was.

    Parameters
    ----------
    chosen : iterable of Proposal
        Those that were agreed to. [-]

    Returns
    -------
    BroughtUp
        What was written, and why others were left. Where a file was changed meanwhile it stays, and the new version is
        kept beside it. [-]

    References
    ----------
    `store_job`.
    """
    written: list[Path] = []
    left: list[JobError] = []
    for each in chosen:
        try:
            written.append(store_job(each.job, each.file, each.mark).file)
        except JobError as fault:
            left.append(fault)
    return BroughtUp(tuple(written), tuple(left))
