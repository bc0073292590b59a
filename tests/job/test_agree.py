"""What was entered has to agree with what was measured; a name is one that can be read and stands once."""

from __future__ import annotations

import re

import pytest
from pydantic import ValidationError
from sample_jobs import job
from spacious import ARCH, LENGTH, SPEAKER, ZONES, spacious

from modelmath.errors import JobError
from modelmath.job.bench.bench import Bench
from modelmath.job.storage.checks import check_job
from modelmath.job.storage.files import save_job

WIDE = [{"name": "arch", "points": [{"down": "0 mm", "width": "12 mm"}, {"down": "3 mm", "width": "60 mm"}]}]
ARCHED = [{**zone, "profile": "arch"} for zone in ZONES]
WIRE = {"name": "w", "diameter": "0.6 mm"}
MOVED = {"name": "w", "right": "1 mm", "up": "5 mm"}
PLACE = (
    "the job, speaker, place: the speaker's place is {!r}; it must be from -10.00 mm to 76.00 mm, counted from the "
    "screw, to lie inside the shell. It is the place of the speaker's front edge; write front, middle or rear to have "
    "it found."
)
WRONG = {
    "a section wider than the shell": (
        {"profiles": WIDE, "zones": ARCHED},
        (
            "the job, zone 1 ('low end'), profile: the profile is 'arch', which is 60.00 mm wide 3.00 mm down; it must "
            "be no wider than the zone was read, 20.00 mm. Write the full width inside at each depth, or give this "
            "zone a section of its own."
        ),
    ),
    "a section where none is listed": (
        {"zones": ARCHED},
        (
            "the job, zone 1 ('low end'), profile: the profile is 'arch'; leave it out, or enter a profile of that "
            "name first."
        ),
    ),
    "a speaker far behind": ({"speaker": {**SPEAKER, "place": "9999 mm"}}, PLACE.format("9999 mm")),
    "a speaker far ahead": ({"speaker": {**SPEAKER, "place": "-9999 mm"}}, PLACE.format("-9999 mm")),
    "a speaker partly out of the shell": ({"speaker": {**SPEAKER, "place": "76.01 mm"}}, PLACE.format("76.01 mm")),
    "a round speaker with two sizes": (
        {"speaker": {**SPEAKER, "round": True}},
        (
            "the job, speaker, round: the round speaker is 14 mm long and 10 mm wide; expected one as long as it is "
            "wide, or nearly so. Write its diameter for both, or round = false."
        ),
    ),
    "a hole moved twice": (
        {"wires": [WIRE], "holes": [MOVED, {**MOVED, "right": "3 mm"}]},
        (
            "the job, hole 2 ('w'), name: the name is 'w'; expected a name that stands once. One hole lies in one "
            "place: leave out one of the two."
        ),
    ),
    "a wire path as wide as the shell": (
        {"chamber": {"wire_path": "19 mm"}},
        (
            "the job, chamber, wire_path: the wire path is 19.00 mm, with its wall 20.00 mm; it must be less, with its "
            "wall, than the inside width over low end, 20.00 mm. Write a narrower path, or 0 mm for none."
        ),
    ),
    "a wire path as wide as a section": (
        {
            "chamber": {"wire_path": "11 mm"},
            "zones": ARCHED,
            "profiles": [{"name": "arch", "points": [{"down": f"{down} mm", "width": "12 mm"} for down in (0, 3)]}],
        },
        (
            "the job, chamber, wire_path: the wire path is 11.00 mm, with its wall 12.00 mm; it must be less, with its "
            "wall, than the inside width over low end, 12.00 mm. Write a narrower path, or 0 mm for none."
        ),
    ),
    "no width": (
        {"rules": [{"name": "steel rule", "kind": "steel rule", "zero_offset": "-20", "length": "200"}]},
        (
            "the job, zone 1 ('low end'), width: the inside width is 0.00 mm; it must be above 0. Read the shell's "
            "inside width again."
        ),
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_can_t_be_beside_the_readings_is_refused_at_its_field(name):
    fields, message = WRONG[name]
    with pytest.raises(JobError, match=f"^{re.escape(message)}$"):
        spacious(**fields)


@pytest.mark.parametrize(
    "fields",
    [
        {"profiles": ARCH, "zones": ARCHED},
        {"speaker": {**SPEAKER, "place": "76 mm"}},
        {"speaker": {**SPEAKER, "place": "-10 mm"}},
        {"speaker": {**SPEAKER, "faces": "rear", "place": "84 mm"}, "length": {**LENGTH, "rear_closed": False}},
        {"speaker": {**SPEAKER, "length": "10 mm", "basket_length": "8 mm", "width": "9 mm", "round": True}},
        {"chamber": {"wire_path": "4 mm"}},
    ],
)
def test_what_just_agrees_is_taken(fields):
    assert not spacious(**fields).bench.faults


def test_a_section_may_be_wider_than_the_zone_by_what_two_readings_differ():
    """JCGM 100:2008, 5.1.2 and 6.2.1: the difference of two readings, each with u, to k = 2."""
    u_mm = spacious().bench.readings["width"].measured.u_mm
    for share, wrong in ((0.99, False), (1.01, True)):
        width = 20 + share * 2 * 2**0.5 * u_mm
        points = [{"down": "0 mm", "width": "12 mm"}, {"down": "3 mm", "width": f"{width:.6f} mm"}]
        made = spacious().job.model_dump() | {"zones": ARCHED, "profiles": [{"name": "arch", "points": points}]}
        assert bool(Bench(job(**made)).faults) is wrong


NAMES = {
    " ": 'write a name that can be read, such as "motor"',
    "\u200b": 'write a name that can be read, such as "motor"',
    "a\nb": "write it on one line, without a line break (U+000A)",
    "a\u2028b": "write it on one line, without a line break (U+2028)",
    "a\x07b": "write it on one line, without a control character (U+0007)",
    "cab\u202e": "take out the mark U+202E, which turns the direction of the text beside it",
    "\u2067cab": "take out the mark U+2067, which turns the direction of the text beside it",
}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("table", ["name", "zones", "readings", "rules", "speaker", "obstacles", "wires", "holes"])
def test_a_name_that_can_t_be_read_is_refused_in_every_table(name, table):
    document = spacious(wires=[WIRE], holes=[MOVED]).job.model_dump()
    if table == "obstacles":
        document[table] = [{"name": name, "start": "clip front", "end": "clip rear"}]
    elif table == "name":
        document["name"] = name
    else:
        (document[table][0] if isinstance(document[table], list) else document[table])["name"] = name
    with pytest.raises(ValidationError) as refused:
        job(**document)
    assert [error["msg"] for error in refused.value.errors()] == [NAMES[name]]


@pytest.mark.parametrize("name", ["cab, left", "Führerstand", "モーター", "кабина", "קבינה", "🚂", "a 'b' \"c\""])
def test_a_name_in_any_script_is_taken(name):
    assert job(name=name).name == name


def test_a_name_in_a_file_is_refused_with_its_line(tmp_path):
    path = tmp_path / "job.toml"
    save_job(spacious().job, path)
    path.write_text(path.read_text("utf-8").replace('name = "gear box"', 'name = " "'), "utf-8")
    (fault,) = check_job(path)
    assert re.fullmatch(
        r"job\.toml, line \d+, zone 2 \(' '\), name: it is ''; write a name that can be read, such as \"motor\"\.",
        str(fault),
    )
