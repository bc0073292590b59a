"""What every stepped chamber is held against."""

from __future__ import annotations

from itertools import pairwise

import pytest
from enclosure.stepped.exhaustive import NEAR, Case, Exhaustive, area_over, width_between

from modelmath.enclosure.stepped import SteppedChamber, fit_stepped
from modelmath.errors import DoesNotFit


def fitted(case: Case) -> tuple[SteppedChamber, ...]:
    try:
        return fit_stepped(case.cavity, case.limits, case.speaker, case.steps, case.shortest, case.space, case.riser)
    except DoesNotFit:
        return ()


def up_to(chambers: tuple[SteppedChamber, ...], steps: int) -> float | None:
    """The largest volume with so many steps or fewer."""
    return max((float(each.volume_mm3) for each in chambers if each.steps <= steps), default=None)


def compared(case: Case) -> tuple[SteppedChamber, ...]:
    """Hold the fit against the search through every whole millimetre."""
    chambers = fitted(case)
    for steps, largest in enumerate(Exhaustive(case).largest()):
        found = up_to(chambers, steps)
        assert (found is None) == (largest is None), (steps, found, largest)
        assert found is None or found == pytest.approx(largest, abs=1e-5), steps
    return chambers


def checked(case: Case) -> tuple[SteppedChamber, ...]:
    """Ask of every chamber whether it keeps what it must, and work its volume out slice by slice."""
    chambers = fitted(case)
    for before, after in pairwise(chambers):
        assert before.steps < after.steps <= case.steps
        assert before.volume_mm3 < after.volume_mm3
    for chamber in chambers:
        _keeps(case, chamber)
        assert float(chamber.volume_mm3) == pytest.approx(volume_in_slices(case, chamber), abs=1e-5)
    return chambers


def _levels_at(chamber: SteppedChamber, place: float) -> float:
    return next(each.floor_mm for each in chamber.floors if each.start_mm < place < each.end_mm)


def volume_in_slices(case: Case, chamber: SteppedChamber) -> float:
    """The sum of section x length over slices of a quarter of a millimetre, the risers taken out of each."""
    total, place = 0.0, float(chamber.inner_start_mm) + 0.125
    search = Exhaustive(case)
    while place < chamber.inner_end_mm:
        zone = search.zones[int(place - case.cavity.start_mm)]
        area = area_over(zone, float(_levels_at(chamber, place)))
        for riser in chamber.risers:
            if riser.start_mm < place < riser.end_mm:
                area -= area_over(zone, float(riser.low_mm)) - area_over(zone, float(riser.high_mm))
        total += area / 4
        place += 0.25
    return total


def _keeps(case: Case, chamber: SteppedChamber) -> None:
    search, front, wall = Exhaustive(case), case.cavity.start_mm, case.limits.wall_mm
    first, last = chamber.start_mm - front, chamber.end_mm - front
    assert search.ends[0] <= first < last <= search.ends[1]
    inner = search.inner((first, last))
    assert (chamber.inner_start_mm - front, chamber.inner_end_mm - front) == inner
    assert [each.end_mm for each in chamber.floors[:-1]] == [each.start_mm for each in chamber.floors[1:]]
    assert (chamber.floors[0].start_mm, chamber.floors[-1].end_mm) == (chamber.start_mm, chamber.end_mm)
    for floor in chamber.floors:
        assert chamber.steps == 0 or floor.length_mm >= case.shortest
        for at in _under(floor.start_mm - front, floor.end_mm - front):
            assert search.lowest[at] <= floor.floor_mm < search.zones[at].roof_mm
    for riser, (before, after) in zip(chamber.risers, pairwise(chamber.floors), strict=True):
        low, high = sorted((before.floor_mm, after.floor_mm))
        assert (riser.low_mm, riser.high_mm) == (low, high)
        assert (riser.end_mm if before.floor_mm == low else riser.start_mm) == before.end_mm
        assert riser.end_mm - riser.start_mm == wall
        assert riser.height_mm >= case.riser
        for at in _under(riser.start_mm - front, riser.end_mm - front):
            assert search.zones[at].roof_mm > high
    if case.speaker is not None:
        _seat_keeps(case, chamber, search)


def _under(start, end) -> range:
    """The millimetres that a stretch lies over, be it in part."""
    return range(int(start // 1), int(-(-end // 1)))


def _seat_keeps(case: Case, chamber: SteppedChamber, search: Exhaustive) -> None:
    speaker, limits, front = case.speaker, case.limits, case.cavity.start_mm
    assert chamber.seat_mm is not None
    floor = chamber.floors[chamber.seat_on]
    start, end = chamber.seat_mm
    assert end - start == speaker.length_mm
    walls = search.walls(chamber.start_mm - front, chamber.end_mm - front)
    at_wall = [(limits.wall_mm + limits.post_mm) * thick for thick in walls]
    assert start - floor.start_mm >= (at_wall[0] if chamber.seat_on == 0 else limits.wall_mm)
    assert floor.end_mm - end >= (at_wall[1] if chamber.seat_on == chamber.steps else limits.wall_mm)
    level = int(floor.floor_mm)
    assert level == floor.floor_mm
    for at in _under(start - front, end - front):
        zone = search.zones[at]
        assert search.lowest[at] + speaker.travel_mm <= level
        assert zone.roof_mm - level >= speaker.behind_mm + limits.over_speaker_mm
        assert width_between(zone, level, level + speaker.flange_mm) >= speaker.width_mm - 3 * NEAR
        assert width_between(zone, level, level + speaker.behind_mm) >= speaker.basket_mm[1] - 3 * NEAR
