"""A job taken to another scale: what scales, what stays, what is solved anew."""

import inspect
import re
from dataclasses import replace
from fractions import Fraction
from typing import get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from sample_jobs import DEMOS, SMALLEST, changed, job, with_chamber

from modelmath import plan
from modelmath.errors import JobError, OutOfRange, UnknownScale
from modelmath.job.document import Job
from modelmath.job.fields.base import Entry
from modelmath.job.rescaled import TREATMENTS, changes, to_scale
from modelmath.job.rescaled.differences import MISFIT, SCALED, SOLVED, STAYS
from modelmath.job.storage.files import load_job, save_job
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import scale

SCALES = ("Z", "N", "TT", "HO", "OO", "S", "O", "No. 1")
HUNDREDTH = Fraction(1, 200)  # half of it: what writing to 0.01 mm can be off


def whole(text):
    return f"^{re.escape(text)}$"


def lengths_of(found):
    return {name: reading.measured.exact_mm for name, reading in plan(found).bench.readings.items()}


def by_name(found):
    return {change.name: change for change in found}


# The table of treatments holds every field of the document, each under what it is.


def kinds_in(annotation):
    """Return every class in an annotation, however deep."""
    inner = getattr(annotation, "__args__", ())
    return {annotation} if not inner else set().union(*(kinds_in(each) for each in inner))


def tables_in(cls):
    """Return a table and all tables below it, by name."""
    found = {cls.__name__: cls}
    for hint in get_type_hints(cls).values():
        for kind in kinds_in(hint):
            if inspect.isclass(kind) and issubclass(kind, Entry):
                found |= tables_in(kind)
    return found


TABLES = tables_in(Job)
FIELDS = [(table, field) for table, cls in TABLES.items() for field in cls.model_fields]
# Lengths that count the unit of a rule, which stays with its rule.
OF_A_RULE = {("GaugeEntry", "mark"), ("Marking", "finest")}


def test_every_table_of_the_document_is_in_the_list_and_no_other():
    assert set(TREATMENTS) == set(TABLES)


@pytest.mark.parametrize("table", TABLES)
def test_every_field_of_the_document_is_in_the_list_and_no_other(table):
    assert set(TREATMENTS[table]) == set(TABLES[table].model_fields), (
        f"add or remove rows of {table} in modelmath/job/rescaled/treatments.py"
    )


@pytest.mark.parametrize(("table", "field"), FIELDS)
def test_tables_are_walked_into_and_lengths_are_not_taken_for_words(table, field):
    hint = get_type_hints(TABLES[table], include_extras=True)[field]
    found = TREATMENTS[table][field]
    holds_tables = any(inspect.isclass(kind) and issubclass(kind, Entry) for kind in kinds_in(hint))
    assert (found == "table") == holds_tables
    is_length = re.search(r"StringConstraints\([^)]*max_length=60\b", repr(hint)) is not None
    if found in ("scaled", "stays"):
        assert is_length
    if is_length and table != "RuleEntry" and (table, field) not in OF_A_RULE:
        assert found in ("scaled", "stays", "taken over")


# Lengths against what is printed elsewhere.


@pytest.mark.parametrize(("name", "row"), [("S", "SC5"), ("N", "SC6"), ("O", "SC7")])
def test_ten_and_a_half_feet_come_out_as_the_worked_examples_print_them(name, row):
    """tests/published/scale_examples.csv: 10 ft 6 in in S, N and O."""
    printed = next(each["printed"] for each in published_rows("scale_examples.csv") if each["id"] == row)
    small = job(scale="HO", rules=[{"name": "scale rule"}], readings=[
        {"name": "roof", "mark": "10 1/2"}, {"name": "motor top", "mark": "5 1/2"}])  # fmt: skip
    assert abs(Fraction(to_scale(small, name).readings[0].mark) - Fraction(printed)) <= HUNDREDTH
    assert agrees_with_print(scale(name).mm_per_foot * Fraction(21, 2), printed)


