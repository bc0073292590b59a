"""Space, holes and moving parts beside general-purpose libraries, where the other tests have no such check."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import radians

import numpy as np
import pytest
from astropy import units
from enclosure.stepped.checks import compared
from enclosure.stepped.random_cases import random_case
from scipy.spatial.transform import Rotation
from scipy.stats.qmc import Halton
from shapely import LineString, MultiPoint, Point, Polygon, box
from shapely.ops import unary_union
from trimesh.boolean import difference
from trimesh.creation import box as solid_box

from modelmath.enclosure import Box, Cavity, Limits, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.balance import Balance, Mass, Support
from modelmath.enclosure.balance.masses import added, trimmed
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.holes.plate import Plate
from modelmath.enclosure.holes.region import convex_hull, edge_distance, free_points, piece_distances, region_of
from modelmath.enclosure.holes.row import near_side
from modelmath.enclosure.making.blocks import Block, less
from modelmath.enclosure.making.outline import height_where, least_of, length_mm, section_of
from modelmath.enclosure.making.site import width_between
from modelmath.enclosure.mechanism.asked import check_curve
from modelmath.enclosure.mechanism.curve import end_throw, lineside_reach
from modelmath.enclosure.mechanism.turning import PlanBox, leaned, rise, tilt
from modelmath.enclosure.stepped import fit_stepped, tables
from modelmath.errors import DoesNotFit, OutOfRange

# --- Weight ----------------------------------------------------------------------------------------------------


def test_a_weight_stands_where_the_moments_ask_for_it():
    """numpy.linalg: loads of two trucks alike, moments about the front one."""
    balance = Balance(Support("front", -40), Support("rear", 40), (Mass("model", 100, 0),), (Mass("clip", -10, 20),))
    found = balance.place_for("level", 20)
    load, moment = np.linalg.solve([[2, 0], [80, -1]], [110, 0])  # each truck 55 g; moment about the front truck
    assert load == 55
    # What is there already, and the weight at its place, make up that moment.
    assert 100 * 40 - 10 * 60 + 20 * (float(found.at_mm) + 40) == pytest.approx(moment)


def test_what_is_trimmed_and_added_weighs_what_astropy_makes_of_it():
    """astropy.units: volume times density; 6.7 and 1.055 g/cm3, the middles of what handbooks print, from memory."""
    zinc, abs_ = 6.7 * units.g / units.cm**3, 1.055 * units.g / units.cm**3
    clip, wall = trimmed("clip", 1500, "zinc alloy", 12), added("bulkhead", 1000, "ABS", -3)
    assert clip.mass_g.nominal_value == pytest.approx(-(1500 * units.mm**3 * zinc).to_value(units.g))
    assert wall.mass_g.nominal_value == pytest.approx((1000 * units.mm**3 * abs_).to_value(units.g))


# --- What misses -----------------------------------------------------------------------------------------------

ZONES = (Zone("cab", 0, 30, 5, 15, 12), Zone("motor", 30, 60, 9, 16, 12))
CLOSED = Cavity(ZONES)
FREE = unary_union([box(float(z.start_mm), float(z.top_mm), float(z.end_mm), float(z.roof_mm)) for z in ZONES])


def goes_in(free, length, depth):
    """Shapely: whether an upright box lies anywhere within, ends and floors of the free space tried."""
    xs = {x for x, _ in free.exterior.coords} | {x - length for x, _ in free.exterior.coords}
    ys = {y for _, y in free.exterior.coords}
    return any(free.covers(box(x, y, x + length, y + depth)) for x, y in product(xs, ys))


def short_by(free, length, depth, *, both=True):
    low, high = 0.0, (min(length, depth) if both else length) - 1e-6
    for _ in range(40):
        middle = (low + high) / 2
        if goes_in(free, length - middle, depth - middle if both else depth):
            high = middle
        else:
            low = middle
    return high


SIZES = [(20, 11, True), (35, 8, True), (45, 9.5, True), (70, 5, False)]


@pytest.mark.parametrize(("length", "depth", "both"), SIZES)
def test_a_speaker_misses_by_what_shapely_finds(length, depth, both):
    """Smaller by so much it goes in somewhere; without walls, posts and clearance."""
    with pytest.raises(DoesNotFit) as miss:
        fit_enclosure(CLOSED, Limits(0, wall_mm=0, post_mm=0), Speaker(length, 10, Fraction(1, 1000), depth))
    assert float(miss.value.short_mm) == pytest.approx(short_by(FREE, length, depth, both=both), abs=1e-6)


@pytest.mark.parametrize(("length", "depth", "both"), SIZES)
def test_over_a_stepped_floor_too(length, depth, both):
    """Shapely again: a speaker lies on one level, so that steps make it no more room; risers of a thousandth."""
    with pytest.raises(DoesNotFit) as miss:
        fit_stepped(
            CLOSED, Limits(0, wall_mm=Fraction(1, 1000), post_mm=0), Speaker(length, 10, Fraction(1, 1000), depth)
        )
    assert float(miss.value.short_mm) == pytest.approx(short_by(FREE, length, depth, both=both), abs=0.003)


def test_where_an_end_is_held_a_speaker_misses_by_what_shapely_finds():
    """Shapely: the free space behind the wall alone."""
    held = Limits(0, wall_mm=0, post_mm=0, front_at_mm=40)
    behind = FREE.intersection(box(40, 0, 60, 20))
    with pytest.raises(DoesNotFit) as miss:
        fit_enclosure(CLOSED, held, Speaker(24, 10, Fraction(1, 1000), 6))
    assert float(miss.value.short_mm) == pytest.approx(short_by(behind, 24, 6), abs=1e-6)


def test_a_decoder_misses_by_what_shapely_finds():
    """Shapely: the free space, its length alone to be had."""
    with pytest.raises(DoesNotFit) as miss:
        fit_enclosure(CLOSED, Limits(0, wall_mm=0, post_mm=0), None, Box("decoder", 65, 10, 3))
    assert float(miss.value.short_mm) == pytest.approx(short_by(FREE, 65, 3, both=False), abs=1e-6)


@pytest.mark.parametrize("seed", range(12))
def test_where_numbers_are_rounded_no_search_finds_a_larger_stepped_chamber(seed, monkeypatch):
    """Every whole millimetre searched, areas by shapely; what rounding can't tell apart is looked at again."""
    monkeypatch.setattr(tables, "LARGEST", 1)
    compared(replace(random_case(seed, length=13), riser=2))  # risers that raise floors, too


