"""Random shells in whole millimetres, small enough to be searched to the end."""

from __future__ import annotations

from fractions import Fraction
from random import Random

from enclosure.stepped.exhaustive import Case

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone


def profile_of(chance: Random, roof: int) -> Profile:
    """A section that turns at whole heights, and is as wide as any whole number only at whole heights."""
    height, half = chance.randint(0, roof - 3), chance.randint(2, 6)
    points = [(height, Fraction(half))]
    while height < roof:
        if chance.random() < 0.25:
            half = chance.randint(2, 6)  # a ledge
            points.append((height, Fraction(half)))
        height += 1
        half = max(half + chance.choice((-1, 0, 0, 0, 1)), 0 if height == roof else 1)
        points.append((height, Fraction(half)))
    return Profile(tuple(points))


def zones_of(chance: Random, most: int, length: int, profiled: bool) -> tuple[Zone, ...]:
    place, zones = chance.randint(-9, 9), []
    last = place + length
    for number in range(chance.randint(2, most)):
        if place == last:
            break
        end = min(place + chance.randint(2, 6), last)
        top, roof, width = chance.randint(0, 5), chance.randint(7, 10), chance.randint(4, 10)
        profile = profile_of(chance, roof) if profiled and chance.random() < 0.7 else None
        zones.append(Zone(f"zone {number}", place, end, top, roof, profile.widest_mm if profile else width, profile))
        place = end
    return tuple(zones)


def speaker_of(chance: Random) -> Speaker:
    length, width, flange = chance.randint(1, 5), 2 * chance.randint(1, 4), chance.choice((1, 1, 2))
    return Speaker(
        length, width, flange, flange + chance.randint(0, 3),
        place=chance.choice(("middle", "front", "rear", 3)),
        basket_width_mm=2 * chance.randint(1, width // 2) if chance.random() < 0.4 else None,
        terminals_mm=chance.choice((0, 0, 1)), travel_mm=chance.choice((0, 0, 1)),
    )  # fmt: skip


def random_case(seed: int, length: int = 16, most_steps: int = 2) -> Case:
    """With and without sections, speaker, obstacles, lamps, closed ends, a space to stay in, longer levels."""
    chance = Random(seed)
    zones = zones_of(chance, 6, chance.randint(max(4, length - 4), length), chance.random() < 0.4)
    start, end = int(zones[0].start_mm), int(zones[-1].end_mm)
    obstacles = []
    for number in range(chance.choice((0, 0, 1, 2, 3))):
        front = chance.randint(start - 2, end - 1)
        obstacles.append(
            Obstacle(f"obstacle {number}", front, front + chance.randint(1, 4), 1, -3, chance.randint(2, 8))
        )
    few = (0, 0, 0, 1)
    wall = chance.choice((1, 1, 1, 2))
    limits = Limits(
        chance.choice((0, 1)), chance.choice((0, 0, 1)), wall, chance.choice((0, 0, 1)), chance.choice(few),
        chance.choice(few), chance.choice(few),
    )  # fmt: skip
    cavity = Cavity(zones, chance.random() < 0.5, chance.random() < 0.5, tuple(obstacles))
    speaker = speaker_of(chance) if chance.random() < 0.55 else None
    space = (start + chance.randint(-1, 2), end - chance.randint(-1, 1)) if chance.random() < 0.2 else None
    if space is not None and space[1] <= space[0]:
        space = None
    shortest, riser = 2 * wall + chance.choice((0, 0, 0, 1, 2)), chance.choice((1, 1, 2, 2, 3))
    return Case(cavity, limits, speaker, most_steps, shortest, space, riser)


def sparse_case(seed: int, length: int = 22, most_steps: int = 2) -> Case:
    """Few edges far apart, narrow obstacles, long shortest levels: where steps stand follows from several lengths."""
    chance = Random(seed)
    zones, place = [], 0
    for number in range(chance.randint(1, 3)):
        end = place + chance.randint(2, max(3, length - place - 2))
        top, roof = chance.choice((0, 0, 1, 3)), chance.choice((4, 6, 6, 7))
        zones.append(Zone(f"zone {number}", place, end, top, roof, chance.choice((4, 6, 7, 9))))
        place = end
        if place >= length - 4:
            break
    obstacles = []
    for number in range(chance.choice((0, 1, 1, 2))):
        front = chance.randint(0, place - 1)
        obstacles.append(
            Obstacle(f"obstacle {number}", front, front + chance.randint(1, 3), 1, -3, chance.randint(1, 5))
        )
    wall = chance.choice((1, 1, 2))
    limits = Limits(0, chance.choice((0, 0, 1)), wall, chance.choice((0, 1, 2)))
    cavity = Cavity(tuple(zones), chance.random() < 0.6, chance.random() < 0.6, tuple(obstacles))
    speaker = None
    if chance.random() < 0.6:
        depth = chance.randint(1, 4)
        travel = chance.choice((0, 0, 0, 1))
        speaker = Speaker(chance.randint(2, 8), chance.randint(3, 7), 1, depth, travel_mm=travel)
    shortest, riser = 2 * wall + chance.choice((0, 1, 3, 5)), chance.choice((1, 1, 2, 3))
    return Case(cavity, limits, speaker, most_steps, shortest, None, riser)
