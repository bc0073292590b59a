"""What is asked before a new model's first reading is taken. Every answer but the name has a usual one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from modelmath.errors import OutOfRange

MOST_STRETCHES: Final = 4  # more are added in the walkthrough, once the first are measured
# How stretches are called until somebody names them, front to rear.
_PLAIN: Final = (("motor",), ("front", "rear"), ("front", "middle", "rear"), ("front", "second", "third", "rear"))
# The lamps that are offered, each with the end it sits at; common practice, no source.
LAMPS: Final = {"headlight": "front", "marker lamps": "front", "interior lamp": "rear"}


@dataclass(frozen=True)
class Stretch:
    """A stretch of the length with one height of the chassis under the roof.

    Attributes
    ----------
    name : str
        What stands there; empty for a plain name. [-]
    lower : bool
        Whether the roof is lower there than over the rest. [-]
    """

    name: str = ""
    lower: bool = False


@dataclass(frozen=True)
class Answers:
    """What was answered about a new model.

    Attributes
    ----------
    name : str
        The model's name. [-]
    scale : str
        Its scale. [-]
    shelf_rule : str
        A rule of the shelf, by name; empty for one of its own, with `unit` and `zero`. [-]
    unit : {"scale foot", "scale inch", "mm", "in"}
        What the rule's figures count. [-]
    zero : str
        How far its zero stands in from its end; empty where that is still to be entered. [rule's unit]
    keep : str
        The clearance to keep over the chassis; common practice, no source. [mm]
    stretches : tuple of Stretch
        Front to rear. [-]
    speaker : bool
        Whether a speaker goes in. [-]
    decoder : tuple of three str
        A decoder's length, width and height; empty where they are not known yet. [mm]
    with_decoder : bool
        Whether a decoder goes in. [-]
    lamps : tuple of str
        Which of `LAMPS` go in. [-]
    lamp_room : str
        The room along the length that each of them needs; common practice, no source. [mm]
    """

    name: str = ""
    scale: str = "HO"
    shelf_rule: str = ""
    unit: str = "scale foot"
    zero: str = ""
    keep: str = "0.5 mm"
    stretches: tuple[Stretch, ...] = (Stretch(),)
    speaker: bool = True
    with_decoder: bool = False
    decoder: tuple[str, str, str] = ("", "", "")
    lamps: tuple[str, ...] = ()
    lamp_room: str = "6 mm"


def plain_names(count: int) -> tuple[str, ...]:
    """Return how stretches are called until somebody names them.

    Parameters
    ----------
    count : int
        How many there are, 1 to 4. [-]

    Returns
    -------
    tuple of str
        Front to rear. [-]

    Raises
    ------
    OutOfRange
        If there are fewer or more.

    References
    ----------
    None needed.

    Examples
    --------
    >>> plain_names(2)
    ('front', 'rear')
    """
    if not 1 <= count <= MOST_STRETCHES:
        raise OutOfRange(
            "the number of stretches",
            str(count),
            f"from 1 to {MOST_STRETCHES}",
            "Begin with these; more are added in the walkthrough.",
        )
    return _PLAIN[count - 1]
