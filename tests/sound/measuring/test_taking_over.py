"""Measured parameters among those of a job: what they replace, what goes, what is said to contradict them."""

from __future__ import annotations

import pytest

from modelmath.errors import UnknownChoice
from modelmath.sound.measuring.taking_over import TakenOver, taken_over

# Small 1972: 1/Qts = 1/Qes + 1/Qms; 1 and 4 make 4/5.
MEASURED = {"qes": "1", "qms": "4"}
CONTRADICTS = (
    "the total Qts of the speaker is {is_}; it must be 0.8, as its electrical Qes of 1 and mechanical Qms of 4 give it "
    "(1/Qts = 1/Qes + 1/Qms); it is {off}. Check both and their units, or leave one of them out."
)


@pytest.mark.parametrize(
    ("before", "replaced"),
    [
        ({}, {}),
        ({"fs": "500 Hz"}, {}),
        ({"qes": "1", "fs": "500 Hz"}, {}),  # the same text: nothing is replaced
        ({"qes": "1.0"}, {"qes": "1.0"}),
        ({"qes": "0.9"}, {"qes": "0.9"}),
        ({"qes": "2", "qms": "4", "fs": "500 Hz"}, {"qes": "2"}),
        ({"qes": "2", "qms": "5"}, {"qes": "2", "qms": "5"}),
    ],
)
def test_what_stood_there_before_is_told(before, replaced):
    assert taken_over(before, MEASURED) == TakenOver({**before, **MEASURED}, replaced, {}, "")


def test_the_same_text_read_from_elsewhere_is_the_same():
    again = " ".join(("485", "Hz"))  # equal, but an object of its own
    assert taken_over({"fs": again}, {"fs": "485 Hz"}).replaced == {}


def test_a_qts_that_goes_with_them_stays():
    assert taken_over({"qts": "0.8"}, MEASURED) == TakenOver({"qts": "0.8", **MEASURED}, {}, {}, "")


@pytest.mark.parametrize("qts", ["0.4", "1.6"])
def test_a_qts_that_contradicts_them_goes(qts):
    assert taken_over({"qts": qts, "fs": "500 Hz"}, MEASURED) == TakenOver(
        {"fs": "500 Hz", **MEASURED}, {}, {"qts": qts}, ""
    )


def test_a_qts_goes_by_its_own_contradiction_alone():
    """What else is amiss is no reason to take it out: the cone area here can't be read."""
    before = {"qts": "0.8", "sd": "large"}
    assert taken_over(before, MEASURED) == TakenOver(
        {**before, **MEASURED},
        {},
        {},
        "'large': it has no number where one is due; write a number with its unit, such as 95 mm2.",
    )


def test_a_measured_qts_is_never_taken_out():
    found = taken_over({**MEASURED, "fs": "500 Hz"}, {"qts": "1.0"})
    assert found.texts == {**MEASURED, "fs": "500 Hz", "qts": "1.0"}
    assert found.removed == {}
    assert found.contradiction == CONTRADICTS.format(is_="1", off="25 % above")


def test_a_name_that_is_no_parameter_s_is_refused():
    for before, measured in (({"qs": "0.7"}, {}), ({}, {"qs": "0.7"})):
        with pytest.raises(UnknownChoice, match=r"the parameter is 'qs'; write one of .*qts"):
            taken_over(before, measured)
