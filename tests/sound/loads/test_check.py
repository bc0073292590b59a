"""Verdicts, reasons, shares against ratings, the order of the table: by hand rules with numbers worked out beside."""

from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import NotYetKnown, OutOfRange, UnknownChoice
from modelmath.sound.loads import (
    VERDICTS,
    AmpOutput,
    RatedSpeaker,
    Single,
    check_load,
    in_parallel,
    in_series,
    load_in_words,
    load_rows,
    several,
    table_of_wirings,
    text_table,
)

EIGHT = AmpOutput(least_ohm=8, power_w=1, at_ohm=8)
TWO = several(RatedSpeaker("box", 8, 1), 2)
PAIR = ("box 1", "box 2")
A, B = RatedSpeaker("a", 4, 1), RatedSpeaker("b", 3, 1)
FRONT, REAR = RatedSpeaker("front", 8, 0.5), RatedSpeaker("rear", 24, 0.5)
OUTPUTS = st.builds(
    AmpOutput,
    st.sampled_from([4, 8, 16]),
    st.sampled_from([None, 16, 32]),
    supply_v=st.sampled_from([3.7, 5, 12]),
    drop_v=st.sampled_from([None, 0, 0.5]),
    limit_w=st.sampled_from([None, 1, 3]),
)
SETS = st.one_of(
    st.builds(
        several,
        st.builds(RatedSpeaker, st.just("box"), st.sampled_from([4, 8, 16]), st.sampled_from([None, 0.5, 1, 2])),
        st.integers(1, 4),
    ),
    st.lists(st.sampled_from([4, 8, 32]), min_size=1, max_size=3).map(
        lambda ohms: tuple(RatedSpeaker(name, ohm, 1) for name, ohm in zip("abc", ohms, strict=False))
    ),
)


@pytest.mark.parametrize(
    ("speakers", "wiring", "output", "verdict", "reasons"),
    [
        (
            TWO,
            in_parallel(*PAIR),
            EIGHT,
            "refused",
            ("4.0 ohm is below the 8 ohm that the decoder drives at least: wire the two in series.",),
        ),
        (TWO, in_series(*PAIR), EIGHT, "fits", ("16.0 ohm is within the 8 ohm or more that the decoder drives.",)),
        (
            TWO,
            in_series(*PAIR),
            AmpOutput(4, 8),
            "refused",
            ("16.0 ohm is above the 8 ohm that the decoder drives at most: wire the two in parallel.",),
        ),
        (
            (A,),
            Single("a"),
            EIGHT,
            "refused",
            (
                (
                    "4.0 ohm is below the 8 ohm that the decoder drives at least: take one of 8 ohm or more, "
                    "or add another in series so that both make 8 ohm or more."
                ),
            ),
        ),
        (
            (A, B),
            in_series("a", "b"),
            EIGHT,
            "refused",
            (
                (
                    "7.0 ohm is below the 8 ohm that the decoder drives at least: even both in series make 7.0 ohm; "
                    "take speakers that make 8 ohm or more together."
                ),
            ),
        ),
        (
            several(RatedSpeaker("box", 100), 3),
            in_series("box 1", "box 2", "box 3"),
            AmpOutput(8, 32),
            "refused",
            (
                (
                    "300.0 ohm is above the 32 ohm that the decoder drives at most: even all three in parallel make "
                    "33.3 ohm; take speakers that make 32 ohm or less together."
                ),
            ),
        ),
        (
            TWO,
            in_parallel(*PAIR),
            AmpOutput(6, 10),
            "refused",
            (
                (
                    "4.0 ohm is below the 6 ohm that the decoder drives at least: "
                    "no wiring of these two is in the range; "
                    "take speakers of another impedance."
                ),
            ),
        ),
        (
            several(RatedSpeaker("box", 8), 4),
            in_parallel(*(f"box {number}" for number in range(1, 5))),
            AmpOutput(8, 16),
            "refused",
            (
                (
                    "2.0 ohm is below the 8 ohm that the decoder drives at least: wire them so: "
                    "(two in parallel) + (two in parallel), in series."
                ),
            ),
        ),
        (
            several(RatedSpeaker("box", 8), 7),
            in_parallel(*(f"box {number}" for number in range(1, 8))),
            AmpOutput(8, 16),
            "refused",
            (
                (
                    "1.1 ohm is below the 8 ohm that the decoder drives at least: wire them another way, "
                    "or take speakers of another impedance."
                ),
            ),
        ),
        (
            (RatedSpeaker("a", 7.98),),
            Single("a"),
            EIGHT,
            "refused",
            (
                (
                    "7.98 ohm is below the 8 ohm that the decoder drives at least: take one of 8 ohm or more, "
                    "or add another in series so that both make 8 ohm or more."
                ),
            ),
        ),
        (
            # 4 W into 8 ohm is 32 V2; 32/6 ohm takes it as 24 of 32 parts and 8 of 32: 4 W and 1.33 W.
            (FRONT, REAR),
            in_parallel("front", "rear"),
            AmpOutput(4, 32, power_w=4, at_ohm=8),
            "turn down",
            (
                "6.0 ohm is within the 4 to 32 ohm that the decoder drives.",
                (
                    "Front gets 4.00 W, more than its rated 0.5 W: turn the decoder down by 9.1 dB "
                    "(to 35 % of its full voltage), or take a speaker rated 4 W or more."
                ),
                (
                    "Rear gets 1.33 W, more than its rated 0.5 W: turn the decoder down by 4.3 dB "
                    "(to 61 % of its full voltage), or take a speaker rated 1.34 W or more."
                ),
            ),
        ),
    ],
)
def test_the_verdict_and_its_reasons(speakers, wiring, output, verdict, reasons):
    check = check_load(speakers, wiring, output)
    assert (check.verdict, check.reasons, check.fits) == (verdict, reasons, verdict == "fits")


