"""Job files of earlier releases: brought up to date, said in a sentence, comments kept."""

from __future__ import annotations

import re
from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS, job

from modelmath.errors import JobError
from modelmath.job.document import FORMAT
from modelmath.job.plan import plan
from modelmath.job.sound.driven import driven_by, driven_of
from modelmath.job.storage.files import load_job, open_job, parse_job, save_job
from modelmath.job.storage.text import job_text, parsed
from modelmath.job.storage.versions import Step, brought_up_to_date
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.naming import wiring_in_words
from modelmath.sound.loads.speakers import RatedSpeaker
from modelmath.sound.loads.wiring import in_parallel, in_series, wirings

# The words of the first releases, as their docstrings and tests had them.
OLD = "front and rear in series, that pair in parallel with top"
NEW = "(front + rear in series) + top, in parallel"
SAID = f"The wiring was written '{OLD}' by an earlier release; it is '{NEW}' now."
TEXT = f"""\
# my hood
name = "hood"
scale = "HO"
rules = [{{ name = "rule" }}]
marking = {{ rule = "rule" }}
clearance = {{ keep = "1 mm" }}
readings = [
  {{ name = "roof", mark = "9" }},
  {{ name = "motor", mark = "5" }},
  {{ name = "width", mark = "5" }},
  {{ name = "length", mark = "19", on = "shell" }},
]
zones = [{{ name = "motor", underside = "roof", chassis_top = "motor", width = "width" }}]
length = {{ shell_inside = "length" }}

[speaker]
name = "front"      # the long one
length = "22 mm"
width = "16 mm"
flange = "1.2 mm"
depth = "6 mm"

[sound]
wiring = "{OLD}"    # tried, sounds best
driver = {{ impedance = "8 ohm" }}
output = {{ least = "4 ohm", supply = "12 V" }}
also = [{{ name = "rear", impedance = "8 ohm" }}, {{ name = "top", impedance = "4 ohm" }}]
"""


@pytest.mark.parametrize("head", ["", "format = 1\n"])
def test_an_older_wiring_is_read_said_and_saved_with_its_comments(tmp_path, head):
    file = tmp_path / "hood.toml"
    file.write_text(head + TEXT, "utf-8")
    opened = open_job(file)
    assert opened.news == (SAID,)
    assert opened.job.sound.wiring == NEW
    assert driven_of(plan(opened.job)).chosen.wiring == in_parallel(in_series("front", "rear"), "top")
    save_job(opened.job, file, opened.mark)
    saved = file.read_text("utf-8")
    assert f'wiring = "{NEW}"    # tried, sounds best\n' in saved
    assert [line for line in saved.splitlines() if "#" in line and "wiring" not in line] == [
        "# my hood",
        'name = "front"      # the long one',
    ]
    assert open_job(file).news == ()


# What the words were for every wiring: written out by hand for three and four speakers.
BY_HAND = {
    "a, b and c in series": in_series("a", "b", "c"),
    "a, b and c in parallel": in_parallel("a", "b", "c"),
    "a and b in parallel, that pair in series with c": in_series(in_parallel("a", "b"), "c"),
    "b and c in series, that pair in parallel with a": in_parallel("a", in_series("b", "c")),
    "a and b in series, that pair in parallel with c and d": in_parallel(in_series("a", "b"), "c", "d"),
    "a, b and c in series, those three in parallel with d": in_parallel(in_series("a", "b", "c"), "d"),
    "(a and b in series) and (c and d in series), in parallel": in_parallel(in_series("a", "b"), in_series("c", "d")),
    "a and b in parallel, that pair in series with c, those three in parallel with d": in_parallel(
        in_series(in_parallel("a", "b"), "c"), "d"
    ),
    "two in series, that pair in parallel with one more": in_parallel(in_series("a", "b"), "c"),
    "(two in parallel) and (two in parallel), in series": in_series(in_parallel("a", "b"), in_parallel("c", "d")),
    "two in series, that pair in parallel with two more": in_parallel(in_series("a", "b"), "c", "d"),
}


def document(words: str, names: str) -> dict:
    also = [{"name": name, "impedance": "8 ohm"} for name in names[1:]]
    return {"speaker": {"name": names[0]}, "sound": {"wiring": words, "also": also}}


@pytest.mark.parametrize("words", BY_HAND)
def test_every_wiring_is_the_same_after_as_before(words):
    meant = BY_HAND[words]
    by_count = "two" in words  # said so of like speakers alone
    speakers = [RatedSpeaker(name, 8 if by_count else ohm) for ohm, name in enumerate("abcd"[: len(meant.names)], 5)]
    found = document(words, "".join(speaker.name for speaker in speakers))
    brought_up_to_date(found)
    chosen = driven_by(speakers, AmpOutput(least_ohm=1, supply_v=12), found["sound"]["wiring"]).chosen
    assert chosen is not None
    assert wiring_in_words(chosen.wiring, by_count) == wiring_in_words(meant, by_count)


