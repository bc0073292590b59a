"""The shelf's file: it comes back as it was, damage is refused with its place; a folder of jobs brought up to it."""

import re
import tomllib
from copy import deepcopy
from pathlib import Path

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, changed, job
from shelves import all_of

from modelmath.errors import JobError
from modelmath.job.document import ChoiceEntry, CircuitEntry, DriverEntry, OutputEntry, RuleEntry, StockEntry
from modelmath.job.shelf import (
    Shelf,
    ShelfChanged,
    ShelfDecoder,
    ShelfLamp,
    bring_up,
    load_shelf,
    open_shelf,
    proposals,
    save_shelf,
)
from modelmath.job.shelf.storing import shelf_text
from modelmath.job.storage.copies import previous_copy
from modelmath.job.storage.files import load_job, save_job

RULES = [{"name": "steel 6 in", "unit": "mm", "zero_offset": "0.5"}]


def whole(text):
    return f"^{re.escape(text)}$"


# The file.

words = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S"]), min_size=1, max_size=12)
lengths = st.sampled_from(["1 mm", ".040 in", "0.25 in", "3/4 in"])
maybe = st.none() | lengths
rules = st.builds(
    lambda name, kind, **fields: RuleEntry.model_validate({"name": name, "kind": kind, **fields}),
    words, st.sampled_from(["scale rule", "caliper", "feelers"]), zero_offset=st.sampled_from(["0", "3/4"]),
    scale=st.none() | st.just("HO"), scale_error=st.floats(-0.09, 0.09), length=maybe,
)  # fmt: skip
speakers = st.builds(ChoiceEntry, name=words, flange=maybe, round=st.booleans(),
                     driver=st.builds(DriverEntry, fs=st.none() | words))  # fmt: skip
decoders = st.builds(
    lambda name, **fields: ShelfDecoder.model_validate({"name": name, "width": "1 mm", "height": "1 mm", **fields}),
    words, length=lengths, output=st.builds(OutputEntry, least=st.none() | words),
)  # fmt: skip
lamps = st.builds(
    lambda name, known, room, strand: ShelfLamp(name=name, room=room, strand=strand,
                                                circuit=CircuitEntry(lamp=name, leds=2) if known else None),
    words, st.booleans(), lengths, maybe,
)  # fmt: skip
stock = st.builds(StockEntry, strip=words, length=lengths, count=st.integers(1, 9), offcut=st.booleans())


def some(kind):
    return st.lists(kind, max_size=3, unique_by=lambda each: each.name)


shelves = st.builds(
    Shelf, rules=some(rules), speakers=some(speakers), decoders=some(decoders), lamps=some(lamps),
    drawer=st.lists(stock, max_size=3),
)  # fmt: skip


@given(shelves, shelves)
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
def test_a_shelf_comes_back_as_it_was_saved_over_any_other(tmp_path, first, then):
    file = tmp_path / "shelf.toml"
    file.unlink(missing_ok=True)
    for shelf in (first, then):
        kept = save_shelf(shelf, file)
        assert open_shelf(file) == kept
        assert load_shelf(file) == shelf


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_everything_of_a_demo_comes_back(tmp_path, name):
    shelf = all_of(DEMOS[name])
    save_shelf(shelf, tmp_path / "shelf.toml")
    assert load_shelf(tmp_path / "shelf.toml") == shelf


def test_without_a_file_the_shelf_is_empty(tmp_path):
    opened = open_shelf(tmp_path / "shelf.toml")
    assert (opened.shelf, opened.mark) == (Shelf(), "")
    assert not opened.file.exists()


