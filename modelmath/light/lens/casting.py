"""How wide a lens is to be: by the bore of the casting it goes into, or by the prototype's own."""

from __future__ import annotations

from fractions import Fraction

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import Number
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale
from modelmath.light.strands.checks import check_length


def diameter_for_bore(bore_mm: Number, play_mm: Number) -> Number:
    """Return the diameter of a lens that goes into a bore with so much play.

    Parameters
    ----------
    bore_mm : Fraction or float
        Diameter of the casting's bore. [mm]
    play_mm : Fraction or float
        Bore less lens, both sides together. [mm]

    Returns
    -------
    Fraction or float
        The lens's diameter; exact where both are. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the bore is no number above 0, the play none of 0 or more, or the play takes the whole bore.

    References
    ----------
    Subtraction.

    Examples
    --------
    >>> diameter_for_bore(Fraction(3, 2), Fraction(1, 10))
    Fraction(7, 5)
    """
    check_length("bore_mm", bore_mm, such_as="1.5")
    check_length("play_mm", play_mm, least_0=True, such_as="0.1")
    if play_mm >= bore_mm:
        given, expected = f"{float(play_mm):g} mm in a bore of {float(bore_mm):g} mm", "less than the bore"
        raise OutOfRange("play_mm", given, expected, "Write the play of both sides together, such as 0.1.")
    return bore_mm - play_mm


def diameter_from_prototype(prototype: PrototypeLength, scale: Scale) -> Fraction:
    """Return the model diameter of a prototype's lens.

    Parameters
    ----------
    prototype : PrototypeLength
        Diameter of the prototype's lens. [ft]
    scale : Scale
        The model's scale. [-]

    Returns
    -------
    Fraction
        Its size on the model, exact. [mm]

    Raises
    ------
    WrongKind
        If the first is no prototype length, or the second no scale.
    OutOfRange
        If the lens is not above 0.

    References
    ----------
    Definition of scale: prototype / ratio.

    Examples
    --------
    >>> from modelmath.lengths.parse import parse_prototype
    >>> from modelmath.lengths.scales import scale
    >>> float(diameter_from_prototype(parse_prototype('6"'), scale("HO")))
    1.75
    """
    if not isinstance(prototype, PrototypeLength):
        given, write = shown(str(prototype)), 'Read it with parse_prototype, such as 6".'
        raise WrongKind("the prototype's lens", given, "a prototype length", write)
    if not isinstance(scale, Scale):
        raise WrongKind("the scale", shown(str(scale)), "a Scale", "Look it up first, such as scale('HO').")
    if prototype.feet <= 0:
        raise OutOfRange("the prototype's lens", str(prototype), "above 0", 'Write its diameter, such as 6".')
    return prototype.feet * scale.mm_per_foot
