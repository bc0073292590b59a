"""What hangs on a decoder's output: its current, and where its power goes."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.errors import UnreadableLength
from modelmath.light.feeding.amounts import Amount, as_band
from modelmath.quantities.band import Band

NOTHING = Band(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Load:
    """A lamp, or several that one current flows through, on one output.

    Attributes
    ----------
    name : str
        What it is called. [-]
    output : str or None
        The output it hangs on; None while it has none. [-]
    current_a : Band
        What it draws from the output. [A]
    resistor_w : Band
        What becomes heat in its resistors. [W]
    lamp_w : Band
        What becomes light and heat in its lamps. [W]

    Raises
    ------
    UnreadableLength
        If its name, or that of its output, is empty.
    WrongKind, OutOfRange
        If a figure is no plain number, is below 0, or its limits are not in order.

    References
    ----------
    None needed.

    Examples
    --------
    >>> lamp = Load.of("cab light", "green", 0.002, resistor_w=0.018, lamp_w=0.006)
    >>> round(lamp.power_w.best, 6)
    0.024
    """

    name: str
    output: str | None
    current_a: Band
    resistor_w: Band = NOTHING
    lamp_w: Band = NOTHING

    def __post_init__(self) -> None:
        check_name("a lamp", self.name)
        if self.output is not None:
            check_name(f"the output of '{self.name}'", self.output)
        # A plain number given in place of a band is kept as one, so that whatever adds loads finds bands.
        for field, what, unit in (
            ("current_a", "current", "A"),
            ("resistor_w", "heat in the resistor", "W"),
            ("lamp_w", "power in the lamp", "W"),
        ):
            band = as_band(f"the {what} of '{self.name}'", getattr(self, field), unit, zero=True)
            object.__setattr__(self, field, band)

    @classmethod
    def of(
        cls, name: str, output: str | None, current_a: Amount, *, resistor_w: Amount = 0.0, lamp_w: Amount = 0.0
    ) -> Load:
        """Return a load from figures with limits or without.

        Parameters
        ----------
        name : str
            What it is called. [-]
        output : str or None
            The output it hangs on; None while it has none. [-]
        current_a : Known, Band or float
            What it draws. [A]
        resistor_w, lamp_w : Known, Band or float
            What becomes heat in its resistors, and what its lamps take. [W]

        Returns
        -------
        Load
            The same, each figure with its band. [-]

        Raises
        ------
        UnreadableLength, WrongKind, OutOfRange
            As the class.

        References
        ----------
        None needed.
        """
        current = as_band(f"the current of '{name}'", current_a, "A", zero=True)
        resistor = as_band(f"the heat in the resistor of '{name}'", resistor_w, "W", zero=True)
        lamp = as_band(f"the power in the lamp of '{name}'", lamp_w, "W", zero=True)
        return cls(name, output, current, resistor, lamp)

    @property
    def power_w(self) -> Band:
        """What it takes in all, in its resistors and its lamps. [W]"""
        one, other = self.resistor_w, self.lamp_w
        return Band(one.best + other.best, one.low + other.low, one.high + other.high)


def check_name(what: str, name: object) -> None:
    """Refuse a name that is empty or no text.

    Parameters
    ----------
    what : str
        What is called so. [-]
    name : object
        The name. [-]

    Raises
    ------
    UnreadableLength
        If nothing is written there.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_name("a lamp", " ")
    Traceback (most recent call last):
    modelmath.errors.UnreadableLength: '': a lamp has no name; write one, such as 'front white'.
    """
    if not isinstance(name, str) or not name.strip():
        raise UnreadableLength(str(name), f"{what} has no name", "one, such as 'front white'")
