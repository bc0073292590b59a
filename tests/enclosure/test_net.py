"""Net volume: against a count of voxels, against slices of shapely, and by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product
from math import pi

import numpy as np
import pytest
from enclosure.test_extra_parts import Made, made
from hypothesis import given, settings
from scipy.sparse import lil_array
from scipy.sparse.csgraph import connected_components
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Cavity, Limits, Obstacle, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.assemble import parts_of
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.net import Passing, net_volume, speaker_blocks
from modelmath.errors import ModelMathError
from modelmath.lengths.rules import Rule

MM = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
LIMITS = Limits(Fraction(1, 2), Fraction(1, 2), Fraction(1), Fraction(2), Fraction(1, 2), cut_round=True)
SPEAKER = Speaker(16, 12, 1, 5, place="rear", basket_length_mm=11, basket_width_mm=7)
HOOD, CAB = Zone("hood", 0, 40, 2, 15, 20), Zone("cab", 40, 70, 2, 18, 19)
TOWER = Obstacle("tower", 20, 30, 3, 0, 6, moves=False)


def chamber_of(speaker=SPEAKER, limits=LIMITS, zones=(HOOD, CAB), obstacles=(TOWER,), decoder=None, extras=None):
    enclosure = fit_enclosure(Cavity(zones, False, False, obstacles), limits, speaker, decoder)
    chamber = enclosure.as_cut(MM)
    return chamber, parts_of(enclosure, chamber, MM, extras or Extras())


def cells(low: float, high: float, origin: int) -> slice:
    """The voxels between two places that lie on whole halves of a millimetre."""
    assert 2 * low % 1 == 2 * high % 1 == 0
    return slice(int(2 * (low - origin)), int(2 * (high - origin)))


@pytest.mark.parametrize(
    ("faces", "floor"), [(each, "pieces") for each in ("down", "up", "front", "rear")] + [("down", "one piece")]
)
def test_it_is_what_a_count_of_voxels_gives(faces, floor):
    """All sizes are whole halves of a millimetre, so that voxels of 0.5 mm count exactly."""
    speaker = replace(SPEAKER, faces=faces, length_mm=11 if faces in ("front", "rear") else 16)
    chamber, parts = chamber_of(speaker, extras=Extras(floor=floor))
    net = net_volume(chamber, speaker, parts, LIMITS)
    air = np.zeros((140, 48, 48), dtype=bool)

    def fill(there: bool, *ends: float) -> None:
        air[cells(*ends[:2], 0), cells(*ends[2:4], -12), cells(*ends[4:], 0)] = there

    floor_mm, (start, end) = chamber.floor_mm, (chamber.inner_start_mm, chamber.inner_end_mm)
    fill(True, start, 40, -10, 10, floor_mm, 15)
    fill(True, 40, end, -9.5, 9.5, floor_mm, 18)
    fill(False, 19, 31, -4, 4, 0, 7)
    assert air.sum() / 8 == net.gross_mm3 == chamber.volume_mm3
    for each in [*(b for part in parts for b in part.blocks), *speaker_blocks(chamber, speaker, LIMITS)]:
        fill(False, each.start_mm, each.end_mm, each.left_mm, each.right_mm, each.bottom_mm, each.top_mm)
    assert air.sum() / 8 == net.net_mm3
    assert net.at_least
    assert net.text == f"gross {float(net.gross_mm3) / 1000:.2f} cm3, net at least {float(net.net_mm3) / 1000:.2f} cm3"


def test_each_share_by_hand():
    """By hand, 1 mm walls, 2 mm posts: a hood of 60 mm with a speaker in its middle, 12.5 mm high over the floor."""
    hood = replace(HOOD, end_mm=60)
    speaker = replace(SPEAKER, place="middle")
    chamber, parts = chamber_of(speaker, zones=(hood,), obstacles=())
    shares = {each.name: each.volume_mm3 for each in net_volume(chamber, speaker, parts, LIMITS).shares}
    assert shares == {
        "speaker": 16 * 12 * 1 + 11 * 7 * 4,
        "corner post": 2 * 2 * 2 * Fraction(23, 2),
        "closure post": 2 * 2 * 2 * Fraction(23, 2),
        "speaker support": 4 * 2 * 2 * Fraction(23, 2),
        "side plate": 2 * 4 * 16 * 1,
        "floor plate, front": 21 * 20 * 1,
        "floor plate, rear": 21 * 20 * 1,
    }
    upright = [part for part in parts if part.kind in ("post", "support")]
    thinned = [replace(part, blocks=tuple(map(thin_block, part.blocks))) if part in upright else part for part in parts]
    thin = {each.name: each.volume_mm3 for each in net_volume(chamber, speaker, thinned, LIMITS).shares}
    assert thin["corner post"] == 2 * Fraction(3, 2) * Fraction(23, 2)
    assert thin["speaker support"] == 4 * Fraction(3, 2) * Fraction(23, 2)


def thin_block(block):
    """A post or support of 1 x 1.5 mm in place of one of 2 x 2 mm."""
    return replace(block, end_mm=block.start_mm + 1, right_mm=block.left_mm + Fraction(3, 2))


def test_a_given_volume_what_runs_through_and_a_decoder_inside():
    hood = replace(HOOD, end_mm=60)
    decoder = Box("decoder", 10, 8, 3, air_mm=1, inside=True)
    limits = replace(LIMITS, cut_round=False)
    enclosure = fit_enclosure(Cavity((hood,), False, False), limits, SPEAKER, decoder)
    chamber = next(each for each in enclosure.candidates if each.pocket.where == "inside it")
    parts = parts_of(enclosure, chamber, MM)
    passing = [Passing("strand", 0.75, 3), Passing("bundle", 2, length_mm=20)]
    net = net_volume(chamber, SPEAKER, parts, limits, passing=passing, speaker_volume_mm3=400, decoder=decoder)
    shares = {each.name: (each.volume_mm3, each.note) for each in net.shares}
    assert shares["speaker"] == (400, "its volume as given")
    assert shares["decoder"] == (240, "inside the chamber")
    assert shares["strand"][0] == pytest.approx(3 * pi * 0.375**2 * 58)
    assert shares["bundle"][0] == pytest.approx(pi * 20)
    assert not net.at_least
    roomy = net_volume(chamber, SPEAKER, parts, limits, speaker_volume_mm3=400)
    assert {each.name: (each.volume_mm3, each.note) for each in roomy.shares}["decoder"] == (
        12 * 10 * 4, "the room it takes, its air in it: at most",
    )  # fmt: skip


def test_the_side_wall_is_off_already():
    chamber, parts = chamber_of(limits=replace(LIMITS, wire_path_mm=3), obstacles=())
    assert any(part.kind == "side" for part in parts)
    names = {each.name for each in net_volume(chamber, SPEAKER, parts, LIMITS).shares}
    assert not any(name.startswith("side wall") for name in names)


def section(zone: Zone, floor: float) -> Polygon:
    """The inside above a floor as a polygon."""
    if zone.profile is None:
        half = float(zone.width_mm) / 2
        return box(-half, floor, half, float(zone.roof_mm))
    points = [(float(h), float(w)) for h, w in zone.profile.points]
    points.insert(0, (-99.0, points[0][1]))
    ring = [(w, h) for h, w in points] + [(-w, h) for h, w in reversed(points)]
    return Polygon(ring).intersection(box(-99, floor, 99, 99))


def by_slices(case: Made) -> tuple[float, float]:
    """Gross and net volume from cross-sections of shapely, between all places at which anything changes."""
    chamber, limits = case.chamber, case.enclosure.limits
    blocks = [block for part in case.parts for block in part.blocks]
    if case.enclosure.speaker is not None:
        blocks += speaker_blocks(chamber, case.enclosure.speaker, limits)
    wall = limits.wall_mm
    edges = {e for b in blocks for e in (b.start_mm, b.end_mm)} | {bay.start_mm for bay in chamber.bays}
    edges |= {e for o in chamber.boxed for e in (o.start_mm - wall, o.end_mm + wall)}
    ends = (chamber.inner_start_mm, chamber.inner_end_mm)
    slices = []
    for low, high in pairwise(sorted({*ends, *(each for each in edges if ends[0] < each < ends[1])})):
        zone = next(bay.zone for bay in chamber.bays if bay.start_mm <= low and high <= bay.end_mm)
        inside = section(zone, float(chamber.floor_mm))
        boxed = []
        for each in chamber.boxed:
            if each.start_mm - wall < high and low < each.end_mm + wall:
                middle, side = float(each.centre_mm), float(each.half_width_mm + wall)
                boxed.append(box(middle - side, -99, middle + side, float(each.top_mm + wall)))
        inside = inside.difference(unary_union(boxed))
        solid = [
            box(float(b.left_mm), float(b.bottom_mm), float(b.right_mm), float(b.top_mm))
            for b in blocks
            if b.start_mm < high and low < b.end_mm
        ]
        pieces = [each for each in getattr(inside, "geoms", [inside]) if each.area > 1e-9]
        slices.append((float(low), float(high), pieces, unary_union(solid)))
    return joined(slices, chamber.seat_mm)


def joined(slices: list[tuple[float, float, list[Polygon], object]], seat: tuple | None) -> tuple[float, float]:
    """Gross and net volume of what is joined with the speaker's seat, without one the largest, by polygons."""
    nodes = [(at, piece) for at, each in enumerate(slices) for piece in each[2]]
    passing = lil_array((len(nodes), len(nodes)), dtype=int)
    for (one, (at, first)), (other, (after, second)) in product(enumerate(nodes), repeat=2):
        if after == at + 1 and first.intersection(second).area > 1e-9:
            passing[one, other] = 1
    count, parts = connected_components(passing.tocsr(), directed=False)
    found = [[False, 0.0, 0.0] for _ in range(count)]
    for (at, piece), part in zip(nodes, parts, strict=True):
        low, high, _, solid = slices[at]
        found[part][0] |= seat is not None and low <= float(seat[0]) < high and piece.buffer(1e-9).intersects(AXIS)
        found[part][1] += piece.area * (high - low)
        found[part][2] += piece.difference(solid).area * (high - low)
    _, gross, net = max(found)
    return gross, net


