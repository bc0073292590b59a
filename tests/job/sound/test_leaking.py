"""What leaks would do to the plan's chamber."""

from __future__ import annotations

import pytest
from job.sound.test_in_chamber import job, whole

from modelmath import plan
from modelmath.job.sound.leaking import as_filled
from modelmath.sound.leaks.leaky_box import leaky_cutoff_hz


@pytest.mark.parametrize("stuffing", ["unfilled", "lightly filled", "filled"])
def test_each_leak_is_counted_alone_and_said(stuffing):
    found = whole(stuffing=stuffing).sound
    words = [each for each, _ in found.leaking.effects]
    assert words[0] == "With all 3 holes for wires and strands left open, nothing in them"
    assert words[-1] == "With the back left open, no wall at all"
    for (name, effect), said in zip(found.leaking.effects, found.leaking.said, strict=True):
        assert said.startswith(name)
        assert effect.sealed_f3_hz == pytest.approx(found.box.f3_hz.best, rel=1e-6)
        again = leaky_cutoff_hz(*as_filled(found.box), effect.leaks)
        assert effect.f3_hz == pytest.approx(again)


def test_holes_are_those_that_are_drilled():
    found = whole()
    (_, effect), *_ = found.sound.leaking.effects
    drilled = [line.drill.diameter_mm for line in found.holes for _ in range(line.count)]
    assert [each.across_mm for each in effect.leaks] == pytest.approx([float(each) for each in drilled])


def test_the_joint_goes_round_the_wall():
    found = whole()
    bay = found.chamber.bays[0]
    height = float(bay.zone.roof_mm - found.chamber.floor_mm)
    assert found.sound.leaking.sealing.joint_mm == pytest.approx(2 * (float(bay.zone.width_mm) + height))


def test_a_model_without_holes_has_two_leaks_left():
    bare = plan(job(sound={"driver": {"impedance": "8 ohm"}}, choices=[], lamps=[], wires=[]))
    assert len(bare.sound.leaking.effects) == 2
