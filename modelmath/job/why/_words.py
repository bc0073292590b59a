"""How figures write lengths."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.lengths.text import SYMBOLS, format_length, three_ways

if TYPE_CHECKING:
    from modelmath.job.bench.heights import Depth
    from modelmath.job.plan import Plan
    from modelmath.lengths.rules import Rule

SETTING = "the size as a mark of the rule, less its offset"


def free_name(depth: Depth) -> str:
    """Return the name of the figure of a free depth."""
    return f"free depth: {depth.zone.name}"


def in_mm(value: Any) -> str:
    """Return a length in mm, with its uncertainty where it has one."""
    return format_length(value, "mm")


def in_units(plan: Plan, mm: Fraction) -> str:
    """Return a size in scale feet, in decimal inches and in mm."""
    return ", ".join(three_ways(mm, plan.scale))


def typed_mark(mark: str, rule: Rule) -> str:
    """Return a mark as it was typed, with the rule's unit where none was typed."""
    named = any(sign.isalpha() or sign in "'\"" for sign in mark)
    return mark if named else f"{mark} {SYMBOLS.get(rule.unit, rule.unit)}"
