"""The drivers that a driver may be."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import NotYetKnown
from modelmath.quantities.known import Known
from modelmath.sound.driver.cases import cases_of
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import Driver


def mass_g(cases):
    """The mass on its spring, 1/((2 pi fs)^2 Cms), with Cms = Vas/(rho c^2 Sd^2); 1.204 kg/m3 and 343.2 m/s at 20 C."""
    compliance = cases.vas_mm3 * 1e-9 / (1.204 * 343.2**2 * (cases.sd_mm2 * 1e-6) ** 2)
    return 1000 / ((2 * np.pi * cases.fs_hz) ** 2 * compliance)


@given(st.floats(8, 40), st.floats(6, 40), st.sampled_from([4, 8, 16, 32]))
def test_of_a_speaker_known_by_its_size_no_case_is_lighter_or_heavier_than_such_cones_are(length, width, impedance):
    driver = complete(Driver("sample", length_mm=length, width_mm=width, impedance_ohm=impedance))
    cases = cases_of(driver)
    mass, vas = driver.mms_g, driver.vas_mm3
    assert (cases.vas_mm3 >= vas.low * (1 - 1e-9)).all()
    assert (cases.vas_mm3 <= vas.high * (1 + 1e-9)).all()
    within = (cases.vas_mm3 > vas.low * (1 + 1e-9)) & (cases.vas_mm3 < vas.high * (1 - 1e-9))
    found, area = mass_g(cases)[1:][within[1:]], cases.sd_mm2[1:][within[1:]]
    assert within[1:].any()
    # The mass was estimated for each mm2 of cone: the largest cone at the least mass of the smallest is none.
    assert (found / area >= mass.low / driver.sd_mm2.low * 0.999).all()
    assert (found / area <= mass.high / driver.sd_mm2.high * 1.001).all()
    assert cases.vas_mm3[0] == vas.value


@pytest.mark.parametrize("origin", ["given", "measured", "estimated"])
def test_a_mass_of_one_s_own_does_not_grow_with_the_area(origin):
    mass = Known(0.1, 0.08, 0.12, origin)
    cases = cases_of(complete(Driver("sample", length_mm=15, width_mm=11, impedance_ohm=8, fs_hz=500, mms_g=mass)))
    found = mass_g(cases)
    for area in set(cases.sd_mm2):
        assert sorted({round(float(each), 6) for each in found[cases.sd_mm2 == area]}) == pytest.approx(
            [0.08, 0.1, 0.12], rel=1e-3
        )


def test_a_measured_volume_keeps_its_own_limits():
    driver = complete(
        Driver(
            "sample",
            length_mm=20,
            width_mm=14,
            impedance_ohm=8,
            fs_hz=480,
            vas_mm3=Known.of(3000, "measured", within=300),
        )
    )
    assert sorted(set(cases_of(driver).vas_mm3)) == [2700, 3000, 3300]


@given(st.floats(0.01, 0.3), st.floats(0.01, 0.3))
def test_no_case_has_a_qts_outside_its_limits(qts_share, qms_share):
    driver = complete(
        Driver("sample", length_mm=20, width_mm=14, impedance_ohm=8, qts=Known.of(0.8, within=0.8 * qts_share),
               qms=Known.of(4, within=4 * qms_share))
    )  # fmt: skip
    cases = cases_of(driver)
    assert (cases.qts >= driver.qts.low * (1 - 1e-6)).all()
    assert (cases.qts <= driver.qts.high * (1 + 1e-6)).all()
    assert cases.qts.min() == pytest.approx(driver.qts.low, rel=1e-6)
    assert cases.qts.max() == pytest.approx(driver.qts.high, rel=1e-6)


def test_without_a_qts_of_its_own_every_pair_of_the_others_is_a_case():
    """Three values of Qes by three of Qms, the best pair first: Qts from 0.8 * 3 / 3.8 to 1.2 * 5 / 6.2."""
    qes, qms = Known.of(1.0, within=0.2), Known.of(4.0, within=1.0)
    cases = cases_of(Driver("sample", fs_hz=500, qes=qes, qms=qms, vas_mm3=2000, sd_mm2=100, re_ohm=7))
    found = list(zip(cases.qes.tolist(), cases.qms.tolist(), strict=True))
    assert found[0] == (1, 4)
    assert len(found) == 9
    assert {(round(one, 9), round(other, 9)) for one, other in found} == {
        (one, other) for one in (0.8, 1, 1.2) for other in (3, 4, 5)
    }
    assert cases.qts.min() == pytest.approx(2.4 / 3.8)
    assert cases.qts.max() == pytest.approx(6 / 6.2)


def test_what_is_not_known_is_asked_for():
    text = r"^What the sample does is not known yet; enter its electrical Qes\.$"
    with pytest.raises(NotYetKnown, match=text):
        cases_of(Driver("sample", fs_hz=500))
