"""A current set against the limit that a sheet states for it: what is left, or by how much it is over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from modelmath.light.feeding.amounts import SAME
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

Verdict = Literal["within", "may be over", "over", "not known"]
VERDICTS: tuple[Verdict, ...] = ("within", "may be over", "over", "not known")


@dataclass(frozen=True)
class Draw:
    """A current and its limit.

    Attributes
    ----------
    current_a : Band
        What is drawn. [A]
    limit_a : Known or None
        The most allowed; None where it is not entered. [A]
    lacking : tuple of str
        What draws current too, but is not entered: with it the current is more. [-]

    References
    ----------
    Arithmetic: the best current against the best limit; at worst the greatest current against the least limit.

    Examples
    --------
    >>> draw = Draw(Band(0.12, 0.11, 0.13), Known.of(0.1))
    >>> draw.verdict, round(draw.over_by_a, 9)
    ('over', 0.02)
    """

    current_a: Band
    limit_a: Known | None = None
    lacking: tuple[str, ...] = ()

    @property
    def room_a(self) -> Band | None:
        """What the limit leaves; below 0 what is too much; None where no limit is entered. [A]"""
        if self.limit_a is None:
            return None
        limit, current = self.limit_a, self.current_a
        return Band(limit.value - current.best, limit.low - current.high, limit.high - current.low)

    @property
    def over_by_a(self) -> float | None:
        """By how much the best value is over; 0 if it is not; None where no limit is entered. [A]"""
        return None if self.room_a is None else _over(self.room_a.best)

    @property
    def may_be_over_by_a(self) -> float | None:
        """By how much it is over with every limit at its worst; None where no limit is entered. [A]"""
        return None if self.room_a is None else _over(self.room_a.low)

    @property
    def verdict(self) -> Verdict:
        """Whether it is within its limit, may be over it, is over it, or that is not known. [-]"""
        if self.over_by_a is None:
            return "not known"
        if self.over_by_a:
            return "over"
        if self.may_be_over_by_a:
            return "may be over"
        return "not known" if self.lacking else "within"


def _over(room_a: float) -> float:
    """Return what is too much, float noise aside."""
    return -room_a if room_a < -SAME else 0.0
