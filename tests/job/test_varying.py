"""Paint, tape, glue, stock and warmth: kept room grows by what they take, and nothing counts twice."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import job, with_chamber

from modelmath import plan
from modelmath.job.bench.bench import Bench
from modelmath.job.bench.varying import Warmth, expansions, usual_terms
from modelmath.tables import rows

TAPE = {"name": "tape", "what": "insulating tape", "layers": 3}


def faults(**fields):
    return [str(fault) for fault in Bench(job(**fields), "hood.toml").faults]


def terms(found):
    return {term.name: term for term in found.gap.stack.terms}


def test_layers_of_the_usual_tape():
    """0.06 mm a layer, give or take 0.01: common practice, no source."""
    found = plan(job(allow=[TAPE]))
    tape = terms(found)["tape, 3 layers, 0.18 mm"]
    assert (tape.nominal_mm, tape.tolerance_mm) == (pytest.approx(-0.18), pytest.approx(0.03))
    assert found.bench.varying.takes_mm == Fraction("0.18")


@given(st.sampled_from(["paint", "glue line", "other"]), st.integers(0, 60), st.integers(1, 6))
def test_the_clearance_kept_grows_by_what_is_taken_and_the_room_left_counts_it_once(what, hundredths, layers):
    entry = {"name": "x", "what": what, "thickness": f"{hundredths / 100} mm", "layers": layers, "tolerance": "0 mm"}
    bare, found = plan(job()), plan(job(allow=[entry]))
    takes = Fraction(hundredths, 100) * layers
    assert found.limits.clearance_mm - bare.limits.clearance_mm == takes
    assert found.gap.kept_mm == bare.gap.kept_mm  # the clearance asked for stays what was asked for
    assert found.gap.left_mm == found.space.exact_mm - found.chamber_height_mm - takes
    assert float(found.gap.left_mm) == pytest.approx(found.gap.stack.nominal)
    assert found.gap.left_mm >= found.gap.kept_mm


def test_a_lower_bulkhead_makes_room_for_what_is_taken():
    """By hand: 3 3/4 ft of space, 1/4 kept, 1 mm of sheet below leaves 11.25 mm, 3 ft on the mark below."""
    found = plan(job(allow=[{"name": "plate", "what": "sheet", "thickness": "1 mm"}]))
    assert found.chamber_height_mm == Fraction("10.5")
    assert found.gap.left_mm == Fraction("13.125") - Fraction("10.5") - 1
    assert "and 1.00 mm that plate take" in found.figures["clearance"].how


def test_what_only_varies_takes_nothing():
    bare, found = plan(job()), plan(job(allow=[{"name": "strip", "what": "strip"}]))
    assert found.gap.left_mm == bare.gap.left_mm
    assert found.gap.stack.worst_case() == pytest.approx(bare.gap.stack.worst_case() + 0.05)
    assert terms(found)["strip"].nominal_mm == 0


def test_every_usual_term_has_its_row_and_source():
    found = [row for _, row in rows("clearance_terms.csv")]
    assert {row["what"] for row in found} == set(usual_terms())
    assert all(row["source"] for row in found)
    assert all(row["source"] for _, row in rows("expansion.csv"))


@pytest.mark.parametrize(
    ("roof", "top", "part", "by_hand"),
    [
        (30, 10, 15, 15 * abs(70e-6 * 15 - 27e-6 * 10)),
        (30, 30, 0, 15 * abs(70e-6 * 30 - 27e-6 * 30)),
        (13, 0, 12, 15 * 70e-6 * 1),
    ],
)
def test_warmth_stretches_roof_part_and_chassis(roof, top, part, by_hand):
    """Lower edge of the part at roof - part, all of the shell's stuff; the chassis top of its own: length x a x K."""
    term = Warmth(15, 70e-6, 27e-6).term(roof, top, part)
    assert (term.nominal_mm, term.tolerance_mm) == (0.0, pytest.approx(by_hand))


def test_warmth_enters_the_stack_once_and_a_change_of_0_not_at_all():
    found = plan(job(temperature={"change": 15.0}))
    height = float(found.chamber_height_mm)
    by_hand = 15 * abs(70e-6 * (35.875 - height) - 27e-6 * 22.75)
    assert terms(found)["warmth"].tolerance_mm == pytest.approx(by_hand)
    assert "warmth" not in terms(plan(job(temperature={"change": 0.0})))


def test_a_shell_and_chassis_of_one_stuff_move_together_but_for_the_room_left():
    found = plan(job(temperature={"change": 30.0, "shell": "brass", "chassis": "brass"}))
    left = float(found.space.exact_mm - found.chamber_height_mm)
    assert terms(found)["warmth"].tolerance_mm == pytest.approx(30 * 19e-6 * left)


def test_an_entry_called_warmth_is_not_taken_for_the_temperature():
    """Its room and tolerance count once at each spot, like those of any other name."""
    for name in ("warmth", "anything"):
        allow = [{"name": name, "tolerance": "0.2 mm"}]
        found = plan(with_chamber(allow=allow, temperature={"change": 15.0}))
        assert found.spots[0].gap.std_dev == pytest.approx(found.gap.stack.standard_uncertainty())


FAULTS = [
    (
        {"allow": [{"name": "a", "what": "paint", "thickness": "2"}]},
        (
            "allowance 1 ('a'), thickness: '2': it has no unit; write a number with a unit, such as 15.9 mm, .040 in "
            "or 3 3/4 scale ft."
        ),
    ),
    (
        {"allow": [{"name": "a", "tolerance": "-0.1 mm"}]},
        "allowance 1 ('a'), tolerance: the length is '-0.1 mm'; it must be 0 or more. Check the sign.",
    ),
    (
        {"allow": [{"name": "a"}, {"name": "a"}]},
        "allowance 2 ('a'), name: the name is 'a'; expected a name that stands once. Give one of the two another.",
    ),
    (
        {"temperature": {"change": 10.0, "shell": "butter"}},
        (
            "temperature, shell: the material of the shell is 'butter'; write 'polystyrene' or 'acrylic' or 'ABS' or "
            "'resin' or 'brass' or 'zinc alloy' or 'steel' or 'aluminium'."
        ),
    ),
    (
        {"temperature": {"change": 10.0, "chassis": "zinc aloy"}},
        "temperature, chassis: the material of the chassis is 'zinc aloy'; write 'zinc alloy'.",
    ),
]


@pytest.mark.parametrize(("fields", "message"), FAULTS)
def test_an_entry_that_makes_no_sense_is_one_fault_at_its_place(fields, message):
    assert faults(**fields) == [f"hood.toml, {message}"]


def test_each_material_expands():
    assert all(1e-6 < each < 2e-4 for each in expansions().values())
