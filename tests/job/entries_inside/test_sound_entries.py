"""What sounds, typed and read back: nothing lost, each fault beside its field. All numbers invented."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job, with_chamber

from modelmath import check_job, load_job, save_job, to_scale
from modelmath.job.document import Job
from modelmath.job.entries.inside import contents
from modelmath.job.entries.inside.sound import FIELDS, MOST_ALSO, also_from, sound_texts, with_sound
from modelmath.job.fields.sound import AlsoDrivenEntry, DriverEntry, OutputEntry, SoundEntry
from modelmath.job.storage.files import job_text
from modelmath.quantities.text import EXAMPLES, parse_quantity

UNITS = {
    "impedance": "ohm", "power": "W", "re": "ohm", "fs": "Hz", "qes": "", "qms": "", "qts": "", "vas": "cm3",
    "sd": "mm2", "xmax": "mm", "mms": "g", "le": "mH", "least": "ohm", "most": "ohm", "out_power": "W",
    "into": "ohm", "supply": "V", "drop": "V", "wanted_q": "",
}  # fmt: skip
FULL: dict[str, Any] = {
    "driver": {"impedance": "8 ohm", "power": "1 W, given", "re": "7.2 ohm, measured", "fs": "450 ± 30 Hz, measured",
               "qes": "1.1", "qms": "4 to 5", "qts": "0.86 to 0.9", "vas": "1.5 cm3", "sd": "110 mm2", "xmax": ".02 in",
               "mms": "150 mg", "le": "50 uH"},
    "output": {"least": "4 ohm", "most": "16 ohm", "power": "2 W", "into": "8 ohm", "supply": "12 V", "drop": "1.5 V"},
    "stuffing": "lightly filled",
    "wanted_q": "1.0",
    "also": [{"name": "second speaker", "impedance": "8 ohm", "power": "1 W"}, {"name": "third", "impedance": "8 ohm"}],
    "wiring": "two in series",
}  # fmt: skip


def full(**fields: Any) -> Job:
    return with_chamber(sound=FULL, **fields)


# There and back.


def test_what_sounds_is_as_it_was_after_its_texts():
    for old in (job(), with_chamber(), full(), *DEMOS.values()):
        found = with_sound(old, sound_texts(old))
        assert (found.job, found.messages, found.waiting) == (old, {}, ())


def test_the_texts_of_a_full_job_are_its_own():
    found = sound_texts(full())
    assert set(found) == set(FIELDS)
    assert {name: found[name] for name in FULL["driver"]} == FULL["driver"]
    assert (found["out_power"], found["into"], found["stuffing"]) == ("2 W", "8 ohm", "lightly filled")
    assert found["also"] == "second speaker; 8 ohm; 1 W\nthird; 8 ohm"


def test_the_texts_of_one_job_typed_into_another_give_the_same_sound():
    found = with_sound(with_chamber(), sound_texts(full()))
    assert (found.messages, found.job) == ({}, full())


def test_emptied_fields_give_a_job_without_sound():
    empty = dict.fromkeys(FIELDS, "") | {"stuffing": "unfilled"}
    assert with_sound(full(), empty).job == with_chamber()


NUMBER = st.decimals("0.001", "9999", places=3).map(str)
ORIGIN = st.sampled_from(["", ", measured", ", given", ", estimated", ", derived"])


@given(st.dictionaries(st.sampled_from(sorted(UNITS)), st.tuples(NUMBER, ORIGIN)), st.data())
def test_any_quantities_typed_come_back_as_typed(numbers, data):
    typed = {name: f"{number} {UNITS[name]}".strip() + origin for name, (number, origin) in numbers.items()}
    typed["stuffing"] = data.draw(st.sampled_from(["unfilled", "lightly filled", "filled"]))
    found = with_sound(with_chamber(), typed)
    if found.messages:  # two are the wrong way round, which the field of the second says
        assert {name: {"most": "least", "drop": "supply"}[name] for name in found.messages}.items() <= {
            (second, first)
            for second, first in (("most", "least"), ("drop", "supply"))
            if first in typed and second in typed
        }
        return
    assert found.messages == {}
    texts = sound_texts(found.job)
    assert {name: texts[name] for name in typed} == typed
    assert all(texts[name] == "" for name in UNITS if name not in typed)


NAMES = st.text("abcdefghij KLMN<>&\"'é", min_size=1, max_size=30).map(str.strip).filter(bool)


@given(st.lists(NAMES, unique=True, max_size=MOST_ALSO), NUMBER, st.booleans())
def test_other_speakers_typed_come_back_as_typed(names, ohms, powered):
    lines = "\n".join(f"{name}; {ohms} ohm{'; 1 W' if powered else ''}" for name in names)
    found = with_sound(with_chamber(), {"also": lines})
    assert found.messages == {}
    assert sound_texts(found.job)["also"] == lines
    assert [each.name for each in found.job.sound.also] == names


def test_an_echo_reads_as_the_same_quantity():
    found = with_sound(full(), sound_texts(full()))
    kinds = {"Hz": "frequency", "mm": "length", "g": "mass", "mH": "inductance", "cm3": "volume", "ohm": "resistance"}
    for name in ("fs", "xmax", "mms", "le", "vas", "re"):
        assert parse_quantity(found.echoes[name], kinds[UNITS[name]]) == parse_quantity(
            FULL["driver"][name], kinds[UNITS[name]]
        )
    assert (found.echoes["xmax"], found.echoes["mms"], found.echoes["le"]) == ("0.508 mm", "0.15 g", "0.05 mH")


def test_only_what_is_typed_changes():
    """Every field of the tables is reached by one of the editor's, and by that alone."""
    reached: set[tuple[str, str]] = set()
    old = full().model_dump()["sound"]
    other = {name: f"0.5 {unit}".strip() for name, unit in UNITS.items()}
    other |= {
        "most": "20 ohm",
        "supply": "20 V",
        "stuffing": "filled",
        "also": "another; 4 ohm; 2 W",
        "wiring": "another alone",
    }
    for name, text in other.items():
        found = with_sound(full(), {name: text})
        assert found.messages == {}, name
        new = found.job.model_dump()
        assert {**new, "sound": old} == full().model_dump(), name
        changed = {("sound", key) for key in old if key not in ("driver", "output") and new["sound"][key] != old[key]}
        for table in ("driver", "output"):
            changed |= {(table, key) for key in old[table] if new["sound"][table][key] != old[table][key]}
        assert len(changed) == 1, (name, changed)
        assert not changed & reached, name
        reached |= changed
    asked = {("driver", key) for key in DriverEntry.model_fields} | {
        ("output", key) for key in OutputEntry.model_fields
    }
    asked |= {("sound", key) for key in SoundEntry.model_fields if key not in ("driver", "output")}
    assert reached == asked
    assert set(AlsoDrivenEntry.model_fields) == {"name", "impedance", "power"}  # all three stand on its line


