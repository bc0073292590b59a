"""Several like LEDs on one output, without a job: the strings they make, and why none may share a resistor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.job.entries.light_alone.reading import ABOVE, Found, Reading
from modelmath.job.entries.light_alone.resistor import FIELDS as FIRST
from modelmath.job.entries.light_alone.resistor import read_resistor
from modelmath.light.lamps.led import IDEALITY, THERMAL_V
from modelmath.light.lamps.strings import ParallelShare, StringWiring, parallel_share, series_or_parallel

FIELDS = ("count", "differ")
USES = FIRST
DEMO = {"count": "4", "differ": "0.05 V"}
MOST_LEDS = 60


@dataclass(frozen=True)
class Strings:
    """Every way to wire some LEDs in strings.

    Attributes
    ----------
    wirings : tuple of StringWiring
        The one that draws least first. [-]
    side_by_side : ParallelShare
        How two of them would share one resistor. [-]

    References
    ----------
    `series_or_parallel`, `parallel_share`.
    """

    wirings: tuple[StringWiring, ...]
    side_by_side: ParallelShare


def read_strings(typed: Mapping[str, str]) -> Found[Strings]:
    """Read the form; supply, LED, current and resistors are those of the first form.

    How steeply an LED's voltage rises with its current is taken by the diode law, ``n kT/q / I`` with n = 2, the larger
    of its limits; the LED's own resistance is left out, so that they share a little better than is told.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS` and of the first form. [-]

    Returns
    -------
    Found
        The ways, or what is wrong or missing. [-]

    References
    ----------
    Kirchhoff's laws; W. Shockley, Bell System Technical Journal 28 (1949), for the diode law.

    Examples
    --------
    >>> entries = {"supply": "12 V", "lamp": "3 V", "current": "2 mA", "count": "4", "differ": "0.1 V"}
    >>> [each.resistors for each in read_strings(entries).answer.wirings]
    [2, 3, 4]
    """
    reading = Reading(typed, FIELDS, FIRST)
    if not reading.typed["count"]:
        reading.waiting.append("how many LEDs in all")
    count = reading.count("count", "the number of LEDs", MOST_LEDS)
    differ = reading.known("differ", "voltage", "by how much their voltages differ", "how far their voltages differ")
    full = read_resistor({**typed, "leds": "1"}).answer  # how many stand in each string is found here
    if full is None:
        reading.wrong(FIRST[0], ABOVE)

    def work() -> Strings:
        assert full is not None
        assert differ is not None
        circuit = full.circuit
        current = circuit.wanted_a.value
        ways = series_or_parallel(count, circuit.supply_v, circuit.forward_v, circuit.wanted_a, series=circuit.series)
        slope = max(IDEALITY) * THERMAL_V / current
        return Strings(ways, parallel_share(differ.high, slope, together_a=2 * current))

    return reading.found(work, "count")
