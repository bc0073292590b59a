"""The states that a job went through while it was edited, to go back to and forward again; and what changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from modelmath.job.document import Job

MOST = 200  # states kept to go back to; beyond it the oldest is let go
MOST_SAID = 2  # changes told in words before the rest is only counted
_NAMED_BY = ("name", "lamp", "strip", "sheet")  # what an entry of a list is known by, the first that it has
_LONGEST = 60  # characters of a text that are repeated when it changes
_TABLES = {
    "again": "further reading",
    "build": "how parts are made",
    "circuits": "lamp",
    "curve": "sharpest curve",
    "holes": "hole",
    "hole_layout": "how holes lie",
    "lamps": "lamp",
    "leads": "lead",
    "length": "places along the length",
    "lift_off": "how the shell comes off",
    "light": "light",
    "links": "seat above another face",
    "moving": "what moves",
    "obstacles": "obstacle",
    "profiles": "cross-section",
    "readings": "reading",
    "rules": "rule",
    "stations": "further spot",
    "strands": "strand",
    "temperature": "warmth",
    "wires": "wire",
    "zones": "zone",
}


@dataclass(frozen=True)
class History:
    """A job, the states before it, and those that were gone back from.

    Attributes
    ----------
    now : Job
        The job as it is. [-]
    past, ahead : tuple of Job
        What it was before, the latest last; what going back left, the nearest last. [-]
    """

    now: Job
    past: tuple[Job, ...] = ()
    ahead: tuple[Job, ...] = ()

    def edited(self, job: Job) -> History:
        """Return the history with a further state; one that changes nothing is none.

        Parameters
        ----------
        job : Job
            The job as it is now. [-]

        Returns
        -------
        History
            What was gone back from is let go, as another way was taken. [-]

        References
        ----------
        None needed.
        """
        if job == self.now:
            return self
        return History(job, (*self.past, self.now)[-MOST:])

    def back(self) -> History:
        """Return the history one state earlier; itself where there is none.

        Returns
        -------
        History
            What is left lies ahead. [-]

        References
        ----------
        None needed.
        """
        if not self.past:
            return self
        return History(self.past[-1], self.past[:-1], (*self.ahead, self.now))

    def forward(self) -> History:
        """Return the history one state later, where it was gone back from; itself where there is none.

        Returns
        -------
        History
            What `back` left. [-]

        References
        ----------
        None needed.
        """
        if not self.ahead:
            return self
        return History(self.ahead[-1], (*self.past, self.now), self.ahead[:-1])

    @property
    def back_changes(self) -> str:
        """What going back undoes, in words; empty where there is nothing. [-]"""
        return changes_in_words(self.past[-1], self.now) if self.past else ""

    @property
    def forward_changes(self) -> str:
        """What going forward does again, in words; empty where there is nothing. [-]"""
        return changes_in_words(self.now, self.ahead[-1]) if self.ahead else ""


def changes_in_words(before: Job, after: Job) -> str:
    """Return what differs between two states of a job.

    Parameters
    ----------
    before, after : Job
        The two states. [-]

    Returns
    -------
    str
        The first changes, and how many more there are; empty where they are equal. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> one = blank_job()
    >>> changes_in_words(one, one.model_copy(update={"scale": "N"}))
    'scale: HO to N'
    """
    found = list(_changes(before.model_dump(), after.model_dump(), ""))
    more = len(found) - MOST_SAID
    said = "; ".join(found[:MOST_SAID])
    return f"{said}; and {more} more" if more > 0 else said


def _changes(before: Any, after: Any, where: str) -> Iterator[str]:
    """Yield every change below one place of a document."""
    if before == after:
        return
    if isinstance(before, dict) and isinstance(after, dict):
        for field in after:
            yield from _changes(before.get(field), after[field], _joined(where, field))
    elif isinstance(before, list) and isinstance(after, list):
        yield from _list_changes(before, after, where)
    else:
        yield f"{where}: {_short(before)} to {_short(after)}"


def _list_changes(before: list[Any], after: list[Any], where: str) -> Iterator[str]:
    """Yield what was added to a list, taken from it or changed in it; entries are told apart by their names."""
    one, other = _by_name(before), _by_name(after)
    if one is None or other is None:
        if len(before) != len(after):
            yield f"{where}: {len(before)} to {len(after)} of them"
            return
        for at, (was, now) in enumerate(zip(before, after, strict=True), 1):
            yield from _changes(was, now, f"{where} {at}")
        return
    for name in one:
        if name in other:
            yield from _changes(one[name], other[name], f"{where} {name}")
        else:
            yield f"{where} {name} taken out"
    yield from (f"{where} {name} put in" for name in other if name not in one)
    if list(one) != list(other) and set(one) == set(other):
        yield f"{where}: another order"


def _by_name(entries: list[Any]) -> dict[str, Any] | None:
    """Return the entries of a list by what they are known by; None where they have no names of their own."""
    found: dict[str, Any] = {}
    for entry in entries:
        key = next((entry[field] for field in _NAMED_BY if field in entry), None) if isinstance(entry, dict) else None
        if key is None or str(key) in found:
            return None
        found[str(key)] = entry
    return found


def _joined(where: str, field: str) -> str:
    words = _TABLES.get(field, field.replace("_", " "))
    return f"{where}, {words}" if where else words


def _short(value: Any) -> str:
    if value in (None, "", [], {}):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (dict, list)):
        return "something"
    text = " ".join(str(value).split())
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1].rstrip()}…"
