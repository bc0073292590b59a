"""What light loses along a strand and at its faces, in decibels, and what share of it that leaves."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import inf, log10

from modelmath.errors import OutOfRange, TableError, UnknownChoice
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.light.strands.fibre import ACRYLIC, Fibre
from modelmath.quantities.band import Band
from modelmath.tables import rows

TABLE = "strand_faces.csv"
FINISHES = ("polished", "cut", "cloudy")


def db(fraction: float) -> float:
    """Return a share of the light as the loss that leaves it.

    Parameters
    ----------
    fraction : float
        Share that is left. [-]

    Returns
    -------
    float
        Loss, above 0 where light is lost; infinite where none is left. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no number from 0 to 1.

    References
    ----------
    Definition of the decibel: ``-10 log10(fraction)`` for power.

    Examples
    --------
    >>> round(db(0.5), 2)
    3.01
    """
    check_amount("the share of light", fraction, "", "Write it as a fraction, such as 0.5.", least_0=True)
    if fraction > 1:
        raise OutOfRange("the share of light", f"{fraction:g}", "from 0 to 1", "Write 50 % as 0.5.")
    return -10 * log10(fraction) + 0.0 if fraction else inf


def transmission(db: float) -> float:
    """Return the share of the light that a loss leaves.

    Parameters
    ----------
    db : float
        Loss, above 0 where light is lost; it may be infinite. [dB]

    Returns
    -------
    float
        Share that is left. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no number, or below 0.

    References
    ----------
    Definition of the decibel: ``10^(-db/10)`` for power.

    Examples
    --------
    >>> round(transmission(0.02), 6)
    0.995405
    """
    if db == inf:
        return 0.0
    check_amount("the loss", db, " dB", "Write a loss above 0, such as 0.5.", least_0=True)
    return float(10 ** (-db / 10))


def length_loss_db(length_mm: Fraction | float, fibre: Fibre = ACRYLIC) -> Band:
    """Return what a length of strand loses.

    Parameters
    ----------
    length_mm : Fraction or float
        Length that the light runs. [mm]
    fibre : Fibre
        The strand's material. [-]

    Returns
    -------
    Band
        Loss. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If the length is no number of 0 or more.

    Notes
    -----
    ``loss = length x attenuation``. A strand yellowed by age, or scratched, loses more.

    References
    ----------
    Definition of attenuation; data/fibre.csv.

    Examples
    --------
    >>> length_loss_db(100).best
    0.02
    """
    check_length("length_mm", length_mm, least_0=True, such_as="60")
    length, of = float(length_mm), fibre.db_per_m
    return Band(length * of.best / 1000, length * of.low / 1000, length * of.high / 1000)


def fresnel_db(index: float) -> float:
    """Return what one face between air and the core reflects, for light along the axis.

    Parameters
    ----------
    index : float
        Index of refraction of the core. [-]

    Returns
    -------
    float
        Loss of what passes. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no number of 1 or more.

    References
    ----------
    Fresnel, normal incidence: ``((n - 1) / (n + 1))^2`` is reflected.

    Examples
    --------
    >>> round(fresnel_db(1.49), 3)
    0.172
    """
    check_amount("the index of the core", index, "", "Write it as on its sheet, such as 1.49.")
    if index < 1:
        raise OutOfRange("the index of the core", f"{index:g}", "1 or more", "Write it as on its sheet, such as 1.49.")
    return db(1 - ((index - 1) / (index + 1)) ** 2)


def face_loss_db(fibre: Fibre = ACRYLIC, finish: str = "polished") -> Band:
    """Return what one face of a strand loses: reflection, and scatter by its finish.

    Parameters
    ----------
    fibre : Fibre
        The strand's material. [-]
    finish : {"polished", "cut", "cloudy"}
        Polished, or melted smooth as a lens end is; cut square with a fresh blade; cloudy or crazed. [-]

    Returns
    -------
    Band
        Loss. [dB]

    Raises
    ------
    UnknownChoice
        If there is no such finish.

    Notes
    -----
    The reflection is that of light along the axis; within 30 degrees of it, that changes little.

    References
    ----------
    Fresnel, normal incidence; scatter from data/strand_faces.csv: common practice, no source.

    Examples
    --------
    >>> round(face_loss_db(finish="cut").best, 2)
    0.67
    """
    if finish not in FINISHES:
        raise UnknownChoice("the finish of a face", str(finish), FINISHES)
    reflected, scatter = fresnel_db(fibre.index), face_scatter_db()[finish]
    return Band(reflected + scatter.best, reflected + scatter.low, reflected + scatter.high)


@cache
def face_scatter_db() -> dict[str, Band]:
    """Return what a face scatters beyond its reflection, by its finish.

    Returns
    -------
    dict of str to Band
        Loss. [dB]

    Raises
    ------
    TableError
        If a row's limits are in the wrong order, or the finishes are not those that we know.

    References
    ----------
    data/strand_faces.csv: common practice, no source.

    Examples
    --------
    >>> face_scatter_db()["cloudy"]
    Band(best=3.0, low=1.0, high=6.0)
    """
    found, line = dict[str, Band](), 0
    for line, row in rows(TABLE):
        low, best, high = (float(row[f"{limit}_db"]) for limit in ("low", "best", "high"))
        if not 0 <= low <= best <= high:
            raise TableError(TABLE, line, "its limits are not 0 or more, the lower one first")
        found[row["finish"]] = Band(best, low, high)
    if tuple(found) != FINISHES:
        raise TableError(TABLE, line, f"the finishes are not {', '.join(FINISHES)}, in this order")
    return found
