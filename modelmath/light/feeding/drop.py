"""The voltage that a wire loses."""

from __future__ import annotations

from typing import overload

from modelmath.lengths.numbers import Number
from modelmath.light.feeding.amounts import Amount, as_band, check_amount
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

MM_PER_M = 1000


@overload
def drop_v(current_a: Known | Band, length_mm: Number, ohm_per_m: float, there_and_back: bool = ...) -> Band: ...
@overload
def drop_v(current_a: float, length_mm: Number, ohm_per_m: float, there_and_back: bool = ...) -> float: ...
def drop_v(current_a: Amount, length_mm: Number, ohm_per_m: float, there_and_back: bool = True) -> float | Band:
    """Return the voltage that a wire loses.

    Parameters
    ----------
    current_a : Known, Band or float
        The current in it. [A]
    length_mm : Fraction or float
        From one end to the other. [mm]
    ohm_per_m : float
        Resistance of a metre of it. [ohm/m]
    there_and_back : bool
        Whether the current comes back through as long a wire of the same kind. [-]

    Returns
    -------
    float or Band
        The loss; with its band where the current has one. [V]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number, is below 0 or not finite.

    References
    ----------
    Ohm's law: V = I R. Joints and plugs are not in it.

    Examples
    --------
    >>> round(drop_v(0.1, 1000, 0.53833), 5)
    0.10767
    """
    current = as_band("the current in the wire", current_a, "A", zero=True)
    check_amount("the length of the wire", length_mm, "mm", zero=True)
    check_amount("the resistance of a metre of wire", ohm_per_m, "ohm", zero=True)
    ohm = ohm_per_m * float(length_mm) / MM_PER_M * (2 if there_and_back else 1)
    if isinstance(current_a, (Known, Band)):
        return Band(current.best * ohm, current.low * ohm, current.high * ohm)
    return current.best * ohm


def share_of_supply(drop: Amount, supply_v: Amount) -> Band:
    """Return which part of the supply a wire loses.

    Parameters
    ----------
    drop : Known, Band or float
        The loss, no more than the supply. [V]
    supply_v : Known, Band or float
        Voltage of the supply. [V]

    Returns
    -------
    Band
        The part; its limits over every combination. [-]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number, is below 0 or not finite; a supply of 0 too.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> share_of_supply(0.12, 12.0).best
    0.01
    """
    lost, supply = as_band("the loss", drop, "V", zero=True), as_band("the supply", supply_v, "V")
    return Band(lost.best / supply.best, lost.low / supply.high, lost.high / supply.low)
