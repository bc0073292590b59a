"""All sizes three times as large: so is every part, every place, every opening and every number in what is said.

A length that is added where it should be multiplied, or a bare number taken for a length, shows here whatever the sizes
of the other tests happen to be.
"""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction

import pytest
from enclosure.making.test_turned_round import CASES
from enclosure.test_extra_parts import HALF, HOOD, LIMITS, LOW_NOSE, NOSE_LIMITS, ROUND, SPEAKER, TOWER

from modelmath.clearance import Marks
from modelmath.enclosure import Cavity, Obstacle, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.assemble import left_out_of, parts_of, places_of, roof_opening_of
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.net import net_volume
from modelmath.lengths.rules import Rule

FINE = Marks(Rule(unit="mm", graduation="0.01"), "0.01")
TIMES = 3

MORE = {
    "strands at both ends": {
        "zones": (*LOW_NOSE, Zone("tail", 120, 180, 10, 15, 20)),
        "limits": replace(NOSE_LIMITS, rear_room_mm=7),
        "extras": Extras("pieces", 17, Fraction(5, 4), light_barrier=(True, True), barrier_strand_mm=(None, 1)),
    },
    "a barrier beside a wire path": {
        "zones": LOW_NOSE, "limits": replace(NOSE_LIMITS, wire_path_mm=2), "speaker": None,
        "extras": Extras(light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None)),
    },
    "a strand support over a decoder and a tower": {
        "zones": LOW_NOSE, "limits": NOSE_LIMITS, "extras": Extras("pieces", 11, HALF),
        "obstacles": [Obstacle("tower", 45, 47, 3, -5, 15, moves=False, centre_mm=-6)],
    },
    "boxes side by side": {
        "zones": [HOOD], "speaker": None, "limits": ROUND,
        "obstacles": [
            replace(TOWER, centre_mm=-4, half_width_mm=2),
            replace(TOWER, name="post", start_mm=24, centre_mm=5, top_mm=9),
        ],
    },
    "a thick wall and a thin post": {
        "zones": [HOOD], "limits": replace(LIMITS, wall_mm=Fraction(3, 2), post_mm=Fraction(5, 4)),
        "speaker": replace(SPEAKER, flange_mm=Fraction(3, 2), place=25),
    },
    "a speaker without a roof over one end": {
        "zones": (Zone("cab", 0, 25, 2, 17, 20), Zone("hood", 25, 60, 2, 15, 20)),
        "speaker": replace(SPEAKER, place=20), "limits": replace(LIMITS, over_speaker_mm=2),
    },
    "one piece over a box": {
        "zones": [HOOD], "limits": ROUND, "extras": Extras(floor="one piece"),
        "speaker": replace(SPEAKER, place="rear"), "obstacles": [replace(TOWER, start_mm=8, end_mm=14)],
    },
    "facing the rear in a section": {
        "zones": [replace(HOOD, profile=Profile(((0, 10), (9, 10), (15, 7))))],
        "speaker": Speaker(9, 11, 2, 6, faces="rear", basket_length_mm=7, basket_width_mm=6),
    },
    "a wire path in a section": {  # 6 up and 2.5 in are 6.5 along
        "zones": [replace(HOOD, profile=Profile(((0, 10), (9, 10), (15, Fraction(15, 2)))))],
        "speaker": None, "limits": replace(LIMITS, wire_path_mm=3),
    },
}  # fmt: skip


def times(thing, by=TIMES):
    """A record with all its lengths so many times as large."""
    if isinstance(thing, Profile):
        return Profile(times(thing.points, by))
    if isinstance(thing, (tuple, list)):
        return tuple(times(each, by) for each in thing)
    if isinstance(thing, dict):
        return {name: each if name == "closed" else times(each, by) for name, each in thing.items()}
    if is_dataclass(thing):
        return replace(
            thing, **{each.name: times(getattr(thing, each.name), by) for each in fields(thing) if each.init}
        )
    if isinstance(thing, (int, float, Fraction)) and not isinstance(thing, bool):
        return thing * by
    return thing


def worded(text):
    """The words of a text without its lengths, and these."""
    return re.sub(r"\d+\.\d\d", "#", text), [float(each) for each in re.findall(r"\d+\.\d\d", text)]


def told(zones, limits=LIMITS, speaker=SPEAKER, extras=None, obstacles=(), closed=(False, False), decoder=None, by=1):
    """Every length of what is made, divided by so much; and every text, its lengths too."""
    enclosure = fit_enclosure(Cavity(tuple(zones), *closed, tuple(obstacles)), limits, speaker, decoder)
    chamber = enclosure.as_cut(FINE)
    # A barrier is as thick as is asked for: its own thickness is no length that is left to chance.
    extras = replace(extras or Extras(), barrier_mm=HALF * by)
    parts = parts_of(enclosure, chamber, FINE, extras)
    texts = [worded(each.made_to) for each in parts]
    texts += [worded(str(each)) for each in left_out_of(enclosure, chamber, FINE, extras)]
    opening = roof_opening_of(enclosure, chamber, FINE)
    openings = [each for part in parts for each in part.openings] + ([] if opening is None else [opening])
    lengths = [
        *(part.cut.cut_mm for part in parts),
        *(size for part in parts for size in (part.section_mm, part.width_mm, part.thickness_mm, part.position_mm)),
        *(place for part in parts for place in part.places_mm),
        *(each.position_mm for each in places_of(enclosure, chamber, parts)),
        *(size for each in openings for size in (each.long_mm, each.wide_mm, each.from_edge_mm, each.centre_mm)),
        *(at for part in parts for point in part.outline for at in point),
        *(getattr(block, each.name) for part in parts for block in part.blocks for each in fields(block)),
    ]
    net = net_volume(chamber, speaker, parts, limits)
    return (
        [(part.name, part.kind, part.count, part.use, part.made_by, part.removable) for part in parts],
        [None if each is None else Fraction(each) / by for each in lengths],
        [words for words, _ in texts],
        [each / by for _, numbers in texts for each in numbers],
        [Fraction(each) / by**3 for each in (net.gross_mm3, net.net_mm3, *(share.volume_mm3 for share in net.shares))],
    )


@pytest.mark.parametrize("case", [*CASES, *MORE])
def test_every_length_is_three_times_as_long(case):
    given = (CASES | MORE)[case]
    given = {"limits": LIMITS, "speaker": SPEAKER} | given
    one, other = told(**given), told(**times(given), by=TIMES)
    assert other[0] == one[0]
    assert other[1] == one[1]
    assert other[2] == one[2]
    assert other[3] == pytest.approx(one[3], abs=0.011)  # each is told to a hundredth
    assert other[4] == one[4]
