"""Scales by name, with their exact ratio and the standard each comes from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import isfinite
from numbers import Real
from typing import Any

from modelmath.errors import OutOfRange, TableError, UnknownScale, WrongKind, nearest, shown
from modelmath.lengths.prototype import OnPrototype, PrototypeArea, PrototypeLength, PrototypeVolume
from modelmath.tables import rows

MM_PER_PROTOTYPE_FOOT = Fraction(3048, 10)
_RATIO_TEXT = re.compile(r"1\s*[:/]\s*([0-9]{1,4}(?:\.[0-9]{1,6})?)")


@dataclass(frozen=True)
class Scale:
    """A scale: the only thing that turns a prototype length into a model length or back.

    Attributes
    ----------
    name : str
        The name people use, such as ``HO``. [-]
    key : str
        The row's key in data/scales.csv. [-]
    ratio : Fraction
        Prototype over model, exact: 3048/35 for HO. [-]
    standard : str
        Who defines it, and how. [-]
    source : str
        Where that was read. [-]
    """

    name: str
    key: str
    ratio: Fraction
    standard: str
    source: str

    @property
    def mm_per_foot(self) -> Fraction:
        """Model length of one prototype foot, exact. [mm]"""
        return MM_PER_PROTOTYPE_FOOT / self.ratio

    @property
    def mm_per_inch(self) -> Fraction:
        """Model length of one prototype inch, exact. [mm]"""
        return self.mm_per_foot / 12

    def model_mm(self, prototype: Any) -> Any:
        """Model length of a prototype length.

        Parameters
        ----------
        prototype : PrototypeLength, number, uncertain number or array
            A prototype length, or a number of prototype feet. [ft]

        Returns
        -------
        Fraction for a PrototypeLength or a Fraction, else the kind given
            Model length. [mm]

        References
        ----------
        Definition of scale: prototype / ratio.

        Examples
        --------
        >>> scale("HO").model_mm(50)
        175.0
        """
        if isinstance(prototype, PrototypeLength):
            return prototype.feet * self.mm_per_foot
        return _times(prototype, self.mm_per_foot, "prototype", "a prototype length", _WAYS_TO_MODEL)

    def prototype_ft(self, model_mm: Any) -> Any:
        """Prototype feet of a model length.

        Parameters
        ----------
        model_mm : number, uncertain number or array
            Model length. [mm]

        Returns
        -------
        Fraction for a Fraction, else the kind given
            Prototype length. [ft]

        References
        ----------
        Definition of scale: model x ratio.

        Examples
        --------
        >>> round(scale("HO").prototype_ft(25.4), 6)
        7.257143
        """
        return _times(model_mm, 1 / self.mm_per_foot, "model_mm")

    def prototype(self, model_mm: Fraction | float) -> PrototypeLength:
        """Prototype length of a model length, as a type of its own.

        Parameters
        ----------
        model_mm : Fraction or float
            Model length. [mm]

        Returns
        -------
        PrototypeLength
            Its size on the prototype. [ft]

        References
        ----------
        Definition of scale: model x ratio.

        Examples
        --------
        >>> print(scale("O").prototype(19.05))
        3' 0"
        """
        return PrototypeLength(Fraction(model_mm) / self.mm_per_foot)

    def model_mm2(self, area: Any) -> Any:
        """Model area of a prototype area.

        Parameters
        ----------
        area : PrototypeArea, number, uncertain number or array
            A prototype area, or a number of prototype square feet. [sq ft]

        Returns
        -------
        Fraction for a PrototypeArea or a Fraction, else the kind given
            Model area. [mm2]

        Raises
        ------
        WrongKind
            For text, or a length or volume of the prototype.

        References
        ----------
        Definition of scale: prototype area / ratio squared.

        Examples
        --------
        >>> scale("HO").model_mm2(PrototypeArea(Fraction(96)))
        Fraction(1176, 1)
        """
        if isinstance(area, PrototypeArea):
            return area.square_feet * self.mm_per_foot**2
        return _times(area, self.mm_per_foot**2, "area", "a prototype area", _WAYS_TO_MODEL)

    def model_mm3(self, volume: Any) -> Any:
        """Model volume of a prototype volume.

        Parameters
        ----------
        volume : PrototypeVolume, number, uncertain number or array
            A prototype volume, or a number of prototype cubic feet. [cu ft]

        Returns
        -------
        Fraction for a PrototypeVolume or a Fraction, else the kind given
            Model volume. [mm3]

        Raises
        ------
        WrongKind
            For text, or a length or area of the prototype.

        References
        ----------
        Definition of scale: prototype volume / ratio cubed.

        Examples
        --------
        >>> scale("HO").model_mm3(PrototypeVolume(Fraction(4000)))
        Fraction(171500, 1)
        """
        if isinstance(volume, PrototypeVolume):
            return volume.cubic_feet * self.mm_per_foot**3
        return _times(volume, self.mm_per_foot**3, "volume", "a prototype volume", _WAYS_TO_MODEL)

    def prototype_area(self, model_mm2: Fraction | float) -> PrototypeArea:
        """Prototype area of a model area, as a type of its own.

        Parameters
        ----------
        model_mm2 : Fraction or float
            Model area. [mm2]

        Returns
        -------
        PrototypeArea
            Its size on the prototype. [sq ft]

        Raises
        ------
        WrongKind, OutOfRange
            If it is no plain, finite number.

        References
        ----------
        Definition of scale: model area x ratio squared.

        Examples
        --------
        >>> print(scale("HO").prototype_area(1176))
        96 sq ft
        """
        return PrototypeArea(_exact("model_mm2", model_mm2, "mm2") / self.mm_per_foot**2)

    def prototype_volume(self, model_mm3: Fraction | float) -> PrototypeVolume:
        """Prototype volume of a model volume, as a type of its own.

        Parameters
        ----------
        model_mm3 : Fraction or float
            Model volume. [mm3]

        Returns
        -------
        PrototypeVolume
            Its size on the prototype. [cu ft]

        Raises
        ------
        WrongKind, OutOfRange
            If it is no plain, finite number.

        References
        ----------
        Definition of scale: model volume x ratio cubed.

        Examples
        --------
        >>> print(scale("HO").prototype_volume(171_500))
        4000 cu ft
        """
        return PrototypeVolume(_exact("model_mm3", model_mm3, "mm3") / self.mm_per_foot**3)

    def __str__(self) -> str:
        return self.name


_WAYS_TO_MODEL = "Lengths go through model_mm, areas through model_mm2, volumes through model_mm3."


def _exact(name: str, value: Fraction | float, unit: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, (Real, Fraction)):
        raise WrongKind(name, shown(str(value)), f"a plain number of {unit}", f"Write it in {unit}, such as 150.")
    if not isfinite(value):
        raise OutOfRange(name, f"{value} {unit}", "a finite number", "Check the sizes behind it.")
    return Fraction(value)


def _times(
    value: Any,
    factor: Fraction,
    name: str,
    expected: str = "a model length in mm",
    remedy: str = "It is full size already.",
) -> Any:
    if isinstance(value, OnPrototype):
        raise WrongKind(name, f"the prototype {value.kind} {value}", expected, remedy)
    if isinstance(value, str):
        raise WrongKind(name, shown(value), "a number", "Read text with parse_length or parse_prototype.")
    if isinstance(value, Fraction):
        return value * factor
    return value * float(factor)


@cache
def all_scales() -> tuple[Scale, ...]:
    """Return every scale of data/scales.csv, in the table's order."""
    found: list[Scale] = []
    seen: set[str] = set()
    for line, row in rows("scales.csv"):
        ratio = Fraction(row["ratio"])
        if abs(MM_PER_PROTOTYPE_FOOT / ratio - Fraction(row["mm_per_prototype_foot"])) > Fraction(1, 10**9):
            raise TableError("scales.csv", line, "ratio and mm to the foot disagree")
        for label in {row["name"].casefold(), row["key"].casefold()}:
            if label in seen:
                raise TableError("scales.csv", line, f"the name {label!r} is taken by an earlier row")
            seen.add(label)
        standard = f"{row['region']}, {row['definition']}"
        found.append(Scale(row["name"], row["key"], ratio, standard, row["source"]))
    return tuple(found)


