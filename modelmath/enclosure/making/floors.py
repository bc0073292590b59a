"""What carries the speaker and closes the floor: supports, fillers and plates, a whole plate, a baffle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from operator import itemgetter

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.pockets import INSIDE
from modelmath.enclosure.making.blocks import Block, less
from modelmath.enclosure.making.footings import footing_mm, thinned_words
from modelmath.enclosure.making.site import Ends, Site, width_between
from modelmath.enclosure.making.walls import clear_of_the_plate, opening_mm
from modelmath.enclosure.parts import LEAST_FILLER_MM, Opening, Part, fillers, supports
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import as_fraction

LEAST_PLATE_MM = Fraction(1, 2)  # a narrower gap in the floor is sealed with glue; common practice, no source
SEALED = "bed it in sealant, no cement, so that it comes off"
NO_CEMENT = "bed the speaker's flange on them in sealant, no cement, so that it comes out"


def floor_plates(site: Site) -> tuple[Part | None, Part | None]:
    """Return the plates that close the floor: in front of and behind the speaker, or one for both.

    Parameters
    ----------
    site : Site
        The chamber. [mm]

    Returns
    -------
    tuple of two Part or None
        At the front and at the rear: the same one twice for a whole plate; None where the floor is not left open. [mm]

    Raises
    ------
    DoesNotFit
        If a whole plate leaves a speaker above it too little height, or a plate the decoder inside.

    References
    ----------
    Arithmetic.
    """
    if site.seated is None:
        return None, None
    speaker, seat = site.seated
    if speaker.faces != "down":
        whole = _whole(site, speaker, seat)
        return whole, whole
    if site.extras.floor == "one piece" and _beside(site, speaker, seat) >= LEAST_FILLER_MM:
        baffle = _baffle(site, speaker, seat)
        return baffle, baffle
    return (
        _plate("floor plate, front", (site.inner[0], seat[0]), site),
        _plate("floor plate, rear", (seat[1], site.inner[1]), site),
    )


def speaker_parts(site: Site, plates: tuple[Part | None, Part | None]) -> Iterator[Part]:
    """Yield what carries the speaker and closes the floor round it.

    Parameters
    ----------
    site : Site
        The chamber. [mm]
    plates : tuple of two Part or None
        Its floor plates. [mm]

    Yields
    ------
    Part
        Supports, fillers, plates. [mm]

    Raises
    ------
    DoesNotFit
        If the flange leaves the supports no height, these lift the speaker too near to the roof, or it is wider than
        the shell.

    References
    ----------
    Arithmetic.
    """
    if site.seated is None:
        return
    speaker, seat = site.seated
    one_piece = plates[0] is not None and plates[0] is plates[1]
    if speaker.faces == "down":
        yield from _supports_under(site, seat, speaker)
        if not one_piece:
            yield from _fillers(site, seat, speaker)
    yield from (plate for plate in (plates[:1] if one_piece else plates) if plate)


def _supports_under(site: Site, ends: Ends, speaker: Speaker) -> Iterator[Part]:
    """Yield four supports, or two and two where a step of the roof lies between the speaker's ends."""
    footing = footing_mm(speaker, site.post_mm)
    if footing is None:
        return  # nothing to stand on: what is printed must be buildable
    (long, wide), low = footing, site.floor + as_fraction(speaker.flange_mm)
    places = ((ends[0], ends[0] + long), (ends[1] - long, ends[1]))
    bays = site.over(*ends)
    words = thinned_words(speaker, site.post_mm, footing)
    front = _support(site, site.within(*places[0]) or bays[:1], speaker, words)
    rear = _support(site, site.within(*places[1]) or bays[-1:], speaker, words)
    _clear_as_hung(site, speaker, bays, max(part.cut.exact_mm - part.cut.cut_mm for part in (front, rear)))
    parts = zip(places, (front, rear), strict=True)
    blocks = [_pair(at, speaker, wide, low, low + part.cut.cut_mm) for at, part in parts]
    if front.cut == rear.cut:
        yield replace(front, position_mm=ends[0], face="front pair's front face", blocks=blocks[0] + blocks[1])
        return
    for part, where, place, pair in ((front, "front", ends[0], blocks[0]), (rear, "rear", ends[1], blocks[1])):
        name, cut_set = f"{part.name}, {where}", f"{part.cut_set}, {where}"
        yield replace(part, name=name, count=2, cut_set=cut_set, position_mm=place, face=f"{where} face", blocks=pair)


