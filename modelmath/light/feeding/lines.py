"""What hangs on one output of a decoder, with its current and limit."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.light.feeding.draw import Draw, Verdict
from modelmath.light.feeding.loads import Load
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known


@dataclass(frozen=True)
class OutputLine:
    """What hangs on one output.

    Attributes
    ----------
    output : str
        Its name: as the sheet writes it, or as the lamps do where the sheet has none such. [-]
    loads : tuple of Load
        What hangs on it; nothing where it is free. [-]
    draw : Draw
        Its current and limit. [-]
    on_sheet : bool or None
        Whether the sheet has such an output; None where no outputs are entered. [-]
    """

    output: str
    loads: tuple[Load, ...]
    draw: Draw
    on_sheet: bool | None

    @property
    def lamps(self) -> tuple[str, ...]:
        """Names of what hangs on it. [-]"""
        return tuple(load.name for load in self.loads)

    @property
    def current_a(self) -> Band:
        """What is drawn from it with all of them on. [A]"""
        return self.draw.current_a

    @property
    def limit_a(self) -> Known | None:
        """The most it may give, where entered. [A]"""
        return self.draw.limit_a

    @property
    def over_by_a(self) -> float | None:
        """By how much the best value is over its limit; None where none is entered. [A]"""
        return self.draw.over_by_a

    @property
    def verdict(self) -> Verdict:
        """Whether it is within its limit. [-]"""
        return self.draw.verdict
