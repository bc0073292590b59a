"""Boxes round what stands up through the floor: sides, ends where they do not butt on a wall, lids."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.enclosure.making.blocks import Block, block_of, less
from modelmath.enclosure.making.site import Ends, Site
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.parts import Part
from modelmath.lengths.numbers import as_fraction


@dataclass(frozen=True)
class Run:
    """A stretch of a box of one height.

    Attributes
    ----------
    ends : tuple of two Fraction
        Front and rear end. [mm]
    top_mm : Fraction
        Upper edge of its sides: under its lid, or the roof. [mm]
    lidded : bool
        Whether there is room for a lid. [-]
    """

    ends: Ends
    top_mm: Fraction
    lidded: bool


def box_parts(site: Site) -> Iterator[Part]:
    """Yield the pieces of every box; where boxes overlap, they are cut to enclose both.

    Parameters
    ----------
    site : Site
        The chamber. [mm]

    Yields
    ------
    Part
        Sides, ends and lids, equal ones together. [mm]

    References
    ----------
    The union of boxes less what stands in them.
    """
    inside = [block_of(each) for each in site.boxed]
    # As far as they reach into an end wall's notch as well.
    whole = [
        replace(box, start_mm=each.start_mm - site.wall_mm, end_mm=each.end_mm + site.wall_mm)
        for each, box in zip(site.boxed, site.boxes, strict=True)
    ]
    names: dict[str, int] = {}
    for at, (obstacle, box) in enumerate(zip(site.boxed, site.boxes, strict=True)):
        taken = (*whole[:at], *inside, *_over_the_notch(site, obstacle, box))
        found: dict[tuple[str, bool, Fraction, Fraction, Fraction], list[Block]] = {}
        for role, run, block in _pieces(site, obstacle, box):
            for piece in less([block], taken):
                along, across, up = _sizes(piece)
                found.setdefault((role, run.lidded, along, across, up), []).append(piece)
        for (role, lidded, *_), blocks in found.items():
            name = f"{obstacle.name} box, {role}"
            names[name] = names.get(name, 0) + 1
            numbered = name if names[name] == 1 else f"{name} {names[name]}"
            yield _part(numbered, role, lidded, tuple(blocks), site)


def _over_the_notch(site: Site, obstacle: Obstacle, box: Block) -> Iterator[Block]:
    """Yield what is left of the end walls over an obstacle's notches."""
    for outer, inner in zip(site.outer, site.inner, strict=True):
        top, ends = as_fraction(obstacle.top_mm), (min(outer, inner), max(outer, inner))
        yield Block(*ends, box.left_mm, box.right_mm, top, top + site.wall_mm)


def _sizes(block: Block) -> tuple[Fraction, Fraction, Fraction]:
    return (
        as_fraction(block.end_mm) - as_fraction(block.start_mm),
        as_fraction(block.right_mm) - as_fraction(block.left_mm),
        as_fraction(block.top_mm) - as_fraction(block.bottom_mm),
    )


def _runs(site: Site, obstacle: Obstacle, box: Block) -> list[Run]:
    runs: list[Run] = []
    top, lid = as_fraction(obstacle.top_mm), as_fraction(box.top_mm)
    for bay in site.within(as_fraction(box.start_mm), as_fraction(box.end_mm)):
        roof = as_fraction(bay.zone.roof_mm)
        lidded = lid <= roof
        high = top if lidded else roof
        run = Run((as_fraction(bay.start_mm), as_fraction(bay.end_mm)), high, lidded)
        before = runs[-1] if runs else None
        if before is not None and replace(before, ends=run.ends) == run:
            run = replace(run, ends=(runs.pop().ends[0], run.ends[1]))
        runs.append(run)
    return runs


def _pieces(site: Site, obstacle: Obstacle, box: Block) -> Iterator[tuple[str, Run, Block]]:
    """Yield each piece of one box, by what it is."""
    wall, low = site.wall_mm, site.floor
    start, end = as_fraction(obstacle.start_mm), as_fraction(obstacle.end_mm)
    left, right = as_fraction(box.left_mm), as_fraction(box.right_mm)
    for run in _runs(site, obstacle, box):
        for across in ((left, left + wall), (right - wall, right)):
            yield "side", run, Block(*run.ends, *across, low, run.top_mm)
        within = (left + wall, right - wall)
        # What ends within an end wall stands in its notch, and so does the end of its box. Where less than an end's
        # thickness is left to a wall, the sides butt on the wall and it closes the box.
        if run.ends[0] < start and start - wall >= site.inner[0]:
            begins = max(run.ends[0], start - wall)
            yield (
                "end",
                run,
                Block(begins, start if start > site.inner[1] else min(start, run.ends[1]), *within, low, run.top_mm),
            )
        if run.ends[1] > end and end + wall <= site.inner[1]:
            begins = end if end < site.inner[0] else max(end, run.ends[0])
            yield "end", run, Block(begins, run.ends[1], *within, low, run.top_mm)
        if run.lidded:
            yield "lid", run, Block(*run.ends, left, right, run.top_mm, box.top_mm)


def _part(name: str, role: str, lidded: bool, blocks: tuple[Block, ...], site: Site) -> Part:
    along, across, up = _sizes(blocks[0])
    if role == "lid":
        size, width, thick = along, across, up
        made_to = "its box's sides and ends: hold it on them, and sand it level with them"
    else:
        size, (width, thick) = up, (along, across) if role == "side" else (across, along)
        upper = "the lid" if lidded else "the roof"
        made_to = f"from the floor to {upper}, {float(up):.2f} mm: sand it until it slides in"
    start = min(as_fraction(each.start_mm) for each in blocks)
    places = tuple(sorted({as_fraction(each.start_mm) for each in blocks}))
    return Part(
        name, "box", len(blocks), "across", site.marks.up(size), "real thing", made_to, cut_set=name, width_mm=width,
        thickness_mm=thick, position_mm=start, face="front edge", places_mm=places, blocks=blocks,
    )  # fmt: skip