AXIS = LineString([(0, -99), (0, 99)])


def test_what_boxes_part_from_the_speaker_counts_for_nothing():
    """By hand: a rail to the roof, 6 to 10 mm right of the middle with its sides, leaves 18 mm left of it, 2 right."""
    hood, rail = replace(HOOD, end_mm=60, width_mm=24), Obstacle("rail", -1, 61, 1, 0, 14, centre_mm=8, moves=False)
    for speaker in (None, replace(SPEAKER, place="middle")):
        chamber, parts = chamber_of(speaker, zones=(hood,), obstacles=(rail,))
        net = net_volume(chamber, speaker, parts, LIMITS)
        assert net.gross_mm3 == chamber.volume_mm3 == 58 * 18 * Fraction(25, 2)
    shares = {each.name: each.volume_mm3 for each in net.shares}
    # The posts, the plate and the plates beside the speaker count up to the rail only.
    assert shares["floor plate, front"] == shares["floor plate, rear"] == 21 * 18 * 1
    assert shares["corner post"] == 2 * 2 * Fraction(23, 2)
    assert shares["side plate"] == 6 * 16 * 1


@settings(max_examples=30)
@given(made())
def test_it_is_what_slices_give_in_any_chamber(case):
    gross, left = by_slices(case)
    found = net_volume(case.chamber, case.enclosure.speaker, case.parts, case.enclosure.limits)
    inside = sum(each.volume_mm3 for each in found.shares if each.name == "decoder")
    assert float(found.gross_mm3) == pytest.approx(gross, rel=1e-9)
    assert float(found.net_mm3 + inside) == pytest.approx(left, rel=1e-9)


