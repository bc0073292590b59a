"""The arithmetic that a figure shows gives its number, over random jobs in one shell."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacious import ARCH, CLIP, LENGTH, POST, SPEAKER, ZONES, facing, spacious

STEP_MM = 0.5  # the finest mark of that shell's rule
SEEN_MM = 0.005  # half of the last digit shown
NUMBER = re.compile(r"(\D*?)(-?\d+\.\d+) (?:mm|cm3|g)(?![a-z0-9])")
LAMPS = [
    {"name": "headlight", "end": "front", "room": "22 mm", "strand": "0.75 mm", "strands": 2},
    {"name": "tail", "end": "rear", "room": "5 mm", "strand": "0.5 mm"},
]
WEIGHT = {
    "front_truck": "0 mm", "rear_truck": "60 mm", "front_grams": 120.5, "rear_grams": 110.0,
    "changes": [
        {"name": "frame", "at": "20 mm", "volume": 300.0, "material": "zinc alloy", "off": True},
        {"name": "speaker", "at": "-3 mm", "grams": 12.5},
        {"name": "speaker", "at": "70 mm", "grams": 2.0},
    ],
}  # fmt: skip


def tenths(low, high):
    return st.integers(low, high).map(lambda tenth: f"{tenth / 10:.1f} mm")


@st.composite
def plans(draw):
    """A shell with some of all that can go in, whose heights and clearances are on no mark."""
    arched = draw(st.booleans())
    speaker = {**SPEAKER, "flange": draw(tenths(5, 25)), "faces": draw(st.sampled_from(["down", "down", "up", "rear"]))}
    ends = {"front_closed": draw(st.booleans()), "rear_closed": speaker["faces"] != "rear" and draw(st.booleans())}
    fields = {
        "speaker": draw(st.sampled_from([None, speaker, speaker])),
        "clearance": {"keep": draw(tenths(3, 17)), "along": draw(tenths(0, 8))},
        "length": {**LENGTH, **ends},
        "lamps": draw(st.sampled_from([[], LAMPS])),
        "wires": draw(st.sampled_from([[], [{"name": "w", "diameter": "0.6 mm", "count": 2}]])),
        "obstacles": draw(st.sampled_from([[], [CLIP], [POST], [CLIP, POST], [{**CLIP, "running": "0.3 mm"}]])),
        "chamber": {
            "cut_round": draw(st.booleans()),
            "wire_path": draw(st.sampled_from(["0 mm", "2 mm"])),
            "floor": draw(st.sampled_from(["pieces", "one piece"])),
            "light_barrier": draw(st.booleans()),
            "strand_supports": draw(st.sampled_from([None, "6 mm"])),
        },
        "weight": draw(st.sampled_from([None, WEIGHT])),
    }
    if arched:
        fields |= {"profiles": ARCH, "zones": [{**zone, "profile": "arch"} for zone in ZONES]}
    return spacious(**fields)


def mm(text):
    return float(re.findall(r"(-?\d+\.\d+)(?: ± \d+\.\d+)? (?:mm|cm3|g)(?![a-z0-9])", text)[-1])


def summed(terms):
    """The numbers of a sentence, those after `less` taken off."""
    found = NUMBER.findall(terms)
    return sum(-float(number) if "less " in words else float(number) for words, number in found), len(found)


def check_size(figure):
    """Roof less floor less what else takes height is the size shown; the cut is at the next mark below or above it."""
    terms, _, way = figure.how.partition("; the ")
    terms, _, exact = terms.rpartition(": ")
    if terms:
        total, count = summed(terms)
        total *= 3 if terms.startswith("three times") else 1
        assert total == pytest.approx(mm(exact), abs=(count + 1) * SEEN_MM), (figure.name, figure.value, figure.how)
    size, shown = mm(figure.value), mm(exact)
    up = size - shown if way.startswith("smallest") else shown - size
    assert -2 * SEEN_MM <= up < STEP_MM + 2 * SEEN_MM, (figure.name, figure.value, figure.how)


def check_highest(figure, _found):
    total, count = summed(figure.how.partition(": ")[2])
    assert total == pytest.approx(mm(figure.value), abs=(count + 1) * SEEN_MM), (figure.value, figure.how)


def check_place(figure, _found):
    start, end = (float(each) for each in re.findall(r"(-?\d+\.\d+) mm", figure.value))
    takes = re.search(r"(-?\d+\.\d+) mm and the (\d+\.\d+) mm it takes along", figure.how)
    first, along = (float(each) for each in takes.groups())
    assert (first, first + along) == pytest.approx((start, end), abs=3 * SEEN_MM), (figure.value, figure.how)


def check_net(figure, found):
    gross, *taken = (float(each) for each in re.findall(r"(\d+\.\d+) cm3", figure.how))
    assert gross - sum(taken) == pytest.approx(mm(figure.value), abs=0.0005 * (len(taken) + 2)), figure.how
    assert gross == pytest.approx(mm(found["chamber volume"].value), abs=SEEN_MM + 0.001)


def check_truck(figure, _found):
    total, count = summed(figure.how)
    assert total == pytest.approx(mm(figure.value), abs=0.05 + (count + 1) * 0.005), (figure.value, figure.how)


def check_hole(figure, _found):
    half, off, left = (float(each) for each in re.findall(r"(\d+\.\d+) mm", figure.how))
    assert half + (off if "width there, and" in figure.how else -off) == pytest.approx(left, abs=3 * SEEN_MM)
    assert f"{off:.2f} mm" in figure.value


KINDS = (
    ("size", r".* length", lambda how: "size on a mark" in how, lambda figure, _found: check_size(figure)),
    ("highest", r".*: highest", lambda how: "no top of its own" in how, check_highest),
    ("place", r"(speaker|decoder) place", bool, check_place),
    ("net volume", r"net volume", bool, check_net),
    ("truck", r"\w+ truck after", bool, check_truck),
    ("hole", r"hole: .*", bool, check_hole),
)


def check(name, figure, found):
    for kind, named, said, make in KINDS:
        if re.fullmatch(named, name) and said(figure.how):
            make(figure, found)
            return kind
    return ""


@settings(max_examples=25)
@given(plans())
def test_the_arithmetic_shown_gives_the_number(plan):
    found = plan.figures
    for name, figure in found.items():
        check(name, figure, found)
        assert set(figure.follows_from) <= set(found), (name, set(figure.follows_from) - set(found))


def test_every_kind_is_met():
    """So that none of the checks above passes for want of its figure."""
    met = Counter[str]()
    parts = Counter[str]()
    for fields in (
        {"chamber": {"cut_round": True, "light_barrier": True, "strand_supports": "6 mm"}, "lamps": LAMPS},
        {"chamber": {"wire_path": "2 mm"}, "wires": [{"name": "w", "diameter": "0.6 mm", "count": 2}]},
    ):
        plan = spacious(obstacles=[CLIP, POST], weight=WEIGHT, **fields)
        parts.update(part.kind for part in plan.parts if f"{part.name} length" in plan.figures)
        met.update(check(name, figure, plan.figures) for name, figure in plan.figures.items())
    assert set(met) == {"", *(kind for kind, *_ in KINDS)}
    assert set(parts) == {"wall", "post", "support", "filler", "plate", "side", "box", "rest", "barrier"}


def test_a_support_says_its_own_roof_floor_and_flange():
    """30 mm of roof, the floor at 11 mm, the flange 1.2 mm: 17.8 mm, at the mark below 17.5 mm."""
    figure = spacious().figures["speaker support length"]
    assert figure.how == (
        "the roof over it, 30.00 mm above the seat, less the floor height, 11.00 mm, less the flange, 1.20 mm: "
        "17.80 mm; the largest size on a mark that is no more"
    )
    assert figure.value.endswith(", 17.50 mm")
    assert {"floor height", "flange", "finest mark", "reading: roof"} == set(figure.follows_from)


def test_parts_name_what_they_are_made_of():
    figures = spacious(
        obstacles=[CLIP],
        lamps=LAMPS,
        chamber={"cut_round": True, "light_barrier": True, "strand_supports": "6 mm"},
    ).figures
    below = {name: set(figure.follows_from) for name, figure in figures.items()}
    assert "strand: headlight" in below["strand support, rear length"]
    assert {"free depth: gear box", "clearance", "reading: roof"} <= below["light barrier, rear length"]
    boxes = [name for name in figures if name.startswith("motor clip box, ") and name.endswith(" length")]
    assert boxes
    for name in boxes:
        wanted = "reach along" if "lid" in name else "highest"
        assert f"motor clip: {wanted}" in below[name], name
        assert "bulkhead height" not in below[name]


def test_a_speaker_at_a_wall_stands_there():
    figure = facing("rear", length={**LENGTH, "rear_closed": False}).figures["speaker place"]
    assert figure.how.startswith("at the wall that it faces; ")
    assert "speaker depth" in figure.follows_from
