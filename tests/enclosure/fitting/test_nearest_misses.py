"""What a miss shows: smaller by so much the speaker fits; with no decoder, and an upright shell, by no less.

Checked by fitting speakers that are smaller: in the sizes that are told, by what is told of each; and in all of them,
by less than the most that is told.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from enclosure.fitting.random_cases import parted_case, random_case
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.fit import fits
from modelmath.enclosure.fitting.box_misses import miss_of_box
from modelmath.errors import DoesNotFit

FLANGE = Fraction(1, 1000)


@st.composite
def jobs(draw, faces, decoder, least_wall=0):
    place, zones = draw(st.integers(-20, 20)), []
    for number in range(draw(st.integers(1, 4))):
        end = place + draw(st.integers(5, 14))
        top, roof, width = draw(st.integers(0, 6)), draw(st.integers(8, 14)), draw(st.integers(7, 12))
        zones.append(Zone(f"zone {number}", place, end, top, roof, width))
        place = end
    limits = Limits(*(draw(st.integers(least_wall if number == 2 else 0, 2)) for number in range(7)))
    speaker = Speaker(
        draw(st.integers(9, 26)), draw(st.integers(7, 16)), FLANGE, draw(st.integers(6, 14)), faces=draw(faces)
    )
    box = Box("decoder", draw(st.integers(3, 10)), draw(st.integers(3, 8)), draw(st.integers(1, 4)))
    cavity = Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans()))
    return cavity, limits, speaker, box if decoder else None


def short_by(job):
    """Return by how much the speaker misses; None where it doesn't, or would be nothing at all without that."""
    try:
        fit_enclosure(*job)
    except DoesNotFit as miss:
        speaker, short = job[2], Fraction(miss.short_mm)
        left = min(speaker.length_mm, speaker.width_mm, speaker.depth_mm) - FLANGE
        return short if miss.what == "The speaker" and 0 < short < left else None
    return None


def fits_smaller(job, by):
    cavity, limits, speaker, decoder = job
    sizes = {f"{what}_mm": getattr(speaker, f"{what}_mm") - by for what in ("length", "width", "depth")}
    return fits(cavity, limits, replace(speaker, **sizes), decoder)


@settings(max_examples=80, deadline=None)
@given(jobs(st.just("down"), True))
def test_beside_a_decoder_a_speaker_smaller_by_the_miss_fits(job):
    short = short_by(job)
    assume(short is not None)
    assert fits_smaller(job, short)


FACING = st.sampled_from(["down", "up", "front", "rear"])


@settings(max_examples=80, deadline=None)
@given(jobs(FACING, True, 1))
def test_however_it_faces_beside_a_decoder_the_amount_is_enough(job):
    short = short_by(job)
    assume(short is not None)
    assert fits_smaller(job, short)


@settings(max_examples=120, deadline=None)
@given(jobs(FACING, False), st.fractions(0, 1, max_denominator=100))
def test_without_a_decoder_none_smaller_by_less_fits(job, share):
    short = short_by(job)
    assume(short is not None)
    less = short * share
    assert less == short or not fits_smaller(job, less)


SIZES = {
    "long": "length",
    "wide": "width",
    "deep": "depth",
    "shorter": "length",
    "narrower": "width",
    "shallower": "depth",
}


def told_of(miss):
    """Return what a message says is lacking of which of the speaker's sizes."""
    told = {SIZES[re.search(r"Try a (\w+) speaker", miss.remedy).group(1)]: Fraction(miss.short_mm)}
    for amount, word in re.findall(r"([\d.]+) mm too (long|wide|deep)", miss.cause):
        told[SIZES[word]] = Fraction(amount)
    return told


def smaller_by(speaker, told):
    """Return a speaker that is smaller as told; None where nothing would be left of it."""
    sizes = {f"{what}_mm": getattr(speaker, f"{what}_mm") - by for what, by in told.items()}
    basket = speaker.basket_width_mm
    if min(sizes.values()) <= 0 or sizes.get("depth_mm", 1) < speaker.flange_mm:
        return None
    if basket is not None:
        sizes["basket_width_mm"] = min(basket, sizes.get("width_mm", basket))
    return replace(speaker, **sizes)


