"""The fit beside a search on a grid of 0.1 mm, by numpy, in one run; and how its time grows with the zones.

Shells are made up: a tall narrow loco's chassis over a stepped roof, 3 mm a zone.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import islice
from random import Random
from statistics import median
from time import process_time

import numpy as np
import pytest
from benchmarks.beside import beside, grown

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.fit import fits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile

GRID = 10  # steps to the millimetre
LIMIT_S = 0.020
LEAST_TIMES = 100
MOST_SLOPE = 2.2
SPEAKER = Speaker(15, 11, 1, 5, basket_width_mm=9, travel_mm=1)
DECODER = Box("decoder", 18, 9, 4, air_mm=1, turns=True)


def shell(count, profiled=False, narrow=False, seed=5):
    """Return a cavity with so many zones, and three obstacles for every five of them; all in tenths of a millimetre."""
    chance, zones, obstacles = Random(seed), [], []
    for at in range(count):
        top, roof, width = chance.randint(30, 120), chance.randint(150, 220), chance.randint(130, 180)
        profile = Profile(
            (
                (0, Fraction(width, 20)),
                (Fraction(roof, 10) - 4, Fraction(width, 20)),
                (Fraction(roof, 10), Fraction(width, 20) - 2),
            )
        )
        part = (Fraction(3 * at), Fraction(3 * at + 3), Fraction(top, 10), Fraction(roof, 10), Fraction(width, 10))
        zones.append(Zone(f"zone {at}", *part, profile if profiled else None))
    for at in range(count * 3 // 5):
        start = Fraction(chance.randint(0, 30 * count), 10)
        end, half = start + Fraction(chance.randint(10, 90), 10), Fraction(chance.randint(15, 40) if narrow else 90, 10)
        obstacles.append(Obstacle(f"truck {at}", start, end, half, -5, Fraction(chance.randint(30, 125), 10)))
    return Cavity(tuple(zones), False, True, tuple(obstacles))


def shells(count, how, cut, wanted=5):
    """Return so many shells that hold speaker and decoder."""
    made = (shell(count, seed=seed, **how) for seed in range(100))
    return list(islice((each for each in made if fits(each, limits(cut), SPEAKER, DECODER)), wanted))


def limits(cut_round=False):
    """Return what is kept: a lamp room at either end, walls, posts."""
    return Limits(Fraction(1, 2), Fraction(1, 2), 1, 1, Fraction(1, 2), 5, 4, cut_round=cut_round)


def seconds(work):
    start = process_time()
    found = work()
    return process_time() - start, found


class Search:
    """Every start, end and floor in steps of a tenth, the ends of all starts and floors at once; in whole tenths."""

    def __init__(self, cavity, limits, speaker, decoder):
        self.limits, self.speaker, self.decoder, tenths = limits, speaker, decoder, self.tenths
        flat = [zone for zone in cavity.zones for _ in range(tenths(zone.end_mm - zone.start_mm))]
        self.count, self.closed = len(flat), (cavity.front_closed, cavity.rear_closed)
        tops, self.roof = (np.array([tenths(getattr(z, f"{w}_mm")) for z in flat]) for w in ("top", "roof"))
        self.width = np.array([tenths(zone.width_mm) for zone in flat])
        reach = tenths(limits.end_clearance_mm)
        grown = np.pad(tops, reach, mode="edge")
        self.low = np.lib.stride_tricks.sliding_window_view(grown, 2 * reach + 1).max(axis=1)
        self.low = self.low + tenths(limits.clearance_mm)
        for each in cavity.obstacles:
            over = slice(max(tenths(each.start_mm), 0), max(tenths(each.end_mm), 0))
            self.low[over] = np.maximum(self.low[over], tenths(each.top_mm))

    @staticmethod
    def tenths(length):
        return int(length * GRID)

    def windows(self, values, along):
        return np.lib.stride_tricks.sliding_window_view(values, along)

    def pocket_ends(self, low, high):
        """First end of a pocket from each place on, turned any way, standing between two heights."""
        box, best = self.decoder, np.full(self.count + 1, 10**6)
        for way in box.ways:
            along, across, up = (self.tenths(each) for each in (way.along_mm, way.across_mm, way.up_mm))
            if along > self.count:
                continue
            room = self.windows(high, along).min(axis=1) - self.windows(low, along).max(axis=1) >= up
            room &= self.windows(self.width, along).min(axis=1) >= across
            at = np.flatnonzero(room)
            best[at] = np.minimum(best[at], at + along)
        return np.minimum.accumulate(best[::-1])[::-1]

    def best(self):
        """Return the largest volume. [mm3]"""
        limits, speaker, tenths = self.limits, self.speaker, self.tenths
        wall, post = tenths(limits.wall_mm), tenths(limits.post_mm)
        first, last = tenths(limits.front_room_mm), self.count - tenths(limits.rear_room_mm)
        lamps = np.arange(self.count)
        between = (lamps >= first) & (lamps < last)
        low = np.where(between, self.low, 10**5)
        early = self.pocket_ends(low, self.roof)[0]
        late = self.count - self.mirrored(low)
        best = 0
        length, deep = tenths(speaker.length_mm), tenths(speaker.depth_mm + limits.over_speaker_mm)
        for floor in range(self.low.min(), self.roof.max()):
            inside = (low <= floor) & (floor < self.roof)
            if not inside.any():
                continue
            holds = inside & (self.roof - floor >= deep) & (self.width >= tenths(speaker.width_mm))
            holds &= low + tenths(speaker.travel_mm) <= floor
            run = self.windows(np.concatenate([holds, np.zeros(length, bool)]), length).all(axis=1)
            seats = np.where(run, np.arange(len(run)) + length, 10**6)
            seats = np.minimum.accumulate(seats[::-1])[::-1]
            under = self.pocket_ends(low, np.full(self.count, floor))
            net = np.concatenate([[0], np.cumsum(self.width * np.maximum(self.roof - floor, 0))])
            outside = np.concatenate([[0], np.cumsum(~inside)])
            for start in np.flatnonzero(inside):
                stop = np.searchsorted(outside, outside[start], side="right")
                ends = np.arange(start + 1, stop)
                front = wall * (start != 0 or not self.closed[0])
                rear = wall * ((ends != self.count) | (not self.closed[1]))
                inner = (start + front, ends - rear)
                posts = (inner[0] + post * bool(front), inner[1] - post * (rear > 0))
                good = inner[0] < inner[1]
                seat = seats[min(posts[0], self.count)]
                seated = seat <= posts[1]
                free = (early <= start) | (late >= ends)
                pocket = under[start]
                free |= (
                    (pocket < 10**6) & (pocket <= ends) & (seats[min(max(pocket, posts[0]), self.count)] <= posts[1])
                )
                free |= seated & (under[min(seat, self.count)] <= ends)
                good &= seated & free
                if good.any():
                    volumes = net[np.maximum(inner[1], 0)] - net[min(inner[0], self.count)]
                    best = max(best, int(volumes[good].max()))
        return best / GRID**3

    def mirrored(self, low):
        kept = self.roof, self.width
        self.roof, self.width = self.roof[::-1], self.width[::-1]
        found = self.pocket_ends(low[::-1], self.roof)[0]
        self.roof, self.width = kept
        return found


@pytest.mark.benchmark(timer=process_time)
def test_the_fit_beside_a_search_on_a_grid(benchmark):
    given = (shell(50), limits(), SPEAKER, DECODER)
    grid_s, best = seconds(Search(*given).best)
    found = benchmark.pedantic(fit_enclosure, args=given, rounds=20, warmup_rounds=3)
    took = benchmark.stats.stats.median
    job = "the largest chamber, 50 zones and 30 obstacles"
    beside(benchmark, job, took, "search on a grid of 0.1 mm, by numpy", grid_s, least=LEAST_TIMES, readme=True)
    print(
        f"\n50 zones, 30 obstacles: {1000 * took:.1f} ms, grid of 0.1 mm {grid_s:.1f} s, {grid_s / took:.0f} times;"
        f" {float(found.chamber.volume_mm3):.1f} mm3, grid {best:.1f} mm3, {found.looked_at} looked at"
    )
    assert best <= float(found.chamber.volume_mm3) + 1e-9
    assert best >= 0.99 * float(found.chamber.volume_mm3)
    assert took <= LIMIT_S
    assert grid_s / took >= LEAST_TIMES


VARIANTS = {
    "plain": ({}, False),
    "cut round": ({"narrow": True}, True),
    "cross-sections": ({"profiled": True}, False),
    "cut round, cross-sections": ({"narrow": True, "profiled": True}, True),
}


@pytest.mark.parametrize("name", VARIANTS)
def test_its_time_grows_no_faster_than_the_square_of_the_zones(benchmark, name):
    how, cut = VARIANTS[name]
    sizes, times = (25, 50, 100), []
    for count in sizes:
        made = shells(count, how, cut)
        assert len(made) == 5
        rounds = [
            sum(seconds(lambda each=each: fit_enclosure(each, limits(cut), SPEAKER, DECODER))[0] for each in made)
            for _ in range(3)
        ]
        times.append(median(rounds) / len(made))
    benchmark.pedantic(fit_enclosure, args=(shells(50, how, cut, 1)[0], limits(cut), SPEAKER, DECODER), rounds=5)
    slope = grown(
        benchmark, f"the largest chamber, {name}", "zones", dict(zip(sizes, times, strict=True)), MOST_SLOPE,
        readme=name == "plain",
    )  # fmt: skip
    told = ", ".join(f"{count}: {1000 * took:.1f} ms" for count, took in zip(sizes, times, strict=True))
    print(f"\n{name}, zones {told}; slope {slope:.2f}")
    assert slope <= MOST_SLOPE
