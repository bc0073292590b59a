"""Impedance and shares against hand rules, printed examples, Kirchhoff's laws solved as equations, and known counts."""

from fractions import Fraction
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.sound.loads import (
    Parallel,
    RatedSpeaker,
    Series,
    Single,
    impedance_ohm,
    in_parallel,
    in_series,
    joints,
    power_shares,
    several,
    wiring_in_words,
    wirings,
)
from modelmath.sound.loads.wiring import exact_impedance, exact_shares

PRINTED = {row["id"]: row for row in published_rows("electrical_examples.csv")}
# OEIS A000084: series-parallel networks of n like resistors; A006351: of n unlike ones.
LIKE, UNLIKE = {1: 1, 2: 2, 3: 4, 4: 10, 5: 24, 6: 66}, {1: 1, 2: 2, 3: 8, 4: 52}
OHMS = st.sampled_from([3.2, 4, 6, 8, 16, 32, 50, 100])


def speakers_of(*ohms):
    return tuple(RatedSpeaker(name, ohm) for name, ohm in zip("abcdef", ohms, strict=False))


@st.composite
def wired(draw):
    """Return speakers and any wiring of them, built by joining parts at random."""
    speakers = speakers_of(*draw(st.lists(OHMS, min_size=1, max_size=6)))
    parts = [Single(each.name) for each in speakers]
    while len(parts) > 1:
        count = draw(st.integers(2, len(parts)))
        joint = draw(st.sampled_from([Series, Parallel]))
        parts = [*parts[count:], joint(tuple(parts[:count]))]
    return speakers, parts[0]


@pytest.mark.parametrize(
    ("row", "joint", "ohms"),
    [("SPK_2", in_parallel, (8, 8)), ("SPK_3", in_series, (4, 4)), ("DIV_1", in_parallel, (4700, 4700))],
)
def test_two_alike_as_printed(row, joint, ohms):
    assert agrees_with_print(impedance_ohm(joint("a", "b"), speakers_of(*ohms)), PRINTED[row]["value"])


@given(st.integers(1, 6), OHMS)
def test_n_alike_by_the_hand_rules(count, ohm):
    """N alike in series are N times one, in parallel one Nth of it."""
    speakers = several(RatedSpeaker("box", ohm), count)
    names = [each.name for each in speakers]
    if count > 1:
        assert impedance_ohm(in_series(*names), speakers) == pytest.approx(count * ohm)
        assert impedance_ohm(in_parallel(*names), speakers) == pytest.approx(ohm / count)


@given(OHMS, OHMS)
def test_two_unlike_by_product_over_sum(first, second):
    speakers = speakers_of(first, second)
    assert impedance_ohm(in_parallel("a", "b"), speakers) == pytest.approx(first * second / (first + second))


def test_decimals_count_as_written():
    """Three times 3.2 is 9.6, which binary fractions miss."""
    assert impedance_ohm(in_series("a", "b", "c"), speakers_of(3.2, 3.2, 3.2)) == 9.6


@given(wired())
def test_kirchhoffs_laws_agree(found):
    """Node voltages from the conductance matrix (nodal analysis), on the joints that the bench card prints."""
    speakers, wiring = found
    at = {tag: point for point, tags in enumerate(joints(wiring)) for tag in tags}
    size = 1 + max(at.values())
    matrix, ohms = np.zeros((size, size)), {each.name: float(each.impedance_ohm) for each in speakers}
    ends = {name: (at[f"{name} +"], at[f"{name} −"]) for name in ohms}
    for name, (plus, minus) in ends.items():
        flow = np.zeros(size)
        flow[plus], flow[minus] = 1, -1
        matrix += np.outer(flow, flow) / ohms[name]
    driven = np.zeros(size)
    driven[0] = 1.0  # 1 A into the first wire; the second, point 1, is held at 0 V
    keep = [point for point in range(size) if point != 1]
    volts = np.zeros(size)
    volts[keep] = np.linalg.solve(matrix[np.ix_(keep, keep)], driven[keep])
    assert impedance_ohm(wiring, speakers) == pytest.approx(volts[0], rel=1e-9)
    shares = power_shares(wiring, speakers)
    for name, (plus, minus) in ends.items():
        across = volts[plus] - volts[minus]
        assert across > 0  # every cone is driven the same way round
        assert shares[name] == pytest.approx(across**2 / ohms[name] / volts[0], rel=1e-9)


@given(wired())
def test_shares_sum_to_the_whole(found):
    speakers, wiring = found
    ohms = {each.name: Fraction(str(each.impedance_ohm)) for each in speakers}
    assert sum(exact_shares(wiring, ohms).values()) == 1