@pytest.mark.parametrize("row", published_rows("scale_definitions.csv"), ids=lambda row: row["key"])
def test_every_scale_follows_its_published_definition(row):
    """tests/published/scale_definitions.csv, mm to the foot; HO is 3.5 mm to the foot, NMRA S-1.2."""
    found = lengths_of(to_scale(DEMOS["switcher-ho"], row["key"]))
    factor = Fraction(row["mm_per_foot"]) / Fraction("3.5")
    for name, before in lengths_of(DEMOS["switcher-ho"]).items():
        assert abs(found[name] - before * factor) <= HUNDREDTH + Fraction(1, 10**6)


# There and back.

marks = st.integers(0, 320).map(lambda quarters: str(Fraction(quarters, 8)))


@given(
    roof=marks,
    motor=marks,
    width=st.decimals("0.1", 90, places=2),
    ahead=st.decimals("0.1", 60, places=2),
    old=st.sampled_from(SCALES),
    new=st.sampled_from(SCALES),
    datum=st.sampled_from(["end", "zero"]),
)
def test_there_and_back_gives_every_length_again(roof, motor, width, ahead, old, new, datum):
    readings = [
        {"name": "roof", "mark": roof, "again": [roof, motor], "datum": datum},
        {"name": "motor top", "mark": motor},
        {"name": "width", "mark": str(width), "rule": "caliper"},
    ]
    rules = [*SMALLEST["rules"], {"name": "caliper", "kind": "caliper"}]
    curve = {"radius": f"{ahead} in", "pivots": f"{ahead} mm"}
    document = changed(scale=old, readings=readings, rules=rules, curve=curve)
    # Only the readings count here: a gap, as it is the same whatever the heights are.
    document["zones"] = [{"name": "motor", "gap": "width"}]
    first = Job.model_validate(document)
    there = to_scale(first, new)
    back = to_scale(there, old)
    factor = scale(old).ratio / scale(new).ratio
    off = HUNDREDTH * (1 + 1 / factor)
    before, middle, after = (lengths_of(each) for each in (first, there, back))
    assert before.keys() == middle.keys() == after.keys()
    for name, length in before.items():
        assert abs(middle[name] - length * factor) <= HUNDREDTH
        assert abs(after[name] - length) <= off
    for field in ("radius", "pivots"):
        was, now = (parse_length_exact(getattr(each.curve, field)) for each in (first, back))
        assert abs(was - now) <= off


@pytest.mark.parametrize("demo", DEMOS)
def test_each_demo_goes_there_and_back_by_every_scale(demo):
    first = DEMOS[demo]
    before = lengths_of(first)
    for name in SCALES:
        factor = scale(first.scale).ratio / scale(name).ratio
        after = lengths_of(to_scale(to_scale(first, name), first.scale))
        for reading, length in before.items():
            assert abs(after[reading] - length) <= HUNDREDTH * (1 + 1 / factor), (name, reading)


# Every demo in other scales can be planned, and what stays stays.


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("name", SCALES)
def test_each_demo_can_be_planned_in_another_scale(demo, name, tmp_path):
    first = DEMOS[demo]
    found = to_scale(first, name)
    before, after = plan(first), plan(found)
    factor = scale(first.scale).ratio / scale(name).ratio
    for was, now in zip(before.depths, after.depths, strict=True):
        # Two heights and their faces' links, each written to 0.01 mm.
        assert abs(now.free.exact_mm - was.free.exact_mm * factor) <= 4 * HUNDREDTH
    assert after.limits == before.limits
    was, now = before.bench.speaker, after.bench.speaker
    assert replace(now, place=was.place) == was
    if isinstance(was.place, str):
        assert now.place == was.place
    else:  # a place along the model is a length of the model
        assert abs(now.place - was.place * factor) <= HUNDREDTH
    assert after.bench.decoder == before.bench.decoder
    assert after.bench.varying == before.bench.varying
    assert [hole.drill for hole in after.holes] == [hole.drill for hole in before.holes]
    assert after.bench.on_hand == before.bench.on_hand
    assert after.marks.rule.offset_mm == before.marks.rule.offset_mm
    assert after.marks.up(Fraction(1)) == before.marks.up(Fraction(1))
    compared = changes(before, after)
    assert not [each for each in compared if each.follows == STAYS and each.differs]
    path = tmp_path / "taken.toml"
    save_job(found, path)
    assert load_job(path) == found


