"""A rule found again from gauges: exactly where readings are exact, and as surely as it says where they are not."""

from __future__ import annotations

import re
from fractions import Fraction
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration import Gauge, calibrate
from modelmath.lengths.rules import Rule

SIZES = (2.0, 5.0, 9.0, 14.0, 22.0, 35.0)
OFFSETS = st.fractions(-1, 4, max_denominator=64)
ERRORS = st.fractions(Fraction(-3, 100), Fraction(3, 100), max_denominator=1000)


def whole(text):
    return f"^{re.escape(text)}$"


def rule(**fields):
    return Rule(**{"scale": "HO", "graduation": "1/4", "read_to": "1/16", "name": "HO rule", **fields})


def read(size_mm, offset_mm, error, datum="end"):
    """Return the mark at which a rule of known faults shows a size, exact, in HO scale feet."""
    shown_mm = Fraction(size_mm) / (1 + Fraction(error)) - (Fraction(offset_mm) if datum == "end" else 0)
    return shown_mm / Fraction(7, 2)


def gauges(offset_mm, error, sizes=SIZES, datum="end", **fields):
    return [Gauge(f"{size} mm", size, read(size, offset_mm, error, datum), datum, **fields) for size in sizes]


# What exact readings tell.


@given(OFFSETS, ERRORS)
def test_a_rule_is_found_again_from_exact_readings(offset, error):
    found = rule().calibrate(gauges(offset, error, tolerance_mm=0.02))
    assert found.finds == "both"
    assert found.offset_mm == pytest.approx(float(offset), abs=1e-9)
    assert found.scale_error == pytest.approx(float(error), abs=1e-10)
    assert found.consistent
    assert found.disagreeing == ()
    assert all(abs(each.residual_mm) < 1e-9 for each in found.residuals)


@given(OFFSETS, ERRORS)
def test_one_gauge_from_the_end_tells_the_offset_with_the_scale_error_as_stated(offset, error):
    stated = rule(scale_error=float(error), scale_error_uncertainty=0.002)
    found = stated.calibrate(gauges(offset, Fraction(str(float(error))), sizes=(20.0,)))
    assert found.finds == "offset"
    assert found.offset_mm == pytest.approx(float(offset), abs=1e-9)
    assert (found.scale_error, found.scale_error_u) == (pytest.approx(float(error)), 0.002)
    # length = size there, whatever the scale error: offset = size / (1 + error) - mark
    reading, tilt = stated.reading_u_mm, 20.0 / (1 + float(error)) ** 2 * 0.002
    assert found.offset_u_mm == pytest.approx(sqrt(reading**2 + tilt**2))
    assert found.centroid_mm == pytest.approx(float(read(20, offset, error)) * 3.5, abs=1e-4)
    assert found.verdict.startswith("No verdict on the gauges:")


@given(ERRORS)
def test_gauges_from_the_zero_mark_tell_the_scale_error_alone(error):
    stated = rule(zero_offset="3/4", offset_uncertainty="1/16")
    found = stated.calibrate(gauges(0, error, datum="zero"))
    assert found.finds == "scale error"
    assert found.scale_error == pytest.approx(float(error), abs=1e-10)
    assert (found.offset_mm, found.offset_u_mm) == (pytest.approx(2.625), pytest.approx(3.5 / 16))
    assert found.correlation == pytest.approx(0, abs=1e-9)
    assert found.rule.calibrated_at_mm is None
    assert "No gauge was read from the rule's end" in found.found


@given(OFFSETS, ERRORS)
def test_one_from_the_end_and_some_from_the_zero_mark_tell_both(offset, error):
    mixed = [*gauges(offset, error, sizes=(9.0,)), *gauges(0, error, datum="zero")]
    found = rule().calibrate(mixed)
    assert (found.finds, found.dof) == ("both", 5)
    assert found.offset_mm == pytest.approx(float(offset), abs=1e-9)
    assert found.scale_error == pytest.approx(float(error), abs=1e-10)


