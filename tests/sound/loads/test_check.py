"""Verdicts, reasons, shares against ratings, the order of the table: by hand rules with numbers worked out beside."""

from fractions import Fraction
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
from modelmath.sound.loads.amounts import check_amount, number_word
from modelmath.sound.loads.reasons import RATED_NOTE, down_in_words, in_range, notes_on, over_rating, within_reason

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
    assert load_rows(table, most=1) == load_rows(table)[:1]
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


def test_each_cell_of_a_row_that_fits_is_turned_down_or_is_refused():
    """16 V2 over 13.33 ohm and 10.67 ohm: 1.2 and 1.5 W; 1/15, 1/15, 4/15 and 3/5, or 1/12 thrice and 3/4 of it.

    Levels: 1.2 W and 20 lg(2 sqrt(1/15) + sqrt(4/15) + sqrt(3/5)) = 5.14 dB; 1.5 W less 0.51 dB and 4.77 dB.
    """
    four = several(RatedSpeaker("box", 8, 1), 4)
    rows = load_rows(table_of_wirings(four, AmpOutput(10, 16, power_w=2, at_ohm=8)))
    assert rows[:3] == (
        (
            "((two in series) + one, in parallel) + one, in series", "13.3 ohm", "1.20 W",
            "two 0.08 W each, rated 1 W; one 0.32 W, rated 1 W; one 0.72 W, rated 1 W", "+0.0 dB", "fits",
        ),
        (
            "(three in parallel) + one, in series", "10.7 ohm", "1.50 W",
            "three 0.12 W each, rated 1 W; one 1.12 W, rated 1 W", "+0.1 dB", "turn down by 0.6 dB",
        ),
        ("(two in parallel) + (two in parallel), in series", "8.0 ohm", "-", "-", "-", "refused"),
    )  # fmt: skip
    # The nearest first: 10 / 8 and 20 / 16 are as near, then 10 / 6, 32 / 16, 10 / 4.8, 10 / 3.2, 10 / 2.
    assert [float(row[1].removesuffix(" ohm")) for row in rows[2:]] == [8, 20, 8, 6, 32, 4.8, 3.2, 2]
    assert {row[2:] for row in rows[2:]} == {("-", "-", "-", "refused")}


def test_where_no_most_is_stated_only_what_is_too_low_is_refused_the_nearest_first():
    table = table_of_wirings(several(RatedSpeaker("box", 4), 3), AmpOutput(8))
    assert [(round(check.impedance_ohm, 2), check.verdict) for check in table] == [
        (12, "fits"), (6, "refused"), (2.67, "refused"), (1.33, "refused"),
    ]  # fmt: skip


def test_without_the_power_cones_and_impedance_decide():
    """20 lg of the sum of the roots of the shares, less 10 lg Z: -2.5, -6.0, -9.5 and -12.0 dB."""
    table = table_of_wirings(several(RatedSpeaker("box", 16), 3), AmpOutput(4))
    assert [round(check.impedance_ohm, 1) for check in table] == [5.3, 10.7, 24, 48]
    # Of four, 8, 8 and 6 ohm come to the same: 6.02 - 9.03 and 4.77 - 7.78 dB; equals keep their order.
    table = table_of_wirings(several(RatedSpeaker("box", 8), 4), AmpOutput(1))
    assert [round(check.impedance_ohm, 1) for check in table] == [2, 3.2, 4.8, 8, 8, 6, 10.7, 13.3, 20, 32]


def test_a_range_includes_both_its_ends():
    for output, held in (
        (AmpOutput(8, 16), [False, True, True, False]),
        (AmpOutput(8), [False, True, True, True]),
        (AmpOutput(most_ohm=16), [True, True, True, False]),
        (AmpOutput(), [True] * 4),
    ):
        assert [in_range(Fraction(ohm), output) for ohm in ("7.9", "8", "16", "16.1")] == held
    assert within_reason(Fraction(8), AmpOutput(8)) == "8.0 ohm is within the 8 ohm or more that the decoder drives."
    assert within_reason(Fraction(12), AmpOutput(most_ohm=16)) == (
        "12.0 ohm is within the 0 to 16 ohm that the decoder drives."
    )


@pytest.mark.parametrize(
    ("power", "rated", "said"),
    [
        (4.0, 1.0, "gets 4.00 W, more than its rated 1 W: turn the decoder down by 6.1 dB (to 50 % of its full"),
        (10.0, 1.0, "gets 10.00 W, more than its rated 1 W: turn the decoder down by 10.0 dB (to 31 % of its full"),
        (1.0, 0.99, "gets 1.00 W, more than its rated 0.99 W: turn the decoder down by 0.1 dB (to 99 % of its full"),
        (1.001, 1.0, "gets 1.001 W, more than its rated 1 W: turn the decoder down by 0.1 dB (to 99 % of its full"),
    ],
)
def test_how_far_to_turn_down_is_rounded_to_the_safe_side(power, rated, said):
    """10 lg 4 is 6.02, 10 lg 10 is 10 dB; the root of the share of the power is that of the voltage."""
    assert over_rating("rear left", power, rated).startswith(f"Rear left {said}")


def test_the_rating_to_look_for_is_rounded_up_to_a_hundredth():
    for power, enough in ((1.1, "1.1"), (1.101, "1.11"), (4.0, "4"), (0.041, "0.05")):
        assert over_rating("a", power, power / 2).endswith(f"or take a speaker rated {enough} W or more.")
    assert [down_in_words(each) for each in (0, 0.1, 0.11, 3.0 + 1e-12, 9.95)] == [
        "0.0 dB", "0.1 dB", "0.2 dB", "3.0 dB", "10.0 dB",
    ]  # fmt: skip


def test_what_rounds_to_no_decibel_is_not_told():
    quiet = "is 0.1 dB quieter than 8 ohm would be"
    one, more = (notes_on(TWO, EIGHT, "", Fraction(16), each, None) for each in (0.049, 0.051))
    assert (quiet in one[0], quiet in more[0], len(more) - len(one)) == (False, True, 1)
    one, more = (notes_on(TWO, EIGHT, "", Fraction(16), 0.0, each) for each in (0.049, 0.051))
    assert more[0].startswith("Two like cones that move alike add up to 0.1 dB over one with the same whole power")
    assert more[1:] == one
    assert one[0] == RATED_NOTE
    assert notes_on(TWO, EIGHT, "It lacks.", Fraction(16), 0.0, None) == (
        "The impedance alone is judged, not the power of each speaker. It lacks.", RATED_NOTE,
    )  # fmt: skip


def test_small_counts_are_words():
    assert [number_word(count) for count in (-1, 0, 1, 6, 7)] == ["-1", "no", "one", "six", "7"]


def test_zero_is_an_amount_only_where_it_may_be():
    check_amount(name="the loss", value=0, unit="V", zero=True)
    with pytest.raises(OutOfRange, match=r"^the loss is 0 V; it must be above 0 V\."):
        check_amount("the loss", 0, "V")
    for value in (-1, float("inf"), float("nan")):
        with pytest.raises(OutOfRange, match=rf"^the loss is {value:g} V; it must be 0 V or more\."):
            check_amount("the loss", value, "V", zero=True)