# --- Sections and blocks ---------------------------------------------------------------------------------------

ARCH = Profile(((0, 10), (6, 10), (10, 6), (13, 2)))
ARCHED = Zone("arch", 0, 50, 0, 13, 20, profile=ARCH)
HALF = [(0, 10), (6, 10), (10, 6), (13, 2)]
OUTLINE = Polygon([(half, height) for height, half in HALF] + [(-half, height) for height, half in reversed(HALF)])


def width_by_shapely(low, high):
    return OUTLINE.intersection(box(-50, low, 50, high)).bounds


def test_a_section_is_as_wide_as_shapely_has_it():
    """Shapely and numpy.interp on one arch."""
    assert ARCH.widest_mm == OUTLINE.bounds[2] - OUTLINE.bounds[0]
    for low, high in ((1, 5), (7, 12), (9, 13)):
        west, _, east, _ = width_by_shapely(low, high)
        bay = Bay(ARCHED, Fraction(0), Fraction(50), Fraction(0), ARCHED)
        assert float(width_between(bay, Fraction(low), Fraction(high))) == pytest.approx(east - west)
        section = section_of(ARCHED, Fraction(low), Fraction(high))
        for height in np.linspace(low, high, 7):
            due = np.interp(height, *zip(*HALF, strict=True))
            assert np.interp(height, *np.array(section, float).T) == pytest.approx(due)
            assert float(ARCH.width_at(Fraction(height))) == pytest.approx(2 * due)
        assert float(length_mm(section)) == pytest.approx(
            LineString([(float(half), float(height)) for height, half in section]).length
        )
    whole = section_of(ARCHED, Fraction(0), Fraction(13))
    for half in (3, 5, 8):
        column = OUTLINE.intersection(LineString([(half, -1), (half, 20)]))
        assert float(height_where(whole, Fraction(half))) == pytest.approx(column.bounds[3])


