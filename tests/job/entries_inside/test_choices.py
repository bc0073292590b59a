"""Speakers to compare, typed and read back: nothing lost, each fault beside its field. All numbers invented."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job, with_chamber

from modelmath.job.document import ChoiceEntry, Job
from modelmath.job.entries.inside.choices import (
    EXAMPLE_MARK,
    FILE_ONLY,
    MOST,
    choice_names,
    choice_texts,
    example_names,
    example_texts,
    with_choice,
    without_choice,
)
from modelmath.job.entries.inside.sound import sound_texts, with_sound
from modelmath.job.fields.sound import DriverEntry
from modelmath.job.plan import plan
from modelmath.quantities.text import parse_quantity
from modelmath.sound.driver.driver import PARAMETER_KINDS
from modelmath.sound.driver.examples import example_drivers, examples

SIZES = {"length": "26 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "8 mm"}
LARGER = {"name": "larger", **SIZES}
DRIVER = {"impedance": "8 ohm", "power": "1 W", "re": "7.2 ohm", "fs": "420 Hz", "qes": "1.1",
          "qms": "4", "qts": "0.86", "vas": "2 cm3", "sd": "110 mm2", "xmax": "0.4 mm", "mms": "0.2 g",
          "le": "0.05 mH"}  # fmt: skip
WHOLE = {**LARGER, "basket_length": "24 mm", "basket_width": "14 mm", "rim": "1 mm", "terminals": "1 mm",
         "travel": "0.5 mm", "round": True, "faces": "up", "turned": True, "place": "rear",
         "driver": DRIVER}  # fmt: skip


def with_choices(*entries: dict[str, Any]) -> Job:
    return with_chamber(choices=list(entries))


def typed_in(old: Job, **texts: str):
    """The first of the speakers, changed."""
    return with_choice(old, 0, {**choice_texts(old, 0), **texts})


# There and back.


def test_a_speaker_is_as_it_was_after_its_texts():
    for old in (with_choices(LARGER), with_choices(WHOLE, {"name": "half known"}), *DEMOS.values()):
        for place in range(len(old.choices)):
            found = with_choice(old, place, choice_texts(old, place))
            assert (found.job, found.messages, found.waiting) == (old, {}, ())


def test_some_demo_compares_speakers():
    assert any(each.choices for each in DEMOS.values())


def test_a_new_one_goes_last_and_an_old_one_out():
    old = with_choices(LARGER)
    found = with_choice(old, None, {**choice_texts(old, None), **SIZES, "name": "thin", "depth": "3 mm"})
    assert choice_names(found.job) == ["larger", "thin"]
    assert found.job.choices[1].depth == "3 mm"
    assert without_choice(found.job, 1) == old
    assert choice_names(without_choice(found.job, 0)) == ["thin"]


def test_every_field_is_typed_or_said_to_be_in_the_job_file_alone():
    """One text after another, each alone: what it changes in the document is what its field reaches."""
    old = with_choices(LARGER)
    other = dict.fromkeys((*SIZES, "basket_length", "basket_width", "rim", "terminals", "travel"), "2 mm")
    other |= {"name": "other", "round": "round", "depth": "9 mm", **DRIVER}
    before = old.choices[0].model_dump()
    reached = set()
    for name, text in other.items():
        found = typed_in(old, **{name: text})
        assert found.messages == {}, name
        assert found.job.model_copy(update={"choices": old.choices}) == old
        after = found.job.choices[0].model_dump()
        changed = {("choice", key) for key in after if key != "driver" and after[key] != before[key]}
        changed |= {("driver", key) for key in DRIVER if after["driver"][key] != before["driver"][key]}
        assert len(changed) == 1, name
        reached |= changed
    asked = {("choice", key) for key in ChoiceEntry.model_fields if key not in ("driver", *FILE_ONLY)}
    assert reached == asked | {("driver", key) for key in DriverEntry.model_fields}
    assert set(FILE_ONLY) < set(ChoiceEntry.model_fields)


def test_what_only_the_job_file_says_outlives_an_edit():
    found = typed_in(with_choices(WHOLE), fs="430 Hz")
    assert found.job == with_choices({**WHOLE, "driver": {**DRIVER, "fs": "430 Hz"}})


def test_the_speakers_outlive_other_edits_and_the_sound_theirs():
    old = with_choices(WHOLE)
    found = with_sound(old, {**sound_texts(old), "fs": "450 Hz"})
    assert found.job.choices == old.choices
    found = typed_in(found.job, vas="3 cm3")
    assert found.job.sound.driver.fs == "450 Hz"


UNITS = {"impedance": "ohm", "power": "W", "re": "ohm", "fs": "Hz", "qes": "", "qms": "", "qts": "", "vas": "cm3",
         "sd": "mm2", "xmax": "mm", "mms": "g", "le": "mH"}  # fmt: skip
NUMBER = st.decimals("0.001", "9999", places=3).map(str)


@given(
    st.text("abcde <>&\"'é", min_size=1, max_size=40).map(str.strip).filter(bool),
    st.dictionaries(st.sampled_from(sorted(UNITS)), NUMBER),
    st.tuples(*[st.integers(200, 4000)] * 3),
    st.sampled_from(["round", "rectangular"]),
)
def test_any_new_speaker_comes_back_as_typed(name, numbers, hundredths, shape):
    length, width, depth = (f"{each / 100:g} mm" for each in hundredths)
    typed = {key: f"{number} {UNITS[key]}".strip() for key, number in numbers.items()}
    typed |= {"name": name, "length": length, "width": width, "flange": "1 mm", "depth": depth, "round": shape}
    old = with_choices(LARGER)
    found = with_choice(old, None, {**choice_texts(old, None), **typed})
    assert (found.messages, found.waiting) == ({}, ())
    texts = choice_texts(found.job, 1)
    assert {key: texts[key] for key in typed} == typed
    assert all(text == "" for key, text in texts.items() if key not in typed)
    assert with_choice(found.job, 1, texts).job == found.job
    assert without_choice(found.job, 1) == old


# What is missing or wrong, beside its field.


def test_a_new_one_waits_for_its_name_and_its_four_sizes():
    found = with_choice(job(), None, choice_texts(job(), None))
    assert (found.job, found.messages, found.waiting) == (None, {}, ("name", "length", "width", "flange", "depth"))


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("name", "Write what it is called, so that it can be told from the others."),
        ("length", "Write its length over the flange, such as 26 mm."),
        ("width", "Write its width over the flange, such as 16 mm."),
        ("flange", "Write how thick its flange is, such as 1.2 mm."),
        ("depth", "Write how deep it is, magnet included, such as 6 mm."),
    ],
)
def test_one_that_is_there_keeps_its_name_and_sizes(name, message):
    assert typed_in(with_choices(LARGER), **{name: ""}).messages == {name: message}


def test_a_size_that_the_job_file_leaves_out_may_stay_out():
    found = typed_in(with_choices({"name": "half known"}), fs="400 Hz")
    assert found.job == with_choices({"name": "half known", "driver": {"fs": "400 Hz"}})


LENGTHS = ("length", "width", "flange", "depth", "basket_length", "basket_width", "rim", "terminals", "travel")


@pytest.mark.parametrize("name", LENGTHS)
def test_a_bad_size_is_told_beside_its_field(name):
    said = "'2': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
    assert typed_in(with_choices(WHOLE), **{name: "2"}).messages == {name: said}
    below = "the length is '-2 mm'; it must be {}. Check the sign."
    least = "0 or more" if name in ("terminals", "travel") else "above 0"
    assert typed_in(with_choices(WHOLE), **{name: "-2 mm"}).messages == {name: below.format(least)}


@pytest.mark.parametrize("name", UNITS)
def test_a_bad_parameter_is_told_beside_its_field(name):
    found = typed_in(with_choices(WHOLE), **{name: "five"})
    assert found.job is None
    assert set(found.messages) == {name}
    assert found.messages[name].startswith("'five': ")


@pytest.mark.parametrize(
    ("typed", "name", "message"),
    [
        ({"flange": "9 mm"}, "flange",
         ("larger: flange is 9.00 mm; it must be no thicker than the speaker's whole depth, 8.00 mm. Check which of "
         "the two was measured.")),
        ({"basket_width": "17 mm"}, "basket_width",
         ("larger: basket width is 17.00 mm; it must be no more than the flange's width, 16.00 mm. Check which of the "
         "two was measured.")),
        ({"round": "oval"}, "round", "its shape is 'oval'; write one of rectangular, round."),
        ({"name": "thin"}, "name", ("its name is 'thin'; it must be one that no other speaker has. Write one of its "
         "own.")),
        ({"name": "speaker"}, "name", ("its name is 'speaker'; it must be one that no other speaker has. Write one of "
         "its own.")),
        ({"name": "x" * 201}, "name",
         "the name of a speaker is 201 characters long; it must be 200 or fewer. Write a shorter one."),
        ({"name": "a\nb"}, "name", ("the name of a speaker is 'a b'; it must be readable. Write it on one line, "
         "without a line break (U+000A).")),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_told_beside_its_field(typed, name, message):
    found = typed_in(with_choices(LARGER, {**LARGER, "name": "thin"}), **typed)
    assert (found.job, found.messages) == (None, {name: message})


def test_names_that_were_alike_in_the_job_file_may_stay():
    old = with_choices(LARGER, LARGER)
    assert typed_in(old, fs="400 Hz").job.choices[0].driver.fs == "400 Hz"


def test_no_more_than_a_job_file_holds():
    most = with_choices(*({**LARGER, "name": f"speaker {number}"} for number in range(MOST)))
    found = with_choice(most, None, {**choice_texts(most, None), **SIZES, "name": "one more"})
    assert (found.job, found.messages) == (None, {"": f"A job compares {MOST} speakers at most. Take one out first."})


# Examples to begin with.


WITHIN = {"re_ohm": 0.05, "fs_hz": 0.15, "qes": 0.2, "qms": 0.2, "vas_mm3": 0.25, "sd_mm2": 0.1, "xmax_mm": 0.2}


@pytest.mark.parametrize("example", examples(), ids=lambda each: each.driver.name)
def test_an_example_is_complete_at_once_and_says_it_is_invented(example):
    driver, texts = example.driver, example_texts(example.driver.name)
    assert texts["name"] == f"{driver.name} {EXAMPLE_MARK}"
    for field, kind in PARAMETER_KINDS.items():
        text, known = texts[field.rpartition("_")[0] or field], driver.known(field)
        if known is None:
            assert text == ""
        else:
            read = parse_quantity(text, kind)
            off = WITHIN.get(field, 0) * known.value
            expected = pytest.approx((known.value, known.value - off, known.value + off), rel=1e-12)
            assert ((read.value, read.low, read.high), read.origin) == (expected, "estimated")
    found = with_choice(with_chamber(), None, texts)
    assert (found.messages, found.waiting) == ({}, ())
    body, read = plan(found.job).bench.sounds.choices[0]
    assert (float(body.length_mm), float(body.width_mm)) == (driver.length_mm, driver.width_mm)
    assert (float(body.flange_mm), float(body.depth_mm)) == (example.flange_mm, example.depth_mm)
    assert (read.length_mm, read.width_mm, read.round) == (driver.length_mm, driver.width_mm, driver.round)


def test_an_example_under_another_name_stays_an_estimate():
    found = with_choice(with_chamber(), None, {**example_texts("8 mm round speaker"), "name": "mine"})
    _, read = plan(found.job).bench.sounds.choices[0]
    assert {known.origin for _, known in read.parameters} == {"estimated"}


def test_the_examples_are_those_of_the_table():
    assert example_names() == [each.name for each in example_drivers()]
