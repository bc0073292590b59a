"""What each part is cut from, and the cut plan of them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from typing import TYPE_CHECKING

from modelmath.clearance import Marks
from modelmath.enclosure import Limits, Part
from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.bench.bench import Bench
from modelmath.lengths.rules import Setting
from modelmath.lengths.text import format_length
from modelmath.materials import Sheet, StripPick, pick_sheets, pick_strips

if TYPE_CHECKING:
    from modelmath.cutting import Blank, CutPart, CutPlan

Pick = Callable[..., list[StripPick]]
NEAR_MM = Fraction(1, 20)  # inch and mm strip sold for one another differ by no more; common practice, no source
LITTLE_MM = 0.25  # what is sanded off without effort; common practice, no source
MADE_UP = "what is glued up for it"
MOST = 6  # strips that are named for a part


@dataclass(frozen=True)
class PartLine:
    """A part, where to set the rule for it, and what it is cut from.

    Attributes
    ----------
    part : Part
        The part. [mm]
    setting : Setting
        Where to set the rule to mark its cut length out. [rule's unit]
    place : Setting or None
        Where to set the rule to mark its position out, from the fore-aft mark. [rule's unit]
    picks : tuple of StripPick
        Strips that will do, best first; empty where none is near. [-]
    note : str
        What to do with the strip or the sheet, or why none will do. [-]
    sheet : Sheet or None
        The sheet it is cut from; None for a part cut from strip, or where nothing will do. [mm]
    """

    part: Part
    setting: Setting
    place: Setting | None
    picks: tuple[StripPick, ...]
    note: str
    sheet: Sheet | None = None

    @property
    def from_sheet(self) -> bool:
        """Whether it is cut from sheet, as no strip is wide enough. [-]"""
        return self.sheet is not None

    @property
    def stock(self) -> str:
        """Name of the strip or the sheet it is cut from. [-]"""
        if self.sheet is not None:
            return self.sheet.name
        return self.picks[0].strip.name if self.picks else MADE_UP

    @property
    def stock_text(self) -> str:
        """The same, and of sheet also how wide. [-]"""
        if self.sheet is None:
            return self.stock
        width = self.part.width_mm
        wide = "as wide as the shell is inside" if width is None else f"{format_length(width, 'mm')} wide"
        return f"{self.sheet.name}, {wide}"

    @property
    def in_drawer(self) -> bool:
        """Whether that strip is on hand. [-]"""
        return bool(self.picks) and self.picks[0].in_drawer


def part_lines(parts: Sequence[Part], marks: Marks, bench: Bench, limits: Limits) -> tuple[PartLine, ...]:
    """Choose a strip and a rule setting for each part.

    Parameters
    ----------
    parts : sequence of Part
        The parts. [mm]
    marks : Marks
        The rule they are marked out with. [-]
    bench : Bench
        For the drawer and the scale. [-]
    limits : Limits
        For the thickness of walls and posts. [mm]

    Returns
    -------
    tuple of PartLine
        In the same order. [mm]

    Raises
    ------
    OutOfRange
        If a part is longer than the rule.

    References
    ----------
    `pick_strips`, `Rule.mark_for`.
    """
    # Parts of one set ask for the same strip: each question is asked once.
    pick: Pick = lru_cache(maxsize=None)(partial(pick_strips, scale=bench.scale, drawer=bench.drawer, most=50))
    return tuple(_line(part, marks, limits, pick) for part in parts)


def _line(part: Part, marks: Marks, limits: Limits, pick: Pick) -> PartLine:
    setting = marks.setting(part.cut.cut_mm)
    try:
        place = None if part.position_mm is None else marks.setting(abs(part.position_mm))
    except OutOfRange:
        place = None  # further from the mark than the rule is long: the sheet gives it in mm
    try:
        if part.use == "across" and part.width_mm is None:
            sheet = pick_sheets(limits.wall_mm)[0]
            note = f"Cut it from {sheet.name}, as wide as the shell is inside; hold it against the shell and trim."
            return PartLine(part, setting, place, (), note, sheet)
        picks = _picks(part, limits, pick)
    except ModelMathError as reason:
        return PartLine(part, setting, place, (), str(reason))
    return PartLine(part, setting, place, picks, picks[0].advice, picks[0].sheet)


def _picks(part: Part, limits: Limits, pick: Pick) -> tuple[StripPick, ...]:
    if part.use == "across":
        assert part.width_mm is not None
        wall = Fraction(limits.wall_mm)
        found = pick(part.cut.cut_mm, "across", width_mm=part.width_mm, stout_mm=limits.wall_mm)
        # The layout counts with the wall's thickness, so the strip nearest to it goes first.
        nearest = sorted(found, key=lambda pick: (not pick.in_drawer, pick.strip.thickness_mm))
        return tuple(_as_thick(each, wall) for each in nearest[:MOST])
    if part.use == "on end":
        return _on_end(part.cut.cut_mm, Fraction(limits.post_mm), pick)
    assert part.section_mm is not None
    return tuple(_near(part.section_mm, part.use, pick)[:MOST])


def _as_thick(pick: StripPick, wall_mm: Fraction) -> StripPick:
    """Say of a thicker sheet or strip than the walls are counted with that the plan has to know before it is cut."""
    more = pick.strip.thickness_mm - wall_mm
    if more <= NEAR_MM:
        return pick
    thick = f"It is {float(more):.2f} mm thicker than the walls are counted: enter that thickness first."
    return replace(pick, remark=f"{pick.remark} {thick}".strip())


def _on_end(length_mm: Fraction, post_mm: Fraction, pick: Pick) -> tuple[StripPick, ...]:
    """Return strips for posts and supports, those no thicker than the layout counts first.

    The layout keeps speaker, box and hole clear of a post as thick as entered, and goes before any strip is picked. So
    the strip follows the layout: a thicker one is said to be brought down to what was counted.
    """
    least = post_mm - NEAR_MM if post_mm > 2 * NEAR_MM else post_mm
    found = pick(length_mm, "on end", stout_mm=least)
    order = sorted(found, key=lambda each: (not each.in_drawer, bool(each.remark), too_thick(each, post_mm)))
    return tuple(_brought_down(each, post_mm) for each in order[:MOST])


def too_thick(pick: StripPick, post_mm: Fraction) -> bool:
    """Say whether a strip is thicker or wider than the post that the layout counts.

    Parameters
    ----------
    pick : StripPick
        The strip, used on end. [mm]
    post_mm : Fraction
        Side of a post. [mm]

    Returns
    -------
    bool
        Not by what inch and mm strip differ. [-]

    References
    ----------
    None needed.
    """
    return pick.strip.width_mm > post_mm + NEAR_MM  # the larger of its sides


def _brought_down(pick: StripPick, post_mm: Fraction) -> StripPick:
    if not too_thick(pick, post_mm):
        return pick
    strip = pick.strip
    ways = [name for name in ("width", "thickness") if Fraction(getattr(strip, f"{name}_mm")) > post_mm + NEAR_MM]
    down = f"{pick.advice} Bring it down to {float(post_mm):.2f} mm in {' and '.join(ways)}: the layout counts no more."
    return replace(pick, advice=down)


def _near(section_mm: Fraction, use: str, pick: Pick) -> list[StripPick]:
    """Return strips to be sanded down to a section: a little sanding first, much sanding or a shim where need be."""
    try:
        little = pick(section_mm, use, sand=True, tolerance_mm=LITTLE_MM)
    except OutOfRange:
        little = []
    return [each for each in little if each.error_mm >= 0] or pick(section_mm, use, sand=True)


def cut_plan(lines: Sequence[PartLine], bench: Bench) -> CutPlan:
    """Plan the cuts of all parts from the drawer, and from new strip where the drawer has none.

    Where several of the model are built, the parts of all of them are cut at once. What is cut from sheet as wide as
    the shell is inside, and what no one strip gives, stands apart in it; what is cut from sheet to a known width is in
    the sheet layout.

    Parameters
    ----------
    lines : sequence of PartLine
        The parts with their strips. [mm]
    bench : Bench
        For the drawer, kerf and end trim. [mm]

    Returns
    -------
    CutPlan
        The cuts. [mm]

    Raises
    ------
    DoesNotFit
        If a part is longer than new strip, and has no place on what is in the drawer.

    References
    ----------
    `plan_cuts`.
    """
    from modelmath.cutting import CutStock, plan_cuts, stock_of

    build = bench.job.build
    models = build.count
    parts = [_cut_part(line, models) for line in lines if line.picks and line.sheet is None]
    new = bench.length(build.new_strip, "build", "new_strip", zero=False)
    stock = stock_of(bench.drawer) + [CutStock(name, new) for name in dict.fromkeys(part.stock_name for part in parts)]
    kerf, trim, useful = (
        bench.length(getattr(build, name), "build", name) for name in ("kerf", "end_trim", "least_offcut")
    )
    return plan_cuts(
        parts,
        stock,
        kerf_mm=kerf,
        end_trim_mm=trim,
        least_offcut_mm=useful,
        blanks=[each for each in blanks_of(lines, models) if each.width_mm is None],
        made_up=[_cut_part(line, models) for line in lines if not line.picks and line.sheet is None],
        times=models,
    )


def blanks_of(lines: Sequence[PartLine], models: int = 1) -> list[Blank]:
    """Return the parts that are cut from sheet.

    Parameters
    ----------
    lines : sequence of PartLine
        The parts with what they are cut from. [mm]
    models : int
        How many of the model are built. [-]

    Returns
    -------
    list of Blank
        The pieces. [mm]

    References
    ----------
    None needed.
    """
    return [_blank(line.part, line.sheet, models) for line in lines if line.sheet is not None]


def _cut_part(line: PartLine, models: int) -> CutPart:
    from modelmath.cutting import CutPart

    part = line.part
    return CutPart(part.name, part.cut.cut_mm, part.count * models, line.stock, part.cut_set or None)


def _blank(part: Part, sheet: Sheet, models: int) -> Blank:
    from modelmath.cutting import Blank

    return Blank(part.name, part.cut.cut_mm, part.count * models, sheet, part.width_mm, part.cut_set or None)
