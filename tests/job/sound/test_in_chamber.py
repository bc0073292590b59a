"""The plan's speaker in its chamber: checked against the closed forms, from the document's own numbers."""

from __future__ import annotations

from math import pi, sqrt
from types import SimpleNamespace

import pytest
from sample_jobs import DEMOS

from modelmath import JobError, plan
from modelmath.job.document import Job
from modelmath.job.sound.in_chamber import InChamber
from modelmath.sound.driver.driver import Driver

WHOLE = {
    "impedance": "8 ± 0 ohm", "power": "1 W", "fs": "450 ± 0 Hz", "qes": "1.0 ± 0", "qms": "4 ± 0", "re": "7 ± 0 ohm",
    "vas": "3 ± 0 cm3", "sd": "150 ± 0 mm2", "xmax": "0.5 ± 0 mm",
}  # fmt: skip


def job(name="railbus-ho", **changed):
    document = DEMOS[name].model_dump(exclude_unset=True)
    for table, value in changed.items():
        document[table] = value
    return Job.model_validate(document)


def whole(**sound):
    return plan(job(sound={"driver": WHOLE, **sound}, choices=[]))


def test_resonance_q_and_cutoff_follow_from_the_net_volume():
    """R. H. Small, Closed-Box Loudspeaker Systems, 1972: alpha = Vas/Vb, fc = fs sqrt(1 + alpha)."""
    found = whole()
    volume = float(found.net_volume.net_mm3)
    rise = sqrt(1 + 3000 / volume)
    fc, qtc = 450 * rise, 0.8 * rise
    a = 1 / qtc**2 - 2
    box = found.sound.box
    assert box.volume_mm3.best == pytest.approx(volume)
    assert box.fc_hz.best == pytest.approx(fc, rel=1e-12)
    assert box.qtc.best == pytest.approx(qtc, rel=1e-12)
    assert box.f3_hz.best == pytest.approx(fc * sqrt((a + sqrt(a * a + 4)) / 2), rel=1e-12)


def test_the_chambers_uncertainty_is_in_the_band():
    found = whole()
    u = float(found.volume.value.s)
    assert u > 0
    band = found.sound.box.volume_mm3
    assert (band.low, band.high) == pytest.approx((band.best - 2 * u, band.best + 2 * u))
    assert found.sound.box.fc_hz.low < found.sound.box.fc_hz.best < found.sound.box.fc_hz.high


def test_with_everything_known_nothing_is_estimated():
    assert whole().sound.assumed == ()


def test_with_little_known_each_estimate_is_said():
    found = plan(job("switcher-ho")).sound
    assert len(found.assumed) >= 4
    assert all(" is taken as " in each for each in found.assumed)
    f3 = found.box.f3_hz
    assert f3.low < f3.best < f3.high


def test_without_a_speaker_or_a_chamber_there_is_none():
    assert plan(job(speaker=None, sound={}, choices=[])).sound is None
    assert plan(job("centre-cab-s", length=None)).sound is None


def test_filling_acts_as_more_volume():
    plain, filled = whole(), whole(stuffing="filled")
    assert filled.sound.box.fc_hz.best < plain.sound.box.fc_hz.best
    assert filled.sound.box.qtc.best < plain.sound.box.qtc.best


def test_a_wanted_q_below_the_speakers_own_is_explained_with_what_the_chamber_gives():
    said = whole(wanted_q="0.7").sound.wanted
    assert "No closed chamber brings it down there" in said
    assert "a larger one is always flatter" in said
    assert f"The chamber at hand, {whole().sound.box.volume_mm3.best / 1000:.3g} cm3" in said
    assert whole().sound.wanted == ""


def test_a_longer_chamber_lies_on_the_curve():
    found = whole().sound
    (name, here, f3), (_, longer, f3_longer), *_ = found.curve.marked
    assert name == "this chamber"
    assert f3 == pytest.approx(found.box.f3_hz.best)
    section = float(whole().chamber.volume_mm3) / float(whole().chamber.inner_end_mm - whole().chamber.inner_start_mm)
    assert longer - here == pytest.approx(section * 3.5 / 4)  # HO: 3.5 mm to the foot
    assert f3_longer < f3
    assert found.curve.in_words.startswith(f"This chamber, {here / 1000:.2f} cm3, has its -3 dB point at {f3:.0f} Hz; ")


def test_where_the_theory_ends_is_the_longest_inside_length():
    """k L = 1 at f = c / (2 pi L); speed of sound 343.2 m/s at 20 C, handbooks."""
    found = whole()
    length = float(found.chamber.inner_end_mm - found.chamber.inner_start_mm)
    assert found.sound.longest_mm == pytest.approx(length)
    assert found.sound.valid_to_hz == pytest.approx(343.2 / (2 * pi * length / 1000), rel=1e-3)


