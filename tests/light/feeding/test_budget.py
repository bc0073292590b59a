"""Budgets against sums made by hand and Kirchhoff's law; each fault with its whole text."""

import re
from fractions import Fraction
from math import ulp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.feeding.amounts import SAME
from modelmath.light.feeding.budget import budget
from modelmath.light.feeding.draw import Draw
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.sheet import DecoderSheet
from modelmath.light.feeding.words import whole_over
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

MA = 0.001
SHEET = DecoderSheet(
    each_a=Known.of(100 * MA),
    all_a=Known.of(200 * MA),
    whole_a=Known.of(1.0),
    outputs=("white", "yellow", "green", "violet"),
)

hung = st.lists(
    st.tuples(st.sampled_from(["white", "yellow", "Green", "other", None]), st.integers(0, 200)), max_size=15
)


def whole(text):
    return f"^{re.escape(text)}$"


def lamps(*found):
    return [Load.of(name, output, milliamps * MA) for name, output, milliamps in found]


def test_what_is_within_is_said():
    found = budget(
        lamps(("front", "white", 10), ("boards", "White", 4), ("rear", "yellow", 10)), SHEET, sound_a=0.2, motor_a=0.5
    )
    assert [line.lamps for line in found.lines] == [("front", "boards"), ("rear",), (), ()]
    assert found.lines[0].current_a.best == pytest.approx(14 * MA)
    assert found.whole.current_a.best == pytest.approx(0.724)
    assert (found.needed, found.there, found.short_by, found.free) == (2, 4, 0, ("green", "violet"))
    assert (found.faults, found.doubts, found.verdict) == ((), (), "within")
    assert found.in_words == (
        "2 of 4 outputs are needed, and all lamps together draw 24 mA. All of it is within what your sheet states."
    )
    assert found.notes == ("All lamps count as on at once, whatever the direction.",)


@given(hung, st.integers(1, 300), st.integers(1, 900))
def test_currents_add_exactly_and_over_by_is_what_a_sum_in_fractions_says(found_lamps, each, together):
    """Kirchhoff's current law in exact arithmetic, in whole milliamperes."""
    sheet = DecoderSheet(
        each_a=Known.of(each * MA), all_a=Known.of(together * MA), outputs=("white", "yellow", "green")
    )
    found = budget(lamps(*((f"lamp {at}", *lamp) for at, lamp in enumerate(found_lamps))), sheet)
    sums = {}
    for output, milliamps in found_lamps:
        if output is not None:
            sums[output.lower()] = sums.get(output.lower(), 0) + milliamps
    for line in found.lines:
        over = max(0, sums.get(line.output.lower(), 0) - each)
        assert line.over_by_a == pytest.approx(float(Fraction(over, 1000)), abs=1e-12)
        assert (line.verdict == "over") == (over > 0)
    whole_sum = sum(milliamps for _, milliamps in found_lamps)
    assert found.together.over_by_a == pytest.approx(max(0, whole_sum - together) / 1000, abs=1e-12)
    drawn = [line.current_a.best for line in found.lines] + [load.current_a.best for load in found.unassigned]
    assert found.together.current_a.best == pytest.approx(sum(drawn))


@given(hung, st.randoms())
def test_the_order_of_the_lamps_does_not_matter(found_lamps, random):
    made = lamps(*((f"lamp {at}", *lamp) for at, lamp in enumerate(found_lamps)))
    mixed = list(made)
    random.shuffle(mixed)
    one, other = budget(made, SHEET), budget(mixed, SHEET)
    assert (one.together, one.needed, one.verdict, one.free) == (
        other.together,
        other.needed,
        other.verdict,
        other.free,
    )


