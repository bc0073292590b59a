"""Damaged files and files made to do harm: refused with a place, or read as a job. The long set has a thousand."""

from __future__ import annotations

import os
import re

import pytest
from hostile import KINDS, check_hostile

from modelmath.errors import JobError
from modelmath.job.storage.files import LARGEST, load_job, read_job
from modelmath.job.storage.text import MOST_FAULTS, parse_job


@pytest.mark.parametrize("seed", range(2 * len(KINDS)))
def test_a_hostile_file_is_refused_with_a_place_or_read(seed, tmp_path):
    check_hostile(seed, tmp_path / "hood.toml")


def refused(text: str) -> str:
    found, faults = parse_job(text, "hood.toml")
    assert found is None
    return str(faults[0])


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("\n\nx = " + "[" * 5000, 'line 3: there are too many brackets in one another; write name = "value".'),
        ("\nx = " + "9" * 5000, "line 2: a number has too many digits; write it shorter."),
        ("\nx." + "y . " * 100 + "z = 1", "line 2: a name has more than 50 parts; write the name of one field."),
        ("[" + '"a".' * 100 + "z]", "line 1: a name has more than 50 parts; write the name of one field."),
        ("x = {" + "a." * 100 + "z = 1}", "line 1: a name has more than 50 parts; write the name of one field."),
    ],
)
def test_what_python_or_the_parser_can_t_bear_is_said_in_words(text, says):
    assert refused(text) == f"hood.toml, {says}"


def test_points_in_a_note_are_no_name():
    text = 'notes = "see fig. ' + "1.2. " * 100 + '"'
    assert "parts" not in refused(text)


def test_of_many_faults_the_first_are_said_and_the_rest_counted():
    found, faults = parse_job("".join(f"x{each} = 1\n" for each in range(MOST_FAULTS + 50)), "hood.toml")
    assert found is None
    missing = 7  # fields of the job itself that have to be there
    assert len(faults) == MOST_FAULTS + 1
    assert str(faults[-1]) == f"hood.toml: there are {50 + missing} more faults; mend those above first."


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices of POSIX")
def test_a_pipe_is_not_waited_for(tmp_path):
    pipe = tmp_path / "hood.toml"
    os.mkfifo(pipe)
    text = f"{pipe}: it is a device or a pipe, which may have no end; write the name of a job file."
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        load_job(pipe)


def test_a_name_that_no_system_takes_is_said():
    found, faults = read_job("a\0b.toml")
    assert found is None
    # What the system says in between is worded anew from one Python to the next.
    null = "(stat: )?embedded null (byte|character in path)"
    told = rf"a\0b\.toml: it can't be read: {null}; check whether you may open it\."
    assert re.fullmatch(told, str(faults[0]))


def test_a_file_that_is_too_large_is_not_read(tmp_path):
    file = tmp_path / "hood.toml"
    with file.open("wb") as out:
        out.truncate(LARGEST + 1)
    text = "hood.toml: it is larger than 2000 kB; choose a job file, which is far smaller."
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        load_job(file)
