"""Figures of the sound in sentences: where the theory ends, what to mind, what the decoder's output gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.sound.plain import beyond_theory, beyond_travel
from modelmath.job.why.figures import Figure
from modelmath.job.why.sounding._parameters import CUTOFF, POWER, SMALL, TRAVEL, _name
from modelmath.lengths.text import to_digits
from modelmath.sound.closed_box.valid import first_standing_wave_hz, limits_in_words
from modelmath.sound.driver.unusual import unusual
from modelmath.sound.loads.in_words import load_in_words, load_rows
from modelmath.sound.loads.polarity import polarity_in_words

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

KIRCHHOFF = "Ohm's and Kirchhoff's laws; IEC 60268-5, from memory"


def sound(plan: Plan) -> Iterator[Figure]:
    """Yield the volume that counts, where the theory ends, and what is unusual or goes too far."""
    found = plan.sound
    if found is None:
        return
    box, power_w = found.box, plan.driven.power_w
    net = plan.net_volume is not None and plan.net_volume.shares
    below: tuple[str, ...] = ("net volume" if net else "chamber volume",)
    value = f"{box.volume_mm3.best / 1000:.2f} cm3"
    how = "" if plan.net_volume is None else f"{plan.net_volume.text}; the net one counts"
    yield Figure("volume that sounds", value, how, "elementary geometry", below)
    wave = f"{to_digits(first_standing_wave_hz(found.longest_mm))} Hz"
    how = f"{limits_in_words(found.longest_mm)} On the chart {found.valid_to_hz:.0f} Hz"
    yield Figure("first standing wave", wave, how, "half a wave fits in; textbooks, from memory", ("chamber volume",))
    below = tuple(_name(field) for field, _ in found.driver.parameters)
    how = "those that were neither entered nor follow from what was; each has a figure of its own"
    yield Figure(
        "parameters estimated",
        f"{len(found.assumed)} parameter{'' if len(found.assumed) == 1 else 's'}",
        how,
        "data/driver_estimates.csv",
        below,
    )
    cone = beyond_travel(box, power_w)
    if cone:
        below = (POWER, TRAVEL, CUTOFF)
        yield Figure("power that the cone's travel allows", cone.partition(". ")[2], cone, SMALL, below)
    theory = beyond_theory(box, found.valid_to_hz)
    if theory:
        yield Figure("beyond the theory", "-3 dB point", theory, SMALL, (CUTOFF, "theory holds to"))
    for number, each in enumerate(unusual(found.driver), start=1):
        below = tuple(_name(field) for field, _ in found.driver.parameters)
        yield Figure(f"unusual of the speaker ({number})", "not usual", each, "data/driver_estimates.csv", below)


def load(plan: Plan) -> Iterator[Figure]:
    """Yield what each wiring comes to, and what the chosen one gives."""
    found = plan.driven
    if plan.sound is None or plan.bench.sounds.output is None:
        return
    also = (f"also driven: {each.name}" for each in plan.bench.sounds.also)
    below = ("decoder output", _name("impedance_ohm"), *also)
    if found.chosen is not None:
        said = " ".join(load_in_words(found.chosen))
        if len(found.speakers) > 1:
            said += f" {' '.join(polarity_in_words(found.chosen.wiring))}"
        (cells,) = load_rows((found.chosen,))
        yield Figure("what the decoder's output gives", cells[1], said, KIRCHHOFF, ("load impedance", *below))
    for check, cells in zip(found.wirings, load_rows(found.wirings), strict=True):
        first, *rest = cells
        how = " ".join(("; ".join(rest), *check.reasons))
        yield Figure(f"wiring: {first}", cells[1], how, KIRCHHOFF, below)