def test_a_rating_met_exactly_is_within_it():
    """2 ohm at 1.1 W: the square root of 2.2 squared is not 2.2 in binary, the figures are."""
    check = check_load([RatedSpeaker("a", 2, 1.1)], Single("a"), AmpOutput(2, power_w=1.1, at_ohm=2))
    assert check.verdict == "fits"
    assert check.shares[0].within
    assert check.turn_down_db == 0
    edge = check_load(several(RatedSpeaker("a", 3.2), 3), in_series("a 1", "a 2", "a 3"), AmpOutput(9.6))
    assert edge.verdict == "fits"


def test_a_series_pair_by_hand():
    """2.83 V over 16 ohm: 0.5 W, half of it each; 3.01 dB below 1 W, and 3.01 dB more from two cones alike."""
    check = check_load(TWO, in_series(*PAIR), EIGHT)
    assert check.impedance_ohm == 16
    assert check.power_w == 0.5
    assert [(share.part, share.power_w, share.within) for share in check.shares] == [(0.5, 0.25, True)] * 2
    assert check.share_of("box 2") == 0.25
    assert check.clipping_v == pytest.approx(8**0.5)
    assert check.quieter_db == pytest.approx(10 * log10(2))
    assert check.cones_db == pytest.approx(10 * log10(2))
    assert check.level_db == pytest.approx(0)


def test_what_is_turned_down_is_then_within_every_rating():
    check = check_load((FRONT, REAR), in_parallel("front", "rear"), AmpOutput(4, power_w=4, at_ohm=8))
    part = 10 ** (-check.turn_down_db / 10)
    assert max(share.power_w * part / share.rated_w for share in check.shares) == pytest.approx(1)
    assert check.usable_w == pytest.approx(check.power_w * part)


def test_without_the_least_impedance_nothing_is_judged():
    text = (
        r"^Whether the decoder can drive this load is not known yet; enter from the decoder's sheet the least speaker "
        r"impedance that its sound output may drive\.$"
    )
    with pytest.raises(NotYetKnown, match=text):
        check_load(TWO, in_series(*PAIR), AmpOutput(power_w=1, at_ohm=8))


def test_without_the_power_the_impedance_alone_is_judged_and_that_is_said():
    check = check_load(TWO, in_series(*PAIR), AmpOutput(8))
    assert (check.verdict, check.power_w, check.clipping_v, check.level_db) == ("fits", None, None, None)
    assert not check.judged_whole
    assert check.notes[0] == (
        "The impedance alone is judged, not the power of each speaker. The voltage at which the decoder clips is not "
        "known yet; enter from the decoder's sheet its output power with the impedance that it is stated at, or the "
        "supply voltage of its sound output."
    )