def test_an_output_that_gives_too_much_names_a_lamp_to_move():
    found = budget(lamps(("front", "white", 90), ("boards", "white", 30)), SHEET, sound_a=0, motor_a=0.3)
    assert found.lines[0].over_by_a == pytest.approx(20 * MA)
    assert found.faults == (
        (
            "Output 'white' may give 100 mA and 'front' and 'boards' draw 120 mA: 20 mA too much. "
            "Hang 'boards' on 'yellow', which is free, or give each 83 % of that current or less."
        ),
    )
    assert found.verdict == "over"
    assert found.in_words == (
        "1 of 4 outputs are needed, and all lamps together draw 120 mA. 1 thing must change before it is wired."
    )
    # What it says to do, done:
    moved = budget(lamps(("front", "white", 90), ("boards", "yellow", 30)), SHEET, sound_a=0, motor_a=0.3)
    assert moved.verdict == "within"
    dimmed = budget(lamps(("front", "white", 90 * 0.83), ("boards", "white", 30 * 0.83)), SHEET, sound_a=0, motor_a=0)
    assert dimmed.verdict == "within"


def test_a_move_must_bring_both_outputs_within():
    sheet = DecoderSheet(each_a=Known.of(100 * MA), outputs=("white", "logic"), own_a=(("logic", Known.of(5 * MA)),))
    found = budget(lamps(("front", "white", 90), ("boards", "white", 30)), sheet)
    assert found.faults == (
        (
            "Output 'white' may give 100 mA and 'front' and 'boards' draw 120 mA: 20 mA too much. "
            "Give each 83 % of that current or less."
        ),
    )


def test_a_move_that_leaves_too_much_is_not_offered_and_percents_round_down():
    """100 of 150 mA are two thirds, 66.7 %; without either lamp of 75 mA and a third of 110 mA it is still too much."""
    found = budget(lamps(("a", "white", 75), ("b", "white", 75)), SHEET)
    assert found.faults == (
        (
            "Output 'white' may give 100 mA and 'a' and 'b' draw 150 mA: 50 mA too much. "
            "Hang 'a' on 'yellow', which is free, or give each 66 % of that current or less."
        ),
    )
    three = budget(
        lamps(("a", "white", 75), ("b", "white", 75), ("c", "white", 110)),
        DecoderSheet(each_a=Known.of(100 * MA), outputs=SHEET.outputs),
    )
    assert three.faults == (
        (
            "Output 'white' may give 100 mA and 'a', 'b' and 'c' draw 260 mA: 160 mA too much. "
            "Give each 38 % of that current or less."
        ),
    )


def test_all_together_may_be_too_much_where_no_single_output_is():
    found = budget(lamps(("a", "white", 90), ("b", "yellow", 90), ("c", "green", 90)), SHEET, sound_a=0.0, motor_a=0.0)
    assert found.faults == (
        (
            "All outputs together may give 200 mA and all lamps on at once draw 270 mA: 70 mA too much. "
            "Give each 74 % of its current or less, or never light all of them at once."
        ),
    )
    assert found.together.over_by_a == pytest.approx(70 * MA)


def test_the_whole_decoder_with_sound_and_motor():
    found = budget(lamps(("a", "white", 90)), SHEET, sound_a=0.25, motor_a=Known(0.7, 0.6, 0.8))
    assert found.faults == (
        (
            "The whole decoder may give 1000 mA and lamps, sound and motor draw 1040 mA: 40 mA too much. "
            "Bring all lamps together down to 50 mA, or take a decoder that gives more."
        ),
    )
    without = budget(lamps(("a", "white", 90)), SHEET, motor_a=1.2)
    assert without.faults == (
        (
            "The whole decoder may give 1000 mA and lamps and motor draw 1290 mA: 290 mA too much. "
            "No saving on the lamps is enough: take a decoder that gives more."
        ),
    )
    assert (
        "The current of the sound is not entered: the whole decoder gives more than is counted here." in without.notes
    )


def test_lamps_alone_may_be_too_much_for_the_whole_decoder():
    sheet = DecoderSheet(whole_a=Known.of(0.05), outputs=("white",))
    assert budget(lamps(("a", "white", 90)), sheet).faults == (
        (
            "The whole decoder may give 50 mA and the lamps alone draw 90 mA: 40 mA too much. "
            "Bring all lamps together down to 50 mA, or take a decoder that gives more."
        ),
    )


