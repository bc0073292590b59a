"""Where to set a rule for many lengths at once: `Rule.mark_for` for whole columns."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.lengths.rules import Given, Rule
from modelmath.lengths.rules.marking import SHORT_OF_ZERO, WRITE_A_MARK, mark_text
from modelmath.lengths.text import SNAP_MM


def step_mm(rule: Rule, finest: Given | None) -> Fraction:
    """Return the distance between the marks that a rule is set to.

    Parameters
    ----------
    rule : Rule
        The rule to mark out with. [-]
    finest : text, number or None
        Finest mark it is set to; by default the rule's graduation. [rule's unit]

    Returns
    -------
    Fraction
        The distance. [mm]

    Raises
    ------
    OutOfRange, UnreadableLength
        If `finest` is not above 0, or can't be read.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> step_mm(Rule(scale="HO"), "1/2")
    Fraction(7, 4)
    """
    step = rule.graduation_mm if finest is None else rule.given_mm(finest)
    if step <= 0:
        raise OutOfRange("the finest mark", str(finest), "above 0", WRITE_A_MARK[rule.unit])
    return step


def settings(rule: Rule, lengths_mm: Any, datum: str = "end", finest: Given | None = None) -> tuple[Any, Any]:
    """Say for each length where to set a rule to mark it out.

    Parameters
    ----------
    rule : Rule
        The rule to mark out with. [-]
    lengths_mm : array
        Sizes. [mm]
    datum : {"end", "zero"}
        What stands at the part's edge. [-]
    finest : text, number or None
        Finest mark it is set to; by default the rule's graduation. [rule's unit]

    Returns
    -------
    tuple of (array of str, array)
        The nearest mark, and how far the size goes beyond it; NaN where the size is not on the rule. [mm]

    Raises
    ------
    OutOfRange
        If `finest` is not above 0.
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    JCGM 200:2012 (VIM), "correction".

    Examples
    --------
    >>> texts, beyond_mm = settings(Rule(scale="HO", zero_offset="1"), [12.25, 12.5, -1.0])
    >>> texts.tolist(), beyond_mm.round(3).tolist()
    (['2 1/2 scale ft', '2 1/2 scale ft', 'not on rule'], [0.0, 0.25, nan])
    """
    import numpy as np
    import pandas as pd

    step = step_mm(rule, finest)
    stretch = 1 + rule.scale_error
    sizes = np.asarray(lengths_mm, dtype=float)
    steps = (sizes / float(stretch) - float(rule.zero_mm(datum))) / float(step)
    # As `in_steps` does: a float next to a part of a mark is that part, so that a tie stays a tie.
    parts = np.round(steps * 128) / 128
    steps = np.where(np.abs(parts - steps) * float(step) <= float(SNAP_MM), parts, steps)
    marks = np.trunc(np.abs(steps) + 0.5) * np.where(steps < 0, -1.0, 1.0)
    marks += marks < ceil(rule.begins_mm / step)
    on_rule = sizes >= 0
    if rule.length_mm is not None:
        on_rule &= (steps - float(rule.length_mm / step)) * float(step) <= float(SNAP_MM)
        marks -= marks > floor(rule.length_mm / step)
    beyond = np.where(on_rule, (steps - marks) * float(step * stretch), np.nan) + 0.0
    places, distinct = pd.factorize(np.where(on_rule, marks, np.nan))
    texts = np.array([*(_text(rule, int(mark) * step) for mark in distinct.tolist()), f"not on {rule.name}"], object)
    return texts[places], beyond


def _text(rule: Rule, nearest: Fraction) -> str:
    return mark_text(rule, abs(nearest)) + (SHORT_OF_ZERO if nearest < 0 else "")