def test_what_was_found_is_said():
    said = rule().calibrate(gauges(2, 0)).found
    assert said == "Found from 6 gauges: how far zero stands in, and the scale error."
    said = rule().calibrate(gauges(2, 0, sizes=(9.0,))).found
    kept = "it is kept as the rule states it."
    assert said == f"Found from 1 gauge: how far zero stands in. One gauge can't tell the scale error; {kept}"
    same = [Gauge("a", 9.0, "2"), Gauge("b", 9.0, "2 1/16")]
    said = rule().calibrate(same).found
    assert said == f"Found from 2 gauges: how far zero stands in. Gauges of one size can't tell the scale error; {kept}"
    said = rule().calibrate(gauges(2, 0, sizes=(9.0, 10.0))).found
    assert said == (
        "Found from 2 gauges: how far zero stands in. The gauges lie too close together for the scale error, "
        f"which they tell to 8.9 % only; {kept}"
    )


def test_gauges_from_zero_that_are_too_short_are_left_out_and_it_is_said():
    near = [*gauges(2, 0, sizes=(9.0,)), *gauges(0, 0, sizes=(1.0,), datum="zero")]
    found = rule().calibrate(near)
    assert (found.finds, len(found.gauges)) == ("offset", 1)
    assert "those read from the zero mark are left out" in found.found


# What can't be told is refused.


def test_no_gauge_is_refused():
    message = "the calibration is without a gauge; it must be of one gauge or more. "
    with pytest.raises(OutOfRange, match=whole(f"{message}Read a drill shank or another known length.")):
        calibrate(rule(), [])


def test_a_scale_error_from_a_gauge_that_is_too_short_is_refused():
    message = "the scale error is known to 6.3 % only; it must be known to 5 %. Read a longer one."
    with pytest.raises(OutOfRange, match=whole(message)):
        calibrate(rule(), gauges(0, 0, sizes=(1.0,), datum="zero"))


