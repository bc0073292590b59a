"""The parts of a chamber: each says how its stock is used, what it is made to, and who carries it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from modelmath.clearance import Marks, SizeAtMark
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.making.blocks import Block
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import as_fraction

Kind = Literal["wall", "post", "support", "filler", "plate", "side", "box", "rest", "barrier"]
MadeBy = Literal["number", "copy", "real thing"]
Use = Literal["on end", "across", "flat", "on edge"]
Carrier = Literal["shell", "chassis"]

LEAST_FILLER_MM = Fraction(1, 4)  # narrower gaps are sealed with glue or putty; common practice, no source
LARGEST_FILLER_MM = Fraction(3)  # wider gaps are closed with a plate, as the floor is; common practice, no source


@dataclass(frozen=True)
class Opening:
    """What is cut out of a part, or out of the roof.

    Attributes
    ----------
    words : str
        What it is for, such as ``the speaker``. [-]
    long_mm : Fraction
        Its size up a wall, or along a plate or the roof. [mm]
    wide_mm : Fraction
        Its size across. [mm]
    from_edge_mm : Fraction
        Of a wall, from its lower edge up to the opening; of a plate, from its front edge; of the roof, the place of
        the opening's front edge from the fore-aft mark. 0 of a notch, which is open there. [mm]
    centre_mm : Fraction
        Its middle, from the chamber's own centre line, positive to the right looking to the rear. [mm]
    """

    words: str
    long_mm: Fraction
    wide_mm: Fraction
    from_edge_mm: Fraction
    centre_mm: Fraction = Fraction(0)


@dataclass(frozen=True)
class Part:
    """One kind of part.

    Attributes
    ----------
    name : str
        Name on the sheets. [-]
    kind : {"wall", "post", "support", "filler", "plate", "side", "box", "rest", "barrier"}
        What it does: end the chamber, stand in a wall's corner, carry the speaker, close the side of the speaker, close
        the floor, close the chamber towards the wire path, box in what stands up through the floor, carry a strand
        under the roof, keep a lamp's light in. [-]
    count : int
        How many. [-]
    use : {"on end", "across", "flat", "on edge"}
        How the stock is used: on end, the height is the cut length; across, the strip's width spans the shell and
        the height is the cut length; flat or on edge, the section gives the size. [-]
    cut : SizeAtMark
        The length cut off the strip. [mm]
    made_by : {"number", "copy", "real thing"}
        What its cut length follows: a number, another part, or the real thing held against it. [-]
    made_to : str
        The same as a sentence for the sheets. [-]
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
    wall : str
        Of a post, the name of the wall it stands behind. [-]
    outline : tuple of (Fraction, Fraction)
        Of what is cut to the shell's cross-section, its half-width at each height above its own lower edge, from the
        lowest up; empty where it is as wide at every height. [mm]
    openings : tuple of Opening
        What is cut out of it. [mm]
    places_mm : tuple of Fraction
        Where pieces of one kind stand at several places along the length, each place of the face named. [mm]
    removable : bool
        Whether it is bedded in sealant, to come off again. [-]
    blocks : tuple of Block
        What its pieces fill, before they are trimmed to the shell's cross-section; across from the chamber's own centre
        line. Empty where its place is not known. [mm]
    """

    name: str
    kind: Kind
    count: int
    use: Use
    cut: SizeAtMark
    made_by: MadeBy
    made_to: str
    carried_by: Carrier = "shell"
    cut_set: str = ""
    section_mm: Fraction | None = None
    width_mm: Fraction | None = None
    thickness_mm: Fraction | None = None
    position_mm: Fraction | None = None
    face: str = ""
    wall: str = ""
    outline: tuple[tuple[Fraction, Fraction], ...] = ()
    openings: tuple[Opening, ...] = ()
    places_mm: tuple[Fraction, ...] = ()
    removable: bool = False
    blocks: tuple[Block, ...] = ()


def bulkhead(
    marks: Marks, height_mm: Fraction, wall_mm: Fraction, width_mm: Fraction | None = None, name: str = "bulkhead"
) -> Part:
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
    name : str
        Name on the sheets. [-]

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
        name,
        "wall",
        1,
        "across",
        marks.down(height_mm, f"The {name}"),
        "number",
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
        made_to = f"a copy of the {wall.name}, cut at the same stop"
        return Part(name, "post", 2, "on end", wall.cut, "copy", made_to, cut_set=wall.cut_set, wall=wall.name)
    size = marks.down(wall.cut.cut_mm - plate_mm, f"The {name}")
    made_to = "a number: chamber height less floor plate"
    return Part(name, "post", 2, "on end", size, "number", made_to, cut_set=f"{name} height", wall=wall.name)


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
    if flange_mm >= height_mm:
        cause = f"its flange is {float(flange_mm):.2f} mm thick and the chamber {float(height_mm):.2f} mm high"
        raise DoesNotFit("The speaker", float(flange_mm - height_mm), cause, "Check the thickness of its flange.")
    size = marks.down(height_mm - flange_mm, "The speaker support")
    made_to = "a number: chamber height less flange"
    return Part("speaker support", "support", 4, "on end", size, "number", made_to, cut_set="support height")


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
    gap = (width_mm - as_fraction(speaker.width_mm)) / 2
    if gap < 0:
        raise DoesNotFit(
            "The speaker",
            float(-2 * gap),
            f"the shell is {float(width_mm):.2f} mm wide inside and it {float(speaker.width_mm):.2f} mm",
            "Use a narrower speaker.",
        )
    if gap < LEAST_FILLER_MM:
        return None
    length = marks.up(as_fraction(speaker.length_mm))
    if gap > LARGEST_FILLER_MM:
        made_to = "the gap beside the speaker: trim its width until it slides in"
        return Part(
            "side plate", "filler", 2, "across", length, "real thing", made_to, cut_set="speaker length", width_mm=gap,
            thickness_mm=wall_mm,
        )  # fmt: skip
    made_to = "the gap beside the speaker: sand it until it slides in"
    return Part(
        "side filler", "filler", 2, "flat", length, "real thing", made_to, cut_set="speaker length", section_mm=gap
    )
