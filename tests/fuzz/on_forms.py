"""Targets: forms that stand alone, the first screen, and every editor of the inside, each field of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from editors_inside import LISTS, SINGLE, Read, Texts
from fuzz.chooser import Choices
from fuzz.target import Target
from fuzz.words import TOKENS, form, several, short_text, text
from sample_jobs import DEMO_PATHS, DEMOS

from modelmath.job.begin.answers import LAMPS, Answers, Stretch
from modelmath.job.begin.making import begin
from modelmath.job.document import Job
from modelmath.job.entries import chamber_sound
from modelmath.job.entries.chamber_texts import read_also, read_chamber, read_count, size_mm
from modelmath.job.entries.inside import choices as others
from modelmath.job.entries.inside import sound
from modelmath.job.entries.light_alone import (
    bulb,
    gauge,
    kept_alive,
    lead,
    lens,
    resistor,
    strand,
    strings,
    trimming,
)
from modelmath.job.entries.lit import circuits, feed, leads, strands
from modelmath.job.entries.repeated import marks_of
from modelmath.job.entries.screen import entries_of, read_entries
from modelmath.job.entries.typed import names_unit
from modelmath.job.entries.unread import empty, take
from modelmath.job.entries.zones import MarkRow, ZoneRow, mark_row, with_zones, zone_rows
from modelmath.job.plan import plan
from modelmath.quantities.text import KINDS

WORDS = (
    "3 mm", "5 1/4", "7 1/2", ".040 in", "12 V", "2 mA", "warm white", "1.8 V", "90 deg, 8 mm",
    "90 deg, 5 mm, formed", "8 ohm", "0.7", "22 mm, 21 mm", "30 x 12 x 9 mm", "2.5 cm3",
    "headlight 1: 2 mm right, 6 mm up", "tail: 14 g at 4 mm", "no", "yes", "1", "3",
    "speaker: 200 mm3 of brass off at 5 mm", "left: 5 1/4; right: 5, 8 1/2", "2.2 mm, 1.2 mm", "8 mm, 13 mm",
    "5, 5 1/8; 5 1/4", "450 ± 30 Hz, measured", "other; 8 ohm; 1 W", "0 mm: 4 mm\n3 mm: 9 mm", "30 AWG", "red",
    "front", "rear", "best", "E24", "50 %",
)  # fmt: skip
SIGNED_WORDS = (*WORDS, "-3 mm", "12 scale ft")

FORMS: dict[str, tuple[Mapping[str, str], Callable[[Mapping[str, str]], Any]]] = {
    "resistor": (resistor.DEMO, resistor.read_resistor),
    "strings": (resistor.DEMO | strings.DEMO, strings.read_strings),
    "bulb": (resistor.DEMO | bulb.DEMO, bulb.read_bulb),
    "trimming": (resistor.DEMO | trimming.DEMO, trimming.read_trimming),
    "kept alive": (kept_alive.DEMO, kept_alive.read_kept_alive),
    "lead": (lead.DEMO, lead.read_lead),
    "lens": (lens.DEMO, lens.read_lens),
    "strand": (strand.DEMO, strand.read_strand),
    "gauge": (lens.DEMO | gauge.DEMO, gauge.read_gauge),
}


def read_form(name: str, typed: dict[str, str]) -> None:
    found = FORMS[name][1](typed)
    assert found.answer is not None or found.messages or found.waiting
    assert all(len(message) < 4000 for message in found.messages.values())


def _form(choices: Choices) -> tuple[Any, ...]:
    name = choices.one(list(FORMS))
    return name, form(choices, FORMS[name][0], WORDS)


SOUND = dict.fromkeys(chamber_sound.FIELDS, "") | chamber_sound.DEMO | {
    "longest": "6 mm", "wall": "1 mm", "fs": "450 Hz", "qts": "0.8", "vas": "1.5 cm3", "chamber": "30 x 12 x 9 mm",
    "least": "8 ohm",
    "power_out": "1 W", "wanted_q": "0.9", "count": "2", "also": "other; 8 ohm; 1 W",
}  # fmt: skip


def read_sound(typed: dict[str, str]) -> None:
    found = chamber_sound.read_entries(typed)
    assert all(len(message) < 4000 for message in found.messages.values())


ONE_TEXT: tuple[Callable[[str], Any], ...] = (
    size_mm, read_chamber, read_count, read_also, strand.read_bends, trimming.read_share, marks_of, names_unit, empty,
    sound.also_from, lambda typed: sound.read_name(typed, "a name"),
    lambda typed: sound.line_value(typed, "fs", "frequency"),
)  # fmt: skip


def read_one_text(which: int, typed: str) -> None:
    ONE_TEXT[which](typed)


# Editors of a job: each changes one document into another, or says what is wrong.

TABLES: dict[str, tuple[Texts, Read]] = {
    **SINGLE,
    "sound": (sound.sound_texts, sound.with_sound),
    "feed": (feed.feed_texts, feed.with_feed),
}
EVERY_LIST: dict[str, tuple[Callable[..., dict[str, str]], Callable[..., Any]]] = {
    **LISTS,
    "choices": (others.choice_texts, others.with_choice),
    "circuits": (circuits.circuit_texts, circuits.with_circuit),
    "strands": (strands.strand_texts, strands.with_strand),
    "leads": (leads.lead_texts, leads.with_lead),
}
EDITORS = (*TABLES, *EVERY_LIST)


@cache
def _texts(model: str, editor: str, place: int | None) -> dict[str, str]:
    job = DEMOS[model]
    return TABLES[editor][0](job) if editor in TABLES else EVERY_LIST[editor][0](job, place)


def _length(job: Job, editor: str) -> int:
    return len(getattr(job.light if hasattr(job.light, editor) else job, editor))


def _edit(choices: Choices) -> tuple[Any, ...]:
    model, editor = choices.one(list(DEMOS)), choices.one(EDITORS)
    place = None
    if editor in EVERY_LIST and (count := _length(DEMOS[model], editor)) and choices.often(200):
        place = choices.below(count)
    return model, editor, place, form(choices, _texts(model, editor, place), SIGNED_WORDS)


def edit(model: str, editor: str, place: int | None, typed: dict[str, str]) -> None:
    """The job that comes out, if one does, reads back the same and has a plan or says why not."""
    job = DEMOS[model]
    found = TABLES[editor][1](job, typed) if editor in TABLES else EVERY_LIST[editor][1](job, place, typed)
    _checked(found)


def _checked(found: Any) -> None:
    assert all(len(message) < 4000 for message in found.messages.values())
    if found.job is not None:
        assert Job.model_validate(found.job.model_dump()) == found.job
        assert plan(found.job).governing is not None


@cache
def _entries(model: str, zone: int) -> dict[str, str]:
    return entries_of(DEMOS[model], zone=zone)


def _screen(choices: Choices) -> tuple[Any, ...]:
    model = choices.one(list(DEMOS))
    zone = choices.below(len(DEMOS[model].zones))
    return model, zone, form(choices, _entries(model, zone), SIGNED_WORDS)


def type_screen(model: str, zone: int, typed: dict[str, str]) -> None:
    _checked(read_entries(typed, DEMOS[model], zone))


def take_reading(model: str, which: int, typed: str) -> None:
    job = DEMOS[model]
    found = take(job, job.readings[which % len(job.readings)].name, typed)
    assert (found.job is None) == bool(found.message)


def _rows(choices: Choices) -> tuple[Any, ...]:
    model = choices.one(list(DEMOS))
    rows = [vars(row) for row in zone_rows(DEMOS[model])] * choices.one((1, 1, 1, 60))
    mark = dict(vars(mark_row(DEMOS[model])))
    changed = [dict(row) for row in rows]
    for _ in range(choices.below(4) + 1):
        row = choices.one([*changed, mark]) if changed else mark
        name = choices.one(list(row))
        row[name] = short_text(choices, (row[name], *WORDS))
    if choices.often(60) and changed:
        del changed[choices.below(len(changed))]
    return model, changed, mark


def type_zones(model: str, rows: list[dict[str, str]], mark: dict[str, str]) -> None:
    job = with_zones(DEMOS[model], [ZoneRow(**row) for row in rows], MarkRow(**mark))
    assert plan(job).governing is not None


def _answers(choices: Choices) -> tuple[Any, ...]:
    answers: dict[str, Any] = {
        "name": "hood",
        "scale": "HO",
        "unit": "scale foot",
        "zero": "1",
        "keep": "0.5 mm",
        "lamp_room": "6 mm",
    }
    for _ in range(choices.below(4) + 1):
        name = choices.one(list(answers))
        answers[name] = short_text(choices, ("HO", "mm", "in", "scale inch", "0.5", answers[name]))
    stretches = [(several(choices, TOKENS, 3), choices.often(128)) for _ in range(choices.below(6))]
    decoder = [short_text(choices, ("20 mm", "9 mm")) for _ in range(3)]
    lamps = [choices.one((*LAMPS, "x")) for _ in range(choices.below(4))]
    return answers, stretches, decoder, lamps


def begin_model(
    answers: dict[str, str], stretches: list[tuple[str, bool]], decoder: list[str], lamps: list[str]
) -> None:
    made = begin(
        Answers(
            **answers, stretches=tuple(Stretch(*each) for each in stretches), with_decoder=True,
            decoder=(decoder[0], decoder[1], decoder[2]), lamps=tuple(lamps),
        )
    )  # fmt: skip
    assert made is not None


assert len(DEMO_PATHS) == len(DEMOS)
assert KINDS

TARGETS = (
    Target("a form for light", _form, read_form, 2.0),
    Target("the form for sound", lambda c: (form(c, SOUND, WORDS),), read_sound, 8.0),
    Target("one field of a form", lambda c: (c.below(len(ONE_TEXT)), text(c, WORDS)), read_one_text, 0.1),
    Target("an editor of the inside", _edit, edit, 8.0, most_s=5.0),
    Target("the first screen", _screen, type_screen, 8.0, most_s=5.0),
    Target("a reading still to take", lambda c: (c.one(list(DEMOS)), c.below(20), text(c, ("5 1/4", "15.9 mm",
    "5; 5 1/8"))), take_reading, 3.0),
    Target("the table of zones", _rows, type_zones, 8.0, most_s=5.0),
    Target("a new model", _answers, begin_model, 2.0),
)  # fmt: skip