def test_a_speaker_without_a_rating_is_not_judged_and_that_is_said():
    check = check_load([RatedSpeaker("a", 8)], Single("a"), EIGHT)
    assert check.notes[0] == "The power of a is not judged: enter its rated power from its sheet."
    both = check_load([RatedSpeaker("a", 8), RatedSpeaker("b", 8)], in_series("a", "b"), EIGHT)
    assert both.notes[0] == "The powers of a and b are not judged: enter their rated powers from their sheets."
    assert both.notes[1] == (
        "16.0 ohm is 3.0 dB quieter than 8 ohm would be: the output is a voltage source, "
        "and a higher impedance takes less power from it."
    )
    assert both.notes[2] == (
        "Two like cones that move alike add up to 3.0 dB over one with the same whole power, while they are close "
        "together against the wavelength: an estimate (superposition of pressures, textbook acoustics, from memory)."
    )


def test_a_share_of_nobody():
    with pytest.raises(UnknownChoice, match=r"^a speaker of this load is 'rear'; write one of box 1, box 2\.$"):
        check_load(TWO, in_series(*PAIR), EIGHT).share_of("rear")


@given(SETS, OUTPUTS)
def test_the_table_holds_what_it_says(speakers, output):
    table = table_of_wirings(speakers, output)
    places = [VERDICTS.index(check.verdict) for check in table]
    assert places == sorted(places)
    for check in table:
        held = output.least_ohm <= check.impedance_ohm + 1e-9
        held = held and (output.most_ohm is None or check.impedance_ohm <= output.most_ohm + 1e-9)
        assert (check.verdict != "refused") == held
        assert sum(share.part for share in check.shares) == pytest.approx(1)
        if held:
            assert sum(share.power_w for share in check.shares) == pytest.approx(check.power_w)
            # Of a voltage source: V2 / Z, and no more than a stated limit.
            most = output.limit_w or float("inf")
            assert check.power_w == pytest.approx(min(output.clipping_v**2 / check.impedance_ohm, most))
            over = [share for share in check.shares if share.rated_w and share.power_w > share.rated_w * (1 + 1e-9)]
            assert (check.verdict == "turn down") == bool(over)
    levels = [check.level_db for check in table if check.fits]
    assert levels == pytest.approx(sorted(levels, reverse=True))


@given(SETS, OUTPUTS)
def test_a_remedy_by_wiring_is_one_that_the_table_allows(speakers, output):
    table = table_of_wirings(speakers, output)
    allowed = {check.in_words for check in table if check.verdict != "refused"}
    for check in table:
        if check.verdict == "refused" and "wire them so: " in check.reasons[0]:
            assert check.reasons[0].split("wire them so: ")[1].removesuffix(".") in allowed
        if check.verdict == "refused" and len(speakers) > 1:
            assert bool(allowed) == ("wire the" in check.reasons[0])


def test_the_table_without_power_takes_the_lowest_impedance_first():
    table = table_of_wirings(several(RatedSpeaker("box", 16), 2), AmpOutput(8))
    assert [check.impedance_ohm for check in table] == [8, 32]


def test_the_order_of_the_speakers_changes_no_figure():
    speakers = (FRONT, REAR, RatedSpeaker("top", 16, 1))
    there, back = (table_of_wirings(each, EIGHT) for each in (speakers, speakers[::-1]))
    assert {(check.in_words, check.impedance_ohm, check.power_w, check.verdict) for check in there} == {
        (check.in_words, check.impedance_ohm, check.power_w, check.verdict) for check in back
    }


def test_a_remedy_overloads_no_speaker_where_another_does_not():
    """Of the two that are allowed 9.3 ohm takes more power, but puts 0.57 W on the speaker rated 0.5 W."""
    speakers = (RatedSpeaker("front", 8, 1), RatedSpeaker("rear", 4, 0.5), RatedSpeaker("top", 16))
    check = check_load(speakers, in_parallel("front", "rear", "top"), AmpOutput(8, supply_v=5))
    assert check.reasons == (
        (
            "2.3 ohm is below the 8 ohm that the decoder drives at least: wire them so: "
            "(rear + top in parallel) + front, in series."
        ),
    )


