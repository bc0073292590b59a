"""Sheet by name: from the name to its thickness."""

from __future__ import annotations

import re

from modelmath.errors import UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.writing import UNIT_MM, one_size, plain_name

EXAMPLES = ".040 sheet or 1 mm sheet"
_WORD = re.compile(r"\b(?:sheet|plate)s?\b")
_METRIC = re.compile(r".*[0-9]\s*c?m")  # cm and metres too


def parse_sheet(text: str) -> Sheet:
    """Read a sheet's name by its thickness: ``.040 sheet``, ``40 thou sheet``, ``1 mm sheet``, ``0.040 in``.

    A thickness of thousandths point first, as packets print it, and a bare fraction are in inches; any other
    names its unit.

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
    AmbiguousName
        If it could be in inches or mm; says what to type for each.
    UnreadableLength
        If it is no sheet's name; says what to write.

    References
    ----------
    Decimal sizes point first to three places, bare fractions inches: common practice, no source.

    Examples
    --------
    >>> parse_sheet(".040 sheet").name, parse_sheet("sheet 1.0 mm").name
    ('.040 sheet', '1 mm sheet')
    """
    size = " ".join(_WORD.sub(" ", plain_name(text, "sheet", EXAMPLES)).split())
    if not size:
        raise UnreadableLength(text, "it has no thickness", f"a sheet such as {EXAMPLES}")
    if "x" in size or "×" in size:
        advice = f"its thickness alone, such as {EXAMPLES}; length and width stand apart"
        raise UnreadableLength(text, "a sheet goes by its thickness", advice)
    if "scale" in size:
        raise UnreadableLength(text, "a sheet goes by its real thickness", f"a sheet such as {EXAMPLES}")
    found = one_size(size)
    if found is None:
        thickness, metric = parse_length_exact(size), _METRIC.match(size) is not None
    else:
        unit = found.unit or ("in" if found.shows_inches else None)
        thickness, metric = found.number * UNIT_MM[unit or "mm"], unit == "mm"
    if thickness <= 0:
        raise UnreadableLength(text, "a thickness of 0 is no sheet", f"a sheet such as {EXAMPLES}")
    if found is not None and unit is None:
        sheets = Sheet("decimal inch", thickness * UNIT_MM["in"]), Sheet("metric", thickness)
        raise AmbiguousName(text, ("inches", "mm"), [sheet.name for sheet in sheets])
    return Sheet("metric" if metric else "decimal inch", thickness)
