"""Which size at which mark leaves what chance of touching."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.room_left.gap import gap_with
from modelmath.lengths.rules.marking import Setting

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

LARGER, SMALLER = 5, 3  # marks shown beyond the chosen size, either way
MOST = 60  # marks looked down for a size that is accepted


@dataclass(frozen=True)
class SizeChance:
    """One size the bulkhead could be cut to.

    Attributes
    ----------
    height_mm : Fraction
        Its height. [mm]
    setting : Setting
        Where to set the rule to mark it out. [rule's unit]
    left_mm : Fraction
        The room left; below 0 where it is larger than its space. [mm]
    at_worst_mm : float
        The same with all that varies at its limit. [mm]
    chance : float
        Chance that it touches. [-]
    chosen : bool
        Whether it is the size of the plan. [-]
    keeps : bool
        Whether it leaves what has to be kept: the clearance, and what the cone or the decoder needs below. [-]
    accepted : bool
        Whether its chance is no more than the one accepted. [-]
    """

    height_mm: Fraction
    setting: Setting
    left_mm: Fraction
    at_worst_mm: float
    chance: float
    chosen: bool
    keeps: bool
    accepted: bool


def sizes_of(plan: Plan) -> tuple[SizeChance, ...]:
    """Return the sizes at the marks round the chosen one, the largest first, each with its chance of touching.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of SizeChance
        The largest leaves no room, or less than none. [mm]

    References
    ----------
    `Stack.interference`.
    """
    chosen = plan.chamber_height_mm
    rule = plan.marks.rule
    step = rule.given_mm(plan.marks.finest) * (1 + rule.scale_error)
    found: list[SizeChance] = []
    for marks in range(LARGER, -MOST - 1, -1):
        height = chosen + marks * step
        if marks < -SMALLER and (height <= 0 or found[-1].accepted):
            break  # as far down as it takes to find a size that is accepted
        if height <= 0 or plan.space.exact_mm - height < -step:
            continue
        gap = gap_with(plan, height)
        row = SizeChance(
            height,
            plan.marks.setting(height),
            gap.left_mm,
            gap.at_worst_mm,
            gap.chance,
            not marks,
            gap.left_mm >= gap.kept_mm,
            gap.chance <= gap.wanted_chance,
        )
        found.append(row)
        if len(found) > 1 and found[-2].left_mm < 0 and row.left_mm < 0:
            found.pop(0)  # one that is too large on paper is enough to show
    return tuple(found)


def chance_in_words(chance: float) -> str:
    """Return a chance as people take it in.

    Parameters
    ----------
    chance : float
        From 0 to 1. [-]

    Returns
    -------
    str
        Such as ``about 1 in 140``. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [chance_in_words(each) for each in (0.0, 4e-7, 0.0071, 0.1234, 0.9999)]
    ['none', 'less than 1 in 1,000,000', 'about 1 in 140', '12 %', 'all but certain']
    """
    if chance <= 0:
        return "none"
    if chance < 1e-6:
        return "less than 1 in 1,000,000"
    if chance < 0.1:
        one_in = 1 / chance
        digits = 10 ** max(0, len(str(int(one_in))) - 2)
        return f"about 1 in {round(one_in / digits) * digits:,}"
    return f"{100 * chance:.0f} %" if chance < 0.995 else "all but certain"


def accepted_in_words(chance: float) -> str:
    """Return a chance that a person has set, exactly.

    Parameters
    ----------
    chance : float
        Above 0, to 1. [-]

    Returns
    -------
    str
        Such as ``1 in 100``; in per cent where it is not one in a whole number. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> accepted_in_words(0.01), accepted_in_words(0.013)
    ('1 in 100', '1.3 %')
    """
    one_in = round(1 / chance)
    return f"1 in {one_in:,}" if abs(one_in * chance - 1) < 1e-9 else f"{100 * chance:g} %"
