"""What stands beside a field is what the plan makes of it, also with a rule of another scale. Invented numbers."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, changed, job

from modelmath import plan
from modelmath.job import to_scale
from modelmath.job.document import Job
from modelmath.job.entries.screen import Outcome, entries_of, read_entries
from modelmath.lengths.text import format_length

SCALES = ("N", "HO", "OO", "S", "O")


def typed(base: Job, **texts: str) -> Outcome:
    return read_entries({**entries_of(base), **texts}, base)


def first_mm(echo: str) -> str:
    """The length that an echo begins with, or holds."""
    found = re.search(r"-?\d+\.\d\d mm", echo)
    assert found is not None
    return found[0]


@pytest.mark.parametrize("wanted", SCALES)
@pytest.mark.parametrize("name", DEMOS)
def test_each_echo_is_what_the_plan_makes_of_it(name, wanted):
    new = to_scale(DEMOS[name], wanted)
    for zone, entry in enumerate(new.zones):
        found = read_entries(entries_of(new, zone), new, zone)
        assert (found.messages, found.job) == ({}, new)
        made = plan(new)
        rule = made.marks.rule
        lengths = {
            "zero_offset": rule.offset_mm,
            "graduation": rule.graduation_mm,
            "rule_length": rule.length_mm,
            "finest": rule.given_mm(new.marking.finest),
            "keep": Fraction(made.limits.clearance_mm) - made.bench.varying.takes_mm,
        }
        for field, reading in (("chassis", entry.chassis_top), ("shell", entry.underside)):
            if reading is not None:
                lengths[field] = made.bench.readings[reading].measured.exact_mm
        for field, length in lengths.items():
            if field in found.echoes:
                assert first_mm(found.echoes[field]) == format_length(length, "mm"), field


def test_the_railmotor_taken_to_n_is_read_in_mm_and_its_oo_rule_in_oo_feet():
    """An OO foot is 4 mm: zero 1/2 ft in is 2.00 mm, marks of 1/4 ft 1.00 mm. Roof 27.00 x 76.2/160 = 12.86."""
    found = typed(to_scale(DEMOS["railmotor-oo"], "N"))
    echoes = found.echoes
    assert echoes["shell"] == "12.86 mm above the seat; read in mm, rule: taken over"
    assert echoes["chassis"] == "2.86 mm above the seat; read in mm, rule: taken over"
    assert echoes["zero_offset"] == "2.00 mm from the rule's end to its zero"
    assert (echoes["graduation"], echoes["finest"]) == ("1.00 mm", "parts are cut to every 0.50 mm")
    assert echoes["rule_unit"] == "figures on the rule count OO scale ft"


def test_the_job_s_own_scale_is_not_named():
    found = typed(DEMOS["railmotor-oo"])
    assert found.echoes["rule_unit"] == "figures on the rule count scale ft"
    assert found.echoes["shell"] == "27.00 mm above the seat: 25.00 mm and 2.00 mm for the rule's zero"


@settings(max_examples=30, deadline=None)
@given(
    quarters=st.integers(8, 200),
    unit=st.sampled_from(["scale foot", "scale inch", "mm"]),
    own=st.sampled_from(SCALES),
    offset=st.sampled_from(["0", "1/2", "3"]),
    error=st.sampled_from([0.0, 0.004]),
)
def test_a_number_typed_counts_the_unit_and_zero_of_its_reading_s_rule(quarters, unit, own, offset, error):
    rules = [
        changed()["rules"][0],
        {"name": "other", "unit": unit, "scale": own, "graduation": "1/4", "zero_offset": offset, "scale_error": error},
    ]
    readings = [{"name": "roof", "mark": "9 1/4", "rule": "other"}, {"name": "motor top", "mark": "5 1/2"}]
    found = typed(job(rules=rules, readings=readings), shell=f"{quarters / 4}", keep="0 mm", chassis="0")
    assert found.job is not None
    reading = found.job.readings[0]
    assert (reading.mark, reading.rule) == (f"{quarters / 4}", "other")
    made = plan(found.job).bench.readings["roof"].measured.exact_mm if quarters > 160 else None
    foot = {"N": "1.905", "HO": "3.5", "OO": "4", "S": "4.7625", "O": "6.35"}[own]  # 304.8 mm / ratio; HO 3.5 by NEM
    size = {"mm": Fraction(1), "scale foot": Fraction(foot), "scale inch": Fraction(foot) / 12}[unit]
    right = (Fraction(quarters, 4) + Fraction(offset)) * size * (1 + Fraction(str(error)))
    assert first_mm(found.echoes["shell"]) == format_length(right, "mm")
    assert made is None or made == right


def test_a_bare_clearance_counts_the_rule_s_feet_and_is_kept_as_a_length():
    """1/4 OO foot is 1 mm, in a job of N as well."""
    new = to_scale(DEMOS["railmotor-oo"], "N")
    found = typed(new, keep="1/4")
    assert found.job is not None
    assert found.job.clearance.keep == "1 mm"
    assert found.echoes["keep"] == "1.00 mm kept between bulkhead and chassis"
    assert plan(found.job).gap.clearance_mm == 1
    assert typed(DEMOS["railmotor-oo"], keep="1/4").job.clearance.keep == "1/4 scale ft"


def test_a_rule_of_a_scale_that_is_not_known_is_said_beside_the_field():
    rules = [{**changed()["rules"][0], "scale": "QQ"}]
    found = typed(job(rules=rules))
    assert found.job is None
    assert "QQ" in found.messages["zero_offset"]


def test_a_new_zero_is_read_in_the_rule_s_own_feet():
    new = to_scale(DEMOS["railmotor-oo"], "N")
    found = typed(new, zero_offset="3/4")
    assert found.job is not None
    assert found.echoes["zero_offset"] == "3.00 mm from the rule's end to its zero"
    assert plan(found.job).marks.rule.offset_mm == 3