@pytest.mark.parametrize(("along", "wide", "high"), [(40, 20, 15), (20, 40, 15), (20, 15, 40)])
def test_the_longest_inside_length_is_along_across_or_up(along, wide, high):
    bay = SimpleNamespace(zone=SimpleNamespace(width_mm=wide, roof_mm=high + 5))
    chamber = SimpleNamespace(inner_start_mm=3, inner_end_mm=3 + along, floor_mm=5, bays=(bay,))
    assert InChamber(SimpleNamespace(chamber=chamber), Driver("made")).longest_mm == 40


@pytest.mark.parametrize("name", DEMOS)
def test_the_runner_up_is_counted_as_the_chamber_is(name):
    """Strands and wires run through either; so what is smaller before they do is smaller after."""
    found = plan(DEMOS[name])
    other = found.sound.runner_up
    if other is None:
        assert found.runner_up is None
        return
    assert other.volume_mm3.best < float(found.runner_up.volume_mm3)
    taken, own = (
        float(each.volume_mm3) - box.volume_mm3.best
        for each, box in ((found.runner_up, other), (found.chamber, found.sound.box))
    )
    assert taken == pytest.approx(own, rel=0.25)  # its supports may be higher, its strands longer


def test_the_cone_from_its_rim():
    """A rim of 1.5 mm round 26 x 16 mm leaves 23 x 13 mm."""
    driver = plan(job("railmotor-oo")).bench.sounds.driver
    area = driver.sd_mm2
    assert area.high == pytest.approx(23 * 13)
    assert area.low == pytest.approx(0.9 * 23 * 13)
    assert area.origin == "derived"
    assert driver.xmax_mm.value == 0.4


def test_a_value_from_a_sheet_without_limits_is_not_exact():
    """Resonance within 15 %: 382.5 to 517.5 Hz, by hand; common practice, no source."""
    driver = {**WHOLE, "fs": "450 Hz"}
    known = plan(job(sound={"driver": driver}, choices=[])).bench.sounds.driver.fs_hz
    assert (known.low, known.value, known.high, known.origin) == (382.5, 450, 517.5, "given")
    assert known.why == "its sheet states no limits; taken as within 15 %; common practice, no source"
    for text in ("450 ± 0 Hz", "450 Hz, measured", "450 Hz, estimated"):
        assert plan(job(sound={"driver": {**WHOLE, "fs": text}}, choices=[])).bench.sounds.driver.fs_hz.exact
    wide = plan(job(sound={"driver": driver}, choices=[])).sound.box.fc_hz
    exact = whole().sound.box.fc_hz
    assert wide.best == exact.best
    assert wide.low < exact.low < exact.high < wide.high


def test_limits_that_a_sheet_leaves_unsaid_count_where_parameters_are_compared():
    """Qes 1 and Qms 4 give Qts 0.8; 0.9 is 12.5 % above, within what sheets leave unsaid; 1.2 ± 0 is not."""
    loose = {**WHOLE, "qes": "1.0", "qms": "4", "qts": "0.9"}
    assert plan(job(sound={"driver": loose}, choices=[])).sound.box.qtc.best > 0.8
    exact = plan(job(sound={"driver": {**WHOLE, "qts": "0.9 ± 0"}}, choices=[]))
    with pytest.raises(ValueError, match="Qts"):
        _ = exact.sound.box


@pytest.mark.parametrize(
    ("table", "where", "told"),
    [
        ({"driver": {"fs": "450"}}, "sound, driver, fs", "450"),
        ({"driver": {"impedance": "8 W"}}, "sound, driver, impedance", "8 W"),
        ({"output": {"least": "-4 ohm"}}, "sound, output, least", "-4 ohm"),
        ({"also": [{"name": "other", "impedance": "no"}]}, "impedance", "no"),
        ({"wanted_q": "0"}, "sound, wanted_q", "0"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_place(table, where, told):
    with pytest.raises(JobError) as caught:
        plan(job(sound=table, choices=[]))
    assert where in caught.value.where
    assert told in str(caught.value)


def test_contradictory_parameters_are_told_where_the_driver_stands():
    table = {"driver": WHOLE | {"qts": "1.2"}}
    found = plan(job(sound=table, choices=[]))
    with pytest.raises(ValueError, match="Qts") as caught:
        _ = found.sound.box
    assert "Qes" in str(caught.value)