@settings(max_examples=15)
@given(made())
def test_more_in_it_never_leaves_more(case):
    speaker, limits = case.enclosure.speaker, case.enclosure.limits
    found = net_volume(case.chamber, speaker, case.parts, limits)
    fewer = net_volume(case.chamber, speaker, case.parts[:-1], limits)
    wired = net_volume(case.chamber, speaker, case.parts, limits, passing=[Passing("wire", 0.5)])
    assert wired.net_mm3 < found.net_mm3 <= fewer.net_mm3 <= found.gross_mm3
    assert all(share.volume_mm3 > 0 for share in found.shares)


def test_under_a_section_only_what_lies_inside_counts():
    """By hand: sides that come in 0.4 mm for each mm up from 10.3 at the floor: a plate of 1 mm is 20.2 mm wide."""
    profile = Profile(((2, Fraction(21, 2)), (12, Fraction(13, 2))))
    tapering = Zone("hood", 0, 60, 2, 12, 21, profile)
    speaker = Speaker(6, 5, 1, 3, faces="up", basket_length_mm=4, basket_width_mm=1)
    chamber, parts = chamber_of(speaker, zones=(tapering,), obstacles=())
    assert chamber.floor_mm == Fraction(5, 2)
    shares = {each.name: each.volume_mm3 for each in net_volume(chamber, speaker, parts, LIMITS).shares}
    assert shares["floor plate"] == Fraction(202, 10) * 58
    assert shares["speaker"] == 6 * 5 + 4 * 1 * 2
    # Its post of 2 mm stands 10.3 mm out on the plate: 1.6 mm of it are left there, and none 4 mm further up.
    assert shares["corner post"] == 2 * 2 * Fraction(16, 10) / 2 * 4


