"""What a sheet leaves unsaid: limits where a given value has none, and none where it was measured or is exact."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath import tables
from modelmath.errors import OutOfRange, TableError
from modelmath.job.entries.chamber_sound import DEMO, read_entries
from modelmath.quantities.known import ORIGINS, Known
from modelmath.quantities.text import format_quantity, parse_quantity
from modelmath.sound.closed_box.box import closed_box
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import PARAMETER_KINDS, PARAMETERS, Driver
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


def test_a_sheet_that_contradicts_itself_is_refused_however_loose_its_limits():
    """1/Qts = 1/Qes + 1/Qms: 1 and 4 make 0.8; Mms by 500 Hz, 2 cm3 and 95 mm2 is 0.065 g."""
    for texts in (
        {"qts": "1.19", "qes": "1", "qms": "4"},
        {"fs": "500 Hz", "vas": "2 cm3", "sd": "95 mm2", "mms": "0.14 g"},
    ):
        found = read_entries(DEMO | texts)
        assert found.alone is None
        assert [said for said in found.messages.values() if "it must be" in said]
    assert not read_entries(DEMO | {"qts": "0.83", "qes": "1", "qms": "4"}).messages


@pytest.mark.parametrize("number", range(60))
def test_no_driver_within_its_limits_lies_outside_the_band(number):
    """Drivers drawn from within the limits of fs, Qes, Qms, Qts and Vas; Small 1972 for what each does."""
    draw = np.random.default_rng(number)
    fs, qes, qms = draw.uniform(300, 900), draw.uniform(0.5, 2), draw.uniform(1.5, 6)
    qts = qes * qms / (qes + qms) * draw.uniform(0.9, 1.1)
    values = {"fs_hz": fs, "qes": qes, "qms": qms, "qts": qts, "vas_mm3": draw.uniform(1000, 4000)}
    near = {name: Known.of(value, within=draw.uniform(0.02, 0.2) * value) for name, value in values.items()}
    try:
        driver = complete(Driver("sample", length_mm=15, width_mm=11, impedance_ohm=8, **near))
    except OutOfRange:
        return
    box = closed_box(driver, 3000.0)
    each = {name: draw.uniform(known.low, known.high, 4000) for name, known in near.items()}
    within = abs(each["qes"] * each["qms"] / (each["qes"] + each["qms"]) - near["qts"].value)
    kept = within <= near["qts"].high - near["qts"].value
    rise = np.sqrt(1 + each["vas_mm3"] / 3000)[kept]
    qtc = (each["qes"] * each["qms"] / (each["qes"] + each["qms"]))[kept] * rise
    assert kept.any()
    assert box.qtc.low * (1 - 1e-6) <= qtc.min()
    assert qtc.max() <= box.qtc.high * (1 + 1e-6)
