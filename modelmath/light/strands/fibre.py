"""A strand's material: what it takes in, what it loses on the way; the diameters that are sold."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import asin, degrees, sqrt

from modelmath.errors import OutOfRange, TableError
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.quantities.band import Band
from modelmath.tables import rows

TABLE, SIZES_TABLE = "fibre.csv", "strand_sizes.csv"
APERTURE, INDEX, ATTENUATION = "numerical aperture", "index of the core", "attenuation"
MEETS_MM = Fraction(2, 100)  # sizes this near are taken for each other; common practice, no source
_INDEX_ADVICE = "Write the core's index first, such as 1.492 and 1.402."


@dataclass(frozen=True)
class Fibre:
    """The material of a strand: a clear core in a thin skin of lower index.

    Attributes
    ----------
    name : str
        In words. [-]
    numerical_aperture : Band
        Sine of half the widest angle that it takes in from air. [-]
    index : float
        Index of refraction of the core. [-]
    db_per_m : Band
        What it loses on the way. [dB/m]
    source : str
        Where these come from. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a figure is no number above 0, the aperture is not below 1, or the index is not above 1.

    References
    ----------
    data/fibre.csv, each row with its source.

    Examples
    --------
    >>> ACRYLIC.numerical_aperture.best, ACRYLIC.db_per_m.best
    (0.5, 0.2)
    """

    name: str
    numerical_aperture: Band
    index: float
    db_per_m: Band
    source: str

    def __post_init__(self) -> None:
        for value in (self.numerical_aperture.low, self.numerical_aperture.best, self.numerical_aperture.high):
            _check_aperture(value)
        check_amount("the index of the core", self.index, "", "Write it as on its sheet, such as 1.49.")
        if self.index <= 1:
            write = "Write it as on its sheet, such as 1.49."
            raise OutOfRange("the index of the core", f"{self.index:g}", "above 1, that of air", write)
        for value in (self.db_per_m.low, self.db_per_m.best, self.db_per_m.high):
            check_amount("the attenuation", value, " dB/m", "200 dB/km is 0.2 dB/m.", least_0=True)

    @property
    def cladding_index(self) -> float:
        """Index of the skin, from the best aperture. [-]"""
        return sqrt(self.index**2 - self.numerical_aperture.best**2)


@dataclass(frozen=True)
class StrandSize:
    """A diameter that strands are sold in.

    Attributes
    ----------
    name : str
        As it is sold. [-]
    diameter_mm : Fraction
        Exact. [mm]
    source : str
        Where that was read. [-]
    """

    name: str
    diameter_mm: Fraction
    source: str


def numerical_aperture(core_index: float, cladding_index: float) -> float:
    """Return the numerical aperture of a core in its skin.

    Parameters
    ----------
    core_index, cladding_index : float
        Index of refraction of the core and of the skin. [-]

    Returns
    -------
    float
        Sine of half the widest angle it takes in from air. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If an index is no number of 1 or more, or the core's is not the higher one.

    Notes
    -----
    ``NA = sqrt(core^2 - cladding^2)``; no more than 1, since no light comes in from beyond the face.

    References
    ----------
    Fibre-optics textbooks; IEC 60793-2-40 calls it the theoretical numerical aperture.

    Examples
    --------
    >>> round(numerical_aperture(1.492, 1.402), 6)
    0.510353
    """
    for name, value in (("core_index", core_index), ("cladding_index", cladding_index)):
        check_amount(name, value, "", _INDEX_ADVICE)
        if value < 1:
            raise OutOfRange(name, f"{value:g}", "1, that of air, or more", _INDEX_ADVICE)
    if core_index <= cladding_index:
        given, expected = f"{core_index:g} with a skin of {cladding_index:g}", "above that of the skin"
        raise OutOfRange("core_index", given, expected, _INDEX_ADVICE)
    return min(sqrt(core_index**2 - cladding_index**2), 1.0)


def half_acceptance_deg(na: float) -> float:
    """Return half the angle of the cone of light that a face takes in from air.

    Parameters
    ----------
    na : float
        Numerical aperture. [-]

    Returns
    -------
    float
        Angle from the strand's axis. [deg]

    Raises
    ------
    OutOfRange, WrongKind
        If the aperture is no number above 0 and up to 1.

    References
    ----------
    Definition: NA is the sine of that angle, in air.

    Examples
    --------
    >>> round(half_acceptance_deg(0.5), 4)
    30.0
    """
    _check_aperture(na)
    return degrees(asin(na))


def meeting(diameter_mm: Fraction | float) -> tuple[str, ...]:
    """Return the sizes sold that a strand of this diameter is taken for: those within 0.02 mm.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The strand's diameter. [mm]

    Returns
    -------
    tuple of str
        Their names, nearest first; none where no size sold is that near. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no number above 0.

    References
    ----------
    data/strand_sizes.csv: common practice, no source.

    Examples
    --------
    >>> meeting(0.75), meeting(1.25)
    (('0.75 mm', '0.030 in'), ())
    """
    check_length("diameter_mm", diameter_mm)
    asked = Fraction(diameter_mm)
    apart = {size.name: abs(size.diameter_mm - asked) for size in SIZES}
    return tuple(sorted((name for name, off in apart.items() if off <= MEETS_MM), key=apart.__getitem__))


def read_fibres() -> dict[str, Fibre]:
    """Return every material in the table, by name.

    Returns
    -------
    dict of str to Fibre
        In the table's order. [-]

    Raises
    ------
    TableError
        If a row's limits are in the wrong order, or one of a material's three figures is missing.

    References
    ----------
    data/fibre.csv, each row with its source.

    Examples
    --------
    >>> list(read_fibres())
    ['acrylic']
    """
    found: dict[str, dict[str, Band]] = {}
    sources: dict[str, list[str]] = {}
    line = 0
    for line, row in rows(TABLE):
        low, best, high = (float(row[limit]) for limit in ("low", "best", "high"))
        if not 0 < low <= best <= high:
            raise TableError(TABLE, line, "its limits are not above 0, the lower one first")
        found.setdefault(row["name"], {})[row["quantity"]] = Band(best, low, high)
        sources.setdefault(row["name"], []).append(f"{row['quantity']}: {row['source']}")
    for name, figures in found.items():
        if set(figures) != {APERTURE, INDEX, ATTENUATION}:
            raise TableError(TABLE, line, f"{name} needs {APERTURE}, {INDEX} and {ATTENUATION}, no more and no less")
    return {
        name: Fibre(name, of[APERTURE], of[INDEX].best, of[ATTENUATION], "; ".join(sources[name]))
        for name, of in found.items()
    }


def read_sizes() -> tuple[StrandSize, ...]:
    """Return the diameters that strands are sold in, thinnest first.

    Returns
    -------
    tuple of StrandSize
        Each with its source. [mm]

    Raises
    ------
    TableError
        If a name and its diameter disagree.

    References
    ----------
    data/strand_sizes.csv: common practice, no source.

    Examples
    --------
    >>> read_sizes()[0].name
    '0.25 mm'
    """
    found = []
    for line, row in rows(SIZES_TABLE):
        number, unit = row["name"].split()
        exact = Fraction(number) * (Fraction(254, 10) if unit == "in" else 1)
        if exact != Fraction(row["diameter_mm"]):
            raise TableError(SIZES_TABLE, line, f"{row['name']} is not {row['diameter_mm']} mm")
        found.append(StrandSize(row["name"], exact, row["source"]))
    return tuple(sorted(found, key=lambda size: size.diameter_mm))


def _check_aperture(value: float) -> None:
    write = "Write it as on its sheet, such as 0.50."
    check_amount("the numerical aperture", value, "", write)
    if value > 1:
        raise OutOfRange("the numerical aperture", f"{value:g}", "no more than 1", write)


ACRYLIC = read_fibres()["acrylic"]
SIZES = read_sizes()
