"""What each part is cut from, and the cut plan of them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from modelmath.clearance import Marks
from modelmath.enclosure import Limits, Part
from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.bench import Bench
from modelmath.lengths.rules import Setting
from modelmath.materials import StripPick, pick_strips

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan

LITTLE_MM = 0.25  # what is sanded off without effort; common practice, no source
UNSPANNED = "sheet, cut to the shell's inside width"


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
        What to do with the strip, or why none will do. [-]
    """

    part: Part
    setting: Setting
    place: Setting | None
    picks: tuple[StripPick, ...]
    note: str

    @property
    def stock(self) -> str:
        """Name of the strip it is cut from, as the cut plan groups it. [-]"""
        return self.picks[0].strip.name if self.picks else UNSPANNED

    @property
    def stock_text(self) -> str:
        """The same as a person asks for it. [-]"""
        return self.picks[0].name if self.picks else UNSPANNED

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
    return tuple(_line(part, marks, bench, limits) for part in parts)


def _line(part: Part, marks: Marks, bench: Bench, limits: Limits) -> PartLine:
    setting = marks.setting(part.cut.cut_mm)
    try:
        place = None if part.position_mm is None else marks.setting(abs(part.position_mm))
    except OutOfRange:
        place = None  # further from the mark than the rule is long: the sheet gives it in mm
    try:
        picks = _picks(part, bench, limits)
    except ModelMathError as reason:
        return PartLine(part, setting, place, (), str(reason))
    note = picks[0].advice if picks else f"Cut it from {UNSPANNED}; hold it against the shell and trim."
    return PartLine(part, setting, place, picks, note)


def _picks(part: Part, bench: Bench, limits: Limits) -> tuple[StripPick, ...]:
    pick = partial(pick_strips, scale=bench.scale, drawer=bench.drawer, most=50)
    if part.use == "across":
        if part.width_mm is None:
            return ()
        wall = limits.wall_mm
        picks = pick(part.cut.cut_mm, "across", width_mm=part.width_mm, stout_mm=wall)
        # The layout counts with the wall's thickness, so the strip nearest to it goes first.
        picks.sort(key=lambda pick: (not pick.in_drawer, pick.strip.thickness_mm - wall))
    elif part.use == "on end":
        picks = pick(part.cut.cut_mm, "on end", stout_mm=limits.post_mm)
    else:
        assert part.section_mm is not None
        picks = _near(part.section_mm, part.use, pick)
    return tuple(picks[:6])


def _near(section_mm: Fraction, use: str, pick: Callable[..., list[StripPick]]) -> list[StripPick]:
    """Return strips to be sanded down to a section: a little sanding first, much sanding or a shim where need be."""
    try:
        little = pick(section_mm, use, sand=True, tolerance_mm=LITTLE_MM)
    except OutOfRange:
        little = []
    return [each for each in little if each.error_mm >= 0] or pick(section_mm, use, sand=True)


def cut_plan(lines: Sequence[PartLine], bench: Bench) -> CutPlan:
    """Plan the cuts of all parts from the drawer, and from new strip where the drawer has none.

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
        If a part is longer than the strip.

    References
    ----------
    `plan_cuts`.
    """
    from modelmath.cutting import CutPart, CutStock, plan_cuts, stock_of

    build = bench.job.build
    parts = [
        CutPart(line.part.name, line.part.cut.cut_mm, line.part.count, line.stock, line.part.cut_set or None)
        for line in lines
    ]
    new = bench.length(build.new_strip, "build", "new_strip", zero=False)
    stock = stock_of(bench.drawer) + [CutStock(name, new) for name in dict.fromkeys(part.stock_name for part in parts)]
    kerf, trim = (bench.length(getattr(build, name), "build", name) for name in ("kerf", "end_trim"))
    return plan_cuts(parts, stock, kerf_mm=kerf, end_trim_mm=trim)
