"""Volume and length of the chamber against draws of every reading, rule and cut from scratch."""

from __future__ import annotations

import numpy as np
import pytest
from sample_jobs import DEMOS, job, with_chamber

from modelmath import plan
from modelmath.lengths.uncertain import components

DRAWS = 100_000


class Drawn:
    """One job's readings, rules and cuts, drawn anew by what the document says of them and nothing of the plan."""

    def __init__(self, found, seed):
        self.found, self.rng = found, np.random.default_rng(seed)
        self.offsets = {name: self.off(rule) for name, rule in found.bench.rules.items()}
        self.readings = {name: self.read(each) for name, each in found.bench.readings.items()}

    def off(self, rule):
        """Offset and scale error; a calibration leaves them independent at its pivot (JCGM 100:2008, H.3)."""
        error, tilt = float(rule.scale_error), rule.scale_error_uncertainty
        pivot = -float(rule.offset_mm) if rule.calibrated_at_mm is None else float(rule.calibrated_at_mm)
        arm = pivot + float(rule.offset_mm)
        u = ((1 + error) ** 2 * float(rule.offset_uncertainty_mm) ** 2 - (arm * tilt) ** 2) ** 0.5
        at_pivot = self.rng.normal(arm * (1 + error), u, DRAWS)
        return pivot, at_pivot, self.rng.normal(1 + error, tilt, DRAWS)

    def length(self, rule, mark):
        pivot, at_pivot, stretch = self.offsets[rule.name]
        return (mark - pivot) * stretch + at_pivot

    def read(self, reading):
        rule, shown = reading.rule, float(reading.repeats.mean_mm)
        half = float(rule.read_to_mm) / 2
        by = self.rng.uniform(-half, half, DRAWS)
        if not rule.read_to_the_mark:
            by = self.rng.normal(0, rule.reading_u_mm, DRAWS)
        return self.length(rule, shown + by)

    def within(self, half):
        return self.rng.uniform(-half, half, DRAWS)

    def height(self, name):
        reading = self.found.bench.readings[name]
        link = self.found.bench.links.get(reading.face)
        return self.readings[name] - (0 if link is None else self.readings[link.name])

    def part(self, mm):
        """A part set on the marks of the plan's rule and cut."""
        rule = self.found.marks.rule
        mark = float(mm) / (1 + float(rule.scale_error)) - float(rule.offset_mm)
        return self.length(rule, mark) + self.within(0.1)


def edges(drawn):
    """Ends of the zones from the mark, as read."""
    found, entry = drawn.found, drawn.found.job.length
    origin = {"shell": 0.0 if entry.mark is None else drawn.readings[entry.mark_on_shell]}
    origin["chassis"] = None if entry.mark is None else drawn.readings[entry.mark_on_chassis]
    ends = [-origin["shell"]]
    for zone in found.job.zones:
        name = zone.end or entry.shell_inside
        ends.append(drawn.readings[name] - origin["chassis" if found.bench.entry(name).on == "chassis" else "shell"])
    return ends


JOBS = {
    "switcher-ho": DEMOS["switcher-ho"],
    "gas-electric-o": DEMOS["gas-electric-o"],
    "railcar-n": DEMOS["railcar-n"],
    "one zone": with_chamber(),
}


@pytest.mark.parametrize("name", JOBS)
def test_u_of_the_volume_is_that_of_the_drawn_chain(name):
    found = plan(JOBS[name])
    drawn, chamber = Drawn(found, 3), found.chamber
    places = edges(drawn)
    start = float(chamber.inner_start_mm) + drawn.within(0.1) if chamber.front_wall else places[0]
    end = float(chamber.inner_end_mm) + drawn.within(0.1) if chamber.rear_wall else places[-1]
    floor = drawn.height(found.hung_from.zone.underside) - drawn.part(found.chamber_height_mm)
    total = np.zeros(DRAWS)
    for zone, low, high in zip(found.job.zones, places, places[1:], strict=False):
        # A zone wholly out of the chamber is left out, however its edges are drawn.
        length = np.minimum(high, end) - np.maximum(low, start)
        total += drawn.readings[zone.width] * (drawn.height(zone.underside) - floor) * np.maximum(length, 0)
    assert found.volume.value.n == pytest.approx(float(chamber.volume_mm3))
    assert total.mean() == pytest.approx(float(chamber.volume_mm3), rel=2e-3)
    assert found.volume.u_mm == pytest.approx(total.std(), rel=0.015)
    assert found.length.u_mm == pytest.approx((end - start).std(), rel=0.015)
    assert found.length.value.n == pytest.approx(float(chamber.inner_end_mm - chamber.inner_start_mm))


@pytest.mark.parametrize("name", DEMOS)
def test_volume_is_that_of_the_chamber_and_its_shares_make_its_uncertainty(name):
    found = plan(DEMOS[name])
    assert found.volume.value.n == pytest.approx(float(found.chamber.volume_mm3), rel=1e-9)
    assert found.volume.exact_mm == found.chamber.volume_mm3
    assert sum(share**2 for _, share in components(found.volume.value)) == pytest.approx(found.volume.u_mm**2)
    assert found.volume.u_mm / found.volume.value.n < 0.1


def test_a_wider_reading_uncertainty_widens_the_volume_by_its_share_alone():
    """Volume is width x depth x length, one zone: relative shares are those of the three factors."""
    found = plan(with_chamber())
    width = found.bench.readings["width"].value
    shares = {cause.name: share for cause, share in components(found.volume.value)}
    by_hand = width.std_dev / width.n * found.volume.value.n
    offset = next(name for name in shares if name.startswith("zero offset"))
    assert abs(shares["reading of width"]) == pytest.approx(
        (by_hand**2 - (0.1 / width.n * found.volume.value.n) ** 2) ** 0.5, rel=1e-6
    )
    assert shares[offset] != 0


def test_without_a_chamber_there_is_no_volume():
    found = plan(job())
    assert (found.volume, found.length) == (None, None)
    assert "chamber volume" not in found.figures
