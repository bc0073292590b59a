"""Dimensions whose full size is known, measured on a drawing or a photograph."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.full_size.coverage import nominal_of
from modelmath.lengths.prototype import OnPrototype, PrototypeLength
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.uncertain import rectangular


@dataclass(frozen=True)
class KnownSize:
    """A dimension whose full size is known, measured on the drawing.

    Attributes
    ----------
    name : str
        What it is. [-]
    full_ft : float or uncertain number
        Full size, above 0. [ft]
    measured : float or uncertain number
        Its length on the drawing, above 0: from `Rule.length`, or `rectangular(203.1, 0.25, "body")`. [mm or px]
    """

    name: str
    full_ft: Any
    measured: Any

    def __post_init__(self) -> None:
        check_above_0(f"{self.name}: full size", self.full_ft, "ft", "40.5")
        check_above_0(f"{self.name}: measured on the drawing", self.measured, "mm or px", "203.1")

    @classmethod
    def of_prototype(
        cls, name: str, size: PrototypeLength, measured: Any, plus_minus: PrototypeLength | None = None
    ) -> KnownSize:
        """Return a dimension known from the prototype.

        Parameters
        ----------
        name : str
            What it is. [-]
        size : PrototypeLength
            Full size. [ft]
        measured : float or uncertain number
            Its length on the drawing. [mm or px]
        plus_minus : PrototypeLength or None
            How far off the full size may be, either way; None where it is exact. [ft]

        Returns
        -------
        KnownSize
            The same. [ft, and mm or px]

        Raises
        ------
        OutOfRange, WrongKind
            If a size is no number above 0.

        References
        ----------
        JCGM 100:2008, 4.3.7 (limits: half width / sqrt(3)).

        Examples
        --------
        >>> from fractions import Fraction
        >>> KnownSize.of_prototype("body", PrototypeLength(Fraction(81, 2)), 257.2).full_ft
        40.5
        """
        feet = float(size.feet)
        half = 0.0 if plus_minus is None else float(plus_minus.feet)
        return cls(name, rectangular(feet, half, f"full size of {name}") if half else feet, measured)

    @classmethod
    def of_model(cls, name: str, model_mm: Any, scale: Scale | str, measured: Any) -> KnownSize:
        """Return a dimension known from a model, such as a part measured by caliper.

        Parameters
        ----------
        name : str
            What it is. [-]
        model_mm : float or uncertain number
            Its size on the model. [mm]
        scale : Scale or str
            Scale of the model. [-]
        measured : float or uncertain number
            Its length on the drawing. [mm or px]

        Returns
        -------
        KnownSize
            The same, full size. [ft, and mm or px]

        Raises
        ------
        UnknownScale
            If nothing is called so.
        OutOfRange, WrongKind
            If a size is no number above 0.

        References
        ----------
        Definition of scale: model x ratio.

        Examples
        --------
        >>> round(KnownSize.of_model("body", 141.75, "HO", 257.2).full_ft, 9)
        40.5
        """
        return cls(name, scale_of(scale).prototype_ft(model_mm), measured)


def check_above_0(name: str, value: Any, unit: str, example: str) -> None:
    """Refuse a size that is no plain or uncertain number above 0.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [unit]
    unit, example : str
        Its unit, and a value to write. [-]

    Raises
    ------
    WrongKind, OutOfRange
        If it is text or a prototype length, or not above 0.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_above_0("body", 0.0, "mm", "203.1")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: body is 0 mm; it must be above 0. Write what it measures, such as 203.1.
    """
    if isinstance(value, (str, bool, OnPrototype)):
        raise WrongKind(name, shown(str(value)), f"a number of {unit}", f"Write a number, such as {example}.")
    if not 0 < nominal_of(value) < inf:
        raise OutOfRange(
            name, f"{nominal_of(value):g} {unit}", "above 0", f"Write what it measures, such as {example}."
        )