def test_a_truck_turns_by_the_same_angle_in_any_scale():
    """Pivots and radius scale together, so that the angle between them stays; elementary geometry."""
    before = plan(DEMOS["railbus-ho"]).bench.moving[0].part
    for name in ("N", "O"):
        after = plan(to_scale(DEMOS["railbus-ho"], name)).bench.moving[0].part
        assert float(after.yaw_rad) == pytest.approx(float(before.yaw_rad), rel=1e-3)
        factor = scale("HO").ratio / scale(name).ratio
        assert after.ahead_mm == pytest.approx(13 * float(factor), abs=0.005)
        assert after.side_play_mm == before.side_play_mm == 0.4


# What the new document says.


def test_a_taken_over_reading_is_a_length_on_a_rule_of_its_own():
    found = to_scale(DEMOS["switcher-ho"], "N")
    roof = found.readings[0]
    # 8 5/8 + 3/4 HO ft of 3.5 mm are 32.8125 mm; times 1.905 / 3.5, 17.859375 mm.
    assert (roof.name, roof.mark, roof.rule, roof.datum, roof.again) == ("hood roof", "17.86", "taken over", "end", [])
    rule = found.rules[-1]
    assert (rule.name, rule.unit, rule.zero_offset, rule.scale) == ("taken over", "mm", "0", None)
    assert rule.reading_uncertainty == "0.1 mm"
    assert plan(found).bench.readings["hood roof"].measured.u_mm == pytest.approx(0.1)
    assert found.notes == (
        "Taken over from HO to N: lengths of shell and chassis times 0.5443. Nothing is measured on the new model yet: "
        "measure every reading there before you cut. Speaker in the long hood, decoder in the cab end, one headlight "
        "at the front."
    )


def test_the_old_rules_stay_for_marking_out_and_keep_their_scale():
    found = to_scale(DEMOS["switcher-ho"], "N")
    assert found.marking == DEMOS["switcher-ho"].marking
    assert [(rule.name, rule.scale) for rule in found.rules] == [
        ("scale rule", "HO"), ("steel rule", None), ("taken over", None)]  # fmt: skip
    assert plan(found).marks.rule.unit_mm == Fraction("3.5")


def test_a_gauge_and_the_calibration_stay_with_their_rule():
    before, after = DEMOS["railbus-ho"], to_scale(DEMOS["railbus-ho"], "O")
    assert after.gauges == before.gauges
    assert after.rules[0] == before.rules[0].model_copy(update={"scale": "HO"})


def test_a_mean_of_readings_becomes_one_length():
    roof = to_scale(DEMOS["railbus-ho"], "O").readings[0]
    exact = plan(DEMOS["railbus-ho"]).bench.readings["roof, middle"].measured.exact_mm
    assert abs(Fraction(roof.mark) - exact * Fraction("6.35") / Fraction("3.5")) <= HUNDREDTH
    assert roof.again == []


def test_heights_from_the_bench_scale_with_their_link():
    first = DEMOS["centre-cab-s"]
    found = to_scale(first, "O")
    assert [each.taken_from for each in found.readings] == [each.taken_from for each in first.readings]
    assert found.links == first.links
    was, now = (plan(each).depths[1].top.exact_mm for each in (first, found))
    assert abs(now - was * Fraction(64, 48)) <= 2 * HUNDREDTH


def test_a_clearance_in_scale_feet_stays_the_gap_it_was():
    assert DEMOS["gas-electric-o"].clearance.keep == "1/8 scale ft"
    assert to_scale(DEMOS["gas-electric-o"], "N").clearance.keep == "0.79375 mm"  # 6.35 / 8


def test_what_names_no_scale_of_its_own_is_given_the_old_one():
    rules = [*SMALLEST["rules"], {"name": "gap rule", "unit": "mm", "zero_offset": "1/4 scale ft"}]
    drawer = [{"strip": "6x10", "length": "11 in"}, {"strip": ".040 sq", "length": "2 scale ft"}]
    found = to_scale(job(rules=rules, drawer=drawer), "O")
    assert [rule.scale for rule in found.rules] == ["HO", "HO", None]
    assert [each.strip for each in found.drawer] == ["HO 6x10", ".040 sq"]
    assert [each.length for each in found.drawer] == ["11 in", "7 mm"]


