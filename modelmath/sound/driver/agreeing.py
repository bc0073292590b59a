"""Whether a driver's parameters agree with each other; each refusal names both sides and by how much they differ."""

from __future__ import annotations

from math import pi

from modelmath.errors import OutOfRange
from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.deriving import MASS, QTS, Relation, off_by
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.estimates import estimates
from modelmath.sound.driver.tolerances import as_stated, is_unsaid

TOLERATED = 0.03  # printed values are rounded; house rule
# How far what one sheet says may be apart: its figures are of one sample, but from several sources; the mass goes with
# the square of its cone area. House rule.
ON_ONE_SHEET = {QTS.field: 0.15, MASS.field: 0.25}
REMEDY = "Check both and their units, or leave one of them out."


def outside_area_mm2(driver: Driver) -> float | None:
    """Return the area that a driver covers, flange included.

    Parameters
    ----------
    driver : Driver
        The driver. [-]

    Returns
    -------
    float or None
        The area; None where its outside size is not known. [mm2]

    References
    ----------
    Area of a circle, and of a rectangle.

    Examples
    --------
    >>> outside_area_mm2(Driver("sample", length_mm=15, width_mm=11))
    165.0
    """
    length, width = driver.length_mm, driver.width_mm
    if driver.round:
        length = width = length or width
    if length is None or width is None:
        return None
    return length * width * (pi / 4 if driver.round else 1)


def check_size(driver: Driver) -> None:
    """Refuse a cone that is larger than the driver.

    Parameters
    ----------
    driver : Driver
        The driver. [-]

    Raises
    ------
    OutOfRange
        If its cone area is above the area it covers, by more than its limits and 3 %.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_size(Driver("sample", length_mm=15, width_mm=11, sd_mm2=100))
    """
    cone, outside = driver.known("sd_mm2"), outside_area_mm2(driver)
    if cone is not None and outside is not None:
        _check_between(driver, "sd_mm2", cone, 0.0, outside, f"within its outside size ({told(outside, 'sd_mm2')})")


def check_agreement(driver: Driver, air: Air = ROOM_AIR) -> None:
    """Refuse a driver whose parameters contradict each other.

    Parameters
    ----------
    driver : Driver
        The driver. [-]
    air : Air
        The air. [-]

    Raises
    ------
    OutOfRange
        If a relation or a believable ratio is missed by more than the limits of both sides and 3 %; between figures
        of a sheet that states no limits, 15 % of Qts or 25 % of the moving mass.

    References
    ----------
    Small 1972 for the relations; data/driver_estimates.csv for the believable ratio of resistance and impedance.

    Examples
    --------
    >>> check_agreement(Driver("sample", qes=1.0, qms=4.0, qts=0.81))
    >>> check_agreement(Driver("sample", qes=1.0, qms=4.0, qts=1.0))
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the total Qts of the sample is 1; it must be 0.8, as its electrical Qes of 1 and ...
    """
    check_size(driver)
    for relation in (QTS, MASS):
        _check_relation(as_stated(driver), relation, air, _tolerated(driver, relation))
    rated, coil = driver.known("impedance_ohm"), driver.known("re_ohm")
    if rated is not None and coil is not None:
        ratio = estimates()["believable voice coil resistance over rated impedance"]
        low, high = rated.low * ratio.low, rated.high * ratio.high
        limits = f"{told(low, 're_ohm')} to {told(high, 're_ohm')}"
        expected = f"from {limits}, to go with its {LABELS['impedance_ohm']} of {told(rated.value, 'impedance_ohm')}"
        _check_between(driver, "re_ohm", coil, low, high, expected)


def _tolerated(driver: Driver, relation: Relation) -> float:
    """Return how far apart the sides of a relation may be: more where a sheet leaves limits unsaid."""
    met = (driver.known(field) for field in (relation.field, *relation.sources))
    return ON_ONE_SHEET[relation.field] if any(known is not None and is_unsaid(known) for known in met) else TOLERATED


def _check_relation(driver: Driver, relation: Relation, air: Air, tolerated: float) -> None:
    known = driver.known(relation.field)
    if known is None or not relation.sources_of(driver):
        return
    due = relation.over(driver, air)
    low, high = told(due.low, relation.field), told(due.high, relation.field)
    span = low if due.exact else f"from {low} to {high}"
    expected = f"{span}, as its {relation.named(driver)} give it ({relation.text})"
    _check_between(driver, relation.field, known, due.low, due.high, expected, tolerated)


def _check_between(
    driver: Driver, field: str, known: Known, low: float, high: float, expected: str, tolerated: float = TOLERATED
) -> None:
    """Refuse a parameter whose limits lie outside of those due, by more than is tolerated."""
    if known.low > high * (1 + tolerated):
        by, end = off_by(known.low, high), "lower"
    elif known.high < low * (1 - tolerated):
        by, end = off_by(known.high, low), "upper"
    else:
        return
    by = by if known.exact else f"{by} at its {end} limit"
    name = f"the {LABELS[field]} of the {driver.name}"
    raise OutOfRange(name, told(known.value, field), f"{expected}; it is {by}", REMEDY)