def test_the_sound_outlives_other_edits():
    found = contents.with_speaker(full(), {**contents.speaker_texts(full()), "travel": "0.4 mm"})
    assert found.job.sound == full().sound
    assert found.job.speaker.travel == "0.4 mm"


# What is wrong, beside its field.

BARE = {
    "ohm": "'8': it has no unit; write a number with its unit, such as 8 ohm.",
    "W": "'8': it has no unit; write a number with its unit, such as 1 W.",
    "Hz": "'8': it has no unit; write a number with its unit, such as 450 Hz.",
    "cm3": "'8': it has no unit; write a number with its unit, such as 1.5 cm3.",
    "mm2": "'8': it has no unit; write a number with its unit, such as 95 mm2.",
    "g": "'8': it has no unit; write a number with its unit, such as 0.08 g.",
    "mH": "'8': it has no unit; write a number with its unit, such as 0.05 mH.",
    "V": "'8': it has no unit; write a number with its unit, such as 2.5 V.",
    "mm": "'8': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
}


@pytest.mark.parametrize("name", [name for name, unit in UNITS.items() if unit])
def test_a_number_without_its_unit_is_told_beside_its_field(name):
    for old in (with_chamber(), full()):
        found = with_sound(old, {name: "8"})
        assert (found.job, found.messages) == (None, {name: BARE[UNITS[name]]})