def _support(site: Site, bays: Sequence[Bay], speaker: Speaker, words: str) -> Part:
    """Return the supports at one end of the speaker, under the lowest roof over them."""
    ceiling, low = min(((_ceiling(site, bay, speaker), bay) for bay in bays), key=itemgetter(0))
    part = supports(site.marks, ceiling - site.floor, as_fraction(speaker.flange_mm))
    made_to = part.made_to
    if low.zone.profile is not None:
        made_to += ", its upper end trimmed to the slope of the roof"
    made_to += words
    if site.extras.speaker_comes_out:
        made_to += f"; {NO_CEMENT}"
    return replace(part, made_to=made_to)


def _pair(along: Ends, speaker: Speaker, size: Fraction, low: Fraction, high: Fraction) -> tuple[Block, ...]:
    side = as_fraction(speaker.width_mm) / 2
    return tuple(Block(*along, *across, low, high) for across in ((-side, size - side), (side - size, side)))


def _clear_as_hung(site: Site, speaker: Speaker, bays: Sequence[Bay], lift: Fraction) -> None:
    """Refuse a speaker that supports cut down to a mark lift too near to the roof.

    Cut up to the next mark they would hang it below the floor instead, where the chassis is: so another candidate or
    a finer mark helps, and no other way to round.
    """
    floor, keep = site.floor + lift, as_fraction(site.enclosure.limits.over_speaker_mm)
    short = left = None
    for bay in bays:
        over = as_fraction(bay.zone.roof_mm) - floor - as_fraction(speaker.behind_mm)
        if over < keep and (left is None or over < left):
            short, left = keep - over, over
    hung = f"its supports, cut to marks of {site.marks.finest}, hang its flange {float(lift):.2f} mm above the floor"
    remedy = "Cut to a finer mark, keep less over the speaker, or use a shallower speaker."
    if short is not None and left is not None:
        words = f"{float(left):.2f} mm are left" if left >= 0 else f"{float(-left):.2f} mm are missing"
        cause = f"{hung}, and over its back {words} of {float(keep):.2f} mm to keep"
        raise DoesNotFit("The speaker", float(short), cause, remedy)
    needs = (
        (floor + as_fraction(speaker.flange_mm), as_fraction(speaker.width_mm)),
        (floor + as_fraction(speaker.behind_mm), as_fraction(speaker.basket_mm[1])),
    )
    for top, width in needs:
        narrow = width - min(Fraction(bay.zone.width_over(floor, top)) for bay in bays)
        if narrow > 0:
            raise DoesNotFit("The speaker", float(narrow), f"{hung}, where the section is narrower than it is", remedy)


def _ceiling(site: Site, bay: Bay, speaker: Speaker) -> Fraction:
    """Return how high the section is as wide as the speaker: its roof, or where that slopes in."""
    profile = bay.zone.profile
    if profile is None:
        return as_fraction(bay.zone.roof_mm)
    wide = site.enclosure.sections.as_wide_as(profile, as_fraction(speaker.width_mm), site.floor)
    return as_fraction(wide[0][1]) if wide else as_fraction(bay.zone.roof_mm)


