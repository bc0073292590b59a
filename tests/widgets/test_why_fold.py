"""Why this number: found by its subject, or by the number that one sees."""

from __future__ import annotations

import re
from html import unescape

import pytest
from sheets import demo

from modelmath.widgets.plan.why_fold import WhyFold


def plain(html: str) -> str:
    """Return what is read."""
    return unescape(re.sub(r"<[^>]+>", "", html)).strip()


@pytest.fixture
def fold() -> WhyFold:
    found = WhyFold()
    found.fold.show(demo())
    found.fold.head.value = True
    return found


def test_a_subject_offers_its_figures_alone(fold):
    fold.subject.value = "readings"
    assert list(fold.figure.control.options)[:2] == ["reading: hood roof", "reading: top of the front weight"]
    assert plain(fold.why.value).startswith("reading: hood roof = 32.81 ± 0.18 mm")
    fold.figure.value = "reading: hood inside, width"
    assert plain(fold.why.value).startswith("reading: hood inside, width = 18.50 ± 0.15 mm")


def test_a_number_one_sees_gives_the_figures_that_carry_it_its_own_first(fold):
    fold.seen.value = "0.39 mm"
    assert (fold.subject.value, fold.figure.value) == ("depths and room left", "room left, usually and at worst")
    assert "figures carry it" in plain(fold.seen.message) or "figure carries it" in plain(fold.seen.message)
    assert "0.39 mm usually" in plain(fold.why.value)


def test_what_takes_a_search_is_found_too(fold):
    fold.seen.value = "0.44 mm"  # the largest hole that may stay open, which the sheet on sound prints
    assert "largest hole that may stay" in fold.figure.control.options


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("77.77 mm", "No figure of this plan carries 77.77 mm."),
        ("0.880 mm", "No figure of this plan carries 0.880 mm."),
        ("roof", "There is no number in 'roof'."),
    ],
)
def test_what_nothing_carries_is_said_and_the_last_answer_stays(fold, typed, message):
    before = fold.why.value
    fold.seen.value = typed
    assert message in plain(fold.seen.message)
    assert fold.why.value == before


def test_the_number_typed_gives_way_to_a_subject(fold):
    fold.seen.value = "0.39 mm"
    fold.subject.value = "cut plan"
    assert fold.seen.value == ""
    assert "new strips" in fold.figure.control.options
    fold.seen.value = "0.39 mm"
    fold.seen.value = ""
    assert fold.subject.value == "depths and room left"  # where that number was found
    assert "bulkhead height" in fold.figure.control.options


def test_another_plan_keeps_the_figure_chosen(fold):
    fold.subject.value = "depths and room left"
    fold.figure.value = "room left"
    fold.fold.show(demo("railcar-n"))
    assert (fold.subject.value, fold.figure.value) == ("depths and room left", "room left")
    fold.fold.clear()
    assert (fold.subject.value, fold.figure.value, fold.why.value) == ("-", "-", "")
