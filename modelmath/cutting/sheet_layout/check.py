"""What a sheet layout refuses, and what it says then."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from modelmath.cutting.sheet_layout.stock import SheetPart, SheetStock
from modelmath.errors import DoesNotFit, OutOfRange

THICKNESSES = 3  # least width that snaps off cleanly, in thicknesses: common practice, no source
SMALLER = "allow a smaller least snap width, if you can snap that"


def check_equal_sets(parts: Sequence[SheetPart]) -> None:
    """Refuse an equal set of different lengths.

    Parameters
    ----------
    parts : sequence of SheetPart
        All of them. [mm]

    Raises
    ------
    OutOfRange
        If parts of one set differ in length.

    References
    ----------
    None needed: one setting cuts one length.
    """
    first: dict[str, SheetPart] = {}
    for part in parts:
        if part.equal_set is None:
            continue
        known = first.setdefault(part.equal_set, part)
        if known.length_mm != part.length_mm:
            given = f"{float(part.length_mm):g} mm"
            expected = f"{float(known.length_mm):g} mm, as {known.name} of the equal set {part.equal_set!r}"
            write = "Give both one length, or take one out of the set."
            raise OutOfRange(f"length_mm of {part.name}", given, expected, write)


def check_listed(name: str, parts: Sequence[SheetPart], rows: Sequence[SheetStock]) -> None:
    """Refuse parts of a sheet that is not in the stock.

    Parameters
    ----------
    name : str
        Name of the sheet. [-]
    parts : sequence of SheetPart
        What is cut from it. [mm]
    rows : sequence of SheetStock
        Its rows of the stock. [mm]

    Raises
    ------
    OutOfRange
        If there is no row.

    References
    ----------
    None needed.
    """
    if not rows:
        known = f'Add SheetStock("{name}", length_mm, width_mm) for sheet to buy.'
        raise OutOfRange(f"sheet_name of {parts[0].name}", repr(name), "the name of a row of the stock", known)


def least_snap(name: str, rows: Sequence[SheetStock], given: Fraction | None) -> Fraction:
    """Return the least width that is snapped off one kind of sheet.

    Parameters
    ----------
    name : str
        Name of the sheet. [-]
    rows : sequence of SheetStock
        Its rows of the stock. [mm]
    given : Fraction or None
        Least width as given; None for three times the thickness. [mm]

    Returns
    -------
    Fraction
        The least width. [mm]

    Raises
    ------
    OutOfRange
        If the thickness is needed and not known, or rows of one name differ in it.

    References
    ----------
    Three thicknesses: common practice, no source.

    Examples
    --------
    >>> least_snap("1 mm", [SheetStock("1 mm", 300, 200, thickness_mm=1)], None)
    Fraction(3, 1)
    """
    if given is not None:
        return given
    known = {row.thickness_mm for row in rows}
    thickness = next((row.thickness_mm for row in rows if row.thickness_mm is not None), None)
    if thickness is None or len(known) > 1:
        listed = ", ".join("None" if each is None else f"{float(each):g} mm" for each in _in_turn(rows))
        expected = "one thickness, the same in all its rows"
        raise OutOfRange(f"thickness_mm of {name}", listed, expected, "Write it in each row, or give least_snap_mm.")
    return THICKNESSES * thickness


def check_parts(
    name: str, parts: Sequence[SheetPart], rows: Sequence[SheetStock], least: Fraction, kerf: Fraction
) -> None:
    """Refuse parts that no sheet listed can give.

    Parameters
    ----------
    name : str
        Name of the sheet. [-]
    parts : sequence of SheetPart
        What is cut from it. [mm]
    rows : sequence of SheetStock
        Its rows of the stock. [mm]
    least, kerf : Fraction
        Least width that is snapped off, and width of the cut. [mm]

    Raises
    ------
    DoesNotFit
        If a part is too narrow to be snapped off, larger than any sheet, or leaves too little to snap off on each.

    References
    ----------
    Least width to snap: common practice, no source.
    """
    check_narrow(name, parts, least)
    for part in parts:
        short, row, left = min(_shortages(part, rows, least, kerf), key=lambda each: each[0])
        if not short:
            continue
        what = f"{part.name}, {_sides(part)},"
        nearest = f"the nearest {name} is {_sides(row)}"
        if left is None:
            kept = "" if part.may_turn else ", and the part may not be turned"
            raise DoesNotFit(what, float(short), nearest + kept, "List a larger sheet, or make the part of two.")
        cause = f"{nearest}, which leaves {float(left):.2f} mm to snap off, and the least is {float(least):.2f} mm"
        raise DoesNotFit(what, float(short), cause, f"List a sheet of another size; or {SMALLER}.")


def check_narrow(name: str, parts: Sequence[SheetPart], least: Fraction) -> None:
    """Refuse parts too narrow to be snapped off.

    Parameters
    ----------
    name : str
        Name of the sheet. [-]
    parts : sequence of SheetPart
        What is cut from it. [mm]
    least : Fraction
        Least width that is snapped off. [mm]

    Raises
    ------
    DoesNotFit
        If a part is narrower.

    References
    ----------
    Least width to snap: common practice, no source.
    """
    for part in parts:
        narrow = min(part.length_mm, part.width_mm)
        if narrow < least:
            cause = f"what is snapped off {name} has to be {float(least):.2f} mm wide at least"
            remedy = f"Cut it from strip or with a saw; or {SMALLER}."
            raise DoesNotFit(f"{part.name}, {_sides(part)},", float(least - narrow), cause, remedy)


def check_width(parts: Sequence[SheetPart], width: Fraction, least: Fraction, kerf: Fraction) -> None:
    """Refuse parts that a sheet as wide as given can't give, however long it is.

    Parameters
    ----------
    parts : sequence of SheetPart
        What is cut from it. [mm]
    width, least, kerf : Fraction
        The sheet's width, least width that is snapped off, width of the cut. [mm]

    Raises
    ------
    DoesNotFit
        If a part is too narrow to be snapped off, too wide for the sheet, or leaves too little to snap off.

    References
    ----------
    Least width to snap: common practice, no source.
    """
    check_narrow("the sheet", parts, least)
    for part in parts:
        rests = [width - side for _, side in part.ways]
        if any(0 <= rest <= kerf or rest >= least + kerf for rest in rests):
            continue
        what, wide = f"{part.name}, {_sides(part)},", f"the sheet is {float(width):.2f} mm wide"
        if max(rests) < 0:
            kept = "" if part.may_turn else ", and the part may not be turned"
            raise DoesNotFit(what, float(-max(rests)), wide + kept, "Take a wider sheet, or make the part of two.")
        left = max(rests) - kerf
        cause = f"{wide}, which leaves {float(left):.2f} mm to snap off, and the least is {float(least):.2f} mm"
        raise DoesNotFit(what, float(least - left), cause, f"Take a sheet of another width; or {SMALLER}.")


def _in_turn(rows: Sequence[SheetStock]) -> list[Fraction | None]:
    return list(dict.fromkeys(row.thickness_mm for row in rows))


def _sides(each: SheetPart | SheetStock) -> str:
    return f"{float(each.length_mm):.2f} × {float(each.width_mm):.2f} mm"


def _shortages(
    part: SheetPart, rows: Sequence[SheetStock], least: Fraction, kerf: Fraction
) -> Iterator[tuple[Fraction, SheetStock, Fraction | None]]:
    """Yield by how much a part does not fit on each row, each way, and the least it leaves to snap off.

    Where it leaves nothing, that is the least that may be snapped off; where it is too large, None.
    """
    for row in rows:
        for length, width in part.ways:
            rests = (row.length_mm - length, row.width_mm - width)
            if min(rests) < 0:
                yield -min(rests), row, None
                continue
            left = min((rest - kerf for rest in rests if rest > kerf), default=least)
            yield max(Fraction(0), least - left), row, left
