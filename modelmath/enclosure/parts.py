"""The parts of a chamber: each says how its stock is used, what it is made to, and who carries it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from modelmath.clearance import Marks, SizeAtMark
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.marked import at_marks
from modelmath.errors import DoesNotFit

Use = Literal["on end", "across", "flat", "on edge"]
Carrier = Literal["shell", "chassis"]

LEAST_FILLER_MM = Fraction(1, 4)  # narrower gaps are sealed with glue or putty; common practice, no source
LARGEST_FILLER_MM = Fraction(3)  # wider gaps are closed with a plate, as the floor is; common practice, no source
LEAST_PLATE_MM = Fraction(1, 2)  # the same for the floor in front of and behind the speaker


@dataclass(frozen=True)
class Part:
    """One kind of part.

    Attributes
    ----------
    name : str
        Name on the sheets. [-]
    count : int
        How many. [-]
    use : {"on end", "across", "flat", "on edge"}
        How the stock is used: on end, the height is the cut length; across, the strip's width spans the shell and
        the height is the cut length; flat or on edge, the section gives the size. [-]
    cut : SizeAtMark
        The length cut off the strip. [mm]
    made_to : str
        A number, a copy of another part, or the real thing held against it. [-]
    carried_by : {"shell", "chassis"}
        Which half it is glued to. [-]
    cut_set : str
        Parts with one name here are cut at one stop and count as equal. [-]
    section_mm : Fraction or None
        The size that the section must give, for flat and on-edge use. [mm]
    width_mm : Fraction or None
        The width the strip must have, for use across the shell. [mm]
    thickness_mm : Fraction or None
        Thickness the layout counts with. [mm]
    position_mm : Fraction or None
        Place of the face named by `face`, from the fore-aft mark, positive to the rear. [mm]
    face : str
        The face that the position names. [-]
    """

    name: str
    count: int
    use: Use
    cut: SizeAtMark
    made_to: str
    carried_by: Carrier = "shell"
    cut_set: str = ""
    section_mm: Fraction | None = None
    width_mm: Fraction | None = None
    thickness_mm: Fraction | None = None
    position_mm: Fraction | None = None
    face: str = ""


def bulkhead(marks: Marks, height_mm: Fraction, wall_mm: Fraction, width_mm: Fraction | None = None) -> Part:
    """Size the bulkhead: as high as the mark below allows, as wide as the shell inside.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark cut to. [-]
    height_mm : Fraction
        Free depth less the clearance kept. [mm]
    wall_mm : Fraction
        Its thickness. [mm]
    width_mm : Fraction or None
        Inside width of the shell; None to hold it against the shell. [mm]

    Returns
    -------
    Part
        The bulkhead, used across. [mm]

    Raises
    ------
    DoesNotFit
        If no mark is low enough.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> part = bulkhead(Marks(Rule(scale="HO", zero_offset="1"), "1/4"), Fraction(49, 4), Fraction(1))
    >>> part.use, part.cut.cut_mm, part.made_to
    ('across', Fraction(49, 4), 'its height a number, its width the shell itself: sand until it slides in')
    """
    # A shell drafts and bows: a width is trimmed near its number, then sanded against the real thing.
    width = "its width the shell itself: sand until it slides in"
    return Part(
        "bulkhead",
        1,
        "across",
        marks.down(height_mm, "The bulkhead"),
        f"its height a number, {width}",
        cut_set="chamber height",
        width_mm=width_mm,
        thickness_mm=wall_mm,
    )


def posts(name: str, wall: Part, plate_mm: Fraction = Fraction(0), marks: Marks | None = None) -> Part:
    """Size the two corner posts behind a wall: its height, or less a floor plate that rests on them.

    Parameters
    ----------
    name : str
        Name on the sheets. [-]
    wall : Part
        The bulkhead or closure they stand behind. [mm]
    plate_mm : Fraction
        Thickness of the floor plate that rests on them; 0 for none. [mm]
    marks : Marks or None
        Needed with a plate. [-]

    Returns
    -------
    Part
        Two posts, used on end. [mm]

    Raises
    ------
    DoesNotFit
        If the plate leaves them no height.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> marks = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
    >>> posts("corner post", bulkhead(marks, Fraction(12), Fraction(1))).made_to
    'a copy of the bulkhead, cut at the same stop'
    """
    if not plate_mm or marks is None:
        return Part(
            name, 2, "on end", wall.cut, f"a copy of the {wall.name}, cut at the same stop", cut_set=wall.cut_set
        )
    size = marks.down(wall.cut.cut_mm - plate_mm, f"The {name}")
    return Part(name, 2, "on end", size, "a number: chamber height less floor plate", cut_set=f"{name} height")


def supports(marks: Marks, height_mm: Fraction, flange_mm: Fraction) -> Part:
    """Size the four speaker supports: chamber height less flange, so that the flange lies level with the floor.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark cut to. [-]
    height_mm : Fraction
        Height of the chamber over the speaker, roof to floor. [mm]
    flange_mm : Fraction
        Thickness of the speaker's flange. [mm]

    Returns
    -------
    Part
        Four supports, used on end, cut at one stop. [mm]

    Raises
    ------
    DoesNotFit
        If the flange leaves them no height.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> marks = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
    >>> supports(marks, Fraction(12), Fraction(8, 5)).cut.cut_mm
    Fraction(10, 1)
    """
    size = marks.down(height_mm - flange_mm, "The speaker support")
    made_to = "a number: chamber height less flange"
    return Part("speaker support", 4, "on end", size, made_to, cut_set="support height")


def fillers(marks: Marks, width_mm: Fraction, speaker: Speaker, wall_mm: Fraction = Fraction(1)) -> Part | None:
    """Size the two strips or plates that close the gaps beside the speaker; None where no strip is so thin.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark cut to. [-]
    width_mm : Fraction
        Inside width of the shell over the speaker. [mm]
    speaker : Speaker
        The speaker. [mm]
    wall_mm : Fraction
        Thickness of a plate, where the gap is too wide for a strip. [mm]

    Returns
    -------
    Part or None
        Two fillers, laid flat, sanded to fit; or two plates as wide as the gap. [mm]

    Raises
    ------
    DoesNotFit
        If the speaker is wider than the shell.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> marks = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
    >>> fillers(marks, Fraction(18), Speaker(Fraction(16), Fraction(15), Fraction(1), Fraction(5))).section_mm
    Fraction(3, 2)
    """
    gap = (width_mm - Fraction(speaker.width_mm)) / 2
    if gap < 0:
        raise DoesNotFit(
            "The speaker",
            float(-2 * gap),
            f"the shell is {float(width_mm):.2f} mm wide inside and it {float(speaker.width_mm):.2f} mm",
            "Use a narrower speaker.",
        )
    if gap < LEAST_FILLER_MM:
        return None
    length = marks.up(Fraction(speaker.length_mm))
    if gap > LARGEST_FILLER_MM:
        made_to = "the gap beside the speaker: trim its width until it slides in"
        cut_set = "speaker length"
        return Part("side plate", 2, "across", length, made_to, cut_set=cut_set, width_mm=gap, thickness_mm=wall_mm)
    return Part(
        "side filler",
        2,
        "flat",
        length,
        "the gap beside the speaker: sand it until it slides in",
        cut_set="speaker length",
        section_mm=gap,
    )


def build_parts(enclosure: Enclosure, marks: Marks) -> tuple[Part, ...]:
    """Size every part of a fitted chamber.

    Parameters
    ----------
    enclosure : Enclosure
        The fitted chamber. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    tuple of Part
        In the order they are glued: walls and posts, supports, fillers, floor plates. [mm]

    Raises
    ------
    DoesNotFit
        If a part is left no height.

    References
    ----------
    Arithmetic.
    """
    return tuple(_all_parts(enclosure, marks))


def _all_parts(enclosure: Enclosure, marks: Marks) -> Iterator[Part]:
    chamber, wall_mm = at_marks(enclosure, marks), Fraction(enclosure.limits.wall_mm)
    floor, lowest = Fraction(chamber.floor_mm), Fraction(enclosure.chamber.floor_mm)
    front_plate, rear_plate = _plates(chamber, marks, wall_mm)
    ends = (
        (chamber.front_wall, chamber.bays[0], True, front_plate),
        (chamber.rear_wall, chamber.bays[-1], False, rear_plate),
    )
    names = iter((("bulkhead", "corner post"), ("rear closure", "closure post")))
    for needed, bay, front, plate in ends:
        if needed:
            name, post = next(names)
            wall = _wall(name, bay, marks, (lowest, floor), wall_mm)
            place = Fraction(chamber.start_mm if front else chamber.end_mm)
            wall = replace(wall, position_mm=place, face="front face" if front else "rear face")
            yield wall
            yield posts(post, wall, wall_mm if plate else Fraction(0), marks)
    if enclosure.speaker is not None and chamber.seat_mm is not None:
        seat = [bay for bay in chamber.bays if bay.start_mm < chamber.seat_mm[1] and bay.end_mm > chamber.seat_mm[0]]
        yield from _supports_under(seat, floor, enclosure.speaker, marks)
        # The widest place counts: what is too wide elsewhere is sanded, what is too narrow can't be.
        filler = fillers(marks, max(Fraction(bay.zone.width_mm) for bay in seat), enclosure.speaker, wall_mm)
        if filler is not None:
            yield filler
        yield from (plate for plate in (front_plate, rear_plate) if plate)


def _supports_under(seat: Sequence[Bay], floor: Fraction, speaker: Speaker, marks: Marks) -> Iterator[Part]:
    """Yield four supports, or two and two where a step of the roof lies between the speaker's ends."""
    front, rear = (
        supports(marks, Fraction(bay.zone.roof_mm) - floor, Fraction(speaker.flange_mm)) for bay in (seat[0], seat[-1])
    )
    if front.cut == rear.cut:
        yield front
        return
    for part, where in ((front, "front"), (rear, "rear")):
        yield replace(part, name=f"{part.name}, {where}", count=2, cut_set=f"{part.cut_set}, {where}")


