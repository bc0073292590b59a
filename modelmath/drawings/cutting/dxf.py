"""The flat parts as DXF in mm: three layers, told apart by their lines alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING, Any

from modelmath.drawings.cutting.laid import LAYERS, TEXT_MM, cutting_sheet

if TYPE_CHECKING:
    from modelmath.job import Plan

VERSION = "R2010"
BLACK = 7  # the colour index that is black on white and white on black
# Of each layer its line type, what it looks like, and its dashes: the whole length first, gaps below 0. [mm]
LINE_TYPES: dict[str, tuple[str, str, tuple[float, ...]]] = {
    "cut": ("CONTINUOUS", "full", ()),
    "drill": ("DRILL_DASHED", "dashed _ _ _ _", (0.9, 0.6, -0.3)),
    "score": ("SCORE_CENTRE", "long dash, short dash __ _ __", (6.0, 4.0, -0.8, 0.4, -0.8)),
}


def cutting_dxf(plan: Plan) -> bytes:
    """Return every flat part of a plan as a DXF file, in mm; the same plan gives the same bytes.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    bytes
        The file; layers ``cut``, ``drill`` and ``score``, black, told apart by line type. Holes are circles. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.
    NotYetKnown
        If no width is known, so that there is nothing to draw.

    References
    ----------
    The published DXF reference for release 2010: header variables INSUNITS 4 for mm, MEASUREMENT 1 for metric.
    """
    sheet = cutting_sheet(plan)
    with _new_document() as document:
        space = document.modelspace()
        for loop in sheet.cut:
            space.add_lwpolyline(loop, close=True, dxfattribs={"layer": "cut"})
        for hole in sheet.drill:
            space.add_circle((hole.x, hole.y), hole.diameter / 2, dxfattribs={"layer": "drill"})
        for start, end in sheet.score:
            space.add_line(start, end, dxfattribs={"layer": "score"})
        for each in sheet.texts:
            said = {"layer": "score", "insert": (each.x, each.y)}
            space.add_text(as_written(each.text), height=TEXT_MM, dxfattribs=said)
        document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (sheet.width_mm, sheet.height_mm, 0)
        space.dxf.extmin, space.dxf.extmax = (0, 0, 0), (sheet.width_mm, sheet.height_mm, 0)
        for kind in sorted(document.entitydb.dxf_types_in_use()):  # the library lists them as a set has them
            document.classes.add_class(kind)
        out = StringIO()
        document.write(out)
        return bytes(document.encode(out.getvalue()))


def as_written(text: str) -> str:
    r"""Return a line of text as a DXF file holds it, so that a reader shows it as it is.

    Readers take ``%%c`` for a diameter sign, ``^J`` for a line break, and ``\U+000A`` for the sign of that number.

    Parameters
    ----------
    text : str
        One line. [-]

    Returns
    -------
    str
        The same with these signs kept from being read so. [-]

    References
    ----------
    The published DXF reference for release 2010: control codes and special characters of TEXT (``%%%`` is one per cent
    sign), control characters in strings (a caret is written as caret and space), ``\U+nnnn`` in strings.

    Examples
    --------
    >>> as_written("5 %"), as_written("%%c ^J")
    ('5 %', '%%%%%%c ^ J')
    """
    whole = re.sub("%{2,}", lambda found: "%%%" * len(found[0]), text).replace("^", "^ ")
    return re.sub(r"\\(?=[UuMm]\+)", lambda _found: r"\U+005C", whole)


@contextmanager
def _new_document() -> Iterator[Any]:
    """Yield an empty drawing with the three layers; no clock and no random mark gets into what is written of it."""
    import ezdxf
    from ezdxf import units

    library: Any = ezdxf  # it hands its public names on without saying so to a type checker
    options = library.options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = library.new(VERSION, setup=False)
        document.units = units.MM
        document.header["$MEASUREMENT"] = 1
        for layer, (name, look, dashes) in LINE_TYPES.items():
            if dashes:
                document.linetypes.add(name, pattern=list(dashes), description=look)
            made = document.layers.add(layer, color=BLACK, linetype=name)
            made.description = LAYERS[layer]
        yield document
    finally:
        options.write_fixed_meta_data_for_testing = before
