"""One step of a build, and how long it takes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.errors import TableError
from modelmath.tables import rows

FILE = "build_times.csv"


@dataclass(frozen=True)
class Time:
    """How long a kind of step takes.

    Attributes
    ----------
    work_min, wait_min : int
        Work with the hands, and how long it is then left alone. [min]
    why : str
        What takes that long. [-]
    source : str
        Where that comes from. [-]
    """

    work_min: int
    wait_min: int
    why: str
    source: str


@dataclass(frozen=True)
class Step:
    """One step of the build.

    Attributes
    ----------
    number : int
        Its number, from 1. [-]
    text : str
        What to do. [-]
    hold : bool
        Whether to stop there until every check is right. [-]
    checks : tuple of str
        What is measured or looked at, each with a box on the sheet. [-]
    topics : tuple of str
        Topics of the cautions that belong to it. [-]
    key : str
        What it is called in a job, whatever its number. [-]
    needs : tuple of str
        Keys of the steps that have to be done before; those that the plan does not have count for nothing. [-]
    kind : str
        Which row of data/build_times.csv tells how long it takes. [-]
    """

    number: int
    text: str
    hold: bool = False
    checks: tuple[str, ...] = ()
    topics: tuple[str, ...] = ()
    key: str = ""
    needs: tuple[str, ...] = ()
    kind: str = "prepare"

    @property
    def time(self) -> Time:
        """How long it takes. [min]"""
        return times()[self.kind]


@cache
def times() -> dict[str, Time]:
    """Return how long each kind of step takes.

    Returns
    -------
    dict of str to Time
        By kind. [min]

    Raises
    ------
    TableError
        If the table has a row that makes no sense.

    References
    ----------
    data/build_times.csv: common practice, no source; labels decide.
    """
    found: dict[str, Time] = {}
    for line, row in rows(FILE):
        work, wait = row["work_min"], row["wait_min"]
        if not (work.isdigit() and wait.isdigit()) or row["what"] in found:
            raise TableError(FILE, line, f"{row['what']} needs whole minutes, and stands once")
        found[row["what"]] = Time(int(work), int(wait), row["why"], row["source"])
    return found
