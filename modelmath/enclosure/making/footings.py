"""Where a speaker's supports stand on its flange: on the rim outside its basket, in no other's way."""

from __future__ import annotations

from fractions import Fraction

from modelmath.enclosure.bodies import Speaker
from modelmath.lengths.numbers import as_fraction

LEAST_FOOT_MM = Fraction(1, 2)  # a thinner support bends and hardly holds glue; common practice, no source

Rims = tuple[Fraction | None, Fraction | None]


def rims_mm(speaker: Speaker) -> Rims:
    """Return how wide the rim of a flange is outside the basket.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]

    Returns
    -------
    tuple of two Fraction or None
        At its front and rear, and at its sides; None where the basket's size was not given. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> rims_mm(Speaker(14, 10, 1, 5, basket_width_mm=8))
    (None, Fraction(1, 1))
    """
    sizes = ((speaker.length_mm, speaker.basket_length_mm), (speaker.width_mm, speaker.basket_width_mm))
    along, across = (
        None if basket is None else max((as_fraction(flange) - as_fraction(basket)) / 2, Fraction(0))
        for flange, basket in sizes
    )
    return along, across


def footing_mm(speaker: Speaker, post_mm: Fraction) -> tuple[Fraction, Fraction] | None:
    """Return the section of each of the four supports: a post's, thinned where flange or basket leave less.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]
    post_mm : Fraction
        Side of a post. [mm]

    Returns
    -------
    tuple of two Fraction, or None
        Along the shell and across it; None where the basket leaves no rim to stand on. [mm]

    References
    ----------
    A block in a corner is clear of a box in the middle where it is no longer or no wider than the rim there. Two side
    by side have room where each takes no more than half.

    Examples
    --------
    >>> footing_mm(Speaker(14, 10, 1, 5, basket_length_mm=11, basket_width_mm=8), Fraction(2))
    (Fraction(3, 2), Fraction(2, 1))
    """
    sizes = [min(post_mm, as_fraction(each) / 2) for each in (speaker.length_mm, speaker.width_mm)]
    rims = rims_mm(speaker)
    known = [(rim, at) for at, rim in enumerate(rims) if rim is not None]
    if not known or any(rim >= sizes[at] for rim, at in known):
        return sizes[0], sizes[1]
    rim, at = max(known)
    if rim:
        sizes[at] = rim
    elif len(known) == len(rims):
        return None
    return sizes[0], sizes[1]


def thinned_words(speaker: Speaker, post_mm: Fraction, footing: tuple[Fraction, Fraction]) -> str:
    """Say how supports are thinned, and why; nothing where they are not.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]
    post_mm : Fraction
        Side of a post. [mm]
    footing : tuple of two Fraction
        Section of a support, along and across. [mm]

    Returns
    -------
    str
        To follow what they are made to. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> thinned_words(Speaker(14, 10, 1, 5, basket_length_mm=11), Fraction(2), (Fraction(3, 2), Fraction(2)))
    ', thinned to 1.50 mm along the shell, to stand on the flange clear of the basket and of each other'
    """
    thinned = [
        f"{float(size):.2f} mm {way} the shell"
        for size, way in zip(footing, ("along", "across"), strict=True)
        if size < post_mm
    ]
    if not thinned:
        return ""
    clear = "clear of each other" if rims_mm(speaker) == (None, None) else "clear of the basket and of each other"
    return f", thinned to {' and '.join(thinned)}, to stand on the flange {clear}"
