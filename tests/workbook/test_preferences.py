"""How the pages look is kept, and a damaged record never stands in the way of a page."""

from __future__ import annotations

import re

import hypothesis.strategies as st
import pytest
from hypothesis import given

from modelmath.errors import UnknownChoice
from modelmath.workbook.folder import HIDDEN
from modelmath.workbook.preferences import (
    FILE,
    TYPE_SIZES,
    UNITS,
    Preferences,
    keep_preferences,
    load_preferences,
)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("size", TYPE_SIZES)
def test_what_is_kept_is_read_back(tmp_path, unit, size):
    keep_preferences(tmp_path, Preferences(unit, size))
    assert load_preferences(tmp_path) == Preferences(unit, size)


@given(st.binary(max_size=60))
def test_any_content_gives_preferences(tmp_path_factory, content):
    folder = tmp_path_factory.mktemp("any")
    (folder / HIDDEN).mkdir()
    (folder / HIDDEN / FILE).write_bytes(content)
    assert load_preferences(folder) == Preferences()


@pytest.mark.parametrize(
    ("content", "found"),
    [
        ('{"first_unit": "mm"}', Preferences("mm")),
        ('{"first_unit": "furlong", "type_size": "large"}', Preferences(type_size="large")),
        ('{"first_unit": ["mm"], "type_size": null}', Preferences()),
        ('["mm"]', Preferences()),
        ("[" * 100_000, Preferences()),
    ],
)
def test_what_can_be_read_counts_and_the_rest_is_as_usual(tmp_path, content, found):
    (tmp_path / HIDDEN).mkdir()
    (tmp_path / HIDDEN / FILE).write_text(content)
    assert load_preferences(tmp_path) == found


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (("furlong",), "the unit that stands first is 'furlong'; write one of scale feet, inch, mm."),
        (("mm", "tiny"), "the size of the type is 'tiny'; write one of usual, large, very large."),
    ],
)
def test_another_word_is_refused(made, said):
    with pytest.raises(UnknownChoice, match=f"^{re.escape(said)}$"):
        Preferences(*made)
