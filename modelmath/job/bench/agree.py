"""What was entered has to agree with what was measured: names, sections, the wire path, the speaker's place."""

from __future__ import annotations

from fractions import Fraction
from math import hypot
from typing import TYPE_CHECKING

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.lengths.rules.readings import Measured

_NAMED = (
    "rules",
    "readings",
    "zones",
    "lamps",
    "wires",
    "allow",
    "moving",
    "obstacles",
    "profiles",
    "holes",
    "choices",
)
COVERAGE = 2  # of two readings of one width, each with its uncertainty: about 95 % of them lie no further apart
# By which the sides of a round speaker may differ: pi times their mean is then its way round to 0.1 %.
ROUND_SHARE = Fraction(1, 10)


def check_names(bench: Bench) -> None:
    """Refuse a name that stands twice: what names it could mean either.

    Parameters
    ----------
    bench : Bench
        The bench; it keeps the faults. [-]

    References
    ----------
    None needed.
    """
    for table in _NAMED:
        seen: set[str] = set()
        if table == "choices" and bench.job.speaker is not None:
            seen.add(bench.job.speaker.name)
        for place, entry in enumerate(getattr(bench.job, table)):
            with bench.at(table, place, "name"):
                if entry.name in seen:
                    remedy = "Give one of the two another."
                    if table == "holes":
                        remedy = "One hole lies in one place: leave out one of the two."
                    if table == "choices":
                        remedy = "Give each speaker to compare another, the plan's own too."
                    raise WrongKind("the name", repr(entry.name), "a name that stands once", remedy)
            seen.add(entry.name)


def check_agreement(bench: Bench) -> None:
    """Refuse what can't be so beside what was measured, each at its field.

    Parameters
    ----------
    bench : Bench
        The bench; it keeps the faults. Nothing is checked while it has one. [-]

    References
    ----------
    JCGM 100:2008, 5.1.2 and 6.2.1, for how far two readings of one width may lie apart.
    """
    if bench.faults:
        return
    for check in (_check_widths, _check_sections, _check_wire_path, _check_round, _check_place):
        check(bench)


def _widths(bench: Bench) -> dict[int, Measured]:
    """Return the inside width of each zone that has one, by the zone's place."""
    zones = enumerate(bench.job.zones)
    return {place: bench.readings[zone.width].measured for place, zone in zones if zone.width in bench.readings}


def _check_widths(bench: Bench) -> None:
    for place, width in _widths(bench).items():
        with bench.at("zones", place, "width"):
            if width.exact_mm <= 0:
                given, remedy = format_length(width.exact_mm, "mm"), "Read the shell's inside width again."
                raise OutOfRange("the inside width", given, "above 0", remedy)


def _check_sections(bench: Bench) -> None:
    """Refuse a section that is wider than the zone it belongs to was read, by more than two readings differ."""
    for place, width in _widths(bench).items():
        name = bench.job.zones[place].profile
        section = bench.profiles.get(name or "")
        if section is None:
            continue
        down, widest = max(section, key=lambda point: point[1])
        apart = Fraction(COVERAGE * hypot(width.u_mm, width.u_mm))
        with bench.at("zones", place, "profile"):
            if widest > width.exact_mm + apart:
                given = f"{name!r}, which is {_mm(widest)} wide {_mm(down)} down"
                expected = f"no wider than the zone was read, {_mm(width.exact_mm)}"
                remedy = "Write the full width inside at each depth, or give this zone a section of its own."
                raise OutOfRange("the profile", given, expected, remedy)


def _check_wire_path(bench: Bench) -> None:
    """Refuse a wire path that leaves no width beside it."""
    widths = _widths(bench)
    if bench.limits is None or not bench.limits.wire_path_mm or not widths:
        return
    path, wall = Fraction(bench.limits.wire_path_mm), Fraction(bench.limits.wall_mm)
    place, least = min(((at, _width_of(bench, at, width)) for at, width in widths.items()), key=lambda each: each[1])
    with bench.at("chamber", "wire_path"):
        if path + wall >= least:
            given = f"{_mm(path)}, with its wall {_mm(path + wall)}"
            expected = f"less, with its wall, than the inside width over {bench.job.zones[place].name}, {_mm(least)}"
            raise OutOfRange("the wire path", given, expected, "Write a narrower path, or 0 mm for none.")


def _width_of(bench: Bench, place: int, width: Measured) -> Fraction:
    """Return the widest that a zone is anywhere: as read, or as its section has it."""
    section = bench.profiles.get(bench.job.zones[place].profile or "")
    return width.exact_mm if section is None else min(width.exact_mm, max(wide for _, wide in section))


def _check_round(bench: Bench) -> None:
    speaker, entry = bench.speaker, bench.job.speaker
    if speaker is None or entry is None or not entry.round:
        return
    sides = sorted((Fraction(speaker.length_mm), Fraction(speaker.width_mm)))
    with bench.at("speaker", "round"):
        if sides[1] - sides[0] > ROUND_SHARE * sides[1]:
            given = f"{entry.length} long and {entry.width} wide"
            remedy = "Write its diameter for both, or round = false."
            raise WrongKind("the round speaker", given, "one as long as it is wide, or nearly so", remedy)


def _check_place(bench: Bench) -> None:
    """Refuse a place for the speaker that does not lie inside the shell."""
    speaker, ends = bench.speaker, bench.ends
    if speaker is None or ends is None or isinstance(speaker.place, str):
        return
    along = speaker.length_mm if speaker.faces in ("down", "up") else speaker.depth_mm
    first, last = ends.edges[0].exact_mm, ends.edges[-1].exact_mm - Fraction(along)
    with bench.at("speaker", "place"):
        if last < first:
            return  # it is longer than the shell, and said not to fit
        if not first <= speaker.place <= last:
            entry = bench.job.speaker
            given = shown("" if entry is None else entry.place)
            expected = f"from {_mm(first)} to {_mm(last)}, counted from the {ends.mark}, to lie inside the shell"
            remedy = "It is the place of the speaker's front edge; write front, middle or rear to have it found."
            raise OutOfRange("the speaker's place", given, expected, remedy)


def _mm(length: Fraction) -> str:
    return format_length(length, "mm")