def larger(case, chance):
    """A speaker too large for most cavities, with a basket, terminals and a cone that moves far for some."""
    length, width = chance.randint(3, 14), chance.randint(3, 14)
    return Speaker(
        length,
        width,
        FLANGE,
        chance.randint(2, 9),
        faces=chance.choice(("down", "up", "front", "rear")),
        terminals_mm=chance.choice((0, 1)),
        travel_mm=chance.choice((0, 0, 1, 2)),
        basket_width_mm=chance.choice((None, chance.randint(1, width))),
    )


@pytest.mark.parametrize("make", [random_case, parted_case])
def test_smaller_by_what_is_told_of_each_size_it_fits(make):
    """Sections, boxes in the floor, cones, baskets, decoders: however it faces, what is told is enough."""
    tried = set()
    for seed in range(120):
        case, chance = make(seed), Random(seed)
        speaker, decoder = larger(case, chance), case.decoder if chance.random() < 0.6 else None
        try:
            fit_enclosure(case.cavity, case.limits, speaker, decoder)
            continue
        except DoesNotFit as failed:
            miss = failed
        if miss.what != "The speaker" or not re.search(r"Try a \w+ speaker(,| or|\.)", miss.remedy):
            continue
        less = smaller_by(speaker, told_of(miss))
        if less is not None:
            assert fits(case.cavity, case.limits, less, decoder), (seed, str(miss))
            tried.add((speaker.faces, decoder is not None, case.limits.cut_round))
    assert len(tried) >= 8


def test_a_third_of_a_millimetre_is_told_as_enough():
    """By hand: 40 long and 9 deep, the speaker 9 and a third deep: 0.33 mm less would not do, 0.34 mm less does."""
    cavity, speaker = Cavity((Zone("hood", 0, 40, 5, 15, 12),)), Speaker(20, 10, 1, Fraction(28, 3))
    with pytest.raises(DoesNotFit) as failed:
        fit_enclosure(cavity, Limits(1), speaker)
    assert failed.value.short_mm == 0.34
    assert "0.34 mm too little" in str(failed.value)


def test_beside_a_decoder_less_may_do():
    """By hand: 40 long less 14 and a wall of 5 leaves 21, 4 too little; below a floor at 4 only 1 mm of depth lacks."""
    cavity, limits = Cavity((Zone("hood", 0, 40, 0, 20, 12),)), Limits(0, wall_mm=5)
    speaker, decoder = Speaker(25, 10, 1, 17), Box("decoder", 14, 10, 4)
    message = (
        "The speaker does not fit: 4.00 mm too little, because over hood 21.00 mm of the length is left for the "
        "speaker's 25.00 mm, beside one wall of 5.00 mm. Try a shorter speaker, thinner walls or posts, or less "
        "clearance."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fit_enclosure(cavity, limits, speaker, decoder)
    assert fits(cavity, limits, replace(speaker, depth_mm=16), decoder)
    assert not fits(cavity, limits, replace(speaker, depth_mm=Fraction("16.01")), decoder)


@settings(max_examples=100, deadline=None)
@given(jobs(st.just("down"), True), st.booleans())
def test_a_box_s_nearest_place_lacks_what_plain_counting_of_all_runs_finds(job, turns):
    cavity, limits, _, box = job
    bays, box = cavity.bays(limits.clearance_mm, limits.end_clearance_mm), replace(box, turns=turns)
    lacking = []
    for first in range(len(bays)):
        for last in range(first, len(bays)):
            run = bays[first : last + 1]
            high = min(bay.zone.roof_mm for bay in run) - max(bay.floor_mm for bay in run)
            wide, long = min(bay.zone.width_mm for bay in run), run[-1].end_mm - run[0].start_mm
            lacking += [max(way.along_mm - long, way.across_mm - wide, way.up_mm - high, 0) for way in box.ways]
    assert max(miss_of_box(bays, box).short_mm, 0) == min(lacking)
