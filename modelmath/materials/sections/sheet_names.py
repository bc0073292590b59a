"""Sheet by name: from the name to its thickness."""

from __future__ import annotations

import re

from modelmath.errors import UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.materials.sections.sheets import Sheet

EXAMPLES = ".040 sheet or 1 mm sheet"
_WORD = re.compile(r"\b(?:sheet|plate)\b")
_POINT_FIRST = re.compile(r"\.[0-9]{2,}")
_METRIC = re.compile(r".*[0-9]\s*mm")


def parse_sheet(text: str) -> Sheet:
    """Read a sheet's name by its thickness: ``.040 sheet``, ``1 mm sheet``, ``sheet .020``, ``0.040 in``.

    A thickness that begins with its point, as packets print it, is in inches; any other names its unit.

    Parameters
    ----------
    text : str
        The name. [-]

    Returns
    -------
    Sheet
        The sheet. [mm]

    Raises
    ------
    UnreadableLength
        If it is no sheet's name, or could be in inches or mm; says what to write.

    References
    ----------
    Decimal sizes point first: common practice, no source.

    Examples
    --------
    >>> parse_sheet(".040 sheet").name, parse_sheet("sheet 1.0 mm").name
    ('.040 sheet', '1 mm sheet')
    """
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"a sheet's name in quotes, such as {EXAMPLES}")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", f"a sheet such as {EXAMPLES}")
    size = " ".join(_WORD.sub(" ", text.casefold()).split())
    if not size:
        raise UnreadableLength(text, "it has no thickness", f"a sheet such as {EXAMPLES}")
    if "x" in size or "×" in size:
        advice = f"its thickness alone, such as {EXAMPLES}; length and width stand apart"
        raise UnreadableLength(text, "a sheet goes by its thickness", advice)
    thickness = parse_length_exact(size, "in" if _POINT_FIRST.fullmatch(size) else None)
    if thickness <= 0:
        raise UnreadableLength(text, "a thickness of 0 is no sheet", f"a sheet such as {EXAMPLES}")
    return Sheet("metric" if _METRIC.fullmatch(size) else "decimal inch", thickness)
