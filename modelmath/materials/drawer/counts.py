"""Counts of what lies in the drawer."""

from __future__ import annotations

from modelmath.errors import OutOfRange


def checked_count(count: int, name: str) -> int:
    """Return a count of pieces in the drawer.

    Parameters
    ----------
    count : int
        How many. [-]
    name : str
        What they are. [-]

    Returns
    -------
    int
        The same. [-]

    Raises
    ------
    OutOfRange
        If it is no whole number, 1 or more.

    References
    ----------
    None needed.

    Examples
    --------
    >>> checked_count(2, "HO 6x10")
    2
    """
    if isinstance(count, bool) or not isinstance(count, int) or count < 1:
        raise OutOfRange(f"count of {name}", repr(count), "a whole number, 1 or more", "Leave out what is used up.")
    return count