def test_a_scale_error_beyond_that_of_any_rule_is_refused_when_put_into_one():
    found = rule().calibrate(gauges(2, Fraction(1, 4)))  # read with a rule of another scale
    assert found.scale_error == pytest.approx(0.25)
    message = (
        "HO rule: scale error is 25.0%; it must be within 10 % of 0. "
        "Check the rule's scale and unit, and the sizes of the gauges."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        _ = found.rule


def test_an_offset_does_not_go_with_a_scale_error_that_is_taken_to_be_known():
    """One gauge, read with a rule whose scale is taken to be right: half a mark of 1 mm is all that is not known."""
    found = Rule(unit="mm", graduation="1").calibrate([Gauge("block", 20, "18")])
    assert (found.offset_mm, found.scale_error_u, found.correlation) == (2, 0, 0)
    assert found.offset_u_mm == pytest.approx(1 / sqrt(12))


# How sure it is.


def test_two_gauges_by_hand():
    """Two exact gauges 20 mm apart: u of the slope is u * sqrt(2) / 20, u halfway is u / sqrt(2)."""
    found = Rule(unit="mm", graduation="0.5").calibrate([Gauge("a", 5.0, "4"), Gauge("b", 25.0, "24")])
    u = 0.5 / sqrt(12)
    assert found.scale_error_u == pytest.approx(u * sqrt(2) / 20)
    assert (found.centroid_mm, found.centroid_u_mm) == (pytest.approx(14), pytest.approx(u / sqrt(2)))
    assert found.offset_u_mm == pytest.approx(sqrt(u**2 / 2 + (15 * found.scale_error_u) ** 2))
    assert found.u_at_mm(24) == pytest.approx(u)
    assert found.correlation == pytest.approx(-15 * found.scale_error_u / found.offset_u_mm)
    assert (found.dof, found.chance, found.consistent, found.birge_ratio) == (0, None, None, None)


def test_a_caliper_shared_by_the_strips_makes_the_offset_no_surer_with_more_of_them():
    """JCGM 100:2008, 5.2: what is common to all sizes does not average out."""
    zero_of_caliper = ufloat(0.0, 0.2)
    fine = rule(reading_uncertainty="0.001 mm")
    shared = [Gauge(f"{size}", size + zero_of_caliper, read(size, 2, 0)) for size in SIZES]
    own = [Gauge(f"{size}", ufloat(size, 0.2), read(size, 2, 0)) for size in SIZES]
    assert fine.calibrate(shared).offset_u_mm == pytest.approx(0.2, rel=1e-3)
    assert fine.calibrate(own).offset_u_mm < 0.14
    assert fine.calibrate(shared).scale_error_u < fine.calibrate(own).scale_error_u / 20


def test_scatter_widens_the_uncertainties_by_the_birge_ratio():
    shifts = [Fraction(sign, 40) for sign in (1, -1, -1, 1, -1, 1)]  # of 0.09 mm, 1.4 standard uncertainties
    wild = [Gauge(f"{size}", size, read(size, 2, 0) + shift) for size, shift in zip(SIZES, shifts, strict=True)]
    found, calm = rule().calibrate(wild), rule().calibrate(gauges(2, 0))
    assert found.birge_ratio > 1.5
    assert found.offset_u_mm == pytest.approx(calm.offset_u_mm * found.birge_ratio, rel=0.05)
    assert not found.consistent
    assert found.disagreeing == ()
    assert found.verdict == (
        "The gauges scatter more than they should, though none stands out; "
        f"the uncertainties are widened by {found.birge_ratio:.1f}."
    )
    # JCGM 100:2008, equation H.13f: s from the residuals and n - 2.
    squares = sum(each.residual_mm**2 for each in found.residuals)
    assert found.deviation_mm == pytest.approx(sqrt(squares / 4))
    assert found.chi_square == pytest.approx(4 * found.birge_ratio**2)
    assert calm.enlarged_by == 1


def test_what_the_rule_states_of_itself_is_no_prior():
    plain = rule().calibrate(gauges(2, 0))
    stated = rule(scale_error_uncertainty=0.0001, offset_uncertainty="0.01 mm").calibrate(gauges(2, 0))
    assert (stated.scale_error_u, stated.offset_u_mm) == (plain.scale_error_u, plain.offset_u_mm)


@given(st.floats(-1, 3), OFFSETS)
def test_gauges_longer_by_the_same_move_the_offset_by_as_much(more, offset):
    marks = [read(size, offset, 0) for size in SIZES]
    found = rule().calibrate([Gauge(f"{size}", size + more, mark) for size, mark in zip(SIZES, marks, strict=True)])
    assert found.offset_mm == pytest.approx(float(offset) + more, abs=1e-9)
    assert found.scale_error == pytest.approx(0, abs=1e-9)


@given(st.permutations(range(6)), st.integers(0, 2**32 - 1))
def test_the_order_of_the_gauges_does_not_matter(order, seed):
    shifts = np.random.default_rng(seed).normal(0, 0.05, 6)
    some = [Gauge(f"{size}", size + shift, read(size, 2, 0)) for size, shift in zip(SIZES, shifts, strict=True)]
    one, other = rule().calibrate(some), rule().calibrate([some[place] for place in order])
    assert (one.offset_mm, one.scale_error) == pytest.approx((other.offset_mm, other.scale_error), abs=1e-10)
    assert one.offset_u_mm == pytest.approx(other.offset_u_mm)


def test_the_same_gauge_read_again_shares_its_size():
    """Its tolerance does not average out, so that ten readings of one leaf tell no more than its size is known."""
    fine = rule(reading_uncertainty="0.001 mm")
    leaf = Gauge("leaf", 9.0, "2", tolerance_mm=0.3)
    assert fine.calibrate([leaf] * 10).offset_u_mm == pytest.approx(0.3 / sqrt(3), rel=1e-3)
    others = [Gauge(f"leaf {number}", 9.0, "2", tolerance_mm=0.3) for number in range(10)]
    assert fine.calibrate(others).offset_u_mm == pytest.approx(0.3 / sqrt(30), rel=1e-3)


def test_found_again_as_often_as_the_uncertainty_says():
    """Rules of random faults, gauges of random errors, marks rounded as they are read: unit spread, no bias."""
    rng = np.random.default_rng(19_930_301)
    trials, read_to, tolerance = 1200, Fraction(1, 8), 0.05
    z = np.empty((trials, 3))
    subject = rule(read_to="1/8")
    for trial in range(trials):
        offset, error = rng.uniform(0, 4), rng.uniform(-0.02, 0.02)
        some = []
        # Sizes drawn anew: those of one fixed set are rounded alike wherever zero stands.
        for number, size in enumerate(SIZES + rng.uniform(-1, 1, 6)):
            true = size + rng.uniform(-tolerance, tolerance)
            mark = (true / (1 + error) - offset) / 3.5
            some.append(Gauge(f"{number}", size, round(mark / read_to) * read_to, tolerance_mm=tolerance))
        found = subject.calibrate(some)
        at = found.centroid_mm
        true_at, found_at = (at + offset) * (1 + error), (at + found.offset_mm) * (1 + found.scale_error)
        z[trial] = [
            (found.offset_mm - offset) / found.offset_u_mm,
            (found.scale_error - error) / found.scale_error_u,
            (found_at - true_at) / found.centroid_u_mm,
        ]
        z[trial] *= found.enlarged_by  # back to what sizes and readings alone say
    # Of 1200, a mean strays by 1 / sqrt(1200) = 0.029 and a spread by about 0.02; four times that is allowed.
    assert abs(z.mean(axis=0)).max() < 4 * 0.029
    assert z.std(axis=0) == pytest.approx([1, 1, 1], abs=4 * 0.0205)


# A gauge that disagrees.


def with_a_wrong_one(by_mm=0.8):
    return [
        Gauge(name, size + (by_mm if name == "#43 drill shank" else 0), read(size, 2, 0))
        for name, size in zip(("#60", "#52", "leaves", "#43 drill shank", "strip", "bar"), SIZES, strict=True)
    ]


def test_a_gauge_that_disagrees_is_named_with_how_far_and_still_counts():
    found = rule().calibrate(with_a_wrong_one())
    (odd,) = found.disagreeing
    assert (odd.gauge.name, odd.by_mm) == ("#43 drill shank", pytest.approx(0.8, abs=1e-3))
    assert found.verdict.startswith("#43 drill shank (0.80 ± 0.07 mm longer than its reading says) disagrees with")
    assert len(found.residuals) == 6
    assert found.differences[3].nominal_value == odd.by_mm
    assert found.residuals[3].left.nominal_value == pytest.approx(found.residuals[3].residual_mm)
    for gauge, residual in zip(found.gauges, found.residuals, strict=True):  # JCGM 100:2008, 5.1.2: root of squares
        read_mm = found.line.slope * found.seen[found.gauges.index(gauge)][1].u_mm
        assert residual.u_mm**2 == pytest.approx(gauge.size_mm.std_dev**2 + read_mm**2)
    assert found.scale_error != pytest.approx(0, abs=1e-4)
    clean = found.without_disagreeing
    assert (clean.offset_mm, clean.scale_error) == (pytest.approx(2), pytest.approx(0, abs=1e-12))
    assert clean.without_disagreeing is None


def test_two_that_disagree_are_both_named():
    some = with_a_wrong_one()
    some[0] = Gauge("#60", 1.2, read(2, 2, 0))
    found = rule().calibrate(some)
    assert {each.gauge.name for each in found.disagreeing} == {"#60", "#43 drill shank"}
    assert " and " in found.verdict
    assert "disagree with the others" in found.verdict


def test_three_that_disagree_can_not_tell_which():
    found = rule().calibrate(with_a_wrong_one()[2:5])
    assert found.disagreeing == ()
    assert found.verdict == ("The gauges disagree, and it can't be told which is wrong: read them again, or one more.")


def test_for_the_offset_alone_two_check_each_other_and_three_tell():
    two = [Gauge("a", 9.0, "2"), Gauge("b", 9.0, "2 1/4")]
    assert "can't be told which" in rule().calibrate(two).verdict
    three = [*two, Gauge("c", 9.0, "2")]
    assert [each.gauge.name for each in rule().calibrate(three).disagreeing] == ["b"]


def test_gauges_that_agree_are_said_to():
    assert rule().calibrate(gauges(2, 0)).verdict == "The gauges agree with each other."


# What goes into the rule.


@given(OFFSETS, ERRORS, st.sampled_from(["end", "zero"]))
def test_the_new_rule_measures_as_the_line_says(offset, error, datum):
    found = rule(length="80").calibrate(gauges(offset, error, tolerance_mm=0.02))
    new = found.rule
    for mark in ("1/2", "4", "9 3/4"):
        length, shown = new.length(mark, datum), float(new.mark_mm(mark))
        line = (shown + (float(offset) if datum == "end" else 0.0)) * (1 + float(error))
        u = found.u_at_mm(shown) if datum == "end" else shown * found.scale_error_u
        reading = new.reading_u_mm * (1 + found.scale_error)
        assert length.nominal_value == pytest.approx(line, abs=2e-4)
        assert length.std_dev == pytest.approx(sqrt(u**2 + reading**2), rel=1e-3)


def test_the_new_rule_is_the_old_one_but_for_what_was_found():
    old = rule(length="80", reading_uncertainty="0.05 mm", kind="steel rule")
    new = old.calibrate(gauges(2, 0)).rule
    for name in ("unit", "scale", "graduation_mm", "length_mm", "reading_u_mm", "read_to_mm", "name", "kind", "reads"):
        assert getattr(new, name) == getattr(old, name), name
    assert float(new.offset_mm) == pytest.approx(2, abs=3.5e-6)


def test_a_rule_calibrated_again_finds_itself():
    first = rule().calibrate(gauges(2, Fraction(1, 100)))
    again = first.rule.calibrate(gauges(2, Fraction(1, 100)))
    assert again.fields == first.fields


def test_fields_are_rounded_to_a_millionth_of_the_rules_unit():
    fields = rule().calibrate(gauges(2, Fraction(1, 300))).fields
    assert (fields["zero_offset"], fields["scale_error"]) == ("0.571429", 0.003333)
    assert set(fields) == {
        "zero_offset", "offset_uncertainty", "scale_error", "scale_error_uncertainty", "calibrated_at",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (Fraction(1, 500), "the rule shows 0.20 % too little"),
        (Fraction(-1, 500), "the rule shows 0.20 % too much"),
        (0, "the rule shows neither too little nor too much"),
    ],
)
def test_the_scale_error_in_words(error, words):
    assert rule().calibrate(gauges(2, error)).scale_words == words


