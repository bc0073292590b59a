"""A job for a new model from a few answers: whole, named, saved and read again, and nothing in it measured."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath import plan
from modelmath.errors import JobError, OutOfRange
from modelmath.job.begin import LAMPS, MOST_STRETCHES, Answers, Stretch, begin, plain_names, rules_on
from modelmath.job.document import Job
from modelmath.job.entries.screen import entries_of, read_entries
from modelmath.job.entries.typed import BARE
from modelmath.job.entries.unread import take, unread
from modelmath.job.fields.measured import RuleEntry
from modelmath.job.next_model import NOT_MEASURED
from modelmath.job.shelf import Shelf
from modelmath.job.storage.files import job_text, parse_job
from modelmath.lengths.scales import all_scales

NAME = "Hood unit No. 5"
GAP = "Write the gap to keep, such as 0.5 mm."
UNITS = ("scale foot", "scale inch", "mm", "in")
stretch = st.builds(Stretch, st.text(max_size=12) | st.sampled_from(("motor", "cab", "front")), st.booleans())
answers = st.builds(
    Answers,
    name=st.text(min_size=1, max_size=40),
    scale=st.sampled_from([each.name for each in all_scales()]),
    unit=st.sampled_from(UNITS),
    zero=st.sampled_from(("", "0", "1", "3/4", "0.8 mm", "1//2", "-1", "900", "one")),
    keep=st.sampled_from(("0.5 mm", "1/4", "", "0", "-1 mm", "much")),
    stretches=st.lists(stretch, min_size=1, max_size=MOST_STRETCHES).map(tuple),
    speaker=st.booleans(),
    with_decoder=st.booleans(),
    decoder=st.sampled_from((("", "", ""), ("15", "9 mm", "3"), ("15", "", "3"), ("x", "9", "3"))),
    lamps=st.lists(st.sampled_from(sorted(LAMPS)), unique=True).map(tuple),
    lamp_room=st.sampled_from(("6 mm", "8", "0", "wide")),
)


def made(**changed: object) -> Job:
    found = begin(Answers(**{"name": NAME, **changed}))  # type: ignore[arg-type]
    assert found.messages == {}
    assert found.job is not None
    return found.job


# Whatever is answered.


@settings(max_examples=60)
@given(answers)
def test_any_answers_give_a_whole_job_in_which_nothing_is_measured_or_say_what_is_wrong(given_answers):
    found = begin(given_answers)
    assert (found.job is None) == bool(found.messages)
    if found.job is None:
        assert all(message.strip() for message in found.messages.values())
        return
    job = found.job
    assert parse_job(job_text(job), "job.toml") == (job, [])
    assert {each.mark for each in job.readings} == {NOT_MEASURED}
    assert [each.name for each in unread(job)] == [each.name for each in job.readings]
    assert [each.name for each in job.zones] == [
        " ".join(each.name.split()) or plain
        for each, plain in zip(given_answers.stretches, plain_names(len(given_answers.stretches)), strict=True)
    ]


@settings(max_examples=30)
@given(answers)
def test_the_first_screen_waits_for_every_reading_of_it_and_no_plan_is_worked_out(given_answers):
    job = begin(given_answers).job
    if job is None:
        return
    for zone, entry in enumerate(job.zones):
        outcome = read_entries(entries_of(job, zone), job, zone)
        assert outcome.job is None
        assert outcome.messages == {}
        assert {"chassis", "shell"} <= set(outcome.waiting)
        assert ("zero_offset" in outcome.waiting) == (not given_answers.zero)
        own = {entry.chassis_top, entry.underside}
        assert set(outcome.unread) == {each.name for each in job.readings} - own
        assert outcome.so_far == job
    with pytest.raises(JobError):
        _ = plan(job).gap


@settings(max_examples=25)
@given(st.lists(stretch, min_size=1, max_size=MOST_STRETCHES).map(tuple), st.sampled_from(UNITS))
def test_once_every_reading_is_taken_there_is_a_bulkhead_under_the_lowest_depth(stretches, unit):
    job = begin(Answers(NAME, unit=unit, zero="0", stretches=stretches)).job
    if job is None:
        return
    for place, each in enumerate(unread(job)):
        # Each chassis top a mm higher than the one before; the roofs far above, the lower one 2 mm lower.
        size = {"roof": "40 mm", "lower roof": "38 mm"}.get(each.name, f"{10 + place} mm")
        taken = take(job, each.name, size)
        assert taken.message == ""
        job = taken.job
    assert unread(job) == ()
    readings = {each.name: float(each.mark.removesuffix(" mm")) for each in job.readings}
    depths = {zone.name: readings[zone.underside] - readings[zone.chassis_top] for zone in job.zones}
    found = plan(job)
    assert float(found.gap.left_mm + found.chamber_height_mm) == pytest.approx(min(depths.values()), abs=1e-9)
    assert found.gap.over == min(depths, key=lambda name: depths[name])


# What the answers come to.


def test_a_name_is_enough():
    job = made()
    assert (job.name, job.scale, job.speaker is not None, job.decoder, job.lamps) == (NAME, "HO", True, None, [])
    assert [each.name for each in job.readings] == ["roof", "chassis top"]
    assert entries_of(job)["keep"] == "0.5 mm"
    assert read_entries(entries_of(job), job).waiting == ("zero_offset", "chassis", "shell")


def test_two_readings_then_give_the_bulkhead():
    job = made(zero="1")
    outcome = read_entries({**entries_of(job), "chassis": "3 1/4", "shell": "8 3/4"}, job)
    # 5 1/2 scale ft of 3.5 mm are 19.25 mm, less 0.5 mm are 18.75 mm: down to the quarter foot, 5 1/4 = 18.375 mm.
    assert float(plan(outcome.job).chamber_height_mm) == 18.375


@pytest.mark.parametrize(
    ("stretches", "readings"),
    [
        ((Stretch(),), ["roof", "chassis top"]),
        ((Stretch("cab"), Stretch("motor")), ["roof", "chassis top over cab", "chassis top over motor"]),
        (
            (Stretch(), Stretch("", True), Stretch()),
            ["roof", "lower roof", "chassis top over front", "chassis top over middle", "chassis top over rear"],
        ),
        ((Stretch("a", True), Stretch("b", True)), ["roof", "chassis top over a", "chassis top over b"]),
    ],
)
def test_stretches_share_the_roof_they_lie_under(stretches, readings):
    job = made(stretches=stretches)
    assert [each.name for each in job.readings] == readings
    lower = ["lower roof" if each.lower and "lower roof" in readings else "roof" for each in stretches]
    assert [zone.underside for zone in job.zones] == lower


def test_what_goes_in_stands_in_the_job():
    job = made(with_decoder=True, decoder=("15", "9", "3 mm"), lamps=("headlight", "interior lamp"), lamp_room="8")
    assert (job.decoder.length, job.decoder.height) == ("15 mm", "3 mm")
    assert [(each.name, each.end, each.room) for each in job.lamps] == [
        ("headlight", "front", "8 mm"),
        ("interior lamp", "rear", "8 mm"),
    ]
    assert job.notes == "Goes in: speaker; decoder; headlight; interior lamp."
    assert made(speaker=False).speaker is None
    assert made(speaker=False).notes == ""
    later = made(with_decoder=True)
    assert later.decoder is None
    assert later.notes == "Goes in: speaker; decoder, its three sizes still to be entered."


def test_a_rule_of_the_shelf_comes_with_its_zero():
    own = RuleEntry(name="bench rule", unit="mm", graduation="0.5", zero_offset="4", length="150")
    shelf = Shelf(rules=[own, RuleEntry(name="feelers", kind="feelers")])
    assert rules_on(shelf) == ("bench rule",)
    job = begin(Answers(NAME, scale="N", shelf_rule="bench rule"), shelf).job
    assert (job.rules[0].name, job.rules[0].zero_offset, job.marking.rule, job.marking.finest) == (
        "bench rule", "4", "bench rule", "0.5",
    )  # fmt: skip
    outcome = read_entries({**entries_of(job), "chassis": "10", "shell": "24"}, job)
    # 14 mm less 0.5 mm are 13.5 mm, which is a mark of the rule.
    assert float(plan(outcome.job).chamber_height_mm) == 13.5


# What is wrong, whole.


@pytest.mark.parametrize(
    ("changed", "question", "message"),
    [
        ({"name": "  "}, "name", "Write the model's name, such as Hood unit No. 5."),
        ({"name": "a\u202eb"}, "name",
         "It is 'a\\u202eb'; take out the mark U+202E, which turns the direction of the text beside it."),
        ({"scale": "zz"}, "scale", "No scale is called 'zz'; did you mean Z?"),
        ({"zero": "1//2"}, "zero", f"'1//2': it has two fraction strokes; write {BARE}."),
        ({"keep": "-1 mm"}, "keep", f"the clearance is -1 mm; it must be 0 or more. {GAP}"),
        ({"stretches": (Stretch("cab"), Stretch(" cab "))}, "stretch 2",
         "Another stretch is called 'cab'; give this one a name of its own."),
        ({"stretches": (Stretch("x" * 81),)}, "stretch 1", "The name has 81 characters; write 80 at most."),
        ({"with_decoder": True, "decoder": ("15", "", "3")}, "decoder_width",
         "Write the decoder's width, or leave all three empty for now."),
        ({"lamps": ("headlight",), "lamp_room": "0"}, "lamp_room",
         "the room is 0.00 mm; it must be above 0. Write what a lamp needs, such as 6 mm."),
        ({"shelf_rule": "gone"}, "shelf_rule",
         "There is no rule called 'gone' on the shelf that parts can be marked out with; choose another."),
    ],
)  # fmt: skip
def test_a_wrong_answer_is_said_at_its_question(changed, question, message):
    found = begin(Answers(**{"name": NAME, **changed}))
    assert found.job is None
    assert re.fullmatch(re.escape(message), found.messages[question])


@pytest.mark.parametrize("count", [0, 5])
def test_one_to_four_stretches_can_be_begun_with(count):
    advice = "Begin with these; more are added in the walkthrough."
    text = f"the number of stretches is {count}; it must be from 1 to 4. {advice}"
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        plain_names(count)
