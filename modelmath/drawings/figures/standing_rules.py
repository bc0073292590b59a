"""Which readings of heights were taken, where the rule stood for each, and the words for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.drawings.figures.scene import scene_of
from modelmath.drawings.sizes import in_mm, with_unit
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.document import StationEntry, ZoneEntry
    from modelmath.lengths.rules.readings import Reading

ALL_MARKS = 4  # marks of repeated readings that are written out


@dataclass(frozen=True)
class RuleStands:
    """One rule as it stood, for one height.

    Attributes
    ----------
    letter : str
        Its letter in the figure. [-]
    names : tuple of str
        The readings that are one height with one rule. [-]
    over : tuple of str
        What they are of: zones, spots, the seat. [-]
    roof : bool
        Whether it stood on the inside of the roof. [-]
    reading : Reading
        The first of the readings. [mm]
    face_mm : float
        How far the face it was taken from lies below the seat; 0 of the seat. [mm]
    zones_mm : tuple of (float, float)
        Ends of the zones, or of the thing, that it was read over. [mm]
    kind : {"zone", "thing", "seat"}
        Whether it is of a zone, of a thing that stands or moves there, or of the seat itself. [-]
    """

    letter: str
    names: tuple[str, ...]
    over: tuple[str, ...]
    roof: bool
    reading: Reading
    face_mm: float
    zones_mm: tuple[tuple[float, float], ...]
    kind: str = "zone"

    @property
    def link(self) -> bool:
        """Whether it read the seat itself, above another face. [-]"""
        return self.kind == "seat"

    @property
    def thing(self) -> bool:
        """Whether it read the top of something that stands or moves there. [-]"""
        return self.kind == "thing"

    @property
    def face(self) -> str:
        """The face that the height was taken from. [-]"""
        return self.reading.face

    @property
    def mark(self) -> str:
        """The mark as it was read. [rule's unit]"""
        return self.reading.mark

    @property
    def length_mm(self) -> float:
        """The height that it gives, above that face. [mm]"""
        return float(self.reading.measured.exact_mm)

    @property
    def zero_mm(self) -> float:
        """How far its zero mark lies in from its end. [mm]"""
        return float(self.reading.rule.offset_mm)

    @property
    def below_mm(self) -> float:
        """How far its end reaches beyond what it stood on. [mm]"""
        return self.zero_mm if self.reading.datum == "zero" else 0.0

    @property
    def graduation_mm(self) -> float:
        """Distance of its marks. [mm]"""
        return float(self.reading.rule.graduation_mm)

    @property
    def at_mm(self) -> float:
        """Where it is drawn along the length: over the longest of its zones. [mm]"""
        left, right = max(self.zones_mm, key=lambda ends: ends[1] - ends[0])
        return (left + right) / 2


@dataclass(frozen=True)
class _Taken:
    """A reading of a height, and what it is of."""

    reading: Reading
    roof: bool
    over: str
    ends: tuple[float, float]
    kind: str = "zone"


def rules_of(plan: Plan) -> list[RuleStands]:
    """Return every rule that stood for a height: the chassis' first, then the roof's; equal ones are one.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    list of RuleStands
        Lettered in this order; none where only gaps were read. [mm]

    References
    ----------
    None needed.
    """
    groups: dict[tuple[object, ...], list[_Taken]] = {}
    for taken in sorted(_taken(plan), key=lambda each: each.roof):
        reading = taken.reading
        marks = (reading.mark, reading.again, reading.datum, reading.face)
        groups.setdefault((taken.roof, taken.kind, reading.rule.name, marks), []).append(taken)
    found: list[RuleStands] = []
    for group in groups.values():
        reading = group[0].reading
        link = plan.bench.links.get(reading.face)
        below = 0.0 if link is None else float(link.measured.exact_mm)
        names = tuple(dict.fromkeys(each.reading.name for each in group))
        over = tuple(dict.fromkeys(each.over for each in group))
        ends = tuple(dict.fromkeys(each.ends for each in group))
        letter = letter_of(len(found))
        found.append(RuleStands(letter, names, over, group[0].roof, reading, below, ends, group[0].kind))
    return found


def _taken(plan: Plan) -> Iterator[_Taken]:
    """Yield the readings of heights over each zone and its spots, of what stands there, and of the seat itself."""
    scene, bench = scene_of(plan), plan.bench
    for zone, box in zip(plan.job.zones, scene.zones, strict=True):
        spots: list[tuple[str, ZoneEntry | StationEntry]] = [(zone.name, zone)]
        spots += [(f"{zone.name}, {spot.name}", spot) for spot in plan.job.stations if spot.zone == zone.name]
        for words, spot in spots:
            if spot.underside is not None:
                yield _Taken(bench.readings[spot.underside], True, words, (box.left, box.right))
            if spot.chassis_top is not None and spot.gap is None:
                yield _Taken(bench.readings[spot.chassis_top], False, words, (box.left, box.right))
    for moving in bench.moving:
        if moving.entry.top is not None:
            ends = (float(moving.swept.start_mm), float(moving.swept.end_mm))
            ends = max(ends[0], scene.left), min(ends[1], scene.right)
            if ends[0] < ends[1]:
                yield _Taken(bench.readings[moving.entry.top], False, moving.entry.name, ends, "thing")
    for link in bench.links.values():
        yield _Taken(link, False, "the seat itself", (scene.left, scene.left), "seat")


def in_words(rule: RuleStands) -> str:
    """Return a line for the key: what was read, with what, from where, and the height it gives.

    Parameters
    ----------
    rule : RuleStands
        The rule as it stood. [-]

    Returns
    -------
    str
        One sentence. [-]

    References
    ----------
    None needed.
    """
    reading = rule.reading
    marks = [with_unit(mark, reading.rule) for mark in (reading.mark, *reading.again)]
    read = marks[0] if len(marks) == 1 else f"{', '.join(marks[:ALL_MARKS])}{', …' if len(marks) > ALL_MARKS else ''}"
    stood = "its zero mark" if reading.datum == "zero" else "its end"
    if rule.roof:
        on = "on the inside of the roof"
        at = "at the edge that rests on the seat" if rule.face == "seat" else f"level with the {rule.face}"
    else:
        on, at = f"on the {rule.face}", "at the seat" if rule.link else "at the top"
    above = "" if rule.link or not rule.face_mm else f", {in_mm(rule.length_mm - rule.face_mm)} above the seat"
    mean = f", the mean of {len(marks)}" if len(marks) > 1 else ""
    return (
        f"{rule.letter}: {' and '.join(rule.names)} ({', '.join(rule.over)}): {reading.rule.name}, {stood} {on}, read "
        f"{at}: {read}. That is {in_mm(reading.measured.exact_mm)}{mean}{above}."
    )


def notes_of(plan: Plan, rules: list[RuleStands]) -> list[str]:
    """Return what the figure has to say beside its rules: the datum, links, gaps.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    rules : list of RuleStands
        Its rules. [-]

    Returns
    -------
    list of str
        Sentences. [-]

    References
    ----------
    None needed.
    """
    notes = []
    if rules:
        notes.append(
            f"Seat, the datum of every height: {plan.job.seat.face}. Edge: the shell's edge that rests on it, the same "
            "datum."
        )
    for face, link in plan.bench.links.items():
        notes.append(
            f"The seat lies {in_mm(link.measured.exact_mm)} above the {face}, by the reading {link.name}: what was "
            f"taken from the {face} counts from the seat less that."
        )
    gaps = [(zone.name, zone.gap) for zone in plan.job.zones]
    gaps += [(f"{spot.zone}, {spot.name}", spot.gap) for spot in plan.job.stations]
    for words, gap in gaps:
        if gap is not None:
            size = in_mm(plan.bench.readings[gap].measured.exact_mm)
            notes.append(f"Over {words} the gap from chassis to roof was read itself, {size} ({gap}): no rule there.")
    if not rules:
        notes.append("Only gaps were read, so no rule stood on the seat or in the roof.")
    return notes
