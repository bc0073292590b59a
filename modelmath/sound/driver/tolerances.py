"""How far a speaker may be from its data sheet, where the sheet does not say so itself."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from modelmath.errors import TableError
from modelmath.quantities.known import Known
from modelmath.quantities.text import states_limits
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.tables import rows

FILE = "driver_tolerances.csv"
UNSAID = "its sheet states no limits"  # how the reason of such limits begins
# What the table calls each parameter.
_FIELDS = {label.partition(",")[0]: field for field, label in LABELS.items()}


@dataclass(frozen=True)
class Tolerance:
    """How far one parameter may be off.

    Attributes
    ----------
    percent : Decimal
        Either way, of the value. [%]
    source : str
        Where that comes from. [-]

    References
    ----------
    data/driver_tolerances.csv.
    """

    percent: Decimal
    source: str

    def around(self, known: Known) -> Known:
        """Return a parameter with these limits about its value.

        Parameters
        ----------
        known : Known
            The parameter. [its own unit]

        Returns
        -------
        Known
            The same value, origin and reason. [its own unit]

        References
        ----------
        Decimal arithmetic: the limits have no more digits than they need.

        Examples
        --------
        >>> Tolerance(Decimal(15), "sample").around(Known.of(990))
        Known(value=990.0, low=841.5, high=1138.5, origin='given', why='')
        """
        value = Decimal(repr(known.value))
        within = value * self.percent / 100
        return replace(known, low=float(value - within), high=float(value + within))


@cache
def tolerances() -> dict[str, Tolerance]:
    """Return the tolerances by field of `Driver`.

    Returns
    -------
    dict of str to Tolerance
        Every row of the table; what has none is taken as it stands. [%]

    Raises
    ------
    TableError
        If a parameter is none that we know or stands there twice, or a tolerance is not between 0 and 100 %.

    References
    ----------
    data/driver_tolerances.csv.

    Examples
    --------
    >>> tolerances()["fs_hz"].percent
    Decimal('15')
    """
    found: dict[str, Tolerance] = {}
    for line, row in rows(FILE):
        field, percent = _FIELDS.get(row["parameter"]), Decimal(row["within_percent"])
        if field is None:
            raise TableError(FILE, line, f"{row['parameter']!r} is no parameter")
        if field in found:
            raise TableError(FILE, line, f"{row['parameter']} stands there twice")
        if not 0 < percent < 100:
            raise TableError(FILE, line, f"{percent} % is not between 0 and 100 %")
        found[field] = Tolerance(percent, row["source"])
    return found


def as_on_sheet(known: Known, field: str) -> Known:
    """Return a parameter with the limits that a sheet leaves unsaid.

    Parameters
    ----------
    known : Known
        A parameter whose text states no limits. [its own unit]
    field : str
        Which it is. [-]

    Returns
    -------
    Known
        With limits and why, where it is given; the same where it was measured, or has no tolerance. [its own unit]

    References
    ----------
    data/driver_tolerances.csv.

    Examples
    --------
    >>> found = as_on_sheet(Known.of(400), "fs_hz")
    >>> found.low, found.high, found.why
    (340.0, 460.0, 'its sheet states no limits; taken as within 15 %; common practice, no source')
    """
    tolerance = tolerances().get(field)
    if tolerance is None or known.origin != "given" or not known.exact:
        return known
    why = f"{UNSAID}; taken as within {tolerance.percent} %; {tolerance.source}"
    return replace(tolerance.around(known), why=f"{known.why}; {why}" if known.why else why)


def as_entered(known: Known, text: str, field: str) -> Known:
    """Return a parameter as it counts: with its own limits where its text states them, be they none.

    Parameters
    ----------
    known : Known
        As it was read. [its own unit]
    text : str
        What it was read from. [-]
    field : str
        Which it is. [-]

    Returns
    -------
    Known
        With the limits that a sheet leaves unsaid, where the text states none. [its own unit]

    References
    ----------
    `states_limits`, `as_on_sheet`.

    Examples
    --------
    >>> as_entered(Known.of(400), "400 Hz", "fs_hz").low, as_entered(Known.of(400), "400 ± 0 Hz", "fs_hz").low
    (340.0, 400.0)
    """
    return known if states_limits(text) else as_on_sheet(known, field)


def is_unsaid(known: Known) -> bool:
    """Return whether a parameter's limits are those that its sheet leaves unsaid.

    Parameters
    ----------
    known : Known
        The parameter. [its own unit]

    Returns
    -------
    bool
        Whether `as_on_sheet` gave them. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> is_unsaid(as_on_sheet(Known.of(400), "fs_hz")), is_unsaid(Known.of(400))
    (True, False)
    """
    return UNSAID in known.why


def as_stated(driver: Driver) -> Driver:
    """Return a driver by its sheet alone: without the limits that the sheet leaves unsaid.

    Parameters
    ----------
    driver : Driver
        The driver. [-]

    Returns
    -------
    Driver
        Its figures as they stand there. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> as_stated(Driver("sample", fs_hz=as_on_sheet(Known.of(400), "fs_hz"))).fs_hz.exact
    True
    """
    found = {field: known for field, known in driver.parameters if is_unsaid(known)}
    return driver.with_known(
        **{field: replace(known, low=known.value, high=known.value) for field, known in found.items()}
    )
