"""Cut plans for strip: which piece from which strip, with which stop setting, and how good the plan is.

On one strip ``sum(pieces) + kerf * (pieces - 1) <= length - end_trim``: nothing is sawn after a last piece
that uses the strip up, and the last cut may run off the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import lcm

from modelmath.cutting.convert import cut_strips, problem_of
from modelmath.cutting.optimum.goals import NEW
from modelmath.cutting.optimum.greedy import supply_of
from modelmath.cutting.optimum.problem import Problem
from modelmath.cutting.optimum.repeated import best_plan_of_in_steps
from modelmath.cutting.plan import CutPlan, CutStrip, GroupVerdict, StageVerdict, StopSetting, ToBuy
from modelmath.cutting.search import left_out
from modelmath.cutting.sheets import Blank, sheet_strips
from modelmath.cutting.stock import CutPart, CutStock, check_pieces
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.numbers import check_common_step
from modelmath.materials.exact import exact_mm
from modelmath.steps import InSteps, at_once, part_of

LEAST_OFFCUT_MM = 20  # common practice, no source: a shorter one is lost in the drawer


def plan_cuts(
    parts: Sequence[CutPart],
    stock: Sequence[CutStock],
    kerf_mm: Fraction | float = 0,
    end_trim_mm: Fraction | float = 0,
    *,
    least_offcut_mm: Fraction | float = LEAST_OFFCUT_MM,
    blanks: Sequence[Blank] = (),
    made_up: Sequence[CutPart] = (),
    times: int = 1,
) -> CutPlan:
    """Plan the cuts of all parts: offcuts first, then full strips on hand, then strips to buy.

    What may be bought, as often as needed, is strip of the rows without a count; where a kind has no such row, its
    longest full strip listed. An offcut's length is never bought.

    In this order: the fewest strips to buy; the fewest whole strips cut into; the least scrap, which is all that is
    neither part nor an offcut worth keeping; as much as can be from old offcuts; the longest single offcut kept. By
    each goal the plan says whether it is proven best, or what the bound is: of all plans that cut each part from the
    strip named for it and buy no other lengths than those. Arithmetic is exact, and the same job gives the same plan.

    Parameters
    ----------
    parts : sequence of CutPart
        What to cut. Parts of one length share a stop setting. [mm]
    stock : sequence of CutStock
        What to cut it from; rows of one name are one kind of strip. [mm]
    kerf_mm : Fraction or float
        Width of the saw cut; 0 for a blade that parts without waste. [mm]
    end_trim_mm : Fraction or float
        What is cut off one end of each strip to square it, its saw cut included. [mm]
    least_offcut_mm : Fraction or float
        The shortest offcut worth keeping; 20 is common practice, no source. [mm]
    blanks : sequence of Blank
        What is cut from sheet: it shares the stop settings, and has no part in strips and verdicts. [mm]
    made_up : sequence of CutPart
        Parts that no one strip gives, such as those glued up; `stock_name` says what of. They share the stop
        settings only. [mm]
    times : int
        How many like sets the parts are, as for several models: every count is a multiple of it. The plan is then no
        worse than that of one set, cut as often. [-]

    Returns
    -------
    CutPlan
        Strips with their cuts, stop settings, verdict, what to buy.

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable length, a part's stock is not listed, or parts of one equal set differ.
    DoesNotFit
        If a part is longer than the longest strip listed, or no place is found on what is on hand for a part
        longer than any strip that may be bought.

    References
    ----------
    Convention for n equal pieces: n = floor((L + kerf) / (piece + kerf)); arithmetic. The plan: column generation,
    P. C. Gilmore and R. E. Gomory, Operations Research 9 (1961).

    Examples
    --------
    >>> plan = plan_cuts([CutPart("post", 30, 4, "HO 6x10")], [CutStock("HO 6x10", 280)], kerf_mm=0.4)
    >>> plan.new_strips, float(plan.strips[0].offcut_mm), plan.verdict
    (1, 158.4, 'proven: no plan buys fewer strips than 1 (any to buy 280.00 mm long)')
    """
    how = (kerf_mm, end_trim_mm, least_offcut_mm)
    return at_once(plan_cuts_in_steps(parts, stock, *how, blanks=blanks, made_up=made_up, times=times))


def plan_cuts_in_steps(
    parts: Sequence[CutPart],
    stock: Sequence[CutStock],
    kerf_mm: Fraction | float = 0,
    end_trim_mm: Fraction | float = 0,
    least_offcut_mm: Fraction | float = LEAST_OFFCUT_MM,
    *,
    blanks: Sequence[Blank] = (),
    made_up: Sequence[CutPart] = (),
    times: int = 1,
) -> InSteps[CutPlan]:
    """Plan the cuts of all parts as `plan_cuts` does, one kind of strip after the other.

    Parameters
    ----------
    parts, stock, kerf_mm, end_trim_mm, least_offcut_mm, blanks, made_up : as for `plan_cuts`
        What to cut, from what, and how. [mm]
    times : int
        How many like sets the parts are. [-]

    Yields
    ------
    Progress
        Before each goal, for one kind of strip after the other. [-]

    Returns
    -------
    CutPlan
        As `plan_cuts`. [mm]

    Raises
    ------
    OutOfRange, WrongKind, DoesNotFit
        As `plan_cuts`.

    References
    ----------
    `plan_cuts`.
    """
    kerf, trim = exact_mm(kerf_mm, "kerf_mm", zero=True), exact_mm(end_trim_mm, "end_trim_mm", zero=True)
    useful = exact_mm(least_offcut_mm, "least_offcut_mm", zero=True)
    _check_equal_sets([*parts, *blanks, *made_up])
    strips: list[CutStrip] = []
    verdicts: list[GroupVerdict] = []
    names = list(dict.fromkeys(part.stock_name for part in parts))
    for number, name in enumerate(names):
        mine = [part for part in parts if part.stock_name == name]
        rows = [row for row in stock if row.name == name]
        planning = _plan_group(name, mine, rows, (kerf, trim, useful), times)
        found, verdict = yield from part_of(planning, number / len(names), (number + 1) / len(names))
        strips += found
        verdicts.append(verdict)
    numbered = tuple(replace(strip, number=number) for number, strip in enumerate(strips, start=1))
    elsewhere = [(each.length_mm, each.sheet.name, each.name) for each in blanks for _ in range(each.count)]
    elsewhere += [(each.length_mm, each.stock_name, each.name) for each in made_up for _ in range(each.count)]
    return CutPlan(
        numbered,
        _stops(numbered, elsewhere),
        tuple(verdicts),
        _shopping(numbered),
        kerf,
        trim,
        useful,
        sheet_strips(blanks, kerf, trim),
        tuple(made_up),
    )


def _check_equal_sets(parts: Sequence[CutPart | Blank]) -> None:
    """Refuse an equal set of different lengths: one stop can't cut it."""
    first: dict[str, CutPart | Blank] = {}
    for part in parts:
        if part.equal_set is None:
            continue
        known = first.setdefault(part.equal_set, part)
        if known.length_mm != part.length_mm:
            given = f"{float(part.length_mm):g} mm"
            expected = f"{float(known.length_mm):g} mm, as {known.name} of the equal set {part.equal_set!r}"
            raise OutOfRange(
                f"length_mm of {part.name}", given, expected, "Give both one length, or take one out of the set."
            )


