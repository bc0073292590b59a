"""Lamps and wires, how parts are made, and a job's own stock, typed and back. All numbers invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import job, with_chamber

from modelmath import plan
from modelmath.enclosure.holes.plate import MOST_HOLES
from modelmath.job.document import Build, Job, LampEntry, StockEntry, WireEntry
from modelmath.job.entries.inside.holes import hole_names
from modelmath.job.entries.inside.parts import (
    build_texts,
    stock_names,
    stock_texts,
    with_build,
    with_stock,
    without_stock,
)
from modelmath.job.entries.inside.passing import (
    lamp_texts,
    wire_texts,
    with_lamp,
    with_wire,
    without_lamp,
    without_wire,
)

LAMPS = [
    {"name": "headlight", "end": "front", "room": "4 mm", "strand": "0.5 mm", "strands": 2, "circuit": "front"},
    {"name": "cab light", "end": "rear", "room": "3 mm"},
]
WIRES = [{"name": "motor wires", "diameter": "0.6 mm", "count": 3}, {"name": "horn", "diameter": "0.6 mm"}]
MOVED = [
    {"name": "motor wires 2", "right": "1 mm", "up": "6 mm"},
    {"name": "headlight 2", "right": "-2 mm", "up": "5 mm"},
    {"name": "horn", "right": "0.5 mm", "up": "4 mm"},
]
SHEET = {"sheet": ".040 sheet", "length": "12 in", "width": "6 in", "count": 2, "offcut": True}
DRAWER = [{"strip": "HO 6x10", "length": "14 in", "count": 3}, SHEET]
EDITORS = {
    "lamps": (lamp_texts, with_lamp),
    "wires": (wire_texts, with_wire),
    "drawer": (stock_texts, with_stock),
    "build": (lambda job, _place: build_texts(job), lambda job, _place, typed: with_build(job, typed)),
}


def whole(**fields) -> Job:
    return with_chamber(**{"lamps": LAMPS, "wires": WIRES, "holes": MOVED, "drawer": DRAWER, **fields})


def taken(found) -> Job:
    assert (found.messages, found.waiting) == ({}, ())
    return found.job


def without_change(old: Job, new: Job, *tables: str) -> None:
    """Every other table is as it was."""
    kept = set(Job.model_fields) - set(tables)
    assert old.model_dump(include=kept) == new.model_dump(include=kept)


def moved(found: Job) -> list[str]:
    return [each.name for each in found.holes]


def test_texts_show_what_is_not_usual():
    assert lamp_texts(whole(), 0) == {
        "name": "headlight", "end": "front", "room": "4 mm", "strand": "0.5 mm", "strands": "2", "circuit": "front"
    }  # fmt: skip
    assert wire_texts(whole(), 1) == {"name": "horn", "diameter": "0.6 mm", "count": "", "circuit": ""}
    assert stock_names(whole()) == ["HO 6x10, 14 in", ".040 sheet, 12 in x 6 in"]
    assert stock_texts(whole(), 1) == {
        "kind": "sheet", "size": ".040 sheet", "length": "12 in", "width": "6 in", "count": "2", "offcut": "yes"
    }  # fmt: skip
    assert set(build_texts(whole()).values()) == {""}


ADDED = [
    ("lamps", {"name": "marker", "end": "rear", "room": "2 mm"}, {"name": "marker", "end": "rear", "room": "2 mm"}),
    ("lamps", {"name": "m", "room": "0 mm", "strand": "1/32 in", "strands": "3", "circuit": "c"},
     {"name": "m", "end": "front", "room": "0 mm", "strand": "1/32 in", "strands": 3, "circuit": "c"}),
    ("wires", {"name": "w", "diameter": "1 mm"}, {"name": "w", "diameter": "1 mm"}),
    ("wires", {"name": "w", "diameter": "1 mm", "count": "4", "circuit": "c"},
     {"name": "w", "diameter": "1 mm", "count": 4, "circuit": "c"}),
    ("drawer", {"size": ".100 sq", "length": "14 in"}, {"strip": ".100 sq", "length": "14 in"}),
    ("drawer", {"kind": "sheet", "size": "1 mm sheet", "length": "200 mm", "width": "100 mm", "count": "2"},
     {"sheet": "1 mm sheet", "length": "200 mm", "width": "100 mm", "count": 2}),
]  # fmt: skip


@pytest.mark.parametrize(("table", "typed", "entry"), ADDED, ids=[f"{t} {len(typed)}" for t, typed, _ in ADDED])
def test_a_new_one_is_put_behind_the_others_and_all_else_stays(table, typed, entry):
    old = whole()
    new = taken(EDITORS[table][1](old, None, typed))
    before = [each.model_dump() for each in getattr(old, table)]
    assert new == whole(**{table: [*before, entry]})
    without = {"lamps": without_lamp, "wires": without_wire, "drawer": without_stock}[table]
    assert without(new, len(before)) == old


CHANGED = [
    ("lamps", 0, {"end": "rear", "room": "5 mm"}, {**LAMPS[0], "end": "rear", "room": "5 mm"}),
    ("lamps", 0, {"circuit": ""}, {**LAMPS[0], "circuit": None}),
    ("lamps", 1, {"strand": "0.5 mm"}, {**LAMPS[1], "strand": "0.5 mm"}),
    ("wires", 0, {"diameter": "0.8 mm", "count": "4"}, {**WIRES[0], "diameter": "0.8 mm", "count": 4}),
    ("wires", 1, {"circuit": "sound"}, {**WIRES[1], "circuit": "sound"}),
    ("drawer", 0, {"kind": "sheet", "size": ".040 sheet", "width": "5 in", "count": ""},
     {"sheet": ".040 sheet", "length": "14 in", "width": "5 in"}),
    ("drawer", 1, {"kind": "strip", "size": "HO 4x4", "width": "", "offcut": "no"},
     {"strip": "HO 4x4", "length": "12 in", "count": 2}),
]  # fmt: skip


@pytest.mark.parametrize(("table", "place", "typed", "entry"), CHANGED, ids=[f"{t} {p} {'+'.join(d)}"
                                                                            for t, p, d, _ in CHANGED])  # fmt: skip
def test_what_is_typed_stands_in_its_entry_and_all_else_stays(table, place, typed, entry):
    new = taken(EDITORS[table][1](whole(), place, typed))
    entries = [each.model_dump() for each in getattr(whole(), table)]
    entries[place] = entry
    assert new == whole(**{table: entries})


def test_how_parts_are_made_is_typed_and_emptied():
    typed = {name: f"{place + 1} mm" for place, name in enumerate(build_texts(job()))} | {"count": "3"}
    new = taken(with_build(whole(), typed))
    assert new == whole(build={**typed, "count": 3})
    assert build_texts(new) == typed
    assert taken(with_build(new, dict.fromkeys(typed, ""))) == whole()
    zero = dict.fromkeys(("kerf", "end_trim", "least_offcut", "hole_clearance"), "0 mm")
    assert taken(with_build(whole(), zero)) == whole(build=zero)


def test_a_plan_goes_by_what_was_typed():
    new = taken(with_wire(taken(with_lamp(whole(), 0, {"room": "7 mm"})), 1, {"diameter": "1 mm"}))
    made = plan(new)
    assert made.limits.front_room_mm == 7
    assert {line.name: float(line.diameter_mm) for line in made.holes} == {
        "headlight": 0.5, "motor wires": 0.6, "horn": 1.0
    }  # fmt: skip
    assert float(plan(taken(with_build(whole(), {"wall": "1.5 mm"}))).limits.wall_mm) == 1.5


# Holes moved by hand follow what passes them.


def test_holes_moved_by_hand_follow_a_new_name_and_another_number():
    new = taken(with_wire(whole(), 0, {"name": "drive"}))
    assert moved(new) == ["drive 2", "headlight 2", "horn"]
    one = taken(with_lamp(whole(holes=[{**MOVED[1], "name": "headlight 1"}]), 0, {"strands": ""}))
    assert moved(one) == ["headlight"]
    assert moved(taken(with_lamp(one, 0, {"strands": "3"}))) == ["headlight 1"]
    assert set(moved(new)) <= set(hole_names(new))
    without_change(whole(), new, "wires", "holes")
    assert [each.up for each in new.holes] == [each.up for each in whole().holes]


def test_a_hole_that_nothing_passes_any_more_is_named():
    found = with_lamp(whole(), 0, {"strands": "1"})
    said = "No longer moved by hand, as nothing passes there: headlight 2"
    assert found.echoes["strands"] == said
    assert moved(taken(found)) == ["motor wires 2", "horn"]
    found = with_lamp(whole(), 0, {"strand": "", "strands": ""})
    assert found.echoes["strand"] == said
    assert moved(taken(found)) == ["motor wires 2", "horn"]
    assert moved(without_wire(whole(), 0)) == ["headlight 2", "horn"]
    assert moved(without_lamp(whole(), 0)) == ["motor wires 2", "horn"]
    assert moved(without_lamp(whole(), 1)) == moved(whole())  # no strand leads from it


LIGHT = {
    "circuits": [{"lamp": "headlight"}, {"lamp": "cab light"}],
    "strands": [{"name": "lens", "lamp": "headlight", "to": {"along": "-3 mm", "up": "20 mm"}}],
    "leads": [{"name": "drive", "run": "40 mm", "wires": "motor wires"}, {"name": "other", "run": "30 mm"}],
}


def spoken_of(found: Job) -> tuple[list[str], list[str], list[str | None]]:
    light = found.light
    return [each.lamp for each in light.circuits], [e.lamp for e in light.strands], [e.wires for e in light.leads]


def test_what_lights_a_lamp_and_the_leads_through_a_hole_follow_a_new_name():
    lit = whole(light=LIGHT)
    first, second = (each.name for each in lit.lamps[:2])
    assert spoken_of(lit) == (["headlight", "cab light"], ["headlight"], ["motor wires", None])
    assert (first, second) == ("headlight", "cab light")
    new = taken(with_wire(taken(with_lamp(lit, 0, {"name": "lamp"})), 0, {"name": "feed"}))
    assert spoken_of(new) == (["lamp", "cab light"], ["lamp"], ["feed", None])
    without_change(lit, new, "lamps", "wires", "holes", "light")


def test_what_lights_a_lamp_goes_with_it_and_leads_through_wires_that_are_gone_pass_none():
    lit = whole(light=LIGHT)
    assert spoken_of(without_lamp(lit, 0)) == (["cab light"], [], ["motor wires", None])
    assert spoken_of(without_lamp(lit, 1)) == (["headlight"], ["headlight"], ["motor wires", None])
    assert spoken_of(without_wire(lit, 0)) == (["headlight", "cab light"], ["headlight"], [None, None])
    assert spoken_of(without_wire(lit, 1)) == spoken_of(lit)


def test_a_hole_that_never_was_stays_as_it_was_written():
    old = whole(holes=[{"name": "another", "right": "1 mm", "up": "1 mm"}])
    assert moved(taken(with_wire(old, 1, {"name": "bell"}))) == ["another"]


def test_more_holes_than_a_wall_is_laid_out_with_are_left_as_they_are():
    old = whole(wires=[{**WIRES[0], "count": MOST_HOLES + 1}])
    assert moved(taken(with_wire(old, 0, {"name": "drive"}))) == moved(old)


@given(st.integers(0, 1), st.integers(1, 5), st.sampled_from(["headlight", "horn", "a"]))
def test_holes_keep_their_strand_through_any_count(place, strands, name):
    names = hole_names(whole())
    every = [{"name": each, "right": f"{at} mm", "up": "5 mm"} for at, each in enumerate(names)]
    old = whole(holes=every)
    found = with_wire(old, place, {"name": name, "count": str(strands)})
    if found.job is None:
        assert found.messages.keys() == {"name"}  # a name that the other wires have
        return
    lost = max(old.wires[place].count - strands, 0)
    assert len(found.job.holes) == len(every) - lost
    assert set(moved(found.job)) <= set(hole_names(found.job))
    if not lost:
        back = {"name": old.wires[place].name, "count": str(old.wires[place].count)}
        assert taken(with_wire(found.job, place, back)) == old


# What is wrong.

NO_UNIT = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
ZERO = "the length is '0 mm'; it must be above 0. Measure it, and write its size."
TWICE = "the name is {!r}; expected a name that stands once. Give one of the two another."
COUNT = "the number of {0} is {1!r}; expected a whole number from 1 to {2}. Write 2 for two {0}."
LONG = "the name of {} is 201 characters long; it must be 200 or fewer. Write a shorter one."
STRAND = "There is no strand: empty this field, or write how thick a strand is."
WRONG = [
    ("lamps", 0, "name", "", "Write a name for it, such as headlight."),
    ("lamps", 0, "name", "cab light", TWICE.format("cab light")),
    ("lamps", 0, "name", "x" * 201, LONG.format("the lamp")),
    ("lamps", 0, "end", "middle", "the end is 'middle'; write one of front, rear."),
    ("lamps", 0, "room", "4", f"'4': {NO_UNIT}"),
    ("lamps", 0, "room", "", "Write how much of the length it takes at that end, such as 6 mm."),
    ("lamps", 0, "room", "-1 mm", "the length is '-1 mm'; it must be 0 or more. Check the sign."),
    ("lamps", 0, "strand", "0.5", f"'0.5': {NO_UNIT}"),
    ("lamps", 0, "strand", "0 mm", ZERO),
    ("lamps", 0, "strands", "two", COUNT.format("strands", "two", 99)),
    ("lamps", 0, "strands", "0", COUNT.format("strands", "0", 99)),
    ("lamps", 0, "strands", "2.5", COUNT.format("strands", "2.5", 99)),
    ("lamps", 0, "strands", "100", COUNT.format("strands", "100", 99)),
    ("lamps", 0, "strands", "-1", COUNT.format("strands", "-1", 99)),
    ("lamps", 0, "strands", "²", COUNT.format("strands", "²", 99)),
    ("lamps", 1, "strands", "2", STRAND),
    ("lamps", 0, "circuit", "x" * 201, LONG.format("the circuit")),
    ("wires", 0, "name", "", "Write a name for it, such as motor wires."),
    ("wires", 0, "name", "horn", TWICE.format("horn")),
    ("wires", 0, "diameter", "0.6", f"'0.6': {NO_UNIT}"),
    ("wires", 0, "diameter", "", "Write how thick one is over its insulation, such as 0.6 mm."),
    ("wires", 0, "diameter", "0 mm", ZERO),
    ("wires", 0, "count", "many", COUNT.format("wires", "many", 99)),
    ("wires", 0, "circuit", "x" * 201, LONG.format("the circuit")),
    ("drawer", 0, "kind", "tube", "what it is is 'tube'; write one of strip, sheet."),
    ("drawer", 0, "size", "", "Write its name, such as HO 6x10 for strip or .040 sheet for sheet."),
    ("drawer", 0, "length", "14", f"'14': {NO_UNIT}"),
    ("drawer", 0, "length", "", "Write how long it is, such as 14 in."),
    ("drawer", 0, "width", "6 in", "Strip has its width in its name: empty this field, or choose sheet."),
    ("drawer", 1, "width", "", "Write how wide the sheet is, such as 6 in."),
    ("drawer", 1, "width", "0 mm", ZERO),
    ("drawer", 1, "count", "1000", COUNT.format("pieces", "1000", 999)),
    ("drawer", 1, "offcut", "perhaps", "whether it is an offcut is 'perhaps'; write one of no, yes."),
    ("build", 0, "wall", "0 mm", ZERO),
    ("build", 0, "new_strip", "14", f"'14': {NO_UNIT}"),
    ("build", 0, "kerf", "-1 mm", "the length is '-1 mm'; it must be 0 or more. Check the sign."),
]  # fmt: skip


@pytest.mark.parametrize(
    ("table", "place", "field", "text", "message"), WRONG, ids=[f"{t} {f} {x[:12]!r}" for t, _, f, x, _ in WRONG]
)
def test_a_wrong_text_is_told_beside_its_field(table, place, field, text, message):
    found = EDITORS[table][1](whole(), place, {field: text})
    assert (found.job, found.messages) == (None, {field: message})


@pytest.mark.parametrize(
    ("typed", "place", "start"),
    [({"size": "6x"}, 0, "'6x':"), ({"size": "HO 6x10"}, 1, "'HO 6x10':"), ({"kind": "strip", "width": ""}, 1, "'")],
)
def test_a_strip_or_sheet_that_is_none_is_told_at_its_name(typed, place, start):
    found = with_stock(whole(), place, typed)
    assert found.job is None
    assert found.messages.keys() == {"size"}
    assert found.messages["size"].startswith(start)


def test_a_new_one_waits_for_what_it_needs():
    waits = {"lamps": ("name", "room"), "wires": ("name", "diameter"), "drawer": ("size", "length")}
    for table, names in waits.items():
        found = EDITORS[table][1](whole(), None, {})
        assert (found.job, found.messages, found.waiting) == (None, {}, names)
    assert with_stock(whole(), None, {"kind": "sheet"}).waiting == ("size", "length", "width")


@pytest.mark.parametrize(
    ("table", "entry", "most", "message"),
    [
        ("lamps", LAMPS[1], 50, "A job has 50 lamps at most. Take one out, or enter those of one end as one."),
        ("wires", WIRES[1], 50, ("A job has 50 kinds of wires at most. Take one out, or enter those of one thickness "
                                 "as one.")),
        ("drawer", DRAWER[0], 1000, "A job lists 1000 of these at most. Take one out, or enter those alike as one."),
    ],
)  # fmt: skip
def test_no_more_than_a_job_may_have(table, entry, most, message):
    many = [{**entry, **({"name": f"n{at}"} if "name" in entry else {})} for at in range(most)]
    typed = {"name": "x", "room": "1 mm", "diameter": "1 mm", "size": "HO 6x10", "length": "14 in"}
    assert EDITORS[table][1](whole(**{table: many, "holes": []}), None, typed).messages == {"": message}


# Any document comes back as it was.

lengths = st.decimals("0.01", "9", places=2).map(lambda size: f"{size} mm") | st.sampled_from([".04 in", "1/4 in"])
names = st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=12).filter(str.strip)
circuits = st.none() | names
ENTRIES = {
    "lamps": st.builds(
        LampEntry, name=names, end=st.sampled_from(["front", "rear"]), room=lengths, strand=st.none() | lengths,
        strands=st.integers(1, 99), circuit=circuits,
    ),
    "wires": st.builds(WireEntry, name=names, diameter=lengths, count=st.integers(1, 99), circuit=circuits),
    "drawer": st.builds(
        StockEntry, strip=st.sampled_from(["HO 6x10", ".100 sq"]), length=lengths, count=st.integers(1, 999),
        offcut=st.booleans(),
    ) | st.builds(
        StockEntry, sheet=st.just(".040 sheet"), length=lengths, width=lengths, count=st.integers(1, 999),
        offcut=st.booleans(),
    ),
}  # fmt: skip


@given(st.fixed_dictionaries({name: st.lists(each, max_size=3) for name, each in ENTRIES.items()}),
       st.builds(Build, **{**dict.fromkeys(build_texts(job()), lengths), "count": st.integers(1, 99)}))  # fmt: skip
def test_a_document_comes_back_as_it_was(tables, build):
    old = whole().model_copy(update={**tables, "build": build})
    for table, (texts, read) in EDITORS.items():
        for place in range(1 if table == "build" else len(getattr(old, table))):
            assert read(old, place, texts(old, place)).job == old


@given(st.sampled_from(["lamps", "wires", "drawer"]).flatmap(lambda name: st.tuples(st.just(name), ENTRIES[name])))
def test_texts_typed_into_another_job_say_the_same(chosen):
    table, entry = chosen
    texts, read = EDITORS[table]
    tidy = entry.model_copy(update={"name": "n"}) if table != "drawer" else entry
    if table == "lamps" and tidy.strand is None:
        tidy = tidy.model_copy(update={"strands": 1})
    if table != "drawer" and tidy.circuit is not None:
        tidy = tidy.model_copy(update={"circuit": tidy.circuit.strip() or None})
    source = whole().model_copy(update={table: [tidy], "holes": []})
    bare = whole(**{table: [], "holes": []})
    assert getattr(taken(read(bare, None, texts(source, 0))), table) == [tidy]
