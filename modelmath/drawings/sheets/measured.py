"""Behind the card: the readings as taken and corrected, the clearance."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from modelmath.drawings.sheets.style import BODY, INK, NOTE, PAGE, SECTION, SIZE, SMALL, STRONG, gap, table, words
from modelmath.drawings.sizes import in_mm, with_unit
from modelmath.job.room_left.sizes import accepted_in_words, chance_in_words
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.bench.heights import Depth
    from modelmath.job.bench.moving import Moving
    from modelmath.lengths.rules.readings import Reading


def readings_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the rules, the readings as taken and corrected, and the free depths.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    JCGM 100:2008 for ±, one standard uncertainty.
    """
    rules = [[name, rule.describe()] for name, rule in plan.bench.rules.items()]
    widths = [44 * mm, 30 * mm, 36 * mm, 32 * mm, 0]
    widths[4] = width - sum(widths)
    head = ("Reading", "Mark", "Rule, from", "Corrected, mm", "The same")
    readings = table(head, [_reading(plan, reading) for reading in plan.bench.readings.values()], widths)
    return [
        words("Readings, as taken and corrected", PAGE),
        words(f"Heights count from the seat: {plan.job.seat.face}. ± is one standard uncertainty.", BODY),
        gap(2),
        table(("Rule", "As entered"), rules, [44 * mm, width - 44 * mm]),
        gap(4),
        readings,
        words("Free depth, roof to chassis", SECTION),
        _depths(plan, width),
        *_in_the_way(plan, width),
    ]


def _in_the_way(plan: Plan, width: float) -> list[Flowable]:
    """Return how far each thing that stands or moves reaches; nothing where none was entered."""
    standing = [each for each in plan.bench.moving if not each.obstacle.moves]
    moving = [each for each in plan.bench.moving if each.obstacle.moves]
    said = "Reach along and to the side has the running clearance in it."
    swinging = "Reach along and to the side is at full swing and play, running clearance in it."
    return [
        *_reaches("What stands inside", "Its top, mm", standing, width, said + _play_in(standing)),
        *_reaches("What moves", "Highest it gets, mm", moving, width, swinging + _play_in(moving)),
    ]


def _play_in(things: Sequence[Moving]) -> str:
    """Return what is said of the end play that is kept from what is on the chassis; empty where there is none."""
    play = max((each.play_mm for each in things), default=0)
    if not play:
        return ""
    whose = "it" if all(each.play_mm for each in things) else "that of what was read on the chassis"
    return f" Along, {whose} also has the shell's end play of {in_mm(play)} in it."


def _reaches(what: str, high: str, things: Sequence[Moving], width: float, said: str) -> list[Flowable]:
    if not things:
        return []
    rows = []
    for each in things:
        box = each.obstacle.outward()
        along = f"{_place(box.start_mm)} to {_place(box.end_mm)}"
        top = "up to the roof"
        if each.entry.top is not None:
            top = in_mm(each.top.value).removesuffix(" mm")
        side = in_mm(box.half_width_mm).removesuffix(" mm")
        if box.centre_mm:
            side += (
                f" of its middle, {in_mm(abs(box.centre_mm))} {'right' if box.centre_mm > 0 else 'left'} of the centre"
            )
        rows.append([each.entry.name, words(top, STRONG), along, side])
    head = (what, high, "Reach along from the mark, mm", "To either side, mm")
    widths = [44 * mm, 42 * mm, 52 * mm, 0]
    widths[3] = width - sum(widths)
    return [words(what, SECTION), table(head, rows, widths), words(said, NOTE)]


def _place(mm_value: Any) -> str:
    return f"{'-' if mm_value < 0 else ''}{in_mm(abs(mm_value)).removesuffix(' mm')}"


def _reading(plan: Plan, reading: Reading) -> list[Any]:
    entry = plan.bench.entry(reading.name)
    where = f"along the {entry.on}" if entry.on else f"from the {reading.face}" if reading.face != "seat" else ""
    name = [words(reading.name, SMALL), *([words(where, SMALL)] if where else [])]
    same = [words(format_length(reading.value, unit, plan.scale), SMALL) for unit in ("scale foot", "in")]
    stands = "its end" if reading.datum == "end" else "its zero mark"
    value = words(in_mm(reading.value).removesuffix(" mm"), STRONG)
    mark = [words(with_unit(reading.mark, reading.rule), STRONG)]
    if reading.again:
        mark.append(words(f"again {', '.join(reading.again)}; the mean counts", SMALL))
    if entry.moved_from is not None:
        mark.append(words(f"moved in the drawing; read at {with_unit(entry.moved_from, reading.rule)}", SMALL))
    return [name, mark, f"{reading.rule.name}, {stands}", value, same]


