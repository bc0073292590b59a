"""A rule's gauges in the document: checked, compared with its fields, and named where they disagree."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS, SMALLEST, job

from modelmath import plan
from modelmath.job.bench.bench import Bench
from modelmath.job.calibration import calibration_of, calibration_warnings, gauges_of

RULE = {"name": "steel rule", "unit": "mm", "graduation": "0.5"}


def gauge(size, mark, name="", **fields):
    return {"name": name or size, "rule": "steel rule", "size": size, "mark": mark, **fields}


GAUGES = [gauge("6 mm", "5"), gauge("31 mm", "30"), gauge("61 mm", "60"), gauge("101 mm", "100")]
AGAIN = "calibrate it again, or take its gauges out."


def warned(*gauges, **rule):
    made = job(rules=[SMALLEST["rules"][0], {**RULE, **rule}], gauges=list(gauges))
    return list(calibration_warnings(plan(made)))


def test_the_demo_s_rule_says_what_its_gauges_give():
    found = plan(DEMOS["railbus-ho"])
    fit, rule = calibration_of(found, "scale rule"), found.bench.rules["scale rule"]
    assert [each.name for each in gauges_of(found, "scale rule")] == [each.name for each in DEMOS["railbus-ho"].gauges]
    assert float(rule.offset_mm) == pytest.approx(fit.offset_mm, abs=1e-4)
    assert float(rule.offset_uncertainty_mm) == pytest.approx(fit.offset_u_mm, abs=1e-4)
    assert float(rule.scale_error) == pytest.approx(fit.scale_error, abs=2e-6)
    assert rule.scale_error_uncertainty == pytest.approx(fit.scale_error_u, abs=2e-6)
    assert float(rule.pivot_mm) == pytest.approx(fit.centroid_mm, abs=1e-3)
    for mark in (0.0, 20.0, 100.0):
        assert rule.length(mark / 3.5).std_dev ** 2 - (rule.reading_u_mm * 1.001594) ** 2 == pytest.approx(
            fit.u_at_mm(mark) ** 2, rel=1e-3
        )
    assert list(calibration_warnings(found)) == []
    assert found.figures["rule: scale rule"].how == "as entered, from a calibration on 5 known sizes"


def test_a_rule_without_gauges_was_not_calibrated():
    found = plan(job())
    assert calibration_of(found, "scale rule") is None
    assert gauges_of(found, "scale rule") == []
    assert list(calibration_warnings(found)) == []


def test_fields_that_the_gauges_don_t_give_are_said():
    assert warned(*GAUGES, zero_offset="1") == []
    assert warned(*GAUGES) == [
        f"The steel rule is entered with its zero 0.00 mm in, while its gauges give 1.00 mm: {AGAIN}"
    ]
    assert warned(*GAUGES, zero_offset="1", scale_error=0.01) == [
        f"The steel rule is entered with a scale error of 1.00%, while its gauges give 0.00%: {AGAIN}"
    ]


def test_a_gauge_that_disagrees_is_named():
    wrong = [*GAUGES[:3], gauge("101 mm", "97", "long strip"), gauge("121 mm", "120"), gauge("46 mm", "45")]
    assert warned(*wrong, zero_offset="1")[-1] == (
        "Among the gauges of the steel rule, long strip disagrees with the others: read again."
    )


def test_one_gauge_gives_the_offset_alone_and_no_word_on_the_scale_error():
    assert warned(GAUGES[0], zero_offset="1", scale_error=0.0) == []


def test_gauges_that_don_t_calibrate_leave_the_other_warnings_standing():
    """A rule off by half is no rule; the gap's own verdict must still be said."""
    mad = [gauge("5 mm", "10"), gauge("50 mm", "100"), gauge("75 mm", "150")]
    made = job(rules=[SMALLEST["rules"][0], RULE], gauges=[gauge("0.2 mm", "0.5", datum="zero")])
    said = plan(made).warnings
    assert said[0].startswith("Usually 0.21 mm stays clear")
    assert any(each.startswith("The gauges of the steel rule don't calibrate it: ") for each in said)
    assert any("scale error" in each for each in warned(*mad))


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ({"rule": "steel"}, "rule: the rule is 'steel'; write 'steel rule'."),
        (
            {"size": "6"},
            "size: '6': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
        ),
        ({"size": "0 mm"}, "size: the length is '0 mm'; it must be above 0. Measure it, and write its size."),
        (
            {"mark": "q"},
            (
                "mark: 'q': it is no number or unit; write a number with a unit, such as 15.9 mm, .040 in or "
                "3 3/4 scale ft."
            ),
        ),
        (
            {"tolerance": "-1 mm"},
            "tolerance: the length is '-1 mm'; it must be 0 or more. Check the sign.",
        ),
    ],
)
def test_a_gauge_that_can_t_be_read_is_a_fault_at_its_place(entry, message):
    made = job(rules=[SMALLEST["rules"][0], RULE], gauges=[GAUGES[1], {**GAUGES[0], "name": "leaf", **entry}])
    assert [str(fault) for fault in Bench(made, "hood.toml").faults] == [f"hood.toml, gauge 2 ('leaf'), {message}"]
