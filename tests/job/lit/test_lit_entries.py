"""What lights, typed field by field: to the document and back, and what is wrong beside its field."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job.lit.lit_jobs import LIGHT, lit
from sample_jobs import with_chamber

from modelmath.job.bench.bench import Bench
from modelmath.job.document import SpotEntry
from modelmath.job.entries.inside.form import Form
from modelmath.job.entries.lit import circuits, feed, leads, spots, strands

FORMS: dict[str, tuple[Any, Any, Any]] = {
    "circuits": (circuits.circuit_texts, circuits.with_circuit, circuits.without_circuit),
    "strands": (strands.strand_texts, strands.with_strand, strands.without_strand),
    "leads": (leads.lead_texts, leads.with_lead, leads.without_lead),
}
NO_UNIT = "it has no unit; write"


def rows():
    return [(table, place) for table in FORMS for place in range(len(LIGHT[table]))]


def test_the_job_has_no_fault():
    assert Bench(lit()).faults == []


@pytest.mark.parametrize(("table", "place"), rows())
def test_an_entry_comes_back_as_it_was(table, place):
    texts, read, _ = FORMS[table]
    job = lit()
    found = read(job, place, texts(job, place))
    assert (found.job, found.messages) == (job, {})


@pytest.mark.parametrize(("table", "place"), rows())
def test_typed_anew_it_is_the_same_entry(table, place):
    texts, read, drop = FORMS[table]
    job = lit()
    alone = drop(job, place)
    assert len(getattr(alone.light, table)) == len(LIGHT[table]) - 1
    new = read(alone, None, texts(job, place))
    assert (new.messages, new.waiting) == ({}, ())
    assert getattr(new.job.light, table)[-1] == getattr(job.light, table)[place]


def test_what_feeds_comes_back_and_typed_anew_is_the_same():
    job = lit()
    assert feed.with_feed(job, feed.feed_texts(job)).job == job
    bare = lit(light={"feed": {"outputs": ["white", "yellow", "aux 1"]}, "keep_alive": None, "plug": None,
                      "most_drop": "0.1 V"})  # fmt: skip
    found = feed.with_feed(bare, feed.feed_texts(job))
    assert found.messages == {}
    assert found.job.light == job.light


CHANGES = [
    ("feed", None, {"supply": "12 V"}, ("feed", "supply"), "12 V"),
    ("feed", None, {"series": "E96"}, ("feed", "series"), "E96"),
    ("feed", None, {"most_drop": ""}, ("most_drop",), "0.1 V"),
    ("feed", None, {"over": ""}, ("keep_alive", "over"), None),
    ("feed", None, dict.fromkeys(("capacitance", "least", "load", "over"), ""), ("keep_alive",), None),
    ("feed", None, dict.fromkeys(("plug", "poles", "pole_most"), ""), ("plug",), None),
    ("feed", None, {"poles": "8"}, ("plug", "poles"), 8),
    ("circuits", 0, {"source": "ready made, needs nothing"}, ("circuits", 0, "source"), "ready made"),
    ("circuits", 0, {"leds": "3"}, ("circuits", 0, "leds"), 3),
    ("circuits", 0, {"forward": "3.0 V ± 0.1 V"}, ("circuits", 0, "forward"), "3.0 V ± 0.1 V"),
    ("circuits", 0, {"at": "3 mm, 25 mm up, 1 mm left"}, ("circuits", 0, "at"),
     {"along": "3 mm", "up": "25 mm", "right": "-1 mm"}),
    ("circuits", 0, {"at": ""}, ("circuits", 0, "at"), None),
    ("circuits", 1, {"output": ""}, ("circuits", 1, "output"), None),
    ("strands", 0, {"via": ""}, ("strands", 0, "via"), []),
    ("strands", 0, {"formed": "no"}, ("strands", 0, "formed"), False),
    ("strands", 1, {"trial": "1.25"}, ("strands", 1, "trial"), 1.25),
    ("strands", 1, {"trial": ""}, ("strands", 1, "trial"), 1.0),
    ("strands", 2, {"to": "57 mm, 20 mm up"}, ("strands", 2, "to"), {"along": "57 mm", "up": "20 mm", "right": "0 mm"}),
    ("leads", 0, {"crosses": "no"}, ("leads", 0, "crosses"), False),
    ("leads", 1, {"run": "1 in"}, ("leads", 1, "run"), "1 in"),
    ("leads", 1, {"count": ""}, ("leads", 1, "count"), 1),
]  # fmt: skip


def edited(table, place, job, typed):
    return feed.with_feed(job, typed) if table == "feed" else FORMS[table][1](job, place, typed)


@pytest.mark.parametrize(("table", "place", "typed", "path", "value"), CHANGES)
def test_one_field_changes_one_thing(table, place, typed, path, value):
    job = lit()
    found = edited(table, place, job, typed)
    assert found.messages == {}
    document, old = found.job.model_dump()["light"], job.model_dump()["light"]
    *way, last = path
    here, there = document, old
    for step in way:
        here, there = here[step], there[step]
    assert here[last] == value
    here[last] = there[last]
    assert document == old


WRONG = [
    ("feed", None, "supply", "14", f"'14': {NO_UNIT} a number with its unit, such as 2.5 V."),
    ("feed", None, "outputs", "white, white", ("the output is 'white'; expected one that stands once. Take one of the "
     "two out.")),
    ("feed", None, "outputs", "white, blue, green", "the output is 'yellow'; write 'white' or 'blue' or 'green'."),
    ("feed", None, "poles", "0", "the number of poles is '0'; expected a whole number from 1 to 99. Write 6, say."),
    ("feed", None, "poles", "", "Write how many poles the plug has, such as 6; or empty its other fields."),
    ("circuits", 0, "lamp", "head lights", "the lamp is 'head lights'; write 'headlights'."),
    ("circuits", 0, "lamp", "tail lamp", ("the lamp is 'tail lamp'; expected one that stands once. Leave out one, or "
     "give it another.")),
    ("circuits", 0, "output", "whit", "the output is 'whit'; write 'white'."),
    ("circuits", 0, "leds", "two", ("the number of LEDs is 'two'; expected a whole number from 1 to 20. Write 2 for "
     "two LEDs.")),
    ("circuits", 0, "at", "3 mm", ("the place is '3 mm'; expected how far behind the mark, how far up from the seat, "
     "and how far right or left. Write 12 mm, 24 mm up, 3 mm right.")),
    ("circuits", 0, "at", "3, 24 mm up", (f"'3': {NO_UNIT} a number with a unit, such as 15.9 mm, .040 in or "
     "3 3/4 scale ft.")),
    ("strands", 0, "lamp", "tail", "the lamp is 'tail'; write 'tail lamp'."),
    ("strands", 0, "name", "tail", ("the name is 'tail'; expected one that stands once. Leave out one, or give it "
     "another.")),
    ("strands", 0, "diameter", "1 mm", ("the lens is given by bore and diameter; it must be given by one of them. "
     "Leave out the others.")),
    ("strands", 0, "radius", "0 mm", "the length is '0 mm'; it must be above 0. Measure it, and write its size."),
    ("strands", 1, "trial", "x", "the factor of trial ends is 'x'; expected a number such as 1.1. Write 1 for none."),
    ("strands", 1, "trial", "9", ("the factor of trial ends is 9; it must be from 0.2 to 5. Form a few trial ends and "
     "measure them again.")),
    ("leads", 0, "gauge", "x", None),
    ("leads", 0, "run", "", "Write how far it runs, such as 80 mm."),
]  # fmt: skip


@pytest.mark.parametrize(("table", "place", "field", "text", "message"), WRONG)
def test_a_wrong_text_is_told_beside_its_field(table, place, field, text, message):
    found = edited(table, place, lit(), {field: text})
    assert found.job is None
    assert set(found.messages) == {field}
    if message is not None:
        assert found.messages[field] == message


def test_an_output_that_alone_is_renamed_keeps_its_lamps_and_leads():
    found = feed.with_feed(lit(), {"outputs": "front white, yellow, aux 1"})
    assert found.messages == {}
    assert found.job.light.circuits[0].output == "front white"
    assert found.job.light.leads[1].output == "front white"


def test_a_new_one_waits_for_what_it_needs():
    job = lit()
    assert strands.with_strand(job, None, {}).waiting == ("name", "lamp", "to")
    assert leads.with_lead(job, None, {}).waiting == ("name", "run")
    bare = lit(light={"circuits": []})
    assert circuits.circuit_texts(bare, None)["lamp"] == "headlights"
    assert circuits.with_circuit(bare, None, {}).job.light.circuits[0].source == "LED"


lengths = st.decimals("0.01", "99", places=2).map(lambda size: f"{size} mm") | st.sampled_from([".04 in", "1/4 in"])
signed = lengths | lengths.map(lambda text: f"-{text}")
SPOTS = st.builds(SpotEntry, along=signed, up=lengths, right=signed | st.just("0 mm"))


@settings(max_examples=60, deadline=None)
@given(st.lists(SPOTS, max_size=5))
def test_places_come_back_as_they_were(entries):
    form = Form(with_chamber(), {}, {})
    text = spots.spots_text(entries)
    assert spots.read_spots(form, text) == [each.model_dump() for each in entries]
