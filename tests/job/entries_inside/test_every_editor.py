"""All editors together: a document is as it was after a round trip, and every field of the inside can be typed."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, get_args

import pytest
from built_jobs import random_job
from editors_inside import LISTS, SINGLE, Read, Texts
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job, with_chamber

from modelmath.job.document import Job
from modelmath.job.entries.inside import parts
from modelmath.job.entries.screen import entries_of, read_entries
from modelmath.job.entries.zones import mark_row, with_zones, zone_rows
from modelmath.job.fields import inside as fields_inside
from modelmath.job.fields.base import Entry


def first_screen(zone: int) -> tuple[Texts, Read]:
    return partial(entries_of, zone=zone), lambda base, typed: read_entries(typed, base, zone)


def editors(old: Job) -> Iterator[tuple[str, Texts, Read]]:
    """Every editor of a job: one for each zone, for each entry of a list, and for each table."""
    for zone in range(len(old.zones)):
        yield f"first screen, zone {zone}", *first_screen(zone)
    for table, (texts, read) in LISTS.items():
        for place in range(len(getattr(old, table))):
            yield (
                f"{table} {place}",
                lambda base, texts=texts, place=place: texts(base, place),
                lambda base, typed, read=read, place=place: read(base, place, typed),
            )
    for name, (texts, read) in SINGLE.items():
        yield name, texts, read


def same(old: Job) -> None:
    for name, texts, read in editors(old):
        found = read(old, texts(old))
        assert (found.messages, found.waiting) == ({}, ()), name
        assert found.job == old, name
    assert with_zones(old, zone_rows(old), mark_row(old)) == old


STANDING = {"name": "clip", "kind": "motor frame", "start": "clip, start", "end": "clip, end", "running": "0.3 mm"}
FULL: dict[str, Any] = {
    "speaker": {"name": "round one", "flange": "1.2 mm", "length": "22 mm", "width": "21 mm", "depth": "6 mm",
                "faces": "front", "turned": True, "place": "rear", "rim": "2 mm"},
    "decoder": {"name": "sound", "length": "20 mm", "width": "9 mm", "height": "3 mm", "air": "2 mm", "turns": False},
    "chamber": {"cut_round": True, "wire_path": "1 mm", "removable": ["decoder", "speaker"]},
    "lamps": [{"name": "headlight", "end": "front", "room": "4 mm", "strand": "0.5 mm", "strands": 2}],
    "wires": [{"name": "horn", "diameter": "0.6 mm", "circuit": "sound"}],
    "hole_layout": {"way": "spread", "apart": "2 mm"},
    "holes": [{"name": "horn", "right": "-1 mm", "up": "5 mm"}],
    "weight": {"front_truck": "0 mm", "rear_truck": "60 mm", "front_grams": 120.5, "rear_grams": 110.0,
               "changes": [{"name": "frame", "at": "20 mm", "volume": 300.0, "material": "zinc alloy", "off": True},
                           {"name": "speaker", "at": "-3 mm", "grams": 12.5}]},
    "build": {"kerf": "0.3 mm", "wall": ".060 in"},
    "drawer": [{"strip": "HO 6x10", "length": "14 in"},
               {"sheet": ".040 sheet", "length": "12 in", "width": "6 in", "offcut": True}],
}  # fmt: skip


def full(**fields: Any) -> Job:
    readings = [each.model_dump() for each in with_chamber().readings]
    readings += [
        {"name": f"clip, {name}", "mark": mark, "on": "shell"} for name, mark in (("start", "3"), ("end", "5"))
    ]
    profiles = [{"name": "arch", "points": [{"down": "0 mm", "width": "4 mm"}, {"down": "3 mm", "width": "9 mm"}]}]
    zones = [{**with_chamber().zones[0].model_dump(), "profile": "arch"}]
    return with_chamber(**{
        **FULL, "readings": readings, "obstacles": [STANDING], "profiles": profiles, "zones": zones, **fields,
    })  # fmt: skip


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_is_as_it_was_after_every_editor(name):
    same(DEMOS[name])


def test_small_and_full_jobs_are_as_they_were_after_every_editor():
    for old in (job(), with_chamber(), full()):
        same(old)


@given(st.integers(0, 10_000), st.booleans())
def test_a_random_job_is_as_it_was_after_every_editor(number, roofs):
    """Its readings are repeated, its zones end on either half, its spots have gaps and roofs of their own."""
    old = random_job(number, roofs)
    inside = {} if old.length is None else {name: getattr(full(), name) for name in FULL}
    same(old.model_copy(update=inside))


# Every field of the tables can be typed somewhere.

WHOLE = {"Build": "build", "ChamberEntry": "chamber", "DecoderEntry": "decoder", "HolesEntry": "hole_layout",
         "SpeakerEntry": "speaker", "WeightEntry": "weight"}  # fmt: skip
IN_A_LIST = {"HoleEntry": ("holes",), "LampEntry": ("lamps",), "MassEntry": ("weight", "changes"),
             "StockEntry": ("drawer",), "WireEntry": ("wires",)}  # fmt: skip
NOT_TYPED: dict[tuple[str, str], str] = {}  # by table and field, the reason why no editor has it: there is none now

FIRST = {"flange": "2 mm", "speaker_length": "23 mm", "speaker_width": "17 mm", "speaker_depth": "7 mm",
         "decoder_length": "21 mm", "decoder_width": "10 mm", "decoder_height": "4 mm",
         "cutting": "0.3 mm"}  # fmt: skip
TYPED: dict[str, dict[str, str]] = {
    "first screen, zone 0": FIRST,
    "speaker": {"name": "square one", "faces": "up", "turned": "along the shell", "place": "front",
                "basket_length": "20 mm", "basket_width": "9 mm", "terminals": "1 mm", "travel": "0.5 mm",
                "rim": "1 mm", "round": "round"},
    "decoder": {"name": "plain", "air": "3 mm", "turns": "yes", "inside": "yes"},
    "chamber": {"front_end": "-3 mm", "rear_end": "60 mm",
                "cut_round": "no", "wire_path": "2 mm", "steps": "3", "floor": "in one piece", "light_barrier": "yes",
                "strand_supports": "20 mm", "removable_speaker": "no"},
    "lamps 0": {"name": "marker", "end": "rear", "room": "5 mm", "strand": "0.6 mm", "strands": "3", "circuit": "c"},
    "wires 0": {"name": "bell", "diameter": "0.8 mm", "count": "2", "circuit": "drive"},
    "holes": {"way": "in a row", "height": "4 mm", "web": "2 mm", "edge": "2 mm", "apart": "3 mm",
              "moved": "headlight 1: 2 mm right, 6 mm up"},
    "weight": {"front_truck": "1 mm", "rear_truck": "61 mm", "front_grams": "121 g", "rear_grams": "111 g",
               "driven": "neither", "changes": "tail: 14 g at 4 mm\nspeaker: 200 mm3 of brass off at 5 mm"},
    "build": dict.fromkeys(parts.build_texts(job()), "2 mm") | {"count": "3"},
    "drawer 0": {"size": "HO 8x8", "length": "15 in", "count": "3", "offcut": "yes"},
    "drawer 1": {"size": ".060 sheet", "width": "7 in"},
}  # fmt: skip


def tables() -> dict[str, type[Entry]]:
    return {
        name: kind
        for name, kind in vars(fields_inside).items()
        if isinstance(kind, type) and issubclass(kind, Entry) and kind is not Entry
    }


def reached(old: Job, new: Job) -> set[tuple[str, str]]:
    """The fields of the inside that differ between two jobs."""
    before, after = old.model_dump(), new.model_dump()
    pairs = [(kind, before[table], after[table]) for kind, table in WHOLE.items()]
    for kind, (table, *rest) in IN_A_LIST.items():
        lists = [each[table][rest[0]] if rest else each[table] for each in (before, after)]
        pairs += [(kind, *each) for each in zip(*lists, strict=True)]
    return {(kind, field) for kind, a, b in pairs for field in a if a[field] != b[field]}


def test_the_tables_of_the_inside_are_those_that_are_looked_at():
    assert set(tables()) == {*WHOLE, *IN_A_LIST}
    for kind, table in WHOLE.items():
        annotated = Job.model_fields[table].annotation
        assert tables()[kind] in (annotated, *get_args(annotated)), table


def test_every_field_of_the_inside_is_reached_by_an_editor():
    """One text after another, each alone: what it changes in the document is what its field reaches."""
    old = full()
    found: set[tuple[str, str]] = set()
    known = {name: (texts, read) for name, texts, read in editors(old)}
    for name, typed in TYPED.items():
        texts, read = known[name]
        for field, text in typed.items():
            new = read(old, {**texts(old), field: text})
            assert new.job is not None, (name, field, new.messages, new.waiting)
            assert new.job != old, (name, field)
            found |= reached(old, new.job)
    asked = {(kind, field) for kind, model in tables().items() for field in model.model_fields}
    assert asked - found == set(NOT_TYPED)
