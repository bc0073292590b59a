"""End walls and their posts: the bulkhead, the closure, the wall that is a speaker's baffle, notches, the outline."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.clearance import SizeAtMark
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.making.blocks import Block, less
from modelmath.enclosure.making.outline import height_where, section_of, widest_mm
from modelmath.enclosure.making.site import Ends, Site, outline_over
from modelmath.enclosure.parts import Opening, Part, bulkhead, posts
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import as_fraction

NAMES = (("bulkhead", "corner post"), ("rear closure", "closure post"))
RIM_MM = Fraction(1)  # of a flange, left round the cone by its opening; common practice, no source


def walls_and_posts(site: Site, plates: tuple[bool, bool]) -> Iterator[Part]:
    """Yield the walls that the ends need, each with its posts.

    Parameters
    ----------
    site : Site
        The chamber. [mm]
    plates : tuple of two bool
        Whether a floor plate rests on the posts at the front and at the rear. [-]

    Yields
    ------
    Part
        Wall, then posts. [mm]

    Raises
    ------
    DoesNotFit
        If a wall or a post is left no height, or the speaker no height above the floor plate.

    References
    ----------
    Arithmetic.
    """
    names = iter(NAMES)
    ends = ((site.chamber.front_wall, True, plates[0]), (site.chamber.rear_wall, False, plates[1]))
    for needed, front, plate in ends:
        if needed:
            name, post_name = next(names)
            wall = _wall(name, site, front)
            yield wall
            corner = _corner(wall, site, front)
            yield from _placed(_post(post_name, wall, site, corner, plate), wall, site, corner)


def opening_mm(speaker: Speaker) -> tuple[Fraction, Fraction]:
    """Return the opening that a speaker sounds through: as large as its basket, or as its flange less a rim.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]

    Returns
    -------
    tuple of two Fraction
        Length and width; upright and across of a speaker that faces an end. [mm]

    References
    ----------
    A rim of 1 mm on all sides, or a quarter of a small flange: common practice, no source.
    """
    sizes = []
    for what in ("length", "width"):
        basket, flange = getattr(speaker, f"basket_{what}_mm"), Fraction(getattr(speaker, f"{what}_mm"))
        sizes.append(flange - 2 * min(RIM_MM, flange / 4) if basket is None else as_fraction(basket))
    return sizes[0], sizes[1]


def _wall(name: str, site: Site, front: bool) -> Part:
    """Return a wall no higher and no wider than the shell is anywhere over its thickness."""
    at = 0 if front else 1
    thick = (min(site.outer[at], site.inner[at]), max(site.outer[at], site.inner[at]))
    over = site.over(*thick)
    roof = min(as_fraction(bay.zone.roof_mm) for bay in over)
    width = min(as_fraction(bay.zone.width_mm) for bay in over)
    part = bulkhead(site.marks, roof - site.floor, site.wall_mm, width, name)
    # The exact size is what would just clear, even where the floor was set by another wall's mark.
    cut = SizeAtMark(roof - site.exact_floor, part.cut.cut_mm, "down")
    cut_set = f"chamber height, {float(cut.cut_mm):.2f} mm"
    face = "front face" if front else "rear face"
    bottom = roof - cut.cut_mm
    part = replace(part, cut=cut, cut_set=cut_set, position_mm=site.outer[at], face=face)
    if any(bay.zone.profile is not None for bay in over):
        outline = outline_over(over, bottom, roof)
        width = widest_mm(outline)
        made_to = "its height at the centre line a number, its outline the shell's section: sand until it slides in"
        outline = tuple((height - bottom, half) for height, half in outline)
        part = replace(part, made_to=made_to, outline=outline, width_mm=width)
    whole = Block(*thick, -width / 2, width / 2, bottom, roof)
    return _with_openings(part, whole, site, front)


def _with_openings(part: Part, whole: Block, site: Site, front: bool) -> Part:
    """Return a wall with its notches for what stands up through the floor, and the opening of a speaker in it."""
    bottom = as_fraction(whole.bottom_mm)
    gone, made_to, openings = [], part.made_to, []
    for obstacle in site.boxed:
        high = as_fraction(obstacle.top_mm) - bottom
        if not (obstacle.start_mm < whole.end_mm and whole.start_mm < obstacle.end_mm) or high <= 0:
            continue
        half, centre = as_fraction(obstacle.half_width_mm), as_fraction(obstacle.centre_mm)
        gone.append(Block(*_along(whole), centre - half, centre + half, bottom, bottom + high))
        openings.append(Opening(obstacle.words, high, 2 * half, Fraction(0), centre))
        made_to += (
            f"; notch its lower edge for {obstacle.words}, {float(2 * half):.2f} mm wide and {float(high):.2f} mm "
            f"high{_beside(centre)}"
        )
    if site.seated is not None and site.seated[0].faces == ("front" if front else "rear"):
        speaker, seat = site.seated
        opening = _sounding(speaker, stands_mm(site, speaker, seat) - bottom)
        high = bottom + opening.from_edge_mm
        half = opening.wide_mm / 2
        gone.append(Block(*_along(whole), -half, half, high, high + opening.long_mm))
        openings.append(opening)
        made_to += (
            f"; cut an opening in it for the {speaker.name}, {float(opening.wide_mm):.2f} mm wide and "
            f"{float(opening.long_mm):.2f} mm high, in the middle, {float(opening.from_edge_mm):.2f} mm above its "
            "lower edge"
        )
    return replace(part, made_to=made_to, openings=tuple(openings), blocks=less([whole], gone))


def _along(block: Block) -> Ends:
    return as_fraction(block.start_mm), as_fraction(block.end_mm)


def _beside(centre: Fraction) -> str:
    if not centre:
        return ""
    return f", its middle {abs(float(centre)):.2f} mm {'right' if centre > 0 else 'left'} of the centre line"


def _sounding(speaker: Speaker, flange_mm: Fraction) -> Opening:
    """Return the opening of a speaker whose flange stands so high above a wall's lower edge."""
    high, wide = opening_mm(speaker)
    return Opening(f"the {speaker.name}", high, wide, flange_mm + (as_fraction(speaker.length_mm) - high) / 2)


