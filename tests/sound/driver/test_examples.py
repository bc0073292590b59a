"""The invented speakers: enough of them, whole, and such as the estimates allow."""

import re

import numpy as np
import pytest

from modelmath import tables
from modelmath.errors import TableError
from modelmath.sound.driver.agreeing import outside_area_mm2
from modelmath.sound.driver.completing import assumed, complete, resonance_of_size
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.examples import FILE, example_drivers, examples

DRIVERS = example_drivers()


def test_there_are_enough_of_every_size_and_impedance():
    assert len(DRIVERS) >= 20
    assert len({each.name for each in DRIVERS}) == len(DRIVERS)
    assert {each.round for each in DRIVERS} == {True, False}
    assert min(min(each.length_mm, each.width_mm) for each in DRIVERS) == 8
    assert max(each.length_mm for each in DRIVERS) == 40
    assert {each.impedance_ohm.value for each in DRIVERS} == {4, 8, 16, 32}


@pytest.mark.parametrize("driver", DRIVERS, ids=lambda each: each.name)
def test_each_is_marked_named_and_whole(driver):
    assert all(known.why == "invented example" for _, known in driver.parameters)
    size = (
        f"{driver.width_mm:g} x {driver.length_mm:g} mm box" if not driver.round else f"{driver.length_mm:g} mm round"
    )
    impedance = f", {driver.impedance_ohm.value:g} ohm"
    assert driver.name in (f"{size} speaker", f"{size} speaker{impedance}")
    assert assumed(complete(driver)) == ()


@pytest.mark.parametrize("driver", DRIVERS, ids=lambda each: each.name)
def test_each_lies_within_what_its_size_alone_lets_expect(driver):
    whole = complete(driver)
    size = Driver(driver.name, driver.length_mm, driver.width_mm, driver.round, driver.impedance_ohm)
    for field, expected in complete(size).parameters:
        if field != "impedance_ohm":
            assert expected.low <= whole.known(field).value <= expected.high, field
    assert whole.sd_mm2.value < outside_area_mm2(driver)


def test_they_follow_the_trend_of_the_estimate():
    """A straight line through the logarithms, by numpy: its slope, and how far each is from the estimate."""
    area = np.array([outside_area_mm2(each) for each in DRIVERS])
    resonance = np.array([each.fs_hz.value for each in DRIVERS])
    slope, _ = np.polyfit(np.log(area), np.log(resonance), 1)
    assert slope == pytest.approx(-0.4, abs=0.03)
    off = resonance / [resonance_of_size(each).value for each in DRIVERS]
    assert 0.85 < off.min() < off.max() < 1.15
    assert off.mean() == pytest.approx(1, abs=0.03)


def test_each_has_a_flange_and_a_depth():
    assert tuple(each.driver for each in examples()) == DRIVERS
    assert all(0.5 <= each.flange_mm < each.depth_mm <= each.driver.length_mm for each in examples())


HEAD = (
    "name,length_mm,width_mm,flange_mm,depth_mm,round,impedance_ohm,power_w,re_ohm,fs_hz,qes,qms,vas_cm3,sd_mm2,xmax_mm,le_mh,source\n"
    "one,10,10,1,4,yes,8,1,7,500,1,4,1,40,0.2,0.1,invented example\n"
)


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        (
            "two,10,10,4,4,yes,8,1,7,500,1,4,1,40,0.2,0.1,invented",
            "a flange of 4 mm on a speaker 4 mm deep is none",
        ),
        ("two,10,10,1,4,yes,8,1,7,500,1,4,1,40,0.2,0.1,a catalogue", "its source must begin with 'invented'"),
        ("one,10,10,1,4,yes,8,1,7,500,1,4,1,40,0.2,0.1,invented", "'one' stands there twice"),
        (
            "two,10,11,1,4,yes,8,1,7,500,1,4,1,40,0.2,0.1,invented",
            "round must be yes or no, and a round one as wide as long",
        ),
        (
            "two,10,10,1,4,1,8,1,7,500,1,4,1,40,0.2,0.1,invented",
            "round must be yes or no, and a round one as wide as long",
        ),
    ],
)
def test_a_row_that_is_not_invented_or_contradicts_itself_is_refused(monkeypatch, tmp_path, row, problem):
    (tmp_path / FILE).write_text(f"{HEAD}{row}\n", encoding="utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    with pytest.raises(TableError, match=f"^{re.escape(f'data/{FILE}, line 3: {problem}.')}$"):
        examples.__wrapped__()


def test_a_row_is_read_as_it_stands(monkeypatch, tmp_path):
    """1 cm3 is 1000 mm3; what a row leaves out stays unknown."""
    last = "two,12,9,0.5,3.5,no,16,,14,620,2,5,0.25,50,,,invented by hand\n"
    (tmp_path / FILE).write_text(HEAD + last, encoding="utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    one, two = examples.__wrapped__()
    assert (one.flange_mm, one.depth_mm, one.driver.round, one.driver.length_mm, one.driver.width_mm) == (
        1, 4, True, 10, 10,
    )  # fmt: skip
    assert {field: known.value for field, known in one.driver.parameters} == {
        "impedance_ohm": 8, "power_w": 1, "re_ohm": 7, "fs_hz": 500, "qes": 1, "qms": 4, "vas_mm3": 1000, "sd_mm2": 40,
        "xmax_mm": 0.2, "le_mh": 0.1,
    }  # fmt: skip
    assert (two.flange_mm, two.depth_mm, two.driver.round, two.driver.length_mm, two.driver.width_mm) == (
        0.5, 3.5, False, 12, 9,
    )  # fmt: skip
    assert {field: known.value for field, known in two.driver.parameters} == {
        "impedance_ohm": 16, "re_ohm": 14, "fs_hz": 620, "qes": 2, "qms": 5, "vas_mm3": 250, "sd_mm2": 50,
    }  # fmt: skip
    assert {known.why for _, known in two.driver.parameters} == {"invented by hand"}
