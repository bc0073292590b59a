"""Invented speakers to compare and to try things with; they stand for no maker's."""

from __future__ import annotations

from functools import cache

from modelmath.errors import TableError
from modelmath.sound.driver.driver import PARAMETERS, Driver
from modelmath.sound.driver.known import Known
from modelmath.tables import rows

FILE = "example_drivers.csv"
INVENTED = "invented"
MM3_PER_CM3 = 1000.0
_ROUND = {"yes": True, "no": False}


@cache
def example_drivers() -> tuple[Driver, ...]:
    """Return generic small speakers, each named by its outside size, all of them invented.

    Returns
    -------
    tuple of Driver
        Those of the table, in its order; why each parameter is known says that it is invented. [-]

    Raises
    ------
    TableError
        If a row is not marked as invented, two have one name, or a round one is not as wide as long.

    References
    ----------
    data/example_drivers.csv: invented.

    Examples
    --------
    >>> first = example_drivers()[0]
    >>> first.name, first.fs_hz.value, first.fs_hz.why
    ('8 mm round speaker', 990.0, 'invented example')
    """
    found: dict[str, Driver] = {}
    for line, row in rows(FILE):
        if not row["source"].startswith(INVENTED):
            raise TableError(FILE, line, f"its source must begin with {INVENTED!r}")
        if row["name"] in found:
            raise TableError(FILE, line, f"{row['name']!r} stands there twice")
        if row["round"] not in _ROUND or (row["round"] == "yes" and row["length_mm"] != row["width_mm"]):
            raise TableError(FILE, line, "round must be yes or no, and a round one as wide as long")
        found[row["name"]] = _driver(row)
    return tuple(found.values())


def _driver(row: dict[str, str]) -> Driver:
    numbers = {field: float(row[field]) for field in PARAMETERS if row.get(field)}
    numbers["vas_mm3"] = float(row["vas_cm3"]) * MM3_PER_CM3
    sizes = {size: float(row[size]) for size in ("length_mm", "width_mm")}
    known = {field: Known.of(value, why=row["source"]) for field, value in numbers.items()}
    return Driver(row["name"], round=_ROUND[row["round"]], **sizes).with_known(**known)
