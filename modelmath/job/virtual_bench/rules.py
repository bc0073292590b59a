"""The rules as they truly are in each build, and what was truly there when they were read."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean, stdev
from typing import TYPE_CHECKING

from modelmath.lengths.parse import parse_length_exact

if TYPE_CHECKING:
    from modelmath.job.document import Job, ReadingEntry, RuleEntry
    from modelmath.job.virtual_bench.chance import Array, Chance

PASSES = "largest that passes"


@dataclass(frozen=True)
class TrueRule:
    """One rule, as stated and as it truly is in each build.

    Attributes
    ----------
    entry : RuleEntry
        As it was entered. [-]
    scale : str
        The scale whose feet it counts. [-]
    stated_offset_mm : float
        How far its zero is thought to stand in from its end. [mm]
    offset_mm : array
        How far it truly does, in each build. [mm]
    stretch : array
        What one shown mm truly is long, in each build. [-]
    """

    entry: RuleEntry
    scale: str
    stated_offset_mm: float
    offset_mm: Array
    stretch: Array

    def mm(self, text: str) -> float:
        """Return a length written in this rule's marks.

        Parameters
        ----------
        text : str
            As entered. [rule's unit]

        Returns
        -------
        float
            As the rule shows it. [mm]

        Raises
        ------
        UnreadableLength
            If it can't be read.

        References
        ----------
        `parse_length_exact`.
        """
        return float(parse_length_exact(text, unit=self.entry.unit, scale=self.scale))

    def truly(self, shown_mm: Array | float, datum: str) -> Array:
        """Return what truly is as long as the rule shows.

        Parameters
        ----------
        shown_mm : array or float
            From its zero mark, as it shows it. [mm]
        datum : {"end", "zero"}
            What stood against the part. [-]

        Returns
        -------
        array
            In each build. [mm]

        References
        ----------
        Arithmetic.
        """
        from_zero = self.offset_mm + shown_mm if datum == "end" else shown_mm
        return from_zero * self.stretch

    def set_for(self, size_mm: float, datum: str) -> float:
        """Return where it is set to mark a size out, by what is thought of it.

        Parameters
        ----------
        size_mm : float
            The size wanted. [mm]
        datum : {"end", "zero"}
            What stands at the part's edge. [-]

        Returns
        -------
        float
            From its zero mark, as it shows it. [mm]

        References
        ----------
        Arithmetic.
        """
        shown = size_mm / (1.0 + self.entry.scale_error)
        return shown - self.stated_offset_mm if datum == "end" else shown


def true_rule(entry: RuleEntry, job_scale: str, chance: Chance) -> TrueRule:
    """Draw what a rule truly is like, from what is stated of it.

    A calibrated rule is known best at the mark `calibrated_at`: a length from its end up to there does not depend on
    how far off its scale is. So its true offset follows from that length and its true scale.

    Parameters
    ----------
    entry : RuleEntry
        As it was entered. [-]
    job_scale : str
        The job's scale, for a rule without one. [-]
    chance : Chance
        The builds. [-]

    Returns
    -------
    TrueRule
        Its offset and scale in each build. [mm]

    References
    ----------
    Textbook straight line: about the centroid of its points, height and slope err independently.
    """
    scale = entry.scale or job_scale

    def mm(text: str) -> float:
        return float(parse_length_exact(text, unit=entry.unit, scale=scale))

    offset, offset_u = mm(entry.zero_offset), mm(entry.offset_uncertainty)
    stated, stretch_u = 1.0 + entry.scale_error, entry.scale_error_uncertainty
    stretch = stated + chance.bell(stretch_u, f"scale of the {entry.name}")
    if entry.calibrated_at is None:
        return TrueRule(entry, scale, offset, offset + chance.bell(offset_u, f"zero of the {entry.name}"), stretch)
    best = mm(entry.calibrated_at)
    from_end = (best + offset) * stated
    spread = (stated * offset_u) ** 2 - ((best + offset) * stretch_u) ** 2
    known = from_end + chance.bell(max(spread, 0.0) ** 0.5, f"zero of the {entry.name}")
    return TrueRule(entry, scale, offset, known / stretch - best, stretch)


@dataclass(frozen=True)
class ReadOff:
    """A rule's readings: what was truly there, given what was written down.

    Attributes
    ----------
    job : Job
        The document. [-]
    chance : Chance
        The builds. [-]
    rules : dict of str to TrueRule
        The builder's rules by name. [-]
    """

    job: Job
    chance: Chance
    rules: dict[str, TrueRule]

    def length(self, name: str) -> Array:
        """Return the length that was read, as it truly is in each build.

        Parameters
        ----------
        name : str
            The reading. [-]

        Returns
        -------
        array
            From the face it was taken from. [mm]

        References
        ----------
        Arithmetic.
        """
        entry = self._entry(name)
        rule = self.rules[entry.rule or self.job.rules[0].name]
        return rule.truly(self._shown(entry, rule), entry.datum)

    def height(self, name: str) -> Array:
        """Return the height above the seat that was read, as it truly is in each build.

        Parameters
        ----------
        name : str
            The reading. [-]

        Returns
        -------
        array
            Above the seat. [mm]

        References
        ----------
        Arithmetic.
        """
        found, face = self.length(name), self._entry(name).taken_from
        if face == "seat":
            return found
        return found - self.length(next(link.reading for link in self.job.links if link.face == face))

    def _entry(self, name: str) -> ReadingEntry:
        return next(each for each in self.job.readings if each.name == name)

    def _shown(self, entry: ReadingEntry, rule: TrueRule) -> Array:
        """Return where on the rule the spot truly stood: the marks written down, less what was read wrong."""
        marks = [rule.mm(text) for text in (entry.mark, *entry.again)]
        own = rule.entry
        step = rule.mm(own.graduation)
        shown = fmean(marks) + (step / 2 if own.reads == PASSES else 0.0)
        what = f"reading of {entry.name}"
        if own.reading_uncertainty is not None:
            wrong = self.chance.bell(rule.mm(own.reading_uncertainty), what)
        else:
            read_to = step if own.read_to is None or own.reads == PASSES else rule.mm(own.read_to)
            wrong = self.chance.within(read_to / 2, what)
        if len(marks) > 1:
            wrong = wrong + self.chance.of_a_mean(stdev(marks), len(marks), f"repeats of {entry.name}")
        return shown + wrong


def read_off(job: Job, chance: Chance) -> ReadOff:
    """Draw the builder's rules, for all that was read with them.

    Parameters
    ----------
    job : Job
        The document. [-]
    chance : Chance
        The builds. [-]

    Returns
    -------
    ReadOff
        The readings as they truly are. [mm]

    References
    ----------
    `true_rule`.
    """
    return ReadOff(job, chance, {each.name: true_rule(each, job.scale, chance) for each in job.rules})
