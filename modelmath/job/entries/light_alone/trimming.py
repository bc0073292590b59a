"""How bright an LED should look, without a job: the resistor for it, and what others make of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.job.entries.light_alone.reading import ABOVE, Found, Reading
from modelmath.job.entries.light_alone.resistor import FIELDS as FIRST
from modelmath.job.entries.light_alone.resistor import read_resistor
from modelmath.light.lamps.brightness import Trim, resistor_for_look, share_for
from modelmath.light.lamps.resistor import LedResistor
from modelmath.quantities.text import parse_quantity

FIELDS = ("looks",)
USES = FIRST
DEMO = {"looks": "50 %"}
LEAST, MOST = 0.05, 2.0
EXAMPLE = "50 % or 0.5"
STEPS = tuple(tenths / 10 for tenths in range(10, 1, -1))


@dataclass(frozen=True)
class Trimming:
    """The resistors that make an LED look so bright.

    Attributes
    ----------
    looks, share : float
        How bright it is to look, and the share of the light for that. [-]
    brighter, dimmer : Trim
        The values that are made on both sides of it; the same where one is just right. [ohm]
    steps : tuple of Trim
        From as bright as at the full current down, each resistor once. [ohm]

    References
    ----------
    `resistor_for_look`.
    """

    looks: float
    share: float
    brighter: Trim
    dimmer: Trim
    steps: tuple[Trim, ...]


def read_trimming(typed: Mapping[str, str]) -> Found[Trimming]:
    """Read the form; circuit and full current are those of the first form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS` and of the first form. [-]

    Returns
    -------
    Found
        The resistors, or what is wrong or missing. [-]

    References
    ----------
    `resistor_for_look`.

    Examples
    --------
    >>> entries = {"supply": "12 V", "lamp": "3 V", "current": "2 mA", "looks": "50 %"}
    >>> found = read_trimming(entries).answer
    >>> found.brighter.ohm, found.dimmer.ohm, round(found.share, 3)
    (24000.0, 27000.0, 0.184)
    """
    reading = Reading(typed, FIELDS, FIRST)
    looks = reading.read("looks", read_share, needed="how bright it should look")
    full = read_resistor(typed).answer
    if full is None:
        reading.wrong(FIRST[0], ABOVE)

    def work() -> Trimming:
        assert looks is not None
        assert full is not None
        return Trimming(looks, share_for(looks), *resistor_for_look(full.circuit, looks), _steps(full.circuit))

    return reading.found(work, "looks")


def read_share(text: str) -> float:
    """Return how bright something is to look, beside what counts as all.

    Parameters
    ----------
    text : str
        In percent, or as a number where 1 is all. [-]

    Returns
    -------
    float
        1 for all. [-]

    Raises
    ------
    UnreadableLength
        If it is no such number.
    OutOfRange
        If it is hardly anything, or more than twice as bright.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_share("60 %"), read_share("0.6")
    (0.6, 0.6)
    """
    percent = text.endswith("%")
    try:
        share = parse_quantity(text.removesuffix("%").strip() if percent else text, "ratio").value
    except UnreadableLength as reason:
        raise UnreadableLength(text, reason.problem, EXAMPLE) from None
    share = share / 100 if percent else share
    if not LEAST <= share <= MOST:
        expected = f"from {LEAST:.0%} to {MOST:.0%}".replace("%", " %")
        raise OutOfRange("how bright it should look", shown(text), expected, f"Write {EXAMPLE} for half as bright.")
    return share


def _steps(circuit: LedResistor) -> tuple[Trim, ...]:
    """Return the resistor nearest to each tenth of how bright it may look, each once."""
    found: dict[float, Trim] = {}
    for looks in STEPS:
        nearest = min(resistor_for_look(circuit, looks), key=lambda trim: abs(trim.looks - looks))
        found.setdefault(nearest.ohm, nearest)
    return tuple(found.values())
