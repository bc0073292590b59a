"""What is far from usual for a speaker's size is told, so that its unit is looked at again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.quantities.known import Known
from modelmath.sound.driver import unusual as module
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.estimates import Estimate, estimates
from modelmath.sound.driver.examples import example_drivers
from modelmath.sound.driver.unusual import unusual


def sample(**known):
    return Driver("sample", **{"length_mm": 15, "width_mm": 11, **known})


@pytest.mark.parametrize(
    ("known", "sentence"),
    [
        (
            {"fs_hz": 5000},
            "A resonance of 5000 Hz is far above what speakers of its size have, 300 to 1000 Hz: check its unit.",
        ),
        (
            {"fs_hz": 0.45},
            "A resonance of 0.45 Hz is far below what speakers of its size have, 300 to 1000 Hz: check its unit.",
        ),
        ({"qts": 8}, "A total Qts of 8 is far above what small speakers have, 0.5 to 1.4: check the number."),
        ({"qms": 40}, "A mechanical Qms of 40 is far above what small speakers have, 2 to 8: check the number."),
        (
            {"vas_mm3": 2_000_000},
            (
                "An equivalent volume Vas of 2000 cm3 is far above what speakers of its size have, "
                "0.371 to 7.42 cm3: check its unit."
            ),
        ),
        (
            {"xmax_mm": 4},
            (
                "A cone travel Xmax, one way, of 4 mm is far above what speakers of its size have, "
                "0.172 to 0.89 mm: check its unit."
            ),
        ),
        (
            {"impedance_ohm": 8000},
            "A rated impedance of 8000 ohm is far above what small speakers have, 4 to 32 ohm: check its unit.",
        ),
        (
            {"re_ohm": 0.0072},
            (
                "A voice coil resistance Re of 0.0072 ohm is far below what small speakers have, "
                "2.8 to 32 ohm: check its unit."
            ),
        ),
        (
            {"le_mh": 50},
            "A voice coil inductance Le of 50 mH is far above what small speakers have, 2 mH at most: check its unit.",
        ),
    ],
)
def test_each_is_told_with_what_is_usual(known, sentence):
    assert unusual(sample(**known)) == (sentence,)


@pytest.mark.parametrize(
    "known",
    [
        {"fs_hz": 2000},  # 2 times 1000 Hz, and no more
        {"fs_hz": 150},
        {"fs_hz": Known(2100, 1900, 2300)},  # its limits reach down to 2 times
        {"fs_hz": Known(5000, 5000, 5000, "derived")},
        {"le_mh": 2},
        {"le_mh": 0.001},
        {"power_w": 1000},  # nothing bounds it
    ],
)
def test_what_may_be_is_not_told(known):
    assert unusual(sample(**known)) == ()


def test_what_is_usual_goes_with_size():
    assert unusual(sample(fs_hz=1500)) == ()
    assert len(unusual(Driver("sample", 40, 40, fs_hz=1500))) == 1
    assert len(unusual(Driver("sample", sd_mm2=800, fs_hz=1500))) == 1
    assert unusual(Driver("sample", fs_hz=1500, vas_mm3=1e9, xmax_mm=100)) == ()  # nothing tells its size


@pytest.mark.parametrize("driver", example_drivers(), ids=lambda each: each.name)
def test_no_example_is_unusual(driver):
    assert unusual(driver) == ()


@given(st.floats(6, 50), st.floats(6, 50), st.booleans())
def test_no_estimate_is_unusual(length, width, is_round):
    assert unusual(complete(Driver("sample", length, width, is_round))) == ()


def test_the_resistance_goes_by_the_impedance_and_its_share_of_it(monkeypatch):
    """Invented shares: 4 x 0.5 = 2 ohm to 32 x 1.5 = 48 ohm; twice beyond that is told."""
    table = {**estimates(), "voice coil resistance over rated impedance": Estimate(0.5, 1, 1.5, "invented")}
    monkeypatch.setattr(module, "estimates", lambda: table)
    assert [unusual(sample(re_ohm=each)) for each in (1.0, 96)] == [(), ()]
    assert unusual(sample(re_ohm=0.9)) == (
        "A voice coil resistance Re of 0.9 ohm is far below what small speakers have, 2 to 48 ohm: check its unit.",
    )
    assert unusual(sample(re_ohm=97)) == (
        "A voice coil resistance Re of 97 ohm is far above what small speakers have, 2 to 48 ohm: check its unit.",
    )


def test_what_is_just_twice_beyond_is_not_told():
    assert unusual(sample(xmax_mm=1.779)) == ()  # 2 x 0.08 sqrt(123.75)
    assert len(unusual(sample(xmax_mm=1.781))) == 1
    assert unusual(sample(xmax_mm=0.0862)) == ()  # half of 0.02 sqrt(74.25)
    assert len(unusual(sample(xmax_mm=0.086))) == 1
    assert unusual(sample(qms=16, qts=2.8, impedance_ohm=64)) == ()
    assert len(unusual(sample(qms=16.1, qts=2.9, impedance_ohm=64.1))) == 3
    assert unusual(sample(qms=1.0, qts=0.25, impedance_ohm=2)) == ()
    assert len(unusual(sample(qms=0.99, qts=0.24, impedance_ohm=1.99))) == 3
    assert unusual(Driver("sample", round=True, length_mm=20, vas_mm3=27143)) == ()  # 2 x 60 x 0.72 x pi x 100
    assert len(unusual(Driver("sample", round=True, length_mm=20, vas_mm3=27144.5))) == 1