ERRORS = [
    (
        lambda: Passing("wire", 0),
        "wire: diameter is 0 mm; it must be above 0. Measure it.",
    ),
    (
        lambda: Passing("wire", 1, 0),
        "wire: count is 0; it must be 1 or more. Leave out what does not run there.",
    ),
    (
        lambda: net_volume(*taken(), LIMITS, speaker_volume_mm3=0),
        "the speaker's volume is 0 mm3; it must be above 0. Leave it out where it is not known.",
    ),
    (
        lambda: net_volume(*taken(), LIMITS, speaker_volume_mm3=20000),
        (
            "what stands in the chamber is 21336 mm3; it must be less than its gross volume, 14500 mm3. Check the "
            "speaker's volume and what runs in."
        ),
    ),
]  # fmt: skip


def taken():
    chamber, parts = chamber_of(replace(SPEAKER, place="middle"), zones=(replace(HOOD, end_mm=60),), obstacles=())
    return chamber, SPEAKER, parts


@pytest.mark.parametrize(("make", "message"), ERRORS)
def test_what_can_not_be_is_said(make, message):
    with pytest.raises(ModelMathError, match=f"^{re.escape(message)}$"):
        make()


@pytest.mark.parametrize(
    ("faces", "flange", "basket"),
    [
        # On the floor at 2.5 mm or under the roof at 15 mm, in the middle of 60 mm; 11 x 7 mm of 15 x 12 behind it.
        ("down", (22.5, 37.5, -6, 6, 2.5, 4.5), (24.5, 35.5, -3.5, 3.5, 4.5, 7.5)),
        ("up", (22.5, 37.5, -6, 6, 13, 15), (24.5, 35.5, -3.5, 3.5, 10, 13)),
        # Upright on the plate at 3.5 mm, against a wall of 1 mm; 9 mm high, its basket 5.
        ("front", (1, 3, -6, 6, 3.5, 12.5), (3, 6, -3.5, 3.5, 5.5, 10.5)),
        ("rear", (57, 59, -6, 6, 3.5, 12.5), (54, 57, -3.5, 3.5, 5.5, 10.5)),
    ],
)
def test_where_flange_and_basket_lie_by_hand(faces, flange, basket):
    """A flange of 2 mm, and 5 mm deep in all."""
    long, inner = (15, 11) if faces in ("down", "up") else (9, 5)
    speaker = Speaker(long, 12, 2, 5, faces=faces, basket_length_mm=inner, basket_width_mm=7)
    chamber, _ = chamber_of(speaker, zones=(replace(HOOD, end_mm=60),), obstacles=())
    found = [
        (b.start_mm, b.end_mm, b.left_mm, b.right_mm, b.bottom_mm, b.top_mm)
        for b in speaker_blocks(chamber, speaker, LIMITS)
    ]
    assert found == [flange, basket]
    assert speaker_blocks(replace(chamber, seat_mm=None), speaker, LIMITS) == ()


def test_what_runs_in_it_has_a_size():
    assert Passing("wire", Fraction(1, 2), length_mm=Fraction(1, 2)).count == 1
    for size, what in (({"diameter_mm": -1}, "diameter is -1"), ({"length_mm": 0}, "length inside is 0")):
        with pytest.raises(ModelMathError, match=f"^wire: {what} mm; it must be above 0. Measure it.$"):
            Passing("wire", **({"diameter_mm": 1} | size))


def test_some_air_must_be_left():
    """Of 14500 mm3 all but the speaker take 1336."""
    chamber, speaker, parts = taken()
    least = net_volume(chamber, speaker, parts, LIMITS, speaker_volume_mm3=Fraction(26327, 2))
    assert least.net_mm3 == Fraction(1, 2)
    with pytest.raises(ModelMathError, match=r"^what stands in the chamber is 14500 mm3; it must be less than its"):
        net_volume(chamber, speaker, parts, LIMITS, speaker_volume_mm3=13164)
