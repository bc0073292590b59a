"""The gauge of a lead, without a job: by its current, its run, and what may be lost."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import one_figure
from modelmath.materials.drills.gauge_for import GaugePick, gauges_for

FIELDS = ("lead_current", "lead_run", "most_drop", "made_of")
DEMO = {"lead_current": "100 mA", "lead_run": "300 mm", "most_drop": "0.1 V", "made_of": "stranded"}
LOST = "what may be lost"
MADE_OF = ("stranded", "solid")
MOST_RUN_MM = 50_000.0


def read_lead(typed: Mapping[str, str]) -> Found[GaugePick]:
    """Read the form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`. [-]

    Returns
    -------
    Found
        The thinnest gauge that does, or what is wrong or missing. [-]

    References
    ----------
    `gauges_for`.

    Examples
    --------
    >>> entries = {"lead_current": "100 mA", "lead_run": "1 m", "most_drop": "0.12 V", "made_of": "solid"}
    >>> read_lead(entries).answer.best.wire.name
    'AWG 32'
    """
    reading = Reading(typed, FIELDS)
    current = reading.known("lead_current", "current", "the current", "what it carries")
    run = reading.size("lead_run", "the run", "300 mm", needed="how far it runs", most_mm=MOST_RUN_MM)
    drop = reading.read("most_drop", _drop, needed="what may be lost there and back")
    made_of = reading.choice("made_of", "what it is made of", MADE_OF, MADE_OF[0])

    def work() -> GaugePick:
        assert current is not None
        assert run is not None
        assert drop is not None
        return gauges_for(current, run, most_drop_v=drop, stranded=made_of == "stranded")

    return reading.found(work, "most_drop")


def _drop(text: str) -> float:
    return one_figure(text, "voltage", LOST)
