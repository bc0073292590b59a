"""A bulb on the supply, without a job: straight on it, or behind a resistor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.resistor import NEEDS_SUPPLY, previous
from modelmath.job.entries.light_alone.texts import one_figure
from modelmath.light.lamps.bulbs import Bulb
from modelmath.light.lamps.dropping import BulbChoice, BulbResistor
from modelmath.light.lamps.filament import NEAR
from modelmath.light.lamps.preferred import SERIES, following
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

FIELDS = ("rated_v", "rated_a", "wanted_v")
USES = ("supply", "series")
DEMO = {"rated_v": "1.5 V", "rated_a": "30 mA", "wanted_v": ""}
MOST_TIMES = 1.2  # its rated voltage: past that a bulb lasts a tenth as long, and the figures are rough


@dataclass(frozen=True)
class OnSupply:
    """A bulb on a supply.

    Attributes
    ----------
    bulb : Bulb
        The bulb by its rating. [-]
    supply_v : Known
        What the output gives. [V]
    resistor : BulbResistor or None
        The resistor before it; None where the supply is no more than what the bulb is to get. [-]
    choices : tuple of BulbChoice
        The safe value and those beside it, the smallest first; none without a resistor. [ohm]

    References
    ----------
    `Bulb`.
    """

    bulb: Bulb
    supply_v: Known
    resistor: BulbResistor | None
    choices: tuple[BulbChoice, ...]

    @property
    def rough(self) -> bool:
        """Whether the bulb gets so little, or so much, that its light and life are rough. [-]"""
        gets = self.supply_v.value if self.resistor is None else self.resistor.best.bulb_v.best
        return not NEAR[0] <= gets / self.bulb.known_v.value <= NEAR[1]


def read_bulb(typed: Mapping[str, str]) -> Found[OnSupply]:
    """Read the form; supply and resistors at hand are those of the first form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS` and of the first form. [-]

    Returns
    -------
    Found
        What it does, or what is wrong or missing. [-]

    References
    ----------
    `Bulb.dropping_resistor`.

    Examples
    --------
    >>> found = read_bulb({"supply": "12 V", "rated_v": "1.5 V", "rated_a": "30 mA"}).answer
    >>> [each.ohm for each in found.choices]
    [330.0, 360.0, 390.0]
    >>> read_bulb({"supply": "12 V", "rated_v": "14 V", "rated_a": "30 mA"}).answer.resistor is None
    True
    """
    reading = Reading(typed, FIELDS, USES)
    supply = reading.known("supply", "voltage", "the supply", NEEDS_SUPPLY)
    rated = reading.known("rated_v", "voltage", "the rated voltage", "the bulb's rated voltage")
    draws = reading.known("rated_a", "current", "the rated current", "what it draws at that voltage")
    wanted = reading.read("wanted_v", lambda text: one_figure(text, "voltage", "the voltage wanted"))
    series = reading.choice("series", "the resistors at hand", tuple(SERIES), "E24")

    def work() -> OnSupply:
        assert supply is not None
        assert rated is not None
        assert draws is not None
        bulb = Bulb(rated, draws)
        return _on_supply(bulb, supply, rated.value if wanted is None else _checked(wanted, rated), series)

    return reading.found(work, "wanted_v" if wanted is not None else "rated_v")


def _checked(wanted_v: float, rated: Known) -> float:
    if wanted_v > MOST_TIMES * rated.value:
        most = f"{MOST_TIMES:g} times its rated {told(rated.value, 'v')}"
        raise OutOfRange("the voltage wanted", told(wanted_v, "v"), f"no more than {most}", "A bulb soon fails above.")
    return wanted_v


def _on_supply(bulb: Bulb, supply: Known, wanted_v: float, series: str) -> OnSupply:
    if supply.value <= wanted_v:
        return OnSupply(bulb, supply, None, ())
    found = bulb.dropping_resistor(supply, wanted_v, series=series)
    best = found.best
    beside = (found.with_resistor(step(best.ohm, series)) for step in (previous, following))
    lower, higher = beside
    return OnSupply(bulb, supply, found, (lower, best, higher))
