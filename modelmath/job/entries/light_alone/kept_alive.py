"""A capacitor that keeps a decoder going over a dirty rail, without a job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import one_figure
from modelmath.light.feeding.amounts import banded
from modelmath.light.feeding.keep_alive import KeepAlive, capacitance_for, keep_alive
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

FIELDS = ("capacitance", "full", "least", "load", "carry", "charged_by", "bears")
DEMO = {
    "capacitance": "1000 uF", "full": "14 V", "least": "6 V", "load": "100 mA", "carry": "0.1 s",
    "charged_by": "100 ohm", "bears": "25 V",
}  # fmt: skip


@dataclass(frozen=True)
class KeptAlive:
    """What a capacitor does, and what a gap asks of one.

    Attributes
    ----------
    kept : KeepAlive
        Time, energy, charging, faults and cautions. [-]
    capacitance_f : Known
        Its capacitance. [F]
    carry_s : Known or None
        The gap to carry over; None where it is not entered. [s]
    needed_f : Band or None
        The capacitance for that. [F]

    References
    ----------
    `keep_alive`, `capacitance_for`.
    """

    kept: KeepAlive
    capacitance_f: Known
    carry_s: Known | None
    needed_f: Band | None

    @property
    def carries(self) -> str:
        """Whether it carries over the gap, and what that takes; empty where no gap is entered. [-]"""
        if self.carry_s is None or self.needed_f is None:
            return ""
        gap = told(self.carry_s.value, "s")
        takes = f"{gap} takes {banded(self.needed_f, 'f')}"
        if self.kept.runtime_s.low >= self.carry_s.high:
            return f"It carries over {gap} in every case: {takes}."
        if self.kept.runtime_s.best >= self.carry_s.value:
            return f"It carries over {gap} by the best values, not in every case: {takes}."
        return f"It does not carry over {gap}: {takes}."


def read_kept_alive(typed: Mapping[str, str]) -> Found[KeptAlive]:
    """Read the form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`. [-]

    Returns
    -------
    Found
        What the capacitor does, or what is wrong or missing. [-]

    References
    ----------
    `keep_alive`.

    Examples
    --------
    >>> found = read_kept_alive(DEMO).answer
    >>> round(found.kept.runtime_s.best, 3), found.carries
    (0.08, 'It does not carry over 0.1 s: 0.1 s takes 1250 uF.')
    """
    reading = Reading(typed, FIELDS)
    capacitance = reading.known("capacitance", "capacitance", "the capacitance", "its capacitance")
    full = reading.known("full", "voltage", "the voltage it is charged to", "the voltage it is charged to")
    least = reading.known("least", "voltage", "the least voltage", "the voltage at which the decoder stops")
    load = reading.known("load", "current", "the current drawn meanwhile", "what is drawn meanwhile")
    carry = reading.known("carry", "time", "the gap to carry over")
    resistor = reading.known("charged_by", "resistance", "the resistor it is charged through")
    bears = reading.read("bears", lambda text: one_figure(text, "voltage", "its rated voltage"))

    def work() -> KeptAlive:
        assert capacitance is not None
        assert full is not None
        assert least is not None
        assert load is not None
        kept = keep_alive(capacitance, full, least, load, resistor_ohm=resistor, rated_v=bears)
        needed = None if carry is None else capacitance_for(carry, full, least, load)
        return KeptAlive(kept, capacitance, carry, needed)

    return reading.found(work, "least")
