"""Every fault of a job file: its place, what was given, what to write; whole messages, as a person reads them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from sample_jobs import DEMO_PATHS

from modelmath.errors import JobError
from modelmath.job import check_job, load_job
from modelmath.job.storage.files import LARGEST

RAILCAR = next(path for path in DEMO_PATHS if path.stem == "railcar-n").read_text("utf-8")


@pytest.fixture
def faults(tmp_path):
    """What is wrong with the railcar once one piece of its text is another."""

    def say(old: str, new: str) -> list[str]:
        assert old in RAILCAR
        file = tmp_path / "car.toml"
        file.write_text(RAILCAR.replace(old, new, 1), "utf-8")
        return [str(fault) for fault in check_job(file)]

    return say


WRONG = {
    "a quote not closed": (
        'mark = "11"',
        'mark = "11',
        'line 43, column 11: a quote is not closed on this line; close it, as "8 1/2".',
    ),
    "inches in quotes": (
        'mark = "11"',
        'mark = "11 1/2""',
        (
            'line 43, column 16: a quote or bracket is missing, or is one too many; write name = "value", '
            "with inches as in."
        ),
    ),
    "curly quotes": (
        'mark = "11"',
        "mark = “11”",
        'line 43, column 8: this value can\'t be read; write it in straight quotes, as name = "value".',
    ),
    "no equals sign": (
        'mark = "11"',
        'mark: "11"',
        'line 43, column 5: it is no field; write name = "value", or # first.',
    ),
    "a field twice": (
        'mark = "11"',
        'mark = "11"\nmark = "12"',
        "line 44, column 12: this field is written twice; leave one of the two.",
    ),
    "a table twice": (
        "[length]",
        "[seat]",
        "line 38, column 6: this table is written twice; put its fields together under one heading.",
    ),
    "a backslash": (
        'mark = "11"',
        'mark = "1\\2"',
        "line 43, column 12: a sign in this text can't stand there; write \\\\ for each \\.",
    ),
    "a bare mark": (
        'mark = "11"',
        "mark = 11",
        ("line 43, reading 1 ('roof'), mark: it is 11, without quotes; write mark = \"11\"."),
    ),
    "a bare length": (
        'keep = "0.4 mm"',
        "keep = 0.4",
        'line 34, clearance, keep: it is 0.4, without quotes; write keep = "0.4 mm".',
    ),
    "a bare rule length": (
        'length = "100"',
        "length = 100",
        "line 14, rule 1 ('short steel rule'), length: it is 100, without quotes; write length = \"100\".",
    ),
    "a list for a mark": (
        'mark = "11"',
        'mark = ["11"]',
        "line 43, reading 1 ('roof'), mark: it is a list, without quotes; write one text in quotes, as mark = \"...\".",
    ),
    "a missing field": (
        'mark = "11"',
        "",
        "line 41, reading 1 ('roof'), mark: it is missing; add mark = \"...\".",
    ),
    "a missing scale": ('scale = "N"', "", 'scale: it is missing; add scale = "...".'),
    "an empty mark": (
        'mark = "11"',
        'mark = ""',
        "line 43, reading 1 ('roof'), mark: it is empty; write something between the quotes.",
    ),
    "an unknown field": (
        "[seat]",
        '[seat]\nrepeat = "1 mm"\nfaec = "a"',
        "line 30, seat, repeat: there is no such field; did you mean repeatability?",
        "line 31, seat, faec: there is no such field; did you mean face?",
    ),
    "a field like none": (
        "[seat]",
        '[seat]\nqqq = "1 mm"',
        "line 30, seat, qqq: there is no such field; use one of face, repeatability.",
    ),
    "a misspelt table": (
        "[marking]",
        "[markings]",
        "marking: it is missing; add [marking].",
        "line 25, markings: there is no such table; did you mean marking?",
    ),
    "two brackets for one": (
        "[marking]",
        "[[marking]]",
        "line 25, marking: it stands in two brackets, as if there could be several; write [marking].",
    ),
    "one bracket for two": (
        "[[zones]]",
        "[zones]",
        "line 60, zones: it stands in one bracket, as if there could be only one; write [[zones]].",
    ),
    "no table at all": (
        "format = 1",
        'format = 1\nseat = "sill"\nspeaker = "round"',
        "line 31, column 6: this field is written twice; leave one of the two.",
    ),
    "a newer format": (
        "format = 1",
        "format = 7",
        "line 2, format: the file has format 7, newer than this release reads (1); install a newer release to open it.",
    ),
    "no format": ("format = 1", "format = 0", "line 2, format: it is 0; write 1 or more."),
    "an unknown word": (
        'end = "front"',
        'end = "left"',
        "line 81, lamp 1 ('headlight'), end: it is 'left'; write one of \"front\", \"rear\".",
    ),
    "a count in quotes": (
        "count = 2",
        'count = "2"',
        "line 94, wire 1 ('speaker wires'), count: it is '2'; write a whole number, without quotes.",
    ),
    "a count of none": (
        "count = 2",
        "count = 0",
        "line 94, wire 1 ('speaker wires'), count: it is 0; write 1 or more.",
    ),
    "a large scale error": (
        'offset_uncertainty = "0.1 mm"',
        "scale_error = 0.5",
        "line 13, rule 1 ('short steel rule'), scale_error: it is 0.5; write a number below 0.1.",
    ),
    "a truth in quotes": (
        'shell_inside = "body inside, length"',
        'shell_inside = "body inside, length"\nrear_closed = "no"',
        "line 40, length, rear_closed: it is 'no'; write true or false, without quotes.",
    ),
    "an unreadable mark": (
        'mark = "11"',
        'mark = "3 4/3/2"',
        (
            "line 43, reading 1 ('roof'), mark: '3 4/3/2': it has two fraction strokes; write a number with "
            "a unit, such "
            "as 15.9 mm, .040 in or 3 3/4 scale ft."
        ),
    ),
    "a length without unit": (
        'keep = "0.4 mm"',
        'keep = "0.4"',
        (
            "line 34, clearance, keep: '0.4': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or "
            "3 3/4 scale ft."
        ),
    ),
    "a length below 0": (
        'keep = "0.4 mm"',
        'keep = "-0.4 mm"',
        "line 34, clearance, keep: the length is '-0.4 mm'; it must be 0 or more. Check the sign.",
    ),
    "a size of 0": (
        'flange = "0.8 mm"',
        'flange = "0 mm"',
        "line 70, speaker, flange: the length is '0 mm'; it must be above 0. Measure it, and write its size.",
    ),
    "beyond the rule": (
        'mark = "11"',
        'mark = "400"',
        (
            "line 43, reading 1 ('roof'), mark: the reading is 400 mm; it must be on short steel rule, whose "
            "last mark is "
            "100 mm. Read it again, or use a longer rule."
        ),
    ),
    "an unknown scale": ('scale = "N"', 'scale = "NN"', "line 4, scale: No scale is called 'NN'; did you mean N?"),
    "a rule's unknown scale": (
        'offset_uncertainty = "0.1 mm"',
        'scale = "QQ"',
        (
            "line 13, rule 1 ('short steel rule'), scale: No scale is called 'QQ'; write HO, N, O or S, or a "
            "ratio such as "
            "1:87.1."
        ),
    ),
    "an unknown rule": (
        'rule = "caliper"',
        'rule = "calliper"',
        "line 51, reading 3 ('body inside, width'), rule: the rule is 'calliper'; write 'caliper'.",
    ),
    "an unknown reading": (
        'underside = "roof"',
        'underside = "rof"',
        "line 62, zone 1 ('motor'), underside: the reading is 'rof'; write 'roof'.",
    ),
    "a reading like none": (
        'width = "body inside, width"',
        'width = "zzz"',
        (
            "line 64, zone 1 ('motor'), width: the reading is 'zzz'; write 'roof' or 'motor top' or 'body "
            "inside, width' or "
            "'body inside, length'."
        ),
    ),
    "one name twice": (
        'name = "motor top"',
        'name = "roof"',
        (
            "line 46, reading 2 ('roof'), name: the name is 'roof'; expected a name that stands once. Give "
            "one of the two "
            "another."
        ),
    ),
    "no height": (
        'chassis_top = "motor top"\n',
        "",
        (
            "line 60, zone 1 ('motor'): the zone is without its two heights; expected readings for underside and "
            "chassis_top, or for gap. Name the readings taken over this zone."
        ),
    ),
    "chassis above roof": (
        'mark = "5.5"',
        'mark = "12"',
        (
            "line 60, zone 1 ('motor'): the free depth is -1.00 mm; it must be above 0. 'roof' must lie "
            "higher above the "
            "seat than 'motor top'."
        ),
    ),
    "a strip that is none": (
        'strip = ".080 sq"',
        'strip = "6x10x3"',
        (
            "line 140, drawer strip 1 ('6x10x3'): '6x10x3': it has more than two sides; write a strip such as HO 6x10, "
            ".030 x .125, .040 sq or 1.0 x 2.0 mm."
        ),
    ),
    "a speaker too long": (
        'length = "15 mm"',
        'length = "80 mm"',
        (
            "the plan: The speaker does not fit: 44.19 mm too little, because over motor 35.81 mm of the length is "
            "left for the speaker's 80.00 mm, beside two walls of 0.76 mm and posts of 2.03 mm behind them. "
            "Try a shorter speaker, thinner walls or posts, or less clearance."
        ),
    ),
    "too much clearance": (
        'keep = "0.4 mm"',
        'keep = "5 mm"',
        (
            "the plan: The decoder does not fit: 3.00 mm too little, because over motor there are 0.50 mm of height "
            "for its 3.50 mm. Use a smaller decoder, turn it, or keep less clearance."
        ),
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_file_says_where_what_and_what_to_write(name, faults):
    old, new, *messages = WRONG[name]
    assert faults(old, new) == [
        f"car.toml{': ' if message.startswith(': ') else ', '}{message}" for message in messages
    ]


def test_every_fault_is_said_at_once(faults):
    said = faults('mark = "11"', 'mark = "1/0"\nrule = "calliper"')
    assert len(said) == 1  # of one reading the rule comes first
    said = faults('[clearance]\nkeep = "0.4 mm"\nalong = "0.4 mm"', '[clearance]\nkeep = "4"\nalong = "1 mm"')
    assert len(said) == 1
    said = faults(
        'strand = "0.5 mm"\n\n[[lamps]]\nname = "tail light"', 'strand = "5"\n\n[[lamps]]\nname = "headlight"'
    )
    assert [line.split(":")[0] for line in said] == [
        "car.toml, line 86, lamp 2 ('headlight'), name",
        "car.toml, line 83, lamp 1 ('headlight'), strand",
    ]


# Files that are no job at all.


def refused(path: Path) -> str:
    with pytest.raises(JobError) as fault:
        load_job(path)
    assert [str(each) for each in check_job(path)] == [str(fault.value)]
    return str(fault.value)


def test_a_missing_file(tmp_path):
    path = tmp_path / "car.toml"
    assert refused(path) == f"{path}: there is no such file; check the name and the folder."


def test_a_folder(tmp_path):
    assert refused(tmp_path) == f"{tmp_path}: it is a folder; write the name of a job file in it."


def test_text_in_another_code(tmp_path):
    path = tmp_path / "car.toml"
    path.write_bytes('# Müller\nname = "Bodenfräse"\n'.encode("latin-1"))
    assert refused(path) == "car.toml, line 1: it is not UTF-8 text; save it as UTF-8."


def test_a_file_too_large(tmp_path):
    path = tmp_path / "car.toml"
    path.write_text("#" * (LARGEST + 1), "utf-8")
    assert refused(path) == "car.toml: it is larger than 2000 kB; choose a job file, which is far smaller."


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    path = tmp_path / "car.toml"
    path.touch()

    def refuse(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    with pytest.raises(
        JobError,
        match=f"^{re.escape(f'{path}: it can{chr(39)}t be read: permission denied; check whether you may open it.')}$",
    ):
        load_job(path)


def test_brackets_without_end(tmp_path):
    path = tmp_path / "car.toml"
    path.write_text("name = " + "[" * 5000, "utf-8")
    said = "there are too many brackets in one another"
    assert refused(path) == f'car.toml, line 1: {said}; write name = "value".'


def test_an_empty_file_says_all_that_is_missing(tmp_path):
    path = tmp_path / "car.toml"
    path.touch()
    assert [str(fault) for fault in check_job(path)] == [
        'car.toml, name: it is missing; add name = "...".',
        'car.toml, scale: it is missing; add scale = "...".',
        "car.toml, rules: it is missing; add [[rules]].",
        "car.toml, marking: it is missing; add [marking].",
        "car.toml, clearance: it is missing; add [clearance].",
        "car.toml, readings: it is missing; add [[readings]].",
        "car.toml, zones: it is missing; add [[zones]].",
    ]
