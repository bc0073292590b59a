"""Parts, holes and cuts of a plan as plain tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.drawings.cutting.pieces import flat_pieces
from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.volume import as_cut

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.cutting.sheet_layout import CutSheet
    from modelmath.job import Plan
    from modelmath.job.stock import PartLine

Cell = str | int | float | None
MM_PER_IN = 25.4  # exact: NIST Special Publication 811 (2008), B.8
DIGITS_MM, DIGITS_IN = 4, 6  # far finer than anything is cut, and the same length in both units
PART_HEADS = (
    "part", "kind", "pieces for one model", "pieces in all", "use of the stock", "cut from", "in the drawer",
    "cut off", "cut length (mm)", "cut length (in)", "uncertainty of the length (mm)", "exact length (mm)",
    "width (mm)", "width (in)", "thickness (mm)", "section to give (mm)", "set the rule at", "made to",
)  # fmt: skip
HOLE_HEADS = (
    "in the part", "hole", "what passes", "drill", "diameter (mm)", "diameter (in)", "from the left edge (mm)",
    "above the lower edge (mm)", "right of the centre line (mm)", "seen",
)  # fmt: skip
CUT_HEADS = (
    "from", "stock", "stock length (mm)", "stock width (mm)", "is", "piece", "length as it lies (mm)",
    "length as it lies (in)", "width as it lies (mm)", "starts at, along (mm)", "starts at, across (mm)",
    "set the rule at",
)  # fmt: skip


@dataclass(frozen=True)
class Table:
    """A table.

    Attributes
    ----------
    name : str
        What it lists. [-]
    heads : tuple of str
        Headings, with the unit of the numbers below. [-]
    rows : tuple of rows
        Texts, numbers, and None where there is nothing to say; as many as headings. [-]
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def parts_table(plan: Plan) -> Table:
    """List the parts of a plan, one a row.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Table
        Sizes, each with what it is cut from and where to set the rule. [mm, in]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    OutOfRange
        If a part is longer than the rule.

    References
    ----------
    JCGM 100:2008, 5.2, for the uncertainty: one standard uncertainty of a length marked out with the rule and cut.
    """
    cut_off = _cut_off(plan)
    rows = tuple(_part(plan, line, cut_off.get(line.part.name, "")) for line in plan.lines)
    return Table("Parts", PART_HEADS, rows)


def _part(plan: Plan, line: PartLine, cut_off: str) -> tuple[Cell, ...]:
    part = line.part
    size = part.cut.cut_mm
    return (
        part.name, part.kind, part.count, part.count * plan.models, part.use, line.stock_text,
        "yes" if line.in_drawer else "no", cut_off, _mm(size), _in(size),
        _mm(float(as_cut(plan, size).std_dev)), _mm(part.cut.exact_mm),
        _mm(part.width_mm), _in(part.width_mm), _mm(part.thickness_mm), _mm(part.section_mm), line.setting.text,
        part.made_to,
    )  # fmt: skip


def holes_table(plan: Plan) -> Table:
    """List the holes of a plan with their drills, one a row.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Table
        Places from the part's edges and from its centre line. [mm, in]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `flat_pieces`.
    """
    rows = [
        (
            piece.name, hole.tag or None, hole.passes, hole.drill or None, _mm(hole.diameter_mm),
            _in(hole.diameter_mm), _mm(hole.x_mm), _mm(hole.y_mm), _mm(hole.x_mm - piece.middle_mm), piece.seen,
        )
        for piece in flat_pieces(plan)
        for hole in piece.holes
    ]  # fmt: skip
    return Table("Holes", HOLE_HEADS, tuple(rows))


def cuts_table(plan: Plan) -> Table:
    """List the cut plan, one piece a row, strips before sheets, and what is left of each.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Table
        Lengths and places. [mm, in]

    Raises
    ------
    DoesNotFit
        If a part has no place on any stock.

    References
    ----------
    `plan_cuts`, `lay_out_sheet`.
    """
    rows = [*_of_strips(plan, plan.cuts), *_of_shell(plan, plan.cuts)]
    layout = plan.sheet_layout.layout
    for sheet in () if layout is None else layout.sheets:
        rows += _of_sheet(plan, sheet)
    return Table("Cut plan", CUT_HEADS, tuple(rows))


