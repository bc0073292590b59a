"""What leaks would do to the plan's chamber."""

from __future__ import annotations

from math import pi

import pytest
from job.sound.test_in_chamber import job, whole

from modelmath import plan
from modelmath.job.sound.leaking import QL_IN_WORDS, as_filled
from modelmath.sound.leaks.leak import slot
from modelmath.sound.leaks.leaky_box import leak_effect, leaky_cutoff_hz


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


def test_each_bullet_gives_one_verdict_and_by_how_far_and_explains_ql_once():
    found = whole().sound.leaking
    for (words, effect), said in zip(found.effects, found.said, strict=True):
        assert said.startswith(f"{words}: {effect.verdict}. The -3 dB point goes from {effect.sealed_f3_hz:.0f} Hz to ")
        assert f"{100 * abs(effect.shift):.0f} % {'up' if effect.shift > 0 else 'down'} (up to 5 % is harmless)" in said
        assert ("and below it the sound falls faster and the cone moves further" in said) == effect.booms
        assert "louder" not in said
    assert sum(QL_IN_WORDS in each for each in found.said) == 1
    assert QL_IN_WORDS in found.said[0]
    holes, gap, back = found.said
    assert "ruins the low end" in holes
    assert "The opening acts as a port: one pitch booms, near 210 Hz" in holes
    assert "heard" in gap
    assert "an octave below the resonance, the sound is 1.8 dB softer." in gap
    assert "Ql" not in back


def test_ql_is_how_much_more_air_the_spring_takes_than_the_leak_loses():
    """Of one pressure in the chamber: flow into its air w C p, flow by friction out of the leak p / R of a thin gap."""
    found = whole().sound
    driver, volume_mm3 = as_filled(found.box)
    thin = slot(60, 0.01, 2)
    effect = leak_effect(driver, volume_mm3, (thin,))
    air = volume_mm3 * 1e-9 / (1.204 * 343.2**2)
    assert effect.ql == pytest.approx(2 * pi * effect.fc_hz * air * thin.resistance, rel=0.01)


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
    bare = plan(job(sound={"driver": {"impedance": "8 ohm"}}, choices=[], lamps=[], wires=[], light={}))
    assert len(bare.sound.leaking.effects) == 2
