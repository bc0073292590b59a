"""Pieces that weigh: what is trimmed off, what is put in. Each with its place along the length.

Places count from the fore-aft mark, positive to the rear.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from numbers import Real
from typing import Any

from modelmath.enclosure.balance.materials import density
from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.text import format_length

MM3_PER_CM3 = 1000


def best(value: Any) -> float:
    """Return the best value of a number, uncertain or not.

    Parameters
    ----------
    value : number or uncertain number
        Any number. [any unit]

    Returns
    -------
    float
        Its nominal value. [as given]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import normal
    >>> best(normal(12.0, 0.5, "speaker")), best(12)
    (12.0, 12.0)
    """
    return float(getattr(value, "nominal_value", value))


def check_finite(name: str, value: object, unit: str, example: str) -> None:
    """Refuse what is no finite number, uncertain or not.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [any unit]
    unit : str
        The unit it counts. [-]
    example : str
        What a message shows as a good entry. [-]

    Raises
    ------
    WrongKind
        If it is text or anything else that is no number.
    OutOfRange
        If it is infinite, or no number at all.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_finite("the mass", "12 g", "g", "12.5")
    Traceback (most recent call last):
    modelmath.errors.WrongKind: the mass is '12 g'; expected a number of g. Write it without its unit, such as 12.5.
    """
    number = getattr(value, "nominal_value", value)
    if isinstance(number, bool) or not isinstance(number, Real):
        raise WrongKind(
            name, shown(str(value)), f"a number of {unit}", f"Write it without its unit, such as {example}."
        )
    if not isfinite(number):
        raise OutOfRange(name, f"{number} {unit}", "a finite number", f"Write it in {unit}, such as {example}.")


def grams(value: Any) -> str:
    """Write a mass, with its standard uncertainty where it has one.

    Parameters
    ----------
    value : number or uncertain number
        The mass. [g]

    Returns
    -------
    str
        In g, to a tenth; an uncertainty that a tenth would hide to one digit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import normal
    >>> grams(12), grams(normal(12.04, 0.31, "speaker")), grams(normal(12.04, 0.031, "speaker"))
    ('12.0 g', '12.0 ± 0.3 g', '12.0 ± 0.03 g')
    """
    text = f"{best(value):.1f}"
    text = "0.0" if text == "-0.0" else text
    spread = float(getattr(value, "std_dev", 0.0))
    if not spread:
        return f"{text} g"
    return f"{text} ± {f'{spread:.1f}' if spread >= 0.05 else f'{spread:.1g}'} g"


def where(at_mm: Any) -> str:
    """Write a place along the length.

    Parameters
    ----------
    at_mm : number or uncertain number
        From the fore-aft mark, positive to the rear. [mm]

    Returns
    -------
    str
        In words. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> where(12.5), where(-3), where(0)
    ('12.50 mm behind the mark', '3.00 mm ahead of the mark', 'at the mark')
    """
    if abs(best(at_mm)) < 0.005:
        return "at the mark"
    behind = best(at_mm) > 0
    return f"{format_length(at_mm if behind else -at_mm, 'mm')} {'behind' if behind else 'ahead of'} the mark"


@dataclass(frozen=True)
class Mass:
    """A piece that weighs, at its place along the length.

    Attributes
    ----------
    name : str
        What it is. [-]
    mass_g : number or uncertain number
        Its mass; below 0 for what is taken off. [g]
    at_mm : number or uncertain number
        Its centre of gravity, from the fore-aft mark, positive to the rear. [mm]
    """

    name: str
    mass_g: Any
    at_mm: Any

    def __post_init__(self) -> None:
        check_finite(f"{self.name}: mass", self.mass_g, "g", "12.5")
        check_finite(f"{self.name}: place", self.at_mm, "mm", "-15")

    @property
    def in_words(self) -> str:
        """What it is, what it weighs and where it is, in one line."""
        sign = "less " if best(self.mass_g) < 0 else ""
        return f"{self.name}: {sign}{grams(-self.mass_g if sign else self.mass_g)}, {where(self.at_mm)}"


def _of_volume(name: str, volume_mm3: Any, material: str) -> Any:
    check_finite(f"{name}: volume", volume_mm3, "mm3", "350")
    if best(volume_mm3) < 0:
        given, remedy = f"{best(volume_mm3):g} mm3", "Write the piece's own volume; what is trimmed is taken off."
        raise OutOfRange(f"{name}: volume", given, "0 or more", remedy)
    plain = volume_mm3 if hasattr(volume_mm3, "nominal_value") else float(volume_mm3)
    return plain / MM3_PER_CM3 * density(material).value


def trimmed(name: str, volume_mm3: Any, material: str, at_mm: Any) -> Mass:
    """Return what trimming takes off, as a mass below 0.

    Parameters
    ----------
    name : str
        What is trimmed. [-]
    volume_mm3 : number or uncertain number
        How much of it is cut away. [mm3]
    material : str
        What it is made of. [-]
    at_mm : number or uncertain number
        Middle of what is cut away, from the fore-aft mark, positive to the rear. [mm]

    Returns
    -------
    Mass
        Below 0, as uncertain as volume and density. [g]

    Raises
    ------
    UnknownChoice
        If the table has no such material.
    OutOfRange, WrongKind
        If the volume is below 0, or volume or place is no number.

    References
    ----------
    Volume times density; data/densities.csv.

    Examples
    --------
    >>> print(trimmed("motor clip", 500, "zinc alloy", 12).in_words)
    motor clip: less 3.4 ± 0.03 g, 12.00 mm behind the mark
    """
    return Mass(name, -_of_volume(name, volume_mm3, material), at_mm)


def added(name: str, volume_mm3: Any, material: str, at_mm: Any) -> Mass:
    """Return what a part made of one material adds.

    Parameters
    ----------
    name : str
        What is put in. [-]
    volume_mm3 : number or uncertain number
        Its volume. [mm3]
    material : str
        What it is made of. [-]
    at_mm : number or uncertain number
        Its middle, from the fore-aft mark, positive to the rear. [mm]

    Returns
    -------
    Mass
        As uncertain as volume and density. [g]

    Raises
    ------
    UnknownChoice
        If the table has no such material.
    OutOfRange, WrongKind
        If the volume is below 0, or volume or place is no number.

    References
    ----------
    Volume times density; data/densities.csv.

    Examples
    --------
    >>> print(added("bulkhead", 18 * 12 * 1, "polystyrene", -20).in_words)
    bulkhead: 0.2 ± 0.001 g, 20.00 mm ahead of the mark
    """
    return Mass(name, _of_volume(name, volume_mm3, material), at_mm)


def weighed(name: str, mass_g: Any, at_mm: Any) -> Mass:
    """Return a piece that was weighed, such as a speaker, a decoder, or one end of the model on its truck.

    Parameters
    ----------
    name : str
        What was weighed. [-]
    mass_g : number or uncertain number
        What the scales show. [g]
    at_mm : number or uncertain number
        Its middle, from the fore-aft mark, positive to the rear; of an end of the model, its truck. [mm]

    Returns
    -------
    Mass
        The same. [g]

    Raises
    ------
    OutOfRange, WrongKind
        If the mass is below 0, or mass or place is no number.

    References
    ----------
    None needed.

    Examples
    --------
    >>> print(weighed("speaker", 12, 0).in_words)
    speaker: 12.0 g, at the mark
    """
    piece = Mass(name, mass_g, at_mm)
    if best(mass_g) < 0:
        remedy = "Write what the scales show; for what is cut away, use its volume and material."
        raise OutOfRange(f"{name}: mass", f"{best(mass_g):g} g", "0 or more", remedy)
    return piece
