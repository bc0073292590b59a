"""Resistors by the heat they are made for."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath import tables
from modelmath.errors import TableError, UnknownChoice
from modelmath.light.lamps.ratings import FILE, STYLES, ratings, smallest

# Common practice, no source.
LEADED_W = [0.125, 0.25, 0.5, 1, 2]
CHIP_W = {"0201": 0.05, "0402": 0.0625, "0603": 0.1, "0805": 0.125, "1206": 0.25}


def test_the_usual_sizes():
    assert [each.rating_w for each in ratings()["leaded"]] == LEADED_W
    assert {each.name[:4]: each.rating_w for each in ratings()["chip"]} == CHIP_W


@pytest.mark.parametrize("chip", ratings()["chip"], ids=lambda chip: chip.name)
def test_a_chip_is_as_large_as_both_its_names_say(chip):
    """The one name is hundredths of an inch, the other tenths of a millimetre, as the trade counts both."""
    inch, metric = chip.name.removesuffix(" metric)").split(" (")
    for value_mm, hundredths, tenths in (
        (chip.length_mm, inch[:2], metric[:2]),
        (chip.width_mm, inch[2:], metric[2:]),
    ):
        assert value_mm == pytest.approx(int(tenths) / 10, abs=0.051)
        assert value_mm == pytest.approx(int(hundredths) * 0.254, abs=0.2)


@given(st.floats(1e-6, 4), st.floats(0.1, 1), st.sampled_from(STYLES))
def test_the_smallest_is_enough_and_the_next_smaller_is_not(power, derate, style):
    found = smallest(power, style, derate)
    sizes = ratings()[style]
    if found is None:
        assert sizes[-1].rating_w * derate < power
        return
    assert found.rating_w * derate >= power * (1 - 1e-8)
    place = sizes.index(found)
    assert place == 0 or sizes[place - 1].rating_w * derate < power


def test_exactly_at_the_limit_is_enough():
    assert smallest(0.0625).rating_w == 0.125
    assert smallest(0.1 * 0.7, "chip", 0.7).rating_w == 0.1


def test_an_unknown_style():
    with pytest.raises(UnknownChoice, match=r"^the style of a resistor is 'chips'; write one of leaded, chip\. Did you "
                       r"mean 'chip'\?$"):  # fmt: skip
        smallest(0.1, "chips")


@pytest.mark.parametrize(
    ("body", "problem"),
    [
        ("tube,a,1,,,s\n", "line 2: 'tube' is no style; those are leaded, chip"),
        ("chip,a,1,,,s\nchip,b,1,,,s\n", "line 3: 1 W is not above what stands before it"),
        ("leaded,a,0,,,s\n", "line 2: 0 W is not above what stands before it"),
    ],
)
def test_a_wrong_table_is_refused(tmp_path, monkeypatch, body, problem):
    (tmp_path / FILE).write_text("style,name,rating_w,length_mm,width_mm,source\n" + body, "utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    with pytest.raises(TableError, match=rf"^data/resistor_ratings\.csv, {problem}\.$"):
        ratings.__wrapped__()


def test_half_of_its_rating_is_used_of_a_leaded_one_unless_said():
    assert smallest(0.1) == smallest(0.1, "leaded", 0.5)
    assert smallest(0.1).in_words == "1/4 W leaded resistor"
    assert smallest(0.1, "chip").in_words == "1206 (3216 metric) chip"
    assert smallest(1.0).rating_w == 2
    assert smallest(1.001) is None
    assert smallest(0).rating_w == 0.125
