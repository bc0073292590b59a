"""A decoder's sound output by what its own sheet says, and the power that it gives into a load."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from fractions import Fraction
from math import sqrt

from modelmath.errors import NotYetKnown, OutOfRange, UnknownChoice
from modelmath.quantities.known import Known
from modelmath.sound.loads.amounts import Amount, as_written, check_amount, told

_NAMES = {
    "least_ohm": ("the least impedance of the decoder", "ohm"),
    "most_ohm": ("the greatest impedance of the decoder", "ohm"),
    "power_w": ("the output power of the decoder", "W"),
    "at_ohm": ("the impedance that the decoder's power is stated at", "ohm"),
    "supply_v": ("the supply voltage of the decoder's sound output", "V"),
    "drop_v": ("the voltage that the decoder's sound output loses", "V"),
    "limit_w": ("the power that limits the decoder's output", "W"),
}
VOLTAGE_FROM = (
    "from the decoder's sheet its output power with the impedance that it is stated at, "
    "or the supply voltage of its sound output"
)
# The other end of the range that an output drives, and how a message calls it.
_OTHER_END = {"least_ohm": "the most that it drives", "most_ohm": "the least that it drives"}
_LIMITS_ALONE = re.compile(r"(?:[^,]|,(?=[0-9]))*\sto\s", re.IGNORECASE)
AGREES = Fraction(5, 100)  # of the voltage: sheets round more than this; common practice, no source


def plain_value(known: Known, field: str, typed: str | None = None) -> float:
    """Return a figure of the decoder's sheet, once it is sure that it is one figure and no range.

    Parameters
    ----------
    known : Known
        The quantity as it was read. [ohm, W or V]
    field : str
        The field of `AmpOutput` that it is for. [-]
    typed : str or None
        Its text, where it is at hand: tells a tolerance from two limits. [-]

    Returns
    -------
    float
        Its value. [ohm, W or V]

    Raises
    ------
    OutOfRange
        If it has a tolerance or limits: what an output drives at least has none, and their middle means nothing.
    UnknownChoice
        If there is no such field.

    References
    ----------
    None needed.

    Examples
    --------
    >>> plain_value(Known.of(4), "least_ohm")
    4.0
    >>> plain_value(Known(10, 4, 16), "least_ohm", "4 to 16 ohm")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the least impedance of the decoder is from 4 to 16 ohm; it must be one figure. ...
    """
    if field not in _NAMES:
        raise UnknownChoice("a field of the decoder's output", field, tuple(_NAMES))
    if known.exact:
        return known.value
    name, unit = _NAMES[field]
    low, value, high = (f"{each:g} {unit}" for each in (known.low, known.value, known.high))
    if typed is not None and _LIMITS_ALONE.match(typed) is None:
        given, remedy = f"{value} with limits", f"Write {value} here, without a tolerance."
    else:
        here, other = (high, low) if field == "most_ohm" else (low, high)
        given = f"from {known.low:g} to {high}"
        remedy = f"Write {here} here, and {other} as {_OTHER_END[field]}." if field in _OTHER_END else _pick(field, low)
    raise OutOfRange(name, given, "one figure", remedy)


def _pick(field: str, low: str) -> str:
    """Return what to write in place of two limits where the output has no field for the other one."""
    if field == "at_ohm":
        return f"Write the one impedance that the power is stated at, such as {low}."
    return f"Write the one figure of the sheet, such as {low}."


@dataclass(frozen=True)
class AmpOutput:
    """A sound output as a voltage source up to the voltage at which it clips.

    Attributes
    ----------
    least_ohm : float or None
        Least impedance that it may drive; nothing is judged without it. [ohm]
    most_ohm : float or None
        Greatest impedance, where the sheet states one. [ohm]
    power_w : float or None
        Output power. [W]
    at_ohm : float or None
        Impedance that the power is stated at. [ohm]
    supply_v : float or None
        Supply (rail) voltage of a bridge output. [V]
    drop_v : float or None
        What both halves of the bridge lose together at the peak. [V]
    limit_w : float or None
        Power that the sheet states as a limit at any impedance. [W]

    References
    ----------
    A bridge swings from -(supply - drop) to +(supply - drop) across the load; a sine's rms voltage is its peak
    through the square root of 2. Ohm's law: V = sqrt(P R).

    Examples
    --------
    >>> AmpOutput(least_ohm=8, power_w=1, at_ohm=8).power_into(16)
    0.5
    """

    least_ohm: Amount | None = None
    most_ohm: Amount | None = None
    power_w: Amount | None = None
    at_ohm: Amount | None = None
    supply_v: Amount | None = None
    drop_v: Amount | None = None
    limit_w: Amount | None = None

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if value is not None:
                name, unit = _NAMES[field.name]
                check_amount(name, value, unit, zero=field.name == "drop_v")
        if self.least_ohm is not None and self.most_ohm is not None and self.most_ohm < self.least_ohm:
            expected = f"{float(self.least_ohm):g} ohm, its least impedance, or more"
            given = f"{float(self.most_ohm):g} ohm"
            raise OutOfRange("the greatest impedance of the decoder", given, expected, "Swap the two.")
        if self.drop_v is not None and self.supply_v is not None and self.drop_v >= self.supply_v:
            given, expected = f"{float(self.drop_v):g} V", f"below its supply of {float(self.supply_v):g} V"
            remedy = "Read both from the sheet again."
            raise OutOfRange("the voltage that the decoder's sound output loses", given, expected, remedy)

    @property
    def clipping_v(self) -> float:
        """Rms voltage of the largest sine that is not clipped; `NotYetKnown` where the sheet's figures lack. [V]"""
        return sqrt(self.exact_v2())

    def exact_v2(self) -> Fraction:
        """Return the square of the clipping voltage.

        Returns
        -------
        Fraction
            From the supply or from the stated power; where both are known the smaller one; exact. [V2]

        Raises
        ------
        NotYetKnown
            If neither a supply voltage nor a power with its impedance is known.

        References
        ----------
        As `AmpOutput`.
        """
        found = [each for each in (self._supply_v2(), self._stated_v2()) if each is not None]
        if found:
            return min(found)
        if self.power_w is not None:
            missing = "from the decoder's sheet the impedance that its output power is stated at"
            raise NotYetKnown("The voltage at which the decoder clips", missing)
        raise NotYetKnown("The voltage at which the decoder clips", VOLTAGE_FROM)

    def _supply_v2(self) -> Fraction | None:
        """Return the square of the voltage that the supply allows, where it is known."""
        if self.supply_v is None:
            return None
        swing = as_written(self.supply_v) - as_written(self.drop_v or 0.0)
        return swing * swing / 2

    def _stated_v2(self) -> Fraction | None:
        """Return the square of the voltage that the stated power needs, where its impedance is stated too."""
        if self.power_w is None or self.at_ohm is None:
            return None
        return as_written(self.power_w) * as_written(self.at_ohm)

    def exact_power(self, ohm: Fraction) -> Fraction:
        """Return the power of an unclipped sine into a load.

        Parameters
        ----------
        ohm : Fraction
            Impedance of the load. [ohm]

        Returns
        -------
        Fraction
            Power, not above the limit where one is stated; exact. [W]

        Raises
        ------
        NotYetKnown
            As `exact_v2`.

        References
        ----------
        Ohm's law: P = V^2 / R.
        """
        power = self.exact_v2() / ohm
        return power if self.limit_w is None else min(power, as_written(self.limit_w))

    def power_into(self, ohm: Amount) -> float:
        """Return the power of an unclipped sine into a load.

        Parameters
        ----------
        ohm : Fraction or float
            Impedance of the load. [ohm]

        Returns
        -------
        float
            Power. [W]

        Raises
        ------
        NotYetKnown
            As `exact_power`.
        OutOfRange, WrongKind
            If the impedance is no number above 0.

        References
        ----------
        As `exact_power`.

        Examples
        --------
        >>> round(AmpOutput(8, supply_v=5, drop_v=0.5).power_into(8), 3)
        1.266
        """
        check_amount("the impedance of the load", ohm, "ohm")
        return float(self.exact_power(as_written(ohm)))

    def assumptions(self) -> tuple[str, ...]:
        """Return in sentences what its voltage and power rest on.

        Returns
        -------
        tuple of str
            One sentence each. [-]

        Raises
        ------
        NotYetKnown
            As `exact_v2`.

        References
        ----------
        As `AmpOutput`.
        """
        volts = told(self.clipping_v, decimals=2)
        said = [f"The output is taken as a voltage source up to {volts} V rms of a sine, where it begins to clip."]
        if self.supply_v is not None:
            said.append(f"It is taken as a bridge on {float(self.supply_v):g} V that can swing both ways.")
            if self.drop_v is None and self._supply_v2() == self.exact_v2():
                said.append("No loss in the bridge is stated, so 0 V is counted: the true power is at most this.")
            said.extend(self._both())
        if self.limit_w is not None:
            said.append(f"The sheet limits the power to {float(self.limit_w):g} W at any impedance.")
        said.append("Clipped sound holds up to twice the power of the unclipped sine: turn down what distorts.")
        return tuple(said)

    def _both(self) -> tuple[str, ...]:
        """Return which of supply and stated power is counted, and whether they disagree."""
        supply, stated = self._supply_v2(), self._stated_v2()
        if self.power_w is None or supply is None:
            return ()
        power = f"{float(self.power_w):g} W"
        if stated is None or self.at_ohm is None:
            return (f"The sheet's {power} are left out: the impedance that they are stated at is not entered.",)
        by_power = f"its stated {power} into {float(self.at_ohm):g} ohm"
        need, have = sqrt(stated), sqrt(supply)
        volts = f"{by_power} need {told(need, have, 2)} V rms, its supply allows {told(have, need, 2)} V"
        counted = "the supply" if supply <= stated else "the stated power"
        if min(stated, supply) >= (1 - AGREES) ** 2 * max(stated, supply):
            return (f"Of the decoder, {volts}: they agree, and {counted} is counted.",)
        apart = 100 * (1 - min(need, have) / max(need, have))
        read = "the smaller one, is counted; read both from the sheet again"
        return (f"Of the decoder, {volts}: they disagree by {apart:.0f} %. {counted.capitalize()}, {read}.",)
