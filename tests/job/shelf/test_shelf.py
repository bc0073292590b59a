"""The shelf: what is put on it, taken from it, and how jobs differ from it."""

import re

import pytest
from sample_jobs import DEMOS, SMALLEST, job
from shelves import all_of

from modelmath import plan
from modelmath.errors import JobError, NotYetKnown, UnknownChoice
from modelmath.job.document import ChoiceEntry, CircuitEntry, DriverEntry, OutputEntry, RuleEntry, StockEntry
from modelmath.job.shelf import (
    KINDS,
    Shelf,
    ShelfDecoder,
    ShelfLamp,
    differences,
    from_shelf,
    names_in,
    put_on_shelf,
)

RULES = [{"name": "steel 6 in", "unit": "mm", "zero_offset": "0.5"}]


def whole(text):
    return f"^{re.escape(text)}$"


# A job and its own things.


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_a_job_does_not_differ_from_a_shelf_that_has_all_of_it(name):
    found = DEMOS[name]
    shelf = all_of(found)
    assert differences(found, shelf) == ()
    for kind in KINDS:
        for each in names_in(found, kind):
            assert from_shelf(found, shelf, kind, each) == found


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_after_taking_everything_a_job_is_as_the_shelf_and_still_gives_a_plan(name):
    other = DEMOS["switcher-ho" if name != "switcher-ho" else "railbus-ho"]
    shelf, found = all_of(other), DEMOS[name]
    for difference in differences(found, shelf):
        found = from_shelf(found, shelf, difference.kind, difference.name)
    assert differences(found, shelf) == ()
    assert found.readings == DEMOS[name].readings
    assert found.zones == DEMOS[name].zones


def test_the_job_keeps_how_a_speaker_sits_and_where_a_lamp_goes():
    shelf, found = all_of(DEMOS["switcher-ho"]), DEMOS["switcher-ho"]
    document = found.model_dump()
    document["speaker"] |= {"faces": "up", "place": "front", "depth": "9 mm"}
    document["lamps"][0] |= {"end": "rear", "strands": 5}
    moved = type(found).model_validate(document)
    (difference,) = differences(moved, shelf)
    assert difference.kind == "speaker"
    assert [each.name for each in difference.fields] == ["depth"]
    taken = from_shelf(moved, shelf, "speaker", difference.name)
    assert taken.speaker.faces == "up"
    assert taken.speaker.place == "front"
    assert taken.speaker.depth == found.speaker.depth
    assert from_shelf(moved, shelf, "lamp", found.lamps[0].name).lamps[0] == moved.lamps[0]


def test_a_speaker_that_is_compared_is_brought_up_where_it_is():
    found = DEMOS["railbus-ho"]
    choice = found.choices[0]
    deeper = ChoiceEntry.model_validate({**choice.model_dump(), "depth": "11 mm"})
    taken = from_shelf(found, Shelf(speakers=[deeper]), "speaker", choice.name)
    assert taken.speaker == found.speaker
    assert taken.choices == [deeper, *found.choices[1:]]


def test_a_speaker_new_to_the_job_becomes_its_own_with_its_parameters():
    found = DEMOS["railbus-ho"]
    other = ChoiceEntry(name="another", length="20 mm", driver=DriverEntry(fs="450 Hz"))
    taken = from_shelf(found, Shelf(speakers=[other]), "speaker", "another")
    assert (taken.speaker.name, taken.speaker.length, taken.sound.driver.fs) == ("another", "20 mm", "450 Hz")
    assert taken.sound.output == found.sound.output
    assert taken.speaker.faces == found.speaker.faces


def test_a_decoder_brings_what_its_sheet_says_and_not_what_the_motor_draws():
    found = DEMOS["gas-electric-o"]
    decoder = ShelfDecoder.model_validate(
        {"name": "small decoder", "length": "20 mm", "width": "10 mm", "height": "4 mm", "inside": True,
         "output": {"least": "4 ohm"}, "feed": {"each": "100 mA", "motor": "9 A"}}
    )  # fmt: skip
    taken = from_shelf(found, Shelf(decoders=[decoder]), "decoder", "small decoder")
    assert taken.sound.output == OutputEntry(least="4 ohm")
    assert taken.light.feed.each == "100 mA"
    assert taken.light.feed.motor == found.light.feed.motor
    assert taken.light.feed.series == found.light.feed.series
    assert taken.decoder.inside == found.decoder.inside
    assert differences(taken, Shelf(decoders=[decoder])) == ()


def test_a_lamp_that_is_not_known_any_more_takes_its_circuit_with_it():
    found = job(
        lamps=[{"name": "headlight", "end": "rear", "room": "5 mm"}], light={"circuits": [{"lamp": "headlight"}]}
    )
    bare = Shelf(lamps=[ShelfLamp(name="headlight", room="4 mm")])
    taken = from_shelf(found, bare, "lamp", "headlight")
    assert taken.light.circuits == []
    assert (taken.lamps[0].end, taken.lamps[0].room) == ("rear", "4 mm")


