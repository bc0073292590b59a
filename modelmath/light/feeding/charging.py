"""A capacitor charged or discharged through a resistor: first current, time, and the energy that stays in it."""

from __future__ import annotations

from dataclasses import dataclass
from math import log

from modelmath.light.feeding.amounts import Amount, as_band, banded, check_amount, over_cases
from modelmath.light.feeding.limits import limit
from modelmath.quantities.band import Band

# What a message calls them.
CAPACITANCE, FULL = "the capacitance", "the voltage it is charged to"


def stored_j(capacitance_f: Amount, voltage_v: Amount) -> Band:
    """Return the energy that stays in a capacitor after power is off.

    Parameters
    ----------
    capacitance_f : Known, Band or float
        Its capacitance. [F]
    voltage_v : Known, Band or float
        Voltage it is charged to. [V]

    Returns
    -------
    Band
        The energy; its limits over every combination. [J]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number above 0.

    References
    ----------
    E = C V^2 / 2.

    Examples
    --------
    >>> round(stored_j(0.01, 14.0).best, 6)
    0.98
    """
    capacitance, voltage = as_band(CAPACITANCE, capacitance_f, "F"), as_band(FULL, voltage_v, "V")
    return over_cases(lambda c, v: c * v**2 / 2, capacitance, voltage)


@dataclass(frozen=True)
class Charging:
    """A capacitor charged, or discharged, through a resistor.

    Attributes
    ----------
    resistor_ohm : Band
        The resistor. [ohm]
    first_a : Band
        Current at the first moment. [A]
    first_w : Band
        Heat in the resistor at the first moment. [W]
    time_s : Band
        Until 95 percent of the way is done. [s]
    heat_j : Band
        What becomes heat in the resistor in all. [J]

    References
    ----------
    As `charging`.
    """

    resistor_ohm: Band
    first_a: Band
    first_w: Band
    time_s: Band
    heat_j: Band

    @property
    def in_words(self) -> str:
        """What that means, in a sentence. [-]"""
        amps, seconds = banded(self.first_a, "a"), banded(self.time_s, "s")
        return f"At first {amps} flow; after {seconds} it is 95 % done."


def charging(capacitance_f: Amount, voltage_v: Amount, resistor_ohm: Amount) -> Charging:
    """Return how a capacitor is charged through a resistor; to discharge it through one is the same turned round.

    Parameters
    ----------
    capacitance_f : Known, Band or float
        Its capacitance. [F]
    voltage_v : Known, Band or float
        Voltage that it is charged to, or that it has. [V]
    resistor_ohm : Known, Band or float
        The resistor; the capacitor's own resistance is left out. [ohm]

    Returns
    -------
    Charging
        First current and heat, and how long it takes.

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number above 0.

    References
    ----------
    I = V / R at first; V (1 - exp(-t / R C)) later. As much becomes heat in the resistor as the capacitor stores.

    Examples
    --------
    >>> found = charging(0.001, 14.0, 100.0)
    >>> round(found.first_a.best, 6), round(found.time_s.best, 3)
    (0.14, 0.3)
    """
    capacitance, voltage = as_band(CAPACITANCE, capacitance_f, "F"), as_band(FULL, voltage_v, "V")
    resistor = as_band("the resistor it is charged through", resistor_ohm, "ohm")
    constants = -log(1 - limit("charged").value)
    return Charging(
        resistor,
        over_cases(lambda v, r: v / r, voltage, resistor),
        over_cases(lambda v, r: v**2 / r, voltage, resistor),
        over_cases(lambda c, r: constants * c * r, capacitance, resistor),
        stored_j(capacitance, voltage),
    )


def charging_resistor_ohm(voltage_v: Amount, most_a: float) -> float:
    """Return the resistor that keeps the first charging current to what is wanted, whatever the limits.

    Parameters
    ----------
    voltage_v : Known, Band or float
        Voltage that it is charged to. [V]
    most_a : float
        Most current wanted. [A]

    Returns
    -------
    float
        The least resistor. [ohm]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number above 0.

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(charging_resistor_ohm(14.0, 0.1), 6)
    140.0
    """
    check_amount("the most charging current", most_a, "A")
    return as_band(FULL, voltage_v, "V").high / most_a
