"""How speaker and decoder sit, the chamber, holes and weights, typed and back. All numbers invented."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job, with_chamber

from modelmath import plan
from modelmath.job.document import (
    ChamberEntry,
    DecoderEntry,
    HoleEntry,
    HolesEntry,
    Job,
    SpeakerEntry,
    WeightEntry,
)
from modelmath.job.entries.inside.contents import (
    chamber_texts,
    decoder_texts,
    speaker_texts,
    with_chamber_asked,
    with_decoder,
    with_speaker,
)
from modelmath.job.entries.inside.holes import hole_names, holes_texts, with_holes
from modelmath.job.entries.inside.weight import weight_texts, with_weight
from modelmath.job.fields.inside import MassEntry

FORMS = {
    "speaker": (speaker_texts, with_speaker),
    "decoder": (decoder_texts, with_decoder),
    "chamber": (chamber_texts, with_chamber_asked),
    "holes": (holes_texts, with_holes),
    "weight": (weight_texts, with_weight),
}
SPEAKER = {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"}
DECODER = {"length": "20 mm", "width": "9 mm", "height": "3 mm"}
LAMPS = [{"name": "headlight", "end": "front", "room": "4 mm", "strand": "0.5 mm", "strands": 2, "circuit": "front"}]
WIRES = [{"name": "motor wires", "diameter": "0.6 mm", "count": 2}, {"name": "horn", "diameter": "0.6 mm"}]
WEIGHT = {
    "front_truck": "0 mm", "rear_truck": "60 mm", "front_grams": 120.5, "rear_grams": 110.0, "driven": "front",
    "changes": [{"name": "frame", "at": "20 mm", "volume": 300.0, "material": "zinc alloy", "off": True},
                {"name": "speaker", "at": "-3 mm", "grams": 12.5}],
}  # fmt: skip
MOVED = [{"name": "headlight 1", "right": "-2 mm", "up": "5 mm"}, {"name": "horn", "right": "0.5 mm", "up": "4 mm"}]


def whole(**fields) -> Job:
    return with_chamber(**{
        "speaker": SPEAKER, "decoder": DECODER, "lamps": LAMPS, "wires": WIRES, "weight": WEIGHT, "holes": MOVED,
        **fields,
    })  # fmt: skip


def taken(found) -> Job:
    assert (found.messages, found.waiting) == ({}, ())
    return found.job


def without_change(old: Job, new: Job, *tables: str) -> None:
    """Every other table is as it was."""
    kept = set(Job.model_fields) - set(tables)
    assert old.model_dump(include=kept) == new.model_dump(include=kept)


BARE = {
    "speaker": {"faces": "down", "turned": "along the shell", "round": "rectangular"},
    "decoder": {"turns": "yes", "inside": "no"},
    "chamber": {"cut_round": "no", "steps": "2", "floor": "in pieces", "light_barrier": "no",
                "removable_speaker": "no", "removable_decoder": "no"},
    "holes": {"way": "in a row"},
    "weight": {"driven": "both trucks"},
}  # fmt: skip


@pytest.mark.parametrize("name", FORMS)
def test_a_job_without_the_tables_shows_empty_fields_and_stays_as_it_is(name):
    texts, read = FORMS[name]
    shown = texts(job())
    assert {field: text for field, text in shown.items() if text} == BARE[name]
    assert read(job(), shown).job == job()
    assert read(job(), {}).job == job()


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_is_changed_by_nothing_that_was_not_typed(name, demo):
    texts, read = FORMS[name]
    assert taken(read(DEMOS[demo], texts(DEMOS[demo]))) == DEMOS[demo]


EDITS = [
    ("speaker", {"faces": "to the front"}, {"speaker": {**SPEAKER, "faces": "front"}}),
    ("speaker", {"turned": "across the shell"}, {"speaker": {**SPEAKER, "turned": True}}),
    ("speaker", {"place": "Rear"}, {"speaker": {**SPEAKER, "place": "rear"}}),
    ("speaker", {"place": "12 mm"}, {"speaker": {**SPEAKER, "place": "12 mm"}}),
    ("speaker", {"basket_length": "20 mm", "basket_width": ".5 in"},
     {"speaker": {**SPEAKER, "basket_length": "20 mm", "basket_width": ".5 in"}}),
    ("speaker", {"terminals": "1 mm", "travel": "0.3 mm", "rim": "1 mm"},
     {"speaker": {**SPEAKER, "terminals": "1 mm", "travel": "0.3 mm", "rim": "1 mm"}}),
    ("decoder", {"air": "2 mm", "turns": "no", "inside": "yes"},
     {"decoder": {**DECODER, "air": "2 mm", "turns": False, "inside": True}}),
    ("chamber", {"cut_round": "yes", "wire_path": "1 mm", "steps": "0", "floor": "in one piece",
                 "light_barrier": "yes", "strand_supports": "20 mm"},
     {"chamber": {"cut_round": True, "wire_path": "1 mm", "steps": 0, "floor": "one piece", "light_barrier": True,
                  "strand_supports": "20 mm"}}),
    ("chamber", {"along": "1 mm", "over_speaker": "0 mm", "sound_room": "3 mm"},
     {"clearance": {"keep": "1/4 scale ft", "along": "1 mm", "over_speaker": "0 mm", "sound_room": "3 mm"}}),
    ("chamber", {"front_end": "-4 mm", "rear_end": "Best"}, {"chamber": {"front_end": "-4 mm", "rear_end": "best"}}),
    ("chamber", {"removable_decoder": "yes"}, {"chamber": {"removable": ["decoder"]}}),
    ("chamber", {"end_play": "0.4 mm"}, {"length": {"shell_inside": "length", "end_play": "0.4 mm"}}),
    ("holes", {"way": "spread as wide as can be", "height": "4 mm", "web": "0.8 mm", "edge": "2 mm", "apart": "3 mm"},
     {"hole_layout": {"way": "spread", "height": "4 mm", "web": "0.8 mm", "edge": "2 mm", "apart": "3 mm"}}),
    ("holes", {"moved": "headlight 1: 2 mm left, 5 mm up\nmotor wires 2: 1 mm right, 6 mm up"},
     {"holes": [MOVED[0], {"name": "motor wires 2", "right": "1 mm", "up": "6 mm"}]}),
    ("holes", {"moved": ""}, {"holes": []}),
    ("holes", {"circuits": "headlight: front; horn: sound"},
     {"wires": [WIRES[0], {**WIRES[1], "circuit": "sound"}]}),
    ("holes", {"circuits": ""}, {"lamps": [{**LAMPS[0], "circuit": None}]}),
    ("weight", {"rear_truck": "70 mm", "front_grams": "130 g", "driven": "neither"},
     {"weight": {**WEIGHT, "rear_truck": "70 mm", "front_grams": 130.0, "driven": "none"}}),
    ("weight", {"changes": "speaker: 12.5 g at -3 mm\nframe: end: 1/2 g off at 1 in"},
     {"weight": {**WEIGHT, "changes": [WEIGHT["changes"][1],
                                       {"name": "frame: end", "at": "1 in", "grams": 0.5, "off": True}]}}),
    ("weight", {"changes": "tungsten: 40 mm3 of tungsten at 5 mm"},
     {"weight": {**WEIGHT, "changes": [{"name": "tungsten", "at": "5 mm", "volume": 40.0, "material": "tungsten"}]}}),
    ("weight", dict.fromkeys(("front_truck", "rear_truck", "front_grams", "rear_grams", "changes"), ""),
     {"weight": None}),
]  # fmt: skip


def test_a_speaker_is_round_where_it_is_as_long_as_wide():
    texts, read = FORMS["speaker"]
    old = whole(speaker={**SPEAKER, "length": "16 mm"})
    assert taken(read(old, {**texts(old), "round": "round"})).speaker.round
    found = read(whole(), {**texts(whole()), "round": "round"})
    assert found.job is None
    assert found.messages == {
        "round": "the round speaker is 22 mm long and 16 mm wide; expected one as long as it is wide, or nearly so. "
        "Write its diameter for both, or round = false."
    }


@pytest.mark.parametrize(("name", "typed", "table"), EDITS, ids=[f"{n} {'+'.join(t)}" for n, t, _ in EDITS])
def test_what_is_typed_stands_in_its_table_and_all_else_stays(name, typed, table):
    _, read = FORMS[name]
    new = taken(read(whole(), typed))
    assert new == whole(**table)
    without_change(whole(), new, *table)


def test_holes_are_called_as_the_layout_calls_them():
    assert hole_names(whole()) == ("headlight 1", "headlight 2", "motor wires 1", "motor wires 2", "horn")
    assert hole_names(job()) == ()


def test_a_plan_goes_by_what_was_typed():
    new = taken(with_weight(taken(with_speaker(whole(holes=[]), {"faces": "up"})), {"front_grams": "100 g"}))
    made = plan(new)
    assert made.bench.speaker.faces == "up"
    assert float(made.balance.loads_before.front_g) == 100


NO_UNIT = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
PLACE = "write middle, front, rear, or a place behind the fore-aft mark such as 20 mm."
MASS = "write a mass with its unit, such as 120 g."
LINE = (
    "expected a short name, a colon, a mass or a volume of a material, and its place. Write speaker: 12.5 g at 30 mm, "
    "or frame trimmed: 300 mm3 of zinc alloy off at 20 mm."
)
BY_HAND = (
    "expected a hole, a colon, how far right or left of the middle, and how far up. Write strand 1: 2 mm right, 5 mm "
    "up; strand 2: 2 mm left, 5 mm up."
)
ZERO = "the length is '0 mm'; it must be above 0. Measure it, and write its size."
BELOW = "the length is '-1 mm'; it must be 0 or more. Check the sign."
LARGE = (
    "speaker: basket length is 30.00 mm; it must be no more than the flange's length, 22.00 mm. Check which of the two "
    "was measured."
)
FLOORS = "how the floor is made is 'whole'; write one of in pieces, in one piece."
CIRCUIT = (
    "the circuit is 'horn'; expected a lamp or wire, a colon, and its circuit. Write headlight: front lights; motor "
    "wires: drive."
)
HOLES = "headlight 1, headlight 2, motor wires 1, motor wires 2, horn"
AMOUNT = "Write what it weighs, or its volume and material."
WRONG = [
    ("speaker", "faces", "sideways", ("where it sounds to is 'sideways'; write one of down, up, to the front, to the "
     "rear.")),
    ("speaker", "turned", "x", "how it lies is 'x'; write one of along the shell, across the shell."),
    ("speaker", "round", "oval", "its shape is 'oval'; write one of rectangular, round."),
    ("speaker", "place", "20", f"'20': it has no unit; {PLACE}"),
    ("speaker", "place", "back", f"'back': it is no number or unit; {PLACE}"),
    ("speaker", "basket_length", "20", f"'20': {NO_UNIT}"),
    ("speaker", "basket_length", "30 mm", LARGE),
    ("speaker", "basket_width", "0 mm", ZERO),
    ("speaker", "terminals", "-1 mm", BELOW),
    ("speaker", "travel", "1", f"'1': {NO_UNIT}"),
    ("speaker", "rim", "2", f"'2': {NO_UNIT}"),
    ("decoder", "air", "1", f"'1': {NO_UNIT}"),
    ("decoder", "air", "-1 mm", BELOW),
    ("decoder", "turns", "maybe", "whether it may be turned is 'maybe'; write one of no, yes. Did you mean 'yes'?"),
    ("decoder", "inside", "maybe",
     "whether it may lie in the chamber is 'maybe'; write one of no, yes. Did you mean 'yes'?"),
    ("chamber", "cut_round", "x", "whether the floor is cut round is 'x'; write one of no, yes."),
    ("chamber", "wire_path", "2", f"'2': {NO_UNIT}"),
    ("chamber", "front_end", "4",
     "'4': it has no unit; write best, or a place behind the fore-aft mark such as -40 mm."),
    ("chamber", "steps", "5", "the number of steps is '5'; write one of 0, 1, 2, 3, 4."),
    ("chamber", "floor", "whole", FLOORS),
    ("chamber", "light_barrier", "x", "whether there is a light barrier is 'x'; write one of no, yes."),
    ("chamber", "strand_supports", "0 mm", ZERO),
    ("chamber", "removable_speaker", "x", "whether the speaker stays removable is 'x'; write one of no, yes."),
    ("chamber", "removable_decoder", "x", "whether the decoder stays removable is 'x'; write one of no, yes."),
    ("chamber", "end_play", "-1 mm", BELOW),
    ("chamber", "along", "1", f"'1': {NO_UNIT}"),
    ("chamber", "over_speaker", "-1 mm", BELOW),
    ("chamber", "sound_room", "0 mm", ZERO),
    ("holes", "way", "grid", "how they lie is 'grid'; write one of in a row, spread as wide as can be."),
    ("holes", "height", "4", f"'4': {NO_UNIT}"),
    ("holes", "web", "1", f"'1': {NO_UNIT}"),
    ("holes", "edge", "-1 mm", BELOW),
    ("holes", "apart", "3", f"'3': {NO_UNIT}"),
    ("holes", "moved", "horn 2 mm right", f"the hole moved by hand is 'horn 2 mm right'; {BY_HAND}"),
    ("holes", "moved", "horn: 2 right, 5 mm up", f"'2': {NO_UNIT}"),
    ("holes", "moved", "horn: 2 mm right, 5 up", f"'5': {NO_UNIT}"),
    ("holes", "moved", "horn: -1 mm right, 5 mm up", BELOW),
    ("holes", "moved", "horns: 1 mm right, 5 mm up", (f"the hole is 'horns'; write one of {HOLES}. Did you mean "
     "'horn'?")),
    ("holes", "moved", "horn: 1 mm right, 5 mm up; horn: 2 mm right, 5 mm up", ("the name is 'horn' "
     "twice; expected each name once. Take one of the two out.")),
    ("holes", "circuits", "horn", CIRCUIT),
    ("holes", "circuits", "horns: sound", ("the lamp or wire is 'horns'; write one of headlight, motor wires, horn. "
     "Did you mean 'horn'?")),
    ("holes", "circuits", "horn: sound; horn: drive", ("the name is 'horn' twice; expected each name once. Take "
     "one of the two out.")),
    ("holes", "circuits", f"horn: {'x' * 201}", ("the name of the circuit is 201 characters long; it must be 200 or "
     "fewer. Write a shorter one.")),
    ("weight", "front_truck", "5", f"'5': {NO_UNIT}"),
    ("weight", "front_truck", "", "Write where the front truck stands behind the fore-aft mark, such as -5 mm."),
    ("weight", "rear_truck", "", "Write where the rear truck stands behind the fore-aft mark, such as 70 mm."),
    ("weight", "front_grams", "", "Write what the front end weighs, such as 120 g."),
    ("weight", "rear_grams", "", "Write what the rear end weighs, such as 110 g."),
    ("weight", "rear_truck", "-5 mm", ("The rear truck stands at -5.00 mm = -0.197 in, not behind the front truck at "
     "0.00 mm = 0.000 in. Count both from the fore-aft mark to the rear.")),
    ("weight", "front_grams", "120", f"'120': it has no unit; {MASS}"),
    ("weight", "front_grams", "120 mm", f"'120 mm': its unit is not read here; {MASS}"),
    ("weight", "front_grams", "1,200 g",
     ("'1,200 g': the comma may be a decimal mark or a thousands mark; write a mass "
     "with its unit, such as 120 g.")),
    ("weight", "rear_grams", "-1 g",
     ("the weight is '-1 g'; it must be 0 g or more, and less than 100000 g. Write what "
     "the scale showed under that end, in grams.")),
    ("weight", "driven", "one", ("which is driven is 'one'; write one of both trucks, the front truck, the rear truck, "
     "neither.")),
    ("weight", "changes", "speaker 12.5 g", f"the change is 'speaker 12.5 g'; {LINE}"),
    ("weight", "changes", "speaker: 12.5 at 3 mm", f"'12.5': it has no unit; {MASS}"),
    ("weight", "changes", "speaker: 12.5 g at 3", f"'3': {NO_UNIT}"),
    ("weight", "changes", "speaker: 10000 g at 3 mm",
     ("the amount is '10000 g'; it must be more than -10000 g and less "
     f"than 10000 g. {AMOUNT}")),
    ("weight", "changes", "frame: 0 mm3 of brass at 3 mm",
     ("the amount is '0 mm3'; it must be more than 0 mm3 and less "
     f"than 1000000 mm3. {AMOUNT}")),
    ("weight", "changes", "frame: 30 of brass at 3 mm", ("'30': it has no unit; write a volume with its unit, such as "
     "300 mm3, before its material.")),
    ("weight", "changes", "\n".join(f"n{i}: 1 g at 3 mm" for i in range(51)),
     ("the number of changes is 51; it must be 50 or "
     "fewer. Enter some of them as one.")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "field", "text", "message"), WRONG, ids=[f"{n} {f} {t[:28]!r}" for n, f, t, _ in WRONG]
)
def test_a_wrong_text_is_told_beside_its_field(name, field, text, message):
    _, read = FORMS[name]
    found = read(whole(), {field: text})
    assert (found.job, found.messages) == (None, {field: message})


def test_an_unknown_material_is_told_with_those_there_are():
    found = with_weight(whole(), {"changes": "frame: 30 mm3 of bras at 3 mm"})
    assert re.fullmatch(
        r"the material is 'bras'; write one of zinc alloy, brass, .*\. Did you mean 'brass'\?",
        found.messages["changes"],
    )


@pytest.mark.parametrize(
    ("name", "typed", "message"),
    [
        ("speaker", {"faces": "up"}, {"": "Enter the speaker's sizes first; then say here how it sits."}),
        ("decoder", {"air": "2 mm"}, {"": "Enter all three sizes of the decoder first; then say here how it sits."}),
        ("chamber", {"end_play": "1 mm"}, {"end_play": "Enter the length inside the shell first; then say how far it "
                                                       "can shift on the chassis."}),
        ("holes", {"moved": "x: 1 mm right, 2 mm up"}, {"moved": "the hole is 'x'; expected one of a strand or wire, "
                                                        "of which the job has none. Enter what passes the wall "
                                                        "first."}),
        ("holes", {"circuits": "x: y"}, {"circuits": "the lamp or wire is 'x'; expected one of the job, which has "
                                                     "none. Enter lamps and wires first."}),
    ],
)  # fmt: skip
def test_what_needs_something_else_first_says_so(name, typed, message):
    found = FORMS[name][1](job(), typed)
    assert (found.job, found.messages) == (None, message)


def test_a_weight_that_is_begun_waits_for_the_rest():
    found = with_weight(job(), {"front_grams": "120 g"})
    assert (found.job, found.messages) == (None, {})
    assert found.waiting == ("front_truck", "rear_truck", "rear_grams")


def test_a_name_that_a_line_can_not_hold_survives_edits_of_other_fields():
    wires = [{"name": "a; b: c", "diameter": "0.5 mm", "circuit": "d; e"}]
    holes = [{"name": "a; b: c", "right": "1 mm", "up": "2 mm"}]
    old = whole(wires=wires, holes=holes)
    new = taken(with_holes(old, {"web": "2 mm"}))
    without_change(old, new, "hole_layout")


lengths = st.decimals("0.01", "9", places=2).map(lambda size: f"{size} mm") | st.sampled_from([".04 in", "1/4 in"])
signed = lengths | lengths.map(lambda text: f"-{text}")
signs = st.characters(categories=["L", "N", "P", "Zs"])
names = st.text(signs, min_size=1, max_size=12).filter(lambda name: not name.isspace())
grams = st.floats(0, 9999)
round_grams = st.decimals("-99.999", "9999", places=3).map(float)
round_masses = st.builds(MassEntry, name=names, at=signed, grams=round_grams, off=st.booleans()) | st.builds(
    MassEntry, name=names, at=signed, volume=round_grams.map(lambda size: abs(size) + 0.5), material=st.just("brass")
)
masses = st.builds(MassEntry, name=names, at=signed, grams=grams, off=st.booleans()) | st.builds(
    MassEntry, name=names, at=signed, volume=st.floats(0.001, 9999), material=st.just("brass"), off=st.booleans()
)
TABLES = {
    "speaker": st.builds(
        SpeakerEntry, length=st.just("20 mm"), faces=st.sampled_from(["down", "up", "front", "rear"]),
        turned=st.booleans(), place=st.sampled_from(["middle", "front", "rear"]) | signed, terminals=lengths,
        basket_length=st.none() | lengths, basket_width=st.none() | lengths, travel=lengths, rim=st.none() | lengths,
        round=st.booleans(),
    ),
    "decoder": st.builds(
        DecoderEntry, length=lengths, width=lengths, height=lengths, air=lengths, turns=st.booleans(),
        inside=st.booleans(),
    ),
    "chamber": st.builds(
        ChamberEntry, cut_round=st.booleans(), wire_path=lengths, steps=st.integers(0, 4),
        floor=st.sampled_from(["pieces", "one piece"]), light_barrier=st.booleans(),
        strand_supports=st.none() | lengths, removable=st.permutations(["speaker", "decoder"]) | st.just([]),
        front_end=st.just("best") | st.just("-3 mm"), rear_end=st.just("best") | st.just("3 mm"),
    ),
    "hole_layout": st.builds(
        HolesEntry, way=st.sampled_from(["row", "spread"]), height=st.none() | lengths, web=lengths, edge=lengths,
        apart=lengths,
    ),
    "holes": st.lists(st.builds(HoleEntry, name=names, right=signed, up=lengths), max_size=3),
    "weight": st.none() | st.builds(
        WeightEntry, front_truck=signed, rear_truck=signed, front_grams=grams, rear_grams=grams,
        driven=st.sampled_from(["both", "front", "rear", "none"]), changes=st.lists(masses, max_size=3),
    ),
}  # fmt: skip


@given(st.fixed_dictionaries(TABLES), st.sampled_from(list(FORMS)))
def test_a_document_comes_back_as_it_was(tables, edited):
    """Document to texts and back is the same document, and what one form changes no other table shows."""
    old = whole().model_copy(update=tables)
    for texts, read in FORMS.values():
        assert read(old, texts(old)).job == old
    edit = {
        "speaker": {"faces": "up"}, "decoder": {"air": "3 mm"}, "chamber": {"wire_path": "3 mm"},
        "holes": {"web": "3 mm"}, "weight": {"driven": "neither"},
    }[edited]  # fmt: skip
    new = FORMS[edited][1](old, edit).job
    if new is not None:
        without_change(old, new, "hole_layout" if edited == "holes" else edited)


SHOWN = {
    "speaker": ("faces", "turned", "place", "basket_length", "basket_width", "terminals", "travel", "rim", "round"),
    "decoder": ("air", "turns", "inside"),
    "chamber": (
        "cut_round",
        "wire_path",
        "steps",
        "floor",
        "light_barrier",
        "strand_supports",
        "front_end",
        "rear_end",
    ),
    "hole_layout": ("way", "height", "web", "edge", "apart"),
}


@given(st.fixed_dictionaries({name: TABLES[name] for name in SHOWN}))
def test_texts_typed_into_another_job_say_the_same(tables):
    source, bare = whole().model_copy(update=tables), whole(speaker={"length": "20 mm"})
    for name, fields in SHOWN.items():
        texts, read = FORMS["holes" if name == "hole_layout" else name]
        new, old = (getattr(each, name) for each in (taken(read(bare, texts(source))), source))
        assert {field: getattr(new, field) for field in fields} == {field: getattr(old, field) for field in fields}
    kept = taken(with_chamber_asked(bare, chamber_texts(source))).chamber.removable
    assert set(kept) == set(source.chamber.removable)


@given(st.lists(round_masses, min_size=1, max_size=3))
def test_changes_are_read_from_the_lines_that_show_them(changes):
    """Into a job that has none of them, so that nothing is kept from before."""
    tidy = [each.model_copy(update={"name": f"n{place}"}) for place, each in enumerate(changes)]
    source = whole(weight={**WEIGHT, "changes": [each.model_dump() for each in tidy]})
    plain = whole(weight={**WEIGHT, "changes": []})
    assert taken(with_weight(plain, weight_texts(source))) == source


@given(st.lists(st.tuples(signed, lengths), min_size=1, max_size=3))
def test_holes_moved_by_hand_are_read_from_the_line_that_shows_them(places):
    holes = [
        {"name": name, "right": right, "up": up}
        for name, (right, up) in zip(("headlight 1", "headlight 2", "horn"), places, strict=False)
    ]
    source, plain = whole(holes=holes), whole(holes=[])
    assert taken(with_holes(plain, holes_texts(source))) == source
