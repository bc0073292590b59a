"""A plan's figures beside printed ones and general-purpose libraries, where the other tests have no such check."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from job.lit.lit_jobs import lit
from job.sound.test_in_chamber import job as chamber_job
from job.sound.test_in_chamber import whole
from published import agrees_with_print, published_rows
from sample_jobs import job, with_chamber
from scipy import stats
from shapely import Point, box
from sheets import demo
from sound.closed_box.sample_drivers import driver_of
from trimesh.creation import box as solid_box
from uncertainties import ufloat

from modelmath import plan
from modelmath.job.bench.varying import Varying, Warmth
from modelmath.job.building.as_built import ROOM, as_built, with_measured
from modelmath.job.entries.light_alone.resistor import previous
from modelmath.job.light.fed import shell_area_mm2
from modelmath.job.room_left.spots import governing_room
from modelmath.job.sound.leaking import joint_mm
from modelmath.job.sound.plain import beyond_travel, heard_as
from modelmath.job.space.skyline import skyline_of
from modelmath.job.space.sounding import sounding_of
from modelmath.job.virtual_bench.chance import Chance
from modelmath.job.why.budget import shares_of
from modelmath.lengths.uncertain import normal
from modelmath.quantities.known import Known
from modelmath.sound.closed_box.box import closed_box

EXAMPLES = {(row["example"], row["name"]): row for row in published_rows("uncertainty_examples.csv")}


def test_the_value_before_is_the_one_before_in_the_standards_series():
    """IEC 60063, series E12, from memory: 10 12 15 18 22 27 33 39 47 56 68 82."""
    series = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82, 100)
    for before, value in pairwise(series):
        assert previous(100.0 * value, "E12") == 100 * before


def test_a_shell_without_its_floor_has_the_surface_of_such_a_solid():
    """trimesh: each zone a box on the seat; what two share and the floor are no wall."""
    made = plan(lit())
    due, before = 0.0, None
    for zone in made.enclosure.cavity.zones:
        long, wide, high = float(zone.end_mm - zone.start_mm), float(zone.width_mm), float(zone.roof_mm)
        due += solid_box(extents=(long, wide, high)).area - long * wide - 2 * wide * high
        before = before or wide * high
    due += before + wide * high
    assert shell_area_mm2(made) == pytest.approx(due)


def test_a_walls_joint_is_as_long_as_the_outline_that_shapely_draws():
    found = whole()
    bay = found.chamber.bays[0]
    wall = box(0, float(found.chamber.floor_mm), float(bay.zone.width_mm), float(bay.zone.roof_mm))
    assert joint_mm(found.sound) == pytest.approx(wall.length)


def test_where_the_sound_fades_is_the_printed_cutoff():
    """closed_box_examples.csv, CB1: fs 500 Hz, Qts 0.7, as much Vas as volume: f3 of 558.4 Hz, told to two figures."""
    (row,) = (row for row in published_rows("closed_box_examples.csv") if row["id"] == "CB1")
    said = heard_as(closed_box(driver_of(500, 0.7, 2000), 2000))
    (told,) = re.findall(r"^Below about (\d+) Hz", said)
    assert float(told) == float(f"{float(row['f3_hz']):.2g}")


def test_twice_the_safe_power_is_3_db_too_much():
    """Tables of decibels: twice the power is 3.01 dB, 1.41 of the travel."""
    made = closed_box(driver_of(500, 0.7, 2000, xmax_mm=Known.of(0.5), impedance_ohm=8), 2000)
    said = beyond_travel(made, 2 * made.safe_power_w().best)
    assert "turn the decoder down by 3 dB" in said
    assert "would drive the cone 0.71 mm each way; its limit is 0.50 mm" in said


def test_free_depth_along_the_length_is_as_sure_as_the_worked_example():
    """ZERO2 of uncertainty_examples.csv: two readings with u of 0.1 mm each leave 0.141421; the offset cancels."""
    rule = {"name": "scale rule", "graduation": "1/4", "zero_offset": "1", "offset_uncertainty": "0.3 mm"}
    made = plan(job(with_chamber().model_dump(), rules=[{**rule, "reading_uncertainty": "0.1 mm"}]))
    stretches = skyline_of(made)
    assert stretches
    for each in stretches:
        assert agrees_with_print(each.free.value.std_dev, EXAMPLES["ZERO2", "length"]["std_uncertainty"])


@pytest.mark.parametrize("is_round", [False, True])
def test_what_a_cone_moves_and_its_way_round_are_those_of_the_figure_drawn(is_round):
    """Shapely: a square cone of 12 mm, and a round one of as many sides as to be round."""
    speaker = {**chamber_job().model_dump(exclude_unset=True)["speaker"], "length": "14 mm", "width": "14 mm"}
    made = plan(chamber_job(speaker={**speaker, "rim": "1 mm", "round": is_round}))
    drawn = Point(0, 0).buffer(6, quad_segs=4000) if is_round else box(0, 0, 12, 12)
    found = sounding_of(made)
    assert found.cone_mm2 == pytest.approx(drawn.area, rel=1e-5)
    assert found.perimeter_mm == pytest.approx(drawn.length, rel=1e-5)


def test_the_mean_of_few_readings_errs_as_students_t():
    """scipy.stats: Kolmogorov and Smirnov's test of what is drawn, at a seed whose p is not small."""
    drawn = Chance(20_000, 1).of_a_mean(0.3, 5, "roof")
    assert stats.kstest(drawn / (0.3 / 5**0.5), stats.t(4).cdf).pvalue > 0.05


