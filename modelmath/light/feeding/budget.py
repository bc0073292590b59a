"""Outputs and currents that the lamps need, against those that the decoder's own sheet states."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from modelmath.errors import OutOfRange, shown
from modelmath.light.feeding import words
from modelmath.light.feeding.amounts import Amount, as_band, total
from modelmath.light.feeding.draw import Draw, Verdict
from modelmath.light.feeding.lines import OutputLine
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.sheet import DecoderSheet, same_name
from modelmath.quantities.band import Band


@dataclass(frozen=True)
class Budget:
    """Lamps against a decoder's sheet.

    Attributes
    ----------
    lines : tuple of OutputLine
        One for each output: those of the sheet in its order, then those that only lamps name. [-]
    unassigned : tuple of Load
        Lamps that have no output yet. [-]
    needed : int
        Outputs that are needed: those that lamps name, and one for each lamp that has none. [-]
    there : int or None
        Outputs that the sheet has; None where they are not entered. [-]
    together : Draw
        All lamps on at once, against all outputs together. [-]
    whole : Draw
        Lamps, sound and motor, against the whole decoder. [-]
    faults : tuple of str
        What is too much or lacks, by how much, and what to do. [-]
    doubts : tuple of str
        What may be too much with every limit at its worst. [-]
    notes : tuple of str
        What is not entered and so not judged, and how it is counted. [-]
    """

    lines: tuple[OutputLine, ...]
    unassigned: tuple[Load, ...]
    needed: int
    there: int | None
    together: Draw
    whole: Draw
    faults: tuple[str, ...]
    doubts: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def short_by(self) -> int | None:
        """How many outputs lack; None where those of the sheet are not entered. [-]"""
        return None if self.there is None else max(0, self.needed - self.there)

    @property
    def free(self) -> tuple[str, ...]:
        """Outputs of the sheet that nothing hangs on. [-]"""
        return tuple(line.output for line in self.lines if not line.loads)

    @property
    def verdict(self) -> Verdict:
        """Whether all of it is within what the sheet states. [-]"""
        if self.faults:
            return "over"
        if self.doubts:
            return "may be over"
        used = [line.draw for line in self.lines if line.loads]
        judged = all(draw.verdict == "within" for draw in (*used, self.together, self.whole))
        return "within" if judged and self.there is not None else "not known"

    @property
    def in_words(self) -> str:
        """What it comes to, in a sentence or two. [-]"""
        return words.summary(self.needed, self.there, self.together.current_a, len(self.faults), self.verdict)


def budget(
    loads: Sequence[Load], sheet: DecoderSheet, *, sound_a: Amount | None = None, motor_a: Amount | None = None
) -> Budget:
    """Return what lamps need of a decoder, and by how much that is more than its sheet allows.

    All lamps count as on at once, whatever the direction. A limit that is not entered is said and not judged.

    Parameters
    ----------
    loads : sequence of Load
        The lamps, each name once. [-]
    sheet : DecoderSheet
        What the user's decoder sheet says. [-]
    sound_a : Known, Band, float or None
        Most current that the sound draws; None where it is not entered, 0 where there is none. [A]
    motor_a : Known, Band, float or None
        Most current of the motor, at a stall; None where it is not entered. [A]

    Returns
    -------
    Budget
        Line by line, with faults in words.

    Raises
    ------
    OutOfRange
        If two lamps have one name, or a current is below 0 or not finite.
    WrongKind
        If a current is no plain number.

    References
    ----------
    Kirchhoff's current law: the currents of an output, and of the common wire, add.

    Examples
    --------
    >>> from modelmath.quantities.known import Known
    >>> sheet = DecoderSheet(each_a=Known.of(0.1), outputs=("white", "yellow"))
    >>> found = budget([Load.of("front", "white", 0.12)], sheet)
    >>> print(found.faults[0])
    Output 'white' may give 100 mA and 'front' draws 120 mA: 20 mA too much. Give it 83 % of that current or less.
    """
    _check_names(loads)
    lines = _lines(loads, sheet)
    unassigned = tuple(load for load in loads if load.output is None)
    needed = sum(1 for line in lines if line.loads) + len(unassigned)
    there = len(sheet.outputs) or None
    lamps = total(load.current_a for load in loads)
    together = Draw(lamps, sheet.all_a)
    whole = _whole(lamps, sheet, sound_a, motor_a)
    free = tuple(line.output for line in lines if not line.loads)
    faults = [
        *words.unknown_outputs([line for line in lines if line.on_sheet is False], sheet.outputs),
        *words.lacking_outputs(unassigned, needed, there, free),
        *(words.output_over(line, _elsewhere(line, lines)) for line in lines if line.verdict == "over"),
        *words.all_over(together),
        *words.whole_over(whole, lamps),
    ]
    doubts = words.doubts(lines, together, whole)
    return Budget(
        lines,
        unassigned,
        needed,
        there,
        together,
        whole,
        tuple(faults),
        tuple(doubts),
        tuple(words.notes(lines, together, whole, sheet)),
    )


def _check_names(loads: Sequence[Load]) -> None:
    seen: set[str] = set()
    for load in loads:
        if load.name in seen:
            raise OutOfRange("the name of a lamp", f"{shown(load.name)} twice", "given once", "Rename one of them.")
        seen.add(load.name)


def _lines(loads: Sequence[Load], sheet: DecoderSheet) -> tuple[OutputLine, ...]:
    """Return a line for each output of the sheet, and for each that only lamps name."""
    hung: dict[str, list[Load]] = {output: [] for output in sheet.outputs}
    for load in loads:
        if load.output is not None:
            given = load.output
            name = sheet.output_named(given) or next((known for known in hung if same_name(known, given)), given)
            hung.setdefault(name, []).append(load)
    return tuple(
        OutputLine(
            output,
            tuple(found),
            Draw(total(load.current_a for load in found), sheet.limit_of(output)),
            None if not sheet.outputs else output in sheet.outputs,
        )
        for output, found in hung.items()
    )


def _whole(lamps: Band, sheet: DecoderSheet, sound_a: Amount | None, motor_a: Amount | None) -> Draw:
    drawn, lacking = [lamps], []
    for what, current in (("sound", sound_a), ("motor", motor_a)):
        if current is None:
            lacking.append(what)
        else:
            drawn.append(as_band(f"the current of the {what}", current, "A", zero=True))
    return Draw(total(drawn), sheet.whole_a, tuple(lacking))


def _elsewhere(line: OutputLine, lines: Sequence[OutputLine]) -> tuple[Load, str] | None:
    """Return a load whose move to a free output brings both within their limits, the least current that does."""
    for load in sorted(line.loads, key=lambda each: each.current_a.best) if len(line.loads) > 1 else ():
        left = Draw(total(each.current_a for each in line.loads if each is not load), line.limit_a)
        for other in lines:
            if not other.loads and not left.over_by_a and Draw(load.current_a, other.limit_a).over_by_a == 0:
                return load, other.output
    return None