def test_comments_survive_beside_what_stays(tmp_path):
    file = tmp_path / "shelf.toml"
    save_shelf(Shelf(rules=[RuleEntry(name="a", unit="mm"), RuleEntry(name="b", unit="mm")]), file)
    text = file.read_text().replace('name = "b"', 'name = "b"  # the long one')
    file.write_text(f"# Ours.\n{text}")
    opened = open_shelf(file)
    longer = opened.shelf.rules[0].model_copy(update={"length": "300"})
    save_shelf(opened.shelf.model_copy(update={"rules": [longer, opened.shelf.rules[1]]}), file, opened.mark)
    assert file.read_text().startswith("# Ours.\n")
    assert 'name = "b"  # the long one' in file.read_text()
    assert load_shelf(file).rules[0].length == "300"
    assert "the long one" in previous_copy(file).read_text()
    assert "300" not in previous_copy(file).read_text()


def test_a_file_changed_meanwhile_is_left_as_it_is(tmp_path):
    file = tmp_path / "shelf.toml"
    opened = open_shelf(file)
    theirs = save_shelf(Shelf(rules=[RuleEntry(name="theirs")]), file)
    said = (
        "shelf.toml: it was changed elsewhere since it was read, and is left as it is; read it again, and put on it "
        "what is still to be put there."
    )
    with pytest.raises(ShelfChanged, match=whole(said)):
        save_shelf(Shelf(rules=[RuleEntry(name="ours")]), file, opened.mark)
    assert open_shelf(file) == theirs


DECODER = '[[decoders]]\nname = "d"\nlength = "1 mm"\nwidth = "1 mm"\nheight = "1 mm"\n[decoders.output]\nleast = 4'
LAMP = '[[lamps]]\nname = "l"\nroom = "1 mm"\n[lamps.circuit]\nleds = 0'
TABLES_THERE = "format, rules, speakers, decoders, lamps, drawer"
DAMAGED = {
    "rules = 3": "line 1, rules: it is 3, where a table belongs; write [[rules]] with its fields below.",
    '[[rules]]\nname = "a"\nzero = "1"': (
        "line 3, rule 1 ('a'), zero: there is no such field; did you mean zero_offset?"
    ),
    '[[speakers]]\nname = "a"\ndepth = 6': (
        "line 3, speakers 1 ('a'), depth: it is 6, without quotes; write depth = \"6 mm\"."
    ),
    "[speakers]": ("line 1, speakers: it stands in one bracket, as if there could be only one; write [[speakers]]."),
    '[[decoders]]\nname = "d"': "line 1, decoders 1 ('d'), length: it is missing; add length = \"...\".",
    DECODER: "line 7, decoders 1 ('d'), output, least: it is 4, without quotes; write least = \"4\".",
    LAMP: "line 5, lamp 1 ('l'), circuit, leds: it is 0; write 1 or more.",
    "[speaker]": "line 1, speaker: there is no such table; did you mean speakers?",
    "[xyz]": f"line 1, xyz: there is no such table; use one of {TABLES_THERE}.",
    '[[rules]]\nname = "a"\n[[rules]]\nname = "a"': (
        "line 4, rule 2 ('a'), name: the name 'a' stands twice; give one of the two another."
    ),
    "format = 9": (
        "line 1, format: the file has format 9, newer than this release reads (1); install a newer release to open it."
    ),
    '[[rules]]\nname = "a': 'end of document: a quote is not closed on this line; close it, as "8 1/2".',
}


@pytest.mark.parametrize("text", DAMAGED)
def test_a_damaged_file_is_refused_with_its_place_and_left_as_it_is(tmp_path, text):
    file = tmp_path / "shelf.toml"
    said = f"shelf.toml, {DAMAGED[text]}"
    file.write_text(text)
    with pytest.raises(JobError, match=whole(said)):
        load_shelf(file)
    with pytest.raises(JobError, match=whole(said)):
        save_shelf(Shelf(), file)
    assert file.read_text() == text