def test_the_budget_of_the_guides_end_gauge():
    """JCGM 100:2008, table H.1, from memory: 25, 9.7, 2.9 and 16.6 nm make 32 nm."""
    parts = {"standard": 25.0, "comparison": 9.7, "expansions": 2.9, "temperatures": 16.6}
    length = sum((normal(0.0, u, name) for name, u in parts.items()), normal(50_000_838.0, 0.0, "gauge"))
    shares = {share.source: share for share in shares_of(length)}
    assert {name: share.u for name, share in shares.items()} == pytest.approx(parts)
    assert agrees_with_print(length.std_dev, "32")
    assert shares["standard"].percent == pytest.approx(100 * 25**2 / 32**2, abs=2)


def test_a_size_as_built_may_be_off_by_both_in_squares():
    """The uncertainties package: what the plan lets the room be off, and 0.4 mm of measuring it."""
    made = demo("railcar-n")
    (room,) = as_built(plan(with_measured(made.job, made, ROOM, "1 mm", "0.4 mm"))).measured
    both = ufloat(0, made.gap.stack.rss()) + ufloat(0, 0.4)
    assert room.may_be_off_mm == pytest.approx(both.std_dev)


def test_a_long_bridge_grows_by_what_the_textbook_prints():
    """OpenStax, University Physics volume 2, from memory: 1275 m of steel, 12e-6 per K, 55 K warmer: 0.84 m."""
    warmth = Warmth(55, 12e-6, 0.0)
    assert agrees_with_print(warmth.term(1275, 0, 0).tolerance_mm, "0.84")
    terms = Varying((), Fraction(0), warmth).all_terms(1275, 0, 0)
    assert [agrees_with_print(term.tolerance_mm, "0.84") for term in terms] == [True]


def test_the_room_left_is_as_uncertain_as_what_is_drawn():
    """numpy: two readings to the quarter foot, the part's offset, its cut and the seat; the space has no offset."""
    random = np.random.default_rng(4)
    drawn = random.uniform(-0.4375, 0.4375, (2, 400_000)).sum(axis=0) - random.normal(0, 0.1, 400_000)
    drawn += random.uniform(-0.1, 0.1, (2, 400_000)).sum(axis=0)
    assert governing_room(plan(job())).std_dev == pytest.approx(drawn.std(), rel=5e-3)
