"""Every change that is offered makes the plan fit once it is typed into the document. All numbers invented."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacious import ARCH, CLIP, DECODER, LENGTH, MARKS, POST, SPEAKER, ZONES, spacious

from modelmath import plan
from modelmath.errors import ModelMathError
from modelmath.job.document import Job
from modelmath.job.space.options import misfit_cause

TAPE = [{"name": "tape", "what": "insulating tape", "layers": 2}, {"name": "coat", "what": "paint"}]
LAMPS = [{"name": "headlight", "end": "front", "room": "6 mm", "circuit": "a"}]
KEPT = {
    "clearance": ("clearance", "keep"),
    "end clearance": ("clearance", "along"),
    "wall thickness": ("build", "wall"),
    "post thickness": ("build", "post"),
    "gap over the speaker": ("clearance", "over_speaker"),
    "wire path": ("chamber", "wire_path"),
}
READ = {"chassis top": "chassis_top", "roof": "underside", "inside width": "width"}


def mm(value):
    return f"{float(value):.2f} mm"


def read_anew(document, remedy, takes=0):
    """Change what a zone or an obstacle reads, each of the zones by a reading of its own."""
    for zone in document["zones"]:
        if zone["name"] == remedy.what and remedy.kind in READ:
            name = zone[READ[remedy.kind]]
    for each in document.get("obstacles", []):
        if each["name"] == remedy.what and remedy.kind == "obstacle":
            if each.get("top") is None:  # it reached up to the roof; once cut down it has a top of its own to read
                # The top that is told has its running clearance in it, and tape or paint that takes room there.
                own = Fraction(remedy.needed_mm) - Fraction(each["running"].removesuffix(" mm")) - takes
                document["readings"].append({"name": "cut top", "mark": f"{float(own):.4f}"})
                each["top"] = "cut top"
                return
            name = each["top"]
    rise = 1 if remedy.kind in ("roof", "inside width") else -1
    for reading in document["readings"]:
        if reading["name"] == name:
            reading["mark"] = str(Fraction(reading["mark"]) + rise * Fraction(remedy.change_mm))


def speaker_changed(speaker, remedy):
    for what in ("length", "width") if remedy.kind == "speaker diameter" else (remedy.kind.split()[1],):
        if what in ("length", "width", "depth"):
            assert float(speaker[what].split()[0]) == float(remedy.now_mm)  # it is called as it was typed
            speaker[what] = mm(remedy.needed_mm)
            basket = f"basket_{what}"
            if basket in speaker and float(speaker[basket].split()[0]) > float(remedy.needed_mm):
                speaker[basket] = speaker[what]
    if remedy.kind.startswith("speaker facing"):
        speaker["faces"] = remedy.kind.removesuffix(", turned").split()[-1]
    if remedy.kind.endswith("turned"):
        speaker["turned"] = not speaker.get("turned", False)


def typed(job, remedy):
    """Return the document with a change typed into it, as one would who reads it."""
    document = job.model_dump(exclude_unset=True)
    kind = remedy.kind
    if kind in KEPT:
        table, name = KEPT[kind]
        document.setdefault(table, {})[name] = mm(remedy.needed_mm)
    elif kind in ("front room", "rear room"):
        document["lamps"][0]["room"] = mm(remedy.needed_mm)
    elif kind == "cut round":
        document.setdefault("chamber", {})["cut_round"] = True
    elif kind == "finer mark":
        document["marking"]["finest"] = remedy.what
    elif kind.startswith("speaker"):
        speaker_changed(document["speaker"], remedy)
    elif kind == "no decoder":
        document["decoder"] = None
    elif kind in ("decoder turned", "decoder inside"):
        document["decoder"]["turns" if kind == "decoder turned" else "inside"] = True
    elif kind.startswith("decoder "):
        document["decoder"][kind.split()[1]] = mm(remedy.needed_mm)
    else:
        read_anew(document, remedy, plan(job).bench.varying.takes_mm)
    return Job.model_validate(document)


@st.composite
def misfits(draw):
    """Jobs in a spacious shell whose speaker is about as large as the shell, or larger; most do not fit."""

    def hundredths(low, high):
        return mm(draw(st.integers(low * 100, high * 100)) / 100)

    speaker = {
        "length": hundredths(10, 64), "width": hundredths(6, 22), "flange": "1.2 mm", "depth": hundredths(4, 20),
        "faces": draw(st.sampled_from(["down", "down", "up", "front", "rear"])), "turned": draw(st.booleans()),
    }  # fmt: skip
    zones = [dict(zone, underside=f"roof {n}", width=f"width {n}") for n, zone in enumerate(ZONES)]
    marks = dict(MARKS, **{"roof 0": "30", "roof 1": "30", "width 0": "20", "width 1": "20"})
    readings = [{"name": n, "mark": m} for n, m in marks.items()]
    for each in readings:
        if each["name"] in ("inside", "hole", "post front", "post rear"):
            each["on"] = "shell"
        elif each["name"] in ("pin", "step", "clip front", "clip rear"):
            each["on"] = "chassis"
    if draw(st.booleans()):
        zones = [{**zone, "profile": "arch"} for zone in zones]
    fields = {
        "speaker": speaker,
        "zones": zones,
        "profiles": ARCH,
        "readings": readings,
        "decoder": draw(st.sampled_from([None, DECODER])),
        "obstacles": draw(st.sampled_from([[], [CLIP], [{**CLIP, "trim": "1 mm"}, POST]])),
        "allow": draw(st.sampled_from([[], TAPE])),
        "lamps": draw(st.sampled_from([[], LAMPS])),
        "length": dict(LENGTH, end_play=draw(st.sampled_from(["0 mm", "0.3 mm"])), front_closed=draw(st.booleans())),
        "chamber": {"wire_path": draw(st.sampled_from(["0 mm", "1.5 mm"])), "cut_round": draw(st.booleans())},
        "marking": {"rule": "steel rule", "finest": draw(st.sampled_from(["0.5", "0.25", "1"]))},
        "clearance": {"keep": hundredths(0, 2), "along": "0.5 mm", "over_speaker": hundredths(0, 1)},
    }
    return spacious(**fields)


@settings(max_examples=40, deadline=None)
@given(misfits())
def test_each_change_that_is_offered_makes_it_fit_as_typed(short):
    offered = [each.remedy for each in short.ways_out]
    cause = misfit_cause(short)
    for remedy in [*offered, *([] if cause is None else [cause])]:
        found = plan(typed(short.job, remedy))
        assert found.parts
        assert found.misfit is None, (remedy.sentence, str(found.misfit))
    if short.misfit is None:
        assert not offered
        assert cause is None
    kinds = [each.kind for each in offered]
    assert len(kinds) == len(set(kinds))


DEEP = {"length": "14 mm", "width": "10 mm", "flange": "1 mm", "depth": "19.9 mm"}
KEEP = {"keep": "0.9 mm", "along": "0.5 mm", "over_speaker": "0 mm"}


def test_by_hand_a_depth_is_offered_as_cut_to_marks():
    """30 - 10 - 0.9 leave 19.1 mm; cut to marks of 0.5 mm the chamber is 19 mm deep."""
    offered = {each.remedy.kind: each.remedy for each in spacious(decoder=None, speaker=DEEP, clearance=KEEP).ways_out}
    assert offered["speaker depth"].needed_mm == 19
    assert offered["chassis top"].change_mm == Fraction(9, 10)  # 20.0 mm deep, which is a mark


def test_by_hand_where_only_marks_are_in_the_way_a_finer_one_is_offered():
    short = spacious(decoder=None, speaker={**DEEP, "depth": "19.1 mm"}, clearance=KEEP)
    assert "cut to marks of 0.5" in str(short.misfit)
    offered = {each.remedy.kind: each.remedy for each in short.ways_out}
    assert offered["finer mark"].sentence == (
        "Cut to a finer mark: to 0.1 mm, not to 0.5 mm, with a rule or caliper that can be set so fine."
    )
    assert offered["speaker depth"].needed_mm == 19
    assert offered["clearance"].needed_mm == Fraction(1, 2)  # 19.5 mm deep, the next mark


def test_by_hand_clearance_is_offered_as_it_is_typed_without_tape_and_end_play():
    """Two layers of tape and a coat of paint take their room too: they stay, and what is typed is less."""
    bare = spacious(decoder=None, speaker={**DEEP, "depth": "18.7 mm"}, clearance=KEEP)
    assert bare.misfit is None
    taped = spacious(decoder=None, speaker={**DEEP, "depth": "18.7 mm"}, clearance=KEEP, allow=TAPE)
    (less,) = [each.remedy for each in taped.ways_out if each.remedy.kind == "clearance"]
    takes = taped.bench.varying.takes_mm
    assert takes > 0
    assert less.now_mm == Fraction(9, 10)
    assert Fraction(1, 2) <= less.needed_mm + takes <= 1  # 19.0 mm deep with what it takes
    assert plan(typed(taped.job, less)).misfit is None


@pytest.mark.parametrize("turned", [False, True])
def test_by_hand_a_size_is_called_as_it_was_typed(turned):
    """10 mm across and 70 mm along do not fit; turned, what was typed as the width lies along."""
    sizes = {"length": "70 mm", "width": "10 mm"} if not turned else {"length": "10 mm", "width": "70 mm"}
    short = spacious(decoder=None, speaker={**SPEAKER, **sizes, "turned": turned, "basket_length": None,
                                            "basket_width": None, "depth": "16 mm"})  # fmt: skip
    name, word = ("width", "narrower") if turned else ("length", "shorter")
    (found,) = [each.remedy for each in short.ways_out if each.remedy.kind == f"speaker {name}"]
    assert found.now_mm == 70
    assert found.sentence == (f"Take a speaker at most {mm(found.needed_mm)} in {name}, {mm(found.change_mm)} {word}.")


def test_no_inside_width_is_the_cause_where_a_section_says_how_wide_it_is():
    wide = {**SPEAKER, "width": "19 mm", "basket_width": "18 mm", "faces": "up"}
    plain = misfit_cause(spacious(decoder=None, speaker={**wide, "width": "21 mm"}))
    assert plain.kind == "inside width"
    arched = spacious(decoder=None, speaker=wide, profiles=ARCH, zones=[{**zone, "profile": "arch"} for zone in ZONES])
    assert arched.misfit is not None
    cause = misfit_cause(arched)
    assert cause is None or cause.kind != "inside width"


def test_a_light_that_needs_its_room_keeps_it():
    """Whatever is offered, a plan with it can be made: parts and all."""
    short = spacious(lamps=LAMPS, chamber={"light_barrier": True}, decoder=None,
                     speaker={**SPEAKER, "length": "70 mm", "depth": "16 mm"})  # fmt: skip
    assert short.misfit is not None
    for each in short.ways_out:
        try:
            assert plan(typed(short.job, each.remedy)).misfit is None
        except ModelMathError as reason:
            pytest.fail(f"{each.remedy.sentence}: {reason}")


def test_nothing_thinner_than_sheet_is_offered():
    """By hand: two walls of 1 mm and posts of 2 mm behind them leave 94 of 100 mm; thinner ones up to 6 mm more."""
    ends = {**LENGTH, "front_closed": False, "rear_closed": False}
    sizes = {"post thickness": [], "wall thickness": []}
    for number in range(188, 201):
        speaker = {"length": f"{number / 2:.1f} mm", "width": "10 mm", "flange": "1 mm", "depth": "5 mm"}
        one_zone = [{**ZONES[0], "end": None, "name": "all"}]
        for each in spacious(decoder=None, zones=one_zone, speaker=speaker, length=ends).ways_out:
            if each.remedy.kind in sizes:
                sizes[each.remedy.kind].append(each.remedy.needed_mm)
    assert all(min(found) >= Fraction(1, 4) for found in sizes.values() if found)
    assert sizes["post thickness"]
