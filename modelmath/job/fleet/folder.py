"""A folder of jobs as a table: each file a row, the damaged ones too."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from modelmath.errors import JobError, UnknownChoice
from modelmath.job.fleet.kept import KeptRow, kept_file, read_kept, write_kept
from modelmath.job.fleet.rows import Row, row_of
from modelmath.job.storage.copies import mark_of
from modelmath.job.storage.files import LARGEST, read_job
from modelmath.lengths.scales import scale
from modelmath.steps import InSteps, Progress, at_once

ORDERS = ("name", "scale", "least done", "most done")
AT_A_TIME = 50  # rows worked out between two writes of what is kept


@dataclass(frozen=True)
class Overview:
    """The jobs of a folder.

    Attributes
    ----------
    folder : Path
        The folder. [-]
    rows : tuple of Row
        One for each job file, in order of their names. [-]
    worked_out : int
        How many of them had to be worked out; the others were kept from before. [-]
    marks : mapping of str to str
        The mark of each file's content, by its name; empty of one that can't be opened. [-]
    """

    folder: Path
    rows: tuple[Row, ...]
    worked_out: int = 0
    marks: Mapping[str, str] = field(default_factory=dict)

    @property
    def not_yet(self) -> int:
        """How many rows are still to be worked out. [-]"""
        return sum(row.not_yet for row in self.rows)

    @property
    def in_words(self) -> str:
        """What is there, in a line. [-]"""
        count = len(self.rows)
        if not count:
            return "There is no job file in this folder."
        bad = sum(bool(row.problem) for row in self.rows)
        done = sum(bool(row.steps) and row.done == row.steps for row in self.rows)
        said = [f"{count} job{'' if count == 1 else 's'}"]
        said += [f"{done} built"] if done else []
        said += [f"{bad} that can't be planned as {'it is' if bad == 1 else 'they are'}"] if bad else []
        said += [f"{self.not_yet} still to be worked out"] if self.not_yet else []
        return f"{', '.join(said)}."


def job_files_in(folder: Path) -> tuple[Path, ...]:
    """Return the job files of a folder.

    Parameters
    ----------
    folder : Path
        The folder. [-]

    Returns
    -------
    tuple of Path
        In order of their names; hidden ones are left out. [-]

    Raises
    ------
    JobError
        If there is no such folder, or it can't be opened.

    References
    ----------
    None needed.
    """
    if not folder.is_dir():
        raise JobError(str(folder), "", "there is no such folder", "write the path of a folder of job files")
    try:
        return tuple(sorted(file for file in folder.iterdir() if file.suffix == ".toml" and file.name[0] != "."))
    except OSError as fault:
        problem = f"it can't be opened: {(fault.strerror or str(fault)).lower()}"
        raise JobError(str(folder), "", problem, "check whether you may open it") from None


def overview(folder: Path, keep: bool = True, most_new: int | None = None) -> Overview:
    """Return the jobs of a folder as rows; what did not change since the last time is not worked out again.

    Parameters
    ----------
    folder : Path
        The folder. [-]
    keep : bool
        Whether rows are kept in a hidden folder beside the jobs. [-]
    most_new : int or None
        How many rows are worked out at most; the others are said to be still to be worked out. [-]

    Returns
    -------
    Overview
        A file that can't be read is a row with its message. [-]

    Raises
    ------
    JobError
        If there is no such folder, or it can't be opened.

    References
    ----------
    Each figure is the plan's own.
    """
    return at_once(overview_in_steps(folder, keep, most_new))


def overview_in_steps(folder: Path, keep: bool = True, most_new: int | None = None) -> InSteps[Overview]:
    """Return the jobs of a folder as `overview` does, one job after the other.

    Parameters
    ----------
    folder : Path
        The folder. [-]
    keep : bool
        Whether rows are kept in a hidden folder beside the jobs. [-]
    most_new : int or None
        How many rows are worked out at most. [-]

    Yields
    ------
    Progress
        Before each row that is worked out. [-]

    Returns
    -------
    Overview
        As `overview`. [-]

    Raises
    ------
    JobError
        If there is no such folder, or it can't be opened.

    References
    ----------
    `overview`.
    """
    found = [_marked(file) for file in job_files_in(folder)]
    place = kept_file(folder)
    before = read_kept(place) if keep else {}
    known = {
        each.name: before[each.name] for each in found if each.name in before and before[each.name].mark == each.mark
    }
    new = [each for each in found if each.name not in known]
    now = new[:most_new]
    unmarked: dict[str, Row] = {}
    try:
        for count, each in enumerate(now, start=1):
            yield Progress(f"Working out {each.name}, {count} of {len(now)}", (count - 1) / len(now))
            if each.mark:
                known[each.name] = KeptRow(each.mark, row_of(each.content, each.name))
            else:
                unmarked[each.name] = _unreadable(each.file)
            if keep and count % AT_A_TIME == 0:
                write_kept(place, known)
    finally:  # what is worked out when it is left off is kept too
        if keep and (now or len(known) != len(before)):
            write_kept(place, known)
    rows = {name: kept.row for name, kept in known.items()} | unmarked
    shown = tuple(rows.get(each.name) or Row(each.name, not_yet=True) for each in found)
    return Overview(folder, shown, len(now), {each.name: each.mark for each in found})


@dataclass(frozen=True)
class _Marked:
    """A job file, its mark and what it holds; no mark where it is no file of a job's size, or can't be opened."""

    file: Path
    mark: str = ""
    content: bytes = b""

    @property
    def name(self) -> str:
        return self.file.name


def _marked(file: Path) -> _Marked:
    try:
        if not file.is_file() or file.stat().st_size > LARGEST:
            return _Marked(file)
        content = file.read_bytes()
    except (OSError, ValueError):
        return _Marked(file)
    return _Marked(file, mark_of(content), content)


def _unreadable(file: Path) -> Row:
    _, faults = read_job(file)
    return Row(file.name, problem=str(faults[0]) if faults else f"{file.name}: it changed while it was read")


def in_order(rows: Iterable[Row], order: str) -> tuple[Row, ...]:
    """Return rows sorted.

    Parameters
    ----------
    rows : iterable of Row
        The rows. [-]
    order : {"name", "scale", "least done", "most done"}
        By what. Scales go from the largest model down; jobs without what is sorted by go last. [-]

    Returns
    -------
    tuple of Row
        Rows that are equal in it by their names, then by their files' names. [-]

    Raises
    ------
    UnknownChoice
        If there is no such order.

    References
    ----------
    None needed.

    Examples
    --------
    >>> rows = [Row("b.toml", "switcher", "HO"), Row("a.toml", "railcar", "N"), Row("c.toml", "tram", "O")]
    >>> [row.name for row in in_order(rows, "scale")]
    ['tram', 'switcher', 'railcar']
    """
    if order not in ORDERS:
        raise UnknownChoice("order", order, ORDERS)
    by_name = sorted(rows, key=lambda row: (not row.name, row.title.casefold(), row.file))
    if order == "name":
        return tuple(by_name)
    if order == "scale":
        return tuple(sorted(by_name, key=_ratio))
    sign = 1 if order == "least done" else -1
    return tuple(sorted(by_name, key=lambda row: (not row.steps, sign * row.share)))


def _ratio(row: Row) -> float:
    try:
        return float(scale(row.scale).ratio)
    except ValueError:  # of the family of errors all are
        return float("inf")


def labels(rows: Iterable[Row]) -> dict[str, str]:
    """Return what each job is called among the others: its name, and its file where several have one name.

    Parameters
    ----------
    rows : iterable of Row
        The jobs. [-]

    Returns
    -------
    dict of str to str
        File names by label. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> labels([Row("a.toml", "hood"), Row("b.toml", "hood"), Row("c.toml", "cab")])
    {'hood (a.toml)': 'a.toml', 'hood (b.toml)': 'b.toml', 'cab': 'c.toml'}
    """
    listed = list(rows)
    titles = Counter(row.title for row in listed)
    found: dict[str, str] = {}
    for row in listed:
        label = row.title
        while label in found or (label == row.title and titles[label] > 1):
            label = f"{label} ({row.file})"
        found[label] = row.file
    return found
