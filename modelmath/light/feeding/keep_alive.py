"""A capacitor that keeps a decoder going over a dirty rail: how long, how large, what to mind."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.errors import OutOfRange
from modelmath.light.feeding.amounts import SAME, Amount, as_band, banded, check_amount, over_cases
from modelmath.light.feeding.charging import CAPACITANCE, FULL, Charging, charging, stored_j
from modelmath.quantities.band import Band
from modelmath.quantities.text import told
from modelmath.tables import rows

_SPENT = "the voltage it may sink to"


def runtime_s(capacitance_f: Amount, from_v: Amount, to_v: Amount, load_a: Amount) -> Band:
    """Return how long a capacitor feeds a steady current.

    Parameters
    ----------
    capacitance_f : Known, Band or float
        Its capacitance. [F]
    from_v : Known, Band or float
        Voltage it is charged to, behind diodes. [V]
    to_v : Known, Band or float
        Lowest voltage that the decoder works with. [V]
    load_a : Known, Band or float
        Current that is drawn meanwhile. [A]

    Returns
    -------
    Band
        The time; its limits over every combination. [s]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number above 0, or the lowest voltage may not be below the one it is charged to.

    Notes
    -----
    Lamps behind resistors draw less as the voltage falls, so they last longer; a motor held at its speed draws more.

    References
    ----------
    Charge: t = C (V1 - V2) / I.

    Examples
    --------
    >>> round(runtime_s(0.001, 14.0, 8.0, 0.1).best, 9)
    0.06
    """
    fall = _fall(from_v, to_v)
    capacitance, load = as_band(CAPACITANCE, capacitance_f, "F"), as_band("the current it feeds", load_a, "A")
    return over_cases(lambda c, v, i: c * v / i, capacitance, fall, load)


def runtime_at_power_s(capacitance_f: Amount, from_v: Amount, to_v: Amount, load_w: Amount) -> Band:
    """Return how long a capacitor feeds a steady power, as a motor that is held at its speed takes it.

    Parameters
    ----------
    capacitance_f : Known, Band or float
        Its capacitance. [F]
    from_v, to_v : Known, Band or float
        Voltage it is charged to, and the lowest that the decoder works with. [V]
    load_w : Known, Band or float
        Power that is drawn meanwhile. [W]

    Returns
    -------
    Band
        The time; its limits over every combination. [s]

    Raises
    ------
    WrongKind, OutOfRange
        As `runtime_s`.

    References
    ----------
    Energy: t = C (V1^2 - V2^2) / (2 P).

    Examples
    --------
    >>> round(runtime_at_power_s(0.001, 14.0, 8.0, 1.1).best, 9)
    0.06
    """
    _fall(from_v, to_v)
    full, spent = as_band(FULL, from_v, "V"), as_band(_SPENT, to_v, "V", zero=True)
    capacitance, load = as_band(CAPACITANCE, capacitance_f, "F"), as_band("the power it feeds", load_w, "W")
    return over_cases(lambda c, v, w, p: c * (v**2 - w**2) / (2 * p), capacitance, full, spent, load)


def capacitance_for(time_s: Amount, from_v: Amount, to_v: Amount, load_a: Amount) -> Band:
    """Return the capacitance that feeds a steady current for a time.

    Parameters
    ----------
    time_s : Known, Band or float
        How long. [s]
    from_v, to_v : Known, Band or float
        Voltage it is charged to, and the lowest that the decoder works with. [V]
    load_a : Known, Band or float
        Current that is drawn meanwhile. [A]

    Returns
    -------
    Band
        The capacitance; with the greatest it lasts in every case. [F]

    Raises
    ------
    WrongKind, OutOfRange
        As `runtime_s`.

    References
    ----------
    Charge: C = I t / (V1 - V2).

    Examples
    --------
    >>> round(capacitance_for(0.5, 14.0, 8.0, 0.1).best, 6)
    0.008333
    """
    fall = _fall(from_v, to_v)
    time, load = as_band("the time", time_s, "s"), as_band("the current it feeds", load_a, "A")
    return over_cases(lambda t, v, i: t * i / v, time, fall, load)


@dataclass(frozen=True)
class KeepAlive:
    """What a capacitor does for a decoder.

    Attributes
    ----------
    runtime_s : Band
        How long it feeds the load. [s]
    stored_j : Band
        What is in it when power goes off. [J]
    charging : Charging or None
        How it is charged; None without a resistor. [-]
    faults : tuple of str
        What is wrong, and what to do. [-]
    cautions : tuple of str
        What to mind at the bench. [-]

    References
    ----------
    As the functions that make them.
    """

    runtime_s: Band
    stored_j: Band
    charging: Charging | None
    faults: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def in_words(self) -> str:
        """What that means, in a sentence or two. [-]"""
        charged = "" if self.charging is None else f" {self.charging.in_words}"
        return f"It bridges about {banded(self.runtime_s, 's')}.{charged} Discharge it before you work on the model."


def keep_alive(
    capacitance_f: Amount,
    from_v: Amount,
    to_v: Amount,
    load_a: Amount,
    *,
    resistor_ohm: Amount | None = None,
    rated_v: float | None = None,
) -> KeepAlive:
    """Return what a capacitor does for a decoder, with what is wrong and what to mind.

    Parameters
    ----------
    capacitance_f : Known, Band or float
        Its capacitance. [F]
    from_v, to_v : Known, Band or float
        Voltage it is charged to, and the lowest that the decoder works with. [V]
    load_a : Known, Band or float
        Current that is drawn meanwhile. [A]
    resistor_ohm : Known, Band, float or None
        Resistor that it is charged through; None where the decoder's own circuit does that. [ohm]
    rated_v : float or None
        Its rated voltage; None where it is not entered. [V]

    Returns
    -------
    KeepAlive
        Time, energy, charging, faults and cautions.

    Raises
    ------
    WrongKind, OutOfRange
        As `runtime_s`.

    References
    ----------
    As the functions that make them; cautions from data/cautions.csv and data/keep_alive.csv.

    Examples
    --------
    >>> keep_alive(0.001, 14.0, 8.0, 0.1, rated_v=10.0).faults
    ('It is rated for 10 V and sees 14 V: take one rated above that, with room to spare.',)
    """
    bridged, stored = runtime_s(capacitance_f, from_v, to_v, load_a), stored_j(capacitance_f, from_v)
    charged = None if resistor_ohm is None else charging(capacitance_f, from_v, resistor_ohm)
    faults = () if rated_v is None else _rating_fault(rated_v, as_band(FULL, from_v, "V").high)
    return KeepAlive(bridged, stored, charged, faults, keep_alive_cautions())


def _rating_fault(rated_v: float, seen_v: float) -> tuple[str, ...]:
    check_amount("the capacitor's rated voltage", rated_v, "V")
    if rated_v > seen_v + SAME:
        return ()
    remedy = "take one rated above that, with room to spare"
    return (f"It is rated for {told(rated_v, 'v')} and sees {told(seen_v, 'v')}: {remedy}.",)


@cache
def keep_alive_cautions() -> tuple[str, ...]:
    """Return what to mind with a capacitor on a decoder.

    Returns
    -------
    tuple of str
        The cautions. [-]

    References
    ----------
    data/cautions.csv, its topic keep-alive, and data/keep_alive.csv.

    Examples
    --------
    >>> "discharge it before work" in keep_alive_cautions()[0]
    True
    """
    general = [row["caution"] for _, row in rows("cautions.csv") if row["topic"] == "keep-alive"]
    return (*general, *(row["caution"] for _, row in rows("keep_alive.csv")))


def _fall(from_v: Amount, to_v: Amount) -> Band:
    """Return by how much the voltage may fall, once it is sure that it falls."""
    full, spent = as_band(FULL, from_v, "V"), as_band(_SPENT, to_v, "V", zero=True)
    if full.low <= spent.high:
        expected = f"below {told(full.low, 'v')}, the least that it is charged to"
        remedy = "Read the decoder's lowest voltage from its sheet again."
        raise OutOfRange(_SPENT, told(spent.high, "v"), expected, remedy)
    return Band(full.best - spent.best, full.low - spent.high, full.high - spent.low)
