"""Whether the decoder drives the plan's speakers."""

from __future__ import annotations

import pytest
from job.sound.test_in_chamber import job

from modelmath import plan
from modelmath.errors import JobError
from modelmath.job.sound.driven import driven_by
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.speakers import RatedSpeaker

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
    assert [each.in_words for each in wrong.wirings] == words
    assert "the wiring is 'in a ring'" in str(wrong.missing)


@pytest.mark.parametrize(
    ("wiring", "ohm"),
    [
        ("two in series", 16), ("Two in  SERIES", 16), ("speaker and rear in series", 16), ("series", 16),
        ("in series", 16), ("Parallel", 4), ("all in parallel", 4), ("REAR and SPEAKER in parallel", 4),
    ],
)  # fmt: skip
def test_a_wiring_is_known_by_names_by_count_and_by_its_one_word(wiring, ohm):
    own = RatedSpeaker("speaker", 8, 1)
    for pair in ((own, RatedSpeaker("rear", 8, 1)), (own, RatedSpeaker("rear", 8, 2))):  # alike, and not
        assert driven_by(pair, AmpOutput(least_ohm=2), wiring).chosen.impedance_ohm == ohm


def test_words_that_fit_several_wirings_or_none_leave_the_table():
    three = [RatedSpeaker(name, ohm) for name, ohm in (("a", 4), ("b", 8), ("c", 16))]
    for words in ("(two in series) + one, in parallel", "alone", "series alone"):
        found = driven_by(three, AmpOutput(2), words)
        assert (found.chosen, len(found.wirings)) == (None, 8)
        assert f"the wiring is '{words}'" in str(found.missing)
    assert driven_by(three, AmpOutput(2), "(A + B  in series) + C, in parallel").chosen is not None
    assert driven_by(three, AmpOutput(2), "series").chosen.impedance_ohm == 28


def test_two_speakers_of_one_name_are_told():
    name = job().speaker.name
    found = driven(output={"least": "2 ohm"}, also=[{"name": name, "impedance": "8 ohm"}])
    assert found.missing is not None


def test_names_that_differ_in_case_alone_name_their_own_wiring():
    speakers = [RatedSpeaker(name, ohm) for name, ohm in (("series", 8), ("a", 4), ("A", 16))]
    output = AmpOutput(least_ohm=2)
    offered = [each.in_words for each in driven_by(speakers, output).wirings]
    assert len(offered) == len(set(offered)) == 8
    assert [driven_by(speakers, output, words).chosen.in_words for words in offered] == offered


def test_another_speaker_has_one_impedance():
    with pytest.raises(JobError, match="the impedance of rear is from 4 ohm to 16 ohm; it must be one figure"):
        driven(output={"least": "4 ohm"}, also=[{"name": "rear", "impedance": "4 to 16 ohm"}])
