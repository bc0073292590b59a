"""A strip of holes to match the lenses of a pair by, without a job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.job.entries.light_alone.lens import FIELDS as LENS_FIELDS
from modelmath.job.entries.light_alone.lens import MOST_LENS_MM, read_lens
from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import in_two_units
from modelmath.job.light.gauge_strip import SETS, GaugeStrip
from modelmath.light.lens.gauge import Gauge, gauge_holes
from modelmath.materials.drills.sets import drill_set

FIELDS = ("match",)
USES = LENS_FIELDS
DEMO = {"match": ""}
FROM_LENS = "the lenses' diameter, here or in the form for a lens"


@dataclass(frozen=True)
class StripAlone:
    """A strip of holes.

    Attributes
    ----------
    gauge : Gauge
        Its holes, and how finely they tell lenses apart. [mm]
    strip : GaugeStrip
        The same, to be drawn. [mm]

    References
    ----------
    `gauge_holes`.
    """

    gauge: Gauge
    strip: GaugeStrip


def read_gauge(typed: Mapping[str, str]) -> Found[StripAlone]:
    """Read the form; where its own field is empty, it is for the lens of the form for a lens.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS` and of the form for a lens. [-]

    Returns
    -------
    Found
        The strip, or what is wrong or missing. [-]

    References
    ----------
    `gauge_holes`.

    Examples
    --------
    >>> found = read_gauge({"match": "1.2 mm"}).answer
    >>> [hole.name for hole in found.gauge if hole.place == "at"]
    ['1.20 mm']
    """
    reading = Reading(typed, FIELDS)
    size = reading.size("match", "the lens", "1.2 mm", most_mm=MOST_LENS_MM)
    if size is None and not reading.messages:
        lens = read_lens(typed).answer
        if lens is None:
            reading.waiting.append(FROM_LENS)
        else:
            diameter = lens.melt.end.diameter_mm
            reading.echoes["match"] = f"the lens of the form before: {in_two_units(diameter)}"
            return reading.found(lambda: _strip(float(diameter)), "match")

    def work() -> StripAlone:
        assert size is not None
        return _strip(float(size))

    return reading.found(work, "match")


def _strip(lens_mm: float) -> StripAlone:
    drills = [(each.name, each.diameter_mm) for name in SETS for each in drill_set(name)]
    gauge = gauge_holes(lens_mm, drills)
    return StripAlone(gauge, GaugeStrip(lens_mm, (), tuple(gauge)))
