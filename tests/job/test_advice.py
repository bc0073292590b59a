"""Warnings: said when due, silent when not."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber
from spacious import CLIP, MARKS, PLACES, POST, ZONES, spacious

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
    found = plan(made)
    said = [warning for warning in found.warnings if "speaker" in warning]
    if finest == "1/4":
        assert said == [
            (
                "The speaker does not fit: 0.30 mm too little, because its supports, cut to marks of 1/4, hang its "
                "flange 0.55 mm above the floor, and over its back 0.70 mm are left of 1.00 mm to keep. Cut to a finer "
                "mark, keep less over the speaker, or use a shallower speaker. The plan leaves it out."
            )
        ]
        assert not any(part.kind == "support" for part in found.parts)
    else:
        assert said == []
        assert any(part.kind == "support" for part in found.parts)


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


def warned(**fields):
    return [each for each in spacious(decoder=None, **fields).warnings if "motor clip" in each]


def clip_at(top):
    """The motor clip with another top, where the chassis stands 10 mm above the seat."""
    marks = MARKS | {"clip top": top}
    readings = [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in marks.items()]
    return {"readings": readings}


@pytest.mark.parametrize("top", ["9", "3"])  # 3 mm is lower than the chassis anywhere
def test_a_top_below_the_chassis_top_says_what_is_odd_whether_it_matters_and_what_to_check(top):
    lower = 10 - int(top)
    assert warned(obstacles=[CLIP], **clip_at(top)) == [(
        f"The top of the motor clip reads {top}.00 mm above the seat, {lower}.00 mm below the chassis top over low "
        "end, where it stands. The plan goes by the chassis there, so the motor clip changes nothing. If it does stand "
        "up from the chassis, read its top and that chassis top again, and check that its entry names the right "
        "reading; if not, leave it out."
    )]  # fmt: skip


def test_such_a_top_changes_nothing_and_said_so():
    without, with_it = spacious(decoder=None), spacious(decoder=None, obstacles=[CLIP], **clip_at("9"))
    assert with_it.chamber.floor_mm == without.chamber.floor_mm
    assert with_it.chamber.volume_mm3 == without.chamber.volume_mm3


def test_a_top_below_the_chassis_top_whose_running_clearance_reaches_higher_counts():
    """9 + 3 mm is above the 10 + 1 mm that the clearance over the chassis asks for."""
    fields = {"obstacles": [{**CLIP, "running": "3 mm"}], **clip_at("9")}
    (said,) = warned(**fields)
    assert "The 3.00 mm to keep over it still reach higher than the clearance over the chassis, so it counts." in said
    assert spacious(decoder=None, **fields).chamber.governing.cause.name == "motor clip"


def test_what_stands_over_two_zones_and_below_one_of_them_is_told_apart():
    """From 35 - 15 to 80 - 15 mm: 5 mm of it over the gear box, 22 mm high; 14 mm is above the low end only."""
    marks = MARKS | {"clip rear": "80"}
    readings = [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in marks.items()]
    assert warned(obstacles=[CLIP], readings=readings) == [(
        "The top of the motor clip reads 14.00 mm above the seat, 8.00 mm below the chassis top over gear box. The "
        "plan goes by the chassis there, so the motor clip changes nothing. If it stands up from the chassis there "
        "too, read its top again; if it does not reach so far, read again where it starts and ends."
    )]  # fmt: skip
    assert warned(obstacles=[CLIP]) == []


def test_a_truck_is_at_home_below_the_chassis_top():
    assert warned(obstacles=[{**CLIP, "kind": "truck"}], **clip_at("9")) == []


def test_what_stands_wider_than_the_shell_does_not_sweep():
    """The shell is 20 mm wide inside: 22 mm reaches 1 mm beyond it; 6 mm wide and 8 mm off, too."""
    wide = {**CLIP, "width": "22 mm", "off_centre": "0 mm"}
    words = (
        "The motor clip reaches 1.00 mm further to the side than the shell is wide inside: check its width, how far it "
        "stands off the centre, and the shell's inside width."
    )
    assert warned(obstacles=[wide]) == [words]
    assert warned(obstacles=[{**CLIP, "off_centre": "-8 mm"}]) == [words]
    assert warned(obstacles=[{**wide, "width": "20 mm"}]) == []
    assert warned(obstacles=[{key: value for key, value in wide.items() if key != "width"}]) == []


@pytest.mark.parametrize(("table", "does"), [("obstacles", "stands"), ("moving", "moves"), ("both", "stands or moves")])
def test_what_is_not_counted_yet_is_called_what_it_is(table, does):
    marks = [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in MARKS.items()]
    wheel = {"name": "flywheel", "kind": "flywheel", "at": "clip front", "top": "clip top", "diameter": "6 mm"}
    entries = {"obstacles": [CLIP], "moving": [{**wheel, "width": "4 mm"}]}
    fields = entries if table == "both" else {table: entries[table]}
    zones = [{name: text for name, text in zone.items() if name != "width"} for zone in ZONES]
    assert (
        f"What {does} inside the shell is not counted yet: it has its place in the chamber's layout. Enter the shell's "
        "inside width and length to have it counted."
    ) in spacious(readings=marks, zones=zones, speaker=None, decoder=None, **fields).warnings


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (
            ["front truck"],
            "How far the front truck turns on a curve is not entered, so it counts as standing straight: ",
        ),
        (
            ["front truck", "rear truck"],
            (
                "How far the front truck and the rear truck turn on a curve is not entered, so they count as standing "
                "straight: "
            ),
        ),
    ],
)
def test_trucks_that_are_taken_not_to_turn_are_named(names, said):
    sizes = {"kind": "truck", "at": "clip front", "top": "low", "ahead": "8 mm", "behind": "8 mm", "width": "8 mm"}
    found = spacious(decoder=None, moving=[{"name": name, **sizes} for name in names])
    assert f"{said}add the table [curve] with radius and pivots." in found.warnings


LAMP = {"name": "tail lamp", "end": "rear", "room": "4 mm", "strand": "0.5 mm"}
TALL = {"post front": "85", "post rear": "91"}  # a post up to the roof, from 75 to 81 mm behind the mark, 0.5 mm round


def strands(off_centre: str, every: str = "8 mm"):
    """Strands led past a screw post from the gear box to the tail lamp."""
    readings = [
        {"name": n, "mark": TALL.get(n, m)} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in MARKS.items()
    ]
    return spacious(
        readings=readings, obstacles=[{**POST, "off_centre": off_centre}], lamps=[LAMP], decoder=None,
        chamber={"strand_supports": every},
    )  # fmt: skip


def test_a_strand_support_beside_a_post_hangs():
    """By hand: the post stands from 4.5 mm right, the supports from 10 to 8 mm left."""
    found = strands("7 mm")
    (part,) = [part for part in found.parts if part.kind == "rest"]
    assert (part.count, found.misfit, found.warnings) == (3, None, ())


@pytest.mark.parametrize(
    ("off_centre", "every", "count", "said"),
    [
        (
            "-7 mm", "8 mm", 2,
            ("The strand support, rear, at 1 of its 3 places, does not fit: 1.50 mm too little, because over screw "
            "post there are 0.00 mm, and it is 1.50 mm high. Lead the strand another way there. The plan leaves "
            "it out."),
        ),
        (
            "7 mm", "0.01 mm", 0,
            ("The distance between strand supports is 0.01 mm; it must be 4.00 mm or more, twice a support's own "
            "length. Write a greater distance, such as 20 mm. The plan leaves it out."),
        ),
    ],
)  # fmt: skip
def test_what_serves_a_lamp_and_has_no_room_takes_nothing_else_away(off_centre, every, count, said):
    found = strands(off_centre, every)
    assert sum(part.count for part in found.parts if part.kind == "rest") == count
    assert found.warnings == (said,)
    assert found.misfit is None
    assert found.bulkhead is not None


RIMS = [
    ({"basket_length": "11 mm", "basket_width": "8 mm"}, 4, "Thin and glue the four", None),
    ({"basket_length": "10 mm", "basket_width": "8 mm"}, 4, "Glue the four", None),
    (
        {"basket_length": "13.6 mm", "basket_width": "9.8 mm"}, 4, "Thin and glue the four",
        ("The flange of the speaker has room for supports 0.20 mm long and 2.00 mm wide only: so thin they bend "
        "easily. Measure flange and basket again, and bed the flange in sealant all round."),
    ),
    (
        {"basket_length": "14 mm", "basket_width": "10 mm"}, 0, None,
        ("No support can stand on the flange of the speaker: its basket is as long and as wide as the flange, which "
        "leaves no rim. The plan leaves the supports out: measure flange and basket again, or bed the flange in its "
        "opening in the floor alone."),
    ),
]  # fmt: skip


@pytest.mark.parametrize(("basket", "count", "glued", "said"), RIMS)
def test_the_build_order_and_the_warnings_go_with_the_rim(basket, count, glued, said):
    """By hand: a flange of 14 by 10 mm and posts of 2 mm."""
    found = spacious(speaker={"length": "14 mm", "width": "10 mm", "flange": "1.2 mm", "depth": "6 mm", **basket})
    assert sum(part.count for part in found.parts if part.kind == "support") == count
    texts = [step.text for step in found.steps]
    step = [text for text in texts if "speaker supports" in text]
    assert step == ([f"{glued} speaker supports to the roof, clear of the speaker's basket."] if glued else [])
    bedded = "on the supports" if count else "in its opening in the floor"
    assert f"Solder the speaker's wires, mark its polarity, and bed its flange in sealant {bedded}." in texts
    assert [each for each in found.warnings if "flange" in each] == ([said] if said else [])