@given(wired(), OHMS)
def test_series_raises_and_parallel_lowers(found, ohm):
    speakers, wiring = found
    more = (*speakers, RatedSpeaker("more", ohm))
    alone = impedance_ohm(wiring, speakers)
    assert impedance_ohm(in_series(wiring, "more"), more) > max(alone, ohm)
    assert impedance_ohm(in_parallel(wiring, "more"), more) < min(alone, ohm)


@given(wired(), st.floats(0.1, 10))
def test_twice_the_ohms_twice_the_impedance(found, times):
    speakers, wiring = found
    scaled = [RatedSpeaker(each.name, each.impedance_ohm * times) for each in speakers]
    assert impedance_ohm(wiring, scaled) == pytest.approx(times * impedance_ohm(wiring, speakers))
    assert power_shares(wiring, scaled) == pytest.approx(power_shares(wiring, speakers))


def test_order_does_not_matter():
    for names in permutations("abc"):
        assert in_series(*names) == in_series("a", "b", "c")
        first, second, third = names
        assert in_parallel(in_parallel(first, second), third) == in_parallel("a", "b", "c")
    assert in_parallel(in_series("a", "b"), "c") == in_parallel("c", in_series("b", "a"))
    assert in_series("a", "b") != in_parallel("a", "b")


@pytest.mark.parametrize(("count", "printed"), LIKE.items())
def test_as_many_wirings_of_like_speakers_as_known(count, printed):
    assert len(set(wirings(several(RatedSpeaker("box", 8), count)))) == printed


@pytest.mark.parametrize(("count", "printed"), UNLIKE.items())
def test_as_many_wirings_of_unlike_speakers_as_known(count, printed):
    assert len(set(wirings(speakers_of(4, 8, 16, 32)[:count]))) == printed


def test_like_speakers_among_others_are_not_told_apart():
    """Of a, a and b: of the eight wirings of three unlike ones two pairs fall together."""
    speakers = speakers_of(8, 8, 4)
    assert len(wirings(speakers)) == 6
    assert {wiring.names for wiring in wirings(speakers)} <= set(permutations("abc"))


@pytest.mark.parametrize("speakers", [several(RatedSpeaker("box", 8), 6), speakers_of(4, 8, 16, 32)])
def test_each_wiring_holds_every_speaker_and_reads_differently(speakers):
    found = wirings(speakers)
    assert all(sorted(wiring.names) == sorted(each.name for each in speakers) for wiring in found)
    by_count = len({each.impedance_ohm for each in speakers}) == 1
    assert len({wiring_in_words(wiring, by_count) for wiring in found}) == len(found)


def test_every_wiring_has_its_dual():
    """With series and parallel swapped, and each impedance its inverse, impedances are inverse too."""
    unit = {name: Fraction(1) for name in "abcdef"}
    found = sorted(exact_impedance(wiring, unit) for wiring in wirings(speakers_of(*[8] * 6)))
    assert found == sorted(1 / ohm for ohm in found)


@pytest.mark.parametrize(
    ("wiring", "by_count", "words"),
    [
        (Single("a"), False, "a alone"),
        (in_series("a", "b", "c"), False, "a, b and c in series"),
        (in_series("a", "b", "c"), True, "three in series"),
        (
            in_series(in_parallel(in_series("a", "b"), "c"), "d"),
            True,
            "((two in series) + one, in parallel) + one, in series",
        ),
        (
            in_parallel(in_series("a", "b"), in_series("c", "d"), "e"),
            False,
            "(a + b in series) + (c + d in series) + e, in parallel",
        ),
    ],
)
def test_wirings_in_words(wiring, by_count, words):
    assert wiring_in_words(wiring, by_count) == words


def test_too_many_are_refused():
    text = r"^the number of like speakers is 7; it must be at most 6\. Leave some out, or check one wiring at a time\.$"
    with pytest.raises(OutOfRange, match=text):
        wirings(several(RatedSpeaker("box", 8), 7))
    text = (
        r"^the number of speakers that are not all alike is 5; it must be at most 4\. "
        r"Leave some out, or check one wiring at a time\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        wirings(speakers_of(4, 8, 8, 8, 8))


def test_a_wiring_that_is_none():
    text = (
        r"^a wiring is one with a twice; it must be one with each speaker once\. Give each speaker a name of its own\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        in_series("a", in_parallel("b", "a"))
    text = r"^a wiring's number of parts is 1; it must be 2 or more\. Use Single for one speaker\.$"
    with pytest.raises(OutOfRange, match=text):
        in_series("a")


def test_a_wiring_of_other_speakers():
    text = r"^a speaker of the wiring is 'c'; write one of a, b\.$"
    with pytest.raises(UnknownChoice, match=text):
        impedance_ohm(in_series("a", "c"), speakers_of(8, 8))
    text = (
        r"^the wiring is without c; it must be one with every speaker of the list\. "
        r"Wire it too, or leave it out of the list\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        impedance_ohm(in_series("a", "b"), speakers_of(8, 8, 8))
