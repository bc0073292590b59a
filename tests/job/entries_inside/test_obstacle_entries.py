"""Obstacles and cross-sections, typed and back. All numbers invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job

from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job, ObstacleEntry, ProfileEntry, ReadingEntry
from modelmath.job.entries.inside.obstacles import KINDS, obstacle_texts, with_obstacle, without_obstacle
from modelmath.job.entries.inside.sections import section_texts, with_section, without_section
from modelmath.job.storage.files import job_text, parse_job
from modelmath.lengths.parse import parse_length

MARKS = {"roof": "30", "low": "10", "high": "22", "width": "20", "inside": "100", "hole": "10", "pin": "15",
         "step": "75", "clip front": "35", "clip rear": "45", "clip top": "14"}  # fmt: skip
ON = {"inside": "shell", "hole": "shell", "pin": "chassis", "clip front": "chassis", "clip rear": "chassis"}
CLIP = {"name": "motor clip", "kind": "motor frame", "start": "clip front", "end": "clip rear", "top": "clip top",
        "width": "8 mm", "running": "0.4 mm", "trim": "1 mm"}  # fmt: skip


def shell(**fields) -> Job:
    """A shell 100 mm long over two zones, read with a steel rule."""
    readings = [{"name": n, "mark": m} | ({"on": ON[n]} if n in ON else {}) for n, m in MARKS.items()]
    readings = [each | ({"on": "chassis"} if each["name"] == "step" else {}) for each in readings]
    zones = [
        {"name": "low end", "underside": "roof", "chassis_top": "low", "width": "width", "end": "step"},
        {"name": "gear box", "underside": "roof", "chassis_top": "high", "width": "width"},
    ]
    document = {
        "rules": [{"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200"}],
        "marking": {"rule": "steel rule", "finest": "0.5"},
        "clearance": {"keep": "1 mm", "along": "0.5 mm"},
        "readings": readings,
        "zones": zones,
        "length": {"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin"},
    }
    return job(**{**document, **fields})


POST = {"name": "screw post", "kind": "screw post", "start": "20 mm", "start_on": "shell", "end": "26 mm",
        "end_on": "shell", "reach": "up to the roof", "width": "6 mm"}  # fmt: skip


def taken(found) -> Job:
    assert (found.messages, found.waiting) == ({}, ())
    return found.job


def without_change(old: Job, new: Job, *tables: str) -> None:
    """Every other table is as it was."""
    kept = set(Job.model_fields) - set(tables)
    assert old.model_dump(include=kept) == new.model_dump(include=kept)


def test_an_obstacle_that_is_typed_in_is_read_where_it_was_typed():
    new = taken(with_obstacle(shell(), None, POST))
    without_change(shell(), new, "obstacles", "readings")
    assert new.readings[: len(MARKS)] == shell().readings
    assert new.readings[len(MARKS) :] == [
        ReadingEntry(name="screw post, start", mark="20 mm", rule="steel rule", on="shell"),
        ReadingEntry(name="screw post, end", mark="26 mm", rule="steel rule", on="shell"),
    ]
    bench = Bench(new)
    assert not bench.faults
    box = bench.moving[0].obstacle.outward()
    # The mark lies 10 mm behind the shell's front; 0.5 mm is kept round it, as without an entry of its own.
    assert (float(box.start_mm), float(box.end_mm), float(box.top_mm)) == (9.5, 16.5, 30)
    assert float(box.half_width_mm) == 3.5


def test_without_a_caliper_or_steel_rule_one_is_put_in():
    feet = [{"name": "feet", "graduation": "1/4", "zero_offset": "1", "scale": None}]
    old = shell(rules=feet, marking={"rule": "feet", "finest": "1/4"})
    new = taken(with_obstacle(old, None, {**POST, "end": "1 in"}))
    assert [rule.name for rule in new.rules] == ["feet", "caliper or steel rule"]
    assert {each.rule for each in new.readings[len(MARKS) :]} == {"caliper or steel rule"}


def test_texts_of_an_obstacle_name_the_unit_of_each_reading():
    assert obstacle_texts(shell(obstacles=[CLIP]), 0) == {
        "name": "motor clip", "kind": "motor frame", "start": "35 mm", "start_on": "chassis", "end": "45 mm",
        "end_on": "chassis", "reach": "to its own top", "top": "14 mm", "width": "8 mm", "off_centre": "",
        "running": "0.4 mm", "trim": "1 mm",
    }  # fmt: skip


def test_a_reading_of_its_own_is_changed_and_a_shared_one_is_left_to_the_others():
    old = shell(obstacles=[{**CLIP, "end": "step"}])
    own = taken(with_obstacle(old, 0, {"start": "36 mm"}))
    without_change(old, own, "readings")
    assert [a.name for a, b in zip(old.readings, own.readings, strict=True) if a != b] == ["clip front"]
    shared = taken(with_obstacle(old, 0, {"end": "70 mm"}))
    without_change(old, shared, "readings", "obstacles")
    assert shared.readings[:-1] == old.readings
    assert shared.obstacles[0].end == shared.readings[-1].name == "motor clip, end"
    back = taken(with_obstacle(shared, 0, {"end": "71 mm"}))
    assert (back.readings[-1].mark, len(back.readings)) == ("71 mm", len(shared.readings))


def test_a_new_reading_gets_a_name_of_its_own():
    extra = {"name": "screw post, start", "mark": "3", "on": "shell"}
    old = shell(readings=[*(each.model_dump() for each in shell().readings), extra])
    assert taken(with_obstacle(old, None, POST)).obstacles[0].start == "screw post, start 2"


def test_several_readings_of_one_spot_and_the_other_half():
    new = taken(with_obstacle(shell(obstacles=[CLIP]), 0, {"start": "30 mm; 30.2 mm", "start_on": "shell"}))
    (entry,) = [each for each in new.readings if each.name == "clip front"]
    assert (entry.mark, entry.again, entry.on) == ("30 mm", ["30.2 mm"], "shell")
    assert obstacle_texts(new, 0)["start"] == "30 mm; 30.2 mm"
    turned = taken(with_obstacle(shell(obstacles=[CLIP]), 0, {"start_on": "shell"}))
    assert [(a.name, b.on) for a, b in zip(shell().readings, turned.readings, strict=True) if a != b] == [
        ("clip front", "shell")
    ]


def test_up_to_the_roof_takes_the_reading_of_its_top_out():
    old = shell(obstacles=[CLIP])
    new = taken(with_obstacle(old, 0, {"reach": "up to the roof", "top": ""}))
    without_change(old, new, "readings", "obstacles")
    assert {each.name for each in old.readings} - {each.name for each in new.readings} == {"clip top"}
    again = taken(with_obstacle(new, 0, {"reach": "to its own top", "top": "14 mm"}))
    assert again.obstacles[0].top == "motor clip, top"


def test_taking_an_obstacle_out_takes_only_its_own_readings():
    old = shell(obstacles=[{**CLIP, "end": "step"}])
    new = without_obstacle(old, 0)
    without_change(old, new, "readings", "obstacles")
    assert new.obstacles == []
    assert {each.name for each in old.readings} - {each.name for each in new.readings} == {"clip front", "clip top"}


def test_adding_and_taking_out_again_leaves_the_job_as_it_was():
    assert without_obstacle(taken(with_obstacle(shell(), None, POST)), 0) == shell(
        readings=[each.model_dump() for each in shell().readings if not each.name.startswith("clip")]
    ).model_copy(update={"readings": shell().readings})


def test_what_is_missing_is_waited_for_in_a_new_one_and_asked_for_in_an_old_one():
    found = with_obstacle(shell(), None, {})
    assert (found.job, found.messages, found.waiting) == (None, {}, ("name", "start", "end", "top"))
    found = with_obstacle(shell(obstacles=[CLIP]), 0, {"name": "", "start": "", "top": ""})
    assert found.job is None
    assert found.messages == {
        "name": "Write a name for it, such as motor clip.",
        "start": "Write where it is along that half, such as 35 mm.",
        "top": "Write the height of its top above the seat, such as 14 mm, or choose up to the roof.",
    }


NO_UNIT = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
WRONG = [
    ("start", "36", f"'36': {NO_UNIT}"),
    ("start", "36 mm; 37", f"'37': {NO_UNIT}"),
    ("end", "nan mm", ("'nan mm': that is not a number; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 "
     "scale ft.")),
    ("top", "14", f"'14': {NO_UNIT}"),
    ("width", "8", f"'8': {NO_UNIT}"),
    ("width", "0 mm", "the length is '0 mm'; it must be above 0. Measure it, and write its size."),
    ("off_centre", "2", f"'2': {NO_UNIT}"),
    ("running", "-1 mm", "the length is '-1 mm'; it must be 0 or more. Check the sign."),
    ("trim", "a bit",
     ("'a bit': 'a' is no number or unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 "
     "scale ft.")),
    ("kind", "motor", ("the kind is 'motor'; write one of motor frame, gear tower, flywheel, truck, decoder, lamp "
     "bracket, screw post, screw, other. Did you mean 'motor frame'?")),
    ("start_on", "roof", "the half is 'roof'; write one of chassis, shell."),
    ("reach", "high", "how high it reaches is 'high'; write one of to its own top, up to the roof."),
    ("reach", "up to the roof", None),
    ("end", "20 mm", ("the obstacle is -15.00 mm long; it must be longer than 0. Check the readings of its start and "
     "end.")),
    ("start", "500 mm",
     ("the reading is 500 mm; it must be on steel rule, whose last mark is 200 mm. Read it again, or "
     "use a longer rule.")),
    ("name", "gear box", ("the name is 'gear box'; expected a name that no zone and nothing that moves has. Give one "
     "of the two another.")),
    ("name", "x" * 201, ("the name of the obstacle is 201 characters long; it must be 200 or fewer. Write a shorter "
     "one.")),
]  # fmt: skip


@pytest.mark.parametrize(("field", "text", "message"), WRONG, ids=[f"{f} {t[:16]}" for f, t, _ in WRONG])
def test_a_wrong_text_is_told_beside_its_field(field, text, message):
    found = with_obstacle(shell(obstacles=[CLIP]), 0, {field: text})
    assert found.job is None
    if message is None:
        said = "It reaches up to the roof: empty this field, or choose that it has its own top."
        assert found.messages == {"top": said}
    else:
        assert found.messages == {field: message}


def test_a_top_below_all_of_the_chassis_is_taken_and_said():
    """The chassis is 10 mm high where it is lowest; 0.4 mm is kept round the clip, which does not raise it."""
    said = "below all of the chassis, where nothing goes; heights count from the seat"
    for top, echo in (("9.9 mm", f"9.90 mm = 0.390 in: {said}"), ("10 mm", "10.00 mm = 0.394 in")):
        found = with_obstacle(shell(obstacles=[CLIP]), 0, {"top": top})
        assert (found.job is None, found.messages, found.echoes["top"]) == (False, {}, echo)


def test_a_mark_that_may_be_real_or_scale_is_refused():
    feet = {"name": "feet", "graduation": "1/4", "zero_offset": "1", "length": "60"}
    readings = [each.model_dump() for each in shell().readings if each.name != "clip top"]
    readings.append({"name": "clip top", "mark": "4", "rule": "feet"})
    old = shell(rules=[*(each.model_dump() for each in shell().rules), feet], readings=readings, obstacles=[CLIP])
    assert obstacle_texts(old, 0)["top"] == "4 scale ft"
    assert with_obstacle(old, 0, {"top": "4 ft"}).messages == {
        "top": "'4 ft': that may be a real or a scale unit; write 15.9 mm, or 3 3/4 scale ft."
    }
    new = taken(with_obstacle(old, 0, {"top": "4 1/4 scale ft"}))
    assert new.readings[-1] == ReadingEntry(name="clip top", mark="4 1/4 scale ft", rule="feet")


def test_without_a_length_or_a_mark_it_is_said_what_to_enter_first():
    bare = shell(length=None, zones=[shell().zones[1].model_dump()])
    said = "Enter the length inside the shell first: what stands in it has its place along that."
    assert with_obstacle(bare, None, POST).messages == {"": said}
    unmarked = shell(length={"shell_inside": "inside"}, zones=[shell().zones[1].model_dump()])
    assert with_obstacle(unmarked, None, {**POST, "start_on": "chassis"}).messages == {
        "start_on": "A place on the chassis needs the fore-aft mark, measured on both halves: enter it above the "
        "zones, or read this place on the shell."
    }
    assert obstacle_texts(unmarked, None)["start_on"] == "shell"


def test_no_more_than_a_job_may_have():
    many = [{**CLIP, "name": f"clip {at}"} for at in range(50)]
    found = with_obstacle(shell(obstacles=many), None, POST)
    assert found.messages == {"": "A job has 50 obstacles at most. Take one out, or enter two that touch as one."}


def test_a_fault_that_was_there_before_does_not_keep_an_entry_out():
    old = shell(obstacles=[{**CLIP, "start": "clip rear", "end": "clip front"}])
    new = taken(with_obstacle(old, None, POST))
    assert [each.name for each in new.obstacles] == ["motor clip", "screw post"]


lengths = st.decimals("0.01", "90", places=2).map(lambda size: f"{size} mm") | st.sampled_from(
    [".040 in", "3 1/4 scale ft", "1/2 in", "0,4 mm", "1.5mm"]
)
names = st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=20).filter(str.strip)


@given(
    st.builds(
        ObstacleEntry, name=names, kind=st.sampled_from(KINDS), start=st.just("clip front"), end=st.just("clip rear"),
        top=st.sampled_from(["clip top", "roof", None]), width=st.none() | lengths, off_centre=lengths,
        running=lengths, trim=lengths,
    ),
    st.sampled_from([{}, {"name": "another"}, {"trim": "0.7 mm"}, {"kind": "screw"}, {"width": "7 mm"}]),
)  # fmt: skip
def test_an_obstacle_comes_back_as_it_was(entry, edit):
    """Document to texts and back is the same document; one field edited leaves all else as it is."""
    old = shell(obstacles=[entry.model_dump()])
    assert with_obstacle(old, 0, obstacle_texts(old, 0)).job == old
    found = with_obstacle(old, 0, {**obstacle_texts(old, 0), **edit})
    if found.job is not None:
        without_change(old, found.job, "obstacles")
        assert found.job.obstacles[0] == entry.model_copy(update=edit)


places = st.decimals("0.25", "29.75", places=2).map(str) | st.sampled_from(["12 1/2", "7 mm", "1/2 in", "1.5 cm"])


@given(places, places, st.sampled_from(["chassis", "shell"]), lengths, st.none() | lengths)
def test_the_texts_of_an_obstacle_typed_into_another_job_say_the_same(start, top, half, running, width):
    marks = {"clip front": (start, half), "clip rear": ("95", half), "clip top": (top, None)}
    readings = [each.model_dump() for each in shell().readings if each.name not in marks]
    readings += [{"name": name, "mark": mark, "on": on} for name, (mark, on) in marks.items()]
    source = shell(readings=readings, obstacles=[{**CLIP, "running": running, "width": width}])
    found = with_obstacle(shell(), None, obstacle_texts(source, 0))
    if found.job is None:  # such as a top below the chassis, which is no matter of reading
        assert Bench(source).faults
        return
    same = [Bench(each).moving[0].obstacle.outward() for each in (source, found.job)]
    assert same[0] == same[1]


def test_comments_of_the_file_survive_an_edit():
    text = job_text(shell(obstacles=[CLIP])).replace('name = "motor clip"', 'name = "motor clip" # mine')
    old, _ = parse_job(text)
    new = taken(with_obstacle(old, 0, {"trim": "2 mm"}))
    assert 'name = "motor clip" # mine' in job_text(new, text)
    assert parse_job(job_text(new, text))[0] == new


# Cross-sections.

ARCH = {"name": "arch", "points": [{"down": "0 mm", "width": "10 mm"}, {"down": "5 mm", "width": "20 mm"}]}


def arched(**fields) -> Job:
    zones = [each.model_dump() for each in shell().zones]
    zones[0]["profile"] = "arch"
    return shell(**{"zones": zones, "profiles": [ARCH], **fields})


def test_a_section_is_one_line_and_its_zones():
    assert section_texts(arched(), 0) == {
        "name": "arch", "points": "0 mm: 10 mm; 5 mm: 20 mm", "zone 0": "yes", "zone 1": "no"
    }  # fmt: skip
    new = taken(with_section(shell(), None, {"name": "arch", "points": "0 mm: 10 mm; 5 mm: 20 mm", "zone 0": "yes"}))
    assert new == arched()
    assert without_section(new, 0) == shell()


def test_renamed_its_zones_go_with_it_and_a_zone_may_change_its_section():
    new = taken(with_section(arched(), 0, {"name": "round"}))
    assert [each.profile for each in new.zones] == ["round", None]
    two = taken(with_section(arched(), None, {"name": "slope", "points": "0 mm: 1 mm; 2 mm: 3 mm", "zone 1": "yes"}))
    assert [each.profile for each in two.zones] == ["arch", "slope"]
    over = taken(with_section(two, 1, {"zone 0": "yes"}))
    assert [each.profile for each in over.zones] == ["slope", "slope"]
    off = taken(with_section(over, 1, {"zone 0": "no"}))
    assert [each.profile for each in off.zones] == [None, "slope"]
    without_change(over, off, "zones")


WRONG_SECTIONS = [
    ("points", "0 mm 12 mm", ("the point is '0 mm 12 mm'; expected a depth below the roof, a colon, and the full width "
     "there. Write 0 mm: 12 mm; 3 mm: 20 mm.")),
    ("points", "0: 12 mm; 3 mm: 20 mm", f"'0': {NO_UNIT}"),
    ("points", "0 mm: 12; 3 mm: 20 mm", f"'12': {NO_UNIT}"),
    ("points", "0 mm: 12 mm", ("the number of points is 1; it must be 2 to 60. Write 0 mm: 12 mm; 3 mm: 20 mm; between "
     "two points the width changes evenly.")),
    ("points", "1 mm: 12 mm; 3 mm: 20 mm", ("the cross-section is beginning 1.00 mm down; it must be beginning at the "
     'roof. Begin with down = "0 mm", the width right under the roof.')),
    ("points", "0 mm: 12 mm; 3 mm: 20 mm; 2 mm: 20 mm", ("the depth is 2.00 mm after 3.00 mm; it must be growing from "
     "point to point. List them from the roof down.")),
    ("points", "0 mm: -2 mm; 3 mm: 20 mm", "the length is '-2 mm'; it must be 0 or more. Check the sign."),
    ("points", "", "Write depth below the roof and full width there, such as 0 mm: 12 mm; 3 mm: 20 mm."),
    ("name", "", "Write a name for it, such as rounded roof."),
    ("name", "x" * 201, ("the name of the cross-section is 201 characters long; it must be 200 or fewer. Write a "
     "shorter one.")),
    ("name", "flat", "the name is 'flat'; expected a name that stands once. Give one of the two another."),
    ("zone 0", "perhaps", "whether the zone has it is 'perhaps'; write one of no, yes."),
]  # fmt: skip


@pytest.mark.parametrize(
    ("field", "text", "message"), WRONG_SECTIONS, ids=[f"{f} {t[:24]}" for f, t, _ in WRONG_SECTIONS]
)
def test_a_wrong_section_is_told_beside_its_field(field, text, message):
    flat = {"name": "flat", "points": ARCH["points"]}
    found = with_section(arched(profiles=[ARCH, flat]), 0, {field: text})
    assert (found.job, found.messages) == (None, {field: message})


def test_no_more_sections_than_a_job_may_have():
    many = [{**ARCH, "name": f"arch {at}"} for at in range(50)]
    found = with_section(shell(profiles=many), None, {"name": "arch", "points": "0 mm: 1 mm; 2 mm: 3 mm"})
    assert found.messages == {"": "A job has 50 cross-sections at most. Take one out first."}


@given(
    names,
    st.lists(st.tuples(lengths, lengths), min_size=2, max_size=6),
    st.lists(st.booleans(), min_size=2, max_size=2),
)
def test_a_section_comes_back_as_it_was(name, points, has):
    entry = ProfileEntry(name=name, points=[{"down": down, "width": width} for down, width in points])
    zones = [
        {**zone.model_dump(), "profile": name if here else None} for zone, here in zip(shell().zones, has, strict=True)
    ]
    old = shell(profiles=[entry.model_dump()], zones=zones)
    texts = section_texts(old, 0)
    assert with_section(old, 0, texts).job == old
    found = with_section(old, 0, {**texts, "name": f"{name.strip()}x"})
    assert [each.profile is not None for each in found.job.zones] == has


@given(st.lists(st.tuples(lengths, lengths), min_size=1, max_size=5), st.sampled_from(["; ", "\n"]))
def test_the_line_of_a_section_typed_into_another_job_says_the_same(points, between):
    downs = ["0 mm", *sorted((down for down, _ in points), key=lambda text: parse_length(text, scale="HO"))]
    lines = [f"{down}: {width}" for down, width in zip(downs, ["4 mm", *(w for _, w in points)], strict=True)]
    new = taken(with_section(shell(), None, {"name": "arch", "points": between.join(lines)}))
    assert [f"{each.down}: {each.width}" for each in new.profiles[0].points] == lines


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_is_changed_by_nothing_that_was_not_typed(name):
    old = DEMOS[name]
    for place in range(len(old.obstacles)):
        assert with_obstacle(old, place, obstacle_texts(old, place)).job == old
    for place in range(len(old.profiles)):
        assert with_section(old, place, section_texts(old, place)).job == old
    found = [with_obstacle(old, None, obstacle_texts(old, None)), with_section(old, None, section_texts(old, None))]
    assert [each.job for each in found] == [None, None]