def _fillers(site: Site, seat: Ends, speaker: Speaker) -> Iterator[Part]:
    # The widest place counts: what is too wide elsewhere is sanded, what is too narrow can't be.
    bays = site.within(*seat)
    part = fillers(site.marks, max(width_between(bay, *site.floor_band) for bay in bays), speaker, site.wall_mm)
    if part is None:
        return
    inner, thick = as_fraction(speaker.width_mm) / 2, part.thickness_mm or part.section_mm or Fraction(0)
    blocks = []
    for bay in bays:
        side = width_between(bay, *site.floor_band) / 2
        high = min(site.floor + thick, as_fraction(bay.zone.roof_mm))
        ways = ((-side, -inner), (inner, side))
        blocks += [Block(bay.start_mm, bay.end_mm, *across, site.floor, high) for across in ways]
    made_to = part.made_to + _sloping(bays, site, thick)
    met = [o.words for o, box in zip(site.boxed, site.boxes, strict=True) if any(box.meets(each) for each in blocks)]
    if met:
        made_to += f", and cut it round the box of {' and '.join(met)}"
    yield replace(part, made_to=made_to, position_mm=seat[0], face="front end", blocks=less(blocks, site.boxes))


def _sloping(bays: Sequence[Bay], site: Site, thick_mm: Fraction | None = None) -> str:
    """Say where an edge follows a side that is not upright; thick as a floor plate where nothing else is given."""
    thick = site.wall_mm if thick_mm is None else thick_mm
    for bay in bays:
        high = min(site.floor + thick, as_fraction(bay.zone.roof_mm))
        if width_between(bay, *site.floor_band) != bay.zone.width_over(site.floor, high):
            return ", its edges to the slope of the sides"
    return ""


def _plate(name: str, ends: Ends, site: Site) -> Part | None:
    gap = ends[1] - ends[0]
    if gap < LEAST_PLATE_MM:
        return None
    bays = site.within(*ends)
    width = max(width_between(bay, *site.floor_band) for bay in bays)
    made_to = "the floor left open: hold it against its neighbours, and sand" + _sloping(bays, site)
    part = Part(
        name, "plate", 1, "across", site.marks.up(gap), "real thing", made_to, cut_set=name, width_mm=width,
        thickness_mm=site.wall_mm, position_mm=ends[0], face="front edge", blocks=_slab(bays, site),
    )  # fmt: skip
    return _over_the_decoder(_round_boxes(part, site), site)


def _slab(bays: Sequence[Bay], site: Site) -> tuple[Block, ...]:
    blocks = []
    for bay in bays:
        side = width_between(bay, *site.floor_band) / 2
        blocks.append(Block(bay.start_mm, bay.end_mm, -side, side, *site.floor_band))
    return tuple(blocks)


def _round_boxes(part: Part, site: Site) -> Part:
    """Return a plate with an opening for each box that stands up through it."""
    made_to, openings = part.made_to, list(part.openings)
    for obstacle, box in zip(site.boxed, site.boxes, strict=True):
        met = [block for block in part.blocks if block.meets(box)]
        if not met:
            continue
        start = max(as_fraction(box.start_mm), min(as_fraction(b.start_mm) for b in met))
        end = min(as_fraction(box.end_mm), max(as_fraction(b.end_mm) for b in met))
        wide = as_fraction(box.right_mm) - as_fraction(box.left_mm)
        from_edge = start - as_fraction(part.position_mm or 0)
        openings.append(Opening(obstacle.words, end - start, wide, from_edge, as_fraction(obstacle.centre_mm)))
        made_to += (
            f"; cut it out {float(end - start):.2f} mm long and {float(wide):.2f} mm wide round the box of "
            f"{obstacle.words}, from {float(from_edge):.2f} mm behind its front edge"
        )
    return replace(part, made_to=made_to, openings=tuple(openings), blocks=less(part.blocks, site.boxes))


