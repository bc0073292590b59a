"""A rule of another scale than the job's is named with every setting. All numbers invented."""

from __future__ import annotations

from fractions import Fraction

import pytest
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.clearance import Marks
from modelmath.job import to_scale
from modelmath.job.rescaled.own_scale import naming_scale, unit_in_words
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale
from modelmath.widgets.plan import views

SIZE = Fraction(11)  # 2 3/4 OO feet of 4 mm


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (Rule(scale="OO", zero_offset="1"), "1 3/4 OO scale ft"),
        (Rule(scale="OO", zero_offset="1", graduation="1/2"), "2 OO scale ft less 1.00 mm"),
        (Rule(scale="OO", zero_offset="3"), "1/4 OO scale ft short of zero, towards the end"),
        (Rule(scale="OO", unit="scale inch", graduation="3"), "33 OO scale in"),
        (Rule(scale="N", zero_offset="0", graduation="1/4"), "5 3/4 scale ft and 0.05 mm"),  # 5.75 x 1.905 = 10.954
        (Rule(unit="mm", graduation="0.5"), "11 mm"),
        (Rule(unit="mm", graduation="0.5", scale="OO"), "11 mm"),
    ],
)
def test_a_setting_names_the_scale_of_its_rule_where_the_job_has_another(rule, said):
    marks = naming_scale(Marks(rule, str(rule.graduation_mm / rule.unit_mm)), scale("N"))
    assert marks.setting(SIZE).text == said


def test_all_else_of_the_marks_is_the_same():
    plain = Marks(Rule(scale="OO", zero_offset="1"), "1/4", "zero")
    named = naming_scale(plain, scale("N"))
    assert (named.down(SIZE), named.up(SIZE)) == (plain.down(SIZE), plain.up(SIZE))
    assert (named.rule, named.finest, named.datum) == (plain.rule, plain.finest, plain.datum)
    assert named.setting(SIZE).mark == plain.setting(SIZE).mark
    assert naming_scale(plain, scale("OO")) is plain


def test_a_unit_without_a_scale_of_its_own_is_not_named():
    assert unit_in_words("scale foot", None, scale("N")) == "scale ft"
    assert unit_in_words("scale foot", scale("OO"), None) == "scale ft"
    assert unit_in_words("mm", scale("OO"), scale("N")) == "mm"


def test_every_setting_of_a_job_taken_to_n_names_the_oo_rule_and_the_sizes_are_in_n_feet():
    """Bulkhead 9.00 mm: 9 / 1.905 = 4.724 N feet, nearest 64th 4 23/32 = 4.719.

    On the OO rule, its zero 1/2 ft in, 9 / 4 - 1/2 = 1 3/4.
    """
    made = plan(to_scale(DEMOS["railmotor-oo"], "N"))
    shown = views.answer(made) + views.summary(made)
    assert "about 4 23/32 scale ft" in shown
    assert "set the rule at 1 3/4 OO scale ft" in shown
    assert all("OO scale ft" in line.setting.text for line in made.lines)
    assert all("OO scale ft" in row.setting.text for row in made.sizes)
    assert made.why("bulkhead setting").figure.value == "1 3/4 OO scale ft"
    assert "OO scale" not in views.answer(plan(DEMOS["railmotor-oo"]))
