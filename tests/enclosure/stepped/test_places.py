"""Steps that stand where no edge is: each kind of place, worked out by hand, and held against the search."""

from __future__ import annotations

import pytest
from enclosure.stepped.checks import compared
from enclosure.stepped.exhaustive import Case

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.stepped.ground import ground_in
from modelmath.enclosure.stepped.places import step_places

WALL = Limits(0, wall_mm=1)


def steps_of(case: Case) -> list[int]:
    return [each.end_mm for each in compared(case)[-1].floors[:-1]]


def test_a_riser_ends_where_the_shell_widens():
    """The level over the obstacle and its two risers, 8 mm in all, lie where the shell is narrow."""
    zones = (Zone("a", 0, 8, 0, 10, 10), Zone("b", 8, 16, 0, 10, 4), Zone("c", 16, 26, 0, 10, 10))
    cavity = Cavity(zones, obstacles=(Obstacle("gear", 11, 12, 9, 0, 6),))
    assert steps_of(Case(cavity, WALL, None, 2, 6)) == [9, 15]


def test_two_shortest_levels_in_front_of_the_end():
    zones = (Zone("a", 0, 20, 0, 10, 10), Zone("b", 20, 26, 3, 10, 10), Zone("c", 26, 30, 6, 10, 10))
    assert steps_of(Case(Cavity(zones), WALL, None, 2, 6)) == [18, 24]


def low_and_narrow(*tops: tuple[int, int, int]) -> tuple[Zone, ...]:
    """A shell 4 mm wide up to 3 mm and 10 mm above."""
    section = Profile(((0, 2), (3, 2), (3, 5), (10, 5)))
    return tuple(Zone(f"from {start}", start, end, top, 10, 10, section) for start, end, top in tops)


SPEAKER = Speaker(5, 8, 1, 5)  # too wide below 3 mm, too deep above 5 mm


def test_the_speaker_between_two_steps_up():
    zones = low_and_narrow((0, 18, 0), (18, 20, 3), (20, 30, 6))
    limits = Limits(0, wall_mm=1, post_mm=1)
    assert steps_of(Case(Cavity(zones), limits, SPEAKER, 2, 2)) == [13, 20]  # 20 - 1 - 5 - 1


def test_the_speaker_between_a_closed_end_and_a_step_down():
    zones = low_and_narrow((0, 20, 0))
    assert steps_of(Case(Cavity(zones), WALL, SPEAKER, 1, 2)) in ([6], [14])  # 0 + 5 + 1, or from the other end


def test_the_speaker_between_wall_post_and_step():
    limits = Limits(0, wall_mm=1, post_mm=2)
    zones = (*low_and_narrow((0, 16, 0)), Zone("low", 16, 26, 0, 4, 10))
    cavity = Cavity(zones, front_closed=False)
    assert steps_of(Case(cavity, limits, SPEAKER, 1, 2)) == [9]  # 0 + 1 + 2 + 5 + 1


def test_no_riser_reaches_up_to_a_lower_roof():
    """The step up to 6 mm stands off the roof at 5 mm by its riser."""
    zones = (Zone("a", 0, 10, 0, 5, 10), Zone("b", 10, 14, 0, 12, 10), Zone("c", 14, 24, 6, 12, 10))
    assert steps_of(Case(Cavity(zones), WALL, None, 1, 2)) == [14]
    narrow = (Zone("a", 0, 14, 0, 5, 10), Zone("c", 14, 24, 6, 12, 10))
    assert len(compared(Case(Cavity(narrow), WALL, None, 2, 2))) == 1


@pytest.mark.parametrize("steps", [1, 2, 3])
@pytest.mark.parametrize("speaker", [None, Speaker(10, 8, 1, 4)])
def test_every_sum_of_an_edge_an_anchor_and_links_is_there(steps, speaker):
    """Walls of 1 mm, posts of 2, levels 7 mm long at least: as the argument says, summed one by one."""
    zones = (Zone("a", 0, 100, 0, 10, 10), Zone("b", 100, 240, 3, 10, 10))
    limits = Limits(0, wall_mm=1, post_mm=2)
    anchors = [0, 1, 7] if speaker is None else [0, 1, 7, 10 + 1, 10 + 1 + 1 + 2]
    links = [[7] * count for count in range(steps)]
    if speaker is not None:
        links += [[7] * count + [10 + 2] for count in range(steps - 1)]
    wanted = {
        edge + one * anchor + other * sum(link)
        for edge in (0, 100, 240)
        for anchor in anchors
        for link in links
        for one in (1, -1)
        for other in (1, -1)
    }
    found = step_places(ground_in(Cavity(zones), limits, speaker, 7, None), steps)
    assert found == tuple(sorted(place for place in wanted if 0 <= place <= 240))
