"""The resistor before a bulb: the next values that are made, and what each does to voltage, light, life and heat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import TYPE_CHECKING

from modelmath.light.lamps.amounts import as_known, told_band, told_share, told_w
from modelmath.light.lamps.filament import LIFE, LIGHT, NEAR, NEAR_PLASTIC, power_law, settled
from modelmath.light.lamps.preferred import format_ohm, next_values
from modelmath.light.lamps.ratings import Rating, smallest
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

if TYPE_CHECKING:
    from modelmath.light.lamps.bulbs import Bulb


@dataclass(frozen=True)
class BulbChoice:
    """One resistor before a bulb, and what it does there.

    Attributes
    ----------
    ohm : float
        Its marked resistance. [ohm]
    bulb_v : Band
        The voltage across the bulb, once it is hot. [V]
    current_a : Band
        The current through both. [A]
    power_w, bulb_power_w : Band
        The heat of the resistor, and of the bulb. [W]
    light, life : Band
        Over those at the bulb's rated voltage. [-]
    inrush_a : Band
        The current at the moment of switching on. [A]
    leaded, chip : Rating or None
        The smallest resistor of each style that is enough; None where the table has none. [-]

    References
    ----------
    `BulbResistor.with_resistor`.
    """

    ohm: float
    bulb_v: Band
    current_a: Band
    power_w: Band
    bulb_power_w: Band
    light: Band
    life: Band
    inrush_a: Band
    leaded: Rating | None
    chip: Rating | None

    @property
    def rating_w(self) -> float | None:
        """Rating of the smallest leaded resistor that is enough. [W]"""
        return self.leaded.rating_w if self.leaded else None

    @property
    def in_words(self) -> str:
        """Voltage, current, light, life and heat. [-]"""
        sizes = [each.in_words for each in (self.leaded, self.chip) if each]
        enough = f"a {' or a '.join(sizes)} is enough" if sizes else "no size in the table is enough"
        near = NEAR[0] <= self.light.best ** (1 / LIGHT.best) <= NEAR[1]
        rough = "" if near else " So far from its rated voltage the shares of light and life are rough."
        return (
            f"{format_ohm(self.ohm)}: the bulb gets {told_band(self.bulb_v, 'bulb_v')} and draws "
            f"{told_band(self.current_a, 'current_a')}, {told_share(self.light.best)} of its rated light and about "
            f"{self.life.best:.2g} times its rated life. The resistor makes {told_w(self.power_w.high)} of "
            f"heat at most, {enough}. At switching on about {told(self.inrush_a.best, 'inrush_a')} flows.{rough}"
        )


@dataclass(frozen=True)
class BulbResistor:
    """The resistor before a bulb.

    Attributes
    ----------
    bulb : Bulb
        The bulb. [-]
    supply_v : Known
        What the output gives. [V]
    wanted_v : float
        The voltage wanted across the bulb. [V]
    series : str
        The preferred values that may be used. [-]
    tolerance : float
        How far a resistor may be off its marking. [-]
    derate : float
        The share of a resistor's rating that is used. [-]

    References
    ----------
    ``R = (Vs - V) / I(V)``, Ohm's law.
    """

    bulb: Bulb
    supply_v: Known
    wanted_v: float
    series: str = "E24"
    tolerance: float = 0.05
    derate: float = 0.5

    @property
    def exact_ohm(self) -> float:
        """The resistance that leaves the voltage wanted, by the best values. [ohm]"""
        return (self.supply_v.value - self.wanted_v) / self.bulb.current_a(self.wanted_v).best

    @cached_property
    def below(self) -> BulbChoice:
        """The next value below: no less voltage than wanted. [-]"""
        return self.with_resistor(next_values(self.exact_ohm, self.series)[0])

    @cached_property
    def above(self) -> BulbChoice:
        """The next value above: no more voltage than wanted, by the best values. [-]"""
        return self.with_resistor(next_values(self.exact_ohm, self.series)[1])

    @property
    def best(self) -> BulbChoice:
        """The safe one of the two: the one above. [-]"""
        return self.above

    def with_resistor(self, ohm: float) -> BulbChoice:
        """Return what a resistor of any value does here.

        Parameters
        ----------
        ohm : float
            Its marked resistance. [ohm]

        Returns
        -------
        BulbChoice
            Voltage, current, heat, light, life. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If it is no finite number above 0.

        References
        ----------
        Kirchhoff's voltage law with ``I = I0 (V / V0)^0.55``. Within a resistor's tolerance its heat may pass that at
        the ends by less than 0.1 %.

        Examples
        --------
        >>> from modelmath.light.lamps.bulbs import Bulb
        >>> choice = Bulb(12, 0.05).dropping_resistor(14).with_resistor(39)
        >>> round(choice.bulb_v.best + 39 * choice.current_a.best, 9)
        14.0
        """
        marked = as_known("the resistor", ohm, "exact_ohm").value
        volts, amps = self.bulb.known_v, self.bulb.known_a
        resistors = tuple(dict.fromkeys((marked, marked * (1 - self.tolerance), marked * (1 + self.tolerance))))
        best = (self.supply_v.value, volts.value, amps.value, marked)
        spreads = (self.supply_v.spread, volts.spread, amps.spread, resistors)
        cases = [best, *(case for case in product(*spreads) if case != best)]
        # Rows of: bulb's voltage, current, power of the resistor and of the bulb, voltage over the rated one.
        columns = [Band.over(column) for column in zip(*(settled(*case) for case in cases), strict=True)]
        bulb_v, current, power, bulb_power, ratio = columns
        sizes = [smallest(power.high, style, self.derate) for style in ("leaded", "chip")]
        inrush = self.bulb.inrush_a(self.supply_v, marked)
        light, life = power_law(ratio, LIGHT), power_law(ratio, LIFE)
        return BulbChoice(marked, bulb_v, current, power, bulb_power, light, life, inrush, sizes[0], sizes[1])

    @property
    def in_words(self) -> str:
        """Which resistor to take, what it does, and the heat near plastic. [-]"""
        return f"Take {self.best.in_words} {NEAR_PLASTIC}"