def test_an_output_that_the_sheet_has_not_is_a_fault_in_words():
    found = budget(lamps(("front", "wite", 10), ("boards", "Wite", 4)), SHEET)
    assert found.lines[-1].on_sheet is False
    assert found.lines[-1].lamps == ("front", "boards")
    assert found.faults == (
        (
            "Your decoder's sheet has no such output: the output of 'front' and 'boards' is 'wite'; "
            "write one of white, yellow, green, violet. Did you mean 'white'?"
        ),
    )


def test_outputs_that_lack_are_counted():
    sheet = DecoderSheet(outputs=("white", "yellow"))
    found = budget(lamps(("a", "white", 1), ("b", None, 1), ("c", None, 1)), sheet)
    assert (found.needed, found.there, found.short_by) == (3, 2, 1)
    assert found.faults == (
        (
            "3 outputs are needed and the decoder has 2: 1 too few. Let 1 lamp share an output with others that light "
            "with them, or take a decoder with more outputs."
        ),
        "'b' and 'c' have no output yet; 'yellow' is free.",
    )
    full = budget(lamps(("a", "white", 1), ("b", None, 1)), DecoderSheet(outputs=("white",)))
    assert full.faults[1] == "'b' has no output yet; no output is free."


def test_figures_that_are_not_entered_are_said_and_not_judged():
    found = budget(lamps(("a", "white", 10), ("b", None, 1)), DecoderSheet())
    assert found.lines[0].over_by_a is None
    assert found.lines[0].on_sheet is None
    assert (found.there, found.short_by, found.together.verdict) == (None, None, "not known")
    assert found.faults == ("'b' has no output yet; no outputs of your sheet are entered.",)
    assert found.notes == (
        "Your sheet's outputs are not entered, so whether there are enough is not judged.",
        "Your sheet's figure for the most current of one output is not entered, so that is not judged.",
        "Your sheet's figure for the most current of all outputs together is not entered, so that is not judged.",
        "Your sheet's figure for the most current of the whole decoder is not entered, so that is not judged.",
        "All lamps count as on at once, whatever the direction.",
    )
    assert budget(lamps(("a", "white", 10)), DecoderSheet()).in_words == (
        "1 output is needed, and all lamps together draw 10 mA. "
        "What your sheet's missing figures would say is not judged."
    )


def test_without_the_motor_the_whole_is_not_judged():
    found = budget(lamps(("a", "white", 10)), SHEET, sound_a=0.1)
    assert (found.whole.verdict, found.verdict) == ("not known", "not known")
    assert "The current of the motor is not entered: the whole decoder gives more than is counted here." in found.notes


def test_what_may_be_over_at_worst_is_a_doubt_and_no_fault():
    found = budget([Load.of("front", "white", Band(95 * MA, 90 * MA, 104 * MA))], SHEET, sound_a=0, motor_a=0)
    assert (found.faults, found.verdict) == ((), "may be over")
    assert found.doubts == (
        "Output 'white' may be over: at worst 104 mA against 100 mA, 4 mA too much. Measure the current, or lower it.",
    )
    assert found.lines[0].draw.may_be_over_by_a == pytest.approx(4 * MA)


def test_float_noise_is_not_over():
    """0.1 + 0.2 is more than 0.3 as floats."""
    sheet = DecoderSheet(each_a=Known.of(0.3), outputs=("white",))
    found = budget([Load.of("a", "white", 0.1), Load.of("b", "white", 0.2)], sheet)
    assert found.lines[0].over_by_a == 0
    assert found.lines[0].verdict == "within"