def stands_mm(site: Site, speaker: Speaker, seat: Ends) -> Fraction:
    """Return how high the lower edge of a speaker stands that faces an end: on the floor plate.

    Parameters
    ----------
    site : Site
        The chamber. [mm]
    speaker : Speaker
        The speaker. [mm]
    seat : tuple of two Fraction
        Its face and its back. [mm]

    Returns
    -------
    Fraction
        Height above the seat. [mm]

    Raises
    ------
    DoesNotFit
        If it finds no height above the plate.

    References
    ----------
    Arithmetic.
    """
    bottom = site.floor_band[1]
    # Its opening lies in the wall, so that the roof over the wall counts as well.
    ends = (site.outer[0], seat[1]) if speaker.faces == "front" else (seat[0], site.outer[1])
    top = min(as_fraction(bay.zone.roof_mm) for bay in site.over(*ends))
    clear_of_the_plate(site, speaker, top - bottom, as_fraction(speaker.length_mm))
    return bottom


def clear_of_the_plate(site: Site, speaker: Speaker, room_mm: Fraction, needs_mm: Fraction) -> None:
    """Refuse a speaker that is left too little height above a whole floor plate.

    Parameters
    ----------
    site : Site
        The chamber. [mm]
    speaker : Speaker
        The speaker. [mm]
    room_mm : Fraction
        Height above the plate. [mm]
    needs_mm : Fraction
        Height it takes. [mm]

    Raises
    ------
    DoesNotFit
        If the height is less.

    References
    ----------
    Arithmetic.
    """
    if room_mm >= needs_mm:
        return
    cause = (
        f"the floor plate, {float(site.wall_mm):.2f} mm thick, leaves {float(room_mm):.2f} mm above it, and the "
        f"{speaker.name} takes {float(needs_mm):.2f} mm"
    )
    remedy = "Use a smaller speaker or a thinner plate."
    raise DoesNotFit(f"The {speaker.name}", float(needs_mm - room_mm), cause, remedy)


