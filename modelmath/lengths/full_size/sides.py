"""Several sizes written with one unit behind the last, as in 12 x 8 ft."""

from __future__ import annotations

import re

from modelmath.errors import UnknownChoice
from modelmath.lengths.units import unit_name

BARE = re.compile(r"[-0-9 ./,⁄¼-¾⅐-⅞]+")  # a number without a unit
_LAST = re.compile(r"((?:scale\s+)?[a-z]+)\.?$|(['\"’′”″])$")
_TAIL = 40  # signs at the end of a text that are looked at; the longest unit has half of them
_PLAIN = {"’": "'", "′": "'", "”": '"', "″": '"'}


def unit_behind(text: str) -> str | None:
    """Return the unit of length that stands at the end of a text.

    Parameters
    ----------
    text : str
        A size as it was typed. [-]

    Returns
    -------
    str or None
        The unit's one name; None where no unit of length stands there. [-]

    References
    ----------
    `modelmath.lengths.units`.

    Examples
    --------
    >>> unit_behind("8 ft."), unit_behind("10 Scale in"), unit_behind("12’"), unit_behind("8")
    ('ft', 'scale inch', 'ft', None)
    """
    last = _LAST.search(" ".join(text.split())[-_TAIL:].casefold())
    if last is None:
        return None
    try:
        return unit_name(last[1] or _PLAIN.get(last[2], last[2]))
    except UnknownChoice:
        return None