def test_taken_on_once_more_the_rule_and_the_note_stand_once():
    found = to_scale(to_scale(DEMOS["switcher-ho"], "N"), "O")
    assert [rule.name for rule in found.rules] == ["scale rule", "steel rule", "taken over"]
    assert found.notes.count("Taken over from") == 1
    assert found.notes.startswith("Taken over from N to O: lengths of shell and chassis times 3.3333. Nothing")
    assert found.notes.endswith("one headlight at the front.")


def test_a_rule_of_the_same_name_is_left_alone():
    own = {"name": "taken over", "kind": "caliper"}
    found = to_scale(job(rules=[*SMALLEST["rules"], own]), "N")
    assert [rule.name for rule in found.rules] == ["scale rule", "taken over", "taken over 2"]
    assert {reading.rule for reading in found.readings} == {"taken over 2"}


def test_a_length_below_nothing_off_a_worn_rule_is_kept():
    worn = [{"name": "worn rule", "unit": "mm", "graduation": "0.5", "zero_offset": "-0.6"}]
    readings = [{"name": "roof", "mark": "20"}, {"name": "motor top", "mark": "0"}]
    first = job(rules=worn, marking={"rule": "worn rule", "finest": "0.5"}, readings=readings)
    found = to_scale(first, "O")
    assert abs(lengths_of(found)["motor top"] - Fraction("-0.6") * Fraction("6.35") / Fraction("3.5")) <= HUNDREDTH
    back = to_scale(found, "HO")
    assert [rule.name for rule in back.rules] == ["worn rule", "taken over"]
    assert abs(lengths_of(back)["motor top"] - Fraction("-0.6")) <= 2 * HUNDREDTH


def test_a_leaf_that_passes_is_taken_over_by_the_middle_of_what_it_tells():
    rules = [*SMALLEST["rules"], {"name": "feelers", "kind": "feelers"}]
    readings = [*SMALLEST["readings"], {"name": "gap", "mark": "0.50", "rule": "feelers"}]
    found = to_scale(job(rules=rules, readings=readings), "O")
    assert found.readings[-1].mark == "0.95"  # 0.525 mm x 6.35 / 3.5


def test_what_would_round_to_nothing_keeps_more_decimals():
    first = job(lift_off={"end": "rear", "height": "0.01 mm"})
    assert to_scale(first, "Z").lift_off.height == "0.004 mm"  # 0.01 mm x 87.0857 / 220
    assert to_scale(job(lift_off={"end": "rear"}), "Z").lift_off.height == "0.00 mm"


def test_the_last_zone_ends_with_the_shell_whatever_its_length_was_rounded_to():
    """Shell and chassis end at one place in HO; in Z, each length rounded, they would not."""
    readings = [
        *SMALLEST["readings"],
        *({"name": name, "mark": mark, "rule": "caliper", "on": half} for name, mark, half in (
            ("inside", "71.03", "shell"), ("screw, shell", "9.01", "shell"),
            ("screw, chassis", "14.06", "chassis"), ("end, chassis", "76.08", "chassis"))),
    ]  # fmt: skip
    first = job(
        rules=[*SMALLEST["rules"], {"name": "caliper", "kind": "caliper"}],
        readings=readings,
        length={"shell_inside": "inside", "mark": "screw", "mark_on_shell": "screw, shell",
                "mark_on_chassis": "screw, chassis"},
        zones=[{**SMALLEST["zones"][0], "end": "end, chassis"}],
    )  # fmt: skip
    ends = plan(first).bench.ends
    assert ends.edges[-1].exact_mm == Fraction("62.02")
    for name in SCALES:
        found = to_scale(first, name)
        factor = scale("HO").ratio / scale(name).ratio
        assert abs(plan(found).bench.ends.edges[-1].exact_mm - Fraction("62.02") * factor) <= 2 * HUNDREDTH


def test_the_scale_it_is_in_already_changes_nothing():
    assert to_scale(DEMOS["switcher-ho"], "ho") is DEMOS["switcher-ho"]


def test_scales_of_one_ratio_keep_every_length():
    """OO and EM are both 4 mm to the foot."""
    first = to_scale(DEMOS["switcher-ho"], "OO")
    found = to_scale(first, "EM")
    assert found.scale == "EM"
    assert lengths_of(found) == lengths_of(first)


