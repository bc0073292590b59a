"""Why this number: every chain is whole, ends in entries, and says what is true."""

from __future__ import annotations

import re

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber
from spacious import CLIP, LENGTH, POST, spacious

from modelmath import plan
from modelmath.errors import UnknownChoice
from modelmath.tables import data_folder

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber(), "flange": job(speaker={"flange": "1 mm"})}


@pytest.fixture(params=JOBS, scope="module")
def figures(request):
    return plan(JOBS[request.param]).figures


def test_every_figure_below_another_is_there(figures):
    for figure in figures.values():
        assert set(figure.follows_from) <= set(figures), figure.name


def test_every_chain_ends_in_entries(figures):
    """A figure that nothing stands below is an entry of the job, or the scale, whose standard stands in its table."""
    for figure in figures.values():
        if not figure.follows_from:
            assert figure.source.startswith("the job, ") or figure.name == "scale", figure.name


def test_no_chain_comes_back_to_its_start(figures):
    def below(name, path):
        assert name not in path
        for other in figures[name].follows_from:
            below(other, (*path, name))

    for name in figures:
        below(name, ())


def test_each_figure_says_value_how_and_source(figures):
    for name, figure in figures.items():
        assert figure.name == name
        assert all((figure.value.strip(), figure.how.strip(), figure.source.strip())), name
        for file in re.findall(r"data/(\S+\.csv)", figure.source):
            assert (data_folder() / file).is_file()


@pytest.mark.parametrize("name", JOBS)
def test_every_number_on_the_sheet_has_its_figure(name):
    found = plan(JOBS[name])
    wanted = {"clearance", "room left", "new strips", *(f"free depth: {depth.zone.name}" for depth in found.depths)}
    for line in found.lines:
        part = line.part.name
        wanted |= {"bulkhead height" if part == "bulkhead" else f"{part} length", f"{part} setting"}
        wanted |= {f"{part} strip"} if line.picks else set()
        wanted |= {f"{part} place"} if line.part.position_mm is not None else set()
    wanted |= {f"drill: {hole.name}" for hole in found.holes}
    assert wanted <= set(found.figures)


def test_the_chain_of_the_bulkhead_names_both_readings_clearance_and_rule():
    why = plan(job()).why("bulkhead height")
    assert why.figure.value == "3 1/2 scale ft, 0.482 in, 12.25 mm"
    assert [(depth, figure.name) for depth, figure in why.chain] == [
        (0, "bulkhead height"),
        (1, "free depth: motor"),
        (2, "reading: roof"),
        (3, "rule: scale rule"),
        (4, "scale"),
        (2, "reading: motor top"),
        (3, "rule: scale rule"),
        (1, "clearance"),
        (1, "finest mark"),
        (2, "rule: scale rule"),
    ]
    text = str(why).splitlines()
    assert len(text) == len(why.chain)
    assert text[1].startswith("   free depth: motor = 13.13 ± 0.36 mm: roof less chassis top; the zero offset of scale "
                              "rule cancels, since both were read the same way [")  # fmt: skip


def test_the_chain_of_a_support_under_another_roof_names_that_roof():
    names = [figure.name for _, figure in plan(DEMOS["gas-electric-o"]).why("speaker support length").chain]
    assert "reading: roof under the clerestory" in names
    assert "flange" in names


def test_the_chain_of_the_volume_names_every_entry_that_can_move_it():
    names = {figure.name for _, figure in plan(DEMOS["switcher-ho"]).why("chamber volume").chain}
    assert {f"reading: {reading.name}" for reading in DEMOS["switcher-ho"].readings} <= names
    kept = {
        "clearance",
        "clearance along the length",
        "wall",
        "post",
        "lamp room, front",
        "decoder room",
        "finest mark",
    }
    assert kept | {f"speaker {side}" for side in ("length", "width", "depth")} <= names


def test_a_rule_in_mm_does_not_follow_from_the_scale():
    figures = plan(DEMOS["railcar-n"]).figures
    assert figures["rule: caliper"].follows_from == ()
    assert figures["finest mark"].value == "0.5 mm"  # as its marks are read


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (
            "bulkhed height",
            (
                "the figure is 'bulkhed height'; write one of bulkhead height, bulkhead setting. "
                "Did you mean 'bulkhead height'?"
            ),
        ),
        (
            "zzz",
            (
                "the figure is 'zzz'; write one of scale, rule: scale rule, finest mark, clearance, clearance along "
                "the length, room over the speaker."
            ),
        ),
    ],
)
def test_an_unknown_figure_names_those_near_it(asked, message):
    with pytest.raises(UnknownChoice, match=f"^{re.escape(message)}$"):
        plan(job()).why(asked)


def test_a_section_that_can_t_be_worked_out_leaves_the_others():
    wires = [{"name": "hose", "diameter": "40 mm"}]
    figures = plan(job(wires=wires)).figures
    assert "bulkhead height" in figures
    assert "drill: hose" not in figures
    assert SMALLEST["clearance"]["keep"] in figures["clearance"].how


def test_what_the_shell_can_shift_is_named_beside_the_clearance_along_the_length():
    along = spacious(length={**LENGTH, "end_play": "0.3 mm"}).figures["clearance along the length"]
    assert (along.value, along.how) == (
        "0.80 mm",
        "as entered, 0.5 mm, and 0.30 mm that the shell can shift either way",
    )
    assert spacious().figures["clearance along the length"].how == "as entered, 0.5 mm"


def test_what_stands_is_not_said_to_move():
    """The clip's top at 14 mm with 0.5 mm to keep sets the floor: it reaches across the shell."""
    found = spacious(obstacles=[{**CLIP, "width": "20 mm"}, {**POST, "width": "20 mm"}], decoder=None)
    assert found.governing.moving == "motor clip"
    kept = found.figures["motor clip: room kept"]
    assert (kept.value, kept.source) == ("0.50 mm", "the job, obstacles and allow")
    assert found.figures["bulkhead height"].how == (
        "the largest size on a mark that is no more than the space less the room kept over motor clip"
    )
    highest = {name: found.figures[f"{name}: highest"].how for name in ("motor clip", "screw post")}
    assert highest["motor clip"] == "as high as it stands; its running clearance comes on top"
    assert highest["screw post"] == (
        "it has no top of its own: the highest roof, 30.00 mm, less its running clearance, 0.50 mm, which comes on top"
    )
    assert found.figures["motor clip: reach along"].how == "from the screw, running clearance in it"
    said = " ".join(figure.how + figure.source for figure in found.figures.values())
    assert "mov" not in said.replace("removed", "")


def test_the_air_round_a_decoder_is_no_side_of_it():
    room = spacious().figures["decoder room"]
    assert room.value == "14.00 x 9.00 x 3.00 mm, and 1.00 mm of air round it"


def test_a_place_is_told_from_the_mark_by_its_own_name():
    found = spacious()
    assert found.figures["bulkhead place"].value.endswith(" the screw")
