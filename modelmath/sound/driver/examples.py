"""Invented speakers to compare and to try things with; they stand for no maker's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.errors import TableError
from modelmath.quantities.known import Known
from modelmath.sound.driver.driver import PARAMETERS, Driver
from modelmath.tables import rows

FILE = "example_drivers.csv"
INVENTED = "invented"
MM3_PER_CM3 = 1000.0
_ROUND = {"yes": True, "no": False}


@dataclass(frozen=True)
class Example:
    """An invented speaker.

    Attributes
    ----------
    driver : Driver
        Its name, outside size and parameters. [-]
    flange_mm, depth_mm : float
        How thick its flange is, and how deep it is, magnet included. [mm]

    References
    ----------
    data/example_drivers.csv: invented.
    """

    driver: Driver
    flange_mm: float
    depth_mm: float


def example_drivers() -> tuple[Driver, ...]:
    """Return the drivers of the invented speakers.

    Returns
    -------
    tuple of Driver
        Those of `examples`, in their order. [-]

    References
    ----------
    data/example_drivers.csv: invented.

    Examples
    --------
    >>> example_drivers()[0].name
    '8 mm round speaker'
    """
    return tuple(each.driver for each in examples())


@cache
def examples() -> tuple[Example, ...]:
    """Return generic small speakers, each named by its outside size, all of them invented.

    Returns
    -------
    tuple of Example
        Those of the table, in its order; why each parameter is known says that it is invented. [-]

    Raises
    ------
    TableError
        If a row is not marked as invented, two have one name, a round one is not as wide as long, or a flange
        is as thick as its speaker is deep.

    References
    ----------
    data/example_drivers.csv: invented.

    Examples
    --------
    >>> first = examples()[0]
    >>> first.driver.name, first.driver.fs_hz.value, first.driver.fs_hz.why
    ('8 mm round speaker', 860.0, 'invented example')
    >>> first.flange_mm, first.depth_mm
    (0.8, 4.0)
    """
    found: dict[str, Example] = {}
    for line, row in rows(FILE):
        if not row["source"].startswith(INVENTED):
            raise TableError(FILE, line, f"its source must begin with {INVENTED!r}")
        if row["name"] in found:
            raise TableError(FILE, line, f"{row['name']!r} stands there twice")
        if row["round"] not in _ROUND or (row["round"] == "yes" and row["length_mm"] != row["width_mm"]):
            raise TableError(FILE, line, "round must be yes or no, and a round one as wide as long")
        flange, depth = float(row["flange_mm"]), float(row["depth_mm"])
        if not 0 < flange < depth:
            raise TableError(FILE, line, f"a flange of {flange:g} mm on a speaker {depth:g} mm deep is none")
        found[row["name"]] = Example(_driver(row), flange, depth)
    return tuple(found.values())


def _driver(row: dict[str, str]) -> Driver:
    numbers = {field: float(row[field]) for field in PARAMETERS if row.get(field)}
    numbers["vas_mm3"] = float(row["vas_cm3"]) * MM3_PER_CM3
    sizes = {size: float(row[size]) for size in ("length_mm", "width_mm")}
    known = {field: Known.of(value, why=row["source"]) for field, value in numbers.items()}
    return Driver(row["name"], round=_ROUND[row["round"]], **sizes).with_known(**known)
