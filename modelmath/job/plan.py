"""The plan: a pure function of the job document. Each section is computed when first asked for, and kept."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.clearance import Marks
from modelmath.enclosure import Chamber, Enclosure, Part, Place, assemble
from modelmath.enclosure.marked import reference_bay, reference_roof_mm
from modelmath.job.bench.bench import Bench
from modelmath.job.bench.heights import Depth
from modelmath.job.bench.layout import Missing, missing_for_chamber
from modelmath.job.buying import to_buy
from modelmath.job.document import Clearance, Job
from modelmath.job.holes import HoleLine, holes_of
from modelmath.job.light.of_plan import OfLight
from modelmath.job.making import Fitted, fit_or_leave_out, parts_of
from modelmath.job.rescaled.own_scale import naming_scale
from modelmath.job.room_left.gap import Gap, gap_of
from modelmath.job.room_left.nearest import governing_depth, space_down_to
from modelmath.job.sheet_stock import SheetAnswer, sheet_answer
from modelmath.job.sound.of_plan import OfSound
from modelmath.job.space.of_plan import InTheSpace
from modelmath.job.stock import PartLine, cut_plan, part_lines
from modelmath.lengths.rules.readings import Measured
from modelmath.lengths.scales import Scale
from modelmath.materials import OnHand

if TYPE_CHECKING:
    from modelmath.clearance.choice import AnyTouches
    from modelmath.cutting import CutPlan
    from modelmath.enclosure.mechanism import LiftOff
    from modelmath.errors import DoesNotFit
    from modelmath.job.building.step import Step
    from modelmath.job.room_left.remeasure import Remeasure
    from modelmath.job.room_left.sizes import SizeChance
    from modelmath.job.room_left.spots import Choice, Spot
    from modelmath.job.why import Explained, Figure, Why


class Plan(InTheSpace, OfSound, OfLight):
    """Everything that follows from one job document. Nothing here reads a file, a clock or a random number.

    Parameters
    ----------
    job : Job
        The document. [-]
    drawer : OnHand or None
        What is on hand, for a job that lists no stock of its own. [mm]

    Raises
    ------
    JobError
        If something in the document can't be read; says where and what to write.

    References
    ----------
    Each figure names its own; see `why`.
    """

    def __init__(self, job: Job, drawer: OnHand | None = None) -> None:
        self._lay_out(Bench(job, shared=drawer))

    def _lay_out(self, bench: Bench) -> None:
        if bench.faults:
            raise bench.faults[0]
        assert bench.marks is not None
        assert bench.limits is not None
        self.job = bench.job
        self.bench = bench
        self.marks: Marks = naming_scale(bench.marks, bench.scale)
        self.limits = bench.limits
        self.scale: Scale = bench.scale

    def keeping(self, clearance: Clearance) -> Plan:
        """Return the plan of the same job with other clearances.

        Parameters
        ----------
        clearance : Clearance
            What is kept. [-]

        Returns
        -------
        Plan
            As `plan` of that job; what does not depend on them is not read again. [-]

        Raises
        ------
        JobError
            If a clearance can't be read; says where and what to write.

        References
        ----------
        None needed.
        """
        other = object.__new__(Plan)
        other._lay_out(self.bench.keeping(self.job.model_copy(update={"clearance": clearance})))
        return other

    @property
    def models(self) -> int:
        """How many of the model are built; what is cut, bought and wired counts for all of them. [-]"""
        return self.job.build.count

    @property
    def depths(self) -> tuple[Depth, ...]:
        """The free depth of every zone. [mm]"""
        return self.bench.depths

    @cached_property
    def missing(self) -> tuple[Missing, ...]:
        """What is not entered yet, and what it would give."""
        found: list[Missing] = []
        speaker = self.job.speaker
        if self.bench.flange_mm is None:
            found.append(Missing("the thickness of the speaker's flange", "the speaker supports"))
        found += missing_for_chamber(self.bench)
        if self.bench.speaker is None:
            gone = [name for name in ("length", "width", "depth") if speaker is None or getattr(speaker, name) is None]
            found += [Missing(f"the speaker's {name}", "where it sits, and its fillers") for name in gone]
        return tuple(found)

    @cached_property
    def _fitted(self) -> Fitted:
        return fit_or_leave_out(self)

    @property
    def enclosure(self) -> Enclosure | None:
        """The chambers that fit, the largest first; None while an entry for them is missing, or where none fits."""
        return self._fitted.enclosure

    @property
    def misfit(self) -> DoesNotFit | None:
        """What does not fit and was left out of the plan, and why; None when all fits."""
        return self._fitted.misfit or self._sized[1]

    @property
    def chambers(self) -> tuple[Chamber, ...]:
        """The largest chamber as it is cut, and the next largest; none while an entry for it is missing. [mm]"""
        return self._fitted.chambers

    @property
    def chamber(self) -> Chamber | None:
        """The largest as it is cut, its floor and walls on marks; None while an entry for it is missing. [mm]"""
        return self.chambers[0] if self.chambers else None

    @property
    def runner_up(self) -> Chamber | None:
        """The next largest as it is cut, if there is one. [mm]"""
        return self.chambers[1] if len(self.chambers) > 1 else None

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Where parts, speaker and decoder stand along the length; none while an entry for it is missing. [mm]"""
        if self.enclosure is None or self.chamber is None:
            return ()
        return assemble.places_of(self.enclosure, self.chamber, self.parts)

    @cached_property
    def governing(self) -> Depth:
        """What sets the bulkhead's height: the zone, or what stands or moves, that the floor comes nearest to."""
        return governing_depth(self)

    @cached_property
    def governing_zone(self) -> Depth:
        """The zone over which that is: its own, or the one that what moves stands in."""
        name = self.governing.zone.name
        return next(depth for depth in self.depths if depth.zone.name == name)

    @cached_property
    def _sized(self) -> tuple[tuple[Part, ...], DoesNotFit | None]:
        return parts_of(self)

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part that the entries so far give. [mm]"""
        return self._sized[0]

    @cached_property
    def bulkhead(self) -> Part | None:
        """The bulkhead; None where the shell's own ends close the chamber. [mm]"""
        return next((part for part in self.parts if part.kind == "wall"), None)

    @cached_property
    def chamber_height_mm(self) -> Fraction:
        """Height of the chamber from the roof to its floor, at the bulkhead. [mm]"""
        if self.enclosure is None:
            wall = self.bulkhead
            assert wall is not None
            return wall.cut.cut_mm
        chamber = self.chamber
        assert chamber is not None
        return reference_roof_mm(chamber) - Fraction(chamber.floor_mm)

    @cached_property
    def hung_from(self) -> Depth:
        """The zone under whose roof the bulkhead stands, from which the chamber's height counts."""
        if self.chamber is None:
            return self.governing
        name = reference_bay(self.chamber).zone.name
        return next(depth for depth in self.depths if depth.zone.name == name)

    @cached_property
    def space(self) -> Measured:
        """From the roof that the bulkhead stands under down to the top of what governs. [mm]"""
        return space_down_to(self, self.governing)

    @cached_property
    def gap(self) -> Gap:
        """The room left over what governs, with what may be off. [mm]"""
        return gap_of(self)

    @cached_property
    def sizes(self) -> tuple[SizeChance, ...]:
        """The sizes at the marks round the bulkhead's, each with its chance of touching. [mm]"""
        from modelmath.job.room_left.sizes import sizes_of

        return sizes_of(self)

    def remeasure(self) -> tuple[Remeasure, ...]:
        """Rank readings by the clearance that their uncertainty costs.

        Returns
        -------
        tuple of Remeasure
            The costliest first, each with what a better instrument would free. [mm]

        References
        ----------
        `Stack.allowance`.
        """
        return self._remeasured

    @cached_property
    def _remeasured(self) -> tuple[Remeasure, ...]:
        from modelmath.job.room_left.remeasure import remeasure

        return remeasure(self)

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        """Every spot below the bulkhead and the chamber's floor, the tightest first. [mm]"""
        from modelmath.job.room_left.spots import spots_of

        return spots_of(self)

    @cached_property
    def anywhere(self) -> AnyTouches:
        """The chance that bulkhead or floor touch at any of those spots. [-]"""
        from modelmath.job.room_left.spots import anywhere

        return anywhere(self)

    @cached_property
    def choice(self) -> Choice | None:
        """What it costs that the chamber was chosen among several by readings; None where there was no choice."""
        from modelmath.job.room_left.spots import choice_of

        return choice_of(self)

    @cached_property
    def volume(self) -> Measured | None:
        """The chamber's gross volume with its uncertainty. [mm3]"""
        from modelmath.job.volume import volume_of

        return volume_of(self)

    @cached_property
    def length(self) -> Measured | None:
        """The chamber's inside length with its uncertainty. [mm]"""
        from modelmath.job.volume import length_of

        return length_of(self)

    @cached_property
    def lift(self) -> LiftOff | None:
        """How a shell hinged at one end comes off with what it carries; None where it is not hinged. [mm]"""
        from modelmath.job.lift import lift_of

        return lift_of(self)

    @cached_property
    def lines(self) -> tuple[PartLine, ...]:
        """Every part with its rule setting and the strip to cut it from."""
        return part_lines(self.parts, self.marks, self.bench, self.limits)

    @cached_property
    def cuts(self) -> CutPlan:
        """The cut plan of all parts. [mm]"""
        return cut_plan(self.lines, self.bench)

    @cached_property
    def sheet_layout(self) -> SheetAnswer:
        """The layout of what is cut from sheet, for scoring and snapping. [mm]"""
        return sheet_answer(self.lines, self.bench)

    @property
    def to_buy(self) -> tuple[str, ...]:
        """The shopping list, line by line; empty where all is on hand. [-]"""
        return to_buy(self.cuts, self.sheet_layout.layout)

    @cached_property
    def holes(self) -> tuple[HoleLine, ...]:
        """Drills for the strands and wires that pass the bulkhead. [mm]"""
        return holes_of(self.bench)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The build order, with its hold points."""
        from modelmath.job.building.order import build_order

        return build_order(self)

    @cached_property
    def warnings(self) -> tuple[str, ...]:
        """What a careful friend would say about this plan."""
        from modelmath.job.advice import warnings_of

        return warnings_of(self)

    @cached_property
    def explained(self) -> Explained:
        """The plan's figures, subject by subject, each worked out when first asked for."""
        from modelmath.job.why import Explained

        return Explained(self)

    @cached_property
    def figures(self) -> dict[str, Figure]:
        """The figures of the plan by name, with what they follow from; those that take a search are left to `why`."""
        return self.explained.at_once

    def why(self, name: str) -> Why:
        """Answer "why this number?".

        Parameters
        ----------
        name : str
            A figure's name, such as ``bulkhead height``; `figures` lists them. [-]

        Returns
        -------
        Why
            The figure, and the chain of readings, tables and formulas behind it. [-]

        Raises
        ------
        UnknownChoice
            If no figure is called so.

        References
        ----------
        Each figure of the chain names its own.
        """
        return self.explained.why(name)


def plan(job: Job, drawer: OnHand | None = None) -> Plan:
    """Work out everything that follows from a job document.

    Parameters
    ----------
    job : Job
        The document. [-]
    drawer : OnHand or None
        What is on hand, for a job that lists no stock of its own. [mm]

    Returns
    -------
    Plan
        The plan; the same job and drawer give the same plan. [-]

    Raises
    ------
    JobError
        If something in the document can't be read; says where and what to write.

    References
    ----------
    Each figure names its own; see `Plan.why`.
    """
    return Plan(job, drawer)
