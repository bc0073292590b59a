"""What a bend loses, how far it stretches the strand's skin, and where it has to be formed by heat.

A bend's radius is measured to the inside of the strand: to what the strand lies round.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.lengths.text import to_digits
from modelmath.light.strands.bent_rays import long_bend_share, meridional_share, mode_share
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.light.strands.fibre import ACRYLIC, Fibre
from modelmath.light.strands.losses import db
from modelmath.quantities.band import Band

FREELY_HELD = 0.02  # up to this strain a held strand is left alone; common practice, no source
HELD_STRAIN = 0.05  # beyond it a strand is formed by heat, not held bent; common practice, no source
TEXTBOOK_DIAMETERS, TEXTBOOK_LEAST_MM = 10, 10.0  # common practice, no source
LEAVES_OUT = (
    "The best figure follows rays in the plane of the bend only. Left out: rays that go round the core, light caught "
    "again by the outside of a bare strand, which loses less, and dents or flats left by forming, which lose more."
)
_MOST_TURNS_DEG = 3600.0  # ten turns; more is a slip of the pen


@dataclass(frozen=True)
class Bend:
    """One bend of a strand.

    Attributes
    ----------
    angle_deg : float
        How far the strand turns. [deg]
    radius_mm : float
        Radius of its inside: of what it lies round; 0 where it is folded sharp. [mm]
    formed : bool
        Whether it is formed by heat, so that nothing holds it bent. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the angle or the radius is no number of 0 or more.

    References
    ----------
    None needed.

    Examples
    --------
    >>> Bend(90, 5)
    Bend(angle_deg=90, radius_mm=5, formed=False)
    """

    angle_deg: float
    radius_mm: float
    formed: bool = False

    def __post_init__(self) -> None:
        write = "Write how far the strand turns, such as 90."
        check_amount("the angle of a bend", self.angle_deg, " deg", write, least_0=True)
        if self.angle_deg > _MOST_TURNS_DEG:
            raise OutOfRange("the angle of a bend", f"{self.angle_deg:g} deg", "no more than ten turns", write)
        check_length("the radius of a bend", self.radius_mm, least_0=True, such_as="5")


def bend_loss_db(bend: Bend, diameter_mm: Fraction | float, fibre: Fibre = ACRYLIC) -> Band:
    """Return what a bend loses of the light of a strand filled with it.

    Parameters
    ----------
    bend : Bend
        The bend. [-]
    diameter_mm : Fraction or float
        The strand's diameter; its skin, some hundredths of a mm, counts as core. [mm]
    fibre : Fibre
        The strand's material. [-]

    Returns
    -------
    Band
        Best: what rays in the plane of the bend lose. Low: nothing. High: what Gloge's count of modes loses. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no number above 0.

    Notes
    -----
    Best: `meridional_share`. High: `mode_share`; for a bend too short for all rays to meet its outside, in the same
    proportion. Low is 0, since a bare strand in air catches what leaves its core at the skin's outside.
    The light is taken to fill the strand anew in each bend, so that the loss of several bends is overstated.

    References
    ----------
    Ray optics of a bent slab; D. Gloge, Bending loss in multimode fibers with graded and ungraded core index, Applied
    Optics 11 (1972) 2506, from memory.

    Examples
    --------
    >>> loss = bend_loss_db(Bend(90, 5), 0.75)
    >>> round(loss.best, 1), loss.low, round(loss.high, 1)
    (5.2, 0.0, 7.3)
    """
    check_length("diameter_mm", diameter_mm)
    angle, diameters = float(bend.angle_deg), float(bend.radius_mm) / float(diameter_mm)
    kept = meridional_share(angle, diameters, fibre)
    if kept == 1:
        return Band(0.0, 0.0, 0.0)
    whole = long_bend_share(diameters, fibre)
    lost_by_modes = (1 - mode_share(diameters, fibre)) * min((1 - kept) / (1 - whole), 1.0)
    best = db(kept)
    return Band(best, 0.0, max(best, db(1 - lost_by_modes)))


def textbook_least_radius_mm(diameter_mm: Fraction | float) -> float:
    """Return the least bend radius that textbooks give for cable that is laid: shown, never enforced.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The strand's diameter. [mm]

    Returns
    -------
    float
        10 diameters, and never below 10 mm. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no number above 0.

    Notes
    -----
    It would refuse nearly every bend inside a small model, over lengths at which its loss hardly counts.

    References
    ----------
    Common practice, no source.

    Examples
    --------
    >>> textbook_least_radius_mm(0.75), textbook_least_radius_mm(2)
    (10.0, 20.0)
    """
    check_length("diameter_mm", diameter_mm)
    return max(TEXTBOOK_DIAMETERS * float(diameter_mm), TEXTBOOK_LEAST_MM)


def surface_strain(diameter_mm: Fraction | float, radius_mm: Fraction | float) -> float:
    """Return how far the outside of a strand is stretched while it is held in a bend.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The strand's diameter. [mm]
    radius_mm : Fraction or float
        Radius of the bend's inside. [mm]

    Returns
    -------
    float
        Stretch over length. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no number above 0, or the radius none of 0 or more.

    References
    ----------
    Bending of a beam, its middle unstretched: ``d / (2 R + d)``.

    Examples
    --------
    >>> round(surface_strain(0.75, 5), 3)
    0.07
    """
    check_length("diameter_mm", diameter_mm)
    check_length("radius_mm", radius_mm, least_0=True, such_as="5")
    diameter = float(diameter_mm)
    return diameter / (2 * float(radius_mm) + diameter)


def needs_forming(diameter_mm: Fraction | float, radius_mm: Fraction | float) -> bool:
    """Return whether a bend has to be formed by heat: held cold, its outside would stretch by more than 5 %.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The strand's diameter. [mm]
    radius_mm : Fraction or float
        Radius of the bend's inside. [mm]

    Returns
    -------
    bool
        Whether it is tighter than `least_held_radius_mm`. [-]

    Raises
    ------
    OutOfRange, WrongKind
        As `surface_strain`.

    Notes
    -----
    Acrylic that is held stretched crazes and creeps: the bend clouds, and the strand takes a set or breaks later.

    References
    ----------
    `HELD_STRAIN`: common practice, no source.

    Examples
    --------
    >>> needs_forming(0.75, 5), needs_forming(0.75, 8)
    (True, False)
    """
    return surface_strain(diameter_mm, radius_mm) > HELD_STRAIN


def least_held_radius_mm(diameter_mm: Fraction | float, strain: float = HELD_STRAIN) -> float:
    """Return the tightest bend, to its inside, that a strand may be held in without being formed by heat.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The strand's diameter. [mm]
    strain : float
        How far its outside may be stretched. [-]

    Returns
    -------
    float
        Radius of the inside. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter or the strain is no number above 0.

    References
    ----------
    `surface_strain`, solved for the radius.

    Examples
    --------
    >>> round(least_held_radius_mm(0.75), 2)
    7.12
    """
    check_length("diameter_mm", diameter_mm)
    check_amount("the strain", strain, "", "Write it as a fraction, such as 0.05.")
    return max(0.0, float(diameter_mm) * (1 / strain - 1) / 2)


def bend_in_words(bend: Bend, diameter_mm: Fraction | float, fibre: Fibre = ACRYLIC) -> str:
    """Return what a bend means: its loss, and how it is made.

    Parameters
    ----------
    bend : Bend
        The bend. [-]
    diameter_mm : Fraction or float
        The strand's diameter. [mm]
    fibre : Fibre
        The strand's material. [-]

    Returns
    -------
    str
        Two sentences. [-]

    Raises
    ------
    OutOfRange, WrongKind
        As `bend_loss_db`.

    References
    ----------
    None needed.

    Examples
    --------
    >>> bend_in_words(Bend(90, 5), 0.75)
    'A bend of 90° round 5 mm loses about 5.2 dB (0 to 7.3). Held cold it stretches the outside by 7 %: form it by \
heat, since acrylic held beyond 5 % crazes and creeps.'
    """
    loss, strain = bend_loss_db(bend, diameter_mm, fibre), surface_strain(diameter_mm, bend.radius_mm)
    said = f"A bend of {to_digits(bend.angle_deg, 3)}° round {to_digits(bend.radius_mm, 3)} mm loses about "
    return f"{said}{loss.best:.1f} dB (0 to {loss.high:.1f}). {_how_made(bend.formed, strain)}"


def _how_made(formed: bool, strain: float) -> str:
    if formed:
        return "It is formed by heat: nothing holds it bent."
    held = f"Held cold it stretches the outside by {to_digits(100 * strain)} %"
    if strain > HELD_STRAIN:
        return f"{held}: form it by heat, since acrylic held beyond {100 * HELD_STRAIN:g} % crazes and creeps."
    if strain > FREELY_HELD:
        return f"{held}: hold it on both sides of the bend, and keep solvent away from it."
    return f"{held}: it can be laid as it is."