def _wall(name: str, bay: Bay, marks: Marks, floors: tuple[Fraction, Fraction], wall_mm: Fraction) -> Part:
    roof, (lowest, floor) = Fraction(bay.zone.roof_mm), floors
    part = bulkhead(marks, roof - floor, wall_mm, Fraction(bay.zone.width_mm))
    # The exact size is what would just clear, even where the floor was set by another wall's mark.
    cut = SizeAtMark(roof - lowest, part.cut.cut_mm, "down")
    return replace(part, name=name, cut=cut, cut_set=_height_set(cut))


def _height_set(cut: SizeAtMark) -> str:
    return f"chamber height, {float(cut.cut_mm):.2f} mm"


def _plates(chamber: Chamber, marks: Marks, wall_mm: Fraction) -> tuple[Part | None, Part | None]:
    """Return the floor plates that close the floor in front of and behind the speaker, where it is left open."""
    if chamber.seat_mm is None:
        return None, None
    front = (Fraction(chamber.inner_start_mm), Fraction(chamber.seat_mm[0]))
    rear = (Fraction(chamber.seat_mm[1]), Fraction(chamber.inner_end_mm))
    return (
        _plate("floor plate, front", front, chamber.bays, marks, wall_mm),
        _plate("floor plate, rear", rear, chamber.bays, marks, wall_mm),
    )


def _plate(
    name: str, ends: tuple[Fraction, Fraction], bays: Sequence[Bay], marks: Marks, wall_mm: Fraction
) -> Part | None:
    gap = ends[1] - ends[0]
    if gap < LEAST_PLATE_MM:
        return None
    made_to = "the floor left open: hold it against its neighbours, and sand"
    width = max(Fraction(bay.zone.width_mm) for bay in bays if bay.start_mm < ends[1] and bay.end_mm > ends[0])
    return Part(name, 1, "across", marks.up(gap), made_to, cut_set=name, width_mm=width, thickness_mm=wall_mm)