def test_the_outline_inside_several_is_their_intersection():
    """Shapely: polygons laid over each other."""
    one = ((Fraction(0), Fraction(3)), (Fraction(9), Fraction(3)))
    other = ((Fraction(0), Fraction(5)), (Fraction(9), Fraction(0)))
    found = Polygon([(0, 0), *((float(h), float(w)) for h, w in least_of([one, other])), (9, 0)])
    polygons = [Polygon([(0, 0), *((float(h), float(w)) for h, w in each), (9, 0)]) for each in (one, other)]
    assert found.symmetric_difference(polygons[0].intersection(polygons[1])).area < 1e-9


def test_heights_at_which_a_section_reaches_further_out_are_shapelys():
    """Shapely: where an upright line beside the middle lies inside."""
    for aside in (3, 7, 9):
        inside = OUTLINE.intersection(LineString([(aside, 4), (aside, 20)]))
        found = Sections().beyond(ARCHED, Fraction(0), Fraction(4), Fraction(aside))
        assert [tuple(map(float, ends)) for ends in found] == [pytest.approx((inside.bounds[1], inside.bounds[3]))]


def test_blocks_meet_and_are_taken_off_as_solids_are():
    """trimesh: the volume of a box less others, by its own boolean."""
    random = np.random.default_rng(3)
    for _ in range(12):
        sides = np.sort(random.integers(0, 7, (3, 3, 2)), axis=2)
        sides[..., 1] += 1
        one, *others = (Block(*map(int, each.ravel())) for each in sides)

        def solid(block):
            spans = ((block.start_mm, block.end_mm), (block.left_mm, block.right_mm), (block.bottom_mm, block.top_mm))
            return solid_box(bounds=np.sort(np.array(spans, float), axis=1).T)

        left = less([one], others)
        taken = difference([solid(one), *map(solid, others)])
        volume = 0.0 if taken.is_empty else taken.volume
        assert float(sum(each.volume_mm3 for each in left)) == pytest.approx(volume, abs=1e-6)
        for other in others:
            rest = difference([solid(one), solid(other)])
            assert one.meets(other) == (rest.is_empty or solid(one).volume - rest.volume > 1e-9)


# --- Holes -----------------------------------------------------------------------------------------------------


def test_the_hull_is_shapelys():
    random = np.random.default_rng(7)
    for _ in range(20):
        points = [tuple(map(float, each)) for each in random.integers(0, 9, (12, 2))]
        due = MultiPoint(points).convex_hull
        assert Polygon(convex_hull(points)).symmetric_difference(due).area < 1e-9


def test_the_points_to_begin_from_are_scipys():
    """scipy.stats.qmc.Halton, unscrambled, in bases 2 and 3; stretched over the plate."""
    due = Halton(2, scramble=False).random(9)[1:]
    found = free_points(region_of(Plate(8, 9)), 8)
    assert found == pytest.approx(due * [8, 9] - [4, 0])


RIBBED = Plate(20, 12, ((0, 10), (5, 10), (5, 8), (7, 8), (7, 10), (12, 10)))


def test_distances_from_edges_and_pieces_are_shapelys():
    region = region_of(RIBBED)
    places = np.random.default_rng(2).uniform((-10, 0), (10, 12), (60, 2))
    hull = Polygon(convex_hull(RIBBED.corners))
    assert edge_distance(region, places).min(axis=1) == pytest.approx(
        [hull.exterior.distance(Point(p)) for p in places]
    )
    distances, _ = piece_distances(region.pieces, places)
    for piece, row in zip(region.pieces, distances, strict=True):
        shape = Polygon(piece)
        due = [
            -shape.exterior.distance(Point(p)) if shape.contains(Point(p)) else shape.distance(Point(p)) for p in places
        ]
        assert row == pytest.approx(due, abs=1e-9)
    for height in (1.0, 6.0, 9.0):
        line = Polygon(RIBBED.corners).intersection(LineString([(-20, height), (20, height)]))
        assert RIBBED.half_at(height) == pytest.approx(line.bounds[2])