def _of_strips(plan: Plan, cuts: CutPlan) -> Iterator[tuple[Cell, ...]]:
    for strip in cuts.strips:
        head = (f"strip {strip.number}", strip.stock_name, _mm(strip.length_mm), None, strip.kind)
        for cut in strip.cuts:
            place = (_mm(cut.start_mm), None, _setting(plan, cut.length_mm))
            yield (*head, cut.part, _mm(cut.length_mm), _in(cut.length_mm), None, *place)
        if strip.offcut_mm:
            left = "left over, keep" if strip.kept else "left over, scrap"
            yield (*head, left, _mm(strip.offcut_mm), _in(strip.offcut_mm), None, None, None, None)


def _of_shell(plan: Plan, cuts: CutPlan) -> Iterator[tuple[Cell, ...]]:
    """Yield what is cut off a sheet as wide as the shell is inside, which is not laid out: its width is not known."""
    for strip in cuts.sheets:
        for blank in strip.blanks:
            size = blank.length_mm
            width = _mm(strip.width_mm)
            head = ("sheet", strip.sheet.name, None, None, f"{blank.count} of them", blank.name)
            yield (*head, _mm(size), _in(size), width, None, None, _setting(plan, size))


def _of_sheet(plan: Plan, sheet: CutSheet) -> Iterator[tuple[Cell, ...]]:
    head = (f"sheet {sheet.number}", sheet.stock_name, _mm(sheet.length_mm), _mm(sheet.width_mm), sheet.kind)
    for piece in sheet.pieces:
        size = _mm(piece.length_mm), _in(piece.length_mm), _mm(piece.width_mm)
        yield (*head, piece.part, *size, _mm(piece.x_mm), _mm(piece.y_mm), _setting(plan, piece.length_mm))
    for rest in sheet.offcuts:
        size = _mm(rest.length_mm), _in(rest.length_mm), _mm(rest.width_mm)
        yield (*head, "left over", *size, _mm(rest.x_mm), _mm(rest.y_mm), None)


def _cut_off(plan: Plan) -> dict[str, str]:
    """Return from which strips and sheets of the cut plan each part is cut; empty where there is none."""
    found: dict[str, list[str]] = {}
    try:
        rows = cuts_table(plan).rows
    except ModelMathError:  # the parts stand without their cut plan
        return {}
    for row in rows:
        found.setdefault(str(row[5]), []).append(str(row[0]))
    return {part: ", ".join(dict.fromkeys(sources)) for part, sources in found.items()}


def _setting(plan: Plan, size_mm: Fraction) -> str | None:
    try:
        return plan.marks.setting(size_mm).text
    except OutOfRange:
        return None  # longer than the rule


def _mm(value: Fraction | float | None) -> float | None:
    return None if value is None else round(float(value), DIGITS_MM) + 0.0


def _in(value: Fraction | float | None) -> float | None:
    return None if value is None else round(float(value) / MM_PER_IN, DIGITS_IN) + 0.0


def tables_of(plan: Plan) -> tuple[Sequence[Table], Sequence[str]]:
    """Return every table of a plan that can be worked out, and why another can't be.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of (tables, sentences)
        Parts, holes and cut plan; one that can't be worked out is left with its headings alone. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.

    References
    ----------
    None needed.
    """
    found, reasons = [parts_table(plan)], []
    for name, heads, make in (("Holes", HOLE_HEADS, holes_table), ("Cut plan", CUT_HEADS, cuts_table)):
        try:
            found.append(make(plan))
        except ModelMathError as reason:
            found.append(Table(name, heads, ((str(reason), *(None for _ in heads[1:])),)))
            reasons.append(str(reason))
    return found, reasons