def test_a_gauge_that_disagrees_is_off_by_what_the_line_without_it_says():
    """The amount shown is that of the line printed beside it, not of one that the bad gauge has tilted."""
    rule = Rule(scale="HO", graduation="1/4", read_to="1/16")
    good = [(3.26, "3/16"), (5.79, "7/8"), (9.50, "1 15/16"), (15.84, "3 3/4"), (24.06, "6 1/8"), (41.75, "11 1/8")]
    gauges = [Gauge(f"gauge {size}", Fraction(str(size)), mark, tolerance_mm=0.02) for size, mark in good]
    found = rule.calibrate([*gauges, Gauge("bad one", Fraction(30), "10 1/8", tolerance_mm=0.03)])
    (bad,) = found.disagreeing
    without = found.without_disagreeing
    told = (10.125 * 3.5 + without.offset_mm) * (1 + without.scale_error)
    assert bad.by_mm == pytest.approx(30 - told)
    assert found.differences[-1].n == pytest.approx(30 - told)
    # Its own size and reading, and the line through the others at its mark, each independent: JCGM 100:2008, 5.1.2.
    reading_u = rule.reading_u_mm * (1 + without.scale_error)
    expected = (0.03**2 / 3 + reading_u**2 + without.u_at_mm(10.125 * 3.5) ** 2) ** 0.5
    assert bad.u_mm == pytest.approx(expected)


def test_a_longer_gauge_that_reads_less_than_a_shorter_one_is_refused():
    message = (
        "the reading of b, the longer gauge, is less than that of a, the shorter one; it must be more. "
        "Check the sizes and marks of both."
    )
    for mark in ("1", "99 3/4"):
        with pytest.raises(OutOfRange, match=whole(message)):
            rule().calibrate([Gauge("a", 5.0, "100"), Gauge("b", 50.0, mark)])


def test_two_of_nearly_one_size_may_scatter_the_wrong_way_round():
    found = rule().calibrate([Gauge("a", 9.0, "2 1/16"), Gauge("b", 9.01, "2")])
    assert found.finds == "offset"