def test_the_table_as_text():
    table = table_of_wirings((FRONT, RatedSpeaker("rear", 24)), AmpOutput(6, 24, power_w=0.5, at_ohm=8))
    assert text_table(table).splitlines() == [
        "Wiring                      Impedance  Power   Each speaker gets                       Level    Verdict",
        (
            "front and rear in parallel  6.0 ohm    0.67 W  front 0.50 W, rated 0.5 W; rear 0.17 W  +0.0 dB  "
            "fits; power of rear not judged"
        ),
        "front and rear in series    32.0 ohm   -       -                                       -        refused",
        "    32.0 ohm is above the 24 ohm that the decoder drives at most: wire the two in parallel.",
        "Level: against the first row, with what more like cones add, an estimate; at the volume the verdict says.",
    ]
    assert not text_table([])


def test_the_table_says_how_far_to_turn_down():
    table = table_of_wirings(several(RatedSpeaker("box", 8, 1), 4), AmpOutput(10, 16, power_w=2, at_ohm=8))
    uneven = text_table(table).splitlines()[2:4]
    assert uneven[0].split("  ")[-1] == "turn down by 0.6 dB"
    assert "three 0.12 W each, rated 1 W; one 1.12 W, rated 1 W" in uneven[0]
    assert uneven[1].startswith("    Box 4 gets 1.12 W, more than its rated 1 W: turn the decoder down by 0.6 dB")


def test_only_the_best_rows_where_few_are_asked_for():
    """Four unlike speakers have 52 wirings (OEIS A006351); the best ones read as in the whole table."""
    speakers = [RatedSpeaker(name, ohm, 1) for name, ohm in zip("abcd", (4, 8, 16, 32), strict=True)]
    table = table_of_wirings(speakers, AmpOutput(4, supply_v=5))
    assert len(load_rows(table)) == 52
    assert load_rows(table, most=5) == load_rows(table)[:5]
    assert load_rows(table, most=60) == load_rows(table)
    text = r"^the number of rows is 0; it must be 1 or more\. Leave it out for all of them\.$"
    with pytest.raises(OutOfRange, match=text):
        load_rows(table, most=0)


def test_unlike_shares_end_the_sentence_by_name():
    uneven = check_load((FRONT, REAR), in_parallel("front", "rear"), AmpOutput(4, 32, power_w=4, at_ohm=8))
    said = load_in_words(uneven)[2]
    assert said.endswith("rms: front gets 4.00 W, rated 0.5 W; rear gets 1.33 W, rated 0.5 W.")
    four = several(RatedSpeaker("box", 8, 1), 4)
    wiring = in_series(in_parallel("box 1", "box 2", "box 3"), "box 4")
    some = check_load(four, wiring, AmpOutput(10, power_w=2, at_ohm=8))
    assert load_in_words(some)[2].endswith("rms: three get 0.12 W each, rated 1 W; one gets 1.12 W, rated 1 W.")


def test_without_the_power_the_table_says_which_part_each_gets():
    """In series the power parts as the impedances do: 4 and 3 ohm get 4/7 and 3/7; two like ones half each."""
    alike = load_rows([check_load(TWO, in_series(*PAIR), AmpOutput(8))])
    assert alike == (
        ("two in series", "16.0 ohm", "not known", "50 % each", "not known", "fits by impedance; power not judged"),
    )
    unlike = load_rows([check_load((A, B), in_series("a", "b"), AmpOutput(4))])
    assert unlike[0][3] == "a 57 %; b 43 %"


def test_one_load_in_sentences():
    said = load_in_words(check_load(TWO, in_series(*PAIR), EIGHT))
    assert said[:3] == (
        "Wiring: two in series (box 1 and box 2 in series). 16.0 ohm: fits.",
        "16.0 ohm is within the 8 ohm or more that the decoder drives.",
        "Up to 0.50 W before it clips, at 2.83 V rms: each gets 0.25 W, rated 1 W.",
    )
    unknown = load_in_words(check_load(TWO, in_series(*PAIR), AmpOutput(8)))
    assert unknown[0] == (
        "Wiring: two in series (box 1 and box 2 in series). 16.0 ohm: fits by impedance; power not judged."
    )
    assert not any(sentence.startswith("Up to") for sentence in unknown)