def test_a_job_is_not_changed_by_taking_it_elsewhere():
    before = DEMOS["railbus-ho"].model_dump()
    to_scale(DEMOS["railbus-ho"], "N")
    assert DEMOS["railbus-ho"].model_dump() == before


# Tables beside the readings: the shell's section, obstacles, holes, weight.

FULL = {
    "profiles": [{"name": "roof", "points": [
        {"down": "0 mm", "width": "10 mm"}, {"down": "4 mm", "width": "17.5 mm"}]}],
    "obstacles": [{"name": "post", "kind": "screw post", "start": "post begins", "end": "post ends", "width": "4 mm",
                   "off_centre": "-3 mm", "running": "0.3 mm", "trim": "1 mm"}],
    "chamber": {"wire_path": "2 mm"},
    "speaker": {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm", "place": "7 mm",
                "basket_length": "20 mm", "basket_width": "14 mm", "terminals": "1 mm", "travel": "0.5 mm"},
    "hole_layout": {"way": "row", "height": "5 mm", "web": "1 mm"},
    "holes": [{"name": "strand", "right": "-2 mm", "up": "4 mm"}],
    "weight": {"front_truck": "-35 mm", "rear_truck": "35 mm", "front_grams": 130.0, "rear_grams": 120.0, "changes": [
        {"name": "clip", "at": "-14 mm", "volume": 1500.0, "material": "zinc alloy", "off": True},
        {"name": "frame end", "at": "21 mm", "grams": 7.0, "off": True},
        {"name": "speaker", "at": "-7 mm", "grams": 12.0}]},
}  # fmt: skip


def full():
    first = with_chamber(**FULL)
    document = first.model_dump()
    document["readings"] += [
        {"name": "post begins", "mark": "15", "on": "shell"}, {"name": "post ends", "mark": "16", "on": "shell"}
    ]  # fmt: skip
    document["zones"][0]["profile"] = "roof"
    return Job.model_validate(document)


def test_sections_obstacles_holes_and_places_scale_and_what_is_bought_stays():
    """HO to OO: 4 / 3.5 of every length of the model."""
    found = to_scale(full(), "OO")
    assert [(point.down, point.width) for point in found.profiles[0].points] == [
        ("0.00 mm", "11.43 mm"), ("4.57 mm", "20.00 mm")]  # fmt: skip
    post = found.obstacles[0]
    assert (post.width, post.off_centre, post.trim, post.running) == ("4.57 mm", "-3.43 mm", "1.14 mm", "0.3 mm")
    assert found.chamber == full().chamber
    assert found.speaker == full().speaker.model_copy(update={"place": "8.00 mm"})
    assert (found.hole_layout.height, found.hole_layout.web) == ("5.71 mm", "1 mm")
    assert (found.holes[0].right, found.holes[0].up) == ("-2.29 mm", "4.57 mm")
    compared = by_name(changes(plan(full()), plan(found)))
    assert (compared["speaker, place"].before, compared["speaker, place"].after) == ("7.00 mm", "8.00 mm")
    assert compared["hole layout, web"].follows == STAYS
    assert compared["profile 1 ('roof'), points, entry 2, down"].after == "4.57 mm"


def test_a_word_for_a_place_stays():
    speaker = {**FULL["speaker"], "place": "front"}
    assert to_scale(with_chamber(speaker=speaker), "O").speaker.place == "front"


def test_weight_goes_with_the_volume_and_what_is_put_in_stays():
    """A body of one material, twice as large in each way, weighs eight times as much: S is 1:64, No. 1 is 1:32."""
    first = full().model_copy(update={"scale": "S"})
    found = to_scale(first, "No. 1")
    assert (found.weight.front_truck, found.weight.front_grams, found.weight.rear_grams) == ("-70.00 mm", 1040, 960)
    clip, frame, speaker = found.weight.changes
    assert (clip.at, clip.volume, frame.grams, speaker.at, speaker.grams) == (
        "-28.00 mm", 12000, 56, "-14.00 mm", 12)  # fmt: skip
    assert "times 2.0000, weights by the third power of that. Nothing is measured" in found.notes
    back = to_scale(found, "S").weight
    assert (back.front_truck, back.front_grams, back.rear_grams) == ("-35.00 mm", 130, 120)
    assert [(each.volume, each.grams) for each in back.changes] == [(1500, None), (None, 7), (None, 12)]