def _plan_group(
    name: str,
    parts: Sequence[CutPart],
    rows: Sequence[CutStock],
    losses: tuple[Fraction, Fraction, Fraction],
    times: int,
) -> InSteps[tuple[list[CutStrip], GroupVerdict]]:
    """Plan the parts of one kind of strip."""
    kerf, trim, useful = losses
    check_pieces(name, sum(part.count for part in parts))
    _check_long_enough(name, parts, rows, trim)
    numbers = (kerf, trim, useful, *(part.length_mm for part in parts), *(row.length_mm for row in rows))
    per_mm = check_common_step("lengths to cut", lcm(*(number.denominator for number in numbers)))
    problem = problem_of(parts, rows, kerf, trim, useful, per_mm)
    best = yield from part_of(best_plan_of_in_steps(problem, times), 0.0, 1.0, f"Cutting from {name}: ")
    to_buy = [rows[row.sources[0]] for row in problem.rows if row.bought]
    if best is None:
        raise _used_up(_without_place(problem, parts, per_mm), to_buy, trim)
    strips = cut_strips(problem, best.plan, parts, rows, (kerf, trim, useful))
    stages = tuple(
        StageVerdict(stage.goal, *(_shown(stage.goal, each, per_mm) for each in (stage.value, stage.bound)))
        for stage in best.stages
    )
    lengths = tuple(sorted({row.length_mm for row in to_buy}))
    whole = next(stage for stage in best.stages if stage.goal == NEW)
    return strips, GroupVerdict(name, whole.value, whole.bound, lengths, stages)