@pytest.mark.parametrize("name", [name for name, unit in UNITS.items() if not unit])
def test_a_ratio_with_a_unit_is_told_beside_its_field(name):
    said = "'1 Hz': 'Hz' stands behind a ratio, which has no unit; write a number, such as 0.7."
    assert with_sound(full(), {name: "1 Hz"}).messages == {name: said}


@pytest.mark.parametrize("name", UNITS)
def test_nothing_is_0_or_below(name):
    for number in ("0", "-1"):
        found = with_sound(full(), {name: f"{number} {UNITS[name]}".strip()})
        assert found.job is None
        assert set(found.messages) == {name}


@pytest.mark.parametrize("name", UNITS)
def test_a_text_too_long_for_the_job_is_told_beside_its_field(name):
    text = f"0.5{'0' * 60} {UNITS[name]}".strip()
    short = f"0.5 {UNITS[name]}".strip()
    if name in ("most", "drop"):
        text, short = text.replace("0.5", "20.", 1), f"20 {UNITS[name]}"
    said = f"the text is {len(text)} characters long; it must be 60 or fewer. Write it as {short}."
    if name == "xmax":  # a length, which says so itself
        form = "write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
        said = f"'{text[:57]}...': it is longer than 60 characters; {form}"
    assert with_sound(full(), {name: text}).messages == {name: said}


@pytest.mark.parametrize(
    ("typed", "name", "message"),
    [
        ({"stuffing": "wool"}, "stuffing",
         "what fills the chamber is 'wool'; write one of unfilled, lightly filled, filled."),
        ({"least": "8 ohm", "most": "4 ohm"}, "most",
         ("the greatest impedance of the decoder is 4 ohm; it must be 8 ohm, its least impedance, or more. Swap the "
         "two.")),
        ({"supply": "5 V", "drop": "6 V"}, "drop",
         ("the voltage that the decoder's sound output loses is 6 V; it must be below its supply of 5 V. Read both "
         "from the sheet again.")),
        ({"fs": "400 to 300 Hz"}, "fs",
         "the lower limit is '400'; it must be no more than the upper one, '300 Hz'. Swap them."),
        ({"also": "rear"}, "also",
         ("another speaker is 'rear'; it must be its name, its impedance and, where known, its power, with semicolons "
         "or commas between. Write one on each line, such as second speaker; 8 ohm; 1 W.")),
        ({"also": "rear; 8"}, "also", BARE["ohm"]),
        ({"also": "rear; 8 ohm; 8"}, "also", BARE["W"]),
        ({"also": "\n".join(f"{name}; 8 ohm" for name in "abcd")}, "also",
         "other speakers on the output is 4 of them; it must be 3 or fewer. Leave some out."),
        ({"also": "rear; 8 ohm\nrear; 8 ohm"}, "also",
         ("the name of another speaker is 'rear'; it must be one that no other speaker on the output has. Write one of "
         "its own.")),
        ({"also": "speaker; 8 ohm"}, "also",
         ("the name of another speaker is 'speaker'; it must be one that no other speaker on the output has. Write one "
         "of its own.")),
        ({"also": f"{'x' * 201}; 8 ohm"}, "also",
         "the name of another speaker is 201 characters long; it must be 200 or fewer. Write a shorter one."),
        ({"also": "x\ty; 8 ohm"}, "also",
         ("the name of another speaker is 'x y'; it must be readable. Write it on one line, without a control "
         "character (U+0009).")),
        ({"wiring": "x" * 201}, "wiring",
         "the name of a wiring is 201 characters long; it must be 200 or fewer. Write a shorter one."),
        ({"wiring": "a\x07b"}, "wiring",
         ("the name of a wiring is 'a\\x07b'; it must be readable. Write it on one line, without a control character "
         "(U+0007).")),
    ],
)  # fmt: skip
def test_what_is_wrong_stands_beside_its_field(typed, name, message):
    found = with_sound(with_chamber(), typed)
    assert found.job is None
    assert found.messages == {name: message}