def test_a_lamp_keeps_its_output_and_gets_what_it_is():
    circuit = {"lamp": "headlight", "output": "front", "colour": "red"}
    found = job(lamps=[{"name": "headlight", "end": "rear", "room": "5 mm"}], light={"circuits": [circuit]})
    yellow = CircuitEntry(lamp="headlight", colour="yellow")
    taken = from_shelf(
        found, Shelf(lamps=[ShelfLamp(name="headlight", room="5 mm", circuit=yellow)]), "lamp", "headlight"
    )
    assert taken.light.circuits == [CircuitEntry(lamp="headlight", output="front", colour="yellow")]


def test_the_drawer_is_one_thing():
    found = DEMOS["switcher-ho"]
    shelf = put_on_shelf(Shelf(), found, "drawer", "drawer")
    assert shelf.drawer == found.drawer
    assert names_in(job(), "drawer") == ()
    less = Shelf(drawer=[StockEntry(strip=".100 sq", length="14 in", count=2)])
    assert str(differences(found, less)[0]).startswith("the job's own stock is not as on the shelf: stock ")
    assert from_shelf(found, less, "drawer", "drawer").drawer == less.drawer


# A scale rule.


def test_a_scale_rule_keeps_its_scale_on_the_shelf_and_in_a_job_of_another_scale():
    shelf = put_on_shelf(Shelf(), job(), "rule", "scale rule")
    assert shelf.rules[0].scale == "HO"
    there = from_shelf(job(scale="O"), shelf, "rule", "scale rule")
    assert there.rules[0].scale == "HO"
    before = plan(job()).bench.rules["scale rule"].offset_mm
    assert (
        plan(there).bench.rules["scale rule"].offset_mm
        == before
        != plan(job(scale="O")).bench.rules["scale rule"].offset_mm
    )
    assert [str(each) for each in differences(job(scale="O"), shelf)] == [
        "the rule 'scale rule' is not as on the shelf: scale O here, HO there"
    ]


def test_in_a_job_of_its_scale_a_rule_goes_on_having_the_jobs():
    found = job()
    assert from_shelf(found, put_on_shelf(Shelf(), found, "rule", "scale rule"), "rule", "scale rule") == found


# Differences in words.


def test_differences_are_said_with_the_units_of_the_rule():
    found = job(rules=[*SMALLEST["rules"], *RULES])
    shelf = Shelf(rules=[RuleEntry(name="steel 6 in", unit="mm", zero_offset="0.4", length="150")])
    (difference,) = differences(found, shelf)
    assert str(difference) == (
        "the rule 'steel 6 in' is not as on the shelf: zero stands in 0.5 mm here, 0.4 mm there; "
        "length not given here, 150 mm there"
    )


@pytest.mark.parametrize(("here", "there"), [("0.50", "0.5"), ("1/2", "0.5"), ("0.05 cm", "0.5")])
def test_one_length_written_in_two_ways_is_no_difference(here, there):
    found = job(rules=[*SMALLEST["rules"], {**RULES[0], "zero_offset": here}])
    shelf = Shelf(rules=[RuleEntry(name="steel 6 in", unit="mm", zero_offset=there)])
    assert differences(found, shelf) == ()


def test_parameters_are_said_with_their_place():
    found = DEMOS["railbus-ho"]
    driver = DriverEntry.model_validate({**found.sound.driver.model_dump(), "fs": "999 Hz"})
    shelf = put_on_shelf(
        Shelf(), found.model_copy(update={"sound": found.sound.model_copy(update={"driver": driver})}), "speaker",
        found.speaker.name,
    )  # fmt: skip
    (difference,) = differences(found, shelf)
    here = f"the speaker '{found.speaker.name}' is not as on the shelf: driver fs {found.sound.driver.fs} here"
    assert str(difference) == f"{here}, 999 Hz there"


# What can't be done.


def test_what_is_not_there_is_refused():
    with pytest.raises(UnknownChoice, match=whole("the rule in the job is 'steel'; write one of scale rule.")):
        put_on_shelf(Shelf(), job(), "rule", "steel")
    said = "the decoder on the shelf, 'd', is not known yet; enter it there first."
    with pytest.raises(NotYetKnown, match=whole(said)):
        from_shelf(job(), Shelf(), "decoder", "d")
    said = "the kind of thing is 'rules'; write one of rule, speaker, decoder, lamp, drawer. Did you mean 'rule'?"
    with pytest.raises(UnknownChoice, match=whole(said)):
        names_in(job(), "rules")


def test_a_job_that_is_full_says_so():
    full = job(rules=[{"name": f"rule {number}"} for number in range(50)], marking={"rule": "rule 1"})
    said = "the job, rules: there are too many; leave out all but 50."
    with pytest.raises(JobError, match=whole(said)):
        from_shelf(full, Shelf(rules=[RuleEntry(name="one more")]), "rule", "one more")
