"""What is wrong with text that has no form of a length, and what to write instead."""

from __future__ import annotations

import re

from modelmath.errors import UnreadableLength, shown

EXAMPLE = "a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft"
FEET_AND_INCHES = "feet and inches as 4' 9 1/2\", or one number with one unit"
FULL_SIZE = "a full size with its unit, such as 40' 6\" or 12.2 m"

_UNIT_WORD = re.compile(r"scale|real|mm|cm|m|in|ft|foot|feet|inch|inches|(?:milli|centi)?met(?:re|er)s?")
# In this order: the first that is found is told.
_KINDS = (
    (r"^not (yet )?measured$", "that is still to be measured", "what you read or measure"),
    (r"\b(?:nan|inf|infinity)\b", "that is not a number", EXAMPLE),
    (r"±|\+/-|\+-", "a tolerance is not read here", "the length alone, such as 15.9 mm"),
    (r"/\s*[0-9]*\s*/", "it has two fraction strokes", EXAMPLE),
    (r"\.[0-9]*\.", "it has two decimal points", EXAMPLE),
    (r"\.[0-9]*\s*/|/\s*[0-9]*\.", "a fraction has a decimal mark in it", "a fraction such as 3/4, or a decimal"),
    (r"[0-9]e[+-]?[0-9]", "powers of ten are not read here", EXAMPLE),
    (r"[0-9]\s*[x×]\s*[0-9]", "it has two sizes", "one length, such as 15.9 mm"),
    (r"[*+^]", "sums are not read here", EXAMPLE),
    (r"-\s*-", "it has two dashes in a row", EXAMPLE),
    (r"[0-9]\s*-\s*[0-9]", "its dash may mean minus", "3 1/2 or 3-1/2, or work the sum out first"),
    (
        r"\b(?:ho|h0|n|o|s|oo|tt|z)\s+(?:scale\s+)?(?:ft|foot|feet|in|inch|inches)\b",
        "the name of a scale is not read in a length",
        "3 3/4 scale ft, and the scale in its own place",
    ),
    (r"[0-9'\"]\s*scale$", "scale needs ft or in behind it", "3 3/4 scale ft or 9 scale in"),
)


def unreadable(given: str, plain: str) -> UnreadableLength:
    """Return the error that says what is wrong with text that has no form we read.

    Parameters
    ----------
    given : str
        The text as it was typed. [-]
    plain : str
        The same with plain signs and small letters. [-]

    Returns
    -------
    UnreadableLength
        To be raised. [-]

    References
    ----------
    The forms read are listed in `modelmath.lengths.parse`.

    Examples
    --------
    >>> print(unreadable("3 thou", "3 thou"))
    '3 thou': 'thou' is no number or unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.
    """
    for pattern, problem, write in _KINDS:
        if re.search(pattern, plain):
            return UnreadableLength(given, problem, write)
    strange = [word for word in re.findall(r"[^\W\d_]+", plain) if not _UNIT_WORD.fullmatch(word)]
    if strange:
        what = "it" if strange[0] == plain.strip() else shown(strange[0])
        return UnreadableLength(given, f"{what} is no number or unit", EXAMPLE)
    if not re.search("[0-9]", plain):
        return UnreadableLength(given, "it has no number", EXAMPLE)
    return UnreadableLength(given, "it can't be read as a length", EXAMPLE)