@cache
def _by_label() -> dict[str, Scale]:
    labels = {each.key.casefold(): each for each in all_scales()}
    labels.update({each.name.casefold(): each for each in all_scales()})
    return labels


def scale(name: str) -> Scale:
    """Return a scale by its name, its table key, or a ratio such as ``1:87.1``; case does not matter.

    Plain HO, N, O and S mean 3.5 mm to the foot, 1:160, 1:48 and 1:64. H0 with a zero is 1:87, and the
    other standards that share a letter have names of their own, such as ``O (British)``.

    Parameters
    ----------
    name : str
        Name of the scale. [-]

    Returns
    -------
    Scale
        The scale, with its exact ratio. [-]

    Raises
    ------
    UnknownScale
        If nothing is called so; carries the nearest names.

    References
    ----------
    data/scales.csv, each row with its standard (MOROP NEM 010, NMRA S-1.2, trade usage).

    Examples
    --------
    >>> scale("ho").ratio
    Fraction(3048, 35)
    """
    if not isinstance(name, str):
        raise UnknownScale(str(name), ())
    label = " ".join(name.split()).casefold()
    found = _by_label().get(label) or _by_label().get(label.removesuffix(" scale"))
    if found is not None:
        return found
    match = _RATIO_TEXT.fullmatch(label)
    if match and (ratio := Fraction(match[1])) >= 1:
        return Scale(f"1:{match[1]}", f"RATIO_{match[1]}", ratio, "a ratio of your own", "as entered")
    raise UnknownScale(name, nearest(name, [each.name for each in all_scales()]))


def scale_of(given: Scale | str) -> Scale:
    """Return the scale itself, whether it or its name was given.

    Parameters
    ----------
    given : Scale or str
        A scale or the name of one. [-]

    Returns
    -------
    Scale
        The scale. [-]

    Raises
    ------
    UnknownScale
        If nothing is called so.

    References
    ----------
    data/scales.csv.

    Examples
    --------
    >>> scale_of("HO") is scale_of(scale_of("HO"))
    True
    """
    return given if isinstance(given, Scale) else scale(given)
