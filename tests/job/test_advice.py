"""Warnings: said when due, silent when not."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan

FINE = {
    "rules": [{"name": "scale rule", "graduation": "1/4", "zero_offset": "1", "reading_uncertainty": "0.02 mm"}],
    "clearance": {"keep": "1/2 scale ft"},
}
STOUT = {"wall": ".040 in", "post": ".100 in"}


def test_nothing_to_mind_is_nothing_said():
    assert plan(with_chamber(**FINE)).warnings == ()


def test_a_tight_room_is_said_first():
    found = plan(job())
    assert found.warnings[0] == found.gap.verdict


@pytest.mark.parametrize("finest", ["1/4", "1/16"])
def test_supports_cut_short_may_drive_the_speaker_into_the_roof(finest):
    """The chamber is 12.25 mm high, a flange of 1.2 leaves 11.05; marks of 1/4 ft give 10.5, so 0.7 of 1 mm is left."""
    made = with_chamber(
        speaker={"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "11 mm"},
        clearance={"keep": "1/4 scale ft", "over_speaker": "1 mm"},
        marking={"rule": "scale rule", "finest": finest},
    )
    said = [warning for warning in plan(made).warnings if "speaker" in warning]
    if finest == "1/4":
        assert said == [
            (
                "The speaker is 11.00 mm deep; on a speaker support of 10.50 mm 0.70 mm is left over its back, of 1.00 "
                "mm to keep: cut the supports to a finer mark, or use a shallower speaker."
            )
        ]
    else:
        assert said == []


def test_a_speaker_deeper_than_its_supports_leave_is_said_before_the_length_is_known():
    made = job(speaker={"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "12 mm"})
    assert plan(made).warnings[-1] == (
        "The speaker is 12.00 mm deep; on a speaker support of 10.50 mm 0.30 mm is missing over its back, of 0.50 mm "
        "to keep: cut the supports to a finer mark, or use a shallower speaker."
    )


def test_a_wall_of_other_strip_than_the_layout_counts_with():
    drawer = [{"strip": ".100 x 1.250 in", "length": "14 in"}]
    said = plan(with_chamber(**FINE, drawer=drawer, length={"shell_inside": "length", "front_closed": False})).warnings
    assert said[0] == (
        "The bulkhead comes out 2.54 mm thick from .100 x 1.250 in, while the layout counts 1.02 mm: set the wall's "
        "thickness to what you use."
    )


def test_a_part_that_no_strip_is_stout_enough_for():
    said = plan(job(**FINE, build={"post": "40 mm"})).warnings
    assert [each for each in said if each.startswith("No strip for the corner post: ")]


def test_a_speaker_that_does_not_fit_is_the_first_warning_and_takes_nothing_else_away():
    made = with_chamber(speaker={"length": "90 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"})
    found = plan(made)
    assert found.warnings[0].startswith("The speaker does not fit: 20.00 mm too little, because ")
    assert found.warnings[0].endswith(" The plan leaves it out.")
    assert found.enclosure.speaker is None
    assert found.chamber.volume_mm3 > 0
    assert found.cuts.stops is not None
    assert found.steps


def test_a_decoder_that_does_not_fit_leaves_the_speaker_its_chamber():
    decoder = {"length": "90 mm", "width": "9 mm", "height": "3 mm"}
    found = plan(with_chamber(decoder=decoder))
    assert found.warnings[0].startswith("The decoder does not fit: ")
    assert found.enclosure.decoder is None
    assert found.enclosure.speaker is not None


def test_a_flange_thicker_than_the_chamber_leaves_the_bulkhead():
    found = plan(job(**FINE, speaker={"flange": "99 mm"}))
    assert str(found.misfit) == (
        "The speaker does not fit: 87.62 mm too little, because its flange is 99.00 mm thick and the chamber 11.38 mm "
        "high. Check the thickness of its flange."
    )
    assert found.bulkhead is not None


@pytest.mark.parametrize(
    ("fields", "starts"),
    [
        ({"readings": [{"name": "roof", "mark": "40"}, {"name": "motor top", "mark": "5 1/2"}]}, "The space is 34 1/2"),
        ({"marking": {"rule": "scale rule", "finest": "1/100"}}, "The finest mark cut to, 1/100, is far finer than"),
        ({"clearance": {"keep": "3 1/4 scale ft"}}, "The setting for the bulkhead and the corner post falls between"),
        ({}, "Cut the corner posts last: "),
    ],
)
def test_what_looks_like_a_slip_is_asked_about(fields, starts):
    assert [each for each in plan(job(**fields)).warnings if each.startswith(starts)]


@pytest.mark.parametrize("name", DEMOS)
def test_demo_warnings_are_whole_sentences(name):
    for warning in plan(DEMOS[name]).warnings:
        assert warning[0].isupper()
        assert warning.endswith(".")
    assert SMALLEST["name"] not in str(plan(DEMOS[name]).warnings)
