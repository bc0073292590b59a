"""A decoder's sound output by what its own sheet says, and the power that it gives into a load."""

from __future__ import annotations

from dataclasses import dataclass, fields
from fractions import Fraction
from math import sqrt

from modelmath.errors import NotYetKnown, OutOfRange
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
            From the supply where that is known, else from the power; exact. [V2]

        Raises
        ------
        NotYetKnown
            If neither a supply voltage nor a power with its impedance is known.

        References
        ----------
        As `AmpOutput`.
        """
        if self.supply_v is not None:
            swing = as_written(self.supply_v) - as_written(self.drop_v or 0.0)
            return swing * swing / 2
        if (stated := self._stated_v2()) is not None:
            return stated
        if self.power_w is not None:
            missing = "from the decoder's sheet the impedance that its output power is stated at"
            raise NotYetKnown("The voltage at which the decoder clips", missing)
        raise NotYetKnown("The voltage at which the decoder clips", VOLTAGE_FROM)

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
            if self.drop_v is None:
                said.append("No loss in the bridge is stated, so 0 V is counted: the true power is at most this.")
            said.extend(self._disagreement())
        if self.limit_w is not None:
            said.append(f"The sheet limits the power to {float(self.limit_w):g} W at any impedance.")
        said.append("Clipped sound holds up to twice the power of the unclipped sine: turn down what distorts.")
        return tuple(said)

    def _disagreement(self) -> tuple[str, ...]:
        """Return what to say where the stated power is no use beside the supply, or is more than 5 % off in voltage."""
        if self.power_w is None:
            return ()
        power, counted = f"{float(self.power_w):g} W", self.exact_v2()
        stated = self._stated_v2()
        if stated is None or self.at_ohm is None:
            return (f"The sheet's {power} are left out: the impedance that they are stated at is not entered.",)
        if Fraction(95, 100) ** 2 <= stated / counted <= Fraction(105, 100) ** 2:
            return ()
        need, have = told(sqrt(stated), sqrt(counted), 2), told(sqrt(counted), sqrt(stated), 2)
        into = f"{power} into {float(self.at_ohm):g} ohm"
        return (f"The sheet's {into} is {need} V rms, its supply allows {have} V: the supply is counted.",)
