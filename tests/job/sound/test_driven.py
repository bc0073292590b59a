"""Whether the decoder drives the plan's speakers."""

from __future__ import annotations

import pytest
from job.sound.test_in_chamber import job

from modelmath import plan

SPEAKER = {"impedance": "8 ohm", "power": "1 W"}


def driven(**sound):
    return plan(job(sound={"driver": SPEAKER, **sound}, choices=[])).driven


def test_power_by_ohms_law():
    """P = V^2 / R: an output that gives 2 W into 8 ohm gives 1 W into 16 ohm."""
    found = driven(
        output={"least": "8 ohm", "power": "2 W", "into": "8 ohm"}, also=[{"name": "rear", "impedance": "8 ohm"}]
    )
    series, parallel = found.wirings
    assert (series.impedance_ohm, series.verdict) == (16, "fits")
    assert series.power_w == pytest.approx(1)
    assert found.chosen is series
    assert found.power_w == pytest.approx(0.5)
    assert (parallel.impedance_ohm, parallel.verdict) == (4, "refused")
    assert "below the 8 ohm" in parallel.reasons[0]


def test_a_loud_output_is_turned_down_to_what_the_speaker_stands():
    found = driven(output={"least": "4 ohm", "power": "2 W", "into": "8 ohm"})
    assert found.chosen.verdict == "turn down"
    assert found.power_w == pytest.approx(1)


def test_what_is_missing_is_named():
    assert "the least impedance on the decoder's own sheet" in str(driven().missing)
    assert "the speaker's rated impedance" in str(plan(job(sound={}, choices=[])).driven.missing)
    assert driven(output={"least": "4 ohm"}).missing is None


def test_the_wiring_named_in_the_job_is_taken_or_refused():
    also = [{"name": "rear", "impedance": "8 ohm"}]
    output = {"least": "2 ohm"}
    words = [each.in_words for each in driven(output=output, also=also).wirings]
    assert driven(output=output, also=also, wiring=words[1]).chosen.in_words == words[1]
    wrong = driven(output=output, also=also, wiring="in a ring")
    assert wrong.chosen is None
    assert "the wiring is 'in a ring'" in str(wrong.missing)


def test_two_speakers_of_one_name_are_told():
    name = job().speaker.name
    found = driven(output={"least": "2 ohm"}, also=[{"name": name, "impedance": "8 ohm"}])
    assert found.missing is not None