@given(st.sampled_from(["ab", "abc", "abcd"]), st.data())
def test_words_of_today_stay_as_they_are(names, data):
    made = data.draw(st.sampled_from(wirings([RatedSpeaker(name, ohm) for ohm, name in enumerate(names, start=4)])))
    for by_count in (False, True):
        found = document(wiring_in_words(made, by_count), names)
        before = deepcopy(found)
        assert brought_up_to_date(found) == ()
        assert found == before


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (OLD, "abc"),  # of other speakers
        ("a and b in series, that pair in parallel with c", "ab"),
        ("a and b in series, that pair in parallel with c", "aac"),
        ("a and b in series, that pair in parallel with c", "abcdefg"),
        ("a and b in series, that pair in parallel with  ", "ab "),
    ],
)
def test_words_that_no_wiring_of_these_speakers_had_stay_for_the_plan_to_refuse(words, names):
    found = document(words, names)
    before = deepcopy(found)
    assert brought_up_to_date(found) == ()
    assert found == before


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_the_demo_jobs_are_up_to_date(path):
    assert open_job(path).news == ()


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.just(OLD) | st.text(max_size=5),
    lambda inside: (
        st.lists(inside, max_size=3)
        | st.dictionaries(st.sampled_from(["format", "sound", "wiring", "also", "speaker", "name"]), inside, max_size=4)
    ),
    max_leaves=12,
)


@given(st.dictionaries(st.sampled_from(["format", "sound", "speaker", "x"]), anything))
def test_whatever_stands_in_a_file_is_left_for_the_form_to_judge(found):
    news = brought_up_to_date(found)
    assert isinstance(news, tuple)
    assert brought_up_to_date(found) == ()


# The chain, with steps that are made up: none of them ever was.


def _renamed(found):
    if "title" not in found:
        return ""
    found["name"] = found.pop("title")
    return "title is now called name."


def _moved(found):
    if "keep" not in found:
        return ""
    found.setdefault("clearance", {})["keep"] = found.pop("keep")
    return "keep now stands in clearance."


def _split(found):
    for zone in found.get("zones", []):
        if "heights" in zone:
            zone["underside"], zone["chassis_top"] = zone.pop("heights")
            return "heights are two fields now."
    return ""


CHAIN = [Step(2, _renamed), Step(3, _moved), Step(4, _split)]
OLDEST = {"format": 1, "title": "hood", "keep": "1 mm", "zones": [{"name": "motor", "heights": ["roof", "motor"]}]}
NEWEST = {
    "format": 4,
    "name": "hood",
    "clearance": {"keep": "1 mm"},
    "zones": [{"name": "motor", "underside": "roof", "chassis_top": "motor"}],
}


@given(st.integers(1, 4), st.booleans())
def test_a_file_of_any_format_in_between_comes_to_the_same(reached, without_format):
    found = deepcopy(OLDEST)
    brought_up_to_date(found, CHAIN[: reached - 1], newest=reached)
    assert found["format"] == reached
    if without_format:
        del found["format"]
    news = brought_up_to_date(found, CHAIN, newest=4)
    assert {"format": 4, **found} == NEWEST
    assert len(news) == 4 - reached


def test_a_step_does_not_touch_what_is_newer_than_it():
    found = {"format": 4, "title": "another thing now"}
    assert brought_up_to_date(found, CHAIN, newest=4) == ()
    assert found == {"format": 4, "title": "another thing now"}


def test_comments_stay_where_a_field_is_renamed_moved_or_split(monkeypatch):
    monkeypatch.setattr("modelmath.job.storage.versions.STEPS", tuple(Step(1, step.change) for step in CHAIN))
    old = job_text(job()).replace("name = ", "title = ", 1).replace("[clearance]\n", "")
    old = old.replace('keep = "1/4 scale ft"\n', "").replace('underside = "roof"\nchassis_top = "motor top"\n', "")
    old = old.replace('[[zones]]\nname = "motor"', '[[zones]]\nname = "motor"\nheights = ["roof", "motor top"]  # both')
    old = '# mine\nkeep = "1/4 scale ft"  # a quarter\n' + old.replace('hood"', 'hood"  # its name')
    found = parsed(old)
    assert found.job == job()
    assert found.news == ("title is now called name.", "keep now stands in clearance.", "heights are two fields now.")
    written = job_text(found.job.model_copy(update={"notes": "new"}), old)
    assert parse_job(written)[0] == found.job.model_copy(update={"notes": "new"})
    for comment in ("# mine\n", "  # a quarter\n", "  # its name\n"):
        assert comment in written
    assert "title" not in written


def test_a_newer_file_is_refused_politely(tmp_path):
    file = tmp_path / "hood.toml"
    file.write_text(f"# mine\nformat = {FORMAT + 1}\nanything = 1\n", "utf-8")
    text = (
        f"hood.toml, line 2, format: the file has format {FORMAT + 1}, newer than this release reads ({FORMAT}); "
        "install a newer release to open it."
    )
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        load_job(file)