def _depths(plan: Plan, width: float) -> Flowable:
    rows = [_depth(depth) for depth in plan.depths]
    widths = [44 * mm, 36 * mm, 36 * mm, 0]
    widths[3] = width - sum(widths)
    return table(("Over", "Roof and chassis top", "Free depth, mm", "Zero offset"), rows, widths)


def _depth(depth: Depth) -> list[Any]:
    heights = [
        words(f"{name} {in_mm(height.exact_mm)}", SMALL)
        for name, height in (("roof", depth.roof), ("top", depth.top))
        if height is not None
    ]
    if depth.zone.gap is not None:
        how = "the gap was read in the assembled model"
    elif depth.offset_cancels:
        how = f"that of {depth.offset_cancels} cancels: both heights were read the same way"
    else:
        how = "does not cancel: check the rules against a known length"
    return [depth.name, heights, words(in_mm(depth.free.value).removesuffix(" mm"), STRONG), how]


def clearance_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the clearance: what the room left is made of, and how far it may be off.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    Textbook worst-case and root-sum-square stack-ups, as in `Stack`.
    """
    gap_left = plan.gap
    rows: list[list[Any]] = [
        [term.name, _signed(term.nominal_mm), f"± {term.tolerance_mm:.2f}" if term.tolerance_mm else ""]
        for term in gap_left.stack.terms
    ]
    rows += [
        [words("room left", STRONG), words(in_mm(gap_left.left_mm).removesuffix(" mm"), SIZE), ""],
        [words(f"kept: {gap_left.kept_in_words}", BODY), in_mm(gap_left.kept_mm).removesuffix(" mm"), ""],
        ["at worst, all tolerances added", _signed(gap_left.at_worst_mm), f"± {gap_left.stack.worst_case():.2f}"],
        ["usually, root of the sum of squares", _signed(gap_left.usually_mm), f"± {gap_left.stack.rss():.2f}"],
    ]
    line = [("LINEABOVE", (0, -4), (-1, -4), 0.9, INK)]
    sums = table(("Term", "mm", "May be off by, mm"), rows, [0.56 * width, 0.2 * width, 0.24 * width], line, BODY)
    together = [
        words(f"Clearance over {plan.governing.name}", PAGE),
        sums,
        gap(2),
        words(gap_left.verdict, STRONG),
        words(_chance(plan), BODY),
    ]
    return [KeepTogether(together), *_again(plan, width)]


def _again(plan: Plan, width: float) -> list[Flowable]:
    """Return which readings to take again, the costliest first; nothing where none costs any room."""
    found = plan.remeasure()
    if not found:
        return []
    rows = [
        [words(each.what, STRONG), in_mm(each.costs_mm), each.better, in_mm(each.frees_mm) if each.frees_mm else "—"]
        for each in found
    ]
    head = ("Reading", "Costs now", "With", "Frees")
    widths = [0.34 * width, 0.15 * width, 0.36 * width, 0.15 * width]
    said = "Room that has to be left only because a reading, or a rule, is not known better."
    return [KeepTogether([words("What to measure again", SECTION), words(said, NOTE), table(head, rows, widths)])]


def _chance(plan: Plan) -> str:
    """Say how likely it is to touch, and what costs the most."""
    found = plan.gap
    said = f"Chance of touching: {chance_in_words(found.chance)}; accepted: {accepted_in_words(found.wanted_chance)}."
    first = next(iter(plan.remeasure()), None)
    if first is None:
        return said
    return f"{said} The reading that costs the most room is {first.what}: {in_mm(first.costs_mm)}."


def _signed(mm_value: float) -> str:
    """Return a signed length; nothing for 0. [mm]"""
    size = in_mm(abs(mm_value)).removesuffix(" mm")
    if not any(digit in size for digit in "123456789"):  # 0, or so little that it is printed as 0
        return size if mm_value else ""
    return f"{'-' if mm_value < 0 else '+'}{size}"
