"""A calibration put into a job: its rule and gauges, and what is refused."""

from __future__ import annotations

import re

import pytest
from sample_jobs import job

from modelmath.errors import JobError, OutOfRange, UnknownChoice, WrongKind
from modelmath.job.bench.bench import Bench
from modelmath.job.calibration import calibration_of
from modelmath.job.entries.calibrated import calibrated_job
from modelmath.job.plan import plan
from modelmath.job.storage.files import load_job, save_job
from modelmath.lengths.calibration.pasted_gauges import read_gauges
from modelmath.lengths.rules import Rule

RULE = Rule(scale="HO", graduation="1/4")
# Invented: zero stands in 1 scale ft, no scale error.
GAUGES = "leaf; 7 mm; 1; ±0.02 mm\nshank; 14 mm; 3; ±0.02 mm\nblock; 35 mm; 9; ±0.02 mm\nbar; 49 mm; 13; ±0.02 mm"


def whole(text):
    return f"^{re.escape(text)}$"


def lines(text=GAUGES, rule=RULE):
    good, bad = read_gauges(text, rule)
    assert bad == []
    return good


def calibrated(text=GAUGES, old=None, name="scale rule", rule=RULE):
    return calibrated_job(old or job(), name, rule, lines(text, rule))


def test_the_rule_takes_over_what_was_found_and_keeps_the_rest():
    new, found = calibrated()
    (entry,), (before,) = new.rules, job().rules
    assert (entry.zero_offset, entry.scale_error) == ("1", 0.0)
    assert entry.calibrated_at == "6.5"
    assert float(entry.offset_uncertainty) == pytest.approx(found.offset_u_mm / 3.5, abs=1e-6)
    assert entry.scale_error_uncertainty == pytest.approx(found.scale_error_u, abs=1e-6)
    assert (entry.name, entry.graduation, entry.unit) == (before.name, before.graduation, before.unit)
    assert new.readings == job().readings


def test_the_gauges_go_with_it_as_typed():
    new, _ = calibrated()
    first = new.gauges[0]
    assert (first.name, first.rule, first.size, first.mark, first.tolerance, first.datum) == (
        "leaf", "scale rule", "7 mm", "1", "0.02 mm", "end",
    )  # fmt: skip
    assert len(new.gauges) == 4


def test_the_plan_finds_the_same_again():
    new, found = calibrated()
    again = calibration_of(plan(new), "scale rule")
    assert again.offset_mm == pytest.approx(found.offset_mm, abs=1e-5)
    assert again.scale_error == pytest.approx(found.scale_error, abs=1e-6)
    rule = Bench(new).rules["scale rule"]
    assert rule.length("9").std_dev == pytest.approx(found.rule.length("9").std_dev, rel=1e-4)


def test_a_new_calibration_replaces_the_gauges_of_that_rule_alone():
    other = {"name": "steel", "unit": "mm", "graduation": "0.5"}
    two = job(rules=[job().rules[0].model_dump(), other])
    first, _ = calibrated("leaf; 7 mm; 1", two)
    steel = Rule(unit="mm", graduation="0.5")
    second, _ = calibrated("bar; 20 mm; 20", first, "steel", steel)
    third, _ = calibrated("shank; 14 mm; 3", second)
    assert [(each.rule, each.name) for each in third.gauges] == [("steel", "bar"), ("scale rule", "shank")]


def test_a_calibrated_job_is_saved_and_read_again(tmp_path):
    new, _ = calibrated()
    assert load_job(save_job(new, tmp_path / "test.toml")) == new


def test_what_the_gauges_can_not_tell_stays_as_the_job_has_it():
    stated = job(rules=[{**job().rules[0].model_dump(), "scale_error": 0.002, "scale_error_uncertainty": 0.001}])
    one, _ = calibrated("block; 35.07 mm; 9", stated)
    assert (one.rules[0].scale_error, one.rules[0].scale_error_uncertainty) == (0.002, 0.001)
    zero, _ = calibrated("block; 35 mm; 10; zero\nbar; 49 mm; 14; zero", stated)
    assert (zero.rules[0].zero_offset, zero.rules[0].calibrated_at) == ("1", None)
    assert float(zero.rules[0].offset_uncertainty) * 3.5 == pytest.approx(0.1, abs=1e-5)
    assert zero.rules[0].scale_error == pytest.approx(0, abs=1e-9)


def test_a_size_in_scale_feet_of_another_scale_is_kept_as_mm():
    other = job(scale="N", rules=[{**job().rules[0].model_dump(), "scale": "HO"}])
    new, _ = calibrated("block; 10 scale ft; 9", other)
    assert new.gauges[0].size == "35 mm"


def test_a_rule_that_the_job_does_not_have_is_refused():
    message = "the rule is 'rule'; write one of scale rule. Did you mean 'scale rule'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        calibrated(name="rule")


def test_a_rule_in_another_unit_is_refused():
    message = (
        "the rule read is one in mm; expected one in HO scale ft, as scale rule is in the job. "
        "Choose the rule of the job that the gauges were read with, or set HO scale ft above."
    )
    with pytest.raises(WrongKind, match=whole(message)):
        calibrated("bar; 20 mm; 20", rule=Rule(unit="mm", graduation="0.5"))


def test_a_reading_that_the_calibrated_rule_can_not_have_given_is_refused():
    low = job(readings=[{"name": "roof", "mark": "9 1/4"}, {"name": "motor top", "mark": "-3/4"}])
    message = (
        "the job, reading 2 ('motor top'), mark: the reading is -3/4 scale ft; "
        "it must be on scale rule, which begins at -1/4 scale ft. Read it again."
    )
    with pytest.raises(JobError, match=whole(message)):
        calibrated("leaf; 7 mm; 1 3/4", low)


def test_gauges_too_wild_for_any_rule_are_refused():
    with pytest.raises(OutOfRange, match=r"^scale rule: scale error is 2"):
        calibrated("a; 10 mm; 1\nb; 20 mm; 3\nc; 40 mm; 8\nd; 50 mm; 10")
    wild = "a; 7 mm; 0\nb; 14 mm; 5\nc; 21 mm; 2\nd; 30 mm; 9 1/2\ne; 40 mm; 9"
    with pytest.raises(OutOfRange, match=r"^the scale error is known to ± \d+ % only; it must be known to 10 %\. "):
        calibrated(wild)


def test_more_gauges_than_a_job_holds_are_refused():
    full, _ = calibrated("\n".join(f"leaf {number}; 7 mm; 1" for number in range(200)))
    other = full.model_copy(update={"gauges": [each.model_copy(update={"rule": "gone"}) for each in full.gauges]})
    message = "the gauges is 201; it must be 200 or fewer in a job. Leave some out."
    with pytest.raises(OutOfRange, match=whole(message)):
        calibrated("leaf; 7 mm; 1", other)
