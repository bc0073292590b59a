"""The side wall that closes the chamber towards the wire path."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.making.blocks import Block
from modelmath.enclosure.making.outline import length_mm, section_of
from modelmath.enclosure.making.site import Ends, Site
from modelmath.enclosure.parts import Part
from modelmath.lengths.numbers import as_fraction


def side_walls(site: Site) -> Iterator[Part]:
    """Yield the side wall, one piece for each height and place that the shell asks for.

    It stands on the right, looking to the rear, and runs from face to face of the end walls, which butt against it.

    Parameters
    ----------
    site : Site
        The chamber. [mm]

    Yields
    ------
    Part
        From front to rear; none without a wire path. [mm]

    Raises
    ------
    DoesNotFit
        If it is left no height.

    References
    ----------
    Arithmetic.
    """
    if not site.path_mm or not site.wall_mm:
        return
    runs = _runs(site)
    for number, (bay, ends) in enumerate(runs, start=1):
        name = "side wall" if len(runs) == 1 else f"side wall {number}"
        before = runs[number - 2][0] if number > 1 else None
        yield _piece(name, bay, ends, before, site)


def _runs(site: Site) -> list[tuple[Bay, Ends]]:
    """Return the stretches over which roof and section stay the same."""
    runs: list[tuple[Bay, Ends]] = []
    for bay in site.within(*site.outer):
        ends = (as_fraction(bay.start_mm), as_fraction(bay.end_mm))
        if runs and _alike(runs[-1][0], bay):
            runs[-1] = (runs[-1][0], (runs[-1][1][0], ends[1]))
        else:
            runs.append((bay, ends))
    return runs


def _alike(one: Bay, other: Bay) -> bool:
    return (one.zone.roof_mm, one.zone.width_mm, one.zone.profile) == (
        other.zone.roof_mm,
        other.zone.width_mm,
        other.zone.profile,
    )


def _piece(name: str, bay: Bay, ends: Ends, before: Bay | None, site: Site) -> Part:
    roof = as_fraction(bay.zone.roof_mm)
    section = section_of(bay.zone, site.floor, roof)
    high = length_mm(section)
    cut = site.marks.down(high, f"The {name}")
    path = float(site.enclosure.limits.wire_path_mm)
    if bay.zone.profile is None:
        made_to = f"its height a number, its length the end walls: stand it {path:.2f} mm from the shell's side"
        cut_set = f"chamber height, {float(cut.cut_mm):.2f} mm"
    else:
        made_to = (
            f"its height a number, along the section; bend it as the shell's side runs, {path:.2f} mm from it, and "
            "sand it to length between the end walls"
        )
        cut_set = f"{name} height"
    if before is not None and before.zone.width_mm != bay.zone.width_mm:
        step = abs(as_fraction(before.zone.width_mm) - as_fraction(bay.zone.width_mm)) / 2
        made_to += f"; close the step of {float(step):.2f} mm to the piece in front with a strip"
    part = Part(
        name, "side", 1, "across", cut, "number", made_to, cut_set=cut_set, width_mm=ends[1] - ends[0],
        thickness_mm=site.wall_mm, position_mm=ends[0], face="front edge",
    )  # fmt: skip
    # Where it leans or bends with the section, the block stands beyond its widest place.
    side = max(half for _, half in section)
    low = max(site.floor, roof - cut.cut_mm)
    return replace(part, blocks=(Block(*ends, side, side + site.wall_mm, low, roof),))
