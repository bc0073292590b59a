"""Random cases in whole millimetres for the search on a grid, made by a seeded generator."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

from enclosure.fitting.brute_force import Case

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile

HALF = Fraction(1, 2)


def profile_of(chance: Random, roof: int) -> Profile:
    """A section whose width is whole at whole heights, or by steps of a half: it never passes a whole one between."""
    height, width = chance.randint(0, roof - 3), Fraction(chance.randint(4, 13))
    points = [(height, width / 2)]
    while height < roof:
        if chance.random() < 0.2:
            width = Fraction(chance.randint(3, 13))  # a ledge
            points.append((height, width / 2))
        end = chance.randint(height + 1, roof)
        whole = width.denominator == 1
        slope = chance.choice((0, 0, -HALF, HALF, *((-1, 1) if whole else ())))
        if width + slope * (end - height) < (0 if end == roof else HALF):
            slope = 0
        width += slope * (end - height)
        height = end
        points.append((height, width / 2))
    return Profile(tuple(points))


def zones_of(chance: Random, most: int, profiled: bool) -> tuple[Zone, ...]:
    place, zones = chance.randint(-20, 20), []
    for number in range(chance.randint(1, most)):
        end = place + chance.randint(1, 9)
        top, roof, width = chance.randint(0, 8), chance.randint(7, 16), chance.randint(5, 13)
        profile = profile_of(chance, roof) if profiled and chance.random() < 0.7 else None
        wide = width if profile is None else profile.widest_mm
        zones.append(Zone(f"zone {number}", place, end, top, roof, wide, profile))
        place = end
    return tuple(zones)


def obstacle_of(chance: Random, number: int, zones: tuple[Zone, ...]) -> Obstacle:
    """Wide or narrow, in the middle or off it, within the shell or sticking out of it at an end."""
    start = chance.randint(int(zones[0].start_mm) - 4, int(zones[-1].end_mm))
    half = Fraction(chance.choice((1, 2, 2, 3, 4, 6, 9, 14)), 2)
    centre = Fraction(chance.choice((0, 0, 0, -3, -2, -1, 1, 2, 5)), 2)
    top, length = chance.randint(2, 13), chance.randint(1, 9)
    return Obstacle(
        f"obstacle {number}", start, start + length, half, -6, top, moves=chance.random() < 0.5, centre_mm=centre
    )


def speaker_of(chance: Random, place: int) -> Speaker:
    length, width, flange = chance.randint(2, 9), chance.randint(3, 8), chance.choice((1, 1, 2))
    basket = chance.random() < 0.4
    return Speaker(
        length,
        width,
        flange,
        flange + chance.randint(0, 3),
        faces=chance.choice(("down", "down", "up", "front", "rear")),
        place=chance.choice(("middle", "front", "rear", place)),
        basket_length_mm=chance.randint(1, length) if basket else None,
        basket_width_mm=chance.randint(1, width) if basket else None,
        terminals_mm=chance.choice((0, 0, 1)),
        travel_mm=chance.choice((0, 0, 1, 2)),
    )


def decoder_of(chance: Random) -> Box:
    sizes = (chance.randint(1, 8), chance.randint(2, 6), chance.randint(1, 4))
    air, turns, inside = chance.choice((0, 0, 1)), chance.random() < 0.5, chance.random() < 0.4
    return Box("decoder", *sizes, air, turns, inside)


def random_case(seed: int, most_zones: int = 6) -> Case:
    """Every feature alone and together with others; one case in six or so has none of them."""
    chance = Random(seed)
    zones = zones_of(chance, most_zones, chance.random() < 0.35)
    speaker = speaker_of(chance, chance.randint(-25, 45)) if chance.random() < 0.65 else None
    decoder = decoder_of(chance) if chance.random() < 0.5 else None
    count = chance.choice((0, 0, 1, 2, 3, 4))
    obstacles = tuple(obstacle_of(chance, number, zones) for number in range(count))
    narrowest = min(zone.width_mm for zone in zones)
    few, wall = (0, 0, 0, 1, 2), chance.choice((0, 1, 1, 1, 2))
    path = chance.choice((0, 0, 0, 0, 1, 2))
    limits = Limits(
        chance.choice((0, 1, 1, 2)), chance.choice((0, 0, 1, 2, 3)), wall, chance.choice(few), chance.choice(few),
        chance.choice(few), chance.choice(few), path if path + wall < narrowest else 0, chance.random() < 0.5,
    )  # fmt: skip
    closed = chance.random() < 0.5, chance.random() < 0.5
    limits = replace(limits, sound_room_mm=chance.choice((1, 2, 2, 3)))
    return Case(Cavity(zones, *closed, obstacles), limits, speaker, decoder)


def parted_case(seed: int) -> Case:
    """Tall boxes as wide as a plain shell, two that share its width, long ones along it: some part it in two."""
    chance = Random(seed)
    width, roof, place, zones = 2 * chance.randint(4, 8), chance.randint(9, 12), 0, []
    for number in range(chance.randint(1, 3)):
        end = place + chance.randint(3, 9)
        top, higher = chance.randint(0, 5), chance.choice((0, 0, 0, 1))
        zones.append(Zone(f"zone {number}", place, end, top, roof + higher, width))
        place = end
    path = chance.choice((0, 0, 0, 1))
    limits = Limits(1, 0, 1, chance.choice((0, 0, 1)), 0, 0, 0, path, True)
    # Places across count from the shell's middle; the chamber's own lies half of what is taken off to the left.
    less = path + limits.wall_mm if path else 0
    left, right = -Fraction(width, 2), Fraction(width, 2) - less
    obstacles = []
    for number in range(chance.randint(1, 2)):
        start, meet = chance.randint(-1, place - 1), left + chance.choice((0, 3, 4, 5))
        for low, high in ((left, meet), (meet, right)):
            end = start + chance.randint(1, 4)
            if high - low > 2 * limits.wall_mm:
                half, top = (high - low) / 2 - limits.wall_mm, roof - chance.choice((0, 1, 1, 1, 2))
                sizes = (start, end, half, -6, top)
                obstacles.append(Obstacle(f"post {number}", *sizes, moves=False, centre_mm=(low + high) / 2))
            # The next one's box overlaps this one's, or begins where it ends, or leaves a gap of 1 mm.
            start = end + chance.choice((-1, 1, 2, 2, 3))
    for number in range(chance.choice((0, 0, 1, 2))):
        start, end = chance.choice((-1, 0, 3, 5)), place + chance.choice((-4, -2, 0, 1))
        if start < end:
            sizes = (start, end, Fraction(chance.choice((1, 2)), 2), -6, roof - chance.choice((0, 1, 1, 2)))
            aside = Fraction(width, 2) - Fraction(chance.randint(4, 8), 2)
            obstacles.append(Obstacle(f"rail {number}", *sizes, centre_mm=chance.choice((-1, 1)) * aside))
    speaker = speaker_of(chance, chance.randint(0, 20)) if chance.random() < 0.5 else None
    speaker = speaker and replace(speaker, width_mm=min(speaker.width_mm, 4), basket_width_mm=None)
    decoder = decoder_of(chance) if chance.random() < 0.3 else None
    front = chance.random() < 0.5 and not (speaker is not None and speaker.faces == "front")
    rear = chance.random() < 0.5 and not (speaker is not None and speaker.faces == "rear")
    return Case(Cavity(tuple(zones), front, rear, tuple(obstacles)), limits, speaker, decoder)
