"""What the tables of a job document are made of: text of several kinds, and a table that refuses unknown fields."""

from __future__ import annotations

import unicodedata
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, StringConstraints
from pydantic_core import PydanticCustomError

_DIRECTION_MARKS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_NO_SIGNS = ("Cc", "Zl", "Zp")  # control characters, and what breaks a line or a paragraph


def readable_name(text: str) -> str:
    """Return a name that can be told from others by eye, on one line; others are refused.

    Parameters
    ----------
    text : str
        The name. [-]

    Returns
    -------
    str
        The same. [-]

    Raises
    ------
    PydanticCustomError
        If it has nothing to read, breaks its line, or turns the direction of what stands beside it.

    References
    ----------
    Unicode Standard, general categories Cc, Zl, Zp; UAX #9, explicit directional formatting characters.

    Examples
    --------
    >>> readable_name("cab, left")
    'cab, left'
    """
    for sign in text:
        if unicodedata.category(sign) in _NO_SIGNS:
            what = "a line break" if sign in "\n\r\x0b\x0c\x85\u2028\u2029" else "a control character"
            raise _refused("write it on one line, without {what}", f"{what} (U+{ord(sign):04X})")
        if sign in _DIRECTION_MARKS:
            what = f"U+{ord(sign):04X}"
            raise _refused("take out the mark {what}, which turns the direction of the text beside it", what)
    if not any(sign.isprintable() and not sign.isspace() for sign in text):
        raise _refused("write a name that can be read, such as {what}", '"motor"')
    return text


def _refused(write: str, what: str) -> PydanticCustomError:
    return PydanticCustomError("name", write, {"what": what})


Text = Annotated[str, StringConstraints(min_length=1, max_length=200), AfterValidator(readable_name)]
Note = Annotated[str, StringConstraints(max_length=2000)]
LengthText = Annotated[str, StringConstraints(min_length=1, max_length=60)]
SignedLengthText = Annotated[str, StringConstraints(min_length=1, max_length=60)]
Face = Literal["seat", "bench", "rail top", "deck"]
Half = Literal["shell", "chassis"]
End = Literal["front", "rear"]
BEST = "best"  # in place of a place: the plan chooses it


class Entry(BaseModel):
    """Base of every table: unknown fields are refused, so that a misspelt one is not lost."""

    model_config = ConfigDict(extra="forbid", strict=True)
