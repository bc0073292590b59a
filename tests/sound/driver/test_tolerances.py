"""What a sheet leaves unsaid: limits where a given value has none, and none where it was measured or is exact."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath import tables
from modelmath.errors import TableError
from modelmath.sound.driver.driver import PARAMETERS
from modelmath.sound.driver.known import ORIGINS, Known
from modelmath.sound.driver.quantities import PARAMETER_KINDS, format_quantity, parse_quantity
from modelmath.sound.driver.tolerances import FILE, as_on_sheet, tolerances

# Common practice, no source.
WITHIN = {"re_ohm": 5, "fs_hz": 15, "qes": 20, "qms": 20, "qts": 20, "vas_mm3": 25, "sd_mm2": 10, "xmax_mm": 20,
          "mms_g": 15}  # fmt: skip


@pytest.mark.parametrize("field", PARAMETERS)
def test_each_has_its_limits_and_says_why(field):
    found = as_on_sheet(Known.of(200), field)
    if field not in WITHIN:
        assert found == Known.of(200)  # rated values are agreed on, and nothing follows from the inductance
        return
    percent = WITHIN[field]
    why = f"its sheet states no limits; taken as within {percent} %; common practice, no source"
    assert found == Known(200, 200 - 2 * percent, 200 + 2 * percent, "given", why)


@given(st.sampled_from(PARAMETERS), st.sampled_from(ORIGINS), st.floats(1, 100), st.floats(0, 0.5))
def test_only_what_is_given_without_limits_changes(field, origin, value, within):
    known = Known.of(value, origin, within=within)
    found = as_on_sheet(known, field)
    assert found.value == value
    assert (found != known) == (origin == "given" and known.exact and field in WITHIN)
    assert as_on_sheet(found, field) == found


@given(st.sampled_from(sorted(WITHIN)), st.integers(10, 10**5))
def test_limits_are_written_short_and_read_back(field, thousandths):
    known = tolerances()[field].around(Known.of(thousandths / 1000))
    text = format_quantity(known, PARAMETER_KINDS[field])
    assert parse_quantity(text, PARAMETER_KINDS[field]) == known
    assert len(text) < 30


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ("colour,5,invented,no", "'colour' is no parameter"),
        ("resonance fs,5,invented,no", "resonance fs stands there twice"),
        ("total Qts,0,invented,no", "0 % is not between 0 and 100 %"),
        ("total Qts,100,invented,no", "100 % is not between 0 and 100 %"),
    ],
)
def test_a_table_that_makes_no_sense_is_refused(monkeypatch, tmp_path, row, problem):
    head = "parameter,within_percent,source,confirmed\nresonance fs,15,invented,no\n"
    (tmp_path / FILE).write_text(f"{head}{row}\n", encoding="utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    with pytest.raises(TableError, match=f"^{re.escape(f'data/{FILE}, line 3: {problem}.')}$"):
        tolerances.__wrapped__()
