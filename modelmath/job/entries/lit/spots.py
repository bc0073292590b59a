"""Places in the shell as people write them: how far behind the mark, how high, how far right or left."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.job.document import SpotEntry
from modelmath.job.entries.inside.form import Form

EXAMPLE = "12 mm, 24 mm up, 3 mm right"
MOST = 20  # on one way, as many as a job may have
_UP = re.compile(r"(.+?)\s+up", re.IGNORECASE)
_SIDE = re.compile(r"(.+?)\s+(right|left)", re.IGNORECASE)
_MINUS = re.compile(r"[-−‒–]\s*(?=[\d.])")
_NONE = re.compile(r"[-+]?0+([.,]0+)?\s*[A-Za-z]*")


def spot_text(entry: SpotEntry | None) -> str:
    """Return a place as it is typed.

    Parameters
    ----------
    entry : SpotEntry or None
        The place. [-]

    Returns
    -------
    str
        Empty for none; to the left where it is right of the centre line by less than nothing. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> spot_text(SpotEntry(along="12 mm", up="24 mm", right="-3 mm"))
    '12 mm, 24 mm up, 3 mm left'
    """
    if entry is None:
        return ""
    found = f"{entry.along}, {entry.up} up"
    if _NONE.fullmatch(entry.right):
        return found
    minus = _MINUS.match(entry.right)
    return f"{found}, {entry.right[minus.end() :]} left" if minus else f"{found}, {entry.right} right"


def spots_text(entries: Iterable[SpotEntry]) -> str:
    """Return places as they are typed, each on its line.

    Parameters
    ----------
    entries : iterable of SpotEntry
        The places. [-]

    Returns
    -------
    str
        Empty for none. [-]

    References
    ----------
    None needed.
    """
    return "\n".join(spot_text(each) for each in entries)


def read_spot(form: Form, text: str, before: SpotEntry | None = None) -> dict[str, Any]:
    """Read a place.

    Parameters
    ----------
    form : Form
        For its scale. [-]
    text : str
        As typed. [-]
    before : SpotEntry or None
        What it was before; kept where the text says the same. [-]

    Returns
    -------
    dict
        The table of the document. [-]

    Raises
    ------
    WrongKind
        If it has another form; says what to write.
    UnreadableLength, OutOfRange
        If one of its lengths can't be read, or is below 0 where it may not be.

    References
    ----------
    `parse_length_exact`.
    """
    if before is not None and text.strip() == spot_text(before):
        return before.model_dump()
    parts = [part.strip() for part in re.split(r",\s+|;", text.strip()) if part.strip()]
    up = _UP.fullmatch(parts[1]) if len(parts) in (2, 3) else None
    side = _SIDE.fullmatch(parts[2]) if len(parts) == 3 else None
    if up is None or (len(parts) == 3 and side is None):
        expected = "how far behind the mark, how far up from the seat, and how far right or left"
        raise WrongKind("the place", shown(text), expected, f"Write {EXAMPLE}.")
    form.read_length(parts[0], signed=True)
    form.read_length(up[1])
    right = SpotEntry.model_fields["right"].default
    if side is not None:
        form.read_length(side[1])
        right = side[1] if side[2].casefold() == "right" else f"-{side[1]}"
    return SpotEntry(along=parts[0], up=up[1], right=right).model_dump()


def read_spots(form: Form, text: str, before: Iterable[SpotEntry] = ()) -> list[dict[str, Any]]:
    """Read places, each on its line.

    Parameters
    ----------
    form : Form
        For its scale. [-]
    text : str
        As typed. [-]
    before : iterable of SpotEntry
        What they were before; kept where a line says the same. [-]

    Returns
    -------
    list of dict
        Tables of the document. [-]

    Raises
    ------
    WrongKind, UnreadableLength, OutOfRange
        As `read_spot`; and if there are too many.

    References
    ----------
    `read_spot`.
    """
    known = {spot_text(each): each for each in before}
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    if len(lines) > MOST:
        raise OutOfRange("the number of places on its way", str(len(lines)), f"{MOST} or fewer", "Leave some out.")
    return [read_spot(form, line, known.get(line)) for line in lines]