def test_what_is_near_a_side_is_shapelys_buffer():
    """Shapely: the side grown by the reach, cut by the level line."""
    for start, end, reach, height in (((4, 0), (4, 9), 1.5, 3), ((1, 2), (6, 5), 2, 4), ((0, 0), (3, 1), 1, 1.8)):
        grown = LineString([start, end]).buffer(reach, quad_segs=2000)
        cut = grown.intersection(LineString([(-50, height), (50, height)]))
        found = list(near_side(start, end, reach, height))
        assert found == ([] if cut.is_empty else [pytest.approx((cut.bounds[0], cut.bounds[2]), abs=1e-4)])


# --- What moves ------------------------------------------------------------------------------------------------


def spun(corners, rock, roll):
    """scipy: corners rolled sideways, then rocked endways, about the axis."""
    return Rotation.from_euler("xy", [roll, rock]).apply(corners)


def test_what_rocks_and_rolls_rises_and_leans_as_turned_corners():
    """scipy.spatial.transform.Rotation, over all angles up to both."""
    plan, height, rock, roll = PlanBox(20, 15, 8), 12.0, radians(2), radians(3)
    upper = [(x, y, height) for x in (-20, 15) for y in (-8, 8)]
    edges = [(x, y, z) for x, y, _ in upper for z in (height, -height)]
    angles = list(product(np.linspace(-rock, rock, 9), np.linspace(-roll, roll, 9)))
    highest = max(spun(upper, *each)[:, 2].max() for each in angles)
    assert rise(plan, rock, roll, height) == pytest.approx(highest - height, abs=1e-3)
    found = leaned(plan, height, rock, roll)
    turned = np.concatenate([spun(edges, *each) for each in angles])
    # Ahead counts down here, behind up.
    assert -turned[:, 0].min() - 1e-9 <= found.ahead_mm <= -turned[:, 0].min() + 0.1
    assert turned[:, 0].max() - 1e-9 <= found.behind_mm <= turned[:, 0].max() + 0.1
    assert abs(turned[:, 1]).max() - 1e-9 <= found.half_width_mm <= abs(turned[:, 1]).max() + 0.1


def test_tilted_by_that_an_end_stands_so_high():
    """scipy.spatial.transform.Rotation."""
    end = Rotation.from_euler("y", -tilt(0.7, 20)).apply([20, 0, 0])
    assert end[2] == pytest.approx(0.7)


def test_a_curve_takes_the_chords_that_shapely_draws_on_it():
    """Shapely: pivots stand on the circle as long as a circle about one of them meets it."""
    track = Point(0, 0).buffer(100, quad_segs=4000).exterior
    for pivots in (150, 199, 201, 260):
        meets = Point(100, 0).buffer(pivots, quad_segs=4000).exterior.intersects(track)
        if meets:
            check_curve(pivots, 100)
        else:
            with pytest.raises(OutOfRange):
                check_curve(pivots, 100)


def test_a_body_on_a_curve_reaches_as_far_as_it_is_drawn():
    """Shapely: the body laid over two pivots on the circle, its nearest and farthest point from the middle."""
    pivots, radius, length, width = 90.0, 457.2, 140.0, 32.0
    across = (radius**2 - (pivots / 2) ** 2) ** 0.5
    body = box(-length / 2, across - width / 2, length / 2, across + width / 2)
    inside, outside = lineside_reach(pivots, radius, length, width)
    assert inside == pytest.approx(radius - body.distance(Point(0, 0)))
    assert outside == pytest.approx(body.hausdorff_distance(Point(0, 0)) - radius)
    middle = LineString([(-length / 2, across), (length / 2, across)])
    assert end_throw(pivots, radius, length) == pytest.approx(middle.hausdorff_distance(Point(0, 0)) - radius)
