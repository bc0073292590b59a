"""What is emptied or written anew on the first screen takes nothing else with it. All numbers invented."""

from __future__ import annotations

from typing import Any

import pytest
from sample_jobs import DEMOS, job, with_chamber

from modelmath import plan
from modelmath.errors import WrongKind
from modelmath.job.document import DecoderEntry, Job, SpeakerEntry
from modelmath.job.entries.screen import Outcome, entries_of, read_entries
from modelmath.job.entries.zones import ZoneRow, with_zones, zone_rows

SPEAKER_FIELDS = ("flange", "speaker_length", "speaker_width", "speaker_depth")
DECODER_FIELDS = ("decoder_length", "decoder_width", "decoder_height")
SITS = {"faces": "front", "place": "rear", "terminals": "2 mm", "travel": "0.5 mm", "round": True, "name": "round one"}
DECODER = {"length": "20 mm", "width": "9 mm", "height": "3 mm"}


def typed(base: Job, **texts: str) -> Outcome:
    return read_entries({**entries_of(base), **texts}, base)


def taken(found: Outcome) -> Job:
    assert (found.messages, found.waiting) == ({}, ())
    assert found.job is not None
    return found.job


def speaker(**fields: Any) -> dict[str, Any]:
    return {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm", **fields}


def emptied(*names: str) -> dict[str, str]:
    return dict.fromkeys(names, "")


def test_how_a_speaker_sits_stays_when_all_its_sizes_are_emptied():
    old = with_chamber(speaker=speaker(**SITS))
    found = typed(old, **emptied(*SPEAKER_FIELDS))
    new = taken(found)
    assert new.speaker == SpeakerEntry(**SITS)
    assert found.echoes["flange"] == (
        "No speaker now; what was entered for it is kept: name round one, faces front, place rear, terminals 2 mm, "
        "travel 0.5 mm, round yes"
    )
    assert plan(new).bench.speaker is None
    again = dict(zip(SPEAKER_FIELDS, ("1.2 mm", "22 mm", "16 mm", "6 mm"), strict=True))
    assert taken(typed(new, **again)) == old
    assert taken(typed(new)) == new  # and it stays as long as nothing is typed


def test_a_speaker_of_which_nothing_else_is_known_goes_with_its_sizes():
    found = typed(with_chamber(), **emptied(*SPEAKER_FIELDS))
    assert taken(found).speaker is None
    assert "flange" not in found.echoes


@pytest.mark.parametrize("name", SPEAKER_FIELDS)
def test_one_size_emptied_leaves_the_rest_of_the_speaker(name):
    old = with_chamber(speaker=speaker(**SITS))
    new = taken(typed(old, **emptied(name)))
    assert new.speaker == SpeakerEntry(**speaker(**SITS, **{name.removeprefix("speaker_"): None}))


@pytest.mark.parametrize("kept", DECODER_FIELDS)
def test_a_decoder_that_lacks_a_size_is_asked_for_it(kept):
    old = with_chamber(decoder={**DECODER, "air": "2 mm"})
    empty = [name for name in DECODER_FIELDS if name != kept]
    found = typed(old, **emptied(*empty))
    assert found.job is None
    assert found.messages == {
        name: f"Write the decoder's {name.removeprefix('decoder_')}, or empty all three to take it out."
        for name in empty
    }


def test_a_decoder_goes_with_all_its_sizes_and_what_goes_with_it_is_said():
    old = with_chamber(decoder={**DECODER, "air": "2 mm", "turns": False})
    found = typed(old, **emptied(*DECODER_FIELDS))
    assert taken(found).decoder is None
    assert found.echoes["decoder_length"] == "No decoder now; what was entered for it goes too: air 2 mm, turns no"
    assert "decoder_length" not in typed(with_chamber(decoder=DECODER), **emptied(*DECODER_FIELDS)).echoes


def test_a_new_decoder_waits_until_all_three_sizes_are_there():
    assert taken(typed(with_chamber(), decoder_length="20")).decoder is None
    new = taken(typed(with_chamber(), decoder_length="20", decoder_width="9", decoder_height="3 mm"))
    assert new.decoder == DecoderEntry(**DECODER)


MARKED = {"shell_inside": "length", "mark": "screw", "mark_on_shell": "length", "mark_on_chassis": "roof"}


@pytest.mark.parametrize(
    ("fields", "needed"),
    [
        ({"length": MARKED}, "the fore-aft mark"),
        ({"length": {"shell_inside": "length", "end_play": "0.3 mm"}}, "how far the shell shifts"),
        ({"length": {**MARKED, "end_play": "0.3 mm"}}, "the fore-aft mark, how far the shell shifts"),
        ({"obstacles": [{"name": "post", "start": "length", "end": "length"}]}, "what stands in the shell"),
    ],
)
def test_a_length_that_something_else_needs_is_asked_for(fields, needed):
    found = typed(with_chamber(**fields), inside_length="")
    assert (found.job, found.messages) == (None, {"inside_length": f"Write the length: it is needed for {needed}."})


def test_a_length_that_nothing_else_needs_goes():
    assert taken(typed(with_chamber(), inside_length="")).length is None
    found = typed(DEMOS["gas-electric-o"], inside_length="")
    assert found.messages == {"inside_length": "Write the length: it is needed for the zones, the fore-aft mark."}


def test_a_width_emptied_and_typed_again_gets_a_reading_of_its_own():
    one = taken(typed(job(), width="18 mm"))
    two = taken(typed(one, width=""))
    assert two.zones[0].width is None
    three = taken(typed(two, width="19 mm"))
    assert three.zones[0].width == "inside width 2"
    assert [(each.name, each.mark) for each in three.readings[-2:]] == [
        ("inside width", "18 mm"), ("inside width 2", "19 mm")
    ]  # fmt: skip
    assert plan(three).governing is not None


def test_a_width_that_is_shown_with_its_unit_stays_as_it_was_written():
    assert entries_of(with_chamber())["width"] == "5 scale ft"
    assert taken(typed(with_chamber())) == with_chamber()
    assert (
        next(each.mark for each in taken(typed(with_chamber(), width="5.5 scale ft")).readings if each.name == "width")
        == "5.5 scale ft"
    )


# Zones.


def two_zones(**fields: Any) -> Job:
    readings = [each.model_dump() for each in with_chamber().readings]
    readings += [
        {"name": "step", "mark": "9", "again": ["9 1/4", "9"], "on": "shell"},
        {"name": "putty", "mark": "3", "again": ["3 1/4"]},
        {"name": "spare", "mark": "2"},
    ]
    first = with_chamber().zones[0].model_dump()
    zones = [{**first, "end": "step"}, {**first, "name": "cab", "chassis_top": None, "gap": "putty"}]
    return with_chamber(**{"readings": readings, "zones": zones, **fields})


def test_ends_and_gaps_that_were_read_several_times_stay_as_they_are():
    old = two_zones()
    rows = zone_rows(old)
    assert (rows[0].ends_at, rows[1].gap) == ("9; 9 1/4; 9", "3; 3 1/4")
    assert with_zones(old, rows) == old
    rows[0] = ZoneRow(**{**vars(rows[0]), "ends_at": "10; 10 1/4"})
    rows[1] = ZoneRow(**{**vars(rows[1]), "gap": "2; 2 1/4; 2"})
    new = with_zones(old, rows)
    marks = {each.name: (each.mark, each.again) for each in new.readings}
    assert marks["end of motor"] == ("10", ["10 1/4"])
    assert marks["putty"] == ("2", ["2 1/4", "2"])


def test_a_reading_that_nothing_used_before_is_not_thrown_away():
    new = with_zones(two_zones(), zone_rows(two_zones())[:1])
    assert {each.name for each in two_zones().readings} - {each.name for each in new.readings} == {"step", "putty"}


def test_a_zone_with_too_long_a_name_is_refused_in_words():
    rows = [ZoneRow(**{**vars(zone_rows(job())[0]), "name": "x" * 201})]
    with pytest.raises(
        WrongKind,
        match=r"^a name or reading is too long; expected what a job can hold\. "
        r"zones, 0, name: string should have at most 200 characters\.$",
    ):
        with_zones(job(), rows)