@given(st.floats(0.001, 1), st.floats(0, 0.5), st.floats(0, 0.5), st.floats(0.001, 1), st.floats(0, 0.5))
def test_a_verdict_follows_the_ends_of_both_bands(current, less, more, limit_a, within):
    draw = Draw(Band(current, current * (1 - less), current * (1 + more)), Known.of(limit_a, within=limit_a * within))
    if current > limit_a + 1e-8:
        assert draw.verdict == "over"
    elif current * (1 + more) <= limit_a * (1 - within):
        assert draw.verdict == "within"
    elif current < limit_a and current * (1 + more) > limit_a * (1 - within) + 1e-8:
        assert draw.verdict == "may be over"
    assert draw.room_a.low <= draw.room_a.best <= draw.room_a.high


def test_a_budget_without_lamps_is_within():
    found = budget([], SHEET, sound_a=0.1, motor_a=0.2)
    assert (found.needed, found.verdict) == (0, "within")


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: budget(lamps(("a", "white", 1), ("a", None, 1)), SHEET),
            OutOfRange,
            "the name of a lamp is 'a' twice; it must be given once. Rename one of them.",
        ),
        (
            lambda: budget([], SHEET, motor_a="500 mA"),
            WrongKind,
            (
                "the current of the motor is '500 mA'; expected a plain number of A. "
                "Write it as a number of A, or read text with parse_quantity first."
            ),
        ),
        (
            lambda: budget([], SHEET, sound_a=-0.1),
            OutOfRange,
            "the current of the sound is -0.1 A; it must be 0 A or more. Check the figure behind it.",
        ),
    ],
)
def test_what_is_no_budget_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


@pytest.mark.parametrize(("more", "saved"), [(0, False), (SAME, True)])
def test_lamps_are_not_to_be_brought_down_to_float_noise(more, saved):
    """Too much by hardly more than noise itself, so that what is left of the lamps is exactly that in floats."""
    over = SAME + 2 * ulp(SAME)
    assert (SAME + over) - over == SAME
    lit = Band.over([SAME + over + more])
    (said,) = whole_over(Draw(Band.over([over + SAME]), Known.of(SAME)), lit)
    assert ("Bring all lamps together down to " in said) is saved
    assert said.endswith("No saving on the lamps is enough: take a decoder that gives more.") is not saved


def test_all_that_may_be_over_at_worst_is_said():
    sheet = DecoderSheet(
        each_a=Known(0.1, 0.09, 0.11), all_a=Known.of(0.102), whole_a=Known.of(0.2), outputs=("white",)
    )
    found = budget(
        [Load.of("front", "white", Band(0.095, 0.09, 0.104))], sheet, sound_a=Band(0.05, 0.05, 0.1), motor_a=0
    )
    assert (found.faults, found.verdict) == ((), "may be over")
    end = "Measure the current, or lower it."
    assert found.doubts == (
        f"Output 'white' may be over: at worst 104 mA against 90 mA, 14 mA too much. {end}",
        f"All lamps together may be over: at worst 104 mA against 102 mA, 2 mA too much. {end}",
        f"The whole decoder may be over: at worst 204 mA against 200 mA, 4 mA too much. {end}",
    )
    assert found.in_words == (
        "1 of 1 outputs are needed, and all lamps together draw 95 mA (90 mA to 104 mA). With every limit at its worst "
        "it may be too much: measure the currents."
    )


@pytest.mark.parametrize(
    ("limit_ma", "percent"), [(0.9, "less than 1 %"), (1, "1 %"), (1.9, "1 %"), (2, "2 %"), (99.9, "99 %")]
)
def test_the_share_of_a_current_that_is_left_is_told_in_whole_percent(limit_ma, percent):
    """Of 100 mA."""
    (said,) = budget(
        lamps(("front", "white", 100)), DecoderSheet(each_a=Known.of(limit_ma * MA), outputs=("white",))
    ).faults
    assert said.endswith(f" Give it {percent} of that current or less.")


def test_one_lamp_alone_on_an_output_has_nowhere_to_go():
    (said,) = budget(lamps(("front", "white", 120)), SHEET, sound_a=0, motor_a=0).faults
    assert said == (
        "Output 'white' may give 100 mA and 'front' draws 120 mA: 20 mA too much. Give it 83 % of that current or less."
    )


