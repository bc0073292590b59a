"""A job copied to the next model: what carries over, what is marked, what must be measured again."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel
from sample_jobs import DEMOS, SMALLEST, changed, job, with_chamber

from modelmath import plan
from modelmath.errors import JobError, UnknownChoice, UnknownScale, WrongKind
from modelmath.job.document import Job, ProgressEntry
from modelmath.job.entries.inside.form import Form
from modelmath.job.entries.screen import entries_of, read_entries
from modelmath.job.entries.zones import with_zones, zone_rows
from modelmath.job.fields.base import Entry
from modelmath.job.next_model import FIELDS, NOT_MEASURED, WHOLE, as_read, copied, copied_readings
from modelmath.job.next_model.treatments import WORDS
from modelmath.job.storage.files import load_job, save_job
from modelmath.lengths.scales import scale

NAMES = sorted(DEMOS)
LITTLE = changed(
    lamps=[{"name": "headlight", "end": "front", "room": "6 mm", "strand": "1 mm"}],
    light={"circuits": [{"lamp": "headlight", "leds": 2, "at": {"along": "3 mm", "up": "9 mm"}}],
           "strands": [{"name": "left", "lamp": "headlight", "to": {"along": "1 mm", "up": "8 mm"}}]},
    holes=[{"name": "headlight", "right": "1 mm", "up": "4 mm"}],
    progress={"done": ["dry fit"]},
    build={"kerf": "0.4 mm", "count": 3},
    notes="only of the first one",
)  # fmt: skip


def whole(text):
    return f"^{re.escape(text)}$"


def tables(model, found=None):
    """Return every table of the document by name, found by walking its fields."""
    found = {} if found is None else found
    if model.__name__ not in found:
        found[model.__name__] = model
        for field in model.model_fields.values():
            for each in inside(field.annotation):
                tables(each, found)
    return found


def inside(annotation):
    args = getattr(annotation, "__args__", ())
    own = [annotation] if isinstance(annotation, type) and issubclass(annotation, BaseModel) else []
    return own + [each for arg in args for each in inside(arg)]


# Nothing of the document is forgotten.


def test_of_every_table_somebody_decided_what_becomes_of_it():
    assert set(tables(Job)) == set(WHOLE) | set(FIELDS)
    assert not set(WHOLE) & set(FIELDS)


@pytest.mark.parametrize("table", sorted(FIELDS))
def test_of_every_field_of_a_mixed_table_somebody_decided(table):
    assert set(FIELDS[table]) == set(tables(Job)[table].model_fields)


def test_a_new_table_would_not_go_unseen():
    class NewEntry(Entry):
        name: str = ""

    class Longer(Job):
        new: NewEntry | None = None

    assert "NewEntry" in tables(Longer)
    assert "NewEntry" not in set(WHOLE) | set(FIELDS)


def test_every_table_of_a_job_has_words():
    assert set(FIELDS["Job"]) - set(WORDS) == {"format", "name", "scale", "notes"}


def test_what_is_left_out_may_be_left_out():
    for name, fields in FIELDS.items():
        for field, carry in fields.items():
            assert carry != "left out" or not tables(Job)[name].model_fields[field].is_required()


# What carries over.


@pytest.mark.parametrize("keep", [True, False])
@pytest.mark.parametrize("name", NAMES)
def test_a_demo_is_copied(name, keep, tmp_path):
    before = DEMOS[name]
    found = copied(before, "Tarn Valley next", keep_readings=keep)
    new = found.job
    assert (new.name, new.scale, new.demo) == ("Tarn Valley next", before.scale, before.demo)
    for field in ("rules", "marking", "clearance", "drawer", "decoder", "chamber", "zones", "links", "lamps", "wires"):
        assert getattr(new, field) == getattr(before, field)
    assert new.sound.driver == before.sound.driver
    assert [each.name for each in new.readings] == [each.name for each in before.readings]
    assert [(each.rule, each.datum, each.on) for each in new.readings] == [
        (each.rule, each.datum, each.on) for each in before.readings
    ]
    assert {each.copied for each in new.readings} == {before.name}
    assert (new.holes, new.weight, new.progress) == ([], None, ProgressEntry())
    assert (new.light.strands, new.light.leads) == ([], [])
    assert [each.at for each in new.light.circuits] == [None] * len(new.light.circuits)
    save_job(new, tmp_path / "next.toml")
    assert load_job(tmp_path / "next.toml") == new


@pytest.mark.parametrize("name", NAMES)
def test_without_marks_nothing_can_be_cut(name):
    new = copied(DEMOS[name], "next").job
    assert {(each.mark, *each.again) for each in new.readings} == {(NOT_MEASURED,)}
    first = new.readings[0].name
    said = (
        f"the job, reading 1 ('{first}'), mark: 'not measured': that is still to be measured; write what you read or "
        "measure."
    )
    with pytest.raises(JobError, match=whole(said)):
        plan(new)


@pytest.mark.parametrize("name", NAMES)
def test_a_first_guess_says_first_that_it_is_copied(name):
    new = copied(DEMOS[name], "next", keep_readings=True).job
    first = plan(new).warnings[0]
    begins = f"Copied from {DEMOS[name].name}, not measured: measure again before you cut. Not read here yet: "
    assert first.startswith(begins + f"'{new.readings[0].name}'")
    assert plan(as_read(new, [each.name for each in new.readings])).warnings == tuple(
        each for each in plan(new).warnings if not each.startswith("Copied from")
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_first_guess_is_the_plan_of_the_other_where_nothing_was_placed_by_hand(name):
    before, new = DEMOS[name], copied(DEMOS[name], "next", keep_readings=True).job
    bare = {"weight": None, "holes": [], "light": {**before.light.model_dump(), "strands": [], "leads": []}}
    other = Job.model_validate({**before.model_dump(), **bare})
    document = other.model_dump()
    for entry in document["obstacles"]:
        entry["trim"] = "0 mm"
    for entry in filter(None, (document["speaker"], *document["choices"])):
        entry["place"] = entry["place"] if entry["place"] in ("front", "middle", "rear") else "middle"
    assert plan(new).parts == plan(Job.model_validate(document)).parts


def test_what_belongs_to_one_model_is_left_out_and_said():
    found = copied(job(LITTLE), "next", keep_readings=True)
    assert found.job.build.kerf == "0.4 mm"
    assert found.job.build.count == 1
    assert found.job.lamps == job(LITTLE).lamps
    assert found.job.light.circuits[0].leds == 2
    assert found.carried == (
        "rules: 'scale rule'", "what parts are marked out with", "clearances", "zones by their names: 'motor'",
        "what lights", "lamps: 'headlight'", "how parts are made",
    )  # fmt: skip
    assert found.measure_again == (
        "readings: 'roof', 'motor top'", "what the lamps are 'headlight': at",
        "strands and their lenses: 'left' (left out)", "holes moved by hand: 'headlight' (left out)",
        "progress (left out)",
    )  # fmt: skip
    assert found.job.notes == (
        "Copied from test hood. Measure or enter again before you cut: readings: 'roof', 'motor top'; what the lamps "
        "are 'headlight': at; strands and their lenses: 'left' (left out); holes moved by hand: 'headlight' (left "
        "out); progress (left out)."
    )


def test_what_stands_in_the_way_is_kept_until_it_is_measured():
    document = with_chamber().model_dump()
    document["readings"] += [{"name": name, "mark": mark, "on": on} for name, mark, on in
                             (("post front", "10", "shell"), ("post rear", "11", "shell"))]  # fmt: skip
    document["obstacles"] = [{"name": "post", "kind": "screw post", "start": "post front", "end": "post rear",
                              "width": "4 mm", "trim": "1 mm"}]  # fmt: skip
    found = copied(Job.model_validate(document), "next", keep_readings=True)
    assert found.job.obstacles[0].width == "4 mm"
    assert found.job.obstacles[0].trim == "0 mm"
    assert "what stands in the shell 'post': width, trim" in found.measure_again


def test_a_copy_of_a_copy_says_where_its_readings_truly_come_from():
    first = copied(job(), "second", keep_readings=True).job
    read = as_read(first, ["roof"])
    second = copied(read, "third", keep_readings=True).job
    assert [each.copied for each in second.readings] == ["second", "test hood"]
    assert [each for each in plan(second).warnings if each.startswith("Copied")] == [
        "Copied from second, not measured: measure again before you cut. Not read here yet: 'roof'.",
        "Copied from test hood, not measured: measure again before you cut. Not read here yet: 'motor top'.",
    ]


def test_notes_say_as_much_as_they_hold_and_how_much_more():
    many = [{"name": f"{number:03d} {'x' * 190}", "lamp": "headlight", "to": {"along": "1 mm", "up": "8 mm"}}
            for number in range(9)]  # fmt: skip
    light = {"circuits": LITTLE["light"]["circuits"], "strands": many, "leads": []}
    holes = [{"name": f"{number:03d} {'y' * 190}", "right": "1 mm", "up": "1 mm"} for number in range(9)]
    found = copied(job(changed(LITTLE, light=light, holes=holes)), "next")
    assert len(found.job.notes) <= 2000
    assert found.job.notes.endswith("; and 2 more.")
    assert all(f"'{each['name']}'" in " ".join(found.measure_again) for each in (*many, *holes))


# Into another scale.


@pytest.mark.parametrize("name", NAMES)
def test_in_another_scale_a_first_guess_is_scaled_and_marked(name):
    before = DEMOS[name]
    other = "O" if before.scale != "O" else "HO"
    new = copied(before, "next", other, keep_readings=True).job
    ratio = scale(before.scale).ratio / scale(other).ratio
    lengths = {key: each.measured.exact_mm for key, each in plan(before).bench.readings.items()}
    for reading in new.readings:
        assert reading.copied == before.name
        found = plan(new).bench.readings[reading.name].measured.exact_mm
        assert abs(found - lengths[reading.name] * ratio) <= 0.0051  # written to 0.01 mm


@pytest.mark.parametrize("name", NAMES)
def test_in_another_scale_an_empty_copy_keeps_its_rules_alone(name):
    before = DEMOS[name]
    new = copied(before, "next", "O" if before.scale != "O" else "HO").job
    assert [each.name for each in new.rules] == [each.name for each in before.rules]
    assert [each.rule for each in new.readings] == [each.rule for each in before.readings]


def test_notes_of_the_other_model_are_no_hindrance_in_another_scale():
    assert copied(job(changed(notes="n" * 2000)), "next", "O").job.notes.startswith(
        "Copied from test hood, taken over from HO to O. Measure or enter again before you cut: "
    )


# What can't be.


def test_a_name_that_can_not_be_one_is_refused():
    said = (
        "the next model's name is ' test  hood'; expected another than that of the model it is copied from. Give it a "
        "name of its own."
    )
    with pytest.raises(WrongKind, match=whole(said)):
        copied(job(), " test  hood")
    with pytest.raises(JobError, match=whole("the copy, name: it is empty; write something between the quotes.")):
        copied(job(), "")
    said = "No scale is called 'xyz'; did you mean Z, X?"
    with pytest.raises(UnknownScale, match=whole(said)):
        copied(job(), "next", "xyz")
    with pytest.raises(
        UnknownChoice, match=whole("the reading is 'rof'; write one of roof, motor top. Did you mean 'roof'?")
    ):
        as_read(job(), ["rof"])


# The mark goes once a reading is typed anew.


def marked(found):
    return [each.name for each in copied_readings(found)]


def test_typing_a_reading_on_the_first_screen_clears_its_mark_alone():
    new = copied(with_chamber(), "next", keep_readings=True).job
    every = marked(new)
    typed = entries_of(new)
    assert marked(read_entries(typed, new).job) == every
    assert marked(read_entries({**typed, "shell": "9 1/2"}, new).job) == [name for name in every if name != "roof"]
    assert marked(read_entries({**typed, "width": "20 mm"}, new).job) == [name for name in every if name != "width"]
    assert marked(read_entries({**typed, "keep": "0.9 mm"}, new).job) == every


def test_an_empty_copy_is_filled_in_on_the_first_screen():
    new = copied(job(), "next").job
    typed = entries_of(new)
    assert typed["shell"] == typed["chassis"] == ""  # still to enter, rather than a text that can't be read
    outcome = read_entries({**typed, "shell": "9 1/4", "chassis": "5 1/2"}, new)
    assert marked(outcome.job) == []
    assert plan(outcome.job).parts == plan(job()).parts


def test_further_readings_of_the_same_spot_are_read_here_too():
    new = copied(job(), "next", keep_readings=True).job
    assert marked(read_entries({**entries_of(new), "shell": "9 1/4; 9 1/4"}, new).job) == ["motor top"]


@pytest.mark.parametrize("name", NAMES)
def test_the_zones_editor_clears_what_is_typed_alone(name):
    new = copied(DEMOS[name], "next", keep_readings=True).job
    rows = zone_rows(new)
    assert set(marked(with_zones(new, rows))) <= set(marked(new))
    kept = with_zones(new, rows)
    for reading in kept.readings:
        assert reading.copied == DEMOS[name].name


def test_a_reading_made_after_another_is_no_copy():
    new = copied(job(), "next", keep_readings=True).job
    document = new.model_dump()
    document["readings"].append({**document["readings"][0], "name": "roof, left", "mark": "9"})
    form = Form(new, {}, {})
    form.document = document
    assert marked(form.outcome(lambda _fault, _job: "").job) == ["roof", "motor top"]


@given(st.lists(st.sampled_from(["roof", "motor top", "width", "length"]), unique=True))
@settings(max_examples=16, deadline=None)
def test_the_caution_goes_reading_by_reading(names):
    new = copied(with_chamber(), "next", keep_readings=True).job
    left = marked(as_read(new, names))
    assert left == [name for name in marked(new) if name not in names]
    said = [each for each in plan(as_read(new, names)).warnings if each.startswith("Copied")]
    assert bool(said) == bool(left)


def test_smallest_is_not_changed_by_copying():
    before = job()
    copied(before, "next", "O", keep_readings=True)
    assert before == job(SMALLEST)
