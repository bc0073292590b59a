"""Kinds of LED by the forward voltage that is usual for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import log
from types import MappingProxyType

from modelmath.errors import TableError, UnknownChoice
from modelmath.light.lamps.amounts import as_known
from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.tables import rows

FILE = "led_kinds.csv"
THERMAL_V = 0.02585  # kT/q at 300 K, from the defining constants of the SI: 1.380649e-23 x 300 / 1.602176634e-19
IDEALITY = (1.0, 2.0)  # of the diode law: 1 for the best estimate, 2 for the lower limit (textbook; from memory)

HEADLIGHT_A = Known(0.001, 0.0005, 0.003, "estimated", "enough for a scale headlight; common practice, no source")


@dataclass(frozen=True)
class LedKind:
    """A kind of LED.

    Attributes
    ----------
    name : str
        What it is called, by its light. [-]
    low_v, high_v : float
        The forward voltages that are usual. [V]
    from_a, to_a : float
        The currents at which they are. [A]
    source : str
        Where that comes from. [-]

    References
    ----------
    data/led_kinds.csv.
    """

    name: str
    low_v: float
    high_v: float
    from_a: float
    to_a: float
    source: str


def read_kinds() -> dict[str, LedKind]:
    """Return the kinds of LED by name.

    Returns
    -------
    dict of str to LedKind
        Every row of the table. [-]

    Raises
    ------
    TableError
        If limits are out of order, or a kind stands there twice.

    References
    ----------
    data/led_kinds.csv.

    Examples
    --------
    >>> read_kinds()["red"].low_v
    1.7
    """
    columns = ("forward_low_v", "forward_high_v", "from_a", "to_a")
    found: dict[str, LedKind] = {}
    for line, row in rows(FILE):
        low_v, high_v, from_a, to_a = (float(row[column]) for column in columns)
        if not (0 < low_v <= high_v and 0 < from_a <= to_a):
            raise TableError(FILE, line, f"limits of {row['kind']} are out of order or not above 0")
        if row["kind"] in found:
            raise TableError(FILE, line, f"{row['kind']} stands there twice")
        found[row["kind"]] = LedKind(row["kind"], low_v, high_v, from_a, to_a, row["source"])
    return found


LED_KINDS: Mapping[str, LedKind] = MappingProxyType(read_kinds())
"""Kinds of LED by name. [-]"""


def forward_of(kind: str, current_a: float | None = None) -> Known:
    """Return the forward voltage that is usual for a kind of LED; one measured by the user is better.

    At less current than the table's an LED takes less. By the diode law that is ``n kT/q ln(I table / I)``; the best
    value moves by that with n = 1, the lower limit with n = 2. The LED's own resistance would take off a little more.

    Parameters
    ----------
    kind : str
        One of `LED_KINDS`. [-]
    current_a : float or None
        The current it will run at; None for the table's. [A]

    Returns
    -------
    Known
        Estimated, with limits and source. [V]

    Raises
    ------
    UnknownChoice
        If there is no such kind.
    OutOfRange, WrongKind
        If the current is no finite number above 0.

    References
    ----------
    data/led_kinds.csv; W. Shockley, Bell System Technical Journal 28 (1949), for the diode law.

    Examples
    --------
    >>> forward_of("red")
    Known(value=1.9, low=1.7, high=2.1, origin='estimated', why='a red LED at 5 to 20 mA: common practice; a school \
physics page uses 1.7 V')
    >>> round(forward_of("red", 0.001).value, 2)
    1.86
    """
    if kind not in LED_KINDS:
        raise UnknownChoice("the kind of LED", kind, tuple(LED_KINDS))
    found = LED_KINDS[kind]
    middle, low = (found.low_v + found.high_v) / 2, found.low_v
    from_a, to_a = (told(each, "current_a") for each in (found.from_a, found.to_a))
    why = f"a {kind} LED at {from_a.removesuffix(' mA')} to {to_a}: {found.source}"
    wanted_a = found.from_a if current_a is None else as_known("the current", current_a, "current_a").value
    if wanted_a < found.from_a:
        per_n = THERMAL_V * log(found.from_a / wanted_a)
        middle, low = (max(0.5 * each, each - n * per_n) for each, n in zip((middle, low), IDEALITY, strict=True))
        why += f"; less at {told(wanted_a, 'current_a')}, by the diode law"
    return Known(round(middle, 9), round(low, 9), found.high_v, "estimated", why)