def test_several_faults_stand_each_beside_its_own_field():
    found = with_sound(full(), {"fs": "450", "least": "4", "also": "rear"})
    assert set(found.messages) == {"fs", "least", "also"}
    assert "qts" in found.echoes  # what can be read is echoed all the same


def test_what_the_job_had_wrong_before_stays_and_is_not_told_again():
    old = with_chamber(sound={"driver": {"fs": "450"}, "also": [{"name": "a; b", "impedance": "8 ohm"}]})
    found = with_sound(old, {"qts": "0.9"})
    assert (found.messages, found.job.sound.driver.fs, found.job.sound.also) == ({}, "450", old.sound.also)


def test_too_many_lines_of_other_speakers_are_refused_by_themselves():
    said = "other speakers on the output is 4 of them; it must be 3 or fewer. Leave some out."
    with pytest.raises(ValueError, match=f"^{re.escape(said)}$"):
        also_from("\n".join(f"{name}; 8 ohm" for name in "abcd"))


@pytest.mark.parametrize(
    ("line", "name", "impedance", "power"),
    [
        ("rear, 8 ohm, 1 W", "rear", "8 ohm", "1 W"),
        ("rear,8 ohm,1 W", "rear", "8 ohm", "1 W"),
        ("rear, 7,5 ohm", "rear", "7,5 ohm", None),
        ("rear, 8 ohm, measured, 1 W, given", "rear", "8 ohm, measured", "1 W, given"),
        ("left, in the tender, .5 ohm", "left, in the tender", ".5 ohm", None),
        ("rear; 8 ohm, measured; 1 W", "rear", "8 ohm, measured", "1 W"),
        ("a, b; 8 ohm", "a, b", "8 ohm", None),
    ],
)
def test_commas_part_another_speaker_as_semicolons_do(line, name, impedance, power):
    assert also_from(line) == [{"name": name, "impedance": impedance, "power": power}]
    found = with_sound(with_chamber(), {"also": line})
    assert found.messages == {}
    assert with_sound(found.job, sound_texts(found.job)).job == found.job


@pytest.mark.parametrize(
    ("name", "line", "kept"),
    [
        ("fs", 'fs = "485 ± 1 Hz, measured"', "485 ± 1 Hz, measured"),
        ("fs", "fs='485 Hz'", "485 Hz"),
        ("fs", "fs = 485 Hz", "485 Hz"),
        ("qts", 'qts = "0.86, 0.8 to 0.9, measured"', "0.86, 0.8 to 0.9, measured"),
        ("out_power", 'power = "2 W"', "2 W"),
        ("xmax", 'xmax = ".02 in"', ".02 in"),
        ("wanted_q", 'wanted_q = "0.8"', "0.8"),
        ("wiring", 'wiring = "two in series"', "two in series"),
    ],
)
def test_a_line_copied_whole_is_taken_at_its_own_field(name, line, kept):
    found = with_sound(with_chamber(), {name: line})
    assert found.messages == {}
    assert sound_texts(found.job)[name] == kept


def test_a_line_copied_into_another_field_names_the_right_one():
    said = with_sound(with_chamber(), {"fs": 'vas = "1.5 cm3"', "least": 'supply = "12 V"', "qms": "gain = 3"}).messages
    assert said == {
        "fs": (
            '“vas = "1.5 cm3"”: this line is the equivalent volume Vas of the speaker; write it in the field for that, '
            "and the resonance fs of the speaker here, such as 450 Hz."
        ),
        "least": (
            '“supply = "12 V"”: this line is the supply voltage of the decoder\'s sound output; write it in the field '
            f"for that, and the least impedance that the decoder drives here, such as {EXAMPLES['resistance']}."
        ),
        "qms": (
            "'gain = 3': no field here is called 'gain'; write the mechanical Qms of the speaker here, such as 0.7."
        ),
    }


