"""What a cut plan says: strips with their cuts, stop settings, how good it is, what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.cutting.sheets import SheetStrip, SheetToBuy, sheets_to_buy
from modelmath.cutting.stock import CutPart
from modelmath.errors import UnknownChoice
from modelmath.lengths.text import format_length


@dataclass(frozen=True)
class Cut:
    """One piece on a strip.

    Attributes
    ----------
    part : str
        Name of its part. [-]
    length_mm : Fraction
        Its length. [mm]
    start_mm, end_mm : Fraction
        From where to where it lies, from the strip's end. [mm]
    equal_set : str or None
        Set of parts that have to be equal, if it is of one. [-]
    """

    part: str
    length_mm: Fraction
    start_mm: Fraction
    end_mm: Fraction
    equal_set: str | None


@dataclass(frozen=True)
class CutStrip:
    """One strip with its cuts, in order along it.

    Attributes
    ----------
    number : int
        Number of the strip in the plan, from 1. [-]
    stock_name : str
        What it is. [-]
    length_mm : Fraction
        Its length before the first cut. [mm]
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    cuts : tuple of Cut
        Longest first, equal ones together. [mm]
    offcut_mm : Fraction
        What is left behind the last saw cut. [mm]
    kept : bool
        Whether that is worth keeping; else it is scrap. [-]
    """

    number: int
    stock_name: str
    length_mm: Fraction
    kind: str
    cuts: tuple[Cut, ...]
    offcut_mm: Fraction
    kept: bool = True

    @property
    def scrap_mm(self) -> Fraction:
        """All of it that is neither part nor an offcut worth keeping. [mm]"""
        parts = sum((cut.length_mm for cut in self.cuts), Fraction(0))
        return self.length_mm - parts - (self.offcut_mm if self.kept else 0)


@dataclass(frozen=True)
class StopSetting:
    """One setting of the stop, and each piece to cut at it before it is moved.

    Attributes
    ----------
    length_mm : Fraction
        Distance from the stop to the saw cut. [mm]
    cuts : tuple of (int, str)
        Number of the strip and name of the part, for each piece of strip. [-]
    elsewhere : tuple of (str, str)
        For each other piece what it is cut from, such as ``.040 sheet``, and name of the part. [-]
    """

    length_mm: Fraction
    cuts: tuple[tuple[int, str], ...]
    elsewhere: tuple[tuple[str, str], ...] = ()

    @property
    def count(self) -> int:
        """How many pieces are cut at it. [-]"""
        return len(self.cuts) + len(self.elsewhere)


@dataclass(frozen=True)
class StageVerdict:
    """How good the plan is by one goal, among the plans as good by the goals before it.

    Attributes
    ----------
    goal : str
        ``bought``, ``new strips``, ``length bought``, ``scrap``, ``cut from new strip`` (less is better) or
        ``longest offcut`` (more is). [-]
    value, bound : Fraction
        What the plan gives, and what no such plan goes beyond, as far as is known. [mm; of strips their number]
    """

    goal: str
    value: Fraction
    bound: Fraction

    @property
    def proven(self) -> bool:
        """Whether no such plan is better. [-]"""
        return self.value == self.bound

    @property
    def text(self) -> str:
        """The same in a sentence. [-]"""
        counted = self.goal in ("new strips", "bought")
        value, bound = (f"{each}" if counted else format_length(each, "mm") for each in (self.value, self.bound))
        most = self.goal == "longest offcut"
        said = _SAID[self.goal]
        if self.proven:
            return f"{said}: {value}, proven {'longest' if most else 'least'}."
        return f"{said}: {value}, not proven: {'none could be over' if most else 'none could be under'} {bound}."


_SAID = {
    "bought": "Strips to buy",
    "new strips": "Whole strips cut into, on hand and bought",
    "length bought": "Length to buy",
    "scrap": "Scrap, saw cuts and end trims in it",
    "cut from new strip": "Length of parts that come from new strip, not from old offcuts",
    "longest offcut": "Longest offcut kept",
}


@dataclass(frozen=True)
class GroupVerdict:
    """How good the plan is for one kind of strip.

    Attributes
    ----------
    stock_name : str
        Name of the strip. [-]
    new_strips : int
        Full strips used, from the drawer and bought. [-]
    bound : int
        Fewest that any plan could use that buys as few, as far as is known. [-]
    to_buy_mm : tuple of Fraction
        Lengths that may be bought, shortest first; a plan that buys others is not looked at. [mm]
    stages : tuple of StageVerdict
        How good it is goal by goal, each among the plans as good by those before. [mm]
    """

    stock_name: str
    new_strips: int
    bound: int
    to_buy_mm: tuple[Fraction, ...]
    stages: tuple[StageVerdict, ...] = ()

    def stage(self, goal: str) -> StageVerdict:
        """Return the verdict by one goal.

        Parameters
        ----------
        goal : str
            The goal. [-]

        Returns
        -------
        StageVerdict
            How good the plan is by it. [-]

        Raises
        ------
        UnknownChoice
            If there is no such goal.

        References
        ----------
        None needed.
        """
        found = {each.goal: each for each in self.stages}
        if goal not in found:
            raise UnknownChoice("goal", goal, tuple(found))
        return found[goal]

    @property
    def proven(self) -> bool:
        """Whether no plan buys fewer, and none that buys as few cuts into fewer whole strips. [-]"""
        return self.new_strips == self.bound and self.stage("bought").proven


@dataclass(frozen=True)
class ToBuy:
    """Strip the plan needs beyond what is on hand.

    Attributes
    ----------
    stock_name : str
        Name of the strip. [-]
    length_mm : Fraction
        Length of each piece. [mm]
    count : int
        How many. [-]
    """

    stock_name: str
    length_mm: Fraction
    count: int


@dataclass(frozen=True)
class CutPlan:
    """A cut plan.

    Attributes
    ----------
    strips : tuple of CutStrip
        Each strip used, with its cuts. [mm]
    stops : tuple of StopSetting
        Each length once, in cutting order, longest first. [mm]
    verdicts : tuple of GroupVerdict
        For each kind of strip, how good the plan is. [-]
    shopping : tuple of ToBuy
        What is missing from the stock. [mm]
    kerf_mm, end_trim_mm, least_offcut_mm : Fraction
        As given. [mm]
    sheets : tuple of SheetStrip
        What is cut from sheet; no part of the strips, the verdicts and their numbers. [mm]
    made_up : tuple of CutPart
        Parts that no one strip gives: they have a stop setting, but nothing here says what they come from. [mm]
    """

    strips: tuple[CutStrip, ...]
    stops: tuple[StopSetting, ...]
    verdicts: tuple[GroupVerdict, ...]
    shopping: tuple[ToBuy, ...]
    kerf_mm: Fraction
    end_trim_mm: Fraction
    least_offcut_mm: Fraction = Fraction(0)
    sheets: tuple[SheetStrip, ...] = ()
    made_up: tuple[CutPart, ...] = ()

    @property
    def sheet_shopping(self) -> tuple[SheetToBuy, ...]:
        """The sheet it needs; none of it is counted as on hand. [mm]"""
        return sheets_to_buy(self.sheets)

    @property
    def made_up_text(self) -> str:
        """What no one strip gives, in a sentence; empty if there is no such part. [-]"""
        names = ", ".join(part.name for part in self.made_up)
        return f"No one strip gives the {names}: glue up what does." if names else ""

    @property
    def goals(self) -> tuple[tuple[str, str], ...]:
        """How good the plan is beyond the number of new strips: for each kind of strip, goal by goal, in words. [-]"""
        return tuple(
            (verdict.stock_name, stage.text)
            for verdict in self.verdicts
            for stage in verdict.stages
            if stage.goal in ("scrap", "longest offcut") or (stage.goal == "cut from new strip" and self._old(verdict))
        )

    def _old(self, verdict: GroupVerdict) -> bool:
        """Return whether old offcuts of a kind of strip are cut."""
        return any(strip.kind == "offcut" for strip in self.strips if strip.stock_name == verdict.stock_name)

    @property
    def scrap_mm(self) -> Fraction:
        """All of the strips that is neither part nor an offcut worth keeping. [mm]"""
        return sum((strip.scrap_mm for strip in self.strips), Fraction(0))

    @property
    def longest_offcut_mm(self) -> Fraction:
        """The longest offcut worth keeping; 0 where there is none. [mm]"""
        return max((strip.offcut_mm for strip in self.strips if strip.kept), default=Fraction(0))

    @property
    def new_strips(self) -> int:
        """Full strips used, from the drawer and bought; offcuts don't count. [-]"""
        return sum(verdict.new_strips for verdict in self.verdicts)

    @property
    def bound(self) -> int:
        """Fewest new strips that any plan could use that buys as few, as far as is known. [-]"""
        return sum(verdict.bound for verdict in self.verdicts)

    @property
    def proven(self) -> bool:
        """Whether no plan buys fewer, and none that buys as few cuts into fewer whole strips. [-]"""
        return all(verdict.proven for verdict in self.verdicts)

    @property
    def bought(self) -> int:
        """Strips to buy. [-]"""
        return sum(int(verdict.stage("bought").value) for verdict in self.verdicts)

    @property
    def verdict(self) -> str:
        """How good the plan is, in words, for the strip chosen for each part and the lengths that may be bought. [-]"""
        if not self.verdicts:
            return "nothing is cut from strip"
        lengths = sorted({length for each in self.verdicts for length in each.to_buy_mm})
        listed = " or ".join(f"{float(each):.2f}" for each in lengths)
        those = f" (any to buy {listed} mm long)" if lengths else " (none to buy)"
        least = sum(int(verdict.stage("bought").bound) for verdict in self.verdicts)
        if self.bought > least:
            return f"not proven: the plan buys {self.bought} strips, and {least} might do{those}"
        if not self.new_strips:
            return f"all of it comes from offcuts{those}"
        said = f"no plan buys fewer strips than {self.bought}{those}" if self.bought else "nothing has to be bought"
        if self.new_strips == self.bought:
            return f"proven: {said}"
        if self.proven:
            return f"proven: {said}, and no such plan cuts into fewer whole strips than {self.new_strips}"
        return f"{said}; not proven: the plan cuts into {self.new_strips} whole strips, and {self.bound} might do"