def test_a_free_output_without_a_limit_is_not_offered():
    sheet = DecoderSheet(outputs=("white", "free"), own_a=(("white", Known.of(0.1)),))
    (said,) = budget(lamps(("a", "white", 90), ("b", "white", 30)), sheet).faults
    assert "which is free" not in said
    with_limit = DecoderSheet(each_a=Known.of(0.03), outputs=("white", "free"), own_a=(("white", Known.of(0.1)),))
    (said,) = budget(lamps(("a", "white", 90), ("b", "white", 30)), with_limit).faults
    assert "Hang 'b' on 'free', which is free, or give each" in said


def test_the_least_lamp_that_helps_is_the_one_to_move():
    """130 mA on 100: without the one of 10 mA it is still 120; the one of 40 mA is the least that helps."""
    (said,) = budget(
        lamps(("a", "white", 80), ("b", "white", 10), ("c", "white", 40)), SHEET, sound_a=0, motor_a=0
    ).faults
    assert "Hang 'c' on 'yellow', which is free" in said


def test_all_is_within_only_where_the_outputs_are_entered_too():
    figures = {"each_a": Known.of(0.1), "all_a": Known.of(0.2), "whole_a": Known.of(1.0)}
    lit = lamps(("a", "white", 10))
    assert budget(lit, DecoderSheet(**figures), sound_a=0, motor_a=0).verdict == "not known"
    assert budget(lit, DecoderSheet(**figures, outputs=("white",)), sound_a=0, motor_a=0).verdict == "within"
    for field in figures:
        left = {name: figure for name, figure in figures.items() if name != field}
        found = budget(lit, DecoderSheet(**left, outputs=("white",)), sound_a=0, motor_a=0)
        assert found.verdict == "not known"
    # An output that nothing hangs on needs no limit.
    own = DecoderSheet(**{**figures, "each_a": None}, outputs=("white", "free"), own_a=(("white", Known.of(0.1)),))
    found = budget(lit, own, sound_a=0, motor_a=0)
    assert found.verdict == "within"
    assert found.notes == ("All lamps count as on at once, whatever the direction.",)


def test_outputs_in_words_of_one_and_of_several():
    assert budget(lamps(("a", "white", 10), ("b", "yellow", 10)), DecoderSheet()).in_words.startswith(
        "2 outputs are needed, and all lamps together draw 20 mA."
    )
    assert budget(lamps(("a", "white", 10)), SHEET, sound_a=0, motor_a=0).in_words.startswith(
        "1 of 4 outputs are needed"
    )
    found = budget(lamps(("a", None, 10)), DecoderSheet(outputs=("white", "yellow")))
    assert found.faults == ("'a' has no output yet; 'white' and 'yellow' are free.",)
    found = budget(lamps(("a", None, 10), ("b", None, 10), ("c", None, 10)), DecoderSheet(outputs=("white",)))
    assert found.faults[0].startswith("3 outputs are needed and the decoder has 1: 2 too few. Let 2 lamps share")
    found = budget(lamps(("a", "white", 210)), SHEET, sound_a=0, motor_a=0)
    assert found.in_words.endswith("2 things must change before it is wired.")


def test_what_is_in_the_current_of_the_whole_decoder():
    sheet = DecoderSheet(whole_a=Known.of(0.05), outputs=("white",))
    lit = lamps(("a", "white", 90))
    for given_a, said in (
        ({}, "the lamps alone draw 90 mA: 40 mA too much. Bring all lamps together down to 50 mA"),
        ({"sound_a": 0.01}, "lamps and sound draw 100 mA: 50 mA too much. Bring all lamps together down to 40 mA"),
        ({"motor_a": 0.05}, "lamps and motor draw 140 mA: 90 mA too much. No saving on the lamps is enough"),
    ):
        assert said in budget(lit, sheet, **given_a).faults[0]
    assert budget(lit, sheet).notes[-2] == (
        "The current of the sound and motor is not entered: the whole decoder gives more than is counted here."
    )