def test_what_is_no_text_or_no_file_is_refused(tmp_path):
    file = tmp_path / "shelf.toml"
    file.write_bytes(b"# x\n\xff")
    with pytest.raises(JobError, match=whole("shelf.toml, line 2: it is not UTF-8 text; save it as UTF-8.")):
        load_shelf(file)
    with pytest.raises(JobError, match=whole(f"{tmp_path}: it is no file; name the shelf's file.")):
        load_shelf(tmp_path)


# A folder of jobs.


def folder_of(path: Path, **zero_offsets):
    for name, zero in zero_offsets.items():
        rules = [*SMALLEST["rules"], {**RULES[0], "zero_offset": zero}]
        save_job(job(changed(name=name, rules=rules)), path / f"{name}.toml")
    return path


def test_a_folder_is_brought_up_after_saying_what_would_change(tmp_path):
    folder = folder_of(tmp_path, first="0.5", second="0.4", third="0.3")
    (folder / "broken.toml").write_text("name = ")
    shelf = Shelf(rules=[RuleEntry(name="steel 6 in", unit="mm", zero_offset="0.4")])
    before = {each.name: each.read_text() for each in folder.glob("*.toml")}
    found = proposals(folder, shelf)
    assert {each.name: each.read_text() for each in folder.glob("*.toml")} == before  # nothing is written yet
    assert [str(each) for each in found.proposals] == [
        f"{name}.toml: the rule 'steel 6 in' is not as on the shelf: zero stands in {zero} mm here, 0.4 mm there."
        for name, zero in (("first", "0.5"), ("third", "0.3"))
    ]
    assert [each.name for each in found.same] == ["second.toml"]
    assert [each.file for each in found.unreadable] == ["broken.toml"]
    done = bring_up(found.proposals)
    assert [each.name for each in done.written] == ["first.toml", "third.toml"]
    assert proposals(folder, shelf).proposals == ()
    assert load_job(folder / "first.toml").rules[1].zero_offset == "0.4"
    assert previous_copy(folder / "first.toml").read_text() == before["first.toml"]


def test_a_job_changed_meanwhile_is_left_and_the_others_are_written(tmp_path):
    folder = folder_of(tmp_path, first="0.5", second="0.3")
    shelf = Shelf(rules=[RuleEntry(name="steel 6 in", unit="mm", zero_offset="0.4")])
    found = proposals(folder, shelf)
    save_job(load_job(folder / "first.toml").model_copy(update={"notes": "edited"}), folder / "first.toml")
    done = bring_up(found.proposals)
    assert [each.name for each in done.written] == ["second.toml"]
    assert load_job(folder / "first.toml").notes == "edited"
    assert load_job(folder / "first.toml").rules[1].zero_offset == "0.5"
    assert len(done.left) == 1


def places_in(value, path=()):
    """Yield the place of everything in a document, tables and lists too."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in pairs:
        yield (*path, key)
        yield from places_in(each, (*path, key))


def with_other(document, path, value):
    """Return a copy of a document in which something else stands in one place."""
    other = deepcopy(document)
    table = other
    for key in path[:-1]:
        table = table[key]
    table[path[-1]] = value
    return other


EVERYTHING = tomllib.loads(shelf_text(all_of(DEMOS["gas-electric-o"])))
FULL = {key: value[:1] if isinstance(value, list) else value for key, value in EVERYTHING.items()}


@pytest.mark.parametrize("value", [3, 1.5, True, "", "long" * 800, [], [3], {}, [{}], {"x": 1}], ids=range(10))
def test_anything_in_any_place_is_read_or_refused_in_words(tmp_path, value):
    file = tmp_path / "shelf.toml"
    said = []
    for path in places_in(FULL):
        file.write_text(tomlkit.dumps(with_other(FULL, path, value)))
        try:
            load_shelf(file)
        except JobError as fault:
            said.append(str(fault))
    assert said
    assert [each for each in said if not re.match(r"^shelf\.toml(, line \d+)?, [^:]+: .+[.?]$", each)] == []
    assert "[[choices]]" not in " ".join(said)
