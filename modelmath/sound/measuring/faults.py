"""What may be wrong with a sweep, and what to take again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from modelmath.errors import UnknownChoice

Kind = Literal[
    "too few", "order", "unit", "no peak", "peak at an end", "range", "two peaks", "sparse", "scatter", "below Re",
    "misfit", "phase", "senseless",
]  # fmt: skip
# What stands in the way of using the parameters, by the kind of fault.
UNTRUSTED = {
    "two peaks": "which of the peaks is the speaker's own can't be told",
    "range": "the peak lies too near an end of the sweep",
    "sparse": "too few points lie across the peak",
    "scatter": "the readings scatter too much",
    "order": "the frequencies don't run one way",
    "below Re": "the impedance falls lower than a voice coil lets it",
}
KINDS: tuple[str, ...] = get_args(Kind)


@dataclass(frozen=True)
class SweepFault:
    """Something wrong with a sweep.

    Attributes
    ----------
    kind : str
        One of `KINDS`. [-]
    message : str
        What is wrong, and what to take again. [-]
    stops : bool
        Whether no parameters can be had at all. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> SweepFault("scatter", "The readings scatter.").stops
    False
    """

    kind: Kind
    message: str
    stops: bool = False

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise UnknownChoice("the kind of fault", str(self.kind), KINDS)


REVERSED = SweepFault(
    "phase",
    "The phase has its sign turned over: below resonance the voltage must lead. It was left out; swap the two channels "
    "or turn the sign over.",
)
NO_UNIT = SweepFault(
    "phase",
    "The phase looks like radians: write the unit in the head, phase [rad] or phase [degrees]. It was left out.",
)
SENSELESS = SweepFault(
    "senseless",
    "No curve of a speaker passes near these readings. Check the wiring and the series resistor, then sweep again.",
    stops=True,
)