def test_a_weight_beyond_the_document_is_refused():
    text = (
        "the weight, front grams is 167693 in the new scale; it must be below 100000. Leave it out, and weigh the new "
        "model."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        to_scale(full(), "VII")


# What changed.


def test_a_speaker_that_no_longer_fits_is_said_first():
    before = plan(DEMOS["switcher-ho"])
    after = plan(to_scale(DEMOS["switcher-ho"], "TT"))
    first = changes(before, after)[0]
    assert after.misfit is not None
    assert (first.name, first.before, first.after, first.follows) == (MISFIT, "none", str(after.misfit), SOLVED)
    # 18.5 mm wide inside in HO; in TT, 2.54 mm to the foot, 13.43 mm, and the speaker stays 16 mm wide.
    assert "is 13.43 mm wide inside and the box-type speaker 16.00 mm" in first.after


def test_each_figure_says_what_it_follows():
    found = by_name(changes(plan(DEMOS["railbus-ho"]), plan(to_scale(DEMOS["railbus-ho"], "O"))))
    follows = {
        "scale": SCALED,
        "reading: body inside, width": SCALED,
        "curve, radius": SCALED,
        "curve, pivots": SCALED,
        "moving part 1 ('power truck'), ahead": SCALED,
        "moving part 1 ('power truck'), rock": STAYS,
        "lift off, height": SCALED,
        "rule: taken over": SCALED,
        "rule: scale rule": STAYS,
        "clearance": STAYS,
        "speaker width": STAYS,
        "cutting tolerance": STAYS,
        "free depth: motor": SOLVED,
        "chamber volume": SOLVED,
        "room left": SOLVED,
    }
    assert {name: found[name].follows for name in follows} == follows
    # 13 mm and 15 in times 6.35 / 3.5.
    ahead = found["moving part 1 ('power truck'), ahead"]
    assert (ahead.before, ahead.after) == ("13.00 mm", "23.59 mm")
    assert (found["curve, radius"].before, found["curve, radius"].after) == ("381.00 mm", "691.24 mm")
    assert (found["speaker width"].before, found["speaker width"].after) == ("14.00 mm", "14.00 mm")
    assert found["rule: taken over"].before == "none"
    assert "sharpest curve" not in found


@pytest.mark.parametrize("demo", DEMOS)
def test_a_plan_beside_itself_has_nothing_changed_and_no_figure_left_out(demo):
    found = plan(DEMOS[demo])
    compared = changes(found, found)
    assert not [each for each in compared if each.differs]
    names = [each.name for each in compared]
    assert len(names) == len(set(names))
    assert set(found.figures) - {"sharpest curve", "distance of the pivots"} <= set(names)


def test_what_only_one_plan_has_is_none_in_the_other():
    """A kept room that is gone since another thing governs follows from the new answer."""
    found = by_name(changes(plan(with_chamber()), plan(job())))
    assert found["chamber volume"].after == "none"
    assert found["chamber volume"].before != "none"
    assert found["speaker width"].follows == SOLVED


# What is refused.


def test_an_unknown_scale_is_refused():
    with pytest.raises(UnknownScale, match=whole("No scale is called 'enn'; did you mean N?")):
        to_scale(job(), "enn")


def test_a_job_that_cant_be_read_is_refused_with_its_place():
    bad = job(zones=[{"name": "motor", "underside": "rooof", "chassis_top": "motor top"}])
    text = "the job, zone 1 ('motor'), underside: the reading is 'rooof'; write 'roof'."
    with pytest.raises(JobError, match=whole(text)):
        to_scale(bad, "N")


def test_notes_that_leave_no_room_are_refused():
    text = (
        "the length of the job's notes is 1900 characters; it must be 1846 or less. Shorten them: what is said about "
        "the new scale stands before them."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        to_scale(job(notes="a" * 1900), "N")
    assert len(to_scale(job(notes="a" * 1846), "N").notes) == 2000
