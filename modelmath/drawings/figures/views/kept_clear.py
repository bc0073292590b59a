"""What keeps holes away from places on a wall: its kind, its hatch and its words; the places of circuits' letters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import CROSSES, HATCH, STRIPES
from modelmath.drawings.shapes import Pen

if TYPE_CHECKING:
    from modelmath.enclosure.holes import KeepOut

HATCHES: dict[str, tuple[tuple[Pen, bool, float], ...]] = {
    "post": ((STRIPES, True, 5.0),),
    "glue line": ((HATCH, False, 4.0),),
    "flange": ((CROSSES, False, 6.0),),
    "opening": ((CROSSES, True, 9.0), (CROSSES, False, 9.0)),
}
WORDS = {
    "post": "post, glued here",
    "glue line": "floor plate, its glue line",
    "flange": "flange, sealed here",
    "opening": "opening",
}


def place_of(letter: str) -> int:
    """Return a letter's place, from 0, that of A, on.

    Parameters
    ----------
    letter : str
        One capital letter or more. [-]

    Returns
    -------
    int
        Its place. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> place_of("C"), place_of("AA")
    (2, 26)
    """
    place = 0
    for sign in letter:
        place = place * 26 + ord(sign) - ord("A") + 1
    return place - 1


def kind_of(keep_out: KeepOut) -> str:
    """Return what kind of thing keeps holes away from a place.

    Parameters
    ----------
    keep_out : KeepOut
        The place. [mm]

    Returns
    -------
    str
        A key of `HATCHES` and of `WORDS`. [-]

    References
    ----------
    None needed.
    """
    if keep_out.name.endswith("post"):
        return "post"
    if keep_out.name == "floor plate":
        return "glue line"
    return "flange" if keep_out.name.startswith("flange") else "opening"