def _shown(goal: str, value: int, per_mm: int) -> Fraction:
    return Fraction(value) if goal in ("new strips", "bought") else Fraction(value, per_mm)


def _without_place(problem: Problem, parts: Sequence[CutPart], per_mm: int) -> CutPart:
    """Return the part that the message names where no place was found for all of them."""
    kinds = [at for at, wanted in enumerate(problem.demand) for _ in range(wanted)]
    supply = supply_of(problem, [row.count for row in problem.rows])
    at = kinds[left_out([problem.sizes[kind] for kind in kinds], supply)]
    length = Fraction(problem.lengths[at], per_mm)
    return min((part for part in parts if part.length_mm == length), key=lambda part: part.name)


def _check_long_enough(name: str, parts: Sequence[CutPart], rows: Sequence[CutStock], trim: Fraction) -> None:
    if not rows:
        part = parts[0]
        known = f'Add CutStock("{name}", length_mm, count=None) for strip to buy.'
        raise OutOfRange(f"stock_name of {part.name}", repr(name), "the name of a row of the stock", known)
    longest = max(row.length_mm for row in rows)
    part = max(parts, key=lambda each: each.length_mm)
    if part.length_mm > longest - trim:
        what = f"{part.name}, {float(part.length_mm):.2f} mm long,"
        cause = f"the longest {name} is {float(longest):.2f} mm, of which {float(trim):.2f} mm is trimmed off"
        remedy = "List a longer strip, or make the part of two."
        raise DoesNotFit(what, float(part.length_mm - longest + trim), cause, remedy)


def _used_up(part: CutPart, to_buy: Sequence[CutStock], trim: Fraction) -> DoesNotFit:
    """Return the error for a part that no strip to buy holds and that has no place on hand."""
    name, length = part.stock_name, part.length_mm
    what = f"{part.name}, {float(length):.2f} mm long,"
    if not to_buy:
        cause = f"no place was found for it on the {name} offcuts and no full strip is listed"
        return DoesNotFit(
            what, float(length), cause, f'Add CutStock("{name}", length_mm, count=None) for strip to buy.'
        )
    longest = max(row.length_mm for row in to_buy)
    cause = (
        f"no place was found for it on the {name} on hand, and the longest to buy is {float(longest):.2f} mm, "
        f"of which {float(trim):.2f} mm is trimmed off"
    )
    return DoesNotFit(what, float(length - longest + trim), cause, "List a longer strip, or make the part of two.")


def _stops(strips: Sequence[CutStrip], elsewhere: Sequence[tuple[Fraction, str, str]]) -> tuple[StopSetting, ...]:
    """Return each distinct length once, longest first, with what it is cut from."""
    lengths = {cut.length_mm for strip in strips for cut in strip.cuts} | {length for length, _, _ in elsewhere}
    return tuple(
        StopSetting(
            length,
            tuple((strip.number, cut.part) for strip in strips for cut in strip.cuts if cut.length_mm == length),
            tuple((source, part) for its_length, source, part in elsewhere if its_length == length),
        )
        for length in sorted(lengths, reverse=True)
    )


def _shopping(strips: Sequence[CutStrip]) -> tuple[ToBuy, ...]:
    bought = [(strip.stock_name, strip.length_mm) for strip in strips if strip.kind == "to buy"]
    return tuple(ToBuy(name, length, bought.count((name, length))) for name, length in dict.fromkeys(bought))
