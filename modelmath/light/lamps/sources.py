"""What drives LEDs without a resistor: current sources, and lamps or modules that carry their own."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import Literal

from modelmath.errors import OutOfRange
from modelmath.light.lamps.amounts import Figure, as_known, check_count, told_band
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

Sure = Literal["yes", "not for certain", "no"]


@dataclass(frozen=True)
class Driven:
    """A current source with LEDs in series on a supply.

    Attributes
    ----------
    leds : int
        How many LEDs in series. [-]
    wanted_a : Known
        The current that the source holds. [A]
    least_v : Known
        What the source needs across itself. [V]
    left_v : Band
        What is left for the source; below 0 where the LEDs may take more than there is. [V]
    lamp_v : Band
        What the LEDs take. [V]
    most_v : Known or None
        The most that the source bears across itself, where its sheet says so. [V]

    References
    ----------
    Kirchhoff's voltage law.
    """

    leds: int
    wanted_a: Known
    least_v: Known
    left_v: Band
    lamp_v: Band
    most_v: Known | None = None

    @property
    def drives(self) -> Sure:
        """Whether the source holds its current: for sure, by the best values only, or not. [-]"""
        if self.left_v.low >= self.least_v.high - 1e-9:
            return "yes"
        return "not for certain" if self.left_v.best >= self.least_v.value - 1e-9 else "no"

    @property
    def short_v(self) -> float:
        """By how much the supply is too low at the least favourable limits. [V]"""
        return 0.0 if self.drives == "yes" else self.least_v.high - self.left_v.low

    @property
    def over_v(self) -> float:
        """By how much more the source may have across itself than its sheet allows. [V]"""
        return 0.0 if self.most_v is None else max(0.0, self.left_v.high - self.most_v.low)

    @property
    def burns_w(self) -> Band:
        """Heat in the source while it holds its current. [W]"""
        left, current = self.left_v, self.wanted_a
        return Band(
            max(0.0, left.best) * current.value, max(0.0, left.low) * current.low, max(0.0, left.high) * current.high
        )

    @property
    def lamp_power_w(self) -> Band:
        """What the LEDs take while the source holds its current. [W]"""
        taken, current = self.lamp_v, self.wanted_a
        return Band(taken.best * current.value, taken.low * current.low, taken.high * current.high)

    @property
    def in_words(self) -> str:
        """Whether it works, what it burns, what to do. [-]"""
        leds = "1 LED" if self.leds == 1 else f"{self.leds} LEDs in series"
        if self.drives == "yes":
            start = f"The source holds its current through {leds} and burns {told_band(self.burns_w, 'power_w')}."
        else:
            may = "may not hold" if self.drives == "not for certain" else "can't hold"
            start = (
                f"The source {may} its current through {leds}: at the limits {told(self.short_v, 'short_v')} is "
                "missing, and the light is less. Put fewer in series, or use a higher supply."
            )
        if self.over_v:
            start += (
                f" Across it there may be {told(self.over_v, 'over_v')} more than it bears: "
                "put more LEDs in series, or use a lower supply."
            )
        return start


@dataclass(frozen=True)
class CurrentSource:
    """A part that holds a current, whatever LEDs stand in series with it. Two LEDs side by side on it share badly too.

    Attributes
    ----------
    current_a : float or Known
        The current it holds. [A]
    least_v : float or Known
        What it needs across itself. [V]
    most_v : float, Known or None
        The most that it bears across itself, where its sheet says so. [V]

    References
    ----------
    The part's own sheet gives the figures; none are built in.

    Examples
    --------
    >>> source = CurrentSource(0.002, 1.4)
    >>> source.drives(3, 12, 3.0).in_words
    'The source holds its current through 3 LEDs in series and burns 6 mW.'
    """

    current_a: Figure
    least_v: Figure
    most_v: Figure | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "current_a", as_known("the source's current", self.current_a, "current_a"))
        object.__setattr__(self, "least_v", as_known("what the source needs", self.least_v, "least_v", zero=True))
        if self.most_v is not None:
            object.__setattr__(self, "most_v", as_known("what the source bears", self.most_v, "most_v"))

    def drives(self, n: int, supply_v: Figure, forward_v: Figure) -> Driven:
        """Return whether it drives LEDs in series, and what it burns.

        Parameters
        ----------
        n : int
            How many LEDs. [-]
        supply_v, forward_v : float or Known
            What the output gives, and what one LED takes. [V]

        Returns
        -------
        Driven
            What is left for the source, its heat, and whether that is enough. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If a figure is no finite number above 0.

        References
        ----------
        Kirchhoff's voltage law.

        Examples
        --------
        >>> CurrentSource(0.002, 1.4).drives(4, 12, 3.0).drives
        'no'
        """
        count = check_count("the number of LEDs", n)
        supply = as_known("the supply", supply_v, "supply_v")
        forward = as_known("the forward voltage", forward_v, "forward_v")
        lamps = Band(count * forward.value, count * forward.low, count * forward.high)
        left = Band(supply.value - lamps.best, supply.low - lamps.high, supply.high - lamps.low)
        current = as_known("the source's current", self.current_a, "current_a")
        least = as_known("the source", self.least_v, "least_v", zero=True)
        bears = None if self.most_v is None else as_known("the source", self.most_v, "most_v")
        return Driven(count, current, least, left, lamps, bears)

    def most_in_series(self, supply_v: Figure, forward_v: Figure) -> int:
        """Return how many LEDs in series it drives at the least favourable limits.

        Parameters
        ----------
        supply_v, forward_v : float or Known
            What the output gives, and what one LED takes. [V]

        Returns
        -------
        int
            The most; 0 where not even one. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If a figure is no finite number above 0.

        References
        ----------
        Kirchhoff's voltage law.

        Examples
        --------
        >>> CurrentSource(0.002, 1.4).most_in_series(12, 3.0)
        3
        """
        supply = as_known("the supply", supply_v, "supply_v").low
        forward = as_known("the forward voltage", forward_v, "forward_v").high
        least = as_known("the source", self.least_v, "least_v", zero=True).high
        exact = (Fraction(repr(supply)) - Fraction(repr(least))) / Fraction(repr(forward))
        return max(0, floor(exact))


@dataclass(frozen=True)
class DirectLoad:
    """A lamp or module straight on an output.

    Attributes
    ----------
    supply_v : Known
        What the output gives. [V]
    current_a : Band
        What it draws. [A]
    faults : tuple of str
        What is wrong, with by how much and what to do; none where nothing is. [-]

    References
    ----------
    `Direct.on`.
    """

    supply_v: Known
    current_a: Band
    faults: tuple[str, ...]

    @property
    def power_w(self) -> Band:
        """What it takes from the output; most of it becomes heat. [W]"""
        supply, current = self.supply_v, self.current_a
        return Band(supply.value * current.best, supply.low * current.low, supply.high * current.high)

    @property
    def in_words(self) -> str:
        """What it draws, or what is wrong. [-]"""
        if self.faults:
            return " ".join(self.faults)
        return f"Straight on the output it draws {told_band(self.current_a, 'current_a')} and needs no resistor."


@dataclass(frozen=True)
class Direct:
    """A lamp or module that needs no resistor: it has its own, or is made for the supply.

    Attributes
    ----------
    current_a : float or Known
        What it draws. [A]
    least_v, most_v : float or None
        The supply it works on, where its sheet says so. [V]

    References
    ----------
    The part's own sheet gives the figures; none are built in.

    Examples
    --------
    >>> Direct(0.005, 6, 16).on(18).in_words
    'The supply may be 18 V, 2 V more than it bears: use a lower supply or a resistor for the difference.'
    """

    current_a: Figure
    least_v: float | None = None
    most_v: float | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "current_a", as_known("what it draws", self.current_a, "current_a"))
        limits = [("least_v", "its least supply"), ("most_v", "its greatest supply")]
        for field, name in limits:
            value = getattr(self, field)
            if value is not None:
                object.__setattr__(self, field, as_known(name, value, field).value)
        if self.least_v is not None and self.most_v is not None and self.least_v > self.most_v:
            given = told(self.least_v, "least_v")
            expected = f"no more than its greatest supply, {told(self.most_v, 'most_v')}"
            raise OutOfRange("its least supply", given, expected, "Swap them.")

    def on(self, supply_v: Figure) -> DirectLoad:
        """Return what it does on a supply.

        Parameters
        ----------
        supply_v : float or Known
            What the output gives. [V]

        Returns
        -------
        DirectLoad
            What it draws, and what is wrong. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If the supply is no finite number above 0.

        References
        ----------
        The part's own sheet.

        Examples
        --------
        >>> Direct(0.005).on(12).power_w.best
        0.06
        """
        supply = as_known("the supply", supply_v, "supply_v")
        current = as_known("what it draws", self.current_a, "current_a")
        faults = []
        if self.most_v is not None and supply.high > self.most_v:
            faults.append(
                f"The supply may be {told(supply.high, 'supply_v')}, {told(supply.high - self.most_v, 'over_v')} more "
                "than it bears: use a lower supply or a resistor for the difference."
            )
        if self.least_v is not None and supply.low < self.least_v:
            faults.append(
                f"The supply may be {told(supply.low, 'supply_v')}, {told(self.least_v - supply.low, 'short_v')} less "
                "than it needs: use a higher supply."
            )
        return DirectLoad(supply, Band(current.value, current.low, current.high), tuple(faults))