def _over_the_decoder(part: Part, site: Site) -> Part:
    """Return a plate made removable where it would shut the decoder in; refuse one that the decoder stands in."""
    pocket = site.chamber.pocket
    if pocket is None or pocket.where != INSIDE:
        return part
    half = as_fraction(pocket.across_mm) / 2
    room = Block(pocket.start_mm, pocket.end_mm, -half, half, site.floor, pocket.top_mm)
    if not any(room.meets(block) for block in part.blocks):
        return part
    name = site.enclosure.decoder.name if site.enclosure.decoder is not None else "decoder"
    short = site.floor_band[1] - as_fraction(pocket.bottom_mm)
    if short > 0:
        cause = f"inside the chamber the {part.name}, {float(site.wall_mm):.2f} mm thick, lies under it"
        raise DoesNotFit(f"The {name}", float(short), cause, "Let it lie outside the chamber, or use a thinner plate.")
    if not site.extras.decoder_comes_out or part.removable:
        return part
    made_to = f"{part.made_to}; {SEALED}: the {name} is reached through it"
    return replace(part, made_to=made_to, removable=True)


def _entire(site: Site, made_to: str) -> Part:
    """Return a floor plate from wall to wall."""
    bays = site.within(*site.inner)
    width = max(width_between(bay, *site.floor_band) for bay in bays)
    return Part(
        "floor plate", "plate", 1, "across", site.marks.up(site.inner[1] - site.inner[0]), "real thing",
        made_to + _sloping(bays, site), cut_set="floor plate", width_mm=width, thickness_mm=site.wall_mm,
        position_mm=site.inner[0], face="front edge", blocks=_slab(bays, site),
    )  # fmt: skip


def _whole(site: Site, speaker: Speaker, seat: Ends) -> Part:
    """Return the floor plate under a speaker that sounds elsewhere."""
    if speaker.faces == "up":
        roof = min(as_fraction(bay.zone.roof_mm) for bay in site.over(*seat))
        clear_of_the_plate(site, speaker, roof - site.floor_band[1], as_fraction(speaker.behind_mm))
    part = _entire(site, "the floor from wall to wall: hold it against walls and sides, and sand")
    made_to = f"{part.made_to}; {SEALED}: the {speaker.name} is reached through it"
    return _over_the_decoder(_round_boxes(replace(part, made_to=made_to, removable=True), site), site)


def _baffle(site: Site, speaker: Speaker, seat: Ends) -> Part:
    """Return the floor plate with an opening for the flange of a speaker that faces down."""
    part = _entire(site, "the floor from wall to wall: hold it against walls and sides, and sand")
    long, wide = seat[1] - seat[0], as_fraction(speaker.width_mm)
    from_edge = seat[0] - site.inner[0]
    made_to = (
        f"{part.made_to}; cut an opening in it for the flange of the {speaker.name}, {float(long):.2f} mm long and "
        f"{float(wide):.2f} mm wide, in the middle, {float(from_edge):.2f} mm behind its front edge"
    )
    gone = Block(*seat, -wide / 2, wide / 2, *site.floor_band)
    opening = Opening(f"the {speaker.name}", long, wide, from_edge)
    part = replace(part, made_to=made_to, openings=(opening,), blocks=less(part.blocks, [gone]))
    return _over_the_decoder(_round_boxes(part, site), site)


def _beside(site: Site, speaker: Speaker, seat: Ends) -> Fraction:
    """Return the width of plate left on either side of the speaker, where it is least."""
    width = min(as_fraction(bay.zone.width_over(*site.floor_band)) for bay in site.over(*seat))
    return (width - as_fraction(speaker.width_mm)) / 2


def roof_opening(site: Site) -> Opening | None:
    """Return the opening to cut in the roof for a speaker that faces up.

    Parameters
    ----------
    site : Site
        The chamber. [mm]

    Returns
    -------
    Opening or None
        None for any other speaker. [mm]

    References
    ----------
    `making.walls.opening_mm`.
    """
    if site.seated is None or site.seated[0].faces != "up":
        return None
    speaker, seat = site.seated
    long, wide = opening_mm(speaker)
    return Opening(f"the {speaker.name}", long, wide, (seat[0] + seat[1] - long) / 2)
