"""A quantity, the limits it lies within, and where it comes from: nothing is known without saying how."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import check_number

Origin = Literal["measured", "given", "derived", "estimated"]
ORIGINS: tuple[str, ...] = get_args(Origin)


@dataclass(frozen=True)
class Known:
    """A quantity as far as it is known.

    Attributes
    ----------
    value : float
        The best value. [its own unit]
    low, high : float
        Limits that it lies within; both the value where none are known. [its own unit]
    origin : {"measured", "given", "derived", "estimated"}
        Measured by the user, given on a sheet, derived from others by a published relation, or estimated. [-]
    why : str
        The relation, or the source of the estimate. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> Known.of(450, "measured", within=30)
    Known(value=450.0, low=420.0, high=480.0, origin='measured', why='')
    """

    value: float
    low: float
    high: float
    origin: Origin = "given"
    why: str = ""

    def __post_init__(self) -> None:
        for name in ("value", "low", "high"):
            check_number(f"a parameter's {name}", getattr(self, name))
            object.__setattr__(self, name, float(getattr(self, name)))
        if self.origin not in ORIGINS:
            raise UnknownChoice("where a parameter comes from", str(self.origin), ORIGINS)
        if not self.low <= self.value <= self.high:
            given = f"{self.value:g} with limits {self.low:g} and {self.high:g}"
            raise OutOfRange("a parameter", given, "a value between its limits, the lower one first", "Swap them.")

    @classmethod
    def of(cls, value: float, origin: Origin = "given", *, within: float = 0.0, why: str = "") -> Known:
        """Return a quantity with limits as far off either way.

        Parameters
        ----------
        value : float
            The best value. [its own unit]
        origin : str
            Where it comes from. [-]
        within : float
            How far off it may be. [its own unit]
        why : str
            The relation, or the source of the estimate. [-]

        Returns
        -------
        Known
            The quantity. [its own unit]

        Raises
        ------
        OutOfRange, UnknownChoice, WrongKind
            If it is no finite number, or the origin is no such word.

        References
        ----------
        None needed.
        """
        return cls(value, value - within, value + within, origin, why)

    @property
    def exact(self) -> bool:
        """Whether no limits are known beside the value. [-]"""
        return self.low == self.high

    @property
    def spread(self) -> tuple[float, ...]:
        """Lower limit, value and upper limit, each once. [its own unit]"""
        return tuple(dict.fromkeys((self.low, self.value, self.high)))