@pytest.mark.parametrize("old", [with_chamber(), full()])
def test_a_range_in_a_field_of_the_output_is_refused_with_what_to_write(old):
    typed = {"least": "4 to 16 ohm", "out_power": "2 ± 0.5 W", "supply": "12 V, 11 to 14 V"}
    found = with_sound(old, typed)
    assert found.job is None
    assert found.messages == {
        "least": (
            "the least impedance of the decoder is from 4 to 16 ohm; it must be one figure. Write 4 ohm here, and "
            "16 ohm as the most that it drives."
        ),
        "out_power": (
            "the output power of the decoder is 2 W with limits; it must be one figure. Write 2 W here, without a "
            "tolerance."
        ),
        "supply": (
            "the supply voltage of the decoder's sound output is 12 V with limits; it must be one figure. Write 12 V "
            "here, without a tolerance."
        ),
    }


# Kept in a file, and in another scale.

CHOICES = [
    {"name": "larger", "length": "26 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "8 mm", "round": False,
     "driver": FULL["driver"]},
    {"name": "thin", "length": "15 mm", "rim": "1 mm", "faces": "up", "place": "front"},
]  # fmt: skip


def test_a_job_with_all_that_sounds_is_saved_and_opened_as_it_was(tmp_path):
    for name, old in {"full": full(choices=CHOICES), "bare": with_chamber(), **DEMOS}.items():
        assert load_job(save_job(old, tmp_path / f"{name}.toml")) == old


def test_saving_over_a_file_takes_out_what_no_longer_sounds(tmp_path):
    file = save_job(full(choices=CHOICES), tmp_path / "a.toml")
    assert load_job(save_job(full(choices=CHOICES[1:]), file)) == full(choices=CHOICES[1:])
    assert load_job(save_job(with_chamber(), file)) == with_chamber()


@pytest.mark.parametrize(
    ("right", "wrong", "where", "problem"),
    [
        ('fs = "450 ± 30 Hz, measured"', 'fs = "450"', "sound, driver, fs", "'450': it has no unit"),
        ('supply = "12 V"', 'supply = "12"', "sound, output, supply", "'12': it has no unit"),
        ('name = "third"\nimpedance = "8 ohm"', 'name = "third"\nimpedance = "8"', "sound, also, entry 2, impedance",
         "'8': it has no unit"),
        ('wanted_q = "1.0"', 'wanted_q = "-1"', "sound, wanted_q", "the quantity is '-1'; it must be above 0"),
        ('"lightly filled"', '"wool"', "sound, stuffing", "it is 'wool'"),
        ('most = "16 ohm"', 'most = "2 ohm"', "sound, output", "the greatest impedance of the decoder is 2 ohm"),
        ('length = "26 mm"', 'length = "26"', "speaker to compare 1 ('larger'), length", "'26': it has no unit"),
        ('rim = "1 mm"', 'rim = "1 mm"\ndriver = { fs = "9" }', "speaker to compare 2 ('thin'), driver, fs",
         "'9': it has no unit"),
    ],
)  # fmt: skip
def test_a_fault_in_a_file_names_its_place(tmp_path, right, wrong, where, problem):
    text = job_text(full(choices=CHOICES))
    assert text.count(right) == 1 or right.startswith("fs")
    file = tmp_path / "job.toml"
    file.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    (fault,) = check_job(file)
    assert re.match(rf"^job\.toml, line \d+, {re.escape(where)}: {re.escape(problem)}.*$", str(fault))


@pytest.mark.parametrize("scale", ["N", "O", "S"])
def test_another_scale_leaves_what_sounds_as_it_is(scale):
    """A speaker is bought, not scaled: its parameters and the sizes of those to compare stay in mm."""
    old = full(choices=CHOICES)
    new = to_scale(old, scale)
    assert new.scale == scale
    assert (new.sound, new.choices) == (old.sound, old.choices)