@dataclass(frozen=True)
class _Corner:
    """Where posts stand behind a wall, and what is over them there."""

    front: bool
    inner: Fraction  # the wall's inner face
    ends: Ends
    half: Fraction  # how far out they stand: to the shell's side, no further than it or the wall reaches low down
    roof: Fraction  # the lowest over them
    slope: Fraction  # how high the section is over their inner face: they are cut no longer, and trimmed from there
    wall_top: Fraction


def _corner(wall: Part, site: Site, front: bool) -> _Corner:
    """Return it: in a chamber shorter than two posts, along the length no further than its middle."""
    inner, size = site.inner[0 if front else 1], site.post_mm
    both = site.chamber.front_wall and site.chamber.rear_wall
    size = min(size, (site.inner[1] - site.inner[0]) / (2 if both else 1))
    ends = (inner, inner + size) if front else (inner - size, inner)
    over = site.over(*ends)
    roofs = [as_fraction(bay.zone.roof_mm) for bay in over]
    sections = [section_of(bay.zone, site.floor, roof) for bay, roof in zip(over, roofs, strict=True)]
    half = wall.outline[0][1] if wall.outline else as_fraction(wall.width_mm or 0) / 2
    half = min(half, *(section[0][1] for section in sections))
    inside = max(half - site.post_mm, Fraction(0))
    slope = min(height_where(section, inside) for section in sections)
    top = max(as_fraction(block.top_mm) for block in wall.blocks)
    return _Corner(front, inner, ends, half, min(roofs), slope, top)


def _post(name: str, wall: Part, site: Site, corner: _Corner, plate: bool) -> Part:
    """Return the posts behind a wall, shorter than it where the roof over them is lower."""
    plate_mm = site.wall_mm if plate else Fraction(0)
    post = posts(name, wall, plate_mm, site.marks)
    lower, slope = corner.roof, corner.slope
    roof = min(lower, slope)
    if roof >= corner.wall_top:
        return post
    size = site.marks.down(roof - site.floor - plate_mm, f"The {name}")
    which = "under the lower roof over it" if lower <= slope else "of the section over its inner face"
    made_to = f"a number: height {which}{', less floor plate' if plate else ''}"
    return replace(post, cut=size, made_by="number", made_to=made_to, cut_set=f"{name} height")


def _placed(post: Part, wall: Part, site: Site, corner: _Corner) -> Iterator[Part]:
    """Yield the posts in their corners: those that a box takes the place of, shortened to stand on it."""
    size, ends, side = site.post_mm, corner.ends, corner.half
    top = min(corner.wall_top, corner.roof, corner.slope)
    bottom = top - post.cut.cut_mm
    blocks = [Block(*ends, *across, bottom, top) for across in ((-side, size - side), (side - size, side))]
    # A post may stand under another section than its wall.
    trimmed = ", trimmed to the shell's section" if wall.outline or _leans(site, ends, side, bottom, top) else ""
    made_to = post.made_to + trimmed
    if ends[1] - ends[0] < size:
        made_to += f", thinned to {float(ends[1] - ends[0]):.2f} mm along the shell"
    face = "front face" if corner.front else "rear face"
    post = replace(post, position_mm=corner.inner, face=face, made_to=made_to)
    free = tuple(block for block in blocks if not any(block.meets(box) for box in site.boxes))
    if len(free) == 2:
        yield replace(post, blocks=free)
        return
    if free:
        yield replace(post, count=1, blocks=free, made_to=f"{made_to}; the box beside the wall stands for the other")
        return
    lid = max(as_fraction(box.top_mm) for box in site.boxes for block in blocks if block.meets(box))
    cut = site.marks.down(top - lid, f"The {post.name}")
    raised = tuple(replace(block, bottom_mm=top - cut.cut_mm) for block in blocks)
    made_to, cut_set = f"a number: from the roof to the box's lid{trimmed}", f"{post.name} height"
    yield replace(post, cut=cut, made_by="number", made_to=made_to, cut_set=cut_set, blocks=raised)


def _leans(site: Site, ends: Ends, side: Fraction, low: Fraction, high: Fraction) -> bool:
    """Whether the section over a stretch is somewhere narrower than the posts stand out."""
    sections = [section_of(bay.zone, low, min(high, as_fraction(bay.zone.roof_mm))) for bay in site.over(*ends)]
    return any(half < side for section in sections for _, half in section)
