"""Several readings of one spot in one field: ``6; 6 1/8; 6``."""

from __future__ import annotations

from modelmath.job.document import ReadingEntry


def marks_of(text: str) -> tuple[str, list[str]]:
    """Return the first mark typed, and those of further readings of the same spot.

    Parameters
    ----------
    text : str
        As typed, parted by semicolons. [rule's unit]

    Returns
    -------
    tuple of (str, list of str)
        The first, and the others; an empty first one where nothing is typed. [rule's unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> marks_of("6; 6 1/8; 6")
    ('6', ['6 1/8', '6'])
    """
    marks = [part.strip() for part in text.split(";") if part.strip()]
    return (marks[0], marks[1:]) if marks else ("", [])


def marks_text(reading: ReadingEntry) -> str:
    """Return a reading's marks as they are typed.

    Parameters
    ----------
    reading : ReadingEntry
        The reading. [-]

    Returns
    -------
    str
        Parted by semicolons. [rule's unit]

    References
    ----------
    None needed.
    """
    return "; ".join((reading.mark, *reading.again))
