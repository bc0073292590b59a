"""What must be one figure is refused with limits."""

from __future__ import annotations

import re

import pytest

from modelmath.errors import OutOfRange
from modelmath.quantities.known import Known
from modelmath.sound.driver.single import one_figure, read_wanted_q


def test_one_figure_is_taken():
    assert read_wanted_q("0.71") == 0.71
    assert one_figure(Known.of(8), "the impedance", "ohm") == 8


@pytest.mark.parametrize(
    ("call", "text"),
    [
        (
            lambda: read_wanted_q("0.7 \u00b1 0.1"),
            "the wanted Qtc is from 0.6 to 0.8; it must be one figure. Write it without limits, such as 0.6.",
        ),
        (
            lambda: one_figure(Known(8, 7.2, 9), "the impedance of the rear speaker", "ohm"),
            (
                "the impedance of the rear speaker is from 7.2 ohm to 9 ohm; it must be one figure. "
                "Write it without limits, such as 7.2 ohm."
            ),
        ),
    ],
)
def test_limits_are_refused(call, text):
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        call()
